"""Supplies told by the size of a heater: "under 4 kW 230 V 1-phase, all others 400 V 3-phase". Used once it is known what a power is of.

A sentence is taken apart at its supplies and at the sizes that it names. Where a size stands beside two supplies, or one supply beside
two sizes, or anything else in the sentence is not understood, it says nothing, and the rows are asked about as if it were not there.
"""

from __future__ import annotations

import re
from collections.abc import Sequence, Set
from functools import lru_cache
from typing import TYPE_CHECKING, NamedTuple

from batch.intake.changes_told import FORMER_CLAUSE
from batch.intake.facts import Fact
from batch.intake.grid import worded
from batch.intake.groups_named import LEFT_OVER, NUMBER_OF_NOTE
from batch.intake.heading_sense import EACH
from batch.intake.line_kinds import DATA, DOUBT, HIDDEN, Line, StatedSupply, supplies_in
from batch.intake.list_words import heater_word, hits, old_word, other_equipment
from batch.intake.numbers import speak
from batch.intake.plan import ListPlan
from batch.intake.remark_words import read_row_words
from batch.intake.supply_groups import EXCEPT, OTHERS, PAIR, SIGN, put_supplies, supplies_placed, supply_of_cover
from batch.intake.texts_beside import cell_of
from batch.intake.verdict import Verdict

if TYPE_CHECKING:
    from batch.intake.study import Studied

BELOW, UP_TO, ABOVE, FROM, EXACTLY = "below", "up to", "above", "from", "exactly"
NOWHERE: Set[int] = frozenset()
SAME = 0.001  # of a power
_BELOW = (
    r"under|below|less than|smaller than|lower than|unter|unterhalb(?: von)?|weniger als|kleiner(?: als)?|moins de|inf[ée]rieure?s? [àa]"
    r"|menos de|inferior(?:es)? a|menor(?:es)? (?:de|que|a)|meno di|inferior[ei] a|sotto(?: i)?|minder dan|kleiner dan|onder(?: de)?"
    r"|mniej ni[żz]|poni[żz]ej|abaixo de|mindre [äe]nn?(?: end)?|mindre end|m[ée]n[ěe] ne[žz]|pod|<(?!=)"
)
_UP_TO = (
    r"up to(?: and including)?|to a maximum of|at most|no more than|bis(?: zu| einschlie(?:ß|ss)lich)?|h[öo]chstens|jusqu['’][àa]|hasta"
    r"|fino a|tot(?: en met)?|t/m|do|at[ée]|op til(?: og med)?|opp til(?: og med)?|upp till(?: och med)?|till och med|til og med|≤|<="
)
_ABOVE = (
    r"over|above|more than|larger than|bigger than|greater than|exceeding|[üu]ber|oberhalb(?: von)?|mehr als|gr[öo](?:ß|ss)er(?: als)?"
    r"|plus de|sup[ée]rieure?s? [àa]|au[- ]dessus de|m[áa]s de|mayor(?:es)? (?:de|que|a)|superior(?:es)? a|oltre(?: i)?|superior[ei] a"
    r"|sopra(?: i)?|boven(?: de)?|meer dan|groter dan|powy[żz]ej|wi[ęe]cej ni[żz]|mais de|acima de|maior(?:es)? (?:de|que)|mere end"
    r"|st[øo]rre end|[öo]ver|st[öo]rre [äe]n|st[øo]rre enn|nad|v[íi]ce ne[žz]|>(?!=)"
)
_FROM = r"from|at least|not less than|ab|mindestens|[àa] partir de|a partir de|desde|da|vanaf|od|fra|fr[åa]n|a partire da|≥|>="
_OR = r"(?:and|or|und|oder|et|ou|y|o|e|en|of|i|lub|och|eller|og|a|nebo)"
_LESS = (
    r"(?:under|below|less|smaller|kleiner|darunter|weniger|moins|menos|menores|menor|meno|inferiori|minder|kleinere?|mniej|mindre"
    r"|derunder|m[ée]n[ěe])"
)
_MORE = (
    r"(?:up(?:wards?)?|over|above|more|larger|bigger|gr[öo](?:ß|ss)ere?|dar[üu]ber|mehr|plus|m[áa]s|mayores|mayor|oltre|pi[ùu]"
    r"|superiori|meer|groter|wi[ęe]cej|mais|maiores|mer|st[öo]rre|st[øo]rre|derover|opp|v[íi]ce)"
)


def _number(at: int) -> str:
    return rf"(?P<n{at}>\d{{1,4}}(?:[.,]\d{{1,3}})?)\s*(?P<unit{at}>k\s?W|W)(?![\w²/])"


_ITEMS = r"(?:immersion |bath |tank )?(?:heaters?|htrs?|elements?|units?|ones)"
SIZE = re.compile(
    rf"(?:\b|(?<=[\s(]))(?:(?P<below>{_BELOW})|(?P<upto>{_UP_TO})|(?P<above>{_ABOVE})|(?P<from>{_FROM}))\s*{_number(1)}"
    rf"(?:\s*,?\s*{_OR}\s+(?:(?P<less>{_LESS})|(?P<more>{_MORE}))\b)?"
    rf"|{_number(2)}\s*(?:{_ITEMS}\s*)?,?\s*{_OR}\s+(?:(?P<less2>{_LESS})|(?P<more2>{_MORE}))\b"
    rf"|(?:\bthe|\ball|\bany|\beach|\bdie|\balle|\bles|\blos|\blas|\btodos los|\bi|\bde|\bas|\bos)\s+"
    rf"{_number(3)}\s*[-–]?\s*(?:{_ITEMS}|(?P<noun>[^\W\d_]{{3,}}))"
    rf"|\b(?P<noun4>[^\W\d_]{{5,}})\s+(?:of|de|mit|à|da|van|o mocy|på|om|av|af)\s+{_number(4)}"
    rf"(?:\s*,?\s*{_OR}\s+(?:(?P<less4>{_LESS})|(?P<more4>{_MORE}))\b)?",
    re.IGNORECASE,
)
POWER = re.compile(r"\d\s*k?\s?W\b", re.IGNORECASE)
OF_MORE_THAN_ONE = re.compile(r"\b(?:total|tanks?|banks?|per tank|groups?|connected load|sum|zusammen|gesamt\w*|ensemble)\b", re.IGNORECASE)
NOT_OF_ALL = re.compile(
    r"\b(?:control\w*|pumps?|rectifiers?|motors?|transformers?|lighting|receptacles?|steuer\w*|commande|mando|comando)\b", re.IGNORECASE
)
SENTENCES = re.compile(r"(?<=[^\d\W][.;!])\s+|(?<=\d[.;!])\s+(?=[A-ZÅÄÖÉ])|\n")


class SizeRule(NamedTuple):
    """The supply of heaters of some size; of all others where `how` is ""."""

    how: str
    power_kw: float
    supply: StatedSupply
    why: str

    def holds(self, power: float) -> bool:
        near = abs(power - self.power_kw) <= SAME * self.power_kw
        if self.how == EXACTLY:
            return near
        if self.how in (BELOW, UP_TO):
            return (power < self.power_kw and not near) or (near and self.how == UP_TO)
        return (power > self.power_kw and not near) or (near and self.how == FROM)


def rules_by_size(texts: Sequence[tuple[int, int, str]], *, sheet: str = "") -> tuple[list[SizeRule], list[tuple[int, int, str]]]:
    """What sentences say of the supply by the size of a heater, and the texts that speak of no size."""
    found: list[SizeRule] = []
    rest: list[tuple[int, int, str]] = []
    for row, column, text in texts:
        rules = _rules(text, f'"{text[:80]}" in {cell_of(row, column)}{f" of sheet {sheet}" if sheet else ""}')
        found += [rule for rule in rules if rule not in found]
        if not rules and not (_sizes(text) and supplies_in(text)):
            rest.append((row, column, text))
    return found, rest


def supplies_of_cover(one: Studied, texts: Sequence[tuple[int, int, str]], sheet: str) -> None:
    """What a cover says of the supply of a list that was read already: of some rows, of all, of each size."""
    rules, others = rules_by_size(texts, sheet=sheet)
    supply_of_cover(one, others, sheet)
    supply_by_size(one.plan, one.lines, rules, one.verdict)


def supply_by_size(plan: ListPlan, lines: Sequence[Line], rules: Sequence[SizeRule], verdict: Verdict) -> None:
    """Into the rows that do not say their supply themselves, and into the plan: what their size tells of it."""
    if not rules or plan.given or plan.free or plan.also:
        return
    others = {rule.supply: rule.why for rule in rules if not rule.how}
    if len(others) > 1:
        return
    told: dict[int, StatedSupply] = {}
    why: dict[StatedSupply, str] = dict(others)
    rows = [line for line in lines if line.kind in (DATA, DOUBT, HIDDEN)]
    for line in rows:
        power = _of_one(plan, line, verdict)
        fitting = {rule.supply: rule.why for rule in rules if rule.how and power is not None and rule.holds(power)}
        some = fitting or (others if power is not None else {})
        if len(some) == 1:
            [(told[line.index], place)] = some.items()
            why.setdefault(told[line.index], place)
        if fitting or some or others:
            _without_what_all_have(line)
    if others:
        plan.fixed = {key: value for key, value in plan.fixed.items() if key not in PAIR}
    put_supplies(plan, NOWHERE if PAIR & plan.fixed.keys() else {line.index for line in rows}, told, why)
    for line in rows:
        said = told.get(line.index)
        if said is None:
            continue
        pair = {key: value for key, value in (("volts_v", said.volts), ("phases", said.phases)) if value is not None}
        own = {key: line.facts[key].value for key in PAIR if key in line.facts}
        if all(pair.get(key) == value for key, value in own.items()):
            line.facts.update({key: Fact(value, -1, worded(value), source="fixed") for key, value in pair.items() if key not in own})


def _without_what_all_have(line: Line) -> None:
    for key in PAIR:
        if key in line.facts and line.facts[key].source == "fixed":
            del line.facts[key]


def _of_one(plan: ListPlan, line: Line, verdict: Verdict) -> float | None:
    """The power of one heater of a row, where it is known what its power is of."""
    count, power, total = (line.figure(key) for key in ("quantity", "power_kw", "total_kw"))
    if power is None:
        return total / count if total and count else None
    basis = verdict.of_rows[line.index][0] if line.index in verdict.of_rows else plan.power
    if count == 1 or basis == EACH:
        return power
    return power / count if basis and count else None


def _rules(text: str, why: str) -> list[SizeRule]:
    """The rules of one text; [] where it has none, or is not understood whole."""
    sizes = _sizes(text)
    if not sizes or "?" in text or other_equipment(text) or read_row_words(text).fate or old_word(text) or FORMER_CLAUSE.search(text):
        return []
    masked = text
    for match in sizes:
        masked = masked[: match.start()] + "\x01" * (match.end() - match.start()) + masked[match.end() :]
    supplies = supplies_placed(masked)
    if not supplies or NOT_OF_ALL.search(masked) or not _nothing_else(masked, [(start, end) for start, end, _ in supplies]):
        return []
    if any(hits("per_tank", without_heaters(text))) or OF_MORE_THAN_ONE.search(without_heaters(masked)):
        return []
    owner = _owners(masked, sizes, supplies)
    if owner is None:
        return []
    found = []
    for at, (_, _, supply) in enumerate(supplies):
        mine = [match for match, its in zip(sizes, owner, strict=True) if its == at]
        if len(mine) > 1:
            return []
        said = _size(mine[0]) if mine else ("", 0.0)
        if said is None:
            return []
        found.append(SizeRule(*said, supply, why))
    alone = len(found) < 2 and any(rule.how == EXACTLY for rule in found)  # "9 kW heaters 480 V" may speak of some
    return found if sum(not rule.how for rule in found) < 2 and not alone else []


def without_heaters(text: str) -> str:
    """A text without its words for heaters: "tank heaters" says nothing of a tank's power."""
    for hit in reversed(hits("heaters", text)):
        text = f"{text[: hit.start]} {text[hit.end :]}"
    return text


@lru_cache(maxsize=4096)
def _sizes(text: str) -> tuple[re.Match[str], ...]:
    """The sizes of heaters that a text names."""
    if POWER.search(text) is None:
        return ()
    return tuple(match for match in SIZE.finditer(text) if all(heater_word(match[key]) for key in ("noun", "noun4") if match[key]))


def _owners(masked: str, sizes: Sequence[re.Match[str]], supplies: Sequence[tuple[int, int, StatedSupply]]) -> list[int] | None:
    """For each size the supply that is said of it; None where one of them could be of either of its neighbours."""
    found = []
    for match in sizes:
        before = max((at for at, (_, end, _) in enumerate(supplies) if end <= match.start()), default=None)
        behind = min((at for at, (start, _, _) in enumerate(supplies) if start >= match.end()), default=None)
        gaps = {}
        if before is not None:
            gaps[before] = masked[supplies[before][1] : match.start()]
        if behind is not None:
            gaps[behind] = masked[match.end() : supplies[behind][0]]
        free = {at: gap for at, gap in gaps.items() if "\x01" not in gap and not SENTENCES.search(gap)}
        linked = [at for at, gap in free.items() if not SIGN.search(gap)] or list(free)
        if before is not None and EXCEPT.search(gaps[before]):
            linked = [at for at in free if at == behind]
        if len(linked) == 2 and behind is not None and OTHERS.search(gaps[behind]):
            linked = [at for at in linked if at == before]
        if len(linked) != 1:
            return None
        found += linked
    return found


def _nothing_else(masked: str, places: Sequence[tuple[int, int]]) -> bool:
    """Do the sentences with a size or a supply name neither tanks nor other figures?"""
    bare = masked
    for start, end in places:
        bare = bare[:start] + "\x01" * (end - start) + bare[end:]
    number = NUMBER_OF_NOTE.match(bare)
    said = [sentence for sentence in SENTENCES.split(bare[number.end() :] if number is not None else bare) if "\x01" in sentence]
    return not any(LEFT_OVER.search(sentence) for sentence in said)


def _size(match: re.Match[str]) -> tuple[str, float] | None:
    number, unit = next((match[f"n{at}"], match[f"unit{at}"]) for at in "1234" if match[f"n{at}"])
    said = speak(number)
    if said is None or said.other is not None or said.value <= 0:
        return None
    power = said.value / (1.0 if unit.casefold().startswith("k") else 1000.0)
    ways = {
        BELOW: match["below"],
        UP_TO: match["upto"] or match["less2"] or match["less4"],
        ABOVE: match["above"],
        FROM: match["from"] or match["more2"] or match["more4"],
    }
    how = next((way for way, word in ways.items() if word), EXACTLY)
    if match["less"] or match["more"]:  # "under 4 kW or more" is no size
        return None
    return how, power
