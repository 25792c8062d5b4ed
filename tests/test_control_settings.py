"""Settings of a control circuit: the tank's own, else the project's, else the default; what nobody said is said."""

from __future__ import annotations

from batch.findings import Remarks
from batch.schedules import rows
from batch.sizing.control_settings import CONTROL_WORDS, control_listing, control_settings
from batch.sizing.settings import resolve_settings
from tests.job_builder import RULES, bank, feeder, project, size, tank


def test_a_tank_goes_before_its_project_and_both_before_the_default() -> None:
    plant = project(control_v=24.0, limit_reset="at the limit", box_location="dry")
    used = control_settings(plant, tank(limit_reset="panel", ground_fault_trip_ma=30.0), [bank()], RULES)
    assert (used.control_v, used.reset, used.ground_fault_trip_ma, used.backup, used.location) == (24.0, "panel", 30.0, False, "dry")
    assert used.given == ("control_v", "limit_reset", "ground_fault_trip_ma", "box_location")


def test_material_follows_the_place_unless_it_is_given() -> None:
    found = [control_settings(project(box_location=place), None, [], RULES).material for place in (None, "corrosive", "wet", "outdoor")]
    assert found == ["non-metallic", "non-metallic", "steel", "steel"]
    assert control_settings(project(box_material="stainless"), None, [], RULES).material == "stainless"


def test_one_box_only_where_every_length_is_nothing() -> None:
    near, far, unknown = bank(panel_feeder_run_m=0.0), bank(panel_feeder_run_m=3.0), bank(panel_feeder_run_m=None)
    lengths = ([near], [near, near], [near, far], [near, unknown])
    assert [control_settings(project(), None, banks, RULES).boxes for banks in lengths] == ["one", "one", "two", "two"]
    assert control_settings(project(boxes="two"), None, [near], RULES).boxes == "two"


def test_what_is_left_blank_is_listed_and_said_once() -> None:
    said = Remarks()
    resolve_settings(project(), RULES, said)
    [one] = [one for one in said if one.code == "default-used"]
    assert all(words in dict(one.fields)["settings"] for words, _ in CONTROL_WORDS.values())
    listing = control_listing(project(control_v=24.0), RULES)
    assert [(one.value, one.given) for one in listing[:2]] == [
        ("24 V", True), ("none where line and neutral give the control volts, else in the panel", False),
    ]
    assert all(one.value for one in listing)


def test_line_colours_are_the_project_s_and_a_tank_s_own() -> None:
    """Between boxes only: inside a box power is black, a grounded line white and the neutral its own, whatever was asked."""
    heaters = [bank(tank=tag, quantity=6) for tag in ("T-1", "T-2")]
    tanks = [tank(tank="T-1"), tank(tank="T-2", line_colours="black")]
    result = size(heaters, feeder(), tanks, projects=project(line_colours="brown orange yellow"))
    for control, asked in zip(result.projects[0].controls, (["brown", "orange", "yellow"], ["black"] * 3), strict=True):
        for purpose in ("supply", "panel feeder"):
            assert [wire.colour for wire in control.circuit.wires if wire.purpose == purpose] == asked
        assert {wire.colour for wire in control.circuit.wires if wire.purpose == "power"} == {"black"}
    assert [row["colours"] for row in rows(result, "wiring_tags")] == ["brown, orange, yellow", "black, black, black"]


ASKED = {
    "power_colour": "brown", "control_colour": "black", "grounded_colour": "gray", "ground_colour": "green-yellow",
    "foreign_colour": "yellow",
}  # fmt: skip


def test_colours_of_a_project_are_on_every_list_of_it() -> None:
    """Power in the box, control, its grounded side, grounding, and the alarm contact that others keep live; on the type's list too."""
    result = size(bank(quantity=6), feeder(), projects=project(**ASKED))
    [control] = result.projects[0].controls
    assert {wire.colour for wire in control.circuit.wires if wire.purpose == "power"} == {"brown"}
    assert {wire.colour for wire in control.circuit.wires if wire.purpose == "over-temperature limit"} == {"black"}
    by_number = {wire.number: wire.colour for wire in control.circuit.wires if wire.purpose != "grounded here, once"}
    assert (by_number["2"], by_number["1071"], by_number["1011"]) == ("gray", "yellow", "black")
    assert {wire.colour for wire in control.circuit.wires if wire.purpose == "grounded here, once"} == {"green-yellow"}
    wiring = [str(row["conductor"]) for row in rows(result, "wiring")]
    assert any(words.endswith("AWG, brown") for words in wiring) and not any("black" in words for words in wiring)
    assert {words.rpartition(", ")[2] for words in wiring if words.endswith(("green", "green-yellow"))} == {"green-yellow"}
    bought = {str(row["words"]).rpartition(", ")[2] for row in rows(result, "runs") if row["role"] == "grounding conductor"}
    assert bought == {"green-yellow"}


def test_a_neutral_of_gray_where_it_is_asked_for() -> None:
    heaters, supply = bank(quantity=9, power_kw=5.0, volts_v=277.0, connection="wye"), feeder(wires=4)
    for asked, words in ((None, "white or gray"), ("white", "white"), ("gray", "gray")):
        wiring = rows(size(heaters, supply, projects=project(grounded_colour=asked)), "wiring")
        told = {str(row["conductor"]).rpartition(", ")[2] for row in wiring if str(row["purpose"]).startswith("branch neutral")}
        assert told == {words}


def test_what_iec_fixes_is_not_chosen() -> None:
    """IEC 60445: a neutral is blue, a protective conductor green-yellow; power and control are a project's own."""
    iec = {"volts_v": 400.0, "wires": 4}
    asked = project(code_basis="IEC 60364", **ASKED)
    [control] = size(bank(quantity=6, power_kw=3.0, volts_v=230.0, connection="wye"), feeder(**iec), projects=asked).projects[0].controls
    colours = {wire.colour for wire in control.circuit.wires}
    assert {"brown", "black", "blue", "yellow"} <= colours and not colours & {"gray", "white", "red", "orange"}


def test_colours_of_240_volts_and_of_a_grounded_line_where_others_are_asked() -> None:
    low = {"volts_v": 240.0, "system": "corner-grounded delta"}
    heaters = bank(quantity=6, volts_v=240.0)
    colours = {}
    for asked in (None, "brown orange yellow"):
        [control] = size(heaters, feeder(**low), projects=project(line_colours=asked)).projects[0].controls
        colours[asked] = [wire.colour for wire in control.circuit.wires if wire.purpose == "supply"]
        [grounded] = [at for at, line in enumerate("ABC") if line == control.supplies[0].grounded]
        assert colours[asked][grounded] == "white"
    assert sum(one != other for one, other in zip(*colours.values(), strict=True)) == 2
