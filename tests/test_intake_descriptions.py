"""Descriptions that hold several facts, in eight languages, worked by hand: each fact once, with its place; else in doubt."""

from __future__ import annotations

from itertools import pairwise

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from batch.intake.descriptions import DescriptionFacts, read_description
from batch.intake.powers_named import OTHER_UNITS, power_factor

READ: dict[str, dict[str, object]] = {
    "(3) 4.5 kW 240 V 1 ph immersion htrs, 316SS, 36 in hot zone": {
        "quantity": 3,
        "power_kw": 4.5,
        "supply": (240, 1),
        "sheath": "316SS",
        "heated_length_mm": 914.4,
    },
    "(2) 6 kW immersion heaters per tank": {"quantity": 2, "quantity_of": "per tank", "power_kw": 6},
    "one 9 kW 480V-3PH-60HZ over-the-side": {"quantity": 1, "power_kw": 9, "supply": (480, 3)},
    "two (2) 12 kW heaters": {"quantity": 2, "power_kw": 12},
    "heaters, 18 kW total, 480/3/60": {"total_kw": 18, "supply": (480, 3)},
    "18 kW total (3 x 6 kW)": {"quantity": 3, "power_kw": 6, "total_kw": 18},
    "12kW (2 @ 6kW)": {"quantity": 2, "power_kw": 6, "total_kw": 12},
    "3 × 6 = 18 kW": {"quantity": 3, "power_kw": 6, "total_kw": 18},
    "3 heaters, 27 kW, 9 kW each": {"quantity": 3, "power_kw": 9, "total_kw": 27},
    "6 kW heaters, 480 V 3 ph, qty 4": {"quantity": 4, "power_kw": 6, "supply": (480, 3)},
    "4+1 spare 6 kW heaters": {"quantity": 4, "spare": 1, "power_kw": 6},
    "3 heaters 6 kW + 1 spare": {"quantity": 3, "spare": 1, "power_kw": 6},
    "3 x 6 kW, 400 V 3~": {"quantity": 3, "power_kw": 6, "supply": (400, 3)},
    "3 ea. 6000 W": {"quantity": 3, "power_kw": 6},
    "2 9 kW heaters": {"quantity": 2, "power_kw": 9},
    "6kW x 3": {"quantity": 3, "power_kw": 6},
    "6 kW (each) x 4 no.": {"quantity": 4, "power_kw": 6},
    "9000W each, (2) req'd": {"quantity": 2, "power_kw": 9},
    "1,500 W heater, 120 V 1 ph": {"power_kw": 1.5, "supply": (120, 1)},
    "No. 3 heater 6 kW": {"power_kw": 6},
    "Heater, tank T-101, 900 gal, 160 °F, 12 kW": {"power_kw": 12},
    'Immersion heater, L-shape, 316 SS, 36" hot, 23 W/in2': {"sheath": "316 SS", "heated_length_mm": 914.4},
    "Tauchheizer 3 Stk. je 6 kW, 400 V Drehstrom, Titan, Tauchlänge 900 mm": {
        "quantity": 3,
        "power_kw": 6,
        "supply": (400, 3),
        "sheath": "Titan",
        "heated_length_mm": 900,
    },
    "3 Heizstäbe à 6 kW, 400 V 3~": {"quantity": 3, "power_kw": 6, "supply": (400, 3)},
    "3 thermoplongeurs 4,5 kW tri 400 V inox 316L": {"quantity": 3, "power_kw": 4.5, "supply": (400, 3), "sheath": "inox 316L"},
    "2 calentadores de 3 kW c/u, 400 V trifásica": {"quantity": 2, "power_kw": 3, "supply": (400, 3)},
    "2 resistenze da 4,5 kW cad., 400 V trifase": {"quantity": 2, "power_kw": 4.5, "supply": (400, 3)},
    "3 verwarmers 6 kW per stuk 3x400V+N+PE": {"quantity": 3, "power_kw": 6, "supply": (400, 3)},
    "3 grzałki po 4,5 kW, 400V 3 fazy": {"quantity": 3, "power_kw": 4.5, "supply": (400, 3)},
    "2 resistências 6 kW cada 440 V tri": {"quantity": 2, "power_kw": 6, "supply": (440, 3)},
}
FACTS = ("quantity", "spare", "power_kw", "total_kw", "sheath", "heated_length_mm")


def facts(said: DescriptionFacts) -> dict[str, object]:
    found: dict[str, object] = {name: one.value for name in FACTS if (one := getattr(said, name)) is not None}
    if said.supply is not None:
        found["supply"] = (said.supply.volts, said.supply.phases)
    if said.quantity_of:
        found["quantity_of"] = said.quantity_of
    return found


@pytest.mark.parametrize("text", READ)
def test_read(text: str) -> None:
    said = read_description(text)
    assert facts(said) == READ[text] and not said.doubts and said.kind in ("heater", "")


@pytest.mark.parametrize("text", ["6 kW each", "3 x 6 kW", "(3) 6 kW", "6 kW per heater", "6 kW je Heizer", "6 kW unitaire"])
def test_a_power_that_is_said_to_be_of_each(text: str) -> None:
    assert (said := read_description(text)).power_kw is not None and said.power_said


@pytest.mark.parametrize("text", ["6 kW", "6 kW heaters, qty 4", "3 heaters 6 kW"])
def test_a_power_of_which_that_is_not_said(text: str) -> None:
    assert (said := read_description(text)).power_kw is not None and not said.power_said


DOUBTS = {
    "Tank 5 heaters 6 kW (2)": "power_kw",  # of each, or of both?
    "18 kW total (3 x 5 kW)": "power_kw",
    "9 kW and 6 kW heaters": "power_kw",
    "two banks of 3 heaters 6 kW": "quantity",
    "(2) heaters 6 kW, qty 3": "quantity",
    "4 + 1 heaters 6 kW": "quantity",
    "3 x 480 V 6 kW heaters": "supply",
    "6 kW heater 480 V 3 ph, 240 V": "supply",
    "316SS or titanium heaters": "sheath",
}


@pytest.mark.parametrize("text", DOUBTS)
def test_a_fact_found_twice_with_two_values_is_in_doubt(text: str) -> None:
    assert read_description(text).doubt(DOUBTS[text])


KINDS = {
    "Recirc pump, 2 hp, 480/3/60": "other",
    "Rectifier, 12 VDC, 2000 A": "other",
    "Steam immersion coil, titanium": "other",
    "heater thermostat 120V": "other",
    "immersion heater control panel 480 V": "other",
    "Duct heater 20 kW": "other",
    "Umwälzpumpe 2,2 kW": "other",
    "Raddrizzatore 12 V 3000 A": "other",
    "immersion heater with thermostat, 9 kW": "heater",
    "HTR IMMERSION OTS 316SS": "heater",
    "Thermoplongeur 6 kW": "heater",
    "soak clean": "",
}


@pytest.mark.parametrize("text", KINDS)
def test_heater_or_other_equipment(text: str) -> None:
    assert read_description(text).kind == KINDS[text]


def test_units_in_which_heaters_are_rarely_given_are_converted_and_named() -> None:
    said = read_description("20473 BTU/H immersion heater")
    assert said.foreign == "BTU/H" and said.power_kw is not None and said.power_kw.value == pytest.approx(6.0, abs=0.001)
    assert read_description("9 kW heater").foreign == ""


def test_other_units_of_power_against_pint() -> None:
    registry = pint.UnitRegistry()
    named = {"hp": "hp", "ps": "metric_horsepower", "btu/h": "Btu_it/hour", "kcal/h": "international_calorie*1000/hour"}
    for unit, spelt in named.items():
        want = registry(spelt).to("kW").magnitude
        assert OTHER_UNITS[unit] == pytest.approx(want, rel=1e-5), unit
    assert power_factor("W") == 0.001 and power_factor("BTUH") == power_factor("btu/hr") and power_factor("kVA") is None


def test_each_fact_stands_where_it_says() -> None:
    text = "（３） 4.5 kW 240 V htrs, 36 in hot zone".replace("（３）", "(3)")
    said = read_description(text)
    for name in ("quantity", "power_kw", "heated_length_mm"):
        found = getattr(said, name)
        assert text[found.start : found.end].strip() == found.seen
    spans = [(said.power_kw.start, said.power_kw.end), (said.quantity.start, said.quantity.end)] if said.power_kw and said.quantity else []
    spans += [(start, end) for _, start, end in said.supply.spans] if said.supply else []
    spans.sort()
    assert len(spans) == 3 and all(one[1] <= other[0] for one, other in pairwise(spans))


FORMS = [
    "({n}) {p} kW {v} V {ph} ph immersion heaters",
    "{n} x {p} kW, {v}V/{ph}PH/60HZ",
    "{n} ea. {p} kW heaters, {v} V, {ph} ph",
    "{p} kW heaters, qty {n}, {v} V {ph} ph",
    "{n} Stk. Heizer je {p} kW, {ph}~{v} V",
]


@given(
    st.integers(1, 40),
    st.sampled_from([0.5, 1.5, 3, 4.5, 6, 7.5, 9, 12, 18, 36]),
    st.sampled_from([208, 240, 277, 380, 400, 480, 600]),
    st.sampled_from([1, 3]),
    st.sampled_from(FORMS),
)
def test_what_is_written_is_read_again(count: int, power: float, volts: int, phases: int, form: str) -> None:
    said = read_description(form.format(n=count, p=power, v=volts, ph=phases))
    assert facts(said) == {"quantity": count, "power_kw": power, "supply": (volts, phases)} and not said.doubts


@given(st.text(alphabet="0123456789 kWVphx()+@=.,/-heater", max_size=50) | st.text(max_size=80))
def test_no_text_is_a_crash(text: str) -> None:
    said = read_description(text)
    for name in FACTS:
        found = getattr(said, name)
        assert found is None or 0 <= found.start < found.end
