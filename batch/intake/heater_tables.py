"""Does a table list heaters, and which of its rows do notes beside it take out?"""

from __future__ import annotations

import re
from collections.abc import Sequence

from batch.intake import wording
from batch.intake.fewer_wanted import ALONE
from batch.intake.grid import Grid, worded
from batch.intake.heading_sense import concepts_of, machine_in, names_a_heater, names_a_tank
from batch.intake.legends import explains
from batch.intake.line_kinds import DATA, DOUBT, HIDDEN, OTHER, OUT, Line
from batch.intake.list_words import heater_word, hits, other_equipment, out_code, says_no, says_who, says_yes_or_no, without_power, words
from batch.intake.plan import ListPlan
from batch.intake.remark_words import read_row_words
from batch.intake.rows_named import RowsNamed
from batch.intake.sentence_words import saying
from batch.intake.survey import HeadingColumn, Region, flat

SENTENCES = re.compile(r"(?<=[.;])\s+|\n")
CROSSES = frozenset({"x", "×", "xx", "✓", "✔", "✗", "●", "•", "*"})
POWERS = frozenset({"power_kw", "total_kw"})
LONGEST_TITLE = 8  # words: judgement, no source
OF_WHAT = 3  # words at most from heaters to what they are for, "heaters for cure ovens"
LEAST_NAMED = 4  # letters of a heading that a sentence names


def _of_others(around: Sequence[tuple[int, int, str]], top: int) -> bool:
    """Does the title right above a table name other equipment alone: "PUMP SCHEDULE", below notes about heaters?"""
    titles = [text for row, _, text in around if row == max((row for row, _, _ in around if row < top), default=-1)]
    return any(other_equipment(text) for text in titles) and not any(heater_word(text) for text in titles)


def left_out_by_column(plan: ListPlan, lines: Sequence[Line], around: Sequence[tuple[int, int, str]], region: Region | None) -> None:
    """A sentence that names a column of yes and no, "only the rows with yes under Replace", or of its words one that alone counts, as in
    "ACTION = REPLACE only": rows that say no there, or another word, are asked about. So are rows with a cross under "DEL", "By others"."""
    state = plan.columns["status"].index if "status" in plan.columns else -1  # N may stand for new there
    used = plan.used() - {state}
    _crossed_out(lines, [column for column in region.columns if column.index not in used] if region is not None else [])
    for column in region.columns if region is not None else ():
        name = column.text.strip()
        if column.index in used or len(name) < LEAST_NAMED:
            continue
        told = next((text for _, _, text in around if _names(text, name)), "")
        if not told or told.strip().casefold() == name.casefold():
            continue
        cells = {line.index: _text_at(line, column.index) for line in lines if line.kind == DATA}
        alone = [text for text in SENTENCES.split(told) if _names(text, name) and ALONE.search(text)]
        wanted = {cell.casefold() for cell in cells.values() for text in alone if _names(text, cell)} - {name.casefold()}
        for line in lines:
            said = cells.get(line.index, "")
            no = says_no(said) and column.index != state
            if line.kind == DATA and said and (no or (wanted and said.casefold() not in wanted)):
                line.kind, line.at, line.why = DOUBT, column.index, f'"{said}" under "{name}", of which "{told[:60]}" speaks,'


def _crossed_out(lines: Sequence[Line], columns: Sequence[HeadingColumn]) -> None:
    """Rows with a cross, or a yes, under a heading that takes rows out or leaves them open: "DEL", "By others", "Hold"."""
    for column in columns:
        name = column.text.strip()
        if not (read_row_words(name).fate or out_code(name)):
            continue
        spare = bool(hits("spare", name))  # "yes" under "Spare": there is one beside it
        for line in lines:
            said = next((worded(value).strip() for at, value in line.cells if at == column.index), "")
            if line.kind == DATA and (said.casefold() in CROSSES or (not spare and words()["yes"].whole(said))):
                line.kind, line.at, line.why = DOUBT, column.index, f'"{said}" under "{name}"'


def _text_at(line: Line, column: int) -> str:
    return next((flat(value) for at, value in line.cells if at == column and isinstance(value, str)), "")


def _names(text: str, name: str) -> bool:
    """Does a sentence hold a heading, or a word of its cells, as words of their own?"""
    return bool(name) and re.search(rf"(?<!\w){re.escape(name)}(?!\w)", text, re.IGNORECASE) is not None


def _has_or_not(column: HeadingColumn, data: Sequence[Line]) -> bool:
    """Does a column say yes or no in every row, and nothing else: "Pump" over Y and N is what a tank has beside its heaters?"""
    said = [text for line in data for at, value in line.cells if at == column.index and (text := worded(value).strip())]
    return bool(said) and all(text.casefold() in CROSSES or says_yes_or_no(text) for text in said)


def _about_a_row(text: str, data: Sequence[Line]) -> bool:
    """Does a sentence say that something else heats a tank of the list, "T-4 is steam heated"? "Pumps for T-1 to T-4" is a title."""
    return saying("otherwise_heated").search(text) is not None and bool(RowsNamed(data).named_in(text))


def heats_ovens(text: str) -> bool:
    """Does a title speak of the heaters of ovens or dryers, "Drying oven heaters", "Heaters for dryers", and of no tanks?"""
    said = wording.words(text)
    ovens = {at for at, word in enumerate(said) if "oven" in concepts_of(word)}
    heaters = {at for at, word in enumerate(said) if heater_word(word) or names_a_heater(word)}
    near = any(0 < one - oven <= 1 or 0 < oven - one <= OF_WHAT for oven in ovens for one in heaters)
    return near and len(said) <= LONGEST_TITLE and not names_a_tank(text) and not read_row_words(text).fate


def lists_heaters(
    grid: Grid, plan: ListPlan, lines: Sequence[Line], around: Sequence[tuple[int, int, str]], region: Region | None
) -> tuple[str, str]:
    """Does the table list heaters?"""
    data = [line for line in lines if line.kind in (DATA, DOUBT, HIDDEN, OUT)]
    others = [line for line in lines if line.kind == OTHER]
    powered = any(line.value(key) is not None for line in data for key in POWERS)
    top = region.top if region is not None else plan.heading_rows[0] - 1 if plan.heading_rows else 0
    near = [text for row, _, text in around if top - 6 <= row < top]
    columns = [column for column in region.columns if not says_who(column.text)] if region is not None else []
    headings = [column.text for column in columns]
    named = [text for text in (*headings, *near, grid.name) if heater_word(text) or names_a_heater(text)]
    spoken = sum(any(heater_word(flat(value)) for _, value in line.cells if isinstance(value, str)) for line in data)
    beside = {column.text for column in columns if other_equipment(column.text) and _has_or_not(column, data)}
    strange = [
        word
        for text in (*(heading for heading in headings if heading not in beside), *near, grid.name)
        if not heater_word(text) and not names_a_heater(text) and (word := other_equipment(text)) and not without_power(text)
        and not _about_a_row(text, data) and not explains(text)
    ]  # fmt: skip
    if not data:
        return (
            "no",
            "no row of it has a number, a power or volts" if not others else f"its rows are other equipment, such as {others[0].why}",
        )
    listed = {"tank", "quantity"} <= plan.columns.keys() and ("volts_v" in plan.columns or "phases" in plan.columns)
    odd = listed and any(line.value(key) is None and line.facts[key].seen for line in data for key in line.facts.keys() & POWERS)
    if not powered and not named and not spoken and not odd:  # of a list whose powers are all odd, "#REF!", each row is told
        return "no", "no power of heaters stands in it"
    foreign = [line for line in data if any(line.facts[key].foreign for key in ("power_kw", "total_kw") if key in line.facts)]
    if (
        foreign
        and len(foreign) == len([line for line in data if line.value("power_kw") or line.value("total_kw")])
        and not spoken
        and (not any(heater_word(text) for text in (*headings, *near)) or _of_others(around, top))
    ):
        first = next(foreign[0].facts[key] for key in ("power_kw", "total_kw") if key in foreign[0].facts)
        return "no", f"its power is in {first.foreign}, and nothing in it says heater"
    opening = headings[0] if headings else ""
    if machine_in(opening) and "tank" not in plan.columns and not spoken and not any(names_a_heater(text) for text in headings):
        return "no", f'its rows are those of "{opening}"'  # beside or below a list of heaters, under whose title it stands
    if (ovens := next((text for text in near if heats_ovens(text)), "")):
        return "unsure", f'its title speaks of heaters of ovens, which would burn out in a bath ("{ovens[:60]}")'
    if strange and not spoken and not named and listed and powered:
        return "unsure", f'it has tanks, numbers, power and volts, but its headings also speak of other equipment ("{strange[0]}")'
    if strange and not spoken and not named:
        return "no", f'its headings speak of other equipment ("{strange[0]}")'
    if len(others) > len(data) and not spoken and not named:
        return "no", f"most of its rows are other equipment, such as {others[0].why}"
    if "tank" in plan.columns or named or spoken:
        return "yes", "its headings and rows are those of a heater list"
    return "unsure", "it has power and volts, but neither a tank nor the word heater"
