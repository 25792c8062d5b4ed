"""What the findings of reading rest on, and how they are declared. None of these rules has an outside source."""

from __future__ import annotations

from batch.findings.record import Effect, Harm, Kind, Severity

OURS = "a rule of this program: what cannot be read for certain is not sized"
ASSUMED = "a rule of this program: every assumption is said"
KEPT = "a rule of this program: no row that was read is lost"
FIRE, SHOCK, OVERLOAD, OTHER = Harm.FIRE, Harm.SHOCK, Harm.OVERLOAD, Harm.OTHER


def hold(code: str, title: str, template: str, advice: str, basis: str = OURS) -> Kind:
    return Kind(code, Severity.HOLD, title, template, basis, advice, Effect.NOT_SIZED)


def caution(code: str, title: str, template: str, advice: str, basis: str = ASSUMED, *, harm: Harm = OTHER) -> Kind:
    return Kind(code, Severity.CAUTION, title, template, basis, advice, harm=harm)


def note(code: str, title: str, template: str, advice: str, basis: str = ASSUMED) -> Kind:
    return Kind(code, Severity.NOTE, title, template, basis, advice)
