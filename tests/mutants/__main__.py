"""Makes each change of `changes.toml` in a copy of the tree, runs the tests that are expected to catch it, and prints the survivors.

    python -m tests.mutants               all of them; leaves with 1 where one survives or no longer fits
    python -m tests.mutants WORD …        those whose file, words or reason hold one of the words
    python -m tests.mutants --workers 1   how many at a time (2)

A change names a file, the words that stand there exactly once, what is put in their place, why somebody might slip so, and the test files
(or tests) that catch it. A change whose words are no longer there once is reported like a survivor: the list has to keep up with the code.
"""

from __future__ import annotations

import argparse
import compileall
import os
import shutil
import subprocess
import sys
import tempfile
import tomllib
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from pathlib import Path
from py_compile import PycInvalidationMode
from queue import Queue

ROOT = Path(__file__).resolve().parents[2]
CHANGES = Path(__file__).with_name("changes.toml")
LEFT_OUT = shutil.ignore_patterns(".git", ".venv", "__pycache__", ".pytest_cache", ".ruff_cache", ".mypy_cache", "*.egg-info", "build")
LONGEST = 300  # seconds a change's tests may take: one that makes the code run for ever is caught too
CAUGHT, SURVIVED, MISFIT, BROKEN = "caught", "SURVIVED", "DOES NOT FIT", "TESTS DO NOT RUN"


@dataclass(frozen=True, slots=True)
class Change:
    file: str
    old: str
    new: str
    why: str
    tests: tuple[str, ...]

    def fits(self, text: str) -> bool:
        return text.count(self.old) == 1 and self.old != self.new


def changes() -> tuple[Change, ...]:
    content = tomllib.loads(CHANGES.read_text(encoding="utf-8"))
    return tuple(Change(one["file"], one["old"], one["new"], one["why"], tuple(one["tests"])) for one in content["change"])


def tried(change: Change, copy: Path) -> str:
    """What became of one change in a copy of the tree, which is as it was afterwards."""
    path = copy / change.file
    text = path.read_text(encoding="utf-8") if path.is_file() else ""
    if not change.fits(text):
        return MISFIT
    path.write_text(text.replace(change.old, change.new), encoding="utf-8")
    try:
        command = [sys.executable, "-m", "pytest", "-q", "-x", "-p", "no:cacheprovider", *change.tests]
        here = os.environ | {"PYTHONDONTWRITEBYTECODE": "1", "PYTHONPATH": str(copy)}
        run = subprocess.run(command, cwd=copy, capture_output=True, timeout=LONGEST, env=here)
        return {0: SURVIVED, 1: CAUGHT, 2: CAUGHT}.get(run.returncode, BROKEN)  # 2: the change breaks the tests' own loading
    except subprocess.TimeoutExpired:
        return CAUGHT
    finally:
        path.write_text(text, encoding="utf-8")


def main(arguments: list[str] | None = None) -> int:
    parser = argparse.ArgumentParser(prog="python -m tests.mutants", description=__doc__.splitlines()[0])
    parser.add_argument("words", nargs="*")
    parser.add_argument("--workers", type=int, default=2)
    options = parser.parse_args(arguments)
    chosen = [one for one in changes() if not options.words or any(word in f"{one.file} {one.old} {one.why}" for word in options.words)]
    counts: dict[str, int] = {}
    with tempfile.TemporaryDirectory() as scratch:
        copies: Queue[Path] = Queue()
        first = Path(shutil.copytree(ROOT, Path(scratch) / "0", ignore=LEFT_OUT))
        # compiled once, and known by what the source says: a changed file is compiled anew whatever its time and size
        compileall.compile_dir(first / "batch", quiet=2, invalidation_mode=PycInvalidationMode.CHECKED_HASH)
        copies.put(first)
        for number in range(1, max(1, options.workers)):
            copies.put(Path(shutil.copytree(first, Path(scratch) / str(number))))

        def one(change: Change) -> str:
            copy = copies.get()
            try:
                return tried(change, copy)
            finally:
                copies.put(copy)

        with ThreadPoolExecutor(max(1, options.workers)) as pool:
            for change, fate in zip(chosen, pool.map(one, chosen), strict=True):
                counts[fate] = counts.get(fate, 0) + 1
                if fate != CAUGHT:
                    where = f"{change.file}: {change.old!r} -> {change.new!r}"
                    print(f"{fate}: {where} ({change.why}); tests: {', '.join(change.tests)}", flush=True)
    print(f"{len(chosen)} changes: " + (", ".join(f"{count} {fate}" for fate, count in sorted(counts.items())) or "none"))
    return int(any(fate != CAUGHT for fate in counts))


if __name__ == "__main__":
    sys.exit(main())
