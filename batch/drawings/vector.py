"""A drawing list turned into SVG: what `raster` stamps as pixels stands here as lines, and words as words that can be found and copied."""

from __future__ import annotations

from collections.abc import Iterable
from functools import lru_cache
from xml.sax.saxutils import escape, quoteattr

from batch.drawings.drawing_list import Drawing, Segment
from batch.drawings.raster import DASHES, THICK
from batch.drawings.shapes import Arc
from batch.drawings.symbols import UPRIGHT, Stroke, shape, turned

FAMILY = "Source Sans Pro"
LARGER = 1.06  # this type runs narrower than that of the pictures, which words are measured by
INK = "#000"
HALF_TURN = 180
Point = tuple[float, float]
ANCHORS = {"l": "start", "m": "middle", "r": "end"}


def svg(drawing: Drawing) -> str:
    """The drawing as one SVG element, in the units of its list: the same text for the same drawing."""
    styles = [style for style in THICK if any(line.style == style for line in drawing.lines)]
    inked, solid, blank = _symbols(drawing)
    parts = [
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {drawing.width} {drawing.height}" '
        f'font-family={quoteattr(FAMILY)} style="font-kerning:none" fill="none" stroke={quoteattr(INK)}>',  # as words are measured
        *(_lines(style, (line for line in drawing.lines if line.style == style)) for style in styles),
        _path(blank, 'fill="#fff" stroke="none"'),
        _path(inked, 'stroke-width="2" stroke-linejoin="round" stroke-linecap="square"'),
        _path(solid, f'fill="{INK}" stroke="none"'),
    ]
    parts.append(f'<g fill="{INK}" stroke="none">')
    for words in drawing.words:
        turn = f' transform="rotate(-90 {words.x} {words.y})"' if words.turned else ""
        anchor = "" if words.anchor == "l" else f' text-anchor="{ANCHORS[words.anchor]}"'
        parts.append(
            f'<text x="{words.x}" y="{words.y}" font-size="{words.size * LARGER:.4g}"{anchor}{turn}>'
            f"{escape(_printable(words.text))}</text>"
        )
    return "\n".join(part for part in (*parts, "</g>", "</svg>") if part)


def _printable(text: str) -> str:
    """Without the signs that no XML may hold."""
    return text if text.isprintable() else "".join(sign if sign.isprintable() else " " for sign in text)


def _lines(style: str, lines: Iterable[Segment]) -> str:
    dashes = f' stroke-dasharray="{" ".join(map(str, DASHES[style]))}"' if style in DASHES else ""
    path = " ".join(f"M{line.x1} {line.y1}L{line.x2} {line.y2}" for line in lines)
    return f'<path d="{path}" stroke-width="{THICK[style]}" stroke-linecap="{"butt" if dashes else "square"}"{dashes}/>'


def _symbols(drawing: Drawing) -> tuple[list[str], list[str], list[str]]:
    """Every symbol's strokes, filled outlines and outlines that hide what lies under them, where they stand."""
    inked: list[str] = []
    solid: list[str] = []
    blank: list[str] = []
    for symbol in drawing.symbols:
        upright = symbol.level or symbol.kind in UPRIGHT
        for form, into in zip(_form(symbol.kind, drawing.standard, upright), (inked, solid, blank), strict=True):
            if form:
                into.append(f"M{symbol.x} {symbol.y}{form}")
    return inked, solid, blank


@lru_cache(maxsize=256)
def _form(kind: str, standard: str, level: bool) -> tuple[str, str, str]:
    """Strokes, filled and hiding outlines of a symbol as steps from its centre, "" = it has none."""
    form = shape(kind, standard)
    return _steps(form.strokes, level), _steps(form.solid, level, "Z"), _steps(form.blank, level, "Z")


def _steps(strokes: Iterable[Stroke], level: bool, close: str = "") -> str:
    at, said = (0.0, 0.0), ""
    for stroke in strokes:
        points = stroke if level else turned(stroke)
        step, begins = _step(at, points[0])
        said += f"m{step}"
        at = begins
        if isinstance(stroke, Arc):
            across, down = stroke.radii if level else stroke.radii[::-1]
            clockwise = int((stroke.swept > 0) == level)  # a quarter turn here is a mirror
            whole = abs(stroke.swept) >= HALF_TURN * 2
            for end in (points[len(points) // 2], points[-1]) if whole else points[-1:]:
                step, at = _step(at, end)
                said += f"a{across:.4g} {down:.4g} 0 {int(not whole and abs(stroke.swept) > HALF_TURN)} {clockwise} {step}"
        else:
            for point in points[1:]:
                step, at = _step(at, point)
                said += f"l{step}"
        said += close
        at = begins if close else at
    return said


def _step(at: Point, to: Point) -> tuple[str, Point]:
    """From one point to the next, to a hundredth, and where that really ends."""
    x, y = round(to[0] - at[0], 2) + 0.0, round(to[1] - at[1], 2) + 0.0
    return f"{x:g} {y:g}", (at[0] + x, at[1] + y)


def _path(strokes: Iterable[str], look: str) -> str:
    path = "".join(strokes)
    return f'<path d="{path}" {look}/>' if path else ""
