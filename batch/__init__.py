"""Sizes the electrical supply of immersion heaters for a whole plant of tanks, workbook to workbook."""

__version__ = "0.1.0"
