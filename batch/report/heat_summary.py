"""The heat check on a Summary: how many tanks have heat enough, the worst of them, and a chart of need against installed."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence

from xlsxwriter.utility import xl_rowcol_to_cell

from batch.counted_words import counted as in_number
from batch.heat_results import ENOUGH, NEVER, NOT_JUDGED, VERDICTS
from batch.report.column_chart import COLOURS, column_chart
from batch.report.summary_formulas import Lookups
from batch.writing.fast_sheet import clean
from batch.writing.page import Page
from batch.writing.styles import STYLES, WORD_STYLES
from batch.writing.text_fit import INDENT, lines, row_height

WORST = 12  # tanks that are listed and drawn
NEED_AT, INSTALLED_AT = 1, 4
TABLE = (  # heading, key on Heat, number format, role
    ("Tank", "tank", "text", "text"),
    ("Need (kW)", "need_kw", "two_figures", "result"),
    ("at least (kW)", "low_kw", "two_figures", "calculation"),
    ("at most (kW)", "high_kw", "two_figures", "calculation"),
    ("Installed (kW)", "installed_kw", "kw", "input"),
    ("One branch out (kW)", "one_out_kw", "kw", "calculation"),
    ("Installed / need (%)", "over_pct", "percent", "calculation"),
    ("Hours to heat up (h)", "hours_h", "two_figures", "result"),
    ("Verdict", "verdict", "prose", "result"),
    ("Would do", "would_do", "prose", "result"),
)


def write_heat(page: Page, rows: Sequence[Mapping], unjudged: int, live: Lookups) -> None:
    """`rows` are the project's rows of Heat; `unjudged` its tanks that could not be judged, where Heat was left out."""
    if not rows and not unjudged:
        return
    page.section("Is it enough heat?")
    if not rows:
        page.spread(0, f"No tank could be judged, of {unjudged}: their sizes and temperatures are not known. Findings says what to ask.")
        page.row += 1
        return
    _counts(page, rows, live)
    worst = sorted((row for row in rows if row["verdict"] != NOT_JUDGED), key=_badness)[:WORST]
    if not worst:
        return
    if len(worst) < sum(row["verdict"] != NOT_JUDGED for row in rows):
        page.text(0, f"{in_number(len(worst), 'tank')} with the least heat for the need; Heat has them all.", "subtitle")
        page.row += 1
    first = _table(page, worst, live)
    _chart(page, first, len(worst))


def _badness(row: Mapping) -> tuple:
    return row["verdict"] != NEVER, row["over_pct"] is None or row["over_pct"] == "", row["over_pct"] or 0.0


def _counts(page: Page, rows: Sequence[Mapping], live: Lookups) -> None:
    """A label above each number of tanks, the worst verdict first."""
    counted = Counter(row["verdict"] for row in rows)
    column = 0
    for verdict in (*(word for word in VERDICTS if word not in (ENOUGH, NOT_JUDGED)), ENOUGH, NOT_JUDGED):
        page.text(column, verdict, "label")
        look = STYLES["figure"]
        if counted[verdict] and verdict not in (ENOUGH, NOT_JUDGED):
            look = {**look, "font_color": STYLES[WORD_STYLES[verdict]]["font_color"]}
        page.number(column, counted[verdict], "count", look, formula=live.counted("heat", "verdict", verdict), row=page.row + 1)
        column += 2
    page.height(21, page.row + 1)
    page.row += 2
    if counted[NOT_JUDGED]:
        tanks = f"{counted[NOT_JUDGED]} of {in_number(len(rows), 'tank')}"
        page.text(0, f"{tanks} not judged: Heat says why, Findings which cell to ask about.", "subtitle")
        page.row += 1


def _table(page: Page, rows: Sequence[Mapping], live: Lookups) -> int:
    """The tanks, figures looked up on Heat. Returns the first row."""
    for at, (heading, _, format, role) in enumerate(TABLE):
        page.sheet.write_string(page.row, at, heading, page.styles.head(role, number=format not in ("text", "prose")))
    page.height(row_height(max(lines(column[0], width - INDENT, True) for column, width in zip(TABLE, page.widths, strict=False))) + 3)
    page.row += 1
    first = page.row
    for row in rows:
        for at, (_, key, format, role) in enumerate(TABLE):
            value, style = row[key], page.styles.cell(role, format, wrap=key in ("tank", "verdict"))
            cell = xl_rowcol_to_cell(page.row, 0, col_abs=True)
            if value is None or value == "":
                page.sheet.write_blank(page.row, at, None, style)
            elif isinstance(value, str):
                formula = live.words("heat", key, "tank", row["tank"], cell) if key == "verdict" else ""
                if formula:
                    page.sheet.write_formula(page.row, at, formula, style, value)
                else:
                    page.sheet.write_string(page.row, at, clean(value), style)
            elif formula := live.one("heat", key, "tank", row["tank"], cell):
                page.sheet.write_formula(page.row, at, formula, style, value)
            else:
                page.sheet.write_number(page.row, at, value, style)
        at = [column[1] for column in TABLE].index("verdict")
        page.fit((row["tank"], page.widths[0] - INDENT), (row["verdict"], page.widths[at] - 2 * INDENT))
        page.row += 1
    page.words_rule([column[1] for column in TABLE].index("verdict"), WORD_STYLES, first)
    return first


def _chart(page: Page, first: int, count: int) -> None:
    """Need beside installed, tank by tank, from the table whose rows begin at `first`."""
    tanks = f"{count} tank{'' if count == 1 else 's'}"
    words = f"Column chart of the heat needed by {tanks} beside what is installed, in kW; the table above has the figures."
    series = [("need", NEED_AT, COLOURS[1]), ("installed", INSTALLED_AT, COLOURS[0])]
    column_chart(page, first, count, series, unit="kW", gap=80, words=words)
