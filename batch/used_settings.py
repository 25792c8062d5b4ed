"""The settings of a project as used by its sizing."""

from __future__ import annotations

from typing import NamedTuple

from msgspec import Struct

from batch.origin import NOWHERE, Origin


class BoxPlace(NamedTuple):
    """What the box of a heater panel must stand and is made of; `inside`: it has none of its own, the panel stands in the control panel;
    `taps`: the jumpers in it are taps of the panel feeder."""

    location: str = "corrosive"
    material: str = "non-metallic"
    inside: bool = False
    taps: bool = False


USUAL_BOX = BoxPlace()


class ColoursAsked(Struct, frozen=True, kw_only=True):
    """Colours of wires that a project chooses in place of the trade's, and where its row stands: the last fields of its record."""

    power_colour: str | None = None
    control_colour: str | None = None
    grounded_colour: str | None = None
    ground_colour: str | None = None
    foreign_colour: str | None = None
    origin: Origin = NOWHERE


class Settings(Struct, frozen=True):
    """The settings of a project as used: what was given, and the rule set's default where nothing was."""

    margin_pct: float
    ambient_c: float
    terminal_c: int | None
    conductor: str
    insulation: str
    raceway: str
    largest_conductor: str
    smallest_conductor: str
    smallest_device_a: float
    device_kind: str
    branches_per_panel: int
    wires_per_terminal: int
    branch_drop_pct: float
    total_drop_pct: float
    on_drop: str
    heat_margin_pct: float
    breaker_type: str = ""  # "" = the rule set tells none apart
    installation: str = ""  # method by which runs are laid; "" likewise
    grouping: str = ""  # "bunched" or "single layer"

    @property
    def drop_ahead_pct(self) -> float:
        """What is always left to a way or a feeder, %: what the total limit is more than the branch's; of equal ones the branch's again."""
        return max(self.total_drop_pct - self.branch_drop_pct, 0.0) or self.branch_drop_pct


class Setting(NamedTuple):
    """One setting of a project as used: `given` says whether the estimator stated it."""

    name: str
    value: str
    given: bool
    why: str
