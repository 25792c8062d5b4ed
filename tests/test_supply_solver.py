"""Sources against OpenDSS: lines of a shared source, windings of a delta, faults at the source and behind conductors, of every kind."""

from __future__ import annotations

from math import sqrt

import pytest

from batch.findings import Remarks
from batch.method.line_currents import Loads
from batch.method.source_fault import line_fault
from batch.method.source_load import winding_currents
from batch.records import Supply
from batch.results import Wires
from batch.sizing.sources import fault_at, known_source
from batch.systems import System
from tests.job_builder import RULES, WYE_480, bank, settings
from tests.test_solver import Network, dss
from tests.test_supply_examples import hung, sized, source


def test_lines_of_a_source_that_three_feeders_share() -> None:
    """Each heater is a resistance of its own in the solver's network; one feeder is 1-phase, on B-C."""
    banks = [
        bank(feeder="F1", quantity=4, power_kw=9.0, phases=3, connection=None),
        bank(feeder="F2", tank="T-2", quantity=5, phase_pair="A-B"),
        bank(feeder="F3", tank="T-3", quantity=3, connection="parallel"),
    ]
    feeders = [hung("F1"), hung("F2"), hung("F3", phases=1, wires=2, system=None, phase_pair="B-C")]
    [row] = sized(source(kva=300.0, z_pct=5.0), banks, feeders).sources
    net = Network(WYE_480)
    each = 480.0**2 / 6000.0
    for _ in range(4):
        net.three_phase(["s.1", "s.2", "s.3"], 480.0**2 / 3000.0, "delta")
    for at in range(5):
        net.resistor(f"s.{at % 3 + 1}", f"s.{(at + 1) % 3 + 1}", each)
    for _ in range(3):
        net.resistor("s.2", "s.3", each)
    net.solve()
    assert row.lines[:3] == pytest.approx(net.line_amps()[:3], abs=1e-4)
    assert max(row.lines[:3]) > 1.1 * min(row.lines[:3]), "lines must differ, or the pairs are not put to the test"


@pytest.mark.parametrize("loads", [Loads(x=125.0), Loads(x=125.0, y=31.25), Loads(x=20.0, y=70.0, z=45.0)])
def test_windings_of_a_delta(loads: Loads) -> None:
    """Three equal windings in a delta, each a source behind a small impedance of its own."""
    net = Network(WYE_480)
    net.do("Clear")
    for at, angle in enumerate((0.0, -120.0, 120.0)):
        what = "New Circuit.c" if at == 0 else f"New Vsource.v{at}"
        net.do(f"{what} phases=1 bus1=s.{at + 1} bus2=s.{(at + 1) % 3 + 1} basekv=0.48 pu=1 angle={angle} R1=1e-5 X1=1e-4 R0=1e-5 X0=1e-4")
    net.resistor("s.1", "s.0", 1e5)  # a delta floats; something has to hold it
    for at, amps in enumerate(loads[:3]):
        if amps:
            net.resistor(f"s.{at + 1}", f"s.{(at + 1) % 3 + 1}", 480.0 / amps)
    net.solve()
    found = []
    for name in ("source", "v1", "v2"):
        dss.Circuit.SetActiveElement(f"Vsource.{name}")
        real, imaginary = dss.CktElement.Currents()[:2]
        found.append(abs(complex(real, imaginary)))
    assert winding_currents(loads) == pytest.approx(found, rel=2e-3)


def test_a_center_tapped_unit_as_three_windings() -> None:
    """50 kVA, 2.4 % less its tolerance, X/R 1.5: R in halves 0.5, 1, 1; X 1.2 from the primary to each half, 0.8 between the halves."""
    percent = 0.9 * 2.4
    resistance = percent / sqrt(1 + 1.5**2)
    reactance = 1.5 * resistance
    known = known_source(
        source(kva=50.0, z_pct=2.4, volts_v=240.0, phases=1, wires=3, system="1-phase 3-wire", unit_x_over_r=1.5), RULES, Remarks()
    )
    two_lines = Supply(240.0, 2, System.LINE_TO_LINE)
    ours = {
        "s.0": fault_at(known, known.supply, (), settings(), RULES),
        "s.2": fault_at(known._replace(supply=two_lines), two_lines, (), settings(), RULES),
    }
    for other, kilo in ours.items():
        net = Network(WYE_480)
        net.do("Clear")
        net.do("New Circuit.c phases=1 bus1=p.1 basekv=7.2 pu=1 R1=1e-9 X1=1e-9 R0=1e-9 X0=1e-9")
        net.do(
            f"New Transformer.t phases=1 windings=3 buses=[p.1 s.1.0 s.0.2] kVs=[7.2 0.12 0.12] kVAs=[50 50 50] "
            f"%Rs=[{0.5 * resistance} {resistance} {resistance}] XHL={1.2 * reactance} XHT={1.2 * reactance} XLT={0.8 * reactance} %imag=0 "
            "%noloadloss=0 ppm_antifloat=0"
        )
        shorted = net.resistor("s.1", other, 1e-7)
        net.solve()
        assert abs(net.amps(shorted)) / 1000.0 == pytest.approx(kilo, rel=2e-3), other


@pytest.mark.parametrize("mva", [None, 40.0])
def test_a_high_leg_delta_to_ground(mva: float | None) -> None:
    """150 kVA, 3 % less its tolerance, X/R 3, as three units of 50 kVA, the one between C and A tapped; line A to ground. With a primary
    that is not unlimited ours is no less: half of a line of it counts."""
    ratio = 3.0
    given = {"kva": 150.0, "z_pct": 3.0, "volts_v": 240.0, "wires": 4, "system": "high-leg delta", "unit_x_over_r": ratio}
    given |= {"primary_v": 12470.0, "primary_mva": mva, "primary_x_over_r": 10.0}
    known = known_source(source(**given), RULES, Remarks())
    ours = fault_at(known, known.supply, (), settings(), RULES)
    resistance = 0.9 * 3.0 / sqrt(1 + ratio**2)
    reactance = ratio * resistance
    net = Network(WYE_480)
    net.do("Clear")
    ohm = 1e-6 if mva is None else 12.47**2 / mva / sqrt(101.0)
    net.do(f"New Circuit.c phases=3 bus1=p basekv=12.47 pu=1 R1={ohm} X1={10 * ohm} R0={ohm} X0={10 * ohm}")
    lost = "%imag=0 %noloadloss=0 ppm_antifloat=0"
    for name, ends in (("a", "p.1.2 s.1.2"), ("b", "p.2.3 s.2.3")):
        net.do(
            f"New Transformer.{name} phases=1 windings=2 buses=[{ends}] kVs=[12.47 0.24] kVAs=[50 50] "
            f"%Rs=[{resistance / 2} {resistance / 2}] XHL={reactance} {lost}"
        )
    net.do(
        f"New Transformer.c phases=1 windings=3 buses=[p.3.1 s.3.0 s.0.1] kVs=[12.47 0.12 0.12] kVAs=[50 50 50] "
        f"%Rs=[{0.5 * resistance} {resistance} {resistance}] XHL={1.2 * reactance} XHT={1.2 * reactance} XLT={0.8 * reactance} {lost}"
    )
    shorted = net.resistor("s.1", "s.0", 1e-7)
    net.solve()
    found = abs(net.amps(shorted)) / 1000.0
    assert ours == pytest.approx(found, rel=3e-3) if mva is None else found <= ours * 1.003 < 1.05 * found
    assert ours > 1.1 * line_fault(known.fault.impedance, 240.0, 3) / 1000.0


def test_a_wye_to_neutral_behind_its_primary() -> None:
    """1000 kVA, 5.75 %, delta to wye, behind 250 MVA, X/R 6 and 10: no zero sequence of the primary comes through the delta."""
    given = {"kva": 1000.0, "z_pct": 5.75, "primary_v": 12470.0, "primary_mva": 250.0, "unit_x_over_r": 6.0, "primary_x_over_r": 10.0}
    known = known_source(source(**given), RULES, Remarks())
    ours = fault_at(known, known.supply, (), settings(), RULES)
    net = Network(WYE_480)
    net.do("Clear")
    primary = 12.47**2 / 250.0
    ohm = primary / sqrt(101.0)
    inside = f"R1={ohm} X1={10 * ohm} R0={ohm} X0={10 * ohm}"
    net.do(f"New Circuit.c phases=3 bus1=p basekv=12.47 pu=1 {inside}")
    unit = 0.9 * 5.75
    resistance = unit / sqrt(37.0)
    net.do(
        f"New Transformer.t phases=3 windings=2 buses=[p s.1.2.3.0] conns=[delta wye] kVs=[12.47 0.48] kVAs=[1000 1000] "
        f"%Rs=[{resistance / 2} {resistance / 2}] XHL={6 * resistance} %imag=0 %noloadloss=0 ppm_antifloat=0"
    )
    shorted = net.resistor("s.1", "s.0", 1e-7)
    net.solve()
    assert abs(net.amps(shorted)) / 1000.0 == pytest.approx(ours, rel=2e-3)


# Behind conductors: NFPA 70-2023, Chapter 9, Table 9 in PVC, ohm per 1000 ft; resistance at 25 °C 0.838 of that at 75 °C

TABLE_9 = {"3/0": (0.077, 0.042), "3": (0.25, 0.047), "4/0": (0.062, 0.041)}
UNIT = {"kva": 1000.0, "z_pct": 5.75, "primary_v": 12470.0, "primary_mva": 250.0, "unit_x_over_r": 6.0, "primary_x_over_r": 10.0}
FEEDER, PANEL_FEEDER = ("3/0", 25.0), ("3", 15.0)


def one_way(run: tuple[str, float]) -> complex:
    """Ohms of one conductor of a run of that size and metres, out of the table's ohms per 1000 ft of 0.3048 m."""
    resistance, reactance = TABLE_9[run[0]]
    return complex(0.838 * resistance, reactance) * run[1] / 304.8


def wires(run: tuple[str, float], neutral: bool = True) -> tuple[Wires, float]:
    return Wires(run[0], 1, 3, run[0] if neutral else "", "8", "copper", "THWN-2", "", run[0], "", None), run[1]


def behind_a_unit(runs: list[tuple[str, float]]) -> Network:
    """1000 kVA, 5.75 %, delta to wye, behind 250 MVA; three lines and a return of the runs' conductors to bus e."""
    net = Network(WYE_480)
    net.do("Clear")
    primary = 12.47**2 / 250.0 / sqrt(101.0)
    net.do(f"New Circuit.c phases=3 bus1=p basekv=12.47 pu=1 R1={primary} X1={10 * primary} R0={primary} X0={10 * primary}")
    unit = 0.9 * 5.75 / sqrt(37.0)
    net.do(
        f"New Transformer.t phases=3 windings=2 buses=[p s.1.2.3.0] conns=[delta wye] kVs=[12.47 0.48] kVAs=[1000 1000] "
        f"%Rs=[{unit / 2} {unit / 2}] XHL={6 * unit} %imag=0 %noloadloss=0 ppm_antifloat=0"
    )
    ohms = sum(map(one_way, runs))
    for node, back in ((1, "s.1"), (2, "s.2"), (3, "s.3"), (4, "s.0")):
        net.resistor(back, f"e.{node}", ohms.real, ohms.imag)
    return net


@pytest.mark.parametrize("runs", [[FEEDER], [FEEDER, PANEL_FEEDER]])
@pytest.mark.parametrize(
    ("kind", "ends", "supply", "system"),
    [
        ("three lines", [("e.1", "e.2"), ("e.2", "e.3"), ("e.3", "e.1")], Supply(480.0, 3, System.DELTA), "delta"),
        ("two lines", [("e.1", "e.2")], Supply(480.0, 2, System.LINE_TO_LINE), "delta"),
        ("to neutral", [("e.1", "e.4")], Supply(277.0, 2, System.LINE_TO_NEUTRAL), "wye grounded"),
    ],
)
def test_faults_behind_conductors(runs: list, kind: str, ends: list, supply: Supply, system: str) -> None:
    """Of a 1-phase feeder on two lines, or on a line and the neutral, of a 3-phase unit, and of all three lines."""
    known = known_source(source(**UNIT, system=system, wires=4 if system == "wye grounded" else 3), RULES, Remarks())
    ours = fault_at(known, supply, [wires(run) for run in runs], settings(), RULES)
    net = behind_a_unit(runs)
    shorted = [net.resistor(one, other, 1e-7) for one, other in ends]
    net.solve()
    solved = abs(net.amps(shorted[0])) * (sqrt(3.0) if len(shorted) == 3 else 1.0)
    assert solved / 1000.0 == pytest.approx(ours, rel=2e-3), kind


@pytest.mark.parametrize(("ends", "supply"), [
    (("e.1", "e.3"), Supply(240.0, 3, System.THREE_WIRE)), (("e.1", "e.2"), Supply(240.0, 2, System.LINE_TO_LINE)),
])  # fmt: skip
def test_a_center_tapped_unit_behind_conductors(ends: tuple[str, str], supply: Supply) -> None:
    """5 m of 4/0: to neutral through one line and the neutral, between lines through two."""
    percent = 0.9 * 2.4
    resistance = percent / sqrt(1 + 1.5**2)
    reactance = 1.5 * resistance
    known = known_source(
        source(kva=50.0, z_pct=2.4, volts_v=240.0, phases=1, wires=3, system="1-phase 3-wire", unit_x_over_r=1.5), RULES, Remarks()
    )
    run = ("4/0", 5.0)
    asked = known if supply.wires == 3 else known._replace(supply=supply)
    ours = fault_at(asked, supply, [wires(run)], settings(), RULES)
    net = Network(WYE_480)
    net.do("Clear")
    net.do("New Circuit.c phases=1 bus1=p.1 basekv=7.2 pu=1 R1=1e-9 X1=1e-9 R0=1e-9 X0=1e-9")
    net.do(
        f"New Transformer.t phases=1 windings=3 buses=[p.1 s.1.0 s.0.2] kVs=[7.2 0.12 0.12] kVAs=[50 50 50] "
        f"%Rs=[{0.5 * resistance} {resistance} {resistance}] XHL={1.2 * reactance} XHT={1.2 * reactance} XLT={0.8 * reactance} %imag=0 "
        "%noloadloss=0 ppm_antifloat=0"
    )
    ohms = one_way(run)
    for node, back in ((1, "s.1"), (2, "s.2"), (3, "s.0")):
        net.resistor(back, f"e.{node}", ohms.real, ohms.imag)
    shorted = net.resistor(*ends, 1e-7)
    net.solve()
    assert abs(net.amps(shorted)) / 1000.0 == pytest.approx(ours, rel=2e-3)


def test_unbalanced_loads_of_a_four_wire_source() -> None:
    """A feeder of line-to-line heaters, one of line-to-neutral heaters, and two 1-phase feeders, on a pair and on a leg."""
    banks = [
        bank(feeder="F1", quantity=4, phase_pair="C-A"),
        bank(feeder="F2", tank="T-2", quantity=5, power_kw=4.0, volts_v=480.0 / sqrt(3.0), connection="wye", phase_pair="B-N"),
        bank(feeder="F3", tank="T-3", quantity=2, connection="parallel"),
        bank(feeder="F4", tank="T-4", quantity=3, power_kw=3.0, volts_v=480.0 / sqrt(3.0), connection="parallel"),
    ]
    feeders = [
        hung("F1"), hung("F2", wires=4), hung("F3", phases=1, wires=2, system=None, phase_pair="A-B"),
        hung("F4", volts_v=480.0 / sqrt(3.0), phases=1, wires=2, system=None, phase_pair="C-N"),
    ]  # fmt: skip
    [row] = sized(source(kva=300.0, z_pct=5.0, wires=4), banks, feeders).sources
    net = Network(WYE_480)
    pair, leg = 480.0**2 / 6000.0, 480.0**2 / 3.0 / 4000.0
    for at in range(4):
        net.resistor(f"s.{(at + 2) % 3 + 1}", f"s.{at % 3 + 1}", pair)
    for at in range(5):
        net.resistor(f"s.{(at + 1) % 3 + 1}", "s.0", leg)
    for _ in range(2):
        net.resistor("s.1", "s.2", pair)
    for _ in range(3):
        net.resistor("s.3", "s.0", 480.0**2 / 3.0 / 3000.0)
    net.solve()
    assert [*row.lines] == pytest.approx(net.line_amps(), abs=1e-4) and row.lines.n > 5.0
