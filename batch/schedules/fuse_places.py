"""Where the fuses of a panel feeder or of a single-circuit bank stand: in a holder, or in the fusible disconnect of its control panel."""

from __future__ import annotations

import re
from collections.abc import Iterable

from batch.results import Device, ProjectResult
from batch.schedules.worked_once import once
from batch.sizing.control_parts import in_switches

HOLDER = re.compile(r"in a \d+-pole holder")
IN_SWITCH = "in the fusible disconnect"
PLACE = re.compile(rf", (?:{HOLDER.pattern}|{IN_SWITCH})(?:, or {IN_SWITCH} of a control panel that has one)?")


def device_ahead(project: ProjectResult, device: Device, tags: Iterable[str]) -> str:
    """The words of the device ahead of these panels or banks ("T-105/1-P1", "T-106/1"): of fuses with what holds them there."""
    return _placed(project, device.words, tags)


def device_ahead_in_full(project: ProjectResult, device: Device, tags: Iterable[str]) -> str:
    """The same with its rating."""
    return _placed(project, device.in_full, tags)


def wherever_held(words: str) -> str:
    """A type's words without what holds its panel feeder's fuses, which is its control panel's: of two revisions it may be another."""
    before, feeder, behind = words.partition("panel feeder ")
    return f"{before}{feeder}{PLACE.sub('', behind)}"


def _placed(project: ProjectResult, words: str, tags: Iterable[str]) -> str:
    switched = _in_switch(project)
    held = {tag.casefold() in switched for tag in tags}
    if True not in held:
        return words
    return HOLDER.sub(IN_SWITCH if False not in held else rf"\g<0>, or {IN_SWITCH} of a control panel that has one", words)


_in_switch = once(lambda project: project.controls, in_switches)
