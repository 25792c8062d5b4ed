"""Liquids by the names that shops of several languages give them, and what an unnamed tank material means for them."""

from __future__ import annotations

import pytest

from batch.rules.thermal import thermal
from tests import job_builder as build
from tests.job_builder import bank
from tests.test_heat_check import tank

TABLES = thermal()
ACIDS = ("hydrochloric acid", "Salzsäure 15 %", "Chromsäure", "décapage", "ácido sulfúrico", "nickel plating", "pickle")


@pytest.mark.parametrize("liquid", ACIDS)
def test_an_acid_without_a_tank_material_is_asked_about_and_not_put_into_plain_steel(liquid: str) -> None:
    result = build.size([bank()], tanks=[tank(liquid=liquid, tank_material=None)])
    [said] = [finding for finding in result.findings if finding.code == "tank-material-open"]
    assert said.message.startswith("Tank material is blank, and plain carbon steel does not bear")
    assert not any("Tank material" in one.message for one in result.findings if one.code == "heat-default")
    given = build.size([bank()], tanks=[tank(liquid=liquid, tank_material="polypropylene")])
    assert "tank-material-open" not in {one.code for one in given.findings}


@pytest.mark.parametrize("liquid", ["water", "alkaline cleaner", "Natronlauge", "Spüle", "quench oil"])
def test_what_steel_bears_is_reckoned_in_steel_by_default(liquid: str) -> None:
    result = build.size([bank()], tanks=[tank(liquid=liquid, tank_material=None)])
    assert "tank-material-open" not in {one.code for one in result.findings}
    assert any("Tank material carbon steel" in one.message for one in result.findings if one.code == "heat-default")


NAMED = {  # the commonest liquids, as shops of each language write them
    "alkaline soak cleaner": [
        "alkalischer Reiniger", "Entfettung heiß", "dégraissage alcalin", "desengrase", "sgrassatura", "ontvetting",
        "odtłuszczanie",
    ],
    "rinse water (drag-out contaminated)": [
        "Spüle 3", "SPÜLBAD", "Heissspuele", "rinçage", "enjuague", "risciacquo", "spoelbad", "płukanie",
    ],
    "sulfuric acid pickle": [
        "Schwefelsäure 10 %", "Schwefelsaeure", "acide sulfurique", "ácido sulfúrico", "acido solforico", "zwavelzuur",
        "kwas siarkowy",
    ],
    "hydrochloric acid pickle": [
        "Salzsäure", "acide chlorhydrique", "ácido clorhídrico", "acido cloridrico", "zoutzuur", "kwas solny",
    ],
    "nitric acid": [
        "Salpetersäure", "acide nitrique", "ácido nítrico", "acido nitrico", "salpeterzuur", "kwas azotowy",
    ],
    "phosphoric acid": [
        "Phosphorsäure", "acide phosphorique", "ácido fosfórico", "acido fosforico", "fosforzuur", "kwas fosforowy",
    ],
    "acid pickle, its acid not named": [
        "Beizbad", "décapage", "decapado", "decapaggio", "beitsbad", "trawienie", "pickle",
    ],
    "chromium plating (hard / decorative)": [
        "Chromsäure", "acide chromique", "ácido crómico", "acido cromico", "chroomzuur", "kwas chromowy",
    ],
    "zinc/iron phosphate (conversion)": [
        "Zinkphosphat", "phosphatation", "fosfatado", "fosfatazione", "zinkfosfaat", "fosforanowanie",
    ],
    "nickel plating (Watts)": [
        "Nickelbad", "nickelage", "níquel brillante", "nichelatura", "nikkelbad", "niklowanie",
    ],
    "electroless nickel": [
        "chemisch Nickel", "nickel chimique", "níquel químico", "nichel chimico", "chemisch nikkel",
        "niklowanie chemiczne",
    ],
    "caustic soda dilute": [
        "Natronlauge", "soude caustique", "sosa cáustica", "soda caustica", "natronloog", "ług sodowy",
    ],
    "caustic soda concentrated": [
        "Natronlauge 50 %", "sosa 50 %",
    ],
    "sulfuric acid anodising": [
        "Eloxal", "anodisation", "anodizado", "anodizzazione", "anodiseren", "anodowanie",
    ],
    "water": [
        "VE-Wasser", "eau", "agua", "acqua", "leidingwater", "woda",
    ],
    "mineral oil / quench oil": [
        "Öl", "Haerteoel", "huile", "aceite", "olio", "olie", "olej",
    ],
}  # fmt: skip


@pytest.mark.parametrize(("name", "words"), [(name, word) for name, some in NAMED.items() for word in some])
def test_liquids_are_known_by_the_names_of_several_languages(name: str, words: str) -> None:
    found = TABLES.liquid(words)
    assert found is not None and found.name == name


@pytest.mark.parametrize("words", ["saurer Reiniger", "acid cleaner", "dégraissage acide", "Linie 3 l", "bain no 4", "Kunde"])
def test_a_name_that_only_holds_one_of_the_table_is_not_known(words: str) -> None:
    assert TABLES.liquid(words) is None


def test_a_pickle_of_no_named_acid_has_the_careful_figures_of_both() -> None:
    pickle, sulfuric, hydrochloric = (TABLES.liquids[name] for name in (
        "acid pickle, its acid not named", "sulfuric acid pickle", "hydrochloric acid pickle"))  # fmt: skip
    heat = [one.density_kg_m3 * one.cp_j_kgk for one in (pickle, sulfuric, hydrochloric)]
    assert heat[0] == max(heat) and pickle.watt_high_w_cm2 == min(sulfuric.watt_high_w_cm2, hydrochloric.watt_high_w_cm2)


def test_every_name_of_a_language_stands_for_one_liquid() -> None:
    names = [(word, name) for some in TABLES.liquid_names().values() for name, words in some.items() for word in words]
    for word, name in names:
        found = TABLES.liquid(word)
        assert (found.name if found is not None else "not known") == name, word
