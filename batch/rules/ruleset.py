"""One edition of a code as an object that is passed in: figures, each with where it stands."""

from __future__ import annotations

import hashlib
from functools import cached_property
from pathlib import Path
from typing import Any

from batch.errors import RuleSetError
from batch.rules import code_basis
from batch.rules.boxes import BoxRules
from batch.rules.code_basis import CodeValue
from batch.rules.country import Country, Wording
from batch.rules.devices import DeviceRules
from batch.rules.earthing import EarthingRules
from batch.rules.installations import InstallationRules
from batch.rules.markings import Marking, marking_of
from batch.rules.raceways import RacewayRules
from batch.rules.tables import SHAPES, Cited
from batch.rules.torques import TorqueRules

CONTENTS = "ruleset.toml"
IDENTITY = ("key", "name", "title", "edition", "document", "region", "paper", "symbols")


class RuleSet(TorqueRules, RacewayRules, DeviceRules, BoxRules, EarthingRules, InstallationRules):
    """A rule set. Every look-up gives `Cited`: the value, its place, and whether it is from memory."""

    def __init__(self, folder: Path, contents: dict[str, Any], base: RuleSet | None = None) -> None:
        super().__init__(folder, contents, base)
        identity = self.section("ruleset")
        if missing := [name for name in IDENTITY if not isinstance(identity.get(name), str)]:
            raise RuleSetError(f"{folder / CONTENTS}: [ruleset] lacks {', '.join(missing)}; add them.")
        self.key, self.name, self.title, self.edition, self.document, self.region, self.paper, self.symbols = (
            identity[name] for name in IDENTITY
        )
        stated = self._named("defaults", "why")
        self._defaults = {name: found._replace(value=None) if found.value == "" else found for name, found in stated.items()}
        for role, entry in self.section("tables").items():
            if role not in SHAPES:
                raise RuleSetError(f"{folder / CONTENTS}: [tables] names an unknown table {role}; correct the name.")
            if not isinstance(entry, list) or len(entry) < 2 or not (folder / entry[0]).is_file():
                raise RuleSetError(f"{folder / CONTENTS}: the file of table {role} is missing: {entry!r}; restore it.")

    def default(self, setting: str) -> Cited[Any]:
        """What a project setting left blank means; the basis says why. None: decided by the rule that the basis names."""
        return self.entry(self._defaults, "defaults", setting)

    def knows_setting(self, setting: str) -> bool:
        """Whether its code has a use for a project setting that not every code has."""
        return setting in self._defaults

    def clause(self, name: str) -> str:
        """Where a rule without a figure stands: clause("neutral") is "220.61"."""
        try:
            return self._clauses[name]
        except KeyError:
            raise RuleSetError(f"{self.folder / CONTENTS}: no clause {name}; the rule set is incomplete.") from None

    @cached_property
    def _clauses(self) -> dict[str, str]:
        return self.section("clauses")

    @cached_property
    def citations(self) -> dict[str, str]:
        """Clauses by their names, and tables by their roles: what bases of findings are filled from ({subdivision}, {table_ampacity})."""
        return {**self.section("clauses"), **{f"table_{role}": entry[1] for role, entry in self.section("tables").items()}}

    @cached_property
    def wording(self) -> Wording:
        """The words of its country; ours where it has none."""
        return Wording(self.contents.get("words", {}), self.region != "us", lines=self.contents.get("line_names", {}))

    @cached_property
    def country(self) -> Country:
        """Its country's units and paper, and what is said with every job."""
        return Country(self.region, self.paper, tuple((caution.value, caution.citation) for caution in self.cautions))

    @property
    def marking(self) -> Marking:
        """How its country's trade marks apparatus and wires."""
        return marking_of(self.region)

    @cached_property
    def cautions(self) -> tuple[Cited[str], ...]:
        """What is said with every job, in reading order."""
        return tuple(
            Cited(entry["words"], entry["basis"], entry["status"]) for entry in self.section("cautions").values()
        )

    @cached_property
    def _code_values(self) -> tuple[CodeValue, ...]:
        return code_basis.code_values(self)

    def code_values(self) -> tuple[CodeValue, ...]:
        """Every factor, default and table cell that sizing uses, with source and status; names are unique."""
        return self._code_values

    @property
    def full_title(self) -> str:
        """Its title; a firm's own with what it extends and its checksum, by which a reader tells whether it is still the same."""
        if self.extends is None or not self.of_the_firm:
            return self.title
        return f"{self.title} (the firm's own, extends {self.extends.name}; checksum {self.checksum})"

    @property
    def extends(self) -> RuleSet | None:
        """The rule set whose differences this one holds; None for one that stands by itself."""
        return self.base if isinstance(self.base, RuleSet) else None

    @property
    def of_the_firm(self) -> bool:
        """Whether it is a firm's own, and none of those that come with the program."""
        return self.folder.parent != Path(__file__).parent

    def read_all(self) -> RuleSet:
        """Read and judge every table now, and return self; RuleSetError at the first fault."""
        for role in self.section("tables"):
            self.table(role)
        return self

    @cached_property
    def checksum(self) -> str:
        """Eight characters that change with any file which the rule set is read from, its base's included."""
        files = {self.folder / CONTENTS, *(self.folder / entry[0] for entry in self.section("tables").values())}
        found = hashlib.sha256(self.extends.checksum.encode() if self.extends is not None else b"")
        for path in sorted(files, key=lambda path: path.name):
            found.update(path.read_bytes())
        return found.hexdigest()[:8]
