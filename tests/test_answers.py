"""Answers to the questions: how they are read, where they go, what is said of those not taken, and that none overwrites a cell."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

import docx
import openpyxl
import pytest

import batch
from batch.cli.app import main
from batch.errors import InputFileError
from batch.price.question_places import Place
from batch.price.questions import ask, question_kinds
from batch.reopening.answer_words import Unclear, answered
from batch.results import JobResult
from batch.schedules.question_list import how_to_answer
from batch.sheets import INPUTS
from tests.intake_book import book as intake_book
from tests.make_samples import HERE
from tests.samples import book, small

FT = 0.3048
EVERY = HERE / "every-finding.xlsx"


# --- how an answer is read


def place(name: str, table: str, *columns: str) -> Place:
    return Place(table, (name.casefold(),), name, columns, "Tanks", 2, "", ("P", name, ""), name, columns)


TANKS = [place(name, "tanks", "level_cutoff") for name in ("T-1", "T-2", "T-10")]
BATHS = [place(name, "tanks", "operating_c", "start_c") for name in ("T-1", "T-2")]


@pytest.mark.parametrize(
    ("text", "each"),
    [
        ("yes", "yyy"), ("Yes.", "yyy"), ("yes, all of them", "yyy"), ("T-1: yes; T-2: no", "yn-"), ("T-1 yes, T-2 no", "yn-"),
        ("T-1, T-2: yes; others: no", "yyn"), ("tanks T-1 and T-2: yes\nT-10: no", "yyn"), ("T-10 - yes", "--y"), ("all: no", "nnn"),
        ("yes, all but t 10", "yyn"), ("all but T10", "yyn"), ("yes except tank T-1 and T-2", "nny"), ("none", "nnn"),
        ("none of them", "nnn"),
        ("only T-2", "nyn"), ("none but T-2", "nyn"), ("no switches on any of them", "nnn"), ("they don't have any", "nnn"),
        ("yes, all of them have one", "yyy"), ("every tank has one", "yyy"), ("T1 yes; rest no", "ynn"), ("yes, except T-2.", "yny"),
    ],
)  # fmt: skip
def test_an_answer_speaks_of_all_or_of_those_it_names(text: str, each: str) -> None:
    got = {one.place.shown: one.value for one in answered(text, TANKS)}
    assert got == {name: {"y": "yes", "n": "no"}[mark] for name, mark in zip(("T-1", "T-2", "T-10"), each, strict=True) if mark != "-"}


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("maybe", "none of the words"), ("no, all but T-2", "none of the words"), ("T-3: yes", "none of the words"),
        ("yes, on one tank", "none of the words"), ("yes, thermostats", "none of the words"), ("yes, high limits", "none of the words"),
        ("yes but T-2 has none", "none of the words"), ("yes, all but T-9", "none of the words"), ("ok", "none of the words"),
        ("all", "none of the words"), ("no idea", "none of the words"),
        ("unknown", "leaves the question open"),
        ("T-1", "nothing of T-1"), ("T-1: yes; T-1: no", "two things"), ("T-1: yes; no", "does not say of what"),
        ("yes?", "question mark"), ("T-1: no?", "question mark"), ("x", "may mean either"), ("1", "may mean either"),
        ("0", "may mean either"),
    ],
)  # fmt: skip
def test_what_is_not_certain_is_not_taken(text: str, why: str) -> None:
    with pytest.raises(Unclear, match=why):
        answered(text, TANKS)


@pytest.mark.parametrize("text", ["T-3 yes", "T-3 and F-1 yes", "F-1 is yes", "T-1: yes; T-3 no"])
def test_what_speaks_of_others_is_not_taken_in_silence(text: str) -> None:
    others = [place(name, "tanks", "level_cutoff") for name in ("T-3", "F-1")]
    with pytest.raises(Unclear, match="which the question is not about"):
        answered(text, TANKS, others)


def test_a_comma_within_a_number_parts_nothing() -> None:
    read = answered("operating 65,5 °C, start 20 °C", BATHS)
    assert {(one.key, one.value) for one in read} == {("operating_c", 65.5), ("start_c", 20.0)}


def test_values_are_told_apart_by_their_names_and_need_their_units() -> None:
    """140 °F is 60 °C, 68 °F is 20 °C."""
    said = answered("T-1: operating 140 °F, start temperature 68 °F; T-2: start 20 °C", BATHS)
    got = {(one.place.shown, one.key): one.value for one in said}
    want = {("T-1", "operating_c"): 60.0, ("T-1", "start_c"): 20.0, ("T-2", "start_c"): 20.0}
    assert got == pytest.approx(want)
    for text, why in (("140 °F", "does not say what"), ("operating 140", "has no unit"), ("operating hot", "no Operating temperature")):
        with pytest.raises(Unclear, match=why):
            answered(text, BATHS)


def test_a_unit_or_the_one_blank_column_says_what_a_value_is() -> None:
    feeder = place("F-1", "feeders", "fault_ka", "source_kva", "source_z_pct")
    assert [(one.key, one.value) for one in answered("500 kVA, 5.75 %", [feeder])] == [("source_kva", 500.0), ("source_z_pct", 5.75)]
    assert [(one.key, one.value) for one in answered("22 kA", [feeder])] == [("fault_ka", 22.0)]
    heater = place("T-1/1", "heaters", "volts_v", "phases")
    assert [(one.key, one.value) for one in answered("480 V, 3 ph", [heater])] == [("volts_v", 480.0), ("phases", 3)]
    known = BATHS[0]._replace(blank=("start_c",))
    assert [(one.key, one.value) for one in answered("20 °C", [known])] == [("start_c", 20.0)]


RATING, LOAD = "existing_device_a", "other_load_a"


@pytest.mark.parametrize(("text", "got"), [
    ("200 A", {RATING: 200}), ("200", {RATING: 200}), ("200 A, feeds nothing else", {RATING: 200, LOAD: 0}),
    ("other load 40 A", {LOAD: 40}), ("200 A and nothing else", {RATING: 200, LOAD: 0}),
    ("200 A, 36 A", {RATING: 200, LOAD: 36}), ("nothing else", {LOAD: 0}),
    ("200 A and 36 kW", {}), ("200 A breaker", {}),
])  # fmt: skip
def test_a_question_of_two_things_takes_a_bare_figure_for_the_first_whatever_is_blank(text: str, got: dict[str, float]) -> None:
    """Of a supply whose device is listed and whose other load is blank: "200 A" is the device, and never 200 A more of load."""
    supply = place("F-2", "feeders", RATING, LOAD)._replace(blank=(LOAD,))
    try:
        said = {one.key: one.value for one in answered(text, [supply], of_all=True)}
    except Unclear as why:
        said = {}
        assert "Existing OCPD rating … A, Other load … A" in str(why)
    assert said == got


def test_what_a_question_asks_for_stands_beside_it_whether_it_is_blank_or_not(folder: Path) -> None:
    """A device of 30 A is listed; the question asks for its rating and for what else it feeds: "100 A" is the rating."""
    tables = small.tables()
    feeder = tables["feeders"][0]
    feeder["existing_device_a"] = 30.0
    book.write(folder / "rating.xlsx", small.TITLE, small.STORY, tables)
    made = batch.size(folder / "rating.xlsx", folder / "rating sized.xlsx")
    [asked] = [one for one in ask(made) if one.words.startswith("What is the rating of the device")]
    assert how_to_answer(asked) == "Existing OCPD rating … A, Other load … A"
    _typed_over(folder / "rating sized.xlsx", folder / "rating typed.xlsx", {"Answer": "100 A"}, "What is the rating of the device")
    again = batch.check(folder / "rating typed.xlsx").job.feeders[0]
    assert (again.existing_device_a, again.other_load_a) == (100.0, feeder.get("other_load_a"))


def test_what_is_said_of_all_but_some_leaves_those_open() -> None:
    """Of what is no yes or no, nothing is concluded of those that are left out."""
    sheaths = [place(name, "heaters", "sheath") for name in ("T-1", "T-2")]
    got = {text: [(one.place.shown, one.value) for one in answered(text, sheaths)] for text in
           ("all 316", "316 on all of them", "316 except T-2", "all 316 except T-2 is titanium")}  # fmt: skip
    assert got["all 316"] == got["316 on all of them"] == [("T-1", "316"), ("T-2", "316")]
    assert got["316 except T-2"] == [("T-1", "316")] and got["all 316 except T-2 is titanium"] == [("T-1", "316"), ("T-2", "titanium")]
    for text in ("316 except T-2 which has none", "316, not titanium", "yes"):
        with pytest.raises(Unclear, match="is no value of Sheath"):
            answered(text, sheaths)
    both = [place("T-1", "heaters", "sheath", "heated_length_mm")]
    assert [(one.key, one.value) for one in answered("all 316", both)] == [("sheath", "316")]


def test_a_length_may_be_an_estimate_and_a_fault_current_may_not() -> None:
    run, fault = place("F-1", "feeders", "run_m"), place("F-1", "feeders", "fault_ka")
    for text in ("about 100 ft", "approx. 100 ft", "~100 ft", "100 ft or so", "about 100 ft for all"):
        [said] = answered(text, [run])
        assert said.value == pytest.approx(100 * FT) and said.typed == text
    with pytest.raises(Unclear):
        answered("about 22 kA", [fault])


def test_a_supply_named_by_its_volts_must_be_the_one_of_the_list() -> None:
    system = place("F-1", "feeders", "system")._replace(seen="480 V")
    for text in ("480/277 wye, solidly grounded", "480Y/277 V, 3 phase, 4 wire, solidly grounded", "a wye grounded at its middle point"):
        assert [one.value for one in answered(text, [system])] == ["wye grounded"]
    assert [answered(text, [system])[0].value for text in ("not at all", "at one line")] == ["delta", "corner-grounded delta"]
    with pytest.raises(Unclear, match="names a supply of 208 V, and the list has F-1 at 480 V"):
        answered("208/120 wye, solidly grounded", [system])
    with pytest.raises(Unclear, match="none of the words"):
        answered("480/240 wye", [system])
    whole = place("F-1", "feeders", "volts_v", "phases", "wires", "system")
    read = answered("480/277 wye, solidly grounded", [whole])
    assert {(one.key, one.value) for one in read} == {("volts_v", 480.0), ("system", "wye grounded")}


@pytest.mark.parametrize(("tag", "said", "same"), [
    ("TK-10", "tk 10", True), ("TK-10", "TK10", True), ("TK-10", "tk-1", False), ("T-1/2", "T-12", False), ("1-10", "110", False),
    ("T-1", "t-10", False), ("PW2-06", "pw2 06", False),
])  # fmt: skip
def test_a_tag_is_known_whatever_stands_between_its_letters_and_digits(tag: str, said: str, same: bool) -> None:
    tanks = [place(name, "tanks", "level_cutoff") for name in (tag, "Z-9")]
    try:
        got = answered(f"{said}: yes", tanks)
    except Unclear:
        got = []
    assert [one.place.shown for one in got] == ([tag] if same else [])


def test_a_tag_that_may_be_either_of_two_is_neither() -> None:
    tanks = [place(name, "tanks", "level_cutoff") for name in ("TK-1", "TK.1")]
    with pytest.raises(Unclear):
        answered("tk 1: yes", tanks)
    assert [one.place.shown for one in answered("TK-1: yes", tanks)] == ["TK-1"]


def test_every_question_says_what_its_answer_fills() -> None:
    sheets = {sheet.id: sheet for sheet in INPUTS}
    for kind in question_kinds():
        assert kind.takes in ("cells", "confirm", "hand") or all(
            key in sheets[table].by_key for table, _, key in (one.partition(".") for one in kind.takes.split(";"))
        ), kind.words


# --- typed on the sheet Questions of results: one of each kind


def typed(results: Path, answers: Mapping[str, str], target: Path, **others: str) -> None:
    """The results with answers beside the questions that begin so, by project and words."""
    opened = openpyxl.load_workbook(results)
    sheet = opened["Questions"]
    head = next(row for row in sheet.iter_rows() if any(cell.value == "Answer" for cell in row))
    at = {cell.value: cell.column for cell in head if cell.value}
    left = dict(answers)
    for row in sheet.iter_rows(min_row=head[0].row + 1):
        words = f"{row[at['Project'] - 1].value}: {row[at['Question'] - 1].value}"
        begin = next((one for one in left if words.startswith(one)), None)
        if begin is not None and row[at["State"] - 1].value == "open":
            sheet.cell(row[0].row, at["Answer"]).value = left.pop(begin)
    assert not left, f"not asked: {left}"
    for cell, value in others.items():
        opened["As received Heaters"][cell] = value
    opened.save(target)


ANSWERS = {
    "FX-ELEC: Do the heaters in": "E-027: no; E-028: yes",
    "FX-ELEC: Is there a switch": "yes",  # E-NOWHERE has no row on Tanks
    "FX-HEAT: At what temperature": "HT-09: operating 180 °F",
    "FX-HEAT: Do the heaters of tank HT-20 lie": "yes",
    "FX-ELEC: How many separate": "E-022: 2",
    "FX-READ: What should stand": "Heaters F90: 6 kW",
    "FX-ELEC: Which volts and phases are right for the heaters in tank E-021": "480 V",
    "FX-READ: Which volts and phases are right for the heaters in tank R-013": "R-013: 480 V, 3 ph",
    "FX-ELEC: Which supply feeds": "E-001: F480",
    "FX-ELEC: Which tanks and heaters are meant": "Heaters C33: B",
    "FX-ELEC: What is the rating of the device": "existing 40 A",
    "FX-ELEC: Please tell us of tank E-045": "E-045: panel to heater 20 ft, contactor to panel 10 ft",
    "FX-ELEC: How far is it from the source": "100 ft",
    "FX-ELEC: How far is it from the distribution": "E-005: 30 ft",
    "FX-ELEC: Is a larger transformer": "no, and they all heat at once",
    "FX-ELEC: What short-circuit current": "22 kA",
    "FX-ELEC: What is already connected": "a lamp",
    "FX-ELEC: The heaters in tanks E-019": "E-019: 208 V",
    "FX-ALUM: Please tell us of tank A-001": "length 6 ft, width 3 ft, depth 3 ft, operating 140 °F",
    "FX-HEAT: We do not know the liquid": "HT-07: liquid water",
}


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("answers")


@pytest.fixture(scope="module")
def sized_again(folder: Path) -> JobResult:
    batch.size(EVERY, folder / "every sized.xlsx")
    typed(folder / "every sized.xlsx", ANSWERS, folder / "typed.xlsx")
    return batch.size(folder / "typed.xlsx", folder / "again.xlsx")


def of_tank(result: JobResult, tank: str, bank: str | None = None):
    return next(one for one in result.job.banks if one.tank == tank and (bank is None or one.bank == bank))


def test_each_kind_of_answer_stands_in_its_cell(sized_again: JobResult) -> None:
    job = sized_again.job
    tanks = {one.tank: one for one in job.tanks}
    feeders = {(one.project, one.feeder): one for one in job.feeders}
    assert (of_tank(sized_again, "E-027").over_temperature_limit, of_tank(sized_again, "E-028").over_temperature_limit) == ("no", "yes")
    assert [tanks[name].level_cutoff for name in ("E-NOCUT", "E-CUT?", "E-NOWHERE")] == ["yes"] * 3
    assert tanks["HT-09"].operating_c == pytest.approx((180 - 32) / 1.8)
    assert of_tank(sized_again, "E-022").circuits_per_heater == 2
    assert of_tank(sized_again, "R-002").power_kw == 6.0  # a row that was refused for its cell
    assert (of_tank(sized_again, "R-013").volts_v, of_tank(sized_again, "R-013").phases) == (480.0, 3)
    assert of_tank(sized_again, "E-021").volts_v == 480.0 and of_tank(sized_again, "E-019").volts_v == 208.0
    assert of_tank(sized_again, "E-001").feeder == "F480"
    assert [one.bank for one in job.banks if one.tank == "E-TWICE"] == ["A", "B"]
    assert feeders["FX-ELEC", "FOLD"].existing_device_a == 40.0 and feeders["FX-ELEC", "FUNK"].fault_ka == 22.0
    bank = of_tank(sized_again, "E-045")
    assert (bank.heater_run_m, bank.panel_feeder_run_m) == pytest.approx((20 * FT, 10 * FT))
    assert feeders["FX-ELEC", "FUNK"].run_m == pytest.approx(100 * FT)
    assert tanks["E-005"].distribution_run_m == pytest.approx(30 * FT) and tanks["E-006"].distribution_run_m is None
    assert (tanks["A-001"].length_m, tanks["A-001"].operating_c) == pytest.approx((6 * FT, 60.0))
    assert tanks["HT-07"].liquid == "water"


def test_what_was_answered_is_shown_so_and_not_asked_again(sized_again: JobResult) -> None:
    by_words = {f"{one.project}: {one.words}": one for one in sized_again.job.answered}
    assert len(by_words) == len(ANSWERS) - 1  # the lamp was not understood
    begun = [f"{one.project}: {one.words}" for one in ask(sized_again)]
    limits = next(one for words, one in by_words.items() if words.startswith("FX-ELEC: Do the heaters"))
    assert limits.did == "Over-temperature limit no: E-027/1; Over-temperature limit yes: E-028/1"
    settled = ("FX-ELEC: Do the heaters in", "FX-ELEC: Is there a switch", "FX-HEAT: Do the heaters of tank HT-20", "FX-ELEC: Is a larger")
    for words in settled:
        assert not [one for one in begun if one.startswith(words)], words
    [still] = [one for one in begun if one.startswith("FX-ELEC: How far is it from the distribution")]
    assert still and "FX-ELEC: Which supply feeds tank" in " ".join(begun)  # those that the answer did not name are still asked about


def test_what_could_not_be_taken_names_its_cell(sized_again: JobResult) -> None:
    said = {finding.code: finding for finding in sized_again.findings if finding.code.startswith("answer-")}
    assert "“a lamp” is no Other load" in said["answer-unclear"].message
    assert (said["answer-unclear"].sheet, said["answer-unclear"].cell[0]) == ("Questions", "H")
    assert "no, and they all heat at once" in said["answer-by-hand"].message and said["answer-by-hand"].cell
    assert {"answer-taken", "answer-confirmed"} <= said.keys() and "answer-no-question" not in said


def test_answers_outlive_the_next_run_and_nothing_else_is_said_to_be_typed(sized_again: JobResult, folder: Path) -> None:
    assert sized_again.checks and all(check.passes for check in sized_again.checks)
    third = batch.check(folder / "again.xlsx")
    assert third.job.answered == sized_again.job.answered
    assert not [finding for finding in third.findings if finding.code.startswith(("answer-", "edit-"))]
    for name in ("tanks", "feeders"):
        assert [(one.feeder if name == "feeders" else one.tank, one.run_m if name == "feeders" else one.level_cutoff)
                for one in getattr(third.job, name)] == [
            (one.feeder if name == "feeders" else one.tank, one.run_m if name == "feeders" else one.level_cutoff)
            for one in getattr(sized_again.job, name)]  # fmt: skip


def test_an_answer_that_is_changed_later_is_said_and_the_value_stands(sized_again: JobResult, folder: Path) -> None:
    opened = openpyxl.load_workbook(folder / "again.xlsx")
    sheet = opened["Questions"]
    cell = next(cell for row in sheet.iter_rows() for cell in row if cell.value == "E-027: no; E-028: yes")
    cell.value = "yes"
    opened.save(folder / "changed.xlsx")
    made = batch.check(folder / "changed.xlsx")
    [said] = [finding for finding in made.findings if finding.code == "answer-unclear"]
    assert "was answered before" in said.message and said.cell == cell.coordinate
    assert of_tank(made, "E-027").over_temperature_limit == "no"


# --- a copy that the customer sends back


@pytest.fixture(scope="module")
def list_and_copy(folder: Path) -> tuple[Path, Path]:
    """The small sample with two limits not said, and its quotation with the answer of the customer."""
    tables = small.tables()
    for row in tables["heaters"]:
        if row["tank"] in ("T-101", "T-102"):
            row["over_temperature_limit"] = None
    source = folder / "job.xlsx"
    book.write(source, small.TITLE, small.STORY, tables)
    copy = batch.quote(source).workbook
    opened = openpyxl.load_workbook(copy)
    sheet = opened["Questions"]
    row = next(row for row in sheet.iter_rows() if str(row[1].value).startswith("Do the heaters in tanks T-101, T-102"))
    assert row[3].value == "yes or no; or each by its name, T-101/1: …; T-102/1: …"
    row[4].value = "T-101: yes; T-102: no"
    opened.save(folder / "back.xlsx")
    return source, folder / "back.xlsx"


def limits(result: JobResult) -> list[str | None]:
    return [of_tank(result, name).over_temperature_limit for name in ("T-101", "T-102")]


def test_a_quotation_that_came_back_answers_the_list_and_its_results_alike(list_and_copy: tuple[Path, Path], folder: Path) -> None:
    source, back = list_and_copy
    made = batch.size(source, folder / "job sized.xlsx", answers=back)
    assert limits(made) == ["yes", "no"]
    assert [(one.tank, one.key, one.value, one.instead_of) for one in made.job.carried_forward] == [
        ("T-101", "over_temperature_limit", "yes", None), ("T-102", "over_temperature_limit", "no", None)]  # fmt: skip
    again = batch.check(folder / "job sized.xlsx", answers=back)  # given twice, taken once
    assert limits(again) == ["yes", "no"] and not [one for one in again.findings if one.code == "answer-no-question"]
    asked = batch.quote(folder / "job sized.xlsx", folder / "second.xlsx")
    assert not any(str(row[1].value).startswith("Do the heaters in") for row in _rows(asked.workbook))
    assert limits(batch.check(source, answers=folder / "job sized.xlsx")) == ["yes", "no"]  # answered results answer the next list


def _rows(path: Path) -> list[tuple]:
    opened = openpyxl.load_workbook(path)
    return list(opened["Questions"].iter_rows()) if "Questions" in opened.sheetnames else []


def _typed_over(source: Path, target: Path, words: Mapping[str, str], begin: str = "Do the heaters in") -> dict[str, str]:
    """Types words under headings of the sheet Questions, beside the question that begins so; gives the address of each."""
    opened = openpyxl.load_workbook(source)
    sheet = opened["Questions"]
    head = next(row for row in sheet.iter_rows() if any(cell.value in ("Answer", "Your answer") for cell in row))
    asked = next(row for row in sheet.iter_rows() if any(str(cell.value).startswith(begin) for cell in row))
    at = {str(cell.value): asked[cell.column - 1] for cell in head}
    for heading, text in words.items():
        at[heading].value = text
    opened.save(target)
    return {heading: at[heading].coordinate for heading in words}


def test_an_answer_one_column_off_is_named_with_its_cell(list_and_copy: tuple[Path, Path], folder: Path) -> None:
    """In results and in the customer's copy alike; what was written beside the question is no answer."""
    source, back = list_and_copy
    batch.size(source, folder / "off.xlsx")
    assert not [one for one in batch.check(folder / "off.xlsx").findings if one.code.startswith(("answer-", "edit-"))]
    for file, headings, sheet in (
        (folder / "off.xlsx", ("No.", "Project", "Why it is asked", "State", "Question", "In the list", "Until it is answered",
                               "How to answer", "What the answer did"), "Questions"),
        (folder / "off.xlsx", ("Reference",), "Questions"),
        (back, ("No.", "Question", "In your list; until you answer", "How to answer"), "copy off.xlsx, Questions"),
    ):  # fmt: skip
        off = folder / f"copy {file.name}" if file is not back else folder / "copy off.xlsx"
        cells = _typed_over(file, off, {**dict.fromkeys(headings, "no"), "Answer" if file is not back else "Your answer": ""},
                            "T-101" if file is back else "Do the heaters in")  # fmt: skip
        made = batch.check(source, answers=off) if file is back else batch.check(off)
        said = {one.cell: one.message for one in made.findings if one.code == "answer-unclear" and one.sheet == sheet}
        assert {cells[heading] for heading in headings} == said.keys(), headings
        assert limits(made) == [None, None]
        assert all("is not taken: it stands under" in words or "State is not typed" in words for words in said.values())


def test_a_state_that_is_typed_by_hand_neither_answers_nor_asks_again(list_and_copy: tuple[Path, Path], folder: Path) -> None:
    source, back = list_and_copy
    batch.size(source, folder / "state.xlsx")
    cells = _typed_over(folder / "state.xlsx", folder / "state typed.xlsx", {"State": "answered", "Answer": "yes"})
    made = batch.check(folder / "state typed.xlsx")
    [said] = [one for one in made.findings if one.code == "answer-unclear"]
    assert limits(made) == ["yes", "yes"] and "State is not typed: it follows" in said.message and said.cell == cells["State"]
    batch.size(source, folder / "settled state.xlsx", answers=back)
    cells = _typed_over(folder / "settled state.xlsx", folder / "state open.xlsx", {"State": "open"})
    made = batch.check(folder / "state open.xlsx")
    [said] = [one for one in made.findings if one.code.startswith("answer-")]
    assert limits(made) == ["yes", "no"] and said.cell == cells["State"]
    assert "State is answered, and is not typed; to ask again, take the value that it gave off Carried forward" in said.message
    assert [one.words.startswith("Do the heaters in") for one in made.job.answered] == [True]


def test_an_answer_that_leaves_its_cell_unread_is_not_said_to_be_taken(folder: Path) -> None:
    """6 kW of a row and 480 V of another were blank; one answer is a figure, one is none."""
    tables = small.tables()
    for row in tables["heaters"]:
        if row["tank"] in ("T-101", "T-102"):
            row["power_kw"] = None
    book.write(folder / "blank cells.xlsx", small.TITLE, small.STORY, tables)
    batch.size(folder / "blank cells.xlsx", folder / "blank cells sized.xlsx")
    [asked] = [one for one in ask(batch.check(folder / "blank cells sized.xlsx")) if one.takes == "cells"]
    first, second = (place.shown for place in asked.places)
    words = {"Answer": f"{first}: 6 kW; {second}: ask the foreman"}
    cells = _typed_over(folder / "blank cells sized.xlsx", folder / "half said.xlsx", words, "What should stand in")
    made = batch.size(folder / "half said.xlsx", folder / "half said again.xlsx")
    said = {one.code: one for one in made.findings if one.code.startswith("answer-")}
    assert said.keys() == {"answer-taken", "answer-unclear"} and said["answer-unclear"].cell == cells["Answer"]
    assert f"with it {second} is not clear either" in said["answer-unclear"].message and first in said["answer-taken"].message
    assert of_tank(made, "T-101").power_kw == 6.0 and not [one for one in made.job.banks if one.tank == "T-102"]
    [answer] = made.job.answered
    assert answer.did == f"{first} says 6 kW"
    [still] = [one for one in ask(made) if one.takes == "cells"]
    assert [place.seen for place in still.places] == [""]  # as the list has it: the words of the answer are not put into it


def test_a_row_that_an_answer_makes_readable_leaves_no_hold_that_somebody_typed(folder: Path) -> None:
    """What hung on the feeder without that row was on hold in the workbook that was answered."""
    tables = small.tables()
    next(row for row in tables["heaters"] if row["tank"] == "T-102")["power_kw"] = None
    book.write(folder / "one blank.xlsx", small.TITLE, small.STORY, tables)
    batch.size(folder / "one blank.xlsx", folder / "one blank sized.xlsx")
    _typed_over(folder / "one blank sized.xlsx", folder / "one answered.xlsx", {"Answer": "3 kW"}, "What should stand in")
    made = batch.check(folder / "one answered.xlsx")
    assert of_tank(made, "T-102").power_kw == 3.0
    assert [(one.code, one.cell) for one in made.findings if one.code.startswith(("edit-", "answer-")) and one.code != "answer-taken"] == []


def test_answers_in_the_letter_are_read_as_those_in_the_workbook(list_and_copy: tuple[Path, Path], folder: Path) -> None:
    source, _ = list_and_copy
    letter = docx.Document(str(batch.quote(source, folder / "letter.xlsx").letter))
    heads = [cell.text for cell in letter.tables[1].rows[0].cells]
    asked = next(row for row in letter.tables[1].rows if row.cells[1].text.startswith("Do the heaters in"))
    asked.cells[heads.index("Your answer")].text = "T-101: yes"
    asked.cells[heads.index("How to answer")].text = "T-102: no"
    letter.save(str(folder / "letter back.docx"))
    made = batch.check(source, answers=folder / "letter back.docx")
    assert limits(made) == ["yes", None]
    [said] = [one for one in made.findings if one.code == "answer-unclear"]
    assert (said.sheet, said.cell) == ("letter back.docx, table of questions", "row 2") and "under How to answer" in said.message
    (folder / "no letter.docx").write_bytes(b"PK")
    with pytest.raises(InputFileError, match="no letter that can be read"):
        batch.check(source, answers=folder / "no letter.docx")
    with pytest.raises(InputFileError, match="no such file"):
        batch.check(source, answers=folder / "gone.docx")
    docx.Document().save(str(folder / "other.docx"))
    with pytest.raises(InputFileError, match="no table has the columns"):
        batch.check(source, answers=folder / "other.docx")


def test_an_answer_never_goes_over_a_cell_that_was_typed_since(list_and_copy: tuple[Path, Path], folder: Path) -> None:
    _, back = list_and_copy
    tables = small.tables()
    for row in tables["heaters"]:
        if row["tank"] == "T-101":
            row["over_temperature_limit"] = "no"  # typed since: the answer said yes
        elif row["tank"] in ("T-102", "T-103"):
            row["over_temperature_limit"] = None  # T-103 was not asked about
    book.write(folder / "since.xlsx", small.TITLE, small.STORY, tables)
    made = batch.check(folder / "since.xlsx", answers=back)
    assert limits(made) == ["no", "no"] and of_tank(made, "T-103").over_temperature_limit is None
    [said] = [finding for finding in made.findings if finding.code == "answer-changed"]
    assert "T-101/1" in said.message and "T-103/1" in said.message and said.sheet == "back.xlsx, Questions" and said.cell.startswith("E")


def test_an_answer_that_names_what_is_settled_by_now_is_taken_for_the_others(list_and_copy: tuple[Path, Path], folder: Path) -> None:
    """T-101 says yes by now and is no longer asked about; T-102 still is."""
    tables = small.tables()
    for row in tables["heaters"]:
        if row["tank"] == "T-102":
            row["over_temperature_limit"] = None
    book.write(folder / "settled.xlsx", small.TITLE, small.STORY, tables)
    made = batch.check(folder / "settled.xlsx", answers=list_and_copy[1])
    assert limits(made) == ["yes", "no"]
    [said] = [finding for finding in made.findings if finding.code == "answer-changed"]
    assert "was not asked of T-101, or" in said.message


@pytest.mark.parametrize("change", ["swapped", "inserted", "other heaters"])
def test_an_answer_about_heaters_goes_to_no_others(folder: Path, change: str) -> None:
    """Two banks of one tank without labels, 3 x 6 kW and 1 x 18 kW, with an answer for each; then the list is another."""
    tables = small.tables()
    first = next(row for row in tables["heaters"] if row["tank"] == "T-101") | {"bank": None, "over_temperature_limit": None}
    large = first | {"quantity": 1, "power_kw": 18.0}
    rest = [row for row in tables["heaters"] if row["tank"] != "T-101"]
    tables["heaters"] = [first, large, *rest]
    source, back = folder / f"{change}.xlsx", folder / f"{change} back.xlsx"
    book.write(source, small.TITLE, small.STORY, tables)
    opened = openpyxl.load_workbook(batch.quote(source).workbook)
    row = next(row for row in opened["Questions"].iter_rows() if str(row[1].value).startswith("Do the heaters in"))
    row[4].value = "T-101/1: yes; T-101/2: no"
    opened.save(back)
    asked = {row.power_kw: row.over_temperature_limit for row in batch.check(source, answers=back).job.banks if row.tank == "T-101"}
    assert asked == {6.0: "yes", 18.0: "no"}
    now = {
        "swapped": [large, first], "inserted": [large | {"power_kw": 12.0}, first, large],
        "other heaters": [first | {"power_kw": 36.0}, large],
    }  # fmt: skip
    tables["heaters"] = [*now[change], *rest]
    book.write(folder / f"{change} since.xlsx", small.TITLE, small.STORY, tables)
    made = batch.check(folder / f"{change} since.xlsx", answers=back)
    got = {(row.quantity, row.power_kw): row.over_temperature_limit for row in made.job.banks if row.tank == "T-101"}
    assert all(got[key] in (None, {(3, 6.0): "yes", (1, 18.0): "no"}.get(key)) for key in got)
    assert any(finding.code in ("answer-changed", "answer-no-question") for finding in made.findings)


def test_of_two_answers_that_differ_neither_is_taken(list_and_copy: tuple[Path, Path], folder: Path) -> None:
    source, back = list_and_copy
    batch.size(source, folder / "two.xlsx")
    opened = openpyxl.load_workbook(folder / "two.xlsx")
    sheet = opened["Questions"]
    head = next(row for row in sheet.iter_rows() if any(cell.value == "Answer" for cell in row))
    at = next(cell.column for cell in head if cell.value == "Answer")
    asked = next(row for row in sheet.iter_rows() if any(str(cell.value).startswith("Do the heaters in") for cell in row))
    sheet.cell(asked[0].row, at).value = "T-101: no; T-102: no"
    opened.save(folder / "two typed.xlsx")
    made = batch.check(folder / "two typed.xlsx", answers=back)
    assert limits(made) == [None, None]
    said = [finding for finding in made.findings if finding.code == "answer-unclear"]
    assert len(said) == 2 and all("another answer to it says" in finding.message for finding in said)
    opened = openpyxl.load_workbook(folder / "two.xlsx")
    sheet = opened["Questions"]
    sheet.cell(asked[0].row, at).value = "#N/A"
    sheet.cell(asked[0].row, at).data_type = "e"
    opened.save(folder / "two broken.xlsx")
    [broken] = [finding for finding in batch.check(folder / "two broken.xlsx").findings if finding.code == "answer-unclear"]
    assert "an error, or a formula" in broken.message


def test_an_answer_of_which_supply_is_its_tag(folder: Path) -> None:
    tables = small.tables()
    for row in tables["heaters"]:
        if row["tank"] == "T-101":
            row["feeder"] = "F-9"
    source, back = folder / "supply.xlsx", folder / "supply back.xlsx"
    book.write(source, small.TITLE, small.STORY, tables)
    opened = openpyxl.load_workbook(batch.quote(source).workbook)
    row = next(row for row in opened["Questions"].iter_rows() if str(row[1].value).startswith("Which supply feeds"))
    row[4].value = "F-1"
    opened.save(back)
    assert of_tank(batch.check(source, answers=back), "T-101").feeder == "F-1"


def test_a_supply_that_the_list_has_not_is_no_answer(folder: Path) -> None:
    source, back = folder / "supply.xlsx", folder / "no supply back.xlsx"
    opened = openpyxl.load_workbook(folder / "supply back.xlsx")
    next(row for row in opened["Questions"].iter_rows() if str(row[1].value).startswith("Which supply feeds"))[4].value = "F-77"
    opened.save(back)
    made = batch.check(source, answers=back)
    [said] = [finding for finding in made.findings if finding.code == "answer-unclear"]
    assert "“F-77” is no supply of the list, which has F-1" in said.message and of_tank(made, "T-101").feeder == "F-9"


def test_another_answer_to_what_is_settled_is_said(list_and_copy: tuple[Path, Path], folder: Path) -> None:
    source, back = list_and_copy
    made = batch.size(source, folder / "settled sized.xlsx", answers=back)
    _typed_over(back, folder / "other.xlsx", {"Your answer": "T-101: no; T-102: no"})
    again = batch.check(folder / "settled sized.xlsx", answers=folder / "other.xlsx")
    assert limits(again) == limits(made) == ["yes", "no"]
    assert [finding.seen for finding in again.findings if finding.code == "answer-no-question"] == ["T-101: no; T-102: no"]


def test_a_no_where_a_yes_would_leave_all_as_it_is_confirms_nothing(folder: Path) -> None:
    """A heated length of 10 ft in a tank of 5 ft is asked about; "no" is kept to be put in by hand, and is no confirmation."""
    tables = small.tables()
    for row in tables["heaters"]:
        if row["tank"] == "T-101":
            row["heated_length_mm"] = 120.0  # inches
    source = folder / "long.xlsx"
    book.write(source, small.TITLE, small.STORY, tables)
    batch.size(source, folder / "long sized.xlsx")
    for text, code in (("yes", "answer-confirmed"), ("no, 900 mm", "answer-by-hand")):
        typed(folder / "long sized.xlsx", {"PILOT: Do the heaters of": text}, folder / f"{code}.xlsx")
        said = [finding.code for finding in batch.check(folder / f"{code}.xlsx").findings if finding.code.startswith("answer-")]
        assert said == [code]


def test_an_answer_whose_question_is_gone_is_said(list_and_copy: tuple[Path, Path]) -> None:
    made = batch.check(HERE / "small-clean.xlsx", answers=list_and_copy[1])
    assert [finding.cell[0] for finding in made.findings if finding.code == "answer-no-question"] == ["E"]


def test_the_command_takes_answers_and_refuses_what_has_none(
    list_and_copy: tuple[Path, Path], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    source, back = list_and_copy
    assert main(["size", str(source), "--answers", str(back), "-o", str(tmp_path / "out.xlsx"), "--quiet"]) in (0, 1)
    assert main(["size", str(source), "--answers", str(source), "-o", str(tmp_path / "out.xlsx")]) == 3
    assert "no sheet has the columns Answer and Reference" in capsys.readouterr().err
    assert main(["size", str(source), str(HERE / "small-clean.xlsx"), "--answers", str(back), "-o", str(tmp_path)]) == 2
    with pytest.raises(InputFileError, match="no such file"):
        batch.check(source, answers=tmp_path / "gone.xlsx")


def _of_a_row_in_doubt(folder: Path, answer: str) -> tuple[set[str], set[str]]:
    """Tanks that are sized, and what is said, of a list with one optional row once its question is answered so."""
    head = ["Tank", "Qty", "kW each", "Volts", "Ph", "Remarks"]
    rows = [["Tank heater list"], head, ["T-1", 2, 9, 480, 3, ""], ["T-2", 3, 6, 480, 3, ""], ["T-3", 2, 6, 480, 3, "optional"]]
    (folder / "list.xlsx").write_bytes(intake_book({"Sheet1": rows}))
    batch.size(folder / "list.xlsx", folder / "list sized.xlsx")
    results = openpyxl.load_workbook(folder / "list sized.xlsx")
    sheet = results["Questions"]
    column = next(cell.column for row in sheet.iter_rows() for cell in row if cell.value == "Answer")
    [asked] = [row[0].row for row in sheet.iter_rows() if any("yes or no to each" in str(cell.value) for cell in row)]
    sheet.cell(asked, column).value = answer
    results.save(folder / "answered.xlsx")
    made = batch.check(folder / "list.xlsx", answers=folder / "answered.xlsx")
    return {row.bank.tank for project in made.projects for row in project.banks}, {finding.code for finding in made.findings}


@pytest.mark.parametrize("answer", ["yes", "ja", "keep", "Yes, please"])
def test_a_row_in_doubt_is_built_where_the_answer_says_so(answer: str, tmp_path: Path) -> None:
    assert _of_a_row_in_doubt(tmp_path, answer)[0] == {"T-1", "T-2", "T-3"}


@pytest.mark.parametrize("answer", ["no", "nein", "No, not any more", "not in this order", "F5: no", "leave it out", "do not build it"])
def test_a_row_in_doubt_is_left_out_where_the_answer_says_no(answer: str, tmp_path: Path) -> None:
    """In the place of the word that left it open an answer of any other words would build the row."""
    sized, codes = _of_a_row_in_doubt(tmp_path, answer)
    assert sized == {"T-1", "T-2"} and {"row-taken-out", "answer-taken"} <= codes and "row-in-doubt" not in codes


@pytest.mark.parametrize("answer", ["maybe later", "no, build it", "yes, but not now", "6 kW"])
def test_a_row_in_doubt_stays_so_where_the_answer_says_neither(answer: str, tmp_path: Path) -> None:
    sized, codes = _of_a_row_in_doubt(tmp_path, answer)
    assert sized == {"T-1", "T-2"} and {"row-in-doubt", "answer-unclear"} <= codes


def test_an_answer_reaches_each_tank_of_a_row_that_names_several(folder: Path) -> None:
    """Both tanks get each column, of heaters and of tanks alike; one that an answer does not name is asked on."""
    head = ["Tank", "Heaters per tank", "kW each", "Volts", "Ph", "Temp °F"]
    rows = [head, ["T-5 & T-6", 4, 9, 480, 3, 145], ["T-7", 2, 9, 480, 3, 120]]
    (folder / "two.xlsx").write_bytes(intake_book({"Sheet1": rows}))
    batch.size(folder / "two.xlsx", folder / "two sized.xlsx")
    answers = {"limits": "T-5: yes; T-7: yes", "cutoff": "T-5: no; T-6, T-7: yes"}
    for key, text in zip(("Do the heaters in", "Is there a switch"), answers.values(), strict=True):
        _typed_over(folder / "two sized.xlsx", folder / "two sized.xlsx", {"Answer": text}, key)
    made = batch.size(folder / "two sized.xlsx", folder / "two again.xlsx")
    assert {bank.tank: bank.over_temperature_limit for bank in made.job.banks} == {"T-5": "yes", "T-6": None, "T-7": "yes"}
    assert {one.tank: one.level_cutoff for one in made.job.tanks} == {"T-5": "no", "T-6": "yes", "T-7": "yes"}
    [still] = [one for one in ask(made) if one.takes == "heaters.over_temperature_limit"]
    assert still.tanks == ("T-6",) and not [one for one in ask(made) if one.takes == "tanks.level_cutoff"]
    said = next(one.did for one in made.job.answered if "limit" in one.words)
    assert "T-6" not in said and said.count("T-5") == 1
    third = batch.check(folder / "two again.xlsx")
    assert [one.level_cutoff for one in third.job.tanks] == [one.level_cutoff for one in made.job.tanks]
