"""What is set into a control panel's door, with the words of its legend plates and its colours.

Colours and words are common practice, without a source: a firm's standard and the customer's go before them.
"""

from __future__ import annotations

from collections.abc import Iterator

from batch.control_results import Rung, TankControl
from batch.papers.paper_data import ColumnHead, PaperTable, table

NOTE = (
    "Words and colours: common practice, no source; the firm's standard and the customer's go before. Openings, heights and spacing: by "
    "the devices' makers. The disconnect's handle is worked from outside and locks in OFF; whether it holds the door shut is for the "
    "builder to choose."
)
WHITE, GREEN, RED, BLUE, BLACK = "white", "green", "red", "blue", "black"


def door_of(control: TankControl) -> PaperTable:
    heads = (ColumnHead("Designation", share=1.4), ColumnHead("Device", share=1.6), ColumnHead("Words beside it", share=2.6),
             ColumnHead("Colour", share=1.8))  # fmt: skip
    return table("On the door", heads, _devices(control), note=NOTE)


def _devices(control: TankControl) -> Iterator[tuple[str, str, str, str]]:
    several = len(control.supplies) > 1
    for supply in control.supplies:
        alone = f"{supply.mark}: OFF - ON" + (f"; ONE OF {len(control.supplies)} DISCONNECTS, OPEN ALL" if several else "")
        yield supply.mark, "handle of the disconnect", alone, f"{BLACK}, or red on yellow as emergency switch"
    for rung in control.circuit.ladder:
        for one in rung.elements:
            if one.kind == "lamp":
                yield one.mark, "pilot light", rung.says.upper(), _of_lamp(rung)
            elif one.kind == "selector":
                yield one.mark, "selector", "HEATERS OFF - AUTO", BLACK
            elif one.kind == "button":
                yield one.mark, "push button", "RESET LIMITS, ONCE THE CAUSE IS PUT RIGHT", BLUE
    if control.settings.controller == "panel":
        marks = dict.fromkeys(one.mark for one in control.circuit.elements if one.kind == "temperature contact")
        yield ", ".join(marks), "temperature controller", "TANK TEMPERATURE", ""


def _of_lamp(rung: Rung) -> str:
    """White says that there is power, green that a bank is on, red that something has tripped."""
    if rung.says == "control power on":
        return WHITE
    return GREEN if rung.says.endswith(" on") else RED
