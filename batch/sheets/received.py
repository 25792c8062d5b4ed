"""How a results workbook is known again: the words that its writer puts there and its reader looks for."""

from __future__ import annotations

RECEIVED = "As received "  # before the name of the customer's sheet
READ_AS = "Read as "  # before the name of our sheet, at the end of the line of help there
OWN = ("Sheet row", "Fate", "Why")  # headings of our own columns there, before the customer's
NO_HEADING = "(column "  # how a column without a heading is headed there
READ_FIRST, TITLE = "Read first", "Immersion heater banks, sized"  # the first sheet and what its first cell says
READ_ME = "Read me first"  # a sheet of a blank job workbook that is meant for people
WHAT_CHANGED = "What changed"  # first sheet of a comparison, and the first words on it
PROGRAM, MADE_FROM = "Program", "Workbook read"  # labels on Read first
