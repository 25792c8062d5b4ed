"""Sources: what the feeders of each transformer or service ask of it, and the fault current at its secondary."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from batch.results import JobResult, ProjectResult, SourceRow
from batch.schedules.hanging import Hanging, of_sources
from batch.schedules.row_words import basis_words, has_b, kinds_said, listed
from batch.schedules.schedule import Schedule, calculated, given, its_basis, its_findings, its_project, its_status, selected, text


class SourceLine(NamedTuple):
    project: ProjectResult
    row: SourceRow
    hung: Hanging


def _items(result: JobResult) -> Iterator[SourceLine]:
    for project in result.projects:
        hung = of_sources(project)
        for row in project.sources:
            yield SourceLine(project, row, hung[row.source.source])


SOURCES = Schedule(
    "source_totals", "Source loads", "source", "What the feeders of each source ask of it, by phasors, and the fault current at its secondary.",
    key=("project", "source"), items=_items,
    columns=(
        its_project("project.project.project"),
        text("source", "Source", 12, "row.source.source", help="Tag; of a feeder that names no source, the feeder's own."),
        its_status("hung.status"),
        text("kind", "Kind", 18, lambda at: (at.row.source.kind or "transformer") if at.row.named else "the feeder's own",
             role="input", help="Transformer or service; or known by its feeder's row alone."),
        text("feeders", "Feeders", 24, lambda at: listed(at.row.feeders), help="Feeders that hang on it."),
        given("kva", "Rating", "kVA", "kva", "row.source.kva", help="As given."),
        given("z_pct", "Impedance", "%", "percent_2", "row.source.z_pct", help="As marked."),
        given("volts_v", "Volts", "V", "volts", "row.supply.volts_v", help="Secondary, line to line."),
        text("system", "System", 20, "row.supply.system.value", role="input", help="How the secondary is grounded, given or assumed."),
        selected("i_a", "I A", "A", "amps", "row.lines.a", help="Design current in line A, with demand factors and other load."),
        selected("i_b", "I B", "A", "amps", lambda at: at.row.lines.b if has_b(at.row.supply) else None, help="Design current in line B."),
        selected("i_c", "I C", "A", "amps", lambda at: at.row.lines.c if at.row.supply.phases == 3 else None, help="Design current in line C."),
        calculated("rated_a", "Rated line current", "A", "amps", "row.rated_a", help="Of its rating; blank where that is not given."),
        calculated("used_pct", "Source used", "%", "percent_2", "row.used_pct",
                   help="Fullest line over the rated line current; of a delta or an unknown secondary the fullest winding where that is more."),
        text("governed_by", "Governed by", 16, "row.governed_by", help="The fullest line, or the fullest winding."),
        calculated("use_kva", "Load", "kVA", "kva", "row.use_kva", help="As if every line carried the current of the fullest."),
        given("given_ka", "Fault current given", "kA", "kiloamps", "row.source.fault_ka", help="As given."),
        text("fault_basis", "Basis of it", 14, lambda at: at.row.source.fault_basis or "", role="input", help="Utility letter, study, or none."),
        calculated("calculated_ka", "Fault current calculated", "kA", "kiloamps", "row.calculated_ka",
                   help="Of rating and impedance at the low end of its tolerance, with the primary where its fault level is given."),
        calculated("marked_ka", "Fault current as marked", "kA", "kiloamps", "row.marked_ka",
                   help="The same with the whole of the marked impedance; one given below 99 % of it is questioned."),
        selected("fault_ka", "Fault current used, all lines", "kA", "kiloamps", "row.fault_ka", also=("Fault current used",),
                 help="All lines together, at its secondary; of one line to ground or neutral it may be more, see Feeders. Blank where not known."),
        text("fault_how", "Given or calculated", 14, "row.fault_how", help="Which of the two is used."),
        given("primary_device_a", "Primary OCPD", "A", "rating", "row.source.primary_device_a", help="As given."),
        calculated("primary_alone_a", "Largest primary OCPD alone", "A", "amps", lambda at: at.row.protection and at.row.protection.alone_a,
                   help="Of a transformer of this job: up to it the primary OCPD protects the unit without one on the secondary."),
        calculated("primary_both_a", "Largest with secondary OCPDs", "A", "amps", lambda at: at.row.protection and at.row.protection.both_a,
                   help="Largest primary OCPD where the secondary ones are within the next figure."),
        calculated("secondary_most_a", "Largest secondary OCPDs together", "A", "rating", lambda at: at.row.protection and at.row.protection.secondary_most_a,
                   help="Sum of the feeders' OCPDs up to which they protect the secondary."),
        calculated("secondary_a", "Secondary OCPDs together", "A", "rating", lambda at: at.row.protection and at.row.protection.secondary_a,
                   help="Sum of the feeders' OCPDs."),
        its_findings(lambda at: kinds_said(at.row.findings, (), at.project.said_once)),
        text("open", "On hold, or not in it", 30, "hung.words",
             role="result", help="Of its feeders: how many banks are on hold, and what is not sized and so not in it."),
        its_basis(lambda at: basis_words(at.row.basis)),
    ),
)
