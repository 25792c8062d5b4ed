"""Questions: what there is to ask the customer, each once a project, in words for people who know their tanks and no code."""

from __future__ import annotations

from collections.abc import Iterable

from batch.price.questions import Asked, ask
from batch.results import JobResult
from batch.schedules.schedule import Schedule, its_project, ordinal, text

CELLS = 12  # named for one question


def _items(result: JobResult) -> Iterable[Asked]:
    return ask(result.findings)


def _cells(one: Asked) -> str:
    return ", ".join(one.cells[:CELLS]) + (f" and {len(one.cells) - CELLS} more" if len(one.cells) > CELLS else "")


QUESTIONS = Schedule(
    "questions", "Questions", "question",
    "What there is to ask the customer, safety first. The quotation has them with a box for each answer; put what is answered into the list, and size again.",
    items=_items,
    columns=(
        ordinal("number", "No.", "", "number", width=6, help="In the order in which to ask."),
        its_project("project"),
        text("sort", "Why it is asked", 18, "sort", role="result", help="safety; stops the price; may move the price; please confirm."),
        text("words", "Question", 70, "words", role="result", help="As the customer is asked."),
        text("cells", "In the list", 34, _cells, help="Sheet and cell of the list that it is about."),
        text("until", "Until it is answered", 30, "until", help="What is taken as long as there is no answer."),
    ),
)
