"""Notations of supplies: the ways of the trade and of IEC 61293 (its forms from memory), read fact by fact, by hand."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from batch.intake.supply_notation import read_supply, supply_in_text

V, N, P, W, NEUTRAL, EARTH, HZ = "volts", "volts_to_neutral", "phases", "wires", "neutral", "earth", "hertz"
READ: dict[str, dict[str, object]] = {
    "480/3/60": {V: 480, P: 3, HZ: 60},
    "480V-3PH-60HZ": {V: 480, P: 3, HZ: 60},
    "480 V, 3 ph": {V: 480, P: 3},
    "480/3": {V: 480, P: 3},
    "480 3 60": {V: 480, P: 3, HZ: 60},
    "240V/1PH/60HZ": {V: 240, P: 1, HZ: 60},
    "240V-1Ø": {V: 240, P: 1},
    "600V 3ø 60Hz": {V: 600, P: 3, HZ: 60},
    "347/1/60": {V: 347, P: 1, HZ: 60},
    "3/60": {P: 3, HZ: 60},
    "3PH": {P: 3},
    "3-phase": {P: 3},
    "three phase": {P: 3},
    "three": {P: 3},
    "480 V 3PH 3W": {V: 480, P: 3, W: 3},
    "208Y/120 V, 3PH, 4W": {V: 208, N: 120, P: 3, W: 4},
    "480Y/277": {V: 480, N: 277},
    "120/208": {V: 208, N: 120},
    "277/480": {V: 480, N: 277},
    "0.6 kV, 3 ph": {V: 600, P: 3},
    "0,4 kV": {V: 400},
    "4,160 V 3 phase": {V: 4160, P: 3},
    "12 VDC": {V: 12, "current": "DC"},
    "230V AC 1ph": {V: 230, P: 1, "current": "AC"},
    "3~400 V": {V: 400, P: 3},
    "400 3~": {V: 400, P: 3},
    "1~230V": {V: 230, P: 1},
    "230 1~": {V: 230, P: 1},
    "400 V 3N~": {V: 400, P: 3, NEUTRAL: True},
    "3/N/PE ~ 400/230 V 50 Hz": {V: 400, N: 230, P: 3, NEUTRAL: True, EARTH: True, HZ: 50, "current": "AC"},
    "1/N/PE AC 230 V 50 Hz": {V: 230, P: 1, NEUTRAL: True, EARTH: True, HZ: 50, "current": "AC"},
    "3 AC 400 V 50 Hz": {V: 400, P: 3, HZ: 50, "current": "AC"},
    "3x400V+N+PE": {V: 400, P: 3, NEUTRAL: True, EARTH: True},
    "3×400/230V": {V: 400, N: 230, P: 3},
    "3L+N+PE 400V 50Hz": {V: 400, P: 3, NEUTRAL: True, EARTH: True, HZ: 50},
    "3NPE~400V 50Hz": {V: 400, P: 3, NEUTRAL: True, EARTH: True, HZ: 50, "current": "AC"},
    "L1, L2, L3, N, PE 400 V": {V: 400, P: 3, NEUTRAL: True, EARTH: True},
    "400 V ±10% 3 ph 50 Hz": {V: 400, P: 3, HZ: 50},
    "3 phase, 4 wire, 480 V, no neutral": {V: 480, P: 3, W: 4, NEUTRAL: False},
    "Dreiphasig": {P: 3},
    "400 V Drehstrom": {V: 400, P: 3},
    "triphasé": {P: 3},
    "440 V TRI": {V: 440, P: 3},
    "mono": {P: 1},
    "trifásica": {P: 3},
    "bifásico 220 V": {V: 220, P: 2},
    "230 V monofase": {V: 230, P: 1},
    "400 V trifase + neutro": {V: 400, P: 3, NEUTRAL: True},
    "krachtstroom 400 V": {V: 400, P: 3},
    "400V 3 fazy 50Hz": {V: 400, P: 3, HZ: 50},
    "440 V, 60 Hz, 3F": {V: 440, P: 3, HZ: 60},
    "２３０Ｖ　１～": {V: 230, P: 1},
}
FACTS = (V, N, P, W, NEUTRAL, EARTH, HZ, "current")


@pytest.mark.parametrize("text", READ)
def test_read(text: str) -> None:
    said = read_supply(text)
    assert said is not None and said.sure
    assert {fact: value for fact in FACTS if (value := getattr(said, fact)) not in (None, "")} == READ[text]


@pytest.mark.parametrize(
    "text",
    ["", "480", "3", "60", "T-1/2/3", "5/6/2025", "3 x 6 kW", "DP-1", "1/2", "n/a", "316 SS", "9 kW", "50/60 Hz", "230/400 l", "1250 gal"],
)
def test_no_supply(text: str) -> None:
    assert read_supply(text) is None


CONTRADICTIONS = {
    "480/3/60 1 ph": "phases", "208-230/3/60": "volts", "480 V 208 V": "volts", "400 V 50 Hz 60 Hz": "hertz", "380-415 V": "volts",
    "240 V AC DC": "current",
}  # fmt: skip


@pytest.mark.parametrize("text", CONTRADICTIONS)
def test_two_facts_that_differ_are_said_and_not_chosen_between(text: str) -> None:
    said = read_supply(text)
    assert said is not None and said.contradictions and getattr(said, CONTRADICTIONS[text]) in (None, "")


@pytest.mark.parametrize("text", ["240/480 V", "120/240 V 1PH 3W", "400/230 V 1 ph"])
def test_what_has_two_meanings_is_in_doubt(text: str) -> None:
    said = read_supply(text)
    assert said is not None and said.doubts and not said.contradictions


SENTENCES: dict[str, dict[str, object]] = {
    "(3) 4.5 kW 240 V 1 ph immersion htrs, 316SS, 36 in hot zone": {V: 240, P: 1},
    "one 9 kW 480V-3PH-60HZ over-the-side": {V: 480, P: 3, HZ: 60},
    "AREA 100 - PRETREAT (480 V, 3 ph)": {V: 480, P: 3},
    ">> 240 volt single phase line <<": {V: 240, P: 1},
    "Alle Heizer 400 V Drehstrom, wenn nicht anders angegeben.": {V: 400, P: 3},
    "Rete: 400 V 50 Hz trifase + neutro": {V: 400, P: 3, NEUTRAL: True, HZ: 50},
    "Zasilanie: 3~400 V, 50 Hz, o ile": {V: 400, P: 3, HZ: 50},
    "3 heaters 3 phase 480 volts": {V: 480, P: 3},
    "Rectifier, 12 VDC, 2000 A": {V: 12, "current": "DC"},
}


@pytest.mark.parametrize("text", SENTENCES)
def test_in_a_sentence(text: str) -> None:
    said = supply_in_text(text)
    assert said is not None and not said.contradictions
    assert {fact: value for fact in FACTS if (value := getattr(said, fact)) not in (None, "")} == SENTENCES[text]


@pytest.mark.parametrize(
    "text", ["page 3/60 of 2024", "tank 230/400 l", "two 9 kW, 1/2 in", "one of three heaters", "Mono Lake plant", "Rev 3, 3/4/2025"]
)
def test_no_supply_in_a_sentence(text: str) -> None:
    assert supply_in_text(text) is None


def test_three_times_480_volts_may_be_three_heaters() -> None:
    assert (said := supply_in_text("3 x 480 V heaters")) is not None and said.doubts
    assert (said := supply_in_text("Net 3x400V+N+PE")) is not None and said.sure


def test_each_fact_has_its_place() -> None:
    text = "htr 480 V, 3 ph, 60 Hz"
    said = supply_in_text(text)
    assert said is not None
    assert {(fact, text[start:end]) for fact, start, end in said.spans} == {(V, "480 V"), (P, "3 ph"), (HZ, "60 Hz")}


# 480/300 is 1.6: neither root three (1.732) nor two, so no supply has both; 400/230, 415/240 and 600/347 are root three to 0.5 %.
# Both sides of 2 % about root three and about two: 480 / 282 = 1.702 (-1.7 %), 480 / 283 = 1.696 (-2.1 %), 480 / 272 = 1.765 (+1.9 %),
# 480 / 271 = 1.771 (+2.3 %); 240 / 118 = 2.034 (+1.7 %), 240 / 117 = 2.051 (+2.6 %).
@pytest.mark.parametrize(
    ("text", "pair"),
    [
        ("480/300 V", False), ("480/277 V", True), ("400/230 V", True), ("415/240 V", True), ("600/347 V", True), ("240/120 V", True),
        ("480/282 V", True), ("480/283 V", False), ("480/272 V", True), ("480/271 V", False), ("240/118 V", True), ("240/117 V", False),
    ],
)  # fmt: skip
def test_two_volts_are_those_of_one_supply_only_by_root_three_or_two(text: str, pair: bool) -> None:
    found = read_supply(text)
    high, low = (float(part) for part in text.removesuffix(" V").split("/"))
    if pair:
        assert (found.volts, found.volts_to_neutral, found.contradictions) == (high, low, ())
    else:
        assert (found.volts, found.volts_to_neutral) == (None, None) and found.contradictions


VOLTS = st.sampled_from([110, 120, 208, 220, 230, 240, 277, 347, 380, 400, 415, 440, 480, 575, 600, 690])
FORMS = [
    "{v}/{p}/{h}",
    "{v}V-{p}PH-{h}HZ",
    "{v} V, {p} ph, {h} Hz",
    "{p}~ {v} V {h} Hz",
    "{p} AC {v} V {h} Hz",
    "{p}ø {v}V {h}Hz",
    "{p}/PE ~ {v} V {h} Hz",
]


@given(VOLTS, st.sampled_from([1, 3]), st.sampled_from([50, 60]), st.sampled_from(FORMS))
def test_what_is_written_is_read_again(volts: int, phases: int, hertz: int, form: str) -> None:
    said = read_supply(form.format(v=volts, p=phases, h=hertz))
    assert said is not None and said.sure and (said.volts, said.phases, said.hertz) == (volts, phases, hertz)


@given(st.text(alphabet="0123456789/V~-3PHNE+,. kxAC", max_size=30) | st.text(max_size=50))
def test_no_text_is_a_crash_and_hertz_is_never_volts(text: str) -> None:
    for said in (read_supply(text), supply_in_text(text)):
        if said is not None and said.volts in (50.0, 60.0):
            assert "v" in text.casefold() or "ｖ" in text.casefold()
