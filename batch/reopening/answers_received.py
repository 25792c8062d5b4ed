"""Answers to the questions as somebody wrote them: on the sheet Questions of results, or in the quotation that a customer sent back.

What was typed beside the column for answers is found too, so that an answer one column off is not lost without a word.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path
from typing import NamedTuple

from batch.errors import InputFileError
from batch.file_names import name_of
from batch.findings import Finding, find, remark
from batch.intake.grid import Grid, worded
from batch.intake.workbook import load, open_workbook
from batch.ooxml.addresses import letters
from batch.price.question_places import mark_of
from batch.received_rows import Answered
from batch.reopening.results_book import StoredResults, StoredRow
from batch.schedules.answer_references import Reference, read_reference
from batch.schedules.question_list import QUESTIONS
from batch.sheets.received import ANSWERED

ANSWER_HEADINGS, REFERENCE_HEADING, NUMBER_HEADING = ("answer", "your answer"), "reference", "no."
LOOKED = 40  # rows in which the headings are looked for
BROKEN = "an error, or a formula without a result"  # in place of the text of such a cell
LETTER = ".docx"
TABLE = "table of questions"


class Given(NamedTuple):
    """An answer as somebody wrote it. `file`: "" = in the workbook that is sized; `beside`: heading of the column it stands in where that
    is not the one for answers.
    """

    sheet: str
    cell: str
    number: str
    text: str
    reference: str
    file: str = ""
    beside: str = ""


def typed_answers(stored: StoredResults) -> list[Given]:
    """What was typed beside open questions of results."""
    found = []
    for row in stored.rows.get("questions", ()):
        known = read_reference(row.text("reference"))
        if known is not None and known.answer:
            continue
        broken = "answer" in row.columns and "answer" not in row.values
        text = BROKEN if broken else row.text("answer").strip()
        if text:
            found.append(Given(row.sheet, row.cell("answer"), row.text("number"), text, row.text("reference")))
        found += _typed_over(row, known)
    return found


def _typed_over(row: StoredRow, known: Reference | None) -> Iterator[Given]:
    """Cells beside an open question that say another thing than was written there."""
    number, own = row.text("number"), row.text("reference")
    if known is None:
        if own and own.strip():
            yield Given(row.sheet, row.cell("reference"), number, own, "", beside=QUESTIONS["reference"].heading)
        return
    for column in QUESTIONS.columns:
        if column.key in row.columns and column.key not in ("answer", "reference") and known.typed_over(row.text(column.key)):
            yield Given(row.sheet, row.cell(column.key), number, row.text(column.key), own, beside=column.heading)


def standing(stored: StoredResults, said: list[Finding]) -> tuple[Answered, ...]:
    """Questions that were answered before; of an answer or a state that says another thing by now, what to do."""
    found = []
    for row in stored.rows.get("questions", ()):
        known, text = read_reference(row.text("reference")), row.text("answer").strip()
        if known is None or not known.answer:
            continue
        state = row.text("state")
        if state != ANSWERED:
            why = f"State is {ANSWERED}, and is not typed; to ask again, take the value that it gave off Carried forward"
            said.append(find(remark("answer-unclear", answer=state, question=row.text("words"), why=why), project=row.text("project"),
                             sheet=row.sheet, cell=row.cell("state"), seen=state))  # fmt: skip
        if mark_of(text) != known.answer:
            why = "the question was answered before; change the value on Carried forward, or on As received"
            said.append(find(remark("answer-unclear", answer=text, question=row.text("words"), why=why), project=row.text("project"),
                             sheet=row.sheet, cell=row.cell("answer"), seen=text))  # fmt: skip
        project, sort, words, cells, until = (row.text(key) for key in ("project", "sort", "words", "cells", "until"))
        found.append(Answered(project, sort, words, cells, until, text, row.text("did"), known.mark, known.since, known.as_asked))
    return tuple(found)


def answers_of(path: Path) -> list[Given]:
    """Answers in a file: the questions of a quotation, or of its letter, as a customer sent them back, or the results of a job.

    Raises:
        InputFileError: it cannot be read, or has no such sheet or table.
    """
    path = Path(path)
    grids = _tables(path) if path.suffix.casefold() == LETTER else open_workbook(load(path), str(path)).grids
    found: list[Given] = []
    seen = False
    for grid in grids:
        heads = ((at, _places(grid.rows[at])) for at in range(min(LOOKED, len(grid.rows))))
        head, places = next(((at, places) for at, places in heads if places is not None), (-1, (0, 0, 0)))
        if head >= 0:
            seen = True
            found += _rows(grid, head, places, name_of(path), path.suffix.casefold() == LETTER)
    if not seen:
        what = "table" if path.suffix.casefold() == LETTER else "sheet"
        raise InputFileError(f"{path}: no {what} has the columns Answer and Reference: name the quotation that came back, or the results")
    return found


def _tables(path: Path) -> list[Grid]:
    """The tables of a letter, each as a sheet."""
    import docx  # which nobody else has need of

    if not path.exists():
        raise InputFileError(f"{path}: no such file")
    try:
        letter = docx.Document(str(path))
    except Exception as fault:  # the library has errors of its own for what is no package
        raise InputFileError(f"{path}: this is no letter that can be read ({type(fault).__name__}): save it as .docx") from fault
    grids = []
    for table in letter.tables:
        rows: list[list[object]] = [["\n".join(part.text for part in cell.paragraphs) for cell in row.cells] for row in table.rows]
        wide = max(map(len, rows), default=0)
        grids.append(Grid(TABLE, [[*row, *[""] * (wide - len(row))] for row in rows]))
    return grids


def _places(row: Sequence[object]) -> tuple[int, int, int] | None:
    """Columns of the answer, the reference and the number."""
    heads = [worded(value).strip().casefold() for value in row]
    answer = next((at for at, text in enumerate(heads) if text in ANSWER_HEADINGS), None)
    reference = next((at for at, text in enumerate(heads) if text.startswith(REFERENCE_HEADING)), None)
    if answer is None or reference is None:
        return None
    return answer, reference, heads.index(NUMBER_HEADING) if NUMBER_HEADING in heads else -1


def _rows(grid: Grid, head: int, places: tuple[int, int, int], file: str, letter: bool) -> Iterator[Given]:
    answer, reference, number = places
    heads = [worded(value).strip() for value in grid.rows[head]]
    for at in grid.lines_from(head + 1):
        row = [worded(value).strip() for value in grid.rows[at]]
        counted, own = row[number] if number >= 0 else "", row[reference]
        known = read_reference(own)

        def given(
            column: int, reference: str, *, beside: str = "", row: Sequence[str] = row, at: int = at, counted: str = counted
        ) -> Given:
            cell = f"row {at + 1}" if letter else f"{letters(column)}{at + 1}"
            return Given(grid.name, cell, counted, row[column], reference, file, beside)

        if row[answer]:
            yield given(answer, own)
        if known is None and own:
            yield given(reference, "", beside=heads[reference])
        elif known is not None and not known.answer:  # of one that was answered before what became of it stands there too
            for column in _others(row, (answer, reference)):
                if known.typed_over(row[column]):
                    yield given(column, own, beside=heads[column] or "no column")


def _others(row: Sequence[str], but: Iterable[int]) -> list[int]:
    """Columns that hold anything, but for these."""
    return [column for column, text in enumerate(row) if text and column not in but]
