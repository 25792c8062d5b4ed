"""Drafts a column map for a workbook: what is certain is written, what is only likely stands beside it as a comment."""

from __future__ import annotations

from collections.abc import Sequence
from difflib import SequenceMatcher
from pathlib import Path

from msgspec import Struct

from batch.intake.cells import Outcome, reader, squeezed
from batch.intake.grid import Grid, worded
from batch.intake.head import SEEN, Head, find_head
from batch.intake.headings import BRACKETS, WORD, Heading, Matcher, column_unit
from batch.intake.layout import side_by_side
from batch.intake.lists import read_lists
from batch.intake.map_text import HEAD, NOTHING_FILLED_IN, plain, quoted
from batch.intake.recognise import kind_of_name, recognise
from batch.intake.rows import TOTAL_WORDS
from batch.intake.table_map import flat
from batch.intake.workbook import load, open_workbook
from batch.ooxml.addresses import letters
from batch.sheets import HEATERS, INPUTS, Column, Sheet
from batch.sheets.received import READ_ME

# How sure a guess is, in per cent, by the reason for it: common practice, no source. Only 100 is applied.
CERTAIN, ABBREVIATED, CONTAINED, BY_CONTENT, BY_SPELLING, LEAST = 100, 85, 60, 40, 0.75, 2
SHORT = {
    "htr": "heater", "htrs": "heaters", "pwr": "power", "volt": "volts", "vlt": "volts", "tk": "tank", "tnk": "tank", "elem": "element",
    "qnty": "quantity", "quan": "quantity", "amt": "quantity", "lgth": "length", "len": "length", "conn": "connection", "no": "", "nr": "",
    "temp": "temperature", "phs": "phases", "fdr": "feeder", "proj": "project", "dia": "diameter", "of": "", "the": "", "pos": "tank",
    "position": "tank", "load": "power", "system": "volts", "remark": "notes",
}  # fmt: skip
USUAL_VOLTS = frozenset({110, 115, 120, 127, 200, 208, 220, 230, 240, 277, 347, 380, 400, 415, 440, 460, 480, 500, 525, 575, 600, 690})


class Guess(Struct, frozen=True):
    """A heading that may mean a column: how sure, in per cent, and why."""

    heading: Heading
    key: str
    sure: int
    why: str


class Drafted(Struct, frozen=True):
    """A table found on a sheet, and the part of the columns it takes."""

    grid: Grid
    sheet: Sheet
    head: Head
    span: tuple[int, int] | None  # where several tables stand beside each other


def draft(path: Path) -> str:
    """A column map for the workbook, as text.

    Raises:
        InputFileError: the workbook cannot be read.
    """
    path = Path(path)
    workbook = open_workbook(load(path), str(path))
    lines = [line.format(name=plain(path.name), quoted=plain(f'"{path.name}"')) for line in HEAD]
    matchers = {sheet.id: Matcher(sheet) for sheet in INPUTS}
    kinds = dict(recognise(workbook.grids, matchers).named_kinds())
    tags: set[str] = set()
    drafted: set[str] = set()
    strange = []
    for grid in workbook.grids:
        if not grid.filled or squeezed(grid.name) == squeezed(READ_ME):
            continue
        if kinds.get(grid.name) is None:
            strange.append(grid)
            continue
        for table in _tables(grid, matchers):
            written = _table(table, matchers[table.sheet.id])
            why = _against(table, tags, drafted)
            lines += ["", *([why, *(f"# {line}" for line in written)] if why else written)]
    if strange:
        lists = read_lists(path.name, strange)
        lines += [line for line in lists.map_text.splitlines()[len(HEAD) :] if line != NOTHING_FILLED_IN]
        read = {one.sheet for one in lists.studied} | {one.sheet for one in lists.findings if one.code == "list-not-read"}
        lines += [line for grid in strange if grid.name not in read for line in ("", _no_table(grid))]
    if len(lines) == len(HEAD):
        lines += ["", "# The workbook is empty."]
    elif not any(line == "[[table]]" for line in lines):
        lines.insert(len(HEAD), NOTHING_FILLED_IN)
    return "\n".join(lines) + "\n"


def _no_table(grid: Grid) -> str:
    return f"# Sheet {quoted(grid.name)} ({grid.filled} rows): nothing in it looks like a table of a job."


def _tables(grid: Grid, matchers: dict[str, Matcher]) -> list[Drafted]:
    """The tables of a sheet: as its tab's name says, or else as the kind whose headings fit best."""
    named = kind_of_name(grid.name)
    best: tuple[tuple[float, int], Sheet, Head] | None = None
    for sheet in [named[0]] if named else INPUTS:
        head = find_head(grid, matchers[sheet.id])
        if head.row < 0:
            continue
        needed = sum(column.required for column in sheet.columns)
        fit = (1 - len(head.missing(sheet)) / needed) * min(needed, 3) if needed else 0.0, len(head.by_key)
        if len(head.by_key) >= LEAST and (best is None or fit > best[0]):
            best = fit, sheet, head
    if best is None:
        return []
    _, sheet, head = best
    spans = side_by_side(head, sheet)
    if len(spans) < 2:
        return [Drafted(grid, sheet, head, None)]
    parts = [grid.part(grid.name, *span) for span in spans]
    return [Drafted(part, sheet, find_head(part, matchers[sheet.id]), span) for part, span in zip(parts, spans, strict=True)]


def _against(table: Drafted, tags: set[str], kinds: set[str]) -> str:
    """Why a table is not applied although it is certain: its tags stand in an earlier one, so it may be another issue of it."""
    key = table.sheet.key[-1] if table.sheet.id != HEATERS.id else "tank"
    own = {f"{table.sheet.id}:{text.casefold()}" for text in _column_texts(table, key) if not TOTAL_WORDS.match(text)}
    common = own & tags
    tags |= own
    if table.sheet.id in kinds and common:
        example = min(common).partition(":")[2]
        sheet = quoted(table.grid.name)
        return f"# Not applied: {sheet} has tags of a sheet above, such as {quoted(example)}; it may be an older issue of it."
    kinds.add(table.sheet.id)
    return ""


def _column_texts(table: Drafted, key: str) -> list[str]:
    index = table.head.by_key[key][0].index if key in table.head.by_key else -1
    rows = [table.grid.rows[line] for line in table.grid.lines_from(table.head.first_data_row)] if index >= 0 else []
    return [text for row in rows if (text := worded(row[index]).strip())]


def _table(table: Drafted, matcher: Matcher) -> list[str]:
    grid, sheet, head = table.grid, table.sheet, table.head
    first = [str(row + 1) for row in range(head.top, head.row + 1)]
    lines = ["[[table]]", f"sheet = {quoted(grid.name)}", f'kind = "{sheet.name}"']
    lines.append(f"heading_row = {first[0] if len(first) == 1 else '[' + ', '.join(first) + ']'}")
    if table.span:
        lines += [f'first_column = "{letters(table.span[0])}"', f'last_column = "{letters(table.span[1])}"']
    if blanks := _untagged(table):
        lines.append(f'# blank_repeats_above = ["Tank"]  # sure {BY_CONTENT} %: {blanks}')
    lines.append("[table.columns]")
    texts = [flat(heading.text).casefold() for heading in head.headings]
    for key, some in head.by_key.items():
        lines.append(_entry(sheet[key], some[0], texts, f"sure {CERTAIN} %: {_reason(some[0])}"))
        for other in some[1:]:
            lines.append("# " + _entry(sheet[key], other, texts, "the same column once more: which of the two is right?"))
    free = [column.key for column in sheet.columns if column.key not in head.by_key]
    guesses = _guesses(table, matcher, free)
    lines += ["# " + _entry(sheet[guess.key], guess.heading, texts, f"sure {guess.sure} %: {guess.why}") for guess in guesses]
    riding = [quoted(flat(one.text)) for one in head.headings if one.text and not one.key and not one.beside
              and not any(guess.heading.index == one.index for guess in guesses)]  # fmt: skip
    if riding:
        lines.append(f"# not read, but kept as received: {plain(', '.join(riding))}")
    for column in head.missing(sheet):
        lines.append(f"# needed and not found: {column.heading}. Give its heading above, or one value for every row below.")
    lines.append("[table.fixed]")
    lines += [f"# {_key(column)} = …" for column in head.missing(sheet)]
    return lines


def _reason(heading: Heading) -> str:
    return "our own name for it" if heading.rank == 0 else "another name of it"


def _entry(column: Column, heading: Heading, texts: Sequence[str], why: str) -> str:
    text = flat(heading.text)
    if text and texts.count(text.casefold()) == 1:
        said = quoted(text)
        if heading.unit is not None and (unit := _unit_words(heading, column)):
            said = f"{{ heading = {said}, unit = {quoted(unit)} }}"
    else:
        said = f'{{ column = "{letters(heading.index)}" }}'
    return f"{_key(column)} = {said}  # {plain(why)}"


def _unit_words(heading: Heading, column: Column) -> str:
    """How the unit of a heading may be written: one of the column's own two; "" where it is another, which the heading itself says."""
    from batch.units import spelled

    return next((unit for unit in (column.unit, column.us_unit, "W") if unit and spelled(unit) == heading.unit), "")


def _untagged(table: Drafted) -> str:
    """Rows with a power but no tank of their own, in words."""
    tank, power = (table.head.by_key.get(key, (None,))[0] for key in ("tank", "power_kw"))
    if table.sheet.id != HEATERS.id or tank is None or power is None:
        return ""
    rows = [line + 1 for line in table.grid.lines_from(table.head.first_data_row)
            if not worded(table.grid.rows[line][tank.index]).strip() and isinstance(table.grid.rows[line][power.index], float)]  # fmt: skip
    return f"{len(rows)} rows, the first of them row {rows[0]}, have a power but no tank" if rows else ""


def _guesses(table: Drafted, matcher: Matcher, free: Sequence[str]) -> list[Guess]:
    """For each heading that means nothing for certain the likeliest column, and each column once."""
    found: list[Guess] = []
    for heading in table.head.headings:
        if not heading.key and not heading.beside:
            found += _guesses_of(table, heading, matcher, free)
    taken: set[object] = set()
    best: list[Guess] = []
    for guess in sorted(found, key=lambda guess: (-guess.sure, guess.heading.index)):
        if guess.key not in taken and guess.heading.index not in taken:
            taken |= {guess.key, guess.heading.index}
            best.append(guess)
    return sorted(best, key=lambda guess: guess.heading.index)


def _guesses_of(table: Drafted, heading: Heading, matcher: Matcher, free: Sequence[str]) -> list[Guess]:
    found: list[Guess] = []
    text = BRACKETS.sub(" ", heading.text)
    words = [SHORT.get(squeezed(word), squeezed(word)) for word in WORD.findall(text)]
    if words and (whole := matcher.match(" ".join(word for word in words if word))) and whole.key in free:
        found.append(Guess(heading, whole.key, ABBREVIATED, f"read as {' '.join(word for word in words if word)}"))
    bare = squeezed(text)
    for name, (key, _) in matcher.known.items():
        if key not in free or len(name) < 3 or not bare:
            continue
        ratio = SequenceMatcher(None, bare[:80], name).ratio()
        if ratio >= BY_SPELLING:
            found.append(Guess(heading, key, min(round(100 * ratio) - 10, ABBREVIATED), f"spelt much like {table.sheet[key].heading}"))
        elif name in words:
            found.append(Guess(heading, key, CONTAINED, f"has the word {name}"))
    return found + _by_content(table, heading, free)


def _by_content(table: Drafted, heading: Heading, free: Sequence[str]) -> list[Guess]:
    """What the cells below look like, for the columns whose values give them away."""
    rows = [table.grid.rows[line] for line in table.grid.lines_from(table.head.first_data_row)[:SEEN]]
    cells = [row[heading.index] for row in rows if row[heading.index] not in ("", None)]
    if len(cells) < 2:
        return []
    found: list[Guess] = []
    for key in free:
        column = table.sheet[key]
        if column.key not in ("volts_v", "phases") and column.kind != "choice":
            continue
        read = reader(column, column_unit(column))
        values = [one.value if type(one) is Outcome else one for one in map(read, cells)]
        if any(value is None for value in values) or (key == "volts_v" and not USUAL_VOLTS.issuperset(values)):
            continue
        if column.kind == "choice" and set(column.choices) == {"yes", "no"}:
            continue  # many a column is one of yes and no
        found.append(Guess(heading, key, BY_CONTENT, f"its cells could all be {column.heading.lower()}"))
    return found


def _key(column: Column) -> str:
    return column.heading if column.heading.isalpha() and column.heading.isascii() else f'"{column.heading}"'
