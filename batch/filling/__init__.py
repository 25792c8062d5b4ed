"""Results in a copy of a customer's own workbook. Cells are put into the XML of the sheet; nothing is loaded and saved."""

from batch.filling.fill import may_fill, write_filled

__all__ = ["may_fill", "write_filled"]
