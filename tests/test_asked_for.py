"""What a question asks for: what the list lacks, in a customer's words, and nothing that it gives. On the small sample, changed."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import docx
import openpyxl
import pytest

import batch
from batch.price.asked_for import IN_WORDS
from batch.price.questions import Asked, ask, question_kinds
from batch.sheets import INPUTS
from tests.make_samples import HERE
from tests.samples import book, plant_iec, small

Tables = dict[str, list[dict[str, object]]]


def asked(folder: Path, change: Callable[[Tables], None]) -> dict[str, Asked]:
    """The questions of the small sample with something changed, by the finding that raises them."""
    tables = small.tables()
    change(tables)
    book.write(folder / "job.xlsx", small.TITLE, small.STORY, tables)
    return {one.key.partition(": ")[2]: one for one in ask(batch.check(folder / "job.xlsx"))}


def tank_of(tables: Tables, tag: str) -> dict[str, object]:
    return next(row for row in tables["tanks"] if row["tank"] == tag)


def test_every_column_that_a_question_asks_for_has_its_words() -> None:
    sheets = {sheet.id: sheet for sheet in INPUTS}
    assert all(one.partition(".")[2] in sheets[one.partition(".")[0]].by_key for one in IN_WORDS)
    assert all(one in IN_WORDS for kind in question_kinds() if "{asked}" in kind.words for one in kind.takes.split(";"))


def test_of_a_tank_only_what_its_row_leaves_blank_is_asked(tmp_path: Path) -> None:
    def change(tables: Tables) -> None:
        for tag in ("T-102", "T-104"):
            tank_of(tables, tag).update(depth_m=None, volume_l=None)

    found = asked(tmp_path, change)["heat-not-judged"]
    assert found.words == (
        "Please tell us of tanks T-102, T-104: the depth of the liquid. Without that we cannot say whether the heaters are enough."
    )


def test_where_tanks_lack_different_things_each_is_asked_for_its_own(tmp_path: Path) -> None:
    def change(tables: Tables) -> None:
        tank_of(tables, "T-102").update(depth_m=None, volume_l=None)
        tank_of(tables, "T-103").update(heatup_h=None)

    words = asked(tmp_path, change)["heat-not-judged"].words
    assert "of T-102 the depth of the liquid; of T-103 the time in which it is to heat up." in words


def test_a_liquid_that_is_given_is_asked_about_by_its_cell_and_no_material_with_it(tmp_path: Path) -> None:
    found = asked(tmp_path, lambda tables: tank_of(tables, "T-101").update(liquid="Zap 9 (invented)"))
    assert "made of" not in found["liquid-unknown"].words and "material-unknown" not in found and "heat-no-tank" not in found
    assert found["liquid-unknown"].words.startswith("We do not know the liquid of tank T-101 by the name in Tanks D2 of your list")


@pytest.mark.parametrize("key", ["tank_material", "work_material"])
def test_a_material_that_is_given_is_asked_about_by_its_cell(tmp_path: Path, key: str) -> None:
    found = asked(tmp_path, lambda tables: tank_of(tables, "T-101").update({key: "moondust"}))
    [(said, one)] = [(said, one) for said, one in found.items() if said.endswith("-unknown")]
    assert said == "material-unknown" and one.words == f"Which material is meant in {one.cells[0]} (tank T-101) of your list?"


def test_a_supply_with_everything_but_its_grounding_is_asked_for_that_alone(tmp_path: Path) -> None:
    def change(tables: Tables) -> None:
        del tables["feeders"][0]["system"]

    found = asked(tmp_path, change)
    assert found["system-assumed"].words == (
        "How is supply F-1 grounded: a wye grounded at its middle point, a delta grounded at one line (corner-grounded) or in the middle "
        "of one side (high leg), or not at all?"
    )
    assert "feeders-assumed" not in found


def test_a_margin_missed_is_not_said_to_be_heat_missed(tmp_path: Path) -> None:
    """More margin on heat than the tanks have: they still reach their temperature, and the question says so."""
    found = asked(tmp_path, lambda tables: tables["projects"][0].update(heat_margin_pct=100))
    assert "heat-never" not in found
    assert "are enough by our reckoning, with less in reserve than we allow for" in found["heat-marginal"].words


def test_a_tank_that_the_list_of_tanks_lacks_is_asked_about_once(tmp_path: Path) -> None:
    found = asked(tmp_path, lambda tables: tables["tanks"].pop(0))
    assert "heater-without-tank" in found and "heat-no-tank" not in found


def test_the_letter_asks_in_the_words_of_its_code_and_its_answers_come_back(tmp_path: Path) -> None:
    """Of an IEC job: earthed, star; the answer in the same words is taken, and nothing beside it counts as typed over."""
    tables = plant_iec.in_iec_country(small.tables())
    for row in tables["feeders"]:
        del row["system"]
    book.write(tmp_path / "job.xlsx", small.TITLE, small.STORY, tables, us=False)
    made = batch.quote(tmp_path / "job.xlsx")
    letter = docx.Document(str(made.letter))
    [row] = [row for table in letter.tables for row in table.rows if row.cells[1].text.startswith("How are supplies F-1, F-2 earthed")]
    assert "star earthed" in row.cells[3].text
    row.cells[4].text = "star earthed"
    letter.save(tmp_path / "answered.docx")
    again = batch.check(tmp_path / "job.xlsx", answers=tmp_path / "answered.docx")
    assert {one.system for one in again.job.feeders} == {"wye grounded"}
    assert {one.code for one in again.findings if one.code.startswith("answer-")} == {"answer-taken"}


@pytest.mark.parametrize("name", ["customer-list.xlsx", "every-finding.xlsx"])
def test_results_ask_about_the_cells_of_the_list_that_was_sent(tmp_path: Path, name: str) -> None:
    """A list is not changed by being sized: asked of its results, and of those of its results, a question names the same cells."""
    source = tmp_path / name
    source.write_bytes((HERE / name).read_bytes())
    first = {one.key: one for one in ask(batch.check(source))}
    every = {cell for one in first.values() for cell in one.cells}  # a row that stays open is asked about in one question, whatever it was
    again = source
    for target in ("one sized.xlsx", "two sized.xlsx"):
        batch.size(again, tmp_path / target)
        again = tmp_path / target
        found = {one.key: one for one in ask(batch.check(again))}
        asked = [key for key, one in first.items() if one.takes in ("cells", "confirm") and one.cells and key in found]
        assert len(asked) >= 3
        for key in asked:
            assert not [cell for cell in found[key].cells if cell.startswith("As received")], key
            assert set(found[key].cells) <= every, key


def test_the_answer_to_a_cell_of_the_list_finds_it_in_the_results(tmp_path: Path) -> None:
    """The quotation of results names the customer's cell; their answer goes into the results by that name."""
    tables = small.tables()
    del tables["heaters"][2]["power_kw"]
    del tables["heaters"][4]["power_kw"]
    book.write(tmp_path / "job.xlsx", small.TITLE, small.STORY, tables)
    batch.size(tmp_path / "job.xlsx", tmp_path / "job sized.xlsx")
    made = batch.quote(tmp_path / "job sized.xlsx")
    sheet = (opened := openpyxl.load_workbook(made.workbook))["Questions"]
    [row] = [row for row in sheet.iter_rows() if "(1) Heaters E4 (tank T-103): Power is blank. (2) Heaters E6" in str(row[1].value)]
    row[4].value = "Heaters E4: 9 kW; Heaters E6: 2 kW"
    opened.save(tmp_path / "answered.xlsx")
    again = batch.check(tmp_path / "job sized.xlsx", answers=tmp_path / "answered.xlsx")
    assert [bank.power_kw for bank in again.job.banks if bank.tank in ("T-103", "T-105")] == [9.0, 2.0]
    assert {one.code for one in again.findings if one.code.startswith("answer-")} == {"answer-taken"}
