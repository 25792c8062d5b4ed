"""A column headed "Remarks" stays one, though the only remark in it reads like a description: "9 kW in all".

As a description its words would be taken for more of what the row has; as a remark they are held against it.
"""

from __future__ import annotations

from collections.abc import Sequence

from msgspec.structs import replace

from batch.intake.assignment import SURE_NAME, Taken
from batch.intake.list_words import meanings

OF_WORDS = ("notes", "status")
POWERS = frozenset({"power_kw", "total_kw"})


def remarks_stay(taken: Sequence[Taken]) -> list[Taken]:
    """The columns, the one of descriptions as one of remarks where its heading says so and tank, number and power stand elsewhere."""
    keys = {one.key for one in taken}
    if not {"tank", "quantity"} <= keys or not POWERS & keys:
        return list(taken)
    return [replace(one, key=said) if one.key == "description" and (said := _said(one.text)) and said not in keys else one for one in taken]


def _said(heading: str) -> str:
    """Notes or status, where a heading surely says one of them; "" where it does not."""
    first = next(iter(meanings(heading)), None)
    return first.key if first is not None and first.key in OF_WORDS and first.score >= SURE_NAME else ""
