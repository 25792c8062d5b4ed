"""Where things stand in the XML of a worksheet, to the byte: so that cells can be put in and everything else left as it is."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Container
from typing import NamedTuple
from xml.parsers import expat

from msgspec import Struct, field

from batch.errors import CannotFill
from batch.ooxml.addresses import LAST_COLUMN, LAST_ROW, column_number, letters

TAG = re.compile(rb"""<[^\s/>]+(?:\s+[^\s=/>]+\s*=\s*(?:"[^"]*"|'[^']*'))*\s*/?>""")
ADDRESS = re.compile(r"([A-Z]{1,3})([1-9][0-9]{0,6})\Z")
TEXT_OF = frozenset({"sqref", "f", "col", "row"})  # elements outside the cells whose text says where something stands
SAVE = "open it in a spreadsheet program, save it as .xlsx, and fill that"


class Tag(NamedTuple):
    """A start tag outside the cells. `path` holds the names of the elements around it; `text` what stands in it."""

    name: str
    attributes: dict[str, str]
    start: int
    path: tuple[str, ...]
    text: str = ""


class CellSeen(NamedTuple):
    """A cell as it stands. `column` counts from 0; `start` and `end` are its bytes; `value` is as stored, not looked up."""

    column: int
    start: int
    end: int
    style: str
    type: str
    value: str | None
    filled: bool


class RowSeen(Struct):
    """A row: where its start tag stands, and where its end tag does (-1 = the start tag is its end tag too)."""

    number: int
    start: int
    end: int
    spans: str
    cells: list[CellSeen]


class Survey(Struct):
    """What a look over the whole sheet tells. Columns count from 0, rows from 1."""

    prefix: str = ""
    tags: list[Tag] = field(default_factory=list)
    data_start: int = -1  # of the start tag of the cells' element
    data_end: int = -1  # of its end tag
    last_row: int = 0  # the last that holds anything
    tail: list[tuple[int, int]] = field(default_factory=list)  # (number, where it starts) of the empty rows below that one
    filled: dict[int, str] = field(default_factory=dict)  # column -> first address with something in it, within the rows asked for
    looks: Counter[tuple[int, str]] = field(default_factory=Counter)  # (column, style) of cells that hold something, within those rows
    blanks: dict[int, set[str]] = field(default_factory=dict)  # column -> styles of its empty cells, within those rows
    formulas: list[tuple[str, str, bool]] = field(default_factory=list)  # (address, text, shared by a block of cells)


def whole(text: str | None) -> int | None:
    """The number that plain figures spell; None where the text is anything else, or too long to be of use."""
    text = (text or "").strip()
    return int(text) if text.isascii() and text.isdigit() and len(text) < 16 else None


def column_of(address: str) -> int:
    """0 for "A1".

    Raises:
        CannotFill: no address.
    """
    return place_of(address)[0]


def place_of(address: str) -> tuple[int, int]:
    """(column from 0, row from 1) of an address.

    Raises:
        CannotFill: no address, or one beyond the sheet.
    """
    match = ADDRESS.match(address)
    if not match:
        raise CannotFill(f'a cell has the address "{address[:30]}": {SAVE}')
    column, row = column_number(match[1]) + 1, int(match[2])
    if column > LAST_COLUMN or row > LAST_ROW:
        raise CannotFill(f"a cell has the address {address}, which is beyond the sheet: {SAVE}")
    return column - 1, row


def survey(data: bytes, first: int, last: int) -> Survey:
    """One pass over a sheet part, for what stands in rows `first` to `last` and for everything around the cells.

    Raises:
        CannotFill: XML that cannot be edited in place: not UTF-8 or the like, rows or cells out of order.
    """
    seen = Survey()

    def cell(row: int, column: int, attributes: dict[str, str], filled: bool) -> None:
        if filled and row > seen.last_row:
            seen.last_row = row
            seen.tail.clear()
        if first <= row <= last:
            if filled:
                if column not in seen.filled:
                    seen.filled[column] = f"{letters(column)}{row}"
                seen.looks[column, attributes.get("s", "0")] += 1
            else:
                seen.blanks.setdefault(column, set()).add(attributes.get("s", "0"))

    _Walk(data, seen, cell).run()
    return seen


def rows_of(data: bytes, wanted: Container[int], columns: Container[int], start: int) -> dict[int, RowSeen]:
    """A second pass: the rows `wanted`, each with its cells in `columns` and all from column `start` on."""
    found: dict[int, RowSeen] = {}

    def keep(column: int) -> bool:
        return column >= start or column in columns

    _Walk(data, Survey(), None, wanted, keep, found).run()
    return found


def check_well_formed(data: bytes) -> None:
    """
    Raises:
        CannotFill: it is not.
    """
    try:
        expat.ParserCreate().Parse(data, True)
    except expat.ExpatError as fault:
        raise CannotFill(f"the sheet would no longer be well-formed ({fault}): {SAVE}") from None


def tags(data: bytes) -> list[Tag]:
    """Every start tag of a small part, with the text of those that say where something stands.

    Raises:
        CannotFill: not well-formed.
    """
    found: list[Tag] = []
    path: list[str] = []
    parser = expat.ParserCreate()
    parser.buffer_text = True

    def start(tag: str, attributes: dict[str, str]) -> None:
        name = tag.rpartition(":")[2]
        found.append(Tag(name, attributes, parser.CurrentByteIndex, tuple(path)))
        path.append(name)

    def text(words: str) -> None:
        if path[-1] in TEXT_OF and found[-1].name == path[-1]:
            found[-1] = found[-1]._replace(text=found[-1].text + words)

    parser.StartElementHandler, parser.EndElementHandler, parser.CharacterDataHandler = start, lambda tag: path.pop(), text
    try:
        parser.Parse(data, True)
    except expat.ExpatError as fault:
        raise CannotFill(f"a part of the workbook is not well-formed ({fault}): {SAVE}") from None
    return found


class _Walk:
    """The handlers of the XML parser."""

    def __init__(
        self,
        data: bytes,
        seen: Survey,
        tell: Callable[[int, int, dict[str, str], bool], None] | None,
        wanted: Container[int] = (),
        keep: Callable[[int], bool] | None = None,
        found: dict[int, RowSeen] | None = None,
    ) -> None:
        self.data, self.seen, self.tell, self.wanted, self.keep, self.found = data, seen, tell, wanted, keep, found
        self.path: list[str] = []
        self.row, self.column, self.depth = 0, -1, 0
        self.in_data = False
        self.now: RowSeen | None = None  # the row that is being kept
        self.cell: tuple[dict[str, str], int, bool] | None = None  # attributes, start, kept
        self.has_child = False
        self.value: str | None = None
        self.formula: bool | None = None  # whether it is shared; None = there is none
        self.catch: list[str] | None = None
        self.parser = expat.ParserCreate()
        self.parser.buffer_text = True
        self.parser.StartElementHandler = self.start
        self.parser.EndElementHandler = self.end
        self.parser.CharacterDataHandler = self.text

    def run(self) -> None:
        if b"\0" in self.data[:200]:
            raise CannotFill(f"the sheet is written in UTF-16: {SAVE}")
        try:
            self.parser.Parse(self.data, True)
        except expat.ExpatError as fault:
            raise CannotFill(f"the sheet is not well-formed ({fault}): {SAVE}") from None
        if self.seen.data_start < 0 or self.seen.data_end < 0:
            raise CannotFill(f"the sheet has no cells: {SAVE}")

    def start(self, tag: str, attributes: dict[str, str]) -> None:
        name = tag.rpartition(":")[2]
        if self.in_data:
            self.depth += 1
            if self.depth == 1:
                if name != "row":
                    raise CannotFill(f"something that is no row ({name[:30]}) stands among the rows: {SAVE}")
                self.begin_row(attributes)
            elif self.depth == 2 and name == "c":
                self.begin_cell(attributes)
            elif self.depth >= 3 and self.cell is not None:
                self.begin_inside(name, attributes)
            return
        if not self.path:
            self.seen.prefix = tag.rpartition(":")[0]
        elif name == "sheetData" and len(self.path) == 1:
            self.in_data, self.seen.data_start = True, self.parser.CurrentByteIndex
        self.seen.tags.append(Tag(name, attributes, self.parser.CurrentByteIndex, tuple(self.path)))
        self.path.append(name)
        self.catch = [] if name in TEXT_OF else None

    def end(self, tag: str) -> None:
        if self.in_data:
            if self.depth == 0:
                self.in_data, self.seen.data_end = False, self.parser.CurrentByteIndex
                self.path.pop()
                return
            if self.depth == 1:
                self.end_row(tag)
            elif self.depth == 2 and self.cell is not None:
                self.end_cell(tag)
            elif self.depth == 3 and self.catch is not None:
                self.end_inside(tag.rpartition(":")[2])
            self.depth -= 1
            return
        name = self.path.pop()
        if self.catch is not None:
            if name in TEXT_OF:
                last = self.seen.tags[-1]
                self.seen.tags[-1] = last._replace(text="".join(self.catch))
            self.catch = None

    def text(self, words: str) -> None:
        if self.catch is not None:
            self.catch.append(words)

    def begin_row(self, attributes: dict[str, str]) -> None:
        said = attributes.get("r", "")
        before, number = self.row, whole(said)
        self.row = before + 1 if number is None else number
        if self.row <= before or (said and number is None) or self.row > LAST_ROW:
            raise CannotFill(f"row {said[:20] or self.row} of the sheet stands out of order: {SAVE}")
        self.column = -1
        if self.tell is not None:
            self.seen.tail.append((self.row, self.parser.CurrentByteIndex))
        if self.found is not None and self.row in self.wanted:
            self.now = RowSeen(self.row, self.parser.CurrentByteIndex, -1, attributes.get("spans", ""), [])

    def end_row(self, tag: str) -> None:
        if self.now is not None and self.found is not None:
            self.now.end = self.end_tag(tag)
            self.found[self.row] = self.now
            self.now = None

    def end_tag(self, tag: str) -> int:
        """Where the end tag stands; -1 where the start tag is its own end, as <row/>."""
        at = self.parser.CurrentByteIndex
        name = b"</" + tag.encode("utf-8")
        after = self.data[at + len(name) : at + len(name) + 1]
        return at if self.data.startswith(name, at) and after in (b">", b" ", b"\t", b"\r", b"\n") else -1

    def begin_cell(self, attributes: dict[str, str]) -> None:
        address = attributes.get("r")
        before = self.column
        if address is None:
            self.column += 1
        else:
            self.column, row = place_of(address)
            if row != self.row or self.column <= before:
                raise CannotFill(f"cell {address} stands out of order in row {self.row}: {SAVE}")
        self.has_child, self.value, self.formula = False, None, None
        kept = self.now is not None and self.keep is not None and self.keep(self.column)
        self.cell = (attributes, self.parser.CurrentByteIndex, kept)

    def begin_inside(self, name: str, attributes: dict[str, str]) -> None:
        """Something in a cell: it is filled. Its value is caught where it is wanted, its formula on the first pass."""
        self.has_child = True
        if self.depth == 3:
            if name == "f" and self.tell is not None:
                self.catch, self.formula = [], attributes.get("t") == "shared"
            elif name in ("v", "is") and self.cell is not None and self.cell[2]:
                self.catch = []
            else:
                self.catch = None
        elif self.catch is not None and name == "rPh":  # how the text is spoken, which is no part of it
            self.catch = None

    def end_inside(self, name: str) -> None:
        words = "".join(self.catch or ())
        self.catch = None
        if name == "f":
            if words:
                self.seen.formulas.append((f"{letters(self.column)}{self.row}", words, bool(self.formula)))
        else:
            self.value = words

    def end_cell(self, tag: str) -> None:
        if self.cell is None:
            return
        attributes, start, kept = self.cell
        if self.tell is not None:
            self.tell(self.row, self.column, attributes, self.has_child)
        elif kept and self.now is not None:
            end = self.end_tag(tag)
            end = self.parser.CurrentByteIndex if end < 0 else self.data.index(b">", end) + 1
            style, kind = attributes.get("s", "0"), attributes.get("t", "n")
            self.now.cells.append(CellSeen(self.column, start, end, style, kind, self.value, self.has_child))
        self.cell = None
