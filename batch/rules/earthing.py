"""Earth faults: in what time a circuit is to disconnect, and at what current its device does so. Not every code works them."""

from __future__ import annotations

from functools import cached_property

from batch.rules.tables import AMPS_DIGITS, Cited, RuleData

ROUNDED = 1.01  # nominal volts are round: 400 V between lines are 230.9 to earth, and called 230
FAST_S, SLOW_S = 0.1, 5.0  # the two times at which the gates of fuses are tabulated; the bands of circuit-breakers end at the former


class EarthingRules(RuleData):
    """Look-ups on the disconnection of earth faults."""

    @property
    def works_earth_faults(self) -> bool:
        """Whether the code gives times in which an earth fault is to be disconnected."""
        return self.has("disconnection")

    @cached_property
    def _times(self) -> dict[str, tuple[tuple[float, Cited[float]], ...]]:
        found: dict[str, tuple[tuple[float, Cited[float]], ...]] = {}
        for row in self.table("disconnection"):
            cited = row.cited(row.figure("final_s"), "final_s", "s")
            found[row["earthing"]] = (*found.get(row["earthing"], ()), (row.figure("u0_to_v"), cited))
        return found

    def disconnection(self, earthing: str, u0_v: float) -> Cited[float] | None:
        """Time for a final circuit at so many volts to earth, earthing "TN" or "TT"; None above the table."""
        return next((cited for most_v, cited in self._times.get(earthing, ()) if u0_v <= ROUNDED * most_v), None)

    @property
    def residual_type(self) -> Cited[str]:
        """Type of the residual-current devices chosen here: "A"."""
        return self.entry(self._factors, "factors", "residual_type")

    @property
    def neutral_opened(self) -> Cited[tuple[str, ...]]:
        """Earthing systems whose neutral is opened with the lines: ("TT", "IT")."""
        return self.entry(self._lists, "lists", "neutral_opened")

    @property
    def neutral_guarded(self) -> Cited[tuple[str, ...]]:
        """Earthing systems in which overcurrent in a neutral is to be found too: ("IT",)."""
        return self.entry(self._lists, "lists", "neutral_guarded")

    @cached_property
    def _gates(self) -> dict[float, tuple[tuple[float, Cited[float]], ...]]:
        return {
            within_s: tuple((row.figure("rating_a"), row.cited(row.figure(column), column, "A")) for row in self.table("fuse_gates"))
            for within_s, column in ((FAST_S, "trips_01s_a"), (SLOW_S, "trips_5s_a"))
        }

    def fuse_opens_at(self, rating_a: float, within_s: float) -> Cited[float] | None:
        """Current at which a fuse has opened within that time at the latest: by the gate of 5 s, or for less that of 0.1 s.

        A rating that the table lacks counts as the next larger; None above the table, and for less than 0.1 s.
        """
        column = SLOW_S if within_s >= SLOW_S else FAST_S
        if within_s < column:
            return None
        rating_a = round(rating_a, AMPS_DIGITS)
        return next((cited for listed_a, cited in self._gates[column] if rating_a <= listed_a), None)

    @cached_property
    def _bands(self) -> dict[str, Cited[float]]:
        return {row["type"]: row.cited(row.figure("upper"), "upper") for row in self.table("breaker_bands")}

    def breaker_trips_at(self, type: str) -> Cited[float] | None:
        """Multiple of its rating at which a circuit-breaker of that type trips at once; None for a type that the table lacks."""
        return self._bands.get(type)
