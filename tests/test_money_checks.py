"""Checks of money: all pass on the samples, and each fails where the figure that it guards is another."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path

import openpyxl
import pytest
from msgspec.structs import replace

import batch
from batch.intake.number_limits import Refused, judge_of
from batch.material_lines import BUILD, OTHER, Material
from batch.money_records import Pricing
from batch.price.cost_chain import chain, price_of, rounded
from batch.results import JobResult
from batch.schedules import money_checks as money_check_module
from batch.schedules.buy_list import BUY_LIST
from batch.schedules.money_checks import money_checks
from batch.sheets import Column
from batch.sheets.money_inputs import MONEY_SHEETS
from batch.sheets.stock_list import STOCK
from batch.sizing.project import size_job
from tests.job_builder import bank, job, origin, size
from tests.make_samples import HERE
from tests.samples import book, plant, small, stock

BY_TYPE = "Quotation by panel type, heaters, runs and the rest, positions rounded once"
OF_TYPES = "Price views by type + heaters, runs and the rest"
NOTHING_LEFT_OVER = "Price of parts used, without what is left over of whole lots"


@pytest.fixture(scope="module")
def result() -> JobResult:
    return batch.check(HERE / "small-clean.xlsx")


def failing(result: JobResult, line: Material, other: Material | None) -> set[str]:
    """Checks that fail where one line says something else than what was added up, or is not there."""
    [project] = result.projects
    lines = [other if one is line else one for one in project.materials]
    changed = replace(result, projects=(replace(project, materials=tuple(one for one in lines if one is not None)),))
    return {check.what.partition(" = ")[0] for check in money_checks(changed) if not check.passes}


def test_all_of_them_pass(result: JobResult) -> None:
    checks = list(money_checks(result))
    assert len(checks) == 24 and all(check.passes for check in checks)
    nought = ("Open lines", "Poles of fused branches", "Poles of fused panel feeders")  # all is priced; its panels have breakers
    assert {check for check in checks if check.left} == {check for check in checks if not check.what.startswith(nought)}


def test_a_dearer_line_shows_wherever_it_is_added_up(result: JobResult) -> None:
    lines = result.projects[0].materials
    wire = next(one for one in lines if one.stretch is not None)
    assert failing(result, wire, wire._replace(unit_price=2 * wire.unit_price)) == {
        "Material on Prices", "Buy list, what is used", BY_TYPE, OF_TYPES,
    }  # fmt: skip
    built = next(one for one in lines if one.owner.kind == BUILD)
    of_build = {"Material on Prices", "Builds x how many", "Buy list, what is used", BY_TYPE}
    assert failing(result, built, built._replace(unit_price=2 * built.unit_price)) == of_build
    cost = next(one for one in lines if one.sort == OTHER)
    assert failing(result, cost, cost._replace(unit_price=2 * cost.unit_price)) == {
        "Other costs on Prices", "Buy list, what is used + lines of per cent + other costs", NOTHING_LEFT_OVER, BY_TYPE, OF_TYPES,
    }  # fmt: skip


def test_what_is_left_over_of_whole_lots_is_in_no_position(result: JobResult) -> None:
    """A position that bears the worth of what is left over of one part: its price is more than that of what is used."""
    bought = next(one for one in result.money.buy if one.surplus and one.unit_price)
    worth = bought.surplus * bought.unit_price / bought.per
    atom = next(one for one in result.money.atoms if one.cost.price)
    cost = chain(material=atom.material + worth, other=atom.other, shop_h=atom.shop_h, field_h=atom.field_h, freight_sum=atom.freight_sum,
                 rates=atom.rates)  # fmt: skip
    dearer = tuple(one._replace(parts=one.parts + worth, cost=cost) if one is atom else one for one in result.money.atoms)
    changed = replace(result, money=result.money._replace(atoms=dearer))
    [found] = [check for check in money_checks(changed) if check.what.startswith(NOTHING_LEFT_OVER)]
    assert not found.passes and found.right - found.left == pytest.approx(cost.price - atom.cost.price)


def test_a_row_that_prices_does_not_show_is_missed_in_what_is_stated(result: JobResult, monkeypatch: pytest.MonkeyPatch) -> None:
    whole = money_check_module.each_row
    monkeypatch.setattr(money_check_module, "each_row", lambda of, id, keys: list(whole(of, id, keys))[1:])
    found = {check.what.partition(" = ")[0] for check in money_checks(result) if not check.passes}
    assert found == {"Material stated of the project", "Price stated of the project", "Price views by tank"}


def test_a_heater_a_run_and_an_open_line_that_went_missing_show(result: JobResult) -> None:
    lines = result.projects[0].materials
    heater = next(one for one in lines if one.role == "heater")
    assert "Heaters of banks" in failing(result, heater, None)
    run = next(one for one in lines if one.stretch is not None and one.stretch.kind == "branch" and one.stretch.circuits)
    assert "Branch circuits with a run" in failing(result, run, None)
    longer = run._replace(quantity=run.quantity + 1)
    assert "Wire bought without its waste" in failing(result, run, longer)
    priceless = heater._replace(unit_price=None)
    assert {"Open lines on Prices", "Open lines on Buy list"} <= failing(result, heater, priceless)


def test_a_job_that_says_nothing_of_money_has_none() -> None:
    assert not list(money_checks(size(bank())))


def test_the_invented_stock_list_prices_the_whole_plant_nearly(tmp_path: Path) -> None:
    """Nine lines in ten and more; heaters of which two rows of the list could be it, and parts beyond it, stay open and are counted."""
    tables = plant.tables() | {"stock": stock.rows()}
    tables["pricing"] = [{**small.money()["pricing"][0], "project": hall} for hall in plant.HALLS]
    made = batch.check(book.write(tmp_path / "plant.xlsx", plant.TITLE, plant.STORY, tables) or tmp_path / "plant.xlsx")
    lines = [line for project in made.projects for line in project.materials if not line.supplied]  # limits come with their heaters
    assert sum(line.status == "priced" for line in lines) > 0.97 * len(lines) > 6000
    assert [check for check in made.checks if not check.passes] == []


def test_the_plant_s_sample_is_priced_by_the_other_s_stock_list_as_readme_says(tmp_path: Path) -> None:
    """README: the small sample as stock.xlsx of a firm's folder; without it nothing of the plant has a price."""

    def share(result: JobResult) -> float:
        lines = [line for project in result.projects for line in project.materials if line.stretch is None and not line.supplied]
        return sum(line.price is not None for line in lines) / len(lines)

    (tmp_path / "stock.xlsx").write_bytes((HERE / "small-clean.xlsx").read_bytes())
    assert "cp sample_jobs/small-clean.xlsx firm/stock.xlsx" in (HERE.parent / "README.md").read_text(encoding="utf-8")
    assert share(batch.check(HERE / "whole-plant.xlsx")) == 0.0
    with batch.firm(tmp_path):
        assert share(batch.check(HERE / "whole-plant.xlsx")) > 0.9


def test_no_position_is_rounded_to_less_than_is_printed(tmp_path: Path) -> None:
    """Positions are printed with two decimals: rounded to a thousandth they would not add up to their total as printed."""
    tables = small.tables()
    tables["pricing"][0]["round_to"] = 0.001
    book.write(tmp_path / "fine.xlsx", small.TITLE, small.STORY, tables)
    made = batch.check(tmp_path / "fine.xlsx")
    [said] = [finding for finding in made.findings if finding.sheet == "Pricing" and finding.code == "cell-out-of-range"]
    assert "0.001" in said.message


ROLES = {"branch fuse": "Poles of fused branches on Circuits", "panel feeder fuse": "Poles of fused panel feeders on Panels",
         "bank fuse": "Poles of fused single-circuit banks on Banks", "control fuse": "Fuses on Control circuits",
         "feeder fuse": "Poles of new fused feeder OCPDs on Feeders", "way fuse": "Poles of our fused ways on Distribution"}  # fmt: skip


def test_a_fuse_too_few_shows_wherever_fuses_stand() -> None:
    """Of every sort of fuse in turn one fewer is listed than there are poles, in projects of the invented sample that have them."""
    made = batch.check(HERE / "every-finding.xlsx")
    seen = set()
    for project in made.projects:
        only = replace(made, projects=(project,), money=replace_asked(made))
        assert not [check for check in money_checks(only) if "fuse" in check.what and not check.passes], project.project.project
        for role, words in ROLES.items():
            line = next((one for one in project.materials if one.role == role), None)
            if line is None or role in seen:
                continue
            seen.add(role)
            lines = [line._replace(quantity=line.quantity - 1) if one is line else one for one in project.materials]
            short = replace(only, projects=(replace(project, materials=tuple(lines)),))
            assert {check.what.partition(" = ")[0] for check in money_checks(short) if "fuse" in check.what and not check.passes} == {words}
    assert seen == ROLES.keys()


def replace_asked(made: JobResult):
    return made.money._replace(asked=True)


@pytest.mark.parametrize(
    ("markup", "profit", "price"),
    [(10.0, None, 110.0), (0.0, None, 100.0), (None, 20.0, 125.0), (None, None, None), (10.0, 20.0, None), (None, 100.0, None)],
)
def test_a_price_is_of_markup_or_of_margin_never_of_both(markup: float | None, profit: float | None, price: float | None) -> None:
    """Of 100: 10 % of cost are 10; 20 % of the price leave 100 / 0.8. A margin of all of the price, or two statements, give none."""
    assert price_of(100.0, markup, profit) == (None if price is None else pytest.approx(price))
    assert price_of(None, markup, profit) is None


def test_parts_in_another_currency_are_checked_at_its_rate_and_have_no_total_of_their_own(tmp_path: Path) -> None:
    """One heater part is priced in another currency, 1.5 of ours each: the checks stand, and Buy list adds up no dollars with euros."""
    heads = []
    for currency in ("USD", "EUR"):
        tables = small.tables()
        next(row for row in tables["stock"] if row["part"] == "HTR-101")["currency"] = currency
        tables["pricing"][0]["rates"] = "EUR 1.5"
        book.write(tmp_path / f"{currency}.xlsx", small.TITLE, small.STORY, tables)
        made = batch.size(tmp_path / f"{currency}.xlsx", tmp_path / f"{currency} sized.xlsx")
        assert all(check.passes for check in made.checks)
        assert [check.what for check in made.checks if check.what.startswith("Buy list, what is used")]
        sheet = openpyxl.load_workbook(tmp_path / f"{currency} sized.xlsx")["Buy list"]
        head = next(row for row in sheet.iter_rows() if any(cell.value == "Stock part" for cell in row))
        at = next(cell for cell in head if str(cell.value).startswith("Amount"))
        heads.append([sheet.cell(row, at.column).value for row in range(1, at.row)])
    assert [any(str(value).startswith("=SUBTOTAL") for value in head) for head in heads] == [True, False]


@pytest.mark.parametrize(
    ("price", "step", "shown"), [(12.5, 1, "13"), (13.5, 1, "14"), (12.49, 1, "12"), (102.5, 5, "105"), (0.125, 0.01, "0.13")]
)
def test_halves_of_a_position_go_up(price: float, step: float, shown: str) -> None:
    assert rounded(price, step) == Decimal(shown)


def test_the_buy_list_counts_the_runs_whose_length_it_lacks() -> None:
    """What Used says of wire and raceway is without them, so each stands beside it."""
    made = batch.check(HERE / "every-finding.xlsx")
    bought = list(BUY_LIST.items(made))
    lacking = sum(line.lacks_length for project in made.projects for line in project.materials)
    assert lacking and sum(at.unmeasured or 0 for at in bought) == lacking


@pytest.mark.parametrize(
    ("margin", "words"),
    [(None, "neither Markup nor Margin of price is given"), (100.0, "a margin of 100 % of"), (120.0, "a margin of 120 % of")],
)
def test_a_price_that_cannot_be_is_told_with_the_margin_that_was_given(margin: float | None, words: str) -> None:
    of_job = replace(job(bank()), pricing=(Pricing(project="P-1", profit_pct=margin, origin=origin("pricing")),))
    said = [finding for finding in size_job(of_job).findings if finding.code == "profit-missing"]
    assert len(said) == 1 and words in said[0].message


@pytest.mark.parametrize(
    ("markup", "margin", "words"),
    [(None, -25.0, "Margin of price is -25 %, below 0: the price stands below full cost, at 80 % of it."), (None, -0.5, "at 99.5 % of it"),
     (None, 0.0, ""), (None, 20.0, ""), (0.0, None, ""), (10.0, -25.0, "")],
)  # fmt: skip
def test_a_margin_below_nought_is_said(markup: float | None, margin: float | None, words: str) -> None:
    """100 / 1.25 = 80. A margin of 0 is the cost; with a markup beside it there is no price at all, and that is said instead."""
    of_job = replace(job(bank()), pricing=(Pricing(project="P-1", markup_pct=markup, profit_pct=margin, origin=origin("pricing")),))
    said = [finding.message for finding in size_job(of_job).findings if finding.code == "price-below-cost"]
    assert len(said) == (1 if words else 0) and words in "".join(said)


@pytest.mark.parametrize(
    "column",
    [one for sheet in MONEY_SHEETS for one in sheet.columns if one.kind == "number" and one.key != "profit_pct"]
    + [STOCK.by_key[key] for key in ("unit_price", "per_quantity", "from_quantity", "lot_quantity", "labour_h", "field_h")],
    ids=lambda column: column.key,
)
def test_no_other_figure_of_money_is_taken_below_nought(column: Column) -> None:
    """A waste, a rate, an allowance or hours below 0 would lower the price; the margin alone has a meaning below 0, and says so."""
    assert isinstance(judge_of(column)(-5.0), Refused)
