"""Lists as people lay them out, one small list a rule: what is read, and the doubt that stops it. All plants and figures are invented."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import pytest

import batch
from batch.intake.descriptions import read_description
from batch.intake.heading_sense import names_a_tank, sense
from batch.intake.tags import read_tags
from batch.intake.tank_words import tank_named
from batch.records import Job
from tests.intake_book import DOUBTS, book, codes, in_doubt, read_bytes
from tests.lists.score import HERE, lists_in, score_list

HEAD = ["Tank", "Qty", "kW each", "Volts", "Ph"]


def listed(folder: Path, *rows: Sequence[object], name: str = "Sheet1", **more: list) -> Job:
    return read_bytes(folder, book({name: list(rows), **more}))


def heaters(job: Job) -> list[tuple]:
    return [(one.tank, one.quantity, one.power_kw, one.volts_v, one.phases) for one in job.banks]


@pytest.mark.parametrize(
    ("heading", "key", "basis"),
    [
        ("Nb thermopl. par cuve", "quantity", "tank"),
        ("kW par appareil", "power_kw", "each"),
        ("Moc 1 grz.", "power_kw", "each"),
        ("kW tina", "total_kw", "tank"),
        ("Heizleistung gesamt kW", "total_kw", "row"),
        ("Nennspg.", "volts_v", ""),
        ("W/po2", "", ""),  # a density
        ("P.U. HT (€)", "", ""),  # a price
        ("Heat loss kW", "", ""),  # a power that is needed
        ("Pump kW", "", ""),
        ("W (mm)", "", ""),  # a width
        ("Tank size", "", ""),
    ],
)
def test_headings_mean_what_their_words_say_together(heading: str, key: str, basis: str) -> None:
    said = sense(heading)
    assert said is not None
    assert (said.key, said.basis) == (key, basis)


def test_a_word_for_a_tank_beside_its_size_names_no_tank() -> None:
    assert names_a_tank("Bad-Nr.") and names_a_tank("Tank served") and not names_a_tank("Tank size LxWxD") and not names_a_tank("Stage")


def test_a_column_of_positions_is_no_rival_of_the_count(tmp_path: Path) -> None:
    job = listed(
        tmp_path,
        ["Pos.", "Bad", "Stk.", "kW je", "U", "Ph"],
        ["1.1", "B1", 3, 6, 400, 3],
        ["1.2", "B2", 2, 9, 400, 3],
        ["1.3", "B3", 2, 6, 400, 3],
    )
    assert heaters(job) == [("B1", 3, 6, 400, 3), ("B2", 2, 9, 400, 3), ("B3", 2, 6, 400, 3)]


@pytest.mark.parametrize(
    ("text", "tags", "by_word"),
    [
        ("Resistencia de 6 kW en cuba C-01 desengrase", ("C-01",), True),
        ("Bad 31 – Ontvetten – 65 °C", ("Bad 31",), True),
        ("Tanks 8 and 9 hot rinse", ("Tank 8", "Tank 9"), True),
        ("TK-26 (1) 2 kW HTR", ("TK-26",), False),
        ("feed of the tank is 480 V", (), False),
        ("LINE A (480V 3ph)", (), False),
    ],
)
def test_a_tank_named_in_a_sentence(text: str, tags: tuple[str, ...], by_word: bool) -> None:
    named = tank_named(text)
    assert (named.tags, named.by_word, named.doubt) == (tags, by_word, "")


def test_two_tanks_in_a_sentence_that_nothing_links_are_a_doubt() -> None:
    assert tank_named("Tank 10 seal, beside tank 2").doubt


BILL = ["Code", "Description", "Qty", "Unit price €"]


def test_a_bill_of_quantities_has_everything_in_its_words(tmp_path: Path) -> None:
    job = listed(
        tmp_path, BILL,
        ["1.1", "Immersion heater 6 kW, 400 V three-phase, in tank C-01", 3, 410.0],
        ["1.2", "Set of 4 immersion heaters 9 kW each, 400 V three-phase, in tank C-02", 1, 2480.0],
        ["1.3", "Same as 1.1, in tank C-03", 2, 410.0],
        ["1.4", "2 immersion heaters 9 kW, 400 V three-phase, in tank C-04", 3, 520.0],
        ["1.5", "Circulating pump 1.5 kW, 400 V three-phase, tank C-02", 1, 900.0],
    )  # fmt: skip
    assert heaters(job) == [("C-01", 3, 6, 400, 3), ("C-02", 4, 9, 400, 3), ("C-03", 2, 6, 400, 3)]
    assert "cell-contradicts" in codes(job)  # two in the words, three in the column


def test_tags_of_heaters_are_not_those_of_tanks_that_the_descriptions_name(tmp_path: Path) -> None:
    job = listed(
        tmp_path, ["Tag", "Description", "Qty", "kW each", "Volts", "Phases"],
        ["RE-01", "Immersion heaters, tank TQ-01", 3, 6, 440, 3],
        ["RE-02", "Immersion heaters, tank TQ-03", 2, 3, 440, 3],
    )  # fmt: skip
    assert [one[0] for one in heaters(job)] == ["TQ-01", "TQ-03"]


def test_banners_name_the_tank_and_its_supply(tmp_path: Path) -> None:
    job = listed(
        tmp_path, ["No.", "Part", "Qty", "kW each", "Supply"],
        ["Bath 31 – Soak – 65 °C – 3x400V"],
        ["31.1", "Immersion heater", 3, 6],
        ["31.2", "Circulating pump", 1, 0.75],
        ["Bath 33 – Pickle – 3x400V"],
        ["33.1", "Immersion heater", 2, 4.5],
        ["33.2", "Immersion heater", 1, 1.5, "1~230 V"],
    )  # fmt: skip
    assert heaters(job) == [("Bath 31", 3, 6, 400, 3), ("Bath 33", 2, 4.5, 400, 3), ("Bath 33", 1, 1.5, 230, 1)]


def test_two_powers_to_choose_from_are_asked(tmp_path: Path) -> None:
    job = listed(
        tmp_path, ["our heaters, all 480 V 3 phase"], ["Tank #", "Bath", "Temp", "", "Comment"],
        ["1", "soak", 160, "(3) 6 kW immersion htrs"], ["2", "rinse", None, "none"],
        ["3", "copper", 120, "2 htrs, 6 or 9 kW", "whichever you have"],
        ["4", "nickel", 145, "six ea. 3 kW htrs"],
    )  # fmt: skip
    assert heaters(job) == [("1", 3, 6, 480, 3), ("4", 6, 3, 480, 3)]
    assert in_doubt(job)


def test_a_rating_of_usual_figures_is_that_of_each_and_says_so(tmp_path: Path) -> None:
    job = listed(tmp_path, ["Tank", "No. of heaters", "Rating", "Volts", "Ph"], ["S-1", 2, 3, 400, 3], ["S-2", 4, 9, 400, 3])
    assert heaters(job) == [("S-1", 2, 3, 400, 3), ("S-2", 4, 9, 400, 3)]
    assert "power-taken" in codes(job)


def test_codes_that_are_not_those_of_what_is_to_be_supplied_are_asked(tmp_path: Path) -> None:
    job = listed(
        tmp_path, [*HEAD, "Stat"], ["T-1", 3, 6, 480, 3, "N"], ["T-2", 2, 6, 480, 3, "A"], ["T-3", 2, 9, 480, 3, "N"],
        [None], ["Status: A=active, N=new, to be bought"],
    )  # fmt: skip
    assert [one[0] for one in heaters(job)] == ["T-1", "T-3"]


def test_with_its_tank_its_heaters_are_taken_out(tmp_path: Path) -> None:
    job = listed(
        tmp_path,
        [*HEAD, "Remarks"],
        ["T-1", 3, 6, 480, 3, None],
        ["T-2", 2, 6, 480, 3, "tank deleted"],
        ["T-3", 2, 9, 480, 3, "existing tank"],
    )
    assert [one[0] for one in heaters(job)] == ["T-1", "T-3"]


def test_row_totals_over_several_tanks_agree(tmp_path: Path) -> None:
    job = listed(
        tmp_path,
        ["Tank", "Heaters per tank", "kW each", "Volts", "Ph", "Total kW"],
        ["T-1", 3, 6, 480, 3, 18],
        ["T-2 thru T-4", 2, 3, 480, 3, 18],
    )
    assert heaters(job) == [("T-1", 3, 6, 480, 3), *[(f"T-{at}", 2, 3, 480, 3) for at in (2, 3, 4)]]


def test_acidity_is_no_phase(tmp_path: Path) -> None:
    job = listed(
        tmp_path,
        ["Tank", "pH", "Qty", "kW each", "Volts"],
        ["T-1", 1, 3, 6, "3x400V"],
        ["T-2", 3, 2, 6, "3x400V"],
        ["T-3", 12, 2, 6, "3x400V"],
    )
    assert {one[4] for one in heaters(job)} == {3}


def test_two_lists_turned_over_each_other_are_read_apart(tmp_path: Path) -> None:
    job = listed(
        tmp_path,
        ["LINE 1"],
        ["Tank", None, "F1", "F2"],
        ["No. of heaters", None, 3, 2],
        ["kW of each heater", "kW", 6, 9],
        ["Volts", "V", 400, 400],
        ["Phases", None, 3, 3],
        [None],
        ["LINE 2"],
        ["Tank", None, "N1", "N2"],
        ["No. of heaters", None, 2, 1],
        ["kW of each heater", "kW", 4.5, 2],
        ["Supply", None, "3x400 V", "1~230 V"],
    )
    assert heaters(job) == [("F1", 3, 6, 400, 3), ("F2", 2, 9, 400, 3), ("N1", 2, 4.5, 400, 3), ("N2", 1, 2, 230, 1)]


@pytest.mark.parametrize(("last", "each"), [(24, 12.0), (20, None), (None, 12.0)])
def test_a_row_in_doubt_says_what_it_would_draw(tmp_path: Path, last: float | None, each: float | None) -> None:
    """What is on hold is counted in kW where its row tells them, and not where its total contradicts them."""
    rows = [["T-1", 3, 6, 18, ""], ["T-2", 2, 9, 18, ""], ["T-3", 2, 12, last, "maybe, to be confirmed"]]
    job = listed(tmp_path, ["480 V, 3 phase"], ["Tank", "Heaters", "kW each", "Total kW", "Remarks"], *rows)
    assert [(row.tank, row.quantity, row.power_kw) for row in job.unread] == [("T-3", 2, each)]


def test_the_column_whose_product_is_the_other_is_that_of_each(tmp_path: Path) -> None:
    rows = [["T-1", 3, 6, 480, 3, 18], ["T-2", 2, 9, 480, 3, 18], ["T-3", 4, 9, 480, 3, 36]]
    job = listed(tmp_path, ["Tank", "Heaters", "Rating of one", "Volts", "Ph", "Load"], *rows)
    assert [one[:3] for one in heaters(job)] == [("T-1", 3, 6), ("T-2", 2, 9), ("T-3", 4, 9)]


@pytest.mark.parametrize(("title", "volts"), [("heaters, voltages in kV", [0.4, 0.23]), ("heaters", ["0,4", "0,23"])])
def test_bare_kilovolts_by_a_sentence_or_by_reason(tmp_path: Path, title: str, volts: list[object]) -> None:
    job = listed(
        tmp_path,
        [title],
        ["Tank", "Qty", "kW each", "U", "Ph"],
        ["T-1", 3, 6, volts[0], 3],
        ["T-2", 2, 3, volts[1], 1],
        ["T-3", 2, 6, 4.0, 3],
    )
    assert heaters(job) == [("T-1", 3, 6, 400, 3), ("T-2", 2, 3, 230, 1)]  # 4 kV is asked about


def test_a_group_over_the_headings_gives_the_supply_of_its_table_only(tmp_path: Path) -> None:
    job = listed(
        tmp_path,
        ["LINE A (480V 3ph)", None, None, None, "LINE B (240V 1ph unless noted)"],
        ["tank", "htrs", "kw ea", None, "watts ea", "how many", "tank", "volts/ph"],
        ["T-1", 3, 6, None, 3000, 2, "201", None],
        ["T-2", 2, 9, None, 4500, 3, "202", "480/3"],
        ["T-3", 2, 9, None, 1.5, 2, "203", None],
    )
    assert sorted(heaters(job)) == [
        ("201", 2, 3, 240, 1),
        ("202", 3, 4.5, 480, 3),
        *[(f"T-{at}", *one, 480, 3) for at, one in enumerate(((3, 6), (2, 9), (2, 9)), 1)],
    ]
    assert "value-unlikely" in codes(job)  # 1.5 W


def test_a_page_begins_again_and_lines_are_drawn(tmp_path: Path) -> None:
    head = ["RPT 014", "PLANT ONE - TANK HEATERS", None, None, "PAGE 1 OF 2"]
    job = listed(
        tmp_path, head, ["RUN DATE", "2025-08-19"], HEAD, ["----"] * 5, ["T-0", 2, 6, 480, 3], ["T-1", 3, 6, 480, 3],
        [None], [*head[:4], "PAGE 2 OF 2"], ["RUN DATE", "2025-08-19"], HEAD, ["----"] * 5, [None, 1, 3, 240, 1], ["T-2", 1, 3, 240, 1],
    )  # fmt: skip
    assert heaters(job) == [("T-0", 2, 6, 480, 3), ("T-1", 3, 6, 480, 3), ("T-1", 1, 3, 240, 1), ("T-2", 1, 3, 240, 1)]


def test_the_tab_says_which_issue_is_old(tmp_path: Path) -> None:
    rows = [HEAD, ["B-1", 3, 6, 400, 3], ["B-2", 2, 9, 400, 3]]
    old = [HEAD, ["B-1", 3, 3, 400, 3], ["B-2", 2, 6, 400, 3]]
    job = listed(tmp_path, ["Issue 4; issue 3 is withdrawn, see its tab"], *rows, name="Baths", **{"issue 3 superseded": old})
    assert heaters(job) == [("B-1", 3, 6, 400, 3), ("B-2", 2, 9, 400, 3)]
    assert "issue-older" in codes(job)


def test_a_note_about_another_thing_takes_no_tank_out(tmp_path: Path) -> None:
    job = listed(
        tmp_path, HEAD, ["T-1", 3, 6, 480, 3], ["T-2", 2, 6, 480, 3], [None], ["Filter pump of T-1 not included. Heaters of T-2 deleted."]
    )
    assert [one[0] for one in heaters(job)] == ["T-1"]


def test_amps_of_all_heaters_decide_row_by_row(tmp_path: Path) -> None:
    """Of 3 x 6 kW at 400 V on 3 phases: 18 kW / (400 V x 1.732) = 26 A; 9 kW of the tank: 13 A; 2 x 12 kW: 34.6 A.

    31 A fit neither 3 x 12 kW (52 A) nor 12 kW of all (17.3 A).
    """
    rows = [["V1", 3, 6, 26.0], ["V2", 3, 9, 13.0], ["V4", 2, 12, 34.6], ["V5", 3, 12, 31.0], ["V6", 2, 9, None]]
    job = listed(tmp_path, ["all heaters 400 V, 3 phase"], ["Tank", "Qty", "kW", "A"], *rows)
    assert [one[:3] for one in heaters(job)] == [("V1", 3, 6), ("V2", 3, 3), ("V4", 2, 12)]


def test_a_power_twice_in_two_units_is_one(tmp_path: Path) -> None:
    job = listed(
        tmp_path,
        ["Tank", "Immersion heaters", "Rating each", "Supply"],
        ["T-1", 2, "8.046 hp (6 kW)", "480/3/60"],
        ["T-2", 1, "9 kW", "480/3/60"],
        ["T-3", 1, "9 kW (12 kW)", "480/3/60"],
    )
    assert [one[:3] for one in heaters(job)] == [("T-1", 2, 6), ("T-2", 1, 9)]


def test_two_banks_of_a_row_stand_under_headings_that_come_again(tmp_path: Path) -> None:
    job = listed(
        tmp_path, ["Tank", "Qty 1", "kW each 1", "Supply 1", "Qty 2", "kW each 2", "Supply 2", "Installed kW"],
        ["T-1", 3, 6, "480/3/60", None, None, None, 18], ["T-2", 4, 6, "480/3/60", 2, 2, "240/1/60", 28],
        ["T-3", 2, 9, "480/3/60", 1, 3, "240/1/60", 30],
    )  # fmt: skip
    assert heaters(job) == [("T-1", 3, 6, 480, 3), ("T-2", 4, 6, 480, 3), ("T-2", 2, 2, 240, 1)]
    assert "row-disagrees" in codes(job)  # 2 x 9 + 1 x 3 is 21 kW, not 30


WAS_NOW = [
    ["Heater changes. NC = no change from Rev 2"],
    [None, "REV 2 (superseded)", None, None, "REV 3 (current)", None, None],
    ["Tank", "Qty", "kW each", "Supply", "Qty", "kW each", "Supply"],
    ["T-1", 3, 6, "480/3/60", 3, 9, "NC"],
    ["T-2", 2, 9, "240/3/60", "NC", "NC", "480/3/60"],
    ["T-3", 2, 6, "480/3/60", "DEL", "DEL", "DEL"],
    ["T-4", 2, 6, "480/3/60", 3, "see RFI 12", "480/3/60"],
]


def test_what_is_now_counts_and_no_change_is_looked_up_in_what_was(tmp_path: Path) -> None:
    assert heaters(listed(tmp_path, *WAS_NOW)) == [("T-1", 3, 9, 480, 3), ("T-2", 2, 9, 480, 3)]


def test_two_issues_side_by_side_of_which_none_is_said_to_count_are_asked(tmp_path: Path) -> None:
    rows = [[None, "REV 2", None, None, "REV 3"], *WAS_NOW[2:4], ["T-5", 2, 9, "480/3/60", 3, 9, "480/3/60"]]
    job = listed(tmp_path, *rows)
    assert heaters(job) == [] and "list-question" in codes(job)


MATRIX = [
    ["HEATER COUNT BY SIZE"],
    ["Tank", "Process", "480 V, 3 PH", None, "240 V, 1 PH", "Total kW"],
    [None, None, "6 kW", "9 kW", "3 kW", None],
    ["101", "Soak", 3, None, None, 18],
    ["102", "Nickel", None, 4, 2, 42],
    ["103", "Chrome", 3, None, None, 27],
    ["104", "Seal", "?", None, None, None],
    [None, "Line 1", 6, 4, 2, 78],
]


@pytest.mark.parametrize("merged", [{"Heaters": ["C2:D2"]}, {}])
def test_a_matrix_of_counts_under_sizes(tmp_path: Path, merged: dict[str, list[str]]) -> None:
    data = book({"Heaters": MATRIX}, merged=merged)
    job = read_bytes(tmp_path, data)
    assert heaters(job) == [("101", 3, 6, 480, 3), ("102", 4, 9, 480, 3), ("102", 2, 3, 240, 1)]
    assert {"row-disagrees", "cell-placeholder", "row-total"} <= codes(job)  # 103: 18 kW for 27; 104: "?"; the sum


def test_circuits_of_a_panel_stand_mirrored_and_words_share_out_their_load(tmp_path: Path) -> None:
    head = ["CKT", "LOAD DESCRIPTION", "V-PH", "kW", "P"]
    job = listed(
        tmp_path, ["PANEL HP-2"], [*head, *head[::-1]],
        [1, "TK-21 IMM HTR (1) 9 kW", "480-3", 9, 3, 3, 12, "480-3", "TK-27 (2) 6 kW HTRS", 2],
        [7, "TK-22 (2) 4.5 kW HTRS", "480-3", 9, 3, 1, 2, "277-1", "TK-26 (1) 2 kW HTR", 8],
        [13, "TK-24 PUMP 3 HP", "480-3", 2.4, 3, 3, 9, "480-3", "TK-28 (2) 6 kW HTRS", 14],
    )  # fmt: skip
    assert sorted(heaters(job)) == [("TK-21", 1, 9, 480, 3), ("TK-22", 2, 4.5, 480, 3), ("TK-26", 1, 2, 277, 1), ("TK-27", 2, 6, 480, 3)]
    assert "cell-contradicts" in codes(job)  # 2 x 6 kW and 9 kW


def test_labels_that_no_two_blocks_share_are_no_rivals(tmp_path: Path) -> None:
    block = [["Tank", "DG-1"], ["No. of heaters", "3 ea."], ["Power each", "4.5 kW"], ["Supply", "3~400 V"], [None]]
    other = [["Tank", "ZN-2"], ["No. of heaters", 2], ["Power", "9 kW"], ["Supply", "3~400 V"], [None]]
    third = [["Tank", "PA-1"], ["No. of heaters", "one"], ["Power each", "2,000 W"], ["Supply", "1~230 V"]]
    assert heaters(listed(tmp_path, *block, *other, *third)) == [("DG-1", 3, 4.5, 400, 3), ("PA-1", 1, 2, 230, 1)]  # ZN-2: each or of all?


def test_row_totals_that_contradict_are_asked_even_in_a_single_row(tmp_path: Path) -> None:
    job = listed(tmp_path, [*HEAD, "Total kW"], ["T-1", 2, 4.5, 400, 3, 13.5])
    assert heaters(job) == [] and "row-disagrees" in codes(job)


TYPES = [["Type", "Power", "Supply"], ["R1", "6 kW", "400 V 3 ph"], ["R2", "3 kW", "230 V 1 ph"], ["R5", "4.5 kW", "to be defined"]]


def test_types_that_stand_on_another_sheet(tmp_path: Path) -> None:
    tanks = [
        ["Tank", "Process", "Heaters (type x number)", "Notes"], ["V1", "Soak", "R1 x3", None], ["V2", "Rinse", "-", None],
        ["V3", "Nickel", "R1 x4 + R2 x1", None], ["V4", "Chrome", "R7 x2", None], ["V5", "Seal", "R1 x2 or R2 x2", None],
        ["V6", "Dye", "R5 x2", None], ["Stores", None, "R1 x1", "spares"],
    ]  # fmt: skip
    job = listed(tmp_path, *tanks, name="Tanks", **{"Types": TYPES})
    assert heaters(job) == [("V1", 3, 6, 400, 3), ("V3", 4, 6, 400, 3), ("V3", 1, 3, 230, 1)]
    asked = {row.values[0] for table in job.received for row in table.rows if row.refused and table.sheet == "Tanks"}
    assert {"V4", "V5", "V6", "Stores"} <= asked


def test_a_type_beside_a_number(tmp_path: Path) -> None:
    tanks = [["Tank", "Qty", "Heater type"], ["V1", 3, "R1"], ["V2", 2, "R2"], ["V3", 2, "R9"]]
    job = listed(tmp_path, *tanks, name="Tanks", **{"Types": TYPES})
    assert heaters(job) == [("V1", 3, 6, 400, 3), ("V2", 2, 3, 230, 1)]


def test_one_heater_a_line_and_a_line_whose_two_columns_of_volts_differ(tmp_path: Path) -> None:
    job = listed(
        tmp_path, ["HEATER INDEX"], ["Heater tag", "Tank", "kW", "Rated V", "Ph", "System V"],
        ["H-1A", "T-1", 6, 600, 3, 600], ["H-1B", None, 6, 600, 3, 600], ["H-2A", "T-2", 3, 347, 1, 347], ["H-2B", None, 3, 347, 1, 347],
        ["H-3A", "T-3", 12, 480, 3, 600],
    )  # fmt: skip
    assert heaters(job) == [("T-1", 1, 6, 600, 3)] * 2 + [("T-2", 1, 3, 347, 1)] * 2
    assert "supply-from-words" in codes(job) and in_doubt(job)  # one a line is said; 480 V on 600 V is asked


def test_without_tags_of_heaters_a_line_is_not_taken_for_one_heater(tmp_path: Path) -> None:
    assert not heaters(
        listed(tmp_path, ["heaters"], ["Tank", "kW", "Volts", "Ph"], ["T-1", 6, 480, 3], ["T-2", 9, 480, 3], ["T-3", 9, 480, 3])
    )


LETTER = [
    ["Re: quote request - tank heaters"],
    ["Everything is 480V 3 phase unless I say so."],
    ["Tank 1 soak - (3) 6 kW"],
    ["Tank 2 rinse - no heat"],
    ["Tank 4 acid - (1) 3000W 240V single phase, PTFE"],
    ["Tank 5 nickel - four 9 kW, 24 anode baskets on this one"],
    ["Tanks 8 and 9 hot rinse - (2) 4.5 kW in each tank"],
    ["Tank 10 seal - same as tank 1"],
    ["Tank 11 was (2) 6 kW but that line is closed, do not quote"],
    ["Tank 12 dye - 3 x 5 kW or 3 x 6 kW, whichever you stock"],
    ["Tank 13 strip - (1) 2 kW, 120V"],
    ["Filter pump for tank 5 is 2 HP 480V"],
    ["I come up with about 90 kW."],
]


def test_a_letter_in_one_column(tmp_path: Path) -> None:
    job = listed(tmp_path, *LETTER)
    assert heaters(job) == [
        ("Tank 1", 3, 6, 480, 3), ("Tank 4", 1, 3, 240, 1), ("Tank 5", 4, 9, 480, 3), ("Tank 8", 2, 4.5, 480, 3),
        ("Tank 9", 2, 4.5, 480, 3), ("Tank 10", 3, 6, 480, 3),
    ]  # fmt: skip
    held = {finding.cell for finding in job.findings if finding.severity == 0}
    assert {"A10", "A11"} <= held  # 5 or 6 kW; 120 V on how many phases


def test_two_banks_in_one_description(tmp_path: Path) -> None:
    job = listed(
        tmp_path, ["heaters, all 480 V 3 phase unless noted"], ["Tank", "Description"],
        ["1", "(2) 12.5 kW plus (1) 4.5 kW 240V-1ph boost htr"], ["2", "(3) 6 kW immersion htrs"], ["3", "(3) 6 kW or (2) 9 kW htrs"],
    )  # fmt: skip
    assert heaters(job) == [("1", 2, 12.5, 480, 3), ("1", 1, 4.5, 240, 1), ("2", 3, 6, 480, 3)]


def test_a_feeder_for_all_and_volts_to_neutral(tmp_path: Path) -> None:
    job = listed(
        tmp_path, ["HEATERS - all on feeder F-S unless noted"], [*HEAD, "Feeder", "Remarks"], ["T-1", 3, 6, "480Y/277", 3, None, None],
        ["T-2", 2, 3, "480Y/277", 1, "F-L", "L-N"], ["T-3", 2, 3, "480Y/277", 1, None, None],
    )  # fmt: skip
    assert [(one.tank, one.volts_v, one.feeder) for one in job.banks] == [("T-1", 480, "F-S"), ("T-2", 277, "F-L")]


def test_a_bath_called_after_other_equipment_is_asked_and_a_pump_is_none(tmp_path: Path) -> None:
    job = listed(
        tmp_path, ["Immersion heaters"], ["Tank", "Process", *HEAD[1:]], ["T-1", "Light etch", 3, 6, 480, 3], ["T-2", "Soak", 2, 6, 480, 3],
        ["P-1", "Filter pump", 1, 2.2, 480, 3],
    )  # fmt: skip
    assert heaters(job) == [("T-2", 2, 6, 480, 3)]
    assert "row-not-heater" in codes(job) and in_doubt(job)


def test_running_numbers_of_heaters_are_no_counts(tmp_path: Path) -> None:
    rows = [[f"T-{at}", at, 6, 480, 3] for at in range(1, 8)]
    assert not heaters(listed(tmp_path, ["Tank", "Heater No.", "kW each", "Volts", "Ph"], *rows))


@pytest.mark.parametrize("folder", ["second", "third"])
def test_a_list_read_by_the_map_of_its_own_reading_is_read_the_same(folder: str, tmp_path: Path) -> None:
    for path in lists_in(HERE / folder):
        plan = tmp_path / "map.toml"
        if text := batch.check(path).job.map_text:
            plan.write_text(text, encoding="utf-8")
            with_map, without = score_list(path, plan), score_list(path)
            assert (with_map.right, with_map.silent) == (without.right, without.silent), (path.name, with_map.lines)


def test_volts_of_a_three_phase_title_are_none_of_a_one_phase_heater(tmp_path: Path) -> None:
    job = listed(
        tmp_path, ["Heaters, supply 3/N/PE ~ 400/230 V 50 Hz"], ["Tank", "Qty", "kW each", "Ph"], ["T-1", 3, 6, 3], ["T-2", 2, 3, 1]
    )
    assert heaters(job) == [("T-1", 3, 6, 400, 3)]
    assert "cell-missing" in codes(job)


def test_a_total_beside_several_tanks_is_not_shared_out_unless_it_says_whose_it_is(tmp_path: Path) -> None:
    rows = [["T-1", 3, 18, 480, 3], ["T-2 thru T-4", 2, 18, 480, 3]]
    head = ["Tank", "Heaters per tank", "Total kW", "Volts", "Ph"]
    assert heaters(listed(tmp_path, head, *rows)) == [("T-1", 3, 6, 480, 3)]
    of_each = heaters(listed(tmp_path, [*head[:2], "kW per tank", *head[3:]], *rows))
    assert of_each == [("T-1", 3, 6, 480, 3), *[(f"T-{at}", 2, 9, 480, 3) for at in (2, 3, 4)]]


def test_running_numbers_of_rows_are_no_tags_without_a_word(tmp_path: Path) -> None:
    job = listed(tmp_path, ["heaters"], ["Item", "Qty", "kW each", "Volts", "Ph"], [1, 3, 6, 480, 3], [2, 2, 9, 480, 3], [3, 2, 9, 480, 3])
    assert not heaters(job) and "list-question" in codes(job)


def test_a_row_whose_first_bank_has_no_power_is_asked_and_its_total_named(tmp_path: Path) -> None:
    head = ["Tank", "Qty 1", "kW each 1", "Supply 1", "Qty 2", "kW each 2", "Supply 2", "Installed kW"]
    rows = [["T-1", 3, None, "480/3/60", 2, 2, "240/1/60", 22], ["T-2", 4, 6, "480/3/60", 2, 2, "240/1/60", 28]]
    job = listed(tmp_path, head, *rows)
    assert heaters(job) == [("T-2", 4, 6, 480, 3), ("T-2", 2, 2, 240, 1)]
    assert any("the 4 kW of its banks together" in finding.message for finding in job.findings)


ABOUT_ELSE = ("Rectifier by others", "Ancien serpentin vapeur supprimé", "Stoomleiding vervalt", "Existing MCC bucket is used")


@pytest.mark.parametrize("remark", [*ABOUT_ELSE, "pompa poza zakresem"])
def test_a_word_about_something_else_takes_no_row_with_figures_out(tmp_path: Path, remark: str) -> None:
    """The remark names what it is about, which is not the heaters: they are read. One that names nothing takes its row out."""
    deleted = ["T-3", 2, 6, 480, 3, "DELETED per Rev C"]
    job = listed(tmp_path, [*HEAD, "Remarks"], ["T-1", 3, 6, 480, 3, None], ["T-2", 2, 9, 480, 3, remark], deleted)
    assert heaters(job) == [("T-1", 3, 6.0, 480.0, 3), ("T-2", 2, 9.0, 480.0, 3)]


@pytest.mark.parametrize("remark", ["Unit by others", "Heizer bauseits, Pumpe neu", "future with new tank"])
def test_a_word_about_the_heaters_or_about_all_never_leaves_the_row_read(tmp_path: Path, remark: str) -> None:
    job = listed(tmp_path, [*HEAD, "Remarks"], ["T-1", 3, 6, 480, 3, None], ["T-2", 2, 9, 480, 3, remark])
    assert heaters(job) == [("T-1", 3, 6.0, 480.0, 3)]


@pytest.mark.parametrize(("remark", "asked"), [("vestibule removed", True), ("cribbing by others", True), ("removed", False)])
def test_a_word_beside_one_that_nobody_knows_asks_about_a_row_with_figures(tmp_path: Path, remark: str, asked: bool) -> None:
    """It may be of the vestibule that was removed: heaters that somebody wants are not dropped for it, nor sized."""
    job = listed(tmp_path, [*HEAD, "Remarks"], ["T-1", 3, 6, 480, 3, None], ["T-2", 2, 9, 480, 3, remark])
    assert heaters(job) == [("T-1", 3, 6.0, 480.0, 3)]
    assert (in_doubt(job)) is asked


def test_a_machine_in_a_list_of_heaters_is_asked_about(tmp_path: Path) -> None:
    job = listed(tmp_path, ["Bad", "Omschrijving", "Aantal", "kW/st", "V", "Fase"], ["B1", "Beitsen", 2, 6, 400, 3],
                 ["B2", "Beitsen 2", 2, 9, 400, 3], ["B9", "Circulatiepomp flux", 1, 4, 400, 3])  # fmt: skip
    assert "B9" not in {one.tank for one in job.banks} and len(job.banks) == 2


def test_amps_of_the_other_meaning_are_asked_about(tmp_path: Path) -> None:
    """kW of the tank: 18 kW by two at 380 V is 13.7 A each; 27.3 A are those of 18 kW each (18,000 / 380 / 1.732)."""
    rows = [[f"T-{at}", 2, 18, 13.7, 380, 3] for at in range(1, 6)] + [["T-9", 2, 18, 27.3, 380, 3]]
    job = listed(tmp_path, ["Tank", "Qty", "kW", "Amps each", "Volts", "Ph"], *rows)
    assert len(job.banks) == 5 and all(one.power_kw == 9.0 for one in job.banks)


def test_a_figure_under_no_heading_beside_a_power_is_asked_about(tmp_path: Path) -> None:
    job = listed(tmp_path, ["Tank", "Qty", "kW each", None, "Volts", "Ph"], ["T-1", 3, 6, None, 480, 3], ["T-2", 2, 9, 12, 480, 3])
    assert heaters(job) == [("T-1", 3, 6.0, 480.0, 3)]


# What lists written blind taught: each a row that was sized without a word


def test_a_number_of_two_is_asked_about(tmp_path: Path) -> None:
    job = listed(tmp_path, ["All are 480V 3 ph"], ["Stage", "Process", "What we need", "Sheath", "Tank gal"],
                 ["Stg 1", "Clean", "(4) 12 kW", "316 SS", 1500], ["Stg 2", "Rinse", "none", None, 900],
                 ["Stg 3", "Seal", "1 or 2 x 6 kW, pls advise", "316 SS", 900], ["Stg 4", "Etch", "(2) 9 kW", "316 SS", 900])  # fmt: skip
    assert heaters(job) == [("Stg 1", 4, 12, 480, 3), ("Stg 4", 2, 9, 480, 3)]


def test_a_description_with_another_power_than_its_row_is_asked_about(tmp_path: Path) -> None:
    head = ["Item", "Descr", "Tank", "Qty", "UOM", "Watt", "Volt", "Phs"]
    rows = [[at, f"HTR IMM {kw}KW 480V 3PH", f"TK{at}", 2, "EA", 1000 * kw, 480, 3] for at, kw in enumerate((9, 6, 12, 9), 1)]
    job = listed(tmp_path, head, *rows, [5, "HTR IMM 6KW 480V 3PH", "TK5", 2, "EA", 9000, 480, 3])
    assert [one[0] for one in heaters(job)] == ["TK1", "TK2", "TK3", "TK4"] and ("row-disagrees" in codes(job) or in_doubt(job))


def test_power_of_each_bath_is_shared_by_its_heaters(tmp_path: Path) -> None:
    job = listed(tmp_path, ["Bad-Nr.", "Leistung je Bad [W]", "Heizer je Bad [Stk.]", "U [V]", "Phasen"],
                 ["201", 18000, 3, 400, 3], ["205", 30000, 4, 400, 3])  # fmt: skip
    assert heaters(job) == [("201", 3, 6, 400, 3), ("205", 4, 7.5, 400, 3)]


def test_another_unit_under_a_heading_in_kilowatts_is_asked_about(tmp_path: Path) -> None:
    job = listed(tmp_path, ["Tank", "No. of heaters", "kW of each heater", "Volts", "Phase"], ["B-1", 3, 12, 480, 3],
                 ["B-2", 2, "20,500 BTU/h", 480, 3])  # fmt: skip
    assert heaters(job) == [("B-1", 3, 12, 480, 3)] and "unit-foreign" in codes(job)


def test_a_total_of_several_tanks_that_others_reckon_otherwise_is_asked_about(tmp_path: Path) -> None:
    """T-1 to T-4: 4 times 2 times 6 kW are 48 kW. T-9 and T-10 of 3 times 9 kW would be 54, not 27."""
    head = ["Tank", "Qty per tank", "kW each", "Total kW"]
    job = listed(tmp_path, ["480 V, 3 phase"], head, ["T-1 to T-4", 2, 6, 48], ["T-6", 3, 4.5, 13.5],
                 ["T-7/T-8", 2, 9, 36], ["T-9 and T-10", 3, 9, 27])  # fmt: skip
    assert [one[0] for one in heaters(job)] == ["T-1", "T-2", "T-3", "T-4", "T-6", "T-7", "T-8"] and "row-disagrees" in codes(job)


def test_halves_of_a_panel_schedule_are_no_two_issues_of_a_list(tmp_path: Path) -> None:
    head = ["CKT", "DESCRIPTION", "KW", "BKR", "BKR", "KW", "DESCRIPTION", "CKT"]
    first = ["1,3,5", "TK-1 HTR 1", 12, "20/3P", "20/3P", 12, "TK-1 HTR 2", "2,4,6"]
    job = listed(tmp_path, ["PANEL HP-3 480Y/277 V 3 PH 4 W"], head, first,
                 ["7,9,11", "TK-3 HTR 1", 9, "15/3P", "15/3P", 9, "TK-3 HTR 2", "8,10,12"])  # fmt: skip
    assert "issue-question" not in codes(job)
    told = {(row.row, bool(row.refused)) for table in job.received for row in table.rows if row.row in (3, 4)}
    assert heaters(job) or told == {(3, True), (4, True)}


def test_a_matrix_that_also_has_totals_is_a_matrix(tmp_path: Path) -> None:
    job = listed(
        tmp_path, ["Immersion heaters, 600 V, 3 ph"], ["Tank", "Process", "Qty of heaters rated", None, None, "Total qty", "Total kW"],
        [None, None, "3 kW", "6 kW", "9 kW"], ["T-1", "Soak", None, None, 4, 4, 36], ["T-3", "Clean", None, 2, 2, 4, 30],
        ["T-5", "Zinc", 3, None, None, 3, 9], ["Total", None, 3, 2, 6, 11, 75],
    )  # fmt: skip
    assert heaters(job) == [("T-1", 4, 9, 600, 3), ("T-3", 2, 6, 600, 3), ("T-3", 2, 9, 600, 3), ("T-5", 3, 3, 600, 3)]


def test_a_register_of_one_heater_a_line_whatever_its_numbers_are_called(tmp_path: Path) -> None:
    job = listed(
        tmp_path, ["HEATER REGISTER - ONE LINE PER HEATER"], ["Asset no.", "Tank", "kW", "Volts", "Phase", "Megohms"],
        *[[f"EH-{1000 + at}", f"P-{at // 2}", 9, 600, 3, 100 + at] for at in range(2, 8)],
    )  # fmt: skip
    assert len(heaters(job)) == 6 and all(one[1:] == (1, 9, 600, 3) for one in heaters(job))


def test_a_total_that_names_what_it_leaves_out_is_a_witness(tmp_path: Path) -> None:
    """4 x 12 + 3 x 9 + 2 x 6 = 87 kW, without T-4; as powers of tanks they would be 27."""
    rows = [["T-1", 4, 12, 480, 3], ["T-2", 3, 9, 480, 3], ["T-3", 2, 6, 480, 3], ["T-4", 6, 12, 480, 3]]
    job = listed(tmp_path, ["Tank", "Qty", "kW", "Volts", "Ph"], *rows, ["Total (not incl. T-4)", None, 87])
    assert [(one[0], one[2]) for one in heaters(job)] == [("T-1", 12), ("T-2", 9), ("T-3", 6), ("T-4", 12)]


def test_headings_that_look_like_units_stand_above_the_units(tmp_path: Path) -> None:
    """QTY, KW, VOLTS and PH under one merged heading are headings: the row of units stands below. 12,000 / (480 x 1.732) = 14.4 A."""
    made = book({"Sheet1": [
        ["MARK", "TANK", None, "HEATER DATA", None, None, None, None], [None, "NO.", "SERVICE", "QTY", "KW", "VOLTS", "PH", "FLA EA"],
        [None, None, None, "EA", "KW", "V", "-", "A"], ["IH-1", "TK-1", "CLEAN", 4, 12, 480, 3, 14.4],
        ["IH-2", "TK-3", "ETCH", 3, 9, 480, 3, 10.8],
        ["IH-3", "TK-6", "SEAL", 3, 12, 480, 3, 14.4]]}, merged={"Sheet1": ["A1:A3", "B1:C1", "D1:H1"]})  # fmt: skip
    job = read_bytes(tmp_path, made)
    assert heaters(job) == [("TK-1", 4, 12, 480, 3), ("TK-3", 3, 9, 480, 3), ("TK-6", 3, 12, 480, 3)]


def test_numbers_under_no_are_numbers_of_heaters_where_was_and_now_repeat_them(tmp_path: Path) -> None:
    rows = [
        ["Blank under NOW = unchanged. All heaters 415 V, 3 phase"],
        ["Tank", "WAS (issue A)", None, None, "NOW (issue B)", None, None, "Action"],
        [None, "No.", "kW each", "V/ph", "No.", "kW each", "V/ph"],
        ["PT-1", 3, 6, "415/3", 3, 9, "415/3", "uprated"],
        ["PT-2", 2, 6, "415/3", None, None, None, "no change"],
        ["PT-4", 2, 9, "415/3", 3, 9, "415/3", "one added"],
        ["PT-6", 1, 3, "240/1", 1, 3, "240/1", "re-issued as was"],
        ["PT-9", None, None, None, 2, 12, "415/3", "new tank"],
    ]
    job = read_bytes(tmp_path, book({"Sheet1": rows}, merged={"Sheet1": ["B2:D2", "E2:G2"]}))
    first = [("PT-1", 3, 9, 415, 3), ("PT-2", 2, 6, 415, 3), ("PT-4", 3, 9, 415, 3)]
    assert heaters(job) == [*first, ("PT-6", 1, 3, 240, 1), ("PT-9", 2, 12, 415, 3)]


def test_types_that_add_up_by_chance_are_types_and_a_blank_number_is_none(tmp_path: Path) -> None:
    """H3 is 9 kW, as H1 and H2 together; T-4 names a type, and its number is blank."""
    types = [["Type", "kW", "Volts", "Phase", "Sheath"], ["H1", 3, 480, 3, "PTFE"], ["H2", 6, 480, 3, "PTFE"], ["H3", 9, 480, 3, "316 SS"]]
    tanks = [["Tank", "Operation", "Htr type", "Htrs", "Remarks"], ["T-1", "Clean", "H3", 4], ["T-2", "Pickle", "H2", 3],
             ["T-4", "Oil", "H1"]]  # fmt: skip
    job = listed(tmp_path, *tanks, name="Tank list", **{"Heater types": types})
    assert heaters(job) == [("T-1", 4, 9, 480, 3), ("T-2", 3, 6, 480, 3)]


def test_a_pump_schedule_below_the_heaters_is_no_issue_of_their_list(tmp_path: Path) -> None:
    job = listed(
        tmp_path, ["IMMERSION HEATER SCHEDULE"], ["MARK", "TANK", "QTY (EACH TANK)", "KW EA", "V", "PH"], ["EH-1", "T-1", 3, 12, 480, 3],
        ["EH-2", "T-2", 2, 9, 480, 3], ["NOTES:"], ["1. CAPACITY BY HEATER MANUFACTURER."], [None], ["PUMP SCHEDULE"],
        ["MARK", "TANK", "QTY", "HP", "V", "PH"], ["P-1", "T-1", 1, 3, 480, 3], ["P-2", "T-2", 1, 3, 480, 3],
    )  # fmt: skip
    assert heaters(job) == [("T-1", 3, 12, 480, 3), ("T-2", 2, 9, 480, 3)] and "issue-question" not in codes(job)


def test_heating_power_of_the_tank_is_not_that_of_each_heater(tmp_path: Path) -> None:
    job = listed(
        tmp_path, ["Cuba", "N.º de calentadores", "Potencia de cada calentador (kW)", "Tensión", "N.º de fases",
                   "Potencia de calefacción de la cuba (kW)"],
        ["C-1", 4, 4.5, 400, 3, 18], ["C-2", 3, 4.5, 400, 3, 13.5], ["C-4", 2, 3, 400, 3, 6],
    )  # fmt: skip
    assert heaters(job) == [("C-1", 4, 4.5, 400, 3), ("C-2", 3, 4.5, 400, 3), ("C-4", 2, 3, 400, 3)]


def test_a_column_of_yes_and_no_that_a_sentence_names_decides(tmp_path: Path) -> None:
    job = listed(
        tmp_path, ["Please quote only the rows with \"yes\" under Replace"], ["Tank", "Qty", "kW each", "Volts", "Ph", "Replace"],
        ["T-1", 3, 6, 400, 3, "yes"], ["T-5", 4, 9, 400, 3, "no"], ["T-6", 2, 9, 400, 3, "yes"],
    )  # fmt: skip
    assert [one[0] for one in heaters(job)] == ["T-1", "T-6"] and in_doubt(job)


def test_watts_far_from_the_others_are_read_by_their_mark_and_asked_about(tmp_path: Path) -> None:
    """6.000 and 9.000 W are 6 and 9 kW, so 750.000 W is 750 kW and not 0.75."""
    rows = [["TQ-1", 3, "6.000", 380, 3], ["TQ-2", 2, "9.000", 380, 3], ["TQ-4", 4, "4.500", 380, 3], ["TQ-11", 3, "750.000", 380, 3]]
    job = listed(tmp_path, ["Tanque", "Qtd.", "Potência unit. (W)", "Tensão", "Fases"], *rows)
    assert heaters(job) == [("TQ-1", 3, 6, 380, 3), ("TQ-2", 2, 9, 380, 3), ("TQ-4", 4, 4.5, 380, 3)]


POSTPONED = (
    "postponed to 2027", "duplicate of T-1", "if budget allows", "wird auf 2027 verschoben", "doublon", "aplazado", "duplicato di T-1",
    "uitgesteld", "duplikat", "adiado para 2027",
)  # fmt: skip


@pytest.mark.parametrize("remark", POSTPONED)
def test_what_is_put_off_said_twice_or_conditional_is_asked_about(tmp_path: Path, remark: str) -> None:
    job = listed(tmp_path, [*HEAD, "Remarks"], ["T-1", 3, 6, 480, 3, None], ["T-2", 2, 9, 480, 3, remark])
    assert [one[0] for one in heaters(job)] == ["T-1"] and in_doubt(job)


def test_a_word_that_is_for_in_one_language_and_steam_in_another_is_no_subject(tmp_path: Path) -> None:
    job = listed(tmp_path, [*HEAD, "Notas"], ["T-1", 3, 6, 480, 3, None], ["T-2", 2, 9, 480, 3, "suprimido para 2027"])
    assert [one[0] for one in heaters(job)] == ["T-1"] and "row-taken-out" in codes(job)


def test_remarks_that_no_rule_understands_are_said_once_with_their_rows(tmp_path: Path) -> None:
    remarks = ("line 2 only", "new", "316 SS", "ditto T-9", "line 2 only", None, "OK")
    rows = [[f"T-{at}", 2, 6, 480, 3, said] for at, said in enumerate(remarks, 1)]
    job = listed(tmp_path, [*HEAD, "Remarks"], *rows)
    [said] = [finding.message for finding in job.findings if finding.code == "remarks-not-understood"]
    assert len(job.banks) == 7 and said.endswith('"line 2 only" (rows 2 and 6); "ditto T-9" (row 5).')


NOT_FOR_US = (
    "not installed", "out of service", "gas heated instead", "nicht in Betrieb", "Gasbeheizt", "hors d'usage", "ne pas installer",
    "no instalar", "fuera de uso", "por cliente", "fuori uso", "niet in gebruik", "nieczynne", "fora de uso",
)  # fmt: skip


@pytest.mark.parametrize("remark", NOT_FOR_US)
def test_what_is_not_there_or_heated_otherwise_is_asked_about(tmp_path: Path, remark: str) -> None:
    job = listed(tmp_path, [*HEAD, "Remarks"], ["T-1", 3, 6, 480, 3, None], ["T-2", 2, 9, 480, 3, remark])
    assert [one[0] for one in heaters(job)] == ["T-1"]


@pytest.mark.parametrize("figure", [1.7976931348623155e308, -1e308, "1e999"])
@pytest.mark.parametrize("at", range(5))
def test_a_figure_beyond_all_reason_ends_in_no_traceback(tmp_path: Path, figure: object, at: int) -> None:
    row: list[object] = ["T-1", 3, 6, 480, 3]
    row[at] = figure
    job = listed(tmp_path, HEAD, row, ["T-2", 3, 6, 480, 3], [None, None, None, figure, "0"], ["note", figure, figure])
    assert all(one.tank != "T-1" for one in job.banks) or at == 0


@pytest.mark.parametrize(
    "words",
    [
        "fornita da altri",
        "da altri",
        "fornito da terzi",
        "von anderen geliefert",
        "suministrada por terceros",
        "door anderen",
        "dostarcza klient",
    ],
)
def test_what_others_bring_is_not_sized(tmp_path: Path, words: str) -> None:
    job = listed(tmp_path, ["Tank", "Qty", "kW each", "Volts", "Ph", "Remarks"], ["T-1", 4, 6, 400, 3], ["T-2", 1, 12, 400, 3, words])
    assert [row[0] for row in heaters(job)] == ["T-1"]


def test_a_bath_called_dryer_sump_is_asked_about_while_the_columns_are() -> None:
    path = HERE / "opened" / "83-heater-list-revisions.xlsx"
    (last,) = [row for table in batch.check(path).job.received for row in table.rows if row.row == 18]
    assert '"Dryer sump"' in last.refused or "hidden" in last.refused or last.refused.startswith("asked"), last.refused


def test_a_bath_called_dryer_sump_is_asked_about_where_no_power_is_known_yet(tmp_path: Path) -> None:
    """No row of the list is whole, so a dryer among them cannot be told from a heated tank by what the row has."""
    head, rest = ["Tank", "Process", "Heaters", "Volts", "Ph", "Amps"], [480, 3, 7.2]
    job = listed(tmp_path, head, ["T-1", "Nickel", 2, *rest], ["T-2", "Soak", 3, *rest], ["T-3", "Dryer sump", 2, *rest])
    assert [row.tank for row in job.unread] == ["T-1", "T-2", "T-3"] and "row-not-heater" not in {one.code for one in job.findings}


@pytest.mark.parametrize(
    ("banner", "volts"), [("PANEL HP-3   600 V, 3 PH", 600.0), ("PANEL HP 3   600 V, 3 PH", None), ("4160 V, 3 PH", None)]
)
def test_the_number_of_a_panel_is_no_thousand_of_its_volts(tmp_path: Path, banner: str, volts: float | None) -> None:
    head = ["Tank", "No. of heaters", "kW each"]
    job = listed(tmp_path, head, [banner], ["T-1", 3, 9], ["T-2", 2, 6])
    assert [one.volts_v for one in job.banks] == ([] if volts is None else [volts] * 2)
    assert volts is not None or len(job.unread) == 2


FIRST = [HEAD, ["H-1", 4, 6, 480, 3], ["H-2", 3, 9, 480, 3]]
MORE = [["brought forward"], ["H-3", 4, 9, 480, 3], ["H-4", 1, 4.5, 480, 3]]


def test_a_page_that_goes_on_without_headings_is_read_by_those_of_the_page_before(tmp_path: Path) -> None:
    job = listed(tmp_path, *FIRST, name="Page 1", **{"Page 2": MORE})
    assert heaters(job)[2:] == [("H-3", 4, 9, 480, 3), ("H-4", 1, 4.5, 480, 3)]
    said = [(one.sheet, one.cell[0]) for one in job.findings if one.code == "column-taken"]
    assert said == [("Page 2", "B"), ("Page 2", "C")]  # number and power: no heading says it, so a caution does


@pytest.mark.parametrize(
    ("tab", "more"),
    [
        ("Page 3", MORE),  # page 2 is not there
        ("Others", MORE),
        ("Page 2", [*MORE, ["H-5", 2, 6, 480, 3, 12]]),  # a figure where the list has none
        ("Page 2", [["brought forward"], ["H-3", 4, 480, 9, 3], ["H-4", 1, 480, 4.5, 3]]),  # in another order
        ("Page 2", [["EXISTING HEATERS TO REMAIN"], *MORE[1:]]),
        ("Page 2", [["PUMPS"], *MORE[1:]]),
        ("Page 2", [["all heaters on this page 240 V"], *MORE[1:]]),
    ],
)
def test_rows_without_headings_that_may_be_another_list_are_asked_about(tmp_path: Path, tab: str, more: list) -> None:
    job = listed(tmp_path, *FIRST, name="Page 1", **{tab: more})
    assert [one.tank for one in job.banks] == ["H-1", "H-2"]
    assert [one.sheet for one in job.findings if one.code == "list-not-read"] == [tab]


@pytest.mark.parametrize(
    ("tag", "tags"),
    [("PL2-T-101", ("PL2-T-101",)), ("GL1-B04", ("GL1-B04",)), ("T1-T4", ("T1", "T2", "T3", "T4")), ("T-1-T-3", ("T-1", "T-2", "T-3"))],
)
def test_a_place_before_a_tag_is_no_run_of_tanks(tag: str, tags: tuple[str, ...]) -> None:
    assert read_tags(tag).tags == tags and not read_tags(tag).doubt


def test_what_may_be_a_run_between_two_kinds_of_tags_is_asked() -> None:
    assert read_tags("A1-B4").doubt


CIRCUITS = [["CKT", "DESCRIPTION", "TANK", "VOLTS", "PH", "LOAD KW"], ["1,3,5", "IMMERSION HEATER NO. 1", "TK-11", 480, 3, 15],
            ["7,9,11", "IMMERSION HEATER NO. 2", "TK-11", 480, 3, 15], ["13", "SPARE"]]  # fmt: skip


def test_circuits_are_heaters_only_where_a_sentence_says_one_each(tmp_path: Path) -> None:
    job = listed(tmp_path, ["PANEL HP-1"], ["Location: mezzanine (room 4)   One heater per circuit"], *CIRCUITS)
    assert heaters(job) == [("TK-11", 1, 15, 480, 3)] * 2
    assert not listed(tmp_path, ["PANEL HP-1"], *CIRCUITS).banks


@pytest.mark.parametrize(
    ("text", "sheath"), [("Immersion heater, stainless 316L, 15 kW each", "316L"), ("Heater, titanium or 316L, 15 kW", None)]
)
def test_a_grade_of_stainless_steel_is_no_second_material(text: str, sheath: str | None) -> None:
    found = read_description(text)
    assert (found.sheath.value if found.sheath else None) == sheath
    assert bool(found.doubts) == (sheath is None)


@pytest.mark.parametrize(
    "sentence",
    [
        "Not more than one heater per circuit", "Never one heater per circuit - always two", "One heater per circuit, 2 circuits per tank",
        "One heater per circuit on Line 1; Line 2 has 2 heaters per circuit", "One heater per circuit, typical of 4",
    ],
)  # fmt: skip
def test_a_sentence_that_says_more_than_one_heater_a_circuit_counts_none(tmp_path: Path, sentence: str) -> None:
    assert not listed(tmp_path, [sentence], *CIRCUITS).banks


@pytest.mark.parametrize("heading", ["Circuits", "No. of circuits", "Qty ckts"])
def test_a_column_that_counts_circuits_is_no_single_heater(tmp_path: Path, heading: str) -> None:
    head = ["Tank", heading, "kW each", "Volts", "Phase"]
    job = listed(tmp_path, ["One heater per circuit"], head, ["T-1", 3, 6, 480, 3], ["T-2", 2, 9, 480, 3])
    assert not [one for one in job.banks if one.quantity == 1]


@pytest.mark.parametrize(
    "banner",
    [
        "PANEL HP-4 FED FROM 600 V 3 PH, HEATERS 480 V", "PANEL HP-4 (was 600 V 3 PH, now 480 V 3 PH)", "INSULATION 600 V 3 PH",
        "PANEL HP-4 600 VAC MAX 3 PH", "PANEL HP-4 460 V MOTORS 3 PH", "PUMPS", "RECTIFIERS",
    ],
)  # fmt: skip
def test_a_banner_that_may_speak_of_something_else_is_asked_about(tmp_path: Path, banner: str) -> None:
    own = [480, 3] if banner.isalpha() else ["", ""]
    job = listed(tmp_path, ["Tank", "Qty", "kW each", "Volts", "Phase"], ["T-1", 3, 6, 480, 3], [banner], ["T-2", 2, 9, *own])
    assert [one.tank for one in job.banks] == ["T-1"] and [one.tank for one in job.unread] == ["T-2"]


def test_rows_that_say_heater_stand_whatever_the_banner_above_names(tmp_path: Path) -> None:
    job = listed(tmp_path, ["Tank", "Item", *HEAD[1:]], ["PUMPS AND HEATERS LINE 2"], ["T-2", "Immersion heater", 2, 9, 480, 3])
    assert [one.tank for one in job.banks] == ["T-2"]


def test_a_run_behind_a_place_is_asked(tmp_path: Path) -> None:
    assert read_tags("PL2-T-101-T-104").doubt


@pytest.mark.parametrize(
    ("remark", "read"),
    [
        ("as T-1", True), ("like T-1", True), ("same as T-1", True), ("wie T-1", True), ("same as T-1 with thermostat", True),
        ("same as T-1 (1 only)", False), ("same as T-1 but titanium", False), ("as T-1, in titanium", False), ("as T-7", False),
        ("later", False),
    ],
)  # fmt: skip
def test_a_row_that_is_as_another_has_its_heaters_or_is_asked_about(tmp_path: Path, remark: str, read: bool) -> None:
    """The tag stands first in its row, as in most lists; what goes on with "but" or figures, or names no row, is not guessed."""
    job = listed(tmp_path, [*HEAD, "Remarks"], ["T-1", 3, 9, 480, 3], ["T-2", 2, 9, 480, 3], ["S-9", None, None, None, None, remark])
    assert heaters(job)[2:] == ([("S-9", 3, 9, 480, 3)] if read else [])
    assert [one.tank for one in job.unread] == ([] if read else ["S-9"])


def test_a_spare_tank_without_figures_is_no_question(tmp_path: Path) -> None:
    job = listed(tmp_path, [*HEAD, "Remarks"], ["T-1", 3, 9, 480, 3], ["T-2", 2, 9, 480, 3], ["S-9", None, None, None, None, "spare"])
    assert len(job.banks) == 2 and not job.unread


@pytest.mark.parametrize(
    ("note", "code", "cell"), [("", "supply-from-words", "A1"), ("", "power-taken", "F5"), ("T-4 to be confirmed", "row-in-doubt", "A7")]
)
def test_what_stands_beside_a_turned_list_is_named_by_its_own_cell(tmp_path: Path, note: str, code: str, cell: str) -> None:
    """A title, a total and a note, as the customer's sheet has them and not as it is turned over."""
    job = listed(
        tmp_path, ["480 V 3 phase immersion heaters"], [None], ["Tank", "T-1", "T-2", "T-3", "T-4", "Total"], ["Qty", 3, 2, 1, 1, 7],
        ["kW", 6, 9, 3, 3, 42], [None], [note or None],
    )  # fmt: skip
    assert [one.message for one in job.findings if one.code == code and f"in {cell}" in one.message]


@pytest.mark.parametrize("title", ["FUTURE - PHASE 2", "SPARE HEATERS (shelf)", "EXISTING HEATERS TO REMAIN"])
def test_a_title_above_the_headings_says_of_all_rows_what_a_banner_would(tmp_path: Path, title: str) -> None:
    other = [[title], HEAD, ["T-8", 2, 9, 480, 3], ["T-9", 1, 9, 480, 3]]
    job = listed(tmp_path, HEAD, ["T-1", 2, 6, 480, 3], ["T-2", 2, 6, 480, 3], name="Line 1", Other=other)
    assert [one.tank for one in job.banks] == ["T-1", "T-2"] and [one.tank for one in job.unread] == ["T-8", "T-9"]


AIR = [
    ("Heater", [["T1", "HEATER IMM CITRIC", 2, 6], ["T2", "HEATER AIR DUCT DRYER", 1, 18]]),
    ("Bath", [["T1", "Degrease", 2, 6], ["T2", "Drying oven (air)", 1, 15]]),
    ("Description", [["T1", "Degreasing", 4, 9], ["T3", "Rinse", None, None], ["T2", "Drying oven air heater", 2, 18]]),
    ("Bain", [["T1", "Dégraissage", 3, 3], ["T3", "Satinage", 2, 6], ["T2", "Étuve de séchage (air)", 1, 15]]),
]


@pytest.mark.parametrize(("heading", "rows"), AIR, ids=["in words for heaters", "in place of a bath", "in a description", "in French"])
def test_a_heater_of_air_is_not_sized_as_one_of_a_bath(tmp_path: Path, heading: str, rows: list[list[object]]) -> None:
    job = listed(tmp_path, ["400 V, 3 phase"], ["Tank", heading, "No. of heaters", "kW each"], *rows)
    assert "T2" not in [one[0] for one in heaters(job)] and "T1" in [one[0] for one in heaters(job)]


def test_what_a_legend_gives_to_the_client_is_asked_about(tmp_path: Path) -> None:
    rows = [["T1", 2, 6, "V"], ["T2", 1, 9, "C"], ["T3", 3, 9, "V"]]
    job = listed(tmp_path, ["480 V, 3 phase. Scope: V = heater vendor, C = client"], ["Tank", "Heaters", "kW each", "Scope"], *rows)
    assert [one[0] for one in heaters(job)] == ["T1", "T3"] and [row.tank for row in job.unread] == ["T2"]


FOUR = [["T-1", "Clean", 2, 9, 480, 3], ["T-2", "Pickle", 1, 6, 480, 3], ["T-3", "Nickel", 1, 12, 480, 3], ["T-4", "Dye", 1, 6, 480, 3]]
BATHS = ["Tank", "Process", "Heaters", "kW each", "Volts", "Ph"]
BELOW = [
    ("T-2: customer buys heater.", ["T-2"]),
    ("T-2: contractor has the heater.", ["T-2"]),
    ("Pickle tank heater quantity changed to 3.", ["T-2"]),
    ("The pickle is fed from a 240 V panel.", ["T-2"]),
    ("Nickel heater is 208 V.", ["T-3"]),
    ("Dye: single phase please.", ["T-4"]),
    ("The clean and dye tanks share one heater.", ["T-1", "T-4"]),
    ("Tank T-4 is the same as tank T-3.", ["T-4"]),
    ("All voltages to be read as 440 V.", ["T-1", "T-2", "T-3", "T-4"]),
    ("Heater kW shown is total for the tank.", ["T-1"]),
    ("red = deleted", ["T-1", "T-2", "T-3", "T-4"]),
    ("Nickel heaters are 480 V, 3 phase.", []),
    ("Control voltage is 120 V.", []),
    ("yellow = new", []),
    ("T-3: titanium heater, 72 in of lead.", []),
    ("T-1: pump 1.5 kW.", []),
]


@pytest.mark.parametrize(("sentence", "asked"), BELOW)
def test_a_sentence_below_a_list_by_which_rows_would_be_others_has_them_asked(tmp_path: Path, sentence: str, asked: list[str]) -> None:
    job = listed(tmp_path, BATHS, *FOUR, [None], [sentence])
    assert [one.tank for one in job.unread] == asked
    assert len(job.banks) + len(asked) == len(FOUR)
    assert all(sentence in one.message for one in job.findings if one.code in DOUBTS)


SEVERAL = ["Quantities for one line; two identical lines to be supplied", "3 gleiche Linien", "Mengen für eine Linie"]


@pytest.mark.parametrize("title", SEVERAL)
def test_figures_of_one_line_of_several_are_asked_about(tmp_path: Path, title: str) -> None:
    job = listed(tmp_path, [title], BATHS, *FOUR)
    assert not job.banks and len(job.unread) == len(FOUR)


MARKED = [
    ("1", "1. Heater voltage is 600 V.", True),
    ("2, 1", "1. Replace one heater by 18 kW.", True),
    ("1", "1. Second heater is a standby.", True),
    ("1", "1. Heater voltage is 480 V.", False),
    ("1", "1. Delivery in week 12.", False),
    ("1", "1. With thermostat.", False),
    ("", "1. With thermostat.", False),
]


@pytest.mark.parametrize(("mark", "note", "asked"), MARKED)
def test_a_row_that_bears_the_number_of_a_note_on_heaters_is_asked_about(tmp_path: Path, mark: str, note: str, *, asked: bool) -> None:
    rows = [[*row, mark if row[0] == "T-1" else None] for row in FOUR]
    job = listed(tmp_path, [*BATHS, "Notes"], *rows, [None], [note], ["2. With thermostat."])
    assert [one.tank for one in job.unread] == (["T-1"] if asked else [])


@pytest.mark.parametrize(
    ("cell", "value", "note"),
    [(1, "Clean†", "† heated by steam"), (3, "9 (2)", "(2) total for the tank"), (4, "480 (1)", "(1) 600 V at site")],
)
def test_a_mark_behind_a_cell_leads_to_its_note(tmp_path: Path, cell: int, value: str, note: str) -> None:
    first = [value if at == cell else own for at, own in enumerate(FOUR[0])]
    job = listed(tmp_path, BATHS, first, *FOUR[1:], [None], [note])
    assert [one.tank for one in job.unread] == ["T-1"] and note in next(one.message for one in job.findings if one.code in DOUBTS)
