"""Words of the trade where IEC 60364 is in force: star, PE bar, PE, in place of the American ones of drawings and lists."""

from __future__ import annotations

import re
from typing import Any

from batch.drawings.drawing_list import Drawing
from batch.drawings.symbols import IEC
from batch.papers.paper_data import Paper

SAID = {"wye": "star", "wyes": "stars", "ground bar": "PE bar", "EGC": "PE", "grounding": "protective conductor"}
_WORDS = re.compile(rf"(?<![\w/-])({'|'.join(sorted(SAID, key=len, reverse=True))})(?![\w-])")
_WORDED = ("facts", "tables", "notes", "labels")  # of a paper; titles and tags hold names, which are nobody's to change


def in_region_words(paper: Paper, symbols: str) -> Paper:
    """The paper as the set of graphical symbols of its project asks for."""
    return paper._replace(**{name: _said(getattr(paper, name)) for name in _WORDED}) if symbols == IEC else paper


def drawn_in_region_words(drawing: Drawing) -> Drawing:
    if drawing.standard != IEC:
        return drawing
    return drawing._replace(words=tuple(words._replace(text=_said(words.text)) for words in drawing.words))


def _said(thing: Any) -> Any:
    if isinstance(thing, str):
        return _WORDS.sub(lambda found: SAID[found[1]], thing)
    if isinstance(thing, tuple):
        said = tuple(_said(one) for one in thing)
        return type(thing)(*said) if hasattr(thing, "_fields") else said
    return thing
