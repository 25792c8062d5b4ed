"""The ladder of a tank, line by line: control power, the limit string, the latch with its reset, alarm, contactors, lamps.

Energize to run: every coil hangs on wire 3, which only the latch feeds, and the latch only the whole limit string. Reset is blocked while
any contactor stands closed, by a break contact of each in series with it; both are bridged by the latch's own contact.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from typing import NamedTuple

from batch.control_results import BUS, COMMON, LIVE, SUPPLY, Coil, ControlSettings, Element, Rung
from batch.sizing.control_contacts import Switched, Switching
from batch.sizing.marks import TankMarks

FIRST = 101
SERIALS = 9  # wires of a line that are numbered line x 10 + serial; further ones 105-10, 105-11
AT_THE_LIMIT, OTHERS = "at the limit", "others"
STRING_IN, STRING_OUT, ALARM, FIRST_CONTACT = (1, 1), (1, 2), (1, 7), 11  # terminals of TB1


class LimitStrip(NamedTuple):
    """The limits of a heater panel, or of a single-circuit bank, on the strip of its box; `numbers` are those of its heaters."""

    box: str
    strip: str
    bank: str
    numbers: tuple[int, ...]

    @property
    def terminals(self) -> int:
        """1 in, 2i and 2i + 1 the i-th limit, the last out."""
        return 2 * len(self.numbers) + 2


class LadderPlan(NamedTuple):
    """What a tank's ladder is drawn from. `strips` are those with limits that are fitted or not ruled out; `primary` the wires that control
    power comes from ("1D1", "1D2", "1LN"), () = by others; `grounded` whether the second is a grounded conductor, which has no fuse;
    `transformer` whether it has its primary there, or control power is line to neutral; `supply` in words where control power comes from
    where there is none; `tap` where the first two wires land."""

    box: str
    marks: TankMarks
    settings: ControlSettings
    strips: tuple[LimitStrip, ...]
    level_cutoff: str | None
    contactors: tuple[Coil, ...]
    banks: tuple[str, ...]
    switching: Switching
    ground_fault_relays: int
    primary: tuple[str, str] | tuple[()]
    supply: str
    transformer: bool = True
    tap: tuple[str, str] = ("DISC1:T1", "DISC1:T2")
    grounded: bool = False


def wire_number(line: int, serial: int) -> str:
    """Line x 10 + serial: the second wire of line 104 is 1042."""
    return f"{10 * line + serial}" if serial <= SERIALS else f"{line}-{serial}"


def build_ladder(plan: LadderPlan) -> tuple[Rung, ...]:
    """Every line from 101 on."""
    return _Ladder(plan).rungs()


class _Ladder:
    """One ladder on its way. Counts the contacts of each coil as they are used."""

    def __init__(self, plan: LadderPlan) -> None:
        self.plan, self.marks, self.box = plan, plan.marks, plan.box
        self.latch = self.marks.of("latch")
        self.used: Counter[str] = Counter()
        self.strip = self.marks.of("control terminals")

    def rungs(self) -> tuple[Rung, ...]:
        found = [*self._power()]
        string, ready = self._string()
        found += [string, self._latch(ready), self._tripped(), self._alarm()]
        line = FIRST + 7
        for part in (self._buses, self._coils, self._lamps, self._loads):
            for says, elements in part(line):
                found.append(Rung(line, says, tuple(elements)))
                line += 1
        return tuple(found)

    # --- lines 101 to 107

    def _power(self) -> Iterator[Rung]:
        fuse, transformer = "control fuse", self.marks.of("transformer")
        third = self.marks.of(fuse, 3)
        supply = hot = wire_number(FIRST + 1, 1) if self.strip.endswith(SUPPLY) else SUPPLY  # X1 is no wire where strips are called -X1
        ground: tuple[Element, ...] = ()
        if self.plan.primary and self.plan.transformer:
            one, other = self.plan.primary
            first = self.marks.of(fuse, 1)
            inner, outer = wire_number(FIRST, 1), wire_number(FIRST, 2)
            elements = [self._element(first, "fuse", one, inner, (f"{first}:1", f"{first}:2"))]
            windings = tuple(f"{transformer}:{end}" for end in self.marks.marking.windings)
            far = other if self.plan.grounded else outer
            elements.append(self._element(transformer, "primary", inner, far, (windings[0], windings[1])))
            if not self.plan.grounded:
                second = self.marks.of(fuse, 2)
                elements.append(self._element(second, "fuse", outer, other, (f"{second}:1", f"{second}:2")))
            yield Rung(FIRST, "control transformer, primary", tuple(elements))
            source = self._element(transformer, "secondary", supply, COMMON, (windings[2], windings[3]))
            ground = (self._element("ground", "ground", COMMON, "ground", (windings[3], self.marks.marking.ground_bar)),)
        else:
            yield Rung(FIRST, f"control power {self.plan.supply}", ())
            points = (f"{self.strip}:9", f"{self.strip}:10")
            if self.plan.primary:  # a line to neutral, which is grounded where it comes from
                hot, points = self.plan.primary[0], self.plan.tap
            source = self._element("supply", "supply", hot, COMMON, points)
        ahead = self._element(third, "fuse", hot, LIVE, (f"{third}:1", f"{third}:2"))
        yield Rung(FIRST + 1, "control power", (source, ahead, *ground))
        yield Rung(FIRST + 2, "control power on", (self._lamp(1, LIVE, COMMON),))

    def _string(self) -> tuple[Rung, str]:
        """The limit string, and the wire where it ends."""
        line = FIRST + 3
        out, after_level, after_interlock = (wire_number(line, serial) for serial in (1, 2, 3))
        elements, at = [], LIVE
        limits = [(strip, place, number) for strip in self.plan.strips for place, number in enumerate(strip.numbers, start=1)]
        for count, (strip, place, number) in enumerate(limits, start=1):
            # between limits a wire bears the line, a stroke and a serial of its own, so that 1041 is where the string comes back
            end = out if count == len(limits) else f"{line}/{count}"
            mark = self.marks.of_bank("limit", number, strip.bank, len(self.plan.banks) > 1)
            points = (f"{strip.strip}:{2 * place}", f"{strip.strip}:{2 * place + 1}")
            elements.append(Element(mark, "limit", at, end, points, field=True, box=strip.box, bank=strip.bank))
            at = end
        if not limits:
            elements.append(self._jumper(LIVE, out, 1))
        if self.plan.level_cutoff == "no":
            elements.append(self._jumper(out, after_level, 3))
        else:
            elements.append(self._terminals(self.marks.of("level cutoff"), "level cutoff", out, after_level, 3))
        elements.append(self._terminals("interlock", "interlock", after_level, after_interlock, 5))
        at = after_interlock
        for number in range(1, self.plan.ground_fault_relays + 1):
            mark, end = self.marks.of("ground-fault relay", number), wire_number(line, 3 + number)
            elements.append(self._element(mark, "ground-fault contact", at, end, (f"{mark}:11", f"{mark}:14")))
            at = end
        return Rung(line, "limit string", tuple(elements)), at

    def _latch(self, ready: str) -> Rung:
        """Reset and a break contact of every contactor, bridged by the latch. With reset at the limit there is no button: the latch pulls
        in by itself, yet still not while a contactor stands closed."""
        line, at, serial = FIRST + 4, ready, 0
        elements = []
        if self.plan.settings.reset != AT_THE_LIMIT:
            serial += 1
            mark, end = self.marks.of("reset"), wire_number(line, 1)
            elements.append(self._element(mark, "button", at, end, (f"{mark}:3", f"{mark}:4"), closed=False))
            at = end
        for coil in self.plan.contactors:
            serial += 1
            end = wire_number(line, serial)
            elements.append(self._contact(coil.mark, at, end, closed=True))
            at = end
        elements.append(self._contact(self.latch, ready, at, closed=False, row=1))
        elements.append(self._coil(self.latch, at))
        return Rung(line, "latch: pulls in at reset", tuple(elements))

    def _tripped(self) -> Rung:
        line = FIRST + 5
        end = wire_number(line, 1)
        return Rung(line, "limit string open", (self._contact(self.latch, LIVE, end, closed=True), self._lamp(3, end, COMMON)))

    def _alarm(self) -> Rung:
        line = FIRST + 6
        start, end = wire_number(line, 1), wire_number(line, 2)
        contact = self._contact(self.latch, start, end, closed=True)
        return Rung(line, "alarm contact, to others: closed while the limit string is open", (contact,))

    # --- from line 108

    def _bus(self, at: int) -> str:
        return BUS if self.plan.switching.buses == 1 else f"{BUS}{chr(ord('A') + at)}"

    def _buses(self, line: int) -> Iterator[tuple[str, list[Element]]]:
        selector = self.marks.of("selector")
        for at in range(self.plan.switching.buses):
            middle = wire_number(line + at, 1)
            points = (f"{selector}:{at + 1}3", f"{selector}:{at + 1}4")
            auto = self._element(selector, "selector", LIVE, middle, points)
            yield "heaters on: selector and latch", [auto, self._contact(self.latch, middle, self._bus(at), closed=False)]

    def _coils(self, line: int) -> Iterator[tuple[str, list[Element]]]:
        for one in self.plan.switching.switched:
            for says, elements in self._switched(one, line):
                yield says, elements
                line += 1

    def _switched(self, one: Switched, line: int) -> Iterator[tuple[str, list[Element]]]:
        if not one.number:
            for part in one.parts:
                for coil in part.coils:
                    yield "back-up contactor, ahead of all others", [self._coil(coil.mark, self._bus(part.bus))]
            return
        banks = f"bank{'s' * (len(one.banks) > 1)} {', '.join(one.banks)}"
        contact, called = self._temperature(one.number, self._bus(one.bus), line)
        if not one.relay:
            for coil in one.parts[0].coils:
                yield f"contactor, {banks}", [*contact, self._coil(coil.mark, called)]
                contact = []
            return
        relay = self.marks.of("relay", one.relay)
        yield f"temperature, {banks}", [*contact, self._coil(relay, called)]
        for part in one.parts:
            line += 1
            start = wire_number(line, 1)
            closing = [self._contact(relay, self._bus(part.bus), start, closed=False)]
            for coil in part.coils:
                yield f"contactor, {banks}", [*closing, self._coil(coil.mark, start)]
                closing = []
            line += len(part.coils) - 1

    def _temperature(self, number: int, start: str, line: int) -> tuple[list[Element], str]:
        mark, end = self.marks.of("controller", number), wire_number(line, 1)
        if self.plan.settings.controller == OTHERS:
            return [self._terminals(mark, "temperature contact", start, end, FIRST_CONTACT + 2 * (number - 1))._replace(closed=False)], end
        return [self._element(mark, "temperature contact", start, end, (f"{mark}:1", f"{mark}:2"), closed=False)], end

    def _lamps(self, line: int) -> Iterator[tuple[str, list[Element]]]:
        of_bank: dict[str, list[Coil]] = {}
        for coil in self.plan.contactors:
            of_bank.setdefault(coil.bank, []).append(coil)
        for at, bank in enumerate(self.plan.banks):
            own = of_bank.get(bank, ())
            end = wire_number(line + at, 1)
            closed = [self._contact(coil.mark, LIVE, end, closed=False, row=row) for row, coil in enumerate(own)]
            lamp = self._lamp(2, end, COMMON)
            mark = f"{lamp.mark}-{at + 1}"
            yield f"bank {bank} on", [*closed, lamp._replace(mark=mark, points=(f"{mark}:1", f"{mark}:2"), bank=bank)]

    def _loads(self, line: int) -> Iterator[tuple[str, list[Element]]]:
        if self.plan.settings.controller != OTHERS:
            yield "power of the temperature controller", [self._load(self.marks.of("controller"))]
        for number in range(1, self.plan.ground_fault_relays + 1):
            yield "power of the ground-fault relay", [self._load(self.marks.of("ground-fault relay", number))]

    # --- elements

    def _element(self, mark: str, kind: str, start: str, end: str, points: tuple[str, str], *, closed: bool = True) -> Element:
        return Element(mark, kind, start, end, points, closed=closed, box=self.box)

    def _terminals(self, mark: str, kind: str, start: str, end: str, first: int) -> Element:
        """What stands in the field, on two terminals of the control panel."""
        return Element(mark, kind, start, end, (f"{self.strip}:{first}", f"{self.strip}:{first + 1}"), field=True, box=self.box)

    def _jumper(self, start: str, end: str, first: int) -> Element:
        return self._element(f"jumper {first}-{first + 1}", "jumper", start, end, (f"{self.strip}:{first}", f"{self.strip}:{first + 1}"))

    def _contact(self, coil: str, start: str, end: str, *, closed: bool, row: int = 0) -> Element:
        """The next contact of a coil; its terminals: a number through the coil's contacts, then 1-2 break, 3-4 make."""
        self.used[coil] += 1
        ends = "12" if closed else "34"
        points = (f"{coil}:{self.used[coil]}{ends[0]}", f"{coil}:{self.used[coil]}{ends[1]}")
        return Element(coil, "contact", start, end, points, coil, closed, row, box=self.box)

    def _coil(self, mark: str, start: str) -> Element:
        return self._element(mark, "coil", start, COMMON, (f"{mark}:A1", f"{mark}:A2"), closed=False)

    def _lamp(self, number: int, start: str, end: str) -> Element:
        mark = self.marks.of("lamp", number)
        return self._element(mark, "lamp", start, end, (f"{mark}:1", f"{mark}:2"), closed=False)

    def _load(self, mark: str) -> Element:
        return self._element(mark, "load", LIVE, COMMON, (f"{mark}:L", f"{mark}:N"), closed=False)
