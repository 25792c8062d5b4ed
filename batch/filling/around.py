"""What has to be known of a workbook as a whole before one of its sheets is filled."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from html import unescape
from typing import NamedTuple

from batch.filling.looks import StyleNumbers, styles_of
from batch.filling.may_fill import open_package
from batch.ooxml.guard import Package
from batch.ooxml.package import SheetPart, of_type, related, sheet_parts
from batch.ooxml.sheet_xml import tags

FORMULA = re.compile(rb"<(?:\w+:)?f\b([^>]*)>([^<]+)<")

Formula = tuple[str, str, str, bool]  # where it stands in words, sheet it stands on ("" = none), text, shared by a block of cells


class Around(NamedTuple):
    """A workbook that may be filled. `texts` is the part of its shared texts, `printed` the sheets with a print area of their own."""

    package: Package
    sheets: Mapping[str, SheetPart]
    styles: StyleNumbers
    texts: str
    formulas: tuple[Formula, ...]
    printed: frozenset[str]


def look_around(data: bytes, name: str) -> Around:
    """
    Raises:
        CannotFill: a workbook that must not or cannot be filled.
        InputFileError: no workbook.
    """
    package, workbook = open_package(data, name)
    targets = related(package, workbook)
    sheets = {sheet.name: sheet for sheet in sheet_parts(package, workbook, targets)}
    looks = of_type(targets, "styles")
    names = list(_names(package, workbook))
    formulas = [(f"the name {label}", "", text, False) for label, text in names if not label.startswith("_xlnm.")]
    formulas += [*_of_cells(package, sheets), *_of_charts(package)]
    printed = frozenset(text.rpartition("!")[0].strip("'").replace("''", "'") for label, text in names if label == "_xlnm.Print_Area")
    styles = styles_of(package.read(looks) if looks else b"")
    return Around(package, sheets, styles, of_type(targets, "sharedStrings"), tuple(formulas), printed)


def _names(package: Package, workbook: str) -> Iterator[tuple[str, str]]:
    """Defined names and what they stand for."""
    text = package.read(workbook).decode("utf-8", "replace")
    for attributes, words in re.findall(r"<(?:\w+:)?definedName\b([^>]*)>([^<]*)<", text):
        name = re.search(r"\bname\s*=\s*[\"']([^\"']*)", attributes)
        yield unescape(name[1]) if name else "", unescape(words)


def _of_cells(package: Package, sheets: Mapping[str, SheetPart]) -> Iterator[Formula]:
    for sheet in sheets.values():
        if sheet.part and sheet.cells:
            content = b"".join(package.chunks(sheet.part))
            for attributes, text in FORMULA.findall(content):
                yield f"a formula of sheet {sheet.name}", sheet.name, unescape(text.decode("utf-8", "replace")), b"shared" in attributes


def _of_charts(package: Package) -> Iterator[Formula]:
    for part in package.parts():
        if "/charts/" in part and part.endswith(".xml"):
            for tag in tags(package.read(part)):
                if tag.name == "f":
                    yield "a chart", "", tag.text, False
