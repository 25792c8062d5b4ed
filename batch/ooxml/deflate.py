"""Deflate (RFC 1951): packages and pictures are packed with it, the same bytes for the same content.

By zlib-ng: two fifths of zlib's time for pictures, and fewer bytes. ISA-L was quicker still, but once in some ten thousand pictures it
packed the same dots into other bytes, and that results are the same byte for byte is promised.
"""

from __future__ import annotations

import zlib
from collections.abc import Callable, Iterable, Iterator
from typing import Protocol

try:
    from zlib_ng import zlib_ng
except ImportError:  # in a tree that was brought up to date and not installed again: the same content, by zlib
    zlib_ng = None  # type: ignore[assignment]

EFFORT = 2  # of zlib-ng: 1 is a third quicker, and makes a third more bytes; 3 takes longer for a twenty-fifth of them
WINDOW = 15  # bits of the window: the largest
OPEN_END = zlib.Z_SYNC_FLUSH  # for a stream that others are put behind: ends on a whole byte, and no block is marked as the last


class Packer(Protocol):
    def compress(self, data: bytes, /) -> bytes: ...
    def flush(self, mode: int = zlib.Z_FINISH, /) -> bytes: ...


def packer(*, bare: bool) -> Packer:
    """What packs one stream; `bare` without the two bytes before and the check sum behind it, as packages have it (RFC 1950 adds them)."""
    window = -WINDOW if bare else WINDOW
    if zlib_ng is None:
        return zlib.compressobj(1, zlib.DEFLATED, window)
    return zlib_ng.compressobj(EFFORT, zlib_ng.DEFLATED, window)


def unpacked(pieces: Iterable[bytes]) -> Iterator[bytes]:
    """What was packed without marks, the last block still open."""
    opener = zlib.decompressobj(-WINDOW)
    for piece in pieces:
        yield opener.decompress(piece)


def check_sum_of_both(first: int, second: int, length: int, plain: Callable[[], Iterable[bytes]]) -> int:
    """CRC-32 of what has the check sum `first` and `length` bytes of `second` behind it; `plain` gives these where no library adds sums."""
    if zlib_ng is not None:
        return zlib_ng.crc32_combine(first, second, length)
    for piece in plain():
        first = zlib.crc32(piece, first)
    return first
