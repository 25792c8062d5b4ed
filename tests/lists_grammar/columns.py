"""The columns of a list: what is above each and what stands in its cells."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass

from tests.lists_grammar.plant import Bank, Tank, alike
from tests.lists_grammar.words import Pen

Cell = object
UNIT_FORMS = (" ({})", " [{}]", ", {}", " {}", "\n({})", " ({})")
IN_M = 0.0254  # m of an inch


@dataclass
class Line:
    """A row of the list: a tank, the bank of it, which of the tank's rows it is, and which heater of the bank where each has a row."""

    tank: Tank
    bank: Bank | None
    first: bool
    heater: int = 0


@dataclass
class Column:
    key: str
    heading: str
    cell: Callable[[Line], Cell]
    unit: str = ""  # for a row of units
    group: str = ""  # "tank" or "heater", for a row of groups above the headings


def headed(pen: Pen, key: str, unit: str, inside: bool) -> tuple[str, bool]:
    """A heading, with its unit where it has a place for one and the cells have none; and whether it names a unit at all."""
    heading = pen.one("headings", key)
    if "{u}" not in heading:
        return heading, True
    if inside:
        return heading.replace("{u}", ""), False
    return heading.replace("{u}", pen.chance.choice(UNIT_FORMS).format(unit)), True


def tank_columns(pen: Pen, repeat: str) -> list[Column]:
    """Who the tank is. `repeat`: "all" writes its tag on each of its rows, "first" on the first alone."""
    def tag(line: Line) -> Cell:
        if not line.first and repeat == "first":
            return None
        text = line.tank.tag
        if text.startswith("0"):
            return text
        return int(text) if text.isdecimal() else float(text) if _decimal(text) else text

    found = [Column("tank", pen.one("headings", "tank"), tag, group="tank")]
    if pen.often(0.85):
        found.append(Column("process", _other(pen, "process", found), lambda line: line.tank.process if line.first else None, group="tank"))
    return found


def _decimal(text: str) -> bool:
    return text.replace(".", "", 1).isdecimal() and not text.endswith("0")


def _other(pen: Pen, key: str, columns: list[Column]) -> str:
    """A heading that no column has yet."""
    taken = {one.heading.split("{")[0].casefold() for one in columns}
    left = [one for one in pen.words["headings"][key] if one.split("{")[0].casefold() not in taken]
    return pen.chance.choice(left)


def bath_columns(pen: Pen) -> list[Column]:
    """How warm and how large the tanks are."""
    found: list[Column] = []
    if pen.often(0.6):
        found.append(_temperature(pen))
    way = pen.chance.randrange(5)
    metric = pen.words["temperature"] == "C"
    if way == 0:
        heading = pen.one("headings", "size")
        form = pen.chance.choice(("{} x {} x {}", "{}x{}x{}", "{} X {} X {}"))
        found.append(Column("size", heading, lambda line: form.format(*_sides(line.tank, metric)), group="tank"))
    elif way == 1:
        unit = "mm" if metric else "in"
        for number, key in enumerate(("length", "width", "depth")):
            heading, _ = headed(pen, key, unit, inside=False)
            found.append(Column(key, heading, lambda line, number=number: _sides(line.tank, metric)[number], unit, "tank"))
    elif way == 2:
        heading = pen.one("headings", "volume")
        found.append(Column("volume", heading, lambda line: _volume(line.tank, metric), group="tank"))
    if pen.often(0.2):
        found.append(Column("sheath", pen.one("headings", "sheath"), lambda line: line.tank.sheath if line.bank else None, group="heater"))
    return found


def _temperature(pen: Pen) -> Column:
    unit = f"°{pen.words['temperature']}"
    heading, says = headed(pen, "temperature", unit, inside=pen.often(0.25))
    if heading in ("°C", "°F"):
        says = True

    def cell(line: Line) -> Cell:
        if line.tank.fate == "leave" or not line.first:
            return None
        value = line.tank.temperature if unit == "°F" else round((line.tank.temperature - 32) / 1.8 / 5) * 5
        return value if says else f"{value} {unit}"

    return Column("temperature", heading, cell, unit, "tank")


def _sides(tank: Tank, metric: bool) -> tuple[int, ...]:
    return tuple(round(IN_M * 100 * side) * 10 for side in tank.size) if metric else tank.size


def _volume(tank: Tank, metric: bool) -> int:
    long, wide, deep = tank.size
    return round(long * wide * deep * IN_M**3 * 100) * 10 if metric else round(long * wide * deep / 231 / 10) * 10


def supply_columns(pen: Pen, way: str) -> list[Column]:
    """Volts and phases, in two columns or one; none where the list says them otherwise."""
    if way == "two":
        texts = pen.often(0.25)
        heading, says = headed(pen, "volts", "V", inside=texts)
        volts = (lambda bank: bank.volts) if says or not texts else (lambda bank: f"{bank.volts} V")
        words = pen.often(0.25)
        chosen = {phases: pen.chance.choice(some) for phases, some in pen.words["phase_words"].items()}
        phases = (lambda bank: chosen[str(bank.phases)]) if words else (lambda bank: bank.phases)
        return [
            Column("volts", heading, lambda line: volts(line.bank) if line.bank else None, "V", "heater"),
            Column("phase", pen.one("headings", "phase"), lambda line: phases(line.bank) if line.bank else None, "", "heater"),
        ]
    if way == "one":
        form = pen.one("supply_cells")
        heading = pen.one("headings", "supply")
        return [Column("supply", heading, lambda line: supply_text(pen, form, line.bank) if line.bank else None, "", "heater")]
    return []


def supply_text(pen: Pen, form: str, bank: Bank) -> str:
    return form.format(v=bank.volts, f=bank.phases, w=pen.words["phase_word"][str(bank.phases)])


def heater_columns(pen: Pen, tanks: list[Tank], each_a_row: bool) -> list[Column]:
    """How many heaters of what power, in one of the ways in which lists say so."""
    if each_a_row:
        return _one_a_row(pen)
    way = pen.chance.choice(("each", "each", "each", "each total", "power", "power", "power total", "total", "both", "both"))
    if way == "both":
        forms = pen.words["both"]
        form = pen.chance.choice(forms)
        heading = pen.one("headings", "both")
        bare = pen.often(0.4)

        def cell(line: Line) -> Cell:
            if line.bank is None:
                return None
            if bare and line.bank.number == 1:
                return f"{pen.number(line.bank.power_kw)} kW"
            return form.format(n=line.bank.number, p=pen.number(line.bank.power_kw))

        return [Column("both", heading, cell, "", "heater")]
    found = [_quantity(pen)]
    if "each" in way or "power" in way:
        found.append(_power(pen, "each" if "each" in way else "power", lambda bank: bank.power_kw))
    if "total" in way:
        found.append(_power(pen, "total", lambda bank: bank.number * bank.power_kw))
    if pen.often(0.15) and alike(tanks):
        found.append(_amps(pen))
    return found


def _one_a_row(pen: Pen) -> list[Column]:
    found = []
    if pen.often(0.7):
        form = pen.chance.choice(("H-{t}-{n}", "H{t}{n}", "EH-{t}{l}", "{t}-H{n}", "{t}/{n}"))
        found.append(Column("heater", pen.one("headings", "heater"), lambda line: line.bank and form.format(
            t=line.tank.tag.replace(" ", ""), n=line.heater, l="ABCDEFGHIJKL"[line.heater - 1]), "", "heater"))  # fmt: skip
    if not found or pen.often(0.4):
        found.append(Column("quantity", pen.one("headings", "quantity"), lambda line: 1 if line.bank else None, "", "heater"))
    found.append(_power(pen, pen.chance.choice(("each", "power")), lambda bank: bank.power_kw))
    return found


def _quantity(pen: Pen) -> Column:
    form = pen.one("pieces") if pen.often(0.2) else ""
    heading = pen.one("headings", "quantity")
    nothing = pen.one("unheated")

    def cell(line: Line) -> Cell:
        if line.bank is None:
            return nothing or None
        return form.format(n=line.bank.number) if form else line.bank.number

    return Column("quantity", heading, cell, "", "heater")


def _power(pen: Pen, key: str, value: Callable[[Bank], float]) -> Column:
    inside = pen.often(0.15)
    heading, says = headed(pen, key, pen.chance.choice(("kW", "kW", "kW", "W")), inside)
    watts = "kw" not in heading.casefold() and re.search(r"\bW\b|[Ww]att", heading) is not None
    texts = pen.words["decimal"] == "," and pen.often(0.4)
    unit = "W" if watts else "kW"
    both = not says and pen.often(0.3)

    def cell(line: Line) -> Cell:
        if line.bank is None:
            return None
        power = value(line.bank)
        if not says:
            return f"{1000 * power:.0f} W" if both else f"{pen.number(power)} kW"
        if watts:
            return round(1000 * power)
        return pen.number(power) if texts and power % 1 else power

    return Column(key, heading, cell, unit, "heater")


def _amps(pen: Pen) -> Column:
    heading, _ = headed(pen, "amps", "A", inside=False)

    def cell(line: Line) -> Cell:
        if line.bank is None:
            return None
        return round(1000 * line.bank.power_kw / line.bank.volts / (3**0.5 if line.bank.phases == 3 else 1), 1)

    return Column("amps", heading, cell, "A", "heater")
