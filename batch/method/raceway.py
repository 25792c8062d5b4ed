"""Raceways: how full they may be, and how large they must be."""

from __future__ import annotations

from batch.rules import Cited, Raceway, RuleSet, cite


def fill_limit(conductors: int, rules: RuleSet) -> Cited[float]:
    """Maximum fill of a raceway.

    Equation
        53 % for one conductor, 31 % for two, 40 % for more

    Parameters
        conductors: conductors in the raceway, grounding conductors counted [-]
        rules: the rule set, table fill [-]

    Returns
        share of the raceway's inside area [%]

    Reference
        {table_fill}

    Example
        The table prints 53, 31 and 40 %.

        >>> [fill_limit(count, rules).value for count in (1, 2, 3)]
        [53.0, 31.0, 40.0]
    """
    return rules.fill_limit(conductors)


def trade_size(
    *, kind: str, size: str, conductors: int, ground: str, circuits: int, insulation: str, rules: RuleSet
) -> Cited[Raceway] | None:
    """Smallest trade size that takes so many circuits, a grounding conductor counted with each: the safe side of sharing one.

    Equation
        sum of conductor areas <= fill limit x inside area

    Parameters
        kind: kind of raceway ("PVC-80", "EMT") [-]
        size: size of the circuit's conductors [AWG or kcmil]
        conductors: conductors of one circuit, its neutral counted [-]
        ground: size of the grounding conductor [AWG or kcmil]
        circuits: circuits in the raceway [-]
        insulation: insulation ("THWN-2") [-]
        rules: the rule set, tables conductor_areas, raceways, fill [-]

    Returns
        trade size [in] and fill [%]; None where none serves

    Reference
        {raceway_size}; sharing a grounding conductor from memory

    Example
        The tables print 0.0366 in2 for 8 AWG THWN-2 and 0.0211 for 10 AWG. Three 8 and one 10: 0.1309 in2; 40 % of 3/4 in RMC (0.549 in2)
        is 0.220 in2.

        >>> found = trade_size(kind="RMC", size="8", conductors=3, ground="10", circuits=1, insulation="THWN-2", rules=rules).value
        >>> found.trade_size, round(found.fill_pct, 1)
        ('3/4', 23.8)
    """
    wire, earth = rules.wire_area(size, insulation), rules.wire_area(ground, insulation)
    if wire is None or earth is None:
        return None
    return rules.raceway(kind, ([wire.value] * conductors + [earth.value]) * circuits)


def pvc_limit(rules: RuleSet) -> Cited[float]:
    """Maximum ambient of rigid PVC conduit.

    Equation
        50 °C

    Parameters
        rules: the rule set, factor pvc_max_c [-]

    Returns
        ambient temperature [°C]

    Reference
        {pvc_temperature}

    Example
        The clause has 50 degrees C (from memory).

        >>> pvc_limit(rules).value
        50
    """
    return cite(rules.factor("pvc_max_c").value, rules.factor("pvc_max_c"), unit="°C")
