"""Designations of what stands in a heater panel, beside its parts: as on its drawing, its wiring and its label."""

from __future__ import annotations

from batch.results import Needed, PanelDesign
from batch.schedules.designations import PanelMarks
from batch.sizing.power_circuit import NEUTRAL_BAR


def panel_designation(need: Needed, design: PanelDesign, marks: PanelMarks) -> str:
    """ "CB1 to CB3", "TB3:1 to :8", "PDB1"; "" of what bears none."""
    role = need.role
    if role.startswith("branch "):
        kind = design.branch.device.kind
        return _row(marks.device(kind, 1), marks.device(kind, design.branches))
    if role == "power distribution block":
        return marks.block
    if role == "limit string terminal":
        return f"{marks.limit_strip}:1 to :{design.limit_terminals}"
    if role == "wye point terminal":
        points = sorted({part for leg in design.legs for part in leg.split("-") if part[0] not in "LN"})
        return _row(points[0], points[-1]) if points else ""
    return NEUTRAL_BAR if role == NEUTRAL_BAR else marks.ground_bar if role == "ground bar" else ""


def _row(first: str, last: str) -> str:
    return first if first == last else f"{first} to {last}"
