"""A drawing list turned into SVG: what `raster` stamps as pixels stands here as lines, and words as words that can be found and copied."""

from __future__ import annotations

from collections.abc import Iterable
from xml.sax.saxutils import escape, quoteattr

from batch.drawings.drawing_list import Drawing, Segment, Symbol
from batch.drawings.raster import DASHES, THICK
from batch.drawings.symbols import UPRIGHT, Stroke, shape, turned

FAMILY = "Source Sans Pro"
LARGER = 1.06  # this type runs narrower than that of the pictures, which words are measured by
INK = "#000"
ANCHORS = {"l": "start", "m": "middle", "r": "end"}


def svg(drawing: Drawing) -> str:
    """The drawing as one SVG element, in the units of its list: the same text for the same drawing."""
    styles = [style for style in THICK if any(line.style == style for line in drawing.lines)]
    inked, solid, blank = _symbols(drawing)
    parts = [
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {drawing.width} {drawing.height}" '
        f'font-family={quoteattr(FAMILY)} fill="none" stroke={quoteattr(INK)}>',
        *(_lines(style, (line for line in drawing.lines if line.style == style)) for style in styles),
        _path(blank, 'fill="#fff" stroke="none"', closed=True),
        _path(inked, 'stroke-width="2" stroke-linejoin="round" stroke-linecap="square"'),
        _path(solid, f'fill="{INK}" stroke="none"', closed=True),
    ]
    for words in drawing.words:
        turn = f' transform="rotate(-90 {words.x} {words.y})"' if words.turned else ""
        anchor = "" if words.anchor == "l" else f' text-anchor="{ANCHORS[words.anchor]}"'
        parts.append(
            f'<text x="{words.x}" y="{words.y}" font-size="{words.size * LARGER:.4g}" fill="{INK}" stroke="none"{anchor}{turn}>'
            f"{escape(_printable(words.text))}</text>"
        )
    return "\n".join(part for part in (*parts, "</svg>") if part)


def _printable(text: str) -> str:
    """Without the signs that no XML may hold."""
    return "".join(sign if sign.isprintable() else " " for sign in text)


def _lines(style: str, lines: Iterable[Segment]) -> str:
    dashes = f' stroke-dasharray="{" ".join(map(str, DASHES[style]))}"' if style in DASHES else ""
    path = " ".join(f"M{line.x1} {line.y1}L{line.x2} {line.y2}" for line in lines)
    return f'<path d="{path}" stroke-width="{THICK[style]}" stroke-linecap="{"butt" if dashes else "square"}"{dashes}/>'


def _symbols(drawing: Drawing) -> tuple[list[Stroke], list[Stroke], list[Stroke]]:
    """Every symbol's strokes, filled outlines and outlines that hide what lies under them, where they stand."""
    inked: list[Stroke] = []
    solid: list[Stroke] = []
    blank: list[Stroke] = []
    for symbol in drawing.symbols:
        form = shape(symbol.kind, drawing.standard)
        for strokes, into in ((form.strokes, inked), (form.solid, solid), (form.blank, blank)):
            into.extend(_placed(symbol, stroke) for stroke in strokes)
    return inked, solid, blank


def _placed(symbol: Symbol, stroke: Stroke) -> Stroke:
    laid = stroke if symbol.level or symbol.kind in UPRIGHT else turned(stroke)
    return tuple((symbol.x + x, symbol.y + y) for x, y in laid)


def _path(strokes: list[Stroke], look: str, closed: bool = False) -> str:
    if not strokes:
        return ""
    drawn = ("M" + "L".join(f"{x:.4g} {y:.4g}" for x, y in stroke) + ("Z" if closed else "") for stroke in strokes)
    return f'<path d="{" ".join(drawn)}" {look}/>'
