"""Lines of a take-off that are open, by what they lack, with their names: a length, a price, hours."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import NamedTuple

from batch.counted_words import counted, few
from batch.material_lines import Material
from batch.money_results import Rates
from batch.price.cost_chain import price_of


class Lacking(NamedTuple):
    """Open lines by the first thing that they lack: without a length neither price nor hours can be known."""

    length: tuple[Material, ...]
    price: tuple[Material, ...]
    hours: tuple[Material, ...]


def lacking(lines: Iterable[Material]) -> Lacking:
    length, price, hours = [], [], []
    for line in lines:
        if line.lacks_length:
            length.append(line)
        elif line.lacks_price:
            price.append(line)
        elif line.lacks_hours:
            hours.append(line)
    return Lacking(tuple(length), tuple(price), tuple(hours))


def names_of(lines: Iterable[Material]) -> list[str]:
    """What they are known by, each once: stock part, else what the line is."""
    return list(dict.fromkeys(line.part or line.role for line in lines))


def open_words(lines: Iterable[Material]) -> Iterator[str]:
    """ "3 lines have no price: ENC-4, HTR-106 and 1 more" and so on for lengths and hours."""
    own = lacking(lines)
    for some, what in ((own.price, "price"), (own.hours, "labour hours")):
        if some:
            yield f"{_have(len(some))} no {what}: {few(names_of(some))}"
    by_cause: dict[str, list[Material]] = {}
    for line in own.length:
        by_cause.setdefault(line.why, []).append(line)
    for why, runs in by_cause.items():
        measured = runs[0].stretch is not None and runs[0].stretch.length_m is not None
        what = "quantity" if measured else "length"  # measured, and not said how much more is to be bought
        yield f"{_have(len(runs))} no {what} ({why}): {few(list(dict.fromkeys(_run(line) for line in runs)))}"


def missing_rates(rates: Rates) -> str:
    """Why a project's rates make no price, in words; "" where they do. What Pricing leaves blank is open, a typed 0 is 0."""
    if not rates.given:
        return "Pricing has no row for the project, so that there are no rates"
    needed = (
        ("Shop rate", rates.shop_rate), ("Field rate", rates.field_rate), ("Tax on purchases", rates.purchase_tax_pct),
        ("Freight", rates.freight_pct if rates.freight_amount is None else 0.0), ("Contingency", rates.contingency_pct),
        ("Overhead", rates.overhead_pct),
    )  # fmt: skip
    blank = [name for name, value in needed if value is None]
    if rates.markup_pct is None and rates.profit_pct is None:
        blank.append("Markup or Margin of price")
    why = [f"Pricing leaves blank {few(blank, len(blank))} (a typed 0 is 0)"] if blank else []
    if rates.markup_pct is not None and rates.profit_pct is not None:
        why.append("Pricing gives both Markup and Margin of price")
    elif rates.profit_pct is not None and price_of(1.0, None, rates.profit_pct) is None:
        why.append(f"a margin of {rates.profit_pct:g} % of the price leaves no cost")
    return "; ".join(why)


def _have(count: int) -> str:
    return f"{counted(count, 'line')} {'has' if count == 1 else 'have'}"


def _run(line: Material) -> str:
    of = line.owner.tank or line.owner.name
    return f"{line.used_for} of {of}" if of else line.used_for
