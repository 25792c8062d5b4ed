"""Names of files: as they can be written into a workbook, and how those of a job and of its results belong together."""

from __future__ import annotations

import re
from pathlib import Path

SIZED = " sized"  # at the end of the name of results
NUMBERED = re.compile(r" \((\d+)\)\Z")  # as a file is named where the one before it stays as it is


def name_of(path: Path) -> str:
    """The name without its folder; bytes that are no text (a file copied from another system) are shown escaped, as "\\udcff"."""
    return path.name.encode("utf-8", "backslashreplace").decode("utf-8")


def job_name(name: str) -> str:
    """The job that a workbook belongs to, by its file's name: "JOB" of "JOB.xlsx", "JOB sized.xlsx" and "JOB sized (2).xlsx"."""
    stem = Path(name).stem
    whole = NUMBERED.sub("", stem)
    return whole.removesuffix(SIZED) if whole.endswith(SIZED) else stem


def results_name(name: str) -> str:
    """What the results of a workbook are called: "JOB sized.xlsx"; of results sized again the next number, "JOB sized (2).xlsx"."""
    stem = Path(name).stem
    number = NUMBERED.search(stem)
    if not NUMBERED.sub("", stem).endswith(SIZED):
        return f"{stem}{SIZED}.xlsx"
    return f"{job_name(name)}{SIZED} ({int(number[1]) + 1 if number else 2}).xlsx"
