"""THE column specification: how a column is declared, and every sheet and column that goes in. What comes out is `batch.schedules`.

The blank template, the reader, the writer, the comparison and the manual are made from these records.
"""

from batch.sheets.column import Column, Sheet
from batch.sheets.filled import FILLED
from batch.sheets.filled import TITLES as FILLED_TITLES
from batch.sheets.inputs import FEEDERS, HEATERS, INPUTS, PROJECTS, SOURCES, STOCK, TANKS

__all__ = ["FEEDERS", "FILLED", "FILLED_TITLES", "HEATERS", "INPUTS", "PROJECTS", "SOURCES", "STOCK", "TANKS", "Column", "Sheet"]
