"""Group 90, where the code sets times for earth faults: what is tested of each circuit of a feeder, and room for what was read.

What must be read follows from the sizing. A row for each feeder, way, panel feeder, and for the branches of a panel together, of which the
highest reading is written down; none for what is on hold.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from batch.counted_words import counted
from batch.method.heater_test import insulation_test
from batch.method.residual_devices import largest_electrode
from batch.papers.insulation_words import high_test, known_by
from batch.papers.job_at_hand import AtHand, first_of
from batch.papers.paper_data import ColumnHead, Paper, PaperFact, PaperTable, table
from batch.papers.paper_sets import RECORDS
from batch.results import BankRow, FeederRow
from batch.rules import RuleSet, load
from batch.schedules.designations import bank_before, marks_of
from batch.schedules.row_words import earthed, single_tag
from batch.sizing.loop_readings import LoopReading, loop_readings, loops_ahead
from batch.sizing.words import fault_current

BLANK, ROOM = "____", ""


class _Tested(NamedTuple):
    """A circuit, where it is read, and its loop."""

    tag: str
    ends: str
    loop: LoopReading


def circuit_test_papers(at: AtHand) -> Iterator[Paper]:
    """One for each feeder; none under a code that sets no times."""
    rules = load(at.project.rule_set)
    for serial, feeder in enumerate((row for row in at.project.feeders if row.earth_faults), start=1):
        banks = [row for row in at.project.banks if row.feeder.feeder == feeder.feeder.feeder]
        found = [*_ahead(feeder, rules), *(one for row in banks if row.hold is None for one in _of_bank(at, row, feeder, rules))]
        held = sum(row.hold is not None for row in banks)
        yield at.paper(
            RECORDS, "record", f"Feeder {feeder.feeder.feeder}: circuit tests", number=f"C{serial:02d}",
            quantity=f"{len(found):,}", tags=first_of(dict.fromkeys(row.bank.tank for row in banks)),
            facts=tuple(_facts(at, feeder)),
            tables=(_table(found, feeder, rules), *_electrode(at, found, feeder, rules)),
            notes=tuple(_notes(found, feeder, held, rules)),
        )  # fmt: skip


def _ahead(feeder: FeederRow, rules: RuleSet) -> Iterator[_Tested]:
    for loop in loops_ahead(feeder, rules):
        yield _Tested(loop.fault.tag, "its end" if loop.fault.circuit == "feeder" else f"{loop.fault.tank}/HCP", loop)


def _of_bank(at: AtHand, row: BankRow, feeder: FeederRow, rules: RuleSet) -> Iterator[_Tested]:
    marks = marks_of(at.project, bank_before(at.project, row))
    for panel in row.panels or (None,):
        heaters = row.bank.quantity if panel is None else panel.design.heaters
        first = 1 if panel is None else panel.first_heater
        names = dict.fromkeys((marks.heater(first), marks.heater(first + heaters - 1)))
        tag = single_tag(row) if panel is None else panel.tag
        for loop in loop_readings(row, panel, feeder, rules):
            yield _Tested(tag, "its block" if loop.fault.circuit == "panel feeder" else " to ".join(names), loop)


def _facts(at: AtHand, feeder: FeederRow) -> Iterator[PaperFact]:
    supply, name = feeder.supply, feeder.feeder.feeder
    yield PaperFact("Feeder", f"{name}, {supply.volts_v:g} V, {supply.phases}-phase, {supply.system}{earthed(at.project, name)}")
    worked = BLANK + " kA" if feeder.fault_ka is None else fault_current(feeder.fault_ka)
    yield PaperFact("At its source", f"fault current {worked} as sized, {BLANK} kA read; loop {BLANK} ohm read")


def _table(found: Sequence[_Tested], feeder: FeederRow, rules: RuleSet) -> PaperTable:
    volts, least = insulation_test(feeder.supply.volts_v, rules).value, rules.factor("insulation_cold_mohm").value
    slow, fast = rules.factor("residual_time_s").value, rules.factor("residual_fast_s").value
    holds, times = rules.factor("residual_holds").value, rules.factor("residual_multiple").value
    tt = feeder.earthing == "TT"
    residual = tt or any(one.loop.fault.residual_ma is not None for one in found)
    loops = [
        ColumnHead("Loop hot, worked out", "ohm, of at most", "right", 1.5), ColumnHead("At most, cold", "ohm", "right", 1.0)
    ]  # fmt: skip
    heads = [
        ColumnHead("Circuit", share=2.0), ColumnHead("Read at", share=1.6), ColumnHead("OCPD", share=1.8),
        ColumnHead("Within", "s", "right", 0.7),
        ColumnHead("PE joined", "ohm", "left", 0.9), ColumnHead("Insulation", f"{volts:g} V DC, at least {least:g} Mohm", "left", 1.7),
        ColumnHead("Polarity", share=0.8), *([ColumnHead("Opened by", share=1.6)] if tt else loops),
        ColumnHead("Loop read", "ohm", "left", 0.9),
    ]  # fmt: skip
    if residual:
        heads += [
            ColumnHead("Residual-current device", "mA, type", "right", 1.4), ColumnHead("Stays", f"at {holds:g} of it", "left", 0.8),
            ColumnHead("Opens", f"at it: {slow:g} s", "left", 0.9), ColumnHead("Opens fast", f"at {times:g} of it: {fast:g} s", "left"),
        ]  # fmt: skip
    heads.append(ColumnHead("Initials", share=0.8))
    return table("", heads, (_row(one, rules, residual) for one in found))


def _row(one: _Tested, rules: RuleSet, residual: bool) -> tuple[str, ...]:
    fault = one.loop.fault
    within = BLANK if fault.within_s is None else f"{fault.within_s:g}"
    tt, type = fault.earthing == "TT", rules.residual_type.value  # in a TT system no loop of line and PE decides: its electrodes are in it
    loops = (fault.how,) if tt else (_hot(one.loop), _ohms(one.loop.most_ohm) or fault.how)
    trip = f"{BLANK}, {type}, delayed" if fault.residual_ma is None and tt else ""
    if fault.residual_ma is not None:
        trip = f"{fault.residual_ma:g}, {type}"
    more = (trip, *(ROOM if trip else "none" for _ in range(3))) if residual else ()
    return one.tag, one.ends, fault.device, within, ROOM, ROOM, ROOM, *loops, ROOM, *more, ROOM


def _hot(loop: LoopReading) -> str:
    """ "0.282 of 0.346": the loop of conductors as warm as they may be, and what it may be then, where a loop decides."""
    fault = loop.fault
    worked = _ohms(fault.loop_ohm if fault.fault_a is not None else None) or BLANK
    return worked if loop.most_ohm is None else f"{worked} of {_ohms(fault.most_ohm)}"


def _electrode(at: AtHand, found: Sequence[_Tested], feeder: FeederRow, rules: RuleSet) -> Iterator[PaperTable]:
    """What is read of the earth electrode of a TT or IT system, and in an IT system of its insulation monitor."""
    if feeder.earthing not in ("TT", "IT"):
        return
    ohm, touch = _electrode_ohm(at, feeder), rules.factor("touch_voltage_v").value
    given = "not given" if ohm is None else f"given as {ohm:g} ohm"
    electrode = "Earth electrode with its protective conductor, R_A"
    if feeder.earthing == "TT":
        clause = rules.clause("fault_protection_tt")
        trip = max((one.loop.fault.residual_ma or 0.0 for one in found), default=0.0)  # the greatest asks most of the electrode
        most = f"{largest_electrode(trip, rules).value:.4g} ohm: {touch:g} V over {trip:g} mA" if trip else f"{touch:g} V over {BLANK} mA"
        rows = [(electrode, f"{given}; at most {most} ({clause})", f"{BLANK} ohm")]
        if any(one.loop.fault.residual_ma is None for one in found):
            what = "Residual-current device at the origin, by others unless ordered"
            rows.append((what, f"{touch:g} V over its {BLANK} mA: R_A at most {BLANK} ohm; delayed, so that those behind open first", ROOM))
    else:
        clause = rules.clause("fault_protection_it")
        rows = [
            (electrode, f"{given}; times the current of a first fault at most {touch:g} V ({clause})", f"{BLANK} ohm, {BLANK} A"),
            (f"Insulation monitor, set to {BLANK} kohm", "a line to PE by a resistor of that value, for the test: it tells", ROOM),
        ]  # fmt: skip
    heads = (
        ColumnHead("Test", share=2.4), ColumnHead("Must show", share=4.6), ColumnHead("Read", share=1.2), ColumnHead("Initials", share=0.8)
    )  # fmt: skip
    yield table(f"Earth electrode, {feeder.earthing}", heads, ((*row, ROOM) for row in rows))


def _electrode_ohm(at: AtHand, feeder: FeederRow) -> float | None:
    """As its own row gives it, else its source's."""
    if feeder.feeder.electrode_ohm is not None:
        return feeder.feeder.electrode_ohm
    return next((one.source.electrode_ohm for one in at.project.sources if feeder.source and one.source.source == feeder.source), None)


def _ohms(value: float | None) -> str:
    return "" if value is None else f"{value:#.3g}"


def _notes(found: Sequence[_Tested], feeder: FeederRow, held: int, rules: RuleSet) -> Iterator[str]:
    yield "Dead first: protective conductors, insulation with heaters off, polarity. Then live: line to PE, of several heaters the highest."
    if feeder.earthing == "TT":
        yield "TT: no loop of line and PE opens a device in time; residual-current devices and the electrode do."
    else:
        share = rules.factor("loop_cold")
        yield f"At most, cold: {share.value:.2f} of volts to earth over operating current ({known_by(share)})."
        yield "Loop hot, worked out: conductors at their working temperature, against its own limit; cold they read less."
    if feeder.earthing == "IT":
        yield "IT: the loop is that of a second fault, read with another line earthed at the source for the test, or worked out."
    if any(one.loop.fault.residual_ma is not None for one in found):
        times = rules.factor("residual_time_s")
        yield f"Residual-current devices with heaters off: damp ones may trip them ({known_by(times)}); a delayed one opens by its marking."
    yield from high_test(insulation_test(feeder.supply.volts_v, rules), rules)
    if held:
        yield f"No row for {counted(held, 'bank')} on hold."
