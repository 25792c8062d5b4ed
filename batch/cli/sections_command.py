"""A job of more banks than one workbook holds well, for `size`: its sections told as they are done, and the workbook that lists them."""

from __future__ import annotations

import argparse
from collections.abc import Mapping
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any, NamedTuple

from batch.cli import closing_table as closing
from batch.counted_words import counted
from batch.errors import ToBeDivided
from batch.file_names import name_of


class Saved(NamedTuple):
    """A job in sections on the disk.

    target  where the workbook that lists them goes
    bids    the sections, as `batch.watch.sections` knows them
    how     options of `write_results`
    folder  that they lie in, gone with this
    """

    job: Path
    target: Path
    bids: list
    how: Mapping[str, Any]
    folder: TemporaryDirectory


def saved(large: ToBeDivided, job: Path, target: Path, how: Mapping[str, Any]) -> Saved:
    """What was read of a job, divided and put on the disk; OutputFileError where it has no room."""
    from batch.watch.sections import save_sections

    folder = TemporaryDirectory(prefix="heaterbatch-")
    return Saved(job, target, save_sections(large.job, target, Path(folder.name)), how, folder)


def do_sections(divided: Saved, options: argparse.Namespace, voice) -> tuple[int, list[closing.Tally]]:
    """Sizes the sections, tells of each as it is done, and writes the workbook that lists them. The worst exit code, and what to count."""
    from batch.report.portfolio_workbook import write_portfolio
    from batch.sheets.portfolio import SECTIONS
    from batch.watch.sections import size_sections
    from batch.writing.earlier_file import title_of_results

    name, of = divided.job.name, len(divided.bids)
    voice.out(f"{name}: more banks than one workbook holds well: {counted(of, 'section')}, each a workbook of its own")
    outcomes = []
    with divided.folder:
        for outcome in size_sections(divided.bids, divided.how, firm=options.firm, code=options.code):
            outcomes.append(outcome)
            (voice.err if outcome.fault else voice.out)(f"{len(outcomes)} of {of}: {outcome.name}: {closing.state_words(outcome)}")
            if outcome.aside:
                voice.err(f"{outcome.name}: {outcome.aside}; it was left as it is, and the new file is {outcome.results}")
    outcomes.sort(key=lambda outcome: outcome.name)
    shown = [outcome.line() | {"results": Path(outcome.results).name if outcome.results else None} for outcome in outcomes]
    lines = [{column.key: line[column.key] for column in SECTIONS.columns} for line in shown]
    part = write_portfolio(lines, divided.target, SECTIONS, title_of_results(name_of(divided.job)))
    voice.out(f"{name}: its sections are listed in {part.landed}")
    return closing.worst(outcome.code for outcome in outcomes), [outcome.tally for outcome in outcomes if outcome.tally is not None]
