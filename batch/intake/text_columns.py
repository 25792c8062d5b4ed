"""Columns of a pasted table that nothing parts but spaces, or drawn strokes."""

from __future__ import annotations

import re
from collections.abc import Sequence

LEAST_LINES, LEAST_COLUMNS = 3, 3
MOST_LINES, WIDEST = 20_000, 2000
GAP = re.compile(r"\S\s{2,}\S")


def ruled(sample: str) -> bool:
    """Is it a table drawn with upright strokes and dashed lines?"""
    return any(re.fullmatch(r"\s*[|+][|+:=\s-]*-[|+:=\s-]*", line) for line in sample.splitlines())


def by_position(lines: Sequence[str]) -> list[list[str]] | None:
    """Cells by where they stand: columns are parted where every line that has several cells has a space. None = not so laid out.

    A line without a gap of two spaces is one cell: a title, or a note.
    """
    if len(lines) > MOST_LINES or max(map(len, lines), default=0) > WIDEST:
        return None
    laid = [line.expandtabs(8).rstrip() for line in lines]
    several = [line for line in laid if GAP.search(line.strip()) and len(re.split(r"\s{2,}", line.strip())) >= LEAST_COLUMNS]
    if len(several) < LEAST_LINES:
        return None
    width = max(map(len, several))
    filled = [any(at < len(line) and line[at] != " " for line in several) for at in range(width)]
    spans: list[tuple[int, int]] = []
    at = 0
    while at < width:
        if not filled[at]:
            at += 1
            continue
        start = at
        while at < width and (filled[at] or (at + 1 < width and filled[at + 1])):
            at += 1
        spans.append((start, at))
    if len(spans) < LEAST_COLUMNS:
        return None
    rows: list[list[str]] = []
    for line in laid:
        if not line.strip() or re.fullmatch(r"[\s=_*-]*", line):
            rows.append([])
        elif line in several:
            rows.append([line[start:end].strip() for start, end in spans])
        else:
            rows.append([line.strip()])
    return rows
