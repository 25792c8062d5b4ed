"""The firm's own stock list: the Stock sheet of a workbook in its folder, read as a further table of every job.

It goes with the job into its results, as a sheet of its own among those as received: a results workbook is sized again with the stock
that it was sized with, wherever it is opened.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from contextvars import ContextVar
from functools import lru_cache
from hashlib import sha256
from pathlib import Path
from typing import NamedTuple

from batch.errors import InputFileError
from batch.findings import Finding, Severity, find, remark
from batch.intake.grid import Grid
from batch.intake.headings import Matcher
from batch.intake.names import Names, fold, keep_first
from batch.intake.recognise import recognise
from batch.intake.rows import read_table
from batch.intake.table import Table, Tables, rows_worded
from batch.intake.workbook import load, open_workbook
from batch.sheets import INPUTS, Sheet

FIRM_STOCK = "Stock of the firm"  # what its sheet is called in a job
STOCK: Sheet = next(sheet for sheet in INPUTS if sheet.id == "stock")
NAMED = 4  # parts written out in one finding

_used: ContextVar[FirmStock | None] = ContextVar("firm_stock", default=None)


class FirmStock(NamedTuple):
    """The firm's list, read and found without fault. Its rows are read anew for each job, since a job may have parts of its own."""

    file: Path
    grid: Grid
    parts: int
    checksum: str


@contextmanager
def firm_stock(file: Path | None) -> Iterator[None]:
    """While it lasts, every job has the parts of this file beside its own. None: no others.

    Raises:
        InputFileError: the file is no workbook with a Stock sheet, or a row or cell of it is not as it should be; it is named.
    """
    token = _used.set(None if file is None else stock_of(file))
    try:
        yield
    finally:
        _used.reset(token)


def stock_in_use() -> FirmStock | None:
    return _used.get()


def stock_of(file: Path) -> FirmStock:
    """The stock list of a file, read once as long as it does not change; InputFileError as in `firm_stock`."""
    try:
        stamp = file.stat()
    except OSError as fault:
        raise InputFileError(f"{file}: the firm's stock list cannot be read ({fault.strerror}): check the folder") from None
    return _read(file, stamp.st_mtime_ns, stamp.st_size)


@lru_cache(maxsize=4)
def _read(file: Path, changed: int, size: int) -> FirmStock:
    matchers = {sheet.id: Matcher(sheet) for sheet in INPUTS}
    book = open_workbook(load(file), str(file))
    found = [grid for grid, kind in recognise(book.grids, matchers).sheets if kind is not None and kind.id == STOCK.id]
    if not found:
        raise InputFileError(f"{file}: no sheet is called Stock; name that of the firm's stock list so, headed as in the blank form")
    tables, names = Tables(STOCK), Names()
    table = read_table(found[0], matchers[STOCK.id])
    tables.all.append(table)
    refused = {number: table.refused[number] for number in table.data_rows_refused()}
    keep_first(tables, "part", "part-repeated", names, unless="from_quantity")
    for one in (*table.findings, *names.findings):
        if one.severity is not Severity.NOTE:
            raise InputFileError(f"{file}, {_place(one)}: {one.message} {one.kind.advice}")
    if refused:
        number, why = min(refused.items())
        raise InputFileError(f"{file}, sheet {found[0].name}, row {number}: {why}; correct the firm's stock list")
    if not table.rows:
        raise InputFileError(f"{file}, sheet {found[0].name}: no part is listed; list some as in the blank form, or remove the file")
    grid = found[0]
    grid.name = FIRM_STOCK
    return FirmStock(file, grid, len({fold(row.values["part"]) for row in table.rows}), _checksum(table))


def _place(said: Finding) -> str:
    row = "".join(filter(str.isdigit, said.cell))
    return f"sheet {said.sheet}" + (f", row {row}, cell {said.cell}" if row else f", {said.cell}" if said.cell else "")


def _checksum(table: Table) -> str:
    """Eight characters that change with any value of the list, however it is laid out."""
    rows = sorted(repr(sorted((key, str(value)) for key, value in row.values.items())) for row in table.rows)
    return sha256("\n".join(rows).encode()).hexdigest()[:8]


def of_the_firm(table: Table) -> bool:
    """Whether a table is the firm's stock list: of this call, or as received with a job that was sized with it."""
    return table.grid.name.endswith(FIRM_STOCK)


def add_stock(tables: dict[str, Tables], matchers: Mapping[str, Matcher], brought: Sequence[Grid] | None = None) -> Table | None:
    """Adds the stock list in use to a job's own tables; returns it. `brought`: what results bring along in its stead, or nothing."""
    own = stock_in_use() if brought is None else None
    grid = own.grid if own is not None else next(iter(brought or ()), None)
    if grid is None:
        return None
    table = read_table(grid, matchers[STOCK.id])
    tables.setdefault(STOCK.id, Tables(STOCK)).all.append(table)
    return table


def settle_stock(tables: Tables | None) -> list[Finding]:
    """A part that the job lists itself is the job's: the firm's rows of it are not used. Says so, and what list it is."""
    firms = [table for table in tables.all if of_the_firm(table)] if tables is not None else []
    if tables is None or not firms:
        return []
    said = []
    jobs = {fold(row.values["part"]) for table in tables.all if table not in firms for row in table.rows}
    for table in firms:
        checksum, sheet = _checksum(table), table.grid.name
        taken = [row for row in table.rows if fold(row.values["part"]) in jobs]
        parts = len({fold(row.values["part"]) for row in table.rows})
        said.append(find(remark("stock-of-firm", count=parts, checksum=checksum), sheet=sheet))
        if taken:
            for row in taken:
                table.refuse(row, "the job's own Stock sheet gives the part")
            names = list(dict.fromkeys(str(row.values["part"]) for row in taken))
            examples = ", ".join(names[:NAMED]) + (", …" if len(names) > NAMED else "")
            rows = rows_worded([row.number for row in taken])
            said.append(find(remark("stock-of-job-first", count=len(names), examples=examples, rows=rows), sheet=sheet))
    tables.drop_refused()
    return said
