"""Kinds of finding about money: rates, scope, ages of prices. None has an outside source."""

from __future__ import annotations

from batch.findings.record import Harm, Kind, Severity

MONEY_HARM = Harm.MONEY
NEVER_NOUGHT = "a missing price is never counted as zero"


def _caution(code: str, title: str, template: str, basis: str, advice: str) -> Kind:
    return Kind(code, Severity.CAUTION, title, template, basis, advice, harm=MONEY_HARM)


def _note(code: str, title: str, template: str, basis: str, advice: str) -> Kind:
    return Kind(code, Severity.NOTE, title, template, basis, advice, harm=MONEY_HARM)


MONEY = (
    _caution("pricing-repeated", "Pricing given twice", "Pricing of project {project} is given in rows {rows}; the first is used.", "a rule of this program: every assumption is said", "Keep the right one."),
    _caution("profit-missing", "No price for want of profit", "Cost only, no price: {why}.", NEVER_NOUGHT, "Give Markup, or Margin of price, on Pricing; a typed 0 is 0."),
    _caution("profit-twice", "Markup and margin given", "Cost only, no price: Markup and Margin of price are both given, and which of them counts cannot be told.", "25 % markup is 20 % margin: they are two statements of one thing", "Give one of them on Pricing."),
    _caution("price-below-cost", "Price below cost", "Margin of price is {margin} %, below 0: the price stands below full cost, at {share} % of it.", "margin of price: price = full cost / (1 - margin)", "Correct Margin of price on Pricing, or know that the job is offered at a loss."),
    _caution("scope-contradicts", "Scope and lines disagree", "{item}: {what}.", "a quotation says what its price holds", "Correct Scope, or add or take away the lines."),
    _caution("price-old", "Price too old", "{count:price is|prices are} older than {days} days at the date of the bid, or later than it: {parts}.", "Prices good for, on Pricing", "Ask for the prices again; Buy list has the age of each."),
    _note("price-undated", "Price without a date", "{count:price has|prices have} no date, or the project has none: {count:~its|their} age is not known.", "a price has a date", "Fill Price date on the Stock sheet."),
    _caution("allowance-part-unknown", "Allowance of an unknown part", "Allowances names {part}, which the Stock sheet does not list: its lines stay without a price.", NEVER_NOUGHT, "List the part on the Stock sheet, or correct the name."),
    _caution("allowance-cell-unused", "Cell of an allowance unused", "{allowance}, for each {per}: {cells} {count:~is|are} given and not used.", "every cell is used, or said not to be",
             "A per cent of the price of raceway is money, without a part or hours; spare fuses take no hours; At least is of spare fuses alone: give another row for what else you mean."),
    _caution("price-typed-unused", "Typed price without its line", "{count:typed price belongs|typed prices belong} to no line of this job, whose words are others now, and {count:~prices|price} nothing: {lines}.", "a price is never moved to a line that only looks like its own", "Type the price beside the line as it now reads, or take the row off Typed prices."),
    _caution("wire-colour-missing", "Wire not listed in its colour", "Wire is to be bought by colour, and {count:wire is|wires are} not on the Stock sheet in the colour wanted, so that the runs stay open: {wires}.", NEVER_NOUGHT,
             "List the wire in that colour on the Stock sheet, or give a smaller Largest size in colour on Pricing: larger wire is black, with its ends marked. No in Wire by colour buys one line a size."),
    _caution("colour-size-unknown", "Largest size in colour is no wire size", "Largest size in colour is {size}, which is no wire size: wire stays without a price.", NEVER_NOUGHT, "Give a size as the wire table has it: 8 AWG, 10 mm2; blank: every size in colour."),
    _caution("hours-missing", "Labour hours missing", "{count:line of Materials and Runs has its price and no labour hours: its labour is in no total|lines of Materials and Runs have their prices and no labour hours: their labour is in no total}: {parts}.",
             "missing hours are never counted as zero",
             "Give Shop hours, or Field hours of what is worked on site, on the Stock sheet (a typed 0 is 0). Where no labour is to be priced, type 0 as Shop rate or Field rate on Pricing."),
    _caution("hours-twice", "Hours of parts and of an activity", "Hours of parts and of activities are both counted {places}: each may hold the same work.", "hours of labour come from the parts or from activities", "Take the hours from one of the two."),
)
