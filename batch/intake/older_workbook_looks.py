"""What the looks of a sheet of the older binary kind (.xls) say: cells struck through, hidden rows and columns, comments.

Runs in the process that reads such a workbook apart: the file is not to be trusted, and the native reader gives the values alone. The
container is a compound file (MS-CFB), its stream a run of records (MS-XLS: 2.4.122 Font, 2.4.353 XF, 2.4.265 SST, 2.4.221 Row,
2.4.53 ColInfo, 2.4.179 Note). The layouts of the records are from memory, held by workbooks that another program wrote.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from struct import unpack_from

from msgspec import Struct, field

from batch.intake.open_document_looks import Looks

BOF, END, CONTINUE, SHEET, LOCKED, FONT, XF, TEXTS = 0x0809, 0x0A, 0x3C, 0x85, 0x2F, 0x31, 0xE0, 0xFC
ROW, COLUMNS, NOTE, SHARED_TEXT, SEVERAL = 0x0208, 0x7D, 0x1C, 0xFD, 0xBD
CELLS = frozenset({0x0203, 0x0204, 0x0205, 0x027E, 0x06, 0xD6, SHARED_TEXT})  # figure, text, truth, short figure, formula, formatted text
NEWEST = 0x0600  # the version of the records; before it texts are laid out otherwise
STRUCK, ROW_HIDDEN, COLUMN_HIDDEN = 0x08, 0x20, 0x01
LEFT_OUT_FONT = 4  # no font has this number
LAST_SECTOR = 0xFFFFFFFA  # numbers above it end a chain, or mark what is free
Record = tuple[int, int, bytes]  # where it begins, kind, content


class _Book(Struct):
    """What the records before the sheets say."""

    fonts: list[bool] = field(default_factory=list)  # is it struck through?
    cells: list[int] = field(default_factory=list)  # the font of each kind of cell
    sheets: dict[int, str] = field(default_factory=dict)  # names by where their records begin
    texts: list[tuple[str, list[tuple[int, int]]]] = field(default_factory=list)  # each with its runs: from which letter, which font

    def struck(self, font: int) -> bool:
        return self.fonts[font - (font > LEFT_OUT_FONT)]


def binary_looks(data: bytes) -> dict[str, Looks]:
    """The looks of each sheet by its name; none of a file in older records, or locked.

    Raises:
        ValueError, IndexError, struct.error: not such a file, or one that is damaged.
    """
    stream = _stream(data, ("Workbook", "Book"))
    records = list(_records(stream))
    if not records or records[0][1] != BOF or unpack_from("<H", records[0][2])[0] != NEWEST:
        return {}
    if any(kind == LOCKED for _, kind, _ in records):
        return {}
    book = _globals(records)
    if not book.fonts or not book.cells:
        raise ValueError("no fonts")
    starts = {at: number for number, (at, _, _) in enumerate(records)}
    return {name: _sheet(records, starts[begin], book) for begin, name in book.sheets.items() if begin in starts}


def _stream(data: bytes, names: Sequence[str]) -> bytes:
    """The content of the first of these streams that a compound file holds."""
    size, small = 1 << unpack_from("<H", data, 30)[0], 1 << unpack_from("<H", data, 32)[0]
    first_folder, _, least, first_small, _, first_more, _ = unpack_from("<7I", data, 48)
    if not 128 <= size <= 1 << 16:
        raise ValueError("sectors of no usual size")
    maps = list(unpack_from("<109I", data, 76))
    while first_more < LAST_SECTOR and len(maps) <= len(data) // 4:
        more = unpack_from(f"<{size // 4}I", data, size * (first_more + 1))
        maps += more[:-1]
        first_more = more[-1]
    after: list[int] = []
    for one in maps:
        if one < LAST_SECTOR:
            after += unpack_from(f"<{size // 4}I", data, size * (one + 1))
    whole = {sector: data[size * (sector + 1) : size * (sector + 2)] for sector in range(len(data) // size)}
    folder = b"".join(whole[one] for one in _chain(first_folder, after))
    entries: dict[str, tuple[int, int]] = {}
    for at in range(0, len(folder) - 127, 128):
        letters = unpack_from("<H", folder, at + 64)[0]
        name = folder[at : at + max(letters - 2, 0)].decode("utf-16-le", "replace")
        entries.setdefault(name, unpack_from("<II", folder, at + 116))
    start, length = next(entries[name] for name in names if name in entries)
    if length >= least:
        return b"".join(whole[one] for one in _chain(start, after))[:length]
    table = b"".join(whole[one] for one in _chain(first_small, after))
    pieces = b"".join(whole[one] for one in _chain(entries["Root Entry"][0], after))
    chain = _chain(start, unpack_from(f"<{len(table) // 4}I", table))
    return b"".join(pieces[small * one : small * (one + 1)] for one in chain)[:length]


def _chain(start: int, after: Sequence[int]) -> list[int]:
    """The sectors that follow each other from one on."""
    found: list[int] = []
    while start < LAST_SECTOR:
        if len(found) > len(after):
            raise ValueError("a chain that ends nowhere")
        found.append(start)
        start = after[start]
    return found


def _records(stream: bytes) -> Iterator[Record]:
    at = 0
    while at + 4 <= len(stream):
        kind, length = unpack_from("<HH", stream, at)
        yield at, kind, stream[at + 4 : at + 4 + length]
        at += 4 + length


def _globals(records: Sequence[Record]) -> _Book:
    book = _Book()
    for number, (_, kind, content) in enumerate(records):
        if kind == END:
            break
        if kind == FONT:
            book.fonts.append(bool(unpack_from("<H", content, 2)[0] & STRUCK))
        elif kind == XF:
            book.cells.append(unpack_from("<H", content)[0])
        elif kind == SHEET:
            letters, wide = content[6], content[7] & 1
            name = content[8 : 8 + letters * (1 + wide)]
            book.sheets[unpack_from("<I", content)[0]] = name.decode("utf-16-le" if wide else "latin-1")
        elif kind == TEXTS:
            parts = [content]
            for _, following, more in records[number + 1 :]:
                if following != CONTINUE:
                    break
                parts.append(more)
            book.texts = shared_texts(parts)
    return book


class _Parts:
    """The content of a record that goes on in others: a text that is cut says again in each how wide its letters are."""

    def __init__(self, parts: Sequence[bytes]) -> None:
        self.parts, self.part, self.at = parts, 0, 0

    def take(self, length: int) -> bytes:
        found = b""
        while len(found) < length:
            if self.at >= len(self.parts[self.part]):
                self.part, self.at = self.part + 1, 0
            piece = self.parts[self.part][self.at : self.at + length - len(found)]
            found, self.at = found + piece, self.at + len(piece)
        return found

    def letters(self, count: int, wide: int) -> str:
        found = ""
        while len(found) < count:
            if self.at >= len(self.parts[self.part]):
                self.part, self.at = self.part + 1, 1
                wide = self.parts[self.part][0] & 1
            left = (len(self.parts[self.part]) - self.at) // (1 + wide)
            if not left:
                raise ValueError("a text cut within a letter")
            found += self.take((1 + wide) * min(left, count - len(found))).decode("utf-16-le" if wide else "latin-1", "replace")
        return found[:count]


def shared_texts(parts: Sequence[bytes]) -> list[tuple[str, list[tuple[int, int]]]]:
    """The shared texts with the fonts within them."""
    content = _Parts(parts)
    _, count = unpack_from("<II", content.take(8))
    found = []
    for _ in range(min(count, sum(map(len, parts)) // 3)):
        letters, flags = unpack_from("<HB", content.take(3))
        runs = unpack_from("<H", content.take(2))[0] if flags & 8 else 0
        extra = unpack_from("<I", content.take(4))[0] if flags & 4 else 0
        text = content.letters(letters, flags & 1)
        fonts = [unpack_from("<HH", content.take(4)) for _ in range(runs)]
        content.take(extra)
        found.append((text, fonts))
    return found


def _sheet(records: Sequence[Record], start: int, book: _Book) -> Looks:
    looks = Looks()
    filled: set[tuple[int, int]] = set()
    columns: list[tuple[int, int]] = []
    depth = 0
    for _, kind, content in records[start:]:
        depth += (kind == BOF) - (kind == END)
        if depth == 0:
            break
        if depth > 1:  # of a chart
            continue
        if kind in CELLS:
            row, column, style = unpack_from("<3H", content)
            filled.add((row, column))
            text = book.texts[unpack_from("<I", content, 6)[0]] if kind == SHARED_TEXT else ("", [])
            _cell(looks, (row, column), book.cells[style], text, book)
        elif kind == SEVERAL:
            row, first = unpack_from("<HH", content)
            for at in range((len(content) - 6) // 6):
                filled.add((row, first + at))
                _cell(looks, (row, first + at), book.cells[unpack_from("<H", content, 4 + 6 * at)[0]], ("", []), book)
        elif kind == ROW and unpack_from("<H", content, 12)[0] & ROW_HIDDEN:
            looks.hidden_rows.append(unpack_from("<H", content)[0] + 1)
        elif kind == COLUMNS and unpack_from("<H", content, 8)[0] & COLUMN_HIDDEN:
            columns.append(unpack_from("<HH", content))
        elif kind == NOTE:
            looks.comments[unpack_from("<HH", content)] = ""  # the words stand in a drawing
    rows, last = {row for row, _ in filled}, max((column for _, column in filled), default=-1)
    looks.hidden_rows = sorted(row for row in looks.hidden_rows if row - 1 in rows)
    looks.hidden_columns = sorted({at + 1 for low, high in columns for at in range(low, min(high, last) + 1)})
    return looks


def _cell(looks: Looks, at: tuple[int, int], font: int, text: tuple[str, list[tuple[int, int]]], book: _Book) -> None:
    """Notes whether a cell is struck through, or some of its words are."""
    words, runs = text
    bounds = [(0, font), *runs, (len(words), font)]
    pieces = [(words[start:end], book.struck(own)) for (start, own), (end, _) in pairwise(bounds) if words[start:end].strip()]
    struck = [out for _, out in pieces] or [book.struck(font)]
    if all(struck):
        looks.struck.add(at)
    elif any(struck):
        looks.left[at] = " ".join("".join(piece for piece, out in pieces if not out).split())


