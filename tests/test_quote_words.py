"""What a customer reads of a quotation that is not whole: which price waits for which question, what was taken, what is promised."""

from __future__ import annotations

import re
import zipfile
from collections.abc import Callable
from pathlib import Path

import docx
import openpyxl
import pytest

import batch
from batch.price.questions import NOT_PRICED, ask, question_kinds
from batch.quoting.awaited import follows
from batch.quoting.grouping import BY
from batch.quoting.offer import CustomerOffer, quote_project
from tests.make_samples import HERE
from tests.samples import book, plant_iec, small

Tables = dict[str, list[dict[str, object]]]


def job(folder: Path, *changes: Callable[[Tables], None], us: bool = True) -> Path:
    """The small sample with something changed."""
    tables = small.tables()
    for change in changes:
        change(tables)
    book.write(folder / "job.xlsx", small.TITLE, small.STORY, tables, us=us)
    return folder / "job.xlsx"


def row_of(tables: Tables, table: str, tag: str) -> dict[str, object]:
    return next(row for row in tables[table] if row["tank"] == tag)


def without_volts(tables: Tables) -> None:
    row_of(tables, "heaters", "T-101")["volts_v"] = None


def without_a_length(tables: Tables) -> None:
    row_of(tables, "heaters", "T-104")["heater_run_m"] = None


def held_by_a_note(tables: Tables) -> None:
    row_of(tables, "heaters", "T-103")["notes"] = "HOLD"


def without_a_price(tables: Tables) -> None:
    next(row for row in tables["stock"] if row["part"] == "HTR-106").pop("unit_price")


def too_weak(tables: Tables) -> None:
    """Every two-pole breaker of the list is marked for less than the fault current."""
    for row in tables["stock"]:
        if row["kind"] == "breaker" and row["poles"] == 2:
            row["sccr_ka"] = 0.1


def waits_for(offer: CustomerOffer) -> dict[str, str]:
    """What stands in place of a price, and there "question n" by what the question is about."""
    about = {str(one.number): one.words for one in offer.questions}
    found = {}
    for place in offer.positions:
        if place.price is None:
            words, _, numbers = follows(place).partition(", see question")
            asked = [number.strip() for number in numbers.lstrip("s").split(",") if number]
            found[place.tag] = " | ".join([words, *(about[number] for number in asked)])
    return found


def test_a_price_names_the_questions_that_it_waits_for_and_no_other(tmp_path: Path) -> None:
    """T-101 lacks its volts, and its supply with it, T-103 its release, T-104 a length: their questions. T-106 lacks a price of ours, and
    so do fuses of the whole project, which nobody is asked for."""
    offer = quote_project(batch.check(job(tmp_path, without_volts, without_a_length, held_by_a_note, without_a_price))).offer
    found = waits_for(offer)
    assert set(found) == {"T-101", "T-103", "T-104", "T-106", "Supply F-1", "General"}
    assert found["T-106"] == found["General"] == "price follows" and found["Supply F-1"] == found["T-101"]
    assert [found[tag].count(" | ") for tag in ("T-101", "T-103", "T-104")] == [1, 1, 1]
    assert "Heaters F2 (tank T-101): Volts is blank." in found["T-101"]
    assert "A note leaves open whether the heaters in tank T-103" in found["T-103"]
    assert "the distance from the panels to the heaters" in found["T-104"]


@pytest.mark.parametrize("by", BY)
def test_whatever_a_position_is_only_what_is_asked_is_named(tmp_path: Path, by: str) -> None:
    offer = quote_project(batch.check(job(tmp_path, without_a_length, without_a_price)), by=by).offer
    [asked] = [one.number for one in offer.questions if "the distance from the panels to the heaters" in one.words]
    named = {number for place in offer.positions for number in place.awaits}
    assert named == {asked} and {place.price for place in offer.positions if place.awaits} == {None}


def test_a_length_behind_a_supply_holds_no_price_of_its_tanks(tmp_path: Path) -> None:
    """Eight ways without a length are the supplies' own: their tanks' prices do not wait for them."""

    def no_way(tables: Tables) -> None:
        for tank in tables["tanks"]:
            tank["distribution_run_m"] = None

    for changes in ((no_way,), (no_way, too_weak)):  # whether their tanks are on hold for another reason or not
        found = waits_for(quote_project(batch.check(job(tmp_path, *changes))).offer)
        assert {tag for tag, words in found.items() if "How far is it from the distribution units" in words} == {"Supply F-1", "Supply F-2"}
        assert {words for tag, words in found.items() if tag.startswith("T-")} == ({"price follows"} if too_weak in changes else set())


def test_what_is_held_for_reasons_of_ours_is_not_said_to_wait_for_an_answer(tmp_path: Path) -> None:
    """T-102 is held by us, and its price waits for a length too: the letter says both, each in its place."""

    def no_length(tables: Tables) -> None:
        row_of(tables, "heaters", "T-102")["heater_run_m"] = None

    made = batch.check(job(tmp_path, too_weak, held_by_a_note, no_length))
    held = {row.bank.tank for row in made.projects[0].banks if row.hold is not None}
    assert held == {"T-101", "T-102", "T-103", "T-105", "T-107", "T-108"}  # of two poles, and the note
    offer = quote_project(made).offer
    assert offer.sentence.endswith(
        "Not settled yet, with their questions: tank T-103. Not settled yet on our side: tanks T-101, T-102, T-105, T-107, T-108."
    )
    found = waits_for(offer)
    assert {tag for tag in held if found[tag] == "price follows"} == held - {"T-102", "T-103"}


def test_questions_that_leave_a_line_open_say_that_it_is_not_priced() -> None:
    """By these words a price is said to wait for them, though their findings hold nothing."""
    assert {kind.codes[0] for kind in question_kinds() if NOT_PRICED in kind.until} == {
        "heater-over-limit", "heater-part-several", "existing-device-small", "no-length", "feeder-length-unknown", "way-length-unknown",
    }  # fmt: skip


def test_a_setting_is_not_said_of_tanks_that_state_their_own(tmp_path: Path) -> None:
    """Of the sample all heaters but those of T-106 ask for breakers, and one tank has its own box; then T-106 asks for breakers too."""
    taken = quote_project(batch.check(job(tmp_path))).offer.assumptions
    assert "circuits protected by fuses (but tanks T-101, T-102, T-103, T-104, T-105, T-107, T-108 as you listed)" in taken
    assert "boxes non-metallic where corrosive, else steel (but tank T-108 as you listed)" in taken

    def all_of_them(tables: Tables) -> None:
        row_of(tables, "heaters", "T-106")["device_kind"] = "breaker"
        for tank in tables["tanks"]:
            tank["box_material"] = "stainless"

    taken = quote_project(batch.check(job(tmp_path, all_of_them))).offer.assumptions
    assert "supplies protected by fuses" in taken and not [words for words in taken if words.startswith(("circuits prot", "boxes non"))]

    def none_of_them(tables: Tables) -> None:
        for row in tables["heaters"]:
            row["device_kind"] = None

    assert "circuits protected by fuses" in quote_project(batch.check(job(tmp_path, none_of_them))).offer.assumptions


def test_what_no_line_holds_is_not_promised(tmp_path: Path) -> None:
    """Scope has permits supplied by us, and there is no line for them."""

    def ours(tables: Tables) -> None:
        next(row for row in tables["scope"] if row["item"] == "permits")["by"] = "us"

    offer, why, _ = quote_project(batch.check(job(tmp_path, ours)))
    assert why == ("Scope and lines contradict each other",)
    assert "permits" not in offer.included and "permits: not priced yet" in offer.excluded


def test_nothing_is_to_be_paid_of_a_budget_figure(tmp_path: Path) -> None:
    """Tax and what is to be paid are of a total; what some positions come to is none."""

    def taxed(tables: Tables) -> None:
        tables["pricing"][0]["sales_tax_pct"] = 8.0

    whole = quote_project(batch.check(job(tmp_path, taxed)), at_least=True).offer
    assert whole.to_pay == whole.total + whole.tax and whole.tax > 8_000
    least = quote_project(batch.check(job(tmp_path, taxed, without_a_price)), at_least=True).offer
    assert least.total is not None and least.tax is None and least.to_pay is None


def test_a_page_of_a_budget_figure_is_not_named_quotation_at_its_foot(tmp_path: Path) -> None:
    """The foot of a page has the sheet's name."""
    for changes, name in (((), "Quotation"), ((without_a_price,), "Budget figure")):
        written = batch.quote(job(tmp_path, *changes), tmp_path / f"{name}.xlsx")
        with zipfile.ZipFile(written.workbook) as package:
            assert b"&amp;A" in package.read("xl/worksheets/sheet1.xml")
        assert openpyxl.load_workbook(written.workbook).sheetnames[0] == name


def test_paper_is_that_of_the_customer_s_country(tmp_path: Path) -> None:
    """Letter 8.5 x 11 in; A4 210 x 297 mm, to a millimetre."""
    book.write(tmp_path / "iec.xlsx", small.TITLE, small.STORY, plant_iec.in_iec_country(small.tables()), us=False)
    for source, paper, wide in ((job(tmp_path), "1", 215.9), (tmp_path / "iec.xlsx", "9", 210.0)):
        written = batch.quote(source)
        assert str(openpyxl.load_workbook(written.workbook).worksheets[0].page_setup.paperSize) == paper
        assert docx.Document(str(written.letter)).sections[0].page_width.mm == pytest.approx(wide, abs=1.0)


def test_every_question_that_stops_something_says_what(tmp_path: Path) -> None:
    asked = ask(batch.check(job(tmp_path, without_volts, without_a_length, held_by_a_note)))
    stops = {(stop.tank, stop.held) for one in asked for stop in one.stops}
    assert stops == {("T-101", True), ("T-103", True), ("T-104", False)}


def test_a_question_about_a_cell_names_its_tank_and_a_blank_is_not_said_to_be_unclear(tmp_path: Path) -> None:
    [asked] = [one for one in ask(batch.check(job(tmp_path, without_volts))) if one.takes == "cells"]
    assert asked.words == (
        "What should stand in your list where it is open, or cannot be read with certainty? Heaters F2 (tank T-101): Volts is blank."
    )


def test_a_length_is_asked_for_from_where_to_where(tmp_path: Path) -> None:
    def without(tables: Tables) -> None:
        row_of(tables, "heaters", "T-104")["panel_feeder_run_m"] = None

    [asked] = [one for one in ask(batch.check(job(tmp_path, without))) if "T-104" in one.tanks]
    assert asked.words == "Please tell us of tank T-104: the distance from the control panel to the heater panels."


def test_a_wall_that_was_taken_stands_in_inches_and_millimetres(tmp_path: Path) -> None:
    def without(tables: Tables) -> None:
        row_of(tables, "tanks", "T-101")["wall_mm"] = None

    [told] = [words for words in quote_project(batch.check(job(tmp_path, without))).offer.assumptions if words.startswith("heat of")]
    assert re.fullmatch(r"heat of tank T-101 compared with wall (\d+\.\d) in \((\d+) mm\)", told)


def _rules(tables: Tables) -> None:
    """A rule and a cost in words that are none of the customer's business; a sum for freight."""
    tables["allowances"].append({"project": small.PROJECT, "allowance": "SHOPWORDS of supplier Nn", "quantity": 1, "per": "project"})
    tables["other_costs"].append({"project": small.PROJECT, "what": "SHOPWORDS again", "quantity": 1, "amount": 10.0})
    tables["pricing"][0] |= {"freight_pct": None, "freight_amount": 100.0}


@pytest.mark.parametrize("by", BY)
def test_what_is_of_the_whole_project_is_named_in_a_customer_s_words(tmp_path: Path, by: str) -> None:
    """Spare fuses, what Other costs says to be an item of the scope, freight, and the rest without the shop's own words."""
    shown = [place.words for place in quote_project(batch.check(job(tmp_path, _rules)), by=by).offer.positions]
    general = next(words for words in shown if "spare fuses" in words)
    assert all(words in general for words in ("drawings", "freight", "labels, small parts and other work"))
    assert not any(" and labels and small parts" in words for words in shown)  # of a feeder: wiring, labels and small parts
    assert "the whole project" not in "; ".join(shown) and "SHOPWORDS" not in "; ".join(shown)


def test_what_the_customer_supplies_is_not_named_as_ours(tmp_path: Path) -> None:
    def theirs(tables: Tables) -> None:
        tables["scope"] = [{"project": small.PROJECT, "item": item, "by": "customer"} for item in ("supply to the board", "spares")]

    shown = {place.tag: place.words for place in quote_project(batch.check(job(tmp_path, theirs))).offer.positions}
    assert "supply to" not in shown["Supply F-1"] and "distribution unit" in shown["Supply F-1"] and "spare" not in shown["General"]


def test_tanks_of_a_row_that_is_left_out_are_all_named_and_sent_to_its_question() -> None:
    """Two rows of the sample list stand for several tanks, and whether their heaters are in each is asked."""
    result = batch.check(HERE / "customer-list.xlsx")
    [project] = result.projects
    several = ["Z-204 to Z-206", "Z-208 & Z-209"]
    assert [lost.tank for lost in project.not_sized] == [several[0], "Z-207", several[1], "N-13"]
    offer = quote_project(result).offer
    [number] = [at for at, one in enumerate(ask(result), 1) if {stop.tank for stop in one.stops} == set(several)]
    assert {place.tag: place.awaits for place in offer.positions if place.tag in several} == dict.fromkeys(several, (number,))
