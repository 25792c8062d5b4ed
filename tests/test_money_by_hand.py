"""A job of eight tanks, priced by hand in two revisions: its lines, owners, positions, causes of the difference, and LibreOffice's figures.

We supply heaters, branch wiring, raceway, their work on site and drawings; panels, controls and supplies, with the raceway of those, are
the customer's. All prices and hours are invented. By hand, of n heaters with c conductors each, L ft away, with 1.5 ft at each end, 5 %
waste of wire and none of raceway:

    tank    n  L   c  wire n c (L + 3) 1.05   green n (L + 3) 1.05   raceway n L   heaters        material   hours n + 0.05 raceway
    T-101   3  20  2  144.9 ft at 0.20 28.98  72.45 at 0.10   7.245   60  120.00   3 x  400 1200  1356.225    6
    T-102   6  20  2  289.8            57.96  144.9          14.49   120  240.00   6 x  300 1800  2112.45    12
    T-103   2  25  3  176.4            35.28  58.8            5.88    50  100.00   2 x 1100 2200  2341.16     4.5
    T-104   3  25  3  264.6            52.92  88.2            8.82    75  150.00   3 x 1400 4200  4411.74     6.75  A: heaters open
    T-105   9  20  2  434.7            86.94  217.35         21.735  180  360.00   9 x  250 2250  2718.675   18
    T-106   1  20  3  72.45            14.49  24.15           2.415   20   40.00   1 x  750  750   806.905    2
    T-107   2  20  2  96.6 at 0.30     28.98  48.3 at 0.20    9.66    40   80.00   2 x  650 1300  1418.64     4     A: wire open
    T-108   4  20  2  193.2            38.64  96.6            9.66    80  160.00   4 x  550 2200  2408.30     8

    price = (1.02 material + 100 hours) 1.10 x 1.25, since freight is 2 %, an hour on site 100, overhead 10 %, markup 25 %; 4.5 kW at
    240 V is 18.75 A, with 25 % more 23.4 A: a 25 A breaker and 10 AWG in T-107; every other branch is of 20 A at most and 12 AWG.

Revision B gives both prices, and T-101 six heaters in place of three: all of its row is twice as much.
"""

from __future__ import annotations

from collections.abc import Callable
from decimal import Decimal
from pathlib import Path

import openpyxl
import pytest

import batch
from batch.comparing.compare import compare_revisions
from batch.comparing.money_moves import PRICED_NOW, QUANTITY, UNIT_PRICE
from batch.quoting.offer import quote_project
from batch.reopening.reopen import open_revision
from tests.recalculation import needs_office, recalculated_all
from tests.samples import book, small

MATERIAL = {"T-101": 2712.45, "T-102": 2112.45, "T-103": 2341.16, "T-104": 4411.74, "T-105": 2718.675, "T-106": 806.905,
            "T-107": 1418.64, "T-108": 2408.30}  # fmt: skip
HOURS = {"T-101": 12.0, "T-102": 12.0, "T-103": 4.5, "T-104": 6.75, "T-105": 18.0, "T-106": 2.0, "T-107": 4.0, "T-108": 8.0}
PRICES = {  # 1.375 times material with freight and hours: of T-101 1.375 (2766.699 + 1200)
    "T-101": 5454.211125, "T-102": 4612.711125, "T-103": 3902.2269, "T-104": 7115.59035, "T-105": 6287.9416875, "T-106": 1406.6842625,
    "T-107": 2539.6426, "T-108": 4477.64075, "": 1375.0,
}  # fmt: skip
ASKED = {"T-101": 5454, "T-102": 4613, "T-103": 3902, "T-104": 7116, "T-105": 6288, "T-106": 1407, "T-107": 2540, "T-108": 4478,
         "General": 1375}  # fmt: skip
ASKED_A = ASKED | {"T-101": 2727, "T-104": None, "T-107": None}  # 1.375 (1383.3495 + 600) = 2727.1055625
HEATERS = {"HTR-101": 400, "HTR-102": 300, "HTR-103": 1100, "HTR-104": 1400, "HTR-105": 250, "HTR-106": 750, "HTR-107": 650, "HTR-108": 550}
BY_LENGTH = {"WIRE-12": (200, 1000), "WIRE-10": (300, 1000), "WIRE-12G": (100, 1000), "WIRE-10G": (200, 1000), "PVC80-1-2": (200, 100)}
THEIRS = (
    "heater panels", "contactors and disconnects", "enclosures", "board at the feeder", "supply to the board", "control circuit", "spares",
)  # fmt: skip


def written(path: Path, revision: str, change: Callable[[dict[str, list[dict[str, object]]]], None] | None = None) -> Path:
    tables = small.tables()
    tables["projects"][0] |= {"revision": revision, "distribution": None}
    for row in tables["heaters"]:
        row["panel_feeder_run_m"] = 0
    if revision == "B":
        tables["heaters"][0]["quantity"] = 6
    for row in tables["stock"]:
        if row["part"] in HEATERS:
            row |= {"unit_price": HEATERS[row["part"]], "field_h": 1.0}
        if row["part"] in BY_LENGTH:
            each, per = BY_LENGTH[row["part"]]
            row |= {"unit_price": each, "per_quantity": per, "field_h": 5.0 if row["part"] == "PVC80-1-2" else 0.0}
        if revision == "A" and row["part"] in ("HTR-104", "WIRE-10"):
            del row["unit_price"]
    tables["pricing"] = [{
        "project": small.PROJECT, "shop_rate": 0, "field_rate": 100, "end_m": 1.5, "device_run_m": 0, "wire_waste_pct": 5,
        "raceway_waste_pct": 0, "purchase_tax_pct": 0, "freight_pct": 2, "contingency_pct": 0, "overhead_pct": 10, "markup_pct": 25,
        "sales_tax_pct": 0, "round_to": 1,
    }]  # fmt: skip
    tables["scope"] = [{"project": small.PROJECT, "item": item, "by": "customer"} for item in THEIRS]
    tables["allowances"] = []
    tables["other_costs"] = [
        {"project": small.PROJECT, "what": "drawings", "scope_item": "drawings", "quantity": 2, "unit": "lot", "amount": 500}
    ]
    if change is not None:
        change(tables)
    book.write(path, small.TITLE, small.STORY, tables, us=True)
    return path


@pytest.fixture(scope="module")
def paths(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    folder = tmp_path_factory.mktemp("by_hand")
    return {revision: written(folder / f"{revision}.xlsx", revision) for revision in "AB"}


def summed(result: batch.JobResult, figure: str) -> dict[str, float]:
    """Of what bears cost, by tank; "" = the project's own and the feeders'."""
    found: dict[str, float] = {}
    for atom in result.money.atoms:
        found[atom.tank] = found.get(atom.tank, 0.0) + getattr(atom, figure)
    return found


def test_the_first_revision_lacks_two_prices_and_has_the_others(paths: dict[str, Path]) -> None:
    result = batch.check(paths["A"])
    still = [line for line in result.projects[0].materials if line.status == "open"]
    assert sorted((line.part, line.owner.tank, line.role) for line in still) == [
        ("HTR-104", "T-104", "heater"), ("WIRE-10", "T-107", "conductor"),
    ]  # fmt: skip
    quoted = quote_project(result, at_least=True)
    assert quoted.why == ("2 lines have no price: HTR-104, WIRE-10",)
    assert {place.tag: place.price for place in quoted.offer.positions} == {
        tag: None if price is None else Decimal(price) for tag, price in ASKED_A.items()
    }
    assert quoted.offer.total == Decimal(24790)  # 2727 + 4613 + 3902 + 6288 + 1407 + 4478 + 1375
    assert quote_project(result).offer.total is None


def test_the_second_revision_is_an_offer_of_the_figures_worked_by_hand(paths: dict[str, Path]) -> None:
    result = batch.check(paths["B"])
    assert summed(result, "material") == pytest.approx({**MATERIAL, "": 0.0})
    assert summed(result, "field_h") == pytest.approx({**HOURS, "": 0.0})
    heaters = {line.owner.tank: line.quantity for line in result.projects[0].materials if line.role == "heater"}
    assert heaters == {"T-101": 6, "T-102": 6, "T-103": 2, "T-104": 3, "T-105": 9, "T-106": 1, "T-107": 2, "T-108": 4}
    quoted = quote_project(result)
    assert quoted.why == () and quoted.offer.final
    assert {place.tag: place.price for place in quoted.offer.positions} == {tag: Decimal(price) for tag, price in ASKED.items()}
    assert quoted.offer.total == Decimal(37173)  # 5454 + 4613 + 3902 + 7116 + 6288 + 1407 + 2540 + 4478 + 1375
    assert result.checks and all(check.passes for check in result.checks)


def test_the_difference_is_of_the_causes_worked_by_hand(paths: dict[str, Path]) -> None:
    old, new = (open_revision(paths[revision], batch.PROGRAM) for revision in "AB")
    moves = {(move.part, move.cause): move.moved for move in compare_revisions(old, new).moves}
    assert moves == pytest.approx({
        ("HTR-101", QUANTITY): 1200.0, ("WIRE-12", QUANTITY): 28.98, ("WIRE-12G", QUANTITY): 7.245, ("PVC80-1-2", QUANTITY): 120.0,
        ("HTR-104", PRICED_NOW): 4200.0, ("WIRE-10", PRICED_NOW): 28.98,
    })  # fmt: skip


def test_waste_and_allowances_are_a_step_of_their_own(paths: dict[str, Path], tmp_path: Path) -> None:
    """Of revision B with three heaters in T-101 after all: six of them, 10 % waste of wire, and fittings of 25 % of the raceway's price.

    Quantities by the old rules: the material of T-101 once more, 1356.225. By the new ones: 5 % more of all wire, which is 438.4 without
    waste (460.32 / 1.05), and a quarter of 1370.00 of raceway. Each times 1.02 x 1.10 x 1.25 = 1.4025; six hours more at 137.50.
    """

    def three(tables: dict[str, list[dict[str, object]]]) -> None:
        tables["heaters"][0]["quantity"] = 3

    def changed(tables: dict[str, list[dict[str, object]]]) -> None:
        tables["pricing"][0]["wire_waste_pct"] = 10
        rule = {"allowance": "raceway fittings", "quantity": 25, "per": "per cent of raceway price"}
        tables["allowances"] = [{"project": small.PROJECT, **rule}]

    written(tmp_path / "three.xlsx", "B", three), written(tmp_path / "ten.xlsx", "B", changed)
    old, new = (open_revision(tmp_path / name, batch.PROGRAM) for name in ("three.xlsx", "ten.xlsx"))
    made = compare_revisions(old, new)
    moved = {step.step: step.moved for step in made.steps if abs(step.moved) > 1e-6}
    assert moved == pytest.approx({
        "quantities of parts": 1.4025 * 1356.225, "hours": 137.5 * 6, "waste and allowances": 1.4025 * (0.05 * 438.4 + 0.25 * 1370),
    })  # fmt: skip
    assert made.checks and all(check.passes for check in made.checks)
    again = compare_revisions(old, open_revision(paths["B"], batch.PROGRAM))
    assert [step.moved for step in again.steps if step.step == "waste and allowances"] == [0.0]


def test_what_a_per_cent_of_raceway_moves_is_told_by_its_causes(tmp_path: Path) -> None:
    """25 and then 30 % of 1370.00, of which T-101 has 120.00 less before: 25 % of 120, then 5 % of 1370. All steps add up."""

    def rule(quantity: float, heaters: int) -> Callable[[dict[str, list[dict[str, object]]]], None]:
        def change(tables: dict[str, list[dict[str, object]]]) -> None:
            own = {"project": small.PROJECT, "allowance": "raceway fittings", "per": "per cent of raceway price"}
            tables["allowances"] = [{**own, "quantity": quantity}]
            tables["heaters"][0]["quantity"] = heaters

        return change

    written(tmp_path / "a.xlsx", "B", rule(25, 3)), written(tmp_path / "b.xlsx", "B", rule(30, 6))
    made = compare_revisions(*(open_revision(tmp_path / name, batch.PROGRAM) for name in ("a.xlsx", "b.xlsx")))
    fittings = {move.cause: move.moved for move in made.moves if move.role == "raceway fittings"}
    assert fittings == pytest.approx({QUANTITY: 30.0, UNIT_PRICE: 68.5})
    moved = {step.step: step.moved for step in made.steps if abs(step.moved) > 1e-6}
    assert moved == pytest.approx({
        "quantities of parts": 1.4025 * (1356.225 + 30), "hours": 137.5 * 6, "waste and allowances": 1.4025 * 68.5,
    })  # fmt: skip
    assert all(check.passes for check in made.checks)


@needs_office
def test_libreoffice_works_out_the_same_prices(paths: dict[str, Path], tmp_path: Path) -> None:
    """Every formula of the second revision's results worked out anew: the price of each tank on Prices, to a hundred thousandth."""
    batch.size(paths["B"], tmp_path / "sized.xlsx")
    anew = recalculated_all([tmp_path / "sized.xlsx"], tmp_path)[tmp_path / "sized.xlsx"]
    sheet = openpyxl.load_workbook(anew, data_only=True)["Prices"]
    head = next(row for row in sheet.iter_rows() if any(cell.value == "Bears it" for cell in row))
    at = {str(cell.value).partition(" (")[0]: cell.column - 1 for cell in head if cell.value}
    found: dict[str, float] = {}
    for row in sheet.iter_rows(min_row=head[0].row + 1, values_only=True):
        if row[at["Bears it"]]:
            tank = row[at["Tank"]] or ""
            found[tank] = found.get(tank, 0.0) + row[at["Price"]]
    assert found == pytest.approx(PRICES, abs=1e-5)
