"""How a results workbook is known again: the words that its writer puts there and its reader looks for."""

from __future__ import annotations

import re
from collections.abc import Sequence

RECEIVED = "As received "  # before the name of the customer's sheet
READ_AS = "Read as "  # before the name of our sheet, at the end of the line of help there
OWN = ("Sheet row", "Fate", "Why")  # headings of our own columns there, before the customer's
MAPPED = "Column map: "  # before how a column map had the table, where one had it
LONGEST_HEADING = 240  # characters; a table's heading holds 255 (a limit of common programs), and a number may follow
NO_HEADING = "(column "  # how a column without a heading is headed there
READ_FIRST, TITLE = "Read first", "Immersion heater banks, sized"  # the first sheet and what its first cell says
READ_ME = "Read me first"  # a sheet of a blank job workbook that is meant for people
WHAT_CHANGED = "What changed"  # first sheet of a comparison, and the first words on it
BUDGET, OFFER = "Budget figure, not an offer", "Quotation"  # the first words of what goes to a customer
OF_POSITIONS = ("Position", "What it is", "Quantity", "Price")  # headings there; behind the last its currency
PROGRAM, MADE_FROM = "Program", "Workbook read"  # labels on Read first
KEPT_AS_DATA = "Kept as data"  # label there where a sheet of data goes with the workbook
DATA = "Sized data"  # that sheet: very hidden, for this program

STORED = {  # sheets of results that a person may have typed into, by id; the others are protected and not read again
    "banks": "Banks", "panels": "Panels", "circuits": "Circuits", "feeder_totals": "Feeders", "buy_list": "Buy list", "materials": "Materials", "carried_forward": "Carried forward",
    "panel_types": "Panel types", "heat": "Heat", "questions": "Questions",
}  # fmt: skip
OPEN, ANSWERED = "open", "answered"  # what Questions says of a question
EMPTIED = "(blank)"  # what Carried forward says of a cell that was emptied by hand
EDITED, ROWS_EDITED = "Edited", "Rows edited"  # headings of what a row of results says of itself, live
EDIT_WORDS = "edited, size again"  # what it says when it is no longer as it was sized
OF_ROWS_SHOWN = "of the rows shown"  # before the totals of a schedule
SHADED = "Shaded: what is typed there is taken when the workbook is sized again."  # at the end of a sheet's line of help
OFF_PAPER = "Not printed with the workbook as a whole. To print this sheet alone, clear its print area, or size with --print all."
RECEIVED_TITLE, RECEIVED_HELP = "As received: ", "The table as it was read, row for row and word for word; the first three columns say what became of each row."
ROLE_WORDS = {"input": "given", "calculation": "calculated", "result": "selected", "text": "reference"}  # above the headings of a schedule
RECEIVED_WORDS = {"result": "what became of it", "input": "as given"}  # above those of a sheet as received
CARRIED_WORDS = {"input": "", "calculation": "as received", "result": "in force", "text": "whose value"}
FORMERLY = ("Decided",)  # what version 0.1.0 called one of them
CONTINUED = re.compile(r" \d+\Z")  # a schedule too long for one sheet goes on in "Circuits 2"


def read_back(name: str) -> bool:
    """Whether what a person types into this sheet of results is read again, or named."""
    return name.startswith(RECEIVED) or CONTINUED.sub("", name) in STORED.values()


def read_again(names: Sequence[str]) -> frozenset[str]:
    """The sheets of a workbook that are worth reading: of a results workbook what makes it a job again, of any other all."""
    if READ_FIRST not in names or not any(name.startswith(RECEIVED) for name in names):
        return frozenset(names)
    stored = {*STORED.values(), *FORMERLY}
    return frozenset(
        name for name in names if name in (READ_FIRST, DATA) or name.startswith(RECEIVED) or CONTINUED.sub("", name) in stored
    )
