"""How the trade of a country marks apparatus and wires: class letters, colours, hertz, unit of length, by the region of a rule set."""

from __future__ import annotations

import tomllib
from copy import copy
from functools import lru_cache
from pathlib import Path
from typing import Any

from batch.errors import RuleSetError
from batch.toml_text import parsed

HOME = Path(__file__).parent / "marking"


class Marking:
    """The marks of one region, as its file has them.

    letters   what goes before a number, and what is added to the number, by kind of apparatus; `few`: what is added where there are few
    colours   of the control circuit, of a grounded line, of a neutral in words; `colours_fixed`: those that no project may choose
    phases    of the lines between boxes: `low` up to `low_v`, `high` above
    length    unit by which wire and raceway are bought, `short_length` that of heaters; `fahrenheit`: temperatures are said in both units
    """

    def __init__(self, contents: dict[str, Any]) -> None:
        self.letters: dict[str, tuple[str, int]] = {kind: (before, added) for kind, (before, added) in contents["letters"].items()}
        self.few: dict[str, int] = contents["few"]
        self.back_up_alone: str = contents["back_up_alone"]
        self.windings: tuple[str, ...] = tuple(contents["windings"])
        self.ground_bar: str = contents["ground_bar"]
        self.ground: str = contents["ground"]
        self.colours: dict[str, str] = contents["colours"]
        self.colours_fixed: tuple[str, ...] = tuple(contents["colours_fixed"])
        self.frequency_hz: int = contents["frequency_hz"]
        self.length: str = contents["length"]
        self.short_length: str = contents["short_length"]
        self.fahrenheit: bool = contents["fahrenheit"]
        self._phases: dict[str, Any] = contents["phases"]

    def phase_colour(self, line: int, volts_v: float) -> str:
        """Of a line conductor between boxes, lines counted from 1."""
        colours: list[str] = self._phases["low" if volts_v <= self._phases["low_v"] else "high"]
        return colours[line - 1]


@lru_cache(maxsize=64)
def marking_in_colours(region: str, own: tuple[tuple[str, str], ...]) -> Marking:
    """The marks of a region with colours that a project asks for: kind of wire, colour."""
    plain = marking_of(region)
    if not own:
        return plain
    found = copy(plain)
    found.colours = plain.colours | dict(own)
    return found


@lru_cache(maxsize=8)
def marking_of(region: str) -> Marking:
    """The marks of a rule set's region, read once."""
    path = HOME / f"{region}.toml"
    try:
        return Marking(parsed(path.read_text(encoding="utf-8")))
    except (OSError, UnicodeDecodeError, tomllib.TOMLDecodeError, KeyError, ValueError) as fault:
        raise RuleSetError(f"{path}: cannot be read as the marks of a region ({fault}); restore the file.") from fault
