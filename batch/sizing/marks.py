"""Reference designations of a tank's apparatus: class letters of IEEE 315 on NEC jobs, of IEC 81346-2 on IEC jobs.

Disconnects, panel feeder devices and contactors are numbered through the tank, in bank and panel order; branch devices through their panel;
heaters and limits through their bank, so that of several banks the label goes first.
"""

from __future__ import annotations

from typing import NamedTuple

POLES = "ABC"
GROUND_BAR = {"us": "ground bar", "iec": "PE bar"}
WINDINGS = {"us": ("H1", "H4", "X1", "X2"), "iec": ("1", "2", "3", "4")}  # of a control transformer; the latter practice, no source


class _Letters(NamedTuple):
    """What goes before a number, and what is added to the number."""

    before: str
    added: int = 0


NEC: dict[str, _Letters] = {
    "disconnect": _Letters("DISC"), "contactor": _Letters("CON"), "back-up contactor": _Letters("CONB"),
    "panel feeder fuse": _Letters("PFU"),
    "panel feeder breaker": _Letters("PCB"), "branch fuse": _Letters("FU"), "branch breaker": _Letters("CB"),
    "control fuse": _Letters("FUC"),
    "limit": _Letters("OTL"), "level cutoff": _Letters("LLC"), "ground-fault relay": _Letters("GFR"), "transformer": _Letters("CPT"),
    "latch": _Letters("CRL"), "relay": _Letters("CR"), "controller": _Letters("TC"), "selector": _Letters("SS"), "reset": _Letters("PB"),
    "lamp": _Letters("LT"), "block": _Letters("PDB"), "control terminals": _Letters("TB"), "limit terminals": _Letters("TB", 2),
    "wye point": _Letters("WP"), "heater": _Letters("HTR"),
}  # fmt: skip
IEC: dict[str, _Letters] = {
    "disconnect": _Letters("-Q"), "contactor": _Letters("-Q", 10), "back-up contactor": _Letters("-Q", 500),
    "panel feeder fuse": _Letters("-F", 400),
    "panel feeder breaker": _Letters("-F", 400), "branch fuse": _Letters("-F", 100), "branch breaker": _Letters("-F", 100),
    "control fuse": _Letters("-F", 10), "limit": _Letters("-F", 200), "level cutoff": _Letters("-B"),
    "ground-fault relay": _Letters("-F", 300),
    "transformer": _Letters("-T"), "latch": _Letters("-K"), "relay": _Letters("-K", 10), "controller": _Letters("-K", 200),
    "selector": _Letters("-S"), "reset": _Letters("-S", 1), "lamp": _Letters("-P"), "block": _Letters("-X", -1),
    "control terminals": _Letters("-X"), "limit terminals": _Letters("-X", 2), "wye point": _Letters("-X", 8), "heater": _Letters("-E"),
}  # fmt: skip
FEW = 9  # up to so many of a kind take the short numbers of the standard's usual examples: -F1, -Q10, -K21
SHORT = {"panel feeder fuse": 0, "panel feeder breaker": 0, "controller": 20}


def pole_of(device: str, pole: int) -> str:
    """A pole of a device, from 1 on: "FU3A", "-F103.1"."""
    return f"{device}.{pole}" if "-" in device else f"{device}{POLES[pole - 1]}"


class TankMarks:
    """The designations of one tank. `count` of a kind decides between short and long numbers, so that no two kinds meet."""

    def __init__(self, region: str, feeds: int = 1) -> None:
        self._letters = NEC if region == "us" else IEC
        self.us = region == "us"
        self.windings = WINDINGS["us" if self.us else "iec"]
        self.ground_bar = GROUND_BAR["us" if self.us else "iec"]
        self._few = feeds <= FEW

    def __eq__(self, other: object) -> bool:
        return isinstance(other, TankMarks) and (self._letters is other._letters and self._few == other._few)

    def __hash__(self) -> int:
        return hash((self._letters is NEC, self._few))

    def of(self, kind: str, number: int = 1) -> str:
        """ "CON2", "-Q12"."""
        before, added = self._letters[kind]
        if self._letters is IEC and self._few:
            added = SHORT.get(kind, added)
        return f"{before}{number + added}"

    def back_up(self, number: int, of: int) -> str:
        """ "CONB" of the only supply; "CONB1", "CONB2" of several; "-Q10" likewise."""
        if self._letters is NEC:
            return f"CONB{number if of > 1 else ''}"
        return "-Q10" if of == 1 else self.of("back-up contactor", number)

    def in_panel(self, kind: str, number: int, panel: int) -> str:
        """A part of the panel's own that shares the control panel's box: "FU1", of the tank's second panel "2FU1"."""
        return f"{panel if panel > 1 else ''}{self.of(kind, number)}"

    def of_bank(self, kind: str, number: int, bank: str, several: bool) -> str:
        """A heater or limit: "HTR7", where the tank has several banks "1-HTR7"."""
        return f"{bank}-{self.of(kind, number)}" if several else self.of(kind, number)
