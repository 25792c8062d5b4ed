"""A made-up plant: tanks in their order, what stands in each, and the supply of its heaters."""

from __future__ import annotations

from dataclasses import dataclass, field

from tests.lists_grammar.words import Pen

POWERS_KW = (1.5, 2, 3, 3, 4, 4.5, 5, 6, 6, 6, 7.5, 9, 9, 9, 10, 12, 12, 15, 18)
NUMBERS = (1, 1, 2, 2, 2, 3, 3, 3, 4, 4, 6)
TEMPERATURES_F = (110, 120, 130, 140, 150, 160, 165, 180, 190, 200, 205)
SIZES_IN = ((48, 30, 36), (72, 36, 42), (96, 36, 48), (120, 42, 54), (60, 30, 36), (36, 24, 30), (84, 48, 48))


ROMAN = ("I", "II", "III", "IV", "V", "VI", "VII", "VIII", "IX", "X", "XI", "XII")


@dataclass
class Bank:
    """Heaters of one kind in a tank."""

    number: int
    power_kw: float
    volts: int
    phases: int


@dataclass
class Tank:
    tag: str
    process: str
    banks: list[Bank] = field(default_factory=list)
    fate: str = "take"  # take; "removed" and "others" are reported; "leave" has no heaters
    temperature: int = 0
    size: tuple[int, int, int] = (0, 0, 0)
    sheath: str = ""
    section: int = 0


def tags(pen: Pen, count: int) -> list[str]:
    """What the tanks are called, all in one way."""
    start = pen.chance.choice((1, 1, 1, 11, 101, 201, 3))
    way = pen.chance.randrange(11)
    numbers = list(range(start, start + count))
    if way == 0:
        return [str(one) for one in numbers]
    if way == 1:
        return [f"{1 + one // 5}.{1 + one % 5}" for one in range(count)]
    if way == 2:
        return [f"{1 + one // 2}{'AB'[one % 2]}" for one in range(count)]
    if way == 3:
        word = pen.one("tank_words")
        return [f"{word} {one}" for one in numbers]
    if way == 4:
        return list(ROMAN[:count])
    form = pen.chance.choice(("T-{}", "T{}", "TK-{}", "TK{}", "T-{:02d}", "B{}", "V-{}", "S{}", "{:03d}", "A-{}", "T.{}", "{}-T"))
    return [form.format(one) for one in numbers]


def plant(pen: Pen) -> list[Tank]:
    """Some tanks: of most the heaters are to be taken, some are rinses, few were taken out or are others'."""
    count = pen.chance.randint(4, 12)
    supply = pen.one("supplies")
    mixed = pen.one("supplies") if pen.often(0.25) else supply
    powers = pen.chance.sample(POWERS_KW, 4)
    found = []
    odd = pen.often(0.4)
    for tag in tags(pen, count):
        rinse = pen.often(0.2)
        tank = Tank(tag, pen.one("rinses" if rinse else "processes"), fate="leave" if rinse else "take")
        tank.temperature, tank.size = pen.chance.choice(TEMPERATURES_F), pen.chance.choice(SIZES_IN)
        tank.sheath = pen.one("headings", "sheaths")
        if not rinse:
            for _ in range(2 if pen.often(0.08) else 1):
                volts, phases = mixed if pen.often(0.3) else supply
                tank.banks.append(Bank(pen.chance.choice(NUMBERS), pen.chance.choice(powers), volts, phases))
            if odd and pen.often(0.15):
                tank.fate = pen.chance.choice(("removed", "others"))
        found.append(tank)
    for tank in found[:2]:  # a list has heaters
        if tank.fate == "leave":
            tank.fate, tank.process = "take", pen.one("processes")
            tank.banks = [Bank(pen.chance.choice(NUMBERS), pen.chance.choice(powers), *supply)]
        tank.fate = "take"
    return found


def alike(tanks: list[Tank]) -> bool:
    """Is there one supply for all?"""
    return len({(bank.volts, bank.phases) for tank in tanks for bank in tank.banks}) == 1
