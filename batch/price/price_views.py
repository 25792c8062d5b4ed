"""The bearers of cost grouped: each tank with its banks, each feeder with what hangs on it; and what is built, type by type.

Views are never added to each other.
"""

from __future__ import annotations

from collections.abc import Iterable

from batch.money_results import Atom, Build, Share, View

TANK, FEEDER, TYPE = "tank", "feeder", "type"


def viewed(
    atoms: Iterable[Atom], builds: Iterable[Build] = (), shares: Iterable[Share] = ()
) -> tuple[tuple[Atom, ...], tuple[View, ...]]:
    """Atoms with the numbers of their views, and the views: of each project its tanks and what is no tank's, then its feeders and what
    hangs on none. Every atom is in one of either. Last its builds, each a bill for one times how many: without heaters and runs.
    """
    atoms, builds, bearers = tuple(atoms), tuple(builds), _bearers(shares)
    of_number = {atom.number: atom for atom in atoms}
    of_project: dict[str, list[Atom]] = {}
    for atom in atoms:
        of_project.setdefault(atom.rates.project, []).append(atom)
    views: list[View] = []
    seen: list[Atom] = []
    for own in of_project.values():
        by_tank = _grouped(TANK, [(atom.tank, atom) for atom in own], len(views))
        by_feeder = _grouped(FEEDER, [(atom.feeder, atom) for atom in own], len(views) + len(by_tank))
        views += [*by_tank, *by_feeder]
        views += [
            View(number, own[0].rates, TYPE, one.name, tuple(of_number[owner] for owner in bearers.get(one.number, ())), one)
            for number, one in enumerate((one for one in builds if one.project == own[0].rates.project), len(views) + 1)
        ]
        tanks, feeders = ({atom.number: view.number for view in some for atom in view.atoms} for some in (by_tank, by_feeder))
        seen += [atom._replace(by_tank=tanks[atom.number], by_feeder=feeders[atom.number]) for atom in own]
    return tuple(sorted(seen, key=lambda atom: atom.number)), tuple(views)


def _bearers(shares: Iterable[Share]) -> dict[int, list[int]]:
    """Numbers of the atoms that have a build, by its number."""
    found: dict[int, list[int]] = {}
    for share in shares:
        found.setdefault(share.build.number, []).append(share.owner)
    return found


def _grouped(kind: str, named: Iterable[tuple[str, Atom]], before: int) -> list[View]:
    """By name in the order in which they are met, those of no name last."""
    groups: dict[str, list[Atom]] = {}
    shown: dict[str, str] = {}
    for name, atom in named:
        groups.setdefault(name.casefold(), []).append(atom)
        shown.setdefault(name.casefold(), name)
    order = [folded for folded in groups if folded] + [""] * ("" in groups)
    return [
        View(number, groups[folded][0].rates, kind, shown[folded], tuple(groups[folded]))
        for number, folded in enumerate(order, before + 1)
    ]
