"""The rules that every results workbook keeps, by script, over the results of every sample: what stands in the file, not what wrote it."""

from __future__ import annotations

import re
import zipfile
from collections.abc import Iterator
from functools import cache
from itertools import pairwise
from xml.etree import ElementTree

import openpyxl
import pytest
from openpyxl.utils import get_column_letter, range_boundaries
from python_calamine import CalamineWorkbook

import batch
from batch.drawings.one_line import plans
from batch.drawings.one_line_words import feds_of
from batch.report.one_line_sheet import MOST
from batch.schedules import RESULTS
from batch.sheets.received import ROLE_WORDS
from batch.writing import styles
from batch.writing.as_sized import extended, shown
from batch.writing.formulas import FUNCTIONS, NUMBERS
from tests import make_samples
from tests.recalculation import needs_office, recalculated_all, same
from tests.sample_results import ALL, FINDINGS, PLANT, SMALL, opened, opened_values, sized

HEADING, DATA = 5, 6  # as a person counts
DECLARED = {sheet.name: extended(sheet) for sheet in RESULTS}
MAIN = "{http://schemas.openxmlformats.org/spreadsheetml/2006/main}"
CALLED = re.compile(r"[A-Z][A-Z.0-9]*(?=\()")
CELL_LIKE = re.compile(r"(?i)([A-Z]{1,3}[0-9]+|R[0-9]*C[0-9]*|R|C)")
LONG_NUMBER = re.compile(r"(?<![\d.])-?\d+\.\d{9,13}(?![\d.])")
INCHES = {"1": (8.5, 11.0), "9": (8.27, 11.69)}  # Letter and A4: ECMA-376 part 1, 18.3.1.63; ISO 216

every = pytest.mark.parametrize("name", ALL)


def spec_of(title: str):
    """The declared sheet behind a tab, "Circuits 2" being Circuits."""
    return DECLARED.get(re.sub(r" \d+\Z", "", title))


def tables(name: str) -> Iterator:
    return (sheet for sheet in opened(name).worksheets if sheet.tables)


@cache
def formulas(name: str) -> dict[tuple[str, str], str]:
    """(tab, cell) -> formula."""
    return {
        (sheet.title, cell.coordinate): str(cell.value) for sheet in opened(name).worksheets for row in sheet.iter_rows() for cell in row
        if cell.data_type == "f"
    }  # fmt: skip


@every
def test_a_workbook_says_what_made_it_and_names_no_other_program(name: str) -> None:
    with zipfile.ZipFile(sized(name).path) as package:
        application = package.read("docProps/app.xml").decode()
        parts = application + package.read("docProps/core.xml").decode()
    assert f"<Application>{batch.PROGRAM}</Application>" in application
    assert re.search(r"<AppVersion>\d\d\.\d{4}</AppVersion>", application)
    assert "Excel" not in parts and "xlsxwriter" not in parts.casefold()


@every
def test_no_column_of_words_is_wider_than_its_words_need(name: str) -> None:
    """Columns that follow no edit and take no typing: room that no word and no heading needs costs pages."""
    for sheet in tables(name):
        if (spec := spec_of(sheet.title)) is None or sheet.max_row > 900 or spec.id in ("panel_labels", "control_labels"):
            continue
        known = {at: one for one in sheet.column_dimensions.values() for at in range(one.min, one.max + 1)}
        for at, column in enumerate(spec.columns, 1):
            if column.kind != "text" or column.becomes or column.formula or column.group or not column.on_paper or at > shown(spec):
                continue
            longest = max(len(str(sheet.cell(row, at).value or "")) for row in range(DATA, sheet.max_row + 1))
            heading = len(sheet.cell(HEADING, at).value)
            assert known[at].width <= 6 + 1.8 * max(longest, heading), (sheet.title, column.key)


# 1 and 3: formulas


def _depth(formula: str) -> int:
    """How deep functions stand within functions."""
    deepest, calls = 0, []
    for before, mark in pairwise(" " + formula):
        if mark == "(":
            calls.append(before.isalpha())
            deepest = max(deepest, sum(calls))
        elif mark == ")":
            calls.pop()
    return deepest


@every
def test_formulas_use_what_every_program_knows_and_no_number_on_trust(name: str) -> None:
    seen = set()
    for formula in formulas(name).values():
        shape = re.sub(r"\d+", "0", formula)
        if shape in seen:
            continue
        bare = re.sub(r'"[^"]*"', '""', formula)
        assert set(CALLED.findall(bare)) <= FUNCTIONS, formula
        assert _depth(bare) <= 3, formula
        assert not set("[]{}#@|;") & set(bare), formula  # no other workbook, table part, array, error or implicit intersection
        plain = re.sub(r"'[^']*'!|\$?[A-Z]{1,3}\$?\d+|[A-Za-z_][A-Za-z_0-9]*(?!\()", "", bare)
        plain = re.sub(r",\d+\)", ")", plain) if "ROUND" in bare else plain
        allowed = NUMBERS | {"109", "104"} if "SUBTOTAL" in bare else NUMBERS
        assert set(re.findall(r"\d+(?:\.\d+)?", plain)) <= allowed, formula
    assert formulas(name)


def test_a_formula_that_breaks_a_rule_would_be_seen() -> None:
    assert _depth("IF(IF(IF(IF(1,2,3),2,3),2,3),2,3)") == 4
    assert set(CALLED.findall("=NOW()+SUM(A1)")) == {"NOW", "SUM"}
    assert CELL_LIKE.fullmatch("AB12") and CELL_LIKE.fullmatch("r1c1") and not CELL_LIKE.fullmatch("Table_banks")


@every
def test_a_column_has_one_formula(name: str) -> None:
    """But for Checks, where one line counts live."""
    shapes: dict[tuple[str, str], set[str]] = {}
    for (tab, cell), formula in formulas(name).items():
        letters, row = re.fullmatch(r"([A-Z]+)(\d+)", cell).groups()
        if tab in {sheet.title for sheet in tables(name)} and int(row) >= DATA:
            shapes.setdefault((tab, letters), set()).add(re.sub(rf"(?<=[A-Z]){row}\b", "#", formula))
    assert all(len(found) == 1 for found in shapes.values())


@every
def test_every_declared_formula_is_there_and_live(name: str) -> None:
    """A column that is declared live holds its formula in most of its rows: figures alone are the exception, and Read first counts them."""
    live = kept = 0
    for sheet in tables(name):
        spec = spec_of(sheet.title)
        for at, column in enumerate(spec.columns if spec else (), 1):
            if column.formula:
                cells = [row[0] for row in sheet.iter_rows(min_row=DATA, min_col=at, max_col=at)]
                own = sum(cell.data_type == "f" for cell in cells)
                live, kept = live + own, kept + sum(cell.data_type != "f" and cell.value is not None for cell in cells)
    assert live > 9 * kept
    said = " ".join(str(cell.value) for row in opened(name)["Read first"].iter_rows() for cell in row if cell.value)
    assert (f"{kept:,} cell" in said) == (kept > 0)


@needs_office
def test_a_recalculation_of_every_sample_changes_nothing(tmp_path) -> None:
    """Every formula of every sample's results, worked out by LibreOffice, against what is stored: to 1e-9."""
    fresh = recalculated_all([sized(name).path for name in ALL], tmp_path)
    count, wrong = 0, []
    for name in ALL:
        again, before = (CalamineWorkbook.from_path(str(path)) for path in (fresh[sized(name).path], sized(name).path))
        grids: dict[str, tuple[list, list]] = {}
        for (tab, cell), formula in formulas(name).items():
            if tab not in grids:
                grids[tab] = tuple(book.get_sheet_by_name(tab).to_python(skip_empty_area=False) for book in (again, before))
            column, row, _, _ = range_boundaries(cell)
            after, stored = (grid[row - 1][column - 1] for grid in grids[tab])
            count += 1
            if not same(stored, after):
                wrong.append(f"{name}: {tab}!{cell}: stored {stored!r}, worked out {after!r}: {formula}")
    assert wrong == []
    assert count > 20_000


# 4: tables


@every
def test_tables_cover_exactly_their_data(name: str) -> None:
    seen = []
    for sheet in tables(name):
        [table] = sheet.tables.values()
        assert range_boundaries(table.ref) == (1, HEADING, sheet.max_column, sheet.max_row)
        assert table.autoFilter.ref == table.ref
        heads = [cell.value for cell in sheet[HEADING]]
        assert [column.name for column in table.tableColumns] == heads
        assert len({head.casefold() for head in heads}) == len(heads)
        assert not [merged for merged in sheet.merged_cells.ranges if merged.max_row >= HEADING]
        assert all(any(cell.value is not None for cell in row) for row in sheet.iter_rows(min_row=DATA))
        seen.append(table.displayName)
    assert len({title.casefold() for title in seen}) == len(seen) > 3
    names = [*seen, *opened(name).defined_names]
    assert not [title for title in names if CELL_LIKE.fullmatch(title) or not re.fullmatch(r"[A-Za-z_][\w.]*", title)]


@every
def test_numeric_headings_say_their_unit(name: str) -> None:
    bare = {
        "No.",
        "Value",
        "This",
        "Against",
        "Difference",
        "Tolerance",
        "Demand factor",
        "Demand factor as sized",
        "Grouping factor",
    }  # numbers without a unit
    for sheet in tables(name):
        spec = spec_of(sheet.title)
        for column, cell in zip(spec.columns if spec else (), sheet[HEADING], strict=bool(spec)):
            if column.unit == "currency" and cell.value != column.title():  # the job's own, where it names one
                assert re.fullmatch(rf"{re.escape(column.heading)} \([A-Z]{{3}}\)", str(cell.value)), cell.value
                continue
            assert cell.value in (column.title(us=True), column.title())
            if column.kind in ("integer", "number", "volts"):
                assert cell.value.endswith(")") or column.heading in bare, (spec.name, column.key)


# 5 and 6: how it looks


def _luminance(colour: str) -> float:
    """Relative luminance, WCAG 2.1."""
    parts = [int(colour[at : at + 2], 16) / 255 for at in (0, 2, 4)]
    red, green, blue = (part / 12.92 if part <= 0.03928 else ((part + 0.055) / 1.055) ** 2.4 for part in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def _contrast(one: str, other: str) -> float:
    """Contrast ratio, WCAG 2.1, success criterion 1.4.3: at least 4.5 for text."""
    low, high = sorted((_luminance(one), _luminance(other)))
    return (high + 0.05) / (low + 0.05)


def test_contrast_is_reckoned_as_published() -> None:
    assert _contrast("000000", "FFFFFF") == pytest.approx(21.0)  # WCAG 2.1: the maximum ratio there is
    assert _contrast("777777", "FFFFFF") < 4.5 < _contrast("757575", "FFFFFF")


@every
def test_every_style_in_the_file_can_be_read(name: str) -> None:
    with zipfile.ZipFile(sized(name).path) as package:
        root = ElementTree.fromstring(package.read("xl/styles.xml"))

    def rgb(node: ElementTree.Element | None, otherwise: str) -> str:
        return otherwise if node is None or node.get("rgb") is None else node.get("rgb")[-6:]

    fonts = [rgb(font.find(f"{MAIN}color"), "000000") for font in root.find(f"{MAIN}fonts")]
    fills = [rgb(fill.find(f"{MAIN}patternFill/{MAIN}fgColor"), "FFFFFF") for fill in root.find(f"{MAIN}fills")]
    pairs = {(fonts[int(xf.get("fontId"))], fills[int(xf.get("fillId"))]) for xf in root.find(f"{MAIN}cellXfs")}
    inks = {font for font, fill in pairs if fill == "FFFFFF"}
    for rule in root.find(f"{MAIN}dxfs") if root.find(f"{MAIN}dxfs") is not None else ():
        ink, ground = rule.find(f"{MAIN}font/{MAIN}color"), rule.find(f"{MAIN}fill/{MAIN}patternFill/{MAIN}bgColor")
        pairs |= {(rgb(ink, old), rgb(ground, "FFFFFF")) for old in inks} if ink is not None or ground is not None else set()
    assert len(pairs) > 5
    assert [pair for pair in pairs if _contrast(*pair) < 4.5] == []


@every
def test_number_formats_come_from_one_list_of_at_most_forty(name: str) -> None:
    known = set(styles.FORMATS.values())
    assert len(styles.FORMATS) <= 40
    assert {cell.number_format for sheet in opened(name).worksheets for row in sheet.iter_rows() for cell in row} <= known


@every
def test_a_status_is_a_word_and_the_legend_has_it(name: str) -> None:
    book = opened(name)
    legend = {str(row[0].value) for row in book["Read first"].iter_rows()}
    for sheet in tables(name):
        spec = spec_of(sheet.title)
        if spec and spec.id != "code_basis" and "status" in spec.by_key:
            at = [column.key for column in spec.columns].index("status")
            assert {row[at].value for row in sheet.iter_rows(min_row=DATA)} <= legend
    assert {*ROLE_WORDS.values(), styles.EDITED} <= legend


SHOWN = {"#,##0": ",.0f", "0": ".0f", "0.0": ".1f", "0.00": ".2f", "#,##0.0": ",.1f", "#,##0.00": ",.2f", "+0.0;-0.0;0.0": "+.1f"}


@every
def test_no_number_is_wider_than_its_column(name: str) -> None:
    """What would show as ####: every figure with a fixed number of digits, each taken as wide as a digit."""
    checked = 0
    for sheet in opened_values(name).worksheets:
        widths: dict[int, float] = {}
        for dimension in sheet.column_dimensions.values():
            widths |= dict.fromkeys(range(dimension.min, dimension.max + 1), dimension.width)
        for row in sheet.iter_rows(min_row=3):
            for cell in row:
                how = SHOWN.get(cell.number_format)
                if how and isinstance(cell.value, (int, float)) and not isinstance(cell.value, bool):
                    assert len(format(cell.value, how)) <= widths[cell.column] - 0.7, (sheet.title, cell.coordinate, cell.value)
                    checked += 1
    assert checked > 10


@every
def test_charts_and_pictures_carry_words(name: str) -> None:
    with zipfile.ZipFile(sized(name).path) as package:
        parts = [part for part in package.namelist() if re.fullmatch(r"xl/drawings/drawing\d+\.xml", part)]
        words = [
            words
            for part in parts
            for words in re.findall(r"<xdr:cNvPr [^>]*?(?:descr=\"([^\"]*)\"[^>]*)?/?>", package.read(part).decode())
        ]
    assert all(len(text) > 30 for text in words)
    result = sized(name).result
    charts = sum(0 < len(one.feeders) <= 24 for one in result.projects)
    charts += sum(any(row.judged for row in one.heat) for one in result.projects)
    sheets = sum(len(plans(fed)) for fed in feds_of(result, True))  # of one-line diagrams; no sample has more than are drawn
    assert sheets <= MOST
    legends = sum(bool(one.types) for one in result.projects)  # of the symbols on Panel drawings
    assert len(words) == sum(len(one.types) for one in result.projects) + legends + sheets + charts


# 7: on paper


@every
def test_pages_have_the_region_s_paper_a_foot_and_repeated_headings(name: str) -> None:
    for sheet in opened(name).worksheets:
        setup = sheet.page_setup
        assert str(setup.paperSize) == "1"  # the NEC's region prints on Letter
        foot = sheet.oddFooter
        assert (foot.left.text, foot.center.text) == ("&F", "&A, page &P of &N")
        revisions = {one.project.revision for one in sized(name).result.projects if one.project.revision}
        assert (foot.right.text or "") == (f"revision {', '.join(sorted(revisions))}" if len(revisions) == 1 else foot.right.text or "")
        assert bool(sheet.print_area) == (sheet.sheet_state == "visible")  # some programs print a hidden sheet that has an area
        across = INCHES[str(setup.paperSize)][setup.orientation == "landscape"] - 2 * 0.4
        if sheet.sheet_properties.pageSetUpPr is not None and sheet.sheet_properties.pageSetUpPr.fitToPage:
            assert setup.fitToWidth in (None, 1) and not sheet.row_breaks.brk
        else:  # a scale of its own, so that page breaks count: it must be narrow enough for one page
            wide = sum(d.width * 7 for d in sheet.column_dimensions.values() for _ in range(d.min, d.max + 1) if not d.hidden) / 96
            assert wide * (setup.scale or 100) / 100 <= across
            assert len(sheet.row_breaks.brk) <= 1023
        if sheet.tables:
            assert sheet.print_title_rows == f"${HEADING - 1}:${HEADING}"
            assert re.fullmatch(rf"[A-Z]+{DATA}", sheet.freeze_panes)
            assert setup.orientation == ("portrait" if re.fullmatch(r"Wiring( \d+)?", sheet.title) else "landscape")


@every
def test_what_is_printed_can_be_read_and_no_column_is_left_out(name: str) -> None:
    for sheet in tables(name):
        spec = spec_of(sheet.title)
        if spec and spec.id in ("panel_labels", "control_labels"):
            continue  # another sheet prints its rows
        widths: dict[int, float] = {}
        for dimension in sheet.column_dimensions.values():
            widths |= {at: dimension.width for at in range(dimension.min, dimension.max + 1) if not dimension.hidden}
        keys = (
            range(1, range_boundaries(sheet.print_title_cols.replace("$", "").replace(":", "1:") + "1")[2] + 1)
            if sheet.print_title_cols
            else ()
        )
        if spec and spec.key and len(re.findall("!", sheet.print_area)) > 1:  # else a row of a later strip could be any row
            assert [column.key for column in spec.columns[: len(keys)]][: len(spec.key)] == list(spec.key)
        printed: set[int] = set()
        for area in re.findall(r"!(\$[A-Z]+\$\d+:\$[A-Z]+\$\d+)", sheet.print_area):  # a tab's own name may hold a comma
            left, _, right, bottom = range_boundaries(area.replace("$", ""))
            assert bottom == sheet.max_row
            printed |= set(range(left, right + 1))
            across = sum(widths.get(at, 0.0) for at in {*range(left, right + 1), *keys})  # what is folded away takes no room
            assert across < 235  # 6-point type on Letter (common practice, no source)
        wanted = (
            [at for at, column in enumerate(spec.columns[: shown(spec)], 1) if column.on_paper] if spec else range(1, sheet.max_column + 1)
        )
        assert printed == set(wanted)
        off_paper = [column for column in spec.columns[: shown(spec)] if not column.on_paper] if spec else []
        ways = [column for column in off_paper if column.leads or column.key in ("owner_no", "build_no")]  # on paper a link leads nowhere
        # A finding is whole on its page without its cell, basis and code; what Heat assumed stands among the findings, once
        assert len(off_paper) - len(ways) <= {"findings": 3, "heat": 2, "questions": 3}.get(spec.id if spec else "", 1)


# 8, 9, 10: safe and repeatable


@every
def test_the_customer_s_text_is_text_and_nothing_leads_out(name: str) -> None:
    received = [sheet for sheet in opened(name).worksheets if sheet.title.startswith("As received")]
    assert received
    assert not [tab for tab, _ in formulas(name) if tab.startswith("As received")]
    with zipfile.ZipFile(sized(name).path) as package:
        names = package.namelist()
        rels = b"".join(package.read(part) for part in names if part.endswith(".rels"))
    assert not [part for part in names if re.search(r"external|vba|connection|activeX|embed", part, re.I)]
    assert b'TargetMode="External"' not in rels


@pytest.mark.parametrize("name", [SMALL, FINDINGS, PLANT])
def test_the_same_input_gives_the_same_bytes(name: str, tmp_path) -> None:
    again = tmp_path / "another name.xlsx"
    batch.size(make_samples.HERE / name, again)
    assert again.read_bytes() == sized(name).path.read_bytes()


@every
def test_no_clock_path_or_user_is_in_the_file(name: str) -> None:
    with zipfile.ZipFile(sized(name).path) as package:
        assert {info.date_time[:2] for info in package.infolist()} == {(1980, 1)}
        core = package.read("docProps/core.xml").decode()
        texts = package.read("xl/sharedStrings.xml").decode()
    assert re.findall(r">(\d{4})-\d\d-\d\dT", core) == ["2000", "2000"]
    assert "<dc:creator></dc:creator>" in core or "<dc:creator/>" in core
    assert str(make_samples.HERE) not in texts and str(sized(name).path.parent) not in texts


@pytest.mark.parametrize("name", [SMALL, PLANT])
def test_it_opens_at_read_first(name: str) -> None:
    book = openpyxl.load_workbook(sized(name).path, read_only=True)
    assert book.sheetnames[0] == "Read first"
    assert opened(name).active.title == "Read first"
    assert [view.tabSelected for sheet in opened(name).worksheets for view in sheet.views.sheetView].count(True) == 1


def test_column_letters_reckon_as_spreadsheets_do() -> None:
    assert (get_column_letter(27), range_boundaries("AB7")) == ("AA", (28, 7, 28, 7))


@every
def test_no_column_is_wider_than_the_schema_allows(name: str) -> None:
    """At most 255 digits as stored, says the validator of the Open XML SDK; `tests.open_xml` has it look at all else."""
    with zipfile.ZipFile(sized(name).path) as package:
        for part in package.namelist():
            if part.startswith("xl/worksheets/sheet"):
                widths = [float(width) for width in re.findall(rb'<col [^>]*?width="([\d.]+)"', package.read(part))]
                assert max(widths, default=0.0) <= 255, part


def _noisy(value: float) -> bool:
    """A figure of few digits that a conversion has left something behind: 60.0000000001, which a program shows with 15 digits."""
    near = float(f"{value:.11g}")
    return f"{near:.15g}" != f"{value:.15g}" and len(f"{near:.15g}".replace(".", "").replace("-", "").strip("0")) <= 5


def test_noise_of_a_conversion_would_be_seen() -> None:
    assert _noisy(60.0000000001) and _noisy(84.9999999999) and _noisy(285.000000001) and _noisy(-0.0600000000001)
    assert not any(_noisy(value) for value in (60.0, 73.99999999999999, 1 / 3, 0.1 + 0.2, 422.9999999999999, 15.5555555555556, 1000000.5))


@every
def test_no_figure_has_noise_of_a_conversion(name: str) -> None:
    """Nor does a number within words. Checks holds sums of thousands of figures, whose last digits are its matter."""
    found = [
        (sheet.title, cell.coordinate, cell.value)
        for sheet in opened_values(name).worksheets
        if sheet.title != "Checks"
        for row in sheet.iter_rows()
        for cell in row
        if (isinstance(cell.value, float) and _noisy(cell.value))
        or (isinstance(cell.value, str) and any(_noisy(float(one)) for one in LONG_NUMBER.findall(cell.value)))
    ]
    assert not found, found[:5]
