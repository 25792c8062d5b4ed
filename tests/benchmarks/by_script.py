"""What an estimator may have instead: a script that reads the heater list with openpyxl, loops over the rows, and writes a sheet.

    python -m tests.benchmarks.by_script JOB.xlsx OUT.xlsx

Current of a bank and of each heater, 125 %, the next standard fuse, copper at 75 °C that carries it: one row a bank, a sum a feeder. It
does a small part of the work (no panels, phasors, supply, findings, heat, drawings, prices), and is timed for what it is.
"""

from __future__ import annotations

import csv
import math
import sys
from collections import defaultdict
from pathlib import Path

import openpyxl
from openpyxl.styles import Font

TABLES = Path(__file__).resolve().parents[2] / "batch" / "rules" / "nec_2023"
CONTINUOUS = 1.25  # of a continuous load, as the rule set has it
HEADINGS = ("Tank", "Feeder", "Heaters", "kW", "A a heater", "Minimum A", "Fuse A", "Wire", "Bank A", "Bank fuse A", "Bank wire")


def column(table: str, name: str, figure: str) -> list[tuple[float, str]]:
    """The figures of a table from the smallest, each with what it is called."""
    with (TABLES / table).open(newline="", encoding="utf-8") as file:
        return [(float(row[figure]), row[name]) for row in csv.DictReader(file) if row[figure]]


def next_of(ladder: list[tuple[float, str]], least: float) -> str:
    return next((name for figure, name in ladder if figure >= least), "none")


def main(job: str, out: str) -> None:
    fuses, wires = column("table_240_6_a.csv", "rating_a", "rating_a"), column("table_310_16.csv", "size", "cu_75c_a")
    sheet = openpyxl.load_workbook(job)["Heaters"]
    rows = sheet.iter_rows(values_only=True)
    at = {str(heading).partition(" (")[0].rstrip(" *"): place for place, heading in enumerate(next(rows))}
    book = openpyxl.Workbook()
    banks = book.active
    banks.title = "Banks"
    banks.append(HEADINGS)
    feeders: dict[str, float] = defaultdict(float)
    for row in rows:
        quantity, power, volts, phases = (float(row[at[key]] or 0) for key in ("Quantity", "Power", "Volts", "Phases"))
        each = power * 1000 / volts / (math.sqrt(3) if phases == 3 else 1)
        bank = quantity * power * 1000 / volts / math.sqrt(3)
        least, feed = each * CONTINUOUS, bank * CONTINUOUS
        feeders[str(row[at["Feeder"]])] += bank
        banks.append((
            row[at["Tank"]], row[at["Feeder"]], quantity, power, each, least, next_of(fuses, least), next_of(wires, least),
            bank, next_of(fuses, feed), next_of(wires, feed),
        ))  # fmt: skip
    for cell in banks[1]:
        cell.font = Font(bold=True)
    for cells in banks.iter_rows(min_row=2, min_col=5, max_col=9):
        for cell in cells:
            cell.number_format = "0.0"
    totals = book.create_sheet("Feeders")
    totals.append(("Feeder", "A"))
    for feeder, amps in feeders.items():
        totals.append((feeder, amps))
    book.save(out)


if __name__ == "__main__":
    main(*sys.argv[1:])
