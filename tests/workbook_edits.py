"""Types into cells of a workbook as a person would: the sheet's part is edited, all else stays byte for byte."""

from __future__ import annotations

import re
import zipfile
from collections.abc import Mapping
from pathlib import Path
from xml.sax.saxutils import escape


def parts_of(package: zipfile.ZipFile) -> dict[str, str]:
    """Sheet name -> part."""
    workbook = package.read("xl/workbook.xml").decode()
    targets = dict(re.findall(r'<Relationship Id="(\w+)"[^>]*Target="([^"]+)"', package.read("xl/_rels/workbook.xml.rels").decode()))
    found = {}
    for name, rid in re.findall(r'<sheet name="([^"]+)"[^>]*r:id="(\w+)"', workbook):
        found[name.replace("&amp;", "&").replace("&apos;", "'")] = "xl/" + targets[rid]
    return found


def typed(source: Path, target: Path, edits: Mapping[str, Mapping[str, object]]) -> Path:
    """A copy of `source` in which each sheet's cells ("S7") hold what is given: a number, a text, or None for an empty cell."""
    with zipfile.ZipFile(source) as package, zipfile.ZipFile(target, "w", zipfile.ZIP_DEFLATED) as out:
        parts = {part: edits[name] for name, part in parts_of(package).items() if name in edits}
        assert len(parts) == len(edits), f"no such sheet: {set(edits) - set(parts_of(package))}"
        for info in package.infolist():
            data = package.read(info.filename)
            for cell, value in parts.get(info.filename, {}).items():
                data = _put(data.decode(), cell, value).encode()
            out.writestr(info, data)
    return target


def _put(xml: str, cell: str, value: object) -> str:
    pattern = re.compile(rf'<c r="{cell}"((?: s="\d+")?)[^>]*?(?:/>|>.*?</c>)', re.S)
    found = pattern.search(xml)
    assert found, f"{cell} is not there"
    style = found[1]
    if value is None:
        new = f'<c r="{cell}"{style}/>'
    elif isinstance(value, str):
        new = f'<c r="{cell}"{style} t="inlineStr"><is><t xml:space="preserve">{escape(value)}</t></is></c>'
    else:
        new = f'<c r="{cell}"{style}><v>{value}</v></c>'
    return xml[: found.start()] + new + xml[found.end() :]


def without_row(source: Path, target: Path, sheet: str, row: int) -> Path:
    """A copy of `source` without the cells of one row of a sheet."""
    with zipfile.ZipFile(source) as package, zipfile.ZipFile(target, "w", zipfile.ZIP_DEFLATED) as out:
        part = parts_of(package)[sheet]
        for info in package.infolist():
            data = package.read(info.filename)
            if info.filename == part:
                data = re.sub(rf'<row r="{row}"[^>]*>.*?</row>', f'<row r="{row}"/>', data.decode(), flags=re.S).encode()
            out.writestr(info, data)
    return target
