"""What a command says when its work is done: counts, exit code, and the lines for a screen or a log. Words only; `cli` prints."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from typing import NamedTuple

from batch.findings import Effect, Severity
from batch.heat_results import NOT_JUDGED, VERDICTS
from batch.results import JobResult

SIZED, LOOK, WRONG_COMMAND, FILE_FAULT, NOT_ALL_SIZED, STOPPED = 0, 1, 2, 3, 4, 130
WORST_LAST = (SIZED, LOOK, NOT_ALL_SIZED, FILE_FAULT)
KINDS_SHOWN = 12  # kinds of finding on the screen after sizing; what was written has them all


class Tally(NamedTuple):
    """What the closing table says of one workbook."""

    workbook: str
    projects: int
    tanks: int
    banks: int
    heaters: int
    kw: float
    holds: int
    cautions: int
    notes: int
    not_sized: int
    failed_checks: int
    written: str
    heat: str = ""  # how many tanks have heat enough, in words; "" = none was judged


def tally(name: str, result: JobResult, listed: Sequence[Mapping], written: str) -> Tally:
    """`listed` is the Findings sheet's rows with their counts, so that the screen counts as Read first does."""
    banks = [row for project in result.projects for row in project.banks]
    severities: Counter[str] = Counter()
    for line in listed:
        severities[line["severity"]] += line["count"]
    return Tally(
        name,
        projects=len(result.projects),
        tanks=len({(row.bank.project, row.bank.tank) for row in banks}),
        banks=len(banks),
        heaters=sum(row.bank.quantity for row in banks),
        kw=sum(row.design.connected_kw for row in banks),
        holds=severities[Severity.HOLD.word],
        cautions=severities[Severity.CAUTION.word],
        notes=severities[Severity.NOTE.word],
        not_sized=heater_rows_not_sized(result),
        failed_checks=sum(not check.passes for check in result.checks),
        written=written,
        heat=heat_words(result),
    )


def heat_words(result: JobResult) -> str:
    """ "2 short, 215 enough, 1 not judged": the heat check in a line."""
    counts = Counter(row.verdict for project in result.projects for row in project.heat)
    return ", ".join(f"{counts[word]:,} {word}" for word in VERDICTS if counts[word]) if set(counts) - {NOT_JUDGED} else ""


def heater_rows_not_sized(result: JobResult) -> int:
    """Rows of the heater list that held data and are in no total: refused in reading, or not sized."""
    from batch.intake.table import NO_DATA

    heaters = [table for table in result.job.received if table.kind == "heaters"]
    refused = sum(bool(row.refused) and row.refused not in NO_DATA for table in heaters for row in table.rows)
    return refused + sum(fate == Effect.NOT_SIZED.word for fate in result.fates.values())


def verdict(result: JobResult) -> int:
    """The exit code that one workbook has earned: 0, 1 or 4."""
    if any(finding.kind.effect is Effect.NOT_SIZED for finding in result.findings):
        return NOT_ALL_SIZED
    if any(finding.severity is not Severity.NOTE for finding in result.findings) or not all(check.passes for check in result.checks):
        return LOOK
    return SIZED


def worst(codes: Iterable[int]) -> int:
    """Of several workbooks' exit codes the one to leave with."""
    return max(codes, key=WORST_LAST.index, default=SIZED)


def finding_lines(name: str, listed: Sequence[Mapping]) -> list[str]:
    """Every finding in full and what to do about it: what a check says."""
    texts = []
    for line in listed:
        texts.append(f"{name}:{_opening(line)} {line['message']}")
        texts.append(f"    to do: {line['advice']}")
    return texts


def kind_lines(name: str, listed: Sequence[Mapping]) -> list[str]:
    """Holds and cautions, worst first, one line for each kind with its first place: what is said after sizing."""
    kinds: dict[str, list[Mapping]] = {}
    for line in listed:
        if line["severity"] != Severity.NOTE.word:
            kinds.setdefault(line["code"], []).append(line)
    texts = []
    for alike in kinds.values():
        more = f" (and {len(alike) - 1} more)" if len(alike) > 1 else ""
        texts.append(f"{name}:{_opening(alike[0])} {alike[0]['message']}{more}")
    if len(texts) > KINDS_SHOWN:
        texts[KINDS_SHOWN:] = [f"{name}: and {len(texts) - KINDS_SHOWN} more kinds; what was written has them all"]
    return texts


def _opening(line: Mapping) -> str:
    address = f" {line['where']}" if line["where"] else ""
    effect = f", {line['effect']}" if line["effect"] else ""
    return f"{address} {line['severity']}{effect} [{line['code']}]"


def plain_lines(tallies: Sequence[Tally]) -> list[str]:
    """For a log or a pipe: every line names its workbook."""
    texts = []
    for line in tallies:
        texts += [
            f"{line.workbook}: projects {line.projects}, tanks {line.tanks}, banks {line.banks}, heaters {line.heaters}, "
            f"connected {line.kw:.1f} kW",
            f"{line.workbook}: holds {line.holds}, cautions {line.cautions}, notes {line.notes}, rows not sized {line.not_sized}",
            *([f"{line.workbook}: heat of tanks: {line.heat}"] if line.heat else []),
            *_failed(line),
        ]
        if line.written:
            texts.append(f"{line.workbook}: written {line.written}")
    return texts


def table_lines(tallies: Sequence[Tally]) -> list[str]:
    """For a screen: one short table, then the files written."""
    heading = ("workbook", "projects", "tanks", "banks", "heaters", "kW", "holds", "cautions", "notes", "not sized")
    cells = [
        (line.workbook, *(f"{number:,}" for number in line[1:5]), f"{line.kw:,.1f}", *(f"{number:,}" for number in line[6:10]))
        for line in tallies
    ]
    texts = ["", *columns([heading, *cells], right=range(1, len(heading)))]
    for line in tallies:
        if line.heat:
            texts.append(f"heat of tanks: {line.heat}")
        texts += _failed(line)
        if line.written:
            texts.append(f"written: {line.written}")
    return texts


def _failed(line: Tally) -> list[str]:
    if not line.failed_checks:
        return []
    return [f"{line.workbook}: FAIL in {line.failed_checks} of its own checks: do not use these results; see the Checks sheet"]


def columns(lines: Sequence[Sequence[str]], right: Iterable[int] = ()) -> list[str]:
    """Aligned text columns; the first line is the heading and is ruled off."""
    right = set(right)
    wide = [max(len(line[at]) for line in lines) for at in range(len(lines[0]))]
    texts = []
    for line in lines:
        cells = [cell.rjust(wide[at]) if at in right else cell.ljust(wide[at]) for at, cell in enumerate(line)]
        texts.append("  ".join(cells).rstrip())
    return [texts[0], "-" * max(map(len, texts)), *texts[1:]]
