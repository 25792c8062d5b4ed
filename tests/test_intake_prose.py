"""Sheets of sentences are settled without being studied, to the same words as by studying them."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from batch.intake.grid import Grid
from batch.intake.lists import read_lists
from batch.intake.prose import prose_alone
from batch.intake.vocabulary import one_list, vocabulary

ABOUT = "INVENTED SAMPLE: fictitious plant, people and figures. Not a design for any real installation."
WORDS = (
    "Tank", "T-1", "Heaters: 4", "Power: 6", "Power (kW): 6", "Volts: 480", "Phases: 3", "6 kW", "480 V", "Please quote.",
    ABOUT, "four", "",
)  # fmt: skip
STUDIED = {
    "a request in sentences": ("Notes", ["Tank T-1 needs 4 heaters of 6 kW, 480 V", "Tank T-2 needs 2 heaters of 9 kW, 480 V"]),
    "blocks of labels": ("Notes", ["Tank: T-1", "Heaters: 4", "Power: 6", "Volts: 480"] * 2),
    "called heaters": ("Heizstäbe Halle 2", ["See the drawing."]),
}


def _grid(name: str, texts: list[str]) -> Grid:
    return Grid(name, [[text, ""] for text in texts])


def _both(grid: Grid):
    """What the sheet becomes without being studied and by studying it, beside a heater list that is read already."""
    return prose_alone([grid]), read_lists(
        "job", [grid], held="sheet Heaters is read as the heater list already", known={"Heaters": {"t-1"}}
    )


@pytest.mark.parametrize("texts", [[], [ABOUT], ["Line 1 needs 480 V", "", ABOUT], ["Title", ABOUT, "6 kW is meant"]])
def test_sentences_are_settled_at_once(texts: list[str]) -> None:
    quick, studied = _both(_grid("About", texts))
    assert quick == studied


@settings(max_examples=150, deadline=None)
@given(
    st.sampled_from(("About", "Heaters 2", "Tauchheizer", "Notes")),
    st.lists(st.one_of(st.sampled_from(WORDS), st.text("abc 1:kW", max_size=12)), max_size=14),
)
def test_either_way_comes_out_the_same(name: str, texts: list[str]) -> None:
    quick, studied = _both(_grid(name, texts))
    assert quick is None or quick == studied


@pytest.mark.parametrize("why", STUDIED)
def test_what_may_be_a_list_is_studied(why: str) -> None:
    assert prose_alone([_grid(*STUDIED[why])]) is None


def test_figures_and_several_columns_are_studied() -> None:
    assert prose_alone([Grid("About", [["words", 4.0]])]) is None
    assert prose_alone([Grid("About", [["words", ""], ["", "words"]])]) is None


@pytest.mark.parametrize("name", ["heaters", "totals"])
def test_a_list_alone_is_that_of_the_whole_vocabulary(name: str) -> None:
    alone, whole = one_list(name), vocabulary()[name]
    assert list(alone) == list(whole) and alone._whole == whole._whole
