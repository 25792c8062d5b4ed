"""What a results workbook was sized with, so that what was typed into it since is the difference: asked of the data that it carries."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from itertools import chain
from typing import NamedTuple, Protocol

from batch.comparing.input_changes import same
from batch.comparing.lines import SHEETS, Entry, fold, lines_of
from batch.comparing.outcomes import SHEETS as RESULT_SHEETS
from batch.origin import Address
from batch.records import Job
from batch.reopening.results_book import StoredRow
from batch.schedules.sized_data import Cell, SizedData, feeder_key
from batch.sheets import Column
from batch.sizing.previous_decisions import BankKey, PreviousDecisions, is_first

LIKE = ("quantity", "power_kw", "volts_v", "phases")  # by which a bank without a label is known again


class Changed(NamedTuple):
    """Where a value that was sized with is another now: in the sheet of results, or in the row as received."""

    typed: bool
    received: bool


UNCHANGED = Changed(False, False)


class SizedWith(Protocol):
    """What the search for edits asks of a workbook."""

    def listed(self, bank: BankKey) -> bool:
        """Whether the bank had a row of Banks when the workbook was written, and that is known."""

    def given(self, sheet: str, row: StoredRow, name: str, now: object) -> Changed:
        """An input that stands on the sheet of results `sheet` (its id); `now`: what the rows as received say."""

    def stated(self, row: StoredRow, name: str) -> bool:
        """Whether the row itself says what an input was, so that a figure that was there before counts as typed over."""

    def typed_over(self, row: StoredRow, bank: BankKey, name: str) -> bool:
        """Whether a figure of Banks that sizing does not give was typed."""

    def noted(self, bank: BankKey, notes: str) -> bool:
        """Whether a bank of its tank had these notes when the workbook was written, so that a row without them was emptied."""

    def price(self, table: str, key: tuple[str, ...], field: str, value: object, now: object) -> Changed:
        """A price or hours on Buy list or Materials. `key`: of the row of Stock or of Typed prices, folded; `now`: as received."""


class WithData:
    """Of a workbook that carries its data."""

    def __init__(self, data: SizedData) -> None:
        self._data = data
        self._priced: dict[tuple[str, tuple[str, ...]], Mapping[str, Cell]] = {}
        for row in reversed(data.inputs.get("stock", ())):  # the first row of a part; others are its price breaks
            self._priced["stock", (fold(row.get("part")),)] = row
        words = SHEETS["typed_prices"].key
        for row in data.inputs.get("typed_prices", ()):
            self._priced["typed_prices", tuple(" ".join(str(row.get(key) or "").split()).casefold() for key in words)] = row
        heaters = data.inputs.get("heaters", ())
        self._notes = {(fold(row.get("project")), fold(row.get("tank")), str(row.get("notes") or "").strip()) for row in heaters}

    def listed(self, bank: BankKey) -> bool:
        return bank in self._data.banks

    def given(self, sheet: str, row: StoredRow, name: str, now: object) -> Changed:
        if sheet == "banks":
            bank = self._data.banks.get(row.bank)
            figures: Mapping[str, Cell] = {**bank.figures, "feeder": bank.chosen.feeder} if bank is not None else {}
        else:
            figures = self._data.feeders.get(feeder_key(row.values.get("project"), row.text("feeder")), {})
        if name not in figures or name not in row.values:
            return UNCHANGED
        return _changed(RESULT_SHEETS[sheet][name], figures[name], row.values[name], now)

    def stated(self, row: StoredRow, name: str) -> bool:
        return True

    def typed_over(self, row: StoredRow, bank: BankKey, name: str) -> bool:
        was = self._data.banks.get(bank)
        return was is not None and name in was.figures and not same(RESULT_SHEETS["banks"][name], was.figures[name], row.values[name])

    def noted(self, bank: BankKey, notes: str) -> bool:
        return (*bank[:2], notes) in self._notes

    def price(self, table: str, key: tuple[str, ...], field: str, value: object, now: object) -> Changed:
        was, column = self._priced.get((table, key), {}).get(field), SHEETS[table][field]
        was = float(column.default) if was is None and field == "per_quantity" else was
        return _changed(column, was, value, now)


def _changed(column: Column, was: object, shown: object, now: object) -> Changed:
    return Changed(not same(column, was, shown) and not same(column, now, shown), not same(column, was, now))


def chosen_with(job: Job, data: SizedData) -> PreviousDecisions:
    """The decisions in the data, for the job that was received with them."""
    banks = {key: bank.chosen for key, bank in data.banks.items()}
    names = {project: frozenset(chain.from_iterable(found.values())) for project, found in data.tags.items()}
    listed = (Listed(key, bank.label, bank.figures) for key, bank in data.banks.items() if is_first(key))
    return PreviousDecisions(job.name, labels_again(job, listed), banks, {}, data.tags, names, quiet=True, feeders=data.hung)


class Listed(NamedTuple):
    """A bank as a workbook lists it: key, label as written, and what it is known by."""

    key: BankKey
    label: str
    values: Mapping[str, object]


def labels_again(job: Job, listed: Iterable[Listed]) -> dict[Address, str]:
    """Numbers of banks left blank, as the workbook has them: the same as they would get now, or by what stands in the rows."""
    rows: dict[tuple[str, str], list[Listed]] = defaultdict(list)
    for row in listed:
        rows[row.key[:2]].append(row)
    blank: dict[tuple[str, str], list[Entry]] = defaultdict(list)
    given: dict[tuple[str, str], set[str]] = defaultdict(set)
    for line in lines_of(job)["heaters"]:
        if line.number >= 0 and not line.key[2]:
            blank[line.first_two].append(line)
        else:
            given[line.first_two].add(line.key[2])
    labels: dict[Address, str] = {}
    for tank, lines in blank.items():
        free = [row for row in rows[tank] if row.key[2] not in given[tank]]
        if {fold(line.label) for line in lines} >= {row.key[2] for row in free}:
            continue
        labels |= _by_content(lines, free)
    return labels


def _by_content(lines: Sequence[Entry], rows: Sequence[Listed]) -> Mapping[Address, str]:
    left = list(rows)
    found = {}
    for line in lines:
        row = min(left, key=lambda row: sum(row.values.get(key) != line.values.get(key) for key in LIKE), default=None)
        if row is not None:
            left.remove(row)
            found[line.address] = row.label
    return found
