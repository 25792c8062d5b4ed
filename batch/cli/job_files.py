"""Which files a command works on, and where the results of each go. Reads names only, never what is inside."""

from __future__ import annotations

import argparse
import atexit
import os
import shutil
import sys
import tempfile
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import NamedTuple

from batch import comparison_path, filled_path, result_path
from batch.file_names import NUMBERED, SECTION, SIZED, TABLES, are_results, is_section

WORKBOOKS = (".xlsx", ".xlsm", ".xls", ".xlsb", ".ods", ".csv", ".tsv")  # of a folder; a .txt is read where it is named
FILLED_END = filled_path("x.xlsx").stem.removeprefix("x")  # " filled"
PORTFOLIO = "portfolio.xlsx"
QUOTED = " quotation"
COMPARED = comparison_path("x.xlsx", "x.xlsx").stem.strip("x")  # " against "


ZIP = b"PK"  # how a package of parts begins
_of_standard_input: list[Path] = []  # folders of what came in that way


class WrongCommand(Exception):
    """A command line that parses but asks for something that cannot be; its text is one line."""


def named_text(text: str) -> str:
    """A name as it was given, of a file or a folder.

    Raises:
        ArgumentTypeError: an empty one, which would stand for the current folder: what an unset variable of a shell leaves.
    """
    if not text.strip():
        raise argparse.ArgumentTypeError('the name is empty (""): perhaps a variable that is not set; for the current folder write .')
    return text


def named(text: str) -> Path:
    """The path of a name that is not empty."""
    return Path(named_text(text))


def one_file(named: Path, out: str | None, suffix: str, ends: str) -> Path:
    """Where a command's one file goes: `named` unless -o says a folder that there is, or a name with this suffix; `ends` says else.

    Raises:
        WrongCommand: a folder that there is not, or a name that ends otherwise.
    """
    if out is None:
        return named
    if Path(out).is_dir() or out.endswith("/"):
        if not Path(out).is_dir():
            raise WrongCommand(f"-o {out}: there is no such folder; make it first")
        return Path(out) / named.name
    if Path(out).suffix.casefold() != suffix.casefold():
        raise WrongCommand(f"-o {out}: {ends}")
    return Path(out)


class Gathered(NamedTuple):
    """The job workbooks to work on; what was left out, in words; and what could not be opened, in words."""

    jobs: list[Path]
    skipped: list[str]
    faults: list[str]


def meant(arguments: Sequence[str]) -> str:
    """What somebody meant who named a workbook and no command; "" where a command or an option leads."""
    first = arguments[0] if arguments else ""
    if not first or first.startswith("-") or not (Path(first).suffix.lower() in WORKBOOKS or Path(first).is_dir()):
        return ""
    named = f'"{first}"' if " " in first else first
    what = "a folder" if Path(first).is_dir() else "a file"
    return f"{first} is {what}, not a command: to size it, heaterbatch size {named}; to read and judge it only, heaterbatch check {named}"


def _standard_input() -> Path:
    """What comes in by standard input, as a file for this run alone."""
    held = sys.stdin.buffer.read()
    if not held:
        raise WrongCommand("-: nothing came in by standard input: send a workbook into it, or name a file")
    folder = Path(tempfile.mkdtemp(prefix="heaterbatch-"))
    atexit.register(shutil.rmtree, folder, ignore_errors=True)
    _of_standard_input.append(folder)
    path = folder / f"standard input{'.xlsx' if held[:2] == ZIP else '.csv'}"
    path.write_bytes(held)
    return path


def _spelled_out(given: Sequence[Path]) -> Iterator[Path]:
    """Names with * and ? that a shell left as they are, as the files they fit; "-" as standard input."""
    for path in given:
        if str(path) == "-":
            yield _standard_input()
        elif any(mark in str(path) for mark in "*?[") and not path.exists():
            start = Path(path.anchor) if path.anchor else Path()
            yield from sorted(start.glob(str(path.relative_to(path.anchor)))) or [path]
        else:
            yield path


def gather(given: Sequence[Path], recursive: bool = False) -> Gathered:
    """Opens folders, leaves out results and lock files, and names each workbook once.

    A single file is taken at its word, whatever it is called: somebody's own list may well be named "tanks sized.xlsx". So are sections
    of a divided job, where nothing else is named.
    """
    jobs: list[Path] = []
    skipped: list[str] = []
    faults: list[str] = []
    given = list(_spelled_out(given))
    sections = all(is_section(path.stem) for path in given)  # where nothing else is named, they are meant
    for path in given:
        if path.is_dir():
            _open_folder(path, recursive, jobs, skipped, faults)
        elif len(given) > 1 and not sections and (reason := not_a_job(path)):
            skipped.append(f"{path}: skipped, {reason}")
        else:
            jobs.append(path)
    once: dict[Path, Path] = {}
    for path in jobs:
        once.setdefault(path.resolve(), path)
    if not once and not faults:
        faults.append("nothing left to do, every file named was skipped: name a job workbook")
    return Gathered(list(once.values()), skipped, faults)


def _open_folder(folder: Path, recursive: bool, jobs: list[Path], skipped: list[str], faults: list[str]) -> None:
    try:
        every = folder.rglob("*") if recursive else folder.iterdir()
        inside = sorted(entry for entry in every if entry.suffix.lower() in WORKBOOKS and entry.is_file())
    except OSError as fault:
        faults.append(f"{folder}: the folder cannot be read ({fault.strerror or fault}): check its permissions")
        return
    reasons = {entry: not_a_job(entry) for entry in inside}
    skipped += [f"{entry}: skipped, {reason}" for entry, reason in reasons.items() if reason]
    found = [entry for entry, reason in reasons.items() if not reason]
    if not found:
        deeper = "" if recursive else ", or look into its folders too with --recursive"
        faults.append(f"{folder}: no job workbook in this folder: put one there, or name a file{deeper}")
    jobs += found


def not_a_job(path: Path) -> str:
    """Why a file is no job workbook, going by its name; "" where it may be one."""
    if path.name.startswith("~$"):
        return "the lock file of a workbook that is open elsewhere"
    if are_results(path.stem):
        return "a results workbook by its name"
    if COMPARED in path.stem:
        return "a comparison by its name"
    if NUMBERED.sub("", path.stem).endswith(FILLED_END):
        return "a filled copy by its name"
    if (quoted := NUMBERED.sub("", path.stem).removesuffix(QUOTED)) != NUMBERED.sub("", path.stem) and _has_a_job(path, quoted):
        return "the quotation of the job beside it by its name"
    if NUMBERED.sub("", path.stem) == Path(PORTFOLIO).stem and path.suffix == Path(PORTFOLIO).suffix:
        return "a portfolio by its name"
    if (tables := path.parent.name.removesuffix(TABLES)) != path.parent.name and are_results(tables):
        return "a table of results by the name of its folder"
    return ""


def _has_a_job(path: Path, name: str) -> bool:
    """Whether the job of that name, or a section of it, lies beside a file; a list may itself be called a request for quotation."""
    section = SECTION.search(name)
    stems = [name, f"{name}{SIZED}", *([f"{name[: section.start()]}{SIZED}{section[0]}"] if section else [])]
    return any(path.with_name(f"{stem}{end}").exists() for end in WORKBOOKS for stem in stems)


def targets(jobs: Sequence[Path], out: str | None) -> list[Path]:
    """Where each job's results go: beside it, or as `out` (-o) says; makes a folder that `out` names.

    Raises:
        WrongCommand: an `out` that cannot hold them, an input that would be overwritten, two results under one name.
    """
    if out is None and any(job.parent in _of_standard_input for job in jobs):
        raise WrongCommand("-: what came in by standard input has no place of its own: say with -o FILE.xlsx where its results go")
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
