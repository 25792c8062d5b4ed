"""Columns that nothing of ours is taken from, and that put rows in doubt all the same: revisions, what a tank is heated with, elements of a
heater; and rows that stand twice."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence

from batch.intake.columns_coded import asked_by_codes
from batch.intake.columns_marked import asked_by_marks
from batch.intake.columns_restated import asked_by_restated
from batch.intake.columns_to_come import asked_by_what_is_there
from batch.intake.counts_beside import asked_by_counts
from batch.intake.facts import figure
from batch.intake.figures_unread import asked_by_figures
from batch.intake.grid import worded
from batch.intake.heading_sense import concepts_of
from batch.intake.heading_words import OF_ISSUE
from batch.intake.heating_media import ELECTRIC, HEATED_BY, LETTERS
from batch.intake.legends import codes_explained
from batch.intake.line_kinds import BANNER, DATA, DOUBT, OUT, UNHEATED, Line
from batch.intake.list_columns import NEEDED
from batch.intake.list_words import ditto, hits, is_heater, of_changes, says_no_heat, says_yes_or_no
from batch.intake.one_a_line import NEW_POWER
from batch.intake.places_of_heaters import asked_by_places
from batch.intake.plan import ListPlan
from batch.intake.remarks_against import asked_by_remarks
from batch.intake.rows_unchanged import asked_by_unchanged
from batch.intake.strays import LOOSE, asked_by_strays
from batch.intake.survey import HeadingColumn, Region, flat
from batch.intake.tags import how_many, read_tags, typical
from batch.intake.thousands_or_not import asked_by_thousands
from batch.intake.verdict import close
from batch.intake.wanted_number import asked_by_wanted
from batch.intake.wording import words

# Of a revision: "A", "P2", "01", "Rev 3"
MARK = re.compile(r"(?:rev\.?\s*)?(?:[A-Z]{1,2}[-.]?\d{0,2}|\d{1,3}[A-Z]?)(?:\.\d{1,2})?", re.IGNORECASE)
UNHEATED_WORD = re.compile(  # cold and ambient may be what a bath is before it is heated
    r"heat|heiz|chauff|calef|calent|riscald|verwarm|ogrzew|grza|aquec|v[äa]rm|varme|oppvarm|opvarm|vyt[áa]p|oh[řr][ií]|[ıi]s[ıi]t",
    re.IGNORECASE,
)
ELEMENT = re.compile(r"\b[eé]l[eé]ment|heizst[aä]b|člán", re.IGNORECASE)
ELEMENTS = re.compile(  # how many of them: no length of an element, and no sentence about elements
    r"(?:(?:no|nos|nr|number|qty|quantity|anzahl|nombre|nb|n[°º]|n[úu]m(?:ero)?|cantidad|aantal|liczba|quantidade|antal|antall|počet|#)\.?\s*"
    r"(?:of|de|d'|di|der)?\s*)?[eé]l[eé]ment\w*\.?(?:\s*(?:per|par|por|pro|je|na|/|in each|each|in)\s*\w+\.?(?:\s\w+)?)?",
    re.IGNORECASE,
)
PER_PHASE = re.compile(r"(?:\b(?:per|par|pro|je|por|na|per ogni)\s+|/\s*)(?:phase|fase|faz[ęe]|fas|f[áa]zi)\b", re.IGNORECASE)
REVISED = re.compile(r"(?P<tag>.*\w)\s*[\s,(–-]\s*(?P<word>[^\W\d_]{3,12}\.?)(?:\s*(?:[A-Z]?\d{0,2}|\d{0,2}[A-Z]))?\)?", re.IGNORECASE)
BRACKETS = re.compile(r"\(([^()]+)\)")
BESIDE_IT = frozenset({"yes", "y", "x", "ja", "oui", "si", "sí", "sì", "tak", "new"})


def asked_by_unused(plan: ListPlan, lines: Sequence[Line], region: Region | None) -> None:
    """Puts in doubt the rows that such columns contradict. `lines`: those that nobody has answered for."""
    free = [column for column in region.columns if column.index not in plan.used()] if region is not None else []
    for column in free:
        if of_changes(column.text.strip()):
            _revised(lines, column)
    own = {column.index for key, column in plan.columns.items() if key not in ("description", "notes", "status", "feeder")}
    media = {one.index for one in region.columns if HEATED_BY.fullmatch(one.text.strip(" .:"))} if region is not None else set()
    explained = codes_explained(region.grid) if region is not None and media - own else {}
    for column in region.columns if region is not None else ():
        electric = column.index not in own and any(ELECTRIC.fullmatch(said) for said in _cells(lines, column.index).values())
        if electric and not of_changes(column.text.strip()):
            _heated_otherwise(lines, column)
        if column.index in media - own:
            _not_heated(lines, column, explained)
        elif column.index not in own:
            _called_unheated(lines, column)
    read = {plan.columns[key].index for key in (*NEEDED, "total_kw") if key in plan.columns}
    asked_by_marks([column for column in region.columns if column.index not in read] if region is not None else (), lines)
    if region is not None:
        asked_by_codes([column for column in region.columns if column.index not in read], lines, region.grid)
    _of_a_part(plan, lines, region.columns if region is not None else ())
    _there_already(plan, lines, region.columns if region is not None else ())
    _as_before(plan, lines, region.columns if region is not None else ())
    _written_twice(plan, lines)
    _of_several_tanks(plan, lines)
    asked_by_counts(plan, lines, region.columns if region is not None else (), region.grid if region is not None else None)
    _tags_revised(lines)
    asked_by_remarks(plan, lines)
    asked_by_unchanged(plan, lines, region)
    asked_by_thousands(plan, lines)
    asked_by_what_is_there(plan, lines, region)
    asked_by_figures(plan, lines, region.grid if region is not None else None)
    asked_by_places(plan, lines)
    asked_by_wanted(plan, lines)
    read_so = {key: column for key, column in plan.columns.items() if key not in LOOSE and not OF_ISSUE.search(column.heading)}
    tight = {column.index for column in read_so.values()}  # and not "Qty rev A", taken for amps
    asked_by_restated([column for column in region.columns if column.index not in tight] if region is not None else (), lines)
    asked_by_strays(plan, lines, region.columns if region is not None else ())


def _cells(lines: Sequence[Line], at: int) -> dict[int, str]:
    """What stands in a column, by the row's index; no dashes, no ditto marks."""
    said = {line.index: flat(value) for line in lines for column, value in line.cells if column == at}
    return {index: text.strip() for index, text in said.items() if re.search(r"\w", text) and not ditto(text)}


def _doubt(line: Line, at: int, why: str) -> None:
    if line.kind == DATA:
        line.kind, line.at, line.why = DOUBT, at, why


def _revised(lines: Sequence[Line], column: HeadingColumn) -> None:
    """The rows of a tank that stand under several revisions: the later may take the place of the earlier, or add to it."""
    said = {index: text for index, text in _cells(lines, column.index).items() if MARK.fullmatch(text)}
    rows: dict[str, list[Line]] = {}
    for line in lines:
        tank = worded(line.value("tank") or "").strip().casefold()
        if tank and line.index in said and line.kind in (DATA, DOUBT, OUT, UNHEATED):  # a pump of the same tank has revisions of its own
            rows.setdefault(tank, []).append(line)
    for some in rows.values():
        for line in some:
            counts = (one for one in some if one.kind != OUT or one.index > line.index)  # what was taken out above it has been dealt with
            other = next((one for one in counts if said[one.index] != said[line.index] and not _told_apart(line, one)), None)
            if other is not None:
                where = f'where row {other.index + 1} has the same tank under "{said[other.index][:20]}",'
                why = f'"{said[line.index][:20]}" under "{column.text.strip()}", {where}'
                _doubt(line, column.index, why)


def _told_apart(one: Line, other: Line) -> bool:
    """Have two rows tags of heaters that differ, as H14B added to H14A, which takes nobody's place; or is the other no heater?"""
    tags = [worded(line.value("bank") or "").strip().casefold() for line in (one, other)]
    mine, its = (worded(line.value("description") or "") for line in (one, other))  # "HTR IMM 9KW" and "PMP 4KW"
    return (all(tags) and tags[0] != tags[1]) or (other.kind == DOUBT and is_heater(mine) and bool(its.strip()) and not is_heater(its))


def _heated_otherwise(lines: Sequence[Line], column: HeadingColumn) -> None:
    """Rows that say something else where others say electric: "hot water", "gas", "electric/steam"."""
    said = _cells(lines, column.index)
    for line in lines:
        text = said.get(line.index, "")
        rest = ELECTRIC.sub(" ", text)
        if text and text.casefold() not in BESIDE_IT and (not ELECTRIC.search(text) or re.search(r"[/+&]", rest)):
            _doubt(line, column.index, f'"{text[:40]}" under "{column.text.strip()[:40]}", where other rows say electric,')


def _not_heated(lines: Sequence[Line], column: HeadingColumn, explained: Mapping[str, str]) -> None:
    """Rows that say "steam" or "none" under "Heating", or bear one of several letters there which no legend says to be electric."""
    cells = _cells(lines, column.index)
    coded = {text.casefold() for text in cells.values() if LETTERS.fullmatch(text)}
    letters = coded if len(coded) > 1 and not all(map(says_yes_or_no, coded)) else set()
    for line in lines:
        text = next((flat(value) for at, value in line.cells if at == column.index and isinstance(value, str)), "")
        meaning = explained.get(text.casefold(), "")
        said = text.casefold() == "e" or ELECTRIC.fullmatch(text.strip()) is not None  # "El" beside "St"
        electric = ELECTRIC.search(meaning) or is_heater(meaning) or (said and not meaning)
        if (text.casefold() in letters and not electric) or (any(sign.isalpha() for sign in text) and says_no_heat(text)):
            _doubt(line, column.index, f'"{text[:40]}" under "{column.text.strip()[:40]}", though the row counts heaters,')


def _called_unheated(lines: Sequence[Line], column: HeadingColumn) -> None:
    """Rows whose bath is called "Holding tank (no heater)", "Rinse - unheated", and that count heaters."""
    for line in lines:
        text = next((flat(value) for at, value in line.cells if at == column.index and isinstance(value, str)), "")
        said = [hit.word for hit in hits("not_heated", text)]
        if any(UNHEATED_WORD.search(word) for word in said):
            _doubt(line, column.index, f'"{text[:40]}" under "{column.text.strip()[:40]}", though the row counts heaters,')


def _of_a_part(plan: ListPlan, lines: Sequence[Line], columns: Sequence[HeadingColumn]) -> None:
    """Power of one element, of heaters that have several, or of one phase: not that of a heater."""
    power = plan.columns.get("power_kw")
    heading = power.heading if power is not None else ""
    per_phase = power is not None and bool(PER_PHASE.search(heading))
    own = {plan.columns[key].index for key in ("power_kw", "quantity") if key in plan.columns}
    others = (column for column in columns if column.index not in own and ELEMENTS.fullmatch(column.text.strip()))
    elements = next(others, None) if ELEMENT.search(heading) else None
    for line in lines:
        if per_phase and power is not None and line.figure("phases") != 1:
            _doubt(line, power.index, f'"{heading[:40]}", which is of one phase and not of a heater,')
        several = next((figure(value) for at, value in line.cells if elements is not None and at == elements.index), None)
        if elements is not None and several is not None and several > 1:
            _doubt(line, elements.index, f'"{elements.text.strip()[:40]}" beside "{heading[:40]}", of an element and no heater,')


def _there_already(plan: ListPlan, lines: Sequence[Line], columns: Sequence[HeadingColumn]) -> None:
    """Rows with a figure under "Existing kW" and none, or another than theirs, under "New kW": which heaters are new is not said."""
    own = {column.index for key, column in plan.columns.items() if key != "total_kw"}
    for of in ("power", "number"):
        counted = [column for column in columns if column.index not in own and any(of in concepts_of(word) for word in words(column.text))]
        old = [column for column in counted if any("former" in concepts_of(word) for word in words(column.text))]
        new = [column for column in counted if NEW_POWER.search(column.text) and column not in old]
        for line in lines if len(old) == len(new) == 1 else ():
            there, bought = (figure(next((value for at, value in line.cells if at == one[0].index), None)) for one in (old, new))
            count, power = line.figure("quantity"), line.figure("power_kw")
            whole = count if of == "number" else count * power if count and power else None
            all_new = bought is not None and whole is not None and close(bought, whole)
            of_one = bool(bought and there and whole and power and close(bought, power) and not close(bought + there, whole))
            if there and whole is not None and not all_new and not of_one:
                said = f'{bought:g} under "{new[0].text[:30]}"' if bought else f'nothing under "{new[0].text[:30]}"'
                _doubt(line, new[0].index, f'{there:g} under "{old[0].text[:30]}" and {said}')


def _as_before(plan: ListPlan, lines: Sequence[Line], columns: Sequence[HeadingColumn]) -> None:
    """Rows with a figure under "Old qty" and none under "New qty": taken out, or as it was? Of "Existing qty" they stay what they are."""
    count = plan.columns.get("quantity")
    told = [(column, {concept for word in words(column.text) for concept in concepts_of(word)}) for column in columns]
    old = [column for column, concepts in told if {"former", "number"} <= concepts and "spare" not in concepts]
    if count is None or len(old) != 1 or old[0].index in plan.used():
        return
    for line in lines:
        cells = dict(line.cells)
        was = figure(cells.get(old[0].index))
        if line.kind == UNHEATED and was and not worded(cells.get(count.index)).strip():
            line.kind, line.at = DOUBT, old[0].index
            line.why = f'{was:g} under "{old[0].text[:30]}" and nothing under "{count.heading[:30]}"'
            line.open = ("quantity", "power_kw")


def _written_twice(plan: ListPlan, lines: Sequence[Line]) -> None:
    """Rows that say the same in every cell, where each counts its heaters: one may be a slip. Below another banner it is none."""
    counted = "quantity" in plan.columns and "bank" not in plan.columns
    seen: dict[tuple[tuple[int, str], ...], Line] = {}
    for line in lines if counted else ():
        seen = {} if line.kind == BANNER else seen
        if line.kind != DATA or any(line.value(key) is None or line.facts[key].source for key in ("tank", "quantity")):
            continue
        key = tuple((at, worded(value).strip().casefold()) for at, value in line.cells)
        first = seen.setdefault(key, line)
        if first.index != line.index:  # and no further bank of the same row
            _doubt(line, line.facts["tank"].index, f"it says the same as row {first.index + 1}, cell by cell, and")


def _of_several_tanks(plan: ListPlan, lines: Sequence[Line]) -> None:
    """Rows whose bath, or remark, says that they stand for several tanks, "Rinse (typ. of 3)", "Rinse (2 tanks)", where no column does."""
    own = {plan.columns[key].index for key in ("tank", "quantity", "description") if key in plan.columns}
    for line in lines if "tanks" not in plan.columns else ():
        if len(read_tags(worded(line.value("tank") or "")).tags) > 1:
            continue
        for at, value in line.cells:
            text = flat(value) if isinstance(value, str) and at not in own else ""
            counted = any(how_many(said.strip()) for said in BRACKETS.findall(text))
            if counted or (text and typical(text)):
                _doubt(line, at, f'"{text[:40]}": for how many tanks the row stands is not said, which')


def _tags_revised(lines: Sequence[Line]) -> None:
    """ "7 rev B" beside "7": the one may take the place of the other."""
    tags = {line.index: worded(line.value("tank") or "").strip() for line in lines if line.kind in (DATA, DOUBT)}
    bare = {index: _without_revision(tag).casefold() for index, tag in tags.items() if tag}
    for line in lines:
        own, called = bare.get(line.index, ""), tags.get(line.index, "")
        other = next((tags[index] for index, tag in bare.items() if own and tag == own and tags[index].casefold() != called.casefold()), "")
        if other:
            _doubt(line, line.facts["tank"].index, f'"{called[:20]}" beside "{other[:20]}"')


def _without_revision(tag: str) -> str:
    """ "7 (rev B)" -> "7"; a tag without a revision as it is."""
    match = REVISED.fullmatch(tag)
    return match["tag"] if match is not None and of_changes(match["word"]) else tag
