"""A folder of bids: every one is sized or said to have failed, the same bytes whatever the workers, and a stopped run goes on."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
import time
from contextlib import suppress
from datetime import date
from pathlib import Path

import openpyxl
import pytest

import batch
from batch.cli import app
from batch.cli.app import main
from batch.cli.job_files import gather
from batch.closing_counts import Tally
from batch.watch.bids import REMEMBERED, Bid, BidDone, _firm_mark, _Memory
from tests.make_samples import HERE
from tests.test_own_rule_sets import STRICTER, folder_of


@pytest.fixture
def bids(tmp_path: Path) -> Path:
    """Two bids, one of them a folder deeper; a damaged one; results and a lock file that are none."""
    folder = tmp_path / "in"
    (folder / "north").mkdir(parents=True)
    shutil.copy(HERE / "revisions" / "line-4-rev-A.xlsx", folder / "a.xlsx")
    shutil.copy(HERE / "revisions" / "line-4-rev-B.xlsx", folder / "north" / "b.xlsx")
    shutil.copy(HERE / "broken" / "truncated.xlsx", folder / "damaged.xlsx")
    shutil.copy(HERE / "revisions" / "line-4-rev-A.xlsx", folder / "old sized.xlsx")
    (folder / "~$a.xlsx").write_bytes(b"lock")
    return folder


def sized(bids: Path, out: Path, *more: str) -> int:
    return main(["size", str(bids), "-o", f"{out}/", "--recursive", "--stamp", "", *more])


def lines(out: Path) -> list[dict]:
    sheet = openpyxl.load_workbook(out / "portfolio.xlsx").active
    table = [[cell.value for cell in row] for row in sheet.iter_rows()]
    at = next(number for number, row in enumerate(table) if row[0] == "Bid")
    heading = [str(cell).split(" (")[0] for cell in table[at]]
    return [dict(zip(heading, row, strict=True)) for row in table[at + 1 :] if row[0]]


def test_plain_tables_are_written_beside_the_results_of_each_bid(bids: Path, tmp_path: Path) -> None:
    """A run for them does not rest on one without them, whose results have none beside them."""
    out = tmp_path / "out"
    sized(bids, out, "--workers", "1", "--quiet")
    sized(bids, out, "--workers", "1", "--also", "csv,json")
    for name in ("a sized", "north/b sized"):
        assert (out / f"{name} csv" / "Banks.csv").is_file() and json.loads((out / f"{name}.json").read_text(encoding="utf-8"))


def test_every_bid_has_a_line_and_one_that_fails_stops_none(bids, tmp_path, capsys):
    out = tmp_path / "out"
    assert sized(bids, out, "--workers", "1") == 3
    told = {line["Bid"]: line for line in lines(out)}
    assert list(told) == ["a.xlsx", "damaged.xlsx", "north/b.xlsx"]
    assert told["a.xlsx"]["Heaters"] == 38 and told["a.xlsx"]["Connected"] == pytest.approx(197.0)
    assert told["damaged.xlsx"]["State"] == "failed" and "cannot be read" in told["damaged.xlsx"]["Fault"]
    assert (out / told["north/b.xlsx"]["Results"]).is_file() and told["north/b.xlsx"]["Results"] == "north/b sized.xlsx"
    said = capsys.readouterr()
    assert "old sized.xlsx: skipped" in said.err and "~$a.xlsx: skipped" in said.err


def test_workers_change_no_byte_and_a_second_run_goes_on(bids, tmp_path, capsys):
    one, two = tmp_path / "one", tmp_path / "two"
    sized(bids, one, "--workers", "1")
    sized(bids, two, "--workers", "2")
    names = ("a sized.xlsx", "north/b sized.xlsx")
    assert [(one / name).read_bytes() for name in names] == [(two / name).read_bytes() for name in names]
    before = (two / names[0]).stat().st_mtime_ns
    capsys.readouterr()
    sized(bids, two, "--workers", "2")
    assert capsys.readouterr().out.count("(as before)") == 2
    assert (two / names[0]).stat().st_mtime_ns == before
    batch.size(bids / "north" / "b.xlsx", two / names[1], stamp="another day")  # what is no longer as it was written is written again
    sized(bids, two, "--workers", "2")
    assert (two / names[1]).read_bytes() == (one / names[1]).read_bytes()
    shutil.copy(HERE / "revisions" / "line-4-rev-C.xlsx", bids / "a.xlsx")
    capsys.readouterr()
    sized(bids, two, "--workers", "2")
    assert capsys.readouterr().out.count("(as before)") == 1
    assert {line["Bid"]: line["Heaters"] for line in lines(two)}["a.xlsx"] == 39


def test_a_fault_of_the_program_in_one_bid_stops_none(bids, tmp_path, monkeypatch):
    whole = batch.size

    def faulty(job: Path, *given: object, **more: object):
        if job.name == "a.xlsx":
            raise RuntimeError("something that nobody thought of")
        return whole(job, *given, **more)

    monkeypatch.setattr(batch, "size", faulty)
    assert sized(bids, tmp_path / "out", "--workers", "1") == 3
    told = {line["Bid"]: line for line in lines(tmp_path / "out")}
    assert told["a.xlsx"]["State"] == "failed" and "a fault in this program, RuntimeError: something that" in told["a.xlsx"]["Fault"]
    assert told["north/b.xlsx"]["State"] != "failed"


def test_what_moves_results_in_a_firms_folder_makes_bids_anew(tmp_path):
    """Another figure under the same name of the rule set: the mark is another, and what was done by it counts as done no more."""
    marks = {_firm_mark(folder_of(tmp_path / value, STRICTER.replace("1.5", value))) for value in ("1.5", "1.6")}
    assert len(marks) == 2 and _firm_mark(None) == ""
    assert {mark.rpartition(" ")[0] for mark in marks} == {"House rules"}


def test_a_damaged_memory_is_no_harm(bids, tmp_path):
    out = tmp_path / "out"
    out.mkdir()
    for text in ("{", "[]", "\x00", '{"how": 1}\n[1]', '{"how": "x"}\n{"bid": "a.xlsx", "job": 1}'):
        (out / REMEMBERED).write_text(text)
        assert not list(_Memory(out, {})._done)
    assert sized(bids, out, "--workers", "1") == 3
    how, *told = (out / REMEMBERED).read_text().split("\n")
    for change in ({"tally": [1]}, {"tally": None}, {"results": 1}, {"code": "x", "unknown": 1}):
        odd = [json.loads(line) for line in told]
        for line in odd:
            line["outcome"].update(change)
        (out / REMEMBERED).write_text("\n".join([how, *map(json.dumps, odd), "[]", '{"bid": {}}', told[0][: len(told[0]) // 2]]))
        assert sized(bids, out, "--workers", "1") == 3
        assert len(lines(out)) == 3


def noted(out: Path) -> list[str]:
    """Bids whose outcome stands whole in the memory of a run."""
    try:
        told = (out / REMEMBERED).read_text().split("\n")[1:]
    except FileNotFoundError:
        return []
    found = []
    for line in told:
        with suppress(ValueError):
            found.append(json.loads(line)["bid"])
    return found


def test_a_killed_run_goes_on_where_it_was(tmp_path, capsys):
    """Killed again and again as soon as one more bid is done: none that was done is worked again, and all come out as they should."""
    folder, out, whole = tmp_path / "in", tmp_path / "out", tmp_path / "whole"
    folder.mkdir()
    for number, letter in enumerate("ABCAB"):
        shutil.copy(HERE / "revisions" / f"line-4-rev-{letter}.xlsx", folder / f"{number}.xlsx")
    done: list[str] = []
    for _ in range(2):
        command = [sys.executable, "-m", "batch", "size", str(folder), "-o", f"{out}/", "--stamp", "", "--workers", "2"]
        run = subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, cwd=HERE.parent)
        until = time.monotonic() + 60
        while time.monotonic() < until and run.poll() is None and len(noted(out)) <= len(done):
            time.sleep(0.01)
        run.kill()
        run.wait()
        assert len(noted(out)) > len(done), "a bid that was done is not noted"
        done = noted(out)
    with (out / REMEMBERED).open("a") as file:
        file.write('\n{"bid": "4.xlsx", "job": "half a li')  # as a kill in the midst of a line leaves it
    times = {name: (out / f"{Path(name).stem} sized.xlsx").stat().st_mtime_ns for name in done}
    assert sized(folder, out, "--workers", "2") == 1
    said = capsys.readouterr().out
    assert said.count("(as before)") == len(done) < 5
    assert times == {name: (out / f"{Path(name).stem} sized.xlsx").stat().st_mtime_ns for name in done}
    sized(folder, whole, "--workers", "1")
    for number in range(5):
        assert (out / f"{number} sized.xlsx").read_bytes() == (whole / f"{number} sized.xlsx").read_bytes()
    assert [line["Bid"] for line in lines(out)] == [f"{number}.xlsx" for number in range(5)]


def test_each_bid_that_is_done_is_remembered_from_the_moment_it_is(tmp_path):
    """Three that were done one behind the other, and half a line of a run that was killed at the fourth."""
    memory = _Memory(tmp_path, {})
    bids = []
    for name in "abc":
        bids.append(Bid(tmp_path / f"{name}.xlsx", tmp_path / f"{name} sized.xlsx", name))
        bids[-1].job.write_text(f"job {name}")
        bids[-1].target.write_text(f"results of {name}")
        counts = Tally(name, 1, 1, 1, 3, 18.0, 0, 0, 0, 0, 0, str(bids[-1].target))
        memory.keep(bids[-1], BidDone(name, 0, 1.0, counts, results=str(bids[-1].target)))
        again = _Memory(tmp_path, {})
        assert [bid.name for bid in bids if again.of(bid) is not None] == list("abc"[: len(bids)])
    with (tmp_path / REMEMBERED).open("a") as file:
        file.write('\n{"bid": "d", "job": "half a li')
    assert all(_Memory(tmp_path, {}).of(bid) is not None for bid in bids)


def test_who_sizes_ends_when_the_run_is_killed(tmp_path):
    """A killed run leaves no process behind that waits for work."""
    code = (
        "import os, time, sys\n"
        "from concurrent.futures import ProcessPoolExecutor\n"
        "from multiprocessing import get_context\n"
        "from batch.watch.bids import end_with_parent\n"
        "if __name__ == '__main__':\n"
        "    pool = ProcessPoolExecutor(1, mp_context=get_context('spawn'), initializer=end_with_parent)\n"
        "    print(pool.submit(os.getpid).result(), flush=True)\n"
        "    time.sleep(60)\n"
    )
    (tmp_path / "pool.py").write_text(code)
    run = subprocess.Popen([sys.executable, str(tmp_path / "pool.py")], stdout=subprocess.PIPE, text=True, cwd=HERE.parent)
    worker = int(run.stdout.readline())
    run.kill()
    run.wait()
    until = time.monotonic() + 10
    while time.monotonic() < until and alive(worker):
        time.sleep(0.05)
    assert not alive(worker)


def alive(process: int) -> bool:
    with suppress(ProcessLookupError):
        os.kill(process, 0)
        return not Path(f"/proc/{process}/stat").exists() or Path(f"/proc/{process}/stat").read_text().rpartition(")")[2].split()[0] != "Z"
    return False


def test_results_in_the_folder_itself_are_not_bids_the_next_time(bids):
    assert sized(bids, bids / "out", "--workers", "1") == 3
    assert sized(bids, bids / "out", "--workers", "1") == 3
    assert len(lines(bids / "out")) == 3


@pytest.mark.parametrize(
    ("more", "says"),
    [(["--workers", "0"], "name 1 or more"), (["--keep-from", "x.xlsx"], "one revision keeps from another")],
)
def test_what_cannot_be_meant_is_refused(bids, tmp_path, capsys, more, says):
    assert sized(bids, tmp_path / "out", *more) == 2
    assert says in capsys.readouterr().err
    assert main(["size", str(bids / "a.xlsx"), "--workers", "2"]) == 2


def test_the_portfolio_tells_a_whole_price_from_one_that_is_not(tmp_path: Path) -> None:
    """The small sample; the same without the price of one heater; with a row that cannot be sized; one without Pricing; a damaged one."""
    folder = tmp_path / "in"
    (folder).mkdir()
    shutil.copy(HERE / "small-clean.xlsx", folder / "whole.xlsx")
    shutil.copy(HERE / "broken" / "truncated.xlsx", folder / "damaged.xlsx")
    shutil.copy(HERE / "revisions" / "line-4-rev-A.xlsx", folder / "parts.xlsx")
    cells_changed(folder / "open.xlsx", {("Stock", "HTR-106", "Unit price"): None})
    cells_changed(folder / "lost.xlsx", {("Heaters", "T-106", "Power"): "a lot"})
    cells_changed(folder / "euros.xlsx", {("Projects", "PILOT", "Currency"): "EUR"})
    assert sized(folder, tmp_path / "out", "--workers", "1") == 3
    told = {line["Bid"].removesuffix(".xlsx"): line for line in lines(tmp_path / "out")}
    said = {name: (line["Currency"], line["Price is"]) for name, line in told.items()}
    assert said == {
        "whole": ("USD", "complete"), "open": ("USD", "incomplete"), "lost": ("USD", "incomplete"), "parts": ("USD", "incomplete"),
        "euros": ("EUR", "complete"), "damaged": (None, None),  # prices that name no currency are in the project's
    }  # fmt: skip
    figures = {name: line["Price before tax"] for name, line in told.items()}
    assert figures["damaged"] is None
    assert figures["open"] < figures["whole"] and figures["lost"] < figures["whole"]
    for name, figure in figures.items():
        if figure is not None:
            assert f"{figure:,.2f} {said[name][0]}" in told[name]["Price in words"]
    assert told["whole"]["Price in words"].startswith("for ")
    assert told["open"]["Price in words"].endswith("1 line open") and "1 of 8 rows not sized" in told["lost"]["Price in words"]
    result = batch.check(folder / "whole.xlsx")
    assert figures["whole"] == pytest.approx(sum(atom.cost.price for atom in result.money.atoms), abs=0.005)


def cells_changed(path: Path, changes: dict[tuple[str, str, str], object]) -> None:
    """The small sample with other cells: of a sheet, in the row in which a tag stands, under a heading."""
    book = openpyxl.load_workbook(HERE / "small-clean.xlsx")
    for (sheet, tag, heading), value in changes.items():
        head = next(row for row in book[sheet].iter_rows() if any(str(cell.value or "").startswith(heading) for cell in row))
        column = next(cell.column for cell in head if str(cell.value or "").startswith(heading))
        rows = [row for row in book[sheet].iter_rows(min_row=head[0].row + 1) if tag in [cell.value for cell in row]]
        assert rows
        rows[0][column - 1].value = value
    book.save(path)


def test_two_bids_of_one_name_stop_no_other(bids: Path, tmp_path: Path, capsys) -> None:
    """"a.xlsx" and "a.csv" would both be "a sized.xlsx": neither is sized, both are in the portfolio, and the others are done."""
    (bids / "a.csv").write_text("Tank;Qty\nT-1;3\n", encoding="utf-8")
    out = tmp_path / "out"
    assert sized(bids, out, "--workers", "1") == 3
    found = {line["Bid"]: line["State"] for line in lines(out)}
    assert found == {"a.csv": "failed", "a.xlsx": "failed", "damaged.xlsx": "failed", "north/b.xlsx": "sized, review"}
    assert "a.csv and a.xlsx would both be written to a sized.xlsx; rename one of them" in capsys.readouterr().err


def test_a_folder_says_what_other_commands_say_when_quiet_or_in_json(bids: Path, tmp_path: Path, capsys) -> None:
    out = tmp_path / "out"
    assert sized(bids, out, "--workers", "1", "--quiet") == 3
    said = capsys.readouterr()
    assert said.out == "" and "damaged.xlsx" in said.err and "skipped" not in said.err
    code = sized(bids, out, "--workers", "1", "--json")
    told = json.loads(capsys.readouterr().out)
    assert told["exit_code"] == code and told["portfolio"].endswith("portfolio.xlsx")
    assert [bid["bid"] for bid in told["bids"]] == ["a.xlsx", "damaged.xlsx", "north/b.xlsx"] and told["bids"][0]["banks"] == 10


def test_a_run_of_the_next_day_goes_on(bids: Path, tmp_path: Path, monkeypatch, capsys) -> None:
    """The day it is run is no reason to size a bid anew; a stamp that somebody gave is."""
    class Tomorrow(date):
        @classmethod
        def today(cls) -> date:
            return date(2031, 1, 2)

    command = ["size", str(bids), "-o", f"{tmp_path}/out/", "--recursive", "--workers", "1"]
    main(command)
    monkeypatch.setattr(app, "date", Tomorrow)
    capsys.readouterr()
    main(command)
    assert capsys.readouterr().out.count("(as before)") == 2
    main([*command, "--stamp", "revision C"])
    assert "(as before)" not in capsys.readouterr().out


def test_what_the_program_wrote_is_no_bid(bids: Path, tmp_path: Path) -> None:
    """Tables of results, those of a section too, a second portfolio, a quotation of a section."""
    folder = tmp_path / "bids"
    names = (
        "a sized csv/Banks.csv", "a sized 1 of 3 csv/Banks.csv", "portfolio.xlsx", "portfolio (2).xlsx", "a sized 1 of 2.xlsx",
        "a 1 of 2 quotation.xlsx", "a.xlsx", "plant csv/tanks.csv", "portfolio of tanks.xlsx",
    )  # fmt: skip
    for name in names:
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_bytes(b"x")
    found = gather([folder], recursive=True)
    assert {job.relative_to(folder).as_posix() for job in found.jobs} == {"a.xlsx", "plant csv/tanks.csv", "portfolio of tanks.xlsx"}


def test_results_that_are_open_are_named_and_not_the_job(bids: Path, tmp_path: Path, capsys) -> None:
    out = tmp_path / "out"
    sized(bids, out, "--workers", "1")
    for name in ("a sized.xlsx", "portfolio.xlsx"):
        (out / f".~lock.{name}#").write_text("somebody", encoding="utf-8")
    capsys.readouterr()
    sized(bids, out, "--workers", "1", "--again")
    said = capsys.readouterr().err
    assert f"{out}/a sized.xlsx: it is open elsewhere" in said and f"{out}/portfolio.xlsx: it is open elsewhere" in said
