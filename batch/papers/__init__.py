"""Drawings and lists of a job as one PDF: what it says is gathered here, how it looks stands in text templates that a firm may edit."""

from __future__ import annotations

from batch.papers.paper_file import print_job
from batch.papers.paper_sets import AUDIENCES

__all__ = ["AUDIENCES", "print_job"]
