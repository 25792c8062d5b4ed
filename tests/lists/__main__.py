"""Scores the reading of every list: `python -m tests.lists [FOLDER …] [-v] [NN …]`."""

from __future__ import annotations

import sys
from pathlib import Path

from tests.lists.score import HERE, Score, lists_in, score_list


def main(arguments: list[str]) -> int:
    verbose = "-v" in arguments
    named = [one for one in arguments if one != "-v"]
    folders = [Path(one) for one in named if Path(one).is_dir()] or sorted(
        one for one in HERE.iterdir() if one.is_dir() and any(one.glob("*.truth.json"))
    )
    wanted = [one for one in named if not Path(one).is_dir()]
    for folder in folders:
        for with_map in (False, True):
            total, count = Score(), 0
            for path in lists_in(folder):
                if wanted and not path.name.startswith(tuple(wanted)):
                    continue
                plan = path.parent / f"{path.name.split('.')[0]}.map.toml"
                if with_map and not plan.exists():
                    continue
                score = score_list(path, plan if with_map else None)
                total, count = total.plus(score), count + 1
                print(f"{path.name[:34]:34s} {score.words()}")
                if verbose:
                    print(*(f"    {line}" for line in score.lines), sep="\n")
            if count:
                print(f"{folder.name}, {'with' if with_map else 'without'} maps, {count} lists: {total.words()}\n")
    return 0


sys.exit(main(sys.argv[1:]))
