"""Revisions of small jobs for the tests of revisions: in memory, with the rows as received that a file would have given."""

from __future__ import annotations

from collections.abc import Sequence

from hypothesis import strategies as st
from msgspec.structs import replace

from batch.comparing.lines import RECORDS, SHEETS
from batch.comparing.revision import Revision
from batch.origin import Origin
from batch.received_rows import ReceivedRow, ReceivedTable
from batch.records import Bank, Feeder, Job, Part, Project, Tank
from batch.schedules.reconciliation import reconcile
from batch.sizing.previous_decisions import NOTHING, PreviousDecisions
from batch.sizing.project import size_job
from tests.job_builder import COLUMNS

MAKE = {"projects": Project, "feeders": Feeder, "tanks": Tank, "heaters": Bank, "stock": Part}
USUAL: dict[str, dict[str, object]] = {
    "projects": {"project": "P", "code_basis": "NEC 2023"},
    "feeders": {"project": "P", "volts_v": 480.0, "phases": 3, "wires": 3, "system": "wye grounded", "fault_ka": 4.0, "run_m": 10.0},
    "tanks": {"project": "P", "level_cutoff": "yes"},
    "heaters": {
        "project": "P", "feeder": "F-1", "quantity": 6, "power_kw": 6.0, "volts_v": 480.0, "phases": 1, "heater_run_m": 5.0,
        "panel_feeder_run_m": 5.0, "over_temperature_limit": "yes",
    },
    "stock": {"kind": "other"},
}  # fmt: skip

Rows = Sequence[dict[str, object]]


def job(name: str = "job.xlsx", without: Sequence[str] = (), **tables: Rows) -> Job:
    """A job of rows (column key -> value) by table; the usual project and feeder where left out; sheets `without` are not there."""
    tables = {"projects": [{}], "feeders": [{"feeder": "F-1"}]} | tables
    records: dict[str, tuple] = {}
    received = []
    for kind, sheet in SHEETS.items():
        if kind in without or kind not in tables:
            records[kind] = ()
            continue
        rows = [USUAL[kind] | row for row in tables[kind]]
        records[kind] = tuple(MAKE[kind](**row, origin=Origin(sheet.name, at, COLUMNS[kind])) for at, row in enumerate(rows, 2))
        keys = tuple(column.key for column in sheet.columns if any(row.get(column.key) is not None for row in rows))
        lines = tuple(ReceivedRow(sheet.name, at, tuple(row.get(key) for key in keys)) for at, row in enumerate(rows, 2))
        received.append(ReceivedTable(sheet.name, kind, 1, tuple(sheet[key].heading for key in keys), keys, lines))
    if "projects" in without:
        records["projects"] = (Project(project="P"),)
    return Job(name, "0" * 64, **{RECORDS[kind]: found for kind, found in records.items()}, received=tuple(received))


def revision(made: Job, previous: PreviousDecisions = NOTHING) -> Revision:
    result = size_job(made, previous=previous)
    return Revision(made, replace(result, checks=reconcile(result)), "heaterbatch test", {**previous.labels}, previous)


def bank(tank: str, label: str | None = None, **given: object) -> dict[str, object]:
    return {"tank": tank, "bank": label, **given}


# Values far enough apart that no two steps within the tolerance add up to one beyond it.
_banks = st.fixed_dictionaries(
    {
        "tank": st.sampled_from(["T-1", "T-2", "t-2", "T-3"]),
        "bank": st.sampled_from([None, None, "A", "b"]),
        "feeder": st.sampled_from(["F-1", "F-2"]),
        "quantity": st.integers(1, 9),
        "power_kw": st.sampled_from([2.0, 3.0, 6.0, 18.0]),
        "phases": st.sampled_from([1, 3]),
        "notes": st.sampled_from([None, "kept from the old plant", "new"]),
    }
)
_tanks = st.sampled_from(["T-1", "T-2", "T-3"])
_projects = st.fixed_dictionaries({"margin_pct": st.sampled_from([None, 25.0, 40.0]), "title": st.sampled_from([None, "Line"])})
_parts = st.fixed_dictionaries({"part": st.sampled_from(["X-1", "X-2"]), "unit_price": st.sampled_from([None, 1.0, 2.5])})


@st.composite
def jobs(draw: st.DrawFn) -> Job:
    """Jobs with repeated keys, blank labels and rows in any order."""
    banks = draw(st.lists(_banks, min_size=1, max_size=7))
    tanks = draw(st.lists(_tanks, unique=True, max_size=3))
    parts = draw(st.lists(_parts, unique_by=lambda part: part["part"], max_size=2))
    feeders = [{"feeder": "F-1"}, {"feeder": "F-2", "run_m": draw(st.sampled_from([10.0, 40.0]))}]
    tables = {"projects": [draw(_projects)], "feeders": feeders, "heaters": banks}
    tables |= {"tanks": [{"tank": tag} for tag in tanks]} if tanks else {}
    return job(**tables | ({"stock": parts} if parts else {}))
