"""Job workbooks of any number of banks, for timing: the invented whole plant over and over, in one project."""

from __future__ import annotations

from pathlib import Path

from tests.samples import book, plant


def write(path: Path, banks: int, **settings: object) -> None:
    """A job workbook of exactly `banks` banks, with their tanks, feeders and sources; `settings` of its project."""
    plant_tables = plant.tables()
    heaters: list[dict[str, object]] = []
    copy = 0
    while len(heaters) < banks:
        copy += 1
        heaters += [_moved(row, copy) for row in plant_tables["heaters"]]
    del heaters[banks:]
    tags, supplies = {row["tank"] for row in heaters}, {row["feeder"] for row in heaters}
    copies = range(1, copy + 1)
    tanks = [row for at in copies for row in (_moved(tank, at) for tank in plant_tables["tanks"]) if row["tank"] in tags]
    feeders = [row for at in copies for row in (_moved(feeder, at) for feeder in plant_tables["feeders"]) if row["feeder"] in supplies]
    named = {row["source"] for row in feeders if row.get("source")}
    sources = [row for at in copies for row in (_moved(source, at) for source in plant_tables["sources"]) if row["source"] in named]
    project = {"project": "BENCH", "title": "Timing job (invented)", "code_basis": "NEC 2023"} | settings
    tables = {"projects": [project], "sources": sources, "feeders": feeders, "tanks": tanks, "heaters": heaters}
    book.write(path, f"Timing job of {banks} banks", (), tables)


def _moved(row: dict[str, object], copy: int) -> dict[str, object]:
    tags = {key: f"{copy}-{row[key]}" for key in ("tank", "feeder", "source") if row.get(key)}
    return {**row, "project": "BENCH", **tags}
