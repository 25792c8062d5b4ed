"""The manager's page: what the bid is, its worst things, what is open, how full the feeders are."""

from __future__ import annotations

import re
from decimal import Decimal
from pathlib import Path

import openpyxl
import pytest
from msgspec.structs import replace

import batch
from batch.price.bid_totals import bid_totals
from batch.price.questions import ask
from batch.report.bid_words import (
    CLASSES,
    HELD,
    HURTS,
    PRICE,
    REST,
    bid_sentence,
    class_of,
    for_whom,
    fullest_feeders,
    lost_projects,
    project_row,
    what_is_open,
    worst_things,
)  # fmt: skip
from batch.schedules import rows
from tests.job_builder import bank, feeder, part, project, size
from tests.make_samples import HERE
from tests.sample_results import SMALL, opened_values
from tests.samples import book, small
from tests.test_rows_not_sized import HEADINGS, READABLE, checked, of_sheets


def test_the_sentence_says_what_the_bid_is() -> None:
    """Two tanks of 3 x 6 and 2 x 9 kW, both single circuits."""
    banks = [bank(), bank(tank="T-2", quantity=2, power_kw=9.0, connection=None)]
    assert bid_sentence(size(banks).projects) == "2 tanks with 5 heaters, 36 kW connected, in 2 single-circuit banks on 1 feeder; no price."
    panels = bid_sentence(size([*banks, bank(tank="T-3", quantity=6)]).projects)
    assert panels.endswith(", in 1 heater panel and 2 single-circuit banks on 1 feeder; no price.")


def test_what_is_missing_and_what_has_no_price_is_said() -> None:
    priced = [part(part="C-1", kind="contactor", rating_a=50.0, poles=3, volts_v=600.0, unit_price=80.0)]
    result = size([bank(), bank(tank="T-2", phases=2, quantity=2, power_kw=9.0)], stock=priced, projects=project(currency="USD"))
    sentence = bid_sentence(result.projects)
    assert "; at least 80.00 USD for parts, " in sentence
    assert sentence.endswith("Not in it: 1 bank not sized, 18 kW by its row.")


def test_worst_things_are_one_of_a_kind_with_the_most_kw_first() -> None:
    """Two banks without a limit: the one with more kW is named. A bank on hold stands before both."""
    small = bank(tank="T-1", over_temperature_limit="no", quantity=1)
    large = bank(tank="T-2", over_temperature_limit="no", quantity=1, power_kw=9.0)
    held = bank(tank="T-3", fixed_rating_a=15.0, power_kw=9.0, quantity=1)
    result = size([small, large, held])
    listed = rows(result, "findings")
    found = worst_things(listed, result.projects)
    assert found[0].kind == HELD and found[0].words.startswith("tank T-3")
    [hurts] = [one for one in found if one.kind == HURTS]
    assert hurts.words.startswith("tank T-2")
    cell = {**listed[found[0].at], "code": "cell-placeholder", "harm": "", "tank": "T-1", "bank": "", "message": "Not given yet."}
    overload = {**cell, "code": "fixed-rating-small", "harm": "overload"}
    both = worst_things([{**cell, "tank": "T-2"}, overload], result.projects)
    assert [one.words.partition(",")[0] for one in both] == ["tank T-1", "tank T-2"]  # an overload of 6 kW before a blank of 9
    one_class = [row for row in listed if class_of(row) in (HELD, HURTS)]  # two classes
    third = worst_things([*one_class, {**one_class[0], "code": "another", "message": "Another hold."}], result.projects)
    assert [one.kind for one in third] == [HELD, HELD, HURTS] and third[1].words == "tank T-3, feeder F-1: Another hold."


def test_where_there_is_money_the_dearest_is_the_worst() -> None:
    """T-104 has 27 kW and T-105 has 18, and costs more; of two equal findings the dearer tank is named, and the larger without money."""
    result = batch.check(HERE / "small-clean.xlsx")
    worth = {view.name: sum(atom.cost.price for atom in view.atoms) for view in result.money.views if view.kind == "tank"}
    assert worth["T-105"] > worth["T-104"]
    said = dict.fromkeys(("project", "feeder", "bank", "effect", "harm"), "") | {"severity": "caution", "code": "x", "project": "PILOT"}
    said |= {"effect": rows(result, "findings")[0]["effect"], "count": 1}
    listed = [{**said, "tank": tank, "message": f"Look at {tank}."} for tank in ("T-104", "T-105")]
    assert [one.words for one in worst_things(listed, result.projects, money=result.money)] == ["tank T-105: Look at T-105."]
    assert [one.words for one in worst_things(listed, result.projects)] == ["tank T-104: Look at T-104."]


def test_a_check_that_fails_is_open() -> None:
    """The small sample, of which nothing is open, with a figure of its own that does not agree: the page does not say that nothing is."""
    result = batch.check(HERE / "small-clean.xlsx")
    assert what_is_open(result.projects, (), rows(result, "findings"), result.money) == []
    [one] = what_is_open(result.projects, (), rows(result, "findings"), result.money, failed=2)
    assert (one.number, one.words, one.sheet) == (2, "checks of this workbook that FAIL: see Checks", "checks")


@pytest.mark.parametrize("name", READABLE)
def test_what_the_page_counts_is_what_the_sheets_show(name: str) -> None:
    result = checked(name)
    listed, banks = rows(result, "findings"), rows(result, "banks")
    still = what_is_open(result.projects, result.not_sized, listed)
    assert all(one.words.split()[0].endswith("s") == (one.number > 1) for one in still)
    found = {re.sub(r"^(\w+?)s? ", r"\1 ", re.split("[:,]", one.words)[0]): one.number for one in still}
    assert found.get("bank not sized", 0) == sum(row["status"] == "not sized" for row in banks)
    assert found.get("bank on hold", 0) == sum(row["status"].startswith("HOLD") for row in banks)
    hurting = [row for row in listed if row["severity"] == "caution" and row["harm"] in ("fire", "shock", "overload")]
    assert found.get("caution on fire", 0) == sum(row["count"] for row in hurting)
    worst = worst_things(listed, result.projects)
    assert [CLASSES.index(one.kind) for one in worst] == sorted(CLASSES.index(one.kind) for one in worst)
    codes = {row["code"] for row in listed if class_of(row)}
    grave = {code: min(grade(row) for row in listed if row["code"] == code and class_of(row)) for code in codes}
    assert [grade(listed[one.at]) for one in worst] == sorted(grave.values())[:3]  # nothing graver is left out
    assert len(worst) == len({listed[one.at]["code"] for one in worst}) == min(3, len(codes))
    assert all(one.words.endswith(listed[one.at]["message"]) for one in worst)


def grade(row: dict) -> int:
    """Not sized, on hold, on what can hurt, on the price, on other things."""
    return 0 if row["effect"] == "not sized" else 1 + CLASSES.index(class_of(row))


def test_of_what_is_as_grave_what_most_hangs_on_comes_first() -> None:
    """Nothing of a row that is not sized stands behind a hold; of equal kW what more rows say; the first in the list comes last here."""
    result = size([bank(), bank(tank="T-2", power_kw=9.0)])
    held = {"project": "P-1", "severity": "hold", "effect": "not released for fabrication", "harm": "", "tank": "T-1", "bank": "",
            "feeder": "", "count": 1, "code": "a", "message": "Held."}  # fmt: skip
    out = {**held, "effect": "not sized", "code": "b", "message": "Out."}
    listed = [
        {**held, "severity": "caution", "effect": "", "code": "c"}, {**held, "code": "d", "message": "Held once."}, {**held, "count": 2},
        out, {**out, "tank": "T-2"},
    ]  # fmt: skip
    assert [one.words for one in worst_things(listed, result.projects)] == ["tank T-2: Out.", "tank T-1: Held.", "tank T-1: Held once."]


def test_read_first_says_in_how_many_lines_of_findings_its_count_stands() -> None:
    """Few notes of a clean job speak of many rows: who reads the count finds as many rows, in these lines."""
    sheet = opened_values(SMALL)["Read first"]
    [(number, words)] = [(row[1].value, str(row[2].value)) for row in sheet.iter_rows() if row[0].value == "notes"]
    lines = [row for row in opened_values(SMALL)["Findings"].iter_rows(values_only=True) if row[1] == "note"]
    assert words == f"assumed or chosen for you; in {len(lines)} lines of Findings"
    assert number == sum(row[12] for row in lines) > len(lines)
    assert len(lines) <= 11  # of eight banks; each looked at: no default is said twice


def test_a_tag_is_said_once() -> None:
    """Other load is said of a feeder by its name: no second "feeder F-1: " before it."""
    result = size([bank()], [feeder(other_load_a=40.0)])
    listed = rows(result, "findings")
    [worst] = [one for one in worst_things(listed, result.projects) if "other load" in one.words]
    assert worst.words.startswith("F-1: 40 A of other load")


def test_classes_of_findings() -> None:
    def of(severity: str, effect: str = "", harm: str = "") -> str:
        return class_of({"severity": severity, "effect": effect, "harm": harm})

    assert of("hold", "not sized") == of("hold", "not released for fabrication", "fire") == HELD
    assert of("caution", harm="shock") == HURTS and of("caution", harm="price") == PRICE and of("caution") == REST
    assert of("note", harm="fire") == ""


def test_a_feeder_is_as_full_as_the_device_that_is_there() -> None:
    """26.04 A with the margin behind 15 A: 174 %, whatever device would serve."""
    result = size(bank(quantity=1, power_kw=10.0), feeder(existing_device_a=15.0))
    assert fullest_feeders(result.projects) == ["F-1: 174 % of its 15 A OCPD"]


def test_the_fullest_feeders_first() -> None:
    """3 x 6 kW in delta on 480 V: 21.65 A, 27.06 A with 25 %; on a 30 A device 90 %, on an existing one of 100 A 27 %."""
    banks = [bank(), bank(tank="T-2", feeder="F-2")]
    result = size(banks, [feeder(feeder="F-2", existing_device_a=100.0), feeder()])
    assert fullest_feeders(result.projects) == ["F-1: 90 % of its 30 A OCPD", "F-2: 27 % of its 100 A OCPD"]


def test_a_project_of_which_nothing_is_sized_is_named() -> None:
    sheets = {
        "Projects": [["Project", "Ambient (°C)"], ["P-1", 30], ["P-2", "warm"]],
        "Heaters": [HEADINGS, ["P-1", "T-1", None, 3, 6, 480, 3], ["P-2", "T-2", "F-1", 5, 4, 480, 3]],
    }
    assert lost_projects(of_sheets(sheets)) == [("P-2", "1 bank not sized, 20 kW by its row")]


def test_nothing_open_where_all_is_settled() -> None:
    result = checked(str((HERE / "small-clean.xlsx").relative_to(HERE)))
    priced = replace(result.projects[0], materials=())
    assert what_is_open([priced], (), rows(result, "findings")) == []


def test_of_several_projects_the_one_that_is_meant_is_named() -> None:
    """F-1 of each: the page of the whole bid says whose it is, a project's own page need not."""
    both = [project(project="P-1"), project(project="P-2")]
    banks = [bank(), bank(project="P-2", over_temperature_limit="no")]
    result = size(banks, [feeder(), feeder(project="P-2", existing_device_a=100.0)], projects=both)
    listed = rows(result, "findings")
    worst = [one.words for one in worst_things(listed, result.projects)]
    assert all(words.startswith(("P-1, ", "P-2, ")) for words in worst) and any(words.startswith("P-2, ") for words in worst)
    assert not any(one.words.startswith("P-2, ") for one in worst_things(listed, result.projects[1:], "P-2"))
    assert fullest_feeders(result.projects) == ["P-1, F-1: 90 % of its 30 A OCPD", "P-2, F-1: 27 % of its 100 A OCPD"]
    assert fullest_feeders(result.projects[:1]) == ["F-1: 90 % of its 30 A OCPD"]


def test_whom_the_bid_is_for() -> None:
    """Projects of one customer in one breath; another customer, or none, in another."""
    one = project(project="P-1", title="Rinse line", customer="Nowhere Works", site="Nowhere", revision="B")
    two = project(project="P-2", customer="Nowhere Works", site="Nowhere")
    nobody = project(project="P-3")
    banks = [bank(project=name) for name in ("P-1", "P-2", "P-3")]
    feeders = [feeder(project=name) for name in ("P-1", "P-2", "P-3")]
    assert for_whom(size(banks, feeders, projects=[one, two, nobody]).projects) == (
        "Rinse line, revision B; P-2, for Nowhere Works, Nowhere. P-3"
    )
    assert for_whom(size([bank(project="")], [feeder(project="")], projects=project(project="")).projects) == ""


def test_rows_not_sized_questions_and_old_prices_are_counted(tmp_path: Path) -> None:
    """Of eight rows one has no volts; every price is of 2025-02-03, four weeks before the bid, and good for a week."""
    tables = small.tables()
    tables["heaters"][0]["volts_v"] = None
    tables["pricing"][0]["good_for_days"] = 7
    book.write(tmp_path / "job.xlsx", small.TITLE, small.STORY, tables)
    result = batch.check(tmp_path / "job.xlsx")
    assert ", 1 of 8 rows not sized" in bid_sentence(result.projects, result.not_sized, result.money)
    found = {one.words: one for one in what_is_open(result.projects, result.not_sized, rows(result, "findings"), result.money, 3)}
    assert found["questions to the customer without an answer"][::2] == (3, "questions")
    old = found["prices too old at the date of the bid, or dated after it"]
    parts = {line.part for one in result.projects for line in one.materials if line.price_date and line.price is not None}
    assert (old.number, old.sheet) == (len(parts), "buy_list") and old.number > 50


def test_the_first_page_names_the_customer_what_is_asked_and_each_project_s_money(tmp_path: Path) -> None:
    tables = small.tables()
    for name, some in tables.items():
        tables[name] = some + [{**row, "project": "SECOND"} for row in some if "project" in row]
    tables["heaters"][0]["volts_v"] = None
    book.write(tmp_path / "job.xlsx", small.TITLE, small.STORY, tables)
    result = batch.size(tmp_path / "job.xlsx")
    page = openpyxl.load_workbook(result.written)["Read first"]
    said = [str(cell.value) for row in page.iter_rows(max_row=40) for cell in row if cell.value is not None]
    assert any(words.endswith(", for Nowhere Falls Plating Works (invented), Nowhere Falls (invented).") for words in said)
    for one in result.projects:
        own = bid_totals(result.money, {one.project.project})
        [words] = [words for words in said if f"full cost at least {own.cost:,.0f}" in words or f"full cost {own.cost:,.0f}" in words]
        assert f"aterial {'at least ' if own.open else ''}{own.material:,.0f}" in words and " types and 1 single-circuit bank; " in words
    at = next(row for row in page.iter_rows(max_row=60) if str(row[2].value).startswith("question"))
    assert at[0].value == len(ask(result)) >= 1 and at[1].hyperlink is not None


NUMBERS = re.compile(
    r"(\d+) tanks; (\d+) heaters; (\d+) kW; (\d+) heater panels of (\d+) types and (\d+) single-circuit banks?; "
    r"material (?:at least )?([\d,]+); ([\d,.]+) h in the shop, "
    r"([\d,.]+) h on site; full cost (?:at least )?([\d,]+); price (?:at least )?([\d,.]+) USD; margin [\d.]+ %; (\d+|no) lines? open"
)


def test_a_row_a_project_and_the_plant_and_the_plant_is_the_sum_of_what_the_rows_show(tmp_path: Path) -> None:
    """Two projects whose prices end in fractions of a cent: each column of the plant's row is the sum of the two above it."""
    tables = small.tables()
    for name, some in tables.items():
        tables[name] = some + [{**row, "project": "ANNEX"} for row in some if row.get("project") == "PILOT"]
    tables["heaters"] = [row for row in tables["heaters"] if (row["project"], row["tank"]) != ("ANNEX", "T-101")]
    next(row for row in tables["heaters"] if (row["project"], row["tank"]) == ("ANNEX", "T-104"))["heater_run_m"] = None
    book.write(tmp_path / "job.xlsx", small.TITLE, small.STORY, tables, us=True)
    result = batch.check(tmp_path / "job.xlsx")
    said = [project_row(some, result.money) for some in ([result.projects[0]], [result.projects[1]], result.projects)]
    found = [NUMBERS.match(words) for words in said]
    assert all(found), said
    figures = [[Decimal(one.replace(",", "").replace("no", "0")) for one in match.groups()] for match in found if match]
    assert [sum(pair) for pair in zip(*figures[:2], strict=True)] == figures[2]
    exact = bid_totals(result.money, {"PILOT", "ANNEX"})
    assert figures[2][-2] == Decimal("196486.41") and f"{exact.price:.2f}" == "196486.42"  # which no sum of printed prices is
    assert "196,486.41" in bid_sentence(result.projects, (), result.money)


def test_a_price_dated_after_the_bid_is_as_old_as_one_too_old(tmp_path: Path) -> None:
    """One heater's price is of the day after the bid; all others are four weeks old and good for ninety days."""
    tables = small.tables()
    next(row for row in tables["stock"] if row["part"] == "HTR-101")["price_date"] = "2025-03-04"
    book.write(tmp_path / "job.xlsx", small.TITLE, small.STORY, tables)
    result = batch.check(tmp_path / "job.xlsx")
    [old] = [one for one in what_is_open(result.projects, (), rows(result, "findings"), result.money) if one.sheet == "buy_list"]
    assert (old.number, old.words) == (1, "price too old at the date of the bid, or dated after it")
