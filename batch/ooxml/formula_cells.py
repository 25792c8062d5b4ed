"""Which cells of a workbook still hold the formula that was written there: a figure where one stood was typed over it."""

from __future__ import annotations

import re

from batch.errors import InputFileError
from batch.ooxml.addresses import letters
from batch.ooxml.guard import Package
from batch.ooxml.package import each_element, related, sheet_parts, workbook_part

FORMULA = re.compile(rb"<(?:\w+:)?c\b([^<>]*)>\s*<(?:\w+:)?f\b[^<>]*?(?:/>|>([^<]*)<)")
PLACE = re.compile(rb"""\br\s*=\s*["']([A-Z]{1,3})(\d{1,7})["']""")


COVERED = "covered-table-cell"
CONTENT = "content.xml"  # of an OpenDocument file, all its sheets


class FormulaCells:
    """Of a workbook of either open format, looked at only when asked; of any other file nothing is known."""

    def __init__(self, data: bytes, name: str) -> None:
        self._data, self._name = data, name
        self._parts: dict[str, str] | None = None
        self._package: Package | None = None
        self._found: dict[str, frozenset[str] | None] = {}

    def stands(self, sheet: str, cell: str) -> bool | None:
        """Whether the cell holds a formula on cells of its own row, as this program writes them; None = not known."""
        if sheet not in self._found:
            self._found[sheet] = self._look(sheet)
        found = self._found[sheet]
        return None if found is None else cell in found

    def typed_over(self, sheet: str, cell: str) -> bool:
        """Whether it is known that no such formula stands there."""
        return self.stands(sheet, cell) is False

    def _look(self, sheet: str) -> frozenset[str] | None:
        try:
            if self._package is None:
                self._package = Package(self._data, self._name)
            if self._package.find(CONTENT):
                self._found |= _open_document(b"".join(self._package.chunks(CONTENT)), self._name)
                return self._found.get(sheet)
            if self._parts is None:
                workbook = workbook_part(self._package)
                parts = sheet_parts(self._package, workbook, related(self._package, workbook))
                self._parts = {part.name: part.part for part in parts if part.part}
            return frozenset(_own_formulas(b"".join(self._package.chunks(self._parts[sheet]))))
        except (InputFileError, KeyError):
            return None


def _open_document(xml: bytes, name: str) -> dict[str, frozenset[str]]:
    """The same of all sheets of an OpenDocument file, whose rows and cells may stand for several alike."""
    found: dict[str, set[str]] = {}
    sheet, row, next_row, column = "", 0, 1, 0

    def take(tag: str, attributes: dict[str, str]) -> None:
        nonlocal sheet, row, next_row, column
        own = {key.rpartition(":")[2]: value for key, value in attributes.items()} if tag.startswith("table") or tag == COVERED else {}
        if tag == "table":
            sheet, next_row = own.get("name", ""), 1
            found.setdefault(sheet, set())
        elif tag == "table-row":
            row, column = next_row, 0
            next_row += int(own.get("number-rows-repeated", 1))
        elif tag in ("table-cell", COVERED):
            if re.search(rf"[A-Z]{row}(?!\d)", own.get("formula", "")):
                found.setdefault(sheet, set()).add(f"{letters(column)}{row}")
            column += int(own.get("number-columns-repeated", 1))

    each_element(xml, name, CONTENT, take)
    return {sheet: frozenset(cells) for sheet, cells in found.items()}


def _own_formulas(xml: bytes) -> list[str]:
    """Cells with a formula that speaks of its own row, or that is shared with another cell."""
    found = []
    for match in FORMULA.finditer(xml):
        place = PLACE.search(match[1])
        if place and (not match[2] or re.search(rb"[A-Z]%s(?!\d)" % place[2], match[2])):
            found.append((place[1] + place[2]).decode())
    return found
