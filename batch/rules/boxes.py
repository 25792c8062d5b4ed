"""What stands in a box: space and heat of parts, sizes of boxes. Budget figures of the trade."""

from __future__ import annotations

from functools import cached_property
from typing import NamedTuple

from batch.errors import RuleSetError
from batch.rules.tables import Cited, RuleData

UNITS_MM = {"in": 25.4, "mm": 1.0}
BY_RATING = ("A", "VA")  # parts whose space goes by it; of terminals the size is said alone


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

    @property
    def assembly_marking(self) -> tuple[str, str]:
        """What a nameplate says by the standard of assemblies, and of rated current, with {amps} and {diversity}; "" of a code without."""
        words = self.contents.get("assembly", {})
        return words.get("marking", ""), words.get("rated", "")

    def part_space(self, part: str, rating: float = 0.0) -> Cited[PartSpace] | None:
        """Space of a part by its rating (A, or VA of a transformer); None above the table. RuleSetError for an unknown part."""
        rows = [row for row in self.table("part_space") if row["part"] == part]
        if not rows:
            raise RuleSetError(f"{self.table('part_space').path}: no part {part!r}; restore the row.")
        for row in rows:
            up_to = row.number("up_to") if row["up_to"] else None
            if up_to is None or row["up_to_unit"] not in BY_RATING or round(rating, 6) <= up_to:
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
            if row["unit"] not in UNITS_MM:
                where = f"{self.table('enclosure_sizes').path} line {row.line}"
                raise RuleSetError(f"{where}: unit {row['unit']!r}; use {' or '.join(UNITS_MM)}.")
            high, wide, deep = (row.figure(side) for side in ("height", "width", "depth"))
            each = UNITS_MM[row["unit"]]
            size = BoxSize(high * each, wide * each, deep * each, f"{high:g} x {wide:g} x {deep:g} {row['unit']}")
            found.append(row.cited(size, "height", row["unit"]))
        return tuple(sorted(found, key=lambda one: one.value.height_mm * one.value.width_mm * one.value.depth_mm))

    def box_type(self, location: str) -> str:
        """What a box must stand at a location ("corrosive", "wet", "outdoor", "dry"), as the trade marks it: "Type 4X"."""
        return self.device_words(f"box_{location}")

    def device_words(self, name: str) -> str:
        """Words of [devices]; RuleSetError where the rule set has none of that name."""
        found = self.section("devices").get(name)
        if not isinstance(found, str):
            raise RuleSetError(f"{self.folder / 'ruleset.toml'}: [devices] has no {name}; add its words.")
        return found
