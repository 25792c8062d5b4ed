"""A customer's own workbook with results to the right of its rows, and nothing else changed."""

from __future__ import annotations

from collections.abc import Mapping
from hashlib import sha256
from pathlib import Path
from zipfile import ZipFile

from msgspec.structs import replace

from batch.errors import CannotFill
from batch.filling.answers import below_lines, sheet_answers
from batch.filling.around import look_around
from batch.filling.may_fill import open_package
from batch.filling.sheet_fill import SheetFill
from batch.findings import Finding, Severity, find, remark
from batch.intake.workbook import load
from batch.ooxml.repack import repacked
from batch.results import JobResult
from batch.whole_file import whole_file
from batch.writing.earlier_file import saved_since

MACROS = "workbook-macros"  # says that macros are not copied, as is so everywhere else


def may_fill(source: Path) -> None:
    """Refuses a workbook that must not or cannot be filled, before it is sized.

    Raises:
        CannotFill, InputFileError
    """
    try:
        open_package(load(source), str(source))
    except CannotFill as why:
        raise _refusal(source, why) from None


def write_filled(source: Path, result: JobResult, target: Path, program: str) -> JobResult:
    """Writes a copy of `source` with `result` filled in to `target`; returns the result with what there is to say of that file.

    A sheet that cannot safely be filled is left as it is and is a finding; where that is so of every sheet, nothing is written.

    Raises:
        CannotFill: one line: why not, and what to do.
        InputFileError: the file cannot be read.
        OutputFileError
    """
    data = load(source)
    macros = any(finding.code == MACROS for finding in result.findings)
    result = replace(result, findings=tuple(finding for finding in result.findings if finding.code != MACROS))
    try:
        if sha256(data).hexdigest() != result.job.digest:
            raise CannotFill("it was changed while it was being sized: save it, and fill it again")
        changed, about, said = _filled_parts(data, str(source), result, program)
        new = repacked(data, changed)
    except CannotFill as why:
        raise _refusal(source, why) from None
    with whole_file(target) as landing:
        landing.why = landing.why or saved_since(landing.wanted, source)
        landing.path.write_bytes(new)
        _look_again(landing.path, changed)
    if macros:
        about.append("its macros were not run, and are copied as they are")
    findings = (*result.findings, *said)
    return replace(result, findings=findings, written=str(landing.landed), aside=landing.why, about=tuple(about))


def _refusal(source: Path, why: CannotFill) -> CannotFill:
    return CannotFill(f"{source}: not filled in: {why}")


def _filled_parts(data: bytes, name: str, result: JobResult, program: str) -> tuple[dict[str, bytes], list[str], list[Finding]]:
    """The parts of the sheets that are filled; what there is to say of them; what is found of those that are not."""
    around = look_around(data, name)
    fills: list[SheetFill] = []
    refused: dict[str, str] = {}
    answers, rest = sheet_answers(result)
    for one in answers:
        try:
            fills.append(SheetFill(around, one))
        except CannotFill as why:
            tab = one.sheet if one.sheet in around.sheets else one.sheet.rpartition(", columns ")[0]
            refused.setdefault(tab, str(why))
            rest += (finding for finding in one.said if finding.severity is not Severity.NOTE)  # its rows have no answers to be noted
    if not fills:
        raise CannotFill(_why_none(refused))
    said = [find(remark("sheet-not-filled", sheet=tab, why=why), sheet=tab) for tab, why in refused.items()]
    below = list(below_lines(result, program, [*said, *rest]))
    return {fill.part: fill.write(below) for fill in fills}, [line for fill in fills for line in fill.words()], said


def _why_none(refused: Mapping[str, str]) -> str:
    if not refused:
        return "no sheet of it could be read as a heater list with rows: see what the command `check` says of it"
    return "; ".join(f"sheet {tab}: {why}" for tab, why in refused.items())


def _look_again(path: Path, changed: Mapping[str, bytes]) -> None:
    """Reopens what was written: the changed parts must be there, whole."""
    with ZipFile(path) as package:
        for info in package.infolist():
            part = info.filename.replace("\\", "/").lstrip("/")
            if part in changed and package.read(info) != changed[part]:
                raise OSError(f"the part {part} of the file just written is not what it should be")
