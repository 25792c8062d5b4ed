"""Choices from the estimator's own parts: the smallest that serves, or a finding that none does."""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

from batch.findings import Remarks
from batch.method.terminals import fuse_body
from batch.records import Part
from batch.rules import AMPS_DIGITS, RuleSet
from batch.sizing.words import amps, size_words, volts

PANEL_PART = "panel part"  # told by its description


class Need(NamedTuple):
    """What a part must do. `wires` of size `wire` land on its fullest terminal; `fault_ka` is what it should withstand."""

    kind: str
    rating_a: float
    poles: int
    volts_v: float
    wire: str = ""
    wires: int = 1
    fault_ka: float | None = None
    most_a: float | None = None  # a device may not be larger
    said: str = ""  # its wires in words, where they differ in and out
    grounded: bool = False  # three lines of which one is grounded: a breaker of two poles serves where it is so marked

    def words(self) -> str:
        rating = amps(self.rating_a) + (f" to {amps(self.most_a)}" if self.most_a is not None else "")
        wires = self.said or (f"{self.wires} x {size_words(self.wire)}" if self.wire else "")
        return f"{rating}, {self.poles}-pole, {volts(self.volts_v)}" + (f", {wires}" if wires else "")


class Stock:
    """The Stock sheet of a job, by kind. An empty stock leaves every choice to the rule set's generic ratings."""

    def __init__(self, parts: Iterable[Part] = (), metal: str = "copper") -> None:
        """`metal`: of the conductors that land on its terminals."""
        self.metal = metal
        self._by_kind: dict[str, list[Part]] = {}
        first: dict[str, Part] = {}
        for part in parts:
            first.setdefault(part.part, part)  # further rows of a part are its price breaks
        self._by_name = first
        for part in first.values():
            self._by_kind.setdefault(part.kind, []).append(part)

    def lists(self, kind: str) -> bool:
        return kind in self._by_kind

    def kinds(self) -> tuple[str, ...]:
        return tuple(self._by_kind)

    def named(self, name: str) -> Part | None:
        """The part of that name, in its first row."""
        return self._by_name.get(name)

    def of(self, kind: str) -> tuple[Part, ...]:
        return tuple(self._by_kind.get(kind, ()))

    def plain(
        self, kind: str, *, rating_a: float | None = None, poles: int | None = None, size: str = "", volts_v: float | None = None
    ) -> str:
        """The first part of a kind, or panel part that its description calls so, that states just this rating, number of poles and size, at
        no fewer volts: its name, "" = none does."""
        called = [part for part in self._by_kind.get(PANEL_PART, ()) if kind in (part.description or "").casefold()]
        for part in (*self._by_kind.get(kind, ()), *called):
            if (
                (rating_a is None or part.rating_a == rating_a) and (poles is None or part.poles == poles)
                and (not size or (part.size or "").casefold() == size.casefold())
                and (volts_v is None or part.volts_v is None or part.volts_v >= volts_v)
            ):  # fmt: skip
                return part.part
        return ""

    def choose(self, need: Need, rules: RuleSet) -> Part | None:
        """The part of that kind with the smallest rating that serves; among equals the higher short-circuit rating, then the cheaper.

        One that withstands the fault current goes before a smaller one that does not. Blank rating or volts never serve: unknown.
        """
        serving = [part for part in self._by_kind.get(need.kind, ()) if serves(part, need, rules)]
        if not serving:
            return None
        return min(serving, key=lambda part: (self.wrong_metal(part), *_preference(part, need)))

    def wrong_metal(self, part: Part) -> bool:
        """Whether its terminals are stated to be for copper alone, and the conductors are not."""
        return self.metal != "copper" and part.terminals_for == "copper"


def serves(part: Part, need: Need, rules: RuleSet) -> bool:
    """Rating, poles, volts, wire range and wires per terminal; a single-pole fuse serves any number of poles; a fuse holder holds fuses of
    its own size alone."""
    if part.rating_a is None or part.volts_v is None:
        return False
    if need.most_a is not None and part.rating_a > need.most_a:
        return False
    if round(part.rating_a, AMPS_DIGITS) < round(need.rating_a, AMPS_DIGITS) or part.volts_v < need.volts_v:
        return False
    if need.kind == "fuse holder" and _body(part.rating_a, rules) != _body(need.rating_a, rules):
        return False
    if need.kind != "fuse" and part.poles is not None and part.poles != need.poles and not _other_poles(part, need):
        return False
    if part.wires_per_terminal is not None and part.wires_per_terminal < need.wires:
        return False
    return not need.wire or takes_wire(part, need.wire, rules)


def _body(rating_a: float, rules: RuleSet) -> float | None:
    body = fuse_body(rating_a, rules)
    return None if body is None else body.value


def _other_poles(part: Part, need: Need) -> bool:
    """A contactor, block, disconnect or holder may have a pole to spare; a breaker's poles open together and must match, but two that are
    marked for three phases serve where one of three lines is grounded."""
    if need.kind == "breaker":
        return need.grounded and need.poles == 3 and part.poles == 2 and part.pole_mark is not None
    return part.poles is not None and part.poles >= need.poles


def takes_wire(part: Part, size: str, rules: RuleSet) -> bool:
    """Whether a wire is in the range that the part states; a limit left blank refuses none."""
    rank = rules.rank(size)
    least, most = (rules.size_named(limit) if limit else None for limit in (part.smallest_wire, part.largest_wire))
    return (least is None or rules.rank(least) <= rank) and (most is None or rank <= rules.rank(most))


def _preference(part: Part, need: Need) -> tuple[object, ...]:
    sccr = part.sccr_ka or 0.0
    withstands = need.fault_ka is None or sccr >= need.fault_ka
    price = float("inf") if part.unit_price is None else part.unit_price
    return not withstands, part.rating_a, -sccr, price, part.part


def say_none_serves(need: Need, said: Remarks) -> None:
    said.add("stock-none-serves", "quantity", kind=need.kind, need=need.words())
