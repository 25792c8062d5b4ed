"""On which phases banks start, so that the maximum line current of their feeder is least."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import product
from typing import NamedTuple

from batch.method.line_currents import ROOT3, Loads, line_currents, rotated
from batch.rules import AMPS_DIGITS
from batch.systems import System

CLOSE_TO_BEST = 1e-3  # of the least possible: no further search
CLOSE_A = 1e-9  # amps by which two loads may differ and be alike
COST_DIGITS, SQUARES_DIGITS = 7, 5  # amps and squared amps that are told apart
PAIRS_UP_TO = 10  # kinds of bank up to which two are moved at once
EXACT_UP_TO = 9  # banks up to which every arrangement is looked at


Cost = tuple[float, float]


class Placeable(NamedTuple):
    """A bank to place: its loads when it starts on the first line, and the start that is fixed for it (None = free)."""

    key: tuple[object, ...]
    loads: Loads
    fixed: int | None


def choose_starts(banks: Sequence[Placeable], system: System) -> tuple[int, ...]:
    """The line that each bank starts on.

    Equation
        minimize max(I_A, I_B, I_C), then the sum of their squares: greatest load first, moves and swaps until none helps; of up to nine
        banks every arrangement that could be better is looked at. By key, never by row order; among equals the first key starts on A

    Parameters
        banks: amps of each bank when it starts on A, its key, and the start that is fixed for it [A]
        system: system of the supply [-]

    Returns
        start of each bank in the order given, 0 A, 1 B, 2 C [-]

    Reference
        Common practice, no source; the tests compare it with every arrangement there is

    Example
        Worked by hand: three equal one-phase banks stand on three pairs, so that each line carries 17.32 A for 10.

        >>> banks = [Placeable((name,), Loads(x=10), None) for name in "abc"]
        >>> choose_starts(banks, System.DELTA)
        (0, 1, 2)
    """
    turns = system.starts
    starts = [bank.fixed or 0 for bank in banks]
    base = Loads()
    kinds: dict[Loads, list[int]] = {}
    for at, bank in enumerate(banks):
        if bank.fixed is None and turns > 1 and is_lopsided(bank.loads, system):
            kinds.setdefault(Loads(*(round(amps, AMPS_DIGITS) for amps in bank.loads)), []).append(at)
        else:
            base = base.plus(rotated(bank.loads, starts[at], system))
    if not kinds:
        return tuple(starts)
    shapes = sorted(kinds, key=lambda loads: (-max(line_currents(loads, system)[:3]), loads))
    turned = [[rotated(shape, start, system) for start in range(turns)] for shape in shapes]
    counts = _place(base, turned, [len(kinds[shape]) for shape in shapes], system)
    for shape, placed in zip(shapes, counts, strict=True):
        members = sorted(kinds[shape], key=lambda at: banks[at].key)
        order = [start for start in range(turns) for _ in range(placed[start])]
        for at, start in zip(members, order, strict=True):
            starts[at] = start
    return tuple(starts)


def is_lopsided(loads: Loads, system: System) -> bool:
    """Whether it matters on which line such loads start.

    Equation
        the loads change when they are rotated by one line

    Parameters
        loads: amps line to line and line to neutral [A]
        system: system of the supply [-]

    Returns
        true where they are not alike on every line [-]

    Reference
        Symmetry of a balanced system

    Example
        Worked by hand: three pairs of 10 A look the same from every line, two pairs do not.

        >>> is_lopsided(Loads(10, 10, 10), System.DELTA), is_lopsided(Loads(10, 10), System.DELTA)
        (False, True)
    """
    return any(abs(one - other) > CLOSE_A for one, other in zip(loads, rotated(loads, 1, system), strict=True))


def _place(base: Loads, turned: list[list[Loads]], members: list[int], system: System) -> list[list[int]]:
    """How many banks of each kind start on each line: each put on the best line in turn, then improved."""
    turns = len(turned[0])
    counts = [[0] * turns for _ in turned]
    total = base
    for kind, many in enumerate(members):
        for _ in range(many):
            start = min(range(turns), key=lambda on: _cost(total.plus(turned[kind][on]), system))
            counts[kind][start] += 1
            total = total.plus(turned[kind][start])
    every = base
    for kind, many in enumerate(members):
        every = every.plus(turned[kind][0].times(many))
    least = _least_possible(every, system)
    cost = _cost(total, system)
    while cost[0] > least * (1 + CLOSE_TO_BEST):
        step = _better(total, cost, turned, counts, system)
        if step is None:
            break
        for kind, out, into in step:
            counts[kind][out] -= 1
            counts[kind][into] += 1
            total = total.plus(turned[kind][out].times(-1)).plus(turned[kind][into])
        cost = _cost(total, system)
    if sum(members) <= EXACT_UP_TO and cost[0] > least * (1 + CLOSE_TO_BEST):
        return _best_of_all(base, turned, members, counts=counts, cost=cost, system=system)
    return counts


def _best_of_all(
    base: Loads, turned: list[list[Loads]], members: list[int], *, counts: list[list[int]], cost: Cost, system: System
) -> list[list[int]]:
    """The best arrangement there is, from the one found as what has to be beaten.

    A line's current never falls when a load is added (all are resistances), so an arrangement is left as soon as what is placed already
    draws as much as the best known.
    """
    best, best_cost = counts, cost
    turns = len(turned[0])

    def place(kind: int, total: Loads, placed: list[list[int]]) -> None:
        nonlocal best, best_cost
        if kind == len(turned):
            here = _cost(total, system)
            if here < best_cost:
                best, best_cost = placed, here
            return
        for shares in _shares(members[kind], turns):
            after = total
            for start, many in enumerate(shares):
                after = after.plus(turned[kind][start].times(many)) if many else after
            if round(line_currents(after, system).maximum, COST_DIGITS) <= best_cost[0]:
                place(kind + 1, after, [*placed, list(shares)])

    place(0, base, [])
    return best


def _shares(many: int, turns: int) -> Iterator[tuple[int, ...]]:
    """Every way to put so many alike on the lines, most on the first line first."""
    if turns == 1:
        yield (many,)
        return
    for here in range(many, -1, -1):
        for rest in _shares(many - here, turns - 1):
            yield (here, *rest)


Shift = tuple[int, int, int]  # kind, from start, to start


def _better(total: Loads, cost: Cost, turned: list[list[Loads]], counts: list[list[int]], system: System) -> tuple[Shift, ...] | None:
    """The best single move, else the best pair of moves (a swap is one), that lowers the cost; None where none does."""
    turns = len(turned[0])
    shifts = [
        (kind, out, into)
        for kind in range(len(turned))
        for out, into in product(range(turns), repeat=2)
        if out != into and counts[kind][out]
    ]
    change = {(kind, out, into): turned[kind][into].plus(turned[kind][out].times(-1)) for kind, out, into in shifts}
    best: tuple[Shift, ...] | None = None
    best_cost = cost
    for shift in shifts:
        new = _cost(total.plus(change[shift]), system)
        if new < best_cost:
            best, best_cost = (shift,), new
    if best is not None or len(turned) > PAIRS_UP_TO:
        return best
    for one, two in product(shifts, repeat=2):
        if two < one or (one[:2] == two[:2] and counts[one[0]][one[1]] < 2):
            continue
        new = _cost(total.plus(change[one]).plus(change[two]), system)
        if new < best_cost:
            best, best_cost = (one, two), new
    return best


def _cost(loads: Loads, system: System) -> Cost:
    """Maximum line current, then the sum of squares; rounded so that noise decides nothing."""
    lines = line_currents(loads, system)
    return round(lines.maximum, COST_DIGITS), round(lines.a**2 + lines.b**2 + lines.c**2, SQUARES_DIGITS)


def _least_possible(loads: Loads, system: System) -> float:
    """No arrangement has a maximum line current below this: the power of all, over the lines' volts to neutral."""
    x, y, z, a, b, c = loads
    if system.phases == 1:
        return x + (a + b) / 2
    return (ROOT3 * (x + y + z) + a + b + c) / 3
