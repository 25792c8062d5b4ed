"""The comparison of two revisions: its sheets and columns, declared once. Values come from `batch.report.changes_rows`."""

from __future__ import annotations

from msgspec.structs import replace

from batch.sheets.column import Column, Role, Sheet


def _text(key: str, heading: str, width: float = 12, role: Role = "text", **more) -> Column:
    return Column(key, heading, width=width, role=role, **more)


def _number(key: str, heading: str, unit: str, format: str, *, role: Role = "calculation", width: float = 10, **more) -> Column:
    return Column(key, heading, unit, kind="number", format=format, width=width, role=role, **more)


def _both(key: str, heading: str, unit: str, format: str, *, total: str = "", us_unit: str = "") -> tuple[Column, ...]:
    """Before, after, and the difference as a live formula."""
    formula = "" if us_unit else f"[{key}_after]-[{key}_before]"
    return (
        _number(f"{key}_before", f"{heading} before", unit, format, total=total, us_unit=us_unit, help=f"{heading} in the old revision."),
        _number(f"{key}_after", f"{heading} after", unit, format, total=total, us_unit=us_unit, help=f"{heading} in the new revision."),
        _number(f"{key}_more", f"{heading} difference", unit, format, role="result", total=total, us_unit=us_unit, formula=formula,
                help="After less before."),
    )


PROJECT = _text("project", "Project", help="Project, as the new revision names it.")
TANK = _text("tank", "Tank", help="Tank tag.")
BANK = _text("bank", "Bank", 8, help="Bank of the tank.")
FEEDER = _text("feeder", "Feeder", 10, help="Feeder that the row is about.")
FATE = _text("fate", "Fate", 11, "result", help="added, removed, changed or unchanged.")
VERDICT = _text("change", "Change", 9, "result", help="new, gone, more, fewer or same.")

ROWS = Sheet(
    "compared_rows", "Rows", "row", "Every row of either revision that held data, once, with what became of it.",
    key=("sheet", "project", "tank", "bank"), named_by="part",
    columns=(
        _text("sheet", "Sheet", 10, help="Input sheet that the row stands on."),
        PROJECT, TANK, BANK, FEEDER,
        _text("part", "Part", 14, help="Part of the stock list."),
        FATE,
        _text("remark", "Remark", 40, help="Moved, perhaps renamed, or not readable."),
        _number("row_before", "Row before", "no.", "count", role="text", help="Row of the sheet in the old revision."),
        _number("row_after", "Row after", "no.", "count", role="text", help="Row of the sheet in the new revision."),
        _number("cells", "Cells changed", "ea", "count", role="result", total="sum", help="Inputs that differ; each is on Changes."),
        *_both("heaters", "Heaters", "ea", "count", total="sum"),
        *_both("kw", "Connected", "kW", "kw", total="sum"),
        *_both("branches", "Branch circuits", "ea", "count", total="sum"),
        *_both("panels", "Heater panels", "ea", "count", total="sum"),
    ),
)  # fmt: skip

CHANGES = Sheet(
    "changes", "Changes", "change", "Every cell that differs: what was given first, then what came of it. Numbers are in the unit that stands beside them.",
    columns=(
        _number("no", "No.", "", "count", role="text", width=7, help="Number of the change."),
        _text("step", "Step", 13, help="From which revision to which."),
        _text("sort", "Sort", 13, "result", help="code, program or setting; input; result; name only."),
        _text("sheet", "Sheet", 10, help="Sheet that the column belongs to."),
        replace(PROJECT, width=9), replace(TANK, width=10), replace(BANK, width=6), replace(FEEDER, width=8),
        _text("item", "Panel or part", 15, help="Tag of the panel, or the part."),
        _text("column", "Column", 18, help="What differs."),
        _text("before", "Before (in Unit)", 18, "calculation", help="In the old revision."),
        _text("after", "After (in Unit)", 18, "calculation", help="In the new revision."),
        _text("more", "Difference (in Unit)", 11, "result", help="After less before, of numbers."),
        _text("unit", "Unit", 7, help="Unit of the numbers."),
        _text("cause", "Moved by", 32, help="The change of inputs that moves this result."),
        _text("shown", "Shown", 10, help="Whether that change alone gives the new figure: the old revision was sized again with it."),
    ),
)  # fmt: skip

FEEDERS = Sheet(
    "compared_feeders", "Feeders", "feeder", "What each feeder carries and needs, before and after.", key=("project", "feeder"),
    columns=(
        PROJECT, FEEDER, FATE,
        *_both("banks", "Banks", "ea", "count", total="sum"),
        *_both("kw", "Connected", "kW", "kw", total="sum"),
        *_both("demand", "Demand", "kW", "kw", total="sum"),
        *_both("maximum", "Maximum line current", "A", "amps"),
        _number("a_before", "I A before", "A", "amps", help="Line A."), _number("a_after", "I A after", "A", "amps", help="Line A."),
        _number("b_before", "I B before", "A", "amps", help="Line B."), _number("b_after", "I B after", "A", "amps", help="Line B."),
        _number("c_before", "I C before", "A", "amps", help="Line C."), _number("c_after", "I C after", "A", "amps", help="Line C."),
        *_both("unbalance", "Unbalance", "%", "percent"),
        *_both("device", "OCPD", "A", "rating"),
        _text("wire_before", "Wire before", 22, "calculation", help="Sets x lines of size."),
        _text("wire_after", "Wire after", 22, "calculation", help="Sets x lines of size."),
    ),
)  # fmt: skip

TYPES = Sheet(
    "compared_types", "Panel types", "panel type", "Heater panels by what is built, whatever they were called: how many more or fewer.",
    key=("project", "type"),
    columns=(
        PROJECT,
        _text("type", "Type", 10, "result", help="Name in the new revision, or in the old one where it is gone."),
        _text("was", "Was called", 10, help="Name in the old revision where it is another."),
        VERDICT,
        *_both("quantity", "Quantity", "ea", "count", total="sum"),
        *_both("price", "Price", "currency", "money", total="sum"),
        _text("configuration", "Configuration", 80, help="What it is, in words."),
    ),
)  # fmt: skip

MATERIALS = Sheet(
    "compared_materials", "Materials", "part", "What to order more or less of. A line without a price is in no sum.", key=("project", "part"),
    named_by="words",
    columns=(
        PROJECT,
        _text("part", "Stock part", 20, help="The part of the stock list; blank where none was chosen."),
        _text("words", "Description", 60, help="What it does, rating and kind."),
        VERDICT,
        *_both("quantity", "Quantity", "of unit", "number"),
        _text("unit", "Unit", 7, help="ea or h."),
        *_both("length", "Length", "m", "length", us_unit="ft"),
        *_both("price", "Price", "currency", "money", total="sum"),
        _text("priced", "Priced", 25, "result", help="priced, or which revision has no price."),
    ),
)  # fmt: skip

MONEY = Sheet(
    "compared_money", "Money by cause", "cause of a part", "What moved the money of the priced parts, part by part: quantity at the old price, price break, list price at the new quantity; new, gone. The rows add up to the difference.",
    key=("project", "part", "cause"), named_by="words",
    columns=(
        PROJECT,
        _text("cause", "Cause", 18, "result", help="quantity, price break, unit price; new, gone; priced now, no longer priced."),
        _text("part", "Stock part", 20, help="The part of the stock list; blank where none was chosen."),
        _text("words", "Description", 50, help="What it does, rating and kind."),
        _text("unit", "Unit", 7, help="Unit of the quantity: ea, h, ft or m; of money, where a line is so many per cent of the price of raceway."),
        *_both("quantity", "Quantity", "of unit", "number"),
        _number("price_before", "Unit price before", "currency", "number", help="For one of the unit, in the project's currency; blank: none."),
        _number("price_after", "Unit price after", "currency", "number", help="The same in the new revision."),
        _number("moved", "Moved", "currency", "money", role="result", total="sum", help="What this cause moved."),
    ),
)

PRICE_STEPS = Sheet(
    "compared_price", "Price by cause", "step", "The price before tax, with one thing after another replaced by what it is now: the steps add up to the difference. Of projects that have a price in both revisions.",
    key=("project", "step"),
    columns=(
        PROJECT,
        _text("step", "Replaced", 46, "result", help="In this order; each step stands on those before it. waste and allowances: what other ends of conductors, waste and rules of Allowances move, counted on the new rows."),
        _number("moved", "Moved", "currency", "money", role="result", width=14, help="What it moved."),
        _number("after", "Price then", "currency", "money", width=14, help="The price with it and all steps before it; in the last row the price now."),
    ),
)

FINDINGS = Sheet(
    "compared_findings", "Findings", "finding", "What is said in one revision more often than in the other, worst first; notes by kind.",
    named_by="feeder",
    columns=(
        _text("severity", "Severity", 10, "result", help="hold, caution or note."),
        VERDICT,
        _text("code", "Code", 26, help="Kind of finding."),
        PROJECT, TANK, BANK, FEEDER,
        *_both("rows", "Rows", "ea", "count", total="sum"),
        _text("message", "What", 60, help="As the newer of the two says it."),
        _text("advice", "What to do", 50, help="How to put it right."),
    ),
)  # fmt: skip

HEADINGS = Sheet(
    "compared_headings", "Headings", "heading", "Columns of the input sheets that came, went or are headed otherwise.",
    named_by="after",
    columns=(
        _text("sheet", "Sheet", 12, help="Input sheet."),
        VERDICT,
        _text("before", "Heading before", 34, "calculation", help="In the old revision."),
        _text("after", "Heading after", 34, "calculation", help="In the new revision."),
        _number("rows", "Rows filled in", "ea", "count", help="Rows that it is filled in for."),
    ),
)  # fmt: skip

COMPARED: tuple[Sheet, ...] = (ROWS, CHANGES, FEEDERS, TYPES, MATERIALS, MONEY, PRICE_STEPS, FINDINGS, HEADINGS)
