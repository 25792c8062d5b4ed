"""The sheet of schematics: a drawing for each type, once, whole on its page, with ways there and back and words for who cannot see it."""

from __future__ import annotations

import re
import subprocess
import sys
import zipfile
from itertools import pairwise
from pathlib import Path
from xml.etree import ElementTree

import openpyxl
import pytest

from batch import report
from batch.drawings.drawing_list import DOTS_PER_INCH, WIDTH
from batch.drawings.schematic import alt_text
from batch.report.drawings_sheet import NAME
from tests.report_job import job_result
from tests.sample_results import FINDINGS, LOOKED_AT, SMALL, opened, sized

HEADING, DATA = 5, 6
LEGEND = "Legend of the symbols, "
NS = {
    "d": "http://schemas.openxmlformats.org/drawingml/2006/spreadsheetDrawing",
    "a": "http://schemas.openxmlformats.org/drawingml/2006/main",
    "r": "{http://schemas.openxmlformats.org/officeDocument/2006/relationships}",
}
EMU = 914_400  # to the inch (ECMA-376 part 1, 20.1.2.1)


def types_of(name: str) -> dict[tuple[str, str], object]:
    return {(one.project.project, kind.type): kind for one in sized(name).result.projects for kind in one.types}


def drawing_part(name: str) -> tuple[ElementTree.Element, dict[str, str], zipfile.ZipFile]:
    """The drawing of the sheet, its relations, and the package."""
    package = zipfile.ZipFile(sized(name).path)
    number = opened(name).sheetnames.index(NAME) + 1
    relations = package.read(f"xl/worksheets/_rels/sheet{number}.xml.rels").decode()
    part = re.search(r"drawings/(drawing\d+\.xml)", relations)[1]
    known = dict(re.findall(r'Id="(rId\d+)"[^>]*Target="([^"]+)"', package.read(f"xl/drawings/_rels/{part}.rels").decode()))
    return ElementTree.fromstring(package.read(f"xl/drawings/{part}")), known, package


@pytest.mark.parametrize("name", LOOKED_AT)
def test_every_type_has_its_drawing_with_words_and_none_is_stored_twice(name: str) -> None:
    root, relations, package = drawing_part(name)
    words = [anchor.find(".//d:cNvPr", NS).get("descr") for anchor in root]
    assert [one for one in words if not one.startswith(LEGEND)] == [alt_text(kind.design, kind.type) for kind in types_of(name).values()]
    legends = [one for one in words if one.startswith(LEGEND)]
    assert len(legends) == len({project for project, _ in types_of(name)}) and words[0] == legends[0]
    assert all("heating element" in one or "3-phase heater" in one for one in legends)
    assert len(set(relations.values())) == len(relations)
    media = [package.read(part) for part in package.namelist() if part.startswith("xl/media/")]
    assert len(set(media)) == len(media)
    assert all(picture.startswith(b"\x89PNG") for picture in media)


@pytest.mark.parametrize("name", LOOKED_AT)
def test_a_drawing_keeps_its_shape(name: str) -> None:
    root, relations, package = drawing_part(name)
    for anchor in root:
        size = anchor.find(".//a:ext[@cx]", NS)
        picture = package.read("xl/" + relations[anchor.find(".//a:blip", NS).get(NS["r"] + "embed")].removeprefix("../"))
        wide, high = (int.from_bytes(picture[at : at + 4], "big") for at in (16, 20))  # ISO/IEC 15948, 11.2.2: IHDR
        assert int(size.get("cx")) / int(size.get("cy")) == pytest.approx(wide / high, rel=2e-3)
        assert anchor.get("editAs") == "oneCell"


@pytest.mark.parametrize("name", LOOKED_AT)
def test_the_way_leads_from_the_type_to_its_drawing_and_back(name: str) -> None:
    book = opened(name)
    table, drawings = book["Panel types"], book[NAME]
    seen = 0
    for row in table.iter_rows(min_row=DATA):
        project, cell = str(row[0].value or ""), row[1]
        there = cell.hyperlink.location
        assert there.startswith(f"'{NAME}'!")
        head = drawings[there.rpartition("!")[2]]
        assert head.value.startswith(f"{cell.value}: {len(types_of(name)[project, cell.value].tags):,} panel")
        assert head.hyperlink.location == f"'Panel types'!{cell.coordinate}"
        seen += 1
    assert seen == len(types_of(name))


@pytest.mark.parametrize("name", LOOKED_AT)
def test_each_drawing_stands_whole_on_a_page(name: str) -> None:
    sheet = opened(name)[NAME]
    root, _, _ = drawing_part(name)
    scale = (sheet.page_setup.scale or 100) / 100
    assert not sheet.sheet_properties.pageSetUpPr or not sheet.sheet_properties.pageSetUpPr.fitToPage  # breaks would be left out
    breaks = [0, *(one.id for one in sheet.row_breaks.brk), 10**6]
    assert sheet.page_setup.orientation == "landscape"
    high, wide = (8.5 - 0.5 - 0.6) / scale, (11 - 0.8) / scale  # Letter less its margins, in inches before the scale
    plain = sheet.sheet_format.defaultRowHeight
    for first, last in pairwise(breaks):
        held = [anchor for anchor in root if first <= int(anchor.find("d:from/d:row", NS).text) < last]
        for anchor in held:
            top = sum(sheet.row_dimensions[at + 1].height or plain for at in range(first, int(anchor.find("d:from/d:row", NS).text))) / 72
            assert top + int(anchor.find(".//a:ext[@cx]", NS).get("cy")) / EMU <= high
            ends = anchor.find("d:to/d:col", NS).text
            over = anchor.find(".//d:cNvPr", NS).get("descr").startswith(LEGEND)  # a legend stands over both columns
            assert ends == "2" if over else ends == anchor.find("d:from/d:col", NS).text  # stays in its own column
    assert 1.1 * sum(sheet.column_dimensions[letter].width * 7 for letter in "ABC") / 96 <= wide  # on a machine whose font is a tenth wider


@pytest.mark.parametrize("name", LOOKED_AT)
def test_a_drawing_can_be_read_on_paper(name: str) -> None:
    """Not smaller than six tenths of what it was drawn at: its least words are 6.8 points high."""
    root, _, _ = drawing_part(name)
    scale = (opened(name)[NAME].page_setup.scale or 100) / 100
    wide = [int(anchor.find(".//a:ext[@cx]", NS).get("cx")) / EMU for anchor in root]
    assert min(wide) * scale / (WIDTH / DOTS_PER_INCH) >= 0.6
    assert sorted(wide)[len(wide) // 2] * scale / (WIDTH / DOTS_PER_INCH) >= 0.85


def test_projects_begin_on_a_page_of_their_own() -> None:
    sheet = opened(FINDINGS)[NAME]
    starts = [row[0].row for row in sheet.iter_rows(min_row=1, max_col=1) if str(row[0].value or "").startswith("Project ")]
    assert len(starts) == sum(bool(one.types) for one in sized(FINDINGS).result.projects)
    assert {at - 1 for at in starts[1:]} <= {one.id for one in sheet.row_breaks.brk}


def test_same_types_same_bytes(tmp_path) -> None:
    result = job_result(6, 2)
    for name in ("one", "two"):
        (tmp_path / name).mkdir()
        report.write(result, tmp_path / name / "same.xlsx")
    assert (tmp_path / "one" / "same.xlsx").read_bytes() == (tmp_path / "two" / "same.xlsx").read_bytes()
    assert NAME in openpyxl.load_workbook(tmp_path / "one" / "same.xlsx").sheetnames


def test_nothing_that_draws_is_loaded_for_a_job_with_nothing_to_draw() -> None:
    """A feeder without heaters has neither panels nor a diagram; three heaters in delta, a single circuit, have a diagram alone."""
    code = """
import sys, tempfile
from msgspec.structs import replace
from pathlib import Path
from batch import report
from batch.sizing.project import size_job
from tests.report_job import job_result
job = job_result(1, 1).job
for banks in ((), tuple(replace(bank, quantity=3) for bank in job.banks)):
    result = size_job(replace(job, banks=banks))
    with tempfile.TemporaryDirectory() as folder:
        report.write(result, Path(folder) / "x.xlsx")
    drawing = {name.partition(".")[0] for name in sys.modules if name.startswith(("PIL", "batch.drawings"))}
    print(len(result.projects[0].types), sum(len(one.ways) for row in result.projects[0].feeders if (one := row.end)), *sorted(drawing))
"""
    here = Path(__file__).parents[1]
    said = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True, cwd=here).stdout
    assert said.splitlines() == ["0 0", "0 1 PIL batch"]


def test_the_drawings_stand_behind_the_types() -> None:
    names = opened(SMALL).sheetnames
    assert names.index(NAME) == names.index("Panel types") + 1
