"""Earth faults: of every circuit the loop, the current, and by what it is disconnected in time; and what its conductors bear. Under the codes that set times."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from batch.earth_fault_results import EarthFault
from batch.results import FeederRow, JobResult, ProjectResult
from batch.schedules.hanging import of_earth_faults
from batch.schedules.row_words import basis_words
from batch.schedules.schedule import Schedule, calculated, given, its_basis, its_feeder, its_project, its_status, its_tank, selected, text


class EarthLine(NamedTuple):
    project: ProjectResult
    row: FeederRow
    one: EarthFault
    status: str


def _items(result: JobResult) -> Iterator[EarthLine]:
    for project in result.projects:
        status = of_earth_faults(project)
        for row in project.feeders:
            for one in row.earth_faults:
                yield EarthLine(project, row, one, status(row, one))


def _kilo(value: float | None) -> float | None:
    return None if value is None else value / 1000.0


EARTH_FAULTS = Schedule(
    "earth_faults", "Earth faults", "circuit", "Whether each circuit disconnects an earth fault at its end in time, and by what; whether its conductors bear a short circuit until then. Times and gates of fuses are from memory, unverified, where Code basis marks them so: hold them against the standard.",
    key=("project", "feeder", "circuit", "tag"), items=_items,
    columns=(
        its_project("project.project.project"),
        its_feeder("row.feeder.feeder"),
        text("circuit", "Circuit", 14, "one.circuit", help="Feeder, way of a distribution unit, panel feeder, branch, or the one circuit of a bank."),
        text("tag", "Tag", 16, "one.tag", help="Of the circuit; of panels that are alike the first, of branches the bank."),
        its_tank("one.tank"),
        its_status("status"),
        text("how", "Disconnected by", 30, "one.how", role="result",
             help="Its device; its residual-current device; or why it is not, or not known."),
        text("earthing", "Earthing", 9, "one.earthing", role="input", help="Earthing system, given or assumed."),
        calculated("u0_v", "Volts to earth", "V", "volts", "one.u0_v", help="Nominal, from a line."),
        text("device", "Protective device", 22, "one.device", role="result",
             help="Type of a circuit-breaker, rating, kind."),
        given("residual_ma", "Residual-current device", "mA", "rating", "one.residual_ma", help="Rated residual current; blank where there is none."),
        calculated("within_s", "Disconnection time", "s", "factor", "one.within_s", help="As asked of this circuit; of IEC 60364 from memory, unverified."),
        calculated("needs_a", "Operating current", "A", "amps", "one.needs_a", help="At which its device is sure to open in that time; of gG fuses a gate from memory, unverified."),
        calculated("most_ohm", "Largest loop", "ohm", "ohms", "one.most_ohm", help="Impedance at which that current flows."),
        calculated("loop_ohm", "Loop", "ohm", "ohms", "one.loop_ohm", help="Source, lines and protective conductors, warm; without what is not known."),
        calculated("fault_a", "Earth fault current", "A", "amps", "one.fault_a", help="Least, at the circuit's end; in an IT system that of the second fault. Blank where not known."),
        given("run_m", "Run", "m", "length", "one.run_m", us_unit="ft", help="One way; blank where not known."),
        selected("longest_m", "Longest run", "m", "length", "one.longest_m", us_unit="ft", help="At which its device still opens in time, conductors as they are."),
        calculated("bears_a2s", "Conductors bear", "10³ A²s", "energy", lambda at: _kilo(at.one.bears_a2s), help="Energy of a short circuit, (k S)², of the smaller of line and protective conductor."),
        calculated("lets_a2s", "Device lets through", "10³ A²s", "energy", lambda at: _kilo(at.one.lets_a2s),
                   help="At most: of a fuse by its gates; of a circuit-breaker as if it did not limit the current. Blank where the fault current is not known."),
        its_basis(lambda at: basis_words(at.one.basis)),
    ),
)
