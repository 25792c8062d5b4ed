"""Contactors for resistance heating: the lower of two ratings counts, the continuous one and that by kilowatts of heating."""

from __future__ import annotations

from typing import NamedTuple

from batch.method.line_currents import ROOT3
from batch.rules import AMPS_DIGITS, Cited, RuleSet, cite


class RatedContactor(NamedTuple):
    """A contactor size, the line amps that it may switch, and whether it has a rating for resistance heating."""

    name: str
    rating_a: float
    has_heating_rating: bool


def heating_amps(heating_kw: float, volts_v: float, phases: int) -> float:
    """Line amps of a contactor's rating in kilowatts of resistance heating.

    Equation
        I = 1000 P / (sqrt(3) V); 1000 P / V on one phase

    Parameters
        heating_kw: kilowatts of heating that the size is listed for [kW]
        volts_v: volts of that listing [V]
        phases: 1 or 3 [-]

    Returns
        line current [A]

    Reference
        {table_contactors}; that the amps hold at any volts is from memory

    Example
        Worked by hand: size 1, 5 kW at 115 V on three phases, 25.102 A; 3 kW on one, 26.087 A.

        >>> round(heating_amps(5, 115, 3), 3), round(heating_amps(3, 115, 1), 3)
        (25.102, 26.087)
    """
    return 1000.0 * heating_kw / ((ROOT3 if phases == 3 else 1.0) * volts_v)


def smallest_contactor(line_a: float, phases: int, rules: RuleSet) -> Cited[RatedContactor] | None:
    """The smallest contactor size that may switch a heating load.

    Equation
        least size with min(continuous, heating) >= I; a size without a heating rating goes by its continuous one

    Parameters
        line_a: line current of the load [A]
        phases: 1 or 3, of what it carries; a size listed for three phases alone has the same amps on one [-]
        rules: the rule set, table contactors [-]

    Returns
        size and its rating [-, A]; None above the table

    Reference
        {table_contactors}

    Example
        Worked by hand: 25.05 A on three phases take size 1 (25.102 A), 25.2 A size 2; 16 A size 0, which has no heating rating.

        >>> [smallest_contactor(amps, 3, rules).value.name for amps in (25.05, 25.2, 43.32, 129.95, 16)]
        ['size 1', 'size 2', 'size 3', 'size 5', 'size 0']
        >>> smallest_contactor(16, 3, rules).value.has_heating_rating
        False
    """
    least = round(line_a, AMPS_DIGITS)
    for listed in rules.contactor_ratings:
        made = listed.value
        kilowatts, counted = (made.heating_kw_1ph, 1) if phases == 1 and made.heating_kw_1ph else (made.heating_kw_3ph, 3)
        heated = heating_amps(kilowatts, made.heating_volts_v, counted) if kilowatts and made.heating_volts_v else None
        rating = made.continuous_a if heated is None else min(made.continuous_a, heated)
        if round(rating, AMPS_DIGITS) >= least:
            return cite(RatedContactor(made.name, rating, heated is not None), listed)
    return None
