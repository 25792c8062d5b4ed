"""THE column specification: every sheet and column, in and out, declared once.

The blank template, the reader, the writer, the comparison and the manual are made from these records.
"""

from batch.sheets.column import Column, Sheet
from batch.sheets.filled import FILLED
from batch.sheets.inputs import FEEDERS, HEATERS, INPUTS, PROJECTS, STOCK, TANKS
from batch.sheets.results import CHECKS, RESULTS

__all__ = ["CHECKS", "FEEDERS", "FILLED", "HEATERS", "INPUTS", "PROJECTS", "RESULTS", "STOCK", "TANKS", "Column", "Sheet"]
