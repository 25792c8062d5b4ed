"""Ladders: what is drawn is what is wired and simulated. The drawing list is traced, wire by wire, and compared with the circuit's data."""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache
from pathlib import Path

import pytest

import batch
from batch.control_results import Element, TankControl
from batch.drawings.drawing_list import Drawing, Segment
from batch.drawings.ladder import name_of, plans
from batch.drawings.ladder_rows import Alike
from batch.drawings.symbols import IEC, US, shape
from batch.drawings.vector import svg
from tests.job_builder import bank, feeder, project, size

SAMPLES = Path(__file__).resolve().parents[1] / "sample_jobs"
UNDRAWN = ("ground", "jumper")  # the ground is an earth on the grounded rail, a jumper a wire between two terminals


@lru_cache(maxsize=1)
def circuits() -> dict[str, TankControl]:
    """Every distinct control circuit of two samples, by sample and tank."""
    found: dict[object, tuple[str, TankControl]] = {}
    for sample in ("small-clean.xlsx", "every-finding.xlsx"):
        for one in batch.check(SAMPLES / sample).projects:
            for control in one.controls:
                found.setdefault(control.circuit.ladder, (f"{sample} {control.tank}", control))
    return dict(found.values())


Point = tuple[int, int]


class Nets:
    """Points that one conductor joins, by union."""

    def __init__(self) -> None:
        self.up: dict[Point, Point] = {}

    def of(self, point: Point) -> Point:
        self.up.setdefault(point, point)
        while self.up[point] != point:
            point = self.up[point]
        return point

    def join(self, one: Point, other: Point) -> None:
        self.up[self.of(one)] = self.of(other)


def on(point: Point, line: Segment) -> bool:
    (x, y), (x1, x2), (y1, y2) = point, sorted((line.x1, line.x2)), sorted((line.y1, line.y2))
    return x1 <= x <= x2 and y1 <= y <= y2


def traced(drawing: Drawing) -> Nets:
    """Lines joined end to end, at junctions, through terminals, and where an end stands on a rail or another line; never at a crossing."""
    nets, wires = Nets(), [line for line in drawing.lines if line.style in ("wire", "bar")]
    for line in wires:
        nets.join((line.x1, line.y1), (line.x2, line.y2))
    for symbol in drawing.symbols:
        if symbol.kind == "terminal":
            reach = shape("terminal").reach
            nets.join((symbol.x - reach, symbol.y), (symbol.x + reach, symbol.y))
            nets.join((symbol.x - reach, symbol.y), (symbol.x, symbol.y))
        elif symbol.kind == "junction":
            for line in wires:
                if on((symbol.x, symbol.y), line):
                    nets.join((symbol.x, symbol.y), (line.x1, line.y1))
    for line in wires:
        for end in ((line.x1, line.y1), (line.x2, line.y2)):
            for other in wires:
                if other is not line and on(end, other) and "bar" in (line.style, other.style):
                    nets.join(end, (other.x1, other.y1))
    return nets


def elements_by_points(control: TankControl) -> dict[str, Element]:
    found = {}
    for element in control.circuit.elements:
        turned = element._replace(start=element.end, end=element.start, points=element.points[::-1])  # drawn from right to left
        found |= {name_of(element): element, name_of(turned): turned}
    return found


def ends(drawing: Drawing, control: TankControl) -> Iterator[tuple[str, Point]]:
    """Wire number and point of both ends of each element drawn."""
    known = elements_by_points(control)
    limits = [element for element in control.circuit.elements if element.kind == "limit"]
    for symbol in drawing.symbols:
        element = known.get(symbol.of)
        if element is None or not symbol.level:
            continue
        reach = shape(symbol.kind).reach
        inner = {limit.end for limit in limits} - {limits[-1].end} if limits else set()
        for wire, x in ((element.start, symbol.x - reach), (element.end, symbol.x + reach)):
            if wire not in inner:
                yield wire, (x, symbol.y)


@pytest.mark.parametrize("standard", [IEC, US])
def test_drawn_as_wired(standard: str) -> None:
    """On every sheet, ends that bear the same wire number are joined, ends that bear different ones are not."""
    assert len(circuits()) > 15
    for what, control in circuits().items():
        for sheet in plans(Alike(control, 1, True), standard):
            nets = traced(sheet)
            by_wire: dict[str, set[Point]] = {}
            same = {one.start: one.end for one in control.circuit.elements if one.kind == "jumper"}
            for wire, point in ends(sheet, control):
                wire = same.get(wire, wire)
                by_wire.setdefault(wire, set()).add(nets.of(point))
            split = {wire: found for wire, found in by_wire.items() if len(found) > 1}
            assert not split, (what, split)
            nets_of = [next(iter(found)) for found in by_wire.values()]
            assert len(set(nets_of)) == len(nets_of), (what, by_wire)


def test_every_element_is_drawn_once() -> None:
    for what, control in circuits().items():
        sheets, known = plans(Alike(control, 1, True), US), elements_by_points(control)
        drawn = [known[symbol.of].mark for sheet in sheets for symbol in sheet.symbols if symbol.of in known]
        strips: dict[tuple[str, str], list[Element]] = {}
        for element in control.circuit.elements:
            if element.kind == "limit":
                strips.setdefault((element.box, element.points[0].partition(":")[0]), []).append(element)
        shown = [element.mark for strip in strips.values() for element in dict.fromkeys((strip[0], strip[-1]))]
        wanted = [element.mark for element in control.circuit.elements if element.kind not in (*UNDRAWN, "limit")]
        assert sorted(drawn) == sorted(wanted + shown), what
        words = [text.text for sheet in sheets for text in sheet.words]
        for rung in control.circuit.ladder:
            assert f"{rung.line}" in words, (what, rung.line)


def test_words_stay_on_the_sheet_and_svg_is_made() -> None:
    from batch.drawings.lettering import width

    for what, control in circuits().items():
        for sheet in plans(Alike(control, 3, False), US):
            for words in sheet.words:
                long = width(words.text, words.size)
                left = words.x - {"l": 0, "m": long // 2, "r": long}[words.anchor]
                assert left >= 0 and left + long <= sheet.width, (what, words)
                assert 0 < words.y < sheet.height, (what, words)
            assert svg(sheet).startswith("<svg")


def test_what_a_lost_supply_does_is_told_as_control_power_comes() -> None:
    """By others it stays on while a supply of the heaters is lost: then nothing drops, and nobody may count on it."""
    of = {"panel": "lost supply, from which the control power comes,", "others": "lost control power, which is by others,"}
    for transformer, lost in of.items():
        [control] = size(bank(), feeder(), projects=project(control_transformer=transformer)).projects[0].controls
        words = " ".join(one.text for sheet in plans(Alike(control, 1, True), US) for one in sheet.words)
        assert f"{lost} drops every contactor" in words
        assert ("No relay watches a supply of the heaters" in words) == (transformer == "others")


def test_strips_of_other_lengths_are_told_by_n_and_by_no_panel_s_numbers() -> None:
    """Of a kind whose panels have other counts of limits, "OTL1 to OTL6" would be true of the first alone."""
    for what, control in circuits().items():
        words = [text.text for sheet in plans(Alike(control, 3, False), IEC) for text in sheet.words]
        assert not any(" to " in one and one.endswith(", in series") for one in words), what
        strips = {element.points[0].partition(":")[0] for element in control.circuit.elements if element.kind == "limit"}
        assert ("n limits, in series" in words) == any(f"{strip}:2n+2" in words for strip in strips), what
