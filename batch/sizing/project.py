"""A whole job: projects, feeders and banks to rows with totals, and findings with their addresses."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from functools import partial

from msgspec.structs import replace

from batch.control_results import TankControl
from batch.errors import RuleSetError
from batch.findings import Finding, Remark, Remarks, Severity, find, remark
from batch.heat_results import TankHeat
from batch.held_once import held_once
from batch.method.line_currents import Lines
from batch.price.job_costs import cost_job
from batch.records import Bank, Feeder, Job, PowerSource, Project, Settings, Supply, Tank
from batch.results import BankDesign, BankRow, FeederRow, JobResult, Material, ProjectResult, SourceRow
from batch.rules import DEFAULT_EDITION, RuleSet, load
from batch.rules.thermal import thermal
from batch.sizing.assumed_feeders import assumed_feeders, assumed_names, hung, said_of_assumed
from batch.sizing.bank_as_asked import design_asked, designs_by
from batch.sizing.bearers import owned_of
from batch.sizing.connection import CannotSize
from batch.sizing.control_panel import ControlWork, with_kinds
from batch.sizing.control_settings import box_places
from batch.sizing.earth_faults import residual_device
from batch.sizing.fates import READ, fate_of, no_edition, rows_beside
from batch.sizing.grounded_line import with_grounded_line
from batch.sizing.heat_check import check_heat
from batch.sizing.holds import hold_words, with_control_holds, with_holds, with_types
from batch.sizing.kept_projects import run_or_recall
from batch.sizing.labels import LabelledBank, label_banks, natural
from batch.sizing.materials import list_materials, say_prices, take_off_of
from batch.sizing.money_judgement import RowRemarks, say_at_its_cell, say_money, unused_typed_prices
from batch.sizing.money_judgement import Written as MoneyRow
from batch.sizing.named_by_people import named_by_people
from batch.sizing.not_sized import of_bank, of_unread
from batch.sizing.phasing import Balanced, DesignedBank, by_feeder, settle_starts
from batch.sizing.placing import panel_rows
from batch.sizing.previous_decisions import NOTHING, PreviousDecisions
from batch.sizing.rows_as_read import findings_by_feeder, findings_by_row
from batch.sizing.rule_set_in_use import say_code_taken, say_rule_set
from batch.sizing.safety import say_notes, say_safety
from batch.sizing.said_once import carried_by, said_once
from batch.sizing.settings import resolve_settings
from batch.sizing.source_loads import use_sources
from batch.sizing.sources import KnownSource, fault_at, known_source, own_source, source_of, supply_from, taking_from, told_by_feeders
from batch.sizing.stock import Stock
from batch.sizing.supply import by_tag_of, feeder_of, resolve_supply
from batch.sizing.supply_rulings import judge_project
from batch.sizing.take_off_parts import say_heater_part
from batch.sizing.terminal_fit import TerminalJudge
from batch.sizing.type_names import NamedTypes, TaggedPanel, name_types
from batch.sizing.watt_density import density_remarks
from batch.sizing.whole_feeder import OnFeeder, whole_feeder
from batch.systems import System
from batch.unsized_results import NotSized

Progress = Callable[[str, int, int], None]
Written = Project | PowerSource | Feeder | Tank | Bank | MoneyRow
Editions = Callable[[str], RuleSet]
UNLOADED = Balanced(Lines(), False)
TOLD_EVERY = 64  # banks


def size_job(job: Job, progress: Progress | None = None, previous: PreviousDecisions = NOTHING, *, editions: Editions = load) -> JobResult:
    """Every project of a job, sized. Nothing is raised for a bad row: it is a finding, and its fate says so.

    previous  what an earlier revision had decided, to be kept wherever these inputs allow it
    editions  the rule set of a name; RuleSetError where there is none
    """
    tell = progress or (lambda stage, done, of: None)
    projects: list[ProjectResult] = []
    sizers: list[_ProjectSizer] = []
    heard: list[Sequence[Finding]] = [job.findings]
    not_sized: list[NotSized] = []
    fates: dict[tuple[str, int], str] = {}
    rule_sets: dict[str, RuleSet] = {}
    done, of = 0, len(job.banks)
    said_of_rows = findings_by_row(job.findings)
    known = {project.project for project in job.projects}
    unlisted = dict.fromkeys(bank.project for bank in job.banks if bank.project not in known)  # no bank is lost for want of its project
    unread = [of_unread(row, said_of_rows.get((row.origin.sheet, row.origin.row), ())) for row in job.unread]
    for project in (*job.projects, *map(Project, unlisted)):
        banks = [bank for bank in job.banks if bank.project == project.project]
        own = [row for row in unread if row.project == project.project]
        name = project.code_basis or DEFAULT_EDITION
        try:
            rules = editions(name)
            name = rules.name  # as the rule set spells it
        except RuleSetError:
            said = no_edition(project, name)
            heard.append([said])
            not_sized += (*own, *(of_bank(bank, bank.bank or "", bank.feeder or "", (said,)) for bank in banks))
            fates.update(((bank.origin.sheet, bank.origin.row), "not sized") for bank in banks)
        else:
            worker = _ProjectSizer(job, project, banks, rules, previous, said_of_rows=said_of_rows, fates=fates, unread=own)
            projects.append(run_or_recall(worker, partial(_ahead, tell, done, of)))
            sizers.append(worker)
            heard.append(worker.findings)
            rule_sets[name] = rules
        done += len(banks)
        tell("sizing", done, of)
    counted = {project.project for project in job.projects} | unlisted.keys()
    not_sized += (astray := tuple(row for row in unread if row.project not in counted))
    lines, money = cost_job(job, [owned_of(one) for one in projects])
    projects = [replace(sizer.priced(one, some), astray=astray) for sizer, one, some in zip(sizers, projects, lines, strict=True)]
    findings = [finding for some in (*heard, unused_typed_prices(job, lines)) for finding in some]
    for place in rows_beside(job):
        fates.setdefault(place, READ)
    return JobResult(
        job,
        tuple(projects),
        tuple(findings),
        fates,
        code_values=(
            *(value for rules in rule_sets.values() for value in rules.code_values()),
            *(thermal().code_values() if any(row.judged for project in projects for row in project.heat) else ()),
        ),
        code_titles={name: rules.full_title for name, rules in rule_sets.items()},
        not_sized=tuple(not_sized),
        money=money,
        cautions=tuple(dict.fromkeys(caution for rules in rule_sets.values() for caution in rules.country.cautions)),
    )


def _ahead(tell: Progress, before: int, of: int, done: int) -> None:
    tell("sizing", before + done, of)


class _ProjectSizer:
    """One project's way from rows to results. Collects findings in the order a reader meets the rows."""

    def __init__(
        self,
        job: Job,
        project: Project,
        banks: list[Bank],
        rules: RuleSet,
        previous: PreviousDecisions,
        *,
        said_of_rows: Mapping[tuple[str, int], list[Finding]],
        fates: dict[tuple[str, int], str],
        unread: Sequence[NotSized],
    ) -> None:
        self.job, self.project, self.banks, self.rules, self.previous = job, project, banks, rules, previous
        self.said_of_rows = said_of_rows  # what reading said of each row
        self.fates = fates
        self.not_sized = list(unread)  # rows that could not be read; those that cannot be sized are added on the way
        self.findings: list[Finding] = []
        self.of_feeders = findings_by_feeder(job.findings, project.project)  # and those of sizing that speak of a feeder and of no tank
        self.assumed: dict[tuple[str, float], str] = {}  # the tags of assumed feeders, by what rows call them and volts
        self.said_of_feeders: dict[str, Remarks] = {}  # of the phases of what hangs on them
        self.known: dict[str, KnownSource] = {}  # what each feeder hangs on
        self.said_of_sources: dict[str, list[Finding]] = {}  # before anything hangs on them
        self.wording = rules.wording.keeping(named_by_people(job, project, banks)) if rules.wording else rules.wording
        self.tanks = {tank.tank.casefold(): tank for tank in job.tanks if tank.project == project.project}

    def run(self, tell: Callable[[int], None]) -> ProjectResult:
        rules, said = self.rules, Remarks()
        resolved = resolve_settings(self.project, rules, said)
        self._say_all(said, self.project)
        say_code_taken(self.project, self.banks, rules, said := Remarks())
        say_rule_set(rules, said)
        self._say_all(said, self.project)
        feeders, supplies = self._supplies()
        settings = resolved.settings
        labelled = label_banks(self.banks, self.previous.labels, "" if self.previous.quiet else self.previous.source)
        sized = self._designs(labelled, settings, feeders, supplies, tell)
        self._refuse([one for one in labelled if id(one) not in sized], feeders)
        on = by_feeder(sized)
        balanced = self._starts(on, feeders, supplies)
        feeder_rows = tuple(
            self._feeder(feeder, supplies[feeder.feeder], on.get(id(feeder), []), balanced.get(feeder.feeder, UNLOADED), settings)
            for feeder in feeders
            if feeder.feeder in supplies
        )
        judge_project(list(sized.values()), settings, rules, said := Remarks())
        self._say_all(said, self.project)
        source_rows, feeder_rows = self._sources(feeder_rows, settings)
        rows = [self._bank_row(one, sized[id(one)]) for one in labelled if id(one) in sized]
        heat = tuple(self._heat(rows, settings))
        panels = list(self._controls(rows, feeder_rows, settings))
        rows = with_holds(rows, feeder_rows, heat, panels)
        controls = with_kinds(with_control_holds(panels, rows))
        types = self._types(rows)
        bank_rows = with_types(rows, types.names)
        take_off = take_off_of(self.job, self.project.project, rules, settings.conductor)
        materials = list_materials(types.rows, bank_rows, feeder_rows, controls, take_off, sources=source_rows)
        once = said_once(self.job.section, self.project.project, carried_by(feeder_rows, bank_rows, controls))
        for row in bank_rows:
            self.fates[row.bank.origin.sheet, row.bank.origin.row] = fate_of(row, once)
        return ProjectResult(
            self.project, rules.name, resolved.listing, feeder_rows, bank_rows, types.rows, materials, heat, tuple(self.not_sized), once,
            source_rows, rules.symbols, self.wording, controls, rules.country,
        )

    def priced(self, result: ProjectResult, materials: tuple[Material, ...]) -> ProjectResult:
        """The project with its lines priced, once it is known what the whole job uses; what lacks a price is said."""
        if result.banks:
            said = Remarks()
            say_prices(materials, self.job.stock, said)
            say_money(self.job, self.project, materials, said)
            self._say_all(said, self.project)
            say_at_its_cell(self.job, self.project, materials, rows := RowRemarks())
            for row, own in rows.said:
                self._say_all(own, row)
        return replace(result, materials=materials)

    def _heat(self, bank_rows: Sequence[BankRow], settings: Settings) -> Iterable[TankHeat]:
        """Whether each tank has heat enough, and what is said of it."""
        read = {(bank.origin.sheet, bank.origin.row) for bank in self.banks}
        unread = [row.tank.casefold() for row in self.not_sized if (row.origin.sheet, row.origin.row) not in read]
        for judged in check_heat(self.banks, bank_rows, self.tanks, settings.heat_margin_pct, unread):
            said = tuple(self._say(each, judged.record, tank=judged.row.tag) for each in judged.said)
            yield replace(judged.row, findings=said)

    def _controls(self, rows: Sequence[BankRow], feeders: Sequence[FeederRow], settings: Settings) -> Iterable[TankControl]:
        """The control panel of each tank, and what is said of it."""
        work = ControlWork(self.project, settings, self.rules, self.job.stock)
        for panel in work.panels(rows, feeders, self.not_sized):
            yield replace(panel.row, findings=tuple(self._say_all(panel.said, panel.record, tank=panel.row.tank)))
        self._say_all(work.said, self.project)

    def _supplies(self) -> tuple[tuple[Feeder, ...], dict[str, Supply]]:
        """The project's feeders, or those assumed for it, and the supply of each that can be used."""
        feeders = tuple(feeder for feeder in self.job.feeders if feeder.project == self.project.project)
        self.assumed = {} if feeders else assumed_names(self.banks)
        if self.assumed:
            feeders = assumed_feeders(self.project.project, self.banks, self.assumed, self.rules)
            self._say_all(said_of_assumed(feeders, self.assumed), self.project)
        supplies, listed = {}, [source for source in self.job.sources if source.project == self.project.project]
        sources = list(self._known_sources(listed, feeders))
        whole = []
        for row in feeders:
            feeder, said = row, Remarks()
            try:
                known = source_of(feeder, sources, listed)
                feeder = row if known is None else taking_from(row, known)
                supply = resolve_supply(feeder, self.rules, said) if known is None else supply_from(feeder, known, self.rules)
                supplies[feeder.feeder] = supply
                self.known[feeder.feeder] = known or own_source(feeder, supply, self.rules, said)
            except CannotSize as fault:
                said = Remarks((fault.said,))
            self._say_all(said, feeder, feeder=feeder.feeder)
            whole.append(feeder)
        return tuple(whole), supplies

    def _known_sources(self, listed: Iterable[PowerSource], feeders: Sequence[Feeder]) -> Iterable[KnownSource]:
        for source in listed:
            said = Remarks()
            try:
                yield known_source(told_by_feeders(source, feeders, self.rules, said), self.rules, said)
            except CannotSize as fault:
                said = Remarks((fault.said,))
            self.said_of_sources[source.source] = self._say_all(said, source)

    def _sources(
        self, rows: tuple[FeederRow, ...], settings: Settings
    ) -> tuple[tuple[SourceRow, ...], tuple[FeederRow, ...]]:
        """What hangs on each source, and the feeders with their pair and their source's use."""
        found, fed = [], {row.feeder.feeder: row for row in rows}
        for one in use_sources(self.known, rows, self.previous, settings, self.rules):
            source = one.known.source
            before = self.said_of_sources.get(source.source, []) if one.known.named else []
            own = self._say_all(one.said, source, feeder="" if one.known.named else source.source)
            said = (*before, *own)
            shared = [finding for finding in said if not one.known.named or finding.severity is not Severity.NOTE]
            names = {id(finding): dict(each.fields).get("feeder") for finding, each in zip(own, one.said, strict=True)}
            for row in one.feeders:  # what names another feeder is not this one's
                its = (each for each in shared if names.get(id(each)) in (None, row.feeder.feeder))
                fed[row.feeder.feeder] = replace(row, findings=(*row.findings, *its))
            if one.known.named or source.kva is not None or source.fault_ka is not None:
                found.append(replace(one.row, findings=said))
        return tuple(found), tuple(fed[row.feeder.feeder] for row in rows)

    def _designs(
        self,
        labelled: Sequence[LabelledBank],
        settings: Settings,
        feeders: tuple[Feeder, ...],
        supplies: Mapping[str, Supply],
        tell: Callable[[int], None],
    ) -> dict[int, DesignedBank]:
        """The banks that can be sized, by the id of their labelled row; of the others their row says why not."""
        stock = Stock(self.job.stock, settings.conductor)
        design_of = designs_by(self.rules, self.job.stock, settings.conductor)
        sized: dict[int, DesignedBank] = {}
        terminals = TerminalJudge(settings, stock, self.rules)
        by_tag = by_tag_of(feeders)
        boxes = box_places(self.project, self.tanks, self.banks, self.rules)
        for number, one in enumerate(labelled, start=1):
            bank, said = one.bank, one.said
            try:
                feeder = feeder_of(bank, by_tag, self.assumed, said)
                one.feeder = feeder.feeder
                if feeder.feeder not in supplies:
                    raise CannotSize(remark("feeder-not-usable", "feeder", feeder=feeder.feeder))
                supply, tank = supplies[feeder.feeder], self.tanks.get(bank.tank.casefold())
                if supply.system is System.HIGH_LEG_DELTA:
                    said.add("high-leg", "feeder", feeder=feeder.feeder)
                fault_ka = fault_at(self.known[feeder.feeder], supply, (), settings, self.rules) if self.job.stock else None
                was = self.previous.bank(bank, one.label, one.turn)
                split = was.split if was is not None else ()
                box = boxes[bank.tank.casefold()]
                residual_ma = residual_device(bank, self.project, self.rules, said)
                asked = design_asked(bank, supply, settings, fault_ka, split=split, box=box, rules=self.rules, residual_ma=residual_ma)
                design = design_of(asked)
                if isinstance(design, CannotSize):
                    raise design
                said.take(*self._of_row(bank, design))
                say_safety(bank, tank, design, said)
                say_notes(bank, tank, feeder, self.project, job=self.job, said=said)
                if bank.marked_wire and self.rules.size_named(bank.marked_wire) is None:
                    said.add("marked-wire-unknown", "marked_wire", value=bank.marked_wire)
                said.take(*density_remarks(bank, design, tank))
                say_heater_part(bank, stock, said)
                said.take(*terminals.of(design))
                sized[id(one)] = DesignedBank(bank, one.label, tank, feeder, supply, design, said, turn=one.turn)
            except CannotSize as fault:
                said.take(fault.said)
            if number % TOLD_EVERY == 0:
                tell(number)
        return sized

    def _of_row(self, bank: Bank, design: BankDesign) -> Iterable[Remark]:
        """What of a design's remarks its row says: of the project's own device kind its feeder speaks."""
        unsaid = {"slash-rated"} if bank.device_kind is None else set()
        unsaid |= {"kept-split", "kept-split-not"} if self.previous.quiet else set()
        return (said for said in design.remarks if said.code not in unsaid)

    def _starts(
        self, by_feeder: Mapping[int, list[DesignedBank]], feeders: tuple[Feeder, ...], supplies: Mapping[str, Supply]
    ) -> dict[str, Balanced]:
        """Every bank's phases and so its panels, by feeder."""
        balanced = {}
        for feeder in feeders:
            if on := by_feeder.get(id(feeder)):
                said = self.said_of_feeders.setdefault(feeder.feeder, Remarks())
                balanced[feeder.feeder] = settle_starts(on, supplies[feeder.feeder], self.previous, said)
                for one in on:
                    one.design = with_grounded_line(one.design, one.supply, one.starts)
                    one.panels = panel_rows(f"{one.bank.tank}/{one.label}", one.design, one.supply, one.starts)
        return balanced

    def _refuse(self, refused: Sequence[LabelledBank], feeders: tuple[Feeder, ...]) -> None:
        """Keeps the banks that cannot be sized, with what is said of them and where they may hang."""
        for one in refused:
            bank, feeder = one.bank, one.feeder or one.bank.feeder or ""
            found = self._say_all(one.said, bank, tank=bank.tank, bank=one.label, feeder=feeder)
            address = bank.origin.sheet, bank.origin.row
            self.fates[address] = "not sized"
            self.not_sized.append(of_bank(bank, one.label, feeder, (*self.said_of_rows.get(address, ()), *found)))
        self.not_sized = hung(self.not_sized, feeders, self.assumed)

    def _types(self, rows: Sequence[BankRow]) -> NamedTypes:
        """Panel types, in the order of the panels' tags."""
        in_order = sorted(rows, key=lambda row: (natural(row.bank.tank), natural(row.label)))
        tagged = [TaggedPanel(panel.tag, panel.design, hold_words(row)) for row in in_order for panel in row.panels]
        types = name_types(tagged, self.previous, self.project.project, said := Remarks())
        self._say_all(said, self.project)
        return types

    def _feeder(self, feeder: Feeder, supply: Supply, on: list[DesignedBank], balanced: Balanced, settings: Settings) -> FeederRow:
        said, name = Remarks(), feeder.feeder
        missing = [one for one in self.not_sized if name in one.fed_from]
        on_it = OnFeeder(on, balanced, missing, tuple(self.said_of_feeders.get(name, ())))
        stock, scope = Stock(self.job.stock, settings.conductor), self.project.distribution
        row = whole_feeder(
            feeder, supply, on_it, self.known[name], settings, distribution=scope,
            before=self.previous.feeder(feeder.project, name), stock=stock, rules=self.rules, said=said,
        )
        found = self._say_all(said, feeder, feeder=name)
        found += [finding for finding in self.of_feeders.get(name, ()) if finding not in found]
        return replace(row, findings=tuple(found))

    def _bank_row(self, one: LabelledBank, sized: DesignedBank) -> BankRow:
        bank = one.bank
        read = self.said_of_rows.get((bank.origin.sheet, bank.origin.row), ())
        found = *read, *self._say_all(one.said, bank, tank=bank.tank, bank=one.label, feeder=one.feeder or bank.feeder or "")
        return BankRow(bank, sized.tank, sized.feeder, sized.supply, one.label, sized.design, held_once(sized.starts), sized.panels, found)

    def _say_all(self, said: Iterable[Remark], record: Written, **where: str) -> list[Finding]:
        return [self._say(each, record, **where) for each in said]

    def _say(self, said: Remark, record: Written, *, tank: str = "", bank: str = "", feeder: str = "") -> Finding:
        """Give a remark the address of its cell, and keep it."""
        origin = record.origin
        seen = getattr(record, said.about, None) if said.about else None
        finding = find(
            said, self.rules.citations, project=self.project.project, tank=tank, bank=bank, feeder=feeder,
            sheet=origin.sheet, cell=origin.cell(said.about),
            seen="" if seen is None else f"{seen:g}" if isinstance(seen, float) else str(seen),
        )  # fmt: skip
        finding = replace(finding, message=held_once(self.wording.of(finding.message))) if self.wording else finding
        self.findings.append(finding)
        if feeder and not tank:
            self.of_feeders.setdefault(feeder, []).append(finding)
        return finding
