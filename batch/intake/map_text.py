"""The reading of a workbook's lists as a column map: every line with its evidence, and the open questions as lines to answer."""

from __future__ import annotations

import json
import re
from collections.abc import Mapping, Sequence

from batch.intake.assignment import OPEN
from batch.intake.grid import Grid, shown, worded
from batch.intake.groups_named import unmarked
from batch.intake.line_kinds import DATA, DOUBT, HIDDEN, OUT, TOTAL, by_itself
from batch.intake.list_columns import BATH, FOREIGN_POWER, LIST, NEEDED
from batch.intake.list_words import total_word
from batch.intake.plan import FIRST, Also, ColumnPlan, When
from batch.intake.study import Studied
from batch.intake.survey import HeadingColumn, flat
from batch.intake.table import rows_from
from batch.intake.table_map import BLOCKS, POWER, QUANTITY, TURNED
from batch.intake.what_is_open import figures_open, question_words, values_asked, what_is_open
from batch.ooxml.addresses import letters

CONTROL = re.compile(r"[\x00-\x1f\x7f-\x9f\ud800-\udfff]")
POWER_WORDS = {basis: word for word, basis in POWER.items() if basis}
QUANTITY_WORDS = {basis: word for word, basis in QUANTITY.items()}
OPEN_WORD = "?"  # a question that is still to be answered
NOT_FOUND = "write one value for all rows that do not say it, or give its heading under [table.columns]"
LEAST_FIGURES = 2  # of a row, for it to be the first of a table of which the headings were not understood
SAMPLE = 3  # cells of a column that are shown
USE_OF_TABLE = "use = true, or use = false, under its [[table]]"  # what answers whether a table lists heaters
NOTHING_FILLED_IN = 'others = "asked"  # read as without a map, until a table is filled in below'
HEAD = (
    "# Column map of {name}: how its lists were read. It is written by the program; correct it, and size by it:",
    "#     heaterbatch size {quoted} --map THIS-FILE",
    "# Behind every # stands why. A line that begins with # is not used: take the # away where it is right.",
    '# A "?" is a question: what it is about is not sized until you write the answer in its place. Look for the word QUESTION.',
)


def map_text(
    name: str, studied: Sequence[Studied], held: Mapping[int, str], older: Mapping[int, str], unread: Sequence[Grid] = ()
) -> str:
    """The map. `held` and `older`: why a table is not sized, by its identity; `unread`: sheets that may list heaters, and were not read."""
    lines = [line.format(name=plain(name), quoted=quoted(name)) for line in HEAD]
    for one in studied:
        lines.append("")
        if one.plan.free:
            lines.append(f"# Sheet {quoted(one.sheet)}, {_rows(one)}: read as sentences, of which a map can say no more.")
            continue
        if one.heaters == "no":
            lines.append(f"# Sheet {quoted(one.sheet)}, {_rows(one)}: not read as heaters: {plain(one.why)}.")
            continue
        lines += _table(one, held.get(id(one), ""), older.get(id(one), ""))
    for grid in unread:
        lines += ["", *_form(grid)]
    if not any(line == "[[table]]" for line in lines):
        if not unread:  # sentences only, of which no map can say more
            return ""
        lines.insert(len(HEAD), NOTHING_FILLED_IN)
    return "\n".join(lines) + "\n"


def use_of_sheet(name: str) -> str:
    """What answers whether a sheet without headings lists heaters, in the words of a finding."""
    return f"use = false, under [[table]] with sheet = {quoted(name)}, or there its heading_row and its columns"


def _form(grid: Grid) -> list[str]:
    """A table to be filled in, for a sheet whose headings were not understood."""
    figures = [line for line in grid.lines if sum(isinstance(cell, float) for cell in grid.rows[line]) >= LEAST_FIGURES]
    head = max((line for line in grid.lines if figures and line < figures[0]), default=grid.lines[0])
    below = [grid.rows[line] for line in grid.lines if line > head]
    samples = [[shown(row[at]) for row in below if row[at] not in ("", None)][:SAMPLE] for at in range(grid.width)]
    columns = [(letters(at), plain("; ".join(cells))) for at, cells in enumerate(samples) if cells]
    lines = [
        f"QUESTION: sheet {quoted(grid.name)} was not read, for want of headings by which it could be. If it lists heaters, take",
        "the # away and say where they stand; a column of words that hold several facts is Description. If not, write use = false.",
        "[[table]]",
        f"sheet = {quoted(grid.name)}",
        f"heading_row = {head + 1}  # the row above the first heaters",
        "[table.columns]",
    ]
    for name, (letter, cells) in zip(NEEDED, columns, strict=False):
        lines.append(f'{LIST[name].heading} = {{ column = "{letter}" }}  # column {letter}: {cells}')
    lines += [f"not used: column {letter}: {cells}" for letter, cells in columns[len(NEEDED) :]]
    return [f"# {line}" for line in lines]


def _rows(one: Studied) -> str:
    first, last = one.plan.first_row, one.plan.last_row
    if one.plan.turned == TURNED:
        return f"columns {letters(first - 1)} to {letters(last - 1)}"
    return rows_from(first, last)


def _table(one: Studied, held: str, older: str) -> list[str]:
    plan = one.plan
    lines = ["[[table]]", f"sheet = {quoted(one.sheet)}", 'kind = "Heaters"']
    if older:
        lines.append(f"use = false  # {plain(older)}")
    elif held:
        lines.append(f'use = "{OPEN_WORD}"  # QUESTION: {plain(held.removeprefix("asked: "))}? Write true or false')
    elif one.heaters == "unsure":
        lines.append(f'use = "{OPEN_WORD}"  # QUESTION: is it a list of heaters? {plain(one.why)}. Write true or false')
    lines += _place(one)
    if plan.decimal:
        lines.append(f'decimal = "{plan.decimal}"')
    if plan.blank_words and not plan.given:
        lines.append(f"blank_words = [{', '.join(quoted(word) for word in plan.blank_words)}]  # they stand for no change, the list says")
    lines += _power(one)
    if plan.quantity:
        lines.append(f'quantity = "{QUANTITY_WORDS[plan.quantity]}"')
    elif any(line.value("tanks") or ("tank" in line.facts and line.facts["tank"].fault == "tags-in-one-cell") for line in one.lines):
        what = "are the heaters of rows that name several tanks in each of them, or in all of them together"
        lines.append(f'quantity = "{OPEN_WORD}"  # QUESTION: {what}? Write "each tank" or "all tanks"')
    lines.append("[table.columns]")
    lines += [said for column in plan.columns.values() for said in _column(one, column)]
    lines += _unused(one)
    lines.append("[table.fixed]")
    for key, value in plan.fixed.items():
        said = quoted(str(value)) if isinstance(value, str) else worded(value)
        if key == "phases" and plan.fixed_volts is not None:
            said = f"{{ value = {said}, volts = {worded(plan.fixed_volts)} }}"
        why = plan.why.get(f"fixed.{key}", "")
        lines.append(f"{_key(key)} = {said}" + (f"  # likely: {plain(why)}" if why else ""))
    for key in dict.fromkeys(each.key for each in plan.when):
        some = [each for each in plan.when if each.key == key]
        whys = "; ".join(dict.fromkeys(each.why for each in some if each.why))
        lines.append(f"{_key(key)} = {when_text(some)}" + (f"  # likely: {plain(whys)}" if whys else ""))
    for key in NEEDED:
        if _lacks(one, key):
            what = "give its heading under [table.columns]" if key in ("tank", "power_kw") else NOT_FOUND
            lines.append(f'{_key(key)} = "{OPEN_WORD}"  # QUESTION: {LIST[key].heading} was not found: {what}')
    named = _tags(one)
    lines += ["[table.tags]", *(f"{quoted(text)} = {tags}" for text, tags in named.items())] if named else []
    means = {key: ", ".join(f"{quoted(text)} = {_value(value)}" for text, value in words.items()) for key, words in plan.means.items()}
    lines += ["[table.means]", *(f"{_key(key)} = {{ {words} }}" for key, words in means.items())] if means else []
    return [*lines, *_row_lines(one), *(said for also in plan.also for said in _also_lines(one, also))]


def _tags(one: Studied) -> dict[str, str]:
    """What the cells of the tanks mean, as a map has it: tag and name together, tags with the mark of a note behind them, "T-4 (*)"."""
    plan, column = one.plan, one.plan.columns.get("tank")
    named = {text: quoted(tag) for text, (tag, _) in plan.names.items()}
    known = {text.casefold() for text in named}
    for text, tags in plan.tags.items():
        if text not in known:
            named[text] = quoted(tags[0]) if len(tags) == 1 else f"[{', '.join(map(quoted, tags))}]"
    if column is None or column.parts or plan.given:
        return named
    facts = [line.facts["tank"] for line in one.lines if "tank" in line.facts and not line.facts["tank"].source]
    tags_read = {fact.value for fact in facts if isinstance(fact.value, str)}
    rows = [one.grid.rows[line.index] for line in one.lines]
    cells = [flat(row[column.index]) for row in rows if column.index < len(row)]
    return named | {cell: quoted(tag) for cell in cells if cell not in tags_read and (tag := unmarked(cell)) in tags_read}


def _also_lines(one: Studied, also: Also) -> list[str]:
    """A further bank of each row."""
    columns = ", ".join(f"{_key(key)} = {where(one, column)}" for key, column in also.columns.items())
    fixed = ", ".join(f"{_key(key)} = {_value(value)}" for key, value in also.fixed.items())
    lines = ["[[table.also]]", f"columns = {{ {columns} }}"]
    lines += [f"fixed = {{ {fixed} }}"] if fixed else []
    return lines + ([f'power = "{POWER_WORDS[also.power]}"'] if also.power else [])


def when_text(some: Sequence[When]) -> str:
    """Values for rows that say something else, as a map has them: [{ value = 400, Phases = 3 }, { value = 230, Phases = 1 }]."""
    each = [", ".join([f"value = {_value(one.value)}", *(f"{_key(key)} = {_value(value)}" for key, value in one.others)]) for one in some]
    return f"[{', '.join(f'{{ {one} }}' for one in each)}]"


def _value(value: object) -> str:
    return quoted(value) if isinstance(value, str) else worded(value)


def _lacks(one: Studied, key: str) -> bool:
    other = {"power_kw": "total_kw"}.get(key, key)
    return (
        key not in one.plan.columns
        and other not in one.plan.columns
        and key not in one.plan.fixed
        and not any(key in line.facts for line in one.lines)
    )


def _place(one: Studied) -> list[str]:
    plan, rows = one.plan, one.plan.heading_rows
    if plan.turned == BLOCKS:
        return [f'blocks = "{one.grid.name.rpartition(" ")[2]}"']
    if plan.turned == TURNED:
        columns = [f'"{letters(row - 1)}"' for row in rows]
        said = columns[0] if len(columns) == 1 else f"[{', '.join(columns)}]"
        return [
            f"heading_column = {said}",
            f'first_column = "{letters(plan.first_row - 1)}"',
            f'last_column = "{letters(plan.last_row - 1)}"',
            f"first_row = {plan.first + 1}",
            f"last_row = {plan.last + 1}",
        ]
    lines = []
    if rows:
        lines.append(f"heading_row = {rows[0] if len(rows) == 1 else list(rows)}")
    if not rows or plan.first_row != rows[-1] + 1:
        lines.append(f"first_row = {plan.first_row}")
    lines.append(f"last_row = {plan.last_row}")
    return [*lines, f'first_column = "{letters(plan.first)}"', f'last_column = "{letters(plan.last)}"']


def _power(one: Studied) -> list[str]:
    plan = one.plan
    if "power_kw" not in plan.columns and "total_kw" not in plan.columns:
        return []
    asked = next((question for question in plan.questions if question.about == "power_kw" and question.line.startswith("power")), None)
    if asked is not None:
        return [f'power = "{OPEN_WORD}"  # QUESTION: {plain(asked.what)}? "each": {plain(asked.one)}; or "per tank": {plain(asked.other)}']
    if not plan.power:
        return []
    why = "; ".join(dict.fromkeys(one.verdict.said)) or "its heading"
    return [f'power = "{POWER_WORDS[plan.power]}"  # {one.verdict.sure}: {plain(why)}']


def _row_lines(one: Studied) -> list[str]:
    """Rows that are asked about, and those that the customer took out, as lines of [table.rows]."""
    out: list[str] = []
    seen: set[int] = set()
    for line in one.lines:
        if line.index in seen:  # of several banks in a row
            continue
        seen.add(line.index)
        name = letters(line.index) if one.plan.turned == TURNED else str(line.index + 1)
        if line.kind in (DOUBT, HIDDEN):
            more = ", or keep it with values of yours, as { Quantity = 4 }" if line.doubt else ""
            why = plain(by_itself(line.why))
            keys = what_is_open(line, one.plan) if line.kind == DOUBT else ()
            if figures_open(keys):
                more = f", or keep it with what is right, as {values_asked(keys, line)}"
            out.append(f'{name} = "{OPEN_WORD}"  # QUESTION: {why}: {question_words(keys)}? Write "keep" or "leave out"{more}')
        elif one.plan.also and line.kind == TOTAL and not total_word(line.text):
            out.append(f'{name} = "leave out"  # its figures are the sums of those above')
        elif line.kind == DATA and line.index in one.verdict.odd_rows:
            why = one.verdict.odd_rows[line.index]
            out.append(f'{name} = "{OPEN_WORD}"  # QUESTION: {plain(why)}: is it to be built as it stands? Write "keep" or "leave out"')
        elif line.kind == DATA and (own := one.plan.row_changes.get(line.index + 1)):
            pair = ", ".join(f"{_key(key)} = {_value(value)}" for key, value in own.items())
            out.append(f"{name} = {{ {pair} }}  # likely: {plain(one.plan.row_changes_why[line.index + 1])}")
        elif line.kind == DATA and (own := one.plan.row_supply.get(line.index + 1)) and all(line.value(key) == own[key] for key in own):
            pair = ", ".join(f"{_key(key)} = {_value(value)}" for key, value in own.items())
            out.append(f"{name} = {{ {pair} }}  # likely: {plain(one.plan.row_supply_why[line.index + 1])}")
        elif line.kind == OUT:
            out.append(f'# {name} = "keep"  # taken out by the customer, {plain(line.why)}; without the # it is sized all the same')
    return ["[table.rows]", *out] if out else []


def _column(one: Studied, column: ColumnPlan) -> list[str]:
    said = where(one, column)
    mine = (question for question in one.plan.questions if question.about == column.key)
    asked = next((question for question in mine if not question.line.startswith("power")), None)
    if column.sure == OPEN and asked is None and (rival := _rival(one, column.rival, column.index)) is not None:
        first, other = f"as it stands{_sample(one, column.index)}", f"{where(one, rival)}{_sample(one, rival.index)}"
        return [f"{_key(column.key)} = {said}  # QUESTION: which column is {LIST[column.key].heading}? {plain(first)}, or {plain(other)}"]
    if asked is None:
        return [f"{_key(column.key)} = {said}  # {column.sure}: {plain(column.why)}" if column.why else f"{_key(column.key)} = {said}"]
    rival = _rival(one, asked.other.strip('"'), column.index)
    readings = [(said, column.index)] + ([(where(one, rival), rival.index)] if rival is not None else [])
    words = " or ".join(f"{reading}{_sample(one, index)}" for reading, index in readings)
    return [f'{_key(column.key)} = "{OPEN_WORD}"  # QUESTION: {plain(asked.what)}? Write {plain(words)}']


def _rival(one: Studied, text: str, index: int) -> ColumnPlan | None:
    """The column that a question names as the other reading than column `index`."""
    heads = [head for head in one.region.columns if head.index != index] if one.region is not None else []
    head = next((head for head in heads if head.text == text or f"column {letters(head.index)}" == text), None)
    return ColumnPlan("power_kw", head.index, head.text) if head is not None else None


def _unused(one: Studied) -> list[str]:
    """The columns that nothing was taken for, each where it stands and with its first cells."""
    left = [(head, _sample(one, head.index)) for head in left_columns(one)]
    said = [(ColumnPlan("power_kw", head.index, head.text), sample) for head, sample in left if sample or head.text]
    return [f"# not used: {where(one, column)}{sample}" for column, sample in said]


def left_columns(one: Studied) -> list[HeadingColumn]:
    """The columns of a table that nothing was taken for."""
    taken = one.plan.taken()
    return [head for head in (one.region.columns if one.region is not None else ()) if head.index not in taken]


def _sample(one: Studied, index: int) -> str:
    """The first figures or words of a column, in brackets."""
    rows = [one.grid.rows[line.index] for line in one.lines]
    cells = [shown(row[index]) for row in rows if index < len(row) and row[index] not in ("", None)]
    return f" ({plain('; '.join(cells[:SAMPLE]))})" if cells else ""


def where(one: Studied, column: ColumnPlan) -> str:
    """Where a column stands, as a map has it: by its heading where that stands once, else by its letter."""
    if column.how == FIRST and column.parts:
        return f"[{', '.join(where(one, ColumnPlan(column.key, part.at, '', part.unit)) for part in column.parts)}]"
    texts = [" ".join(head.text.split()).casefold() for head in (one.region.columns if one.region is not None else ())]
    text = " ".join(column.heading.split())
    of_bath = LIST[column.key] in BATH  # of which no unit is taken for granted
    named = column.unit and (of_bath or column.unit != LIST[column.key].unit or column.unit in FOREIGN_POWER)
    unit = f", unit = {quoted(column.unit)}" if named else ""
    headed = one.region is None or not one.region.elsewhere
    if headed and text and texts.count(text.casefold()) == 1:
        return f"{{ heading = {quoted(text)}{unit} }}" if unit else quoted(text)
    if one.plan.turned == TURNED:
        return f"{{ row = {column.index + 1}{unit} }}"
    return f'{{ column = "{letters(column.index)}"{unit} }}'


def _key(key: str) -> str:
    heading = LIST[key].heading
    return heading if heading.isalpha() and heading.isascii() else f'"{heading}"'


def quoted(text: str) -> str:
    """A TOML basic string (TOML 1.0, "String"): as JSON escapes it, and DEL too, so that a heading comes back letter for letter."""
    whole = text.encode("utf-8", "replace").decode("utf-8")
    return json.dumps(whole, ensure_ascii=False).replace("\x7f", "\\u007f")


def plain(text: str) -> str:
    """Text for a comment: on one line."""
    return CONTROL.sub(" ", text)
