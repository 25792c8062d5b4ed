"""Fittings as so many per cent of the price of raceway: on the job worked by hand in test_money_by_hand. All prices are invented."""

from __future__ import annotations

from pathlib import Path

import openpyxl
import pytest

import batch
from batch.material_lines import PER_CENT, Material
from batch.quoting.offer import quote_project
from tests.recalculation import needs_office, recalculated_all
from tests.samples import small
from tests.test_money_by_hand import MATERIAL, written

RULE = {"allowance": "raceway fittings", "quantity": 25, "per": "per cent of raceway price"}
# a quarter of 2.00 for each foot of raceway: 120 ft of T-101 cost 240.00
FITTINGS = {"T-101": 60.0, "T-102": 60.0, "T-103": 25.0, "T-104": 37.5, "T-105": 90.0, "T-106": 10.0, "T-107": 20.0, "T-108": 40.0}


def rules(*some: dict[str, object]):
    def change(tables: dict[str, list[dict[str, object]]]) -> None:
        tables["allowances"] = [{"project": small.PROJECT, **rule} for rule in some]

    return change


def lines(made: batch.JobResult) -> list[Material]:
    return [line for line in made.projects[0].materials if line.sort == PER_CENT]


def test_each_bank_bears_its_own_share_worked_by_hand(tmp_path: Path) -> None:
    made = batch.check(written(tmp_path / "job.xlsx", "B", rules(RULE)))
    assert {line.owner.tank: line.price for line in lines(made) if not line.supplied} == pytest.approx(FITTINGS)
    # the raceway of the supplies is the customer's, and its fittings with it
    assert {line.status for line in lines(made) if line.owner.kind == "feeder"} == {"customer supplies"}
    material: dict[str, float] = {}
    for atom in made.money.atoms:
        material[atom.tank] = material.get(atom.tank, 0.0) + atom.material
    assert material == pytest.approx({tank: MATERIAL[tank] + FITTINGS[tank] for tank in MATERIAL} | {"": 0.0})
    assert not [one for one in made.money.buy if one.role == RULE["allowance"]]  # nothing to buy by that name
    [check] = [one for one in made.checks if one.what.startswith("Buy list, what is used + ")]
    assert check.passes and check.left == pytest.approx(sum(MATERIAL.values()) + sum(FITTINGS.values()) + 1000)
    assert all(one.passes for one in made.checks)


def test_no_stock_part_and_no_raceway_counts_as_nought(tmp_path: Path) -> None:
    """Of a raceway that has no price the fittings have none: the line is open, and the offer says so."""
    path = written(tmp_path / "job.xlsx", "B", rules(RULE))
    book = openpyxl.load_workbook(path)
    head = {str(cell.value).partition(" (")[0].rstrip(" *"): cell.column for cell in book["Stock"][1]}
    [row] = [row[0].row for row in book["Stock"].iter_rows() if row[head["Part"] - 1].value == "PVC80-1-2"]
    book["Stock"].cell(row, head["Unit price"]).value = None
    book.save(path)
    made = batch.check(path)
    ours = [line for line in lines(made) if not line.supplied]
    assert {line.status for line in ours} == {"open"} and {line.why_open for line in ours} == {"its raceway has no price"}
    assert len(ours) == 8 and "raceway fittings" in quote_project(made).why[0]


def test_hours_and_a_part_of_a_per_cent_are_said_and_not_used(tmp_path: Path) -> None:
    made = batch.check(written(tmp_path / "job.xlsx", "B", rules({**RULE, "part": "PVC80-1-2", "field_h": 1.0})))
    assert {line.owner.tank: line.price for line in lines(made) if not line.supplied} == pytest.approx(FITTINGS)
    [said] = [one for one in made.findings if one.code == "allowance-cell-unused"]
    assert said.message.endswith("Part and Field hours each are given and not used.")


@needs_office
def test_a_dearer_raceway_moves_its_fittings_in_libreoffice(tmp_path: Path) -> None:
    """2.00 a foot become 3.00: material of T-102 by 120 ft and a quarter of them more."""
    batch.size(written(tmp_path / "job.xlsx", "B", rules(RULE)), tmp_path / "as.xlsx")
    opened = openpyxl.load_workbook(tmp_path / "as.xlsx")
    sheet = opened["Buy list"]
    head = next(row for row in sheet.iter_rows() if any(cell.value == "Stock part" for cell in row))
    at = {str(cell.value).partition(" (")[0]: cell.column - 1 for cell in head}
    for row in sheet.iter_rows(min_row=head[0].row + 1):
        if row[at["Stock part"]].value == "PVC80-1-2":
            row[at["Unit price"]].value = 300
    opened.save(tmp_path / "dearer.xlsx")
    found = []
    for path in recalculated_all([tmp_path / "as.xlsx", tmp_path / "dearer.xlsx"], tmp_path).values():
        sheet = openpyxl.load_workbook(path, data_only=True)["Prices"]
        head = next(row for row in sheet.iter_rows() if any(cell.value == "Bears it" for cell in row))
        at = {str(cell.value).partition(" (")[0]: cell.column - 1 for cell in head}
        rows = [row for row in sheet.iter_rows(min_row=head[0].row + 1, values_only=True) if row[at["Bears it"]] == "bank"]
        found.append({row[at["Tank"]]: row[at["Material"]] for row in rows})
    assert found[0] == pytest.approx({tank: MATERIAL[tank] + FITTINGS[tank] for tank in MATERIAL})
    assert found[1]["T-102"] == pytest.approx(MATERIAL["T-102"] + 120 + 90)
