"""Which contact switches what: temperature contacts straight or by relays, and the contacts of the latch, none above its rating."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import NamedTuple

from batch.control_results import Coil, Duty
from batch.method.control_transformer import contact_carries
from batch.rules import RuleSet
from batch.sizing.marks import TankMarks

LATCH, TEMPERATURE = "A300", "B300"


class ContactRating(NamedTuple):
    """What a contact makes and breaks at the control volts [A]."""

    name: str
    make_a: float
    break_a: float


class Branched(NamedTuple):
    """Contactors behind one contact: `relay` 0 = the temperature contact itself, else the contact of that number of its relay."""

    coils: tuple[Coil, ...]
    contact: int
    bus: int = 0  # contact of the latch that feeds it: 0 is wire 3 or 3A, 1 is 3B ...


class Switched(NamedTuple):
    """A temperature contact (number from 1; 0 = none, of a back-up contactor) with what hangs on it; `relay` its relay, 0 = none."""

    number: int
    banks: tuple[str, ...]
    relay: int
    parts: tuple[Branched, ...]
    bus: int = 0


class Switching(NamedTuple):
    """All contacts of a tank: how many of the latch feed a bus, the duty of each, and coils that are beyond any contact."""

    switched: tuple[Switched, ...]
    buses: int
    relays: int
    duties: tuple[Duty, ...]
    beyond: tuple[str, ...] = ()


def contact_rating(name: str, control_v: float, rules: RuleSet) -> ContactRating:
    """Amps of a contact rating at the control volts: up to 120 V its amps hold, above it the same volt-amperes."""
    share = min(1.0, rules.factor("contact_volts").value / control_v)
    key = name.casefold()
    return ContactRating(name, share * rules.factor(f"contact_{key}_make").value, share * rules.factor(f"contact_{key}_break").value)


def share_contacts(
    groups: Sequence[tuple[tuple[str, ...], tuple[Coil, ...]]], back_up: Sequence[Coil], relay: Coil, control_v: float, *, marks: TankMarks,
    rules: RuleSet
) -> Switching:  # fmt: skip
    """Who switches what. A temperature contact that its contactors are too much for gets a relay; contacts of the relay, and of the latch,
    are as many as their rating asks for. A coil that even a contact of its own cannot switch is named.

    groups   per temperature contact the banks and their contactors
    back_up  contactors that the latch alone drops
    relay    what one relay takes
    """
    latch, temperature = (contact_rating(name, control_v, rules) for name in (LATCH, TEMPERATURE))
    switched: list[Switched] = []
    duties: list[Duty] = []
    if back_up:
        switched.append(Switched(0, (), 0, tuple(Branched(coils, 0) for coils in _packed(back_up, latch, control_v))))
    relays = 0
    for number, (banks, coils) in enumerate(groups, start=1):
        if _carries(coils, temperature, control_v):
            switched.append(Switched(number, banks, 0, (Branched(coils, 0),)))
            duties.append(_duty(marks.of("controller", number), coils, temperature, control_v))
            continue
        relays += 1
        packed = _packed(coils, latch, control_v)
        switched.append(Switched(number, banks, relays, tuple(Branched(some, at) for at, some in enumerate(packed, start=1))))
        duties.append(_duty(marks.of("controller", number), (relay,), temperature, control_v))
        duties += [_duty(f"{marks.of('relay', relays)}/{at}", some, latch, control_v) for at, some in enumerate(packed, start=1)]
    placed, loads = _on_buses(switched, relay, latch, control_v)
    duties += [_duty(f"{marks.of('latch')}/{at}", load, latch, control_v) for at, load in enumerate(loads, start=1)]
    every = (*back_up, *(coil for _, coils in groups for coil in coils))
    beyond = tuple(coil.mark for coil in every if not _carries((coil,), latch, control_v))
    return Switching(tuple(placed), len(loads), relays, tuple(duties), beyond)


def _on_buses(switched: Sequence[Switched], relay: Coil, latch: ContactRating, control_v: float) -> tuple[list[Switched], list[list[Coil]]]:
    """Contacts of the latch, filled in order. A temperature contact stands on one of them with all that it switches itself; contacts of
    its relay may stand on others."""
    loads: list[list[Coil]] = [[]]
    full: dict[tuple[tuple[float, float], ...], int] = {}  # contacts that coils of these demands found full: loads only grow

    def place(coils: Iterable[Coil]) -> int:
        coils = list(coils)
        demands = tuple((coil.inrush_va, coil.sealed_va) for coil in coils)
        for at in range(full.get(demands, 0), len(loads)):
            if not loads[at] or _carries((*loads[at], *coils), latch, control_v):
                loads[at] += coils
                full[demands] = at
                return at
        loads.append(coils)
        full[demands] = len(loads) - 1
        return len(loads) - 1

    placed = []
    for one in switched:
        if one.number and not one.relay:
            bus = place(one.parts[0].coils)
            placed.append(one._replace(bus=bus, parts=(one.parts[0]._replace(bus=bus),)))
        else:
            bus = place([relay]) if one.relay else 0
            placed.append(one._replace(bus=bus, parts=tuple(part._replace(bus=place(part.coils)) for part in one.parts)))
    return placed, loads


def _packed(coils: Iterable[Coil], rating: ContactRating, control_v: float) -> list[tuple[Coil, ...]]:
    """The coils in order, over as few contacts as carry them; one that is too much for any stands alone."""
    packed: list[list[Coil]] = []
    for coil in coils:
        if packed and _carries((*packed[-1], coil), rating, control_v):
            packed[-1].append(coil)
        else:
            packed.append([coil])
    return [tuple(some) for some in packed]


def _carries(coils: Iterable[Coil], rating: ContactRating, control_v: float) -> bool:
    make, sealed = _sums(coils)
    return contact_carries(make, sealed, control_v, rating.make_a, rating.break_a)


def _duty(mark: str, coils: Iterable[Coil], rating: ContactRating, control_v: float) -> Duty:
    make, sealed = _sums(coils)
    return Duty(mark, rating.name, make / control_v, sealed / control_v, rating.make_a, rating.break_a)


def _sums(coils: Iterable[Coil]) -> tuple[float, float]:
    coils = tuple(coils)
    return sum(coil.inrush_va for coil in coils), sum(coil.sealed_va for coil in coils)
