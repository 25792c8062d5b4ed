"""A job of more banks than one workbook holds well, for `size`: its sections told as they are done, and the workbook that lists them."""

from __future__ import annotations

import argparse
import signal
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager, suppress
from pathlib import Path
from tempfile import TemporaryDirectory
from threading import current_thread, main_thread
from typing import Any, NamedTuple

from msgspec.structs import replace

from batch.cli import closing_table as closing
from batch.counted_words import counted
from batch.errors import OutputFileError
from batch.file_names import left_over, name_of
from batch.records import Job
from batch.results import JobResult

STILL = "not sized in this run, which was stopped or goes on; a workbook of its name is of an earlier one"
BEFORE = "left by an earlier run, no section of the job as it is now: not to be used with the others; move it away"


class Divided(NamedTuple):
    """What became of a job in sections.

    code    the worst exit code of them
    told    what to count of each that was sized, and its findings, where they are asked for
    faults  what went wrong, in words
    listed  where what is, for another program
    """

    code: int
    told: list[tuple[closing.Tally, Sequence[Mapping]]]
    faults: list[str]
    listed: dict[str, object]


class StoppedInSections(KeyboardInterrupt):
    """Stopped by the user while sections are sized; its text is the last line that he reads."""


def do_sections(
    sections: list[Job], job: Path, target: Path, *, how: Mapping[str, Any], options: argparse.Namespace, voice
) -> Divided:  # fmt: skip
    """Sizes the sections, tells of each as it is done, and writes the workbook that lists them to `target`.

    sections  of the job; emptied when they are on the disk
    how       options of `write_results`

    Raises:
        OutputFileError: the list cannot be written, which is tried before anything is sized; or sections have no room.
        StoppedInSections: by Ctrl-C, or as systems end a program.
    """
    from batch.watch.sections import save_sections

    with _ended_like_stopped(), TemporaryDirectory(prefix="heaterbatch-") as folder:
        listed = None
        try:
            bids = save_sections(sections, target, Path(folder))
            sections.clear()  # no room for them beside what is made of one
            listed = _Listed(job, target, bids)
            return _sized(listed, how, options, voice)
        except KeyboardInterrupt:
            raise StoppedInSections(f"stopped: nothing was written for {job}" if listed is None else listed.stopped()) from None


def _sized(listed: _Listed, how: Mapping[str, Any], options: argparse.Namespace, voice) -> Divided:
    from batch.watch.sections import size_sections

    name, bids = listed.job.name, listed.bids
    listed.write()  # one that says of each section that it is not sized: if this is killed, nobody takes old ones for new
    voice.out(f"{name}: more banks than one workbook holds well: {counted(len(bids), 'section')}, each a workbook of its own")
    found: list[tuple[closing.Tally | None, Sequence[Mapping]]] = []
    faults: list[str] = []
    for bid, one in zip(bids, size_sections(bids, how, firm=options.firm, code=options.code, listed=options.json), strict=True):
        done = one.done
        found.append((done.tally, one.listed))
        listed.done[bid.name] = done
        (voice.err if done.fault else voice.out)(f"{len(found)} of {len(bids)}: {bid.name}: {closing.state_words(done)}")
        faults += [f"{bid.name}: {done.fault}"] if done.fault else []
        voice.out(*(f"{bid.name}: {line}" for line in one.about))
        if done.aside:
            voice.err(f"{bid.target.name}: {done.aside}; it was left as it is, and the new file is {done.results}")
        with suppress(OutputFileError):  # what stands there claims less; the last one is not suppressed
            listed.write()
    listed.write()
    voice.out(f"{name}: its sections are listed in {listed.place}")
    if listed.why:
        voice.err(f"{listed.target}: {listed.why}; it was left as it is, and the new list is {listed.place}")
    voice.err(*(f"{path}: {BEFORE}" for path in listed.before()))
    told = [(tally, rows) for tally, rows in found if tally is not None]
    return Divided(closing.worst(done.code for done in listed.done.values()), told, faults, listed.for_programs())


def with_left_over(result: JobResult) -> JobResult:
    """The results of a job in one workbook, which say what an earlier run left beside them that divided it."""
    left = left_over(Path(result.written), ())
    return replace(result, about=(*result.about, *(f"{path}: {BEFORE}" for path in left))) if left else result


class _Listed:
    """The workbook that lists the sections. It is written whenever one is done, so that it never claims more than there is."""

    def __init__(self, job: Path, target: Path, bids: list) -> None:
        self.job, self.target, self.bids = job, target, bids
        self.place, self.why = target, ""  # where it is, and why that is not where it was to go
        self.done: dict[str, Any] = {}  # outcomes by the section's name

    def write(self) -> None:
        from batch.report.portfolio_workbook import write_portfolio
        from batch.sheets.portfolio import SECTIONS
        from batch.writing.earlier_file import title_of_results

        lines = [{column.key: line.get(column.key) for column in SECTIONS.columns} for line in self._lines()]
        part = write_portfolio(lines, self.place, SECTIONS, title_of_results(name_of(self.job)))
        self.place, self.why = part.landed, self.why or part.why

    def _lines(self) -> Iterator[Mapping[str, object]]:
        from batch.sheets.portfolio import NOT_YET, OF_BEFORE

        for bid in self.bids:
            if (done := self.done.get(bid.name)) is None:
                yield {"bid": bid.name, "state": NOT_YET, "fault": STILL}
            else:
                yield done.line() | {"results": Path(done.results).name if done.results else None}
        for path in self.before():
            yield {"bid": name_of(path), "state": OF_BEFORE, "fault": BEFORE}

    def before(self) -> list[Path]:
        """Sections of an earlier run that was divided otherwise."""
        return left_over(self.target, [*(bid.target for bid in self.bids), *(done.results for done in self.done.values())])

    def stopped(self) -> str:
        """What is written, and what is not."""
        written = [Path(done.results).name for done in self.done.values() if done.results]
        some = f"{len(written)} of {counted(len(self.bids), 'section')}" + (f" ({', '.join(written)})" if written else "")
        with suppress(OutputFileError):
            self.write()
            return f"stopped: of {self.job} {some} {'is' if len(written) == 1 else 'are'} written; {self.place} says which are not"
        return f"stopped: of {self.job} {some} {'is' if len(written) == 1 else 'are'} written; no list of them could be"

    def for_programs(self) -> dict[str, object]:
        return {
            "workbook": self.job.name, "list": str(self.place), "aside": self.why,
            "sections": [{"name": bid.name, "written": done.results, "fault": done.fault, "aside": done.aside}
                         for bid in self.bids if (done := self.done.get(bid.name)) is not None],
            "of_an_earlier_run": [str(path) for path in self.before()],
        }  # fmt: skip


@contextmanager
def _ended_like_stopped() -> Iterator[None]:
    """A system that ends this program (TERM) is heard like Ctrl-C: what waits on the disk is taken away, and the last line is true."""
    if current_thread() is not main_thread():
        yield
        return
    before = signal.signal(signal.SIGTERM, signal.default_int_handler)
    try:
        yield
    finally:
        signal.signal(signal.SIGTERM, before)
