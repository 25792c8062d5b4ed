"""The comparison is fair: BARE writes the very cells, formulas and formats that the product wrote. Nothing is timed here."""

from __future__ import annotations

from pathlib import Path

import openpyxl

import batch
from tests.benchmarks import bare, by_script, cells, jobs


def test_bare_writes_the_same_cells(tmp_path: Path) -> None:
    job, sized, copy = tmp_path / "job.xlsx", tmp_path / "sized.xlsx", tmp_path / "copy.xlsx"
    jobs.write(job, 6)
    assert bare.read(job) > 6 * 10
    batch.size(job, sized)
    ours = cells.capture(sized)
    bare.write(ours, copy)
    theirs = cells.capture(copy)
    assert [sheet["name"] for sheet in theirs["sheets"]] == [sheet["name"] for sheet in ours["sheets"]]
    for one, other in zip(ours["sheets"], theirs["sheets"], strict=True):
        assert [cell[:5] for cell in other["cells"]] == [cell[:5] for cell in one["cells"]], one["name"]
        looks = [(ours["formats"][a[5]], theirs["formats"][b[5]]) for a, b in zip(one["cells"], other["cells"], strict=True)]
        assert all(look.items() <= kept.items() for look, kept in looks), one["name"]
        assert len(other["tables"]) == len(one["tables"])
    assert sum(len(sheet["cells"]) for sheet in ours["sheets"]) > 1000
    assert any(cell[2] == "formula" for sheet in ours["sheets"] for cell in sheet["cells"])


def test_the_script_of_an_estimator_works_the_list_out(tmp_path: Path) -> None:
    """Bank of the first row: 12 heaters of 4 kW on 480 V, single-phase. By hand: 4000 / 480 = 8.33 A a heater, 10.42 A with 125 %, so 15 A
    (10 A is less) and 14 AWG; 12 x 4000 / (480 sqrt 3) = 57.7 A, 72.2 A with 125 %, so 80 A and 4 AWG (85 A; 6 AWG has 65).
    """
    jobs.write(tmp_path / "job.xlsx", 3)
    by_script.main(str(tmp_path / "job.xlsx"), str(tmp_path / "out.xlsx"))
    rows = list(openpyxl.load_workbook(tmp_path / "out.xlsx")["Banks"].iter_rows(values_only=True))
    assert len(rows) == 4
    tank, feeder, count, power, each, least, fuse, wire, bank, bank_fuse, bank_wire = rows[1]
    assert (count, power, fuse, wire, bank_fuse, bank_wire) == (12, 4, "15", "14", "80", "4")
    assert [round(figure, 2) for figure in (each, least, bank)] == [8.33, 10.42, 57.74] and tank and feeder


def test_jobs_have_as_many_banks_as_asked(tmp_path: Path) -> None:
    jobs.write(tmp_path / "job.xlsx", 450)  # more than one copy of the plant
    result = batch.check(tmp_path / "job.xlsx")
    banks = [row for project in result.projects for row in project.banks]
    assert len(banks) == 450
    assert all(check.passes for check in result.checks)
