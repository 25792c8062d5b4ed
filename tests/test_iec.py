"""IEC 60364 beside the NEC: tables against the formulas behind them, published examples, and the rules that every chosen conductor keeps.

No standard was opened: figures are checked against what national copies, handbooks and manuals print, and against Annex D's formula,
whose coefficients are from memory.
"""

from __future__ import annotations

import math
import re
from functools import cache

import pytest
from hypothesis import given
from hypothesis import strategies as st

import batch
from batch.method.ampacity import corrected_ampacity
from batch.method.grounding import equipment_ground
from batch.method.overcurrent import continuous_factor, overload_share, protects, standard_rating
from batch.method.voltage_drop import run_resistance
from batch.results import JobResult
from batch.rules import RuleSet, load
from batch.sizing.project import size_job
from batch.systems import System
from tests.job_builder import bank, feeder, job, project
from tests.make_samples import HERE

IEC = load("IEC 60364")
MM2 = {size: float(size.split()[0]) for size in IEC.sizes}


# Tables


@pytest.mark.parametrize("size", [size for size in IEC.sizes if MM2[size] <= 120])
def test_ampacities_are_those_of_the_formula(size):
    """IEC 60364-5-52, Annex D: I = A S^m, 47.5 for 50 mm2. Table B.52.4, B1, copper: A 11.84, m 0.628; aluminum: 9.265, 0.627 (memory)."""
    area = 47.5 if MM2[size] == 50 else MM2[size]
    for material, a, m in (("copper", 11.84, 0.628), ("aluminum", 9.265, 0.627)):
        found = IEC.ampacity(size, material, 70)
        if found is not None:
            assert found.value == pytest.approx(a * area**m, abs=1.0)


@pytest.mark.parametrize("ambient", range(10, 61, 5))
def test_ambient_factors_are_those_of_the_formula(ambient):
    """Table B.52.14 for PVC agrees with sqrt((70 - t) / 40) within 0.008 (worked out)."""
    assert IEC.ambient_factor(ambient, 70).value == pytest.approx(math.sqrt((70 - ambient) / 40), abs=0.008)


def test_a_degree_between_two_rows_goes_to_the_hotter():
    assert IEC.ambient_factor(40.2, 70).value == 0.79 and IEC.ambient_factor(61, 70) is None


def test_grouping_counts_circuits():
    """Table B.52.17, item 1, read on two pages."""
    assert [IEC.adjustment(99, circuits).value for circuits in (1, 2, 3, 6, 9, 12, 20, 50)] == [1, 0.8, 0.7, 0.57, 0.5, 0.45, 0.38, 0.38]


PE = {1.5: 1.5, 2.5: 2.5, 4: 4, 6: 6, 10: 10, 16: 16, 25: 16, 35: 16, 50: 25, 70: 35, 95: 50, 120: 70, 150: 95, 185: 95, 240: 120}


@pytest.mark.parametrize("size", list(PE))
def test_protective_conductors(size):
    """Table 54.2 as a national list prints it for 1.5 to 240 mm2."""
    named = f"{size:g} mm²"
    found = equipment_ground(
        device_a=16, size=named, sets=1, needed_size=named, needed_sets=1, smallest="2.5 mm²", material="copper", rules=IEC
    )
    assert found.value == f"{PE[size]:g} mm²"


def test_resistances_are_of_the_metal():
    """IEC 60228, class 2: R20 S is 17.24 to 18.8 ohm mm2/km for copper (17.241 the metal's own), 28.3 to 31 for aluminum; 50 mm2 is
    made with 47.5."""
    for row in IEC.table("conductor_properties"):
        area = 47.5 if row["size"] == "50 mm²" else row.number("area_mm2")
        assert 17.2 < row.number("cu_ohm_per_km") * area < 18.8
        if (al := row.number("al_ohm_per_km")) is not None:
            assert 28.2 < al * area < 31.1


def test_voltage_drop_is_annex_gs():
    """A public example: 22.5 mohm mm2/m, 5 m, two of 240 mm2 in parallel, 0.234 mohm."""
    assert run_resistance("240 mm²", 5, "copper", "conduit", IEC).value / 2 * 1000 == pytest.approx(0.234, abs=0.0005)


# Rules


@pytest.mark.parametrize(("watts", "device"), [(3500, 16), (4500, 20), (5750, 25), (7250, 32)])
def test_fixed_heating_circuits_without_a_margin(watts, device):
    """A national table for fixed heating at 230 V: 3500 W on 16 A, 4500 on 20, 5750 on 25, 7250 on 32. No 125 %."""
    assert continuous_factor(0, IEC).value == 1.0
    assert standard_rating(watts / 230, "breaker", 6, IEC).value == device


def test_a_fuse_asks_more_of_its_conductors_than_a_breaker():
    """I2 <= 1.45 Iz: a breaker opens at 1.45 In or less, a gG fuse from 16 A at 1.6 In: Iz >= 1.103 In (memory; the rule read)."""
    assert overload_share(20, "breaker", IEC).value == 1 and overload_share(20, "fuse", IEC).value == pytest.approx(1.6 / 1.45, abs=0.001)
    assert overload_share(4, "fuse", IEC).value == pytest.approx(2.1 / 1.45, abs=0.001)
    assert protects(20, "breaker", 21, 1, IEC).value and not protects(20, "fuse", 21, 1, IEC).value
    assert not protects(21, "breaker", 20.9, 1, IEC).value  # never the next rating above


def test_the_device_is_divided_by_the_factors():
    """A published 16 kW heater, 400 V, 35 °C: 23.09 A; behind 25 A 25 / 0.94 = 26.6 A are asked of the table."""
    assert 16000 / (math.sqrt(3) * 400) == pytest.approx(23.09, abs=0.01)
    factor = IEC.ambient_factor(35, 70).value
    assert factor == 0.94 and 25 / factor == pytest.approx(26.6, abs=0.01)
    four = corrected_ampacity("4 mm²", "copper", ambient_c=35, current_carrying=3, circuits=1, rules=IEC).value
    assert four == pytest.approx(28 * 0.94) and protects(25, "breaker", four, 1, IEC).value


def in_amps(words: str) -> float:
    return float(re.search(r"([\d.]+)", words)[1])


@given(
    st.integers(1, 12), st.floats(0.5, 40), st.sampled_from([(400.0, 1), (400.0, 3), (230.0, 1)]), st.sampled_from(["fuse", "breaker"]),
    st.floats(-5, 55), st.integers(1, 6), st.floats(0, 50),
)  # fmt: skip
def test_every_conductor_keeps_both_conditions(heaters, kw, kind, device_kind, ambient, shares, margin):
    """Ib <= In <= Iz and I2 <= 1.45 Iz, Iz corrected for air and grouping, for branches and panel feeders of any bank."""
    volts, phases = kind
    made = job(
        bank(quantity=heaters, power_kw=kw, volts_v=volts, phases=phases, connection=None, circuits_in_raceway=shares),
        feeder(volts_v=400.0, wires=4),
        projects=project(code_basis="IEC 60364", device_kind=device_kind, ambient_c=ambient, margin_pct=margin),
    )
    for row in size_job(made).projects[0].banks:
        design = row.design
        device, wires = design.branch.device, design.branch.wires
        if not wires.required_size or device.rating_a < design.branch.required_a:
            continue
        iz = IEC.ampacity(wires.size, "copper", 70).value * IEC.ambient_factor(ambient, 70).value * IEC.adjustment(99, shares).value
        i2 = {"fuse": 1.6 if device.rating_a >= 16 else 2.1, "breaker": 1.45}[device.kind] * device.rating_a
        if design.single_circuit is None:
            assert device.rating_a <= wires.sets * iz + 1e-6
            assert i2 <= 1.45 * wires.sets * iz * 1.0005
        assert design.branch.required_a >= design.design_a - 1e-9
        assert wires.ground == IEC.protective(wires.size, "copper").value


# Whole workbooks


@cache
def twin() -> JobResult:
    return batch.check(HERE / "whole-plant-iec.xlsx")


def test_the_whole_plant_has_a_twin_in_400_v_country():
    result = twin()
    rows = [row for one in result.projects for row in one.banks]
    assert len(rows) == 418 and not result.not_sized
    assert sum(row.bank.quantity for row in rows) == 3381
    assert {one.rule_set for one in result.projects} == {"IEC 60364"}
    assert all(check.passes for check in result.checks)
    assert {row.supply.system for row in rows} <= {System.WYE_GROUNDED, System.DELTA, System.LINE_TO_LINE}


WORDS_OF_ANOTHER_CODE = re.compile(r"\bAWG\b|kcmil|\bNEMA\b|\bUL \d|\bNEC\b|NFPA|\b\d{3}\.\d+\([A-Z]\)|Y/\d{3}")


def test_no_result_of_it_speaks_of_another_code():
    """Sizes in mm2, contactors by AC-1, clauses of IEC: nothing of the NEC stands in a row or a finding."""
    from batch.schedules import RESULTS, rows

    result = twin()
    found = set()
    for sheet in RESULTS:
        for row in rows(result, sheet.id):
            for key, value in row.items():
                if sheet.id == "code_basis" and str(row["what"]).startswith("Space of a part"):
                    continue  # a budget table of the trade that both share
                if isinstance(value, str) and (word := WORDS_OF_ANOTHER_CODE.search(value)):
                    found.add((sheet.id, key, word[0], value[:90]))
    assert not sorted(found)[:8]


def test_projects_on_different_rule_sets_in_one_workbook():
    """Each is sized by its own: 12 kW at 400 V is 17.3 A either way, on copper of the one code or the other."""
    made = job(
        [bank(project="A", volts_v=480.0, phases=3, connection=None), bank(project="B", volts_v=400.0, phases=3, connection=None)],
        [feeder(project="A", volts_v=480.0), feeder(project="B", volts_v=400.0)],
        projects=[project(project="A"), project(project="B", code_basis="IEC 60364")],
    )
    one, other = size_job(made).projects
    assert (one.rule_set, other.rule_set) == ("NEC 2023", "IEC 60364")
    assert one.banks[0].design.branch.wires.size in load("NEC 2023").sizes
    assert other.banks[0].design.branch.wires.size in IEC.sizes


def test_iec_stands_by_itself():
    """What it shares with another code is practice of the trade alone."""
    assert isinstance(IEC, RuleSet) and IEC.extends is None
    shared = load("NEC 2023").section("factors")
    for name, entry in IEC.section("factors").items():
        if entry is shared.get(name) or entry == shared.get(name):
            code = r"\d|Table|Chapter|Article|UL|NEMA|ANSI"
            assert entry["basis"].startswith("common practice") or not re.match(code, entry["basis"]), name
