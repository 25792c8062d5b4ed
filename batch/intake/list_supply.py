"""Volts and phases that sentences beside a list give for its heaters: for all of them, or for each kind."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

from batch.intake.beside_the_heaters import supplies_a_part
from batch.intake.cell_profiles import broken
from batch.intake.changes_told import FORMER_CLAUSE
from batch.intake.line_kinds import StatedSupply, supplies_in, supply_beside
from batch.intake.list_words import heater_word, hits, old_word, other_equipment
from batch.intake.plan import ListPlan, When
from batch.intake.remark_words import read_row_words
from batch.intake.sheath_words import sheaths_in
from batch.intake.supply_notation import supply_in_text
from batch.intake.survey import Region
from batch.intake.texts_beside import cell_of
from batch.intake.vocabulary import vocabulary

PAIR = frozenset({"volts_v", "phases"})
A_TAG = re.compile(r"\b(?!316|304|321|347|NEMA|IEC|UL|IP|SS)[A-Z]{1,4}[- ]?\d{1,4}[A-Z]?\b")  # of a tank, and no grade of steel
LONGEST = 80  # letters of a sentence that is quoted
_UNLESS = (
    r"unless|tenzij|sauf|salvo|sofern|soweit|o ile nie|chyba [zż]e|exce[pt]to|medmindre|med mindre|om inte|om ikke|pokud nen[ií]"
)
UNLESS = re.compile(rf"\b(?:{_UNLESS})\b", re.IGNORECASE)  # the row says otherwise
ALL_HEATERS = re.compile(
    rf"\b(all|{_UNLESS}|typ(?:ical)?|every|everything|each|alle|tous|toutes|tod[oa]s?|tutt[ie]|wszystkie)\b", re.IGNORECASE
)
EVERYTHING = re.compile(
    r"\b(?:everything|all (?:loads|circuits|of it)) (?:on|in|from|at) (?:this|the) (?:panel|sheet|line|list)\b", re.IGNORECASE
)
NOT_THE_HEATERS = re.compile(
    r"\b(plant|incoming|feeder|panel(?:board)?|main|service|transformer|mcc|source|pump|rectifier|control|utility|building|site)s?\b",
    re.IGNORECASE,
)
# A title, "BUILDING 3 - 240 V"
OF_A_PLACE = re.compile(r"\W*(?:building|bldg|plant|site)\s*(?:no\.?|#)?\s*[A-Z0-9]{1,3}\s*[-–—:,(/|]", re.IGNORECASE)
OF_OTHERS = re.compile(r"\b(?:pump|blower|fan|rectifier|control|lighting|instrument|transformer|primary|secondary)s?\b", re.IGNORECASE)
OF_A_POWER = re.compile(r"\b(?:all|every|each)\s+\d+(?:[.,]\d+)?\s*k?W\b", re.IGNORECASE)  # "all 9 kW: 480 V" is not of the others
POWERED = re.compile(r"\d\s*k?W\b", re.IGNORECASE)  # "all 9 kW heaters" are not all
EXCEPT = re.compile(
    r"\b(?:except\w*|excluding|apart from|other than|au(?:ß|ss)er|ausgenommen|sauf|except[ée]|hormis|excepto|salvo|menos|eccetto|tranne"
    r"|behalve|uitgezonderd|opr[óo]cz|z wyj[ąa]tkiem|poza|exceto|undtagen|undtaget|unntatt|utom|f[öo]rutom|krom[ěe]|vyjma)\b",
    re.IGNORECASE,
)

EXCEPT_ONE = re.compile(  # "except tank 4, which is"
    rf"{EXCEPT.pattern}\s*:?\s+(?:[^\W\d_]+\.?\s+)?(?:[A-Z]{{1,4}}[-. ]?)?\d", re.IGNORECASE
)
WHERE_BLANK = re.compile(
    r"\b(?:where|if|when)\b.{0,40}\b(?:empty|blank|nothing|not (?:given|stated|filled|shown))|\bunless (?:given|stated|shown|noted)\b"
    r"|\b(?:wo|wenn)\b.{0,40}\b(?:leer|nichts)\b|\bsi\b.{0,30}\bvide\b|\bsi\b.{0,30}\b(?:vac[ií][ao]|en blanco)\b"
    r"|\bse\b.{0,30}\b(?:vuot[ao]|vazi[ao])\b"
    r"|\b(?:waar|als|indien)\b.{0,40}\bleeg\b|\bgdzie\b.{0,40}\bpust",
    re.IGNORECASE,
)
FEEDER = re.compile(r"\b(?:on|from|by|fed from)\s+(?:feeder|panel|mcc)\s+([A-Z][\w-]*\d*[\w-]*)", re.IGNORECASE)


def fix_supply(plan: ListPlan, region: Region, around: Sequence[tuple[int, int, str]], last: int | None = None) -> None:
    """Volts and phases that a sentence gives for all heaters, where there is no column of them. `last`: the last row of the table's own,
    from 0; what stands alone below it is beside the table, and not in it."""
    last = region.end if last is None else last
    said: dict[str, set[float]] = {"volts_v": set(), "phases": set()}
    cells: dict[str, tuple[int, int, str]] = {}
    for row, column, text in around:
        supply = supply_beside(text)
        inside = region.start <= row <= last
        others = (NOT_THE_HEATERS.search(text) or other_equipment(text)) and not EVERYTHING.search(text)
        others = others and not (row < region.top and OF_A_PLACE.match(text))
        if row > last and POWERED.search(text) and not for_all(text):
            continue  # "Also 1 off 4kW 240V single phase heater" is about that one
        if supplies_a_part(text):
            continue  # "All thermostats 120 V"
        if (but := EXCEPT_ONE.search(text)) is not None and supply_beside(text[: but.start()]) is None:
            continue  # "all tanks except 103, which is 240 V": of that one
        if supply is None or (others and not heater_word(text)) or (OF_A_POWER.search(text) and "volts_v" not in plan.columns):
            continue
        if not (heater_word(text) or for_all(text) or (row < region.top and len(text) < 60)) or (inside and not ALL_HEATERS.search(text)):
            continue
        for key, value in (("volts_v", supply.volts), ("phases", supply.phases)):
            if value is not None:
                said[key].add(value)
                cells.setdefault(key, (row, column, text))
    if len(said["volts_v"]) == 1 and len(said["phases"]) == 1:
        plan.fixed_phases = int(next(iter(said["phases"])))
    for key, values in said.items():
        if len(values) == 1 and (key not in plan.columns or for_all(cells[key][2])):
            row, column, text = cells[key]
            plan.fixed[key] = next(iter(values))
            if key == "phases" and len(said["volts_v"]) == 1:
                plan.fixed_volts = next(iter(said["volts_v"]))
            plan.why[f"fixed.{key}"] = f'"{text[:80]}" in {cell_of(row, column)}'
    for key in PAIR & plan.columns.keys() & plan.fixed.keys():
        at = plan.columns[key].index
        under = [row[at] for row in region.grid.rows[region.start : last + 1] if at < len(row) and row[at] not in ("", None)]
        if under and all(broken(cell) for cell in under):  # a column whose links are all lost says nothing against the sentence
            del plan.columns[key]
    if not PAIR & (plan.columns.keys() | plan.fixed.keys()):
        _only_supply(plan, region, around, last)


def _only_supply(plan: ListPlan, region: Region, around: Sequence[tuple[int, int, str]], last: int) -> None:
    """Of a list without volts of its own the one supply that is named beside it, though as the plant's, or below: taken for all."""
    told: dict[StatedSupply, tuple[int, int, str]] = {}
    for row, column, text in around:
        if region.start <= row <= last or (full := supply_in_text(text)) is None or OF_OTHERS.search(text):
            continue
        if supplies_a_part(text):
            continue
        supply = supply_beside(text)
        if supply is None or supply.volts is None or supply.phases is None or full.contradictions or leaves_open(text):
            return  # volts that are not sure, or not of all: what the heaters have is asked
        told.setdefault(supply, (row, column, text))
    if len(told) == 1:
        [(supply, (row, column, text))] = told.items()
        plan.fixed_volts, plan.fixed_phases = supply.volts, supply.phases
        for key, value in (("volts_v", supply.volts), ("phases", supply.phases)):
            plan.fixed[key] = value
            plan.why[f"fixed.{key}"] = f'"{text[:80]}" in {cell_of(row, column)}, the only supply beside the list'


def leaves_open(text: str) -> bool:
    """Does a sentence leave open whether its supply is that of all heaters: does it ask, is it of heaters of a power, of all but some?"""
    return bool(of_before(text) or POWERED.search(text) or EXCEPT.search(text))


def of_before(text: str) -> bool:
    """Does a sentence ask, or speak of what was, or is to go?"""
    return bool("?" in text or read_row_words(text).fate or old_word(text) or FORMER_CLAUSE.search(text))


def supply_by_phases(plan: ListPlan, region: Region, around: Sequence[tuple[int, int, str]]) -> None:
    """Volts of each kind of heaters, told beside the list: "three-phase heaters are 400 V; single-phase heaters 230 V"."""
    told: dict[int, set[float]] = {}
    cells: dict[int, tuple[int, int, str]] = {}
    for row, column, text in around:
        if row >= region.start and not for_all(text):
            continue
        for supply in supplies_in(text):
            if supply.volts is not None and supply.phases is not None:
                told.setdefault(supply.phases, set()).add(supply.volts)
                cells.setdefault(supply.phases, (row, column, text))
    if len(told) < 2 or any(len(volts) > 1 for volts in told.values()):
        return
    for key in ("volts_v", "phases"):
        if key in plan.columns:
            continue
        plan.fixed.pop(key, None)
        for phases, (volts,) in ((phases, tuple(volts)) for phases, volts in told.items()):
            row, column, text = cells[phases]
            pair = {"volts_v": volts, "phases": phases}
            (other,) = pair.keys() - {key}
            if key == "phases" and len({next(iter(volts)) for volts in told.values()}) < len(told):
                continue  # of volts that both kinds have, nothing follows
            plan.when.append(When(key, pair[key], ((other, pair[other]),), f'"{text[:80]}" in {cell_of(row, column)}'))


def said_for_all(plan: ListPlan, around: Sequence[tuple[int, int, str]]) -> None:
    """What sentences say of all heaters beside their supply."""
    feeder_for_all(plan, around)
    sheath_for_all(plan, around)


def feeder_for_all(plan: ListPlan, around: Sequence[tuple[int, int, str]]) -> None:
    """The feeder that a title gives for all heaters: "all on feeder F-S unless noted"."""
    said = {match[1]: (row, column, text) for row, column, text in around if (match := FEEDER.search(text)) is not None and for_all(text)}
    if len(said) == 1 and "feeder" not in plan.fixed:
        (name, (row, column, text)) = next(iter(said.items()))
        plan.fixed["feeder"] = name
        plan.why["fixed.feeder"] = f'"{text[:80]}" in {cell_of(row, column)}'


def for_all(text: str) -> bool:
    """Does a sentence speak of all, or of all but those that say otherwise?"""
    if ALL_HEATERS.search(text) or WHERE_BLANK.search(text):
        return True
    return any(hit.word in ("unless", "except") or hit.language != "en" for hit in hits("instead", text))


def sheath_for_all(plan: ListPlan, around: Iterable[tuple[int, int, str]]) -> None:
    """The sheath of all heaters whose rows say none, where one note says it of all and no other contradicts.

    "2. Titanium sheath" alone may be what the rows with that number have, and is asked about.
    """
    said: dict[str, str] = {}
    for row, column, text in around:
        of_some = A_TAG.search(text) or EXCEPT.search(text) or "?" in text
        if of_some or not ALL_HEATERS.search(text) or not vocabulary()["sheathed"].find(text):
            continue
        found, _ = sheaths_in(text, text)
        names = {text[hit.start : hit.end].strip() for hit in found}
        said |= dict.fromkeys(names, f'"{text[:LONGEST]}" in {cell_of(row, column)}')
    if len(said) == 1 and "sheath" not in plan.fixed:
        [(plan.fixed["sheath"], plan.why["fixed.sheath"])] = said.items()
