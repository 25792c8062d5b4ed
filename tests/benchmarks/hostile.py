"""The worst files of up to 50 MB inflated that we could think of, each read in a process of its own: seconds and memory.

`python -m tests.benchmarks.hostile [CASE …]`; the aim is at most 20 s and 1 GiB for each, read or refused. Nothing here is a test.
"""

from __future__ import annotations

import resource
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

from batch.errors import InputFileError
from batch.intake import read
from tests.intake_book import GOOD, HEADINGS, SHEET_PART, book, edited

LARGEST = 50 << 20  # bytes inflated
PLAIN = book({"Heaters": [HEADINGS, GOOD]})
LAST_ROW = 1_048_576
TAG = '<c r="A{0}"><v>1</v></c>'


def rows(cells: str, most: int = LAST_ROW, attributes: str = "") -> bytes:
    """Rows with these cells, from row 3 on, up to the limit of bytes; {0} is the row's number."""
    made, size = [], 0
    for number in range(3, most + 1):
        row = f'<row r="{number}"{attributes}>{cells.format(number)}</row>'.encode()
        size += len(row)
        if size > LARGEST:
            break
        made.append(row)
    return b"".join(made)


def text(column: str, words: str) -> str:
    return f'<c r="{column}{{0}}" t="inlineStr"><is><t>{words}</t></is></c>'


def sheet(more: bytes, tail: bytes = b"") -> bytes:
    return edited(PLAIN, SHEET_PART, lambda part: part.replace(b"</sheetData>", more + b"</sheetData>" + tail))


def part(name: str, before: bytes, more: bytes) -> bytes:
    return edited(PLAIN, name, lambda content: content.replace(before, more + before))


def twelve_wide_sheets() -> bytes:
    data = book({f"S{number}": [HEADINGS, GOOD] for number in range(12)})
    more = rows('<c r="CV{0}"><v>1</v></c>', 79_000)
    return edited(data, r"xl/worksheets/sheet\d+\.xml", lambda content: content.replace(b"</sheetData>", more + b"</sheetData>"))


def strange_list() -> bytes:
    """As many rows of equipment as are read, one heater in a hundred."""
    kinds = [["Pump", 5.5], *[["Fan", 2.2]] * 98, ["Immersion heater", 12]]
    listed = [[f"P-{at}", *kinds[at % 100], 480, 3, 1] for at in range(95_000)]
    return book({"Equipment": [["Tag", "Description", "kW", "Volts", "Ph", "Qty"], *listed]})


def merged(reference: str, count: int) -> bytes:
    return b"<mergeCells>" + f'<mergeCell ref="{reference}"/>'.encode() * count + b"</mergeCells>"


CASES: dict[str, Callable[[], bytes]] = {
    "a tag in every row": lambda: sheet(rows(TAG)),
    "a tag in as many rows as are read": lambda: sheet(rows(TAG, 95_000)),
    "faults in as many rows as are read": lambda: sheet(
        rows(text("A", "T{0}") + text("B", "x{0}") + '<c r="C{0}" t="e"><v>#N/A</v></c>', 95_000)
    ),
    "faults in every row": lambda: sheet(rows(text("A", "T{0}") + text("B", "x{0}") + '<c r="C{0}" t="e"><v>#N/A</v></c>')),
    "a list in a layout of its own": strange_list,
    "heaters in every row": lambda: sheet(rows(TAG + "".join(f'<c r="{column}{{0}}"><v>3</v></c>' for column in "BCDE"))),
    "errors": lambda: sheet(rows('<c r="A{0}" t="e"><v>#N/A</v></c>')),
    "formulas never calculated": lambda: sheet(rows('<c r="A{0}"><f>1+{0}</f></c>')),
    "hidden rows": lambda: sheet(rows(TAG, attributes=' hidden="1"')),
    "numbers with two meanings": lambda: sheet(rows(TAG + text("C", "1,250"))),
    "headings over and over": lambda: sheet(
        rows("".join(map(text, "ABCDE", ("Tank", "Power", "Quantity", "Volts", "Phases"))), 90_000)
    ),
    "cells far apart": lambda: sheet(rows(TAG + '<c r="IV{0}"><v>1</v></c>')),
    "a cell in the last row": lambda: sheet(text("A", "end").format(LAST_ROW).join((f'<row r="{LAST_ROW}">', "</row>")).encode()),
    "twelve wide sheets": twelve_wide_sheets,
    "merged cells over one another": lambda: sheet(rows(TAG, 150_000), merged("D2:D900000", 1_000_000)),
    "styles": lambda: part("xl/styles.xml", b"</cellXfs>", b'<xf numFmtId="9"/>' * (LARGEST // 19)),
    "shared texts": lambda: part("xl/sharedStrings.xml", b"</sst>", b"<si><t>ab</t></si>" * (LARGEST // 18)),
    "one long text": lambda: part("xl/sharedStrings.xml", b"</sst>", b"<si><t>" + b"x" * LARGEST + b"</t></si>"),
    "a long comment": lambda: part(SHEET_PART, b"<sheetData>", b"<!--" + b"x" * LARGEST + b"-->"),
    "sheets": lambda: part("xl/workbook.xml", b"</sheets>", b'<sheet name="n" sheetId="9" r:id="rId1"/>' * 250_000),
}  # fmt: skip


def measure(path: str) -> None:
    """The child: reads one file and tells how it went."""
    began = time.perf_counter()
    try:
        job = read(Path(path))
        told = f"read: {len(job.banks)} banks, {len(job.findings)} findings"
    except InputFileError as refusal:
        told = "refused: " + str(refusal).removeprefix(f"{path}: ")
    memory = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss >> 10
    print(f"{time.perf_counter() - began:6.1f} s {memory:6} MB  {told[:110]}")


def main(chosen: list[str]) -> None:
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "case.xlsx"
        for name in chosen or CASES:
            path.write_bytes(CASES[name]())
            call = f"from tests.benchmarks.hostile import measure; measure({str(path)!r})"
            child = subprocess.run([sys.executable, "-c", call], capture_output=True, text=True, timeout=300, check=False)
            print(f"{name:36} {child.stdout.strip() or f'the child ended with {child.returncode}: {child.stderr[-200:]}'}", flush=True)


if __name__ == "__main__":
    main(sys.argv[1:])
