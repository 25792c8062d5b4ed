"""The command line: parse, call a public verb, say its answer. No rule of the trade is here.

This is the only module that prints. Answers go to standard output; what was skipped or went wrong, and the progress bar,
go to standard error.
"""

from __future__ import annotations

import argparse
import gc
import os
import sys
import time
from collections import Counter
from collections.abc import Callable, Sequence
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, TextIO

import batch
from batch.cli import closing_table as closing
from batch.cli import compare_command, fill_command, map_command
from batch.cli.job_files import Gathered, WrongCommand, gather, targets
from batch.errors import JobError
from batch.results import JobResult

if TYPE_CHECKING:
    from rich.progress import Progress as Bar
    from rich.progress import TaskID

SELDOM = 50_000  # new objects between two searches for loops of references: 5 to 8 % of a run was spent on them, and none was found
LONG_WORK_S = 0.7  # work that takes longer than this gets a progress bar on a screen

DESCRIPTION = """\
Sizes the electrical supply of immersion heaters, tank by tank, for a whole plant:
a job workbook in, a results workbook out."""
EPILOG = """\
exit codes: 0 all sized, 1 sized but some rows need review, 2 wrong command line,
3 a file cannot be read or written, 4 written but some rows not sized, 130 stopped
by the user; with several files the worst of them: 3, then 4, 1, 0.

The results defer to the code in force, the authority having jurisdiction and the
licensed engineer or electrician responsible."""


class Voice:
    """Standard output and error. A reader that went away (`| head`) neither stops the work nor changes its exit code."""

    def __init__(self) -> None:
        for stream in (sys.stdout, sys.stderr):
            if hasattr(stream, "reconfigure"):  # a character the terminal cannot show is escaped, not a crash
                stream.reconfigure(errors="backslashreplace")

    def out(self, *lines: str) -> None:
        for line in lines:
            self._guarded(sys.stdout, line)

    def err(self, *lines: str) -> None:
        for line in lines:
            self._guarded(sys.stderr, f"heaterbatch: {line}")

    @staticmethod
    def _guarded(stream: TextIO, line: str) -> None:
        try:
            print(line, file=stream, flush=True)
        except BrokenPipeError:
            # What is left in the buffer would raise again at exit, so the stream is pointed at nothing.
            nowhere = os.open(os.devnull, os.O_WRONLY)
            os.dup2(nowhere, stream.fileno())
            os.close(nowhere)


class Progress:
    """The verbs' progress callback: silent until the work has proved long, then a bar on the screen."""

    def __init__(self, name: str) -> None:
        self.name, self.began = name, time.monotonic()
        self.bar: Bar | None = None
        self.tasks: dict[str, TaskID] = {}

    def __call__(self, stage: str, done: int, of: int) -> None:
        if self.bar is None:
            if time.monotonic() - self.began < LONG_WORK_S:
                return
            from rich.console import Console  # for long work on a screen only: short work should not wait for this import
            from rich.progress import Progress as Bar

            self.bar = Bar(console=Console(stderr=True), transient=True)
            self.bar.start()
        if stage not in self.tasks:
            from rich.markup import escape

            self.tasks[stage] = self.bar.add_task(escape(f"{self.name}: {stage}"), total=of or None)
        self.bar.update(self.tasks[stage], completed=done, total=of or None)

    def close(self) -> None:
        if self.bar is not None:
            self.bar.stop()
            self.bar = None


# --- the commands ---------------------------------------------------------------------------------------------------------------


def do_size(options: argparse.Namespace, voice: Voice) -> int:
    found = gather(options.workbooks)
    where = targets(found.jobs, options.out)
    us = None if options.units is None else options.units == "us"
    stamp = date.today().isoformat() if options.stamp is None else options.stamp
    compare_command.judge_keep(options, found.jobs)
    plan = map_command.map_used(options)
    written = dict(zip(found.jobs, where, strict=True))

    def work(job: Path, progress: Progress | None) -> JobResult:
        return batch.size(
            job,
            written[job],
            keep_from=options.keep_from,
            renamed=options.renamed,
            column_map=plan,
            us=us,
            stamp=stamp,
            print_set=options.print or "",
            progress=progress,
        )

    return over_all(found, work, written, options.traceback, voice)


def do_check(options: argparse.Namespace, voice: Voice) -> int:
    found = gather(options.workbooks)
    plan = map_command.map_used(options) if options.propose_map is None else map_command.propose(options, found.jobs, voice)
    return over_all(found, lambda job, progress: batch.check(job, column_map=plan, progress=progress), {}, options.traceback, voice)


def do_fill(options: argparse.Namespace, voice: Voice) -> int:
    written = {options.workbook: fill_command.target_of(options.workbook, options.out)}
    plan = map_command.map_used(options)

    def work(job: Path, progress: Progress | None) -> JobResult:
        return batch.fill(job, written[job], column_map=plan, progress=progress)

    return over_all(Gathered([options.workbook], [], []), work, written, options.traceback, voice)


def over_all(found, work: Callable[[Path, Progress | None], JobResult], written: dict[Path, Path], trace: bool, voice: Voice) -> int:
    """Every workbook in turn; a fault in one does not stop the others. Returns the worst exit code."""
    from batch.schedules import rows

    voice.err(*found.skipped, *found.faults)
    codes = [closing.FILE_FAULT] if found.faults else []
    tallies: list[closing.Tally] = []
    for job in found.jobs:
        progress = Progress(job.name) if sys.stderr.isatty() else None
        try:
            result = work(job, progress)
        except KeyboardInterrupt:
            before = ", ".join(line.written for line in tallies if line.written)
            voice.err(f"stopped: nothing was written for {job}" + (f"; written before it: {before}" if before else ""))
            return closing.STOPPED
        except JobError as fault:
            voice.err(str(fault))
            codes.append(closing.FILE_FAULT)
            continue
        except Exception as fault:  # a fault of the program: the other workbooks are still worked on, and nobody meets a trace
            if trace:
                raise
            voice.err(f"{job}: {program_fault(fault)}")
            codes.append(closing.FILE_FAULT)
            continue
        finally:
            if progress is not None:
                progress.close()
        listed = rows(result, "findings")
        codes.append(closing.verdict(result))
        tallies.append(closing.tally(job.name, result, listed, result.written or str(written.get(job, ""))))
        if result.aside:
            voice.err(f"{written[job]}: {result.aside}; it was left as it is, and the new file is {result.written}")
        voice.out(*(f"{job.name}: {line}" for line in result.about))
        voice.out(*(closing.kind_lines if written else closing.finding_lines)(job.name, listed))
    if tallies:
        voice.out(*(closing.table_lines if sys.stdout.isatty() else closing.plain_lines)(tallies))
    return closing.worst(codes)


def do_compare(options: argparse.Namespace, voice: Voice) -> int:
    progress = Progress(options.workbooks[-1].name) if sys.stderr.isatty() else None
    stamp = date.today().isoformat() if options.stamp is None else options.stamp
    try:
        return compare_command.do_compare(options, voice, progress, stamp)
    finally:
        if progress is not None:
            progress.close()


def do_blank(options: argparse.Namespace, voice: Voice) -> int:
    target: Path = options.workbook
    if target.suffix.lower() != ".xlsx":
        raise WrongCommand(f"{target}: end the name of the blank job workbook in .xlsx")
    if target.exists():
        raise WrongCommand(f"{target} exists and may hold somebody's job: name a new file")
    voice.out(f"written {batch.blank(target, us=options.units == 'us')}")
    return closing.SIZED


EDITIONS = "list the rule sets at hand: edition, tables, where each value came from"


def do_editions(options: argparse.Namespace, voice: Voice) -> int:
    for rules in batch.editions():
        values = rules.code_values()
        totals = Counter(value.status for value in values)
        voice.out(
            f"{rules.name}: {rules.title}",
            f"{len(values)} values, each with its source: {', '.join(f'{count} {status}' for status, count in totals.items())}.",
            '"seen in print" was seen on a page, "quoted" as others retell it; hold what is quoted or '
            "from memory against the book before you rely on it.",
        )
        if options.all:
            lines: list[tuple[str, ...]] = [("name", "value", "unit", "status", "source")]
            lines += [(value.name, worded(value.value), value.unit, value.status, value.source) for value in values]
            right = {1}
        else:
            counts: dict[str, Counter[str]] = {}
            for value in values:
                counts.setdefault(value.source, Counter())[value.status] += 1
            lines = [(*totals, "source")]
            lines += [(*(str(count[status] or "") for status in totals), source) for source, count in counts.items()]
            right = set(range(len(totals)))
        voice.out(*closing.columns(lines, right), "")
    return closing.SIZED


def worded(value: float | str) -> str:
    return value if isinstance(value, str) else f"{value:.10g}"


def program_fault(fault: Exception) -> str:
    return f"a fault in this program, {type(fault).__name__}: {fault}; nothing was written; please report it with what --traceback shows"


# --- parsing --------------------------------------------------------------------------------------------------------------------


def parser(arguments: Sequence[str] = ()) -> argparse.ArgumentParser:
    shape = argparse.RawDescriptionHelpFormatter
    top = argparse.ArgumentParser("heaterbatch", description=DESCRIPTION, epilog=EPILOG, formatter_class=shape)
    top.add_argument("--version", action="version", version=f"heaterbatch {batch.__version__}")
    verbs = top.add_subparsers(title="commands", dest="command", required=True, metavar="COMMAND")

    def verb(name: str, do: Callable, says: str, more: str = "") -> argparse.ArgumentParser:
        told = f"{says[0].upper()}{says[1:]}. {more}".strip()
        made = verbs.add_parser(name, help=says, description=told, epilog=EPILOG, formatter_class=shape)
        made.add_argument("--traceback", action="store_true", help="after a fault in this program show where it happened (for developers)")
        made.set_defaults(do=do)
        return made

    blank = verb("blank", do_blank, "write a blank job workbook with help, drop-downs and units", "Never replaces a file.")
    blank.add_argument("workbook", type=Path, metavar="JOB.xlsx")
    blank.add_argument("--units", choices=("us", "si"), default="us",
                       help="units of its headings: us (ft, °F, gal; the default) or si (m, °C, L)")

    size = verb("size", do_size, "size job workbooks and write the results",
                'JOB.xlsx gives "JOB sized.xlsx"\nbeside it, in place of an earlier one. The job workbook is never changed.')
    size.add_argument("workbooks", nargs="+", type=Path, metavar="JOB.xlsx|FOLDER",
                      help="job workbooks, or folders of them; results and lock files in a folder are skipped")
    size.add_argument("-o", "--out", metavar="FILE|FOLDER", help="where the results go: a file (for one job), or a folder")
    size.add_argument("--units", choices=("us", "si"), help="units of the results; left out, the rule set's own")
    size.add_argument("--print", choices=("manager", "estimator", "all"),
                      help="whom the workbook prints for as a whole; sheets that he does not need are hidden")
    size.add_argument("--stamp", metavar="TEXT", help='run stamp shown in the results; left out, today\'s date; "" for none')

    fill = verb("fill", do_fill, fill_command.SAYS, fill_command.MORE)
    fill_command.add_fill(fill)
    map_command.add_map(fill)
    compare_command.add_keep(size)
    map_command.add_map(size)
    compare_command.add_compare(verb("compare", do_compare, compare_command.SAYS, compare_command.MORE))

    check = verb("check", do_check, "read and judge job workbooks, findings on the screen", "Writes nothing.")
    check.add_argument("workbooks", nargs="+", type=Path, metavar="JOB.xlsx|FOLDER", help="job workbooks, or folders of them")
    map_command.add_map(check)
    map_command.add_propose(check)

    editions = verb("editions", do_editions, EDITIONS)
    editions.add_argument("--all", action="store_true", help="every value, one a line")
    if arguments[:1] == ["codes"]:  # what version 0.1.0 called it; not offered, but understood
        verb("codes", do_editions, EDITIONS).add_argument("--all", action="store_true", help="as of `editions`, its name now")
    return top


def main(arguments: Sequence[str] | None = None) -> int:
    """Runs one command; returns its exit code: 0, 1, 2, 3, 4 or 130."""
    gc.set_threshold(SELDOM)
    voice = Voice()
    try:
        options = parser(sys.argv[1:] if arguments is None else arguments).parse_args(arguments)
    except SystemExit as leaving:  # argparse has spoken: 2 for a wrong line, 0 for --help
        return leaving.code if isinstance(leaving.code, int) else closing.WRONG_COMMAND
    try:
        return options.do(options, voice)
    except WrongCommand as fault:
        voice.err(str(fault))
        return closing.WRONG_COMMAND
    except JobError as fault:
        voice.err(str(fault))
        return closing.FILE_FAULT
    except KeyboardInterrupt:
        voice.err("stopped")
        return closing.STOPPED
    except Exception as fault:
        if options.traceback:
            raise
        voice.err(program_fault(fault))
        return closing.FILE_FAULT
