"""Customers' own lists: nothing silent in those with a truth of every row; each kind of finding; the reading as a map and back."""

from __future__ import annotations

import tomllib
from collections.abc import Sequence
from pathlib import Path

import pytest

import batch
from batch.findings.reading_lists import LISTS
from batch.intake import read
from batch.intake.assignment import solve
from batch.intake.column_map import parse_map
from batch.intake.map_draft import draft
from batch.records import Job
from tests.intake_book import book, codes, fates, read_bytes, said
from tests.lists.score import HERE, lists_in, score_list

WORKED = HERE / "worked"
SETS = (
    "worked", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth", "eleventh", "twelfth", "thirteenth",
    "fourteenth", "fifteenth", "sixteenth", "seventeenth", "eighteenth", "twentieth", "twentyfirst", "twentysecond", "twentythird",
    "twentyfourth", "nineteenth", "opened", "twentyfifth", "twentysixth", "twentyseventh", "twentyeighth",
    "twentyninth", "thirtieth", "thirtyfirst", "thirtysecond", "thirtythird", "thirtyfourth", "thirtyfifth",
    "thirtysixth", "thirtyseventh", "thirtyeighth", "thirtyninth", "fortyfirst", "fortysecond",
    "fortythird", "fortyfourth", "fortyfifth", "fortysixth", "fortyseventh", "fortyeighth", "fortyninth",
    "fiftieth", "fiftyfirst", "fiftysecond", "fiftythird",
)  # fmt: skip
BUILT_ON = [HERE / name for name in SETS]
HEAD = ["Tank", "Qty", "kW each", "Volts", "Ph"]
ONE = ["T-1", 4, 6, 480, 3]
UNITS = [*HEAD[:2], "Size", "Unit", *HEAD[3:]]


def test_the_lists_are_there() -> None:
    assert {folder.name: len(lists_in(folder)) for folder in sorted(HERE.iterdir()) if folder.is_dir() and lists_in(folder)} == {
        "eighth": 24, "eleventh": 14, "fifth": 24, "fourth": 14, "ninth": 20, "opened": 12, "second": 20, "seventh": 16, "sixth": 12,
        "tenth": 16, "third": 22, "twelfth": 14,
        "thirteenth": 14, "fourteenth": 14, "fifteenth": 16, "sixteenth": 14, "seventeenth": 12, "eighteenth": 12,
        "twentieth": 14, "twentyfirst": 12, "twentysecond": 15, "twentythird": 15, "twentyfourth": 14, "twentyfifth": 14, "twentysixth": 12,
        "nineteenth": 12, "twentyseventh": 14, "twentyeighth": 14, "twentyninth": 14,
        "thirtieth": 10, "thirtyfirst": 10, "thirtysecond": 10, "thirtythird": 14, "thirtyfourth": 14, "thirtyfifth": 12, "thirtysixth": 14,
        "thirtyseventh": 14, "thirtyeighth": 14, "thirtyninth": 14, "fortieth": 14, "fortyfirst": 14, "fortysecond": 16,
        "fortythird": 40, "fortyfourth": 40, "fortyfifth": 50, "fortysixth": 18, "fortyseventh": 36, "fortyeighth": 25, "fortyninth": 20,
        "fiftieth": 24, "fiftyfirst": 24, "fiftysecond": 24, "fiftythird": 24,
        "worked": 22,
    }  # fmt: skip


@pytest.mark.parametrize("path", [path for folder in BUILT_ON for path in lists_in(folder)], ids=lambda path: path.name)
def test_nothing_is_silent_in_the_lists_that_were_built_on(path: Path) -> None:
    score = score_list(path)
    assert score.silent == 0, score.lines
    assert score.ask == score.ask_right, score.lines


@pytest.mark.parametrize("path", lists_in(WORKED), ids=lambda path: path.name)
def test_every_row_of_every_sheet_has_a_fate(path: Path) -> None:
    if path.suffix in (".csv", ".tsv"):
        pytest.skip("read as text")
    result = batch.check(path)
    assert [check for check in result.checks if not check.passes] == []
    for sheet in result.job.accounted:
        assert sheet.filled == sheet.read + sheet.told


def listed(folder: Path, *rows: Sequence[object], name: str = "Sheet1", **more: list) -> Job:
    return read_bytes(folder, book({name: list(rows), **more}))


PROVOKED: dict[str, list[Sequence[object]]] = {
    "column-taken": [["Tank", "Quantitty", "kW each", "Volts", "Ph"], ONE, ["T-2", 3, 9, 480, 3]],
    "column-rivalled": [[*HEAD, "Source", "Panel"], [*ONE, "XFMR-1", "PP-1"], ["T-2", 3, 9, 480, 3, "XFMR-1", "PP-2"]],
    "counts-not-read": [[*HEAD, "Existing Qty"], [*ONE, 2], ["T-2", 3, 9, 480, 3, 0]],
    "power-taken": [["Tank", "Qty", "kW", "Volts", "Ph"], ["T-1", 7, 4.5, 480, 3], ["T-2", 7, 6, 480, 3]],
    "supply-from-words": [["All heaters 480 V, 3 phase"], HEAD[:3], ONE[:3]],
    "list-question": [["Tank", "Qty", "kW", "Volts", "Ph"], ["T-1", 2, 9, 480, 3]],
    "list-not-read": [["our heaters"], ["?", 1, 2, 3], ["?", 3, 4, 5]],
    "remarks-not-understood": [[*HEAD, "Remarks"], [*ONE, "line 2 only"], ["T-2", 3, 9, 480, 3, "ok"]],
    "list-other": [["Pump", "Qty", "HP", "Volts", "Ph"], ["P-1 pump", 1, 5, 480, 3], ["P-2 pump", 2, 3, 480, 3]],
    "list-read": [HEAD, ONE],
    "row-taken-out": [[*HEAD, "Remarks"], ONE, ["T-2", 3, 9, 480, 3, "DELETED"]],
    "row-in-doubt": [[*HEAD, "Remarks"], ONE, ["T-2", 3, 9, 480, 3, "future"]],
    "row-figures-open": [[*HEAD, "Remarks"], ONE, ["T-2", 3, 9, 480, 3, "voltage to be confirmed"]],
    "note-asks": [["1. GFCI 30 mA on all heater branches"], [], HEAD, ONE],
    "notes-of-heaters": [HEAD, ONE, [], ["The second heater is a standby."]],
    "notes-aside": [HEAD, ONE, [], ["1. Paint all heaters blue before they leave"]],
    "row-passed-over": [["Also wanted: 2 ea. 9 kW heaters for tank T-9, 480 V"], [], HEAD, ONE],
    "remark-aside": [[*HEAD, "Remarks"], ONE, ["T-2", 3, 9, 480, 3, "rectifier by others"]],
    "row-not-heater": [[*HEAD, "What"], ONE, ["T-2", 1, 3, 480, 3, "circulating pump"]],
    "row-unheated": [[*HEAD, "What"], ONE, ["T-2", None, None, None, None, "rinse"]],
    "rows-spare": [HEAD, ONE, ["T-2", None, None, 480]],
    "row-changed-by-note": [HEAD, ONE, [], ["T-1: 5 heaters instead of 4"]],
    "row-banner": [HEAD, ["LINE 2"], ONE],
    "value-from-above": [HEAD, ONE, [None, 2, 3, 240, 1]],
    "value-from-words": [["Tank", "Description"], ["T-1", "(3) 4.5 kW 240 V 1 ph immersion heaters"]],
    "value-unlikely": [HEAD, ONE, ["T-2", 3, 9, 4.8, 3]],
    "row-disagrees": [[*HEAD, "Total kW"], [*ONE, 24], ["T-2", 3, 9, 480, 3, 27], ["T-3", 3, 9, 480, 3, 72]],
    "unit-foreign": [UNITS, ["T-1", 4, 6, "kW", 480, 3], ["T-2", 1, 5, "HP", 480, 3]],
    "unit-blank": [UNITS, ["T-1", 4, 6, "kW", 480, 3], ["T-2", 1, 5, "kW", 480, 3], ["T-3", 1, 5, None, 480, 3]],
    "unit-converted": [[*UNITS, "What"], ["T-1", 4, 6, "kW", 480, 3, "heater"], ["T-2", 1, 5, "HP", 480, 3, "heater"]],
    "tanks-in-row": [["Tank", "Heaters per tank", *HEAD[2:]], ["T-1 thru T-3", 2, 6, 480, 3]],
    "tanks-question": [HEAD, ["T-1 thru T-3", 6, 6, 480, 3]],
    "mark-odd": [HEAD, *[[f"B{n}", 2, "4,5", 400, 3] for n in (1, 2, 3)], ["B4", 2, "4.5", 400, 3]],
    "tag-before-name": [HEAD, ["TK-14 ALK CLEANER", *ONE[1:]], ["TK-17 BRIGHT NICKEL", 3, 9, 480, 3], ["TK-31 RINSE", 2, 6, 480, 3]],
    "tags-unsure": [HEAD, ONE, ["T-2, T-2", 6, 6, 480, 3]],
    "count-unsure": [HEAD, ONE, ["T-2", "4+1 spare", 6, 480, 3]],
    "supply-unsure": [["Tank", "Qty", "kW each", "Supply"], ["T-1", 4, 6, "480/3/60"], ["T-2", 4, 6, "480Y/277, 1 phase"]],
    "feeder-other-rows": [[*HEAD, "Fed from", "Remarks"], [*ONE, "MCC-1"], ["T-2", 3, 9, 480, 3, "MCC-1", "existing"]],
    "baths-from-list": [[*HEAD, "Gallons"], [*ONE, 500]],
    "total-differs": [HEAD, ONE, ["Total", 4, 99]],
    "total-agrees": [HEAD, ONE, ["T-2", 2, 3, 480, 3], ["Total", 6, 30]],
}  # fmt: skip
ELSEWHERE = {"bath-differs", "tag-before-name", "row-hidden", "issue-older", "issue-question", "row-still-open"}  # in other files


def test_a_list_is_named_by_its_first_and_last_row(tmp_path: Path) -> None:
    job = read_bytes(tmp_path, book({"Sheet1": [HEAD, ONE, ["T-2", 3, 9, 480, 3], ["T-3", 3, 9, 480, 3]]}))
    assert [one.message[:28] for one in job.findings if one.code == "list-read"] == ["Sheet Sheet1, rows 2 to 4: r"]


def test_every_kind_is_provoked() -> None:
    assert {kind.code for kind in LISTS} == set(PROVOKED) | ELSEWHERE


@pytest.mark.parametrize("code", PROVOKED)
def test_a_list_provokes_its_kind(code: str, tmp_path: Path) -> None:
    job = listed(tmp_path, *PROVOKED[code])
    assert said(job, code), f"{code} not among {sorted(codes(job))}"


def test_an_older_issue_is_left_and_one_that_nothing_tells_apart_is_asked_about(tmp_path: Path) -> None:
    job = read_bytes(tmp_path, book({"Rev A": [HEAD, ONE], "Rev B": [HEAD, ["T-1", 2, 9, 480, 3]]}))
    assert [(bank.origin.sheet, bank.quantity) for bank in job.banks] == [("Rev B", 2)] and "issue-older" in codes(job)
    job = read_bytes(tmp_path, book({"One": [HEAD, ONE], "Other": [HEAD, ["T-1", 2, 9, 480, 3]]}))
    assert not job.banks and len(said(job, "issue-question")) == 2


def test_a_hidden_sheet_never_wins_silently(tmp_path: Path) -> None:
    job = read_bytes(tmp_path, book({"List": [HEAD, ONE], "More": [HEAD, ["T-9", *ONE[1:]]]}, hidden=["More"]))
    assert [bank.tank for bank in job.banks] == ["T-1"] and said(job, "list-not-read")[0].sheet == "More"


TOTALS = [
    ([["T-1", 3, 18, 480, 3], ["T-2", 2, 12, 480, 3], ["Total", 5, 30]], [6.0, 6.0]),  # 18 + 12: of the tank
    ([["T-1", 3, 18, 480, 3], ["T-2", 2, 12, 480, 3], ["Total", 5, 78]], [18.0, 12.0]),  # 3 x 18 + 2 x 12: of each
    ([["T-1", 3, 18, 480, 3], ["T-2", 2, 12, 480, 3], ["Total", 5, 50]], []),  # neither
]


@pytest.mark.parametrize(("rows", "powers"), TOTALS, ids=["of the tank", "of each", "neither"])
def test_the_total_decides_what_a_bare_power_is_of(rows: list, powers: list[float], tmp_path: Path) -> None:
    job = listed(tmp_path, ["Tank", "Qty", "kW", "Volts", "Ph"], *rows)
    assert [bank.power_kw for bank in job.banks] == powers
    assert ("list-question" in codes(job)) == (not powers)


def test_amps_decide_what_a_bare_power_is_of(tmp_path: Path) -> None:
    """9 kW at 480 V, 3-phase draw 10.8 A; three of them 32.5 A (I = P / (root 3 x V))."""
    rows = [["T-1", 3, 9, 480, 3, 32.5], ["T-2", 2, 9, 480, 3, 21.7]]
    assert [bank.power_kw for bank in listed(tmp_path, ["Tank", "Qty", "kW", "Volts", "Ph", "Amps"], *rows).banks] == [9.0, 9.0]


def test_a_heading_that_says_each_against_a_total_that_says_otherwise_is_asked_about(tmp_path: Path) -> None:
    job = listed(tmp_path, HEAD, ["T-1", 3, 18, 480, 3], ["T-2", 2, 12, 480, 3], ["Total", 5, 30])
    assert not job.banks and "list-question" in codes(job)


def test_a_sheet_without_headings_that_speaks_of_heaters_is_held(tmp_path: Path) -> None:
    job = listed(tmp_path, ["heaters of line 1"], ["one", 6, 480], ["two", 9, 480])
    assert not job.banks and said(job, "list-not-read")[0].severity == 0


def test_a_pasted_letter_that_asks_for_a_price_is_held_and_a_price_list_is_not(tmp_path: Path) -> None:
    lines = [["Need price and delivery on the below"], ["Tank 1 soak - (3) 6 kW"], ["Tank 2 nickel - two 9 kW"]]
    job = listed(tmp_path, *lines)
    assert not job.banks and said(job, "list-not-read")[0].severity == 0
    assert {row.refused for table in job.received for row in table.rows} == {"asked: is it a list of heaters"}
    assert not said(listed(tmp_path, ["Part", "Price"], ["6 kW part", 120.0], ["9 kW part", 150.0]), "list-not-read")


LEGENDS = {
    "numbered": [[*HEAD, "Notes"], [*ONE, "1"], ["T-2", 3, 9, 480, 3, "1, 2"], ["1. Titanium sheath."], ["2. Supplied by others."]],
    "letters": [["STATUS: N=NEW H=HOLD V=VOID"], [*HEAD, "Status"], [*ONE, "N"], ["T-2", 3, 9, 480, 3, "H"], ["T-3", 3, 9, 480, 3, "V"]],
}  # fmt: skip


@pytest.mark.parametrize("kind", LEGENDS)
def test_a_code_that_the_sheet_explains_as_out_or_on_hold_is_asked_about(kind: str, tmp_path: Path) -> None:
    job = listed(tmp_path, *LEGENDS[kind])
    assert [bank.tank for bank in job.banks] == ["T-1"]
    assert len(said(job, "row-in-doubt")) == kind.count("letters") + 1


def test_tanks_in_columns_are_no_blocks_of_labels(tmp_path: Path) -> None:
    """Two turned lists, one over the other, begin with "Tank" twice: as blocks of labels all but the first column of each was lost."""
    upper = [["Tank", "T-1", "T-2", "T-3"], ["Qty", 4, 2, 3], ["kW each", 6, 3, 9], ["Volts", 480, 240, 480], ["Phases", 3, 1, 3]]
    lower = [["Tank", "N-1", "N-2", "N-3"], *upper[1:]]
    job = listed(tmp_path, *upper, [], *lower)
    assert [bank.tank for bank in job.banks] == ["T-1", "T-2", "T-3", "N-1", "N-2", "N-3"]


def test_dashes_in_place_of_a_tank_are_asked_about(tmp_path: Path) -> None:
    job = listed(tmp_path, HEAD, ONE, ["----", 3, 9, 480, 3], ["T-3", 3, 9, 480, 3])
    assert [bank.tank for bank in job.banks] == ["T-1", "T-3"] and len(said(job, "row-in-doubt")) == 1


def test_48_volts_on_three_phases_are_asked_about_and_on_one_phase_are_not(tmp_path: Path) -> None:
    job = listed(tmp_path, HEAD, ONE, ["T-2", 3, 9, 48, 3], ["T-3", 1, 1, 48, 1])
    assert [bank.tank for bank in job.banks] == ["T-1", "T-3"] and len(said(job, "value-unlikely")) == 1


def test_the_draft_of_a_list_reads_it_as_the_program_does_by_itself(tmp_path: Path) -> None:
    for path in lists_in(WORKED):
        if path.suffix in (".csv", ".tsv"):
            continue
        text = draft(path)
        assert tomllib.loads(text)["table"]
        alone, mapped = (
            [(bank.origin.sheet, bank.origin.row, bank.tank, bank.quantity, bank.power_kw, bank.volts_v, bank.phases) for bank in job.banks]
            for job in (read(path), read(path, column_map=parse_map(text, "m", "m")))
        )
        assert alone == mapped, path.name


def test_results_of_a_list_are_the_same_job_again(tmp_path: Path) -> None:
    for path in lists_in(WORKED)[:2]:
        results = tmp_path / f"{path.stem} sized.xlsx"
        first, again = batch.size(path, results), batch.check(results)
        one, two = (
            [(bank.tank, bank.quantity, bank.power_kw, bank.volts_v, bank.phases) for bank in result.job.banks] for result in (first, again)
        )
        assert one == two and one


def test_a_map_that_was_edited_is_not_written_over(tmp_path: Path) -> None:
    (tmp_path / "list.xlsx").write_bytes(book({"Sheet1": [HEAD, ONE]}))
    batch.size(tmp_path / "list.xlsx")
    plan = tmp_path / "list map.toml"
    text = plan.read_text()
    batch.size(tmp_path / "list.xlsx")
    assert plan.read_text() == text
    plan.write_text(text.replace("480", "240") + "# mine")
    batch.size(tmp_path / "list.xlsx")
    assert plan.read_text().endswith("# mine") and (tmp_path / "list map, as read again.toml").exists()


def test_totals_that_the_list_states_stand_on_checks(tmp_path: Path) -> None:
    """4 x 6 kW are 24 kW, and 2 x 3 kW more are 30: the first total agrees, the second differs, and neither is a fault of the workbook."""
    rows = [HEAD, ONE, ["Total", 4, 24], ["T-2", 2, 3, 480, 3], ["Grand total", 6, 42]]
    (tmp_path / "list.xlsx").write_bytes(book({"Sheet1": rows}))
    result = batch.check(tmp_path / "list.xlsx")
    stated = [check for check in result.checks if "total stated" in check.what]
    assert [(check.left, check.right, check.tolerance) for check in stated] == [(24.0, 24.0, None), (42.0, 30.0, None)]
    assert all(check.passes for check in result.checks)


def test_fates_of_a_whole_sheet(tmp_path: Path) -> None:
    rows = [["PLANT"], [], HEAD, ["LINE 1"], ONE, ["Total", 4, 24], ["see drawing"]]
    job = listed(tmp_path, *rows)
    told = fates(job)
    assert (told[1], told[3], told[4], told[5], told[6]) == ("above the headings", "heading", "heading of the rows below it", "", "a total")


def test_the_best_assignment_is_found_where_the_best_of_each_collide() -> None:
    assert solve([[9.0, 8.0], [9.0, 1.0]]) == ([1, 0], 17.0)
    assert solve([[0.0]])[1] == 0.0 and solve([]) == ([], 0.0)
