"""What stands in a box: space and heat of parts, sizes of boxes. Budget figures of the trade."""

from __future__ import annotations

from functools import cached_property
from typing import NamedTuple

from batch.errors import RuleSetError
from batch.rules.tables import Cited, RuleData

INCH_MM = 25.4


class PartSpace(NamedTuple):
    """Space of a part on the plate, and the heat of one pole at its rating (None where it gives off none)."""

    width_mm: float
    height_mm: float
    box_depth_mm: float
    watts: float | None
    a_pole: bool  # the width is that of one pole
    group_mm: float  # added once for a group of such parts
    up_to: float | None


class BoxSize(NamedTuple):
    """Outside, mm."""

    height_mm: float
    width_mm: float
    depth_mm: float
    words: str  # "24 x 20 x 10 in"


class BoxRules(RuleData):
    """Look-ups on boxes and what is in them."""

    def part_space(self, part: str, rating: float = 0.0) -> Cited[PartSpace] | None:
        """Space of a part by its rating (A, or VA of a transformer); None above the table. RuleSetError for an unknown part."""
        rows = [row for row in self.table("part_space") if row["part"] == part]
        if not rows:
            raise RuleSetError(f"{self.table('part_space').path}: no part {part!r}; restore the row.")
        for row in rows:
            up_to = row.number("up_to") if row["up_to"] else None
            if up_to is None or row["up_to_unit"] == "AWG" or round(rating, 6) <= up_to:
                space = PartSpace(
                    row.figure("width_mm"), row.figure("height_mm"), row.figure("box_depth_mm"), row.number("watts"),
                    row["width_is"] == "pole", 20.0 if "group" in row["width_is"] else 0.0, up_to,
                )  # fmt: skip
                return row.cited(space, "watts" if row["watts"] else "width_mm", "mm")
        return None

    @cached_property
    def box_sizes(self) -> tuple[Cited[BoxSize], ...]:
        """Boxes, the smallest by volume first."""
        found = []
        for row in self.table("enclosure_sizes"):
            high, wide, deep = (row.figure(f"{side}_in") for side in ("height", "width", "depth"))
            size = BoxSize(high * INCH_MM, wide * INCH_MM, deep * INCH_MM, f"{high:g} x {wide:g} x {deep:g} in")
            found.append(row.cited(size, "height_in", "in"))
        return tuple(sorted(found, key=lambda one: one.value.height_mm * one.value.width_mm * one.value.depth_mm))
