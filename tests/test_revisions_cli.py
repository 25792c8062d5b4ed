"""The commands `compare` and `size --keep-from`: what is written, what is said, and which exit code."""

from __future__ import annotations

from pathlib import Path

import pytest

from batch.cli import closing_table as closing
from batch.cli.app import main
from tests.make_samples import HERE

LINE = HERE / "revisions"
A, B, C = (LINE / f"line-4-rev-{name}.xlsx" for name in "ABC")


@pytest.fixture
def jobs(tmp_path: Path) -> list[Path]:
    """The three revisions in a folder that may be written to."""
    made = []
    for source in (A, B, C):
        made.append(tmp_path / source.name)
        made[-1].write_bytes(source.read_bytes())
    return made


def run(capsys: pytest.CaptureFixture, *words: object) -> tuple[int, list[str], list[str]]:
    code = main([str(word) for word in words])
    said = capsys.readouterr()
    return code, said.out.splitlines(), said.err.splitlines()


def test_two_revisions_give_one_workbook_beside_the_new_one_and_sentences(jobs: list[Path], capsys: pytest.CaptureFixture) -> None:
    code, out, err = run(capsys, "compare", jobs[0], jobs[1], "--stamp", "")
    target = jobs[0].parent / "line-4-rev-B against line-4-rev-A.xlsx"
    assert (code, err) == (closing.SIZED, [])
    assert out[-1] == f"written: {target}"
    assert "The job goes from 38 to 45 heaters (+7) and from 197.0 to 246.5 kW (+49.5)." in out
    words = "Terminal rating of LINE-4 went from 75 to its default (by device rating): that moves figures in rows that nobody touched."
    assert out[0] == words  # the code basis, given in A and blank in B, is NEC 2023 in both
    assert target.is_file()
    assert [job.read_bytes() for job in jobs] == [source.read_bytes() for source in (A, B, C)]


def test_more_than_two_give_a_history(jobs: list[Path], capsys: pytest.CaptureFixture) -> None:
    code, out, _ = run(capsys, "compare", *jobs, "-o", jobs[0].parent / "history.xlsx")
    assert code == closing.SIZED
    assert "The job goes from 38 to 39 heaters (+1) and from 197.0 to 216.5 kW (+19.5)." in out
    assert (jobs[0].parent / "history.xlsx").is_file()


def test_a_revision_against_itself(jobs: list[Path], capsys: pytest.CaptureFixture) -> None:
    code, out, _ = run(capsys, "compare", jobs[0], jobs[0])
    assert code == closing.SIZED
    assert out[0] == "Nothing differs between line-4-rev-A.xlsx and line-4-rev-A.xlsx."


def test_the_output_may_be_a_folder_and_never_an_input(jobs: list[Path], capsys: pytest.CaptureFixture) -> None:
    (jobs[0].parent / "out").mkdir()
    code, out, _ = run(capsys, "compare", jobs[0], jobs[1], "-o", f"{jobs[0].parent / 'out'}/")
    assert code == closing.SIZED
    assert out[-1].endswith("out/line-4-rev-B against line-4-rev-A.xlsx")
    for wrong in (jobs[0], jobs[1], jobs[0].parent / "none/", "x.txt"):
        code, out, err = run(capsys, "compare", jobs[0], jobs[1], "-o", f"{wrong}/" if str(wrong).endswith("none") else wrong)
        assert (code, out, len(err)) == (closing.WRONG_COMMAND, [], 1), wrong


@pytest.mark.parametrize(
    ("words", "code", "says"),
    [
        (("compare", A), closing.WRONG_COMMAND, "takes two workbooks"),
        (("compare", A, "nowhere.xlsx"), closing.FILE_FAULT, "there is no such file"),
        (("compare", A, B, "--renamed", "T-1=T-2"), closing.FILE_FAULT, "--renamed T-1=T-2"),
        (("compare", A, B, "--renamed", "T-201"), closing.FILE_FAULT, "write the old name"),
        (("size", B, "--renamed", "T-1=T-2"), closing.WRONG_COMMAND, "name it with --keep-from"),
        (("size", A, B, "--keep-from", C), closing.WRONG_COMMAND, "one workbook at a time"),
    ],
)
def test_what_cannot_be_is_refused_in_one_line(
    words: tuple, code: int, says: str, tmp_path: Path, capsys: pytest.CaptureFixture
) -> None:
    got, out, err = run(capsys, *words, "-o", tmp_path / ("out.xlsx" if words[0] == "compare" or len(words) < 5 else "out/"))
    assert (got, out, len(err)) == (code, [], 1), err
    assert says in err[0]
    assert not [path for path in tmp_path.rglob("*") if path.is_file()]


def test_rows_that_are_not_sized_show_in_the_exit_code(tmp_path: Path, capsys: pytest.CaptureFixture) -> None:
    code, out, _ = run(capsys, "compare", A, HERE / "every-finding.xlsx", "-o", tmp_path / "x.xlsx")
    assert code == closing.NOT_ALL_SIZED
    assert out[-1] == f"written: {tmp_path / 'x.xlsx'}"


def test_keeping_from_an_earlier_revision(jobs: list[Path], capsys: pytest.CaptureFixture) -> None:
    code, out, _ = run(capsys, "size", jobs[1], "--keep-from", jobs[0])
    assert code == closing.LOOK  # the unmarked contactors of the sample are a caution
    results = jobs[1].with_name("line-4-rev-B sized.xlsx")
    assert results.is_file()
    code, out, _ = run(capsys, "size", jobs[2], "--keep-from", results, "--renamed", "T-206=T-206A")
    assert any("[kept-row-gone] bank T-203/1" in line for line in out)
    code, _, err = run(capsys, "size", jobs[1], "--keep-from", results)
    assert code == closing.FILE_FAULT
    assert "this is the revision to keep from" in err[0]


def test_a_results_workbook_can_be_sized_again_and_a_comparison_cannot(jobs: list[Path], capsys: pytest.CaptureFixture) -> None:
    run(capsys, "size", jobs[0], "-o", jobs[0].parent / "first.xlsx")
    code, _, _ = run(capsys, "size", jobs[0].parent / "first.xlsx", "-o", jobs[0].parent / "again.xlsx")
    assert code == closing.LOOK
    run(capsys, "compare", jobs[0].parent / "first.xlsx", jobs[0].parent / "again.xlsx", "-o", jobs[0].parent / "same.xlsx")
    code, _, err = run(capsys, "check", jobs[0].parent / "same.xlsx")
    assert code == closing.FILE_FAULT
    assert "a comparison of revisions, with no job in it" in err[0]
