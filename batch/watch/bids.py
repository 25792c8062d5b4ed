"""A folder of bids, each sized by itself: over processes, remembered as they are done, none stopping the rest."""

from __future__ import annotations

import hashlib
import json
import os
import time
from collections.abc import Callable, Iterator, Mapping, Sequence
from concurrent.futures import Future, ProcessPoolExecutor, as_completed
from concurrent.futures.process import BrokenProcessPool
from contextlib import suppress
from functools import partial
from multiprocessing import get_context, parent_process
from pathlib import Path
from threading import Thread
from typing import Any

from msgspec import Struct
from msgspec.structs import asdict

import batch
from batch.closing_counts import FILE_FAULT, LOOK, NOT_ALL_SIZED, SIZED, Tally, tally, verdict
from batch.errors import JobError
from batch.report.bid_words import price_words, priced
from batch.results import JobResult
from batch.sheets.portfolio import PORTFOLIO
from batch.whole_file import whole_file

REMEMBERED = ".heaterbatch-bids.jsonl"  # in the folder of results: what is done, so that a run that was stopped goes on
STATES = {SIZED: "sized", LOOK: "sized, review", NOT_ALL_SIZED: "some rows not sized", FILE_FAULT: "failed"}


class Bid(Struct, frozen=True):
    """A job workbook, where its results go, and how both are called in the portfolio."""

    job: Path
    target: Path
    name: str


class BidDone(Struct, frozen=True):
    """What became of one bid. `code` is its exit code; `lines` what there is to say of it, as the command says it."""

    name: str
    code: int
    seconds: float
    tally: Tally | None = None
    what: str = ""
    panels: int = 0
    feeders: int = 0
    price: str = ""
    amount: float | None = None
    currency: str = ""
    whole: str = ""
    fault: str = ""
    results: str = ""
    aside: str = ""
    before: bool = False  # done in an earlier run, and nothing has changed since

    def line(self) -> dict[str, object]:
        """Its line of the portfolio; what is not known of a failed bid is blank."""
        line: dict[str, object] = dict.fromkeys(column.key for column in PORTFOLIO.columns) | {
            "bid": self.name, "state": STATES[self.code], "fault": self.fault or None, "seconds": round(self.seconds, 2),
            "results": self.results or None, "what": self.what or None, "price": self.price or None,
            "amount": self.amount, "currency": self.currency or None, "whole": self.whole or None,
        }  # fmt: skip
        if self.tally is not None:
            line |= {key: getattr(self.tally, key) for key in ("tanks", "banks", "heaters", "kw", "holds", "cautions", "not_sized")}
            line |= {"panels": self.panels, "feeders": self.feeders}
        return line


def size_bids(
    bids: Sequence[Bid],
    options: Mapping[str, Any],
    folder: Path,
    *,
    workers: int,
    firm: Path | None,
    code: str | None = None,
    again: bool,
    dated: bool = False,
) -> Iterator[BidDone]:
    """Sizes every bid and tells of each as it is done; those that an earlier run did from the same bytes are told of and left.

    options  of `batch.size`, for all of them
    folder   where the results go, and what is done is remembered
    code     rule set of projects that name none
    again    size those too that are done
    dated    the stamp is but the day of the run: what was done on another one, of the same bytes, is done
    """
    told = {key: value for key, value in options.items() if not (dated and key == "stamp")}
    memory = _Memory(folder, {**told, "firm": _firm_mark(firm), **({"code": code} if code else {})})
    left = []
    for bid in bids:
        known = None if again else memory.of(bid)
        if known is None:
            left.append(bid)
        else:
            yield known
    if workers == 1 or len(left) < 2:
        done: Iterator[BidDone] = (_size(bid, options, firm, code) for bid in left)
    else:
        done = over_processes(left, partial(_size, options=options, firm=firm, code=code), workers=min(workers, len(left)))
    by_name = {bid.name: bid for bid in left}
    try:
        for outcome in done:
            memory.keep(by_name[outcome.name], outcome)
            yield outcome
    finally:
        memory.write()


def usual_workers() -> int:
    """As many processes as there are cores at hand."""
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1


def over_processes(bids: Sequence[Bid], size: Callable[[Bid], BidDone], *, workers: int) -> Iterator[BidDone]:
    """Bids as they are done. A process that dies (out of memory, killed) takes others' work with it: those are begun anew, each in its own.
    """
    lost = []
    pool = ProcessPoolExecutor(workers, mp_context=get_context("spawn"), initializer=end_with_parent)
    try:
        running: dict[Future[BidDone], Bid] = {pool.submit(size, bid): bid for bid in bids}
        for future in as_completed(running):
            try:
                yield future.result()
            except BrokenProcessPool:
                lost.append(running[future])
    finally:
        pool.shutdown(wait=True, cancel_futures=True)
    for bid in lost:
        with ProcessPoolExecutor(1, mp_context=get_context("spawn"), initializer=end_with_parent) as alone:
            try:
                yield alone.submit(size, bid).result()
            except BrokenProcessPool:
                yield BidDone(bid.name, FILE_FAULT, 0.0, fault="the process that sized it died (out of memory, or stopped from outside)")


def end_with_parent() -> None:
    """Ends this process when the one that began it is gone, killed perhaps: it would wait for work for ever."""
    parent = parent_process()

    def wait() -> None:
        if parent is not None:
            parent.join()
            os._exit(FILE_FAULT)

    Thread(target=wait, daemon=True).start()


def _size(bid: Bid, options: Mapping[str, Any], firm: Path | None, code: str | None = None) -> BidDone:
    def size() -> JobResult:
        with batch.firm(firm), batch.code(code):
            return batch.size(bid.job, bid.target, **options)

    return outcome_of(bid, size)


def outcome_of(bid: Bid, size: Callable[[], JobResult]) -> BidDone:
    """What becomes of a bid that is sized; that it cannot be is an outcome too."""
    from batch.schedules import rows

    began = time.monotonic()
    try:
        result = size()
    except JobError as fault:
        return BidDone(bid.name, FILE_FAULT, time.monotonic() - began, fault=str(fault))
    except Exception as fault:  # a fault of the program: the other bids are still worth their work
        words = f"a fault in this program, {type(fault).__name__}: {fault}; nothing was written"
        return BidDone(bid.name, FILE_FAULT, time.monotonic() - began, fault=words)
    listed = rows(result, "findings")
    missing = [*(row for project in result.projects for row in project.not_sized), *result.not_sized]
    amount, currency, whole = priced(result)
    return BidDone(
        bid.name, verdict(result), time.monotonic() - began, tally(bid.name, result, listed, result.written),
        what="; ".join(project.project.title or project.project.project for project in result.projects),
        panels=sum(len(row.panels) for project in result.projects for row in project.banks),
        feeders=sum(len(project.feeders) for project in result.projects),
        price=price_words(result.projects, result.money, missing), amount=amount, currency=currency, whole=whole,
        results=result.written, aside=result.aside,
    )  # fmt: skip


class _Memory:
    """What is done, by the bytes of the job, of its results and by the options: a file in the folder of results.

    Its first line says how; every further line tells of one bid, and the last line of a bid holds. A line is written the moment that its
    bid is done, so that a run that is killed loses none; half a line, which a kill or a full disk may leave, is no line.
    """

    def __init__(self, folder: Path, options: Mapping[str, Any]) -> None:
        self._path = folder / REMEMBERED
        self._how = f"{batch.PROGRAM} {sorted((key, str(value)) for key, value in options.items())}"
        self._done: dict[str, dict[str, Any]] = dict(self._stored())
        self._open = False

    def _stored(self) -> Iterator[tuple[str, dict[str, Any]]]:
        """What an earlier run of the same options noted, in order; nothing where the file is none, or not ours to understand."""
        try:
            how, *lines = self._path.read_text(encoding="utf-8", errors="replace").split("\n")
            if json.loads(how) != {"how": self._how}:
                return
        except (OSError, ValueError):
            return
        for line in lines:
            with suppress(ValueError):
                told = json.loads(line)
                if isinstance(told, dict) and isinstance(told.get("bid"), str):
                    yield told["bid"], told

    def of(self, bid: Bid) -> BidDone | None:
        """What an earlier run made of a bid; None where it did not, or where job or results are no longer the same bytes."""
        kept = self._done.get(bid.name)
        try:
            if kept is None or kept["job"] != _mark(bid.job) or kept["written"] != _mark(Path(kept["outcome"]["results"])):
                return None
            outcome = dict(kept["outcome"])
            outcome["tally"] = Tally(*outcome["tally"])
            return BidDone(**outcome | {"before": True, "seconds": 0.0})
        except (KeyError, TypeError, OSError):
            return None

    def keep(self, bid: Bid, outcome: BidDone) -> None:
        """Remembers what was sized, at once and on the disk; what failed is tried again next time."""
        told: dict[str, Any] = {"bid": bid.name}
        if outcome.code != FILE_FAULT:
            try:
                told |= {"job": _mark(bid.job), "written": _mark(Path(outcome.results)), "outcome": asdict(outcome)}
            except OSError:
                return
        self._done[bid.name] = told
        if self._open:
            with suppress(OSError):  # what cannot be noted is sized again, no more
                with self._path.open("a", encoding="utf-8") as file:
                    file.write("\n" + json.dumps(told))  # the line break first: it ends half a line of before
                    file.flush()
                    os.fsync(file.fileno())
                return
        self.write()

    def write(self) -> None:
        """Puts what is remembered on the disk anew, a line a bid."""
        lines = [{"how": self._how}, *(told for told in self._done.values() if "outcome" in told)]
        with whole_file(self._path) as part:
            part.path.write_text("\n".join(map(json.dumps, lines)), encoding="utf-8")
        self._open = True


def _firm_mark(firm: Path | None) -> str:
    """What of the firm's own folder moves results, with its checksums."""
    if firm is None:
        return ""
    with batch.firm(firm):
        from batch.firm_folder import firm_checksums

        return " ".join(f"{name} {checksum}" for name, checksum in firm_checksums())


def _mark(path: Path) -> str:
    with path.open("rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest()
