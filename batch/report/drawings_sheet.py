"""Panel drawings: the schematic of each panel type, two beside each other on a printed page, with ways to and from the types' table."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from io import BytesIO
from math import ceil
from typing import NamedTuple

from xlsxwriter.utility import xl_rowcol_to_cell

from batch.drawings.drawing_list import DOTS_PER_INCH as DRAWN
from batch.drawings.drawing_list import WIDTH as DRAWING_WIDTH
from batch.drawings.schematic import Picture, draw_all, draw_legend
from batch.results import ProjectResult
from batch.schedules.country_words import in_us
from batch.schedules.fuse_places import device_ahead_in_full
from batch.schedules.row_words import band_words
from batch.writing.book import Book
from batch.writing.fast_sheet import ScheduleSheet, clean
from batch.writing.paper import WIDER, Footer, Scaled, print_scaled, print_setup
from batch.writing.placed import Placed, quoted
from batch.writing.sheet_frame import head_of
from batch.writing.styles import STYLES, Props
from batch.writing.text_fit import INDENT, lines, row_height

NAME = "Panel drawings"
HELP = "One drawing for each panel type, from its design. The name above a drawing leads back to the type's row."
WIDTHS = (61.0, 1.0, 63.0)  # a drawing is 58.3 digits wide; programs do not all make columns quite so wide
LEFT, RIGHT = 0, 2
FIRST = 3  # 0-based row of the first drawing's name
ROW_PX, NAME_PX = 20, 26  # heights of a plain row and of a name's row; 96 pixels to the inch
DOTS_PER_INCH = 96
LEGEND_PX = 2 * DRAWING_WIDTH  # dots across: of two drawings beside each other
BAND_STYLE: Props = {**STYLES["strong"], **STYLES["is_stop"], "text_wrap": True}


class Drawn(NamedTuple):
    """The sheet of drawings: its tab, and the cell above each drawing by (project, type)."""

    name: str
    cells: Mapping[tuple[str, str], str]


def write_drawings(
    book: Book, projects: Sequence[ProjectResult], types: Placed, *, rows: Sequence[Mapping], footer: Footer, us: bool | None
) -> Drawn:
    """The sheet of drawings. `types` is where the types' table stands, `rows` are its rows. One picture for each type, each made once."""
    name = book.tab_name(NAME)
    worksheet = book.add_worksheet(name)
    head_of(book, worksheet, NAME, HELP)
    for at, width in enumerate(WIDTHS):
        worksheet.set_column(at, at, width)
    back = {(row["project"] or "", row["type"]): types.cell("type", at) for at, row in enumerate(rows)}
    pages = _Pages(book, worksheet, name, Scaled(footer.paper, True, WIDTHS, WIDER))
    for project in projects:
        if not project.types:
            continue
        own = project.project.project
        if len(projects) > 1:
            pages.project(own)
        pictures = draw_all(
            project.types, in_us(project, us), project.symbols, project.wording, own,
            ahead={kind.type: device_ahead_in_full(project, kind.design.panel_feeder_device, kind.tags) for kind in project.types},
        )  # fmt: skip
        counts = {kind.type: len(kind.tags) for kind in project.types}
        bands = {kind.type: band_words(kind.hold) for kind in project.types}
        pages.legend(draw_legend(pictures.values(), project.symbols, LEGEND_PX, project.wording))
        for kind, picture in pictures.items():
            panels = f"{counts[kind]:,} panel{'' if counts[kind] == 1 else 's'}"
            pages.place((own, kind), f"{kind}: {panels}; back to its row", picture, back[own, kind], bands[kind])
        pages.end_row()
    print_setup(worksheet, footer, first_repeat=-1, last_repeat=-2, last_col=RIGHT, last_row=pages.last)
    print_scaled(worksheet, pages.paper, pages.breaks)
    return Drawn(name, pages.cells)


def link_types(types: Placed, rows: Sequence[Mapping], drawn: Drawn) -> None:
    """Leads from each type's name to its drawing."""
    for at, row in enumerate(rows):
        types.link("type", at, drawn.cells[row["project"] or "", row["type"]], "its drawing")


class _Pages:
    """Places drawings two beside each other and begins a page where the next two would not fit."""

    def __init__(self, book: Book, worksheet: ScheduleSheet, name: str, paper: Scaled) -> None:
        self._book, self._worksheet, self._name, self.paper = book, worksheet, name, paper
        self.cells: dict[tuple[str, str], str] = {}
        self.breaks: list[int] = []
        self._room = int(paper.inches_high * DOTS_PER_INCH)
        self._row, self._used, self._side, self._tall = FIRST, FIRST * ROW_PX + ROW_PX, LEFT, 0
        self._held: list[tuple[tuple[str, str], str, Picture, str, str]] = []
        self._fresh = True  # nothing stands on this page yet but the sheet's title or a project's

    @property
    def last(self) -> int:
        return self._row - 1

    def project(self, project: str) -> None:
        """A project begins on a page of its own."""
        if not self._fresh:
            self._break()
        for at in range(RIGHT + 1):
            self._worksheet.write_blank(self._row, at, None, self._book.styles["section"])
        self._worksheet.write_string(self._row, LEFT, clean(f"Project {project}"), self._book.styles["section"])
        self._row, self._used = self._row + 2, self._used + 2 * ROW_PX

    def legend(self, picture: Picture) -> None:
        """What the symbols mean, ahead of the drawings, over both columns."""
        self._worksheet.insert_image(
            self._row, LEFT, "drawing.png", {"image_data": BytesIO(picture.png), "description": picture.alt, "object_position": 2},
        )  # fmt: skip
        rows = ceil(picture.height_px * DOTS_PER_INCH / DRAWN / ROW_PX) + 1
        self._row, self._used = self._row + rows, self._used + rows * ROW_PX

    def place(self, key: tuple[str, str], words: str, picture: Picture, back: str, band: str) -> None:
        """`band`: what stands above a drawing that is not released for fabrication; "" = it is."""
        self._held.append((key, words, picture, back, band))
        if len(self._held) == 2:
            self.end_row()

    def end_row(self) -> None:
        """Sets the drawings at hand beside each other."""
        if not self._held:
            return
        heights = [picture.height_px * DOTS_PER_INCH / DRAWN for _, _, picture, _, _ in self._held]
        banded = max(lines(band, WIDTHS[LEFT] - INDENT, True) if band else 0 for _, _, _, _, band in self._held)
        band_px = ceil(row_height(banded) / 0.75) if banded else 0
        if not self._fresh and self._used + band_px + NAME_PX + max(heights) + ROW_PX > self._room:
            self._break()
        most = self._room - self._used - band_px - NAME_PX - 2 * ROW_PX
        scales = [min(1.0, most / height) for height in heights]  # one that is taller than its page is made smaller
        rows = ceil(min(max(heights), most) / ROW_PX) + 1
        if banded:
            self._worksheet.set_row(self._row, band_px * 0.75)
            for column, (_, _, _, _, band) in zip((LEFT, RIGHT), self._held, strict=False):
                if band:
                    self._worksheet.write_string(self._row, column, clean(band), self._book.styles.of(BAND_STYLE))
            self._row, self._used = self._row + 1, self._used + band_px
        self._worksheet.set_row(self._row, NAME_PX * 0.75)
        for column, scale, (key, words, picture, back, _) in zip((LEFT, RIGHT), scales, self._held, strict=False):
            self._worksheet.write_url(self._row, column, f"internal:{back}", self._book.styles["link"], words)
            self._worksheet.insert_image(
                self._row + 1, column, "drawing.png",
                {"image_data": BytesIO(picture.png), "description": picture.alt, "object_position": 2, "x_scale": scale, "y_scale": scale},
            )  # fmt: skip
            self.cells[key] = f"{quoted(self._name)}!{xl_rowcol_to_cell(self._row, column)}"
        self._row += rows + 1
        self._used += NAME_PX + rows * ROW_PX
        self._held, self._fresh = [], False

    def _break(self) -> None:
        self.breaks.append(self._row)
        self._used, self._fresh = 0, True
