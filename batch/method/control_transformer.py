"""The control transformer of a tank's ladder, and the fuses around it."""

from __future__ import annotations

from math import sqrt

from batch.rules import AMPS_DIGITS, Cited, RuleSet, cite

CLOSE_A = 1e-9  # amps by which a contact may be loaded more before it counts


def control_load(contactor_inrush_va: float, contactor_sealed_va: float, other_va: float) -> tuple[float, float]:
    """Load of a control transformer: all sealed, and the worst moment, when all contactors pull in together.

    Equation
        S = sealed contactors + other; I = inrush of the contactors + other, all else being sealed by then

    Parameters
        contactor_inrush_va: inrush of all contactors that pull in together [VA]
        contactor_sealed_va: the same contactors sealed [VA]
        other_va: relays, lamps, controller, ground-fault relays, sealed [VA]

    Returns
        sealed load S, and load at the moment of inrush I [VA]

    Reference
        Common practice, no source

    Example
        Worked by hand: one contactor of 245 and 29 VA, others 26 VA: 55 and 271 VA.

        >>> control_load(245, 29, 26)
        (55, 271)
    """
    return contactor_sealed_va + other_va, contactor_inrush_va + other_va


def control_transformer_va(sealed_va: float, inrush_va: float, rules: RuleSet) -> Cited[float] | None:
    """Rating of a control transformer.

    Equation
        least of the usual ratings with VA >= 1.25 S and 4 VA >= sqrt(S^2 + I^2)

    Parameters
        sealed_va: sealed load S [VA]
        inrush_va: load at the moment of inrush I [VA]
        rules: the rule set, list control_transformers, factors control_reserve, control_inrush [-]

    Returns
        rating [VA]; None above the list

    Reference
        Inrush as the root of the sum of squares: makers' selection guides; factor 4 at 90 % volts and ratings from memory

    Example
        Worked by hand: 55 and 271 VA take 75; 147 and 911 take 250; 100 and 648 take 200. 60 and 295 VA are 301.04 together, over
        four 75.26, so 100.

        >>> [control_transformer_va(sealed, inrush, rules).value for sealed, inrush in ((55, 271), (147, 911), (100, 648), (60, 295))]
        [75.0, 250.0, 200.0, 100.0]
    """
    reserve, inrush = rules.factor("control_reserve"), rules.factor("control_inrush")
    least = max(reserve.value * sealed_va, sqrt(sealed_va**2 + inrush_va**2) / inrush.value)
    found = rules.least_listed("control_transformers", least)
    return None if found is None else cite(found.value, found, reserve, inrush, unit="VA")


def control_primary_fuse(rating_va: float, primary_v: float, rules: RuleSet) -> Cited[float] | None:
    """Fuses in both primary lines of a control transformer.

    Equation
        greatest of the usual ratings <= 2.5 VA / V_1

    Parameters
        rating_va: rating of the transformer [VA]
        primary_v: primary volts [V]
        rules: the rule set, list control_fuses, factor control_primary [-]

    Returns
        rating [A]; None below the list

    Reference
        {control_primary}, as others quote it

    Example
        Worked by hand: 75 VA at 480 V, 0.391 A at most: 0.25 A; 250 VA, 1.302 A: 1.25 A.

        >>> control_primary_fuse(75, 480, rules).value, control_primary_fuse(250, 480, rules).value
        (0.25, 1.25)
    """
    return _at_most(rules.factor("control_primary"), rating_va / primary_v, rules)


def control_secondary_fuse(rating_va: float, secondary_v: float, rules: RuleSet) -> Cited[float] | None:
    """Fuse in the ungrounded secondary line of a control transformer, never rounded up.

    Equation
        greatest of the usual ratings <= 1.67 VA / V_2; from 9 A on 1.25 VA / V_2

    Parameters
        rating_va: rating of the transformer [VA]
        secondary_v: control volts [V]
        rules: the rule set, list control_fuses, factors control_secondary, control_secondary_large, control_large_a [-]

    Returns
        rating [A]; None below the list

    Reference
        {control_secondary}, as others quote it

    Example
        Worked by hand: 75 VA at 120 V, 1.044 A at most: 1 A; 200 VA at 24 V is 8.33 A, 13.917 A at most: 12 A. Of just 9 A
        11.25 A are the most: 10 A.

        >>> [control_secondary_fuse(va, volts, rules).value for va, volts in ((75, 120), (200, 24), (216, 24))]
        [1.0, 12.0, 10.0]
    """
    amps = rating_va / secondary_v
    large = amps >= rules.factor("control_large_a").value
    return _at_most(rules.factor("control_secondary_large" if large else "control_secondary"), amps, rules)


def contact_carries(make_va: float, sealed_va: float, volts_v: float, make_a: float, break_a: float) -> bool:
    """Whether one contact makes and breaks what hangs on it.

    Equation
        make VA / V <= make amps and sealed VA / V <= break amps

    Parameters
        make_va: inrush of the coils on the contact [VA]
        sealed_va: the same coils sealed [VA]
        volts_v: control volts [V]
        make_a: what the contact's rating lets it make [A]
        break_a: what it lets it break [A]

    Returns
        true where it does [-]

    Reference
        {contact_a300_make}: 60 and 6 A, 30 and 3 A, at 120 V (from memory)

    Example
        Worked by hand: 245 and 29 VA at 120 V on B300, 2.04 and 0.24 A; at 24 V 622 and 74 VA make 25.9 and break 3.08 A, over 3.

        >>> contact_carries(245, 29, 120, 30, 3), contact_carries(622, 74, 24, 30, 3)
        (True, False)
    """
    return make_va / volts_v <= make_a + CLOSE_A and sealed_va / volts_v <= break_a + CLOSE_A


def _at_most(share: Cited[float], amps: float, rules: RuleSet) -> Cited[float] | None:
    ratings = rules.named_list("control_fuses")
    most = round(share.value * amps, AMPS_DIGITS)
    found = [float(rating) for rating in ratings.value if rating <= most]
    return cite(found[-1], share, ratings, unit="A") if found else None
