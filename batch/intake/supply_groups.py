"""Supplies of several kinds told in one breath: "all 400 V 3-phase, except items 7 and 9, which are 230 V", "those marked * 690 V".

A sentence is taken apart at its supplies; what stands between them says which rows each is of. Where a piece is not understood whole, the
sentence says nothing, and the rows are asked about as if it were not there.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Mapping, Sequence, Set
from itertools import pairwise
from typing import TYPE_CHECKING

from batch.intake.beside_the_heaters import supplies_a_part
from batch.intake.facts import Fact
from batch.intake.grid import Grid, worded
from batch.intake.groups_named import CZECH, GroupsNamed, Named, Rows, letters_behind
from batch.intake.line_kinds import DATA, DOUBT, HIDDEN, Line, StatedSupply, supply_in
from batch.intake.list_supply import ALL_HEATERS, EXCEPT, NOT_THE_HEATERS, PAIR, UNLESS, for_all, leaves_open, of_before
from batch.intake.list_words import heater_word, other_equipment
from batch.intake.note_numbers import number_of_note
from batch.intake.plan import ListPlan
from batch.intake.rows_named import EXCEPTED
from batch.intake.sentence_words import saying
from batch.intake.supply_notation import read_supply, supply_in_text
from batch.intake.texts_beside import cell_of

if TYPE_CHECKING:
    from batch.intake.study import Studied

TITLE = 5  # words of a line above a list that is its title: judgement, no source
APART = 4  # signs between the volts and the phases of one supply: "415 V, 3 Ph, 50 Hz"
OF_A_SUPPLY = frozenset({"volts", "pair", "phases", "hertz"})
WIDE = re.compile(
    r"\b(?:every\s?thing|alles|tout|todo|tutto|wszystko|tudo|allt|v[šs]e|unless|tenzij|sauf|salvo|sofern|soweit)\b", re.IGNORECASE
)
_AND = r"\b(?:and|but|und|aber|et|mais|y|pero|ed|e|ma|maar|ale|mas|og|men|och|avšak)\b(?=\s)"
_SIGN = rf"[,;.–—]|\s-\s|{_AND}|{EXCEPT.pattern}"
SIGN = re.compile(_SIGN, re.IGNORECASE)
FIRST_SIGN = re.compile(rf"\s*(?:{_SIGN})", re.IGNORECASE)
LAST_SIGN = re.compile(r"(?:[,;.]|\b(?:and|und|et|y|e|en|i|og|och|a)\b)\s*\Z", re.IGNORECASE)
LED_ON = re.compile(
    r"\s*(?:[:=(]|\b(?:for|in|at|on|f[üu]r|an|bei|pour|aux?|en|para|a|per|nelle?|voor|bij|dla|w|em|nos?|nas?|til|till|i|på|för|pro|ve?)\b)",
    re.IGNORECASE,
)
IN_BRACKETS = re.compile(rf"\s*\([^()]*\)\s*(?:[,;.]|{_AND})?\s*\Z", re.IGNORECASE)
SET_OFF = re.compile(
    r"(?:[,:;=)–—-]|\b(?:are|is|at|on|get|run|have|sind|haben|mit|an|sont|[àa]|son|a|con|en|sono|zijn|op|met|s[ąa]|na|s[ãa]o|er|p[åa]|[äa]r|jsou))\s*\Z",
    re.IGNORECASE,
)
OF_A_TANK = re.compile(r"\d{1,2}\s+(?=[1-6]\d\d\s*V)", re.IGNORECASE)
OTHERS = re.compile(
    r"\b(?:others?|rest|remaining|remainder|else|otherwise|[üu]brige\w*|restliche\w*|andere\w*|sonst\w*|autres?|reste|sinon|dem[áa]s|resto|restantes"
    r"|altr[ieoa]|rimanenti|overige\w*|rest\w*|pozosta[łl]\w*|inne|outr[oa]s|[øo]vrig\w*|andre|andra|ostatn[ií]\w*|zbyl\w*|jinak)\b",
    re.IGNORECASE,
)


def supply_of_groups(plan: ListPlan, grid: Grid, texts: Sequence[tuple[int, int, str]], *, sheet: str = "") -> Set[int]:
    """Volts and phases that sentences give for some rows and for the others, each where the row does not say it; the rows, by their index.

    texts   row and column from 0, and the words
    sheet   the sheet that they stand on, where it is another than the table's
    """
    rows = _rows(plan, grid, texts, sheet)
    if rows is None:
        return set()
    told: dict[int, set[StatedSupply]] = {}
    why: dict[StatedSupply, str] = {}
    for row, column, text in texts:
        place = cell_of(row, column)
        groups = told_of_groups(text, rows) or told_of_referring(text, rows)
        if groups:
            plan.tags = {**letters_behind(text, list(rows.tags.values())), **plan.tags}
        for line, supply in groups.items():
            told.setdefault(line, set()).add(supply)
            why.setdefault(supply, f'"{text[:80]}" in {place}{f" of sheet {sheet}" if sheet else ""}')
            for key in [key for key in ("volts_v", "phases") if plan.why.get(f"fixed.{key}", "").endswith(f'" in {place}')]:
                del plan.fixed[key], plan.why[f"fixed.{key}"]  # taken for all, though it says it of some
    settled = {line: next(iter(some)) for line, some in sorted(told.items()) if len(some) == 1}
    if settled:
        put_supplies(plan, rows.all, settled, why)
    return settled.keys()


def _rows(plan: ListPlan, grid: Grid, texts: Sequence[tuple[int, int, str]], sheet: str = "") -> Rows | None:
    """The rows of a list as words may name them; None where its tanks are not in one column, or a person's map reads it."""
    tank = plan.columns.get("tank")
    if plan.given or plan.free or tank is None or tank.parts:
        return None
    top = min(plan.heading_rows, default=plan.first_row) - 1
    titles = [text for row, _, text in texts if row < top and len(text.split()) <= TITLE and not sheet]
    return Rows(plan, grid, tank.index, [grid.name, *titles])


def of_no_one_row(plan: ListPlan, grid: Grid, texts: Sequence[tuple[int, int, str]]) -> list[tuple[int, int, str]]:
    """The texts without those that name the supply of one row, or a few, and of no others: "Stage 9 heater 240 V, 1 phase"."""
    rows = _rows(plan, grid, texts)
    if rows is None:
        return list(texts)
    told = {text: (told_of_groups(text, rows) or told_of_referring(text, rows)).keys() for _, _, text in texts if supply_in(text)}
    return [one for one in texts if not told.get(one[2]) or 2 * len(told[one[2]]) > len(rows.all)]


def told_of_referring(text: str, rows: Rows) -> dict[int, StatedSupply]:
    """The one supply of a numbered note, for the rows that refer to it: "2. 240 V, 1 phase", of "see note 2"."""
    number = number_of_note(text)
    groups = supplies_placed(text) if number and not for_all(text) else []
    if len(groups) != 1 or other_equipment(text) or leaves_open(text) or supplies_a_part(text):
        return {}
    reader = GroupsNamed(rows, czech=bool(CZECH.search(text)))
    (start, end, supply) = groups[0]
    named = reader.read(f"{text[:start]} {text[end:]}")
    return dict.fromkeys(rows.of_note(number), supply) if named is None or not named.names else {}


def supply_of_cover(one: Studied, texts: Sequence[tuple[int, int, str]], sheet: str) -> None:
    """What a cover says of the supply of some rows of a list that was read already, where they do not say it themselves."""
    told = supply_of_groups(one.plan, one.grid, texts, sheet=sheet)
    of_all = not (told and PAIR & one.plan.fixed.keys()) and _supply_of_all(one, texts, sheet, told)  # of those that no note tells of
    if not told and not of_all:
        return
    for line in one.lines:
        if PAIR & line.facts.keys() or line.kind not in (DATA, DOUBT, HIDDEN):
            continue  # a row that says one of the two has a supply of its own
        said = one.plan.row_supply.get(line.index + 1) or {key: value for key, value in one.plan.fixed.items() if key in PAIR}
        line.facts.update({key: Fact(value, -1, worded(value), source="fixed") for key, value in said.items()})


def _supply_of_all(one: Studied, texts: Sequence[tuple[int, int, str]], sheet: str, told: Set[int]) -> bool:
    """The one supply that a cover gives for all heaters, of a list that says nothing of volts or phases itself, or has rows whose cells of
    them are blank; was there one? `told`: the rows that it tells of by themselves, by their index."""
    plan, before = one.plan, one.plan.why.get("fixed.volts_v", "")
    of_cover = " of sheet " in before
    own = PAIR & plan.fixed.keys() and not of_cover
    if PAIR & plan.columns.keys():
        own = own or of_cover or all(PAIR & line.facts.keys() for line in one.lines if line.kind in (DATA, DOUBT, HIDDEN))
    if own or plan.row_supply.keys() - {index + 1 for index in told} or plan.when or plan.given or plan.also or plan.free:
        return False
    said_of_all = UNLESS if PAIR & plan.columns.keys() else ALL_HEATERS  # beside a column of it: "unless stated otherwise"
    wide = [(cell_of(row, column), text) for row, column, text in texts if said_of_all.search(text)]
    about = [(place, text) for place, text in wide if heater_word(text) or WIDE.search(text)]
    said = {supply: (place, text) for place, text in about if (supply := _whole_supply(text)) is not None}
    if len(said) != 1 or any(supply_in_text(text) is not None and _whole_supply(text) is None for _, text in about):
        return False
    [(supply, (place, text))] = said.items()
    if of_cover and (supply.volts, supply.phases) != (plan.fixed_volts, plan.fixed_phases):
        for line in one.lines:
            if line.kind == DATA and any(fact.source == "fixed" for key, fact in line.facts.items() if key in PAIR):
                line.kind, line.why = DOUBT, f'"{text[:60]}" in {place} of sheet {sheet}, beside {before[:80]},'
    if of_cover:
        return False
    plan.fixed_volts, plan.fixed_phases = supply.volts, supply.phases
    for key, value in (("volts_v", supply.volts), ("phases", supply.phases)):
        plan.fixed[key], plan.why[f"fixed.{key}"] = value, f'"{text[:80]}" in {place} of sheet {sheet}'
    return True


def _whole_supply(text: str) -> StatedSupply | None:
    """The supply of a sentence that names one, volts and phases, and leaves nothing open; None of any other."""
    supply, full = supply_in(text), supply_in_text(text)
    unsure = other_equipment(text) or leaves_open(text) or supplies_a_part(text)
    of_others = NOT_THE_HEATERS.search(text) and not heater_word(text)
    if supply is None or supply.volts is None or supply.phases is None or full is None or full.contradictions or unsure or of_others:
        return None
    return supply


def put_supplies(plan: ListPlan, every: Set[int], told: Mapping[int, StatedSupply], why: Mapping[StatedSupply, str]) -> None:
    """Into the plan: what most rows have where every row is told of, and what each of the others has."""
    usual = Counter(told.values()).most_common(1)[0][0] if told and told.keys() == every else None
    plan.when = [each for each in plan.when if each.key not in PAIR]  # by phases, which the rows do not say
    if usual is not None and not PAIR & plan.fixed.keys():
        plan.fixed_volts, plan.fixed_phases = usual.volts, usual.phases
        for key, value in (("volts_v", usual.volts), ("phases", usual.phases)):
            if value is not None:
                plan.fixed[key], plan.why[f"fixed.{key}"] = value, why[usual]
    for line, supply in told.items():
        if supply != usual:
            pair = {"volts_v": supply.volts, "phases": supply.phases}
            plan.row_supply[line + 1] = {key: value for key, value in pair.items() if value is not None}
            plan.row_supply_why[line + 1] = why[supply]


def asked_by_groups(plan: ListPlan, lines: Sequence[Line], named: Set[int]) -> None:
    """Puts the rows in doubt that stand with other volts or phases than a sentence gives them: "all 480 V except T-3, which is 240 V".
    `named`: the rows that sentences tell of, by their index."""
    for line in lines if not plan.given else ():
        told = plan.row_supply.get(line.index + 1, {}) if line.index in named else {}
        other = tuple(key for key, value in told.items() if isinstance(own := line.value(key), float | int) and own != value)
        if line.kind == DATA and other:
            line.kind, line.why, line.open = DOUBT, plan.row_supply_why[line.index + 1], other


def told_of_groups(text: str, rows: Rows) -> dict[int, StatedSupply] | None:
    """The supplies that a sentence gives for groups of rows; None where it gives none, or is not understood whole."""
    text = EXCEPTED.sub(lambda match: _as_a_tank(match, rows), text)
    groups = supplies_placed(text)
    if not groups or other_equipment(text) or of_before(text) or supplies_a_part(text):
        return None
    if NOT_THE_HEATERS.search(text) and not heater_word(text):
        return None
    pieces = _pieces(text, [(start, end) for start, end, _ in groups], rows)
    if pieces is None or not any(one.names or one.minus for one in pieces):
        return None
    ranked: dict[int, tuple[int, StatedSupply | None]] = {}
    others: tuple[StatedSupply, set[int]] | None = None
    for at, (one, (_, _, supply)) in enumerate(zip(pieces, groups, strict=True)):
        for row, rank in one.rows.items():
            before = ranked.get(row)
            if before is None or before[0] < rank:
                ranked[row] = rank, supply
            elif before[0] == rank and before[1] != supply:
                ranked[row] = rank, None  # said to be of both
        if not one.names:
            if others is not None or (at and not one.of_others):
                return None  # whose it is is not said
            others = supply, one.minus
    told: dict[int, StatedSupply | None] = dict.fromkeys(rows.all - others[1], others[0]) if others is not None else {}
    told |= {row: supply for row, (_, supply) in ranked.items()}
    return {row: supply for row, supply in told.items() if supply is not None}


def _as_a_tank(match: re.Match[str], rows: Rows) -> str:
    """ "All 480 V except 480, which is 240 V": a bare number behind it that is a tank's tag is that tank."""
    number = match["number"]
    return f"{match[0].removesuffix(number)}tank {number}" if rows.of_number(int(number)) else match[0]


def supplies_placed(text: str) -> list[tuple[int, int, StatedSupply]]:
    """Every supply of a text with its place; [] where one of them is not sure."""
    said = supply_in_text(text)
    spans = sorted((start, end) for fact, start, end in said.spans if fact in OF_A_SUPPLY) if said is not None else []
    places: list[tuple[int, int]] = []
    for start, end in spans:
        if places and start - places[-1][1] <= APART and not any(sign.isalnum() for sign in text[places[-1][1] : start]):
            places[-1] = places[-1][0], max(end, places[-1][1])
        else:
            places.append((start, end))
    found = []
    for start, end in places:
        if (number := OF_A_TANK.match(text, start)) is not None:  # "tank 7 230 V" is no 7,230 V
            start = number.end()
        alone = text[start:end].rstrip(" .,;")
        supply = _supply(alone.lstrip(" .,;"))
        if supply is None:
            return []
        found.append((start, start + len(alone), supply))
    return found


def _supply(text: str) -> StatedSupply | None:
    said = supply_in(text)
    if said is None and (alone := read_supply(text)) is not None and alone.sure and alone.current != "DC":
        paired = alone.volts_to_neutral is not None and alone.phases != 3
        said = StatedSupply(alone.volts, alone.phases) if alone.phases in (1, 3) and not paired else None
    return said if said is not None and said.volts is not None else None


def _pieces(text: str, places: Sequence[tuple[int, int]], rows: Rows) -> list[Named] | None:
    """What is named beside each supply, before it or behind it; None where that is not sure."""
    reader = GroupsNamed(rows, czech=bool(CZECH.search(text)))
    before, behind = [text[: places[0][0]]], []
    for (_, end), (start, _) in pairwise(places):
        sides = _sides(text[end:start], reader)
        if sides is None:
            return None
        behind.append(sides[0])
        before.append(sides[1])
    last = text[places[-1][1] :]
    stray = FIRST_SIGN.match(last) and not EXCEPT.search(last) and not IN_BRACKETS.match(last)
    if stray and (named := reader.read(last)) is not None and named.names:
        return None
    behind.append("" if stray else last)
    found = []
    for at, (this, that) in enumerate(zip(before, behind, strict=True)):
        one, other = reader.read(this), reader.read(that)
        if one is None or other is None:
            return None
        minus: set[int] = set()
        of_these = (but := EXCEPT.search(this)) and (saying("which_is").search(this, but.end()) or this.rstrip().endswith("("))
        if at == 0 and one.names and but and not of_these:  # "all but T-3: 240 V", and not "all but T-3, which is 240 V"
            if not SET_OFF.search(this):
                return None  # "all but T-3 now 240 V"
            minus, one = minus | one.rows.keys(), Named()
        if other.names and EXCEPT.search(that):
            minus, other = minus | other.rows.keys(), Named()
        if one.names and other.names:
            return None
        named = other if other.names else one
        named.minus = minus
        named.of_others = bool(OTHERS.search(this) or OTHERS.search(that))
        found.append(named)
    return found


def _sides(piece: str, reader: GroupsNamed) -> tuple[str, str] | None:
    """What stands between two supplies, as what belongs to the first and what to the second; None where that is not sure."""
    named = reader.read(piece)
    if named is not None and not named.names:
        return "", piece
    if IN_BRACKETS.match(piece):
        return piece, ""
    if LED_ON.match(piece):  # "400 V in T-1 to T-6, 230 V in T-7"; the Dutch "en" and the Norwegian "i" lead on too
        ambiguous = re.match(r"\s*(?:en|i|a)\b", piece, re.IGNORECASE)
        return (piece, "") if LAST_SIGN.search(piece) else ("", piece) if ambiguous else None
    if FIRST_SIGN.match(piece):
        return "", piece
    sign = SIGN.search(piece)
    first = piece[: sign.start()] if sign is not None else piece
    some = reader.read(first)
    if some is not None and not some.names:
        return first, piece[len(first) :]
    return (piece, "") if LAST_SIGN.search(piece) else None
