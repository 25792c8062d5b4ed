"""Conductors: sizes, ampacity and its corrections, grounding conductors, resistance and reactance, areas."""

from __future__ import annotations

import math
import re
from functools import cached_property

from batch.errors import RuleSetError
from batch.rules.tables import Cited, RuleData

PER_KM = {"kft": 1 / 0.3048, "km": 1.0}  # 1 ft = 0.3048 m exactly; ohm/kft x this = ohm/km
PREFIX = {"copper": "cu", "aluminum": "al"}
FREE_CONDUCTORS = 3  # tables of ampacity hold for up to three current-carrying conductors
_SIZE = re.compile(r"(?:no\.?|#)?\s*(\d+(?:/0)?|0{1,4})(?:\.0+)?\s*-?\s*(awg|kcmil|mcm|ga|gauge)?\.?", re.IGNORECASE)
_METRIC = re.compile(r"(\d+(?:\.\d+)?)\s*(?:mm2|mm²|sqmm|sq\.? ?mm|mm\^2)?", re.IGNORECASE)
_OUGHTS = {"0": "1/0", "00": "2/0", "000": "3/0", "0000": "4/0"}


class ConductorRules(RuleData):
    """Look-ups on conductors. Materials are "copper" and "aluminum"; sizes are canonical ("12", "4/0", "500")."""

    @cached_property
    def sizes(self) -> tuple[str, ...]:
        """Sizes of the ampacity table, rising."""
        return tuple(row["size"] for row in self.table("ampacity"))

    @cached_property
    def _ranks(self) -> dict[str, int]:
        return {size: rank for rank, size in enumerate(self.sizes)}

    @cached_property
    def _units(self) -> dict[str, str]:
        return {row["size"]: row["size_unit"].lower() for row in self.table("ampacity")}

    def rank(self, size: str) -> int:
        """Place of `size` among `sizes`, 0 the smallest; RuleSetError for a size that the rule set does not know."""
        try:
            return self._ranks[size]
        except KeyError:
            raise RuleSetError(f"Conductor size {size!r} is not one of {', '.join(self.sizes)}.") from None

    def size_named(self, text: object) -> str | None:
        """Canonical size of what a person wrote: "#12", "12 AWG", "4/0 AWG", "250 MCM", 500, or "2,5 mm2"; None if it is none."""
        if self.conventions.area == "mm2":
            return self._metric_size(str(text))
        found = _SIZE.fullmatch(str(text).strip())
        if not found:
            return None
        size, unit = _OUGHTS.get(found[1], found[1]), (found[2] or "").lower()
        if size not in self._ranks:
            return None
        if unit in ("kcmil", "mcm") and self._units[size] != "kcmil":
            return None
        if unit in ("awg", "ga", "gauge") and self._units[size] != "awg":
            return None
        return size

    def _metric_size(self, text: str) -> str | None:
        found = _METRIC.fullmatch(text.strip().replace(",", "."))
        size = f"{float(found[1]):g} mm²" if found else ""
        return size if size in self._ranks else None

    @cached_property
    def _ampacities(self) -> dict[tuple[str, str, float], Cited[float]]:
        found: dict[tuple[str, str, float], Cited[float]] = {}
        for row in self.table("ampacity"):
            for material, prefix in PREFIX.items():
                for column_c in self.conventions.columns_c:
                    column = f"{prefix}_{column_c}c_a"
                    if (amps := row.number(column)) is not None:
                        found[row["size"], material, column_c] = row.cited(amps, column, "A")
        return found

    def ampacity(self, size: str, material: str, column_c: float) -> Cited[float] | None:
        """Amps of one conductor of up to three in a raceway at 30 °C, in the 60, 75 or 90 °C column; None where there is none."""
        return self._ampacities.get((size, material, column_c))

    @cached_property
    def _ambients(self) -> dict[float, tuple[tuple[float, Cited[float] | None], ...]]:
        return self._ambients_of("ambient")

    def _ambients_of(self, role: str) -> dict[float, tuple[tuple[float, Cited[float] | None], ...]]:
        bands: dict[float, tuple[tuple[float, Cited[float] | None], ...]] = {}
        for column_c in self.conventions.columns_c:
            column = f"factor_{column_c}c"
            bands[column_c] = tuple(
                (row.figure("ambient_to_c"), None if (factor := row.number(column)) is None else row.cited(factor, column))
                for row in self.table(role)
            )
        return bands

    def ambient_factor(self, ambient_c: float, column_c: float) -> Cited[float] | None:
        """Correction for the air's temperature. A fraction goes to the hotter band (40.2 °C: 41 to 45); None above the table."""
        for top_c, factor in self._ambients.get(column_c, ()):
            if ambient_c <= top_c:
                return factor
        return None

    @cached_property
    def _adjustments(self) -> tuple[tuple[float, Cited[float]], ...]:
        return tuple(
            (row.number("conductors_to") or math.inf, row.cited((row.number("percent") or 0.0) / 100, "percent"))
            for row in self.table("adjustment")
        )

    def adjustment(self, current_carrying: int, circuits: int) -> Cited[float]:
        """Factor for what shares a raceway, by current-carrying conductors (1.0 up to three) or by circuits, as the code counts."""
        by_circuits = self.conventions.grouped_by == "circuits"
        count = circuits if by_circuits else current_carrying
        if count <= (1 if by_circuits else FREE_CONDUCTORS):
            return Cited(1.0, self.table("adjustment").citation)
        for most, factor in self._adjustments:
            if count <= most:
                return factor
        raise RuleSetError(f"{self.table('adjustment').path}: no row for {count} {self.conventions.grouped_by}; restore the last row.")

    @cached_property
    def _small(self) -> dict[tuple[str, str], Cited[float]]:
        if not self.has("small_conductors"):
            return {}
        return {
            (row["size"], row["material"]): row.cited(row.figure("device_a"), "device_a", "A") for row in self.table("small_conductors")
        }

    def small_conductor_limit(self, size: str, material: str) -> Cited[float] | None:
        """Maximum device (A) that protects a small conductor whatever its ampacity; None for a size without such a limit."""
        return self._small.get((size, material))

    @cached_property
    def _grounds(self) -> dict[str, tuple[tuple[float, Cited[str]], ...]]:
        return {
            material: tuple((row.figure("device_a"), row.cited(row[f"{prefix}_size"], f"{prefix}_size")) for row in self.table("ground"))
            for material, prefix in PREFIX.items()
        }

    def ground(self, device_a: float, material: str) -> Cited[str] | None:
        """Size of the equipment grounding conductor behind a device of `device_a` amps; None above the table."""
        for most_a, size in self._grounds.get(material, ()):
            if device_a <= most_a:
                return size
        return None

    @cached_property
    def _jumpers(self) -> dict[str, tuple[tuple[float, Cited[str]], ...]]:
        rows = self.table("bonding_jumper") if self.has("bonding_jumper") else ()
        return {
            material: tuple((row.figure(f"{prefix}_lines_cmil"), row.cited(row[f"{prefix}_size"], f"{prefix}_size")) for row in rows)
            for material, prefix in PREFIX.items()
        }

    def bonding_jumpers(self, material: str) -> tuple[tuple[float, Cited[str]], ...]:
        """Supply-side bonding jumpers, each with the circular mils of the lines up to which it serves; none without such a table."""
        return self._jumpers.get(material, ())

    @cached_property
    def _protective(self) -> dict[tuple[str, str], Cited[str]]:
        return {
            (row["size"], material): row.cited(row[f"{prefix}_size"], f"{prefix}_size")
            for row in self.table("protective")
            for material, prefix in PREFIX.items()
            if row[f"{prefix}_size"]
        }

    def protective(self, size: str, material: str) -> Cited[str] | None:
        """Size of the protective conductor that goes with lines of that size, where the code goes by it; None for a size it lacks."""
        return self._protective.get((size, material))

    @cached_property
    def _areas_of_metal(self) -> dict[str, Cited[float]]:
        unit = self.conventions.area
        return {row["size"]: row.cited(row.figure(f"area_{unit}"), f"area_{unit}", unit) for row in self.table("conductor_properties")}

    def area(self, size: str) -> Cited[float]:
        """Area of a conductor's metal, in circular mils or mm² as the code has it; RuleSetError for an unknown size."""
        try:
            return self._areas_of_metal[size]
        except KeyError:
            raise RuleSetError(f"Conductor size {size!r} is not in {self.table('conductor_properties').citation}.") from None

    @cached_property
    def _impedances(self) -> dict[tuple[str, str, str], Cited[float]]:
        found = {}
        unit = self.conventions.length
        for row in self.table("impedance"):
            for what in ("x", *PREFIX.values()):
                for conduit in self.conventions.raceways:
                    column = f"{what}_{conduit}_ohm_per_{unit}"
                    if (ohms := row.number(column)) is not None:
                        found[row["size"], what, conduit] = row.cited(ohms * PER_KM[unit], column, "ohm/km")
        return found

    @cached_property
    def _dc_resistances(self) -> dict[tuple[str, str], Cited[float]]:
        unit, found = self.conventions.length, {}
        for row in self.table("conductor_properties"):
            for material, prefix in PREFIX.items():
                column = f"{prefix}_ohm_per_{unit}"
                if row["build"] == "stranded" and (listed := row.number(column)) is not None:
                    found[row["size"], material] = row.cited(listed * PER_KM[unit], column, "ohm/km")
        return found

    def dc_resistance(self, size: str, material: str) -> Cited[float] | None:
        """Ohm per km of one stranded conductor to direct current, at the temperature of its table; None for a size that it lacks."""
        return self._dc_resistances.get((size, material))

    @cached_property
    def _conduits(self) -> dict[str, str]:
        return self.section("impedance_columns")

    def ac_resistance(self, size: str, material: str, raceway: str) -> Cited[float] | None:
        """Ohm per km of one conductor at 75 °C, 60 Hz, in that raceway; None for a size or raceway that the table lacks."""
        return self._impedances.get((size, PREFIX.get(material, ""), self._conduits.get(raceway, "")))

    def ac_reactance(self, size: str, raceway: str) -> Cited[float] | None:
        """Ohm per km of one conductor at 60 Hz, in that raceway; None for a size or raceway that the table lacks."""
        return self._impedances.get((size, "x", self._conduits.get(raceway, "")))

    @cached_property
    def _areas(self) -> dict[tuple[str, str], Cited[float]]:
        if not self.has("conductor_areas"):
            return {}
        return {
            (row["size"], insulation): row.cited(row.figure("area_in2"), "area_in2", "in²")
            for row in self.table("conductor_areas")
            for insulation in row["insulation"].split()
        }

    def wire_area(self, size: str, insulation: str) -> Cited[float] | None:
        """Area in square inches of one insulated conductor ("THWN-2", "XHHW-2"); None where the table has none."""
        return self._areas.get((size, insulation))
