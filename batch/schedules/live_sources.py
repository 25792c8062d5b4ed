"""What keeps a tank live: its disconnects with their places, and the banks that are not sized and yet will be fed."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from batch.results import BankRow, JobResult, PanelRow, ProjectResult
from batch.schedules.designations import disconnect
from batch.schedules.row_words import single_tag
from batch.sizing.labels import natural


@dataclass(frozen=True, slots=True)
class Source:
    """A disconnect of a tank. `serves`: the tag of the one heater panel, or of the single-circuit bank, that it kills alone."""

    tag: str
    serves: str
    feeder: str

    @property
    def words(self) -> str:
        """ "T-105/DISC2 (ahead of T-105/1-P2, feeder F-2)"."""
        return f"{self.tag} (ahead of {self.serves}, feeder {self.feeder})"


@dataclass(slots=True)
class _AtTank:
    """The sources of one tank in bank and panel order, and in words those that nobody has sized."""

    sources: list[Source] = field(default_factory=list)
    not_sized: list[str] = field(default_factory=list)


class LiveSources:
    """The sources of a project, by tank and by what they serve."""

    def __init__(self, result: JobResult, project: ProjectResult) -> None:
        self._tanks: dict[str, _AtTank] = {}
        self._by_tag: dict[str, Source] = {}
        for row in sorted(project.banks, key=lambda row: natural(row.label)):  # by label, never by row order
            for tag in served(row):
                self._add(row, tag)
        for tank, words in _not_sized(result, project):
            if tank in self._tanks:
                self._tanks[tank].not_sized.append(words)

    def _add(self, row: BankRow, tag: str) -> None:
        tank = self._tanks.setdefault(row.bank.tank.casefold(), _AtTank())
        source = Source(disconnect(row.bank.tank, len(tank.sources) + 1), tag, row.feeder.feeder)
        tank.sources.append(source)
        self._by_tag[tag] = source

    def of(self, tag: str) -> Source:
        """The disconnect that alone kills the heater panel or single-circuit bank `tag`."""
        return self._by_tag[tag]

    def of_bank(self, row: BankRow) -> Sequence[Source]:
        return [self._by_tag[tag] for tag in served(row)]

    def others(self, row: BankRow, panel: PanelRow) -> Sequence[Source]:
        """Every other disconnect of the panel's tank: what stays live there when this panel's own is open."""
        return [source for source in self._tanks[row.bank.tank.casefold()].sources if source.serves != panel.tag]

    def not_sized(self, row: BankRow) -> Sequence[str]:
        """In words, rows of the same tank that are not sized: they will be fed too, from where nobody knows yet."""
        return self._tanks[row.bank.tank.casefold()].not_sized


def served(row: BankRow) -> list[str]:
    """What a bank's disconnects serve, one each: its panels, or the bank itself where it is a single circuit."""
    return [panel.tag for panel in row.panels] or [single_tag(row)]


def _not_sized(result: JobResult, project: ProjectResult) -> Iterator[tuple[str, str]]:
    """Tank and words of each heater row of the project that came to nothing; a row that names no project may be of any."""
    for row in (*project.not_sized, *(row for row in result.not_sized if not row.project)):
        yield row.tank.casefold(), f"row {row.origin.row} of {row.origin.sheet}"
