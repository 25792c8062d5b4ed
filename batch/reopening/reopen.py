"""A workbook -> a revision: a job workbook as it is, a results workbook with its own choices and whatever was typed into it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from msgspec.structs import replace

from batch.comparing.revision import Revision
from batch.findings import Finding, find, remark
from batch.records import Job
from batch.reopening.answers_received import Given, standing, typed_answers
from batch.reopening.carried_forward import put_back
from batch.reopening.customer_answers import Answers, Filled, take
from batch.reopening.earlier_workbooks import FromCells, chosen_in_cells
from batch.reopening.edits import Editing, apply
from batch.reopening.results_book import StoredResults, StoredRow, read_any
from batch.reopening.sized_with import SizedWith, WithData, chosen_with
from batch.reopening.typed_cells import typed_elsewhere
from batch.reopening.typed_type_names import with_type_names
from batch.schedules.reconciliation import reconcile
from batch.sheets.received import DATA
from batch.sizing.previous_decisions import NOTHING, PreviousDecisions
from batch.sizing.project import size_job

if TYPE_CHECKING:
    from batch.intake.column_map import ColumnMap

Progress = Callable[[str, int, int], None]


def open_revision(
    path: Path, program: str, progress: Progress | None = None, column_map: ColumnMap | None = None, given: Sequence[Given] = ()
) -> Revision:
    """Reads and sizes a revision. `program`: name and version of this program; `column_map`: how a customer's own list is laid out;
    `given`: answers that came in a file, beside those that are typed into the workbook.

    Raises:
        InputFileError: the file cannot be read.
    """

    def read(filled: Filled | None = None) -> tuple[Job, StoredResults | None]:
        return read_any(path, progress, column_map, filled)

    return revision_of(*read(), program, progress=progress, given=given, read=read)


def revision_of(
    job: Job, stored: StoredResults | None, program: str, *, progress: Progress | None = None, given: Sequence[Given] = (),
    read: Callable[[Filled], tuple[Job, StoredResults | None]] | None = None,
) -> Revision:  # fmt: skip
    """A workbook as it was read, sized; `stored`: its result sheets, where it is a results workbook. `given`: answers from elsewhere;
    `read`: reads it again with what an answer puts into its cells.
    """
    revision = _with_its_edits(job, stored, program, progress)
    answers = [*(typed_answers(stored) if stored is not None else ()), *given]
    if not answers or read is None:
        return revision
    again = Answers(answers, lambda filled: _with_its_edits(*read(filled), program, progress))
    return take(revision, again, lambda job, previous, made_by: sized(job, previous, made_by, progress))


def _with_its_edits(job: Job, stored: StoredResults | None, program: str, progress: Progress | None) -> Revision:
    """What was typed into results, taken, and what was answered before."""
    if stored is not None:
        said_before: list[Finding] = []
        job = replace(job, answered=standing(stored, said_before))
        job = replace(job, findings=(*job.findings, *said_before))
    if stored is None:
        return sized(job, NOTHING, program, progress)
    if stored.fault:
        said = find(remark("edit-data-damaged", sheet=DATA, fault=stored.fault), sheet=DATA, cell="A1")
        job = replace(job, findings=(*job.findings, said))
    previous = chosen_in_cells(job, stored) if stored.data is None else chosen_with(job, stored.data)
    job = put_back(job, stored, previous.labels)
    made_by = stored.program or "not stated"
    before = sized(job, previous, made_by, progress)
    was: SizedWith = FromCells(stored, before.result, made_by == program) if stored.data is None else WithData(stored.data)
    editing = Editing(before, stored, was)
    inputs = editing.inputs()
    now = sized(apply(job, inputs, [], before.lines), previous, made_by, progress) if inputs else before
    fixes = editing.fixes(now)
    names: list[tuple[StoredRow, str]] = []
    editing.findings += typed_elsewhere(
        stored, before.job, before.result, program=program, names=names, taken=now.result if inputs else None
    )
    if names:
        previous = with_type_names(previous, names, before.result, editing.findings)
    if not fixes and not editing.findings:
        return now
    return sized(apply(now.job, fixes, editing.findings, before.lines), previous, made_by, progress)


def sized(job: Job, previous: PreviousDecisions, program: str, progress: Progress | None = None) -> Revision:
    """A job sized with what it keeps, and checked against itself."""
    result = size_job(job, progress, previous)
    result = replace(result, checks=reconcile(result))
    return Revision(job, result, program, {**previous.labels}, previous)
