"""Carried forward: values in force that the rows as received do not state."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from batch.records import CarriedForward
from batch.results import JobResult
from batch.schedules.schedule import Schedule, its_bank, its_feeder, its_project, its_tank, text
from batch.sheets import INPUTS, Column, Sheet
from batch.sheets.received import EMPTIED


class CarriedForwardLine(NamedTuple):
    """A value, with the input column that it belongs to."""

    one: CarriedForward
    sheet: Sheet
    column: Column


def _items(result: JobResult) -> Iterator[CarriedForwardLine]:
    sheets = {sheet.id: sheet for sheet in INPUTS}
    for one in result.job.carried_forward:
        yield CarriedForwardLine(one, sheets[one.table], sheets[one.table][one.key])


def _value(at: CarriedForwardLine) -> object:
    """The value; a word where the cell was emptied, or gives way to another one of its row."""
    return EMPTIED if at.one.value is None or (at.column.instead and at.one.value == 0) else at.one.value


CARRIED_FORWARD = Schedule(
    "carried_forward", "Carried forward", "value", "Values in force that the rows as received do not state: kept from an earlier revision, or typed into results.",
    also=("Decided",),
    items=_items, named_by="column",
    columns=(
        text("sheet", "Sheet", 10, "sheet.name",
             help="Input sheet that the value belongs to."),
        its_project("one.project"),
        its_tank("one.tank"),
        its_bank("one.bank"),
        its_feeder("one.feeder"),
        text("part", "Part", 16, "one.part",
             help="Part of the stock list."),
        text("column", "Column", 24, "column.heading",
             help="Column of that sheet."),
        text("value", "Value", 24, _value,
             role="result", becomes="itself", help="The value in force; (blank): the cell was emptied by hand."),
        text("instead_of", "Instead of", 24, "one.instead_of",
             role="calculation", help="What the row as received says; blank: nothing. Where that is changed, the row counts."),
        text("unit", "Unit", 10, "column.unit",
             help="Unit of the value."),
        text("source", "From", 34, "one.source",
             help="Workbook that it comes from."),
    ),
)
