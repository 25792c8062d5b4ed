"""What sizing returns: frozen records, read by `batch.schedules`, the writer and the comparison.

Designs carry no tag and no phase, so equal ones are equal. Rows add tags, phases, totals. Canonical units: A, V, kW, kVA, kA, m, N·m.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cached_property
from typing import NamedTuple

from msgspec import Struct, field

from batch.box_results import Enclosure
from batch.control_results import TankControl
from batch.earth_fault_results import EarthFault
from batch.findings import Finding, Remark, Severity
from batch.heat_results import TankHeat
from batch.material_lines import Material, Needed
from batch.method.line_currents import NO_LOADS, Lines, Loads
from batch.money_results import NO_MONEY, Money
from batch.records import Bank, Feeder, Job, Part, PowerSource, Project, Supply, Tank
from batch.rules import OUR_COUNTRY, OURS, CodeValue, Country, Wording
from batch.supply_results import TapSizing, UnitProtection
from batch.systems import Connection, System
from batch.unsized_results import NotSized
from batch.used_settings import Setting


class Device(Struct, frozen=True):
    """An overcurrent device: what to buy, in words that name no maker."""

    rating_a: float
    kind: str  # "fuse" or "breaker"
    words: str  # "2 fuses, class CC, 600 V, 200 kA, in a 2-pole holder", "molded-case breaker, 2-pole, 480Y/277 V"
    poles: int
    interrupting_ka: float | None
    basis: tuple[str, ...] = ()
    part: str = ""  # the stock part, "" = generic
    each: str = ""  # of a fuse: "class CC fuse, 600 V, 200 kA"
    neutral: bool = False  # a pole more, without a fuse, opens the neutral with its lines

    @property
    def in_full(self) -> str:
        """With its rating: "2 fuses, 15 A class CC, 600 V, 200 kA, in a 2-pole holder", "15 A breaker, 2-pole, 480 V"."""
        count, several, rest = self.words.partition(", ")
        return f"{count}, {self.rating_a:g} A {rest}" if self.kind == "fuse" and several else f"{self.rating_a:g} A {self.words}"


class Wires(Struct, frozen=True):
    """The conductors of one branch circuit, panel feeder or feeder."""

    size: str  # "12", "1/0", "500"
    sets: int
    lines: int  # ungrounded conductors of one set
    neutral: str  # size, "" = none
    ground: str  # size, of each set
    material: str
    insulation: str
    governed_by: str
    required_size: str  # by load and device alone, before drop and the smallest-conductor setting
    raceway: str  # "3/4 in PVC-80", "" = not found in the table
    fill_pct: float | None
    basis: tuple[str, ...] = ()
    grounded: int = 0  # of its lines those that are grounded: white or gray
    method: str = ""  # how it is laid, where the code tells methods apart: "B1"
    shares: int = 1  # circuits that run together, itself among them
    grouping: float = 1.0  # what that leaves of its ampacity, its own parallel sets counted as the code counts them
    ampacity_a: float | None = None  # of all sets: the lower of that in the terminals' column and of that where it runs


class BranchDesign(Struct, frozen=True):
    """One branch circuit; all branches of a bank are alike."""

    design_a: float
    running_a: float
    required_a: float
    device: Device
    wires: Wires
    torque_nm: float | None
    torque_words: str
    drop_pct: float | None
    holder: Part | None = None  # the fuse holder, from stock


class PanelDesign(Struct, frozen=True):
    """One heater panel without tag and phase; L1, L2, L3, N are its own terminals."""

    heaters: int
    branches: int
    legs: tuple[str, ...]  # per branch: "L1-L2", "L1-L2-L3", "L1-N"
    lines: Lines  # design current on L1, L2, L3, N
    loads: Loads  # design amps on L1-L2, L2-L3, L3-L1, L1-N, L2-N, L3-N
    running: Loads  # the same at the applied volts
    connected_kw: float
    required_a: float
    panel_feeder_device: Device
    panel_feeder_wires: Wires
    block: str  # the power distribution block in words, with its openings
    block_a: float
    contactor: str
    contactor_a: float
    limit_terminals: int
    drop_pct: float | None
    torque_nm: float | None  # of the panel feeder's terminals on the block, as its part is marked; None = as marked
    torque_words: str
    sccr_ka: float | None
    sccr_part: str
    sccr_from_stock: bool
    branch: BranchDesign
    connection: str
    volts_v: float
    system: System
    parts: tuple[Needed, ...]  # what to buy for its own box
    feed_parts: tuple[Needed, ...]  # its device and contactor, which stand in the control panel
    basis: tuple[str, ...] = ()
    panel_feeder_basis: tuple[str, ...] = ()  # of its panel feeder's rating
    switch_ka: float | None = None  # short-circuit rating of its contactor
    switch_part: str = ""
    switch_from_stock: bool = False
    sccr_marked: bool = False  # every power part of the panel is a stock part that states its short-circuit rating
    jumper: str = ""  # size of what joins the block to the branch devices, "" = a bar
    grounded: str = ""  # terminal of a corner-grounded delta's grounded line, without a device of its own: "L2"
    panel_feeder_holder: Part | None = None  # of its fuses, from stock
    device_at_way: bool = False  # its panel feeder's device is that of its way, in the distribution unit
    enclosure: Enclosure | None = None  # None: a single-circuit bank, or a panel that stands in the control panel's box
    residual_ma: float | None = None  # of the residual-current device in its panel feeder
    contactor_takes: int | None = None  # wires on a terminal of its contactor, as the stock part is marked; None = not marked


class BankDesign(Struct, frozen=True):
    """A bank, sized: equal designs have equal answers, whatever their tags."""

    applied_v: float
    heater_a: float
    design_a: float
    running_a: float
    margin_pct: float
    circuits_per_heater: int
    connection: str  # words for a person
    connected: Connection
    connection_why: str
    branch: BranchDesign
    line_a: float
    wires_on_terminal: int
    panel_why: str
    panels: tuple[PanelDesign, ...]  # () = a single-circuit bank
    single_circuit: PanelDesign | None  # the bank's own device, wires and contactor where it is a single circuit
    connected_kw: float
    delivered_kw: float
    open_branch_pct: float | None
    remarks: tuple[Remark, ...]
    basis: tuple[str, ...]
    run_m: float | None = None  # wires of one branch: from the panel, or from the contactor where the bank is a single circuit
    panel_feeder_run_m: float | None = None  # 0 where its panels stand in the control panel's box, given or not


class BankRow(Struct, frozen=True, dict=True):
    bank: Bank
    tank: Tank | None
    feeder: Feeder
    supply: Supply
    label: str  # bank label, given or numbered
    design: BankDesign
    starts: tuple[int, ...]  # 0, 1, 2: the supply line that L1 of each panel lands on; of a single-circuit bank its one
    panels: tuple[PanelRow, ...]
    findings: tuple[Finding, ...]
    around: tuple[Finding, ...] = ()  # holds of its feeder and its tank; cautions of its feeder and source that can hurt somebody

    @property
    def start(self) -> int:
        """The supply line that L1 of its first panel lands on."""
        return self.starts[0]

    @cached_property
    def hold(self) -> Finding | None:
        """What keeps it, and every panel of it, from being released for fabrication: of several the one that can do most harm."""
        said = (*self.findings, *self.around)
        holds = [finding for finding in said if (kind := finding.kind).severity is Severity.HOLD and not kind.holds_itself]
        return min(holds, key=lambda finding: finding.kind.harm, default=None)

    @property
    def heating_kw(self) -> float:
        """What it is good for as heat. Where it must not be built so, no more than its heaters are rated for: volts too high give more."""
        delivered_kw = self.design.delivered_kw
        held = any(said.severity is Severity.HOLD and not said.kind.holds_itself for said in self.findings)
        return min(delivered_kw, self.design.connected_kw) if held else delivered_kw


class PanelRow(Struct, frozen=True):
    tag: str
    type: str
    design: PanelDesign
    start: int
    first_heater: int  # number in the bank of its first heater
    lines: Lines  # design current on the feeder's A, B, C, N
    fault_ka: float | None = None
    findings: tuple[Finding, ...] = ()


class SourceRow(Struct, frozen=True):
    """A source: what its feeders ask of it, and the fault current at its secondary. Blank where its rating or impedance is not known."""

    source: PowerSource
    supply: Supply
    named: bool  # it has a row of its own; else it is a feeder's own
    feeders: tuple[str, ...]
    loads: Loads
    lines: Lines  # design current on its own lines, with demand and other load
    use_kva: float
    rated_a: float | None = None
    used_pct: float | None = None
    governed_by: str = ""  # "fullest line", "fullest winding"
    fault_ka: float | None = None
    calculated_ka: float | None = None
    marked_ka: float | None = None
    fault_how: str = ""  # "given", "calculated"
    protection: UnitProtection | None = None  # of a transformer of the job
    basis: tuple[str, ...] = ()
    findings: tuple[Finding, ...] = ()


class Way(Struct, frozen=True):
    """A way of a distribution unit, to one tank's control panel; without device and wires where the feeder ends in that panel itself."""

    tag: str
    feeder: str
    tank: str
    banks: tuple[str, ...]
    lines: Lines  # design current on the feeder's own lines
    connected_kw: float
    required_a: float
    largest_a: float  # device behind it
    device: Device | None
    wires: Wires | None
    run_m: float | None
    drop_pct: float | None
    frame_a: float | None
    use_pct: float | None
    fault_ka: float | None  # at the control panel
    basis: tuple[str, ...] = ()
    number: int = 0  # of its tag
    tap: TapSizing | None = None  # of a tap: how its conductors were sized


class FeederEnd(Struct, frozen=True):
    """What a feeder ends in: a distribution unit in words, "taps", or "" = the one control panel."""

    unit: str
    ours: bool
    bus_a: float | None
    main_a: float | None
    lugs: str
    fault_ka: float | None  # its short-circuit rating is asked to be no lower
    ways: tuple[Way, ...]
    last_way: int = 0  # the highest number that a way of it ever had


class FeederRow(Struct, frozen=True):
    feeder: Feeder
    supply: Supply
    banks: int
    heaters: int
    panels: int
    connected_kw: float
    demand_factor: float
    demand_kw: float
    lines: Lines
    unbalance_pct: float
    unbalance_before_pct: float
    required_a: float
    device: Device | None
    wires: Wires | None
    drop_pct: float | None
    use_kva: float
    next_kva: float | None
    fault_ka: float | None
    fault_end_ka: float | None
    basis: tuple[str, ...]
    findings: tuple[Finding, ...] = ()
    loads: Loads = NO_LOADS  # design amps of its banks, on its own lines
    load_a: float = 0.0  # of the fullest line, under its demand factor
    demand_on_amps: float = 1.0
    use_pct: float | None = None  # share of its device in use
    source: str = ""  # tag of its source, "" = its own
    source_pair: str = ""  # pair or leg of a 3-phase source that a 1-phase feeder is on
    source_used_pct: float | None = None
    end: FeederEnd | None = None
    delivered_kw: float = 0.0
    earth_faults: tuple[EarthFault, ...] = ()  # of every circuit on it, where the code sets times for them
    earthing: str = ""  # "TN-S", "TT", … as given or taken, likewise

    @property
    def device_fault_ka(self) -> float | None:
        """Fault current where its device stands."""
        return self.fault_end_ka if self.feeder.device_at_end else self.fault_ka


class Check(NamedTuple):
    """One reconciliation: passes where |left - right| <= tolerance. Of a total that a customer's list states there is no tolerance:
    it agrees or differs, which says nothing of the workbook.
    """

    project: str
    what: str
    left: float
    right: float
    tolerance: float | None

    @property
    def passes(self) -> bool:
        return self.tolerance is None or abs(self.left - self.right) <= self.tolerance


class TypeRow(NamedTuple):
    type: str
    design: PanelDesign
    tags: tuple[str, ...]
    hold: str = ""  # why none of them is released for fabrication; "" = they are


class ProjectResult(Struct, frozen=True):
    project: Project
    rule_set: str  # "NEC 2023"
    settings: tuple[Setting, ...]
    feeders: tuple[FeederRow, ...]
    banks: tuple[BankRow, ...]
    types: tuple[TypeRow, ...]
    materials: tuple[Material, ...] = ()
    heat: tuple[TankHeat, ...] = ()
    not_sized: tuple[NotSized, ...] = ()
    said_once: frozenset[str] = frozenset()  # cautions that nearly all its feeders or banks carry (`batch.sizing.said_once`)
    sources: tuple[SourceRow, ...] = ()
    symbols: str = "IEC 60617"  # set of graphical symbols that its rule set asks for
    wording: Wording = OURS  # words of its rule set's country
    controls: tuple[TankControl, ...] = ()  # by tank
    country: Country = OUR_COUNTRY  # units, paper and cautions of its rule set's country
    astray: tuple[NotSized, ...] = ()  # rows not sized of no project that is listed: they may belong here


class JobResult(Struct, frozen=True):
    """A whole workbook, sized. `findings` holds everything said, in reading order; the banks' own are among them."""

    job: Job
    projects: tuple[ProjectResult, ...]
    findings: tuple[Finding, ...]
    fates: Mapping[tuple[str, int], str]  # (sheet, row) of the user's workbook -> "sized", "sized, review", …
    checks: tuple[Check, ...] = ()
    code_values: tuple[CodeValue, ...] = ()
    code_titles: Mapping[str, str] = field(default_factory=dict)  # rule set -> its full title
    cautions: tuple[tuple[str, str], ...] = ()  # (words, basis) that go with every job
    not_sized: tuple[NotSized, ...] = ()  # of projects that are not among `projects`
    money: Money = NO_MONEY
    written: str = ""  # the file that holds these results; "" = nothing was written
    aside: str = ""  # why that file has not the name that was asked for
    about: tuple[str, ...] = ()  # what else there is to say of that file, one line each

    def frames(self):  # -> dict[str, pandas.DataFrame]
        """The result sheets as pandas frames, by sheet name; columns are the specification's keys."""
        import pandas  # only for who asks: the command never does

        from batch.schedules import RESULTS, rows

        return {sheet.name: pandas.DataFrame(rows(self, sheet.id), columns=[column.key for column in sheet.columns]) for sheet in RESULTS}
