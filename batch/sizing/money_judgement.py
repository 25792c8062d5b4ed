"""What there is to say of a project's money: rates that do not make a price, a scope that the lines contradict, prices grown old."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date

from batch.findings import Finding, Remarks, find, remark
from batch.material_lines import PART
from batch.price.job_costs import scope_of, typed_key
from batch.price.scope import contradictions
from batch.records import Job, Project
from batch.results import Material

NAMED = 6


def say_money(job: Job, project: Project, lines: Iterable[Material], said: Remarks) -> None:
    """Says it of a project that has a Pricing row, or a scope; of others there is nothing to say."""
    lines = tuple(lines)
    pricing = next((one for one in job.pricing if one.project == project.project), None)
    freight = pricing is not None and (pricing.freight_pct or pricing.freight_amount) is not None
    for item, what in contradictions(lines, scope_of(job, project.project), freight):
        said.add("scope-contradicts", "project", item=item, what=what)
    if pricing is None:
        return
    if pricing.markup_pct is not None and pricing.profit_pct is not None:
        said.add("profit-twice", "project")
    elif pricing.markup_pct is None and (pricing.profit_pct is None or pricing.profit_pct >= 100):
        neither = pricing.profit_pct is None
        why = "neither Markup nor Margin of price is given" if neither else "a margin of 100 % of the price leaves no cost"
        said.add("profit-missing", "project", why=why)
    if pricing.good_for_days is not None:
        _say_ages(project, lines, pricing.good_for_days, said)
    unknown = {line.part for line in lines if line.used_for == "allowances" and line.why and line.part}
    for part in sorted(unknown):
        said.add("allowance-part-unknown", "project", part=part)
    activities = {line.place for line in lines if line.sort == "activity" and line.used_for == "allowances"}
    both = sorted(place for place in activities if any(line.place == place and line.sort == "part" and line.hours for line in lines))
    if both:
        said.add("hours-twice", "project", places=" and ".join("in the shop" if place == "shop" else "on site" for place in both))


def unused_typed_prices(job: Job, lines: Iterable[Iterable[Material]]) -> Iterator[Finding]:
    """Typed prices of which no line of the whole job has the words. `lines`: of each project."""
    if not job.typed_prices:
        return
    there = {typed_key(line.role, line.words, line.buy_unit) for some in lines for line in some if line.sort == PART}
    names = [f"{one.role}, {one.words}" for one in job.typed_prices if typed_key(one.role, one.words, one.unit) not in there]
    if names:
        more = " …" if len(names) > NAMED else ""
        yield find(remark("price-typed-unused", "", count=len(names), lines="; ".join(names[:NAMED]) + more))


def _say_ages(project: Project, lines: Iterable[Material], good_for: float, said: Remarks) -> None:
    """Prices against the date of the bid, never against the clock."""
    old, undated = [], set()
    for line in lines:
        if line.price is None or line.sort != "part":
            continue
        try:
            days = (date.fromisoformat((project.date or "")[:10]) - date.fromisoformat(line.price_date[:10])).days
        except ValueError:
            undated.add(line.part or line.words)
            continue
        if not 0 <= days <= good_for:
            old.append(line.part or line.words)
    names = list(dict.fromkeys(old))
    if names:
        more = " …" if len(names) > NAMED else ""
        said.add("price-old", "project", count=len(names), days=f"{good_for:g}", parts=", ".join(names[:NAMED]) + more)
    if undated:
        said.add("price-undated", "project", count=len(undated))
