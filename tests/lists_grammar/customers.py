"""Tables as plants send them: columns of the process, other equipment, steam, what exists beside what is new, pages, revisions."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field

from tests.lists_grammar.columns import Cell, Column, Line
from tests.lists_grammar.plant import Bank, Tank, alike, plant
from tests.lists_grammar.sheet import Made, Sheet, Way, columns_of, first_bank, heading_row, list_rows, notes, supply_way, title
from tests.lists_grammar.words import Pen

MOST_PROCESS = 6  # columns of the process in one list
MIXED_BELOW_KW = 6  # heaters written in watts where kW and W are mixed


@dataclass
class _Extra:
    """What was switched on, and what each tank is heated with."""

    pen: Pen
    said: list[str] = field(default_factory=list)
    media: dict[str, str] = field(default_factory=dict)

    def on(self, name: str, share: float) -> bool:
        chosen = self.pen.often(share)
        if chosen:
            self.said.append(name)
        return chosen

    def word(self, *path: str) -> Cell:
        return self.pen.one("customers", *path)


def process_list(pen: Pen) -> Made:
    """A plain list with whatever plants have in theirs."""
    extra = _Extra(pen)
    tanks = plant(pen)
    if extra.on("steam", 0.3):
        _steam(extra, tanks)
    each_a_row = pen.often(0.12)
    way = supply_way(pen, tanks)
    columns = columns_of(pen, tanks, way, each_a_row)
    columns = _further(extra, columns, tanks)
    sheet = Sheet(pen.chance.choice(("Sheet1", "Tanks", "Equipment", "Schedule")))
    words = pen.one("supply_lines").format(s=_supply(pen, first_bank(tanks)))
    title(pen, sheet, words if way == "title" else "")
    if extra.on("notes above", 0.25):
        sheet.add(extra.word("fore_notes"))
    units = extra.on("units below", 0.2) and _units_below(columns)
    top = len(sheet.rows)
    heading_row(pen, sheet, columns, words if way == "heading" else "")
    if units:
        sheet.add(*units)
    heads = sheet.rows[top:]
    truth = list_rows(pen, sheet, columns, Way(tanks, each_a_row, way))
    if extra.on("other equipment", 0.3):
        _equipment(extra, sheet, truth, columns)
    if extra.on("pages", 0.2):
        _pages(extra, sheet, truth, heads)
    notes(pen, sheet, words if way == "note" else "")
    if extra.on("notes below", 0.3):
        _below(extra, sheet)
    said = [f"{column.key}: {column.heading!r}" for column in columns] + [f"supply {way}"] + extra.said
    return Made([sheet], truth, said)


def _supply(pen: Pen, bank: Bank) -> str:
    return pen.one("supply_says").format(v=bank.volts, f=bank.phases, w=pen.words["phase_word"][str(bank.phases)])


def _steam(extra: _Extra, tanks: list[Tank]) -> None:
    """Some tanks are heated by steam, and have no heater of ours."""
    for tank in tanks[2:]:
        if tank.fate == "take" and extra.pen.often(0.3):
            tank.fate, tank.banks = "leave", []
            extra.media[tank.tag] = str(extra.word("steam"))


def _further(extra: _Extra, columns: list[Column], tanks: list[Tank]) -> list[Column]:
    pen = extra.pen
    taken = {column.heading.casefold() for column in columns}
    if extra.on("process columns", 0.5):
        some = pen.chance.sample(sorted(pen.words["customers"]["process"]), pen.chance.randint(1, MOST_PROCESS))
        for name in some:
            if name.casefold() not in taken:
                known = {tank.tag: extra.word("process", name) for tank in tanks}
                columns.insert(_apart(pen, columns), Column("process " + name, name, _known(known)))
    if extra.media or extra.on("medium", 0.1):
        electric, none = extra.word("electric"), extra.word("no_heat")
        heading = next(one for one in pen.words["customers"]["medium_heads"] if one.casefold() not in taken)

        def medium(line: Line) -> Cell:
            return extra.media.get(line.tank.tag) or (electric if line.bank else none)

        columns.insert(pen.chance.randint(2, len(columns)), Column("medium", heading, medium))
    if extra.on("rev column", 0.15):
        mark = {tank.tag: extra.word("rev_marks") for tank in tanks if pen.often(0.3)}
        rev = Column("rev", str(extra.word("rev_heads")), lambda line: mark.get(line.tank.tag))
        columns.insert(pen.chance.choice((0, len(columns))), rev)
    keys = [column.key for column in columns]
    if "each" in keys and "total" not in keys and "quantity" in keys and extra.on("existing and new", 0.35):
        _existing(extra, columns, tanks)
    elif "volts" in keys and extra.on("kV", 0.05):
        at = keys.index("volts")
        head = str(extra.word("kv_heads"))
        columns[at] = Column("volts", head, lambda line: line.bank.volts / 1000 if line.bank else None, "kV", "heater")
    return columns


def _apart(pen: Pen, columns: list[Column]) -> int:
    """A place that does not part the columns of the heaters."""
    groups = [column.group for column in columns]
    return pen.chance.choice([at for at in range(2, len(groups)) if groups[at - 1] != "heater" or groups[at] != "heater"] + [len(groups)])


def _known(known: dict[str, Cell]) -> Callable[[Line], Cell]:
    return lambda line: known[line.tank.tag] if line.first else None


def _existing(extra: _Extra, columns: list[Column], tanks: list[Tank]) -> None:
    """What each heater is now and what it becomes, and what is done: kept ones are not bought."""
    pen = extra.pen
    for tank in tanks[2:]:
        if tank.fate == "take" and pen.often(0.25):
            tank.fate = "report"
    old_head, new_head = pen.one("customers", "existing_heads")
    does = {"take": {True: extra.word("replace"), False: extra.word("add")}, "report": {True: extra.word("keep")}}
    old = {}
    for tank in tanks:
        if tank.banks and (tank.fate == "report" or pen.often(0.6)):
            old[tank.tag] = max(1, round(tank.banks[0].power_kw * 0.7))
    nothing = pen.chance.choice((None, "-"))
    at = next(n for n, column in enumerate(columns) if column.key == "each")

    def new(line: Line) -> Cell:
        return None if line.bank is None else nothing if line.tank.fate == "report" else line.bank.power_kw

    def action(line: Line) -> Cell:
        return line.bank and does.get(line.tank.fate, {}).get(line.tank.tag in old)

    columns[at : at + 1] = [
        Column("existing", old_head, lambda line: old.get(line.tank.tag, nothing) if line.bank else None, "", "heater"),
        Column("each", new_head, new, "kW", "heater"),
        Column("action", str(extra.word("action_heads")), action, "", "heater"),
    ]


def _units_below(columns: list[Column]) -> list[Cell]:
    """The units in a row of their own, out of the headings that have them."""
    row: list[Cell] = [None] * len(columns)
    for number, column in enumerate(columns):
        for form in (f" ({column.unit})", f" [{column.unit}]", f", {column.unit}", f"\n({column.unit})"):
            if column.unit and column.heading.endswith(form):
                column.heading = column.heading.removesuffix(form)
                row[number] = column.unit
    return row if any(row) else []


def _insert(sheet: Sheet, truth: list[dict], at: int, rows: list[list[Cell]]) -> None:
    """Rows put in before row `at` (from 0); what stands below goes down."""
    sheet.rows[at:at] = rows
    count = len(rows)
    sheet.merged = [(top + count * (top >= at), left, bottom + count * (top >= at), right) for top, left, bottom, right in sheet.merged]
    sheet.struck = [row + count * (row >= at) for row in sheet.struck]
    for entry in truth:
        entry["row"] += count * (entry["row"] > at)


def _places(sheet: Sheet, truth: list[dict]) -> list[int]:
    """Rows before which others can be put in: no merged cells go over them, and a tank begins there."""
    found = []
    for entry in truth[2:]:
        at = entry["row"] - 1
        if sheet.rows[at][0] is not None and not any(top < at <= bottom for top, _, bottom, _ in sheet.merged):
            found.append(at)
    return found


def _equipment(extra: _Extra, sheet: Sheet, truth: list[dict], columns: list[Column]) -> None:
    """Pumps, blowers and the like among the tanks, with power, volts and phases of their own."""
    pen = extra.pen
    keys = [column.key for column in columns]
    if "process" not in keys or "remarks" not in keys[2:]:
        return
    for number in range(1, pen.chance.randint(2, 4)):
        places = _places(sheet, truth)
        if not places:
            return
        cells: list[Cell] = [None] * len(columns)
        cells[keys.index("tank")] = str(extra.word("other_tags")).format(n=number)
        cells[keys.index("process")] = extra.word("others")
        if pen.often(0.5):
            cells[keys.index("remarks")] = extra.word("other_remarks")
        at = pen.chance.choice(places)
        _insert(sheet, truth, at, [cells])
        truth.append({"sheet": sheet.name, "row": at + 1, "fate": "leave"})


def _pages(extra: _Extra, sheet: Sheet, truth: list[dict], heads: list[list[Cell]]) -> None:
    """The headings once more, as on each page that was printed."""
    places = _places(sheet, truth)
    if not places:
        return
    word = str(extra.word("pages")).format(n=2)
    _insert(sheet, truth, extra.pen.chance.choice(places), [*([[word]] if word else []), *[list(row) for row in heads]])


def _below(extra: _Extra, sheet: Sheet) -> None:
    sheet.add()
    for _ in range(extra.pen.chance.randint(1, 3)):
        sheet.add(extra.word("end_notes" if extra.pen.often(0.6) else "rev_log"))


def turned_list(pen: Pen) -> Made:
    """One tank a column, the labels on the left; or a block of labels and values for each tank, two of them side by side."""
    tanks = _single(plant(pen))
    way = "two" if not alike(tanks) else pen.chance.choice(("two", "one"))
    columns = columns_of(pen, tanks, way, False)
    while {one.key for one in columns} & {"power", "item"}:
        columns = columns_of(pen, tanks, way, False)
    sheet = Sheet("Sheet1")
    title(pen, sheet, "")
    lines = [Line(tank, tank.banks[0] if tank.banks else None, True) for tank in tanks]
    said = [f"{column.key}: {column.heading!r}" for column in columns]
    if pen.often(0.5):
        return Made([sheet], _across(pen, sheet, columns, lines), ["tanks across", *said])
    beside = pen.often(0.4)
    return Made([sheet], _blocks(pen, sheet, columns, lines, beside=beside), ["blocks beside" if beside else "blocks", *said])


def _single(tanks: list[Tank]) -> list[Tank]:
    for tank in tanks:
        tank.banks = tank.banks[:1]
        tank.fate = "take" if tank.banks else "leave"
    return tanks


def _heaters(line: Line) -> dict:
    if line.bank is None:
        return {"fate": "leave"}
    bank = line.bank
    return {"fate": "take", "heaters": [{"tank": line.tank.tag, "quantity": bank.number, "power_kw": bank.power_kw, "volts_v": bank.volts,
                                         "phases": bank.phases}]}  # fmt: skip


def _across(pen: Pen, sheet: Sheet, columns: list[Column], lines: list[Line]) -> list[dict]:
    units = pen.often(0.2)
    for column in columns:
        values = [column.cell(line) for line in lines]
        sheet.add(column.heading, *([column.unit] if units else []), *values)
    return [{"sheet": sheet.name, "column": "ABCDEFGHIJKLMNOP"[n + 1 + units], **_heaters(line)} for n, line in enumerate(lines)]


def _blocks(pen: Pen, sheet: Sheet, columns: list[Column], lines: list[Line], *, beside: bool) -> list[dict]:
    truth: list[dict] = []
    colon = pen.chance.choice(("", ":", ""))
    step = 2 if beside else 1
    for number in range(0, len(lines), step):
        some = lines[number : number + step]
        top = len(sheet.rows)
        for column in columns:
            row: list[Cell] = []
            for line in some:
                row += [column.heading + colon, column.cell(line), None]
            sheet.add(*row[:-1])
        sheet.add()
        for at, line in zip("AD", some, strict=False):
            truth.append({"sheet": sheet.name, "row": top + 1, **({"column": at} if beside else {}), **_heaters(line)})
    return truth
