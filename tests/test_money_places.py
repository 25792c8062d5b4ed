"""What is wrong with money is said at the cell that has to be corrected, in the words that correct it."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import openpyxl
import pytest

import batch
from tests.samples import book, small

Tables = dict[str, list[dict[str, object]]]


def _scope(tables: Tables) -> None:
    next(row for row in tables["scope"] if row["item"] == "permits")["by"] = "us"


def _allowance(tables: Tables) -> None:
    tables["allowances"][1]["part"] = "NO-SUCH"


def _least(tables: Tables) -> None:
    tables["allowances"][1]["at_least"] = 4


def _by_colour(tables: Tables) -> None:
    tables["pricing"][0].update(wire_colours="yes", colour_to="2 AWG")
    tables["stock"] = [row for row in tables["stock"] if row.get("colour") != "brown"]


def _thick(tables: Tables) -> None:
    tables["pricing"][0].update(wire_colours="yes", colour_to="thick")


def _unit(tables: Tables) -> None:
    next(row for row in tables["stock"] if row["part"] == "WIRE-12").pop("per_unit")


def _both(tables: Tables) -> None:
    tables["pricing"][0]["profit_pct"] = 5.0


def _all_of_it(tables: Tables) -> None:
    tables["pricing"][0].update(markup_pct=None, profit_pct=100.0)


def _at_a_loss(tables: Tables) -> None:
    tables["pricing"][0].update(markup_pct=None, profit_pct=-25.0)


def _neither(tables: Tables) -> None:
    tables["pricing"][0].update(markup_pct=None)
    tables["pricing"].append({**tables["pricing"][0], "project": "OTHER", "markup_pct": 1.0})  # so that the column is there


@pytest.mark.parametrize(
    ("change", "code", "sheet", "heading", "row"),
    [
        (_scope, "scope-contradicts", "Scope", "Supplied by", "permits"),
        (_allowance, "allowance-part-unknown", "Allowances", "Part", "warning labels"),
        (_least, "allowance-cell-unused", "Allowances", "At least (ea)", "warning labels"),
        (_by_colour, "wire-colour-missing", "Pricing", "Largest size in colour", "PILOT"),
        (_thick, "colour-size-unknown", "Pricing", "Largest size in colour", "PILOT"),
        (_unit, "length-price-unused", "Stock", "Per unit", "WIRE-12"),
        (_both, "profit-twice", "Pricing", "Margin of price (%)", "PILOT"),
        (_all_of_it, "profit-missing", "Pricing", "Margin of price (%)", "PILOT"),
        (_at_a_loss, "price-below-cost", "Pricing", "Margin of price (%)", "PILOT"),
        (_neither, "profit-missing", "Pricing", "Markup (%)", "PILOT"),
    ],
)
def test_it_stands_at_its_cell(
    tmp_path: Path, change: Callable[[Tables], None], code: str, sheet: str, heading: str, row: str
) -> None:
    tables = small.tables()
    change(tables)
    book.write(tmp_path / "job.xlsx", small.TITLE, small.STORY, tables)
    [said] = [one for one in batch.check(tmp_path / "job.xlsx").findings if one.code == code]
    assert said.sheet == sheet
    there = openpyxl.load_workbook(tmp_path / "job.xlsx")[sheet]
    cell = there[said.cell]
    assert str(there.cell(1, cell.column).value).rstrip(" *") == heading
    assert row in {one.value for one in there[cell.row]}
