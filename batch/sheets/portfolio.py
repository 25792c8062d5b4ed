"""The portfolio: a line for each bid of a folder, or for each section of a divided job. Values come from `batch.watch.bids`."""

from __future__ import annotations

from msgspec.structs import replace

from batch.sheets.column import Column, Sheet


def _text(key: str, heading: str, width: float, **more) -> Column:
    return Column(key, heading, width=width, role=more.pop("role", "text"), **more)


def _count(key: str, heading: str, **more) -> Column:
    return Column(key, heading, "ea", kind="integer", format="count", width=10, role="calculation", total="sum", **more)


PORTFOLIO = Sheet(
    "portfolio", "Portfolio", "bid", "Every bid of the folder, sized or not, and what became of it.",
    key=("bid",),
    columns=(
        _text("bid", "Bid", 34, help="Job workbook, as it lies under the folder."),
        _text("state", "State", 18, role="result", help="sized; sized, review; some rows not sized; failed."),
        _text("what", "What it is", 34, help="Titles of its projects."),
        _count("tanks", "Tanks", help="Tanks with heaters that were sized."),
        _count("banks", "Banks", help="Banks that were sized."),
        _count("heaters", "Heaters", help="Heaters that were sized."),
        Column("kw", "Connected", "kW", kind="number", format="kw", width=11, role="result", total="sum", help="At the heaters' own ratings."),
        _count("panels", "Heater panels", help="Heater panels of all types."),
        _count("feeders", "Feeders", help="Feeders with heaters on them."),
        Column("amount", "Price before tax", "its currency", kind="number", format="money", width=14, role="result",
               help="Of what is priced; with no rates or profit given that of the parts alone. Blank: no price, or several currencies."),
        _text("currency", "Currency", 10, help="Of the price."),
        _text("whole", "Price is", 12, role="result", help="complete; incomplete: at least so much, or parts alone, Price in words says what is open; no price."),
        _text("price", "Price in words", 34, role="result", help="What its parts come to, in words: how much of it is priced is part of the answer."),
        _count("not_sized", "Rows not sized", help="Rows of heaters that are in no total."),
        _count("holds", "Holds", help="Findings by which something is not released or not sized."),
        _count("cautions", "Cautions", help="Findings to be looked at."),
        _text("fault", "Fault", 50, help="Why it could not be read or written; blank where it was."),
        Column("seconds", "Time", "s", kind="number", format="number", width=9, role="text", total="sum", help="How long it took."),
        _text("results", "Results", 40, help="Where its results are."),
    ),
)  # fmt: skip
NOT_YET, OF_BEFORE = "not sized yet", "of an earlier run"  # states of a section, beside those of bids
OF_PRICE = ("amount", "currency", "whole", "price")  # what is priced is not divided
SECTIONS = replace(
    PORTFOLIO, id="sections", name="Sections", rows="section",
    help="This job is more than one workbook holds well. Each of its sections is a workbook of its own beside this one; all of them together "
         "are the job. Types of panels are named, and materials and spares counted, in each section by itself; what is said of the whole job "
         "(its sheets, rows of no listed project that may hang on any feeder) is counted in each.",
    columns=(
        _text("bid", "Section", 34, help="Its name; that of its workbook is under Results."),
        _text("state", "State", 18, role="result",
              help=f"sized; sized, review; some rows not sized; failed; {NOT_YET}: a workbook of its name is not of this run; "
                   f"{OF_BEFORE}: no section of the job as it is now."),
        *(column for column in PORTFOLIO.columns[2:] if column.key not in OF_PRICE),
    ),
)  # fmt: skip
