"""Earth faults: the loop that one goes through, the current it draws, and whether the device ahead opens in time."""

from __future__ import annotations

from batch.method.line_currents import ROOT3
from batch.rules import AMPS_DIGITS, Cited, RuleSet, cite

TABLE_C = 20.0  # °C of the table of direct-current resistances


def loop_of_run(
    *, size: str, ground: str, sets: int, length_m: float, material: str, raceway: str, works_at_c: float, rules: RuleSet
) -> Cited[complex]:
    """What one run adds to the loop of an earth fault: its line out and its protective conductor back, warm.

    Equation
        Z = (R_line + R_pe + j 2 X) L / sets; R the greater of the drop table's and of R_20 (1 + a (T - 20)), since the former's round
        figure is less than some conductors have: 50 mm2 at 70 °C, nearly all at 90 °C

    Parameters
        size: line conductor, of each set [-]
        ground: protective conductor, of each set [-]
        sets: parallel sets [-]
        length_m: length of the run [m]
        material: "copper" or "aluminum" [-]
        raceway: kind of raceway [-]
        works_at_c: temperature at which the insulation may work, T [°C]
        rules: the rule set, tables impedance and conductor_properties, factors warmer_copper, warmer_aluminum [-]

    Returns
        impedance [ohm]

    Reference
        {fault_loop}; {table_impedance}: 22.5 mohm mm2/m and 0.08 mohm/m; {table_conductor_properties} at 20 °C

    Example
        Worked by hand: 6 mm2 out and back, 30 m, 70 °C: 2 x 22.5 x 30 / 6 = 225 mohm, and 2 x 0.08 x 30 = 4.8 mohm. At 90 °C 3.08 ohm/km
        of 6 mm2 are 3.08 x 1.2751 = 3.927: 235.6 mohm.

        >>> given = dict(size="6 mm²", ground="6 mm²", sets=1, length_m=30, material="copper", raceway="conduit", rules=metric)
        >>> ohms = [loop_of_run(works_at_c=warm, **given).value for warm in (70, 90)]
        >>> [(round(one.real, 4), round(one.imag, 4)) for one in ohms]
        [(0.225, 0.0048), (0.2356, 0.0048)]
    """
    out, back = (_warm(one, material, raceway, works_at_c=works_at_c, rules=rules) for one in (size, ground))
    across = rules.ac_reactance(size, raceway)
    if out is None or back is None or across is None:
        return cite(0j, rules.citations["table_impedance"], unit="ohm")
    ohm = complex(out.value + back.value, 2.0 * across.value) * length_m / 1000.0 / sets
    return cite(ohm, out, back, unit="ohm")


def _warm(size: str, material: str, raceway: str, *, works_at_c: float, rules: RuleSet) -> Cited[float] | None:
    """Ohm per km of one conductor at its working temperature: the greater of the two tables."""
    annex, table = rules.ac_resistance(size, material, raceway), rules.dc_resistance(size, material)
    if annex is None or table is None:
        return annex
    rise = rules.factor(f"warmer_{material}")
    warm = table.value * (1.0 + rise.value * (works_at_c - TABLE_C))
    return annex if annex.value >= warm else cite(warm, table, rise, unit="ohm/km")


def source_in_loop(unit: complex, primary: complex, rules: RuleSet) -> Cited[complex]:
    """What a transformer and its primary add to that loop, at the high end of the transformer's tolerance.

    Equation
        Z = (1.1 / 0.9) Z_T + 2 c Z_p / 3, of Z_T at its low end; no zero sequence from the primary of a delta-star unit, whose fault level
        counts with the voltage factor c

    Parameters
        unit: impedance of the transformer as used for the greatest fault [ohm]
        primary: that of its primary [ohm]
        rules: the rule set, factors z_tolerance, z_tolerance_high, fault_voltage [-]

    Returns
        impedance; a magnitude where those were [ohm]

    Reference
        {z_tolerance_high}; symmetrical components (from memory)

    Example
        Worked by hand: 630 kVA, 4 %, 400 V has 10.16 mohm as marked, 11.17 mohm at 110 %.

        >>> round(abs(source_in_loop(0.9 * 0.04 * 400**2 / 630e3, 0j, metric).value), 5)
        0.01117
    """
    low, high, share = rules.factor("z_tolerance"), rules.factor("z_tolerance_high"), rules.factor("fault_voltage")
    return cite(unit * high.value / low.value + 2.0 * share.value * primary / 3.0, high, unit="ohm")


def given_source_in_loop(ohm: complex, rules: RuleSet) -> Cited[complex]:
    """What a source of which the fault current is given adds to that loop: a greatest fault is given by more than the nominal volts.

    Equation
        Z = c Z_g, of Z_g by the nominal volts and the fault current given

    Parameters
        ohm: nominal volts to neutral over the fault current given [ohm]
        rules: the rule set, factor fault_voltage [-]

    Returns
        impedance; a magnitude where that was [ohm]

    Reference
        {fault_voltage} (from memory)

    Example
        Worked by hand: 35 kA at 400 V, 230.94 / 35,000 = 6.598 mohm, with 1.1 7.258.

        >>> round(given_source_in_loop(0.006598, metric).value.real, 6)
        0.007258
    """
    share = rules.factor("fault_voltage")
    return cite(ohm * share.value, share, unit="ohm")


def loop_impedance(source: complex, runs: complex, angle_known: bool) -> float:
    """Greatest magnitude of source and runs together.

    Equation
        |Z_s + Z_r| where the source's angle is known, else |Z_s| + |Z_r|

    Parameters
        source: impedance of the source, a magnitude where its angle is not known [ohm]
        runs: impedance of the runs [ohm]
        angle_known: whether the source's angle is known [-]

    Returns
        impedance [ohm]

    Reference
        Sum of complex impedances; the safe side for the least fault

    Example
        Worked by hand: |0.01117 + 0.225 + j 0.0048| where the angle of the source is not known: 0.01117 + 0.22505.

        >>> round(loop_impedance(0.01117, 0.225 + 0.0048j, False), 5)
        0.23622
    """
    return abs(source + runs) if angle_known else abs(source) + abs(runs)


def driving_volts(earthing: str, u0_v: float, neutral: bool, rules: RuleSet) -> Cited[float]:
    """Volts that drive an earth fault round its loop; in an IT system the second fault, of another line in another circuit.

    Equation
        c U_0; IT: c sqrt(3) U_0 / 2, with a neutral c U_0 / 2

    Parameters
        earthing: "TN", "TT" or "IT" [-]
        u0_v: volts from line to earth, of an IT system to its neutral point [V]
        neutral: whether the neutral goes along [-]
        rules: the rule set, factor earth_fault_voltage [-]

    Returns
        volts [V]

    Reference
        {fault_loop}: Z_s <= U_0 / I_a; {fault_protection_it}: U / (2 I_a), U_0 / (2 I_a); c of {earth_fault_voltage}

    Example
        Worked by hand: 0.95 x 230 = 218.5 V; between two lines 0.95 x 398.4 / 2 = 189.2 V.

        >>> [round(driving_volts(kind, 230, False, metric).value, 1) for kind in ("TN", "IT")]
        [218.5, 189.2]
    """
    share = rules.factor("earth_fault_voltage")
    halves = (0.5 if neutral else ROOT3 / 2.0) if earthing == "IT" else 1.0
    return cite(share.value * u0_v * halves, share, unit="V")


def disconnection_time(earthing: str, u0_v: float, device_a: float, final: bool, rules: RuleSet) -> Cited[float] | None:
    """Time in which a circuit is to disconnect an earth fault.

    Equation
        final circuits up to 32 A: cell of the table; others 5 s, in a TT system 1 s; IT: as TN

    Parameters
        earthing: "TN", "TT" or "IT" [-]
        u0_v: volts from line to earth [V]
        device_a: rating of its device [A]
        final: whether it ends at the heater [-]
        rules: the rule set, table disconnection, factors final_circuit_a, disconnect_distribution_tn_s, disconnect_distribution_tt_s [-]

    Returns
        time [s]; None above the table

    Reference
        {fault_protection}; {table_disconnection}

    Example
        The table has 0.4 s at 230 V, TN, and 0.2 s, TT.

        >>> [disconnection_time(kind, 230, 32, True, metric).value for kind in ("TN", "TT", "IT")]
        [0.4, 0.2, 0.4]
        >>> [disconnection_time(kind, 230, 63, True, metric).value for kind in ("TN", "TT")]
        [5, 1]
    """
    row = "TT" if earthing == "TT" else "TN"
    most = rules.factor("final_circuit_a")
    if final and round(device_a, AMPS_DIGITS) <= most.value:
        return rules.disconnection(row, u0_v)
    return rules.factor("disconnect_distribution_tt_s" if row == "TT" else "disconnect_distribution_tn_s")


def operating_current(kind: str, rating_a: float, type: str, within_s: float, rules: RuleSet) -> Cited[float] | None:
    """Current at which a device is sure to open within a time.

    Equation
        fuse: its gate at 5 s, for less that at 0.1 s; circuit-breaker up to 125 A: upper end of its type's band x In; above 12 In

    Parameters
        kind: "fuse" or "breaker" [-]
        rating_a: rating [A]
        type: type of a circuit-breaker [-]
        within_s: the time [s]
        rules: the rule set, tables fuse_gates, breaker_bands, factors breaker_bands_to_a, breaker_release_multiple [-]

    Returns
        current [A]; None where the rule set has none

    Reference
        {table_fuse_gates}; {table_breaker_bands}: B 5, C 10, D 20 times In

    Example
        Printed in the table of gates: 320 A opens 63 A in 5 s, 350 A opens 32 A in 0.4 s; breakers by 5, 10 and 20 times.

        >>> operating_current("fuse", 63, "", 5, metric).value, operating_current("fuse", 32, "", 0.4, metric).value
        (320.0, 350.0)
        >>> [operating_current("breaker", 32, type, 0.4, metric).value for type in "BCD"]
        [160.0, 320.0, 640.0]
    """
    if kind == "fuse":
        return rules.fuse_opens_at(rating_a, within_s)
    multiple = opens_at_once(rating_a, type, rules)
    return None if multiple is None else cite(multiple.value * rating_a, multiple, unit="A")


def has_type(rating_a: float, rules: RuleSet) -> Cited[bool]:
    """Whether a circuit-breaker has one of the types that say at which multiple of its rating it is sure to open at once.

    Equation
        In <= 125 A; a larger one has releases of its own maker

    Parameters
        rating_a: rating [A]
        rules: the rule set, factor breaker_bands_to_a [-]

    Returns
        true where it has [-]

    Reference
        {breaker_bands_to_a}: up to 125 A

    Example
        The standard ends at 125 A.

        >>> [has_type(rating, metric).value for rating in (125, 160)]
        [True, False]
    """
    most = rules.factor("breaker_bands_to_a")
    return cite(round(rating_a, AMPS_DIGITS) <= most.value, most)


def opens_at_once(rating_a: float, type: str, rules: RuleSet) -> Cited[float] | None:
    """Multiple of its rating at which a circuit-breaker is sure to open at once.

    Equation
        upper end of the band of its type; above 125 A, 12

    Parameters
        rating_a: rating [A]
        type: type of a circuit-breaker up to 125 A [-]
        rules: the rule set, table breaker_bands, factor breaker_release_multiple [-]

    Returns
        multiple [-]; None for a type that the table lacks

    Reference
        {table_breaker_bands}: B 5, C 10, D 20; above, 10 and its tolerance of 20 %: common practice, no source

    Example
        The standard prints 5, 10 and 20 times.

        >>> [opens_at_once(rating, type, metric).value for rating, type in ((32, "B"), (32, "C"), (32, "D"), (160, ""))]
        [5.0, 10.0, 20.0, 12]
    """
    return rules.breaker_trips_at(type) if has_type(rating_a, rules).value else rules.factor("breaker_release_multiple")


def loop_read_cold(most_ohm: float, rules: RuleSet) -> Cited[float]:
    """What a meter may read at most of a loop whose conductors are cold, so that it serves when they are warm.

    Equation
        Z_m <= (2 / 3) U_0 / I_a, where the loop is worked for c U_0 / I_a

    Parameters
        most_ohm: greatest loop as worked, c U_0 / I_a [ohm]
        rules: the rule set, factors loop_cold, earth_fault_voltage [-]

    Returns
        highest reading [ohm]

    Reference
        {loop_cold} (from memory)

    Example
        Worked by hand: 230 V, 200 A: worked for 0.95 x 230 / 200 = 1.0925 ohm; read cold 2 x 230 / (3 x 200) = 0.7667 ohm.

        >>> round(loop_read_cold(1.0925, metric).value, 4)
        0.7667
    """
    share, worked = rules.factor("loop_cold"), rules.factor("earth_fault_voltage")
    return cite(most_ohm * share.value / worked.value, share, unit="ohm")
