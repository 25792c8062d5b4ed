"""Equal records held once. A plant repeats itself: of the wires of ten thousand banks some hundred differ."""

from __future__ import annotations

from collections.abc import Hashable
from functools import lru_cache
from typing import TypeVar

One = TypeVar("One", bound=Hashable)


def held_once(record: One) -> One:
    """The first record of this kind that is equal: either may stand for the other, both being frozen, with numbers of one kind a field."""
    return _first(record)  # type: ignore[return-value]  # it gives back what it was given


@lru_cache(maxsize=1 << 14, typed=True)  # a tuple of starts, (0, 0), equals a named one of currents, (0.0, 0.0)
def _first(record: Hashable) -> Hashable:
    return record
