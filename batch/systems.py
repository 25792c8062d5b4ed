"""Supply systems and connections of heaters, as the trade names them; each knows its phases, lines and neutral."""

from __future__ import annotations

from enum import Enum, StrEnum


class System(StrEnum):
    """The system of a supply. The member's own words are those of the System column.

    phases  1 or 3
    lines   lines of the supply, a grounded line of a delta among them
    starts  on how many of them what hangs on the supply may start: where that is 1 there is nothing to balance
    wires   wires that such a supply comes with, the usual number first
    """

    phases: int
    lines: int
    starts: int
    wires: tuple[int, ...]

    def __new__(cls, words: str, phases: int, lines: int, starts: int, wires: tuple[int, ...]) -> System:
        member = str.__new__(cls, words)
        member._value_ = words
        member.phases, member.lines, member.starts, member.wires = phases, lines, starts, wires
        return member

    DELTA = "delta", 3, 3, 3, (3,)
    UNKNOWN = "unknown", 3, 3, 3, (3,)  # three lines, and nobody says how they are grounded: the cautions of both, the ratings of a delta
    CORNER_GROUNDED_DELTA = "corner-grounded delta", 3, 3, 3, (3,)
    WYE_GROUNDED = "wye grounded", 3, 3, 3, (3, 4)
    HIGH_LEG_DELTA = "high-leg delta", 3, 3, 3, (3, 4)
    LINE_TO_LINE = "1-phase line-to-line", 1, 2, 1, (2,)
    LINE_TO_NEUTRAL = "1-phase line-to-neutral", 1, 1, 1, (2,)
    THREE_WIRE = "1-phase 3-wire", 1, 2, 2, (3,)

    @property
    def words(self) -> str:
        """It beside other words of a supply, where "480 V, unknown" would not say what is unknown."""
        return "system unknown" if self is System.UNKNOWN else self.value

    @property
    def may_be_grounded_wye(self) -> bool:
        return self in (System.WYE_GROUNDED, System.UNKNOWN)

    @property
    def may_be_ungrounded(self) -> bool:
        return self in (System.DELTA, System.UNKNOWN)

    def has_neutral(self, wires: int) -> bool:
        """Whether its neutral comes along: always on one phase with a neutral, with the fourth wire of a wye."""
        return self in (System.LINE_TO_NEUTRAL, System.THREE_WIRE) or (self is System.WYE_GROUNDED and wires == 4)


SYSTEMS: dict[str, System] = {system.value: system for system in System}  # by the words of the System column


class Connection(Enum):
    """How the heaters of a bank are connected.

    across       what a heater stands across: "3-phase", "line" (to line), "neutral", "wye" (point of three), "common-point wye"
    poles        poles of one heater's device
    lines        ungrounded conductors of one heater's circuit
    neutral      whether that circuit has a neutral
    in_rotation  heaters assigned to the phases in rotation, not all on one
    group        heaters that belong together in a panel
    """

    across: str
    poles: int
    lines: int
    neutral: bool
    in_rotation: bool
    group: int

    def __init__(self, across: str, poles: int, lines: int, neutral: bool, in_rotation: bool, group: int) -> None:
        self.across, self.poles, self.lines, self.neutral, self.in_rotation, self.group = across, poles, lines, neutral, in_rotation, group

    THREE_PHASE = "3-phase", 3, 3, False, False, 1
    ONE_PAIR = "line", 2, 2, False, False, 1
    DELTA = "line", 2, 2, False, True, 1
    ONE_LEG = "neutral", 1, 1, True, False, 1
    TO_NEUTRAL = "neutral", 1, 1, True, True, 1
    SEPARATE_WYES = "wye", 1, 2, False, True, 3
    COMMON_POINT_WYE = "common-point wye", 1, 2, False, True, 3

    @property
    def is_ungrounded_wye(self) -> bool:
        """A wye whose point is joined to no neutral."""
        return self in (Connection.SEPARATE_WYES, Connection.COMMON_POINT_WYE)

    def legs(self, system: System) -> int:
        """Over how many pairs or legs the heaters go in rotation: 3, or 2 on one phase with three wires; 1 where there is no rotation."""
        if not self.in_rotation:
            return 1
        return 2 if system.phases == 1 else 3
