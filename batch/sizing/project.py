"""A whole job: projects, feeders and banks to rows with totals, and findings with their addresses."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace
from functools import lru_cache
from string import ascii_uppercase as LETTERS

from batch.errors import RuleSetError
from batch.findings import Effect, Finding, Remark, Severity, find, remark
from batch.records import Bank, Design, Feeder, Job, Project, Settings, Supply, Tank
from batch.results import BankDesign, BankRow, FeederRow, JobResult, Lines, ProjectResult, TankHeat
from batch.rules import RuleSet, available, load
from batch.rules.thermal import thermal
from batch.sizing.connection import CannotSize
from batch.sizing.design import size_design
from batch.sizing.fault import exposed, fault_at_source, fault_behind
from batch.sizing.feeder import Hung, size_feeder
from batch.sizing.heat_check import check_heat
from batch.sizing.labels import label_banks
from batch.sizing.materials import list_materials, price_remarks
from batch.sizing.phasing import Balanced, Placed, settle_starts
from batch.sizing.placing import bank_loads, panel_rows
from batch.sizing.previous_decisions import NOTHING, Kept
from batch.sizing.safety import safety_remarks
from batch.sizing.settings import resolve_settings
from batch.sizing.stock import Stock
from batch.sizing.supply import assumed_feeders, feeder_of, resolve_supply
from batch.sizing.type_names import name_types
from batch.sizing.watt_density import density_remarks

Progress = Callable[[str, int, int], None]
UNLOADED = Balanced(Lines(), False, ())
FATES = {None: "sized", Severity.NOTE: "sized", Severity.CAUTION: "sized, review", Severity.HOLD: Effect.NOT_RELEASED.status}


def size_job(job: Job, progress: Progress | None = None, kept: Kept = NOTHING) -> JobResult:
    """Every project of a job, sized. Nothing is raised for a bad row: it is a finding, and its fate says so.

    kept  what an earlier revision had decided, to be kept wherever these inputs allow it
    """
    tell = progress or (lambda stage, done, of: None)
    projects, findings = [], list(job.findings)
    fates: dict[tuple[str, int], str] = {}
    rule_sets: dict[str, RuleSet] = {}
    done, of = 0, len(job.banks)
    said_of_rows = _by_row(job.findings)
    known = {project.project for project in job.projects}
    unlisted = dict.fromkeys(bank.project for bank in job.banks if bank.project not in known)  # no bank is lost for want of its project
    for project in (*job.projects, *map(Project, unlisted)):
        banks = [bank for bank in job.banks if bank.project == project.project]
        worker = _ProjectSizer(job, project, banks, said_of_rows, fates, lambda n, before=done: tell("sizing", before + n, of), kept)
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
        code_values=(
            *(value for rules in rule_sets.values() for value in rules.code_values()),
            *(thermal().code_values() if any(row.judged for project in projects for row in project.heat) else ()),
        ),
        code_titles={name: rules.title for name, rules in rule_sets.items()},
        cautions=tuple(dict.fromkeys((caution.value, caution.basis) for rules in rule_sets.values() for caution in rules.cautions)),
    )


def _by_row(findings: Iterable[Finding]) -> dict[tuple[str, int], list[Finding]]:
    """Findings about a cell, by sheet and row."""
    rows: dict[tuple[str, int], list[Finding]] = {}
    for finding in findings:
        digits = finding.cell.lstrip(LETTERS)
        if digits.isdigit():
            rows.setdefault((finding.sheet, int(digits)), []).append(finding)
    return rows


class _ProjectSizer:
    """One project's way from rows to results. Collects findings in the order a reader meets the rows."""

    def __init__(
        self,
        job: Job,
        project: Project,
        banks: list[Bank],
        said_of_rows: dict[tuple[str, int], list[Finding]],
        fates: dict,
        tell: Callable[[int], None],
        kept: Kept,
    ) -> None:
        self.job, self.project, self.banks, self.fates, self.tell, self.kept = job, project, banks, fates, tell, kept
        self.said_of_rows = said_of_rows  # what reading said of each row
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
            self._say(remark("default-used", "code_basis", setting="Code basis", value=name, why="It is the newest at hand"), self.project)
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
        heat = tuple(self._heat(bank_rows, resolved.settings))
        return ProjectResult(self.project, name, resolved.listing, feeder_rows, bank_rows, types, materials, heat)

    def _heat(self, bank_rows: tuple[BankRow, ...], settings: Settings) -> Iterable[TankHeat]:
        """Whether each tank has heat enough, and what is said of it."""
        for judged in check_heat(self.banks, bank_rows, self.tanks, settings.heat_margin_pct):
            said = tuple(self._say(each, judged.record, tank=judged.row.tag) for each in judged.remarks)
            yield replace(judged.row, findings=said)

    def _say_memory(self, rules: RuleSet) -> None:
        recalled = [value for value in rules.code_values() if value.status == "from memory, unverified"]
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

    def _designs(self, settings: Settings, feeders: tuple[Feeder, ...], supplies: dict[str, Supply], rules: RuleSet) -> list[Placed]:
        tanks = self.tanks = {tank.tank.casefold(): tank for tank in self.job.tanks if tank.project == self.project.project}
        labelled = label_banks(self.banks, self.kept.labels, "" if self.kept.quiet else self.kept.source)
        placed = [Placed(bank, label, tanks.get(bank.tank.casefold()), list(said)) for bank, label, said in labelled]
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
                fault_ka = fault_at_source(one.feeder, one.supply, rules) if self.job.stock else None
                was = self.kept.bank(one.bank.project, one.bank.tank, one.label)
                sized = design_of(_design(one, settings, fault_ka, was.split if was is not None else ()))
                if isinstance(sized, CannotSize):
                    raise sized
                one.design = sized
                said_once = one.bank.device_kind is None  # of the project's own device kind its feeder speaks
                unsaid = {"slash-rated"} if said_once else set()
                unsaid |= {"kept-split-not"} if self.kept.quiet else set()
                one.remarks += (said for said in sized.remarks if said.code not in unsaid)
                one.remarks += safety_remarks(one.bank, one.tank, bool(sized.panels))
                one.remarks += density_remarks(one.bank, sized, one.tank)
            except CannotSize as fault:
                one.refused = True
                one.remarks.append(fault.said)
            if number % 64 == 0:
                self.tell(number)
        return placed

    def _place_and_total(self, placed, feeders, supplies, settings, rules):
        """Phases by feeder, totals, panels with tags and types, and every row with its findings."""
        sized = [one for one in placed if one.design is not None]
        balanced: dict[str, Balanced] = {}
        for feeder in feeders:
            on = [one for one in sized if one.feeder is feeder]
            if on:
                balanced[feeder.feeder] = settle_starts(on, supplies[feeder.feeder], self.kept)
        in_order = sorted(sized, key=lambda one: one.key)
        tags = {id(one): f"{one.bank.tank}/{one.label}" for one in sized}
        tagged = [(f"{tags[id(one)]}-P{n}", panel) for one in in_order for n, panel in enumerate(one.design.panels, start=1)]
        names, types, said = name_types(tagged, self.kept, self.project.project)
        for each in said:
            self._say(each, self.project)
        for one in sized:
            one.panels = panel_rows(tags[id(one)], one.design, one.supply, one.start, names)
        feeder_rows = []
        for feeder in feeders:
            if feeder.feeder in supplies:
                on = [one for one in sized if one.feeder is feeder]
                dealt = balanced.get(feeder.feeder, UNLOADED)
                feeder_rows.append(self._feeder(feeder, supplies[feeder.feeder], on, dealt, settings, rules))
        bank_rows = [self._bank_row(one) for one in placed]
        return tuple(feeder_rows), tuple(row for row in bank_rows if row is not None), types

    def _feeder(self, feeder, supply, on, balanced: Balanced, settings, rules) -> FeederRow:
        hung = [Hung(one.design, one.bank.quantity, *bank_loads(one.design, supply, one.start)) for one in on]
        row, said = size_feeder(feeder, supply, hung, balanced.before, settings, rules)
        said = [*said, *balanced.remarks]
        if not on:
            said.append(remark("feeder-without-heaters", "feeder", feeder=feeder.feeder))
        limit, large = rules.factor("unbalance_pct").value, rules.factor("unbalance_large_a").value
        if row.unbalance_pct > limit and (row.lines.maximum > large or balanced.fixed_worse):
            lines = " / ".join(f"{line:.0f}" for line in (row.lines[:2] if supply.phases == 1 else row.lines[:3]))
            said.append(remark("unbalance", "feeder", feeder=feeder.feeder, lines=f"{lines} A", percent=f"{row.unbalance_pct:.0f} %"))
        said += self._faults(row, supply, on, settings, rules)
        self._total_drops(row, on, settings)
        if supply.system == "high-leg delta":
            said.append(remark("high-leg", "system", feeder=feeder.feeder))
        found = [self._say(each, feeder, feeder=feeder.feeder) for each in said if each.code != "high-leg"]
        found += [finding for finding in self.findings if finding.feeder == feeder.feeder and not finding.tank and finding not in found]
        return replace(row, findings=tuple(found))

    def _faults(self, row: FeederRow, supply: Supply, on: list[Placed], settings: Settings, rules: RuleSet) -> list[Remark]:
        """Fault current at each panel; one caution a feeder for the parts that nobody has marked, a blocker for a stock part below it."""
        if row.fault_ka is None or row.wires is None:
            return []
        name, unmarked, worst = row.feeder.feeder, {}, 0.0
        to_here = (row.wires, row.feeder.run_m)
        for one in on:
            panels = []
            for panel in one.panels:
                runs = (to_here, (panel.design.panel_feeder_wires, one.bank.panel_feeder_run_m))
                panels.append(replace(panel, fault_ka=fault_behind(row.fault_ka, supply, runs, settings, rules)))
            one.panels = tuple(panels)
            places = [(f"panel {panel.tag}", panel.design, panel.fault_ka) for panel in one.panels]
            if one.design.single_circuit is not None:
                places = [(f"the single-circuit bank {one.bank.tank}/{one.label}", one.design.single_circuit, row.fault_end_ka)]
            for place, design, fault_ka in places:
                for part in exposed(design, row.fault_end_ka, fault_ka):
                    if part.from_stock:
                        fault, rating = f"{part.fault_ka:.1f} kA", f"{part.rating_ka:g} kA"
                        said = remark(
                            "fault-over-rating",
                            "feeder",
                            feeder=name,
                            fault=fault,
                            place=f"the contactor of {place}" if part.ahead else place,
                            part=part.part,
                            rating=rating,
                        )
                        one.remarks.append(said)
                    else:
                        unmarked[part.part], worst = part.rating_ka, max(worst, part.fault_ka)
        said = []
        if unmarked:
            parts = ", ".join(f"{part} {rating:g} kA" for part, rating in sorted(unmarked.items()))
            said.append(remark("fault-over-default", "fault_ka", feeder=name, fault=f"{worst:.1f} kA", parts=parts))
        if row.device is not None and row.fault_ka > (row.device.interrupting_ka or 0.0):
            said.append(remark("interrupting-over", "fault_ka", feeder=name, fault=f"{row.fault_ka:.1f} kA"))
        return said

    def _total_drops(self, row: FeederRow, on: list[Placed], settings: Settings) -> None:
        for one in on:
            panels = max((panel.design.drop_pct or 0.0 for panel in one.panels), default=0.0)
            total = (row.drop_pct or 0.0) + panels + (one.design.branch.drop_pct or 0.0)
            if total > settings.total_drop_pct + 1e-6:
                one.remarks.append(
                    remark(
                        "drop-over",
                        "heater_run_m",
                        what="Feeder, panel feeder and branch together",
                        percent=f"{total:.2f} %",
                        limit=f"{settings.total_drop_pct:g} %",
                    )
                )

    def _bank_row(self, one: Placed) -> BankRow | None:
        where = one.feeder.feeder if one.feeder is not None else (one.bank.feeder or "")
        found = tuple(self._say(said, one.bank, tank=one.bank.tank, bank=one.label, feeder=where) for said in dict.fromkeys(one.remarks))
        address = one.bank.origin.sheet, one.bank.origin.row
        if one.refused:
            self.fates[address] = "not sized"
            return None
        read = self.said_of_rows.get(address, ())
        worst = min((finding.severity for finding in (*found, *read)), default=None)
        self.fates[address] = FATES[worst]
        return BankRow(one.bank, one.tank, one.feeder, one.supply, one.label, one.design, one.start, one.panels, (*read, *found))

    def _say(self, said: Remark, record: Project | Feeder | Tank | Bank, *, tank: str = "", bank: str = "", feeder: str = "") -> Finding:
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


def _design(one: Placed, settings: Settings, fault_ka: float | None, previous_split: tuple[int, ...]) -> Design:
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
        bank.panel_feeder_run_m,
        bank.circuits_in_raceway or 1,
        bank.fixed_rating_a,
        bank.branches_per_panel,
        bank.device_kind,
        one.tank is not None and one.tank.level_cutoff == "yes",
        fault_ka,
        previous_split,
    )


def _try_design(design: Design, rules: RuleSet, stock: Stock) -> BankDesign | CannotSize:
    """So that a refusal is remembered too."""
    try:
        return size_design(design, rules, stock)
    except CannotSize as fault:
        return fault
