"""How the heaters of a bank are connected: chosen from volts and phases, or as given and judged."""

from __future__ import annotations

from math import log, sqrt

from msgspec import Struct

from batch.findings import Remark, Remarks, remark
from batch.records import Design
from batch.rules import RuleSet
from batch.systems import Connection, System

ON_THREE_LINES = ("delta", "wye", "common-point wye")  # connections that only a 3-phase supply has


class CannotSize(Exception):
    """A bank that cannot be sized at all; carries the remark that says why."""

    def __init__(self, said: Remark) -> None:
        super().__init__(said.code)
        self.said = said


class Connected(Struct, frozen=True):
    """A bank's connection, the volts across a heater, words for a person and why; `chosen`: not given by the estimator."""

    connection: Connection
    applied_v: float
    words: str
    why: str
    chosen: bool


def choose_connection(design: Design, said: Remarks, rules: RuleSet) -> Connected:
    """The connection of a bank; raises CannotSize where heater and feeder cannot be connected.

    A blank is decided by which of the feeder's volts is nearer by ratio to the heater's: line to line, or line to neutral.
    Common practice; a given connection is honoured and judged.
    """
    supply, given = design.supply, design.connection
    if design.phases not in (1, 3):
        raise CannotSize(remark("phases-impossible", "phases", phases=design.phases))
    if design.phases == 3:
        return _three_phase_heater(design, said)
    if supply.phases == 1:
        if given in ON_THREE_LINES:
            raise CannotSize(remark("connection-needs-three-phase", "connection", connection=given))
        return _on_one_phase(design)
    return _one_phase_heaters_on_three(design, said, rules)


def _three_phase_heater(design: Design, said: Remarks) -> Connected:
    supply = design.supply
    if supply.phases == 1:
        raise CannotSize(remark("three-phase-on-single", "phases", feeder_volts=_volts(supply.volts_v)))
    inside = design.connection in ON_THREE_LINES
    if inside:
        said.add("connection-inside", "connection", connection=design.connection)
    chosen = design.connection != "parallel" and not inside
    why = "3-phase heaters on a 3-phase feeder"
    if inside:
        why += f", each on all three lines; {design.connection}, as given, is how each is connected inside"
    return Connected(Connection.THREE_PHASE, supply.volts_v, "parallel", why, chosen)


def _on_one_phase(design: Design) -> Connected:
    supply, chosen = design.supply, design.connection is None
    volts = supply.volts_v
    if supply.system is System.LINE_TO_NEUTRAL:
        return Connected(Connection.ONE_LEG, volts, "parallel", "1-phase heaters on a line-to-neutral feeder", chosen)
    if supply.system is System.THREE_WIRE and _nearer(design.volts_v, volts / 2, volts):
        if design.connection == "parallel":
            return Connected(Connection.ONE_LEG, volts / 2, "parallel on one leg", "as given", False)
        why = f"heaters near {_volts(volts / 2)} on a 3-wire feeder, in rotation A-N, B-N"
        return Connected(Connection.TO_NEUTRAL, volts / 2, "to neutral", why, True)
    return Connected(Connection.ONE_PAIR, volts, "parallel", "1-phase heaters on a 1-phase feeder", chosen)


def _one_phase_heaters_on_three(design: Design, said: Remarks, rules: RuleSet) -> Connected:
    supply, given, count = design.supply, design.connection, design.quantity
    line_v, leg_v = supply.volts_v, supply.volts_v / sqrt(3.0)
    to_line, stated = _nearer(design.volts_v, line_v, leg_v), _volts(rules.stated_leg(line_v))
    if given is None:
        if to_line and count >= 3:
            return _delta(design, f"{count} heaters near the line-to-line {_volts(line_v)}", True, said)
        if to_line:
            why = f"{count} heater{'' if count == 1 else 's'} near the line-to-line {_volts(line_v)}, on one phase pair"
            return Connected(Connection.ONE_PAIR, line_v, "parallel", why, True)
        if supply.has_neutral:
            return _to_neutral(design, f"heaters near the line-to-neutral {stated}, and the feeder has a neutral", True, said)
        if count % 3 == 0:
            return _separate_wyes(design, f"heaters near {stated}, no neutral, and {count} divides by three", True)
        raise CannotSize(_wye_count(design))
    if given == "parallel":
        if supply.has_neutral and not to_line:
            return Connected(Connection.ONE_LEG, leg_v, "parallel on one leg", "as given", False)
        return Connected(Connection.ONE_PAIR, line_v, "parallel", "as given", False)
    if given == "delta":
        return _delta(design, "as given", False, said)
    if given == "wye" and supply.has_neutral:
        return _to_neutral(design, "as given", False, said)
    if given == "wye" and count % 3 == 0:
        return _separate_wyes(design, "as given; wye points never joined", False)
    if count < 2:
        raise CannotSize(_wye_count(design))
    why = "as given: all legs on one wye point, no neutral"
    return Connected(Connection.COMMON_POINT_WYE, leg_v, "common-point wye", why, False)


def _delta(design: Design, why: str, chosen: bool, said: Remarks) -> Connected:
    if design.quantity < 3:
        said.add("open-delta", "connection", quantity=design.quantity)
    elif design.quantity % 3:
        said.add("delta-uneven", "quantity", quantity=design.quantity)
    return Connected(Connection.DELTA, design.supply.volts_v, "open delta" if design.quantity < 3 else "delta", why, chosen)


def _to_neutral(design: Design, why: str, chosen: bool, said: Remarks) -> Connected:
    if design.quantity > 1 and design.quantity % 3:
        said.add("wye-uneven", "quantity", quantity=design.quantity)
    return Connected(Connection.TO_NEUTRAL, design.supply.volts_v / sqrt(3.0), "wye to neutral", why, chosen)


def _separate_wyes(design: Design, why: str, chosen: bool) -> Connected:
    words = "separate 3-heater wyes" if design.quantity > 3 else "wye, no neutral"
    return Connected(Connection.SEPARATE_WYES, design.supply.volts_v / sqrt(3.0), words, why, chosen)


def _wye_count(design: Design) -> Remark:
    volts = {"heater_volts": _volts(design.volts_v), "feeder_volts": _volts(design.supply.volts_v)}
    return remark("wye-count", "quantity", quantity=design.quantity, **volts)


def _nearer(rated: float, this: float, other: float) -> bool:
    return abs(log(rated / this)) <= abs(log(rated / other))


def _volts(volts: float) -> str:
    return f"{volts:.4g} V"
