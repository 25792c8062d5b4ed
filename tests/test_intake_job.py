"""Whole workbooks: records, names across sheets, rows that hang on others, and a fate for every row."""

from __future__ import annotations

import hashlib
import subprocess
import sys
from collections.abc import Sequence
from datetime import date
from math import inf
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from batch import compare
from batch.findings import Severity
from batch.intake import read
from batch.intake.table import rows_worded
from batch.money_records import MONEY
from batch.records import Bank, Feeder, Part, PowerSource, Project, Tank
from batch.sheets import FEEDERS, HEATERS, INPUTS, PROJECTS, STOCK, TANKS, Column, Sheet
from batch.units import convert
from tests.intake_book import GOOD, HEADINGS, book, codes, fates, heaters, read_bytes, read_sheets, said

WIDE = ["Project", "Tank", "Feeder", "Quantity", "Power (kW)", "Volts", "Phases"]
SUPPLY = ["Project", "Feeder", "Volts", "Phases"]
RECORDS = {"projects": Project, "sources": PowerSource, "feeders": Feeder, "tanks": Tank, "heaters": Bank, "stock": Part, **MONEY}


def wide(project: object = "P-1", tank: object = "T-1", feeder: object = "F-1") -> list[object]:
    return [project, tank, feeder, 4, 6, 480, 1]


@pytest.mark.parametrize("sheet", INPUTS, ids=lambda sheet: sheet.id)
def test_records_have_the_columns_as_fields(sheet: Sheet) -> None:
    assert list(RECORDS[sheet.id].__struct_fields__) == [*sheet.by_key, "origin"]


def test_a_job_says_what_file_it_came_from(tmp_path: Path) -> None:
    data = book({"Heaters": [HEADINGS, GOOD]})
    job = read_bytes(tmp_path, data, "plant A.xlsx")
    assert (job.name, job.digest) == ("plant A.xlsx", hashlib.sha256(data).hexdigest())


def test_a_record_knows_its_cells(tmp_path: Path) -> None:
    job = read_sheets(tmp_path, {"Heaters": [[], ["", *HEADINGS], ["", *GOOD], ["", "T-2", *GOOD[1:]]]})
    first, second = job.banks
    assert (second.origin.sheet, second.origin.cell("power_kw"), second.origin.cell("sheath")) == ("Heaters", "D4", "B4")
    assert first.origin.columns is second.origin.columns


def test_customers_text_is_kept_and_numbers_become_tags(tmp_path: Path) -> None:
    rest = GOOD[1:]
    rows = [[101, *rest, " two  spaces\nand a line "], ["=HYPERLINK(1)", *rest, 12.5], [date(2024, 4, 3), *rest, date(2024, 5, 6)]]
    job = heaters(tmp_path, *rows, headings=[*HEADINGS, "Notes"])
    assert [(bank.tank, bank.notes) for bank in job.banks] == [
        ("101", "two  spaces\nand a line"), ("=HYPERLINK(1)", "12.5"), ("2024-04-03", "2024-05-06"),
    ]  # fmt: skip


def test_every_kind_of_row_has_its_fate(tmp_path: Path) -> None:
    rows = [GOOD, [], ["Line 2"], HEADINGS, ["T-2", None, 6, 480, 1], ["Subtotal", 4, 24], [None] * 5 + ["x"], GOOD, [" "], ["* by others"]]
    job = heaters(tmp_path, *rows, headings=[*HEADINGS, "Colour"])
    assert fates(job) == {
        2: "", 3: "blank row", 4: "a note", 5: "headings again", 6: "Quantity: blank", 7: "a total",
        8: "nothing in the columns that are read", 9: "", 10: "blank row", 11: "a note",
    }  # fmt: skip


def test_a_tank_called_total_is_a_heater_like_any_other(tmp_path: Path) -> None:
    assert [bank.tank for bank in heaters(tmp_path, ["Total rinse", *GOOD[1:]]).banks] == ["Total rinse"]


def test_a_heater_with_the_word_total_in_its_notes_is_no_total_row(tmp_path: Path) -> None:
    """It lacks its volts, or power and volts: that is a hold, and must not pass as a note."""
    rows = [["T-1", 4, 6, None, 1, "total 24 kW"], [None, 8, 48, None, None, "Total"], ["T-2", 4, None, None, 1, "total 24 kW"]]
    job = heaters(tmp_path, *rows, headings=[*HEADINGS, "Notes"])
    assert fates(job) == {2: "Volts: blank", 3: "a total", 4: "Power: blank; Volts: blank"}
    assert said(job, "cell-missing")[0].cell == "D2"


def test_a_tank_with_its_quantity_alone_is_a_heater_row_that_lacks_the_rest(tmp_path: Path) -> None:
    """Somebody meant three heaters there: a hold, where a text alone in its row is a note."""
    job = heaters(tmp_path, GOOD, ["T-5", 3], ["heaters of line 2 follow next week"], ["T-6", 2])
    assert fates(job) == {
        2: "", 3: "Power: blank; Volts: blank; Phases: blank", 4: "a note", 5: "Power: blank; Volts: blank; Phases: blank",
    }  # fmt: skip
    assert [finding.cell for finding in said(job, "row-note")] == ["A4"]
    assert all(finding.severity is Severity.HOLD for finding in said(job, "cell-missing")) and said(job, "cell-missing")


@pytest.mark.parametrize(("power_kw", "said_of"), [(0.1, False), (0.099, True)])
def test_less_than_a_hundred_watts_is_likely_a_slip_of_the_unit(tmp_path: Path, power_kw: float, said_of: bool) -> None:
    assert ("power-unlikely" in codes(heaters(tmp_path, ["T-1", 4, power_kw, 480, 1]))) is said_of


@pytest.mark.parametrize(("tag", "unfilled"), [(13, True), (11, True), (14, False), (10, False)])
def test_a_number_alone_is_an_unfilled_row_only_where_it_runs_on(tmp_path: Path, tag: int, unfilled: bool) -> None:
    """One more or one less than its neighbour: rows numbered beforehand. Any other is a tank whose heaters are missing."""
    job = heaters(tmp_path, [12, *GOOD[1:]], [tag], [20, *GOOD[1:]])
    assert ("blank" not in fates(job)[3]) is unfilled and ("cell-missing" in codes(job)) is not unfilled


def test_headings_repeated_on_a_sheet_of_words_only(tmp_path: Path) -> None:
    tanks = [["Tank", "Duty", "Liquid"], ["T-1", "rinse", "water"], ["TANK", "Duty", "Liquid"], ["T-2", "clean", "water"]]
    job = read_sheets(tmp_path, {"Tanks": tanks, "Heaters": [HEADINGS, GOOD]})
    assert [tank.tank for tank in job.tanks] == ["T-1", "T-2"]
    assert fates(job, "tanks")[3] == "headings again"


def test_a_second_table_below_is_read_by_its_own_headings(tmp_path: Path) -> None:
    again = ["Tank", "Volts", "Quantity", "Power", "Phases"]
    job = heaters(tmp_path, GOOD, [], again, [None, "V", "ea", "W", None], ["T-2", 480, 3, 9000, 1])
    assert [(bank.tank, bank.quantity, bank.power_kw) for bank in job.banks] == [("T-1", 4, 6.0), ("T-2", 3, 9.0)]
    assert [bank.origin.cell("power_kw") for bank in job.banks] == ["C2", "D6"]
    assert fates(job) == {2: "", 3: "blank row", 4: "headings of the rows below", 5: "unit row", 6: ""}
    assert said(job, "headings-anew")[0].cell == "A4"


def test_headings_of_another_table_stop_the_reading(tmp_path: Path) -> None:
    job = heaters(tmp_path, GOOD, ["Feeder", "Volts", "Phases", "", ""], ["T-2", 480, 4, 6, 1], [], GOOD)
    assert len(job.banks) == 1
    below = "below other headings (row 3)"
    assert fates(job) == {2: "", 3: "headings in another order", 4: below, 5: "blank row", 6: below}


def test_rows_far_below_are_read_without_the_blanks_between(tmp_path: Path) -> None:
    job = heaters(tmp_path, GOOD, *[[]] * 3000, ["T-2", *GOOD[1:]])
    assert [bank.origin.row for bank in job.banks] == [2, 3003]
    assert len(fates(job)) == 2


def test_sheets_by_other_names_and_in_any_order(tmp_path: Path) -> None:
    sheets = {
        "NOTES": [["hello"], ["you"]], "heater schedule": [WIDE, wide()], "Supply": [SUPPLY, ["P-1", "F-1", 480, 3]],
        "baths": [["Tank"], ["T-1"]], "Settings": [["Project"], ["P-1"]],
    }  # fmt: skip
    job = read_sheets(tmp_path, sheets)
    assert [len(some) for some in (job.projects, job.feeders, job.tanks, job.banks)] == [1, 1, 1, 1]
    assert [(table.sheet, table.kind, len(table.rows)) for table in job.received] == [
        ("NOTES", "", 2), ("heater schedule", "heaters", 1), ("Supply", "feeders", 1), ("baths", "tanks", 1), ("Settings", "projects", 1),
    ]  # fmt: skip


def test_a_feeder_that_names_its_source_needs_no_volts_or_phases(tmp_path: Path) -> None:
    """Neither the cells nor their columns; without a source they are needed as ever."""
    heaters = [[*HEADINGS, "Feeder"], [*GOOD, "F-1"]]
    sources = [["Source", "Volts", "Phases", "Primary fault level (MVA)"], ["TX-1", 480, 3, "Unlimited"]]
    bare = read_sheets(tmp_path, {"Heaters": heaters, "Sources": sources, "Feeders": [["Feeder", "Fed from source"], ["F-1", "TX-1"]]})
    assert [(one.feeder, one.source, one.volts_v, one.phases) for one in bare.feeders] == [("F-1", "TX-1", 0.0, 0)]
    assert [one.primary_mva for one in bare.sources] == [inf]
    lacking = [["F-2", None, None, None], ["F-3", 480, None, None]]
    rows = [["Feeder", "Volts", "Phases", "Fed from source"], ["F-1", None, None, "TX-1"], *lacking]
    job = read_sheets(tmp_path, {"Heaters": heaters, "Sources": sources, "Feeders": rows})
    assert [one.feeder for one in job.feeders] == ["F-1"]
    assert {finding.cell for finding in said(job, "cell-missing")} >= {"B3", "C3", "C4"}


def test_a_revision_that_names_the_level_of_an_unlimited_primary(tmp_path: Path) -> None:
    files = []
    for name, level in (("A.xlsx", "unlimited"), ("B.xlsx", 250)):
        rows = [["Source", "Volts", "Phases", "Primary fault level (MVA)"], ["TX-1", 480, 3, level]]
        sheets = {"Heaters": [HEADINGS, GOOD], "Sources": rows, "Feeders": [["Feeder", "Fed from source"], ["F-1", "TX-1"]]}
        files.append(tmp_path / name)
        files[-1].write_bytes(book(sheets))
    [step] = compare(*files, target=tmp_path / "changes.xlsx").steps
    assert [(one.before, one.after) for one in step.changes if one.column.key == "primary_mva"] == [("unlimited", 250.0)]
    files[0].write_bytes(book({"Heaters": [HEADINGS, GOOD], "Feeders": [["Feeder", "Volts", "Phases"], ["F-1", 480, 3]]}))
    assert compare(*files, target=tmp_path / "hung.xlsx").written  # its trials take the volts away before the source is named


def test_own_name_of_a_sheet_wins_over_its_other_names(tmp_path: Path) -> None:
    job = read_sheets(tmp_path, {"Heater list": [HEADINGS, ["T-9", *GOOD[1:]]], "Heaters": [HEADINGS, GOOD]})
    assert [bank.tank for bank in job.banks] == ["T-1"]
    assert said(job, "sheet-repeated")[0].sheet == "Heater list"
    assert next(table for table in job.received if table.sheet == "Heater list").rows[1].refused == "sheet not read"


def test_two_lists_of_the_same_tanks_are_not_chosen_from(tmp_path: Path) -> None:
    job = read_sheets(tmp_path, {"A": [HEADINGS, GOOD], "B": [HEADINGS, GOOD]})
    assert not job.banks and "Sheets A and B list the same tanks (t-1)" in said(job, "issue-question")[0].message


# Projects


def test_projects_go_by_the_spelling_of_their_sheet(tmp_path: Path) -> None:
    job = read_sheets(tmp_path, {"Projects": [["Project"], ["Plant A"], ["B"]], "Heaters": [WIDE, wide("PLANT a "), wide("b"), wide("B")]})
    assert [bank.project for bank in job.banks] == ["Plant A", "B", "B"]
    assert {bank.project for bank in job.banks} <= {project.project for project in job.projects}


def test_a_blank_project_is_the_only_one(tmp_path: Path) -> None:
    feeders = [SUPPLY, [None, "F-1", 480, 3]]
    job = read_sheets(tmp_path, {"Projects": [["Project"], ["P-1"]], "Feeders": feeders, "Heaters": [WIDE, wide(None), wide()]})
    assert [record.project for record in (*job.banks, *job.feeders)] == ["P-1"] * 3


def test_without_a_projects_sheet_the_rows_name_them(tmp_path: Path) -> None:
    job = read_sheets(tmp_path, {"Heaters": [WIDE, wide("B"), wide("A"), wide("b"), wide(None)]})
    assert [project.project for project in job.projects] == ["B", "A"]
    assert [bank.project for bank in job.banks] == ["B", "A", "B"]
    assert fates(job)[5] == "project not said"
    assert [project.project for project in heaters(tmp_path, GOOD).projects] == [""]


def test_a_project_named_by_a_refused_row_is_still_a_project(tmp_path: Path) -> None:
    """Else the row that names none would silently go to the other one."""
    job = read_sheets(tmp_path, {"Heaters": [WIDE, wide("A"), ["B", "T-2", None, None, 6, 480, 1], wide(None)]})
    assert fates(job) == {2: "", 3: "Quantity: blank", 4: "project not said"}


def test_an_unknown_project_is_offered_its_neighbour(tmp_path: Path) -> None:
    job = read_sheets(tmp_path, {"Projects": [["Project"], ["Plant A"]], "Heaters": [WIDE, wide("Plamt A")]})
    assert not job.banks and "Is it Plant A?" in said(job, "project-unknown")[0].message


def test_rows_of_a_project_that_could_not_be_read_are_not_sized(tmp_path: Path) -> None:
    projects = [["Project", "Ambient (°C)"], ["A", "hot"], ["B", 40]]
    job = read_sheets(tmp_path, {"Projects": projects, "Heaters": [WIDE, wide("A"), wide("B"), wide("a"), wide(None)]})
    assert [project.project for project in job.projects] == ["B"] and [bank.project for bank in job.banks] == ["B"]
    assert fates(job) == {2: "its project could not be read", 3: "", 4: "its project could not be read", 5: "project not said"}
    assert len(said(job, "project-not-read")) == 2  # once for each spelling, not once a row


def test_a_project_given_twice_is_the_first(tmp_path: Path) -> None:
    job = read_sheets(tmp_path, {"Projects": [["Project", "Margin"], ["A", 30], ["a", 40]], "Heaters": [WIDE, wide("A")]})
    assert [project.margin_pct for project in job.projects] == [30.0]
    assert [finding.cell for finding in said(job, "project-repeated")] == ["A2", "A3"]
    assert fates(job, "projects") == {2: "", 3: "project given in row 2 already"}


# Feeders


SET_ASIDE = {"Heat margin (%)": 200, "Branch drop (%)": 40, "Total drop (%)": "some", "On drop": "perhaps", "Smallest branch OCPD (A)": 600,
             "Branches per panel at most": 84, "Distribution": "maybe", "Temperature controller": "?!", "Limit reset": "somewhere",
             "Box location": "there", "Box material": "wood", "Block jumpers": "thin", "Boxes": 7}  # fmt: skip
HELD = {"Continuous-load margin (%)": 900, "Ambient (°C)": "warm", "Terminal rating (°C)": 400, "Conductor": "silver", "Raceway": "ditch",
        "Insulation": "paper", "OCPD type": "string", "Wires per contactor terminal": 9, "Residual-current device (mA)": "some",
        "Ground-fault trip (mA)": "some", "Back-up contactor": "perhaps", "Control volts (V)": 9000,
        "Control transformer": "perhaps"}  # fmt: skip


@pytest.mark.parametrize(("heading", "value"), [*SET_ASIDE.items(), *HELD.items()])
def test_a_setting_that_cannot_be_used_is_set_aside_only_where_its_default_is_safe(tmp_path: Path, heading: str, value: object) -> None:
    feeders, projects = [SUPPLY, ["A", "F-1", 480, 3]], [["Project", heading], ["A", value]]
    job = read_sheets(tmp_path, {"Projects": projects, "Feeders": feeders, "Heaters": [WIDE, wide("A")]})
    aside = heading in SET_ASIDE
    assert [bank.tank for bank in job.banks] == ["T-1"] * aside
    assert len(said(job, "setting-taken-as-blank")) == aside and bool(said(job, "project-not-read")) is not aside
    if aside:
        (finding,) = said(job, "setting-taken-as-blank")
        key = next(column.key for column in PROJECTS.columns if column.title() == heading)
        assert finding.cell == "B2" and PROJECTS[key].default in finding.message and getattr(job.projects[0], key) is None


def test_heaters_of_a_feeder_that_could_not_be_read_do_not_fall_to_another(tmp_path: Path) -> None:
    feeders = [SUPPLY, ["P-1", "F-1", 480, 3], ["P-1", "F-2", "48O", 3]]
    rows = [wide(feeder=tag) for tag in ("F-1", "f-2", None, "F-9")]
    job = read_sheets(tmp_path, {"Feeders": feeders, "Heaters": [WIDE, *rows]})
    assert [feeder.feeder for feeder in job.feeders] == ["F-1"]
    assert [bank.origin.row for bank in job.banks] == [2]
    assert said(job, "feeder-not-read")[0].message.endswith("rows 3 to 5 of sheet Heaters.")


def test_an_unread_feeder_of_another_project_does_no_harm(tmp_path: Path) -> None:
    feeders = [SUPPLY, ["A", "F-1", 480, 3], ["B", "F-1", "48O", 3]]
    job = read_sheets(tmp_path, {"Feeders": feeders, "Heaters": [WIDE, wide("A", feeder=None), wide("B", feeder=None)]})
    assert [(bank.project, bank.feeder) for bank in job.banks] == [("A", None)]


def test_feeders_that_differ_are_both_refused(tmp_path: Path) -> None:
    alike = [["P-1", "F-1", 480, 3, "one"], ["P-1", "F-1", 480, 3, "other"]]
    feeders = [[*SUPPLY, "Notes"], *alike, ["P-1", "F-2", 480, 3], ["P-1", "F-2", 240, 1]]
    job = read_sheets(tmp_path, {"Feeders": feeders, "Heaters": [WIDE, wide(feeder="F-1"), wide(feeder="F-2")]})
    assert [feeder.feeder for feeder in job.feeders] == ["F-1"]
    assert "Volts, Phases" in said(job, "feeder-contradicts")[0].message
    assert [finding.cell for finding in said(job, "feeder-repeated")] == ["B2", "B3"]
    assert [bank.feeder for bank in job.banks] == ["F-1"]


def test_a_tag_that_differs_in_spaces_alone_is_read_with_a_caution(tmp_path: Path) -> None:
    """Not where it is listed as it stands, and not where two that are listed would serve."""
    feeders = [SUPPLY, *(["P-1", tag, 480, 3] for tag in ("F1", "G 1", "G1", "H 1 2", "H12"))]
    heaters = [WIDE, wide(feeder="F 1"), wide(feeder="G 1"), wide(feeder="g1"), wide(feeder="H 12")]
    job = read_sheets(tmp_path, {"Feeders": feeders, "Heaters": heaters})
    assert [bank.feeder for bank in job.banks] == ["F1", "G 1", "G1", "H 12"]
    assert [finding.message for finding in said(job, "name-near")] == [
        'Feeder "F 1" is listed nowhere and was read as "F1": they differ in spaces alone.'
    ]


def test_heaters_take_the_spelling_of_the_feeder_and_tank_sheets(tmp_path: Path) -> None:
    sheets = {"Feeders": [SUPPLY, ["P-1", "MCC-1", 480, 3]], "Tanks": [["Project", "Tank"], ["P-1", "Rinse 1"]],
              "Heaters": [WIDE, wide(tank="RINSE 1", feeder="mcc-1"), wide(tank="rinse 1", feeder="MCC-1")]}  # fmt: skip
    job = read_sheets(tmp_path, sheets)
    assert {(bank.tank, bank.feeder) for bank in job.banks} == {("Rinse 1", "MCC-1")}
    assert len(said(job, "name-respelt")) == 3  # RINSE 1, rinse 1, mcc-1
    table = next(table for table in job.received if table.kind == "heaters")
    assert table.rows[0].values[1:3] == ("RINSE 1", "mcc-1")


@pytest.mark.parametrize(
    ("volts", "phases", "wires", "expected"),
    [("480Y/277", 3, None, (480.0, 4, None)), ("480Y/277", 3, 3, (480.0, 3, None)), ("120/240", 1, None, (240.0, 3, None)),
     ("240/120", 3, None, (240.0, 4, "high-leg delta")), ("208Y/120 V", 3, 4, (208.0, 4, None)), (480, 3, None, (480.0, None, None))],
)  # fmt: skip
def test_supplies_named_by_two_voltages(volts: object, phases: int, wires: int | None, expected: tuple, tmp_path: Path) -> None:
    feeders = [["Feeder", "Volts", "Phases", "Wires"], ["F-1", volts, phases, wires]]
    job = read_sheets(tmp_path, {"Feeders": feeders, "Heaters": [HEADINGS, GOOD]})
    feeder = job.feeders[0]
    assert (feeder.volts_v, feeder.wires, feeder.system) == expected
    assert ("volts-pair-wires" in codes(job)) == (volts == "480Y/277" and wires == 3)


# Tanks


@pytest.mark.parametrize(("unit", "value", "start", "asked"), [
    ("(°F)", 65, None, True), ("(°F)", 65, 55, False), ("(°F)", 149, None, False), ("(°C)", 20, None, False), ("(°C)", "65 °F", None, True),
    ("", 65, None, False),
])  # fmt: skip
def test_a_bath_of_65_under_fahrenheit_is_asked_about(unit: str, value: object, start: object, asked: bool, tmp_path: Path) -> None:
    tanks = [["Tank", f"Operating temperature {unit}", "Start temperature (°F)"], ["T-1", value, start]]
    job = read_sheets(tmp_path, {"Tanks": tanks, "Heaters": [HEADINGS, GOOD]})
    assert ("bath-unlikely" in codes(job)) == asked == (not job.tanks) and len(job.banks) == 1


def test_tanks_and_heaters_are_compared_where_there_are_tanks(tmp_path: Path) -> None:
    tanks = [["Tank", "Operating temperature (°C)"], ["T-1", 60], ["T-2", "65 °F"], ["T-3", 60]]
    job = read_sheets(tmp_path, {"Tanks": tanks, "Heaters": [HEADINGS, GOOD, ["T-2", *GOOD[1:]], ["T-9", *GOOD[1:]], ["T-9", *GOOD[1:]]]})
    found = {(finding.code, finding.tank, finding.cell) for finding in job.findings if "tank" in finding.code}
    assert found == {("tank-not-read", "T-2", "A3"), ("heater-without-tank", "T-9", "A4"), ("tank-without-heaters", "T-3", "A4")}
    assert len(job.banks) == 4 and "bath-unlikely" in codes(job)
    without = read_sheets(tmp_path, {"Tanks": [["Tank"]], "Heaters": [HEADINGS, GOOD]})
    assert "heater-without-tank" not in codes(without)


def test_same_tank_tag_in_two_projects_is_two_tanks(tmp_path: Path) -> None:
    job = read_sheets(tmp_path, {"Tanks": [["Project", "Tank"], ["A", "T-1"], ["B", "T-1"]], "Heaters": [WIDE, wide("A"), wide("B")]})
    assert len(job.tanks) == 2 and "tank-repeated" not in codes(job)


# The whole


def test_progress_is_told_and_ends_at_its_total(tmp_path: Path) -> None:
    path = tmp_path / "job.xlsx"
    path.write_bytes(book({"Heaters": [HEADINGS, *[[f"T-{n}", *GOOD[1:]] for n in range(2500)]]}))
    told: list[tuple[str, int, int]] = []
    assert len(read(path, lambda *step: told.append(step)).banks) == 2500
    assert [done for _, done, _ in told] == [1000, 2000, 2501] and told[-1] == ("Reading Heaters", 2501, 2501)


def test_reading_loads_no_slow_library(tmp_path: Path) -> None:
    path = tmp_path / "job.xlsx"
    path.write_bytes(book({"Heaters": [HEADINGS, GOOD]}))
    code = "import sys\nfrom pathlib import Path\nfrom batch.intake import read\nread(Path(sys.argv[1]))\n" \
           "print([m for m in ('openpyxl', 'pandas', 'numpy', 'pint', 'lxml', 'difflib', 'subprocess') if m in sys.modules])"
    found = subprocess.run([sys.executable, "-c", code, str(path)], capture_output=True, text=True, check=True).stdout
    assert found.strip() == "[]"


def texts(column: Column) -> st.SearchStrategy[object]:
    tag = st.from_regex(r"[A-Z]{1,3}-[0-9]{1,3}[a-z]?", fullmatch=True)
    prose = st.text("äß°Ω≥漢 a=+@'\"", min_size=1, max_size=20)
    return tag if column.key in ("project", "tank", "bank", "feeder", "part") else st.one_of(tag, prose)


def values(column: Column) -> st.SearchStrategy[object]:
    """Values that the column accepts, in its own unit."""
    if column.kind == "choice":
        return st.sampled_from([word for accepted, others in column.choices.items() for word in (accepted, *others)])
    if column.key == "phases":
        return st.sampled_from([1, 3])
    if column.key == "terminal_c":
        return st.sampled_from([60, 70, 75, 90])
    if column.kind == "integer":
        return st.integers(int(column.low), int(column.high))
    if column.kind in ("number", "volts"):
        low = column.low if column.low is not None else column.above
        step = (column.high - low) / 1000
        return st.integers(1, 1000).map(lambda n: round(low + n * step, 6))
    return texts(column)


def expected(column: Column, value: object) -> object:
    if column.kind == "choice" and value is not None:
        wanted = [word for word, others in column.choices.items() if value in (word, *others)]
        return wanted[0]
    if isinstance(value, str):
        return value.strip() or None
    return value


def rows_of(sheet: Sheet) -> st.SearchStrategy[list[dict[str, object]]]:
    needed = {column.key: values(column) for column in sheet.columns if column.required}
    free = {column.key: st.one_of(st.none(), values(column)) for column in sheet.columns if not column.required}
    broken = st.sampled_from([None, None, None, "#broken"])
    return st.lists(st.fixed_dictionaries({**needed, **free, "broken": broken}), min_size=1, max_size=6)


UNBROKEN = ("projects", "tanks")  # nothing but a tag is needed there, and a tag is what tells the rows apart


def sheet_of(sheet: Sheet, rows: Sequence[dict[str, object]], us: bool) -> list[list[object]]:
    """The sheet with headings as our template writes them, and each row; a broken row has a word for its power, volts or tag."""
    table: list[list[object]] = [[column.title(us) for column in sheet.columns]]
    for row in rows:
        cells = []
        for column in sheet.columns:
            value = row[column.key]
            if us and column.us_unit and isinstance(value, (int, float)):
                value = convert(value, column.unit, column.us_unit)
            cells.append(value)
        if row["broken"] and sheet.id not in UNBROKEN:
            numbers = [index for index, column in enumerate(sheet.columns) if column.required and column.kind != "text"]
            cells[numbers[0]] = "broken"
        table.append(cells)
    return table


@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.too_slow, HealthCheck.function_scoped_fixture])
@given(data=st.data(), us=st.booleans())
@pytest.mark.parametrize("sheet", [HEATERS, TANKS, FEEDERS, STOCK, PROJECTS], ids=lambda sheet: sheet.id)
def test_random_rows_come_back_and_none_is_lost(sheet: Sheet, data: st.DataObject, us: bool, tmp_path: Path) -> None:
    """Written as our template has it, in SI or US units, every row comes back as it was, or is refused with a reason."""
    rows = data.draw(rows_of(sheet))
    for number, row in enumerate(rows):
        row[sheet.key[-1] if sheet.id != "heaters" else "bank"] = f"N-{number}"
        if "project" in row:
            row["project"] = f"N-{number}" if sheet.id == "projects" else "P-1"
        if sheet.id in UNBROKEN:
            row["broken"] = None
        if sheet.id == "tanks":
            row["start_c"] = -20.0  # a cold bath in °F is asked about where nothing in its row bears it out
    sheets = {sheet.name: sheet_of(sheet, rows, us)}
    if sheet.id != "heaters":
        sheets["Heaters"] = [WIDE, wide("N-0" if sheet.id == "projects" else "P-1", feeder=None)]
    job = read_sheets(tmp_path, sheets)
    records = {"projects": job.projects, "feeders": job.feeders, "tanks": job.tanks, "heaters": job.banks, "stock": job.stock}[sheet.id]
    by_row = {record.origin.row: record for record in records}
    why = fates(job, sheet.id)
    assert set(why) == set(range(2, len(rows) + 2))
    assert {row for row, words in why.items() if not words} == set(by_row)
    for number, row in enumerate(rows, 2):
        if row["broken"]:
            assert why[number]
            continue
        assert not why[number], (why[number], row)
        record = by_row[number]
        for column in sheet.columns:
            got, wanted = getattr(record, column.key), expected(column, row[column.key])
            assert got == (pytest.approx(wanted, rel=1e-9, abs=1e-6) if isinstance(wanted, float) else wanted), column.key


@pytest.mark.parametrize(
    ("numbers", "words"),
    [([4], "row 4"), ([4, 5], "rows 4 and 5"), ([4, 7, 8, 9, 12], "rows 4, 7 to 9 and 12"), (range(2, 40), "rows 2 to 39"),
     (range(2, 40, 2), "rows 2, 4, 6, 8, 10, 12, 14, 16 and others")],
)  # fmt: skip
def test_row_numbers_in_words(numbers: Sequence[int], words: str) -> None:
    assert rows_worded(list(numbers)) == words


def test_a_feeder_tag_without_volts_keeps_its_heaters_from_the_other_feeder(tmp_path: Path) -> None:
    feeders = [SUPPLY, ["P-1", "F-1", 480, 3], [None, "F-2"]]
    job = read_sheets(tmp_path, {"Feeders": feeders, "Heaters": [WIDE, wide(feeder="F-1"), wide(feeder=None)]})
    assert [bank.feeder for bank in job.banks] == ["F-1"]
    assert fates(job, "feeders")[3].startswith("Volts: blank")


def test_the_sheet_for_people_in_our_own_blank_workbook_is_not_remarked_on(tmp_path: Path) -> None:
    job = read_sheets(tmp_path, {"Read me first": [["Job workbook"], ["Fill Heaters"]], "Heaters": [HEADINGS, GOOD]})
    assert not said(job, "sheet-not-recognised")
