"""Summary of one project: what someone who did not run the tool needs to know, on a page."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from msgspec.structs import replace
from xlsxwriter.utility import xl_rowcol_to_cell

from batch.findings import Severity
from batch.material_lines import OPEN
from batch.money_results import Money
from batch.price.bid_totals import bid_totals
from batch.report.bid_words import fullest_feeders, money_words, project_words, worst_things
from batch.report.findings_groups import Group, grouped
from batch.report.heat_summary import write_heat
from batch.report.summary_chart import amps_chart
from batch.report.summary_formulas import Lookups
from batch.results import JobResult, PanelDesign, ProjectResult
from batch.schedules.country_words import of_one_country
from batch.schedules.row_words import NOT_SIZED
from batch.writing.book import Book
from batch.writing.fast_sheet import clean
from batch.writing.page import Page
from batch.writing.paper import Footer, print_setup
from batch.writing.placed import Placed
from batch.writing.styles import EDITED, LOOK_INK, STYLES, WORD_STYLES
from batch.writing.text_fit import INDENT, lines, row_height

WIDTHS = (15.0, 10.0, 11.0, 11.0, 10.0, 10.0, 10.0, 10.0, 14.0, 12.0, 17.0)
HALF = 5  # where the right half of the page begins
AS_SIZED = "all as they were sized"
PASSED, FAILED = "PASS: the workbook agrees with itself", "FAIL: see Checks"
ONE_PAGE = 1150.0  # points that still read well on one printed page: a scale of about 0.7

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
    ("Feeder OCPD (A)", "device_a", "rating", "result"),
    ("Status", "status", "prose", "result"),
)
FIRST_AMPS = 4  # column of I A
TYPE_TABLE = (  # heading, key on the Panel types sheet or of the type's design, number format, role
    ("Type", "type", "text", "text"),
    ("Panels (ea)", "quantity", "count", "result"),
    ("Heaters each (ea)", "heaters", "count", "calculation"),
    ("Branches each (ea)", "branches", "count", "calculation"),
    ("Volts (V)", "volts", "volts", "calculation"),
    ("Branch OCPD (A)", "rating", "rating", "result"),
    ("Maximum line current (A)", "maximum_a", "amps", "calculation"),
    ("Panel feeder OCPD (A)", "panel_feeder_device_a", "rating", "result"),
    ("Status", "status", "prose", "result"),
    ("Connection", "connection", "prose", "text"),
)


def write_summary(
    book: Book,
    name: str,
    result: JobResult,
    project: ProjectResult,
    *,
    placed: Mapping[str, Placed],
    rows: Mapping[str, Sequence[Mapping]],
    footer: Footer,
    most_pages: int = 0,
) -> None:
    """Fills the sheet `name`. `placed` and `rows` hold the schedules by sheet id; `rows` are this project's, findings apart.
    `most_pages`: how many it may print on, 0 = as many as it needs.
    """
    record = project.project
    wording, book.wording = book.wording, project.wording  # a page of one project, whatever the others are
    footer = replace(footer, paper=footer.paper if of_one_country(result) else project.country.paper)
    page = Page(book, book.get_worksheet_by_name(name), WIDTHS)
    page.title(f"Summary of {record.project or 'the project'}", ", ".join(filter(None, (record.title, record.customer, record.site))))
    live = Lookups(placed, record.project, several=len(result.projects) > 1)
    _facts(page, result, project, live)
    _bid(page, project, result.money, rows.get("findings", ()), placed)
    _figures(page, rows, live)
    _price(page, project, result.money, live)
    with page.together():
        write_heat(page, rows.get("heat", ()), sum(not row.judged for row in project.heat), live)
    feeders, types = rows.get("feeder_totals", ()), rows.get("panel_types", ())
    if feeders:
        with page.together():
            page.section("Feeders: amps in each line")
            first = _table(page, FEEDER_TABLE, feeders, live=live, sheet="feeder_totals", key="feeder")
            amps_chart(page, first, len(feeders), FIRST_AMPS)
    _findings(page, grouped(rows.get("findings", ()), [record.project]), placed.get("findings"))
    ends = [page.row]
    if types:
        designs = {kind.type: kind.design for kind in project.types}
        with page.together():
            page.section("Heater panels by type")
            _table(page, TYPE_TABLE, [_with_design(row, designs[row["type"]]) for row in types], live=live, sheet="panel_types", key="type")
    ends.append(page.row)
    _settings(page, project)
    ends.append(page.row)
    page.section("Cautions that go with every job")
    for words, _ in project.country.cautions:
        page.spread(0, words)
        page.fit((words, sum(WIDTHS)))
        page.row += 1
    print_setup(page.sheet, footer, first_repeat=-1, last_repeat=-2, last_col=page.last_column, last_row=page.row - 1, landscape=False)
    if page.points <= ONE_PAGE and not most_pages:
        page.sheet.fit_to_pages(1, 1)
        page.sheet.center_horizontally()
    else:
        page.print_in_whole_blocks(footer.paper, most_pages, ends[::-1])
    book.wording = wording


def _facts(page: Page, result: JobResult, project: ProjectResult, live: Lookups) -> None:
    record = project.project
    left = (("Revision", record.revision), ("Prepared by", record.prepared_by), ("Date", record.date))
    code = result.code_titles.get(project.rule_set, project.rule_set)
    right = (("Code basis", code), ("Made from", result.job.name), ("Checks", ""))
    for (label, words), (other, more) in zip(left, right, strict=True):
        page.text(0, label, "label")
        page.text(1, words or "not given", "plain" if words else "label")
        page.text(HALF - 1, other, "label")
        page.spread(HALF, more)
        page.fit((more, sum(WIDTHS[HALF:])))
        page.row += 1
    verdicts = live.range("checks", "verdict")
    if not verdicts:
        page.text(HALF, "none were made", "strong", row=page.row - 1)
        return
    page.row -= 1
    stored = FAILED if any(not check.passes for check in result.checks) else PASSED
    page.words_rule(HALF, {PASSED: "is_good", FAILED: "is_stop"})
    stated = f'COUNTIF({verdicts},"agrees")-COUNTIF({verdicts},"differs")'  # of totals that a list states
    formula = f'=IF(COUNTIF({verdicts},"<>PASS")-{stated}>0,"{FAILED}","{PASSED}")'
    page.sheet.write_formula(page.row, HALF, formula, page.styles["strong"], stored)
    page.row += 1
    words, formula = live.edited()
    if not formula:
        return
    page.text(HALF - 1, words, "label")
    page.over_nought_rule(HALF + 1)
    page.number(HALF + 1, 0, "count", {**STYLES["strong"], "align": "left"}, formula=formula)
    there = xl_rowcol_to_cell(page.row, HALF + 1, row_abs=True, col_abs=True)
    page.sheet.write_formula(page.row, HALF + 2, f'=IF({there}>0,"{EDITED}","{AS_SIZED}")', page.styles["label"], AS_SIZED)
    page.row += 1


def _bid(page: Page, project: ProjectResult, money: Money, listed: Sequence[Mapping], placed: Mapping[str, Placed]) -> None:
    """What the project is in words, and the worst of it."""
    page.section("In words")
    status, words = project_words(project, money)
    page.text(0, status, {**STYLES["strong"], **STYLES[WORD_STYLES[status]], "text_wrap": True})
    page.spread(2, words)
    page.fit((status, WIDTHS[0] * 0.9), (words, sum(WIDTHS[2:])))
    page.row += 1
    for one in worst_things(listed, [project], project.project.project, money):
        page.text(0, one.kind, "label")
        page.spread(2, one.words, last=page.last_column - 1)
        page.fit((one.words, sum(WIDTHS[2:-1])))
        if "findings" in placed:
            page.link(page.last_column, placed["findings"].name, placed["findings"].cell("kind", one.at).rpartition("!")[2], "open")
        page.row += 1
    full = fullest_feeders([project])
    if full:
        page.text(0, "fullest feeders", "label")
        page.spread(2, "; ".join(full))
        page.fit(("; ".join(full), sum(WIDTHS[2:])))
        page.row += 1


def _figures(page: Page, rows: Mapping[str, Sequence[Mapping]], live: Lookups) -> None:
    """The headline figures: a label above each number, the numbers live on the schedules."""
    banks, feeders = ([row for row in rows.get(id, ()) if row["status"] != NOT_SIZED] for id in ("banks", "feeder_totals"))
    sums = {key: sum(row[key] or 0 for row in banks) for key in ("quantity", "branches", "panels", "connected_kw", "delivered_kw")}
    figures = (
        ("Tanks", len({row["tank"] for row in banks}), "count", ""),
        ("Banks", len(banks), "count", live.count("banks", "quantity")),
        ("Heaters", sums["quantity"], "count", live.total("banks", "quantity")),
        ("Branches", sums["branches"], "count", live.total("banks", "branches")),
        ("Panels", sums["panels"], "count", live.total("banks", "panels")),
        ("Panel types", len(rows.get("panel_types", ())), "count", ""),
        ("Connected (kW)", sums["connected_kw"], "kw_0", live.total("banks", "connected_kw")),
        ("Delivered (kW)", sums["delivered_kw"], "kw_0", live.total("banks", "delivered_kw")),
        ("Demand (kW)", sum(row["demand_kw"] or 0 for row in feeders), "kw_0", live.total("feeder_totals", "demand_kw")),
    )
    page.section("What it comes to")
    for place, (label, value, format, formula) in enumerate(figures):
        column = place + (place > 6) + (place > 7)  # the kW figures are wide
        page.text(column, label, "label")
        page.number(column, value, format, "figure", formula=formula, row=page.row + 1)
    page.height(21, page.row + 1)
    page.row += 2


def _price(page: Page, project: ProjectResult, money: Money, live: Lookups) -> None:
    """The price, or where there is none what the priced parts come to; with what is open, which is never counted as nothing."""
    lines = project.materials
    prices = [line.price for line in lines if line.price is not None]
    if not prices:
        return
    missing = sum(line.status == OPEN for line in lines)
    whole = bid_totals(money, {project.project.project})
    currency = project.project.currency
    if whole is not None and whole.given and whole.price is not None:
        words, total, formula = "Price before tax", whole.price, live.total("prices", "price")
        label = f"{words}, at least" if missing else words
    else:
        label, total = "Parts, at least" if missing else "Price of parts", sum(prices)
        of_runs = live.total("runs", "price")
        formula = live.total("materials", "price") + (f"+{of_runs.removeprefix('=')}" if of_runs else "")
        formula = formula if live.total("materials", "price") else ""
    page.text(0, f"{label} ({currency})" if currency else label, "label")
    page.number(2, total, "money", {**STYLES["strong"], "align": "left"}, formula=formula)
    words = (
        f"{missing:,} line{'' if missing == 1 else 's'} open: on Materials and Runs, without a price, a length or hours"
        if missing
        else "every line of Materials and Runs has its price"
    )
    page.text(4, words, "plain" if not missing else {**STYLES["plain"], "font_color": LOOK_INK, "bold": True})
    page.row += 1
    if costs := money_words(money, {project.project.project}):
        page.spread(0, f"{costs[0].upper()}{costs[1:]}.")
        page.fit((costs, sum(WIDTHS)))
        page.row += 1


def _with_design(row: Mapping, design: PanelDesign) -> dict:
    return {**row, "volts": design.volts_v, "rating": design.branch.device.rating_a, "connection": design.connection}


def _table(page: Page, columns: tuple, rows: Sequence[Mapping], *, live: Lookups, sheet: str, key: str) -> int:
    """A small table from rows of a schedule; figures are looked up there, so that they follow it. Returns its first data row."""
    for at, (heading, _, format, role) in enumerate(columns):
        page.sheet.write_string(page.row, at, page.book.wording.of(heading), page.styles.head(role, number=format not in ("text", "prose")))
    page.height(row_height(max(lines(column[0], width - INDENT, True) for column, width in zip(columns, WIDTHS, strict=False))) + 3)
    page.row += 1
    first = page.row
    for row in rows:
        for at, (_, name, format, role) in enumerate(columns):
            value, style = row[name], page.styles.cell(role, format, wrap=at == 0 or name == "status")
            if value is None or value == "":
                page.sheet.write_blank(page.row, at, None, style)
            elif isinstance(value, str):
                page.sheet.write_string(page.row, at, clean(page.book.wording.of(value)), style)
            elif formula := live.one(sheet, name, key, row[key], xl_rowcol_to_cell(page.row, 0, col_abs=True)):
                page.sheet.write_formula(page.row, at, formula, style, value)
            else:
                page.sheet.write_number(page.row, at, value, style)
        wrapped = [at for at, (_, name, _, _) in enumerate(columns) if at == 0 or name == "status"]
        page.fit(*((str(row[columns[at][1]] or ""), WIDTHS[at] - INDENT) for at in wrapped), bold=True)
        page.row += 1
    for at, (_, name, _, _) in enumerate(columns):
        if name == "status" and rows:
            page.words_rule(at, WORD_STYLES, first)
    return first


def _findings(page: Page, groups: Sequence[Group], placed: Placed | None) -> None:
    """One line for each kind of finding, worst first, with its count and a link to the first of them."""
    page.section("Findings")
    if not groups:
        page.text(0, "None.")
        page.row += 1
        return
    for group in groups:
        look = {**STYLES["plain"], **(STYLES[WORD_STYLES[group.severity.word]] if group.severity is not Severity.NOTE else {})}
        page.text(0, group.severity.word, look)
        page.number(1, group.rows, "count", {**STYLES["plain"], "align": "left"})
        page.spread(2, group.words, last=page.last_column - 1)
        page.fit((group.words, sum(WIDTHS[2:-1])))
        if placed is not None:
            page.link(page.last_column, placed.name, placed.cell("kind", group.first).rpartition("!")[2], "open")
        page.row += 1


def _settings(page: Page, project: ProjectResult) -> None:
    """Every setting as used, in two columns: what the estimator gave, and what was assumed. Why stands on Findings."""
    page.section("Settings and assumptions")
    settings = project.settings
    half = -(-len(settings) // 2)
    for at in range(half):
        cells = []
        for name, value, word, place in ((0, 2, 4, at), (HALF, HALF + 3, HALF + 5, at + half)):
            if place < len(settings):
                setting = settings[place]
                page.text(name, setting.name, "label")
                page.spread(value, setting.value, "strong", last=word - 1)
                cells.append((setting.value, sum(WIDTHS[value:word])))
                page.text(word, "given" if setting.given else "assumed", "plain" if setting.given else "label")
        page.fit(*cells)
        page.row += 1
