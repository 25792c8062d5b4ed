"""One overcurrent device for a way and the only panel feeder behind it, where the estimator says so and both are equal."""

from __future__ import annotations

from collections.abc import Sequence

from msgspec.structs import replace

from batch.findings import Remarks
from batch.results import PanelDesign, Way
from batch.sizing.phasing import DesignedBank
from batch.sizing.placing import groups
from batch.sizing.words import amps

FEEDING = ("panel feeder", "bank")  # roles of what the way's device stands for


def share_devices(on: Sequence[DesignedBank], ways: Sequence[Way], said: Remarks) -> None:
    """Takes the panel feeder's device out of the panels of tanks that ask for it; said where it cannot be."""
    of_tank: dict[str, list[DesignedBank]] = {}
    for one in on:
        of_tank.setdefault(one.bank.tank, []).append(one)
    for way in ways:
        banks = of_tank[way.tank]
        tank = banks[0].tank
        if tank is None or tank.one_device != "yes":
            continue
        fed = [group for one in banks for group in groups(one.design)]
        why = ""
        if way.device is None:
            why = "its feeder ends in it, without a way"
        elif len(fed) > 1:
            why = f"it has {len(fed)} panel feeders"
        elif (fed[0].panel_feeder_device.rating_a, fed[0].panel_feeder_device.kind) != (way.device.rating_a, way.device.kind):
            ahead, other = way.device, fed[0].panel_feeder_device
            why = f"its way has a {ahead.kind} of {amps(ahead.rating_a)}, its panel feeder a {other.kind} of {amps(other.rating_a)}"
        if why:
            said.add("one-device-not", "feeder", tank=way.tank, why=why)
            continue
        [bank] = banks
        made = bank.design
        if made.single_circuit is not None:
            bank.design = replace(made, single_circuit=_without(made.single_circuit))
        else:
            bank.design = replace(made, panels=tuple(map(_without, made.panels)))
            bank.panels = tuple(replace(row, design=_without(row.design)) for row in bank.panels)


def _without(panel: PanelDesign) -> PanelDesign:
    """The panel without a device of its own panel feeder."""
    own = tuple(f"{role} {what}" for role in FEEDING for what in ("fuse", "fuse holder", "breaker"))
    return replace(panel, device_at_way=True, feed_parts=tuple(part for part in panel.feed_parts if part.role not in own))
