"""The overcurrent devices of branches, panel feeders and feeders: chosen or fixed, from stock or by class, and put into words."""

from __future__ import annotations

from typing import NamedTuple

from batch.findings import Remarks
from batch.held_once import held_once
from batch.method.line_currents import ROOT3
from batch.method.overcurrent import is_standard_rating, largest_taken_as_meant, standard_rating
from batch.method.subdivided_heaters import largest_device
from batch.records import Part, Settings, Supply
from batch.results import Device
from batch.rules import AMPS_DIGITS, RuleSet
from batch.sizing.stock import Need, Stock, say_none_serves
from batch.sizing.words import amps, sentence
from batch.systems import System


class Circuit(NamedTuple):
    """What a device stands in: its kind ("fuse", "breaker"), its poles, the supply, and the fault current that a part should withstand."""

    kind: str
    poles: int
    supply: Supply
    fault_ka: float | None = None
    to_neutral: bool = False

    @property
    def volts_v(self) -> float:
        """Volts that its device is asked for: to the neutral where it stands in one line of a grounded supply with its neutral."""
        return device_volts(self.supply, self.poles, self.to_neutral)


def device_volts(supply: Supply, poles: int, to_neutral: bool) -> float:
    """Volts between what a device stands in and what it may have to break: of one pole with its neutral those to neutral, in whole volts
    as parts are marked; else line to line."""
    if not to_neutral or poles != 1 or supply.system is System.LINE_TO_NEUTRAL:
        return supply.volts_v
    return float(round(supply.volts_v / (ROOT3 if supply.phases == 3 else 2.0)))


class Selection(NamedTuple):
    """A rating as chosen or fixed, and the stock part it comes from; `rating_a` is None where no rating serves."""

    rating_a: float | None
    part: Part | None


def choose_rating(required_a: float, circuit: Circuit, settings: Settings, rules: RuleSet, stock: Stock, *, said: Remarks) -> Selection:
    """Smallest rating not below `required_a`: of the stock where it lists such devices, else of the standard ones.

    A stock part may be one standard size above the smallest that serves, as a fixed rating may, and no more: heaters, contactors
    and feeders ahead are chosen for what serves. Where it is larger, that is said.
    """
    kind, volts_v = circuit.kind, circuit.volts_v
    found = standard_rating(required_a, kind, settings.smallest_device_a, rules)
    if stock.lists(kind):
        most_a = largest_taken_as_meant(found.value, kind, rules).value if found else None
        least_a = max(required_a, settings.smallest_device_a)
        need = Need(kind, least_a, circuit.poles, volts_v, fault_ka=circuit.fault_ka, most_a=most_a)
        part = stock.choose(need, rules)
        if part is not None and part.rating_a is not None:
            if found is not None and part.rating_a > found.value:
                said.add("stock-rating-larger", "quantity", smallest=amps(found.value), kind=kind, stock=amps(part.rating_a))
            return Selection(part.rating_a, part)
        say_none_serves(need._replace(rating_a=found.value) if found else need, said)
    return Selection(found.value if found else None, None)


def judge_fixed(fixed_a: float, required_a: float, smallest_a: float, kind: str, rules: RuleSet, *, said: Remarks) -> None:
    """What there is to say of a rating fixed by the estimator: under what is needed, not standard, or more than one standard size above
    what serves."""
    about = "fixed_rating_a"
    if round(fixed_a, AMPS_DIGITS) < round(required_a, AMPS_DIGITS):
        said.add("fixed-rating-small", about, given=amps(fixed_a), required=amps(required_a), smallest=amps(smallest_a))
        return
    standard = is_standard_rating(fixed_a, kind, rules).value
    large = fixed_a > largest_taken_as_meant(smallest_a, kind, rules).value
    if not standard:
        said.add("fixed-rating-odd", about, given=amps(fixed_a), smallest=amps(smallest_a))
    if large:
        said.add("fixed-rating-large", about, given=amps(fixed_a), smallest=amps(smallest_a))
    if standard and not large:
        said.add("rating-fixed", about)


def judge_limit(rating_a: float, rules: RuleSet, said: Remarks) -> None:
    """What there is to say of a device above the largest that may stand ahead of resistance elements."""
    most_a = largest_device(rules).value
    if rating_a > most_a:
        said.add("device-over-limit", "fixed_rating_a", given=amps(rating_a), limit=amps(most_a))


def describe_device(
    rating_a: float, circuit: Circuit, rules: RuleSet, said: Remarks, to_neutral: bool = False, *, part: Part | None = None
) -> Device:
    """The device in words: fuse class by rating, or a breaker with the voltage marking that its system asks for.

    `to_neutral` = its circuit ends on a neutral; one pole of a wye without neutral is rated line to line, since 1.5 times
    the leg volts stand across it when it alone opens. A stock part is described by its own ratings.
    """
    kind, poles, supply = circuit.kind, circuit.poles, circuit.supply
    if kind == "breaker":
        _judge_breaker(poles, supply, to_neutral, rules, said)
    if part is not None:
        made_for = f"{part.volts_v:g} V" + (f", {part.sccr_ka:g} kA" if part.sccr_ka else "")
        words = in_holder(f"{part.part} ({made_for})", poles) if kind == "fuse" else f"{part.part} ({kind}, {poles}-pole, {made_for})"
        each = f"{part.part} ({kind}, {made_for})"
        return held_once(Device(rating_a, kind, words, poles, part.sccr_ka, (f"stock part {part.part}",), part.part, each))
    cited = rules.overcurrent(kind, rating_a)
    if cited is None:
        said.add("beyond-table", "power_kw", what=f"{sentence(kind)} class", value=amps(rating_a), table="the classes of the rule set")
        return held_once(Device(rating_a, kind, kind, poles, None, each=kind))
    made, each = cited.value, ""
    if kind == "fuse":
        if made.volts is not None and supply.volts_v > made.volts:
            said.add("device-volts", "device_kind", device=made.words, rated=f"{made.volts:g} V", volts=f"{supply.volts_v:g} V")
        ratings = f"{made.volts:g} V, {made.interrupting_ka:g} kA"
        words, each = in_holder(f"{made.words.removesuffix(' fuse')}, {ratings}", poles), f"{made.words}, {ratings}"
    else:
        words = f"{made.words}, {poles}-pole, {_breaker_volts(poles, supply, to_neutral, rules)}"
    return held_once(Device(rating_a, kind, words, poles, made.interrupting_ka, (cited.citation,), each=each))


def in_holder(fuse: str, poles: int) -> str:
    """ "2 fuses, class CC, 600 V, 200 kA, in a 2-pole holder"."""
    return f"{poles} {'fuse' if poles == 1 else 'fuses'}, {fuse}, in a {poles}-pole holder"


def made_of(device: Device) -> str:
    """What each of its fuses is, out of its words: "class CC, 600 V, 200 kA"."""
    return device.words.partition(", ")[2].rpartition(", in a ")[0]


def _judge_breaker(poles: int, supply: Supply, to_neutral: bool, rules: RuleSet, said: Remarks) -> None:
    """Where only a straight-rated breaker will do, and where the system's volts are above those of common breakers."""
    volts, most_v = f"{supply.volts_v:g} V", rules.factor("breaker_volts_v").value
    if supply.volts_v > most_v:
        said.add("device-volts", "device_kind", device="molded-case breaker", rated=f"{most_v:g} V", volts=volts)
    alone = _one_pole_of_a_wye(poles, supply, to_neutral)
    if rules.slash_ratings:  # else every breaker has one voltage
        if supply.phases == 3 and not supply.solidly_grounded_wye:
            system = "a supply whose system is unknown" if supply.system is System.UNKNOWN else f"a {supply.system} system"
            said.add("slash-rated", "device_kind", system=system, volts=volts)
        elif alone:
            said.add("slash-rated", "device_kind", system="one pole of a wye without a neutral", volts=volts)
    if alone:
        said.add("wye-breakers", "device_kind")


def _one_pole_of_a_wye(poles: int, supply: Supply, to_neutral: bool) -> bool:
    """When it alone opens, 1.5 times the leg's volts stand across it: more than a slash rating gives one pole."""
    return supply.phases == 3 and poles == 1 and not to_neutral


def _breaker_volts(poles: int, supply: Supply, to_neutral: bool, rules: RuleSet) -> str:
    """The voltage marking to order. One phase line to line: how its source is grounded is not known, so straight-rated."""
    volts, one_leg = f"{supply.volts_v:g} V", to_neutral and poles == 1
    if supply.solidly_grounded_wye and not _one_pole_of_a_wye(poles, supply, to_neutral):
        leg = supply.volts_v / ROOT3
        if one_leg and not rules.slash_ratings and (named := rules.leg_named(supply.volts_v)) is not None:
            return f"{named:g} V"
        return f"{leg:.0f} V" if one_leg else f"{volts} or {supply.volts_v:g}Y/{leg:.0f} V" if rules.slash_ratings else volts
    if supply.system is System.LINE_TO_NEUTRAL:
        return volts
    if supply.system is System.THREE_WIRE:
        leg = supply.volts_v / 2
        return f"{leg:g} V" if one_leg else f"{volts} or {leg:g}/{volts}"
    if not rules.slash_ratings:
        return f"{volts}, for IT systems" if supply.system is System.DELTA else volts
    return f"{volts} straight-rated"
