"""Money as it is printed: no total differs from the sum of the parts beside it."""

from __future__ import annotations

from collections.abc import Sequence


def in_cents(parts: Sequence[float], total: float) -> list[float]:
    """Each part to a hundredth, so that together they are the total to a hundredth: what rounding leaves is with the largest."""
    found = [round(part, 2) for part in parts]
    if found:
        at = max(range(len(parts)), key=lambda one: abs(parts[one]))
        found[at] = round(found[at] + round(total, 2) - sum(found), 2)
    return found
