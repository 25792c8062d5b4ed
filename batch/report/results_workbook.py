"""The results workbook, sheet by sheet in the order in which it is read."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from itertools import chain, islice
from pathlib import Path

from msgspec.structs import replace

from batch.errors import SpecificationError
from batch.report.code_names import code_names, define_names
from batch.report.data_sheet import write_data
from batch.report.findings_sheet import link_findings, point
from batch.report.kept_rows import KeptRows
from batch.report.print_sets import PrintSet, first_pages, leave_out, set_named, summary_pages
from batch.report.read_first import NAME as READ_FIRST
from batch.report.read_first import Contents, write_read_first
from batch.report.received_sheets import write_received
from batch.report.summary import write_summary
from batch.report.typed_in import offer
from batch.results import JobResult, ProjectResult
from batch.schedules import BY_ID, RESULTS, each_row
from batch.schedules.country_words import in_us, of_one_country, rows_in_words, shared_in_us, sheet_in, wording_of
from batch.schedules.sized_data import OwnCells, data_text
from batch.sheets import Sheet
from batch.sheets.received import read_back
from batch.whole_file import FileInTheMaking
from batch.writing.as_sized import count_edited
from batch.writing.book import Book, whole_book
from batch.writing.earlier_file import title_of_results
from batch.writing.fast_sheet import LAST_ROW, Live
from batch.writing.paper import Footer
from batch.writing.placed import DATA, Placed, Planned
from batch.writing.sheet_writer import ScheduleWriter

Rows = Callable[[JobResult, str], Iterable[dict]]
PROOF = ("code_basis", "checks")  # at the end, after what was received
ALLOWED = {"autofilter": True, "sort": True, "format_cells": True, "format_columns": True, "format_rows": True}
SCHEDULES = tuple(sheet.id for sheet in RESULTS if sheet.id not in (*PROOF, "findings"))
SUMMED_UP = ("banks", "panel_types", "feeder_totals", "heat")  # schedules that a Summary draws on
MONEY = ("prices", "price_views", "pricing_used", "buy_list", "builds", "materials", "runs")  # whose formulas rest on each other
IN_ONE_CURRENCY = {  # columns whose totals would add several currencies
    "materials": ("price",), "runs": ("price",), "heat": ("day_cost",), "builds": ("material",), "buy_list": ("amount", "left_amount"),
    "prices": (
        "builds", "parts", "material", "other", "tax", "freight", "shop", "field", "direct", "contingency", "overhead", "full", "price",
    ),
}  # fmt: skip
LOOKED_BACK_AT: dict[str, tuple[str, ...]] = {  # kept until the end, with these columns or whole; the others are let go as they are written
    **dict.fromkeys((*SUMMED_UP, "code_basis"), ()),
    "panels": ("project", "tank", "bank", "feeder", "findings"),  # no more than leads to findings
}
CURRENCY = "currency"  # unit of a column of money, where the job names none


def write(
    result: JobResult,
    path: Path,
    *,
    stamp: str = "",
    program: str = "",
    us: bool | None = False,
    paper: str = "letter",
    rows: Rows = each_row,
    print_set: str = "",
) -> FileInTheMaking:
    """Writes the whole results workbook to `path`, whole or not at all; returns where it landed.

    stamp     the labelled run stamp, the only thing in the file that may differ between equal runs; "" = none
    program   name and version, for Read first
    us        lengths, temperatures and torques in US units; None = as each project's country has them, SI where several share a sheet
    paper     "letter" or "a4"
    rows      rows of a sheet by column key; those of batch.schedules, one after the other, unless given
    print_set "manager", "estimator", "all": the sheets that print, see batch.report.print_sets; "" = none, every sheet in sight
    OutputFileError where the file cannot be written; whatever stood there is then untouched.
    """
    path = Path(path)
    revisions = dict.fromkeys(one.project.revision for one in result.projects if one.project.revision)
    footer = Footer(", ".join(revisions), paper)
    with whole_book(path, title_of_results(result.job.name)) as book:
        _Writer(book, result, rows, footer, us, set_named(print_set)).all_sheets(stamp, program)
    return book.part


def _without_total(sheet: Sheet, key: str) -> Sheet:
    """The sheet with no total above column `key`: prices in several currencies do not add up."""
    return replace(sheet, columns=tuple(replace(column, total="") if column.key == key else column for column in sheet.columns))


def _bought_in_several(result: JobResult) -> bool:
    """Whether parts of a job in one currency are priced in several: what they cost then adds up in its own on the other sheets alone."""
    own = next((one.project.currency or "" for one in result.projects), "")
    named = {(line.currency or own).strip().casefold() for line in result.money.buy if line.unit_price is not None}
    return len(named) > 1


def _in_currency(sheet: Sheet, currency: str) -> Sheet:
    """The sheet with the currency itself where its headings say "currency"."""
    if all(column.unit != CURRENCY for column in sheet.columns):
        return sheet
    return replace(sheet, columns=tuple(replace(one, unit=currency) if one.unit == CURRENCY else one for one in sheet.columns))


class _Writer:
    """The sheets of one results workbook. The first ones are added first and filled last, when it is known what they point at."""

    def __init__(self, book: Book, result: JobResult, rows: Rows, footer: Footer, us: bool | None, paper: PrintSet) -> None:
        self._paper = paper
        self._book, self._result, self._footer, self._asked_us = book, result, footer, us
        self._us = shared_in_us(result, us)
        self._wording = wording_of(result)
        self._wordings = {one.project.project: one.wording for one in result.projects}
        self._sheets: dict[str, Sheet] = {sheet.id: sheet_in(sheet, self._wordings.values()) for sheet in RESULTS}
        currencies = {project.project.currency or "" for project in result.projects}
        if len(currencies) == 1 and (currency := currencies.pop().strip()):
            self._sheets = {id: _in_currency(sheet, currency) for id, sheet in self._sheets.items()}
        if len({project.project.currency for project in result.projects}) > 1:
            for id, keys in IN_ONE_CURRENCY.items():
                for key in keys:
                    self._sheets[id] = _without_total(self._sheets[id], key)
        elif _bought_in_several(result):
            for key in IN_ONE_CURRENCY["buy_list"]:
                self._sheets["buy_list"] = _without_total(self._sheets["buy_list"], key)
        self._asked_rows = rows
        self._rows: dict[str, list] = {}
        self._placed: dict[str, Placed] = {}
        self._contents: list[Contents] = []
        self._left_out: list[str] = []
        self._names = code_names(result)
        self._spread: list[Placed] = []  # every sheet that a schedule fills
        self._ahead: dict[str, Planned] = {}
        self._whole: dict[str, Placed] = {}  # sheets that stand already, of one tab each
        self._kept = 0  # figures in columns of formulas

    def _rows_of(self, result: JobResult, id: str) -> Iterable[dict]:
        """Rows of a sheet, each in the words of its project."""
        return rows_in_words(self._asked_rows(result, id), self._sheets[id], self._wordings)

    def all_sheets(self, stamp: str, program: str) -> None:
        """Every sheet in its place: the first pages empty, the schedules, what was received, the proof; then the first pages are filled."""
        book, result = self._book, self._result
        book.wording = self._wording
        book.add_worksheet(book.tab_name(READ_FIRST))
        summaries = self._summary_tabs()
        self._plan_money()
        self._schedules(summaries)
        own = self._as_received()
        self._rows["checks"] = [*self._rows_of(result, "checks"), *self._edited_check()]
        for id in PROOF:
            self._schedule(id)
        offer(self._spread, self._placed, self._names)
        define_names(book, result, self._placed.get("code_basis"), self._rows.get("code_basis", ()), self._names)
        tabs = [worksheet.get_name() for worksheet in book.worksheets()]
        write_data(book, data_text(result, self._rows["banks"], self._rows["feeder_totals"], tabs, own), self._footer)
        pages = summary_pages(self._paper, len(summaries))
        for name, project in summaries:
            write_summary(book, name, result, project, placed=self._placed, rows=self._of(project), footer=self._footer, most_pages=pages)
        printed = self._printed([name for name, _ in summaries] if pages or not self._paper.brief else [])
        self._read_first(printed, stamp, program, first_pages(self._paper, len(summaries)))
        self._out_of_sight(printed)

    def _summary_tabs(self) -> list[tuple[str, ProjectResult]]:
        """The tabs of the projects' summaries, still empty."""
        tabs = []
        for project in self._result.projects:
            name = self._book.tab_name(f"Summary {project.project.project}".strip())
            self._book.add_worksheet(name)
            tabs.append((name, project))
            self._contents.append(Contents(name, "", "The project on a page: figures, feeders, panels, findings, assumptions."))
        return tabs

    def _schedules(self, summaries: Sequence[tuple[str, ProjectResult]]) -> None:
        """The declared sheets in order, the pages that are no schedule in between, and the findings, which lead to their rows."""
        for id in SCHEDULES:
            if id == "panel_labels":
                self._labels()
            self._schedule(id)
            if id == "panel_types":
                self._drawings()
            if id == "distribution":
                self._one_lines()
        names = {id: placed.name for id, placed in self._placed.items()}
        self._rows["findings"] = list(self._rows_of(self._result, "findings"))
        point(self._rows, names, {project.project.project: name for name, project in summaries})
        self._schedule("findings")
        link_findings(self._placed, self._rows, tuple(dict.fromkeys(project.rule_set for project in self._result.projects)))

    def _as_received(self) -> dict[str, OwnCells]:
        """What came in, sheet by sheet; the cells of ours among it, by tab."""
        own: dict[str, OwnCells] = {}
        for number, table in enumerate(self._result.job.received, 1):
            received = write_received(self._book, self._result, table, number, self._footer)
            if received is not None:
                own[received.name] = received.own
                rows = f"{received.rows:,} input row{'' if received.rows == 1 else 's'}"
                self._contents.append(Contents(received.name, rows, "As it came, with what became of each row."))
        return own

    def _read_first(self, printed: frozenset[str], stamp: str, program: str, pages: int) -> None:
        in_sight = printed if self._paper.hides else frozenset(worksheet.get_name() for worksheet in self._book.worksheets())
        write_read_first(
            self._book,
            self._result,
            self._contents,
            left_out=self._left_out,
            checks=self._placed.get("checks"),
            footer=self._footer,
            stamp=stamp,
            program=program,
            us=self._us,
            own_units=self._asked_us is None and not of_one_country(self._result),
            kept=self._kept,
            edited=count_edited(self._spread),
            findings=self._placed.get("findings"),
            listed=self._rows["findings"],
            printed=in_sight,
            pages=pages,
            places=self._placed,
        )

    def _out_of_sight(self, printed: frozenset[str]) -> None:
        """Sheets that do not print say so or are hidden; those from which nothing is read back are protected."""
        for worksheet in self._book.worksheets():
            if worksheet.get_name() not in printed and not worksheet.hidden:
                leave_out(worksheet, self._paper, self._book.styles["subtitle"])
            if not read_back(worksheet.get_name()) and not worksheet.hidden:
                worksheet.protect("", ALLOWED)  # no password: it only says that nothing typed here would come back

    def _plan_money(self) -> None:
        """Where the sheets of money will stand, since the formulas of each rest on others; one of several tabs is left to figures."""
        for id in MONEY:
            count = BY_ID[id].count(self._result)  # they are made when they are written
            if 0 < count <= LAST_ROW - DATA:
                self._ahead[id] = Planned(self._sheets[id], self._sheets[id].name, count)

    def _printed(self, summaries: Sequence[str]) -> frozenset[str]:
        """Tabs of the sheets that print."""
        if self._paper.sheets is None:
            return frozenset(worksheet.get_name() for worksheet in self._book.worksheets())
        spread = [placed.name for placed in self._spread if self._paper.holds(placed.sheet.id)]
        return frozenset((READ_FIRST, *summaries, *spread))

    def _schedule(self, id: str) -> None:
        """One declared sheet; left out, and said so, where the job has no row for it."""
        sheet = self._sheets[id]
        rows = self._rows[id] if id in self._rows else self._rows_of(self._result, id)
        note = None
        if id in LOOKED_BACK_AT:
            self._rows[id] = kept = KeptRows(LOOKED_BACK_AT[id])
            note = kept.keep
        known: dict[str, Placed | Planned] = {**self._whole, **self._ahead}
        writer = ScheduleWriter(
            self._book, sheet, self._footer, us=self._us, names=self._names, open_all=self._paper.unfolded, ahead=known, note=note
        )
        placed = writer.write(rows)
        if id in self._ahead and [(one.name, one.rows) for one in placed] != [(self._ahead[id].name, self._ahead[id].rows)]:
            raise SpecificationError(f"sheet {sheet.name} stands elsewhere than planned")
        self._kept += writer.kept
        if not placed:
            self._left_out.append(sheet.name)
            return
        self._placed[id] = placed[0]
        if len(placed) == 1:
            self._whole[id] = placed[0]
        self._spread += placed
        self._contents += [Contents(one.name, _counted(sheet, one.rows), sheet.help) for one in placed]

    def _drawings(self) -> None:
        """The schematics, where the project has panel types; what draws them is loaded only then."""
        types = self._placed.get("panel_types")
        if types is None:
            return
        from batch.report.drawings_sheet import HELP, link_types, write_drawings

        rows = self._rows["panel_types"]
        drawn = write_drawings(self._book, self._result.projects, types, rows=rows, footer=self._footer, us=self._asked_us)
        link_types(types, rows, drawn)
        self._contents.append(Contents(drawn.name, f"{len(drawn.cells):,} drawing{'' if len(drawn.cells) == 1 else 's'}", HELP))

    def _one_lines(self) -> None:
        """The one-line diagram of each feeder; what draws them is loaded only where there is one."""
        feeders = self._placed.get("feeder_totals")
        if feeders is None or not any(row.end is not None and row.end.ways for project in self._result.projects for row in project.feeders):
            return
        from batch.report.one_line_sheet import HELP, link_feeders, write_one_lines

        rows = self._rows["feeder_totals"]
        drawn = write_one_lines(self._book, self._result, feeders, rows=rows, footer=self._footer, us=self._asked_us)
        if drawn is not None:
            link_feeders(feeders, rows, drawn)
            count = len(drawn.cells)
            self._contents.append(Contents(drawn.name, f"{count:,} diagram{'' if count == 1 else 's'}", HELP))

    def _edited_check(self) -> list[dict]:
        """The check that no row was edited since it was sized: nought against nought now, and counted live from then on."""
        formula = count_edited(self._spread)
        if not formula or not self._result.checks:
            return []
        words = "Rows edited since sizing = none"
        return [{"project": "", "check": words, "left": Live(0, formula), "right": 0, "difference": 0, "tolerance": 0, "verdict": "PASS"}]

    def _labels(self) -> None:
        """The labels for the panels' doors, laid out to be printed; the list behind them has the same rows."""
        from batch.report.labels_sheet import HELP, MOST, LabelsOf, write_labels

        source, several = iter(self._rows_of(self._result, "panel_labels")), len(self._result.projects) > 1
        first = list(islice(source, MOST + 1))
        if len(first) <= MOST:  # all of them: the list has the same
            self._rows["panel_labels"] = first
        of_controls = iter(self._rows_of(self._result, "control_labels"))
        begun = list(islice(of_controls, MOST + 1))
        if len(begun) <= MOST:
            self._rows["control_labels"] = begun
        rows = chain(first, source, begun, of_controls)
        of = {one.project.project or "": LabelsOf(one, in_us(one, self._asked_us)) for one in self._result.projects}
        name, count = write_labels(self._book, self._sheets["panel_labels"], rows, footer=self._footer, of=of, several=several)
        if name:
            self._contents.append(Contents(name, count, HELP))

    def _of(self, project: ProjectResult) -> dict[str, list]:
        """The rows of each schedule that belong to one project; findings whole, since their rows are pointed at by place."""
        own = project.project.project
        mine = {id: [row for row in self._rows[id] if (row["project"] or "") == own] for id in SUMMED_UP}
        return mine | {"findings": list(self._rows["findings"])}


def _counted(sheet: Sheet, count: int) -> str:
    several = f"{sheet.rows}es" if sheet.rows.endswith(("x", "s")) else f"{sheet.rows}s"
    return f"{count:,} {sheet.rows if count == 1 else several}"
