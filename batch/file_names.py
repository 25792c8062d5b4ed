"""Names of files: as they can be written into a workbook, and how those of a job and of its results belong together."""

from __future__ import annotations

import re
from collections.abc import Sequence
from pathlib import Path

SIZED = " sized"  # at the end of the name of results
TABLES = " csv"  # at the end of the name of the folder with the tables of results
SECTION = re.compile(r" (\d+) of (\d+)\Z")  # of the results of a job that is divided
NUMBERED = re.compile(r" \((\d+)\)\Z")  # as a file is named where the one before it stays as it is


def name_of(path: Path) -> str:
    """The name without its folder; bytes that are no text (a file copied from another system) are shown escaped, as "\\udcff"."""
    return path.name.encode("utf-8", "backslashreplace").decode("utf-8")


def job_name(name: str) -> str:
    """The job that a workbook belongs to, by its file's name: "JOB" of "JOB.xlsx", "JOB sized.xlsx" and "JOB sized (2).xlsx"; and
    "JOB 03 of 11" of "JOB sized 03 of 11.xlsx", since each section of a divided job is one with papers of its own.
    """
    stem = Path(name).stem
    if not are_results(stem):
        return stem
    whole = NUMBERED.sub("", stem)
    section = SECTION.search(whole)
    return SECTION.sub("", whole).removesuffix(SIZED) + (section[0] if section else "")


def are_results(stem: str) -> bool:
    """Whether a file is a results workbook, or a section of one, by its name without its ending."""
    return SECTION.sub("", NUMBERED.sub("", stem)).endswith(SIZED)


def is_section(stem: str) -> bool:
    """Whether a file is a section of results, by its name without its ending."""
    return are_results(stem) and SECTION.search(NUMBERED.sub("", stem)) is not None


def section_name(name: str, number: int, of: int) -> str:
    """What a section of a divided job, or its results, are called: "JOB sized 03 of 11.xlsx" of "JOB sized.xlsx"."""
    path = Path(name)
    return f"{path.stem} {number:0{len(str(of))}} of {of}{path.suffix}"


def left_over(target: Path, kept: Sequence[str | Path]) -> list[Path]:
    """Sections beside `target`, the list of sections or the results of a job, that are none of those that are kept: of an earlier run."""
    own = re.compile(rf"{re.escape(target.stem)} \d+ of \d+(?: \(\d+\))?{re.escape(target.suffix)}")
    names = {Path(one).name for one in kept}
    try:
        return sorted(path for path in target.parent.iterdir() if own.fullmatch(path.name) and path.name not in names and path.is_file())
    except OSError:
        return []


def results_name(name: str) -> str:
    """What the results of a workbook are called: "JOB sized.xlsx"; of results sized again the next number, "JOB sized (2).xlsx"."""
    stem = Path(name).stem
    number = NUMBERED.search(stem)
    whole = NUMBERED.sub("", stem)
    if not are_results(stem):
        return f"{stem}{SIZED}.xlsx"
    return f"{whole} ({int(number[1]) + 1 if number else 2}).xlsx"
