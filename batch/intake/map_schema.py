"""What a column map may hold, key by key, checked by msgspec; imported only where a map is read."""

from __future__ import annotations

import re
from typing import Annotated, Any, Literal

import msgspec
from msgspec import UNSET, Meta, Struct, UnsetType, ValidationError

from batch.ooxml.addresses import LAST_ROW

Number = Annotated[int, Meta(ge=1, le=LAST_ROW)]
Letters = Annotated[str, Meta(pattern=r"^\s*[A-Za-z]{1,3}\s*$")]
Words = Annotated[str, Meta(pattern=r"\S")]
Range = Annotated[str, Meta(pattern=r"^\s*\$?[A-Za-z]{1,3}\$?[0-9]{1,7}\s*:\s*\$?[A-Za-z]{1,3}\$?[0-9]{1,7}\s*$")]
Rows = list[Number | Annotated[str, Meta(pattern=r"^\s*[0-9]{1,7}\s*(?:-|–|to)\s*[0-9]{1,7}\s*$")]]
Plain = str | int | float | bool


class ColumnSaid(Struct, forbid_unknown_fields=True):
    """One of our columns that is more than a heading: where it stands, and in which unit."""

    heading: Words | UnsetType = UNSET
    column: Letters | UnsetType = UNSET
    row: Number | UnsetType = UNSET  # of a turned list
    unit: Words | UnsetType = UNSET
    unit_in: Words | UnsetType = UNSET  # heading or letter of the column that holds the unit of each row
    join: list[Words] | UnsetType = UNSET  # texts put together
    between: str | UnsetType = UNSET  # what stands between them
    sum: list[Words] | UnsetType = UNSET  # figures added up


class AlsoSaid(Struct, forbid_unknown_fields=True):
    """A further bank of heaters in the same row, under columns of its own."""

    columns: dict[str, Any] = {}
    fixed: dict[str, Any] = {}
    means: dict[str, dict[str, Plain]] = {}
    rows: dict[str, dict[str, Plain]] = {}  # its values in single rows
    power: Literal["each", "per tank", "total"] | UnsetType = UNSET


class TableSaid(Struct, forbid_unknown_fields=True):
    """One [[table]]."""

    sheet: Words
    kind: str = "Heaters"
    use: Literal["?"] | bool = True
    range: Range | UnsetType = UNSET
    heading_row: Number | Annotated[list[Number], Meta(min_length=1, max_length=3)] | UnsetType = UNSET
    first_row: Number | UnsetType = UNSET
    last_row: Number | UnsetType = UNSET
    first_column: Letters | UnsetType = UNSET
    last_column: Letters | UnsetType = UNSET
    heading_column: Letters | Annotated[list[Letters], Meta(min_length=1, max_length=3)] | UnsetType = UNSET
    blocks: Letters | UnsetType = UNSET
    decimal: Literal[".", ",", ""] | UnsetType = UNSET
    blank_repeats_above: list[str] | UnsetType = UNSET
    fill_down: list[str] | UnsetType = UNSET
    power: Literal["each", "per tank", "total", "?"] | UnsetType = UNSET
    quantity: Literal["each tank", "all tanks", "?"] | UnsetType = UNSET
    keep: Rows | UnsetType = UNSET
    leave_out: Rows | UnsetType = UNSET
    only_words: list[Words] | UnsetType = UNSET
    keep_words: list[Words] | UnsetType = UNSET
    leave_out_words: list[Words] | UnsetType = UNSET
    blank_words: list[Words] | UnsetType = UNSET
    total_words: list[Words] | UnsetType = UNSET
    repeat_words: list[Words] | UnsetType = UNSET
    struck: Literal["left out", "kept"] | UnsetType = UNSET
    hidden: Literal["asked", "left out", "kept"] | UnsetType = UNSET
    columns: dict[str, Any] = {}
    fixed: dict[str, Any] = {}
    rows: dict[str, Literal["keep", "leave out", "?"] | dict[str, Plain]] = {}
    means: dict[str, dict[str, Plain]] = {}
    tags: dict[str, str | list[Words]] = {}
    also: list[AlsoSaid] = []
    held: str | UnsetType = UNSET  # of results that are read again
    older: str | UnsetType = UNSET
    merged: dict[str, dict[str, Any]] | UnsetType = UNSET
    left_open: dict[str, dict[str, Any]] | UnsetType = UNSET


class MapSaid(Struct, forbid_unknown_fields=True):
    """The whole map."""

    table: list[dict[str, Any]] = []  # none only where `others` is said: a form of which nothing is filled in yet
    decimal: Literal[".", ",", ""] = ""
    others: Literal["asked", "no lists"] = "asked"


# What is to be written instead, by the key that is wrong
EXPECTED = {
    "sheet": "write the name of the tab",
    "kind": "write the name of a sheet of a job, such as Heaters",
    "use": "write true or false",
    "range": 'write the first and the last cell, headings included, as "B4:N40"',
    "heading_row": "write one row number, or two or three that follow each other, as [4, 5]",
    "first_row": "write a row number", "last_row": "write a row number", "row": "write a row number",
    "first_column": "write a column letter", "last_column": "write a column letter", "column": "write A, B, … or XFD",
    "heading_column": 'write a column letter, or two that follow each other, as ["A", "B"]',
    "blocks": "write the letter of the column of the labels",
    "decimal": 'write "." or ","',
    "blank_repeats_above": 'write it as ["Tank"]', "fill_down": 'write it as ["Tank"]',
    "power": 'write one of "each", "per tank", "total"',
    "quantity": 'write "each tank" or "all tanks"',
    "keep": 'write row numbers, as [12, "14-20"]', "leave_out": 'write row numbers, as [12, "14-20"]',
    "only_words": 'write words, as ["heater"]', "keep_words": 'write words, as ["existing"]',
    "leave_out_words": 'write words, as ["phase 2"]', "blank_words": 'write words, as ["NC"]',
    "total_words": 'write words, as ["carried forward"]', "repeat_words": 'write words, as ["jw."]',
    "struck": 'write "left out" or "kept"', "hidden": 'write "asked", "left out" or "kept"',
    "columns": "write it as [table.columns]", "fixed": "write it as [table.fixed]",
    "rows": 'write it as [table.rows], with a line such as 12 = "keep", 14 = "leave out" or 15 = { Quantity = 4 }',
    "means": 'write it as [table.means], with a line such as Phases = { TRIF = 3, MONO = 1 }',
    "tags": 'write it as [table.tags], with a line such as "M2" = ["M2A", "M2B"]',
    "also": "write it as [[table.also]], with columns and fixed of its own",
    "heading": "write the heading as the list has it", "unit": "write a unit, such as W",
    "unit_in": "write the heading or the letter of the column that holds the units",
    "join": 'write headings or letters, as ["Line", "No."]', "sum": 'write headings or letters, as ["Front", "Rear"]',
    "between": 'write what stands between the texts, as "-"',
    "others": 'write "asked" or "no lists"',
    "table": "add a [[table]] for each table of the list",
}  # fmt: skip


class Wrong(Exception):
    """What does not fit: the key (path within the part that was checked), and whether it is one that there is."""

    def __init__(self, path: tuple[str, ...], known: bool, missing: bool) -> None:
        super().__init__(path)
        self.path, self.known, self.missing = path, known, missing


def checked(content: object, shape: type[Struct]) -> Any:
    """`content` as `shape`.

    Raises:
        Wrong: it does not fit.
    """
    try:
        return msgspec.convert(content, shape, strict=True)
    except ValidationError as fault:
        words, _, at = str(fault).partition(" - at `$")
        path = tuple(part for part in re.sub(r"\[[^]]*\]", "", at.strip("`")).split(".") if part)
        for said, known, missing in (("unknown field `", False, False), ("missing required field `", True, True)):
            if said in words:
                raise Wrong((*path, words.partition(said)[2].partition("`")[0]), known, missing) from None
        raise Wrong(path, True, False) from None


def fields_of(shape: type[Struct]) -> list[str]:
    """The keys that a part of a map may have."""
    inner = {"held", "older", "merged", "left_open", "fill_down"}
    return sorted(name for name in shape.__struct_fields__ if name not in inner)
