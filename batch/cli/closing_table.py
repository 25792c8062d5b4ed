"""What a command says when its work is done: counts, exit code, and the lines for a screen or a log. Words only; `cli` prints."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from batch.closing_counts import (
    FILE_FAULT,
    LOOK,
    NOT_ALL_SIZED,
    SIZED,
    STOPPED,
    WRONG_COMMAND,
    Tally,
    heat_words,
    heater_rows_not_sized,
    tally,
    verdict,
)
from batch.counted_words import counted
from batch.findings import Severity

__all__ = [
    "FILE_FAULT", "LOOK", "NOT_ALL_SIZED", "SIZED", "STOPPED", "WRONG_COMMAND", "Tally", "columns", "finding_lines", "heat_words",
    "heater_rows_not_sized", "kind_lines", "plain_lines", "table_lines", "tally", "verdict", "worst",
]  # fmt: skip

WORST_LAST = (SIZED, LOOK, NOT_ALL_SIZED, FILE_FAULT)
KINDS_SHOWN = 12  # kinds of finding on the screen after sizing; what was written has them all


def worst(codes: Iterable[int]) -> int:
    """Of several workbooks' exit codes the one to leave with."""
    return max(codes, key=WORST_LAST.index, default=SIZED)


def state_words(outcome) -> str:
    """What became of one bid of a folder, in a line."""
    if outcome.tally is None:
        return outcome.fault
    line = outcome.tally
    done = " (as before)" if outcome.before else f" in {outcome.seconds:.1f} s"
    return (
        f"{line.banks} banks, {line.heaters} heaters, {line.kw:.1f} kW; holds {line.holds}, cautions {line.cautions}, "
        f"rows not sized {line.not_sized}{done}"
    )


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
        texts[KINDS_SHOWN:] = [f"{name}: and {counted(len(texts) - KINDS_SHOWN, 'more kind')}; what was written has them all"]
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
