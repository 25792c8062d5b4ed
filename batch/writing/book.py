"""A workbook file that appears whole or not at all."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from io import BytesIO
from pathlib import Path
from zipfile import BadZipFile, ZipFile

from xlsxwriter import Workbook
from xlsxwriter.exceptions import XlsxWriterException

from batch.program import PROGRAM
from batch.rules import OURS, Wording
from batch.whole_file import FileInTheMaking, whole_file
from batch.writing.earlier_file import MADE, refuse_another_s, saved_since
from batch.writing.fast_sheet import ScheduleSheet
from batch.writing.parts import PathPackager
from batch.writing.styles import FONT, SIZE, Styles

FORBIDDEN = str.maketrans(dict.fromkeys("[]:*?/\\", " "))
LONGEST_NAME = 31


class Book(Workbook):
    """A stock workbook whose sheets take prepared rows, in our font, with its styles at hand."""

    worksheet_class = ScheduleSheet
    wording: Wording
    part: FileInTheMaking  # where it is written, and where it lands

    def __init__(self, path: Path, title: str) -> None:
        options = {"in_memory": True, "default_format_properties": {"font_name": FONT, "font_size": SIZE}}
        super().__init__(_Nowhere(), options)
        self.set_properties({"title": title, "created": MADE, "comments": ""})
        self.set_size(2200, 1400)
        self.styles = Styles(self)
        self._path = path
        self._tabs: set[str] = set()
        self.made_by = PROGRAM  # what its properties say; "" of what goes to a customer
        self.wording = OURS  # of what its pages say

    def _get_packager(self) -> PathPackager:
        """The stock writer's own hook: ours packs to the path, quicker; the stock package that goes to nowhere stays empty."""
        return PathPackager(self._path, self.made_by)

    def tab_name(self, wanted: str) -> str:
        """A free name as near to `wanted` as a tab can carry: 31 characters, none that is forbidden, no other tab's."""
        base = " ".join(wanted.translate(FORBIDDEN).split()).strip("' ") or "Sheet"
        base = "".join(mark for mark in base if mark.isprintable())
        if base.casefold() == "history":  # a name that one common program keeps for itself
            base += " sheet"
        number, name = 1, _cut(base, "")
        while name.casefold() in self._tabs:
            number += 1
            name = _cut(base, f" {number}")
        self._tabs.add(name.casefold())
        return name


class _Nowhere(BytesIO):
    """Takes the stock package. Never closed: after a fault that package still seeks in it, too late for anybody to hear of it."""

    def close(self) -> None:
        pass


def _cut(base: str, end: str) -> str:
    """`base` + `end` within the limit, which counts UTF-16 units."""
    room = LONGEST_NAME - len(end)
    return base.encode("utf-16-le")[: 2 * room].decode("utf-16-le", "ignore").rstrip("' ") + end


@contextmanager
def whole_book(path: Path, title: str) -> Iterator[Book]:
    """A Book that is written beside `path`, reopened as a check, and only then takes its place; `Book.part` says which.

    OutputFileError where any of that fails; whatever stood at `path` is then untouched and nothing is left behind.
    """
    with whole_file(path) as part:
        refuse_another_s(path, part.wanted, title)
        part.why = part.why or saved_since(part.wanted)
        book = Book(part.path, title)
        book.part = part
        try:
            yield book
            book.close()
        except XlsxWriterException as fault:  # it wraps what the disk said
            raise fault.__context__ if isinstance(fault.__context__, OSError) else BadZipFile(str(fault)) from fault
        _check(part.path, len(book.worksheets()))


def _check(part: Path, sheets: int) -> None:
    """Reopens the file: the package must be whole and hold every sheet."""
    with ZipFile(part) as package:
        names = set(package.namelist())
        wanted = {"[Content_Types].xml", "xl/workbook.xml", "xl/styles.xml", *(f"xl/worksheets/sheet{at + 1}.xml" for at in range(sheets))}
        missing = sorted(wanted - names)
        if missing:
            raise BadZipFile(f"{missing[0]} is missing from the file just written")
        if len(ZipFile.read(package, "xl/workbook.xml")) == 0:
            raise BadZipFile("the file just written is empty")
