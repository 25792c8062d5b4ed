"""Spares on a shelf, counts of what is in the tanks, rows that name others, registers, prices by bidder, volts settled. All invented."""

from __future__ import annotations

from pathlib import Path

import pytest

from batch.intake.described import described
from batch.intake.facts import Fact
from batch.intake.line_kinds import Line, supply_beside
from batch.intake.list_words import meanings
from batch.intake.volts_settled import settle_volts
from tests.intake_book import read_sheets
from tests.test_intake_plain_lists import HEAD, codes, heaters, read_list


def tanks(folder: Path, *rows: list[object]) -> list[str | None]:
    return [bank.tank for bank in read_list(folder, *rows).banks]


@pytest.mark.parametrize(
    "remark",
    ["+2 spare on shelf", "2 more on the shelf", "two spares in stores", "2 Ersatz im Lager", "2 de rechange au magasin",
     "2 scorte in magazzino", "2 zapasowe w magazynie", "2 reserve på lager"],
)  # fmt: skip
def test_spares_on_a_shelf_say_nothing_of_the_heaters_in_the_tank(remark: str, tmp_path: Path) -> None:
    rows: list[list[object]] = [["T-1", 4, 9, 480, 3, remark], ["T-2", 2, 9, 480, 3, ""]]
    assert heaters(read_list(tmp_path, HEAD, *rows)) == [("T-1", 4, 9, 480, 3), ("T-2", 2, 9, 480, 3)]


@pytest.mark.parametrize("remark", ["2 of them spare on shelf", "order 2 spares for shelf", "incl. 1 spare on shelf", "spare"])
def test_spares_among_those_that_are_counted_are_asked(remark: str, tmp_path: Path) -> None:
    rows: list[list[object]] = [["T-1", 4, 9, 480, 3, remark], ["T-2", 2, 9, 480, 3, ""]]
    assert tanks(tmp_path, HEAD, *rows) == ["T-2"]


@pytest.mark.parametrize(
    ("there", "stored"),
    [("Installed", "Spares in crib"), ("In service", "On hand"), ("Eingebaut", "Ersatz im Lager"), ("En service", "Rechanges magasin"),
     ("In uso", "Scorta a magazzino"), ("Monterade", "Reserv i förråd"), ("Instalováno", "Náhradní sklad")],
)  # fmt: skip
def test_those_in_the_tank_count_beside_those_on_a_shelf(there: str, stored: str, tmp_path: Path) -> None:
    rows: list[list[object]] = [["40", 4, 1, 9, 480, 3], ["41", 2, 1, 9, 480, 3], ["44", 0, 2, 6, 480, 3], ["46", 1, 0, 3, 240, 1]]
    job = read_list(tmp_path, ["Tank", there, stored, "kW each", "Volts", "Ph"], *rows)
    assert heaters(job) == [("40", 4, 9, 480, 3), ("41", 2, 9, 480, 3), ("46", 1, 3, 240, 1)]


def test_a_bare_spare_may_be_of_those_that_are_installed(tmp_path: Path) -> None:
    rows: list[list[object]] = [["40", 4, 1, 9, 480, 3], ["41", 2, 1, 9, 480, 3], ["46", 2, 0, 3, 240, 1]]
    assert not tanks(tmp_path, ["Tank", "Installed", "Spare", "kW each", "Volts", "Ph"], *rows)


@pytest.mark.parametrize(("ordered", "sized"), [(3, True), (4, False)])
def test_what_is_ordered_with_spares_is_not_what_is_in_the_tank(ordered: int, sized: bool, tmp_path: Path) -> None:
    """Where the order is no sum of the two, nobody knows which of the counts is meant."""
    head = ["Tank", "Bath", "In tank", "Spare", "Order qty", "kW each", "V", "Ph"]
    rows: list[list[object]] = [["Ni-1", "Watts", 4, 1, 5, 9, 480, 3], ["Ni-2", "Sulfamate", 2, 1, ordered, 6, 480, 3]]
    rows += [["Cu-1", "Acid copper", 1, 0, 1, 4.5, 240, 1]]
    found = heaters(read_list(tmp_path, head, *rows))
    assert found == ([("Ni-1", 4, 9, 480, 3), ("Ni-2", 2, 6, 480, 3), ("Cu-1", 1, 4.5, 240, 1)] if sized else [])


@pytest.mark.parametrize("place", ["OFFICE", "HALL-3"])
def test_in_a_register_the_place_is_the_tank_where_every_heater_is_in_one(place: str, tmp_path: Path) -> None:
    head = ["EQNUM", "DESCRIPTION", "LOCATION", "QTY", "RATING_KW_EA", "VOLTAGE", "PHASE"]
    rows: list[list[object]] = [
        [100231, "HEATER, IMMERSION", "TK-31", 2, 9, 480, 3], [100240, "CHILLER", place, 1, 15, 480, 3],
        [100251, "HEATER, IMMERSION", "TK-36", 4, 12, 480, 3],
    ]  # fmt: skip
    assert heaters(read_list(tmp_path, head, *rows)) == [("TK-31", 2, 9, 480, 3), ("TK-36", 4, 12, 480, 3)]
    rows[1][1] = "HEATER, IMMERSION"
    assert not tanks(tmp_path, head, *rows)


@pytest.mark.parametrize("remark", ["wire for 480", "use 480 V", "auf 480 V schalten", "raccordé en 480 V", "tilsluttes 480 V"])
def test_a_remark_settles_a_cell_of_two_voltages(remark: str, tmp_path: Path) -> None:
    rows: list[list[object]] = [["C1", 2, 9, 480, 3, ""], ["C4", 2, 6, "240/480", 3, remark], ["C5", 1, 3, 480, 3, ""]]
    assert ("C4", 2, 6, 480, 3) in heaters(read_list(tmp_path, HEAD, *rows))


@pytest.mark.parametrize("remark", ["have both in the building", "wire for 480?", "240 or 480, wire for 480", "wire for 600", "tank 480"])
def test_a_remark_that_settles_nothing(remark: str, tmp_path: Path) -> None:
    rows: list[list[object]] = [["C1", 2, 9, 480, 3, ""], ["C4", 2, 6, "240/480", 3, remark], ["C5", 1, 3, 480, 3, ""]]
    assert tanks(tmp_path, HEAD, *rows) == ["C1", "C5"]
    line = Line(0, facts={"volts_v": Fact(None, 3, "240/480", "supply-unsure")})
    settle_volts(line, [(5, remark)])  # nor where somebody keeps the row all the same
    assert line.value("volts_v") is None


@pytest.mark.parametrize("said", ["Same as item 1", "same heaters as T-1", "gleiche Heizer wie T-1", "mêmes résistances que T-1"])
def test_a_row_that_says_whose_heaters_it_has(said: str, tmp_path: Path) -> None:
    head = ["Item", "Tank", "Qty", "kW each", "Volts", "Ph", "Remarks"]
    rows: list[list[object]] = [[1, "T-1", 2, 9, 480, 3, ""], [2, "T-2", 1, 6, 480, 3, ""], [3, "T-3", "", "", "", "", said]]
    assert heaters(read_list(tmp_path, head, *rows))[2] == ("T-3", 2, 9, 480, 3)


@pytest.mark.parametrize("heading", ["Bidder A", "Vendor 2", "Bidder A $", "Anbieter A", "Offre 1", "Dodavatel B"])
def test_prices_by_bidder_are_nothing_of_the_heaters(heading: str, tmp_path: Path) -> None:
    """The A is no amps."""
    assert [one.key for one in meanings(heading)] == [""]
    rows: list[list[object]] = [["T-1", 2, 9, 480, 3, 1200], ["T-2", 1, 6, 480, 3, 800], ["T-3", 2, 6, 480, 3, 1500]]
    assert "row-disagrees" not in codes(read_list(tmp_path, [*HEAD[:5], heading], *rows))


def test_a_power_of_a_piece() -> None:
    for text in ("2 heaters 6 kW/pc", "2 heaters, 6 kW/htr", "2 htrs 6 kW per pc", "2 Stk 6 kW/Stck"):
        said = described(text)
        assert (said.facts.get("quantity"), said.facts.get("power_kw"), said.power_of) == (2, 6, "each"), text
    assert "power_kw" not in described("2 heaters, 6 kW/m").facts
    assert [meanings(f"kW {of}")[0].basis for of in ("per pc", "/pcs", "a piece", "apiece")] == ["each"] * 4


def test_a_row_of_none_is_no_heading(tmp_path: Path) -> None:
    """ "n/a" has an A in it."""
    none = ["n/a"] * 4
    rows: list[list[object]] = [["T-1", 2, 9, 480, 3, ""], ["T-2", *none, "steam"], ["T-4", 1, 6, 480, 3, ""]]
    assert tanks(tmp_path, HEAD, *rows) == ["T-1", "T-4"]


@pytest.mark.parametrize("title", ["Voltage 480, 3 phase unless otherwise shown", "Default: 480 V, 3 ph, 60 Hz unless noted"])
def test_a_title_that_gives_the_supply_of_all_rows(title: str, tmp_path: Path) -> None:
    rows: list[list[object]] = [[title], [], ["Tank", "Qty", "kW each", "Notes"], ["T-1", 2, 9, ""], ["T-3", 1, 3, "240 V, 1 ph"]]
    assert heaters(read_sheets(tmp_path, {"Sheet1": rows})) == [("T-1", 2, 9, 480, 3), ("T-3", 1, 3, 240, 1)]
    assert supply_beside("Tank 480, 3 phase") is None or supply_beside("Tank 480, 3 phase").volts is None  # type: ignore[union-attr]
