"""Neutrals under the codes that tell earthing systems: where one may stand at dangerous volts it is opened with the lines, and where the
supply is isolated its overcurrent is looked after too."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from msgspec.structs import replace

from batch.counted_words import counted
from batch.findings import Remarks
from batch.method.neutral import neutral_guarded
from batch.results import Device, FeederRow, PanelDesign
from batch.rules import RuleSet
from batch.sizing.phasing import DesignedBank
from batch.sizing.words import poles_words

TO_NEUTRAL = "N"
KIND = 2  # letters of an earthing system that say how its source is earthed: "TT", of "TN-S" "TN"


def opens_neutral(row: FeederRow, rules: RuleSet) -> bool:
    """Whether a neutral of this feeder is opened with its lines wherever a circuit is isolated."""
    return bool(row.earthing) and row.earthing[:KIND] in rules.neutral_opened.value


def with_neutral_poles(row: FeederRow, on: Sequence[DesignedBank], *, rules: RuleSet, said: Remarks) -> FeederRow:
    """The row with devices that open the neutral where its earthing asks for it, and what there is to say of its neutral and of that of its
    banks. A device that is there already is as it is."""
    using = [one for one in on if any(_to_neutral(panel) for panel in _fed(one))]
    if not using or not opens_neutral(row, rules):
        return row
    name, kind, tanks = row.feeder.feeder, row.earthing[:KIND], {one.bank.tank for one in using}
    said.add("neutral-opened", "earthing", feeder=name, earthing=kind, count=f"{counted(len(using), 'bank')} to neutral")
    there = [
        words for words, given in (
            ("the device of the feeder", row.feeder.device_there_a is not None), ("the distribution unit", row.feeder.bus_a is not None),
        ) if given
    ]  # fmt: skip
    if there:
        said.add("neutral-not-opened", "earthing", feeder=name, earthing=kind, what=" and ".join(there))
    if kind in rules.neutral_guarded.value:
        _say_unguarded(using, rules)
    device = row.device if row.feeder.device_there_a is not None else _with_pole(row.device)
    end = row.end
    if end is not None and row.feeder.bus_a is None:
        ways = tuple(replace(way, device=_with_pole(way.device)) if way.tank in tanks else way for way in end.ways)
        end = replace(end, ways=ways)
    return replace(row, device=device, end=end)


def _with_pole(device: Device | None) -> Device | None:
    """The device with a pole for the neutral, which a breaker has among its own and a fuse in the switch that it stands in."""
    if device is None:
        return None
    poles = f"{device.poles}-pole"
    words = device.words.replace(f"in a {poles} holder", f"in a {device.poles + 1}-pole switch that opens the neutral too")
    if words == device.words:
        words = words.replace(poles, poles_words(device.poles, neutral=True))
    return replace(device, words=words, neutral=True)


def fused_poles_words(device: Device) -> str:
    """ "3-pole", of one that opens the neutral too "4-pole, the neutral's without a fuse"."""
    return f"{device.poles + 1}-pole, the neutral's without a fuse" if device.neutral else f"{device.poles}-pole"


def _say_unguarded(using: Sequence[DesignedBank], rules: RuleSet) -> None:
    for one in using:
        bare = [panel for panel in _fed(one) if _to_neutral(panel) and not _guarded(panel, rules)]
        if bare:
            device = bare[0].panel_feeder_device
            one.said.add("neutral-not-guarded", "rcd_ma", device=f"Its {device.rating_a:g} A {device.kind}")


def _fed(one: DesignedBank) -> Iterator[PanelDesign]:
    """Its panels, those that are alike once, or the bank itself where it is on a single circuit."""
    if (single := one.design.single_circuit) is not None:
        yield single
        return
    yield from {id(panel.design): panel.design for panel in one.panels}.values()


def _to_neutral(panel: PanelDesign) -> bool:
    return any(leg.endswith(f"-{TO_NEUTRAL}") for leg in panel.legs)


def _guarded(panel: PanelDesign, rules: RuleSet) -> bool:
    """By a residual-current device that is small against what the neutral carries, which its device's rating is at most."""
    return panel.residual_ma is not None and neutral_guarded(panel.residual_ma, panel.panel_feeder_device.rating_a, rules).value
