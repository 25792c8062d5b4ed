"""Summary of one project: what someone who did not run the tool needs to know, on a page."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping

from xlsxwriter.utility import xl_rowcol_to_cell

from batch.findings import Finding, Severity
from batch.report.book import Book
from batch.report.page import Page
from batch.report.sheet_writer import Footer, Placed, print_setup, quoted
from batch.report.styles import STYLES, WORD_STYLES
from batch.report.summary_formulas import Lookups
from batch.report.text_fit import lines, row_height
from batch.results import JobResult, ProjectResult

WIDTHS = (17.0, 9.0, 11.0, 11.0, 9.5, 9.5, 9.5, 9.5, 11.0, 9.0, 11.0)
LINE_COLOURS = ("#2F4A43", "#B0793A", "#6B7FA3")  # lines A, B, C; the chart's legend says which is which
ONE_PAGE = 74  # rows that still read well on one printed page
CHART_ROWS, CHART_MOST = 11, 24  # rows that the chart covers; feeders above which it could not be read

FEEDER_TABLE = (  # heading, key on the Feeders sheet, number format, role
    ("Feeder", "feeder", "text", "text"),
    ("Volts (V)", "volts_v", "volts", "input"),
    ("Connected (kW)", "connected_kw", "kw", "calculation"),
    ("Demand (kW)", "demand_kw", "kw", "calculation"),
    ("I A (A)", "i_a", "amps", "calculation"),
    ("I B (A)", "i_b", "amps", "calculation"),
    ("I C (A)", "i_c", "amps", "calculation"),
    ("I N (A)", "i_n", "amps", "calculation"),
    ("Unbalance (%)", "unbalance_pct", "percent", "calculation"),
    ("Device (A)", "device_a", "rating", "result"),
    ("Status", "status", "prose", "result"),
)
TYPE_TABLE = (
    ("Type", "type", "text", "text"),
    ("Panels (ea)", "quantity", "count", "result"),
    ("Heaters each (ea)", "heaters", "count", "calculation"),
    ("Branches each (ea)", "branches", "count", "calculation"),
    ("Greatest line (A)", "greatest_a", "amps", "calculation"),
    ("Feed device (A)", "feed_device_a", "rating", "result"),
    ("Configuration", "configuration", "prose", "text"),
)


def write_summary(
    book: Book, name: str, result: JobResult, project: ProjectResult, placed: Mapping[str, Placed], rows: Mapping[str, list], footer: Footer
) -> None:
    """Fills the sheet `name`. `placed` and `rows` hold the schedules by sheet id, `rows` already narrowed to this project."""
    record = project.project
    page = Page(book, book.get_worksheet_by_name(name), WIDTHS)
    page.title(f"Summary of {record.project or 'the project'}", ", ".join(filter(None, (record.title, record.customer, record.site))))
    facts = (
        ("Project", record.project or "the only project"),
        ("Revision", record.revision or "not given"),
        ("Prepared by", record.prepared_by or "not given"),
        ("Date", record.date or "not given"),
        ("Code basis", result.code_titles.get(project.rule_set, project.rule_set)),
        ("Made from", result.job.name),
    )
    for label, words in facts:
        page.entry(label, words, 1, "plain")
    live = Lookups(placed, record.project, several=len(result.projects) > 1)
    _figures(page, rows, live)
    if rows.get("feeder_totals"):
        page.section("Feeders")
        first = _table(page, FEEDER_TABLE, rows["feeder_totals"], live, "feeder_totals", "feeder")
        _chart(page, first, len(rows["feeder_totals"]))
    if rows.get("panel_types"):
        page.section("Branch panels by type")
        _table(page, TYPE_TABLE, rows["panel_types"], live, "panel_types", "type")
    _findings(page, [said for said in result.findings if said.project == record.project], placed.get("findings"), rows.get("findings", []))
    _settings(page, project)
    page.section("Cautions that go with every job")
    for words, basis in result.cautions:
        _sentence(page, basis, words)
    print_setup(page.sheet, footer, -1, -2, page.last_column, page.row - 1, landscape=False)
    if page.row <= ONE_PAGE:
        page.sheet.fit_to_pages(1, 1)


def _figures(page: Page, rows: Mapping[str, list], live: Lookups) -> None:
    """The headline figures: a label above each number, the numbers live on the schedules."""
    banks, feeders = rows.get("banks", []), rows.get("feeder_totals", [])
    sums = {key: sum(row[key] or 0 for row in banks) for key in ("quantity", "branches", "panels", "connected_kw", "delivered_kw")}
    figures = (
        ("Tanks", len({row["tank"] for row in banks}), "count", ""),
        ("Banks", len(banks), "count", live.count("banks", "quantity")),
        ("Heaters", sums["quantity"], "count", live.total("banks", "quantity")),
        ("Branch circuits", sums["branches"], "count", live.total("banks", "branches")),
        ("Branch panels", sums["panels"], "count", live.total("banks", "panels")),
        ("Panel types", len(rows.get("panel_types", [])), "count", ""),
        ("Connected (kW)", sums["connected_kw"], "kw", live.total("banks", "connected_kw")),
        ("Delivered (kW)", sums["delivered_kw"], "kw", live.total("banks", "delivered_kw")),
        ("Demand (kW)", sum(row["demand_kw"] or 0 for row in feeders), "kw", live.total("feeder_totals", "demand_kw")),
    )
    page.section("What it comes to")
    for place, (label, value, format, formula) in enumerate(figures):
        column = place + (place > 0)
        page.text(column, label, {**STYLES["label"], "text_wrap": True, "valign": "bottom"})
        page.number(column, value, format, "figure", formula, row=page.row + 1)
    page.sheet.set_row(page.row, row_height(2))
    page.sheet.set_row(page.row + 1, 21)
    page.row += 2


def _table(page: Page, columns: tuple, rows: list, live: Lookups, sheet: str, key: str) -> int:
    """A small table from rows of a schedule; figures are looked up there, so that they follow it. Returns its first data row."""
    for at, (heading, _, _, role) in enumerate(columns):
        page.sheet.write_string(page.row, at, heading, page.styles.head(role))
    page.sheet.set_row(page.row, row_height(max(lines(column[0], width, True) for column, width in zip(columns, WIDTHS, strict=False))) + 3)
    page.row += 1
    first, wide = page.row, sum(WIDTHS[len(columns) - 1 :])
    for row in rows:
        for at, (_, name, format, role) in enumerate(columns):
            value, style = row[name], page.styles.cell(role, format)
            if value is None or value == "":
                page.sheet.write_blank(page.row, at, None, style)
            elif isinstance(value, str):
                page.sheet.write_string(page.row, at, value, style)
            elif formula := live.one(sheet, name, key, row[key], xl_rowcol_to_cell(page.row, 0, col_abs=True)):
                page.sheet.write_formula(page.row, at, formula, style, value)
            else:
                page.sheet.write_number(page.row, at, value, style)
        last = row[columns[-1][1]]
        if isinstance(last, str) and columns[-1][1] == "configuration":
            count = lines(last, wide)
            page.sheet.set_row(page.row, row_height(count))
        page.row += 1
    return first


def _chart(page: Page, first: int, count: int) -> None:
    """Amps of lines A, B and C of each feeder, side by side."""
    if count > CHART_MOST:
        page.text(0, f"No chart: {count} feeders would not be readable in one; the table above has every figure.", "subtitle")
        page.row += 1
        return
    chart = page.book.add_chart({"type": "column"})
    name = quoted(page.sheet.get_name())

    def column(at: int) -> str:
        return f"={name}!{xl_rowcol_to_cell(first, at, True, True)}:{xl_rowcol_to_cell(first + count - 1, at, True, True)}"

    for at, phase in enumerate("ABC"):
        chart.add_series(
            {"name": f"line {phase}", "categories": column(0), "values": column(4 + at), "fill": {"color": LINE_COLOURS[at]}, "gap": 90}
        )
    font = {"name": "Arial", "size": 8, "color": "#22282C"}
    chart.set_title({"name": "Amps in each line", "name_font": {**font, "size": 9, "bold": True}, "overlay": False})
    chart.set_y_axis(
        {
            "name": "A",
            "name_font": font,
            "num_font": font,
            "num_format": "#,##0",
            "min": 0,
            "major_gridlines": {"visible": True, "line": {"color": "#D9DEDC"}},
            "line": {"none": True},
        }
    )
    chart.set_x_axis({"num_font": font})
    chart.set_legend({"position": "right", "font": font})
    chart.set_size({"width": 845, "height": CHART_ROWS * 20 - 8})
    words = f"Column chart of the amps in lines A, B and C of {count} feeder{'' if count == 1 else 's'}; the table above has the figures."
    page.sheet.insert_chart(page.row, 0, chart, {"description": words, "x_offset": 2, "y_offset": 5, "object_position": 2})
    page.row += CHART_ROWS


def _findings(page: Page, said: list[Finding], placed: Placed | None, rows: list) -> None:
    """One line for each kind of finding, worst first, with its count and a link to the first of them."""
    page.section("Findings")
    if not said:
        page.text(0, "None.", "plain")
        page.row += 1
        return
    first = {}
    for at, row in enumerate(rows):
        first.setdefault(row["code"], at)
    counts = Counter((one.severity, one.code, one.kind.title) for one in said)
    for (severity, code, title), count in sorted(counts.items(), key=lambda item: (item[0][0], -item[1], item[0][1])):
        look = {**STYLES["plain"], **(STYLES[WORD_STYLES[severity.word]] if severity is not Severity.NOTE else {})}
        page.text(0, severity.word, look)
        page.number(1, count, "count", {**STYLES["plain"], "align": "left"})
        if placed is not None and code in first:
            page.link(2, placed.name, placed.cell("code", first[code]).rpartition("!")[2], "open")
        page.text(3, title, "plain")
        page.row += 1


def _settings(page: Page, project: ProjectResult) -> None:
    """Every setting as used: given by the estimator, or the default and why."""
    page.section("Settings and assumptions")
    for setting in project.settings:
        page.text(0, setting.name, {**STYLES["label"], "text_wrap": True})
        page.text(1, setting.value, "strong")
        page.text(4, "given" if setting.given else "assumed", "plain" if setting.given else "label")
        _spread(page, 5, "" if setting.given else setting.why)
        page.row += 1


def _sentence(page: Page, label: str, words: str) -> None:
    page.text(0, label, {**STYLES["label"], "text_wrap": True})
    _spread(page, 2, words, label)
    page.row += 1


def _spread(page: Page, column: int, words: str, label: str = "") -> None:
    """Words across the columns from `column` to the page's edge, broken into lines by hand, since text does not wrap across cells."""
    room = sum(WIDTHS[column:])
    parts = broken(words, room)
    page.text(column, "\n".join(parts), {**STYLES["plain"]}) if len(parts) == 1 else page.sheet.merge_range(
        page.row, column, page.row, page.last_column, "", page.styles["wrap"]
    )
    if len(parts) > 1:
        page.text(column, words, "wrap")
    count = max(len(parts), lines(label, WIDTHS[0]) if label else 1)
    if count > 1:
        page.sheet.set_row(page.row, row_height(count))


def broken(words: str, room: float) -> list[str]:
    """The words in lines of at most `room` digits."""
    out = [""]
    for word in words.split():
        longer = f"{out[-1]} {word}".strip()
        if out[-1] and lines(longer, room) > 1:
            out.append(word)
        else:
            out[-1] = longer
    return out
