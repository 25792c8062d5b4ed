"""Counts in sentences: one thing is never said in the plural, nor several in the singular."""

from __future__ import annotations

import re
from string import Formatter

import pytest

from batch.counted_words import counted, few, filled
from batch.findings import CATALOGUE, find, remark

# Counts of which there are always several: tables beside each other, projects that a row does not name, tanks of one row
ALWAYS_SEVERAL = {"tables-side-by-side", "project-blank", "tanks-question"}
PLURAL = re.compile(r"\{(count|rows|tanks)\} (?!of its)(?:[a-z-]+ )?[a-z]+s\b")


@pytest.mark.parametrize(
    ("number", "one", "said"),
    [(1, "tank", "1 tank"), (2, "tank", "2 tanks"), (0, "row", "0 rows"), (1200, "supply", "1,200 supplies"), (2, "way", "2 ways"),
     (3, "fuse box", "3 fuse boxes")],
)  # fmt: skip
def test_things_are_counted(number: int, one: str, said: str) -> None:
    assert counted(number, one) == said


def test_names_are_named_until_they_are_too_many() -> None:
    assert few(["a", "b"], 2) == "a, b" and few(["a", "b", "c", "d"], 2) == "a, b and 2 more"


@pytest.mark.parametrize(("count", "said"), [("1", "1 part is kept with its price"), ("2", "2 parts are kept with their prices")])
def test_a_template_says_the_words_that_go_with_its_count(count: str, said: str) -> None:
    assert filled("{count:part is|parts are} kept with {count:~its price|their prices}", {"count": count}) == said


@pytest.mark.parametrize("code", [code for code, kind in CATALOGUE.items() if "{count" in kind.template or "{rows" in kind.template])
def test_no_template_counts_one_thing_in_the_plural(code: str) -> None:
    """Of a template that counts, words in the plural right behind the count have their singular, or there are always several."""
    kind = CATALOGUE[code]
    assert not PLURAL.search(kind.template) or code in ALWAYS_SEVERAL, kind.template
    specs = [spec for _, name, spec, _ in Formatter().parse(kind.template) if name and spec]
    assert all(spec.count("|") == 1 for spec in specs)
    for count in ("1", "2"):
        said = find(remark(code, "", **(dict.fromkeys(kind.fields, "x") | {"count": count})), dict.fromkeys(kind.clauses, "x"))
        assert "|" not in said.message and "~" not in said.message
