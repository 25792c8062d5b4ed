"""What the sheets of money have in common: columns that take price and unit from the buy list, and the formulas of a line."""

from __future__ import annotations

from collections.abc import Iterator

from batch.material_lines import PER_CENT
from batch.schedules.schedule import calculated, given, ordinal, text
from batch.sheets import Column

LOOKED_UP = 'IF(INDEX(<buy_list.{0}>,MATCH([item],<buy_list.number>,0))="","",INDEX(<buy_list.{0}>,MATCH([item],<buy_list.number>,0)))'
PRICE = 'IF(([unit_price]="")+([quantity]="")+([rate]="")+([supplied]<>"")>0,"",[quantity]*[unit_price]*[rate]/[per])'
STATUS = (
    'IF([supplied]="",IF(([price]="")*([sort]<>"activity")+([hours]="")*([hours_due]=1)>0,"open","priced"),'
    'IF([supplied]="customer","customer supplies",IF([supplied]="others","by others",[supplied])))'
)
PRICE_FACTOR = (
    'IF(([markup_pct]="")=([profit_pct]=""),"",'
    'IF([markup_pct]<>"",1+[markup_pct]/100,IFERROR(1/(([profit_pct]<100)*(1-[profit_pct]/100)),"")))'
)
HOURS_DUE = (
    'IF([place]="",0,([place]="shop")*COUNTIFS(<pricing_used.number>,[rates_no],<pricing_used.shop_rate>,">0")'
    '+([place]="field")*COUNTIFS(<pricing_used.number>,[rates_no],<pricing_used.field_rate>,">0"))'
)


def hours_due() -> Iterator[Column]:
    """Where the hours of a line are worked, by whose rates, and whether they are asked for."""
    yield text("place", "Worked", 8, "line.place", help="Where its hours are worked: shop or field; blank: no hours are asked of it.")
    yield ordinal("rates_no", "Rates", "no.", lambda at: at.rates if at.asked else None, width=7, help="Line of Pricing used.")
    yield calculated("hours_due", "Hours asked", "yes = 1", "count", lambda at: int(at.line.hours_asked) if at.asked else None, width=8,
                     formula=HOURS_DUE, help="1 where blank hours leave the line open: an hour costs something there.")  # fmt: skip


def price_line() -> Iterator[Column]:
    """Line of the buy list and the rate of its currency: of a line of Materials or Runs."""
    yield ordinal("item", "Buy list line", "no.", lambda at: at.line.item or None, width=8, help="On Buy list, where its price stands.")
    yield given("rate", "Rate", "to project's currency", "number", lambda at: at.line.rate if at.asked else None, width=9,
                help="Of the currency of its price to the project's: 1 where they are one, blank where Pricing gives none.")  # fmt: skip


def looked_up(becomes: str = "") -> Iterator[Column]:
    """Unit price and Per, as the buy list has them. `becomes`: the input that a typed price is taken for."""
    yield given("unit_price", "Unit price", "per unit", "money", lambda at: None if at.line.sort == PER_CENT else at.line.unit_price,
                formula=LOOKED_UP.format("unit_price"), becomes=becomes,
                help="As Buy list has it, for Per of the unit; blank: no price.")  # fmt: skip
    yield given("per", "Per", "of unit", "number", lambda at: at.line.per if at.asked else None, width=6, formula=LOOKED_UP.format("per"),
                help="What the price and the hours are for: 100 of 100 ft.")  # fmt: skip
