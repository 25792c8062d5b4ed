"""Wiring: terminal to terminal, once for each panel type; the table of tags says which panels that is."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from msgspec.structs import replace

from batch.results import JobResult
from batch.schedules.designations import all_in_box
from batch.schedules.hanging import status_by_tag
from batch.schedules.row_words import HELD, band_words, worst_of
from batch.schedules.schedule import Schedule, its_project, its_status, ordinal, text
from batch.schedules.wiring_list import Join, direct_wiring, panel_wiring
from batch.schedules.wiring_tag_list import Tagged, named_first, tagged
from batch.sizing.labels import natural


class WiringLine(NamedTuple):
    """A conductor of a panel type, or of single-circuit banks that are alike, which go by the first of them."""

    project: str
    wired_as: str
    number: int
    join: Join
    hold: str  # of its list's first conductor the whole band, of the others that there is one
    status: str  # the worst of what is wired so


def _items(result: JobResult) -> Iterator[WiringLine]:
    for project in result.projects:
        alike: dict[str, list[Tagged]] = {}
        status = status_by_tag(project)
        for one in tagged(project):
            alike.setdefault(one.wired_as, []).append(one)
        types = {kind.type: kind for kind in project.types}
        for wired_as in (*types, *sorted(alike.keys() - types.keys(), key=natural)):
            first, kind = named_first(wired_as, alike[wired_as]), types.get(wired_as)
            inside = kind is not None and all_in_box(project, kind.tags)
            joins = panel_wiring(kind.design, first.marks, inside=inside) if kind is not None else direct_wiring(first.design, first.marks, first.device, first.strip, first.neutral_bar)
            hold = band_words(first.hold if kind is None else kind.hold)
            worst = worst_of(status[one.tag] for one in alike[wired_as])
            for number, join in enumerate(joins, start=1):
                yield WiringLine(first.project, wired_as, number, join, hold if number == 1 else hold and HELD, worst)


WIRING = Schedule(
    "wiring", "Wiring", "conductor",
    "Terminal to terminal, type by type, with the limit string in series. Wiring tags says which panels, and the k of each.",
    items=_items, named_by="no",
    columns=(
        replace(its_project("project"), width=10),
        text("type", "Wired as", 19, "wired_as",
             role="result", also=("Type",), help="Panel type: its panels are wired alike. Or the first of single-circuit banks that are alike."),
        its_status("status"),
        ordinal("no", "No.", "", "number",
                width=5, help="Order of wiring in the panel."),
        text("start", "From", 22, "join.start",
             role="result", help="PDB1:L pole of the block, FU, CB OCPD pole, HTR+2 lead of heater k + 2, WP wye point, TB3 limit string terminal."),
        text("end", "To", 22, "join.end",
             role="result", help="The other end."),
        text("conductor", "Conductor", 31, "join.conductor",
             role="result", help="What connects them."),
        text("purpose", "Purpose", 22, "join.purpose",
             help="What it is for."),
        text("hold", "On hold", 16, "hold",
             role="result", help="Not released for fabrication, and why: in full at the type's first conductor."),
    ),
)
