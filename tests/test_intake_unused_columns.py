"""Columns that no value is taken from and that speak against rows, and rows that stand twice. All plants and figures are invented."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import pytest

from batch.intake.tags import read_tags
from batch.records import Job
from tests.intake_book import DOUBTS, book, read_bytes

HEAD = ["Tank", "Qty", "kW each", "Volts", "Ph"]


def listed(folder: Path, *rows: Sequence[object]) -> Job:
    return read_bytes(folder, book({"Sheet1": list(rows)}))


def sized(job: Job) -> list[str]:
    return [one.tank for one in job.banks]


REVISED = [
    ("Rev", ["T-1", 2, 9, 480, 3, "A"], ["T-1", 2, 12, 480, 3, "B"], []),
    ("Index", ["T-1", 2, 9, 480, 3, "0"], ["T-1", 2, 12, 480, 3, "1"], []),
    ("Rév.", ["T-1", 2, 9, 480, 3, "P1"], ["T-1", 0, 0, 480, 3, "P2"], []),
    ("Rev", ["T-1", 2, 9, 480, 3, "A"], ["T-1", "DELETED", None, None, None, "C"], []),
    ("Rev", ["T-1", 2, 9, 480, 3, "A"], ["T-1", 2, 12, 480, 3, "A"], ["T-1", "T-1"]),
    ("Rev", ["T-1", 2, 9, 480, 3, "A"], ["T-3", 2, 12, 480, 3, "B"], ["T-1", "T-3"]),
]


@pytest.mark.parametrize(("heading", "first", "then", "read"), REVISED)
def test_rows_of_one_tank_under_several_revisions_are_asked_about(
    tmp_path: Path, heading: str, first: list[object], then: list[object], read: list[str]
) -> None:
    assert sized(listed(tmp_path, [*HEAD, heading], first, ["T-2", 1, 6, 480, 3, "A"], then)) == [*read[:1], "T-2", *read[1:]]


def test_a_heater_with_a_tag_of_its_own_takes_nobodys_place(tmp_path: Path) -> None:
    rows = [["T-1", "H1A", 1, 9, 480, 3, "0"], ["T-1", "H1B", 1, 9, 480, 3, "2"], ["T-2", "H2A", 1, 6, 480, 3, "0"]]
    assert sized(listed(tmp_path, ["Tank", "Heater ID", "Qty", "kW each", "Volts", "Ph", "Rev"], *rows)) == ["T-1", "T-1", "T-2"]


def test_a_pump_of_a_tank_has_a_revision_of_its_own(tmp_path: Path) -> None:
    rows = [["T-1", "Heater", 3, 12, 480, 3, "B"], ["T-1", "Filter pump", 1, 4, 480, 3, "A"], ["T-2", "Heater", 1, 6, 480, 3, "A"]]
    assert sized(listed(tmp_path, ["Tank", "Equipment", "Qty", "kW each", "Volts", "Ph", "Rev"], *rows)) == ["T-1", "T-2"]


MEDIA = [("Electric", True), ("steam", False), ("LPHW", False), ("Electric/gas", False), ("Elec.", True), ("None", False), ("-", True)]


@pytest.mark.parametrize(("medium", "read"), MEDIA, ids=[one[0] for one in MEDIA])
def test_a_tank_that_is_heated_with_something_else_is_asked_about(tmp_path: Path, medium: str, read: bool) -> None:
    rows = [["T-1", 2, 9, 480, 3, "Electric"], ["T-2", 1, 6, 480, 3, medium]]
    assert sized(listed(tmp_path, [*HEAD, "Heating medium"], *rows)) == (["T-1", "T-2"] if read else ["T-1"])


@pytest.mark.parametrize(
    ("elements", "power", "read"),
    [
        ("Elements per heater", "kW per element", ["T-2"]),
        ("No. of elements per heater", "Element kW", ["T-2"]),
        ("Element length (mm)", "kW per element", ["T-1", "T-2"]),
        ("Elements per heater", "kW per heater", ["T-1", "T-2"]),
    ],
)
def test_the_power_of_an_element_is_not_that_of_a_heater_of_several(tmp_path: Path, elements: str, power: str, read: list[str]) -> None:
    rows = [["T-1", 2, 3, 3, 480, 3], ["T-2", 1, 1, 4.5, 240, 1]]
    assert sized(listed(tmp_path, ["Tank", "Heaters", elements, power, "Volts", "Ph"], *rows)) == read


@pytest.mark.parametrize("heading", ["kW per phase", "kW/phase", "kW je Phase", "kW par phase", "kW per fase", "kW/fase"])
def test_the_power_of_a_phase_is_that_of_a_heater_of_one_phase_alone(tmp_path: Path, heading: str) -> None:
    rows = [["T-1", 2, 3, 480, 3], ["T-2", 1, 4, 480, 3], ["T-3", 1, 4.5, 240, 1]]
    assert sized(listed(tmp_path, ["Tank", "Heaters", heading, "Volts", "Phases"], *rows)) == ["T-3"]


def test_a_row_that_stands_twice_counts_once_until_somebody_says_so(tmp_path: Path) -> None:
    job = listed(tmp_path, HEAD, ["T-1", 2, 9, 480, 3], ["T-2", 1, 9, 480, 3], ["T-1", 2, 9, 480, 3], ["T-2", 1, 6, 480, 3])
    assert sized(job) == ["T-1", "T-2", "T-2"] and [one.tank for one in job.unread] == ["T-1"]
    assert any("row 2" in one.message for one in job.findings if one.code in DOUBTS)


def test_one_heater_a_row_says_the_same_of_each(tmp_path: Path) -> None:
    job = listed(tmp_path, ["Tank", "kW each", "Volts", "Ph"], ["T-1", 9, 480, 3], ["T-1", 9, 480, 3], ["T-2", 6, 480, 3])
    assert not any("says the same" in one.message for one in job.findings)


def test_banks_of_one_row_are_no_rows_that_stand_twice(tmp_path: Path) -> None:
    head = ["Machine", "Wash tank", "Wash heaters", "Wash kW ea", "Rinse tank", "Rinse heaters", "Rinse kW ea", "Volts", "Phase"]
    job = listed(tmp_path, head, ["M1", "W-1", 3, 12, "R-1", 2, 9, 480, 3], ["M2", "W-2", 3, 12, "R-2", 2, 9, 480, 3])
    assert sized(job) == ["W-1", "R-1", "W-2", "R-2"]


@pytest.mark.parametrize(
    ("tag", "read"),
    [
        ("3 (future)", False), ("T-3 - on hold", False), ("3, optional", False), ("B3 (entfällt evtl.)", False), ("T-3 alt.", False),
        ("T-3 future rinse", False), ("3 - optional rinse", False), ("T-3 (standby)", False),
        ("T-3 reserve rinse", True), ("T-3 - standby rinse", True), ("Hold tank 3", True), ("3 (Nickel)", True),
    ],
)  # fmt: skip
def test_words_of_doubt_behind_a_tag_are_said_of_the_row(tmp_path: Path, tag: str, read: bool) -> None:
    assert sized(listed(tmp_path, HEAD, ["T-1", 2, 9, 480, 3], ["T-2", 1, 6, 480, 3], [tag, 1, 6, 480, 3]))[2:] == ([tag] if read else [])


def test_words_of_doubt_behind_a_tag_above_a_turned_list(tmp_path: Path) -> None:
    rows = [["Heaters", 2, 1, 1], ["kW each", 9, 6, 9], ["Volts", 480, 480, 480], ["Phases", 3, 3, 3]]
    assert sized(listed(tmp_path, [None, "Tank 1", "Tank 2", "Tank 3 (future)"], *rows)) == ["Tank 1", "Tank 2"]


@pytest.mark.parametrize(
    "tag",
    ["12 typ. 3", "11 (typ. of 4)", "T-9 typical of four", "C2, typique de 2", "13 x 2", "T-13 (x2)", "14 (2 tanks)", "18 ditto 17"],
)
def test_a_tag_that_stands_for_several_tanks_is_asked_about(tmp_path: Path, tag: str) -> None:
    job = listed(tmp_path, HEAD, ["T-1", 2, 9, 480, 3], ["T-2", 1, 6, 480, 3], [tag, 1, 6, 480, 3])
    assert sized(job) == ["T-1", "T-2"] and [one.tank for one in job.unread] == [tag]


def test_a_run_with_its_number_is_a_run() -> None:
    assert read_tags("T-31 thru T-34 (4 tanks)").tags == ("T-31", "T-32", "T-33", "T-34")
    assert read_tags("T-31 thru T-34 (3 tanks)").doubt and read_tags("Z-04 do Z-06").tags == ("Z-04", "Z-05", "Z-06")


@pytest.mark.parametrize(
    ("bath", "read"),
    [("Rinse (typ of 3)", False), ("Spüle (3 Becken)", False), ("Typ 3", True), ("typical for line", True), ("Rinse (3 stage)", True)],
)
def test_a_bath_that_stands_for_several_is_asked_about(tmp_path: Path, bath: str, read: bool) -> None:
    rows = [["T-1", "Degrease", 2, 9, 480, 3], ["T-2", bath, 1, 6, 480, 3]]
    assert sized(listed(tmp_path, ["Tank", "Process", "Heaters", "kW each", "Volts", "Ph"], *rows)) == (["T-1", "T-2"] if read else ["T-1"])


@pytest.mark.parametrize(("tag", "read"), [("7 rev B", []), ("7 (rev. 2)", []), ("7 Revision 1", []), ("7 rinse", ["7 rinse", "7"])])
def test_a_tag_with_a_revision_beside_the_tag_itself_is_asked_about(tmp_path: Path, tag: str, read: list[str]) -> None:
    job = listed(tmp_path, HEAD, ["5", 2, 9, 480, 3], [tag, 1, 6, 480, 3], ["7", 1, 9, 480, 3])
    assert sized(job) == ["5", *read]


@pytest.mark.parametrize("totals", [[18, 6, 9, 20, None], [18, 6, 9, None, 12], [None, None, 9, None, None]])
def test_a_total_that_differs_in_one_row_is_asked_about(tmp_path: Path, totals: list[float | None]) -> None:
    """Of 2 x 9, 1 x 6, 2 x 9, 3 x 6 and 2 x 6 kW; one total is the power of one, another is neither."""
    rows = [["T-1", 2, 9], ["T-2", 1, 6], ["T-3", 2, 9], ["T-4", 3, 6], ["T-5", 2, 6]]
    told = ([*row, 480, 3, total] for row, total in zip(rows, totals, strict=True))
    job = listed(tmp_path, ["Tank", "Qty", "kW ea", "Volts", "Ph", "Total kW"], *told)
    assert sized(job) == ["T-1", "T-2", *([] if totals[3] else ["T-4"]), "T-5"]


@pytest.mark.parametrize(
    ("new", "existing", "read"), [(18, None, True), (9, 9, False), (None, 6, False), (0, 18, False), (18, 12, True), (9, 12, True)]
)
def test_what_is_there_already_is_not_bought_again(tmp_path: Path, new: float | None, existing: float | None, read: bool) -> None:
    """Two heaters of 9 kW: all of them new, one of them, none; in place of others; and a new power of each."""
    rows = [["T-1", 2, 6, 480, 3, 12, None], ["T-2", 2, 9, 480, 3, new, existing]]
    assert sized(listed(tmp_path, [*HEAD, "New kW", "Existing kW"], *rows)) == (["T-1", "T-2"] if read else ["T-1"])


@pytest.mark.parametrize(
    "called",
    ["inline (circulation) heater", "pan heater",
     "Durchlauferhitzer", "réchauffeur en ligne", "podgrzewacz przepływowy", "průtokový ohřívač"],
)
def test_a_heater_of_another_kind_is_not_sized_as_one_of_immersion(tmp_path: Path, called: str) -> None:
    rows = [["T-1", 2, 9, 480, 3, "immersion heater"], ["T-2", 1, 36, 480, 3, called], ["T-3", 1, 6, 480, 3, "immersion heater"]]
    assert sized(listed(tmp_path, [*HEAD, "Service"], *rows)) == ["T-1", "T-3"]


@pytest.mark.parametrize(("volts", "phases", "read"), [(277, 3, False), (347, 3, False), (277, 1, True), (480, 3, True)])
def test_the_volts_to_neutral_of_a_supply_are_those_of_one_phase(tmp_path: Path, volts: float, phases: int, read: bool) -> None:
    assert sized(listed(tmp_path, HEAD, ["T-1", 2, 9, 480, 3], ["T-2", 1, 6, volts, phases])) == (["T-1", "T-2"] if read else ["T-1"])


@pytest.mark.parametrize(("wiring", "panel"), [("Wiring by", "Panel by"), ("Verdrahtung durch", "Schaltschrank durch")])
def test_who_does_the_wiring_says_nothing_of_the_heaters(tmp_path: Path, wiring: str, panel: str) -> None:
    rows = [["T-1", 2, 9, 480, 3, "us", "us"], ["T-2", 1, 6, 480, 3, "by others", "by others"]]
    job = listed(tmp_path, [*HEAD, wiring, panel], *rows)
    assert sized(job) == ["T-1", "T-2"] and not any(one.feeder or one.connection for one in job.banks)


@pytest.mark.parametrize("heading", ["Heating", "Heating medium", "Heizung", "Chauffage", "Energy source"])
def test_steam_under_a_heading_of_heat_is_no_name_of_a_bath(tmp_path: Path, heading: str) -> None:
    rows = [["1", None, 2, 9, 480, 3], ["2", "steam", 1, 6, 480, 3], ["3", None, 1, 6, 480, 3]]
    assert sized(listed(tmp_path, ["Tank", heading, "No. of heaters", "kW each", "Volts", "Ph"], *rows)) == ["1", "3"]


@pytest.mark.parametrize(
    ("amps", "read"),
    [
        ([10.8, 21.7, 14.4], ["T-1"]),  # 2 x 9 kW: of one heater; 1 x 9 kW and 1 x 6 kW: twice theirs
        ([21.7, 10.8, 7.2], ["T-1", "T-2", "T-3"]),
        ([13.5, 13.5, 9.0], ["T-1", "T-2", "T-3"]),  # all with a margin of a quarter
        ([25, 15, 10], ["T-1", "T-2", "T-3"]),  # ratings of fuses, of which one is near
    ],
)
def test_amps_that_fit_no_reading_beside_some_that_do_are_asked_about(tmp_path: Path, amps: list[float], read: list[str]) -> None:
    """I = P / (V times the root of three): 9 kW at 480 V are 10.8 A, 6 kW 7.2 A."""
    rows = [["T-1", 2, 9], ["T-2", 1, 9], ["T-3", 1, 6]]
    told = ([*row, one, 480, 3] for row, one in zip(rows, amps, strict=True))
    assert sized(listed(tmp_path, ["Tank", "Heaters", "kW each", "FLA", "Volts", "Ph"], *told)) == read


@pytest.mark.parametrize("remark", ["cust. supply", "FOIC", "OFCI", "already wired", "quote only, buy heater elsewhere"])
def test_a_heater_that_somebody_else_brings_is_asked_about(tmp_path: Path, remark: str) -> None:
    rows = [["T-1", 2, 9, 480, 3, "as issued"], ["T-2", 1, 6, 480, 3, remark], ["T-3", 1, 6, 480, 3, "new"]]
    assert "T-2" not in sized(listed(tmp_path, [*HEAD, "Remarks"], *rows))
