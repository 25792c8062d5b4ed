"""Contactor, distribution block, disconnect and the short-circuit rating of a panel."""

from __future__ import annotations

from typing import NamedTuple

from batch.findings import Remark, remark
from batch.rules import RuleSet
from batch.sizing.protection import amps


class Contactor(NamedTuple):
    words: str
    rating_a: float
    remarks: tuple[Remark, ...]


def choose_contactor(line_a: float, poles: int, rules: RuleSet) -> Contactor:
    """Smallest contactor whose continuous rating covers the line current once: its rating is a continuous one, so no margin on top."""
    found = rules.contactor(line_a)
    if found is None:
        said = remark("beyond-table", "quantity", what="contactor", value=amps(line_a), table="the NEMA ICS 2 sizes")
        return Contactor("", 0.0, (said,))
    name, rating = found.value
    return Contactor(f"NEMA {name}, {rating:g} A, {poles}-pole", rating, ())


class PanelRating(NamedTuple):
    sccr_ka: float | None
    part: str


def panel_rating(device_kind: str, rules: RuleSet) -> PanelRating:
    """Short-circuit rating of a panel of unmarked parts: the lowest of its block and its branch devices (UL 508A Table SB4.1).

    A fuse upstream does not raise it by itself.
    """
    rated = []
    for part in ("distribution block", "fuse holder" if device_kind == "fuse" else "breaker"):
        cited = rules.sccr_default(part)
        if cited is not None:
            rated.append(PanelRating(cited.value, f"unmarked {part}"))
    return min(rated, default=PanelRating(None, ""))


def protector_terminals(heaters: int, level_cutoff: bool) -> int:
    """Terminals of the protector loop in a panel: two per heater in series, two for the loop in and out, two more for a level cutoff.

    Common practice, no source. Each panel of a tank with a level cutoff gets its two terminals, so that the tank's panels stay alike.
    """
    return 2 * heaters + 2 + (2 if level_cutoff else 0)
