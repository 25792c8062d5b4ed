"""Jobs of 25 and 26 tanks, cut from the whole-plant sample: what bids of usual size come to on paper."""

from __future__ import annotations

from pathlib import Path

from tests.samples import book, plant

TANKS = 25
SPREAD = 26
PROJECT = "HALL-1"


def tables(spread: bool = False) -> dict[str, list[dict[str, object]]]:
    """The first 25 tanks of the first hall, with what hangs on them; or 26 from all over it, so that hardly two are alike."""
    whole = plant.tables()
    tanks = [row for row in whole["tanks"] if row["project"] == PROJECT]
    tanks = tanks[:: len(tanks) // SPREAD][:SPREAD] if spread else tanks[:TANKS]
    tags = {row["tank"] for row in tanks}
    heaters = [row for row in whole["heaters"] if row["project"] == PROJECT and row["tank"] in tags]
    feeders = {row["feeder"] for row in heaters}
    return {
        "projects": [row for row in whole["projects"] if row["project"] == PROJECT],
        "feeders": [row for row in whole["feeders"] if row["project"] == PROJECT and row["feeder"] in feeders],
        "tanks": tanks,
        "heaters": heaters,
    }


def write(path: Path, spread: bool = False) -> Path:
    book.write(path, "Twenty-six tanks" if spread else "Twenty-five tanks", plant.STORY[:1], tables(spread))
    return path
