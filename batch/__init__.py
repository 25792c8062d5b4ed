"""Sizes the electrical supply of immersion heaters for a whole plant of tanks, workbook to workbook.

The public verbs: `size`, `check`, `compare`, `blank`, `codes`. Each does what its command does, and returns instead of printing.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from batch.results import JobResult
    from batch.revisions.history import History
    from batch.rules import RuleSet

__version__ = "0.1.0"
__all__ = ["blank", "check", "codes", "compare", "comparison_path", "result_path", "size"]
PROGRAM = f"heaterbatch {__version__}"

Progress = Callable[[str, int, int], None]


def check(
    source: str | Path, *, keep_from: str | Path | None = None, renamed: Sequence[str] = (), progress: Progress | None = None
) -> JobResult:
    """Read and size a workbook without writing anything.

    `source` may be a results workbook: its sheets As received are the job, and what was typed into it is taken. `keep_from` is an
    earlier revision whose decisions are kept where these inputs allow it; `renamed` says what goes by another name now ("T-5=T-5A").
    Raises InputFileError where a file cannot be read, JobError for a rename of what is not there.
    """
    from batch.checks import reconcile
    from batch.intake.results_book import read_any
    from batch.sizing.project import size_job

    job, stored = read_any(Path(source), progress)
    if stored is None and keep_from is None:
        result = size_job(job, progress)
    else:  # earlier decisions are looked into only where there are any
        from batch.revisions.carry import size_keeping
        from batch.revisions.reopen import open_revision, revision_of

        revision = revision_of(job, stored, PROGRAM, progress) if stored is not None else None
        if keep_from is None:
            result = revision.result
        else:
            old = open_revision(Path(keep_from), PROGRAM, progress)
            result = size_keeping(old, job if revision is None else revision.job, renamed, progress)[1]
    return replace(result, checks=reconcile(result))


def result_path(source: str | Path) -> Path:
    """Where the results of a workbook go unless told otherwise: "JOB sized.xlsx" beside JOB.xlsx."""
    source = Path(source)
    return source.with_name(f"{source.stem} sized.xlsx")


def size(
    source: str | Path,
    target: str | Path | None = None,
    *,
    keep_from: str | Path | None = None,
    renamed: Sequence[str] = (),
    us: bool | None = None,
    stamp: str = "",
    progress: Progress | None = None,
) -> JobResult:
    """The main job: read, size, and write the results workbook beside the source, or to `target`.

    `us`: results in US units; None = as the code of the first project is used. `stamp` is written as the run stamp, word for word.
    `keep_from` and `renamed` are as in `check`.
    Raises InputFileError or OutputFileError; never overwrites the source.
    """
    from batch.errors import OutputFileError
    from batch.report import write

    source = Path(source)
    target = result_path(source) if target is None else Path(target)
    if target.resolve() == source.resolve():
        raise OutputFileError(f"{target}: this is the input; name another file for the results.")
    if keep_from is not None and target.resolve() == Path(keep_from).resolve():
        raise OutputFileError(f"{target}: this is the revision to keep from; name another file for the results.")
    result = check(source, keep_from=keep_from, renamed=renamed, progress=progress)
    if progress is not None:
        progress("writing", 0, 0)  # how far it has come is not known
    part = write(result, target, stamp=stamp, program=PROGRAM, us=_in_us_units(result) if us is None else us)
    return replace(result, written=str(part.landed), aside=part.why)


def _in_us_units(result: JobResult) -> bool:
    from batch.rules import available, load

    names = [project.rule_set for project in result.projects] or [available()[0]]
    return load(names[0]).region == "us"


def comparison_path(old: str | Path, new: str | Path) -> Path:
    """Where a comparison goes unless told otherwise: "NEW against OLD.xlsx" beside NEW.xlsx."""
    return Path(new).with_name(f"{Path(new).stem} against {Path(old).stem}.xlsx")


def compare(
    old: str | Path,
    new: str | Path,
    *later: str | Path,
    target: str | Path | None = None,
    renamed: Sequence[str] = (),
    us: bool | None = None,
    stamp: str = "",
    progress: Progress | None = None,
) -> History:
    """Reconcile two revisions of a job or more, oldest first, and write the comparison beside the newest, or to `target`.

    Each may be a job workbook or a results workbook. `renamed`: what goes by another name now, as "T-5=T-5A".
    Raises InputFileError, OutputFileError, or JobError for a rename of what is not there; never overwrites an input.
    """
    from batch.errors import OutputFileError
    from batch.report.changes import write_comparison
    from batch.revisions.history import compare_all
    from batch.revisions.reopen import open_revision

    files = [Path(file) for file in (old, new, *later)]
    target = comparison_path(files[0], files[-1]) if target is None else Path(target)
    if any(target.resolve() == file.resolve() for file in files):
        raise OutputFileError(f"{target}: this is one of the revisions; name another file for the comparison.")
    revisions = [open_revision(file, PROGRAM, progress) for file in files]
    us = _in_us_units(revisions[-1].result) if us is None else us
    history = compare_all(revisions, renamed, us, progress)
    part = write_comparison(history, target, stamp=stamp, program=PROGRAM, us=us)
    return replace(history, written=str(part.landed), aside=part.why)


def blank(target: str | Path, *, us: bool = True) -> Path:
    """A blank job workbook at `target`, in US or SI units."""
    from batch.report import blank as write_blank

    target = Path(target)
    write_blank(target, us=us)
    return target


def codes() -> list[RuleSet]:
    """The rule sets at hand."""
    from batch.rules import available, load

    return [load(name) for name in available()]
