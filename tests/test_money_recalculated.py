"""A price that is changed on Buy list moves exactly the totals that it should: worked out anew by LibreOffice, on the small sample."""

from __future__ import annotations

from pathlib import Path

import openpyxl
import pytest
from openpyxl.worksheet.worksheet import Worksheet

import batch
from batch.results import JobResult
from tests.make_samples import HERE
from tests.recalculation import needs_office, recalculated_all
from tests.samples import book, small

pytestmark = needs_office
MORE = 100.0  # per heater of T-106, of which there is one; all prices are invented
SHEETS = ("Prices", "Buy list", "Builds", "Materials", "Runs")
Figures = dict[tuple[int, str], object]


def head_of(sheet: Worksheet, word: str) -> tuple[int, dict[str, int]]:
    row = next(row for row in sheet.iter_rows() if any(cell.value == word for cell in row))
    return row[0].row, {str(cell.value): cell.column for cell in row if cell.value}


def figures(path: Path, name: str) -> Figures:
    """Every number below the headings of a sheet, by row and heading."""
    sheet = openpyxl.load_workbook(path, data_only=True)[name]
    head, columns = head_of(sheet, "Project")
    return {
        (row[0].row, heading): value
        for row in sheet.iter_rows(min_row=head + 1) for heading, at in columns.items()
        if isinstance(value := row[at - 1].value, (int, float))
    }  # fmt: skip


@pytest.fixture(scope="module")
def books(tmp_path_factory: pytest.TempPathFactory) -> tuple[JobResult, Path, Path]:
    """The results as they are, and with the heater of T-106 dearer; both worked out anew in one start."""
    folder = tmp_path_factory.mktemp("recalculated")
    made = batch.size(HERE / "small-clean.xlsx", folder / "as.xlsx")
    opened = openpyxl.load_workbook(folder / "as.xlsx")
    sheet = opened["Buy list"]
    head, columns = head_of(sheet, "Stock part")
    price = next(at for heading, at in columns.items() if heading.startswith("Unit price"))
    row = next(row for row in sheet.iter_rows(min_row=head + 1) if row[columns["Stock part"] - 1].value == "HTR-106")
    row[price - 1].value += MORE
    opened.save(folder / "dearer.xlsx")
    done = recalculated_all([folder / "as.xlsx", folder / "dearer.xlsx"], folder)
    return made, done[folder / "as.xlsx"], done[folder / "dearer.xlsx"]


def moved(books: tuple[JobResult, Path, Path], name: str) -> dict[tuple[int, str], float]:
    before, after = (figures(path, name) for path in books[1:])
    assert before.keys() == after.keys()
    return {at: after[at] - before[at] for at in before if abs(after[at] - before[at]) > 1e-6}


def test_one_row_of_prices_moves_and_by_the_whole_chain(books: tuple[JobResult, Path, Path]) -> None:
    """Material by 100; then tax, freight, contingency, overhead and markup as Pricing has them."""
    made = books[0]
    [atom] = [one for one in made.money.atoms if one.tank == "T-106" and one.kind == "bank"]
    found = moved(books, "Prices")
    [row] = {row for row, _ in found}
    by_heading = {heading.partition(" (")[0]: amount for (_, heading), amount in found.items()}
    rates = atom.rates
    direct = MORE * (1 + ((rates.purchase_tax_pct or 0.0) + (rates.freight_pct or 0.0)) / 100)
    full = direct * (1 + rates.contingency_pct / 100) * (1 + rates.overhead_pct / 100)
    assert (by_heading["Material"], by_heading["Direct cost"], by_heading["Full cost"]) == pytest.approx((MORE, direct, full))
    assert by_heading["Price"] == pytest.approx(full * (1 + rates.markup_pct / 100))
    sheet = openpyxl.load_workbook(books[2], data_only=True)["Prices"]
    assert "T-106" in {cell.value for cell in sheet[row]}


def test_of_the_views_its_tank_and_its_feeder_move_alike(books: tuple[JobResult, Path, Path]) -> None:
    made, found = books[0], moved(books, "Price views")
    of = {view.number: (view.kind, view.name) for view in made.money.views}
    sheet = openpyxl.load_workbook(books[2], data_only=True)["Price views"]
    price = {of[sheet.cell(row, 1).value]: amount for (row, heading), amount in found.items() if heading.startswith("Price (")}
    bearers = {heading: amount for (_, heading), amount in moved(books, "Prices").items()}
    assert price == pytest.approx(dict.fromkeys((("tank", "T-106"), ("feeder", "F-1")), bearers["Price (USD)"]))
    assert {row for row, _ in found} == {row for row, heading in found if heading.startswith("Material")}


def test_a_dearer_part_moves_its_types_as_often_as_they_are_built(tmp_path: Path) -> None:
    """A part that stands in one bill alone, dearer by 100: the price of that type on Price views by the whole chain, and of no other."""
    made = batch.size(HERE / "small-clean.xlsx", tmp_path / "as.xlsx")
    owners: dict[str, set[str]] = {}
    lines = made.projects[0].materials
    for line in lines:
        owners.setdefault(line.part, set()).add(line.owner.name if line.owner.kind == "build" else "")
    line = next(one for one in lines if one.part and one.owner.kind == "build" and len(owners[one.part]) == 1 and one.builds > 1)
    opened = openpyxl.load_workbook(tmp_path / "as.xlsx")
    head, columns = head_of(opened["Buy list"], "Stock part")
    at = next(column for heading, column in columns.items() if heading.startswith("Unit price"))
    for row in opened["Buy list"].iter_rows(min_row=head + 1):
        if row[columns["Stock part"] - 1].value == line.part:
            row[at - 1].value += MORE
    opened.save(tmp_path / "dearer.xlsx")
    done = recalculated_all([tmp_path / "as.xlsx", tmp_path / "dearer.xlsx"], tmp_path)
    before, after = (figures(done[tmp_path / f"{name}.xlsx"], "Price views") for name in ("as", "dearer"))
    prices = [at for at in before if at[1].startswith("Price ")]
    moved = {at: after[at] - before[at] for at in prices if abs(after[at] - before[at]) > 1e-6}
    sheet = openpyxl.load_workbook(done[tmp_path / "as.xlsx"])["Price views"]
    _, columns = head_of(sheet, "Project")
    of_type = [amount for (row, _), amount in moved.items() if sheet.cell(row, columns["View"]).value == "by type"]
    rates = made.money.rates[0]
    more = MORE * line.quantity / line.per * (1 + ((rates.purchase_tax_pct or 0.0) + (rates.freight_pct or 0.0)) / 100)
    more *= (1 + rates.contingency_pct / 100) * (1 + rates.overhead_pct / 100) * (1 + rates.markup_pct / 100)
    assert sorted(of_type) == pytest.approx([more / line.builds, more])
    names = {sheet.cell(row, columns["Of"]).value for row, _ in moved if sheet.cell(row, columns["View"]).value == "by type"}
    assert names == {line.owner.name}


def test_a_view_with_a_row_that_has_no_price_has_none(tmp_path: Path) -> None:
    """Without markup no row of Prices has a price; none of the views is 0."""
    batch.size(HERE / "small-clean.xlsx", tmp_path / "as.xlsx")
    opened = openpyxl.load_workbook(tmp_path / "as.xlsx")
    head, columns = head_of(opened["Pricing used"], "Project")
    opened["Pricing used"].cell(head + 1, next(at for heading, at in columns.items() if heading.startswith("Markup"))).value = None
    opened.save(tmp_path / "without.xlsx")
    done = recalculated_all([tmp_path / "without.xlsx"], tmp_path)
    found = figures(done[tmp_path / "without.xlsx"], "Price views")
    assert not [heading for _, heading in found if heading.startswith("Price ")] and [at for at in found if at[1].startswith("Full cost")]


@pytest.mark.parametrize("name", SHEETS[1:])
def test_elsewhere_only_the_lines_of_that_part_move(books: tuple[JobResult, Path, Path], name: str) -> None:
    found = moved(books, name)
    lines = {row for row, _ in found}
    assert len(lines) == (1 if name in ("Buy list", "Materials") else 0)
    assert all(amount == pytest.approx(MORE) for amount in found.values())


def test_a_rate_typed_where_there_was_none_asks_for_hours(tmp_path: Path) -> None:
    """Hours were not asked for as long as an hour had no rate: once it has one, lines without hours are open, and the count says so."""
    tables = small.tables()
    for row in tables["stock"]:
        row["labour_h"] = row["field_h"] = None
    tables["pricing"][0].update(shop_rate=None, field_rate=0)
    book.write(tmp_path / "job.xlsx", small.TITLE, small.STORY, tables)
    made = batch.size(tmp_path / "job.xlsx", tmp_path / "as.xlsx")
    due = {line.place for line in made.projects[0].materials if line.place == "shop"}
    opened = openpyxl.load_workbook(tmp_path / "as.xlsx")
    sheet = opened["Pricing used"]
    head, columns = head_of(sheet, "Project")
    at = next(column for heading, column in columns.items() if heading.startswith("Shop rate"))
    sheet.cell(head + 1, at).value = 78
    opened.save(tmp_path / "paid.xlsx")
    done = recalculated_all([tmp_path / "as.xlsx", tmp_path / "paid.xlsx"], tmp_path)
    for path, asked in ((tmp_path / "as.xlsx", False), (tmp_path / "paid.xlsx", True)):
        sheet = openpyxl.load_workbook(done[path], data_only=True)["Materials"]
        head, columns = head_of(sheet, "Status")
        rows = [{heading: row[at - 1].value for heading, at in columns.items()} for row in sheet.iter_rows(min_row=head + 1)]
        found = {row["Worked"]: row["Status"] for row in rows if row["Worked"] and row["Stock part"]}
        assert due and found == {"shop": "open" if asked else "priced", "field": "priced"}


def test_each_check_passes_on_both(books: tuple[JobResult, Path, Path]) -> None:
    for path in books[1:]:
        sheet = openpyxl.load_workbook(path, data_only=True)["Checks"]
        head, columns = head_of(sheet, "Verdict")
        verdicts = {row[columns["Verdict"] - 1].value for row in sheet.iter_rows(min_row=head + 1)} - {None}
        assert verdicts == {"PASS"}
