"""What the menu of the spreadsheet program calls: a file with the question in, a file with the answer out, one line and what to open."""

from __future__ import annotations

import sys
from datetime import date
from pathlib import Path

import batch
from batch.counted_words import counted
from batch.errors import JobError
from batch.results import JobResult
from batch.writing.earlier_file import free_place

ANSWER = "answer.txt"


def main(arguments: list[str]) -> int:
    """`arguments`: the file with the question, a line each: what to do, the workbook's copy, the workbook itself, an earlier revision."""
    request = Path(arguments[0])
    what, copy, job, earlier = (*request.read_text(encoding="utf-8").split("\n"), "", "", "")[:4]
    try:
        words, opened = answer(what, Path(copy), Path(job), earlier)
    except JobError as fault:
        words, opened = str(fault).replace(copy, Path(job).name), ""
    except Exception as fault:  # a fault of the program: a dialog of one line, never a trace
        words, opened = f"A fault in this program, {type(fault).__name__}: {fault}; nothing was written.", ""
    lines = (" ".join(words.split()), opened)
    (request.parent / ANSWER).write_text("\n".join(lines) + "\n", encoding="utf-8", newline="\n")
    return 0


def answer(what: str, copy: Path, job: Path, earlier: str) -> tuple[str, str]:
    """Does one thing with a copy of a workbook, results beside the workbook itself; returns a line to show and a file to open, "" = none.

    Raises:
        JobError: it cannot be done; the line that says why.
    """
    if what == "size":
        target = free_place(batch.result_path(job))[0]
        result = batch.size(copy, target, stamp=date.today().isoformat(), print_set="default")
        return f"{said(result)} Written: {Path(result.written).name}", result.written
    if what == "check":
        from batch.report.findings_page import write_findings_page

        result = batch.check(copy)
        page = write_findings_page(result, copy.with_name(f"findings of {job.stem}.xlsx"), job)
        return said(result), str(page)
    if what == "compare":
        history = batch.compare(earlier, copy, target=free_place(batch.comparison_path(earlier, job))[0], stamp=date.today().isoformat())
        return " ".join(history.text[:2]), history.written
    if what == "fill":
        result = batch.fill(copy, free_place(batch.filled_path(job))[0])
        return said(result), result.written
    raise JobError(f"{what}: the menu asks for something that this program does not know: write the menu again")


def said(result: JobResult) -> str:
    """A job in a line."""
    from batch.closing_counts import tally
    from batch.schedules import rows

    line = tally("", result, rows(result, "findings"), "")
    found = f"{counted(line.holds, 'hold')}, {counted(line.cautions, 'caution')}, {counted(line.not_sized, 'row')} not sized."
    words = f"{counted(line.banks, 'bank')}, {counted(line.heaters, 'heater')}, {line.kw:,.1f} kW; {found}"
    return words + (" FAIL in its own checks: do not use these results." if line.failed_checks else "")


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
