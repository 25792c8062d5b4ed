"""Banks that are in no total, because their rows could not be read or could not be sized: kept, counted and said."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from batch.findings import Effect, Finding
from batch.records import Bank, UnreadBank
from batch.unsized_results import NotSized


def of_unread(row: UnreadBank, findings: Iterable[Finding]) -> NotSized:
    """A row that became no record."""
    return NotSized(
        row.project, row.tank, row.bank, row.feeder, row.quantity, row.power_kw, row.volts_v, row.phases, row.notes,
        row.why, row.origin, tuple(findings),
    )  # fmt: skip


def of_bank(bank: Bank, label: str, feeder: str, findings: Iterable[Finding]) -> NotSized:
    """A bank that sizing refused."""
    found = tuple(findings)
    why = "; ".join(dict.fromkeys(one.kind.title for one in found if one.kind.effect is Effect.NOT_SIZED))
    return NotSized(
        bank.project, bank.tank, label, feeder, bank.quantity, bank.power_kw, bank.volts_v, bank.phases, bank.notes,
        why, bank.origin, found,
    )  # fmt: skip


def missing_words(rows: Sequence[NotSized]) -> str:
    """ "5 banks not sized, at least 120 kW by their rows": at least, where a row does not tell its power. "" for no row."""
    if not rows:
        return ""
    known = [row.connected_kw for row in rows if row.connected_kw is not None]
    least = "at least " if len(known) < len(rows) else ""
    banks, whose = ("1 bank", "its row") if len(rows) == 1 else (f"{len(rows):,} banks", "their rows")
    return f"{banks} not sized, " + (f"{least}{sum(known):,.6g} kW by {whose}" if known else "of unknown power")


def astray_words(rows: Sequence[NotSized]) -> str:
    """ "2 banks not sized, 54 kW by their rows, of no listed project"; "" for no row."""
    return f"{missing_words(rows)}, of no listed project" if rows else ""


def missing_on_feeder(rows: Sequence[NotSized]) -> str:
    """The same of one feeder, on which some of them are only as far as anybody knows."""
    unsure = sum(bool(row.may_hang_on) for row in rows)
    which = "" if not unsure else "it" if len(rows) == 1 else "all of them" if unsure == len(rows) else f"{unsure:,} of them"
    return missing_words(rows) + (f" ({which} may be on another feeder of that name)" if which else "")
