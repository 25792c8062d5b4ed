"""Lists of one heater a line or a circuit, without a column of numbers; and columns that say the volts twice."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

from batch.intake.described import described
from batch.intake.facts import read_cell
from batch.intake.grid import Grid, worded
from batch.intake.heading_sense import names_a_heater
from batch.intake.line_kinds import DATA, DOUBT, Line
from batch.intake.list_words import is_heater, nothing_word
from batch.intake.ones_unsaid import ones_unsaid
from batch.intake.plan import ListPlan
from batch.intake.survey import HeadingColumn, Region, cells_of
from batch.intake.tank_words import tank_named
from batch.intake.texts_beside import cell_of

ONE_A_LINE = re.compile(
    r"\b(?:one|1) (?:line|row|entry|circuit|breaker) ?(?:=|is|equals) ?(?:one|an?|1)\b"
    r"|\b(?:one|1|a) heater ?(?:per|a|each|on each|in each|=) ?(?:one|1)? ?(?:line|row|entry)\b"
    r"|\b(?:each|every) heater (?:is |stands |has |on |in )+(?:its|a|an) own (?:line|row|entry)\b"
    r"|\bheaters? (?:are )?listed (?:individually|singly|one by one)\b"
    r"|\b(?:ein|1) (?:strom)?kreis ?= ?(?:ein|1)\b|\b(?:[ée][ée]n|1) (?:groep|kring) ?= ?(?:[ée][ée]n|1)\b"
    r"|\b(?:un|1) (?:circuit|d[ée]part) ?= ?(?:une?|1)\b"
    r"|\b(?:un|1) circuito ?= ?(?:una?|1)\b|\b(?:um|1) circuito ?= ?(?:uma?|1)\b|\b(?:jeden|1) obw[óo]d ?= ?(?:jedna|1)\b"
    r"|\bein (?:heizer|heizstab|heizk[öo]rper|badw[äa]rmer) (?:je|pro) zeile\b|\bun thermoplongeur par ligne\b"
    r"|\buna? resistencia por (?:l[ií]nea|fila)\b"
    r"|\bone (?:line|row|entry) (?:per|for each|for every|each)\b|\b(?:each|every) (?:line|row) (?:is|=) (?:one|a|an|1)\b"
    r"|\b1 (?:line|row|zeile|ligne|l[ií]nea|fila|rengl[oó]n|riga|regel|wiersz|linha) ?= ?(?:1|one|une?|ein|eine|una|uno|een|jedna|uma)\b"
    r"|[ée]n linje (?:pr\.?|per)|en rad per|jeden [rř][aá]dek (?:na|=)"
    r"|eine zeile (?:je|pro)|je zeile ein|jede zeile (?:ist|=|entspricht)"
    r"|cada (?:rengl[oó]n|l[ií]nea|fila) (?:es|=|corresponde a) una?|chaque ligne (?:est|=|correspond)|ogni riga (?:è|e'|=|corrisponde)"
    r"|elke regel (?:is|=)|ka[zż]dy wiersz (?:to|=)|cada linha (?:é|=|corresponde)"
    r"|une ligne par|una l[ií]nea por|una fila por|una riga (?:per|a)|[ée][ée]n regel per|jeden wiersz|uma linha (?:por|para)",
    re.IGNORECASE,
)
# A sentence by itself that says so; with "never", "on line 1", "typical of 4" or another number about it, it says another thing
ONE_A_CIRCUIT = re.compile(
    r"(?:\A|[.;:)\]|]\s*)(?:"
    r"(?:one|1|a single) (?:immersion )?(?:heater|element) (?:per|for each|on each|to each|a) (?:heater )?(?:branch )?"
    r"(?:circuit|breaker|way)"
    r"|each (?:heater |branch )*circuit (?:serves|feeds|supplies|is|has) (?:only )?(?:one|1|a single) (?:immersion )?(?:heater|element)"
    r"|ein heiz(?:er|stab|k[öo]rper) (?:je|pro) (?:strom|heiz)kreis|un thermoplongeur par (?:circuit|d[ée]part)"
    r"|una? (?:calentador|resistencia) por circuito|una? (?:resistenza|riscaldatore) per circuito"
    r"|[ée][ée]n verwarmingselement per (?:groep|circuit)|jedna grza[łl]ka na obw[óo]d|uma resist[êe]ncia por circuito"
    r"|[ée]t varmelegeme pr\.? kreds|[ée]n kolbe per kurs|en doppv[äa]rmare per grupp|jedno t[eě]leso na okruh"
    r")\s*(?:\Z|[.;)])(?!.*(?:\d|\b(?:except|unless|but|otherwise|typ(?:ical)?|never|not)\b))",
    re.IGNORECASE | re.DOTALL,
)
OF_THE_ONE = re.compile(r"\bkW (?:is |= ?)?(?:that )?of the one heater on (?:the|each|its) circuit\b", re.IGNORECASE)
ONE_OF = re.compile(r"\b(?P<number>\d{1,2})\s*(?:of|von|sur|de|di|van|z|/)\s*(?P<all>\d{1,2})\b", re.IGNORECASE)
NUMBERED_HEATER = re.compile(r"[^\W\d_]{3,}\.?\s*(?:(?:no|nr|n[°º])\.?|#)?\s*0?(\d{1,2}|[A-H])\Z")
ITS_NUMBER = re.compile(r"(?:\A[^\W\d_]{3,}\.?|#|\bn(?:o|r|[°º])\.?)\s*(\d{1,2})\b", re.IGNORECASE)  # "Resistenza 1", "HEATER, #2"
COUNTED = re.compile(r"\s*\d{1,2}\s*[x×*]\s*\d")
SEVERAL = re.compile(  # words for more than one heater
    r"\b(?:htrs|heaters|elements|pair|set|bank|both|heizer|thermoplongeurs|resist[eê]ncias|resistencias|resistenze|grza[łl]ki)\b",
    re.IGNORECASE,
)
TAG = re.compile(r"(?=.*[^\W\d_])(?=.*\d)|\d{3,}\Z")
NEW_POWER = re.compile(
    r"\b(?:new|replacement|proposed|revised|neue?r?s?|nouv\w*|nuev\w*|nuov\w*|nieuw\w*|now[aey]\w*|nov[oaáý]\w*|nya?)\b", re.IGNORECASE
)
LEAST_TAGS = 3
LEAST_DISTINCT = 0.9  # of the tags of heaters
LEAST_TANKS = 2  # that have several lines, for the layout to show by itself
DIFFERENT = 0.05  # of volts: a heater of 230 V on a net of 240 V is no contradiction
LEAST_NAME = 0.75  # of a second column of volts


def one_a_line(plan: ListPlan, region: Region, data: Sequence[int], around: Sequence[tuple[int, int, str]]) -> None:
    """Each line is one heater, where a sentence says so, or where each has a tag of its own and tanks have several lines."""
    _as_said_or_counted(plan, region, data, around)
    counted = {"quantity", "tanks", "total_kw", "circuits_per_heater"} & plan.columns.keys()
    if "quantity" not in plan.fixed and not counted and not plan.also and (own := _tagged_each(plan, region, data)):
        plan.fixed["quantity"] = 1
        plan.why["fixed.quantity"] = f'each line has a tag of its own under "{own[:40]}", tanks have several, and none has a number'
    ones_unsaid(plan, region, data)


def _as_said_or_counted(plan: ListPlan, region: Region, data: Sequence[int], around: Sequence[tuple[int, int, str]]) -> None:
    circuits = next(((row, column, text) for row, column, text in around if ONE_A_CIRCUIT.search(text) or OF_THE_ONE.search(text)), None)
    # a panel's circuit may be 1-phase, whatever its title says
    by_row = {"volts_v", "phases"} <= plan.columns.keys() or "poles" in plan.why
    whole = by_row and "power_kw" in plan.columns and bool({"tank", "description"} & plan.columns.keys())
    counted = any(key in plan.columns for key in ("quantity", "tanks", "total_kw", "circuits_per_heater"))
    if circuits is not None and whole and not counted and not plan.also:
        plan.fixed["quantity"] = 1
        plan.why["fixed.quantity"] = f'"{circuits[2][:80]}" in {cell_of(circuits[0], circuits[1])}'
        return
    if not counted and not plan.also and (numbered := _numbered_in_words(plan, region, data)):
        plan.fixed["quantity"] = 1
        plan.why["fixed.quantity"] = f'each line describes a heater by a number of its own, such as "{numbered[:60]}"'
        return
    if not counted and not plan.also and (numbered := _numbered_under_banners(plan, region)):
        plan.fixed["quantity"] = 1
        plan.why["fixed.quantity"] = f'under each banner the lines count the heaters from the first on, such as "{numbered[:60]}"'
        return
    if not counted and not plan.also and (numbered := _one_of_several(region, data)):
        plan.fixed["quantity"] = 1
        plan.why["fixed.quantity"] = f'lines name one heater of several each, such as "{numbered[:60]}"'
        return
    each = next(((row, column, text) for row, column, text in around if ONE_A_LINE.search(text)), None)
    if each is not None and not counted and not plan.also and "power_kw" in plan.columns:
        plan.fixed["quantity"] = 1
        plan.why["fixed.quantity"] = f'"{each[2][:80]}" in {cell_of(each[0], each[1])}'
        return
    tag, power = plan.columns.get("bank"), plan.columns.get("power_kw")
    if power is None or {"quantity", "tanks", "total_kw"} & plan.columns.keys() or plan.also:
        return
    told = plan.columns.get("description")
    if told is not None and 2 * len(_heaters_in(region, data, told.index)) > len(_filled(region, data, told.index)):
        _one_heater_each(plan, region, data)
        if "quantity" not in plan.fixed and (numbered := _numbered_by_tank(plan, region, data)):
            plan.fixed["quantity"] = 1
            plan.why["fixed.quantity"] = f'each line has a tag of its own and is one heater of its tank, such as "{numbered[:60]}"'
        return
    rows = [region.grid.rows[line] for line in data]
    filled = [row for row in rows if power.index < len(row) and not nothing_word(worded(row[power.index]) or "-")]
    said = next(((row, column, text) for row, column, text in around if ONE_A_LINE.search(text)), None)
    at = tag.index if tag is not None and _distinct(filled, tag.index) else -1
    if at < 0 and said is not None:  # whatever is over them, the numbers of the heaters are all different
        free = [column for column in region.columns if column.index not in {one.index for one in plan.columns.values()}]
        at = next((column.index for column in free if _numbered(filled, column.index)), -1)
    if at < 0:
        return
    if said is None and _lines_of_tanks(plan, region, data) < LEAST_TANKS:
        return
    plan.fixed["quantity"] = 1
    by_itself = f'each line has a tag of its own under "{tag.heading if tag is not None else ""}", and no number'
    plan.why["fixed.quantity"] = f'"{said[2][:80]}" in {cell_of(said[0], said[1])}' if said else by_itself


def _tagged_each(plan: ListPlan, region: Region, data: Sequence[int]) -> str:
    """The heading of a column of tags that are all different, one for each line of a heater, where tanks have several lines; else ""."""
    told, power, tank = (plan.columns.get(key) for key in ("description", "power_kw", "tank"))
    if tank is None and told is None:
        return ""
    rows = [region.grid.rows[line] for line in data]
    texts = {id(row): worded(row[told.index]) if told is not None and told.index < len(row) else "" for row in rows}
    if any(_heats(text) for text in texts.values()):  # a list of equipment: its heaters alone
        rows = [row for row in rows if _heats(texts[id(row)])]
    if power is not None:
        rows = [row for row in rows if power.index < len(row) and not nothing_word(worded(row[power.index]) or "-")]
    else:
        rows = [row for row in rows if "power_kw" in described(texts[id(row)]).facts]
    rows = [row for row in rows if not (power is not None and COUNTED.match(worded(row[power.index])))]  # "2 x 3" says its own number
    of_several = (SEVERAL.search(texts[id(row)]) or "quantity" in described(texts[id(row)]).facts for row in rows)
    if len(rows) < LEAST_TAGS or any(of_several):
        return ""
    tanks: list[str] = []
    for row in rows:  # a tag in the first row of a group alone is that of the others
        own_tag = worded(row[tank.index]) if tank is not None and tank.index < len(row) else ""
        tag = own_tag.strip() if tank is not None else tank_named(texts[id(row)]).text
        tanks.append(tag or (tanks[-1] if tanks else ""))
    if _lacks_a_number(set(tanks), [(name, texts[id(row)]) for name, row in zip(tanks, rows, strict=True)]):
        return ""
    told_by = () if told is None or (_numbered(rows, told.index) and not any(_heats(texts[id(row)]) for row in rows)) else ("description",)
    used = {column.index for key, column in plan.columns.items() if key not in ("bank", "description") or key in told_by}
    own = (column for column in region.columns if column.index not in used and _numbered(rows, column.index))
    several = sum(tanks.count(name) > 1 for name in set(tanks) if name)
    return next((column.text for column in own), "") if several >= LEAST_TANKS else ""


def _lacks_a_number(tanks: Iterable[str], lines: Sequence[tuple[str, str]]) -> bool:
    """Are there lines "#1" and "#3" of a tank, and none of the second?"""
    for tank in tanks:
        own = [text.removeprefix(name) for name, text in lines if name == tank]  # "Tank 2 heater" is no second one
        numbers = {int(match[1]) for text in own if (match := ITS_NUMBER.search(text)) is not None}
        if numbers and numbers != set(range(1, max(numbers) + 1)):
            return True
    return False


def _one_heater_each(plan: ListPlan, region: Region, data: Sequence[int]) -> None:
    """A list of equipment whose lines each have a tag of their own and say "immersion heater", one, several of them in a tank."""
    told, tag, tank = plan.columns["description"], plan.columns.get("bank"), plan.columns.get("tank")
    rows = [region.grid.rows[line] for line in data]
    of_heaters = [row for row in rows if told.index < len(row) and is_heater(worded(row[told.index]))]
    if tag is None or tank is None or not _distinct(of_heaters, tag.index):
        return
    texts = [worded(row[told.index]) for row in of_heaters]
    if any(SEVERAL.search(text) or described(text).facts.keys() & {"quantity"} for text in texts):
        return
    tanks = [worded(row[tank.index]).strip() for row in of_heaters if tank.index < len(row) and row[tank.index] not in ("", None)]
    if len(tanks) - len(set(tanks)) >= LEAST_TANKS:
        plan.fixed["quantity"] = 1
        plan.why["fixed.quantity"] = f'each line has a tag of its own under "{tag.heading}" and is one heater, "{texts[0][:40]}"'


def _numbered_by_tank(plan: ListPlan, region: Region, data: Sequence[int]) -> str:
    """ "Resistenza 1 sgrassaggio" and "HEATER, IMMERSION, #2", each line with a tag of its own: the heaters of each tank are numbered from
    1; "" where one of them is not, or a line speaks of several."""
    told, tank = plan.columns["description"], plan.columns.get("tank")
    rows = [region.grid.rows[line] for line in data]
    rows = [row for row in rows if told.index < len(row) and _heats(worded(row[told.index]))]
    texts = [worded(row[told.index]) for row in rows]
    if tank is None or any(SEVERAL.search(text) or "quantity" in described(text).facts for text in texts):
        return ""
    used = plan.used()
    if not any(column.index not in used and _numbered(rows, column.index) for column in region.columns):
        return ""
    numbers: dict[str, list[int]] = {}
    for row, text in zip(rows, texts, strict=True):
        match = ITS_NUMBER.search(text)
        numbers.setdefault(worded(row[tank.index]).strip(), []).append(int(match[1]) if match is not None else 0)
    several = [some for some in numbers.values() if len(some) > 1]
    whole = all(sorted(some) == list(range(1, len(some) + 1)) for some in several)
    return texts[0] if whole and len(several) >= LEAST_TANKS else ""


def _heats(text: str) -> bool:
    return is_heater(text) or names_a_heater(text)


def _numbered_in_words(plan: ListPlan, region: Region, data: Sequence[int]) -> str:
    """ "Tank 1 heater #1", "Tank 1 heater #2", "Tank 5 heater #1": a description by which each line is one heater; "" where they do not
    all end so, or no tank has a second."""
    told = plan.columns.get("description")
    if told is None:
        return ""
    texts = _heaters_in(region, data, told.index)
    if any(_heaters_in(region, data, column.index) for column in region.columns if column.index != told.index):
        return ""  # a panel's schedule has heaters on its right side too
    numbers = [match[1] for text in texts if (match := NUMBERED_HEATER.search(text))]
    if len(texts) < LEAST_TAGS or len(numbers) < len(texts) or len(set(texts)) < len(texts) or not {"2", "B"} & {*numbers}:
        return ""
    return texts[0]


def _numbered_under_banners(plan: ListPlan, region: Region) -> str:
    """ "TANK 210", below it "Heater 1", "Heater 2"; "TANK 220", "Heater 1": each line is one heater; "" where a number lacks."""
    told = plan.columns.get("description")
    if told is None or "power_kw" not in plan.columns or "tank" in plan.columns:
        return ""
    groups: list[list[str]] = []
    for line in region.lines():
        cells = cells_of(region.grid.rows[line], region.first, region.last)
        if len(cells) == 1 and isinstance(cells[0][1], str):
            groups.append([])
            continue
        text = next((worded(value).strip() for at, value in cells if at == told.index), "")
        number = NUMBERED_HEATER.fullmatch(text)
        if number is not None and _heats(text):
            if not groups:
                return ""
            groups[-1].append(number[1])
        elif _heats(text):
            return ""
    some = [numbers for numbers in groups if numbers]
    counted = all(numbers == [str(at + 1) for at in range(len(numbers))] for numbers in some)
    return f"{region.columns[0].text} 1" if counted and len(some) >= LEAST_TANKS and any(len(numbers) > 1 for numbers in some) else ""


def _one_of_several(region: Region, data: Sequence[int]) -> str:
    """ "Heater 1 of 2", "Heater 2 of 2": lines of one heater each, where every one of them is there; "" where that is not so."""
    for column in region.columns:
        found: dict[int, list[int]] = {}
        example = ""
        for text in _heaters_in(region, data, column.index):
            if (match := ONE_OF.search(text)) is not None and 1 <= int(match["number"]) <= int(match["all"]):
                found.setdefault(int(match["all"]), []).append(int(match["number"]))
                example = example or text
        counts = {all_of: {number: numbers.count(number) for number in numbers} for all_of, numbers in found.items()}
        if found and all(len(some) == all_of and len(set(some.values())) == 1 for all_of, some in counts.items()):
            return example
    return ""


def _heaters_in(region: Region, data: Sequence[int], at: int) -> list[str]:
    """The cells of a column that name heaters."""
    return [text for text in _filled(region, data, at) if _heats(text)]


def _filled(region: Region, data: Sequence[int], at: int) -> list[str]:
    cells = (worded(region.grid.rows[line][at]).strip() for line in data if at < len(region.grid.rows[line]))
    return [text for text in cells if text]


def _distinct(rows: Sequence[Sequence[object]], at: int) -> list[str]:
    """The tags of a column where nearly all of them differ; else none."""
    tags = [worded(row[at]).strip() for row in rows if at < len(row) and row[at] not in ("", None)]
    return tags if len(tags) >= LEAST_TAGS and len(set(tags)) >= LEAST_DISTINCT * len(tags) else []


def _numbered(rows: Sequence[Sequence[object]], at: int) -> bool:
    """Does a column hold a tag with letters and digits for every row?"""
    tags = _distinct(rows, at)
    return len(tags) == len(rows) and all(TAG.search(tag) for tag in tags)


def _lines_of_tanks(plan: ListPlan, region: Region, data: Sequence[int]) -> int:
    """How many tanks have several lines."""
    tank = plan.columns.get("tank")
    if tank is None:
        return 0
    counts: dict[str, int] = {}
    name = ""
    for line in data:
        own = region.grid.rows[line][tank.index]
        name = worded(own).strip() if own not in ("", None) else name
        if name:
            counts[name] = counts.get(name, 0) + 1
    return sum(count > 1 for count in counts.values())


def power_said_twice(grid: Grid, plan: ListPlan, columns: Sequence[HeadingColumn], lines: Sequence[Line]) -> None:
    """A row that has another power under a second heading of one, "Nameplate kW" and "New kW", is asked about."""
    taken, main = plan.taken(), plan.columns.get("power_kw")
    for column in columns if not plan.also else ():
        if column.index in taken or not NEW_POWER.search(column.text) or not any(one.key == "power_kw" for one in column.meanings()[:2]):
            continue
        for line in lines:
            row = grid.rows[line.index]
            fact = read_cell("power_kw", row[column.index], column.index) if column.index < len(row) else None
            power, count, other = line.figure("power_kw"), line.figure("quantity") or 1.0, fact.value if fact is not None else None
            if main is None or line.kind != DATA or not isinstance(other, float):
                continue
            if not any(abs(other - one) <= DIFFERENT * one for one in ([power, power * count] if power else [])):
                line.kind, line.at = DOUBT, column.index
                line.why = f'{other:g} kW under "{column.text}"' + (f' and {power:g} kW under "{main.heading}"' if power else "")


def volts_said_twice(grid: Grid, plan: ListPlan, columns: Sequence[HeadingColumn], lines: Sequence[Line]) -> None:
    """A row whose two columns of volts differ is asked about: a heater of 480 V on a net of 600 V."""
    taken = plan.taken()
    main = plan.columns.get("volts_v")
    if main is None:
        return
    for column in columns:
        if column.index in taken or not any(one.key == "volts_v" and one.score >= LEAST_NAME for one in column.meanings()[:1]):
            continue
        for line in lines:
            row = grid.rows[line.index]
            fact = read_cell("volts_v", row[column.index], column.index) if column.index < len(row) else None
            volts, other = line.figure("volts_v"), fact.value if fact is not None else None
            if line.kind == DATA and volts and isinstance(other, float) and abs(volts - other) > DIFFERENT * volts:
                line.kind, line.at = DOUBT, column.index
                line.why = f'{volts:g} V under "{main.heading}" and {other:g} V under "{column.text}"'
