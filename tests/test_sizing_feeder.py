"""Feeders: what they are, what they carry, what they need and what fault current reaches their end; worked by hand."""

from __future__ import annotations

from collections.abc import Callable
from math import sqrt

import pytest
from msgspec.structs import replace

from batch.method.line_currents import Lines, unbalance_pct
from batch.records import Bank, Supply, Tank
from batch.results import FeederRow, JobResult
from batch.sizing.branch import shared_limit
from batch.sizing.connection import CannotSize
from batch.sizing.fault import exposed
from batch.sizing.supply import resolve_supply
from batch.systems import System
from tests.job_builder import (
    RULES,
    WYE_480,
    bank,
    codes,
    design,
    fault_behind_runs,
    feeder,
    heard,
    of_feeder,
    one_bank,
    project,
    settings,
    size,
    sized,
    tank,
)


def row_of(result: JobResult) -> FeederRow:
    [row] = result.projects[0].feeders
    return row


def feed(heaters: list[Bank] | Bank, how: dict | None = None, **given: object) -> FeederRow:
    return row_of(size(heaters, feeder(**given), projects=project(**how or {})))


THREE_PHASE = {"quantity": 1, "power_kw": 480 * sqrt(3) * 40 / 1000, "phases": 3, "connection": None}  # 40 A on every line


# Systems


@pytest.mark.parametrize(
    ("volts", "phases", "wires", "system", "found"),
    [
        (480, 3, None, None, ("unknown", 3)), (480, 3, 3, None, ("unknown", 3)), (480, 3, 4, None, ("wye grounded", 4)),
        (236, 3, 4, None, ("high-leg delta", 4)), (235, 3, 4, None, ("wye grounded", 4)),  # 240 V is the same to 2 %
        (240, 3, 4, None, ("high-leg delta", 4)), (240, 3, 3, None, ("unknown", 3)), (208, 3, 4, None, ("wye grounded", 4)),
        (480, 1, None, None, ("1-phase line-to-line", 2)), (240, 1, 3, None, ("1-phase 3-wire", 3)),
        (120, 1, None, None, ("1-phase line-to-neutral", 2)), (277, 1, 2, None, ("1-phase line-to-neutral", 2)),
        (347, 1, None, None, ("1-phase line-to-neutral", 2)), (208, 1, None, None, ("1-phase line-to-line", 2)),
        (480, 3, None, "wye grounded", ("wye grounded", 3)), (480, 3, None, "corner-grounded delta", ("corner-grounded delta", 3)),
    ],
)  # fmt: skip
def test_system_given_or_assumed(volts: float, phases: int, wires: int | None, system: str | None, found: tuple[str, int]) -> None:
    supply, said = heard(resolve_supply, feeder(volts_v=float(volts), phases=phases, wires=wires, system=system), RULES)
    assert (supply.system, supply.wires) == found
    assert ("system-assumed" in codes(said)) is (system is None)
    assert ("high-leg" in codes(said)) is (found[0] == "high-leg delta")


def test_the_line_that_is_usually_grounded_is_taken_and_said() -> None:
    """Of a corner-grounded delta of which nobody says it: B, common practice without a source."""
    supply, said = heard(resolve_supply, feeder(system="corner-grounded delta"), RULES)
    assert supply.grounded == "B" and "grounded-line-assumed" in codes(said)
    supply, said = heard(resolve_supply, feeder(system="corner-grounded delta", grounded_line="C"), RULES)
    assert supply.grounded == "C" and "grounded-line-assumed" not in codes(said)


@pytest.mark.parametrize(
    ("phases", "wires", "system", "code"),
    [
        (1, 2, "wye grounded", "system-conflict"), (3, 3, "1-phase 3-wire", "system-conflict"), (3, 4, "delta", "system-conflict"),
        (3, 2, None, "system-conflict"), (1, 4, None, "system-conflict"), (1, 2, "1-phase 3-wire", "system-conflict"),
        (2, 2, None, "phases-impossible"),
    ],
)  # fmt: skip
def test_contradictions_are_refused(phases: int, wires: int, system: str | None, code: str) -> None:
    with pytest.raises(CannotSize) as refused:
        heard(resolve_supply, feeder(phases=phases, wires=wires, system=system), RULES)
    assert refused.value.said.code == code


def test_feeders_assumed_by_volts() -> None:
    """3-phase where a heater at those volts is, or above 300 V; else 1-phase."""
    heaters = [
        bank(volts_v=480.0, phases=1), bank(bank="2", volts_v=240.0, phases=1, connection=None), bank(bank="3", volts_v=208.0, phases=3),
        bank(bank="4", volts_v=208.0, phases=1), bank(bank="5", volts_v=300.0, phases=1, connection=None),
        bank(bank="6", volts_v=277.0, phases=1, connection=None),
    ]  # fmt: skip
    result = size([replace(one, feeder=None) for one in heaters], [])
    assert {(row.feeder.feeder, row.supply.phases) for row in result.projects[0].feeders} == {
        ("480 V", 3), ("240 V", 1), ("208 V", 3), ("300 V", 1), ("277 V", 1),
    }  # fmt: skip
    assert "feeders-assumed" in codes(result.findings)
    systems = {row.feeder.feeder: row.supply.system for row in result.projects[0].feeders}
    assert systems["277 V"] == "1-phase line-to-neutral" and systems["240 V"] == "1-phase line-to-line"  # no fuse in a likely neutral


def test_feeders_that_the_rows_name_are_not_thrown_together() -> None:
    """Two of 480 V fed from two centers, and one of 240 V from one of them, which then has two voltages."""
    heaters = [
        bank(feeder="MCC-A"), bank(bank="2", feeder="mcc-b "),
        bank(bank="3", feeder="MCC-B", volts_v=240.0, connection=None), bank(bank="4", feeder=None),
        bank(bank="5", feeder="480 V"), bank(bank="6", feeder="LCP 24 V"), bank(bank="7", feeder="LCP"),
        bank(bank="8", feeder="LCP", volts_v=24.0, connection=None),
    ]  # fmt: skip
    result = size(heaters, [])
    assert {row.feeder.feeder: row.banks for row in result.projects[0].feeders} == {
        "MCC-A": 1, "mcc-b 480 V": 1, "MCC-B 240 V": 1, "480 V": 2,
        "LCP 480 V": 1, "LCP 24 V": 1, "LCP 24 V 480 V": 1,
    }  # fmt: skip
    [said] = [finding.message for finding in result.findings if finding.code == "feeders-assumed"]
    assert "MCC-A (480 V, 3-phase)" in said and "mcc-b 480 V (3-phase)" in said


# Amps, device, demand, other load


def test_one_balanced_heater() -> None:
    """40 A, 50 A with margin, a 50 A device; sqrt(3) x 480 x 40 / 1000 = 33.26 kVA, the next transformer 45 kVA."""
    row = feed(bank(**THREE_PHASE))
    assert tuple(row.lines) == pytest.approx((40, 40, 40, 0)) and row.unbalance_pct == pytest.approx(0, abs=1e-9)
    assert row.required_a == pytest.approx(50) and row.device.rating_a == 50 and row.device.poles == 3
    assert row.use_kva == pytest.approx(33.255, abs=1e-3) and row.next_kva == 45


def test_a_demand_factor_lowers_amps_only_where_every_bank_is_balanced() -> None:
    balanced = feed([bank(bank="1", **THREE_PHASE), bank(bank="2", **THREE_PHASE)], demand_factor=0.5)
    assert balanced.lines.maximum == pytest.approx(80) and balanced.required_a == pytest.approx(50)
    assert balanced.demand_kw == pytest.approx(balanced.connected_kw / 2)
    lopsided = feed([bank(**THREE_PHASE), bank(bank="2", quantity=1, connection=None)], demand_factor=0.5)
    assert lopsided.required_a == pytest.approx(1.25 * lopsided.lines.maximum)
    assert lopsided.demand_kw == pytest.approx(THREE_PHASE["power_kw"])  # its maximum bank, above half of all
    said = [finding.message for finding in lopsided.findings if finding.code == "demand-factor"]
    assert said == ["F-1: a demand factor of 0.5 is used; some banks are unbalanced in themselves, so the amps stay whole."]


def test_a_demand_factor_never_takes_a_feeder_below_its_greatest_bank() -> None:
    """A bank is switched as one: 40 A and 20 A at a demand of 0.1 are still 40 A, 50 A with margin, and its whole kW."""
    small = {**THREE_PHASE, "power_kw": THREE_PHASE["power_kw"] / 2}
    row = feed([bank(bank="1", **THREE_PHASE), bank(bank="2", **small)], demand_factor=0.1)
    assert row.required_a == pytest.approx(50) and row.device.rating_a == 50
    assert row.demand_kw == pytest.approx(THREE_PHASE["power_kw"])


def test_other_load_stays_whole_and_counts_for_the_drop() -> None:
    """80 x 0.5 + 30 = 70 A of load, 87.5 A with margin, a 90 A device; drop by 110 A of running amps where 80 A alone would drop less."""
    two = [bank(bank="1", **THREE_PHASE), bank(bank="2", **THREE_PHASE)]
    row = feed(two, {"smallest_conductor": "2"}, demand_factor=0.5, other_load_a=30.0)
    assert row.lines.a == pytest.approx(110) and row.required_a == pytest.approx(87.5) and row.device.rating_a == 90
    alone = feed(two, {"smallest_conductor": "2"}, existing_device_a=90.0, demand_factor=0.5)
    assert row.wires.size == alone.wires.size
    assert row.drop_pct == pytest.approx(alone.drop_pct * 110 / 80)


@pytest.mark.parametrize(
    ("existing", "rating", "code"),
    [(45, 50, "existing-device-small"), (49.9999999, 49.9999999, None), (50, 50, None), (60, 60, "existing-device-large")],
)
def test_an_existing_device(existing: float, rating: float, code: str | None) -> None:
    """40 A: 50 A needed. Too small: HOLD (not released for fabrication), and the wires are for what is needed."""
    row = feed(bank(**THREE_PHASE), existing_device_a=existing)
    assert row.device.rating_a == rating
    assert codes(row.findings) & {"existing-device-small", "existing-device-large"} == ({code} if code else set())


@pytest.mark.parametrize(
    ("volts", "system", "existing", "said"),
    [
        (480.0, "wye grounded", 1000.0, True), (480.0, "wye grounded", 999.0, False), (480.0, "delta", 1000.0, False),
        (208.0, "wye grounded", 1000.0, False),  # 120 V to ground
        (600.0, "wye grounded", 1200.0, True),
    ],
)  # fmt: skip
def test_ground_fault_protection_of_large_feeders(volts: float, system: str, existing: float, said: bool) -> None:
    """215.10, 230.95 (from memory): 1000 A and above on a solidly grounded wye of more than 150 V to ground."""
    row = feed(bank(**THREE_PHASE | {"volts_v": volts}), volts_v=volts, system=system, existing_device_a=existing)
    assert ("ground-fault-protection" in codes(row.findings)) is said


@pytest.mark.parametrize(("kva", "said"), [(33.0, True), (33.3, False)])
def test_source_in_use(kva: float, said: bool) -> None:
    assert ("source-overloaded" in codes(feed(bank(**THREE_PHASE), source_kva=kva, source_z_pct=4.0).findings)) is said


def test_one_phase_feeders_have_the_poles_of_their_system() -> None:
    """277 V, 30 A: one pole and a neutral; 240 V 3-wire with 12 A a leg and 10 A across: lines of 22 A and nothing in the neutral."""
    leg = feed(bank(quantity=3, power_kw=2.77, volts_v=277.0, connection=None), volts_v=277.0, phases=1, wires=2,
               system="1-phase line-to-neutral")  # fmt: skip
    assert tuple(leg.lines) == pytest.approx((30, 0, 0, 30)) and leg.device.poles == 1 and leg.wires.neutral == leg.wires.size
    legs = bank(quantity=2, power_kw=1.44, volts_v=120.0, connection=None)
    across = bank(bank="2", quantity=1, power_kw=2.4, volts_v=240.0, connection=None)
    both = feed([legs, across], volts_v=240.0, phases=1, wires=3, system="1-phase 3-wire")
    assert tuple(both.lines) == pytest.approx((22, 22, 0, 0)) and both.device.poles == 2 and both.wires.neutral


def test_ambient_of_the_feeder_is_its_own() -> None:
    """40 A behind 50 A, 60 °C terminals: 6 AWG (55 A). At 70 °C the 90 °C column counts 0.58: 75 x 0.58 = 43.5, so 43 A: next size 45;
    4 AWG 95 x 0.58 = 55.1 stands."""
    assert feed(bank(**THREE_PHASE)).wires.size == "6"
    assert feed(bank(**THREE_PHASE), {"raceway": "RMC"}, ambient_c=70.0).wires.size == "4"


# Unbalance


def pairs(*given: tuple[str | None, float]) -> list[Bank]:
    usual = {"quantity": 1, "connection": None}
    return [bank(bank=str(n), power_kw=0.48 * amps, phase_pair=pair, **usual) for n, (pair, amps) in enumerate(given, start=1)]


def test_unbalance_by_hand() -> None:
    """10 A on A-B alone: lines 10, 10, 0; mean 6.667, maximum deviation 6.667: 100 %."""
    row = feed(pairs(("A-B", 10)))
    assert tuple(row.lines)[:3] == pytest.approx((10, 10, 0)) and row.unbalance_pct == pytest.approx(100)


@pytest.mark.parametrize(
    ("given", "said"),
    [
        ((("A-B", 10), ("A-B", 10), ("A-B", 10)), True),  # a better arrangement exists, though A-B is where an unfixed bank would start
        ((("B-C", 10), ("B-C", 10)), True),
        ((("A-B", 10), ("B-C", 10), ("C-A", 10)), False),
        ((("A-B", 10),), False),  # one alone cannot be balanced
        # 10 + e A on one line against sqrt(100 + e^2 + 10 e) with e on another pair: for 0.2 A 0.97 % more, for 0.21 A 1.02 %
        ((("A-B", 10), ("A-B", 0.2)), False),
        ((("A-B", 10), ("A-B", 0.21)), True),
        (((None, 10), (None, 10)), False),  # nothing better, under 100 A
        (((None, 40), (None, 40), (None, 40), (None, 40), (None, 40), (None, 40), (None, 40)), True),  # over 100 A: 2 + 2 + 3
    ],
)
def test_unbalance_is_a_caution_only_where_better_exists_or_the_line_is_large(given: tuple, said: bool) -> None:
    assert ("unbalance" in codes(feed(pairs(*given)).findings)) is said


def test_unbalance_of_two_lines() -> None:
    """30 and 10 A: mean 20 A, 10 A off it: 50 %."""
    assert unbalance_pct(Lines(30.0, 10.0, 0.0, 20.0), System.THREE_WIRE) == pytest.approx(50)


def test_what_balancing_gained_is_shown() -> None:
    row = feed(pairs((None, 10), (None, 10), (None, 10)))
    assert row.unbalance_before_pct == pytest.approx(100) and row.unbalance_pct == pytest.approx(0, abs=1e-9)
    assert row.lines.maximum == pytest.approx(10 * sqrt(3))


# Drop


def test_feeder_and_total_drop() -> None:
    """40 A on 6 AWG (0.49 ohm/kft) over 100 ft: sqrt(3) x 0.049 x 40 = 3.395 V, 0.7073 %."""
    row = feed(bank(**THREE_PHASE), run_m=30.48)
    assert row.wires.size == "6" and row.drop_pct == pytest.approx(0.7073, abs=1e-4)


def test_feeder_leaves_the_branch_its_share_and_over_five_per_cent_is_said() -> None:
    result = size(bank(**THREE_PHASE, heater_run_m=200.0), feeder(run_m=600.0), projects=project(on_drop="caution"))
    said = [finding.message for finding in result.findings if finding.code == "drop-over"]
    assert any(message.startswith("Feeder, way, panel feeder and branch together: a voltage drop of ") for message in said)
    upsized = size(bank(**THREE_PHASE, heater_run_m=200.0), feeder(run_m=600.0))
    row, one = row_of(upsized), one_bank(upsized)
    assert "drop-over" not in codes(upsized.findings)
    assert row.drop_pct + one.design.branch.drop_pct <= 5 + 1e-9


def test_the_panel_feeder_counts_in_the_total_drop() -> None:
    """Feeder, panel feeder and branch are in series: their drops add, and the limit is asked of the sum of the three."""
    heaters = {"quantity": 6, "heater_run_m": 20.0, "panel_feeder_run_m": 40.0}

    def sized_for(limit: float) -> tuple[float, float, bool]:
        result = size(bank(**heaters), feeder(run_m=60.0), projects=project(on_drop="caution", total_drop_pct=limit))
        row, one = row_of(result), one_bank(result)
        [panel] = one.panels
        said = any("Feeder, way, panel feeder and branch together" in finding.message for finding in result.findings)
        return row.drop_pct + panel.design.drop_pct + one.design.branch.drop_pct, panel.design.drop_pct, said

    total, of_panel_feeder, _ = sized_for(5.0)
    assert of_panel_feeder > 0.1
    assert sized_for(total - 0.05)[2] and not sized_for(total + 0.05)[2]


def test_a_feeder_gets_what_panel_feeder_and_branch_leave_of_the_total() -> None:
    """With 5 % in all and 3 % behind the panel the feeder has what is left of 5 %; the panel feeder's drop is none of its own to spend."""
    result = size(bank(quantity=6, heater_run_m=80.0, panel_feeder_run_m=80.0), feeder(run_m=300.0))
    row, one = row_of(result), one_bank(result)
    behind = one.panels[0].design.drop_pct + one.design.branch.drop_pct
    assert one.panels[0].design.drop_pct > 0.3 and 2.0 < behind <= 3.0 + 1e-9
    assert row.drop_pct + behind <= 5 + 1e-9 and "drop-over" not in codes(result.findings)


def limits_said(banks: list[Bank], tanks: list[Tank], how: dict) -> tuple[JobResult, dict[str, str]]:
    """A job with a feeder so long that it loses more than it may, and the limits that are stated: {"Feeder F-1": "2.5 %"}."""
    result = size(banks, feeder(run_m=2000.0), tanks=tanks, projects=project(on_drop="caution", **how))
    said = [one.message for one in result.findings if one.code == "drop-over"]
    return result, {one.partition(":")[0]: one.partition("the limit is ")[2].rstrip(".") for one in said}


@pytest.mark.parametrize(
    ("runs", "how", "left"),
    [
        ([None], {}, lambda behind: 3.0),  # 5 % would be left, and no part of a supply takes more than 3
        ([110.0], {}, lambda behind: 5.0 - behind),
        ([20.0, 110.0], {}, lambda behind: 5.0 - behind),  # of the farther one
        ([250.0], {}, lambda behind: 2.0),  # more than 3 % behind it: the difference of both limits all the same
        ([110.0], {"total_drop_pct": 3.0}, lambda behind: 3.0),  # no difference: what it may lose cannot be nothing
        ([110.0], {"total_drop_pct": 2.0}, lambda behind: 3.0),
    ],
)
def test_what_a_feeder_may_lose(runs: list[float | None], how: dict, left: Callable[[float], float]) -> None:
    """5 % in all and 3 % of a branch, unless the project says else."""
    banks = [bank(tank=f"T-{at}", **THREE_PHASE, heater_run_m=run) for at, run in enumerate(runs)]
    result, limits = limits_said(banks, [tank(tank=f"T-{at}") for at in range(len(runs))], how)
    behind = max(one.design.branch.drop_pct or 0.0 for one in result.projects[0].banks)
    assert limits["Feeder F-1"] == f"{left(behind):.3g} %"


@pytest.mark.parametrize(
    ("run_m", "how", "of_way"), [(110.0, {}, "2 %"), (150.0, {"total_drop_pct": 3.0}, "3 %"), (150.0, {"total_drop_pct": 2.0}, "3 %")]
)
def test_what_a_way_may_lose_and_what_it_leaves_to_its_feeder(run_m: float, how: dict, of_way: str) -> None:
    """A way has what a branch that uses its limit up leaves of the total, never nothing; its feeder what it leaves, up to 3 %."""
    banks = [bank(tank=f"T-{at}", **THREE_PHASE) for at in (1, 2)]
    result, limits = limits_said(banks, [tank(tank=f"T-{at}", distribution_run_m=run_m) for at in (1, 2)], how)
    ways = row_of(result).end.ways
    assert len(ways) == 2 and {limits[f"Way {way.tag}"] for way in ways} == {of_way}
    lost = max(way.drop_pct for way in ways)
    behind = lost + max(one.design.branch.drop_pct or 0.0 for one in result.projects[0].banks)
    assert lost > 2.0 and limits["Feeder F-1"] == ("3 %" if how else f"{5.0 - behind:.3g} %")


@pytest.mark.parametrize(
    ("heater_m", "panel_feeder_m", "branch", "panel_feeder"),
    [(5.0, 15.0, 0.75, 2.25), (20.0, 20.0, 1.5, 1.5), (20.0, None, 3.0, 3.0), (None, 20.0, 3.0, 3.0)],
)
def test_branch_and_panel_feeder_share_the_limit_by_length(
    heater_m: float | None, panel_feeder_m: float | None, branch: float, panel_feeder: float
) -> None:
    """3 % over 5 + 15 m: 3 x 5/20 and 3 x 15/20. Given whole to each, both together could lose 6 %."""
    given = design(quantity=6, heater_run_m=heater_m, panel_feeder_run_m=panel_feeder_m)
    assert shared_limit(given, heater_m) == pytest.approx(branch)
    assert shared_limit(given, panel_feeder_m) == pytest.approx(panel_feeder)


def test_a_direct_banks_wires_run_the_whole_way() -> None:
    """From the contactor past where a panel would have been: 5 + 35 m."""
    near, far = (sized(heater_run_m=5.0, panel_feeder_run_m=more).branch.drop_pct for more in (None, 35.0))
    assert far == pytest.approx(8 * near)
    assert sized(heater_run_m=5.0, panel_feeder_run_m=35.0).run_m == 40.0
    assert sized(heater_run_m=None, panel_feeder_run_m=35.0).run_m is None
    assert sized(quantity=6, heater_run_m=5.0, panel_feeder_run_m=35.0).run_m == 5.0


# Fault current


@pytest.mark.parametrize(
    ("supply", "kva", "z_pct", "ka"),
    [
        (WYE_480, 500, 5.75, 11.6214),  # 601.41 / (0.9 x 0.0575) / 1000
        (Supply(240.0, 3, System.THREE_WIRE), 50, 2.0, 11.5741),  # 208.33 / 0.018
    ],
)
def test_fault_at_the_source(supply: Supply, kva: float, z_pct: float, ka: float) -> None:
    assert of_feeder(supply, source_kva=kva, source_z_pct=z_pct).fault.used_ka == pytest.approx(ka, abs=1e-4)


def test_a_given_fault_current_goes_before_the_transformer_and_nothing_is_guessed() -> None:
    assert of_feeder(WYE_480, fault_ka=22.0, source_kva=500.0, source_z_pct=5.75).fault.used_ka == 22.0  # above the 11.6 kA of the unit
    assert of_feeder(WYE_480, source_kva=500.0).fault is None


def test_fault_behind_a_run_by_hand() -> None:
    """22 kA at 480 V: 12.597 mohm. 100 ft of 6 AWG copper in PVC: 0.838 x 49 = 41.06 mohm, X 5.1 mohm. Source all reactance:
    sqrt(41.06^2 + 17.70^2) = 44.71 mohm, 6.198 kA; all resistance: sqrt(53.66^2 + 5.1^2) = 53.90 mohm, less current."""
    wires = feed(bank(**THREE_PHASE)).wires
    assert fault_behind_runs(22.0, WYE_480, ((wires, 30.48),), settings(), RULES) == pytest.approx(6.198, abs=2e-3)
    assert fault_behind_runs(22.0, WYE_480, ((wires, None),), settings(), RULES) == pytest.approx(22.0)


@pytest.mark.parametrize(
    ("end_ka", "panel_ka", "parts"),
    [(5.0, 10.0, []), (5.01, 10.0, ["contactor"]), (5.0, 10.01, ["power distribution block"])],
)
def test_a_part_withstands_what_it_is_rated_for(end_ka: float, panel_ka: float, parts: list[str]) -> None:
    """Unmarked, by UL 508A Table SB4.1: a contactor 5 kA at the feeder's end, block and fuse holders 10 kA at the panel."""
    [panel] = sized(quantity=6).panels
    assert [one.part for one in exposed(panel, end_ka, panel_ka, RULES)] == parts


def test_panels_know_the_fault_current_that_reaches_them() -> None:
    result = size(bank(quantity=6, panel_feeder_run_m=20.0), feeder(fault_ka=30.0, run_m=50.0))
    [panel] = one_bank(result).panels
    assert panel.fault_ka < row_of(result).fault_end_ka < 30.0
    unknown = size(bank(quantity=6), feeder(fault_ka=None))
    assert one_bank(unknown).panels[0].fault_ka is None and row_of(unknown).fault_end_ka is None
