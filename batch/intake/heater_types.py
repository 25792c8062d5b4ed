"""Types of heaters that a table of their own explains: the tanks name only marks, "R1 x3 + R3 x1", or a mark beside a number.

A mark that no table explains, or a choice between two, is asked about; a type without volts leaves its rows without them.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence

from msgspec import Struct, field
from msgspec.structs import replace

from batch.intake.facts import Fact
from batch.intake.heading_sense import EACH
from batch.intake.line_kinds import DATA, DOUBT, SPARE, TOTAL, UNHEATED, Line
from batch.intake.remark_words import read_row_words
from batch.intake.said_in_rows import STORES
from batch.intake.study import Studied
from batch.intake.survey import cells_of, flat

MARK = re.compile(r"[A-Z]{1,4}[-.]?\d{0,3}[A-Z]?", re.IGNORECASE)
LEAST_TYPES = 2
LONGEST_MARK = 8
OF_A_TYPE = ("power_kw", "volts_v", "phases", "sheath", "connection", "heated_length_mm", "tubes_per_heater")
APART = re.compile(r"\s*(?:\+|,|;|&|\b(?:and|und|et|e|y|en|i|og|och)\b)\s*", re.IGNORECASE)
ONE = re.compile(
    r"(?:(?P<before>\d{1,2})\s*[x×*]?\s*)?(?P<mark>[A-Z]{1,4}[-.]?\d{0,3}[A-Z]?)(?:\s*[x×*]\s*(?P<behind>\d{1,2}))?", re.IGNORECASE
)


class Types(Struct):
    """A table of types: what each mark stands for."""

    one: Studied
    facts: dict[str, dict[str, Fact]] = field(default_factory=dict)


def types_of(some: Sequence[Studied]) -> Types | None:
    """The one table that explains types; None where there is none, or where there are several."""
    found = [types for one in some if (types := _types(one)) is not None]
    return found[0] if len(found) == 1 else None


def _types(one: Studied) -> Types | None:
    columns = one.plan.columns
    if one.plan.turned or {"tank", "quantity", "total_kw", "tanks"} & columns.keys() or "power_kw" not in columns:
        return None
    types = Types(one)
    rows = [line for line in one.lines if line.kind in (DATA, DOUBT, SPARE) or _sum_of_sizes(line)]
    for line in [line for line in rows if line.value("power_kw") is not None]:
        at, value = line.cells[0]
        mark = flat(value)
        if at == columns["power_kw"].index or len(mark) > LONGEST_MARK or not MARK.fullmatch(mark) or mark.casefold() in types.facts:
            return None
        types.facts[mark.casefold()] = {key: fact for key in OF_A_TYPE if (fact := line.facts.get(key)) is not None}
    return types if len(types.facts) >= LEAST_TYPES else None


def _sum_of_sizes(line: Line) -> bool:
    """Is a type taken for a total, since its power is by chance the sum of those above it: 3, 6 and 9 kW?"""
    mark = flat(line.cells[0][1]) if line.cells else ""
    return line.kind == TOTAL and any(letter.isdigit() for letter in mark) and MARK.fullmatch(mark) is not None


def with_types(one: Studied, types: Types) -> bool:
    """Fills the rows of a table that name types; did any?"""
    if one is types.one or "power_kw" in one.plan.columns or "tank" not in one.plan.columns:
        return False
    lines: list[Line] = []
    used = False
    for line in one.lines:
        some = _filled(line, one, types) if line.kind in (DATA, DOUBT, UNHEATED, SPARE) else None
        used = used or some is not None
        lines += [line] if some is None else some
    if used:
        one.lines = lines
        one.plan.power = EACH
        one.plan.questions = [question for question in one.plan.questions if question.about != "power_kw"]
    return used


def _filled(line: Line, one: Studied, types: Types) -> list[Line] | None:
    """The row's heaters by its marks; None where it names none."""
    taken = {column.index: key for key, column in one.plan.columns.items()}
    for at, value in cells_of(one.grid.rows[line.index], one.plan.first, one.plan.last):
        if not isinstance(value, str) or taken.get(at) in ("tank", "quantity", "notes", "status", "volts_v", "phases"):
            continue
        text = flat(value)
        parts = [ONE.fullmatch(part) for part in APART.split(text)]
        known = [part for part in parts if part is not None and part["mark"].casefold() in types.facts]
        named = known or [mark for mark in re.findall(r"\w+", text) if mark.casefold() in types.facts]
        if not named and not (all(parts) and _alike(text, types.facts)):
            continue
        if line.kind == DOUBT and not line.why.endswith("though no heaters could be read from it,"):
            return None
        if len(known) < len(parts):
            line.kind, line.at = DOUBT, at
            line.why = f'"{text[:60]}", of which not all is a type of sheet {types.one.sheet},'
            return [line]
        counted = line.facts.get("quantity")
        if counted is not None and len(known) > 1:
            line.kind, line.why, line.at = DOUBT, f'"{text[:60]}" beside one number', at
            return [line]
        if doubt := _doubt(line):
            line.kind, line.why, line.at = DOUBT, f'"{doubt[:60]}"', at
            return [line]
        alone = "quantity" not in one.plan.columns  # a blank in a column of numbers is no number
        return [
            _part(line, part, at, text=text, facts=types.facts[part["mark"].casefold()], alone=alone) for part in known if part is not None
        ]
    return None


def _doubt(line: Line) -> str:
    """Words that take the row out, leave it open, or say that it is for the stores."""
    texts = [flat(value) for _, value in line.cells if isinstance(value, str)]
    return next((text for text in texts if read_row_words(text).fate or STORES.search(text)), "")


def _alike(text: str, facts: Mapping[str, object]) -> bool:
    """Does a mark that is not explained begin as those that are?"""
    heads = {re.match(r"\D*", mark)[0] for mark in facts}  # type: ignore[index]
    return any(re.match(r"\D*", mark.casefold())[0] in heads and re.search(r"\d", mark) for mark in re.findall(r"\w+", text))  # type: ignore[index]


def _part(line: Line, part: re.Match[str], at: int, *, text: str, facts: Mapping[str, Fact], alone: bool) -> Line:
    """One bank of a row. `alone`: a mark without a number is one heater."""
    shared = {key: fact for key, fact in line.facts.items() if key != "bank" or fact.index != at}
    found = Line(line.index, DATA, cells=line.cells, facts=shared)
    said = part["before"] or part["behind"]
    if said or (alone and "quantity" not in found.facts):
        found.facts["quantity"] = Fact(int(said or 1), at, text, source="description")
    for key, fact in facts.items():
        if key not in found.facts:
            basis = EACH if key == "power_kw" else ""
            found.facts[key] = replace(fact, index=at, seen=f"{part['mark']}: {fact.seen}", source="description", basis=basis)
    return found
