"""Deflate (RFC 1951): packages and pictures are packed with it, the same bytes for the same content.

By zlib-ng: two fifths of zlib's time for pictures, and fewer bytes. ISA-L was quicker still, but once in some ten thousand pictures it
packed the same dots into other bytes, and that results are the same byte for byte is promised.
"""

from __future__ import annotations

import zlib
from typing import Protocol

try:
    from zlib_ng import zlib_ng
except ImportError:  # in a tree that was brought up to date and not installed again: the same content, by zlib
    zlib_ng = None  # type: ignore[assignment]

EFFORT = 2  # of zlib-ng: 1 is a third quicker, and makes a third more bytes; 3 takes longer for a twenty-fifth of them
WINDOW = 15  # bits of the window: the largest


class Packer(Protocol):
    def compress(self, data: bytes, /) -> bytes: ...
    def flush(self) -> bytes: ...


def packer(*, bare: bool) -> Packer:
    """What packs one stream; `bare` without the two bytes before and the check sum behind it, as packages have it (RFC 1950 adds them)."""
    window = -WINDOW if bare else WINDOW
    if zlib_ng is None:
        return zlib.compressobj(1, zlib.DEFLATED, window)
    return zlib_ng.compressobj(EFFORT, zlib_ng.DEFLATED, window)
