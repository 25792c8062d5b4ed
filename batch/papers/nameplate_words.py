"""A supply and the fault current as a nameplate names them, alike on those of a distribution unit, a control panel and a heater panel."""

from __future__ import annotations

from math import sqrt

from batch.papers.job_at_hand import AtHand
from batch.sizing.words import fault_current
from batch.systems import System

OPEN = "____"


def system_on_plate(volts: float, system: System, neutral: bool, frequency_hz: int, *, us: bool, named: float | None = None) -> str:
    """ "480Y/277 V, 3-phase, 4-wire, 60 Hz"; "3/N/PE, 400/230 V, 50 Hz". `named`: volts to the neutral as the code names them."""
    grounded = system is System.WYE_GROUNDED
    legs = f"{volts / sqrt(3.0) if named is None else named:.0f}"
    hertz = f"{frequency_hz} Hz"
    if system.phases == 1:
        middle = system is System.THREE_WIRE and neutral
        wires = "3-wire" if middle else "2-wire with neutral" if system is System.LINE_TO_NEUTRAL else "2-wire"
        volts_words = f"{volts / 2:g}/{volts:g} V" if middle else f"{volts:g} V"
        return f"{volts_words}, 1-phase, {wires}, {hertz}"
    if not us:
        return f"3{'/N' if neutral else ''}/PE, {volts:g}{f'/{legs}' if grounded else ''} V, {hertz}"
    if grounded:
        return f"{volts:g}Y/{legs} V, 3-phase, {'4-wire' if neutral else '3-wire'}, {hertz}"
    return f"{volts:g} V, 3-phase, {system.words}, {'4-wire' if neutral else '3-wire'}, {hertz}"


def fault_on_plate(at: AtHand, fault_ka: float | None) -> str:
    """With its date: of the revision that it was worked out for."""
    project = at.project.project
    if fault_ka is None:
        return f"available fault current {OPEN} kA, date {OPEN}"
    return f"available fault current {fault_current(fault_ka)}, calculated {project.date or OPEN}"
