"""Which change moves which result: shown by sizing the old revision again with that change alone."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import NamedTuple

from msgspec.structs import replace

from batch.comparing.changeset import Cause, Change, Comparison, Twin
from batch.comparing.input_changes import same
from batch.comparing.lines import fold
from batch.comparing.pairing import in_both
from batch.comparing.revision import Revision
from batch.comparing.same_feeders import same_feeders
from batch.comparing.trials import FeederKey, Trial, together, trials_of, with_new_rows
from batch.origin import Address
from batch.records import Job
from batch.results import JobResult
from batch.schedules import Row, rows, sized_rows
from batch.sizing.previous_decisions import PreviousDecisions
from batch.sizing.project import size_job

MOST_SIZINGS = 8_000  # banks sized again in all; a change beyond is named where it must be one of several, but not tried
NAMED = 3  # causes named for one result
ANEW = Cause("phases and splits chosen anew, since none was kept", True)

Progress = Callable[[str, int, int], None]


class Seen(NamedTuple):
    """What a trial gave: rows of banks with their panels by the address of the bank, and rows of feeders by key."""

    banks: Mapping[Address, Row]
    panels: Mapping[Address, Sequence[Row]]
    feeders: Mapping[FeederKey, Row]


def with_causes(compared: Comparison, old: Revision, new: Revision, us: bool = False, progress: Progress | None = None) -> Comparison:
    """The comparison with the cause of every changed result that could be shown, worded in US units or not."""
    results = compared.of("result")
    if not results:
        return compared
    lab = _Laboratory(compared, old, new)
    trials = trials_of(compared, old, new, us)
    touched = {key for change in results for key in lab.feeders_of(change)}
    lab.run([trial for trial in trials if trial.touches & touched], progress)
    lab.run(lab.narrower(results), progress)
    changes = tuple(change._replace(causes=lab.causes(change)) if change.sort == "result" else change for change in compared.changes)
    return replace(compared, changes=changes)


class _Laboratory:
    """Trials packed into as few sizings as possible: changes that touch different feeders do not disturb each other."""

    def __init__(self, compared: Comparison, old: Revision, new: Revision) -> None:
        self.compared, self.old, self.new = compared, old, new
        self.job = with_new_rows(old, new, compared.pairs)
        banks = in_both(compared.pairs, "heaters")
        labels = {left.address: right.label for left, right in banks if not left.key[2] and right.label}
        self.previous: PreviousDecisions = replace(new.previous, labels=labels, quiet=True)
        self.panels = {(twin.pair, twin.names.item): number for number, twin in _numbered(compared)}
        self.feeder_names = {one.new: one.old for one in same_feeders(old.job, new.job, compared.pairs)}
        self.projects = {right.key[0]: left.key[0] for left, right in in_both(compared.pairs, "projects")}
        self.of_feeder: dict[FeederKey, list[Trial]] = {}
        self.seen: dict[Trial, Seen] = {}
        self.spent = 0
        self.before = self._baseline()

    def _baseline(self) -> Seen | None:
        """The old revision with choices made the new one's way; None where that is how it was sized."""
        if self.old.previous is self.new.previous or not (self.old.previous.banks or self.new.previous.banks):
            return None
        return _observe(size_job(self.job, previous=self.previous))

    def run(self, trials: Sequence[Trial], progress: Progress | None) -> None:
        for trial in trials:
            for key in trial.touches:
                self.of_feeder.setdefault(key, []).append(trial)
        rounds: list[tuple[set[FeederKey], list[Trial]]] = []
        for trial in trials:
            room = next((one for one in rounds if not one[0] & trial.touches), None)
            if room is None:
                rounds.append(room := (set(), []))
            room[0].update(trial.touches)
            room[1].append(trial)
        for number, (touched, packed) in enumerate(rounds):
            job = self._part(touched)
            self.spent += len(job.banks)
            if self.spent > MOST_SIZINGS:
                return
            for trial in packed:
                job = trial.make(job)
            seen = _observe(size_job(job, previous=self.previous))
            self.seen |= dict.fromkeys(packed, seen)
            if progress:
                progress("finding causes", number + 1, len(rounds))

    def _part(self, touched: set[FeederKey]) -> Job:
        """Only the banks on those feeders, and whole projects whose feeders are assumed from their banks or have rows not sized."""
        listed = {fold(feeder.project) for feeder in self.job.feeders}
        projects = {project for project, _ in touched}
        keep = []
        for bank in self.job.banks:
            project = fold(bank.project)
            row = self.old.banks.get(bank.origin.address)
            on = (project, fold(row[1].feeder.feeder)) in touched if row and project in listed else project in projects
            if on:
                keep.append(bank)
        own = tuple(project for project in self.job.projects if fold(project.project) in projects)
        return replace(self.job, projects=own, banks=tuple(keep))

    def feeders_of(self, change: Change) -> set[FeederKey]:
        """Feeders of the old revision that a result hangs on."""
        if change.table == "feeder_totals":
            return {self._old_feeder(change.names.project, change.names.feeder)}
        was, now = self.compared.pairs[change.pair]
        found: set[FeederKey] = set()
        if was is not None and was.address in self.old.banks:
            row = self.old.banks[was.address][1]
            found.add((fold(row.bank.project), fold(row.feeder.feeder)))
        if now is not None and now.address in self.new.banks:
            row = self.new.banks[now.address][1]
            found.add(self._old_feeder(row.bank.project, row.feeder.feeder))
        return found

    def _old_feeder(self, project: str, feeder: str) -> FeederKey:
        key = fold(project), fold(feeder)
        return self.feeder_names.get(key, (self.projects.get(key[0], key[0]), key[1]))

    def causes(self, change: Change) -> tuple[Cause, ...]:
        """The changes that give the new figure, each alone; else the fewest of one row that do; else the changes that move it."""
        if self.before is not None and same(change.column, self._start(change), change.after):
            return (ANEW,)
        moved = self._moved(change)
        alone = [trial for trial, value in moved if same(change.column, value, change.after)]
        single = [trial for trial in alone if not trial.parts]
        if single:
            return _worded(single, True)
        if alone:
            return (Cause(min(alone, key=lambda trial: len(trial.parts)).words, True),)
        return _worded([trial for trial, _ in moved if not trial.parts] or [trial for trial, _ in moved], False)

    def narrower(self, results: Sequence[Change]) -> list[Trial]:
        """Of rows whose changes give a figure only together: those of them that move it, as trials of their own."""
        found: dict[tuple[Trial, ...], Trial] = {}
        for change in results:
            moved = self._moved(change)
            movers = {trial for trial, _ in moved}
            for trial, value in moved:
                if trial.parts and same(change.column, value, change.after):
                    parts = tuple(part for part in trial.parts if part in movers)
                    if 1 < len(parts) < len(trial.parts):
                        found.setdefault(parts, together(parts))
        return list(found.values())

    def _start(self, change: Change) -> object:
        """The figure before any change of inputs."""
        return change.before if self.before is None else self._value(self.before, change, change.before)

    def _moved(self, change: Change) -> list[tuple[Trial, object]]:
        """Trials that move a figure, with what they make of it."""
        start = self._start(change)
        trials = dict.fromkeys(trial for key in sorted(self.feeders_of(change)) for trial in self.of_feeder.get(key, ()))
        got = [(trial, self._value(self.seen[trial], change, start)) for trial in trials if trial in self.seen]
        return [(trial, value) for trial, value in got if not same(change.column, start, value)]

    def _value(self, seen: Seen, change: Change, missing: object) -> object:
        """The figure as a trial gave it; `missing` where the trial has no such row."""
        row: Row | None = None
        was = self.compared.pairs[change.pair].left if change.table != "feeder_totals" else None
        if change.table == "feeder_totals":
            row = seen.feeders.get(self._old_feeder(change.names.project, change.names.feeder))
        elif was is not None:
            address = was.address
            if change.table == "banks":
                row = seen.banks.get(address)
            else:
                panels = seen.panels.get(address, ())
                number = self.panels[change.pair, change.names.item]
                row = panels[number] if number < len(panels) else None
        return missing if row is None else row[change.column.key]


def _worded(trials: Sequence[Trial], alone: bool) -> tuple[Cause, ...]:
    causes = [Cause(trial.words, alone) for trial in trials[:NAMED]]
    if len(trials) > NAMED:
        causes.append(Cause(f"and {len(trials) - NAMED} more", alone))
    return tuple(causes)


def _numbered(compared: Comparison) -> Iterable[tuple[int, Twin]]:
    """Panels of each pair of banks, numbered from 0."""
    count: dict[int, int] = {}
    for twin in compared.twins:
        if twin.table == "panels":
            number = count.get(twin.pair, 0)
            count[twin.pair] = number + 1
            yield number, twin


def _observe(result: JobResult) -> Seen:
    banks, panels = iter(sized_rows(result, "banks")), iter(rows(result, "panels"))
    by_bank: dict[Address, Row] = {}
    by_panel: dict[Address, list[Row]] = {}
    for project in result.projects:
        for bank in project.banks:
            address = bank.bank.origin.address
            by_bank[address] = next(banks)
            by_panel[address] = [next(panels) for _ in bank.panels]
    feeders = {(fold(row["project"]), fold(row["feeder"])): row for row in sized_rows(result, "feeder_totals")}
    return Seen(by_bank, by_panel, feeders)
