"""The top of Read first, for who has one minute: whom the bid is for, what it is, the worst of it, what is open, the fullest feeders."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from batch.price.questions import ask
from batch.quoting.gates import gates
from batch.report.bid_words import (
    beside_row,
    bid_sentence,
    for_whom,
    fullest_feeders,
    lost_projects,
    money_words,
    project_row,
    what_is_open,
    worst_things,
)
from batch.results import JobResult
from batch.schedules.hanging import makes_up
from batch.schedules.row_words import NOT_SIZED
from batch.writing.page import Page
from batch.writing.placed import Placed
from batch.writing.styles import STYLES, WORD_STYLES

WIDTHS = (27.0, 13.0, 92.0)
WORDS = 2  # the column of sentences


def write_bid(page: Page, result: JobResult, listed: Sequence[Mapping], places: Mapping[str, Placed]) -> None:
    """For who has one minute: what the bid is, the worst of it, what is open, how full the feeders are."""
    page.section("What the bid is")
    if whom := for_whom(result.projects):
        page.spread(0, f"{whom}.")
        page.fit((whom, sum(WIDTHS)))
        page.row += 1
    sentence = bid_sentence(result.projects, result.not_sized, result.money)
    if (section := result.job.section) is not None:
        sentence = f"{section.words}{sentence}"
    page.spread(0, sentence, "strong")
    page.fit((sentence, sum(WIDTHS)))
    page.row += 1
    if costs := money_words(result.money, {project.project.project for project in result.projects}):
        page.spread(0, f"{costs[0].upper()}{costs[1:]}.")
        page.fit((costs, sum(WIDTHS)))
        page.row += 1
    _each_project(page, result)
    page.section("The three worst things")
    worst = worst_things(listed, result.projects, money=result.money)
    for one in worst:
        page.text(0, one.kind, "label")
        if "findings" in places:
            page.link(1, places["findings"].name, places["findings"].cell("kind", one.at).rpartition("!")[2], "open")
        page.text(WORDS, one.words, "wrap")
        page.fit((one.words, WIDTHS[WORDS]))
        page.row += 1
    if not worst:
        page.entry("", "No hold and no caution.", WORDS)
    page.section("What is open")
    failed = sum(not check.passes for check in result.checks)
    still = what_is_open(result.projects, result.not_sized, listed, result.money, len(ask(result)), failed=failed)
    for left in still:
        page.number(0, left.number, "count", {**STYLES["strong"], "align": "left"})
        if left.sheet in places:
            page.link(1, places[left.sheet].name, "A1", "open")
        page.text(WORDS, left.words, "wrap")
        page.fit((left.words, WIDTHS[WORDS]))
        page.row += 1
    barred = [words for project in result.projects for words in gates(result, project)] if not still else []
    if barred:
        page.entry("", f"No offer yet: {'; '.join(barred)}.", WORDS)
    elif not still:
        words = "Nothing is open: every row is sized, every line has its length, price and hours. What no line holds is not counted."
        page.entry("", words, WORDS)
    full = fullest_feeders(result.projects)
    if full:
        page.section("The fullest feeders, with the continuous-load margin")
        for words in full:
            page.spread(0, words)
            page.fit((words, sum(WIDTHS)))
            page.row += 1


def _status_line(page: Page, name: str, status: str, words: str) -> None:
    page.text(0, name, {**STYLES["strong"], "text_wrap": True})
    page.text(1, status, {**STYLES["plain"], **STYLES[WORD_STYLES[status]], "text_wrap": True})
    page.text(WORDS, words, "wrap")
    page.fit((name, WIDTHS[0] * 0.9), (status, WIDTHS[1] * 0.9), (words, WIDTHS[WORDS]))
    page.row += 1


def _each_project(page: Page, result: JobResult) -> None:
    """Of several projects each in a row with what it costs; and those of which nothing is sized."""
    lost = lost_projects(result)
    if len(result.projects) > 1 or lost:
        for project in result.projects:
            words = " ".join(filter(None, (f"{project_row([project], result.money)}.", beside_row(project))))
            _status_line(page, project.project.project or "the project", makes_up(project).status, words)
        for name, words in lost:
            _status_line(page, name, NOT_SIZED, f"{words[0].upper()}{words[1:]}.")
        if len(result.projects) > 1:
            page.text(0, "The plant", "strong")
            words = f"{project_row(result.projects, result.money)}."
            page.text(WORDS, words, {**STYLES["strong"], "text_wrap": True})
            page.fit((words, WIDTHS[WORDS] * 0.9))
            page.row += 1
