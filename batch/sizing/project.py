"""A whole job: projects, feeders and banks to rows with totals, and findings with their addresses."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field, replace
from functools import lru_cache

from batch.errors import RuleSetError
from batch.findings import Finding, Remark, Severity, find, remark
from batch.records import Bank, Design, Feeder, Job, Project, Settings, Supply, Tank
from batch.results import BankDesign, BankRow, FeederRow, JobResult, Lines, PanelRow, ProjectResult
from batch.rules import RuleSet, available, load
from batch.sizing.balance import Placeable, choose_starts, is_lopsided
from batch.sizing.connection import CannotSize
from batch.sizing.design import size_design
from batch.sizing.fault import fault_at_source, fault_behind
from batch.sizing.feeder import Hung, size_feeder
from batch.sizing.labels import label_banks, natural
from batch.sizing.materials import list_materials, price_remarks
from batch.sizing.phasors import Loads, line_currents
from batch.sizing.placing import bank_loads, fixed_start, name_types, panel_rows, turns_of
from batch.sizing.safety import safety_remarks
from batch.sizing.settings import resolve_settings
from batch.sizing.stock import Stock
from batch.sizing.supply import assumed_feeders, feeder_of, resolve_supply

Progress = Callable[[str, int, int], None]
FATES = {None: "sized", Severity.NOTE: "sized", Severity.CAUTION: "sized, look", Severity.BLOCKER: "do not build"}


@dataclass(slots=True)
class _Placed:
    """A bank on its way through the project: what is known so far."""

    bank: Bank
    label: str
    tank: Tank | None
    remarks: list[Remark] = field(default_factory=list)
    feeder: Feeder | None = None
    supply: Supply | None = None
    design: BankDesign | None = None
    start: int = 0
    panels: tuple[PanelRow, ...] = ()
    refused: bool = False

    @property
    def key(self) -> tuple:
        return natural(self.bank.tank), natural(self.label)


def size_job(job: Job, progress: Progress | None = None) -> JobResult:
    """Every project of a job, sized. Nothing is raised for a bad row: it is a finding, and its fate says so."""
    tell = progress or (lambda stage, done, of: None)
    projects, findings = [], list(job.findings)
    fates: dict[tuple[str, int], str] = {}
    rule_sets: dict[str, RuleSet] = {}
    done, of = 0, len(job.banks)
    for project in job.projects:
        banks = [bank for bank in job.banks if bank.project == project.project]
        worker = _ProjectSizer(job, project, banks, fates, lambda n, before=done: tell("sizing", before + n, of))
        sized = worker.run()
        findings += worker.findings
        done += len(banks)
        tell("sizing", done, of)
        if sized is not None:
            projects.append(sized)
            rule_sets[sized.rule_set] = worker.rules
    for records in (job.projects, job.feeders, job.tanks, job.stock):
        for record in records:
            if record.origin.row:
                fates.setdefault((record.origin.sheet, record.origin.row), "read")
    return JobResult(
        job,
        tuple(projects),
        tuple(findings),
        fates,
        code_values=tuple(value for rules in rule_sets.values() for value in rules.code_values()),
        code_titles={name: rules.title for name, rules in rule_sets.items()},
        cautions=tuple(dict.fromkeys((caution.value, caution.basis) for rules in rule_sets.values() for caution in rules.cautions)),
    )


class _ProjectSizer:
    """One project's way from rows to results. Collects findings in the order a reader meets the rows."""

    def __init__(self, job: Job, project: Project, banks: list[Bank], fates: dict, tell: Callable[[int], None]) -> None:
        self.job, self.project, self.banks, self.fates, self.tell = job, project, banks, fates, tell
        self.findings: list[Finding] = []
        self.rules: RuleSet | None = None

    def run(self) -> ProjectResult | None:
        name = self.project.code_basis or available()[0]
        try:
            self.rules = rules = load(name)
        except RuleSetError:
            self._say(remark("code-basis-unavailable", "code_basis", asked=name, available=", ".join(available())), self.project)
            for bank in self.banks:
                self.fates[bank.origin.sheet, bank.origin.row] = "not sized"
            return None
        resolved = resolve_settings(self.project, rules)
        if self.project.code_basis is None:
            self._say(remark("default-used", "code_basis", setting="Code basis", value=name, why="newest at hand"), self.project)
        for said in resolved.remarks:
            self._say(said, self.project)
        self._say_memory(rules)
        feeders, supplies = self._supplies(rules)
        placed = self._designs(resolved.settings, feeders, supplies, rules)
        rows = self._place_and_total(placed, feeders, supplies, resolved.settings, rules)
        feeder_rows, bank_rows, types = rows
        materials = list_materials(types, bank_rows, feeder_rows, self.job.stock)
        for said in price_remarks(materials, self.job.stock) if bank_rows else ():
            self._say(said, self.project)
        return ProjectResult(self.project, name, resolved.listing, feeder_rows, bank_rows, types, materials)

    def _say_memory(self, rules: RuleSet) -> None:
        recalled = [value for value in rules.code_values() if value.status == "FROM MEMORY"]
        if recalled:
            sources = list(dict.fromkeys(value.source.split(",")[0] for value in recalled))
            self._say(
                remark(
                    "values-from-memory",
                    "code_basis",
                    count=len(recalled),
                    rule_set=rules.name,
                    examples="; ".join(sources[:4]) + (" …" if len(sources) > 4 else ""),
                ),
                self.project,
            )

    def _supplies(self, rules: RuleSet) -> tuple[tuple[Feeder, ...], dict[str, Supply]]:
        """The project's feeders, or those assumed for it, and the supply of each that can be used."""
        feeders = tuple(feeder for feeder in self.job.feeders if feeder.project == self.project.project)
        self.assumed = not feeders
        if self.assumed and self.banks:
            feeders = assumed_feeders(self.project.project, self.banks, rules)
            named = ", ".join(f"{feeder.feeder} ({feeder.phases}-phase)" for feeder in feeders)
            self._say(remark("feeders-assumed", "feeder", feeders=named), self.project)
        supplies = {}
        for feeder in feeders:
            try:
                supplies[feeder.feeder], said = resolve_supply(feeder, rules)
            except CannotSize as fault:
                said = (fault.said,)
            for each in said:
                self._say(each, feeder, feeder=feeder.feeder)
        return feeders, supplies

    def _designs(self, settings: Settings, feeders: tuple[Feeder, ...], supplies: dict[str, Supply], rules: RuleSet) -> list[_Placed]:
        tanks = {tank.tank.casefold(): tank for tank in self.job.tanks if tank.project == self.project.project}
        placed = [_Placed(bank, label, tanks.get(bank.tank.casefold()), list(said)) for bank, label, said in label_banks(self.banks)]
        stock = Stock(self.job.stock)
        design_of = lru_cache(maxsize=None)(lambda design: _try_design(design, rules, stock))
        for number, one in enumerate(placed, start=1):
            try:
                one.feeder, said = feeder_of(one.bank, feeders, self.assumed)
                one.remarks += said
                if one.feeder.feeder not in supplies:
                    raise CannotSize(remark("feeder-not-usable", "feeder", feeder=one.feeder.feeder))
                one.supply = supplies[one.feeder.feeder]
                if one.supply.system == "high-leg delta":
                    one.remarks.append(remark("high-leg", "feeder", feeder=one.feeder.feeder))
                sized = design_of(_design(one, settings, fault_at_source(one.feeder, one.supply, rules) if self.job.stock else None))
                if isinstance(sized, CannotSize):
                    raise sized
                one.design = sized
                said_once = one.bank.device_kind is None  # of the project's own device kind its feeder speaks
                one.remarks += (said for said in sized.remarks if not (said_once and said.code == "slash-rated"))
                one.remarks += safety_remarks(one.bank, one.tank, bool(sized.panels))
            except CannotSize as fault:
                one.refused = True
                one.remarks.append(fault.said)
            if number % 64 == 0:
                self.tell(number)
        return placed

    def _place_and_total(self, placed, feeders, supplies, settings, rules):
        """Phases by feeder, totals, panels with tags and types, and every row with its findings."""
        sized = [one for one in placed if one.design is not None]
        before: dict[str, Lines] = {}
        fixed_worse: dict[str, bool] = {}
        for feeder in feeders:
            on = [one for one in sized if one.feeder is feeder]
            if on:
                before[feeder.feeder], fixed_worse[feeder.feeder] = self._balance(on, supplies[feeder.feeder])
        in_order = sorted(sized, key=lambda one: one.key)
        tags = {id(one): f"{one.bank.tank}/{one.label}" for one in sized}
        tagged = [(f"{tags[id(one)]}-P{n}", panel) for one in in_order for n, panel in enumerate(one.design.panels, start=1)]
        names, types = name_types(tagged)
        for one in sized:
            one.panels = panel_rows(tags[id(one)], one.design, one.supply, one.start, names)
        feeder_rows = []
        for feeder in feeders:
            if feeder.feeder in supplies:
                on = [one for one in sized if one.feeder is feeder]
                feeder_rows.append(self._feeder(feeder, supplies[feeder.feeder], on, before, fixed_worse, settings, rules))
        bank_rows = [self._bank_row(one) for one in placed]
        return tuple(feeder_rows), tuple(row for row in bank_rows if row is not None), types

    def _balance(self, on: list[_Placed], supply: Supply) -> tuple[Lines, bool]:
        """Starts of the banks of one feeder; the lines as dealt without balancing, and whether fixed pairs cost balance."""
        placeable = []
        for one in on:
            fixed, why = fixed_start(one.bank, one.design, supply)
            if why:
                one.remarks.append(remark("phase-pair-ignored", "phase_pair", pair=one.bank.phase_pair, why=why))
            free = turns_of(one.design, supply) > 1
            loads, _ = bank_loads(one.design, supply, 0)
            if free and fixed is None and is_lopsided(loads, supply):
                one.remarks.append(remark("phase-pair-chosen", "phase_pair"))
            placeable.append(Placeable(one.key, loads, fixed if free else 0))
        starts = choose_starts(placeable, supply)
        dealt = Loads()
        for item, one, start in zip(placeable, on, starts, strict=True):
            one.start = start
            dealt = dealt.plus(item.loads if item.fixed is None else item.loads.turned(item.fixed, supply))
        worse = False
        if any(item.fixed for item in placeable):
            free = [_freed(item, one, supply) for item, one in zip(placeable, on, strict=True)]
            best = _greatest(free, choose_starts(free, supply), supply)
            worse = _greatest(placeable, starts, supply) > best * 1.01
        return line_currents(dealt, supply), worse

    def _feeder(self, feeder, supply, on, before, fixed_worse, settings, rules) -> FeederRow:
        hung = [Hung(one.design, one.bank.quantity, *bank_loads(one.design, supply, one.start)) for one in on]
        row, said = size_feeder(feeder, supply, hung, before.get(feeder.feeder, Lines()), settings, rules)
        said = list(said)
        if not on:
            said.append(remark("feeder-without-heaters", "feeder", feeder=feeder.feeder))
        limit, large = rules.factor("unbalance_pct").value, rules.factor("unbalance_large_a").value
        if row.unbalance_pct > limit and (row.lines.greatest > large or fixed_worse.get(feeder.feeder)):
            lines = " / ".join(f"{line:.0f}" for line in (row.lines[:2] if supply.phases == 1 else row.lines[:3]))
            said.append(remark("unbalance", "feeder", feeder=feeder.feeder, lines=f"{lines} A", percent=f"{row.unbalance_pct:.0f} %"))
        said += self._faults(row, supply, on, settings, rules)
        self._total_drops(row, on, settings)
        if supply.system == "high-leg delta":
            said.append(remark("high-leg", "system", feeder=feeder.feeder))
        found = [self._say(each, feeder, feeder=feeder.feeder) for each in said if each.code != "high-leg"]
        found += [finding for finding in self.findings if finding.feeder == feeder.feeder and not finding.tank and finding not in found]
        return replace(row, findings=tuple(found))

    def _faults(self, row: FeederRow, supply: Supply, on: list[_Placed], settings: Settings, rules: RuleSet) -> list[Remark]:
        """Fault current at each panel; one caution a feeder where it is above what an unmarked panel counts as."""
        if row.fault_ka is None or row.wires is None:
            return []
        worst, part, rated = 0.0, "", 0.0
        for one in on:
            panels = []
            for panel in one.panels:
                feed = ((row.wires, row.feeder.run_m), (panel.design.feed_wires, one.bank.feed_run_m))
                panels.append(replace(panel, fault_ka=fault_behind(row.fault_ka, supply, feed, settings, rules)))
                fault, rating, name = panels[-1].fault_ka, panel.design.sccr_ka, panel.design.sccr_part
                if rating is None or fault <= rating:
                    continue
                if panel.design.sccr_from_stock:
                    words = {
                        "feeder": row.feeder.feeder,
                        "fault": f"{fault:.1f} kA",
                        "panel": panel.tag,
                        "part": name,
                        "rating": f"{rating:g} kA",
                    }
                    one.remarks.append(remark("fault-over-rating", "feeder", **words))
                elif fault > worst:
                    worst, part, rated = fault, name.removeprefix("unmarked "), rating
            one.panels = tuple(panels)
        said = []
        name = row.feeder.feeder
        if worst:
            said.append(remark("fault-over-default", "fault_ka", feeder=name, fault=f"{worst:.1f} kA", part=part, rating=f"{rated:g} kA"))
        if row.device is not None and row.fault_ka > (row.device.interrupting_ka or 0.0):
            said.append(remark("interrupting-over", "fault_ka", feeder=name, fault=f"{row.fault_ka:.1f} kA"))
        return said

    def _total_drops(self, row: FeederRow, on: list[_Placed], settings: Settings) -> None:
        for one in on:
            panels = max((panel.design.drop_pct or 0.0 for panel in one.panels), default=0.0)
            total = (row.drop_pct or 0.0) + panels + (one.design.branch.drop_pct or 0.0)
            if total > settings.total_drop_pct + 1e-6:
                one.remarks.append(
                    remark(
                        "drop-over",
                        "heater_run_m",
                        what="Feeder, panel feed and branch together",
                        percent=f"{total:.2f} %",
                        limit=f"{settings.total_drop_pct:g} %",
                    )
                )

    def _bank_row(self, one: _Placed) -> BankRow | None:
        where = one.feeder.feeder if one.feeder is not None else (one.bank.feeder or "")
        found = tuple(self._say(said, one.bank, tank=one.bank.tank, bank=one.label, feeder=where) for said in dict.fromkeys(one.remarks))
        address = one.bank.origin.sheet, one.bank.origin.row
        if one.refused:
            self.fates[address] = "not sized"
            return None
        read = (
            [
                finding
                for finding in self.job.findings
                if finding.sheet == address[0] and finding.cell.lstrip("ABCDEFGHIJKLMNOPQRSTUVWXYZ") == str(address[1])
            ]
            if self._has_reading(address)
            else []
        )
        worst = min((finding.severity for finding in (*found, *read)), default=None)
        self.fates[address] = FATES[worst]
        return BankRow(one.bank, one.tank, one.feeder, one.supply, one.label, one.design, one.start, one.panels, (*read, *found))

    def _has_reading(self, address: tuple[str, int]) -> bool:
        """Whether reading said anything about that row; the index is built once."""
        if not hasattr(self, "_read_rows"):
            self._read_rows = {
                (finding.sheet, int(digits))
                for finding in self.job.findings
                if (digits := finding.cell.lstrip("ABCDEFGHIJKLMNOPQRSTUVWXYZ")).isdigit()
            }
        return address in self._read_rows

    def _say(self, said: Remark, record: Project | Feeder | Bank, *, tank: str = "", bank: str = "", feeder: str = "") -> Finding:
        """Give a remark the address of its cell, and keep it."""
        origin = record.origin
        seen = getattr(record, said.about, None) if said.about else None
        finding = find(
            said,
            project=self.project.project,
            tank=tank,
            bank=bank,
            feeder=feeder,
            sheet=origin.sheet,
            cell=origin.cell(said.about),
            seen="" if seen is None else f"{seen:g}" if isinstance(seen, float) else str(seen),
        )
        self.findings.append(finding)
        return finding


def _design(one: _Placed, settings: Settings, fault_ka: float | None) -> Design:
    bank = one.bank
    return Design(
        bank.quantity,
        bank.power_kw,
        bank.volts_v,
        bank.phases,
        one.supply,
        settings,
        bank.connection,
        bank.circuits_per_heater,
        bank.heater_run_m,
        bank.feed_run_m,
        bank.circuits_in_raceway or 1,
        bank.fixed_rating_a,
        bank.branches_per_panel,
        bank.device_kind,
        one.tank is not None and one.tank.level_cutoff == "yes",
        fault_ka,
    )


def _try_design(design: Design, rules: RuleSet, stock: Stock) -> BankDesign | CannotSize:
    """So that a refusal is remembered too."""
    try:
        return size_design(design, rules, stock)
    except CannotSize as fault:
        return fault


def _freed(item: Placeable, one: _Placed, supply: Supply) -> Placeable:
    """The same bank, free to start on any line."""
    return item._replace(fixed=None if turns_of(one.design, supply) > 1 else 0)


def _greatest(banks: list[Placeable], starts: tuple[int, ...], supply: Supply) -> float:
    total = Loads()
    for bank, start in zip(banks, starts, strict=True):
        total = total.plus(bank.loads.turned(start, supply))
    return line_currents(total, supply).greatest
