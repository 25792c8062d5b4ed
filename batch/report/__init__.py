"""The results workbook and the blank job workbook."""

from batch.report.results_workbook import write
from batch.report.template import blank

__all__ = ["blank", "write"]
