"""Read first: what the workbook is, how to read it, what it was made from, whether it agrees with itself, what it is not."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from typing import NamedTuple

from batch.counted_words import counted
from batch.findings import Severity
from batch.report.bid_part import WIDTHS, WORDS, write_bid
from batch.report.findings_groups import Group, grouped
from batch.results import JobResult
from batch.schedules import RESULTS
from batch.sheets.received import KEPT_AS_DATA, MADE_FROM, PROGRAM, ROLE_WORDS
from batch.writing.book import Book
from batch.writing.page import Page
from batch.writing.paper import Footer, print_setup
from batch.writing.placed import Placed
from batch.writing.styles import EDITED, EDITED_STYLE, STYLES, WORD_STYLES

NAME = "Read first"

LEGEND = {
    "input": "What the job workbook gave. Blue.",
    "calculation": "Calculated on the way: currents, margins, totals. Plain.",
    "result": "What is selected: bought, built or wired to. Bold.",
    "text": "Reference: tags, reasons and sources.",
}
STATUS_WORDS = (
    ("sized", "Sized; nothing speaks against it."),
    ("sized, review", "Sized, with a caution: read it on Findings before you use the row."),
    ("HOLD (not released for fabrication)", "Sized and counted in every total, to stay on the safe side, but must not be built so."),
    ("not sized", "Could not be sized; in no total. As received and Findings say why."),
    ("enough", "Heat: what the tank needs and the project's margin are installed."),
    ("marginal", "Heat: what the tank needs is installed, but not with the margin."),
    ("short", "Heat: less is installed than the tank needs, to heat up in time or to hold at work."),
    ("never gets there", "Heat: the tank loses as much as is installed before it is hot."),
    ("not judged", "Heat: too little is known of the tank."),
    (EDITED, "An input or a choice of the row is no longer what it was sized with. Said live, in the column Edited; Checks turns to FAIL."),
)
HOW = (
    ("Where to start", "Summary says what the job comes to. Then Findings, worst first: each says what to do."),
    (
        "What a row is",
        "Banks has one row for each bank of heaters, Panels one for each heater panel, Circuits one for each branch circuit, "
        "Feeders one for each supply, Heat one for each tank.",
    ),
    (
        "Heat",
        "Heat says of each tank whether its heaters are enough to heat it up in time and to hold it at work. Such needs are good to two "
        "figures: look at both ends of the band. A tank of which too little is known is not judged.",
    ),
    (
        "Totals",
        "They stand above the headings and total the rows that a filter shows, as the figures are and not as they are printed: what is "
        "printed may add up to something else by half of its last digit a row. A quotation adds what it prints. Percent columns hold 25 "
        "for 25 %.",
    ),
    (
        "Live figures",
        "Currents, margins, branch OCPDs, heat needs and verdicts, totals and prices are formulas on the row's own inputs and on Code "
        "basis, and follow an edit.",
    ),
    (
        "What is not live",
        "Panel splits, connections, wires, raceways, drops, line currents of panels and feeders, schedules, materials, drawings, labels "
        "and findings stay as they were sized. A new run brings them up to date: change the job workbook and size it again, or size this "
        "workbook, which takes what was typed into shaded cells and says so.",
    ),
    (
        "Edited rows",
        "Banks, Panels, Feeders and Heat keep what each row was sized with in columns grouped away at their right, and compare. What is "
        "typed into other sheets is noticed when this workbook is sized again: what is not taken is named by its cell. "
        "Sheets from which nothing is read are protected, without a password.",
    ),
    ("Proof", "Code basis names every factor and table value with its source. Checks compares the workbook with itself."),
    (
        "Folded columns",
        "Banks, Panels, Feeders and Heat show what one reads first. The + over a heading opens what belongs to it, at its left: how it was "
        "connected, the branch circuits, the apparatus. Level 2 at the upper left opens all, level 1 folds all.",
    ),
    (
        "On paper",
        "What is folded away or hidden is not printed. Wide sheets print in strips, each with the row's tags at its left; the headings "
        "repeat on every page. Wiring prints type by type. The columns Basis and Assumed stay on the screen, of Findings also Value seen "
        "and Code, and so do the ways from design to money and parts (the word see). "
        "A workbook sized with --print manager, estimator or all prints as a whole for that reader: sheets of no use to him are hidden (a "
        "right click on a tab shows them). "
        "Sized without, all are in sight and the estimator's print; the others say so beside their titles.",
    ),
)
IS_NOT = (
    "This workbook does not replace the electrical code in force at the site, the authority having jurisdiction, or the licensed engineer "
    "or electrician who answers for the work. They check every figure before anything is bought, built or energized.",
    "It does not read drawings, survey a site, judge an area for explosion hazard, or certify an assembly.",
)
KINDS_SHOWN = 20  # kinds of holds and cautions on this page
COUNTED = {
    Severity.HOLD: "the row is not sized, or must not be built so, before it is put right",
    Severity.CAUTION: "sized; review before you use it",
    Severity.NOTE: "assumed or chosen for you",
}


class Contents(NamedTuple):
    """One line of the list of sheets."""

    name: str
    rows: str
    help: str


def write_read_first(
    book: Book,
    result: JobResult,
    contents: Sequence[Contents],
    *,
    left_out: Sequence[str],
    checks: Placed | None,
    footer: Footer,
    stamp: str,
    program: str,
    us: bool,
    own_units: bool = False,
    kept: int,
    edited: str,
    findings: Placed | None,
    listed: Sequence[Mapping],
    printed: Collection[str],
    pages: int,
    places: Mapping[str, Placed],
) -> None:
    """Fills the sheet `Read first`, which was added to the book before all others.

    own_units  pictures and labels are in the units of each project's country, and those of several countries differ
    kept     figures that stand in columns of formulas
    edited   formula that counts edited rows
    listed   rows of the sheet `findings`
    printed  tabs in sight, to which links lead
    pages    0, or on how many pages what comes before the list of sheets prints, which then is all that does
    places   where each schedule stands, by id
    """
    places = {id: placed for id, placed in places.items() if placed.name in printed}
    page = Page(book, book.get_worksheet_by_name(NAME), WIDTHS)
    page.title("Immersion heater banks, sized", f"Made from {result.job.name}")
    write_bid(page, result, listed, places)
    _flag(page, checks, result)
    _edited(page, edited)
    _findings(page, result, listed, findings, printed)
    if pages:
        _cautions(page, result)
    first_page = page.row
    _sheets(page, contents, left_out, printed)
    _how_to_read(page, kept)
    _legend(page)
    if not pages:
        _cautions(page, result)
    _entries(page, "What this is not", [("", words) for words in IS_NOT])
    _entries(page, "Made from", _origin(result, stamp, program, us, own_units))
    last = (first_page if pages else page.row) - 1
    print_setup(page.sheet, footer, first_repeat=-1, last_repeat=-2, last_col=page.last_column, last_row=last, landscape=False)
    if pages:
        page.sheet.fit_to_pages(1, pages)
    else:
        page.print_in_whole_blocks(footer.paper)
    page.sheet.activate()


def _entries(page: Page, title: str, entries: Sequence[tuple[str, str]]) -> None:
    """A section of labels and sentences."""
    page.section(title)
    for label, words in entries:
        page.entry(label, words, WORDS)


def _cautions(page: Page, result: JobResult) -> None:
    """Those of each rule set by itself: a reader of one project has no use for another code's."""
    said: dict[tuple[tuple[str, str], ...], dict[str, None]] = {}
    for one in result.projects:
        said.setdefault(one.country.cautions, {})[one.rule_set] = None
    for cautions, names in said.items():
        under = f" under {', '.join(names)}" if len(said) > 1 else ""
        _entries(page, f"Cautions that go with every job{under}", [(basis, words) for words, basis in cautions])


def _findings(page: Page, result: JobResult, listed: Sequence[Mapping], findings: Placed | None, printed: Collection[str]) -> None:
    """How many of each severity, then the kinds of those that stand in the way."""
    page.section("Findings")
    for severity in Severity:
        _count(page, result, severity, sum(row["severity"] == severity.word for row in listed))
    if findings is not None:
        _kinds(page, [group for group in grouped(listed) if group.severity is not Severity.NOTE], findings, findings.name in printed)


def _sheets(page: Page, contents: Sequence[Contents], left_out: Sequence[str], printed: Collection[str]) -> None:
    page.section("Sheets")
    for entry in contents:
        _sheet_line(page, entry, entry.name in printed)
    if left_out:
        page.entry("Left out", f"This job has nothing to put on {', '.join(left_out)}.", WORDS)


def _how_to_read(page: Page, kept: int) -> None:
    _entries(page, "How to read it", HOW)
    if kept:
        words = (
            f"{kept:,} cell{'' if kept == 1 else 's'} in columns of formulas {'holds' if kept == 1 else 'hold'} the "
            "figure alone, where the column's formula does not cover the case (uneven wyes, for one)."
        )
        page.entry("Figures instead", words, WORDS)


def _flag(page: Page, checks: Placed | None, result: JobResult) -> None:
    """PASS or FAIL over all of Checks, as a live formula."""
    page.section("Does the workbook agree with itself?")
    page.text(0, "All checks together", "label")
    words = "FAIL means that the figures of this workbook do not add up: do not use it before the cause is found. See Checks."
    if checks is None:
        page.text(1, "NO CHECKS", "strong")
    else:
        verdicts = checks.range("verdict")
        passed = f'COUNTIF({verdicts},"PASS")'
        failed = f'COUNTIF({verdicts},"<>PASS")-COUNTIF({verdicts},"agrees")-COUNTIF({verdicts},"differs")'  # of totals that a list states
        stored = "PASS" if all(check.passes for check in result.checks) else "FAIL"
        page.words_rule(1, {"PASS": "is_good", "FAIL": "is_stop"})
        page.sheet.write_formula(page.row, 1, f'=IF({failed}>0,"FAIL",IF({passed}>0,"PASS","FAIL"))', page.styles["strong"], stored)
    page.text(WORDS, words, "wrap")
    page.fit((words, WIDTHS[WORDS]))
    page.row += 1


def _edited(page: Page, formula: str) -> None:
    """How many rows were edited since they were sized: nothing when the workbook is new."""
    if not formula:
        return
    words = f'Rows of Banks, Panels, Feeders and Heat that now say "{EDITED}": figures that are not live no longer belong to their inputs.'
    page.text(0, "Rows edited since sizing", "label")
    page.over_nought_rule(1)
    page.number(1, 0, "count", {**STYLES["strong"], "align": "left"}, formula=f"={formula}")
    page.text(WORDS, words, "wrap")
    page.fit((words, WIDTHS[WORDS]))
    page.row += 1


def _count(page: Page, result: JobResult, severity: Severity, lines: int) -> None:
    """How many rows of the job are spoken of, and in how many lines of Findings where several are told in one."""
    count = sum(1 for said in result.findings if said.severity is severity)
    look = {**STYLES["strong"], "align": "left"}
    if count and severity.word in WORD_STYLES:
        look |= STYLES[WORD_STYLES[severity.word]]
    page.text(0, f"{severity.word}s", "label")
    page.number(1, count, "count", look)
    page.text(WORDS, COUNTED[severity] + (f"; in {counted(lines, 'line')} of Findings" if lines < count else ""), "wrap")
    page.row += 1


def _kinds(page: Page, groups: Sequence[Group], findings: Placed, in_sight: bool) -> None:
    """Holds and cautions by kind, worst first, each with its count and the way to the first of them where their sheet is in sight."""
    for group in groups[:KINDS_SHOWN]:
        page.text(0, group.severity.word, {**STYLES["plain"], **STYLES[WORD_STYLES[group.severity.word]]})
        if in_sight:
            page.link(1, findings.name, findings.cell("kind", group.first).rpartition("!")[2], f"{group.rows:,}, open")
        else:
            page.text(1, f"{group.rows:,}")
        page.text(WORDS, group.words, "wrap")
        page.fit((group.words, WIDTHS[WORDS]))
        page.row += 1
    if len(groups) > KINDS_SHOWN:
        page.text(WORDS, f"and {counted(len(groups) - KINDS_SHOWN, 'more kind')}: see Findings", "label")
        page.row += 1


def _sheet_line(page: Page, entry: Contents, in_sight: bool) -> None:
    """A tab's name may hold the customer's words, so the link sits on our own word beside it; to a hidden sheet no link leads."""
    words = f"{entry.rows}. {entry.help}" if entry.rows else entry.help
    page.text(0, entry.name, {**STYLES["strong"], "text_wrap": True})
    if in_sight:
        page.link(1, entry.name, "A1", "open")
    else:
        page.text(1, "hidden", "label")
    page.text(WORDS, words, "wrap")
    page.fit((entry.name, WIDTHS[0] * 0.9), (words, WIDTHS[WORDS]))
    page.row += 1


def _typed_in(book: Book) -> str:
    """What may be typed where, by the headings as they stand in the workbook."""
    taken = "; ".join(
        f"{sheet.name}: {', '.join(book.wording.heading(column.heading, column.unit) for column in sheet.columns if column.becomes)}"
        for sheet in RESULTS if any(column.becomes for column in sheet.columns)
    )  # fmt: skip
    return (
        f"What is typed there is taken when this workbook is sized again. {taken}; and every cell of the customer's columns on As "
        "received. Typed anywhere else it is not taken, and a caution names the cell."
    )


def _legend(page: Page) -> None:
    page.section("Legend")
    for role, words in LEGEND.items():
        page.sheet.write_string(page.row, 0, ROLE_WORDS[role], page.styles.head(role))
        page.sheet.write_string(page.row, 1, "like this", page.styles.cell(role, "prose"))
        page.text(WORDS, words, "wrap")
        page.row += 1
    page.sheet.write_string(page.row, 0, "shaded", page.styles.cell("input", "prose", typed=True))
    typed_in = _typed_in(page.book)
    page.text(WORDS, typed_in, "wrap")
    page.fit((typed_in, WIDTHS[WORDS]))
    page.row += 1
    for word, words in STATUS_WORDS:
        look = {**STYLES["plain"], **STYLES[(WORD_STYLES | EDITED_STYLE)[word]]}
        page.text(0, word, look)
        page.sheet.write_blank(page.row, 1, None, page.styles.of(look))  # the longest word runs on into it
        page.text(WORDS, words, "wrap")
        page.fit((words, WIDTHS[WORDS]))
        page.row += 1


def _origin(result: JobResult, stamp: str, program: str, us: bool, own_units: bool) -> list[tuple[str, str]]:
    lines = [(MADE_FROM, result.job.name), ("SHA-256 of that file", result.job.digest)]
    for one in result.projects:
        record = one.project
        revision = f"revision {record.revision}" if record.revision else "no revision given"
        lines.append(("Project", ", ".join(filter(None, (record.project or "the only project", record.title, revision)))))
        lines.append(("Code basis", result.code_titles.get(one.rule_set, one.rule_set)))
    memory = sum(1 for value in result.code_values if value.from_memory)
    quoted = sum(1 for value in result.code_values if value.quoted)
    if result.code_values:
        known = f"{memory} of them from memory and {quoted} quoted, the document not seen; marked so there"
        lines.append(("Values behind it", f"{len(result.code_values)} on Code basis, {known}"))
    lines.append((PROGRAM, program or "not stated"))
    lines.append((KEPT_AS_DATA, "on a hidden sheet: the inputs as sized and what was decided, which make this workbook a revision"))
    lines.append(("Run", stamp or "no run stamp was given"))
    shown = "US customary where they differ from SI" if us else "SI"
    own = "; drawings and labels, symbols and words as each project's country has them" if own_units else ""
    lines.append(("Units shown", shown + own))
    return lines
