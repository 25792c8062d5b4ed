"""Every conductor of a tank's control circuit, terminal to terminal, and the strips it lands on.

Inside the control panel the points of one potential are joined in a row, in the order of the ladder. A field wire has a terminal of its
own at each end; between limits the strip's jumpers carry the string on.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from batch.control_results import COMMON, ControlWire, Element, Rung, StripTerminal
from batch.sizing.control_ladder import ALARM, FIRST, STRING_IN, STRING_OUT, LadderPlan, LimitStrip

SPARE_A_BANK = 2  # terminals of the control strip; common practice, no source
GIVEN = 10  # terminals before the temperature contacts
BY_OTHERS = "control power"  # what lands on the strip from outside where others give it
JUMPER = "jumper"  # in place of a colour


def strip_terminals(plan: LadderPlan, rungs: Sequence[Rung]) -> Iterator[StripTerminal]:
    """Terminals of the control strip, then of each strip of limits."""
    strip = plan.marks.of("control terminals")
    wire: dict[str, str] = {}
    outside: dict[str, str] = {}
    for element in (element for rung in rungs for element in rung.elements):
        for point, potential in zip(element.points, (element.start, element.end), strict=True):
            wire[point] = potential
            if element.field:
                outside[point] = element.mark
            elif comes_from_outside(element, plan):
                outside[point] = f"{BY_OTHERS}, by others"
    string = next(rung for rung in rungs if rung.line == 104)
    first, last = (f"{strip}:{number}" for number in (STRING_IN[1], STRING_OUT[1]))
    wire.setdefault(first, string.elements[0].start)
    wire.setdefault(last, next(one.end for one in reversed(string.elements) if one.kind == "limit") if plan.strips else "")
    contacts = max((int(point.split(":")[1]) for point in wire if point.startswith(f"{strip}:")), default=GIVEN)
    for (_, number), potential in zip(alarm_terminals(), alarm_wires(rungs), strict=True):
        wire[f"{strip}:{number}"], outside[f"{strip}:{number}"] = potential, "alarm, to others"
    jumpers = {one.points[0] for one in string.elements if one.kind == "jumper"}
    for number in range(1, max(contacts, GIVEN + 2) + SPARE_A_BANK * len(plan.banks) + 1):
        point = f"{strip}:{number}"
        said = outside.get(point, "")
        if plan.strips and point in (first, last):
            to = plan.strips[0] if point == first else plan.strips[-1]
            said = f"{to.box} {to.strip}:{1 if point == first else to.terminals}"
        yield StripTerminal(plan.box, strip, number, wire.get(point, ""), said, point in jumpers)
    limits: dict[str, list[Element]] = {}
    for element in string.elements:
        if element.kind == "limit":
            limits.setdefault(element.box, []).append(element)
    for one in plan.strips:
        yield from _limit_terminals(one, limits[one.box])


def comes_from_outside(element: Element, plan: LadderPlan) -> bool:
    """Control power of others, on two terminals of the strip."""
    return element.kind == "supply" and not plan.primary


def alarm_terminals() -> tuple[tuple[int, int], tuple[int, int]]:
    """Strip and number of the two terminals that others take the alarm contact from."""
    strip, first = ALARM
    return (strip, first), (strip, first + 1)


def alarm_wires(rungs: Sequence[Rung]) -> tuple[str, str]:
    contact = next(rung for rung in rungs if rung.line == FIRST + 6).elements[0]
    return contact.start, contact.end


def _limit_terminals(strip: LimitStrip, limits: Sequence[Element]) -> Iterator[StripTerminal]:
    """Of one strip; `limits` are those in its box."""
    own = [element for element in limits if element.points[0].startswith(f"{strip.strip}:")]
    wires = [own[0].start, *(one.end for one in own)]
    for number in range(1, strip.terminals + 1):
        at = (number - 1) // 2
        mark = "" if number in (1, strip.terminals) else own[(number - 2) // 2].mark
        yield StripTerminal(strip.box, strip.strip, number, wires[at], mark, number % 2 == 1)


def control_wires(plan: LadderPlan, rungs: Sequence[Rung], size: str) -> Iterator[ControlWire]:
    """Every conductor: those inside the control panel by wire number, the string through the strips, leads of limits and of what stands
    in the field."""
    colour = plan.marks.marking.colours
    strips = {one.strip for one in plan.strips if one.box == plan.box}
    points: dict[str, list[str]] = {}
    purpose: dict[str, str] = {}
    for rung in rungs:
        for element in rung.elements:
            for point, number in zip(element.points, (element.start, element.end), strict=True):
                if element.box == plan.box and point.split(":")[0] not in strips and not (plan.transformer and number in plan.primary):
                    points.setdefault(number, []).append(point)
                    purpose.setdefault(number, rung.says)
    control = plan.marks.of("control terminals")
    if plan.strips:
        string = next(rung for rung in rungs if rung.line == 104).elements
        limits = [one for one in string if one.kind == "limit"]
        points[limits[0].start].append(f"{control}:{STRING_IN[1]}")
        points.setdefault(limits[-1].end, []).insert(0, f"{control}:{STRING_OUT[1]}")
    for (_, place), wire in zip(alarm_terminals(), alarm_wires(rungs), strict=True):
        points[wire].append(f"{control}:{place}")
    foreign = not plan.primary
    taps = dict(zip(plan.primary, plan.tap, strict=True)) if plan.primary else {}
    for element in rungs[0].elements:
        for point, number in zip(element.points, (element.start, element.end), strict=True):
            if number in taps:
                hue = colour["grounded" if number.endswith("N") else "power"]
                yield ControlWire(plan.box, taps[number], plan.box, point, number, hue, size, rungs[0].says)
    for number, some in points.items():
        hue = _colour(number, colour, foreign)
        for start, end, bridged in _in_a_row(list(dict.fromkeys(some)), f"{control}:"):
            yield ControlWire(plan.box, start, plan.box, end, number, *((JUMPER, "") if bridged else (hue, size)), purpose[number])
    for element in (element for rung in rungs for element in rung.elements if element.kind == "ground"):
        yield ControlWire(plan.box, element.points[0], plan.box, element.points[1], COMMON, colour["ground"], size, "grounded here, once")
    yield from _string_wires(plan, rungs, size, colour["foreign"] if foreign else colour["control"])
    for element in (element for rung in rungs for element in rung.elements):
        if element.field and element.kind != "limit":
            yield from _to_the_field(element, element.mark, plan, size, element.kind)
        elif comes_from_outside(element, plan):
            yield from _to_the_field(element, BY_OTHERS, plan, size, BY_OTHERS)


def _to_the_field(element: Element, mark: str, plan: LadderPlan, size: str, purpose: str) -> Iterator[ControlWire]:
    for lead, (point, number) in enumerate(zip(element.points, (element.start, element.end), strict=True), start=1):
        hue = _colour(number, plan.marks.marking.colours, not plan.primary)
        yield ControlWire(plan.box, point, "field", f"{mark}:{lead}", number, hue, size, purpose)


def _in_a_row(points: Sequence[str], strip: str) -> Iterator[tuple[str, str, bool]]:
    """Points of one potential joined one to the next, and whether by a jumper in the bridging channel of the strip. A terminal takes one
    wire a side: those of a potential stand last, so that no wire from within goes on from them, and of several the first alone has one, the
    others hang on jumpers, past those in between."""
    on_strip = [point for point in points if point.startswith(strip)]
    if len(points) > 2 and on_strip != [points[0]]:
        points = [*(point for point in points if point not in on_strip), *on_strip]
    bridges = on_strip if len(points) > 2 else []
    for start, end in pairwise(points):
        yield start, end, start in bridges and end in bridges


def _colour(number: str, colour: dict[str, str], foreign: bool) -> str:
    """Of a control wire: what others keep live is told apart; the alarm contact is theirs."""
    if number == COMMON:
        return colour["grounded"]
    if number == "ground":
        return colour["ground"]
    return colour["foreign"] if foreign or number.startswith("107") else colour["control"]


def _string_wires(plan: LadderPlan, rungs: Sequence[Rung], size: str, hue: str) -> Iterator[ControlWire]:
    control = plan.marks.of("control terminals")
    limits = [one for rung in rungs if rung.line == 104 for one in rung.elements if one.kind == "limit"]
    box, point, at = plan.box, f"{control}:{STRING_IN[1]}", 0
    for strip in plan.strips:
        own = limits[at : at + len(strip.numbers)]
        at += len(own)
        yield ControlWire(box, point, strip.box, f"{strip.strip}:1", own[0].start, hue, size, "limit string")
        for place, limit in enumerate(own, start=1):
            yield _jumper(strip, 2 * place - 1, limit.start)
            for lead, (end, number) in enumerate(zip(limit.points, (limit.start, limit.end), strict=True), start=1):
                yield ControlWire(strip.box, end, "field", f"{limit.mark}:{lead}", number, hue, size, "over-temperature limit")
        last = strip.terminals
        yield _jumper(strip, last - 1, own[-1].end)
        box, point = strip.box, f"{strip.strip}:{last}"
    if plan.strips:
        yield ControlWire(box, point, plan.box, f"{control}:{STRING_OUT[1]}", limits[-1].end, hue, size, "limit string")


def _jumper(strip: LimitStrip, first: int, number: str) -> ControlWire:
    return ControlWire(strip.box, f"{strip.strip}:{first}", strip.box, f"{strip.strip}:{first + 1}", number, JUMPER, "", "limit string")
