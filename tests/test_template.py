"""The blank job workbook: headings, help, drop-downs, limits, and that what is typed into it is read back."""

from __future__ import annotations

import re
import zipfile
from pathlib import Path

import openpyxl
import pytest

import batch
from batch.intake import read
from batch.report.input_help import help_words, limit_words, validation
from batch.report.template import FIRST, HEADING, READ_ME, ROOM, heading
from batch.rules import available
from batch.rules.thermal import thermal
from batch.sheets import HEATERS, INPUTS

TEMPLATES = Path(__file__).resolve().parents[1] / "templates"
US, SI = TEMPLATES / "blank-job-us.xlsx", TEMPLATES / "blank-job-si.xlsx"


@pytest.fixture(scope="module", params=[True, False], ids=["us", "si"])
def blank(request, tmp_path_factory):
    path = tmp_path_factory.mktemp("blank") / "job.xlsx"
    batch.blank(path, us=request.param)
    return path, request.param, openpyxl.load_workbook(path)


def test_sheets_and_headings(blank):
    _, us, book = blank
    assert book.sheetnames == [READ_ME, *(sheet.name for sheet in INPUTS)]
    for sheet in INPUTS:
        tab = book[sheet.name]
        assert [cell.value for cell in tab[HEADING + 1]] == [heading(column, us) for column in sheet.columns]
        [table] = tab.tables.values()
        assert table.ref.startswith(f"A{HEADING + 1}:")
        assert table.ref.endswith(str(FIRST + ROOM))
        assert tab.freeze_panes.endswith(str(FIRST + 1))
        for row in tab.iter_rows(min_row=FIRST + 1):
            assert all(cell.value is None for cell in row)  # no example row that could be taken for data


def test_the_form_offers_what_the_program_holds() -> None:
    """An edition that is not at hand is understood where somebody writes it, and not offered."""
    columns = {column.key: column for sheet in INPUTS for column in sheet.columns if column.offered}
    assert set(columns) == {"code_basis"} and columns["code_basis"].offered == available()
    assert {
        column.key: column.listed_on for sheet in INPUTS for column in sheet.columns if column.listed_on
    } == {"feeder": "feeders", "tank": "tanks"}
    assert all(thermal().liquid(words) == one for words, one in thermal().liquids.items())  # what is offered is understood
    assert all(thermal().material(words) == one for words, one in thermal().materials.items())


def test_every_column_has_help_and_every_choice_a_drop_down(blank):
    _, us, book = blank
    held = {"liquid": thermal().liquids, "tank_material": thermal().materials, "work_material": thermal().materials}
    for sheet in INPUTS:
        rules = {str(rule.sqref).split(":")[0].rstrip("0123456789"): rule for rule in book[sheet.name].data_validations.dataValidation}
        assert len(rules) == len(sheet.columns)
        for cell, column in zip(book[sheet.name][HEADING + 1], sheet.columns, strict=True):
            rule = rules[cell.column_letter]
            assert rule.prompt.startswith(("Needed. " if column.required else "") + column.help[:20])
            assert len(rule.prompt) <= 255
            assert len(rule.promptTitle) <= 32
            assert rule.errorStyle in (None, "information")  # reminds, does not forbid: other spellings and units are read too
            if column.choices and len(",".join(column.choices)) > 255:  # they stand on the first sheet
                tab, _, cells = rule.formula1.partition("!")
                assert rule.type == "list" and tab == f"'{READ_ME}'"
                assert [one.value for [one] in book[READ_ME][cells.replace("$", "")]] == list(column.choices)
            elif column.choices:
                assert rule.type == "list"
                assert not [word for word in column.offered or column.choices if "," in word]  # a list in a rule is cut at each
                assert rule.formula1 == '"' + ",".join(column.offered or column.choices) + '"'
                assert len(rule.formula1) <= 257
            elif column.key in held:
                tab, _, cells = rule.formula1.partition("!")
                assert rule.type == "list" and tab == f"'{READ_ME}'" and rule.errorTitle == "Not in the list"
                assert [one.value for [one] in book[READ_ME][cells.replace("$", "")]] == list(held[column.key])
            elif column.listed_on:
                assert rule.type == "list" and rule.errorTitle == "Not listed yet"
                tab, _, cells = rule.formula1.partition("!")
                first, last = cells.replace("$", "").split(":")
                named = book[tab.strip("'")]
                assert named[f"{first[0]}{HEADING + 1}"].value.startswith(column.heading)  # its own column of the other sheet
                assert (first[1:], last[1:]) == (str(FIRST + 1), str(FIRST + ROOM))
            elif column.kind in ("integer", "number") and column.high is not None:
                assert rule.type == {"integer": "whole", "number": "decimal"}[column.kind]
                assert us or float(rule.formula2 or rule.formula1) == column.high


def test_limits_are_shown_in_the_unit_of_the_heading():
    run = HEATERS["heater_run_m"]
    assert limit_words(run, us=False) == "0 to 1000 m"
    assert limit_words(run, us=True) == "0 to 3281 ft"  # 1000 / 0.3048, NIST SP 811, appendix B.8
    assert limit_words(HEATERS["power_kw"], us=True) == "above 0, up to 1000 kW"
    assert validation(run, us=True)["maximum"] == 3281
    assert "One of: parallel, delta, wye" in help_words(HEATERS["connection"], us=True)


def test_first_sheet_says_what_to_do(blank):
    _, us, book = blank
    words = " ".join(str(cell.value) for row in book[READ_ME].iter_rows() for cell in row if cell.value)
    for needed in ("Columns marked * are needed", "does not replace the code", "start fires", *(sheet.name for sheet in INPUTS)):
        assert needed in words
    assert ("US customary" in words) == us
    assert {cell.hyperlink.location for row in book[READ_ME].iter_rows() for cell in row if cell.hyperlink} == {
        f"'{sheet.name}'!A1" for sheet in INPUTS
    }


def test_no_list_of_the_first_sheet_is_cut_by_a_page(blank):
    """A page begins before the liquids and before the scope items, of which the second page has no room for all."""
    _, _, book = blank
    sheet = book[READ_ME]
    before = {sheet.cell(one.id + 2, 1).value for one in sheet.row_breaks.brk}
    assert len(before) == 2 and "Scope items" in before and any(str(words).startswith("Liquid") for words in before)


def test_a_blank_workbook_reads_without_a_misread_heading(blank):
    path, _, _ = blank
    job = read(path)
    assert job.banks == ()
    codes = {said.code for said in job.findings}
    assert not {code for code in codes if code.startswith(("heading", "unit", "cell"))}, codes
    assert {code for code in codes if code.startswith("sheet")} == {"sheet-no-heaters"}  # nothing about the form itself


def test_what_is_typed_is_read_back_in_canonical_units(blank, tmp_path):
    path, us, book = blank
    typed = {
        "Heaters": {
            "tank": "T-1",
            "bank": "A",
            "feeder": "F-1",
            "quantity": 4,
            "power_kw": 6,
            "volts_v": 480,
            "phases": 1,
            "heater_run_m": 50,
            "over_temperature_limit": "yes",
        },
        "Feeders": {"feeder": "F-1", "volts_v": 480, "phases": 3, "run_m": 100},
        "Tanks": {"tank": "T-1", "operating_c": 140, "level_cutoff": "yes"},
    }
    for sheet in INPUTS:
        for key, value in typed.get(sheet.name, {}).items():
            book[sheet.name].cell(FIRST + 1, [column.key for column in sheet.columns].index(key) + 1, value)
    filled = tmp_path / "filled.xlsx"
    book.save(filled)
    job = read(filled)
    [bank], [feeder], [tank] = job.banks, job.feeders, job.tanks
    assert (bank.tank, bank.bank, bank.quantity, bank.power_kw) == ("T-1", "A", 4, 6.0)
    assert (bank.volts_v, bank.phases, bank.over_temperature_limit) == (480.0, 1, "yes")
    assert bank.heater_run_m == pytest.approx(50 * 0.3048 if us else 50)
    assert feeder.run_m == pytest.approx(100 * 0.3048 if us else 100)
    assert tank.operating_c == pytest.approx((140 - 32) / 1.8 if us else 140)
    assert not [said for said in job.findings if re.match("heading|unit|cell", said.code)]
    assert path != filled


@pytest.mark.parametrize(("path", "us"), [(US, True), (SI, False)])
def test_shipped_templates_are_what_the_specification_makes(path, us, tmp_path):
    """`heaterbatch blank` makes them anew: run `python -m tests.make_templates`."""
    made = tmp_path / path.name
    batch.blank(made, us=us)
    shipped, fresh = (zipfile.ZipFile(one) for one in (path, made))
    with shipped, fresh:
        assert shipped.namelist() == fresh.namelist()
        for name in shipped.namelist():  # part by part: packing differs between builds of zlib
            assert shipped.read(name) == fresh.read(name), name


def test_results_of_a_blank_form_hold_no_empty_formula(blank, tmp_path) -> None:
    """Nothing to add up is no sum: "=" alone is an error in every spreadsheet program."""
    batch.size(blank[0], tmp_path / "sized.xlsx")
    for sheet in openpyxl.load_workbook(tmp_path / "sized.xlsx"):
        for row in sheet.iter_rows(values_only=True):
            assert "=" not in row, sheet.title
