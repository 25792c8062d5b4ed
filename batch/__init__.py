"""Sizes the electrical supply of immersion heaters for a whole plant of tanks, workbook to workbook.

The public verbs: `size`, `check`, `blank`, `codes`. Each does what the command of that name does, and returns instead of printing.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from batch.results import JobResult
    from batch.rules import RuleSet

__version__ = "0.1.0"
__all__ = ["blank", "check", "codes", "result_path", "size"]

Progress = Callable[[str, int, int], None]


def check(source: str | Path, *, progress: Progress | None = None) -> JobResult:
    """Read and size a workbook without writing anything; raises InputFileError where the file cannot be read."""
    from batch.checks import reconcile
    from batch.intake import read
    from batch.sizing.project import size_job

    result = size_job(read(Path(source), progress), progress)
    return replace(result, checks=reconcile(result))


def result_path(source: str | Path) -> Path:
    """Where the results of a workbook go unless told otherwise: "JOB sized.xlsx" beside JOB.xlsx."""
    source = Path(source)
    return source.with_name(f"{source.stem} sized.xlsx")


def size(
    source: str | Path, target: str | Path | None = None, *, us: bool | None = None, stamp: str = "", progress: Progress | None = None
) -> JobResult:
    """The main job: read, size, and write the results workbook beside the source, or to `target`.

    `us`: results in US units; None = as the code of the first project is used. `stamp` is written as the run stamp, word for word.
    Raises InputFileError or OutputFileError; never overwrites the source.
    """
    from batch.errors import OutputFileError
    from batch.report import write

    source = Path(source)
    target = result_path(source) if target is None else Path(target)
    if target.resolve() == source.resolve():
        raise OutputFileError(f"{target}: this is the input; name another file for the results.")
    result = check(source, progress=progress)
    if progress is not None:
        progress("writing", 0, 0)  # how far it has come is not known
    part = write(result, target, stamp=stamp, program=f"heaterbatch {__version__}", us=_in_us_units(result) if us is None else us)
    return replace(result, written=str(part.landed), aside=part.why)


def _in_us_units(result: JobResult) -> bool:
    from batch.rules import available, load

    names = [project.rule_set for project in result.projects] or [available()[0]]
    return load(names[0]).region == "us"


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
