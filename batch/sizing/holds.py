"""What is not released for fabrication: a hold of a bank, of its feeder or of its tank holds every panel of the bank."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from msgspec.structs import replace

from batch.control_results import TankControl
from batch.findings import Finding, Severity
from batch.heat_results import TankHeat
from batch.results import BankRow, FeederRow
from batch.sizing.placing import type_key
from batch.sizing.previous_decisions import TypeKey

INCOMPLETE = "feeder-incomplete"  # what a feeder says of banks that hang on it and are not sized
# What is to be fitted at the source or the feeder's device: no bank is built otherwise for it.
AT_THE_SOURCE = frozenset({"ground-detectors", "ground-fault-protection", "arc-energy"})


def hold_words(row: BankRow) -> str:
    """Why a bank's panels are not released for fabrication; "" where they are."""
    return row.hold.message if row.hold is not None else ""


def with_holds(
    rows: Sequence[BankRow], feeders: Sequence[FeederRow], heat: Sequence[TankHeat], controls: Sequence[TankControl]
) -> list[BankRow]:
    """The banks with the holds of their feeders, tanks and control panels, and the cautions of their feeders that can hurt somebody: what
    a feeder or its source is found to have touches every bank on it. What a feeder or a control panel lacks holds that alone: each heater
    panel on it is whole, but is to be looked at, since a larger feeder brings more fault current.
    """
    of_feeder = {row.feeder.feeder: (*_holds(row.findings), *_cautions(row.findings)) for row in feeders}
    of_tank: dict[str, tuple[Finding, ...]] = {row.tag.casefold(): _holds(row.findings) for row in heat}
    for row in controls:
        of_tank[row.tank.casefold()] = (*of_tank.get(row.tank.casefold(), ()), *_holds(row.findings))
    return [
        replace(row, around=(*of_feeder.get(row.feeder.feeder, ()), *of_tank.get(row.bank.tank.casefold(), ()))) for row in rows
    ]


def with_control_holds(controls: Iterable[TankControl], rows: Iterable[BankRow]) -> tuple[TankControl, ...]:
    """The control panels, each on hold where one of its banks is, or where it says so itself: of several the one that can do most harm."""
    of_tank: dict[str, list[Finding]] = {}
    for row in rows:
        if row.hold is not None:
            of_tank.setdefault(row.bank.tank.casefold(), []).append(row.hold)
    found = []
    for control in controls:
        holds = list(_holds(control.findings)) + of_tank.get(control.tank.casefold(), [])
        found.append(replace(control, hold=min(holds, key=lambda one: one.kind.harm, default=None)))
    return tuple(found)


def worst_hold(findings: Iterable[Finding]) -> Finding | None:
    """What keeps what says it from being released: of several the hold that can do most harm."""
    return min(_holds(findings), key=lambda one: one.kind.harm, default=None)


def _holds(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    return tuple(one for one in findings if one.severity is Severity.HOLD)


def _cautions(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    hurts = (one for one in findings if one.severity is Severity.CAUTION and one.kind.harm.hurts)
    return tuple(one for one in hurts if one.code not in AT_THE_SOURCE)


def with_types(rows: Sequence[BankRow], names: Mapping[TypeKey, str]) -> tuple[BankRow, ...]:
    """The banks, each panel with the name of its type."""
    return tuple(
        replace(row, panels=tuple(replace(panel, type=names[type_key(panel.design, row.hold is not None)]) for panel in row.panels))
        for row in rows
    )
