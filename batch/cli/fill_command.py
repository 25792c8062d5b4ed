"""The command `fill`: its arguments, and where the filled copy goes."""

from __future__ import annotations

import argparse
from pathlib import Path

import batch
from batch.cli.job_files import WrongCommand, named, named_text, one_file

SAYS = "fill results into a copy of a customer's own list"
MORE = (
    'LIST.xlsx gives "LIST filled.xlsx"\nbeside it, in place of an earlier one: results to the right of each row, everything else\n'
    "as it was. The list itself is never changed. Refused where that cannot be done safely (signed, protected, no\n"
    "room beside the list)."
)


def add_fill(made: argparse.ArgumentParser) -> None:
    """The arguments of `fill`."""
    made.add_argument("workbook", type=named, metavar="LIST.xlsx", help="the customer's list, .xlsx or .xlsm")
    made.add_argument("-o", "--out", metavar="FILE|FOLDER", type=named_text, help="where the filled copy goes")


def target_of(workbook: Path, out: str | None) -> Path:
    """Where the filled copy goes: beside the list, or as -o says; never onto the list.

    Raises:
        WrongCommand: a folder in place of a list, or an `out` that cannot be meant.
    """
    if workbook.is_dir():
        raise WrongCommand(f"{workbook}: this is a folder: fill one list at a time")
    ends = f"end the name of the filled copy in {workbook.suffix or '.xlsx'}, as the list's own"
    target = one_file(batch.filled_path(workbook), out, workbook.suffix, ends)
    if target.resolve() == workbook.resolve():
        raise WrongCommand(f"the filled copy would overwrite the list {target}: name another file with -o")
    return target
