"""What the price of a part is for: so many of a unit. Its hours are for the same: with another quantity they count otherwise."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import NamedTuple

from batch.material_lines import METRES
from batch.records import Part

CLOSE = 1e-9


class Rebased(NamedTuple):
    """A part whose hours are as they were and count otherwise: `times` as much as before, since the price is for another quantity."""

    part: str
    hours: str
    before: str
    after: str
    times: float


def rebased(pairs: Iterable[tuple[Part, Part]]) -> Iterator[Rebased]:
    """Of parts before and after those whose hours moved with the basis of their price, and with nothing else."""
    for was, now in pairs:
        same = [(was.labour_h, now.labour_h), (was.field_h, now.field_h)]
        hours = [after for before, after in same if before and after and abs(before - after) <= CLOSE * before]
        (before_size, by_length), (after_size, by_length_now) = _size(was), _size(now)
        times = before_size / after_size
        if hours and by_length == by_length_now and abs(times - 1.0) > CLOSE:
            yield Rebased(now.part, " and ".join(f"{one:.6g} h" for one in hours), _words(was), _words(now), times)


def _size(part: Part) -> tuple[float, bool]:
    """How much it is, in pieces or metres, and whether it is a length."""
    length = part.per_unit in METRES
    return (part.per_quantity or 1.0) * METRES.get(part.per_unit or "", 1.0), length


def _words(part: Part) -> str:
    return f"{part.per_quantity or 1.0:.6g} {part.per_unit or 'ea'}"
