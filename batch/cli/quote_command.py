"""The command `quote`: its arguments, and where workbook and letter go."""

from __future__ import annotations

import argparse
from pathlib import Path

import batch
from batch.cli import closing_table as closing
from batch.cli.job_files import WrongCommand, named
from batch.cli.output_options import add_answers
from batch.quoting.grouping import BY

SAYS = "write the quotation for the customer: a workbook and a letter, with nothing of our own costs in them"
MORE = (
    'JOB.xlsx, or its results, gives "JOB quotation.xlsx" and "JOB quotation.docx" beside it. Until everything is sized, priced and\n'
    "settled they are titled a budget figure, not an offer, and the reasons are said here. Of a list without a heater that is sized\n"
    "nothing is written (3)."
)


def add_quote(made: argparse.ArgumentParser) -> None:
    """The arguments of `quote`."""
    made.add_argument("workbook", type=named, metavar="JOB.xlsx", help="the job, or its results")
    made.add_argument("-o", "--out", metavar="FILE.xlsx", type=named, help="where the workbook goes; the letter goes beside it")
    made.add_argument("--by", choices=BY, default=BY[0], help="what a position is (tank where this is left out)")
    made.add_argument("--project", default="", metavar="NAME", help="which project, where the workbook has several")
    made.add_argument("--at-least", action="store_true", help="a budget figure shows what has a price so far, and how much is open")
    made.add_argument("--letter", metavar="TEMPLATE.docx", type=named, help="the firm's own letter, with fields in braces")
    add_answers(made)
    made.add_argument("--save-letter", metavar="FILE.docx", type=named,
                      help="save the letter's template here, to be edited, and do no more")


def do_quote(options: argparse.Namespace, voice) -> int:
    """Writes both files, says why it is no offer yet; exit code 4 where rows are not sized, else 1 where it is no offer."""
    source: Path = options.workbook
    if options.save_letter is not None:
        voice.out(f"written {batch.letter_template(options.save_letter)}")
        return closing.SIZED
    if source.is_dir():
        raise WrongCommand(f"{source}: this is a folder: quote one job at a time")
    if options.out is not None and options.out.suffix.casefold() != ".xlsx":
        raise WrongCommand(f"-o {options.out}: end the name of the quotation in .xlsx")
    made = batch.quote(
        source, options.out, by=options.by, project=options.project, at_least=options.at_least, letter=options.letter,
        answers=options.answers,
    )  # fmt: skip
    if made.aside:
        voice.err(f"{made.aside}; it was left as it is")
    voice.out(f"written {made.workbook}", f"written {made.letter}{f', by {made.template}' if made.template else ''}")
    for why in made.why:
        voice.out(f"no offer yet: {why}")
    if made.priced:
        shown = "is shown as incomplete" if options.at_least else "the quotation leaves out: --at-least shows it, as incomplete"
        voice.out(f"priced so far: {made.priced}, which {shown}")
    if not made.all_sized:
        return closing.NOT_ALL_SIZED
    return closing.LOOK if made.why else closing.SIZED
