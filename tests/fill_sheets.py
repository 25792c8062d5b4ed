"""Looks at a filled workbook with other eyes than the product's: zip headers and an XML tree."""

from __future__ import annotations

import struct
import xml.etree.ElementTree as ET
import zipfile
from dataclasses import dataclass, field
from io import BytesIO
from pathlib import Path

from batch.sheets import FILLED
from tests.intake_book import book

MAIN = "{http://schemas.openxmlformats.org/spreadsheetml/2006/main}"
STRICT = "{http://purl.oclc.org/ooxml/spreadsheetml/main}"
TITLES = [column.title() for column in FILLED.columns]
HEADINGS = ["Tank", "Quantity", "Power (kW)", "Volts", "Phases"]
ROWS = [["T-1", 4, 6, 480, 1], ["T-2", 3, 9, 480, 3], ["T-3", 2, 4.5, 480, 1]]
PART = "xl/worksheets/sheet1.xml"


def simple(rows=ROWS, headings=HEADINGS, name="Heaters", **more) -> bytes:
    """A plain list, as a spreadsheet library writes it."""
    return book({name: [headings, *rows]}, **more)


def members(data: bytes) -> dict[str, tuple[bytes, tuple]]:
    """Each part as it is packed, and what the package says of it."""
    found = {}
    with zipfile.ZipFile(BytesIO(data)) as package:
        for info in package.infolist():
            at = info.header_offset
            name_length, extra_length = struct.unpack("<HH", data[at + 26 : at + 30])
            begin = at + 30 + name_length + extra_length
            said = (info.CRC, info.file_size, info.compress_type, info.date_time, info.external_attr, info.create_system, info.comment)
            found[info.filename] = (data[begin : begin + info.compress_size], said)
    return found


def part_of(data: bytes, part: str = PART) -> bytes:
    with zipfile.ZipFile(BytesIO(data)) as package:
        return package.read(part)


@dataclass
class Seen:
    """A sheet: cells by address (attributes, what is in them), rows by number (attributes), and all around them."""

    cells: dict[str, tuple[dict, str]] = field(default_factory=dict)
    rows: dict[str, dict] = field(default_factory=dict)
    around: list[str] = field(default_factory=list)
    columns: list[dict] = field(default_factory=list)
    dimension: str = ""


def seen(xml: bytes) -> Seen:
    root = ET.fromstring(xml)
    space = root.tag[: root.tag.index("}") + 1]
    found = Seen(around=[repr(sorted(root.attrib.items()))])
    for child in root:
        if child.tag == f"{space}sheetData":
            for row in child:
                found.rows[row.attrib["r"]] = {name: value for name, value in row.attrib.items() if name != "spans"}
                for cell in row:
                    inside = "".join(ET.canonicalize(ET.tostring(one, encoding="unicode")) for one in cell)
                    assert cell.attrib["r"] not in found.cells
                    found.cells[cell.attrib["r"]] = (dict(cell.attrib), inside)
        elif child.tag == f"{space}dimension":
            found.dimension = child.attrib["ref"]
        elif child.tag == f"{space}cols":
            found.columns = [dict(one.attrib) for one in child]
        else:
            found.around.append(ET.canonicalize(ET.tostring(child, encoding="unicode")))
    return found


def column_settings(columns: list[dict], first: int, last: int) -> list[dict]:
    """What is set for each column from `first` to `last` (from 1), however the settings are grouped."""
    each = []
    for number in range(first, last + 1):
        mine = [one for one in columns if int(one["min"]) <= number <= int(one["max"])]
        assert len(mine) <= 1
        each.append({name: value for name, value in mine[0].items() if name not in ("min", "max")} if mine else {})
    return each


def assert_nothing_else_changed(before: bytes, after: bytes, parts: tuple[str, ...] = (PART,)) -> None:
    """Every other part byte for byte, packed bytes included; the filled parts cell for cell."""
    old, new = members(before), members(after)
    assert list(old) == list(new)
    for name, (packed, said) in old.items():
        if name not in parts:
            assert new[name] == (packed, said), name
        else:
            assert new[name][1][2:] == said[2:], name
            assert_same_sheet(part_of(before, name), part_of(after, name))


def assert_same_sheet(before: bytes, after: bytes, widened: range | None = None) -> set[str]:
    """All that stood there stands there still; returns the addresses of what is new. `widened`: columns (from 1) that may be wider."""
    old, new = seen(before), seen(after)
    assert new.around == old.around
    for address, (attributes, inside) in old.cells.items():
        if inside:
            assert new.cells[address] == (attributes, inside), address
        else:  # an empty cell keeps its looks; it may have got a result
            assert new.cells[address][0].get("s") == attributes.get("s"), address
    for number, attributes in old.rows.items():
        assert new.rows[number] == attributes, number
    added = {address for address, cell in new.cells.items() if cell != old.cells.get(address)}
    if widened is None:
        ours = [_column(address) for address in added]
        widened = range(min(ours), max(ours) + 1)
    assert [int(one["min"]) for one in new.columns] == sorted(int(one["min"]) for one in new.columns)
    assert column_settings(new.columns, 1, widened.start - 1) == column_settings(old.columns, 1, widened.start - 1)
    beyond = widened.stop
    assert column_settings(new.columns, beyond, beyond + 50) == column_settings(old.columns, beyond, beyond + 50)
    order = [int(number) for number in new.rows]
    assert order == sorted(order)
    assert_within(after, added)
    return added


def assert_within(xml: bytes, added: set[str]) -> None:
    """Row spans and the used range hold every new cell; cells stand in order. What a writer before us got wrong is not ours."""
    root = ET.fromstring(xml)
    space = root.tag[: root.tag.index("}") + 1]
    for row in root.iter(f"{space}row"):
        here = [_column(cell.attrib["r"]) for cell in row]
        assert here == sorted(set(here))
        ours = [_column(cell.attrib["r"]) for cell in row if cell.attrib["r"] in added]
        if ours and row.attrib.get("spans"):
            low, high = map(int, row.attrib["spans"].split(":"))
            assert low <= min(ours) and max(ours) <= high
    dimension = root.find(f"{space}dimension")
    if added and dimension is not None:
        first, _, last = dimension.attrib["ref"].partition(":")
        for address in added:
            assert _column(first) <= _column(address) <= _column(last)
            assert _row(first) <= _row(address) <= _row(last)


def _row(address: str) -> int:
    return int(address.lstrip("ABCDEFGHIJKLMNOPQRSTUVWXYZ"))


def _column(address: str) -> int:
    number = 0
    for mark in address.rstrip("0123456789"):
        number = number * 26 + ord(mark) - 64
    return number


def put(folder: Path, data: bytes, name: str = "list.xlsx") -> Path:
    path = folder / name
    path.write_bytes(data)
    return path
