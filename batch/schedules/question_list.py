"""Questions: what there is to ask the customer, each once a project, in words for people who know their tanks and no code; and what was answered."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import NamedTuple

from batch.counted_words import few
from batch.price.question_places import BY_HAND, CELLS, CONFIRM, Place
from batch.price.questions import Asked, ask
from batch.received_rows import Answered
from batch.results import JobResult
from batch.schedules import answer_references as references
from batch.schedules.schedule import Schedule, its_project, ordinal, text
from batch.sheets import INPUTS, Column
from batch.sheets.received import ANSWERED, OPEN

TAGS = frozenset({"feeder"})
CELLS_NAMED = 12  # for one question
BUILT = "row-in-doubt"  # end of the key of the question whether rows are to be built
SHEETS = {sheet.id: sheet for sheet in INPUTS}


def _items(result: JobResult) -> Iterator[Asked | Answered]:
    yield from ask(result)
    yield from result.job.answered


def cells_named(one: Asked) -> str:
    """Cells of the list that a question is about, as far as they are named one by one."""
    return few(one.cells, CELLS_NAMED)


def in_your_list(one: Asked) -> str:
    """What the customer reads beside a question: its cells, and what is taken until it is answered."""
    return "; ".join(filter(None, (cells_named(one), f"until then: {one.until}" if one.until else "")))


def reference(one: Asked, said: Callable[[str], str] = str) -> str:
    """By which an answer finds its question again, and by which it is seen what was typed into the cells beside it. `said`: words of a code
    in which it stands there."""
    beside = (str(one.number), one.project, one.sort, OPEN, one.words, cells_named(one), one.until, how_to_answer(one), in_your_list(one))
    return references.reference(one, dict.fromkeys((*beside, *map(said, beside))))


class CustomerQuestion(NamedTuple):
    """A question as it goes to the customer, in the words of the code of their country."""

    number: int
    order: int
    words: str
    beside: str
    how: str
    reference: str


def as_the_customer_reads(one: Asked, number: int, said: Callable[[str], str]) -> CustomerQuestion:
    """`number`: its place among the questions that go out."""
    one = one._replace(number=number)
    return CustomerQuestion(number, one.order, said(one.words), said(in_your_list(one)), said(how_to_answer(one)), reference(one, said))


def how_to_answer(one: Asked) -> str:
    """What an answer may look like, so that it is taken when the list is sized again."""
    several = f"; or each by its name, {one.places[0].shown}: …; {one.places[1].shown}: …" if len(one.places) > 1 else ""
    if one.key.endswith(BUILT):
        return f"yes or no{several}"
    if one.takes == CELLS:
        return f"what should stand in that cell{several}"
    if one.takes == CONFIRM:
        return "yes, or what is so instead"
    if one.takes == BY_HAND or not any(place.table for place in one.places):
        return "in your own words"
    asked = {key: SHEETS[place.table][key] for place in one.places if place.table for key in _wanted(one, place)}
    parts = [_form(column, len(asked) > 1) for column in asked.values()]
    return f"{', '.join(parts)}{several}"


def _wanted(one: Asked, place: Place) -> Sequence[str]:
    return place.columns if one.of_all else place.blank or place.columns


def _form(column: Column, named: bool) -> str:
    """ "yes or no"; "Start temperature … °C or °F"."""
    if column.choices:
        words = list(column.offered or column.choices)
        value = f"{', '.join(words[:-1])} or {words[-1]}"
    elif column.kind == "text":
        value = "its tag" if column.key in TAGS else "in words"
    else:
        unit = f"{column.unit} or {column.us_unit}" if column.us_unit else column.unit
        value = f"… {unit}".strip()
    return f"{column.heading} {value}" if named else value


QUESTIONS = Schedule(
    "questions", "Questions", "question",
    "What to ask the customer, safety first. Type each answer beside its question and size again, or size with --answers.",
    items=_items, named_by="words",
    columns=(
        ordinal("number", "No.", "", lambda one: one.number if isinstance(one, Asked) else None, width=6, help="In the order in which to ask; blank: answered."),
        its_project("project"),
        text("sort", "Why it is asked", 12, "sort", role="result", help="safety; stops the price; may move the price; please confirm."),
        text("state", "State", 9, lambda one: OPEN if isinstance(one, Asked) else ANSWERED, role="result", help="open, or answered."),
        text("words", "Question", 50, "words", role="result", help="As the customer is asked."),
        text("until", "Until it is answered", 18, "until", help="What is taken as long as there is no answer."),
        text("how", "How to answer", 22, lambda one: how_to_answer(one) if isinstance(one, Asked) else "", help="What an answer is read from."),
        text("answer", "Answer", 28, lambda one: "" if isinstance(one, Asked) else one.answer, role="input", becomes="answers",
             help="Typed here, it is taken when this workbook is sized again."),
        text("did", "What the answer did", 34, lambda one: "" if isinstance(one, Asked) else one.did, role="result",
             on_paper=False, help="Which cells say it now, or who has to see to it. Not printed."),
        text("cells", "In the list", 30, lambda one: cells_named(one) if isinstance(one, Asked) else one.cells,
             on_paper=False, help="Sheet and cell of the list that it is about. Not printed."),
        text("reference", "Reference", 24, lambda one: reference(one) if isinstance(one, Asked) else references.answered_reference(one),
             on_paper=False, help="By which an answer finds its question and its places again; leave it as it is. Not printed."),
    ),
)
