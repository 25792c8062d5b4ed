"""Every shipped table against figures typed a second time, sums, geometry and physics."""

from __future__ import annotations

import csv
import math
from collections import Counter
from pathlib import Path

import pytest

from batch import rules
from batch.rules.tables import MEMORY, PRACTICE, READ, SHAPES

PUBLISHED = Path(__file__).parent / "published"
NEC_2023 = rules.load("NEC 2023").read_all()
FOLDER = NEC_2023.folder
INSIDE_IN2 = {(row["raceway"], row["trade_size"]): row.figure("area_in2") for row in NEC_2023.table("raceways")}
OF_IEC = {  # it goes by the lines, sets times for earth faults, tells installation methods apart, and tightens by the thread
    "protective", "disconnection", "fuse_gates", "breaker_bands", "ampacity_by_method", "methods", "ambient_ground", "adjustment_layer",
    "adjustment_ground", "torque_threads",
}  # fmt: skip
ROLES = {entry[0]: role for role, entry in NEC_2023.section("tables").items()}


def published(name: str) -> list[dict[str, str]]:
    with (PUBLISHED / name).open(newline="", encoding="utf-8") as file:
        return list(csv.DictReader(file))


def only_row(file: str, where: str):
    """The one row of a shipped table whose cells are as `where` says ("size=12;build=solid"); the first where builds repeat it."""
    wanted = dict(pair.split("=", 1) for pair in where.split(";"))
    found = [row for row in NEC_2023.table(ROLES[file]) if all(row[column] == cell for column, cell in wanted.items())]
    assert found, f"{file}: no row {where}"
    assert len(found) == 1 or len({row["area_cmil"] for row in found}) == 1
    return found[0]


def same(cell: str, value: str) -> bool:
    try:
        return float(cell) == float(value)
    except ValueError:
        return cell == value


def test_clauses_typed_again_are_the_shipped_ones():
    """Typed a second time beside what stands there (headings of NFPA 70-2023, from memory): a slip in one of the two is seen."""
    assert {entry["name"]: entry["clause"] for entry in published("clauses.csv")} == NEC_2023.section("clauses")


def test_every_file_plays_a_role_and_every_role_has_a_file():
    assert set(ROLES) == {path.name for path in FOLDER.glob("*.csv")}
    assert set(ROLES.values()) == set(SHAPES) - OF_IEC


@pytest.mark.parametrize("cell", published("table_cells.csv"), ids=lambda cell: f"{cell['file']}:{cell['where']}:{cell['column']}")
def test_cells_typed_again_are_the_shipped_ones_with_the_same_status(cell):
    row = only_row(cell["file"], cell["where"])
    assert same(row[cell["column"]], cell["value"])
    if cell["status"] != "trade practice":
        assert row.from_memory(cell["column"]) == (cell["status"] == MEMORY)


def test_every_table_has_at_least_three_cells_typed_again():
    counts = Counter(cell["file"] for cell in published("table_cells.csv"))
    assert not [file for file in ROLES if counts[file] < 3]


def test_second_transcriptions_from_other_pages_agree():
    again = published("second_transcription.csv")
    assert len(again) == 387
    assert not [cell for cell in again if not same(only_row(cell["file"], cell["where"])[cell["column"]], cell["value"])]


@pytest.mark.parametrize("entry", published("table_sums.csv"), ids=lambda entry: f"{entry['file']}:{entry['column']}")
def test_rows_and_sums(entry):
    """Sums are of the transcription that the shipped file was made from: they catch a changed cell, not a wrong source."""
    table = NEC_2023.table(ROLES[entry["file"]])
    cells = [float(row[entry["column"]]) for row in table if row[entry["column"]]]
    assert len(table.rows) == int(entry["rows"])
    assert len(cells) == int(entry["cells"])
    assert math.fsum(cells) == pytest.approx(float(entry["sum"]), abs=1e-9, rel=1e-12)


def test_every_table_has_a_sum():
    assert set(ROLES) == {entry["file"] for entry in published("table_sums.csv")}


def test_no_cell_is_from_before_2011():
    """Fifteen cells of widely copied old pages differ from the table in force; none of them may be shipped."""
    stale = published("cells_before_2011.csv")
    assert len(stale) == 15
    for cell in stale:
        shipped = only_row(cell["file"], cell["where"])[cell["column"]]
        assert same(shipped, cell["now"]) and not same(shipped, cell["before_2011"])


def test_every_row_says_where_it_stands_and_how_it_was_obtained():
    for role in set(SHAPES) - OF_IEC:
        for row in NEC_2023.table(role):
            assert row["source"] and row["check"] and row["status"] in (READ, MEMORY, PRACTICE)
            assert set(row["memory_cells"].split()) <= set(row.cells)
            assert "http" not in row["source"] + row["check"]


def test_ampacity_rises_with_size_and_column_and_aluminum_is_below_copper():
    for material in ("copper", "aluminum"):
        for column in (60, 75, 90):
            amps = [cited.value for size in NEC_2023.sizes if (cited := NEC_2023.ampacity(size, material, column))]
            assert amps == sorted(set(amps))
    for size in NEC_2023.sizes:
        for material in ("copper", "aluminum"):
            columns = [cited.value for column in (60, 75, 90) if (cited := NEC_2023.ampacity(size, material, column))]
            assert columns == sorted(columns)
        if size != "14":
            for column in (60, 75, 90):
                ratio = NEC_2023.ampacity(size, "aluminum", column).value / NEC_2023.ampacity(size, "copper", column).value
                assert 0.6 < ratio < 0.9


def test_ambient_factors_follow_the_heating_formula_at_the_hot_end_of_each_band():
    """Table 310.15(B)(1)(1) is sqrt((Tc - Ta) / (Tc - 30)), rounded to two places (the code's own equation, from memory)."""
    seen = 0
    for top_c in (10, *range(15, 90, 5)):
        for column in (60, 75, 90):
            cited = NEC_2023.ambient_factor(top_c, column)
            if cited is None:
                assert column - top_c <= 5
                continue
            seen += 1
            assert cited.value == pytest.approx(math.sqrt((column - top_c) / (column - 30)), abs=0.0061)
    assert seen == 10 + 13 + 16


def test_insulated_conductor_areas_are_those_of_their_diameters():
    for row in NEC_2023.table("conductor_areas"):
        assert row.number("area_in2") == pytest.approx(math.pi / 4 * row.number("diameter_in") ** 2, rel=0.012)


def test_raceway_areas_are_those_of_their_diameters_and_the_limits_are_shares_of_them():
    for row in NEC_2023.table("raceways"):
        area = row.number("area_in2")
        assert area == pytest.approx(math.pi / 4 * row.number("diameter_in") ** 2, abs=0.0011 + 0.0003 * area)
        for percent in (53, 31, 40, 60):
            assert row.number(f"area_{percent}pct_in2") == pytest.approx(area * percent / 100, abs=0.00101)


def test_resistances_are_those_of_copper_and_aluminum():
    """Ohm x cmil / 1000 ft at 75 °C: 12.9 for copper and 21.2 for aluminum (textbook K), stranding and rounding allowed for."""
    for row in NEC_2023.table("conductor_properties"):
        cmil = row.number("area_cmil")
        assert 12.5 < row.number("cu_ohm_per_kft") * cmil / 1000 < 13.1
        assert 20.7 < row.number("al_ohm_per_kft") * cmil / 1000 < 21.5
        assert row.number("area_mm2") == pytest.approx(cmil * 5.0671e-4, rel=0.006)


def test_ac_resistance_is_at_least_the_dc_resistance():
    """Table 9 against Table 8, within the rounding of Table 9's two digits."""
    dc = {row["size"]: row for row in NEC_2023.table("conductor_properties") if row["build"] == "stranded"}
    for row in NEC_2023.table("impedance"):
        for metal in ("cu", "al"):
            if (ac := row.number(f"{metal}_steel_ohm_per_kft")) is not None:
                assert 0.96 < ac / dc[row["size"]].number(f"{metal}_ohm_per_kft") < 1.45


def test_ground_conductors_never_shrink_and_never_exceed_the_table():
    for material in ("copper", "aluminum"):
        ranks = [NEC_2023.rank(NEC_2023.ground(row.number("device_a"), material).value) for row in NEC_2023.table("ground")]
        assert ranks == sorted(ranks)


def test_wye_systems_have_root_three_between_line_and_neutral():
    for row in NEC_2023.table("systems"):
        if "Y/" in row["system"]:
            assert row.number("line_line_v") / row.number("line_neutral_v") == pytest.approx(math.sqrt(3), abs=0.01)
    neutral_volts = {row.number("line_neutral_v") or row.number("line_line_v") for row in NEC_2023.table("systems")}
    assert set(NEC_2023.named_list("branch_voltage_ln").value) <= neutral_volts


def test_contactor_heating_ratings_are_close_to_their_continuous_amps():
    """NEMA ICS 2: the resistance-heating kW of a size is 90 to 101 % of its continuous rating at those volts."""
    seen = 0
    for row in NEC_2023.table("contactors"):
        if (kw := row.number("heating_kw_3ph")) is not None:
            seen += 1
            assert 0.90 < kw * 1000 / math.sqrt(3) / row.number("heating_volts_v") / row.number("continuous_a") < 1.01
    assert seen == 6


def fits(quotient: float) -> int:
    """Conductors that fit, a decimal of 0.8 or more counted as one more: Chapter 9, Note 7 to the tables."""
    return math.floor(quotient + 0.2 + 1e-9)


def annex_c(raceway: str, trade_size: str, insulation: str, size: str) -> int:
    area, wire = INSIDE_IN2[raceway, trade_size], NEC_2023.wire_area(size, insulation).value
    limits = {count: NEC_2023.fill_limit(count).value / 100 for count in (1, 2, 3)}
    if (many := fits(area * limits[3] / wire)) >= 3:
        return many
    if fits(area * limits[2] / wire) >= 2:
        return 2
    return 1 if fits(area * limits[1] / wire) >= 1 else 0


def test_printed_annex_c_counts_follow_from_the_areas():
    """440 printed counts; two cells of schedule 80 PVC stand 0.002 to 0.004 of a conductor under the rounding."""
    counts = published("annex_c_counts.csv")
    wrong = {
        (c["raceway"], c["insulation"], c["trade_size"], c["size"])
        for c in counts
        if annex_c(c["raceway"], c["trade_size"], c["insulation"], c["size"]) != int(c["count"])
    }
    assert len(counts) == 440
    assert len(wrong) == 2 and {(case[0], case[1]) for case in wrong} == {("PVC-80", "XHHW")}


def test_a_raceway_chosen_never_holds_more_than_annex_c_prints():
    """The strict limit (no rounding up at 0.8) is on the safe side of every printed count."""
    for c in published("annex_c_counts.csv"):
        if (count := int(c["count"])) and c["trade_size"] != "3/8":
            areas = [NEC_2023.wire_area(c["size"], c["insulation"]).value] * (count + 1)
            chosen = NEC_2023.raceway(c["raceway"], areas)
            if chosen is not None:
                assert INSIDE_IN2[c["raceway"], chosen.value.trade_size] > INSIDE_IN2[c["raceway"], c["trade_size"]]


def areas_of(words: str, insulation: str) -> list[float]:
    """Areas of "3x12 4x10": three of 12 AWG and four of 10 AWG."""
    areas: list[float] = []
    for part in words.split():
        count, size = part.split("x")
        areas += [NEC_2023.wire_area(size, insulation).value] * int(count)
    return areas


def look_up(case: dict[str, str]) -> object:
    arguments = case["arguments"].split(";")
    match case["look_up"], *arguments:
        case "derated ampacity", size, material, column, ambient:
            return NEC_2023.ampacity(size, material, int(column)).value * NEC_2023.ambient_factor(float(ambient), int(column)).value
        case "small conductor", size, material:
            return NEC_2023.small_conductor_limit(size, material).value
        case "fill in2", wires, insulation:
            return math.fsum(areas_of(wires, insulation))
        case "raceway", kind, wires, insulation:
            return NEC_2023.raceway(kind, areas_of(wires, insulation)).value.trade_size
        case "smallest conductor", amps, material, column:
            return next(size for size in NEC_2023.sizes if NEC_2023.ampacity(size, material, int(column)).value >= float(amps))
        case "three in parallel", size, material, column:
            return 3 * NEC_2023.ampacity(size, material, int(column)).value
        case "contactor", amps:
            return NEC_2023.contactor(float(amps)).value.name
    raise AssertionError(case["look_up"])


@pytest.mark.parametrize("case", published("worked_tables.csv"), ids=lambda case: f"{case['case']} {case['look_up']}")
def test_published_worked_examples(case):
    """Numbers to half a unit of the last printed digit."""
    answer, expected = look_up(case), case["published"]
    if case["unit"] in ("A", "in2"):
        digits = len(expected.partition(".")[2])
        assert answer == pytest.approx(float(expected), abs=0.5 * 10**-digits + 1e-12)
    else:
        assert answer == expected
