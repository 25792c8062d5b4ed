"""Which parts of a panel, or of a single-circuit bank, the fault current where they stand is too much for."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from batch.records import Part
from batch.results import Device, PanelDesign
from batch.rules import RuleSet


class Exposed(NamedTuple):
    """A part whose short-circuit rating is below what is available where it stands."""

    part: str
    rating_ka: float
    from_stock: bool
    fault_ka: float
    ahead: bool  # of the panel: with the contactor, at the feeder's end


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
