"""Look-ups of a rule set at and beyond the edges of their tables."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from batch import rules
from batch.errors import RuleSetError
from batch.rules.tables import KNOWN, Cited, cite
from batch.sheets.inputs import RACEWAYS

NEC_2023 = rules.load("NEC 2023")
KINDS = st.sampled_from(["fuse", "breaker"])


# Ratings


@pytest.mark.parametrize(
    ("amps", "kind", "smallest", "rating"),
    [
        (48 * 1.25, "fuse", 0, 60),
        (16 * 1.25, "fuse", 0, 20),
        (48.000000001 * 1.25, "fuse", 0, 60),
        (60.000001, "fuse", 0, 70),  # one step of the comparison above
        (0.5, "fuse", 0, 1),
        (0.5, "fuse", 15, 15),
        (0.5, "breaker", 0, 10),
        (10.1, "fuse", 10, 15),
        (600.5, "fuse", 0, 700),  # never 601
        (6000, "fuse", 0, 6000),
        (6000.1, "fuse", 0, None),
        (6000.1, "breaker", 0, None),
        (6000.0000001, "breaker", 0, 6000),
        (math.nan, "fuse", 0, None),
        (math.inf, "fuse", 0, None),
    ],
)
def test_next_rating(amps, kind, smallest, rating):
    """240.6(A); comparison at 1e-6 A."""
    found = NEC_2023.next_rating(amps, kind, smallest)
    assert (found and found.value) == rating
    assert found is None or found.citation == "240.6(A)"


def test_what_follows_from_several_is_known_no_better_than_the_worst_of_them():
    """A figure seen in print times one from memory is from memory, in whichever order they are named; clauses alone say nothing of it."""
    figures = [Cited(1.0, "a", known) for known in KNOWN]  # best first
    for one, best in enumerate(figures):
        for worse in figures[one:]:
            assert cite(2.0, best, worse).known == cite(2.0, worse, best).known == worse.known
    assert cite(2.0, "110.9", figures[-1]).known == KNOWN[-1] and cite(2.0, "110.9").known == KNOWN[0]


def test_fuse_and_breaker_lists_differ_only_where_the_code_says_so():
    fuses, breakers = NEC_2023.standard_ratings("fuse"), NEC_2023.standard_ratings("breaker")
    assert set(fuses) - set(breakers) == {1, 3, 6}
    assert list(fuses) == sorted(fuses) and 601 not in fuses
    assert NEC_2023.is_standard(601, "fuse") and not NEC_2023.is_standard(601, "breaker")
    assert NEC_2023.is_standard(45.0000001, "breaker") and not NEC_2023.is_standard(44, "fuse")
    with pytest.raises(RuleSetError, match="neither fuse nor breaker"):
        NEC_2023.standard_ratings("relay")


@given(st.floats(0, 6000), KINDS)
def test_next_rating_is_the_smallest_that_serves(amps, kind):
    found = NEC_2023.next_rating(amps, kind).value
    assert found >= amps - 1e-6
    assert all(rating < round(amps, 6) for rating in NEC_2023.standard_ratings(kind) if rating < found)


def test_direct_bank_ratings_are_standard_and_end_at_the_heating_limit():
    assert NEC_2023.single_circuit_ratings() == (15, 20, 30, 40, 50, 60)
    assert all(NEC_2023.is_standard(amps, "breaker") for amps in NEC_2023.single_circuit_ratings())
    assert NEC_2023.single_circuit_ratings()[-1] == NEC_2023.factor("subdivided_device_a").value


# Conductors


@pytest.mark.parametrize(
    ("text", "size"),
    [
        ("#12", "12"), ("12 AWG", "12"), ("12AWG", "12"), (" no. 8 ", "8"), ("No 8", "8"), ("4/0 AWG", "4/0"), ("4/0", "4/0"),
        ("0000", "4/0"), ("0", "1/0"), ("250 MCM", "250"), ("500kcmil", "500"), ("500 KCMIL", "500"), ("500", "500"), (500, "500"),
        (500.0, "500"), (12, "12"),
        ("12 kcmil", None), ("250 AWG", None), ("13", None), ("5/0", None), ("12.5", None), ("", None), ("twelve", None), (None, None),
        ("2500", None), ("12 mm2", None), ("-12", None),
    ],
)  # fmt: skip
def test_size_named(text, size):
    assert NEC_2023.size_named(text) == size


def test_sizes_rise_in_area_and_rank():
    areas = [NEC_2023.area(size).value for size in NEC_2023.sizes]
    assert areas == sorted(set(areas)) and len(areas) == 28
    assert [NEC_2023.rank(size) for size in NEC_2023.sizes] == list(range(28))
    assert all(NEC_2023.size_named(size) == size for size in NEC_2023.sizes)
    for unknown in ("13", "16", "2500", ""):
        with pytest.raises(RuleSetError):
            NEC_2023.rank(unknown)
        with pytest.raises(RuleSetError):
            NEC_2023.area(unknown)


def test_ampacity_beyond_the_table_is_none():
    assert NEC_2023.ampacity("14", "aluminum", 75) is None  # no aluminum below 12 AWG
    assert NEC_2023.ampacity("16", "copper", 75) is None
    assert NEC_2023.ampacity("12", "copper", 80) is None
    assert NEC_2023.ampacity("12", "silver", 75) is None


def test_ampacity_from_memory_says_so():
    assert NEC_2023.ampacity("1500", "copper", 60).from_memory and NEC_2023.ampacity("2000", "copper", 60).from_memory
    assert not NEC_2023.ampacity("1500", "copper", 75).from_memory and not NEC_2023.ampacity("1250", "copper", 60).from_memory


@pytest.mark.parametrize(
    ("ambient_c", "column_c", "factor"),
    [
        (-40, 90, 1.15), (10, 90, 1.15), (10.1, 90, 1.12), (30, 75, 1.0), (30.0001, 75, 0.94), (40, 90, 0.91), (40.2, 90, 0.87),
        (55, 60, 0.41), (55.1, 60, None), (70, 75, 0.33), (70.1, 75, None), (85, 90, 0.29), (85.1, 90, None),
        (30, 80, None), (math.nan, 90, None),
    ],
)  # fmt: skip
def test_ambient_factor_goes_to_the_hotter_band(ambient_c, column_c, factor):
    found = NEC_2023.ambient_factor(ambient_c, column_c)
    assert (found and found.value) == factor


@given(st.floats(-40, 85), st.floats(-40, 85), st.sampled_from([60, 75, 90]))
def test_hotter_never_gives_a_greater_factor(one, other, column_c):
    cool, hot = (NEC_2023.ambient_factor(ambient_c, column_c) for ambient_c in sorted((one, other)))
    assert hot is None or hot.value <= cool.value


@pytest.mark.parametrize(
    ("count", "factor"),
    [(0, 1), (3, 1), (4, 0.8), (6, 0.8), (7, 0.7), (9, 0.7), (10, 0.5), (20, 0.5), (21, 0.45), (40, 0.4), (41, 0.35), (500, 0.35)],
)
def test_adjustment(count, factor):
    """Table 310.15(C)(1)."""
    assert NEC_2023.adjustment(count, 1).value == factor


@pytest.mark.parametrize(
    ("device_a", "material", "size"),
    [(1, "copper", "14"), (15, "copper", "14"), (15.1, "copper", "12"), (60, "copper", "10"), (61, "copper", "8"), (201, "aluminum", "2"),
     (601, "copper", "1/0"), (6000, "copper", "800"), (6001, "copper", None), (100, "silver", None)],
)  # fmt: skip
def test_ground(device_a, material, size):
    """Table 250.122: the row whose rating is not exceeded."""
    found = NEC_2023.ground(device_a, material)
    assert (found and found.value) == size


def test_small_conductor_limit_stops_at_ten_gauge():
    """240.4(D)."""
    limits = [(size, material, found.value) for size in NEC_2023.sizes for material in ("copper", "aluminum")
              if (found := NEC_2023.small_conductor_limit(size, material))]  # fmt: skip
    assert limits == [("14", "copper", 15), ("12", "copper", 20), ("12", "aluminum", 15), ("10", "copper", 30), ("10", "aluminum", 25)]


def test_resistance_is_of_the_raceway_and_in_ohm_per_km():
    """Chapter 9 Table 9 prints both units: 12 AWG copper 2.0 ohm/kft and 6.6 ohm/km, 1/0 aluminum in steel 0.20 and 0.66; read."""
    assert NEC_2023.ac_resistance("12", "copper", "PVC-80").value == pytest.approx(6.6, abs=0.05)
    assert NEC_2023.ac_resistance("1/0", "aluminum", "EMT").value == pytest.approx(0.66, abs=0.005)
    assert NEC_2023.ac_reactance("14", "PVC-40").value == pytest.approx(0.190, abs=0.0005)
    assert NEC_2023.ac_reactance("14", "RMC").value == pytest.approx(0.240, abs=0.0005)
    assert NEC_2023.ac_resistance("500", "copper", "LFMC").value > NEC_2023.ac_resistance("500", "copper", "PVC-80").value
    for missing in (("700", "copper", "PVC-80"), ("14", "aluminum", "EMT"), ("12", "copper", "tray"), ("12", "silver", "EMT")):
        assert NEC_2023.ac_resistance(*missing) is None
    assert NEC_2023.ac_reactance("700", "EMT") is None


# Raceways


def inside_in2(kind: str, trade_size: str) -> float:
    [row] = [row for row in NEC_2023.table("raceways") if (row["raceway"], row["trade_size"]) == (kind, trade_size)]
    return row.figure("area_in2")


def test_raceway_edges():
    exactly = inside_in2("PVC-80", "1/2") * 0.40
    assert NEC_2023.raceway("PVC-80", [exactly / 4] * 4).value.trade_size == "1/2"
    assert NEC_2023.raceway("PVC-80", [exactly / 4] * 3 + [exactly / 4 + 1e-6]).value.trade_size == "3/4"
    assert NEC_2023.raceway("LFMC", [0.001]).value.trade_size == "1/2"  # 3/8 is in the table but not chosen
    assert NEC_2023.raceway("EMT", [14.753 * 0.53]).value.trade_size == "4"
    assert NEC_2023.raceway("EMT", [14.753 * 0.53 + 0.001]) is None
    assert NEC_2023.raceway("EMT", []) is None
    assert NEC_2023.raceway("tray", [0.1]) is None


@given(st.sampled_from(sorted(RACEWAYS)), st.lists(st.floats(0.001, 3), min_size=1, max_size=30))
def test_a_raceway_holds_what_it_is_chosen_for(kind, areas):
    found = NEC_2023.raceway(kind, areas)
    limit = {1: 53, 2: 31}.get(len(areas), 40)  # Chapter 9 Table 1
    if found is not None:
        assert 0 < found.value.fill_pct <= limit + 1e-6
        assert found.value.fill_pct == pytest.approx(100 * math.fsum(areas) / inside_in2(kind, found.value.trade_size))


# Devices


@pytest.mark.parametrize(
    ("rating", "words"),
    [(1, "class CC fuse"), (30, "class CC fuse"), (30.5, "class J fuse"), (600, "class J fuse"), (700, "class L fuse"), (6001, None)],
)
def test_fuse_class_by_rating(rating, words):
    found = NEC_2023.overcurrent("fuse", rating)
    assert (found and found.value.words) == words
    assert found is None or (found.value.volts, found.value.interrupting_ka, found.from_memory) == (600, 200, False)


def test_breaker_frames_are_from_memory_and_leave_the_volts_open():
    found = NEC_2023.overcurrent("breaker", 60)
    assert found.value.words == "molded-case breaker" and found.value.volts is None and found.value.interrupting_ka is None
    assert found.from_memory
    assert NEC_2023.overcurrent("breaker", 3000) and NEC_2023.overcurrent("breaker", 4000) is None


def test_every_standard_fuse_has_a_class():
    for amps in NEC_2023.standard_ratings("fuse"):
        assert NEC_2023.overcurrent("fuse", amps) is not None


def test_contactor_transformer_and_switch_edges():
    assert [NEC_2023.contactor(amps).value.name for amps in (0, 9, 9.1, 45, 45.0000001, 45.1, 2250)] == [
        "size 00", "size 00", "size 0", "size 2", "size 2", "size 3", "size 9",
    ]  # fmt: skip
    assert NEC_2023.contactor(2250.1) is None
    assert NEC_2023.contactors[0] == ("size 00", 9) and len(NEC_2023.contactors) == 11
    assert NEC_2023.next_transformer(75, 3).value == 75 and NEC_2023.next_transformer(75.1, 3).value == 112.5
    assert NEC_2023.next_transformer(26, 1).value == 37.5
    assert all(NEC_2023.next_transformer(kva, phases) is None for kva, phases in ((2501, 3), (501, 1), (5, 2)))
    assert NEC_2023.next_switch(60).value == 60 and NEC_2023.next_switch(60.1).value == 100 and NEC_2023.next_switch(4001) is None
    assert NEC_2023.next_switch(48.0000001 * 1.25).value == 60  # compared at 1e-6 A, as ratings are


def test_unmarked_parts():
    """UL 508A Table SB4.1."""
    expected = {"power distribution block": 10, "fuse holder": 10, "breaker": 5, "contactor": 5, "disconnect": 5}
    assert {part: NEC_2023.sccr_default(part).value for part in expected} == expected
    assert NEC_2023.sccr_default("contactor").from_memory and not NEC_2023.sccr_default("power distribution block").from_memory
    assert NEC_2023.sccr_default("door") is None


def test_torque_in_newton_metres_names_its_screw():
    """Informative Annex I Table I.1, lbf·in; 1 lbf·in = 0.112985 N·m."""
    small, large = NEC_2023.torque("1"), NEC_2023.torque("1/0")
    assert small.value.nm == pytest.approx(50 * 0.112985, rel=1e-5) and "slotted" in small.value.words and "50 lbf·in" in small.value.words
    assert large.value.nm == pytest.approx(180 * 0.112985, rel=1e-5) and "hex" in large.value.words
    assert all("marking governs" in NEC_2023.torque(size).value.words for size in NEC_2023.sizes)
    with pytest.raises(RuleSetError):
        NEC_2023.torque("16")
