"""The settings of a project as used: given, or the rule set's default, each default said once."""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

from batch.findings import Remark, remark
from batch.records import Project, Settings
from batch.results import Setting
from batch.rules import RuleSet
from batch.sizing.words import air, size_words

WORDS = {
    "margin_pct": ("Continuous-load margin", "%"),
    "ambient_c": ("Ambient", "°C"),
    "terminal_c": ("Terminal rating", "°C"),
    "conductor": ("Conductor", ""),
    "insulation": ("Insulation", ""),
    "raceway": ("Raceway", ""),
    "largest_conductor": ("Largest conductor in one set", ""),
    "smallest_conductor": ("Smallest conductor", ""),
    "smallest_device_a": ("Smallest branch OCPD", "A"),
    "device_kind": ("OCPD type", ""),
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
    said: list[Remark] = []
    for name in WORDS:
        given, default = getattr(project, name), rules.default(name)
        values[name] = default.value if given is None else given
        if given is None:
            why = default.basis
            said.append(remark("default-used", name, setting=WORDS[name][0], value=_shown(name, values[name], rules), why=why))
    for judge in (_margin, _terminal, *(_size(name) for name in SIZES), _sizes_in_order):
        said += judge(values, rules)
    listing = tuple(
        Setting(words, _shown(name, values[name], rules), getattr(project, name) is not None, _why(project, name, rules))
        for name, (words, _) in WORDS.items()
    )
    return Resolved(Settings(**values), listing, tuple(said))


def _margin(values: dict[str, object], rules: RuleSet) -> list[Remark]:
    """The code's margin is a floor (425.4(B), 210.20(A))."""
    asked, floor = values["margin_pct"], 100.0 * (rules.factor("continuous").value - 1.0)
    if asked >= floor:
        return []
    values["margin_pct"] = floor
    return [remark("margin-below-code", "margin_pct", asked=f"{asked:g} %", floor=f"{floor:g} %")]


def _terminal(values: dict[str, object], rules: RuleSet) -> list[Remark]:
    """A terminal rating has a column of its own, or is taken as the lower one (110.14(C)(1))."""
    columns = (rules.factor("terminal_low_c").value, rules.factor("terminal_high_c").value)
    if values["terminal_c"] in (None, *columns):
        return []
    return _replaced("terminal_c", values, min(columns), rules)


def _size(name: str) -> Callable[[dict[str, object], RuleSet], list[Remark]]:
    """A conductor size in its one spelling; one that the rule set does not know gives way to the default."""

    def judge(values: dict[str, object], rules: RuleSet) -> list[Remark]:
        known = rules.size_named(values[name])
        if known is None:
            return _replaced(name, values, rules.default(name).value, rules)
        values[name] = known
        return []

    return judge


def _sizes_in_order(values: dict[str, object], rules: RuleSet) -> list[Remark]:
    """The largest conductor is no smaller than the smallest."""
    if rules.rank(values["largest_conductor"]) >= rules.rank(values["smallest_conductor"]):
        return []
    used = max(rules.default("largest_conductor").value, values["smallest_conductor"], key=rules.rank)
    return _replaced("largest_conductor", values, used, rules)


def _replaced(name: str, values: dict[str, object], used: object, rules: RuleSet) -> list[Remark]:
    typed, shown = _as_typed(name, values[name], rules), _shown(name, used, rules)
    said = remark("setting-unreadable", name, setting=WORDS[name][0], value=typed, used=shown)
    values[name] = used
    return [said]


def _as_typed(name: str, value: object, rules: RuleSet) -> str:
    return str(value) if name in SIZES else _shown(name, value, rules)


def _why(project: Project, name: str, rules: RuleSet) -> str:
    return rules.default(name).basis if getattr(project, name) is None else "given"


def _shown(name: str, value: object, rules: RuleSet) -> str:
    if value is None:
        return "by device rating"
    if name in SIZES:
        return size_words(value)
    if name == "ambient_c":
        return air(value, rules.region == "us")
    return f"{value:g} {WORDS[name][1]}".strip() if isinstance(value, (int, float)) else str(value)
