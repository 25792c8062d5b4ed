"""The command `editions`: the rule sets at hand, and what a firm's own change."""

from __future__ import annotations

import argparse
from collections import Counter

import batch
from batch.cli import closing_table as closing
from batch.cli.job_files import named
from batch.counted_words import counted

EDITIONS = "list the rule sets at hand: edition, tables, where each value came from"


def do_editions(options: argparse.Namespace, voice) -> int:
    if options.folder is not None:
        with batch.firm(options.folder):
            return _say_differences(voice)
    for rules in batch.editions():
        values = rules.code_values()
        totals = Counter(value.status for value in values)
        voice.out(
            f"{rules.name}: {rules.title}",
            f"{len(values)} values, each with its source: {', '.join(f'{count} {status}' for status, count in totals.items())}.",
            '"seen in print" was seen on a page, "quoted" as others retell it; hold what is quoted or '
            "from memory against the book before you rely on it.",
        )
        if options.all:
            lines: list[tuple[str, ...]] = [("name", "value", "unit", "status", "source")]
            lines += [(value.name, worded(value.value), value.unit, value.status, value.source) for value in values]
            right = {1}
        else:
            counts: dict[str, Counter[str]] = {}
            for value in values:
                counts.setdefault(value.source, Counter())[value.status] += 1
            lines = [(*totals, "source")]
            lines += [(*(str(count[status] or "") for status in totals), source) for source, count in counts.items()]
            right = set(range(len(totals)))
        voice.out(*closing.columns(lines, right), "")
    return closing.SIZED


def _say_differences(voice) -> int:
    """What a firm's own rule sets change of the ones that they extend; exit code 1 where one asks less than the code."""
    from batch.intake.firm_stock import stock_in_use
    from batch.intake.vocabulary import own_words
    from batch.rules.at_hand import own_templates
    from batch.whole_file import checksum_of

    looser = 0
    for name, base, checksum, changed in batch.own_editions():
        voice.out(f"{name}: {base} with {counted(len(changed), 'value')} of its own; checksum {checksum}")
        lines: list[tuple[str, ...]] = [("name", f"in {base}", "here", "unit", "source here", "")]
        for one in changed:
            shown = tuple("" if side is None else worded(side.value) for side in (one.base, one.own))
            source = one.own.source if one.own else ""
            lines.append((one.value.name, *shown, one.value.unit, source, f"LESS STRICT than {base}" if one.looser else ""))
        looser += sum(one.looser for one in changed)
        voice.out(*closing.columns(lines, {1, 2}), "")
    for kind, place in own_templates().items():
        voice.out(f"{kind}: {place} stands in place of ours; checksum {checksum_of(place)}")
    if (stock := stock_in_use()) is not None:
        voice.out(f"stock: {stock.file}, {stock.parts} parts beside each job's own; checksum {stock.checksum}")
    if (words := own_words()) is not None:
        voice.out(f"words: {words} is known beside the languages that come with the program; checksum {checksum_of(words)}")
    return closing.LOOK if looser else closing.SIZED


def worded(value: float | str) -> str:
    return value if isinstance(value, str) else f"{value:.10g}"


def add_editions(made: argparse.ArgumentParser) -> None:
    made.add_argument("folder", nargs="?", type=named, metavar="FOLDER",
                      help="a firm's own folder or rule set: what it changes, value by value")
    made.add_argument("--all", action="store_true", help="every value, one a line")
