"""What sizing returns of a tank's control circuit: its ladder as data, terminals, wires, transformer, fuses and relays. Frozen, no drawing.

A wire number is a potential: elements whose ends have the same number are joined. So the ladder can be followed by a program as well as
by a person: a coil is in where a path of closed elements joins its start to the transformer, all coils ending on wire 2.
"""

from __future__ import annotations

from typing import NamedTuple

from msgspec import Struct

from batch.box_results import Enclosure
from batch.findings import Finding
from batch.material_lines import Needed
from batch.systems import System

LIVE, COMMON, BUS = "1", "2", "3"  # wires: fused control power, its grounded side, what the limit string has let through
SUPPLY = "X1"  # of the transformer, or where control power by others comes in


class Element(NamedTuple):
    """One element of a line.

    mark        designation, unique in the tank
    kind        fuse, primary, secondary (of the transformer), supply (by others, or a line to neutral), ground, limit, level cutoff,
                interlock, ground-fault contact, button, selector, temperature contact, contact, coil, lamp, load (takes power and
                switches nothing), jumper; of power: disconnect, fusible disconnect, power fuse, breaker, residual-current
                device, contactor pole
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


class ControlSettings(Struct, frozen=True):
    """The settings of a tank's control circuit as used; `given` names those that somebody stated."""

    control_v: float = 120.0
    controller: str = "others"  # others, with a dry contact; panel
    reset: str = "panel"  # panel; at the limit
    transformer: str = ""  # panel, others, none (a line to neutral), "" = as the supply allows
    ground_fault_trip_ma: float | None = None
    backup: bool = False
    location: str = "corrosive"
    material: str = "non-metallic"
    jumpers: str = "full size"  # full size, tap
    boxes: str = "two"  # one, two
    line_colours: tuple[str, ...] = ()  # of the lines between boxes in order, one for all alike; () = as the trade has them by volts
    wire_colours: tuple[tuple[str, str], ...] = ()  # kind of wire and colour, where the project asks for another than the trade's
    given: tuple[str, ...] = ()


class ControlFeed(NamedTuple):
    """A panel feeder in the control panel, or the circuit of a single-circuit bank that stands there.

    number     through the tank, in bank and panel order: so PFU and CON are numbered
    tag        of the heater panel or the bank, without the tank's: "1-P1", "1"
    supply     number of the supply that it hangs on
    device     designation of its overcurrent device, its poles A, B, C; "" = it is that of the way, in the distribution unit
    on         supply lines that its own L1, L2, L3 land on: ("A", "B", "C")
    residual   designation of its residual-current device, between its overcurrent device and its contactor; "" = none
    """

    number: int
    tag: str
    bank: str
    supply: int
    single: bool
    kind: str  # of its device: fuse, breaker
    device: str
    contactor: str
    ground_fault_relay: str  # "" = none
    on: tuple[str, ...]
    neutral: bool
    strip_box: str  # box and strip of its limits, "" = it has none
    strip: str
    residual: str = ""


class ControlSupply(NamedTuple):
    """A supply of a control panel: its disconnect, and what stands behind it.

    line_a      phasor current of the fullest line, design [A]
    ahead_a     device ahead of the panel, of its way or its feeder [A]; None = not known
    fusible     disconnect and panel feeder fuses are one fusible disconnect
    block       where several panel feeders hang on it, in words, "" = none
    neutral_bar where its neutral lands, "" = no neutral comes to the panel, whatever its system has
    neutral_pole  whether its disconnect opens the neutral too, as the earthing of the supply may ask
    """

    number: int
    mark: str
    feeder: str
    volts_v: float
    system: System
    lines: int
    neutral_bar: str
    grounded: str  # line of a corner-grounded delta that no fuse stands in, "" = none
    frequency_hz: int
    line_a: float
    required_a: float
    ahead_a: float | None
    disconnect: str  # in words
    disconnect_a: float
    disconnect_part: str  # of the stock list, "" = none chosen; so also below
    fusible: bool
    block: str
    block_a: float
    block_part: str
    block_mark: str
    backup: str  # designation of its back-up contactor, "" = none
    backup_words: str
    backup_a: float
    backup_part: str
    fault_ka: float | None
    neutral_pole: bool = False
    jumper: str = ""  # from its block to each panel feeder device, size in words; "" = there is no block, or a bar
    colours: tuple[str, ...] = ()  # asked for its lines between boxes, one for all alike; () = as the trade has them

    @property
    def neutral(self) -> bool:
        return bool(self.neutral_bar)


class ControlCircuit(Struct, frozen=True):
    """A control circuit without its tank's tag: boxes are called "HCP" and "1-P1". Equal tanks share one."""

    ladder: tuple[Rung, ...]
    power: tuple[Element, ...]  # poles of disconnects, fuses or breakers, contactors
    terminals: tuple[StripTerminal, ...]
    wires: tuple[ControlWire, ...]

    @property
    def elements(self) -> tuple[Element, ...]:
        return tuple(element for rung in self.ladder for element in rung.elements)


class TankControl(Struct, frozen=True):
    """The heater control panel of one tank, and its control circuit.

    primary_v          volts of the control transformer's primary; 0 = there is none
    sealed_va          what the control power carries with every contactor in
    inrush_va          the same while all contactors pull in
    transformer_va     None: none needed, by others, or beyond the list
    """

    tank: str
    banks: tuple[str, ...]  # labels, in order
    settings: ControlSettings
    supplies: tuple[ControlSupply, ...]
    feeds: tuple[ControlFeed, ...]
    coils: tuple[Coil, ...]
    duties: tuple[Duty, ...]
    primary_v: float
    sealed_va: float
    inrush_va: float
    transformer_va: float | None
    primary_fuse_a: float | None
    secondary_fuse_a: float | None
    wire: str  # size of the control wires, "" = none of the table serves
    circuit: ControlCircuit
    parts: tuple[Needed, ...]  # its own, its box among them
    feed_parts: tuple[Needed, ...]  # devices and contactors of its panel feeders and single-circuit banks, which stand in it too
    sccr_ka: float | None = None
    sccr_part: str = ""
    sccr_marked: bool = False
    enclosure: Enclosure | None = None
    basis: tuple[str, ...] = ()
    findings: tuple[Finding, ...] = ()
    hold: Finding | None = None
    kind: str = ""  # "Ladder 01": control panels alike but for numbers of heaters and sizes of parts
    type: str = ""  # "Control panel 01": built alike

    @property
    def tag(self) -> str:
        """Of the box: "T-101/HCP"."""
        return f"{self.tank}/HCP"

    @property
    def fault_ka(self) -> float | None:
        """Greatest fault current of its supplies; None where one of them is not known."""
        known = [supply.fault_ka for supply in self.supplies]
        return None if any(one is None for one in known) else max((one for one in known if one is not None), default=None)
