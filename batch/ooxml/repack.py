"""A package with some of its parts changed and every other part copied as it is packed, byte for byte."""

from __future__ import annotations

import struct
import zlib
from collections.abc import Mapping
from io import BytesIO
from zipfile import ZIP_DEFLATED, ZIP_STORED, ZipFile, ZipInfo

from batch.errors import CannotFill

# Layouts of a zip file: APPNOTE 6.3, sections 4.3.7, 4.3.12 and 4.3.16
LOCAL, CENTRAL, END = struct.Struct("<4s5H3L2H"), struct.Struct("<4s6H3L5H2L"), struct.Struct("<4s4H2LH")
SIZES_FOLLOW, UTF8 = 0x0008, 0x0800
LARGEST = 0xFFFF_FFFE
LARGE_SIZES = 0x0001  # kind of an extra field


def repacked(data: bytes, changed: Mapping[str, bytes]) -> bytes:
    """The package `data` with the parts of `changed` (name -> new content) put in the place of the old ones.

    Raises:
        CannotFill: a part of `changed` is not in the package, or the package is too large to be written in the plain form.
    """
    out = bytearray()
    directory = bytearray()
    left = set(changed)
    with ZipFile(BytesIO(data)) as package:
        infos, comment = package.infolist(), package.comment
    for info in infos:
        part = info.filename.replace("\\", "/").lstrip("/")
        packed, crc, size, how = _packed(data, info), info.CRC, info.file_size, info.compress_type
        if part in changed:
            left.discard(part)
            new = changed[part]
            how = ZIP_DEFLATED if how != ZIP_STORED else how
            packed, crc, size = _deflated(new) if how == ZIP_DEFLATED else new, zlib.crc32(new), len(new)
        name = info.orig_filename.encode("utf-8" if info.flag_bits & UTF8 else "cp437")
        flags = info.flag_bits & ~SIZES_FOLLOW
        year, month, day, hour, minute, second = info.date_time
        date, time = (year - 1980) << 9 | month << 5 | day, hour << 11 | minute << 5 | second // 2
        extra = _without_large_sizes(info.extra)
        at = len(out)
        if max(at, len(packed), size) > LARGEST:
            raise CannotFill("it is too large to be copied: split it")
        common = (flags, how, time, date, crc, len(packed), size, len(name))
        out += LOCAL.pack(b"PK\x03\x04", info.extract_version, *common, 0) + name + packed
        directory += CENTRAL.pack(
            b"PK\x01\x02", info.create_version | info.create_system << 8, info.extract_version, *common, len(extra), len(info.comment),
            0, info.internal_attr, info.external_attr, at,
        )  # fmt: skip
        directory += name + extra + info.comment
    if left:
        raise CannotFill(f"its part {min(left)} is not where it was")
    end = END.pack(b"PK\x05\x06", 0, 0, len(infos), len(infos), len(directory), len(out), len(comment))
    return bytes(out + directory + end + comment)


def _packed(data: bytes, info: ZipInfo) -> bytes:
    """The bytes of a part as they are packed."""
    start = info.header_offset
    name_length, extra_length = struct.unpack("<HH", data[start + 26 : start + 30])
    begin = start + LOCAL.size + name_length + extra_length
    packed = data[begin : begin + info.compress_size]
    if data[start : start + 4] != b"PK\x03\x04" or len(packed) != info.compress_size:
        raise CannotFill(f"its part {info.filename[:60]} is damaged: save it again")
    return packed


def _deflated(content: bytes) -> bytes:
    packer = zlib.compressobj(6, zlib.DEFLATED, -15)
    return packer.compress(content) + packer.flush()


def _without_large_sizes(extra: bytes) -> bytes:
    """The extra fields of a part without the one for sizes that the plain form cannot hold."""
    kept, at = b"", 0
    while at + 4 <= len(extra):
        kind, length = struct.unpack("<HH", extra[at : at + 4])
        if kind != LARGE_SIZES:
            kept += extra[at : at + 4 + length]
        at += 4 + length
    return kept
