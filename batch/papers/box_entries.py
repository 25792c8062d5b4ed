"""What is cut into a box: the raceways that come to it, with what is in each."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from batch.control_results import TankControl
from batch.counted_words import counted
from batch.papers.grounding_wires import incoming_wires
from batch.papers.job_at_hand import AtHand
from batch.papers.paper_data import ColumnHead, PaperTable, table
from batch.results import BankRow, PanelDesign, Wires
from batch.schedules.designations import marks_of
from batch.schedules.hanging import BoxFeed, hung_on
from batch.schedules.row_words import laid_in
from batch.sizing.control_wires import BY_OTHERS

ENTERS = "What enters a panel"
BLANK, ALARM = "____", "alarm"
HEADS = (
    ColumnHead("From or to", share=2.2), ColumnHead("Raceways", "", "right", 0.9), ColumnHead("Size", share=2.2),
    ColumnHead("In them", share=4.0),
)  # fmt: skip
NOTE = "Openings are of the fittings' sizes; their places are the builder's."


def entries_of(at: AtHand, design: PanelDesign, rows: Iterable[BankRow]) -> PaperTable:
    """Raceways that openings of a heater panel are cut for; how many share one goes by the bank."""
    marks, feed = marks_of(at.project), design.panel_feeder_wires
    listed = [("control panel", f"{feed.sets}", _raceway(feed), "panel feeder"), _heaters("heaters", design, rows)]
    if design.limit_terminals:
        listed.append(("control panel, limits", BLANK, BLANK, f"control wires of {marks.limit_strip}: by whoever lays them"))
    return table(ENTERS, HEADS, listed, note=NOTE)


def entries_of_control(at: AtHand, alike: Sequence[TankControl]) -> PaperTable:
    """The same of control panels built alike; where their raceways differ, each sort stands there."""
    sorts = [tuple(_of_control(at, control)) for control in alike]
    listed = [
        (rows[0][0], *(" or ".join(dict.fromkeys(words)) for words in zip(*(row[1:] for row in rows), strict=True)))
        for rows in zip(*sorts, strict=True)
    ]  # fmt: skip
    return table(ENTERS, HEADS, listed, note=NOTE)


def _of_control(at: AtHand, control: TankControl) -> Iterator[tuple[str, str, str, str]]:
    hung, one_box = hung_on(control, at.banks_of(control.tank)), control.settings.boxes == "one"
    for supply in control.supplies:
        wires = incoming_wires(at, control, supply.feeder)
        yield f"supply {supply.number}, to {supply.mark}", f"{wires.sets}" if wires else BLANK, _raceway(wires), "power"
    for one in hung:
        yield from _of_feed(one, inside=one_box)
    away = {feed.strip_box for feed in control.feeds if feed.strip_box not in ("", "HCP")}
    for box in sorted(away):
        yield f"{box}, limits", BLANK, BLANK, "control wires of the limit string: by whoever lays them"
    outside = [element.mark for element in control.circuit.elements if element.field and element.kind != "limit"]
    if any(terminal.outside.startswith(BY_OTHERS) for terminal in control.circuit.terminals):
        outside.append(BY_OTHERS)
    if any(terminal.outside.startswith(ALARM) for terminal in control.circuit.terminals):
        outside.append(ALARM)
    own = ["limits"] if any(feed.strip_box == "HCP" for feed in control.feeds) else []
    if outside or own:
        yield "the field", BLANK, BLANK, f"control wires of {', '.join(dict.fromkeys((*own, *outside)))}: by whoever lays them"


def _of_feed(one: BoxFeed, inside: bool) -> Iterator[tuple[str, str, str, str]]:
    if one.feed.single or inside:
        yield _heaters(f"heaters of {'bank ' * one.feed.single}{one.feed.tag}", one.design, [one.row])
    else:
        feed = one.design.panel_feeder_wires
        yield one.feed.tag, f"{feed.sets}", _raceway(feed), "panel feeder"


def _heaters(where: str, design: PanelDesign, rows: Iterable[BankRow]) -> tuple[str, str, str, str]:
    branch = design.branch.wires
    shares = sorted({row.bank.circuits_in_raceway or 1 for row in rows})
    runs = len(design.legs) if design.branches == 1 else design.branches  # a circuit goes to each heater by itself
    counts = dict.fromkeys(f"{-(-runs * branch.sets // each)}" for each in shares)
    return where, " or ".join(counts), _raceway(branch), counted(runs, "circuit")


def _raceway(wires: Wires | None) -> str:
    return laid_in(wires) or BLANK
