"""Materials: what to buy."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from batch.results import JobResult, Material, ProjectResult
from batch.schedules.row_words import band_words
from batch.schedules.schedule import Schedule, calculated, given, its_project, selected, text
from batch.sizing.materials import CONTROLS_HELD


class Line(NamedTuple):
    """A part. `hold`: the band, where it is for what is not released for fabrication."""

    project: ProjectResult
    line: Material
    hold: str


def _items(result: JobResult) -> Iterator[Line]:
    for project in result.projects:
        holds = {kind.type: band_words(kind.hold) for kind in project.types}
        held = (control.hold.message for control in project.controls if control.hold is not None)
        holds[CONTROLS_HELD] = band_words(" ".join(dict.fromkeys(held)))
        for line in project.materials:
            yield Line(project, line, holds.get(line.used_for, ""))


MATERIALS = Schedule(
    "materials", "Materials", "part", "What to buy, per panel type, control panels, feeders and wiring. A line without a price is not in the total.",
    items=_items,
    columns=(
        its_project("project.project.project"),
        text("used_for", "Used for", 13, "line.used_for",
             role="result", help="Heaters, panel type, control panels, feeders, wiring or labour."),
        text("role", "What", 20, "line.role",
             role="result", help="What the part does."),
        text("part", "Stock part", 14, "line.part",
             role="input", help="The part of the Stock sheet; blank where none was chosen."),
        text("words", "Description", 43, "line.words",
             role="result", help="Rating and kind in words."),
        selected("quantity", "Quantity", "of unit", "number", "line.amount",
                 help="How many, or how much of the unit that the price is for; blank where that or the length is not known."),
        text("unit", "Unit", 6, lambda at: at.line.sold_by if at.line.unit == "m" else at.line.unit,
             help="ea or h; of wire and raceway ft or m, as their price is."),
        selected("length_m", "Length", "m", "length", lambda at: at.line.quantity or None if at.line.unit == "m" else None,
                 us_unit="ft", help="Of wire and raceway, one way as drawn, without waste. From device to contactor no length is asked, and none is counted."),
        given("unit_price", "Unit price", "per unit", "money", "line.unit_price",
              becomes="stock.unit_price", help="From the Stock sheet, for Per of the unit; blank: no price."),
        given("per", "Per", "of unit", "number", "line.per", width=6,
              help="What the price and the hours are for: 100 of 100 ft."),
        calculated("price", "Price", "currency", "money", "line.price",
                   total="sum", formula='IF(([unit_price]="")+([quantity]="")>0,"",[quantity]*[unit_price]/[per])',
                   help="Quantity times unit price; blank where one of them is."),
        given("hours_each", "Hours each", "h", "hours", "line.hours_each",
              becomes="stock.labour_h", help="From the Stock sheet, for Per of the unit."),
        calculated("hours", "Hours", "h", "hours", "line.hours",
                   total="sum", formula='IF(([hours_each]="")+([quantity]="")>0,"",[quantity]*[hours_each]/[per])', help="Quantity times hours each."),
        text("priced", "Priced", 10, lambda at: "no price" if at.line.price is None else "priced",
             role="result", formula='IF([price]="","no price","priced")', help="priced, or no price: then the line is open, and in no total."),
        text("hold", "On hold", 22, "hold",
             role="result", help="What it is for is not released for fabrication, and why: do not buy it before that is put right."),
        text("why", "Why open", 34, "line.why", on_paper=False,
             role="result", help="Why the line could not be priced when it was sized; blank: the Stock sheet has no price for it. Not printed."),
    ),
)
