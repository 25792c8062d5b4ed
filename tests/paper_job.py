"""A job of 25 tanks, cut from the whole-plant sample: what a bid of usual size comes to on paper."""

from __future__ import annotations

from pathlib import Path

from tests.samples import book, plant

TANKS = 25
PROJECT = "HALL-1"


def tables() -> dict[str, list[dict[str, object]]]:
    """The first 25 tanks of the first hall, with what hangs on them."""
    whole = plant.tables()
    tanks = [row for row in whole["tanks"] if row["project"] == PROJECT][:TANKS]
    tags = {row["tank"] for row in tanks}
    heaters = [row for row in whole["heaters"] if row["project"] == PROJECT and row["tank"] in tags]
    feeders = {row["feeder"] for row in heaters}
    return {
        "projects": [row for row in whole["projects"] if row["project"] == PROJECT],
        "feeders": [row for row in whole["feeders"] if row["project"] == PROJECT and row["feeder"] in feeders],
        "tanks": tanks,
        "heaters": heaters,
    }


def write(path: Path) -> Path:
    book.write(path, "Twenty-five tanks", plant.STORY[:1], tables())
    return path
