"""The file that stands where one of ours is to go: whether it is ours and as we left it, by the core properties of its package."""

from __future__ import annotations

import os
import re
import zlib
from contextlib import suppress
from datetime import UTC, datetime
from pathlib import Path
from zipfile import BadZipFile, ZipFile

from batch.errors import OutputFileError
from batch.file_names import job_name, name_of
from batch.whole_file import LAST_NUMBER, reason_to_leave

MODIFIED = re.compile(rb"<dcterms:modified[^>]*>([^<]*)<")  # core properties of a package (ISO/IEC 29500-2, from memory)
TITLE = re.compile(rb"<dc:title[^>]*>([^<]*)<")
OF_RESULTS = ", sized"  # at the end of the title of results, behind the name of their job
LARGEST_PROPERTIES = 1 << 16  # bytes of them that are looked at
MADE = datetime(2000, 1, 1, tzinfo=UTC)  # the same input gives the same bytes, so no clock goes into a file


def core_property(path: Path, pattern: re.Pattern[bytes]) -> str:
    """A core property of the package at `path`; "" where there is none, or no package. Raises OSError where the file cannot be read."""
    try:
        with ZipFile(path) as package, package.open("docProps/core.xml") as part:
            found = pattern.search(part.read(LARGEST_PROPERTIES))
    except (FileNotFoundError, IsADirectoryError, NotADirectoryError, BadZipFile, KeyError, NotImplementedError, RuntimeError, zlib.error):
        return ""
    return found[1].decode("utf-8", "replace") if found else ""


def title_of_results(job: str) -> str:
    """Of the results of the workbook of that name."""
    return f"{job}{OF_RESULTS}"


def refuse_another_s(named: Path, path: Path, title: str) -> None:
    """Raises OutputFileError where the workbook at `path` says, by its title, that it holds another job's results than these."""
    held = _plain(core_property(path, TITLE))
    ours = _job_of(title)
    if not held or held == title or not held.endswith(OF_RESULTS) or (ours and ours == _job_of(held)):
        return
    whose = f"holds the results of {held.removesuffix(OF_RESULTS)}, which is another job"
    raise OutputFileError(f"{named}: {whose}; nothing was changed: name another file with -o, or move that one away")


def refuse_in_time(target: Path, source: Path | None) -> None:
    """The same before anything is read and sized, which may take a while; whether the file can be read at all is said when it is written.

    source  the job, whose results are to go there; None: what goes there is no job's results
    """
    with suppress(OSError, ValueError):  # ValueError: a name that no disk can carry
        refuse_another_s(target, Path(os.path.realpath(target)), "" if source is None else title_of_results(name_of(source)))


def _job_of(title: str) -> str:
    """The job that results are of, by their title; "" = no results."""
    return job_name(title.removesuffix(OF_RESULTS)).casefold() if title.endswith(OF_RESULTS) else ""


def _plain(text: str) -> str:
    """Text of a part without its entities."""
    if "&" not in text:
        return text
    from html import unescape  # xml.sax.saxutils has one too, and brings a whole web client with it: 20 ms

    return unescape(text)


def saved_since(path: Path, copied: Path | None = None) -> str:
    """Why a file of that name is left alone: another program saved it since, so it may hold what somebody typed; "" = it does not.
    `copied`: the workbook that is written as a copy, with its properties: where both state one moment nobody saved either of them since.

    What this program writes says that it was made and last changed at one fixed moment; every other program states its own. A file that
    states none, a workbook or not, is somebody's own.
    """
    changed = core_property(path, MODIFIED)
    if changed == MADE.strftime("%Y-%m-%dT%H:%M:%SZ"):
        return ""
    if changed and copied is not None and changed == core_property(copied, MODIFIED):
        return ""
    if changed:
        which = "it" if copied is None else "it, or the list,"
        return f"another program has saved {which} since, so it may hold what somebody typed"
    if path.is_file() and path.stat().st_size:
        return "this program did not write it"
    return ""


def free_place(path: Path, *, beside: str = "") -> tuple[Path, str]:
    """`path`, or the first of "NAME (2).xlsx", "NAME (3).xlsx" … where a file may be written and written again: none that is open
    elsewhere, or that another program has saved since; and why it is not `path`, "" = it is.

    beside  ending of a second file that goes with it under the same name: ".docx"
    """
    why = ""
    for number in range(1, LAST_NUMBER + 1):
        place = path if number == 1 else path.with_name(f"{path.stem} ({number}){path.suffix}")
        left = ""
        for one in (place, place.with_suffix(beside)) if beside else (place,):
            left = left or reason_to_leave(one) or saved_since(one)
            why = why or (left and f"{one}: {left}")
        if not left:
            return place, why
    return path, ""
