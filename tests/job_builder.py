"""Small jobs built in memory: records with the cell addresses that a template row would have, and settings as a table's plain values."""

from __future__ import annotations

from collections.abc import Callable
from itertools import count
from typing import Any

from msgspec.structs import replace

from batch.findings import Finding, Remarks
from batch.origin import Origin
from batch.received_rows import ReceivedRow, ReceivedTable
from batch.records import Bank, Design, Feeder, Job, Part, Project, Settings, Supply, Tank
from batch.results import BankDesign, BankRow, JobResult
from batch.rules import load
from batch.sheets import INPUTS
from batch.sizing.design import size_design
from batch.sizing.project import size_job
from batch.sizing.sources import KnownSource, fault_at, own_source
from batch.systems import System

RULES = load("NEC 2023")
SHEETS = {sheet.id: sheet for sheet in INPUTS}
_rows = count(2)


def letters(place: int) -> str:
    """0 is A, 25 Z, 26 AA."""
    return letters(place // 26 - 1) + chr(65 + place % 26) if place > 25 else chr(65 + place)


COLUMNS = {
    sheet.id: {column.key: letters(place) for place, column in enumerate(sheet.columns)} for sheet in INPUTS
}


def origin(sheet: str, row: int | None = None) -> Origin:
    """A row of a sheet with the template's columns; rows are numbered on through the whole run unless given."""
    return Origin(SHEETS[sheet].name, next(_rows) if row is None else row, COLUMNS[sheet])


def cell(sheet: str, key: str, record: object) -> str:
    """Where the value `key` of a built record stands: "E17"."""
    return f"{COLUMNS[sheet][key]}{record.origin.row}"


def project(**given: object) -> Project:
    return Project(**{"project": "P-1", "code_basis": "NEC 2023", "origin": origin("projects"), **given})


def feeder(**given: object) -> Feeder:
    """480 V, 3-phase, 3 wires of a grounded wye, source and length known: nothing to say about it."""
    usual = {
        "project": "P-1", "feeder": "F-1", "volts_v": 480.0, "phases": 3, "wires": 3, "system": "wye grounded", "fault_ka": 4.0,
        "run_m": 10.0, "circuits_in_raceway": 1, "ways_in_raceway": 1, "origin": origin("feeders"),
    }  # fmt: skip
    return Feeder(**usual | given)


def tank(**given: object) -> Tank:
    return Tank(**{"project": "P-1", "tank": "T-1", "level_cutoff": "yes", "origin": origin("tanks"), **given})


def bank(**given: object) -> Bank:
    """Three 6 kW, 480 V one-phase heaters in delta on F-1, direct: nothing to say about them."""
    usual = {
        "project": "P-1", "tank": "T-1", "bank": "1", "feeder": "F-1", "quantity": 3, "power_kw": 6.0, "volts_v": 480.0, "phases": 1,
        "connection": "delta", "heater_run_m": 5.0, "panel_feeder_run_m": 5.0, "circuits_in_raceway": 1,
        "panel_feeders_in_raceway": 1, "over_temperature_limit": "yes", "origin": origin("heaters"),
    }  # fmt: skip
    return Bank(**usual | given)


def part(**given: object) -> Part:
    return Part(**{"part": "S-1", "origin": origin("stock"), **given})


def job(
    banks: Bank | list[Bank], feeders: list[Feeder] | Feeder | None = None, tanks: list[Tank] | None = None,
    projects: list[Project] | Project | None = None, stock: list[Part] | None = None, findings: tuple[Finding, ...] = (),
) -> Job:  # fmt: skip
    """A job of these records; left out: the usual project and feeder, and a tank with a level cutoff for each tank tag."""
    banks = banks if isinstance(banks, list) else [banks]
    if tanks is None:
        names = dict.fromkeys((one.project, one.tank) for one in banks)
        tanks = [tank(project=name, tank=tag) for name, tag in names]
    feeders = [feeder()] if feeders is None else feeders if isinstance(feeders, list) else [feeders]
    projects = [project()] if projects is None else projects if isinstance(projects, list) else [projects]
    received = ReceivedTable("Heaters", "heaters", 1, (), (), tuple(ReceivedRow("Heaters", one.origin.row, ()) for one in banks))
    return Job("job.xlsx", "0" * 64, tuple(projects), tuple(feeders), tuple(tanks), tuple(banks), tuple(stock or ()), (received,), findings)


def size(*args: object, **given: object) -> JobResult:
    return size_job(job(*args, **given))


def one_bank(result: JobResult) -> BankRow:
    [row] = result.projects[0].banks
    return row


def of_feeder(supply: Supply, **given: object) -> KnownSource:
    """The source of a feeder that names none."""
    return own_source(feeder(**{"fault_ka": None, "volts_v": supply.volts_v, "phases": supply.phases, **given}), supply, RULES, Remarks())


def fault_behind_runs(source_ka: float, supply: Supply, runs: tuple, how: Settings, rules: object) -> float:
    """Fault current, kA, behind runs of (wires, length m) from a source whose fault current is given."""
    found = fault_at(of_feeder(supply, fault_ka=source_ka), supply, runs, how, rules)
    assert found is not None
    return found


def settings(**given: object) -> Settings:
    """The rule set's defaults, as if every setting were left blank, but for what is given."""
    names = [name for name in Settings.__struct_fields__ if RULES.knows_setting(name)]  # the others are of other codes
    return replace(Settings(**{name: RULES.default(name).value for name in names}), **given)


DELTA_480 = Supply(480.0, 3, System.DELTA)
WYE_480 = Supply(480.0, 3, System.WYE_GROUNDED)
WYE_480_4 = Supply(480.0, 4, System.WYE_GROUNDED)


def design(**given: object) -> Design:
    usual = {"quantity": 3, "power_kw": 6.0, "volts_v": 480.0, "phases": 1, "supply": WYE_480, "settings": settings()}
    return Design(**usual | given)


def sized(**given: object) -> BankDesign:
    return size_design(design(**given), RULES)


def heard(function: Callable[..., Any], *args: object, **given: object) -> tuple[Any, Remarks]:
    """What a function of sizing returns, and what it says."""
    said = Remarks()
    return function(*args, said=said, **given), said


def codes(findings: object) -> set[str]:
    """Codes of findings or remarks."""
    return {one.code for one in findings}
