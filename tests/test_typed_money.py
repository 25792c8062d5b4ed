"""What is typed into the sheets of money of a results workbook, and what nobody typed there: end to end, on the small sample."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import openpyxl

import batch
from batch.results import JobResult
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
