"""Rows of which a remark, a state or a scope says that nothing changes, "no change", "bleibt", "inchangé": the heaters may be there
already, and bought is what a list says is to be bought. Such a row is asked about."""

from __future__ import annotations

import re
from collections.abc import Sequence

from batch.intake.columns_aside import columns_aside
from batch.intake.columns_marked import says_which
from batch.intake.heading_sense import concepts_of
from batch.intake.line_kinds import BANNER, DATA, DOUBT, OUT, Line
from batch.intake.list_words import hits, of_changes
from batch.intake.plan import ListPlan
from batch.intake.remark_words import about_old_ones
from batch.intake.sentence_words import worded_so
from batch.intake.survey import Region, cells_of, flat
from batch.intake.vocabulary import vocabulary
from batch.intake.wording import words

WORDY = frozenset({"notes", "status", "description"})
PARTS = re.compile(r"\s*[;,(:)]\s*|\.\s+|\s[-–—/]\s|/")  # "inchangé / unchanged", "no change, tank relined"
LONGEST = 60
NO_CHANGE = re.compile(r"n[./]?\s?c\.?|same", re.IGNORECASE)
SCOPE = re.compile(
    r"(?:our |work )?scope(?: of (?:work|supply))?|(?:liefer|leistungs)?umfang|[ée]tendue|port[ée]e|alcance|ambito|omvang|zakres|escopo"
    r"|[âa]mbito|omfang|omfattning|rozsah|kapsam",
    re.IGNORECASE,
)
TITLE_ROWS = 3  # above the headings: judgement, no source


def asked_by_unchanged(plan: ListPlan, lines: Sequence[Line], region: Region | None) -> None:
    """Puts such rows in doubt, where no column tells what was from what is to be. `lines`: those that nobody has answered for."""
    if region is None or (plan.before() and not plan.replaced):
        return
    _below_banners(lines, region)
    figures = {column.index for key, column in plan.columns.items() if key not in WORDY}
    beside = columns_aside(region.grid, plan.heading_rows)
    counts_new = _of_new_ones(plan)
    marks = {column.index for column in region.columns if says_which(column.text)}
    for column in region.columns:
        if column.index in figures or column.index in beside:
            continue
        cells = {line.index: text for line in lines if (text := _text_at(line, column.index))}
        if of_changes(column.text.strip()) and not any(map(_renews, cells.values())):
            continue  # of a list that is issued again: what it said before stands
        acts = worded_so("heads_action").fullmatch(column.text.strip(" .:")) is not None or SCOPE.fullmatch(column.text.strip(" .:"))
        for line in lines:
            text = cells.get(line.index, "")
            if line.kind == DATA and text and (says_unchanged(text) or (acts and _nothing_done(text))):
                of_others = (plan.replaced or counts_new) and about_old_ones(text)  # "old ones stay", beside New
                if not of_others and not _wanted(line, column.index, marks, figures):
                    line.kind, line.at, line.why = DOUBT, column.index, f'"{text[:LONGEST]}"'
            elif (
                line.kind == OUT and line.at == column.index and about_old_ones(text)
                and (counts_new or _wanted(line, column.index, marks, figures))
            ):  # fmt: skip
                line.kind, line.why = DOUBT, f'"{text[:LONGEST]}", where the row is of new ones,'


def _below_banners(lines: Sequence[Line], region: Region) -> None:
    """The rows below a banner, or a title right above the list, or on a tab, that says so of all of them: "LINE 2 - no change"."""
    above = [flat(value) for row in region.grid.rows[max(0, region.top - TITLE_ROWS) : region.top] for _, value in cells_of(row)]
    told = next((text for text in (*above, region.grid.name) if _one_part_says(text)), "")
    for line in sorted(lines, key=lambda one: one.index):
        if line.kind == BANNER:
            told = line.text if _one_part_says(line.text) else ""
        elif told and line.kind == DATA:
            line.kind, line.why = DOUBT, f'"{told[:LONGEST]}", above it,'


def _one_part_says(text: str) -> bool:
    return len(text) <= LONGEST and any(says_unchanged(part) for part in PARTS.split(text) if part)


def _of_new_ones(plan: ListPlan) -> bool:
    """Does the heading of the number, or of what describes the heaters, say "New", and not only "Required"?"""
    said = (concepts_of(one) for key in ("quantity", "description") if key in plan.columns for one in words(plan.columns[key].heading))
    return any("buy" in one and "needed" not in one for one in said)


def says_unchanged(text: str) -> bool:
    """Does a short text begin by saying that what is there stays as it is, and of nothing but heaters: "heaters unchanged"?"""
    first = next((part for part in PARTS.split(text.strip(" .!*()")) if part), "")
    for one in reversed(hits("heaters", first)):
        first = f"{first[: one.start]} {first[one.end :]}"
    return worded_so("nothing_changes").fullmatch(" ".join(first.split())) is not None


def _nothing_done(text: str) -> bool:
    """Does a cell under "Action" or "Scope" say that nothing is done, that it is as another, or that no heater is bought: "none", "N/C",
    "same", "wiring only"?"""
    bare = text.strip(" .!()")
    if worded_so("other_work").fullmatch(bare):
        return True
    return NO_CHANGE.fullmatch(bare) is not None or (bare[:1].isalpha() and bool(vocabulary()["nothing"].whole(bare)))


def _wanted(line: Line, at: int, marks: set[int], figures: set[int]) -> bool:
    """Does another cell of the row say that it is wanted all the same: "Yes" under "In scope", "New", "Replace"?"""
    for column, value in line.cells:
        text = flat(value) if isinstance(value, str) and column != at and column not in figures else ""
        marked = column in marks and bool(vocabulary()["yes"].whole(text))
        if text and (marked or _renews(text) or hits("kept", text) or any("buy" in concepts_of(one) for one in words(text))):
            return True
    return False


def _renews(text: str) -> bool:
    return bool(hits("to_renew", text)) and not says_unchanged(text)  # "no change" has a word for it too


def _text_at(line: Line, column: int) -> str:
    return next((flat(value) for at, value in line.cells if at == column and isinstance(value, str)), "")
