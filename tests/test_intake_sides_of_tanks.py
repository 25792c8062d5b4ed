"""Length, width and depth of tanks in three columns under one heading of sizes, however the sides are headed."""

from __future__ import annotations

from pathlib import Path

import pytest

import batch
from batch.intake import read
from batch.records import Job
from tests.intake_book import book

FT = 0.3048
SIZES = [("12'-0\"", "4'-0\"", "5'-6\""), ("10'-0\"", "3'-6\"", "4'-0\"")]
REST = [[2, 6, 480, 3], [3, 9, 480, 3]]
HEATERS = ["Qty", "kW each", "Volts", "Ph"]


def listed(folder: Path, heads: list[list[object]], sizes: list[tuple[object, ...]], merged: list[str]) -> Job:
    rows = [[f"T-{at}", *three, *rest] for at, (three, rest) in enumerate(zip(sizes, REST, strict=True), 1)]
    (folder / "list.xlsx").write_bytes(book({"Heating": [*heads, *rows]}, merged={"Heating": merged}))
    return read(folder / "list.xlsx")


def sides(job: Job) -> list[tuple[float | None, ...]]:
    return [(one.length_m, one.width_m, one.depth_m) for one in job.tanks]


def heads_of(name: str, three: tuple[str, ...] = ()) -> list[list[object]]:
    over: list[object] = ["Tank", name, None, None, *HEATERS]
    return [over, [None, *three, *[None] * len(HEATERS)]] if three else [over]


@pytest.mark.parametrize("three", [(), ("L", "W", "D"), ("Length", "Width", "Depth"), ("L", "W", "H")])
def test_feet_and_inches_in_three_columns(three: tuple[str, ...], tmp_path: Path) -> None:
    job = listed(tmp_path, heads_of("Tank size", three), list(SIZES), ["B1:D1"])
    assert sides(job) == [pytest.approx((12 * FT, 4 * FT, 5.5 * FT)), pytest.approx((10 * FT, 3.5 * FT, 4 * FT))]
    assert [(bank.tank, bank.quantity, bank.power_kw) for bank in job.banks] == [("T-1", 2, 6), ("T-2", 3, 9)]
    (tmp_path / "map.toml").write_text(job.map_text, encoding="utf-8")
    by_map = read(tmp_path / "list.xlsx", column_map=batch.column_map(tmp_path / "map.toml"))
    assert sides(by_map) == sides(job)


def test_each_side_is_that_of_its_own_heading(tmp_path: Path) -> None:
    job = listed(tmp_path, heads_of("Tank dimensions (in)", ("Depth", "Length", "Width")), [(66, 144, 48), (48, 120, 42)], ["B1:D1"])
    assert sides(job)[0] == pytest.approx((12 * FT, 4 * FT, 5.5 * FT))


def test_letters_in_the_row_of_units_are_sides_and_no_units(tmp_path: Path) -> None:
    heads = [
        ["TANK", None, None, None, "HEATERS", None, "SUPPLY", None],
        ["Tag", "Size", None, None, "Qty", "Rating each", "Voltage", "Phase"],
        [None, "L", "W", "D", None, "kW", "V", None],
    ]  # fmt: skip
    job = listed(tmp_path, heads, list(SIZES), ["A1:D1", "E1:F1", "G1:H1", "B2:D2"])
    assert sides(job)[0] == pytest.approx((12 * FT, 4 * FT, 5.5 * FT)) and len(job.banks) == 2


def test_sizes_of_something_else_and_figures_without_a_unit_are_not_taken(tmp_path: Path) -> None:
    for name, sizes in (("Heater size", list(SIZES)), ("Tank size", [(144, 48, 66), (120, 42, 48)])):
        assert sides(listed(tmp_path, heads_of(name, ("L", "W", "D")), list(sizes), ["B1:D1"])) in ([], [(None, None, None)] * 2)


def test_letters_over_a_unit_of_length_are_the_sides_of_the_tank_and_its_material_is_no_sheath(tmp_path: Path) -> None:
    rows = [
        ["Heizungsliste Linie 2 (erfunden), 400 V 3~"], ["Bad", "Werkstoff Wanne", "L", "B", "T", "Anzahl", "Leistung je Heizer"],
        [None, None, "mm", "mm", "mm", "Stk", "kW"], ["B1", "PP", 2000, 800, 1000, 3, 6], ["B2", "Stahl", 2000, 900, 1100, 2, 6],
    ]  # fmt: skip
    (tmp_path / "list.xlsx").write_bytes(book({"Liste": rows}))
    job = read(tmp_path / "list.xlsx")
    assert sides(job) == [(2.0, 0.8, 1.0), (2.0, 0.9, 1.1)]
    assert [one.tank_material for one in job.tanks] == ["PP", "Stahl"] and [bank.sheath for bank in job.banks] == [None, None]
