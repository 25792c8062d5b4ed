"""The list of changes that the tests have to catch keeps up with the code: `python -m tests.mutants` tries them, this only reads them."""

from __future__ import annotations

import ast
from collections import Counter
from dataclasses import replace
from functools import cache

import pytest

from tests.mutants.__main__ import ROOT, Change, changes

ALL = changes()
AREAS = (
    "cli", "method", "sizing", "price", "rules", "intake", "comparing", "reopening", "schedules", "findings", "units.py", "results.py",
    "heat_results.py", "used_settings.py", "__init__.py", "writing", "report", "filling", "watch",
    "file_names.py", "held_once.py", "ooxml", "sheets", "drawings", "papers", "quoting",
)  # fmt: skip


def named(change: Change) -> str:
    return f"{change.file}: {change.why}"


@cache
def text_of(file: str) -> str:
    return (ROOT / file).read_text(encoding="utf-8")


@cache
def names_in(file: str) -> frozenset[str]:
    return frozenset(node.name for node in ast.parse(text_of(file)).body if isinstance(node, ast.FunctionDef))


@pytest.mark.parametrize("change", ALL, ids=named)
def test_every_change_fits_the_code_as_it_is(change: Change) -> None:
    fits = change.fits(text_of(change.file))
    assert fits, f"{change.file} has these words {text_of(change.file).count(change.old)} times, not once: {change.old!r}"
    if change.file.endswith(".py"):
        ast.parse(text_of(change.file).replace(change.old, change.new))  # what cannot be loaded is caught by any test, and proves nothing


@pytest.mark.parametrize("change", ALL, ids=named)
def test_the_tests_that_are_to_catch_it_are_there(change: Change) -> None:
    assert change.tests and change.why
    for test in change.tests:
        file, _, name = test.partition("::")
        assert (ROOT / file).is_file() and (not name or name in names_in(file)), test


def test_none_stands_there_twice_and_no_area_is_left_out() -> None:
    assert [key for key, count in Counter((one.file, one.old, one.new) for one in ALL).items() if count > 1] == []
    counts = Counter(area for one in ALL for area in AREAS if one.file.startswith(f"batch/{area}"))
    assert sum(counts.values()) == len(ALL) and set(counts) == set(AREAS), counts
    assert len(ALL) >= 80


def test_a_change_of_words_that_are_gone_or_repeated_does_not_fit() -> None:
    change = Change("x.py", "a < b", "a <= b", "slip", ("tests/test_x.py",))
    assert change.fits("if a < b:") and not change.fits("if a > b:") and not change.fits("a < b or a < b")
    assert not replace(change, new=change.old).fits("if a < b:"), "it changes nothing"
