"""The command line: which files, where to, what is said, and which exit code. Words and codes are asserted whole."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
from collections import Counter
from pathlib import Path

import pytest

import batch
from batch.cli import app as cli
from batch.cli import closing_table as closing
from batch.cli import voice
from batch.cli.job_files import WrongCommand, gather, targets
from batch.errors import InputFileError, OutputFileError
from batch.findings import Severity
from batch.rules.tables import MEMORY, READ
from batch.schedules import rows

ROOT = Path(__file__).resolve().parents[1]
SMALL = ROOT / "sample_jobs" / "small-clean.xlsx"


def touch(folder: Path, *names: str) -> list[Path]:
    for name in names:
        (folder / name).write_bytes(b"")
    return [folder / name for name in names]


# --- which files


def test_a_folder_gives_its_job_workbooks_and_says_what_it_left_out(tmp_path: Path) -> None:
    touch(tmp_path, "b.xlsx", "a.XLSM", "b sized.xlsx", "~$b.xlsx", "notes.txt", "c.ods", "b against a.xlsx")
    found = gather([tmp_path])
    assert [path.name for path in found.jobs] == ["a.XLSM", "b.xlsx", "c.ods"]
    assert found.skipped == [
        f"{tmp_path / 'b against a.xlsx'}: skipped, a comparison by its name",
        f"{tmp_path / 'b sized.xlsx'}: skipped, a results workbook by its name",
        f"{tmp_path / '~$b.xlsx'}: skipped, the lock file of a workbook that is open elsewhere",
    ]
    assert found.faults == []


def test_a_folder_without_a_job_is_a_fault_and_the_rest_goes_on(tmp_path: Path) -> None:
    empty = tmp_path / "empty"
    empty.mkdir()
    (job,) = touch(tmp_path, "a.xlsx")
    found = gather([empty, job])
    assert found.jobs == [job]
    assert found.faults == [f"{empty}: no job workbook in this folder: put one there, or name a file, or look into its folders too "
                            "with --recursive"]


def test_results_among_several_files_are_skipped_but_one_file_is_taken_at_its_word(tmp_path: Path) -> None:
    job, sized = touch(tmp_path, "a.xlsx", "a sized.xlsx")
    assert gather([job, sized]).jobs == [job]
    assert gather([sized]).jobs == [sized]


def test_a_file_named_twice_is_worked_on_once(tmp_path: Path) -> None:
    (job,) = touch(tmp_path, "a.xlsx")
    assert gather([job, tmp_path, job]).jobs == [job]


def test_nothing_left_is_a_fault(tmp_path: Path) -> None:
    names = touch(tmp_path, "a sized.xlsx", "b sized.xlsx")
    assert gather(names).faults == ["nothing left to do, every file named was skipped: name a job workbook"]


# --- where the results go


def test_results_stand_beside_the_job(tmp_path: Path) -> None:
    assert targets([tmp_path / "a.b.xlsm"], None) == [tmp_path / "a.b sized.xlsx"]


def test_out_is_a_file_or_a_folder_that_is_made(tmp_path: Path) -> None:
    one, two = touch(tmp_path, "a.xlsx", "b.xlsx")
    assert targets([one], str(tmp_path / "x.xlsx")) == [tmp_path / "x.xlsx"]
    assert targets([one, two], f"{tmp_path / 'new' / 'deep'}/") == [tmp_path / "new/deep/a sized.xlsx", tmp_path / "new/deep/b sized.xlsx"]
    assert (tmp_path / "new/deep").is_dir()


@pytest.mark.parametrize(
    ("jobs", "out", "says"),
    [
        (["a.xlsx"], "a.xlsx", "would overwrite the input"),
        (["a.xlsx", "b.xlsx"], "x.xlsx", "is one file, but there are 2 job workbooks"),
        (["a.xlsx"], "x.csv", "end the name of a results workbook in .xlsx"),
        (["a.xlsx", "a.xlsm"], None, "would both be written to"),
    ],
)
def test_out_that_cannot_be(tmp_path: Path, jobs: list[str], out: str | None, says: str) -> None:
    with pytest.raises(WrongCommand, match=says):
        targets(touch(tmp_path, *jobs), out and str(tmp_path / out))


def test_a_link_to_the_input_is_the_input(tmp_path: Path) -> None:
    (job,) = touch(tmp_path, "a.xlsx")
    (tmp_path / "other.xlsx").symlink_to(job)
    with pytest.raises(WrongCommand, match="would overwrite the input"):
        targets([job], str(tmp_path / "other.xlsx"))


def test_an_input_named_like_results_is_not_overwritten(tmp_path: Path) -> None:
    jobs = touch(tmp_path, "a.xlsx")
    touch(tmp_path, "a sized.xlsx")
    with pytest.raises(WrongCommand, match="would overwrite the input"):
        targets([*jobs, tmp_path / "a sized.xlsx"], None)


# --- exit codes


def test_the_worst_exit_code_counts() -> None:
    assert closing.worst([0, 1, 4, 3, 0]) == 3
    assert closing.worst([1, 4, 0]) == 4
    assert closing.worst([0, 1]) == 1
    assert closing.worst([]) == 0


def listed(*lines: tuple[str, str, str, str]) -> list[dict[str, object]]:
    keys = ("severity", "code", "where", "message")
    return [dict(zip(keys, line, strict=True)) | {"effect": "not sized" if line[0] == "hold" else "", "advice": "Do."} for line in lines]


def test_after_sizing_each_kind_is_one_line_and_notes_are_left_to_the_workbook() -> None:
    said = listed(
        ("hold", "cell-missing", "Heaters!F9", "Power is blank."), ("caution", "volts-low", "Heaters!G2", "208 V on 240 V."),
        ("caution", "volts-low", "Heaters!G3", "208 V on 240 V."), ("note", "default-used", "", "Ambient."),
    )
    assert closing.kind_lines("a.xlsx", said) == [
        "a.xlsx: Heaters!F9 hold, not sized [cell-missing] Power is blank.",
        "a.xlsx: Heaters!G2 caution [volts-low] 208 V on 240 V. (and 1 more)",
    ]
    assert closing.finding_lines("a.xlsx", said)[-2:] == ["a.xlsx: note [default-used] Ambient.", "    to do: Do."]


def test_the_screen_counts_as_read_first_does() -> None:
    result = batch.check(SMALL)
    notes = closing.tally("a", result, rows(result, "findings"), "").notes
    assert notes == len(result.findings) == sum(finding.severity is Severity.NOTE for finding in result.findings)


def test_many_kinds_do_not_flood_the_screen() -> None:
    said = listed(*(("caution", f"kind-{at}", "", "Look.") for at in range(20)))
    assert closing.kind_lines("a.xlsx", said)[12:] == ["a.xlsx: and 8 more kinds; what was written has them all"]


def test_the_closing_table_of_a_screen() -> None:
    plant = closing.Tally("plant.xlsx", 3, 413, 418, 3381, 13187.5, 0, 21, 40, 0, 0, "plant sized.xlsx")
    odd = closing.Tally("b.xlsx", 1, 2, 2, 5, 30.0, 1, 0, 7, 1, 2, "")
    assert closing.table_lines([plant, odd]) == [
        "",
        "workbook    projects  tanks  banks  heaters        kW  holds  cautions  notes  not sized",
        "-" * 88,
        "plant.xlsx         3    413    418    3,381  13,187.5      0        21     40          0",
        "b.xlsx             1      2      2        5      30.0      1         0      7          1",
        "written: plant sized.xlsx",
        "b.xlsx: FAIL in 2 of its own checks: do not use these results; see the Checks sheet",
    ]


# --- the commands, with faults put in the verbs' place


def say(capsys: pytest.CaptureFixture[str], *arguments: str) -> tuple[int, str, str]:
    code = cli.main(list(arguments))
    out, err = capsys.readouterr()
    return code, out, err


def test_no_command_is_a_wrong_command_line(capsys: pytest.CaptureFixture[str]) -> None:
    code, _, err = say(capsys)
    assert code == 2
    assert "COMMAND" in err


@pytest.mark.parametrize("verb", ["blank", "size", "check", "codes"])
def test_every_command_has_help(capsys: pytest.CaptureFixture[str], verb: str) -> None:
    code, out, _ = say(capsys, verb, "--help")
    assert code == 0
    assert "exit codes" in out


def test_an_input_that_would_be_overwritten_is_a_wrong_command_line(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (job,) = touch(tmp_path, "a.xlsx")
    code, out, err = say(capsys, "size", str(job), "-o", str(job))
    assert (code, out) == (2, "")
    assert err == f"heaterbatch: the results of {job} would overwrite the input {job}: name another file or folder with -o\n"
    assert job.read_bytes() == b""


@pytest.mark.parametrize("fault", [InputFileError("a.xlsx: no workbook: save it as .xlsx"), OutputFileError("disk full: free some room")])
def test_a_file_fault_is_one_line_and_code_3(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch, fault: Exception
) -> None:
    def fail(*_: object, **__: object) -> None:
        raise fault

    monkeypatch.setattr(batch, "size", fail, raising=False)
    assert say(capsys, "size", *map(str, touch(tmp_path, "a.xlsx"))) == (3, "", f"heaterbatch: {fault}\n")


def test_a_fault_of_the_program_is_told_without_a_trace(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    def fail(*_: object, **__: object) -> None:
        raise ZeroDivisionError("float division by zero")

    monkeypatch.setattr(batch, "size", fail, raising=False)
    (job,) = touch(tmp_path, "a.xlsx")
    code, out, err = say(capsys, "size", str(job))
    assert (code, out) == (3, "")
    assert err.startswith(f"heaterbatch: {job}: a fault in this program, ZeroDivisionError: float division by zero; nothing was written")
    with pytest.raises(ZeroDivisionError):
        cli.main(["size", str(job), "--traceback"])


def test_a_job_larger_than_the_memory_is_told_and_no_fault_of_the_program(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    def fail(*_: object, **__: object) -> None:
        raise MemoryError

    monkeypatch.setattr(batch, "size", fail, raising=False)
    (job,) = touch(tmp_path, "a.xlsx")
    said = f"heaterbatch: {job}: this machine has not enough memory for it, and nothing was written: a job takes some 30 kB a bank"
    code, out, err = say(capsys, "size", str(job))
    assert (code, out) == (3, "") and err.startswith(said)


def test_stopping_says_that_nothing_was_written(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    def stop(*_: object, **__: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(batch, "size", stop, raising=False)
    (job,) = touch(tmp_path, "a.xlsx")
    assert say(capsys, "size", str(job)) == (130, "", f"heaterbatch: stopped: nothing was written for {job}\n")


def test_blank_never_replaces_a_file(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (job,) = touch(tmp_path, "a.xlsx")
    assert say(capsys, "blank", str(job)) == (2, "", f"heaterbatch: {job} exists and may hold somebody's job: name a new file\n")
    assert job.read_bytes() == b""


def test_only_long_work_gets_a_bar(monkeypatch: pytest.MonkeyPatch) -> None:
    progress = voice.Progress("[odd] name.xlsx")
    progress("reading", 1, 2)
    assert progress.bar is None
    monkeypatch.setattr(voice, "LONG_WORK_S", -1.0)
    for stage, done, of in (("sizing", 1, 2), ("sizing", 2, 2), ("writing", 0, 0)):
        progress(stage, done, of)
    assert [task.description for task in progress.bar.tasks] == [r"\[odd] name.xlsx: sizing", r"\[odd] name.xlsx: writing"]
    assert progress.bar.tasks[1].total is None
    progress.close()
    assert progress.bar is None


# --- the real thing, in a process of its own


def run(*arguments: object, **environment: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "batch", *map(str, arguments)], capture_output=True, text=True, cwd=ROOT, env={**os.environ, **environment},
        stdin=subprocess.DEVNULL,
    )


def test_the_small_sample_is_sized_without_a_word_of_doubt(tmp_path: Path) -> None:
    done = run("size", SMALL, "-o", tmp_path / "out.xlsx")
    assert done.stderr == ""
    assert done.returncode == 0
    assert done.stdout.splitlines()[0] == "small-clean.xlsx: projects 1, tanks 8, banks 8, heaters 30, connected 132.0 kW"
    assert done.stdout.splitlines()[1].startswith("small-clean.xlsx: holds 0, cautions 0, notes ")
    assert done.stdout.splitlines()[1].endswith(", rows not sized 0")
    assert done.stdout.splitlines()[2:] == [
        "small-clean.xlsx: heat of tanks: 8 enough", f"small-clean.xlsx: written {tmp_path / 'out.xlsx'}"
    ]  # fmt: skip
    assert (tmp_path / "out.xlsx").stat().st_size > 10_000


def test_check_writes_nothing(tmp_path: Path) -> None:
    job = tmp_path / "job.xlsx"
    job.write_bytes(SMALL.read_bytes())
    done = run("check", job)
    assert done.returncode == 0
    assert "note [default-used]" in done.stdout
    assert sorted(path.name for path in tmp_path.iterdir()) == ["job.xlsx"]
    assert job.read_bytes() == SMALL.read_bytes()


def test_a_missing_file_is_one_line_and_the_others_are_done(tmp_path: Path) -> None:
    job = tmp_path / "job.xlsx"
    job.write_bytes(SMALL.read_bytes())
    done = run("size", tmp_path / "gone.xlsx", job)
    assert done.returncode == 3
    assert len(done.stderr.splitlines()) == 1
    assert "gone.xlsx" in done.stderr
    assert (tmp_path / "job sized.xlsx").exists()


def test_the_same_job_gives_the_same_bytes_without_a_stamp(tmp_path: Path) -> None:
    for seed, stamp in (("1", ""), ("2", ""), ("3", "revision meeting")):
        run("size", SMALL, "-o", f"{tmp_path / seed}/", "--stamp", stamp, PYTHONHASHSEED=seed)
    one, two, stamped = ((tmp_path / seed / "small-clean sized.xlsx").read_bytes() for seed in "123")
    assert one == two
    assert one != stamped


def test_a_reader_that_goes_away_neither_stops_the_work_nor_leaves_a_trace(tmp_path: Path) -> None:
    with subprocess.Popen(
        [sys.executable, "-m", "batch", "codes", "--all"], stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, cwd=ROOT
    ) as process:
        process.stdout.readline()
        process.stdout.close()
        complaint = process.stderr.read()
        assert process.wait() == 0
    assert complaint == ""


def test_an_ascii_terminal_gets_escapes_not_a_crash(tmp_path: Path) -> None:
    job = tmp_path / "Bäder Größe ≥ 1.xlsx"
    job.write_bytes(SMALL.read_bytes())
    done = run("size", job, PYTHONIOENCODING="ascii")
    assert done.returncode == 0, done.stderr
    assert r"B\xe4der" in done.stdout
    assert done.stdout.isascii()


def test_a_file_name_that_is_no_text_is_sized_all_the_same(tmp_path: Path) -> None:
    job = tmp_path / os.fsdecode(b"job \xff.xlsx")
    try:
        job.write_bytes(SMALL.read_bytes())
    except OSError:
        pytest.skip("this file system takes no such name")
    done = run("size", job)
    assert done.returncode == 0, done.stderr
    assert (tmp_path / os.fsdecode(b"job \xff sized.xlsx")).exists()


def test_codes_says_where_values_came_from() -> None:
    rules = batch.codes()[0]
    by_status = Counter(value.status for value in rules.code_values())
    seen, from_memory = by_status[READ], by_status[MEMORY]
    short, everything = run("codes"), run("codes", "--all")
    assert (short.returncode, everything.returncode) == (0, 0)
    later = batch.codes()[1].name
    said = short.stdout.split(f"\n{later}: ")[0].splitlines()
    assert said[0] == f"{rules.name}: {rules.title}"
    assert f"{seen} seen in print, " in said[1]
    assert f" {from_memory} from memory, unverified" in said[1]
    statuses = ["seen in print", "from memory, unverified", "trade practice", "quoted, the document was not seen"]
    widths = [len(name) for name in statuses]
    assert said[3].split("  ")[:4] == statuses
    ends = [sum(widths[: at + 1]) + 2 * at for at in range(4)]
    table = [line for line in said[5:] if line]
    columns = [[line[end - width : end].strip() or "0" for line in table] for end, width in zip(ends, widths, strict=True)]
    assert [sum(map(int, column)) for column in columns[:2]] == [seen, from_memory]
    listed = everything.stdout.split(f"\n{later}: ")[0].splitlines()
    assert sum(" from memory, unverified  " in line for line in listed) == from_memory


def test_sizing_loads_no_heavy_library(tmp_path: Path) -> None:
    script = (
        "import sys; from batch.cli.app import main; code = main(sys.argv[1:]);"
        "print(code, sorted({'pandas', 'pint', 'openpyxl', 'numpy', 'rich'} & set(sys.modules)))"
    )
    done = subprocess.run(
        [sys.executable, "-c", script, "size", str(SMALL), "-o", str(tmp_path / "out.xlsx")], capture_output=True, text=True, cwd=ROOT
    )
    assert done.stdout.splitlines()[-1] == "0 []", done.stderr


# How much is said, and of what


def test_a_workbook_without_a_command_is_told_what_was_meant(capsys) -> None:
    assert cli.main([str(SMALL)]) == closing.WRONG_COMMAND
    assert f"is a file, not a command: to size it, heaterbatch size {SMALL}" in capsys.readouterr().err


def test_quiet_says_nothing_and_json_says_all(capsys, tmp_path) -> None:
    assert cli.main(["check", str(SMALL), "--quiet"]) == 0
    assert capsys.readouterr().out == ""
    assert cli.main(["check", str(SMALL), str(tmp_path / "none.xlsx"), "--json"]) == closing.FILE_FAULT
    told = json.loads(capsys.readouterr().out)
    assert told["exit_code"] == 3 and len(told["faults"]) == 1
    [book] = told["workbooks"]
    assert (book["heaters"], book["kw"]) == (30, 132.0)
    assert sum(found["count"] for found in book["findings"] if found["severity"] == "note") == book["notes"]


def test_check_shows_findings_from_a_severity_on(capsys) -> None:
    job = SMALL.with_name("every-finding.xlsx")
    cli.main(["check", str(job), "--severity", "hold"])
    shown = [line for line in capsys.readouterr().out.splitlines() if "[" in line and not line.startswith("    ")]
    assert shown and all(" hold" in line for line in shown)


def test_standard_input_is_a_workbook_too(tmp_path) -> None:
    command = [sys.executable, "-m", "batch", "size", "-"]
    with SMALL.open("rb") as held:
        refused = subprocess.run(command, stdin=held, capture_output=True, text=True, check=False)
    assert refused.returncode == closing.WRONG_COMMAND and "has no place of its own" in refused.stderr
    with SMALL.open("rb") as held:
        done = subprocess.run([*command, "-o", str(tmp_path / "x.xlsx")], stdin=held, capture_output=True, text=True, check=False)
    assert done.returncode == 0 and (tmp_path / "x.xlsx").is_file(), done.stderr


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="no device that is always full")
def test_a_full_disk_behind_the_screen_is_no_fault_of_the_program() -> None:
    with Path("/dev/full").open("w") as full:
        command = [sys.executable, "-m", "batch", "check", str(SMALL)]
        done = subprocess.run(command, stdout=full, stderr=subprocess.PIPE, text=True, check=False)
    assert (done.returncode, done.stderr) == (0, "")


@pytest.mark.parametrize("shell", ["bash", "zsh", "fish"])
def test_completion_for_shells(shell: str, capsys) -> None:
    assert cli.main(["completion", shell]) == 0
    assert "heaterbatch" in capsys.readouterr().out


@pytest.mark.parametrize("line", [
    ["size", ""], ["size", " "], ["check", ""], ["size", str(SMALL), ""], ["fill", ""], ["papers", ""], ["quote", ""], ["watch", ""],
    ["compare", str(SMALL), ""], ["blank", ""], ["editions", ""], ["size", str(SMALL), "-o", ""], ["size", "--map", "", str(SMALL)],
    ["size", "--firm", "", str(SMALL)], ["menu", ""], ["papers", str(SMALL), "-o", ""],
])  # fmt: skip
def test_an_empty_name_is_no_folder(
    line: list[str], capsys: pytest.CaptureFixture, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What an unset variable of a shell leaves: it would be the current folder, and every job in it sized."""
    shutil.copy(SMALL, tmp_path / "job.xlsx")
    monkeypatch.chdir(tmp_path)
    assert cli.main(line) == closing.WRONG_COMMAND
    assert 'the name is empty ("")' in capsys.readouterr().err
    assert [path.name for path in tmp_path.iterdir()] == ["job.xlsx"]


@pytest.mark.skipif(os.name == "nt", reason="a shell that closes streams")
@pytest.mark.parametrize("closed", [">&-", "2>&-", ">&- 2>&-"])
def test_closed_streams_stop_no_work(tmp_path: Path, closed: str) -> None:
    shutil.copy(SMALL, tmp_path / "job.xlsx")
    command, found = f'"{sys.executable}" -m batch size job.xlsx {closed}', os.environ | {"PYTHONPATH": str(ROOT)}
    done = subprocess.run(command, shell=True, cwd=tmp_path, env=found, capture_output=True, check=False)
    assert done.returncode in (0, 1) and (tmp_path / "job sized.xlsx").is_file() and b"fault" not in done.stdout + done.stderr
