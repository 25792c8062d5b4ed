"""Is a branch panel needed, how many, and how heaters are dealt to the legs."""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil

from batch.records import Supply
from batch.rules import RuleSet
from batch.sizing.connection import Joint
from batch.sizing.phasors import Loads, Star, floating_star


def legs_in_turn(joint: Joint, supply: Supply) -> int:
    """Over how many legs heaters are dealt: 3, or 2 on a 1-phase 3-wire feeder; 1 where all share a leg or have all lines."""
    if not joint.dealt:
        return 1
    return 2 if supply.phases == 1 else 3


def leg_counts(joint: Joint, supply: Supply, heaters: int) -> tuple[int, ...]:
    """Heaters on each leg when dealt in turn from the first."""
    turns = legs_in_turn(joint, supply)
    return tuple(len(range(leg, heaters, turns)) for leg in range(turns))


def wires_on_terminal(joint: Joint, supply: Supply, heaters: int, circuits: int) -> int:
    """Wires on the fullest contactor terminal if every circuit were wired straight to one contactor (110.14(A)).

    Parallel: one per circuit. Delta: the two legs that meet at a terminal. Wye: the leg. The star point is judged apart.
    """
    counts = leg_counts(joint, supply, heaters)
    if joint.join == "line" and joint.dealt:
        fullest = max(counts[leg] + counts[leg - 1] for leg in range(3))
    else:
        fullest = max(counts)
    return fullest * circuits


def star_point_wires(joint: Joint, heaters: int, circuits: int) -> int:
    """Wires that meet at the fullest star point of a wye without neutral; 0 where there is none."""
    if joint.join == "star":
        return 3 * circuits
    return heaters * circuits if joint.join == "joined star" else 0


def heaters_per_panel(joint: Joint, most_branches: int, circuits: int) -> int:
    """The most heaters one panel takes: a heater's circuits stay together, and stars stay whole; 0 where not even one group fits."""
    whole = most_branches // circuits
    if joint.join == "star":
        return 3 * (whole // 3)
    return whole if whole >= smallest_group(joint) else 0


def smallest_group(joint: Joint) -> int:
    """Heaters that a panel must take together: the three of a star, since one alone on a star point has no way back."""
    return 3 if joint.join in ("star", "joined star") else 1


def split_heaters(joint: Joint, supply: Supply, heaters: int, most: int) -> tuple[int, ...]:
    """Heaters of each panel, greatest first: as few panels as possible.

    Dealt banks: the split with the most panels that divide by the legs, then the most even (9 -> 6 + 3). Others: as even as possible.
    Stars: whole stars, as even as possible. Joined stars: never one heater alone, which no current would reach. `most` >= 1, >= 3 for
    stars.
    """
    count = ceil(heaters / most)
    if joint.join == "star":
        return tuple(3 * stars for stars in _evenly(heaters // 3, ceil(heaters / most)))
    if not joint.dealt:
        return _evenly(heaters, count)
    turns = legs_in_turn(joint, supply)
    alone = 2 if joint.join == "joined star" else 1
    best = min(_short_of_full(count * most - heaters, count, most - alone), key=lambda short: _preference(short, most, turns))
    return tuple(sorted((most - less for less in (*best, *[0] * (count - len(best)))), reverse=True))


def _evenly(things: int, panels: int) -> tuple[int, ...]:
    each, over = divmod(things, panels)
    return tuple(each + 1 if panel < over else each for panel in range(panels))


def _short_of_full(total: int, panels: int, largest: int) -> list[tuple[int, ...]]:
    """Every way to leave `total` places empty in at most `panels` panels, falling; few, since total < one panel."""
    if total == 0:
        return [()]
    if panels == 0:
        return []
    return [(first, *rest) for first in range(min(total, largest), 0, -1) for rest in _short_of_full(total - first, panels - 1, first)]


def _preference(short: Sequence[int], most: int, turns: int) -> tuple[int, int]:
    """Most panels that divide by the legs, then the least sum of squares of the empty places.

    Panels left full are alike in every split, so only their number matters: they are counted by what is not short.
    """
    full_divides = most % turns == 0
    good = sum((most - less) % turns == 0 for less in short) + (-len(short) if full_divides else 0)
    return -good, sum(less * less for less in short)


def leg_names(joint: Joint, supply: Supply, heaters: int) -> tuple[str, ...]:
    """Panel terminals of each heater in turn: "L1-L2-L3", "L1-L2", "L1-N", "L1-S1" (S1: the first star point)."""
    if joint.join == "3-phase":
        return ("L1-L2-L3",) * heaters
    turns = legs_in_turn(joint, supply)
    names = []
    for heater in range(heaters):
        line = heater % turns + 1
        if joint.join == "line":
            names.append(f"L{line}-L{line % (3 if supply.phases == 3 else 2) + 1}")
        elif joint.join == "neutral":
            names.append(f"L{line}-N")
        else:
            names.append(f"L{line}-WP{heater // 3 + 1 if joint.join == 'star' else 1}")
    return tuple(names)


def loads_of(joint: Joint, supply: Supply, heaters: int, heater_a: float) -> Loads:
    """The loads of `heaters` dealt from L1, each drawing `heater_a` at the applied volts.

    A balanced 3-phase heater, or a star of three, adds I / sqrt(3) to each pair.
    """
    if joint.join in ("3-phase", "star"):
        balanced = heater_a * (heaters if joint.join == "3-phase" else heaters / 3) / 3**0.5
        return Loads(balanced, balanced, balanced)
    if joint.join == "joined star":
        return joined_star(joint, supply, heaters, heater_a).loads
    on = [float(count) * heater_a for count in leg_counts(joint, supply, heaters)] + [0.0, 0.0]
    return Loads(*on[:3]) if joint.join == "line" else Loads(0.0, 0.0, 0.0, *on[:3])


def joined_star(joint: Joint, supply: Supply, heaters: int, heater_a: float, opened: int | None = None) -> Star:
    """A joined star by phasors, with one heater of leg `opened` taken out where asked."""
    counts = list(leg_counts(joint, supply, heaters))
    if opened is not None:
        counts[opened] -= 1
    siemens = heater_a / joint.applied_v
    return floating_star(tuple(count * siemens for count in counts), supply.volts_v)


def lines_used(joint: Joint, supply: Supply, heaters: int) -> tuple[int, bool]:
    """Lines that a feed to so many heaters needs, and whether it needs the neutral."""
    if joint.join in ("3-phase", "star", "joined star"):
        return 3, False
    turns = min(legs_in_turn(joint, supply), heaters)
    if joint.join == "neutral":
        return turns, True
    return (3 if turns > 1 else 2), False


def current_carrying(lines: int, neutral: bool, supply: Supply, rules: RuleSet) -> int:
    """Current-carrying conductors of such a circuit (310.15(E)): two for a leg, three for two lines and the neutral of a wye.

    The neutral of a full 4-wire or of a 1-phase 3-wire circuit carries only the unbalance and does not count.
    """
    if lines == 3:
        return rules.factor("carrying_three_phase").value
    wye_leg = neutral and lines == 2 and supply.phases == 3
    return rules.factor("carrying_two_lines_and_neutral" if wye_leg else "carrying_two_wire").value
