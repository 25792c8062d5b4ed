"""Results workbooks of the samples, each made once for all tests that look at them."""

from __future__ import annotations

import atexit
import shutil
import tempfile
from functools import cache
from pathlib import Path
from typing import NamedTuple

import openpyxl

import batch
from batch.results import JobResult
from tests import make_samples
from tests.samples import broken, customer

SMALL, PLANT, FINDINGS = "small-clean.xlsx", "whole-plant.xlsx", "every-finding.xlsx"
LOOKED_AT = (SMALL, PLANT, FINDINGS)
OTHERS = (
    "customer-list.xlsx",
    *(f"revisions/{path.name}" for path in sorted((make_samples.HERE / "revisions").glob("line-4-rev-?.xlsx"))),
    *(f"broken/{name}" for name in broken.OWN),
)
ALL = (*LOOKED_AT, *OTHERS)


class Sized(NamedTuple):
    path: Path
    result: JobResult


@cache
def _folder() -> Path:
    folder = Path(tempfile.mkdtemp(prefix="sample-results-"))
    atexit.register(shutil.rmtree, folder, ignore_errors=True)
    return folder


@cache
def sized(name: str) -> Sized:
    """The results workbook of a sample."""
    source = make_samples.HERE / name
    path = _folder() / f"{name.replace('/', ', ')} sized.xlsx"
    column_map = make_samples.HERE / customer.MAP if name.startswith("customer-list") else None
    return Sized(path, batch.size(source, path, column_map=column_map))


@cache
def opened(name: str) -> openpyxl.Workbook:
    """It, opened: formulas as formulas."""
    return openpyxl.load_workbook(sized(name).path)


@cache
def opened_values(name: str) -> openpyxl.Workbook:
    """It, opened: stored values."""
    return openpyxl.load_workbook(sized(name).path, data_only=True)
