"""What sizing returns of the boxes: which parts stand in one, how large it must be, how warm it gets. Frozen, no drawing.

Sizes, watts and rises are budget estimates by rows and sums: a shop checks them on its own drawing.
"""

from __future__ import annotations

from typing import NamedTuple


class BoxPart(NamedTuple):
    """Parts of one sort on the plate of a box, side by side.

    what     in words: "fuse in holder, 30 A", "contactor, 27 A"
    number   of them
    width_mm, height_mm, depth_mm   of one
    loss_w   heat of all of them at design current [W]
    known    how space and heat are known
    marks    designation of each, from the left
    """

    what: str
    number: int
    width_mm: float
    height_mm: float
    depth_mm: float
    loss_w: float
    known: str = ""
    marks: tuple[str, ...] = ()


class Enclosure(NamedTuple):
    """A box as estimated.

    type       what it must stand, as the trade marks it: "Type 4X, non-metallic"
    size       outside: "24 x 20 x 10 in"; "" = none of the list
    why        why none of the list serves, with its figures; "" = one does
    rows       of parts on its plate
    loss_w     of all its parts and wires [W]
    rise_k     how much warmer than the hall; with `why`, in the largest of the list
    air_c      air in it at the project's ambient [°C]
    plate_mm   height and width of its mounting plate
    parts      on the plate, in order
    on         how many of them stand on each row, from above
    wire_m     of one wire in it, estimated [m]
    cause      what `why` comes from, without figures
    """

    type: str
    size: str
    why: str
    rows: int
    loss_w: float
    rise_k: float
    air_c: float
    plate_mm: tuple[float, float]
    parts: tuple[BoxPart, ...]
    basis: tuple[str, ...] = ()
    on: tuple[int, ...] = ()
    wire_m: float = 0.0
    cause: str = ""
