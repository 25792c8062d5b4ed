"""Which papers there are, how they are numbered, and who gets which of them."""

from __future__ import annotations

from collections.abc import Mapping

TRANSMITTAL, ONE_LINE, SCHEDULE, TYPE, LADDER, WIRING, LABELS, NAMEPLATES, MATERIALS, RECORDS = (f"{tens}0" for tens in range(10))

GROUPS: Mapping[str, str] = {
    TRANSMITTAL: "Transmittal and index",
    ONE_LINE: "One-line diagrams",
    SCHEDULE: "Schedules",
    TYPE: "Panel types",
    LADDER: "Control ladders",
    WIRING: "Wiring",
    LABELS: "Labels",
    NAMEPLATES: "Nameplates",
    MATERIALS: "Materials",
    RECORDS: "Test records",
}

# The transmittal goes with every set, since the cautions and what is on hold stand on it.
AUDIENCES: Mapping[str, tuple[str, ...]] = {
    "all": tuple(GROUPS),
    "shop": (TRANSMITTAL, TYPE, LADDER, WIRING, LABELS, NAMEPLATES, MATERIALS),
    "field": (TRANSMITTAL, ONE_LINE, SCHEDULE, TYPE, LADDER, WIRING, LABELS, RECORDS),
    "inspector": (TRANSMITTAL, ONE_LINE, SCHEDULE, TYPE, LADDER, LABELS, NAMEPLATES),
    "customer": (TRANSMITTAL, ONE_LINE, SCHEDULE, TYPE, LADDER, RECORDS),
}


def paper_number(project: str, group: str, serial: int) -> str:
    """ "PILOT-30-01": project, group, serial; without a project "30-01"."""
    return "-".join((*filter(None, (project,)), group, f"{serial:02d}"))
