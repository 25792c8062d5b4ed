"""A section of a divided job, read again from its results: it still is one, whatever its file is called now."""

from __future__ import annotations

from msgspec.structs import replace

from batch.findings import find, remark
from batch.intake.grid import worded
from batch.intake.workbook import Workbook
from batch.records import Job
from batch.section_records import section_told
from batch.sheets.received import READ_FIRST


def with_section(job: Job, results: Workbook) -> Job:
    """The job with what its results say of the whole that they are a section of; as it is where they are none."""
    first = next((grid for grid in results.grids if grid.name == READ_FIRST), None)
    words = (worded(value) for row in first.rows for value in row) if first is not None else ()
    section = next(filter(None, map(section_told, words)), None)
    if section is None:
        return job
    said = remark("job-divided", number=section.number, of=section.of, banks=f"{len(job.banks):,}", all=section.banks)
    return replace(job, findings=(find(said), *job.findings), section=section)
