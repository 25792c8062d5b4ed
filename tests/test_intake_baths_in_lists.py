"""What a list of heaters says of its baths: sizes, liquids and temperatures, for the check of heat."""

from __future__ import annotations

from pathlib import Path

import pytest

import batch
from batch.intake.baths_in_lists import sizes_in
from batch.intake.job import read
from batch.records import Job
from tests.intake_book import book, codes

HEATERS = ["Tank", "Qty", "kW each", "Volts", "Ph"]
ONE, TWO = ["T-1", 2, 6, 480, 3], ["T-2", 3, 9, 480, 3]
INCH = 0.0254


def listed(folder: Path, *rows: list[object], **others: list[list[object]]) -> Job:
    (folder / "list.xlsx").write_bytes(book({"Sheet1": rows, **others}))
    return read(folder / "list.xlsx")


@pytest.mark.parametrize(
    ("text", "unit", "sides"),
    [
        ("96 x 36 x 48", "in", (96 * INCH, 36 * INCH, 48 * INCH)),
        ('96" x 36" x 48"', "", (96 * INCH, 36 * INCH, 48 * INCH)),
        ("96L x 36W x 48D", "in", (96 * INCH, 36 * INCH, 48 * INCH)),
        ("8'-0\" x 3'-0\" x 4'-0\"", "", (96 * INCH, 36 * INCH, 48 * INCH)),
        ("8 x 3 x 4 ft", "", (8 * 12 * INCH, 3 * 12 * INCH, 4 * 12 * INCH)),
        ("2400 × 900 × 1200 mm", "", (2.4, 0.9, 1.2)),
        ("2400/900/1200", "mm", (2.4, 0.9, 1.2)),
        ("2,4 x 0,9 x 1,2", "m", (2.4, 0.9, 1.2)),
        ("2.4 by 0.9 by 1.2 m", "", (2.4, 0.9, 1.2)),
        ("96 x 36 x 48", "", None),  # of what?
        ("96 x 36", "in", None),
        ("96 x 36 x TBD", "in", None),
        ("960 x 360 x 480", "m", None),  # out of reason
    ],
)
def test_three_measures_in_a_cell(text: str, unit: str, sides: tuple[float, ...] | None) -> None:
    found = sizes_in(text, unit)
    assert found == (pytest.approx(sides) if sides else None)


def test_a_heater_list_describes_its_tanks_and_heat_is_judged(tmp_path: Path) -> None:
    rows = [[*HEATERS, "Size L x W x D (in)", "Temp °F", "Solution"], [*ONE, "96x36x48", 160, "water"], [*TWO, "48x36x48", 140, "water"]]
    job = listed(tmp_path, *rows)
    first, second = job.tanks
    assert (first.tank, first.liquid, second.tank) == ("T-1", "water", "T-2")
    sides = first.length_m, first.width_m, first.depth_m, second.length_m
    assert sides == pytest.approx((96 * INCH, 36 * INCH, 48 * INCH, 48 * INCH))
    assert first.operating_c == pytest.approx(71.1111, abs=1e-3)
    assert (first.origin.cell("operating_c"), first.origin.cell("width_m")) == ("G2", "F2")
    assert "baths-from-list" in codes(job) and "heater-without-tank" not in codes(job)
    assert not any(one.code == "sheet-missing" and "Tanks" in one.message for one in job.findings)
    judged = [row.verdict for row in batch.check(tmp_path / "list.xlsx").projects[0].heat]
    assert judged == ["never gets there", "enough"]


@pytest.mark.parametrize(
    ("heading", "cell", "taken"),
    [
        ("Tank size (in), depth x width x length", "48 x 36 x 96", False),
        ("Size W x L x D (in)", "36 x 96 x 48", True),
        ("Size HxWxL in", "48 x 36 x 96", False),
        ("Panel size (in)", "24 x 20 x 14", False),
        ("Heater size (in)", "36 x 12 x 12", False),
        ("Dimensions (in)", "36 x 8 x 8", False),  # a heater's, perhaps
        ("Tank dimensions (in)", "36 x 8 x 8", True),
        ("Abmessungen L x B x H (mm)", "2400 x 900 x 1200", True),
        ("Maße LxBxT mm", "2400 x 900 x 1200", True),
    ],
)
def test_whose_size_and_in_which_order(heading: str, cell: str, taken: bool, tmp_path: Path) -> None:
    job = listed(tmp_path, [*HEATERS, "Temp (°F)", heading], [*ONE, 160, cell], [*TWO, 150, cell])
    assert [tank.length_m is not None for tank in job.tanks] == [taken, taken]


def test_the_length_of_a_heater_is_no_side_of_its_tank(tmp_path: Path) -> None:
    head = [*HEATERS, "Heater length (in)", "Tank width (in)", "Tank depth (in)"]
    first, _ = listed(tmp_path, head, [*ONE, 36, 36, 48], [*TWO, 36, 36, 48]).tanks
    assert first.length_m is None and first.width_m == pytest.approx(36 * INCH)


def test_volumes_that_no_bath_has_are_thousands(tmp_path: Path) -> None:
    head = ["Becken", "Anzahl", "kW je Stück", "Volt", "Phasen", "Inhalt [l]", "Temp. [°C]"]
    rows = [head, ["B1", 2, 6, 400, 3, "1.800", 60], ["B2", 2, 6, 400, 3, 950.5, "RT"]]
    first, second = listed(tmp_path, *rows).tanks
    assert (first.volume_l, first.operating_c, second.volume_l, second.operating_c) == (1800.0, 60.0, 950.5, None)


@pytest.mark.parametrize(("volts", "high", "read_as"), [(480, 160, 71.1), (480, 110, None), (480, 111, 43.9), (400, 160, None)])
def test_degrees_without_a_unit(volts: float, high: float, read_as: float | None, tmp_path: Path) -> None:
    """°F on North American volts, where a bath of water would boil at as many °C; else it is not read."""
    job = listed(tmp_path, [*HEATERS, "Temp"], ["T-1", 2, 6, volts, 3, high], ["T-2", 2, 6, volts, 3, high])
    found = job.tanks[0].operating_c if job.tanks else None
    assert found == (pytest.approx(read_as, abs=0.1) if read_as else None)
    assert ("baths-from-list" in codes(job)) is (read_as is not None)
    assert read_as is None or any("(°F, likely)" in one.message for one in job.findings)


def test_one_side_alone_may_be_a_heaters(tmp_path: Path) -> None:
    assert not listed(tmp_path, [*HEATERS, "Length (in)"], [*ONE, 36], [*TWO, 36]).tanks
    [first, _] = listed(tmp_path, [*HEATERS, "Tank length (in)"], [*ONE, 36], [*TWO, 36]).tanks
    assert first.length_m == pytest.approx(36 * INCH)
    [first, _] = listed(tmp_path, [*HEATERS, "Length (in)", "Width (in)"], [*ONE, 96, 36], [*TWO, 96, 36]).tanks
    assert (first.length_m, first.width_m) == (pytest.approx(96 * INCH), pytest.approx(36 * INCH))


def test_rows_of_one_tank_that_say_different_things(tmp_path: Path) -> None:
    rows = [[*HEATERS, "Gallons", "Temp °F"], [*ONE, 500, 160], ["T-1", 1, 3, 480, 3, 500, 140], [*TWO, 300, ""]]
    job = listed(tmp_path, *rows)
    first, second = job.tanks
    assert first.volume_l == pytest.approx(500 * 3.785412, abs=0.01) and first.operating_c is None
    assert (second.tank, second.operating_c) == ("T-2", None)
    [said] = [one.message for one in job.findings if one.code == "baths-from-list"]
    assert "G3 (another row of the tank says otherwise)" in said


def test_a_sheet_of_tanks_goes_before(tmp_path: Path) -> None:
    tanks = [["Tank", "Operating temperature (°F)"], ["T-1", 150]]
    job = listed(tmp_path, [*HEATERS, "Gallons", "Temp °F"], [*ONE, 500, 160], [*TWO, 300, 140], Tanks=tanks)
    by_tag = {tank.tank: tank for tank in job.tanks}
    assert by_tag["T-1"].operating_c == pytest.approx(65.6, abs=0.1) and by_tag["T-1"].volume_l == pytest.approx(1892.7, abs=0.1)
    assert by_tag["T-2"].operating_c == pytest.approx(60.0)
    assert not {"tank-repeated", "tank-without-heaters"} & codes(job)
    [said] = [one.message for one in job.findings if one.code == "bath-differs"]
    assert "Of T-1 the list on sheet Sheet1 says otherwise than Tanks does: Operating temperature" in said


def test_a_sheet_of_tanks_that_says_the_same_is_not_told(tmp_path: Path) -> None:
    tanks = [["Tank", "Operating temperature (°C)"], ["T-1", 71], ["T-2", 60]]
    job = listed(tmp_path, [*HEATERS, "Temp °F"], [*ONE, 160], [*TWO, 140], Tanks=tanks)
    assert "bath-differs" not in codes(job)


def test_two_lists_describe_the_same_tank_once(tmp_path: Path) -> None:
    rows = [[*HEATERS, "Gallons"], *([f"T-{at}", 2, 6, 480, 3, 500] for at in range(1, 7))]
    more = [[*HEATERS, "Gallons"], *([f"T-{at}", 1, 3, 480, 3, 350] for at in range(6, 12))]
    job = listed(tmp_path, *rows, Second=more)
    assert len(job.banks) == 12 and [tank.tank for tank in job.tanks] == [f"T-{at}" for at in range(1, 12)]
    assert "tank-repeated" not in codes(job) and len({tank.volume_l for tank in job.tanks if tank.tank == "T-6"}) == 1


def test_results_and_maps_tell_the_same_of_the_baths(tmp_path: Path) -> None:
    rows = [[*HEATERS, "Size (in)", "Temp °F"], [*ONE, "96x36x48", 160], [*TWO, "48x36x48", 140]]
    first = listed(tmp_path, *rows)
    (tmp_path / "own.toml").write_text(first.map_text, encoding="utf-8")
    path = tmp_path / "list.xlsx"
    by_map = batch.size(path, tmp_path / "mapped.xlsx", column_map=tmp_path / "own.toml").job
    batch.size(path, tmp_path / "once.xlsx")
    again = batch.size(tmp_path / "once.xlsx", tmp_path / "twice.xlsx").job
    for job in (by_map, again, batch.check(tmp_path / "twice.xlsx").job):
        assert [(tank.tank, tank.length_m, tank.depth_m, tank.operating_c) for tank in job.tanks] == [
            (tank.tank, tank.length_m, tank.depth_m, tank.operating_c) for tank in first.tanks
        ]
    (tmp_path / "own.toml").write_text(first.map_text.replace('unit = "°F"', 'unit = "°C"').replace("160", "60"), encoding="utf-8")
    corrected = batch.check(path, column_map=tmp_path / "own.toml").job
    assert corrected.tanks[1].operating_c == 140.0


def test_nothing_differs_from_the_results_of_a_list_that_describes_its_tanks(tmp_path: Path) -> None:
    listed(tmp_path, [*HEATERS, "Gallons", "Temp °F"], [*ONE, 500, 160], [*TWO, 300, 140])
    batch.size(tmp_path / "list.xlsx", tmp_path / "once.xlsx")
    compared = batch.compare(tmp_path / "list.xlsx", tmp_path / "once.xlsx", target=tmp_path / "compared.xlsx").steps[-1]
    assert not compared.changes and all(check.passes for check in compared.checks)


def test_what_changes_of_a_bath_is_said_once_of_its_tank(tmp_path: Path) -> None:
    listed(tmp_path, [*HEATERS, "Gallons", "Temp °F"], [*ONE, 500, 160], [*TWO, 300, 140])
    (tmp_path / "list.xlsx").rename(tmp_path / "old.xlsx")
    listed(tmp_path, [*HEATERS, "Gallons", "Temp °F"], [*ONE, 500, 170], [*TWO, 300, 140])
    compared = batch.compare(tmp_path / "old.xlsx", tmp_path / "list.xlsx", target=tmp_path / "compared.xlsx").whole
    changed = [compared.pairs[change.pair].either for change in compared.changes]
    assert [(one.table, "rides: temp °f" in one.values) for one in changed] == [("tanks", False), ("heaters", True)]
    assert all(check.passes for check in compared.checks)
