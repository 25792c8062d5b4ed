"""Devices: overcurrent devices, contactors, transformers, and what an unmarked part withstands."""

from __future__ import annotations

from functools import cached_property
from math import sqrt
from typing import NamedTuple

from batch.errors import RuleSetError
from batch.rules.tables import AMPS_DIGITS, Cited, CodeRow, RuleData, cite


class DeviceClass(NamedTuple):
    """Kind of overcurrent device: words that name no maker; volts and interrupting rating None where they must be chosen."""

    words: str
    volts: float | None
    interrupting_ka: float | None
    standard: str


class ContactorRatings(NamedTuple):
    """What a contactor size is listed for; None where it is not listed for heating."""

    name: str
    continuous_a: float
    heating_volts_v: float | None
    heating_kw_1ph: float | None
    heating_kw_3ph: float | None


class Contactor(NamedTuple):
    name: str  # "size 2"
    continuous_a: float


class CoilLoad(NamedTuple):
    """Volt-amperes of a coil or another load of a control circuit."""

    sealed_va: float
    inrush_va: float


def _named(row: CodeRow) -> str:
    """What a contactor size is called."""
    return row.cells.get("words") or f"size {row['size']}"


def _fuse(row: CodeRow) -> DeviceClass:
    words = row.cells.get("words") or f"class {row['class']} fuse"
    return DeviceClass(words, row.number("volts_v"), row.number("interrupting_ka"), row["standard"])


class DeviceRules(RuleData):
    """Look-ups on devices. Kinds are "fuse" and "breaker"; amps are compared after rounding to 1e-6 A."""

    @cached_property
    def _ratings(self) -> dict[str, tuple[tuple[float, Cited[float]], ...]]:
        return {
            kind: tuple(
                (amps, row.cited(amps, "rating_a", "A"))
                for row in self.table("ratings")
                if row[kind] == "yes" and row["chosen"] == "yes" and (amps := row.number("rating_a")) is not None
            )
            for kind in ("fuse", "breaker")
        }

    @cached_property
    def _standard(self) -> dict[str, frozenset[float | None]]:
        return {
            kind: frozenset(row.number("rating_a") for row in self.table("ratings") if row[kind] == "yes") for kind in ("fuse", "breaker")
        }

    def _kind(self, kind: str) -> tuple[tuple[float, Cited[float]], ...]:
        try:
            return self._ratings[kind]
        except KeyError:
            raise RuleSetError(f"OCPD type {kind!r} is neither fuse nor breaker.") from None

    def standard_ratings(self, kind: str) -> tuple[float, ...]:
        """Standard ratings (A) that are chosen from, rising. 601 A is standard but never chosen."""
        return tuple(amps for amps, _ in self._kind(kind))

    def is_standard(self, rating_a: float, kind: str) -> bool:
        """Whether the table of standard ratings lists it (601 A fuse included)."""
        self._kind(kind)
        return round(rating_a, AMPS_DIGITS) in self._standard[kind]

    def next_rating(self, amps: float, kind: str, smallest: float = 0.0) -> Cited[float] | None:
        """Smallest standard rating that is >= `amps` and >= `smallest`; None above the table."""
        least = round(max(amps, smallest), AMPS_DIGITS)
        for rating, cited in self._kind(kind):
            if rating >= least:
                return cited
        return None

    def single_circuit_ratings(self) -> tuple[float, ...]:
        """Ratings (A) for the one device of a single-circuit bank of several heaters; the last is used with a caution."""
        return tuple(float(amps) for amps in self.named_list("single_circuit_ratings").value)

    def least_listed(self, name: str, least: float) -> Cited[float] | None:
        """Smallest figure of a named list that is >= `least`, compared at 1e-6; None above the list."""
        figures = self.named_list(name)
        at_least = round(least, AMPS_DIGITS)
        return next((cite(float(figure), figures, unit=figures.unit) for figure in figures.value if figure >= at_least), None)

    def next_switch(self, amps: float) -> Cited[float] | None:
        """Smallest common disconnect-switch rating (A) >= `amps`; None above the list."""
        return self.least_listed("switch_ratings", amps)

    @cached_property
    def _fuses(self) -> tuple[tuple[float, Cited[DeviceClass]], ...]:
        return tuple(
            (most, row.cited(_fuse(row), "class"))
            for row in self.table("fuse_classes")
            if (most := row.number("chosen_to_a")) is not None
        )

    @cached_property
    def _breakers(self) -> tuple[tuple[float, Cited[DeviceClass]], ...]:
        named = self.section("devices")
        made = DeviceClass(named["breaker"], None, None, named["breaker_standard"])
        return tuple((row.number("frame_a") or 0.0, row.cited(made, "frame_a")) for row in self.table("breaker_frames"))

    def overcurrent(self, kind: str, rating_a: float) -> Cited[DeviceClass] | None:
        """What a device of that rating is: `DeviceClass`. A breaker's volts and interrupting rating are None: they follow the system.

        None where no class or common frame reaches that rating.
        """
        rating_a = round(rating_a, AMPS_DIGITS)
        self._kind(kind)
        if kind == "fuse":
            return next((cited for most, cited in self._fuses if rating_a <= most), None)
        return next((cited for most, cited in self._breakers if rating_a <= most), None)

    @cached_property
    def _contactors(self) -> tuple[Cited[Contactor], ...]:
        return tuple(
            row.cited(Contactor(_named(row), row.figure("continuous_a")), "continuous_a") for row in self.table("contactors")
        )

    @cached_property
    def contactor_ratings(self) -> tuple[Cited[ContactorRatings], ...]:
        """Contactor sizes with their continuous amps and their kilowatts of resistance heating, rising."""
        heating = ("heating_volts_v", "heating_kw_1ph", "heating_kw_3ph")
        return tuple(
            row.cited(ContactorRatings(_named(row), row.figure("continuous_a"), *map(row.number, heating)), "continuous_a")
            for row in self.table("contactors")
        )

    def contactor_words(self, name: str, rating_a: float) -> str:
        """A contactor as one orders it: "NEMA size 2, 45 A"; where the name has the rating already, the name."""
        return name if name.endswith(" A") else f"{self.section('devices')['contactor']} {name}, {rating_a:.4g} A"

    def leg_named(self, line_v: float) -> float | None:
        """Volts to the neutral as the code names them, 230 for 400 V between lines; None for volts that its systems lack."""
        return next((row.number("line_neutral_v") for row in self.table("systems") if row.figure("line_line_v") == line_v), None)

    def stated_leg(self, line_v: float) -> float:
        """Volts to the neutral as they are stated: the nominal ones of its systems where the code goes by those, else as they follow."""
        named = self.leg_named(line_v) if self.section("devices").get("nominal_legs") == "yes" else None
        return line_v / sqrt(3.0) if named is None else named

    @property
    def limits_heater_circuits(self) -> bool:
        """Whether the code sets a largest circuit for resistance heaters."""
        return self.section("devices").get("heater_circuits_limited") == "yes"

    @property
    def slash_ratings(self) -> bool:
        """Whether breakers are rated 480Y/277 for a grounded wye beside straight ratings."""
        return self.section("devices").get("slash_ratings") == "yes"

    @property
    def contactors(self) -> tuple[Contactor, ...]:
        """Contactor sizes with their continuous amps, rising."""
        return tuple(cited.value for cited in self._contactors)

    def contactor(self, amps: float) -> Cited[Contactor] | None:
        """Smallest size whose continuous rating covers `amps`; None above the table."""
        least = round(amps, AMPS_DIGITS)
        return next((cited for cited in self._contactors if cited.value.continuous_a >= least), None)

    @cached_property
    def _transformers(self) -> dict[int, tuple[Cited[float], ...]]:
        return {
            phases: tuple(
                row.cited(row.figure("kva"), "kva", "kVA") for row in self.table("transformers") if row.number("phases") == phases
            )
            for phases in (1, 3)
        }

    def next_transformer(self, kva: float, phases: int) -> Cited[float] | None:
        """Smallest preferred transformer rating (kVA) >= `kva` of 1 or 3 phases; None above the table."""
        least = round(kva, AMPS_DIGITS)
        return next((cited for cited in self._transformers.get(phases, ()) if cited.value >= least), None)

    @cached_property
    def _sccrs(self) -> dict[str, Cited[float]]:
        if not self.has("sccr"):
            return {}
        return {
            row["part"]: row.cited(row.figure("sccr_ka"), "sccr_ka", "kA") for row in self.table("sccr") if row["part"] and row["sccr_ka"]
        }

    def sccr_default(self, part: str) -> Cited[float] | None:
        """Short-circuit rating (kA) of an unmarked "power distribution block", "fuse holder", "breaker", "contactor", "disconnect"."""
        return self._sccrs.get(part)

    def coil(self, part: str) -> Cited[CoilLoad] | None:
        """Volt-amperes of a coil or load ("relay", "contactor size 1"), sealed and at inrush; None where the table has none."""
        for row in self.table("control_coils"):
            if row["part"] == part:
                return row.cited(CoilLoad(row.figure("sealed_va"), row.figure("inrush_va")), "sealed_va", "VA")
        return None
