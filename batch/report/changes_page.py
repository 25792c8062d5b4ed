"""What changed: the page that a manager reads aloud. Every figure has a way to the rows behind it."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence

from batch.comparing.changeset import BeforeAfter, Order, Side, Twin, is_number
from batch.comparing.history import History
from batch.comparing.sentences import Sentence, moved, sentences
from batch.report.changes_rows import fate_of, feeders_of, orders_of
from batch.results import Check
from batch.sheets.received import WHAT_CHANGED
from batch.writing.book import Book
from batch.writing.page import Page
from batch.writing.paper import Footer, print_setup
from batch.writing.placed import Placed
from batch.writing.styles import STYLES
from batch.writing.text_fit import INDENT, lines, row_height

WIDTHS = (26.0, 15.0, 15.0, 15.0, 9.0, 40.0, 12.0)
UNIT, WORDS, LINK = 4, 5, 6
ONE_PAGE = 1060.0  # points that still print readably on one page (common practice: type not under 6 points)
ALWAYS = ("tanks", "heaters", "connected_kw", "panels", "maximum_a", "holds", "cautions", "price")  # shown whether they moved or not
ASIDE = {**STYLES["plain"], "align": "left", "indent": 1}
SEEN = 0.005  # of money: less is shown as 0.00
MOST = 6  # lines of a table of differences on this page; the sheets have them all
SUMS = {"heaters": "heaters", "connected_kw": "kw", "branches": "branches", "panels": "panels"}  # figure -> columns of Rows
BEHIND = {  # figure -> sheet and column that its rows are behind
    **dict.fromkeys(("projects", "tanks", "banks", "not_sized"), ("rows", "fate")),
    **{figure: ("rows", f"{column}_after") for figure, column in SUMS.items()},
    **dict.fromkeys(("delivered_kw", "single_circuits"), ("changes", "column")),
    "feeders": ("feeders", "fate"),
    "demand_kw": ("feeders", "demand_after"),
    "maximum_a": ("feeders", "maximum_after"),
    "types": ("types", "change"),
    **dict.fromkeys(("holds", "cautions", "notes"), ("findings", "severity")),
    **dict.fromkeys(("price", "hours", "open"), ("materials", "priced")),
}
DEFERS = (
    "This page compares two lists and what sizing makes of them. It does not replace the electrical code in force at the site, the "
    "authority having jurisdiction, or the licensed engineer or electrician who answers for the work: they check every change first."
)


def _summed(parts: Iterable[tuple[str, str, str, float]]) -> dict[tuple[str, str, str], float]:
    """Project, currency and cause -> what it moved; without those that moved nothing to be seen."""
    found: dict[tuple[str, str, str], float] = {}
    for project, currency, cause, amount in parts:
        found[project, currency, cause] = found.get((project, currency, cause), 0.0) + amount
    return {key: amount for key, amount in found.items() if abs(amount) >= SEEN}


class ChangesPage:
    """Fills the first sheet, which was added to the book before all others; `placed`: the sheets that stand, by short name."""

    def __init__(self, book: Book, history: History, placed: Mapping[str, Placed], us: bool) -> None:
        self.page = Page(book, book.get_worksheet_by_name(WHAT_CHANGED), WIDTHS)
        self.compared, self.history, self.placed, self.us = history.whole, history, placed, us

    def fill(self, footer: Footer, stamp: str, program: str) -> None:
        page, compared = self.page, self.compared
        old, new = compared.called
        page.title(f"{WHAT_CHANGED}: {new} against {old}", "Read from top to bottom; each line leads to the rows behind it.")
        self._flag(compared.checks)
        page.section("In words")
        subject = ""
        for sentence in sentences(compared, self.us):
            self._sentence(sentence, "" if sentence.subject == subject else sentence.subject)
            subject = sentence.subject
        self._totals([figure for figure in compared.figures if not figure.project and (figure.key in ALWAYS or moved(figure))])
        self._several([figure for figure in compared.figures if figure.project])
        self._money()
        types = [order for order in orders_of(compared, "panel_types") if order.verdict != "same"]
        self._differences("Heater panels by type", "Type", types, "types", self._type)
        feeders = [twin for twin in feeders_of(compared) if fate_of(twin) != "unchanged"]
        self._differences("Maximum feeder currents", "Feeder", feeders, "feeders", self._feeder)
        page.section("What was compared")
        self._side("Before", compared.old)
        self._side("After", compared.new)
        self._fact("Compared by", ", ".join(filter(None, (program, stamp))) or "not stated")
        page.section("What this is not")
        self._spread(DEFERS)
        page.row += 1
        print_setup(page.sheet, footer, first_repeat=-1, last_repeat=-2, last_col=page.last_column, last_row=page.row - 1, landscape=False)
        page.sheet.fit_to_pages(1, 1 if page.points <= ONE_PAGE else 0)

    def _flag(self, checks: Sequence[Check]) -> None:
        """Whether the comparison agrees with itself; live on Checks."""
        page, placed = self.page, self.placed.get("checks")
        if placed is None:
            return
        verdicts = placed.range("verdict")
        stored = "PASS" if all(check.passes for check in checks) else "FAIL"
        page.row += 1
        page.text(0, "Rows and totals reconcile", "label")
        page.words_rule(1, {"PASS": "is_good", "FAIL": "is_stop"})
        page.sheet.write_formula(page.row, 1, f'=IF(COUNTIF({verdicts},"FAIL")>0,"FAIL","PASS")', page.styles["strong"], stored)
        self._link("checks", "check")
        page.row += 1

    def _sentence(self, sentence: Sentence, label: str) -> None:
        self.page.text(0, label, "label")
        self._spread(self.compared.wording.of(sentence.words), 1, WORDS)
        if sentence.leads_to in self.placed:
            self._link(sentence.leads_to, "")
        self.page.row += 1

    def _spread(self, words: str, first: int = 0, last: int = LINK) -> None:
        """A sentence over the columns, its row as tall as it needs."""
        self.page.spread(first, words, "plain", last)
        count = lines(words, sum(WIDTHS[first : last + 1]))
        if count > 1:
            self.page.height(row_height(count))

    def _link(self, sheet: str, key: str, at: int | None = None) -> None:
        """The way to the rows: the sheet, or one row of it."""
        placed = self.placed.get(sheet)
        if placed is None:
            return
        column = key if key in placed.columns else next(iter(placed.columns))
        self.page.link(LINK, placed.name, placed.cell(column, at or 0).rpartition("!")[2], placed.name)

    def _heads(self, words: Sequence[str]) -> None:
        page = self.page
        for at, word in enumerate(words):
            role = "result" if word == "Difference" else "calculation" if word in ("Before", "After") else "text"
            page.sheet.write_string(page.row, at, word, page.styles.head(role, number=role != "text"))
        page.row += 1

    def _numbers(self, before: float | None, after: float | None, format: str, formulas: Sequence[str] = ("", "")) -> None:
        """Before, after and their live difference in columns B to D of the current row; a word where there is no figure."""
        page = self.page
        for column, value, formula in zip((1, 2), (before, after), formulas, strict=True):
            if value is None:
                page.text(column, "none", {**STYLES["label"], "align": "right"})
            else:
                page.number(column, value, format, formula=formula)
        if before is not None and after is not None:
            page.number(3, after - before, format, "strong", formula=f"=C{page.row + 1}-B{page.row + 1}")

    def _totals(self, figures: Sequence[BeforeAfter]) -> None:
        page = self.page
        page.section("Before and after")
        self._heads(("Figure", "Before", "After", "Difference", "Unit"))
        for figure in figures:
            page.text(0, self.compared.wording.heading(figure.heading, figure.unit))
            self._numbers(figure.before, figure.after, figure.format, self._live(figure))
            page.text(UNIT, figure.unit, ASIDE)
            self._link(*BEHIND[figure.key])
            page.row += 1

    def _live(self, figure: BeforeAfter) -> tuple[str, str]:
        """Formulas over the rows behind a figure; "" where it is no plain sum of a column."""
        rows, column = self.placed.get("rows"), SUMS.get(figure.key)
        if rows is None or column is None or figure.project:
            return "", ""
        before, after = (rows.range(f"{column}_{side}") for side in ("before", "after"))
        return f'=SUMIFS({before},{before},">=0")', f'=SUMIFS({after},{after},">=0")'

    def _several(self, figures: Sequence[BeforeAfter]) -> None:
        """Projects apart, where there are several."""
        if not figures:
            return
        self.page.section("Project by project")
        self._heads(("Project", "Before", "After", "Difference", "Unit", "Figure"))
        for figure in figures:
            if figure.difference is None or abs(figure.difference) <= figure.close:
                continue
            self.page.text(0, figure.project)
            self._numbers(figure.before, figure.after, figure.format)
            self.page.text(UNIT, figure.unit, ASIDE)
            self.page.text(WORDS, self.compared.words_of(figure.project).heading(figure.heading, figure.unit), ASIDE)
            self._link(*BEHIND[figure.key])
            self.page.row += 1

    def _money(self) -> None:
        """What moved the money: of the priced parts by cause, of the price by step; one currency at a time."""
        compared = self.compared
        for heading, sheet, own in (
            ("Priced parts by cause", "money", _summed((move.project, move.currency, move.cause, move.moved) for move in compared.moves)),
            ("Price before tax by cause", "price", _summed((one.project, one.currency, one.step, one.moved) for one in compared.steps)),
        ):
            if not own:
                continue
            self.page.section(heading)
            self._heads(("Cause", "", "", "Difference", "", "Project" if compared.several else ""))
            for (project, currency, cause), moved_by in own.items():
                self.page.spread(0, compared.words_of(project).of(cause), "plain", 2)
                self.page.number(3, moved_by, "money", "strong")
                self.page.text(UNIT, currency, ASIDE)
                self.page.text(WORDS, project if compared.several else "", ASIDE)
                self._link(sheet, "")
                self.page.row += 1

    def _type(self, order: Order) -> None:
        self.page.text(0, f"{order.project} {order.name}" if self.compared.several else order.name)
        self._numbers(order.before, order.after, "count")
        self.page.text(UNIT, order.verdict, ASIDE)
        self._words("; ".join(part.strip().partition(" (")[0] for part in order.words.split(";")[1:3]))

    def _words(self, words: str) -> None:
        words = self.compared.wording.of(words)
        self.page.text(WORDS, words, {**ASIDE, "text_wrap": True})
        self.page.fit((words, WIDTHS[WORDS] - INDENT))

    def _feeder(self, twin: Twin) -> None:
        before, after = twin.before or {}, twin.after or {}
        self.page.text(0, twin.names.words(self.compared.several))
        was, now = before.get("maximum_a"), after.get("maximum_a")
        self._numbers(was if is_number(was) else None, now if is_number(now) else None, "amps")
        self.page.text(UNIT, "A", ASIDE)
        device = [f"{row['device_a']:g} A, {row['wire']}" if row.get("device_a") else "none" for row in (before, after)]
        self._words(f"still {device[1]}" if device[0] == device[1] else f"{device[0]} → {device[1]}")

    def _differences(self, heading: str, first: str, things: Sequence, sheet: str, one: Callable) -> None:
        """A short table of what differs; on its own sheet the same things stand first and in the same order."""
        if not things:
            return
        page = self.page
        page.section(heading)
        self._heads((first, "Before", "After", "Difference", "", ""))
        for place, thing in enumerate(things[:MOST]):
            one(thing)
            self._link(sheet, first.casefold(), place)
            page.row += 1
        if len(things) > MOST:
            page.text(0, f"and {len(things) - MOST} more", "label")
            self._link(sheet, first.casefold())
            page.row += 1

    def _side(self, label: str, side: Side) -> None:
        words = [side.file, f"revision {side.revision}" if side.revision else "no revision given", *side.codes]
        if side.program:
            words.append(f"sized by {side.program}")
        self._fact(label, ", ".join(words))

    def _fact(self, label: str, words: str) -> None:
        self.page.text(0, label, "label")
        self.page.spread(1, words)
        self.page.row += 1
