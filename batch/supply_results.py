"""What was found of a transformer's protection and of a tap, for their rows to show."""

from __future__ import annotations

from typing import NamedTuple


class UnitProtection(NamedTuple):
    """Greatest devices of a transformer, A: the primary one alone (None: it never is), the primary one with secondary ones, the sum of the
    secondary ones; and what that sum is."""

    alone_a: float | None
    both_a: float
    secondary_most_a: float
    secondary_a: float


class TapSizing(NamedTuple):
    """What a tap's conductors carry, never rounded up, and what its rule asks of them; `rule` its clause, "" = too long to be a tap."""

    rule: str
    ampacity_a: int
    needs_a: float
