"""The legend of a drawing: each symbol and each kind of frame that stands on it, once, with what it means; below it, or beside one for a
whole sheet that is taller than the sheet is."""

from __future__ import annotations

from collections.abc import Sequence, Set

from batch.drawings.drawing_list import MARGIN, NAME, WIDTH, Drawing, Plan
from batch.drawings.lettering import width
from batch.drawings.shapes import POLE_PITCH
from batch.drawings.symbols import UPRIGHT, shape
from batch.rules import OURS, Wording

LEGEND = "legend"  # what its symbols stand for
HALF, GAP, NEXT = 30, 8, 26  # room to either side of a symbol, from it to its words, from its words to the next symbol
ROW, THREE_POLES = 40, 2 * POLE_PITCH
SHEET = 0.68  # height of a sheet's room against its width
FRAMES = {
    "edge": "enclosure", "case": "outside the enclosure", "link": "moved together; in a wire: others alike", "bar": "rail, block or bar",
}  # fmt: skip
MEANINGS = {  # in the order of the current
    "transformer": "transformer",
    "disconnect": "disconnect",
    "fuse": "fuse",
    "breaker": "breaker",
    "contactor": "contactor's main contact",
    "winding": "transformer winding",
    "element": "heating element",
    "element 3~": "3-phase heater; its inside is the maker's",
    "over_temperature_limit": "over-temperature limit, opens when hot",
    "level cutoff": "level cutoff, opens when low",
    "temperature contact": "temperature contact, calls for heat",
    "button": "push button",
    "selector": "selector",
    "make contact": "contact that closes",
    "break contact": "contact that opens",
    "coil": "coil",
    "lamp": "pilot light",
    "load": "device with its own supply",
    "terminal": "terminal",
    "junction": "joined",
    "earth": "ground",
    "arrow": "goes on",
}


def with_legend(drawing: Drawing, wording: Wording = OURS) -> Drawing:
    """The drawing with its legend, in the words of `wording`."""
    plan = Plan(list(drawing.lines), list(drawing.symbols), list(drawing.words), drawing.standard, wording)
    shown = _shown(symbols_of(drawing))
    below = _height(_rows(shown, drawing.width, wording))
    beside = max(_long(meaning, wording) for _, meaning in shown) + 2 * MARGIN
    as_wide = max(drawing.width, (drawing.height + below) / SHEET)
    if drawing.width > WIDTH and max(drawing.width + beside, drawing.height / SHEET) < as_wide:
        return _beside(plan, drawing, shown, drawing.width + beside)
    plan.line((MARGIN, drawing.height), (drawing.width - MARGIN, drawing.height), style="link")
    _in_rows(plan, _rows(shown, drawing.width, wording), drawing.height)
    return plan.done(drawing.height + below, drawing.width)


def legend_alone(symbols: Set[str], standard: str, wide: int, wording: Wording = OURS) -> Drawing:
    """One legend for several drawings by one standard, what stands on any of them, as wide as this."""
    plan = Plan(standard=standard, wording=wording)
    rows = _rows(_shown(symbols), wide, wording)
    _in_rows(plan, rows, 0)
    return plan.done(_height(rows), wide)


def symbols_of(drawing: Drawing) -> frozenset[str]:
    """Kinds of symbols and of lines that stand on a drawing."""
    return frozenset({symbol.kind for symbol in drawing.symbols} | {line.style for line in drawing.lines})


def _in_rows(plan: Plan, rows: Sequence[Sequence[tuple[str, str]]], y: int) -> None:
    for row in rows:
        x = MARGIN
        for kind, meaning in row:
            _placed(plan, kind, meaning, x, y + ROW // 2 + 4)
            x += _long(meaning, plan.wording) + NEXT
        y += _tall(row)


def _beside(plan: Plan, drawing: Drawing, shown: Sequence[tuple[str, str]], wide: int) -> Drawing:
    y = 4 * ROW
    for kind, meaning in shown:
        _placed(plan, kind, meaning, drawing.width + MARGIN, y)
        y += _tall([(kind, meaning)])
    return plan.done(max(drawing.height, y), wide)


def _shown(symbols: Set[str]) -> list[tuple[str, str]]:
    return [one for one in (MEANINGS | FRAMES).items() if one[0] in symbols]


def _rows(shown: Sequence[tuple[str, str]], wide: int, wording: Wording) -> list[list[tuple[str, str]]]:
    rows: list[list[tuple[str, str]]] = [[]]
    used = MARGIN
    for one in shown:
        long = _long(one[1], wording)
        if rows[-1] and used + long > wide - MARGIN:
            rows.append([])
            used = MARGIN
        rows[-1].append(one)
        used += long + NEXT
    return rows


def _long(meaning: str, wording: Wording) -> int:
    return 2 * HALF + GAP + width(wording.of(meaning), NAME)


def _tall(row: Sequence[tuple[str, str]]) -> int:
    return ROW + THREE_POLES * any(kind == "element 3~" for kind, _ in row)


def _height(rows: Sequence[Sequence[tuple[str, str]]]) -> int:
    return sum(map(_tall, rows)) + MARGIN


def _placed(plan: Plan, kind: str, meaning: str, left: int, y: int) -> None:
    """A symbol between two ends of wire, and its meaning at the right of it."""
    x = left + HALF
    plan.say(x + HALF + GAP, y + 7, meaning, NAME)
    if kind in FRAMES:
        plan.line((x - 24, y), (x + 24, y), style=kind)
        return
    reach = 0 if kind == "arrow" else shape(kind, plan.standard).reach
    if kind != "earth" and reach < 24:
        plan.line((x - 24, y), (x - reach, y))
        plan.line((x + reach, y), (x + 24, y))
    plan.symbol(kind, x, y - 8 if kind == "earth" else y, level=kind not in UPRIGHT, of=LEGEND)
