"""How sheets come out on paper: size, direction, footer, repeated headings, and strips for what is too wide for a page."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from msgspec import Struct
from xlsxwriter.utility import xl_col_to_name

from batch.writing.fast_sheet import ScheduleSheet, clean
from batch.writing.placed import TOTALS, quoted
from batch.writing.text_fit import DIGIT_PX

PAPER = {"letter": 1, "a4": 9}  # ECMA-376 part 1, 18.3.1.63, paperSize
INCHES = {"letter": (8.5, 11.0), "a4": (8.27, 11.69)}  # ANSI/ASME Y14.1 size A; ISO 216 A4, 210 x 297 mm. From memory
SIDE, TOP, FOOT = 0.4, 0.5, 0.6  # margins in inches
MOST_BREAKS = 1023  # page breaks that a sheet can hold, as common programs limit them
CELL_PX, SCREEN_DPI = 5, 96  # a column is its digits and these pixels wide (ECMA-376 part 1, 18.3.1.13)
SPARE = 0.98  # programs measure a little differently
WIDER = 1.1  # as much wider may type and columns be, on a machine without our font, on what is printed to a page of its own
STRIP = 205.0  # digits across one printed page of a wide sheet: about 6 points of type on Letter landscape (common practice: not less)
LEGIBLE = 160.0  # digits across one that words are not spread beyond: 7 points of type there


class Footer(Struct, frozen=True):
    """What stands at the foot of every printed page. The file goes by the name that it has when it is printed, renamed or not."""

    revision: str = ""
    paper: str = "letter"

    def text(self) -> str:
        """Header-and-footer codes (ECMA-376 part 1, 18.3.1.46). An & of a revision is doubled, since one alone would be a code; the whole
        holds at most 255 characters.
        """
        right = _plain(f"revision {self.revision}" if self.revision else "", 60)
        return "&L&8 &F&C&8 &A, page &P of &N" + (f"&R&8 {right}" if right else "")


def _plain(text: str, room: int) -> str:
    """One line of `text`, cut to `room` characters, safe among the codes."""
    line = " ".join(clean(text).split())
    return (line if len(line) <= room else line[: room - 1] + "…").replace("&", "&&")


class Scaled(Struct, frozen=True):
    """Paper on which columns of `widths` (digits) come out one page wide at a scale of their own: programs that fit a sheet to a page
    leave out its page breaks. `wider`: how much wider they may turn out on a machine with other fonts and still fit.
    """

    paper: str
    landscape: bool
    widths: tuple[float, ...]
    wider: float = 1.0

    @property
    def percent(self) -> int:
        wide = sum(int(width * DIGIT_PX + CELL_PX) for width in self.widths) / SCREEN_DPI
        return max(10, min(100, int(SPARE * 100 * (self._across - 2 * SIDE) / (wide * self.wider))))

    @property
    def inches_high(self) -> float:
        """Height of what one page takes, before it is scaled."""
        return (INCHES[self.paper][0 if self.landscape else 1] - TOP - FOOT) * 100 / self.percent * SPARE

    @property
    def _across(self) -> float:
        return INCHES[self.paper][1 if self.landscape else 0]


def print_scaled(worksheet: ScheduleSheet, paper: Scaled, breaks: Sequence[int]) -> None:
    """Prints at the paper's scale, a new page before each row of `breaks` (0-based); call it after `print_setup`. With more breaks than a
    sheet can hold, pages run on.
    """
    worksheet.set_print_scale(paper.percent)
    if 0 < len(breaks) <= MOST_BREAKS:
        worksheet.set_h_pagebreaks(list(breaks))


def print_setup(
    worksheet: ScheduleSheet, footer: Footer, *, first_repeat: int, last_repeat: int, last_col: int, last_row: int, landscape: bool = True
) -> None:
    """Paper, direction, one page wide, repeated rows, footer."""
    if landscape:
        worksheet.set_landscape()
    worksheet.set_paper(PAPER[footer.paper])
    worksheet.set_margins(left=SIDE, right=SIDE, top=TOP, bottom=FOOT)
    worksheet.fit_to_pages(1, 0)
    if last_repeat >= first_repeat >= 0:
        worksheet.repeat_rows(first_repeat, last_repeat)
    worksheet.print_area(0, 0, last_row, last_col)
    worksheet.set_footer(footer.text())


def print_strips(worksheet: ScheduleSheet, cuts: Sequence[tuple[int, int]], keys: int, last_row: int) -> None:
    """A sheet too wide for one readable page prints in strips, each one page wide, with its first `keys` columns on every strip."""
    if len(cuts) == 1:
        return
    if keys:
        worksheet.repeat_columns(0, keys - 1)
    name = quoted(worksheet.get_name())
    # The stock call takes one area only; several stand as a list in the same defined name.
    worksheet.print_area_range = ",".join(
        f"{name}!${xl_col_to_name(first)}${TOTALS + 1 if first else 1}:${xl_col_to_name(last)}${last_row + 1}" for first, last in cuts
    )


def strips(
    widths: Sequence[float],
    keys: int,
    pages: Callable[[Sequence[tuple[int, int]]], int] = len,
    room: float = STRIP,
    least: float = 0.0,
) -> list[tuple[int, int]]:
    """First and last column of each strip: as few as fit into `room`, then as even as columns allow without more of `pages`, and without a
    first one narrower than `least`, which what stands above it needs."""
    best = _filled(widths, keys, room)
    while room > 1:
        closer = _filled(widths, keys, room - 1)
        if closer != best and (len(closer) != len(best) or pages(closer) > pages(best) or sum(widths[: closer[0][1] + 1]) < least):
            break
        best, room = closer, room - 1
    return best


def _filled(widths: Sequence[float], keys: int, room: float) -> list[tuple[int, int]]:
    """Strips filled one after the other; every strip but the first carries the key columns too."""
    cuts, first, used = [], 0, 0.0
    for at, width in enumerate(widths):
        if at > max(first, keys) and used + width > room:
            cuts.append((first, at - 1))
            first, used = at, sum(widths[:keys])
        used += width
    return [*cuts, (first, len(widths) - 1)]
