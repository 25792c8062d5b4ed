"""Reads a workbook into a Job: `read(path)`. Nothing here knows a rule of any code."""

from batch.intake.job import read

__all__ = ["read"]
