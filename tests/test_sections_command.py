"""Jobs in sections, by `size`: what is on the disk and on the screen whatever happens, and the list of sections known for what it is."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path

import openpyxl
import pytest
from msgspec.structs import replace

import batch
from batch.cli.app import main
from batch.cli.job_files import gather
from batch.closing_counts import FILE_FAULT, SIZED, Tally
from batch.file_names import section_name
from batch.intake.job import read
from batch.records import Job
from batch.report.portfolio_workbook import write_portfolio
from batch.schedules.reconciliation import reconcile
from batch.section_records import Section
from batch.sizing import job_sections
from batch.sizing.job_sections import may_be_divided, refuse_undivided, sections_of
from batch.sizing.project import size_job
from batch.watch import sections
from batch.watch.bids import Bid, BidDone
from batch.watch.sections import SectionDone, afresh
from batch.written_results import write_results
from tests.make_samples import HERE

PLANT = HERE / "whole-plant.xlsx"
STAMPED = ("--stamp", "")


@pytest.fixture
def small(monkeypatch: pytest.MonkeyPatch) -> None:
    """A workbook holds so little that the samples are divided."""
    monkeypatch.setattr(job_sections, "MOST", 100)
    monkeypatch.setattr(sections_of, "__defaults__", (150,))


@pytest.fixture
def job(tmp_path: Path) -> Path:
    path = tmp_path / "JOB.xlsx"
    path.write_bytes(PLANT.read_bytes())
    return path


def listed(path: Path) -> list[dict[str, object]]:
    """The lines of a list of sections."""
    table = [[cell.value for cell in row] for row in openpyxl.load_workbook(path).active.iter_rows()]
    at = next(number for number, row in enumerate(table) if row[0] == "Section")
    return [dict(zip(map(str, table[at]), row, strict=True)) for row in table[at + 1 :]]


def states(path: Path) -> dict[object, object]:
    return {line["Section"]: line["State"] for line in listed(path)}


def done(bid: Bid, **more) -> SectionDone:
    """A section as if it were sized."""
    bid.target.write_bytes(b"sized")
    place = str(bid.target)
    return SectionDone(BidDone(bid.name, SIZED, 1.0, Tally(bid.name, 1, 1, 1, 1, 9.0, 0, 0, 0, 0, 0, place), results=place, **more))


Sized = Callable[[Bid], SectionDone]


@pytest.fixture
def as_if(monkeypatch: pytest.MonkeyPatch, small: None) -> Callable[[Sized], None]:
    """Puts something quick in place of the sizing of sections."""

    def put(size: Sized) -> None:
        monkeypatch.setattr(sections, "size_sections", lambda bids, *given, **more: map(size, bids))

    return put


def test_a_list_never_claims_more_than_was_sized_in_this_run(job: Path, as_if: Callable[[Sized], None]) -> None:
    """Whenever it is killed: a section of an earlier run may stand under its name."""
    target, seen = job.with_name("JOB sized.xlsx"), []

    def size(bid: Bid) -> SectionDone:
        seen.append(list(states(target).values()))
        return done(bid)

    as_if(size)
    assert main(["size", str(job), *STAMPED]) == 0
    assert seen == [["not sized yet"] * 3, ["sized", "not sized yet", "not sized yet"], ["sized", "sized", "not sized yet"]]
    assert set(states(target).values()) == {"sized"}


def test_stopped_in_between_the_last_line_says_what_is_written(
    job: Path, as_if: Callable[[Sized], None], capsys: pytest.CaptureFixture
) -> None:
    def size(bid: Bid) -> SectionDone:
        if "2 of 3" in bid.name:
            raise KeyboardInterrupt
        return done(bid)

    as_if(size)
    assert main(["size", str(job), *STAMPED]) == 130
    last = capsys.readouterr().err.splitlines()[-1]
    assert "stopped: of" in last and "1 of 3 sections (JOB sized 1 of 3.xlsx) is written" in last and "nothing was written" not in last
    assert list(states(job.with_name("JOB sized.xlsx")).values()) == ["sized", "not sized yet", "not sized yet"]


def test_sections_that_an_earlier_run_left_are_named_and_stay(
    job: Path, as_if: Callable[[Sized], None], capsys: pytest.CaptureFixture
) -> None:
    old = job.with_name("JOB sized 4 of 4.xlsx")
    old.write_bytes(b"somebody's")
    as_if(done)
    main(["size", str(job), *STAMPED])
    assert old.read_bytes() == b"somebody's" and f"{old}: left by an earlier run" in capsys.readouterr().err
    assert states(job.with_name("JOB sized.xlsx")) == {f"JOB {n} of 3.xlsx": "sized" for n in (1, 2, 3)} | {old.name: "of an earlier run"}


def test_of_a_job_in_one_workbook_sections_of_an_earlier_run_are_named_too(tmp_path: Path, capsys: pytest.CaptureFixture) -> None:
    job = tmp_path / "JOB.xlsx"
    job.write_bytes((HERE / "small-clean.xlsx").read_bytes())
    (tmp_path / "JOB sized 1 of 2.xlsx").write_bytes(b"old")
    main(["size", str(job), *STAMPED])
    assert "JOB sized 1 of 2.xlsx: left by an earlier run" in capsys.readouterr().out


def test_a_list_that_cannot_be_written_stops_that_job_alone_and_before_it_is_sized(
    job: Path, as_if: Callable[[Sized], None], capsys: pytest.CaptureFixture
) -> None:
    other = job.with_name("B.xlsx")
    other.write_bytes(PLANT.read_bytes())
    job.with_name("JOB sized.xlsx").mkdir()
    names: list[str] = []

    def size(bid: Bid) -> SectionDone:
        names.append(bid.name)
        return done(bid)

    as_if(size)
    assert main(["size", str(job), str(other), *STAMPED]) == FILE_FAULT
    assert names == [f"B {n} of 3.xlsx" for n in (1, 2, 3)] and "this is a folder" in capsys.readouterr().err


def test_a_name_with_no_room_for_that_of_a_section_is_refused_before_it_is_sized(
    job: Path, as_if: Callable[[Sized], None], capsys: pytest.CaptureFixture
) -> None:
    as_if(lambda bid: pytest.fail("sized"))
    long = job.with_name("J" * 248 + ".xlsx")
    assert main(["size", str(job), "-o", str(long), *STAMPED]) == FILE_FAULT
    assert "name a shorter file with -o" in capsys.readouterr().err and not long.exists()


def test_what_went_where_is_said_for_people_and_for_programs(
    job: Path, as_if: Callable[[Sized], None], capsys: pytest.CaptureFixture
) -> None:
    """Also why the list is under another name: what stands there somebody has saved."""
    openpyxl.Workbook().save(job.with_name("JOB sized.xlsx"))
    theirs = job.with_name("JOB sized.xlsx").read_bytes()

    def size(bid: Bid) -> SectionDone:
        if "3 of 3" in bid.name:
            return SectionDone(BidDone(bid.name, FILE_FAULT, 0.0, fault="no room"))
        one = done(bid, aside="another program has saved it since")
        return SectionDone(one.done, ("as plain tables: here",), ({"code": "x", "severity": "note"},))

    as_if(size)
    place = job.with_name("JOB sized (2).xlsx")
    for json_too in ((), ("--json",)):
        place.unlink(missing_ok=True)
        assert main(["size", str(job), *STAMPED, *json_too]) == FILE_FAULT
        said = capsys.readouterr()
        assert "JOB sized 2 of 3.xlsx: another program has saved it since" in said.err
        assert "JOB sized.xlsx: another program has saved it since" in said.err and f"the new list is {place}" in said.err
        if not json_too:
            assert "JOB 1 of 3.xlsx: as plain tables: here" in said.out
            continue
        told = json.loads(said.out)
        assert [one["findings"] for one in told["workbooks"]] == [[{"severity": "note", "code": "x"}]] * 2
        assert told["faults"] == ["JOB 3 of 3.xlsx: no room"]
        [where] = told["divided"]
        assert (where["list"], [one["fault"] for one in where["sections"]]) == (str(place), ["", "", "no room"])
    assert job.with_name("JOB sized.xlsx").read_bytes() == theirs and len(listed(place)) == 3


def test_a_job_that_cannot_be_divided_is_one_workbook_and_says_what_holds_it(job: Path, small: None) -> None:
    """One heater that names no feeder, in a job of one project."""
    workbook = openpyxl.load_workbook(job)
    plant = read(PLANT)
    first = plant.projects[0].project
    for kind in ("heaters", "feeders", "tanks", "sources"):
        for table in (one for one in plant.received if one.kind == kind):
            for row in table.rows:
                workbook[table.sheet].cell(row.row, table.first + table.keys.index("project") + 1).value = first
            if kind == "heaters":
                workbook[table.sheet].cell(table.rows[-1].row, table.first + table.keys.index("feeder") + 1).value = None
    workbook.save(job)
    read_so = read(job)
    assert may_be_divided(read_so)
    [said] = [one for one in refuse_undivided(read_so).findings if one.code == "job-not-divided"]
    assert (said.sheet, said.cell) == (read_so.banks[-1].origin.sheet, read_so.banks[-1].origin.cell("feeder"))
    assert "418 banks" in said.message and "1 row" in said.message


@pytest.mark.parametrize("command", ["check", "size", "papers", "fill", "quote"])
def test_a_list_of_sections_is_no_job(
    job: Path, as_if: Callable[[Sized], None], capsys: pytest.CaptureFixture, command: str
) -> None:
    """It has a tank's count and kilowatts in its columns: read as a heater list it would be a job."""
    as_if(done)
    main(["size", str(job), *STAMPED])
    made = job.with_name("JOB sized.xlsx")
    before = sorted(path.name for path in job.parent.iterdir())
    capsys.readouterr()
    assert main([command, str(made)]) == FILE_FAULT
    said = capsys.readouterr().err
    assert "the list of the sections of a job" in said and "name JOB sized 1 of 3.xlsx, JOB sized 2 of 3.xlsx" in said
    assert sorted(path.name for path in job.parent.iterdir()) == before


def test_nothing_is_kept_from_or_compared_with_a_list(tmp_path: Path) -> None:
    made = tmp_path / "portfolio.xlsx"
    write_portfolio([BidDone("a.xlsx", SIZED, 1.0, results="a sized.xlsx").line()], made)
    for verb in (lambda: batch.compare(made, PLANT), lambda: batch.check(PLANT, keep_from=made)):
        with pytest.raises(batch.errors.InputFileError, match="a portfolio of bids, with no job in it: name a sized"):
            verb()


def test_a_section_of_a_file_without_an_ending_is_named_behind_it() -> None:
    assert section_name("JOB", 3, 17) == "JOB 03 of 17"


def of_sections(path: Path, plant: Job, number: int) -> Path:
    """The results of one section, as a run leaves them."""
    every = sections_of(plant, 150)
    result = size_job(every[number - 1])
    return Path(write_results(replace(result, checks=reconcile(result)), path).written)


def test_a_section_stays_one_when_it_is_read_again_and_compared(tmp_path: Path) -> None:
    """Whatever its file is called: its totals are not the job's."""
    made = of_sections(tmp_path / "mine.xlsx", read(PLANT), 2)
    said = [cell.value for row in openpyxl.load_workbook(made)["Read first"].iter_rows(max_row=12) for cell in row]
    assert any(str(words).startswith("Section 2 of 3 alone, of a job of 418 banks: ") for words in said)
    again = batch.check(made)
    assert again.job.section == Section(2, 3, "418")
    assert ["section 2 of 3, 147 of 418 banks" in one.message for one in again.findings if one.code == "job-divided"] == [True]
    assert batch.compare(PLANT, made, target=tmp_path / "c.xlsx").text[0].startswith(
        "Caution: whole-plant.xlsx is a whole job and mine.xlsx is section 2 of 3 of a job. What is in the other sections counts as"
    )
    assert not batch.compare(made, made, target=tmp_path / "d.xlsx").text[0].startswith("Caution")


def test_sections_that_are_named_together_are_meant(tmp_path: Path) -> None:
    """Among jobs they are results, as ever."""
    some = [tmp_path / f"JOB sized {number} of 2.xlsx" for number in (1, 2)]
    assert gather(some).jobs == some
    assert gather([*some, tmp_path / "JOB.xlsx"]).jobs == [tmp_path / "JOB.xlsx"]


RUN = """
import sys
from batch.sizing import job_sections
job_sections.MOST = 100
job_sections.sections_of.__defaults__ = (150,)
from batch.cli.app import main
if __name__ == "__main__":
    sys.exit(main(["size", *sys.argv[1:]]))
"""


@pytest.mark.skipif(os.name != "posix", reason="signals of a terminal")
@pytest.mark.parametrize(("number", "to_all"), [(signal.SIGINT, True), (signal.SIGTERM, False)])
def test_stopped_by_the_terminal_or_the_system_nothing_is_left_in_the_making(job: Path, number: signal.Signals, to_all: bool) -> None:
    """The processes that size hear Ctrl-C too: no trace of theirs, no section after it, no folder of what waits."""
    script, waiting = job.with_name("run.py"), job.with_name("waiting")
    script.write_text(RUN)
    waiting.mkdir()
    run = subprocess.Popen(
        [sys.executable, str(script), str(job), *STAMPED], stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True,
        start_new_session=True, cwd=Path(__file__).parents[1],
        env={**os.environ, "PYTHONUNBUFFERED": "1", "TMPDIR": str(waiting), "PYTHONPATH": str(Path(__file__).parents[1])},
    )  # fmt: skip
    assert run.stdout is not None
    for line in run.stdout:
        if line.startswith("1 of 3"):
            break
    (os.killpg if to_all else os.kill)(run.pid, number)
    said = run.communicate(timeout=120)[1]
    assert run.returncode == 130, said
    assert said.splitlines()[-1].startswith("heaterbatch: stopped: of") and "Traceback" not in said and "leaked" not in said
    left = sorted(path.name for path in job.parent.iterdir())
    assert left == ["JOB sized 1 of 3.xlsx", "JOB sized.xlsx", "JOB.xlsx", "run.py", "waiting"] and not list(waiting.iterdir())


def test_a_process_that_dies_is_an_outcome() -> None:
    assert afresh(die, Bid(Path(), Path(), "")) is None


def die(bid: Bid) -> Iterator[str]:
    os._exit(9)
