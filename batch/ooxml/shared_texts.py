"""The texts that cells share, as far as they are asked for."""

from __future__ import annotations

import re
from collections.abc import Collection
from xml.parsers import expat

from batch.errors import CannotFill
from batch.ooxml.guard import Package
from batch.ooxml.sheet_xml import SAVE

ESCAPE = re.compile(r"_x([0-9A-Fa-f]{4})_")  # ECMA-376 Part 1, 22.9.2.19


def shared_texts(package: Package, part: str, wanted: Collection[int]) -> dict[int, str]:
    """Shared texts by number, without how they look or sound. `part` "" = the workbook has none.

    Raises:
        CannotFill: not well-formed.
    """
    found: dict[int, str] = {}
    if not part or not wanted:
        return found
    path: list[str] = []
    number = -1
    words: list[str] = []
    parser = expat.ParserCreate()

    def start(tag: str, attributes: dict[str, str]) -> None:
        nonlocal number
        path.append(tag.rpartition(":")[2])
        if path[-1] == "si":
            number += 1
            words.clear()

    def end(tag: str) -> None:
        if path.pop() == "si" and number in wanted:
            found[number] = ESCAPE.sub(lambda code: chr(int(code[1], 16)), "".join(words))

    def text(piece: str) -> None:
        if path[-1] == "t" and "rPh" not in path:
            words.append(piece)

    parser.StartElementHandler, parser.EndElementHandler, parser.CharacterDataHandler = start, end, text
    try:
        for chunk in package.chunks(part):
            parser.Parse(chunk, False)
        parser.Parse(b"", True)
    except expat.ExpatError as fault:
        raise CannotFill(f"the texts of the workbook are not well-formed ({fault}): {SAVE}") from None
    return found
