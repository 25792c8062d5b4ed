"""What is typed into the sheets of money of a results workbook, and what nobody typed there: end to end, on the small sample."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import openpyxl

import batch
from batch.quoting.offer import quote_project
from batch.results import JobResult
from tests.recalculation import needs_office, recalculated
from tests.samples import book, small

Tables = dict[str, list[dict[str, object]]]
Row = dict[str, openpyxl.cell.Cell]


def sized(folder: Path, change: Callable[[Tables], None] = lambda tables: None) -> JobResult:
    """The small sample with something changed, sized into `folder`."""
    tables = small.tables()
    change(tables)
    book.write(folder / "job.xlsx", small.TITLE, small.STORY, tables)
    return batch.size(folder / "job.xlsx", folder / "job sized.xlsx")


def rows_of(opened: openpyxl.Workbook, name: str) -> list[Row]:
    """The rows of a result sheet, by heading without its unit."""
    rows = iter(opened[name].iter_rows())
    head = next(row for row in rows if any(cell.value == "Project" for cell in row))
    names = [str(cell.value or "").partition(" (")[0] for cell in head]
    return [dict(zip(names, row, strict=True)) for row in rows]


def typed(folder: Path, change: Callable[[openpyxl.Workbook], None]) -> JobResult:
    """The results with something typed, read again."""
    opened = openpyxl.load_workbook(folder / "job sized.xlsx")
    change(opened)
    opened.save(folder / "typed.xlsx")
    return batch.check(folder / "typed.xlsx")


def edits(result: JobResult) -> list[str]:
    return [f"{one.code} {one.address}" for one in result.findings if one.code.startswith("edit-")]


def _two_kinds_of_hours(tables: Tables) -> None:
    """One cost with hours in the shop and on site, and one in the same words for two tanks."""
    tables["other_costs"] += [
        {"project": small.PROJECT, "what": "fit and try", "quantity": 1, "unit": "lot", "amount": 50, "shop_h": 2, "field_h": 3},
        *({"project": small.PROJECT, "tank": tank, "what": "lid", "quantity": 1, "amount": amount, "field_h": hours}
          for tank, amount, hours in (("T-101", 80, 1), ("T-102", 95, 1.5))),
        *({"project": small.PROJECT, "what": "visit", "quantity": 1, "amount": amount} for amount in (300, 400)),
    ]  # fmt: skip


def test_results_that_nobody_touched_say_nothing_of_edits(tmp_path: Path) -> None:
    sized(tmp_path, _two_kinds_of_hours)
    assert edits(batch.check(tmp_path / "job sized.xlsx")) == []


def test_hours_typed_over_on_one_of_two_alike_lines_are_said_there(tmp_path: Path) -> None:
    """On site 3 h become 2, as many as the line of the shop has: still an edit, and said at its own cell."""
    sized(tmp_path, _two_kinds_of_hours)
    places = []

    def change(opened: openpyxl.Workbook) -> None:
        for row in rows_of(opened, "Materials"):
            if row["Description"].value == "fit and try, hours" and row["Worked"].value == "field":
                row["Hours each"].value = 2
                places.append(f"edit-not-taken Materials!{row['Hours each'].coordinate}")

    assert edits(typed(tmp_path, change)) == places and len(places) == 1


@needs_office
def test_formulas_that_follow_what_is_typed_at_one_of_its_lines_are_nobodys_edit(tmp_path: Path) -> None:
    """A spreadsheet program counts the one line that was typed into; what is typed is taken for all lines alike."""
    sized(tmp_path, _without_stock)
    opened = openpyxl.load_workbook(tmp_path / "job sized.xlsx")
    _type_on_materials(opened)
    opened.save(tmp_path / "typed.xlsx")
    found = edits(batch.check(recalculated(tmp_path / "typed.xlsx", tmp_path / "again")))
    assert len(found) > 3 and set(found) == {one for one in found if one.startswith("edit-taken Materials!")}


WITHOUT_STOCK = ("SEL-2", "HTR-106")


def _without_stock(tables: Tables) -> None:
    tables["stock"] = [row for row in tables["stock"] if row["part"] not in WITHOUT_STOCK]


def _type_on_materials(opened: openpyxl.Workbook) -> None:
    """On the first line of each: the selectors and the heater of T-106, which no part is, and the block, which the stock list has."""
    done = set()
    for row in rows_of(opened, "Materials"):
        what, part = row["What"].value, row["Stock part"].value
        own = part if part == "BLOCK-3" else what if what == "selector" or (what == "heater" and not part) else None
        if own is not None and own not in done:
            done.add(own)
            row["Unit price"].value = {"selector": 31.5, "heater": 750, "BLOCK-3": 55.5}[own]
            if own != "BLOCK-3":
                row["Hours each"].value = 0.5
    assert done == {"selector", "heater", "BLOCK-3"}


def _prices(result: JobResult) -> dict[str, set[float | None]]:
    """Unit prices of all lines of these."""
    found: dict[str, set[float | None]] = {"selector": set(), "heater": set(), "BLOCK-3": set()}
    for line in result.projects[0].materials:
        if line.part == "BLOCK-3":
            found["BLOCK-3"].add(line.unit_price)
        elif line.role == "selector" or (line.role == "heater" and not line.part):
            found[line.role].add(line.unit_price)
    return found


TYPED = {"selector": {31.5}, "heater": {750.0}, "BLOCK-3": {55.5}}


def test_prices_typed_on_materials_outlive_runs_and_revisions_and_are_quoted(tmp_path: Path) -> None:
    """Typed on one line each; sized twice, quoted, and kept for a revision whose own stock list still has the block at its old price."""
    sized(tmp_path, _without_stock)
    assert quote_project(batch.check(tmp_path / "job sized.xlsx")).why
    again = typed(tmp_path, _type_on_materials)
    assert _prices(again) == TYPED and set(edits(again)) == {one for one in edits(again) if one.startswith("edit-taken Materials!")}
    batch.size(tmp_path / "typed.xlsx", tmp_path / "second sized.xlsx")
    third = batch.check(tmp_path / "second sized.xlsx")
    assert _prices(third) == TYPED and edits(third) == [] and quote_project(third).why == ()

    tables = small.tables()
    _without_stock(tables)
    tables["projects"][0]["revision"] = "B"
    book.write(tmp_path / "next.xlsx", small.TITLE, small.STORY, tables)
    revised = batch.size(tmp_path / "next.xlsx", tmp_path / "next sized.xlsx", keep_from=tmp_path / "second sized.xlsx")
    assert _prices(revised) == TYPED | {"BLOCK-3": {64.0}} and quote_project(revised).why == ()
    [said] = [one for one in revised.findings if one.code == "kept-price-given"]
    assert said.message == (
        "1 figure typed into second sized.xlsx is another on the Stock sheet here, which counts: BLOCK-3 (price 55.5 there, 64 here)."
    )
    history = batch.compare(tmp_path / "job.xlsx", tmp_path / "second sized.xlsx", tmp_path / "next sized.xlsx", target=tmp_path / "h.xlsx")
    assert Path(history.written).exists()
    made = batch.quote(tmp_path / "next sized.xlsx")
    assert made.why == () and made.workbook.name == "next quotation.xlsx"
