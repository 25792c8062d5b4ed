"""What sizing returns of a tank's control circuit: its ladder as data, terminals, wires, transformer, fuses and relays. Frozen, no drawing.

A wire number is a potential: elements whose ends have the same number are joined. So the ladder can be followed by a program as well as
by a person: a coil is in where a path of closed elements joins its start to the transformer, all coils ending on wire 2.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

LIVE, COMMON, BUS = "1", "2", "3"  # wires: fused control power, its grounded side, what the limit string has let through
SUPPLY = "X1"  # of the transformer, or where control power by others comes in


class Element(NamedTuple):
    """One element of a line.

    mark        designation, unique in the tank
    kind        fuse, primary, secondary (of the transformer), supply (by others), ground, limit, level cutoff, interlock, ground-fault
                contact, button, selector, temperature contact, contact, coil, lamp, load (takes power and switches nothing), jumper
    start, end  wire numbers; of a transformer its secondary
    points      terminals that the two wires land on: ("CRL1:13", "CRL1:14")
    of          of a contact, the coil that moves it
    closed      as drawn: at rest, without power, nothing pressed, all conditions good
    row         0 on the line itself, 1, 2 ... drawn below it, in parallel
    field       stands outside the control panel
    box         tag of the box that those terminals are in
    bank        label of the bank that it belongs to, "" = the tank's
    """

    mark: str
    kind: str
    start: str
    end: str
    points: tuple[str, str]
    of: str = ""
    closed: bool = True
    row: int = 0
    field: bool = False
    box: str = ""
    bank: str = ""


class Rung(NamedTuple):
    """One line of the ladder, with its number and what it does."""

    line: int
    says: str
    elements: tuple[Element, ...]


class StripTerminal(NamedTuple):
    """A terminal of a strip: its wire, what lands on it from outside, and whether a jumper joins it to the next."""

    box: str
    strip: str
    number: int
    wire: str
    outside: str
    jumper: bool = False

    @property
    def point(self) -> str:
        return f"{self.strip}:{self.number}"


class ControlWire(NamedTuple):
    """A conductor of the control circuit: box (or boxes) and terminal at each end, number, colour, size, what it is for."""

    start_box: str
    start: str
    end_box: str
    end: str
    number: str
    colour: str
    size: str
    purpose: str

    @property
    def field(self) -> bool:
        """Whether it runs between boxes; then it is marked with the tank's tag first."""
        return self.start_box != self.end_box


class Coil(NamedTuple):
    """A coil with what it takes [VA], and how that is known."""

    mark: str
    what: str  # "contactor size 1", "latch"
    sealed_va: float
    inrush_va: float
    panel: str = ""  # heater panel or single-circuit bank that a contactor switches, "" = none
    bank: str = ""
    supply: int = 0  # of a back-up contactor, the supply that it stands in; else 0
    known: str = ""


class Duty(NamedTuple):
    """A contact and what hangs on it [A], against what its rating lets it make and break."""

    mark: str
    rating: str  # "A300", "B300"
    make_a: float
    break_a: float
    most_make_a: float
    most_break_a: float


@dataclass(frozen=True, slots=True)
class ControlSettings:
    """The settings of a tank's control circuit as used; `given` names those that somebody stated."""

    control_v: float = 120.0
    controller: str = "others"  # others, with a dry contact; panel
    reset: str = "panel"  # panel; at the limit
    transformer: str = "panel"  # panel, others
    ground_fault_trip_ma: float | None = None
    backup: bool = False
    location: str = "corrosive"
    material: str = "non-metallic"
    jumpers: str = "full size"  # full size, tap
    boxes: str = "two"  # one, two
    given: tuple[str, ...] = ()
