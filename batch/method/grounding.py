"""Equipment grounding conductors: by the device ahead, in proportion to upsized conductors, never beyond the circuit's own."""

from __future__ import annotations

from batch.rules import Cited, RuleSet, cite

CMIL_CLOSE = 1e-9  # relative


def size_by_device(device_a: float, material: str, rules: RuleSet) -> Cited[str] | None:
    """Equipment grounding conductor by the rating of the device ahead.

    Equation
        first row of the table with rating >= device

    Parameters
        device_a: rating of the device ahead [A]
        material: "copper" or "aluminum" [-]
        rules: the rule set, table ground [-]

    Returns
        size [AWG or kcmil]; None above the table

    Reference
        {table_ground}

    Example
        The table prints 10 AWG copper for 60 A and 4 AWG for 300 A.

        >>> [size_by_device(device, "copper", rules).value for device in (20, 60, 300)]
        ['12', '10', '4']
    """
    return rules.ground(device_a, material)


def size_by_lines(size: str, material: str, rules: RuleSet) -> Cited[str]:
    """Protective conductor by the size of the lines it runs with, where the code goes by that.

    Equation
        S up to 16 mm2, 16 mm2 up to 35 mm2, S / 2 above, the next standard size up

    Parameters
        size: size of the lines [mm2]
        material: "copper" or "aluminum" [-]
        rules: the rule set, table protective [-]

    Returns
        size [mm2]; the lines' own where the table has none

    Reference
        {table_protective}

    Example
        The table prints 10 mm2 with lines of 10, 16 with lines of 25 and 35; with 95 half of it, 47.5, the next size is 50.

        >>> [size_by_lines(f"{size} mm²", "copper", metric).value for size in (10, 25, 35, 95)]
        ['10 mm²', '16 mm²', '16 mm²', '50 mm²']
    """
    found = rules.protective(size, material)
    return cite(size, rules.clause("grounding")) if found is None else found


def size_in_proportion(size: str, ratio: float, rules: RuleSet) -> Cited[str]:
    """Grounding conductor of upsized circuit conductors.

    Equation
        least size with area >= area of the table's size x (area used / area needed)

    Parameters
        size: size by the device [AWG or kcmil]
        ratio: circular mils used over circular mils needed [-]
        rules: the rule set, table conductor_properties, clause grounding_upsized [-]

    Returns
        size [AWG or kcmil]

    Reference
        {grounding_upsized}

    Example
        Published: 350 kcmil instead of 250 kcmil behind 300 A, 1.4 x 41,740 = 58,436 cmil: 2 AWG.

        >>> size_in_proportion("4", 350 / 250, rules).value
        '2'
    """
    return cite(_at_least(_cmil(size, rules) * ratio, rules), rules.clause("grounding_upsized"))


def equipment_ground(
    *, device_a: float, size: str, sets: int, needed_size: str, needed_sets: int, smallest: str, material: str, rules: RuleSet
) -> Cited[str]:
    """Equipment grounding conductor of one raceway, full size in each parallel one.

    Equation
        by the device; x (cmil used / cmil needed) where upsized, up to the conductors it runs with; never above the circuit's own

    Parameters
        device_a: rating of the device ahead [A]
        size: size of the circuit's conductors [AWG or kcmil]
        sets: their parallel sets [-]
        needed_size: size that load and device alone need [AWG or kcmil]
        needed_sets: its parallel sets [-]
        smallest: smallest conductor of the project [AWG or kcmil]
        material: "copper" or "aluminum" [-]
        rules: the rule set, clauses grounding, grounding_upsized, grounding_parallel [-]

    Returns
        size, in each raceway [AWG or kcmil]

    Reference
        {grounding}; {grounding_upsized}; {grounding_parallel}

    Example
        Published: 300 A, 250 kcmil needed, 350 kcmil used: 2 AWG. Not upsized: 4 AWG.

        >>> given = dict(device_a=300, sets=1, needed_size="250", needed_sets=1, smallest="12", material="copper", rules=rules)
        >>> equipment_ground(size="350", **given).value, equipment_ground(size="250", **given).value
        ('2', '4')
    """
    if rules.conventions.ground_by == "size":
        return size_by_lines(size, material, rules)
    table = size_by_device(device_a, material, rules)
    together = rules.area(size).value * sets
    if table is None:
        return cite(_at_least(together, rules), rules.clause("grounding_beyond_table"))
    ratio = together / (rules.area(needed_size).value * needed_sets)
    wanted = table
    if ratio > 1.0 + CMIL_CLOSE:
        grown = size_in_proportion(table.value, ratio, rules)
        rank = min(_rank(grown.value, rules), rules.rank(size))
        wanted = table._replace(value=rules.sizes[max(rank, _rank(table.value, rules))], citation=f"{table.citation}, {grown.citation}")
    rank = max(_rank(wanted.value, rules), rules.rank(smallest))
    return wanted._replace(value=rules.sizes[min(rank, rules.rank(_at_least(together, rules)))])


def supply_side_jumper(size: str, material: str, rules: RuleSet) -> Cited[str]:
    """What bonds the box of a first device to its transformer, with secondary conductors that have no device ahead of them.

    Equation
        first row of the table with lines >= size; above the table 1/8 of the lines' circular mils. By the lines of one raceway

    Parameters
        size: size of the lines of one raceway [AWG or kcmil]
        material: "copper" or "aluminum", of both [-]
        rules: the rule set, table bonding_jumper, factor bonding_jumper_share [-]

    Returns
        size, in each raceway [AWG or kcmil]

    Reference
        {supply_side_jumper}; {table_bonding_jumper} (from memory)

    Example
        The table prints 2 AWG copper with lines of 4/0 and 1/0 AWG with 500 kcmil; 1/8 of 1250 kcmil are 156.25 kcmil: 3/0 AWG.

        >>> [supply_side_jumper(size, "copper", rules).value for size in ("2", "4/0", "500", "1250")]
        ['8', '2', '1/0', '3/0']
    """
    if rules.conventions.ground_by == "size":
        return size_by_lines(size, material, rules)
    cmil = rules.area(size).value
    for most, jumper in rules.bonding_jumpers(material):
        if cmil <= most * (1 + CMIL_CLOSE):
            return jumper
    share = rules.factor("bonding_jumper_share")
    return cite(_at_least(share.value * cmil, rules), share)


def service_grounded_conductor(size: str, sets: int, material: str, rules: RuleSet) -> Cited[str] | None:
    """Least grounded conductor that a grounded system brings along to service equipment, whether a load there needs it or not.

    Equation
        as the supply-side bonding jumper, in each raceway; of parallel sets no smaller than the smallest conductor run in parallel

    Parameters
        size: size of the lines of one raceway [AWG or kcmil]
        sets: parallel sets, each in its raceway [-]
        material: "copper" or "aluminum", of all [-]
        rules: the rule set, table bonding_jumper, clause service_grounded_conductor [-]

    Returns
        size, in each raceway [AWG or kcmil]; None where the rule set sizes grounding conductors by the lines, and says nothing of this one

    Reference
        {service_grounded_conductor}; {table_bonding_jumper}, {parallel} (from memory)

    Example
        The table prints 2 AWG copper with lines of 4/0; of two sets in two raceways 1/0 AWG in each.

        >>> [service_grounded_conductor("4/0", sets, "copper", rules).value for sets in (1, 2)]
        ['2', '1/0']
        >>> service_grounded_conductor("95 mm²", 1, "copper", metric) is None
        True
    """
    if rules.conventions.ground_by == "size":
        return None
    least = supply_side_jumper(size, material, rules)
    together = rules.named_size("parallel_from")
    if sets > 1 and _rank(least.value, rules) < _rank(together.value, rules):
        least = together
    return cite(least.value, rules.clause("service_grounded_conductor"), least)


def _rank(size: str, rules: RuleSet) -> int:
    """Rank of a grounding size; one that is no ampacity-table size (1200 kcmil) takes the next larger."""
    return rules.rank(size) if size in rules.sizes else rules.rank(_at_least(_cmil(size, rules), rules))


def _cmil(size: str, rules: RuleSet) -> float:
    """Circular mils; a size that the wire table lacks is one in kcmil."""
    return rules.area(size).value if size in rules.sizes else 1000.0 * float(size)


def _at_least(cmil: float, rules: RuleSet) -> str:
    """Smallest size of at least so many circular mils; the largest where none is."""
    return next((size for size in rules.sizes if rules.area(size).value >= cmil * (1 - CMIL_CLOSE)), rules.sizes[-1])
