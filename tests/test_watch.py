"""Beside the open spreadsheet: a workbook is sized whenever its save is complete; results whole and of the last save."""

from __future__ import annotations

import random
import shutil
import signal
import subprocess
import sys
import time
import zipfile
from datetime import date
from pathlib import Path

import openpyxl
import pytest
from msgspec.structs import replace

import batch
from batch.cli import watch_command
from batch.cli.app import main
from batch.intake.job import read
from batch.records import Part
from batch.report import write
from batch.sizing import kept_projects
from batch.sizing.bank_as_asked import designs_by
from batch.sizing.control_panel import worked_out
from batch.sizing.project import size_job
from batch.watch import saved_workbooks
from batch.watch.saved_workbooks import SavedWorkbooks, wait_until_saved
from tests.make_samples import HERE

REVISIONS = [HERE / "revisions" / f"line-4-rev-{letter}.xlsx" for letter in "ABC"]
HEATERS = {"A": 38, "B": 45, "C": 39}


def book_of(folder: Path) -> tuple[SavedWorkbooks, list[str], list[str]]:
    said, faults = [], []
    return SavedWorkbooks(lambda job: folder / f"{job.stem} sized.xlsx", lambda: {"stamp": ""}, said.append, faults.append), said, faults


def heaters_in(results: Path) -> int:
    """Heaters as the results' own Banks sheet has them."""
    sheet = openpyxl.load_workbook(results, read_only=True)["Banks"]
    table = [list(row) for row in sheet.iter_rows(values_only=True)]
    at = next(number for number, row in enumerate(table) if row and row[0] == "Project")
    column = [str(cell) for cell in table[at]].index("Heaters (ea)")
    return sum(row[column] for row in table[at + 1 :] if isinstance(row[column], int))


def test_a_save_is_stamped_with_its_own_day(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Watching goes on over midnight."""
    shutil.copy(REVISIONS[0], tmp_path / "job.xlsx")
    given = []

    class Book(SavedWorkbooks):
        def __init__(self, place, options, say, fault) -> None:
            super().__init__(place, options, say, fault)
            given.append(options)

    days = iter((date(2031, 1, 1), date(2031, 1, 2)))
    monkeypatch.setattr(saved_workbooks, "SavedWorkbooks", Book)
    monkeypatch.setattr(saved_workbooks, "watch", lambda *_: None)
    monkeypatch.setattr(watch_command, "date", type("Days", (), {"today": staticmethod(lambda: next(days))}))
    assert main(["watch", str(tmp_path / "job.xlsx")]) == 0
    assert [given[0]()["stamp"] for _ in range(2)] == ["2031-01-01", "2031-01-02"]


def test_a_save_is_sized_once_and_told_in_a_line(tmp_path):
    job = tmp_path / "job.xlsx"
    book, said, faults = book_of(tmp_path)
    shutil.copy(REVISIONS[0], job)
    assert book.saved(job) and not book.saved(job)  # the same bytes again are no news
    assert said[0].startswith("job.xlsx: 10 banks, 38 heaters, 197.0 kW; written job sized.xlsx in ")
    shutil.copy(REVISIONS[1], job)
    assert book.saved(job) and not faults
    assert "banks of 9 heaters (2 tanks) came" in said[1] and "\n" not in said[1]
    assert heaters_in(tmp_path / "job sized.xlsx") == HEATERS["B"]


def test_a_file_that_cannot_be_read_is_said_and_the_next_save_taken(tmp_path):
    job = tmp_path / "job.xlsx"
    book, said, faults = book_of(tmp_path)
    job.write_text("no workbook", encoding="utf-8")
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("batch.watch.saved_workbooks.PATIENCE_S", 0.5)
        assert book.saved(job)
    assert not said and "job.xlsx" in faults[0]
    shutil.copy(REVISIONS[2], job)
    assert book.saved(job) and heaters_in(tmp_path / "job sized.xlsx") == HEATERS["C"]


def small_with(target: Path, sheet: str, at: tuple[int, str], value: object) -> None:
    """The small sample with one cell of a sheet, by its row and heading, changed."""
    made = openpyxl.load_workbook(HERE / "small-clean.xlsx")
    column = next(cell.column for cell in made[sheet][1] if str(cell.value).startswith(at[1]))
    made[sheet].cell(at[0], column).value = value
    made.save(target)


def test_another_edition_is_told_and_a_row_that_is_no_longer_sized(tmp_path):
    job = tmp_path / "job.xlsx"
    book, said, faults = book_of(tmp_path)
    shutil.copy(HERE / "small-clean.xlsx", job)
    assert book.saved(job)
    small_with(job, "Projects", (2, "Code basis"), "NEC 2017")
    assert book.saved(job) and "NEC 2017" in said[1]
    small_with(job, "Heaters", (2, "Power"), "lots")
    assert book.saved(job) and "1 row not sized" in said[2] and not faults


def test_a_job_that_is_gone_is_said_once(tmp_path):
    job = tmp_path / "job.xlsx"
    book, _, faults = book_of(tmp_path)
    shutil.copy(REVISIONS[0], job)
    assert book.saved(job)
    book.say_gone()
    assert not faults
    job.unlink()
    book.say_gone()
    book.say_gone()
    assert len(faults) == 1 and "job.xlsx: is no longer there" in faults[0] and (tmp_path / "job sized.xlsx").exists()
    shutil.copy(REVISIONS[0], job)
    assert book.looks_new(job)


def test_half_a_package_that_nobody_writes_any_more_is_given_to_the_reader(tmp_path, monkeypatch):
    job = tmp_path / "job.xlsx"
    job.write_bytes(REVISIONS[0].read_bytes()[:3_000])
    monkeypatch.setattr("batch.watch.saved_workbooks.NO_END_S", 0.3)
    book, said, faults = book_of(tmp_path)
    began = time.monotonic()
    assert book.saved(job) and not said and "job.xlsx" in faults[0]
    assert time.monotonic() - began < saved_workbooks.PATIENCE_S / 2


@pytest.mark.parametrize("lock", [".~lock.job sized.xlsx#", "~$job sized.xlsx"])
def test_results_that_are_open_stay_and_one_other_name_serves(tmp_path, lock):
    job = tmp_path / "job.xlsx"
    book, _, _ = book_of(tmp_path)
    shutil.copy(REVISIONS[0], job)
    book.saved(job)
    before = (tmp_path / "job sized.xlsx").read_bytes()
    (tmp_path / lock).touch()
    for revision in REVISIONS[1:]:
        shutil.copy(revision, job)
        book.saved(job)
    assert (tmp_path / "job sized.xlsx").read_bytes() == before
    assert heaters_in(tmp_path / "job sized (2).xlsx") == HEATERS["C"] and not (tmp_path / "job sized (3).xlsx").exists()
    (tmp_path / lock).unlink()
    shutil.copy(REVISIONS[1], job)
    book.saved(job)
    assert heaters_in(tmp_path / "job sized.xlsx") == HEATERS["B"]


def test_a_half_written_file_is_waited_for(tmp_path):
    job = tmp_path / "job.xlsx"
    whole = REVISIONS[0].read_bytes()
    job.write_bytes(whole[: len(whole) // 2])
    waiting = subprocess.Popen(
        [sys.executable, "-c", f"import time, pathlib; time.sleep(1.2); pathlib.Path({str(job)!r}).write_bytes(pathlib.Path("
                               f"{str(REVISIONS[0])!r}).read_bytes())"]
    )  # fmt: skip
    assert wait_until_saved(job) and job.read_bytes() == whole
    waiting.wait()
    job.unlink()
    assert not wait_until_saved(job)


def test_what_cannot_be_watched_is_refused(tmp_path, capsys):
    assert main(["watch", str(tmp_path / "none.xlsx")]) == 2
    (tmp_path / "job sized.xlsx").touch()
    assert main(["watch", str(tmp_path / "job sized.xlsx")]) == 2
    assert "name the job workbook" in capsys.readouterr().err


class Watching:
    """The command itself, in a process of its own."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.start()

    def start(self) -> None:
        command = [sys.executable, "-m", "batch", "watch", str(self.folder)]
        self.process = subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, cwd=HERE.parent)

    def kill(self) -> None:
        self.process.kill()
        self.process.wait()

    def end(self) -> int:
        self.process.send_signal(signal.SIGTERM)
        return self.process.wait(timeout=60)


def soak(folder: Path, saves: int, seed: int) -> None:
    """Saves in every manner, in random order, with kills and locks between: results always whole, in the end of the last save."""
    chance = random.Random(seed)
    job, lock = folder / "job.xlsx", folder / ".~lock.job sized.xlsx#"
    watching = Watching(folder)
    try:
        for _ in range(saves):
            revision = chance.choice(REVISIONS)
            held = revision.read_bytes()
            manner = chance.choice(["whole", "replaced", "halves", "kill", "lock", "broken"])
            if manner == "replaced":
                (folder / "new.tmp").write_bytes(held)
                (folder / "new.tmp").replace(job)
            elif manner == "halves":
                job.write_bytes(held[: chance.randrange(1, len(held))])
                time.sleep(chance.random() * 0.4)
                job.write_bytes(held)
            elif manner == "broken":
                job.write_bytes(held[: chance.randrange(1, len(held))])
                time.sleep(chance.random() * 0.3)
                shutil.copy(revision, job)
            else:
                job.write_bytes(held)
            if manner == "kill":
                time.sleep(chance.random())
                watching.kill()
                watching.start()
            elif manner == "lock":
                lock.unlink() if lock.exists() else lock.touch()
            time.sleep(chance.random() * 0.5)
            assert job.read_bytes() == held
            for results in folder.glob("job sized*.xlsx"):
                with zipfile.ZipFile(results) as package:
                    assert package.testzip() is None
        lock.unlink(missing_ok=True)
        final = chance.choice("ABC")
        job.write_bytes(REVISIONS["ABC".index("ABC"[("ABC".index(final) + 1) % 3])].read_bytes())
        time.sleep(1.5)
        shutil.copy(REVISIONS["ABC".index(final)], job)
        until = time.monotonic() + 60
        results = folder / "job sized.xlsx"
        while time.monotonic() < until and not (results.exists() and heaters_in(results) == HEATERS[final]):
            time.sleep(0.5)
        assert heaters_in(results) == HEATERS[final]
        assert job.read_bytes() == REVISIONS["ABC".index(final)].read_bytes()
    finally:
        code = watching.end()
    assert code == 0


def test_saves_in_every_manner(tmp_path):
    soak(tmp_path, 6, seed=1)


@pytest.mark.slow
def test_two_hundred_saves(tmp_path):
    soak(tmp_path, 200, seed=2)


def test_what_is_kept_between_two_saves_changes_no_byte(tmp_path, monkeypatch):
    """Designs and pictures that come again are not worked again, and the results are those of a run by itself."""
    from batch.drawings import kept_drawings, raster

    job = tmp_path / "job.xlsx"
    monkeypatch.setattr(raster, "_kept", None)
    monkeypatch.setattr(kept_projects, "_kept", None)
    monkeypatch.setattr(kept_drawings, "_kept", None)
    book, _, _ = book_of(tmp_path)
    for revision in (REVISIONS[0], REVISIONS[1], REVISIONS[0]):
        shutil.copy(revision, job)
        book.saved(job)
    assert raster._kept
    assert kept_projects._kept
    assert kept_drawings._kept
    monkeypatch.setattr(raster, "_kept", None)
    monkeypatch.setattr(kept_projects, "_kept", None)
    monkeypatch.setattr(kept_drawings, "_kept", None)
    designs_by.cache_clear()
    worked_out.cache_clear()
    batch.size(job, tmp_path / "alone.xlsx", stamp="")
    one, other = (zipfile.ZipFile(tmp_path / name) for name in ("job sized.xlsx", "alone.xlsx"))
    assert one.namelist() == other.namelist()
    assert all(one.read(name) == other.read(name) for name in one.namelist())


def test_a_project_that_did_not_change_is_not_sized_again(monkeypatch):
    """One changed row of one of three projects: the other two come as they were, and all is as a run by itself has it."""
    job = read(HERE / "whole-plant.xlsx")
    [first, *_] = {bank.project: at for at, bank in reversed(list(enumerate(job.banks)))}.values()
    more = replace(job.banks[first], power_kw=job.banks[first].power_kw + 1.0)
    tank = replace(job.tanks[0], heatup_h=(job.tanks[0].heatup_h or 4.0) * 2)
    part = Part(origin=job.banks[0].origin, part="X-1", kind="heater")
    changes = {
        "bank": (replace(job, banks=(*job.banks[:first], more, *job.banks[first + 1 :])), 2),
        "tank": (replace(job, tanks=(tank, *job.tanks[1:])), 2),
        "stock": (replace(job, stock=(*job.stock, part)), 0),
    }
    monkeypatch.setattr(kept_projects, "_kept", None)
    kept_projects.keep_projects()
    before = size_job(job)
    kept = dict(kept_projects._kept)
    for why, (changed, same) in changes.items():
        monkeypatch.setattr(kept_projects, "_kept", None)
        designs_by.cache_clear()
        worked_out.cache_clear()
        alone = size_job(changed)
        designs_by.cache_clear()
        worked_out.cache_clear()
        size_job(job)
        monkeypatch.setattr(kept_projects, "_kept", dict(kept))
        again = size_job(changed)
        assert again == alone, why
        found = sum(one.feeders is other.feeders for one, other in zip(before.projects, again.projects, strict=True))
        assert found == same, why


def test_a_changed_bank_has_the_diagram_of_its_own_feeder_drawn_again_and_no_other(tmp_path, monkeypatch):
    from batch.drawings import kept_drawings, raster
    from batch.report import one_line_sheet

    drawn: list[str] = []
    draw = one_line_sheet.draw_feeder
    monkeypatch.setattr(one_line_sheet, "draw_feeder", lambda fed: drawn.append(fed.row.feeder.feeder) or draw(fed))
    for kept in (raster, kept_projects, kept_drawings):
        monkeypatch.setattr(kept, "_kept", {})
    job = read(HERE / "whole-plant.xlsx")
    more = replace(job.banks[0], power_kw=job.banks[0].power_kw + 1.0)
    write(size_job(job), tmp_path / "sized.xlsx")
    assert len(drawn) > 40
    drawn.clear()
    write(size_job(replace(job, banks=(more, *job.banks[1:]))), tmp_path / "again.xlsx")
    assert drawn == [more.feeder]
