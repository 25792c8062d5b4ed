"""Findings as a person reads them: worst first, notes said once with a count, and linked to the bank they are about."""

from __future__ import annotations

from collections.abc import Iterable

from batch.findings import Finding, Severity


def finding_rows(findings: Iterable[Finding]) -> list[dict]:
    """Rows of the Findings sheet, by column key: blockers and cautions one line each, equal notes of a project one line with a count."""
    groups: dict[tuple, list[Finding]] = {}
    for at, said in enumerate(findings):
        key = (said.project, said.code, said.message) if said.severity is Severity.NOTE else (at,)
        groups.setdefault(key, []).append(said)
    ordered = sorted(groups.values(), key=lambda group: group[0].severity)
    return [_row(number, group) for number, group in enumerate(ordered, 1)]


def _row(number: int, group: list[Finding]) -> dict:
    first, count = group[0], len(group)
    where = first.address
    if count > 1:
        where = f"{where} and {count - 1} more" if where else ""
    return {
        "no": number,
        "severity": first.severity.word,
        "effect": first.kind.effect.word,
        "code": first.code,
        "message": first.message,
        "advice": first.kind.advice,
        "project": first.project,
        "tank": _shared(group, "tank"),
        "bank": _shared(group, "bank"),
        "feeder": _shared(group, "feeder"),
        "count": count,
        "where": where,
        "seen": _shared(group, "seen"),
        "basis": first.kind.basis,
    }


def _shared(group: list[Finding], name: str) -> str | None:
    """What all of a group say, else nothing: a note about many rows names none of them."""
    said = {getattr(one, name) for one in group}
    return (said.pop() if len(said) == 1 else "") or None
