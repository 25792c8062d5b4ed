"""The sheet Heat and its part of Summary: what they say of invented tanks, to how many figures, and what follows when somebody types."""

from __future__ import annotations

from pathlib import Path

import openpyxl
import pytest

import batch
from batch.heat_results import NOT_JUDGED, VERDICTS
from batch.report.heat_summary import WORST
from batch.schedules import rows
from batch.schedules.heat_schedule import HEAT
from batch.sizing.tank_heat import two_figures, two_figures_up
from batch.writing.as_sized import extended
from batch.writing.styles import EDITED, FORMATS
from tests.recalculation import needs_office, recalculated
from tests.samples import book, heat_faults
from tests.workbook_edits import typed

KEYS = [column.key for column in extended(HEAT).columns]
DATA = 6  # first row of data, as a person counts
STATED = (
    "rest_kw", "walls_kw", "idle_kw", "working_kw", "work_kw", "makeup_kw", "air_kw", "up_kw", "hold_kw", "need_kw", "low_kw", "high_kw",
    "hours_h", "up_kwh", "day_kwh",
)  # fmt: skip


def job(path: Path, tanks: list[dict] | None = None, **project: object) -> Path:
    """The tanks of the sample with every finding, in a job of their own."""
    tables = {
        "projects": [{"project": heat_faults.PROJECT, **project}],
        "feeders": heat_faults.feeders(),
        "tanks": heat_faults.tanks() if tanks is None else tanks,
        "heaters": heat_faults.heaters()[:-1],
    }
    book.write(path, "odd tanks", (), {name: listed for name, listed in tables.items() if listed})
    return path


@pytest.fixture(scope="module")
def results(tmp_path_factory) -> Path:
    folder = tmp_path_factory.mktemp("heat")
    batch.size(job(folder / "odd.xlsx", energy_price=0.25, currency="USD"), folder / "sized.xlsx")
    return folder / "sized.xlsx"


def heat(path: Path) -> list[dict[str, object]]:
    sheet = openpyxl.load_workbook(path, data_only=True)["Heat"]
    return [dict(zip(KEYS, row, strict=True)) for row in sheet.iter_rows(min_row=DATA, values_only=True)]


def summary(path: Path) -> list[list[object]]:
    book = openpyxl.load_workbook(path, data_only=True)
    [name] = [name for name in book.sheetnames if name.startswith("Summary")]
    return [list(row) for row in book[name].iter_rows(values_only=True)]


def test_a_kilowatt_in_a_large_open_tank_is_called_what_it_is(results: Path) -> None:
    """HT-01, 10 x 4 ft, open, at 140 °F with one heater of 1 kW, heads the list of Summary; the counts above it are those of Heat."""
    lines = summary(results)
    at = next(at for at, line in enumerate(lines) if line[0] == "never gets there")
    counts = dict(zip(lines[at][::2], lines[at + 1][::2], strict=True))
    verdicts = [row["verdict"] for row in heat(results)]
    assert {word: counts[word] for word in VERDICTS} == {word: verdicts.count(word) for word in VERDICTS}
    assert counts["never gets there"] == 1 and counts[NOT_JUDGED] == 2
    head = next(at for at, line in enumerate(lines) if line[:2] == ["Tank", "Need (kW)"])
    worst = lines[head + 1]
    assert worst[0] == "HT-01" and worst[1] == 36 and worst[4] == 1 and "never gets there" in worst
    opened = openpyxl.load_workbook(results)
    [name] = [name for name in opened.sheetnames if name.startswith("Summary")]
    assert opened[name].cell(head + 2, 5).number_format == FORMATS["kw"]  # 11.96 kW on a need of 12 is not shown as 12.0
    assert any("2 of 22 tanks not judged" in str(line[0]) for line in lines)


def test_the_worst_stand_first_and_none_that_is_not_judged(results: Path) -> None:
    lines = summary(results)
    head = next(at for at, line in enumerate(lines) if line[:2] == ["Tank", "Need (kW)"])
    listed = lines[head + 1 : head + 1 + WORST]
    over = [line[6] for line in listed[1:]]
    assert over == sorted(over)
    assert not {line[0] for line in listed} & {"HT-04", "HT-09"}
    others = [row for row in heat(results) if row["need_kw"] and row["tank"] not in {line[0] for line in listed}]
    assert len(others) == 22 - 2 - WORST
    assert 100 * min(row["installed_kw"] / row["need_kw"] for row in others) >= over[-1]


def test_no_need_is_stated_to_three_figures(results: Path) -> None:
    for row in heat(results):
        for key in STATED:
            if row[key] is not None:
                assert row[key] == two_figures(row[key]), (row["tank"], key, row[key])


def test_energy_and_its_price(results: Path) -> None:
    """HT-06 needs 4.6 kW to hold: 24 h are 110.4 kWh, stated 110, at 0.25 USD 27.50."""
    row = next(row for row in heat(results) if row["tank"] == "HT-06")
    assert row["hold_kw"] == 4.6
    assert (row["day_kwh"], row["day_cost"]) == (110.0, 27.5)
    assert row["up_kwh"] == two_figures(row["installed_kw"] * row["hours_h"])
    assert row["up_cost"] == pytest.approx(0.25 * row["up_kwh"])


def test_without_a_price_there_is_no_cost(tmp_path: Path) -> None:
    listed = rows(batch.check(job(tmp_path / "job.xlsx")), "heat")
    assert all(row["day_cost"] is None and row["up_cost"] is None for row in listed)
    assert any(row["day_kwh"] for row in listed)


def test_without_tank_data_heat_is_left_out_and_said(tmp_path: Path) -> None:
    target = tmp_path / "sized.xlsx"
    batch.size(job(tmp_path / "job.xlsx", tanks=[]), target)
    book = openpyxl.load_workbook(target)
    assert "Heat" not in book.sheetnames
    assert any("No tank could be judged, of 22" in str(line[0]) for line in summary(target))
    left_out = next(row for row in book["Read first"].iter_rows(values_only=True) if row[0] == "Left out")
    assert "Heat" in str(left_out[2])


@needs_office
def test_what_is_typed_into_heat_moves_its_verdict_and_is_said(results: Path, tmp_path: Path) -> None:
    """36 kW typed over the 18 of HT-02, which needs 36: marginal now, and edited; its losses typed over move what it needs to hold."""
    row = DATA + 1

    def cell(key: str) -> str:
        return f"{openpyxl.utils.get_column_letter(KEYS.index(key) + 1)}{row}"

    edited = typed(results, tmp_path / "typed.xlsx", {"Heat": {cell("installed_kw"): 36, cell("working_kw"): 50}})
    found = heat(recalculated(edited, tmp_path))[1]
    assert (found["tank"], found["edited"]) == ("HT-02", EDITED)
    assert found["hold_kw"] == two_figures_up(50 + found["walls_kw"] + found["work_kw"] + found["makeup_kw"])
    assert found["need_kw"] == found["hold_kw"] > 36 and found["verdict"] == "short"
    for kw, over_pct, verdict in ((36, 100, "marginal"), (35.9999, 99.9, "short"), (43.2, 120, "enough"), (43.1999, 119.9, "marginal")):
        only = typed(results, tmp_path / "only.xlsx", {"Heat": {cell("installed_kw"): kw}})
        line = heat(recalculated(only, tmp_path))[1]
        assert (line["over_pct"], line["verdict"]) == (over_pct, verdict)
