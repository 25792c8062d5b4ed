"""Columns of a pasted table that nothing parts but spaces, or drawn strokes."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Sequence
from typing import NamedTuple

LEAST_LINES, LEAST_COLUMNS = 3, 3
MOST_LINES, WIDEST = 20_000, 2000
MOSTLY = 0.6  # of the lines that have several cells, to be of one number of them: judgement, no source
CHUNK = re.compile(r"\S+(?: \S+)*")  # what two spaces or more part from the next

Chunks = Sequence[re.Match[str]]  # of one line


class Span(NamedTuple):
    """Where the words of a column stand in their lines."""

    start: int
    end: int


def ruled(sample: str) -> bool:
    """Is it a table drawn with upright strokes and dashed lines?"""
    return any(re.fullmatch(r"\s*[|+][|+:=\s-]*-[|+:=\s-]*", line) for line in sample.splitlines())


def mostly_alike(widths: Sequence[int]) -> int:
    """How many cells most lines of several have; 0 where they do not agree."""
    several = Counter(width for width in widths if width > 1)
    if not several:
        return 0
    width, often = max(several.items(), key=lambda one: (one[1], one[0]))
    return width if width >= LEAST_COLUMNS and often >= max(LEAST_LINES, MOSTLY * several.total()) else 0


def by_position(lines: Sequence[str]) -> list[list[str]] | None:
    """Cells by where they stand, of lines whose cells two spaces or more part. None = not so laid out.

    The columns are where every line that has several cells has a space, or, where one line that is out of place leaves fewer of them,
    where the words of those lines stand that have as many cells as most. A line that fits neither is one cell: a title, a note, or one
    that is to be asked about.
    """
    if len(lines) > MOST_LINES or max(map(len, lines), default=0) > WIDEST:
        return None
    laid = [line.expandtabs(8).rstrip() for line in lines]
    chunks = [[] if re.fullmatch(r"[\s=_*-]*", line) else list(CHUNK.finditer(line)) for line in laid]
    width = mostly_alike([len(some) for some in chunks])
    gaps = _gaps(laid, chunks)
    if max(width, len(gaps)) < LEAST_COLUMNS:
        return None
    if len(gaps) >= width:
        return [
            [line[start:end].strip() for start, end in gaps] if len(some) >= LEAST_COLUMNS else [line.strip()] if some else []
            for line, some in zip(laid, chunks, strict=True)
        ]
    return _by_most(laid, chunks, width)


def _gaps(laid: Sequence[str], chunks: Sequence[Chunks]) -> list[Span]:
    """The columns that spaces in every line of several cells part."""
    several = [line for line, some in zip(laid, chunks, strict=True) if len(some) >= LEAST_COLUMNS]
    if len(several) < LEAST_LINES:
        return []
    width = max(map(len, several))
    filled = [any(at < len(line) and line[at] != " " for line in several) for at in range(width)]
    spans: list[Span] = []
    at = 0
    while at < width:
        if not filled[at]:
            at += 1
            continue
        start = at
        while at < width and (filled[at] or (at + 1 < width and filled[at + 1])):
            at += 1
        spans.append(Span(start, at))
    return spans


def _by_most(laid: Sequence[str], chunks: Sequence[Chunks], width: int) -> list[list[str]]:
    """Lines of so many cells as they are, and those with blanks between filled by where the words of the others stand."""
    whole = [some for some in chunks if len(some) == width]
    spans = [Span(min(some[at].start() for some in whole), max(some[at].end() for some in whole)) for at in range(width)]
    rows: list[list[str]] = []
    for line, some in zip(laid, chunks, strict=True):
        if len(some) == width:
            rows.append([chunk[0] for chunk in some])
        else:
            rows.append(_placed(some, spans) or ([line.strip()] if some else []))
    return rows


def _placed(chunks: Chunks, spans: Sequence[Span]) -> list[str] | None:
    """Each text in the column that it stands in; None where one stands in none or in several, or all of it under the first."""
    cells = [""] * len(spans)
    for chunk in chunks:
        over = [at for at, span in enumerate(spans) if chunk.start() < span.end and chunk.end() > span.start]
        if len(over) != 1 or cells[over[0]]:
            return None
        cells[over[0]] = chunk[0]
    return cells if any(cells[1:]) else None
