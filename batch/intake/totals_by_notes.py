"""Notes by which the power of one row is that of its whole tank, in a list that gives the power of each heater: "EH-112: unit load shown is
the total for the tank, split equally"."""

from __future__ import annotations

import re
from collections.abc import Sequence

from batch.intake.facts import Fact, note_of
from batch.intake.heading_sense import TANK
from batch.intake.line_kinds import DATA, Line
from batch.intake.list_words import hits, words_of_all
from batch.intake.note_numbers import named_for_notes, note_of_row, number_of_note, number_off
from batch.intake.rows_named import RowsNamed
from batch.intake.verdict import Verdict, close, count_of, power_of, total_of

STARRED = re.compile(r"\s*(\*{1,3}|†|‡)\s*[=:)-]?\s+(?=\S)")


def shared_by_notes(
    verdict: Verdict, lines: Sequence[Line], notes: Sequence[tuple[int, int, str]], called: str = "", sheet: str = ""
) -> None:
    """Rows whose power is their total, though others multiply it, are read by the note that says so: the total, shared out. The row must be
    named by the note, refer to its number, or bear its star; and its own total must agree.

    notes   row and column from 0, and the words
    called  the heading of the tanks
    sheet   the sheet that they stand on, where it is another than the table's
    """
    odd = [line for line in lines if line.kind == DATA and line.index in verdict.odd_rows and _total_as_power(line)]
    told = [text for _, _, text in notes if _of_the_tank(text)] if odd else []
    if not told:
        return
    names = RowsNamed([line for line in lines if line.kind == DATA], called)
    numbered = not sheet or named_for_notes(sheet)
    for line in odd:
        fact = line.facts["power_kw"]
        for text in told:
            star = match[1] if (match := STARRED.match(text)) is not None else ""
            by_number = numbered and number_of_note(text) in note_of_row(line.cells)
            if line.index in names.named_in(number_off(text)) or by_number or (star and note_of(fact.seen) == star):
                seen = f"{fact.seen}, {text}"[:100]
                line.facts["power_kw"] = Fact(fact.value, fact.index, seen, source="description", basis=TANK)
                del verdict.odd_rows[line.index]
                break


def _of_the_tank(text: str) -> bool:
    """Does a note say that something is the total, or the tank's, and not behind it that it is of each? "Unit load is the total" does."""
    every = [hit.start for hit in words_of_all(text)]
    return bool(every) and not any(hit.start > min(every) for hit in hits("per_heater", text))


def _total_as_power(line: Line) -> bool:
    """Is a row's power, of several heaters, the same as its total?"""
    power, total, count = power_of(line), total_of(line), count_of(line)
    return power is not None and total is not None and close(power, total) and (count or 0) > 1
