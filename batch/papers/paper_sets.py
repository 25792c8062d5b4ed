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
    "shop": (TRANSMITTAL, TYPE, LADDER, WIRING, LABELS, NAMEPLATES, MATERIALS, RECORDS),  # of the records its own tests alone
    "field": (TRANSMITTAL, ONE_LINE, SCHEDULE, TYPE, LADDER, WIRING, LABELS, RECORDS),
    "inspector": (TRANSMITTAL, ONE_LINE, SCHEDULE, TYPE, LADDER, LABELS, NAMEPLATES),
    "customer": (TRANSMITTAL, ONE_LINE, SCHEDULE, TYPE, LADDER, RECORDS),
}
NO_MONEY = frozenset({"inspector", "customer"})  # who gets no finding about prices


def paper_number(project: str, group: str, serial: int | str) -> str:
    """ "PILOT-30-01": project, group, serial; without a project "30-01"."""
    return "-".join((*filter(None, (project,)), group, serial if isinstance(serial, str) else f"{serial:02d}"))


def type_serial(type: str) -> str:
    """ "07" of "Type 07", "H01" of "Hold 01": a type keeps its number from revision to revision, and so does its drawing."""
    name, _, number = type.partition(" ")
    return number if name == "Type" else f"{name[:1].upper()}{number}"
