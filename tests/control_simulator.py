"""A ladder followed as a person would: what is live, what pulls in, until nothing changes any more."""

from __future__ import annotations

from collections.abc import Sequence

from batch.control_results import COMMON, Element, Rung

SWITCHES = ("button", "selector", "temperature contact")
PASSIVE = ("coil", "lamp", "load", "primary", "secondary", "supply", "ground")
OPENS = ("limit", "level cutoff", "interlock", "ground-fault contact")  # each of these drops every contactor


class Simulator:
    """`contactors` are the coils that must drop, `latch` the one that seals in."""

    def __init__(self, rungs: Sequence[Rung], contactors: Sequence[str], latch: str) -> None:
        self.elements: list[Element] = [element for rung in rungs for element in rung.elements]
        self.coils = {one.mark: one for one in self.elements if one.kind == "coil"}
        self.latch, self.contactors = latch, list(contactors)
        self.source = next(one.start for one in self.elements if one.kind in ("secondary", "supply"))
        self.primary = {place for place, one in enumerate(self.elements) if one.kind == "fuse" and one in rungs[0].elements}
        self.opened: set[int] = set()  # elements forced open, by place
        self.welded: set[str] = set()
        self.power, self.pressed, self.auto, self.calling = True, False, True, True
        self.pulled: set[str] = set()

    def closed(self, place: int, one: Element) -> bool:
        if place in self.opened or one.kind in PASSIVE:
            return False
        if one.kind == "contact":
            return ((one.of in self.pulled) or (one.of in self.welded)) != one.closed
        if one.kind in SWITCHES:
            return {"button": self.pressed, "selector": self.auto, "temperature contact": self.calling}[one.kind]
        return one.closed

    def fed(self) -> bool:
        """Whether control power comes in: with a transformer both fuses of its primary are whole."""
        return self.power and not self.opened & self.primary

    def live(self) -> set[str]:
        found, grown = ({self.source} if self.fed() else set()), True
        joins = [{one.start, one.end} for place, one in enumerate(self.elements) if self.closed(place, one)]
        while grown:
            grown = False
            for join in joins:
                if join & found and not join <= found:
                    found |= join
                    grown = True
        return found

    def settle(self) -> Simulator:
        for _ in range(50):
            live = self.live()
            assert COMMON not in live, "a closed path across control power"
            now = {mark for mark, coil in self.coils.items() if coil.start in live}
            if now == self.pulled:
                return self
            self.pulled = now
        raise AssertionError("the ladder chatters")

    def press(self) -> Simulator:
        self.pressed = True
        self.settle()
        self.pressed = False
        return self.settle()

    @property
    def on(self) -> set[str]:
        return self.pulled & set(self.contactors)


def running(simulator: Simulator, by_itself: bool) -> Simulator:
    """After its first reset; one whose limits are reset where they are runs by itself."""
    simulator.settle()
    if not by_itself:
        assert not simulator.on, "nothing runs before the first reset"
        simulator.press()
    assert simulator.on == set(simulator.contactors)
    return simulator


def hold_to_the_string(rungs: Sequence[Rung], contactors: Sequence[str], latch: str, by_itself: bool) -> int:
    """Opens each limit, the level cutoff, the interlock, each ground-fault contact, each fuse and control power: every coil drops and stays
    off until somebody presses reset, and reset does nothing while it is open. Returns how many were opened."""
    elements = [element for rung in rungs for element in rung.elements]
    places: list[int | None] = [place for place, one in enumerate(elements) if one.kind in (*OPENS, "fuse")]
    for place in (*places, None):  # None: control power itself
        simulator = running(Simulator(rungs, contactors, latch), by_itself)
        what = "control power" if place is None else elements[place].mark
        if place is None:
            simulator.power = False
        else:
            simulator.opened = {place}
        simulator.settle()
        assert not simulator.pulled & {*contactors, latch}, what
        simulator.press()
        assert not simulator.on, f"reset against an open {what}"
        simulator.opened, simulator.power = set(), True
        simulator.settle()
        assert simulator.on == (set(contactors) if by_itself else set()), what
        simulator.press()
        assert simulator.on == set(contactors)
    return len(places) + 1
