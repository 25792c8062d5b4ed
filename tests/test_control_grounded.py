"""The grounded side of control power: never on a pole of a line, but on a neutral that the supply brings, on a winding, or on the terminal
of others; and each control circuit has one source. Walked wire by wire in every sample and in generated jobs of every system.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import cache
from math import sqrt

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

import batch
from batch.control_results import LIVE, ControlSupply, ControlWire, TankControl
from batch.drawings.control_power import power_plans
from batch.drawings.ladder import plans
from batch.drawings.ladder_rows import Alike
from batch.papers.shop_test_papers import steps_alive
from batch.results import FeederRow, JobResult, ProjectResult
from batch.schedules import rows
from batch.sizing.project import size_job
from tests import make_samples
from tests.job_builder import bank, codes, feeder, job, project, size
from tests.samples import broken, customer

SAMPLES = (
    "small-clean.xlsx", "whole-plant.xlsx", "whole-plant-iec.xlsx", "every-finding.xlsx", "every-earth-fault.xlsx", "customer-list.xlsx",
    *(f"revisions/{path.name}" for path in sorted((make_samples.HERE / "revisions").glob("line-4-rev-?.xlsx"))),
    *(f"broken/{name}" for name in broken.OWN),
)  # fmt: skip
POWER = ("power", "supply", "panel feeder")
GROUND_BARS = ("ground bar", "PE bar")
OPENED = ("TT", "IT")  # earthings whose neutral a switch opens
WINDINGS = ("CPT1:X2", "-T1:4")  # of the transformer's secondary, the grounded one: US and IEC marks
OF_OTHERS = ("TB1:10", "-X1:10")
Point = tuple[str, str]


@cache
def checked(name: str) -> JobResult:
    column_map = make_samples.HERE / customer.MAP if name.startswith("customer-list") else None
    return batch.check(make_samples.HERE / name, column_map=column_map)


def ends(wire: ControlWire) -> tuple[Point, Point]:
    return (wire.start_box, wire.start), (wire.end_box, wire.end)


def joined(wires: Iterable[ControlWire], start: Point) -> set[Point]:
    """All terminals that these wires join to a terminal."""
    found, grown, all_of = {start}, True, list(wires)
    while grown:
        grown = False
        for wire in all_of:
            here = set(ends(wire))
            if here & found and not here <= found:
                found |= here
                grown = True
    return found


def poles_of(control: TankControl) -> set[Point]:
    """Every terminal that a line lands on: of disconnects, devices, contactors, blocks, and where the supply's lines come in; not those of
    the pole by which a switch opens the neutral."""
    found = {("HCP", point) for one in control.circuit.power if not one.start.endswith("N") for point in one.points}
    for supply in control.supplies:
        found |= {("field", f"supply {supply.number} L{line}") for line in (1, 2, 3)}
        found |= {("HCP", f"{supply.block_mark}:{side}{line}") for side in "LT" for line in (1, 2, 3) if supply.block_mark}
    found |= {end for wire in control.circuit.wires for end in ends(wire) if wire.purpose in POWER and not is_neutral(wire)}
    return found


def is_neutral(wire: ControlWire) -> bool:
    return wire.number.endswith("N")


def grounded_wires(control: TankControl) -> list[ControlWire]:
    """Wires of the control circuit's grounded side, and every neutral; not the one grounded line of a delta, which is a line."""
    hues = ("white", "blue")
    own = [one for one in control.circuit.wires if one.number == "2" or is_neutral(one)]
    assert own and all(one in own for one in control.circuit.wires if one.colour in hues and one.purpose not in POWER)
    return own


def really_comes(supply: ControlSupply, row: FeederRow, control: TankControl) -> bool:
    """By the conductors that are pulled: the feeder's and, where it has its own, the way's; or since what hangs there needs it."""
    if row.supply.system == "1-phase line-to-neutral":
        return True
    ways = [way.wires for way in (row.end.ways if row.end is not None else ()) if way.tank.casefold() == control.tank.casefold()]
    pulled = [row.wires, *(wires for wires in ways if wires is not None)]
    if any(feed.neutral for feed in control.feeds if feed.supply == supply.number):
        assert all(wires is None or wires.neutral for wires in pulled), f"{control.tag}: heaters on a neutral that is not pulled"
        return True
    return row.supply.has_neutral and all(wires is not None and wires.neutral for wires in pulled)


def volts_to_neutral(supply: ControlSupply) -> float:
    """By hand: all of it, half, or over the square root of three."""
    return supply.volts_v / {"1-phase line-to-neutral": 1.0, "1-phase 3-wire": 2.0}.get(str(supply.system), sqrt(3.0))


def hold_grounded(control: TankControl, feeders: dict[str, FeederRow]) -> str:
    """Returns where the grounded side ends: "winding", "neutral" or "others"."""
    lines, grounded = poles_of(control), grounded_wires(control)
    for wire in grounded:
        assert not set(ends(wire)) & lines, f"{control.tag}: grounded wire {wire.number} on a line: {wire}"
    common = [wire for wire in grounded if wire.number == "2" and wire.end not in GROUND_BARS]
    side = joined(common, ends(common[0])[0])
    assert all(set(ends(wire)) <= side for wire in common), f"{control.tag}: wire 2 is in several pieces"
    bars = {supply.neutral_bar for supply in control.supplies} - {""}
    sources = [point for _, point in side if point in (*WINDINGS, *OF_OTHERS) or point in bars]
    assert len(sources) == 1, f"{control.tag}: wire 2 ends at {sources}"
    coils = {("HCP", one.points[1]) for one in control.circuit.elements if one.end == "2" and one.kind in ("coil", "lamp", "load")}
    assert coils and coils <= side
    earthed = [one.start for one in control.circuit.wires if one.end in GROUND_BARS and one.number == "2"]
    hold_neutrals(control, feeders, grounded)
    [source] = [one for one in control.circuit.elements if one.kind in ("secondary", "supply")]
    if sources[0] in WINDINGS:
        hold_transformer(control, lines, earthed=feeders[control.supplies[0].feeder].earthing != "IT")
        assert source.kind == "secondary" and earthed == sources, "the winding is grounded, once"
        return "winding"
    assert not earthed and not any(one.kind in ("primary", "secondary") for one in control.circuit.elements)
    assert source.kind == "supply" and control.primary_v == 0.0 and control.transformer_va is None
    if sources[0] in OF_OTHERS:
        assert control.settings.transformer == "others"
        return "others"
    first = control.supplies[0]
    assert sources[0] == first.neutral_bar and volts_to_neutral(first) == pytest.approx(control.settings.control_v, rel=0.02)
    assert ("HCP", source.points[0]) in lines and source.points[0].startswith(f"{first.mark}:T"), "its line is behind the disconnect"
    assert control.settings.transformer in ("", "none")
    return "neutral"


def hold_transformer(control: TankControl, lines: set[Point], *, earthed: bool) -> None:
    """Its primary stands between two lines of the first supply, a fuse in each, or between a line, with a fuse, and the neutral, which has
    one where it is joined to earth nowhere."""
    primary = control.circuit.ladder[0].elements
    [winding] = [one for one in primary if one.kind == "primary"]
    fuses = [one for one in primary if one.kind == "fuse"]
    wires = {primary[0].start, primary[-1].end}
    taps = [one for one in control.circuit.wires if one.number in wires and one.purpose == control.circuit.ladder[0].says]
    assert len(wires) == len(taps) == 2, "two wires, from two places"
    first = control.supplies[0]
    hot = [one for one in taps if (one.start_box, one.start) in lines]
    if first.lines > 1:
        assert len(fuses) == 2
        assert len({one.start for one in hot}) == 2 and all(one.start.startswith(f"{first.mark}:T") for one in hot)
        assert control.primary_v == first.volts_v and first.lines > 1
    else:
        [white] = [one for one in taps if one not in hot]
        assert len(fuses) == (1 if earthed else 2) and white.start == first.neutral_bar
        assert white.end == (winding.points[1] if earthed else fuses[-1].points[1])
        assert control.primary_v == volts_to_neutral(first)


def hold_neutrals(control: TankControl, feeders: dict[str, FeederRow], grounded: list[ControlWire]) -> None:
    """A neutral bar for each supply that brings a neutral and for no other; no two of them are joined, and all of it is bought."""
    come = [supply for supply in control.supplies if really_comes(supply, feeders[supply.feeder], control)]
    assert [supply.number for supply in control.supplies if supply.neutral] == [supply.number for supply in come]
    bars = [supply.neutral_bar for supply in come]
    assert len(set(bars)) == len(bars)
    for supply in come:
        reached = joined((one for one in grounded if one.start_box != "field"), ("HCP", supply.neutral_bar))
        assert not {("HCP", bar) for bar in bars if bar != supply.neutral_bar} & reached
        [incoming] = [one for one in control.circuit.wires if ("HCP", supply.neutral_bar) == ends(one)[1]]
        if feeders[supply.feeder].earthing in OPENED:  # in TT and IT the switch opens it with the lines
            assert (incoming.start_box, incoming.start, incoming.number) == ("HCP", f"{supply.mark}:TN", f"{supply.number}DN")
            [incoming] = [one for one in control.circuit.wires if ("HCP", f"{supply.mark}:N") == ends(one)[1]]
        assert (incoming.start_box, incoming.start, incoming.number) == ("field", f"supply {supply.number} N", f"{supply.number}LN")
    fed = [feed for feed in control.feeds if feed.neutral]
    onward = {one.number: one for one in control.circuit.wires if one.purpose == "panel feeder" and is_neutral(one)}
    assert set(onward) == {f"{feed.number}N" for feed in fed if not feed.single}
    assert all(onward[f"{feed.number}N"].start == control.supplies[feed.supply - 1].neutral_bar for feed in fed if not feed.single)
    incoming = [one for one in control.circuit.wires if one.start_box == "field" and one.start.endswith(" N")]
    assert len(incoming) == len(come)
    bought = {need.role: 0.0 for need in control.parts}
    for need in control.parts:
        bought[need.role] += need.quantity
    assert bought.get("neutral bar", 0.0) == len(come)
    assert bought.get("control transformer", 0.0) == bool(control.primary_v)
    primary = sum(one.kind == "fuse" for one in control.circuit.ladder[0].elements)
    both = control.supplies[0].lines > 1 or feeders[control.supplies[0].feeder].earthing == "IT"
    assert bought["control fuse"] == primary + 1 and primary == (0 if not control.primary_v else 2 if both else 1)


def hold_project(one: ProjectResult) -> Iterator[str]:
    feeders = {row.feeder.feeder: row for row in one.feeders}
    for control in one.controls:
        yield hold_grounded(control, feeders)


@pytest.mark.parametrize("name", SAMPLES)
def test_no_grounded_wire_of_a_sample_lands_on_a_line(name: str) -> None:
    result = checked(name)
    found = [where for one in result.projects for where in hold_project(one)]
    assert len(found) == sum(len(one.controls) for one in result.projects)
    assert found or not any(one.banks for one in result.projects)


def test_the_plants_panels_on_a_208y_120_source_without_a_neutral_have_transformers() -> None:
    """PS2 is 208Y/120 in four wires, its heaters stand line to line: nobody pulls a neutral to its panels."""
    [one] = [one for one in checked("whole-plant.xlsx").projects if any(row.supplies[0].volts_v == 208.0 for row in one.controls)]
    low = [control for control in one.controls if control.supplies[0].volts_v == 208.0]
    assert len(low) == 25 and all(control.primary_v == 208.0 and control.transformer_va for control in low)
    assert all("control-transformer-chosen" in codes(control.findings) for control in low)
    feeders = {row.feeder.feeder: row for row in one.feeders}
    assert all(not feeders[control.supplies[0].feeder].wires.neutral for control in low)


def test_the_european_plant_takes_control_power_from_the_neutral_where_one_comes() -> None:
    found = [where for one in checked("whole-plant-iec.xlsx").projects for where in hold_project(one)]
    assert found.count("neutral") == 65 and found.count("winding") == len(found) - 65


# Systems, at the rule set's control volts: 120 V in the US, 230 V in Europe

US = {  # name -> (feeder, volts and phases of its heaters, where the grounded side ends, primary volts, 0 = no transformer)
    "120 line to neutral": ({"volts_v": 120.0, "phases": 1, "wires": 2, "system": "1-phase line-to-neutral"}, (120.0, 1), "neutral", 0.0),
    "277 line to neutral": ({"volts_v": 277.0, "phases": 1, "wires": 2, "system": "1-phase line-to-neutral"}, (277.0, 1), "winding", 277.0),
    "240/120, line to line": ({"volts_v": 240.0, "phases": 1, "wires": 3, "system": "1-phase 3-wire"}, (240.0, 1), "winding", 240.0),
    "240/120, to neutral": ({"volts_v": 240.0, "phases": 1, "wires": 3, "system": "1-phase 3-wire"}, (120.0, 1), "neutral", 0.0),
    "240 line to line": ({"volts_v": 240.0, "phases": 1, "wires": 2, "system": "1-phase line-to-line"}, (240.0, 1), "winding", 240.0),
    "208Y/120, line to line": ({"volts_v": 208.0, "wires": 4}, (208.0, 1), "winding", 208.0),
    "208Y/120, to neutral": ({"volts_v": 208.0, "wires": 4}, (120.0, 1), "neutral", 0.0),
    "208, three wires": ({"volts_v": 208.0, "wires": 3}, (208.0, 3), "winding", 208.0),
    "480Y/277, line to line": ({"volts_v": 480.0, "wires": 4}, (480.0, 3), "winding", 480.0),
    "480Y/277, to neutral": ({"volts_v": 480.0, "wires": 4}, (277.0, 1), "winding", 480.0),
    "480, three wires": ({"volts_v": 480.0, "wires": 3}, (480.0, 1), "winding", 480.0),
    "480 delta": ({"volts_v": 480.0, "wires": 3, "system": "delta"}, (480.0, 3), "winding", 480.0),
    "480 corner-grounded": ({"volts_v": 480.0, "wires": 3, "system": "corner-grounded delta"}, (480.0, 3), "winding", 480.0),
    "240 high-leg": ({"volts_v": 240.0, "wires": 4, "system": "high-leg delta"}, (240.0, 3), "winding", 240.0),
}  # fmt: skip
EU = {
    "400/230, line to line": ({"volts_v": 400.0, "wires": 4, "earthing": "TN-S"}, (400.0, 3), "winding", 400.0),
    "400/230, to neutral": ({"volts_v": 400.0, "wires": 4, "earthing": "TN-S"}, (230.0, 1), "neutral", 0.0),
    "400/230 in TT": ({"volts_v": 400.0, "wires": 4, "earthing": "TT"}, (230.0, 1), "neutral", 0.0),
    "400/230 in IT": ({"volts_v": 400.0, "wires": 4, "earthing": "IT"}, (230.0, 1), "winding", 400.0),
    "400, three wires": ({"volts_v": 400.0, "wires": 3, "earthing": "TN-S"}, (400.0, 3), "winding", 400.0),
    "230 line to neutral": ({"volts_v": 230.0, "phases": 1, "wires": 2, "system": "1-phase line-to-neutral", "earthing": "TN-S"},
                            (230.0, 1), "neutral", 0.0),
    "230 line to neutral in IT": ({"volts_v": 230.0, "phases": 1, "wires": 2, "system": "1-phase line-to-neutral", "earthing": "IT"},
                                  (230.0, 1), "winding", 230.0),
}  # fmt: skip
SYSTEMS = {**{name: ("NEC 2023", *of) for name, of in US.items()}, **{name: ("IEC 60364", *of) for name, of in EU.items()}}


def result_of(name: str, quantity: int = 6, **settings_of: object) -> JobResult:
    code, supply, (volts, phases), *_ = SYSTEMS[name]
    heaters = bank(quantity=quantity, power_kw=1.5, volts_v=volts, phases=phases, connection=None)
    return size(heaters, feeder(**supply), projects=project(code_basis=code, **settings_of))


def made(name: str, **settings_of: object) -> tuple[TankControl, ProjectResult]:
    [one] = result_of(name, **settings_of).projects
    [control] = one.controls
    return control, one


@pytest.mark.parametrize("name", SYSTEMS)
def test_each_system_by_hand(name: str) -> None:
    *_, where, primary_v = SYSTEMS[name]
    control, one = made(name)
    assert list(hold_project(one)) == [where] and control.primary_v == primary_v


@pytest.mark.parametrize("name", SYSTEMS)
def test_a_transformer_that_is_asked_for_is_there_without_a_word(name: str) -> None:
    control, one = made(name, control_transformer="panel")
    assert list(hold_project(one)) == ["winding"] and control.transformer_va
    assert not codes(control.findings) & {"control-transformer-chosen", "control-transformer-needed"}


@pytest.mark.parametrize("name", SYSTEMS)
def test_no_transformer_asked_for_is_answered_by_what_can_be(name: str) -> None:
    *_, where, _ = SYSTEMS[name]
    control, one = made(name, control_transformer="none")
    assert list(hold_project(one)) == [where]
    assert ("control-transformer-needed" in codes(control.findings)) == (where == "winding")


WHY = {
    "208Y/120, line to line": "no neutral of supply 1 comes to the panel",
    "480Y/277, to neutral": "it gives 277.1 V to the neutral, and the coils are for 120 V",
    "400/230 in IT": "its neutral is not joined to earth",
}


@pytest.mark.parametrize("name", WHY)
def test_why_there_is_a_transformer_all_the_same(name: str) -> None:
    control, _ = made(name, control_transformer="none")
    [said] = [one for one in control.findings if one.code == "control-transformer-needed"]
    behind = f"control power behind {control.supplies[0].mark} is from a transformer."
    assert said.message == f"T-1: no control transformer is asked for, but {WHY[name]}: {behind}"


def test_control_volts_of_the_user_decide() -> None:
    """24 V from a transformer, though the neutral comes with 120 V; 240 V from both lines of 240/120 V, through one of 240 to 240 V."""
    control, one = made("208Y/120, to neutral", control_v=24.0)
    assert list(hold_project(one)) == ["winding"] and control.primary_v == 208.0
    control, one = made("240/120, to neutral", control_v=240.0)
    assert list(hold_project(one)) == ["winding"] and control.primary_v == 240.0


def test_a_neutral_that_reaches_the_unit_and_not_the_panel_is_none() -> None:
    """One feeder of 208Y/120 V: heaters of T-1 to the neutral, those of T-2 line to line, so that its way has no neutral."""
    heaters = [bank(tank="T-1", power_kw=2.0, volts_v=120.0, quantity=12, connection=None),
               bank(tank="T-2", power_kw=2.0, volts_v=208.0, quantity=6, connection=None)]  # fmt: skip
    [one] = size(heaters, feeder(volts_v=208.0, wires=4)).projects
    assert one.feeders[0].wires.neutral
    assert list(hold_project(one)) == ["neutral", "winding"]


def test_neutrals_of_two_supplies_have_bars_of_their_own() -> None:
    y = {"volts_v": 208.0, "wires": 4}
    heaters = [bank(bank=str(number), feeder=f"F-{number}", power_kw=2.0, volts_v=120.0, quantity=2, connection=None) for number in (1, 2)]
    [one] = size(heaters, [feeder(**y), feeder(feeder="F-2", **y)]).projects
    assert list(hold_project(one)) == ["neutral"]
    assert [supply.neutral_bar for supply in one.controls[0].supplies] == ["neutral bar 1N", "neutral bar 2N"]


@pytest.mark.parametrize("asked", [None, "others"])
def test_deltas_with_other_lines_grounded_have_ladders_of_their_own(asked: str | None) -> None:
    """A fuse stands in no grounded line: of A for T-1, of C for T-2, though all else of the two is alike."""
    corner = {"volts_v": 480.0, "wires": 3, "system": "corner-grounded delta"}
    of_three = {"power_kw": 3.0, "volts_v": 480.0, "phases": 3, "connection": None}
    heaters = [bank(tank="T-1", feeder="F-1", **of_three), bank(tank="T-2", feeder="F-2", **of_three)]
    supplies = [feeder(grounded_line="A", **corner), feeder(feeder="F-2", grounded_line="C", **corner)]
    [one] = size(heaters, supplies, projects=project(control_transformer=asked)).projects
    assert len({control.kind for control in one.controls}) == len({control.type for control in one.controls}) == 2
    fused = [{(part.start, part.end) for part in control.circuit.ladder[0].elements if part.kind == "fuse"} for control in one.controls]
    assert (fused[0] != fused[1]) == (asked is None)


# The papers and sheets say the same


def drawn(control: TankControl, standard: str) -> tuple[str, str]:
    """Words of the ladder and of the power circuit."""
    ladder = [one.text for sheet in plans(Alike(control, 1, True), standard) for one in sheet.words]
    power = [one.text for sheet in power_plans(control, standard) for one in sheet.words]
    return " ".join(ladder), " ".join(power)


def shop_test_of(control: TankControl) -> str:
    """Of the shop test the step that puts control power on while the power circuit is dead."""
    return next(row[0] for row in steps_alive(control).rows if row[0].startswith("Control power on"))


@pytest.mark.parametrize("asked", [None, "panel", "none", "others"])
@pytest.mark.parametrize("name", SYSTEMS)
def test_ladder_power_drawing_and_sheets_agree(name: str, asked: str | None) -> None:
    result = result_of(name, control_transformer=asked)
    [one] = result.projects
    [control] = one.controls
    [where], [supply] = hold_project(one), control.supplies
    ladder, power = drawn(control, one.symbols)
    said = {"winding": "transformer in the panel", "neutral": "line to neutral, no transformer", "others": "power by others"}
    assert [words for words in said.values() if words in ladder] == [said[where]]
    assert ("neutral bar" in power) == supply.neutral and ("neutral bar" in ladder) == (where == "neutral")
    taps = {one.start for one in control.circuit.wires if one.start.startswith(f"{supply.mark}:T") and one.purpose not in POWER}
    assert len(taps) == {"winding": 2 if supply.lines > 1 else 1, "neutral": 1, "others": 0}[where]
    told = shop_test_of(control)
    elements = control.circuit.elements
    grounded = next((one.points[1] for one in elements if one.kind == "secondary"), supply.neutral_bar)
    assert (f"its grounded side on {grounded})" in told) == (where != "others") and ("neutral bar" in told) == (where == "neutral")
    ends = [pair for one in elements for pair in zip((one.start, one.end), one.points, strict=True)]
    fed = {wire for wire, point in ends if f"supply on {point}," in told}
    windings = [one for one in elements if one.kind == "secondary"]
    assert where == "others" or (fed == {LIVE} and all(one.start not in fed for one in windings))  # a winding would feed its primary
    drawn_first = told.partition(" drawn; ")[0].partition("(")[2].split(", ")
    assert where == "others" or drawn_first == [one.mark for one in elements if one.kind == "fuse"]
    assert not any(point in told for point in taps)
    [row] = rows(result, "control")
    assert (row["transformer_va"] is not None) == (where == "winding") and ("no transformer" in row["power"]) == (where == "neutral")
    bought = [line["role"] for line in rows(result, "materials") if "control panel" in line["used_for"].casefold()]
    assert ("control transformer" in bought) == (where == "winding") and ("neutral bar" in bought) == supply.neutral


# Generated jobs


@st.composite
def tanks_of_any_system(draw: st.DrawFn) -> tuple[list[object], list[object], object]:
    """A tank or two, each with banks on one or two feeders of systems of one code; heaters at the lines' volts or at those of the legs."""
    code = draw(st.sampled_from(["NEC 2023", "IEC 60364"]))
    names = [name for name, (of, *_) in SYSTEMS.items() if of == code]
    chosen = draw(st.lists(st.sampled_from(names), min_size=1, max_size=3))
    feeders = [feeder(**{**SYSTEMS[name][1], "feeder": f"F-{number}"}) for number, name in enumerate(chosen)]
    heaters = []
    for number, name in enumerate(chosen):
        volts, phases = SYSTEMS[name][2]
        for tag in draw(st.lists(st.sampled_from(["T-1", "T-2"]), min_size=1, max_size=2, unique=True)):
            kw, quantity = draw(st.sampled_from([1.0, 2.0, 4.5])), draw(st.integers(1, 14))
            heaters.append(bank(tank=tag, bank=str(number + 1), feeder=f"F-{number}", quantity=quantity, power_kw=kw, volts_v=volts,
                                phases=phases, connection=None, panel_feeder_run_m=draw(st.sampled_from([0.0, 5.0]))))  # fmt: skip
    asked = project(
        code_basis=code, control_transformer=draw(st.sampled_from([None, "panel", "none", "others"])), limit_reset="panel",
        control_v=draw(st.sampled_from([None, 24.0, 110.0, 120.0, 230.0, 240.0])), boxes=draw(st.sampled_from([None, "one", "two"])),
        device_kind=draw(st.sampled_from([None, "fuse", "breaker"])), backup_contactor=draw(st.sampled_from(["yes", "no"])),
        controller_by=draw(st.sampled_from(["panel", "others"])), ground_fault_trip_ma=draw(st.sampled_from([None, 30.0])),
    )  # fmt: skip
    return heaters, feeders, asked


@settings(max_examples=120, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(tanks_of_any_system())
def test_no_grounded_wire_of_a_generated_job_lands_on_a_line(of: tuple[list[object], list[object], object]) -> None:
    heaters, feeders, asked = of
    [one] = size_job(job(heaters, feeders, None, asked)).projects
    sized = {row.bank.tank for row in one.banks}
    assert {control.tank for control in one.controls} == sized
    for control, where in zip(one.controls, hold_project(one), strict=True):
        transformer = control.settings.transformer
        assert (where == "others") == (transformer == "others") and (where == "winding" or transformer != "panel")
        said = codes(control.findings)
        assert ("control-transformer-needed" in said) == (transformer == "none" and where == "winding")
        assert "control-transformer-chosen" not in said or (where == "winding" and transformer == "")
