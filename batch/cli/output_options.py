"""How much a command says, and in which form: `--quiet`, `--json`, `--severity`. What is said otherwise stands in `closing_table`."""

from __future__ import annotations

import argparse
import json
from collections.abc import Mapping, Sequence
from typing import Any

from batch.cli.job_files import named
from batch.closing_counts import Tally
from batch.findings import Severity

KINDS = ("csv", "json")
SEVERITIES = {severity.word: severity for severity in Severity}
SHOWN = ("severity", "effect", "code", "title", "where", "project", "tank", "bank", "feeder", "message", "advice", "basis", "count")


def add_output(made: argparse.ArgumentParser) -> None:
    """The options of every command that sizes."""
    how = made.add_mutually_exclusive_group()
    how.add_argument("--quiet", action="store_true", help="say nothing but what went wrong; the exit code tells the rest")
    how.add_argument("--json", action="store_true", help="findings and totals as JSON on standard output, and nothing else there")


def add_answers(made: argparse.ArgumentParser) -> None:
    made.add_argument("--answers", type=named, metavar="FILE",
                      help="answers to the questions: the quotation that the customer sent back, workbook or letter, or results answered")


def also_kinds(text: str) -> tuple[str, ...]:
    """What `--also` names, separated by commas.

    Raises:
        ArgumentTypeError: a kind of table that there is not.
    """
    kinds = tuple(dict.fromkeys(part.strip().lower() for part in text.split(",") if part.strip()))
    if strange := [kind for kind in kinds if kind not in KINDS]:
        raise argparse.ArgumentTypeError(f"{strange[0]!r} is no kind of table; name {' or '.join(KINDS)}, or both with a comma between")
    return kinds


def add_severity(check: argparse.ArgumentParser) -> None:
    check.add_argument("--severity", choices=tuple(SEVERITIES), help="show findings of this severity and worse")


def as_severe(listed: Sequence[Mapping], least: str | None) -> list[Mapping]:
    """Rows of Findings that are as severe as `least`, or worse; all of them where it is None."""
    limit = None if least is None else SEVERITIES[least]
    return [row for row in listed if limit is None or SEVERITIES[row["severity"]] <= limit]


def as_json(workbooks: Sequence[tuple[Tally, Sequence[Mapping]]], faults: Sequence[str], code: int, lists: Sequence[Mapping] = ()) -> str:
    """What a command has to say, for another program. `lists`: of jobs in sections, where the workbook is that lists them."""
    told: list[dict[str, Any]] = [
        {**tally._asdict(), "findings": [{key: row[key] for key in SHOWN if key in row} for row in listed]} for tally, listed in workbooks
    ]
    answer: dict[str, Any] = {"workbooks": told, "faults": list(faults), "exit_code": code}
    if lists:
        answer["divided"] = list(lists)
    return json.dumps(answer, ensure_ascii=False, indent=1)


def bids_as_json(bids: Sequence[Mapping[str, object]], faults: Sequence[str], portfolio: str, code: int) -> str:
    """What a folder of bids has to say, for another program: a line of the portfolio each. Their findings are in their results."""
    return json.dumps({"bids": list(bids), "portfolio": portfolio, "faults": list(faults), "exit_code": code}, ensure_ascii=False, indent=1)
