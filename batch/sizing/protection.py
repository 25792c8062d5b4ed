"""Branch circuits of one heater and the overcurrent devices of branches, feeds and feeders."""

from __future__ import annotations

from math import ceil
from typing import NamedTuple

from batch.findings import Remark, remark
from batch.records import Part, Settings, Supply
from batch.results import Device
from batch.rules import RuleSet
from batch.sizing.stock import Need, Stock, none_serves
from batch.sizing.words import amps, amps_above, sentence

CLOSE = 6  # amps are compared after rounding to 1e-6 A, so that 48 A x 1.25 is 60 A exactly
MOST_CIRCUITS = 24  # of one heater: as many as its column takes; common practice, no source


def element_limit(settings: Settings, rules: RuleSet) -> float:
    """The most one element circuit may draw, A: 48 A, and never more than a 60 A device serves with the margin (425.22(B))."""
    return min(rules.factor("subdivide_a").value, rules.factor("subdivided_device_a").value / settings.with_margin)


class Circuits(NamedTuple):
    count: int
    remarks: tuple[Remark, ...]


def circuits_of_heater(design_a: float, given: int | None, settings: Settings, rules: RuleSet) -> Circuits:
    """How many element circuits a heater has: as given, else 1, and never fewer than 425.22(B) needs (then said).

    Devices of a heater that has to be subdivided are its maker's (425.22(C)); those of a smaller one are ordinary branch devices.
    """
    limit = element_limit(settings, rules)
    needed = max(1, ceil(round(design_a / limit, CLOSE)))
    said: list[Remark] = []
    if needed > MOST_CIRCUITS:  # a slip in watts or volts: sized as far as it goes, so that a thousand such heaters do not fill the machine
        table = f"{MOST_CIRCUITS} circuits a heater"
        said.append(remark("beyond-table", "power_kw", what=f"A heater of {amps(design_a)}", value=f"{needed} circuits", table=table))
        needed = MOST_CIRCUITS
    if given is None and needed > 1:
        said.append(remark("heater-over-limit", "power_kw", amps=amps_above(design_a, limit), limit=amps(limit), circuits=needed))
    elif given is not None and given < needed:
        said.append(
            remark(
                "circuits-too-few",
                "circuits_per_heater",
                given=given,
                amps=amps(design_a / given),
                limit=amps(limit),
                circuits=needed,
            )
        )
    count = max(given or 1, needed)
    if needed > 1:
        said.append(remark("supplementary-devices", "circuits_per_heater", circuits=count))
    return Circuits(count, tuple(said))


class Choice(NamedTuple):
    """A rating chosen, and the stock part it comes from; None where no rating serves."""

    rating_a: float | None
    part: Part | None
    remarks: tuple[Remark, ...]


class Rating(NamedTuple):
    """A branch rating; None where no standard rating serves and none is fixed."""

    rating_a: float | None
    remarks: tuple[Remark, ...]


def choose_rating(
    required_a: float,
    kind: str,
    poles: int,
    volts_v: float,
    settings: Settings,
    rules: RuleSet,
    stock: Stock,
    fault_ka: float | None = None,
) -> Choice:
    """Smallest rating not below `required_a`: of the stock where it lists such devices, else the standard ones of 240.6(A).

    A stock part may be one standard size above the smallest that serves, as a fixed rating may, and no more: heaters, contactors
    and feeders ahead are chosen for what serves. Where it is larger, that is said.
    """
    said: tuple[Remark, ...] = ()
    found = rules.next_rating(required_a, kind, settings.smallest_device_a)
    if stock.lists(kind):
        most_a = largest_that_serves(found.value, kind, rules) if found else None
        need = Need(kind, max(required_a, settings.smallest_device_a), poles, volts_v, fault_ka=fault_ka, most_a=most_a)
        part = stock.choose(need, rules)
        if part is not None:
            larger = found is not None and part.rating_a > found.value
            noted = {"smallest": amps(found.value), "kind": kind, "stock": amps(part.rating_a)} if larger else {}
            return Choice(part.rating_a, part, (remark("stock-rating-larger", "quantity", **noted),) if larger else ())
        said = (none_serves(need._replace(rating_a=found.value) if found else need),)
    return Choice(found.value if found else None, None, said)


def judge_fixed(fixed_a: float, required_a: float, smallest_a: float, kind: str, rules: RuleSet) -> Rating:
    """A rating fixed by the estimator: under what is needed, not standard, or more than one standard size above what serves."""
    about, said = "fixed_rating_a", []
    if round(fixed_a, CLOSE) < round(required_a, CLOSE):
        return Rating(
            fixed_a, (remark("fixed-rating-small", about, given=amps(fixed_a), required=amps(required_a), smallest=amps(smallest_a)),)
        )
    if not rules.is_standard(fixed_a, kind):
        said.append(remark("fixed-rating-odd", about, given=amps(fixed_a), smallest=amps(smallest_a)))
    if fixed_a > largest_that_serves(smallest_a, kind, rules):
        said.append(remark("fixed-rating-large", about, given=amps(fixed_a), smallest=amps(smallest_a)))
    return Rating(fixed_a, tuple(said) or (remark("rating-fixed", about),))


def largest_that_serves(smallest_a: float, kind: str, rules: RuleSet) -> float:
    """The rating so many standard sizes above the smallest that serves (one, common practice) that it is still taken as meant."""
    above = [rating for rating in rules.standard_ratings(kind) if rating > smallest_a]
    steps = int(rules.factor("oversize_steps").value)
    return above[steps - 1] if len(above) >= steps else smallest_a


def describe_device(
    rating_a: float, kind: str, poles: int, supply: Supply, rules: RuleSet, to_neutral: bool = False, part: Part | None = None
) -> tuple[Device, tuple[Remark, ...]]:
    """The device in words: fuse class by rating, or a breaker with the voltage marking its system asks for (240.85).

    `to_neutral` = its circuit ends on a neutral; one pole of a star without neutral is rated line to line, since 1.5 times
    the leg volts stand across it when it alone opens. A stock part is described by its own ratings.
    """
    said = _breaker_remarks(poles, supply, to_neutral, rules) if kind == "breaker" else []
    if part is not None:
        made_for = f"{part.volts_v:g} V" + (f", {part.sccr_ka:g} kA" if part.sccr_ka else "")
        words = _in_holder(f"{part.part} ({made_for})", poles) if kind == "fuse" else f"{part.part} ({kind}, {poles}-pole, {made_for})"
        each = f"{part.part} ({kind}, {made_for})"
        return Device(rating_a, kind, words, poles, part.sccr_ka, (f"stock part {part.part}",), part.part, each), tuple(said)
    cited = rules.overcurrent(kind, rating_a)
    if cited is None:
        table = "the classes of the rule set"
        beyond = remark("beyond-table", "power_kw", what=f"{sentence(kind)} class", value=amps(rating_a), table=table)
        return Device(rating_a, kind, kind, poles, None, each=kind), (*said, beyond)
    made, each = cited.value, ""
    if kind == "fuse":
        if made.volts is not None and supply.volts_v > made.volts:
            said.append(remark("device-volts", "device_kind", device=made.words, rated=f"{made.volts:g} V", volts=f"{supply.volts_v:g} V"))
        ratings = f"{made.volts:g} V, {made.interrupting_ka:g} kA"
        words, each = _in_holder(f"{made.words.removesuffix(' fuse')}, {ratings}", poles), f"{made.words}, {ratings}"
    else:
        words = f"{made.words}, {poles}-pole, {_breaker_volts(poles, supply, to_neutral)}"
    return Device(rating_a, kind, words, poles, made.interrupting_ka, (cited.basis,), each=each), tuple(said)


def _in_holder(fuse: str, poles: int) -> str:
    """ "2 fuses, class CC, 600 V, 200 kA, in a 2-pole holder"."""
    return f"{poles} {'fuse' if poles == 1 else 'fuses'}, {fuse}, in a {poles}-pole holder"


def _breaker_remarks(poles: int, supply: Supply, to_neutral: bool, rules: RuleSet) -> list[Remark]:
    """Where only a straight-rated breaker will do (240.85), and where the system's volts are above those of common breakers."""
    said, volts = [], f"{supply.volts_v:g} V"
    most_v = rules.factor("breaker_volts_v").value
    if supply.volts_v > most_v:
        said.append(remark("device-volts", "device_kind", device="molded-case breaker", rated=f"{most_v:g} V", volts=volts))
    if supply.phases == 3 and not supply.solidly_grounded_wye:
        said.append(remark("slash-rated", "device_kind", system=f"a {supply.system} system", volts=volts))
    elif _one_pole_of_a_star(poles, supply, to_neutral):
        said.append(remark("slash-rated", "device_kind", system="one pole of a wye without a neutral", volts=volts))
    if _one_pole_of_a_star(poles, supply, to_neutral):
        said.append(remark("wye-breakers", "device_kind"))
    return said


def _one_pole_of_a_star(poles: int, supply: Supply, to_neutral: bool) -> bool:
    """When it alone opens, 1.5 times the leg's volts stand across it: more than a slash rating gives one pole."""
    return supply.phases == 3 and poles == 1 and not to_neutral


def _breaker_volts(poles: int, supply: Supply, to_neutral: bool) -> str:
    """The voltage marking to order. One phase line to line: how its source is grounded is not known, so straight-rated."""
    volts, one_leg = f"{supply.volts_v:g} V", to_neutral and poles == 1
    if supply.solidly_grounded_wye and not _one_pole_of_a_star(poles, supply, to_neutral):
        leg = supply.volts_v / 3**0.5
        return f"{leg:.0f} V" if one_leg else f"{volts} or {supply.volts_v:g}Y/{leg:.0f} V"
    if supply.system == "1-phase line-to-neutral":
        return volts
    if supply.system == "1-phase 3-wire":
        leg = supply.volts_v / 2
        return f"{leg:g} V" if one_leg else f"{volts} or {leg:g}/{volts}"
    return f"{volts} straight-rated"
