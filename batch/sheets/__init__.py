"""THE column specification: every sheet and column, in and out, declared once.

The blank template, the reader, the writer, the comparison and the manual are made from these records.
"""

from batch.sheets.column import Column, Sheet
from batch.sheets.filled import FILLED
from batch.sheets.heat_columns import HEAT
from batch.sheets.inputs import FEEDERS, HEATERS, INPUTS, PROJECTS, STOCK, TANKS
from batch.sheets.results import CHECKS, ELECTRICAL

_BEHIND = next(at for at, sheet in enumerate(ELECTRICAL) if sheet.id == "feeder_totals") + 1
RESULTS: tuple[Sheet, ...] = (*ELECTRICAL[:_BEHIND], HEAT, *ELECTRICAL[_BEHIND:])

__all__ = ["CHECKS", "FEEDERS", "FILLED", "HEAT", "HEATERS", "INPUTS", "PROJECTS", "RESULTS", "STOCK", "TANKS", "Column", "Sheet"]
