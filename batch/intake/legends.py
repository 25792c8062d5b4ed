"""Codes and numbered notes that a list explains elsewhere on its sheet: "V=VOID", "4. HOLD - do not release".

Only what takes a row out, or leaves it open, is kept: a row that bears such a code is asked about, never left out by itself.
"""

from __future__ import annotations

import re

from batch.intake.facts import SUPERSCRIPTS
from batch.intake.grid import Grid, worded
from batch.intake.remark_words import OUT, read_row_words
from batch.intake.survey import cells_of, flat

_NUMBERED = re.compile(r"^\s*(?:notes?|nota|anm\.?|bem\.?|opm\.?|uwaga)?\s*[(\[]?(\d{1,2}|[A-Z])[)\].:]\)?\s+(\D.{3,})$", re.IGNORECASE)
_MARKED = re.compile(r"^\s*(\*{1,3}|†|‡|[¹²³⁰⁴-⁹]{1,2})[)⁾]?\s*([^\d*].{3,})$")  # "* by others", "¹ existing"
_EQUAL = re.compile(r"(?<![\w=])(\w{1,3})\s*=\s*([^=]+?)(?=[\s,;|/]+\w{1,3}\s*=|$)")
_LEAST_EQUAL = 2  # codes in a line, for it to be a legend
_CODE = re.compile(r"^\s*(?:notes?|nota|n\.|anm\.?|bem\.?|opm\.?|uwaga)?\s*[(\[]?([A-Za-z]{1,3}|\d{1,2})[)\].]?\s*$", re.IGNORECASE)


def legends(grid: Grid) -> dict[str, str]:
    """Code -> what it stands for, of the codes whose words take a row out or leave it open."""
    found: dict[str, str] = {}
    for line in grid.lines:
        for _, value in cells_of(grid.rows[line]):
            if not isinstance(value, str):
                continue
            text = flat(value)
            if match := _NUMBERED.match(text) or _MARKED.match(text):
                said = [(match[1].translate(SUPERSCRIPTS), match[2])]
            else:
                said = [(one[1], one[2]) for one in _EQUAL.finditer(text)]
                said = said if len(said) >= _LEAST_EQUAL else []
            for code, words in said:
                told = read_row_words(words)
                opens = words.casefold().startswith(told.word.casefold())  # "HOLD - ...", not "furnish one spare"
                if told.fate == OUT or (told.fate and opens):
                    found.setdefault(code.casefold(), words.strip())
    return found


def codes(value: object) -> list[str]:
    """The codes of a cell that holds nothing else: "1, 4" or "note 3"; [] where it holds words."""
    parts = [part for part in re.split(r"[,;/&+]", worded(value)) if part.strip()]
    found = [match[1].casefold() for part in parts if (match := _CODE.match(part))]
    return found if len(found) == len(parts) else []
