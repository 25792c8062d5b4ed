"""A file's name as it can be written into a workbook."""

from __future__ import annotations

from pathlib import Path


def name_of(path: Path) -> str:
    """The name without its folder; bytes that are no text (a file copied from another system) are shown escaped, as "\\udcff"."""
    return path.name.encode("utf-8", "backslashreplace").decode("utf-8")
