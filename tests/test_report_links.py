"""Ways through the workbook: from a finding to its row and back, from a page that groups findings to the first of them, to every sheet."""

from __future__ import annotations

from collections import Counter
from pathlib import Path

import pytest
from openpyxl import load_workbook

import batch
from batch.findings import CATALOGUE
from batch.report.bid_words import class_of
from batch.report.findings_groups import grouped
from batch.schedules import RESULTS, rows
from batch.schedules.country_words import codes_of
from batch.schedules.row_words import OF_PROJECT
from batch.sheets.received import DATA as HIDDEN
from batch.writing.as_sized import extended
from tests.intake_book import book
from tests.sample_results import ALL, FINDINGS, LOOKED_AT, PLANT, opened, sized

DATA = 6
SHEETS = {sheet.name: extended(sheet) for sheet in RESULTS}
SUBJECTS = {"Banks": ("project", "tank", "bank"), "Panels": ("project", "tank", "bank"), "Feeders": ("project", "feeder")} | {
    "Heat": ("project", "tank")
}


def read(sheet, row: int) -> dict[str, object]:
    """Cells of a schedule's row by column key."""
    return {column.key: cell for column, cell in zip(SHEETS[sheet.title].columns, sheet[row], strict=True)}


@pytest.mark.parametrize("name", LOOKED_AT)
def test_each_finding_leads_to_the_row_it_is_about(name: str) -> None:
    book = opened(name)
    findings, led = book["Findings"], 0
    for at in range(DATA, findings.max_row + 1):
        finding = read(findings, at)
        go_to = finding["go_to"]
        if go_to.value is None:
            assert go_to.hyperlink is None
            continue
        sheet, _, number = go_to.value.rpartition(" row ")
        if not sheet:  # about a whole project: its page
            assert go_to.value == f"Summary {finding['project'].value}" and go_to.hyperlink.location == f"'{go_to.value}'!A1"
            assert not any(finding[key].value for key in ("tank", "bank", "feeder"))
            continue
        assert go_to.hyperlink.location == f"'{sheet}'!A{number}"
        there = read(book[sheet], int(number))
        unlike = {key for key in SUBJECTS[sheet] if (there[key].value or "") != (finding[key].value or "")}
        if unlike:  # of a row that could not be read: the only one of its tank
            assert sheet == "Banks" and not any(finding[key].value for key in unlike), (at, unlike)
            tanks = [read(book[sheet], row)["tank"].value for row in range(DATA, book[sheet].max_row + 1)]
            assert tanks.count(finding["tank"].value) == 1
        led += 1
    assert led >= (1 if name != "small-clean.xlsx" else 0)


@pytest.mark.parametrize("name", [PLANT, FINDINGS])
@pytest.mark.parametrize("sheet", SUBJECTS)
def test_each_row_with_findings_leads_to_one_of_them_about_itself(name: str, sheet: str) -> None:
    book = opened(name)
    led = 0
    for at in range(DATA, book[sheet].max_row + 1):
        row = read(book[sheet], at)
        said = row["findings"]
        assert said.hyperlink is None, "a linked cell of several lines does not wrap in every program"
        way = row["look_up"]
        assert way.value == ("see" if said.value else None)
        if not said.value:
            assert way.hyperlink is None
            continue
        where = way.hyperlink.location
        assert where.startswith("'Findings'!A")
        finding = read(book["Findings"], int(where.rpartition("!A")[2]))
        for key in ("project", "tank", "bank", "feeder"):  # about the row, its tank, its feeder or its project: never about another's
            if key in row and finding[key].value:
                assert row[key].value == finding[key].value
        named = [code for several in codes_of(said.value) for code in several]
        assert finding["code"].value in named or (said.value.endswith(OF_PROJECT) and not finding["tank"].value)
        led += 1
    assert led > 3


@pytest.mark.parametrize("name", [PLANT, FINDINGS])
@pytest.mark.parametrize("sheet", SUBJECTS)
def test_no_row_with_findings_is_without_its_way(name: str, sheet: str) -> None:
    book = opened(name)
    without = [
        at for at in range(DATA, book[sheet].max_row + 1)
        if (row := read(book[sheet], at))["findings"].value and row["look_up"].hyperlink is None
    ]
    assert without == []


@pytest.mark.parametrize("name", ALL)
def test_groups_count_what_findings_lists(name: str) -> None:
    """Counted over again from the rows themselves, by project and severity."""
    listed = rows(sized(name).result, "findings")
    for project in [None, *(one.project.project for one in sized(name).result.projects)]:
        own = [row for row in listed if project is None or (row["project"] or "") == project]
        groups = grouped(listed, None if project is None else [project])
        counted: Counter[str] = Counter()
        for row in own:
            counted[row["severity"]] += row["count"]
        again: Counter[str] = Counter()
        for group in groups:
            again[group.severity.word] += group.rows
            first = listed[group.first]
            assert first in own and first["code"] == group.code
            assert group.words in (first["message"], CATALOGUE[group.code].title)
        assert counted == again
        assert [group.severity for group in groups] == sorted(group.severity for group in groups)


def test_what_several_rows_say_alike_is_one_line_with_its_count() -> None:
    listed = rows(sized(FINDINGS).result, "findings")
    alike = Counter((row["project"], row["code"], row["message"]) for row in listed)
    several = {key: count for key, count in alike.items() if count > 1}
    assert several
    for (project, code, message), count in several.items():
        [group] = [group for group in grouped(listed, [project]) if group.code == code and group.words == message]
        assert group.rows >= count


@pytest.mark.parametrize("name", LOOKED_AT)
def test_summary_and_read_first_lead_to_the_findings_they_count(name: str) -> None:
    book, result = opened(name), sized(name).result
    names = {f"Summary {one.project.project}": one.project.project for one in result.projects}
    led = 0
    for sheet in [book[name] for name in names] + [book["Read first"]]:
        for row in sheet.iter_rows():
            for cell in row:
                if cell.hyperlink is None or "Findings" not in cell.hyperlink.location or cell.hyperlink.location.endswith("!A1"):
                    continue
                number = int(cell.hyperlink.location.rpartition("!")[2].lstrip("ABCDEFGHIJKLMNOPQRSTUVWXYZ"))
                finding = read(book["Findings"], number)
                shown = {key: finding[key].value or "" for key in ("severity", "effect", "harm")}
                assert row[0].value in (shown["severity"], class_of(shown))
                words = next(cell.value for cell in row[2:] if cell.value)
                if row[0].value == shown["severity"]:
                    assert words in (finding["message"].value, CATALOGUE[finding["code"].value].title)
                else:
                    assert words.endswith(finding["message"].value)  # one of the worst things, whose it is before it
                if sheet.title in names:
                    assert (finding["project"].value or "") == names[sheet.title]
                led += 1
    assert led > 3


@pytest.mark.parametrize("name", ALL)
def test_every_link_leads_to_a_cell_of_a_sheet_that_is_there(name: str) -> None:
    book = opened(name)
    for sheet in book.worksheets:
        for row in sheet.iter_rows():
            for cell in row:
                if cell.hyperlink is not None:
                    assert cell.hyperlink.target is None  # nothing leads out of the workbook
                    tab, _, where = cell.hyperlink.location.rpartition("!")
                    there = book[tab.strip("'").replace("''", "'")]
                    assert there[where].row <= there.max_row


@pytest.mark.parametrize("name", ALL)
def test_read_first_comes_first_and_leads_to_every_sheet(name: str) -> None:
    book = opened(name)
    assert book.sheetnames[0] == "Read first" and book.active.title == "Read first"
    led = {
        cell.hyperlink.location.rpartition("!")[0].strip("'").replace("''", "'")
        for row in book["Read first"].iter_rows()
        for cell in row
        if cell.hyperlink
    }
    assert led == set(book.sheetnames[1:]) - {HIDDEN}


def test_a_finding_of_a_row_that_could_not_be_read_leads_to_where_it_is_counted(tmp_path: Path) -> None:
    """Neither its project nor its bank is known then; its feeder's row is not what it is about."""
    head = ["Tank", "Feeder", "Quantity", "Power (kW)", "Volts (V)", "Phases"]
    (tmp_path / "job.xlsx").write_bytes(book({"Heaters": [head, ["T-1", "F-1", 4, 6, 480, 3], ["T-2", "F-1", "TBD", 6, 480, 3]]}))
    batch.size(tmp_path / "job.xlsx", tmp_path / "sized.xlsx")
    findings = load_workbook(tmp_path / "sized.xlsx")["Findings"]
    told = {row["code"].value: row["go_to"].value for row in (read(findings, at) for at in range(DATA, findings.max_row + 1))}
    assert told["cell-placeholder"] == "Banks row 7" and told["feeder-incomplete"] == "Feeders row 6"
