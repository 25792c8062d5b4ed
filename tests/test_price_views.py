"""Prices by tank and by feeder: every bearer of cost once in either, the positions of the quotation, and nothing blank taken for nought."""

from __future__ import annotations

from pathlib import Path

import pytest
from msgspec.structs import replace

import batch
from batch.material_lines import BUILD
from batch.price.cost_chain import rounded
from batch.price.price_views import FEEDER, TANK, TYPE, viewed
from batch.price.type_sums import HEATERS, REST, by_type
from batch.quoting.offer import quote_project
from batch.results import JobResult
from batch.schedules import rows
from batch.schedules.money_checks import money_checks
from tests.make_samples import HERE
from tests.samples import book, small


@pytest.fixture(scope="module")
def result() -> JobResult:
    return batch.check(HERE / "small-clean.xlsx")


@pytest.mark.parametrize("kind", [TANK, FEEDER])
def test_every_bearer_of_cost_is_in_one_view_of_either_kind(result: JobResult, kind: str) -> None:
    money = result.money
    seen = [atom.number for view in money.views if view.kind == kind for atom in view.atoms]
    assert sorted(seen) == [atom.number for atom in money.atoms]
    assert {view.number for view in money.views} == set(range(1, len(money.views) + 1))
    own = {atom.number: view.number for view in money.views if view.kind == kind for atom in view.atoms}
    assert own == {atom.number: atom.by_tank if kind == TANK else atom.by_feeder for atom in money.atoms}


def test_views_counted_by_hand(result: JobResult) -> None:
    """Eight tanks, each its bank and its control panel, and of no tank two feeders and the project; on F-1 six banks and its own, on F-2
    two and its own, on none eight control panels and the project."""
    shown = {(row["kind"], row["name"]): row["count"] for row in rows(result, "price_views") if row["kind"] != "by type"}
    assert shown == {("by tank", f"T-10{n}"): 2 for n in range(1, 9)} | {
        ("by tank", "no tank: feeders' own and the project's"): 3, ("by feeder", "F-1"): 7, ("by feeder", "F-2"): 3,
        ("by feeder", "no feeder: tanks' own and the project's"): 9,
    }  # fmt: skip


def test_a_tank_s_view_is_its_position_before_it_is_rounded(result: JobResult) -> None:
    asked = {place.tag: place.price for place in quote_project(result).offer.positions}
    for row in rows(result, "price_views"):
        if row["name"] in asked:
            assert asked[row["name"]] == rounded(row["price"], 1.0)


def test_without_a_rate_views_have_no_price(tmp_path: Path) -> None:
    tables = small.tables()
    tables["pricing"][0]["markup_pct"] = None
    book.write(tmp_path / "job.xlsx", small.TITLE, small.STORY, tables)
    shown = rows(batch.check(tmp_path / "job.xlsx"), "price_views")
    assert len([row for row in shown if row["kind"] != "by type"]) == 12 and len(shown) > 12
    assert all(row["price"] is None and row["full"] > 0 for row in shown)


def test_tags_that_differ_in_case_are_one_view_and_projects_are_apart(result: JobResult) -> None:
    first, second = result.money.atoms[:2]
    other = second.rates._replace(project="SECOND")
    made, views = viewed([first, second._replace(tank=first.tank.lower()), second._replace(number=3, tank=first.tank, rates=other)])
    assert [(view.rates.project, view.kind, [atom.number for atom in view.atoms]) for view in views] == [
        (first.rates.project, TANK, [1, 2]), (first.rates.project, FEEDER, [1, 2]), ("SECOND", TANK, [3]), ("SECOND", FEEDER, [3]),
    ]  # fmt: skip
    assert [(atom.by_tank, atom.by_feeder) for atom in made] == [(1, 2), (1, 2), (3, 4)]


def test_a_bearer_left_out_of_a_view_fails_its_check(result: JobResult) -> None:
    views = tuple(one._replace(atoms=one.atoms[:-1]) if (one.kind, one.name) == (FEEDER, "F-2") else one for one in result.money.views)
    short = replace(result, money=result.money._replace(views=views))
    assert {check.what for check in money_checks(short) if not check.passes} == {"Price views by feeder = price of the project"}


def test_a_type_s_view_is_its_bill_as_often_as_it_is_built_and_its_position(result: JobResult) -> None:
    """One row for each bill, its price that of the position by type before it is rounded, and of one of them so many times less."""
    shown = {row["name"]: row for row in rows(result, "price_views") if row["kind"] == "by type"}
    lines = result.projects[0].materials
    assert shown.keys() == {line.owner.name for line in lines if line.owner.kind == BUILD}
    asked = {place.tag: place for place in quote_project(result, by="type").offer.positions}
    for name, row in shown.items():
        own = [line for line in lines if line.owner.name == name]
        assert row["built"] == own[0].builds == asked[name].quantity
        assert row["material"] == pytest.approx(sum(line.amount * line.unit_price / line.per for line in own))
        assert asked[name].price == rounded(row["price"], 1.0) and row["price_one"] == pytest.approx(row["price"] / row["built"])
    assert len({name.split()[0] for name in shown}) > 1  # panel types and control panels


def test_a_type_left_out_of_its_view_fails_its_check(result: JobResult) -> None:
    short = replace(result, money=result.money._replace(views=result.money.views[:-1]))
    assert result.money.views[-1].kind == TYPE
    assert {check.what.partition(" = ")[0] for check in money_checks(short) if not check.passes} == {
        "Price views by type + heaters, runs and the rest"
    }


def test_freight_as_a_sum_is_in_a_position_by_type_though_nothing_else_is_of_the_project(result: JobResult) -> None:
    """A project of heaters alone: 500 of freight at the rates of the sample are with what is left."""
    atoms = [atom._replace(freight_sum=500.0 * (atom.kind == "project")) for atom in result.money.atoms]
    heaters = [line for line in result.projects[0].materials if line.role == "heater"]
    rates = atoms[0].rates
    sums = by_type(heaters, atoms)
    assert sums.keys() == {HEATERS, REST} and REST not in by_type(heaters, [*result.money.atoms])
    more = 500 * (1 + rates.contingency_pct / 100) * (1 + rates.overhead_pct / 100) * (1 + rates.markup_pct / 100)
    assert sums[REST][1] == pytest.approx(more)


def test_positions_by_type_are_checked_as_those_by_tank_are(result: JobResult) -> None:
    """A line without its price in the lines alone: positions by type miss it, those by tank are of what was added up."""
    lines = result.projects[0].materials
    heater = next(line for line in lines if line.role == "heater" and line.price)
    dearer = tuple(line._replace(unit_price=2 * line.unit_price) if line is heater else line for line in lines)
    changed = replace(result, projects=(replace(result.projects[0], materials=dearer),))
    found = {check.what for check in money_checks(changed) if not check.passes and check.what.startswith("Quotation by ")}
    assert found == {
        "Quotation by panel type, heaters, runs and the rest, positions rounded once = price before tax, off by at most half a step each"
    }
