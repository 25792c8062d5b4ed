"""The middle of a schematic: block and bars, one branch below the other, and the heaters in the field."""

from __future__ import annotations

from batch.drawings.drawing_list import BODY, HEAD, MARGIN, NAME, WIDTH, Plan
from batch.drawings.panel_feeder import BESIDE, EDGE, LEADING, Columns, wires_in_words
from batch.drawings.symbols import POLE_PITCH, shape
from batch.results import PanelDesign, Wires
from batch.schedules.designations import PanelMarks
from batch.schedules.row_words import size_or_words

DRAWN, OF_MORE = 8, 6  # so many branches are drawn one by one; of more, six, and the others are said to be alike, with their count
DEVICE = 312  # x of the branch OCPDs
CASE = (640, 742)  # left and right of a heater
ELEMENT = 690
LABEL = 752
WIRE = 430
TO_GROUND = 23  # from the last conductor of a branch to its ground
TO_NEXT = 28  # from there to the next branch


def shown_branches(panel: PanelDesign) -> int:
    """How many branches are drawn: all up to DRAWN; of more, whole wyes or whole heaters, at most OF_MORE."""
    if panel.branches <= DRAWN:
        return panel.branches
    each = panel.branches // panel.heaters
    wyes = 3 if any("WP2" in leg for leg in panel.legs) else 1
    return OF_MORE // (each * wyes) * (each * wyes) or OF_MORE


def draw_branches(plan: Plan, panel: PanelDesign, columns: Columns, top: int) -> int:
    """Block, branches, heaters, bars and the panel's edge; returns the y below them."""
    step = _words_of_block(plan, panel, top) + 12
    y = step + 28
    taps: dict[str, list[int]] = {}
    count, each = shown_branches(panel), panel.branches // panel.heaters
    first = y
    for at, legs in enumerate(panel.legs[:count]):
        ground = _branch(plan, panel, columns, at=at, parts=legs.split("-"), y=y, taps=taps)
        if at % each == 0:
            first = y
        if at % each == each - 1 or at == count - 1:
            _heater(plan, panel, at // each + 1, first, ground)
        y = ground + TO_NEXT
    last = y - TO_NEXT
    if count < panel.branches:
        last = _alike(plan, panel, columns, count, last)
    _bars(plan, columns, top, last, taps)
    bottom, wide = last + 46, WIDTH - MARGIN // 2
    corners = ((EDGE[0], top - 28), (wide, top - 28), (wide, step), (EDGE[1], step), (EDGE[1], bottom), (EDGE[0], bottom))
    plan.line(*corners, corners[0], style="edge")
    return bottom


def _words_of_block(plan: Plan, panel: PanelDesign, top: int) -> int:
    y = top
    device = panel.branch.device
    for words in (
        f"Heater panel, power distribution block {PanelMarks(plan.standard).block}: {panel.block or 'none serves: see Findings'}",
        f"Each branch: {device.in_full}; {wires_in_words(panel.branch.wires, plan.standard)}",
    ):
        for line in plan.wrapped(words, BODY, WIDTH - MARGIN - 6 - BESIDE):
            plan.say(BESIDE, y, line, BODY)
            y += LEADING
        y += 4
    return y - LEADING


def _branch(plan: Plan, panel: PanelDesign, columns: Columns, *, at: int, parts: list[str], y: int, taps: dict[str, list[int]]) -> int:
    """One branch, its first conductor at y; returns y of its ground. `taps` gathers where the bars are tapped."""
    device, wires, each = panel.branch.device, panel.branch.wires, panel.branches // panel.heaters
    number, heater, circuit = at + 1, at // each + 1, at % each
    marks = PanelMarks(plan.standard)
    reach, end = shape(device.kind).reach, CASE[0] - shape("terminal").reach
    switched = []
    alone = device.kind == "fuse" or device.poles < 2  # no pole of it opens together with another
    for pole, part in enumerate(parts, start=1):
        level, lead = y + (pole - 1) * POLE_PITCH, f"{marks.heater_of_type(heater)}.{circuit * len(parts) + pole}"
        bar = columns.lines[part] if part[0] == "L" else columns.returns
        taps.setdefault(part, []).append(level)
        plan.symbol("junction", bar, level, of=part)
        if part[0] == "L" and not (part == panel.grounded and alone):
            switched.append(level)
            plan.line((bar, level), (DEVICE - reach, level))
            plan.symbol(device.kind, DEVICE, level, level=True, of=marks.pole(device.kind, number, pole))
            plan.line((DEVICE + reach, level), (end, level))
            plan.say(DEVICE - reach - 8, level - 6, marks.pole(device.kind, number, pole), NAME, "r", at=(DEVICE - reach, level))
        else:
            plan.line((bar, level), (end, level))
        plan.symbol("terminal", CASE[0], level, of=lead)
        plan.say(end - 5, level - 6, lead, NAME, "r", at=(end, level))
        if part == "N":
            plan.say(WIRE, level - 6, _conductors(wires, wires.neutral, 1), NAME)
        elif pole == 1:
            plan.say(WIRE, level - 6, _conductors(wires, wires.size, wires.lines), NAME)
    plan.say(DEVICE + reach + 8, y - 6, f"{device.rating_a:g} A", HEAD)
    if device.kind != "fuse" and len(switched) > 1:
        plan.line((DEVICE, switched[0] - 6), (DEVICE, switched[-1] - 6), style="link")
    _element(plan, len(parts), y, f"{marks.heater_of_type(heater)}.{circuit + 1}")
    ground = y + (len(parts) - 1) * POLE_PITCH + TO_GROUND
    taps.setdefault("ground", []).append(ground)
    plan.symbol("junction", columns.ground, ground, of="ground")
    plan.line((columns.ground, ground), (CASE[0], ground))
    plan.symbol("junction", CASE[0], ground, of=f"{marks.heater_of_type(heater)} sheath")
    plan.say(WIRE, ground - 6, f"{marks.ground} {_conductors(wires, wires.ground, 1)}", NAME)
    return ground


def _conductors(wires: Wires, size: str, lines: int) -> str:
    """ "2 x 12 AWG"; with parallel sets "2 x 3 x 1/0 AWG"; the core's own words where no wire serves."""
    if not wires.required_size:
        return size
    return " x ".join([*(str(count) for count in (wires.sets, lines) if count > 1), size_or_words(size)])


def _element(plan: Plan, conductors: int, y: int, of: str) -> None:
    """One element circuit: between two conductors, or across three."""
    reach, start = shape("element").reach, CASE[0] + shape("terminal").reach
    if conductors == 3:
        plan.symbol("element 3~", ELEMENT, y, level=True, of=of)
        for pole in range(3):
            level = y + pole * POLE_PITCH
            plan.line((start, level), (ELEMENT - reach, level))
        return
    plan.symbol("element", ELEMENT, y, level=True, of=of)
    plan.line((start, y), (ELEMENT - reach, y))
    beyond = ELEMENT + reach + 10
    plan.line((ELEMENT + reach, y), (beyond, y), (beyond, y + POLE_PITCH), (start, y + POLE_PITCH))


def _heater(plan: Plan, panel: PanelDesign, number: int, first: int, ground: int) -> None:
    """A heater's outline from its first conductor to its last ground, with its name and power."""
    plan.box(CASE[0], first - 15, CASE[1], ground + 7, "case")
    plan.say(LABEL, first + 4, PanelMarks(plan.standard).heater_of_type(number), HEAD)
    plan.say(LABEL, first + 4 + LEADING, f"{panel.connected_kw / panel.heaters:.4g} kW", NAME)
    if panel.legs[0].count("-") == 2:
        plan.say(LABEL, first + 4 + 2 * LEADING, "3-phase", NAME)


def _alike(plan: Plan, panel: PanelDesign, columns: Columns, shown: int, y: int) -> int:
    """What is not drawn, in words, beside bars that go on dashed; returns the y below."""
    each, left = panel.branches // panel.heaters, panel.legs[shown:]
    turns = list(dict.fromkeys(left))
    on = ", ".join(turns) if len(turns) <= 6 else f"{turns[0]} to {turns[-1]}"
    marks = PanelMarks(plan.standard)
    heater = (marks.heater_of_type(shown // each + 1), marks.heater_of_type(panel.heaters))
    kind = panel.branch.device.kind
    first, final = marks.device(kind, shown + 1), marks.device(kind, panel.branches)
    words = (
        f"{_branches(shown + 1, panel.branches)} alike, not drawn: {first if first == final else f'{first} to {final}'} "
        f"to {heater[0] if heater[0] == heater[1] else ' to '.join(heater)}, "
        f"on {on}{' in turn' if len(turns) > 1 else ''}; {panel.branches} in all."
    )
    top = y + TO_NEXT
    lines = list(plan.wrapped(words, BODY, WIDTH - MARGIN - WIRE))
    for at, line in enumerate(lines):
        plan.say(WIRE, top + 12 + at * LEADING, line, BODY)
    bottom = top + max(len(lines) * LEADING, 60)
    for x in (*columns.lines.values(), columns.ground, *([] if columns.back is None else [columns.back])):
        plan.line((x, y + 6), (x, bottom), style="link")
    return bottom


def _branches(first: int, last: int) -> str:
    return f"Branch {first}" if first == last else f"Branches {first} to {last}"


def _bars(plan: Plan, columns: Columns, top: int, last: int, taps: dict[str, list[int]]) -> None:
    """The block's bars down to their last taps, the neutral bar or the wye points, and the ground bar with its earth."""
    reach = shape("terminal").reach
    for name, x in columns.lines.items():
        plan.line((x, top + reach), (x, max(taps[name])), style="bar")
    for name, levels in taps.items():
        if name == "N":
            plan.line((columns.returns, top), (columns.returns, last + 16), style="bar")
            plan.say(columns.returns - 8, last + 22, "neutral bar N", NAME, "r", at=(columns.returns, top))
        elif name[0] == "W":
            plan.line((columns.returns, min(levels)), (columns.returns, max(levels)), style="bar")
            plan.say(columns.returns, min(levels) - 8, name, NAME, "m", at=(columns.returns, min(levels)))
    plan.line((columns.ground, top), (columns.ground, last + 8), style="bar")
    bar = PanelMarks(plan.standard).ground_bar
    plan.symbol("earth", columns.ground, last + 8, of=bar)
    plan.say(columns.ground + 22, last + 26, bar, NAME, at=(columns.ground, top))
