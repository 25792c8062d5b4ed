"""Marks by which a list says of each row what its power is of: a column "U/T", with "U = power of each unit; T = total of the item", or
words of their own there, "each" and "total"."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence

from batch.intake.described import described
from batch.intake.heading_sense import EACH, TANK
from batch.intake.line_kinds import BANNER, NOTE, TOTAL, Line
from batch.intake.list_words import hits
from batch.intake.survey import flat
from batch.intake.texts_beside import cell_of
from batch.intake.verdict import close, count_of, power_of

MARK = re.compile(r"(?<![\w=])(?P<mark>[^\W\d_]{1,3}|\*{1,3})\s*[=:]\s*(?P<words>[^=;\n]+?)(?=\s*(?:[;,.\n]|\Z|\s[^\W\d_]{1,3}\s*=))")
TIMES_POWER = re.compile(  # "qty x kW = 57 kW": what is multiplied is of each
    r"\b(?:qty|quantity|number|nos?\.?|count|anz(?:ahl)?\.?|stk\.?|st[üu]ck(?:zahl)?|nombre|nbre?|qt[ée]|cant(?:idad)?\.?|n[°º]|quantit[àa]|aantal|liczba"
    r"|ilo[śs][ćc]|szt\.?|qtde?\.?|quantidade|antall?|po[čc]et)\s*[x×*·]\s*(?:kW|W|watts?|power|leistung|puissance|potenc[ie]a|potenza|vermogen|moc|effekt"
    r"|v[ýy]kon|p[řr][íi]kon)\b",
    re.IGNORECASE,
)
LEAST_ROWS = 2  # that bear marks: judgement, no source


def marks_told(texts: Sequence[tuple[int, int, str]]) -> dict[str, str]:
    """What each mark says that a power is of, marks folded; {} unless one says each and another all."""
    found: dict[str, str] = {}
    for _, _, text in texts:
        for match in MARK.finditer(text):
            basis = basis_said(match["words"])
            if basis:
                found[match["mark"].casefold()] = basis
    return found if set(found.values()) == {EACH, TANK} else {}


def basis_said(text: str) -> str:
    """Each or all, as words say it; "" where they say neither, or both."""
    each, every = bool(hits("per_heater", text)), bool(hits("total", text) or [hit for hit in hits("per_tank", text) if " " in hit.word])
    return "" if each == every else EACH if each else TANK


def by_marks_of_rows(several: Sequence[Line], texts: Sequence[tuple[int, int, str]]) -> dict[int, tuple[str, str]]:
    """Index of a row -> what its power is of, and why: by the one column that holds such marks and nothing else."""
    told = marks_told(texts)
    columns: dict[int, dict[int, tuple[str, str]]] = {}
    others: set[int] = set()
    for line in several:
        for at, value in line.cells:
            text = flat(value).strip(" ().").casefold() if isinstance(value, str) else ""
            if text and (basis := told.get(text, "") or _alone(text)):
                columns.setdefault(at, {})[line.index] = (basis, f'"{text}"')
            else:
                others.add(at)
    some = [rows for at, rows in columns.items() if at not in others and len(rows) >= LEAST_ROWS and _both(rows)]
    return some[0] if len(some) == 1 else {}


def _both(rows: Mapping[int, tuple[str, str]]) -> bool:
    return {basis for basis, _ in rows.values()} == {EACH, TANK}


def _alone(text: str) -> str:
    """Is a cell no more than "each", or "total"?"""
    for name, basis in (("per_heater", EACH), ("total", TANK)):
        if any(hit.word.casefold() == text for hit in hits(name, text)):
            return basis
    return ""


def multiplied(around: Sequence[tuple[int, int, str]], lines: Sequence[Line]) -> list[str]:
    """Sentences beside the rows, or between them, that multiply the number by the power: the power is of each."""
    said = [line for line in lines if line.kind in (NOTE, BANNER, TOTAL)]
    between = [(line.index, at, flat(value)) for line in said for at, value in line.cells if isinstance(value, str)]
    found = [(row, column, text) for row, column, text in (*around, *between) if TIMES_POWER.search(text)]
    return [f'"{text[:80]}" in {cell_of(row, column)}' for row, column, text in found[:1]]


def shared_out(line: Line, text: str) -> bool:
    """Does a remark share a row's power out among its heaters, "3 x 6 kW" beside 18 kW of three?"""
    said = described(text).facts
    own, power, count = said.get("power_kw"), power_of(line), count_of(line)
    if not isinstance(own, float) or power is None or not count or said.get("quantity") != count:
        return False
    return count > 1 and close(own * count, power)
