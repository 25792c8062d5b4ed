"""Counts beside those that are read, by which a row would be another: numbers of lines, heaters installed for more than are in duty, a
least and a greatest power, a number in a cell merged over several tanks, sub-totals with a name of their own, rows that are examples."""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import lru_cache

from batch.intake.examples import SHOWN
from batch.intake.facts import figure
from batch.intake.grid import Grid, worded
from batch.intake.heading_sense import EACH, concepts_of
from batch.intake.line_kinds import BANNER, DATA, DOUBT, TOTAL, UNHEATED, Line
from batch.intake.list_words import basis_of
from batch.intake.plan import ListPlan
from batch.intake.sentence_words import forms
from batch.intake.survey import HeadingColumn, flat
from batch.intake.tags import head_of
from batch.intake.verdict import close
from batch.intake.vocabulary import vocabulary
from batch.intake.wording import words

IN_BRACKETS = re.compile(r"(\d{1,3})\s*[(\[]\s*(\d{1,2})\s*[)\]]")
OF_A_NOTE = re.compile(r"\W*(?:note|n\.|anm\.|remarque|nota)?\s*(\d{1,2})\s*[).:=–-]", re.IGNORECASE)
LEAST_SUMMED = 2  # rows that a sub-total is of
MANY = (  # plural words for what a row's heaters may be multiplied by
    r"lines|systems|sets|plants|trains|machines|linien|anlagen|stra(?:ß|ss)en|s[äa]tze|lignes|cha[îi]nes|jeux|l[íi]neas|plantas|juegos"
    r"|impianti|lijnen|installaties|linii|zestawy|linhas|conjuntos|linjer|s[æe]t|sett|linky|sady"
)
NUMBER = (
    r"(?:no|nos|nr|number|qty|quantity|anzahl|nombre|nb|n[°º]|n[úu]m(?:ero)?|cantidad|aantal|liczba|ilo[śs][ćc]|quantidade|antall?|po[čc]et|#)"
)
INSTALLED = re.compile(
    r"\b(?:install\w*|instal\w*|eingebaut|verbaut|montiert|montad\w*|mont[ée]e?s?|ge[iï]nstalleerd|zainstalowan\w*|zamontowan\w*|nainstalov\w*)",
    re.IGNORECASE,
)
PER = re.compile(r"(?:\b(?:per|par|por|je|pro|na|pr)\b\.?\s+|(?<=\w)/(?=\w))(?P<what>[^\W\d_]{3,})", re.IGNORECASE)
RUNNING = re.compile(
    r"\b(?:operating|running|duty|working|in (?:use|operation)|betrieb\w*|en service|en marche|en servicio|in funzione|in bedrijf"
    r"|pracuj\w*)\b",
    re.IGNORECASE,
)
STEM = 4  # letters by which a word is known again in the plural
LEAST = re.compile(r"\bm[ií]n(?:im\w*|dest\w*)?\b", re.IGNORECASE)
GREATEST = re.compile(r"\bm[aá](?:x|ks)\w*", re.IGNORECASE)


def asked_by_counts(plan: ListPlan, lines: Sequence[Line], columns: Sequence[HeadingColumn], grid: Grid | None) -> None:
    """Puts such rows in doubt. `lines`: those that nobody has answered for; `columns`: every one with a heading."""
    free = [column for column in columns if column.index not in {one.index for key, one in plan.columns.items() if key != "total_kw"}]
    for column in free:
        if _multiplies(column.text) and "tanks" not in plan.columns and "lines" not in plan.why:
            _times(lines, column)
    _installed(plan, lines, free)
    _per_something(plan, lines, columns)
    _between(plan, lines, free)
    if grid is not None:
        _merged_over(plan, lines, grid)
        _two_numbers(lines, grid)
    _sums(lines)
    _examples(lines)


def _doubt(line: Line, at: int, why: str) -> None:
    if line.kind == DATA:
        line.kind, line.at, line.why = DOUBT, at, why


@lru_cache(maxsize=1)
def _heading_of_lines() -> re.Pattern[str]:
    times = r"multiplier|mult|times|repeats?|multiplikator|faktor|multiplicateur|multiplicador|moltiplicatore|mno[żz]nik|n[áa]sobitel"
    return re.compile(rf"{NUMBER}\W*(?:of|de|d'|di|der)?\W*(?:{forms('lines')}|{MANY})|{MANY}|{times}", re.IGNORECASE)


def _multiplies(text: str) -> bool:
    """Does a heading count lines, systems or sets, and no more than that: "Lines", "No. of lines"? "Line" says which."""
    return _heading_of_lines().fullmatch(text.strip(" .:")) is not None


def _figures(lines: Sequence[Line], at: int) -> dict[int, float]:
    """The numbers of a column by the row's index."""
    found = ((line.index, figure(value)) for line in lines for column, value in line.cells if column == at)
    return {index: number for index, number in found if number is not None}


def _times(lines: Sequence[Line], column: HeadingColumn) -> None:
    """Whether a row's heaters are those of one line or of all is not said."""
    counted = _figures(lines, column.index)
    for line in lines:
        if (many := counted.get(line.index, 0)) > 1 and many == int(many):
            _doubt(line, column.index, f'{many:g} under "{column.text.strip()[:40]}", whose heaters may be more than the row counts,')


def _installed(plan: ListPlan, lines: Sequence[Line], free: Sequence[HeadingColumn]) -> None:
    """Rows in which more heaters are built in than the number that was read, by as many as are spare."""
    counts = [column for column in free if not any("power" in concepts_of(word) for word in words(column.text))]
    there = next((column for column in counts if INSTALLED.search(column.text)), None)
    spare = next((one for one in counts if one is not there and any("spare" in concepts_of(word) for word in words(one.text))), None)
    quantity = plan.columns.get("quantity")
    if there is not None and spare is None and quantity is not None and RUNNING.search(quantity.heading):
        built = _figures(lines, there.index)
        for line in lines:
            if (running := line.figure("quantity")) and (all_of_them := built.get(line.index, 0)) > running:
                said = f'{all_of_them:g} under "{there.text.strip()[:30]}" and {running:g} under "{quantity.heading[:30]}"'
                _doubt(line, there.index, said)
    if there is None or spare is None:
        return
    built, beside = _figures(lines, there.index), _figures(lines, spare.index)
    total = plan.columns.get("total_kw")
    rows = [line for line in lines if line.figure("quantity") and line.index in built]
    if total is not None and total.index == there.index and all(
        built[line.index] == (line.figure("quantity") or 0) + beside.get(line.index, 0) for line in rows
    ):  # a number of heaters, and no power
        del plan.columns["total_kw"]
        for line in lines:
            line.facts.pop("total_kw", None)
    for line in lines:
        count, more, whole = line.figure("quantity"), beside.get(line.index), built.get(line.index)
        if count and more and whole == count + more:
            _doubt(line, there.index, f'{whole:g} under "{there.text.strip()[:30]}", {more:g} of them under "{spare.text.strip()[:30]}",')


def _per_something(plan: ListPlan, lines: Sequence[Line], columns: Sequence[HeadingColumn]) -> None:
    """Numbers of heaters of each side, circuit or panel of a tank: how many it has in all is said nowhere."""
    quantity, tank = plan.columns.get("quantity"), plan.columns.get("tank")
    match = PER.search(quantity.heading) if quantity is not None else None
    parts = words(match["what"]) if match is not None else ()
    if quantity is None or not parts or concepts_of(parts[0]) & {"tank", "heater", "each", "power", "number", "count"}:
        return
    stem = parts[0][:STEM]
    if tank is not None and any(word.startswith(stem) for word in words(tank.heading)):
        return  # "heaters per station" of a list of stations
    beside = next((one for one in columns if one.index != quantity.index and any(word.startswith(stem) for word in words(one.text))), None)
    many = _figures(lines, beside.index) if beside is not None else {}
    for line in lines:
        if line.figure("quantity") and many.get(line.index) != 1:
            _doubt(line, quantity.index, f'"{quantity.heading[:40]}", of which the tank may have several,')


def _between(plan: ListPlan, lines: Sequence[Line], free: Sequence[HeadingColumn]) -> None:
    """Rows that have a least and a greatest power: which of the two the heaters are is not said."""
    power = plan.columns.get("power_kw") or plan.columns.get("total_kw")
    heading = power.heading if power is not None else ""
    other = GREATEST if LEAST.search(heading) else LEAST if GREATEST.search(heading) else None
    for column in free:
        if other is None or not other.search(column.text) or not any("power" in concepts_of(word) for word in words(column.text)):
            continue
        figures = _figures(lines, column.index)
        for line in lines:
            one = line.figure("power_kw") or line.figure("total_kw")
            if one and (another := figures.get(line.index)) and another != one:
                _doubt(line, column.index, f'{another:g} under "{column.text.strip()[:30]}" and {one:g} under "{heading[:30]}"')


def _merged_over(plan: ListPlan, lines: Sequence[Line], grid: Grid) -> None:
    """A number in one cell that is merged over the rows of several tanks: whether each has it, or all together, is not said."""
    power = plan.columns.get("power_kw")
    each = power is not None and basis_of(power.heading) == EACH
    keys = ("quantity", "total_kw") if each else ("quantity", "total_kw", "power_kw")
    columns = {plan.columns[key].index for key in keys if key in plan.columns}
    for top, left, bottom, _ in grid.merged if not plan.turned else ():
        over = [line for line in lines if top <= line.index <= bottom and line.kind in (DATA, DOUBT, UNHEATED)] if left in columns else []
        tanks = {worded(line.value("tank")).strip() for line in over if line.value("tank") is not None}
        if len(tanks) > 1 and len(over) > 1:
            for line in over:
                _doubt(line, left, f"a number in a cell that is merged over rows {top + 1} to {bottom + 1}")


def _two_numbers(lines: Sequence[Line], grid: Grid) -> None:
    """ "2 (3)" for a count, on a sheet without a note 3: which of the two numbers it is is asked."""
    told = [(line, fact, match) for line in lines if (fact := line.facts.get("quantity")) is not None and not fact.source
            and (match := IN_BRACKETS.fullmatch(fact.seen.strip())) is not None and int(match[1]) != int(match[2])]  # fmt: skip
    texts = {flat(value) for at in grid.lines for value in grid.rows[at] if isinstance(value, str)} if told else set()
    notes = {match[1] for text in texts if (match := OF_A_NOTE.match(text)) is not None and not IN_BRACKETS.fullmatch(text)}
    for line, fact, match in told:
        if match[2] not in notes:
            line.open = ("quantity",) if line.kind == DATA else line.open
            _doubt(line, fact.index, f'"{fact.seen}", which names two numbers,')


def _sums(lines: Sequence[Line]) -> None:
    """A row whose number and power are the sums of those above it, and whose name is of another kind: a sub-total, it may be."""
    above, heads, sums = list[Line](), set[str](), (0.0, 0.0, 0.0)
    for line in lines:
        if line.kind in (BANNER, TOTAL):
            above, heads, sums = [], set(), (0.0, 0.0, 0.0)
            continue
        count, power = line.figure("quantity"), line.figure("power_kw")
        if line.kind not in (DATA, DOUBT) or not count or not power:
            continue
        head = _head(line)
        heaters, whole, together = sums  # as they run: a list may have thousands of rows
        own = line.facts.get("tank")
        unnamed = own is None or bool(own.source)  # its tank stands in a row above: none of its own
        summed = len(above) >= LEAST_SUMMED and (head not in heads or (unnamed and close(power, together)))
        named_so = bool(line.banner) and worded(line.value("tank")).strip().casefold() == line.banner.strip().casefold()
        summed = summed or (bool(above) and named_so)
        if summed and count == heaters and (close(power, whole) or close(power, together)):
            first, last = above[0].index + 1, above[-1].index + 1
            rows = f"rows {first} to {last}" if first < last else f"row {first}"
            _doubt(line, line.facts["power_kw"].index, f"{count:g} and {power:g}, which are the sums of {rows},")
            above, heads, sums = [], set(), (0.0, 0.0, 0.0)
        else:
            above.append(line)
            heads.add(head)
            sums = (heaters + count, whole + power, together + power * count)


def _head(line: Line) -> str:
    return head_of(worded(line.value("tank"))).casefold()


def _examples(lines: Sequence[Line]) -> None:
    """Rows that say that they are examples, as the first of a form: "e.g. T-100", "Example"."""
    for line in lines:
        for at, value in line.cells:
            text = flat(value) if isinstance(value, str) else ""
            if text and (SHOWN.match(text) or vocabulary()["example"].whole(text.strip(" ():.*"))):
                _doubt(line, at, f'"{text[:40]}"')
