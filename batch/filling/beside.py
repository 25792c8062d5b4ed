"""What stands on a sheet beside its cells, and where: tables, merged cells, pictures, and what formulas read.

Results are put where none of it is touched: not covered, not stretched, and no total of the customer's changed by them.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from typing import NamedTuple

from batch.errors import CannotFill
from batch.ooxml.addresses import LAST_COLUMN, LAST_ROW
from batch.ooxml.guard import Package
from batch.ooxml.package import elements, related
from batch.ooxml.sheet_xml import SAVE, Survey, Tag, place_of, tags, whole

# elements outside the cells whose address says nothing about where something stands: how it is shown, checked or selected
SHOWN_ONLY = frozenset(
    {"dimension", "selection", "pane", "sheetView", "conditionalFormatting", "dataValidation", "dataValidations", "ignoredError",
     "cfRule", "sortState", "sortCondition", "customSheetView", "phoneticPr", "hyperlink", "dataRef"}
)  # fmt: skip
SHOWN_ONLY_AROUND = frozenset(
    {"conditionalFormattings", "conditionalFormatting", "dataValidations", "customSheetViews", "sheetViews", "ignoredErrors"}
)
NAMES = {
    "mergeCell": "merged cells", "autoFilter": "a filter", "protectedRange": "a protected range", "sqref": "a small chart in a cell",
    "table": "a table", "pivotTable": "a pivot table", "comment": "a comment", "threadedComment": "a comment", "inputCells": "a scenario",
}  # fmt: skip
COLUMN_EMU = 304_800  # a third of an inch: columns are seldom narrower, so a picture is never taken for narrower than it is
STRINGS = re.compile(r'"[^"]*"')
REFERENCE = re.compile(
    r"(?<![\w.$'!])(?:('(?:[^']|'')+'|[\w.\[\]:]+)!)?"
    r"(?:(\$?[A-Z]{1,3})(\$?\d{1,7})(?::(\$?[A-Z]{1,3})(\$?\d{1,7}))?|(\$?[A-Z]{1,3}):(\$?[A-Z]{1,3})|(\$?\d{1,7}):(\$?\d{1,7}))(?![\w(.!'])"
)
ANCHORS = frozenset({"twoCellAnchor", "oneCellAnchor", "absoluteAnchor"})


class Block(NamedTuple):
    """Something that takes up cells. Columns count from 0, rows from 1, both ends included. `floats`: it lies over the cells."""

    what: str
    left: int
    top: int
    right: int
    bottom: int
    floats: bool = False

    def in_rows(self, first: int, last: int) -> bool:
        return self.top <= last and self.bottom >= first


def area(ref: str) -> tuple[int, int, int, int]:
    """(left, top, right, bottom) of "B2:D9"; whole rows and columns reach to the end of the sheet."""
    one, _, other = ref.replace("$", "").partition(":")
    other = other or one
    if (top := whole(one)) is not None and (bottom := whole(other)) is not None:
        return 0, top, LAST_COLUMN - 1, bottom
    if one.isalpha():
        return place_of(f"{one}1")[0], 1, place_of(f"{other}1")[0], LAST_ROW
    (left, top), (right, bottom) = place_of(one), place_of(other)
    return left, top, right, bottom


def blocks(package: Package, part: str, seen: Survey) -> list[Block]:
    """Everything that stands on the sheet beside its cells.

    Raises:
        CannotFill: something whose place cannot be told.
    """
    found = list(_in_the_sheet(seen))
    for related_part, kind in related(package, part).values():
        end = kind.rpartition("/")[2]
        if related_part and end in ("table", "pivotTable", "comments", "threadedComment"):
            found += _of_part(package, related_part, end)
        elif related_part and end == "drawing":
            found += _drawn(package, related_part)
        elif related_part and end == "vmlDrawing":
            found += _controls(package, related_part)
    return found


def _in_the_sheet(seen: Survey) -> Iterator[Block]:
    for tag in seen.tags:
        if tag.name in SHOWN_ONLY or SHOWN_ONLY_AROUND.intersection(tag.path):
            continue
        refs = [tag.attributes.get(label, "") for label in ("ref", "sqref")] + [tag.text if tag.name == "sqref" else ""]
        for ref in " ".join(refs).split():
            yield Block(NAMES.get(tag.name, f"something ({tag.name})"), *area(ref))
    yield from _anchored([(tag.name, tag.path, tag.text) for tag in seen.tags], "a control")


def _anchored(tags: Iterable[tuple[str, tuple[str, ...], str]], what: str) -> Iterator[Block]:
    """Blocks of anchors given by <from> and <to>, each with <col> and <row>."""
    place: dict[tuple[str, str], int] = {}
    for name, path, text in tags:
        if name in ("col", "row") and path and path[-1] in ("from", "to") and (number := whole(text)) is not None:
            place[path[-1], name] = number
            if len(place) == 4 and path[-1] == "to" and name == "row":
                yield Block(what, place["from", "col"], place["from", "row"] + 1, place["to", "col"], place["to", "row"] + 1, True)
                place.clear()


def _of_part(package: Package, part: str, kind: str) -> Iterator[Block]:
    wanted = {"table": "table", "pivotTable": "location", "comments": "comment", "threadedComment": "threadedComment"}[kind]
    for tag, attributes in elements(package.read(part), package.name, part):
        if tag == wanted and attributes.get("ref"):
            yield Block(NAMES.get(wanted, "a pivot table"), *area(attributes["ref"]))


def _drawn(package: Package, part: str) -> Iterator[Block]:
    """Pictures, charts and shapes: from cell to cell, from a cell with a size, or at a place of the sheet."""
    anchor: list[Tag] = []
    for tag in [*tags(package.read(part)), Tag("", {}, 0, ())]:
        inside = any(name in ANCHORS for name in tag.path)
        if inside and tag.name not in ANCHORS:
            anchor.append(tag)
            continue
        if anchor:
            yield _anchor(anchor)
        anchor = []


def _anchor(inside: list[Tag]) -> Block:
    what = "a picture or chart"
    if cells := list(_anchored(((tag.name, tag.path, tag.text) for tag in inside), what)):
        return cells[0]
    own = {tag.name: tag for tag in inside if tag.path[-1] in ANCHORS}
    start = next((whole(tag.text) for tag in inside if tag.name == "col" and tag.path[-1] == "from"), None)
    try:
        wide = int(own["ext"].attributes["cx"]) // COLUMN_EMU + 1
        left = start if start is not None else max(int(own["pos"].attributes["x"]), 0) // COLUMN_EMU
    except (KeyError, ValueError):
        raise CannotFill(f"it cannot be told where a picture or chart of the sheet stands: {SAVE}") from None
    return Block(what, 0 if start is None else left, 1, left + wide, LAST_ROW, True)


def _controls(package: Package, part: str) -> Iterator[Block]:
    """Buttons and boxes of the older kind; notes in their closed state lie over nothing."""
    text = package.read(part).decode("utf-8", "replace")
    for kind, body in re.findall(r'<(?:\w+:)?ClientData[^>]*ObjectType="(\w+)"[^>]*>(.*?)</(?:\w+:)?ClientData>', text, re.DOTALL):
        anchor = re.search(r"<(?:\w+:)?Anchor>([^<]+)<", body)
        if kind != "Note" and anchor:
            numbers = [number for number in map(whole, anchor[1].split(",")) if number is not None]
            if len(numbers) == 8:
                yield Block("a control", numbers[0], numbers[2] + 1, numbers[4], numbers[6] + 1, True)


class Reach(NamedTuple):
    """The farthest column (from 0, -1 = none) that a formula reads in the rows asked for, and which formula."""

    column: int
    where: str


def reach(formulas: Iterable[tuple[str, str, str, bool]], sheet: str, first: int, last: int) -> Reach:
    """How far to the right formulas read in rows `first` to `last` of a sheet.

    formulas  (where it stands in words, sheet it stands on, text, shared by a block of cells)
    """
    far = Reach(-1, "")
    for where, own, text, shared in formulas:
        for right in _columns_read(text, own, sheet, first=first, last=last, shared=shared):
            if right > far.column:
                far = Reach(right, where)
    return far


def _columns_read(text: str, own: str, sheet: str, *, first: int, last: int, shared: bool) -> Iterator[int]:
    for match in REFERENCE.finditer(STRINGS.sub('""', text)):
        named = (match[1] or own).strip("'").replace("''", "'")
        if named.casefold() != sheet.casefold() and not (match[1] and ":" in named and "]" not in named):  # over several sheets
            continue
        if match[8]:  # whole rows
            if _rows_meet(match[8], match[9], first, last, shared):
                yield LAST_COLUMN - 1
            continue
        top, bottom = (match[3], match[5] or match[3]) if match[2] else ("$1", f"${LAST_ROW}")
        if _rows_meet(top, bottom, first, last, shared):
            columns = [match[4] or match[2], match[2]] if match[2] else [match[6], match[7]]
            numbers = [_column(name) for name in columns]
            if max(numbers) < LAST_COLUMN:
                yield max(numbers)


def _rows_meet(top: str, bottom: str, first: int, last: int, shared: bool) -> bool:
    """Does the range meet the rows? One formula for a block of cells slides down with them, so that it may."""
    if shared and not (top.startswith("$") and bottom.startswith("$")):
        return True
    numbers = sorted((int(top.strip("$")), int(bottom.strip("$"))))
    return numbers[0] <= last and numbers[1] >= first


def _column(name: str) -> int:
    number = 0
    for mark in name.strip("$"):
        number = number * 26 + ord(mark) - 64
    return number - 1
