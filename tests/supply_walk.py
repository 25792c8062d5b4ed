"""A walk from every source to every heater: each conductor on the way has a device or a tap rule that protects it, and each part is
rated for what it carries and for the fault where it stands.

Conductors, devices, lengths and levels are taken from the results alone, and each is judged here by the tables of the rule set: what sizing
says of itself is not asked. A source, feeder, bank or panel that is found wanting must say so. A step that fails is an AssertionError
that names it.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import sqrt
from typing import NamedTuple

from msgspec.structs import replace

from batch.findings import Finding, Severity
from batch.results import BankRow, Device, FeederRow, JobResult, PanelDesign, ProjectResult, SourceRow, Way, Wires
from batch.rules import load
from batch.rules.installations import Installation
from batch.sizing.placing import groups
from batch.systems import System
from tests.job_builder import RULES

IEC = load("IEC 60364")

CLOSE = 1e-6
LONGEST_TAP_M, SHORT_TAP_M = 25 * 0.3048, 10 * 0.3048  # 240.21(B)(2), (C)(6): 25 ft; (B)(1), (C)(2): 10 ft
IEC_TAP_M = 3.0  # IEC 60364-4-43, 433.2.2, 434.2.1
MISSING = {"beyond-table", "wire-not-tabulated", "wire-beyond-table", "tap-no-wire"}
IN_THE_GROUND = {"fuse-in-grounded-line", "grounded-pair"}  # what speaks of a device in a grounded line
UNKNOWN_LEVEL = {"fault-unknown", "source-fault-unknown"}
SECONDARY = {"transformer-unknown", "secondary-length-unknown", "secondary-too-long", "secondary-small"}
AT_END = {"secondary-not-judged", "service-conductors", "secondary-too-long", "secondary-small"}
OF_UNIT = {"transformer-unknown", "transformer-primary", "transformer-secondary", "transformer-secondary-many"}


class Step(NamedTuple):
    """One run of conductors with the device that protects it."""

    what: str
    wires: Wires | None
    device: Device | None
    ambient_c: float
    shares: int = 1


def walk(result: JobResult) -> int:
    """How many conductors were judged; fails at the first that nothing protects, or part that is not rated, and nobody speaks of."""
    walked = 0
    for project in result.projects:
        settings = {setting.name: setting.value for setting in project.settings}
        marked_75 = settings["Terminal rating"].startswith(("75", "167"))
        metric = project.rule_set == IEC.name
        air = settings["Ambient"]  # "104 °F (40 °C)", "40 °C"
        ambient_c = float((air.partition("(")[2] if "°F" in air else air).partition(" ")[0])
        for row in () if metric else project.sources:
            unit(project, row)
        for row in project.sources:
            secondaries(project, row, settings, ambient_c)
        for row, way, one in ways_to(project):
            said = codes_around(result, project, row, one)
            grounded_lines(row, way, one, said)
            rated(project, row, way, one, said)
            if metric:
                bears(row, one, said)
            withstand(project, row, way, one, said=said)
            feeder_c = around(row, metric, ambient_c)
            laid = (settings["Installation method"].partition(":")[0], settings["Grouping"]) if metric else None
            for step in steps(row, way, one, feeder_c, ambient_c, said, laid):
                if step.device is None or step.wires is None or not step.wires.required_size:
                    assert said & MISSING, f"{step.what} of {row.feeder.feeder} has no device or wires, and nobody says so"
                    continue
                walked += 1
                if metric:
                    method = row.feeder.installation if step.what == "feeder" else None
                    how = method or laid[0], laid[1]
                    ok = protected_by_iec(step.wires, step.device, step.ambient_c, step.shares, *how)
                else:
                    ok = protected(step.wires, step.device, step.ambient_c, step.shares, marked_75)
                words = f"{step.wires.sets} x {step.wires.size} behind {step.device.rating_a:g} A"
                assert ok, f"{step.what} of {row.feeder.feeder}: {words}"
    return walked


def around(row: FeederRow, metric: bool, air: float) -> float:
    """Temperature around a feeder: its own, of one in the ground 20 degrees by IEC 60364-5-52, 523.2, else the air's."""
    if row.feeder.ambient_c is not None:
        return row.feeder.ambient_c
    return 20.0 if metric and row.feeder.installation in ("D1", "D2") else air


def ways_to(result: ProjectResult) -> Iterator[tuple[FeederRow, Way, BankRow]]:
    """Every bank with the way and the feeder that it hangs on."""
    feeders = {row.feeder.feeder: row for row in result.feeders}
    for one in result.banks:
        row = feeders[one.feeder.feeder]
        assert row.end is not None, row.feeder.feeder
        [way] = [way for way in row.end.ways if way.tank == one.bank.tank]
        assert one.label in way.banks
        yield row, way, one


def codes_around(result: JobResult, project: ProjectResult, row: FeederRow, one: BankRow) -> set[str]:
    """Codes of what is said, cautions and more, of a bank, its tank, its feeder and their source; notes of levels that are not known."""
    own = project.project.project
    sources = [finding for source in project.sources if row.feeder.feeder in source.feeders for finding in source.findings]
    found: list[Finding] = [
        *one.findings, *sources,
        *(finding for finding in result.findings if finding.project == own and finding.feeder == row.feeder.feeder and not finding.tank),
        *(finding for finding in result.findings if finding.project == own and finding.tank == one.bank.tank and not finding.bank),
    ]  # fmt: skip
    return {finding.code for finding in found if finding.severity is not Severity.NOTE or finding.code in UNKNOWN_LEVEL}


# --- conductors


def column_of(device_a: float, marked_75: bool = False) -> int:
    return 60 if device_a <= 100 and not marked_75 else 75


def protected_by_iec(wires: Wires, device: Device, ambient_c: float, shares: int, method: str, grouping: str) -> bool:
    """IEC 60364-4-43, 433.1: In <= Iz, and of a gG fuse I2 <= 1.45 Iz, I2 = 1.6 In, below 16 A 2.1 In, the greater of what the tables
    give; by insulation, method and loaded conductors."""
    return ampacity_by_iec(wires, ambient_c, shares, method, grouping) * (1 + 1e-3) >= device.rating_a * over_by_iec(device)


def ampacity_by_iec(wires: Wires, ambient_c: float, shares: int, method: str, grouping: str) -> float:
    as_laid = IEC.installed(Installation(wires.insulation, method, grouping, 2 if wires.lines + bool(wires.neutral) <= 2 else 3))
    column_c = as_laid.factor("insulation_c").value
    each = as_laid.ampacity(wires.size, wires.material, column_c).value * as_laid.ambient_factor(ambient_c, column_c).value
    return each * wires.sets * as_laid.adjustment(0, shares * wires.sets).value  # each parallel set is a circuit of the group


def over_by_iec(device: Device) -> float:
    return 1.0 if device.kind == "breaker" else (1.6 if device.rating_a >= 16 else 2.1) / 1.45


K = {("copper", "PVC"): 115, ("copper", "XLPE"): 143, ("aluminum", "PVC"): 76, ("aluminum", "XLPE"): 94}  # IEC 60364-4-43, Table 43A
BANDS = {"B": 5, "C": 10, "D": 20}  # IEC 60898-1


def bears(row: FeederRow, bank: BankRow, said: set[str]) -> None:
    """IEC 60364-4-43, 434.5.2: (k S)^2 of line and protective conductor against what their device lets through, of every circuit."""
    circuits = {(one.circuit, one.tag): one for one in row.earth_faults}
    assert row.device is None or row.wires is None or ("feeder", row.feeder.feeder) in circuits, f"{row.feeder.feeder}: nobody judged it"
    if row.device is None or row.wires is None or row.feeder.device_at_end:
        return
    one = circuits["feeder", row.feeder.feeder]
    smaller = min(float(size.split()[0]) for size in (row.wires.size, row.wires.ground))
    borne = (K[row.wires.material, row.wires.insulation] * smaller) ** 2
    assert one.bears_a2s == borne
    if row.device.kind == "breaker" and row.fault_ka is not None and row.device.rating_a <= 125:
        least = max((1000.0 * row.fault_ka) ** 2 * 0.01, (BANDS[one.type] * row.device.rating_a) ** 2 * 0.1)
        assert least <= borne * (1 + CLOSE) or "short-circuit-energy" in said, f"{row.feeder.feeder}: its conductors burn"
    for circuit in row.earth_faults:
        ours = (circuit.tank, circuit.bank) in (("", ""), (bank.bank.tank, ""), (bank.bank.tank, bank.label))
        assert not (circuit.burns and ours) or "short-circuit-energy" in said, f"{circuit.tag}: its conductors burn"
        fused_to_a = 1250
        if circuit.kind == "fuse" and circuit.rating_a <= fused_to_a:
            assert circuit.lets_a2s is not None, f"{circuit.tag}: what its fuse lets through"


def protected(wires: Wires, device: Device, ambient_c: float, shares: int, marked_75: bool) -> bool:
    """By 240.4(B), (C) and (D): the ampacity at the terminals and where the wires run, at most one standard size below the device."""
    device_a, material = device.rating_a, wires.material
    at_terminal = RULES.ampacity(wires.size, material, column_of(device_a, marked_75)).value * wires.sets
    carrying = min(wires.lines + bool(wires.neutral), 3) * shares
    corrected = RULES.ampacity(wires.size, material, 90).value * RULES.ambient_factor(ambient_c, 90).value * wires.sets
    if carrying > 3:
        corrected *= RULES.adjustment(carrying, 1).value
    ampacity = round(min(at_terminal, corrected), 6)
    small = RULES.small_conductor_limit(wires.size, material)
    if small is not None and wires.sets == 1 and device_a > small.value:
        return False
    if ampacity >= device_a:
        return True
    up = RULES.next_rating(ampacity, device.kind)
    return device_a <= 800 and up is not None and device_a <= up.value


def not_rounded(wires: Wires, device_a: float, ambient_c: float, shares: int = 1) -> int:
    """Whole amps of the lower of terminal and corrected ampacity, all sets together: what 240.21 goes by."""
    at_terminal = RULES.ampacity(wires.size, wires.material, column_of(device_a)).value
    corrected = RULES.ampacity(wires.size, wires.material, 90).value * RULES.ambient_factor(ambient_c, 90).value
    corrected *= RULES.adjustment(min(wires.lines + bool(wires.neutral), 3) * shares, 1).value
    return int(min(at_terminal, corrected) + 1e-9) * wires.sets


def steps(
    row: FeederRow, way: Way, one: BankRow, feeder_air: float, air: float, said: set[str], laid: tuple[str, str] | None
) -> Iterator[Step]:
    """Each run of conductors from the source to the heaters of a bank, with the device that stands ahead of it; a run that a tap rule or
    the primary device protects is judged on the spot."""
    end = row.end
    assert end is not None
    if row.feeder.device_at_end:
        assert said & {"device-at-end", "service-conductors"} or row.device is None or row.wires is None, row.feeder.feeder
    else:
        yield Step("feeder", row.wires, row.device, feeder_air, row.feeder.circuits_in_raceway or 1)
    if end.unit == "taps":
        yield from tapped(row, way, air, said, laid)
    elif end.unit:
        yield Step(f"way {way.tag}", way.wires, way.device, air, row.feeder.ways_in_raceway or 1)
        assert way.device is None or way.device.rating_a >= way.largest_a, f"way {way.tag} below the device behind it"
        existing = row.feeder.device_there_a is not None
        assert None in (row.device, way.device) or row.device.rating_a >= way.device.rating_a or existing, f"feeder below way {way.tag}"
    behind = max((group.panel_feeder_device.rating_a for group in groups(one.design)), default=0.0)
    ahead_a = (way.device or row.device).rating_a if (way.device or row.device) is not None else None
    existing = row.feeder.device_there_a is not None and not end.unit
    assert ahead_a is None or ahead_a >= behind or existing, f"{row.feeder.feeder}: a device below the one that it feeds"
    for panel in one.panels:
        if panel.design.device_at_way:  # the way's device protects the panel feeder too
            assert way.device is not None and way.device.rating_a == panel.design.panel_feeder_device.rating_a
            assert not [need for need in panel.design.parts if need.role.startswith("panel feeder")]
        feed, shares = panel.design.panel_feeder_wires, one.bank.panel_feeders_in_raceway or 1
        yield Step(f"panel feeder {panel.tag}", feed, panel.design.panel_feeder_device, air, shares)
    branch = one.design.branch
    ahead = one.design.single_circuit.panel_feeder_device if one.design.single_circuit is not None else branch.device
    yield Step(f"branch of {one.bank.tank}/{one.label}", branch.wires, ahead, air, one.bank.circuits_in_raceway or 1)


def tapped(row: FeederRow, way: Way, air: float, said: set[str], laid: tuple[str, str] | None) -> Iterator[Step]:
    """A tap by 240.21(B)(1) or (B)(2), or 3 m by IEC 60364-4-43, 433.2.2; longer, it is a conductor that the feeder's device
    protects, and is not released."""
    assert way.device is not None and row.device is not None
    assert not row.feeder.device_at_end or "tap-of-secondary" in said, f"tap {way.tag} of conductors without a device"
    if row.feeder.tap_m > (IEC_TAP_M if laid else LONGEST_TAP_M):
        assert said & {"tap-too-long", "tap-no-wire"}, f"tap {way.tag} too long"
        yield Step(f"tap {way.tag}", way.wires, row.device, air, row.feeder.ways_in_raceway or 1)
    elif way.wires is None:
        assert said & MISSING, f"tap {way.tag} has no wires, and nobody says so"
    else:
        share, device_a = 10 if row.feeder.tap_m <= SHORT_TAP_M else 3, way.device.rating_a
        if laid is None:
            ampacity = not_rounded(way.wires, device_a, air, row.feeder.ways_in_raceway or 1)
        else:
            ampacity = ampacity_by_iec(way.wires, air, row.feeder.ways_in_raceway or 1, *laid) * (1 + 1e-3)
            device_a *= over_by_iec(way.device)
        assert ampacity + CLOSE >= device_a and ampacity + CLOSE >= row.device.rating_a / share, f"tap {way.tag}"


# --- sources


def unit(project: ProjectResult, row: SourceRow) -> None:
    """Table 450.3(B) of a transformer of the job: the primary device alone, or with the feeders' devices together, six at most."""
    one, said = row.source, {finding.code for finding in row.findings}
    if one.of_this_job != "yes" or said & OF_UNIT:
        return
    assert None not in (one.kva, one.primary_v, one.primary_device_a), f"{one.source}: nothing is known of its protection"
    amps = [1000.0 * one.kva / (volts * (sqrt(3.0) if one.phases == 3 else 1.0)) for volts in (one.primary_v, one.volts_v)]
    devices = [fed.device for fed in project.feeders if fed.feeder.feeder in row.feeders and fed.device is not None]
    kind = devices[0].kind if devices else "fuse"
    alone, together = (_most(each, kind, secondary) for each, secondary in zip(amps, (False, True), strict=True))
    high = one.primary_v > 1000.0  # Table 450.3(A), any location: secondary devices always, primary fuses to 3 times
    if one.primary_device_a <= alone + CLOSE and not high:
        return
    assert one.primary_device_a <= (3.0 if high else 2.5) * amps[0] + CLOSE, f"{one.source}: primary device"
    assert len(devices) <= 6 and sum(device.rating_a for device in devices) <= together + CLOSE, f"{one.source}: secondary devices"


def _most(amps: float, kind: str, secondary: bool) -> float:
    if amps < 2.0 and not secondary:
        return 3.0 * amps
    return 1.67 * amps if amps < 9.0 else RULES.next_rating(1.25 * amps, kind).value


def secondaries(project: ProjectResult, row: SourceRow, settings: dict[str, str], ambient_c: float) -> None:
    """Between a transformer and the first device of each feeder: 240.21(C)(1) by the primary device, (C)(2) to 10 ft, (C)(6) to 25 ft, or
    a finding. Of one that is not of the job where the feeder's own conductors are these."""
    one, metric = row.source, project.rule_set == IEC.name
    for fed in project.feeders:
        if fed.feeder.feeder not in row.feeders or fed.wires is None or fed.device is None or not fed.banks or not fed.wires.required_size:
            continue
        said = {finding.code for finding in (*row.findings, *fed.findings)}
        if fed.feeder.device_at_end:
            length_m, wires = one.secondary_run_m if fed.feeder.run_m is None else fed.feeder.run_m, fed.wires
            if "service-conductors" in said:  # 230.42, 230.90(A): the load with its margin, and the device, rounded up at most once
                assert one.kind == "service"
                assert metric or protected(wires, fed.device, around(fed, metric, ambient_c), 1, False), f"{one.source}: service conductors"
            if said & AT_END:
                continue
        else:
            if one.of_this_job != "yes" or said & SECONDARY:
                continue
            named = None if one.secondary_wire is None else (IEC if metric else RULES).size_named(one.secondary_wire)
            assert named is not None or said & {"secondary-wire-unknown"} or one.secondary_wire is None, one.source
            length_m = one.secondary_run_m
            wires = fed.wires if named is None else replace(fed.wires, size=named, sets=one.secondary_sets or 1)
        assert None not in (one.primary_v, one.primary_device_a, length_m), f"{one.source}: secondary conductors that nobody judges"
        device_a = fed.device.rating_a
        air = around(fed, metric, ambient_c)
        if metric:
            method = fed.feeder.installation or settings["Installation method"].partition(":")[0]
            ampacity = ampacity_by_iec(wires, air, fed.feeder.circuits_in_raceway or 1, method, settings["Grouping"]) * (1 + 1e-3)
            device_a *= over_by_iec(fed.device)
        else:
            ampacity = not_rounded(wires, fed.device.rating_a, air, fed.feeder.circuits_in_raceway or 1)
        deltas = one.primary_winding == "delta" and row.supply.system in (System.DELTA, System.CORNER_GROUNDED_DELTA)
        two_wires = row.supply.phases == 1 and row.supply.wires == 2
        assert not fed.feeder.device_at_end or ampacity + CLOSE >= fed.required_a, f"{one.source}: secondary conductors below their load"
        if (deltas or two_wires) and one.primary_device_a <= ampacity * one.volts_v / one.primary_v + CLOSE:
            continue
        longest_m = IEC_TAP_M if metric else LONGEST_TAP_M
        assert length_m <= longest_m, f"{one.source}: secondary conductors too long"
        seen_a = one.primary_v / one.volts_v * one.primary_device_a / (10 if length_m <= SHORT_TAP_M else 3)
        assert ampacity + CLOSE >= max(device_a, fed.required_a, seen_a), f"{one.source}: secondary conductors too small"


# --- parts


def grounded_lines(row: FeederRow, way: Way, one: BankRow, said: set[str]) -> None:
    """On a corner-grounded delta no fuse stands in the grounded line and every other line has one, on every level: by counts of poles."""
    grounded = row.supply.grounded
    if not grounded:
        assert row.supply.system is not System.CORNER_GROUNDED_DELTA
        two = row.supply.phases == 3 and row.device is not None and row.device.poles == 2
        assert not two or "line-without-device" in said, f"{row.feeder.feeder}: a line without a device"
        return
    marked = row.feeder.existing_poles is not None and row.feeder.existing_poles.startswith("2 marked")
    for device, there in ((row.device, row.feeder.existing_poles), (way.device, None)):
        if device is None:
            continue
        if device.kind == "breaker" and there is not None and device.poles == 2:
            assert marked or "two-pole-breaker" in said, f"{row.feeder.feeder}: two poles on three phases"
            continue
        assert device.poles == (2 if device.kind == "fuse" else 3), row.feeder.feeder
    for group, start in zip(groups(one.design), one.starts, strict=True):
        names = ("ABCABC"[start : start + 3]) if row.supply.phases == 3 else "ABC"
        terminal = f"L{names.index(grounded) + 1}"
        terminals = {part for leg in group.legs for part in leg.split("-") if part[0] == "L"}
        assert group.grounded == (terminal if terminal in terminals else "")
        device = group.panel_feeder_device
        assert device.poles == (len(terminals - {terminal}) if device.kind == "fuse" else len(terminals))
        bought = {need.role: need.quantity for need in (*group.parts, *group.feed_parts) if need.role.endswith(" fuse")}
        if group.block and group.branch.device.kind == "fuse":
            lines = [part for leg in group.legs for part in leg.split("-") if part[0] == "L" and part != terminal]
            assert bought["branch fuse"] == len(lines)
        role = "panel feeder fuse" if group.block else "bank fuse"
        assert device.kind != "fuse" or group.device_at_way or bought[role] == len(terminals - {terminal})
    assert row.feeder.grounded_fused != "yes" or said & IN_THE_GROUND


def rated(project: ProjectResult, row: FeederRow, way: Way, one: BankRow, said: set[str]) -> None:
    """Devices, bus, disconnects, contactors and blocks for the current, and for the fault where they stand."""
    name, end = row.feeder.feeder, row.end
    assert end is not None
    there = row.feeder.device_there_a
    carries(f"feeder device of {name}", row.device.rating_a if row.device else None, row.required_a, said, MISSING)
    carries(f"existing device of {name}", there, row.required_a if there is not None else 0.0, said, {"existing-device-small"})
    if end.unit and end.unit != "taps" and row.device is not None:
        ahead = min(filter(None, (row.device.rating_a, end.main_a)))
        carries(f"bus of {name}", end.bus_a, ahead, said, {"bus-small", *MISSING})
        carries(f"frame of {way.tag}", way.frame_a, way.device.rating_a if way.device else 0.0, said, MISSING)
        carries(f"main of {name}", end.main_a or row.required_a, row.required_a, said, {"main-small", "existing-device-small"})
        assert not row.feeder.device_at_end or end.main_a is not None, f"{name}: a unit without a device ahead has no main"
    if end.unit:
        carries(f"device of {way.tag}", way.device.rating_a if way.device else None, way.required_a, said, MISSING)
    for design, lines in parts_of(one):
        device = design.panel_feeder_device
        what = f"of {one.bank.tank}/{one.label}"
        carries(f"panel feeder device {what}", device.rating_a, design.required_a, said, {"fixed-rating-small", *MISSING})
        carries(f"contactor {what}", design.contactor_a, lines, said, MISSING)
        if design.block:
            carries(f"block {what}", design.block_a, device.rating_a, said, MISSING)
            branch = design.branch
            carries(f"branch device {what}", branch.device.rating_a, branch.required_a, said, {"fixed-rating-small", *MISSING})
    for control in project.controls:
        for supply in control.supplies:
            if control.tank == one.bank.tank and supply.feeder == name:
                ahead_a = 0.0 if supply.fusible else supply.ahead_a or 0.0
                carries(f"disconnect of {control.tank}", supply.disconnect_a, max(1.25 * supply.line_a, ahead_a), said, MISSING)
                if supply.backup:
                    carries(f"back-up contactor of {control.tank}", supply.backup_a, supply.line_a, said, MISSING)


def parts_of(one: BankRow) -> Iterator[tuple[PanelDesign, float]]:
    """Each panel or single circuit of a bank, with the current of its fullest line."""
    for panel in one.panels:
        yield panel.design, panel.lines.maximum
    if one.design.single_circuit is not None:
        yield one.design.single_circuit, one.design.line_a


def carries(what: str, has_a: float | None, needs_a: float, said: set[str], speaks: set[str]) -> None:
    assert (has_a is not None and has_a + CLOSE >= needs_a) or needs_a == 0.0 or said & speaks, f"{what}: {has_a} A for {needs_a:.1f} A"


def withstand(project: ProjectResult, row: FeederRow, way: Way, one: BankRow, *, said: set[str]) -> None:
    """Every device and part against the fault current where it stands: its own marking, or the default of what nobody has marked; where
    the rule set has no default, as IEC 60364, somebody says that nothing is known of it."""
    name = row.feeder.feeder
    if row.fault_ka is None:
        assert said & UNKNOWN_LEVEL or not row.banks, f"{name}: no fault level, and nobody says so"
        return
    if row.wires is None or row.end is None:
        return
    defaults = dict.fromkeys(("breaker", "contactor"), 5.0) | {"fuse holder": 10.0}  # UL 508A Table SB4.1
    metric = project.rule_set == IEC.name
    breaker, holder, contactor = (None if metric else defaults[kind] for kind in ("breaker", "fuse holder", "contactor"))
    if row.device is not None and row.device.kind == "breaker":
        there = row.device_fault_ka or 0.0
        bought = [line.part for line in project.materials if line.role == "feeder breaker" and line.owner.name == name and line.part]
        assert not there or said & {"interrupting-over"} or bought, f"{name}: what its breaker interrupts"  # a stock part is chosen by it
    for design, _ in parts_of(one):
        panel_ka = next((panel.fault_ka for panel in one.panels if panel.design is design), way.fault_ka)
        what = f"of {one.bank.tank}/{one.label}"
        devices = [(design.branch.device, panel_ka)] if design.block else []
        devices += [] if design.device_at_way else [(design.panel_feeder_device, way.fault_ka)]
        for device, level_ka in devices:
            marked = device.interrupting_ka if device.part or device.kind == "fuse" else None
            stands(f"device {what}", level_ka, marked, breaker if device.kind == "breaker" else None, said)
        if not design.device_at_way and design.panel_feeder_device.kind == "fuse" and design.panel_feeder_holder is None:
            stands(f"holder {what}", way.fault_ka, None, holder, said)
        marked = design.switch_ka if design.switch_from_stock else None
        stands(f"contactor {what}", way.fault_ka, marked, None if design.switch_from_stock else contactor, said)
        if design.block:
            marked = design.sccr_ka if design.sccr_from_stock else None
            stands(f"panel {what}", panel_ka, marked, None if design.sccr_from_stock else design.sccr_ka, said)
            every = design.sccr_marked or not metric or panel_ka is None
            assert every or "fault-rating-unknown" in said, f"panel {what}: a part of it has no rating, and nobody says so"


def stands(what: str, level_ka: float | None, marked_ka: float | None, default_ka: float | None, said: set[str]) -> None:
    if level_ka is None:
        return
    if marked_ka is not None:
        assert level_ka <= marked_ka + CLOSE or "fault-over-rating" in said, f"{what}: {marked_ka} kA at {level_ka:.2f} kA"
    elif default_ka is not None:
        assert level_ka <= default_ka + CLOSE or "fault-over-default" in said, f"{what}: {default_ka} kA at {level_ka:.2f} kA"
    else:
        assert "fault-rating-unknown" in said, f"{what}: no rating at {level_ka:.2f} kA, and nobody says so"
