"""Grounding conductors of a control panel and of a heater panel that no wire number has: from where to where, and their size.

Plate and door: of the supply's size, common practice, no source; the maker of the box may ask for more.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import NamedTuple

from batch.control_results import TankControl
from batch.papers.job_at_hand import AtHand
from batch.results import PanelDesign, Wires
from batch.schedules.designations import PanelMarks, marks_of
from batch.schedules.hanging import banks_of_tanks, hung_on
from batch.schedules.row_words import ground_size

METAL = ("plate", "door, its metal parts")


class GroundWire(NamedTuple):
    start: str
    end: str
    colour: str
    size: str


def ways_of(at: AtHand, control: TankControl) -> Mapping[str, str]:
    """Tag of the way that feeds a control panel, by feeder; none where the feeder ends in the panel itself."""
    ends = [feeder.end for feeder in at.project.feeders if feeder.end is not None and feeder.end.unit]
    return {way.feeder: way.tag for end in ends for way in end.ways if way.tank == control.tank}


def fed_from(at: AtHand, control: TankControl) -> str:
    """ "way F-1-W1", of several supplies "way F-1-W1, feeder F-2"."""
    ways = ways_of(at, control)
    return ", ".join(f"way {ways[one.feeder]}" if one.feeder in ways else f"feeder {one.feeder}" for one in control.supplies)


def grounds_of_control(at: AtHand, control: TankControl) -> tuple[GroundWire, ...]:
    """From each supply to the bar, on to each heater panel with a box of its own, and to plate and door."""
    marks, found, largest = marks_of(at.project), [], ""
    for supply in control.supplies:
        wires = _incoming(at, control, supply.feeder)
        size = _size(wires)
        largest = largest or size
        found.append(GroundWire(f"field supply {supply.number} {marks.ground}", marks.ground_bar, marks.ground_colour, size))
    if control.settings.boxes != "one":
        for one in hung_on(control, banks_of_tanks(at.project).get(control.tank.casefold(), ())):
            if not one.feed.single:
                size = _size(one.design.panel_feeder_wires)
                found.append(GroundWire(marks.ground_bar, f"{one.feed.tag} {marks.ground_bar}", marks.ground_colour, size))
    found += [GroundWire(marks.ground_bar, what, marks.ground_colour, largest) for what in METAL]
    return tuple(found)


def grounds_of_panel(design: PanelDesign, marks: PanelMarks) -> Iterator[GroundWire]:
    """To plate and door of a heater panel; the others are on the type's list."""
    for what in METAL:
        yield GroundWire(marks.ground_bar, what, marks.ground_colour, _size(design.panel_feeder_wires))


def _incoming(at: AtHand, control: TankControl, feeder: str) -> Wires | None:
    """Conductors that come to the control panel: of its way, else the feeder's own."""
    row = next(one for one in at.project.feeders if one.feeder.feeder == feeder)
    for way in row.end.ways if row.end is not None else ():
        if way.tank == control.tank and way.wires is not None:
            return way.wires
    return row.wires


def _size(wires: Wires | None) -> str:
    return ground_size(wires) if wires is not None and wires.required_size else "see Findings"
