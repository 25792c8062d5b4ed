"""What a revision comes to by the waste and the rules of the shop of the one before: what lies between both is theirs alone."""

from __future__ import annotations

from collections.abc import Mapping

from msgspec.structs import replace

from batch.comparing.lines import fold
from batch.comparing.revision import Revision
from batch.money_records import Allowance, Pricing
from batch.records import Job
from batch.results import JobResult
from batch.sizing.project import size_job

ADDED_TO_LENGTH = ("end_m", "wire_waste_pct", "raceway_waste_pct")


def by_rules_before(old: Revision, new: Revision, same: Mapping[str, str]) -> JobResult:
    """The new revision as the old one counts waste, ends of conductors and allowances; itself where both count alike.

    same  folded project name before -> after
    """
    pricing = _pricing(old.job, new.job, same)
    allowances = _allowances(old.job, new.job, same)
    if pricing == new.job.pricing and sorted(map(_rule, allowances)) == sorted(map(_rule, new.job.allowances)):
        return new.result
    listed = {part.part for part in new.job.stock}
    named = {rule.part for rule in allowances if rule.part}
    parts = tuple(part for part in old.job.stock if part.part in named - listed)  # a rule's part, that left the stock list with its rule
    job = replace(new.job, pricing=pricing, allowances=allowances, stock=(*new.job.stock, *parts))
    return size_job(job, previous=replace(new.previous, quiet=True))


def _pricing(old: Job, new: Job, same: Mapping[str, str]) -> tuple[Pricing, ...]:
    before = {same.get(fold(one.project), fold(one.project)): one for one in reversed(old.pricing)}
    return tuple(
        one if (was := before.get(fold(one.project))) is None else replace(one, **{name: getattr(was, name) for name in ADDED_TO_LENGTH})
        for one in new.pricing
    )


def _allowances(old: Job, new: Job, same: Mapping[str, str]) -> tuple[Allowance, ...]:
    """The old rules under the new names of their projects; of projects that are new their own."""
    names = {fold(one.project): one.project for one in new.projects}
    now = {fold(one.project): same.get(fold(one.project), fold(one.project)) for one in old.projects}
    kept = [replace(rule, project=names[now[fold(rule.project)]]) for rule in old.allowances if now.get(fold(rule.project)) in names]
    return (*kept, *(rule for rule in new.allowances if fold(rule.project) not in now.values()))


def _rule(one: Allowance) -> tuple[str, ...]:
    """All that a rule says, but for where it stands."""
    return tuple(repr(getattr(one, name)) for name in Allowance.__struct_fields__ if name != "origin")
