"""Puts cells into the XML of a sheet: between the bytes that stand there, which stay as they are."""

from __future__ import annotations

import re
from collections.abc import Mapping

from batch.errors import CannotFill
from batch.filling.beside import area
from batch.filling.pieces import Value, cell, words
from batch.ooxml.addresses import letters
from batch.ooxml.sheet_xml import SAVE, TAG, RowSeen, Survey, Tag, whole

SPANS = re.compile(rb"""(\sspans\s*=\s*["'])[\d:\s]*(["'])""")
REF = re.compile(rb"""(\sref\s*=\s*["'])[^"']*(["'])""")
HIDING = frozenset({"hidden", "collapsed", "outlineLevel", "bestFit", "width", "customWidth", "min", "max"})
WIDEST = 255  # digits: the widest column that common programs take

Edit = tuple[int, int, bytes]  # from, to, what stands there instead
Cells = Mapping[int, Mapping[int, tuple[str, Value]]]  # row -> column -> (style, value)


def filled_in(data: bytes, seen: Survey, rows: Mapping[int, RowSeen], cells: Cells, widths: Mapping[int, float]) -> bytes:
    """The sheet part with `cells` put in and their columns made at least as wide as `widths` (column -> digits).

    seen, rows  of this part: `survey`, and `rows_of` over all rows of `cells`

    Raises:
        CannotFill: a cell that holds something would be written over.
    """
    edits: list[Edit] = []
    for number in sorted(cells):
        if number in rows:
            edits += _in_row(data, seen.prefix, rows[number], cells[number])
        else:
            edits.append(_new_row(seen, number, cells[number]))
    edits += _dimension(data, seen, cells)
    edits += _columns(data, seen, widths)
    out: list[bytes] = []
    at = 0
    for start, end, piece in sorted(edits, key=lambda edit: edit[:2]):  # stable: what goes to one place keeps its order
        if start < at:
            raise CannotFill(f"two changes of the sheet meet: {SAVE}")
        out += (data[at:start], piece)
        at = end
    return b"".join((*out, data[at:]))


def _in_row(data: bytes, prefix: str, row: RowSeen, cells: Mapping[int, tuple[str, Value]]) -> list[Edit]:
    edits: list[Edit] = []
    tag = _tag_at(data, row.start)
    start_tag_end = row.start + len(tag)
    if row.spans:
        numbers = [int(number) for number in re.findall(r"\d+", row.spans)]
        low, high = min([*numbers, min(cells) + 1]), max([*numbers, max(cells) + 1])
        new = SPANS.sub(rb"\g<1>%d:%d\g<2>" % (low, high), tag, count=1)
        if new != tag:
            edits.append((row.start, start_tag_end, new))
    standing = {one.column: one for one in row.cells}
    rest = sorted((one for one in row.cells if one.column > min(cells)), key=lambda one: one.column)
    closing = b""
    if row.end < 0:  # <row/>: it has to be opened
        new_tag = edits.pop()[2] if edits else tag
        edits.append((row.start, start_tag_end, new_tag[: new_tag.rindex(b"/")] + b">"))
        closing = f"</{prefix}:row>".encode() if prefix else b"</row>"
    pieces = b""
    end = start_tag_end if row.end < 0 else row.end
    for column in sorted(cells):
        style, value = cells[column]
        there = standing.get(column)
        if there is not None and there.filled:
            raise CannotFill(f"cell {letters(column)}{row.number} holds something: move it away from the right of the list")
        piece = cell(prefix, f"{letters(column)}{row.number}", there.style if there is not None else style, value)
        if there is not None:
            edits.append((there.start, there.end, piece))
            continue
        after = next((one.start for one in rest if one.column > column), None)
        if after is None:
            pieces += piece
        else:
            edits.append((after, after, piece))
    if pieces or closing:
        edits.append((end, end, pieces + closing))
    return edits


def _new_row(seen: Survey, number: int, cells: Mapping[int, tuple[str, Value]]) -> Edit:
    """A row below all that hold anything."""
    if number <= seen.last_row:
        raise CannotFill(f"row {number} of the list is not in the sheet: {SAVE}")
    p = f"{seen.prefix}:" if seen.prefix else ""
    inside = b"".join(cell(seen.prefix, f"{letters(column)}{number}", *cells[column]) for column in sorted(cells))
    at = next((start for row, start in seen.tail if row > number), seen.data_end)
    return at, at, f'<{p}row r="{number}">'.encode() + inside + f"</{p}row>".encode()


def _dimension(data: bytes, seen: Survey, cells: Cells) -> list[Edit]:
    """The used range, made to hold the new cells."""
    tag = next((tag for tag in seen.tags if tag.name == "dimension" and len(tag.path) == 1), None)
    if tag is None or not tag.attributes.get("ref"):
        return []
    was = left, top, right, bottom = area(tag.attributes["ref"])
    left, right = min([left, *(min(row) for row in cells.values())]), max([right, *(max(row) for row in cells.values())])
    top, bottom = min([top, *cells]), max([bottom, *cells])
    if (left, top, right, bottom) == was:
        return []
    old = _tag_at(data, tag.start)
    return [(tag.start, tag.start + len(old), REF.sub(rb"\g<1>%b\g<2>" % f"{letters(left)}{top}:{letters(right)}{bottom}".encode(), old))]


def _columns(data: bytes, seen: Survey, widths: Mapping[int, float]) -> list[Edit]:
    """Widths for the new columns only: a setting that covers other columns too is split, and theirs stays as it is."""
    p = f"{seen.prefix}:" if seen.prefix else ""
    standing = [tag for tag in seen.tags if tag.name == "col" and tag.path[-1:] == ("cols",)]
    edits: list[Edit] = []
    bare = set(widths)
    for tag in standing:
        low, high = _span(tag)
        ours = sorted(column for column in widths if low <= column <= high)
        bare -= set(ours)
        if not any(_too_narrow(tag, widths[column]) for column in ours):
            continue
        old = _tag_at(data, tag.start)
        if not old.endswith(b"/>"):
            raise CannotFill(f"the XML of the sheet is written in an uncommon way: {SAVE}")
        pieces, at = [], low
        for column in ours:
            if at < column:
                pieces.append(_spanning(old, at, column - 1))
            pieces.append(_wide(p, tag, column, widths[column]) if _too_narrow(tag, widths[column]) else _spanning(old, column, column))
            at = column + 1
        if at <= high:
            pieces.append(_spanning(old, at, high))
        edits.append((tag.start, tag.start + len(old), b"".join(pieces)))
    if not bare:
        return edits
    for column in sorted(bare):
        piece = f'<{p}col min="{column + 1}" max="{column + 1}" width="{min(widths[column], WIDEST):g}" customWidth="1"/>'.encode()
        after = next((tag.start for tag in standing if _span(tag)[0] > column), None)
        edits.append((after, after, piece) if after is not None else (-1, -1, piece))
    last = [piece for start, _, piece in edits if start < 0]
    edits = [edit for edit in edits if edit[0] >= 0]
    if last:
        edits.append(_after_the_columns(data, seen, standing, p, b"".join(last)))
    return edits


def _after_the_columns(data: bytes, seen: Survey, standing: list[Tag], p: str, piece: bytes) -> Edit:
    if not standing:
        return seen.data_start, seen.data_start, f"<{p}cols>".encode() + piece + f"</{p}cols>".encode()
    at = data.index(b"</", standing[-1].start)  # a <col/> holds nothing, so the next end tag is its own or that of <cols>
    own_end = f"</{p}col>".encode()
    if data.startswith(own_end, at):
        at += len(own_end)
    return at, at, piece


def _span(tag: Tag) -> tuple[int, int]:
    """First and last column of a setting, from 0."""
    low, high = whole(tag.attributes.get("min")), whole(tag.attributes.get("max"))
    if low is None or high is None or not 1 <= low <= high:
        raise CannotFill(f"the widths of the sheet's columns cannot be read: {SAVE}")
    return low - 1, high - 1


def _too_narrow(tag: Tag, width: float) -> bool:
    try:
        return tag.attributes.get("hidden") in ("1", "true") or float(tag.attributes.get("width", "0")) < width
    except ValueError:
        return True


def _spanning(old: bytes, low: int, high: int) -> bytes:
    """The setting as it was, for the columns `low` to `high` only."""
    new = re.sub(rb"""(\smin\s*=\s*["'])\d+""", rb"\g<1>%d" % (low + 1), old, count=1)
    return re.sub(rb"""(\smax\s*=\s*["'])\d+""", rb"\g<1>%d" % (high + 1), new, count=1)


def _wide(p: str, tag: Tag, column: int, width: float) -> bytes:
    """The setting for one column, wide enough and to be seen."""
    kept = "".join(f' {name}="{words(value)}"' for name, value in tag.attributes.items() if name not in HIDING and ":" not in name)
    return f'<{p}col min="{column + 1}" max="{column + 1}" width="{min(width, WIDEST):g}" customWidth="1"{kept}/>'.encode()


def _tag_at(data: bytes, start: int) -> bytes:
    found = TAG.match(data, start)
    if not found:
        raise CannotFill(f"the XML of the sheet is written in an uncommon way: {SAVE}")
    return found[0]
