"""What is to be bought: counted by hand, priced where there is a price, said where there is none."""

from __future__ import annotations

import pytest
from msgspec.structs import replace

from batch.findings import Remarks
from batch.papers.gathering import gather_papers
from batch.price.scope import scope_item, supplied_by
from batch.records import PowerSource
from batch.results import JobResult, Material
from batch.sizing.materials import say_prices
from batch.sizing.project import size_job
from tests.job_builder import bank, codes, feeder, job, part, project, size


def quantities(result: JobResult, used_for: str) -> dict[str, float]:
    """Of what is used for that, by role."""
    [project] = result.projects
    return {row.role: row.quantity for row in project.materials if row.used_for == used_for}


def test_a_new_feeder_device_is_bought_and_an_existing_one_is_not() -> None:
    """Three lines: three fuses in one holder. 100 A that hang there already are not bought again."""
    fresh, existing = (size(bank(quantity=6), feeder(existing_device_a=given)) for given in (None, 100.0))
    used_for = next(row.used_for for row in fresh.projects[0].materials if row.role.startswith("feeder fuse"))
    assert quantities(fresh, used_for) == {"feeder fuse": 3, "feeder fused switch or holder": 1}
    assert quantities(existing, used_for) == {}


@pytest.mark.parametrize(
    ("given", "words"),
    [
        ({"of_this_job": "yes"}, ["112.5 kVA, 4160 V to 480 V, 3-phase, wye grounded, 3.5 %Z"]),
        (
            {"of_this_job": "yes", "kva": None, "primary_v": None, "z_pct": None},
            ["rating to be chosen, primary volts to be said to 480 V, 3-phase, wye grounded"],
        ),
        ({"of_this_job": "no"}, []),
        ({}, []),
        ({"of_this_job": "yes", "kind": "service"}, []),
    ],
)  # fmt: skip
def test_a_transformer_of_the_job_is_a_line_of_it(given: dict, words: list[str]) -> None:
    """Open until it is priced or said to be supplied by others: what is in the job is not left out of its price."""
    usual = {"project": "P-1", "source": "TX-1", "kva": 112.5, "z_pct": 3.5, "volts_v": 480.0, "phases": 3, "wires": 3,
             "system": "wye grounded", "primary_v": 4160.0}  # fmt: skip
    one = PowerSource(**usual | given)
    made = size_job(replace(job(bank(), feeder(source="TX-1", fault_ka=None)), sources=(one,)))
    lines = [line for line in made.projects[0].materials if line.role == "transformer"]
    assert [line.words.split(";")[0] for line in lines] == words
    assert all((line.quantity, line.price, line.owner.kind) == (1.0, None, "project") for line in lines)
    assert {supplied_by(line, {"transformer": "customer"}) for line in lines} == ({"customer"} if words else set())


@pytest.mark.parametrize(
    ("heaters", "shares", "raceways"),
    [(9, 1, 9), (9, 3, 4), (9, 8, 2), (8, 3, 3), (16, 3, 6), (2, 3, 1)],
)
def test_circuits_of_two_panels_share_no_raceway(heaters: int, shares: int, raceways: int) -> None:
    """9 heaters of three phases stand in panels of 5 and 4: three to a raceway, each panel asks for two."""
    made = size(bank(quantity=heaters, phases=3, circuits_in_raceway=shares))
    laid = [line.stretch for line in made.projects[0].materials if line.used_for == "branch" and line.role == "raceway"]
    assert [one.abreast for one in laid if one is not None] == [raceways]


@pytest.mark.parametrize(("by", "item"), [("panel", {"temperature control"}), ("others", set())])
def test_a_temperature_controller_in_the_panel_is_temperature_control(by: str, item: set[str]) -> None:
    """A quotation that prices one must not list temperature control as excluded."""
    lines = size(bank(), projects=project(controller_by=by)).projects[0].materials
    assert {scope_item(line) for line in lines if line.role == "temperature controller"} == item


def test_fuses_go_by_the_pole_and_holders_by_the_circuit() -> None:
    """Six heaters on pairs: twelve fuses in six holders; the panel feeder's three fuses stand in its control panel's fusible disconnect."""
    rows = {row.role: row.quantity for row in size(bank(quantity=6)).projects[0].materials if "fuse" in row.role}
    assert (rows["branch fuse"], rows["branch fuse holder"]) == (12, 6)
    assert rows["panel feeder fuse"] == 3 and "panel feeder fuse holder" not in rows
    two = {row.role: row.quantity for row in size(bank(quantity=16)).projects[0].materials}
    assert (two["panel feeder fuse"], two["panel feeder fuse holder"], two["disconnect"], two["contactor"]) == (6, 2, 1, 2)
    single = size(bank(quantity=1, phases=3, power_kw=9.0))
    rows = {row.role: row.quantity for row in single.projects[0].materials}
    assert rows["bank fuse"] == rows["fusible disconnect"] * 3 == 3 and "bank fuse holder" not in rows
    [drawing] = [one for one in gather_papers(single, "all", True, "us-letter", "").papers.papers if one.title.endswith("circuit: drawing")]
    assert [row[0] for row in drawing.tables[0].rows] == ["bank fuse", "contactor"]


@pytest.mark.parametrize(("price", "said"), [(None, {"price-missing"}), (0.0, set()), (2.5, set())])
def test_a_price_of_nothing_is_a_price(price: float | None, said: set[str]) -> None:
    """What the customer supplies costs nothing: it is not among what has no price."""
    row = Material("panels", "contactor", "C-50", "C-50, 50 A, 3-pole", 1.0, "ea", price, None)
    found = Remarks()
    say_prices([row], [part(part="C-50", kind="contactor", unit_price=price), part(part="X", unit_price=1.0)], found)
    assert codes(found) == said


@pytest.mark.parametrize(("given", "said"), [({"labour_h": 0.8}, True), ({"labour_h": 0.8, "field_h": 1.0}, False), ({}, False)])
def test_shop_hours_that_are_taken_on_site_are_said(given: dict, said: bool) -> None:
    listed = [part(part="H-6", kind="heater", power_kw=6.0, volts_v=480.0, phases=1, unit_price=400.0, **given)]
    assert ("shop-hours-on-site" in codes(size(bank(), stock=listed).findings)) is said
