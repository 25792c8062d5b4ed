"""Take-off and prices: which stock line a thing is, what one price a part for the job is, and that nothing open counts as nought.

Figures are worked by hand beside each check; the prices are invented.
"""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from batch.price.job_costs import Owned, cost_job, typed_key
from batch.price.stock_prices import price_list, priced, used_quantities
from batch.records import Job, Part
from batch.results import Material
from batch.sizing.run_lines import BRANCH, NO_LENGTH
from batch.sizing.stock import Stock
from batch.sizing.take_off_parts import choose_enclosure, choose_heater, choose_raceway
from tests.job_builder import bank, feeder, part, project, size

HTR = {"kind": "heater", "power_kw": 6.0, "volts_v": 480.0, "phases": 1}


def line(part_name: str, quantity: float, unit: str = "ea", **more: object) -> Material:
    return Material("x", "x", part_name, "", quantity, unit, None, None, **more)


def one(material: Material, *stock: dict, currency: str | None = None) -> Material:
    [[row, *_]] = priced_together([((material,), currency)], [part(**each) for each in stock])
    return row


def priced_together(projects: list[tuple[tuple[Material, ...], str | None]], stock: list[Part]) -> list[tuple[Material, ...]]:
    """Lines of several projects of one job, each with its currency."""
    owned = [Owned(f"P-{at}", currency, None, lines, (), {}, ()) for at, (lines, currency) in enumerate(projects, 1)]
    return cost_job(Job("job.xlsx", "", stock=tuple(stock)), owned)[0]


@pytest.mark.parametrize(
    ("stock", "amount", "price"),
    [
        ({"unit_price": 182.0, "per_quantity": 1000.0, "per_unit": "ft"}, 250.0, 45.5),  # 250 ft of 182.00 for 1000 ft
        ({"unit_price": 60.0, "per_quantity": 100.0, "per_unit": "m"}, 76.2, 45.72),  # the same 76.2 m of 60.00 for 100 m
        ({"unit_price": 2.0, "per_unit": "ft"}, 250.0, 500.0),
        ({"unit_price": 182.0, "per_quantity": 1000.0}, None, None),  # per what length is not said: open
        ({"unit_price": 182.0, "per_unit": "ea"}, None, None),
        ({"unit_price": 0.0, "per_unit": "ft"}, 250.0, 0.0),  # a typed nought is nought
        ({"per_unit": "ft"}, 250.0, None),
    ],
)
def test_wire_by_length(stock: dict, amount: float | None, price: float | None) -> None:
    row = one(line("W", 76.2, "m", sold_by="ft"), {"part": "W", "kind": "wire"} | stock)
    assert row.amount == (amount and pytest.approx(amount)) and row.price == (price if not price else pytest.approx(price))


@pytest.mark.parametrize(("written", "found"), [("3/4", True), ("3/4 in", True), ('3/4"', True), ("1-3/4", False), ("3", False)])
def test_a_raceway_is_found_by_its_trade_size_with_the_unit_or_without(written: str, found: bool) -> None:
    stock = Stock((part(part="R", kind="raceway", size=written, insulation="PVC-80"),))
    assert choose_raceway("3/4 in PVC-80", stock) == ("R" if found else "")


def test_a_price_typed_for_a_raceway_of_a_former_version_is_its_price_still() -> None:
    """Former versions wrote its trade size without the unit; of other lines the words are as they stand."""
    assert typed_key("raceway", "1 PVC-80", "ft") == typed_key("raceway", "1 in PVC-80", "ft") != typed_key("raceway", "2 in PVC-80", "ft")
    assert typed_key("enclosure", "about 20 in wide", "ea") != typed_key("enclosure", "about 20 wide", "ea")


def test_a_run_without_a_length_is_open() -> None:
    row = one(line("W", 0.0, "m", sold_by="ft"), {"part": "W", "kind": "wire", "unit_price": 2.0, "per_unit": "ft"})
    assert row.amount is None and row.price is None


def test_a_set_of_four_is_priced_by_the_piece() -> None:
    assert one(line("L", 6), {"part": "L", "kind": "label", "unit_price": 11.0, "per_quantity": 4.0}).price == pytest.approx(16.5)


@pytest.mark.parametrize(("used", "price"), [(99, 9.6), (99.9999999, 8.35), (100, 8.35), (499, 8.35), (500, 7.0)])
def test_one_price_a_part_by_what_the_job_uses(used: float, price: float) -> None:
    stock = [{"part": "F", "kind": "fuse", "unit_price": 9.6}, {"part": "F", "kind": "fuse", "unit_price": 7.0, "from_quantity": 500.0},
             {"part": "F", "kind": "fuse", "unit_price": 8.35, "from_quantity": 100.0}]  # fmt: skip
    assert one(line("F", used), *stock).unit_price == price


def test_a_first_row_that_is_free_is_free() -> None:
    free = [{"part": "F", "kind": "label", "unit_price": 0.0}, {"part": "F", "kind": "label", "unit_price": 5.0, "from_quantity": 100.0}]
    assert one(line("F", 40), *free).price == 0.0 and one(line("F", 100), *free).price == pytest.approx(500.0)


def test_the_break_counts_all_projects() -> None:
    stock = [part(part="F", kind="fuse", unit_price=9.0), part(part="F", kind="fuse", unit_price=8.0, from_quantity=100.0)]
    [[first], [second]] = priced_together([((line("F", 60),), None), ((line("F", 40),), None)], stock)
    assert (first.unit_price, second.unit_price) == (8.0, 8.0)


@pytest.mark.parametrize(
    ("project_in", "part_in", "price"),
    [("USD", "USD", 2.0), ("USD", "usd ", 2.0), ("USD", "EUR", None), (None, "EUR", 2.0), ("USD", None, 2.0)],
)
def test_another_currency_stays_open(project_in: str | None, part_in: str | None, price: float | None) -> None:
    row = one(line("F", 1), {"part": "F", "kind": "fuse", "unit_price": 2.0, "currency": part_in}, currency=project_in)
    assert row.price == price and bool(row.why) is (price is None)


def test_two_currencies_never_add_up_in_a_project_that_names_none() -> None:
    stock = [{"part": "F", "kind": "fuse", "unit_price": 2.0, "currency": "EUR"}, {"part": "G", "kind": "fuse", "currency": "USD"}]
    row = one(line("F", 1), *stock)
    assert row.price is None and row.why


def test_hours_by_place() -> None:
    """A contactor takes shop hours, a heater field hours; a heater that has only shop hours takes those."""
    hours = {"labour_h": 0.4, "field_h": 0.8}
    assert one(line("C", 2), {"part": "C", "kind": "contactor"} | hours).hours == pytest.approx(0.8)
    assert one(line("H", 2), {"part": "H", "kind": "heater"} | hours).hours == pytest.approx(1.6)
    assert one(line("H", 2), {"part": "H", "kind": "heater", "labour_h": 0.4}).hours == pytest.approx(0.8)


@pytest.mark.parametrize(
    ("listed", "asked", "name"),
    [
        ([HTR | {"part": "A"}], {}, "A"),
        ([HTR | {"part": "A", "phases": 3}], {}, ""),
        ([HTR | {"part": "A", "volts_v": 460.0}], {}, ""),
        ([HTR | {"part": "A"}, HTR | {"part": "B"}], {}, ""),  # several: open
        ([HTR | {"part": "A", "sheath": "titanium"}, HTR | {"part": "B", "sheath": "Steel"}], {"sheath": "steel"}, "B"),
        ([HTR | {"part": "A", "sheath": "titanium"}], {}, ""),  # the list does not say its sheath: not guessed
        ([HTR | {"part": "A", "heated_length_mm": 1000.0}], {"heated_length_mm": 1009.0}, "A"),
        ([HTR | {"part": "A", "heated_length_mm": 1000.0}], {"heated_length_mm": 1011.0}, ""),
        ([HTR | {"part": "A"}, HTR | {"part": "B"}], {"heater_part": "B"}, "B"),
        ([HTR | {"part": "A"}, HTR | {"part": "A", "from_quantity": 10.0}], {}, "A"),  # a price break is no second part
    ],
)
def test_the_stock_line_of_a_heater(listed: list[dict], asked: dict, name: str) -> None:
    found = choose_heater(bank(**asked), Stock([part(**each) for each in listed]))
    assert found.part == name


@pytest.mark.parametrize(
    ("branches", "amps", "name"),
    [(1, 30, "E1"), (2, 30, "E4"), (4, 60, "E4"), (4, 70, "E8"), (8, 100, "E8"), (9, 30, ""), (4, 101, "")],
)
def test_the_smallest_enclosure_for_branches_and_rating(branches: int, amps: float, name: str) -> None:
    rows = [("E8", 8, 100.0), ("E4", 4, 60.0), ("E1", 1, 60.0)]
    stock = Stock([part(part=of, kind="enclosure", branches_at_most=most, rating_a=rating) for of, most, rating in rows])
    assert choose_enclosure(branches, amps, stock) == name


def test_every_heater_of_the_list_is_a_line_and_runs_without_length_are_open() -> None:
    result = size([bank(quantity=3), bank(tank="T-2", quantity=6, heater_run_m=None)])
    lines = result.projects[0].materials
    assert sum(row.quantity for row in lines if row.role == "heater") == 9
    open_runs = [row for row in lines if row.why == NO_LENGTH and row.stretch.kind == BRANCH]
    assert {row.owner.tank for row in open_runs} == {"T-2"} and all(row.status == "open" for row in open_runs)
    assert {row.role for row in open_runs} == {"conductor", "grounding conductor", "raceway"}
    assert all(row.price is None for row in open_runs)


def test_a_feeder_device_from_stock_withstands_the_fault() -> None:
    """3 x 6 kW in delta: 21.65 A, 27.06 A with 25 %: a 30 A feeder fuse. One marked 2 kA does not go where 4 kA are available."""
    fuse = {"part": "F-30", "kind": "fuse", "rating_a": 30.0, "volts_v": 600.0}
    for sccr, name in ((200.0, "F-30"), (2.0, ""), (None, "")):
        result = size(bank(), feeder(fault_ka=4.0), stock=[part(**fuse, sccr_ka=sccr)], projects=project())
        [row] = [row for row in result.projects[0].materials if row.role == "feeder fuse"]
        assert row.part == name and row.quantity == 3


@given(st.lists(st.one_of(st.none(), st.floats(0, 1e4)), min_size=1, max_size=8), st.randoms(use_true_random=False))
def test_blanks_are_never_in_a_sum_and_order_is_nothing(prices: list[float | None], shuffle) -> None:
    stock = [part(part=f"P{at}", kind="other", unit_price=price) for at, price in enumerate(prices)]
    listed = price_list(stock)
    lines = [line(f"P{at}", 2) for at in range(len(prices))]
    used = used_quantities(lines, listed)
    whole = [priced(each, listed, used, None).price for each in lines]
    assert [price is None for price in whole] == [price is None for price in prices]
    assert [price for price in whole if price is not None] == [pytest.approx(2 * price) for price in prices if price is not None]
    mixed = list(stock)
    shuffle.shuffle(mixed)
    assert [priced(each, price_list(mixed), used, None).price for each in lines] == whole
