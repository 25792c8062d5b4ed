"""The parts of a workbook's package as they are put together and packed, one after the other, without a temporary file for each."""

from __future__ import annotations

import re
from io import StringIO
from pathlib import Path
from zipfile import ZIP_DEFLATED, ZIP_STORED, ZipFile, ZipInfo

from xlsxwriter.packager import Packager
from xlsxwriter.sharedstrings import SharedStrings

from batch.program import VERSION
from batch.writing.packed import PIECE, PackedBytes, pack_part

STRINGS = "xl/sharedStrings.xml"  # the part of all texts
_APPLICATION, _VERSION = re.compile("(<Application>)[^<]*<"), re.compile("(<AppVersion>)[^<]*<")
LARGE = 1 << 30  # bytes from which on a part is packed in the long form (ZIP64)


def escape(text: str) -> str:
    """Text as it stands between two tags."""
    return text.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")


class PartText(StringIO):
    """A part's text as the stock writer words it, and prepared rows, packed already, in between."""

    def __init__(self) -> None:
        super().__init__()
        self._before: list[bytes | PackedBytes] = []

    def take(self, rows: PackedBytes) -> None:
        """Prepared rows go here; they are closed when the part is packed."""
        self._before += [self._worded(), rows]

    def _worded(self) -> bytes:
        """What was worded so far, which is then no longer kept as text: that takes several times the room."""
        text = self.getvalue().encode()
        self.seek(0)
        self.truncate()
        return text

    def stretches(self) -> list[bytes | PackedBytes]:
        """What the part is made of, in order."""
        self._before.append(self._worded())
        return self._before


class LongText(PartText):
    """A part that may be tens of megabytes long, packed as it is worded."""

    def __init__(self) -> None:
        super().__init__()
        self._packed = PackedBytes()
        self._before = [self._packed]
        self._since = 0

    def write(self, text: str, /) -> int:
        self._since += len(text)
        if self._since > PIECE:
            self._packed.write(self._worded())
            self._since = len(text)
        return super().write(text)


class Texts(SharedStrings):
    """The part of all texts. Most have no mark that the stock method looks for in each of them, six times over."""

    def _write_si(self, string: str) -> None:
        if string.isprintable() and "_x" not in string and string[:1] not in (" ", "<") and string[-1:] != " ":
            self.fh.write(f"<si><t>{escape(string)}</t></si>")
        else:
            super()._write_si(string)


class PathPackager(Packager):
    """Makes the parts as the stock one does, and packs each into the file at `path` before the next is begun, all dated alike.

    Rests on the stock packager asking `_filename` for a place before it words a part, and on `filenames` holding what is not packed.
    """

    def __init__(self, path: Path, made_by: str) -> None:
        super().__init__()
        self._path, self._made_by = path, made_by

    def _create_package(self) -> list:
        with ZipFile(self._path, "w", ZIP_DEFLATED, allowZip64=True) as self._package:
            super()._create_package()
            self._pack()
        return []

    def _write_shared_strings_file(self) -> None:
        if self.workbook.str_table.count:
            texts = Texts()
            texts.string_table = self.workbook.str_table
            texts._set_xml_writer(self._filename(STRINGS))
            texts._assemble_xml_file()

    def _filename(self, xml_filename: str) -> PartText:
        self._pack()
        part = LongText() if xml_filename == STRINGS else PartText()
        self.filenames.append((part, xml_filename, False))
        return part

    def _write_app_file(self) -> None:
        """The stock part, with what the book is made by, as it says itself, in the place of the stock writer's name and version."""
        super()._write_app_file()
        part = self.filenames[-1][0]
        own = _as_number(VERSION) if self._made_by else "00.0000"
        worded = _VERSION.sub(rf"\g<1>{own}<", _APPLICATION.sub(rf"\g<1>{self._made_by}<", part.getvalue()))
        part.seek(0)
        part.truncate()
        part.write(worded)

    def _pack(self) -> None:
        """Packs what stands in `filenames`; parts are dated by the first day that a package can name."""
        for part, name, _ in self.filenames:
            if isinstance(part, PartText):
                self._pack_text(part, name)
            else:  # a picture, packed already
                self._package.writestr(ZipInfo(name), part.getvalue(), ZIP_STORED)
        self.filenames.clear()

    def _pack_text(self, part: PartText, name: str) -> None:
        stretches = part.stretches()
        length = sum(len(one) if isinstance(one, bytes) else one.length for one in stretches)
        pack_part(self._package, name, stretches, long=length > LARGE)


def _as_number(version: str) -> str:
    """ "0.2.0" as the part has it, XX.YYYY (ECMA-376 part 1, 22.2.2.3; from memory): "00.0200"."""
    major, minor, patch = (int(part) for part in version.split("."))
    return f"{major:02d}.{minor:02d}{patch:02d}"
