"""Grounding conductors of a control panel and of a heater panel that no wire number has: from where to where, and their size.

Plate and door: of the size that the largest supply brings, common practice, no source; the maker of the box may ask for more.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from batch.control_results import TankControl
from batch.drawings.control_grounds import GroundWire
from batch.papers.job_at_hand import AtHand
from batch.results import PanelDesign, Wires
from batch.rules import load
from batch.schedules.designations import PanelMarks, marks_of
from batch.schedules.hanging import hung_on
from batch.schedules.row_words import ground_size
from batch.sizing.control_supplies import wires_in

BY_LIST = "size by the wiring list"
METAL = ("plate", "door, its metal parts")


def fed_from(at: AtHand, control: TankControl) -> str:
    """ "way F-1-W1", of several supplies "way F-1-W1, feeder F-2"."""
    ways = at.ways_to(control.tank)
    return ", ".join(f"way {ways[one.feeder].tag}" if one.feeder in ways else f"feeder {one.feeder}" for one in control.supplies)


def grounds_of_control(at: AtHand, control: TankControl) -> tuple[GroundWire, ...]:
    """From each supply to the bar, on to each heater panel with a box of its own, and to plate and door."""
    marks, found = marks_of(at.project), []
    coming = [incoming_wires(at, control, supply.feeder) for supply in control.supplies]
    for supply, wires in zip(control.supplies, coming, strict=True):
        start = f"field supply {supply.number} {marks.ground}"
        found.append(GroundWire(start, marks.ground_bar, marks.ground_colour, _size(wires), f"supply {supply.number}"))
    if control.settings.boxes != "one":
        for one in hung_on(control, at.banks_of(control.tank)):
            if not one.feed.single:
                size = _size(one.design.panel_feeder_wires)
                end = f"{one.feed.tag} {marks.ground_bar}"
                found.append(GroundWire(marks.ground_bar, end, marks.ground_colour, size, one.feed.tag))
    largest = _largest(at, coming)
    found += [GroundWire(marks.ground_bar, what, marks.ground_colour, largest) for what in METAL]
    return tuple(found)


def grounds_to_draw(at: AtHand, control: TankControl) -> tuple[GroundWire, ...]:
    """The same, and those to heaters that start from this box: of a single-circuit bank, and of a heater panel that stands in it. The list
    of the bank or of the panel's type has them, heater by heater."""
    marks, found = marks_of(at.project), grounds_of_control(at, control)
    to_heaters = []
    for one in hung_on(control, at.banks_of(control.tank)):
        if one.feed.single or control.settings.boxes == "one":
            end = f"heaters of {'bank ' * one.feed.single}{one.feed.tag}, each"
            to_heaters.append(GroundWire(marks.ground_bar, end, marks.ground_colour, _size(one.design.branch.wires), one.feed.tag))
    return *found[: -len(METAL)], *to_heaters, *found[-len(METAL) :]


def grounds_of_panel(design: PanelDesign, marks: PanelMarks) -> Iterator[GroundWire]:
    """To plate and door of a heater panel; the others are on the type's list."""
    for what in METAL:
        yield GroundWire(marks.ground_bar, what, marks.ground_colour, _size(design.panel_feeder_wires))


def incoming_wires(at: AtHand, control: TankControl, feeder: str) -> Wires | None:
    """Conductors that come to the control panel: of its way, else the feeder's own."""
    return wires_in(at.feeder(feeder), at.ways_to(control.tank).get(feeder))


def _largest(at: AtHand, coming: Sequence[Wires | None]) -> str:
    """Size of the largest grounding conductor that comes in; not known where that of one supply is not."""
    known = [wires for wires in coming if wires is not None and wires.required_size]
    if len(known) < len(coming):
        return _size(None)
    return _size(max(known, key=lambda wires: load(at.project.rule_set).rank(wires.ground), default=None))


def _size(wires: Wires | None) -> str:
    return ground_size(wires) if wires is not None and wires.required_size else "see Findings"


def drawn_grounds(alike: Sequence[TankControl], grounds_of: Callable[[TankControl], tuple[GroundWire, ...]]) -> tuple[GroundWire, ...]:
    """For the drawing of control panels built alike: a size that is not the same in all of them is left to their wiring lists."""
    first, *others = map(grounds_of, alike)
    sizes = [{one.size for one in same} for same in zip(first, *others, strict=True)]
    return tuple(one if len(size) == 1 else one._replace(size=BY_LIST) for one, size in zip(first, sizes, strict=True))
