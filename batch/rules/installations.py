"""Installations: how a cable is laid, by which a code that tells methods apart tabulates ampacity, air or ground, and grouping."""

from __future__ import annotations

import copy
from functools import cached_property
from typing import NamedTuple, Self

from batch.rules.conductors import PREFIX, ConductorRules
from batch.rules.tables import Cited

BURIED = ("D1", "D2")
SINGLE_LAYER = "single layer"
INSTEAD = {"F": "E", "E": "C"}  # method whose tables stand in, on the safe side, where a method's own have no cell


class Installation(NamedTuple):
    """How a run is laid: insulation, method, grouping ("bunched", "single layer"), loaded conductors of a circuit."""

    insulation: str
    method: str
    grouping: str
    loaded: int


class Method(NamedTuple):
    """An installation method: what it runs in, its cable ("single-core", "multicore", "either"), and in full.

    together  parallel sets lie in one containment, beside each other on a tray; else each set has its own
    """

    containment: str
    words: str
    cable: str = "either"
    together: bool = False


class InstallationRules(ConductorRules):
    """Look-ups that depend on how a run is laid. `installed` gives the rule set as it holds for one installation."""

    @property
    def tells_methods(self) -> bool:
        """Whether the code tells installation methods apart."""
        return self.has("ampacity_by_method")

    @cached_property
    def insulations(self) -> tuple[str, ...]:
        """Insulations that the rule set knows."""
        named = self.section("conductors").get("insulations")
        if isinstance(named, dict):
            return tuple(named)
        if not self.has("conductor_areas"):
            return ()
        return tuple(dict.fromkeys(kind for row in self.table("conductor_areas") for kind in row["insulation"].split()))

    @cached_property
    def methods(self) -> dict[str, Cited[Method]]:
        """Installation methods by their letters."""
        rows = self.table("methods") if self.has("methods") else ()
        made = ((row, Method(row["containment"], row["words"], row["cable"], row["sets"] == "together")) for row in rows)
        return {row["method"]: row.cited(method, "words") for row, method in made}

    @cached_property
    def _views(self) -> dict[Installation, Self]:
        return {}

    def installed(self, laid: Installation) -> Self:
        """The rule set as it holds for a run laid so: ampacities, ambient factors, grouping. Itself where the code tells no methods."""
        if not self.tells_methods:
            return self
        if laid not in self._views:
            view = copy.copy(self)
            for name in ("_ampacities", "_ambients", "_adjustments"):
                view.__dict__.pop(name, None)
            view.__dict__["_factors"] = {**self._factors, "insulation_c": self.works_at(laid.insulation)}
            view.__dict__["_ampacities"] = self._by_method(laid)
            if laid.method in BURIED:
                view.__dict__["_ambients"] = self._ambients_of("ambient_ground")
                view.__dict__["_adjustments"] = self._grouped(laid.method, "adjustment_ground") or self._adjustments
            elif laid.grouping == SINGLE_LAYER:
                view.__dict__["_adjustments"] = self._grouped(laid.method, "adjustment_layer") or self._adjustments
            self._views[laid] = view
        return self._views[laid]

    def works_at(self, insulation: str) -> Cited[float]:
        """Temperature up to which a conductor of that insulation may work."""
        column_c = self.section("conductors")["insulations"].get(insulation)
        base = self.factor("insulation_c")
        return base if column_c is None else base._replace(value=column_c)

    @cached_property
    def _cells(self) -> dict[tuple[str, float, int, str], dict[str, Cited[float]]]:
        """Ampacities by method, column, loaded conductors and material, by size."""
        found: dict[tuple[str, float, int, str], dict[str, Cited[float]]] = {}
        for row in self.table("ampacity_by_method"):
            for material, prefix in PREFIX.items():
                if (amps := row.number(f"{prefix}_a")) is not None:
                    place = row["source"].replace(":2009", "") + f", {row['method']}"
                    key = row["method"], row.figure("column_c"), int(row.figure("loaded")), material
                    found.setdefault(key, {})[row["size"]] = row.cited(amps, f"{prefix}_a", "A")._replace(citation=place)
        return found

    def _by_method(self, laid: Installation) -> dict[tuple[str, str, float], Cited[float]]:
        """Ampacities by size, material and column as a run is laid; the tables' first are of one method, with three loaded conductors."""
        own = self._ampacities
        found: dict[tuple[str, str, float], Cited[float]] = {}
        for size in self.sizes:
            for material in PREFIX:
                for column_c in self.conventions.columns_c:
                    method: str | None = laid.method
                    while method is not None and (size, material, column_c) not in found:
                        cells = self._cells.get((method, column_c, laid.loaded, material))
                        cell = own.get((size, material, column_c)) if cells is None and self._is_first(method) else (cells or {}).get(size)
                        if cell is not None:
                            found[size, material, column_c] = cell
                        method = INSTEAD.get(method)
        return found

    def _is_first(self, method: str) -> bool:
        return self.section("conductors").get("first_method") == method

    def _grouped(self, method: str, role: str) -> tuple[tuple[float, Cited[float]], ...]:
        return tuple(
            (row.number("conductors_to") or float("inf"), row.cited(row.figure("percent") / 100, "percent"))
            for row in self.table(role)
            if method in row["methods"].split()
        )
