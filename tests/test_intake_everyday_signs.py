"""Signs and words of ordinary lists that stand for little and decided much: Ø, W (each), area numbers, old supplies. All invented."""

from __future__ import annotations

from pathlib import Path

import pytest

from batch.intake.heading_sense import sense
from batch.intake.tags import read_tags
from tests.intake_book import read_sheets
from tests.test_intake_plain_lists import codes, read_list
from tests.test_intake_supply_groups import supplies

HEAD: list[object] = ["Tank", "Qty", "kW each", "Volts", "Ph"]


@pytest.mark.parametrize("sign", ["3Ø", "3 Ø", "3φ"])
def test_a_supply_with_a_sign_for_phases_is_no_name_of_a_feeder(sign: str, tmp_path: Path) -> None:
    head = ["Tank", "Heaters", "Supply", "Total kW"]
    job = read_list(tmp_path, head, ["A", "6 x 15 kW", f"415 V {sign}", 90], ["B", "2 x 9 kW", f"415 V {sign}", 18])
    assert supplies(job) == {"A": (415.0, 3), "B": (415.0, 3)}
    job = read_list(tmp_path, [*HEAD, "Supply"], ["A", 1, 9, 415, 3, f"MCC-2 415 V {sign}"])
    assert job.banks[0].feeder is not None  # a panel's name stands there too


@pytest.mark.parametrize("heading", ["Heater W (each)", "Heater W each", "W (ea)", "Element W [each]"])
def test_watts_of_each_heater(heading: str, tmp_path: Path) -> None:
    job = read_list(tmp_path, ["Tank", "Qty", heading, "Volts", "Ph"], ["A", 2, 9000, 415, 3], ["B", 1, 2400, 240, 1])
    assert [(one.quantity, one.power_kw) for one in job.banks] == [(2, 9.0), (1, 2.4)]
    assert (found := sense("Temperatura W (°C)")) is None or found.unit != "W"


def test_a_tag_with_the_number_of_its_area_is_one_tank() -> None:
    assert read_tags("410-T-01").tags == ("410-T-01",) and not read_tags("410-T-01").doubt
    assert read_tags("41-TK-7B").tags == ("41-TK-7B",) and not read_tags("41-TK-7B").doubt
    assert read_tags("T-4 to T-6").tags == ("T-4", "T-5", "T-6")
    assert len(read_tags("T1-T3").tags) == 3


def test_a_description_that_is_not_the_total_of_its_row_is_asked(tmp_path: Path) -> None:
    head = ["Tank", "Immersion heaters", "Total kW", "Volts", "Ph"]
    rows = [["A", "6 x 15 kW", 90, 415, 3], ["B", "2 x 9 kW", 18, 415, 3], ["C", "4 x 12 kW", 48, 415, 3], ["D", "3 x 9 kW", 36, 415, 3]]
    job = read_list(tmp_path, head, *rows)
    assert [one.tank for one in job.banks] == ["A", "B", "C"]


def test_a_supply_that_is_called_old_makes_no_older_issue_of_a_list(tmp_path: Path) -> None:
    row = ["A-1", 2, 6, 400, 3]
    sheets = {"Baths": [["Supply N 400 V 3 ph (new), O 230 V 3 ph (old)"], [], HEAD, row], "Reserve": [["Spare heaters"], [], HEAD, row]}
    job = read_sheets(tmp_path, sheets)
    assert [one.tank for one in job.banks] == ["A-1"] and "issue-older" not in codes(job)
    sheets["Baths"][0] = ["Old list, superseded"]
    sheets["Line"] = [["Heaters"], [], HEAD, ["A-1", 3, 6, 400, 3]]
    assert [one.quantity for one in read_sheets(tmp_path, sheets).banks] == [3]


OUT = ["not in this order", "supplied with tank package", "hot air, not immersion", "aria calda, non immersione"]


@pytest.mark.parametrize("remark", OUT)
def test_what_is_not_ordered_or_heats_air_is_not_sized(remark: str, tmp_path: Path) -> None:
    job = read_list(tmp_path, [*HEAD, "Notes"], ["A", 1, 9, 400, 3, ""], ["B", 1, 24, 400, 3, remark])
    assert [one.tank for one in job.banks] == ["A"]
