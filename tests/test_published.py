"""Worked examples as printed elsewhere, each through our own functions.

tests/published/worked_examples.csv: `published` is the page's answer, compared within half a unit of its last printed digit. Where our
method gives another answer for a stated reason, `ours` is that answer, worked by hand, and `reason` says why; the published answer must
then be refused.
"""

from __future__ import annotations

import csv
from collections.abc import Callable
from decimal import Decimal
from functools import partial
from math import sqrt
from pathlib import Path

import pytest
from msgspec.structs import replace

from batch.findings import Remarks
from batch.method.ampacity import corrected_ampacity
from batch.method.currents import delivered_power, rated_current
from batch.method.grounding import equipment_ground
from batch.method.line_currents import Loads, line_currents
from batch.method.overcurrent import minimum_branch_rating
from batch.method.source_load import source_current
from batch.method.subdivided_heaters import circuits_needed
from batch.method.taps import tap_needs, tap_rule
from batch.method.transformer_protection import primary_alone, primary_with_secondary, secondary_sum
from batch.method.voltage_drop import branch_drop, run_resistance
from batch.records import PowerSource, Supply
from batch.results import Wires
from batch.sizing.project import size_job
from batch.sizing.protection import Circuit, choose_rating
from batch.sizing.runs import Run, choose_wires
from batch.sizing.stock import Stock
from batch.systems import System
from tests.job_builder import RULES, WYE_480, fault_behind_runs, feeder, job, of_feeder, origin, project, settings, sized
from tests.job_builder import bank as heater_bank

TABLE = Path(__file__).parent / "published" / "worked_examples.csv"
with TABLE.open(newline="", encoding="utf-8") as _file:
    ROWS = list(csv.DictReader(_file))

SUPPLIES = {"3-phase": WYE_480, "1-phase": Supply(480.0, 2, System.LINE_TO_LINE), "380": Supply(380.0, 3, System.WYE_GROUNDED)}


def _run(load_a: float, device_a: float, carrying: int = 3, **more: object) -> Run:
    usual = {"required_a": 1.25 * load_a, "device_kind": "fuse", "lines": 3, "neutral": False, "ambient_c": 30.0}
    return Run("run", "", load_a=load_a, device_a=device_a, current_carrying=carrying, **usual | more)


def wire(load_a: float, device_a: float, terminal_c: float, largest: str = "500", **more: float) -> str:
    made = settings(terminal_c=int(terminal_c), largest_conductor=largest, smallest_conductor="14")
    chosen = choose_wires(_run(load_a, device_a, **more), made, RULES, Remarks()).wires
    return chosen.size if chosen.sets == 1 else f"{chosen.sets} sets of {chosen.size}"


def wire_for_drop(amps: float, volts_v: float, length_m: float, limit_pct: float) -> str:
    run = _run(amps, 15.0, carrying=2, length_m=length_m, drop_limit_pct=limit_pct, drop=lambda ohm, _: 2 * ohm * amps / volts_v)
    return choose_wires(run, settings(smallest_conductor="14"), RULES, Remarks()).wires.size


def drop(amps: float, size: str, length_m: float) -> float:
    return branch_drop(amps, run_resistance(size, length_m, "copper", "PVC-80", RULES).value, 1.0, 1)


def device(load_a: float) -> float:
    required_a = minimum_branch_rating(load_a, settings().margin_pct, RULES).value
    return choose_rating(required_a, Circuit("fuse", 2, WYE_480), settings(), RULES, Stock(), said=Remarks()).rating_a


def smallest_of_column(amps: float, column_c: float) -> str:
    return next(size for size in RULES.sizes if RULES.ampacity(size, "copper", int(column_c)).value >= amps)


def lines(x: float = 0, y: float = 0, z: float = 0) -> tuple[float, ...]:
    return tuple(line_currents(Loads(x, y, z), WYE_480.system)[:3])


def corrected(size: str, ambient_c: float, carrying: float) -> float:
    return corrected_ampacity(size, "copper", ambient_c=ambient_c, current_carrying=int(carrying), circuits=1, rules=RULES).value


def fault_source(kva: float, volts_v: float, z_pct: float) -> float:
    return 1000 * of_feeder(Supply(volts_v, 3, System.WYE_GROUNDED), source_kva=kva, source_z_pct=z_pct).fault.used_ka


def full_load(kva: float, volts_v: float) -> float:
    """What 0.9 % of impedance would let through is a hundred and eleventh of it."""
    return fault_source(kva, volts_v, 100.0) * 0.9


def fault_at_end(source_a: float, volts_v: float, size: str, sets: float, length_m: float, raceway: str) -> float:
    wires = Wires(size, int(sets), 3, "", "3", "copper", "THWN-2", "", size, "", None)
    supply = Supply(volts_v, 4, System.WYE_GROUNDED)
    return 1000 * fault_behind_runs(source_a / 1000, supply, ((wires, length_m),), settings(raceway=raceway), RULES)


def bank(supply: str, **given: object):
    for whole in ("quantity", "phases", "circuits_per_heater"):
        if whole in given:
            given[whole] = int(given[whole])
    return sized(supply=SUPPLIES[supply], **given)


def branches(**given: object) -> str:
    made = bank(**given)
    return f"{sum(panel.branches for panel in made.panels)} {made.connection}"


def secondary_wire(kva: float, primary_a: float, length_m: float, end_a: float) -> str:
    """What sizing gives a feeder whose device stands at its end, 480 V to 208 V."""
    unit = PowerSource("P-1", "TX-1", kva=kva, volts_v=208.0, phases=3, wires=3, system="wye grounded", primary_v=480.0,
                       primary_device_a=primary_a, origin=origin("sources"))  # fmt: skip
    fed = feeder(source="TX-1", volts_v=208.0, fault_ka=None, system=None, run_m=length_m, existing_device_a=end_a, device_at="end")
    made = job(heater_bank(volts_v=208.0), fed, projects=project(largest_conductor="600"))
    return size_job(replace(made, sources=(unit,))).projects[0].feeders[0].wires.size


def tap_wire(length_m: float, feeder_a: float, end_a: float) -> str:
    """What sizing gives the taps of a feeder; the device at the end by a 3-phase heater that asks for just that."""
    power_kw = 0.99 * end_a / 1.25 * 480.0 * sqrt(3) / 1000.0
    given = {"quantity": 1, "phases": 3, "connection": None, "power_kw": power_kw, "circuits_per_heater": 1 + int(end_a // 60)}
    banks = [heater_bank(tank=f"T-{at}", **given) for at in range(2)]
    made = job(banks, feeder(existing_device_a=feeder_a, tap_m=length_m, run_m=None), projects=project(ambient_c=30.0))
    way = size_job(made).projects[0].feeders[0].end.ways[0]
    assert way.device.rating_a == end_a, way.device
    return way.wires.size


def tap_wants(length_m: float, feeder_a: float, end_a: float) -> float:
    return tap_needs(0.0, end_a, feeder_a, tap_rule(length_m, RULES).value.share)


FIND: dict[str, Callable] = {
    "rated current": rated_current,
    "amps with margin": lambda load_a: minimum_branch_rating(load_a, settings().margin_pct, RULES).value,
    "device": device,
    "wire": wire,
    "wire for drop": wire_for_drop,
    "drop": drop,
    "smallest of column": smallest_of_column,
    "circuits": lambda design_a: str(circuits_needed(design_a, settings().margin_pct, RULES).value),
    "line currents": lines,
    "share of 22 A": lambda **amps: 100 * max(lines(**amps)) / 22,
    "corrected ampacity": corrected,
    "ground": lambda device_a, size, needed: equipment_ground(
        device_a=device_a, size=size, sets=1, needed_size=needed, needed_sets=1, smallest="12", material="copper", rules=RULES,
    ).value,
    "full load current": full_load,
    "fault at source": fault_source,
    "fault behind": fault_at_end,
    "primary device alone": lambda kva, primary_v: primary_alone(source_current(kva, primary_v, 3), primary_v, "fuse", RULES).value,
    "primary device with secondary": lambda kva, primary_v: primary_with_secondary(
        source_current(kva, primary_v, 3), primary_v, RULES
    ).value,
    "secondary devices": lambda kva, volts_v: secondary_sum(source_current(kva, volts_v, 3), "fuse", RULES).value,
    "tap wire": tap_wire,
    "tap needs": tap_wants,
    "secondary wire": secondary_wire,
    "delivered": lambda power_kw, volts_v, applied_v: 1000 * delivered_power(power_kw, applied_v, volts_v, RULES).value,
    "contactor": lambda amps: RULES.contactor(amps).value.name,
    "branches": branches,
    "arrangement": lambda **given: "panel" if bank(**given).panels else "direct",
    "panels": lambda **given: " + ".join(str(panel.branches) for panel in bank(**given).panels),
}
TEXT = {"size", "needed", "largest", "raceway", "supply", "connection"}


def inputs(row: dict[str, str]) -> dict[str, object]:
    pairs = (pair.split("=") for pair in row["inputs"].split())
    return {name: value if name in TEXT else float(value) for name, value in pairs}


def agrees(found: object, printed: str) -> bool:
    """Within half a unit of the last printed digit, or the same words."""
    if isinstance(found, str):
        return found == printed
    figures, values = printed.split(), found if isinstance(found, tuple) else (found,)
    if len(figures) != len(values):
        return False
    halves = [Decimal(1).scaleb(Decimal(figure).as_tuple().exponent) / 2 for figure in figures]
    return all(abs(value - float(figure)) <= float(half) * (1 + 1e-9) for value, figure, half in zip(values, figures, halves, strict=True))


@pytest.mark.parametrize("row", ROWS, ids=[f"{row['case']}: {row['find']} {row['inputs']}" for row in ROWS])
def test_published(row: dict[str, str]) -> None:
    found = FIND[row["find"]](**inputs(row))
    if row["ours"]:
        assert row["reason"], "an answer of our own needs its reason"
        assert not agrees(found, row["published"]), f"agrees with {row['published']} after all: {row['reason']}"
        assert agrees(found, row["ours"]), f"{found} is neither published nor the {row['ours']} that the row gives"
    else:
        assert agrees(found, row["published"]), f"{found}, published {row['published']} {row['unit']}"


def test_every_row_has_its_source() -> None:
    assert all(row["source"] and row["status"] in ("seen in print", "from memory, unverified", "trade practice") for row in ROWS)
    named = {row["case"].split()[0] for row in ROWS}
    assert {f"W{number}" for number in (*range(1, 9), *range(11, 19), *range(20, 29))} <= named


def test_a_printed_figure_is_judged_to_its_last_digit() -> None:
    close = partial(agrees, printed="12.5")
    assert close(12.45) and close(12.549) and not close(12.56) and not close(12.44)
    assert agrees((11.0, 19.0526, 11.0), "11 19.05 11") and not agrees((11.0, 19.0, 11.0), "11 19.05 11")
    assert not agrees((11.0,), "11 19.05") and not agrees("panel", "direct")


def test_point_to_point_is_never_below_the_published_answer() -> None:
    """W13: f = sqrt(3) x 20 ft x 46,273 A / (22,185 x 2 x 208 V) = 0.1737, M = 1 / 1.1737 = 0.852, as printed."""
    f = sqrt(3) * 20 * 46273 / (22185 * 2 * 208)
    assert 1 / (1 + f) == pytest.approx(0.852, abs=5e-4)
    assert fault_at_end(46273, 208, "500", 2, 6.096, "RMC") >= 46273 / (1 + f)
