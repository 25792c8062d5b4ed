"""Group 20: feeders and their ways, heater panels, single-circuit banks, tabled."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from batch.papers.job_at_hand import AtHand, first_of, some_held
from batch.papers.paper_data import Paper
from batch.papers.paper_sets import SCHEDULE
from batch.papers.shown import table_of
from batch.schedules.bank_schedule import BANKS
from batch.schedules.distribution_schedule import DISTRIBUTION
from batch.schedules.feeder_schedule import FEEDERS
from batch.schedules.panel_schedule import PANELS
from batch.schedules.row_words import HELD, HOLD, NOT_SIZED, earthed
from batch.schedules.schedule import Schedule

FEEDER = (
    "feeder", "status", "source", "volts_v", "phases", "system", "banks", "heaters", "connected_kw", "i_a", "i_b", "i_c", "i_n",
    "required_a", "device_a", "device", "wire", "ground", "raceway", "drop_pct", "fault_ka",
)  # fmt: skip
FEEDER_WIDE = {  # so that what protects a feeder takes two lines
    "feeder": 10, "status": 14, "volts_v": 7, "phases": 8, "system": 18, "banks": 7, "heaters": 8.5, "i_a": 10, "i_b": 10, "i_c": 10,
    "i_n": 7, "required_a": 12, "device_a": 8, "device": 34, "wire": 21, "ground": 14, "raceway": 17, "drop_pct": 8, "fault_ka": 9,
}  # fmt: skip
WAYS = (
    "feeder", "way", "what", "tank", "connected_kw", "i_a", "i_b", "i_c", "device_a", "frame_a", "bus_a", "main_a", "wire", "ground",
    "run_m", "drop_pct", "fault_ka",
)  # fmt: skip
PANEL = (
    "panel", "type", "status", "feeder", "disconnect_tag", "panel_feeder_phases", "heaters", "connected_kw", "i_a", "i_b", "i_c", "i_n",
    "panel_feeder_device_a", "panel_feeder_wire", "panel_feeder_ground", "branches", "rating_a", "fault_ka", "sccr_ka",
)  # fmt: skip
SINGLE = (
    "tank", "bank", "status", "feeder", "quantity", "power_kw", "volts_v", "phases", "connection", "disconnects", "bank_device_a",
    "contactor", "wire", "ground", "line_a",
)  # fmt: skip
MISSING = ("tank", "bank", "feeder", "not_sized_kw", "as_read")


def schedule_papers(at: AtHand) -> Iterator[Paper]:
    feeders = [{**row, "system": f"{row['system'] or ''}{earthed(at.project, row['feeder'])}"} for row in at.rows(FEEDERS)]
    yield from _schedule(at, "Feeders", FEEDERS, FEEDER, "feeder", rows=feeders, wide=FEEDER_WIDE)
    yield from _schedule(at, "Distribution units and ways", DISTRIBUTION, WAYS, "row", rows=at.rows(DISTRIBUTION), wide={})
    yield from _schedule(at, "Heater panels", PANELS, PANEL, "heater panel", rows=at.rows(PANELS), wide={"status": 12})
    banks = at.rows(BANKS)
    single = [row for row in banks if row["arrangement"] == "single circuit"]
    yield from _schedule(at, "Single-circuit banks", BANKS, SINGLE, "bank", rows=single, wide={"status": 12, "contactor": 24})
    missing = [row for row in banks if row["status"] == NOT_SIZED]
    yield from _schedule(at, "Banks not sized: in no total", BANKS, MISSING, "bank", rows=missing, wide={})


def _schedule(
    at: AtHand, title: str, sheet: Schedule, keys: Sequence[str], what: str, *, rows: list[dict], wide: dict[str, float]
) -> Iterator[Paper]:
    if not rows:
        return
    held = sum(row.get("status") == HOLD for row in rows)
    rows = [row | {"status": HELD, "hold": row["status"]} if row.get("status") == HOLD else row for row in rows]  # the band says the rest
    yield at.paper(
        SCHEDULE, "schedule", title,
        band=some_held(held, len(rows), what),
        tags=first_of(dict.fromkeys(str(row[keys[0]]) for row in rows), 4),
        tables=(table_of(sheet, keys, rows, at.us, wide=wide),),
    )  # fmt: skip
