"""Folders of bids for `size`: over processes, with a portfolio workbook; parse, call, say."""

from __future__ import annotations

import argparse
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

from batch.cli import closing_table as closing
from batch.cli.job_files import PORTFOLIO, WrongCommand, gather, targets
from batch.cli.output_options import bids_as_json
from batch.file_names import results_name

if TYPE_CHECKING:
    from batch.watch.bids import Bid, BidDone


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
    from batch.watch.bids import size_bids, usual_workers

    voice.quiet = options.quiet or options.json
    found = gather(options.workbooks, options.recursive)
    out = Path(options.out)
    if not options.quiet:
        voice.err(*found.skipped)
    voice.err(*found.faults)
    bids, outcomes = _apart(_bids(found.jobs, options.workbooks[0], out))
    for outcome in outcomes:
        voice.err(f"{outcome.name}: {outcome.fault}")
    every, targets_of = len(bids) + len(outcomes), {bid.name: bid.target for bid in bids}
    workers = usual_workers() if options.workers is None else options.workers
    for outcome in size_bids(
        bids, how, out, workers=workers, firm=options.firm, code=options.code, again=options.again, dated=options.stamp is None
    ):
        outcomes.append(outcome)
        said = outcome.fault or closing.state_words(outcome)
        (voice.err if outcome.fault else voice.out)(f"{len(outcomes)} of {every}: {outcome.name}: {said}")
        if outcome.aside:
            voice.err(f"{targets_of[outcome.name]}: {outcome.aside}; it was left as it is, and the new file is {outcome.results}")
    code = closing.worst([outcome.code for outcome in outcomes] + ([closing.FILE_FAULT] if found.faults else []))
    landed = ""
    if outcomes:
        outcomes.sort(key=lambda outcome: outcome.name)
        part = write_portfolio((outcome.line() | {"results": _shown(outcome.results, out)} for outcome in outcomes), out / PORTFOLIO)
        landed = str(part.landed)
        if part.why:
            voice.err(f"{out / PORTFOLIO}: {part.why}; it was left as it is, and the new file is {landed}")
        voice.out(f"portfolio: {landed}")
    if options.json:
        voice.answer(bids_as_json([outcome.line() for outcome in outcomes], found.faults, landed, code))
    return code


def _bids(jobs: Sequence[Path], top: Path, out: Path) -> list[Bid]:
    """Each job with where its results go: under `out` as it lies under `top`."""
    from batch.watch.bids import Bid

    found = []
    for job in jobs:
        if not _inside(job, out):
            [target] = targets([job], f"{out / job.relative_to(top).parent}/")
            found.append(Bid(job.resolve(), target.resolve(), job.relative_to(top).as_posix()))
    return found


def _apart(bids: Sequence[Bid]) -> tuple[list[Bid], list[BidDone]]:
    """The bids, and those of which two would be written to one name as failed ones: none of them is sized."""
    from batch.watch.bids import BidDone

    alike: dict[Path, list[str]] = {}
    for bid in bids:
        alike.setdefault(bid.target, []).append(bid.name)
    return (
        [bid for bid in bids if len(alike[bid.target]) == 1],
        [
            BidDone(bid.name, closing.FILE_FAULT, 0.0, fault=f"not sized: {' and '.join(alike[bid.target])} would both be written to "
                    f"{results_name(Path(bid.name).name)}; rename one of them")
            for bid in bids if len(alike[bid.target]) > 1
        ],
    )  # fmt: skip


def _shown(results: str, out: Path) -> str | None:
    """Results as they lie under the folder; a portfolio that is moved with it stays true."""
    return Path(results).relative_to(out.resolve()).as_posix() if results else None


def _inside(job: Path, out: Path) -> bool:
    return out.resolve() in job.resolve().parents and out.resolve() != job.resolve().parent
