"""BARE: python-calamine reads the job workbook, stock xlsxwriter writes the captured cells. Run as a process of its own.

    python -m tests.benchmarks.bare JOB.xlsx CELLS OUT.xlsx

Prints the seconds, of the clock and of CPU, spent on loading CELLS, which the caller takes off: the product does not do that work.
"""

from __future__ import annotations

import marshal
import sys
import time
from pathlib import Path

import xlsxwriter
from python_calamine import CalamineWorkbook


def read(job: Path) -> int:
    """Reads every sheet; returns the number of cells."""
    book = CalamineWorkbook.from_path(str(job))
    return sum(len(row) for name in book.sheet_names for row in book.get_sheet_by_name(name).to_python(skip_empty_area=False))


def write(captured: dict, out: Path) -> None:
    """Writes the same cells, formulas, formats, widths and tables with the stock methods."""
    book = xlsxwriter.Workbook(str(out))
    formats = [book.add_format(properties) for properties in captured["formats"]]
    for source in captured["sheets"]:
        sheet = book.add_worksheet(source["name"])
        for first, last, width, style in source["columns"]:
            sheet.set_column(first, last, width, formats[style] if style else None)
        for row, height in source["heights"]:
            sheet.set_row(row, height)
        for area, heads in source["tables"]:
            sheet.add_table(area, {"columns": [{"header": head} for head in heads]})
        number, string, formula, blank, boolean = (
            sheet.write_number, sheet.write_string, sheet.write_formula, sheet.write_blank, sheet.write_boolean,
        )
        for row, at, kind, value, text, style in source["cells"]:
            if kind == "n":
                number(row, at, value, formats[style])
            elif kind == "s":
                string(row, at, value, formats[style])
            elif kind == "formula":
                formula(row, at, f"={text}", formats[style], value)
            elif kind == "b":
                boolean(row, at, value == "1", formats[style])
            else:
                blank(row, at, None, formats[style])
    book.close()


def main(job: str, cells: str, out: str) -> None:
    read(Path(job))
    began, worked = time.perf_counter(), time.process_time()
    with Path(cells).open("rb") as stream:
        captured = marshal.load(stream)
    loading = time.perf_counter() - began, time.process_time() - worked
    write(captured, Path(out))
    print(*loading)


if __name__ == "__main__":
    main(*sys.argv[1:])
