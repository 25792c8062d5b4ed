"""The sheets that turn a sized job into a bid: the firm's own rates, its rules, other costs, who supplies what, and prices typed.

No figure of them is built in: what is left blank is open, counted and said.
"""

from __future__ import annotations

from batch.sheets.column import Column, Sheet
from batch.sheets.column import number as _number
from batch.sheets.every_sheet import YES_NO

ITS_PROJECT = Column(
    "project", "Project", width=14, example="P-1", help="Name of the project. Blank: the workbook's only project.",
    also=("project no", "project number", "project name", "job", "bid"),
)
SCOPE_ITEMS = {
    "heaters": ("immersion heaters",), "heater panels": ("panels", "branch panels"), "contactors and disconnects": ("contactors", "disconnects"),
    "enclosures": ("boxes",), "board at the feeder": ("distribution", "distribution board", "distribution units"), "supply to the board": ("incoming supply", "supply to it"),
    "transformer": ("transformers", "supply transformer"),
    "branch and feed wiring": ("wiring", "wire", "conductors"), "raceway": ("conduit", "raceways"), "control circuit": ("control", "control circuits"),
    "temperature control": ("thermostats", "temperature controllers"), "level switches": ("level cutoffs", "low-level cutoffs"),
    "ground-fault protection": ("ground fault", "gfp"), "installation": ("installing",), "connection": ("connecting", "hook-up"),
    "testing": ("test", "commissioning"), "drawings": ("documents",), "spares": ("spare fuses", "spare parts"), "freight": ("delivery", "shipping"),
    "duty and tax": ("tax", "duty"), "permits": ("permit",), "tanks and supports": ("tanks", "supports"), "ventilation": ("exhaust",),
    "removal": ("removal of what is there", "demolition"), "short-circuit and arc-flash study": ("study", "arc-flash study"),
}
BY = {"us": ("we", "ours", "included", "yes"), "customer": ("by customer", "client", "owner"), "others": ("by others", "excluded", "no")}
PERS = {
    "panel": ("panels",), "branch": ("branches",), "pole": ("poles",), "fuse": ("fuses",), "heater": ("heaters",), "terminal": ("terminals",),
    "circuit": ("circuits",), "raceway": ("raceways", "run of raceway"), "10 ft of run": ("10 ft", "ten feet of run", "10 feet of run"),
    "tank": ("tanks",), "feeder": ("feeders",), "project": ("job", "lot"),
    "per cent of raceway price": ("% of raceway price", "percent of raceway price", "% of raceway", "per cent of raceway", "percent of raceway"),
}

PRICING = Sheet(
    "pricing", "Pricing", "project",
    "What turns materials and hours into a price: your own rates. Nothing is built in; what is blank is open, and a 0 is 0.",
    key=("project",), also=("rates", "pricing basis"),
    columns=(
        ITS_PROJECT,
        Column("rates", "Rates of other currencies", width=18, help="What one unit of another currency costs: EUR 1.08; CAD 0.73.", also=("exchange rates", "currency rates")),
        Column("rates_date", "Date of those rates", kind="date", width=11, help="When they were looked up.", also=("rates date",)),
        _number("good_for_days", "Prices good for", "days", format="count", low=0, high=10000, width=9, help="Older prices are a caution."),
        _number("shop_rate", "Shop rate", "per h", format="money", low=0, high=1e5, width=10, help="Money for a person-hour in the shop, burdened.", also=("shop labour rate", "shop labor rate")),
        _number("field_rate", "Field rate", "per h", format="money", low=0, high=1e5, width=10, help="Money for a person-hour on site, burdened.", also=("field labour rate", "field labor rate", "site rate")),
        _number("shop_factor", "Shop factor", "", format="factor", default="1", above=0, high=100, width=9, help="Hours in the shop are multiplied by it."),
        _number("field_factor", "Field factor", "", format="factor", default="1", above=0, high=100, width=9, help="Hours on site are multiplied by it."),
        _number("end_m", "Length at each end", "m", "ft", format="length", low=0, high=100, width=10, help="Of each conductor, for its terminations."),
        _number("device_run_m", "Device-to-contactor length", "m", "ft", format="length", low=0, high=100, width=11, help="One way, inside the control panel."),
        _number("wire_waste_pct", "Wire waste", "%", format="percent", low=0, high=100, width=9, help="Added to the length of wire."),
        _number("raceway_waste_pct", "Raceway waste", "%", format="percent", low=0, high=100, width=9, help="Added to the length of raceway.",
                also=("conduit or trunking waste",)),
        Column("wire_colours", "Wire by colour", kind="choice", choices=YES_NO, default="no", width=8,
               help="Whether wire between boxes is bought in the colour of its phase; no: one line a size, green apart.", also=("wire colours", "wire colors")),
        Column("colour_to", "Largest size in colour", width=11, help="Larger wire is black, with its ends marked. Blank: every size in colour."),
        Column("buy_together", "Buy together", kind="choice", choices={"job": ("all", "whole job"), "project": ("each project",)}, default="job", width=10,
               help="Whether price breaks and lots count over the job or over each project."),
        _number("purchase_tax_pct", "Tax on purchases", "%", format="percent", low=0, high=100, width=10, help="On materials, as you pay it.", also=("purchase tax",)),
        _number("freight_pct", "Freight", "%", format="percent", low=0, high=100, width=9, help="Per cent of materials."),
        _number("freight_amount", "Freight amount", "currency", format="money", low=0, high=1e9, width=10, help="A sum for the project; alone or with the per cent."),
        _number("contingency_pct", "Contingency", "%", format="percent", low=0, high=100, width=10, help="For costs that experience says will come and that are not yet known."),
        _number("overhead_pct", "Overhead", "%", format="percent", low=0, high=1000, width=9, help="On direct cost and contingency."),
        _number("markup_pct", "Markup", "%", format="percent", low=0, high=10000, width=9, help="Per cent of full cost. Give this or Margin of price, not both.", also=("mark-up", "profit markup")),
        _number("profit_pct", "Margin of price", "%", format="percent", low=-1000, high=1000, width=9, help="Per cent of the price. Give this or Markup, not both.", also=("profit margin", "margin on price")),
        _number("sales_tax_pct", "Tax on price", "%", format="percent", low=0, high=100, width=9, help="On the rounded total of the quotation.", also=("sales tax", "vat")),
        _number("round_to", "Round a position to", "currency", format="money", default="0.01", low=0.01, high=1e6, width=10, help="Positions of the quotation are rounded to this, once; no less than the hundredth that is printed.", also=("round to",)),
    ),
)
SCOPE = Sheet(
    "scope", "Scope", "item",
    "Who supplies what. Blank: included exactly where the job has lines for it.",
    key=("project", "item"), also=("scope of supply",),
    columns=(
        ITS_PROJECT,
        Column("item", "Scope item", kind="choice", choices=SCOPE_ITEMS, required=True, width=26, example="installation", help="What it is about."),
        Column("by", "Supplied by", kind="choice", choices=BY, width=12, help="us, customer, or others; blank: as the lines say.", also=("by whom",)),
    ),
)
ALLOWANCES = Sheet(
    "allowances", "Allowances", "rule",
    "Rules of the shop, one a row: so many of a part, or so many hours, for each of something. Fittings, labels, spare fuses, bars, control wire, labour by activity.",
    key=("project", "allowance", "part", "per"), also=("allowance", "shop rules"),
    columns=(
        ITS_PROJECT,
        Column("allowance", "Allowance", required=True, width=26, example="engraved nameplate", help="What it is, in words."),
        Column("part", "Part", width=14, help="Its line of the Stock sheet. Blank with hours: labour alone; of spare fuses: the fuses themselves."),
        _number("quantity", "Quantity", "ea", format="number", required=True, above=0, high=1e6, width=9, example="1", help="How many for each; of labour how many times the hours; of raceway price how many per cent."),
        Column("per", "For each", kind="choice", choices=PERS, required=True, width=14, example="panel", help="Of what it is counted; fuse: spares of each kind of fuse; per cent of raceway price: fittings as money, without a part.", also=("per each",)),
        _number("at_least", "At least", "ea", format="number", low=0, high=1e6, width=9, help="Of spare fuses: no fewer of each kind."),
        _number("shop_h", "Shop hours each", "h", format="hours", low=0, high=1000, width=9, help="Of labour alone: hours in the shop, for one."),
        _number("field_h", "Field hours each", "h", format="hours", low=0, high=1000, width=9, help="Of labour alone: hours on site, for one."),
    ),
)
OTHER_COSTS = Sheet(
    "other_costs", "Other costs", "cost",
    "What no part is: engineering, drawings, testing, travel, freight as a sum, control by others. A cost names a tank, a feeder, or neither: then it is the project's.",
    key=("project", "tank", "feeder", "what"), also=("other cost", "sundries"),
    columns=(
        ITS_PROJECT,
        Column("feeder", "Feeder", width=10, help="Feeder that it is for; blank: not for one."),
        Column("tank", "Tank", width=12, help="Tank that it is for; blank: not for one."),
        Column("what", "Cost", required=True, width=30, example="control circuit, by the job", help="What it is, in words."),
        Column("scope_item", "Scope item", kind="choice", choices=SCOPE_ITEMS, width=20, help="Which item of the scope it makes included; blank: none."),
        _number("quantity", "Quantity", "of unit", format="number", required=True, above=0, high=1e9, width=9, example="1", help="How many."),
        Column("unit", "Unit", width=8, help="ea, day, lot."),
        _number("amount", "Amount each", "currency", format="money", low=0, high=1e9, width=11, help="Money for one; blank: open."),
        _number("shop_h", "Shop hours each", "h", format="hours", low=0, high=1e5, width=9, help="Hours in the shop, for one."),
        _number("field_h", "Field hours each", "h", format="hours", low=0, high=1e5, width=9, help="Hours on site, for one."),
    ),
)
TYPED_PRICES = Sheet(
    "typed_prices", "Typed prices", "line",
    "Prices of lines that no part of the Stock sheet is, known by what the line says. Made from what was typed on Buy list; you may fill it yourself.",
    key=("role", "words", "unit"), also=("prices typed",),
    columns=(
        Column("role", "Price line", required=True, width=20, help="What the part does, as Buy list says.", also=("line role",)),
        Column("words", "Line words", required=True, width=44, help="Its description, word for word."),
        Column("unit", "Line unit", required=True, width=8, help="ea, ft or m, as Buy list says."),
        _number("unit_price", "Unit price", "", format="money", low=0, high=1e7, width=10, help="For Per quantity of the unit."),
        _number("per_quantity", "Per quantity", "", format="number", above=0, high=1e6, width=9, default="1", help="What the price and the hours are for."),
        Column("currency", "Currency", width=9, help="Of the price. Blank: the project's."),
        Column("price_date", "Price date", kind="date", width=11, help="When the price was given."),
        _number("hours", "Hours", "h", format="hours", low=0, high=1000, width=9, help="For Per quantity, in the shop or on site as the line goes."),
        Column("supplied_by", "Supplied by", kind="choice", choices={key: BY[key] for key in ("customer", "others")}, width=11, help="Where it is not ours to buy."),
    ),
)
MONEY_SHEETS: tuple[Sheet, ...] = (PRICING, SCOPE, ALLOWANCES, OTHER_COSTS, TYPED_PRICES)
