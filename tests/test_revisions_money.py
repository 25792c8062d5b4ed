"""Money of two revisions by its causes: worked by hand on the small sample, and adding up. All prices are invented."""

from __future__ import annotations

import re
from collections.abc import Callable
from decimal import Decimal
from pathlib import Path

import openpyxl
import pytest

import batch
from batch.comparing.changeset import Comparison
from batch.comparing.compare import compare_revisions
from batch.comparing.money_moves import BREAK, GONE, NEW, NO_PRICE_NOW, PRICED_NOW, QUANTITY, STEPS, UNIT_PRICE, WHOLE
from batch.comparing.pairing import confirmed
from batch.comparing.sentences import screen_text
from batch.price.cents import in_cents
from batch.reopening.reopen import open_revision
from tests.revision_jobs import bank, job, revision
from tests.samples import book, small

Tables = dict[str, list[dict[str, object]]]


def stock(each: float | None = 40.0, **more: object) -> dict[str, object]:
    return {"part": "C-50", "kind": "contactor", "rating_a": 50.0, "volts_v": 600.0, "poles": 3, "unit_price": each, **more}


def compared(before: list[dict[str, object]], after: list[dict[str, object]], banks: tuple[int, int]) -> Comparison:
    """Banks of six heaters, one contactor for each of them; nothing else has a price."""
    old, new = (
        revision(job(heaters=[bank(f"T-{at}", "A") for at in range(count)], stock=rows))
        for rows, count in zip((before, after), banks, strict=True)
    )
    return compare_revisions(old, new)


def causes(one: Comparison) -> dict[str, float]:
    return {move.cause: pytest.approx(move.moved) for move in one.moves}


@pytest.mark.parametrize(
    ("before", "after", "banks", "want"),
    [
        ([stock()], [stock(45.0)], (2, 2), {UNIT_PRICE: 10.0}),  # 2 x 5
        ([stock()], [stock()], (2, 3), {QUANTITY: 40.0}),  # 1 x 40
        ([stock()], [stock(45.0)], (2, 3), {QUANTITY: 40.0, UNIT_PRICE: 15.0}),  # 1 x 40, 3 x 5: 135 - 80 = 55
        ([stock()], [stock(45.0)], (3, 2), {QUANTITY: -40.0, UNIT_PRICE: 10.0}),
        ([stock(), stock(36.0, from_quantity=3)], [stock(), stock(36.0, from_quantity=3)], (2, 3),
         {QUANTITY: 40.0, BREAK: -12.0}),  # 3 x 36 - 2 x 40 = 28
        ([stock(), stock(36.0, from_quantity=3)], [stock(), stock(39.0, from_quantity=3)], (2, 3),
         {QUANTITY: 40.0, BREAK: -12.0, UNIT_PRICE: 9.0}),  # 3 x 39 = 117
        ([stock(4000.0, per_quantity=100), stock(3600.0, per_quantity=100, from_quantity=3)],
         [stock(4000.0, per_quantity=100), stock(3600.0, per_quantity=100, from_quantity=3)], (2, 3), {QUANTITY: 40.0, BREAK: -12.0}),
        ([stock(None)], [stock()], (2, 2), {PRICED_NOW: 80.0}),
        ([stock()], [stock(None)], (2, 2), {NO_PRICE_NOW: -80.0}),
        ([stock()], [stock(part="C-51")], (2, 2), {NEW: 80.0, GONE: -80.0}),
        ([stock()], [stock()], (2, 2), {}),
    ],
)  # fmt: skip
def test_causes_worked_by_hand(
    before: list[dict[str, object]], after: list[dict[str, object]], banks: tuple[int, int], want: dict[str, float]
) -> None:
    made = compared(before, after, banks)
    assert {move.cause: move.moved for move in made.moves} == pytest.approx(want)
    assert all(check.passes for check in made.checks)
    price = next((figure for figure in made.figures if figure.key == "price"), None)
    if price is not None and price.difference is not None:
        assert price.difference == pytest.approx(sum(want.values()))


def test_a_part_that_is_known_by_another_name_is_the_same_part() -> None:
    """Two contactors at 40 and then at 45, under a number of their own by now: confirmed, and not."""
    old, new = (revision(job(heaters=[bank("T-0", "A"), bank("T-1", "A")], stock=[row])) for row in (stock(), stock(45.0, part="C-50A")))
    [rename] = confirmed(["C-50=C-50A"], old.lines, new.lines)
    made = compare_revisions(old, new, [rename])
    assert causes(made) == {UNIT_PRICE: 10.0} and all(check.passes for check in made.checks)
    [order] = [one for one in made.orders if one.table == "materials" and one.name == "C-50A"]
    assert (order.before, order.after, order.money) == (2, 2, 10.0)
    assert causes(compare_revisions(old, new)) == {NEW: 90.0, GONE: -80.0}


def _wire(unit: str, each: float, per: float, part: str = "W-12") -> dict[str, object]:
    words = {"part": part, "kind": "wire", "size": "12 AWG", "insulation": "THWN-2", "colour": "black", "field_h": 0.9}
    return {**words, "per_unit": unit, "per_quantity": per, "unit_price": each}


def test_a_part_that_is_bought_by_the_metre_and_no_longer_by_the_foot_is_the_same_part() -> None:
    """30 m of run a bank. 30.48 money per 100 ft is 1 a metre: at 100 a 100 m nothing moves; at 110 a tenth of it."""
    tables = [{**bank(f"T-{at}", "A", quantity=1), "heater_run_m": 30.0} for at in range(2)]
    rows = _wire("ft", 30.48, 100), _wire("m", 100.0, 100), _wire("m", 110.0, 100)
    old, same, dearer = (revision(job(heaters=tables, stock=[row])) for row in rows)
    assert compare_revisions(old, same).moves == ()
    [move] = compare_revisions(old, dearer).moves
    bought = sum(line.price or 0.0 for line in old.result.projects[0].materials if line.part == "W-12")
    assert bought > 0 and (move.cause, move.unit, move.moved) == (UNIT_PRICE, "m", pytest.approx(bought / 10))
    assert move.quantity == (pytest.approx(bought), pytest.approx(bought)) and move.unit_price == (pytest.approx(1.0), pytest.approx(1.1))


def test_a_price_break_by_the_foot_counts_the_metres_of_the_next_revision() -> None:
    """100 m for one bank and 140 m for two. 30.48 money per 100 ft is 1 a metre, from 120 m on a tenth less; by the metre it is the same:
    40 m more at 1, and a tenth off all 140; and 5 m in each control panel, bought as 17 ft."""
    one, two = ([{**bank(f"T-{at}", "A", quantity=1), "heater_run_m": 30.0} for at in range(count)] for count in (1, 2))
    feet = [_wire("ft", 30.48, 100), {**_wire("ft", 27.432, 100), "from_quantity": 120.0 / 0.3048}]
    metres = [_wire("m", 100.0, 100), {**_wire("m", 90.0, 100), "from_quantity": 120.0}]
    made = compare_revisions(revision(job(heaters=one, stock=feet)), revision(job(heaters=two, stock=metres)))
    box = 17 * 0.3048
    assert causes(made) == pytest.approx({QUANTITY: 40.0 + box, BREAK: -14.0 - 0.2 * box}) and all(check.passes for check in made.checks)


def test_a_wire_of_which_some_runs_have_no_length_is_counted_as_far_as_it_is_priced() -> None:
    """100 m for one bank and 140 m for two at 1 a metre, beside runs of unknown length: 40 more, though the whole has no price;
    and 17 ft more in control panels."""
    one, two = ([{**bank(f"T-{at}", "A", quantity=1), "heater_run_m": 30.0} for at in range(count)] for count in (1, 2))
    made = compare_revisions(*(revision(job(heaters=banks, stock=[_wire("m", 100.0, 100)])) for banks in (one, two)))
    [wire] = [order for order in made.orders if order.name == "W-12" and order.words.startswith("conductor")]
    assert (wire.before, wire.after, wire.price_before, wire.price_after) == (100.0, 140.0, None, None)
    assert causes(made) == pytest.approx({QUANTITY: 40.0 + 17 * 0.3048}) and [check for check in made.checks if not check.passes] == []


def test_hours_that_move_with_what_the_price_is_for_are_named() -> None:
    """0.9 h a 100 ft, left at 0.9 where the price is given for 1 ft by now; taken to 0.009 with it, nothing moves."""
    tables = [{**bank("T-0", "A", quantity=1), "heater_run_m": 30.0}]
    old, left, both = (revision(job(heaters=tables, stock=[row])) for row in (
        _wire("ft", 30.0, 100), _wire("ft", 0.3, 1), {**_wire("ft", 0.3, 1), "field_h": 0.009}))  # fmt: skip
    said = [words for words in screen_text(compare_revisions(old, left)) if words.startswith("Look at the hours")]
    assert said == ["Look at the hours of W-12: its price is for 1 ft and was for 100 ft, and its hours, still 0.9 h, are for the same, so "
                    "that they count 100 times as much."]  # fmt: skip
    assert not [words for words in screen_text(compare_revisions(old, both)) if "hours of" in words]


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("money")


def written(folder: Path, name: str, change: Callable[[Tables], None]) -> Path:
    tables = small.tables()
    change(tables)
    book.write(folder / name, small.TITLE, small.STORY, tables)
    return folder / name


def _first(folder: Path) -> Path:
    return written(folder, "a.xlsx", lambda tables: None)


def _other(folder: Path) -> Path:
    return written(folder, "b.xlsx", _second)


def _second(tables: Tables) -> None:
    """A heater dearer by 58, a heater more in T-101, markup and overhead otherwise, another rate in the shop."""
    for row in tables["stock"]:
        if row["part"] == "HTR-106":
            row["unit_price"] = row["unit_price"] + 58
    tables["heaters"][0]["quantity"] += 3
    pricing = tables["pricing"][0]
    pricing["markup_pct"], pricing["overhead_pct"], pricing["shop_rate"] = pricing["markup_pct"] + 2, pricing["overhead_pct"] + 1, 70


def test_the_price_is_replaced_step_by_step_and_adds_up(folder: Path) -> None:
    old = open_revision(_first(folder), batch.PROGRAM)
    new = open_revision(_other(folder), batch.PROGRAM)
    made = compare_revisions(old, new)
    by_step = {one.step: one.moved for one in made.steps}
    assert tuple(by_step) == STEPS and all(check.passes for check in made.checks)
    before, after = (sum(atom.cost.price for atom in side.result.money.atoms) for side in (old, new))
    assert sum(by_step.values()) == pytest.approx(after - before) and made.steps[-1].after == pytest.approx(after)
    moved = {name for name, amount in by_step.items() if abs(amount) > 1e-6}
    assert moved == {STEPS[0], "prices of parts", "hours", "labour rates", "overhead", "profit"}
    dearer = [move for move in made.moves if move.cause == UNIT_PRICE]
    assert [(move.part, round(move.moved, 6)) for move in dearer] == [("HTR-106", 58.0)]
    # 58 of material, bought with the old tax and freight, old contingency, overhead and markup
    rates = old.result.money.rates[0]
    factor = 1 + ((rates.purchase_tax_pct or 0) + (rates.freight_pct or 0)) / 100
    factor *= (1 + rates.contingency_pct / 100) * (1 + rates.overhead_pct / 100) * (1 + rates.markup_pct / 100)
    assert by_step["prices of parts"] == pytest.approx(58 * factor)


def test_the_comparison_has_both_sheets_and_their_sums(folder: Path) -> None:
    history = batch.compare(_first(folder), _other(folder), target=folder / "b against a.xlsx")
    opened = openpyxl.load_workbook(history.written, data_only=True)
    assert {"Money by cause", "Price by cause"} <= set(opened.sheetnames)
    sheet = opened["Money by cause"]
    head = next(row for row in sheet.iter_rows() if any(cell.value == "Cause" for cell in row))
    column = next(cell.column for cell in head if str(cell.value).startswith("Moved"))
    values = [row[column - 1].value for row in sheet.iter_rows(min_row=head[0].row + 1) if isinstance(row[column - 1].value, (int, float))]
    price = next(figure for figure in history.whole.figures if figure.key == "price" and not figure.project)
    assert sum(values) == pytest.approx(price.difference)
    page = {row[0].value for row in opened["What changed"].iter_rows()}
    assert {"Priced parts by cause", "Price before tax by cause", "quantity", "unit price", "profit"} <= page
    assert any(line.startswith("Of that: ") for line in history.text)


def _rates(tables: Tables) -> None:
    tables["pricing"][0]["contingency_pct"] = 9.0


def _euros(tables: Tables) -> None:
    tables["projects"][0]["currency"] = "EUR"


def _beside(tables: Tables, name: str, currency: str = "USD") -> None:
    """The project once more under another name, in a currency of its own; prices of parts are in whatever the project is priced in."""
    for rows in tables.values():
        rows += [{**row, "project": name} for row in rows if row.get("project") == "PILOT"]
        for row in rows:
            row |= {"currency": None} if "part" in row and "unit_price" in row else {}
    tables["projects"][-1]["currency"] = currency


def _one_more(tables: Tables) -> None:
    tables["heaters"][0]["quantity"] += 3


@pytest.mark.parametrize(
    ("was", "now", "whole"),
    [(("B",), ("B",), True), (("B",), ("B", "C"), False), (("B", "C"), ("B",), False)],
    ids=["the same", "one new", "one gone"],
)
def test_the_whole_is_of_all_projects_or_is_not_said(folder: Path, was: tuple[str, ...], now: tuple[str, ...], whole: bool) -> None:
    def tables_of(tables: Tables, names: tuple[str, ...]) -> None:
        for name in names:
            _beside(tables, name)

    old = open_revision(written(folder, f"was {len(was)}{len(now)}.xlsx", lambda tables: tables_of(tables, was)), batch.PROGRAM)
    new = open_revision(
        written(folder, f"now {len(was)}{len(now)}.xlsx", lambda tables: (_one_more(tables), tables_of(tables, now))[-1]), batch.PROGRAM
    )
    steps = compare_revisions(old, new).steps
    own, all_of = [one for one in steps if one.project in ("PILOT", "B")], [one for one in steps if one.project == WHOLE]
    assert {one.project for one in own} == {"PILOT", "B"} and bool(all_of) == whole
    for step in all_of:
        assert step.moved == pytest.approx(sum(one.moved for one in own if one.step == step.step))


def test_dollars_and_euros_are_not_added_up(folder: Path) -> None:
    old = open_revision(written(folder, "usd eur.xlsx", lambda tables: _beside(tables, "B", "EUR")), batch.PROGRAM)
    new = open_revision(
        written(folder, "usd eur now.xlsx", lambda tables: (_one_more(tables), _beside(tables, "B", "EUR"))[-1]), batch.PROGRAM
    )
    steps = compare_revisions(old, new).steps
    assert {(one.project, one.currency) for one in steps} == {("PILOT", "USD"), ("B", "EUR")}


def _no_price(tables: Tables) -> None:
    """Of one heater part the price is gone, of another the number is larger."""
    next(row for row in tables["stock"] if row["kind"] == "heater" and row.get("unit_price"))["unit_price"] = None


def said_of(folder: Path, change: Callable[[Tables], None]) -> tuple[Comparison, list[str]]:
    old, new = written(folder, f"{change.__name__} A.xlsx", lambda tables: None), written(folder, f"{change.__name__} B.xlsx", change)
    made = compare_revisions(*(open_revision(path, batch.PROGRAM) for path in (old, new)))
    return made, [one for one in screen_text(made) if "price" in one or "currency" in one]


def test_the_price_before_tax_leads_and_not_that_of_parts_alone(folder: Path) -> None:
    made, said = said_of(folder, _rates)
    moved = sum(step.moved for step in made.steps)
    assert abs(moved) > 100.0 and said[0].startswith("The price before tax is ")
    after, before = (float(figure.replace(",", "")) for figure in re.findall(r"[\d,]+\.\d\d", said[0])[:2])  # each to a cent, as printed
    assert f"({after - before:+,.2f})" in said[0] and after - before == pytest.approx(moved, abs=0.011) and "contingency" in said[0]
    assert any("priced parts still come to" in one for one in said)


def test_amounts_in_two_currencies_are_not_compared(folder: Path) -> None:
    made, said = said_of(folder, _euros)
    assert said[0] == "The currency is another: money before and after cannot be compared." and not made.steps


def test_a_price_that_is_gone_moves_no_quantities(folder: Path) -> None:
    made, said = said_of(folder, _no_price)
    [whole] = [one for one in said if one.startswith("The price before tax")]
    assert "is at least " in whole and "instead of at least " not in whole and "so that this is no difference of whole prices" in whole
    assert [step.moved for step in made.steps if step.step == STEPS[0]] == [0.0]
    assert [step.moved < -100.0 for step in made.steps if step.step == STEPS[1]] == [True]


@pytest.mark.parametrize(
    ("parts", "total", "shown"),
    [([0.004, 0.004, 0.004], 0.012, [0.01, 0.0, 0.0]), ([10.0, -0.25], 9.75, [10.0, -0.25]), ([], 0.0, [])],
)
def test_parts_as_printed_add_up_to_their_total(parts: list[float], total: float, shown: list[float]) -> None:
    """Three parts of four tenths of a cent are one cent together, which is with the first of the largest."""
    assert in_cents(parts, total) == shown and round(sum(shown), 2) == round(total, 2)


def test_what_the_screen_says_moved_adds_up_to_the_cent(folder: Path) -> None:
    """Every sum of money that is named is the sum of the moves beside it, and the difference of the prices beside it."""
    made = compare_revisions(*(open_revision(path, batch.PROGRAM) for path in (_first(folder), _other(folder))))
    said = {words.partition(" ")[0]: words for words in screen_text(made) if words.startswith(("The price before tax is", "Of that"))}
    figures = [Decimal(one.replace(",", "")) for one in re.findall(r"[+-]?[\d,]+\.\d\d", said["The"])]
    after, before, difference, *steps = figures
    assert len(steps) > 2 and sum(steps) == difference == after - before
    [priced] = [words for words in screen_text(made) if words.startswith("The priced parts come to")]
    now, was, moved = (Decimal(one.replace(",", "")) for one in re.findall(r"[+-]?[\d,]+\.\d\d", priced))
    causes = [Decimal(one.replace(",", "")) for one in re.findall(r"[+-][\d,]+\.\d\d", said["Of"])]
    assert moved == now - was == sum(causes)
