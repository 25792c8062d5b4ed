"""Constants by which a customer's list is judged, from both sides: judgement, no source. Each figure is worked by hand beside its rows."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from types import SimpleNamespace

import pytest

from batch.intake.arithmetic import told_by_product
from batch.intake.assignment import Taken
from batch.intake.bare_figures import volts_in_kv
from batch.intake.cell_profiles import Profile
from batch.intake.facts import Fact
from batch.intake.free_lines import bare_rows, free_text
from batch.intake.grid import Grid
from batch.intake.heading_sense import EACH
from batch.intake.line_kinds import Line
from batch.intake.passed_over import speaks
from batch.intake.plan import ColumnPlan, ListPlan
from batch.intake.remark_words import DOUBT, OUT, read_row_words
from batch.intake.sheath_words import sheaths_in
from batch.intake.size_matrix import matrix_of
from batch.intake.survey import HeadingColumn
from batch.intake.verdict import Verdict
from batch.intake.witnesses import weigh
from batch.records import Job
from tests.intake_book import book, codes, read_bytes

HEADINGS = {"quantity": "Qty", "power_kw": "kW", "total_kw": "Total kW", "volts_v": "Volts", "phases": "Ph", "amps_a": "A", "bank": "Mark"}


def lines(*rows: dict[str, object]) -> list[Line]:
    """Rows of a list from their figures by our keys; a `Fact` stands as it is."""
    at = list(HEADINGS)
    return [
        Line(number, facts={key: cell if isinstance(cell, Fact) else Fact(cell, at.index(key), str(cell)) for key, cell in row.items()})
        for number, row in enumerate(rows)
    ]


def weighed(rows: Sequence[Line], *keys: str, power: str = "kW") -> Verdict:
    """What the rows say of the power, in a list with columns of these keys."""
    columns = {key: ColumnPlan(key, at, {**HEADINGS, "power_kw": power}[key]) for at, key in enumerate(HEADINGS) if key in keys}
    plan = ListPlan("List", (1,), 0, len(HEADINGS) - 1, 2, 1 + len(rows), columns=columns)
    return weigh(Grid("List", []), plan, rows, ())


def two(power: float, total: float) -> dict[str, object]:
    return {"quantity": 2, "power_kw": power, "total_kw": total}


@pytest.mark.parametrize(("products", "decided"), [(3, True), (2, False)])
def test_three_rows_whose_total_is_the_product_outweigh_one_whose_total_is_the_power(products: int, decided: bool) -> None:
    said = weighed(lines(*[two(6.0, 12.0)] * products, two(6.0, 6.0)), "quantity", "power_kw", "total_kw")
    assert (said.basis == EACH, set(said.odd_rows)) == (decided, {products} if decided else set())
    assert bool(said.against) is not decided


@pytest.mark.parametrize(("differing", "of_rows"), [(2, True), (3, False)])
def test_totals_that_differ_in_three_rows_are_asked_about_as_a_column(differing: int, of_rows: bool) -> None:
    """7 times 2 is neither 20 nor 7: of two such rows each is asked about, of three the column."""
    said = weighed(lines(*[two(7.0, 20.0)] * differing), "quantity", "power_kw", "total_kw")
    assert set(said.odd_rows) == (set(range(differing)) if of_rows else set())
    assert said.totals_differ is not of_rows


def alone(amps: float) -> dict[str, object]:
    """One heater of 6 kW at 480 V on three phases: 7.217 A."""
    return {"quantity": 1, "power_kw": 6.0, "amps_a": amps, "volts_v": 480.0, "phases": 3}


AMPS = ("quantity", "power_kw", "amps_a", "volts_v", "phases")


@pytest.mark.parametrize(("amps", "odd"), [(8.4, False), (8.6, True)])
def test_amps_are_odd_beyond_fifteen_per_cent(amps: float, odd: bool) -> None:
    """8.4 A are 14.1 % of themselves above 7.217 A, 8.6 A 16.1 %."""
    assert set(weighed(lines(*[alone(7.2)] * 3, alone(amps)), *AMPS).odd_rows) == ({3} if odd else set())


@pytest.mark.parametrize(("fitting", "odd"), [(3, True), (1, True), (0, False)])
def test_amps_are_odd_where_those_of_another_row_fit(fitting: int, odd: bool) -> None:
    assert set(weighed(lines(*[alone(7.2)] * fitting, alone(20.0)), *AMPS).odd_rows) == ({fitting} if odd else set())


@pytest.mark.parametrize(("fitting", "odd"), [(3, True), (2, False)])
def test_amps_of_both_heaters_are_odd_where_three_rows_have_those_of_one(fitting: int, odd: bool) -> None:
    """Two heaters of 6 kW draw 14.4 A at 480 V: as good a column of amps, but not the one that three others are in."""
    rows = [{**alone(amps), "quantity": 2, "total_kw": 12.0} for amps in (*[7.2] * fitting, 14.4)]
    assert set(weighed(lines(*rows), *AMPS, "total_kw").odd_rows) == ({fitting} if odd else set())


@pytest.mark.parametrize(("usual", "others", "decided"), [(7, 3, True), (2, 1, False)])
def test_seven_tenths_of_usual_ratings_are_those_of_one_heater(usual: int, others: int, decided: bool) -> None:
    """7.5 kW is a rating that heaters are made in, its half is not; neither is 7.3 kW nor its half."""
    rows = lines(*[{"quantity": 2, "power_kw": 7.5}] * usual, *[{"quantity": 2, "power_kw": 7.3}] * others)
    assert weighed(rows, "quantity", "power_kw", power="Rating kW").basis == (EACH if decided else "")


@pytest.mark.parametrize(("power", "decided"), [(18.0, True), (20.0, False)])
def test_of_a_schedule_by_marks_one_heater_has_eighteen_kilowatts_at_most(power: float, decided: bool) -> None:
    """Both are usual ratings, and so are their halves, so that nothing else decides."""
    rows = lines(*({"quantity": 2, "power_kw": power, "bank": f"EH-{number}"} for number in (1, 2, 3)))
    assert weighed(rows, "quantity", "power_kw", "bank").basis == (EACH if decided else "")


@pytest.mark.parametrize(("saying", "asked"), [(2, True), (1, False)])
def test_beside_two_descriptions_that_say_each_one_that_does_not_is_asked_about(saying: int, asked: bool) -> None:
    """18 kW of two heaters, where others say "9 kW each": shared out it is 9 kW too."""
    each = {"quantity": 2, "power_kw": Fact(9.0, 1, "9 kW each", source="description", basis=EACH)}
    bare = {"quantity": 2, "power_kw": Fact(18.0, 1, "18 kW", source="description")}
    assert set(weighed(lines(*[each] * saying, bare), "quantity").odd_rows) == ({saying} if asked else set())


@pytest.mark.parametrize(("rows", "basis"), [(2, EACH), (1, None)])
def test_two_rows_of_one_heaters_amps_let_the_others_be_read_by_them(rows: int, basis: str | None) -> None:
    """6 kW of two heaters: 3.608 A of one where 6 kW is all, which 7.217 A, those of 6 kW, leave open."""
    some = [{**alone(3.61), "quantity": 2}] * rows
    said = weighed(lines(*some, {**alone(7.2), "quantity": 2}), *AMPS)
    assert said.of_rows.get(rows, (None,))[0] == basis


def told(*rows: tuple[float, float, float]) -> set[str]:
    """Keys of the columns of number, power and another power, after what their products tell."""
    taken = [Taken("quantity", 0, "Qty", "", "", "certain", 1.0, 1.0), Taken("power_kw", 1, "kW", "", "", "open", 0.9, 1.0, "Load")]
    columns = [HeadingColumn(at, text) for at, text in enumerate(("Qty", "kW", "Load"))]
    region = SimpleNamespace(grid=SimpleNamespace(rows=[list(row) for row in rows]), first=0, last=2, columns=columns)
    return {one.key for one in told_by_product(taken, region, range(len(rows)), [1, 2])}


HIT, MISS = (2, 6.0, 12.0), (2, 6.0, 17.0)


@pytest.mark.parametrize(
    ("rows", "told_apart"), [([HIT] * 2, True), ([HIT], False), ([HIT] * 4 + [MISS], True), ([HIT] * 3 + [MISS], False)]
)
def test_two_rows_and_four_in_five_tell_two_powers_apart(rows: list[tuple[float, float, float]], told_apart: bool) -> None:
    assert told(*rows) == ({"quantity", "power_kw", "total_kw"} if told_apart else {"quantity", "power_kw"})


@pytest.mark.parametrize(
    ("cells", "unit"),
    [
        ([0.4, 0.4, 0.4, 0.7, 0.9], "kV"), ([0.4, 0.4, 0.7, 0.9], ""),  # 3 of 5 are usual as kilovolts, 2 of 4 are not enough
        ([0.4, 0.4, 0.4, "n/a", "see note"], "kV"), ([0.4, 0.4, "n/a", "see note"], ""),  # of the cells as many must be figures
    ],
)  # fmt: skip
def test_three_fifths_of_usual_volts_make_all_kilovolts(cells: list[object], unit: str) -> None:
    plan = ListPlan("List", (1,), 0, 0, 2, 9, columns={"volts_v": ColumnPlan("volts_v", 0, "U")})
    volts_in_kv(plan, {0: Profile(cells)}, ())
    assert plan.columns["volts_v"].unit == unit


@pytest.mark.parametrize(("counts", "others", "found"), [(8, 2, True), (7, 2, False)])
def test_four_fifths_of_counts_make_a_matrix_of_sizes(counts: int, others: int, found: bool) -> None:
    """8 of 10 cells are numbers of heaters; 7 of 9 are 78 %."""
    below = [*[2] * counts, *["by others"] * others]
    rows = [["Tank", "6 kW", "9 kW"], *([f"T-{at}", *below[2 * at : 2 * at + 2]] for at in range((len(below) + 1) // 2))]
    grid = Grid("List", [[*row, *[""] * (3 - len(row))] for row in rows])
    assert (matrix_of(grid) is not None) is found


def listed(folder: Path, *rows: Sequence[object], **more: list[Sequence[object]]) -> Job:
    return read_bytes(folder, book({"Sheet1": list(rows), **more}))


HEAD = ["Tank", "Qty", "kW each", "Volts", "Ph"]


@pytest.mark.parametrize(("power", "asked"), [(36.0, False), (37.0, True)])
def test_a_power_far_above_the_others_is_asked_about_from_where_heaters_end(tmp_path: Path, power: float, asked: bool) -> None:
    """Six times the 6 kW of the others; 36 kW is the most that one usually has."""
    job = listed(tmp_path, HEAD, *([f"T-{at}", 2, 6, 480, 3] for at in (1, 2, 3)), ["T-4", 2, power, 480, 3])
    assert (power not in {one.power_kw for one in job.banks}) is asked and len(job.banks) == (3 if asked else 4)


@pytest.mark.parametrize(("power", "asked"), [(39.9, False), (40.0, True)])
def test_far_above_is_five_times(tmp_path: Path, power: float, asked: bool) -> None:
    job = listed(tmp_path, HEAD, *([f"T-{at}", 2, 8, 480, 3] for at in (1, 2, 3)), ["T-4", 2, power, 480, 3])
    assert len(job.banks) == (3 if asked else 4)


@pytest.mark.parametrize(("volts", "asked"), [(48, True), (60, True), (100, False)])
def test_three_phases_have_a_hundred_volts_or_more(tmp_path: Path, volts: int, asked: bool) -> None:
    job = listed(tmp_path, HEAD, ["T-1", 2, 6, volts, 3], ["T-2", 2, 6, 480, 3])
    assert (len(job.banks), "value-unlikely" in codes(job)) == ((1, True) if asked else (2, False))


@pytest.mark.parametrize(("common", "of", "asked"), [(2, 4, True), (1, 3, False)])
def test_half_of_the_tags_in_common_make_two_lists_issues_of_one(tmp_path: Path, common: int, of: int, asked: bool) -> None:
    one = [HEAD, *([f"T-{at}", 2, 6, 480, 3] for at in range(of))]
    other = [HEAD, *([f"T-{at}", 2, 9, 480, 3] for at in range(of - common, 2 * of - common))]
    assert ("issue-question" in codes(listed(tmp_path, *one, Other=other))) is asked


@pytest.mark.parametrize(("text", "fate"), [("line two tank deleted per client", OUT), ("line two tank deleted per client mail", DOUBT)])
def test_a_word_amid_more_than_five_others_is_a_doubt(text: str, fate: str) -> None:
    """Three words before it and two behind; one more, and what the clause is about is not sure."""
    assert read_row_words(text).fate == fate


@pytest.mark.parametrize(("text", "fate"), [("existing big round duct", ""), ("existing big old round duct", OUT)])
def test_existing_is_about_what_stands_two_words_behind(text: str, fate: str) -> None:
    assert read_row_words(text).fate == fate


def sheet(*rows: Sequence[object]) -> Grid:
    wide = max(map(len, rows))
    return Grid("List", [[*row, *[""] * (wide - len(row))] for row in rows])


@pytest.mark.parametrize(("rows", "found"), [(3, True), (2, False)])
def test_three_rows_of_a_tag_and_a_power_are_a_list_without_headings(rows: int, found: bool) -> None:
    assert (bare_rows(sheet(*([f"T{at}", "3 heaters", "9 kW ea", "480V 3PH"] for at in range(1, rows + 1)))) is not None) is found


@pytest.mark.parametrize(("told", "beside", "others", "found"), [(2, 0, 0, True), (1, 0, 0, False), (3, 2, 5, True), (3, 3, 6, False)])
def test_two_sentences_that_name_a_tank_and_a_power_are_a_request(told: int, beside: int, others: int, found: bool) -> None:
    """Of the rows a fifth may hold more than the one cell: 2 of 10, not 3 of 12."""
    asking = [[f"Tank T-{at} needs 3 heaters of 9 kW."] for at in range(told)]
    rows = [*asking, *[["Attn.", "Purchasing"]] * beside, *[["Regards"]] * others]
    assert (free_text(sheet(*rows)) is not None) is found


@pytest.mark.parametrize(("text", "sheath"), [("tank no. 14 titanium", False), ("tank of line 14 titanium", True)])
def test_a_metal_two_words_behind_a_tank_is_of_the_tank(text: str, sheath: bool) -> None:
    longest, _ = sheaths_in(text, text)
    assert bool(longest) is sheath


@pytest.mark.parametrize(("count", "asked"), [(24, True), (26, False)])
def test_up_to_twenty_four_a_figure_looks_like_a_number_of_heaters(count: int, asked: bool) -> None:
    """Beside 7.5 kW and 480 V; 26 is neither a number of heaters nor a power that heaters are made in."""
    assert bool(speaks([(0, "North side"), (1, count), (2, 7.5), (3, 480)])) is asked


@pytest.mark.parametrize(
    ("text", "fate"),
    [("tank is gone", OUT), ("tank cut up", OUT), ("rev C: make this 6 same as 22", DOUBT), ("the duct is gone", "")],
)
def test_a_tank_that_is_gone_takes_its_heaters_along_and_what_is_to_become_another_number_is_asked(text: str, fate: str) -> None:
    assert read_row_words(text).fate == fate


def test_a_table_of_sizes_below_the_heaters_is_none_of_them(tmp_path: Path) -> None:
    """Its tags and numbers stand in the columns of the list; the list's own headings, standing there again, change nothing."""
    top = [["Alimentation : 400V tri 50 Hz"], [None]]
    heads = ["Cuve n°", "Opération", "Nombre de thermoplongeurs", "kW unitaire", "Obs."]
    own = [["V-1", "Satinage", 2, 15], ["V-2", "Colmatage", 3, 15]]
    sizes = [["Cuve", "Longueur (mm)", "Largeur (mm)", "Hauteur (mm)", "Matière"], ["V-1", 72, 36, 42, "PP"], ["V-2", 84, 48, 48, "PP"]]
    beside = listed(tmp_path, *top, heads, *own, [None], ["Cuves"], *sizes)
    assert [(bank.quantity, bank.power_kw) for bank in beside.banks] == [(2, 15.0), (3, 15.0)]
    again = listed(tmp_path, *top, heads, *own, [None], heads, ["V-3", "Satinage", 4, 9])
    assert [bank.quantity for bank in again.banks] == [2, 3, 4]
