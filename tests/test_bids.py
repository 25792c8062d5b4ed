"""A folder of bids: every one is sized or said to have failed, the same bytes whatever the workers, and a stopped run goes on."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import openpyxl
import pytest

from batch.cli.app import main
from batch.watch.bids import REMEMBERED
from tests.make_samples import HERE


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
    (two / names[1]).write_bytes(b"half a file")  # what is no longer as it was written is written again
    sized(bids, two, "--workers", "2")
    assert (two / names[1]).read_bytes() == (one / names[1]).read_bytes()
    shutil.copy(HERE / "revisions" / "line-4-rev-C.xlsx", bids / "a.xlsx")
    capsys.readouterr()
    sized(bids, two, "--workers", "2")
    assert capsys.readouterr().out.count("(as before)") == 1
    assert {line["Bid"]: line["Heaters"] for line in lines(two)}["a.xlsx"] == 39


def test_a_damaged_memory_is_no_harm(bids, tmp_path):
    out = tmp_path / "out"
    for text in ("{", "[]", json.dumps({"how": 1, "done": []}), json.dumps({"how": "x", "done": {"a.xlsx": {"job": 1}}})):
        out.mkdir(exist_ok=True)
        (out / REMEMBERED).write_text(text)
    assert sized(bids, out, "--workers", "1") == 3
    stored = json.loads((out / REMEMBERED).read_text())
    for kept in stored["done"].values():
        kept["outcome"]["tally"] = [1]
    (out / REMEMBERED).write_text(json.dumps(stored))
    assert sized(bids, out, "--workers", "1") == 3
    assert len(lines(out)) == 3


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
