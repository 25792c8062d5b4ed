"""The supplies of a control panel: a disconnect each, a block where several panel feeders hang on one, a back-up contactor where asked."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from batch.control_results import ControlSettings, ControlSupply
from batch.findings import Remarks
from batch.method.block_jumpers import jumper_size
from batch.method.line_currents import Lines
from batch.method.supply_duties import least_disconnect
from batch.method.terminals import temperature_column
from batch.records import Settings
from batch.results import FeederRow, PanelDesign, Way, Wires
from batch.rules import RuleSet
from batch.sizing.marks import TankMarks
from batch.sizing.neutral_poles import opens_neutral
from batch.sizing.panel import fullest_pole
from batch.sizing.power_circuit import NEUTRAL_BAR
from batch.sizing.stock import Stock
from batch.sizing.switching import Chosen, Openings, choose_block, choose_contactor, choose_disconnect, choose_fusible
from batch.sizing.words import size_words
from batch.systems import System

At = tuple[FeederRow, Way | None, Sequence[PanelDesign]]  # a feeder, its way to this panel, and what hangs on it here


def build_supplies(
    at: Sequence[At], asked: ControlSettings, settings: Settings, *, marks: TankMarks, rules: RuleSet, stock: Stock, said: Remarks
) -> tuple[ControlSupply, ...]:
    """The supplies in the order of the tank's banks."""
    chosen, come = Chooser(settings, rules, stock, said), [neutral_comes(*one) for one in at]
    bars = [_bar_of(number if sum(come) > 1 else 0) if comes else "" for number, comes in enumerate(come, start=1)]
    return tuple(
        _supply(number, one, len(at), bar, asked=asked, by=chosen, marks=marks)
        for number, (one, bar) in enumerate(zip(at, bars, strict=True), start=1)
    )


def _bar_of(number: int) -> str:
    """A neutral bar: neutrals of several supplies are never joined, and then a bar bears the number of its own."""
    return f"{NEUTRAL_BAR} {number}N" if number else f"{NEUTRAL_BAR} N"


class Chooser(NamedTuple):
    """What parts are chosen with."""

    settings: Settings
    rules: RuleSet
    stock: Stock
    said: Remarks


def _supply(number: int, at: At, of: int, bar: str, *, asked: ControlSettings, by: Chooser, marks: TankMarks) -> ControlSupply:
    (row, way, fed), (settings, rules, stock, said) = at, by
    supply, lines = row.supply, way.lines if way is not None else Lines()
    poles, volts_v = supply.system.lines, supply.volts_v
    required_a = way.required_a if way is not None else 0.0
    ahead = way.device if way is not None and way.device is not None else row.device
    wires = wires_in(row, way)
    size = wires.size if wires is not None else ""
    opened = bool(bar) and opens_neutral(row, rules)
    disconnect = None
    only = fed[0] if len(fed) == 1 and not fed[0].device_at_way else None
    if only is not None and only.panel_feeder_device.kind == "fuse" and only.panel_feeder_wires.lines == poles:
        fuse_a = only.panel_feeder_device.rating_a
        disconnect = choose_fusible(fuse_a, required_a, poles, volts_v, wire=size, neutral=opened, rules=rules, stock=stock)
    fusible = disconnect is not None
    if disconnect is None:  # one with fuses carries no more than these let through; only what stands ahead protects one without
        behind_a = max((one.panel_feeder_device.rating_a for one in fed), default=0.0)
        least_a = least_disconnect(required_a, ahead.rating_a if ahead is not None else 0.0, behind_a)
        disconnect = choose_disconnect(least_a, poles, volts_v, wire=size, neutral=opened, rules=rules, stock=stock, said=said)
    block, jumper = None, ""
    if len(fed) > 1:
        rated_a = ahead.rating_a if ahead is not None else required_a
        block, jumper = _block(at, rated_a, ahead.kind if ahead is not None else settings.device_kind, wires, by)
    contactor = None
    if asked.backup:
        contactor = choose_contactor(lines.maximum, poles, volts_v, wire=size, wires=1, rules=rules, stock=stock, said=said)
    return ControlSupply(
        number=number,
        mark=marks.of("disconnect", number),
        feeder=row.feeder.feeder,
        volts_v=volts_v,
        system=supply.system,
        lines=poles,
        neutral_bar=bar,
        neutral_pole=opened,
        grounded=supply.grounded,
        frequency_hz=row.feeder.frequency_hz or marks.marking.frequency_hz,
        line_a=lines.maximum,
        required_a=required_a,
        ahead_a=ahead.rating_a if ahead is not None else None,
        disconnect=disconnect.words,
        disconnect_a=disconnect.rating_a,
        disconnect_part=disconnect.name,
        fusible=fusible,
        block=block.words if block is not None else "",
        block_a=block.rating_a if block is not None else 0.0,
        block_part=block.name if block is not None else "",
        jumper=jumper,
        block_mark=marks.of("block", number) if block is not None else "",
        backup=marks.back_up(number, of) if contactor is not None else "",
        backup_words=contactor.words if contactor is not None else "",
        backup_a=contactor.rating_a if contactor is not None else 0.0,
        backup_part=contactor.name if contactor is not None else "",
        colours=asked.line_colours,
        fault_ka=way.fault_ka if way is not None and way.fault_ka is not None else row.fault_end_ka,
    )


def wires_in(row: FeederRow, way: Way | None) -> Wires | None:
    """The conductors that come into the control panel."""
    return way.wires if way is not None and way.wires is not None else row.wires


def neutral_comes(row: FeederRow, way: Way | None, fed: Sequence[PanelDesign]) -> bool:
    """Whether a neutral conductor runs all the way to the control panel: in the feeder, and in the way where it has wires of its own. That
    the source has a neutral brings none. Sized or not it comes where what is fed hangs on it, and is one of the two wires to neutral."""
    if row.supply.system is System.LINE_TO_NEUTRAL:
        return True
    runs = [row.wires, *([way.wires] if way is not None and way.wires is not None else [])]
    comes = any(one.panel_feeder_wires.neutral for one in fed) or all(wires is not None and wires.neutral for wires in runs)
    return row.supply.has_neutral and comes


def _block(at: At, rated_a: float, kind: str, wires: Wires | None, by: Chooser) -> tuple[Chosen, str]:
    """The block behind the disconnect: for the device ahead of the panel, and a jumper to each panel feeder device, whose size in words it
    returns, "" = a bar. Of the ends of all jumpers the smallest device allows the lowest temperature."""
    (row, way, fed), (settings, rules, stock, said) = at, by
    smallest_a = min(rated_a, *(one.panel_feeder_device.rating_a for one in fed))
    column_c = temperature_column(smallest_a, settings.terminal_c, rules).value
    jumper = jumper_size(rated_a, kind, settings.conductor, column_c, rules)
    own = tuple("-".join(sorted({part for leg in one.legs for part in leg.split("-") if part[0] == "L"})) for one in fed)
    openings = Openings(wires.size if wires else "", wires.sets if wires else 1, jumper.value if jumper else "", fullest_pole(own))
    fault_ka = way.fault_ka if way is not None else None
    poles, volts_v = row.supply.system.lines, row.supply.volts_v
    block = choose_block(rated_a, poles, volts_v, openings=openings, fault_ka=fault_ka, rules=rules, stock=stock, said=said)
    return block, size_words(jumper.value) if jumper else ""
