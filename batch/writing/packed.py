"""Stretches of a part that are packed as they come, long before the part is put together, and joined into it as they are.

A sheet's rows are known before its head is (widths, links, dimensions), and take ten to thirty times the room unpacked. So they are packed
at once, in blocks that look back at nothing before them (RFC 1951, 3.2.3: a block may refer to earlier ones; a fresh packer has none).
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import chain
from tempfile import SpooledTemporaryFile
from typing import Any
from zipfile import ZipFile
from zlib import crc32

from batch.ooxml.deflate import OPEN_END, check_sum_of_both, packer, unpacked

SPOOL = 1 << 20  # packed bytes of one stretch kept in memory; a longer one waits on the disk
PIECE = 1 << 20  # bytes copied at once


class PackedBytes:
    """Bytes of a part, kept packed."""

    def __init__(self) -> None:
        self._packer = packer(bare=True)
        self._kept = SpooledTemporaryFile(max_size=SPOOL)  # noqa: SIM115 - closed when it is joined into its part
        self.length, self.check_sum, self._ended = 0, 0, False

    def write(self, data: bytes) -> None:
        self.length += len(data)
        self.check_sum = crc32(data, self.check_sum)
        self._kept.write(self._packer.compress(data))

    def end(self) -> None:
        """Nothing more comes: what the packer still holds is written, on a whole byte and with no mark of a last block."""
        if not self._ended:
            self._kept.write(self._packer.flush(OPEN_END))
            del self._packer
            self._ended = True

    def packed(self) -> Iterator[bytes]:
        """What stands in the package, piece by piece."""
        self.end()
        self._kept.seek(0)
        while piece := self._kept.read(PIECE):
            yield piece

    def plain(self) -> Iterator[bytes]:
        """The bytes as they were given."""
        return unpacked(self.packed())

    def close(self) -> None:
        self._kept.close()


def pack_part(package: ZipFile, name: str, stretches: list[bytes | PackedBytes], *, long: bool) -> None:
    """One part made of stretches in their order; `long`: its sizes are told in eight bytes (ZIP64).

    Rests on these inner parts of the standard library's writer of packages, which has no way to take what is packed already: `_compressor`,
    `_fileobj`, `_crc`, `_file_size`, `_compress_size`.
    """
    with package.open(name, "w", force_zip64=long) as part:
        part._compressor = packer(bare=True)  # type: ignore[attr-defined]
        for stretch in stretches:
            if isinstance(stretch, bytes):
                part.write(stretch)
            else:
                _join(part, stretch)


def _join(part: Any, stretch: PackedBytes) -> None:
    """The stretch behind what was written so far; whatever follows refers to nothing in it either."""
    for piece in chain([part._compressor.flush(OPEN_END)], stretch.packed()):
        part._fileobj.write(piece)
        part._compress_size += len(piece)
    part._crc = check_sum_of_both(part._crc, stretch.check_sum, stretch.length, stretch.plain)
    part._file_size += stretch.length
    part._compressor = packer(bare=True)
    stretch.close()
