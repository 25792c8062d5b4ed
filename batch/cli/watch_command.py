"""The command `watch`: parse, call, say."""

from __future__ import annotations

import argparse
import signal
import threading
from collections.abc import Sequence
from datetime import date
from pathlib import Path

from batch import result_path
from batch.cli import closing_table as closing
from batch.cli.job_files import WrongCommand, gather, named, named_text, not_a_job

SAYS = "size a workbook again whenever it is saved"
MORE = (
    "Writes the results beside it and\nsays in a line what changed; stop it with Ctrl+C. Results that are open elsewhere stay as\n"
    "they are: new ones get another name."
)


def add_watch(made: argparse.ArgumentParser) -> None:
    made.add_argument("workbooks", nargs="+", type=named, metavar="JOB.xlsx|FOLDER", help="job workbooks, or folders of them")
    made.add_argument("-o", "--out", metavar="FOLDER", type=named_text, help="where the results go; left out, beside each job")
    made.add_argument("--units", choices=("us", "si"), help="units of the results; left out, the rule set's own")
    made.add_argument("--print", choices=("manager", "estimator", "all"), default="default", help="as of `size`")


def do_watch(options: argparse.Namespace, column_map, voice) -> int:
    """Watches until it is stopped; returns 0."""
    from batch.watch.saved_workbooks import SavedWorkbooks, watch

    given: Sequence[Path] = options.workbooks
    for path in given:
        if not path.exists():
            raise WrongCommand(f"{path}: there is no such file or folder to watch")
        if path.is_file() and (reason := not_a_job(path)):
            raise WrongCommand(f"{path}: is {reason}; name the job workbook, which is not written to")
    if options.out is not None and not Path(options.out).is_dir():
        raise WrongCommand(f"-o {options.out}: there is no such folder; make it first")
    us = None if options.units is None else options.units == "us"
    how = {"column_map": column_map, "us": us, "print_set": options.print}
    book = SavedWorkbooks(lambda job: _place(job, options.out), lambda: how | {"stamp": date.today().isoformat()}, voice.out, voice.err)
    stop = threading.Event()
    for number in (signal.SIGINT, signal.SIGTERM):  # what is being written is written to its end
        signal.signal(number, lambda *_: stop.set())
    folders = list(dict.fromkeys(path if path.is_dir() else path.absolute().parent for path in given))
    voice.out(f"watching {', '.join(map(str, given))}: save a workbook and it is sized; Ctrl+C ends it")
    watch(lambda: gather(given).jobs, folders, book, stop)
    voice.out("watching ended")
    return closing.SIZED


def _place(job: Path, out: str | None) -> Path:
    beside = result_path(job)
    return beside if out is None else Path(out) / beside.name
