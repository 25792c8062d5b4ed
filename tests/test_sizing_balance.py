"""Balancing against every arrangement there is, and beyond what can be tried against every move: common practice, no source."""

from __future__ import annotations

from itertools import combinations, product
from random import Random

import numpy as np
import pytest

from batch.method.balance import Placeable, choose_starts
from batch.method.line_currents import Loads, line_currents, rotated
from batch.systems import System

SYSTEM = System.WYE_GROUNDED
LINES = 3
ENOUGH = 1.001  # times what no arrangement can be below: there the search ends


def feeder(seed: int, banks: int) -> list[Loads]:
    """One-phase banks of 1 to 100 A, each on a pair of lines or on a leg."""
    chance = Random(seed)
    return [Loads(x=amps) if chance.random() < 0.5 else Loads(a=amps) for amps in (round(chance.uniform(1, 100), 1) for _ in range(banks))]


def chosen(loads: list[Loads]) -> tuple[int, ...]:
    return choose_starts([Placeable((at,), one, None) for at, one in enumerate(loads)], SYSTEM)


def fullest(loads: list[Loads], starts: tuple[int, ...]) -> float:
    total = Loads()
    for one, start in zip(loads, starts, strict=True):
        total = total.plus(rotated(one, start, SYSTEM))
    return line_currents(total, SYSTEM).maximum


def bound(loads: list[Loads]) -> float:
    """No arrangement is below it: all the power over three lines, (sqrt(3) x + a) / 3 each."""
    return sum(3**0.5 * one.x + one.a for one in loads) / 3


def best(loads: list[Loads]) -> float:
    """Of every arrangement: the first bank stays on its line, since turning all lines alike changes no maximum."""
    sums = np.zeros((1, 6))
    for at, one in enumerate(loads):
        turned = np.array([rotated(one, start, SYSTEM) for start in (range(LINES) if at else (0,))])
        sums = (sums[:, None, :] + turned[None, :, :]).reshape(-1, 6)
    x, y, z, a, b, c = sums.T
    half = 3**0.5 / 2
    lines = [np.hypot(own + half * (one + two), (one - two) / 2) for own, one, two in ((a, x, z), (b, y, x), (c, z, y))]
    return float(np.maximum.reduce(lines).min())


def test_the_reckoning_of_this_file_is_that_of_the_book() -> None:
    loads = feeder(1, 4)
    assert best(loads) == pytest.approx(min(fullest(loads, (0, *rest)) for rest in product(range(LINES), repeat=3)))


@pytest.mark.parametrize("seed", range(25))
def test_up_to_nine_banks_the_best_there_is(seed: int) -> None:
    """Or one that no arrangement can beat by more than a thousandth, which ends the search."""
    loads = feeder(seed, 9)
    found = fullest(loads, chosen(loads))
    assert found <= best(loads) + 1e-6 or found <= bound(loads) * ENOUGH + 1e-6


@pytest.mark.parametrize(("seed", "banks"), [(seed, 10 + seed % 6) for seed in range(60)])
def test_beyond_nine_banks_no_move_helps(seed: int, banks: int) -> None:
    """No bank on another line, and up to ten kinds of bank no two of them, leave the fullest line less: what is put down greatest first
    and left so has better neighbours in every third feeder."""
    loads = feeder(seed, banks)
    starts = chosen(loads)
    found = fullest(loads, starts)
    if found <= bound(loads) * ENOUGH:
        return  # nothing worth a search
    for count in (1, 2) if banks <= 10 else (1,):
        for movers in combinations(range(banks), count):
            for others in product(range(LINES), repeat=count):
                moved = list(starts)
                for at, start in zip(movers, others, strict=True):
                    moved[at] = start
                assert fullest(loads, tuple(moved)) >= found - 1e-6, (movers, others)
