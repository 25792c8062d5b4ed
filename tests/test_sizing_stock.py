"""Choices from the estimator's own parts."""

from __future__ import annotations

import pytest

from batch.records import Part
from batch.rules import load
from batch.sizing.design import size_design
from batch.sizing.protection import Circuit, choose_rating
from batch.sizing.stock import Need, Stock
from batch.sizing.switching import Openings, choose_block
from tests.job_builder import RULES, WYE_480, codes, design, heard, part, settings

IEC = load("IEC 60364")
FUSE = Need("fuse", 15.625, 2, 480.0)


def fuse(rating: float, **given: object) -> Part:
    return part(**{"part": f"F-{rating:g}", "kind": "fuse", "rating_a": rating, "volts_v": 600.0, "sccr_ka": 200.0} | given)


def chosen(parts: list[Part], need: Need = FUSE) -> str | None:
    found = Stock(parts).choose(need, RULES)
    return found and found.part


@pytest.mark.parametrize(
    ("parts", "name"),
    [
        ([fuse(30), fuse(20), fuse(25)], "F-20"),
        ([fuse(15), fuse(15.625)], "F-15.625"),  # exactly what is needed
        ([fuse(15)], None),
        ([fuse(20, volts_v=250.0), fuse(25)], "F-25"),
        ([fuse(20, volts_v=480.0)], "F-20"),  # rated for just these volts
        ([fuse(20, volts_v=479.0)], None),
        ([fuse(20, volts_v=None)], None),  # unknown volts never serve
        ([fuse(20, rating_a=None)], None),
        ([fuse(20, part="dear", unit_price=9.0), fuse(20, part="cheap", unit_price=2.0)], "cheap"),
        ([fuse(20, part="weak", sccr_ka=10.0), fuse(20, part="strong")], "strong"),
        ([], None),
    ],
)
def test_the_smallest_that_serves(parts: list[Part], name: str | None) -> None:
    assert chosen(parts) == name


def test_one_that_withstands_the_fault_goes_before_a_smaller_one_that_does_not() -> None:
    parts = [fuse(20, sccr_ka=10.0), fuse(25, sccr_ka=100.0)]
    assert chosen(parts, FUSE._replace(fault_ka=22.0)) == "F-25"
    assert chosen(parts, FUSE._replace(fault_ka=5.0)) == "F-20"
    assert [chosen(parts, FUSE._replace(fault_ka=fault_ka)) for fault_ka in (10.0, 10.1)] == ["F-20", "F-25"]  # its own rating is enough


@pytest.mark.parametrize(
    ("kind", "poles", "need_poles", "serves"),
    [("breaker", 3, 2, False), ("breaker", 2, 2, True), ("contactor", 3, 2, True), ("contactor", 2, 3, False), ("fuse", 1, 3, True)],
)
def test_poles(kind: str, poles: int, need_poles: int, serves: bool) -> None:
    parts = [part(part="X", kind=kind, rating_a=60.0, volts_v=600.0, poles=poles)]
    assert (chosen(parts, Need(kind, 30.0, need_poles, 480.0)) is not None) is serves


@pytest.mark.parametrize(
    ("wire", "wires", "serves"), [("12", 2, True), ("14", 2, False), ("4", 2, True), ("3", 2, False), ("12", 3, False), ("", 2, True)]
)
def test_wire_range_and_wires_per_terminal(wire: str, wires: int, serves: bool) -> None:
    listed = part(part="C", kind="contactor", rating_a=60.0, volts_v=600.0, smallest_wire="#12", largest_wire="4 AWG", wires_per_terminal=2)
    assert (chosen([listed], Need("contactor", 30.0, 3, 480.0, wire, wires)) is not None) is serves


@pytest.mark.parametrize(("listed", "rating", "name"), [(20, 20, "F-20"), (25, 25, "F-25"), (30, 20, None), (100, 20, None)])
def test_a_stock_device_is_at_most_one_standard_size_above_what_serves(listed: float, rating: float, name: str | None) -> None:
    """A shop that keeps only 100 A fuses does not put a 6 kW heater behind one: a generic 20 A fuse, and the stock list lacks it."""
    found, remarks = heard(choose_rating, 15.625, Circuit("fuse", 2, WYE_480), settings(), RULES, Stock([fuse(listed)]))
    assert found.rating_a == rating and (found.part and found.part.part) == name
    said = {20: set(), 25: {"stock-rating-larger"}}
    assert codes(remarks) == said.get(listed, {"stock-none-serves"})


@pytest.mark.parametrize(
    ("listed", "device", "part_name", "said"),
    [
        (40, 40, "F-40", set()),
        (50, 40, None, {"stock-none-serves"}),  # two sizes above
        (45, 40, None, {"stock-none-serves"}),  # one size above, but no rating that several heaters may share
    ],
)
def test_a_stock_device_of_several_heaters_is_one_that_several_may_share(
    listed: float, device: float, part_name: str | None, said: set[str]
) -> None:
    """Three 8 kW in delta at 480 V: 28.868 A a line, 36.084 A with margin. 210.18 has 40 and 50 A and no 45 A between."""
    made = size_design(design(power_kw=8.0), RULES, Stock([fuse(listed)]))
    assert made.single_circuit is not None
    found = made.single_circuit.panel_feeder_device
    assert (found.rating_a, found.part or None) == (device, part_name)
    assert codes(made.remarks) & {"stock-rating-larger", "stock-none-serves"} == said


@pytest.mark.parametrize(
    ("holder", "fuse_a", "serves"),
    [
        (30, 15, True), (60, 15, False), (60, 35, True), (60, 70, False),
        (100, 70, True), (200, 70, False), (200, 110, True), (800, 700, True),
    ],
)
def test_a_fuse_holder_holds_fuses_of_its_own_size_alone(holder: float, fuse_a: float, serves: bool) -> None:
    """Bodies of UL 248 grow at 30, 60, 100, 200, 400 and 600 A: a 70 A fuse does not reach the clips of a 200 A switch."""
    listed = part(part="H", kind="fuse holder", rating_a=holder, volts_v=600.0, poles=3)
    assert (chosen([listed], Need("fuse holder", fuse_a, 3, 480.0)) is not None) is serves


def test_a_fuse_base_of_the_iec_takes_links_below_its_rating() -> None:
    listed = part(part="H", kind="fuse holder", rating_a=160.0, volts_v=690.0, poles=3)
    assert Stock([listed]).choose(Need("fuse holder", 63.0, 3, 400.0), IEC)


def test_a_panel_from_stock() -> None:
    """6 x 6 kW in delta: 43.3 A a line, 54.1 A with margin, a 60 A feed: its block, contactor, fuses and holders are the shop's."""
    stock = Stock(
        [
            fuse(20), fuse(60),
            part(part="C-50", kind="contactor", rating_a=50.0, volts_v=600.0, poles=3, wires_per_terminal=1),
            part(part="PDB", kind="power distribution block", rating_a=175.0, volts_v=600.0, poles=3, sccr_ka=100.0, wires_per_terminal=6),
            part(part="FH", kind="fuse holder", rating_a=30.0, volts_v=600.0, poles=2, sccr_ka=200.0),
        ]
    )  # fmt: skip
    made = size_design(design(quantity=6), RULES, stock)
    [panel] = made.panels
    assert (panel.branch.device.part, panel.panel_feeder_device.part) == ("F-20", "F-60")
    assert panel.contactor.startswith("C-50") and panel.block.startswith("PDB")
    assert (panel.sccr_ka, panel.sccr_part, panel.sccr_from_stock) == (100.0, "PDB", True)
    assert (panel.switch_ka, panel.switch_part, panel.switch_from_stock) == (5.0, "unmarked contactor", False)
    assert "wires on a contactor terminal that takes 1" in made.panel_why


@pytest.mark.parametrize(("openings", "serves"), [(1, False), (2, True)])
def test_a_block_has_an_opening_for_each_set_of_its_feeder(openings: int, serves: bool) -> None:
    """Two sets of 1/0 come in and one branch goes out: two openings a pole are needed, on the line side."""
    stock = Stock([part(part="PDB", kind="power distribution block", rating_a=400.0, volts_v=600.0, poles=3, wires_per_terminal=openings)])
    wanted = {"openings": Openings("1/0", 2, "10", 1), "fault_ka": None, "rules": RULES, "stock": stock}
    made, said = heard(choose_block, 300, 3, 480.0, **wanted)
    assert (made.part is not None) is serves and ("stock-none-serves" in codes(said)) is not serves


def test_one_wire_a_terminal_by_its_maker_asks_for_a_panel() -> None:
    stock = Stock([part(part="C-50", kind="contactor", rating_a=50.0, volts_v=600.0, poles=3, wires_per_terminal=1)])
    assert size_design(design(quantity=3), RULES, stock).panels
    assert size_design(design(quantity=3), RULES).single_circuit
