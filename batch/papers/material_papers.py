"""Group 80: what to buy, without prices, and apart from it what is for something on hold; then wire and raceway of all runs."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from batch.counted_words import counted
from batch.material_lines import PART, RACEWAY
from batch.papers.job_at_hand import AtHand
from batch.papers.paper_data import ColumnHead, Paper, PaperTable, table
from batch.papers.paper_sets import MATERIALS as GROUP
from batch.papers.shown import table_of
from batch.schedules.material_list import MATERIALS
from batch.schedules.row_words import BAND
from batch.schedules.run_schedule import RUNS

COLUMNS = ("used_for", "role", "part", "words", "quantity", "unit")
ON_HOLD = (*COLUMNS, "hold")
FEEDS = ("panel feeder ", "bank ", "contactor")
TYPES = ("Type ", "Hold ", "single circuit ")
WIDE = {"words": 46.0, "used_for": 22.0, "quantity": 8.0, "hold": 34.0}


def material_papers(at: AtHand) -> Iterator[Paper]:
    parts = [_by_box(row) for row in at.rows(MATERIALS) if row["sort"] == PART]  # hours and costs are none
    clear, held = (_together([row for row in parts if bool(row["hold"]) is on_hold]) for on_hold in (False, True))
    tables = [table_of(MATERIALS, COLUMNS, clear, at.us, wide=WIDE)] if clear else []
    if runs := [row for row in at.rows(RUNS) if not row["hold"]]:
        tables.append(_wire_and_raceway(runs))
    if tables:
        yield at.paper(GROUP, "materials", "Materials", tables=tuple(tables))
    if held:
        yield at.paper(
            GROUP, "materials", "Materials on hold: not to be bought",
            band=f"{BAND}: {counted(len(held), 'line')}; why stands on the first for each reason",
            tables=(table_of(MATERIALS, ON_HOLD, held, at.us, wide=WIDE),),
        )  # fmt: skip


def _by_box(row: dict) -> dict:
    """What is counted with a panel type or a single-circuit bank and stands in the control panel says so, as does what others bring."""
    feeds = str(row["role"]).startswith(FEEDS)
    kind = str(row["used_for"]).startswith(TYPES)
    row = {**row, "words": f"{row['words']} ({row['priced']})"} if row["supplied"] else row
    return {**row, "used_for": f"{row['used_for']}: in the control panel"} if feeds and kind else row


def _together(parts: Sequence[dict]) -> list[dict]:
    """Lines that read alike once, with all that is wanted of them: whose each is stands on Materials of the results workbook."""
    same: dict[tuple[object, ...], dict] = {}
    for row in parts:
        known = same.setdefault(tuple(row[key] for key in ON_HOLD if key != "quantity"), {**row, "quantity": None})
        known["quantity"] = row["quantity"] if known["quantity"] is None else known["quantity"] + (row["quantity"] or 0.0)
    return list(same.values())


def _wire_and_raceway(rows: Sequence[Mapping]) -> PaperTable:
    """Lengths by what it is, and how many ends raceways have, each for a fitting; of runs whose length nobody gave how many are missing."""
    found: dict[tuple[str, str, str, str], list[float | None]] = {}
    ends: dict[tuple[str, str, str, str], float] = {}
    for row in rows:
        key = (row["role"], row["part"] or "", row["words"], row["unit"])
        found.setdefault(key, []).append(row["quantity"])
        if row["role"] == RACEWAY:
            ends[key] = ends.get(key, 0.0) + 2 * row["count"]
    headings = (
        ColumnHead("What", share=2.0), ColumnHead("Stock part", share=1.6), ColumnHead("Description", share=4.2),
        ColumnHead("Length", "", "right", 1.0), ColumnHead("Unit", share=0.6),
        ColumnHead("Ends, a fitting each", "", "right", 1.5), ColumnHead("Not in it", share=2.0),
    )  # fmt: skip
    listed = (
        (
            *key[:3], f"{sum(length or 0.0 for length in lengths):,.0f}", key[3],
            f"{ends[key]:,.0f}" if key in ends else "", _missing(lengths),
        )
        for key, lengths in sorted(found.items())
    )
    note = "Wire and raceway with both ends and waste, as Pricing has them."
    return table("Wire and raceway of runs between boxes and to heaters", headings, listed, note=note)


def _missing(lengths: Sequence[float | None]) -> str:
    open_ones = sum(not length for length in lengths)
    return f"{counted(open_ones, 'run')} of no known length" if open_ones else ""
