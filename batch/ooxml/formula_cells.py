"""Which cells of a workbook still hold the formula that was written there: a figure where one stood was typed over it."""

from __future__ import annotations

import re

from batch.errors import InputFileError
from batch.ooxml.guard import Package
from batch.ooxml.package import related, sheet_parts, workbook_part

FORMULA = re.compile(rb"<(?:\w+:)?c\b([^<>]*)>\s*<(?:\w+:)?f\b[^<>]*?(?:/>|>([^<]*)<)")
PLACE = re.compile(rb"""\br\s*=\s*["']([A-Z]{1,3})(\d{1,7})["']""")


class FormulaCells:
    """Of a package of sheets, looked at sheet by sheet and only when asked; of any other file nothing is known."""

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
            if self._parts is None:
                self._parts = {}
                self._package = Package(self._data, self._name)
                workbook = workbook_part(self._package)
                parts = sheet_parts(self._package, workbook, related(self._package, workbook))
                self._parts = {part.name: part.part for part in parts if part.part}
            if self._package is None or sheet not in self._parts:
                return None
            return frozenset(_own_formulas(b"".join(self._package.chunks(self._parts[sheet]))))
        except (InputFileError, KeyError):
            return None


def _own_formulas(xml: bytes) -> list[str]:
    """Cells with a formula that speaks of its own row, or that is shared with another cell."""
    found = []
    for match in FORMULA.finditer(xml):
        place = PLACE.search(match[1])
        if place and (not match[2] or re.search(rb"[A-Z]%s(?!\d)" % place[2], match[2])):
            found.append((place[1] + place[2]).decode())
    return found
