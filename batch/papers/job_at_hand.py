"""What the papers of one project are made from, and the words that many of them share."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import NamedTuple

from msgspec import Struct, field

from batch.counted_words import counted, few
from batch.drawings.drawing_list import DOTS_PER_INCH, Drawing
from batch.drawings.symbol_legend import with_legend
from batch.papers.paper_data import Paper, PaperFigure
from batch.results import BankRow, FeederRow, JobResult, ProjectResult, Way
from batch.schedules.hanging import banks_of_tanks
from batch.schedules.row_words import BAND
from batch.schedules.schedule import Schedule

POINTS = 72  # to the inch
FOR_APPROVAL, ON_HOLD = "FOR APPROVAL", "HOLD"


class Figures(Struct):
    """Drawings that stand on the papers; equal ones are one file."""

    files: dict[Drawing, str] = field(default_factory=dict)

    def add(self, drawing: Drawing, says: str) -> PaperFigure:
        name = self.files.setdefault(drawing, f"/figures/{len(self.files) + 1:03d}.svg")
        width, height = (pixels * POINTS / DOTS_PER_INCH for pixels in (drawing.width, drawing.height))
        return PaperFigure(name, round(width, 2), round(height, 2), says)


class _Found(NamedTuple):
    """What of a project is looked up for each of its control panels, gone through once."""

    banks: Mapping[str, Sequence[BankRow]]
    feeders: Mapping[str, FeederRow]
    ways: Mapping[str, Mapping[str, Way]]


def _found_in(project: ProjectResult) -> _Found:
    ways: dict[str, dict[str, Way]] = {}
    for end in (row.end for row in project.feeders if row.end is not None and row.end.unit):
        for way in end.ways:
            ways.setdefault(way.tank, {})[way.feeder] = way
    return _Found(banks_of_tanks(project), {row.feeder.feeder: row for row in project.feeders}, ways)


class AtHand:
    """A project of a sized job with its rows, each sheet worked out once for all projects."""

    def __init__(self, result: JobResult, us: bool | None, figures: Figures, audience: str = "all") -> None:
        self.result, self._us, self.figures, self.audience = result, us, figures, audience
        self._rows: dict[str, dict[str, list[dict]]] = {}
        self._torques: dict[str, float] | None = None
        self._found: dict[int, _Found] = {}
        self.project: ProjectResult = result.projects[0]
        self.number = 0

    @property
    def us(self) -> bool:
        """Whether its papers are in US units: as asked for, else as its rule set's country has them."""
        return self.project.country.region == "us" if self._us is None else self._us

    def turn_to(self, number: int) -> None:
        self.number, self.project = number, self.result.projects[number]

    def rows(self, sheet: Schedule) -> list[dict]:
        """The project's rows of a result sheet; of Findings those too that name no project."""
        if sheet.id not in self._rows:
            own: dict[str, list[dict]] = {}
            for row in sheet.rows_of(self.result):
                own.setdefault(str(row["project"] or ""), []).append(row)
            self._rows[sheet.id] = own
        return self._rows[sheet.id].get(self.project.project.project, [])

    def _here(self) -> _Found:
        if self.number not in self._found:
            self._found[self.number] = _found_in(self.project)
        return self._found[self.number]

    def banks_of(self, tank: str) -> Sequence[BankRow]:
        """The banks of a tank of the project."""
        return self._here().banks.get(tank.casefold(), ())

    def feeder(self, tag: str) -> FeederRow:
        return self._here().feeders[tag]

    def ways_to(self, tank: str) -> Mapping[str, Way]:
        """By feeder the way that feeds a tank's control panel; none where the feeder ends in the panel itself."""
        return self._here().ways.get(tank, {})

    def torques(self) -> Mapping[str, float]:
        """Tightening torques that stock parts state [N·m], by part."""
        if self._torques is None:
            self._torques = {part.part: part.torque_nm for part in self.result.job.stock if part.torque_nm is not None}
        return self._torques

    def by(self, sheet: Schedule, key: str) -> Mapping[str, dict]:
        return {row[key]: row for row in self.rows(sheet)}

    def figure(self, drawing: Drawing, says: str) -> PaperFigure:
        """A drawing with its legend, in the project's words."""
        return self.figures.add(with_legend(drawing, self.project.wording), says)

    def paper(self, group: str, kind: str, title: str, **more) -> Paper:
        """A paper of the project, its number as yet no more than the serial that it keeps, "" = the next one: on hold where a band says
        so, else for approval."""
        number = more.pop("number", "")
        status = more.pop("status", ON_HOLD if more.get("band") else FOR_APPROVAL)
        return Paper(self.number, group, kind, number, title, status, **more)


def some_held(held: int, of: int, what: str) -> str:
    """The band of a list on which some are on hold: "HOLD - …: 2 of 14 heater panels; see Status"; "" where none is."""
    return f"{BAND}: {held:,} of {counted(of, what)}; see Status" if held else ""


def first_of(names: Iterable[str], most: int = 3) -> str:
    """ "T-1/1-P1, T-1/1-P2 and 7 more"."""
    return few(list(names), most)
