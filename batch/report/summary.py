"""Summary of one project: what someone who did not run the tool needs to know, on a page."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from xlsxwriter.utility import xl_rowcol_to_cell

from batch.findings import Severity
from batch.report.book import Book
from batch.report.schedule_sheet import clean
from batch.report.sheet_writer import Footer, print_setup, quoted
from batch.report.styles import STYLES, WORD_STYLES
from batch.results import JobResult, ProjectResult

WIDTHS = (20, 12, 12, 12, 12, 12, 12, 14, 14, 14)
LINE_COLOURS = ("#2F4A43", "#B0793A", "#6B7FA3")  # A, B, C: told apart by the legend's words too


def write_summary(book: Book, name: str, result: JobResult, project: ProjectResult, cautions: Sequence[str], footer: Footer) -> None:
    """Adds the sheet `name` for one project."""
    sheet = book.add_worksheet(name)
    page = _Page(book, sheet)
    record = project.project
    label = record.project or "the only project"
    page.title(f"Summary: {label}", ", ".join(filter(None, (record.title, record.customer, record.site))))
    page.facts(
        [
            ("Revision", record.revision or "not given"),
            ("Prepared by", record.prepared_by or "not given"),
            ("Date", record.date or "not given"),
            ("Code basis", result.code_titles.get(project.rule_set, project.rule_set)),
        ]
    )
    page.figures(_figures(project))
    page.feeders(project)
    page.types(project)
    page.findings([said for said in result.findings if said.project == record.project])
    page.settings(project)
    page.sentences("Cautions", cautions)
    page.finish(footer)


def _figures(project: ProjectResult) -> list[tuple[str, float, str]]:
    banks = project.banks
    return [
        ("Tanks", len({row.bank.tank for row in banks}), "count"),
        ("Banks", len(banks), "count"),
        ("Heaters", sum(row.bank.quantity for row in banks), "count"),
        ("Branch panels", sum(len(row.panels) for row in banks), "count"),
        ("Panel types", len(project.types), "count"),
        ("Connected (kW)", sum(row.design.connected_kw for row in banks), "kw"),
        ("Delivered (kW)", sum(row.design.delivered_kw for row in banks), "kw"),
        ("Demand (kW)", sum(row.demand_kw for row in project.feeders), "kw"),
    ]


class _Page:
    def __init__(self, book: Book, sheet) -> None:
        self._book, self._styles, self._sheet, self._row = book, book.styles, sheet, 0
        for at, width in enumerate(WIDTHS):
            sheet.set_column(at, at, width)
        sheet.hide_gridlines(2)

    def title(self, title: str, under: str) -> None:
        self._sheet.set_row(0, 26)
        self._sheet.write_string(0, 0, clean(title), self._styles["title"])
        self._sheet.write_string(1, 0, clean(under), self._styles["subtitle"])
        self._row = 3

    def section(self, words: str) -> None:
        self._row += 1
        self._sheet.set_row(self._row, 18)
        self._sheet.write_string(self._row, 0, words, self._styles["section"])
        for at in range(1, len(WIDTHS)):
            self._sheet.write_blank(self._row, at, None, self._styles["section"])
        self._row += 1

    def facts(self, pairs: list[tuple[str, str]]) -> None:
        for label, text in pairs:
            self._sheet.write_string(self._row, 0, label, self._styles["label"])
            self._sheet.write_string(self._row, 1, clean(str(text)), self._styles["plain"])
            self._row += 1

    def figures(self, figures: list[tuple[str, float, str]]) -> None:
        self.section("What it comes to")
        from batch.report.styles import FORMATS

        for at, (label, value, format) in enumerate(figures):
            self._sheet.write_string(self._row, at + (at > 0), label, self._styles.of({**STYLES["label"], "text_wrap": True}))
            self._sheet.write_number(
                self._row + 1, at + (at > 0), value, self._styles.of({**STYLES["figure"], "num_format": FORMATS[format]})
            )
        self._sheet.set_row(self._row + 1, 20)
        self._row += 2

    def table(self, headings: list[str], rows: list[list], formats: list[str], roles: list[str]) -> int:
        """Writes a small table at the left; returns its first data row."""
        for at, heading in enumerate(headings):
            self._sheet.write_string(self._row, at, heading, self._styles.head(roles[at]))
        self._sheet.set_row(self._row, 28)
        first = self._row + 1
        for row in rows:
            self._row += 1
            for at, value in enumerate(row):
                style = self._styles.cell(roles[at], formats[at])
                if value is None or value == "":
                    self._sheet.write_blank(self._row, at, None, style)
                elif isinstance(value, str):
                    self._sheet.write_string(self._row, at, clean(value), style)
                else:
                    self._sheet.write_number(self._row, at, value, style)
        self._row += 1
        return first

    def feeders(self, project: ProjectResult) -> None:
        if not project.feeders:
            return
        self.section("Feeders")
        headings = [
            "Feeder",
            "Volts (V)",
            "Connected (kW)",
            "Demand (kW)",
            "I A (A)",
            "I B (A)",
            "I C (A)",
            "I N (A)",
            "Unbalance (%)",
            "Device (A)",
        ]
        rows = [
            [
                row.feeder.feeder,
                row.feeder.volts_v,
                row.connected_kw,
                row.demand_kw,
                row.lines.a,
                row.lines.b,
                row.lines.c,
                row.lines.n,
                row.unbalance_pct,
                row.device.rating_a if row.device else None,
            ]
            for row in project.feeders
        ]
        formats = ["text", "volts", "kw", "kw", "amps", "amps", "amps", "amps", "percent", "rating"]
        roles = [
            "text",
            "input",
            "calculation",
            "calculation",
            "calculation",
            "calculation",
            "calculation",
            "calculation",
            "calculation",
            "result",
        ]
        first = self.table(headings, rows, formats, roles)
        self._chart(first, len(rows), [row.feeder.feeder for row in project.feeders])

    def _chart(self, first: int, count: int, feeders: list[str]) -> None:
        chart = self._book.add_chart({"type": "column"})
        name = quoted(self._sheet.get_name())

        def column(at: int) -> str:
            return f"={name}!{xl_rowcol_to_cell(first, at, True, True)}:{xl_rowcol_to_cell(first + count - 1, at, True, True)}"

        for at, phase in enumerate("ABC"):
            chart.add_series(
                {
                    "name": f"line {phase}",
                    "categories": column(0),
                    "values": column(4 + at),
                    "fill": {"color": LINE_COLOURS[at]},
                    "gap": 80,
                }
            )
        chart.set_title({"name": "Amps per line", "name_font": {"size": 10, "bold": True}})
        chart.set_y_axis({"name": "A", "major_gridlines": {"visible": True, "line": {"color": "#D9DEDC"}}, "num_format": "#,##0"})
        chart.set_x_axis({"num_font": {"size": 8}})
        chart.set_legend({"position": "bottom"})
        chart.set_size({"width": 880, "height": 220})
        words = f"Columns: amps in lines A, B and C of {count} feeder{'s' if count != 1 else ''}; the figures stand in the table above."
        self._sheet.insert_chart(self._row, 0, chart, {"description": words, "x_offset": 4, "y_offset": 6, "object_position": 2})
        self._row += 14

    def types(self, project: ProjectResult) -> None:
        if not project.types:
            return
        self.section("Branch panels by type")
        rows = [
            [row.type, len(row.tags), row.design.heaters, row.design.branches, row.design.lines.greatest, row.design.feed_device.rating_a]
            for row in project.types
        ]
        self.table(
            ["Type", "Quantity (ea)", "Heaters each (ea)", "Branches each (ea)", "Greatest line (A)", "Feed device (A)"],
            rows,
            ["text", "count", "count", "count", "amps", "rating"],
            ["text", "result", "calculation", "calculation", "calculation", "result"],
        )

    def findings(self, findings: list) -> None:
        self.section("Findings")
        if not findings:
            self._sheet.write_string(self._row, 0, "None.", self._styles["plain"])
            self._row += 1
            return
        counts = Counter((said.severity, said.code, said.kind.title) for said in findings)
        for (severity, code, title), count in sorted(counts.items(), key=lambda item: (item[0][0], -item[1], item[0][1])):
            style = (
                self._styles.of({**STYLES["plain"], **STYLES[WORD_STYLES[severity.word]]})
                if severity is not Severity.NOTE
                else self._styles["plain"]
            )
            self._sheet.write_string(self._row, 0, severity.word, style)
            self._sheet.write_number(self._row, 1, count, self._styles.of({**STYLES["plain"], "num_format": "#,##0", "align": "left"}))
            self._sheet.write_string(self._row, 2, code, self._styles["plain"])
            self._sheet.write_string(self._row, 5, title, self._styles["plain"])
            self._row += 1

    def settings(self, project: ProjectResult) -> None:
        self.section("Settings used")
        for setting in project.settings:
            self._sheet.write_string(self._row, 0, setting.name, self._styles["label"])
            self._sheet.write_string(self._row, 2, clean(setting.value), self._styles["strong"])
            self._sheet.write_string(self._row, 4, "given" if setting.given else "default", self._styles["plain"])
            self._sheet.write_string(self._row, 5, clean(setting.why), self._styles["plain"])
            self._row += 1

    def sentences(self, heading: str, sentences: Sequence[str]) -> None:
        if not sentences:
            return
        self.section(heading)
        for sentence in sentences:
            self._sheet.merge_range(self._row, 0, self._row, len(WIDTHS) - 1, "", self._styles["wrap"])
            self._sheet.write_string(self._row, 0, sentence, self._styles["wrap"])
            self._sheet.set_row(self._row, 12.5 * (1 + int(len(sentence) / (sum(WIDTHS) * 1.05))) + 2)
            self._row += 1

    def finish(self, footer: Footer) -> None:
        print_setup(self._sheet, footer, -1, -2, len(WIDTHS) - 1, self._row - 1)
        self._sheet.fit_to_pages(1, 0)
