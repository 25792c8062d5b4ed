"""The comparison is fair: BARE writes the very cells, formulas and formats that the product wrote. Nothing is timed here."""

from __future__ import annotations

from pathlib import Path

import batch
from tests.benchmarks import bare, cells, jobs


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


def test_jobs_have_as_many_banks_as_asked(tmp_path: Path) -> None:
    jobs.write(tmp_path / "job.xlsx", 450)  # more than one copy of the plant
    result = batch.check(tmp_path / "job.xlsx")
    banks = [row for project in result.projects for row in project.banks]
    assert len(banks) == 450
    assert all(check.passes for check in result.checks)
