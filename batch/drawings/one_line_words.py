"""What the one-line diagram of a feeder says: what it hangs on, what hangs on it, and the words beside each."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import NamedTuple

from batch.control_results import ControlFeed, ControlSupply
from batch.drawings.drawing_list import MARGIN, NAME
from batch.drawings.lettering import wrap
from batch.records import PowerSource
from batch.results import BankRow, Device, FeederRow, JobResult, PanelDesign, ProjectResult, SourceRow, Way, Wires
from batch.schedules.country_words import in_us
from batch.schedules.designations import PanelMarks
from batch.schedules.hanging import banks_of_feeders, hangs_on
from batch.schedules.live_sources import LiveSources
from batch.schedules.row_words import band_words, earthed, ground_size, listed, residual_words, run_words, single_tag, status_of, worst_of
from batch.sizing.words import fault_current, size_words
from batch.units import FOOT

WIDE = 1720  # a Letter page on its side, less margins and what programs measure differently
BOX = (1150, WIDE - MARGIN)  # left and right of a heater panel
LEADING, PAD = 23, 10
ROW = 98  # least height of one panel with what leads to it
UNKNOWN = "fault current not known"


class Fed(NamedTuple):
    """A feeder with what it hangs on and what hangs on it."""

    project: ProjectResult
    row: FeederRow
    source: SourceRow | None
    banks: tuple[BankRow, ...]
    disconnects: Mapping[str, str]  # "T-101/DISC1" by its tank
    supplies: Mapping[str, ControlSupply]  # of each tank's control panel, the supply that this feeder is
    feeds: Mapping[str, ControlFeed]  # of the whole project, by the tag of the panel or single-circuit bank that it feeds
    us: bool


class Load(NamedTuple):
    """One line of the drawing: a heater panel, or a single-circuit bank, behind its device and contactor."""

    design: PanelDesign
    tag: str
    device: str  # designations in the tank's control panel; "" = its device is at its way
    contactor: str
    lines: tuple[str, ...]  # what stands in its box, wrapped
    hold: bool

    @property
    def height(self) -> int:
        residual = 2 * LEADING * (self.design.residual_ma is not None)  # a line more below its device, which stands in the middle
        return max(ROW + residual, LEADING * len(self.lines) + 2 * PAD + 10)


def feds_of(result: JobResult, us: bool | None) -> Iterator[Fed]:
    """The feeders of a job that have something to draw, project by project."""
    for project in result.projects:
        banks_of = banks_of_feeders(project)
        live, sources = LiveSources(result, project), {name: row for row in project.sources for name in row.feeders}
        feeds = {f"{control.tank}/{feed.tag}": feed for control in project.controls for feed in control.feeds}
        switches: dict[str, dict[str, ControlSupply]] = {}
        for control in project.controls:
            for supply in control.supplies:
                switches.setdefault(supply.feeder, {})[control.tank.casefold()] = supply
        for row in project.feeders:
            if row.end is None or not row.end.ways or row.device is None:
                continue
            banks = tuple(banks_of.get(row.feeder.feeder, ()))
            tags = {one.bank.tank.casefold(): live.of(one).tag for one in banks}
            name = row.feeder.feeder
            yield Fed(project, row, sources.get(name), banks, tags, switches.get(name, {}), feeds, in_us(project, us))


def loads_of(fed: Fed, way: Way) -> tuple[Load, ...]:
    """The panels and single-circuit banks of a way, in bank and panel order."""
    return tuple(load for one in fed.banks if one.bank.tank == way.tank and one.label in way.banks for load in _loads(fed, one, way))


def _loads(fed: Fed, one: BankRow, way: Way) -> Iterator[Load]:
    hold = one.hold.message if one.hold is not None else ""
    for panel in one.panels:
        design, device = panel.design, panel.design.branch.device
        branches = f"{design.branches} x {device.rating_a:g} A {device.kind}"
        power = f"{_heaters(design.heaters)}, {design.connected_kw:.4g} kW, {panel.lines.maximum:.1f} A; {branches}"
        run = run_to(design.panel_feeder_wires, one.design.panel_feeder_run_m, fed.us, PanelMarks(fed.project.symbols).ground)
        words = f"{panel.tag}, {panel.type}", power, f"{run}; {kiloamps(panel.fault_ka)}"
        yield _load(design, panel.tag, fed.feeds.get(panel.tag), words, hold)
    single = one.design.single_circuit
    if single is not None:
        power = f"{_heaters(single.heaters)}, {single.connected_kw:.4g} kW, {one.design.line_a:.1f} A"
        run = run_to(one.design.branch.wires, one.design.run_m, fed.us, PanelMarks(fed.project.symbols).ground)
        words = (single_tag(one), power, f"to each heater {run}; {kiloamps(way.fault_ka)} ahead")
        yield _load(single, single_tag(one), fed.feeds.get(f"{one.bank.tank}/{one.label}"), words, hold)


def _load(design: PanelDesign, tag: str, feed: ControlFeed | None, words: tuple[str, ...], hold: str) -> Load:
    room = BOX[1] - BOX[0] - 2 * PAD
    device, contactor = (feed.device, feed.contactor) if feed is not None else ("", "")
    lines = tuple(line for each in (*words, band_words(hold)) for line in wrap(each, NAME, room))
    return Load(design, tag, device, contactor, lines, bool(hold))


def _heaters(count: int) -> str:
    return f"{count} heater{'' if count == 1 else 's'}"


def kiloamps(fault_ka: float | None) -> str:
    return UNKNOWN if fault_ka is None else fault_current(fault_ka)


def available(value: float | None) -> str:
    """ "12.0 kA available"."""
    return UNKNOWN if value is None else f"{kiloamps(value)} available"


def length_words(metres: float | None, us: bool) -> str:
    if metres is None:
        return "length not given"
    return f"{metres / FOOT:.0f} ft" if us else f"{metres:g} m"


def run_to(wires: Wires | None, metres: float | None, us: bool, ground: str = "EGC") -> str:
    """ "3 x 3 AWG, EGC 8 AWG, 15 m"."""
    if wires is None or not wires.required_size:
        return "no conductor serves: see Findings"
    return f"{run_words(wires)}, {ground} {ground_size(wires)}, {length_words(metres, us)}"


def system_words(fed: Fed) -> str:
    supply, earthing = fed.row.supply, earthed(fed.project, fed.row.feeder.feeder)
    grounded = f", line {supply.grounded} grounded: no fuse in it" if supply.grounded else ""
    return f"{supply.volts_v:g} V, {supply.phases}-phase, {supply.wires} wires, {supply.system.words}{earthing}{grounded}"


def status_words(fed: Fed) -> str:
    own = status_of(fed.row.findings, (), fed.project.said_once)
    return worst_of((own, hangs_on(fed.project, fed.row.feeder.feeder, fed.banks).status))


def has_unit(fed: Fed) -> bool:
    return fed.source is not None and (fed.source.source.kind or "transformer") == "transformer"


def source_words(fed: Fed) -> Iterator[str]:
    row, source = fed.row, fed.source
    if source is None:
        yield f"Source: {system_words(fed)}; rating and fault current not given"
        return
    one = source.source
    kva = f", {one.kva:g} kVA" if one.kva is not None else ""
    z = f", {one.z_pct:g} %Z" if one.z_pct is not None else ""
    primary = f"{one.primary_v:g} V to " if one.primary_v is not None else ""
    name = f"Source {one.source}" if source.named else "Source (the feeder's own)"
    kind = one.kind or ("transformer" if source.named else "")
    used = f", {source.used_pct:.1f} % used" if source.used_pct is not None else ""
    yield f"{name}: {kind}{kva}{z}, {primary}{source.supply.volts_v:g} V, {source.supply.system.words}{used}".replace(": ,", ":")
    others = [name for name in source.feeders if name != row.feeder.feeder]
    also = f"; it also feeds {listed(others, 6)}" if others else ""
    pair = f"; this feeder is on {row.source_pair}" if row.source_pair else ""
    given = f" ({source.fault_how})" if source.fault_how else ""
    fault = UNKNOWN if source.fault_ka is None else f"{fault_current(source.fault_ka)}, all lines together{given}"
    yield f"At its secondary: {fault}{pair}{also}"
    if one.primary_device_a is not None or one.of_this_job == "yes":
        device = "not given" if one.primary_device_a is None else f"{one.primary_device_a:g} A"
        behind = "" if row.feeder.device_at_end else f"; secondary conductors to each OCPD: {_secondary(one, fed.us)}"
        yield f"Primary OCPD: {device}{behind}"


def _secondary(one: PowerSource, us: bool) -> str:
    sets = f"{one.secondary_sets} x " if (one.secondary_sets or 1) > 1 else ""
    given = one.secondary_wire or ""
    plain = given.replace("/", "").isdigit()
    size = f"{sets}{size_words(given) if plain else given}" if given else "of each feeder's size"
    return f"{size}, {length_words(one.secondary_run_m, us)}"


def end_words(fed: Fed) -> Iterator[str]:
    end = fed.row.end
    if end is None or not end.unit:
        yield f"The feeder ends in one control panel; {available(fed.row.fault_end_ka)} there"
        return
    if end.unit == "taps":
        yield f"Taps to each control panel; {available(end.fault_ka)} at the feeder's end"
        return
    bus = "bus to be chosen" if end.bus_a is None else f"bus {end.bus_a:g} A"
    main = "main lugs" if end.main_a is None else f"in it a main of {end.main_a:g} A"
    lugs = f", lugs {end.lugs}" if end.lugs else ""
    whose = "ours" if end.ours else "by others"
    yield f"Distribution unit ({whose}): {end.unit}, {bus}, {main}{lugs}"
    yield f"{kiloamps(end.fault_ka)} available: its short-circuit rating is to be no lower" if end.fault_ka is not None else UNKNOWN


def made_words(device: Device) -> str:
    """ "class J", or "breaker"; a stock part by its name; "gG, opens N" of one that opens the neutral with its lines."""
    made = device.part or (device.each.partition(" fuse")[0] if device.kind == "fuse" else "breaker")
    return f"{made}, opens N" if device.neutral else made


def fused(fed: Fed, way: Way) -> bool:
    """Whether the fuses of a way's only panel feeder or bank stand in its control panel's disconnect: behind its blades, ahead of all."""
    supply = fed.supplies.get(way.tank.casefold())
    return supply is not None and supply.fusible


def of_device(load: Load) -> tuple[str, ...]:
    """Rating and make of the device ahead, and its residual-current device."""
    device, residual = load.design.panel_feeder_device, residual_words(load.design, "").replace("residual-current device ", "")
    return (f"{device.rating_a:g} A", made_words(device), *((residual,) if residual else ()))
