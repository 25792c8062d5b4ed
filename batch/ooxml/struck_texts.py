"""Texts of which words are struck through: in the table of shared texts, and in cells that hold their text themselves.

Looked for only where the word strike stands in the part at all, which is seldom.
"""

from __future__ import annotations

import re
from html import unescape
from xml.parsers import expat

from batch.errors import InputFileError
from batch.ooxml.guard import SAVE_AS, Package

MARK = b"strike"  # the element of a font that is struck through: ECMA-376 Part 1, 18.4.10
OFF = ("0", "false", "off")
RUN = re.compile(rb"<(?:\w+:)?r>(.*?)</(?:\w+:)?r>", re.DOTALL)
TEXT = re.compile(rb"<(?:\w+:)?t\b[^<>]*>([^<]*)</(?:\w+:)?t>")
STRUCK = re.compile(rb"""<(?:\w+:)?strike\s*(?:/>|>|val\s*=\s*["'](?!0|false|off)[^"']*["'])""")


def struck_texts(package: Package, part: str) -> dict[int, str]:
    """Shared texts with struck words, by number -> what is left of them without these words; "" = all is struck.

    Raises:
        InputFileError: not well-formed.
    """
    found: dict[int, str] = {}
    number, struck, any_struck = -1, False, False
    kept: list[str] = []
    path: list[str] = []

    def start(tag: str, attributes: dict[str, str]) -> None:
        nonlocal number, struck, any_struck
        path.append(tag.rpartition(":")[2])
        if path[-1] == "si":
            number, any_struck, struck = number + 1, False, False
            kept.clear()
        elif path[-1] == "r":
            struck = False
        elif path[-1] == "strike" and attributes.get("val", "1") not in OFF:
            struck = any_struck = True

    def end(tag: str) -> None:
        nonlocal struck
        closed = path.pop()
        if closed == "r":
            struck = False
        elif closed == "si" and any_struck:
            found[number] = " ".join("".join(kept).split())

    def text(piece: str) -> None:
        if path and path[-1] == "t" and "rPh" not in path and not struck:
            kept.append(piece)

    parser = expat.ParserCreate()
    parser.StartElementHandler, parser.EndElementHandler, parser.CharacterDataHandler = start, end, text
    try:
        for chunk in package.chunks(part):
            parser.Parse(chunk, False)
        parser.Parse(b"", True)
    except (expat.ExpatError, ValueError, LookupError):
        raise InputFileError(f"{package.name}: the file is damaged (its part {part} is not well-formed): {SAVE_AS}") from None
    return found


def left_of(inline: bytes) -> str | None:
    """What is left of a cell's own text without its struck words; None where none is struck."""
    runs = RUN.findall(inline)
    if not any(STRUCK.search(run) for run in runs):
        return None
    kept = b"".join(b"".join(TEXT.findall(run)) for run in runs if not STRUCK.search(run))
    return " ".join(unescape(kept.decode("utf-8", "replace")).split())
