"""Sentences as they are printed: no mark stands twice, none after a blank, no empty quotation marks, no two blanks; over samples and lists.

What stands in quotation marks is somebody's own words, and is left out of it.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest

import batch
from batch.counted_words import filled
from batch.errors import InputFileError
from batch.findings import CATALOGUE, Finding, find, remark
from batch.intake.line_kinds import by_itself
from batch.intake.map_draft import draft
from batch.price.as_we_read import NAMED, as_we_read
from batch.price.questions import ask, question_kinds
from batch.results import JobResult
from batch.schedules.question_list import how_to_answer, in_your_list
from tests.lists.score import HERE as LISTS
from tests.lists.score import lists_in
from tests.make_samples import HERE as SAMPLES
from tests.sample_results import ALL, opened_values

QUOTED = re.compile(r'"[^"\n]*"+|“[^”]*”')
ERROR = re.compile(r"#(?:DIV/0!|N/A|NAME\?|NULL!|NUM!|REF!|VALUE!)")
ODD = re.compile(
    r"[,;:][.,;:]|(?<!\.)\.\.(?!\.)|\s[,;:.?!](?=\s|\Z)|[?!]\.(?=\s|\Z)|\(\s|\s\)|(?:\A|[\s(])[\"“][\"”]|\S  +\S"
    r"|\b(?:V|wires),? unknown\b"
)
AS_CAME = "As received"


def odd(words: str) -> str:
    """The words about an odd mark; "" where there is none."""
    empty = re.search(r'(?:\A|[\s(])(?:""(?!")|“”)', words)
    bare = ERROR.sub("x", QUOTED.sub("x", words))
    found = empty or ODD.search(bare)
    return (words if empty else bare)[max(0, found.start() - 50) : found.end() + 30] if found else ""


def sentences(result: JobResult) -> Iterator[str]:
    for finding in result.findings:
        yield from (finding.message, finding.basis)
    for asked in ask(result):
        yield from (asked.words, asked.until, how_to_answer(asked), in_your_list(asked))
    for row in (*result.not_sized, *(row for project in result.projects for row in project.not_sized)):
        yield f"{row.why}."


@pytest.mark.parametrize("words", [
    "of the heaters,. Read: 2", 'the word "running",: is it', 'write "leave out"..', "a pump , not a heater", 'the name ""', "LINE 1  B18",
    "so: .", "Which one?.", "480 V, unknown; three lines",
])  # fmt: skip
def test_odd_marks_are_seen(words: str) -> None:
    assert odd(words)


@pytest.mark.parametrize("words", [
    "saved as .xlsx, or .csv", 'he wrote "so: ,."', "it holds #DIV/0!.", 'in "30"" of the list', "of T-1, T-2, … and more",
    "at 0.5 kW: two.", "and so on ...",
])  # fmt: skip
def test_other_marks_are_let_pass(words: str) -> None:
    assert not odd(words)


def test_templates_have_no_odd_marks() -> None:
    """As they stand, and with words put into them that end in a mark."""
    for kind in CATALOGUE.values():
        assert not odd(kind.template) and not odd(kind.advice) and not odd(kind.title), kind.code
        said = {value: filled(kind.template, dict.fromkeys(kind.fields, value) | {"count": "2"}) for value in ("x", "it is.", "then,")}
        assert not odd(said["x"]), kind.code
        assert not re.search(r"\.\.|,[.,;:]", " ".join(said.values())), kind.code
    for asked in question_kinds():
        assert not odd(asked.words) and not odd(asked.until)


@pytest.mark.parametrize(("why", "alone"), [
    ('"T-9", below the list,', '"T-9", below the list'), ("C7 is struck through, which", "C7 is struck through"),
    ("C7 has a comment, which is not read and", "C7 has a comment, which is not read"), ('"which"', '"which"'), ('"no"', '"no"'),
])  # fmt: skip
def test_a_reason_that_a_sentence_goes_on_from_stands_alone_too(why: str, alone: str) -> None:
    assert by_itself(why) == alone


def test_a_full_stop_of_a_field_is_no_second_one() -> None:
    assert filled("It is so: {why}.", {"why": "three rows say so."}) == "It is so: three rows say so."
    said = filled('Row {row}, "{value}", was', {"row": "3", "value": '"No." is the number, 30" each'})
    assert said == "Row 3, \"'No.' is the number, 30\" each\", was"
    assert filled("{why}: and", {"why": "a,"}) == "a: and" and filled("{why}.", {"why": "and so on ..."}) == "and so on ...."


def told(code: str, tank: str = "", cell: str = "B4", **fields: str) -> Finding:
    return find(remark(code, "", **fields), sheet="List ", cell=cell, tank=tank)


def address(sheet: str, cell: str) -> str:
    return f"{sheet.strip()} {cell}"


def test_a_question_says_what_stood_there_and_what_was_made_of_it() -> None:
    """Not what this program's own files call it, nor which row of them it is."""
    doubt = told("row-in-doubt", "T-9", row="4", why='"future"', what="whether it is to be built", line="4")
    assert as_we_read([doubt], address) == 'List B4 (tank T-9): "future" leaves open whether it is to be built.'
    taken = told("column-taken", sheet="List ", heading="kW ea", letter="B", column="Power", why="its heading says so", line="Power = 1")
    assert as_we_read([taken], address) == 'List B4: "kW ea" (column B) was taken for Power: its heading says so.'
    note = told("row-note", row="4", value="heaters of the old line follow")
    assert as_we_read([note], address) == 'List B4: the row holds only "heaters of the old line follow"; it was taken for a note.'
    both = as_we_read([doubt, taken, doubt], address)
    assert both.startswith("(1) List B4 (tank T-9): ") and " (2) List B4: " in both and "(3)" not in both


def test_of_many_places_the_first_are_told_and_the_rest_counted() -> None:
    many = [told("cell-zero", cell=f"B{row}", column="Power") for row in range(NAMED + 3)]
    words = as_we_read(many, address)
    assert f"({NAMED}) " in words and f"({NAMED + 1}) " not in words and words.endswith("And 3 more; their cells are named beside.")


def test_no_question_to_a_customer_speaks_of_the_map() -> None:
    for path in lists_in(LISTS / "worked"):
        assert not [asked.words for asked in ask(batch.check(path)) if "the map" in asked.words or "{" in asked.words]


@pytest.mark.parametrize("folder", [path for path in sorted(LISTS.iterdir()) if path.is_dir() and lists_in(path)], ids=lambda at: at.name)
def test_no_list_gives_a_sentence_with_odd_marks(folder: Path) -> None:
    found = {}
    for path in lists_in(folder):
        result = batch.check(path)
        found |= {words: path.name for each in sentences(result) if (words := odd(each))}
        found |= {line: path.name for line in draft(path).splitlines() if "QUESTION" in line and odd(line.partition("QUESTION: ")[2])}
    assert not found


def test_no_sample_gives_a_sentence_with_odd_marks() -> None:
    found = {}
    for path in SAMPLES.rglob("*.xlsx"):
        try:
            result = batch.check(path)
        except InputFileError:
            continue
        found |= {words: path.name for each in sentences(result) if (words := odd(each))}
    assert not found


@pytest.mark.parametrize("name", ALL)
def test_no_cell_of_results_has_odd_marks(name: str) -> None:
    """Of every sheet but those that hold what was received, word for word."""
    found = {}
    for sheet in opened_values(name).worksheets:
        if sheet.title.startswith(AS_CAME) or sheet.sheet_state == "veryHidden":
            continue
        texts = ((cell.coordinate, cell.value) for row in sheet.iter_rows() for cell in row if isinstance(cell.value, str))
        found |= {words: f"{sheet.title} {at}" for at, text in texts if (words := odd(text))}
    assert not found
