"""Sizes a workbook again whenever it is saved: waits until the save is complete, writes the results, and says in a line what changed."""

from __future__ import annotations

import hashlib
import time
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from contextlib import suppress
from pathlib import Path
from threading import Event
from typing import Any
from zipfile import is_zipfile

import batch
from batch.closing_counts import heater_rows_not_sized
from batch.comparing.compare import compare_revisions
from batch.comparing.revision import Revision
from batch.comparing.sentences import sentences, within
from batch.counted_words import counted_or_no as counted
from batch.drawings.kept_drawings import keep_drawings
from batch.drawings.raster import keep_pictures
from batch.errors import JobError
from batch.results import JobResult
from batch.sizing.kept_projects import keep_projects
from batch.writing.earlier_file import free_place

PACKED = (".xlsx", ".xlsm", ".xlsb", ".ods")  # packages, whose end says that they are whole
LOOK_ANYWAY_MS = 1000  # a folder on a network may tell of no change
LOOK_S, STILL, PATIENCE_S = 0.06, 2, 20.0  # between looks at a file; looks alike until it counts as saved; at most
NO_END_S = 3.0  # that a package without an end stands still: nobody is writing it any more
TOLD = {"First of all": 1, "The list": 2, "What it comes to": 1}  # sentences of what changed, by what they are about

Say = Callable[[str], None]


class SavedWorkbooks:
    """Job workbooks that are sized whenever they are saved. One that cannot be read is said, and tried again at its next save."""

    def __init__(self, place: Callable[[Path], Path], options: Callable[[], Mapping[str, Any]], say: Say, fault: Say) -> None:
        """
        place    where the results of a job go
        options  of `batch.size`, at the moment: a job that is saved tomorrow is stamped tomorrow
        say      takes a line about a job that was sized; fault, about one that was not
        """
        keep_pictures()
        keep_drawings()
        keep_projects()
        self._place, self._options, self._say, self._fault = place, options, say, fault
        self._looked: dict[Path, tuple[int, int]] = {}  # size and time when last looked into
        self._marks: dict[Path, str] = {}  # bytes last sized
        self._last: dict[Path, Revision] = {}

    def looks_new(self, job: Path) -> bool:
        """Whether a job is another file, by size and time, than when it was last looked into."""
        try:
            found = job.stat()
        except OSError:
            return False
        return self._looked.get(job) != (found.st_size, found.st_mtime_ns)

    def saved(self, job: Path) -> bool:
        """Sizes a job if its bytes are others than the last ones sized; returns whether it did."""
        began = time.monotonic()
        if not wait_until_saved(job):
            return False
        with suppress(OSError):
            found = job.stat()
            self._looked[job] = (found.st_size, found.st_mtime_ns)
        mark = _mark(job)
        if not mark or mark == self._marks.get(job):
            return False
        self._marks[job] = mark
        try:
            result = batch.size(job, free_place(self._place(job))[0], **self._options())
            changed = self._changed(job, result)
        except JobError as fault:
            self._fault(str(fault))
            return True
        except Exception as fault:  # a fault of the program: watching goes on
            self._fault(f"{job}: a fault in this program, {type(fault).__name__}: {fault}; nothing was written")
            return True
        if _mark(job) != mark:  # saved once more while it was read: the next look takes it up, whatever was read now
            self._marks.pop(job)
            self._looked.pop(job, None)
        self._say(f"{job.name}: {changed}; written {Path(result.written).name} in {time.monotonic() - began:.1f} s")
        return True

    def say_gone(self) -> None:
        """Says of every job that was sized and is no longer there that it is gone, once."""
        for job in [job for job in self._looked if not job.exists()]:
            if not wait_until_saved(job):
                del self._looked[job]
                self._fault(f"{job}: is no longer there; its results stay as they are, and it is sized again when it is back")

    def _changed(self, job: Path, result: JobResult) -> str:
        now = Revision(result.job, result, batch.PROGRAM)
        before, self._last[job] = self._last.get(job), now
        if before is None:
            banks = [row for project in result.projects for row in project.banks]
            kw = sum(row.design.connected_kw for row in banks)
            told = [f"{counted(len(banks), 'bank')}, {counted(sum(row.bank.quantity for row in banks), 'heater')}, {kw:,.1f} kW"]
        else:
            compared = compare_revisions(before, now)
            apart = () if compared.of("basis") else ("First of all",)  # that nothing is new there is no news
            said = [one for one in sentences(compared) if one.subject not in apart]
            told = [within(one.words) for about, most in TOLD.items() for one in [one for one in said if one.subject == about][:most]]
        missing = heater_rows_not_sized(result)
        if missing:
            told.append(f"{counted(missing, 'row')} not sized")
        return "; ".join(told)


def wait_until_saved(job: Path) -> bool:
    """Waits until a file is no longer being written: its size and time stand still, and a package has its end. False: it is gone.

    A package without an end that stands still is not waited for any longer: whoever reads it says what is wrong with it.
    """
    until, alike, last = time.monotonic() + PATIENCE_S, 0, (-1, -1)
    while time.monotonic() < until:
        try:
            found = job.stat()
            now = (found.st_size, found.st_mtime_ns)
        except FileNotFoundError:
            if alike < -STILL:  # a program that puts a new file in the place of the old takes both away for a moment
                return False
            alike -= 1
            time.sleep(LOOK_S)
            continue
        except OSError:
            now = (-1, -1)
        alike = alike + 1 if now == last and alike >= 0 else 0
        last = now
        if alike >= STILL and now[0] > 0 and (job.suffix.lower() not in PACKED or is_zipfile(job)):
            return True
        if alike * LOOK_S >= NO_END_S:
            return True
        time.sleep(LOOK_S)
    return job.exists()


def watch(jobs: Callable[[], Sequence[Path]], folders: Sequence[Path], book: SavedWorkbooks, stop: Event) -> None:
    """Sizes what there is, and again whatever is saved, until `stop` is set.

    jobs     the job workbooks there are by now: one that is added to a folder is taken up
    folders  where they lie
    """
    from watchfiles import watch as changes_in

    changes = changes_in(
        *folders, stop_event=stop, recursive=False, debounce=200, step=40, rust_timeout=LOOK_ANYWAY_MS, yield_on_timeout=True,
        raise_interrupt=False,
    )  # fmt: skip
    for _ in _wakes(changes):
        book.say_gone()
        for job in jobs():
            while not stop.is_set() and book.looks_new(job) and book.saved(job):
                pass  # until what was sized is what lies there


def _wakes(changes: Iterable[object]) -> Iterator[object]:
    """Once at the start, and then at every change and every while: what is saved before the watching has begun is seen all the same."""
    yield None
    yield from changes


def _mark(job: Path) -> str:
    """The bytes of a file in a few characters; "" where it cannot be read now."""
    try:
        with job.open("rb") as file:
            return hashlib.file_digest(file, "sha256").hexdigest()
    except OSError:
        return ""
