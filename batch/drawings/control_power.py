"""The power side of a control panel, pole by pole: from the supply through disconnect, back-up contactor and block to each panel feeder's
device and contactor, and the terminal and the wire that go on from there. From the same data that is wired and listed.
"""

from __future__ import annotations

from collections.abc import Sequence

from batch.control_results import ControlFeed, ControlSupply, ControlWire, Element, TankControl
from batch.drawings.control_grounds import GroundWire, draw_grounds
from batch.drawings.drawing_list import HEAD, MARGIN, NAME, TITLE, Drawing, Plan
from batch.drawings.symbols import shape
from batch.rules import OURS, Wording
from batch.schedules.designations import US_SYMBOLS
from batch.sizing.power_circuit import NEUTRAL_BAR, NEUTRAL_IN, NEUTRAL_OUT, RESIDUAL, neutral_bar_of, neutral_wire

WIDE = 1720
TERMINAL_IN, DISCONNECT, BUILT_IN, BACK_UP = 190, 300, 390, 520  # x of what stands ahead of the panel feeders, poles below each other
BAR, NEXT_BAR = 640, 46  # x of the upright lines that several panel feeders hang on
DEVICE, CONTACTOR, TERMINAL_OUT, GOES = 900, 1080, 1250, 1270
GUARDED, GUARD, CORE, BESIDE_CORE = 820, 935, 990, 1024  # of a device ahead of a residual-current device, of that, its core, its wire
SENSOR, BESIDE_SENSOR = 1140, 1192  # of the current transformer of a ground-fault relay, and of the wire's number beside it
PITCH, GAP = 60, 64  # from pole to pole, and between panel feeders
FEEDS = 4  # panel feeders on a sheet
KINDS = {
    "power fuse": "fuse", "breaker": "breaker", "contactor pole": "contactor", "disconnect": "disconnect",
    "fusible disconnect": "disconnect", RESIDUAL: "disconnect",
}  # fmt: skip
AHEAD = ("power fuse", "breaker", RESIDUAL)  # what a panel feeder may have ahead of its contactor


def power_plans(
    control: TankControl, standard: str, wording: Wording = OURS, grounds: Sequence[GroundWire] = ()
) -> tuple[Drawing, ...]:  # fmt: skip
    """The sheets of a control panel's power circuit, supply by supply; `grounds` are its grounding conductors."""
    pieces: list[tuple[ControlSupply, Sequence[ControlFeed]]] = []
    for supply in control.supplies:
        own = [feed for feed in control.feeds if feed.supply == supply.number]
        pieces += [(supply, own[at : at + FEEDS]) for at in range(0, max(len(own), 1), FEEDS)]
    return tuple(
        _Power(control, standard, wording, grounds).drawn(*piece, at, len(pieces)) for at, piece in enumerate(pieces, start=1)
    )  # fmt: skip


def power_alt_text(control: TankControl, part: int, of: int) -> str:
    """What a sheet shows, in words for who cannot see it."""
    fed = "; ".join(f"{', '.join(filter(None, (feed.device, feed.contactor)))} to {feed.tag}" for feed in control.feeds)
    where = f", part {part} of {of}" if of > 1 else ""
    return f"Power circuit of {control.type or control.tag}{where}: {', '.join(one.mark for one in control.supplies)}; {fed}."


class _Power:
    """One sheet. Poles are found by their wires: what begins where the last one ended comes next."""

    def __init__(self, control: TankControl, standard: str, wording: Wording, grounds: Sequence[GroundWire]) -> None:
        self.control, self.standard, self.grounds = control, standard, grounds
        self.plan = Plan(standard=standard, wording=wording)
        self.ends = {one.end: one for one in control.circuit.power}
        self.goes: dict[str, ControlWire] = {one.number: one for one in control.circuit.wires if one.purpose == "panel feeder"}
        self.tapped: dict[str, list[str]] = {}
        poles = {point for one in control.circuit.power for point in one.points}
        for one in control.circuit.wires:
            bar = one.start.startswith(NEUTRAL_BAR) and not one.field
            if (one.start in poles or bar) and one.purpose not in ("power", "panel feeder", "supply"):
                self.tapped.setdefault(one.start, []).append(one.end)

    def drawn(self, supply: ControlSupply, feeds: Sequence[ControlFeed], part: int, of: int) -> Drawing:
        plan, control = self.plan, self.control
        y = MARGIN + TITLE
        where = f", part {part} of {of}" if of > 1 else ""
        plan.say(MARGIN, y, f"{control.type or control.tag}: power circuit of supply {supply.number}{where}", TITLE)
        y += 26
        plan.say(MARGIN, y, f"{supply.volts_v:g} V, {supply.system.words}; {supply.line_a:,.1f} A on the fullest line", HEAD)
        top = y + 70
        bars = {letter: BAR + NEXT_BAR * at for at, letter in enumerate("ABC"[: supply.lines])}
        for line, letter in enumerate(bars, start=1):
            self._line(supply, line, letter, top + PITCH * (line - 1), bars[letter])
        y = top + PITCH * (supply.lines - 1)
        if supply.neutral:
            self._neutral(supply, y + PITCH)
        opened = y + PITCH * supply.neutral_pole
        for x, last in ((DISCONNECT, opened), *(((BACK_UP, y),) if supply.backup else ())):
            if last > top:
                plan.line((x, top - 8), (x, last - 8), style="link")
        lowest = {letter: top + PITCH * at for at, letter in enumerate(bars)}
        if supply.block:
            plan.say(bars["A"] - 10, top - 30, supply.block_mark, HEAD)
        y = self._beside(supply, feeds, y + 44 + PITCH * supply.neutral)
        first = y = max(y + 20, top + PITCH * (supply.lines + supply.neutral) + 20)
        for feed in feeds:
            plan.say(GOES, y - 26, f"{'single-circuit bank' if feed.single else f'panel feeder {feed.number}:'} {feed.tag}", HEAD)
            for pole, letter in enumerate(feed.on, start=1):
                level = y + PITCH * (pole - 1)
                lowest[letter] = max(lowest[letter], level)
                self._feeder(feed, pole, level, bars[letter], letter)
            guarded = bool(feed.residual and feed.neutral)
            if guarded:
                self._guarded_neutral(feed, supply, y + PITCH * len(feed.on))
            self._linked(feed, y)
            y += PITCH * (len(feed.on) + guarded) + GAP
        for letter, x in bars.items():
            start = top + PITCH * "ABC".index(letter)
            if lowest[letter] > start:
                plan.line((x, start), (x, lowest[letter]), style="bar" if supply.block else "wire")
        here = (f"supply {supply.number}", *(feed.tag for feed in feeds))
        shown = [one for one in self.grounds if (one.of in here if one.of else part == 1)]
        if shown:
            y = draw_grounds(plan, shown, y, TERMINAL_IN, TERMINAL_OUT)
        self._edge(top - 60, y - 10)
        return plan.done(self._notes(supply, max(y, first) + 30), WIDE)

    def _line(self, supply: ControlSupply, line: int, letter: str, y: int, bar: int) -> None:
        """A line of the supply up to its upright."""
        plan = self.plan
        wire = f"{supply.number}L{line}"
        plan.symbol("terminal", TERMINAL_IN, y, of=wire)
        incoming = next((one for one in self.control.circuit.wires if one.number == wire), None)
        colour = f"{incoming.colour}, {incoming.size}  " if incoming is not None else ""
        plan.say(TERMINAL_IN - 14, y + 6, f"{colour}{wire}", NAME, "r", at=(TERMINAL_IN, y))
        x = TERMINAL_IN + shape("terminal").reach
        pole = next(one for one in self.control.circuit.power if one.mark == supply.mark and one.start == wire)
        fused = pole.kind == "fusible disconnect"
        x = self._pole(pole, DISCONNECT, y, x, first=line == 1, within=fused)
        if fused:  # the fuse stands between the blade and the terminal that the load's wires land on
            reach = shape("fuse").reach
            plan.line((x, y), (BUILT_IN - reach, y))
            plan.symbol("fuse", BUILT_IN, y, level=True, of=pole.of)
            plan.say(BUILT_IN, y - 14, pole.of, NAME, "m", at=(BUILT_IN - reach, y))
            x = BUILT_IN + reach
            self._terminal_of(pole, 1, x, y)
        backups = (one for one in self.control.circuit.power if supply.backup and one.mark == supply.backup)
        behind = next((one for one in backups if one.start == pole.end), None)
        if behind is not None:
            self._wire(pole.end, x, BACK_UP - shape("contactor").reach, y)
            x = self._pole(behind, BACK_UP, y, BACK_UP - shape("contactor").reach, first=line == 1)
        last = behind.end if behind is not None else pole.end
        self._wire(last, x, bar, y, at=BAR - 34)
        plan.symbol("junction", bar, y, of=letter)

    def _neutral(self, supply: ControlSupply, y: int) -> None:
        """The neutral from its terminal to its bar, through the disconnect where that opens it; where it goes on to is said below."""
        plan, x = self.plan, DISCONNECT
        incoming = next(one for one in self.control.circuit.wires if one.number == neutral_wire(supply))
        reach = shape("terminal").reach
        plan.symbol("terminal", TERMINAL_IN, y, of=incoming.number)
        words = f"{incoming.colour}, {incoming.size}  {incoming.number}"
        plan.say(TERMINAL_IN - 14, y + 6, words, NAME, "r", at=(TERMINAL_IN, y))
        begins = TERMINAL_IN + reach
        pole = next((one for one in self.control.circuit.power if (one.mark, one.start) == (supply.mark, incoming.number)), None)
        if pole is not None:
            begins, x = self._pole(pole, DISCONNECT, y, begins, first=False), BUILT_IN + 40
            self._wire(pole.end, begins, x, y)
        else:
            plan.line((begins, y), (x, y))
        plan.line((x, y - 16), (x, y + 16), style="bar")
        plan.say(x + 14, y + 6, supply.neutral_bar, NAME, at=(x, y))

    def _feeder(self, feed: ControlFeed, pole: int, y: int, bar: int, letter: str) -> None:
        """A pole of a panel feeder, from its upright to the terminal that its wire leaves from."""
        plan = self.plan
        out = f"{feed.number}T{pole}"
        contactor = self.ends[out]
        ahead: list[Element] = []
        while (one := self.ends.get((ahead or [contactor])[0].start)) is not None and one.kind in AHEAD:
            ahead.insert(0, one)
        plan.symbol("junction", bar, y, of=letter)
        x = bar
        for at, one in enumerate(ahead):
            place = GUARD if one.kind == RESIDUAL else _device_at(feed)
            begins = place - shape(KINDS[one.kind]).reach
            if at:
                self._wire(one.start, x, begins, y)
            x = self._pole(one, place, y, begins if at else x, first=pole == 1)
        begins = CONTACTOR - shape("contactor").reach
        if ahead:
            self._wire(contactor.start, x, begins, y, at=BESIDE_CORE if feed.residual else 0)
        else:
            plan.line((x, y), (begins, y))
        x = self._pole(contactor, CONTACTOR, y, begins, first=pole == 1)
        reach = shape("terminal").reach
        self._wire(out, x, TERMINAL_OUT - reach, y, at=BESIDE_SENSOR if feed.ground_fault_relay else 0)
        plan.symbol("terminal", TERMINAL_OUT, y, of=contactor.points[1])
        goes = self.goes.get(out)
        words = "to the heaters: see the wiring of the bank"
        if goes is not None:
            where = f"in this box {goes.end}" if not goes.field else f"{goes.end_box} {goes.end}"
            words = f"{where}, {goes.colour}, {goes.size}"
        plan.say(GOES, y + 6, words, NAME, at=(TERMINAL_OUT, y))

    def _guarded_neutral(self, feed: ControlFeed, supply: ControlSupply, y: int) -> None:
        """The neutral of a panel feeder, from its bar through the pole of the residual-current device, below its lines."""
        plan, pole = self.plan, self.ends[f"{feed.number}N"]
        begins, starts = GUARD - shape(KINDS[RESIDUAL]).reach, _device_at(feed) - 40
        plan.line((starts, y - 16), (starts, y + 16), style="bar")
        plan.say(starts - 10, y + 6, supply.neutral_bar, NAME, "r", at=(starts, y))
        plan.line((starts, y), (begins, y))
        x = self._pole(pole, GUARD, y, begins, first=False)
        reach = shape("terminal").reach
        self._wire(pole.end, x, TERMINAL_OUT - reach, y, at=BESIDE_SENSOR if feed.ground_fault_relay else BESIDE_CORE)
        plan.symbol("terminal", TERMINAL_OUT, y, of=pole.points[1])
        goes = self.goes.get(pole.end)
        words = f"in this box {neutral_bar_of(feed, supply)}, for its heaters"
        if goes is not None:
            words = f"{goes.end_box} {goes.end}, {goes.colour}, {goes.size}"
        plan.say(GOES, y + 6, words, NAME, at=(TERMINAL_OUT, y))

    def _pole(self, one: Element, x: int, y: int, start: int, *, first: bool, within: bool = False) -> int:
        """A pole between its two terminals, named above the first of its apparatus; `within`: something else of the apparatus comes before
        the second. Returns where it ends."""
        plan, kind = self.plan, KINDS[one.kind]
        reach = shape(kind).reach
        plan.line((start, y), (x - reach, y))
        plan.symbol(kind, x, y, level=True, of=one.mark)
        if kind in ("fuse", "breaker"):
            plan.say(x - reach - 4, y - 8, one.mark, NAME, "r", at=(x - reach, y))
        elif first:
            plan.say(x, y - 26, one.mark, NAME, "m", at=(x - reach, y))
        self._terminal_of(one, 0, x - reach, y)
        if not within:
            self._terminal_of(one, 1, x + reach, y)
        return x + reach

    def _terminal_of(self, one: Element, end: int, x: int, y: int) -> None:
        """Name of the terminal at the start or the end of a pole, outside of it and below the wire."""
        self.plan.say(x + (2 if end else -2), y + 21, one.points[end].partition(":")[2], NAME, "l" if end else "r", at=(x, y))

    def _linked(self, feed: ControlFeed, y: int) -> None:
        last = y + PITCH * (len(feed.on) - 1)
        if feed.residual:  # its core round every live conductor
            lowest = last + PITCH * feed.neutral
            self.plan.box(CORE - 4, y - 12, CORE + 4, lowest + 12, "wire")
            self.plan.line((GUARD, y - 8), (GUARD, lowest - 8), style="link")
        if feed.ground_fault_relay:
            self.plan.box(SENSOR - 4, y - 12, SENSOR + 4, last + 12, "wire")
            self.plan.say(SENSOR, y - 26, feed.ground_fault_relay, NAME, "m", at=(SENSOR, y - 12))
        if len(feed.on) > 1:
            self.plan.line((CONTACTOR, y - 8), (CONTACTOR, last - 8), style="link")
            if feed.kind == "breaker" and feed.device:
                self.plan.line((_device_at(feed), y - 8), (_device_at(feed), last - 8), style="link")

    def _wire(self, number: str, start: int, end: int, y: int, *, at: int = 0) -> None:
        self.plan.line((start, y), (end, y))
        self.plan.say(at or (start + end) // 2, y - 6, number, NAME, "m", at=(start, y))

    def _beside(self, supply: ControlSupply, feeds: Sequence[ControlFeed], y: int) -> int:
        """Where the neutral goes on to, and what else lands on the terminals of the disconnect and on the neutral bar."""
        own = (supply.mark, supply.backup, supply.neutral_bar)
        taps = [f"{point} also to {', '.join(ends)}" for point, ends in self.tapped.items() if point.partition(":")[0] in own]
        on = [
            f"{_guarded(feed, supply)}{feed.number}N{_sensed(feed)} to {'heaters of ' * feed.single}{feed.tag}"
            for feed in feeds if feed.neutral
        ]  # fmt: skip
        said = [f"Neutral: {'; '.join(on)}"] if on else []
        said += [f"Control power: {'; '.join(taps)}"] if taps else []
        for words in (line for one in said for line in self.plan.wrapped(one, NAME, BAR - TERMINAL_IN - 40)):
            self.plan.say(TERMINAL_IN + 14, y, words, NAME)
            y += 24
        return y

    def _edge(self, top: int, bottom: int) -> None:
        left, right = TERMINAL_IN, TERMINAL_OUT
        self.plan.line((left, top), (right, top), (right, bottom), (left, bottom), (left, top), style="edge")

    def _notes(self, supply: ControlSupply, y: int) -> int:
        us, asked = self.standard == US_SYMBOLS, dict(self.control.settings.wire_colours)
        grounded = f", a grounded line {asked.get('grounded_line', 'white')}" if supply.grounded else ""
        notes = [
            f"Crossing lines join only at a dot. Inside the box power is {asked.get('power', 'black')}{grounded}; "
            "wires between boxes as said beside them.",
            f"Symbols: {self.standard}. Ratings and part numbers: the parts by designation, behind. "
            "A box may be live from several supplies.",
        ]
        if supply.neutral:
            colour = asked.get("neutral_in_words", "white or gray" if us else "blue")
            how = f"no fuse, opened with the lines by {supply.mark}" if supply.neutral_pole else "no fuse, no pole"
            notes.insert(1, f"Neutral {neutral_wire(supply)}, {colour}: {how}; from the supply to the neutral bar and on.")
        guards = [feed.residual for feed in self.control.feeds if feed.residual and feed.supply == supply.number]
        if guards:
            notes.insert(1, f"{', '.join(guards)}: residual-current device; it opens every line, and the neutral that passes through it. "
                            "No neutral behind it meets another's, nor the protective conductor.")  # fmt: skip
        sensed = [feed for feed in self.control.feeds if feed.ground_fault_relay and feed.supply == supply.number]
        if sensed:
            marks, neutral = ", ".join(feed.ground_fault_relay for feed in sensed), any(feed.neutral for feed in sensed)
            pass_it = "every line, and the neutral that goes on," if neutral else "every line"
            notes.insert(1, f"{marks}: ground-fault relay; through the current transformer that bears its name pass {pass_it} "
                            "once each in one direction, and no grounding conductor.")  # fmt: skip
        for note in notes:
            for line in self.plan.wrapped(note, NAME, WIDE - 2 * MARGIN):
                self.plan.say(MARGIN, y, line, NAME)
                y += 24
        return y + MARGIN


def _device_at(feed: ControlFeed) -> int:
    return GUARDED if feed.residual else DEVICE


def _guarded(feed: ControlFeed, supply: ControlSupply) -> str:
    """How the neutral of a panel feeder comes through its residual-current device; "" of one that has none."""
    if not feed.residual:
        return ""
    bar = f" to {neutral_bar_of(feed, supply)}," * feed.single
    return f"from {supply.neutral_bar} through {feed.residual}:{NEUTRAL_IN} and :{NEUTRAL_OUT}{bar} as "


def _sensed(feed: ControlFeed) -> str:
    return f" through the current transformer of {feed.ground_fault_relay}" if feed.ground_fault_relay else ""
