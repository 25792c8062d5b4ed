"""A job of more banks than one workbook holds well, sized section by section, each by a process that begins afresh.

Sections wait on the disk, since what was read of so many banks and what is made of some of them would not fit beside each other.
"""

from __future__ import annotations

import copyreg
import gc
import pickle
from collections.abc import Iterator, Mapping, Sequence
from functools import partial
from pathlib import Path
from types import MappingProxyType
from typing import Any

from msgspec.structs import replace

import batch
from batch.errors import OutputFileError
from batch.file_names import section_name
from batch.records import Job
from batch.results import JobResult
from batch.schedules.reconciliation import reconcile
from batch.sizing.job_sections import sections_of
from batch.sizing.project import size_job
from batch.watch.bids import Bid, BidDone, outcome_of, over_processes
from batch.written_results import write_results


def save_sections(job: Job, target: Path, folder: Path) -> list[Bid]:
    """Divides a job, puts its sections into `folder`, and says where the results of each go: beside `target`.

    Raises:
        OutputFileError: the folder, one for what is in the making, has no room.
    """
    gc.collect()  # what reading left behind goes before anything is added
    sections = sections_of(job)
    bids = []
    for number, section in enumerate(sections, 1):
        saved = folder / f"{number}.section"
        try:
            with saved.open("wb") as file:
                _Pickler(file, pickle.HIGHEST_PROTOCOL).dump(section)
        except OSError as fault:
            raise OutputFileError(f"{saved}: a section of the job cannot be kept there ({fault.strerror or fault}): make room") from fault
        place = target.with_name(section_name(target.name, number, len(sections)))
        bids.append(Bid(saved, place.resolve(), section.name))
    return bids


def size_sections(bids: Sequence[Bid], options: Mapping[str, Any], *, firm: Path | None, code: str | None) -> Iterator[BidDone]:
    """Sizes what `save_sections` put on the disk, one after the other; `options` of `write_results`."""
    gc.collect()  # what was read of the whole job goes before others begin
    yield from over_processes(bids, partial(_size, options=options, firm=firm, code=code), workers=1, each_afresh=True)


def _size(bid: Bid, options: Mapping[str, Any], firm: Path | None, code: str | None) -> BidDone:
    def size() -> JobResult:
        with bid.job.open("rb") as file:
            job = pickle.load(file)  # of this run, in a folder that nobody else may write into
        with batch.firm(firm), batch.code(code):
            result = size_job(job)
            return write_results(replace(result, checks=reconcile(result)), bid.target, **options)

    return outcome_of(bid, size)


class _Pickler(pickle.Pickler):
    """What is read of a job, with the empty mappings that many of its rows share."""

    dispatch_table = copyreg.dispatch_table.copy()


def _read_only(content: dict) -> MappingProxyType:
    return MappingProxyType(content)


_Pickler.dispatch_table[MappingProxyType] = lambda shared: (_read_only, (dict(shared),))
