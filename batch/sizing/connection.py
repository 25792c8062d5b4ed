"""How the heaters of a bank are joined: chosen from volts and phases, or as given and judged."""

from __future__ import annotations

from dataclasses import dataclass, field
from math import log, sqrt

from batch.findings import Remark, remark
from batch.records import Design


class CannotSize(Exception):
    """A bank that cannot be sized at all; carries the remark that says why."""

    def __init__(self, said: Remark) -> None:
        super().__init__(said.code)
        self.said = said


@dataclass(frozen=True, slots=True)
class Joint:
    """join: "3-phase", "line" (line to line), "neutral", "star" (stars of three) or "joined star"; `dealt` over the legs in turn."""

    join: str
    dealt: bool
    applied_v: float
    words: str
    why: str
    chosen: bool
    remarks: tuple[Remark, ...] = field(default=())


def choose_connection(design: Design) -> Joint:
    """The connection of a bank; raises CannotSize where heater and feeder cannot be joined.

    A blank is decided by which of the feeder's volts is nearer by ratio to the heater's: line to line, or line to neutral.
    Common practice; a given connection is honoured and judged.
    """
    supply, given = design.supply, design.connection
    if design.phases not in (1, 3):
        raise CannotSize(remark("phases-impossible", "phases", phases=design.phases))
    if design.phases == 3:
        return _three_phase_heater(design)
    if supply.phases == 1:
        if given in ("delta", "wye", "common-point wye"):
            raise CannotSize(remark("connection-needs-three-phase", "connection", connection=given))
        return _on_one_phase(design)
    return _one_phase_heaters_on_three(design)


def _three_phase_heater(design: Design) -> Joint:
    supply = design.supply
    if supply.phases == 1:
        raise CannotSize(remark("three-phase-on-single", "phases", feeder_volts=_volts(supply.volts_v)))
    said = ()
    if design.connection in ("delta", "wye", "common-point wye"):
        said = (remark("connection-inside", "connection", connection=design.connection),)
    return Joint(
        "3-phase",
        False,
        supply.volts_v,
        "parallel",
        "3-phase heaters on a 3-phase feeder",
        design.connection != "parallel" and not said,
        said,
    )


def _on_one_phase(design: Design) -> Joint:
    supply, chosen = design.supply, design.connection is None
    volts = supply.volts_v
    if supply.system == "1-phase line-to-neutral":
        return Joint("neutral", False, volts, "parallel", "1-phase heaters on a line-to-neutral feeder", chosen)
    if supply.system == "1-phase 3-wire" and _nearer(design.volts_v, volts / 2, volts):
        if design.connection == "parallel":
            return Joint("neutral", False, volts / 2, "parallel on one leg", "as given", False)
        return Joint("neutral", True, volts / 2, "to neutral", f"heaters near {_volts(volts / 2)} on a 3-wire feeder, dealt A-N, B-N", True)
    return Joint("line", False, volts, "parallel", "1-phase heaters on a 1-phase feeder", chosen)


def _one_phase_heaters_on_three(design: Design) -> Joint:
    supply, given, count = design.supply, design.connection, design.quantity
    line_v, leg_v = supply.volts_v, supply.volts_v / sqrt(3.0)
    to_line = _nearer(design.volts_v, line_v, leg_v)
    if given is None:
        if to_line and count >= 3:
            return _delta(design, f"{count} heaters near the line-to-line {_volts(line_v)}", True)
        if to_line:
            return Joint(
                "line", False, line_v, "parallel", f"{count} heater(s) near the line-to-line {_volts(line_v)}, on one phase pair", True
            )
        if supply.has_neutral:
            return _to_neutral(design, f"heaters near the line-to-neutral {_volts(leg_v)}, and the feeder has a neutral", True)
        if count % 3 == 0:
            return _stars(design, f"heaters near {_volts(leg_v)}, no neutral, and {count} divides by three", True)
        raise CannotSize(_star_count(design))
    if given == "parallel":
        if supply.has_neutral and not to_line:
            return Joint("neutral", False, leg_v, "parallel on one leg", "as given", False)
        return Joint("line", False, line_v, "parallel", "as given", False)
    if given == "delta":
        return _delta(design, "as given", False)
    if given == "wye" and supply.has_neutral:
        return _to_neutral(design, "as given", False)
    if given == "wye" and count % 3 == 0:
        return _stars(design, "as given; wye points never joined", False)
    if count < 2:
        raise CannotSize(_star_count(design))
    return Joint("joined star", True, leg_v, "common-point wye", "as given: all legs on one wye point, no neutral", False)


def _delta(design: Design, why: str, chosen: bool) -> Joint:
    said: tuple[Remark, ...] = ()
    if design.quantity < 3:
        said = (remark("open-delta", "connection", quantity=design.quantity),)
    elif design.quantity % 3:
        said = (remark("delta-uneven", "quantity", quantity=design.quantity),)
    return Joint("line", True, design.supply.volts_v, "open delta" if design.quantity < 3 else "delta", why, chosen, said)


def _to_neutral(design: Design, why: str, chosen: bool) -> Joint:
    said: tuple[Remark, ...] = ()
    if design.quantity % 3:
        said = (remark("wye-uneven", "quantity", quantity=design.quantity),)
    return Joint("neutral", True, design.supply.volts_v / sqrt(3.0), "wye to neutral", why, chosen, said)


def _stars(design: Design, why: str, chosen: bool) -> Joint:
    words = "separate 3-heater wyes" if design.quantity > 3 else "wye, no neutral"
    return Joint("star", True, design.supply.volts_v / sqrt(3.0), words, why, chosen)


def _star_count(design: Design) -> Remark:
    return remark(
        "wye-count",
        "quantity",
        quantity=design.quantity,
        heater_volts=_volts(design.volts_v),
        feeder_volts=_volts(design.supply.volts_v),
    )


def _nearer(rated: float, this: float, other: float) -> bool:
    return abs(log(rated / this)) <= abs(log(rated / other))


def _volts(volts: float) -> str:
    return f"{volts:.4g} V"
