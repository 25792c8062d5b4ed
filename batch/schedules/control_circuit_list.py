"""Control circuit: the ladder of each kind of control panel as rows, line by line; limits of a strip stand together, since their number goes
by tank.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from batch.control_results import Element, Rung, TankControl
from batch.results import JobResult
from batch.schedules.element_words import LIMITS, element_words
from batch.schedules.hanging import control_status
from batch.schedules.row_words import band_words, listed, worst_of
from batch.schedules.schedule import Schedule, its_project, its_status, text


class LadderLine(NamedTuple):
    """An element of a ladder line, or the limits of one strip."""

    project: str
    kind: str
    tanks: Sequence[str]
    rung: Rung
    mark: str
    what: str
    start: str
    end: str
    points: str
    status: str  # the worst of the control panels with this ladder
    hold: str  # on its first line why it is on hold, on the others that it is


def _items(result: JobResult) -> Iterator[LadderLine]:
    for project in result.projects:
        kinds: dict[str, list[TankControl]] = {}
        for row in project.controls:
            kinds.setdefault(row.kind, []).append(row)
        for kind, rows in kinds.items():
            tanks, status = [row.tank for row in rows], worst_of(control_status(project, row) for row in rows)
            band = band_words(" ".join(dict.fromkeys(row.hold.message for row in rows if row.hold is not None)))
            for rung in rows[0].circuit.ladder:
                for mark, what, start, end, points in elements_of(rung):
                    yield LadderLine(project.project.project, kind, tanks, rung, mark, what, start, end, points, status, band)
                    band = band and "HOLD"


def elements_of(rung: Rung) -> Iterator[tuple[str, str, str, str, str]]:
    """Mark, what it is, wires and terminals of each element of a line; all limits of a strip as one."""
    if not rung.elements:
        yield "", rung.says, "", "", ""
    strips: dict[tuple[str, str], list[Element]] = {}
    for one in rung.elements:
        if one.kind == "limit":
            strips.setdefault((one.box, one.points[0].partition(":")[0]), []).append(one)
    done: set[tuple[str, str]] = set()
    for one in rung.elements:
        if one.kind != "limit":
            yield one.mark, element_words(one), one.start, one.end, f"{one.points[0]}, {one.points[1]}"
            continue
        box, strip = one.box, one.points[0].partition(":")[0]
        if (box, strip) not in done:
            done.add((box, strip))
            last = strips[box, strip][-1]
            yield f"{one.mark} ...", LIMITS, one.start, last.end, f"{box} {strip}:2 to :2n + 1"


CONTROL_CIRCUIT = Schedule(
    "control_circuit", "Control circuit", "element",
    "The ladder of each kind of control panel, line by line. Energize to run: any open contact of line 104 drops every contactor until RESET.",
    items=_items, named_by="line",
    columns=(
        its_project("project"),
        text("ladder", "Ladder", 16, "kind", role="result", help="Kind of control panel; see Control."),
        its_status("status"),
        text("line", "Line", 6, lambda at: f"{at.rung.line}", help="Of the ladder; wires are numbered line x 10 + serial."),
        text("says", "What the line does", 30, "rung.says", help="In words."),
        text("mark", "Designation", 13, "mark", role="result", help="Of the part."),
        text("what", "Part", 34, "what", role="result", help="What it is, and how its contact stands at rest."),
        text("start", "Wire in", 9, "start", role="result", help="Wire number on one side."),
        text("end", "Wire out", 9, "end", role="result", help="Wire number on the other side."),
        text("points", "Terminals", 26, "points", role="result", help="Where the two wires land; n heaters on a strip of limits."),
        text("tanks", "Control panels", 40, lambda at: listed([f"{tank}/HCP" for tank in at.tanks]) if at.rung.line == 101 else "",
             help="Those with this ladder, on its first line."),
        text("hold", "On hold", 22, "hold",
             role="result", help="Not released for fabrication, and why: in full at the ladder's first element."),
    ),
)
