"""Findings: everything a person should know, worst first."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from itertools import islice
from typing import NamedTuple

from msgspec.structs import replace

from batch.counted_words import counted
from batch.findings import Finding, Kind, Severity
from batch.results import JobResult, ProjectResult
from batch.schedules.row_words import listed
from batch.schedules.schedule import Schedule, its_bank, its_feeder, its_project, its_tank, ordinal, text

FEW_FEEDERS = 3  # of a project: more that carry a caution are one line (common practice, no source)
MOST_FEEDERS = 60  # named in such a line, a page of them: a cell ends at 32,767 characters, and a large job has thousands of feeders
LONGEST = 800  # characters of a line that holds several notes: about twenty lines of its cell
KILOAMPERES = re.compile(r"(\d+(?:\.\d+)?) kA")
SENTENCE = re.compile(r"(?<=[.?]) (?=[A-Z])")


class FindingLine(NamedTuple):
    """One finding, notes of a project that read `alike`, or a caution that is said once for the project or once a feeder."""

    number: int
    first: Finding
    kind: Kind
    alike: Sequence[Finding]
    alone: bool
    message: str


def _items(result: JobResult) -> Iterator[FindingLine]:
    """Worst first, by severity and then by harm; within these what is said of one feeder stands together, else in reading order. Notes of
    a project that read alike, or are of a kind that many rows carry, are one row with a count; so is a caution that nearly all its feeders or banks carry, or many banks of a feeder or of several.
    """
    projects = {project.project.project: project for project in result.projects}
    lines: dict[tuple, list[Finding]] = {}
    places: dict[tuple[str, str], int] = {}
    spread = _spread(result.findings)
    for at, finding in enumerate(result.findings):
        places.setdefault((finding.project, finding.feeder), at)
        alike: tuple = (at,)
        if finding.kind.by_project:
            alike = finding.project, finding.code, _cause(finding)
        elif finding.severity is Severity.NOTE:
            alike = finding.project, finding.code, finding.message
        elif finding.project in projects and finding.code in projects[finding.project].said_once:
            alike = finding.project, finding.code
        elif finding.kind.by_feeder:
            alike = (finding.project, finding.code, *([] if (finding.project, finding.code) in spread else [finding.feeder]))
        lines.setdefault(alike, []).append(finding)

    def order(group: Sequence[Finding]) -> tuple[int, int, int]:
        first = group[0]
        return first.severity, first.kind.harm, places[first.project, first.feeder]

    listed_groups = (part for group in sorted(lines.values(), key=order) for part in (_parts(group) if group[0].kind.by_project else [group]))
    for at, group in enumerate(listed_groups, start=1):
        first = group[0]
        message = first.message
        if first.kind.by_project and len(group) > 1:
            message = project_words(group)
        elif first.severity is Severity.CAUTION and len(group) > 1:
            own = projects.get(first.project)
            once = own is not None and first.code in own.said_once
            message = once_words(own, group) if own is not None and once else spread_words(group)
        yield FindingLine(at, first, first.kind, group, len(group) == 1, message)


def once_words(project: ProjectResult, group: Sequence[Finding]) -> str:
    """ "Interrupting rating to be chosen: 50 of 51 feeders, all but F-17. The first: …"."""
    first = group[0]
    if first.tank or first.bank:
        what, names = "banks", [f"{row.bank.tank}/{row.label}" for row in project.banks]
        carried = {f"{row.bank.tank}/{row.label}" for row in project.banks if any(one.code == first.code for one in row.findings)}
    else:
        what, names = "feeders", [row.feeder.feeder for row in project.feeders if row.banks]
        carried = {finding.feeder for finding in group}
    without = [name for name in names if name not in carried]
    which = f"{len(names) - len(without):,} of {len(names):,} {what}, all but {listed(without)}" if without else f"all {len(names):,} {what}"
    most = max(group, key=_highest_ka)  # whoever orders by the line reads the highest
    return f"{first.kind.title}: {which}. " + (f"The first: {first.message}" if _highest_ka(most) == 0 else f"The highest: {most.message}")


def _highest_ka(one: Finding) -> float:
    """The first fault current that a finding states, in kA; 0 = none."""
    said = KILOAMPERES.search(one.message)
    return float(said[1]) if said else 0.0


def _spread(findings: Sequence[Finding]) -> set[tuple[str, str]]:
    """Cautions that many feeders of a project carry, or what hangs on them: project and code."""
    feeders: dict[tuple[str, str], set[str]] = {}
    for one in findings:
        if one.kind.by_feeder and one.severity is Severity.CAUTION and one.feeder:
            feeders.setdefault((one.project, one.code), set()).add(one.feeder)
    return {key for key, named in feeders.items() if len(named) > FEW_FEEDERS}


def spread_words(group: Sequence[Finding]) -> str:
    """ "Short circuit: energy let through: 14 feeders. F-1: 6 banks, and 3 circuits ahead of its banks; F-2: 1 bank. The first: …"."""
    feeders: dict[str, list[Finding]] = {}
    for one in group:
        feeders.setdefault(one.feeder, []).append(one)
    if len(feeders) < 2:
        return feeder_words(group)
    each = "; ".join(f"{name}: {_how_many(ones)}" for name, ones in islice(feeders.items(), MOST_FEEDERS))
    each += f"; and {len(feeders) - MOST_FEEDERS:,} more, as their rows say" if len(feeders) > MOST_FEEDERS else ""
    return f"{group[0].kind.title}: {len(feeders):,} feeders. {each}. The first, of {group[0].feeder}: {group[0].message}"


def _how_many(group: Sequence[Finding]) -> str:
    """ "6 banks, and 3 circuits ahead of its banks"."""
    banks = len(dict.fromkeys(f"{one.tank}/{one.bank}" for one in group if one.tank or one.bank))
    own = sum(not one.tank and not one.bank for one in group)
    said = [counted(banks, "bank")] * (banks > 0) + [f"{counted(own, 'circuit')} ahead of its banks"] * (own > 0)
    return ", and ".join(said)


def feeder_words(group: Sequence[Finding]) -> str:
    """ "Several heaters behind one large device: 3 banks of F-1, T-101/1, T-102/1, T-104/2. The first: …"."""
    first = group[0]
    banks = dict.fromkeys(f"{one.tank}/{one.bank}" for one in group if one.tank or one.bank)
    own = sum(not one.tank and not one.bank for one in group)  # of the feeder itself, and of what stands between it and the banks
    ahead = f"{counted(own, 'circuit')} ahead of its banks" if own else ""
    if not banks:
        return f"{first.kind.title}: {first.feeder}, {ahead}. The first: {first.message}"
    more = f", and {ahead}" if own else ""
    return f"{first.kind.title}: {counted(len(banks), 'bank')} of {first.feeder}, {listed(list(banks))}{more}. The first: {first.message}"


def _parts(group: Sequence[Finding]) -> Iterator[list[Finding]]:
    """Notes of a kind, those that say the same together, in lines that fit a page."""
    alike: dict[str, list[Finding]] = {}
    for one in group:
        alike.setdefault(_own_words(one), []).append(one)
    part: list[Finding] = []
    room, last = LONGEST, ""
    for words, ones in alike.items():
        for one in ones:
            need = len(_tag(one)) + 2 + (len(words) if words != last else 0)
            if part and need > room:
                yield part
                part, room, need = [], LONGEST, len(_tag(one)) + 2 + len(words)
            part.append(one)
            room, last = room - need, words
    yield part


def _cause(one: Finding) -> str:
    """The sentence that says it, of a kind whose rows are told apart by it."""
    return SENTENCE.split(one.message)[0] if one.kind.by_cause else ""


def _own_words(one: Finding) -> str:
    return one.message.removeprefix(f"{one.feeder or _tag(one)}: ")


def _tag(one: Finding) -> str:
    """The bank, tank or feeder that it is about; of a source what its words begin with."""
    own = one.message.partition(": ")[0] if one.kind.template.startswith("{source}: ") else ""
    return (f"{one.tank}/{one.bank}" if one.bank else one.tank) or one.feeder or own


def project_words(group: Sequence[Finding]) -> str:
    """ "Far more heat than needed: T-103: 18 kW is installed; … T-107: 9 kW …". Those that say the same stand together, and a sentence that
    all of them say stands once, at the end; the tags are all there.
    """
    first = group[0]
    said: dict[tuple[str, ...], list[str]] = {}
    for one in group:
        said.setdefault(tuple(SENTENCE.split(_own_words(one))), []).append(_tag(one))
    if len(said) == 1:
        return f"{', '.join(dict.fromkeys(next(iter(said.values()))))}: {' '.join(next(iter(said)))}"
    shared = [words for words in next(iter(said)) if all(words in sentences for sentences in said)]
    own = [(", ".join(dict.fromkeys(tags)), [words for words in sentences if words not in shared]) for sentences, tags in said.items()]
    if (cause := _cause(first)) in shared:
        return " ".join([cause, *(f"{tags}: {' '.join(sentences)}" for tags, sentences in own), *shared[1:]])
    return " ".join([f"{first.kind.title}.", *(f"{tags}: {' '.join(sentences)}" for tags, sentences in own), *shared])


FINDINGS = Schedule(
    "findings", "Findings", "finding", "Everything a person should know, worst first. Notes are said once with a count.", key=("no",),
    items=_items,
    columns=(
        ordinal("no", "No.", "", "number",
                width=6, help="Number of the finding in this workbook."),
        text("severity", "Severity", 9, "kind.severity.word",
             role="result", help="hold, caution or note."),
        text("harm", "Harm", 9, "kind.harm.word",
             help="What can come of it where nobody looks: fire, shock, overload, price, or blank. These come first, in this order."),
        text("effect", "Effect", 14, "kind.effect.word",
             role="result", help="not sized: left out of every total; not released for fabrication: sized and counted, but must not be built so."),
        text("kind", "Finding", 22, "kind.title",
             role="result", help="The kind of finding, as rows of Banks, Panels and Feeders name it."),
        text("message", "What", 40, "message",
             role="result", help="What was found."),
        text("advice", "What to do", 34, "kind.advice",
             help="How to put it right."),
        text("go_to", "Go to", 16, lambda at: "",
             role="result", help="Sheet and row that it is about; a link, set when the sheets stand."),
        replace(its_project("first.project"), width=9),
        replace(its_tank(lambda at: at.first.tank if at.alone else ""), width=10),
        replace(its_bank(lambda at: at.first.bank if at.alone else ""), width=6),
        replace(its_feeder(lambda at: at.first.feeder if at.alone or len({finding.feeder for finding in at.alike}) == 1 else ""), width=8),
        ordinal("count", "Rows", "ea", lambda at: len(at.alike),
                width=6, role="calculation", help="How many rows it concerns."),
        text("where", "Sheet and cell", 15, lambda at: f"{at.first.address} … ({len(at.alike)} rows)" if at.first.address and not at.alone else at.first.address,
             help="Where it stands in the workbook that was read."),
        text("seen", "Value seen", 16, lambda at: at.first.seen if at.alone else "",
             role="input", help="What stood there. Not printed.", on_paper=False),
        text("basis", "Basis", 36, "first.basis",
             help="Rule or practice behind it. Not printed.", on_paper=False),
        text("code", "Code", 17, "kind.code",
             help="Stable name of this kind, by which templates/reference.md lists them all. Not printed.", on_paper=False),
    ),
)
