"""One-line diagrams: a diagram for each feeder, one below the other, with ways to and from the feeders' table."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import partial
from io import BytesIO
from math import ceil
from operator import eq
from typing import NamedTuple

from xlsxwriter.utility import xl_rowcol_to_cell

from batch.counted_words import counted
from batch.drawings.drawing_list import DOTS_PER_INCH as DRAWN
from batch.drawings.kept_drawings import recalled
from batch.drawings.one_line import draw_feeder
from batch.drawings.one_line_words import Fed, feds_of
from batch.drawings.schematic import Picture
from batch.results import JobResult
from batch.schedules.hanging import hangs_on
from batch.schedules.row_words import earthed
from batch.writing.book import Book
from batch.writing.fast_sheet import clean
from batch.writing.paper import WIDER, Footer, Scaled, print_scaled, print_setup
from batch.writing.placed import Placed, quoted
from batch.writing.sheet_frame import head_of

NAME = "One-line diagrams"
HELP = "Each feeder from source to heater panels, with the fault current at each point. The name above a diagram leads to its row."
WIDTHS = (124.0,)  # a diagram is 118 digits wide
FIRST = 3  # 0-based row of the first diagram's name
ROW_PX, NAME_PX, DOTS_PER_INCH = 20, 26, 96
MOST = 120  # sheets of diagrams in a workbook: a plant of fifty feeders; more make it slow to open


class Diagrams(NamedTuple):
    """The sheet: its tab, the cell above each diagram by (project, feeder), and the feeders that are not drawn."""

    name: str
    cells: Mapping[tuple[str, str], str]
    not_drawn: Sequence[str]


def write_one_lines(
    book: Book, result: JobResult, feeders: Placed, *, rows: Sequence[Mapping], footer: Footer, us: bool | None
) -> Diagrams | None:
    """The sheet of diagrams; None where no feeder has anything to draw. `feeders` is where their table stands, `rows` are its rows."""
    feds = list(feds_of(result, us))
    if not feds:
        return None
    name = book.tab_name(NAME)
    worksheet = book.add_worksheet(name)
    head_of(book, worksheet, NAME, HELP)
    worksheet.set_column(0, 0, WIDTHS[0])
    paper = Scaled(footer.paper, True, WIDTHS, WIDER)
    room = int(paper.inches_high * DOTS_PER_INCH)
    back = {(row["project"] or "", row["feeder"]): feeders.cell("feeder", at) for at, row in enumerate(rows)}
    cells: dict[tuple[str, str], str] = {}
    breaks: list[int] = []
    not_drawn: list[str] = []
    row, used, sheets = FIRST, (FIRST + 1) * ROW_PX, 0
    for fed in feds:
        own, feeder = fed.project.project.project, fed.row.feeder.feeder
        pictures: tuple[Picture, ...] = ()
        if sheets < MOST:
            pictures = recalled((own, feeder, us), looked_at(fed), eq, partial(draw_feeder, fed))
        sheets += len(pictures)
        if not pictures:
            not_drawn.append(feeder)
        for number, picture in enumerate(pictures):
            height = picture.height_px * DOTS_PER_INCH / DRAWN
            if row > FIRST and used + NAME_PX + height + ROW_PX > room:
                breaks.append(row)
                used = 0
            most = room - used - NAME_PX - 2 * ROW_PX
            scale = min(1.0, most / height)  # one that is taller than its page is made smaller
            worksheet.set_row(row, NAME_PX * 0.75)
            project = f"{own}: " if len(result.projects) > 1 and own else ""
            if number == 0:
                worksheet.write_url(
                    row, 0, f"internal:{back[own, feeder]}", book.styles["link"], clean(f"{project}{feeder}; back to its row")
                )
                cells[own, feeder] = f"{quoted(name)}!{xl_rowcol_to_cell(row, 0)}"
            else:
                worksheet.write_string(row, 0, clean(f"{project}{feeder}, sheet {number + 1}"), book.styles["subtitle"])
            worksheet.insert_image(
                row + 1, 0, "one-line.png",
                {"image_data": BytesIO(picture.png), "description": picture.alt, "object_position": 2, "x_scale": scale, "y_scale": scale},
            )  # fmt: skip
            high = ceil(height * scale / ROW_PX) + 1
            row += high + 1
            used += NAME_PX + high * ROW_PX
    if not_drawn:
        more = counted(len(not_drawn), "more feeder")
        words = f"Not drawn, the workbook would open slowly: {more}, from {not_drawn[0]} on; see Distribution."
        worksheet.write_string(row, 0, clean(words), book.styles["subtitle"])
        row += 1
    print_setup(worksheet, footer, first_repeat=-1, last_repeat=-2, last_col=0, last_row=row - 1)
    print_scaled(worksheet, paper, breaks)
    return Diagrams(name, cells, not_drawn)


def looked_at(fed: Fed) -> tuple[object, ...]:
    """All that a diagram is drawn from: the feeder's own, and of its project what is so for every feeder or is said of this one."""
    project, feeder = fed.project, fed.row.feeder.feeder
    return *fed[1:], project.symbols, project.wording, project.said_once, hangs_on(project, feeder, fed.banks), earthed(project, feeder)


def link_feeders(feeders: Placed, rows: Sequence[Mapping], drawn: Diagrams) -> None:
    """Leads from each feeder's tag to its diagram."""
    for at, row in enumerate(rows):
        cell = drawn.cells.get((row["project"] or "", row["feeder"]))
        if cell is not None:
            feeders.link("feeder", at, cell, "its one-line diagram")
