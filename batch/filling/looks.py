"""Cell styles of the customer's own workbook that suit results: none is added, so the styles stay as they are, byte for byte."""

from __future__ import annotations

from collections import Counter
from collections.abc import Container
from typing import NamedTuple

from batch.ooxml.sheet_xml import tags

GENERAL = 0  # number format that shows a number as it is: ECMA-376 Part 1, 18.8.30
PLAIN = "0"  # the workbook's own default


class StyleNumbers(NamedTuple):
    """Style numbers, as cells name them: `plain` show a number as it is, `wrapped` break their text into lines."""

    plain: frozenset[str]
    wrapped: frozenset[str]


def styles_of(part: bytes) -> StyleNumbers:
    """The styles of a workbook, from its styles part; of an empty one, the default only.

    Raises:
        CannotFill: not well-formed.
    """
    plain, wrapped = {PLAIN}, set()
    number = -1
    for tag in tags(part) if part else ():
        if tag.path[-1:] == ("cellXfs",) and tag.name == "xf":
            number += 1
            if tag.attributes.get("numFmtId", "0") == str(GENERAL):
                plain.add(str(number))
            elif number == 0:
                plain.discard(PLAIN)
        elif tag.name == "alignment" and tag.path[-2:] == ("cellXfs", "xf") and tag.attributes.get("wrapText") in ("1", "true"):
            wrapped.add(str(number))
    return StyleNumbers(frozenset(plain), frozenset(wrapped))


def model_column(looks: Counter[tuple[int, str]], columns: Container[int], styles: StyleNumbers) -> int:
    """The column of the list whose cells the results are to look like, row for row; -1 = none suits.

    looks   how many cells that hold something have which (column, style)
    It is the one with the most cells that show a number as it is; among equals one that does not break its text, then the last.
    """
    score: Counter[int] = Counter()
    wraps: Counter[int] = Counter()
    for (column, style), count in looks.items():
        if column in columns and style in styles.plain:
            score[column] += count
            wraps[column] += count if style in styles.wrapped else 0
    return max(score, key=lambda column: (score[column], -wraps[column], column), default=-1)
