"""Rows of a comparison's sheets: dictionaries keyed by `batch.sheets.changes`, canonical units or None."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from batch.comparing.changeset import Comparison, Order, Twin, is_number
from batch.comparing.lines import SHEETS as INPUTS
from batch.comparing.pairing import Pair
from batch.comparing.trials import shown

Row = dict[str, object]


def both(key: str, before: object, after: object) -> Row:
    """Before, after and difference; a blank counts as nought, and two blanks have no difference."""
    before, after = (before if is_number(before) else None), (after if is_number(after) else None)
    more = None if before is None and after is None else (after or 0.0) - (before or 0.0)
    return {f"{key}_before": before, f"{key}_after": after, f"{key}_more": more}


def orders_of(compared: Comparison, table: str) -> list[Order]:
    """Panel types or materials: those that differ first, as they stand on their sheet."""
    own = [order for order in compared.orders if order.table == table]
    return sorted(own, key=lambda order: order.verdict == "same" and not order.money)


def feeders_of(compared: Comparison) -> list[Twin]:
    """Feeders: those that differ first, as they stand on their sheet."""
    return sorted((twin for twin in compared.twins if twin.table == "feeder_totals"), key=lambda twin: fate_of(twin) == "unchanged")


def compared_rows(compared: Comparison) -> Iterator[Row]:
    """Rows that came, went or were changed, then those that stayed as they were."""
    cells = Counter(change.pair for change in compared.of("basis", "input"))
    banks = {twin.pair: twin for twin in compared.twins if twin.table == "banks"}
    remarks = _remarks(compared)
    for at in sorted(range(len(compared.pairs)), key=lambda at: compared.fate(at) == "unchanged"):
        pair = compared.pairs[at]
        line = pair.either
        names = dict(zip(INPUTS[line.table].key, line.names, strict=True))
        yield {
            "sheet": INPUTS[line.table].name,
            "project": names.get("project", ""),
            "tank": names.get("tank", ""),
            "bank": line.label or names.get("bank", ""),
            "feeder": names.get("feeder") or _text(line.values.get("feeder")) if line.table in ("feeders", "heaters") else "",
            "part": names.get("part", ""),
            "fate": compared.fate(at),
            "remark": "; ".join(remarks.get(at, ())),
            "row_before": pair.left.row or None if pair.left else None,
            "row_after": pair.right.row or None if pair.right else None,
            "cells": cells[at] or None,
            **_totals(banks.get(at)),
        }


def _text(value: object) -> str:
    return "" if value is None else str(value)


def _totals(twin: Twin | None) -> Row:
    before, after = (twin.before or {}, twin.after or {}) if twin else ({}, {})
    found: Row = {}
    for key, column in (("heaters", "quantity"), ("kw", "connected_kw"), ("branches", "branches"), ("panels", "panels")):
        found |= both(key, before.get(column), after.get(column))
    return found


def _remarks(compared: Comparison) -> dict[int, list[str]]:
    """What is to be said of a row beyond its fate: offered renames, moves to another feeder, rows that could not be read."""
    places = {id(line): at for at, pair in enumerate(compared.pairs) for line in pair if line is not None}
    found: dict[int, list[str]] = {}
    for offer in compared.offers:
        for line in (*offer.left, *offer.right):
            found.setdefault(places[id(line)], []).append(f"{offer.words} (not assumed)")
    for change in compared.of("input"):
        if (change.table, change.column.key) == ("heaters", "feeder"):
            found.setdefault(change.pair, []).append(f"moved from feeder {shown(change.before)} to {shown(change.after)}")
    for at, pair in enumerate(compared.pairs):
        found.setdefault(at, []).extend(_unread(pair))
    return found


def _unread(pair: Pair) -> Iterator[str]:
    for line, when in ((pair.left, "before"), (pair.right, "after")):
        if line is not None and line.refused:
            yield f"not read {when}: {line.refused}"


def fate_of(twin: Twin) -> str:
    if twin.before is None:
        return "added"
    if twin.after is None:
        return "removed"
    return "unchanged" if twin.before == twin.after else "changed"


FEEDER_COLUMNS = {
    "banks": "banks",
    "kw": "connected_kw",
    "demand": "demand_kw",
    "maximum": "maximum_a",
    "unbalance": "unbalance_pct",
    "device": "device_a",
}


def feeder_rows(compared: Comparison) -> Iterator[Row]:
    for twin in feeders_of(compared):
        before, after = twin.before or {}, twin.after or {}
        row: Row = {"project": twin.names.project, "feeder": twin.names.feeder, "fate": fate_of(twin)}
        for key, column in FEEDER_COLUMNS.items():
            row |= both(key, before.get(column), after.get(column))
        for letter in "abc":
            row |= {f"{letter}_before": before.get(f"i_{letter}"), f"{letter}_after": after.get(f"i_{letter}")}
        yield row | {"wire_before": before.get("wire", ""), "wire_after": after.get("wire", "")}


def type_rows(compared: Comparison) -> Iterator[Row]:
    for order in orders_of(compared, "panel_types"):
        yield {
            "project": order.project,
            "type": order.name,
            "was": order.was_named,
            "change": order.verdict,
            **both("quantity", order.before, order.after),
            **both("price", order.price_before, order.price_after),
            "configuration": order.words,
        }


def material_rows(compared: Comparison) -> Iterator[Row]:
    for order in orders_of(compared, "materials"):
        by_length = order.unit == "m"
        amount = order.before or None, order.after or None
        yield {
            "project": order.project,
            "part": order.name,
            "words": order.words,
            "change": order.verdict,
            **both("quantity", *((None, None) if by_length else amount)),
            "unit": "" if by_length else order.unit,
            **both("length", *(amount if by_length else (None, None))),
            **both("price", order.price_before, order.price_after),
            "priced": _priced(order),
        }


def money_rows(compared: Comparison) -> Iterator[Row]:
    """What moved most stands first."""
    for move in sorted(compared.moves, key=lambda move: -abs(move.moved)):
        yield {
            "project": move.project, "cause": move.cause, "part": move.part, "words": move.words, "unit": move.unit,
            **both("quantity", *move.quantity), "price_before": move.unit_price[0], "price_after": move.unit_price[1], "moved": move.moved,
        }  # fmt: skip


def price_rows(compared: Comparison) -> Iterator[Row]:
    for one in compared.steps:
        yield {"project": one.project, "step": one.step, "moved": one.moved, "after": one.after}


def _priced(order: Order) -> str:
    lacks = [when for count, price, when in ((order.before, order.price_before, "before"), (order.after, order.price_after, "after"))
             if count and price is None]  # fmt: skip
    return f"no price {' and '.join(lacks)}" if lacks else "priced"


def finding_rows(compared: Comparison) -> Iterator[Row]:
    for said in compared.findings:
        names = said.names
        yield {
            "severity": said.severity,
            "change": "new" if not said.before else "gone" if not said.after else "more" if said.after > said.before else "fewer",
            "code": said.code,
            "project": names.project,
            "tank": names.tank,
            "bank": names.bank,
            "feeder": names.feeder,
            **both("rows", said.before or None, said.after or None),
            "message": said.message,
            "advice": said.advice,
        }


def heading_rows(compared: Comparison) -> Iterator[Row]:
    for one in compared.columns:
        yield {
            "sheet": INPUTS[one.table].name,
            "change": "new" if not one.before else "gone" if not one.after else "reworded",
            "before": one.before,
            "after": one.after,
            "rows": one.rows,
        }
