"""Buy list: every part once, over the job: how much is used, how much to order, and the one place where its price stands."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from typing import NamedTuple

from batch.money_results import BuyLine
from batch.results import JobResult
from batch.schedules.material_list import material_lines
from batch.schedules.run_schedule import run_lines
from batch.schedules.schedule import SEE, Schedule, calculated, given, its_project, ordinal, selected, text
from batch.schedules.ways import found, place, way


class BoughtPart(NamedTuple):
    """A part; `held`: how much of it is for what is not released for fabrication; `unmeasured`: its runs of which no length is given."""

    one: BuyLine
    held: float | None
    unmeasured: int | None


def _items(result: JobResult) -> Iterator[BoughtPart]:
    if not result.money.asked:
        return
    held: dict[int, float] = defaultdict(float)
    unmeasured: dict[int, int] = defaultdict(int)
    lines = [(at.line, at.hold) for at in material_lines(result)] + [(at.line, at.hold) for at in run_lines(result)]
    for line, hold in lines:
        if hold:
            held[line.item] += line.amount or 0.0
        if line.lacks_length:
            unmeasured[line.item] += 1
    for one in result.money.buy:
        yield BoughtPart(one, held.get(one.number) or None, unmeasured.get(one.number))


TO_LINES = f'IFERROR({found("materials.item", "number")},HYPERLINK({place("runs.item", "number")},"{SEE}"))'
BUY_LIST = Schedule(
    "buy_list", "Buy list", "part",
    "Every part once, over the job. Its price stands here: type one, and every line, build and price of the workbook follows.",
    items=_items, named_by="words",
    columns=(
        ordinal("number", "No.", "", "one.number", width=6, help="By which Materials and Runs find it."),
        its_project(lambda at: at.one.project or None),
        text("part", "Stock part", 14, "one.part", role="input", help="The part of the Stock sheet; blank: none is listed for it."),
        text("role", "Kind", 20, "one.role", role="result", help="What it is, or what it does."),
        text("words", "Description", 39, "one.words", role="result", help="In words."),
        text("unit", "Unit", 6, "one.unit", help="ea, h, ft or m."),
        selected("used", "Used", "of unit", "length", "one.used",
                 formula="SUMIFS(<materials.quantity>,<materials.item>,[number])+SUMIFS(<runs.quantity>,<runs.item>,[number])",
                 help="Over all lines of Materials and Runs, with waste and spares: what the cost counts."),
        calculated("held", "Of it on hold", "of unit", "length", "held", width=9,
                   help="For panels, banks and feeders that are not released for fabrication: do not buy it before that is put right."),
        calculated("unmeasured", "Lengths not in it", "ea", "count", "unmeasured", width=8,
                   help="Lines of Runs that need it and have no length: more of it is needed than Used says."),
        given("lot", "Bought in lots of", "of unit", "number", lambda at: at.one.lot or (1.0 if at.one.unit == "ea" else None), width=9,
              help="As the Stock sheet has it; 1 of what goes by the piece."),
        selected("order", "Order", "of unit", "length", "one.order",
                 formula='IF([lot]="","",ROUNDUP(ROUND([used]/[lot],6),0)*[lot])', help="Whole lots; blank where it is bought as it is cut."),
        calculated("surplus", "Left over", "of unit", "length", "one.surplus",
                   formula='IF([order]="","",[order]-[used])', help="What is bought and not used: in no price, but through Other costs."),
        given("unit_price", "Unit price", "per unit", "money", "one.unit_price",
              becomes="stock.unit_price", help="For Per of the unit, in its currency. Typed here, every line and total follows; sized again, it is the part's price on the Stock sheet, or of what no part is, on Typed prices."),
        given("per", "Per", "of unit", "number", "one.per", width=6, becomes="stock.per_quantity", help="What the price is for."),
        text("currency", "Currency", 9, "one.currency", role="input", becomes="stock.currency", help="Of the price; blank: the project's."),
        calculated("amount", "Amount", "its currency", "money", lambda at: None if at.one.unit_price is None or at.one.supplied else at.one.used * at.one.unit_price / at.one.per,
                   total="sum", formula='IF(([unit_price]="")+([supplied]<>"")>0,"",[used]*[unit_price]/[per])', help="What is used, at this price."),
        calculated("left_amount", "Left over, worth", "its currency", "money",
                   lambda at: None if at.one.unit_price is None or at.one.surplus is None or at.one.supplied else at.one.surplus * at.one.unit_price / at.one.per,
                   total="sum", formula='IF(([unit_price]="")+([surplus]="")+([supplied]<>"")>0,"",[surplus]*[unit_price]/[per])', help="Not in the price of the bid."),
        text("price_date", "Price date", 12, "one.price_date", role="input", becomes="stock.price_date", help="When the price was given."),
        calculated("age", "Age", "days", "count", "one.age_days", help="At the date of the bid, not of today."),
        calculated("lines", "Lines", "ea", "count", "one.lines", formula="COUNTIFS(<materials.item>,[number])+COUNTIFS(<runs.item>,[number])",
                   total="sum", help="Lines of Materials and Runs that need it."),
        calculated("open", "Lines open", "ea", "count", "one.open",
                   formula='COUNTIFS(<materials.item>,[number],<materials.priced>,"open")+COUNTIFS(<runs.item>,[number],<runs.priced>,"open")',
                   total="sum", help="Of these, without a price, a length or hours."),
        text("supplied", "Supplied by", 11, "one.supplied", role="result", help="customer or others, where it is not ours to buy; with the heater, where it comes with one."),
        way("to_lines", "Its lines", "the first line that needs it, on Materials or else on Runs", TO_LINES),
    ),
)
