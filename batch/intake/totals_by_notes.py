"""Notes by which the power of one row is that of its whole tank, in a list that gives the power of each heater: "EH-112: unit load shown is
the total for the tank, split equally"; and stars behind the powers, "12*" and "9**", where each star says what its power is of."""

from __future__ import annotations

import re
from collections.abc import Sequence

from batch.intake.facts import Fact, note_of
from batch.intake.heading_sense import EACH, TANK
from batch.intake.line_kinds import DATA, Line
from batch.intake.list_words import hits, words_of_all
from batch.intake.note_numbers import named_for_notes, note_of_row, number_of_note, number_off
from batch.intake.powers_marked import basis_said
from batch.intake.rows_named import RowsNamed
from batch.intake.verdict import Verdict, close, count_of, power_of, total_of

STARRED = re.compile(r"\s*(\*{1,3}|†|‡)\s*[=:)-]?\s+(?=\S)")


def by_stars(verdict: Verdict, several: Sequence[Line], around: Sequence[tuple[int, int, str]]) -> Sequence[tuple[int, int, str]]:
    """Reads rows of several heaters by the stars of their powers, where one star says "each" and another "sum for the tank"; the rows
    among them that bear neither are asked about. Gives the texts that are about all rows: all but those of the stars, if they are used."""
    told = {match[1]: (text, basis) for _, _, text in around if (match := STARRED.match(text)) and (basis := basis_said(text))}
    marked = {line.index: note_of(line.facts["power_kw"].seen) for line in several}
    if {basis for _, basis in told.values()} != {EACH, TANK} or not told.keys() & set(marked.values()):
        return around
    for line in several:
        fact = line.facts["power_kw"]
        if (star := marked[line.index]) in told:
            text, basis = told[star]
            line.facts["power_kw"] = Fact(fact.value, fact.index, f"{fact.seen}, {text}"[:100], source="description", basis=basis)
        elif not fact.basis:
            said = " and ".join(f'"{text[:40]}"' for text, _ in told.values())
            verdict.odd_rows[line.index] = f"{fact.seen} bears no star, and {said} say what the powers of others are of"
    verdict.basis = EACH
    verdict.said.append(f'stars say it row by row: "{told[next(iter(told))][0][:60]}"')
    return [one for one in around if not STARRED.match(one[2])]


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
