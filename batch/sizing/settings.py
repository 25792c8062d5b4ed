"""The settings of a project as used: given, or the rule set's default, each default said once."""

from __future__ import annotations

from typing import NamedTuple

from batch.findings import Remark, remark
from batch.records import Project, Settings
from batch.results import Setting
from batch.rules import RuleSet

WORDS = {
    "margin_pct": ("Current margin", "%"),
    "ambient_c": ("Ambient", "°C"),
    "terminal_c": ("Terminal rating", "°C"),
    "conductor": ("Conductor", ""),
    "insulation": ("Insulation", ""),
    "raceway": ("Raceway", ""),
    "largest_conductor": ("Largest conductor in one set", ""),
    "smallest_conductor": ("Smallest conductor", ""),
    "smallest_device_a": ("Smallest branch device", "A"),
    "device_kind": ("Device kind", ""),
    "branches_per_panel": ("Branches per panel at most", ""),
    "wires_per_terminal": ("Wires per contactor terminal", ""),
    "branch_drop_pct": ("Branch drop", "%"),
    "total_drop_pct": ("Total drop", "%"),
    "on_drop": ("On drop", ""),
    "heat_margin_pct": ("Heat margin", "%"),
}
SIZES = ("largest_conductor", "smallest_conductor")


class Resolved(NamedTuple):
    settings: Settings
    listing: tuple[Setting, ...]
    remarks: tuple[Remark, ...]


def resolve_settings(project: Project, rules: RuleSet) -> Resolved:
    """Settings of a project under a rule set; what is unreadable or below the code's floor is replaced, and said."""
    values: dict[str, object] = {}
    listing, said = [], []
    for name, (words, unit) in WORDS.items():
        given, default = getattr(project, name), rules.default(name)
        value = default.value if given is None else given
        if name in SIZES and given is not None:
            value = rules.size_named(given)
            if value is None:
                value = default.value
                said.append(remark("setting-unreadable", name, setting=words, value=given, used=value))
        if name == "margin_pct":
            value, more = _at_least_the_codes(value, rules)
            said += more
        values[name] = value
        shown = _shown(value, unit, default.basis)
        listing.append(Setting(words, shown, given is not None, "given" if given is not None else default.basis))
        if given is None:
            said.append(remark("default-used", name, setting=words, value=shown, why=default.basis))
    if rules.rank(values["largest_conductor"]) < rules.rank(values["smallest_conductor"]):
        said.append(
            remark(
                "setting-unreadable",
                "largest_conductor",
                setting="Largest conductor, smaller than the smallest,",
                value=values["largest_conductor"],
                used=rules.default("largest_conductor").value,
            )
        )
        values["largest_conductor"] = max(rules.default("largest_conductor").value, values["smallest_conductor"], key=rules.rank)
    return Resolved(Settings(**values), tuple(listing), tuple(said))


def _at_least_the_codes(margin_pct: float, rules: RuleSet) -> tuple[float, list[Remark]]:
    floor = 100.0 * (rules.factor("continuous").value - 1.0)
    if margin_pct < floor:
        return floor, [remark("margin-below-code", "margin_pct", asked=f"{margin_pct:g} %", floor=f"{floor:g} %")]
    return margin_pct, []


def _shown(value: object, unit: str, basis: str) -> str:
    if value is None:
        return "by device rating"
    return f"{value:g} {unit}".strip() if isinstance(value, (int, float)) else f"{value} {unit}".strip()
