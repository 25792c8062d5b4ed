"""Which line of Materials or of Buy list a row of a workbook is, though it may have been sorted, and lines may read alike."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence

from batch.comparing.input_changes import same
from batch.reopening.results_book import StoredRow, tag_text
from batch.schedules import Row
from batch.sheets import Sheet

NAMED_BY = ("project", "used_for", "tank", "bank", "feeder", "place", "role", "part", "words", "unit")
Address = tuple[str, int]  # sheet and row


def as_they_were(sheet: Sheet, stored: Sequence[StoredRow], written: Sequence[Row], figures: Sequence[str]) -> dict[Address, Row]:
    """By its address the line that each row was written as. Of lines that read alike, as shop and field hours of one cost may, those
    go together whose `figures` are the same; what is left has been typed over, and goes by its order.
    """
    names = [name for name in NAMED_BY if stored and name in stored[0].columns]
    waiting: dict[tuple[str, ...], list[Row]] = defaultdict(list)
    for row in written:
        waiting[_line_of(row, names)].append(row)
    found: dict[Address, Row] = {}
    for typed_over in (False, True):
        for one, alike in list(_not_found(stored, names, waiting, found)):
            at = 0 if typed_over else next((at for at, row in enumerate(alike) if _agrees(sheet, one, row, figures)), -1)
            if alike and at >= 0:
                found[one.sheet, one.row] = alike.pop(at)
    return found


def _not_found(
    stored: Sequence[StoredRow], names: Sequence[str], waiting: Mapping[tuple[str, ...], list[Row]], found: Mapping[Address, Row]
) -> Iterator[tuple[StoredRow, list[Row]]]:
    """Rows that still have no line, each with the lines that read as it does."""
    for one in stored:
        if (one.sheet, one.row) not in found and (alike := waiting.get(_line_of(one.values, names))):
            yield one, alike


def _line_of(row: Mapping[str, object], names: Sequence[str]) -> tuple[str, ...]:
    """What a line reads as."""
    return tuple(tag_text(row.get(name)) for name in names)


def _agrees(sheet: Sheet, one: StoredRow, row: Row, figures: Sequence[str]) -> bool:
    return all(same(sheet[name], row[name], one.values[name]) for name in figures if name in one.values)
