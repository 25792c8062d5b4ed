"""Settings of a control circuit: the tank's own, else the project's, else the default; what nobody said is said."""

from __future__ import annotations

from batch.findings import Remarks
from batch.sizing.control_settings import CONTROL_WORDS, control_listing, control_settings, say_control_defaults
from tests.job_builder import RULES, bank, project, tank


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
    say_control_defaults(project(), RULES, said)
    (one,) = said
    assert dict(one.fields)["count"] == str(len(CONTROL_WORDS))
    listing = control_listing(project(control_v=24.0), RULES)
    assert [(one.value, one.given) for one in listing[:2]] == [
        ("24 V", True), ("none where line and neutral give the control volts, else in the panel", False),
    ]
    assert all(one.value for one in listing)
