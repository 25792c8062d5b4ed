"""The ladder of a tank's control circuit, line by line between its two rails, from the same data that is wired and simulated.

Contacts stand ahead of coils, coils on the grounded rail; each line bears its number and what it does, each wire its number, each contact
its terminals. What stands outside the control panel is in a dashed frame between its terminals. A ladder that is longer than a sheet goes
on on the next.
"""

from __future__ import annotations

from collections.abc import Sequence

from batch.control_results import COMMON, LIVE, Element, Rung
from batch.drawings.drawing_list import HEAD, MARGIN, NAME, TITLE, Drawing, Plan
from batch.drawings.ladder_rows import (
    BELOW,
    CONTACT,
    KINDS,
    LEFT,
    LOAD,
    LOADS,
    NEXT_RAIL,
    NUMBER,
    PASS,
    RAIL,
    RIGHT,
    ROW,
    SAYS,
    STRIP,
    TAIL,
    TERMINAL,
    WIDE,
    WRAPPED,
    Alike,
    On,
    Passed,
    Strip,
    height_of,
    is_bus,
    paged,
    rows_of,
    width_of,
)  # fmt: skip
from batch.drawings.ladder_words import draw_notes, line_words, settings_words, volts_words
from batch.drawings.symbols import shape
from batch.rules import OURS, Wording


def plans(alike: Alike, standard: str, wording: Wording = OURS) -> tuple[Drawing, ...]:
    """The sheets of a ladder. Same ladder: the same lists."""
    sheets = list(paged(alike.first))
    return tuple(_Sheet(alike, standard, wording).drawn(rungs, at, len(sheets)) for at, rungs in enumerate(sheets))


def alt_text(alike: Alike, sheet: int, of: int) -> str:
    """What a sheet shows, in words for who cannot see it."""
    coils = ", ".join(coil.mark for coil in alike.first.coils)
    where = f", part {sheet} of {of}" if of > 1 else ""
    return f"Control ladder {alike.first.kind}{where}: control power, limit string, latch with reset, alarm; contactors {coils}; lamps."


class _Sheet:
    """One sheet on its way: `nodes` are where each wire was last met, `rails` those that several lines hang on."""

    def __init__(self, alike: Alike, standard: str, wording: Wording) -> None:
        self.alike, self.control = alike, alike.first
        self.plan = Plan(standard=standard, wording=wording)
        self.nodes: dict[str, tuple[int, int]] = {}
        self.top: int | None = None  # y where the rails begin

    def drawn(self, rungs: Sequence[Rung], at: int, of: int) -> Drawing:
        plan, control = self.plan, self.control
        y = MARGIN + TITLE
        where = f", part {at + 1} of {of}" if of > 1 else ""
        more = f" and {self.alike.number - 1} alike" if self.alike.number > 1 else ""
        plan.say(MARGIN, y, f"{control.kind}: control circuit of {control.tag}{more}{where}", TITLE)
        for line in self.plan.wrapped(settings_words(control), NAME, WIDE - 2 * MARGIN):
            y += 24
            plan.say(MARGIN, y, line, NAME)
        y += 64
        if at:
            y += 26
            self.top = y - 46  # the rails' names stand above that of a coil on the first line
        buses = sorted({one.start for rung in rungs for one in rung.elements if is_bus(one.start)})
        for rung in rungs:
            if at and rung is rungs[0]:
                for place, bus in enumerate(buses):
                    self.nodes.setdefault(bus, (RAIL + NEXT_RAIL * place, y - 20))
                    plan.say(RAIL + NEXT_RAIL * place, y - 32, bus, NAME, "m")
            self._rung(rung, y)
            y += height_of(rung, control)
        foot = y - ROW + 40
        if self.top is not None:
            for x, wire, words, anchor in ((LEFT, LIVE, volts_words(control), "m"), (RIGHT, COMMON, "grounded", "r")):
                plan.line((x, self.top), (x, foot), style="bar")
                plan.say(x, self.top - 12, f"{wire}, {words}", NAME, anchor)
        return plan.done(draw_notes(plan, self.alike, foot + 34, at + 1 == of), WIDE)

    # --- a line

    def _rung(self, rung: Rung, y: int) -> None:
        plan = self.plan
        plan.say(NUMBER, y + 7, f"{rung.line}", HEAD, "m")
        for at, line in enumerate(self.plan.wrapped(line_words(rung, self.control), NAME, WIDE - MARGIN - SAYS)):
            plan.say(SAYS, y + 6 + at * 21, line, NAME)
        kinds = {element.kind for element in rung.elements}
        if "primary" in kinds:
            self._primary(rung.elements, y)
        elif kinds & {"secondary", "supply"}:
            self._source(rung.elements, y)
        elif rung.elements:
            self._line(rung, y)

    def _primary(self, elements: Sequence[Element], y: int) -> None:
        """Two lines of the supply, a fuse in each that is not grounded, the transformer's primary between."""
        start, middle = LEFT + 110, (LEFT + LOAD) // 2
        self.plan.say(start - 14, y + 7, elements[0].start, NAME, "r")
        self._terminal(start, y, "")
        x = start + 5
        places = {"primary": middle}
        left = [one for one in elements if one.kind == "fuse" and elements.index(one) == 0]
        for element in elements:
            place = places.get(element.kind, start + 170 if element in left else middle + 270)
            self._symbol(element, place, y, x, wire=element is not elements[0])
            x = place + 24
        end = elements[-1].end
        self.plan.line((x, y), (middle + 440, y))
        self._terminal(middle + 440, y, "")
        self.plan.say(middle + 456, y + 7, end, NAME)

    def _source(self, elements: Sequence[Element], y: int) -> None:
        """The secondary, or control power by others, with the fuse to the left rail and the grounded side to the right one."""
        plan, middle = self.plan, (LEFT + LOAD) // 2
        source = next(one for one in elements if one.kind in ("secondary", "supply"))
        fuses = [one for one in elements if one.kind == "fuse"]
        x = LEFT
        for at, fuse in enumerate(fuses):
            place = LEFT + 200 + at * CONTACT
            swapped = fuse._replace(start=fuse.end, end=fuse.start, points=(fuse.points[1], fuse.points[0]))  # from the rail to the source
            self._symbol(swapped, place, y, x, wire=False)
            x = place + 24
        self._symbol(source, middle, y, x, wire=True)
        if source.kind == "secondary":  # the core, between it and the primary on the line above
            for beside in (-4, 4):
                plan.line((middle - 22, y - ROW // 2 + beside), (middle + 22, y - ROW // 2 + beside))
        plan.line((middle + 24, y), (RIGHT, y))
        self._wire(source.end, (middle + 24 + RIGHT) // 2, y)
        for bar in (one.points[1] for one in elements if one.kind == "ground"):
            ground = RIGHT - 260
            plan.symbol("junction", ground, y, of=COMMON)
            plan.line((ground, y), (ground, y + 16))
            plan.symbol("earth", ground, y + 16, of=bar)
            plan.say(ground + 22, y + 36, bar, NAME)
        self.top = y
        for x_of, wire in ((LEFT, LIVE), (RIGHT, COMMON)):
            self.nodes[wire] = (x_of, y)

    def _line(self, rung: Rung, y: int) -> None:
        rows = rows_of(rung, self.control)
        loads = [element for element in rung.elements if element.row == 0 and element.kind in LOADS]
        start = rung.elements[0].start
        x = begun = self._begin(start, y, bool(rows[0]))
        row, wire = y, start
        for at, own in enumerate(rows):
            if at:
                x, row = self._back(x, row, wire)
            for one in own:
                x, wire = self._on(one, x, row, wire)
                self.nodes[wire] = (x, row)
        if loads:
            load = loads[0]
            reach = shape(KINDS[load.kind]).reach
            self.plan.line((x, row), (LOAD - reach, row))
            if rows[0]:
                self._wire(load.start, (x + LOAD - reach) // 2, row)
            self._placed(load, LOAD, row)
            self.plan.line((LOAD + reach, row), (RIGHT, row))
            self.plan.symbol("junction", RIGHT, row, of=COMMON)
        elif is_bus(wire):
            self._to_rail(wire, x, row)
        else:
            self._out(wire, x, row)
        for element in rung.elements:
            if element.row:
                self._beside(element, begun, y, row + BELOW * element.row, row)

    def _begin(self, wire: str, y: int, contacts: bool) -> int:
        """Where a line begins: at the left rail, at a rail behind the latch, at the wire that a line above has left; else at a terminal."""
        plan = self.plan
        if wire == LIVE:
            plan.symbol("junction", LEFT, y, of=wire)
            return LEFT
        if wire not in self.nodes:
            x = LEFT + 100
            plan.symbol("terminal", x, y, of=self._point_of(wire))
            plan.say(x - 14, y + 7, self._point_of(wire), NAME - 2, "r")
            self.nodes[wire] = (x + 5, y)
            return x + 5
        x, above = self.nodes[wire]
        if is_bus(wire):
            plan.line((x, above), (x, y), style="bar")
            plan.symbol("junction", x, y, of=wire)
            self.nodes[wire] = (x, y)
            last = max(place for name, (place, _) in self.nodes.items() if is_bus(name))
            clear = x if last == x else last + 18  # of the rails beside it
            plan.line((x, y), (clear, y))
            return clear
        if not contacts:  # one more load on a wire of the line above
            plan.symbol("junction", x, above, of=wire)
            plan.line((x, above), (x, y))
            self.nodes[wire] = (x, y)
            return x
        start, out, between = LEFT + 46, LOAD + 30, above + 54
        plan.line((x, above), (out, above), (out, between), (start, between), (start, y))
        self._wire(wire, (x + out) // 2, above)
        return start

    def _back(self, x: int, row: int, wire: str) -> tuple[int, int]:
        """On to the next row of the same line."""
        out, between, below, start = LOAD + 30, row + 54, row + WRAPPED, LEFT + 46
        self.plan.line((x, row), (out, row), (out, between), (start, between), (start, below))
        self._wire(wire, (x + out) // 2, row)
        return start, below

    def _to_rail(self, wire: str, x: int, row: int) -> None:
        """The wire behind the latch: a rail of its own, which lines below hang on."""
        rails = [name for name in self.nodes if is_bus(name) and name != wire]
        rail = RAIL + NEXT_RAIL * len(rails)
        self.plan.line((x, row), (rail, row))
        self._wire(wire, (x + rail) // 2, row)
        self.nodes[wire] = (rail, row)

    def _out(self, wire: str, x: int, row: int) -> None:
        """A line that ends at a terminal, or that the next line goes on with."""
        point, goes_on = self._point_of(wire), wire in self._starts()
        if goes_on:
            self.nodes[wire] = (x, row)
            return
        self.plan.line((x, row), (x + 90, row))
        self._wire(wire, x + 45, row)
        self.plan.symbol("terminal", x + 95, row, of=point)
        self.plan.say(x + 109, row + 7, point, NAME - 2)

    def _starts(self) -> set[str]:
        return {element.start for element in self.control.circuit.elements}

    def _point_of(self, wire: str) -> str:
        return next((one.point for one in self.control.circuit.terminals if one.wire == wire), "")

    def _beside(self, element: Element, begun: int, first: int, y: int, row: int) -> None:
        """A contact in parallel with others of its line, below them: from where the line begins to a wire on its last row."""
        plan = self.plan
        middle = begun + max(100, (self.nodes[element.end][0] - begun) // 2)
        end = max(self.nodes[element.end][0], middle + 56)  # the same wire goes on from there
        reach = shape("make contact").reach
        plan.symbol("junction", begun, first if element.start != LIVE else y, of=element.start)
        plan.line((begun, first if element.start != LIVE else y), (begun, y), (middle - reach, y))
        self._placed(element, middle, y)
        plan.line((middle + reach, y), (end, y), (end, row))
        plan.symbol("junction", end, row, of=element.end)

    # --- elements

    def _on(self, one: On, x: int, y: int, wire: str) -> tuple[int, str]:
        """What stands next on a line from x on; returns x behind it, and the wire there. The wire that leads to it is numbered, but for the
        left rail's own."""
        if isinstance(one, Strip):
            return self._limits(one, x, y, wire)
        named = wire != LIVE
        if isinstance(one, Passed):
            place, ring = x + PASS - 8, shape("terminal").reach
            self.plan.line((x, y), (place - ring, y))
            self._terminal(place, y, one.point)
            if named:
                self._wire(wire, (x + place) // 2, y)
            return place + ring, one.wire
        end = x + width_of(one)
        if one.field or one.kind == "jumper":
            self._field(one, end - TAIL - TERMINAL - 5, y, x, named)
        else:
            self._symbol(one, end - TAIL - 24, y, x, wire=named and not is_bus(wire))
        self.plan.line((end - TAIL, y), (end, y))
        return end, one.end

    def _symbol(self, element: Element, place: int, y: int, x: int, *, wire: bool) -> None:
        """A symbol with the wire that leads to it from `x`."""
        reach = shape(_symbol_of(element)).reach
        self.plan.line((x, y), (place - reach, y))
        if wire:
            self._wire(element.start, (x + place - reach) // 2, y)
        self._placed(element, place, y)

    def _placed(self, element: Element, place: int, y: int) -> None:
        plan, kind = self.plan, _symbol_of(element)
        reach = shape(kind).reach
        plan.symbol(kind, place, y, level=True, of=name_of(element))
        if element.kind != "secondary":  # the transformer's mark stands over its primary
            plan.say(place, y - 28, element.mark, NAME, "m")
        if kind == "fuse":
            plan.line((place - 24, y), (place - reach, y))
            plan.line((place + reach, y), (place + 24, y))
        for point, side, anchor in ((element.points[0], -1, "r"), (element.points[1], 1, "l")):
            own, _, number = point.rpartition(":")
            words = point if element.kind == "supply" else number if own == element.mark else ""
            plan.say(place + side * (reach - 4), y + 26, words, NAME - 2, anchor)

    def _field(self, element: Element, place: int, y: int, x: int, wire: bool) -> None:
        """What stands outside the panel, in a dashed frame between its terminals; or the jumper that stands there in its place."""
        plan, ring = self.plan, shape("terminal").reach
        plan.line((x, y), (place - TERMINAL - ring, y))
        if wire:
            self._wire(element.start, (x + place - TERMINAL - ring) // 2, y)
        for side, point in zip((-1, 1), element.points, strict=True):
            self._terminal(place + side * TERMINAL, y, point)
        if element.kind == "jumper":
            plan.line((place - TERMINAL + ring, y), (place + TERMINAL - ring, y), style="bar")
            plan.say(place, y - 12, "jumper", NAME, "m")
            return
        kind = _symbol_of(element)
        reach = shape(kind).reach
        for side in (-1, 1):
            plan.line((place + side * (TERMINAL - ring), y), (place + side * reach, y))
        plan.symbol(kind, place, y, level=True, of=name_of(element))
        plan.box(place - 34, y - 26, place + 34, y + 26, "case")
        plan.say(place, y - 32, element.mark, NAME, "m")

    def _limits(self, one: Strip, x: int, y: int, wire: str) -> tuple[int, str]:
        """The first and the last limit of a strip, in series, between the strip's first and last terminal."""
        plan = self.plan
        reach, ring = shape("over_temperature_limit").reach, shape("terminal").reach
        end = x + STRIP
        out = end - ring
        right, into = out - TERMINAL, x + 78
        left = into + TERMINAL
        plan.line((x, y), (into - ring, y))
        if wire != LIVE and "/" not in wire:
            self._wire(wire, (x + into) // 2, y)
        strip = one.first.points[0].partition(":")[0]
        self._terminal(into, y, f"{strip}:1")
        self._terminal(out, y, f"{strip}:{2 * one.number + 2}" if self.alike.same_limits else f"{strip}:2n+2")
        for x_of, element in ((left, one.first), (right, one.last)):
            plan.symbol("over_temperature_limit", x_of, y, level=True, of=name_of(element))
        plan.line((into + ring, y), (left - reach, y))
        plan.line((right + reach, y), (out - ring, y))
        plan.line((left + reach, y), (right - reach, y), style="link")
        plan.box(left - 34, y - 26, right + 34, y + 26, "case")
        words = f"{one.first.mark} to {one.last.mark}" if self.alike.same_limits else "n limits"  # of some panels others: see the table
        plan.say((left + right) // 2, y - 32, f"{words}, in series", NAME, "m")
        plan.say((left + right) // 2, y + 44, one.first.box, NAME, "m")
        return end, one.last.end

    def _terminal(self, x: int, y: int, point: str) -> None:
        self.plan.symbol("terminal", x, y, of=point)
        self.plan.say(x, y + 44, point, NAME - 2, "m")

    def _wire(self, wire: str, x: int, y: int) -> None:
        if "/" not in wire:
            self.plan.say(x, y - 6, wire, NAME - 1, "m")


def name_of(element: Element) -> str:
    """What a symbol stands for: its mark and its terminals, since a coil has many contacts and each panel a strip of its own."""
    return " ".join((element.mark, *element.points))


def _symbol_of(element: Element) -> str:
    if element.kind == "contact":
        return "break contact" if element.closed else "make contact"
    return KINDS[element.kind]
