"""Totals of a revision, and what is to be ordered in it: counted from the result rows, before and after."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from types import MappingProxyType

from batch.comparing.changeset import BeforeAfter, Order
from batch.comparing.lines import fold
from batch.comparing.pairing import Pair, in_both
from batch.findings import Severity
from batch.material_lines import OPEN
from batch.results import JobResult, ProjectResult
from batch.schedules import rows
from batch.schedules.fuse_places import wherever_held
from batch.sizing.placing import type_key

HEADINGS: dict[str, tuple[str, str, str]] = {  # key -> heading, unit, format
    "projects": ("Projects", "", "count"),
    "feeders": ("Feeders", "", "count"),
    "tanks": ("Tanks", "", "count"),
    "banks": ("Banks", "", "count"),
    "heaters": ("Heaters", "", "count"),
    "connected_kw": ("Connected", "kW", "kw"),
    "delivered_kw": ("Delivered", "kW", "kw"),
    "demand_kw": ("Demand", "kW", "kw"),
    "branches": ("Branch circuits", "", "count"),
    "panels": ("Heater panels", "", "count"),
    "types": ("Panel types", "", "count"),
    "single_circuits": ("Single-circuit banks", "", "count"),
    "maximum_a": ("Maximum feeder current", "A", "amps"),
    "holds": ("Holds", "", "count"),
    "cautions": ("Cautions", "", "count"),
    "notes": ("Notes", "", "count"),
    "not_sized": ("Heater rows not sized", "", "count"),
    "price": ("Price of priced parts", "currency", "money"),
    "hours": ("Labour hours of priced parts", "h", "hours"),
    "open": ("Open lines of Materials and Runs", "", "count"),
}
MONEY = ("price", "hours", "open")


def figures(old: JobResult, new: JobResult, currency: str = "") -> tuple[BeforeAfter, ...]:
    """Totals of the whole job in both revisions; the money of projects in one currency only, since others do not add."""
    before, after = totals(old), totals(new)
    shown = [key for key in HEADINGS if key not in MONEY or (key == "open" or before[key] is not None or after[key] is not None)]
    if len(set(_currencies(old, new).values())) > 1:
        shown = [key for key in shown if key != "price"]
    return tuple(_figure(key, before[key], after[key], currency) for key in shown)


def project_figures(old: JobResult, new: JobResult, same: Mapping[str, str]) -> tuple[BeforeAfter, ...]:
    """Totals of each project where there are several. `same`: folded project name before -> after."""
    sides = {fold(one.project.project): one for one in new.projects}, {
        same.get(fold(one.project.project), fold(one.project.project)): one for one in old.projects
    }
    found = []
    money = _currencies(old, new)
    for key in dict.fromkeys([*sides[0], *sides[1]]):
        one, other = sides[1].get(key), sides[0].get(key)
        name = next(side.project.project for side in (other, one) if side is not None)
        before, after = (_project_totals(project) for project in (one, other))
        for figure in ("heaters", "connected_kw", "panels", "price"):
            if figure != "price" or before[figure] is not None or after[figure] is not None:
                found.append(_figure(figure, before[figure], after[figure], money.get(name, ""))._replace(project=name))
    return tuple(found)


def _figure(key: str, before: float | None, after: float | None, currency: str) -> BeforeAfter:
    heading, unit, format = HEADINGS[key]
    return BeforeAfter(key, heading, (currency if unit == "currency" else unit), format, before, after)


def _currencies(*results: JobResult) -> dict[str, str]:
    return {one.project.project: one.project.currency or "" for result in results for one in result.projects}


def totals(result: JobResult) -> dict[str, float | None]:
    """Every total of a result by key; price and hours are None where nothing has any."""
    sums: dict[str, float | None] = dict.fromkeys(HEADINGS, 0)
    sums |= {"price": None, "hours": None}
    for project in result.projects:
        for key, value in _project_totals(project).items():
            if key == "maximum_a":
                sums[key] = max(sums[key] or 0.0, value or 0.0)
            elif value is not None:
                sums[key] = (sums[key] or 0) + value
    for severity in Severity:  # each by itself, as Read first counts them: what came and went is told so too, and not by lines of a list
        sums[f"{severity.word}s"] = sum(finding.severity is severity for finding in result.findings)
    received = sum(1 for table in result.job.received if table.kind == "heaters" for row in table.rows if _not_sized(result, row))
    sums["not_sized"] = received
    return sums


def _not_sized(result: JobResult, row) -> bool:
    from batch.intake.table import NO_DATA

    return row.refused not in NO_DATA if row.refused else result.fates.get((row.sheet, row.row)) == "not sized"


def _project_totals(project: ProjectResult | None) -> dict[str, float | None]:
    if project is None:
        return dict.fromkeys(HEADINGS, 0) | {"price": None, "hours": None}
    banks, feeders, materials = project.banks, project.feeders, project.materials
    prices = [line.price for line in materials if line.price is not None]
    hours = [line.hours for line in materials if line.hours is not None]
    return {
        "projects": 1,
        "feeders": len(feeders),
        "tanks": len({fold(row.bank.tank) for row in banks}),
        "banks": len(banks),
        "heaters": sum(row.bank.quantity for row in banks),
        "connected_kw": sum(row.design.connected_kw for row in banks),
        "delivered_kw": sum(row.design.delivered_kw for row in banks),
        "demand_kw": sum(row.demand_kw for row in feeders),
        "branches": sum(1 if row.design.single_circuit else row.bank.quantity * row.design.circuits_per_heater for row in banks),
        "panels": sum(len(row.panels) for row in banks),
        "types": len(project.types),
        "single_circuits": sum(row.design.single_circuit is not None for row in banks),
        "maximum_a": max((row.lines.maximum for row in feeders), default=0.0),
        "price": sum(prices) if prices else None,
        "hours": sum(hours) if hours else None,
        "open": sum(line.status == OPEN for line in materials),
    }


def orders(
    old: JobResult, new: JobResult, same: Mapping[str, str], parts: Mapping[str, str] = MappingProxyType({})
) -> tuple[Order, ...]:
    """Panel types by what is built, whatever they are called, then parts and lengths. `same` as above; `parts`: part before -> after."""
    projects = {fold(one.project.project): one.project.project for result in (old, new) for one in result.projects}
    types = _joined("panel_types", _types(old), _types(new), same, projects)
    return (*types, *_joined("materials", _parts(old, parts), _parts(new), same, projects))


class _Needed:
    """Quantity and price of one thing in one revision."""

    __slots__ = ("count", "name", "price", "priced", "unit", "words")

    def __init__(self, name: str, words: str, unit: str) -> None:
        self.name, self.words, self.unit, self.count, self.price, self.priced = name, words, unit, 0.0, 0.0, True

    def add(self, count: float, price: float | None) -> None:
        self.count += count
        if price is None:
            self.priced = False
        else:
            self.price += price


def _types(result: JobResult) -> dict[tuple, _Needed]:
    words = {(row["project"], row["type"]): wherever_held(str(row["configuration"])) for row in rows(result, "panel_types")}
    found = {}
    for project in result.projects:
        prices: dict[str, list[float]] = defaultdict(list)
        unpriced = {line.used_for for line in project.materials if line.price is None}
        for line in project.materials:
            if line.price is not None:
                prices[line.used_for].append(line.price)
        for kind in project.types:
            needed = _Needed(kind.type, words[project.project.project, kind.type], "ea")
            own = prices[kind.type]
            needed.add(len(kind.tags), None if not own or kind.type in unpriced else sum(own))
            found[fold(project.project.project), type_key(kind.design, bool(kind.hold))] = needed
    return found


def _parts(result: JobResult, names: Mapping[str, str] = MappingProxyType({})) -> dict[tuple, _Needed]:
    found: dict[tuple, _Needed] = {}
    for project in result.projects:
        for line in project.materials:
            part = names.get(line.part, line.part)
            key = fold(project.project.project), (line.role, part, line.words.replace(line.part, part) if part else line.words, line.unit)
            needed = found.get(key) or found.setdefault(key, _Needed(line.part, f"{line.role}: {line.words}", line.unit))
            needed.add(line.quantity, line.price)
    return found


def _joined(
    table: str, before: Mapping[tuple, _Needed], after: Mapping[tuple, _Needed], same: Mapping[str, str], projects: Mapping[str, str]
) -> Iterator[Order]:
    before = {(same.get(project, project), key): needed for (project, key), needed in before.items()}
    for place in sorted({**before, **after}, key=lambda place: _order_of(before, after, place)):
        was, now = before.get(place), after.get(place)
        one = after.get(place) or before[place]
        yield Order(
            table,
            projects.get(place[0], place[0]),
            one.name,
            was.name if was and now and was.name != now.name else "",
            one.words,
            one.unit,
            was.count if was else 0.0,
            now.count if now else 0.0,
            was.price if was and was.priced else None,
            now.price if now and now.priced else None,
            was.price if was else 0.0,
            now.price if now else 0.0,
        )


def _order_of(before: Mapping, after: Mapping, place: tuple) -> tuple:
    one = after.get(place) or before[place]
    return place[0], one.words.partition(":")[0] if one.unit != "ea" else "", one.name, one.words


def part_names(pairs: Sequence[Pair]) -> dict[str, str]:
    """Part before -> after, of those that the user says are one part under another name."""
    both = [(left.names[0], right.names[0]) for left, right in in_both(pairs, "stock")]
    return {was: now for was, now in both if was != now}


def project_names(pairs: Sequence[Pair]) -> dict[str, str]:
    """Folded project name before -> after, of the projects that stand in both."""
    return {left.key[0]: right.key[0] for left, right in in_both(pairs, "projects")}
