"""The command `compare`, and the options of `size` that keep an earlier revision: parse, call a public verb, say its answer."""

from __future__ import annotations

import argparse
from collections.abc import Callable, Sequence
from pathlib import Path

import batch
from batch.cli import closing_table as closing
from batch.cli.job_files import WrongCommand, named, named_text, one_file
from batch.cli.map_command import add_map

SAYS = "reconcile revisions of a job: what changed, what it does, what it costs"
MORE = (
    'OLD.xlsx NEW.xlsx gives\n"NEW against OLD.xlsx" beside NEW; more than two, oldest first, give a history. Each may be a job\n'
    "workbook or a results workbook, with whatever was typed into it."
)
RENAMED = 'what goes by another name now: a tank, feeder, part, project or bank ("T-5=T-5A", "T-5/1=T-5/A"; may be given several times)'


def add_compare(made: argparse.ArgumentParser) -> None:
    """The arguments of `compare`."""
    made.add_argument("workbooks", nargs="+", type=named, metavar="OLD.xlsx NEW.xlsx", help="two workbooks or more, oldest first")
    made.add_argument("-o", "--out", metavar="FILE|FOLDER", type=named_text, help="where the comparison goes")
    made.add_argument("--renamed", action="append", default=[], metavar="OLD=NEW", help=RENAMED)
    add_map(made)
    made.add_argument("--units", choices=("us", "si"), help="units of the comparison; left out, the rule set's own")
    made.add_argument("--stamp", metavar="TEXT", help='run stamp shown in the comparison; left out, today\'s date; "" for none')


def add_keep(size: argparse.ArgumentParser) -> None:
    """The options of `size` that carry decisions forward."""
    size.add_argument("--keep-from", type=named, metavar="OLD.xlsx",
                      help="an earlier revision (job or results workbook): what was decided there is kept where the new inputs allow it")
    size.add_argument("--renamed", action="append", default=[], metavar="OLD=NEW", help=f"with --keep-from, {RENAMED}")


def judge_keep(options: argparse.Namespace, jobs: Sequence[Path]) -> None:
    """Refuses what cannot be meant by what `size` is told to keep."""
    if options.keep_from is None and options.renamed:
        raise WrongCommand("--renamed says what a revision to keep from calls otherwise: name it with --keep-from OLD.xlsx")
    if options.keep_from is not None and len(jobs) > 1:
        raise WrongCommand(f"--keep-from {options.keep_from}: one revision keeps from another; size one workbook at a time")


def do_compare(options: argparse.Namespace, voice, progress: Callable | None, stamp: str) -> int:
    """Compares, says what changed, and returns the exit code: 1 where the comparison's own checks fail, 4 where rows are not sized."""
    files: Sequence[Path] = options.workbooks
    if len(files) < 2:
        raise WrongCommand(f"{files[0]}: to compare takes two workbooks, the old one and the new one")
    target = _target(files, options.out)
    us = None if options.units is None else options.units == "us"
    history = batch.compare(*files, target=target, renamed=options.renamed, column_map=options.map, us=us, stamp=stamp, progress=progress)
    voice.out(*history.text)
    if history.aside:
        voice.err(f"{target}: {history.aside}; it was left as it is, and the new file is {history.written}")
    failed = [check for check in history.whole.checks if not check.passes]
    for check in failed:
        voice.out(f"FAIL: {check.what}: {check.left:g} against {check.right:g}; do not use this comparison; see its Checks sheet")
    voice.out(f"written: {history.written}")
    if failed:
        return closing.LOOK
    unsized = next(figure for figure in history.whole.figures if figure.key == "not_sized" and not figure.project)
    return closing.NOT_ALL_SIZED if unsized.before or unsized.after else closing.SIZED


def _target(files: Sequence[Path], out: str | None) -> Path:
    """Where the comparison goes: beside the newest file, or as -o says; never onto one of the files compared."""
    target = one_file(batch.comparison_path(files[0], files[-1]), out, ".xlsx", "end the name of a comparison in .xlsx")
    for file in files:
        if target.resolve() == file.resolve():
            raise WrongCommand(f"{target}: this is one of the workbooks compared; name another file with -o")
    return target
