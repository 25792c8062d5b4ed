"""Settings of a project: given, defaulted, or replaced and said."""

from __future__ import annotations

import pytest

from batch.method.overcurrent import continuous_factor
from batch.records import Bank, Project
from batch.sizing.control_settings import COLOUR_WORDS, CONTROL_WORDS
from batch.sizing.labels import label_banks, natural
from batch.sizing.settings import NOT_EVERY_CODES, WORDS, resolve_settings
from tests.job_builder import RULES, bank, codes, heard, origin

OF_NEC = [name for name in WORDS if name not in NOT_EVERY_CODES]


def resolved(**given: object):
    return heard(resolve_settings, Project(project="P", origin=origin("projects"), **given), RULES)


def test_everything_blank_is_said_in_one_line() -> None:
    found, [said] = resolved()
    count = len(OF_NEC) + len(CONTROL_WORDS) + len(COLOUR_WORDS) + 1  # the code basis too
    assert said.code == "default-used" and dict(said.fields)["count"] == str(count)
    listed = dict(said.fields)["settings"]
    assert all(WORDS[name][0] in listed for name in OF_NEC) and "Ambient 104 °F (40 °C)" in listed
    made = found.settings
    assert (made.margin_pct, made.ambient_c, made.terminal_c, made.conductor, made.insulation) == (25, 40, None, "copper", "THWN-2")
    assert (made.raceway, made.smallest_conductor, made.largest_conductor, made.smallest_device_a) == ("PVC-80", "12", "500", 15)
    assert (made.branches_per_panel, made.wires_per_terminal, made.branch_drop_pct, made.total_drop_pct) == (8, 2, 3, 5)


@pytest.mark.parametrize(("asked", "used", "said"), [(0.0, 25, True), (24.99, 25, True), (25.0, 25, False), (40.0, 40, False)])
def test_the_codes_margin_is_a_floor(asked: float, used: float, said: bool) -> None:
    found, remarks = resolved(margin_pct=asked)
    assert found.settings.margin_pct == used and ("margin-below-code" in codes(remarks)) is said
    assert continuous_factor(found.settings.margin_pct, RULES).value == 1 + used / 100


@pytest.mark.parametrize(("given", "used"), [(60, 60), (75, 75), (65, 60), (70, 60)])
def test_a_terminal_rating_without_a_column_counts_as_the_lower_one(given: int, used: int) -> None:
    found, remarks = resolved(terminal_c=given)
    assert found.settings.terminal_c == used
    assert ("setting-unreadable" in codes(remarks)) is (given != used)


@pytest.mark.parametrize(
    ("given", "smallest", "largest", "said"),
    [
        ({"smallest_conductor": "#10", "largest_conductor": "350 MCM"}, "10", "350", 0),
        ({"smallest_conductor": "13"}, "12", "500", 1),
        ({"largest_conductor": "huge"}, "12", "500", 1),
        ({"smallest_conductor": "4", "largest_conductor": "8"}, "4", "500", 1),
        ({"smallest_conductor": "750", "largest_conductor": "8"}, "750", "750", 1),
        ({"largest_conductor": "12"}, "12", "12", 0),
    ],
)
def test_conductor_sizes(given: dict, smallest: str, largest: str, said: int) -> None:
    found, remarks = resolved(**given)
    assert (found.settings.smallest_conductor, found.settings.largest_conductor) == (smallest, largest)
    assert [one.code for one in remarks].count("setting-unreadable") == said


def test_the_listing_shows_what_is_used_and_whether_it_was_given() -> None:
    listing = {entry.name: entry for entry in resolved(margin_pct=10.0, largest_conductor="8", smallest_conductor="4")[0].listing}
    assert listing["Continuous-load margin"].value == "25 %" and listing["Continuous-load margin"].given
    assert listing["Largest conductor in one set"].value == "500 kcmil"
    assert listing["Terminal rating"].value == "by device rating" and not listing["Terminal rating"].given


# Labels


def labels(*given: str | None) -> list[str]:
    banks: list[Bank] = [bank(bank=label) for label in given]
    return [one.label for one in label_banks(banks)]


@pytest.mark.parametrize(
    ("given", "expected"),
    [
        ((None,), ["1"]), ((None, None), ["1", "2"]), ((None, "1", None), ["2", "1", "3"]), (("A", None), ["A", "1"]),
        (("2", None, None), ["2", "1", "3"]),
    ],
)  # fmt: skip
def test_blank_banks_are_numbered_round_the_labels_that_are_given(given: tuple, expected: list[str]) -> None:
    assert labels(*given) == expected


def test_a_label_given_twice_is_marked_on_both_rows_whatever_its_case() -> None:
    said = [codes(one.said) for one in label_banks([bank(bank="A"), bank(bank="a"), bank(bank="B")])]
    assert said == [{"bank-repeated"}, {"bank-repeated"}, set()]


def test_t9_comes_before_t10() -> None:
    assert sorted(["T-10", "T-9", "t-1", "A-2", "T-9A"], key=natural) == ["A-2", "t-1", "T-9", "T-9A", "T-10"]
