"""Materials: what to buy."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from batch.results import JobResult, Material, ProjectResult
from batch.schedules.row_words import band_words
from batch.schedules.schedule import Schedule, calculated, given, its_project, selected, text
from batch.sizing.materials import HELD as SINGLE_HELD


class Line(NamedTuple):
    """A part. `hold`: the band, where it is for what is not released for fabrication."""

    project: ProjectResult
    line: Material
    hold: str


def _items(result: JobResult) -> Iterator[Line]:
    for project in result.projects:
        holds = {kind.type: band_words(kind.hold) for kind in project.types}
        single = (row.hold.message for row in project.banks if row.hold is not None and row.design.single_circuit is not None)
        holds[SINGLE_HELD] = band_words(" ".join(dict.fromkeys(single)))
        for line in project.materials:
            yield Line(project, line, holds.get(line.used_for, ""))


MATERIALS = Schedule(
    "materials", "Materials", "part", "What to buy, per panel type, single-circuit banks, feeders and wiring. A line without a price is not in the total.",
    items=_items,
    columns=(
        its_project("project.project.project"),
        text("used_for", "Used for", 13, "line.used_for",
             role="result", help="Panel type, single-circuit banks, feeders, wiring or labour."),
        text("role", "What", 20, "line.role",
             role="result", help="What the part does."),
        text("part", "Stock part", 14, "line.part",
             role="input", help="The part of the Stock sheet; blank where none was chosen."),
        text("words", "Description", 49, "line.words",
             role="result", help="Rating and kind in words."),
        selected("quantity", "Quantity", "of unit", "number", lambda at: None if at.line.unit == "m" else at.line.quantity,
                 help="How many; blank for what goes by length."),
        text("unit", "Unit", 6, lambda at: "" if at.line.unit == "m" else at.line.unit,
             help="ea or h."),
        selected("length_m", "Length", "m", "length", lambda at: at.line.quantity if at.line.unit == "m" else None,
                 us_unit="ft", help="Of wire and raceway, one way as drawn, without waste."),
        given("unit_price", "Unit price", "per unit", "money", "line.unit_price",
              help="From the Stock sheet; blank: no price."),
        calculated("price", "Price", "currency", "money", lambda at: None if at.line.unit_price is None else at.line.quantity * at.line.unit_price,
                   total="sum", formula='IF([unit_price]="","",[quantity]*[unit_price])', help="Quantity times unit price; blank where there is no price."),
        given("hours_each", "Hours each", "h", "hours", "line.hours_each",
              help="From the Stock sheet."),
        calculated("hours", "Hours", "h", "hours", lambda at: None if at.line.hours_each is None else at.line.quantity * at.line.hours_each,
                   total="sum", formula='IF([hours_each]="","",[quantity]*[hours_each])', help="Quantity times hours each."),
        text("priced", "Priced", 10, lambda at: "no price" if at.line.unit_price is None else "priced",
             role="result", formula='IF([unit_price]="","no price","priced")', help="priced, or no price."),
        text("hold", "On hold", 22, "hold",
             role="result", help="What it is for is not released for fabrication, and why: do not buy it before that is put right."),
    ),
)
