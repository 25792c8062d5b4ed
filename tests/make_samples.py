"""Makes the workbooks of `sample_jobs/`: `python -m tests.make_samples [FOLDER]`. Same script, same bytes."""

from __future__ import annotations

import sys
from pathlib import Path

from tests.samples import book, plant, small

HERE = Path(__file__).resolve().parent.parent / "sample_jobs"


def make(folder: Path) -> list[Path]:
    """Writes every sample into `folder`; returns the files."""
    folder.mkdir(parents=True, exist_ok=True)
    files = []
    for name, sample in (("small-clean", small), ("whole-plant", plant)):
        files.append(folder / f"{name}.xlsx")
        book.write(files[-1], sample.TITLE, sample.STORY, sample.tables())
    return files


if __name__ == "__main__":
    for file in make(Path(sys.argv[1]) if len(sys.argv) > 1 else HERE):
        print(file)
