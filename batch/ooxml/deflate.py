"""Deflate (RFC 1951): packages and pictures are packed with it, the same bytes for the same content.

By zlib at its quickest. ISA-L took a fifth of its time, a tenth of a whole run, but once in some ten thousand pictures it packed the same
dots into other bytes, and that results are the same byte for byte is promised.
"""

from __future__ import annotations

import zlib
from typing import Protocol

EFFORT = 1  # of compression; more takes longer for a tenth of the bytes
WINDOW = 15  # bits of the window: the largest


class Packer(Protocol):
    def compress(self, data: bytes, /) -> bytes: ...
    def flush(self) -> bytes: ...


def packer(*, bare: bool) -> Packer:
    """What packs one stream; `bare` without the two bytes before and the check sum behind it, as packages have it (RFC 1950 adds them)."""
    return zlib.compressobj(EFFORT, zlib.DEFLATED, -WINDOW if bare else WINDOW)
