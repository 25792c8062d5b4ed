"""How the parts of a box stand on its plate, row by row, by the estimate that its size was chosen by, and the wire of its jumpers."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from itertools import groupby, islice
from math import ceil

from batch.box_results import BoxPart, Enclosure
from batch.counted_words import counted
from batch.papers.paper_data import ColumnHead, PaperTable, table
from batch.results import Needed

HEADS = (
    ColumnHead("Row", "", "right", 0.5), ColumnHead("Parts, left to right", share=5.0), ColumnHead("Wide, mm", "", "right", 0.9),
    ColumnHead("Tallest, mm", "", "right", 1.0),
)  # fmt: skip


def plate_table(box: Enclosure) -> Iterator[PaperTable]:
    """Rows from above; none where no box of the list serves."""
    if not box.size:
        return
    listed = (
        (f"{number}", _named(row), f"{sum(part.width_mm for part, _ in row):.0f}", f"{max(part.height_mm for part, _ in row):.0f}")
        for number, row in enumerate(_rows(box), start=1)
    )
    yield table("Parts on the plate, a proposal", HEADS, listed, note=f"From above; {_said(box)}.")


def plate_words(box: Enclosure | None) -> str:
    """The same in a sentence: "On the plate, row by row from above: DISC1, CON1 / TB1 …"."""
    if box is None or not box.size:
        return ""
    return f" On the plate, row by row from above: {' / '.join(map(_named, _rows(box)))} ({_said(box)})."


def _said(box: Enclosure) -> str:
    high, wide = box.plate_mm
    return f"plate about {high:.0f} x {wide:.0f} mm; a proposal by budget space, no source: makers' dimensions decide"


def _rows(box: Enclosure) -> list[list[tuple[BoxPart, str]]]:
    each = iter([(part, mark) for part in box.parts for mark in part.marks])
    return [list(islice(each, count)) for count in box.on]


def _named(row: Iterable[tuple[BoxPart, str]]) -> str:
    """ "PDB1, FU1 to FU4"."""
    words = []
    for _, some in groupby(row, key=lambda one: id(one[0])):
        marks = [mark for _, mark in some]
        words.append(marks[0] if len(marks) == 1 else f"{marks[0]} to {marks[-1]}")
    return ", ".join(words)


def jumper_words(needs: Iterable[Needed], box: Enclosure | None, quantity: Callable[[Needed], str]) -> str:
    """What wire all block jumpers of a panel come to; bars are no wire."""
    jumpers = sum(int(need.quantity) for need in needs if need.role == "block jumper" and need.words[:1].isdigit())
    if not jumpers or box is None or not box.size:
        return ""
    length = quantity(Needed("block jumper", "", "", ceil(jumpers * box.wire_m), "m"))
    return f"{counted(jumpers, 'block jumper')}: about {length} of wire in all, an estimate; common practice, no source."
