"""Reference designations of a tank's apparatus, in the class letters that the region of its rule set has.

Disconnects, panel feeder devices and contactors are numbered through the tank, in bank and panel order; branch devices through their panel;
heaters and limits through their bank, so that of several banks the label goes first.
"""

from __future__ import annotations

from batch.rules.markings import marking_in_colours

POLES = "ABC"
FEW = 9  # up to so many panel feeders a tank has few of a kind, whose numbers may be shorter


def pole_of(device: str, pole: int) -> str:
    """A pole of a device, from 1 on: "FU3A", "-F103.1"."""
    return f"{device}.{pole}" if "-" in device else f"{device}{POLES[pole - 1]}"


def block_in_box(block: str, number: int) -> str:
    """The block of panel `number` that stands in the control panel's own box, beside the block of a supply: "1PDB1"; 0 = in its own box."""
    return f"{number}{block}" if number else block


class TankMarks:
    """The designations of one tank, and its colours of wires. `count` of a kind decides between short and long numbers, so that no two
    kinds meet."""

    def __init__(self, region: str, feeds: int = 1, colours: tuple[tuple[str, str], ...] = ()) -> None:
        self.marking = marking_in_colours(region, colours)
        self._few = feeds <= FEW

    def __eq__(self, other: object) -> bool:
        return isinstance(other, TankMarks) and (self.marking is other.marking and self._few == other._few)

    def __hash__(self) -> int:
        return hash((id(self.marking), self._few))

    def of(self, kind: str, number: int = 1) -> str:
        """ "CON2", "-Q12"."""
        before, added = self.marking.letters[kind]
        if self._few:
            added = self.marking.few.get(kind, added)
        return f"{before}{number + added}"

    def back_up(self, number: int, of: int) -> str:
        """ "CONB" of the only supply; "CONB1", "CONB2" of several; "-Q10" likewise."""
        return self.marking.back_up_alone if of == 1 else self.of("back-up contactor", number)

    def in_panel(self, kind: str, number: int, panel: int) -> str:
        """A part of the panel's own that shares the control panel's box: "FU1", of the tank's second panel "2FU1"."""
        return f"{panel if panel > 1 else ''}{self.of(kind, number)}"

    def of_bank(self, kind: str, number: int, bank: str, several: bool) -> str:
        """A heater or limit: "HTR7", where the tank has several banks "1-HTR7"."""
        return f"{bank}-{self.of(kind, number)}" if several else self.of(kind, number)
