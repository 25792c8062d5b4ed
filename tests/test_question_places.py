"""What a question is about, place by place, and by which mark an answer finds it again: each rule on a job of a few rows."""

from __future__ import annotations

from types import SimpleNamespace

import pytest
from msgspec.structs import replace

from batch.findings import Effect, Finding, find, remark
from batch.price.question_places import Place, Places, mark_of
from batch.price.questions import ask
from batch.received_rows import Answered
from batch.reopening.answer_words import Unclear, ValueSaid
from batch.reopening.answers_received import Given
from batch.reopening.customer_answers import _cells, _edits, _Taken, _with_rows, _words
from batch.results import JobResult
from batch.schedules.answer_references import read_reference
from tests.job_builder import bank, feeder, job, size, tank


def said(**where: object) -> Finding:
    """A finding with an address; which one it is makes no difference to where its question goes."""
    return replace(find(remark("level-cutoff-unknown")), project="P-1", **where)


def shown(result: JobResult, takes: str, finding: Finding) -> list[tuple[str, str]]:
    return [(place.table, place.shown) for place in Places(result).of(takes, finding)]


def test_a_question_about_a_feeder_asks_of_the_tanks_that_do_not_say_it() -> None:
    tanks = [tank(tank="T-1", distribution_run_m=5.0), tank(tank="T-2")]
    result = size([bank(), bank(tank="T-2")], feeder(), tanks)
    assert shown(result, "tanks.distribution_run_m", said(feeder="F-1")) == [("tanks", "T-2")]
    assert shown(result, "tanks.distribution_run_m", said(tank="T-1")) == [("tanks", "T-1")]  # it names the tank: asked all the same


def test_a_question_about_one_bank_asks_of_no_other() -> None:
    result = size([bank(bank="1"), bank(bank="2")], feeder())
    assert shown(result, "heaters.heater_run_m", said(tank="T-1", bank="2")) == [("heaters", "T-1/2")]
    assert shown(result, "heaters.heater_run_m", said(tank="T-1")) == [("heaters", "T-1/1"), ("heaters", "T-1/2")]


def test_a_question_about_a_row_asks_of_that_row_alone() -> None:
    """Of a row that is found by its number neither its feeder nor the other banks of its tank are asked about."""
    first = bank(bank="1")
    result = size([first, bank(bank="2")], feeder())
    takes = "heaters.heater_run_m;feeders.run_m"
    of_row = said(sheet="Heaters", cell=f"N{first.origin.row}", tank="T-1", feeder="F-1")
    assert shown(result, takes, of_row) == [("heaters", "T-1/1")]
    assert len(shown(result, takes, said(tank="T-1", feeder="F-1"))) == 3


def test_a_figure_is_the_same_whether_whole_or_not_and_a_blank_is_nothing() -> None:
    assert mark_of("a", 6) == mark_of("a", 6.0) == mark_of("A ", 6) != mark_of("a", 6.5)
    assert mark_of(None) == mark_of("") != mark_of(0)


def mark(takes: str, finding: Finding) -> str:
    [place] = Places(size(bank(), feeder())).of(takes, finding)
    return place.mark


def test_rows_that_a_sentence_names_by_number_are_others_in_the_results() -> None:
    told = [replace(said(), message=words) for words in ("Two rows say T-1: rows 3 and 7.", "Two rows say T-1: rows 5 and 9.", "Another.")]
    assert mark("hand", told[0]) == mark("hand", told[1]) != mark("hand", told[2])


def test_a_cell_that_says_another_thing_by_now_is_another_place() -> None:
    here = [said(sheet="Heaters", cell="C4", tank="T-1", seen=seen) for seen in ("abc", "abc", "abd")]
    assert mark("cells", here[0]) == mark("cells", here[1]) != mark("cells", here[2])
    assert mark("cells", here[0]) == mark("cells", replace(here[0], cell="D9"))  # of the results: the same cell elsewhere


def settled(result: JobResult) -> JobResult:
    """The result as if each of its questions had been answered, and every place still said what the answer said."""
    answers = [
        Answered(one.project, one.sort, one.words, "", one.until, "yes", "", one.mark, tuple(place.mark for place in one.places), "")
        for one in ask(result)
    ]
    return replace(result, job=replace(result.job, answered=tuple(answers)))


def test_what_was_answered_is_asked_again_only_where_a_row_is_held_all_the_same() -> None:
    """No limit is known: answered. A high leg on hold, whose cells are as they were: the answer did not settle it."""
    result = size(bank(over_temperature_limit=None), feeder(volts_v=240.0, wires=4, system="high-leg delta"))
    before, after = ({code for one in ask(made) for code in (one.takes,)} for made in (result, settled(result)))
    assert "heaters.over_temperature_limit" in before - after
    assert [takes for takes in after if "feeders.system" in takes]


def test_what_fills_no_cell_is_settled_by_its_answer() -> None:
    """Four heaters of 277 V without a neutral: not sized, and nothing that an answer could fill. Answered, it is not asked for ever."""
    result = size(bank(quantity=4, connection=None, volts_v=277.0), feeder())
    asked = [one for one in ask(result) if one.takes == "hand" and any(at.tags[1] == "T-1" for at in one.places)]
    assert asked and {one.kind.effect for one in result.findings if one.code == "wye-count"} == {Effect.NOT_SIZED}
    assert not [one for one in ask(settled(result)) if one.mark in {other.mark for other in asked}]


@pytest.mark.parametrize("text", ["", "yes", "abc", "1", "0123abcd and so on", "0123abcd~12 no", "0123ABCD"])
def test_words_typed_over_a_reference_are_none(text: str) -> None:
    assert read_reference(text) is None


def test_a_reference_is_read_whole() -> None:
    read = read_reference("0123abcd~1a2b / Heaters C4=89abcdef")
    assert read is not None and (read.mark, dict(read.places)) == ("0123abcd", {"89abcdef": "Heaters C4"})
    assert isinstance(next(Places(size(bank(), feeder())).of("hand", said())), Place)


def at(name: str, cell: str = "", *columns: str, row: int = 2, blank: tuple[str, ...] = ()) -> Place:
    return Place("tanks", (name.casefold(),), name, columns, "Tanks", row, cell, ("P-1", name, ""), name, blank)


def taken(text: str, *places: Place, said: tuple[ValueSaid, ...] = ()) -> _Taken:
    asked = SimpleNamespace(number=1, project="P-1", tanks=("T-1",), feeders=())
    return _Taken(Given("Questions", "E5", "1", text, ""), asked, None, places, {}, said=said)


def test_one_answer_goes_into_cells_of_one_column_alone() -> None:
    same = taken("6 kW", at("T-1", "C4"), at("T-2", "C5"))
    assert [(place.cell, words) for place, words in _cells(same, ()).cells] == [("C4", "6 kW"), ("C5", "6 kW")]
    with pytest.raises(Unclear, match="several columns"):
        _cells(taken("6 kW", at("T-1", "C4"), at("T-1", "D4")), ())


def test_an_answer_is_told_in_the_unit_that_it_was_given_in() -> None:
    """65 °C were typed as 149 °F; a choice is told by its word, however it was typed."""
    assert _words(ValueSaid(at("T-1", "", "operating_c"), "operating_c", 65.0, "149 °F")) == "149 °F"
    assert _words(ValueSaid(at("T-1", "", "level_cutoff"), "level_cutoff", "yes", "Y")) == "yes"


def test_a_value_that_an_answer_replaces_is_said_apart_from_one_that_it_fills_in() -> None:
    here = tank(start_c=20.0)
    place = at("T-1", "", "operating_c", "start_c", row=here.origin.row, blank=("operating_c",))
    answer = taken("both", place, said=(ValueSaid(place, "operating_c", 65.0, "65 °C"), ValueSaid(place, "start_c", 25.0, "25 °C")))
    found: list[Finding] = []
    _, edits = _edits(SimpleNamespace(job=job(bank(), feeder(), [here])), [answer], (), found)
    assert [(one.code, "25 °C" in one.message) for one in found] == [("answer-taken", False), ("answer-over", True)]
    assert [(edit.field, edit.value) for edit in edits] == [("operating_c", 65.0), ("start_c", 25.0)]


def test_of_an_answer_that_no_row_can_take_nothing_is_claimed() -> None:
    """The tank of the first place stands in the job; that of the other is in none of its rows: said, and in what the answer did no more."""
    here, gone = tank(), at("T-9", "", "level_cutoff", row=999)
    place = at("T-1", "", "level_cutoff", row=here.origin.row)
    answer = taken("yes", place, gone, said=tuple(ValueSaid(one, "level_cutoff", "yes", "yes") for one in (place, gone)))
    answer = answer._replace(asked=SimpleNamespace(**vars(answer.asked), words="Is there a switch?"))
    found: list[Finding] = []
    left = _with_rows(answer, job(bank(), feeder(), [here]), found)
    assert (left.settles, left.did) == ((place,), "Low-level cutoff yes: T-1")
    assert [(one.code, "T-9 has no row that can take it" in one.message) for one in found] == [("answer-unclear", True)]
