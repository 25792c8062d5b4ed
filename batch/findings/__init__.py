"""The catalogue of findings: `CATALOGUE[code]` is the kind; `find` words one."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache

from batch.counted_words import filled
from batch.errors import SpecificationError
from batch.findings.controls import CONTROLS
from batch.findings.electrical import ELECTRICAL
from batch.findings.faults_to_earth import EARTHING
from batch.findings.filling import FILLING
from batch.findings.heat import HEAT
from batch.findings.money import MONEY
from batch.findings.reading import READING
from batch.findings.record import Effect, Finding, Harm, Kind, Remark, Remarks, Severity, remark
from batch.findings.revising import REVISING
from batch.findings.supply_side import SUPPLY_SIDE
from batch.held_once import held_once

SHEET = "sheet"  # a field that is a name as the workbook has it, which may end in a space

__all__ = ["CATALOGUE", "Effect", "Finding", "Harm", "Kind", "Remark", "Remarks", "Severity", "find", "remark", "word"]


def _catalogue(*groups: tuple[Kind, ...]) -> dict[str, Kind]:
    kinds: dict[str, Kind] = {}
    for group in groups:
        for kind in group:
            if kind.code in kinds:
                raise SpecificationError(f"finding {kind.code} is declared twice")
            kinds[kind.code] = kind
    return kinds


CATALOGUE: dict[str, Kind] = _catalogue(READING, ELECTRICAL, SUPPLY_SIDE, EARTHING, CONTROLS, HEAT, REVISING, FILLING, MONEY)


@lru_cache(maxsize=4096)  # many banks are said the same of
def word(said: Remark) -> str:
    """The message of a remark: its kind's template with the fields filled in."""
    try:
        return filled(CATALOGUE[said.code].template, {name: value.strip() if name == SHEET else value for name, value in said.fields})
    except KeyError as gap:
        raise SpecificationError(f"finding {said.code}: {gap} is not declared or not filled") from None


def find(said: Remark, citations: Mapping[str, str] | None = None, /, **where: str) -> Finding:
    """A remark with its address: `find(remark(...), rules.citations, sheet="Heaters", cell="F17", tank="T-1", …)`.

    `citations`: where the clauses stand that its basis names; without them a basis may name none.
    """
    kind = CATALOGUE[said.code]
    try:
        basis = kind.basis.format_map(citations or {})
    except KeyError as gap:
        raise SpecificationError(f"finding {said.code}: its basis names {gap}, which the rule set does not have") from None
    if "seen" in where:
        where["seen"] = held_once(where["seen"])
    return Finding(kind, word(said), basis=held_once(basis), **where)
