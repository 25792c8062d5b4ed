"""What version 0.1.0 wrote and read is still read: its results as revisions, its headings, its column maps and its words.

The files in `tests/former/` are samples of its day and what it wrote from them; they are never made again. To keep them small,
their pictures and the sheets that are never read again (Wiring, Findings, Code basis and the like) were emptied.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import openpyxl
import pytest

import batch
from batch.cli import app
from batch.comparing.changeset import Change
from batch.comparing.compare import compare_revisions
from batch.findings import CATALOGUE
from batch.intake import read
from batch.intake.cells import reader
from batch.intake.column_map import load_map
from batch.intake.headings import Matcher
from batch.reopening.reopen import open_revision
from batch.reopening.results_book import read_any
from batch.schedules import RESULTS, rows
from batch.sheets import INPUTS
from tests.intake_book import book
from tests.workbook_edits import typed

FORMER = Path(__file__).resolve().parent / "former"
WRITTEN = ("small-clean", "every-finding", "list")

HEADINGS = {  # its headings of input columns that have another now
    "projects": {
        "Current margin (%)": "margin_pct", "Smallest branch device (A)": "smallest_device_a", "Device kind": "device_kind",
    },
    "feeders": {"Existing device rating (A)": "existing_device_a"},
    "tanks": {"Shell": "tank_material", "Work per hour (lb/h)": "work_load_kg_h"},
    "heaters": {
        "Circuits per heater": "circuits_per_heater", "Hot length (in)": "heated_length_mm", "Branch rating (A)": "fixed_rating_a",
        "Over-temperature protector": "over_temperature_limit", "Device kind": "device_kind",
    },
}  # fmt: skip
WORDS = {  # its words in choices that have another now
    ("heaters", "connection", "joined wye"): "common-point wye",
    ("heaters", "connection", "joined star"): "common-point wye",
    ("tanks", "cover", "croffles"): "floating balls",
    ("stock", "kind", "distribution block"): "power distribution block",
}

def moved(old: Path, new: Path) -> list[Change]:
    """All that differs between two revisions, but for the program that made them."""
    compared = compare_revisions(open_revision(old, batch.PROGRAM), open_revision(new, batch.PROGRAM))
    assert not [pair for pair in compared.pairs if None in pair] and all(order.verdict == "same" for order in compared.orders)
    return [change for change in compared.changes if not str(change.before).startswith("heaterbatch 0.")]


@pytest.mark.parametrize("name", WRITTEN)
def test_its_results_sized_again_come_out_the_same(name: str, tmp_path: Path) -> None:
    """Not a row, not a figure, not a phase, not a type is another; the names of types are the new ones."""
    written = FORMER / f"{name}-results.xlsx"
    old = open_revision(written, batch.PROGRAM)
    assert old.program == "heaterbatch 0.1.0" and not [said for said in old.result.findings if said.code.startswith("edit-")]
    types = [kind.type for project in old.result.projects for kind in project.types]
    assert types and all(kind.startswith(("Type ", "Hold ")) for kind in types)
    batch.size(written, again := tmp_path / "again.xlsx")
    assert moved(written, again) == []


@pytest.mark.parametrize("name", ["small-clean", "every-finding"])
def test_its_results_are_a_revision_of_their_job(name: str) -> None:
    """Its job, in its headings and words, read and sized today. As received holds an error where a formula had no result, and a text
    where a spreadsheet program had made a tag a date: so of any results workbook compared with its job, whatever the version. Names of
    types may be others: that version gave panels on hold the same names as all others. So may phases: it turned whole banks, where now
    every panel has a line of its own to start on.
    """
    by_phase = {"type", "phases_on", "panel_feeder_phases", "i_a", "i_b", "i_c", "i_n"}
    changes = moved(FORMER / f"{name}-results.xlsx", FORMER / f"{name}.xlsx")
    odd = [] if name == "small-clean" else [("R-004", "refused"), ("2025-03-04", "findings")]
    assert [(change.names.tank, change.column.key) for change in changes if change.column.key not in by_phase] == odd


def cell_of(path: Path, sheet: str, heading: str, where: tuple[str, str] = ("Project", "PILOT")) -> str:
    """The cell below a heading of a results workbook, in the first row that holds a word below another heading."""
    rows = list(openpyxl.load_workbook(path)[sheet].iter_rows())
    head = next(row for row in rows if "Project" in [cell.value for cell in row])
    columns = {cell.value: cell.column - 1 for cell in head}
    row = next(row for row in rows[head[0].row :] if row[columns[where[0]]].value == where[1])
    return row[columns[heading]].coordinate


def test_what_was_typed_into_its_results_is_found_under_its_headings(tmp_path: Path) -> None:
    written = FORMER / "small-clean-results.xlsx"
    row = ("Arrangement", "panel")
    edits = {
        "Banks": {
            cell_of(written, "Banks", "Branch rating (A)", row): 30, cell_of(written, "Banks", "Notes", row): "Ask the plant.",
            cell_of(written, "Banks", "Connection", row): "joined wye",
        },
        "Feeders": {cell_of(written, "Feeders", "Existing device (A)"): 400},
    }  # fmt: skip
    now = open_revision(typed(written, tmp_path / "typed.xlsx", edits), batch.PROGRAM)
    taken = {(one.table, one.key): one.value for one in now.job.carried_forward}
    assert taken == {
        ("heaters", "fixed_rating_a"): 30.0, ("heaters", "notes"): "Ask the plant.", ("heaters", "connection"): "common-point wye",
        ("feeders", "existing_device_a"): 400.0,
    }  # fmt: skip


def test_what_it_had_decided_is_put_back(tmp_path: Path) -> None:
    """Its sheet Decided names columns by its headings."""
    keys = ["Sheet", "Project", "Tank", "Bank", "Feeder", "Part", "Column", "Value", "Instead of", "Unit", "From"]
    decided = ["Heaters", "PILOT", "T-101", "1", "", "", "Branch rating", 40, None, "A", "earlier.xlsx"]
    workbook = openpyxl.load_workbook(FORMER / "small-clean-results.xlsx")
    first = workbook["Banks"]
    heads = next(row for row in first.iter_rows() if "Tank" in [cell.value for cell in row])
    at = {cell.value: cell.column for cell in heads}
    project, tank, bank = (first.cell(heads[0].row + 1, at[name]).value for name in ("Project", "Tank", "Bank"))
    sheet = workbook.create_sheet("Decided")
    sheet.append(keys)
    sheet.append([decided[0], project, tank, bank, *decided[4:]])
    workbook.save(tmp_path / "decided.xlsx")
    now = open_revision(tmp_path / "decided.xlsx", batch.PROGRAM)
    [one] = [one for one in now.job.carried_forward if one.source == "earlier.xlsx"]
    assert (one.key, one.value, one.tank) == ("fixed_rating_a", 40.0, tank)


@pytest.mark.parametrize("sheet", [sheet for sheet in INPUTS if sheet.id in HEADINGS], ids=lambda sheet: sheet.id)
def test_its_headings_are_read(sheet) -> None:
    matcher = Matcher(sheet)
    assert {text: matcher.match(text).key for text in HEADINGS[sheet.id]} == HEADINGS[sheet.id]


@pytest.mark.parametrize(("sheet", "key", "word"), WORDS)
def test_its_words_are_read_in_choices(sheet: str, key: str, word: str) -> None:
    column = next(one for one in INPUTS if one.id == sheet)[key]
    assert reader(column)(word) == WORDS[sheet, key, word] and word not in column.choices


def test_no_two_columns_of_a_sheet_answer_to_one_former_heading() -> None:
    for sheet in RESULTS:
        titles = [column.title() for column in sheet.columns]
        former = [name for column in sheet.columns for name in column.also]
        assert len(former) == len(set(former)) and not set(former) & {column.heading for column in sheet.columns}, sheet.id
        assert len(titles) == len(set(titles))


def test_its_column_map_is_read() -> None:
    """Its word for a blank that repeats the cell above, and its names for columns."""
    job = read(FORMER / "list.xlsx", column_map=load_map(FORMER / "list map.toml"))
    assert [(bank.tank, bank.quantity, bank.power_kw, bank.device_kind, bank.over_temperature_limit) for bank in job.banks] == [
        ("A", 4, 6.0, "fuse", "yes"), ("A", 2, 9.0, None, "yes"), ("B", 3, 7.5, "breaker", "yes"),
    ]  # fmt: skip


def test_its_command_and_its_verb_are_understood_and_not_offered(capsys: pytest.CaptureFixture[str]) -> None:
    assert app.main(["codes"]) == 0 and "NEC 2023" in capsys.readouterr().out
    assert batch.codes() == batch.editions()
    app.main(["--help"])
    told = capsys.readouterr().out
    assert " editions " in told and " codes " not in told


def test_a_sheet_with_its_headings_is_a_job(tmp_path: Path) -> None:
    heads = ["Tank", "Quantity", "Power (kW)", "Volts", "Phases", "Circuits per heater", "Over-temperature protector", "Hot length (in)"]
    (tmp_path / "job.xlsx").write_bytes(book({"Heaters": [heads, ["T-1", 4, 6, 480, 3, 2, "yes", 20]]}))
    [bank] = read(tmp_path / "job.xlsx").banks
    assert (bank.circuits_per_heater, bank.over_temperature_limit, bank.heated_length_mm) == (2, "yes", pytest.approx(508.0))


# --- data in the form before this one


def test_data_of_the_form_before_are_a_revision_still(tmp_path: Path) -> None:
    """Data of format 1 had one start a bank, from which its panels went on: every panel stays on its phases, every type keeps its name."""
    written = FORMER / "format-1-results.xlsx"
    stored = read_any(written, None, None)[1]
    assert stored is not None and stored.data is not None
    old = open_revision(written, batch.PROGRAM)
    assert not [said for said in old.result.findings if said.code == "edit-data-damaged"] and old.previous.banks
    columns = ("panel_feeder_phases", "type")
    as_written = [tuple(row.text(key) for key in ("tank", "panel", *columns)) for row in stored.rows["panels"]]
    now = [tuple(str(row[key]) for key in ("tank", "panel", *columns)) for row in rows(old.result, "panels")]
    assert now == as_written and len({one[2] for one in now}) > 1
    batch.size(written, again := tmp_path / "again.xlsx")
    assert moved(written, again) == []


# --- and what its dialect said is said nowhere any more

DIALECT = re.compile(
    r"branch panel|over-temperature protector|protector (?:loop|terminal)|feed (?:device|wire|ground)\b|\bdealt\b|\bdealing\b"
    r"|goes direct|direct bank|door label|do not build|\bblockers?\b|greatest line|amps with margin|joined (?:wye|star)"
    r"|(?:wyes|stars) of three|floating star|why so joined|why a panel|(?<!power )distribution block\b|wire governed by|hot length"
    r"|work per hour|(?-i:FROM MEMORY|COMMON PRACTICE)|croffle|fill_down|tag-run|rows-numbered|heading-rides-along|no wire serves"
    r"|never energise|both ways",
    re.IGNORECASE,
)


def said_today() -> Iterator[tuple[str, str]]:
    """Headings, help and choices of every sheet, kinds of finding, words of rule sets, the command line, README and the reference."""
    for sheet in (*INPUTS, *RESULTS):
        yield sheet.id, f"{sheet.name} {sheet.rows} {sheet.help}"
        for column in sheet.columns:
            yield f"{sheet.id}.{column.key}", f"{column.heading} {column.help} {' '.join(column.offered or column.choices or ())}"
    for code, kind in CATALOGUE.items():
        yield code, f"{code} {kind.title} {kind.template} {kind.basis} {kind.advice}"
    for name in batch.editions():
        yield name.name, (name.folder / "ruleset.toml").read_text(encoding="utf-8")
    yield "the command line", app.parser().format_help()
    yield "README", (FORMER.parents[1] / "README.md").read_text(encoding="utf-8")
    reference = (FORMER.parents[1] / "templates" / "reference.md").read_text(encoding="utf-8")
    yield "the reference", reference.partition("## What changed")[0]


def test_none_of_its_dialect_is_left() -> None:
    assert [(where, found[0]) for where, text in said_today() for found in DIALECT.finditer(text)] == []
    assert DIALECT.search("Feed device") and DIALECT.search("the distribution block") and not DIALECT.search("power distribution block")
