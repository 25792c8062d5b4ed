"""Cells of results that are taken where they are typed over: what belongs there, and a list where it is one of a few."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence

from msgspec.structs import replace

from batch.report.input_help import validation
from batch.sheets import INPUTS, Column
from batch.writing.placed import DATA, Placed

SHEETS = {sheet.id: sheet for sheet in INPUTS}
RATED = frozenset({"fixed_rating_a", "existing_device_a"})  # inputs of which standard ratings are usual
TAGS = {"heaters.feeder": ("feeder_totals", "feeder"), "feeders.source": ("source_totals", "source")}  # inputs that name a row of results
WHOLE = {
    "itself": "The value in force. Cleared, or its row deleted: the row as received counts again.",
    "answers": "The customer's answer. It is taken when this workbook is sized again.",
    "types.name": "A name of your own for this type; every panel of it goes by that name from then on.",
}


def offer(spread: Sequence[Placed], placed: Mapping[str, Placed], names: Collection[str]) -> None:
    """Gives each such column its message, its list and its limits. `spread`: every sheet that a schedule fills; `placed`: the first of
    each by id; `names`: defined names of Code basis.
    """
    for one in spread:
        for column in one.sheet.columns:
            if column.becomes:
                at = one.columns[column.key]
                one.worksheet.data_validation(DATA, at, one.last, at, _rule(column, one.us, placed, names))


def _rule(column: Column, us: bool, placed: Mapping[str, Placed], names: Collection[str]) -> dict:
    taken = _input_of(column)
    if taken is None:
        return {"validate": "any", "input_title": column.heading, "input_message": WHOLE[column.becomes]}
    rule = validation(taken, us, _listed(column, placed, names))
    return rule | {"input_title": column.heading[:32], "input_message": "Typed over, it is taken when this workbook is sized again."}


def _input_of(column: Column) -> Column | None:
    """The input that the column becomes; as listed on a sheet where its tags or ratings are."""
    sheet, _, key = column.becomes.partition(".")
    return replace(SHEETS[sheet][key], required=False) if sheet in SHEETS else None


def _listed(column: Column, placed: Mapping[str, Placed], names: Collection[str]) -> str:
    if column.becomes in TAGS:
        sheet, key = TAGS[column.becomes]
        return f"={placed[sheet].range(key)}" if sheet in placed else ""
    rated = column.becomes.partition(".")[2] in RATED and "ratings" in names
    return "=ratings" if rated else ""
