"""What the looks of an OpenDocument sheet say: cells struck through, hidden rows and columns, comments.

Runs in the process that reads such a workbook apart: the file is not to be trusted, and the native reader gives the values alone.
Attributes as in OpenDocument 1.3, part 3 (OASIS): table:visibility, style:text-line-through-style, table:number-rows-repeated.
"""

from __future__ import annotations

from io import BytesIO
from xml.etree.ElementTree import Element, iterparse
from zipfile import ZipFile

from msgspec import Struct, field

TABLE, STYLE, TEXT, OFFICE = (f"{{urn:oasis:names:tc:opendocument:xmlns:{part}:1.0}}" for part in ("table", "style", "text", "office"))
LARGEST = 200 << 20  # bytes of a part when inflated
MOST_REPEATED = 1_048_576  # rows of a sheet; what is repeated further is the empty rest of it
STRIKES = ("text-line-through-style", "text-line-through-type")


class Looks(Struct):
    """Of one sheet: rows and columns from 0, as (row, column)."""

    struck: set[tuple[int, int]] = field(default_factory=set)
    left: dict[tuple[int, int], str] = field(default_factory=dict)  # struck in part: the text without the struck words
    comments: dict[tuple[int, int], str] = field(default_factory=dict)
    hidden_rows: list[int] = field(default_factory=list)
    hidden_columns: list[int] = field(default_factory=list)


def looks_of(data: bytes) -> dict[str, Looks]:
    """The looks of each sheet by its name; raises what the archive and the parser raise."""
    struck: dict[str, bool] = {}
    found: dict[str, Looks] = {}
    with ZipFile(BytesIO(data)) as archive:
        for part in ("styles.xml", "content.xml"):
            if part not in archive.namelist() or archive.getinfo(part).file_size > LARGEST:
                continue
            with archive.open(part) as stream:
                for _, element in iterparse(stream):
                    if element.tag == f"{STYLE}style":
                        _learn(element, struck)
                    elif element.tag == f"{TABLE}table":
                        found[element.get(f"{TABLE}name", "")] = _sheet(element, struck)
                        element.clear()
    return found


def _learn(style: Element, struck: dict[str, bool]) -> None:
    """Whether text in a style is struck: as it says itself, else as the style that it follows."""
    said = [value for one in style.iter(f"{STYLE}text-properties") for name in STRIKES if (value := one.get(f"{STYLE}{name}"))]
    own = any(value != "none" for value in said) if said else struck.get(style.get(f"{STYLE}parent-style-name", ""), False)
    struck[style.get(f"{STYLE}name", "")] = own


def _sheet(table: Element, struck: dict[str, bool]) -> Looks:
    looks = Looks()
    defaults: list[tuple[int, str]] = []  # up to which column, exclusive, and the style of a cell that names none
    at = 0
    for column in table.iter(f"{TABLE}table-column"):
        many = _times(column, "columns")
        if _is_hidden(column) and at + many < MOST_REPEATED >> 6:
            looks.hidden_columns += range(at + 1, at + many + 1)
        at += many
        defaults.append((at, column.get(f"{TABLE}default-cell-style-name", "")))
    row_at = 0
    for row in table.iter(f"{TABLE}table-row"):
        many = _times(row, "rows")
        filled = _row(row, row_at, looks, struck, defaults)
        if filled and _is_hidden(row):
            looks.hidden_rows += range(row_at + 1, row_at + many + 1)
        row_at += many
    return looks


def _row(row: Element, row_at: int, looks: Looks, struck: dict[str, bool], defaults: list[tuple[int, str]]) -> bool:
    """Notes what the cells of a row look like; does it hold anything? Of a row that is repeated the first is looked at."""
    at, filled = 0, False
    own = row.get(f"{TABLE}default-cell-style-name", "")
    for cell in row:
        if cell.tag not in (f"{TABLE}table-cell", f"{TABLE}covered-table-cell"):
            continue
        many = _times(cell, "columns")
        if (note := cell.find(f"{OFFICE}annotation")) is not None:
            looks.comments[row_at, at] = " ".join("".join(one.itertext()) for one in note.iter(f"{TEXT}p"))
        paragraphs = cell.findall(f"{TEXT}p")
        if paragraphs and any("".join(one.itertext()).strip() for one in paragraphs):
            filled = True
            style = cell.get(f"{TABLE}style-name", "") or own or next((name for end, name in defaults if at < end), "")
            whole = struck.get(style, False)
            pieces = [piece for one in paragraphs for piece in _pieces(one, whole, struck) if piece[0].strip()]
            if all(out for _, out in pieces):
                looks.struck |= {(row_at, one) for one in range(at, at + min(many, 1000))}
            elif any(out for _, out in pieces):
                looks.left[row_at, at] = "".join(text for text, out in pieces if not out).strip()
        at += many
    return filled


def _pieces(one: Element, out: bool, struck: dict[str, bool]) -> list[tuple[str, bool]]:
    """The text of a paragraph in pieces, and whether each is struck."""
    out = struck.get(one.get(f"{TEXT}style-name", ""), out) if one.tag == f"{TEXT}span" else out
    pieces = [(one.text or "", out)]
    for inner in one:
        pieces += [*_pieces(inner, out, struck), (inner.tail or "", out)]
    return pieces


def _is_hidden(one: Element) -> bool:
    return one.get(f"{TABLE}visibility", "visible") != "visible"


def _times(one: Element, what: str) -> int:
    return max(1, min(int(one.get(f"{TABLE}number-{what}-repeated", "1")), MOST_REPEATED))
