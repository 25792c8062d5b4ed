"""Result sheets as CSV and JSON: every row and column of every sheet, in the units that their headings name."""

from __future__ import annotations

import csv
import json
from pathlib import Path

import pytest

import batch
from batch.plain_tables import FORMULA, write_plain
from batch.schedules import RESULTS, rows
from tests.make_samples import HERE


@pytest.fixture(scope="module")
def result():
    return batch.check(HERE / "small-clean.xlsx")


@pytest.mark.parametrize("us", [False, True], ids=["si", "us"])
def test_csv_has_every_row_of_every_sheet_under_headings_with_units(result, us, tmp_path):
    folder = write_plain(result, tmp_path / "job sized.xlsx", "csv", us=us)
    assert folder == tmp_path / "job sized csv" and {path.stem for path in folder.iterdir()} == {sheet.name for sheet in RESULTS}
    for sheet in RESULTS:
        with (folder / f"{sheet.name}.csv").open(newline="", encoding="utf-8-sig") as file:
            heading, *lines = csv.reader(file)
        assert heading == [column.title(us) for column in sheet.columns]
        assert len(lines) == len(rows(result, sheet.id))


def test_figures_are_in_the_unit_that_the_heading_names(result, tmp_path):
    """1 ft is 0.3048 m exactly (international foot)."""
    turned = 0
    for us in (False, True):
        folder = write_plain(result, tmp_path / f"{us}.xlsx", "csv", us=us)
        for sheet in RESULTS:
            with (folder / f"{sheet.name}.csv").open(newline="", encoding="utf-8-sig") as file:
                shown = list(csv.DictReader(file))
            for column in (column for column in sheet.columns if (column.unit, column.us_unit) == ("m", "ft")):
                for line, row in zip(shown, rows(result, sheet.id), strict=True):
                    if row[column.key] is not None:
                        factor = 1 / 0.3048 if us else 1
                        assert float(line[column.title(us)]) == pytest.approx(row[column.key] * factor)
                        turned += 1
    assert turned > 20


def test_json_is_one_whole_file_of_the_same(result, tmp_path):
    path = write_plain(result, tmp_path / "job sized.xlsx", "json", us=False)
    told = json.loads(path.read_text(encoding="utf-8"))
    assert list(told) == [sheet.id for sheet in RESULTS]
    for sheet in RESULTS:
        assert [column["key"] for column in told[sheet.id]["columns"]] == [column.key for column in sheet.columns]
        assert len(told[sheet.id]["rows"]) == len(rows(result, sheet.id))
    at = [column["key"] for column in told["banks"]["columns"]].index("tank")
    assert [row[at] for row in told["banks"]["rows"]] == [row["tank"] for row in rows(result, "banks")]


def test_a_customers_text_is_no_formula():
    for text in ("=1+1", "@SUM(A1)", "-2+3", "+A1", "\tx"):
        assert FORMULA.match(text)
    for text in ("T-1", "-5", "+3.5", "- 12,5", "1=2", ""):
        assert not FORMULA.match(text)


def test_size_writes_them_beside_the_results(tmp_path: Path):
    told = batch.size(HERE / "small-clean.xlsx", tmp_path / "x.xlsx", also=("csv", "json"))
    assert (tmp_path / "x csv" / "Banks.csv").is_file() and (tmp_path / "x.json").is_file()
    assert sum("as plain tables" in line for line in told.about) == 2
