"""Prices by tank and by feeder: every bearer of cost once in either, the positions of the quotation, and nothing blank taken for nought."""

from __future__ import annotations

from pathlib import Path

import pytest
from msgspec.structs import replace

import batch
from batch.price.cost_chain import rounded
from batch.price.price_views import FEEDER, TANK, viewed
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
    shown = {(row["kind"], row["name"]): row["count"] for row in rows(result, "price_views")}
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
    assert len(shown) == 12 and all(row["price"] is None and row["full"] > 0 for row in shown)


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
