"""Equal records held once. A plant repeats itself: of the wires of ten thousand banks some hundred differ."""

from __future__ import annotations

from collections.abc import Hashable
from functools import lru_cache
from typing import TypeVar

One = TypeVar("One", bound=Hashable)


def held_once(record: One) -> One:
    """The first record equal to this one, in whose place it may stand: both are frozen. Numbers of one field are of one kind."""
    return _first(record)  # type: ignore[return-value]  # it gives back what it was given


@lru_cache(maxsize=1 << 14)
def _first(record: Hashable) -> Hashable:
    return record
