"""Looks through the XML of one worksheet for what the quick reader would hide or stumble over.

One pass over the bytes as they inflate: cells far out, error cells, formulas whose result was never stored, numbers
whose format shows a unit, hidden rows and columns, and cells that are struck through. No tree is built, and a sheet that
has none of these costs little more than inflating it.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from functools import lru_cache
from html import unescape
from typing import NamedTuple

from msgspec import Struct, field

from batch.ooxml.addresses import LAST_COLUMN, LAST_ROW, column_number
from batch.ooxml.guard import DOCTYPES
from batch.ooxml.struck_texts import MARK as STRIKE
from batch.ooxml.struck_texts import left_of

NEAR_ROWS, NEAR_COLUMNS = 99_999, 26  # what a sheet cannot exceed whose every address is a letter and up to five figures
FAR = re.compile(rb"""\sr\s*=\s*["'](?![A-Z]?\d{1,5}["'])([^"']*)["']""")
FAR_AS_WRITTEN = re.compile(rb' r="(?![A-Z]?\d{1,5}")([^"]*)"')  # the same, as all usual writers put it: much quicker
EVERY = re.compile(rb"""\sr\s*=\s*["']([A-Z]{1,3}\d{1,7})["']""")
EVERY_AS_WRITTEN = re.compile(rb' r="([A-Z]{1,3}\d{1,7})"')
PLACE = re.compile(rb"([A-Za-z]{0,3})(\d{1,7})\Z")
UNUSUAL = (b"='", b" =", b"= ", b"\t", b"\r")  # a writer that may put an address in a way of its own
UNUSUAL_LINES = (b"\nr", b"\n=", b"=\n")
ADDRESS = re.compile(rb"""\br\s*=\s*["']([A-Z]{1,3})(\d{1,7})["']""")
TYPE = re.compile(rb"""\bt\s*=\s*["']([A-Za-z]+)["']""")
HIDDEN = re.compile(rb"""\bhidden\s*=\s*["'](?:1|true)["']""")
ROW_NUMBER = re.compile(rb"""\br\s*=\s*["'](\d{1,7})["']""")
STYLE = re.compile(rb"""\bs\s*=\s*["'](\d+)["']""")
ROOT = re.compile(rb"<(\w+:)?worksheet\b")
COLUMN_RANGE = re.compile(rb"""\b(min|max)\s*=\s*["'](\d{1,7})["']""")
BUFFER = 4 << 20
NO_TEXTS: Mapping[int, str] = {}
MOST_MERGED = 100_000
LONGEST_ROW = 64 << 20
CALCULATED_TYPES = (b"str", b"b", b"s", b"inlineStr")  # an empty text is a result too


class SheetScan(Struct):
    """What was seen; addresses are (row, column) from 0.

    merged         merged cells: first row, first column, last row, last column, from 0
    hidden_rows    their numbers as people count them, from 1
    hidden_columns ranges of columns that are not shown: first and last, from 0
    struck         cells with a font that is struck through, or with a text that is, all of it
    left           cells of which some words are struck: what is left of the text without them
    rows, columns  no cell lies beyond them; exact only where a cell lies beyond row 99,999 or column Z
    twice          an address that two cells have, or the row after which the rows go back
    strange        an address that is none, and that a reader in native code may not survive
    """

    rows: int = NEAR_ROWS
    columns: int = NEAR_COLUMNS
    errors: dict[tuple[int, int], str] = field(default_factory=dict)
    uncalculated: dict[tuple[int, int], str] = field(default_factory=dict)
    units: dict[tuple[int, int], str] = field(default_factory=dict)
    hidden_rows: list[int] = field(default_factory=list)
    merged: list[tuple[int, int, int, int]] = field(default_factory=list)
    hidden_columns: list[tuple[int, int]] = field(default_factory=list)
    struck: set[tuple[int, int]] = field(default_factory=set)
    left: dict[tuple[int, int], str] = field(default_factory=dict)
    strange: str = ""
    twice: str = ""
    last_row: int = 0
    size: int = 0
    utf16: bool = False
    too_long: bool = False
    doctype: bool = False


class _Patterns(NamedTuple):
    row_end: bytes
    formula_mark: bytes
    row: re.Pattern[bytes]
    formula: re.Pattern[bytes]
    head: re.Pattern[bytes]
    error: re.Pattern[bytes]
    merged: re.Pattern[bytes]
    column: re.Pattern[bytes]
    shared: re.Pattern[bytes]
    inline: re.Pattern[bytes]


@lru_cache(maxsize=16)
def _patterns(prefix: bytes) -> _Patterns:
    """Patterns for a sheet whose elements are called <c>, or <x:c> where its writer used a prefix."""
    p = re.escape(prefix)
    return _Patterns(
        b"</" + prefix + b"row>",
        b"<" + prefix + b"f",
        re.compile(rb"<%brow\b([^<>]*)>" % p),
        re.compile(rb"<%bc\b([^<>]*)>\s*<%bf\b[^<>]*?(?:/>|>([^<]*)</%bf>)\s*(?:<%bv\b[^<>]*?(?:/>|>([^<]*)</%bv>))?" % (p, p, p, p, p)),
        re.compile(rb"<%bc\b([^<>]*)>" % p),
        re.compile(rb"""<%bc\b([^<>]*\bt\s*=\s*["']e["'][^<>]*)(?<!/)>([^<]*(?:<(?!/?%bc\b)[^<]*){0,8})""" % (p, p)),
        re.compile(rb"""<%bmergeCell\s[^<>]*?\bref\s*=\s*["']([A-Z]{1,3})(\d{1,7}):([A-Z]{1,3})(\d{1,7})["']""" % p),
        re.compile(rb"<%bcol\b([^<>]*)>" % p),
        re.compile(rb"""<%bc\b([^<>]*\bt\s*=\s*["']s["'][^<>]*)>\s*<%bv\b[^<>]*>\s*(\d{1,9})\s*<""" % (p, p)),
        re.compile(rb"<%bc\b([^<>]*)>\s*<%bis\b[^<>]*>(.*?)</%bis>" % (p, p, p), re.DOTALL),
    )


def scan(
    chunks: Iterable[bytes],
    unit_styles: Mapping[bytes, str],
    struck_styles: frozenset[bytes] = frozenset(),
    struck_texts: Mapping[int, str] = NO_TEXTS,
) -> SheetScan:
    """Looks through a sheet part.

    unit_styles    style numbers that show a unit, with that unit
    struck_styles  style numbers whose font is struck through
    struck_texts   shared texts with struck words, by number, with what is left of them
    """
    found = SheetScan()
    waiting = b""
    patterns = _patterns(b"")
    for chunk in chunks:
        if not found.size:
            found.utf16 = b"\0" in chunk[:200]
            patterns = _patterns(_prefix(chunk))
        found.size += len(chunk)
        waiting += chunk
        if len(waiting) < BUFFER:
            continue
        cut = waiting.rfind(patterns.row_end)
        if cut >= 0:
            cut += len(patterns.row_end)
            _look(waiting[:cut], found, patterns, unit_styles)
            _look_for_strikes(waiting[:cut], found, patterns, struck_styles, struck_texts)
            waiting = waiting[cut:]
        elif len(waiting) > LONGEST_ROW:
            found.too_long = True
            waiting = b""
    _look(waiting, found, patterns, unit_styles)
    _look_for_strikes(waiting, found, patterns, struck_styles, struck_texts)
    return found


def _prefix(start: bytes) -> bytes:
    root = ROOT.search(start[:8192])
    return root[1] or b"" if root else b""


def filled(chunks: Iterable[bytes]) -> tuple[list[int], list[int]] | None:
    """The numbers (from 1) of the rows and of the columns that hold anything, sorted: an exact and slower look.

    None where a cell has no address of its own, so that only a reader who counts can tell.
    """
    rows: set[int] = set()
    columns: set[int] = set()
    waiting, pattern = b"", None
    for chunk in chunks:
        if pattern is None:
            prefix = re.escape(_prefix(chunk))
            pattern = re.compile(rb"<%bc\b([^<>]*)(?<!/)>\s*<(?!/)" % prefix)
        waiting += chunk
        cut = waiting.rfind(b"<")
        for match in pattern.finditer(waiting):
            at = _address(match[1])
            if at is None:
                return None
            rows.add(at[0] + 1)
            columns.add(at[1] + 1)
        waiting = waiting[max(waiting.rfind(b"<", 0, max(cut, 0)), 0) :] if cut > 0 else waiting
    return sorted(rows), sorted(columns)


def _look(data: bytes, found: SheetScan, patterns: _Patterns, unit_styles: Mapping[bytes, str]) -> None:
    if (b"<!" in data or found.utf16) and any(mark in data for mark in DOCTYPES):
        found.doctype = True
    unusual = any(mark in data for mark in UNUSUAL) or (b"\n" in data and any(mark in data for mark in UNUSUAL_LINES))
    far = FAR if unusual else FAR_AS_WRITTEN
    _look_for_repeats((EVERY if unusual else EVERY_AS_WRITTEN).findall(data), found)
    for text in set(far.findall(data)):
        place = PLACE.match(text)
        row, column = (int(place[2]), column_number(place[1].upper()) + 1) if place else (0, 0)
        if not 1 <= row <= LAST_ROW or column > LAST_COLUMN:
            found.strange = found.strange or "".join(map(_printable, text[:30])) or "none"
        found.rows, found.columns = max(found.rows, row), max(found.columns, column)
    if b't="e"' in data or unusual:
        for match in patterns.error.finditer(data):
            if at := _address(match[1]):
                found.errors[at] = _error_text(match[2])
    if b"hidden" in data:
        heads = [match[1] for match in patterns.row.finditer(data) if HIDDEN.search(match[1])]
        found.hidden_rows += [int(number[1]) for head in heads if (number := ROW_NUMBER.search(head))]
        for match in patterns.column.finditer(data):
            ends = {name: int(number) for name, number in COLUMN_RANGE.findall(match[1])} if HIDDEN.search(match[1]) else {}
            if 1 <= ends.get(b"min", 0) <= ends.get(b"max", 0):
                found.hidden_columns.append((ends[b"min"] - 1, ends[b"max"] - 1))
    if b"mergeCell" in data and len(found.merged) < MOST_MERGED:
        for first, top, last, bottom in patterns.merged.findall(data):
            found.merged.append((int(top) - 1, column_number(first), int(bottom) - 1, column_number(last)))
    if patterns.formula_mark in data:
        _look_at_formulas(data, found, patterns)
    if unit_styles:
        _look_at_units(data, found, patterns, unit_styles)


def _look_for_repeats(addresses: list[bytes], found: SheetScan) -> None:
    """Two cells of one address can be read two ways: each address once in a stretch, and the rows of the next one further down."""
    if not addresses or found.twice:
        return
    if len(set(addresses)) < len(addresses):
        seen: set[bytes] = set()
        for one in addresses:
            if one in seen:
                found.twice = one.decode("ascii")
                break
            seen.add(one)
    first, last = _row_of(addresses[0]), _row_of(addresses[-1])
    if first < found.last_row:
        found.twice = found.twice or f"{addresses[0].decode('ascii')} after row {found.last_row}"
    found.last_row = last


def _row_of(address: bytes) -> int:
    place = PLACE.match(address)
    return int(place[2]) if place else 0


def _address(head: bytes) -> tuple[int, int] | None:
    match = ADDRESS.search(head)
    return (int(match[2]) - 1, column_number(match[1])) if match else None


def _printable(byte: int) -> str:
    """A byte as it can stand in a line of a message."""
    return chr(byte) if 32 <= byte < 127 else "?"


def _error_text(body: bytes) -> str:
    """The error as stored: "#DIV/0!"."""
    last = re.findall(rb">(#[^<]{1,30})<", body)
    return unescape(last[-1].decode("utf-8", "replace")) if last else "#ERROR"


def _look_at_formulas(data: bytes, found: SheetScan, patterns: _Patterns) -> None:
    for match in patterns.formula.finditer(data):
        if match[3] and not match[3].isspace():
            continue
        kind = TYPE.search(match[1])
        if kind and kind[1] in CALCULATED_TYPES:
            continue
        at = _address(match[1])
        if at and at not in found.errors:
            found.uncalculated[at] = "=" + unescape((match[2] or b"...").decode("utf-8", "replace"))


def _look_at_units(data: bytes, found: SheetScan, patterns: _Patterns, unit_styles: Mapping[bytes, str]) -> None:
    for match in patterns.head.finditer(data):
        style = STYLE.search(match[1])
        unit = unit_styles.get(style[1]) if style else None
        if not unit:
            continue
        kind = TYPE.search(match[1])
        at = _address(match[1])
        if at and (kind is None or kind[1] == b"n"):
            found.units[at] = unit


def _look_for_strikes(
    data: bytes, found: SheetScan, patterns: _Patterns, styles: frozenset[bytes], texts: Mapping[int, str]
) -> None:
    if styles:
        for match in patterns.head.finditer(data):
            style = STYLE.search(match[1])
            if style and style[1] in styles and not match[1].endswith(b"/") and (at := _address(match[1])):
                found.struck.add(at)
    if texts:
        for match in patterns.shared.finditer(data):
            left = texts.get(int(match[2]))
            if left is not None and (at := _address(match[1])):
                _note_left(found, at, left)
    if STRIKE in data:
        for match in patterns.inline.finditer(data):
            left = left_of(match[2])
            if left is not None and (at := _address(match[1])):
                _note_left(found, at, left)


def _note_left(found: SheetScan, at: tuple[int, int], left: str) -> None:
    if left:
        found.left[at] = left
    else:
        found.struck.add(at)
