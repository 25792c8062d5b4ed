"""Columns and sentences that say what a tank has beside its heaters, by what it is heated, or how its heaters are made: what nothing of the
sizing hangs on holds no row, and what leaves a row open is asked."""

from __future__ import annotations

from pathlib import Path

import pytest

import batch
from batch.results import JobResult
from tests.test_intake_asked_elsewhere import tanks
from tests.test_intake_columns_coded import under
from tests.test_lists import HEAD, listed

ROWS = [["T-1", 2, 12, 480, 3], ["T-2", 3, 9, 480, 3], ["T-4", 1, 6, 480, 3]]
LIST = "Tank,Qty,kW each,Volts,Ph\n"
ALL = ["T-1", "T-2", "T-4"]
FOUR = ["T-1", "T-2", "T-4", "T-5"]


def sized(result: JobResult) -> list[str]:
    return [row.bank.tank for project in result.projects for row in project.banks]


def with_remark(folder: Path, remark: str) -> list[str]:
    """The tanks that are sized where the second row bears a remark."""
    return tanks(listed(folder, [*HEAD, "Remarks"], *([*row, remark if row[0] == "T-2" else None] for row in ROWS)))


def with_sentence(folder: Path, sentence: str) -> list[str]:
    return tanks(listed(folder, HEAD, *ROWS, [None], [sentence]))


@pytest.mark.parametrize(
    "heading", ["Pump", "Filter", "Rectifier", "Thermostat", "Accessories: pump", "Acessórios Bomba", "Pumpe", "Pompe", "Rührwerk"]
)
def test_what_a_tank_has_beside_its_heaters_holds_nothing(tmp_path: Path, heading: str) -> None:
    """Neither the list, which might be one of pumps, nor the rows that have one."""
    assert under(tmp_path, heading, ["Y", "N", "Y", "N"]) == FOUR


def test_a_column_of_pumps_by_their_tags_leaves_open_what_is_listed(tmp_path: Path) -> None:
    assert under(tmp_path, "Pump", ["P-1", None, "P-2", None]) == []


@pytest.mark.parametrize("heading", ["Steam", "Steam coil", "Gas", "Dampf", "Boiler", "Oven"])
def test_what_a_tank_may_be_heated_by_is_asked(tmp_path: Path, heading: str) -> None:
    assert under(tmp_path, heading, ["N", "Y", "N", "N"]) == ["T-1", "T-4", "T-5"]


@pytest.mark.parametrize(
    ("heading", "cells", "built"),
    [
        ("Heat source", ["E", "S", "E", "E"], ["T-1", "T-4", "T-5"]),
        ("Heating", ["I", "I", "I", "I"], FOUR),
        ("Fed from", ["Electric", "Steam", "Electric", "Electric"], ["T-1", "T-4", "T-5"]),
        ("Elektro", ["ja", "nein", "ja", "ja"], ["T-1", "T-4", "T-5"]),
        ("Build", ["T", "F", "T", "T"], ["T-1", "T-4", "T-5"]),
        ("GO/NO GO", ["GO", "NO GO", "GO", "GO"], ["T-1", "T-4", "T-5"]),
        ("Bid", ["Bid", "No bid", "Bid", "Bid"], ["T-1", "T-4", "T-5"]),
        ("Build", ["T", "T", "T", "T"], FOUR),
    ],
)
def test_a_row_that_is_marked_as_no_other_is_asked(tmp_path: Path, heading: str, cells: list[object], built: list[str]) -> None:
    assert under(tmp_path, heading, cells) == built


def test_letters_of_what_heats_by_their_legend(tmp_path: Path) -> None:
    assert under(tmp_path, "Heat", ["E", "W", "E", "E"], [None], ["E = electric, W = hot water"]) == ["T-1", "T-4", "T-5"]
    assert under(tmp_path, "Heat", ["A", "I", "A", "A"], [None], ["A = electric, I = immersion heater"]) == FOUR


def test_a_sentence_above_the_list_that_names_a_tank_is_no_title_of_it(tmp_path: Path) -> None:
    assert tanks(listed(tmp_path, ["Note: T-4 is steam heated."], [None], HEAD, *ROWS)) == ["T-1", "T-2"]
    assert tanks(listed(tmp_path, ["STEAM COIL SCHEDULE"], [None], HEAD, *ROWS)) == []


@pytest.mark.parametrize(
    "title", ["PUMP SCHEDULE - LINE 2", "Pumps for T-1 to T-4", "Rectifiers of tanks 1, 2 and 3", "Pumps, rev 2, 480 V"]
)
@pytest.mark.parametrize("tag", ["T-{}", "{}"])
def test_a_title_of_pumps_that_names_tanks_is_a_title(tmp_path: Path, title: str, tag: str) -> None:
    """Whose kilowatts would else be sized as heaters."""
    assert tanks(listed(tmp_path, [title], [None], HEAD, *([tag.format(row[0][2:]), *row[1:]] for row in ROWS))) == []


@pytest.mark.parametrize(
    "said",
    ["sheath TBD", "sheath material is TBD", "riser length to be confirmed", "liquid level TBC", "Werkstoff noch offen",
     "longueur à confirmer", "HEATER SHEATH TBD", "sheath of heaters to be determined by owner", "sheath to be determined by heater mfr."],
)  # fmt: skip
def test_how_a_heater_is_made_may_be_open(tmp_path: Path, said: str) -> None:
    assert with_remark(tmp_path, said) == ALL
    assert with_sentence(tmp_path, f"T-2: {said}") == ALL


@pytest.mark.parametrize(
    "said",
    ["sheath and qty TBD", "level and kW TBD", "length and V TBD", "qty TBD material 316", "material on hold", "Sheath TBD, by others",
     "TBD", "kW to be verified", "heaters and sheath TBD", "heater TBD", "heaters to be determined by owner",
     "sheath by owner", "sheath TBD deleted", "sheath TBD NIC"],
)  # fmt: skip
def test_what_else_is_open_beside_it_is_asked(tmp_path: Path, said: str) -> None:
    assert with_remark(tmp_path, said) == ["T-1", "T-4"]


@pytest.mark.parametrize(
    "said",
    ["2 req'd", "reduce by one", "one less", "OFE", "waiting on customer", "steam heated", "dampfbeheizt", "chauffé vapeur",
     "calentado con vapor"],
)  # fmt: skip
def test_remarks_that_take_out_or_leave_open(tmp_path: Path, said: str) -> None:
    assert with_remark(tmp_path, said) == ["T-1", "T-4"]


@pytest.mark.parametrize(
    ("said", "built"),
    [
        ("Total load T-1 thru T-4: 57 kW", ALL), ("Connected load of T-1 and T-2: 51 kW", ALL), ("Total load T-1 thru T-4: 60 kW", []),
        ("T-1, T-2 and T-4: 57 kW each", []), ("T-1 and T-2: 51 kW per tank", ["T-4"]), ("T-1 and T-2: 51 kW?", ["T-4"]),
        ("T-1 and T-2: 51 kW, by others", ["T-4"]), ("Total load T-1 to T-2: 51 kW, on hold", ["T-4"]),
        ("Connected load of T-1 and T-2: 51 kW, 240 V", ["T-4"]), ("T-2: 27 kW", ALL), ("T-1, T-2, T-4: 5 kW", []),
        ("T-2 is 240", ["T-1", "T-4"]),
    ],
)  # fmt: skip
def test_a_sum_of_rows_that_is_theirs_asks_nothing(tmp_path: Path, said: str, built: list[str]) -> None:
    assert with_sentence(tmp_path, said) == built


@pytest.mark.parametrize("heading", ["Sheath", "Material", "Werkstoff"])
@pytest.mark.parametrize("said", ["TBD", "noch offen", "por definir", "n.t.b."])
def test_what_a_sheath_is_made_of_may_be_open_in_its_column(tmp_path: Path, heading: str, said: str) -> None:
    assert under(tmp_path, heading, ["PTFE", said, "316", "PTFE"]) == FOUR
    assert under(tmp_path, "Remarks", ["PTFE", said, "316", "PTFE"]) == ["T-1", "T-4", "T-5"]


@pytest.mark.parametrize(
    ("said", "counts"),
    [
        ("one heater at each end", {2}), ("one each end", {2}), ("1 each side", {2, 4}), ("One heater each corner", {4}),
        ("je ein Heizer an jeder Seite", {2, 4}), ("two each side", {4}), ("2 per side", {4}), ("uno en cada lado", {2, 4}),
    ],
)  # fmt: skip
def test_where_heaters_sit_makes_a_number_of_them(tmp_path: Path, said: str, counts: set[int]) -> None:
    """That agrees with the row's, or is asked; a tank has two ends, four corners, and two sides or four. So of a sentence below."""
    for count in (1, 2, 3, 4):
        rows = [["T-1", 2, 12, 480, 3, None], ["T-2", count, 9, 480, 3, said]]
        built = ["T-1", "T-2"] if count in counts else ["T-1"]
        assert tanks(listed(tmp_path, [*HEAD, "Remarks"], *rows)) == built
        assert tanks(listed(tmp_path, HEAD, *(row[:5] for row in rows), [None], [f"T-2 - {said}."])) == built


def test_a_place_without_a_number_counts_as_well(tmp_path: Path) -> None:
    assert with_remark(tmp_path, "at each corner") == ["T-1", "T-4"]
    assert with_remark(tmp_path, "one each end, one in the middle") == ALL


@pytest.mark.parametrize(
    "said", ["one each end, one in the middle", "1 each end and 1 at the center", "je ein Heizer an jedem Ende, einer in der Mitte"]
)
def test_places_and_the_middle_make_one_number_together(tmp_path: Path, said: str) -> None:
    """Three of them, in a remark or in a sentence below; where the rest sit is not said by "one in the middle" alone."""
    for count in (2, 3, 4):
        rows = [["T-1", 2, 12, 480, 3, None], ["T-2", count, 9, 480, 3, said]]
        built = ["T-1", "T-2"] if count == 3 else ["T-1"]
        assert tanks(listed(tmp_path, [*HEAD, "Remarks"], *rows)) == built
        assert tanks(listed(tmp_path, HEAD, *(row[:5] for row in rows), [None], [f"T-2: {said}"])) == built
    assert with_remark(tmp_path, "one in the middle") == ALL


def test_one_that_agrees_is_understood(tmp_path: Path) -> None:
    rows = [["T-1", 2, 12, 480, 3, "one heater each end"], ["T-2", 4, 9, 480, 3, "two each side"]]
    assert not any(one.code == "remarks-not-understood" for one in listed(tmp_path, [*HEAD, "Remarks"], *rows).findings)


@pytest.mark.parametrize(
    "said", ["2 in. clearance each side", "thermowell each end", "1 each side panel", "lid splits, one handle each end"]
)
def test_something_else_at_each_side_is_no_heater(tmp_path: Path, said: str) -> None:
    assert with_remark(tmp_path, said) == ALL


def test_the_mark_of_a_heater_is_no_number_of_them(tmp_path: Path) -> None:
    assert tanks(listed(tmp_path, [*HEAD, "Remarks"], [*ROWS[0], "HTR 1"], [*ROWS[1], "heater 4"])) == ["T-1", "T-2"]


def test_two_heaters_and_a_power_behind_a_comma_among_signs(tmp_path: Path) -> None:
    """Though a row that bears such a sign is asked about itself."""
    head = ["Tank", "Gal", "What heater", "Plug or hardwire", "Notes"]
    rows = [["Dip 1", 120, "(2) 6 kW 240V 1ph"], ["Ultrasonic", 40, "2 x 1500 W 120V 1ph"], ["Lye", 100, "2 heaters, 10 kW, 240V 3ph"],
            ["Hot rinse", 80, "one 4500W 240V single phase"]]  # fmt: skip
    noted = [[*row, "hardwire", "each on own ckt" if row[0] == "Ultrasonic" else None] for row in rows]
    assert tanks(listed(tmp_path, head, *noted)) == ["Dip 1", "Hot rinse"]


@pytest.mark.parametrize("heading", ["Qty rev B", "Qty rev A", "As built 2019", "Qty reused", "Eingebaut"])
def test_other_numbers_of_the_same_heaters_are_asked(tmp_path: Path, heading: str) -> None:
    assert under(tmp_path, heading, [2, 1, 1, 2]) == ["T-1", "T-4", "T-5"]


def test_pieces_under_a_revision_are_a_number_too_and_a_year_is_none(tmp_path: Path) -> None:
    assert under(tmp_path, "Rev B", [None, "2 ea", None, None]) == ["T-1", "T-4", "T-5"]
    assert under(tmp_path, "Installed", [2015, 2015, 2019, 2021]) == FOUR
    assert under(tmp_path, "Qty installed", [4, 6, 2, 4]) == FOUR  # of which those are to be bought


def test_the_answer_that_is_offered_holds_the_rows_own_figures(tmp_path: Path) -> None:
    result = listed(tmp_path, [*HEAD, "Remarks"], ["T-1", 4, 7.5, 480, 3, "kW TBD"], *ROWS[1:])
    said = next(finding.message for finding in result.findings if finding.code == "row-figures-open")
    assert "{ Power = 7.5 }" in said


def test_a_list_that_may_be_one_of_pumps_is_sized_by_the_map_that_is_written(tmp_path: Path) -> None:
    source = tmp_path / "list.csv"
    source.write_text("Tank,Qty,kW each,Volts,Ph,Pump\nT-1,2,12,480,3,P-1\nT-2,3,9,480,3,P-2\n", encoding="utf-8")
    assert sized(batch.size(source)) == []
    written = tmp_path / "list map.toml"
    text = written.read_text(encoding="utf-8")
    assert 'use = "?"  # QUESTION: is it a list of heaters?' in text
    written.write_text(text.replace('use = "?"', "use = true"), encoding="utf-8")
    assert sized(batch.check(source, column_map=written)) == ["T-1", "T-2"]


def test_a_sentence_that_counts_heaters_below_a_list_is_left_out_by_the_map(tmp_path: Path) -> None:
    source = tmp_path / "list.csv"
    source.write_text(f"{LIST}T-1,2,12,480,3\nT-2,3,9,480,3\n,\n\"T-1: 3 heaters of 12 kW, 480 V.\"\n", encoding="utf-8")
    assert sized(batch.size(source)) == ["T-2"]
    written = tmp_path / "list map.toml"
    text = written.read_text(encoding="utf-8").replace('2 = "?"', '2 = "keep"').replace('5 = "?"', '5 = "leave out"')
    written.write_text(text, encoding="utf-8")
    result = batch.check(source, column_map=written)
    assert sized(result) == ["T-1", "T-2"] and not any(finding.code == "row-in-doubt" for finding in result.findings)


@pytest.mark.parametrize(
    "said",
    ["PTFE sheath TBC", "316SS or Ti TBC", "mounting TBD", "mounting by others", "delivery date TBC", "Befestigung offen",
     "Liefertermin folgt"],
)  # fmt: skip
def test_what_nothing_is_sized_by_may_be_open(tmp_path: Path, said: str) -> None:
    assert with_remark(tmp_path, said) == ALL
    assert with_sentence(tmp_path, f"T-2: {said}") == ALL


@pytest.mark.parametrize("said", ["Ti heater TBC", "TBC", "PTFE heaters, qty TBC"])
def test_a_heater_or_a_row_that_is_open_is_asked(tmp_path: Path, said: str) -> None:
    assert with_remark(tmp_path, said) == ["T-1", "T-4"]


def test_a_column_of_how_heaters_are_mounted_or_sheathed_may_be_open(tmp_path: Path) -> None:
    rows = [[*ROWS[0], "PTFE TBC", "TBD"], [*ROWS[1], "TBD", "OTS"], [*ROWS[2], "316SS", "TBD"]]
    assert tanks(listed(tmp_path, [*HEAD, "Sheath", "Mounting"], *rows)) == ALL
