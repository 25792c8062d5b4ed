"""Which parts of a panel, or of a single-circuit bank, the fault current where they stand is too much for."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from batch.records import Part
from batch.results import Device, PanelDesign
from batch.rules import RuleSet
from batch.sizing.words import fault_current


class Exposed(NamedTuple):
    """A part whose short-circuit rating is below what is available where it stands, or not known."""

    part: str
    rating_ka: float | None  # None = nobody has marked it, and the rule set has no default for its kind
    from_stock: bool
    fault_ka: float
    ahead: bool  # of the panel: with the contactor, at the feeder's end


class Unmarked:
    """Parts without a marking, each at the place where it stands."""

    def __init__(self) -> None:
        self._at: dict[str, tuple[float, dict[str, float | None]]] = {}

    def add(self, place: str, part: str, rating_ka: float | None, fault_ka: float) -> None:
        """One part: of several at one place the highest current counts, of several alike the lowest rating."""
        most_ka, parts = self._at.get(place, (0.0, {}))
        known = [rating for rating in (rating_ka, parts.get(part)) if rating is not None]
        parts[part] = min(known) if known else None
        self._at[place] = max(most_ka, fault_ka), parts

    def words(self) -> str:
        """"at its source, 17.5 kA: disconnect 5 kA; in its heater panels, up to 10.4 kA: block 10 kA"; "" where there is none."""
        said = {
            place: ", ".join(part if rating is None else f"{part} {rating:g} kA" for part, rating in sorted(parts.items()))
            for place, (_, parts) in self._at.items()
        }
        worst_first = sorted(self._at, key=lambda place: (-self._at[place][0], place))
        return "; ".join(f"{place} {fault_current(self._at[place][0])}: {said[place]}" for place in worst_first)


def exposed(panel: PanelDesign, end_ka: float | None, panel_ka: float | None, rules: RuleSet) -> Iterator[Exposed]:
    """Parts of one panel, or of a single-circuit bank, below the fault current or of no known rating: what stands ahead of the panel feeder
    conductors at the control panel, what stands in the panel at the panel. A fuse is judged by its class, with its holder; a breaker that
    nobody has marked by the default.
    """
    branch, feed = panel.branch.device, panel.panel_feeder_device
    inside = ((panel.sccr_part, panel.sccr_ka, panel.sccr_from_stock),) if panel.sccr_ka is not None else ()
    for part, rating_ka, from_stock, fault_ka, ahead in (
        (panel.switch_part or "contactor", panel.switch_ka, panel.switch_from_stock, end_ka, True),
        *(
            (*one, end_ka, True)
            for one in withstands(feed, "fuse holder", rules, panel.panel_feeder_holder)
            if not panel.device_at_way
        ),
        *((*one, panel_ka, False) for one in inside),
        *((part, None, False, panel_ka, False) for part in unrated(panel, rules)),
        *((*one, panel_ka, False) for one in withstands(branch, "", rules) if panel.block),
    ):
        if fault_ka is not None and (rating_ka is None or fault_ka > rating_ka):
            yield Exposed(part.removeprefix("unmarked "), rating_ka, from_stock, fault_ka, ahead)


def unrated(panel: PanelDesign, rules: RuleSet) -> Iterator[str]:
    """Parts in a heater panel that nobody has marked, under a rule set without a default for them."""
    device, holder = panel.branch.device, panel.branch.holder
    block, beside = "power distribution block", "fuse holder" if device.kind == "fuse" else "breaker"
    if not panel.block or panel.sccr_marked:
        return
    states = holder is not None and holder.sccr_ka is not None if device.kind == "fuse" else device.interrupting_ka is not None
    if not states and rules.sccr_default(beside) is None:
        yield beside
    if (states or not panel.sccr_from_stock) and rules.sccr_default(block) is None:  # else what is marked is the block
        yield block


def withstands(device: Device, holder: str, rules: RuleSet, held: Part | None = None) -> Iterator[tuple[str, float | None, bool]]:
    """What a device takes, in words, kA, and whether somebody has marked it so: its own rating, and that of what holds a fuse.

    `holder` is the kind of part that holds it ("fuse holder", "disconnect"), "" where it is judged elsewhere; `held` that part from stock.
    """
    if device.interrupting_ka is not None and (device.part or device.kind == "fuse"):
        yield device.part or device.each.partition(",")[0], device.interrupting_ka, True
    elif device.kind == "fuse":
        yield device.part or device.each.partition(",")[0], None, False
    elif holder:
        yield "unmarked breaker", _default(rules, "breaker"), False
    if device.kind == "fuse" and holder:
        marked = held is not None and held.sccr_ka is not None
        yield (held.part, held.sccr_ka, True) if held is not None and marked else (f"unmarked {holder}", _default(rules, holder), False)


def _default(rules: RuleSet, part: str) -> float | None:
    found = rules.sccr_default(part)
    return None if found is None else found.value
