"""What is not released for fabrication: a hold of a bank, of its feeder or of its tank holds every panel of the bank."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from batch.findings import Finding, Severity
from batch.heat_results import TankHeat
from batch.results import BankRow, FeederRow
from batch.sizing.placing import type_key
from batch.sizing.previous_decisions import TypeKey

INCOMPLETE = "feeder-incomplete"  # what a feeder says of banks that hang on it and are not sized


def hold_words(row: BankRow) -> str:
    """Why a bank's panels are not released for fabrication; "" where they are."""
    return row.hold.message if row.hold is not None else ""


def with_holds(rows: Sequence[BankRow], feeders: Sequence[FeederRow], heat: Sequence[TankHeat]) -> list[BankRow]:
    """The banks with the holds of their feeders and tanks. What a feeder lacks holds the feeder alone: each panel on it is whole."""
    of_feeder = {row.feeder.feeder: _holds(row.findings) for row in feeders}
    of_tank = {row.tag.casefold(): _holds(row.findings) for row in heat}
    return [
        replace(row, around=(*of_feeder.get(row.feeder.feeder, ()), *of_tank.get(row.bank.tank.casefold(), ()))) for row in rows
    ]


def _holds(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    return tuple(one for one in findings if one.severity is Severity.HOLD and one.code != INCOMPLETE)


def with_types(rows: Sequence[BankRow], names: Mapping[TypeKey, str]) -> tuple[BankRow, ...]:
    """The banks, each panel with the name of its type."""
    return tuple(
        replace(row, panels=tuple(replace(panel, type=names[type_key(panel.design, row.hold is not None)]) for panel in row.panels))
        for row in rows
    )
