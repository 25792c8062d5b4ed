"""What a position holds that no heater or panel names, in words that a customer reads.

None is of the shop's own lists: the words of a rule, or of a cost, may name a supplier.
"""

from __future__ import annotations

from collections.abc import Iterable

from batch.comparing.sentences import listed
from batch.material_lines import Material
from batch.price.scope import BOARD, FREIGHT, HEATERS, PANELS, RACEWAYS, SPARES, SUPPLY, WIRING, scope_items

BOXES = "boxes"  # what a shop has on hand, of all panels together
SUPPLIES = "supply to the panels with its protection"
CALLED = {
    SPARES: "spare fuses", SUPPLY: SUPPLIES, BOARD: "distribution unit with its devices", WIRING: "wiring", RACEWAYS: "raceway",
    HEATERS: "immersion heaters",
}  # fmt: skip
SMALL = "rails, wiring ducts and markers of the panels"
OTHER_PARTS, OTHER_WORK = ("labels", "small parts"), "other work"


def contents(lines: Iterable[Material], freight: bool = False) -> str:
    """ "spare fuses, drawings, testing and other work", each once; "" of no lines that are ours. `freight`: a sum for it is among them."""
    found: dict[str, None] = {}
    for line in lines:
        if not line.supplied and line.quantity + line.lacks_length:
            found.update(dict.fromkeys(_called(line)))
    if SUPPLIES in found:
        found.pop(CALLED[RACEWAYS], None)  # comes with it
    last = [words for words in (*OTHER_PARTS, OTHER_WORK) if words in found]
    named = [words for words in found if words not in last]
    every = [*named, *([FREIGHT] if freight and FREIGHT not in named else []), *last]
    return listed(every, len(every)) if every else ""


def _called(line: Material) -> Iterable[str]:
    if line.used_for == BOXES:
        return (SMALL,)
    items = [item for item in scope_items(line) if item]
    if not items or items == [PANELS]:
        return OTHER_PARTS if line.sort == "part" else (OTHER_WORK,)
    return [CALLED.get(item, item) for item in items]
