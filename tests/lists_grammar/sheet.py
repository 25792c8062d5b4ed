"""A whole list: titles, headings, rows with banners and sums, notes, and what stands beside; with the truth of its rows."""

from __future__ import annotations

from dataclasses import dataclass, field

from tests.lists_grammar.columns import Cell, Column, Line, bath_columns, heater_columns, supply_columns, supply_text, tank_columns
from tests.lists_grammar.plant import Bank, Tank, alike, plant
from tests.lists_grammar.words import Pen


@dataclass
class Sheet:
    name: str
    rows: list[list[Cell]] = field(default_factory=list)
    merged: list[tuple[int, int, int, int]] = field(default_factory=list)  # first row, first column, last row, last column, from 0
    struck: list[int] = field(default_factory=list)  # rows from 0

    def add(self, *cells: Cell) -> int:
        self.rows.append(list(cells))
        return len(self.rows) - 1


@dataclass
class Made:
    """A list and the truth of its rows; `said` names what was chosen, to find what the lists that were not read whole have in common."""

    sheets: list[Sheet]
    truth: list[dict]
    said: list[str]


def made(language: str, seed: int) -> Made:
    pen = Pen(language, seed)
    tanks = plant(pen)
    each_a_row = pen.often(0.18)
    way = supply_way(pen, tanks)
    columns = columns_of(pen, tanks, way, each_a_row)
    sheet = Sheet(pen.chance.choice(("Sheet1", "Sheet1", "Sheet1", pen.one("list"))).replace("/", " ")[:31])
    words = pen.one("supply_lines").format(s=supply_text(pen, pen.one("supply_says"), first_bank(tanks)))
    title(pen, sheet, words if way == "title" else "")
    heading_row(pen, sheet, columns, words if way == "heading" else "")
    said = [f"{column.key}: {column.heading!r}" for column in columns] + [f"supply {way}"] + [words] * (way in ("title", "note"))
    truth = list_rows(pen, sheet, columns, Way(tanks, each_a_row, way))
    notes(pen, sheet, words if way == "note" else "")
    sheets = [sheet, *_beside(pen, sheet, tanks)]
    return Made(sheets, truth, said)


def first_bank(tanks: list[Tank]) -> Bank:
    return next(bank for tank in tanks for bank in tank.banks)


def supply_way(pen: Pen, tanks: list[Tank]) -> str:
    if alike(tanks):
        return pen.chance.choice(("two", "two", "one", "title", "note", "heading"))
    if len({bank.volts for tank in tanks for bank in tank.banks}) == 1:
        return "two"
    return pen.chance.choice(("two", "two", "one"))


def columns_of(pen: Pen, tanks: list[Tank], way: str, each_a_row: bool) -> list[Column]:
    repeat = pen.chance.choice(("all", "all", "first"))
    tank = tank_columns(pen, repeat)
    heaters = [*heater_columns(pen, tanks, each_a_row), *supply_columns(pen, way)]
    if pen.often(0.15):
        pen.chance.shuffle(heaters)
    groups = [bath_columns(pen), heaters]
    if pen.often(0.25):
        groups.reverse()
    found = [*tank, *groups[0], *groups[1]]
    if pen.often(0.2):
        count = iter(range(1, 1000))
        found.insert(0, Column("item", pen.one("headings", "item"), lambda line: next(count), "", "tank"))
    if pen.often(0.7):
        found.append(_remarks(pen, [one.heading for one in found]))
    taken: dict[str, int] = {}
    for column in found:  # two columns headed alike are no plain list
        taken[column.heading.casefold()] = taken.get(column.heading.casefold(), 0) + 1
    return found if max(taken.values()) == 1 else columns_of(pen, tanks, way, each_a_row)


def _remarks(pen: Pen, taken: list[str]) -> Column:
    if pen.often(0.15):
        return Column("remarks", pen.one("status"), lambda line: pen.words["remarks"][0] if line.bank else None)
    heading = pen.chance.choice([one for one in pen.words["headings"]["remarks"] if one not in taken])
    share = pen.chance.choice((0.1, 0.4))
    return Column("remarks", heading, lambda line: pen.one("remarks") if line.bank and pen.often(share) else None)


def title(pen: Pen, sheet: Sheet, supply: str) -> None:
    lines = [pen.one("list")] if pen.often(0.8) else []
    if lines and pen.often(0.4):
        lines = [f"{pen.one('project')} - {lines[0]}"]
    lines += pen.chance.sample(pen.words["about"], pen.chance.randint(0, 3))
    if pen.often(0.3):
        lines.insert(0, pen.one("project"))
    if supply:
        lines.insert(pen.chance.randint(min(1, len(lines)), len(lines)), supply)
    for line in lines:
        if pen.often(0.1):
            sheet.add(None, line)
        elif pen.often(0.1):
            sheet.add(line, None, None, pen.one("about"))
        else:
            sheet.add(line)
    if lines and pen.often(0.5):
        sheet.add()


def heading_row(pen: Pen, sheet: Sheet, columns: list[Column], supply: str) -> None:
    if supply or pen.often(0.12):
        _groups(pen, sheet, columns, supply)
    sheet.add(*(column.heading.upper() if pen.language == "en" and len(columns) % 4 == 0 else column.heading for column in columns))


def _groups(pen: Pen, sheet: Sheet, columns: list[Column], supply: str) -> None:
    """A row above the headings with the names of groups of columns; it may say the supply of all heaters."""
    row: list[Cell] = [None] * len(columns)
    at = len(sheet.rows)
    starts = [n for n, column in enumerate(columns) if column.group and (not n or columns[n - 1].group != column.group)]
    for start in starts:
        group = columns[start].group
        end = start
        while end + 1 < len(columns) and columns[end + 1].group == group:
            end += 1
        name = pen.one("group_heads", group)
        if group == "heater" and supply and start == max(one for one in starts if columns[one].group == "heater"):
            name = supply if pen.often(0.3) else f"{name} ({supply.split(': ')[-1].rstrip('.')})"
        row[start] = name
        if end > start:
            sheet.merged.append((at, start, at, end))
    sheet.add(*row)


@dataclass
class Way:
    tanks: list[Tank]
    each_a_row: bool
    supply: str


def list_rows(pen: Pen, sheet: Sheet, columns: list[Column], way: Way) -> list[dict]:
    truth: list[dict] = []
    sections = pen.chance.randint(2, 3) if pen.often(0.2) and len(way.tanks) > 5 else 1
    each = -(-len(way.tanks) // sections)
    keys = {column.key for column in columns}
    bare = {"quantity", "power"} <= keys and "total" not in keys  # what a bare power is of, only a sum can tell
    sums, blanks = pen.often(0.4) or (bare and not way.each_a_row), pen.often(0.1)
    merging = pen.often(0.5)
    for number in range(sections):
        some = way.tanks[each * number : each * (number + 1)]
        if sections > 1:
            sheet.add(pen.one("banners"))
        for tank in some:
            truth += _tank(pen, sheet, columns, Way([tank], way.each_a_row, way.supply))
            if merging:
                _merge(sheet, columns, len(_lines(tank, way.each_a_row)))
            if blanks and pen.often(0.3):
                sheet.add()
        if sections > 1 and sums:
            _sum(pen, sheet, columns, some, pen.one("subtotals"))
    if sums:
        _sum(pen, sheet, columns, way.tanks, pen.one("totals"))
    return truth


def _lines(tank: Tank, each_a_row: bool) -> list[Line]:
    if not tank.banks:
        return [Line(tank, None, True)]
    if each_a_row:
        found = [Line(tank, bank, False, n + 1) for bank in tank.banks for n in range(bank.number)]
        for number, line in enumerate(found):
            line.heater = number + 1
    else:
        found = [Line(tank, bank, False) for bank in tank.banks]
    found[0].first = True
    return found


def _tank(pen: Pen, sheet: Sheet, columns: list[Column], way: Way) -> list[dict]:
    """The rows of a tank, and what is to be read of them."""
    truth = []
    [tank] = way.tanks
    words = {"removed": pen.one("removed"), "others": pen.one("others")}.get(tank.fate, "")
    remark = next((n for n, column in enumerate(columns) if column.key == "remarks"), len(columns))
    strike = tank.fate == "removed" and pen.often(0.3)
    for line in _lines(tank, way.each_a_row):
        cells = [column.cell(line) for column in columns]
        if words and not strike:
            cells[remark:] = [words]
        at = sheet.add(*cells)
        if strike:
            sheet.struck.append(at)
        entry: dict = {"sheet": sheet.name, "row": at + 1, "fate": "report" if tank.fate in ("removed", "others") else tank.fate}
        if tank.fate == "take" and line.bank:
            number = 1 if way.each_a_row else line.bank.number
            entry["heaters"] = [{"tank": tank.tag, "quantity": number, "power_kw": line.bank.power_kw, "volts_v": line.bank.volts,
                                 "phases": line.bank.phases}]  # fmt: skip
        truth.append(entry)
    return truth


def _merge(sheet: Sheet, columns: list[Column], rows: int) -> None:
    """The cells of the tank over its rows, where they stand in the first alone."""
    last = len(sheet.rows) - 1
    for number, column in enumerate(columns):
        if rows > 1 and column.key in ("tank", "process", "temperature") and sheet.rows[last][number] is None:
            sheet.merged.append((last - rows + 1, number, last, number))


def _sum(pen: Pen, sheet: Sheet, columns: list[Column], tanks: list[Tank], word: str) -> None:
    """A row of sums: the heaters and the kilowatts, under the columns that can have them."""
    cells: list[Cell] = [None] * len(columns)
    cells[next(n for n, column in enumerate(columns) if column.key in ("tank", "process"))] = word
    banks = [bank for tank in tanks for bank in tank.banks if tank.fate == "take"]
    power = sum(bank.number * bank.power_kw for bank in banks)
    totals = [n for n, column in enumerate(columns) if column.key == "total"]
    places = totals or [n for n, column in enumerate(columns) if column.key in ("each", "power", "both")]
    watts = columns[places[0]].unit == "W"
    cells[places[0]] = f"{pen.number(power)} kW" if columns[places[0]].key == "both" else round(1000 * power) if watts else power
    for n, column in enumerate(columns):
        if column.key == "quantity" and pen.often(0.4):
            cells[n] = sum(bank.number for bank in banks)
    sheet.add(*cells)


def notes(pen: Pen, sheet: Sheet, supply: str) -> None:
    lines = pen.chance.sample(pen.words["notes"], pen.chance.choice((0, 0, 1, 2, 4)))
    if supply:
        lines.insert(pen.chance.randint(0, len(lines)), supply)
    if not lines:
        return
    if pen.often(0.7):
        sheet.add()
    if pen.often(0.5):
        sheet.add(pen.one("note_heads"))
    numbered = pen.often(0.5)
    for number, line in enumerate(lines, start=1):
        if numbered and pen.often(0.3):
            sheet.add(number, line)
        else:
            sheet.add(f"{number}. {line}" if numbered else line)
    if pen.often(0.15):
        sheet.add()
        for line in pen.chance.sample(pen.words["legend"], 2):
            sheet.add(line)


def _beside(pen: Pen, sheet: Sheet, tanks: list[Tank]) -> list[Sheet]:
    """What else may be in the workbook: pumps, sizes of tanks; below the list, or on a sheet of their own."""
    found = []
    for kind in ("pumps", "sizes"):
        if not pen.often(0.08):
            continue
        words = pen.words[kind]
        name = pen.chance.choice(words["name"])
        rows: list[list[Cell]] = [[name], words["headings"]]
        for tank in tanks:
            volts = first_bank(tanks).volts
            if kind == "sizes":
                rows.append([tank.tag, *tank.size, pen.chance.choice(words["words"])])
            elif pen.often(0.5):
                flow, power = 10 * pen.chance.randint(2, 12), pen.chance.choice((1, 2, 3, 5))
                rows.append([tank.tag, pen.chance.choice(words["words"]), flow, power, volts, 3])
        if pen.often(0.3):
            sheet.rows += [[], *rows]
        else:
            found.append(Sheet(name[:31], rows))
    return found
