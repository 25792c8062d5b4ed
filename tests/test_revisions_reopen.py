"""A results workbook is a revision: read again it is the job it was made from, with its choices, and with what was typed into it."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest
from msgspec.structs import replace

import batch
from batch.comparing.compare import compare_revisions
from batch.comparing.revision import Revision
from batch.errors import InputFileError
from batch.findings import Finding, Severity
from batch.findings.revising import EDITS
from batch.intake import read
from batch.origin import NOWHERE
from batch.reopening.reopen import open_revision
from batch.reopening.results_book import read_any
from batch.report import read_first
from batch.schedules import RESULTS
from batch.sheets import received as words
from batch.writing.as_sized import extended
from tests.intake_book import book as intake_book
from tests.make_samples import HERE
from tests.recalculation import needs_office, recalculated
from tests.samples import broken
from tests.workbook_edits import typed, without_row

BANKS = next(sheet for sheet in RESULTS if sheet.id == "banks")
JOBS = ["small-clean", "whole-plant", "every-finding", "revisions/line-4-rev-A", *(
    f"broken/{Path(name).stem}" for name in broken.OWN if name.endswith(".xlsx"))]  # fmt: skip


def sized(folder: Path, name: str, **more: object) -> Path:
    target = folder / f"{Path(name).name} sized.xlsx"
    batch.size(HERE / f"{name}.xlsx", target, **more)
    return target


@cache
def _small(folder: Path) -> Path:
    return sized(folder, "small-clean")


@pytest.fixture(scope="session")
def small(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return _small(tmp_path_factory.mktemp("small"))


def opened(path: Path) -> Revision:
    return open_revision(path, batch.PROGRAM)


def said(side: Revision, code: str) -> list[Finding]:
    return [finding for finding in side.result.findings if finding.code == code]


def column(key: str) -> str:
    """Letters of a column of Banks."""
    at = [one.key for one in extended(BANKS).columns].index(key)
    return (chr(64 + at // 26) if at > 25 else "") + chr(65 + at % 26)


def cell(key: str, tank: int) -> str:
    """Cell of Banks in the row of the small sample's tank T-10x."""
    return f"{column(key)}{tank - 101 + 6}"


# --- read again as it is


def test_the_words_that_a_results_workbook_is_known_by_are_those_that_are_written() -> None:
    assert words.READ_FIRST == read_first.NAME
    assert {sheet.id: sheet.name for sheet in RESULTS if sheet.id in words.STORED} == words.STORED


def test_only_what_makes_results_a_job_again_is_read_and_of_other_workbooks_all() -> None:
    names = ["Read first", "Summary P", "Banks", "Circuits", "Circuits 2", "Wiring", "As received Heaters", "Carried forward", words.DATA]
    assert words.read_again(names) == {*names} - {"Summary P", "Wiring"}
    assert words.read_again(["Read first", "Heaters", "Wiring"]) == {"Read first", "Heaters", "Wiring"}


@pytest.mark.parametrize("name", JOBS)
def test_the_job_in_the_results_is_the_job_they_were_made_from(name: str, tmp_path: Path) -> None:
    """Every record, value for value: as received is as received."""
    before = read(HERE / f"{name}.xlsx")
    after, stored = read_any(sized(tmp_path, name))
    assert stored is not None
    for kind in ("projects", "feeders", "tanks", "banks", "stock"):
        ours, theirs = ([replace(record, origin=NOWHERE) for record in getattr(job, kind)] for job in (before, after))
        for one, other in zip(ours, theirs, strict=True):
            assert one == other, [(name, getattr(one, name), getattr(other, name)) for name in one.__struct_fields__
                                  if getattr(one, name) != getattr(other, name)]  # fmt: skip


@pytest.mark.parametrize("name", ["small-clean", "whole-plant", "revisions/line-4-rev-A"])
def test_results_against_their_job_differ_in_nothing(name: str, tmp_path: Path) -> None:
    side = opened(sized(tmp_path, name))
    assert not [finding for finding in side.result.findings if finding.code.startswith(("edit", "kept"))]
    compared = compare_revisions(opened(HERE / f"{name}.xlsx"), side)
    assert compared.empty, (compared.changes[:3], compared.columns[:3], compared.findings[:3])


def test_findings_lead_to_the_workbook_that_was_named(small: Path) -> None:
    side = opened(small)
    named = {finding.sheet for finding in side.result.findings if finding.tank}
    assert named and named <= {"As received Heaters", "As received Tanks", "As received Feeders"}
    [bank] = [bank for bank in side.job.banks if bank.tank == "T-103"]
    assert bank.origin.sheet == "As received Heaters"
    assert bank.origin.cell("power_kw").endswith(str(bank.origin.row))


def test_results_sized_again_keep_their_choices(tmp_path: Path) -> None:
    first = sized(tmp_path, "whole-plant")
    batch.size(first, tmp_path / "again.xlsx")
    assert compare_revisions(opened(first), opened(tmp_path / "again.xlsx")).empty


def test_results_without_the_job_and_comparisons_are_refused_in_one_line(small: Path, tmp_path: Path) -> None:
    import openpyxl

    book = openpyxl.load_workbook(small)
    for name in book.sheetnames:
        if name.startswith("As received"):
            del book[name]
    book.save(tmp_path / "stripped.xlsx")
    batch.compare(small, small, target=tmp_path / "compared.xlsx")
    for name, why in (("stripped.xlsx", "without their sheets As received"), ("compared.xlsx", "a comparison of revisions")):
        with pytest.raises(InputFileError) as refusal:
            batch.check(tmp_path / name)
        assert why in str(refusal.value) and "\n" not in str(refusal.value)


# --- typed into


def test_notes_inputs_and_fixed_values_come_back(small: Path, tmp_path: Path) -> None:
    """T-101 is direct (3 x 6 kW, 30 A), T-102 has a panel (6 x 3 kW, 15 A), T-103 two 9 kW heaters, T-104 three, T-105 nine."""
    edits = {
        cell("bank_device_a", 101): 40, cell("rating_a", 102): 20, cell("phases_on", 102): "B-C", cell("notes", 103): "Ask the shop.",
        cell("quantity", 104): 4, cell("connection", 105): "parallel",
    }  # fmt: skip
    side = opened(typed(small, tmp_path / "edited.xlsx", {"Banks": edits}))
    banks = {bank.tank: bank for bank in side.job.banks}
    assert banks["T-101"].fixed_rating_a == 40.0
    assert (banks["T-102"].fixed_rating_a, banks["T-102"].phase_pair) == (20.0, "B-C")
    assert banks["T-103"].notes == "Ask the shop."
    assert banks["T-104"].quantity == 4
    assert banks["T-105"].connection == "parallel"
    taken = {finding.cell: finding for finding in said(side, "edit-taken")}
    assert set(taken) == set(edits)
    assert all(finding.sheet == "Banks" and finding.severity is Severity.NOTE for finding in taken.values())
    assert taken[cell("rating_a", 102)].message == "Branch OCPD was 15 A and now says 20 A: taken as given by hand."
    assert not said(side, "edit-not-taken")
    assert {row.bank.tank: row.start for row in side.result.projects[0].banks}["T-102"] == 1


def test_an_edited_input_takes_its_formulas_along_and_they_are_no_edits(small: Path, tmp_path: Path) -> None:
    """As a spreadsheet program leaves it after 6 kW became 9 kW: 18.75 A, 23.4 A with 25 %, the next rating is 25 A."""
    edits = {"power_kw": 9, "heater_a": 18.75, "design_a": 18.75, "running_a": 18.75, "required_a": 23.4375, "rating_a": 25,
             "connected_kw": 27, "delivered_kw": 27}  # fmt: skip
    side = opened(typed(small, tmp_path / "edited.xlsx", {"Banks": {cell(key, 101): value for key, value in edits.items()}}))
    [bank] = [bank for bank in side.job.banks if bank.tank == "T-101"]
    assert (bank.power_kw, bank.fixed_rating_a) == (9.0, None)
    assert [finding.cell for finding in said(side, "edit-taken")] == [cell("power_kw", 101)]
    assert not said(side, "edit-not-taken")


def test_what_follows_from_the_inputs_or_makes_no_sense_is_said_and_not_taken(small: Path, tmp_path: Path) -> None:
    edits = {
        cell("heater_a", 101): 99, cell("rating_a", 106): 25, cell("contactor", 102): "a larger one", cell("quantity", 103): "many",
        cell("phases_on", 104): "sideways", cell("margin_pct", 105): 40, cell("volts_v", 106): None,
    }  # fmt: skip
    side = opened(typed(small, tmp_path / "edited.xlsx", {"Banks": edits}))
    left = {finding.cell: finding.message for finding in said(side, "edit-not-taken")}
    assert set(left) == set(edits)
    assert left[cell("heater_a", 101)] == "Heater current now says 99 A where sizing gave 12.5 A: it follows from the inputs."
    assert left[cell("rating_a", 106)].endswith("a single-circuit bank has one device, the bank OCPD.")
    assert left[cell("quantity", 103)].endswith("not a number.")
    assert left[cell("margin_pct", 105)].endswith("give it on the Projects sheet.")
    assert left[cell("volts_v", 106)].endswith("a blank says nothing; restore the figure.")
    assert not said(side, "edit-taken")
    original = {bank.tank: replace(bank, origin=NOWHERE) for bank in opened(small).job.banks}
    assert {bank.tank: replace(bank, origin=NOWHERE) for bank in side.job.banks} == original


def test_where_as_received_was_edited_it_counts_and_the_stale_rows_are_no_edits(small: Path, tmp_path: Path) -> None:
    [bank] = [bank for bank in opened(small).job.banks if bank.tank == "T-102"]
    side = opened(typed(small, tmp_path / "edited.xlsx", {"As received Heaters": {bank.origin.cell("quantity"): 5}}))
    assert [bank.quantity for bank in side.job.banks if bank.tank == "T-102"] == [5]
    assert not [finding for finding in side.result.findings if finding.code.startswith("edit")]


def test_where_both_were_edited_as_received_counts_and_the_other_is_said(small: Path, tmp_path: Path) -> None:
    [bank] = [bank for bank in opened(small).job.banks if bank.tank == "T-102"]
    edits = {"As received Heaters": {bank.origin.cell("quantity"): 5}, "Banks": {cell("quantity", 102): 7, cell("power_kw", 102): 4}}
    side = opened(typed(small, tmp_path / "edited.xlsx", edits))
    assert [(bank.quantity, bank.power_kw) for bank in side.job.banks if bank.tank == "T-102"] == [(5, 4.0)]
    [left] = said(side, "edit-not-taken")
    assert left.cell == cell("quantity", 102)
    assert left.message.endswith("its row as received was changed as well, and which of the two counts cannot be told.")


def test_the_same_figure_typed_on_both_sheets_is_one_change(small: Path, tmp_path: Path) -> None:
    [bank] = [bank for bank in opened(small).job.banks if bank.tank == "T-102"]
    edits = {"As received Heaters": {bank.origin.cell("quantity"): 7}, "Banks": {cell("quantity", 102): 7}}
    side = opened(typed(small, tmp_path / "edited.xlsx", edits))
    assert [bank.quantity for bank in side.job.banks if bank.tank == "T-102"] == [7]
    assert not said(side, "edit-not-taken")


def test_what_is_typed_on_a_bank_given_twice_goes_to_neither_row_and_is_said(tmp_path: Path) -> None:
    """Two rows for T-1/A, both holds: which row of Banks is whose cannot be told. T-2, given once, takes what is typed."""
    rows = [["T-1", "A", 4, 6, 480, 1], ["T-1", "A", 5, 6, 480, 1], ["T-2", "A", 3, 6, 480, 1]]
    (tmp_path / "job.xlsx").write_bytes(intake_book({"Heaters": [["Tank", "Bank", "Quantity", "Power (kW)", "Volts", "Phases"], *rows]}))
    made = tmp_path / "made.xlsx"
    batch.size(tmp_path / "job.xlsx", made)
    assert not said(opened(made), "edit-not-taken")
    _, stored = read_any(made)
    one, two, other = stored.rows["banks"]
    edits = {one.cell("quantity"): 7, two.cell("rating_a"): 25, other.cell("quantity"): 6}
    side = opened(typed(made, tmp_path / "edited.xlsx", {"Banks": edits}))
    assert [(bank.quantity, bank.fixed_rating_a) for bank in side.job.banks] == [(4, None), (5, None), (6, None)]
    assert {finding.cell for finding in said(side, "edit-not-taken")} == {one.cell("quantity"), two.cell("rating_a")}
    assert all("several rows have this bank's name" in finding.message for finding in said(side, "edit-not-taken"))
    assert [finding.cell for finding in said(side, "edit-taken")] == [other.cell("quantity")]


def test_notes_are_never_lost_whichever_sheet_they_stand_on(tmp_path: Path) -> None:
    made = sized(tmp_path, "revisions/line-4-rev-A")
    at = {bank.tank: bank for bank in opened(made).job.banks}
    first = column("notes")
    row = {f"T-{number}": 6 + place for place, number in enumerate(range(201, 211))}
    edits = {
        "Banks": {f"{first}{row['T-201']}": "Drain valve too."},
        "As received Heaters": {at["T-203"].origin.cell("notes"): "Now 25 A holders."},
    }
    notes = {bank.tank: bank.notes for bank in opened(typed(made, tmp_path / "edited.xlsx", edits)).job.banks}
    assert notes["T-201"] == "Customer wants stainless drains.; Drain valve too."
    assert notes["T-203"] == "Now 25 A holders.; Shop stocks 20 A holders."
    assert notes["T-205"] == "As the old line was wired."


def test_rows_that_went_or_came_on_banks_are_said(small: Path, tmp_path: Path) -> None:
    gone = opened(without_row(small, tmp_path / "gone.xlsx", "Banks", 8))
    [finding] = said(gone, "edit-row-missing")
    assert finding.message == "Bank T-103/1 is no longer on Banks, but As received still has it: it is sized all the same."
    assert len(gone.job.banks) == 8
    other = opened(typed(small, tmp_path / "other.xlsx", {"Banks": {cell("tank", 103): "T-999"}}))
    [unknown] = said(other, "edit-row-unknown")
    assert unknown.message == "Row 8 of Banks names bank T-999/1, which As received does not have; it is not used."


def test_feeder_figures_and_prices_typed_in(tmp_path: Path) -> None:
    made = sized(tmp_path, "revisions/line-4-rev-A")
    sheets = {sheet.id: [one.key for one in sheet.columns] for sheet in RESULTS}
    _, stored = read_any(made)
    feeder = next(row for row in stored.rows["feeder_totals"] if row.values["feeder"] == "F-1")
    terminals = [row for row in stored.rows["materials"] if row.values["part"] == "TB-1 (invented)"]
    nameless = next(row for row in stored.rows["materials"] if not row.values["part"])
    assert "other_load_a" in sheets["feeder_totals"] and len(terminals) > 1
    edits = {
        "Feeders": {feeder.cell("other_load_a"): 30, feeder.cell("source_kva"): 500},
        "Materials": {terminals[0].cell("unit_price"): 1.5, nameless.cell("unit_price"): 9},
    }
    side = opened(typed(made, tmp_path / "edited.xlsx", edits))
    [f1] = [one for one in side.job.feeders if one.feeder == "F-1"]
    assert (f1.other_load_a, f1.source_kva) == (30.0, 500.0)
    assert [part.unit_price for part in side.job.stock if part.part == "TB-1 (invented)"] == [1.5]
    [one] = side.job.typed_prices  # of what no part is, by its words
    assert (one.role, one.words, one.unit_price) == (nameless.text("role"), nameless.text("words"), 9.0)
    assert not said(side, "edit-not-taken")


def test_edits_and_kept_values_outlive_the_next_run_and_the_one_after(small: Path, tmp_path: Path) -> None:
    edited = typed(small, tmp_path / "edited.xlsx", {"Banks": {cell("rating_a", 102): 20, cell("quantity", 104): 4}})
    batch.size(edited, tmp_path / "second.xlsx")
    batch.size(HERE / "small-clean.xlsx", tmp_path / "third.xlsx", keep_from=tmp_path / "second.xlsx")
    batch.size(tmp_path / "third.xlsx", tmp_path / "fourth.xlsx")
    sides = [opened(tmp_path / f"{name}.xlsx") for name in ("edited", "second", "third", "fourth")]
    assert compare_revisions(sides[0], sides[1]).empty is False  # the findings on what was typed are not said a second time
    assert not compare_revisions(sides[0], sides[1]).changes
    assert compare_revisions(sides[2], sides[3]).empty
    fixed = [{bank.tank: bank.fixed_rating_a for bank in side.job.banks}["T-102"] for side in sides]
    counts = [{bank.tank: bank.quantity for bank in side.job.banks}["T-104"] for side in sides]
    assert fixed == [20.0] * 4
    assert counts == [4, 4, 3, 3]  # a count is the customer's: the job workbook says three, and nothing keeps it otherwise


def test_a_decided_value_gives_way_when_its_row_as_received_is_changed(small: Path, tmp_path: Path) -> None:
    edited = typed(small, tmp_path / "edited.xlsx", {"Banks": {cell("quantity", 104): 4}})
    batch.size(edited, tmp_path / "second.xlsx")
    side = opened(tmp_path / "second.xlsx")
    [bank] = [bank for bank in side.job.banks if bank.tank == "T-104"]
    assert bank.quantity == 4
    changed = typed(tmp_path / "second.xlsx", tmp_path / "third.xlsx", {"As received Heaters": {bank.origin.cell("quantity"): 5}})
    assert [bank.quantity for bank in opened(changed).job.banks if bank.tank == "T-104"] == [5]


@needs_office
def test_edits_come_back_from_a_spreadsheet_program(small: Path, tmp_path: Path) -> None:
    """Typed, every formula worked out anew, and saved by LibreOffice: the edits and nothing else."""
    edits = {cell("power_kw", 101): 9, cell("rating_a", 102): 25, cell("notes", 103): "Ask the shop.", cell("volts_v", 104): 460}
    saved = recalculated(typed(small, tmp_path / "edited.xlsx", {"Banks": edits}), tmp_path)
    side = opened(saved)
    assert {finding.cell for finding in said(side, "edit-taken")} == set(edits)
    assert not said(side, "edit-not-taken")
    banks = {bank.tank: bank for bank in side.job.banks}
    assert (banks["T-101"].power_kw, banks["T-101"].fixed_rating_a) == (9.0, None)
    assert (banks["T-102"].fixed_rating_a, banks["T-103"].notes, banks["T-104"].volts_v) == (25.0, "Ask the shop.", 460.0)


def test_results_that_somebody_saved_are_never_written_over(small: Path, tmp_path: Path) -> None:
    import openpyxl

    job, target = tmp_path / "job.xlsx", tmp_path / "job sized.xlsx"
    job.write_bytes((HERE / "small-clean.xlsx").read_bytes())
    for _ in range(2):  # its own results, which nobody has touched, are replaced
        result = batch.size(job)
        assert (result.written, result.aside) == (str(target), "")
    book = openpyxl.load_workbook(target)
    book["Banks"][cell("notes", 103)] = "Ask the shop."
    book.save(target)
    typed_in = target.read_bytes()
    result = batch.size(job)
    assert result.written == str(tmp_path / "job sized (2).xlsx")
    assert result.aside == "another program has saved it since, so it may hold what somebody typed"
    assert target.read_bytes() == typed_in
    assert [bank.notes for bank in opened(target).job.banks if bank.tank == "T-103"] == ["Ask the shop."]


def test_every_kind_of_edit_is_provoked_here() -> None:
    names = (Path(__file__).name, "test_revisions_data.py", "test_revisions_typed.py", "test_quote.py")
    source = "".join(Path(__file__).with_name(name).read_text(encoding="utf-8") for name in names)
    assert [kind.code for kind in EDITS if f'"{kind.code}"' not in source] == []
