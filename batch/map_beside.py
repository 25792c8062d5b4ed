"""The reading of a customer's list, written as a column map beside its results; never in place of a map that somebody has edited."""

from __future__ import annotations

from hashlib import sha256
from pathlib import Path

from batch.whole_file import whole_file

UNTOUCHED = "# as written, untouched: "  # before a digest of the lines above it


def write_map(source: Path, results: Path, text: str) -> Path:
    """Writes the map beside the results; returns where.

    Raises:
        OutputFileError: it cannot be written.
    """
    target = results.with_name(f"{source.stem} map.toml")
    if target.exists() and not _untouched(target):
        target = results.with_name(f"{source.stem} map, as read again.toml")
    with whole_file(target) as part:
        part.path.write_text(signed(text), encoding="utf-8", newline="\n")
    return part.landed


def signed(text: str) -> str:
    return f"{text}{UNTOUCHED}{_digest(text)}\n"


def _untouched(path: Path) -> bool:
    """Is the file a map as this program wrote it?"""
    try:
        text = path.read_text(encoding="utf-8")
    except (OSError, UnicodeDecodeError):
        return False
    above, mark, digest = text.rpartition(UNTOUCHED)
    return bool(mark) and digest.strip() == _digest(above)


def _digest(text: str) -> str:
    return sha256(text.encode("utf-8", "replace")).hexdigest()[:16]
