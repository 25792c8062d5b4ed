"""The upper part of a schematic: supply, panel feeder with its OCPD and contactor in the control panel, and the head of the block."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

from batch.drawings.drawing_list import BODY, HEAD, MARGIN, NAME, TITLE, WIDTH, Plan
from batch.drawings.symbols import shape
from batch.results import PanelDesign, Wires
from batch.schedules.designations import PanelMarks
from batch.schedules.row_words import ground_size, run_words

FIRST, PITCH = 54, 36  # the upright conductors: x of the first, and from one to the next
MOST_LINES = 3
BESIDE = 250  # where the words beside the panel feeder begin
EDGE = (26, 420)  # left and right of the panel's enclosure; right of it is the field
LEADING = 23
RESISTIVE = "; amps for resistive load"
STAGE, WORD_STAGE = 54, 40  # least height of one apparatus of the panel feeder, and of words that have none


class Columns(NamedTuple):
    """x of each upright conductor: the lines by name, the neutral or the wye points, and the ground."""

    lines: Mapping[str, int]
    back: int | None
    ground: int

    @property
    def returns(self) -> int:
        """x of the neutral or the wye points, of a panel that has any."""
        if self.back is None:
            raise ValueError("the panel has neither a neutral nor wye points")
        return self.back


def poles_of(panel: PanelDesign) -> list[str]:
    return sorted({part for leg in panel.legs for part in leg.split("-") if part[0] == "L"})


def columns_of(panel: PanelDesign) -> Columns:
    names = poles_of(panel)
    returns = any(part[0] != "L" for leg in panel.legs for part in leg.split("-")) or bool(panel.panel_feeder_wires.neutral)
    lines, beyond = {name: FIRST + PITCH * at for at, name in enumerate(names)}, FIRST + PITCH * MOST_LINES
    return Columns(lines, beyond if returns else None, beyond + PITCH * returns)


def wires_in_words(wires: Wires, standard: str) -> str:
    """ "3 x 8 AWG copper THWN-2, EGC 10 AWG"; the core's own words where no wire serves."""
    if not wires.required_size:
        return f"{wires.size}: see Findings"
    return f"{run_words(wires)} {wires.material} {wires.insulation}, {PanelMarks(standard).ground} {ground_size(wires)}"


def draw_feed(plan: Plan, panel: PanelDesign, name: str, columns: Columns, ahead: str = "") -> int:
    """Everything down to the block, with its name above; returns y of the block's terminals, where the bars begin. `ahead`: the words of
    the panel feeder's device where its fuses stand in no holder."""
    y = _title(plan, panel, name)
    top = y
    neutral = panel.panel_feeder_wires.neutral != ""
    supply = f"Supply: {panel.volts_v:g} V, {panel.system.words}{', with neutral' if neutral else ''}"
    y = _stage(
        plan, columns, y, kind="", words=f"In the control panel, behind its disconnect. {supply}; phases: by panel, in the table of panels"
    )
    device = panel.panel_feeder_device
    through = f"; {panel.grounded} is grounded and runs through, white or gray" if panel.grounded and device.kind == "fuse" else ""
    where = " (in the distribution unit, of its way)" if panel.device_at_way else ""
    kind = "" if panel.device_at_way else device.kind
    y = _stage(plan, columns, y, kind=kind, words=f"Panel feeder OCPD{where}: {ahead or device.in_full}{through}", grounded=panel.grounded)
    if panel.residual_ma is not None:
        y = _residual(plan, columns, y, panel, neutral)
    y = _stage(plan, columns, y, kind="contactor", words=f"Contactor: {_or_missing(panel.contactor)}{RESISTIVE if panel.contactor else ''}")
    for number, x in enumerate(columns.lines.values(), start=1):
        plan.say(x + 6, y, f"T{number}", NAME, at=(x, y))
    y = _stage(plan, columns, y, kind="", words=f"Panel feeder conductors: {wires_in_words(panel.panel_feeder_wires, plan.standard)}")
    down, block = y + 36, PanelMarks(plan.standard).block
    for pole, x in columns.lines.items():
        plan.line((x, y), (x, down - shape("terminal").reach))
        plan.symbol("terminal", x, down, of=f"{block}:{pole}")
        plan.say(x + 8, down - 5, pole, NAME, at=(x, down))
    if neutral:
        plan.line((columns.returns, top), (columns.returns, down))
        plan.say(columns.returns + 20, top + 170, "supply neutral", NAME, turned=True, at=(columns.returns, top))
    plan.line((columns.ground, top), (columns.ground, down))
    plan.say(columns.ground + 20, top + 170, f"supply {PanelMarks(plan.standard).ground}", NAME, turned=True, at=(columns.ground, top))
    return down


def _title(plan: Plan, panel: PanelDesign, name: str) -> int:
    heaters = f"{panel.heaters} {'heater' if panel.heaters == 1 else 'heaters'}"
    y = MARGIN + TITLE
    for line in plan.wrapped(f"{name}: {heaters}, {panel.connection}", TITLE, WIDTH - 2 * MARGIN):
        plan.say(MARGIN, y, line, TITLE)
        y += TITLE + 6
    each = panel.branches // panel.heaters
    branches = f"{panel.branches} {'branch' if panel.branches == 1 else 'branches'} of {panel.branch.device.rating_a:g} A"
    plan.say(MARGIN, y, f"{branches}{f', {each} to a heater' if each > 1 else ''}; {panel.connected_kw:.4g} kW", HEAD)
    return y + 24


def _or_missing(words: str) -> str:
    return words or "none serves: see Findings"


def _residual(plan: Plan, columns: Columns, y: int, panel: PanelDesign, neutral: bool) -> int:
    """The residual-current device: its core around every live conductor, the neutral among them and no protective conductor."""
    opens = "every line and the neutral" if neutral else "every line"
    below = _stage(plan, columns, y, kind="", words=f"Residual-current device: {panel.residual_ma:g} mA, opens {opens}")
    across = [*columns.lines.values(), *([columns.returns] if neutral else [])]
    middle = (y + below) // 2
    plan.box(across[0] - 10, middle - 6, across[-1] + 10, middle + 6, "wire")
    return below


def _stage(plan: Plan, columns: Columns, y: int, *, kind: str, words: str, grounded: str = "") -> int:
    """One apparatus across all the lines, a grounded one without a fuse, its words beside it; returns where the next begins."""
    lines = list(plan.wrapped(words, BODY, WIDTH - MARGIN - BESIDE))
    high = max(STAGE if kind else WORD_STAGE, len(lines) * LEADING + 8)
    middle = y + high // 2
    for name, x in columns.lines.items():
        if not kind or (kind == "fuse" and name == grounded):
            plan.line((x, y), (x, y + high))
            continue
        reach = shape(kind).reach
        plan.line((x, y), (x, middle - reach))
        plan.symbol(kind, x, middle, of=f"panel feeder {name}")
        plan.line((x, middle + reach), (x, y + high))
    if kind and kind != "fuse":
        across = list(columns.lines.values())
        plan.line((across[0] - 6, middle), (across[-1] - 6, middle), style="link")
    first = middle - (len(lines) - 1) * LEADING // 2 + 7
    for at, line in enumerate(lines):
        plan.say(BESIDE, first + at * LEADING, line, BODY)
    return y + high
