"""A job of more banks than one workbook holds well, sized section by section, each by a process that begins afresh.

Sections wait on the disk, since what was read of so many banks and what is made of some of them would not fit beside each other. Each is
sized twice: first to count what a row's words depend on in the whole job, then to be written, which takes most of the time.
"""

from __future__ import annotations

import copyreg
import gc
import os
import pickle
import signal
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from functools import partial
from multiprocessing import get_context
from multiprocessing.connection import Connection
from pathlib import Path
from types import MappingProxyType
from typing import Any, TypeVar

from msgspec import Struct
from msgspec.structs import replace

import batch
from batch.closing_counts import FILE_FAULT
from batch.errors import OutputFileError
from batch.file_names import section_name
from batch.records import Job
from batch.results import JobResult
from batch.schedules.reconciliation import reconcile
from batch.sizing.project import size_job
from batch.sizing.section_counts import SectionCounts, counts_of, told
from batch.watch.bids import Bid, BidDone, end_with_parent, outcome_of
from batch.written_results import write_results

DIED = "the process that sized it died (out of memory, or stopped from outside)"
Made = TypeVar("Made")


class SectionDone(Struct, frozen=True):
    """What became of a section; what is said of where it went; and its rows of Findings, where they are asked for."""

    done: BidDone
    about: tuple[str, ...] = ()
    listed: tuple[Mapping[str, Any], ...] = ()


def save_sections(sections: Sequence[Job], target: Path, folder: Path) -> list[Bid]:
    """Puts the sections of a job into `folder`, and says where the results of each go: beside `target`.

    Raises:
        OutputFileError: the folder, one for what is in the making, has no room; or a section cannot have its name.
    """
    gc.collect()  # what reading left behind goes before anything is added
    places = [_place(target, number, len(sections)) for number in range(1, len(sections) + 1)]
    bids = []
    for number, (section, place) in enumerate(zip(sections, places, strict=True), 1):
        saved = folder / f"{number}.section"
        try:
            with saved.open("wb") as file:
                _Pickler(file, pickle.HIGHEST_PROTOCOL).dump(section)
        except OSError as fault:
            raise OutputFileError(f"{saved}: a section of the job cannot be kept there ({fault.strerror or fault}): make room") from fault
        bids.append(Bid(saved, place, section.name))
    return bids


def _place(target: Path, number: int, of: int) -> Path:
    """Where a section goes; its name, a little longer than the list's, is tried before anything is sized."""
    place = target.with_name(section_name(target.name, number, of))
    try:
        os.lstat(place)
    except FileNotFoundError:
        pass
    except (OSError, ValueError) as fault:
        why = getattr(fault, "strerror", None) or fault
        raise OutputFileError(f"{place}: a section of the job cannot be called so ({why}): name a shorter file with -o") from fault
    return place.resolve()


def size_sections(
    bids: Sequence[Bid], options: Mapping[str, Any], *, firm: Path | None, code: str | None, listed: bool = False
) -> Iterator[SectionDone]:
    """Sizes what `save_sections` put on the disk, one after the other; `options` of `write_results`; `listed`: with their findings."""
    gc.collect()  # what was read of the whole job goes before others begin
    found = [afresh(partial(_count, firm=firm, code=code), bid) for bid in bids]
    counts = [one for one in found if one is not None]  # of one that cannot be sized nothing is known, and it says so below
    size = partial(_size, counts=counts, options=options, firm=firm, code=code, listed=listed)
    for bid in bids:
        yield afresh(size, bid) or SectionDone(BidDone(bid.name, FILE_FAULT, 0.0, fault=DIED))


def _section(bid: Bid) -> Job:
    with bid.job.open("rb") as file:
        return pickle.load(file)  # of this run, in a folder that nobody else may write into


def _count(bid: Bid, firm: Path | None, code: str | None) -> SectionCounts | None:
    try:
        with batch.firm(firm), batch.code(code):
            return counts_of(size_job(_section(bid)))
    except Exception:  # said when it is sized to be written
        return None


def _size(
    bid: Bid, *, counts: Sequence[SectionCounts], options: Mapping[str, Any], firm: Path | None, code: str | None, listed: bool
) -> SectionDone:
    from batch.schedules import rows
    from batch.schedules.country_words import as_written

    made: list[JobResult] = []

    def size() -> JobResult:
        with batch.firm(firm), batch.code(code):
            result = size_job(told(_section(bid), counts))
            made.append(write_results(replace(result, checks=reconcile(result)), bid.target, **options))
        return made[0]

    done = outcome_of(bid, size)
    if not made:
        return SectionDone(done)
    findings = as_written(made[0], "findings", rows(made[0], "findings")) if listed else ()
    return SectionDone(done, tuple(made[0].about), tuple(dict(row) for row in findings))


# --- one process, one piece of work -----------------------------------------------------------------------------------------------


def afresh(work: Callable[[Bid], Made], bid: Bid) -> Made | None:
    """What a new process makes of it; None where it died. Where the user stops this process, that one is stopped before it has written."""
    context = get_context("spawn")
    receiver, sender = context.Pipe(duplex=False)
    process = context.Process(target=_work, args=(sender, work, bid))
    try:
        with _interrupts_held():
            process.start()
        sender.close()
        return receiver.recv()
    except EOFError:
        return None
    except BaseException:
        if process.pid is not None:
            process.terminate()
        raise
    finally:
        if process.pid is not None:
            process.join()
        receiver.close()


@contextmanager
def _interrupts_held() -> Iterator[None]:
    """A process that is begun in here never hears Ctrl-C, which a terminal sends to all: who began it hears it, and ends it."""
    if not hasattr(signal, "pthread_sigmask"):  # another system: `_work` sees to it
        yield
        return
    from multiprocessing import resource_tracker

    resource_tracker.ensure_running()  # it would be begun with the process, and let signals in again
    before = signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT})
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)


def _work(sender: Connection, work: Callable[[Bid], object], bid: Bid) -> None:
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    signal.signal(signal.SIGTERM, _leave)
    end_with_parent()
    sender.send(work(bid))
    sender.close()


def _leave(number: int, frame: object) -> None:
    raise SystemExit(FILE_FAULT)  # on its way out a file in the making is taken away


class _Pickler(pickle.Pickler):
    """What is read of a job, with the empty mappings that many of its rows share."""

    dispatch_table = copyreg.dispatch_table.copy()


def _read_only(content: dict) -> MappingProxyType:
    return MappingProxyType(content)


_Pickler.dispatch_table[MappingProxyType] = lambda shared: (_read_only, (dict(shared),))
