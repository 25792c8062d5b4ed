"""The command `papers`: its arguments, and where the PDF goes."""

from __future__ import annotations

import argparse
from collections.abc import Callable
from pathlib import Path

import batch
from batch import Progress
from batch.cli.compare_command import RENAMED, judge_keep
from batch.cli.job_files import WrongCommand, named, named_text, one_file
from batch.cli.map_command import add_map, map_used
from batch.results import JobResult

SAYS = "print a job's drawings, wiring, labels and lists as one PDF"
MORE = (
    'JOB.xlsx, or a results\nworkbook of it, gives "JOB papers.pdf" beside it, in place of an earlier one; a PDF that\n'
    "somebody else made or marked up is left as it is. What is in it, by number:\n"
    "  00 transmittal, index    10 one-line diagrams    20 schedules    30 panel types\n"
    "  40 control ladders       50 wiring               60 labels       70 nameplates\n"
    "  80 materials             90 test records"
)
SETS = ("all", "shop", "field", "inspector", "customer")


def add_papers(made: argparse.ArgumentParser) -> None:
    """The arguments of `papers`."""
    made.add_argument("workbook", type=named, metavar="JOB.xlsx",
                      help="a job workbook, or results of one with whatever was typed into them")
    made.add_argument("-o", "--out", metavar="FILE.pdf|FOLDER", type=named_text, help="where the PDF goes")
    made.add_argument("--for", dest="audience", choices=SETS, default="all",
                      help="shop 30 to 80 and the shop tests of 90, field 10 to 60 and 90, "
                           "inspector 10 to 40, 60 and 70, customer 10 to 40 and 90; "
                           "each with its transmittal and index (left out: all)")  # fmt: skip
    made.add_argument("--templates", type=named, metavar="FOLDER",
                      help="a firm's own text templates (.typ): those in the folder stand in place of ours of the same name")  # fmt: skip
    made.add_argument("--keep-from", type=named, metavar="OLD.xlsx", help="an earlier revision, as with size")
    made.add_argument("--renamed", action="append", default=[], metavar="OLD=NEW", help=f"with --keep-from, {RENAMED}")
    made.add_argument("--units", choices=("us", "si"), help="units shown; left out, the rule set's own")
    add_map(made)


def planned(options: argparse.Namespace) -> tuple[dict[Path, Path], Callable[[Path, Progress | None], JobResult]]:
    """Where the PDF goes, and what is to be done with the workbook.

    Raises:
        WrongCommand: what cannot be meant.
    """
    written = {options.workbook: target_of(options.workbook, options.out, options.audience)}
    judge_keep(options, [options.workbook])
    plan = map_used(options)

    def work(job: Path, progress: Progress | None) -> JobResult:
        return batch.print_papers(
            job, written[job], audience=options.audience, templates=options.templates, keep_from=options.keep_from,
            renamed=options.renamed, column_map=plan, us=None if options.units is None else options.units == "us", progress=progress,
        )  # fmt: skip

    return written, work


def target_of(workbook: Path, out: str | None, audience: str) -> Path:
    """Where the PDF goes: beside the workbook, or as -o says.

    Raises:
        WrongCommand: a folder in place of a workbook, or an `out` that cannot be meant.
    """
    if workbook.is_dir():
        raise WrongCommand(f"{workbook}: this is a folder: print the papers of one job at a time")
    return one_file(batch.papers_path(workbook, audience), out, ".pdf", "end the name of the papers in .pdf")
