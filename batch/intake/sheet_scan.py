"""Looks through the XML of one worksheet for what the quick reader would hide or stumble over.

One pass over the bytes as they inflate: cells far out, error cells, formulas whose result was never stored, and numbers
whose format shows a unit. No tree is built, and a sheet that has none of these costs little more than inflating it.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from functools import lru_cache
from html import unescape
from typing import NamedTuple

FAR = re.compile(rb"""\br\s*=\s*["']([A-Z]{2,3})(\d{1,7})["']|\br\s*=\s*["']([A-Z])(\d{6,7})["']""")
FAR_AS_WRITTEN = re.compile(rb' r="(?:([A-Z]{2,3})(\d{1,7})|([A-Z])(\d{6,7}))"')  # the same, as all usual writers put it: much quicker
NEAR_ROWS, NEAR_COLUMNS = 99_999, 26  # what a sheet without far cells cannot exceed
ADDRESS = re.compile(rb"""\br\s*=\s*["']([A-Z]{1,3})(\d{1,7})["']""")
TYPE = re.compile(rb"""\bt\s*=\s*["']([A-Za-z]+)["']""")
STYLE = re.compile(rb"""\bs\s*=\s*["'](\d+)["']""")
ROOT = re.compile(rb"<(\w+:)?worksheet\b")
DECLARATIONS = (b"<!DOCTYPE", b"<!ENTITY")
BUFFER = 4 << 20
LONGEST_ROW = 64 << 20
CALCULATED_TYPES = (b"str", b"b", b"s", b"inlineStr")  # an empty text is a result too


@dataclass(slots=True)
class SheetScan:
    """What was seen; addresses are (row, column) from 0.

    rows, columns  no cell lies beyond them; exact only where a cell lies beyond row 99,999 or column Z
    """

    rows: int = NEAR_ROWS
    columns: int = NEAR_COLUMNS
    errors: dict[tuple[int, int], str] = field(default_factory=dict)
    uncalculated: dict[tuple[int, int], str] = field(default_factory=dict)
    units: dict[tuple[int, int], str] = field(default_factory=dict)
    utf16: bool = False
    too_long: bool = False
    doctype: bool = False


class _Patterns(NamedTuple):
    row_end: bytes
    formula_mark: bytes
    formula: re.Pattern[bytes]
    head: re.Pattern[bytes]
    error: re.Pattern[bytes]


@lru_cache(maxsize=16)
def _patterns(prefix: bytes) -> _Patterns:
    """Patterns for a sheet whose elements are called <c>, or <x:c> where its writer used a prefix."""
    p = re.escape(prefix)
    return _Patterns(
        b"</" + prefix + b"row>",
        b"<" + prefix + b"f",
        re.compile(rb"<%bc\b([^>]*)>\s*<%bf\b[^>]*?(?:/>|>([^<]*)</%bf>)\s*(?:<%bv\b[^>]*?(?:/>|>([^<]*)</%bv>))?" % (p, p, p, p, p)),
        re.compile(rb"<%bc\b([^>]*)>(?:\s*<%bv\b[^>]*>([^<]*))?" % (p, p)),
        re.compile(rb"""<%bc\b([^>]*\bt\s*=\s*["']e["'][^>]*)>(.*?)</%bc>""" % (p, p), re.DOTALL),
    )


def column_number(letters: bytes | str) -> int:
    """0 for A."""
    number = 0
    for mark in letters if isinstance(letters, bytes) else letters.encode("ascii"):
        number = number * 26 + mark - 64
    return number - 1


def scan(chunks: Iterable[bytes], unit_styles: Mapping[bytes, str]) -> SheetScan:
    """Looks through a sheet part; `unit_styles` are the style numbers that show a unit, with that unit."""
    found = SheetScan()
    waiting = b""
    patterns = _patterns(b"")
    first = True
    for chunk in chunks:
        if first:
            first = False
            found.utf16 = b"\0" in chunk[:200]
            root = ROOT.search(chunk[:8192])
            patterns = _patterns(root[1] or b"" if root else b"")
        waiting += chunk
        if len(waiting) < BUFFER:
            continue
        cut = waiting.rfind(patterns.row_end)
        if cut >= 0:
            cut += len(patterns.row_end)
            _look(waiting[:cut], found, patterns, unit_styles)
            waiting = waiting[cut:]
        elif len(waiting) > LONGEST_ROW:
            found.too_long = True
            waiting = b""
    _look(waiting, found, patterns, unit_styles)
    return found


def _look(data: bytes, found: SheetScan, patterns: _Patterns, unit_styles: Mapping[bytes, str]) -> None:
    if any(declaration in data for declaration in DECLARATIONS):
        found.doctype = True
    far_cells = FAR if b" r='" in data or b"r =" in data or b"r= " in data or b'\nr=' in data or b"\tr=" in data else FAR_AS_WRITTEN
    for far, far_row, near, near_row in far_cells.findall(data):
        found.columns = max(found.columns, column_number(far or near) + 1)
        found.rows = max(found.rows, int(far_row or near_row))
    if b't="e"' in data or b"t='e'" in data or b't = "e"' in data:
        for match in patterns.error.finditer(data):
            if at := _address(match[1]):
                found.errors[at] = _error_text(match[2])
    if patterns.formula_mark in data:
        _look_at_formulas(data, found, patterns)
    if unit_styles:
        _look_at_units(data, found, patterns, unit_styles)


def _address(head: bytes) -> tuple[int, int] | None:
    match = ADDRESS.search(head)
    return (int(match[2]) - 1, column_number(match[1])) if match else None


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
