"""A drawing list turned into a PNG by Pillow: four greys at 200 dots to the inch, the same bytes for the same drawing.

Symbols and words are made once each and stamped. Pillow was chosen by measurement (2 cores, Python 3.11, a panel of 24 poles): about
5 ms a picture against 35 ms for a schematic library that only makes SVG and 60 ms to turn that into a PNG.
"""

from __future__ import annotations

from functools import lru_cache
from io import BytesIO
from itertools import pairwise
from typing import TYPE_CHECKING, NamedTuple

from batch.report.schematic_font import font, plain
from batch.report.schematic_list import DOTS_PER_INCH, Drawing, Line, Words
from batch.report.schematic_symbols import UPRIGHT, Stroke, shape, turned

if TYPE_CHECKING:
    from PIL.Image import Image

FINE = 4  # symbols are drawn this much larger and reduced, for smooth slants and rings
STAMP = 160  # pixels across the sheet that a symbol is drawn on before it is cut out
TALL = 8  # a name's stamp is cut from this much more than the type's height
THICK = {"wire": 2, "bar": 4, "link": 1, "case": 1, "edge": 1}
DASHES = {"link": (6, 5), "case": (5, 4), "edge": (22, 5, 3, 5)}  # drawn, left out, drawn, left out
BITS = 2  # to the pixel: black, two greys, white
WHITE = 3
EFFORT = 3  # of compression; more halves the speed for a tenth of the bytes


class Stamp(NamedTuple):
    """`ink` is stamped black and `blank` white before it; both are placed with their pixel dx, dy on the point."""

    ink: Image
    blank: Image | None
    dx: int
    dy: int


def png(drawing: Drawing) -> bytes:
    """The picture of a drawing."""
    from PIL import Image

    page = Image.new("P", (drawing.width, drawing.height), WHITE)
    page.putpalette(_PALETTE)
    for line in drawing.lines:
        _line(page, line)
    for symbol in drawing.symbols:
        stamp = _symbol(symbol.kind, symbol.level)
        corner = (symbol.x - stamp.dx, symbol.y - stamp.dy)
        if stamp.blank is not None:
            page.paste(WHITE, corner, stamp.blank)
        page.paste(0, corner, stamp.ink)
    for words in drawing.words:
        _words(page, words)
    return _packed(page)


def _line(page: Image, line: Line) -> None:
    left, right = sorted((line.x1, line.x2))
    top, bottom = sorted((line.y1, line.y2))
    thick = THICK[line.style]
    half = thick // 2
    level = top == bottom
    # Half a thickness more at each end than the points, so that corners close.
    box = (left - half, top - half, right + thick - half, bottom + thick - half)
    if line.style not in DASHES:
        page.paste(0, box)
        return
    dashes = _dashes(line.style, level, max(page.size))
    page.paste(0, box, dashes.crop((0, 0, box[2] - box[0], box[3] - box[1])))


@lru_cache(maxsize=64)
def _dashes(style: str, level: bool, longest: int) -> Image:
    """A dashed strip, one pixel thick, to cut dashed lines from."""
    from PIL import Image

    pattern = bytes(value for at, run in enumerate(DASHES[style]) for value in [0 if at % 2 else 255] * run)
    strip = (pattern * (longest // len(pattern) + 1))[:longest]
    return Image.frombytes("L", (longest, 1) if level else (1, longest), strip)


@lru_cache(maxsize=64)
def _symbol(kind: str, level: bool) -> Stamp:
    from PIL import Image, ImageDraw

    form = shape(kind)
    lay = (lambda stroke: stroke) if level or kind in UPRIGHT else turned
    half = STAMP // 2

    def inked(strokes: tuple[Stroke, ...], solid: tuple[Stroke, ...]) -> Image:
        large = Image.new("L", (STAMP * FINE, STAMP * FINE), 0)
        pen = ImageDraw.Draw(large)
        for stroke in solid:
            pen.polygon(_large(lay(stroke), half), fill=255)
        for stroke in strokes:
            points = _large(lay(stroke), half)
            for start, end in pairwise(points):
                pen.polygon(_quad(start, end), fill=255)
        return large.reduce(FINE)

    ink = inked(form.strokes, form.solid)
    left, top, right, bottom = ink.getbbox()
    blank = inked((), form.blank).crop((left, top, right, bottom)) if form.blank else None
    return Stamp(ink.crop((left, top, right, bottom)), blank, half - left, half - top)


def _large(stroke: Stroke, half: int) -> list[tuple[float, float]]:
    return [((x + half) * FINE, (y + half) * FINE) for x, y in stroke]


def _quad(start: tuple[float, float], end: tuple[float, float]) -> list[tuple[float, float]]:
    """The outline of one straight stroke, two pixels thick, with its ends drawn out so that corners close."""
    (x1, y1), (x2, y2) = start, end
    long = ((x2 - x1) ** 2 + (y2 - y1) ** 2) ** 0.5 or 1.0
    dx, dy = (x2 - x1) / long * FINE, (y2 - y1) / long * FINE  # one pixel of the picture
    x1, y1, x2, y2 = x1 - dx / 2, y1 - dy / 2, x2 + dx / 2, y2 + dy / 2
    # A polygon's outline is drawn too, so the last row and column of large pixels are left out.
    return [(x1 - dy, y1 + dx - 1), (x1 + dy, y1 - dx), (x2 + dy - 1, y2 - dx), (x2 - dy - 1, y2 + dx - 1)]


def _words(page: Image, words: Words) -> None:
    stamp = _written(plain(words.text), words.size, words.turned)
    long = stamp.ink.height if words.turned else stamp.ink.width
    back = {"l": 0, "m": long // 2, "r": long}[words.anchor]
    corner = (words.x - stamp.dx, words.y - long + back) if words.turned else (words.x - back, words.y - stamp.dy)
    page.paste(0, corner, stamp.ink)


@lru_cache(maxsize=4096)
def _written(text: str, size: int, upward: bool) -> Stamp:
    """A text as a stamp; dx or dy is how far its base line is inside it."""
    from PIL import Image, ImageDraw

    type_ = font(size)
    across = round(type_.getlength(text) + 0.5)
    ink = Image.new("L", (max(across, 1), size + TALL), 0)
    ImageDraw.Draw(ink).text((0, size), text, fill=255, font=type_, anchor="ls")
    if upward:
        return Stamp(ink.transpose(Image.Transpose.ROTATE_90), None, size, 0)
    return Stamp(ink, None, 0, size)


_PALETTE = bytes(round(grey * 255 / WHITE) for grey in range(WHITE + 1) for _ in range(3))


def _packed(page: Image) -> bytes:
    """The name makes Pillow load its PNG writer and none of its others."""
    out = BytesIO()
    out.name = "schematic.png"
    page.save(out, bits=BITS, compress_level=EFFORT, dpi=(DOTS_PER_INCH, DOTS_PER_INCH))
    return out.getvalue()
