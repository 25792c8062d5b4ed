"""Boxes against figures worked by hand. Heat is Joule's law on watts of the trade; rows and sizes come from the rule of rows and sums
alone, so they show that it is applied as it is written, not that a shop would build it so."""

from __future__ import annotations

import pytest
from msgspec.structs import replace

from batch.box_results import BoxPart, Enclosure
from batch.material_lines import Material
from batch.method.block_jumpers import jumper_size
from batch.results import JobResult
from batch.rules import load
from batch.schedules import rows
from batch.sizing.box_parts import _bar
from batch.sizing.enclosures import fit, panel_box
from batch.sizing.stock import Stock
from batch.used_settings import BoxPlace
from tests.job_builder import RULES, bank, codes, feeder, part, project, size, sized, tank

PLASTIC, STEEL = BoxPlace("corrosive", "non-metallic"), BoxPlace("wet", "steel")
FUSES = "control fuse in holder"


def in_short(box: Enclosure) -> tuple[str, int, float, float]:
    return box.size, box.rows, round(box.loss_w, 2), round(box.rise_k, 1)


def six_in_delta(**given: object) -> JobResult:
    """6 x 3 kW at 480 V in delta: 21.65 A a line, 6.25 A a heater."""
    return size(bank(quantity=6, power_kw=3.0, **given), feeder(), projects=project(**{"boxes": "two"}))


def test_the_heater_panel_of_six_heaters() -> None:
    """Block 105, six holders of two poles 36 each, 14 terminals 104 mm; 12 x 3.5 W x (6.25 / 15)^2 = 7.29 W, 8.39 W with the wires. In
    20 x 20 x 10 in rows of 100 and 90 mm ask for 40 + 100 + 160 + 150 = 450 mm of the 432 mm there; 24 x 20 x 10 in has 534 mm."""
    [panel] = six_in_delta().projects[0].banks[0].design.panels
    assert panel.enclosure is not None and sum(one.width_mm * one.number for one in panel.enclosure.parts) == 425
    assert in_short(panel.enclosure) == ("24 x 20 x 10 in", 2, 8.39, 2.7)
    assert panel.enclosure.type == "Type 4X, non-metallic"


def test_its_control_panel() -> None:
    """DISC 3.12, fuses 5.47, contactor 4.82, its coil 8.7, latch 6, two lamps 2, transformer 7.5: 37.62 W, 43.26 with the wires, 517 mm."""
    [control] = six_in_delta().projects[0].controls
    assert control.enclosure is not None and sum(one.width_mm * one.number for one in control.enclosure.parts) == 517
    assert in_short(control.enclosure) == ("24 x 20 x 10 in", 2, 43.26, 13.8)
    assert round(control.enclosure.air_c, 1) == 53.8


def test_a_panel_of_eight_large_heaters() -> None:
    """Eight 3-pole 45 A fuses at 36.0844 A: 24 x 6.5 x (36.0844 / 45)^2 = 100.3 W, 115.35 with the wires. Widths 165 + 8 x 120 + 128 mm;
    36 x 30 x 12 in ask for 860 of 838 mm; 48 x 36 x 12 in rows of 150, 120, 60 mm: 800 of 1143 mm, 12.6 K."""
    [panel] = sized(quantity=8, power_kw=30.0, phases=3).panels
    panel = replace(
        panel, block_a=350.0, limit_terminals=18, panel_feeder_wires=replace(panel.panel_feeder_wires, size="500"),
        branch=replace(panel.branch, device=replace(panel.branch.device, rating_a=45.0)),
    )  # fmt: skip
    box = panel_box(panel, PLASTIC, 40.0, rules=RULES, stock=Stock())
    assert in_short(box) == ("48 x 36 x 12 in", 3, 115.35, 12.6) and round(box.air_c, 1) == 52.6


def made(what: str, number: int, rating: float, width_mm: float, loss_w: float = 0.0) -> BoxPart:
    """Space of the rule set's table; the width of one by hand."""
    space = RULES.part_space(what, rating).value
    return BoxPart(what, number, width_mm, space.height_mm, space.box_depth_mm, loss_w)


def test_a_control_panel_of_three_feeders_in_steel_and_in_plastic() -> None:
    """A 200 A disconnect at 110 A 10.89 W, two 50 A sets at 40 A 24.96, one of 40 A at 26 A 8.24, two contactors of size 2 18.96, one of
    size 1 6.95; coils 30.9, latch 6, lamps 3, transformer of 250 VA 25: 134.9, 155.14 W with the wires."""
    parts = (
        made("disconnect", 1, 200, 190, 36 * (110 / 200) ** 2), made("distribution block", 1, 200, 165),
        made("fuse in holder", 2, 50, 120, 39 * (40 / 50) ** 2), made("fuse in holder", 1, 40, 120, 19.5 * (26 / 40) ** 2),
        made("contactor", 2, 45, 90, 24 * (40 / 45) ** 2), made("contactor", 1, 27, 75, 7.5 * (26 / 27) ** 2),
        made("control transformer", 1, 250, 120), made(FUSES, 1, 1, 36), made(FUSES, 1, 3, 18), made("control relay", 1, 0, 30),
        made("terminal", 1, 0, 128),
    )  # fmt: skip
    more_w = 0.3 * (37 + 37 + 29) + 6 + 3 + 25
    steel, plastic = (fit(parts, ("2/0",), place, 40.0, rules=RULES, more_w=more_w) for place in (STEEL, PLASTIC))
    assert (steel.size, round(steel.loss_w, 2), round(steel.rise_k, 1)) == ("48 x 36 x 12 in", 155.14, 10.8)
    assert (plastic.size, round(plastic.rise_k, 1)) == ("60 x 36 x 12 in", 14.0)
    assert (steel.type, plastic.type) == ("Type 4, steel", "Type 4X, non-metallic")


def test_a_control_panel_that_no_box_takes() -> None:
    """600 A disconnect at 480 A, three 225 A feeders at 160 A on contactors of size 5: 697.9 W; in 60 x 36 x 16 in plastic 95.6 °C."""
    parts = (
        made("disconnect", 1, 600, 300, 120 * (480 / 600) ** 2), made("distribution block", 1, 400, 165),
        *[made("fuse in holder", 1, 225, 255, 3 * 34 * (160 / 225) ** 2), made("contactor", 1, 270, 180, 3 * 22 * (160 / 270) ** 2)] * 3,
        made("control transformer", 1, 1000, 150), made(FUSES, 1, 4, 36), made(FUSES, 1, 10, 18), made("control relay", 2, 0, 30),
        made("terminal", 1, 0, 140),
    )  # fmt: skip
    box = fit(parts, ("500",), PLASTIC, 40.0, rules=RULES, more_w=0.3 * 3 * 212 + 2 * 6 + 3 + 100)
    assert (box.size, round(box.loss_w, 1), round(box.air_c, 1)) == ("", 697.9, 95.6)
    # whole holders, each beside its contactor
    assert box.why.startswith("60 x 36 x 16 in: its rows are 72.4 in (1,840 mm) high, the plate 57.0 in (1,448 mm)")
    two = fit(parts, ("10", "500"), PLASTIC, 40.0, rules=RULES)
    assert two.why.startswith("60 x 36 x 16 in: its rows are 72.4 in (1,840 mm) high"), "the largest entry takes its height"
    assert "66.5 in (1,690 mm) high" in fit(parts, ("10",), PLASTIC, 40.0, rules=RULES).why  # 100 mm of entry, not 250


def test_no_box_is_chosen_with_a_part_whose_space_nobody_knows() -> None:
    box = fit((made("contactor", 1, 27, 75),), ("10",), STEEL, 40.0, rules=RULES, beyond="a contactor of 2000 A: no space is known")
    assert (box.size, box.why, box.rows) == ("", "a contactor of 2000 A: no space is known", 0)
    assert fit((made("contactor", 1, 27, 75),), ("10",), STEEL, 40.0, rules=RULES).size


def test_a_bar_has_the_openings_that_it_needs() -> None:
    """Ten openings: a bar of 6 is too small, of 12 and 24 the smaller serves; none of the list for thirty."""
    bars = [part(part=f"GB-{count}", kind="ground bar", branches_at_most=count) for count in (24, 6, 12)]
    assert [_bar("ground bar", openings, Stock(bars)) for openings in (6, 10, 24, 30)] == ["GB-6", "GB-12", "GB-24", ""]


@pytest.mark.parametrize(
    ("place", "nec", "iec"),
    [("dry", "Type 12", "IP54"), ("wet", "Type 4", "IP66"), ("corrosive", "Type 4X", "IP66, corrosion-proof"),
     ("outdoor", "Type 3R", "IP66")],
)
def test_what_a_box_must_stand_goes_by_its_place(place: str, nec: str, iec: str) -> None:
    assert (RULES.box_type(place), load("IEC 60364").box_type(place)) == (nec, iec)


def test_a_place_and_a_material_of_the_tank_are_those_of_all_its_boxes() -> None:
    tanks = [tank(box_location="outdoor", box_material="stainless")]
    found = rows(size(bank(quantity=6, power_kw=3.0), feeder(), tanks), "boxes")
    assert [(row["box"], row["enclosure"]) for row in found] == [("T-1/HCP", "Type 3R, stainless"), ("T-1/1-P1", "Type 3R, stainless")]


def test_watts_of_stock_parts_go_before_the_table() -> None:
    """A contactor that states 30 W at 45 A, at 21.65 A: 6.94 W."""
    stock = [part(part="C-45", kind="contactor", rating_a=45.0, poles=3, volts_v=600.0, watts_lost_w=30.0)]
    [control] = size(bank(quantity=6, power_kw=3.0), feeder(), stock=stock).projects[0].controls
    [contactor] = [one for one in control.enclosure.parts if one.what.startswith("contactor")]
    assert contactor.loss_w == pytest.approx(30.0 * (21.6506 / 45) ** 2, rel=1e-4)


def test_in_one_box_the_panel_has_none_of_its_own_and_nothing_is_counted_twice() -> None:
    """One box: block and branch fuses on the plate of the control panel, its strip TB3 among its own terminals."""
    result = size(bank(quantity=6, power_kw=3.0), feeder(), projects=project(boxes="one"))
    [row] = rows(result, "boxes")
    assert row["kind"] == "control and heater panel" and "fuse in holder, 15 A, 2-pole" in row["plate"]
    [panel] = result.projects[0].banks[0].design.panels
    roles = {need.role for need in panel.parts}
    assert panel.enclosure is None and not roles & {"enclosure", "limit string terminal", "ground bar", "nameplate", "mounting rail"}
    [control] = result.projects[0].controls
    [terminals] = [need.quantity for need in control.parts if need.role == "control terminal"]
    assert terminals == sum(one.box == "HCP" for one in control.circuit.terminals) == 14 + 14


def test_one_box_is_rated_by_the_branch_devices_too() -> None:
    """Holders of 10 kA in the panel, the rest of the control panel 18 kA: one box is rated 10 kA, two 18 and 10."""
    stock = [
        part(part="H", kind="fuse holder", rating_a=15.0, poles=2, volts_v=600.0, sccr_ka=10.0),
        part(part="H3", kind="fuse holder", rating_a=30.0, poles=3, volts_v=600.0, sccr_ka=18.0),
        part(part="B", kind="power distribution block", rating_a=100.0, poles=3, volts_v=600.0, sccr_ka=18.0),
        part(part="C", kind="contactor", rating_a=45.0, poles=3, volts_v=600.0, sccr_ka=18.0),
        part(part="D", kind="disconnect", rating_a=60.0, poles=3, volts_v=600.0, sccr_ka=18.0),
    ]
    for boxes, rated in (("one", 10.0), ("two", 18.0)):
        [control] = size(bank(quantity=6, power_kw=3.0), feeder(), projects=project(boxes=boxes), stock=stock).projects[0].controls
        assert (control.sccr_ka, control.sccr_marked) == (rated, True)


def lines(result: JobResult, role: str) -> list[Material]:
    return [line for line in result.projects[0].materials if line.role == role]


def test_what_the_boxes_have_beside_their_devices() -> None:
    """Six branches of two poles: 12 jumpers from the block, seven between terminals, a ground bar of 6 + 1 + 2 openings, by sixes 12."""
    result = six_in_delta()
    assert [line.each for line in lines(result, "block jumper")] == [12]
    assert [line.each for line in lines(result, "terminal jumper") if line.used_for == "Type 01"] == [7]
    assert [line.words for line in lines(result, "ground bar") if line.used_for == "Type 01"] == ["at least 12 openings"]
    assert {line.owner.kind for line in lines(result, "control wire")} == {"build"} and lines(result, "control wire")[0].buy_unit == "ft"
    for role in ("mounting rail", "wire duct", "end stop", "wire marker"):
        [line] = {line.owner.kind for line in lines(result, role)}
        assert line == "project"
    assert [line.quantity for line in lines(result, "end stop")] == [4]  # TB3 of the panel, TB1 of the control panel: two each


def test_rail_and_duct_of_a_panel_by_hand() -> None:
    """Two rows on a plate of 534 x 432 mm: 2 x 432 = 864 mm of rail, a piece of 1 m; 3 x 432 + 2 x 534 = 2364 mm of duct, 2.5 pieces."""
    [panel] = six_in_delta().projects[0].banks[0].design.panels
    assert panel.enclosure is not None and (panel.enclosure.rows, *map(round, panel.enclosure.plate_mm)) == (2, 534, 432)
    assert [need.quantity for role in ("mounting rail", "wire duct") for need in panel.parts if need.role == role] == [1.0, 2.5]


def test_wyes_have_terminals_for_their_points_and_neutrals_a_bar() -> None:
    """6 x 5 kW of 277 V on 480 V in separate wyes: two points of three wires. Nine to a neutral: a bar of 9 + 1 openings, by sixes 12."""
    wyes = size(bank(quantity=6, power_kw=5.0, volts_v=277.0, connection="wye"), feeder())
    assert [line.each for line in lines(wyes, "wye point terminal")] == [6] and not lines(wyes, "neutral bar")
    neutral = size(bank(quantity=9, power_kw=5.0, volts_v=277.0, connection="wye"), feeder(wires=4))
    bars = [line.words for line in lines(neutral, "neutral bar") if line.used_for.startswith("Type")]
    assert bars[:1] == ["at least 12 openings, insulated"]


@pytest.mark.parametrize(
    ("device_a", "column_c", "size_of"), [(30, 60, "10"), (45, 60, "6"), (50, 60, "6"), (70, 60, "4"), (350, 75, "350")]
)  # fmt: skip
def test_a_jumper_that_the_panel_feeder_s_device_protects(device_a: float, column_c: float, size_of: str) -> None:
    """By hand from the printed table: 8 AWG is 40 A, itself a standard rating, so that 45 and 50 A ask for 6 AWG (55, the next is 60);
    4 AWG is 70 A; 350 kcmil at 75 °C is 310 A, no standard rating, and the next is 350."""
    found = jumper_size(device_a, "fuse", "copper", column_c, RULES)
    assert found is not None and found.value == size_of


@pytest.mark.parametrize(("terminal_c", "jumper"), [(None, "2/0"), (75, "1")])
def test_a_jumper_is_no_warmer_than_the_terminal_of_its_branch_device_allows(terminal_c: int | None, jumper: str) -> None:
    """Eight of 10.5 kW on three phases: 101.04 A, 126.3 with 25 %, a panel feeder of 150 A and branches of 20 A. 110.14(C): of the jumper's
    two ends the branch device is for a circuit of 100 A or less, 60 °C: 1/0 has 125 A, itself a standard rating, 2/0 145 A. Where both are
    marked 75 °C, 1 AWG has 130 A and the next rating is 150."""
    eight = bank(quantity=8, power_kw=10.5, phases=3, connection=None)
    row = size(eight, feeder(), projects=project(terminal_c=terminal_c)).projects[0].banks[0]
    [panel] = row.design.panels
    assert (panel.panel_feeder_device.rating_a, panel.branch.device.rating_a, panel.jumper) == (150, 20, jumper)


@pytest.mark.parametrize(("terminal_c", "jumper"), [(None, "3/0 AWG"), (75, "2/0 AWG")])
def test_a_jumper_of_a_control_panel_goes_by_its_smallest_panel_feeder(terminal_c: int | None, jumper: str) -> None:
    """Two banks of six 9 kW: 64.952 A and a panel feeder of 90 A each; together 129.904 A, 162.38 with 25 %, 175 A ahead. 3/0 has 165 A at
    60 °C and 2/0 175 A at 75."""
    six = {"quantity": 6, "power_kw": 9.0, "phases": 3, "connection": None}
    found = size([bank(**six), bank(bank="2", **six)], feeder(), projects=project(terminal_c=terminal_c)).projects[0]
    [supply] = found.controls[0].supplies
    assert (supply.ahead_a, supply.jumper) == (175, jumper)


def test_spare_fuses_are_a_tenth_and_at_least_a_circuit() -> None:
    """72 branch fuses of 15 A in six panels: eight; the 30 A fuses of six feeders are 18: a tenth is two, a circuit three."""
    banks = [bank(tank=f"T-{number}", quantity=6, power_kw=3.0) for number in range(1, 7)]
    spares = {line.words: line.quantity for line in lines(size(banks, feeder()), "spare fuse")}
    assert spares["15 A class CC fuse, 600 V, 200 kA"] == 8.0
    assert spares["30 A class CC fuse, 600 V, 200 kA"] == 3.0


def test_one_stock_fuse_is_spared_once_whatever_it_protects() -> None:
    """Those of single circuits and those of the ways to them are one part, F-20, in other words: one line, for a circuit of three poles."""
    stock = [part(part="F-20", kind="fuse", rating_a=20.0, volts_v=600.0, sccr_ka=200.0, description="class CC")]
    banks = [bank(tank=tag, quantity=1, power_kw=12.0, phases=3) for tag in ("T-1", "T-2")]
    tanks = [tank(tank=tag, distribution_run_m=10.0) for tag in ("T-1", "T-2")]
    result = size(banks, feeder(), tanks, projects=project(distribution="ours"), stock=stock)
    used = [line for line in lines(result, "bank fuse") + lines(result, "way fuse") if line.part == "F-20"]
    assert len(used) == len({line.words for line in used}) == 2
    assert [(line.part, line.quantity) for line in lines(result, "spare fuse") if line.part] == [("F-20", 3.0)]


def test_heaters_are_ordered_by_the_unit_of_the_rule_set() -> None:
    """41 in is 1041.4 mm (25.4 mm to the inch, exactly)."""
    for code, words in (("NEC 2023", "heated length 41 in"), ("IEC 60364", "heated length 1041 mm")):
        [heater] = lines(size(bank(heated_length_mm=1041.4), feeder(), projects=project(code_basis=code)), "heater")
        assert heater.words.endswith(words)


def test_control_fuses_are_in_the_words_of_the_rule_set() -> None:
    for code, words in (("NEC 2023", "class CC fuse, time-delay, 600 V"), ("IEC 60364", "gG fuse-link, at least ")):
        [row] = [tank(boxes="two")]
        fed = feeder(volts_v=400.0) if code.startswith("IEC") else feeder()
        result = size(bank(volts_v=fed.volts_v), fed, [row], project(code_basis=code))
        fuses = lines(result, "control fuse")
        assert fuses and all(words in line.words for line in fuses)
        assert not code.startswith("IEC") or not any("class CC" in line.words for line in result.projects[0].materials)


def test_painted_steel_in_a_corrosive_place_is_said() -> None:
    assert "box-material-corrodes" in codes(size(bank(), tanks=[tank(box_material="steel")]).findings)
    assert "box-material-corrodes" not in codes(size(bank(), tanks=[tank(box_material="steel", box_location="dry")]).findings)


def test_boxes_say_what_a_nameplate_asks() -> None:
    """6 x 3 kW: 18 kW, 3000 W the largest, 21.7 A on one disconnect."""
    panel, other = rows(six_in_delta(), "boxes")
    assert (panel["kind"], other["kind"]) == ("control panel", "heater panel")
    assert (panel["connected_kw"], panel["largest_w"], panel["amps"]) == (18.0, 3000.0, "T-1/DISC1 21.7 A")
    assert panel["sccr"].startswith("SCCR ____ kA, builder to mark; at least ")
    assert panel["supplies"].startswith("480 V, wye grounded") and panel["frequency"] == "3-phase, 60 Hz"
    assert (panel["disconnects"], panel["fed_from"], other["fed_from"]) == (1, "feeder F-1", "T-1/HCP")


def test_what_stands_in_a_box_is_counted_in_words_and_its_wire_in_the_unit_it_is_bought_by() -> None:
    """Of one panel type and one control panel: on Boxes the feet, and the plurals, of the lines of Materials."""
    result = six_in_delta()
    panel, other = rows(result, "boxes")
    [wire] = lines(result, "control wire")
    assert f"{wire.amount:g} ft control wire" in panel["parts"] and " m control wire" not in panel["parts"]
    assert "6 branch fuse holders" in other["parts"] and "12 block jumpers" in other["parts"] and "1 enclosure" in other["parts"]
    assert "auxiliary contacts," in panel["parts"]  # which is a plural as it stands
