"""Notes that change a row's figures in plain words: "Tanks 8 and 9: 9 kW each instead of 6 kW", "T-5: number raised from 4 to 5".

The new figure is taken, and said, only where nothing is left to doubt: the note names the rows, it gives what was as well as what is, what
was is what every one of these rows has, and there is no word in it besides that is not known. Any other note is asked about, by the rules
for notes (`said_in_notes`, `sentences_asked`).
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from functools import lru_cache
from typing import NamedTuple

from msgspec.structs import replace

from batch.intake.grid import Grid
from batch.intake.heading_sense import names_a_tank
from batch.intake.line_kinds import DATA, DOUBT, NOTE, OUT, Line
from batch.intake.list_words import heater_word, hits, other_equipment, words
from batch.intake.note_numbers import number_off
from batch.intake.own_notes import without_own
from batch.intake.plan import ListPlan
from batch.intake.remark_words import read_row_words
from batch.intake.rows_named import RowsNamed
from batch.intake.sentence_words import forms, saying
from batch.intake.survey import flat
from batch.intake.texts_beside import cell_of
from batch.intake.verdict import close, plain

LONGEST = 80  # letters of a note that a reason quotes
FROM_NOTE = "note"  # source of a figure
MOST_OF_A_ROW = 24  # heaters of a tank, as elsewhere: judgement, no source
OF_EACH = 24  # letters that "per heater" and its like take
_WORD = r"[^\W\d_]+"
_UNIT = r"(?:\s*(?P<{0}unit>k\s?W)\b)?"
_WHAT = rf"(?:\s+{_WORD}\.?){{0,2}}?"  # "from 3 heaters to 2"
_FIGURE = r"(?P<{0}>\d{{1,3}}(?:[.,]\d{{1,2}})?|[^\W\d_]+)"
FIGURES = re.compile(r"(?<![\w.,])(?P<new>\d{1,3}(?:[.,]\d{1,2})?)(?![.,]?\d)(?:\s*(?P<unit>k\s?W)\b)?", re.IGNORECASE)
LETTERS = re.compile(_WORD)


class RowChange(NamedTuple):
    """What a sentence changes of each row that it names: `key` from `former` to `new`. `beside`: figures that it only repeats, by key."""

    key: str
    former: float
    new: float
    beside: tuple[tuple[str, float], ...] = ()


def change_rows(
    plan: ListPlan, grid: Grid, lines: Sequence[Line], around: Iterable[tuple[int, int, str]], power_each: bool
) -> set[tuple[int, int]]:
    """Gives rows the figures of notes that change them, and tells where these notes stand: row and column from 0.

    power_each  is the list's power surely that of each heater?
    """
    heard: set[tuple[int, int]] = set()
    shown = [one for one in without_own(around) if one[:2] not in grid.struck and one[0] + 1 not in grid.hidden_rows]
    if plan.turned or plan.also or plan.given or any(saying("takes_back").search(text) for _, _, text in shown):
        return heard
    heated = [line for line in lines if line.kind in (DATA, DOUBT, OUT)]
    for row, column, text in (*shown, *_sentences_of(plan, heated)):
        others = [line for line in heated if line.index != row]
        rows = RowsNamed(others, plan.columns["tank"].heading if "tank" in plan.columns else "")
        bare = number_off(text)
        named = [line for line in others if line.index in rows.named_in(bare)]
        change = change_told(rows.without_names(bare)) if named else None
        tanks = [str(line.value("tank")).casefold() for line in named]
        again = len(set(tanks)) < len(tanks)  # which of a tank's rows is meant?
        if change is None or again or not all(_fits(line, change, power_each) for line in named):
            _ask_corrected([line for line in heated if plan.free and line.index == row], [line for line in named if line.index < row], bare)
            continue
        heard.add((row, column))
        why = f'"{text[:LONGEST]}" in {cell_of(row, column)}'
        for line in named:
            _change(plan, line, change, why)
        _ask_followers([line for line in lines if line not in named], named, change.key, why)
        for line in heated:
            if line.index == row:
                line.kind, line.why = NOTE, ""
    return heard


def _sentences_of(plan: ListPlan, heated: Sequence[Line]) -> list[tuple[int, int, str]]:
    """The rows of a letter, of which a later one may change an earlier: "P.S. Tank 3 is to have three heaters, not two"."""
    texts = [(line, at, flat(value)) for line in heated if plan.free for at, value in line.cells if isinstance(value, str)]
    return [(line.index, at, text) for line, at, text in texts if len(line.cells) == 1]


def _ask_corrected(later: Sequence[Line], earlier: Sequence[Line], text: str) -> None:
    """In a letter: a sentence that corrects what was said of a tank before it, and does not say so that nothing is left to doubt."""
    corrects = saying("corrects").search(text) or _pair().search(text) or _rather().search(text)
    for line in (*later, *earlier) if later and corrects else ():
        if line.kind == DATA:
            line.kind, line.why = DOUBT, f'"{text[:LONGEST]}", which may change what was said of the same tank before,'


def _fits(line: Line, change: RowChange, power_each: bool) -> bool:
    """Is a row one that is sized, with the figures that the note says it had?"""
    own = line.figure(change.key)
    settled = line.kind == DATA and own is not None and close(own, change.former)
    of_each = power_each or change.key != "power_kw" or line.figure("quantity") == 1
    return settled and of_each and all((value := line.figure(key)) is not None and close(value, told) for key, told in change.beside)


def _change(plan: ListPlan, line: Line, change: RowChange, why: str) -> None:
    value: object = int(change.new) if change.key == "quantity" else change.new
    line.facts[change.key] = replace(line.facts[change.key], value=value, seen=why[:LONGEST], source=FROM_NOTE)
    number = line.index + 1
    plan.row_changes[number] = {**plan.row_changes.get(number, {}), change.key: value}
    plan.row_changes_why[number] = why


def _ask_followers(lines: Sequence[Line], changed: Sequence[Line], key: str, why: str) -> None:
    """Rows that are as one that was changed, "same as T-5", or have its figure by a mark: whether they follow is asked."""
    rows = RowsNamed(changed)
    repeated = {line.index for line in changed}
    for line in sorted(lines, key=lambda one: one.index):
        fact = line.facts.get(key)
        again = fact is not None and fact.source == "above" and line.index - 1 in repeated
        repeated |= {line.index} if again else set()
        names = line.referred and any(rows.named_in(flat(value)) for _, value in line.cells if isinstance(value, str))
        if line.kind == DATA and (again or names):
            line.kind, line.why, line.open = DOUBT, f"{why}, which changes the row that this one is as,", (key,)


def change_told(text: str) -> RowChange | None:
    """The one change that a sentence, without the rows that it names, tells with what was and what is; None where a word of it is not
    known, a figure is left over, or it is of a whole tank."""
    if "?" in text or read_row_words(text).fate or any(hits(words, text) for words in ("spare", "accessories", "total")):
        return None
    if any(not text[hit.start : hit.end].isalpha() for hit in hits("per_tank", text)):  # "per tank", not "tank"
        return None
    if other_equipment(text) and not heater_word(text):
        return None
    former: list[tuple[float, bool]] = []
    for pattern in (_pair(), _rather(), _behind()):
        for match in reversed(list(pattern.finditer(text))):
            old = _number(match["old"])
            if old is None or (match.groupdict().get("new") is not None and _number(match["new"]) is None):
                continue
            former.append((old, bool(match["oldunit"])))
            start, end = match.span("cut")
            text = f"{text[:start]} {text[end:]}"
    now = None if saying("denies").search(text) else _figures(text)
    if len(former) != 1 or now is None or not now:
        return None
    counts, powers = ([value for value, is_power in now if is_power == kind] for kind in (False, True))
    old, of_power = former[0]
    if not powers and any(heater_word(text[hit.start :][:OF_EACH]) for hit in hits("per_heater", text)):  # so many elements in each heater
        return None
    if not counts and len(powers) == 1:
        return RowChange("power_kw", old, powers[0])
    if not powers and len(counts) == 1:
        return RowChange("power_kw" if of_power else "quantity", old, counts[0]) if of_power or _counted(old, counts[0]) else None
    if len(counts) == len(powers) == 1:
        key, new = ("power_kw", powers[0]) if of_power else ("quantity", counts[0])
        beside = ("quantity", counts[0]) if of_power else ("power_kw", powers[0])
        return RowChange(key, old, new, (beside,)) if of_power or _counted(old, new) else None
    return None


def _counted(*numbers: float) -> bool:
    return all(0 < number <= MOST_OF_A_ROW and number == int(number) for number in numbers)


def _number(word: str) -> float | None:
    return plain(word) if word[:1].isdigit() else words().number(word.casefold())


def _figures(text: str) -> list[tuple[float, bool]] | None:
    """The figures that are left of a sentence, each with whether it is a power; None where a word is left that is not known."""
    found: list[tuple[float, bool]] = []
    for match in reversed(list(FIGURES.finditer(text))):
        value = plain(match["new"])
        if value is None:
            return None
        found.append((value, bool(match["unit"])))
        text = f"{text[: match.start()]} {text[match.end() :]}"
    if any(map(str.isdigit, text)):
        return None
    text = saying("change_words").sub(" ", text)
    for word in LETTERS.findall(text):
        known = heater_word(word) or names_a_tank(word) or hits("per_heater", word) or hits("pieces", word)
        if (number := words().number(word.casefold())) is not None:
            found.append((float(number), False))
        elif not known:
            return None
    return found


@lru_cache(maxsize=1)
def _pair() -> re.Pattern[str]:
    """ "From 3 to 2", "passe de 3 à 2", "3 -> 2": what was is cut out, and what is stays."""
    old, new = _FIGURE.format("old"), _FIGURE.format("new")
    said = rf"(?<!\w){forms('changed_from')}\s+{old}{_UNIT.format('old')}{_WHAT}\s*,?\s+{forms('changed_to')}\s+(?={new}(?!\w))"
    return re.compile(rf"(?P<cut>{said})", re.IGNORECASE)


@lru_cache(maxsize=1)
def _rather() -> re.Pattern[str]:
    """ "9 kW instead of 6 kW", "three heaters, not two"."""
    said = rf"(?<!\w)(?:{forms('rather_than')})\s+{_FIGURE.format('old')}(?!\w){_UNIT.format('old')}"
    return re.compile(rf"(?P<cut>{said})", re.IGNORECASE)


@lru_cache(maxsize=1)
def _behind() -> re.Pattern[str]:
    """Turkish has it behind: "6 kW yerine 9 kW"."""
    return re.compile(rf"(?P<cut>{_FIGURE.format('old')}{_UNIT.format('old')}\s+(?:yerine|de[ğg]il))(?!\w)", re.IGNORECASE)

