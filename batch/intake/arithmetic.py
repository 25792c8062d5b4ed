"""Two columns of power told apart by what one of them times the number of heaters is, where their headings do not tell."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from msgspec.structs import replace

from batch.intake.assignment import LIKELY, OPEN, Taken
from batch.intake.facts import read_cell
from batch.intake.survey import Region, cells_of
from batch.intake.verdict import close

LEAST_ROWS = 2  # with more than one heater, in which the product shows: judgement, no source
MOSTLY = 0.8  # of the rows with all three figures; others may be slips, and are asked about


POWERS = ("power_kw", "total_kw")


def told_by_product(taken: Sequence[Taken], region: Region, data: Sequence[int], free: Sequence[int]) -> list[Taken]:
    """The columns, of which one power that was open is each heater's and the other all heaters'.

    data  rows to look at, from 0
    free  columns that are not known to be something else: one of them may be the other power
    """
    power = next((one for one in taken if one.key == "power_kw"), None)
    count = next((one for one in taken if one.key == "quantity"), None)
    if power is None or count is None or any(one.key == "total_kw" for one in taken):
        return list(taken)
    others = [index for index in free if index != power.index]
    units = {column.index: next((one.unit for one in column.meanings() if one.key in POWERS), "") for column in region.columns}
    for each, total in [(index, power.index) for index in others] + [(power.index, index) for index in others]:
        hits, seen = _products(region, data, count.index, each=each, total=total, units=units)
        if hits >= LEAST_ROWS and hits >= MOSTLY * seen:
            texts = {column.index: column.text for column in region.columns}
            rest = [one for one in taken if one is not power]
            first = replace(power, key="power_kw", index=each, text=texts[each], basis="each", sure=LIKELY, rival="", unit=units[each])
            second = replace(power, key="total_kw", index=total, text=texts[total], basis="row", sure=LIKELY, rival="", unit=units[total])
            return [*rest, first, second]
    return [replace(one, sure=OPEN) if one is power and one.rival else one for one in taken]


def _products(region: Region, data: Sequence[int], count: int, *, each: int, total: int, units: Mapping[int, str]) -> tuple[int, int]:
    """Rows of several heaters in which number times one column is the other, and rows that have all three figures."""
    hits = seen = 0
    for line in data:
        cells = dict(cells_of(region.grid.rows[line], region.first, region.last))
        columns = (("quantity", count), ("power_kw", each), ("power_kw", total))
        q, one, every = (
            _figure(key, cells.get(index), index, units.get(index, "") if key == "power_kw" else "") for key, index in columns
        )
        if q is None or q <= 1 or one is None or every is None:
            continue
        seen += 1
        hits += close(q * one, every)
    return hits, seen


def _figure(key: str, cell: object, index: int, unit: str) -> float | None:
    fact = read_cell(key, cell, index, unit)
    return float(fact.value) if fact is not None and isinstance(fact.value, (int, float)) else None
