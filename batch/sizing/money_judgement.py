"""What there is to say of a project's money: rates that do not make a price, a scope that the lines contradict, prices grown old."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from datetime import date

from batch.counted_words import few
from batch.findings import Finding, Remarks, find, remark
from batch.material_lines import PART
from batch.money_records import Allowance, Pricing, ScopeItem
from batch.price.cost_chain import price_of
from batch.price.job_costs import scope_of, typed_key
from batch.price.scope import contradictions
from batch.price.stock_prices import sold_by
from batch.records import Job, Part, Project
from batch.results import Material
from batch.sizing.allowances import FUSE, OF_RACEWAY
from batch.sizing.run_colours import NO_SIZE, NOT_LISTED

NAMED = 6
AT_LEAST = (("At least", "at_least"),)
HOURS = (("Shop hours each", "shop_h"), ("Field hours each", "field_h"))
UNUSED_OF = {OF_RACEWAY: (("Part", "part"), *HOURS, *AT_LEAST), FUSE: HOURS}  # by what a rule is for; of others AT_LEAST
Written = ScopeItem | Pricing | Allowance | Part  # rows that money is wrong in


class RowRemarks:
    """Collects what is said of rows other than the project's, each with its row."""

    def __init__(self) -> None:
        self.said: list[tuple[Written, Remarks]] = []

    def of(self, row: Written) -> Remarks:
        self.said.append((row, Remarks()))
        return self.said[-1][1]


def say_at_its_cell(job: Job, project: Project, lines: Sequence[Material], rows: RowRemarks) -> None:
    """What is wrong in a row of Scope, Pricing, Allowances or Stock, of that row."""
    pricing = _pricing_of(job, project)
    freight = pricing is not None and (pricing.freight_pct or pricing.freight_amount) is not None
    for item, what in contradictions(lines, scope_of(job, project.project), freight):
        row = next(one for one in job.scope if one.project == project.project and one.item == item and one.by)
        rows.of(row).add("scope-contradicts", "by", item=item, what=what)
    by_length = [part for part in job.stock if part.kind in ("wire", "raceway") and part.unit_price is not None and not sold_by(part)]
    if by_length:
        parts = few(list(dict.fromkeys(part.part for part in by_length)))
        rows.of(by_length[0]).add("length-price-unused", "per_unit", parts=parts)
    _say_unused(job, project, rows)
    if pricing is None:
        return
    _say_colours(pricing, lines, rows)
    if pricing.markup_pct is not None and pricing.profit_pct is not None:
        rows.of(pricing).add("profit-twice", "profit_pct")
    elif pricing.markup_pct is None and (pricing.profit_pct is None or pricing.profit_pct >= 100):
        margin = pricing.profit_pct
        neither = margin is None
        why = "neither Markup nor Margin of price is given" if margin is None else f"a margin of {margin:g} % of the price leaves no cost"
        rows.of(pricing).add("profit-missing", "markup_pct" if neither else "profit_pct", why=why)
    elif pricing.profit_pct is not None and pricing.profit_pct < 0 and (share := price_of(100.0, None, pricing.profit_pct)) is not None:
        rows.of(pricing).add("price-below-cost", "profit_pct", margin=f"{pricing.profit_pct:g}", share=f"{share:.4g}")
    unknown = {line.part for line in lines if line.used_for == "allowances" and line.why and line.part}
    for part in sorted(unknown):
        rule = next(one for one in job.allowances if one.project == project.project and one.part == part)
        rows.of(rule).add("allowance-part-unknown", "part", part=part)


def _say_colours(pricing: Pricing, lines: Sequence[Material], rows: RowRemarks) -> None:
    """Wire that is to be bought in a colour, and that no line of the stock list is in it; and a largest size in colour that is none."""
    missing = list(dict.fromkeys(line.words for line in lines if NOT_LISTED in line.why and not line.supplied))
    if missing:
        named = "; ".join(missing[:NAMED])
        about = "wire_colours" if pricing.colour_to is None else "colour_to"
        rows.of(pricing).add("wire-colour-missing", about, count=len(missing), wires=named + (" …" if len(missing) > NAMED else ""))
    if any(NO_SIZE in line.why for line in lines):
        rows.of(pricing).add("colour-size-unknown", "colour_to", size=pricing.colour_to or "")


def _say_unused(job: Job, project: Project, rows: RowRemarks) -> None:
    """Cells of Allowances that a rule of its sort has no use for."""
    for rule in job.allowances:
        given = [(name, field) for name, field in UNUSED_OF.get(rule.per, AT_LEAST) if getattr(rule, field) is not None]
        if rule.project == project.project and given:
            names = [name for name, _ in given]
            what = names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"
            said = {"allowance": rule.allowance, "per": rule.per, "cells": what, "count": len(names)}
            rows.of(rule).add("allowance-cell-unused", given[0][1], **said)


def _pricing_of(job: Job, project: Project) -> Pricing | None:
    return next((one for one in job.pricing if one.project == project.project), None)


def say_money(job: Job, project: Project, lines: Sequence[Material], said: Remarks) -> None:
    """What there is to say of a project that has a Pricing row as a whole; of others there is nothing."""
    pricing = _pricing_of(job, project)
    if pricing is None:
        return
    if pricing.good_for_days is not None:
        _say_ages(project, lines, pricing.good_for_days, said)
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
