"""The drawn power circuit of a control panel against its wiring list: the same terminals, joined as the wires say and no further."""

from __future__ import annotations

from collections.abc import Iterator

from batch.control_results import TankControl
from batch.drawings.control_power import power_plans
from batch.drawings.drawing_list import Drawing
from batch.drawings.symbols import shape
from batch.sizing.power_circuit import POWER_WIRES
from tests.test_ladder_drawing import US, circuits, on, traced

Point = tuple[int, int]


def terminals(sheet: Drawing, control: TankControl) -> Iterator[tuple[str, str, Point]]:
    """Terminal, its wire number and where it is drawn, of every pole on the sheet; names are the words printed at the poles' ends."""
    words = [(one.text, one.at) for one in sheet.words if one.at is not None]
    for pole in control.circuit.power:
        first, second = (point.partition(":")[2] for point in pole.points)
        for symbol in (one for one in sheet.symbols if one.of == pole.mark and one.level):
            left = (symbol.x - shape(symbol.kind).reach, symbol.y)
            if (first, left) not in words:
                continue
            right = min(at for text, at in words if text == second and at[1] == symbol.y and at[0] > symbol.x)
            yield pole.points[0], pole.start, left
            yield pole.points[1], pole.end, right


def test_every_power_wire_ends_at_two_drawn_terminals_and_joins_no_others() -> None:
    count = 0
    for what, control in circuits().items():
        drawn: set[str] = set()
        for sheet in power_plans(control, US):
            nets, by_wire = traced(sheet), {}
            for terminal, wire, point in terminals(sheet, control):
                drawn.add(terminal)
                by_wire.setdefault(wire, set()).add(nets.of(point))
            split = {wire for wire, found in by_wire.items() if len(found) > 1}
            assert not split, (what, split)
            whole = [next(iter(found)) for found in by_wire.values()]
            assert len(set(whole)) == len(whole), (what, "two wires joined")
            words = {one.text for one in sheet.words}
            drawn |= {f"{supply.block_mark}:{side}{line}" for supply in control.supplies if supply.block_mark in words
                      for side in "LT" for line in (1, 2, 3)}  # fmt: skip
            drawn |= {supply.neutral_bar for supply in control.supplies if supply.neutral_bar in words}
        for wire in control.circuit.wires:
            if wire.purpose in POWER_WIRES:
                own = [end for box, end in ((wire.start_box, wire.start), (wire.end_box, wire.end)) if box == "HCP"]
                assert own and set(own) - drawn <= {end for end in own if "PDB1" in end and wire.purpose == "panel feeder"}, (what, wire)
                count += 1
    assert count > 300


def test_what_joins_a_block_has_its_dot() -> None:
    """The sheet says that crossing lines join only at a dot: so every conductor that ends on a block's upright has one."""
    dotted = 0
    for what, control in circuits().items():
        blocks = {supply.block_mark for supply in control.supplies} - {""}
        for sheet in power_plans(control, US):
            if not blocks & {one.text for one in sheet.words}:
                continue
            dots = {(one.x, one.y) for one in sheet.symbols if one.kind == "junction"}
            uprights = [line for line in sheet.lines if line.style == "bar" and line.x1 == line.x2]
            for line in (one for one in sheet.lines if one.style == "wire" and one.y1 == one.y2):
                for end in ((line.x1, line.y1), (line.x2, line.y2)):
                    if any(on(end, upright) for upright in uprights):
                        assert end in dots, (what, end)
                        dotted += 1
    assert dotted > 50


def test_what_leaves_the_box_is_said_beside_its_terminal() -> None:
    """Each panel feeder's conductor with the terminal that it ends at, its colour and size; each line of a supply likewise."""
    for what, control in circuits().items():
        words = {one.text for sheet in power_plans(control, US) for one in sheet.words}
        for wire in control.circuit.wires:
            if wire.purpose == "panel feeder" and wire.start.startswith("CON"):
                where = f"{wire.end_box} {wire.end}" if wire.field else f"in this box {wire.end}"
                assert f"{where}, {wire.colour}, {wire.size}" in words, (what, wire)
            elif wire.purpose == "supply":
                assert f"{wire.colour}, {wire.size}  {wire.number}" in words, (what, wire)
