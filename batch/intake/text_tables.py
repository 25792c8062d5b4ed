"""Tables in text files: .csv, .tsv, and a table pasted into a .txt -> one sheet of cells, as the other kinds of file give.

Which letters the bytes stand for, and which mark parts the cells, is found from the file itself; where two fit and would
change what is read, that is said with the way to decide it. A first line `sep=;` says the mark, as spreadsheet programs take it.
Every cell stays the text it is: decimal marks are learned later, from the whole sheet.
"""

from __future__ import annotations

import csv
import re
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from io import StringIO
from itertools import islice
from pathlib import PurePath
from typing import Literal

from msgspec import Struct

from batch.errors import InputFileError
from batch.findings import Remark, remark
from batch.intake.grid import Broken, Grid, blank
from batch.intake.text_columns import by_position, ruled

SEPARATORS = {";": "semicolons", ",": "commas", "\t": "tabs", "|": "upright strokes"}
LARGEST = 64 << 20  # bytes of a text file: some ten times the largest list that may be read
MOST_ROWS = 1_048_576  # as a sheet of a workbook holds
MOST_CELLS = 8_000_000
LONGEST_LINE = 1 << 20  # characters
LONGEST_CELL = 32_767  # characters that a cell of a workbook takes
CLEAR = 0.3  # by so much one way of reading letters must fit better than another, or it is asked about
LOOKED = 300  # lines by which the mark between cells is found
SWALLOWED = 12  # line breaks in one cell, from which on a quotation mark is taken for an inch or a ditto mark
SAVE_UTF8 = "save it as CSV UTF-8, or as .xlsx"
_SEP = re.compile(r'\ufeff?"?sep=(.)"?\s*\Z', re.IGNORECASE)
_CONTROL = re.compile(r"[\x00-\x08\x0b\x0e-\x1f\x7f]")
_ERROR = re.compile(r"#(?:DIV/0!|N/A|NAME\?|NULL!|NUM!|REF!|VALUE!|WERT!|BEZUG!|VALEUR!|VALOR!|ZAHL!|NOMBRE\?)\Z")
_CAPITAL_INSIDE = re.compile(r"(?<=[^\W\d_])[À-ÖØ-ÞŸŠŽŚŹŁĄĘÓĆŃŻ](?=[a-zß-ÿ])|(?<=[a-zß-ÿ])[À-ÖØ-ÞŸŠŽ]")
# 8-bit letters in order of how usual they are: western, central European, Mac, DOS, old UNIX; what they share changes nothing
EIGHT_BIT = (
    ("cp1252", "western (Windows-1252)"), ("cp1250", "central European (Windows-1250)"), ("mac_roman", "Mac Roman"), ("cp850", "DOS (850)"),
    ("iso8859_2", "central European (ISO 8859-2)"), ("cp852", "central European DOS (852)"),
)  # fmt: skip


class TextTable(Struct, frozen=True):
    """The one sheet of a text file, and what there is to say about how it was read."""

    grid: Grid
    remarks: tuple[Remark, ...] = ()


def read_text_table(data: bytes, name: str) -> TextTable:
    """The cells of a text file.

    Raises:
        InputFileError: no text, too large, or without a mark between cells that is sure. One line.
    """
    if len(data) > LARGEST:
        raise InputFileError(f"{name}: the text file is larger than {LARGEST >> 20} MB: split the job into several")
    if not data.strip(b"\xef\xbb\xbf\xff\xfe\0 \t\r\n\x1a"):
        raise InputFileError(f"{name}: the file is empty: save the list again")
    text, letters, said = _decoded(data, name)
    text = text.removesuffix("\x1a").replace("\x0c", "\n").replace("\u2028", "\n")
    if max(map(len, text.splitlines()), default=0) > LONGEST_LINE:
        raise InputFileError(f"{name}: a line of more than {LONGEST_LINE:,} characters is no row of a list: {SAVE_UTF8}")
    rows, mark, more = _rows(text, name)
    cells = _laid_out(rows, name)
    said += more
    said.insert(0, remark("text-table", letters=letters, mark=mark, rows=sum(not blank(row) for row in cells)))
    return TextTable(Grid(_sheet_name(name), cells, named_by_file=True, looks_known=True), tuple(said))


def _sheet_name(name: str) -> str:
    """The file's name as that of a sheet: without its ending, in what a sheet's name takes."""
    return re.sub(r"[\[\]:*?/\\]", "_", PurePath(name.replace("\\", "/")).stem)[:31].strip("'") or "List"


def _decoded(data: bytes, name: str) -> tuple[str, str, list[Remark]]:
    """The text, in words which letters were taken, and what is not sure about them."""
    for start, code, words in (
        (b"\xef\xbb\xbf", "utf-8", "UTF-8"), (b"\xff\xfe", "utf-16-le", "UTF-16"), (b"\xfe\xff", "utf-16-be", "UTF-16"),
    ):  # fmt: skip
        if data.startswith(start):
            return _strict(data[len(start) :], code, words, name), words, []
    if b"\0" in data:
        for code, at in (("utf-16-le", 1), ("utf-16-be", 0)):
            zeros = data[at:4000:2].count(0)
            if zeros > len(data[at:4000:2]) * 0.6 and not data[1 - at : 4000 : 2].count(0):
                return _strict(data, code, "UTF-16", name), "UTF-16", []
        raise InputFileError(f"{name}: the file holds zero bytes, so it is no text: {SAVE_UTF8}")
    try:
        return _clean(data.decode("utf-8"), name), "UTF-8", []
    except UnicodeDecodeError:
        return _eight_bit(data, name)


def _strict(data: bytes, code: str, words: str, name: str) -> str:
    try:
        return _clean(data.decode(code), name)
    except UnicodeDecodeError:
        raise InputFileError(f"{name}: the text says it is {words} and is not, so it may be damaged: {SAVE_UTF8}") from None


def _clean(text: str, name: str) -> str:
    control = len(_CONTROL.findall(text))
    if control > max(len(text) // 200, 8) or "\0" in text:
        raise InputFileError(f"{name}: this is no text, whatever its name says: {SAVE_UTF8}")
    return _CONTROL.sub(" ", text) if control else text


def _eight_bit(data: bytes, name: str) -> tuple[str, str, list[Remark]]:
    """Old 8-bit letters: the ones in which the words are known words; where several do equally, the western ones, and said."""
    texts: dict[str, tuple[str, str]] = {}
    for code, words in EIGHT_BIT:
        try:
            text = _clean(data.decode(code), name)
        except (UnicodeDecodeError, InputFileError):
            continue
        texts.setdefault(text, (code, words))
    if not texts:
        text = _clean(data.decode("latin-1"), name)
        return text, "western (Latin 1)", []
    scores = {text: _known_words(text) for text in texts}
    best = max(texts, key=lambda text: scores[text])
    rivals = [text for text in texts if text != best and scores[text] > scores[best] - CLEAR]
    if not rivals:
        return best, texts[best][1], []
    one, other = _first_difference(best, rivals[0])
    said = remark("text-letters-unsure", taken=texts[best][1], one=one, other=other, letters=texts[rivals[0]][1])
    return best, texts[best][1], [said]


def _known_words(text: str) -> float:
    """How well the words with letters beyond ASCII are known: 1 for each that a list has, a little for letters inside words."""
    from batch.intake.vocabulary import vocabulary

    known = vocabulary()
    score = 0.0
    for word in set(re.findall(r"[^\s;,|\t\"]*[^\x00-\x7f][^\s;,|\t\"]*", text[:200_000])):
        strange = [mark for mark in word if not mark.isascii()]
        bare = word.strip(".:()[]")
        score += 4.0 * known.is_word(bare) if bare.isalpha() else 0.0
        for mark in strange:
            sign = mark in "°²³µ–—’“”„Ø±×½" and (mark == "’" or not re.search(rf"[A-Za-z]{mark}[A-Za-z]", word))
            score += 0.1 if sign else 0.05 if mark.isalpha() and bare[:1] != mark.lower() else -0.3
        score -= 0.5 * bool(_CAPITAL_INSIDE.search(bare))  # "SpŸle", "DÈgraissage"
    return round(score, 2)


def _first_difference(one: str, other: str) -> tuple[str, str]:
    at = next((place for place, pair in enumerate(zip(one, other, strict=False)) if pair[0] != pair[1]), 0)
    start = max(one.rfind(mark, 0, at) for mark in "\n;,\t|") + 1
    return " ".join(one[start : at + 12].split())[:40], " ".join(other[start : at + 12].split())[:40]


def _rows(text: str, name: str) -> tuple[list[list[str]], str, list[Remark]]:
    """The rows, the mark between their cells in words, and what is not sure."""
    first, _, rest = text.partition("\n")
    if match := _SEP.match(first.rstrip("\r")):
        rows, said = _parted(rest, match[1], name)
        return [[], *rows], SEPARATORS.get(match[1], f"the mark {match[1]}"), said  # the line keeps its number, and is no row
    sample = "\n".join(islice(text.splitlines(), LOOKED))
    mark = _mark(sample, PurePath(name).suffix.lower(), name)
    if mark == "|" and ruled(sample):
        return [[cell.strip() for cell in row] for row in _ruled_rows(text)], SEPARATORS[mark], []
    if mark:
        rows, said = _parted(text, mark, name)
        return rows, SEPARATORS[mark], said
    laid = by_position(text.splitlines())
    if laid is not None:
        return laid, "columns of spaces", [remark("text-by-position", columns=max(map(len, laid)))]
    return [[line.strip()] if line.strip() else [] for line in text.splitlines()], "none, one cell a line", []


def _ruled_rows(text: str) -> Iterator[list[str]]:
    """Rows of a table drawn with strokes; the drawn lines between them hold nothing."""
    for line in text.splitlines():
        bare = line.strip()
        yield [] if re.fullmatch(r"[|+:=\s-]*", bare) else bare.strip("|").split("|") if "|" in bare else [bare]


def _mark(sample: str, ending: str, name: str) -> str:
    """The mark between the cells of a row; "" where no mark parts the lines alike.

    Raises:
        InputFileError: two marks part the lines equally well, and not into the same cells.
    """
    scores: dict[str, float] = {}
    decimals = "," in sample and not re.search(r"(?<!\d),|,(?!\d)", sample)  # every comma between two figures
    for mark in SEPARATORS:
        widths = Counter(len(row) for row in _reader(sample, mark) if len(row) > 1)
        if widths:
            width, often = max(widths.items(), key=lambda one: (one[1], one[0]))
            scores[mark] = often / max(sum(widths.values()), 1) * min(width, 12) * min(sum(widths.values()), 50)
    if decimals and len(scores) > 1:
        scores.pop(",", None)
    if not scores:
        return ""
    if ending in (".tsv", ".tab") and "\t" in scores:
        return "\t"
    ranked = sorted(scores, key=lambda mark: -scores[mark])
    if len(ranked) == 1 or scores[ranked[1]] < 0.35 * scores[ranked[0]]:
        return ranked[0] if ranked[0] != "," or ending != ".txt" or scores[","] > 6 else ""
    heads = {mark: _headings(sample, mark) for mark in ranked[:2]}
    best, next_best = sorted(heads, key=lambda mark: -heads[mark])
    if heads[best] > heads[next_best]:
        return best
    choice = " or ".join(f"{SEPARATORS[mark]} (sep={mark})" for mark in ranked[:2])
    raise InputFileError(f"{name}: the cells may be parted by {choice}: write the right one, as sep=;, into a first line, or {SAVE_UTF8}")


def _headings(sample: str, mark: str) -> float:
    """How many cells of one row are headings that are known, at best."""
    from batch.intake.vocabulary import vocabulary

    known = vocabulary()
    best = 0
    for row in islice(_reader(sample, mark), 40):
        best = max(best, sum(bool(cell.strip()) and known.is_heading(cell) for cell in row))
    return best


def _reader(text: str, mark: str, quoting: Literal[0, 3] = csv.QUOTE_MINIMAL) -> Iterator[list[str]]:
    rows = csv.reader(StringIO(text, newline=""), delimiter=mark, quoting=quoting, skipinitialspace=mark != "\t")
    try:
        yield from rows
    except csv.Error:  # a cell longer than the module takes: such a reading is none
        return


def _parted(text: str, mark: str, name: str) -> tuple[list[list[str]], list[Remark]]:
    """Rows of cells. Quotation marks hold a cell together, unless that would swallow rows: then they are inches or ditto marks."""
    rows = list(_within(_reader(text, mark), name))
    swallowed = [cell for row in rows for cell in row if "\n" in cell and cell.count("\n") > SWALLOWED]
    open_end = text.count('"') % 2 == 1
    if not swallowed and not open_end:
        return rows, []
    plain = [[cell.strip() for cell in row] for row in _within(_reader(text, mark, csv.QUOTE_NONE), name)]
    if not swallowed and sum(map(len, rows)) >= sum(map(len, plain)):
        return rows, []
    cell = swallowed[0] if swallowed else next((cell for row in rows[::-1] for cell in row if '"' in cell or "\n" in cell), "")
    return plain, [remark("text-quotes-unsure", seen=" ".join(cell.split())[:40])]


def _within(rows: Iterable[list[str]], name: str) -> Iterator[list[str]]:
    """The rows, refused as soon as they are more than a sheet may hold: what has been parted takes far more memory than its text."""
    cells = 0
    for count, row in enumerate(rows, 1):
        cells += len(row)
        if count > MOST_ROWS or cells > MOST_CELLS:
            raise InputFileError(f"{name}: more than {MOST_ROWS:,} rows, or {MOST_CELLS:,} cells: split the job into several")
        yield row


def _laid_out(rows: Sequence[Sequence[str]], name: str) -> list[list[object]]:
    """Rows of one width; a cell that shows an error is marked as one."""
    if any(len(cell) > LONGEST_CELL for row in rows for cell in row):
        raise InputFileError(f"{name}: a cell of more than {LONGEST_CELL:,} characters is none of a list: {SAVE_UTF8}")
    width = max(map(len, rows), default=0)
    if width > 16_384 or len(rows) * width > MOST_CELLS:
        raise InputFileError(f"{name}: its rows are laid out too wide to be read: bring its cells together, and save")
    return [[*map(_cell, row), *[""] * (width - len(row))] for row in rows]


def _cell(text: str) -> object:
    bare = text.strip()
    return Broken(bare, True) if bare[:1] == "#" and _ERROR.match(bare) else bare.replace("\r\n", "\n")
