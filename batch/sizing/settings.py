"""The settings of a project as used: given, or the rule set's default, the defaults said in one line."""

from __future__ import annotations

from typing import Any, NamedTuple

from batch.findings import Remarks
from batch.method.overcurrent import continuous_factor
from batch.records import Project, Settings
from batch.rules import RuleSet
from batch.sizing.control_settings import COLOUR_WORDS, CONTROL_WORDS, control_listing
from batch.sizing.words import air, size_words
from batch.used_settings import Setting

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
    "breaker_type": ("Breaker type", ""),
    "installation": ("Installation method", ""),
    "grouping": ("Grouping", ""),
}
NOT_EVERY_CODES = ("breaker_type", "installation", "grouping")  # settings that a rule set may have no use for
SETTING_WORDS = {**WORDS, **CONTROL_WORDS, **COLOUR_WORDS}  # all of a project
SIZES = ("largest_conductor", "smallest_conductor")


class Resolved(NamedTuple):
    settings: Settings
    listing: tuple[Setting, ...]


Values = dict[str, Any]  # by name of the setting


def resolve_settings(project: Project, rules: RuleSet, said: Remarks) -> Resolved:
    """Settings of a project under a rule set; what is unreadable or below the code's floor is replaced, and said."""
    values: Values = {}
    blank = {} if project.code_basis is not None else {"code_basis": f"Code basis {rules.name} (the newest at hand)"}
    used = [name for name in WORDS if name not in NOT_EVERY_CODES or rules.knows_setting(name)]
    told = [name for name in used if name != "raceway" or rules.has("raceways")]  # elsewhere the method says what a cable lies in
    for name in used:
        given = getattr(project, name)
        values[name] = _default(name, rules) if given is None else given
        if given is None and name in told:
            blank[name] = f"{WORDS[name][0]} {_shown(name, values[name], rules)}"
    for name in WORDS:
        if name not in used and (given := getattr(project, name)) is not None:
            said.add("setting-unused", name, setting=WORDS[name][0], value=str(given), rule_set=rules.name)
    blank |= {one.name: f"{one.name} {one.value}" for one in control_listing(project, rules) if not one.given}
    if blank:
        said.add("default-used", next(iter(blank)), count=len(blank), settings="; ".join(blank.values()))
    _judge_way(project, values, rules, said)
    _judge_margin(values, rules, said)
    _judge_terminal(values, rules, said)
    for name in SIZES:
        _judge_size(name, values, rules, said)
    _judge_order(values, rules, said)
    listing = tuple(
        Setting(words, _shown(name, values[name], rules), getattr(project, name) is not None, _why(project, name, rules))
        for name, (words, _) in WORDS.items()
        if name in told
    )
    return Resolved(Settings(**values), (*listing, *control_listing(project, rules)))


def _default(name: str, rules: RuleSet) -> Any:
    """What a blank setting means; the margin at least what the rule set's own factor asks."""
    value = rules.default(name).value
    return max(value, _margin_floor(rules)) if name == "margin_pct" else value


def _margin_floor(rules: RuleSet) -> float:
    return 100.0 * (continuous_factor(0.0, rules).value - 1.0)


def _judge_way(project: Project, values: Values, rules: RuleSet, said: Remarks) -> None:
    """An insulation and a raceway that the rule set has tables of; of a code without tables of raceways, none is chosen."""
    known = rules.insulations
    if known and values["insulation"] not in known:
        _replace("insulation", values, rules.default("insulation").value, rules, said)
    usual = rules.default("raceway").value
    if not rules.has("raceways") and values["raceway"] != usual:
        said.add("setting-unused", "raceway", setting=WORDS["raceway"][0], value=str(project.raceway), rule_set=rules.name)
        values["raceway"] = usual


def _judge_margin(values: Values, rules: RuleSet, said: Remarks) -> None:
    """The code's margin is a floor."""
    asked, floor = values["margin_pct"], _margin_floor(rules)
    if asked < floor:
        values["margin_pct"] = floor
        said.add("margin-below-code", "margin_pct", asked=f"{asked:g} %", floor=f"{floor:g} %")


def _judge_terminal(values: Values, rules: RuleSet, said: Remarks) -> None:
    """A terminal rating has a column of its own, or is taken as the next lower one; below them all the lowest is said to be used."""
    columns = (rules.factor("terminal_low_c").value, rules.factor("terminal_high_c").value)
    if (given := values["terminal_c"]) not in (None, *columns):
        _replace("terminal_c", values, max((one for one in columns if one <= given), default=min(columns)), rules, said)


def _judge_size(name: str, values: Values, rules: RuleSet, said: Remarks) -> None:
    """A conductor size in its one spelling; one that the rule set does not know gives way to the default."""
    known = rules.size_named(values[name])
    if known is None:
        _replace(name, values, rules.default(name).value, rules, said)
    else:
        values[name] = known


def _judge_order(values: Values, rules: RuleSet, said: Remarks) -> None:
    """The largest conductor is no smaller than the smallest."""
    if rules.rank(values["largest_conductor"]) < rules.rank(values["smallest_conductor"]):
        used = max(rules.default("largest_conductor").value, values["smallest_conductor"], key=rules.rank)
        _replace("largest_conductor", values, used, rules, said)


def _replace(name: str, values: Values, used: object, rules: RuleSet, said: Remarks) -> None:
    typed, shown = _as_typed(name, values[name], rules), _shown(name, used, rules)
    said.add("setting-unreadable", name, setting=WORDS[name][0], value=typed, used=shown)
    values[name] = used


def _as_typed(name: str, value: object, rules: RuleSet) -> str:
    return str(value) if name in SIZES else _shown(name, value, rules)


def _why(project: Project, name: str, rules: RuleSet) -> str:
    return rules.default(name).citation if getattr(project, name) is None else "given"


def _shown(name: str, value: Any, rules: RuleSet) -> str:
    if value is None:
        return "by device rating"
    if name in SIZES:
        return size_words(value)
    if name == "installation" and (method := rules.methods.get(value)) is not None:
        return f"{value}: {method.value.words}"
    if name == "ambient_c":
        return air(value, rules.marking.fahrenheit)
    return f"{value:g} {WORDS[name][1]}".strip() if isinstance(value, (int, float)) else str(value)
