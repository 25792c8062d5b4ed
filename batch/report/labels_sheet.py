"""Panel labels, laid out to be printed: one block for each panel type, as many whole blocks as a page takes."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from batch.results import PanelDesign, ProjectResult
from batch.schedules.row_words import size_or_words
from batch.sheets import Sheet
from batch.writing.book import Book
from batch.writing.page import ONE_LINE, Page
from batch.writing.paper import Footer, Scaled, print_scaled, print_setup
from batch.writing.sheet_writer import converter
from batch.writing.styles import HEAD_RESULT, STOP_FILL, STOP_INK, STYLES, Props
from batch.writing.text_fit import lines, row_height

NAME = "Panel labels"
HELP = "One label for each panel type, to print and fix inside the doors of its panels. Check each against the panel as built."
WIDTHS = (24.0, 29.0, 26.0, 28.0)
MOST_TAGS = 60  # on one label
POINTS = 72  # to the inch
WARNING = "MORE THAN ONE LIVE CIRCUIT. Disconnect every source, lock out and prove dead before service."
COVERED = "Never energize one that is not covered by liquid. Reset a limit only once its cause is put right."
ALONE = "nothing else at the same tank in this job"
TOP: Props = {"top": 2, "top_color": HEAD_RESULT}
BAR: Props = {"bold": True, "font_color": STOP_INK, "bg_color": STOP_FILL, "valign": "vcenter"}


def write_labels(
    book: Book, projects: Sequence[ProjectResult], sheet: Sheet, rows: Sequence[Mapping], footer: Footer, us: bool
) -> tuple[str, int]:
    """Writes the sheet from the rows of the list of labels (`sheet` declares them); returns its tab and how many labels stand on it."""
    name = book.tab_name(NAME)
    page = Page(book, book.add_worksheet(name), WIDTHS)
    page.title(NAME, HELP)
    page.row += 1
    kinds = {(one.project.project, kind.type): kind for one in projects for kind in one.types}
    paper = Scaled(footer.paper, False, WIDTHS)
    room = paper.inches_high * POINTS
    breaks: list[int] = []
    top = 0.0  # points above the page at hand
    for row in rows:
        kind = kinds[row["project"] or "", row["type"]]
        first, before = page.row, page.points
        _label(page, row, kind.tags, kind.design, _torques(sheet, row, us), several=len(projects) > 1)
        if page.points - top > room and before > top:
            breaks.append(first)
            top = before
        page.height(9)
        page.row += 1
    print_setup(page.sheet, footer, -1, -2, page.last_column, page.row - 2, landscape=False)
    print_scaled(page.sheet, paper, breaks)
    return name, len(rows)


def _torques(sheet: Sheet, row: Mapping, us: bool) -> str:
    """Both torques in the unit shown, each said to be missing where no source gives it."""
    words = []
    for key, what in (("torque_nm", "branch terminals"), ("panel_feeder_torque_nm", "panel feeder terminals")):
        value, change = row[key], converter(sheet[key], us)
        unit = sheet[key].shown_unit(us)
        shown = "as marked" if value is None else f"{round(change(value) if change else value, 1):g} {unit}"
        words.append(f"{what} {shown}")
    return ", ".join(words)


def _label(page: Page, row: Mapping, tags: Sequence[str], panel: PanelDesign, torques: str, several: bool) -> None:
    shown = ", ".join(tags[:MOST_TAGS]) + (f" and {len(tags) - MOST_TAGS:,} more" if len(tags) > MOST_TAGS else "")
    for at in range(page.last_column + 1):
        page.sheet.write_blank(page.row, at, None, page.style({**STYLES["title"], **TOP}))
    page.text(0, row["type"], {**STYLES["title"], **TOP})
    title = f"Heater panel for immersion heaters, {row['volts']}" + (f"; project {row['project']}" if several else "")
    page.text(1, title, {**STYLES["strong"], **TOP, "valign": "vcenter"})
    page.height(27)
    page.row += 1
    for at in range(page.last_column + 1):
        page.sheet.write_blank(page.row, at, None, page.style({**STYLES["plain"], **BAR}))
    page.text(0, WARNING, {**STYLES["plain"], **BAR})
    page.height(19.5)
    page.row += 1
    for label, words in (
        ("Panels", shown),
        ("Branches", f"{row['branches']}, {panel.connection}"),
        ("Replace branch OCPDs by", row["replace"]),
        ("Panel feeder", f"{row['feed']}, EGC {size_or_words(panel.panel_feeder_wires.ground)}"),
        ("Branch wires", f"{row['branch_wire']}, EGC {size_or_words(panel.branch.wires.ground)}"),
        ("Torque", f"{torques}; {row['torque_from']}"),
        ("Short-circuit rating", row["sccr"]),
        ("Live when this is open", f"all else at its tank: {row['panels']}" if row["panels"] else ALONE),
        ("Heaters", COVERED),
    ):
        _line(page, label, words)
    page.height(6)
    for at in range(page.last_column + 1):
        page.sheet.write_blank(page.row, at, None, page.style({**STYLES["plain"], "bottom": 1, "bottom_color": HEAD_RESULT}))
    page.row += 1


def _line(page: Page, label: str, words: str) -> None:
    page.text(0, label, "label")
    page.spread(1, words, "strong" if label != "Heaters" else "plain")
    count = lines(words, sum(WIDTHS[1:]), bold=label != "Heaters")
    page.height(max(ONE_LINE, row_height(count)))
    page.row += 1
