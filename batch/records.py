"""What a job is: frozen records in canonical units (kW, V, A, m, degrees C, kVA, kA), one per row of the user's workbook.

Field names are the keys of the column specification (`batch.sheets`). `None` is "left blank": what that means the sizing core says.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from operator import attrgetter

from msgspec import Struct, field

from batch.money_records import Allowance, OtherCost, Pricing, ScopeItem, TypedPrice
from batch.origin import NOWHERE, Origin
from batch.received_rows import Accounted, Answered, CameFrom, CarriedForward, HowRead, ReceivedTable, SentList, StatedTotal
from batch.section_records import Section
from batch.systems import System
from batch.used_settings import USUAL_BOX, BoxPlace, ColoursAsked, Settings


class Project(ColoursAsked, frozen=True):
    project: str = ""
    title: str | None = None
    customer: str | None = None
    site: str | None = None
    revision: str | None = None
    prepared_by: str | None = None
    date: str | None = None
    code_basis: str | None = None
    margin_pct: float | None = None
    ambient_c: float | None = None
    terminal_c: int | None = None
    conductor: str | None = None
    insulation: str | None = None
    raceway: str | None = None
    largest_conductor: str | None = None
    smallest_conductor: str | None = None
    smallest_device_a: float | None = None
    device_kind: str | None = None
    breaker_type: str | None = None
    installation: str | None = None
    grouping: str | None = None
    rcd_ma: float | None = None
    branches_per_panel: int | None = None
    wires_per_terminal: int | None = None
    branch_drop_pct: float | None = None
    total_drop_pct: float | None = None
    on_drop: str | None = None
    distribution: str | None = None
    heat_margin_pct: float | None = None
    currency: str | None = None
    energy_price: float | None = None
    control_v: float | None = None
    control_transformer: str | None = None
    controller_by: str | None = None
    limit_reset: str | None = None
    ground_fault_trip_ma: float | None = None
    backup_contactor: str | None = None
    box_location: str | None = None
    box_material: str | None = None
    block_jumpers: str | None = None
    boxes: str | None = None
    line_colours: str | None = None
    validity: str | None = None
    delivery: str | None = None
    terms: str | None = None
    warranty: str | None = None
    signature: str | None = None
    note_to_customer: str | None = None
    notes: str | None = None


class PowerSource(Struct, frozen=True):
    """A transformer or service that feeders hang on."""

    project: str = ""
    source: str = ""
    kind: str | None = None
    kva: float | None = None
    z_pct: float | None = None
    volts_v: float = 0.0
    phases: int = 0
    wires: int | None = None
    system: str | None = None
    grounded_line: str | None = None
    earthing: str | None = None
    electrode_ohm: float | None = None
    primary_v: float | None = None
    primary_ka: float | None = None
    primary_mva: float | None = None
    unit_x_over_r: float | None = None
    primary_x_over_r: float | None = None
    fault_ka: float | None = None
    fault_basis: str | None = None
    primary_device_a: float | None = None
    primary_winding: str | None = None
    secondary_run_m: float | None = None
    secondary_wire: str | None = None
    secondary_sets: int | None = None
    of_this_job: str | None = None
    notes: str | None = None
    origin: Origin = NOWHERE


class Feeder(Struct, frozen=True):
    project: str = ""
    feeder: str = ""
    volts_v: float = 0.0
    phases: int = 0
    wires: int | None = None
    system: str | None = None
    grounded_line: str | None = None
    earthing: str | None = None
    electrode_ohm: float | None = None
    grounded_fused: str | None = None
    source: str | None = None
    phase_pair: str | None = None
    device_at: str | None = None
    existing_device_a: float | None = None
    existing_poles: str | None = None
    other_load_a: float | None = None
    source_kva: float | None = None
    source_z_pct: float | None = None
    fault_ka: float | None = None
    run_m: float | None = None
    circuits_in_raceway: int | None = None
    ways_in_raceway: int | None = None
    installation: str | None = None
    tap_m: float | None = None
    bus_a: float | None = None
    unit_main_a: float | None = None
    unit_apart: str | None = None
    demand_factor: float | None = None
    ambient_c: float | None = None
    frequency_hz: int | None = None
    notes: str | None = None
    origin: Origin = NOWHERE

    @property
    def device_at_end(self) -> bool:
        """Whether no device stands ahead of its conductors on the secondary: its own stands at their end."""
        return self.device_at == "end"

    @property
    def device_there_a(self) -> float | None:
        """Rating of the device that is there already; one at its end may be given as the main of the distribution unit."""
        return self.unit_main_a if self.existing_device_a is None and self.device_at_end else self.existing_device_a


class Tank(Struct, frozen=True):
    project: str = ""
    tank: str = ""
    duty: str | None = None
    liquid: str | None = None
    length_m: float | None = None
    width_m: float | None = None
    depth_m: float | None = None
    volume_l: float | None = None
    tank_material: str | None = None
    wall_mm: float | None = None
    insulation_mm: float | None = None
    operating_c: float | None = None
    start_c: float | None = None
    room_c: float | None = None
    room_rh_pct: float | None = None
    heatup_h: float | None = None
    cover: str | None = None
    air_speed_m_s: float | None = None
    work_load_kg_h: float | None = None
    work_material: str | None = None
    load_kg: float | None = None
    makeup_l_h: float | None = None
    makeup_c: float | None = None
    air_agitation: str | None = None
    level_cutoff: str | None = None
    distribution_run_m: float | None = None
    one_device: str | None = None
    control_v: float | None = None
    control_transformer: str | None = None
    controller_by: str | None = None
    limit_reset: str | None = None
    ground_fault_trip_ma: float | None = None
    backup_contactor: str | None = None
    box_location: str | None = None
    box_material: str | None = None
    block_jumpers: str | None = None
    boxes: str | None = None
    line_colours: str | None = None
    notes: str | None = None
    origin: Origin = NOWHERE


class Bank(Struct, frozen=True):
    """The identical heaters of one row of the heater list, in one tank, switched together."""

    project: str = ""
    tank: str = ""
    bank: str | None = None
    feeder: str | None = None
    quantity: int = 0
    power_kw: float = 0.0
    volts_v: float = 0.0
    phases: int = 0
    connection: str | None = None
    circuits_per_heater: int | None = None
    sheath: str | None = None
    heated_length_mm: float | None = None
    diameter_mm: float | None = None
    tubes_per_heater: int | None = None
    heater_part: str | None = None
    heater_run_m: float | None = None
    panel_feeder_run_m: float | None = None
    circuits_in_raceway: int | None = None
    panel_feeders_in_raceway: int | None = None
    over_temperature_limit: str | None = None
    fixed_rating_a: float | None = None
    phase_pair: str | None = None
    branches_per_panel: int | None = None
    marked_wire: str | None = None
    cycling: str | None = None
    device_kind: str | None = None
    rcd_ma: float | None = None
    temperature_contact: str | None = None
    notes: str | None = None
    origin: Origin = NOWHERE


class UnreadBank(Struct, frozen=True):
    """A row of the heater list that held data and could not be used, as far as it could be read: None = not known."""

    project: str = ""
    tank: str = ""
    bank: str = ""
    feeder: str = ""
    quantity: int | None = None
    power_kw: float | None = None
    volts_v: float | None = None
    phases: int | None = None
    notes: str | None = None
    why: str = ""
    origin: Origin = NOWHERE


class Part(Struct, frozen=True):
    """A line of the stock list. Price and hours are for `per_quantity` of `per_unit`; other `from_quantity` of a part are price breaks."""

    part: str = ""
    kind: str = ""
    description: str | None = None
    rating_a: float | None = None
    poles: int | None = None
    volts_v: float | None = None
    phases: int | None = None
    power_kw: float | None = None
    sheath: str | None = None
    heated_length_mm: float | None = None
    diameter_mm: float | None = None
    size: str | None = None
    insulation: str | None = None
    colour: str | None = None
    sccr_ka: float | None = None
    wires_per_terminal: int | None = None
    smallest_wire: str | None = None
    largest_wire: str | None = None
    terminals_for: str | None = None
    pole_mark: str | None = None
    torque_nm: float | None = None
    coil_sealed_va: float | None = None
    coil_inrush_va: float | None = None
    watts_lost_w: float | None = None
    branches_at_most: int | None = None
    unit_price: float | None = None
    per_quantity: float | None = None
    per_unit: str | None = None
    from_quantity: float | None = None
    currency: str | None = None
    price_date: str | None = None
    lot_quantity: float | None = None
    labour_h: float | None = None
    field_h: float | None = None
    origin: Origin = NOWHERE

    def __eq__(self, other: object) -> bool:
        """A part is what it is, wherever it is listed."""
        return isinstance(other, Part) and _stated(self) == _stated(other)

    def __ne__(self, other: object) -> bool:
        return not self == other

    def __hash__(self) -> int:
        return hash(_stated(self))


_stated = attrgetter(*(name for name in Part.__struct_fields__ if name != "origin"))


def unheard(notes: str) -> str:
    """Of a job that no reader of workbooks made: no note puts anything on hold."""
    return ""


class Job(Struct, frozen=True):
    """Everything read from one workbook. Records hold only rows that could be read; the others are in `received`."""

    name: str  # file name without folder
    digest: str  # SHA-256 of the file, hex
    projects: tuple[Project, ...] = ()
    feeders: tuple[Feeder, ...] = ()
    tanks: tuple[Tank, ...] = ()
    banks: tuple[Bank, ...] = ()
    stock: tuple[Part, ...] = ()
    received: tuple[ReceivedTable, ...] = ()
    findings: tuple = ()  # batch.findings.Finding, from reading
    carried_forward: tuple[CarriedForward, ...] = ()  # values already in the records that `received` does not state
    how_read: tuple[HowRead, ...] = ()  # of customers' own lists
    accounted: tuple[Accounted, ...] = ()  # every sheet of the workbook
    stated: tuple[StatedTotal, ...] = ()  # totals that customers' own lists state
    map_text: str = ""  # the reading of customers' own lists as a column map
    sent: SentList | None = None  # the file of a customer's own list
    sources: tuple[PowerSource, ...] = ()
    unread: tuple[UnreadBank, ...] = ()  # rows of the heater list that held data and became no record
    pricing: tuple[Pricing, ...] = ()
    scope: tuple[ScopeItem, ...] = ()
    allowances: tuple[Allowance, ...] = ()
    other_costs: tuple[OtherCost, ...] = ()
    typed_prices: tuple[TypedPrice, ...] = ()
    answered: tuple[Answered, ...] = ()  # questions that were answered
    judged_notes: Mapping[tuple[str, int], object] = field(default_factory=dict)  # of rows of customers' lists, heard when they were read
    hears: Callable[[str], str] = unheard  # the word by which Notes put something on hold, as who reads workbooks knows words
    came_from: dict[str, CameFrom] = field(default_factory=dict)  # of a results workbook: sheets as received -> where they came from
    section: Section | None = None  # of a job that is divided: which one this is


class Supply(Struct, frozen=True):
    """The system a bank hangs on, without the feeder's name."""

    volts_v: float
    wires: int
    system: System
    grounded: str = ""  # line of a corner-grounded delta that is grounded: "B"

    @property
    def phases(self) -> int:
        return self.system.phases

    @property
    def has_neutral(self) -> bool:
        return self.system.has_neutral(self.wires)

    @property
    def solidly_grounded_wye(self) -> bool:
        return self.system is System.WYE_GROUNDED


class Design(Struct, frozen=True):
    """Everything that decides how a bank is built, and nothing else: no tag, no row, no phase."""

    quantity: int
    power_kw: float
    volts_v: float
    phases: int
    supply: Supply
    settings: Settings
    connection: str | None = None
    circuits_per_heater: int | None = None
    heater_run_m: float | None = None
    panel_feeder_run_m: float | None = None
    circuits_in_raceway: int = 1
    panel_feeders_in_raceway: int = 1
    fixed_rating_a: float | None = None
    branches_per_panel: int | None = None
    device_kind: str | None = None
    limits: bool = True  # whether its heaters have over-temperature limits, or may have
    fault_ka: float | None = None  # at the feeder's source; asked of stock parts
    marked_wire: str = ""  # smallest supply conductor marked on the heater, as the rule set spells it
    hundred_pct: bool = False  # its conductors may go by 100 %: power, marked size and cycling are all as the clause asks
    rcd_ma: float | None = None  # of the residual-current device in its panel feeder
    previous_split: tuple[int, ...] = ()  # heaters of each panel in an earlier revision, to be kept where they can be
    box: BoxPlace = USUAL_BOX
