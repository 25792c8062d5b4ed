"""Space in a box: parts in rows on its plate, by rows and sums. Budget figures of the trade: a shop checks them on its own drawing."""

from __future__ import annotations

from batch.rules import Cited, RuleSet, cite

DIGITS = 6  # millimetres are compared after rounding to 1e-6


def plate_side(outside_mm: float, rules: RuleSet) -> Cited[float]:
    """Height or width of the mounting plate of a box.

    Equation
        plate = box - 76 mm (boxes in mm: - 50)

    Parameters
        outside_mm: height or width of the box, outside [mm]
        rules: the rule set, factor plate_less_mm [mm]

    Returns
        height or width of its plate [mm]

    Reference
        Common practice, no source

    Example
        Worked by hand: 24 in are 609.6 mm, 533.6 mm of plate.

        >>> round(plate_side(24 * 25.4, rules).value, 1)
        533.6
    """
    less = rules.factor("plate_less_mm")
    return cite(outside_mm - less.value, less, unit="mm")


def rows_on_plate(widths_mm: tuple[float, ...], plate_width_mm: float, rules: RuleSet) -> Cited[tuple[int, ...]] | None:
    """How many parts stand in each row, in their order.

    Equation
        a part goes on while 1.25 x the widths of its row <= plate - 80 mm of wire duct, else it begins the next row

    Parameters
        widths_mm: width of each part [mm]
        plate_width_mm: width of the plate [mm]
        rules: the rule set, factors plate_fill [-], plate_sides_mm [mm]

    Returns
        parts in each row [-]; None where a part is wider than the plate allows

    Reference
        Common practice, no source

    Example
        Worked by hand: a plate of 432 mm has room for 281.6 mm. A block of 105, six holders of 36, a strip of 104: 105 + 4 x 36 = 249, and
        one more holder would be 285; then 2 x 36 + 104.

        >>> rows_on_plate((105, *[36] * 6, 104), 432, rules).value
        (5, 3)
    """
    fill, sides = rules.factor("plate_fill"), rules.factor("plate_sides_mm")
    room_mm = round((plate_width_mm - sides.value) / fill.value, DIGITS)
    rows: list[int] = []
    used_mm = 0.0
    for width_mm in widths_mm:
        if width_mm > room_mm:
            return None
        if rows and round(used_mm + width_mm, DIGITS) <= room_mm:
            rows[-1], used_mm = rows[-1] + 1, used_mm + width_mm
        else:
            rows.append(1)
            used_mm = width_mm
    return cite(tuple(rows), fill, sides)


def entry_height(size: str, rules: RuleSet) -> Cited[float]:
    """Height that the entry of a supply takes on the plate, its bars with it.

    Equation
        100 mm to 8 AWG, 150 mm to 1 AWG, else 250 mm

    Parameters
        size: largest conductor that enters; one that the rule set does not know counts as the largest [AWG or kcmil]
        rules: the rule set, lists entry_sizes, entry_heights [-, mm]

    Returns
        height [mm]

    Reference
        Common practice, no source

    Example
        By the list: 10 AWG, 1 AWG, 500 kcmil.

        >>> [entry_height(size, rules).value for size in ("10", "1", "500")]
        [100.0, 150.0, 250.0]
    """
    limits, heights = rules.named_list("entry_sizes"), rules.named_list("entry_heights")
    known = size in rules.sizes
    for limit, height in zip(limits.value, heights.value, strict=False):
        if known and rules.rank(size) <= rules.rank(str(limit)):
            return cite(float(height), limits, heights, unit="mm")
    return cite(float(heights.value[-1]), limits, heights, unit="mm")


def height_of_rows(tallest_mm: tuple[float, ...], entry_mm: float, rules: RuleSet) -> Cited[float]:
    """Height of plate that rows of parts and the entry of the supply need.

    Equation
        H = 40 mm + entry + sum of (tallest part of a row + 60 mm of wire duct)

    Parameters
        tallest_mm: tallest part of each row [mm]
        entry_mm: height of the entry [mm]
        rules: the rule set, factors plate_bottom_mm, row_duct_mm [mm]

    Returns
        height [mm]

    Reference
        Common practice, no source

    Example
        Worked by hand: rows of 100 and 90 mm, entry 100: 40 + 100 + 160 + 150 = 450 mm.

        >>> height_of_rows((100, 90), 100, rules).value
        450.0
    """
    bottom, duct = rules.factor("plate_bottom_mm"), rules.factor("row_duct_mm")
    return cite(float(bottom.value + entry_mm + sum(tall + duct.value for tall in tallest_mm)), bottom, duct, unit="mm")
