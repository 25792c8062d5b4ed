"""What a rule set changes of the one that it extends, value by value, and whether that is stricter."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, NamedTuple

from batch.rules.code_basis import CodeValue

if TYPE_CHECKING:
    from batch.rules.ruleset import RuleSet

UP = "up"  # or "down": where the strict side of a value lies


class Difference(NamedTuple):
    """One value under two rule sets: `base` or `own` is None where only the other has it.

    value   that of the two which there is, the own one first: for its name, words and unit
    looser  whether the own value asks less than the base's; False too where the strict side of a value is not known
    """

    value: CodeValue
    base: CodeValue | None
    own: CodeValue | None
    looser: bool = False

    @property
    def words(self) -> str:
        was = "not in it" if self.base is None else _shown(self.base)
        now = "left out" if self.own is None else _shown(self.own)
        return f"{self.value.what}: {now}, for {was}"


def differences(rules: RuleSet) -> tuple[Difference, ...]:
    """Values that a rule set has otherwise than its base, in its own order; none for one that extends nothing."""
    return tuple(_differences(rules))


def _differences(rules: RuleSet) -> Iterator[Difference]:
    if (base := rules.extends) is None:
        return
    before = {value.name: value for value in base.code_values()}
    for value in rules.code_values():
        was = before.pop(value.name, None)
        if was is None or was.value != value.value:
            yield Difference(value, was, value, was is not None and _looser(was, value, base))
    for value in before.values():
        yield Difference(value, value, None)


def _looser(was: CodeValue, now: CodeValue, base: RuleSet) -> bool:
    if not was.strict:
        return False
    before, after = (base.rank(one.value) if isinstance(one.value, str) else one.value for one in (was, now))
    return after < before if was.strict == UP else after > before


def _shown(value: CodeValue) -> str:
    said = value.value if isinstance(value.value, str) else f"{value.value:.10g}"
    return f"{said} {value.unit}".strip()
