"""Constants by which the layout of a customer's list, its rows and its notes are judged, each by small lists on both sides of it.

Judgement, no source. All plants and figures are invented.
"""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import pytest

from batch.intake.powers_named import kilowatts
from batch.records import Job
from tests.intake_book import book, codes, read_bytes

HEAD = ["Tank", "Qty", "kW each", "Volts", "Ph"]
MARKED = ["Tag", *HEAD[1:]]


def listed(folder: Path, *rows: Sequence[object], **more: list[Sequence[object]]) -> Job:
    return read_bytes(folder, book({"Sheet1": list(rows), **more}))


def tanks(job: Job) -> list[str]:
    return [one.tank for one in job.banks]


def asked(job: Job) -> list[str]:
    """Tanks of the rows that are asked about, and not sized."""
    return [one.tank for one in job.unread]


# --- which column names the tanks


@pytest.mark.parametrize(
    ("marks", "named"), [(("W-1", "W-2", "W-3"), "marks"), (("EL-1", "EL-2", "WR-3"), "nodes"), (("EL-1", "WR-2", "PO-3"), "nodes")]
)
def test_marks_of_two_kinds_are_those_of_equipment_and_leave_the_tanks_to_another_column(
    tmp_path: Path, marks: Sequence[str], named: str
) -> None:
    nodes = ["B-1", "B-1", "B-2"]
    rows = [[mark, node, 2, 6, 480, 3] for mark, node in zip(marks, nodes, strict=True)]
    job = listed(tmp_path, ["Tag", "Node", *HEAD[1:]], *rows)
    assert tanks(job) == (nodes if named == "nodes" else list(marks))


def test_two_rows_that_begin_with_a_tank_name_the_tanks_of_marked_heaters(tmp_path: Path) -> None:
    rows = [["EH-1", "TK-101 hot", 3, 6, 480, 3], ["EH-2", "TK-102 hot", 2, 9, 480, 3]]
    job = listed(tmp_path, ["Immersion heaters"], ["Tag", "Duty", *HEAD[1:]], *rows)
    assert tanks(job) == ["TK-101", "TK-102"]


@pytest.mark.parametrize(("before", "found"), [("abcd. ", True), ("abcde. ", False)])
def test_a_tank_begins_within_six_letters_of_its_cell(tmp_path: Path, before: str, found: bool) -> None:
    """What begins later may be said of something else, and the heaters' marks stand."""
    rows = [[f"EH-{at}", f"{before}TK-10{at} hot", 2, 6, 480, 3] for at in (1, 2)]
    job = listed(tmp_path, ["Immersion heaters"], ["Tag", "Duty", *HEAD[1:]], *rows)
    assert tanks(job) == (["TK-101", "TK-102"] if found else ["EH-1", "EH-2"])


# --- stages of machines, heaters that are numbered, blocks


@pytest.mark.parametrize(("machine", "joined"), [("blue north east gate", True), ("blue north east gate post", False)])
def test_a_banner_of_up_to_five_words_is_a_machines_name(tmp_path: Path, machine: str, joined: bool) -> None:
    stages = [["Wash", 3, 6, 480, 3], ["Rinse", 2, 6, 480, 3]]
    job = listed(tmp_path, HEAD, [f"Zeta {machine}"], *stages, [f"Omega {machine}"], *stages)
    names = [f"{name} {machine} {stage}" for name in ("Zeta", "Omega") for stage in ("Wash", "Rinse")]
    assert tanks(job) == (names if joined else ["Wash", "Rinse"] * 2)


@pytest.mark.parametrize("machines", [1, 2])
def test_stages_bear_the_names_of_two_machines_and_not_of_one_alone(tmp_path: Path, machines: int) -> None:
    stages = [["Wash", 3, 6, 480, 3], ["Rinse", 2, 6, 480, 3]]
    job = listed(tmp_path, HEAD, *([["Zeta"]] if machines > 1 else []), *stages, ["Omega"], *stages)
    assert tanks(job) == (["Zeta Wash", "Zeta Rinse", "Omega Wash", "Omega Rinse"] if machines > 1 else ["Wash", "Rinse"] * 2)


@pytest.mark.parametrize("columns", [1, 2, 3])
def test_two_numbered_columns_have_the_power_of_one_heater_each(tmp_path: Path, columns: int) -> None:
    """ "Heater 1 kW" alone may be of a tank that has more: how many it has is asked."""
    headings = [f"Heater {number} kW" for number in range(1, columns + 1)]
    job = listed(tmp_path, ["Tank", *headings, "Volts", "Ph"], ["T-1", *[6, 9, 3][:columns], 480, 3], ["T-2", *[6, 6, 3][:columns], 480, 3])
    assert [(one.tank, one.quantity, one.power_kw) for one in job.banks] == (
        [("T-1", 1, kw) for kw in [6, 9, 3][:columns]] + [("T-2", 1, kw) for kw in [6, 6, 3][:columns]] if columns > 1 else []
    )
    assert asked(job) == ([] if columns > 1 else ["T-1", "T-2"])


def blocks(*labels: Sequence[object], beside: Sequence[str] = ()) -> list[Sequence[object]]:
    """Three tanks, each a block of labels and values."""
    return [row for tank in ("T-1", "T-2", "T-3") for row in (["Tank", tank, *beside], *([*one, *beside] for one in labels), [None])]


def test_three_labels_make_a_block_of_a_tank(tmp_path: Path) -> None:
    job = listed(tmp_path, ["480 V 3 phase heaters"], *blocks(["Qty", 3], ["kW each", 6]))
    assert tanks(job) == ["T-1", "T-2", "T-3"]


@pytest.mark.parametrize(("beside", "read"), [(("green", "plain"), True), (("green", "plain", "north"), False)])
def test_beside_the_value_of_a_block_two_more_cells_are_remarks(tmp_path: Path, beside: Sequence[str], read: bool) -> None:
    """Three more may be the values of other tanks, of which a block would lose all but the first: the sheet is asked about."""
    job = listed(tmp_path, *blocks(["Qty", 3], ["kW each", 6], ["Volts", 480], ["Ph", 3], beside=beside))
    assert tanks(job) == (["T-1", "T-2", "T-3"] if read else [])
    assert ("list-not-read" in codes(job)) is not read


# --- sheets beside the list, and notes


@pytest.mark.parametrize("text", ["T-1 deleted", "T-1?", "T-1 is deleted", "Tank T-1 is deleted in this revision."])
def test_a_cover_takes_no_row_out_silently_however_short_it_is(tmp_path: Path, text: str) -> None:
    job = listed(tmp_path, HEAD, ["T-1", 3, 6, 480, 3], ["T-2", 2, 6, 480, 3], Cover=[[text]])
    assert (tanks(job), asked(job)) == (["T-2"], ["T-1"])


@pytest.mark.parametrize(("name", "named"), [("Acid", True), ("Dye", False)])
def test_a_sentence_names_a_tank_by_a_word_of_four_letters(tmp_path: Path, name: str, named: bool) -> None:
    """A shorter name without a figure may be any word of a sentence."""
    job = listed(tmp_path, HEAD, [name, 3, 6, 480, 3], ["Copper strike", 2, 6, 480, 3], [None], [f"{name} to be confirmed by customer."])
    assert asked(job) == ([name] if named else [])


@pytest.mark.parametrize(("title", "asks"), [("Price list of spares", False), ("Price and delivery for these", True)])
def test_a_sentence_that_asks_for_a_price_makes_no_price_list_of_a_sheet(tmp_path: Path, title: str, asks: bool) -> None:
    """Four words are a title, and the sheet is a price list: nothing to size stands in it."""
    job = listed(tmp_path, HEAD, ["T-1", 3, 6, 480, 3], ["T-2", 2, 6, 480, 3], Other=[[title], ["4 x 9 kW"]])
    assert tanks(job) == ["T-1", "T-2"] and ("list-not-read" in codes(job)) is asks


@pytest.mark.parametrize(("rows", "asks"), [(2, True), (1, False)])
def test_a_sheet_that_speaks_of_heaters_and_has_two_rows_of_figures_is_asked_about(tmp_path: Path, rows: int, asks: bool) -> None:
    other = [["Heaters for the new line"], *([f"S-{at}", 3, 6] for at in range(rows))]
    job = listed(tmp_path, HEAD, ["T-1", 3, 6, 480, 3], ["T-2", 2, 6, 480, 3], Other=other)
    assert ("list-not-read" in codes(job), "sheet-not-recognised" in codes(job)) == (asks, not asks)


# --- rows held against each other

MIXED = ["Tank", "Item", *HEAD[1:]]
PUMP = ["P-9", "Pump", 1, 4, 480, 3]


@pytest.mark.parametrize(("saying", "silent", "asks"), [(2, 2, True), (2, 3, False)])
def test_where_half_of_the_rows_say_heater_the_others_are_asked_about(tmp_path: Path, saying: int, silent: int, asks: bool) -> None:
    """Of a list said to be of heaters with a pump in it: 2 of 4 say so, 2 of 5 do not make it a custom of the list."""
    heaters = [[f"T-{at}", "Immersion heater", 2, 6, 480, 3] for at in range(saying)]
    others = [[f"T-{at + 50}", "Rinse", 2, 9, 480, 3] for at in range(silent)]
    job = listed(tmp_path, ["HEATER SCHEDULE"], MIXED, *heaters, *others, PUMP)
    assert len(asked(job)) == (silent if asks else 0) and len(job.banks) == saying + (0 if asks else silent)


@pytest.mark.parametrize(("alike", "asks"), [(3, True), (2, False)])
def test_beside_three_tags_alike_one_that_begins_otherwise_is_asked_about(tmp_path: Path, alike: int, asks: bool) -> None:
    rows = [["T-90", "Immersion heater", 2, 6, 480, 3], *([f"T-{at}", "Rinse", 2, 6, 480, 3] for at in range(1, alike))]
    job = listed(tmp_path, ["HEATER SCHEDULE"], MIXED, *rows, ["X-1", "Soak", 2, 9, 480, 3], PUMP)
    assert asked(job) == (["X-1"] if asks else [])


@pytest.mark.parametrize(("once", "twice", "asks"), [(7, 3, True), (4, 2, False), (3, 1, True), (2, 0, False)])
def test_where_seven_in_ten_marks_stand_once_one_that_stands_twice_is_asked_about(
    tmp_path: Path, once: int, twice: int, asks: bool
) -> None:
    """7 of 10; 4 of 6 are two thirds, and may be heaters of one mark that differ."""
    single = [[f"M-{at}", f"T-{at}", 2, 6, 480, 3] for at in range(once)]
    double = [[f"N-{at}", f"S-{at}", 2, power, 480, 3] for at in range(twice) for power in (6, 9)]
    job = listed(tmp_path, ["Heater mark", *HEAD], *single, *double)
    assert len(asked(job)) == (2 * twice if asks else 0) and len(job.banks) == once + (0 if asks else 2 * twice)


# --- powers


@pytest.mark.parametrize(
    ("number", "unit", "power"),
    [("19,000", "W", 19.0), ("20,000", "W", None), ("2,000", "kW", None), ("2,001", "kW", 2.001)],
)
def test_a_figure_whose_mark_leaves_two_powers_is_one_only_where_the_other_is_none(number: str, unit: str, power: float | None) -> None:
    """19 W heats nothing, 20 W may; 2,000 kW may be a plant's, 2,001 kW is beyond any list: there the mark is a decimal one."""
    assert kilowatts(number, unit) == power


# --- what a heading and the cells below it must say of a column


@pytest.mark.parametrize(("rows", "read"), [(3, True), (2, False)])
def test_three_words_for_phases_are_phases_under_whatever_heading(tmp_path: Path, rows: int, read: bool) -> None:
    job = listed(tmp_path, ["Tank", "Qty", "kW each", "Volts", "Info"], *([f"T-{at}", 2, 6, 400, "Tri"] for at in range(rows)))
    assert [one.phases for one in job.banks] == ([3] * rows if read else [])
    assert len(asked(job)) == (0 if read else rows)


@pytest.mark.parametrize(("rows", "read"), [(3, True), (2, False)])
def test_three_tags_under_a_heading_of_numbers_are_tanks_though_one_comes_twice(tmp_path: Path, rows: int, read: bool) -> None:
    job = listed(tmp_path, ["Nr", *HEAD[1:]], *([f"W{at % (rows - 1)}", 2, 6 + at, 480, 3] for at in range(rows)))
    assert tanks(job) == (["W0", "W1", "W0"] if read else [])
    assert ("list-not-read" in codes(job)) is not read


@pytest.mark.parametrize(("tags", "others", "read"), [(3, 1, True), (5, 2, False)])
def test_three_tags_in_four_make_a_heading_that_says_nothing_that_of_the_tanks(tmp_path: Path, tags: int, others: int, read: bool) -> None:
    """5 of 7 are 71 %."""
    rows = [*([f"WA-{at}", 2, 6, 480, 3] for at in range(tags)), *([f"soak {'ab'[at]}", 2, 9, 480, 3] for at in range(others))]
    job = listed(tmp_path, ["ID", *HEAD[1:]], *rows)
    assert len(job.banks) == (tags + others if read else 0) and ("list-not-read" in codes(job)) is not read


@pytest.mark.parametrize("heading", ["Size", "Load", "Fuse"])
def test_three_tags_in_four_make_a_heading_of_figures_that_of_the_tanks(tmp_path: Path, heading: str) -> None:
    """No figure stands under it, and nothing else names the tanks."""
    rows = [*([f"WA-{at}", 2, 6, 480, 3] for at in range(3)), ["soak a", 2, 9, 480, 3]]
    assert len(listed(tmp_path, [heading, *HEAD[1:]], *rows).banks) == 4


@pytest.mark.parametrize(("named", "others", "read"), [(3, 2, True), (4, 3, False)])
@pytest.mark.parametrize("name", ["Becken {}", "TK-020{}"])
def test_three_tanks_in_five_make_a_column_that_of_the_tanks(tmp_path: Path, name: str, named: int, others: int, read: bool) -> None:
    """4 of 7 are 57 %."""
    rows = [*([name.format(at), 3, 9, 480, 3] for at in range(named)), *([f"vorn {'abc'[at]}", 3, 6, 480, 3] for at in range(others))]
    job = listed(tmp_path, ["Where", *HEAD[1:]], *rows)
    assert len(job.banks) == (named + others if read else 0) and ("list-not-read" in codes(job)) is not read


@pytest.mark.parametrize(("rows", "counts"), [(4, True), (5, False)])
def test_figures_that_rise_by_one_in_more_than_four_rows_are_no_numbers_of_heaters(tmp_path: Path, rows: int, counts: bool) -> None:
    job = listed(tmp_path, HEAD, *([f"T-{at}", at + 1, 6, 480, 3] for at in range(rows)))
    assert (len(job.banks), len(asked(job))) == ((rows, 0) if counts else (0, rows))


@pytest.mark.parametrize(("rows", "first"), [(4, "Rinse a"), (3, "10")])
def test_four_figures_in_equal_steps_are_no_tags_beside_a_column_of_baths(tmp_path: Path, rows: int, first: str) -> None:
    job = listed(tmp_path, ["Bath", "Mark", *HEAD[1:]], *([f"Rinse {'abcd'[at]}", 10 * (at + 1), 2, 6, 480, 3] for at in range(rows)))
    assert tanks(job)[0] == first


def test_heaters_alone_over_figures_are_their_number_and_that_is_said(tmp_path: Path) -> None:
    job = listed(tmp_path, ["Tank", "Elements", *HEAD[2:]], ["T-1", 3, 6, 480, 3], ["T-2", 2, 9, 480, 3])
    assert [one.quantity for one in job.banks] == [3, 2] and "column-taken" in codes(job)


def test_beside_a_count_heaters_alone_over_other_figures_ask_which_of_the_two_counts(tmp_path: Path) -> None:
    job = listed(tmp_path, ["Tank", "Qty", "Elements", *HEAD[2:]], ["T-1", 3, 2, 6, 480, 3], ["T-2", 2, 1, 9, 480, 3])
    assert not job.banks and "list-question" in codes(job)


def test_a_word_for_a_tank_beside_one_for_a_tag_is_that_of_the_tanks_before_their_names_and_that_is_said(tmp_path: Path) -> None:
    job = listed(tmp_path, ["Cuba ref.", "Bath", *HEAD[1:]], ["A1", "soak", 3, 6, 480, 3], ["A2", "rinse", 2, 9, 480, 3])
    assert tanks(job) == ["A1", "A2"] and "column-taken" in codes(job)


YEARS = [("Power", (1950, 1960), True), ("Power", (1949, 1960), False), ("Power", (2030, 2040), True), ("Power", (2030, 2041), False)]


@pytest.mark.parametrize(("heading", "years", "read"), YEARS)
def test_years_from_1950_to_2040_are_no_power(tmp_path: Path, heading: str, years: tuple[int, int], read: bool) -> None:
    """Beside a column of kilowatts: four years are passed over, and other figures are asked about."""
    rows = [[f"B{at}", 2, years[at % 2], 6, 480, 3, "new"] for at in range(4)]
    job = listed(tmp_path, ["Immersion heaters"], ["Bath no.", "Htrs", heading, "kW each", "Volts", "Phase", "Remarks"], *rows)
    assert ([one.power_kw for one in job.banks], "list-question" in codes(job)) == (([6] * 4, False) if read else ([], True))


@pytest.mark.parametrize("heading", ["W each", "Wattage", "Rating W"])
def test_two_thousand_watts_are_no_year(tmp_path: Path, heading: str) -> None:
    rows = [[f"B{at}", 2, 2000, 480, 3, "new"] for at in range(4)]
    job = listed(tmp_path, ["Immersion heaters"], ["Bath no.", "Htrs", heading, "Volts", "Phase", "Remarks"], *rows)
    assert [one.power_kw for one in job.banks] == [2] * 4


# --- rows that say something under "HEATERS"


@pytest.mark.parametrize("more", [{"Temp": 60}, {"Volts": 480, "Ph": 3}], ids=["supply in the title", "supply in the row"])
@pytest.mark.parametrize(
    ("text", "asks"),
    [(text, True) for text in ("as before", "see drawing", "yes", "x")] + [(text, False) for text in ("none", "NA", "unheated", "steam")],
)
def test_what_stands_under_heaters_and_is_not_understood_is_asked_about(
    tmp_path: Path, text: str, asks: bool, more: dict[str, int]
) -> None:
    """It may mean heaters: such a row was passed over as a spare one, or as that of a tank without heaters."""
    rows = [[tank, said, *more.values()] for tank, said in (("T-1", "3 x 9 kW"), ("T-2", "3 x 9 kW"), ("S-9", text))]
    job = listed(tmp_path, ["480 V 3 ph"], ["Tank", "HEATERS", *more], *rows)
    assert tanks(job) == ["T-1", "T-2"] and asked(job) == (["S-9"] if asks else [])
