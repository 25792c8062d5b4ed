"""Which parts of a panel, or of a single-circuit bank, the fault current where they stand is too much for."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from batch.records import Part
from batch.results import Device, PanelDesign
from batch.rules import RuleSet
from batch.sizing.words import fault_current


class Exposed(NamedTuple):
    """A part whose short-circuit rating is below what is available where it stands."""

    part: str
    rating_ka: float
    from_stock: bool
    fault_ka: float
    ahead: bool  # of the panel: with the contactor, at the feeder's end


class Unmarked:
    """Parts without a marking that count as less than the fault current, each at the place where it stands."""

    def __init__(self) -> None:
        self._at: dict[str, tuple[float, dict[str, float]]] = {}

    def add(self, place: str, part: str, rating_ka: float, fault_ka: float) -> None:
        """One part: of several at one place the highest current counts, of several alike the lowest rating."""
        most_ka, parts = self._at.get(place, (0.0, {}))
        parts[part] = min(rating_ka, parts.get(part, rating_ka))
        self._at[place] = max(most_ka, fault_ka), parts

    def words(self) -> str:
        """"at its source, 17.5 kA: disconnect 5 kA; in its heater panels, up to 10.4 kA: block 10 kA"; "" where there is none."""
        return "; ".join(
            f"{place} {fault_current(most_ka)}: {', '.join(f'{part} {rating:g} kA' for part, rating in sorted(parts.items()))}"
            for place, (most_ka, parts) in sorted(self._at.items(), key=lambda one: (-one[1][0], one[0]))
        )


def exposed(panel: PanelDesign, end_ka: float | None, panel_ka: float | None, rules: RuleSet) -> Iterator[Exposed]:
    """Parts of one panel, or of a single-circuit bank, below the fault current: what stands ahead of the panel feeder conductors at the
    control panel, what stands in the panel at the panel. A fuse is judged by its class, with its holder; a breaker that nobody has
    marked by the default."""
    branch, feed = panel.branch.device, panel.panel_feeder_device
    for part, rating_ka, from_stock, fault_ka, ahead in (
        (panel.switch_part, panel.switch_ka, panel.switch_from_stock, end_ka, True),
        *(
            (*one, end_ka, True)
            for one in withstands(feed, "fuse holder", rules, panel.panel_feeder_holder)
            if not panel.device_at_way
        ),
        (panel.sccr_part, panel.sccr_ka, panel.sccr_from_stock, panel_ka, False),
        *((*one, panel_ka, False) for one in withstands(branch, "", rules) if panel.block),
    ):
        if rating_ka is not None and fault_ka is not None and fault_ka > rating_ka:
            yield Exposed(part.removeprefix("unmarked "), rating_ka, from_stock, fault_ka, ahead)


def withstands(device: Device, holder: str, rules: RuleSet, held: Part | None = None) -> Iterator[tuple[str, float | None, bool]]:
    """What a device takes, in words, kA, and whether somebody has marked it so: its own rating, and that of what holds a fuse.

    `holder` is the kind of part that holds it ("fuse holder", "disconnect"), "" where it is judged elsewhere; `held` that part from stock.
    """
    if device.part or device.kind == "fuse":
        yield device.part or device.each.partition(",")[0], device.interrupting_ka, True
    elif holder and (breaker := rules.sccr_default("breaker")) is not None:
        yield "unmarked breaker", breaker.value, False
    if device.kind == "fuse" and holder and held is not None and held.sccr_ka is not None:
        yield held.part, held.sccr_ka, True
    elif device.kind == "fuse" and holder and (holds := rules.sccr_default(holder)) is not None:
        yield f"unmarked {holder}", holds.value, False
