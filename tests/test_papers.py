"""The PDF of papers, read back: what must stand on each, what must not, and what a firm's own templates may do to it."""

from __future__ import annotations

import json
import re
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

import pypdfium2
import pytest
from msgspec.structs import replace

import batch
from batch.cli import app as cli
from batch.drawings.single_circuit_drawing import single_plan
from batch.errors import InputFileError, OutputFileError, SpecificationError, TemplateError
from batch.findings import CATALOGUE, Harm
from batch.papers import AUDIENCES, paper_data, print_job, signs
from batch.papers.gathering import gather_papers
from batch.papers.paper_data import RECORDS, Label, as_json, printable
from batch.papers.paper_sets import type_serial
from batch.papers.shown import figure
from batch.papers.typesetting import our_templates, typeset
from batch.results import JobResult
from batch.schedules import rows
from batch.schedules.row_words import BAND, single_tag
from batch.schedules.wiring_list import direct_wiring
from batch.whole_file import checksum_of
from tests.job_builder import bank, feeder, size
from tests.job_builder import project as made_project
from tests.test_rows_not_sized import of_sheets

ROOT = Path(__file__).resolve().parents[1]
SMALL = ROOT / "sample_jobs" / "small-clean.xlsx"
HOLDS = ROOT / "sample_jobs" / "every-finding.xlsx"


class Read(NamedTuple):
    """A PDF read back: texts by page, and for each bookmark its level, words and page from 0."""

    pages: list[str]
    bookmarks: list[tuple[int, str, int]]

    def papers(self) -> Iterator[tuple[str, str]]:
        """Number and whole text of each paper: its sheets are those that bear its number in their title block."""
        texts: dict[str, list[str]] = {}
        for page in self.pages:
            texts.setdefault(drawing_number(page), []).append(page)
        for number, parts in texts.items():
            yield number, "\n".join(parts)

    def group(self, tens: str) -> str:
        return "\n".join(text for number, text in self.papers() if f"-{tens}-" in f"-{number}")


def label_of(labels: str, tag: str) -> str:
    """What the labels have from a tag's own label on; "" = it has none."""
    found = re.search(rf"^{re.escape(tag)} Type ", labels, re.M)
    return labels[found.start() :] if found else ""


def drawing_number(page: str) -> str:
    found = re.search(r"Drawing no\.\s+(.+?)\s*\n", page)
    assert found is not None, page[:400]
    return found[1].strip()


def read(path: Path) -> Read:
    pdf = pypdfium2.PdfDocument(path)
    try:
        pages = [page.get_textpage().get_text_bounded().replace("\r", "") for page in pdf]
        bookmarks = [(mark.level, mark.get_title(), mark.get_dest().get_index()) for mark in pdf.get_toc()]
    finally:
        pdf.close()
    return Read(pages, bookmarks)


def printed(result: JobResult, path: Path, audience: str = "all", templates: Path | None = None) -> Path:
    print_job(result, path, audience=audience, us=True, paper="letter", program="heaterbatch test", templates=templates)
    return path


@pytest.fixture(scope="module")
def small() -> JobResult:
    return batch.check(SMALL)


@pytest.fixture(scope="module")
def small_read(small: JobResult, tmp_path_factory: pytest.TempPathFactory) -> Read:
    return read(printed(small, tmp_path_factory.mktemp("papers") / "small.pdf"))


@pytest.fixture(scope="module")
def held() -> JobResult:
    return batch.check(HOLDS)


@pytest.fixture(scope="module")
def held_read(held: JobResult, tmp_path_factory: pytest.TempPathFactory) -> Read:
    return read(printed(held, tmp_path_factory.mktemp("papers") / "held.pdf"))


# --- what stands on them ----------------------------------------------------------------------------------------------------------


def test_every_panel_stands_on_every_paper_that_is_about_it(small: JobResult, small_read: Read) -> None:
    tags = [panel.tag for row in small.projects[0].banks for panel in row.panels]
    assert len(tags) > 4
    for group in ("10", "20", "30", "50", "60"):
        missing = [tag for tag in tags if tag not in small_read.group(group)]
        assert not missing, group
    for row in small.projects[0].feeders:
        assert f"Feeder {row.feeder.feeder}: one-line diagram" in small_read.group("10")


def test_designations_of_a_type_are_the_same_on_drawing_wiring_and_label(small: JobResult, small_read: Read) -> None:
    papers = dict(small_read.papers())
    for serial, kind in enumerate(small.projects[0].types, start=1):
        drawing, wiring = papers[f"PILOT-30-{serial:02d}"], papers[f"PILOT-50-{serial:02d}"]
        assert kind.type in drawing and kind.type in wiring
        poles = set(re.findall(r"\b(?:FU|CB)\d+[A-C]", wiring))
        assert poles and poles == set(re.findall(r"\b(?:FU|CB)\d+[A-C]", drawing)), kind.type
        for tag in kind.tags:
            label = label_of(small_read.group("60"), tag).split("Replace OCPDs by")[0]
            directory = dict(re.findall(r"\b((?:FU|CB)\d+) HTR(\d+)", label))
            assert set(directory) == {pole[:-1] for pole in poles}, tag
            offset = int(re.search(rf"^{re.escape(tag)} (\d+) HTR", wiring, re.M)[1])
            assert min(map(int, directory.values())) == offset + 1, tag


def test_wiring_of_a_type_counts_heaters_from_the_panel_s_first(small: JobResult, small_read: Read) -> None:
    """T-105/1-P2 begins at heater 7 of its bank: its type says HTR+1 to HTR+3, the table k = 6, the label HTR7 to HTR9."""
    tag = "T-105/1-P2"
    [serial] = [at for at, kind in enumerate(small.projects[0].types, start=1) if tag in kind.tags]
    wiring = dict(small_read.papers())[f"PILOT-50-{serial:02d}"]
    assert {int(number) for number in re.findall(r"HTR\+(\d+)\.", wiring)} == {1, 2, 3}
    assert f"{tag} 6 HTR7 to HTR9" in wiring
    assert re.search(r"CB1 HTR7, CB2 HTR8, CB3 HTR9", small_read.group("60"))


@pytest.fixture(scope="module")
def iec() -> JobResult:
    """Two tanks of metric heaters on 400 V with a neutral, one of them on one circuit."""
    on = feeder(volts_v=400.0, wires=4, fault_ka=10.0)
    banks = [bank(tank="B-1", quantity=5, power_kw=3.0, volts_v=400.0), bank(tank="B-2", quantity=1, power_kw=9.0, volts_v=400.0, phases=3)]
    return size([replace(one, connection=None) for one in banks], on, projects=made_project(code_basis="IEC 60364"))


def test_papers_of_an_iec_job_have_its_letters_words_and_symbols(iec: JobResult, tmp_path: Path) -> None:
    """Class letters of IEC 81346-2 on drawing, wiring, label, nameplate and record alike; no American letter and no American word."""
    print_job(iec, tmp_path / "iec.pdf", audience="all", us=False, paper="a4", program="", templates=None)
    found = read(tmp_path / "iec.pdf")
    for group in ("30", "50", "60", "70", "90"):
        text = found.group(group)
        assert text and not re.findall(r"\b(?:FU|CB|HTR|OTL|DISC|CON|TB|PFU|EGC)\d?\b|ground bar", text), group
    papers = gather_papers(iec, "all", False, "a4", "").papers.papers
    assert "IEC 60617" in found.group("30") and "-E+1" in found.group("30") and "PE bar" in found.group("30")
    assert "-F101.1 load side" in found.group("50") and "-F+201:1" in found.group("50") and "green-yellow" in found.group("50")
    assert re.search(r"-F101 -E1, -F102 -E2", found.group("60")) and "B-1/-Q1" in found.group("60")
    record = next(paper for paper in papers if paper.title == "B-1/1-P1: test record")
    assert record.tables[0].rows[0][:2] == ("-E1", "-F101") and record.tables[0].rows[0][-3:-1] == ("-F201", "-X3:2 and :3")
    assert "3/PE, 400/230 V, 50 Hz" in found.group("70")  # nothing hangs on the neutral, and none is pulled


def test_every_wire_of_a_single_circuit_bank_ends_at_two_drawn_terminals(small: JobResult) -> None:
    """Of those on its drawing; what lands on the limit strip and at the limits stands on the ladder."""
    [row] = [row for row in small.projects[0].banks if row.design.single_circuit is not None]
    design = row.design.single_circuit
    drawing = single_plan(design, "T-106/1 single circuit", small.projects[0].symbols)
    names = {symbol.of for symbol in drawing.symbols} | {words.text for words in drawing.words}
    count = 0
    for join in direct_wiring(design):
        if "TB3" in join.start + join.end:
            continue
        for end in (join.start, join.end):
            plain = re.sub(r" (load side|and terminal box)$", "", end)
            assert plain in names or plain.replace("contactor ", "") in names, end
        count += 1
    assert count == 7


def test_what_is_on_hold_is_banded_everywhere_and_has_no_label(held: JobResult, held_read: Read) -> None:
    labels = held_read.group("60")
    papers = dict(held_read.papers())
    count = 0
    for project in held.projects:
        for row in project.banks:
            for panel in row.panels:
                assert (label_of(labels, panel.tag) == "") is (row.hold is not None), panel.tag
        for kind in project.types:
            for group in ("30", "50"):
                text = papers[f"{project.project.project}-{group}-{type_serial(kind.type)}"]
                assert (BAND in text) is bool(kind.hold), (kind.type, group)
                assert ("FOR APPROVAL" in text) is not bool(kind.hold)
            count += bool(kind.hold)
    assert count > 5
    diagrams = [page for page in held_read.pages if drawing_number(page).startswith("FX-ELEC-10-")]
    banded = [page for page in diagrams if BAND in page]
    assert len(diagrams) > len(banded) > 3  # a feeder with nothing on hold has none
    assert all(("\nHOLD\n" in page) is (BAND in page) for page in diagrams)


def test_a_record_for_each_panel_and_single_circuit_bank_that_may_be_built(
    small: JobResult, held: JobResult, small_read: Read, held_read: Read
) -> None:
    for result, found in ((small, small_read), (held, held_read)):
        records = found.group("90")
        for project in result.projects:
            for row in project.banks:
                for tag in [panel.tag for panel in row.panels] or [single_tag(row)]:
                    assert (f"{tag}: test record" in records) is (row.hold is None), tag
    assert BAND not in held_read.group("90")


def record_of(result: JobResult, found: Read, tag: str) -> dict[str, dict[str, tuple[str, ...]]]:
    """Rows of a record's tables, by the first words of the table and of the row; each of their words stands on the printed sheet."""
    [paper] = [one for one in gather_papers(result, "all", True, "us-letter", "").papers.papers if one.title == f"{tag}: test record"]
    printed = " ".join(dict(found.papers())[paper.number].split())
    for one in paper.tables:
        for words in (cell for row in one.rows for cell in row):
            assert words in printed, words
    return {one.title.split()[0]: {row[0]: row[1:] for row in one.rows} for one in paper.tables}


def test_figures_of_a_record(small: JobResult, small_read: Read) -> None:
    """T-102/1-P1: six 3 kW, 480 V in delta. 76.80 ohm each; 20 ft of 12 AWG out and back, 1.98 ohm/kft cold: 2 x 1.98 x 0.838 x 0.020 =
    0.066. Joined a third of it; all on 21.65 A; with one of A-B out 16.54, 16.54, 21.65 A."""
    [row] = [row for row in small.projects[0].banks if row.bank.tank == "T-102"]
    assert row.design.run_m == pytest.approx(20 * 0.3048)
    record = record_of(small, small_read, "T-102/1-P1")
    assert record["1"]["HTR1"] == ("CB1", "73.21", "76.87", "85.40", "", "", "", "", "OTL1", "TB3:2 and :3", "")
    assert record["1"]["HTR6"][0] == "CB6"
    assert record["1"]["tank"] == ("", "", "", "", "–", "–", "–", "", "", "", "")  # room in the column to the ground bar alone
    assert record["2"]["L1-L2"] == ("24.40", "25.62", "28.47", "") and record["5"]["L3"] == ("19.49", "21.65", "22.73", "")
    assert record["6"]["CB1 or CB4 (L1-L2)"] == ("38.43", "28.82", "28.82", "16.54", "16.54", "21.65")
    assert record["4"]["LLC1, level cutoff"][0] == "HCP TB1:3 and :4"
    text = " ".join(small_read.group("90").split())
    assert "CONB, CON1 open, stay open until RESET" in text and "two leads of 0.066 ohm" in text and "L1 on A, L2 on B, L3 on C" in text


def test_a_record_writes_the_numbers_of_its_bank(small: JobResult, small_read: Read) -> None:
    """T-105/1-P2 begins at heater 7: its own CB1 feeds HTR7, whose limit is OTL7 on TB3:2 of the panel."""
    heaters = record_of(small, small_read, "T-105/1-P2")["1"]
    assert list(heaters) == ["HTR7", "HTR8", "HTR9", "tank"]
    assert heaters["HTR7"][0] == "CB1" and heaters["HTR7"][8:10] == ("OTL7", "TB3:2 and :3")
    single = record_of(small, small_read, "T-106/1 single circuit")
    assert single["1"]["HTR1"][0] == "FU1" and "line L1: fuse, contactor pole or wire" in single["6"]


def labels_of(result: JobResult, title: str) -> dict[str, Label]:
    gathered = gather_papers(result, "all", True, "us-letter", "").papers.papers
    return {label.tag: label for paper in gathered if paper.title == title for label in paper.labels}


def facts_of(label: Label) -> dict[str, str]:
    return dict(label.facts)


def test_a_nameplate_for_each_box_that_may_be_built(small: JobResult, held: JobResult, held_read: Read) -> None:
    for result in (small, held):
        plates = labels_of(result, "Nameplates")
        for project in result.projects:
            for control in project.controls:
                assert (control.tag in plates) is (control.hold is None), control.tag
            for row in project.banks:
                for panel in row.panels:
                    assert (panel.tag in plates) is (row.hold is None), panel.tag
    assert BAND not in held_read.group("70")


def test_a_nameplate_for_a_distribution_unit_of_ours() -> None:
    """Two tanks of six heaters, 43.301 A each: a way of 60 A for each, 108.253 A with 25 %, 110 A, a bus of 225 A."""
    banks = [bank(quantity=6), bank(tank="T-2", quantity=6)]
    for scope, given, there in (("ours", {}, True), (None, {}, False), ("ours", {"bus_a": 225.0}, False), ("ours", {"tap_m": 2.5}, False)):
        result = size(banks, [feeder(fault_ka=13.84, run_m=None, **given)], projects=made_project(distribution=scope))
        plates = labels_of(result, "Nameplates")
        assert ("F-1/DIST" in plates) is there
        if there:
            plate = facts_of(plates["F-1/DIST"])
            assert plate["Bus"].startswith("225 A, lugs 1 x 2 AWG a line") and plate["Main"] == "main lugs"
            assert plate["Directory"] == "F-1-W1 60 A: control panel of T-1; F-1-W2 60 A: control panel of T-2"
            assert plate["Short-circuit rating"].endswith("at least 13.9 kA needed") and "110 A class J" in plate["Fed from"]
            assert plate["Supply"] == "480Y/277 V, 3-phase, 3-wire, 60 Hz"
            assert plate["Fault current"].startswith("available fault current 13.9 kA")
            on_panel = facts_of(plates["T-1/HCP"])
            assert "fed from way F-1-W1, feeder F-1; " in on_panel["DISC1"]


def test_a_nameplate_says_what_of_its_supply_is_unknown() -> None:
    plates = labels_of(size(bank(quantity=6), feeder(system="unknown")), "Nameplates")
    assert facts_of(plates["T-1/1-P1"])["Supply"] == "480 V, 3-phase, system unknown, 3-wire, 60 Hz"


def test_nameplates_and_labels_of_a_tank_on_two_supplies() -> None:
    """Bank 1 of six 3 kW heaters on 480Y/277, whose neutral nobody needs, bank 2 of three on 480 V: the control panel has two disconnects,
    a full load of its own behind each (six in delta on 480 V draw 21.65 A, three 10.83), and is live from both; a panel names the one that
    kills it."""
    banks = [bank(quantity=6, power_kw=3.0), bank(bank="2", feeder="F-2", quantity=3, power_kw=3.0, branches_per_panel=3)]
    on = [feeder(wires=4, fault_ka=13.84, run_m=None), feeder(feeder="F-2", fault_ka=None)]
    result = size(banks, on, projects=made_project(smallest_device_a=15.0))
    plates, labels = labels_of(result, "Nameplates"), labels_of(result, "Control panel labels")
    plate = facts_of(plates["T-1/HCP"])
    assert plate["DISC1"].startswith("480Y/277 V, 3-phase, 3-wire, 60 Hz; full load 21.65 A; fed from feeder F-1; ")
    assert "full load 10.83 A; fed from feeder F-2; available fault current ____ kA, date ____" in plate["DISC2"]
    assert plate["Disconnects"] == "2 disconnects: open all" and plate["Heaters"] == "9 heaters, 27 kW; largest 3,000 W"
    needed = "at least 13.9 kA needed; fault current of feeder F-2 not given"
    assert plate["Short-circuit rating"] == f"SCCR ____ kA, builder to mark; {needed}"
    panel = facts_of(plates["T-1/1-P1"])
    assert panel["Full load"] == "21.65 A; fed from CON1 in T-1/HCP, by DISC1" and panel["Disconnect"] == "DISC1 in T-1/HCP"
    assert panel["Drawing"] == "P-1-30-01" and panel["Maker"].startswith("____")
    assert re.fullmatch(r"SCCR ____ kA, builder to mark; at least \d+\.\d kA needed", panel["Short-circuit rating"])
    warning = labels["T-1/HCP"].warning
    assert "Live in this box from T-1/DISC1 (in T-1/HCP, feeder F-1), T-1/DISC2 (in T-1/HCP, feeder F-2). Open and lock each" in warning
    directory = facts_of(labels["T-1/HCP"])["Directory"]
    assert "CON1: 1-P1" in directory and ("2-P1" in directory or "T-1/2 single circuit, 2-HTR1 to 2-HTR3" in directory)
    assert "FU1 1-HTR1, " in facts_of(labels_of(result, "Panel labels")["T-1/1-P1"])["Directory"]


def test_control_power_by_others_is_a_source_beside_the_disconnect() -> None:
    """Both live in the box: the label names both to be opened, and the nameplate counts no one disconnect as if it killed all."""
    result = size(bank(quantity=6), feeder(), projects=made_project(control_transformer="others"))
    warning = labels_of(result, "Control panel labels")["T-1/HCP"].warning
    assert "Live in this box from T-1/DISC1 (in T-1/HCP, feeder F-1), ____ (control power by others). Open and lock each" in warning
    plate = facts_of(labels_of(result, "Nameplates")["T-1/HCP"])
    assert plate["Disconnects"] == "1 disconnect and ____ of the control power (by others): open all"


def test_materials_on_hold_stand_apart(held: JobResult, held_read: Read) -> None:
    papers = {number: text for number, text in held_read.papers() if number.startswith("FX-ELEC-80-")}
    assert len(papers) == 2
    clear, apart = papers["FX-ELEC-80-01"], papers["FX-ELEC-80-02"]
    types = {kind.type: kind.hold for kind in held.projects[0].types}
    for kind, hold in types.items():
        assert (kind in apart) is bool(hold) and (kind in clear) is not bool(hold), kind
    assert BAND in apart and BAND not in clear


def test_transmittal_has_the_cautions_and_defers(held: JobResult, small: JobResult, held_read: Read, small_read: Read) -> None:
    for result, found in ((small, small_read), (held, held_read)):
        text = " ".join(found.group("00").split())
        for words, _ in result.cautions:
            assert " ".join(words.split())[:40] in text
        for words in ("authority having jurisdiction", "licensed engineer", "code in force"):
            assert words in text
    listed = rows(held, "findings")
    transmittal = " ".join(dict(held_read.papers())["FX-ELEC-00-01"].split())
    for row in listed:
        if row["severity"] == "hold" and row["project"] == "FX-ELEC":
            assert row["message"].split()[0] in transmittal and (row["tank"] or "") in transmittal


def test_no_note_stands_on_a_sheet_without_its_table(tmp_path: Path) -> None:
    """Five heaters from line to neutral by the IEC's rule set are as many rows as one sheet of a record takes; what stands on the door of a
    control panel with two banks comes to the foot of its sheet, and its note goes where it goes."""
    single = bank(quantity=5, power_kw=2.0, volts_v=230.0, connection=None)
    iec = size(single, feeder(volts_v=400.0, wires=4), projects=made_project(code_basis="IEC 60364"))
    print_job(iec, tmp_path / "iec.pdf", audience="all", us=False, paper="a4", program="heaterbatch test", templates=None)
    [record] = [text for number, text in read(tmp_path / "iec.pdf").papers() if "single circuit: test record" in text and "-90-0" in number]
    assert "Sheet 1 of 1" in record
    banks = [bank(power_kw=18.0, phases=3, quantity=3), bank(bank="2", quantity=6, power_kw=5.0, volts_v=277.0, connection=None)]
    two = printed(size(banks, feeder(wires=4)), tmp_path / "two.pdf")
    pages = [page for page in read(two).pages if "Words and colours: common practice" in page]
    assert len(pages) == 1 and "On the door" in pages[0]


def test_sheets_are_counted_and_bookmarked(small_read: Read, held_read: Read) -> None:
    for found in (small_read, held_read):
        total = len(found.pages)
        for at, page in enumerate(found.pages, start=1):
            assert f"page {at} of {total}" in page
        for number, text in found.papers():
            sheets = re.findall(r"Sheet (\d+) of (\d+)", text)
            assert [int(one) for one, _ in sheets] == list(range(1, len(sheets) + 1)), number
            assert {int(of) for _, of in sheets} == {len(sheets)}, number
        for _, words, page in found.bookmarks:
            if re.match(r".*-\d0-\d+ ", words):
                assert words.startswith(drawing_number(found.pages[page])), words
        marked = {words.split(" ")[0] for _, words, _ in found.bookmarks}
        assert {number for number, _ in found.papers()} <= marked
    assert max(level for level, _, _ in small_read.bookmarks) == 1
    assert max(level for level, _, _ in held_read.bookmarks) == 2  # several projects: one level more


def test_index_names_every_paper_with_its_page(small_read: Read) -> None:
    index = dict(small_read.papers())["PILOT-00-02"]
    for number, _ in small_read.papers():
        first = next(at for at, page in enumerate(small_read.pages, start=1) if drawing_number(page) == number)
        assert re.search(rf"{number} .*? {first}$", index, re.M), number


def test_the_name_of_a_group_stands_above_its_first_paper(small: JobResult) -> None:
    """However many papers come before it: never below all others of its column, its own papers beginning the next."""
    gathered = gather_papers(small, "all", True, "us-letter", "").papers
    [index] = [paper for paper in gathered.papers if paper.kind == "index"]
    more = [index._replace(group="50", kind="drawing", number=f"P-50-{at:02d}", title="Wires") for at in range(60)]
    [last] = [index._replace(group="70", kind="drawing", number="P-70-01", title="Plates")]
    parted = 0
    for count in range(44, 60):
        pdf = pypdfium2.PdfDocument(typeset(as_json(gathered._replace(papers=(index, *more[:count], last))).decode(), {}))
        page = pdf[0].get_textpage()
        (left, _, _, name), (at, _, _, first) = (place_of(page, words) for words in ("70  Nameplates", "P-70-01"))
        parted += at > 300
        assert abs(left - at) < 5 and 0 < name - first < 25, count
        pdf.close()
    assert 0 < parted < 16


def place_of(page: pypdfium2.PdfTextPage, words: str) -> tuple[float, float, float, float]:
    """Left, bottom, right and top of the first sign of words that stand on a page."""
    found = page.search(words).get_next()
    assert found is not None, words
    return page.get_charbox(found[0])


@pytest.mark.parametrize("audience", [name for name in AUDIENCES if name != "all"])
def test_each_audience_gets_its_groups_under_the_same_numbers(small: JobResult, small_read: Read, audience: str, tmp_path: Path) -> None:
    found = dict(read(printed(small, tmp_path / "some.pdf", audience)).papers())
    whole = dict(small_read.papers())
    own = {number for number in whole if number.split("-")[1] in AUDIENCES[audience]}
    if audience == "shop":  # of the records its own tests alone
        own = {number for number in own if "-90-" not in number or "-90-S" in number}
        assert any("-90-S" in number for number in own)
    assert set(found) == own
    titles = [re.search(r"Title\n(.+)", text)[1] for text in found.values()]
    assert titles == [re.search(r"Title\n(.+)", whole[number])[1] for number in found]


def test_customers_and_inspectors_get_no_findings_about_money(held: JobResult) -> None:
    """Of the sample with every finding; what can hurt somebody stands in every set."""
    told = {
        audience: next(one for one in gather_papers(held, audience, True, "us-letter", "").papers.papers if one.kind == "transmittal")
        for audience in AUDIENCES
    }
    harms = {
        audience: {row[1] for one in paper.tables if one.title.startswith("To be looked at") for row in one.rows}
        for audience, paper in told.items()
    }
    assert Harm.MONEY.word in harms["all"] and Harm.MONEY.word in harms["shop"]
    for audience in ("customer", "inspector"):
        assert harms[audience] == harms["all"] - {Harm.MONEY.word}


def test_the_transmittal_says_where_a_caution_is_and_what_was_taken(held: JobResult) -> None:
    """By itself, without the workbook: the tags of the first rows of each caution, how many more, and what blank cells were taken for."""
    paper = next(one for one in gather_papers(held, "all", True, "us-letter", "").papers.papers if one.kind == "transmittal")
    by_title = {one.title: list(one.rows) for one in paper.tables}
    looked = " ".join(row[2] for row in by_title["To be looked at before use"])
    assert "No low-level cutoff. E-NOCUT: The tank has no low-level cutoff." in looked
    assert re.search(r"And \d+ more, in Findings of the results workbook\.", looked)
    assert {"Defaults used", "System assumed"} <= {row[0] for row in by_title["Taken where the job says nothing"]}


def test_no_title_of_a_caution_stands_twice_on_the_transmittal(held: JobResult) -> None:
    """What is said once for a project begins with its title already; every other caution gets it ahead."""
    plain = [bank(tank=tag, quantity=8, power_kw=4.0) for tag in ("T-1", "T-2", "T-3")]
    for result in (held, size(plain, feeder())):
        first = [one for one in gather_papers(result, "all", True, "us-letter", "").papers.papers if one.kind == "transmittal"]
        told = [row[2] for paper in first for one in paper.tables if one.title == "To be looked at before use" for row in one.rows]
        titles = [kind.title for kind in CATALOGUE.values()]
        assert told and all(any(words.startswith(title) for title in titles) for words in told)
        assert not [words for words in told for title in titles if words.startswith(f"{title}. {title}")]


def test_the_index_says_what_changed(tmp_path: Path) -> None:
    """Against the revision before: the same job changes nothing, another revision changes what it touches and drops what is gone."""
    [a, b] = [batch.check(ROOT / "sample_jobs" / "revisions" / f"line-4-rev-{name}.xlsx") for name in "AB"]
    same = gather_papers(a, "all", True, "us-letter", "", earlier=a).papers.papers
    assert {paper.changed for paper in same} == {"as before"}
    after = gather_papers(b, "all", True, "us-letter", "", earlier=a).papers.papers
    assert {paper.changed for paper in after} == {"as before", "changed", "new"}
    before = {paper.title for paper in gather_papers(a, "all", True, "us-letter", "").papers.papers}
    assert {paper.title for paper in after if paper.changed == "new"} == {paper.title for paper in after} - before
    target = tmp_path / "B.pdf"
    names = [str(ROOT / "sample_jobs" / "revisions" / f"line-4-rev-{name}.xlsx") for name in "BA"]
    batch.print_papers(names[0], target, keep_from=names[1], audience="customer")
    index = next(text for number, text in read(target).papers() if number.endswith("00-02"))
    assert "Changed" in index and "as before" in index and re.search(r"\bnew\b", index)


def test_a_type_keeps_its_drawing_number() -> None:
    assert [type_serial(name) for name in ("Type 07", "Type 112", "Hold 03")] == ["07", "112", "H03"]


# --- same in, same out ------------------------------------------------------------------------------------------------------------


def test_same_job_same_bytes(small: JobResult, tmp_path: Path) -> None:
    one, other = printed(small, tmp_path / "one.pdf"), printed(batch.check(SMALL), tmp_path / "other.pdf")
    assert one.read_bytes() == other.read_bytes()


def test_si_units_on_request(small: JobResult) -> None:
    us, si = (as_json(gather_papers(small, "all", us, "a4", "").papers).decode() for us in (True, False))
    assert '"unit":"ft"' in us and '"unit":"ft"' not in si and '"unit":"m"' in si


def test_the_data_are_what_the_declaration_says(small: JobResult) -> None:
    """Every object of the JSON has the fields of one of the declared records; DEVELOPERS names each field."""
    declared = {frozenset(record._fields): record.__name__ for record in RECORDS}
    met = set()

    def look(thing: object) -> None:
        if isinstance(thing, dict):
            met.add(declared[frozenset(thing)])
            for value in thing.values():
                look(value)
        elif isinstance(thing, list):
            for value in thing:
                look(value)
        else:
            assert isinstance(thing, (str, int, float))

    look(json.loads(as_json(gather_papers(small, "all", True, "us-letter", "x").papers)))
    assert met == {record.__name__ for record in RECORDS}
    told = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8").split("## Papers and their templates")[1].split("\n## ")[0]
    for record in RECORDS:
        assert record.__doc__
        for name in record._fields:
            assert f"`{name}`" in told, (record.__name__, name)


def test_long_and_odd_words_keep_to_one_line() -> None:
    assert printable("T-1") == "T-1"
    assert printable("two\nlines\tand\x07") == "two lines and"
    long = printable("x" * 100)
    assert long.replace("\N{ZERO WIDTH SPACE}", "") == "x" * 100 and long.count("\N{ZERO WIDTH SPACE}") == 3


@pytest.mark.parametrize(
    ("value", "format", "words"),
    [(1234.5, "kw", "1,234.5"), (12.0, "kw", "12.0"), (4.1667, "kw", "4.167"), (3.8561, "kiloamps", "3.86"), (3.9, "kiloamps", "3.90"),
     (480.0, "volts", "480"),
     (0.2, "two_figures", "0.20"), (2.0, "percent_signed", "+2.0"), (133.506, "amps", "133.51"), (7.0, "count", "7")],
)  # fmt: skip
def test_figures_have_the_digits_of_their_format(value: float, format: str, words: str) -> None:
    """As a spreadsheet shows them by the same format; worked by hand."""
    assert figure(value, format) == words


# --- long names, and signs that the type lacks ------------------------------------------------------------------------------------

ODD = "渡辺電機 鍍金工場 Überölung Линия"


def renamed(small: JobResult, name: str, customer: str = "Somebody (invented)") -> JobResult:
    [one] = small.projects
    return replace(small, projects=(replace(one, project=replace(one.project, title=name, customer=customer)),))


def test_names_in_any_script_are_printed_or_said(small: JobResult, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Where no face has a sign its number stands in its place, the transmittal says so and the closing words too: never an empty box."""
    monkeypatch.setattr(signs, "MORE", ())
    target = tmp_path / "odd.pdf"
    said = print_job(renamed(small, ODD), target, audience="customer", us=True, paper="letter", program="", templates=None)
    text = read(target).pages[0]
    assert "[U+6E21]" in text and "Überölung Линия" in text and not re.search(r"[\u4e00-\u9fff]", text)
    assert said.lacks.startswith("the type lacks 8 signs of this job") and "the type lacks 8 signs" in " ".join(text.split())
    assert printed(small, target, "customer") and "the type lacks" not in read(target).pages[0]


@pytest.mark.skipif(not signs.more_faces(), reason="the extra cjk is not installed")
def test_names_in_chinese_signs_where_the_face_is_there(small: JobResult, tmp_path: Path) -> None:
    target = tmp_path / "odd.pdf"
    assert not print_job(renamed(small, ODD), target, audience="customer", us=True, paper="letter", program="", templates=None).lacks
    assert "渡辺電機 鍍金工場" in read(target).pages[0]


def test_a_name_too_long_for_its_place_ends_in_dots(small: JobResult, tmp_path: Path) -> None:
    """Its beginning stands, at a size that can be read, and no line of it is cut through; what fits at a smaller size is whole."""
    long = "Plating line " + "with a very long name " * 12
    target = tmp_path / "long.pdf"
    printed(renamed(small, long, "Plater of everything, " * 20), target, "customer")
    block = read(target).pages[1].split("Project\n")[1].split("\nTitle\n")[0]
    assert "Plating line with a very long name" in " ".join(block.split()) and block.count("…") == 2
    printed(renamed(small, long, "Plater of everything, " * 8), target, "customer")
    block = " ".join(read(target).pages[1].split("Project\n")[1].split("\nTitle\n")[0].split())
    assert block.count("Plater of everything") == 8 and block.count("…") == 1


# --- a firm's own templates -------------------------------------------------------------------------------------------------------


def test_a_firm_s_template_changes_the_papers(small: JobResult, tmp_path: Path) -> None:
    text = (our_templates() / "title_block.typ").read_text(encoding="utf-8")
    assert '"Drawing no."' in text
    (tmp_path / "title_block.typ").write_text(text.replace('"Drawing no."', '"Zeichnung"'), encoding="utf-8")
    before = checksum_of(tmp_path)
    found = read(printed(small, tmp_path / "firm.pdf", "customer", tmp_path))
    assert all("Zeichnung" in page and "Drawing no." not in page for page in found.pages)
    assert f"templates of {tmp_path.name}, checksum {before}" in " ".join(found.pages[0].split())


def test_papers_by_our_templates_name_none(small_read: Read) -> None:
    assert "Set by" not in small_read.pages[0] and "checksum" not in small_read.pages[0]


@pytest.mark.parametrize(
    ("name", "text", "line", "words"),
    [
        ("layouts.typ", '#import "style.typ": *\n#let transmittal = (\n', 2, "unclosed delimiter"),
        ("style.typ", "#let family = none\n\n#let hairline = nowhere\n", 3, "unknown variable: nowhere"),
        ("papers.typ", '#let data = json("/data.json")\n#data.papers.first().nought', 2, "nought"),
        ("papers.typ", '#let data = json("/somewhere.json")', 1, "somewhere.json"),
        ("papers.typ", "#let again() = again()\n#again()", 1, "depth exceeded"),
    ],
)
def test_a_broken_template_is_told_by_file_and_line(
    name: str, text: str, line: int, words: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / name).write_text(text, encoding="utf-8")
    target = tmp_path / "firm.pdf"
    assert cli.main(["papers", str(SMALL), "--templates", str(tmp_path), "-o", str(target)]) == 3
    [told] = [said for said in capsys.readouterr().err.splitlines() if said]
    assert f"{tmp_path / name}, line {line}, column " in told and words in told and "Traceback" not in told
    assert not target.exists() and not list(tmp_path.glob("~*"))


def test_templates_see_no_file_beside_the_data(small: JobResult, tmp_path: Path) -> None:
    (tmp_path / "secret.txt").write_text("secret")
    (tmp_path / "papers.typ").write_text(f'#read("{tmp_path / "secret.txt"}")')
    with pytest.raises(TemplateError, match=r"papers\.typ, line 1"):
        printed(small, tmp_path / "firm.pdf", "all", tmp_path)


def test_a_folder_without_templates_is_refused(small: JobResult, tmp_path: Path) -> None:
    with pytest.raises(InputFileError, match="no template in this folder"):
        printed(small, tmp_path / "firm.pdf", "all", tmp_path)
    with pytest.raises(InputFileError, match="no such folder"):
        printed(small, tmp_path / "firm.pdf", "all", tmp_path / "nowhere")


# --- the file ---------------------------------------------------------------------------------------------------------------------


def test_papers_replace_their_own_and_nothing_else(small: JobResult, held: JobResult, tmp_path: Path) -> None:
    path = printed(small, tmp_path / "there.pdf", "customer")
    first = path.read_bytes()
    assert printed(small, path, "inspector").read_bytes() != first  # its own are replaced
    with pytest.raises(OutputFileError, match="papers of small-clean, which is another job"):
        printed(held, path, "customer")
    kept = path.read_bytes()
    path.write_bytes(kept + b"\n% somebody's marks\n")
    part = print_job(small, path, audience="customer", us=True, paper="letter", program="", templates=None).part
    assert part.landed == tmp_path / "there (2).pdf" and part.why and path.read_bytes() == kept + b"\n% somebody's marks\n"
    foreign = tmp_path / "foreign.pdf"
    foreign.write_bytes(b"%PDF-1.4 somebody's own")
    part = print_job(small, foreign, audience="customer", us=True, paper="letter", program="", templates=None).part
    assert part.landed == tmp_path / "foreign (2).pdf" and foreign.read_bytes() == b"%PDF-1.4 somebody's own"


def test_the_verb_and_its_names(tmp_path: Path) -> None:
    job = tmp_path / "JOB.xlsx"
    job.write_bytes(SMALL.read_bytes())
    assert batch.papers_path("a/JOB sized (2).xlsx", "shop") == Path("a/JOB papers shop.pdf")
    result = batch.print_papers(job, audience="shop")
    assert result.written == str(tmp_path / "JOB papers shop.pdf") and "sheets" in result.about[0]
    assert job.read_bytes() == SMALL.read_bytes()
    with pytest.raises(SpecificationError, match="welder"):
        batch.print_papers(job, audience="welder")
    with pytest.raises(OutputFileError, match="this is an input"):
        batch.print_papers(job, job)


def test_the_command_line(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert cli.main(["papers", str(SMALL), "--for", "customer", "-o", str(tmp_path / "a.pdf")]) == 0
    assert f"written {tmp_path / 'a.pdf'}" in capsys.readouterr().out
    for wrong in (["-o", str(tmp_path / "a.xlsx")], ["-o", str(tmp_path / "nowhere") + "/"], ["--renamed", "A=B"]):
        assert cli.main(["papers", str(SMALL), *wrong]) == 2
    assert cli.main(["papers", str(tmp_path)]) == 2
    assert cli.main(["papers", str(SMALL), "-o", str(tmp_path / "nowhere" / "a.pdf")]) == 3
    broken = ROOT / "sample_jobs" / "broken"
    assert cli.main(["papers", str(broken / "truncated.xlsx"), "-o", str(tmp_path / "b.pdf")]) == 3
    assert not (tmp_path / "b.pdf").exists() and "Traceback" not in capsys.readouterr().err
    assert cli.main(["papers", str(broken / "empty-heater-list.xlsx"), "-o", str(tmp_path / "c.pdf")]) == 4
    assert [number for number, _ in read(tmp_path / "c.pdf").papers()] == ["00-01", "00-02"]  # what holds it, and nothing to build


def test_the_typesetter_is_loaded_by_this_command_alone() -> None:
    code = (
        "import sys; sys.path.insert(0, sys.argv[1]); import batch, batch.cli.app; batch.check(sys.argv[2]);"
        "assert not {'typst', 'batch.papers', 'PIL'} & set(sys.modules)"
    )
    subprocess.run([sys.executable, "-c", code, str(ROOT), str(SMALL)], check=True, cwd=ROOT)


def test_every_kind_of_paper_has_a_layout() -> None:
    text = (our_templates() / "papers.typ").read_text(encoding="utf-8")
    kinds = set(re.findall(r'"(\w+)"', paper_data.Paper.__doc__.split("kind ")[1].split("number ")[0]))
    assert kinds == set(re.findall(r"^  ([\w-]+): layouts\.", text, re.M))


def test_a_shop_finds_every_designation_of_a_control_panel_on_its_power_circuit_and_in_its_test(small: JobResult, small_read: Read) -> None:
    papers = dict(small_read.papers())
    for control in small.projects[0].controls:
        serial = control.type.rpartition(" ")[2]
        drawn, tested = papers[f"PILOT-30-C{serial}"], papers[f"PILOT-90-S{serial}"]
        for one in control.circuit.power:
            assert {one.mark, one.start, one.end} <= set(re.findall(r"[\w-]+", drawn)), (control.tag, one)
        for one in control.circuit.elements:
            if one.kind in ("fuse", "primary", "coil", "lamp", "button", "selector"):
                assert re.search(rf"\b{re.escape(one.mark)}\b", drawn), (control.tag, one.mark)
        for coil in control.coils:
            assert f"{coil.mark} held in by hand" in " ".join(tested.split()), (control.tag, coil.mark)


@pytest.mark.parametrize("audience", ["shop", "field", "customer"])
def test_what_is_not_sized_stands_on_the_first_paper_of_every_set(audience: str) -> None:
    """A row that could not be read names no project; the shop's set has no schedule that would tell of it."""
    made = of_sheets({
        "Projects": [["Project"], ["P-1"]],
        "Feeders": [["Project", "Feeder", "Volts", "Phases", "System"], ["P-1", "F-1", 480, 3, "wye grounded"]],
        "Heaters": [["Tank", "Feeder", "Quantity", "Power (kW)", "Volts", "Phases"], ["T-1", "F-1", 3, 6, 480, 3],
                    ["T-2", "F-1", 4, 9, "480/277", 3], ["T-3", "F-1", 2, "TBD", 480, 3], ["T-4", "F-9", 3, 6, 480, 3]],
    })  # fmt: skip
    paper = next(one for one in gather_papers(made, audience, True, "us-letter", "").papers.papers if one.kind == "transmittal")
    [table] = [one for one in paper.tables if one.title == "Not sized, in no total"]
    assert [(row[0], row[3]) for row in table.rows] == [("T-2", "36"), ("T-3", ""), ("T-4", "18")]
    assert all(row[4] and row[5] for row in table.rows)
    [fact] = [one for one in paper.facts if one.caption == "Not in it"]
    assert fact.words == "3 banks not sized, at least 54 kW by their rows: in no total, each below"


def test_no_schedule_shows_a_program_s_word_for_nothing(held_read: Read) -> None:
    """A feeder that cannot be used has no system: its cell is blank."""
    assert "None" not in held_read.group("20").split()
