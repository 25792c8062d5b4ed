"""What results are called, and that they never take the place of another job's."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from pathlib import Path

import openpyxl
import pytest

import batch
from batch.cli import closing_table as closing
from batch.cli.app import main
from batch.errors import OutputFileError
from batch.file_names import job_name, results_name
from tests.sample_results import SMALL, sized


@pytest.mark.parametrize(
    ("name", "results", "job"),
    [
        ("JOB.xlsx", "JOB sized.xlsx", "JOB"),
        ("JOB.csv", "JOB sized.xlsx", "JOB"),
        ("JOB sized.xlsx", "JOB sized (2).xlsx", "JOB"),
        ("JOB sized (2).xlsx", "JOB sized (3).xlsx", "JOB"),
        ("JOB sized (9).xlsx", "JOB sized (10).xlsx", "JOB"),
        ("JOB (2).xlsx", "JOB (2) sized.xlsx", "JOB (2)"),
        ("undersized.xlsx", "undersized sized.xlsx", "undersized"),
    ],
)
def test_results_of_results_have_the_next_number_and_belong_to_one_job(name: str, results: str, job: str) -> None:
    assert results_name(name) == results
    assert job_name(name) == job_name(results) == job


@pytest.fixture
def job(tmp_path: Path) -> Path:
    return Path(shutil.copy(Path("sample_jobs") / SMALL, tmp_path / "bid.xlsx"))


def test_no_sizing_ever_makes_sized_sized(job: Path) -> None:
    path = job
    for wanted in ("bid sized.xlsx", "bid sized (2).xlsx", "bid sized (3).xlsx"):
        result = batch.size(path)
        path = Path(result.written)
        assert (path.name, result.aside) == (wanted, "")
    assert len(list(job.parent.iterdir())) == 4


def test_another_jobs_results_are_not_written_over(job: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    other = Path(shutil.copy(sized(SMALL).path, tmp_path / "sum.xlsx"))  # results of another workbook, as they were written
    before = other.read_bytes()
    assert main(["size", str(job), "-o", str(other)]) == closing.FILE_FAULT == 3
    [line] = capsys.readouterr().err.splitlines()
    assert f"{other}: holds the results of {SMALL}, which is another job; nothing was changed: name another file with -o" in line
    assert other.read_bytes() == before
    assert {path.name for path in tmp_path.iterdir()} == {"bid.xlsx", "sum.xlsx"}


@pytest.mark.parametrize("work", [batch.size, lambda job, target, progress: batch.compare(job, job, target=target, progress=progress)])
def test_another_jobs_results_are_refused_before_anything_is_sized(job: Path, tmp_path: Path, work: Callable) -> None:
    """10,000 banks were read and sized, 12 s, before the refusal."""
    other = Path(shutil.copy(sized(SMALL).path, tmp_path / "sum.xlsx"))
    stages: list[tuple] = []
    with pytest.raises(OutputFileError, match="which is another job"):
        work(job, other, progress=lambda *stage: stages.append(stage))
    assert stages == []
    free = tmp_path / "free.xlsx"
    work(job, free, progress=lambda *stage: stages.append(stage))
    assert stages and free.exists()


def test_and_again_when_they_are_written(job: Path, tmp_path: Path) -> None:
    """Results of another job that somebody puts there while a plant is sized are not written over."""
    target, held = tmp_path / "sum.xlsx", sized(SMALL).path.read_bytes()
    with pytest.raises(OutputFileError, match="which is another job"):
        batch.size(job, target, progress=lambda *stage: target.write_bytes(held))
    assert target.read_bytes() == held


def test_nor_where_another_program_has_saved_them(job: Path, tmp_path: Path) -> None:
    book, other = openpyxl.load_workbook(sized(SMALL).path), tmp_path / "sum.xlsx"
    book.save(other)
    before = other.read_bytes()
    assert main(["size", str(job), "-o", str(other)]) == closing.FILE_FAULT
    assert other.read_bytes() == before


def test_its_own_results_are_replaced_whether_sized_from_the_job_or_from_results(job: Path, tmp_path: Path) -> None:
    target = tmp_path / "for the shop.xlsx"
    for source in (job, job, Path(batch.size(job).written)):
        before = target.read_bytes() if target.exists() else b""
        result = batch.size(source, target, stamp=source.name if before else "")
        assert (result.written, result.aside) == (str(target), "")
        assert target.read_bytes() != before


def test_a_comparison_does_not_take_the_place_of_results(job: Path, tmp_path: Path) -> None:
    one = Path(batch.size(job).written)
    target = Path(shutil.copy(one, tmp_path / "kept.xlsx"))
    assert main(["compare", str(job), str(one), "-o", str(target)]) == closing.FILE_FAULT
    assert target.read_bytes() == one.read_bytes()
