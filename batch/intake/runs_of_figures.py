"""What the figures of a column are by how they go on: running numbers, years, counts of heaters."""

from __future__ import annotations

from itertools import pairwise

from batch.intake.cell_profiles import Profile, fit
from batch.intake.numbers import number_of

LEAST_STEPS = 4  # figures that only rise are running numbers, whatever their steps
FIRST_YEAR, LAST_YEAR = 1950, 2040


def years(profile: Profile) -> bool:
    """Are the figures years, 2019 and 2021 under "Installed"? Under "Watts" 2000 is a heater, and not asked about here."""
    numbers = [number for cell in profile.cells if (number := number_of(cell)) is not None]
    return len(numbers) >= LEAST_STEPS and all(number == int(number) and FIRST_YEAR <= number <= LAST_YEAR for number in numbers)


def running(profile: Profile) -> bool:
    """Are the figures running numbers, 1, 2, 3 ..., as counts of heaters are not?"""
    numbers = [number for cell in profile.cells if (number := number_of(cell)) is not None]
    return len(numbers) > LEAST_STEPS and len(numbers) == profile.filled and all(after - before == 1 for before, after in pairwise(numbers))


def counts(profile: Profile) -> bool:
    """Are the figures small whole numbers that do not run on, as item numbers do?"""
    numbers = [number for cell in profile.cells if (number := number_of(cell)) is not None]
    if len(numbers) < max(2, 0.7 * profile.filled) or fit("quantity", profile) < 0.8:
        return False
    steps = [after - before for before, after in pairwise(numbers)]
    if len(steps) >= LEAST_STEPS and len(set(steps)) == 1 and steps[0] > 0:  # the circuits of one side of a panel: 2, 4, 6
        return False
    if len(steps) >= LEAST_STEPS and set(steps) == {0.0, 1.0} and numbers[0] == 1:  # of items of several lines each: 1, 1, 2, 3, 3
        return False
    return sum(step == 1 for step in steps) < 0.6 * len(steps) and (len(steps) < LEAST_STEPS or any(step <= 0 for step in steps))
