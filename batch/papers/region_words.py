"""What the program itself says on a paper in the words of the code's country: star, PE, protective conductor."""

from __future__ import annotations

from typing import Any

from batch.papers.paper_data import ColumnHead, Paper, PaperTable, table
from batch.rules import Wording
from batch.schedules.designations import of_iec

IN_SIGNS = 6.0  # shares from here on are signs, of columns of the workbook: there a longer word of the country's needs more of them
_WORDED = ("title", "facts", "tables", "notes", "labels", "band")


def in_region_words(paper: Paper, wording: Wording) -> Paper:
    """The paper in these words; drawings are in them already, and names stay as people gave them."""
    return paper._replace(**{name: _said(getattr(paper, name), wording) for name in _WORDED}) if wording else paper


def _said(thing: Any, wording: Wording) -> Any:
    if isinstance(thing, str):
        return of_iec(wording.of(thing))
    if isinstance(thing, ColumnHead):
        words = of_iec(wording.heading(thing.words, thing.unit))
        share = max(thing.share, max(map(len, words.split()), default=0) + 1.5) if thing.share >= IN_SIGNS else thing.share
        return thing._replace(words=words, unit=of_iec(wording.of(thing.unit)), share=share)
    if isinstance(thing, tuple):
        said = tuple(_said(one, wording) for one in thing)
        if isinstance(thing, PaperTable):  # its longest words are others now
            return table(*said[: len(PaperTable._fields) - 1])
        return type(thing)(*said) if hasattr(thing, "_fields") else said
    return thing
