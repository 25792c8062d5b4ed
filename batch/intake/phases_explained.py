"""Two lines that a list calls two phases, and explains: "2F = dos fases (monofásica entre líneas)". A heater between them has one phase."""

from __future__ import annotations

import re
from collections.abc import Sequence

from batch.intake.cells import squeezed
from batch.intake.list_words import hits
from batch.intake.plan import ListPlan

TOLD = re.compile(r"(?<!\w)(?P<code>2\s?-?(?:[FP]|PH|FAS(?:ES?|I)?|PHASES?|L|W)?)\s*(?:[=:]|->)\s*(?P<words>[^=;\n]{4,80})", re.IGNORECASE)
BETWEEN_LINES = re.compile(
    r"\b(?:between (?:two )?(?:lines|phases)|line[- ]to[- ]line|L-L|entre (?:l[ií]neas|fases|linhas|phases)"
    r"|zwischen (?:zwei )?(?:phasen|au(?:ß|ss)enleitern)|tra (?:due )?(?:fasi|linee)|tussen (?:twee )?fasen|mi[ęe]dzyfazow\w*"
    r"|mellem (?:to )?faser|mellan (?:tv[åa] )?faser|mezi (?:dv[ěe]ma )?f[áa]zemi)\b",
    re.IGNORECASE,
)


def two_lines_told(plan: ListPlan, texts: Sequence[str]) -> None:
    """Into the plan: what the list says that its "2F" is, where a note beside it says that it is one phase between two lines."""
    found = {
        squeezed(match["code"]) or match["code"].strip(): 1
        for text in texts for match in TOLD.finditer(text)
        if BETWEEN_LINES.search(match["words"]) or hits("one_phase", match["words"])
    }  # fmt: skip
    if found and "phases" in plan.columns and not plan.given:
        plan.means = {**plan.means, "phases": {**found, **plan.means.get("phases", {})}}
