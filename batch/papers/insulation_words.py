"""Insulation tests in words: the volts of each supply, and where those of a circuit of more than usual volts stand."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from batch.method.heater_test import insulation_test
from batch.rules import Cited, RuleSet


def high_test(test: Cited[float], rules: RuleSet) -> Iterator[str]:
    """A note where more than the makers' usual volts are asked: not every heater is made for them."""
    if test.value > rules.factor("insulation_test_v").value:
        above = rules.factor("insulation_test_above_v").value
        yield (
            f"{test.value:g} V DC above {above:g} V nominal: {known_by(test)}. Where a heater's maker allows less, test the heater at "
            "its maker's volts and the circuit without it."
        )


def volts_of_test(supplies: Sequence[float], rules: RuleSet) -> str:
    """ "500 V DC"; of supplies that differ "500 V DC (supply 1), 1000 V DC (supply 2)"."""
    asked = [insulation_test(volts, rules).value for volts in supplies]
    if len(set(asked)) == 1:
        return f"{asked[0]:g} V DC"
    return ", ".join(f"{volts:g} V DC (supply {number})" for number, volts in enumerate(asked, start=1))


def known_by(cited: Cited[float]) -> str:
    """ "IEC 60364-6, Annex D, from memory, unverified"."""
    return f"{cited.citation}{', ' + cited.known if cited.from_memory else ''}"
