"""What was sized and decided goes with the results as data: it outlives other programs, and where it is damaged that is said."""

from __future__ import annotations

import json
import shutil
import subprocess
from collections.abc import Callable
from contextlib import suppress
from hashlib import sha256
from pathlib import Path

import openpyxl
import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

import batch
from batch.comparing.compare import compare_revisions
from batch.comparing.revision import Revision
from batch.findings import Finding
from batch.reopening.earlier_workbooks import chosen_in_cells
from batch.reopening.reopen import open_revision
from batch.reopening.results_book import read_any
from batch.reopening.sized_with import chosen_with
from batch.schedules import rows
from batch.schedules.sized_data import FORMAT, RECORDS, DamagedData, data_of, data_text, pieces, whole
from batch.sheets import INPUTS
from batch.sheets.received import DATA
from batch.sizing.previous_decisions import bank_key, by_turns
from tests.recalculation import needs_office, recalculated
from tests.sample_results import ALL, FINDINGS, PLANT, SMALL, sized
from tests.test_revisions_reopen import cell
from tests.workbook_edits import typed, without_row

FORMER = Path(__file__).parent / "former"  # written before data went with the results, and never made again
OLD, OLD_KEPT = FORMER / "line-results.xlsx", FORMER / "line-kept-results.xlsx"


def opened(path: Path, program: str = batch.PROGRAM) -> Revision:
    return open_revision(path, program)


def said(side: Revision, code: str) -> list[Finding]:
    return [finding for finding in side.result.findings if finding.code == code]


def chosen(side: Revision) -> list[tuple]:
    return [
        (row.bank.tank, row.label, row.feeder.feeder, row.start, [panel.design.heaters for panel in row.panels])
        for project in side.result.projects for row in project.banks
    ]  # fmt: skip


# --- the text


@given(st.text(alphabet=st.characters(codec=None) | st.sampled_from("_x04F \\\"\r\n\ud800é漢"), max_size=400))
def test_any_text_comes_back_out_of_its_cells(words: str) -> None:
    text = json.dumps([words]).replace("_x", "\\u005fx")
    assert json.loads(whole(pieces(text))) == [words]
    assert "_x" not in text


def test_no_cell_is_too_long_or_begins_or_ends_with_a_space() -> None:
    text = json.dumps(["a " * 50_000, " " * 100])
    cells = pieces(text)
    assert len(cells) == 5 and whole(cells) == text
    for piece in cells:
        assert 0 < len(piece) <= 32_767
        assert piece == piece.strip()


@pytest.mark.parametrize("name", ALL)
def test_data_of_every_sample_are_the_records_and_the_choices_it_was_sized_with(name: str) -> None:
    result = sized(name).result
    data = read_any(sized(name).path)[1].data
    for sheet in INPUTS:
        records = getattr(result.job, RECORDS[sheet.id][0])
        given_in = {column.key: [getattr(record, column.key) for record in records] for column in sheet.columns}
        kept = {key: [row.get(key) for row in data.inputs[sheet.id]] for key in given_in}
        assert kept == {key: values if any(value not in (None, "") for value in values) else [None] * len(values)
                        for key, values in given_in.items()}  # fmt: skip
    banks = [row for project in result.projects for row in project.banks]
    assert len(banks) == len(data.banks)
    keys = by_turns(bank_key(row.bank.project, row.bank.tank, row.label) for row in banks)
    for row, key in zip(banks, keys, strict=True):
        bank = data.banks[key]
        was = bank.chosen
        now = (row.feeder.feeder, row.starts, row.design.connected.across, tuple(panel.design.heaters for panel in row.panels))
        assert (was.feeder, was.starts, was.across, was.split) == now
        assert bank.figures["heater_a"] == row.design.heater_a
    assert data.carried_forward == result.job.carried_forward


def test_the_same_results_give_the_same_text_whatever_their_order_in_memory() -> None:
    result = sized(SMALL).result
    texts = {data_text(result, rows(result, "banks"), rows(result, "feeder_totals")) for _ in range(2)}
    assert len(texts) == 1


# --- read again


def test_decisions_come_from_the_data_and_not_from_the_cells_that_show_them(tmp_path: Path) -> None:
    """Circuits, Panels and Panel types gone: phases, splits, names of types stay as they were decided."""
    book = openpyxl.load_workbook(sized(PLANT).path)
    for name in ("Circuits", "Panels", "Panel types"):
        del book[name]
    book.save(tmp_path / "bare.xlsx")
    before, after = opened(sized(PLANT).path), opened(tmp_path / "bare.xlsx")
    assert chosen(after) == chosen(before)
    assert compare_revisions(before, after).empty


def test_data_and_cells_say_the_same_of_what_was_chosen() -> None:
    """The reader of earlier workbooks finds in the cells what the data states; only what heaters stand across stands in no cell."""
    for name in (SMALL, PLANT):
        job, stored = read_any(sized(name).path)
        data, cells = chosen_with(job, stored.data), chosen_in_cells(job, stored)
        assert {key: replace(bank, across="") for key, bank in data.banks.items()} == cells.banks
        assert (data.labels, data.names) == (cells.labels, cells.names)
        assert {project: dict(tags) for project, tags in data.tags.items()} == cells.tags


def test_edits_are_told_whatever_program_made_the_workbook(tmp_path: Path) -> None:
    """A figure is typed where it is not the datum, not where this program would have come to another one."""
    edited = typed(sized(SMALL).path, tmp_path / "edited.xlsx", {"Banks": {cell("rating_a", 102): 20, cell("heater_a", 103): 99}})
    side = opened(edited, "heaterbatch of another year")
    assert [finding.cell for finding in said(side, "edit-taken")] == [cell("rating_a", 102)]
    assert [finding.cell for finding in said(side, "edit-not-taken")] == [cell("heater_a", 103)]


def test_the_same_change_in_both_places_is_no_conflict(tmp_path: Path) -> None:
    [bank] = [bank for bank in opened(sized(SMALL).path).job.banks if bank.tank == "T-104"]
    edits = {"As received Heaters": {bank.origin.cell("quantity"): 5}, "Banks": {cell("quantity", 104): 5}}
    side = opened(typed(sized(SMALL).path, tmp_path / "edited.xlsx", edits))
    assert [bank.quantity for bank in side.job.banks if bank.tank == "T-104"] == [5]
    assert not [finding for finding in side.result.findings if finding.code.startswith("edit")]


@pytest.fixture
def decided(tmp_path: Path) -> Path:
    """The small sample with a branch rating and a count typed in, sized again: both stand on Carried forward."""
    edited = typed(sized(SMALL).path, tmp_path / "edited.xlsx", {"Banks": {cell("rating_a", 102): 20, cell("quantity", 104): 4}})
    batch.size(edited, tmp_path / "decided.xlsx")
    return tmp_path / "decided.xlsx"


def test_a_value_taken_off_carried_forward_is_said_and_no_longer_kept(decided: Path, tmp_path: Path) -> None:
    listed = read_any(decided)[1].rows["carried_forward"]
    heading = next(sheet for sheet in INPUTS if sheet.id == "heaters")["fixed_rating_a"].heading
    rating = next(row for row in listed if row.values["column"] == heading)
    side = opened(without_row(decided, tmp_path / "less.xlsx", "Carried forward", rating.row))
    banks = {bank.tank: bank for bank in side.job.banks}
    assert (banks["T-102"].fixed_rating_a, banks["T-104"].quantity) == (None, 4)
    [finding] = said(side, "edit-undone")
    words = f"{heading} 20 A of T-102/1 no longer stands on Carried forward: it is no longer kept, and the row as received counts."
    assert finding.message == words
    assert (finding.tank, finding.sheet) == ("T-102", "Carried forward")


def test_without_the_sheet_carried_forward_its_values_stand_in_the_data(decided: Path, tmp_path: Path) -> None:
    book = openpyxl.load_workbook(decided)
    del book["Carried forward"]
    book.save(tmp_path / "without.xlsx")
    side = opened(tmp_path / "without.xlsx")
    banks = {bank.tank: bank for bank in side.job.banks}
    assert (banks["T-102"].fixed_rating_a, banks["T-104"].quantity) == (20.0, 4)
    assert side.job.carried_forward == opened(decided).job.carried_forward


# --- other programs


def _openpyxl(book: Path, folder: Path) -> Path:
    openpyxl.load_workbook(book).save(folder / "saved.xlsx")
    return folder / "saved.xlsx"


def _gnumeric(book: Path, folder: Path) -> Path:
    subprocess.run(["ssconvert", str(book), str(folder / "saved.xlsx")], check=True, capture_output=True, timeout=120)
    return folder / "saved.xlsx"


without_gnumeric = pytest.mark.skipif(shutil.which("ssconvert") is None, reason="Gnumeric (ssconvert) is not installed")


SAVES = [pytest.param(recalculated, marks=needs_office), pytest.param(_gnumeric, marks=without_gnumeric), _openpyxl]


@pytest.mark.parametrize("save", SAVES)
def test_data_outlives_a_save_by_another_program(save: Callable[[Path, Path], Path], tmp_path: Path) -> None:
    before = read_any(sized(FINDINGS).path)[1]
    after = read_any(save(sized(FINDINGS).path, tmp_path))[1]
    assert (before.fault, after.fault) == ("", "")
    assert after.data == before.data


def test_nobody_sees_the_sheet_of_data() -> None:
    assert openpyxl.load_workbook(sized(SMALL).path)[DATA].sheet_state == "veryHidden"


# --- damaged or gone


def _without_data(book: Path, target: Path) -> Path:
    opened = openpyxl.load_workbook(book)
    del opened[DATA]
    opened.save(target)
    return target


def _put(cells: dict[str, object]) -> Callable[[Path, Path], Path]:
    return lambda book, target: typed(book, target, {DATA: cells})


EMPTY: dict[str, object] = dict.fromkeys(("A2", "A3", "A4", "A5"))  # all that its data take


def _forged(text: str) -> Callable[[Path, Path], Path]:
    """Cells that are whole by their own word, around a text that is no data of ours."""
    return _put({**EMPTY, **dict(zip(("A2", "A3"), pieces(text), strict=False))})


HEAD = {"format": FORMAT, "cells": 1, "sha256": sha256(b"{}").hexdigest()}
DAMAGE: dict[str, tuple[Callable[[Path, Path], Path], str]] = {
    "deleted": (_without_data, "is gone"),
    "changed": (_put({"A3": "{}"}), "is not as it was written"),
    "emptied": (_put(EMPTY), "has lost cells"),
    "a number": (_put({"A3": 7}), "has lost cells"),
    "no head": (_put({"A2": "something"}), "does not begin as it was written"),
    "another head": (_put({"A2": "[]"}), "does not begin as it was written"),
    "of another version": (_put({"A2": json.dumps(HEAD | {"format": FORMAT + 1})}), "was written by another version"),
    "no object": (_forged("[]"), "is not laid out as data of this program"),
    "nothing in it": (_forged("{}"), "is not laid out as data of this program"),
    "deep": (_forged("[" * 20_000), "is not laid out as data of this program"),
}


@pytest.mark.parametrize("damage", DAMAGE)
def test_damaged_data_is_said_and_the_cells_serve(damage: str, tmp_path: Path) -> None:
    harm, why = DAMAGE[damage]
    before, side = opened(sized(SMALL).path), opened(harm(sized(SMALL).path, tmp_path / "harmed.xlsx"))
    [finding] = said(side, "edit-data-damaged")
    assert why in finding.message and finding.sheet == DATA
    assert chosen(side) == chosen(before)
    assert not said(side, "edit-taken") and not said(side, "edit-not-taken")
    assert not said(before, "edit-data-damaged")


@given(st.recursive(st.none() | st.booleans() | st.floats() | st.integers() | st.text(max_size=5), lambda inner: st.lists(inner, max_size=4)
                    | st.dictionaries(st.sampled_from(["columns", "rows"]), inner, max_size=2), max_leaves=12), st.data())  # fmt: skip
def test_no_text_however_laid_out_ends_in_anything_but_damaged_data(value: object, draw: st.DataObject) -> None:
    result = sized(SMALL).result
    data = json.loads(data_text(result, rows(result, "banks"), rows(result, "feeder_totals")))
    key = draw.draw(st.sampled_from(sorted(data)))
    with suppress(DamagedData):
        data_of(json.dumps(data | {key: value}))


# --- workbooks from before


def test_an_earlier_results_workbook_is_still_the_job_with_its_decisions() -> None:
    """Phases and names as its own sheets Banks, Circuits and Panels show them; sized afresh, T-3, T-4 and T-2 would start elsewhere and
    the panel of T-2 would be type 02.
    """
    side = opened(OLD_KEPT)
    assert not said(side, "edit-data-damaged")
    assert chosen(side) == [
        ("T-0", "1", "F-1", 1, []), ("T-3", "1", "F-1", 1, []), ("T-4", "1", "F-1", 2, []), ("T-1", "1", "F-1", 1, [4]),
        ("T-1", "2", "F-1", 0, []), ("T-2", "1", "F-1", 2, [5]),
    ]  # fmt: skip
    [project] = side.result.projects
    assert {tag: kind.type for kind in project.types for tag in kind.tags} == {"T-1/1-P1": "Type 01", "T-2/1-P1": "Type 03"}
    banks = {bank.tank: bank for bank in side.job.banks}
    assert (banks["T-2"].fixed_rating_a, banks["T-2"].notes) == (20.0, "Shop stocks 20 A holders.")
    assert banks["T-3"].phase_pair == "B-C"
    assert [part.unit_price for part in side.job.stock] == [1.1]
    assert not [finding for finding in side.result.findings if finding.code.startswith("edit")]


def test_what_was_typed_into_an_earlier_results_workbook_comes_back(tmp_path: Path) -> None:
    row = next(row for row in read_any(OLD)[1].rows["banks"] if (row.text("tank"), row.text("bank")) == ("T-1", "1"))
    edits = {row.cell("rating_a"): 25, row.cell("quantity"): 5, row.cell("heater_a"): 99}
    side = opened(typed(OLD, tmp_path / "edited.xlsx", {"Banks": edits}))
    [bank] = [bank for bank in side.job.banks if (bank.tank, bank.power_kw) == ("T-1", 6.0)]
    assert (bank.fixed_rating_a, bank.quantity) == (25.0, 5)
    assert {finding.cell for finding in said(side, "edit-taken")} == {row.cell("rating_a"), row.cell("quantity")}


def test_an_earlier_results_workbook_sized_again_has_its_data(tmp_path: Path) -> None:
    batch.size(OLD_KEPT, tmp_path / "again.xlsx")
    before, after = opened(OLD_KEPT), opened(tmp_path / "again.xlsx")
    assert chosen(before) == chosen(after)
    assert [change.column.key for change in compare_revisions(before, after).changes] == ["program"]
    assert read_any(OLD_KEPT)[1].data is None and read_any(tmp_path / "again.xlsx")[1].data is not None
