"""Load of a feeder: demand, its transformer, and when it needs ground-fault protection."""

from __future__ import annotations

from batch.method.line_currents import ROOT3
from batch.rules import Cited, RuleSet, cite
from batch.systems import System


def demand_kw(delivered_kw: float, factor: float, greatest_bank_kw: float, rules: RuleSet) -> Cited[float]:
    """Demand of a feeder in kilowatts.

    Equation
        max(P factor, P of the greatest bank): a bank is switched as one

    Parameters
        delivered_kw: power of all its heaters at the applied volts [kW]
        factor: demand factor, 1 unless the controls keep loads from running together [-]
        greatest_bank_kw: the same of the greatest bank [kW]
        rules: the rule set, clause demand [-]

    Returns
        demand [kW]

    Reference
        {demand}

    Example
        Worked by hand: 300 kW at 0.6 are 180 kW; with one bank of 200 kW they are 200 kW.

        >>> demand_kw(300, 0.6, 90, rules).value, demand_kw(300, 0.6, 200, rules).value
        (180.0, 200)
    """
    return cite(max(delivered_kw * factor, greatest_bank_kw), rules.clause("demand"), unit="kW")


def demand_amps(lines_a: float, factor: float, greatest_bank_a: float, other_a: float, rules: RuleSet) -> Cited[float]:
    """Load current of a feeder's fullest line under its demand factor.

    Equation
        max((I - I_other) factor, I of the greatest bank, where factor < 1) + I_other

    Parameters
        lines_a: current of the fullest line, other load included [A]
        factor: demand factor that applies to amps [-]
        greatest_bank_a: line current of the greatest bank [A]
        other_a: other load, added in full [A]
        rules: the rule set, clause demand [-]

    Returns
        load current [A]

    Reference
        {demand}

    Example
        Worked by hand: 220 A, 20 of them other load, at 0.5: (220 - 20) x 0.5 + 20 = 120 A.

        >>> demand_amps(220, 0.5, 90, 20, rules).value
        120.0
    """
    heating = max((lines_a - other_a) * factor, greatest_bank_a if factor < 1.0 else 0.0)
    return cite(heating + other_a, rules.clause("demand"), unit="A")


def transformer_load(volts_v: float, amps: float, phases: int) -> float:
    """Apparent power that a load takes from its transformer, as if all lines carried its fullest line's current.

    Equation
        S = sqrt(3) V I / 1000; V I / 1000 on one phase

    Parameters
        volts_v: line-to-line volts [V]
        amps: current of the fullest line [A]
        phases: 1 or 3 [-]

    Returns
        load [kVA]

    Reference
        Definition of apparent power

    Example
        Published: 500 kVA at 480 V are 601.4 A.

        >>> round(transformer_load(480, 601.4, 3))
        500
    """
    return (ROOT3 if phases == 3 else 1.0) * volts_v * amps / 1000.0


def standard_transformer(kva: float, phases: int, rules: RuleSet) -> Cited[float] | None:
    """Smallest preferred transformer rating that serves: the 25 % is not for transformers.

    Equation
        least rating of the list with rating >= load

    Parameters
        kva: load [kVA]
        phases: 1 or 3 [-]
        rules: the rule set, table transformers [-]

    Returns
        rating [kVA]; None above the list

    Reference
        Preferred ratings of the trade

    Example
        The list has 300, 500, 750 kVA.

        >>> standard_transformer(409.2, 3, rules).value
        500.0
    """
    return rules.next_transformer(kva, phases)


def needs_ground_fault_protection(system: System, volts_v: float, device_a: float, rules: RuleSet) -> Cited[bool]:
    """Whether a feeder's device needs ground-fault protection of equipment.

    Equation
        grounded wye or not known, device >= 1000 A, V / sqrt(3) > 150 V

    Parameters
        system: system of the supply [-]
        volts_v: line-to-line volts [V]
        device_a: rating of the feeder's device [A]
        rules: the rule set, factors ground_fault_device_a, ground_fault_volts_v [-]

    Returns
        true where it does [-]

    Reference
        {ground_fault_protection}

    Example
        Worked by hand: 480Y/277 has 277 V to ground, 208Y/120 has 120 V.

        >>> [needs_ground_fault_protection(System.WYE_GROUNDED, volts, 1000, rules).value for volts in (480, 208)]
        [True, False]
        >>> needs_ground_fault_protection(System.WYE_GROUNDED, 480, 800, rules).value
        False
    """
    device, volts = rules.factor("ground_fault_device_a"), rules.factor("ground_fault_volts_v")
    needs = system.may_be_grounded_wye and device_a >= device.value and volts_v / ROOT3 > volts.value
    return cite(needs, device, volts)
