"""One cell of one column: its value in the column's unit, or a fault that names itself."""

from __future__ import annotations

import re
from datetime import date, datetime, time

import pytest
from hypothesis import given
from hypothesis import strategies as st

from batch.findings import CATALOGUE
from batch.intake.cells import Outcome, reader
from batch.intake.grid import Broken, Shown
from batch.intake.number_limits import Refused, TypedNumber, judge_of, limits
from batch.sheets import FEEDERS, HEATERS, INPUTS, PROJECTS, TANKS, Column
from batch.units import EXACT, between, spelled

SHEETS = {"P": PROJECTS, "F": FEEDERS, "T": TANKS, "H": HEATERS}


def read(where: str, value: object, unit: str = "", pair: bool = False) -> object:
    """Reads a cell of "H.power_kw": a value, or the code of what is said about it."""
    sheet, key = where.split(".")
    outcome = reader(SHEETS[sheet][key], spelled(unit) if unit else None, pair=pair)(value)
    return outcome.code if isinstance(outcome, Outcome) else outcome


@pytest.mark.parametrize(
    ("where", "value", "expected"),
    [
        ("H.power_kw", 6.0, 6.0), ("H.power_kw", "6", 6.0), ("H.power_kw", "6 kW", 6.0), ("H.power_kw", "6000W", 6.0),
        ("H.power_kw", "6kw", 6.0),
        ("H.power_kw", "1,5 kW", 1.5), ("H.power_kw", "6 kW ea", 6.0), ("H.power_kw", "6 kW each", 6.0), ("H.power_kw", "0.02 MW", 20.0),
        ("H.power_kw", "10 hp", 7.4569987158227), ("H.power_kw", "3 x 6 kW", "cell-read-as"), ("H.power_kw", "6-9 kW", "cell-not-number"),
        ("H.power_kw", "6 kVA", "unit-unknown"), ("H.power_kw", "6 kW?", "unit-unknown"), ("H.power_kw", "approx. 6", "cell-not-number"),
        ("H.power_kw", True, "cell-not-number"), ("H.power_kw", datetime(2024, 5, 6), "cell-not-number"),
        ("H.power_kw", time(6, 30), "cell-not-number"),
        ("H.power_kw", float("inf"), "cell-out-of-range"), ("H.power_kw", float("nan"), "cell-out-of-range"),
        ("H.power_kw", "-", "cell-placeholder"),
        ("H.power_kw", " ", None), ("H.power_kw", "480/277", "cell-not-number"),
        ("H.quantity", 4.0, 4), ("H.quantity", "4", 4), ("H.quantity", "4 ea", 4), ("H.quantity", "4 pcs.", 4),
        ("H.quantity", "4 pairs", "cell-not-number"),
        ("H.quantity", 1001, "cell-out-of-range"), ("H.quantity", "4 100", "cell-out-of-range"), ("H.quantity", 3.9999999999, 4),
        ("H.phases", 3.0, 3), ("H.phases", "3-phase", 3), ("H.phases", "1ph", 1), ("H.phases", "Single", 1), ("H.phases", "three phase", 3),
        ("H.phases", "3Ø", 3), ("H.phases", "1~", 1), ("H.phases", "3 PH.", 3), ("H.phases", 2.0, "cell-not-allowed"),
        ("H.phases", float("inf"), "cell-out-of-range"),
        ("H.phases", "2ph", "cell-not-number"),
        ("H.volts_v", 480.0, 480.0), ("H.volts_v", "480 V", 480.0), ("H.volts_v", "480VAC", 480.0), ("H.volts_v", "277 V", 277.0),
        ("H.volts_v", "0.48 kV", 480.0), ("H.volts_v", "480/277", "cell-volts-pair"), ("H.volts_v", "240/480 V", "cell-volts-pair"),
        ("H.volts_v", "480/3/60", "cell-read-as"), ("H.volts_v", 1001.0, "cell-out-of-range"), ("H.volts_v", 0.0, "cell-zero"),
        ("H.volts_v", -480.0, "cell-negative"), ("H.volts_v", "480 V 3 ph", "cell-read-as"), ("H.volts_v", "480 3 60", "cell-not-number"),
        ("H.connection", "Star", "wye"), ("H.connection", "Δ", "delta"), ("H.connection", "DELTA", "delta"),
        ("H.connection", "zig-zag", "cell-choice-unknown"),
        ("H.connection", "tbd", "cell-placeholder-blank"),
        ("P.insulation", "XHHW-2", "XHHW-2"), ("P.insulation", "xhhw2", "XHHW-2"), ("P.insulation", "XHHW", "cell-choice-unknown"),
        ("P.insulation", "THWN", "cell-choice-unknown"), ("P.insulation", "THHN/THWN-2", "THWN-2"),
        ("H.phase_pair", "L1-L2", "A-B"), ("H.phase_pair", "b - a", "A-B"), ("H.phase_pair", "A-D", "cell-choice-unknown"),
        ("H.over_temperature_limit", "Y", "yes"), ("H.over_temperature_limit", True, "yes"), ("H.over_temperature_limit", 0.0, "no"),
        ("H.over_temperature_limit", "maybe", "cell-choice-unknown"),
        ("H.heater_run_m", "12 ft", 3.6576), ("H.heater_run_m", "12'", 3.6576), ("H.heater_run_m", "12'6\"", 3.81),
        ("H.heater_run_m", "12 ft 6 in", 3.81),
        ("H.heater_run_m", "12' 6 1/2\"", 3.8227), ("H.heater_run_m", 0.0, 0.0), ("H.heater_run_m", "n/a", "cell-placeholder-blank"),
        ("H.heated_length_mm", "1 1/2 in", 38.1), ("H.diameter_mm", "7/16\"", 11.1125), ("H.bank", 1.0, "1"), ("H.bank", " A ", "A"),
        ("H.tank", 101.0, "101"), ("H.tank", 10.5, "10.5"), ("H.tank", "  T  1 ", "T  1"), ("H.tank", "007", "007"),
        ("H.tank", "TBD", "cell-placeholder"),
        ("H.tank", date(2024, 4, 3), "tag-is-date"), ("H.notes", "-", "-"), ("H.notes", datetime(2024, 5, 6), "2024-05-06"),
        ("H.notes", "=1+1", "=1+1"),
        ("P.terminal_c", 75.0, 75), ("P.terminal_c", "75 °C", 75), ("P.terminal_c", "140 °F", 60),
        ("P.terminal_c", 70.0, 70), ("P.terminal_c", "90 °C", 90),
        ("P.terminal_c", 65.0, "cell-not-allowed"),
        ("P.ambient_c", "104 °F", 40.0), ("P.ambient_c", -10.0, -10.0), ("P.ambient_c", 104.0, "cell-out-of-range"),
        ("P.margin_pct", "25 %", 25.0),
        ("P.code_basis", 2023.0, "NEC 2023"), ("P.code_basis", "nec-2020", "NEC 2020"), ("P.date", date(2024, 5, 6), "2024-05-06"),
        ("P.date", "May 6", "May 6"),
        ("P.date", 45000.0, "cell-not-allowed"), ("P.largest_conductor", 500.0, "500"), ("P.largest_conductor", "4/0", "4/0"),
        ("F.fault_ka", "65000 A", 65.0), ("F.fault_ka", "65 kA", 65.0), ("F.wires", "4W", 4), ("F.wires", "3 wire", 3),
        ("F.demand_factor", 0.8, 0.8),
        ("F.source_kva", "0.5 MVA", 500.0), ("F.source_z_pct", "5,75 %", 5.75), ("T.volume_l", "100 gal", 378.5411784),
        ("T.operating_c", "140F", 60.0),
        ("T.operating_c", "60 deg C", 60.0), ("T.heatup_h", "90 min", 1.5), ("T.cover", "None", "open"),
        ("T.level_cutoff", "not fitted", "no"),
    ],
)  # fmt: skip
def test_reads_or_says_why_not(where: str, value: object, expected: object) -> None:
    assert read(where, value) == expected
    assert type(read(where, value)) is type(expected)


@pytest.mark.parametrize(
    ("text", "volts", "wires"),
    [("480Y/277", 480, 4), ("480/277", 480, 4), ("277/480 V", 480, 4), ("208Y/120V", 208, 4), ("600Y/347", 600, 4),
     ("120/240", 240, 3), ("400/230", 400, 4), ("480V/277V", 480, 4), ("480 Y / 277", 480, 4)],
)  # fmt: skip
def test_a_supply_named_by_two_voltages(text: str, volts: float, wires: int) -> None:
    """The pairs are those of ANSI C84.1, from memory. 480Y/277 is 4 wires by ruling; the others go by the same ratio."""
    outcome = reader(FEEDERS["volts_v"], pair=True)(text)
    assert isinstance(outcome, Outcome) and not outcome.fault
    assert (outcome.value, outcome.wires) == (volts, wires)


@pytest.mark.parametrize("text", ["480/240/120", "480/400", "480Y/0", "480Y", "5000/2887"])
def test_other_pairs_are_no_supply(text: str) -> None:
    outcome = reader(FEEDERS["volts_v"], pair=True)(text)
    assert isinstance(outcome, Outcome) and outcome.fault


def test_unit_of_the_heading_holds_for_bare_numbers_only() -> None:
    assert read("H.power_kw", 6000.0, "W") == 6.0
    assert read("H.power_kw", "6000", "W") == 6.0
    assert read("H.power_kw", "6 kW", "W") == 6.0
    assert read("H.heater_run_m", 25.0, "ft") == 7.62


def test_unit_shown_by_the_cell_format_is_what_a_person_sees() -> None:
    assert read("P.margin_pct", Shown(0.25, "%")) == 25.0
    assert read("P.margin_pct", 25.0) == 25.0
    assert read("F.demand_factor", Shown(0.8, "%")) == 0.8
    assert read("H.power_kw", Shown(6000.0, "W")) == 6.0
    assert read("H.heater_run_m", Shown(25.0, "ft")) == 7.62
    assert read("H.volts_v", Shown(4.8, "%")) == "unit-unknown"


def message(where: str, value: object, unit: str = "") -> str:
    sheet, key = where.split(".")
    outcome = reader(SHEETS[sheet][key], spelled(unit) if unit else None)(value)
    assert isinstance(outcome, Outcome) and outcome.fault
    return CATALOGUE[outcome.code].template.format(**outcome.fields).partition(" is ")[2]


@pytest.mark.parametrize(
    ("where", "value", "unit", "said"),
    [
        # 1000 m is 3280.84 ft, 85 °C 185 °F, 250 °C 482 °F and -20 °C -4 °F; a limit is rounded inward
        ("H.heater_run_m", -20.0, "ft", "negative: -20 ft; accepted is 0 to 3280 ft."),
        ("H.heater_run_m", "-20 feet", "", "negative: -20 feet; accepted is 0 to 3280 feet."),
        ("H.heater_run_m", "-20", "ft", "negative: -20 ft; accepted is 0 to 3280 ft."),
        ("H.heater_run_m", -20.0, "", "negative: -20 m; accepted is 0 to 1000 m."),
        ("H.heater_run_m", 3281.0, "ft", "3281 ft; accepted is 0 to 3280 ft."),
        ("H.heater_run_m", "9999' 6\"", "", "9999' 6\"; accepted is 0 to 3280 ft."),
        ("H.heater_run_m", Shown(4000.0, "ft"), "", "4000 ft; accepted is 0 to 3280 ft."),
        ("H.power_kw", 2000000.0, "W", "2000000 W; accepted is above 0 up to 1000000 W."),
        ("P.ambient_c", "300 °F", "", "300 °F; accepted is -40 to 185 °F."),
        ("P.ambient_c", 300.0, "°F", "300 °F; accepted is -40 to 185 °F."),
        ("P.ambient_c", 300.0, "", "300 °C; accepted is -40 to 85 °C."),
        ("T.operating_c", "-10 °F", "", "-10 °F; accepted is -4 to 482 °F."),
        ("P.terminal_c", "20 °F", "", "20 °F; accepted is 140 to 194 °F."),
        ("P.terminal_c", "32 °F", "", "32 °F; accepted is 140 to 194 °F."),
        ("P.terminal_c", "149 °F", "", "149 °F; accepted is 140 °F, 158 °F, 167 °F or 194 °F."),
        ("P.terminal_c", 65.0, "", "65 °C; accepted is 60, 70, 75 or 90."),
        ("P.ambient_c", -100.0, "K", "-100 K; accepted is 233.2 to 358.1 K."),
    ],
)
def test_what_is_out_of_limits_is_said_as_typed_with_the_limits_in_its_unit(where: str, value: object, unit: str, said: str) -> None:
    assert message(where, value, unit) == said


@pytest.mark.parametrize("column", [one for sheet in INPUTS for one in sheet.columns if spelled(one.unit) and one.kind != "text"])
def test_limits_in_any_unit_are_accepted_as_they_are_said(column: Column) -> None:
    """Each end that the words of a refusal give is itself accepted, in every unit of the quantity."""
    own = spelled(column.unit)
    assert own is not None
    for unit in {one for one in EXACT.values() if one.quantity == own.quantity}:
        ends = re.findall(r"(?<!above )(?<![\d.])-?\d[\d.e+-]*", limits(column, TypedNumber(0.0, unit, "")))
        assert ends
        for end in ends:
            assert type(judge_of(column)(between(float(end), unit, own))) is not Refused or column.kind == "integer", (end, unit)


@pytest.mark.parametrize(
    ("where", "value", "letter", "meant"),
    [("H.power_kw", "1O", "O", "10"), ("H.quantity", "1O", "O", "10"), ("H.volts_v", "48O V", "O", "480 V"),
     ("H.power_kw", "l2 kW", "l", "12 kW"),
     ("H.power_kw", "1OkW", "O", "10kW"), ("F.run_m", "1oo ft", "o", "100 ft"), ("P.margin_pct", "O", "O", "0")],
)  # fmt: skip
def test_a_letter_that_looks_like_a_figure_is_named(where: str, value: str, letter: str, meant: str) -> None:
    sheet, key = where.split(".")
    outcome = reader(SHEETS[sheet][key])(value)
    assert isinstance(outcome, Outcome) and (outcome.code, outcome.fault, outcome.value) == ("cell-letter-in-number", True, None)
    assert (outcome.fields["letter"], outcome.fields["meant"]) == (letter, meant)


@pytest.mark.parametrize(
    ("where", "value"),
    [("H.power_kw", "6 of"), ("H.quantity", "10 off each"), ("H.phases", "3O"), ("T.operating_c", "6oC x"),
     ("H.power_kw", "T-1O"), ("H.power_kw", "loo")],
)
def test_a_letter_is_not_blamed_where_figures_in_its_place_are_no_number_either(where: str, value: str) -> None:
    assert read(where, value) in ("cell-not-number", "unit-unknown")


@pytest.mark.parametrize("calculated", [True, False])
def test_broken_cells_are_faults_in_every_column(calculated: bool) -> None:
    for sheet in INPUTS:
        for column in sheet.columns:
            outcome = reader(column)(Broken("#REF!", calculated))
            assert isinstance(outcome, Outcome) and outcome.fault
            assert outcome.code == ("cell-error" if calculated else "cell-not-calculated")


anything = st.one_of(
    st.none(), st.text(max_size=30), st.floats(), st.booleans(), st.datetimes(), st.dates(), st.times(), st.timedeltas(),
    st.from_regex(r"[-+]?[0-9.,' ]{1,8} ?(kW|W|V|A|ft|'|in|°[CF]|%|ea|ph|L|gal)?", fullmatch=True),
)  # fmt: skip


@given(anything, st.sampled_from([column for sheet in INPUTS for column in sheet.columns]), st.booleans())
def test_any_cell_in_any_column_is_a_value_or_a_named_outcome(value: object, column, pair: bool) -> None:
    outcome = reader(column, pair=pair)(value)
    if isinstance(outcome, Outcome):
        kind = CATALOGUE[outcome.code]
        assert outcome.code == "volts-pair-read" or kind.fields <= outcome.fields.keys()
        outcome = outcome.value
    if outcome is None:
        return
    if column.kind in ("number", "integer", "volts"):
        assert isinstance(outcome, int if column.kind == "integer" else float)
        assert column.low is None or outcome >= column.low
        assert column.above is None or outcome > column.above
        assert column.high is None or outcome <= column.high
    else:
        assert isinstance(outcome, str) and outcome == outcome.strip() and outcome
        assert column.kind != "choice" or column.open_words or outcome in column.choices
