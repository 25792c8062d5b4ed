"""Wiring: terminal to terminal, panel by panel."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import NamedTuple

from batch.results import BankRow, JobResult
from batch.schedules.row_words import band_words, single_tag, size_or_words, wire_words
from batch.schedules.schedule import Schedule, its_project, ordinal, text
from batch.schedules.wiring_list import Join, direct_wiring, panel_wiring
from batch.sizing.labels import natural


class Line(NamedTuple):
    """A conductor of a panel, or of a bank without one, which has no type."""

    project: str
    panel: str
    type: str
    number: int
    join: Join
    hold: str  # of its panel's first conductor the whole band, of the others that there is one


def _items(result: JobResult) -> Iterator[Line]:
    for project in result.projects:
        name = project.project.project
        contacts = _level_contacts(project.banks)
        for row in project.banks:
            cutoff = f"level cutoff contact {contacts[id(row)]}" if id(row) in contacts else ""
            for tag, kind, joins in _wired(row, cutoff):
                hold = band_words(row.hold.message if row.hold is not None else "")
                for number, join in enumerate(joins, start=1):
                    yield Line(name, tag, kind, number, join, hold if number == 1 else hold and "HOLD")


def _level_contacts(banks: Sequence[BankRow]) -> dict[int, int]:
    """The contact of its tank's level cutoff that each bank has, by the identity of its row: numbered by label, never by row order."""
    used: Counter[str] = Counter()
    numbers = {}
    for row in sorted(banks, key=lambda row: natural(row.label)):
        if row.tank is not None and row.tank.level_cutoff == "yes":
            tank = row.bank.tank.casefold()
            used[tank] += 1
            numbers[id(row)] = used[tank]
    return numbers


def _wired(row: BankRow, cutoff: str) -> Iterator[tuple[str, str, Iterator[Join]]]:
    """Tag, type and conductors of each panel of a bank, or of the bank where it is a single circuit; the cutoff is in its first string."""
    branch = row.design.branch.wires
    if row.design.single_circuit is not None:
        yield single_tag(row), "", direct_wiring(row.design.single_circuit, cutoff, wire_words(branch))
    green = f"{size_or_words(branch.ground)} {branch.material}, green"
    for panel in row.panels:
        fitted = cutoff if panel is row.panels[0] else ""
        feed = wire_words(panel.design.panel_feeder_wires)
        yield panel.tag, panel.type, panel_wiring(panel, row.design.circuits_per_heater, fitted, wire_words(branch), feed, green)


WIRING = Schedule(
    "wiring", "Wiring", "conductor", "Terminal to terminal, panel by panel, with the limit string in series.",
    items=_items,
    columns=(
        replace(its_project("project"), width=10),
        text("panel", "Panel", 19, "panel",
             role="result", help="Tag of the panel."),
        text("type", "Type", 8, "type",
             role="result", help="Panels of one type are wired alike; blank for a single-circuit bank."),
        ordinal("no", "No.", "", "number",
                width=5, help="Order of wiring in the panel."),
        text("start", "From", 22, "join.start",
             role="result", help="L block pole, FU, CB OCPD pole, HTR heater lead, WP wye point, TB3 limit string terminal."),
        text("end", "To", 24, "join.end",
             role="result", help="The other end."),
        text("conductor", "Conductor", 36, "join.conductor",
             role="result", help="What connects them."),
        text("purpose", "Purpose", 18, "join.purpose",
             help="What it is for."),
        text("hold", "On hold", 22, "hold",
             role="result", help="Not released for fabrication, and why: in full at the panel's first conductor."),
    ),
)
