"""The headings of a panel's schedule whose circuits stand on two sides, mirrored or once more."""

from __future__ import annotations

import re
from collections.abc import Sequence

LEAST_SAME = 3  # headings that let a table go on when they come again
OF_CIRCUITS = re.compile(r"(?:ckt|cct|circuit|poles?|bkr|brkr|breaker)s?\.?(?: ?(?:no|nr)\.?)?", re.IGNORECASE)  # of a panel's schedule
OF_A_PHASE = re.compile(r"\s+(?:[abc]|l[123])\Z")


def circuits_again(texts: Sequence[str]) -> bool:
    """Are headings those of a panel's circuits, twice over?"""
    half = len(texts) // 2
    return half >= LEAST_SAME and [*texts[:half]] == [*texts[half:]] and any(OF_CIRCUITS.fullmatch(text.strip(" .#")) for text in texts)


def mirrored(texts: Sequence[str]) -> bool:
    """Are headings the same from the right as from the left? Those of phases, "kVA A", "kVA B", may go one way on both sides."""
    plain = [OF_A_PHASE.sub("", text.casefold().strip()) for text in texts]
    return plain == plain[::-1]
