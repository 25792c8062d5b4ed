"""The legend of a drawing: every symbol on it once, with a meaning, on every drawing of the papers."""

from __future__ import annotations

from itertools import combinations
from pathlib import Path

import pytest

import batch
from batch.drawings.drawing_list import Drawing
from batch.drawings.symbol_legend import FRAMES, LEGEND, MEANINGS, with_legend
from batch.drawings.symbols import SHAPES
from batch.drawings.us_symbols import US_SHAPES
from batch.papers.gathering import gather_papers
from batch.rules import load
from tests.job_builder import bank, feeder, project, size
from tests.test_schematic import box

ROOT = Path(__file__).resolve().parents[1]


def drawn(code: str) -> list[Drawing]:
    """Every drawing of the papers of a small job under a code."""
    if code == "NEC 2023":
        result = batch.check(ROOT / "sample_jobs" / "small-clean.xlsx")
    else:
        heaters = [bank(quantity=9), bank(tank="T-2", quantity=1, phases=3, power_kw=9.0, over_temperature_limit="yes")]
        result = size(heaters, feeder(volts_v=400.0), projects=project(code_basis=code))
    gathered = gather_papers(result, "all", code == "NEC 2023", "us-letter", "")
    return list(gathered.figures.files)


@pytest.mark.parametrize("code", ["NEC 2023", "IEC 60364"])
def test_every_drawing_of_the_papers_tells_its_symbols(code: str) -> None:
    wording = load(code).wording
    found = drawn(code)
    assert len(found) > 5
    for drawing in found:
        legend = [symbol.kind for symbol in drawing.symbols if symbol.of == LEGEND]
        if any("one line stands for all lines" in words.text for words in drawing.words):
            continue  # a one-line diagram has its own, of each apparatus
        assert legend and len(legend) == len(set(legend)) and set(legend) == {symbol.kind for symbol in drawing.symbols}
        words = [one.text for one in drawing.words]
        for kind in legend:
            assert wording.of(MEANINGS[kind]) in words, kind


def test_every_symbol_and_line_has_a_meaning() -> None:
    assert set(MEANINGS) == set(SHAPES) == set(US_SHAPES)
    assert len(set(MEANINGS.values()) | set(FRAMES.values())) == len(MEANINGS) + len(FRAMES)


@pytest.mark.parametrize("code", ["NEC 2023", "IEC 60364"])
def test_nothing_of_a_legend_is_cut_off_or_covered(code: str) -> None:
    """Of each drawing the legend's words keep off each other, off its symbols and on the sheet."""
    for drawing in drawn(code):
        symbols = [symbol for symbol in drawing.symbols if symbol.of == LEGEND]
        if not symbols:
            continue
        left = min(symbol.x for symbol in symbols)
        boxes = [box(words) for words in drawing.words if words.x > left and any(abs(words.y - symbol.y - 7) < 9 for symbol in symbols)]
        for left, top, right, bottom in boxes:
            assert left >= 0 and right <= drawing.width and top >= 0 and bottom <= drawing.height
        for one, other in combinations(boxes, 2):
            assert one[2] <= other[0] or other[2] <= one[0] or one[3] <= other[1] or other[3] <= one[1]
        for symbol in symbols:
            assert 0 < symbol.x < drawing.width and 0 < symbol.y < drawing.height, symbol


def test_a_legend_adds_and_changes_nothing_of_the_drawing() -> None:
    for drawing in drawn("NEC 2023"):
        more = with_legend(drawing)
        assert more.lines[: len(drawing.lines)] == drawing.lines and more.words[: len(drawing.words)] == drawing.words
        assert more.symbols[: len(drawing.symbols)] == drawing.symbols and more.height >= drawing.height
