"""Raceways: the trade size that holds a set of conductors."""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import cached_property
from typing import NamedTuple

from batch.errors import RuleSetError
from batch.rules.tables import Cited, RuleData, cite

FILL_ROUNDING = 1e-12  # of binary fractions only: no conductor is let in by it


class Raceway(NamedTuple):
    """A raceway chosen: trade size, and how much of it the conductors fill (%)."""

    trade_size: str
    fill_pct: float


class RacewayRules(RuleData):
    """Look-ups on raceways. Kinds are the job workbook's: "PVC-80", "PVC-40", "RMC", "EMT", "LFMC"."""

    @cached_property
    def _raceways(self) -> dict[str, tuple[tuple[str, float, Cited[float]], ...]]:
        if not self.has("raceways"):
            return {}
        kinds: dict[str, list[tuple[str, float, Cited[float]]]] = {}
        for row in self.table("raceways"):
            area = row.figure("area_in2")
            kinds.setdefault(row["raceway"], []).append((row["trade_size"], area, row.cited(area, "area_in2", "in²")))
        return {kind: tuple(sizes) for kind, sizes in kinds.items()}

    @cached_property
    def _fills(self) -> tuple[tuple[float, float, Cited[float]], ...]:
        return tuple(
            (row.figure("conductors_from"), row.number("conductors_to") or math.inf, row.cited(row.figure("fill_pct"), "fill_pct", "%"))
            for row in self.table("fill")
            if row["nipple"] == "no"
        )

    def fill_limit(self, conductors: int) -> Cited[float]:
        """Maximum fill (%) of a raceway with that many conductors, grounding conductors counted."""
        for fewest, most, limit in self._fills:
            if fewest <= conductors <= most:
                return limit
        raise RuleSetError(f"{self.table('fill').path}: no limit for {conductors} conductors; a raceway holds one or more.")

    def raceway(self, kind: str, areas: Sequence[float]) -> Cited[Raceway] | None:
        """Smallest trade size of `kind` for conductors of these areas (in2), from the smallest that is chosen at all up.

        None without conductors, for an unknown kind, or beyond the table. The limit is taken of the table's total area,
        so that the fill shown never exceeds the percentage shown. Source: Chapter 9 Tables 1 and 4.
        """
        sizes = self._raceways.get(kind)
        if not areas or not sizes:
            return None
        total = math.fsum(areas)
        limit = self.fill_limit(len(areas))
        for trade_size, area, cited in sizes[self._first(kind):]:
            if total <= area * limit.value / 100 + FILL_ROUNDING:
                return cite(Raceway(trade_size, total / area * 100), limit, cited)
        return None

    def _first(self, kind: str) -> int:
        smallest = self.named_size("smallest_raceway").value
        for place, (trade_size, _, _) in enumerate(self._raceways[kind]):
            if trade_size == smallest:
                return place
        return 0
