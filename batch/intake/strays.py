"""Words that stand beside the columns of a list: under no heading, or alone below a row. They may say something of that row, or of another
one than they stand in."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence, Set

from batch.intake.figures_unread import denies, unread_figure
from batch.intake.grid import worded
from batch.intake.line_kinds import BANNER, DATA, DOUBT, OUT, Line
from batch.intake.list_words import heater_word, hits, says_no_heat
from batch.intake.plan import ListPlan
from batch.intake.remark_words import read_row_words
from batch.intake.supply_notation import supply_in_text
from batch.intake.survey import HeadingColumn, flat
from batch.intake.tank_words import tank_named
from batch.intake.vocabulary import vocabulary

REFERS = re.compile(  # "void, see T-512", "replaced by A02": where its heaters are now (trade words, common practice, no source)
    r"\b(?:see|replaced|supersed\w*|moved|combined|now|by|siehe|ersetzt|voir|remplac\w*|v[ée]ase|ver|sustitu\w*|vedi|sostitu\w*|zie|vervang\w*|patrz"
    r"|zast[ąa]pion\w*|se|ersatt\w*|erstattet|viz|nahrazen\w*)\b",
    re.IGNORECASE,
)
JOINS = re.compile(  # a row whose heaters are another's too, or are counted there
    r"(?:and|&|\+|und|et|y|e|en|i|och|og|-+>|→|incl(?:uded)?\.? (?:in|with)|shared? with|shared"
    r"|common with|enthalten in|in|inclus dans|commun|incluid[oa] en"
    r"|compartid[oa] con|compres[oa] in|inbegrepen in|zawarte w|ing[åa]r i)\s*(?=\S*\d)",
    re.IGNORECASE,
)
TAGGED = re.compile(r"\b[A-Z]{1,4}[-.]?\d", re.IGNORECASE)
LOOSE = ("bank", "feeder", "amps", "notes", "status")  # what a column under no heading may be taken for by its cells
MOST_WORDS = 4  # of a remark alone below the row that it is about: judgement, no source


def asked_by_strays(plan: ListPlan, lines: Sequence[Line], columns: Sequence[HeadingColumn]) -> None:
    """Puts the rows in doubt that such words are about. `lines`: those that nobody has answered for."""
    headed = {column.index for column in columns if column.text.strip()}
    headed |= {one.index for key, one in plan.columns.items() if key not in LOOSE}
    cells = [(line, at, flat(value)) for line in lines if line.kind in (DATA, DOUBT, OUT) for at, value in line.cells
             if at not in headed and isinstance(value, str) and any(map(str.isalpha, value))]  # fmt: skip
    remarks = {plan.columns[key].index for key in ("notes", "status") if key in plan.columns}
    noted = [(line, at, flat(value)) for line in lines if line.kind in (DATA, OUT) for at, value in line.cells if at in remarks]
    by_index = {line.index: line for line in lines}
    by_tag: dict[str, set[int]] = {}
    for line in lines:
        if line.kind in (DATA, DOUBT, OUT) and (tag := worded(line.value("tank") or "").strip().casefold()):
            by_tag.setdefault(tag, set()).add(line.index)
    for line, at, text in (*cells, *noted):
        others = _others_named(text, line, by_tag) if read_row_words(text).fate and not REFERS.search(text) else set()
        if JOINS.match(text) and (TAGGED.search(text) or tank_named(text).by_word):
            _doubt(line, at, f'"{text[:60]}"')  # "and T-3", "incl. in T-2"
        if others:  # "T-2 deleted" in the row of T-1
            for index in others:
                _doubt(by_index[index], at, f'"{text[:60]}" in row {line.index + 1},')
            if line.kind == OUT and line.at == at:
                line.kind = DATA
                _doubt(line, at, f'"{text[:60]}", which names another row,')
    for line, at, text in cells:
        if line.kind == DATA and _unread(text, line, at):
            _doubt(line, at, f'"{text[:60]}" under no heading')
    _below_their_rows(plan, lines, remarks)


def _others_named(text: str, line: Line, by_tag: Mapping[str, Set[int]]) -> set[int]:
    """The rows of the tanks, but for the row's own, whose tags stand in a text, letter by letter."""
    said = {word.strip(".,;:()").casefold() for word in text.split()}
    own = worded(line.value("tank") or "").strip().casefold()
    named = (tag for tag in said if tag in by_tag and any(map(str.isdigit, tag)) and not tag.isdecimal())
    return {index for tag in named for index in by_tag[tag]} if own not in said else set()


def _unread(text: str, line: Line, at: int) -> bool:
    """Does a word without a heading deny the row, say that its heaters have failed, or give a figure that is none of the row's? "Rush"
    and "new liner" are no doubt."""
    bare = text.strip(" .!")
    said = vocabulary()["no"].whole(bare) or denies(text) or hits("worn", text)
    return bool(said or unread_figure(text, line, at)) or text in ("N", "X", "x")


def _below_their_rows(plan: ListPlan, lines: Sequence[Line], remarks: Set[int]) -> None:
    """A line with one short cell that stands neither in the list's first column nor in that of the tanks is no heading of the rows below:
    "(not used)", "3 now" under the bath, or the remarks, of the row above."""
    tank = plan.columns.get("tank")
    last = max((line.index for line in lines if line.kind in (DATA, DOUBT)), default=-1)
    above: Line | None = None
    for line in lines:
        if line.kind == BANNER and len(line.cells) == 1 and above is not None and tank is not None:
            at, text = line.cells[0][0], flat(line.cells[0][1])
            inside = at not in (plan.first, tank.index) and len(text.split()) <= MOST_WORDS and not hits("spare", text)
            inside = inside and line.index == above.index + 1 and line.index < last  # below the list it is a note
            if inside and (_says_of_a_row(text, above) or at in remarks):
                _doubt(above, at, f'"{text[:60]}" in row {line.index + 1}, right below it,')
        above = line if line.kind == DATA else above if line.kind == BANNER else None


def _says_of_a_row(text: str, line: Line) -> bool:
    told = read_row_words(text).fate or says_no_heat(text) or unread_figure(text, line)
    return bool(told) or supply_in_text(text) is not None or heater_word(text) != ""


def _doubt(line: Line, at: int, why: str) -> None:
    if line.kind == DATA:
        line.kind, line.at, line.why = DOUBT, at, why
