"""Feeders: what each feeder carries, by phasors, and what it needs."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from batch.records import Feeder
from batch.results import FeederRow, JobResult, ProjectResult, Wires
from batch.schedules.hanging import Hanging, of_feeders
from batch.schedules.row_formulas import MAXIMUM, NEXT_RATING, UNBALANCE
from batch.schedules.row_words import NOT_SIZED, basis_words, ground_size, has_b, kinds_said, laid_in, run_words, size_or_words
from batch.schedules.schedule import (
    Schedule,
    Unsized,
    calculated,
    given,
    grouped,
    its_basis,
    its_company,
    its_feeder,
    its_findings,
    its_project,
    its_status,
    selected,
    text,
    with_look_up,
)
from batch.schedules.ways import found, owner_number, owner_of, way
from batch.sizing.not_sized import missing_words
from batch.unsized_results import NotSized


class FeederLine(NamedTuple):
    """A feeder; `wires` are None where no conductor serves; `hung` is what hangs on it."""

    project: ProjectResult
    row: FeederRow
    feeder: Feeder
    wires: Wires | None
    hung: Hanging
    owner: int | None


class Missing(NamedTuple):
    """A feeder that rows of the heater list name and that was not sized."""

    project: str
    feeder: str
    words: str


def _items(result: JobResult) -> Iterator[FeederLine | Unsized]:
    """The feeders, then those that were not sized and that rows of the heater list name, project by project."""
    for project in result.projects:
        known, hung = {row.feeder.feeder for row in project.feeders}, of_feeders(project)
        for row in project.feeders:
            yield FeederLine(project, row, row.feeder, row.wires, hung[row.feeder.feeder], owner_of(result, project, row))
        yield from _not_sized([row for row in project.not_sized if known.isdisjoint(row.fed_from)])
    yield from _not_sized(result.not_sized)


def _not_sized(rows: Sequence[NotSized]) -> Iterator[Unsized]:
    found: dict[tuple[str, str], list[NotSized]] = {}
    for row in rows:
        if row.feeder:
            found.setdefault((row.project, row.feeder), []).append(row)
    for (project, feeder), own in found.items():
        yield Unsized(Missing(project, feeder, f"not sized, with {missing_words(own)}"))


FEEDERS = Schedule(
    "feeder_totals", "Feeders", "feeder", "What each feeder carries, by phasors, and what it needs.", key=("project", "feeder"),
    as_sized=("volts_v", "phases", "wires", "demand_factor", "other_load_a", "margin_pct", "device_a", "existing_device_a", "source_kva"),
    open_group="Line currents",
    items=_items,
    columns=(
        its_project("project.project.project", unsized="project"),
        its_feeder("feeder.feeder", unsized="feeder"),
        its_status("hung.status", unsized=lambda row: NOT_SIZED),
        *grouped("System",
            text("source", "Fed from source", 12, "row.source",
                 role="input", becomes="feeders.source", help="Source that it hangs on; blank: its own."),
            text("source_pair", "Source pair", 10, "row.source_pair",
                 role="result", help="Of a 1-phase feeder: the pair or leg of its 3-phase source."),
            text("system", "System", 20, "row.supply.system.value",
                 role="input", becomes="feeders.system", help="How the source is grounded, given or assumed."),
            given("phases", "Phases", "ph", "count", "feeder.phases",
                  becomes="feeders.phases", help="1 or 3."),
            given("wires", "Wires", "ea", "count", "row.supply.wires",
                  becomes="feeders.wires", help="Without the grounding conductor."),
        ),
        given("volts_v", "Volts", "V", "volts", "feeder.volts_v",
              becomes="feeders.volts_v", help="As on the Feeders sheet of the job."),
        calculated("banks", "Banks", "ea", "count", "row.banks",
                   total="sum", help="Banks on this feeder."),
        calculated("heaters", "Heaters", "ea", "count", "row.heaters",
                   total="sum", help="Heaters on this feeder."),
        calculated("panels", "Heater panels", "ea", "count", "row.panels",
                   total="sum", also=("Branch panels",), help="Heater panels on this feeder."),
        *grouped("Load",
            given("demand_factor", "Demand factor", "", "factor", "row.demand_factor",
                  becomes="feeders.demand_factor", help="1.0 unless given."),
            calculated("delivered_kw", "Delivered", "kW", "kw", "row.delivered_kw",
                       total="sum", help="What its heaters draw at the applied volts."),
            calculated("demand_kw", "Demand", "kW", "kw", "row.demand_kw",
                       total="sum", formula="[delivered_kw]*[demand_factor]", help="Delivered times demand factor; never below its largest bank."),
            given("other_load_a", "Other load", "A", "amps", "feeder.other_load_a",
                  becomes="feeders.other_load_a", help="Added in full to every line."),
        ),
        calculated("connected_kw", "Connected", "kW", "kw", "row.connected_kw",
                   total="sum", help="Rated power of all its heaters."),
        calculated("maximum_a", "Maximum line current", "A", "amps", "row.lines.maximum",
                   formula=MAXIMUM, also=("Greatest line",), help="Maximum of the line currents."),
        *grouped("Overcurrent device",
            text("device", "OCPD type", 54, lambda at: at.row.device.words if at.row.device else "",
                 role="result", also=("Device kind",), help="Class or type, poles, volts and interrupting rating."),
            text("device_at", "OCPD stands at", 11, lambda at: at.feeder.device_at or "",
                 role="input", becomes="feeders.device_at", help="End: no OCPD is ahead of its conductors on the secondary."),
            given("existing_device_a", "Existing OCPD rating", "A", "rating", "feeder.existing_device_a",
                  also=("Existing device",), becomes="feeders.existing_device_a", help="As given."),
            calculated("use_pct", "OCPD used", "%", "percent_2", "row.use_pct",
                       help="Load with the margin over the feeder's OCPD, of an existing one its own."),
            given("margin_pct", "Continuous-load margin", "%", "percent", lambda at: at.project.banks[0].design.margin_pct if at.project.banks else None,
                  also=("Current margin",), help="Added to the current before a device or wire is chosen."),
            calculated("required_a", "Minimum OCPD and circuit ampacity", "A", "amps", "row.required_a",
                       formula="[maximum_a]*(1+[margin_pct]/100)", also=("With margin",), help="Maximum line current, with demand where allowed, times 1 + margin."),
        ),
        selected("device_a", "Feeder OCPD", "A", "rating", lambda at: at.row.device.rating_a if at.row.device else None,
                 formula=NEXT_RATING.format(key="required_a"), also=("Device",), help="Smallest standard rating that serves, or the existing one where it does."),
        *grouped("Conductors",
            text("neutral", "Neutral", 12, lambda at: size_or_words(at.wires.neutral) if at.wires else "",
                 role="result", help="Neutral of each set; blank where there is none."),
            text("ground", "EGC", 16, lambda at: ground_size(at.wires) if at.wires else "",
                 role="result", also=("Ground",), help="Equipment grounding conductor of each set; of conductors without an OCPD ahead the supply-side bonding jumper."),
            text("raceway", "Raceway", 16, lambda at: laid_in(at.wires),
                 role="result", help="Trade size and kind of each set."),
            *its_company(lambda at: at.wires, "conductors", "Feeders that share its raceway or touch it, itself among them."),
            text("governed_by", "Sizing basis", 28, lambda at: at.wires.governed_by if at.wires else "",
                 also=("Wire governed by",), help="Which test set the wire."),
            calculated("drop_pct", "Feeder drop", "%", "percent_2", "row.drop_pct",
                       help="Voltage drop of the feeder; blank where no length is known."),
        ),
        text("wire", "Wire", 22, lambda at: run_words(at.wires) if at.wires else "",
             role="result", help="Sets x lines of size."),
        *grouped("Source",
            calculated("use_kva", "Transformer load", "kVA", "kva", "row.use_kva",
                       also=("Source in use",), help="From the maximum line current."),
            calculated("source_used_pct", "Source used", "%", "percent_2", "row.source_used_pct",
                       help="By all that hangs on the source; blank where its rating is not known."),
            selected("next_kva", "Smallest standard transformer", "kVA", "kva", "row.next_kva",
                     width=12, also=("Next standard transformer",), help="Smallest standard rating that carries the load."),
            calculated("fault_ka", "Largest fault at source", "kA", "kiloamps", "row.fault_ka", also=("Fault at source",),
                       help="Given, or from the transformer: of all lines or of one to ground or neutral, whichever is more; blank where not known."),
            calculated("fault_end_ka", "Fault at the end", "kA", "kiloamps", "row.fault_end_ka",
                       help="Behind the feeder's own conductors."),
        ),
        given("source_kva", "Source", "kVA", "kva", "feeder.source_kva",
              becomes="feeders.source_kva", help="As given."),
        *with_look_up(its_findings(lambda at: kinds_said(at.row.findings, (), at.project.said_once))),
        text("open", "On hold, or not in it", 40, "hung.words", unsized="words",
             role="result", help="How much of what hangs on it is on hold, and what is missing from its figures because it is not sized."),
        *grouped("Line currents",
            selected("i_a", "I A", "A", "amps", "row.lines.a",
                     help="Design current in line A, without demand factor, with other load."),
            selected("i_b", "I B", "A", "amps", lambda at: at.row.lines.b if has_b(at.row.supply) else None,
                     help="Design current in line B."),
            selected("i_c", "I C", "A", "amps", lambda at: at.row.lines.c if at.row.supply.phases == 3 else None,
                     help="Design current in line C."),
            selected("i_n", "I N", "A", "amps", lambda at: at.row.lines.n if at.row.supply.has_neutral else None,
                     help="Design current in the neutral."),
            calculated("unbalance_pct", "Unbalance", "%", "percent", "row.unbalance_pct",
                       formula=UNBALANCE, help="Maximum deviation from the mean line current, over the mean."),
            calculated("unbalance_before_pct", "Unbalance before balancing", "%", "percent", "row.unbalance_before_pct",
                       also=("Unbalance as dealt",), help="The same with every bank starting on A-B: what balancing gained."),
        ),
        owner_number("owner"),
        way("to_price", "Its price", "what is its own on Prices", found("prices.number", "owner_no"), there=lambda at: at.owner),
        its_basis(lambda at: basis_words(at.row.basis)),
    ),
)
