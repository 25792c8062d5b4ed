"""Feeders that are assumed where a project lists none: by the names that rows give and the heaters' volts."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence

from msgspec.structs import replace

from batch.findings import Remark, remark
from batch.records import Bank, Feeder
from batch.rules import RuleSet
from batch.systems import System
from batch.unsized_results import NotSized

VOLTS_BEHIND = re.compile(r"(?:(.*[^\s,@(])[\s,@(]+)?(\d{2,4}(?:\.\d+)?)\s*v(?:ac|olts?)?\.?\)?", re.I)  # "MCC-1 480V"; not "480Y/277V"
LEAST_VOLTS_SAID = 100.0  # of a supply of heaters whose own volts are others; common practice, no source
BETWEEN = re.compile(r"(?<!\d)[\W_]+|[\W_]+(?!\d)")  # signs and spaces of a tag, but for those that part figures: F-1-2 is not F-12


def assumed_feeders(project: str, banks: Sequence[Bank], names: Mapping[tuple[str, float], str], rules: RuleSet) -> tuple[Feeder, ...]:
    """One feeder for each distinct heater volts where a project has none, named by its volts; where rows name what they are fed from,
    one for each of those and their volts, named as they name it, with the volts behind where it has several.
    `names`: those of `assumed_names`.

    3-phase 3-wire where a heater at those volts is 3-phase or the volts exceed 300, else 1-phase line to line; line to neutral at the
    nominal volts to neutral (120, 277, 347 V), since no fuse may stand in what is likely a neutral. Common practice.
    """
    most = rules.factor("assume_three_phase_over_v").value
    feeders = []
    of_three = {fed(bank) for bank in banks if bank.phases == 3}
    for key, name in names.items():
        volts = key[1]
        three = volts > most or key in of_three
        to_neutral = volts in rules.named_list("branch_voltage_ln").value
        system = System.UNKNOWN if three else System.LINE_TO_NEUTRAL if to_neutral else System.LINE_TO_LINE
        feeders.append(Feeder(project, name, volts, 3 if three else 1, 3 if three else 2, system.value))
    return tuple(feeders)


def assumed_names(banks: Sequence[Bank]) -> dict[tuple[str, float], str]:
    """The tag of the feeder assumed for each tag that rows name, folded ("" where they name none), and volts; no two alike."""
    written = {fed(bank): (bank.feeder or "").strip() for bank in reversed(banks)}
    several = Counter(tag for tag, _ in written)
    found: dict[tuple[str, float], str] = {}
    for tag, volts in sorted(written):
        own, name = f"{volts:g} V", written[tag, volts]
        if not tag:
            name = own
        elif several[tag] > 1 and name.casefold() == tag:
            name = f"{name} {own}"
        used = {one.casefold() for one in found.values()}
        while name.casefold() in used:
            name = f"{name} {own}"
        found[tag, volts] = name
    return found


def fed(one: Bank | Feeder) -> tuple[str, float]:
    """The tag by which a row calls its feeder, folded, "" where it says none, and that feeder's volts."""
    tag, volts = _tag_and_volts(one.feeder, one.volts_v or 0.0)
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


def _may_feed(feeder: str, volts: float | None, assumed: Mapping[tuple[str, float], str]) -> tuple[str, ...]:
    """The assumed feeders that a row which is not sized may hang on: that of its tag and volts, else all of its tag; () = not known."""
    tag, own = _tag_and_volts(feeder, volts or 0.0)
    name = assumed.get((tag.casefold(), own))
    if name is not None:
        return (name,)
    return tuple(each for (called, _), each in assumed.items() if called == tag.casefold()) if tag else ()


def _nearly_alike(assumed: Mapping[tuple[str, float], str]) -> Iterator[list[str]]:
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
        names = (row.feeder or only,) if not assumed or row.feeder in assumed.values() else _may_feed(row.feeder, row.volts_v, assumed)
        found.append(replace(row, feeder=names[0]) if len(names) == 1 else replace(row, may_hang_on=names))
    return found


def said_of_assumed(feeders: Sequence[Feeder], assumed: Mapping[tuple[str, float], str]) -> Iterator[Remark]:
    """What a project is told of the feeders assumed for it."""
    yield remark("feeders-assumed", "feeder", feeders=", ".join(map(_words, feeders)))
    for names in _nearly_alike(assumed):
        yield remark("feeders-nearly-alike", "feeder", feeders=" and ".join(names))


def _words(feeder: Feeder) -> str:
    """ "480 V (3-phase)", "MCC-12A (480 V, 3-phase)"."""
    volts = "" if feeder.feeder.endswith(f"{feeder.volts_v:g} V") else f"{feeder.volts_v:g} V, "
    return f"{feeder.feeder} ({volts}{feeder.phases}-phase)"
