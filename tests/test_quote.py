"""The quotation: what it says, what never goes into it, and that its figures are those of Prices, rounded once. Prices are invented."""

from __future__ import annotations

import csv
import re
import zipfile
from bisect import bisect_left, bisect_right
from collections.abc import Callable, Sequence
from datetime import datetime
from decimal import Decimal
from pathlib import Path

import docx
import openpyxl
import pytest
from openpyxl.comments import Comment

import batch
from batch.cli.app import main
from batch.cli.job_files import not_a_job
from batch.errors import InputFileError, JobError
from batch.findings import CATALOGUE, Effect, Finding, find, remark
from batch.price.questions import LEFT_OUT, NONE, ask, question_kinds
from batch.price.questions import WORDS as QUESTIONS
from batch.price.questions import _until as until
from batch.quoting.gates import BUDGET, OFFER
from batch.quoting.grouping import BY
from batch.quoting.letter import write_template
from batch.quoting.offer import Quoted, quote_project
from batch.report.bid_words import price_words
from batch.results import JobResult
from batch.sheets import INPUTS
from batch.whole_file import checksum_of
from tests.make_samples import HERE
from tests.make_templates import LETTER
from tests.samples import book, plant_iec, small

SMALL = HERE / "small-clean.xlsx"
Tables = dict[str, list[dict[str, object]]]


@pytest.fixture(scope="module")
def result() -> JobResult:
    return batch.check(SMALL)


def job(folder: Path, change: Callable[[Tables], None]) -> Path:
    """The small sample with something changed."""
    tables = small.tables()
    change(tables)
    book.write(folder / "job.xlsx", small.TITLE, small.STORY, tables)
    return folder / "job.xlsx"


@pytest.mark.parametrize("by", BY)
def test_the_total_is_the_sum_of_the_rounded_positions(result: JobResult, by: str) -> None:
    """Whole dollars: of n positions the total is off by at most n halves from the price on Prices."""
    offer, why, _ = quote_project(result, by=by)
    assert why == () and offer.title == OFFER
    prices = [place.price for place in offer.positions]
    assert all(price is not None and price == price.to_integral_value() for price in prices)
    assert offer.total == sum(prices, Decimal(0))
    exact = sum(atom.cost.price for atom in result.money.atoms)
    assert abs(float(offer.total) - exact) <= 0.5 * len(prices)


def test_positions_by_tank_are_their_rows_of_prices(result: JobResult) -> None:
    offer = quote_project(result).offer
    by_tank: dict[str, float] = {}
    for atom in result.money.atoms:
        if atom.tank:  # its banks, and its own: the control panel
            by_tank[atom.tank] = by_tank.get(atom.tank, 0.0) + atom.cost.price
    shown = {place.tag: place.price for place in offer.positions if place.tag in by_tank}
    assert shown == {tag: round(price) for tag, price in by_tank.items()}
    assert [place.tag for place in offer.positions][-3:] == ["Supply F-1", "Supply F-2", "General"]  # their own is never spread


def test_the_sentence_is_counted_by_hand(result: JobResult) -> None:
    """Heaters 3 + 6 + 2 + 3 + 9 + 1 + 2 + 4 = 30; kW 18 + 18 + 18 + 27 + 18 + 12 + 9 + 12 = 132, on eight tanks."""
    words = quote_project(result).offer.sentence
    assert words.startswith("Supply of 30 immersion heaters, 132 kW, for 8 tanks at Nowhere Falls (invented): ")
    assert words.endswith("on 2 feeders, to your list, revision A.")


def test_scope_says_who_supplies_what(result: JobResult) -> None:
    offer = quote_project(result).offer
    assert {"heaters", "heater panels", "control circuit", "freight"} <= set(offer.included)
    by_them = {"temperature control: by the customer", "permits: by the customer", "short-circuit and arc-flash study: by others"}
    assert by_them <= set(offer.excluded)


def test_a_figure_before_rounding_says_so(result: JobResult) -> None:
    exact = sum(atom.cost.price for atom in result.money.atoms)
    words = price_words(result.projects, result.money)
    assert words == f"for {exact:,.2f} USD before tax (before the quotation rounds each position to 1)"


def _without_a_price(tables: Tables) -> None:
    for row in tables["stock"]:
        if row["part"] == "HTR-106":
            del row["unit_price"]


def test_a_missing_price_makes_it_a_budget_figure_without_a_total(tmp_path: Path) -> None:
    made = batch.check(job(tmp_path, _without_a_price))
    offer, why, _ = quote_project(made)
    assert offer.title == BUDGET and offer.total is None and offer.to_pay is None
    assert "1 line has no price: HTR-106" in why
    assert [place.tag for place in offer.positions if place.price is None] == ["T-106"]  # the tank of that heater, and no other
    least = quote_project(made, at_least=True).offer
    assert least.at_least and least.total == sum((place.price for place in least.positions if place.price is not None), Decimal(0))


def test_what_is_priced_of_open_positions_is_shown_as_incomplete(result: JobResult, tmp_path: Path) -> None:
    """Where it is asked for, and only there. T-106 lacks its heater alone: priced so far is the rest of it, each figure rounded once."""
    made = batch.check(job(tmp_path, _without_a_price))
    plain, least = quote_project(made), quote_project(made, at_least=True)
    assert plain.offer.so_far is None and plain.offer.together is None and plain.priced == least.offer.together
    whole = {place.tag: place.price for place in quote_project(result).offer.positions}
    [heater] = [line.price for line in result.projects[0].materials if line.part == "HTR-106"]
    hours = sum(line.hours or 0.0 for line in made.projects[0].materials if line.part == "HTR-106")
    so_far = least.offer.so_far
    assert so_far is not None and (so_far.positions, so_far.open) == (1, 1) and so_far.of == len(whole)
    marked_up = 1.02 * 1.03 * 1.12 * 1.10 * heater  # freight, contingency, overhead, markup; its hours have been counted all along
    assert hours and float(so_far.amount) == pytest.approx(float(whole["T-106"]) - marked_up, abs=1.0)
    assert least.offer.together == sum(price for tag, price in whole.items() if tag != "T-106") + so_far.amount


def _without_lengths(tables: Tables) -> None:
    for row in (*tables["heaters"], *tables["tanks"], *tables["feeders"]):
        for key in ("heater_run_m", "distribution_run_m", "run_m"):
            row.pop(key, None)


def test_a_quotation_of_which_every_position_is_open_has_a_figure_where_it_is_asked_for(tmp_path: Path, capsys) -> None:
    path = tmp_path / "job.xlsx"
    made = batch.check(job(tmp_path, _without_lengths))
    offer, _, priced = quote_project(made, by="project")
    assert offer.total is None and all(place.price is None for place in offer.positions) and priced
    assert main(["quote", str(path), "--by", "project"]) == 1
    assert f"priced so far: {priced:,.2f} USD, which the quotation leaves out" in capsys.readouterr().out
    figure = float(priced)
    for asked in ([], ["--at-least"]):
        main(["quote", str(path), "--by", "project", *asked, "-o", str(tmp_path / f"q{len(asked)}.xlsx")])
        sheet = openpyxl.load_workbook(tmp_path / f"q{len(asked)}.xlsx", data_only=True).worksheets[0]
        beside = {row[1].value: row[3].value for row in sheet.iter_rows() if row[3].value == figure}
        letter = " ".join(paragraph.text for paragraph in docx.Document(tmp_path / f"q{len(asked)}.docx").paragraphs)
        assert bool(beside) is bool(asked) is (f"{figure:,.2f} USD" in letter)
        assert all(words.startswith("Incomplete: priced so far in 1 of 1 position whose price follows,") for words in beside)


@pytest.mark.parametrize(
    "pricing",
    [{"markup_pct": None}, {"profit_pct": 5}, {"markup_pct": None, "profit_pct": 100}, {"overhead_pct": None}, {"field_rate": None}],
)
def test_a_blank_rate_is_no_price_and_never_a_smaller_one(tmp_path: Path, pricing: dict[str, object]) -> None:
    made = batch.check(job(tmp_path, lambda tables: tables["pricing"][0].update(pricing)))
    offer, why, _ = quote_project(made)
    assert offer.title == BUDGET and offer.total is None and any("no price" in words for words in why)


@pytest.mark.parametrize(("pricing", "said"), [
    ({"markup_pct": None}, "no price: Pricing leaves blank Markup or Margin of price (a typed 0 is 0)"),
    ({"overhead_pct": None, "field_rate": None}, "no price: Pricing leaves blank Field rate, Overhead (a typed 0 is 0)"),
    ({"profit_pct": 5}, "no price: Pricing gives both Markup and Margin of price"),
    ({"markup_pct": None, "profit_pct": 100}, "no price: a margin of 100 % of the price leaves no cost"),
])  # fmt: skip
def test_what_pricing_lacks_is_named(tmp_path: Path, pricing: dict[str, object], said: str) -> None:
    assert quote_project(batch.check(job(tmp_path, lambda tables: tables["pricing"][0].update(pricing)))).why == (said,)


def test_a_job_without_pricing_is_told_so(tmp_path: Path) -> None:
    why = quote_project(batch.check(job(tmp_path, lambda tables: tables.update(pricing=[])))).why
    assert why[-1] == "no price: Pricing has no row for the project, so that there are no rates"


def _without_hours(tables: Tables) -> None:
    for row in tables["stock"]:
        row["labour_h"] = row["field_h"] = None


def test_priced_lines_without_hours_are_said_to_lack_hours(tmp_path: Path) -> None:
    """All parts have their prices: nothing speaks of a missing price, and the advice is about hours."""
    made = batch.check(job(tmp_path, _without_hours))
    lines = [line for line in made.projects[0].materials if line.status == "open"]
    [said] = [one for one in made.findings if one.code == "hours-missing"]
    assert said.message.startswith(f"{len(lines)} lines of Materials and Runs have their prices and no labour hours")
    assert "hours" in said.kind.advice and "price-missing" not in {one.code for one in made.findings}
    assert {line.why_open for line in lines} == {"no shop hours", "no field hours"}
    assert {line.why_open for line in lines if line.stretch is not None} == {"no field hours"}
    [why] = quote_project(made).why
    assert why.startswith(f"{len(lines)} lines have no labour hours: ") and why.endswith(" more")


@pytest.mark.parametrize("rates", [{"shop_rate": None, "field_rate": None}, {"shop_rate": 0, "field_rate": 0}])
def test_hours_are_asked_only_where_an_hour_costs_something(tmp_path: Path, rates: dict[str, object]) -> None:
    """A blank rate is open itself and makes no price; at a typed 0 hours cost nothing, whether known or not."""

    def unpaid(tables: Tables) -> None:
        _without_hours(tables)
        tables["pricing"][0].update(rates)

    made = batch.check(job(tmp_path, unpaid))
    assert not [line for line in made.projects[0].materials if line.status == "open"]
    assert "hours-missing" not in {one.code for one in made.findings}
    why = quote_project(made).why
    assert why == (() if rates["shop_rate"] == 0 else ("no price: Pricing leaves blank Shop rate, Field rate (a typed 0 is 0)",))


def test_a_run_without_a_length_is_not_said_to_lack_its_price(tmp_path: Path) -> None:
    def without_length(tables: Tables) -> None:
        del next(row for row in tables["heaters"] if row["tank"] == "T-106")["heater_run_m"]

    made = batch.check(job(tmp_path, without_length))
    assert "price-missing" not in {one.code for one in made.findings}
    [why] = [words for words in quote_project(made).why if "length" in words]
    assert why.endswith("lines have no length (the length of the run is not given): branch of T-106")


def test_lengths_whose_waste_is_blank_are_not_said_to_be_missing(tmp_path: Path) -> None:
    made = batch.check(job(tmp_path, lambda tables: tables["pricing"][0].pop("wire_waste_pct")))
    [why] = [words for words in quote_project(made).why if "waste" in words]
    assert "have no quantity (the waste is not given on Pricing)" in why


@pytest.mark.parametrize("trip_ma", [30, None])
def test_ground_fault_relays_of_ours_are_in_the_scope(trip_ma: float | None, tmp_path: Path) -> None:
    made = batch.check(job(tmp_path, lambda tables: tables["projects"][0].update(ground_fault_trip_ma=trip_ma)))
    assert ("ground-fault protection" in quote_project(made).offer.included) == (trip_ma is not None)


def test_a_margin_of_nought_is_the_cost(tmp_path: Path) -> None:
    made = batch.check(job(tmp_path, lambda tables: tables["pricing"][0].update({"markup_pct": None, "profit_pct": 0})))
    assert all(atom.cost.price == pytest.approx(atom.cost.full) for atom in made.money.atoms)
    assert quote_project(made).offer.title == OFFER


SENTINEL = "ZQX"
TAGS = frozenset({"project", "tank", "bank", "feeder", "part", "source"})


def _with_sentinels(tables: Tables) -> None:
    """Marks in every internal field, and rates that no other figure is."""
    for id in ("projects", "feeders", "tanks", "heaters"):
        for row in tables[id]:
            row["notes"] = f"{SENTINEL} note"
    for row in tables["projects"]:
        row["prepared_by"], row["note_to_customer"], row["validity"] = f"{SENTINEL} estimator", "We look forward to your order.", "45 days"
    for row in tables["stock"]:
        row["part"] = f"{SENTINEL}{row['part']}"
        if row["kind"] != "panel part":  # of which it says what it is
            row["description"] = f"{SENTINEL} part"
    for row in tables["allowances"]:
        row["allowance"] = f"{SENTINEL} {row['allowance']}"
        if row.get("part"):
            row["part"] = f"{SENTINEL}{row['part']}"
    for row in tables["other_costs"]:
        row["what"] = f"{SENTINEL} {row['what']}"
    rates = {"shop_rate": 77.7731, "field_rate": 91.9173, "overhead_pct": 12.3457, "markup_pct": 9.8763, "contingency_pct": 3.1357}
    tables["pricing"][0].update(rates)


def test_nothing_internal_is_in_any_part_of_either_file(tmp_path: Path) -> None:
    source = job(tmp_path, _with_sentinels)
    made = batch.quote(source)
    assert made.why == ()
    secret = secret_figures(batch.check(source))
    assert len(secret) > 100
    seen = 0
    for file in (made.workbook, made.letter):
        assert leaks(file, secret) == [], file.name
        with zipfile.ZipFile(file) as package:
            seen += sum(package.read(name).count(words) for name in package.namelist() for words in (b"We look forward", b"45 days"))
    assert seen == 4, "what is to go out does"


FIGURE = re.compile(rb"(?<![\d.,])\d[\d,]*\.\d{2,}")
WORDS = (SENTINEL, "heaterbatch", "python-docx")


def secret_figures(result: JobResult) -> list[float]:
    """Every figure of our own that no price says: costs, materials, hours and their money, prices of parts, rates."""
    found = [77.7731, 91.9173, 12.3457, 9.8763, 3.1357]
    for atom in result.money.atoms:
        found += [amount for amount in (*atom.cost, atom.material, atom.builds, atom.parts, atom.shop_h, atom.field_h) if amount]
    found += [one.unit_price for one in result.money.buy if one.unit_price]
    return sorted({abs(one) for one in found if abs(one - round(one)) > 0.02})  # a whole one may be a price, a quantity or a page's size


def leaks(file: Path, secret: Sequence[float]) -> list[tuple[str, str]]:
    """Part and words of what stands in any part of a file and is ours: words, and figures to a half of their last digit shown."""
    found = []
    with zipfile.ZipFile(file) as package:
        for name in package.namelist():
            held = package.read(name)
            found += [(name, words) for words in WORDS if words.encode() in held]
            if "styles" in name or "theme" in name or "settings" in name.casefold():
                continue  # sizes of type and of pages
            for figure in set(FIGURE.findall(held)):
                value = float(figure.replace(b",", b""))
                close = max(1e-6 * value, 0.0051 if len(figure.partition(b".")[2]) == 2 else 0.0)
                near = secret[bisect_left(secret, value - close) : bisect_right(secret, value + close)]
                found += [(name, figure.decode()) for _ in near[:1]]
    return found


@pytest.mark.parametrize(
    "spoil",
    [
        lambda book, cost: book["Quotation"].cell(40, 9, cost),
        lambda book, cost: book["Quotation"].cell(2, 1, f"{book['Quotation'].cell(2, 1).value or ''} {cost:,.2f}"),
        lambda book, cost: setattr(book["Quotation"].cell(3, 1), "comment", Comment(f"cost {cost:.2f}", "")),
        lambda book, cost: setattr(book.create_sheet("Own"), "sheet_state", "hidden") or book["Own"].cell(1, 1, round(cost, 2)),
        lambda book, cost: setattr(book.properties, "description", f"margin of {SENTINEL}"),
        lambda book, cost: setattr(book["Quotation"].oddHeader.left, "text", f"{cost:.2f}"),
    ],
)  # fmt: skip
def test_the_search_finds_what_is_put_where_nobody_looks(tmp_path: Path, spoil: Callable[..., object]) -> None:
    """A cost in a cell, in a sentence, in a comment, on a hidden sheet, in a header; a word in the properties of the file."""
    secret = secret_figures(batch.check(SMALL))
    made = batch.quote(SMALL, tmp_path / "q.xlsx")
    assert leaks(made.workbook, secret) == []
    opened = openpyxl.load_workbook(made.workbook)
    spoil(opened, max(secret))
    opened.save(tmp_path / "spoilt.xlsx")
    assert leaks(tmp_path / "spoilt.xlsx", secret)


ALLOWED = {"customer", "delivery", "signature", "site", "title", "note_to_customer", "validity", "terms", "warranty"}
READ = frozenset({"revision", "date", "price_date", "currency", "kind", "size", "insulation", "colour", "smallest_wire", "largest_wire",
                  "terminals_for", "pole_mark", "item", "per", "heater_part", "other_currencies", "rates"})  # fmt: skip


def test_of_all_that_can_be_written_into_a_job_nine_fields_go_out(tmp_path: Path) -> None:
    """A mark of its own in every text of every sheet that is no tag and is not read as anything."""
    where: dict[bytes, tuple[str, str]] = {}

    def marked(tables: Tables) -> None:
        for sheet in INPUTS:
            for row in tables.get(sheet.id, []):
                for column in sheet.columns:
                    if column.kind == "text" and not column.choices and column.key not in sheet.key and column.key not in READ | TAGS:
                        mark = f"ZQ{len(where):05d}X"
                        row[column.key], where[mark.encode()] = mark, (sheet.id, column.key)

    made = batch.quote(job(tmp_path, marked))
    out = set()
    for file in (made.workbook, made.letter):
        with zipfile.ZipFile(file) as package:
            out |= {where[mark] for name in package.namelist() for mark in re.findall(rb"ZQ\d{5}X", package.read(name))}
    assert out == {("projects", key) for key in ALLOWED} and len(set(where.values())) > 20


def test_the_workbook_holds_values_and_sums_alone(tmp_path: Path) -> None:
    made = batch.quote(SMALL, tmp_path / "q.xlsx")
    opened = openpyxl.load_workbook(made.workbook)
    formulas = [cell.value for sheet in opened for row in sheet.iter_rows() for cell in row if cell.data_type == "f"]
    assert formulas and all(str(one).startswith("=SUM(") for one in formulas)
    assert not opened.defined_names and all(sheet.sheet_state == "visible" for sheet in opened)
    assert not [cell for sheet in opened for row in sheet.iter_rows() for cell in row if cell.comment]
    assert not opened.properties.creator and not opened.properties.lastModifiedBy
    values = openpyxl.load_workbook(made.workbook, data_only=True)["Quotation"]
    [total] = [row[3].value for row in values.iter_rows() if row[1].value == "Total before tax"]
    shown = [row[3].value for row in values.iter_rows() if isinstance(row[2].value, int)]
    assert total == sum(shown) > 0


@pytest.mark.parametrize(("rate", "left"), [(None, "duty and tax"), (6.0, "duty, and taxes beside that on the price")])
def test_tax_that_is_charged_is_not_said_to_be_left_out(tmp_path: Path, rate: float | None, left: str) -> None:
    """With 6 % on the price a line of the quotation charges it; what is not included is duty, and what other taxes there are."""
    tables = small.tables()
    tables["pricing"][0]["sales_tax_pct"] = rate
    book.write(tmp_path / "taxed.xlsx", small.TITLE, small.STORY, tables)
    offer = quote_project(batch.check(tmp_path / "taxed.xlsx")).offer
    assert (offer.tax is None) == (rate is None)
    assert [words for words in offer.excluded if "duty" in words] == [left]


def test_the_letter_says_the_same_and_comes_out_the_same_twice(tmp_path: Path) -> None:
    first, second = batch.quote(SMALL, tmp_path / "a.xlsx"), batch.quote(SMALL, tmp_path / "b.xlsx")
    assert first.letter.read_bytes() == second.letter.read_bytes()
    offer = quote_project(batch.check(SMALL)).offer
    opened = docx.Document(str(first.letter))
    words = "\n".join(paragraph.text for paragraph in opened.paragraphs)
    assert offer.sentence in words and f"Total before tax: {offer.total:,.2f} USD" in words and "{" not in words
    assert [row.cells[3].text for row in opened.tables[0].rows[1:]] == [f"{place.price:,.2f}" for place in offer.positions]
    assert not opened.core_properties.author and opened.core_properties.title.startswith("Quotation, Pilot plating line")
    assert "Each position is rounded to 1 USD; the total is the sum of the rounded positions." in words
    assert not [one for one in ("sizing", "stock part") if one in words]  # nothing of how it was worked out
    with zipfile.ZipFile(first.letter) as package:
        footer = package.read(next(name for name in package.namelist() if "footer" in name)).decode()
        assert 'w:instr="PAGE"' in footer and 'w:instr="NUMPAGES"' in footer
        assert not [name for name in package.namelist() if "thumbnail" in name] and b"thumbnail" not in package.read("_rels/.rels")
    for file in (first.letter, first.workbook):
        with zipfile.ZipFile(file) as package:
            assert not [one for one in (b"Microsoft", b"Word", b"Excel") if one in package.read("docProps/app.xml")]


def test_the_sentence_says_which_tanks_are_not_in_it(tmp_path: Path) -> None:
    """T-101 without volts is not sized; of T-102 one bank of two is."""

    def without(tables: Tables) -> None:
        of_t101, of_t102 = (next(row for row in tables["heaters"] if row["tank"] == tag) for tag in ("T-101", "T-102"))
        of_t101["volts_v"] = None
        tables["heaters"].append({**of_t102, "bank": "second", "volts_v": None})

    words = quote_project(batch.check(job(tmp_path, without))).offer.sentence
    assert words.endswith(" Not in it until the questions are answered: tank T-101; some heaters of tank T-102.")


@pytest.mark.parametrize("foreign", [True, False])
def test_a_letter_that_somebody_edited_or_wrote_is_left_and_the_two_files_keep_one_number(tmp_path: Path, foreign: bool) -> None:
    target = tmp_path / "q.xlsx"
    first = batch.quote(SMALL, target)
    assert batch.quote(SMALL, target)[:2] == first[:2]  # as we left them they are replaced
    kept = docx.Document() if foreign else docx.Document(str(first.letter))
    kept.add_paragraph("and the hoist as discussed")
    kept.core_properties.modified = datetime(2026, 3, 2)  # as a text program states it
    kept.save(str(first.letter))
    typed = first.letter.read_bytes()
    again = batch.quote(SMALL, target)
    assert first.letter.read_bytes() == typed
    assert (again.workbook.name, again.letter.name) == ("q (2).xlsx", "q (2).docx")
    assert "q.docx: another program has saved it since" in again.aside


def test_the_ways_of_a_distribution_unit_by_others_are_not_included(tmp_path: Path) -> None:
    """F-1 carries several control panels from a unit that the job does not name as ours; F-2 too."""
    made = batch.check(job(tmp_path, lambda tables: tables["projects"][0].update({"distribution": None})))
    excluded = quote_project(made).offer.excluded
    ends = [row.end for row in made.projects[0].feeders if row.end.unit != "taps" and len(row.end.ways) > 1]
    assert ends and not any(end.ours for end in ends)
    [said] = [words for words in excluded if "distribution unit" in words]
    assert said.startswith(f"{len(ends)} distribution unit") and said.endswith("from there to the control panels: by others")


def test_the_template_in_the_folder_is_the_program_s_own_and_a_firm_may_have_another(tmp_path: Path) -> None:
    write_template(tmp_path / "own.docx")
    assert (tmp_path / "own.docx").read_bytes() == LETTER.read_bytes(), "run python -m tests.make_templates"
    own = docx.Document()
    cut = own.add_paragraph("Dear Sirs, ")
    cut.add_run("{sen")
    cut.add_run("tence}")  # as a text program may cut a field
    own.add_paragraph("Ours: {total} {unknown}")
    own.save(str(tmp_path / "firm.docx"))
    made = batch.quote(SMALL, tmp_path / "q.xlsx", letter=tmp_path / "firm.docx")
    words = [paragraph.text for paragraph in docx.Document(str(made.letter)).paragraphs]
    assert made.template == f"templates of firm.docx, checksum {checksum_of(tmp_path / 'firm.docx')}"
    assert not batch.quote(SMALL, tmp_path / "ours.xlsx").template
    assert words[0].startswith("Dear Sirs, Supply of 30 immersion heaters") and words[1].endswith("{unknown}")
    (tmp_path / "bad.docx").write_bytes(b"no letter")
    with pytest.raises(InputFileError, match=r"bad\.docx"):
        batch.quote(SMALL, tmp_path / "r.xlsx", letter=tmp_path / "bad.docx")


def test_of_several_projects_one_is_named() -> None:
    made = batch.check(HERE / "every-finding.xlsx")
    with pytest.raises(JobError, match="quote one at a time"):
        quote_project(made)
    quoted: Quoted = quote_project(made, project="FX-COST")
    assert quoted.why and quoted.offer.title == BUDGET and quoted.offer.total is None


def test_the_command_says_where_they_are_and_what_is_missing(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["quote", str(SMALL), "-o", str(tmp_path / "q.xlsx")]) == 0
    assert (tmp_path / "q.xlsx").exists() and (tmp_path / "q.docx").exists()
    assert main(["quote", str(job(tmp_path, _without_a_price))]) == 1
    said = capsys.readouterr().out
    assert "no offer yet: 1 line has no price: HTR-106\n" in said and (tmp_path / "job quotation.docx").exists()
    assert main(["quote", str(SMALL), "-o", str(tmp_path / "q.pdf")]) == 2


def test_a_title_longer_than_a_property_holds_stands_whole_in_letter_and_workbook(tmp_path: Path) -> None:
    """255 characters are what python-docx takes for a property of a document."""
    title = "A line of tanks " * 40
    source = job(tmp_path, lambda tables: tables["projects"][0].update(title=title))
    assert main(["quote", str(source)]) == 0
    letter = docx.Document(str(tmp_path / "job quotation.docx"))
    assert title.strip() in "\n".join(each.text for each in letter.paragraphs)
    assert len(letter.core_properties.title) == 255 and letter.core_properties.title.startswith(f"{OFFER}, A line of tanks A line")
    book_of = openpyxl.load_workbook(tmp_path / "job quotation.xlsx")
    assert title.strip() in {cell.value for row in book_of["Quotation"].iter_rows() for cell in row}


NO_LIST = "no list of heaters was found in it, so there is nothing to quote: name the workbook that lists the heaters"
NOTHING_TO_QUOTE = {
    "hello": ("hello\n", NO_LIST), "a letter": ("Dear Sirs,\nplease find our letter.\nWe meet on Monday at 8.\n", NO_LIST),
    "an empty list": ("Tank,kW,Volts,Phases\n", NO_LIST),
}  # fmt: skip


@pytest.mark.parametrize("ending", ["csv", "txt"])
@pytest.mark.parametrize(("words", "said"), NOTHING_TO_QUOTE.values(), ids=NOTHING_TO_QUOTE.keys())
def test_a_list_without_a_sized_heater_is_not_quoted(
    words: str, said: str, ending: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Exit code 3 as README has it: nothing was written."""
    (tmp_path / f"a.{ending}").write_text(words)
    assert main(["quote", str(tmp_path / f"a.{ending}")]) == 3
    told = capsys.readouterr()
    assert f"a.{ending}" in told.err and said in told.err and told.out == ""
    assert [each.name for each in tmp_path.iterdir()] == [f"a.{ending}"]


def test_a_list_of_which_no_row_is_sized_is_not_quoted(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    def without_power(tables: Tables) -> None:
        for row in tables["heaters"]:
            del row["power_kw"]

    assert main(["quote", str(job(tmp_path, without_power))]) == 3
    assert "job.xlsx, project PILOT: no heater is sized, so there is nothing to quote: size the list first" in capsys.readouterr().err
    assert [each.name for each in tmp_path.iterdir()] == ["job.xlsx"]


@pytest.mark.parametrize("command", ["size", "check", "quote", "papers"])
def test_our_own_quotation_is_no_job(command: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Offer or budget figure, workbook or letter: refused with words that lead on, and nothing is written."""
    offer = batch.quote(SMALL, tmp_path / "offer.xlsx")
    budget = batch.quote(job(tmp_path, _without_a_price), tmp_path / "budget.xlsx")
    before = sorted(tmp_path.iterdir())
    for made in (offer, budget):
        assert main([command, str(made.workbook)]) == 3
        said = capsys.readouterr().err
        assert "this is a quotation that this program wrote" in said and "name the job or its results" in said and "--answers" in said
        assert main([command, str(made.letter)]) == 3
        said = capsys.readouterr().err
        assert "this is a text document, not a workbook: copy the list in it into a workbook" in said and "--answers" in said
    assert sorted(tmp_path.iterdir()) == before


def test_a_folder_leaves_out_the_quotation_of_its_job_and_reads_a_request_for_one(tmp_path: Path) -> None:
    for name in ("job", "job sized", "job quotation", "job quotation (2)", "request for quotation"):
        (tmp_path / f"{name}.xlsx").write_bytes(SMALL.read_bytes())
    assert {name.stem for name in tmp_path.iterdir() if not not_a_job(name)} == {"job", "request for quotation"}


def test_quoting_ends_as_sizing_does_where_a_row_is_not_sized(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """README: 4, written, but some rows are not sized."""

    def without_power(tables: Tables) -> None:
        del next(row for row in tables["heaters"] if row["tank"] == "T-106")["power_kw"]

    source = job(tmp_path, without_power)
    assert main(["size", "--quiet", str(source)]) == main(["quote", str(source)]) == 4
    assert "no offer yet: 1 row is not sized" in capsys.readouterr().out and (tmp_path / "job quotation.docx").exists()


# --- prices typed beside lines


def test_a_price_typed_beside_a_line_without_a_part_comes_back_and_outlives_the_next_run(tmp_path: Path) -> None:
    """The selectors of the small sample, off the stock list: 31.50 each, typed on Buy list; the heater of T-106 from 742.00 to 750.00."""

    def without(tables: Tables) -> None:
        tables["stock"] = [row for row in tables["stock"] if row["part"] != "SEL-2"]

    first = batch.size(job(tmp_path, without))
    opened = openpyxl.load_workbook(first.written)
    sheet = opened["Buy list"]
    head = {cell.value: cell.column for cell in next(row for row in sheet.iter_rows() if any(cell.value == "Stock part" for cell in row))}
    for row in sheet.iter_rows():
        if row[head["Kind"] - 1].value == "selector":
            row[head["Unit price (per unit)"] - 1].value, row[head["Price date"] - 1].value = 31.5, "2025-02-10"
        if row[head["Stock part"] - 1].value == "HTR-106":
            row[head["Unit price (per unit)"] - 1].value = 750
    opened.save(tmp_path / "typed.xlsx")
    for source, target in (("typed.xlsx", "again.xlsx"), ("again.xlsx", "third.xlsx")):
        made = batch.size(tmp_path / source, tmp_path / target)
        [one] = made.job.typed_prices
        assert (one.role, one.unit_price, one.price_date) == ("selector", 31.5, "2025-02-10")
        lines = made.projects[0].materials
        assert {line.unit_price for line in lines if line.role == "selector"} == {31.5}
        assert {line.unit_price for line in lines if line.part == "HTR-106"} == {750.0}
        assert not [finding for finding in made.findings if finding.code == "edit-not-taken"]


def test_a_quantity_typed_beside_a_price_moves_the_hours_and_that_is_said(tmp_path: Path) -> None:
    """The wire of the small sample is priced and worked per 100 ft; on Buy list the price is typed per foot."""
    source = job(tmp_path, lambda tables: None)
    wire = next(part for part in batch.check(source).job.stock if part.per_unit == "ft" and part.per_quantity == 100 and part.field_h)
    written = batch.size(source).written
    opened = openpyxl.load_workbook(written)
    sheet = opened["Buy list"]
    head = {cell.value: cell.column for cell in next(row for row in sheet.iter_rows() if any(cell.value == "Stock part" for cell in row))}
    row = next(row for row in sheet.iter_rows() if row[head["Stock part"] - 1].value == wire.part)
    at = {str(name).partition(" (")[0]: row[column - 1] for name, column in head.items()}
    at["Unit price"].value, at["Per"].value = wire.unit_price / 100, 1
    opened.save(tmp_path / "typed.xlsx")
    made = batch.check(tmp_path / "typed.xlsx")
    [said] = [finding for finding in made.findings if finding.code == "price-basis-hours"]
    assert (said.sheet, said.cell) == ("Buy list", at["Per"].coordinate)
    assert f"The price of {wire.part} is for 1 ft by now, and was for 100 ft" in said.message and "100 times as much" in said.message
    again = batch.size(tmp_path / "typed.xlsx", tmp_path / "again.xlsx")  # said once, to whoever typed it
    assert again.written and not [one for one in batch.check(again.written).findings if one.code == "price-basis-hours"]


# --- questions


def unasked_kinds() -> set[str]:
    """Codes of the kinds of finding that ask the customer nothing."""
    with QUESTIONS.open(encoding="utf-8", newline="") as lines:
        return {code for row in csv.DictReader(lines) if row["order"] == NONE for code in row["findings"].split(";")}


def test_every_kind_of_finding_has_its_question_or_the_word_none() -> None:
    asked = [code for kind in question_kinds() for code in kind.codes]
    assert len(asked) == len(set(asked)) and not set(asked) & unasked_kinds()
    assert set(asked) | unasked_kinds() == set(CATALOGUE)


def test_whatever_leaves_heaters_out_is_asked_of_the_customer() -> None:
    """But for what the estimator's own workbook lacks: a sheet, its headings, the rule set that it names."""
    refused = {code for code, kind in CATALOGUE.items() if kind.effect is Effect.NOT_SIZED}
    assert refused & unasked_kinds() == {
        "code-basis-unavailable", "heading-missing", "headings-change", "headings-not-found", "sheet-heaters-missing", "sheet-no-heaters",
        "sheet-repeated",
    }  # fmt: skip


def test_questions_are_asked_once_a_project_safety_first() -> None:
    asked = ask(batch.check(HERE / "every-finding.xlsx"))
    assert [one.number for one in asked] == list(range(1, len(asked) + 1))
    assert [one.order for one in asked] == sorted(one.order for one in asked)
    assert len({one.key for one in asked}) == len(asked)
    assert all("{" not in one.words and one.words.endswith(("?", ".")) for one in asked)
    [protector] = [one for one in asked if one.key == "FX-ELEC: limit-missing"]
    assert protector.words.startswith("Do the heaters in tanks ") and protector.order == 1


def test_limits_and_cutoffs_are_said_to_be_in_no_line(result: JobResult) -> None:
    """30 heaters with limits on eight tanks with cutoffs, as the small sample lists them."""
    assumed = quote_project(result).offer.assumptions
    assert "over-temperature limits of 30 heaters come with the heaters" in assumed
    assert "low-level cutoffs of 8 tanks are there, and are wired to, not supplied" in assumed


def raised(effect: Effect) -> Finding:
    code, kind = next((code, kind) for code, kind in CATALOGUE.items() if kind.effect is effect and "{" not in kind.basis)
    return find(remark(code, "", **dict.fromkeys(kind.fields, "x")))


def test_what_is_counted_is_not_said_to_be_left_out() -> None:
    """A row that is not sized is in no total; one that is not released is in all of them, on hold."""
    out, held, noted = (raised(effect) for effect in (Effect.NOT_SIZED, Effect.NOT_RELEASED, Effect.NONE))
    assert until(LEFT_OUT, [out]) == until(LEFT_OUT, [noted]) == LEFT_OUT
    assert until(LEFT_OUT, [out, held]) == f"{LEFT_OUT}; what is counted is on hold"
    assert until(LEFT_OUT, [held, noted]) == "counted as listed, and on hold until you answer"
    assert until("heaters as listed", [held]) == "heaters as listed"


def test_a_quotation_speaks_the_words_of_its_code(tmp_path: Path) -> None:
    """What is included, left out and taken, of an IEC job: no raceway, no disconnect, no ground fault."""
    book.write(tmp_path / "iec.xlsx", small.TITLE, small.STORY, plant_iec.in_iec_country(small.tables()), us=False)
    offer = quote_project(batch.check(tmp_path / "iec.xlsx")).offer
    words = [*offer.included, *offer.excluded, *offer.assumptions]
    assert "contactors and switch-disconnectors" in words and "conduit or trunking" in words
    assert not [one for one in words if re.search(r"raceway|\bdisconnects\b|ground", one)]
    assert {"raceway", "contactors and disconnects"} <= set(quote_project(batch.check(SMALL)).offer.included)


def test_a_customer_reads_what_was_taken_of_which_tanks(tmp_path: Path) -> None:
    """Of one tank neither liquid nor material is listed: what its heat is compared with is said of it and of no other."""

    def blank(tables: Tables) -> None:
        tables["tanks"][0] = {**tables["tanks"][0], "liquid": None, "tank_material": None}

    made = batch.check(job(tmp_path, blank))
    told = [words for words in quote_project(made).offer.assumptions if words.startswith("heat of")]
    assert told == [f"heat of tank {made.job.tanks[0].tank} compared with liquid water, tank material carbon steel"]


def test_what_a_list_takes_out_is_named_among_what_is_not_included_without_its_remarks(tmp_path: Path) -> None:
    """Three rows out, one of them of a tank that another row has heaters for, and a pump: tags and counts, and no word of a remark."""
    head = ["Tank", "Description", "Qty", "kW each", "Volts", "Phase", "Remarks"]
    rows = [["T-1", "Immersion heater", 4, 6, 480, 3, None], ["T-1", "Immersion heater", 2, 3, 480, 3, "DELETED rev B"],
            ["T-2", "Immersion heater", 3, 6, 480, 3, "by others"], ["T-3", "Immersion heater", 3, 6, 480, 3, "existing to remain"],
            ["T-4", "Thermostat", 2, None, None, None, None], ["T-5", "Immersion heater", 3, 9, 480, 3, None]]  # fmt: skip
    book_ = openpyxl.Workbook()
    for row in (head, *rows):
        book_.active.append(row)
    book_.save(tmp_path / "list.xlsx")
    excluded = quote_project(batch.check(tmp_path / "list.xlsx")).offer.excluded
    assert excluded[-2:] == (
        "heaters that are marked in your list as taken out, already there or by others, or that you told us to leave out: "
        "tanks T-2, T-3; some of tank T-1",
        "other equipment than heaters, in 1 row of your list",
    )
    assert not [words for words in excluded if "DELETED" in words or "remain" in words]
    assert not [words for words in quote_project(batch.check(SMALL)).offer.excluded if "your list" in words]
