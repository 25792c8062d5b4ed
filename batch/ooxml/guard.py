"""What a file is, before any reader sees it: a workbook, or something else that is refused by name.

A reader in native code can be brought down by a file that lies about itself. So the package is looked through first:
which kind of file it is, how large it becomes when inflated (counted while inflating, never believed), and whether a part
declares a document type, which no workbook needs and which can grow without end.
"""

from __future__ import annotations

import re
import struct
import zipfile
import zlib
from collections.abc import Iterator
from io import BytesIO

from batch.errors import InputFileError

CHUNK = 1 << 20  # bytes inflated at a time
SLICE = 1 << 16  # bytes of the package given to the inflater at a time
LARGEST_PART = 400 << 20  # bytes inflated; 100,000 rows of 60 columns stay under it
LARGEST_PACKAGE = 800 << 20
LARGEST_FILE = 400 << 20
MOST_PARTS = 20_000
STORED, DEFLATED = 0, 8
MOST_INFLATED = 1032  # times: what deflate can make of a byte at most (RFC 1951: 258 bytes of two bits)
OLE = bytes.fromhex("d0cf11e0a1b11ae1")
KINDS = {
    b"%PDF": "a PDF document", b"\x89PNG": "a picture", b"\xff\xd8\xff": "a picture", b"GIF8": "a picture",
    b"{\\rtf": "a rich text document",
    b"Rar!": "a RAR archive", b"7z\xbc\xaf": "a 7z archive", b"\x1f\x8b": "a gzip archive", b"BZh": "a bzip2 archive", b"MZ": "a program",
}  # fmt: skip
COUNT = re.compile(rb"""ount\s*=\s*["'](?:(\d{1,20})["']|)""")  # count="7", uniqueCount="7"; "" where it is no plain number
# The count of shared texts is that of their uses, however often each is used; only uniqueCount counts what the part holds
# (ECMA-376 Part 1, 18.4.9), and only that is believed by the reader (tried with both).
TEXTS = re.compile(rb"<(?:\w+:)?sst[\s>]")
UNIQUE = re.compile(rb"""uniqueCount\s*=\s*["'](?:(\d{1,20})["']|)""")
SHORTEST_ELEMENT = 4  # bytes: <a/>
DOCTYPES = tuple(mark.encode(code) for mark in ("<!DOCTYPE", "<!ENTITY") for code in ("ascii", "utf-16-le", "utf-16-be"))
SAVE_AS = "open it in a spreadsheet program and save it as .xlsx"
COPY_LIST = "copy the list in it into a workbook, and name that"


def is_packed(data: bytes) -> bool:
    """Is it a workbook, or another kind of file that is known by its first bytes, and so no text?"""
    low = data[:400].lower().lstrip(b"\xef\xbb\xbf \t\r\n")
    known = data.startswith((b"PK\x03\x04", b"PK\x05\x06", OLE, *KINDS)) and not (data.startswith(b"MZ") and b"\0" not in data[:400])
    return known or low.startswith((b"<!doctype", b"<html", b"<?xml"))


def file_kind(data: bytes, name: str) -> str:
    """ "zip" for a package that may be a workbook, "xls" for the older binary workbook.

    Raises:
        InputFileError: anything else, told by its first bytes and not by its name.
    """
    if not data:
        raise InputFileError(f"{name}: the file is empty (0 bytes): save the workbook again")
    if len(data) > LARGEST_FILE:
        raise InputFileError(f"{name}: the file is larger than {LARGEST_FILE >> 20} MB: split the job into several workbooks")
    if data[:4] == b"PK\x03\x04":
        return "zip"
    if data[:4] == b"PK\x05\x06":
        raise InputFileError(f"{name}: an empty archive, not a workbook: save the workbook again")
    if data[:8] == OLE:
        return _ole_kind(data, name)
    for start, words in KINDS.items():
        if data.startswith(start):
            raise InputFileError(f"{name}: this is {words}, not a workbook: name the workbook itself")
    raise InputFileError(f"{name}: {_text_kind(data)}: {SAVE_AS}")


def _ole_kind(data: bytes, name: str) -> str:
    """The older binary workbook, or a container around something that cannot be read."""
    if _utf16("EncryptedPackage") in data or _utf16("EncryptionInfo") in data:
        raise InputFileError(f"{name}: the workbook is locked with a password: save a copy without the password, and read that")
    if _utf16("DRMEncryptedTransform") in data or _utf16("DRMContent") in data or b"\tDRMContent" in data:
        raise InputFileError(f"{name}: the workbook is wrapped by rights management: ask its owner for a copy without it")
    if _utf16("Workbook") in data or _utf16("Book") in data:
        return "xls"
    if _utf16("WordDocument") in data:
        raise InputFileError(f"{name}: this is a text document of the older binary kind, not a workbook: {COPY_LIST}")
    raise InputFileError(f"{name}: a container without a workbook that can be read, as a locked workbook is: {SAVE_AS}")


def _utf16(text: str) -> bytes:
    return text.encode("utf-16-le")


def _text_kind(data: bytes) -> str:
    """What a file that is no archive seems to be, in words."""
    head = data[:4096].lstrip(b"\xef\xbb\xbf\xff\xfe \t\r\n\0")
    low = head[:400].lower().replace(b"\0", b"")
    if low.startswith((b"<!doctype html", b"<html", b"<table", b"<meta")) or b"<html" in low:
        return "this is a web page (HTML), whatever its name says, not a workbook"
    if low.startswith(b"<?xml") or low.startswith(b"<"):
        return "this is an XML file, not a workbook package"
    if not any(byte < 9 or 13 < byte < 32 for byte in head.replace(b"\0", b"")[:2000]):
        return "this is plain text (CSV, perhaps), not a workbook"
    return "this is not a workbook, or it is damaged at its very start"


class Package:
    """A zip package held in memory, inflated part by part under limits that the package cannot lie about."""

    def __init__(self, data: bytes, name: str) -> None:
        self.name = name
        self._data = data
        self._inflated = 0
        self.marked: set[str] = set()
        try:
            with zipfile.ZipFile(BytesIO(data)) as archive:
                infos = archive.infolist()
        except (zipfile.BadZipFile, NotImplementedError, ValueError, struct.error, EOFError, OSError) as fault:
            raise self._damaged("its list of parts cannot be read; the file may be cut short") from fault
        if len(infos) > MOST_PARTS:
            raise InputFileError(f"{name}: a package of {len(infos)} parts is no ordinary workbook: {SAVE_AS}")
        self._parts: dict[str, zipfile.ZipInfo] = {}
        for info in infos:
            part = info.filename.replace("\\", "/").lstrip("/")
            if part in self._parts:
                raise InputFileError(f"{name}: the package has the part {part[:60]} twice, so it can be read two ways: {SAVE_AS}")
            self._parts[part] = info
        self._folded = {part.casefold(): part for part in reversed(self._parts)}

    def _damaged(self, why: str) -> InputFileError:
        return InputFileError(f"{self.name}: the file is damaged ({why}): fetch it again, or {SAVE_AS}")

    def _too_large(self, part: str, limit: int) -> InputFileError:
        return InputFileError(f"{self.name}: the part {part} inflates to more than {limit >> 20} MB, too much to be safe: split the job")

    def parts(self) -> list[str]:
        return list(self._parts)

    def find(self, part: str) -> str:
        """The part's name as the package spells it, whatever its case; "" where there is none."""
        return part if part in self._parts else self._folded.get(part.casefold(), "")

    def chunks(self, part: str) -> Iterator[bytes]:
        """The part's bytes as they inflate.

        Raises:
            InputFileError: encrypted, damaged, packed in a way we do not read, or larger than the limits.
        """
        info = self._parts[part]
        if info.flag_bits & 0x1:
            raise InputFileError(f"{self.name}: the part {part} is locked with a password: save the workbook without one")
        if info.compress_type not in (STORED, DEFLATED):
            raise InputFileError(f"{self.name}: the part {part} is packed in an uncommon way: {SAVE_AS}")
        if info.file_size > LARGEST_PART or self._inflated + info.file_size > LARGEST_PACKAGE:  # as declared: not a byte of it
            raise self._too_large(part, LARGEST_PART)
        packed = self._packed(info, part)
        if info.file_size > len(packed) * MOST_INFLATED + SLICE:
            raise self._damaged(f"the part {part} declares more than it can hold")
        total, check = 0, 0
        for piece in self._inflate(packed, info.compress_type, part):
            total += len(piece)
            self._inflated += len(piece)
            if total > LARGEST_PART or self._inflated > LARGEST_PACKAGE:
                raise self._too_large(part, LARGEST_PART)
            if total > info.file_size:
                raise self._damaged(f"the part {part} is larger than the package says")
            check = zlib.crc32(piece, check)
            yield piece
        if check != info.CRC or total != info.file_size:
            raise self._damaged(f"the part {part} does not match its checksum")

    def _packed(self, info: zipfile.ZipInfo, part: str) -> memoryview:
        start = info.header_offset
        header = self._data[start : start + 30]
        if len(header) < 30 or header[:4] != b"PK\x03\x04":
            raise self._damaged(f"the part {part} is not where the package says")
        name_length, extra_length = struct.unpack("<HH", header[26:30])
        begin = start + 30 + name_length + extra_length
        if begin + info.compress_size > len(self._data):
            raise self._damaged(f"the part {part} is cut short")
        return memoryview(self._data)[begin : begin + info.compress_size]

    def _inflate(self, packed: memoryview, how: int, part: str) -> Iterator[bytes]:
        if how == STORED:
            for start in range(0, len(packed), CHUNK):
                yield bytes(packed[start : start + CHUNK])
            return
        inflater = zlib.decompressobj(-15)
        try:
            for start in range(0, len(packed), SLICE):
                waiting: bytes | memoryview = packed[start : start + SLICE]
                while len(waiting) and not inflater.eof:
                    if piece := inflater.decompress(waiting, CHUNK):
                        yield piece
                    waiting = inflater.unconsumed_tail
            while not inflater.eof and (piece := inflater.decompress(b"", CHUNK)):
                yield piece
        except zlib.error as fault:
            raise self._damaged(f"the part {part} cannot be inflated") from fault

    def read(self, part: str, at_most: int = 16 << 20) -> bytes:
        """A whole part that is small by nature (relations, styles), refused where it declares a document type."""
        if self._parts[part].file_size > at_most:
            raise self._too_large(part, at_most)
        pieces, total = [], 0
        for piece in self.chunks(part):
            total += len(piece)
            if total > at_most:
                raise self._too_large(part, at_most)
            pieces.append(piece)
        data = b"".join(pieces)
        self.refuse_doctype(data, part)
        return data

    def look_through(self, part: str, strict: bool = True, mark: bytes = b"") -> bool:
        """Inflates a part that a reader will want whole (shared texts, styles); `strict` refuses a document type.

        Where `mark` stands in the part, the part's name is added to `marked`.

        False where the part counts more elements than it has room for: a reader that believes the count asks for memory
        that is not there, and is ended for it by the system.
        """
        total, tail, counted, counts = 0, b"", 0, COUNT
        for piece in self.chunks(part):
            if strict:
                self.refuse_doctype(tail + piece, part)
            if not total and TEXTS.search(piece):
                counts = UNIQUE
            if strict and b"ount" in piece:
                counted = max([counted, *(int(digits or b"9" * 20) for digits in counts.findall(tail + piece))])
            if mark and part not in self.marked and mark in tail + piece:
                self.marked.add(part)
            total, tail = total + len(piece), piece[-80:]
        return counted <= total // SHORTEST_ELEMENT

    def refuse_doctype(self, data: bytes, part: str) -> None:
        """A document type can define entities that grow without end; no workbook needs one."""
        if (b"<!" in data or b"\0" in data) and any(mark in data for mark in DOCTYPES):
            raise InputFileError(f"{self.name}: the part {part} declares a document type, which is not safe to read: {SAVE_AS}")
