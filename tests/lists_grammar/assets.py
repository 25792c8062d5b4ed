"""Lists in which heaters are lines of something else: an export of a plant's equipment, a bid form, the circuits of a panel."""

from __future__ import annotations

from dataclasses import dataclass

from tests.lists_grammar.columns import Cell
from tests.lists_grammar.plant import Bank, Tank, plant
from tests.lists_grammar.sheet import Made, Sheet
from tests.lists_grammar.words import Pen


@dataclass
class _Item:
    """A line: heaters of a tank, or something else."""

    tank: str
    bank: Bank | None
    number: int = 1
    heater: int = 1
    alive: bool = True


def _named(pen: Pen, tanks: list[Tank]) -> list[tuple[str, Bank]]:
    form = pen.one("customers", "keys")
    start = pen.chance.choice((1, 1, 11, 101))
    return [(form.format(n=start + n), tank.banks[0]) for n, tank in enumerate(tanks) if tank.banks]


def _entry(sheet: Sheet, at: int, item: _Item) -> dict:
    found: dict = {"sheet": sheet.name, "row": at + 1, "fate": "leave" if item.bank is None else "take" if item.alive else "report"}
    if item.bank and item.alive:
        found["heaters"] = [{"tank": item.tank, "quantity": item.number, "power_kw": item.bank.power_kw, "volts_v": item.bank.volts,
                             "phases": item.bank.phases}]  # fmt: skip
    return found


def register(pen: Pen) -> Made:
    """An export of equipment: asset numbers, status, class and so on; the facts in the description, or in columns of their own."""
    words = pen.words["customers"]["register"]

    def one(name: str) -> str:
        return pen.chance.choice(words[name])

    each, told, prose = pen.often(0.5), pen.often(0.6), pen.often(0.25)
    items = [
        _Item(tag, bank, 1 if each else bank.number, n + 1, not pen.often(0.12))
        for tag, bank in _named(pen, plant(pen)) for n in range(bank.number if each else 1)
    ]  # fmt: skip
    items[0].alive = True
    for _ in range(pen.chance.choice((0, 2, 5))):
        items.insert(pen.chance.randint(1, len(items)), _Item("", None))
    form = one("forms_tank" if prose and told else "forms") if told else one("plain")
    active, dead, area, maker, kind = one("active"), one("dead"), one("place"), one("makers"), one("classes")
    made: dict[str, list[Cell]] = {}
    for number, item in enumerate(items):
        bank = item.bank
        volts = bank.volts if bank else 480
        if bank is None:
            text = one("other_forms").format(n=5, v=volts)
        else:
            text = form.format(p=pen.number(bank.power_kw), v=volts, f=bank.phases, t=item.tank)
        cells: dict[str, Cell] = {
            "number": 100234 + 7 * number, "text": text, "place": "P1-ANOD", "class": kind if bank else one("other_classes"),
            "status": active if item.alive else dead, "critical": pen.chance.choice("ABC"), "maker": maker,
            "serial": f"S{70311 + 13 * number}",
            "served": f"2025-1{pen.chance.randint(0, 2)}-1{pen.chance.randint(0, 9)}", "cost": 4410,
            "tank": item.tank or f"P-{number}", "quantity": item.number if bank else 1,
            "power": bank.power_kw if bank else None, "volts": volts if bank else None, "phase": bank.phases if bank else None,
        }  # fmt: skip
        for key, value in cells.items():
            made.setdefault(key, []).append(value)
    beside = ["place", "class", "critical", "maker", "serial", "served", "cost"]
    keys = ["number", "text", *pen.chance.sample(beside, pen.chance.randint(2, 6))]
    keys += ["status"] if any(not item.alive for item in items) or pen.often(0.5) else []
    keys += [] if told else ["power", "volts", "phase"]
    for key in [*([] if prose and told else ["tank"]), *(["quantity"] if not each or pen.often(0.4) else [])]:
        keys.insert(pen.chance.randint(1, len(keys)), key)
    sheet = Sheet(pen.chance.choice(("Export", "Sheet1", "Assets")))
    if title := one("titles"):
        sheet.add(title)
    heads = {key: area if key == "place" else one(key) for key in keys}
    sheet.add(*heads.values())
    truth = [_entry(sheet, sheet.add(*(made[key][n] for key in keys)), item) for n, item in enumerate(items)]
    said = [f"{key}: {heads[key]!r}" for key in keys] + ["told in text" if told else "told in columns"] + [form] + ["each a line"] * each
    return Made([sheet], truth, said)


def bid(pen: Pen) -> Made:
    """A form that a bidder fills in: each line a sentence, prices blank."""
    words = pen.words["customers"]["bid"]

    def one(name: str) -> str:
        return pen.chance.choice(words[name])

    sheet = Sheet(pen.chance.choice(("Bid form", "Sheet1", "Schedule")))
    for line in (one("titles"), *pen.chance.sample(pen.words["about"], pen.chance.randint(0, 2))):
        sheet.add(line)
    heads = one("heads")
    sheet.add(*heads)
    counted, lot = pen.often(0.5), pen.often(0.3)
    form, unit = one("counted" if counted else "each"), one("lots" if counted and lot else "eaches")
    lines: list[tuple[str, str, int, _Item]] = []
    for tag, bank in _named(pen, plant(pen)):
        text = form.format(w=words["words"][bank.number], n=bank.number, p=pen.number(bank.power_kw), v=bank.volts, f=bank.phases, t=tag)
        lines.append((text, unit, 1 if counted and lot else bank.number, _Item(tag, bank, bank.number)))
    for rest in pen.chance.sample(words["rest"], pen.chance.randint(1, 4)):
        lines.insert(pen.chance.choice((0, len(lines))), (rest, one("lots"), 1, _Item("", None)))
    truth = []
    for number, (text, unit_word, quantity, item) in enumerate(lines, start=1):
        cells: list[Cell] = []
        for head in heads:
            kind = next((kind for kind, some in words["kinds"].items() if head in some), "")
            cells.append({"item": number, "text": text, "unit": unit_word, "quantity": quantity}.get(kind))
        truth.append(_entry(sheet, sheet.add(*cells), item))
    for line in pen.chance.sample(words["ends"], pen.chance.randint(0, 2)):
        sheet.add(None, line)
    return Made([sheet], truth, [form, unit, str(heads)])


def circuits(pen: Pen) -> Made:
    """The circuits of a panel: one heater each, with its poles and its load; spares and other loads between them."""
    words = pen.words["customers"]["circuits"]

    def one(name: str) -> str:
        return pen.chance.choice(words[name])

    volts = pen.chance.choice((480, 480, 208, 240, 600))
    form, heads, spares = one("forms"), one("heads"), pen.often(0.7)
    items: list[tuple[str, _Item]] = []
    for tag, bank in _named(pen, plant(pen)):
        for heater in range(1, bank.number + 1):
            items.append((form.format(t=tag, n=heater), _Item(tag, Bank(1, bank.power_kw, volts, 3), 1, heater)))
    for _ in range(pen.chance.randint(1, 5) if spares else 0):
        items.insert(pen.chance.randint(1, len(items)), (one("spares"), _Item("", None)))
    for _ in range(pen.chance.choice((0, 0, 2))):
        items.insert(pen.chance.randint(1, len(items)), (one("others"), _Item("", None)))
    sheet = Sheet(pen.chance.choice(("Panel", "Sheet1", "HP-1")))
    sheet.add(one("titles"))
    sheet.add(one("supply").format(v=volts))
    told = not any("kva" in head.casefold() for head in heads) or pen.often(0.6)  # else what the kVA are in kW is to be asked
    if told and any("kva" in head.casefold() for head in heads):
        sheet.add(one("resistive"))
    if pen.often(0.5):
        sheet.add()
    sheet.add(*heads)
    truth = []
    for number, (text, item) in enumerate(items):
        load = item.bank.power_kw if item.bank else 3.7 if text not in words["spares"] else None
        breaker = None if load is None else next(a for a in (15, 20, 25, 30, 40, 50, 60, 70, 80, 100) if a >= 1250 * load / volts / 3**0.5)
        first = 1 + 6 * (number // 2) + number % 2
        cells: dict[str, Cell] = {"P": 3, "kW": load, "Amps": breaker, "Trip": breaker, "BKR": breaker, "KVA": load}
        row = []
        for head in heads:
            kind = head.split()[0]
            value = text if "escription" in head or head in ("Load served", "LOAD DESCRIPTION", "Load") else cells.get(head)
            if kind.casefold() in ("ckt", "circuit", "ckt."):
                value = f"{first},{first + 2},{first + 4}"
            elif kind.casefold() in ("poles", "pole", "p"):
                value = 3 if load or text.casefold() == "spare" else None
            elif "Breaker" in head:
                value = breaker
            elif "kVA" in head or "(kW)" in head:
                value = load
            row.append(value)
        truth.append(_entry(sheet, sheet.add(*row), item))
        if item.bank and not told:
            truth[-1] = {key: value for key, value in truth[-1].items() if key != "heaters"} | {"fate": "ask"}
    return Made([sheet], truth, [form, str(heads), *(["spares"] if spares else [])])
