"""What is said beside each row of the customer's list, and below it."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from typing import NamedTuple

from msgspec import Struct, field

from batch.filling.pieces import Value
from batch.findings import Finding, Severity
from batch.intake.own_notes import FILLED_IN_BY
from batch.intake.table import (
    ABOVE,
    AGAIN,
    ANEW,
    BANNER_ROW,
    BESIDE,
    BLANK,
    EMPTY_FORM,
    HEADING,
    NOT_A_HEATER,
    NOTHING,
    OLDER,
    TAKEN_OUT,
    UNIT_ROW,
    WITHOUT_HEATERS,
)
from batch.received_rows import ReceivedTable
from batch.records import Bank
from batch.results import JobResult
from batch.rules import OURS, Wording, together
from batch.schedules import sized_rows
from batch.schedules.country_words import in_words
from batch.sheets import FILLED
from batch.sheets.column import HALF_DIGIT, Column

NOT_SIZED, NOT_READ = "not sized", "not read"
# rows beside which nothing needs to be said, or must not be: what the customer took out is left as it is
SAID_BY_ITSELF = frozenset(
    {BLANK, UNIT_ROW, NOTHING, ABOVE, HEADING, BESIDE, BANNER_ROW, EMPTY_FORM, NOT_A_HEATER, OLDER, TAKEN_OUT, WITHOUT_HEATERS}
)
HEADINGS = frozenset({AGAIN, ANEW})
Wordings = Mapping[str, Wording]  # by project
MOST_LINES = 10  # of findings below the list, after the cautions; what is over that is on the screen


class Answer(NamedTuple):
    """What is written beside one row: values by column key, None = nothing. `bank` is the record that was sized, if there is one."""

    values: Mapping[str, Value]
    bank: Bank | None


class SheetAnswers(Struct):
    """All that is written onto one sheet: `heads` are the rows that hold headings."""

    sheet: str
    tables: list[ReceivedTable]
    columns: tuple[Column, ...]  # in the words of the code in force
    heads: list[int] = field(default_factory=list)
    rows: dict[int, Answer] = field(default_factory=dict)
    said: list[Finding] = field(default_factory=list)  # the findings that stand in `rows`


def sheet_answers(result: JobResult) -> tuple[list[SheetAnswers], list[Finding]]:
    """What is said beside the rows of each sheet that holds heaters, in the order of the workbook; and the findings of no such row."""
    sheets: dict[str, SheetAnswers] = {}
    wordings = {project.project.project: project.wording for project in result.projects}
    columns = in_words(FILLED, together(wordings.values())).columns
    for table in result.job.received:
        if table.kind == "heaters" and table.heading_row > 0:
            sheets.setdefault(table.sheet, SheetAnswers(table.sheet, [], columns)).tables.append(table)
    said = _findings_by_row(result)
    sized = _sized(result)
    banks = {(bank.origin.sheet, bank.origin.row): bank for bank in result.job.banks}
    for one in sheets.values():
        for table in one.tables:
            one.heads.append(table.heading_row)
            for row in table.rows:
                at = (row.sheet, row.row)
                if row.refused in SAID_BY_ITSELF:
                    continue
                here = said.pop(at, [])
                one.said += here
                if row.refused in HEADINGS:
                    one.heads.append(row.row)
                else:
                    one.rows[row.row] = _answer(row.refused, sized.get(at), here, banks.get(at), wordings)
    filled = [one for one in sheets.values() if one.rows]
    rest = [finding for findings in said.values() for finding in findings]
    return filled, rest + [finding for one in sheets.values() if not one.rows for finding in one.said]


def _findings_by_row(result: JobResult) -> dict[tuple[str, int], list[Finding]]:
    """Findings by (sheet, row), in reading order; row 0 holds those about a sheet or the whole job."""
    found: dict[tuple[str, int], list[Finding]] = {}
    for finding in result.findings:
        number = re.search(r"\d+\Z", finding.cell)
        found.setdefault((finding.sheet, int(number[0]) if number else 0), []).append(finding)
    return found


def _sized(result: JobResult) -> dict[tuple[str, int], Mapping[str, object]]:
    """The row of Banks for each row of the list that was sized."""
    places = [row.bank.origin for project in result.projects for row in project.banks]
    return {(at.sheet, at.row): values for at, values in zip(places, sized_rows(result, "banks"), strict=True)}


def _answer(refused: str, sized: Mapping[str, object] | None, said: list[Finding], bank: Bank | None, wordings: Wordings) -> Answer:
    words = row_words(said, wordings)
    if sized is not None:
        values: dict[str, Value] = {column.key: _shown(column.format, sized.get(column.key)) for column in FILLED.columns}
        return Answer(values | {"findings": words or None}, bank)
    status = NOT_SIZED if bank is not None or any(finding.severity is Severity.HOLD for finding in said) else NOT_READ
    told = any(finding.severity is Severity.HOLD for finding in said)
    why = "" if not refused or told else f"not read: {refused}" if status == NOT_READ else refused
    return Answer({"status": status, "findings": "; ".join(part for part in (why, words) if part) or None}, bank)


def _shown(format: str, value: object) -> Value:
    """Numbers as far as they are shown in results, since a customer's cells have no number format of ours."""
    if isinstance(value, float) and format in HALF_DIGIT:
        half = HALF_DIGIT[format]
        return round(value, max(0, -int(f"{half:e}".partition("e")[2]) - 1))
    return value if isinstance(value, (str, int, float)) and value != "" else None


def row_words(said: list[Finding], wordings: Wordings) -> str:
    """The findings of a row in words: holds and cautions in full with what to do, notes by name; each in those of its project."""
    full, notes = [], []
    for finding in sorted(said, key=lambda one: one.severity):
        kind, wording = finding.kind, wordings.get(finding.project, OURS)
        if kind.severity is Severity.NOTE:
            title = wording.of(kind.title)
            notes.append(title[0].lower() + title[1:])
        else:
            effect = f", {kind.effect.word}" if kind.effect.word else ""
            full.append(f"{kind.severity.word.upper()}{effect}: {finding.message} To do: {wording.of(kind.advice)}")
    text = " | ".join(full)
    if notes:
        text += (" | " if text else "") + "notes: " + ", ".join(dict.fromkeys(notes))
    return text


def below_lines(result: JobResult, program: str, rest: list[Finding]) -> Iterator[str]:
    """What stands below each list: what was added by which program, the cautions, and the findings `rest`, worst first."""
    editions = ", ".join(dict.fromkeys(project.rule_set for project in result.projects)) or "no rule set"
    yield f"{FILLED_IN_BY}{program} on {editions}. A proposal to be checked: the rest of this workbook is as it came."
    yield from (f"CAUTION: {words}" for words, _ in result.cautions)
    alike: dict[tuple[str, str], list[Finding]] = {}
    for finding in rest:
        alike.setdefault((finding.code, finding.message), []).append(finding)
    lines, wordings = [], {project.project.project: project.wording for project in result.projects}
    for same in sorted(alike.values(), key=lambda group: group[0].severity):
        first, kind = same[0], same[0].kind
        where = f" ({first.address})" if first.address and len(same) == 1 else f" ({len(same)} rows)" if len(same) > 1 else ""
        effect = f", {kind.effect.word}" if kind.effect.word else ""
        lines.append(f"{kind.severity.word}{effect}{where}: {first.message} To do: {wordings.get(first.project, OURS).of(kind.advice)}")
    yield from lines[:MOST_LINES]
    if len(lines) > MOST_LINES:
        yield f"and {len(lines) - MOST_LINES} more: the command `check` lists them all"
