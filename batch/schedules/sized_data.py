"""What was sized and decided, as data: one JSON text that travels in the results workbook beside the sheets made for eyes.

The text holds the inputs as sized (canonical units), what was decided (values that the rows as received do not state; of each bank its
feeder, its line, what its heaters stand across, its panels; names of panel types), and the figures that Banks and Feeders show. What a
person typed is then the difference between a cell and its datum. `pieces` cuts the text into cells, `whole` puts it together and sees
whether it is whole.
"""

from __future__ import annotations

import json
from base64 import b64decode, b64encode
from collections.abc import Mapping, Sequence
from datetime import date, datetime, time
from hashlib import sha256
from operator import attrgetter, itemgetter
from typing import Any, NamedTuple

from msgspec import Struct, field

from batch.money_records import MONEY
from batch.received_rows import SentList, Standing
from batch.records import Bank, CarriedForward, Feeder, Part, PowerSource, Project, Tank
from batch.results import JobResult
from batch.schedules import RESULTS, Row
from batch.schedules.row_words import NOT_SIZED
from batch.sheets import INPUTS
from batch.sizing.previous_decisions import BankKey, FeederKey, PreviousBank, PreviousFeeder, bank_key, by_turns, feeder_key

FORMAT = 2  # of the text; a reader that knows only lower ones says so
FORMER = (1,)  # that are read too; 1 has one start a bank, from which its panels go on in rotation
LONGEST = 30_000  # characters of one cell, of the 32,767 that it can hold
TOGETHER = 1000  # items of a list that are worded at once
LIST = 10_000  # more panels than one type has
MOST_ROWS = 1 << 20  # of a sheet (ECMA-376 part 1, 18.3.1.73, as common programs have it)
MOMENT = "moment"
RECORDS: dict[str, tuple[str, type]] = {
    "projects": ("projects", Project), "sources": ("sources", PowerSource), "feeders": ("feeders", Feeder), "tanks": ("tanks", Tank),
    "heaters": ("banks", Bank), "stock": ("stock", Part), **{id: (id, record) for id, record in MONEY.items()},
}  # fmt: skip
UNLIKE = frozenset({"project", "tank", "bank", "feeder", "status", "findings", "notes"})  # differ between banks that are alike otherwise
FIGURES = {
    sheet.id: tuple(one.key for one in sheet.columns if one.role != "text" and one.key not in UNLIKE)
    for sheet in RESULTS if sheet.id in ("banks", "feeder_totals")
}  # fmt: skip

INPUT_SHEETS = {sheet.id: sheet for sheet in INPUTS}
BLANK = frozenset({None, ""})

Cell = str | int | float | bool | None


class DamagedData(ValueError):
    """Data of a results workbook that is not what was written, and why."""


class SizedBank(Struct, frozen=True):
    """One sized bank: its tags as written, what was chosen for it, and the figures of its row of Banks by column key."""

    project: str
    tank: str
    label: str
    chosen: PreviousBank
    figures: Mapping[str, Cell]


class SizedData(Struct, frozen=True):
    """What a results workbook was sized with.

    inputs   rows of each input table by column key; a column that was blank throughout is left out
    carried_forward  values that the rows as received do not state
    banks    by folded project, tank and label, of one given several times each row by its turn
    feeders  figures of the rows of Feeders
    tags     project, folded -> panel tag -> name of its type; of banks given several times more than one
    tabs     every sheet of the workbook as it was written; () = not known
    received sheet as received -> what its own columns say
    hung     of each feeder its pair of its source, and the numbers of its ways
    sent     the file of a customer's own list
    """

    inputs: Mapping[str, tuple[Mapping[str, Cell], ...]]
    carried_forward: tuple[CarriedForward, ...]
    banks: Mapping[BankKey, SizedBank]
    feeders: Mapping[FeederKey, Mapping[str, Cell]]
    tags: Mapping[str, Mapping[str, tuple[str, ...]]]
    tabs: tuple[str, ...] = ()
    received: Mapping[str, OwnCells] = field(default_factory=dict)
    hung: Mapping[FeederKey, PreviousFeeder] = field(default_factory=dict)
    sent: SentList | None = None


class OwnCells(NamedTuple):
    """What the first columns of a sheet as received say: the least and the greatest row number, and each fate with its reason once.

    column  index of the first column of the rest in the list as it was sent; None = not kept, in data of former versions
    stands, headings, heading_row  of a customer's list: where it stands in its file, how the rest is headed here, and the row of that there
    marks   and of what stands nowhere as it is here the marks of its rows, one after the other
    """

    first: int
    last: int
    said: frozenset[tuple[str, str]]
    column: int | None = None
    stands: Standing | None = None
    headings: tuple[str, ...] = ()
    heading_row: int = 0
    marks: tuple[str, ...] = ()


def data_text(
    result: JobResult,
    banks: Sequence[Row],
    feeders: Sequence[Row],
    tabs: Sequence[str] = (),
    received: Mapping[str, OwnCells] | None = None,
) -> str:
    """The text. `banks`, `feeders`: the rows of those sheets, in the order of the results; what was not sized has nothing to keep."""
    banks, feeders = ([row for row in some if row["status"] != NOT_SIZED] for some in (banks, feeders))
    alike: dict[tuple, int] = {}
    chosen = []
    figures_of = itemgetter(*FIGURES["banks"])
    sized = (row for project in result.projects for row in project.banks)
    for row, shown in zip(sized, banks, strict=True):
        split = [panel.design.heaters for panel in row.panels]
        choice = row.feeder.feeder, row.starts, row.design.connected.across, split
        chosen.append([shown["project"], shown["tank"], shown["bank"], *choice, alike.setdefault(figures_of(shown), len(alike))])
    data = {
        "inputs": {table: _inputs(table, getattr(result.job, records)) for table, (records, _) in RECORDS.items()},
        "carried forward": [list(one) for one in result.job.carried_forward],
        "banks": chosen,
        "bank figures": {"columns": FIGURES["banks"], "rows": list(alike)},
        "feeders": [[row["project"], row["feeder"], [row[key] for key in FIGURES["feeder_totals"]]] for row in feeders],
        "feeder figures": FIGURES["feeder_totals"],
        "hung": [
            [row.feeder.project, row.feeder.feeder, row.source, row.source_pair, [[way.tank, way.number] for way in end.ways], end.last_way]
            for project in result.projects for row in project.feeders if (end := row.end) is not None
        ],
        "sheets": list(tabs),
        "received": [[tab, own.first, own.last, sorted(own.said), own.column] for tab, own in (received or {}).items()],
        "list": _sent(result.job.sent, received or {}),
        "types": [[project.project.project, kind.type, list(kind.tags)] for project in result.projects for kind in project.types],
    }
    # A workbook takes _x0041_ in a text for the letter A (ECMA-376 part 1, 22.9.2.19), so that mark is written another way.
    return _worded(data).replace("_x", "\\u005fx")


def _worded(data: object) -> str:
    """The data as JSON, worded part by part: all at once it takes several times the room of its text."""
    if isinstance(data, dict):
        return "{" + ",".join([f"{json.dumps(str(key))}:{_worded(value)}" for key, value in data.items()]) + "}"
    if isinstance(data, list) and len(data) > TOGETHER:
        parts = (data[at : at + TOGETHER] for at in range(0, len(data), TOGETHER))
        return "[" + ",".join([json.dumps(some, separators=(",", ":"))[1:-1] for some in parts]) + "]"
    return json.dumps(data, separators=(",", ":"))


def _sent(sent: SentList | None, received: Mapping[str, OwnCells]) -> dict[str, object] | None:
    if sent is None:
        return None
    return {
        "name": sent.name, "content": b64encode(sent.content).decode("ascii"), "map": [sent.map_name, sent.map_text],
        "typed": [[*place, _packed(value)] for place, value in sorted(sent.typed.items())],
        "tabs": {tab: [own.stands or Standing(""), own.headings, own.heading_row, own.marks] for tab, own in received.items()},
    }  # fmt: skip


def _packed(value: object) -> object:
    """A value that a cell may hold as JSON can: a moment by a word that says so."""
    return {MOMENT: value.isoformat()} if isinstance(value, (datetime, date, time)) else value


def _unpacked(value: object) -> object:
    return datetime.fromisoformat(_text(value[MOMENT])) if isinstance(value, dict) else _cell(value)


def _inputs(table: str, records: Sequence[object]) -> dict[str, object]:
    """A table without the columns that are blank throughout."""
    keys = [column.key for column in INPUT_SHEETS[table].columns]
    columns = zip(*map(attrgetter(*keys), records), strict=True)  # each sheet has several, so that each row is a tuple
    used = {key: values for key, values in zip(keys, columns, strict=False) if not BLANK.issuperset(values)}
    return {"columns": list(used), "rows": list(zip(*used.values(), strict=True)) if used else [()] * len(records)}


def pieces(text: str) -> list[str]:
    """The text cut into cells, the first of which says how it is known to be whole. A mark at either end of a cell guards its spaces."""
    cut = [f"|{text[at : at + LONGEST]}|" for at in range(0, len(text), LONGEST)]
    head = {"format": FORMAT, "cells": len(cut), "sha256": sha256(text.encode("ascii")).hexdigest()}
    return [json.dumps(head), *cut]


def whole(cells: Sequence[object]) -> str:
    """The text of its cells.

    Raises:
        DamagedData: it is not the text that was written.
    """
    if not cells or not all(isinstance(cell, str) for cell in cells):
        raise DamagedData("has lost cells")
    head, *cut = map(str, cells)
    try:
        said = json.loads(head)
        format, count, digest = said["format"], said["cells"], said["sha256"]
    except (ValueError, TypeError, KeyError, RecursionError):
        raise DamagedData("does not begin as it was written") from None
    if format not in (FORMAT, *FORMER):
        raise DamagedData("was written by another version of this program, in a form that this one does not know")
    text = "".join(cell[1:-1] for cell in cut)
    if len(cut) != count or sha256(text.encode("utf-8", "replace")).hexdigest() != digest:
        raise DamagedData("is not as it was written")
    return text


def data_of(text: str) -> SizedData:
    """What the text says.

    Raises:
        DamagedData: it is no such text.
    """
    try:
        return _parsed(json.loads(text))
    except (ValueError, TypeError, KeyError, IndexError, AttributeError, RecursionError):
        raise DamagedData("is not laid out as data of this program") from None


def _parsed(data) -> SizedData:
    figures = _rows(data["bank figures"])
    given: list[tuple[BankKey, SizedBank]] = []
    for project, tank, label, feeder, on, across, split, which in data["banks"]:
        project, tank, label = map(_text, (project, tank, label))
        starts = tuple(_among(start, 3) for start in (on if isinstance(on, list) else [on]))
        chosen = PreviousBank(_text(feeder), starts, _text(across), tuple(_among(count, LIST) for count in split))
        given.append((bank_key(project, tank, label), SizedBank(project, tank, label, chosen, figures[_among(which, len(figures))])))
    banks = dict(zip(by_turns(key for key, _ in given), (bank for _, bank in given), strict=True))
    tags: dict[str, dict[str, tuple[str, ...]]] = {}
    for project, name, own in data["types"]:
        known = tags.setdefault(_text(project).strip().casefold(), {})
        for tag in map(_text, own):
            known[tag] = (*known.get(tag, ()), _text(name))
    sent = data.get("list")
    standing = {_text(tab): some for tab, some in sent["tabs"].items()} if sent else {}
    return SizedData(
        {table: _rows(rows) for table, rows in data["inputs"].items() if table in RECORDS},
        tuple(_carried_forward(one) for one in data["carried forward"]),
        banks,
        {
            feeder_key(_text(project), _text(feeder)): dict(zip(map(_text, data["feeder figures"]), map(_cell, row), strict=True))
            for project, feeder, row in data["feeders"]
        },
        tags,
        tuple(map(_text, data.get("sheets", ()))),
        {_text(tab): _own_cells(*own)._replace(**_standing(standing.get(tab))) for tab, *own in data.get("received", ())},
        {
            feeder_key(_text(project), _text(feeder)): PreviousFeeder(_text(source), _text(pair), _numbers(ways), _among(last, LIST))
            for project, feeder, source, pair, ways, last in data.get("hung", ())
        },
        _sent_list(sent) if sent else None,
    )


def _sent_list(sent) -> SentList:
    name, (map_name, map_text) = _text(sent["name"]), map(_text, sent["map"])
    typed = {
        (_text(sheet), _among(row, MOST_ROWS), _among(column, MOST_ROWS)): _unpacked(value) for sheet, row, column, value in sent["typed"]
    }
    return SentList(name, b64decode(_text(sent["content"]), validate=True), map_name, map_text, typed)


def _standing(some) -> dict[str, Any]:
    if some is None:
        return {}
    (sheet, turned, unseen), headings, row, marks = some
    stands = Standing(_text(sheet), bool(turned), tuple(_among(line, MOST_ROWS) for line in unseen)) if sheet else None
    headings, marks = (tuple(map(_text, some)) for some in (headings, marks))
    return {"stands": stands, "headings": headings, "heading_row": _among(row, MOST_ROWS), "marks": marks}


def _numbers(ways) -> dict[str, int]:
    return {_text(tank).strip().casefold(): _among(number, LIST) for tank, number in ways}


def _own_cells(first, last, said, column=None) -> OwnCells:
    if not isinstance(first, int) or not isinstance(last, int) or not (column is None or isinstance(column, int)):
        raise TypeError
    return OwnCells(first, last, frozenset((_text(fate), _text(why)) for fate, why in said), column)


def _carried_forward(one) -> CarriedForward:
    table, project, tank, bank, feeder, part, key, value, instead_of, source = one
    where = (_text(table), _text(project), _text(tank), _text(bank), _text(feeder), _text(part))
    return CarriedForward(*where, _text(key), _cell(value), _cell(instead_of), _text(source))


def _rows(table) -> tuple[Mapping[str, Cell], ...]:
    columns = [_text(column) for column in table["columns"]]
    return tuple(dict(zip(columns, map(_cell, row), strict=True)) for row in table["rows"])


def _text(value) -> str:
    if value is None:
        return ""
    if not isinstance(value, str):
        raise TypeError
    return value


def _cell(value) -> Cell:
    if value is not None and not isinstance(value, (str, int, float)):
        raise TypeError
    return value


def _among(value, below: int) -> int:
    if not isinstance(value, int) or not 0 <= value < below:
        raise ValueError
    return value
