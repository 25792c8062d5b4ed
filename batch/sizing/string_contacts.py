"""Contacts of limit strings that come from elsewhere: over-temperature limits with the heaters, low-level cutoffs with the tanks. A line
each says how many and who brings them; without it nobody's list has what the string rests on.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from batch.control_results import TankControl
from batch.material_lines import TANK, WITH_HEATER, Material, Owner
from batch.price.scope import CUTOFF, LIMIT
from batch.results import BankRow

LIMIT_STRINGS = "limit strings"
IN_EACH = "contact in each heater, wired into the limit string"
IF_FITTED = "if the heaters have one, which the list does not say: contact in each heater, wired into the limit string"
OF_TANK = "contact of the tank, wired into the limit string"
IF_ANY = "if the tank has one, which the list does not say: contact of the tank, wired into the limit string"


def string_contacts(banks: Iterable[BankRow], controls: Iterable[TankControl], cutoffs: Mapping[str, str | None]) -> Iterator[Material]:
    """Per tank its limits, those that are known apart from those that are not, and its cutoff; none that the job says is missing.

    cutoffs  what the job says of the cutoff of each tank, by its folded tag: yes, no, None where it does not say
    """
    limits: dict[str, dict[str, int]] = {}
    for row in banks:
        bank = row.bank
        if bank.over_temperature_limit != "no":
            of_tank = limits.setdefault(bank.tank.casefold(), {})
            words = IN_EACH if bank.over_temperature_limit == "yes" else IF_FITTED
            of_tank[words] = of_tank.get(words, 0) + bank.quantity
    for control in controls:
        tank = control.tank.casefold()
        for words, count in limits.get(tank, {}).items():
            yield _line(control, LIMIT, words, count, WITH_HEATER)
        said = cutoffs.get(tank)
        if said != "no":
            yield _line(control, CUTOFF, OF_TANK if said == "yes" else IF_ANY, 1, "")  # by whom is for Scope to say, else by others


def _line(control: TankControl, role: str, words: str, count: int, supplied: str) -> Material:
    return Material(LIMIT_STRINGS, role, "", words, float(count), "ea", None, None, owner=Owner(TANK, control.tank), each=float(count),
                    supplied=supplied)  # fmt: skip
