"""Changes of inputs, each to be tried on the old revision alone: what it is called, what it touches, how it is made."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from msgspec import Struct
from msgspec.structs import replace

from batch.comparing.changeset import Change, Comparison, Default, is_number
from batch.comparing.input_changes import READ, SETTINGS
from batch.comparing.lines import RECORDS, RIDES, Entry, fold, with_values
from batch.comparing.pairing import Pair, in_both
from batch.comparing.revision import Revision
from batch.origin import Address
from batch.records import Job
from batch.sheets import Column
from batch.units import convert

FeederKey = tuple[str, str]  # project, feeder, folded
# columns with which nothing is sized: not worth a trial
IDLE = frozenset({"notes", "title", "customer", "site", "revision", "prepared_by", "date", "currency", "duty", "sheath", READ.key})
ADDED = "(new) "  # before the sheet of a row that is put into the old revision, so that it is not taken for one of its own


class Trial(Struct, frozen=True, eq=False):
    """One change (`step`) of a row (`where`, "" = it goes without saying), or several changes of one row together (`parts`)."""

    where: str
    step: str
    touches: frozenset[FeederKey]
    make: Callable[[Job], Job]
    parts: tuple[Trial, ...] = ()

    @property
    def words(self) -> str:
        return f"{self.where}: {self.step}" if self.where else self.step


def together(parts: Sequence[Trial]) -> Trial:
    """Several changes of one row as one."""

    def make(job: Job) -> Job:
        for part in parts:
            job = part.make(job)
        return job

    return Trial(parts[0].where, " with ".join(part.step for part in parts), parts[0].touches, make, tuple(parts))


def trials_of(compared: Comparison, old: Revision, new: Revision, us: bool = False) -> list[Trial]:
    """Everything that was changed, in the order of the rows: cell by cell, and row by row where several cells of it were changed."""
    feeders = _Feeders(old, new, compared.pairs)
    found: list[Trial] = []
    by_pair: dict[int, list[Change]] = {}
    for change in compared.of("basis", "input"):
        if change.pair >= 0:
            by_pair.setdefault(change.pair, []).append(change)
    for at, pair in enumerate(compared.pairs):
        if pair.either.table == "stock":
            continue
        if pair.left is None or pair.right is None or pair.left.number < 0 or pair.right.number < 0:
            found += _row_trials(pair, old, new, feeders, compared.several)
        else:
            found += _cell_trials(pair.left, pair.right, by_pair.get(at, ()), new=new, feeders=feeders, us=us, several=compared.several)
    if old.job.stock != new.job.stock and _stock_differs(compared):
        found.append(Trial("", "the stock list", feeders.everything, lambda job: replace(job, stock=new.job.stock)))
    return found


def _stock_differs(compared: Comparison) -> bool:
    return any(pair.either.table == "stock" and (None in pair or at in compared.changed) for at, pair in enumerate(compared.pairs))


class _Feeders:
    """Which feeders of the old revision a row bears on."""

    def __init__(self, old: Revision, new: Revision, pairs: Sequence[Pair]) -> None:
        self.old, self.new = old, new
        self.of_project: dict[str, set[FeederKey]] = {}
        self.of_tank: dict[tuple[str, str], set[FeederKey]] = {}
        self.renamed = {right.first_two: left.first_two for left, right in in_both(pairs, "feeders")}
        self.projects = {right.key[0]: left.key[0] for left, right in in_both(pairs, "projects")}
        for project in old.result.projects:
            name = fold(project.project.project)
            self.of_project.setdefault(name, set()).update((name, fold(row.feeder.feeder)) for row in project.feeders)
            for bank in project.banks:
                self.of_tank.setdefault((name, fold(bank.bank.tank)), set()).add((name, fold(bank.feeder.feeder)))
        self.everything = frozenset(key for keys in self.of_project.values() for key in keys)

    def project(self, name: str) -> str:
        return self.projects.get(name, name)

    def of(self, pair: Pair) -> frozenset[FeederKey]:
        line = pair.either
        project = pair.left.key[0] if pair.left else self.project(line.key[0])
        if line.table == "feeders":
            return frozenset({pair.left.first_two if pair.left else (project, line.key[1])})
        if line.table == "tanks":
            return frozenset(self.of_tank.get((project, line.key[1]), ()))
        if line.table == "projects":
            return frozenset(self.of_project.get(project, ()))
        found = set()
        for side, one in ((self.old, pair.left), (self.new, pair.right)):
            if one is None:
                continue
            if one.address not in side.banks:
                return frozenset(self.of_project.get(project, ()))
            row = side.banks[one.address][1]
            key = fold(row.bank.project), fold(row.feeder.feeder)
            found.add(key if side is self.old else self.renamed.get(key, (project, key[1])))
        return frozenset(found)


def _row_trials(pair: Pair, old: Revision, new: Revision, feeders: _Feeders, several: bool) -> Iterator[Trial]:
    """A row that came or went, or can be read in one revision only; feeders and tanks that came stand in every trial (`with_new_rows`)."""
    table = pair.either.table
    record = RECORDS[table]
    gone = pair.left if pair.left is not None and pair.left.number >= 0 else None
    came = pair.right if pair.right is not None and pair.right.number >= 0 else None
    if table not in ("heaters", "tanks") or (table == "tanks" and not feeders.of(pair)):
        return
    name = pair.either
    words = "/".join(filter(None, (name.names[0] if several else "", name.names[1], name.label)))
    if gone is not None:
        removed = getattr(old.job, record)[gone.number]
        why = "cannot be read now" if pair.right is not None else "removed"

        def take_out(job: Job) -> Job:
            return with_values(job, {record: tuple(one for one in getattr(job, record) if one.origin != removed.origin)})

        yield Trial("", f"{words} {why}", feeders.of(pair), take_out)
        return
    if came is None:
        return
    added = _as_new(getattr(new.job, record)[came.number])
    why = "can be read now" if pair.left is not None else "added"
    yield Trial("", f"{words} {why}", feeders.of(pair), lambda job: with_values(job, {record: (*getattr(job, record), added)}))


def _as_new(record):
    return replace(record, origin=replace(record.origin, sheet=ADDED + record.origin.sheet))


def _cell_trials(
    was: Entry, now: Entry, changes: Sequence[Change], *, new: Revision, feeders: _Feeders, us: bool, several: bool
) -> Iterator[Trial]:
    record = RECORDS[was.table]
    after = getattr(new.job, record)[now.number]
    where = "" if was.table == "projects" or not changes else changes[0].names.words(several)
    tried = [change for change in changes if not change.column.key.startswith(RIDES) and change.column.key not in IDLE]
    tried = [change for change in tried if change.table != "projects" or change.column.key in SETTINGS]
    tried = [change for change in tried if hasattr(after, change.column.key)]
    touches = feeders.of(Pair(was, now))
    parts = [Trial(where, step(one, us), touches, _setter(record, was.address, after, one.column.key)) for one in tried]
    yield from parts
    if len(parts) > 1:
        yield together(parts)


def _setter(record: str, address: Address, after, key: str) -> Callable[[Job], Job]:
    value = getattr(after, key)

    def make(job: Job) -> Job:
        rows = getattr(job, record)
        found = [at for at, one in enumerate(rows) if one.origin.address == address]
        if not found:
            return job
        changed = list(rows)
        changed[found[0]] = replace(rows[found[0]], **{key: value})
        return with_values(job, {record: tuple(changed)})

    return make


def step(change: Change, us: bool = False) -> str:
    """One change in words: "Power 6 → 8 kW"."""
    before, after = (shown(in_unit(change.column, value, us)) for value in (change.before, change.after))
    return f"{change.column.heading} {before} → {after} {change.column.shown_unit(us)}".rstrip()


def in_unit(column: Column, value: object, us: bool) -> object:
    """A value of a column in the unit that is shown."""
    if us and column.us_unit and is_number(value):
        return convert(value, column.unit, column.us_unit)
    return value


def shown(value: object) -> str:
    """A value in words; a number with six digits."""
    if value is None or value == "":
        return "blank"
    if isinstance(value, Default):
        return f"its default ({value})"
    return f"{value:.6g}" if is_number(value) else str(value)


def with_new_rows(old: Revision, new: Revision, pairs: Sequence[Pair]) -> Job:
    """The old revision with the feeders and tanks that came: without banks they change nothing, and a bank may come to hang on them."""
    job = old.job
    listed = {fold(feeder.project) for feeder in job.feeders}
    hung = {(fold(bank.project), fold(bank.tank)) for bank in job.banks}
    more: dict[str, list] = {"feeders": [], "tanks": []}
    for pair in pairs:
        table = pair.either.table
        if table not in more or pair.right is None or pair.right.number < 0 or (pair.left is not None and pair.left.number >= 0):
            continue
        if (pair.right.key[0] in listed) if table == "feeders" else (pair.right.key not in hung):
            more[table].append(_as_new(getattr(new.job, RECORDS[table])[pair.right.number]))
    return replace(job, feeders=(*job.feeders, *more["feeders"]), tanks=(*job.tanks, *more["tanks"]))
