"""Label list: what each panel type's label must say."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from batch.results import BranchDesign, JobResult, PanelDesign, ProjectResult, TypeRow
from batch.schedules.row_words import listed, run_words, single_tag, wire_words
from batch.schedules.schedule import Schedule, its_project, selected, text


class Line(NamedTuple):
    """A panel type; `others` are the panels and single-circuit banks that stand at the same tanks as its panels."""

    project: ProjectResult
    kind: TypeRow
    panel: PanelDesign
    branch: BranchDesign
    others: Sequence[str]


def _items(result: JobResult) -> Iterator[Line]:
    for project in result.projects:
        neighbours = _panels_of_tanks(project)
        for kind in project.types:
            others = dict.fromkeys(tag for mine in kind.tags for tag in neighbours[mine] if tag != mine)
            yield Line(project, kind, kind.design, kind.design.branch, tuple(others))


def _panels_of_tanks(project: ProjectResult) -> dict[str, list[str]]:
    """Tags of all panels and single-circuit banks of the tank that a panel serves: one tank, several live sources."""
    by_tank: dict[str, list[str]] = {}
    for row in project.banks:
        tags = [panel.tag for panel in row.panels] or [single_tag(row)]
        by_tank.setdefault(row.bank.tank.casefold(), []).extend(tags)
    return {panel.tag: by_tank[row.bank.tank.casefold()] for row in project.banks for panel in row.panels}


def _sccr_words(panel: PanelDesign) -> str:
    return "not known" if panel.sccr_ka is None else f"{panel.sccr_ka:g} kA at {panel.volts_v:g} V; lowest-rated part: {panel.sccr_part}"


PANEL_LABELS = Schedule(
    "panel_labels", "Label list", "panel type",
    "The labels of the sheet Panel labels as rows, to filter or to hand to whatever prints labels. These rows are not printed a second time.",
    key=("project", "type"),
    items=_items,
    columns=(
        its_project("project.project.project"),
        text("type", "Type", 10, "kind.type",
             role="result", help="Panel type."),
        text("volts", "Supply", 30, lambda at: f"{at.panel.volts_v:g} V, {at.panel.panel_feeder_wires.lines} lines, {at.panel.system}",
             role="result", help="Volts, phases and system."),
        text("branches", "Branches", 30, lambda at: f"{at.panel.branches} x {at.branch.device.rating_a:g} A",
             role="result", help="How many, and the rating of each."),
        text("replace", "Replace branch OCPDs by", 40, lambda at: f"{at.branch.device.in_full}: same type and rating only",
             role="result", also=("Replace branch devices by",), help="Same type and rating only."),
        text("feed", "Panel feeder", 40, lambda at: f"{at.panel.panel_feeder_device.in_full}; {run_words(at.panel.panel_feeder_wires)}",
             role="result", also=("Feed",), help="Panel feeder OCPD and wires."),
        text("branch_wire", "Branch wires", 24, lambda at: wire_words(at.branch.wires),
             role="result", help="Size, material and insulation."),
        selected("torque_nm", "Branch torque", "N·m", "torque", "branch.torque_nm",
                 us_unit="lbf·in", help="Branch terminals."),
        selected("panel_feeder_torque_nm", "Panel feeder torque", "N·m", "torque", "panel.torque_nm",
                 us_unit="lbf·in", also=("Feed torque",), help="Feed terminals of the block."),
        text("torque_from", "Torque from", 40, "branch.torque_words",
             help="The part's own marking, or the code's default."),
        text("sccr", "Short-circuit rating", 34, lambda at: _sccr_words(at.panel),
             role="result", help="Of the panel, and the part that sets it."),
        text("panels", "Panels with other sources at the same tank", 50, lambda at: listed(at.others),
             help="Tags of panels that stay live when this one is opened."),
    ),
)
