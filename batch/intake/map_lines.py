"""Where each key of a column map stands in its file, so that an error can name the line: the reader of TOML keeps no lines."""

from __future__ import annotations

import re
from collections.abc import Mapping

Place = tuple[str | int, ...]  # as ("table", 0, "columns", "Power")
_KEY = r"""(?:"(?:[^"\\]|\\.)*"|'[^']*'|[A-Za-z0-9_-]+)"""
_TABLE = re.compile(rf"\s*(\[\[?)\s*({_KEY}(?:\s*\.\s*{_KEY})*)\s*\]\]?\s*(?:#.*)?\Z")
_LINE = re.compile(rf"\s*({_KEY}(?:\s*\.\s*{_KEY})*)\s*=")


def key_lines(text: str) -> dict[Place, int]:
    """The line of every key and table, by its path; of one that stands twice the first. Keys of inline tables are on their table's line."""
    found: dict[Place, int] = {}
    numbers: dict[Place, int] = {}  # of the tables of each list of tables
    path: Place = ()
    for number, line in enumerate(text.splitlines(), 1):
        if match := _TABLE.match(line):
            path = _path(match[2], numbers)
            if match[1] == "[[":
                numbers[path] = numbers.get(path, -1) + 1
                path = (*path, numbers[path])
            found.setdefault(path, number)
        elif match := _LINE.match(line):
            found.setdefault((*path, *_names(match[1])), number)
    return found


def line_of(lines: Mapping[Place, int], path: Place) -> int:
    """The line of a path, or of the nearest that it is part of; 0 where none is known."""
    while path:
        if path in lines:
            return lines[path]
        path = path[:-1]
    return 0


def _path(text: str, numbers: Mapping[Place, int]) -> Place:
    """The path of a table; a part that is a list of tables means its last."""
    path: Place = ()
    names = _names(text)
    for at, name in enumerate(names):
        path = (*path, name)
        if path in numbers and at < len(names) - 1:
            path = (*path, numbers[path])
    return path


def _names(text: str) -> list[str]:
    names = re.findall(_KEY, text)
    return [name[1:-1].replace('\\"', '"') if name[0] in "\"'" else name for name in names]
