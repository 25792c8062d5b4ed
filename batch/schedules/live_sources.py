"""What keeps a tank live: its disconnects with their places, control power by others, and banks not sized that yet will be fed."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from msgspec import Struct, field

from batch.control_results import TankControl
from batch.results import BankRow, JobResult, ProjectResult
from batch.schedules.designations import marks_of
from batch.schedules.row_words import single_tag


class Source(Struct, frozen=True):
    """A disconnect of a tank, one for each supply of its control panel."""

    tag: str
    place: str
    feeder: str
    rating_a: float
    made: str  # in words

    @property
    def words(self) -> str:
        """ "T-105/DISC2 (in T-105/HCP, feeder F-2)"."""
        return f"{self.tag} (in {self.place}, feeder {self.feeder})"


class _AtTank(Struct):
    """The sources of one tank in the order of its supplies, and in words those that nobody has sized."""

    control: TankControl
    sources: list[Source]
    by_feeder: dict[str, Source]
    not_sized: list[str] = field(default_factory=list)


class LiveSources:
    """The sources of a project, by tank and by what they serve."""

    def __init__(self, result: JobResult, project: ProjectResult) -> None:
        self._tanks: dict[str, _AtTank] = {}
        marks = marks_of(project)
        for control in project.controls:
            sources = [
                Source(marks.disconnect(control.tank, one.number), control.tag, one.feeder, one.disconnect_a, one.disconnect)
                for one in control.supplies
            ]
            self._tanks[control.tank.casefold()] = _AtTank(control, sources, {source.feeder: source for source in reversed(sources)})
        for tank, words in _not_sized(result, project):
            if tank in self._tanks:
                self._tanks[tank].not_sized.append(words)

    def of(self, row: BankRow) -> Source:
        """The disconnect that kills the power of a bank and all its panels."""
        return self._at(row).by_feeder[row.feeder.feeder]

    def string_of(self, row: BankRow) -> Source | None:
        """The disconnect that kills the limit string in the boxes of a bank; None where control power comes from elsewhere, or the bank has
        no limits."""
        at = self._at(row)
        if at.control.settings.transformer == "others" or row.bank.over_temperature_limit == "no":
            return None
        return at.sources[0]

    def foreign(self, row: BankRow) -> bool:
        """Whether the control circuit at the tank is live from elsewhere."""
        return self._at(row).control.settings.transformer == "others"

    def others(self, row: BankRow) -> Sequence[Source]:
        """Every other disconnect of the tank: what stays live there when this bank's own is open."""
        own = self.of(row)
        return [source for source in self._at(row).sources if source is not own]

    def not_sized(self, row: BankRow) -> Sequence[str]:
        """In words, rows of the same tank that are not sized: they will be fed too, from where nobody knows yet."""
        return self._at(row).not_sized

    def of_tank(self, tank: str) -> Sequence[Source]:
        """Every disconnect of a tank."""
        return self._tanks[tank.casefold()].sources

    def not_sized_at(self, tank: str) -> Sequence[str]:
        """As `not_sized`, of a tank."""
        return self._tanks[tank.casefold()].not_sized

    def _at(self, row: BankRow) -> _AtTank:
        return self._tanks[row.bank.tank.casefold()]


def served(row: BankRow) -> list[str]:
    """What hangs on a bank's disconnect: its panels, or the bank itself where it is a single circuit."""
    return [panel.tag for panel in row.panels] or [single_tag(row)]


def _not_sized(result: JobResult, project: ProjectResult) -> Iterator[tuple[str, str]]:
    """Tank and words of each heater row of the project that came to nothing; a row that names no project may be of any."""
    for row in (*project.not_sized, *(row for row in result.not_sized if not row.project)):
        yield row.tank.casefold(), f"row {row.origin.row} of {row.origin.sheet}"
