"""The parts of a workbook's package as they are put together and packed, one after the other, without a temporary file for each."""

from __future__ import annotations

import re
from collections.abc import Iterator
from io import BytesIO, StringIO
from pathlib import Path
from typing import IO
from zipfile import ZIP_DEFLATED, ZIP_STORED, ZipFile, ZipInfo

from xlsxwriter.packager import Packager
from xlsxwriter.sharedstrings import SharedStrings

from batch.ooxml.deflate import packer
from batch.program import VERSION

PIECE = 1 << 20  # bytes copied at once
STRINGS, KEPT_TOGETHER = "xl/sharedStrings.xml", 1 << 12  # the part of all texts, and so many of their pieces at a time
_APPLICATION, _VERSION = re.compile("(<Application>)[^<]*<"), re.compile("(<AppVersion>)[^<]*<")
LARGE = 1 << 30  # bytes from which on a part is packed in the long form (ZIP64)


def escape(text: str) -> str:
    """Text as it stands between two tags."""
    return text.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")


class PartText(StringIO):
    """A part's text as the stock writer words it, and prepared rows, already bytes, in between."""

    def __init__(self) -> None:
        super().__init__()
        self._before: list[IO[bytes]] = []

    def take(self, rows: IO[bytes]) -> None:
        """Prepared rows go here; they are read, and closed, when the part is packed."""
        self._keep()
        self._before.append(rows)

    def _keep(self) -> None:
        """What was worded so far becomes bytes: as text it takes several times the room."""
        self._before.append(BytesIO(self.getvalue().encode()))
        self.seek(0)
        self.truncate()

    def streams(self) -> list[IO[bytes]]:
        """What the part is made of, in order."""
        return [*self._before, BytesIO(self.getvalue().encode())]


class LongText(PartText):
    """A part that may be tens of megabytes long, worded in many small pieces."""

    def __init__(self) -> None:
        super().__init__()
        self._worded = 0

    def write(self, text: str, /) -> int:
        self._worded += 1
        if self._worded % KEPT_TOGETHER == 0:
            self._keep()
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
        streams = part.streams()
        with self._package.open(name, "w", force_zip64=sum(map(_size, streams)) > LARGE) as packed:
            packed._compressor = packer(bare=True)  # type: ignore[attr-defined]  # zipfile has no way to ask for another library
            for stream in streams:
                stream.seek(0)
                for piece in _pieces(stream):
                    packed.write(piece)
                stream.close()


def _as_number(version: str) -> str:
    """ "0.2.0" as the part has it, XX.YYYY (ECMA-376 part 1, 22.2.2.3; from memory): "00.0200"."""
    major, minor, patch = (int(part) for part in version.split("."))
    return f"{major:02d}.{minor:02d}{patch:02d}"


def _size(stream: IO[bytes]) -> int:
    stream.seek(0, 2)
    return stream.tell()


def _pieces(stream: IO[bytes]) -> Iterator[bytes]:
    while piece := stream.read(PIECE):
        yield piece
