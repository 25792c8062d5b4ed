"""A code is data: no edition, country or clause stands in method and sizing, and no rule set gives a device below its minimum."""

from __future__ import annotations

import ast
import re
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

import batch
from batch.method.overcurrent import minimum_branch_rating, minimum_feeder_rating, standard_rating
from batch.rules import available, load

PACKAGE = Path(batch.__file__).parent
MODULES = sorted((*(PACKAGE / "method").glob("*.py"), *(PACKAGE / "sizing").glob("*.py")))
OF_A_CODE = re.compile(
    r"\bNEC\b|\bNFPA\b|\bIEC \d|\bBS 7671\b|\bUL \d|\bANSI\b|\bNEMA\b|\bTable \d|\bTable B\.|\b\d{3}\.\d+\([A-Z]\)|\bAmerican?\b|\bEurope\b"
)


def said(tree: ast.Module) -> list[str]:
    """Texts of a module that are no docstrings."""
    documented = (ast.Module, ast.ClassDef, ast.FunctionDef)
    docs = {
        id(node.body[0].value) for node in ast.walk(tree)
        if isinstance(node, documented) and node.body and isinstance(node.body[0], ast.Expr)
    }  # fmt: skip
    constants = [node for node in ast.walk(tree) if isinstance(node, ast.Constant) and id(node) not in docs]
    return [node.value for node in constants if isinstance(node.value, str)]


@pytest.mark.parametrize("path", MODULES, ids=lambda path: f"{path.parent.name}/{path.stem}")
def test_no_edition_country_or_clause_stands_in_the_code(path: Path) -> None:
    assert not [text for text in said(ast.parse(path.read_text(encoding="utf-8"))) if OF_A_CODE.search(text)]


WORDS_OF_A_COUNTRY = re.compile(
    r"\b(?:NEC|NFPA|IEC|EN|BS|DIN|VDE|UL|ANSI|IEEE|NEMA|OSHA|CSA|US|USA|EU|UK|ec|nec|nfpa|iec|us|usa|eu|uk|si)\b"
    r"|\b20[012]\d\b(?!-\d)|\b[1-9]\d\d\.\d{1,3}\([A-Z]|\b(?:Tables?|Articles?|Chapter|Annex|clause) [A-Z]?\.?\d|\bAnnex [A-Z]\b"
    r"|Americ|Europ|Canad|Brit"
)


@pytest.mark.parametrize("path", MODULES, ids=lambda path: f"{path.parent.name}/{path.stem}")
def test_a_search_finds_no_code_edition_clause_or_country(path: Path) -> None:
    """In all that stands there, comments and names included."""
    lines = path.read_text(encoding="utf-8").splitlines()
    assert not [line for line in lines if WORDS_OF_A_COUNTRY.search(line)]


def test_the_search_finds_what_it_is_for() -> None:
    shown = ("region == 'us'", "NEC: dict", "by 425.22(B)", "Table 310.16", "NFPA 79", "the 2023 edition", "IEC 60364", "North American")
    assert all(WORDS_OF_A_COUNTRY.search(text) for text in shown)
    assert not any(WORDS_OF_A_COUNTRY.search(text) for text in ("must", "amps of 2300 V", "118.75 A", "tables of ampacity", "us_er"))


@pytest.mark.parametrize("name", available())
@settings(deadline=None, suppress_health_check=[HealthCheck.too_slow])  # a busy machine is no fault of the rule set
@given(st.floats(0.1, 600), st.floats(0, 100), st.sampled_from(["fuse", "breaker"]))
def test_no_rule_set_gives_a_device_below_its_minimum(name: str, load_a: float, margin_pct: float, kind: str) -> None:
    """Load times the code's factor is a floor under every margin: 1.25 of the NEC's editions, 1 of IEC 60364 (Ib <= In)."""
    rules = load(name)
    floor = {"NEC": 1.25, "IEC": 1.0}[name[:3]]
    assert rules.factor("continuous").value == floor
    for minimum in (minimum_branch_rating, minimum_feeder_rating):
        required = minimum(load_a, margin_pct, rules).value
        device = standard_rating(required, kind, 1.0, rules)
        assert required >= floor * load_a - 1e-6
        assert device is None or device.value >= floor * load_a - 1e-6
