"""Which files a command works on, and where the results of each go. Reads names only, never what is inside."""

from __future__ import annotations

import os
from collections.abc import Sequence
from pathlib import Path
from typing import NamedTuple

from batch import comparison_path, filled_path, result_path
from batch.file_names import NUMBERED, SIZED

WORKBOOKS = (".xlsx", ".xlsm", ".xls", ".xlsb", ".ods", ".csv", ".tsv")  # of a folder; a .txt is read where it is named
FILLED_END = filled_path("x.xlsx").stem.removeprefix("x")  # " filled"
COMPARED = comparison_path("x.xlsx", "x.xlsx").stem.strip("x")  # " against "


class WrongCommand(Exception):
    """A command line that parses but asks for something that cannot be; its text is one line."""


class Gathered(NamedTuple):
    """The job workbooks to work on; what was left out, in words; and what could not be opened, in words."""

    jobs: list[Path]
    skipped: list[str]
    faults: list[str]


def gather(given: Sequence[Path]) -> Gathered:
    """Opens folders, leaves out results and lock files, and names each workbook once.

    A single file is taken at its word, whatever it is called: somebody's own list may well be named "tanks sized.xlsx".
    """
    jobs: list[Path] = []
    skipped: list[str] = []
    faults: list[str] = []
    for path in given:
        if path.is_dir():
            _open_folder(path, jobs, skipped, faults)
        elif len(given) > 1 and (reason := not_a_job(path)):
            skipped.append(f"{path}: skipped, {reason}")
        else:
            jobs.append(path)
    once: dict[Path, Path] = {}
    for path in jobs:
        once.setdefault(path.resolve(), path)
    if not once and not faults:
        faults.append("nothing left to do, every file named was skipped: name a job workbook")
    return Gathered(list(once.values()), skipped, faults)


def _open_folder(folder: Path, jobs: list[Path], skipped: list[str], faults: list[str]) -> None:
    try:
        inside = sorted(entry for entry in folder.iterdir() if entry.suffix.lower() in WORKBOOKS and entry.is_file())
    except OSError as fault:
        faults.append(f"{folder}: the folder cannot be read ({fault.strerror or fault}): check its permissions")
        return
    reasons = {entry: not_a_job(entry) for entry in inside}
    skipped += [f"{entry}: skipped, {reason}" for entry, reason in reasons.items() if reason]
    found = [entry for entry, reason in reasons.items() if not reason]
    if not found:
        faults.append(f"{folder}: no job workbook in this folder: put one there, or name a file")
    jobs += found


def not_a_job(path: Path) -> str:
    """Why a file is no job workbook, going by its name; "" where it may be one."""
    if path.name.startswith("~$"):
        return "the lock file of a workbook that is open elsewhere"
    if NUMBERED.sub("", path.stem).endswith(SIZED):
        return "a results workbook by its name"
    if COMPARED in path.stem:
        return "a comparison by its name"
    if NUMBERED.sub("", path.stem).endswith(FILLED_END):
        return "a filled copy by its name"
    return ""


def targets(jobs: Sequence[Path], out: str | None) -> list[Path]:
    """Where each job's results go: beside it, or as `out` (-o) says; makes a folder that `out` names.

    Raises:
        WrongCommand: an `out` that cannot hold them, an input that would be overwritten, two results under one name.
    """
    file, folder = (None, None) if out is None else _out(out, len(jobs))
    beside = [result_path(job) for job in jobs]
    where = [file or (folder / path.name if folder else path) for path in beside]
    taken: dict[Path, Path] = {}
    for job, target in zip(jobs, where, strict=True):
        if any(_same_file(target, other) for other in jobs):
            raise WrongCommand(f"the results of {job} would overwrite the input {target}: name another file or folder with -o")
        if (first := taken.setdefault(target.resolve(), job)) is not job:
            raise WrongCommand(f"{first} and {job} would both be written to {target}: size them one at a time, each with its own -o")
    if folder is not None and not folder.is_dir():
        try:
            folder.mkdir(parents=True)
        except OSError as fault:
            raise WrongCommand(f"-o {out}: the folder cannot be made ({fault.strerror or fault})") from None
    return where


def _out(out: str, count: int) -> tuple[Path | None, Path | None]:
    """`out` as (file, folder): one of the two is None."""
    path = Path(out)
    if path.is_dir() or out.endswith(("/", os.sep)) or not path.suffix:
        return None, path
    if path.suffix.lower() != ".xlsx":
        raise WrongCommand(f"-o {out}: end the name of a results workbook in .xlsx, and that of a folder in /")
    if count > 1:
        raise WrongCommand(f"-o {out} is one file, but there are {count} job workbooks: name a folder (end it in /)")
    return path, None


def _same_file(one: Path, other: Path) -> bool:
    try:
        return one.samefile(other)
    except OSError:  # one of the two does not exist yet, so they are not the same
        return one.resolve() == other.resolve()
