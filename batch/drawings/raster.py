"""A drawing list turned into a PNG with Pillow: four greys at 200 dots to the inch, the same bytes for the same drawing.

Each symbol and each letter is drawn once and stamped from then on. Pillow was chosen by measurement (2 cores, Python 3.11, a panel of 24
poles): about 5 ms a picture, against 35 ms for a schematic library that makes only SVG and 60 ms more to turn that into a PNG.

Stamping goes past `Image.paste`, whose checks take three times as long as the stamping, straight to what lies under it (`Image.im`,
Pillow 11 to 13); `tests/test_raster.py` compares with the stock calls and fails when they change.
"""

from __future__ import annotations

import struct
import zlib
from functools import lru_cache
from itertools import pairwise
from typing import TYPE_CHECKING, NamedTuple

from batch.drawings.drawing_list import DOTS_PER_INCH, Drawing
from batch.drawings.lettering import advance, font, plain, width
from batch.drawings.symbols import UPRIGHT, Stroke, shape, turned
from batch.ooxml.deflate import packer

if TYPE_CHECKING:
    from PIL._imaging import ImagingCore
    from PIL.Image import Image

FINE = 4  # symbols are drawn this much larger and reduced, for smooth slants and rings
STAMP = 160  # pixels across the sheet that a symbol is drawn on before it is cut out
TALL = 8  # a text's stamp is cut from this much more than the type's height
THICK = {"wire": 2, "bar": 4, "link": 1, "case": 1, "edge": 1}
DASHES = {"link": (6, 5), "case": (5, 4), "edge": (22, 5, 3, 5)}  # drawn, left out, drawn, left out
BITS = 2  # to the pixel: black, two greys, white
WHITE = 3
FILTER = 8 // BITS  # pixels to the left of each row that stand for the byte before it; see _packed


class Stamp(NamedTuple):
    """`ink` is stamped black and `blank` white before it; both are of a size and placed with their pixel dx, dy on the point."""

    ink: ImagingCore
    blank: ImagingCore | None
    dx: int
    dy: int
    wide: int
    high: int


class Lettering(NamedTuple):
    """A text's `ink`, cut out of its stamp at `box`, since every pixel costs whenever it is stamped; `long`: pixels that the text takes."""

    ink: ImagingCore
    long: int
    box: tuple[int, int, int, int]


MOST_KEPT = 5000  # pictures; some 10 kB each

_kept: dict[Drawing, bytes] | None = None


def keep_pictures() -> None:
    """From now on a drawing that comes again is not drawn again: for who sizes the same job over and over in one process."""
    global _kept
    _kept = {} if _kept is None else _kept


def png(drawing: Drawing) -> bytes:
    """The picture of a drawing."""
    if _kept is None:
        return _drawn(drawing)
    if len(_kept) > MOST_KEPT:
        _kept.clear()
    if (found := _kept.get(drawing)) is None:
        found = _kept[drawing] = _drawn(drawing)
    return found


def _drawn(drawing: Drawing) -> bytes:
    from PIL import Image

    page = Image.new("P", (drawing.width + FILTER, drawing.height), WHITE)
    put = page.im.paste  # (colour, box, mask)
    for x1, y1, x2, y2, style in drawing.lines:
        # Half a thickness more at each end than the points, so that corners close.
        thick = THICK[style]
        if x1 > x2:
            x1, x2 = x2, x1
        if y1 > y2:
            y1, y2 = y2, y1
        left, top = x1 - thick // 2 + FILTER, y1 - thick // 2
        wide, high = x2 - x1 + thick, y2 - y1 + thick
        box = (left, top, left + wide, top + high)
        if style in DASHES:
            put(0, box, _dashes(style, wide, high))
        else:
            put(0, box)
    for kind, x, y, level, _ in drawing.symbols:
        stamp = _symbol(kind, level, drawing.standard)
        left, top = x - stamp.dx + FILTER, y - stamp.dy
        box = (left, top, left + stamp.wide, top + stamp.high)
        if stamp.blank is not None:
            put(WHITE, box, stamp.blank)
        put(0, box, stamp.ink)
    for x, y, words, size, anchor, upward, _ in drawing.words:
        ink, long, (left, top, right, bottom) = _text(words, size, upward)
        before = long // 2 if anchor == "m" else long if anchor == "r" else 0
        x, y = (x - size, y + before - long) if upward else (x - before, y - size)
        x += FILTER
        put(0, (x + left, y + top, x + right, y + bottom), ink)
    put(0, (0, 0, FILTER, drawing.height))
    return _packed(page)


@lru_cache(maxsize=512)
def _dashes(style: str, wide: int, high: int) -> ImagingCore:
    """A dashed strip, one pixel thick."""
    from PIL import Image

    pattern, longest = _PATTERNS[style], max(wide, high)
    return Image.frombytes("L", (wide, high), (pattern * (longest // len(pattern) + 1))[:longest]).im


_PATTERNS = {style: bytes(ink for at, run in enumerate(runs) for ink in [0 if at % 2 else 255] * run) for style, runs in DASHES.items()}


@lru_cache(maxsize=64)
def _symbol(kind: str, level: bool, standard: str) -> Stamp:
    from PIL import Image as pictures
    from PIL import ImageDraw

    form = shape(kind, standard)
    lay = (lambda stroke: stroke) if level or kind in UPRIGHT else turned
    half = STAMP // 2

    def inked(strokes: tuple[Stroke, ...], solid: tuple[Stroke, ...]) -> Image:
        large = pictures.new("L", (STAMP * FINE, STAMP * FINE), 0)
        pen = ImageDraw.Draw(large)
        for stroke in solid:
            pen.polygon(_large(lay(stroke), half), fill=255)
        for stroke in strokes:
            points = _large(lay(stroke), half)
            for start, end in pairwise(points):
                pen.polygon(_quad(start, end), fill=255)
        return large.reduce(FINE)

    ink = inked(form.strokes, form.solid)
    left, top, right, bottom = ink.getbbox() or (0, 0, STAMP, STAMP)
    blank = inked((), form.blank).crop((left, top, right, bottom)) if form.blank else None
    ink = ink.crop((left, top, right, bottom))
    return Stamp(ink.im, None if blank is None else blank.im, half - left, half - top, *ink.size)


def _large(stroke: Stroke, half: int) -> list[tuple[float, float]]:
    return [((x + half) * FINE, (y + half) * FINE) for x, y in stroke]


def _quad(start: tuple[float, float], end: tuple[float, float]) -> list[tuple[float, float]]:
    """The outline of one straight stroke, two pixels thick, with its ends drawn out so that corners close."""
    (x1, y1), (x2, y2) = start, end
    long = ((x2 - x1) ** 2 + (y2 - y1) ** 2) ** 0.5 or 1.0
    dx, dy = (x2 - x1) / long * FINE, (y2 - y1) / long * FINE  # one pixel of the picture
    x1, y1, x2, y2 = x1 - dx / 2, y1 - dy / 2, x2 + dx / 2, y2 + dy / 2
    if dx == 0 or dy == 0:  # a polygon's outline is drawn too: without its last row and column, or it would lean or thicken
        left, right = min(x1, x2) - abs(dy), max(x1, x2) + abs(dy) - 1
        top, bottom = min(y1, y2) - abs(dx), max(y1, y2) + abs(dx) - 1
        return [(left, top), (right, top), (right, bottom), (left, bottom)]
    return [(x1 - dy, y1 + dx), (x1 + dy, y1 - dx), (x2 + dy, y2 - dx), (x2 - dy, y2 + dx)]


@lru_cache(maxsize=512)
def _text(text: str, size: int, upward: bool) -> Lettering:
    """A text to be stamped, sign after sign; its base line is `size` pixels below its top, or right of its left where it reads upward."""
    from PIL import Image

    long = max(width(text, size), 1)
    whole = Image.new("L", (long, size + TALL), 0)
    put, at = whole.im.paste, 0
    for sign in plain(text):
        mask, left, top, right, bottom, on = _sign(sign, size)
        put(255, (at + left, top, at + right, bottom), mask)
        at += on
    ink = (whole.transpose(Image.Transpose.ROTATE_90) if upward else whole).im
    box = ink.getbbox() or (0, 0, 1, 1)
    return Lettering(ink.crop(box), long, box)


@lru_cache(maxsize=1024)
def _sign(sign: str, size: int) -> tuple[ImagingCore, int, int, int, int, int]:
    """A sign's ink, the left, top, right and bottom of it in a text that begins with it, and where the next sign begins."""
    ink, (left, down) = font(size).getmask2(sign, "L", anchor="ls")
    wide, high = ink.size
    return ink, left, size + down, left + wide, size + down + high, advance(sign, size)


_PALETTE = bytes(round(grey * 255 / WHITE) for grey in range(WHITE + 1) for _ in range(3))
_DOTS_PER_METRE = round(DOTS_PER_INCH / 0.0254)


def _packed(page: Image) -> bytes:
    """The page as a PNG (ISO/IEC 15948): no clock, no program name.

    Written here because Pillow's own writer takes several times as long for it. Every row begins with a byte that names its filter, 0 for
    none: the page's first pixels in each row, black, are that byte.
    """
    across, down = page.width - FILTER, page.height
    squeeze = packer(bare=False)
    return b"".join(
        (
            b"\x89PNG\r\n\x1a\n",
            _chunk(b"IHDR", struct.pack(">IIBBBBB", across, down, BITS, 3, 0, 0, 0)),
            _chunk(b"PLTE", _PALETTE),
            _chunk(b"pHYs", struct.pack(">IIB", _DOTS_PER_METRE, _DOTS_PER_METRE, 1)),
            _chunk(b"IDAT", squeeze.compress(page.tobytes("raw", f"P;{BITS}")) + squeeze.flush()),
            _chunk(b"IEND", b""),
        )
    )


def _chunk(kind: bytes, data: bytes) -> bytes:
    return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))
