"""The foot of a schematic: the limit string in series, terminal by terminal, and what the picture does not say by lines."""

from __future__ import annotations

from collections.abc import Sequence

from batch.drawings.branches import shown_branches
from batch.drawings.drawing_list import BODY, MARGIN, NAME, WIDTH, Plan
from batch.drawings.lettering import lacks, width
from batch.drawings.symbols import shape
from batch.results import PanelDesign
from batch.schedules.designations import PanelMarks
from batch.schedules.row_words import AS_MARKED
from batch.units import convert

LOOP_LEADING, NOTE_LEADING = 24, 22
JUMPER, SWITCH = 42, 104  # along the string: a jumper, and a limit with its two field wires
ROW = 66
STARTS, ENDS = 116, WIDTH - 160  # first terminal of a row, and the last place for one that a jumper leaves
ENDED = "string out"


def switches_of(panel: PanelDesign, standard: str) -> list[str]:
    """The normally closed contacts of the string in order: a limit per heater; none where the heaters have no limits."""
    marks = PanelMarks(standard)
    return [marks.limit_of_type(number) for number in range(1, panel.heaters + 1)] if panel.limit_terminals else []


def draw_loop(plan: Plan, panel: PanelDesign, y: int) -> int:
    """Heading, terminals, limits; returns the y below."""
    switches = switches_of(panel, plan.standard)
    ends = 2 * len(switches) + 2
    strip = PanelMarks(plan.standard).limit_strip
    heading = f"Limit string: normally closed contacts in series; terminals :1 to :{ends} of strip {strip} in the panel."
    if not switches:
        heading = "No limit string: these heaters have no over-temperature limits."
    for line in plan.wrapped(heading, BODY, WIDTH - 2 * MARGIN):
        plan.say(MARGIN, y, line, BODY)
        y += LOOP_LEADING
    if not switches:
        return y
    most = max(shown_branches(panel) // (panel.branches // panel.heaters), 1)
    return _chain(plan, switches, most, y + 24)


def _chain(plan: Plan, switches: Sequence[str], most: int, y: int) -> int:
    """TB3:1 = TB3:2 -switch- TB3:3 = TB3:4 -switch- … out, wrapped into rows; limits after the first `most` are said, not drawn."""
    x, terminal = STARTS, 1
    plan.say(MARGIN, y + 7, "string in", NAME, at=(STARTS - 18, y))
    plan.line((STARTS - 18, y), (x - shape("terminal").reach, y))
    _terminal(plan, x, y, terminal)
    skipped = range(most, len(switches))
    for at, name in enumerate(switches):
        if at in skipped:
            if at == skipped[0]:
                x, y = _jump(plan, x, y)
                x, y, terminal = _gap(plan, x, y, terminal, skipped)
            continue
        x, y = _jump(plan, x, y)
        _terminal(plan, x, y, terminal + 1)
        _switch(plan, x, y, name)
        x += SWITCH
        terminal += 2
        _terminal(plan, x, y, terminal)
    reach = shape("terminal").reach
    plan.line((x + reach, y), (x + JUMPER - reach, y))
    _terminal(plan, x + JUMPER, y, terminal + 1)
    plan.line((x + JUMPER + reach, y), (x + JUMPER + 18, y))
    plan.symbol("arrow", x + JUMPER + 18, y, level=True, of=ENDED)
    plan.say(x + JUMPER + 36, y + 7, ENDED, NAME, at=(x + JUMPER + 18, y))
    return y + 44


def _terminal(plan: Plan, x: int, y: int, number: int) -> None:
    plan.symbol("terminal", x, y, of=f"{PanelMarks(plan.standard).limit_strip}:{number}")
    plan.say(x, y - 12, f":{number}", NAME, "m", at=(x, y))


def _jump(plan: Plan, x: int, y: int) -> tuple[int, int]:
    """A jumper to the next terminal; to the row below where this one is full."""
    reach = shape("terminal").reach
    if x + JUMPER + SWITCH <= ENDS:
        plan.line((x + reach, y), (x + JUMPER - reach, y))
        return x + JUMPER, y
    beside, between, left = x + JUMPER // 2, y + 31, STARTS - 44
    plan.line((x + reach, y), (beside, y), (beside, between), (left, between), (left, y + ROW), (STARTS - reach, y + ROW))
    return STARTS, y + ROW


def _switch(plan: Plan, x: int, y: int, name: str) -> None:
    kind = "over_temperature_limit"
    reach, middle, end = shape(kind).reach, x + SWITCH // 2, shape("terminal").reach
    plan.line((x + end, y), (middle - reach, y))
    plan.symbol(kind, middle, y, level=True, of=name)
    plan.line((middle + reach, y), (x + SWITCH - end, y))
    plan.say(middle, y - 18, name, NAME, "m", at=(middle - reach, y))


def _gap(plan: Plan, x: int, y: int, terminal: int, skipped: range) -> tuple[int, int, int]:
    """A dashed stretch for limits that are not drawn, from one terminal to the last of them."""
    reach, last = shape("terminal").reach, terminal + 2 * len(skipped)
    _terminal(plan, x, y, terminal + 1)
    first, final = (PanelMarks(plan.standard).limit_of_type(number + 1) for number in (skipped[0], skipped[-1]))
    words = f"{first} to {final} alike" if len(skipped) > 1 else f"{first} alike"
    long = max(width(words, NAME) + 60, SWITCH)
    if x + long > ENDS:
        long = SWITCH
    plan.line((x + reach, y), (x + long - reach, y), style="link")
    plan.say(x + long // 2, y + 23, words, NAME, "m")
    _terminal(plan, x + long, y, last)
    return x + long, y, last


def draw_notes(plan: Plan, panel: PanelDesign, us: bool, y: int) -> int:
    """What a reader must know; returns the height of the picture."""
    for note in notes_of(panel, us, plan.standard, any(lacks(words.text) for words in plan.words)):
        for line in plan.wrapped(note, NAME, WIDTH - 2 * MARGIN):
            plan.say(MARGIN, y, line, NAME)
            y += NOTE_LEADING
    return y - NOTE_LEADING + MARGIN


def notes_of(panel: PanelDesign, us: bool, standard: str, odd_signs: bool = False) -> list[str]:
    notes = []
    if panel.limit_terminals:
        notes.append("String in and out: from panel to panel and back to the control panel, by the table of wiring tags.")
    feed, branch = _torque(panel.torque_nm, us), _torque(panel.branch.torque_nm, us)
    notes.append(f"Torque: panel feeder on the block {feed}, branches {branch}.")
    notes.append(f"{_sccr(panel)}.")
    first = PanelMarks(standard).heater_of_type(1)
    notes.append(f"Symbols: {standard}. {first} is heater k + 1 of its bank: k of each panel is in the table of panels.")
    notes.append("A tank may have several live sources: disconnect and prove dead before work.")
    if odd_signs:
        notes.append("Signs that the picture's type lacks stand as plain letters or ?: the configuration in words has them.")
    return notes


def _sccr(panel: PanelDesign) -> str:
    """A rating only where every part is marked: panels of a type stand behind different fault currents."""
    if panel.sccr_marked and panel.sccr_ka is not None:
        return f"Short-circuit rating {panel.sccr_ka:g} kA by marked parts; builder marks"
    return "SCCR ____ kA, builder to mark; what each panel needs stands on its label and nameplate"


def _torque(torque_nm: float | None, us: bool) -> str:
    if torque_nm is None:
        return AS_MARKED
    return f"{convert(torque_nm, 'N·m', 'lbf·in'):.0f} lbf·in" if us else f"{torque_nm:.1f} N·m"
