"""The grounding side of a control panel below its power circuit: from the supply to the ground bar, on to heater panels, plate and door."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from batch.drawings.drawing_list import NAME, Plan
from batch.drawings.symbols import shape

STEP = 40  # from conductor to conductor
BAR = 560  # x of the ground bar, upright, not where a power bar stands


class GroundWire(NamedTuple):
    """`of`: the box or supply that it comes from or goes to: "supply 1", "1-P1"; "" = the control panel's own metal."""

    start: str
    end: str
    colour: str
    size: str
    of: str = ""


def draw_grounds(plan: Plan, grounds: Sequence[GroundWire], y: int, left: int, right: int) -> int:
    """Conductors that come in at `left` and go out at `right`, and what stays in the box; returns the y below."""
    incoming = [one for one in grounds if one.of.startswith("supply")]
    outgoing = [one for one in grounds if one.of and one not in incoming]
    within = [one for one in grounds if not one.of]
    reach, top = shape("terminal").reach, y
    for at, one in enumerate(incoming):
        level = top + STEP * at
        plan.symbol("terminal", left, level, of=one.start)
        words = f"{one.of} {one.start.rpartition(' ')[2]}, {one.colour}, {one.size}"
        plan.say(left + 14, level - 6, words, NAME, at=(left, level))
        _to_bar(plan, left + reach, level)
    for at, one in enumerate(outgoing):
        level = top + STEP * at
        plan.symbol("terminal", right, level, of=one.end)
        plan.say(right + 20, level + 6, f"{one.end}, {one.colour}, {one.size}", NAME, at=(right, level))
        _to_bar(plan, right - reach, level)
    below = top + STEP * max(len(incoming), len(outgoing), 1)
    for at, one in enumerate(within):
        level = below + STEP * at
        words = f"{one.end}, {one.colour}, {one.size}"
        plan.symbol("terminal", BAR + 120, level, of=one.end)
        _to_bar(plan, BAR + 120 - reach, level)
        plan.say(BAR + 134, level + 6, words, NAME, at=(BAR + 120, level))
    below += STEP * len(within)
    plan.line((BAR, top - 12), (BAR, below), style="bar")
    plan.symbol("earth", BAR, below, of=grounds[0].end)
    bar = incoming[0].end if incoming else grounds[0].start
    plan.say(BAR - 16, below + 6, bar, NAME, "r", at=(BAR, below))
    return below + 40


def _to_bar(plan: Plan, x: int, y: int) -> None:
    plan.line((min(x, BAR), y), (max(x, BAR), y))
    plan.symbol("junction", BAR, y, of="ground")
