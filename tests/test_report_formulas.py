"""Column formulas: what is let through, what they become in a cell, and that they say what the sizing core says."""

from __future__ import annotations

import re
from math import sqrt

import openpyxl
import pytest
from hypothesis import given
from hypothesis import strategies as st

from batch.errors import SpecificationError
from batch.report.code_names import code_names
from batch.schedules import RESULTS, rows
from batch.sheets import Column, Sheet
from batch.writing import live
from batch.writing.book import whole_book
from batch.writing.fast_sheet import Cells, Stored, StoredText
from batch.writing.formulas import far_columns, judge, needed, pieces
from batch.writing.live import Keeper, worked_out
from tests.report_job import job_result

SHEET = Sheet(
    "demo", "Demo", "row", "",
    (
        Column("tag", "Tag"),
        Column("power_kw", "Power", "kW", kind="number", format="kw"),
        Column("volts_v", "Volts", "V", kind="number", format="volts"),
        Column("run_m", "Run", "m", "ft", kind="number", format="length"),
    ),
)  # fmt: skip


@pytest.mark.parametrize(
    ("formula", "fault"),
    [
        ("[power_kw]*1.25", "the number 1.25 belongs on Code basis"),
        ("[power_kw]*4", "the number 4 belongs"),
        ("XLOOKUP([tag],1)", "XLOOKUP is not a function"),
        ("NOW()", "NOW is not a function"),
        ("IF(IF(IF(IF(1,1,1),1,1),1,1),1,1)", "more than 3 deep"),
        ("[power_kw]*(1+2", "cut short"),
        ("[power_kw]+", "cut short"),
        ("1)", "closed that was not opened"),
        ("[power_kw];1", "cannot be read at ';1'"),
        ("A1+1", "cannot be read at 'A1+1'"),
        ("'[other.xlsx]Sheet'!A1", "cannot be read"),
    ],
)
def test_a_formula_that_breaks_the_rules_is_refused(formula, fault):
    with pytest.raises(SpecificationError, match=re.escape(fault)):
        judge(formula, "column x")


def test_pieces_have_the_row_number_between_them():
    assert pieces("[power_kw]*1000/[volts_v]", SHEET, ()) == ("B", "*1000/C", "")
    assert pieces('IF([power_kw]<{limit},"low",1)', SHEET, {"limit"}) == ("IF(B", '&lt;limit,"low",1)')
    assert needed('IF([power_kw]<{limit},"low",1)') == {"limit"}


def test_a_formula_names_only_what_is_there():
    with pytest.raises(SpecificationError, match="names the column amps"):
        pieces("[amps]", SHEET, ())
    with pytest.raises(SpecificationError, match="names limit, which is not on Code basis"):
        pieces("{limit}", SHEET, ())
    with pytest.raises(SpecificationError, match="works in m, but column run_m is shown in ft"):
        pieces("[run_m]", SHEET, (), us=True)


def test_worked_out_as_a_spreadsheet_does():
    row = {"a": 3.0, "b": None, "c": "x"}
    assert worked_out("[a]*2+1", {})(row) == 7
    assert worked_out("[a]^2/[a]", {})(row) == 3
    assert worked_out("[a]+[b]", {})(row) == 3  # a blank is nought in a sum
    assert worked_out('IF([b]="",1,2)', {})(row) == 1  # and empty text in a comparison
    assert worked_out('IF([a]="",1,2)', {})(row) == 2
    assert worked_out('([b]<>"")*100', {})(row) == 0
    assert worked_out("IFERROR([a]/[b],0)", {})(row) == 0
    assert worked_out("IF([a]<={limit},1,0)", {"limit": 3.0})(row) == 1
    assert worked_out("SQRT([a])*ROUND([a]/2,0)", {})(row) == pytest.approx(sqrt(3) * 2)
    with pytest.raises(SpecificationError, match="limit, which is not on Code basis"):
        worked_out("{limit}", {})


def test_a_figure_that_the_formula_would_not_give_stays_a_figure():
    table = [{"tag": "a", "power_kw": 6.0, "volts_v": 2.0, "run_m": 12.0}, {"tag": "b", "power_kw": 6.0, "volts_v": 2.0, "run_m": 13.0}]
    keeper = Keeper({"run_m": "[power_kw]*[volts_v]"}, {})
    keeper.mark(table)
    assert keeper.kept == {"run_m": 1}
    assert [type(row["run_m"]) for row in table] == [float, Stored]


def test_rows_with_the_same_in_the_cells_of_a_formula_are_judged_once_and_each_counted(monkeypatch):
    worked: list[dict] = []
    monkeypatch.setattr(live, "worked_out", lambda formula, names: lambda row: worked.append(row) or row["a"] * 2)
    table = [{"tag": str(at), "a": 3.0, "b": own} for at, own in enumerate((6.0, 7.0, 6.0, 7.0, None))]
    keeper = Keeper({"b": "[a]*2"}, {})
    keeper.mark(table)
    assert keeper.kept == {"b": 2}
    assert [type(row["b"]) for row in table] == [float, Stored, float, Stored, type(None)]
    assert len(worked) == 3


@pytest.fixture(scope="module")
def result():
    return job_result()


def test_every_formula_of_the_specification_is_live_on_an_ordinary_job(result):
    """And gives what the core gave: nothing is kept as a figure."""
    names = code_names(result)
    checked = 0
    for sheet in RESULTS:
        formulas = {column.key: column.formula for column in sheet.columns if column.formula and not far_columns(column.formula)}
        data = rows(result, sheet.id)
        if formulas and data:
            assert frozenset().union(*map(needed, formulas.values())) <= names.keys()
            keeper = Keeper(formulas, names)
            keeper.mark(data)
            assert keeper.kept == {}
            checked += len(formulas)
    assert checked > 10


amps = st.floats(0.0, 5000.0)


@given(amps, amps, amps, st.sampled_from([1, 3]))
def test_unbalance_formula_by_definition(a, b, c, phases):
    """Maximum deviation from the mean, in per cent of the mean: NEMA MG 1-2016, 14.36, of voltages; here of currents (from memory)."""
    spec = next(sheet for sheet in RESULTS if sheet.id == "feeder_totals")
    present = [a, b, c] if phases == 3 else [a, b]
    row = {"i_a": a, "i_b": b, "i_c": c if phases == 3 else None, "maximum_a": max(present)}
    mean = sum(present) / len(present)
    expected = 100 * max(abs(one - mean) for one in present) / mean if mean else 0.0
    assert worked_out(spec["unbalance_pct"].formula, {})(row) == pytest.approx(expected, rel=1e-9, abs=1e-7)
    assert worked_out(spec["maximum_a"].formula, {})(row) == max(present)


def test_heater_current_formula_by_hand():
    """6 kW at 480 V on one phase is 12.5 A; 18 kW at 380 V on three is 27.35 A (common practice, no source)."""
    spec = next(sheet for sheet in RESULTS if sheet.id == "banks")
    heater = worked_out(spec["heater_a"].formula, {})
    assert heater({"power_kw": 6.0, "volts_v": 480.0, "phases": 1}) == 12.5
    assert heater({"power_kw": 18.0, "volts_v": 380.0, "phases": 3}) == pytest.approx(27.35, abs=0.005)
    design = worked_out(spec["design_a"].formula, {"same_volts_band": 0.02})
    assert design({"heater_a": 10.0, "applied_v": 277.13, "volts_v": 277.0}) == 10.0  # the same nominal volts
    assert design({"heater_a": 10.0, "applied_v": 480.0, "volts_v": 440.0}) == pytest.approx(10.0 * 480 / 440)
    assert design({"heater_a": 10.0, "applied_v": 208.0, "volts_v": 240.0}) == 10.0  # under-volted: still its nameplate
    delivered = worked_out(spec["delivered_kw"].formula, {"same_volts_band": 0.02})
    assert delivered({"quantity": 2, "power_kw": 6.0, "applied_v": 208.0, "volts_v": 240.0}) == pytest.approx(12 * (208 / 240) ** 2)


def test_ratings_and_prices_by_hand():
    """15.625 A takes 20 A; 16 A x 1.25 is 20 A exactly and takes 20, not 25 (NFPA 70-2023, 240.6(A) for the ratings)."""
    banks, materials = (next(sheet for sheet in RESULTS if sheet.id == id) for id in ("banks", "materials"))
    rating = worked_out(banks["rating_a"].formula, {"ratings": (15.0, 20.0, 25.0, 30.0)})
    assert rating({"required_a": 15.625, "arrangement": "panel"}) == 20.0
    assert rating({"required_a": 16.0 * 1.25, "arrangement": "panel"}) == 20.0
    assert rating({"required_a": 20.0000001, "arrangement": "panel"}) == 20.0  # the same to 1e-6 A
    assert rating({"required_a": 20.00001, "arrangement": "panel"}) == 25.0
    assert rating({"required_a": 1.0, "arrangement": "panel"}) == 15.0
    with pytest.raises(IndexError):
        rating({"required_a": 31.0, "arrangement": "panel"})
    price = worked_out(materials["price"].formula, {})
    assert price({"unit_price": 2.5, "quantity": 4, "per": 1, "rate": 1, "supplied": None, "sort": "part", "raceway_price": None}) == 10.0
    by_length = {"unit_price": 182.0, "quantity": 250, "per": 1000, "rate": 1, "supplied": None, "sort": "part", "raceway_price": None}
    assert price(by_length) == 45.5  # 250 ft of what is sold by 1000 ft
    assert price({"unit_price": None, "quantity": 4, "per": 1, "rate": 1, "supplied": None, "sort": "part", "raceway_price": None}) == ""
    table = [dict.fromkeys(materials.by_key) | {"per": 1, "rate": 1, "quantity": 4, "unit_price": 2.5, "price": 10.0, "priced": "priced"}]
    table += [dict.fromkeys(materials.by_key) | {"per": 1, "rate": 1, "quantity": 4, "priced": "open"}]
    table += [dict.fromkeys(materials.by_key) | {"per": 1, "rate": 1, "unit_price": 2.5, "price": 10.0, "priced": "by length"}]
    keeper = Keeper({key: materials[key].formula for key in ("price", "priced")}, {})
    keeper.mark(table)
    assert [row["price"] for row in table] == [10.0, "", 10.0]
    assert [type(row["price"]) for row in table] == [float, str, Stored]  # a price by length is not quantity times price
    assert [type(row["priced"]) for row in table] == [str, str, StoredText]


def test_figures_words_and_nothing_in_columns_of_formulas(tmp_path):
    path = tmp_path / "x.xlsx"
    with whole_book(path, "x") as book:
        sheet = book.add_worksheet("Data")
        plain = book.styles.cell("calculation", "number")
        rows_ = [(1.0, 2.0, "a", None), (1.0, Stored(7.0), StoredText("=b"), Stored(8.0)), (1.0, "", "c", None), (1.0, None, None, None)]
        spec = [Cells(0, plain), Cells(1, plain, ("A", "*2")), Cells(2, plain, ("IF(A", '=1,"a","b")')), Cells(3, plain, ("A", "*8"))]
        sheet.store_rows(0, spec, rows_)
    formulas, values = openpyxl.load_workbook(path)["Data"], openpyxl.load_workbook(path, data_only=True)["Data"]
    assert [cell.value for cell in formulas["B"]] == ["=A1*2", 7, "=A3*2", None]
    assert [cell.value for cell in formulas["C"]] == ['=IF(A1=1,"a","b")', "=b", '=IF(A3=1,"a","b")', None]
    assert formulas["C2"].data_type == "s"
    assert [cell.value for cell in values["B"]][:2] == [2, 7]
    assert [cell.value for cell in values["C"]] == ["a", "=b", "c", None]
    assert [cell.value for cell in formulas["D"]] == [None, 8, None, None]  # no row of them has its formula
