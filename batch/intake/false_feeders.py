"""Columns whose heading may be one of feeders and whose cells name none: who brings the panel, "by us", "by others", or by what a tank is
heated, E and S under "Heat source"."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

from batch.intake.assignment import Taken
from batch.intake.columns_aside import BY
from batch.intake.heating_media import ELECTRIC, HEATED_BY, LETTERS
from batch.intake.list_words import ditto
from batch.intake.sentence_words import worded_so
from batch.intake.survey import Region, flat

OF_WHOM = re.compile(  # "by us": trade words, common practice, no source
    rf"(?:{BY})\s+[^\W\d]+(?:\s+[^\W\d]+)?|us|ours|vendor|seller", re.IGNORECASE
)


def without_false_feeders(taken: Sequence[Taken], region: Region, data: Iterable[int]) -> list[Taken]:
    """The columns without one of feeders that says who brings something in most of its cells, or by what a tank is heated."""
    rows = [region.grid.rows[line] for line in data]
    return [one for one in taken if one.key != "feeder" or not _false(one, rows)]


def _false(one: Taken, rows: Sequence[Sequence[object]]) -> bool:
    said = [flat(row[one.index]).strip(" .") for row in rows if one.index < len(row) and isinstance(row[one.index], str)]
    said = [text for text in said if re.search(r"\w", text) and not ditto(text)]
    whom = [text for text in said if OF_WHOM.fullmatch(text) or worded_so("buyer").fullmatch(text)]
    heated = HEATED_BY.fullmatch(one.text.strip(" .:")) is not None
    media = heated and (all(map(LETTERS.fullmatch, said)) or any(map(ELECTRIC.search, said)))
    return bool(said) and (media or 2 * len(whom) > len(said))
