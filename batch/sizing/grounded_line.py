"""The grounded line of a corner-grounded delta: no overcurrent device stands in it by itself, and its conductor is white or gray.

A design does not know on which lines of the supply its panels stand, so that their fuses are counted once their starts are known.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from msgspec.structs import replace

from batch.held_once import held_once
from batch.records import Supply
from batch.results import BankDesign, Device, Needed, PanelDesign, Wires
from batch.sizing.placing import groups
from batch.sizing.protection import in_holder, made_of


def grounded_terminal(supply: Supply, start: int) -> str:
    """Panel terminal that the grounded line lands on where L1 is on line `start`: "L2"; "" where no line is grounded."""
    return f"L{'ABCABC'[start:].index(supply.grounded) + 1}" if supply.grounded else ""


def ungrounded_lines(supply: Supply) -> int:
    """Lines of a supply that have an overcurrent device of their own."""
    return supply.system.lines - bool(supply.grounded)


def ungrounded_poles(leg: str, grounded: str) -> int:
    """Lines of a leg that have an overcurrent device of their own: of "L1-L2" one where L2 is grounded."""
    return sum(part[0] == "L" and part != grounded for part in leg.split("-"))


def with_grounded_line(design: BankDesign, supply: Supply, starts: Sequence[int]) -> BankDesign:
    """The design with its devices counted without the grounded line; as it was where the supply has none."""
    if not supply.grounded:
        return design
    built = [_panel(panel, grounded_terminal(supply, start)) for panel, start in zip(groups(design), starts, strict=True)]
    poles = {ungrounded_poles(leg, panel.grounded) for panel in built for leg in panel.legs}
    branch = replace(design.branch, device=fuses_of(design.branch.device, poles))
    if design.single_circuit is not None:
        return replace(design, branch=branch, single_circuit=built[0])
    return replace(design, branch=branch, panels=tuple(built))


def branch_device(panel: PanelDesign, leg: str) -> Device:
    """The device of the branch on one leg."""
    return fuses_of(panel.branch.device, {ungrounded_poles(leg, panel.grounded)}) if panel.grounded else panel.branch.device


def fuses_of(device: Device, poles: Iterable[int]) -> Device:
    """A fuse, or a one-pole breaker, in so many poles: several numbers where its circuits differ. Breakers of several poles open all
    lines together and stay as they are.
    """
    counts = sorted(set(poles))
    if device.kind != "fuse" and device.poles > 1:
        return device
    if not counts[-1]:
        return held_once(replace(device, poles=0, words="none: grounded line"))
    made = made_of(device)
    if device.kind != "fuse" or not made:  # a breaker of one pole; a fuse that no class has
        return held_once(replace(device, poles=counts[-1]))
    if len(counts) == 1:
        return held_once(replace(device, poles=counts[0], words=in_holder(made, counts[0])))
    each = " or ".join(map(str, counts))
    words = f"{each} fuses, {made}, in a holder of as many poles, none in the grounded line"
    return held_once(replace(device, poles=counts[-1], words=words))


def _panel(panel: PanelDesign, terminal: str) -> PanelDesign:
    """One panel, or a single-circuit bank, with its grounded terminal."""
    terminals = {part for leg in panel.legs for part in leg.split("-") if part[0] == "L"}
    if terminal not in terminals:
        return panel
    poles = [ungrounded_poles(leg, terminal) for leg in panel.legs]
    feeds = len(terminals) - 1
    branch = replace(panel.branch, device=fuses_of(panel.branch.device, poles))
    counts = {"branch": poles, "panel feeder": [feeds], "bank": [feeds]}
    return replace(
        panel,
        grounded=terminal,
        branch=branch,
        panel_feeder_device=fuses_of(panel.panel_feeder_device, {feeds}),
        panel_feeder_wires=with_white(panel.panel_feeder_wires),
        parts=tuple(need for part in panel.parts for need in _parts(part, counts)),
        feed_parts=tuple(need for part in panel.feed_parts for need in _parts(part, counts)),
    )


def _parts(part: Needed, counts: dict[str, list[int]]) -> Iterator[Needed]:
    """A line of parts: fuses by the ungrounded pole, holders by the circuit with as many poles."""
    role = part.role.removesuffix(" holder").removesuffix(" fuse")
    if role not in counts or "fuse" not in part.role:
        yield part
        return
    poles = [count for count in counts[role] if count]
    if not part.role.endswith("holder"):
        yield part._replace(quantity=sum(poles))
        return
    _, _, rest = part.words.partition("-pole")
    for count in sorted(set(poles)):
        yield part._replace(words=f"{count}-pole{rest}", quantity=poles.count(count))


def with_white(wires: Wires) -> Wires:
    """Conductors of which one is the grounded line: white or gray, as large as the others."""
    return held_once(replace(wires, grounded=1)) if wires.lines > 1 else wires
