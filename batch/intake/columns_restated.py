"""Columns that nothing is read from and that count, or rate, the same heaters otherwise: a revised number, how many of them are spare or
have failed, how many cells a row stands for, a corrected power. A row in which such a figure is another one is asked about."""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import lru_cache

from batch.intake.facts import figure
from batch.intake.heading_sense import concepts_of
from batch.intake.line_kinds import DATA, DOUBT, Line
from batch.intake.list_words import hits
from batch.intake.sentence_words import forms, worded_so
from batch.intake.survey import HeadingColumn
from batch.intake.verdict import close
from batch.intake.wording import words

COUNTS = frozenset({"number", "count", "heater"})  # concepts of a heading's words that say no more than that it counts heaters
LEAST = {"wanted": -1, "count": 0, "power": 0, "places": 1}  # figures that ask nothing; of those that are wanted none may be
YEAR = re.compile(r"(?:19|20)\d\d")


def asked_by_restated(columns: Sequence[HeadingColumn], lines: Sequence[Line]) -> None:
    """Puts such rows in doubt. `columns`: those that nothing is read from; `lines`: those that nobody has answered for."""
    for column in columns:
        kind = _kind(column.text)
        for line in lines if kind else ():
            number = next((_number(value, kind) for at, value in line.cells if at == column.index and not isinstance(value, bool)), None)
            if number is None or line.kind != DATA or number <= LEAST[kind] or (kind == "count" and YEAR.fullmatch(f"{number:g}")):
                continue
            if kind == "places" or not any(close(number, known) for known in _known(line)):
                line.kind, line.at, line.why = DOUBT, column.index, f'{number:g} under "{column.text.strip()[:40]}"'
                line.open = ("power_kw",) if kind == "power" else ("quantity",)


def _number(value: object, kind: str) -> float | None:
    """The figure of such a cell; of a count "2 ea" as well."""
    match = _pieces().fullmatch(value.strip()) if kind == "count" and isinstance(value, str) else None
    return float(match[1]) if match is not None else figure(value)


@lru_cache(maxsize=1)
def _pieces() -> re.Pattern[str]:
    return re.compile(rf"(\d{{1,3}})\s*(?:x|{forms('pieces')})\.?", re.IGNORECASE)


def _kind(text: str) -> str:
    """What a heading counts or rates again; "" where it does not."""
    said = words(text)
    rest = [word for word in said if not concepts_of(word) & COUNTS]
    counted, rated = len(rest) < len(said), "kw" in rest
    heading = " ".join(word for word in rest if word != "kw")
    if worded_so("wanted_number").fullmatch(heading):
        return "wanted"
    if worded_so("places_of_a_row").fullmatch(heading.removeprefix("of ")):
        return "places"
    there = worded_so("installed").fullmatch(heading) is not None and not counted  # "Qty installed" may be more than are to be bought
    again = there or worded_so("said_again").fullmatch(heading) or ((counted or rated) and heading == "rev")
    beside = (counted or rated) and worded_so("beside_them").fullmatch(heading)
    if rated and not beside:
        return "power" if again or worded_so("rated_again").fullmatch(heading) else ""
    part = worded_so("part_of_them").fullmatch(heading) or _of_which(heading)
    new = counted and worded_so("new_number").fullmatch(heading)
    return "count" if again or part or beside or new or (counted and YEAR.fullmatch(heading)) else ""


def counts_again(columns: Sequence[HeadingColumn]) -> frozenset[int]:
    """The columns that count heaters again, "New qty", "Qty (as built)", beside one headed as the number and nothing else, which is read:
    a row in which they differ is asked about, and a blank changes nothing."""
    said = {column.index: words(column.text) for column in columns}
    if not any(some and all(concepts_of(word) & COUNTS for word in some) for some in said.values()):
        return frozenset()
    named = {at: [word for word in some if not concepts_of(word) & COUNTS] for at, some in said.items()}
    named = {at: rest for at, rest in named.items() if rest and len(rest) < len(said[at])}
    return frozenset(
        at for at, rest in named.items() if any(worded_so(name).fullmatch(" ".join(rest)) for name in ("said_again", "new_number"))
    )


def _of_which(heading: str) -> bool:
    """ "Of which spare", "davon defekt"."""
    match = worded_so("of_which").match(heading)
    behind = heading[match.end() :].strip() if match is not None else ""
    return bool(behind) and (worded_so("part_of_them").fullmatch(behind) is not None or bool(hits("spare", behind)))


def _known(line: Line) -> list[float]:
    count, power, total = (line.figure(key) for key in ("quantity", "power_kw", "total_kw"))
    found = [one for one in (count, power, total) if one is not None]
    return [*found, *([count * power] if count and power else []), *([total / count] if total and count else [])]
