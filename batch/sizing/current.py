"""What one heater draws, at its rating and as applied, and whether its volts suit."""

from __future__ import annotations

from math import sqrt

from batch.findings import Remark, remark
from batch.rules import RuleSet

BAND_DIGITS = 9  # so that 504 V on 480 V is 5 % and not a binary hair above


def rated_current(power_kw: float, volts_v: float, phases: int) -> float:
    """Line current of one heater at its rating, A: P / V on one phase, P / (sqrt(3) V) on three (Ohm's law, unity power factor)."""
    amps = 1000.0 * power_kw / volts_v
    return amps / sqrt(3.0) if phases == 3 else amps


def is_same_volts(applied_v: float, rated_v: float, rules: RuleSet) -> bool:
    """Within 2 % two volts are the same nominal voltage (277 V heaters on 480Y/277)."""
    return round(abs(applied_v / rated_v - 1.0), BAND_DIGITS) <= rules.factor("same_volts_band").value


def design_current(rated_a: float, applied_v: float, rated_v: float, rules: RuleSet) -> float:
    """What devices and wires are chosen for, A: the rated current, or the applied one where it is greater and the volts differ."""
    if is_same_volts(applied_v, rated_v, rules):
        return rated_a
    return max(rated_a, rated_a * applied_v / rated_v)


def delivered_power(power_kw: float, applied_v: float, rated_v: float, rules: RuleSet) -> float:
    """Power of one heater as applied, kW: with the square of the volts; the rating itself within the same nominal voltage."""
    return power_kw if is_same_volts(applied_v, rated_v, rules) else power_kw * (applied_v / rated_v) ** 2


def judge_volts(applied_v: float, rated_v: float, rules: RuleSet) -> Remark | None:
    """The remark on volts off the rating, in bands of the rule set; None within the same nominal voltage."""
    off = round(applied_v / rated_v - 1.0, BAND_DIGITS)
    if is_same_volts(applied_v, rated_v, rules):
        return None
    if off > rules.factor("high_block").value:
        code = "volts-over"
    elif off > rules.factor("high_caution").value:
        code = "volts-high"
    elif off < rules.factor("low_note").value:
        code = "volts-low"
    else:
        code = "volts-near"
    return remark(
        code,
        "volts_v",
        applied=f"{applied_v:.4g} V",
        rated=f"{rated_v:.4g} V",
        percent=f"{100 * off:+.1f} %",
        power=f"{100 * (1 + off) ** 2:.0f} %",
    )
