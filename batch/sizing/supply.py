"""What a feeder is, which feeder a bank hangs on, and what is assumed where nobody says."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import islice

from batch.findings import Remarks, remark
from batch.records import Bank, Feeder, Supply
from batch.results import NotSized
from batch.rules import RuleSet
from batch.sizing.connection import CannotSize
from batch.systems import SYSTEMS, System

NAMED = 8  # feeders that a remark names
USUALLY_GROUNDED = "B"  # of a corner-grounded delta; common practice, no source
VOLTS_BEHIND = re.compile(r"(?:(.*[^\s,@(])[\s,@(]+)?(\d{2,4}(?:\.\d+)?)\s*v(?:ac|olts?)?\.?\)?", re.I)  # "MCC-1 480V"; not "480Y/277V"
LEAST_VOLTS_SAID = 100.0  # of a supply of heaters whose own volts are others; common practice, no source
BETWEEN = re.compile(r"(?<!\d)[\W_]+|[\W_]+(?!\d)")  # signs and spaces of a tag, but for those that part figures: F-1-2 is not F-12


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
            if abs(volts - high_leg) < 1.0:
                return System.HIGH_LEG_DELTA, f"4 wires at {volts:g} V"
            return System.WYE_GROUNDED, "3-phase, 4 wires"
        return System.UNKNOWN, "3-phase, 3 wires: ratings as for a delta, the cautions of a delta and of a wye"
    if wires == 3:
        return System.THREE_WIRE, "1-phase, 3 wires"
    if volts in rules.named_list("branch_voltage_ln").value:
        return System.LINE_TO_NEUTRAL, f"1-phase at {volts:g} V"
    return System.LINE_TO_LINE, "1-phase, 2 wires"


def assumed_feeders(project: str, banks: Sequence[Bank], names: Mapping[tuple[str, float], str], rules: RuleSet) -> tuple[Feeder, ...]:
    """One feeder for each distinct heater volts where a project has none, named by its volts; where rows name what they are fed from,
    one for each of those and their volts, named as they name it, with the volts behind where it has several.
    `names`: those of `assumed_names`.

    3-phase 3-wire where a heater at those volts is 3-phase or the volts exceed 300, else 1-phase line to line; line to neutral at the
    nominal volts to neutral (120, 277, 347 V), since no fuse may stand in what is likely a neutral. Common practice.
    """
    most = rules.factor("assume_three_phase_over_v").value
    feeders = []
    of_three = {_fed(bank) for bank in banks if bank.phases == 3}
    for key, name in names.items():
        volts = key[1]
        three = volts > most or key in of_three
        to_neutral = volts in rules.named_list("branch_voltage_ln").value
        system = System.UNKNOWN if three else System.LINE_TO_NEUTRAL if to_neutral else System.LINE_TO_LINE
        feeders.append(Feeder(project, name, volts, 3 if three else 1, 3 if three else 2, system.value))
    return tuple(feeders)


def assumed_names(banks: Sequence[Bank]) -> dict[tuple[str, float], str]:
    """The tag of the feeder assumed for each tag that rows name, folded ("" where they name none), and volts; no two alike."""
    tags = {_fed(bank): _tag_and_volts(bank.feeder, bank.volts_v)[0] for bank in reversed(banks)}
    several = Counter(tag for tag, _ in tags)
    found: dict[tuple[str, float], str] = {}
    for tag, volts in sorted(tags):
        own = f"{volts:g} V"
        name = own if not tag else f"{tags[tag, volts]} {own}" if several[tag] > 1 else tags[tag, volts]
        used = {one.casefold() for one in found.values()}
        while name.casefold() in used:
            name = f"{name} {own}"
        found[tag, volts] = name
    return found


def _fed(bank: Bank) -> tuple[str, float]:
    tag, volts = _tag_and_volts(bank.feeder, bank.volts_v)
    return tag.casefold(), volts


def _tag_and_volts(feeder: str | None, volts: float) -> tuple[str, float]:
    """What a row calls its feeder, and the volts of that: those that the tag itself says ("480V", "MCC-1 480 V"), else its heaters'."""
    tag = (feeder or "").strip()
    if tag == f"{volts:g}":
        return "", volts
    said = VOLTS_BEHIND.fullmatch(tag)
    if said is None or (float(said[2]) < LEAST_VOLTS_SAID and float(said[2]) != volts):  # "LCP 24 V" is named by its control volts
        return tag, volts
    return said[1] or "", float(said[2])


def may_feed(feeder: str, volts: float | None, assumed: Mapping[tuple[str, float], str]) -> tuple[str, ...]:
    """The assumed feeders that a row which is not sized may hang on: that of its tag and volts, else all of its tag; () = not known."""
    tag, own = _tag_and_volts(feeder, volts or 0.0)
    name = assumed.get((tag.casefold(), own))
    if name is not None:
        return (name,)
    return tuple(each for (called, _), each in assumed.items() if called == tag.casefold()) if tag else ()


def nearly_alike(assumed: Mapping[tuple[str, float], str]) -> Iterator[list[str]]:
    """Assumed feeders whose tags only signs and spaces tell apart, as MCC-1 and MCC1: most likely one supply."""
    found: dict[str, dict[str, list[str]]] = {}
    for (tag, _), name in assumed.items():
        found.setdefault(BETWEEN.sub("", tag), {}).setdefault(tag, []).append(name)
    for plain, tags in found.items():
        if plain and len(tags) > 1:
            yield [name for names in tags.values() for name in names]


def hung(rows: Iterable[NotSized], feeders: Sequence[Feeder], assumed: Mapping[tuple[str, float], str]) -> list[NotSized]:
    """Rows that are not sized, with the feeders that they may hang on: a row that names none hangs on the only one that is listed."""
    only = feeders[0].feeder if len(feeders) == 1 and not assumed else ""
    found = []
    for row in rows:
        names = (row.feeder or only,) if not assumed or row.feeder in assumed.values() else may_feed(row.feeder, row.volts_v, assumed)
        found.append(replace(row, feeder=names[0]) if len(names) == 1 else replace(row, may_hang_on=names))
    return found


def assumed_words(feeder: Feeder) -> str:
    """ "480 V (3-phase)", "MCC-12A (480 V, 3-phase)"."""
    volts = "" if feeder.feeder.endswith(f"{feeder.volts_v:g} V") else f"{feeder.volts_v:g} V, "
    return f"{feeder.feeder} ({volts}{feeder.phases}-phase)"


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
        return feeders[assumed[_fed(bank)].casefold()]
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
