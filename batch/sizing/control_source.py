"""Where a control panel takes its control power from: a transformer, a line and the grounded neutral that comes with it, or others.

The grounded side of control power lands on a grounded conductor or on a winding, never on a line: where no neutral comes, a transformer
is taken.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from batch.control_results import ControlFeed, ControlSettings, ControlSupply, TankControl
from batch.findings import Remarks
from batch.method.currents import same_nominal_volts
from batch.method.line_currents import ROOT3
from batch.rules import RuleSet
from batch.sizing.power_circuit import behind_disconnect, neutral_behind
from batch.sizing.words import volts
from batch.systems import System

PANEL, OTHERS, NONE = "panel", "others", "none"  # as asked; "" = as the supply allows


class ControlSource(NamedTuple):
    """Where control power comes from.

    primary_v    between the wires that it is taken from; 0 = by others
    wires        those two, () = by others; taps the terminals that they leave from
    transformer  whether a transformer stands between
    words        where it comes from without one
    grounded     whether the second wire is a grounded conductor, in which no fuse stands
    why          what of the supply stands against a line to neutral; "" = nothing, or nobody would think of it
    """

    primary_v: float
    wires: tuple[str, str] | tuple[()]
    taps: tuple[str, str]
    transformer: bool
    words: str
    grounded: bool = False
    why: str = ""


def control_source(
    supply: ControlSupply, feeds: Sequence[ControlFeed], settings: ControlSettings, *, earthed: bool, rules: RuleSet
) -> ControlSource:
    """Of a panel with such a first supply and such panel feeders. `earthed`: whether a neutral of it is joined to earth at its source."""
    (hot, first), (other, second) = (behind_disconnect(supply, line, feeds) for line in _tapped(supply))
    if settings.transformer == OTHERS:
        return ControlSource(0.0, (), (first, second), False, "by others")
    to_neutral = (hot, neutral_behind(supply)), (first, supply.neutral_bar)
    why = _against(supply, settings, earthed, rules)
    if not why and settings.transformer != PANEL:
        words = f"line 1 to neutral of supply {supply.number}, behind its disconnect: no transformer"
        return ControlSource(_to_neutral(supply), *to_neutral, False, words, grounded=True)
    if supply.lines == 1:
        return ControlSource(supply.volts_v, *to_neutral, True, "", grounded=earthed, why=why)
    return ControlSource(supply.volts_v, (hot, other), (first, second), True, "", why=why)


def say_source(source: ControlSource, row: TankControl, has_neutral: bool, rules: RuleSet, said: Remarks) -> None:
    """That it has a transformer where none is asked for, or where the volts to the neutral would ask for none. `has_neutral`: whether the
    system of its first supply has a neutral, which may not come."""
    supply, asked = row.supplies[0], row.settings.transformer
    if not source.transformer or not source.why:
        return
    words = {"disconnect": supply.mark, "why": source.why}
    if asked == NONE:
        said.add("control-transformer-needed", "control_transformer", tank=row.tank, **words)
    elif asked != PANEL and has_neutral and _are_control_volts(supply, row.settings, rules):
        said.add("control-transformer-chosen", "control_transformer", volts=volts(row.settings.control_v), **words)


def _against(supply: ControlSupply, settings: ControlSettings, earthed: bool, rules: RuleSet) -> str:
    """Why control power cannot be a line and the neutral, "" = it can."""
    if not supply.neutral:
        return f"no neutral of supply {supply.number} comes to the panel"
    if not earthed:
        return "its neutral is not joined to earth"
    if not _are_control_volts(supply, settings, rules):
        return f"it gives {volts(_to_neutral(supply))} to the neutral, and the coils are for {volts(settings.control_v)}"
    return ""


def _are_control_volts(supply: ControlSupply, settings: ControlSettings, rules: RuleSet) -> bool:
    return same_nominal_volts(_to_neutral(supply), settings.control_v, rules).value


def _to_neutral(supply: ControlSupply) -> float:
    """Volts from a line to the neutral, of a system that has one."""
    if supply.system == System.LINE_TO_NEUTRAL:
        return supply.volts_v
    return supply.volts_v / (2.0 if supply.system == System.THREE_WIRE else ROOT3)


def _tapped(supply: ControlSupply) -> tuple[int, int]:
    """The lines that control power is taken from; of a corner-grounded delta not the grounded one, in which no fuse may stand."""
    free = [line for line, letter in enumerate("ABC"[: supply.lines], start=1) if letter != supply.grounded]
    return (free[0], free[1]) if len(free) > 1 else (1, 2)
