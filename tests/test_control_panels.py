"""The control panel of every tank, of every sample and of generated tanks: one safety string, marks used once, wires that end somewhere."""

from __future__ import annotations

from collections import Counter
from functools import cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import batch
from batch.control_results import TankControl
from batch.drawings.control_power import power_plans
from batch.papers.shop_test_papers import hung_behind
from batch.results import BankRow, JobResult
from batch.sizing.project import size_job
from tests import make_samples
from tests.control_simulator import Simulator, hold_to_the_string, running
from tests.job_builder import bank, feeder, job, part, project, size, tank

SAMPLES = ("small-clean.xlsx", "whole-plant.xlsx", "whole-plant-iec.xlsx", "every-finding.xlsx")


@cache
def checked(name: str) -> JobResult:
    return batch.check(make_samples.HERE / name)


def controls(result: JobResult) -> list[TankControl]:
    return [control for one in result.projects for control in one.controls]


def latch(control: TankControl) -> str:
    return next(one.mark for one in control.circuit.elements if one.kind == "coil" and (one.mark.startswith("CRL") or one.mark == "-K1"))


def hold(control: TankControl) -> int:
    """Every panel feeder has a contactor, each contactor's coil is in the ladder, and whatever opens drops them all."""
    contactors = [coil.mark for coil in control.coils]
    assert {feed.contactor for feed in control.feeds} | {supply.backup for supply in control.supplies if supply.backup} == set(contactors)
    return hold_to_the_string(control.circuit.ladder, contactors, latch(control), control.settings.reset == "at the limit")


@pytest.mark.parametrize("name", SAMPLES)
def test_whatever_opens_drops_every_contactor_of_a_samples_tank(name: str) -> None:
    circuits = {id(control.circuit.ladder): control for control in controls(checked(name))}
    assert circuits and all(hold(control) > 4 for control in circuits.values())


@pytest.mark.parametrize("name", SAMPLES)
def test_every_bank_that_is_sized_has_its_contactors_and_limits_in_one_panel(name: str) -> None:
    for one in checked(name).projects:
        by_tank = {control.tank.casefold(): control for control in one.controls}
        banks: dict[tuple[str, str], list[BankRow]] = {}  # several where a label was given twice, which is a hold
        for row in one.banks:
            banks.setdefault((row.bank.tank.casefold(), row.label), []).append(row)
        for (tank_tag, label), rows in banks.items():
            control = by_tank[tank_tag]
            assert sum(feed.bank == label for feed in control.feeds) == sum(len(row.panels) or 1 for row in rows)
            limits = sum(element.kind == "limit" and element.bank == label for element in control.circuit.elements)
            assert limits == sum(row.bank.quantity for row in rows if row.bank.over_temperature_limit != "no")
        assert [control.tank.casefold() for control in one.controls] == list(by_tank) and len(by_tank) == len(one.controls)


def marks_of(control: TankControl) -> list[tuple[str, str]]:
    """Box and designation of everything that has one, each named once however many poles and contacts it has."""
    ladder = {one.mark for one in control.circuit.elements if one.kind not in ("ground", "jumper", "supply", "interlock")}
    power = {one.mark.rstrip("ABC") if one.kind in ("power fuse", "breaker") else one.mark for one in control.circuit.power}
    assert not (ladder & power) - {coil.mark for coil in control.coils}, "one mark for two things"
    blocks = [supply.block_mark for supply in control.supplies if supply.block_mark]
    blocks += {wire.end.partition(":")[0] for wire in control.circuit.wires if wire.purpose == "panel feeder" and wire.end_box == "HCP"}
    return [("", mark) for mark in (*ladder, *(power - ladder), *blocks)]


@pytest.mark.parametrize("name", SAMPLES)
def test_designations_are_used_once_in_a_tank(name: str) -> None:
    for control in controls(checked(name)):
        if control.hold is not None and control.hold.code == "bank-repeated":
            continue
        assert max(Counter(marks_of(control)).values()) == 1
        devices = [feed.device for feed in control.feeds] + [feed.contactor for feed in control.feeds]
        assert len(devices) == len(set(devices))
        coils = [one.mark for one in control.circuit.elements if one.kind == "coil"]
        assert len(coils) == len(set(coils))


def drawn(control: TankControl) -> set[tuple[str, str]]:
    """Box and point of every terminal that the drawings show: of elements, strips, blocks, and of what stands in the field."""
    points = {(one.box, point) for one in (*control.circuit.elements, *control.circuit.power) for point in one.points}
    points |= {(one.box, one.point) for one in control.circuit.terminals}
    for supply in control.supplies:
        points |= {("HCP", f"{supply.block_mark}:{side}{line}") for side in "LT" for line in range(1, supply.lines + 1)}
        points |= {("field", f"supply {supply.number} L{line}") for line in range(1, supply.lines + 1)}
        points |= {("field", f"supply {supply.number} N"), ("HCP", supply.neutral_bar)} if supply.neutral else set()
    for feed in control.feeds:
        block, box = "PDB1" if feed.contactor.startswith("CON") else "-X0", feed.tag
        if control.settings.boxes == "one":
            block, box = f"{feed.number}{block}", "HCP"
        points |= {(box, f"{block}:L{pole}") for pole in (1, 2, 3)} | ({(feed.tag, "neutral bar N")} if feed.neutral else set())
        points |= {("HCP", f"neutral bar {feed.residual}")} if feed.residual and feed.neutral and feed.single else set()
    points |= {("field", f"{one.mark}:{lead}") for one in control.circuit.elements if one.field for lead in (1, 2)}
    points |= {("field", f"control power:{lead}") for lead in (1, 2)} if control.settings.transformer == "others" else set()
    return points


def hold_wires(control: TankControl) -> None:
    """Every wire ends at two drawn terminals, and no terminal is loose but those of a line that nothing hangs on, and of a single-circuit
    bank, whose heaters are on Wiring. A terminal of a strip takes one wire a side, jumpers none."""
    strips = {(one.box, one.point) for one in control.circuit.terminals}
    landed = Counter(
        end for wire in control.circuit.wires if wire.colour != "jumper"
        for end in ((wire.start_box, wire.start), (wire.end_box, wire.end)) if end in strips
    )  # fmt: skip
    assert max(landed.values()) <= 2, [point for point, count in landed.items() if count > 2]
    shown, ends = drawn(control), Counter()
    potentials = {(one.box, point): of for one in control.circuit.power for point, of in zip(one.points, (one.start, one.end), strict=True)}
    for wire in control.circuit.wires:
        for end in ((wire.start_box, wire.start), (wire.end_box, wire.end)):
            assert end in shown, (control.tag, wire)
            assert wire.number == potentials.get(end, wire.number), f"{control.tag}: two numbers of one potential at {end}: {wire}"
            ends[end] += 1
    used = {(supply.number, "ABC".index(line) + 1) for supply in control.supplies for feed in control.feeds if feed.supply == supply.number
            for line in feed.on}  # fmt: skip
    spare = {f"{supply.backup or supply.mark}:T{line}" for supply in control.supplies for line in range(1, supply.lines + 1)
             if (supply.number, line) not in used}  # fmt: skip
    spare |= {f"{feed.contactor}:T{pole}" for feed in control.feeds if feed.single for pole in (1, 2, 3)}
    for one in (*control.circuit.elements, *control.circuit.power):
        for point in one.points:
            assert point in spare or ends[one.box, point], f"{control.tag}: nothing lands on {point}"


@pytest.mark.parametrize("name", SAMPLES)
def test_every_wire_ends_at_two_drawn_terminals_and_no_terminal_is_loose(name: str) -> None:
    for control in {id(control.circuit): control for control in controls(checked(name))}.values():
        hold_wires(control)


@settings(max_examples=25, deadline=None)
@given(
    st.lists(st.tuples(st.integers(1, 12), st.sampled_from([3.0, 6.0, 12.0]), st.sampled_from([1, 3]), st.sampled_from(["F-1", "F-2"]),
                       st.sampled_from(["yes", "no", None]), st.sampled_from([None, "TC-A"])), min_size=1, max_size=3),
    st.sampled_from(["yes", "no", None]), st.sampled_from(["panel", "at the limit"]), st.sampled_from(["panel", "others"]),
    st.sampled_from(["panel", "others"]), st.sampled_from([None, 30.0]), st.sampled_from(["yes", "no"]), st.sampled_from(["one", "two"]),
    st.sampled_from(["fuse", "breaker"]),
)  # fmt: skip
def test_generated_tanks_hang_on_one_string(rows, level, reset, transformer, controller, trip, backup, boxes, kind) -> None:
    banks = [
        bank(bank=str(number), quantity=quantity, power_kw=kw, phases=phases, feeder=name, connection=None, over_temperature_limit=limit,
             temperature_contact=contact)
        for number, (quantity, kw, phases, name, limit, contact) in enumerate(rows, start=1)
    ]  # fmt: skip
    asked = project(limit_reset=reset, control_transformer=transformer, controller_by=controller, ground_fault_trip_ma=trip,
                    backup_contactor=backup, boxes=boxes, device_kind=kind)  # fmt: skip
    feeders = [feeder(), feeder(feeder="F-2")]
    for control in controls(size_job(job(banks, feeders, [tank(level_cutoff=level)], asked))):
        hold(control)
        hold_wires(control)
        assert max(Counter(marks_of(control)).values()) == 1
        assert len(control.supplies) == len({name for _, _, _, name, _, _ in rows})
        contacts = len({contact or f"bank {number}" for number, (*_, contact) in enumerate(rows)})
        assert sum(one.kind == "temperature contact" for one in control.circuit.elements) == contacts


def test_two_banks_on_two_supplies_and_a_panel_fed_alone() -> None:
    """By hand: 6 x 3 kW in delta, 21.65 A, 27.06 with 25 %: a 30 A disconnect, which with its only panel's 30 A fuses is one device; the
    other bank hangs on a supply of its own."""
    result = size([bank(quantity=6, power_kw=3.0), bank(bank="2", feeder="F-2", quantity=6, power_kw=3.0)],
                  [feeder(), feeder(feeder="F-2")])  # fmt: skip
    (control,) = controls(result)
    assert [(one.mark, one.feeder, one.disconnect_a, one.fusible, one.block) for one in control.supplies] == [
        ("DISC1", "F-1", 30.0, True, ""), ("DISC2", "F-2", 30.0, True, ""),
    ]
    assert [(feed.device, feed.contactor, feed.tag, feed.supply) for feed in control.feeds] == [
        ("PFU1", "CON1", "1-P1", 1), ("PFU2", "CON2", "2-P1", 2),
    ]
    power = {one.points[0]: (one.start, one.end, one.of) for one in control.circuit.power}
    assert power["DISC2:L1"] == ("2L1", "2F1", "PFU2A") and power["CON2:L3"] == ("2F3", "2T3", "CON2")
    assert control.primary_v == 480.0 and control.circuit.ladder[0].elements[0].start == "1F1"  # behind the only fuses there are


@pytest.mark.parametrize("transformer", ["panel", "none"])
def test_control_power_behind_a_fusible_disconnect_has_the_number_of_its_line(transformer: str) -> None:
    """Phases of a second panel begin on another line: what is tapped at T1 is the conductor that lands there, whatever pole of the fuses
    it is, or two phases would bear one number."""
    of = {"volts_v": 208.0, "system": "wye grounded", "wires": 4, "phases": 3}
    own = [bank(tank=f"T-{number}", quantity=4, power_kw=1.0, volts_v=120.0, phases=1, connection=None) for number in range(1, 4)]
    result = size(own, feeder(**of), [tank(tank=f"T-{number}") for number in range(1, 4)], project(control_transformer=transformer))
    turned = [control for control in controls(result) if control.supplies[0].fusible and control.feeds[0].on[0] != "A"]
    assert turned
    for control in turned:
        hold_wires(control)
        first = control.circuit.ladder[0].elements or control.circuit.ladder[1].elements
        assert first[0].start == f"1F{control.feeds[0].on.index('A') + 1}"


def test_parts_of_equal_amps_on_other_volts_are_other_parts() -> None:
    """Of 12.5 A each, on 480 and 208 V: who buys two alike has one that is marked for less than it stands on."""
    low = {"volts_v": 208.0, "system": "wye grounded"}
    second = bank(tank="T-2", feeder="F-2", quantity=12, power_kw=2.6, volts_v=208.0)
    result = size([bank(quantity=12), second], [feeder(), feeder(feeder="F-2", **low)], [tank(), tank(tank="T-2")])
    of = {control.tank: control for control in controls(result)}
    for tag, volts in (("T-1", "480 V"), ("T-2", "208 V")):
        assert f", {volts}" in of[tag].supplies[0].disconnect and f", {volts};" in of[tag].supplies[0].block
        bought = [one.words for one in result.projects[0].materials if one.role.endswith("contactor")]
        assert sum(f", {volts}, " in words for words in bought) == 1


def test_two_panels_of_one_supply_share_a_block_and_the_larger_line_sets_the_disconnect() -> None:
    """16 heaters of 6 kW, 12.5 A: two panels of 8, of 3 + 3 + 2 branches; lines of the bank 16 / 3 x 12.5 x 1.732 about 115 A."""
    result = size(bank(quantity=16, connection=None))
    (control,) = controls(result)
    (supply,) = control.supplies
    assert supply.required_a == pytest.approx(1.25 * supply.line_a) and supply.disconnect_a == 200.0 and not supply.fusible
    assert supply.block.startswith("3-pole, at least 150 A, 480 V; openings a pole: 1 line side") and "2 load side" in supply.block
    numbers = {wire.number for wire in control.circuit.wires if wire.end.startswith(("PFU", "CON")) and wire.purpose == "power"}
    assert numbers == {"1D1", "1D2", "1D3", *(f"{feed}F{pole}" for feed in (1, 2) for pole in (1, 2, 3))}
    out = {wire.size for wire in control.circuit.wires if wire.start.startswith("PDB1:T")}
    assert out == {supply.jumper} and f"2 load side, {supply.jumper} jumpers" in supply.block
    into = {wire.size for wire in control.circuit.wires if wire.end.startswith("PDB1:L") and wire.end_box == "HCP"}
    assert into == {wire.size for wire in control.circuit.wires if wire.purpose == "supply"} != out


@pytest.mark.parametrize(("listed", "chosen"), [((75.0,), (100.0, "")), ((75.0, 80.0), (80.0, "D-80"))])
def test_a_disconnect_is_rated_for_the_fuses_ahead_of_it(listed: tuple[float, ...], chosen: tuple[float, str]) -> None:
    """Six of 8 kW on 480 V: 72.2 A with 25 %, so fuses of 80 A at the feeder and at the panel: a stock disconnect of 75 A would carry 80 A
    that nothing clears. Of a list without a larger one a generic one is named, and said."""
    stock = [part(part=f"D-{rating:g}", kind="disconnect", rating_a=rating, poles=3, volts_v=600.0) for rating in listed]
    result = size(bank(quantity=6, power_kw=8.0, connection=None), stock=stock)
    (supply,) = controls(result)[0].supplies
    assert supply.required_a < 75.0 and supply.ahead_a == 80.0 and not supply.fusible
    assert (supply.disconnect_a, supply.disconnect_part) == chosen
    said = [one.message for one in result.findings if one.code == "stock-none-serves" and "disconnect" in one.message]
    assert bool(said) == (not chosen[1])


def test_a_disconnect_beyond_every_switch_is_said() -> None:
    """500 heaters of 6 kW ask for fuses of more than 4000 A, the last of the list of switches."""
    result = size(bank(quantity=500, connection=None))
    (supply,) = controls(result)[0].supplies
    assert supply.disconnect_a > 4000.0 and not supply.fusible
    assert [one.message for one in result.findings if one.code == "beyond-table" and one.message.startswith("Disconnect: ")]


@pytest.mark.parametrize("name", SAMPLES)
def test_the_list_and_the_block_name_one_jumper(name: str) -> None:
    """Of every block of a sample, as its words have it; a bar is no wire."""
    for control in controls(checked(name)):
        for supply in (one for one in control.supplies if one.block):
            out = {(wire.size, wire.colour == "bar") for wire in control.circuit.wires if wire.start.startswith(f"{supply.block_mark}:T")}
            assert out == {(supply.jumper, not supply.jumper)}
            assert supply.block_part or f"load side, {supply.jumper} jumpers" in supply.block or not supply.jumper


def test_temperature_contacts_of_one_potential_hang_on_jumpers() -> None:
    """Three banks with a contact each: wire 3 comes to TB1:11 once, jumpers carry it on to :13 and :15, and each has its field wire.
    They are bought."""
    banks = [bank(bank=str(number), quantity=2, temperature_contact=f"T{number}") for number in (1, 2, 3)]
    (control,) = controls(size(banks, feeder(), tanks=[tank(level_cutoff="yes")]))
    wires = [one for one in control.circuit.wires if {one.start, one.end} & {"TB1:11", "TB1:13", "TB1:15"}]
    assert [(one.start, one.end) for one in wires if one.colour == "jumper"] == [("TB1:11", "TB1:13"), ("TB1:13", "TB1:15")]
    plain = [{one.start, one.end} for one in wires if one.colour != "jumper"]
    assert [sum(point in ends for ends in plain) for point in ("TB1:11", "TB1:13", "TB1:15")] == [2, 1, 1]
    bought = [need.quantity for need in control.parts if need.role == "terminal jumper" and need.words.startswith("past")]
    assert bought == [2]


def test_control_power_by_others_has_its_field_wires_and_its_place_on_the_strip() -> None:
    (control,) = controls(size(bank(quantity=6), feeder(), projects=project(control_transformer="others")))
    ends = {(one.start, one.end, one.number, one.colour) for one in control.circuit.wires if one.end.startswith("control power:")}
    assert ends == {("TB1:9", "control power:1", "X1", "orange"), ("TB1:10", "control power:2", "2", "white")}
    assert {one.outside for one in control.circuit.terminals if one.point in ("TB1:9", "TB1:10")} == {"control power, by others"}
    hold_wires(control)


def test_control_power_line_to_neutral_needs_no_transformer() -> None:
    result = size(
        bank(power_kw=2.0, volts_v=120.0, quantity=2, connection=None),
        feeder(volts_v=208.0, wires=4),
    )
    (control,) = controls(result)
    assert control.primary_v == 0.0 and control.transformer_va is None
    source = next(one for one in control.circuit.elements if one.kind == "supply")
    assert (source.start, source.end) == ("1F1" if control.supplies[0].fusible else "1D1", "2")
    hold(control)


def test_a_corner_grounded_delta_has_no_control_fuse_in_its_grounded_line() -> None:
    result = size(bank(quantity=6), feeder(system="corner-grounded delta"), projects=project(device_kind="breaker"))
    (control,) = controls(result)
    assert control.circuit.ladder[0].elements[0].start == "1D1"
    assert control.circuit.ladder[0].elements[-1].end == "1D3"


def test_kinds_of_ladders_go_by_build_not_by_number_of_heaters() -> None:
    banks = [bank(tank=f"T-{number}", quantity=quantity, connection=None) for number, quantity in ((1, 6), (2, 4), (3, 16), (4, 6))]
    kinds = [control.kind for control in controls(size(banks))]
    assert kinds[0] == kinds[3] == "Ladder 01" and kinds[2] not in kinds[:2]


def test_control_panels_whose_conductors_differ_are_not_built_alike() -> None:
    """Their drawing shows the sizes: one hangs by 50 m where the drop asks for more copper."""
    ways = {"T-1": 2.0, "T-2": 2.0, "T-3": 400.0}
    banks = [bank(tank=tag, feeder=f"F-{at}", quantity=6, power_kw=3.0) for at, tag in enumerate(ways, start=1)]
    feeders = [feeder(feeder=f"F-{at}", run_m=run_m) for at, run_m in enumerate(ways.values(), start=1)]
    result = size(banks, feeders, [tank(tank=tag) for tag in ways])
    sizes = {one.tank: {wire.size for wire in one.circuit.wires if wire.purpose == "supply"} for one in controls(result)}
    kinds = {one.tank: one.type for one in controls(result)}
    assert sizes["T-1"] == sizes["T-2"] != sizes["T-3"]
    assert kinds["T-1"] == kinds["T-2"] != kinds["T-3"]


def test_a_row_that_is_not_sized_holds_the_control_panel_alone() -> None:
    result = size([bank(), bank(bank="2", phases=2), bank(tank="T-2", bank="1")])
    whole, lost = result.projects[0].controls[1], result.projects[0].controls[0]
    assert lost.hold is not None and lost.hold.code == "control-incomplete" and lost.kind == "Hold ladder 01"
    assert whole.hold is None and all(row.hold is None for row in result.projects[0].banks)


@pytest.mark.parametrize("name", SAMPLES)
def test_the_shop_test_says_what_drops_with_each_temperature_contact(name: str) -> None:
    seen = set()
    for control in controls(checked(name)):
        if id(control.circuit) in seen:
            continue
        seen.add(id(control.circuit))
        contactors = [coil.mark for coil in control.coils]
        for contact in (one for one in control.circuit.elements if one.kind == "temperature contact"):
            follower = running(Simulator(control.circuit.ladder, contactors, latch(control)), control.settings.reset == "at the limit")
            follower.opened = {place for place, one in enumerate(follower.elements) if one is contact}
            follower.settle()
            assert follower.on == set(contactors) - hung_behind(control, contact), (control.tag, contact.mark)
            assert hung_behind(control, contact) & set(contactors)
    assert seen


@pytest.mark.parametrize("kind", ["fuse", "breaker"])
@pytest.mark.parametrize(("heaters", "kw"), [(9, 3.0), (6, 2.0), (1, 3.0)])
def test_a_residual_current_device_stands_in_every_line_and_in_the_neutral(heaters: int, kw: float, kind: str) -> None:
    """Between the overcurrent device and the contactor; the neutral passes through it, and heaters of a bank without a panel hang on a bar
    of its own, where no other's neutral lands. What is bought, drawn and wired bears one designation."""
    of = {"volts_v": 400.0, "system": "wye grounded", "earthing": "TN-S", "wires": 4, "frequency_hz": 50.0}
    one = project(code_basis="IEC 60364", rcd_ma=30.0, device_kind=kind)
    result = size(bank(quantity=heaters, power_kw=kw, volts_v=230.0, phases=1, connection=None), feeder(**of), projects=one)
    [control] = result.projects[0].controls
    for feed in control.feeds:
        mark, own = feed.residual, [one for one in control.circuit.power if one.mark == feed.residual]
        assert feed.neutral and mark and {one.kind for one in own} == {"residual-current device"} and len(own) == len(feed.on) + 1
        ahead = {one.start for one in control.circuit.power if one.mark == feed.contactor}
        assert {one.end for one in own} == ahead | {f"{feed.number}N"}
        into = {wire.end: wire.start for wire in control.circuit.wires}
        assert into[f"{mark}:N"] == control.supplies[0].neutral_bar
        out = [wire.end for wire in control.circuit.wires if wire.start == f"{mark}:TN"]
        assert out == ([f"neutral bar {mark}"] if feed.single else ["neutral bar N"])
        assert control.enclosure is not None and any(mark in part.marks for part in control.enclosure.parts)
        symbols = [one for sheet in power_plans(control, result.projects[0].symbols) for one in sheet.symbols]
        poles = [one for one in symbols if one.of == mark]
        assert len(poles) == len(own) and len({one.x for one in poles}) == 1 and {one.kind for one in poles} == {"disconnect"}
        assert poles[0].x not in {one.x for one in symbols if one.of == control.supplies[0].mark}
    assert {feed.single for feed in control.feeds} == {heaters < 9}
    hold_wires(control)
