"""Read first: what the workbook is, how to read it, what it was made from, whether it agrees with itself, what it is not."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from batch.findings import Severity
from batch.report.book import Book
from batch.report.schedule_sheet import clean
from batch.report.sheet_writer import Footer, Placed, print_setup, quoted
from batch.report.styles import ROLE_WORDS
from batch.results import JobResult

NAME = "Read first"
WIDTHS = (26, 16, 78)

LEGEND = {
    "input": "What the job workbook gave. Blue.",
    "calculation": "Worked out on the way: currents, margins, totals. Plain.",
    "result": "What is bought, built or wired to. Bold.",
    "text": "Tags, reasons, sources.",
}
STATUS_WORDS = (
    ("sized", "Sized; nothing speaks against it."),
    ("sized, look", "Sized, with a caution: read it on Findings before you use the row."),
    ("do not build", "Sized and counted in every total, so that the totals stay on the safe side, but must not be built so."),
    ("not sized", "Could not be sized; in no total. As received and Findings say why."),
)
HOW = (
    "Start with Summary: what the job comes to. Then Findings, worst first: each says what to do.",
    "Banks has one row for each bank of heaters, Panels one for each branch panel, Circuits one for each branch circuit, "
    "Feeders one for each supply.",
    "Totals stand above the headings and total the rows that a filter shows. Percent columns hold 25 for 25 %.",
    "Many figures are live formulas on the row's own inputs and on Code basis. Panel splits, choices of wire and findings are not: "
    "after a change, size the job workbook again.",
    "Code basis names every factor and table value with its source. Checks compares the workbook with itself.",
)
IS_NOT = (
    "This workbook does not replace the electrical code in force at the site, the authority having jurisdiction, or the licensed "
    "engineer or electrician who answers for the work. Every figure is to be checked by them before anything is bought, built or "
    "energized.",
    "It does not read drawings, survey a site, judge an area for explosion hazard, or certify an assembly.",
)


class Contents(NamedTuple):
    """One line of the list of sheets."""

    name: str
    rows: str
    help: str


def write_read_first(
    book: Book,
    result: JobResult,
    contents: Sequence[Contents],
    left_out: Sequence[str],
    checks: Placed | None,
    cautions: Sequence[str],
    footer: Footer,
    *,
    stamp: str,
    program: str,
    us: bool,
) -> None:
    """Fills the sheet `Read first`, which must have been added first. Links are only ever our own words."""
    page = _Page(book)
    page.title("Immersion heater banks, sized", f"Made from {result.job.name}")
    page.section("Does the workbook agree with itself?")
    page.flag(checks, result)
    page.section("Findings")
    for severity, text in zip(
        Severity,
        ("must be put right before the row is built, or left the row out", "sized; look before use", "assumed or chosen for you"),
        strict=True,
    ):
        count = sum(1 for said in result.findings if said.severity is severity)
        page.line(f"{severity.word}s", count, text)
    page.section("Sheets")
    for entry in contents:
        page.link(entry)
    if left_out:
        page.text("Left out, since this job has nothing to put there", ", ".join(left_out))
    page.section("How to read it")
    for sentence in HOW:
        page.wide(sentence)
    page.section("Legend")
    for role, text in LEGEND.items():
        page.legend(role, text)
    for word, text in STATUS_WORDS:
        page.status(word, text)
    page.section("Made from")
    page.text("Workbook read", result.job.name)
    page.text("SHA-256 of that file", result.job.digest)
    for one in result.projects:
        label = one.project.project or "the only project"
        page.text(
            "Project",
            ", ".join(filter(None, (label, one.project.title, f"revision {one.project.revision}" if one.project.revision else ""))),
        )
        page.text("Code basis", result.code_titles.get(one.rule_set, one.rule_set))
    page.text("Program", program)
    page.text("Run", stamp or "no run stamp was given")
    page.text("Units shown", "US customary where they differ" if us else "SI")
    page.section("Cautions")
    for caution in cautions:
        page.wide(caution)
    page.section("What this is not")
    for sentence in IS_NOT:
        page.wide(sentence)
    page.finish(footer)


class _Page:
    """Three columns filled from top to bottom."""

    def __init__(self, book: Book) -> None:
        self._styles, self._row = book.styles, 0
        self._sheet = book.get_worksheet_by_name(NAME)
        for at, width in enumerate(WIDTHS):
            self._sheet.set_column(at, at, width)
        self._sheet.hide_gridlines(2)

    def title(self, title: str, under: str) -> None:
        self._sheet.set_row(0, 26)
        self._sheet.write_string(0, 0, title, self._styles["title"])
        self._sheet.write_string(1, 0, clean(under), self._styles["subtitle"])
        self._row = 2

    def section(self, words: str) -> None:
        self._row += 1
        self._sheet.set_row(self._row, 18)
        self._sheet.write_string(self._row, 0, words, self._styles["section"])
        for at in (1, 2):
            self._sheet.write_blank(self._row, at, None, self._styles["section"])
        self._row += 1

    def flag(self, checks: Placed | None, result: JobResult) -> None:
        """PASS or FAIL over all of Checks, as a live formula."""
        failed = sum(1 for check in result.checks if not check.passes)
        self._sheet.write_string(self._row, 0, "All checks together", self._styles["label"])
        if checks is None:
            self._sheet.write_string(self._row, 1, "NO CHECKS", self._styles["strong"])
        else:
            formula = f'=IF(COUNTIF({checks.range("verdict")},"PASS")={_count(checks)},"PASS","FAIL")'
            self._sheet.write_formula(self._row, 1, formula, self._styles["strong"], "FAIL" if failed else "PASS")
            self._sheet.conditional_format(
                self._row,
                1,
                self._row,
                1,
                {"type": "cell", "criteria": "==", "value": '"FAIL"', "format": self._styles.conditional("is_stop")},
            )
            self._sheet.conditional_format(
                self._row,
                1,
                self._row,
                1,
                {"type": "cell", "criteria": "==", "value": '"PASS"', "format": self._styles.conditional("is_good")},
            )
        self._sheet.write_string(
            self._row, 2, "FAIL: the figures of this workbook do not add up; do not use it before the cause is found.", self._styles["wrap"]
        )
        self._row += 1

    def line(self, label: str, count: int, text: str) -> None:
        self._sheet.write_string(self._row, 0, label, self._styles["label"])
        self._sheet.write_number(self._row, 1, count, self._styles.of({**_number(), "bold": True}))
        self._sheet.write_string(self._row, 2, text, self._styles["wrap"])
        self._row += 1

    def link(self, entry: Contents) -> None:
        """The tab's name may hold the customer's words, so the link sits on our own word beside it."""
        self._sheet.write_string(self._row, 0, entry.name, self._styles["strong"])
        self._sheet.write_url(self._row, 1, f"internal:{quoted(entry.name)}!A1", self._styles["link"], "go there")
        self._sheet.write_string(self._row, 2, f"{entry.rows}. {entry.help}" if entry.rows else entry.help, self._styles["wrap"])
        self._row += 1

    def text(self, label: str, text: str) -> None:
        self._sheet.write_string(self._row, 0, label, self._styles.of({**_label(), "text_wrap": True}))
        self._sheet.merge_range(self._row, 1, self._row, 2, "", self._styles["wrap"])
        self._sheet.write_string(self._row, 1, clean(text), self._styles["wrap"])
        self._row += 1

    def wide(self, sentence: str) -> None:
        self._sheet.merge_range(self._row, 0, self._row, 2, "", self._styles["wrap"])
        self._sheet.write_string(self._row, 0, sentence, self._styles["wrap"])
        room = sum(WIDTHS) * 1.05
        self._sheet.set_row(self._row, 12.5 * (1 + int(len(sentence) / room)) + 2)
        self._row += 1

    def legend(self, role: str, text: str) -> None:
        self._sheet.write_string(self._row, 0, ROLE_WORDS[role], self._styles.head(role))
        self._sheet.write_string(self._row, 1, "like this", self._styles.cell(role, "prose"))
        self._sheet.write_string(self._row, 2, text, self._styles["wrap"])
        self._row += 1

    def status(self, word: str, text: str) -> None:
        from batch.report.styles import STYLES, WORD_STYLES

        self._sheet.write_string(self._row, 0, word, self._styles.of({**_label(), **STYLES[WORD_STYLES[word]]}))
        self._sheet.write_string(self._row, 2, text, self._styles["wrap"])
        self._row += 1

    def finish(self, footer: Footer) -> None:
        print_setup(self._sheet, footer, -1, -2, 2, self._row - 1, landscape=False)
        self._sheet.activate()


def _count(checks: Placed) -> str:
    return f'COUNTIF({checks.range("verdict")},"PASS")+COUNTIF({checks.range("verdict")},"FAIL")'


def _label() -> dict:
    from batch.report.styles import STYLES

    return dict(STYLES["label"])


def _number() -> dict:
    from batch.report.styles import STYLES

    return {**STYLES["plain"], "num_format": "#,##0", "align": "left"}
