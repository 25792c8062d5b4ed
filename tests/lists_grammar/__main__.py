"""Makes lists and reads them: `python -m tests.lists_grammar [--seed N] [--count M] [--language de] [--kind register] [-v]`."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path
from tempfile import TemporaryDirectory

from tests.lists_grammar.kinds import KINDS, PLAIN, languages_of
from tests.lists_grammar.measure import Tally, score_one
from tests.lists_grammar.words import LANGUAGES


def main() -> int:
    """Scores the lists; ends with 1 where any row was read wrong, lost or added without a word."""
    asked = argparse.ArgumentParser(prog="python -m tests.lists_grammar")
    asked.add_argument("--seed", type=int, default=0, help="of the first list")
    asked.add_argument("--count", type=int, default=100, help="of lists a language")
    asked.add_argument("--language", action="append", choices=LANGUAGES)
    asked.add_argument("--kind", action="append", choices=KINDS)
    asked.add_argument("--keep", type=Path, help="folder in which the lists are left")
    asked.add_argument("--worst", type=int, default=15, help="reasons and choices shown of the lists not read whole")
    asked.add_argument("-v", action="store_true", help="every list not read whole, with its rows")
    given = asked.parse_args()
    silent = 0
    with TemporaryDirectory() as own:
        folder = given.keep or Path(own)
        folder.mkdir(parents=True, exist_ok=True)
        for kind in given.kind or [PLAIN]:
            for language in given.language or languages_of(kind):
                tally = Tally()
                for seed in range(given.seed, given.seed + given.count):
                    one, score = score_one(language, seed, folder, kind)
                    tally.add(one, score)
                    if given.v and (score.silent or score.right < score.take):
                        print(f"{kind}-{language}-{seed}: {score.words()}", *one.said, *score.lines, sep="\n    ")
                print(f"{kind} {language}: {tally.words()}", *tally.why(given.worst), *tally.worst(given.worst), sep="\n    ")
                silent += tally.sum.silent
    return 1 if silent else 0


sys.exit(main())
