"""The heater control panel of each tank: its supplies and panel feeders, the coils, who switches what, control power, and the circuit."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import lru_cache
from typing import NamedTuple

from msgspec.structs import replace

from batch.box_results import Enclosure
from batch.control_results import Coil, ControlCircuit, ControlFeed, ControlSettings, TankControl
from batch.findings import Remarks
from batch.method.line_currents import Lines
from batch.records import Part, Project, Settings, Supply, Tank
from batch.results import BankRow, FeederRow, PanelDesign, Way
from batch.rules import RuleSet
from batch.sizing.box_parts import control_box_parts, enclosure_part
from batch.sizing.control_coils import back_up_coil, coil_of
from batch.sizing.control_contacts import Switching, share_contacts
from batch.sizing.control_judgement import judge_control
from batch.sizing.control_ladder import LadderPlan, LimitStrip, build_ladder
from batch.sizing.control_load import coil_load, control_power, other_load
from batch.sizing.control_parts import control_parts, feeder_parts, power_parts, rating_of, together
from batch.sizing.control_settings import box_place, control_settings
from batch.sizing.control_source import OTHERS, ControlSource, control_source, say_source
from batch.sizing.control_supplies import build_supplies, neutral_comes, wires_in
from batch.sizing.control_wires import control_wires, strip_terminals
from batch.sizing.enclosures import OnPlate, control_box, say_unboxed
from batch.sizing.labels import natural
from batch.sizing.marks import TankMarks, block_in_box
from batch.sizing.neutral_poles import KIND
from batch.sizing.placing import lines_of_terminals, terminals_of
from batch.sizing.power_circuit import RESIDUAL, FeederRun, power_elements, power_sizes, power_wires
from batch.sizing.stock import Stock
from batch.sizing.words import size_words
from batch.unsized_results import NotSized

BOX = "HCP"
RATED_AS_AHEAD = "a disconnect without fuses is rated no less than the OCPD ahead of it: common practice, no source"
ISOLATED = "IT"  # earthing of a supply whose neutral, where it has one, is joined to earth nowhere
LADDER, HOLD_LADDER = "Ladder", "Hold ladder"
BUILD, HOLD_BUILD = "Control panel", "Hold control panel"
Group = tuple[tuple[str, ...], tuple[Coil, ...]]  # banks of one temperature contact, and their contactors


class HungFeed(NamedTuple):
    """A panel feeder or single-circuit bank of a tank: what it feeds ("1-P1", of a single circuit "1"), on which supply (by number), its
    heaters' numbers in the bank, and whether their limits are ruled out.
    """

    tag: str
    bank: str
    supply: int
    design: PanelDesign
    start: int
    of: Supply
    heaters: tuple[int, ...]
    single: bool
    limits: bool


class PanelShape(NamedTuple):
    """All that a control panel follows from, without tags: tanks of one shape share its design."""

    settings: ControlSettings
    level_cutoff: str | None
    contacts: tuple[tuple[str, str], ...]  # of each bank its label, and the temperature contact that it names
    fed: tuple[tuple[object, ...], ...]
    at: tuple[object, ...]


class Built(NamedTuple):
    """The control panel of a shape, without its tank, and what is said of every such panel."""

    row: TankControl
    switching: Switching
    source: ControlSource
    said: Remarks


class JudgedPanel(NamedTuple):
    """A control panel with what is said of it, of the tank's row or of the project's."""

    row: TankControl
    record: Tank | Project
    said: Remarks


class WorkedOut(NamedTuple):
    """Control panels by their shape, circuits by their ladder."""

    built: dict[PanelShape, Built]
    circuits: dict[LadderPlan, ControlCircuit]


@lru_cache(maxsize=8)
def worked_out(settings: Settings, rules: RuleSet, parts: tuple[Part, ...]) -> WorkedOut:
    """Where control panels are kept that are built by the same settings, rule set and stock list: projects share them, and so does a job
    that is sized again with a few rows changed.
    """
    return WorkedOut({}, {})


class ControlWork:
    """Works out the control panels of one project; those of one shape once."""

    def __init__(self, project: Project, settings: Settings, rules: RuleSet, parts: tuple[Part, ...]) -> None:
        self.project, self.settings, self.rules, self.stock = project, settings, rules, Stock(parts, settings.conductor)
        self.said = Remarks()  # of the project as a whole, once all its panels are worked out
        self._built, self._circuits = worked_out(settings, rules, parts)

    def panels(self, banks: Sequence[BankRow], feeders: Sequence[FeederRow], missing: Sequence[NotSized]) -> Iterator[JudgedPanel]:
        """One for each tank with a bank, by tag."""
        by_tank: dict[str, list[BankRow]] = {}
        for row in banks:
            by_tank.setdefault(row.bank.tank.casefold(), []).append(row)
        rows = {row.feeder.feeder: row for row in feeders}
        ways = {(row.feeder.feeder, way.tank.casefold()): way for row in feeders if row.end is not None for way in row.end.ways}
        lost: dict[str, int] = {}
        for one in missing:
            lost[one.tank.casefold()] = lost.get(one.tank.casefold(), 0) + 1
        most_a = 0.0
        for key in sorted(by_tank, key=natural):
            panel = self._panel(sorted(by_tank[key], key=lambda row: natural(row.label)), rows, ways, lost.get(key, 0))
            most_a = max(most_a, control_amps(panel.row))
            yield panel
        if most_a:
            self.said.add("control-amps-apart", amps=f"{most_a:.2g} A")

    def _panel(self, banks: list[BankRow], feeders: Mapping[str, FeederRow], ways: Mapping[tuple[str, str], Way], lost: int) -> JudgedPanel:
        first = banks[0]
        tank, tag = first.tank, first.bank.tank
        settings = control_settings(self.project, tank, [row.bank for row in banks], self.rules)
        number = {name: at for at, name in enumerate(dict.fromkeys(row.feeder.feeder for row in banks), start=1)}
        at = [(feeders[name], ways.get((name, tag.casefold()))) for name in number]
        fed = [one for row in banks for one in _fed(row, number[row.feeder.feeder])]
        shape = PanelShape(
            settings, tank.level_cutoff if tank is not None else None,
            tuple((row.label, (row.bank.temperature_contact or "").strip().casefold()) for row in banks),
            tuple(_shape_of_feed(one, settings.boxes == "one") for one in fed),
            tuple(_shape_of(row, way, self.stock.lists("power distribution block")) for row, way in at),
        )  # fmt: skip
        if shape not in self._built:
            self._built[shape] = self._build(shape, fed, at)
        design, switching, source, heard = self._built[shape]
        supplies = tuple(
            supply._replace(feeder=row.feeder.feeder, fault_ka=_fault(row, way))
            for supply, (row, way) in zip(design.supplies, at, strict=True)
        )
        row, said = replace(design, tank=tag, supplies=supplies), Remarks(heard)
        say_source(source, row, at[0][0].supply.has_neutral, self.rules, said)
        judge_control(row, switching, tank, lost, stock=self.stock, rules=self.rules, said=said)
        if settings.boxes == "one" and any(row.panels and row.bank.panel_feeder_run_m for row in banks):
            said.add("box-one-with-length", "boxes", tank=tag)
        return JudgedPanel(row, self.project if tank is None else tank, said)

    def _build(self, shape: PanelShape, fed: Sequence[HungFeed], at: Sequence[tuple[FeederRow, Way | None]]) -> Built:
        """The control panel of a shape; feeders and fault currents are filled in for each tank."""
        rules, settings, said = self.rules, shape.settings, Remarks()
        marks = TankMarks(rules.region, len(fed), settings.wire_colours)
        designs: dict[int, list[PanelDesign]] = {}
        for one in fed:
            designs.setdefault(one.supply, []).append(one.design)
        supplies = build_supplies(
            [(row, way, designs.get(number, [])) for number, (row, way) in enumerate(at, start=1)],
            settings, self.settings, marks=marks, rules=rules, stock=self.stock, said=said,
        )  # fmt: skip
        feeds = _feeds(fed, settings, marks)
        coils = [coil_of(feed, one.design, self.stock, rules) for feed, one in zip(feeds, fed, strict=True)]
        back_up = [back_up_coil(supply, self.stock, rules) for supply in supplies if supply.backup]
        relay = Coil(marks.of("relay"), "relay", *coil_load("relay", rules))
        groups = list(_groups(shape.contacts, feeds, coils))
        switching = share_contacts(groups, back_up, relay, settings.control_v, marks=marks, rules=rules)
        source = control_source(supplies[0], feeds, settings, earthed=at[0][0].earthing != ISOLATED, rules=rules)
        labels = tuple(label for label, _ in shape.contacts)
        contactors = (*back_up, *coils)
        relays = len(feeds) if settings.ground_fault_trip_ma else 0
        other = other_load(len(labels), switching.relays, int(settings.controller == "panel"), relays, rules)
        own = source.transformer
        power = control_power(contactors, other, source.primary_v if own else settings.control_v, settings.control_v, rules=rules)
        wire = _wire(power.secondary_fuse_a, rules)
        strips = tuple(
            LimitStrip(feed.strip_box, feed.strip, one.bank, one.heaters) for one, feed in zip(fed, feeds, strict=True) if feed.strip
        )
        plan = LadderPlan(
            BOX, marks, settings, strips, shape.level_cutoff, contactors, labels, switching, relays,
            source.wires, source.words, own, source.taps, source.grounded,
        )  # fmt: skip
        drawn = self._drawn(plan, size_words(wire) if wire else "")
        elements = tuple(power_elements(supplies, feeds, BOX))
        incoming = [_incoming(row, way) for row, way in at]
        runs = [_run(one, number, marks.of("block"), settings) for number, one in enumerate(fed, start=1)]
        conductors = power_wires(supplies, feeds, runs, incoming, elements, box=BOX, marking=marks.marking)
        circuit = replace(drawn, power=elements, wires=(*drawn.wires, *conductors))
        row = TankControl(
            tank="", banks=labels, settings=settings, supplies=supplies, feeds=feeds, coils=contactors, duties=switching.duties,
            primary_v=source.primary_v if own else 0.0, sealed_va=power.sealed_va, inrush_va=power.inrush_va,
            transformer_va=power.transformer_va if own else None, primary_fuse_a=power.primary_fuse_a if own else None,
            secondary_fuse_a=power.secondary_fuse_a, wire=wire, circuit=circuit, parts=(), feed_parts=(),
            basis=(rules.clause("control_fuses"), rules.clause("contact_ratings"), rules.clause("disconnect"), RATED_AS_AHEAD),
        )  # fmt: skip
        inside = settings.boxes == "one"
        hung = [OnPlate(feed, one.design, inside and not one.single) for feed, one in zip(feeds, fed, strict=True)]
        box = self._box(row, hung, at)
        row = replace(row, enclosure=box)
        say_unboxed(box, "boxes", "the control panel", "", said)
        earths = sum(len(one.heaters) for one in fed if inside or one.single)
        within = control_box_parts(row, earths, _on_bars(row, fed), [one.design for one in fed], rules=rules, stock=self.stock)
        of_box = (enclosure_part(box, self.stock), *within)
        bought = together((*power_parts(supplies), *control_parts(row, self.stock, rules), *of_box))
        feeding = together(feeder_parts(supplies, [(one.supply, one.design) for one in fed]))
        rated = rating_of(supplies, [one.design for one in fed], self.stock, rules, inside=inside)
        row = replace(row, parts=bought, feed_parts=feeding, sccr_ka=rated.sccr_ka, sccr_part=rated.part, sccr_marked=rated.marked)
        return Built(row, switching, source, said)

    def _box(self, row: TankControl, hung: Sequence[OnPlate], at: Sequence[tuple[FeederRow, Way | None]]) -> Enclosure:
        """The box that all of it stands in."""
        lines = [way.lines if way is not None else Lines() for _, way in at]
        incoming = [wires.size if (wires := wires_in(row_of, way)) is not None else "" for row_of, way in at]
        ambient_c = self.settings.ambient_c
        place = box_place(row.settings)
        return control_box(row, hung, lines, incoming, place=place, ambient_c=ambient_c, rules=self.rules, stock=self.stock)

    def _drawn(self, plan: LadderPlan, size: str) -> ControlCircuit:
        """The ladder of a plan with its terminals and wires; plans of several shapes may be equal."""
        if plan not in self._circuits:
            rungs = build_ladder(plan)
            wires = tuple(control_wires(plan, rungs, size))
            self._circuits[plan] = ControlCircuit(rungs, (), tuple(strip_terminals(plan, rungs)), wires)
        return self._circuits[plan]


def _fault(row: FeederRow, way: Way | None) -> float | None:
    """At the control panel."""
    return way.fault_ka if way is not None and way.fault_ka is not None else row.fault_end_ka


def _shape_of(row: FeederRow, way: Way | None, from_stock: bool) -> tuple[object, ...]:
    """What of a feeder and its way to the panel the panel follows from; the fault current where a stock part is chosen by it."""
    ahead = way.device if way is not None and way.device is not None else row.device
    wires = wires_in(row, way)
    return (
        row.supply, row.feeder.frequency_hz, ahead and (ahead.rating_a, ahead.kind), wires and (wires.size, wires.sets),
        neutral_comes(row, way, ()), row.earthing[:KIND],
        way and (way.lines, way.required_a), _fault(row, way) if from_stock else None,
    )  # fmt: skip


def _fed(row: BankRow, supply: int) -> Iterator[HungFeed]:
    limits = row.bank.over_temperature_limit != "no"
    for number, panel in enumerate(row.panels, start=1):
        heaters = tuple(range(panel.first_heater, panel.first_heater + panel.design.heaters))
        yield HungFeed(f"{row.label}-P{number}", row.label, supply, panel.design, panel.start, row.supply, heaters, False, limits)
    design = row.design.single_circuit
    if design is not None:
        yield HungFeed(row.label, row.label, supply, design, row.start, row.supply, tuple(range(1, design.heaters + 1)), True, limits)


def _shape_of_feed(one: HungFeed, inside: bool) -> tuple[object, ...]:
    """A panel feeder without what its bank is beside: lengths, drops and, where its panel does not stand `inside`, branches."""
    design, wires = one.design, one.design.panel_feeder_wires
    return (
        one.tag, one.bank, one.supply, one.start, one.of, one.heaters, one.single, one.limits, design.panel_feeder_device,
        design.device_at_way, design.contactor_a, design.feed_parts, tuple(terminals_of(design)),
        wires.size, wires.sets, bool(wires.neutral),
        design.lines, (design.legs, design.branch.device, design.branch.design_a, design.branch.holder, design.block_a) if inside else None,
    )  # fmt: skip


def _feeds(fed: Sequence[HungFeed], settings: ControlSettings, marks: TankMarks) -> tuple[ControlFeed, ...]:
    found = []
    for at, one in enumerate(fed, start=1):
        fuse = one.design.panel_feeder_device.kind == "fuse"
        if one.design.device_at_way:
            device = ""
        elif one.single:
            device = marks.in_panel("branch fuse" if fuse else "branch breaker", 1, at)
        else:
            device = marks.of("panel feeder fuse" if fuse else "panel feeder breaker", at)
        relay = marks.of("ground-fault relay", at) if settings.ground_fault_trip_ma else ""
        on = tuple(lines_of_terminals(terminal, one.start, one.of) for terminal in terminals_of(one.design))
        neutral = bool(one.design.panel_feeder_wires.neutral)
        found.append(
            ControlFeed(
                at, one.tag, one.bank, one.supply, one.single, one.design.panel_feeder_device.kind, device, marks.of("contactor", at),
                relay, on, neutral, *_strip(one, at, settings, marks), marks.of(RESIDUAL, at) if one.design.residual_ma is not None else "",
            )
        )
    return tuple(found)


def _on_bars(row: TankControl, fed: Sequence[HungFeed]) -> Iterator[int]:
    """Conductors on each neutral bar, of control power too; behind a residual-current device heaters hang on a bar of their own."""
    taps = Counter(one.start for one in row.circuit.wires if not one.field)
    neutrals: Counter[int] = Counter()
    for one in fed:
        if one.design.panel_feeder_wires.neutral and one.design.residual_ma is None:  # else it is among the taps
            neutrals[one.supply] += len(one.heaters) if one.single else 1
        elif one.design.panel_feeder_wires.neutral and one.single:
            yield 1 + len(one.heaters)
    for supply in row.supplies:
        if supply.neutral:
            yield 1 + taps[supply.neutral_bar] + neutrals[supply.number]


def _groups(contacts: Sequence[tuple[str, str]], feeds: Sequence[ControlFeed], coils: Sequence[Coil]) -> Iterator[Group]:
    """Banks and contactors of each temperature contact: banks that name the same contact share it."""
    groups: dict[str, tuple[list[str], list[Coil]]] = {}
    of_bank: dict[str, tuple[list[str], list[Coil]]] = {}
    for label, contact in contacts:
        of_bank[label] = groups.setdefault(f"contact {contact}" if contact else f"bank {label}", ([], []))
        of_bank[label][0].append(label)
    for feed, coil in zip(feeds, coils, strict=True):
        of_bank[feed.bank][1].append(coil)
    for labels, own in groups.values():
        yield tuple(labels), tuple(own)


def _wire(fuse_a: float | None, rules: RuleSet) -> str:
    """Control wire in the box by the fuse ahead of it; "" = none of the table serves."""
    wires, fuses = rules.named_list("control_wires"), rules.named_list("control_wire_fuses")
    for size, most_a in zip(wires.value, fuses.value, strict=True):
        if fuse_a is not None and fuse_a <= most_a:
            return str(size)
    return ""


def _strip(one: HungFeed, number: int, settings: ControlSettings, marks: TankMarks) -> tuple[str, str]:
    """Box and strip of a panel's limits: in its own box, or in the control panel's; "" where the heaters have none."""
    if not one.limits:
        return "", ""
    inside = one.single or settings.boxes == "one"
    return (BOX, marks.in_panel("limit terminals", 1, number)) if inside else (one.tag, marks.of("limit terminals"))


def _run(one: HungFeed, number: int, block: str, settings: ControlSettings) -> FeederRun:
    """Panel feeder `number`: to the block of its panel, which in one box has that number before it."""
    wires = one.design.panel_feeder_wires
    size = size_words(wires.size) if wires.size[:1].isdigit() else wires.size
    size = size if wires.sets == 1 else f"{wires.sets} x {size}"
    if one.single:
        return FeederRun(size, "field", ())
    inside = settings.boxes == "one"
    block = block_in_box(block, number if inside else 0)
    return FeederRun(size, BOX if inside else one.tag, tuple(f"{block}:{terminal}" for terminal in terminals_of(one.design)))


def _incoming(row: FeederRow, way: Way | None) -> str:
    wires = wires_in(row, way)
    if wires is None or not wires.size[:1].isdigit():
        return ""
    return size_words(wires.size) if wires.sets == 1 else f"{wires.sets} x {size_words(wires.size)}"


def control_amps(row: TankControl) -> float:
    """What control power draws from the first supply [A]: a transformer at its rating, else every coil sealed; 0 = by others."""
    if row.settings.transformer == OTHERS:
        return 0.0
    return (row.transformer_va or 0.0) / row.primary_v if row.primary_v else row.sealed_va / row.settings.control_v


def with_kinds(rows: Iterable[TankControl]) -> tuple[TankControl, ...]:
    """The control panels with the names of their kinds, Ladder 01 ... in their order, and of what they are built of, Control panel 01 ...;
    those on hold have names of their own."""
    names: dict[object, str] = {}
    keys: dict[int, object] = {}  # by the identity of a circuit, which panels of one shape share
    count = {LADDER: 0, HOLD_LADDER: 0, BUILD: 0, HOLD_BUILD: 0}
    builds: dict[object, str] = {}
    found = []
    for row in rows:
        key = keys.get(id(row.circuit))
        if key is None:
            key = keys[id(row.circuit)] = _kind(row)
        lead = LADDER if row.hold is None else HOLD_LADDER
        if (key, lead) not in names:
            count[lead] += 1
            names[key, lead] = f"{lead} {count[lead]:02d}"
        built = (key, row.parts, row.feed_parts, row.sccr_ka, row.hold is not None, power_sizes(row.circuit.wires))
        if built not in builds:
            build = BUILD if row.hold is None else HOLD_BUILD
            count[build] += 1
            builds[built] = f"{build} {count[build]:02d}"
        found.append(replace(row, kind=names[key, lead], type=builds[built]))
    return tuple(found)


def _kind(row: TankControl) -> object:
    """What makes two ladders alike: settings, supplies, panel feeders, coils and contacts; numbers of heaters go by a table."""
    supplies = tuple(
        (one.volts_v, one.system, one.lines, one.grounded, one.neutral_bar, one.neutral_pole, one.fusible, bool(one.block), one.backup)
        for one in row.supplies
    )
    strips = tuple(dict.fromkeys((one.box, one.strip) for one in row.circuit.terminals))
    lines = tuple((rung.line, rung.says) for rung in row.circuit.ladder)
    taps = tuple((one.start, one.end, one.points) for rung in row.circuit.ladder[:2] for one in rung.elements)
    power = (row.transformer_va, row.primary_fuse_a, row.secondary_fuse_a, row.wire)
    level = tuple(one.kind for one in row.circuit.elements if one.kind in ("level cutoff", "jumper"))
    return row.settings, supplies, row.feeds, row.coils, strips, lines, taps, power, level
