"""Deflate (RFC 1951) as quickly as the machine can: packages and pictures are packed with it.

By the ISA-L library, which takes a fifth of zlib's time for about the same bytes; by zlib where no build of it exists for a machine.
Both give the same content back; the packed bytes of two machines may differ.
"""

from __future__ import annotations

import zlib
from typing import Protocol

try:
    from isal import isal_zlib
except ImportError:  # a rare processor
    isal_zlib = None  # type: ignore[assignment]

EFFORT, EFFORT_OF_ZLIB = 1, 3  # of compression; more takes several times as long for a tenth of the bytes
WINDOW = 15  # bits of the window: the largest


class Packer(Protocol):
    def compress(self, data: bytes, /) -> bytes: ...
    def flush(self) -> bytes: ...


def packer(*, bare: bool) -> Packer:
    """What packs one stream; `bare` without the two bytes before and the check sum behind it, as packages have it (RFC 1950 adds them)."""
    window = -WINDOW if bare else WINDOW
    if isal_zlib is None:
        return zlib.compressobj(EFFORT_OF_ZLIB, zlib.DEFLATED, window)
    return isal_zlib.compressobj(EFFORT, zlib.DEFLATED, window)
