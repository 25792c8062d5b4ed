"""The parts of an .xlsx package that are read before the sheets: which sheets there are, which cell styles show a unit or
are struck through, and which cells carry a comment."""

from __future__ import annotations

import posixpath
import re
from collections.abc import Callable
from xml.parsers import expat

from msgspec import Struct

from batch.errors import InputFileError
from batch.ooxml.addresses import column_number
from batch.ooxml.guard import COPY_LIST, SAVE_AS, Package
from batch.units import spelled

HIDDEN = {"hidden": "hidden", "veryHidden": "very hidden"}
ADDRESS = re.compile(r"([A-Z]{1,3})(\d{1,7})\Z", re.ASCII)
QUOTED = re.compile(r'"([^"]*)"|\\(.)')
LARGEST_STYLES = 64 << 20  # bytes inflated: workbooks copied together over years have styles by the ten thousand
OTHER_KINDS = ("word/", "ppt/")  # folders of a package that is no workbook
MOST_ELEMENTS = 100_000  # of a part that lists sheets or relations
LONGEST_FORMAT = 255  # characters; spreadsheet programs take no more
IGNORED = re.compile(r"\[[^\]]*\]|_.|\*.")  # colours, locale, spacing and fill marks of a number format


class SheetPart(Struct, frozen=True):
    """One sheet of the workbook: its name, the part that holds it ("" = none), and whether it is hidden."""

    name: str
    part: str
    hidden: str = ""
    cells: bool = True  # a sheet of cells, not a chart or a dialog


def elements(data: bytes, name: str, part: str) -> list[tuple[str, dict[str, str]]]:
    """Every start tag of a small part, prefixes taken off: ("sheet", {"name": "Heaters", …})."""
    found: list[tuple[str, dict[str, str]]] = []

    def take(tag: str, attributes: dict[str, str]) -> None:
        found.append((tag, attributes))
        if len(found) > MOST_ELEMENTS:
            raise InputFileError(f"{name}: its part {part} lists more than {MOST_ELEMENTS:,} things: {SAVE_AS}")

    each_element(data, name, part, take)
    return found


def each_element(
    data: bytes,
    name: str,
    part: str,
    take: Callable[[str, dict[str, str]], None],
    *,
    end: Callable[[], object] | None = None,
    words: Callable[[str], None] | None = None,
) -> None:
    """Calls `take` with every start tag of a part, one after the other, so that none is kept; `end` at each end, `words` with texts."""
    parser = expat.ParserCreate()
    parser.StartElementHandler = lambda tag, attributes: take(tag.rpartition(":")[2], attributes)
    if end is not None:
        parser.EndElementHandler = lambda _: end()
    if words is not None:
        parser.CharacterDataHandler = words
    try:
        parser.Parse(data, True)
    except (expat.ExpatError, ValueError, LookupError) as fault:
        raise InputFileError(f"{name}: the file is damaged (its part {part} is not well-formed): fetch it again, or {SAVE_AS}") from fault


def workbook_part(package: Package) -> str:
    """The part that lists the sheets.

    Raises:
        InputFileError: a package without one: another kind of document, or no document at all.
    """
    relations = package.find("_rels/.rels")
    if relations:
        for tag, attributes in elements(package.read(relations), package.name, relations):
            if tag == "Relationship" and attributes.get("Type", "").endswith("/officeDocument"):
                part = package.find(attributes.get("Target", "").lstrip("/"))
                if part and not part.startswith(OTHER_KINDS):
                    return part
    part = package.find("xl/workbook.xml") or package.find("xl/workbook.bin")
    if part:
        return part
    raise InputFileError(f"{package.name}: {_other_package(package)}")


def _other_package(package: Package) -> str:
    parts = package.parts()
    if any(part.startswith("word/") for part in parts):
        return f"this is a text document, not a workbook: {COPY_LIST}; a letter with a customer's answers is read with --answers"
    if any(part.startswith("ppt/") for part in parts):
        return f"this is a presentation, not a workbook: {COPY_LIST}"
    if package.find("EncryptedPackage"):
        return "the workbook is locked with a password: save a copy without the password, and read that"
    return f"this is an archive without a workbook in it: {SAVE_AS}"


def related(package: Package, workbook: str) -> dict[str, tuple[str, str]]:
    """The parts that the workbook part refers to, by the id of the relation: (part, type of the relation)."""
    folder, file = posixpath.split(workbook)
    targets: dict[str, tuple[str, str]] = {}
    relations = package.find(f"{folder}/_rels/{file}.rels" if folder else f"_rels/{file}.rels")
    if relations:
        for tag, attributes in elements(package.read(relations), package.name, relations):
            if tag == "Relationship":
                target = attributes.get("Target", "")
                full = target.lstrip("/") if target.startswith("/") else posixpath.normpath(posixpath.join(folder, target))
                targets[attributes.get("Id", "")] = (package.find(full), attributes.get("Type", ""))
    return targets


def of_type(targets: dict[str, tuple[str, str]], kind: str) -> str:
    """The part of a kind ("styles", "sharedStrings"); "" where there is none."""
    return next((part for part, type_ in targets.values() if part and type_.endswith("/" + kind)), "")


def sheet_parts(package: Package, workbook: str, targets: dict[str, tuple[str, str]]) -> list[SheetPart]:
    """The sheets in tab order, each with its part."""
    sheets: list[SheetPart] = []
    for tag, attributes in elements(package.read(workbook), package.name, workbook):
        if tag != "sheet":
            continue
        key = next((value for label, value in attributes.items() if label == "id" or label.endswith(":id")), "")
        part, kind = targets.get(key, ("", ""))
        cells = not kind.endswith(("/chartsheet", "/dialogsheet"))
        sheets.append(SheetPart(attributes.get("name", ""), part, HIDDEN.get(attributes.get("state", ""), ""), cells))
    return sheets


class CellLooks(Struct, frozen=True):
    """What the styles of a workbook say that matters to a reader, by style number as cells refer to it.

    units   styles whose number format shows a unit, with the unit: {b"3": "%"} for a cell shown as a percentage
    struck  styles whose font is struck through
    """

    units: dict[bytes, str]
    struck: frozenset[bytes] = frozenset()


def cell_looks(package: Package, part: str) -> CellLooks:
    """One pass over the styles part; "" = the workbook has none."""
    if not part:
        return CellLooks({})
    formats: dict[int | None, str] = {9: "%", 10: "%"}  # built-in number formats 0% and 0.00%: ECMA-376 Part 1, 18.8.30
    units: dict[bytes, str] = {}
    struck: set[bytes] = set()
    struck_fonts: set[int] = set()
    number, font, inside, fonts = 0, -1, False, False

    def take(tag: str, attributes: dict[str, str]) -> None:
        nonlocal number, font, inside, fonts
        if tag == "numFmt":
            which, unit = attributes.get("numFmtId", "0"), format_unit(attributes.get("formatCode", ""))
            if unit and which.isdecimal() and which.isascii():
                formats[int(which[:9])] = unit
        elif tag in ("fonts", "fills", "borders"):
            fonts = tag == "fonts"
        elif tag == "font":
            font += fonts
        elif tag == "strike" and fonts:
            if attributes.get("val", "1") not in ("0", "false", "off"):
                struck_fonts.add(font)
        elif tag in ("cellXfs", "cellStyleXfs", "dxfs", "cellStyles"):
            inside, number, fonts = tag == "cellXfs", 0, False
        elif tag == "xf" and inside:
            style = str(number).encode("ascii")
            shown = formats.get(_plain_number(attributes.get("numFmtId", "0")))
            if shown:
                units[style] = shown
            if _plain_number(attributes.get("fontId", "")) in struck_fonts:
                struck.add(style)
            number += 1

    each_element(package.read(part, LARGEST_STYLES), package.name, part, take)
    return CellLooks(units, frozenset(struck))


def _plain_number(text: str) -> int:
    """A number of plain figures; -1 where the text is none."""
    return int(text[:9]) if text.isdecimal() and text.isascii() else -1


def comments_of(package: Package, sheet_part: str) -> dict[tuple[int, int], str]:
    """The cells of a sheet that carry a comment, as (row, column) from 0, with the words of the comment."""
    folder, file = posixpath.split(sheet_part)
    relations = package.find(f"{folder}/_rels/{file}.rels")
    if not relations:
        return {}
    cells: dict[tuple[int, int], str] = {}
    for tag, attributes in elements(package.read(relations), package.name, relations):
        if tag == "Relationship" and attributes.get("Type", "").endswith("/comments"):
            target = attributes.get("Target", "")
            part = package.find(target.lstrip("/") if target.startswith("/") else posixpath.normpath(posixpath.join(folder, target)))
            if part:
                some = _commented(package.read(part), package.name, part)
                cells |= {(int(at[2]) - 1, column_number(at[1].encode("ascii"))): text for ref, text in some if (at := ADDRESS.match(ref))}
    return cells


def _commented(data: bytes, name: str, part: str) -> list[tuple[str, str]]:
    """Address and words of every comment of a part, without the name of who wrote it and what a program says of threads."""
    found: list[tuple[str, list[str]]] = []
    authors: list[str] = []
    inside: list[str] = []

    def begin(tag: str, attributes: dict[str, str]) -> None:
        inside.append(tag)
        if tag == "comment":
            found.append((attributes.get("ref", ""), []))
        elif tag == "author":
            authors.append("")
        if len(found) > MOST_ELEMENTS:
            raise InputFileError(f"{name}: its part {part} lists more than {MOST_ELEMENTS:,} things: {SAVE_AS}")

    def words(text: str) -> None:
        if inside and inside[-1] == "t" and found and "rPh" not in inside:
            found[-1][1].append(text)
        elif inside and inside[-1] == "author":
            authors[-1] += text

    each_element(data, name, part, begin, end=inside.pop, words=words)
    return [(ref, _without_author("".join(said).strip(), authors)) for ref, said in found]


def _without_author(text: str, authors: list[str]) -> str:
    """The comment itself: behind the line that names who wrote it, and behind what old programs show of a thread."""
    if text.startswith("[Threaded comment]"):
        text = re.split(r"\n\s*Comment:\s*", text, maxsplit=1)[-1]
    text = re.sub(r"^\s*Reply:\s*", "", text, flags=re.MULTILINE)
    head, colon, rest = text.partition(":")
    return rest.strip() if colon and head.strip() in {one.strip() for one in authors} else text


def format_unit(code: str) -> str:
    """The unit that a number format shows beside the number: "%" for 0.0%, "kW" for 0.0" kW"; "" where it shows none.

    A percent sign in quotes or behind a backslash is only printed and does not multiply, so `0.0" %"` shows "per cent"
    of a number that already is one: that is no conversion and no unit of its own, and "" is returned.
    """
    if len(code) > LONGEST_FORMAT:
        return ""
    first = code.split(";")[0]
    literal = "".join(quoted or escaped for quoted, escaped in QUOTED.findall(first)).strip()
    bare = IGNORED.sub("", QUOTED.sub("", first))
    if "%" in bare:
        return "%"
    known = spelled(literal) if literal and literal != "%" else None
    return literal if known else ""
