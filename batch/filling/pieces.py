"""Cells and columns as XML. Everything is written in ASCII, so that it suits whatever encoding the sheet has."""

from __future__ import annotations

import re
from typing import NamedTuple

LONGEST = 32_767  # characters a cell can hold
ESCAPED = re.compile(r"_(?=x[0-9A-Fa-f]{4}_)")  # "_x0041_" means "A" in a cell: ECMA-376 Part 1, 22.9.2.19
NO_XML = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\ud800-\udfff\ufffe\uffff]")


class Formula(NamedTuple):
    """A formula and the text that is stored for it."""

    formula: str
    text: str


Value = str | int | float | Formula | None  # None: a cell with its looks only


def words(text: str) -> str:
    """Text as XML: marks that mean something to XML, and all beyond ASCII, by number."""
    text = NO_XML.sub("\ufffd", text)
    for mark, name in (("&", "&amp;"), ("<", "&lt;"), (">", "&gt;"), ('"', "&quot;"), ("\r", "&#13;")):
        text = text.replace(mark, name)
    return text.encode("ascii", "xmlcharrefreplace").decode("ascii")


def cell(prefix: str, address: str, style: str, value: Value) -> bytes:
    """One cell. Text stands in the cell itself, so that the workbook's shared texts stay as they are."""
    p = f"{prefix}:" if prefix else ""
    look = f' s="{style}"' if style != "0" else ""
    if value is None:
        return f'<{p}c r="{address}"{look}/>'.encode("ascii")
    if isinstance(value, Formula):
        inside = f"<{p}f>{words(value.formula)}</{p}f><{p}v>{words(value.text)}</{p}v>"
        return f'<{p}c r="{address}"{look} t="str">{inside}</{p}c>'.encode("ascii")
    if isinstance(value, str):
        text = words(ESCAPED.sub("_x005F_", value[: LONGEST - 1]))
        return f'<{p}c r="{address}"{look} t="inlineStr"><{p}is><{p}t xml:space="preserve">{text}</{p}t></{p}is></{p}c>'.encode("ascii")
    number = repr(float(value)).removesuffix(".0")
    return f'<{p}c r="{address}"{look}><{p}v>{number}</{p}v></{p}c>'.encode("ascii")


def quoted(text: str) -> str:
    """A text as a formula holds it."""
    return '"' + text.replace('"', '""') + '"'
