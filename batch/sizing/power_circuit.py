"""The power side of a control panel: poles of disconnects, panel feeder devices and contactors, and the conductors between them.

Wires by their potential: 1L1 supply 1 line 1, 1D1 behind its disconnect, 1B1 behind its back-up contactor, 2F1 behind the device of panel
feeder 2, 2R1 behind its residual-current device, 2T1 behind its contactor; 1LN the neutral of supply 1, 2N that of panel feeder 2. Common
practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import NamedTuple

from batch.control_results import ControlFeed, ControlSupply, ControlWire, Element
from batch.rules.markings import Marking
from batch.sizing.marks import pole_of

LINES = "ABC"
SUPPLY_WIRE, POWER_WIRE, FEEDER_WIRE = POWER_WIRES = ("supply", "power", "panel feeder")  # what power conductors of a control panel are for
BEHIND = "FR"  # stages behind a panel feeder's device
BAR = "bar"  # in place of a jumper that no conductor of the table serves
NEUTRAL_BAR = "neutral bar"  # of a panel that a neutral comes to, and then N, or 2N where there are several
NEUTRAL_IN, NEUTRAL_OUT = "N", "TN"  # terminals of the pole that opens the neutral
RESIDUAL = "residual-current device"


class FeederRun(NamedTuple):
    """A panel feeder's conductors: size in words, sets, the box that they end in and the terminals there ("PDB1:L1")."""

    size: str
    box: str
    ends: tuple[str, ...]


def behind_disconnect(supply: ControlSupply, line: int, feeds: Sequence[ControlFeed]) -> tuple[str, str]:
    """Wire and terminal where what is not switched by a contactor is taken from: behind the disconnect, or behind its own fuses, which are
    those of its only panel feeder and numbered as its phases come.
    """
    fused = next((feed for feed in feeds if feed.supply == supply.number), None) if supply.fusible else None
    return _after_fuse(fused, line) if fused else f"{supply.number}D{line}", f"{supply.mark}:T{line}"


def neutral_wire(supply: ControlSupply) -> str:
    """The neutral as it comes in: beside 1L1, 1L2 the wire 1LN, since 1N is that of panel feeder 1."""
    return f"{supply.number}LN"


def neutral_behind(supply: ControlSupply) -> str:
    """The neutral on its bar: another wire where the disconnect opens it, like that of a line 1D1."""
    return f"{supply.number}DN" if supply.neutral_pole else neutral_wire(supply)


def power_elements(supplies: Sequence[ControlSupply], feeds: Sequence[ControlFeed], box: str) -> Iterator[Element]:
    """Every pole, supply by supply, then panel feeder by panel feeder."""
    first_on = {feed.supply: feed for feed in reversed(feeds)}
    for supply in supplies:
        fused = first_on.get(supply.number) if supply.fusible else None
        for line in range(1, supply.lines + 1):
            kind, after, of = "disconnect", _after_fuse(fused, line) if fused else f"{supply.number}D{line}", ""
            if fused and LINES[line - 1] != supply.grounded:
                kind, of = "fusible disconnect", pole_of(fused.device, line)
            points = (f"{supply.mark}:L{line}", f"{supply.mark}:T{line}")
            yield Element(supply.mark, kind, f"{supply.number}L{line}", after, points, of, box=box)
            if supply.backup:
                points = (f"{supply.backup}:L{line}", f"{supply.backup}:T{line}")
                yield Element(supply.backup, "contactor pole", after, f"{supply.number}B{line}", points, supply.backup, False, box=box)
        if supply.neutral_pole:
            points = (f"{supply.mark}:{NEUTRAL_IN}", f"{supply.mark}:{NEUTRAL_OUT}")
            yield Element(supply.mark, "disconnect", neutral_wire(supply), neutral_behind(supply), points, "", box=box)
    by_number = {supply.number: supply for supply in supplies}
    for feed in feeds:
        supply = by_number[feed.supply]
        for pole, letter in enumerate(feed.on, start=1):
            before = _ahead_of(supply, feed, LINES.index(letter) + 1)
            if feed.device and not supply.fusible and not (letter == supply.grounded and feed.kind == "fuse"):
                kind, mark = "power fuse" if feed.kind == "fuse" else "breaker", pole_of(feed.device, pole)
                after = f"{feed.number}F{pole}"
                yield Element(mark, kind, before, after, (f"{mark}:1", f"{mark}:2"), box=box, bank=feed.bank)
                before = after
            if feed.residual:
                points = (f"{feed.residual}:L{pole}", f"{feed.residual}:T{pole}")
                yield Element(feed.residual, RESIDUAL, before, f"{feed.number}R{pole}", points, box=box, bank=feed.bank)
                before = f"{feed.number}R{pole}"
            mark, after = feed.contactor, f"{feed.number}T{pole}"
            points = (f"{mark}:L{pole}", f"{mark}:T{pole}")
            yield Element(mark, "contactor pole", before, after, points, mark, False, box=box, bank=feed.bank)
        if feed.residual and feed.neutral:
            points = (f"{feed.residual}:{NEUTRAL_IN}", f"{feed.residual}:{NEUTRAL_OUT}")
            yield Element(feed.residual, RESIDUAL, neutral_behind(supply), f"{feed.number}N", points, box=box, bank=feed.bank)


def neutral_bar_of(feed: ControlFeed, supply: ControlSupply) -> str:
    """Where heaters of a bank without a panel find their neutral: behind a residual-current device none may meet another's."""
    return f"{NEUTRAL_BAR} {feed.residual}" if feed.residual and feed.neutral else supply.neutral_bar


def _after_fuse(feed: ControlFeed, line: int) -> str:
    """Behind the only panel feeder's own fuse: by its pole on that line."""
    letter = LINES[line - 1]
    return f"{feed.number}F{feed.on.index(letter) + 1 if letter in feed.on else line}"


def _ahead_of(supply: ControlSupply, feed: ControlFeed, line: int) -> str:
    if supply.backup:
        return f"{supply.number}B{line}"
    return _after_fuse(feed, line) if supply.fusible else f"{supply.number}D{line}"


def power_wires(
    supplies: Sequence[ControlSupply], feeds: Sequence[ControlFeed], runs: Sequence[FeederRun], incoming: Sequence[str],
    elements: Sequence[Element], *, box: str, marking: Marking
) -> Iterator[ControlWire]:  # fmt: skip
    """Every power conductor: from the field to the disconnect, through the block to the devices, on to the contactors, and to the heater
    panels. `incoming` sizes by supply, which go on behind its disconnect; `runs` by feed."""
    for supply, size in zip(supplies, incoming, strict=True):
        for line in range(1, supply.lines + 1):
            hue = phase_colour(supply, line, marking)
            yield ControlWire(
                "field", f"supply {supply.number} L{line}", box, f"{supply.mark}:L{line}", f"{supply.number}L{line}", hue, size, SUPPLY_WIRE
            )
    joins: dict[str, list[str]] = {}
    for supply in supplies:
        if supply.block:
            stage = "B" if supply.backup else "D"
            for line in range(1, supply.lines + 1):
                joins[f"{supply.number}{stage}{line}"] = []
    of_lines = (element for element in elements if element.points[0].partition(":")[2] != NEUTRAL_IN)
    for element in of_lines:
        for at, wire in enumerate((element.start, element.end)):
            joins.setdefault(wire, []).append(element.points[at])
    blocks = {f"{supply.number}{'B' if supply.backup else 'D'}": supply.block_mark for supply in supplies if supply.block}
    sizes = dict(zip((supply.number for supply in supplies), incoming, strict=True))
    feed_sizes = {feed.number: run.size for feed, run in zip(feeds, runs, strict=True)}
    for wire, points in joins.items():
        number, stage, pole_of = int(wire[:-2]), wire[-2], wire[-1]
        if stage in "LT":
            continue  # one point each: in from the supply, out to the heaters
        block = blocks.get(wire[:-1])
        size = feed_sizes[number] if stage in BEHIND else sizes[number]
        hue = marking.colours["grounded_line" if _is_grounded(stage, number, int(pole_of), supplies, feeds) else "power"]
        if block:
            jumper = supplies[number - 1].jumper
            into, *out = _through(points, block, pole_of, box)
            yield ControlWire(box, *into, wire, hue, size, POWER_WIRE)
            yield from (ControlWire(box, *ends, wire, hue if jumper else BAR, jumper, POWER_WIRE) for ends in out)
        else:
            first, *rest = points
            yield from (ControlWire(box, first, box, one, wire, hue, size, POWER_WIRE) for one in rest)
    for feed, run in zip(feeds, runs, strict=True):
        supply = supplies[feed.supply - 1]
        for pole, end in enumerate(run.ends, start=1):
            letter = feed.on[pole - 1]
            hue = phase_colour(supply, LINES.index(letter) + 1, marking)
            if run.box == box and letter != supply.grounded:
                hue = marking.colours["power"]  # its panel stands in the same box
            yield ControlWire(box, f"{feed.contactor}:T{pole}", run.box, end, f"{feed.number}T{pole}", hue, run.size, FEEDER_WIRE)
    yield from _neutral_wires(supplies, feeds, runs, incoming, box=box, hue=marking.colours["grounded"])


def _neutral_wires(
    supplies: Sequence[ControlSupply], feeds: Sequence[ControlFeed], runs: Sequence[FeederRun], incoming: Sequence[str],
    *, box: str, hue: str
) -> Iterator[ControlWire]:  # fmt: skip
    """From the field to the neutral bar of each supply that brings a neutral, through the disconnect where that opens it, and on to the
    heater panels, through the residual-current device of a panel feeder that has one: no fuse."""
    for supply, size in zip(supplies, incoming, strict=True):
        if supply.neutral:
            start, bar = f"supply {supply.number} N", supply.neutral_bar
            into = f"{supply.mark}:{NEUTRAL_IN}" if supply.neutral_pole else bar
            yield ControlWire("field", start, box, into, neutral_wire(supply), hue, size, SUPPLY_WIRE)
            if supply.neutral_pole:
                yield ControlWire(box, f"{supply.mark}:{NEUTRAL_OUT}", box, bar, neutral_behind(supply), hue, size, POWER_WIRE)
    for feed, run in zip(feeds, runs, strict=True):
        if feed.neutral:
            supply = supplies[feed.supply - 1]
            start = supply.neutral_bar
            if feed.residual:
                yield ControlWire(box, start, box, f"{feed.residual}:{NEUTRAL_IN}", neutral_behind(supply), hue, run.size, POWER_WIRE)
                start = f"{feed.residual}:{NEUTRAL_OUT}"
            if run.ends:
                yield ControlWire(box, start, feed.tag, f"{NEUTRAL_BAR} N", f"{feed.number}N", hue, run.size, FEEDER_WIRE)
            elif feed.residual:
                yield ControlWire(box, start, box, neutral_bar_of(feed, supply), f"{feed.number}N", hue, run.size, POWER_WIRE)


def _is_grounded(stage: str, number: int, pole: int, supplies: Sequence[ControlSupply], feeds: Sequence[ControlFeed]) -> bool:
    """Whether a wire behind a disconnect or a back-up contactor, or behind a panel feeder's device, is the grounded line."""
    if stage not in BEHIND:
        return LINES[pole - 1] == supplies[number - 1].grounded
    on, grounded = feeds[number - 1].on, supplies[feeds[number - 1].supply - 1].grounded
    return (on[pole - 1] if pole <= len(on) else LINES[pole - 1]) == grounded


def _through(points: Sequence[str], block: str, line: str, box: str) -> Iterator[tuple[str, str, str]]:
    """In to the block's line side, out from its load side to each device."""
    yield points[0], box, f"{block}:L{line}"
    for one in points[1:]:
        yield f"{block}:T{line}", box, one


def power_sizes(wires: Iterable[ControlWire]) -> tuple[str, ...]:
    """Sizes of a control panel's power conductors, which its drawing shows."""
    return tuple(wire.size for wire in wires if wire.purpose in POWER_WIRES)


def phase_colour(supply: ControlSupply, line: int, marking: Marking) -> str:
    """Of a conductor between boxes, as the job asks, else by the trade's habit for its volts; inside a box power has one colour. A grounded
    line has its own."""
    if LINES[line - 1] == supply.grounded:
        return marking.colours["grounded_line"]
    if supply.colours:
        return supply.colours[(line - 1) % len(supply.colours)]
    return marking.phase_colour(line, supply.volts_v)
