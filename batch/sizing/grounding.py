"""Equipment grounding conductors."""

from __future__ import annotations

from typing import NamedTuple

from batch.records import Settings
from batch.rules import RuleSet


class Ground(NamedTuple):
    size: str
    basis: str


def ground_size(device_a: float, size: str, sets: int, needed_size: str, needed_sets: int, settings: Settings, rules: RuleSet) -> Ground:
    """Equipment grounding conductor of one raceway: Table 250.122 by the device, full size in each parallel raceway (250.122(F)).

    Where the circuit's conductors are larger than load and device need, it grows in proportion to circular mils
    (250.122(B)), up to the size of the conductors it runs with; it need never exceed the circuit's conductors (250.122(A)), all
    sets of them together. The project's smallest conductor bounds it too.
    """
    table = rules.ground(device_a, settings.conductor)
    together = rules.cmil(size).value * sets
    if table is None:
        return Ground(_at_least(together, rules), "250.122(A): as the circuit's conductors together, beyond the table")
    ratio = together / (rules.cmil(needed_size).value * needed_sets)
    wanted, basis = table.value, "Table 250.122"
    if ratio > 1.0 + 1e-9:
        grown = min(_rank(_at_least(_cmil(wanted, rules) * ratio, rules), rules), rules.rank(size))
        wanted, basis = rules.sizes[max(grown, _rank(wanted, rules))], "Table 250.122, 250.122(B)"
    rank = max(_rank(wanted, rules), rules.rank(settings.smallest_conductor))
    return Ground(rules.sizes[min(rank, rules.rank(_at_least(together, rules)))], basis)


def _rank(size: str, rules: RuleSet) -> int:
    """Rank of a grounding size; one that is no ampacity-table size (1200 kcmil) takes the next larger."""
    return rules.rank(size) if size in rules.sizes else rules.rank(_at_least(_cmil(size, rules), rules))


def _cmil(size: str, rules: RuleSet) -> float:
    """Circular mils; a size that the wire table lacks is one in kcmil."""
    return rules.cmil(size).value if size in rules.sizes else 1000.0 * float(size)


def _at_least(cmil: float, rules: RuleSet) -> str:
    """Smallest size of at least so many circular mils; the largest where none is."""
    return next((size for size in rules.sizes if rules.cmil(size).value >= cmil * (1 - 1e-9)), rules.sizes[-1])
