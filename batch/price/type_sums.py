"""Lines of a project by what is built of them: panel types, single circuits and control panels; heaters; runs; and the rest.

The chain of costs is linear, so that what these come to adds up to the project.
"""

from __future__ import annotations

from collections.abc import Iterable

from batch.material_lines import BUILD, FEEDER, FIELD, OPEN, OTHER, PER_CENT, SHOP, Material
from batch.money_results import Atom
from batch.price.cost_chain import chain

RUNS, HEATERS, REST = "Wire and raceway", "Immersion heaters", "Other parts and work"


class TypeSum:
    """What one of them takes of the chain, and its lines. `tanks`, `feeders`: of its open lines."""

    def __init__(self) -> None:
        self.material = self.other = self.shop_h = self.field_h = 0.0
        self.open = 0
        self.lines: list[Material] = []
        self.tanks: set[str] = set()
        self.feeders: set[str] = set()

    def add(self, line: Material) -> None:
        self.lines.append(line)
        if line.price is not None:
            if line.sort == OTHER:
                self.other += line.price
            else:
                self.material += line.price
        if line.hours is not None and not line.supplied:
            self.shop_h += line.hours * (line.place == SHOP)
            self.field_h += line.hours * (line.place == FIELD)
        if line.status == OPEN:
            self.open += 1
            if line.owner.kind == FEEDER:
                self.feeders.add(line.owner.name)
            elif line.owner.tank:
                self.tanks.add(line.owner.tank)


def by_type(lines: Iterable[Material], atoms: list[Atom]) -> dict[str, tuple[TypeSum, float | None]]:
    """Of each its sum and its price, None where a rate is not given. `atoms`: of the project, whose freight as a sum is with the rest."""
    sums: dict[str, TypeSum] = {}
    for line in lines:
        if line.owner.kind == BUILD:
            tag = line.owner.name
        elif line.role == "heater":
            tag = HEATERS
        else:
            tag = RUNS if line.stretch is not None or line.sort == PER_CENT else REST
        sums.setdefault(tag, TypeSum()).add(line)
    lump = sum(atom.freight_sum for atom in atoms)
    if lump:
        sums.setdefault(REST, TypeSum())
    return {tag: (total, _price(total, lump if tag == REST else 0.0, atoms)) for tag, total in sums.items()}


def _price(total: TypeSum, lump: float, atoms: list[Atom]) -> float | None:
    return chain(
        material=total.material, other=total.other, shop_h=total.shop_h, field_h=total.field_h, freight_sum=lump, rates=atoms[0].rates
    ).price
