"""What a launcher calls with the workbooks dropped on it: sizes them, and opens the results with the system's own program for them."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import batch
from batch.cli.app import main as run
from batch.cli.job_files import not_a_job
from batch.cli.voice import Voice


def main(arguments: list[str]) -> int:
    """The exit code of `size` over the workbooks; nothing is opened of one that could not be sized."""
    jobs = [Path(name) for name in arguments if name]
    if not jobs:
        Voice().err("drop job workbooks on the launcher: they are sized, and the results are opened")
        return 2
    worst = 0
    for job in jobs:
        target = batch.result_path(job)
        before = target.stat().st_mtime_ns if target.exists() else 0
        worst = max(worst, run(["size", str(job)]))
        if not not_a_job(job) and target.exists() and target.stat().st_mtime_ns != before:
            show(target)
    return worst


def show(path: Path) -> None:
    """Opens a file as a double click does."""
    if hasattr(os, "startfile"):
        os.startfile(path)
    else:
        subprocess.run(["open" if sys.platform == "darwin" else "xdg-open", str(path)], check=False)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
