"""Reference designations of a tank's apparatus, the same on every list, label and drawing.

Class letters of IEEE 315 (from memory): DISC disconnect, FU fuse, CB circuit breaker, HTR heater; poles are A, B, C. Disconnects are
numbered through the tank by its supplies, branch devices through their panel, heaters through their bank.
"""

from __future__ import annotations

import re

POLES = "ABC"
_LETTERED = re.compile(r"(?<![\w+-])(?:(FU|CB)(\d+)|(HTR)(?=[+\d])|DISC(\d+)|WP(\d+)|TB(3)\b)")


def disconnect(tank: str, number: int) -> str:
    """ "T-105/DISC2": its tank's tag goes first, since a plant has many of each number."""
    return f"{tank}/DISC{number}"


def heater_of_type(number: int) -> str:
    """ "HTR+2": heater k + 2 of its bank, where k is the panel's own, since panels of a type stand anywhere in their banks."""
    return f"HTR+{number}"


def branch_device(kind: str, number: int) -> str:
    """ "FU3", of breakers "CB3"."""
    return f"{'FU' if kind == 'fuse' else 'CB'}{number}"


def branch_pole(kind: str, number: int, pole: int) -> str:
    """ "FU3A" for pole 1 of branch 3."""
    return branch_device(kind, number) + POLES[pole - 1]


def of_iec(text: str) -> str:
    """The same in class letters of IEC 81346-2, as `sizing.marks` has them: FU3A -F103A, HTR+2 -E+2, DISC1 -Q1, WP2 -X10, TB3 -X3."""
    if not any(letters in text for letters in ("FU", "CB", "HTR", "DISC", "WP", "TB3")):
        return text

    def named(found: re.Match[str]) -> str:
        _, device, heater, switch, point, _ = found.groups()
        if device:
            return f"-F{100 + int(device)}"
        if heater:
            return "-E"
        return f"-Q{switch}" if switch else f"-X{8 + int(point)}" if point else "-X3"

    return _LETTERED.sub(named, text)
