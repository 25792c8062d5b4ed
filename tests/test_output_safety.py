"""What is written is written whole or not at all: a fault and a kill at every step, a full disk, files that must be left alone."""

from __future__ import annotations

import errno
import os
import resource
import signal
import stat
import sys
import tempfile
from collections.abc import Callable, Iterator
from contextlib import suppress
from pathlib import Path
from zipfile import BadZipFile, ZipFile

import pytest

import batch
from batch import filling, report, whole_file
from batch.cli import app as cli
from batch.errors import JobError, OutputFileError
from batch.quoting import letter
from tests.report_job import earlier_file, job_result

ROOT = Path(__file__).resolve().parents[1]
SMALL = ROOT / "sample_jobs" / "small-clean.xlsx"
OLD = earlier_file()
POSIX = pytest.mark.skipif(not hasattr(os, "fork"), reason="needs fork and POSIX limits")


@pytest.fixture(scope="module")
def result():
    return job_result(4, 1)


def write_results(result) -> Callable[[Path], object]:
    return lambda path: report.write(result, path, stamp="x")


def write_blank(result) -> Callable[[Path], object]:
    return lambda path: report.blank(path)


def write_bytes(result) -> Callable[[Path], object]:
    def write(path: Path) -> None:
        with whole_file.whole_file(path) as part:
            part.path.write_bytes(b"new" * 100_000)

    return write


def write_filled(result) -> Callable[[Path], object]:
    sized = batch.check(SMALL)
    return lambda path: filling.write_filled(SMALL, sized, path, "program")


def write_letter(result) -> Callable[[Path], object]:
    return letter.write_template


WRITERS = [write_results, write_blank, write_filled, write_letter, write_bytes]


def is_whole(path: Path) -> bool:
    data = path.read_bytes()
    if data.startswith(b"new"):
        return data == b"new" * 100_000
    try:
        with ZipFile(path) as package:
            return package.testzip() is None and not {"xl/workbook.xml", "word/document.xml"}.isdisjoint(package.namelist())
    except BadZipFile:
        return False


@pytest.fixture
def old(tmp_path: Path) -> Path:
    path = tmp_path / "there.xlsx"
    path.write_bytes(OLD)
    return path


def one_line(told: pytest.ExceptionInfo, path: Path) -> str:
    text = str(told.value)
    assert "\n" not in text
    assert text.startswith(f"{path}: ")
    return text


# --- a fault at every step


def full(*_: object, **__: object) -> None:
    raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))


def denied(*_: object, **__: object) -> None:
    raise PermissionError(errno.EACCES, os.strerror(errno.EACCES))


@pytest.mark.parametrize("writer", WRITERS)
@pytest.mark.parametrize("step", ["os.fsync", "os.replace"])
def test_a_full_disk_at_the_last_steps_leaves_the_old_file_and_nothing_else(result, old, monkeypatch, writer, step) -> None:
    monkeypatch.setattr(step, full)
    with pytest.raises(OutputFileError, match="free some room") as told:
        writer(result)(old)
    one_line(told, old)
    assert old.read_bytes() == OLD
    assert list(old.parent.iterdir()) == [old]


class Failing:
    """An audit hook that, while it is on, raises or kills at the n-th thing done to a file or folder."""

    SEEN = frozenset({"open", "os.rename", "os.remove", "os.link", "os.chmod", "os.utime", "tempfile.mkstemp", "os.truncate"})

    def __init__(self) -> None:
        self.at, self.count, self.act = 0, 0, None
        self.needed: set[int] = set()  # steps without which there is no file: it is made, filled, read back, settled, named
        sys.addaudithook(self)

    def __call__(self, event: str, arguments: tuple) -> None:
        if self.act is None or event not in self.SEEN:
            return
        if event == "open" and isinstance(arguments[0], (str, bytes)) and str(arguments[0]).endswith((".py", ".pyc", ".csv", ".toml")):
            return
        self.count += 1
        unfinished = event == "open" and str(arguments[0]).endswith(".part")
        if event == "os.rename" or (unfinished and arguments[1] != "w+"):  # a package that can't be opened so is opened another way
            self.needed.add(self.count)
        if self.count == self.at:
            self.act()

    def run(self, at: int, act: Callable[[], None], work: Callable[[], object]) -> int:
        """Does the work with `act` at step `at`; returns how many steps there were."""
        self.at, self.count, self.act, self.needed = at, 0, act, set()
        try:
            work()
        finally:
            self.act = None
        return self.count


HOOK = Failing()


def chosen(count: int) -> list[int]:
    """All steps of a small file; of a workbook with hundreds, whose parts are all made alike, the first and last and some between."""
    return sorted({*range(1, min(count, 4) + 1), *range(4, count, max(count // 8, 1)), *range(max(count - 11, 1), count + 1)})


def steps(write: Callable[[Path], object], folder: Path) -> int:
    write(folder / "warm.xlsx")  # what is loaded once is loaded now
    (folder / "warm.xlsx").write_bytes(OLD)  # over which each step is tried
    count = HOOK.run(0, lambda: None, lambda: write(folder / "warm.xlsx"))
    (folder / "warm.xlsx").unlink()
    return count


@pytest.mark.parametrize("writer", WRITERS)
def test_a_fault_at_any_step_is_one_line_and_leaves_the_old_file_or_the_new_one(result, old, tmp_path, writer) -> None:
    write = writer(result)
    count = steps(write, tmp_path)
    needed = HOOK.needed & set(chosen(count))
    assert len(needed) >= 3
    refused = []
    for at in chosen(count):
        old.write_bytes(OLD)
        try:
            HOOK.run(at, full, lambda: write(old))
        except JobError as fault:  # reading the list again is a step of filling it
            refused.append(at)
            assert "\n" not in str(fault), at
            assert old.read_bytes() == OLD, at
        else:  # the fault was in something that may fail, such as settling the folder
            assert is_whole(old), at
        assert [path for path in old.parent.iterdir() if path != old and path.suffix != ".part"] == [], at
        for left in old.parent.glob("*.part"):  # where removing it was the step that failed
            left.unlink()
    assert 1 in refused and needed <= set(refused)


# --- a kill at every step


def in_a_child(work: Callable[[], object]) -> int:
    """Runs `work` in a forked process; returns its wait status."""
    child = os.fork()
    if child == 0:
        code = 70
        try:
            work()
            code = 0
        except OutputFileError:
            code = 3
        finally:
            os._exit(code)
    return os.waitpid(child, 0)[1]


def kill() -> None:
    os.kill(os.getpid(), signal.SIGKILL)


@POSIX
@pytest.mark.parametrize("writer", WRITERS)
def test_killed_at_any_step_there_is_the_old_file_or_the_new_one(result, old, tmp_path, writer) -> None:
    write = writer(result)
    count = steps(write, tmp_path)
    outcomes = set()
    for at in chosen(count):
        old.write_bytes(OLD)
        status = in_a_child(lambda at=at: HOOK.run(at, kill, lambda: write(old)))
        assert os.WIFSIGNALED(status) and os.WTERMSIG(status) == signal.SIGKILL, at
        outcomes.add("old" if old.read_bytes() == OLD else "new")
        assert old.read_bytes() == OLD or is_whole(old), at
        write(old)  # what a killed run left behind is in nobody's way
        assert is_whole(old), at
    assert outcomes == {"old", "new"}


# --- a disk that takes no more, at any byte


@POSIX
@pytest.mark.parametrize("writer", WRITERS)
def test_a_disk_that_takes_no_more_at_any_byte(result, old, tmp_path, writer) -> None:
    """The system itself refuses the bytes beyond a limit (setrlimit, POSIX), here one after the other over the whole file."""
    write = writer(result)
    write(tmp_path / "warm.xlsx")
    size = (tmp_path / "warm.xlsx").stat().st_size
    (tmp_path / "warm.xlsx").unlink()

    def limited(limit: int) -> None:
        signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
        resource.setrlimit(resource.RLIMIT_FSIZE, (limit, limit))
        write(old)

    codes = []
    for limit in [*range(0, size, max(size // 6, 1)), size - 1, 100 * size]:
        old.write_bytes(OLD)
        status = in_a_child(lambda limit=limit: limited(limit))
        codes.append(os.waitstatus_to_exitcode(status))
        assert old.read_bytes() == OLD if codes[-1] else is_whole(old), limit
        assert list(tmp_path.iterdir()) == [old], limit
    assert set(codes) == {0, 3}
    assert codes[-1] == 0 and codes[-2] == 3


# --- a file that must be left alone


@pytest.mark.parametrize("lock", [".~lock.there.xlsx#", "~$there.xlsx"])
@pytest.mark.parametrize("writer", WRITERS)
def test_open_elsewhere_the_new_file_takes_another_name(result, old, writer, lock) -> None:
    (old.parent / lock).write_bytes(b"")
    for number in (2, 3):
        writer(result)(old)
        assert is_whole(old.with_name(f"there ({number}).xlsx"))
    assert old.read_bytes() == OLD
    assert {path.name for path in old.parent.iterdir()} == {"there.xlsx", lock, "there (2).xlsx", "there (3).xlsx"}


def test_a_lock_without_its_file_is_in_nobodys_way(result, tmp_path) -> None:
    (tmp_path / ".~lock.new.xlsx#").write_bytes(b"")
    part = report.write(result, tmp_path / "new.xlsx")
    assert (part.landed, part.why) == (tmp_path / "new.xlsx", "")


def test_a_file_marked_as_not_to_be_written_is_left_alone(result, old) -> None:
    old.chmod(stat.S_IRUSR)
    part = report.write(result, old)
    assert part.landed == old.with_name("there (2).xlsx")
    assert "not to be written" in part.why
    assert old.read_bytes() == OLD


def test_a_file_that_the_system_will_not_replace_is_left_alone(result, old, monkeypatch) -> None:
    """Some systems hold an open file that fast: the last step fails, and there is no lock file to see before it."""
    monkeypatch.setattr("os.replace", denied)
    part = report.write(result, old)
    assert (part.landed, is_whole(part.landed)) == (old.with_name("there (2).xlsx"), True)
    assert "open elsewhere" in part.why
    assert old.read_bytes() == OLD


def test_what_another_program_wrote_is_left_though_it_says_nothing_of_itself(result, tmp_path) -> None:
    """A text under the name of a workbook, and a workbook without properties, as lists leave many a program; an empty file is nobody's."""
    names = ("notes.xlsx", "list.xlsx", "empty.xlsx")
    notes, sheets, empty = (tmp_path / name for name in names)
    notes.write_bytes(b"somebody's notes")
    with ZipFile(sheets, "w") as package:
        package.writestr("xl/workbook.xml", "<workbook/>")
    empty.touch()
    held = {path: path.read_bytes() for path in (notes, sheets)}
    for path in held:
        part = report.write(result, path)
        assert (part.landed, part.why) == (path.with_name(f"{path.stem} (2).xlsx"), "this program did not write it")
    assert {path: path.read_bytes() for path in held} == held
    assert report.write(result, empty).landed == empty


def test_a_disk_without_links_still_gives_another_name(result, old, monkeypatch) -> None:
    (old.parent / "~$there.xlsx").write_bytes(b"")
    (old.parent / "there (2).xlsx").write_bytes(OLD)

    def no_links(*_: object, **__: object) -> None:
        raise OSError(errno.EOPNOTSUPP, os.strerror(errno.EOPNOTSUPP))

    monkeypatch.setattr("os.link", no_links)
    part = report.write(result, old)
    assert part.landed == old.with_name("there (3).xlsx")
    assert (old.parent / "there (2).xlsx").read_bytes() == OLD
    assert not list(old.parent.glob("*.part"))


def test_the_command_says_where_the_results_went(tmp_path, capsys) -> None:
    job = tmp_path / "bid.xlsx"
    job.write_bytes(SMALL.read_bytes())
    target, lock = tmp_path / "bid sized.xlsx", tmp_path / ".~lock.bid sized.xlsx#"
    target.write_bytes(OLD)
    lock.write_bytes(b"")
    assert cli.main(["size", str(job)]) == 0
    told = capsys.readouterr()
    other = tmp_path / "bid sized (2).xlsx"
    assert f"{target}: it is open elsewhere, as {lock.name} beside it says; it was left as it is, and the new file is {other}" in told.err
    assert f"written {other}" in told.out
    assert is_whole(other) and target.read_bytes() == OLD
    assert cli.main(["check", str(tmp_path)]) == 0
    assert f"{other}: skipped, a results workbook by its name" in capsys.readouterr().err


# --- places that cannot be written to


def test_a_folder_that_is_not_there(result, tmp_path) -> None:
    path = tmp_path / "nowhere" / "x.xlsx"
    with pytest.raises(OutputFileError, match="make the folder, or choose another folder") as told:
        report.write(result, path)
    one_line(told, path)


def test_a_file_where_a_folder_should_be(result, old) -> None:
    with pytest.raises(OutputFileError, match="part of this path is a file") as told:
        report.write(result, old / "x.xlsx")
    one_line(told, old / "x.xlsx")


@pytest.mark.parametrize("name", ["x" * 300 + ".xlsx", "é" * 140 + ".xlsx", "x/" * 3000 + "x.xlsx"])
def test_a_name_or_path_too_long(result, tmp_path, name) -> None:
    with pytest.raises(OutputFileError, match=r"choose a shorter name|make the folder") as told:
        report.write(result, tmp_path / name)
    one_line(told, tmp_path / name)


def test_the_longest_name_that_a_disk_takes(result, tmp_path) -> None:
    for name in ("x" * 250 + ".xlsx", "é" * 125 + ".xlsx", "漢" * 83 + ".xlsx"):
        assert is_whole(report.write(result, tmp_path / name).landed)
        assert not list(tmp_path.glob("*.part"))


def test_a_name_that_no_disk_can_carry(result, tmp_path) -> None:
    with pytest.raises(OutputFileError, match="null"):
        report.write(result, tmp_path / "a\0b.xlsx")


def test_bytes_that_are_no_text_in_a_name(result, tmp_path) -> None:
    path = tmp_path / os.fsdecode(b"caf\xe9.xlsx")
    assert is_whole(report.write(result, path).landed)


def test_a_folder_is_not_replaced(result, tmp_path) -> None:
    (tmp_path / "x.xlsx").mkdir()
    with pytest.raises(OutputFileError, match="a folder or a device"):
        report.write(result, tmp_path / "x.xlsx")
    assert (tmp_path / "x.xlsx").is_dir()


@pytest.mark.skipif(not Path("/dev/null").exists(), reason="needs POSIX devices")
def test_a_device_is_not_replaced(result, tmp_path) -> None:
    (tmp_path / "x.xlsx").symlink_to("/dev/null")
    with pytest.raises(OutputFileError, match="a folder or a device"):
        report.write(result, tmp_path / "x.xlsx")
    assert stat.S_ISCHR(Path("/dev/null").stat().st_mode)


def test_a_link_is_followed_and_stays_a_link(result, tmp_path) -> None:
    (tmp_path / "far").mkdir()
    far, near = tmp_path / "far" / "real.xlsx", tmp_path / "near.xlsx"
    far.write_bytes(OLD)
    near.symlink_to(far)
    assert report.write(result, near).landed == near
    assert near.is_symlink() and is_whole(far)


def test_who_may_read_the_old_file_may_read_the_new_one(result, old) -> None:
    old.chmod(0o640)
    report.write(result, old)
    assert stat.S_IMODE(old.stat().st_mode) == 0o640


@pytest.fixture
def locked_folder() -> Iterator[Path]:
    """A folder that others may read and not write in, where others can reach it."""
    with tempfile.TemporaryDirectory() as made:
        folder = Path(made)
        (folder / "there.xlsx").write_bytes(OLD)
        (folder / "there.xlsx").chmod(0o644)
        folder.chmod(0o555)
        yield folder
        folder.chmod(0o755)


@POSIX
def test_a_folder_without_permission(result, locked_folder, tmp_path) -> None:
    report.write(result, tmp_path / "warm.xlsx")  # what is loaded once is loaded by who may
    reader, writer = os.pipe()

    def as_nobody() -> None:
        if os.geteuid() == 0:
            os.setgid(65534)
            os.setuid(65534)
        for path in (locked_folder / "there.xlsx", locked_folder / "new.xlsx"):
            with suppress(OutputFileError):
                try:
                    report.write(result, path)
                except OutputFileError as fault:
                    os.write(writer, f"{fault}\n".encode())

    assert os.waitstatus_to_exitcode(in_a_child(as_nobody)) == 0
    os.close(writer)
    with os.fdopen(reader) as pipe:
        told = pipe.read().splitlines()
    assert len(told) == 2
    for line, name in zip(told, ("there.xlsx", "new.xlsx"), strict=True):
        assert line.startswith(f"{locked_folder / name}: cannot be written (Permission denied); nothing was changed: ")
        assert "choose another folder" in line
    assert (locked_folder / "there.xlsx").read_bytes() == OLD
    assert [path.name for path in locked_folder.iterdir()] == ["there.xlsx"]


def test_stopped_by_the_user_nothing_is_left(old) -> None:
    with pytest.raises(KeyboardInterrupt), whole_file.whole_file(old) as part:
        part.path.write_bytes(b"half")
        raise KeyboardInterrupt
    assert old.read_bytes() == OLD
    assert list(old.parent.iterdir()) == [old]


def test_the_input_is_never_the_output(tmp_path) -> None:
    job = tmp_path / "bid.xlsx"
    job.write_bytes(SMALL.read_bytes())
    link = tmp_path / "link.xlsx"
    link.symlink_to(job)
    for target in (job, link):
        with pytest.raises(OutputFileError, match="this is the input"):
            batch.size(job, target)
    assert job.read_bytes() == SMALL.read_bytes()
