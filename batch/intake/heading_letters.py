"""Letters behind headings that a note beside the list explains: "Qty W" and "Qty S", "W = working, S = store spares"."""

from __future__ import annotations

import re
from collections.abc import Sequence

from msgspec.structs import replace

from batch.intake.assignment import SURE_RIVAL, Taken
from batch.intake.list_words import hits
from batch.intake.survey import HeadingColumn

TOLD = re.compile(r"(?<![\w=])(?P<letter>[A-Z]{1,2})\s*=\s*(?P<words>[^=;.\n]+?)(?=[\s,;/]+[A-Z]{1,2}\s*=|[;.]|\Z)")
BEHIND = re.compile(r"[\s,(/-]+(?P<letter>[A-Z]{1,2})\s*\)?\s*\Z")
SPARES = "Spare"  # what the heading of such a column says in words


def with_letters_told(columns: Sequence[HeadingColumn], texts: Sequence[str]) -> list[HeadingColumn]:
    """The columns with what the letters behind their counts stand for: of spares, or of the heaters that are installed."""
    told = {match["letter"]: match["words"] for text in texts for match in TOLD.finditer(text)}
    found = []
    for column in columns:
        match = BEHIND.search(column.text)
        words = told.get(match["letter"], "") if match is not None else ""
        if match is not None and words and _counts(bare := replace(column, text=column.text[: match.start()], lone="")):
            column = replace(column, text=SPARES, lone="") if hits("spare", words) else bare
        found.append(column)
    return found


def as_they_stand(taken: Sequence[Taken], columns: Sequence[HeadingColumn]) -> list[Taken]:
    """What was taken, under the headings as they stand on the sheet."""
    texts = {column.index: column.text for column in columns}
    return [replace(one, text=texts.get(one.index, one.text)) for one in taken]


def _counts(column: HeadingColumn) -> bool:
    return any(one.key == "quantity" and one.score >= SURE_RIVAL for one in column.meanings())
