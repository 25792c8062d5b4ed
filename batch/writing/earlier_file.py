"""The file that stands where one of ours is to go: whether it is ours and as we left it, by the core properties of its package."""

from __future__ import annotations

import re
import zlib
from datetime import UTC, datetime
from pathlib import Path
from zipfile import BadZipFile, ZipFile

from batch.whole_file import LAST_NUMBER, reason_to_leave

MODIFIED = re.compile(rb"<dcterms:modified[^>]*>([^<]*)<")  # core properties of a package (ISO/IEC 29500-2, from memory)
TITLE = re.compile(rb"<dc:title[^>]*>([^<]*)<")
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
