"""What stands in a results workbook, cell by cell, read from its parts: what the bare process writes again.

Independent of how the product writes: it reads the finished file. Kept as plain lists, so that `marshal` can store them.
"""

from __future__ import annotations

import marshal
import re
import sys
import zipfile
from pathlib import Path
from xml.etree import ElementTree

MAIN = "{http://schemas.openxmlformats.org/spreadsheetml/2006/main}"
RELATION = "{http://schemas.openxmlformats.org/officeDocument/2006/relationships}id"
ADDRESS = re.compile(r"([A-Z]+)(\d+)")


def capture(path: Path) -> dict[str, object]:
    """{"formats": [properties of each format], "sheets": [sheet]}; a sheet has name, cells (row, column, kind, value, formula, format),
    columns (first, last, width, format), heights (row, height) and tables (first row, first column, last row, last column, headings)."""
    with zipfile.ZipFile(path) as parts:
        strings = _strings(parts)
        links = {
            link.get("Id"): link.get("Target").lstrip("/").removeprefix("xl/")
            for link in ElementTree.fromstring(parts.read("xl/_rels/workbook.xml.rels"))
        }
        sheets = []
        for sheet in ElementTree.fromstring(parts.read("xl/workbook.xml")).iter(f"{MAIN}sheet"):
            part = links[sheet.get(RELATION)]
            sheets.append({"name": sheet.get("name"), **_sheet(parts, f"xl/{part}", strings), "tables": _tables(parts, part)})
        return {"formats": _formats(parts), "sheets": sheets}


def _strings(parts: zipfile.ZipFile) -> list[str]:
    if "xl/sharedStrings.xml" not in parts.namelist():
        return []
    found = []
    with parts.open("xl/sharedStrings.xml") as stream:
        for _, element in ElementTree.iterparse(stream):
            if element.tag == f"{MAIN}si":
                found.append("".join(piece.text or "" for piece in element.iter(f"{MAIN}t")))
                element.clear()
    return found


def _sheet(parts: zipfile.ZipFile, part: str, strings: list[str]) -> dict[str, object]:
    cells, columns, heights = [], [], []
    with parts.open(part) as stream:
        for _, element in ElementTree.iterparse(stream):
            if element.tag == f"{MAIN}col":
                columns.append((int(element.get("min")) - 1, int(element.get("max")) - 1, float(element.get("width")),
                                int(element.get("style") or 0)))
            elif element.tag == f"{MAIN}row":
                if element.get("ht"):
                    heights.append((int(element.get("r")) - 1, float(element.get("ht"))))
                cells += [_cell(cell, strings) for cell in element]
                element.clear()
    return {"cells": cells, "columns": columns, "heights": heights}


def _cell(cell, strings: list[str]) -> tuple:
    letters, row = ADDRESS.match(cell.get("r")).groups()
    at = 0
    for letter in letters:
        at = at * 26 + ord(letter) - 64
    value, formula, kind = cell.findtext(f"{MAIN}v"), cell.findtext(f"{MAIN}f"), cell.get("t") or "n"
    if kind == "s":
        value = strings[int(value)]
    elif kind == "inlineStr":
        value = "".join(piece.text or "" for piece in cell.iter(f"{MAIN}t"))
    elif value and kind == "n":  # a formula that shows nothing holds an empty value
        value = float(value)
    if formula is not None:
        kind = "formula"
    elif value is None:
        kind = "blank"
    return int(row) - 1, at - 1, "s" if kind in ("inlineStr", "str") else kind, value, formula or "", int(cell.get("s") or 0)


def _tables(parts: zipfile.ZipFile, part: str) -> list[tuple]:
    folder, _, name = part.rpartition("/")
    links = f"xl/{folder}/_rels/{name}.rels"
    if links not in parts.namelist():
        return []
    found = []
    for link in ElementTree.fromstring(parts.read(links)):
        if not link.get("Type").endswith("/table"):
            continue
        table = ElementTree.fromstring(parts.read("xl/" + link.get("Target").removeprefix("../").removeprefix("/xl/")))
        first, last = (ADDRESS.match(corner).groups() for corner in table.get("ref").split(":"))
        heads = [column.get("name") for column in table.iter(f"{MAIN}tableColumn")]
        found.append((f"{first[0]}{first[1]}:{last[0]}{last[1]}", heads))
    return found


def _formats(parts: zipfile.ZipFile) -> list[dict[str, object]]:
    """The cell formats as properties of a stock xlsxwriter format: number format, font, fill, lower border, alignment."""
    styles = ElementTree.fromstring(parts.read("xl/styles.xml"))
    codes = {int(code.get("numFmtId")): code.get("formatCode") for code in styles.iter(f"{MAIN}numFmt")}
    fonts, fills, borders = (list(styles.find(f"{MAIN}{group}")) for group in ("fonts", "fills", "borders"))
    found = []
    for xf in styles.find(f"{MAIN}cellXfs"):
        number, font = int(xf.get("numFmtId")), fonts[int(xf.get("fontId"))]
        made: dict[str, object] = {"num_format": codes.get(number, number or "General")}
        if font.find(f"{MAIN}b") is not None:
            made["bold"] = True
        if (colour := font.find(f"{MAIN}color")) is not None and colour.get("rgb"):
            made["font_color"] = f"#{colour.get('rgb')[-6:]}"
        if (size := font.find(f"{MAIN}sz")) is not None:
            made["font_size"] = float(size.get("val"))
        if (fill := fills[int(xf.get("fillId"))].find(f"{MAIN}patternFill/{MAIN}fgColor")) is not None and fill.get("rgb"):
            made["bg_color"] = f"#{fill.get('rgb')[-6:]}"
        if borders[int(xf.get("borderId"))].find(f"{MAIN}bottom[@style]") is not None:
            made["bottom"] = 1
        if (alignment := xf.find(f"{MAIN}alignment")) is not None:
            made |= {"text_wrap": alignment.get("wrapText") == "1"}
            sides = (("align", "horizontal"), ("valign", "vertical"))
            made |= {name: alignment.get(given) for name, given in sides if alignment.get(given)}
            if made.get("valign") == "center":  # the writer's own word for it
                made["valign"] = "vcenter"
        found.append(made)
    return found


def main() -> None:
    """`python -m tests.benchmarks.cells RESULTS.xlsx FILE`: the cells of a results workbook into FILE; prints how many."""
    book = capture(Path(sys.argv[1]))
    with Path(sys.argv[2]).open("wb") as stream:
        marshal.dump(book, stream)
    print(sum(len(sheet["cells"]) for sheet in book["sheets"]))


if __name__ == "__main__":
    main()
