"""Equipment grounding conductors, worked from Table 250.122 and Chapter 9 Table 8 (circular mils: 12 AWG 6,530; 10 AWG 10,380; 8 AWG
16,510; 6 AWG 26,240; 4 AWG 41,740; 3 AWG 52,620; 1/0 AWG 105,600)."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from batch.method.grounding import equipment_ground
from tests.job_builder import RULES, settings


def ground(device_a: float, size: str, needed: str = "", sets: int = 1, needed_sets: int = 0, **more: object) -> str:
    made = settings(**{"smallest_conductor": "14"} | more)
    return equipment_ground(
        device_a=device_a, size=size, sets=sets, needed_size=needed or size, needed_sets=needed_sets or sets,
        smallest=made.smallest_conductor, material=made.conductor, rules=RULES,
    ).value  # fmt: skip


@pytest.mark.parametrize(
    ("device_a", "size", "expected"),
    [
        (15, "14", "14"), (16, "12", "12"), (20, "12", "12"), (21, "10", "10"), (60, "6", "10"), (61, "4", "8"), (100, "3", "8"),
        (101, "1", "6"), (200, "3/0", "6"), (600, "500", "1"), (601, "500", "1/0"),
    ],
)  # fmt: skip
def test_by_the_device_one_step_below_and_above_each_row(device_a: float, size: str, expected: str) -> None:
    assert ground(device_a, size) == expected


@pytest.mark.parametrize(
    ("device_a", "needed", "size", "expected"),
    [
        (20, "12", "10", "10"),  # 6530 x 10380 / 6530 = 10,380: 10 AWG
        (20, "12", "8", "8"),  # 16,510: 8 AWG
        (60, "6", "4", "6"),  # 10380 x 41740 / 26240 = 16,511: a hair above 8 AWG's 16,510
        (60, "6", "2", "4"),  # 10380 x 66360 / 26240 = 26,251: a hair above 6 AWG's 26,240
        (300, "250", "350", "2"),  # 41740 x 1.4 = 58,436: 2 AWG (66,360); the published example
        (15, "14", "12", "12"),  # the smallest-conductor setting is an upsizing too: 4110 x 6530 / 4110
    ],
)
def test_in_proportion(device_a: float, needed: str, size: str, expected: str) -> None:
    assert ground(device_a, size, needed) == expected


def test_never_above_the_circuits_own_conductors() -> None:
    """250.122(A). A 15 A circuit of 14 AWG upsized to 12 AWG, with a table of 14 AWG, is 12 AWG and no more."""
    assert ground(20, "12", smallest_conductor="4") == "12"


def test_parallel_raceways_have_it_full_size_each() -> None:
    """250.122(F): 1200 A asks for 3/0 AWG in each of eight raceways of 1/0 AWG, though one set is smaller than that: the circuit's
    conductors are all eight together."""
    assert ground(1200, "1/0", sets=8) == "3/0"
    assert ground(400, "3/0", sets=2) == "3"


def test_beyond_the_table_it_is_as_the_circuit_together() -> None:
    """Above 6000 A the table ends: all sets together, at most the largest conductor there is."""
    assert ground(6001, "500", sets=12) == RULES.sizes[-1]
    assert ground(7000, "500", sets=2) == "1000"


def test_aluminum_has_its_own_column() -> None:
    assert ground(20, "10", conductor="aluminum") == "10"
    assert ground(100, "1", conductor="aluminum") == "6"


@given(st.sampled_from(RULES.standard_ratings("fuse")), st.sampled_from(RULES.sizes), st.sampled_from(RULES.sizes))
def test_larger_conductors_never_bring_a_smaller_ground(device_a: float, one: str, other: str) -> None:
    small, large = sorted((one, other), key=RULES.rank)
    assert RULES.rank(ground(device_a, large, small)) >= RULES.rank(ground(device_a, small, small))


def test_grown_with_parallel_sets_it_stays_within_one_raceways_conductors() -> None:
    """400 A, 3 AWG by the table (52,620 cmil); two sets of 3/0 needed (335,600 cmil), twelve of 1/0 used (1,267,200): 52,620 x 3.776 is
    198,689 cmil, a 4/0, and no raceway holds more than its own 1/0."""
    given = {"device_a": 400, "needed_size": "3/0", "needed_sets": 2, "smallest": "12", "material": "copper", "rules": RULES}
    assert equipment_ground(size="1/0", sets=12, **given).value == "1/0"


def test_never_below_the_smallest_conductor_of_the_project() -> None:
    """20 A: 12 AWG by the table. Where nothing below 10 AWG is pulled, the ground is 10 AWG too."""
    given = {"device_a": 20, "size": "10", "sets": 1, "needed_size": "10", "needed_sets": 1, "material": "copper", "rules": RULES}
    assert [equipment_ground(smallest=smallest, **given).value for smallest in ("12", "10")] == ["12", "10"]
