"""The neutral's own pole: under TT and IT it is opened with the lines (IEC 60364-5-53, 536.1.2, from memory), in what is bought, in the
wires of a control panel and in its drawings; under TN-S and where no heater is joined to the neutral there is none.

Nine heaters of 3 kW, 230 V, in star with the neutral: six on one panel and three on another, so the control panel has a switch ahead of two
panel feeders; of three heaters alone the switch holds the fuses of the only panel feeder itself.
"""

from __future__ import annotations

import pytest

from batch.drawings.control_power import power_plans
from batch.drawings.one_line import plans
from batch.drawings.one_line_words import feds_of
from batch.method.line_currents import Lines
from batch.results import ProjectResult
from batch.rules import load
from batch.schedules import rows
from batch.sizing.control_source import control_source
from batch.sizing.enclosures import POLES_OF_TABLE, _disconnect
from batch.sizing.project import size_job
from batch.sizing.stock import Stock
from tests.job_builder import bank, feeder, job, part, project, tank

TT, TN = "TT", "TN-S"


def plant(earthing: str, heaters: int = 9, tanks: int = 1, *, stock: list | None = None, device: str = "fuse", **supply: object):
    made = job(
        [bank(tank=f"T-{at}", quantity=heaters, power_kw=3.0, volts_v=230.0, connection=None, rcd_ma=300.0) for at in range(1, tanks + 1)],
        feeder(volts_v=400.0, wires=4, earthing=earthing, electrode_ohm=20.0, **supply),
        [tank(tank=f"T-{at}") for at in range(1, tanks + 1)],
        project(code_basis="IEC 60364", device_kind=device, distribution="ours", backup_contactor="yes"),
        stock,
    )  # fmt: skip
    return size_job(made)


def first(earthing: str, heaters: int = 9, tanks: int = 1, **more) -> ProjectResult:
    [one] = plant(earthing, heaters, tanks, **more).projects
    return one


def bought(result: ProjectResult, role: str) -> list[str]:
    return [line.words for line in result.materials if line.role == role]


@pytest.mark.parametrize(("earthing", "poles"), [(TN, "3-pole,"), (TT, "4-pole with the neutral,"), ("IT", "4-pole with the neutral,")])
def test_the_switch_of_a_control_panel_has_a_pole_for_the_neutral(earthing: str, poles: str) -> None:
    result = first(earthing)
    [words] = bought(result, "disconnect")
    assert poles in words and ("neutral" in words) == (earthing != TN)
    assert result.controls[0].supplies[0].neutral_pole == (earthing != TN)


def test_a_switch_with_the_fuses_in_it_too() -> None:
    [words] = bought(first(TT, 3), "fusible disconnect") or ["none"]
    assert "4-pole with the neutral, 400 V, fusible" in words


def test_the_neutral_is_wired_through_it() -> None:
    """From the field to the switch as 1LN, from there to the bar as 1DN: it never lands on the bar past the switch."""
    through = {"1LN": ("field", "-Q1:N"), "1DN": ("-Q1:TN", "neutral bar N")}
    for earthing, expected in ((TT, through), (TN, {"1LN": ("field", "neutral bar N")})):
        wires = [one for one in first(earthing).controls[0].circuit.wires if one.number in ("1LN", "1DN")]
        ends = {(one.number, "field" if one.field else one.start, one.end) for one in wires}
        on = {one for one in ends if one[1] == "neutral bar N"}  # from the bar through the residual-current devices
        assert ends - on == {(number, *both) for number, both in expected.items()} and {one[2][-2:] for one in on} <= {":N"}
        assert {one.colour for one in wires} == {"blue"}


def test_control_power_takes_the_neutral_from_behind_it() -> None:
    """230 V of line and neutral: both from behind the switch, or open and locked it would leave a conductor of the supply live."""
    for earthing, neutral in ((TT, "1DN"), (TN, "1LN")):
        control = first(earthing).controls[0]
        source = control_source(control.supplies[0], control.feeds, control.settings, earthed=True, rules=load("IEC 60364"))
        assert source.wires == ("1D1", neutral) and not source.transformer


def test_it_is_drawn() -> None:
    result = first(TT)
    control = result.controls[0]
    [sheet, *_] = power_plans(control, result.symbols, result.wording)
    poles = [one for one in sheet.symbols if one.kind == "disconnect" and one.of == control.supplies[0].mark]
    words = " ".join(one.text for one in sheet.words)
    assert len(poles) == 4 and "1DN" in words and "opened with the lines by -Q1" in words and "no pole" not in words
    plain = first(TN)
    [sheet, *_] = power_plans(plain.controls[0], plain.symbols, plain.wording)
    assert sum(one.of == "-Q1" for one in sheet.symbols) == 3
    assert "no fuse, no pole" in " ".join(one.text for one in sheet.words)


def test_devices_of_feeder_and_ways_have_it_too() -> None:
    result = first(TT, tanks=2)
    row = result.feeders[0]
    assert row.device and row.device.neutral and "4-pole switch that opens the neutral too" in row.device.words and row.end
    assert all(way.device and way.device.neutral for way in row.end.ways)
    assert all("4-pole, the neutral's without a fuse" in words for words in bought(result, "way fused switch or holder"))
    assert "4-pole, short-circuit rating" in bought(result, "distribution unit")[0]
    [holder] = bought(result, "feeder fused switch or holder")
    assert holder.startswith("4-pole, the neutral's without a fuse")
    fuses = [line for line in result.materials if line.role in ("feeder fuse", "way fuse")]
    assert {line.quantity for line in fuses} == {3.0, 6.0}  # none for the neutral
    breakers = first(TT, tanks=2, device="breaker").feeders[0]
    assert breakers.device and "4-pole with the neutral" in breakers.device.words


def test_a_stock_switch_of_three_poles_does_not_serve() -> None:
    def listed(poles: int) -> list:
        return [part(part=f"SW-{poles}", kind="disconnect", rating_a=100.0, poles=poles, volts_v=690.0)]

    assert first(TT, stock=listed(4)).controls[0].supplies[0].disconnect_part == "SW-4"
    assert first(TT, stock=listed(3)).controls[0].supplies[0].disconnect_part == ""
    assert first(TN, stock=listed(3)).controls[0].supplies[0].disconnect_part == "SW-3"


def test_a_stock_holder_of_three_poles_does_not_serve_a_feeder() -> None:
    def holder(earthing: str, poles: int) -> str:
        listed = [part(part=f"FS-{poles}", kind="fuse holder", rating_a=400.0, poles=poles, volts_v=690.0, sccr_ka=100.0)]
        result = first(earthing, stock=listed, fault_ka=10.0)
        return next(line.part for line in result.materials if line.role == "feeder fused switch or holder")

    assert (holder(TT, 4), holder(TT, 3), holder(TN, 3)) == ("FS-4", "", "FS-3")


def test_what_is_there_already_is_asked_about() -> None:
    found = {one.code for one in plant(TT, existing_device_a=100.0).findings}
    assert {"neutral-opened", "neutral-not-opened"} <= found
    row = first(TT, existing_device_a=100.0).feeders[0]
    assert row.device and not row.device.neutral
    assert "neutral-not-opened" not in {one.code for one in plant(TT).findings}


def test_a_one_line_tells_the_poles() -> None:
    drawn = [" ".join(words.text for fed in feds_of(plant(earthing, tanks=2), False) for sheet in plans(fed) for words in sheet.words)
             for earthing in (TT, TN)]  # fmt: skip
    assert " 63 A 4-pole " in drawn[0] and "opens N" in drawn[0] and "opens the neutral too" in drawn[0]
    assert "4-pole" not in drawn[1] and "opens N" not in drawn[1]
    assert all(" 40 A " in one and " 300 mA " in one and " ... " not in one for one in drawn)  # nothing of a residual-current device is cut


def test_a_box_makes_room_for_it() -> None:
    """A switch of four poles is a third wider than the one of three that is listed."""
    wide = [
        _disconnect(first(earthing).controls[0].supplies[0], Lines(10.0, 10.0, 10.0, 0.0), load("IEC 60364"), Stock(())).width_mm
        for earthing in (TT, TN)
    ]
    assert wide[0] == pytest.approx(wide[1] * 4 / POLES_OF_TABLE)


def test_the_sheets_carry_it() -> None:
    result = plant(TT)
    [row] = rows(result, "feeder_totals")
    assert "opens the neutral too" in row["device"]
    assert any("4-pole with the neutral" in str(row["words"]) for row in rows(result, "materials"))
