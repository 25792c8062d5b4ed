"""The words of a ladder: what each line does, what it was drawn for, and what a reader must know."""

from __future__ import annotations

from batch.control_results import Rung, TankControl
from batch.drawings.drawing_list import MARGIN, NAME, Plan
from batch.drawings.ladder_rows import LEADING, WIDE, Alike
from batch.schedules.row_words import listed, size_or_words
from batch.sizing.control_source import OTHERS


def line_words(rung: Rung, control: TankControl) -> str:
    """What a line does, and of a coil the lines of its contacts."""
    words = rung.says
    for element in rung.elements:
        if element.kind != "coil":
            continue
        found = [
            f"{other.line}{' NC' if one.closed else ''}"
            for other in control.circuit.ladder for one in other.elements if one.kind == "contact" and one.of == element.mark
        ]  # fmt: skip
        if found:
            words += f"; {element.mark} in {', '.join(dict.fromkeys(found))}"
    return words


def volts_words(control: TankControl) -> str:
    return f"{control.settings.control_v:g} V"


def settings_words(control: TankControl) -> str:
    settings = control.settings
    if settings.transformer == OTHERS:
        power = "power by others"
    else:
        power = "transformer in the panel" if control.primary_v else "line to neutral, no transformer"
    return (
        f"Control {settings.control_v:g} V, {power}; temperature "
        f"controller {'in the panel' if settings.controller == 'panel' else 'by others, a dry contact a bank'}; "
        f"reset {'at the limit' if settings.reset == 'at the limit' else 'at the panel'}; "
        f"control wire {size_or_words(control.wire) or 'to be chosen: see Findings'}. Sizes of parts: see the table."
    )


def _until(alike: Alike) -> str:
    if alike.first.settings.reset == "at the limit":
        return "pull in again by themselves once it is closed: reset is at the limit"
    return "stay out until reset by hand"


def _not_covered(alike: Alike) -> str:
    """What the circuit leaves: a back-up contactor opens ahead of one that welds, and so long as it does not weld itself."""
    backups = [supply.backup for supply in alike.first.supplies if supply.backup]
    shorted = "Not covered: wires shorted to each other, and"
    if len(backups) < len(alike.first.supplies):
        return f"{shorted} a contactor that welds while it runs{f' on a supply without {listed(backups)}' if backups else ''}."
    return (
        f"A contactor that welds while it runs no longer obeys its controller; a limit still opens {listed(backups)} ahead of it. "
        f"{shorted} a contactor that welds together with the one ahead of it."
    )


def draw_notes(plan: Plan, alike: Alike, y: int, last: bool) -> int:
    notes = [
        f"Symbols: {plan.standard}. Drawn without power, nothing pressed, tank full and cool, limits closed. NC: a contact that opens. A "
        "dashed frame: outside the control panel, wired to the terminals beside it."
        " Wires between boxes are marked with the tank's tag first.",
    ]
    if last:
        if not alike.same_limits:
            notes.append("n: limits on a strip, see the table; between two of them a wire bears the line's number, a stroke and a serial.")
        several = len(alike.first.supplies) > 1
        foreign = alike.first.settings.transformer == OTHERS
        lost = "control power, which is by others," if foreign else f"{'first ' * several}supply, from which the control power comes,"
        notes.append(
            f"An open limit, a low level, an open interlock, a broken wire, a blown control fuse or a lost {lost} drops every "
            f"contactor of the tank, which {_until(alike)}. {_not_covered(alike)}"
        )
        if foreign:
            notes.append(
                "No relay watches a supply of the heaters: while one is lost its contactors stay in, and its heaters come back by "
                "themselves with it. Open and lock every disconnect, and that of the control power, before work."
            )
        elif several:
            notes.append(
                "No relay watches the other supplies: while one is lost its contactors stay in, and its heaters come back by themselves "
                "with it. Open and lock every disconnect before work."
            )
    for note in notes:
        for line in plan.wrapped(note, NAME, WIDE - 2 * MARGIN):
            plan.say(MARGIN, y, line, NAME)
            y += LEADING
    return y + MARGIN - LEADING + 8
