"""The command line: parse, call a public verb, say its answer. No rule of the trade is here.

Answers go to standard output; what was skipped or went wrong, and the progress bar,
go to standard error.
"""

from __future__ import annotations

import argparse
import atexit
import gc
import os
import sys
from collections.abc import Callable, Mapping, Sequence
from datetime import date
from functools import partial
from pathlib import Path

import batch
from batch.cli import (
    bids_command,
    compare_command,
    editions_command,
    fill_command,
    map_command,
    menu_command,
    papers_command,
    quote_command,
    sections_command,
    watch_command,
)
from batch.cli import closing_table as closing
from batch.cli.job_files import Gathered, WrongCommand, gather, meant, named, named_text, targets
from batch.cli.output_options import add_answers, add_output, add_severity, also_kinds, as_json, as_severe
from batch.cli.sections_command import Divided, StoppedInSections
from batch.cli.voice import Progress, Voice
from batch.errors import JobError, ToBeDivided
from batch.results import JobResult

FIRM = "HEATERBATCH_FIRM"  # the environment's setting for --firm
CODE = "HEATERBATCH_CODE"  # and for --code
SHAPE = argparse.RawDescriptionHelpFormatter

DESCRIPTION = """\
Sizes the electrical supply of immersion heaters, tank by tank, for a whole plant:
a job workbook in, a results workbook out."""
EPILOG = """\
exit codes: 0 all sized, 1 sized but some rows need review, 2 wrong command line,
3 a file cannot be read or written, 4 written but some rows not sized, 130 stopped
by the user; with several files the worst of them: 3, then 4, 1, 0.

The results defer to the code in force, the authority having jurisdiction and the
licensed engineer or electrician responsible."""


# --- the commands ---------------------------------------------------------------------------------------------------------------


def do_size(options: argparse.Namespace, voice: Voice) -> int:
    bids_command.judge_bids(options)
    us = None if options.units is None else options.units == "us"
    stamp = date.today().isoformat() if options.stamp is None else options.stamp
    plan = map_command.map_used(options)
    if bids_command.is_folder_of_bids(options):
        how = {"column_map": plan, "us": us, "stamp": stamp, "print_set": options.print, "renamed": options.renamed}
        how |= {"also": options.also} if options.also else {}  # a run without them is known for what it was before there were any
        return bids_command.do_bids(options, how, voice)
    found = gather(options.workbooks, options.recursive)
    where = targets(found.jobs, options.out)
    compare_command.judge_keep(options, found.jobs)
    judge_answers(options, found)
    written = dict(zip(found.jobs, where, strict=True))

    how = {"us": us, "stamp": stamp, "print_set": options.print, "also": options.also}
    read = {"keep_from": options.keep_from, "renamed": options.renamed, "column_map": plan, "answers": options.answers}

    def work(job: Path, progress: Progress | None) -> JobResult | Divided:
        try:
            result = batch.size(job, written[job], **read, **how, may_divide=True, progress=progress)
            return sections_command.with_left_over(result)
        except ToBeDivided as large:
            sections = large.sections  # and no more: with the exception goes the whole job
        if progress is not None:
            progress.close()
        return sections_command.do_sections(sections, job, written[job], how=how, options=options, voice=voice)

    return over_all(found, work, written, options, voice)


def do_check(options: argparse.Namespace, voice: Voice) -> int:
    found = gather(options.workbooks, options.recursive)
    plan = map_command.map_used(options) if options.propose_map is None else map_command.propose(options, found.jobs, voice)
    judge_answers(options, found)

    def work(job: Path, progress: Progress | None) -> JobResult:
        return batch.check(job, column_map=plan, answers=options.answers, progress=progress)

    return over_all(found, work, {}, options, voice)


def judge_answers(options: argparse.Namespace, found: Gathered) -> None:
    if options.answers is not None and len(found.jobs) > 1:
        raise WrongCommand(f"--answers {options.answers}: they are to the questions of one job; size one workbook at a time")


def do_fill(options: argparse.Namespace, voice: Voice) -> int:
    written = {options.workbook: fill_command.target_of(options.workbook, options.out)}
    plan = map_command.map_used(options)

    def work(job: Path, progress: Progress | None) -> JobResult:
        return batch.fill(job, written[job], column_map=plan, progress=progress)

    return over_all(Gathered([options.workbook], [], []), work, written, options, voice)


def do_papers(options: argparse.Namespace, voice: Voice) -> int:
    written, work = papers_command.planned(options)
    return over_all(Gathered([options.workbook], [], []), work, written, options, voice)


Work = Callable[[Path, Progress | None], JobResult | Divided]


def over_all(found: Gathered, work: Work, written: Mapping[Path, Path], options: argparse.Namespace, voice: Voice) -> int:
    """Every workbook in turn; a fault in one does not stop the others. Returns the worst exit code."""
    from batch.schedules import rows
    from batch.schedules.country_words import as_written

    voice.quiet = options.quiet or options.json
    if not options.quiet:
        voice.err(*found.skipped)
    voice.err(*found.faults)
    faults = list(found.faults)
    codes = [closing.FILE_FAULT] if found.faults else []
    told: list[tuple[closing.Tally, Sequence[Mapping]]] = []
    lists: list[Mapping] = []
    for job in found.jobs:
        progress = Progress(job.name) if sys.stderr.isatty() else None
        try:
            result = work(job, progress)
        except KeyboardInterrupt as stopped:
            before = ", ".join(line.written for line, _ in told if line.written)
            what = str(stopped) if isinstance(stopped, StoppedInSections) else f"stopped: nothing was written for {job}"
            voice.err(what + (f"; written before it: {before}" if before else ""))
            return closing.STOPPED
        except JobError as fault:
            voice.err(str(fault))
            faults.append(str(fault))
            codes.append(closing.FILE_FAULT)
            continue
        except Exception as fault:  # a fault of the program: the other workbooks are still worked on, and nobody meets a trace
            if options.traceback:
                raise
            faults.append(f"{job}: {program_fault(fault)}")
            voice.err(faults[-1])
            codes.append(closing.FILE_FAULT)
            continue
        finally:
            if progress is not None:
                progress.close()
        if isinstance(result, Divided):
            codes.append(result.code)
            told += result.told
            faults += result.faults
            lists.append(result.listed)
            continue
        listed = as_written(result, "findings", rows(result, "findings"))
        codes.append(closing.verdict(result))
        shown = as_severe(listed, getattr(options, "severity", None))
        told.append((closing.tally(job.name, result, listed, result.written or str(written.get(job, ""))), shown))
        if result.aside:
            voice.err(f"{written[job]}: {result.aside}; it was left as it is, and the new file is {result.written}")
        voice.out(*(f"{job.name}: {line}" for line in result.about))
        voice.out(*(closing.kind_lines if written else closing.finding_lines)(job.name, shown))
    if told:
        voice.out(*(closing.table_lines if sys.stdout.isatty() else closing.plain_lines)([line for line, _ in told]))
    if options.json:
        voice.answer(as_json(told, faults, closing.worst(codes), lists))
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


COMPLETION = "print what makes a shell complete commands, options and file names"


def do_completion(options: argparse.Namespace, voice: Voice) -> int:
    import argcomplete

    voice.answer(argcomplete.shellcode(["heaterbatch"], shell=options.shell).strip())
    return closing.SIZED


def program_fault(fault: Exception) -> str:
    if isinstance(fault, MemoryError):
        return "this machine has not enough memory for it, and nothing was written: a job takes some 30 kB a bank; split it into several"
    return f"a fault in this program, {type(fault).__name__}: {fault}; nothing was written; please report it with what --traceback shows"


# --- parsing --------------------------------------------------------------------------------------------------------------------


def parser(arguments: Sequence[str] = ()) -> argparse.ArgumentParser:
    top = argparse.ArgumentParser("heaterbatch", description=DESCRIPTION, epilog=EPILOG, formatter_class=SHAPE)
    top.add_argument("--version", action="version", version=f"heaterbatch {batch.__version__}")
    verb = partial(add_verb, top.add_subparsers(title="commands", dest="command", required=True, metavar="COMMAND"))
    add_blank(verb("blank", do_blank, "write a blank job workbook with help, drop-downs and units", "Never replaces a file."))
    add_size(verb("size", do_size, "size job workbooks and write the results",
                  'JOB.xlsx gives "JOB sized.xlsx"\nbeside it, in place of an earlier one. The job workbook is never changed.'))
    fill = verb("fill", do_fill, fill_command.SAYS, fill_command.MORE)
    fill_command.add_fill(fill)
    map_command.add_map(fill)
    add_output(fill)
    compare_command.add_compare(verb("compare", do_compare, compare_command.SAYS, compare_command.MORE))
    quote_command.add_quote(verb("quote", quote_command.do_quote, quote_command.SAYS, quote_command.MORE))
    papers = verb("papers", do_papers, papers_command.SAYS, papers_command.MORE)
    papers_command.add_papers(papers)
    add_output(papers)
    add_check(verb("check", do_check, "read and judge job workbooks, findings on the screen", "Writes nothing."))
    watch = verb("watch", lambda options, voice: watch_command.do_watch(options, map_command.map_used(options), voice),
                 watch_command.SAYS, watch_command.MORE)
    watch_command.add_watch(watch)
    map_command.add_map(watch)
    menu_command.add_menu(verb("menu", menu_command.do_menu, menu_command.SAYS, menu_command.MORE))
    editions_command.add_editions(verb("editions", editions_command.do_editions, editions_command.EDITIONS))
    completion = verb("completion", do_completion, COMPLETION, "For bash: eval \"$(heaterbatch completion bash)\" in ~/.bashrc.")
    completion.add_argument("shell", choices=("bash", "zsh", "fish"))
    if arguments[:1] == ["codes"]:  # what version 0.1.0 called it; not offered, but understood
        editions_command.add_editions(verb("codes", editions_command.do_editions, editions_command.EDITIONS))
    return top


def add_verb(verbs: argparse._SubParsersAction, name: str, do: Callable, says: str, more: str = "") -> argparse.ArgumentParser:
    """A command, with the options that all of them have."""
    told = f"{says[0].upper()}{says[1:]}. {more}".strip()
    made = verbs.add_parser(name, help=says, description=told, epilog=EPILOG, formatter_class=SHAPE)
    made.add_argument("--traceback", action="store_true", help="after a fault in this program show where it happened (for developers)")
    made.add_argument("--firm", type=named, metavar="FOLDER", default=os.environ.get(FIRM) or None,
                      help=f"the firm's own folder, with its rule sets; left out, what the environment's {FIRM} names")
    made.add_argument("--code", metavar="NAME", default=os.environ.get(CODE) or None,
                      help="rule set of projects whose Code basis is blank, a firm's own too; left out, what the environment's "
                           f"{CODE} names, else the one that is said in the results")
    made.set_defaults(do=do)
    return made


def add_blank(blank: argparse.ArgumentParser) -> None:
    blank.add_argument("workbook", type=named, metavar="JOB.xlsx")
    blank.add_argument("--units", choices=("us", "si"), default="us",
                       help="units of its headings: us (ft, °F, gal; the default) or si (m, °C, L)")


def add_size(size: argparse.ArgumentParser) -> None:
    size.add_argument("workbooks", nargs="+", type=named, metavar="JOB.xlsx|FOLDER",
                      help="job workbooks, or folders of them; results and lock files in a folder are skipped; - for standard input")
    size.add_argument("-o", "--out", metavar="FILE|FOLDER", type=named_text, help="where the results go: a file (for one job), or a folder")
    size.add_argument("--units", choices=("us", "si"), help="units of the results; left out, the rule set's own")
    size.add_argument("--print", choices=("manager", "estimator", "all"), default="default",
                      help="whom the workbook prints for as a whole, the sheets that he does not need hidden; left out, all are in sight "
                           "and the estimator's print")
    size.add_argument("--stamp", metavar="TEXT", help='run stamp shown in the results; left out, today\'s date; "" for none')
    size.add_argument("--also", metavar="csv,json", default="", type=also_kinds,
                      help="the result sheets as plain tables too: a folder of CSV files, or one JSON file, beside the results")
    compare_command.add_keep(size)
    bids_command.add_bids(size)
    map_command.add_map(size)
    add_output(size)
    add_answers(size)


def add_check(check: argparse.ArgumentParser) -> None:
    check.add_argument("workbooks", nargs="+", type=named, metavar="JOB.xlsx|FOLDER",
                       help="job workbooks, or folders of them; - for standard input")
    check.add_argument("--recursive", action="store_true", help="look into the folders of a folder too")
    add_severity(check)
    add_output(check)
    add_answers(check)
    map_command.add_map(check)
    map_command.add_propose(check)


def main(arguments: Sequence[str] | None = None) -> int:
    """Runs one command; returns its exit code: 0, 1, 2, 3, 4 or 130."""
    atexit.register(gc.freeze)  # what is left at the end is not searched for loops of references: a tenth of a run was spent on that
    voice = Voice()
    if instead := meant(sys.argv[1:] if arguments is None else arguments):
        voice.err(instead)
        return closing.WRONG_COMMAND
    if "_ARGCOMPLETE" in os.environ:  # a shell asks what may come next; nothing is done
        import argcomplete

        argcomplete.autocomplete(parser())
    try:
        options = parser(sys.argv[1:] if arguments is None else arguments).parse_args(arguments)
    except SystemExit as leaving:  # argparse has spoken: 2 for a wrong line, 0 for --help
        return leaving.code if isinstance(leaving.code, int) else closing.WRONG_COMMAND
    try:
        with batch.firm(options.firm), batch.code(options.code):
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
