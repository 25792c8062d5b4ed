"""Notes by which the power of one row is that of its whole tank, in a list that gives the power of each heater: "EH-112: unit load shown is
the total for the tank, split equally"; and stars behind the powers, "12*" and "9**", where each star says what its power is of."""

from __future__ import annotations

import re
from collections.abc import Sequence, Set

from batch.intake.facts import Fact, note_of
from batch.intake.heading_sense import EACH, TANK, concepts_of
from batch.intake.line_kinds import DATA, Line
from batch.intake.list_words import hits, words_of_all
from batch.intake.note_numbers import bare_numbers, named_for_notes, note_of_row, number_of_note, number_off
from batch.intake.powers_marked import basis_said
from batch.intake.remark_words import LEADING, read_row_words
from batch.intake.remarks_on_power import OF_A_POWER
from batch.intake.rows_named import RowsNamed
from batch.intake.sentence_words import forms, saying
from batch.intake.verdict import Verdict, close, count_of, power_of, total_of
from batch.intake.wording import words

STARRED = re.compile(r"\s*(\*{1,3}|†|‡)\s*[=:)-]?\s+(?=\S)")
ENDS = re.compile(rf"(?<=[^\d\s.])\.(?:\s+|\Z)|\s*;\s+|\n|,\s+(?={forms('no_star')}(?!\w))", re.IGNORECASE)
REST = "the rest"  # that bears no star
MOST_WORDS = 10  # of a line that says what those are: judgement, no source
NOT = re.compile(r"\b(?:not|nicht|kein\w*|pas|non|no|niet|nie|n[ãa]o|ikke|inte|ej|ne|nen[íi])\b", re.IGNORECASE)


def by_stars(verdict: Verdict, several: Sequence[Line], around: Sequence[tuple[int, int, str]]) -> Sequence[tuple[int, int, str]]:
    """Reads rows of several heaters by the stars of their powers, where one star says "each" and another "sum for the tank", or the legend
    says one of the two of what bears no star; the rows among them of which nothing is said are asked about. Gives the texts that are about
    all rows: all but those of the stars, if they are used."""
    told: dict[str, tuple[str, str]] = {}
    for _, _, text in around:
        if match := STARRED.match(text):
            told |= {mark: (text, basis) for mark, basis in _bases(match[1], text[match.end() :]).items()}
        elif told and len(text.split()) <= MOST_WORDS and saying("no_star").search(text) and (basis := basis_said(text)):
            told[REST] = (text, basis)
    marked = {line.index: _star_of(line) for line in several}
    both = {EACH, TANK} <= {basis for _, basis in told.values()}
    if not (both or REST in told):
        return around
    if not told.keys() & set(marked.values()):  # it may be shown by the formats of cells alone
        verdict.odd_rows |= {index: f'"{next(iter(told.values()))[0][:40]}" explains a star that no power bears' for index in marked}
        return around
    for line in several:
        fact = line.facts["power_kw"]
        star = marked[line.index] or REST
        text, basis = told.get(star, ("", ""))
        if basis:
            line.facts["power_kw"] = Fact(fact.value, fact.index, f"{fact.seen}, {text}"[:100], source="description", basis=basis)
        elif not fact.basis:
            said = " and ".join(f'"{text[:40]}"' for text, _ in told.values())
            bears = f"the star of {fact.seen} is not explained" if marked[line.index] else f"{fact.seen} bears no star"
            verdict.odd_rows[line.index] = f"{bears}, and {said} say what the powers of others are of"
    verdict.basis = EACH
    verdict.said.append(f'stars say it row by row: "{told[next(iter(told))][0][:60]}"')
    return [one for one in around if not STARRED.match(one[2]) and one[2] != told.get(REST, ("",))[0]]


def _star_of(line: Line) -> str:
    """The star of a row's power, or else of its tank's name."""
    columns = [line.facts[key].index for key in ("power_kw", "tank") if key in line.facts]
    texts = [value.strip() for column in columns for at, value in line.cells if at == column and isinstance(value, str)]
    return next((text[len(text.rstrip("*†‡")) :] for text in texts if text[-1:] in "*†‡"), "")


def _bases(star: str, text: str) -> dict[str, str]:
    """What a legend says of its star, and of what bears none: "KW is for the whole tank. KW without a star is per heater."."""
    found: dict[str, str] = {}
    for clause in ENDS.split(text):
        mark = REST if saying("no_star").search(clause) else star
        basis = basis_said(clause) or (TANK if saying("whole_tank").search(clause) and not hits("per_heater", clause) else "")
        if basis:
            found[mark] = basis if found.get(mark, basis) == basis else ""
    return {star: "", **found} if REST in found else {mark: basis for mark, basis in found.items() if basis}


def told_of_marked(verdict: Verdict, lines: Sequence[Line], notes: Sequence[tuple[int, int, str]], noted: Set[int]) -> None:
    """Below a heading that says each, rows of several heaters that bear a note's number or star, where the note says that the power is the
    total: "2. kW given for this tank is the sum of its heaters".

    noted  the columns that a heading says are of notes, in which a bare number is that of one
    """
    told = {mark: text for _, _, text in notes if (mark := _mark_of(text)) and says_total(text)}
    for line in lines if told else ():
        fact = line.facts.get("power_kw")
        if line.kind != DATA or fact is None or fact.value is None or fact.basis or (count_of(line) or 0) <= 1:
            continue
        numbers = {number for at, value in line.cells if at in noted for number in bare_numbers(_bare(value))}
        text = next((told[mark] for mark in (_star_of(line), *numbers, *note_of_row(line.cells)) if mark in told), "")
        if text and total_of(line) is None:
            line.facts["power_kw"] = Fact(fact.value, fact.index, f"{fact.seen}, {text}"[:100], source="description", basis=TANK)
            verdict.odd_rows.pop(line.index, None)


def _mark_of(text: str) -> str:
    return match[1] if (match := STARRED.match(text)) is not None else number_of_note(text)


def _bare(value: object) -> str:
    return f"{value:g}" if isinstance(value, float) else value if isinstance(value, str) else ""


def says_total(note: str) -> bool:
    """Is all that a note says that the power shown is the total, or the tank's? "Total kW is limited by the feeder" says something else."""
    star = STARRED.match(note)
    parts = [part.strip(" .:") for part in ENDS.split(note[star.end() :] if star is not None else number_off(note)) if part.strip(" .:")]
    if len(parts) != 1 or any(map(str.isdigit, parts[0])) or hits("per_heater", parts[0]) or NOT.search(parts[0]) or "?" in parts[0]:
        return False
    is_so = next(iter(saying("shown_is").finditer(parts[0])), None)
    if is_so is None:
        return star is not None and _no_more_than_total(parts[0])
    before, behind = parts[0][: is_so.start()], parts[0][is_so.end() :]
    every = words_of_all(behind) or saying("whole_tank").search(behind)
    return OF_A_POWER.search(before) is not None and not words_of_all(before) and bool(every) and not read_row_words(parts[0]).fate


def _no_more_than_total(text: str) -> bool:
    """ "* total", "* tank total kW", "* for the whole tank": behind a star, words for all of a power and no others."""
    spans = [(hit.start, hit.end) for hit in (*words_of_all(text), *hits("per_tank", text), *hits("fillers", text))]
    spans += [match.span() for form in (saying("whole_tank"), OF_A_POWER) for match in form.finditer(text)]
    rest = "".join(" " if any(start <= at < end for start, end in spans) else sign for at, sign in enumerate(text))
    every = bool(words_of_all(text)) or saying("whole_tank").search(text) is not None
    return every and all(word in LEADING or "tank" in concepts_of(word) for word in words(rest))


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
