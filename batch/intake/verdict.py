"""What the witnesses of a list arrive at, and when two figures agree."""

from __future__ import annotations

from msgspec import Struct, field

from batch.intake.line_kinds import Line
from batch.intake.tags import read_tags

CLOSE = 0.006  # of a total: figures are rounded where they are added up
CLOSE_AMPS = 0.03  # amps are given to one decimal, or none


class Verdict(Struct):
    """What the witnesses say. `basis` "" = they do not decide. `said`: each in words, with its cell."""

    basis: str = ""
    sure: str = "likely"
    said: list[str] = field(default_factory=list)
    against: list[str] = field(default_factory=list)
    odd: bool = False  # heading and witnesses contradict each other: not decided by anything else
    totals_differ: bool = False  # is a column of totals not number times power?
    odd_rows: dict[int, str] = field(default_factory=dict)  # index -> why the row disagrees with itself
    of_rows: dict[int, tuple[str, str]] = field(default_factory=dict)  # index -> basis by the row's own amps or words, and why
    mixed: tuple[list[Line], ...] = ([], [], [])  # rows whose total is number times power, those whose total is the power itself, others
    totals: list[tuple[int, str, float, float]] = field(default_factory=list)  # row index, cell, stated, read


def count_of(line: Line) -> float | None:
    return line.figure("quantity")


def power_of(line: Line) -> float | None:
    return line.figure("power_kw")


def total_of(line: Line) -> float | None:
    return line.figure("total_kw")


def tanks_named(line: Line) -> float:
    """How many tanks a row stands for, as far as it says."""
    given = line.figure("tanks")
    tag = line.facts.get("tank")
    return given if given is not None else float(max(1, len(read_tags(tag.seen).tags))) if tag is not None and not tag.source else 1.0


def close(one: float, other: float, by: float = CLOSE) -> bool:
    return abs(one - other) <= max(by * max(abs(one), abs(other)), 0.051 if max(abs(one), abs(other)) < 20 else 0.1)


def plain(text: str) -> float | None:
    from batch.intake.numbers import speak

    said = speak(text.strip().rstrip(".,"))
    return (
        said.value
        if said and said.other is None
        else said.other
        if said and said.other and said.other > said.value
        else said.value
        if said
        else None
    )


def close_amps(one: float, other: float) -> bool:
    return abs(one - other) <= max(CLOSE_AMPS * max(one, other), 0.06)
