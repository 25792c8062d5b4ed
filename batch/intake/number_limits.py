"""What numbers a column accepts. What is refused is said as it was typed, with the limits in that unit."""

from __future__ import annotations

from math import ceil, floor, isfinite, log10
from typing import NamedTuple, Protocol

from batch.sheets import Column
from batch.units import Unit, between, spelled

ALLOWED = {"phases": (1, 3), "terminal_c": (60, 70, 75, 90)}  # whole numbers of which not every one between is meant
LIMIT_DIGITS = 4  # of a limit converted into the unit that was typed


class TypedNumber(NamedTuple):
    """A number as it stands in its cell, where its unit is not the column's own."""

    value: float
    unit: Unit
    name: str  # of the unit, as the cell or its heading spells it
    words: str = ""  # of a cell that gives two units: 12' 6"

    def __str__(self) -> str:
        return self.words or f"{self.value:.12g} {self.name}"


class Refused(NamedTuple):
    """Why a number is not accepted: a finding's code and what its template needs."""

    code: str
    fields: dict[str, str]


class Judge(Protocol):
    def __call__(self, value: float, typed: TypedNumber | None = None) -> float | int | Refused: ...


def limits(column: Column, typed: TypedNumber | None = None) -> str:
    """The accepted range in words, in the column's unit or in the one that was typed: "above 0 up to 1000 kW"."""
    words = f" {typed.name}" if typed is not None else f" {column.unit}" if column.unit else ""
    other = typed.unit if typed is not None else None
    least = column.above if column.above is not None else column.low
    low = "" if least is None else _end(column, least, other, up=True)
    low = f"above {low}" if column.above is not None else low
    high = "" if column.high is None else _end(column, column.high, other, up=False)
    if low and high:
        return f"{low} up to {high}{words}" if column.above is not None else f"{low} to {high}{words}"
    return f"{low}{words}" if low else f"at most {high}{words}"


def _end(column: Column, value: float, unit: Unit | None, *, up: bool) -> str:
    """A limit in another unit, to a few digits: rounded inward, so that what the words accept is accepted."""
    own = spelled(column.unit)
    if unit is None or own is None or own == unit:
        return f"{value:g}"
    there = between(value, own, unit)
    if not there:
        return "0"
    step = 10.0 ** (floor(log10(abs(there))) + 1 - LIMIT_DIGITS)
    steps = round(there / step, 6)
    return f"{(ceil(steps) if up else floor(steps)) * step:.12g}"


def _choice(column: Column, value: int, typed: TypedNumber | None) -> str:
    own = spelled(column.unit)
    return str(value) if typed is None or own is None else f"{between(value, own, typed.unit):g} {typed.name}"


def _snapped(value: float, *ends: float | None) -> float:
    """The limit itself where the value misses it by no more than a conversion of units may leave behind."""
    for end in ends:
        if end is not None and value != end and abs(value - end) <= 1e-9 * abs(end):
            return float(end)
    return value


def judge_of(column: Column) -> Judge:
    """Limits and whole numbers, in the column's unit."""
    least = column.above if column.above is not None else column.low
    exclusive = column.above is not None
    high = column.high
    whole = column.kind == "integer"
    allowed = ALLOWED.get(column.key)
    unit = f" {column.unit}" if column.unit else ""

    def refused(code: str, value: float, typed: TypedNumber | None) -> Refused:
        there = str(typed) if typed is not None else f"{value:.12g}{unit}"
        return Refused(code, {"value": there, "limits": limits(column, typed)})

    def judge(value: float, typed: TypedNumber | None = None) -> float | int | Refused:
        if not isfinite(value):
            return refused("cell-out-of-range", value, typed)
        if allowed and value not in allowed and value > 0 and abs(value - round(value)) < 1e-9:
            *most, last = (_choice(column, one, typed) for one in allowed)
            choices = f"{', '.join(most)} or {last}"
            return Refused("cell-not-allowed", {"value": str(typed or f"{value:.12g}{unit}"), "choices": choices})
        value = _snapped(value, least, high)
        if least is not None and (value <= least if exclusive else value < least):
            number = typed.value if typed is not None else value  # a temperature below 0 °C may be above 0 °F
            if number < 0 <= least:
                return refused("cell-negative", value, typed)
            return Refused("cell-zero", {}) if number == 0 else refused("cell-out-of-range", value, typed)
        if high is not None and value > high:
            return refused("cell-out-of-range", value, typed)
        if not whole:
            return value
        return refused("cell-not-whole", value, typed) if abs(value - round(value)) > 1e-9 else round(value)

    return judge
