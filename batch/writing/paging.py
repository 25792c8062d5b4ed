"""Where a long list begins a new page: before a panel that would not end on the page at hand."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from batch.writing.paper import MOST_BREAKS, SPARE, Scaled
from batch.writing.text_fit import lines, row_height

POINTS = 72  # to the inch


class Pager:
    """Counts a list's rows as they pass and notes the rows before which a page begins. What is alike in `together` stays on one page.

    together   keys of the columns that say what belongs together
    wraps      key, width in digits and boldness of the columns whose words can take several lines
    paper      the paper with its scale
    above      points that stand above the data: on the first page, and on the others
    """

    def __init__(
        self, together: Sequence[str], wraps: Sequence[tuple[str, float, bool]], paper: Scaled, above: tuple[float, float], first_row: int
    ) -> None:
        self.paper = paper
        self.breaks: list[int] = []
        self._together, self._first_row = tuple(together), first_row
        self._wraps = [wrap for wrap in wraps if wrap[0] not in together]
        self._wraps_together = [wrap for wrap in wraps if wrap[0] in together]
        self._own = tuple(key for key, _, _ in self._wraps)
        self._known: dict[tuple, int] = {}  # words of a row -> the lines they take; a list repeats itself
        pages = (paper.inches_high * POINTS, paper.inches_high * POINTS / SPARE)  # what is sure to fit, and what may
        self._fresh = [page - above[1] for page in pages]
        self._left = [page - above[0] for page in pages]
        self._row = first_row
        self._group: tuple[object, ...] | None = None
        self._start, self._tall, self._least = first_row, 0.0, 1

    def add(self, row: Mapping) -> None:
        if len(self.breaks) > MOST_BREAKS:  # too many to set: pages run on
            return
        group = tuple(map(row.__getitem__, self._together))
        if group != self._group:
            self.settle()
            self._group, self._start = group, self._row
            self._least = max((lines(row[key] or "", width, bold) for key, width, bold in self._wraps_together), default=1)
        words = tuple(map(row.__getitem__, self._own))
        count = self._known.get(words)
        if count is None:
            count = self._known[words] = max(lines(row[key] or "", width, bold) for key, width, bold in self._wraps)
        self._tall += row_height(max(count, self._least))
        self._row += 1

    def settle(self) -> None:
        """The rows of one group are complete: they go on the page at hand, on the next, or over as many as they need.

        One that is as tall as a page may or may not go over its end, so what is left below it is the less of both.
        """
        if self._tall > min(self._left) and self._start > self._first_row:
            self.breaks.append(self._start)
            self._left = list(self._fresh)
        for at, fresh in enumerate(self._fresh):
            self._left[at] -= self._tall
            while self._left[at] < 0:
                self._left[at] += fresh
        self._tall = 0.0


def whole_blocks(heights: Sequence[float], blocks: Sequence[tuple[int, int]], room: float) -> tuple[list[int], int]:
    """Rows before which a page begins so that no block is cut, and how many pages it takes. `heights`: points of each row; `blocks`: first
    and last row of each, one within another where it may be; one that is taller than `room` is cut like plain rows.
    """
    whole = [(first, last) for first, last in blocks if sum(heights[first : last + 1]) <= room]
    breaks, used, pages = [], 0.0, 1
    for at, height in enumerate(heights):
        ends = [last for first, last in whole if first == at]
        need = max((sum(heights[at : last + 1]) for last in ends), default=height)
        if used and used + need > room:
            breaks.append(at)
            used, pages = 0.0, pages + 1
        used += height
    return breaks, pages
