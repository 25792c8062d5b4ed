"""What is to be said of a heading row: missing, nearly right, repeated, passed over, riding along, of an unknown unit."""

from __future__ import annotations

from collections.abc import Sequence

from batch.findings import find, remark, word
from batch.intake.columns import SET_ASIDE
from batch.intake.grid import shown, worded
from batch.intake.head import LOOKED, Head
from batch.intake.headings import Heading, Matcher, column_unit, letters_of
from batch.intake.table import Table, counted, rows_worded
from batch.ooxml.addresses import letters
from batch.sheets import Column, Sheet
from batch.units import WORDS


def say_no_headings(table: Table) -> None:
    """A sheet without a heading row that could be found: none of its rows is read."""
    grid, sheet = table.grid, table.sheet
    for index in grid.lines:
        table.refused[index + 1] = "no heading row found"
    if grid.filled:
        said = remark("headings-not-found", sheet=grid.name, looked=min(LOOKED, grid.filled), kind=sheet.name, rows=counted(grid.filled))
        table.findings.append(find(said, sheet=grid.name))


def say_above(table: Table) -> None:
    """What stands above the headings is not read, and may say something that matters, such as the volts of all heaters."""
    grid = table.grid
    above = [index for index in grid.lines if index < table.head.top]
    if above:
        words = [worded(value).strip() for index in above for value in grid.rows[index]]
        if _own_form(table.sheet).issuperset(words):
            return
        seen = shown("; ".join(" ".join(word.split()) for word in words if word))
        fields = {"rows": rows_worded([index + 1 for index in above]), "first": table.head.top + 1, "words": seen}
        said = remark("rows-above", sheet=grid.name, **fields)
        table.findings.append(find(said, sheet=grid.name, cell=f"A{above[0] + 1}", seen=seen))


def _own_form(sheet: Sheet) -> set[str]:
    """What stands above the headings of our own blank form."""
    return {"", sheet.name, sheet.help, *(column.fill_words for column in sheet.columns)}


def say_headings(table: Table, head: Head, matcher: Matcher) -> None:
    """What is to be said of the heading row: missing, nearly right, repeated, passed over, riding along, unknown unit."""
    sheet, where = table.sheet, {"sheet": table.grid.name}
    strangers = [heading for heading in head.headings if not heading.key and heading.text and not heading.beside]
    absent = [column.key for column in sheet.columns if column.key not in head.by_key]
    offered: dict[str, str] = {}
    for heading in strangers:
        if key := matcher.near(heading.text, absent):
            offered.setdefault(key, heading.text)
            said = remark("heading-near", key, heading=_flat(heading.text), sheet=table.grid.name, column=sheet[key].heading)
            table.findings.append(find(said, cell=_heading_cell(head, heading), seen=shown(heading.text), **where))
    for column in head.missing(sheet):
        offer = f" Is it \"{_flat(offered[column.key])}\"?" if column.key in offered else ""
        said = remark("heading-missing", column.key, sheet=table.grid.name, column=column.heading, offer=offer)
        table.findings.append(find(said, cell=f"A{head.row + 1}", **where))
    for key, some in head.by_key.items():
        if len(some) > 1:
            said = remark("heading-repeated", key, sheet=table.grid.name, column=sheet[key].heading, letters=letters_of(some))
            table.findings.append(find(said, cell=_heading_cell(head, some[1]), seen=shown(some[1].text), **where))
        _say_strange_unit(table, head, sheet[key], some)
    for heading in head.headings:
        if heading.passed_over:
            fields = {"heading": _flat(heading.text), "column": sheet[heading.key].heading, "letters": letters_of(head.by_key[heading.key])}
            said = remark("heading-passed-over", heading.key, sheet=table.grid.name, **fields)
            table.findings.append(find(said, cell=_heading_cell(head, heading), seen=shown(heading.text), **where))
    _say_riding(table, head)


def _say_strange_unit(table: Table, head: Head, column: Column, some: Sequence[Heading]) -> None:
    own = column_unit(column)
    for heading in some:
        if heading.strange and own:
            quantity = WORDS.get(own.quantity, own.quantity)
            fields = {"column": column.heading, "unit": heading.strange[:40], "quantity": quantity, "such": column.unit}
            said = remark("unit-unknown-heading", column.key, **fields)
            if column.key in SET_ASIDE[table.sheet.id]:
                said = remark("cell-set-aside", column.key, fault=word(said))
            table.findings.append(find(said, sheet=table.grid.name, cell=_heading_cell(head, heading), seen=shown(heading.text)))


def _say_riding(table: Table, head: Head) -> None:
    riding = [heading for heading in head.headings if not heading.key and not heading.beside]
    words = [f"\"{_flat(heading.text)}\"" for heading in riding if heading.text]
    bare = [heading for heading in riding if not heading.text and _filled_below(table, head, heading.index)]
    if bare:
        words.append(f"column {letters_of(bare)} without a heading" if len(bare) == 1 else f"columns {letters_of(bare)} without headings")
    if words:
        said = remark("extra-heading-kept", sheet=table.grid.name, headings=", ".join(words))
        table.findings.append(find(said, sheet=table.grid.name, cell=f"{letters(riding[0].index)}{head.row + 1}"))


def _filled_below(table: Table, head: Head, index: int) -> bool:
    return any(row[index] not in (None, "") for row in [table.grid.rows[at] for at in table.grid.lines_from(head.first_data_row)])


def _heading_cell(head: Head, heading: Heading) -> str:
    return f"{letters(heading.index)}{head.row + 1}"


def _flat(text: str) -> str:
    return shown(" ".join(text.split()))
