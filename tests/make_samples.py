"""Makes the workbooks of `sample_jobs/`: `python -m tests.make_samples [FOLDER]`. Same script, same bytes."""

from __future__ import annotations

import sys
from pathlib import Path

import batch
from tests.samples import book, broken, customer, earth_faults, faults, own_list, plant, plant_iec, revisions, small

HERE = Path(__file__).resolve().parent.parent / "sample_jobs"


def make(folder: Path) -> list[Path]:
    """Writes every sample into `folder`; returns the files."""
    folder.mkdir(parents=True, exist_ok=True)
    files = [folder / f"{name}.xlsx" for name in ("small-clean", "whole-plant", "every-finding", "whole-plant-iec", "every-earth-fault")]
    book.write(files[0], small.TITLE, small.STORY, small.tables())
    book.write(files[1], plant.TITLE, plant.STORY, plant.tables())
    book.write(files[2], faults.TITLE, faults.STORY, faults.tables(), headings=faults.HEADINGS, extras=faults.EXTRAS)
    in_iec = plant_iec.tables()
    book.write(files[3], plant_iec.TITLE, plant_iec.STORY, in_iec, us=False, headings=plant_iec.headings(in_iec))
    book.write(files[4], earth_faults.TITLE, earth_faults.STORY, earth_faults.tables())
    (folder / "revisions").mkdir(exist_ok=True)
    for name, story in revisions.STORIES.items():
        files.append(folder / "revisions" / f"line-4-rev-{name}.xlsx")
        book.write(files[-1], revisions.TITLE.format(name), story, revisions.tables(name))
    drafted = folder / customer.MAP
    drafted.unlink(missing_ok=True)
    batch.propose_map(customer.write(folder / "customer-list.xlsx"), drafted)
    files.append(own_list.write(folder / own_list.NAME))
    return [*files, folder / "customer-list.xlsx", drafted, *broken.make(folder / "broken")]


if __name__ == "__main__":
    for file in make(Path(sys.argv[1]) if len(sys.argv) > 1 else HERE):
        print(file)
