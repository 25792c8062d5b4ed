"""Column maps: what they say is what is read; what is wrong with one is said in one line; a draft applies only what is certain."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Sequence
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

import batch
from batch.cli import app as cli
from batch.errors import JobError, OutputFileError
from batch.intake import read
from batch.intake.column_map import MapError, map_as_received, parse_map
from batch.intake.map_draft import draft
from batch.records import Job
from batch.sheets import INPUTS
from tests.intake_book import GOOD, HEADINGS, book, codes, fates, said
from tests.make_samples import HERE
from tests.samples import customer

THEIRS = ["Pos.", "Pcs", "Load", "Remarks"]
MAP = """
[[table]]
sheet = "List"
heading_row = 2
[table.columns]
Tank = "Pos."
Quantity = "Pcs"
Power = { heading = "Load", unit = "W" }
[table.fixed]
Volts = 480
Phases = "3-phase"
"""


def mapped(folder: Path, text: str, sheets: dict[str, Sequence[Sequence[object]]]) -> Job:
    (folder / "list.xlsx").write_bytes(book(sheets))
    return read(folder / "list.xlsx", column_map=parse_map(text, "map.toml", "map.toml"))


def listed(folder: Path, *rows: Sequence[object], text: str = MAP, headings: Sequence[object] = THEIRS) -> Job:
    return mapped(folder, text, {"List": [["Plant"], headings, *rows], "Cover": [["x"]]})


def test_the_results_of_a_mapped_list_are_the_same_job_again(tmp_path: Path) -> None:
    """Columns that only the map names, its unit, its fixed values and what goes down the column: all of it stands on As received."""
    text = MAP.replace("[table.columns]", 'blank_repeats_above = ["Tank"]\n[table.columns]')
    text = text.replace('Quantity = "Pcs"', 'Quantity = { column = "B" }')
    (tmp_path / "map.toml").write_text(text, encoding="utf-8")
    rows = [["Plant"], THEIRS, ["A", 4, 6000, "x"], [None, 3, 7500, "y"]]
    (tmp_path / "list.xlsx").write_bytes(book({"List": rows, "Cover": [["x"]]}))
    first = batch.size(tmp_path / "list.xlsx", tmp_path / "one.xlsx", column_map=tmp_path / "map.toml")
    again = batch.size(tmp_path / "one.xlsx", tmp_path / "two.xlsx")
    third = batch.check(tmp_path / "two.xlsx")
    wanted = [("A", 4, 6.0, 480.0, 3), ("A", 3, 7.5, 480.0, 3)]
    for result in (first, again, third):
        assert [(bank.tank, bank.quantity, bank.power_kw, bank.volts_v, bank.phases) for bank in result.job.banks] == wanted
    history = batch.compare(tmp_path / "one.xlsx", tmp_path / "list.xlsx", column_map=tmp_path / "map.toml", target=tmp_path / "c.xlsx")
    assert not history.whole.changes


def test_a_map_that_somebody_has_spoilt_in_the_results_is_said_in_one_line(tmp_path: Path) -> None:
    with pytest.raises(MapError, match=r"sheet As received List, its column map is not as it was written: restore it"):
        map_as_received({"As received List": '{"kind": "Heaters", "columns": 3}'}, 3, 5, "one.xlsx")


def test_a_map_says_which_heading_is_which_in_which_unit_and_what_is_the_same_in_every_row(tmp_path: Path) -> None:
    job = listed(tmp_path, ["A", 4, 6000, "x"], ["B", "3 ea", "7,5 kW", None], [], ["Total", 7, 46500])
    assert [(bank.tank, bank.quantity, bank.power_kw, bank.volts_v, bank.phases) for bank in job.banks] == [
        ("A", 4, 6.0, 480.0, 3), ("B", 3, 7.5, 480.0, 3),
    ]  # fmt: skip
    assert fates(job) == {1: "above the headings", 2: "heading", 3: "", 4: "", 5: "blank row", 6: "a total"}
    assert job.banks[0].origin.cell("power_kw") == "C3"
    assert said(job, "map-used")[0].message == (
        "Sheet List is read as Heaters by the column map map.toml: Volts = 480 where the row does not say it; "
        "Phases = 3 where the row does not say it."
    )
    table = next(table for table in job.received if table.kind == "heaters")
    assert (table.headings, table.keys) == (tuple(THEIRS), ("tank", "quantity", "power_kw", ""))


def test_a_total_row_is_none_the_less_a_total_where_a_map_fills_the_rest(tmp_path: Path) -> None:
    """With volts and phases from the map it has all that a heater needs, and must not be sized as a tank called Total."""
    job = listed(tmp_path, ["A", 4, 6000], ["TOTAL", 4, 24000], ["Grand total:", 4, 24000])
    assert [bank.tank for bank in job.banks] == ["A"] and "row-total" in codes(job)


def test_columns_by_letter_and_a_blank_that_means_the_one_above(tmp_path: Path) -> None:
    text = MAP.replace('"Pos."', '{ column = "A" }').replace('"Pcs"', '{ column = "B" }')
    text = text.replace("heading_row", 'blank_repeats_above = ["Tank"]\nheading_row')
    job = listed(tmp_path, ["A", 4, 6000], [None, 2, 3000], ["LINE 2"], ["B", 1, 1000], [None, 1, 1000], text=text)
    assert [(bank.tank, bank.quantity) for bank in job.banks] == [("A", 4), ("A", 2), ("B", 1), ("B", 1)]


def test_the_mark_before_decimals(tmp_path: Path) -> None:
    for mark, power in ((",", 0.125), (".", 125.0)):
        job = listed(tmp_path, ["A", 4, "125,000"], text=f'decimal = "{mark}"\n{MAP}')
        assert [bank.power_kw for bank in job.banks] == [power]
    assert "cell-ambiguous" in codes(listed(tmp_path, ["A", 4, "125,000"]))


def test_several_sheets_of_one_kind_and_the_names_across_them(tmp_path: Path) -> None:
    text = MAP + MAP.replace('"List"', '"More"')
    sheets = {"List": [[], THEIRS, ["A", 4, 6000]], "More": [[], THEIRS, ["a", 2, 3000], ["B", 2, "?"]]}
    job = mapped(tmp_path, text, sheets)
    assert [(bank.tank, bank.origin.sheet, bank.origin.row) for bank in job.banks] == [("A", "List", 3), ("A", "More", 3)]
    assert [table.sheet for table in job.received if table.kind == "heaters"] == ["List", "More"]
    result = batch.check(tmp_path / "list.xlsx", column_map=parse_map(text, "m", "m"))
    assert [check for check in result.checks if not check.passes] == []


def test_tables_beside_each_other_by_their_columns(tmp_path: Path) -> None:
    left = MAP.replace("heading_row", 'first_column = "A"\nlast_column = "C"\nheading_row')
    right = MAP.replace("heading_row", 'first_column = "E"\nlast_column = "G"\nheading_row')
    job = mapped(tmp_path, left + right, {"List": [[], [*THEIRS[:3], None, *THEIRS[:3]], ["A", 4, 6000, None, "B", 2, 3000]]})
    assert [(bank.tank, bank.origin.cell("tank")) for bank in job.banks] == [("A", "A3"), ("B", "E3")]


def test_headings_are_looked_for_where_the_map_names_no_row_and_rows_below_the_last_are_left(tmp_path: Path) -> None:
    text = MAP.replace("heading_row = 2", "last_row = 4")
    job = listed(tmp_path, ["A", 4, 6000], ["B", 4, 6000], ["C", 4, 6000], text=text)
    assert [bank.tank for bank in job.banks] == ["A", "B"]
    assert fates(job)[5] == "below the last row of the column map"


BROKEN = {
    "no toml": ("[[table]\n", "not proper TOML"),
    "no table": ('decimal = ","', "no [[table]]"),
    "strange word": ("tabel = 1\n" + MAP, '"tabel" has no meaning'),
    "strange word in a table": (MAP.replace("heading_row", "heading"), '"heading" has no meaning in a table'),
    "no sheet": (MAP.replace('sheet = "List"', ""), "sheet is missing"),
    "kind": (MAP.replace("heading_row", 'kind = "Pumps"\nheading_row'), "kind is 'Pumps'"),
    "column of ours": (MAP.replace("Quantity", "Quantitty"), '"Quantitty" is no column of Heaters'),
    "unit": (MAP.replace('"W"', '"ft"'), 'the unit "ft" is not known there'),
    "row": (MAP.replace("= 2", '= "two"'), "heading_row is 'two': write one row number"),
    "rows apart": (MAP.replace("= 2", "= [2, 4]"), "heading_row is [2, 4]"),
    "letter": (MAP.replace('"Pos."', '{ column = "A1" }'), 'columns.Tank.column is "A1": write A, B, … or XFD'),
    "both": (MAP.replace('"Pos."', '{ column = "A", heading = "Pos." }'), "either a heading or a column"),
    "twice": (MAP.replace('Tank = "Pos."', 'Tank = "Pos."\ntank = "Load"'), "Tank is given twice"),
    "fixed and mapped": (MAP.replace("Volts = 480", "Power = 6"), "Power is given twice"),
    "fixed value": (MAP.replace("480", '"48O"'), 'fixed.Volts: Volts: "48O" holds the letter O'),
    "fixed list": (MAP.replace("480", "[480]"), "fixed.Volts is neither text nor a number"),
    "decimal": ('decimal = ";"\n' + MAP, "decimal is ';'"),
    "no such tab": (MAP.replace('"List"', '"Lits"'), 'list.xlsx has no such sheet; it has "List", "Cover"'),
    "no such heading": (MAP.replace('"Pcs"', '"Pieces"'), 'no heading "Pieces" for Quantity in row 2; it has "Pos.", "Pcs", "Load"'),
    "row beyond": (MAP.replace("= 2", "= 99"), "heading_row 99 is below the last row"),
    "column beyond": (MAP.replace('"Pos."', '{ column = "ZZ" }'), "in column ZZ, which is outside the sheet"),
    "two in one": (MAP.replace('"Pos."', '{ column = "B" }'), "Quantity and Tank are both in column B"),
    "mapped twice": (MAP + MAP, "the sheet is mapped twice"),
}  # fmt: skip


@pytest.mark.parametrize("case", BROKEN)
def test_what_is_wrong_with_a_map_is_said_in_one_line(case: str, tmp_path: Path) -> None:
    text, words = BROKEN[case]
    with pytest.raises(MapError) as refusal:
        listed(tmp_path, ["A", 4, 6000, "x"], text=text)
    line = str(refusal.value)
    assert words in line and "\n" not in line and re.match(r"map\.toml(, line \d+)?: ", line) and line.count(": ") >= 2


def test_a_heading_that_stands_twice_is_not_chosen_between(tmp_path: Path) -> None:
    with pytest.raises(MapError, match="stands in the columns C, D"):
        listed(tmp_path, ["A", 4, 6000, 5000], headings=["Pos.", "Pcs", "Load", "Load"])


def test_files_that_are_no_map(tmp_path: Path) -> None:
    (tmp_path / "a.toml").write_bytes(b"\xff\xfe\x00")
    (tmp_path / "b.toml").write_bytes(b"#" * (1 << 21))
    for name in ("a.toml", "b.toml", "none.toml"):
        with pytest.raises(JobError) as refusal:
            batch.column_map(tmp_path / name)
        assert "\n" not in str(refusal.value) and name in str(refusal.value)


# --- drafts


def drafted(folder: Path, sheets: dict[str, Sequence[Sequence[object]]]) -> str:
    (folder / "list.xlsx").write_bytes(book(sheets))
    return draft(folder / "list.xlsx")


def test_what_is_likely_is_applied_and_says_why(tmp_path: Path) -> None:
    text = drafted(tmp_path, {"List": [["Tank", "Quantitty", "Htr pwr (kW)", "U", "Ph"], ["A", 4, 6, 480, 1], ["B", 4, 6, 240, 1]]})
    table = tomllib.loads(text)["table"][0]
    assert table["columns"] == {"Tank": "Tank", "Quantity": "Quantitty", "Power": "Htr pwr (kW)", "Volts": "U", "Phases": "Ph"}
    assert 'Quantity = "Quantitty"  # likely: its heading and its values fit' in text
    assert table["power"] == "?" and 'or "per tank": 4 heaters of 1.5 kW, together 6 kW' in text


def test_of_two_issues_of_a_list_neither_is_applied_until_a_person_says_which(tmp_path: Path) -> None:
    text = drafted(tmp_path, {"A": [HEADINGS, GOOD], "B": [HEADINGS, GOOD], "C": [HEADINGS, ["T-9", *GOOD[1:]]]})
    assert [(table["sheet"], table.get("use", True)) for table in tomllib.loads(text)["table"]] == [("A", "?"), ("B", "?"), ("C", True)]
    plan = parse_map(text.replace('use = "?"', "use = true", 1).replace('use = "?"', "use = false", 1), "m", "m")
    job = read(tmp_path / "list.xlsx", column_map=plan)
    assert [(bank.tank, bank.origin.sheet) for bank in job.banks] == [("T-1", "A"), ("T-9", "C")]


TEXTS = st.text(max_size=12).filter(lambda text: "\x00" not in text)
CELLS = st.one_of(st.none(), st.floats(allow_nan=False, allow_infinity=False), TEXTS, st.sampled_from([
                  *HEADINGS, "kW", "W", "480/3/60", "3 x 6 kW", "Total", "TBD", "=1+1", '"', "\\", "#", "1A to 3A"]))  # fmt: skip


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow, HealthCheck.function_scoped_fixture])
@given(rows=st.lists(st.lists(CELLS, max_size=7), max_size=9), headed=st.booleans())
def test_every_draft_is_a_map_that_fits_its_own_workbook(rows: list[list[object]], headed: bool, tmp_path: Path) -> None:
    """And with it, as without it, no row is lost and nothing is a crash."""
    try:
        data = book({"Any": [HEADINGS, *rows] if headed else rows, "Other": rows})
    except UnicodeEncodeError:  # half a character: no workbook can be written with it
        return
    (tmp_path / "list.xlsx").write_bytes(data)
    text = draft(tmp_path / "list.xlsx")
    plan = parse_map(text, "map.toml", "map.toml") if "\n[[table]]" in text or "\nothers" in text else None
    assert plan is not None or "The workbook is empty" in text
    for column_map in (None, plan):
        job = read(tmp_path / "list.xlsx", column_map=column_map)
        records = {"heaters": job.banks, "feeders": job.feeders, "tanks": job.tanks, "stock": job.stock}
        for kind, some in records.items():
            kept = {(row.sheet, row.row) for table in job.received if table.kind == kind for row in table.rows if not row.refused}
            assert kept == {(one.origin.sheet, one.origin.row) for one in some}


def test_every_heading_of_ours_is_mapped_by_a_draft(tmp_path: Path) -> None:
    sheets = {sheet.name: [[column.title() for column in sheet.columns], ["x"] * len(sheet.columns)] for sheet in INPUTS}
    tables = tomllib.loads(drafted(tmp_path, sheets))["table"]
    assert [(table["kind"], len(table["columns"])) for table in tables] == [(sheet.name, len(sheet.columns)) for sheet in INPUTS]


# --- the sample


def test_the_customers_list_goes_through_in_two_commands(tmp_path: Path) -> None:
    source = customer.write(tmp_path / "customer-list.xlsx")
    before = source.read_bytes()
    plan = batch.propose_map(source, tmp_path / "map.toml")
    result = batch.size(source, column_map=plan)
    assert source.read_bytes() == before and Path(result.written).exists()
    assert all(check.passes for check in result.checks)
    banks = {row.bank.tank: row.bank for project in result.projects for row in project.banks}
    # what a person reads there, worked out by eye
    assert (banks["Z-103"].quantity, banks["Z-103"].power_kw, banks["Z-103"].volts_v, banks["Z-103"].phases) == (3, 9.0, 480.0, 3)
    assert (banks["Z-203"].power_kw, banks["Z-202"].power_kw) == (1.125, 4.5)
    both = [(row.bank.quantity, row.bank.power_kw) for project in result.projects for row in project.banks if row.bank.tank == "Z-203"]
    assert both == [(2, 1.25), (1, 1.125)]  # 1,250 W: no heater has 1.25 W
    assert (banks["N-12"].quantity, banks["R-2"].quantity, banks["R-2"].power_kw, banks["R-3"].power_kw) == (4, 3, 3.0, 3.0)
    refused = {(row.sheet, row.row): row.refused for table in result.job.received for row in table.rows if row.refused}
    assert {"Z-204 to Z-206", "Z-207", "N-13"}.isdisjoint(banks)
    assert "Tank: several tanks, and how many heaters in each is not said" in refused.values()
    for table in result.job.received:
        for row in table.rows:
            assert row.refused or result.fates.get((row.sheet, row.row)), f"{row.sheet} row {row.row} has no fate"


def test_a_draft_never_replaces_a_file(tmp_path: Path) -> None:
    source = customer.write(tmp_path / "list.xlsx")
    (tmp_path / "map.toml").write_text("mine")
    with pytest.raises(OutputFileError, match="exists"):
        batch.propose_map(source, tmp_path / "map.toml")
    assert (tmp_path / "map.toml").read_text() == "mine"


def test_the_map_beside_the_sample_is_the_draft_of_it() -> None:
    assert draft(HERE / "customer-list.xlsx") == (HERE / customer.MAP).read_text(encoding="utf-8")


# --- the commands


def run(*arguments: object) -> int:
    return cli.main([str(argument) for argument in arguments])


def test_a_map_is_drafted_and_used_in_two_commands(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    source = customer.write(tmp_path / "list.xlsx")
    plan = tmp_path / "map.toml"
    assert run("check", source, "--propose-map", plan) == 4
    assert capsys.readouterr().out.startswith(f"column map drafted: {plan}\n")
    assert plan.exists() and not (tmp_path / "list sized.xlsx").exists()
    assert run("size", source, "--map", plan) == 4
    out = capsys.readouterr().out
    assert "rows not sized 4" in out and (tmp_path / "list sized.xlsx").exists()


def test_wrong_command_lines_and_maps_that_do_not_fit(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    source = customer.write(tmp_path / "list.xlsx")
    other = tmp_path / "other.xlsx"
    other.write_bytes(book({"Heaters": [HEADINGS, GOOD]}))
    plan = tmp_path / "map.toml"
    assert run("check", source, other, "--propose-map", plan) == 2 and not plan.exists()
    assert run("check", source, "--propose-map", plan) == 4
    mine = plan.read_bytes()
    assert run("check", source, "--propose-map", plan) == 2 and plan.read_bytes() == mine
    assert run("check", source, "--map", plan, "--propose-map", tmp_path / "b.toml") == 2
    capsys.readouterr()
    assert run("size", other, "--map", plan) == 3
    said = capsys.readouterr().err
    assert said.count("\n") == 1 and 'table 1 (sheet "LINE 1 "): other.xlsx has no such sheet; it has "Heaters"' in said
    assert run("size", other, "--map", tmp_path / "none.toml") == 3
    assert not (tmp_path / "other sized.xlsx").exists()


def test_a_list_in_which_nothing_is_recognised_gets_a_map_to_fill_in(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "list.xlsx").write_bytes(book({"Prices": [["Part", "fee"], ["fuse", 2]]}))
    assert run("check", tmp_path / "list.xlsx", "--propose-map", tmp_path / "map.toml") == 4
    assert 'QUESTION: sheet "Prices" was not read' in (tmp_path / "map.toml").read_text()
