"""From a column's formula, written with keys and names, to what a cell holds.

`[key]` is the cell of that column in the same row, `{name}` the defined name of a value on Code basis, `<sheet.key>` all cells of a column
of another sheet of the workbook. For ways to a row of that sheet: `<^sheet.key>` the same cells from the sheet's first row on, so that a
place among them is the number of a row, and `<#sheet.key>` the words of a link to that column, the row's number left out. Only what both
common spreadsheet programs work out alike is let through, and no number that a reader would have to take on trust.
"""

from __future__ import annotations

import re
from collections.abc import Container, Mapping

from xlsxwriter.utility import xl_col_to_name

from batch.errors import SpecificationError
from batch.sheets import Sheet
from batch.writing.parts import escape

FUNCTIONS = frozenset({
    "SQRT", "ROUND", "ROUNDUP", "ROUNDDOWN", "IF", "IFERROR", "INDEX", "MATCH", "COUNTIF", "COUNTIFS", "SUM", "SUMIFS", "SUBTOTAL", "MAX",
    "ABS", "HYPERLINK",
})  # fmt: skip
NUMBERS = frozenset({"0", "1", "2", "3", "100", "1000"})
DEEPEST = 3
SUBTOTAL = {"sum": 109, "max": 104}  # of the rows that a filter shows

NOWHERE: Mapping[str, str] = {}
TOKEN = re.compile(
    r'<(?P<far>[#^]?\w+\.\w+)>|\[(?P<key>\w+)\]|\{(?P<name>\w+)\}|(?P<text>"[^"]*")|(?P<function>[A-Z]+)\(|(?P<number>\d+(?:\.\d+)?)'
    r"|(?P<other><>|<=|>=|[-+*/^()<>=,& ])"
)


def judge(formula: str, where: str) -> None:
    """Refuses a formula that breaks the house rules: function, number, depth, unknown character. Raises SpecificationError."""
    at, open_calls, before = 0, [], ""
    while at < len(formula):
        found = TOKEN.match(formula, at)
        if found is None:
            raise SpecificationError(f"{where}: formula cannot be read at {formula[at : at + 12]!r}")
        if name := found["function"]:
            if name not in FUNCTIONS:
                raise SpecificationError(f"{where}: {name} is not a function that every spreadsheet program works out alike")
            open_calls.append(name)
        elif number := found["number"]:
            digits = open_calls and open_calls[-1] == "ROUND" and formula[found.end() :].startswith(")")
            if number not in NUMBERS and not digits:
                raise SpecificationError(f"{where}: the number {number} belongs on Code basis, with its source")
        elif found["other"] == "(":
            open_calls.append("")
        elif found["other"] == ")":
            if not open_calls:
                raise SpecificationError(f"{where}: a bracket is closed that was not opened")
            open_calls.pop()
        if sum(1 for call in open_calls if call) > DEEPEST:
            raise SpecificationError(f"{where}: functions are nested more than {DEEPEST} deep")
        before, at = found[0], found.end()
    if open_calls or before in tuple("+-*/^,(<>=&"):
        raise SpecificationError(f"{where}: the formula is cut short")


def pieces(formula: str, sheet: Sheet, names: Container[str], us: bool = False, far: Mapping[str, str] = NOWHERE) -> tuple[str, ...]:
    """The formula as XML text in pieces between which the row number goes: ("F", "*1000/G", "").

    `names` are the values on Code basis that stand in the workbook as defined names; `far` where columns of other sheets stand.
    """
    where = f"sheet {sheet.name}"
    judge(formula, where)
    letters = {column.key: xl_col_to_name(at) for at, column in enumerate(sheet.columns)}
    out = [""]
    for found in TOKEN.finditer(formula):
        if other := found["far"]:
            out[-1] += escape(far[other])
        elif key := found["key"]:
            if key not in letters:
                raise SpecificationError(f"{where}: a formula names the column {key}, which is not there")
            if us and sheet[key].us_unit:
                raise SpecificationError(
                    f"{where}: a formula works in {sheet[key].unit}, but column {key} is shown in {sheet[key].us_unit}"
                )
            out[-1] += letters[key]
            out.append("")
        elif name := found["name"]:
            if name not in names:
                raise SpecificationError(f"{where}: a formula names {name}, which is not on Code basis")
            out[-1] += name
        else:
            out[-1] += escape(found[0])
    return tuple(out)


def needed(formula: str) -> frozenset[str]:
    """The names on Code basis that a formula uses."""
    return frozenset(found["name"] for found in TOKEN.finditer(formula) if found["name"])


def far_columns(formula: str) -> frozenset[str]:
    """The columns of other sheets that a formula uses, as it names them: "sheet.key", "^sheet.key", "#sheet.key"."""
    return frozenset(found["far"] for found in TOKEN.finditer(formula) if found["far"])


def own_keys(formula: str) -> frozenset[str]:
    """The columns of its own row that a formula uses."""
    return frozenset(found["key"] for found in TOKEN.finditer(formula) if found["key"])
