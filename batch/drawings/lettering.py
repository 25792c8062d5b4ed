"""Type for schematics: the font that Pillow carries inside itself (Aileron Regular), so that pictures do not hang on a machine's fonts.

It has plain Latin letters, digits and signs only. Pillow is loaded by the first word that is measured.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator
from functools import lru_cache
from math import ceil
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from PIL.ImageFont import FreeTypeFont

ALSO = frozenset("·°")  # what it has beside ASCII that we use
_TIES = re.compile(r"(?<=\d) (?=(?:V|A|kA|kW|AWG|kcmil|ft|m)\b|%)|(?<=\d) (?=x \d)|(?<=\d x) (?=\d)")  # the spaces in "2 x 12 AWG", "600 V"
_TIED = "\N{NO-BREAK SPACE}"


@lru_cache(maxsize=16)
def font(size: int) -> FreeTypeFont:
    from PIL import ImageFont

    found = ImageFont.load_default(size)
    if not isinstance(found, ImageFont.FreeTypeFont):
        raise RuntimeError("Pillow was built without FreeType, so that drawings cannot be lettered")
    return found


@lru_cache(maxsize=4096)
def plain(text: str) -> str:
    """The text in signs that the font has: accents dropped, anything else a "?"."""
    if text.isascii() and text.isprintable():
        return text
    bare = (sign for sign in unicodedata.normalize("NFKD", text) if not unicodedata.combining(sign))
    return "".join(sign if sign in ALSO or (sign.isascii() and sign.isprintable()) else "?" for sign in bare)


def lacks(text: str) -> bool:
    """Whether the font lacks signs of a text, so that it reads otherwise than it should; mm2 for mm² reads as well."""
    return plain(text) != text.replace("²", "2")


@lru_cache(maxsize=1024)
def advance(sign: str, size: int) -> int:
    """Pixels from the start of a sign to where the next may begin: whole, and the same beside any other sign: it is laid out plainly."""
    return ceil(font(size).getlength(sign))


class _Advances(dict[str, int]):
    """`advance` of every sign of one size, each asked for once."""

    def __init__(self, size: int) -> None:
        self._size = size

    def __missing__(self, sign: str) -> int:
        found = self[sign] = advance(sign, self._size)
        return found


_advances = lru_cache(maxsize=16)(_Advances)


@lru_cache(maxsize=4096)
def width(text: str, size: int) -> int:
    """Pixels that a text takes across: the sum of its signs, since each is measured and drawn once and used again."""
    return sum(map(_advances(size).__getitem__, plain(text)))


@lru_cache(maxsize=4096)
def wrap(text: str, size: int, room: int) -> tuple[str, ...]:
    """Lines of at most `room` pixels, a number kept with its unit; a word wider than that is broken, so that nothing is cut off. A plant's
    drawings say the same over and over."""
    return tuple(_wrapped(text, size, room))


def _wrapped(text: str, size: int, room: int) -> Iterator[str]:
    text = " ".join(text.split())
    if width(text, size) <= room:
        if text:
            yield text
        return
    line, used, space = "", 0, advance(" ", size)
    for tied in _TIES.sub(_TIED, text).split(" "):
        word = tied.replace(_TIED, " ")
        long = width(word, size)
        if line and used + space + long <= room:
            line, used = f"{line} {word}", used + space + long
            continue
        if line:
            yield line
        line, used = word, long
        while used > room:
            fits = next(count for count in range(len(line) - 1, 0, -1) if count == 1 or width(line[:count], size) <= room)
            yield line[:fits]
            line = line[fits:]
            used = width(line, size)
    if line:
        yield line
