"""A file that appears whole or not at all, whatever happens while it is written.

Every file that this program puts out goes through `whole_file`: it is written under another name in the same folder, checked,
put on the disk, and only then takes its name in one step. Killed at any moment it leaves the old file or the new one.
"""

from __future__ import annotations

import errno
import os
import stat
import zlib
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from hashlib import sha256
from pathlib import Path
from zipfile import BadZipFile

from msgspec import Struct

from batch.errors import OutputFileError

LAST_NUMBER = 999  # of other names tried: "JOB sized (2).xlsx" and on
LONGEST_HINT = 60  # bytes of the wanted name in that of the unfinished file, which must never be the longer one
ADVICE = {
    errno.ENOSPC: "free some room on the disk, or choose another folder",
    errno.EDQUOT: "free some room within your quota, or choose another folder",
    errno.EFBIG: "choose a folder on a disk that takes larger files",
    errno.EROFS: "choose a folder that can be written to",
    errno.EACCES: "close it where it is open, or choose another folder",
    errno.EPERM: "close it where it is open, or choose another folder",
    errno.ENAMETOOLONG: "choose a shorter name, or a folder with a shorter path",
    errno.ENOENT: "make the folder, or choose another folder",
    errno.ENOTDIR: "choose another folder: part of this path is a file",
    errno.ELOOP: "choose another folder: this path leads back to itself",
}


class FileInTheMaking(Struct):
    """A file in the making.

    path     where its bytes go while it is not whole
    wanted   the name that was asked for
    landed   the name it has got; `wanted` unless `why` says otherwise
    why      why it did not get the name asked for, in words; "" where it did
    """

    path: Path
    wanted: Path
    landed: Path
    why: str = ""


@contextmanager
def whole_file(path: Path) -> Iterator[FileInTheMaking]:
    """A new, empty file beside `path` for the caller to fill, close and check by name; on leaving it takes its place.

    Where a file of that name is open elsewhere or may not be written over, the new one takes another name beside it, and
    `Part.landed` and `Part.why` say so. A link is followed: the file it leads to is replaced, not the link.

    Raises:
        OutputFileError: one line: what, why, what to do. What stood at `path` is then untouched and nothing is left behind.
    """
    path = Path(path)
    part = _begin(path)
    try:
        yield part
        _settle(part.path)
        _land(part)
    except (OSError, BadZipFile, zlib.error) as fault:
        raise _refusal(path, fault) from fault
    finally:
        with suppress(OSError):
            part.path.unlink(missing_ok=True)


def _refusal(path: Path, fault: BaseException) -> OutputFileError:
    """The one line that a person reads."""
    reason = getattr(fault, "strerror", None) or " ".join(str(fault).split()) or type(fault).__name__
    advice = ADVICE.get(getattr(fault, "errno", None) or 0, "try again, or choose another folder or name")
    return OutputFileError(f"{path}: cannot be written ({reason}); nothing was changed: {advice}")


def _begin(path: Path) -> FileInTheMaking:
    """Looks at the place and makes the unfinished file in it."""
    try:
        wanted = Path(os.path.realpath(path))
        held = _held(wanted)
        if held is not None and not stat.S_ISREG(held.st_mode):
            raise OutputFileError(f"{path}: this is a folder or a device, not a file that can be replaced: name another file")
        return FileInTheMaking(_free_name(wanted), wanted, path, _not_replaceable(wanted, held))
    except (OSError, ValueError) as fault:  # ValueError: a name that no disk can carry
        raise _refusal(path, fault) from fault


def reason_to_leave(path: Path) -> str:
    """Why a file that is written to `path` would get another name: it is open elsewhere, or not to be written to; "" = it would not."""
    wanted = Path(os.path.realpath(path))
    return _not_replaceable(wanted, _held(wanted))


def _held(path: Path) -> os.stat_result | None:
    """What stands at the path; None where nothing does."""
    try:
        return path.stat()
    except FileNotFoundError:
        return None


def _not_replaceable(path: Path, held: os.stat_result | None) -> str:
    """Why the file at `path` must be left alone; "" where it may be replaced."""
    if held is None:
        return ""
    for lock in (f".~lock.{path.name}#", f"~${path.name}", f"~${path.name[2:]}"):  # as common spreadsheet programs leave them
        if path.with_name(lock).exists():
            return f"it is open elsewhere, as {lock} beside it says"
    if not held.st_mode & (stat.S_IWUSR | stat.S_IWGRP | stat.S_IWOTH) or not os.access(path, os.W_OK):
        return "it is marked as not to be written to"
    return ""


def _free_name(path: Path) -> Path:
    """An empty file of our own beside `path`."""
    hint = os.fsdecode(os.fsencode(path.stem)[:LONGEST_HINT].decode("utf-8", "ignore").encode("utf-8"))
    for number in range(1, 100):
        part = path.with_name(f"~{hint} {os.getpid()}-{number}.part")
        try:
            with part.open("xb"):
                return part
        except FileExistsError:
            continue
    raise OutputFileError(f"{path}: the folder is full of unfinished files named ~{hint} …: remove them")


def _settle(part: Path) -> None:
    """On the disk before the name changes, so that a power cut leaves the old file or the new one."""
    with part.open("rb+") as handle:
        os.fsync(handle.fileno())


def _land(part: FileInTheMaking) -> None:
    """Gives the file its name, in one step; another one where a file of that name must be left alone."""
    if not part.why:
        with suppress(OSError):  # who may read and write the old file may read and write the new one
            part.path.chmod(stat.S_IMODE(part.wanted.stat().st_mode))
        try:
            part.path.replace(part.wanted)
        except PermissionError as fault:  # how some systems say that another program holds the file
            if not part.wanted.exists():
                raise
            part.why = f"it cannot be replaced ({fault.strerror or 'no permission'}); it may be open elsewhere"
    if part.why:
        part.landed = _other_name(part)
    with suppress(OSError):  # not every system can settle a folder
        _settle_folder(part.wanted.parent)


def _other_name(part: FileInTheMaking) -> Path:
    """Puts the file under the first free name "NAME (2)", "NAME (3)" …, never over another file."""
    for number in range(2, LAST_NUMBER + 1):
        other = part.wanted.with_name(f"{part.wanted.stem} ({number}){part.wanted.suffix}")
        try:
            os.link(part.path, other)
        except FileExistsError:
            continue
        except OSError:  # a disk without links: take the name if it is free
            if other.exists():
                continue
            part.path.rename(other)
        return other if part.landed.is_symlink() else part.landed.with_name(other.name)
    raise OSError(errno.EEXIST, f"{part.why}, and {LAST_NUMBER} other names are taken")


def _settle_folder(folder: Path) -> None:
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


def checksum_of(place: Path) -> str:
    """Eight characters that change with any file in a folder, or with the one file: with its name and with what it holds."""
    found = sha256()
    for path in sorted(place.rglob("*")) if place.is_dir() else [place]:
        if path.is_file():
            found.update(path.name.encode() + b"\0" + path.read_bytes())
    return found.hexdigest()[:8]


def template_words(place: Path | None) -> str:
    """ "templates of house-style, checksum 0a1b2c3d": what stands in place of ours, and whether it is still the same; "" of ours."""
    return "" if place is None or not place.exists() else f"templates of {place.name}, checksum {checksum_of(place)}"
