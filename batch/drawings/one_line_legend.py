"""The legend below a one-line diagram: its symbols, and what its figures are."""

from __future__ import annotations

from batch.drawings.drawing_list import MARGIN, NAME, Plan
from batch.drawings.lettering import lacks
from batch.drawings.one_line_words import LEADING, WIDE


def legend(plan: Plan, y: int) -> int:
    """What the symbols and figures mean; returns the height of the sheet."""
    plan.line((MARGIN, y), (WIDE - MARGIN, y), style="link")
    y, x = y + 26, MARGIN + 30
    fuse = any(symbol.kind == "fuse" for symbol in plan.symbols)
    breaker = any(symbol.kind == "breaker" for symbol in plan.symbols)
    kinds = [("transformer", "transformer")] if any(symbol.kind == "transformer" for symbol in plan.symbols) else []
    kinds += [("fuse", "fuses"), ("disconnect", "disconnect or switch")] if fuse else [("disconnect", "disconnect")]
    kinds += [("breaker", "breaker")] if breaker else []
    for kind, words in [*kinds, ("contactor", "contactor")]:
        plan.symbol(kind, x, y, level=True, of="legend")
        plan.say(x + 36, y + 7, words, NAME)
        x += 280 if len(plan.wording.of(words)) > 12 else 190
    plan.line((x - 24, y), (x + 24, y), style="bar")
    plan.say(x + 36, y + 7, "bus", NAME)
    plan.line((x + 110, y), (x + 158, y), style="edge")
    plan.say(x + 170, y + 7, "one enclosure", NAME)
    notes = "kA: fault current available there, rounded up. A: design current of the fullest line."
    notes += " A thick box: HOLD, not released for fabrication."
    notes += " mA: its residual-current device." if any(" mA" in words.text for words in plan.words) else ""
    notes += f" Symbols: {plan.standard}; one line stands for all lines of a circuit."
    notes += " Signs that the type lacks stand as ?." if any(lacks(words.text) for words in plan.words) else ""
    y += 14
    for line in plan.wrapped(notes, NAME, WIDE - 2 * MARGIN):
        y += LEADING
        plan.say(MARGIN, y, line, NAME)
    return y + MARGIN
