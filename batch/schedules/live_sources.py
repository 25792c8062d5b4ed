"""What keeps a tank live: its disconnects with their places, and the banks that are not sized and yet will be fed."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from batch.records import Job
from batch.results import BankRow, JobResult, PanelRow, ProjectResult
from batch.schedules.designations import disconnect
from batch.schedules.row_words import single_tag


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
        for row in project.banks:
            for tag in served(row):
                self._add(row, tag)
        for tank, words in _not_sized(result.job, project):
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


def _not_sized(job: Job, project: ProjectResult) -> Iterator[tuple[str, str]]:
    """Tank and words of each heater row of the project that came to nothing: refused when it was read, or not sized."""
    name = project.project.project
    sized = {(row.bank.origin.sheet, row.bank.origin.row) for row in project.banks}
    for bank in job.banks:
        if bank.project == name and (bank.origin.sheet, bank.origin.row) not in sized:
            yield bank.tank.casefold(), f"row {bank.origin.row} of {bank.origin.sheet}"
    for table in job.received:
        if table.kind != "heaters" or "tank" not in table.keys:
            continue
        for row in table.rows:
            cells: Mapping[str, object] = dict(zip(table.keys, row.values, strict=False))
            if row.refused and str(cells.get("project") or name).strip() == name:
                yield str(cells.get("tank") or "").strip().casefold(), f"row {row.row} of {row.sheet}"
