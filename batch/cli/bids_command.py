"""Folders of bids for `size`: over processes, with a portfolio workbook; parse, call, say."""

from __future__ import annotations

import argparse
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

from batch.cli import closing_table as closing
from batch.cli.job_files import PORTFOLIO, WrongCommand, gather, targets
from batch.file_names import results_name


def add_bids(size: argparse.ArgumentParser) -> None:
    """The options of `size` for folders."""
    size.add_argument("--recursive", action="store_true", help="look into the folders of a folder too")
    size.add_argument("--workers", type=int, metavar="N",
                      help="processes that size a folder's bids, with -o FOLDER; left out, one a core")
    size.add_argument("--again", action="store_true", help="of a folder, size those too that an earlier run did from the same bytes")


def is_folder_of_bids(options: argparse.Namespace) -> bool:
    """Whether `size` was given one folder and told of another for the results: then there is a portfolio."""
    given: Sequence[Path] = options.workbooks
    return len(given) == 1 and given[0].is_dir() and options.out is not None and not Path(options.out).suffix


def judge_bids(options: argparse.Namespace) -> None:
    if options.workers is not None and options.workers < 1:
        raise WrongCommand(f"--workers {options.workers}: name 1 or more")
    if (options.workers is not None or options.again) and not is_folder_of_bids(options):
        raise WrongCommand("--workers and --again are for a folder of bids: name one folder, and one for the results with -o FOLDER")
    if is_folder_of_bids(options) and options.keep_from is not None:
        raise WrongCommand(f"--keep-from {options.keep_from}: one revision keeps from another; size one workbook at a time")
    if is_folder_of_bids(options) and options.answers is not None:
        raise WrongCommand(f"--answers {options.answers}: they are to the questions of one job; size one workbook at a time")


def do_bids(options: argparse.Namespace, how: Mapping[str, Any], voice) -> int:
    """Sizes a folder's bids, tells of each as it is done, and writes the portfolio. Returns the worst exit code."""
    from batch.report.portfolio_workbook import write_portfolio
    from batch.watch.bids import Bid, size_bids, usual_workers

    found = gather(options.workbooks, options.recursive)
    top, out = options.workbooks[0], Path(options.out)
    jobs = [job for job in found.jobs if not _inside(job, out)]
    voice.err(*found.skipped, *found.faults)
    bids = []
    for job in jobs:
        place = out / job.relative_to(top).parent
        [target] = targets([job], f"{place}/")
        bids.append(Bid(job.resolve(), target.resolve(), job.relative_to(top).as_posix()))
    _judge_names(bids)
    outcomes = []
    workers = usual_workers() if options.workers is None else options.workers
    for outcome in size_bids(bids, how, out, workers=workers, firm=options.firm, code=options.code, again=options.again):
        outcomes.append(outcome)
        said = outcome.fault or closing.state_words(outcome)
        (voice.err if outcome.fault else voice.out)(f"{len(outcomes)} of {len(bids)}: {outcome.name}: {said}")
        if outcome.aside:
            voice.err(f"{outcome.name}: {outcome.aside}; it was left as it is, and the new file is {outcome.results}")
    codes = [outcome.code for outcome in outcomes] + ([closing.FILE_FAULT] if found.faults else [])
    if outcomes:
        outcomes.sort(key=lambda outcome: outcome.name)
        lines = [outcome.line() | {"results": _shown(outcome.results, out)} for outcome in outcomes]
        part = write_portfolio(lines, out / PORTFOLIO)
        voice.out(f"portfolio: {part.landed}")
    return closing.worst(codes)


def _shown(results: str, out: Path) -> str | None:
    """Results as they lie under the folder; a portfolio that is moved with it stays true."""
    return Path(results).relative_to(out.resolve()).as_posix() if results else None


def _inside(job: Path, out: Path) -> bool:
    return out.resolve() in job.resolve().parents and out.resolve() != job.resolve().parent


def _judge_names(bids: Sequence) -> None:
    taken: dict[Path, str] = {}
    for bid in bids:
        if (first := taken.setdefault(bid.target, bid.name)) != bid.name:
            raise WrongCommand(f"{first} and {bid.name} would both be written to {results_name(Path(bid.name).name)}: rename one of them")
