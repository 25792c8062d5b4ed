"""Colours of wires that a project asks for in place of the trade's: power, control, what stays live, grounded and grounding conductors."""

from __future__ import annotations

from batch.records import Project
from batch.rules.markings import Marking

ASKED = {  # field of the project -> kinds of wire of the marking that it colours
    "power_colour": ("power",),
    "control_colour": ("control",),
    "foreign_colour": ("foreign",),
    "grounded_colour": ("grounded", "grounded_line", "neutral_in_words"),
    "ground_colour": ("ground",),
}


def colours_asked(project: Project, marking: Marking) -> tuple[tuple[str, str], ...]:
    """Kind of wire and colour, of what the project states and the country's code leaves open."""
    stated = ((kind, getattr(project, name)) for name, kinds in ASKED.items() for kind in kinds)
    return tuple((kind, colour) for kind, colour in stated if colour and kind not in marking.colours_fixed)
