"""The options `--map` and `--propose-map`: parse, call a public verb, say its answer."""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import batch
from batch.cli.job_files import WrongCommand, named

if TYPE_CHECKING:
    from batch.intake.column_map import ColumnMap


def add_map(made: argparse.ArgumentParser) -> None:
    made.add_argument("--map", type=named, metavar="FILE.toml", help="a column map: how the customer's own list is laid out")


def add_propose(check: argparse.ArgumentParser) -> None:
    check.add_argument("--propose-map", type=named, metavar="FILE.toml",
                       help="draft a column map into FILE, with how sure each line is, and check by it; never replaces a file")


def map_used(options: argparse.Namespace) -> ColumnMap | None:
    """The column map that was named, read once for all workbooks."""
    return batch.column_map(options.map) if options.map is not None else None


def propose(options: argparse.Namespace, jobs: Sequence[Path], voice) -> ColumnMap | None:
    """Drafts the column map that was asked for; returns it, None where it says nothing yet."""
    target: Path = options.propose_map
    if options.map is not None:
        raise WrongCommand("--map uses a column map and --propose-map drafts one: give one of them")
    if len(jobs) != 1:
        raise WrongCommand(f"--propose-map {target}: a map is drafted for one workbook, but {len(jobs)} are named")
    if target.exists():
        raise WrongCommand(f"{target} exists and may hold somebody's map: name a new file")
    written = batch.propose_map(jobs[0], target)
    voice.out(f"column map drafted: {written}")
    text = written.read_text(encoding="utf-8")
    return batch.column_map(written) if "\n[[table]]" in text else None
