"""Which item of the scope a line belongs to, and where the scope says otherwise than the lines."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import NamedTuple

from batch.material_lines import FIELD, OTHER, PER_CENT, RACEWAY, Material

US, CUSTOMER, OTHERS = "us", "customer", "others"
HEATERS, PANELS, SWITCHES, ENCLOSURES = "heaters", "heater panels", "contactors and disconnects", "enclosures"
BOARD, SUPPLY, WIRING, RACEWAYS = "board at the feeder", "supply to the board", "branch and feed wiring", "raceway"
CONTROL, SPARES, GROUND_FAULT, TRANSFORMER = "control circuit", "spares", "ground-fault protection", "transformer"
INSTALLATION, CONNECTION, FREIGHT = "installation", "connection", "freight"
TEMPERATURE, LEVELS = "temperature control", "level switches"
LIMIT, CUTOFF = "over-temperature limit", "low-level cutoff"  # roles of lines
ITEMS = (
    HEATERS, PANELS, SWITCHES, ENCLOSURES, BOARD, SUPPLY, TRANSFORMER, WIRING, RACEWAYS, CONTROL, TEMPERATURE, LEVELS,
    GROUND_FAULT, INSTALLATION, CONNECTION, "testing", "drawings", SPARES, FREIGHT, "duty and tax", "permits",
    "tanks and supports", "ventilation", "removal", "short-circuit and arc-flash study",
)  # fmt: skip
BY_ROLE = {
    "heater": HEATERS, "contactor": SWITCHES, "disconnect": SWITCHES, "enclosure": ENCLOSURES, "spare fuse": SPARES, RACEWAY: RACEWAYS,
    "distribution unit": BOARD, TRANSFORMER: TRANSFORMER, "temperature controller": TEMPERATURE, LIMIT: HEATERS, CUTOFF: LEVELS,
}  # fmt: skip


class Item(NamedTuple):
    """An item of the scope as it comes out: included by us, or not and by whom ("" = not said; "us" = ours, and no line holds it)."""

    item: str
    included: bool
    by: str


def scope_item(line: Material) -> str:
    """The item that a line belongs to; "" = none of the list."""
    if line.sort == OTHER or line.used_for == "other costs":
        return line.role if line.role in ITEMS else ""
    if line.stretch is not None and line.role != RACEWAY:
        return SUPPLY if line.stretch.kind == "feeder" else WIRING
    if line.sort == PER_CENT:  # fittings come with their raceway
        return RACEWAYS
    if line.role in BY_ROLE:
        return BY_ROLE[line.role]
    if line.used_for in ("feeders", "distribution"):
        return SUPPLY if line.used_for == "feeders" else BOARD  # the device of a feeder stands at its source
    if line.role.endswith(("contactor", "disconnect")):
        return SWITCHES
    if line.role.startswith("ground-fault"):  # relays and their current transformers, in whichever panel
        return GROUND_FAULT
    if "control panel" in line.used_for.casefold() or line.role.startswith("control"):
        return CONTROL
    if line.used_for == "allowances":
        folded = line.role.casefold()
        return next((item for item in (CONTROL, LEVELS, TEMPERATURE, "testing", "drawings") if item in folded), "")
    return PANELS if line.sort == "part" and line.used_for != "labour" else ""


def scope_items(line: Material) -> tuple[str, ...]:
    """The items that a line belongs to: the raceway of a supply comes with that supply, and is raceway too."""
    item = scope_item(line)
    of_supply = item == RACEWAYS and line.stretch is not None and line.stretch.kind == "feeder"
    return (item, SUPPLY) if of_supply else (item,)


def supplied_by(line: Material, scope: Mapping[str, str]) -> str:
    """ "customer" or "others" where the scope says that this line is theirs; a priced line is never the others'. A cutoff comes with its
    tank, so that it is ours only where the scope says so."""
    who = {scope.get(item, "") for item in scope_items(line)}
    if CUSTOMER in who:
        return CUSTOMER
    of_tank = line.role == CUTOFF and who == {""}
    return OTHERS if (OTHERS in who or of_tank) and line.unit_price is None else ""


def contradictions(lines: Sequence[Material], scope: Mapping[str, str], freight: bool) -> Iterator[tuple[str, str]]:
    """(item, what is wrong): ours without a line, or others' with priced lines. `freight`: a freight per cent or amount is given."""
    held = _held(lines, freight)
    priced = {item for line in lines if line.price is not None for item in scope_items(line)}
    for item, who in scope.items():
        if who == US and item not in held:
            yield item, "Scope has it supplied by us, and no line holds it"
        if who == OTHERS and item in priced:
            yield item, "Scope has it supplied by others, and priced lines hold it"


def settled(lines: Sequence[Material], scope: Mapping[str, str], freight: bool) -> list[Item]:
    """Every item, included or not: where there are lines, unless Scope says that it is not ours. What no line holds is not promised."""
    held = _held(lines, freight)
    found = []
    for item in ITEMS:
        who = scope.get(item, "")
        included = who in (US, "") and item in held
        found.append(Item(item, included, "" if included else who))
    return found


def _held(lines: Iterable[Material], freight: bool) -> set[str]:
    """Items that there are lines for; hours on site are what installation and connection are."""
    held = {FREIGHT} if freight else set()
    for line in lines:
        if not line.supplied:
            held.update(scope_items(line))
            if line.place == FIELD and line.hours:
                held |= {INSTALLATION, CONNECTION} if line.role == "heater" else {INSTALLATION}
    return held - {""}
