"""Line currents, neutral currents, leg volts, voltage drop and fault current against an independent circuit solver, OpenDSS.

How: every heater is a resistance V^2 / P (a 3-phase heater three of them, in delta or in wye), the source three ideal sources behind
1e-9 ohm, so that nothing but the solver's own arithmetic lies between the two answers. All elements are linear, the solution tolerance is
1e-12, and line currents are the phasor sums of the elements' own currents at each line: that is Kirchhoff's law and no formula of ours.
"""

from __future__ import annotations

import cmath
from collections import defaultdict
from itertools import count
from math import sqrt

import opendssdirect as dss
import pytest

from batch.method.common_point_wye import ungrounded_wye
from batch.method.line_currents import Loads, line_currents, rotated
from batch.method.voltage_drop import drop_share
from batch.records import Supply
from batch.results import BankDesign, JobResult
from batch.schedules import rows
from batch.sizing.placing import bank_loads, groups, panel_starts
from batch.sizing.project import size_job
from batch.systems import Connection, System
from tests.job_builder import RULES, WYE_480, WYE_480_4, bank, design, fault_behind_runs, feeder, job, project, settings, sized, tank

ROOT3 = sqrt(3.0)
THREE_WIRE = Supply(240.0, 3, System.THREE_WIRE)
ONE_PHASE = Supply(480.0, 2, System.LINE_TO_LINE)
LEG = Supply(277.0, 2, System.LINE_TO_NEUTRAL)
LEG_V = 480.0 / ROOT3


class Network:
    """A resistive network between the lines of a supply, solved by OpenDSS. Node 0 is the neutral, which is earth."""

    def __init__(self, supply: Supply, reactance_ohm: float = 1e-9, resistance_ohm: float = 1e-9) -> None:
        self.names = count(1)
        self.ends: dict[str, tuple[str, str]] = {}
        self.do("Clear")
        if supply.phases == 3:
            sources = [(supply.volts_v / ROOT3, -120.0 * leg) for leg in range(3)]
        elif supply.system == "1-phase line-to-neutral":
            sources = [(supply.volts_v, 0.0)]
        else:
            sources = [(supply.volts_v / 2, 0.0), (supply.volts_v / 2, 180.0)]
        for node, (volts, angle) in enumerate(sources, start=1):
            what = "New Circuit.c" if node == 1 else f"New Vsource.v{node}"
            inside = f"R1={resistance_ohm!r} X1={reactance_ohm!r} R0={resistance_ohm!r} X0={reactance_ohm!r}"
            self.do(f"{what} phases=1 bus1=s.{node} basekv={volts / 1000!r} pu=1 angle={angle!r} {inside}")

    @staticmethod
    def do(command: str) -> None:
        dss.Text.Command(command)

    def resistor(self, one: str, other: str, ohm: float, reactance: float = 0.0) -> str:
        name = f"r{next(self.names)}"
        self.do(f"New Reactor.{name} phases=1 bus1={one} bus2={other} R={ohm!r} X={reactance!r}")
        self.ends[name] = (one, other)
        return name

    def three_phase(self, ends: list[str], ohm: float, inside: str) -> list[str]:
        """Three equal resistances: of `ohm` in delta, a third of it to a wye point in wye."""
        if inside == "delta":
            return [self.resistor(ends[leg], ends[(leg + 1) % 3], ohm) for leg in range(3)]
        point = f"y{next(self.names)}.1"
        return [self.resistor(end, point, ohm / 3) for end in ends]

    def solve(self) -> None:
        self.do("Set tolerance=1e-12 maxiterations=100 controlmode=off")
        self.do("Solve")
        assert dss.Solution.Converged() and not dss.Error.Description()

    def amps(self, name: str) -> complex:
        """Current into the first end of an element."""
        dss.Circuit.SetActiveElement(f"Reactor.{name}")
        real, imaginary = dss.CktElement.Currents()[:2]
        return complex(real, imaginary)

    def volts(self, end: str) -> complex:
        if end.endswith(".0"):
            return 0j
        bus, node = end.rsplit(".", 1)
        dss.Circuit.SetActiveBus(bus)
        at = dss.Bus.Nodes().index(int(node))
        flat = dss.Bus.Voltages()
        return complex(flat[2 * at], flat[2 * at + 1])

    def across(self, name: str) -> float:
        one, other = self.ends[name]
        return abs(self.volts(one) - self.volts(other))

    def line_amps(self) -> tuple[float, float, float, float]:
        """Amps drawn from each line and given to the neutral, over all elements."""
        sums: dict[str, complex] = defaultdict(complex)
        for name, (one, other) in self.ends.items():
            sums[one] += self.amps(name)
            sums[other] -= self.amps(name)
        return tuple(abs(sums[end]) for end in ("s.1", "s.2", "s.3", "s.0"))


def connect(net: Network, made: BankDesign, given, start: int = 0, inside: str = "delta", left_out: tuple[int, ...] = ()) -> list[str]:
    """The heaters of a bank on the source's lines, as its panels' terminals say; returns the names of their resistances."""
    supply, circuits = given.supply, made.circuits_per_heater
    ohm = given.volts_v**2 / (1000.0 * given.power_kw) * circuits
    names, number = [], 0
    for panel, on in zip(groups(made), panel_starts(made, supply, start), strict=True):
        lines = 3 if supply.phases == 3 else 2
        node = {f"L{leg + 1}": f"s.{(leg + on) % lines + 1}" for leg in range(lines)} | {"N": "s.0"}
        points = {f"WP{wye}": f"p{next(net.names)}.1" for wye in range(1, 9)}
        for legs in panel.legs:
            ends = [(node | points)[part] for part in legs.split("-")]
            if number not in left_out:
                names += net.three_phase(ends, 3 * ohm, inside) if len(ends) == 3 else [net.resistor(*ends, ohm)]
            number += 1
    return names


CASES = {
    "delta of three": {"quantity": 3},
    "delta of ten over two panels": {"quantity": 10},
    "open delta": {"quantity": 2, "connection": "delta"},
    "two in parallel on one pair": {"quantity": 2},
    "six in parallel on one pair": {"quantity": 6, "connection": "parallel"},
    "3-phase heaters in delta inside": {"quantity": 5, "phases": 3},
    "3-phase heaters in two circuits each": {"quantity": 2, "phases": 3, "power_kw": 60.0},
    "wye with neutral, equal": {"quantity": 6, "volts_v": 277.0, "supply": WYE_480_4},
    "wye with neutral, unequal": {"quantity": 7, "volts_v": 277.0, "supply": WYE_480_4},
    "wye with neutral, over two panels": {"quantity": 11, "volts_v": 277.0, "supply": WYE_480_4},
    "on one leg": {"quantity": 2, "volts_v": 277.0, "supply": WYE_480_4, "connection": "parallel"},
    "separate 3-heater wyes": {"quantity": 15, "volts_v": 277.0},
    "joined wye, equal": {"quantity": 6, "volts_v": 277.0, "connection": "common-point wye"},
    "joined wye, 2 + 1 + 1": {"quantity": 4, "volts_v": 277.0, "connection": "common-point wye"},
    "joined wye, two panels of unequal stars": {"quantity": 15, "volts_v": 277.0, "connection": "common-point wye"},
    "joined wye of two": {"quantity": 2, "volts_v": 277.0, "connection": "common-point wye"},
    "440 V heaters in delta on 480 V": {"quantity": 4, "volts_v": 440.0},
    "480 V heaters on 440 V, 3-phase": {"quantity": 3, "phases": 3, "supply": Supply(440.0, 3, System.DELTA)},
    "230 V heaters in wye on 380 V": {"quantity": 5, "volts_v": 230.0, "supply": Supply(380.0, 4, System.WYE_GROUNDED)},
    "1-phase line to line": {"quantity": 4, "supply": ONE_PHASE},
    "1-phase 3-wire, dealt": {"quantity": 5, "volts_v": 120.0, "supply": THREE_WIRE, "power_kw": 1.5},
    "1-phase 3-wire, line to line": {"quantity": 2, "volts_v": 240.0, "supply": THREE_WIRE},
    "1-phase line to neutral": {"quantity": 3, "volts_v": 277.0, "supply": LEG, "power_kw": 3.0},
}


def starts_of(case: str) -> range:
    supply = design(**CASES[case]).supply
    return range(3 if supply.phases == 3 else 2 if supply.system == "1-phase 3-wire" else 1)


@pytest.mark.parametrize(("case", "start"), [(case, start) for case in CASES for start in starts_of(case)])
def test_line_and_neutral_currents(case: str, start: int) -> None:
    """Running currents of a bank on every start that it can have: 1e-8 relative of the maximum. Within 2 % of their rating heaters are
    taken at their nameplate's amps; the network knows only their ohms."""
    given = design(**CASES[case])
    made = sized(**CASES[case])
    net = Network(given.supply)
    connect(net, made, given, start)
    net.solve()
    by_ohms = made.heater_a * made.applied_v / given.volts_v / made.running_a
    assert by_ohms == pytest.approx(1.0, abs=0.02)
    running = bank_loads(made, given.supply, panel_starts(made, given.supply, start))[1].times(by_ohms)
    ours = line_currents(running, given.supply.system)
    solved = net.line_amps()
    assert max(ours) > 1
    for mine, theirs in zip(ours, solved, strict=True):
        assert mine == pytest.approx(theirs, rel=1e-8, abs=1e-8 * max(solved))


@pytest.mark.parametrize("case", [case for case in CASES if CASES[case].get("phases") == 3])
def test_a_three_phase_heater_draws_the_same_in_wye_inside(case: str) -> None:
    given, made = design(**CASES[case]), sized(**CASES[case])
    net = Network(given.supply)
    connect(net, made, given, inside="wye")
    net.solve()
    ours = line_currents(bank_loads(made, given.supply, panel_starts(made, given.supply, 0))[1], given.supply.system)
    assert ours[:3] == pytest.approx(net.line_amps()[:3], rel=1e-8)


@pytest.mark.parametrize("case", CASES)
def test_delivered_power_and_applied_volts(case: str) -> None:
    """Power of the solved network against kW delivered, and the maximum heater volts against applied volts.

    Within the same nominal voltage (2 %) the rating itself is taken as delivered: then only to that band, squared."""
    given, made = design(**CASES[case]), sized(**CASES[case])
    net = Network(given.supply)
    names = connect(net, made, given)
    net.solve()
    power = sum(abs(net.amps(name)) * net.across(name) for name in names) / 1000
    assert made.applied_v == pytest.approx(max(net.across(name) for name in names), rel=1e-8)
    even = len({round(net.across(name), 3) for name in names}) == 1
    nominal = abs(made.applied_v / given.volts_v - 1) <= 0.02 and even
    assert made.delivered_kw == pytest.approx(power, rel=0.0405 if nominal else 1e-8)


def test_unequal_legs_of_every_sort_at_once() -> None:
    """All six sums different: no symmetry left to hide a wrong sign."""
    loads = Loads(31.0, 7.0, 13.0, 5.0, 23.0, 11.0)
    net = Network(WYE_480_4)
    for leg, amps in enumerate(loads[:3]):
        net.resistor(f"s.{leg + 1}", f"s.{(leg + 1) % 3 + 1}", 480.0 / amps)
    for leg, amps in enumerate(loads[3:]):
        net.resistor(f"s.{leg + 1}", "s.0", LEG_V / amps)
    net.solve()
    assert tuple(line_currents(loads, WYE_480_4.system)) == pytest.approx(net.line_amps(), rel=1e-8)
    turned = line_currents(rotated(loads, 1, WYE_480_4.system), WYE_480_4.system)
    assert (turned.b, turned.c, turned.a) == pytest.approx(net.line_amps()[:3], rel=1e-8)


@pytest.mark.parametrize("siemens", [(0.01, 0.01, 0.01), (0.03, 0.01, 0.02), (0.02, 0.0, 0.01), (0.05, 0.001, 0.001)])
def test_leg_volts_of_a_ungrounded_wye(siemens: tuple[float, float, float]) -> None:
    net = Network(WYE_480)
    names = [net.resistor(f"s.{leg + 1}", "p.1", 1 / g) for leg, g in enumerate(siemens) if g]
    net.solve()
    wye = ungrounded_wye(siemens, 480.0)
    assert [volts for volts, g in zip(wye.leg_volts, siemens, strict=True) if g] == pytest.approx([net.across(n) for n in names], rel=1e-8)
    assert tuple(line_currents(wye.loads, WYE_480.system))[:3] == pytest.approx(net.line_amps()[:3], rel=1e-8)


@pytest.mark.parametrize("quantity", [3, 4, 5, 6, 8, 9])
def test_joined_star_with_one_branch_open(quantity: int) -> None:
    """The maximum volts that any heater sees when one branch has opened, each branch opened in turn."""
    given = {"quantity": quantity, "volts_v": 277.0, "connection": "common-point wye", "branches_per_panel": 9}
    made = sized(**given)
    worst = 0.0
    for opened in range(quantity):
        net = Network(WYE_480)
        names = connect(net, made, design(**given), left_out=(opened,))
        net.solve()
        worst = max(worst, *(net.across(name) for name in names))
    assert made.open_branch_pct == pytest.approx(100 * worst / 277.0, rel=1e-8)
    if quantity % 3 == 0 and quantity > 3:
        m = quantity // 3
        assert worst == pytest.approx(LEG_V * 3 * m / (3 * m - 1), rel=1e-8)


def test_star_of_three_with_one_branch_open() -> None:
    given = {"quantity": 6, "volts_v": 277.0}
    net = Network(WYE_480)
    names = connect(net, sized(**given), design(**given), left_out=(1,))
    net.solve()
    in_series = sorted(net.across(name) for name in names)[:2]
    assert in_series == pytest.approx([240.0, 240.0], rel=1e-8)
    assert sized(**given).open_branch_pct == pytest.approx(100 * 240 / 277)


# A whole feeder

MIXED = [
    {"tank": "T-1", "quantity": 9, "power_kw": 6.0, "connection": None},
    {"tank": "T-2", "quantity": 7, "power_kw": 5.0, "connection": None},
    {"tank": "T-3", "quantity": 5, "power_kw": 3.0, "volts_v": LEG_V, "connection": None},
    {"tank": "T-4", "quantity": 2, "power_kw": 4.0, "connection": None},
    {"tank": "T-5", "quantity": 3, "power_kw": 15.0, "phases": 3, "connection": None},
    {"tank": "T-6", "quantity": 2, "power_kw": 45.0, "phases": 3, "circuits_per_heater": 2, "connection": None},
    {"tank": "T-7", "quantity": 4, "power_kw": 2.0, "volts_v": LEG_V, "connection": "common-point wye"},
]


WAY_M = 15.0  # from the distribution unit to each control panel


def whole_feeder(run_m: float = 120.0, way_m: float | None = None, **given: object):
    made = [bank(**one, heater_run_m=25.0, panel_feeder_run_m=40.0) for one in MIXED]
    tanks = [tank(tank=tag, distribution_run_m=way_m) for tag in dict.fromkeys(one.tank for one in made)]
    return size_job(job(made, feeder(wires=4, run_m=run_m, **given), tanks, project(on_drop="caution"))).projects[0]


def test_a_whole_feeder_with_mixed_banks() -> None:
    """Heaters at their rated volts: design and running amps are the same, and the feeder's amps are the network's."""
    result = whole_feeder()
    [row] = result.feeders
    net = Network(row.supply)
    for one in result.banks:
        given = design(**shape_of(one.bank), supply=row.supply)
        connect(net, one.design, given, one.start)
    net.solve()
    solved = net.line_amps()
    assert row.lines.n == pytest.approx(solved[3], rel=1e-8)
    # the common-point wye of 2 + 1 + 1 is over its rated volts on two legs, so its design amps are the true ones too
    assert tuple(row.lines) == pytest.approx(solved, rel=1e-8)


def shape_of(one) -> dict[str, object]:
    names = ("quantity", "power_kw", "volts_v", "phases", "connection", "circuits_per_heater")
    return {name: getattr(one, name) for name in names}


def wired(result):
    """The whole feeder with its conductors as resistances: feeder, ways, panel feeders, branches. The network, and each heater's ends."""
    [row] = result.feeders
    net, heaters = Network(row.supply), []

    def ohms(wires, length_m: float) -> float:
        return RULES.ac_resistance(wires.size, "copper", "PVC-80").value * length_m / 1000 / wires.sets

    def run(bus: str, nodes: str, wires, length_m: float) -> str:
        there = f"b{next(net.names)}"
        for node in nodes:
            net.resistor(f"{bus}.{node}", f"{there}.{node}", ohms(wires, length_m))
        return there

    end = run("s", "123", row.wires, 120.0)
    net.resistor("s.0", f"{end}.4", ohms(row.wires, 120.0))
    ways = {way.tank: run(end, "1234", way.wires, WAY_M) for way in row.end.ways}
    for one in result.banks:
        branch = ohms(one.design.branch.wires, 25.0 if one.design.panels else 25.0 + 40.0)  # direct: from the contactor
        ohm = one.bank.volts_v**2 / (1000 * one.bank.power_kw) * one.design.circuits_per_heater
        for panel, on in zip(groups(one.design), one.starts, strict=True):
            way = ways[one.bank.tank]
            bus = run(way, "1234", panel.panel_feeder_wires, 40.0) if one.design.panels else way
            node = {f"L{leg + 1}": f"{bus}.{(leg + on) % 3 + 1}" for leg in range(3)} | {"N": f"{bus}.4"}
            points = {f"WP{wye}": f"p{next(net.names)}.1" for wye in range(1, 4)}
            for legs in panel.legs:
                ends = []
                for part in legs.split("-"):
                    ends.append(f"h{next(net.names)}.1")
                    net.resistor((node | points)[part], ends[-1], branch)
                names = net.three_phase(ends, 3 * ohm, "delta") if len(ends) == 3 else [net.resistor(*ends, ohm)]
                heaters += [(one.bank.tank, name) for name in names]
    net.solve()
    return net, heaters


def test_drop_of_a_whole_feeder_is_never_less_than_the_solver_finds() -> None:
    """Ours is linear: full current through every run, in line with the volts, and the worst of each run added up. With fixed
    resistances the true current falls with the volts, so ours is above: by the drop itself, squared, and by what unequal lines differ."""
    result = whole_feeder(way_m=WAY_M)
    net, heaters = wired(result)
    job_rows = rows_of(result, "circuits")
    for one in result.banks:
        if one.design.connected is Connection.COMMON_POINT_WYE:
            continue  # its volts are not the nominal ones to begin with
        applied = one.design.applied_v
        worst = max(100 * (1 - net.across(name) / applied) for tank, name in heaters if tank == one.bank.tank)
        ours = max(row["total_drop_pct"] for row in job_rows if row["tank"] == one.bank.tank)
        assert 0.5 < worst <= ours + 1e-9
        assert ours <= 1.06 * worst, "more than the drop squared and the worst line of each run explain"


def rows_of(result, sheet: str) -> list[dict[str, object]]:
    return rows(JobResult(job([]), (result,), (), {}), sheet)


@pytest.mark.parametrize("scale", [1.0, 0.1, 0.01])
def test_drop_formula_of_unequal_lines(scale: float) -> None:
    """Volts at the end of a feeder with unequal pairs, legs and a neutral of its own resistance. The formula takes the drop in line with
    each pair's volts at full current; the rest is of second order: within 1.5 times the drop squared, and ever closer as it falls."""
    loads, line_ohm, neutral_ohm = Loads(60.0, 20.0, 35.0, 25.0, 5.0, 15.0), 0.08 * scale, 0.13 * scale
    net = Network(WYE_480_4)
    for node in "123":
        net.resistor(f"s.{node}", f"e.{node}", line_ohm)
    net.resistor("s.0", "e.4", neutral_ohm)
    pairs = [net.resistor(f"e.{leg + 1}", f"e.{(leg + 1) % 3 + 1}", 480.0 / amps) for leg, amps in enumerate(loads[:3])]
    legs = [net.resistor(f"e.{leg + 1}", "e.4", LEG_V / amps) for leg, amps in enumerate(loads[3:])]
    net.solve()
    true = max(*(1 - net.across(name) / 480 for name in pairs), *(1 - net.across(name) / LEG_V for name in legs))
    ours = drop_share(loads, WYE_480_4.system, WYE_480_4.volts_v, line_ohm, neutral_ohm)
    assert true > 0.0001
    assert abs(ours - true) <= 1.5 * ours**2
    assert ours >= true


@pytest.mark.parametrize(
    ("supply", "loads"),
    [(ONE_PHASE, Loads(x=40.0)), (LEG, Loads(a=30.0)), (THREE_WIRE, Loads(x=20.0, a=35.0, b=10.0))],
    ids=["line to line", "line to neutral", "3-wire"],
)
def test_drop_formula_of_one_phase(supply: Supply, loads: Loads) -> None:
    line_ohm, neutral_ohm = 0.05, 0.07
    net = Network(supply)
    net.resistor("s.1", "e.1", line_ohm)
    leg_v = supply.volts_v if supply is LEG else supply.volts_v / 2
    if supply is not LEG:
        net.resistor("s.2", "e.2", line_ohm)
    net.resistor("s.0", "e.4", neutral_ohm)
    heaters = []
    if loads.x:
        heaters.append((net.resistor("e.1", "e.2", supply.volts_v / loads.x), supply.volts_v))
    for node, amps in ((1, loads.a), (2, loads.b)):
        if amps:
            heaters.append((net.resistor(f"e.{node}", "e.4", leg_v / amps), leg_v))
    net.solve()
    true = max(1 - net.across(name) / rated for name, rated in heaters)
    ours = drop_share(loads, supply.system, supply.volts_v, line_ohm, neutral_ohm)
    assert 0 <= ours - true <= 1.5 * ours**2


def test_three_phase_fault_behind_feeder_and_panel_feed() -> None:
    """A bolted three-phase fault at a panel: the solver's for a source all reactance and one all resistance; ours is the greater."""
    result = whole_feeder(fault_ka=22.0)
    [row] = result.feeders
    one = next(one for one in result.banks if one.bank.tank == "T-1")
    panel = one.panels[0]
    runs = ((row.wires, 120.0), (panel.design.panel_feeder_wires, 40.0))
    solved = []
    for resistive in (True, False):
        source = 480.0 / ROOT3 / 22000.0
        net = Network(WYE_480, *((1e-12, source) if resistive else (source, 1e-12)))
        r = sum(0.838 * RULES.ac_resistance(w.size, "copper", "PVC-80").value * length / 1000 / w.sets for w, length in runs)
        x = sum(RULES.ac_reactance(w.size, "PVC-80").value * length / 1000 / w.sets for w, length in runs)
        lines = [net.resistor(f"s.{node}", f"e.{node}", r, x) for node in (1, 2, 3)]
        for node in (1, 2, 3):
            net.do(f"New Fault.f{node} phases=1 bus1=e.{node} bus2=e.4 r=1e-12")
        net.solve()
        solved.append(abs(net.amps(lines[0])) / 1000)
    assert panel.fault_ka == pytest.approx(max(solved), rel=1e-6)
    assert max(solved) > 1.001 * min(solved), "the angle of the source must matter here, or the test cannot fail"
    assert row.fault_end_ka == pytest.approx(fault_behind_runs(22.0, row.supply, runs[:1], settings(), RULES))


def test_one_phase_fault_goes_out_and_back() -> None:
    wires = whole_feeder().banks[0].panels[0].design.panel_feeder_wires
    r, x = RULES.ac_resistance(wires.size, "copper", "PVC-80").value * 0.838, RULES.ac_reactance(wires.size, "PVC-80").value
    solved = []
    for resistive in (True, False):
        source = 480.0 / 10000.0 / 2  # half behind each line
        net = Network(ONE_PHASE, *((1e-12, source) if resistive else (source, 1e-12)))
        line = net.resistor("s.1", "e.1", r * 0.05, x * 0.05)
        net.resistor("s.2", "e.2", r * 0.05, x * 0.05)
        net.do("New Fault.f1 phases=1 bus1=e.1 bus2=e.2 r=1e-12")
        net.solve()
        solved.append(abs(net.amps(line)) / 1000)
    assert fault_behind_runs(10.0, ONE_PHASE, ((wires, 50.0),), settings(), RULES) == pytest.approx(max(solved), rel=1e-6)


def test_the_solver_itself_finds_ohms_law() -> None:
    """That the network's answers are to be trusted at 1e-8: one 6 kW heater on 480 V draws 12.5 A, and phases stand 120 degrees apart."""
    net = Network(WYE_480)
    name = net.resistor("s.1", "s.2", 480**2 / 6000)
    net.solve()
    assert abs(net.amps(name)) == pytest.approx(12.5, rel=1e-9)
    assert cmath.phase(net.volts("s.1") - net.volts("s.2")) == pytest.approx(cmath.pi / 6, rel=1e-9)
