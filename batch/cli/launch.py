"""What a launcher calls with the workbooks dropped on it: sizes them, and opens the results with the system's own program for them."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import batch
from batch.cli.app import main as run
from batch.cli.closing_table import STOPPED, WRONG_COMMAND, worst
from batch.cli.job_files import not_a_job
from batch.cli.voice import Voice
from batch.file_names import NUMBERED


def main(arguments: list[str]) -> int:
    """The exit code of `size` over the workbooks; nothing is opened of one that could not be sized."""
    jobs = [Path(name) for name in arguments if name]
    if not jobs:
        Voice().err("drop job workbooks on the launcher: they are sized, and the results are opened")
        return 2
    codes = []
    for job in jobs:
        target = batch.result_path(job)
        before = _written(target)
        codes.append(run(["size", str(job)]))
        for path, written in _written(target).items() if not not_a_job(job) else ():
            if before.get(path) != written:
                show(path)
    return next((code for code in codes if code in (STOPPED, WRONG_COMMAND)), None) or worst(codes)


def _written(target: Path) -> dict[Path, int]:
    """The results that lie there, with when each was written: where the first is open elsewhere, "JOB sized (2).xlsx" is new."""
    around = target.parent.iterdir() if target.parent.is_dir() else ()
    return {
        path: path.stat().st_mtime_ns for path in around
        if path.suffix == target.suffix and NUMBERED.sub("", path.stem) == target.stem and path.is_file()
    }  # fmt: skip


def show(path: Path) -> None:
    """Opens a file as a double click does."""
    if hasattr(os, "startfile"):
        os.startfile(path)
    else:
        subprocess.run(["open" if sys.platform == "darwin" else "xdg-open", str(path)], check=False)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
