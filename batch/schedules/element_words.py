"""What the elements of a ladder are, in words."""

from __future__ import annotations

from batch.control_results import Element

LIMITS = "over-temperature limits, break, in series"
KINDS = {
    "fuse": "fuse", "primary": "transformer, primary", "secondary": "transformer, secondary", "supply": "control power in",
    "ground": "ground", "level cutoff": "low-level cutoff, closed while there is liquid",
    "interlock": "outside interlock; a jumper where there is none", "ground-fault contact": "ground-fault relay, opens on a fault",
    "button": "push button, make", "selector": "selector, closed on AUTO",
    "temperature contact": "temperature contact, closed while it calls", "coil": "coil", "lamp": "pilot light", "load": "takes power",
    "jumper": "jumper",
}  # fmt: skip


def element_words(one: Element) -> str:
    """ "make contact of CRL1", "push button, make"; of a limit see LIMITS, since those of a strip are said together."""
    return KINDS.get(one.kind, f"{'break' if one.closed else 'make'} contact of {one.of}")
