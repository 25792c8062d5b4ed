"""Reference designations of what stands in a heater panel, the same on every list, label and drawing: class letters as `sizing.marks` has
them, of IEEE 315 on NEC jobs and of IEC 81346-2 on IEC jobs.

Disconnects are numbered through the tank by its supplies, branch devices through their panel, heaters and limits through their bank; poles
are A, B, C, on IEC jobs .1, .2, .3. A type's heaters and limits count from the panel's own k: "HTR+2".
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from functools import lru_cache

from batch.records import Project
from batch.results import BankRow, ProjectResult
from batch.rules import Wording
from batch.rules.markings import marking_of
from batch.schedules.worked_once import once
from batch.sizing.marks import POLES, TankMarks, block_in_box, pole_of
from batch.sizing.wire_colours import colours_asked

_LETTERED = re.compile(r"(?<![\w+-])(?:(FU|CB)(\d+)([ABC](?![A-Za-z\d]))?|(HTR)(?=[+\d])|DISC(\d+)|WP(\d+)|TB(3)\b)")
WHITE = "white or gray"
US_SYMBOLS = "IEEE 315"  # set of graphical symbols that goes with the American class letters


class PanelMarks:
    """Designations by the set of graphical symbols of a project. `inside`: number of its panel feeder where the panel stands in the control
control panel's own box, as `marks_in_box` has it; from the second on it goes before each device of the panel, before its block always.
    `bank`: label that goes before a heater, "" = its tank has no other bank."""

    def __init__(
        self, symbols: str = US_SYMBOLS, inside: int = 0, colours: tuple[tuple[str, str], ...] = (), bank: str = ""
    ) -> None:
        self.us = symbols == US_SYMBOLS
        self.before = f"{inside}" if inside > 1 else ""
        self.inside, self.bank = inside, bank
        marks = TankMarks("us" if self.us else "si", colours=colours)
        self.marking, self._of = marks.marking, marks.of

    def device(self, kind: str, number: int) -> str:
        """ "FU3", of breakers "CB3"; "-F103"; in one box with another panel "2FU3"."""
        return self.before + self._of("branch fuse" if kind == "fuse" else "branch breaker", number)

    def pole(self, kind: str, number: int, pole: int) -> str:
        """ "FU3A" for pole 1 of branch 3; "-F103.1"."""
        return pole_of(self.device(kind, number), pole)

    def pole_letter(self, pole: int) -> str:
        """ "A" for pole 1; "1"."""
        return POLES[pole - 1] if self.us else str(pole)

    def heater(self, number: int) -> str:
        """ "HTR7"; "-E7"; where its tank has several banks "1-HTR7", as its limit is 1-OTL7."""
        return f"{self.bank}-{self._of('heater', number)}" if self.bank else self._of("heater", number)

    def limit(self, number: int) -> str:
        """ "OTL7"; "-F207"."""
        return self._of("limit", number)

    def heater_of_type(self, number: int) -> str:
        """ "HTR+2", "-E+2": heater k + 2 of its bank, where k is the panel's own, since panels of a type stand anywhere in their banks."""
        return f"{'HTR' if self.us else '-E'}+{number}"

    def limit_of_type(self, number: int) -> str:
        """ "OTL+2"; "-F+202"."""
        return f"OTL+{number}" if self.us else self.limit(number).replace("-F", "-F+")

    @property
    def block(self) -> str:
        """ "PDB1", "-X0"; in the control panel's box, which may have a PDB1 of its own, "1PDB1"."""
        return block_in_box(self._of("block"), self.inside)

    def wye_point(self, number: int) -> str:
        """ "WP1", "-X9"; in one box with another panel "2WP1"."""
        return self.before + self._of("wye point", number)

    @property
    def limit_strip(self) -> str:
        """ "TB3"; "-X3"."""
        return self._of("limit terminals", 1)

    def disconnect(self, tank: str, number: int) -> str:
        """ "T-105/DISC2", "T-105/-Q2": its tank's tag goes first, since a plant has many of each number."""
        return f"{tank}/{self._of('disconnect', number)}"

    @property
    def ground_bar(self) -> str:
        return self.marking.ground_bar

    @property
    def ground(self) -> str:
        """What a grounding conductor is called: "EGC", "PE"."""
        return self.marking.ground

    @property
    def ground_colour(self) -> str:
        return self.marking.colours["ground"]

    @property
    def neutral_colour(self) -> str:
        return self.marking.colours["neutral_in_words"]

    @property
    def power_colour(self) -> str:
        """Of power inside a box, and of what is on no line."""
        return self.marking.colours["power"]

    @property
    def grounded_colour(self) -> str:
        """Of a grounded line, in words."""
        return self.neutral_colour if self.us else WHITE


def marks_of(project: ProjectResult, bank: str = "") -> PanelMarks:
    record, symbols = project.project, project.symbols
    return PanelMarks(symbols, colours=_asked(record, symbols), bank=bank) if bank else _of_project(record, symbols)


def bank_before(project: ProjectResult, row: BankRow) -> str:
    """What goes before the numbers of a bank's heaters, which run through the bank: its label, where its tank has several, or two heaters
    of the tank would be HTR1."""
    return row.label if _several(project).get(row.bank.tank.casefold()) else ""


_several = once(
    lambda project: project.controls, lambda controls: {control.tank.casefold(): len(control.banks) > 1 for control in controls}
)


@lru_cache(maxsize=8)
def _asked(project: Project, symbols: str) -> tuple[tuple[str, str], ...]:
    """Colours that the project chose."""
    return colours_asked(project, marking_of("us" if symbols == US_SYMBOLS else "si"))


@lru_cache(maxsize=8)
def _of_project(project: Project, symbols: str) -> PanelMarks:
    return PanelMarks(symbols, colours=_asked(project, symbols))


def numbers_in_box(project: ProjectResult) -> Mapping[str, int]:
    """Heater panels that share one box with their control panel, and so with the other panels of their tank: by tag, in lower case, the
    number of the panel feeder."""
    return _in_box(project)


def all_in_box(project: ProjectResult, tags: Iterable[str]) -> bool:
    """Whether each of these panels stands in its control panel's box."""
    return all(tag.casefold() in numbers_in_box(project) for tag in tags)


def marks_in_box(project: ProjectResult, tag: str, bank: str = "") -> PanelMarks:
    """Designations in a heater panel: in one box with others of its tank the number of its panel feeder goes before each from the second
    on, or two devices in the box would be FU1."""
    return PanelMarks(project.symbols, numbers_in_box(project).get(tag.casefold(), 0), _asked(project.project, project.symbols), bank)


_in_box = once(
    lambda project: project.controls,
    lambda controls: {
        f"{control.tank}/{feed.tag}".casefold(): feed.number
        for control in controls if control.settings.boxes == "one" for feed in control.feeds if not feed.single
    },
)  # the last project's: rows come project by project


def lettered(text: str, wording: Wording) -> str:
    """A text with the class letters of a country's words; as it is where they are ours, or where people named a thing in such letters."""
    return of_iec(text) if wording and not _letters_taken(wording) else text


@lru_cache(maxsize=64)
def _letters_taken(wording: Wording) -> bool:
    """Whether somebody named a thing as the program's own letters would."""
    return any(_LETTERED.search(name) for name in wording.kept)


def of_iec(text: str) -> str:
    """The same in class letters of IEC 81346-2, as `sizing.marks` has them: FU3A -F103.1, HTR+2 -E+2, DISC1 -Q1, WP2 -X10, TB3 -X3."""
    if not any(letters in text for letters in ("FU", "CB", "HTR", "DISC", "WP", "TB3")):
        return text

    def named(found: re.Match[str]) -> str:
        _, device, pole, heater, switch, point, _ = found.groups()
        if device:
            return pole_of(f"-F{100 + int(device)}", POLES.index(pole) + 1) if pole else f"-F{100 + int(device)}"
        if heater:
            return "-E"
        return f"-Q{switch}" if switch else f"-X{8 + int(point)}" if point else "-X3"

    return _LETTERED.sub(named, text)
