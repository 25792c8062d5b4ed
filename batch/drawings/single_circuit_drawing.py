"""A drawing of a single-circuit bank: its device and contactor in the control panel, and every heater wired to the contactor."""

from __future__ import annotations

from typing import NamedTuple

from batch.drawings.drawing_list import BODY, HEAD, MARGIN, NAME, TITLE, WIDTH, Drawing, Plan
from batch.drawings.panel_feeder import BESIDE, FIRST, LEADING, MOST_LINES, PITCH, RESISTIVE, poles_of, wires_in_words
from batch.drawings.symbols import IEC, POLE_PITCH, shape
from batch.results import PanelDesign
from batch.rules import OURS, Wording
from batch.schedules.designations import PanelMarks
from batch.schedules.row_words import residual_words
from batch.sizing.marks import pole_of

CASE = (560, 690)
ELEMENT = 625
STAGE = 62
TO_GROUND, TO_NEXT = 24, 34


class SingleMarks(NamedTuple):
    """Designations in the control panel: of the OCPD ("3CB1"), the contactor and the strip of limits; "" = as of a tank's only one."""

    device: str = ""
    contactor: str = ""
    strip: str = ""


ALONE = SingleMarks()


def single_plan(
    design: PanelDesign, name: str, standard: str = IEC, wording: Wording = OURS, marked: SingleMarks = ALONE, *, ahead: str = ""
) -> Drawing:  # fmt: skip
    """The drawing list of a single-circuit bank, its heaters numbered as they are: a bank on one circuit has no other. Of several that are
    alike it bears the designations of the first (`marked`). `ahead`: the words of its device where its fuses stand in no holder."""
    plan, marks = Plan(standard=standard, wording=wording), PanelMarks(standard)
    lines = poles_of(design)
    xs = {line: FIRST + PITCH * at for at, line in enumerate(lines)}
    returns, ground = FIRST + PITCH * MOST_LINES, FIRST + PITCH * (MOST_LINES + 1)
    y = _title(plan, design, name)
    top, device = y, design.panel_feeder_device
    where = " in the distribution unit, of its way" if design.device_at_way else " in the control panel"
    y = _stage(
        plan,
        xs,
        y,
        "" if design.device_at_way else device.kind,
        f"OCPD{where}: {ahead or device.in_full}{residual_words(design)}",
        design=design,
        marks=marks,
        mark=marked.device,
    )
    contactor = f"{design.contactor}{RESISTIVE}" if design.contactor else "none serves: see Findings"
    y = _stage(
        plan,
        xs,
        y,
        "contactor",
        f"{marked.contactor or 'Contactor'}, contactor in the control panel: {contactor}",
        design=design,
        marks=marks,
    )
    for line, x in xs.items():
        plan.say(x + 6, y, f"T{line[1]}", NAME, at=(x, y))
    for words in plan.wrapped(f"To each heater: {wires_in_words(design.branch.wires, standard)}", BODY, WIDTH - MARGIN - BESIDE):
        plan.say(BESIDE, y + 12, words, BODY)
        y += LEADING
    y += 40
    taps: dict[int, list[int]] = {}
    neutral = any(leg.endswith("-N") for leg in design.legs)
    for number, leg in enumerate(design.legs, start=1):
        y = _heater(plan, design, marks=marks, number=number, leg=leg, y=y, xs={**xs, "N": returns, "ground": ground}, taps=taps) + TO_NEXT
    for x, levels in taps.items():
        plan.line((x, top if x in (returns, ground) else top + 2 * STAGE), (x, max(levels)))
    if neutral:
        plan.say(returns + 8, top + 12, "N", NAME, at=(returns, top))
    plan.say(ground + 8, top - 4, marks.ground_bar, NAME, at=(ground, top))
    return plan.done(_notes(plan, design, marks, marked, y + 6))


def single_alt_text(design: PanelDesign, name: str) -> str:
    heaters = "1 heater" if design.heaters == 1 else f"{design.heaters} heaters"
    return (
        f"Schematic of {name}: through a {design.panel_feeder_device.rating_a:g} A {design.panel_feeder_device.kind} and a contactor in "
        f"the control panel to {heaters}, {design.connection}."
    )


def _title(plan: Plan, design: PanelDesign, name: str) -> int:
    y = MARGIN + TITLE
    heaters = f"{design.heaters} {'heater' if design.heaters == 1 else 'heaters'}"
    for line in plan.wrapped(f"{name}: {heaters}, {design.connection}", TITLE, WIDTH - 2 * MARGIN):
        plan.say(MARGIN, y, line, TITLE)
        y += TITLE + 6
    circuit = f"One circuit of {design.panel_feeder_device.rating_a:g} A, {design.volts_v:g} V"
    plan.say(MARGIN, y, f"{circuit}; {design.connected_kw:.4g} kW", HEAD)
    return y + 30


def _stage(plan: Plan, xs: dict[str, int], y: int, kind: str, words: str, *, design: PanelDesign, marks: PanelMarks, mark: str = "") -> int:
    """One apparatus across all lines, a grounded one without a fuse, its words beside it; always equally high."""
    middle = y + STAGE // 2
    for pole, (line, x) in enumerate(xs.items(), start=1):
        if not kind or (kind == "fuse" and line == design.grounded):
            plan.line((x, y), (x, y + STAGE))
            continue
        reach = shape(kind).reach
        plan.line((x, y), (x, middle - reach))
        of = pole_of(mark or marks.device(kind, 1), pole) if kind != "contactor" else f"contactor {line}"
        plan.symbol(kind, x, middle, of=of)
        plan.line((x, middle + reach), (x, y + STAGE))
    if kind and kind != "fuse":
        across = list(xs.values())
        plan.line((across[0] - 6, middle), (across[-1] - 6, middle), style="link")
    poles = [pole_of(mark or marks.device(kind, 1), pole) for pole in (1, len(xs))] if kind and kind != "contactor" else []
    first = " to ".join(dict.fromkeys(poles)) + ":" if poles else ""
    for at, line in enumerate(plan.wrapped(f"{first} {words}".strip(), BODY, WIDTH - MARGIN - BESIDE)):
        plan.say(BESIDE, middle - 4 + at * LEADING, line, BODY)
    return y + STAGE


def _heater(
    plan: Plan, design: PanelDesign, *, marks: PanelMarks, number: int, leg: str, y: int, xs: dict[str, int], taps: dict[int, list[int]]
) -> int:  # fmt: skip
    """A heater with its leads and its ground, each from its own upright; returns y of the ground."""
    parts, name = leg.split("-"), marks.heater(number)
    end, start = CASE[0] - shape("terminal").reach, CASE[0] + shape("terminal").reach
    for at, part in enumerate(parts, start=1):
        level = y + (at - 1) * POLE_PITCH
        taps.setdefault(xs[part], []).append(level)
        plan.symbol("junction", xs[part], level, of=part)
        plan.line((xs[part], level), (end, level))
        plan.symbol("terminal", CASE[0], level, of=f"{name}.{at}")
        plan.say(end - 5, level - 6, f"{name}.{at}", NAME, "r", at=(end, level))
    reach = shape("element").reach
    if len(parts) == 3:
        plan.symbol("element 3~", ELEMENT, y, level=True, of=name)
        for pole in range(3):
            plan.line((start, y + pole * POLE_PITCH), (ELEMENT - reach, y + pole * POLE_PITCH))
    else:
        plan.symbol("element", ELEMENT, y, level=True, of=name)
        plan.line((start, y), (ELEMENT - reach, y))
        beyond = ELEMENT + reach + 10
        plan.line((ELEMENT + reach, y), (beyond, y), (beyond, y + POLE_PITCH), (start, y + POLE_PITCH))
    ground = y + (len(parts) - 1) * POLE_PITCH + TO_GROUND
    taps.setdefault(xs["ground"], []).append(ground)
    plan.symbol("junction", xs["ground"], ground, of="ground")
    plan.line((xs["ground"], ground), (CASE[0], ground))
    plan.symbol("junction", CASE[0], ground, of=f"{name} sheath")
    plan.say(end - 5, ground - 6, marks.ground, NAME, "r")
    plan.box(CASE[0], y - 16, CASE[1] + 6, ground + 8, "case")
    plan.say(CASE[1] + 16, y + 4, name, HEAD)
    plan.say(CASE[1] + 16, y + 4 + LEADING, f"{design.connected_kw / design.heaters:.4g} kW", NAME)
    return ground


def _notes(plan: Plan, design: PanelDesign, marks: PanelMarks, marked: SingleMarks, y: int) -> int:
    kind = design.panel_feeder_device.kind
    strip, device = marked.strip or marks.limit_strip, marked.device or marks.device(kind, 1)
    notes = [
        f"Limits: terminals of strip {strip} in the control panel; see the wiring." if design.limit_terminals else "No limits.",
        f"Symbols: {plan.standard}. {device} OCPD, {marks.heater(1)} heater, {marks.ground} grounding conductor.",
        "Designations of the first bank; of others that are built so they stand in the table.",
        "A tank may have several live sources: disconnect and prove dead before work.",
    ]
    for note in notes:
        for line in plan.wrapped(note, NAME, WIDTH - 2 * MARGIN):
            y += LEADING
            plan.say(MARGIN, y, line, NAME)
    return y + MARGIN
