"""Panel types: panels that are built alike."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from batch.results import JobResult, PanelDesign, ProjectResult, TypeRow
from batch.schedules.fuse_places import device_ahead_in_full
from batch.schedules.hanging import status_by_tag
from batch.schedules.row_words import band_words, ground_size, listed, residual_words, run_words, worst_of
from batch.schedules.schedule import Schedule, calculated, its_project, its_status, selected, text
from batch.schedules.ways import build_number, builds_by_name, found, way


class TypeLine(NamedTuple):
    project: ProjectResult
    kind: TypeRow
    panel: PanelDesign
    status: str  # the worst of its panels'
    build: int | None


def _items(result: JobResult) -> Iterator[TypeLine]:
    builds = builds_by_name(result)
    for project in result.projects:
        status = status_by_tag(project)
        for kind in project.types:
            yield TypeLine(project, kind, kind.design, worst_of(status[tag] for tag in kind.tags), builds.get((project.project.project, kind.type)))


def _configuration(project: ProjectResult, panel: PanelDesign, tags: Sequence[str]) -> str:
    """A panel type in words: supply, branches, panel feeder, and what is built around them."""
    branch, each = panel.branch, panel.branches // panel.heaters
    feed = device_ahead_in_full(project, panel.panel_feeder_device, tags)
    residual = residual_words(panel, ", ")
    to_a_heater = f", {each} to a heater" if each > 1 else ""
    return "; ".join(
        (
            f"{panel.volts_v:g} V {panel.system.words}",
            f"{panel.heaters} {'heater' if panel.heaters == 1 else 'heaters'}, {panel.connection}",
            f"{panel.branches} branches{to_a_heater}, each {branch.device.in_full}",
            f"branch wires {run_words(branch.wires)}, EGC {ground_size(branch.wires)}",
            f"panel feeder {feed}{residual}, {run_words(panel.panel_feeder_wires)}, EGC {ground_size(panel.panel_feeder_wires)}",
            f"power distribution block {panel.block}",
            f"contactor {panel.contactor}",
            f"{panel.limit_terminals} limit string terminals",
        )
    )


PANEL_TYPES = Schedule(
    "panel_types", "Panel types", "panel type", "Panels that are built alike: price and draw each type once.", key=("project", "type"),
    items=_items,
    columns=(
        its_project("project.project.project"),
        text("type", "Type", 10, "kind.type",
             role="result", becomes="types.name", help="Name of the type."),
        its_status("status"),
        selected("quantity", "Quantity", "ea", "count", lambda at: len(at.kind.tags),
                 total="sum", help="Panels of this type."),
        text("configuration", "Configuration", 55, lambda at: _configuration(at.project, at.panel, at.kind.tags),
             role="result", help="What it is, in words."),
        calculated("heaters", "Heaters each", "ea", "count", "panel.heaters",
                   help="Heaters on one panel."),
        calculated("branches", "Branches each", "ea", "count", "panel.branches",
                   help="Branch circuits in one panel."),
        calculated("maximum_a", "Maximum line current", "A", "amps", "panel.lines.maximum",
                   also=("Greatest line",), help="Maximum line current of one panel."),
        selected("panel_feeder_device_a", "Panel feeder OCPD", "A", "rating", "panel.panel_feeder_device.rating_a",
                 also=("Feed device",), help="Overcurrent device of the panel feeder."),
        text("used_on", "Used on", 40, lambda at: listed(at.kind.tags),
             help="Panels of this type."),
        text("hold", "On hold", 22, lambda at: band_words(at.kind.hold),
             role="result", help="Why none of them is released for fabrication; such panels share no type with others."),
        build_number("build"),
        way("to_bill", "Its bill", "the first line of its bill on Materials", found("materials.build_no", "build_no"), there=lambda at: at.build),
    ),
)
