"""What a box's nameplate says as an assembly by the code's standard for them, in its data's words. Not every code asks it."""

from __future__ import annotations

from batch.papers.paper_data import PaperFact
from batch.papers.shown import figure
from batch.rules import RuleSet


def assembly_facts(rules: RuleSet, full_load_a: float) -> tuple[PaperFact, ...]:
    """Its standard and what its builder marks, and the rated current with the diversity that it is for; none of a code without."""
    marking, rated = rules.assembly_marking
    if not marking:
        return ()
    figures = {"{amps}": figure(full_load_a, "amps"), "{diversity}": f"{rules.factor('rated_diversity').value:g}"}
    for name, value in figures.items():
        rated = rated.replace(name, value)
    return PaperFact("Assembly", marking), PaperFact("Rated current", rated)
