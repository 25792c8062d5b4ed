"""What hangs on a tank's control transformer, and the transformer and fuses for it."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from batch.control_results import Coil
from batch.errors import RuleSetError
from batch.method.control_transformer import control_load, control_primary_fuse, control_secondary_fuse, control_transformer_va
from batch.rules import RuleSet
from batch.rules.devices import CoilLoad


class ControlPower(NamedTuple):
    """S and I [VA], the transformer [VA] and its fuses [A]; None beyond the lists."""

    sealed_va: float
    inrush_va: float
    transformer_va: float | None
    primary_fuse_a: float | None
    secondary_fuse_a: float | None


def coil_load(part: str, rules: RuleSet) -> CoilLoad:
    """Volt-amperes of a part that the table must have; RuleSetError where it has not."""
    found = rules.coil(part)
    if found is None:
        raise RuleSetError(f"{rules.table('control_coils').path}: no part {part!r}; restore the row.")
    return found.value


def contactor_coil(mark: str, size: str, bank: str, rules: RuleSet) -> Coil | None:
    """The coil of a contactor of that size ("size 1"); None above the table: then its maker's figure is needed."""
    found = rules.coil(f"contactor {size}")
    return None if found is None else Coil(mark, f"contactor {size}", *found.value, bank=bank, known=found.known)


def other_load(banks: int, relays: int, controllers: int, ground_fault_relays: int, rules: RuleSet) -> float:
    """Latch, relays, one lamp and one more a bank, controller, ground-fault relays, sealed [VA]; the third lamp is dark then."""
    relay, lamp, controller, ground = (coil_load(part, rules).sealed_va for part in ("relay", "lamp", "controller", "ground-fault relay"))
    return (1 + relays) * relay + (1 + banks) * lamp + controllers * controller + ground_fault_relays * ground


def control_power(contactors: Sequence[Coil], other_va: float, primary_v: float, control_v: float, *, rules: RuleSet) -> ControlPower:
    """Transformer and fuses for these contactors and `other_va` [VA]."""
    sealed, inrush = control_load(sum(coil.inrush_va for coil in contactors), sum(coil.sealed_va for coil in contactors), other_va)
    rating = control_transformer_va(sealed, inrush, rules)
    if rating is None:
        return ControlPower(sealed, inrush, None, None, None)
    primary = control_primary_fuse(rating.value, primary_v, rules)
    secondary = control_secondary_fuse(rating.value, control_v, rules)
    return ControlPower(sealed, inrush, rating.value, primary.value if primary else None, secondary.value if secondary else None)
