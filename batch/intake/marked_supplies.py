"""A supply for all heaters but those with a mark, in one sentence: "400 V, 3-phase, except (m): 230 V, 1-phase"."""

from __future__ import annotations

import re
from collections.abc import Sequence
from collections.abc import Set as AbstractSet

from batch.intake.assignment import FREE
from batch.intake.line_kinds import StatedSupply, supply_in
from batch.intake.plan import ListPlan
from batch.intake.survey import Region, cells_of, flat
from batch.intake.tank_words import tank_named
from batch.ooxml.addresses import letters

_EXCEPT = re.compile(
    r"\b(?:except|save|but|other than|apart from|au[sß]+er|ausgenommen|bis auf|sauf|[àa] l'exception|hormis|excepto|salvo|menos"
    r"|eccetto|tranne|behalve|uitgezonderd|opr[óo]cz|z wyj[ąa]tkiem|poza|exceto|undtagen|bortset fra|unntatt|utom|f[öo]rutom"
    r"|krom[ěe]|mimo)\b",
    re.IGNORECASE,
)
_MARKED = re.compile(
    r"\b(?:mark(?:ed)?|flagged|markier\w*|gekennzeichnet\w*|marqu[ée]\w*|rep[èeé]r\w*|marcad\w*|se[ñn]alad\w*|contrassegnat\w*|segnat\w*"
    r"|gemarkeerd\w*|oznaczon\w*|assinalad\w*|m[æe]rket\w*|merket\w*|m[äa]rkt\w*|ozna[čc]en\w*)\b",
    re.IGNORECASE,
)
_MARK = re.compile(
    r"[(\[]\s*([^\W\d_]{1,2}|\*{1,3}|[†‡#^°])\s*[)\]]|(?<!\w)(\*{1,3}|[†‡])(?!\w)|[\"“„«]\s*([^\W\d_]{1,2}|\*{1,3})\s*[\"”»]"
)

_TAG = re.compile(r"\b[A-Z]{1,4}-\d")  # a sentence about one tank is none about all


def supply_but_marked(plan: ListPlan, region: Region, around: Sequence[tuple[int, int, str]]) -> None:
    """Gives rows with the mark the supply behind "except", and all others that before it; both volts and phases have to stand there."""
    for row, column, text in around:
        found = _read(text)
        if found is None or {"volts_v", "phases"} & plan.columns.keys():
            continue
        usual, mark, other = found
        place = f'"{text[:80]}" in {letters(column)}{row + 1}'
        figures = {at for key, one in plan.columns.items() if key not in FREE for at in one.indexes()}
        lines = list(region.lines())
        marked = [line for line in lines if _bears(region, line, mark, figures)]
        if not marked and not any(_marked(value, mark) for line in region.grid.lines if line != row for value in region.grid.rows[line]):
            return  # a mark that nothing bears: what it stands for is asked
        if len(marked) == len(lines):
            return  # the unit of a column, perhaps
        supply = {"volts_v": other.volts, "phases": other.phases}
        plan.given_values = {**plan.given_values, **{line + 1: {**plan.given_values.get(line + 1, {}), **supply} for line in marked}}
        plan.when = [one for one in plan.when if one.key not in supply]  # by phases, from the same sentence
        plan.fixed |= {"volts_v": usual.volts, "phases": usual.phases}
        plan.fixed_volts, plan.fixed_phases = usual.volts, usual.phases
        plan.why |= {"fixed.volts_v": place, "fixed.phases": place, "marked": place}
        plan.tags = {**plan.tags, **_unmarked(plan, region, mark)}
        return


def _unmarked(plan: ListPlan, region: Region, mark: str) -> dict[str, tuple[str, ...]]:
    """"T2 (m)" is tank T2: the mark is of the supply. By the cell as it stands, folded."""
    column = plan.columns.get("tank")
    lines = region.lines() if column is not None else ()
    texts = [flat(value) for line in lines if isinstance(value := _cell(region, line, column.index), str)]  # type: ignore[union-attr]
    plain = {text: _sign(mark).sub(" ", text).strip() for text in texts if _marked(text, mark)}
    return {text.casefold(): (tag,) for text, tag in plain.items() if tag and tag not in texts}


def _cell(region: Region, line: int, index: int) -> object:
    row = region.grid.rows[line]
    return row[index] if index < len(row) else ""


def _read(text: str) -> tuple[StatedSupply, str, StatedSupply] | None:
    """The supply of all, the mark, and the supply of those that bear it; None where a sentence says another thing, or names a tank."""
    told, sign = _EXCEPT.search(text) or _MARKED.search(text), _MARK.search(text)
    if told is None or sign is None:
        return None
    cut = min(told.start(), sign.start())
    before, behind = text[:cut], _MARK.sub(" ", text[cut:])
    usual, other = supply_in(before.rstrip(" ,;")), supply_in(behind)
    if usual is None or other is None or None in (*usual, *other) or _TAG.search(text) or tank_named(text).tags:
        return None
    return usual, next(one for one in sign.groups() if one), other


def _bears(region: Region, line: int, mark: str, figures: AbstractSet[int]) -> bool:
    """Does a cell of the row bear the mark, outside of the columns of `figures`?"""
    cells = cells_of(region.grid.rows[line], region.first, region.last)
    return any(_marked(value, mark) for at, value in cells if at not in figures)


def _marked(value: object, mark: str) -> bool:
    """Does a cell bear the mark: "T2 (m)", "(m)", "m" alone, "9 *"?"""
    return isinstance(value, str) and (_sign(mark).search(flat(value)) is not None or flat(value) == mark)


def _sign(mark: str) -> re.Pattern[str]:
    sign = re.escape(mark)
    return re.compile(rf"[(\[]\s*{sign}\s*[)\]]" + ("" if mark.isalpha() else rf"|(?<![*†‡]){sign}(?![*†‡])"))
