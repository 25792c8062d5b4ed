"""What a customer is told was taken where their list says nothing: settings, what heat was compared with, switches that are in no line."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import NamedTuple

from batch.counted_words import counted_or_no as counted
from batch.counted_words import few
from batch.price.job_costs import scope_of
from batch.records import Job
from batch.results import ProjectResult

NAMED = 12  # tanks in one sentence


class Told(NamedTuple):
    """A setting in a customer's words. `own`: the field of a bank, tank or feeder that states its own; `else_`: what the setting still
    rules where every one does, "" = nothing."""

    words: str
    owner: str = ""
    own: str = ""
    else_: str = ""


TOLD = {
    "Ambient": Told("air around the wiring up to {}", "feeder", "ambient_c"), "Conductor": Told("{} conductors"),
    "Insulation": Told("insulation {}"), "Raceway": Told("raceway {}"),
    "Installation method": Told("wiring by reference method {}", "feeder", "installation"),
    "OCPD type": Told("circuits protected by {}s", "bank", "device_kind", "supplies protected by {}s"),
    "Branch drop": Told("voltage drop of {} at most from a panel to its heaters"), "Total drop": Told("of {} at most from the supply"),
    "Heat margin": Told("heat compared with {} more than a tank needs"),
    "Control volts": Told("control circuits of {}", "tank", "control_v"),
    "Limit reset": Told("tripped limits reset at the {}", "tank", "limit_reset"),
    "Back-up contactor": Told("back-up contactor: {}", "tank", "backup_contactor"),
    "Box location": Told("boxes for a {} place", "tank", "box_location"), "Box material": Told("boxes {}", "tank", "box_material"),
}  # fmt: skip


def taken(one: ProjectResult, job: Job) -> Iterator[str]:
    """Settings that the customer did not state and that what is offered rests on, each with what states its own; then of which tanks what
    was taken for their heat."""
    for setting in one.settings:
        told = TOLD.get(setting.name)
        if told is not None and not setting.given:
            own, all_of_them = _own(told, one, job)
            words = told.else_ if all_of_them else told.words
            if words:
                yield words.format(setting.value) + (f" (but {own} as you listed)" if own and not all_of_them else "")
    alike: dict[tuple[str, ...], list[str]] = {}
    for row in one.heat:
        if row.judged and row.assumed:
            alike.setdefault(row.assumed, []).append(row.tag)
    for assumed, tags in alike.items():
        yield f"heat of {tanks_named('', tags)} compared with {', '.join(assumed)}"


def _own(told: Told, one: ProjectResult, job: Job) -> tuple[str, bool]:
    """Who states the setting itself, in words, and whether all do: banks by their tanks."""
    used = {row.bank.tank.casefold() for row in one.banks}
    of: Sequence[tuple[str, object]] = ()
    if told.owner == "bank":
        of = [(row.bank.tank, getattr(row.bank, told.own)) for row in one.banks]
    elif told.owner == "tank":
        listed = {tank.tank.casefold(): tank for tank in job.tanks if tank.project == one.project.project}
        of = [(tag, getattr(listed.get(tag.casefold()), told.own, None)) for tag in dict.fromkeys(row.bank.tank for row in one.banks)]
    elif told.owner == "feeder":
        of = [(row.feeder.feeder, getattr(row.feeder, told.own)) for row in one.feeders]
    stated = list(dict.fromkeys(tag for tag, value in of if value is not None))
    if not stated:
        return "", False
    words = tanks_named("", stated) if told.owner != "feeder" else f"suppl{'ies' if len(stated) > 1 else 'y'} {few(stated, NAMED)}"
    return words, len(of) == sum(value is not None for _, value in of) and bool(used)


def switches(one: ProjectResult, job: Job) -> Iterator[str]:
    """What the control circuits are wired to and no line holds: limits come with the heaters, level switches with the tanks."""
    limits = sum(row.bank.quantity for row in one.banks if row.bank.over_temperature_limit == "yes")
    used = {row.bank.tank.casefold() for row in one.banks}
    tanks = [tank for tank in job.tanks if tank.project == one.project.project and tank.tank.casefold() in used]
    cutoffs = sum(tank.level_cutoff == "yes" for tank in tanks)
    if limits:
        yield f"over-temperature limits of {counted(limits, 'heater')} come with the heaters"
    if cutoffs and scope_of(job, one.project.project).get("level switches") != "us":
        yield f"low-level cutoffs of {counted(cutoffs, 'tank')} are there, and are wired to, not supplied"


def tanks_named(before: str, tags: Iterable[str]) -> str:
    """ "tanks T-1, T-2 and 3 more"; "" of none."""
    tags = list(tags)
    return f"{before}tank{'s' * (len(tags) > 1)} {few(tags, NAMED)}" if tags else ""
