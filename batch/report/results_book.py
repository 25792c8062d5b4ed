"""The results workbook, sheet by sheet in the order in which it is read."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from pathlib import Path

from batch.report.book import Book, whole_book
from batch.report.findings_sheet import finding_rows
from batch.report.read_first import NAME as READ_FIRST
from batch.report.read_first import Contents, write_read_first
from batch.report.received import write_received
from batch.report.sheet_writer import Footer, Placed, write_schedule
from batch.report.summary import write_summary
from batch.results import JobResult
from batch.sheets import RESULTS, Sheet

Rows = Callable[[JobResult, str], Sequence[Mapping]]
SCHEDULES = ("banks", "panels", "panel_types", "circuits", "feeder_totals")
PROOF = ("code_basis", "checks")


def write(
    result: JobResult,
    path: Path,
    *,
    stamp: str = "",
    program: str = "",
    us: bool = False,
    cautions: Iterable[str] = (),
    paper: str = "letter",
    rows: Rows | None = None,
) -> None:
    """Writes the whole results workbook to `path`, whole or not at all.

    stamp     the labelled run stamp, the only thing in the file that may differ between equal runs; "" = none
    program   name and version, for Read first
    us        lengths, temperatures and torques in US units
    cautions  what goes with every job, already worded
    paper     "letter" or "a4"
    rows      rows of a sheet by column key; batch.schedules.rows unless given
    OutputFileError where the file cannot be written; whatever stood there is then untouched.
    """
    if rows is None:
        from batch.schedules import rows
    path = Path(path)
    footer = Footer(path.name, ", ".join(dict.fromkeys(one.project.revision for one in result.projects if one.project.revision)), paper)
    said = tuple(cautions)
    with whole_book(path, f"{result.job.name}, sized") as book:
        _fill(book, result, rows, said, footer, stamp, program, us)


def _fill(book: Book, result: JobResult, rows: Rows, cautions: tuple[str, ...], footer: Footer, stamp: str, program: str, us: bool) -> None:
    sheets = {sheet.id: sheet for sheet in RESULTS}
    contents: list[Contents] = []
    left_out: list[str] = []
    book.add_worksheet(book.tab_name(READ_FIRST))
    for project in result.projects:
        name = book.tab_name(f"Summary {project.project.project}".strip())
        write_summary(book, name, result, project, cautions, footer)
        contents.append(Contents(name, "", "The project on one page."))

    def place(id: str, data: Sequence[Mapping]) -> Placed | None:
        sheet = sheets[id]
        if not data:
            left_out.append(sheet.name)
            return None
        placed = write_schedule(book, sheet, data, footer, us=us)
        contents.append(Contents(placed.name, _counted(sheet, len(data)), sheet.help))
        return placed

    for id in SCHEDULES:
        place(id, rows(result, id))
    place("findings", finding_rows(result.findings))
    for number, table in enumerate(result.job.received, 1):
        received = write_received(book, result, table, number, footer)
        if received is not None:
            contents.append(Contents(received.name, f"{received.rows} input rows", "As it came, with what became of each row."))
    placed = {id: place(id, rows(result, id)) for id in PROOF}
    write_read_first(book, result, contents, left_out, placed["checks"], cautions, footer, stamp=stamp, program=program, us=us)


def _counted(sheet: Sheet, count: int) -> str:
    return f"{count:,} {sheet.rows}{'' if count == 1 else 'es' if sheet.rows.endswith('x') else 's'}"
