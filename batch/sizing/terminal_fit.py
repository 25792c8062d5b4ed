"""Whether wires fit the terminals that they land on: by the range and the metal that a stock part states, else by what its frame takes."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import NamedTuple

from msgspec.structs import replace

from batch.findings import Remarks
from batch.method.terminals import frame_of, largest_on_frame, temperature_column
from batch.records import Part, Settings
from batch.results import BankDesign, Device, FeederRow, Wires
from batch.rules import RuleSet
from batch.sizing.placing import groups
from batch.sizing.stock import Stock, takes_wire
from batch.sizing.words import size_words


class Landed(NamedTuple):
    """Wires on the terminals of a device: its place in words, the device, the wires, and the stock part that holds it ("" = none)."""

    what: str
    device: Device
    wires: Wires
    part: str


def judge_bank_terminals(design: BankDesign, settings: Settings, stock: Stock, rules: RuleSet, said: Remarks) -> None:
    """What is said of the terminals of a bank: holders and breakers of its branches and panel feeders, and stock parts for copper alone."""
    for one in dict.fromkeys(_of_bank(design)):
        about = "panel_feeder_run_m" if one.what == "panel feeder" else "heater_run_m"
        part = stock.named(one.part)
        if part is not None and (limits := wire_range(part)):
            if one.wires.size in rules.sizes and not takes_wire(part, one.wires.size, rules):
                said.add("terminal-range-stock", about, what=one.what, wire=size_words(one.wires.size), part=part.part, limits=limits)
            continue
        beyond = beyond_frame(one.device, one.wires, settings.terminal_c, rules)
        if beyond is not None:
            frame, most = beyond
            said.add("terminal-range", about, what=one.what, wire=size_words(one.wires.size), frame=f"{frame:g} A", most=size_words(most))
    for jumper in dict.fromkeys(panel.jumper for panel in design.panels if panel.jumper):
        if why := _too_large(jumper, design, settings, stock, rules):
            branch = design.branch.device
            said.add("block-jumper-large", "quantity", jumper=size_words(jumper), what=f"{branch.rating_a:g} A {branch.kind}s", why=why)
    if settings.conductor == "aluminum":
        names = {need.part for group in groups(design) for need in group.parts if need.part}
        listed = [part.part for name in sorted(names) if (part := stock.named(name)) is not None and part.terminals_for == "copper"]
        if listed:
            said.add("copper-terminals", "quantity", parts=", ".join(listed))


def _too_large(jumper: str, design: BankDesign, settings: Settings, stock: Stock, rules: RuleSet) -> str:
    """Why the branch devices' terminals are not known to take a block jumper: by the range that their stock part states, else by their
    frame; "" = they take it."""
    device, holder = design.branch.device, design.branch.holder
    part = stock.named((holder.part if holder is not None else "") if device.kind == "fuse" else device.part)
    if part is not None and (limits := wire_range(part)):
        fits = jumper not in rules.sizes or takes_wire(part, jumper, rules)
        return "" if fits else f"terminals of {part.part} take {limits}"
    beyond = beyond_frame(device, replace(design.branch.wires, size=jumper), settings.terminal_c, rules)
    if beyond is None:
        return ""
    return f"terminals of a {beyond[0]:g} A frame are counted on to take up to {size_words(beyond[1])} (from memory)"


class TerminalJudge:
    """Judges the terminals of the banks of a project, each design once: equal heaters share one."""

    def __init__(self, settings: Settings, stock: Stock, rules: RuleSet) -> None:
        self._settings, self._stock, self._rules = settings, stock, rules
        self._judged: dict[int, tuple[BankDesign, Remarks]] = {}  # by the design's id, which lasts as long as it stands beside it

    def of(self, design: BankDesign) -> Remarks:
        """What is said of a bank of this design."""
        if id(design) not in self._judged:
            judge_bank_terminals(design, self._settings, self._stock, self._rules, said := Remarks())
            self._judged[id(design)] = design, said
        return self._judged[id(design)][1]


def wire_range(part: Part) -> str:
    """ "14 to 4", the wires that a part says its terminals take; "" = it says nothing."""
    return " to ".join(limit for limit in (part.smallest_wire, part.largest_wire) if limit)


def _of_bank(design: BankDesign) -> Iterator[Landed]:
    branch = design.branch
    for group in groups(design):
        names = {need.role: need.part for need in group.parts}
        ahead = "bank" if design.single_circuit is not None else "panel feeder"
        device, wires = group.panel_feeder_device, group.panel_feeder_wires
        yield Landed(ahead, device, wires, names.get(f"{ahead} fuse holder", "") if device.kind == "fuse" else device.part)
        if design.panels:
            holder = branch.holder.part if branch.holder is not None else ""
            yield Landed("branch", branch.device, branch.wires, holder if branch.device.kind == "fuse" else branch.device.part)


def beyond_frame(device: Device, wires: Wires, terminal_c: int | None, rules: RuleSet) -> tuple[float, str] | None:
    """Frame and the largest conductor that it takes, where the wires are larger; None where they fit or no frame is known."""
    frame = frame_of(device.rating_a, rules)
    if frame is None or wires.size not in rules.sizes:
        return None
    column_c = temperature_column(device.rating_a, terminal_c, rules).value
    most = largest_on_frame(frame.value, column_c, wires.material, rules)
    return (frame.value, most.value) if most is not None and rules.rank(wires.size) > rules.rank(most.value) else None


def judge_feeder_terminals(row: FeederRow, settings: Settings, rules: RuleSet, said: Remarks) -> None:
    """The same of a feeder's own device and of its ways and taps: one caution with the list."""
    found = []
    for tag, device, wires in _of_feeder(row):
        beyond = beyond_frame(device, wires, settings.terminal_c, rules)
        if beyond is not None:
            found.append(f"{tag} {size_words(wires.size)} on a {beyond[0]:g} A frame (up to {size_words(beyond[1])})")
    if found:
        said.add("feeder-terminal-range", "feeder", feeder=row.feeder.feeder, which="; ".join(found))


def _of_feeder(row: FeederRow) -> Iterable[tuple[str, Device, Wires]]:
    if row.device is not None and row.wires is not None and row.feeder.device_there_a is None:
        yield "feeder", row.device, row.wires
    for way in row.end.ways if row.end is not None else ():
        if way.device is not None and way.wires is not None:
            yield way.tag, way.device, way.wires
