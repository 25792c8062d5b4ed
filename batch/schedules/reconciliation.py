"""The results checked against themselves: rows in and out, heaters, kilowatts and amps along every way they were counted."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator

from msgspec import Struct

from batch.method.line_currents import Loads, line_currents, rotated
from batch.results import Check, JobResult, ProjectResult
from batch.schedules import Row, each_row
from batch.schedules.money_checks import money_checks
from batch.sizing.placing import groups

CLOSE = 1e-6
SHOWN_KW = ("connected_kw", "not_sized_kw")  # columns of Banks


def reconcile(result: JobResult) -> tuple[Check, ...]:
    """Every check of the job; each compares two figures that were counted along different ways."""
    return (*_rows(result), *_projects(result), *money_checks(result))


def _rows(result: JobResult) -> Iterator[Check]:
    """Rows received against rows sized and rows refused."""
    tables = [table for table in result.job.received if table.kind == "heaters"]
    received = sum(len(table.rows) for table in tables)
    refused_reading = sum(bool(row.refused) for table in tables for row in table.rows)
    records = len(result.job.banks)
    rows = len({(bank.origin.sheet, bank.origin.row) for bank in result.job.banks})  # a row of several tanks is several banks
    sized = sum(len(project.banks) for project in result.projects)
    refused_sizing = sum(result.fates.get((bank.origin.sheet, bank.origin.row)) == "not sized" for bank in result.job.banks)
    yield Check("", "Heaters rows received = rows read + rows refused in reading", received, rows + refused_reading, 0.0)
    yield Check("", "Heaters rows read = rows sized + rows not sized", records, sized + refused_sizing, 0.0)
    for sheet in result.job.accounted:
        if sheet.filled:
            what = f"Sheet {sheet.sheet.strip()}: rows that hold anything = rows read + rows with another fate"
            yield Check("", what, sheet.filled, sheet.read + sheet.told, 0.0)
    for total in result.job.stated:
        what = f"Sheet {total.sheet.strip()}: total stated in {total.cell}, kW = kW read of its rows"
        yield Check("", what, total.stated_kw, total.read_kw, None)
    yield from _on_banks(result, rows)
    job = result.job
    for kind, found in (("sources", job.sources), ("feeders", job.feeders), ("tanks", job.tanks), ("projects", job.projects)):
        tables = [table for table in result.job.received if table.kind == kind]
        if tables:
            kept = sum(not row.refused for table in tables for row in table.rows)
            from_rows = sum(bool(record.origin.row) for record in found)
            yield Check("", f"{kind.capitalize()} rows kept = {kind} read", kept, from_rows, 0.0)


def _on_banks(result: JobResult, read: int) -> Iterator[Check]:
    """Every row of the heater list that held data stands on Banks, sized or not, and its kW with it."""
    job = result.job
    left_out = [*(row for project in result.projects for row in project.not_sized), *result.not_sized]
    there = {(row.bank.origin.sheet, row.bank.origin.row) for project in result.projects for row in project.banks}
    there |= {(row.origin.sheet, row.origin.row) for row in left_out}
    sized = sum(len(project.banks) for project in result.projects)
    yield Check("", "Heaters rows with data = rows of theirs on Banks", read + len(job.unread), len(there), 0.0)
    count, on_banks = 0, 0.0
    for row in each_row(result, "banks", SHOWN_KW):
        count, on_banks = count + 1, on_banks + sum(kw for kw in map(row.get, SHOWN_KW) if isinstance(kw, (int, float)))
    yield Check("", "Rows on Banks = banks sized + banks not sized", count, sized + len(left_out), 0.0)
    received = sum(bank.quantity * bank.power_kw for bank in job.banks)
    received += sum(row.quantity * row.power_kw for row in job.unread if row.quantity is not None and row.power_kw is not None)
    yield Check("", "kW as received = kW connected + kW not sized", received, on_banks, CLOSE * max(1.0, received))


def _projects(result: JobResult) -> Iterator[Check]:
    shown: dict[object, _Shown] = defaultdict(_Shown)
    for row in each_row(result, "circuits", ("project", "panel", "heater", "circuit", "connected_kw")):
        shown[row["project"]].add_circuit(row)
    for row in each_row(result, "panels", ("project", "branches")):
        shown[row["project"]].add_panel(row)
    for row in each_row(result, "banks", ("project", "branches")):
        if isinstance(branches := row["branches"], int):
            shown[row["project"]].on_banks += branches
    for project in result.projects:
        name = project.project.project
        yield from _totals(name, project, shown[name])
        yield from _amps(name, project)


class _Shown(Struct):
    """What the rows of Circuits, Panels and Banks of a project show, added up."""

    heaters: int = 0
    circuits: int = 0
    on_banks: int = 0
    circuits_kw: float = 0.0
    on_panels: int = 0
    panels: int = 0
    branches: int = 0

    def add_circuit(self, row: Row) -> None:
        """Heaters are counted as the schedule numbers them, by their first element circuit: a bank label given twice is two banks."""
        self.circuits += 1
        if row["circuit"] == 1:
            first, _, last = str(row["heater"]).partition(" to ")
            self.heaters += int(last or first) - int(first) + 1
        if isinstance(kw := row["connected_kw"], (int, float)):
            self.circuits_kw += kw
        self.on_panels += not str(row["panel"]).endswith(" single circuit")

    def add_panel(self, row: Row) -> None:
        self.panels += 1
        if isinstance(branches := row["branches"], int):
            self.branches += branches


def _totals(name: str, project: ProjectResult, shown: _Shown) -> Iterator[Check]:
    heaters = sum(row.bank.quantity for row in project.banks)
    kilowatts = sum(row.bank.quantity * row.bank.power_kw for row in project.banks)
    yield Check(name, "Heaters of banks = heaters of circuits", heaters, shown.heaters, 0.0)
    yield Check(name, "Heaters of banks = heaters of feeders", heaters, sum(row.heaters for row in project.feeders), 0.0)
    tolerance = CLOSE * max(1.0, kilowatts)
    yield Check(name, "kW of banks = kW of circuits", kilowatts, shown.circuits_kw, tolerance)
    yield Check(name, "kW of banks = kW of feeders", kilowatts, sum(row.connected_kw for row in project.feeders), tolerance)
    yield Check(name, "Panels of banks = panels of types", shown.panels, sum(len(kind.tags) for kind in project.types), 0.0)
    if project.heat:
        delivered = sum(row.heating_kw for row in project.banks)
        installed = sum(row.installed_kw for row in project.heat)
        yield Check(name, "kW delivered of banks = kW installed of tanks", delivered, installed, CLOSE * max(1.0, delivered))
        tanks = {row.bank.tank.casefold() for row in project.banks}
        yield Check(name, "Tanks of banks = tanks judged or not for heat", len(tanks), sum(row.banks > 0 for row in project.heat), 0.0)
    yield Check(name, "Branches of banks = circuits", shown.on_banks, shown.circuits, 0.0)
    yield Check(name, "Branches of panels = circuits on panels", shown.branches, shown.on_panels, 0.0)


def _amps(name: str, project: ProjectResult) -> Iterator[Check]:
    """Line amps of each feeder against its panels and single-circuit banks added up once more, with other load."""
    loads: dict[str, Loads] = defaultdict(Loads)
    for row in project.banks:
        for panel, start in zip(groups(row.design), row.starts, strict=True):
            loads[row.feeder.feeder] = loads[row.feeder.feeder].plus(rotated(panel.loads, start, row.supply.system))
    for on in project.feeders:
        again = line_currents(loads[on.feeder.feeder], on.supply.system)
        other = on.feeder.other_load_a or 0.0
        names = ("A", "B", "C")[: on.supply.system.lines]
        for letter, line, added in zip(names, on.lines, again, strict=False):
            yield Check(
                name, f"Amps of feeder {on.feeder.feeder}, line {letter} = amps of its panels", line, added + other, CLOSE * max(1.0, line)
            )
