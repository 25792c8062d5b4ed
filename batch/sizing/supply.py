"""What a feeder is, and which feeder a bank hangs on."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import islice

from batch.findings import Remarks, remark
from batch.method.currents import same_nominal_volts
from batch.records import Bank, Feeder, Supply
from batch.rules import RuleSet
from batch.sizing.assumed_feeders import fed
from batch.sizing.connection import CannotSize
from batch.systems import SYSTEMS, System

NAMED = 8  # feeders that a remark names
USUALLY_GROUNDED = "B"  # of a corner-grounded delta; common practice, no source


def resolve_supply(feeder: Feeder, rules: RuleSet, said: Remarks) -> Supply:
    """The system of a feeder, given or assumed; raises CannotSize where the cells contradict each other.

    Assumed: 3 wires a delta (no slash-rated breakers); 4 wires a grounded wye, but 240 V in 4 wires a high-leg delta; one phase
    by its volts and wires. Forms of supply: table of systems of the rule set.
    """
    if feeder.phases not in (1, 3):
        raise CannotSize(remark("phases-impossible", "phases", phases=feeder.phases))
    if not feeder.volts_v:  # its source would give them, and it names none
        raise CannotSize(remark("system-conflict", "volts_v", feeder=feeder.feeder, what="no volts, and no source that gives them"))
    if feeder.system is None:
        system, why = _assumed_system(feeder, rules)
        said.add("system-assumed", "system", feeder=feeder.feeder, system=system, why=why)
    else:
        system = SYSTEMS[feeder.system]
    if system.phases != feeder.phases:
        what = f"{feeder.phases}-phase, and the system is {system}"
        raise CannotSize(remark("system-conflict", "system", feeder=feeder.feeder, what=what))
    wires = feeder.wires or system.wires[0]
    if wires not in system.wires:
        raise CannotSize(remark("system-conflict", "wires", feeder=feeder.feeder, what=f"{wires} wires, and the system is {system}"))
    if system is System.HIGH_LEG_DELTA:
        said.add("high-leg", "system", feeder=feeder.feeder)
    grounded = ""
    if system is System.CORNER_GROUNDED_DELTA:
        grounded = feeder.grounded_line or USUALLY_GROUNDED
        if feeder.grounded_line is None:
            said.add("grounded-line-assumed", "grounded_line", feeder=feeder.feeder, line=grounded)
    return Supply(feeder.volts_v, wires, system, grounded)


def _assumed_system(feeder: Feeder, rules: RuleSet) -> tuple[System, str]:
    """The system that volts, phases and wires point to, and why."""
    volts, wires = feeder.volts_v, feeder.wires
    if feeder.phases == 3:
        if wires == 4:
            high_leg = rules.factor("high_leg_v").value
            if same_nominal_volts(volts, high_leg, rules).value:
                return System.HIGH_LEG_DELTA, f"4 wires at {volts:g} V"
            return System.WYE_GROUNDED, "3-phase, 4 wires"
        return System.UNKNOWN, "3-phase, 3 wires: ratings as for a delta, the cautions of a delta and of a wye"
    if wires == 3:
        return System.THREE_WIRE, "1-phase, 3 wires"
    if volts in rules.named_list("branch_voltage_ln").value:
        return System.LINE_TO_NEUTRAL, f"1-phase at {volts:g} V"
    return System.LINE_TO_LINE, "1-phase, 2 wires"


def by_tag_of(feeders: Sequence[Feeder]) -> dict[str, Feeder]:
    """Feeders by folded tag, in their order; of one tag the first."""
    found: dict[str, Feeder] = {}
    for feeder in feeders:
        found.setdefault(feeder.feeder.strip().casefold(), feeder)
    return found


def feeder_of(bank: Bank, feeders: Mapping[str, Feeder], assumed: Mapping[tuple[str, float], str], said: Remarks) -> Feeder:
    """The feeder a bank hangs on, of those by folded tag; raises CannotSize where it cannot be told. `assumed`: the tags of
    `assumed_names`, where the project has no feeders of its own."""
    if assumed:
        return feeders[assumed[fed(bank)].casefold()]
    names = ", ".join(feeder.feeder for feeder in islice(feeders.values(), NAMED)) + (" …" if len(feeders) > NAMED else "")
    if bank.feeder is None:
        if len(feeders) == 1:
            only = next(iter(feeders.values()))
            said.add("feeder-taken", "feeder", feeder=only.feeder)
            return only
        raise CannotSize(remark("feeder-missing", "feeder", count=len(feeders), feeders=names or "none"))
    found = feeders.get(bank.feeder.strip().casefold())
    if found is None:
        raise CannotSize(remark("feeder-unknown", "feeder", feeder=bank.feeder, feeders=names or "none"))
    return found
