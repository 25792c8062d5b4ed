"""The map that the program writes beside its results is taken by it, and the list is read by it as it was without.

A sample of the lists that others wrote, of every folder and every kind of file; how a person may change a map is in `test_map_language`.
"""

from __future__ import annotations

from collections import Counter
from pathlib import Path

import pytest

import batch
from batch.intake import read
from batch.map_beside import signed
from batch.records import Job
from tests.intake_book import book
from tests.lists.score import HERE

# Lists whose headings, poles, marks, questions or units a map once could not say, and a sample of all others
ONCE_WRONG = (
    "fortieth/746-heizer-tausch.xlsx", "fortyfirst/770-vasche-it.xlsx",
    "eighth/103-consultant-heater-schedule.xlsx", "eighth/108-two-sided-panel-schedule.xlsx", "eighth/114-continuation-sheets.xlsx",
    "eleventh/165-drawing-schedule.xlsx", "eleventh/171-resistencias.ods", "fifth/107-panel-HP3-LP1.xlsx",
    "nineteenth/347-cubas-niquel-cromo.xlsx", "seventh/138-us-erp-export.csv", "seventh/142-it-schede-vasche.xlsx",
    "sixteenth/289-tannerie-cuves-de-lavage.xlsx", "thirteenth/229-old-list-revisions.xlsx", "thirtythird/578-panel-schedule.xlsx",
    "twentyfirst/384-bath-heaters-revB.xlsx", "twentyfirst/388-resistencias-lineas-1-y-2.xlsx", "twelfth/213-groepenverdeling.xlsx",
)  # fmt: skip
EVERY = 11  # of all lists in the order of their names
SUFFIXES = {".xlsx", ".xlsm", ".xls", ".xlsb", ".ods", ".csv", ".tsv", ".txt"}
SAMPLE = sorted(
    {
        *ONCE_WRONG,
        *[
            path.relative_to(HERE).as_posix()
            for path in sorted(HERE.glob("*/*"))
            if path.suffix in SUFFIXES and path.name.partition("-")[0].isdigit()
        ][::EVERY],
    }
)


def heaters(job: Job) -> Counter[tuple[object, ...]]:
    what = ((one.tank, one.bank, one.quantity, one.power_kw, one.volts_v, one.phases, one.feeder, one.origin.row) for one in job.banks)
    return Counter(what)


def baths(job: Job) -> Counter[tuple[object, ...]]:
    return Counter((one.tank, one.liquid, one.volume_l, one.operating_c, one.length_m, one.depth_m, one.tank_material) for one in job.tanks)


def again(path: Path, folder: Path) -> tuple[Job, Job]:
    """A list read by itself, and by the map that is written of that."""
    job = read(path)
    (folder / "map.toml").write_text(signed(job.map_text), encoding="utf-8")
    return job, read(path, column_map=batch.column_map(folder / "map.toml"))


@pytest.mark.parametrize("name", SAMPLE)
def test_a_list_is_read_the_same_by_its_own_map(name: str, tmp_path: Path) -> None:
    job = read(HERE / name)
    if not job.map_text:
        assert not any(one.heading for one in job.how_read)  # in our own form, or sentences: a map has nothing to say
        return
    job, mapped = again(HERE / name, tmp_path)
    assert heaters(mapped) == heaters(job)
    assert baths(mapped) == baths(job)


def test_the_sample_reads_heaters_of_enough_lists() -> None:
    assert len(SAMPLE) >= 60 and sum(bool(read(HERE / name).banks) for name in SAMPLE[::10]) >= 4


HEADED = [
    ["TANK", None, "HEATERS", None, None, "SUPPLY", None],
    ["Tag", "Process", "Qty", "Rating", None, "Voltage", "Phase"],
    [None, None, "pcs", "kW", "sheath", "V", None],
    ["T-1", "Rinse", 2, 6, "316SS", 480, 3],
    ["T-2", "Etch", 3, 9, "titanium", 480, 3],
]  # fmt: skip


def test_headings_of_three_rows_with_units_are_read_by_their_map(tmp_path: Path) -> None:
    (tmp_path / "list.xlsx").write_bytes(book({"Sheet1": HEADED}, merged={"Sheet1": ["A1:B1", "C1:E1", "F1:G1", "D2:E2"]}))
    job, mapped = again(tmp_path / "list.xlsx", tmp_path)
    assert [(bank.tank, bank.quantity, bank.power_kw, bank.volts_v) for bank in job.banks] == [("T-1", 2, 6, 480), ("T-2", 3, 9, 480)]
    assert [bank.sheath for bank in job.banks] == [bank.sheath for bank in mapped.banks] and job.banks[0].sheath
    assert heaters(mapped) == heaters(job)


def test_what_was_is_known_by_a_map_too(tmp_path: Path) -> None:
    """Steam under what was is no word about the heaters that come in its place."""
    rows = [
        [None, None, "OLD", None, None, "NEW", None, None],
        ["Pos.", "Tank", "Qty", "kW each", "Supply", "Qty", "kW each", "Supply"],
        [1, "B1", 2, 9, "400 V 3~", 2, 12, "400 V 3~"],
        [2, "B2", 1, 6, "400 V 3~", 1, 6, "400 V 3~"],
        [3, "B3", None, None, "steam", 2, 15, "400 V 3~"],
    ]
    (tmp_path / "list.xlsx").write_bytes(book({"Sheet1": rows}, merged={"Sheet1": ["C1:E1", "F1:H1"]}))
    job, mapped = again(tmp_path / "list.xlsx", tmp_path)
    assert [bank.tank for bank in job.banks] == ["B1", "B2", "B3"] and heaters(mapped) == heaters(job)


def test_a_row_that_contradicts_itself_is_asked_by_its_map_too(tmp_path: Path) -> None:
    head = ["Tank", "Qty", "kW each", "A each", "Volts", "Ph"]
    rows = [["V1", 3, 6, 8.7, 400, 3], ["V3", 2, 3, 4.3, 400, 3], ["V5", 2, 12, 8.7, 400, 3], ["V6", 1, 4.5, 6.5, 400, 3]]
    (tmp_path / "list.xlsx").write_bytes(book({"Sheet1": [head, *rows]}))
    job, mapped = again(tmp_path / "list.xlsx", tmp_path)
    assert "V5" not in {bank.tank for bank in job.banks} and heaters(mapped) == heaters(job)


def test_a_map_of_which_nothing_is_filled_in_reads_as_none_does(tmp_path: Path) -> None:
    path = HERE / "thirtysecond/565-tank-data-turned.xlsx"
    job, mapped = again(path, tmp_path)
    assert "[[table]]" not in [line.strip() for line in job.map_text.splitlines()]
    assert [one.code for one in mapped.findings] == [one.code for one in job.findings]


def test_columns_that_are_not_used_stand_in_the_map_and_on_how_it_was_read(tmp_path: Path) -> None:
    rows = [["Immersion heaters, 480 V 3 phase"], ["Vat", "Heaters", "kW ea.", "Crane bay"], ["T-1", 2, 6, "B7"], ["T-2", 2, 6, "B9"]]
    (tmp_path / "list.xlsx").write_bytes(book({"Sheet1": rows}))
    job = read(tmp_path / "list.xlsx")
    [left] = [one for one in job.how_read if one.taken_as == "not used"]
    assert (left.column, left.heading, left.values) == ("D", "Crane bay", "B7; B9")
    assert '# not used: "Crane bay" (B7; B9)' in job.map_text.splitlines()


AMPS = [
    ["Vasca", "N. resistenze", "kW cad.", "A cad.", "Tensione V", "Fasi"], ["V1", 3, 6, 8.7, 400, 3], ["V3", 2, 3, 4.3, 400, 3],
    ["V4", 3, 12, 17.3, 400, 3], ["V5", 2, 12, 8.7, 400, 3],
]  # fmt: skip


def test_a_map_takes_no_row_that_disagrees_with_itself(tmp_path: Path) -> None:
    """Two of 12 kW with the amps of 6 kW: asked about without the map, and by it, whether it names the row or not. What a person writes
    of the row settles it."""
    (tmp_path / "list.xlsx").write_bytes(book({"Sheet1": AMPS}))
    job, mapped = again(tmp_path / "list.xlsx", tmp_path)
    assert [one.tank for one in job.banks] == [one.tank for one in mapped.banks] == ["V1", "V3", "V4"]
    by_columns = "\n".join(line for line in job.map_text.splitlines() if not line.startswith("5 = "))
    (tmp_path / "map.toml").write_text(signed(by_columns), encoding="utf-8")
    assert heaters(read(tmp_path / "list.xlsx", column_map=batch.column_map(tmp_path / "map.toml"))) == heaters(job)
    for answer, power in (('5 = "keep"', 12.0), ("5 = { Power = 6 }", 6.0), ("5 = { Power = 12 }", 12.0)):
        text = "\n".join(answer if line.startswith("5 = ") else line for line in job.map_text.splitlines())
        assert answer in text
        (tmp_path / "map.toml").write_text(signed(text), encoding="utf-8")
        banks = read(tmp_path / "list.xlsx", column_map=batch.column_map(tmp_path / "map.toml")).banks
        assert [(one.quantity, one.power_kw) for one in banks if one.tank == "V5"] == [(2, power)], answer
