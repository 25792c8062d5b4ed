"""Sheets of sentences beside a heater list in our own form: kept as received, without all that it takes to study a list.

A title page or a page of remarks is the commonest sheet in no form of ours. What is settled here would come out the same, word for word,
by `lists.read_lists` (a test asks both): such a sheet has too few columns for headings and for sizes, too few powers for a request in
sentences, and too few labels for blocks of labels and values.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from batch.findings import Finding, find, remark
from batch.intake.grid import Broken, Grid
from batch.intake.lists_read import Lists
from batch.intake.table import NOTE, counted, received_rows
from batch.received_rows import ReceivedTable

POWERED = re.compile(r"\d\s*k\s?W\b|\d{3,5}\s*W(?:atts?)?\b", re.IGNORECASE)
LEAST_LINES = 2  # that name a tank and a power, for a column of sentences to be a request: judgement, no source
LEAST_OF_A_TANK = 3  # labels of a block: the tank's tag, and two that matter
LONGEST = 90  # characters of a heading
DATA = re.compile(r"\d")
NO_DATA = re.compile(
    r"\b(?:rev(?:ision)?|issue|index|group|gruppe|bank|set|groupe|grupo|gruppo|groep|grupp|skupina)\.?\s*\d{1,2}\b|(?<=[A-Za-z]{2})\s[1-4]\Z"
    r"|\b(?:heaters?|htr|elem\w*|heizer|heizstab|r[eé]sist\w*|thermoplongeur|grza[łl]ka|aquecedor|riscaldatore"
    r"|varmelegeme|elpatron|(?:varme|el)?kolbe|doppv[äa]rmare|t[eě]leso|oh[rř][ií]va[cč])\s*[#(]?[1-9]\b\)?\s*(?:k?W\b)?"
    r"|(?<=[^\W\d_]\s)1\s*(?:ks|kus[uů]?|szt|stk)\b\.?"
    r"|(?<=[A-Za-z])\s(?:19|20)\d\d\b|\([^)]*\)|\[[^\]]*\]|\b[13]\s*-?\s*(?:ph|phase|ø)\b|@\s*\d+\s*(?:v|vac)\b|\*\d?|[¹²³]",
    re.IGNORECASE,
)
NOT_READ = "sheet not read"


def like_data(value: object) -> bool:
    """Would this cell be odd in a heading: a number, or words with figures that no heading has?"""
    if not isinstance(value, str) or type(value) is Broken:
        return True
    text = NO_DATA.sub(" ", value)
    return bool(DATA.search(text)) or len(value) > LONGEST


def prose_alone(grids: Sequence[Grid]) -> Lists | None:
    """The sheets as received where each holds sentences and nothing else; None where one of them must be studied."""
    if not all(_is_prose(grid) for grid in grids):
        return None
    from batch.intake.vocabulary import one_list

    heaters = one_list("heaters")
    if any(grid.filled and heaters.find(grid.name) for grid in grids):
        return None  # its name says that it lists heaters: it is asked about
    out = Lists()
    for grid in grids:
        out.tables[grid.name] = []
        out.rest[grid.name] = [as_it_came(grid, NOT_READ)]
        if grid.filled:
            out.findings.append(not_recognised(grid))
    return out


def _is_prose(grid: Grid) -> bool:
    """Texts in one column, of which too few name a power or could be labels for a list to be among them."""
    columns: set[int] = set()
    powered = labels = 0
    for line in grid.lines:
        for at, value in enumerate(grid.rows[line]):
            if value in ("", None):
                continue
            if type(value) is not str:
                return False
            if value.isspace():
                continue
            columns.add(at)
            powered += bool(POWERED.search(" ".join(value.split())))
            labels += not like_data(value.split(":")[0])
    return len(columns) < 2 and powered < LEAST_LINES and labels < 2 * LEAST_OF_A_TANK


def not_recognised(grid: Grid) -> Finding:
    return find(remark("sheet-not-recognised", sheet=grid.name, rows=counted(grid.filled)), sheet=grid.name)


def as_it_came(grid: Grid, why: str) -> ReceivedTable:
    """The whole sheet, `why` the fate of each of its rows."""
    return received(grid, 0, len(grid.rows) - 1, (0, max(0, grid.width - 1)), {line + 1: why for line in grid.lines})


def received(grid: Grid, begin: int, end: int, columns: tuple[int, int], fates: dict[int, str]) -> ReceivedTable:
    """Rows from index `begin` to `end`, in the columns from the first to the last, each with its fate."""
    rows = tuple(row for row in received_rows(grid, begin, *columns, refused=fates, read={}, why=NOTE) if row.row <= end + 1)
    width = columns[1] - columns[0] + 1
    return ReceivedTable(grid.name, "", 0, ("",) * width, ("",) * width, rows)
