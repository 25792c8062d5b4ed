"""Workbooks for what the big sample of findings cannot show, since it takes a workbook of its own; and files that are no workbooks."""

from __future__ import annotations

import zipfile
from pathlib import Path
from typing import NamedTuple
from xml.sax.saxutils import escape

from tests.samples import book, small
from tests.samples.book import Extra

STORY = ("Broken on purpose, to see what the program says of it.",)
GOOD = ("Tank", "Quantity", "Power (kW)", "Volts (V)", "Phases (ph)")
ROWS = (("T-101", 3, 6, 480, 1), ("T-102", 3, 9, 480, 3))


class Broken(NamedTuple):
    """One file: what it shows (finding codes; none where the whole file is refused), and the sheets it is made of."""

    name: str
    shows: tuple[str, ...]
    extras: tuple[Extra, ...]


BOOKS = (
    Broken("no-heater-list.xlsx", ("sheet-heaters-missing", "sheet-not-recognised"), (Extra("Prices", (("Part", "Price"), ("fuse", 2))),)),
    Broken("empty-heater-list.xlsx", ("sheet-no-heaters",), (Extra("Heaters", (GOOD,)),)),
    Broken("unnamed-list.xlsx", ("sheet-taken", "sheet-missing", "project-implicit", "feeders-assumed"), (Extra("Sheet1", (GOOD, *ROWS)),)),
    Broken("no-headings.xlsx", ("sheet-heaters-missing", "list-not-read"), (Extra("Heaters", ROWS),)),
    Broken("misspelt-heading.xlsx", ("heading-missing", "heading-near"), (Extra("Heaters", (("Tank", "Quantitty", *GOOD[2:]), *ROWS)),)),
    Broken("headings-change.xlsx", ("headings-change",), (
        Extra("Heaters", (GOOD, *ROWS, ("Feeder", "Volts (V)", "Phases (ph)"), ("F-1", 480, 3))),
    )),
    Broken("tables-below-and-beside.xlsx", ("tables-side-by-side", "headings-anew"), (
        Extra("Heaters", (
            (*GOOD, None, *GOOD), *((*row, None, f"{row[0]}-B", *row[1:]) for row in ROWS), (),
            ("Tank", "Volts (V)", "Power (kW)", "Quantity", "Phases (ph)"), ("T-103", 480, 6, 3, 1),
        )),
    )),
    Broken("item-numbers.xlsx", ("quantity-numbered",), (
        Extra("Heaters", (("Tank", "Heaters", *GOOD[2:]), *((f"T-10{at}", at, 6, 480, 1) for at in (1, 2, 3)))),
    )),
    Broken("two-headings.xlsx", ("heading-passed-over",), (
        Extra("Heaters", (("Tank", "Tag", *GOOD[1:]), *((row[0], f"{row[0]}-H", *row[1:]) for row in ROWS))),
    )),
)
STOCK = {  # a job with a stock list that lacks something
    "projects": [{"project": "FX-STOCK"}, {"project": "FX-METAL", "conductor": "aluminum", "device_kind": "breaker"}],
    "feeders": [{"project": "FX-STOCK", "feeder": "F1", "volts_v": 480, "phases": 3, "system": "wye grounded", "fault_ka": 30,
                 "run_m": 10},
                {"project": "FX-METAL", "feeder": "F1", "volts_v": 480, "phases": 3, "system": "wye grounded", "fault_ka": 4, "run_m": 10}],
    "heaters": [{"project": "FX-STOCK", "tank": "T-101", "feeder": "F1", "quantity": 6, "power_kw": 6, "volts_v": 480, "phases": 1,
                 "heater_run_m": 20, "panel_feeder_run_m": 10, "over_temperature_limit": "yes"},
                {"project": "FX-STOCK", "tank": "T-102", "feeder": "F1", "quantity": 3, "power_kw": 9, "volts_v": 480, "phases": 1,
                 "heater_part": "heater, 6 kW", "heater_run_m": 20, "panel_feeder_run_m": 10, "over_temperature_limit": "yes"},
                {"project": "FX-STOCK", "tank": "T-103", "feeder": "F1", "quantity": 2, "power_kw": 7, "volts_v": 480, "phases": 1,
                 "heater_run_m": 20, "panel_feeder_run_m": 10, "over_temperature_limit": "yes"},
                {"project": "FX-METAL", "tank": "T-201", "feeder": "F1", "quantity": 6, "power_kw": 6, "volts_v": 480, "phases": 1,
                 "heater_run_m": 20, "panel_feeder_run_m": 10, "over_temperature_limit": "yes"}],
    "stock": [
        {"part": "heater, 6 kW", "kind": "heater", "power_kw": 6, "volts_v": 480, "phases": 1, "sheath": "titanium",
         "labour_h": 0.8},
        {"part": "heater, 6 kW of steel", "kind": "heater", "power_kw": 6, "volts_v": 480, "phases": 1, "sheath": "steel"},
        {"part": "block, 175 A", "kind": "power distribution block", "rating_a": 175,
         "poles": 3, "volts_v": 600, "sccr_ka": 5, "terminals_for": "copper", "torque_nm": 30,
         "unit_price": 40},
        {"part": "fuse, 20 A", "kind": "fuse", "rating_a": 20, "volts_v": 600, "sccr_ka": 200},
        {"part": "fuse, 20 A", "kind": "fuse", "rating_a": 20, "volts_v": 600, "sccr_ka": 200},
        {"part": "fuse, 70 A", "kind": "fuse", "rating_a": 70, "volts_v": 600, "sccr_ka": 200},
        {"part": "breaker, 20 A", "kind": "breaker", "rating_a": 20, "poles": 2, "volts_v": 480, "sccr_ka": 25, "smallest_wire": "8",
         "largest_wire": "1/0"},
        {"part": "contactor, 20 A", "kind": "contactor", "rating_a": 20, "poles": 3, "volts_v": 600},
        {"part": "wire, 12 AWG", "kind": "wire", "unit_price": 0.4},
        {"part": "contactor, 30 A", "kind": "contactor", "rating_a": 30, "poles": 3, "volts_v": 600, "sccr_ka": 5, "watts_lost_w": 3},
    ],
}
STOCK_HEADINGS = {"stock": {"torque_nm": "Torque", "watts_lost_w": "Watts lost (elbows)"}}
STOCK_SHOWS = ("part-repeated", "unit-unknown-heading", "unit-assumed", "stock-none-serves", "stock-rating-larger", "fault-over-rating",
               "price-missing", "length-price-unused", "heater-part-several", "heater-part-none", "heater-part-differs",
               "shop-hours-on-site", "copper-terminals", "terminal-range-stock")


ODS_TYPE = "application/vnd.oasis.opendocument.spreadsheet"
NAMESPACE = "urn:oasis:names:tc:opendocument:xmlns"


def open_document(path: Path, sheets: dict[str, tuple[tuple[object, ...], ...]]) -> None:
    """A bare OpenDocument spreadsheet (ISO/IEC 26300), always the same bytes."""
    tables = "".join(
        f'<table:table table:name="{escape(name)}">'
        + "".join(f"<table:table-row>{''.join(map(_ods_cell, row))}</table:table-row>" for row in rows)
        + "</table:table>"
        for name, rows in sheets.items()
    )
    content = (
        f'<?xml version="1.0" encoding="UTF-8"?><office:document-content xmlns:office="{NAMESPACE}:office:1.0" '
        f'xmlns:table="{NAMESPACE}:table:1.0" xmlns:text="{NAMESPACE}:text:1.0" office:version="1.2">'
        f"<office:body><office:spreadsheet>{tables}</office:spreadsheet></office:body></office:document-content>"
    )
    manifest = (
        f'<?xml version="1.0" encoding="UTF-8"?><manifest:manifest xmlns:manifest="{NAMESPACE}:manifest:1.0" manifest:version="1.2">'
        f'<manifest:file-entry manifest:full-path="/" manifest:media-type="{ODS_TYPE}"/>'
        '<manifest:file-entry manifest:full-path="content.xml" manifest:media-type="text/xml"/></manifest:manifest>'
    )
    with zipfile.ZipFile(path, "w") as package:
        for name, text in (("mimetype", ODS_TYPE), ("content.xml", content), ("META-INF/manifest.xml", manifest)):
            package.writestr(zipfile.ZipInfo(name, (1980, 1, 1, 0, 0, 0)), text)


def _ods_cell(value: object) -> str:
    if isinstance(value, int | float):
        return f'<table:table-cell office:value-type="float" office:value="{value}"><text:p>{value}</text:p></table:table-cell>'
    return f'<table:table-cell office:value-type="string"><text:p>{escape(str(value))}</text:p></table:table-cell>'


def make(folder: Path) -> list[Path]:
    """Writes every broken file into `folder`; returns the files."""
    folder.mkdir(parents=True, exist_ok=True)
    for broken in BOOKS:
        book.write(folder / broken.name, f"Broken on purpose: {broken.name}", STORY, {}, extras=broken.extras)
    book.write(folder / "stock-list.xlsx", "Broken on purpose: a stock list that lacks something", STORY, STOCK, headings=STOCK_HEADINGS)
    macros = folder / "macro.tmp"
    macros.write_bytes(b"This is no macro. It stands where a macro would, in a sample that is broken on purpose.")
    book.write(folder / "macros.xlsm", "Broken on purpose: a macro part", STORY, small.tables(), macros=macros)
    macros.unlink()
    stray = (*((*row, *[None] * (16383 - len(row))) for row in (GOOD, *ROWS)), *[()] * 1048572, (*[None] * 16383, "stray"))
    book.write(folder / "stray-cell.xlsx", "Broken on purpose: a cell at the far corner", STORY, {}, extras=(Extra("Heaters", stray),))
    about = tuple((line,) for line in ("Broken on purpose: another kind of workbook", book.LABEL, *book.LEGEND, *STORY))
    open_document(folder / "half-seen.ods", {"About this sample": about, "Heaters": (GOOD, *ROWS)})
    whole = (folder / "headings-change.xlsx").read_bytes()
    for name, content in {
        "truncated.xlsx": whole[: len(whole) // 2],
        "empty.xlsx": b"",
        "text.xlsx": b"Tank,Quantity,Power,Volts,Phases\nT-101,3,6,480,1\n",
        "locked.xlsx": bytes.fromhex("d0cf11e0a1b11ae1") + bytes(1016),  # how a workbook with a password begins
    }.items():
        (folder / name).write_bytes(content)
    return sorted(folder.iterdir())


OWN = {
    **{broken.name: broken.shows for broken in BOOKS},
    "half-seen.ods": ("workbook-half-seen",),
    "macros.xlsm": ("workbook-macros",),
    "stock-list.xlsx": STOCK_SHOWS,
    "stray-cell.xlsx": ("sheet-stray-cell", "sheet-other-reader"),
}
REFUSED = ("truncated.xlsx", "empty.xlsx", "text.xlsx", "locked.xlsx")  # no workbook at all: exit code 3
