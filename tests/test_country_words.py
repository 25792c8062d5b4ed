"""The words of a code's country: what the program says of an IEC job, what people named in it, and the way back of its results."""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path

import openpyxl
import pytest
from hypothesis import given
from hypothesis import strategies as st

import batch
from batch import report
from batch.drawings import schematic
from batch.errors import CannotFill
from batch.findings import CATALOGUE
from batch.intake.headings import Matcher
from batch.papers.gathering import gather_papers
from batch.papers.paper_data import Paper
from batch.price.questions import ask
from batch.results import JobResult
from batch.rules import Wording, available, load
from batch.schedules import RESULTS, rows
from batch.schedules.country_words import as_written, in_words
from batch.schedules.designations import lettered, of_iec
from batch.sheets import FILLED, FILLED_TITLES, INPUTS
from batch.sizing.project import size_job
from tests.job_builder import bank, feeder, job, project, tank
from tests.samples import book, plant_iec, small

IEC = load("IEC 60364").wording
OF_ANOTHER_COUNTRY = re.compile(
    r"\b(OCPDs?|EGC|SCCR|wyes?|grounded|grounding|ungrounded|aluminum|gray|raceways?|panelboard|slash-rated|straight-rated|AWG|kcmil|ampacity"
    r"|molded-case|HTR\+?\d|DISC\d|FU\d|CB\d|TB3)\b|°F|\bgal\b"
)


def iec_job(**named: str):
    return job(
        bank(volts_v=400.0, phases=1, connection=None, quantity=9, heater_run_m=10.0, panel_feeder_run_m=10.0, **named),
        feeder(volts_v=400.0, run_m=20.0), [tank()], project(code_basis="IEC 60364", customer="Gray & Ground Plating (invented)"),
    )  # fmt: skip


@cache
def result() -> JobResult:
    return size_job(iec_job(notes="keep the wye as it is"))


def texts(path: Path) -> list[tuple[str, str]]:
    opened = openpyxl.load_workbook(path, read_only=True)
    return [
        (sheet.title, value) for sheet in opened.worksheets if not sheet.title.startswith(("As received", "Sized data", "Code basis"))
        for row in sheet.iter_rows(values_only=True) for value in row if isinstance(value, str) and not value.startswith("=")
    ]  # fmt: skip


def test_a_workbook_of_iec_jobs_speaks_iec(tmp_path: Path) -> None:
    report.write(result(), tmp_path / "iec.xlsx", paper="a4")
    codes = set(CATALOGUE)
    found = [
        (sheet, text) for sheet, text in texts(tmp_path / "iec.xlsx")
        if OF_ANOTHER_COUNTRY.search(text) and not set(re.split(r"[,: ]+", text)) & codes and text != "keep the wye as it is"
    ]  # fmt: skip
    assert not found[:5]
    said = {text for _, text in texts(tmp_path / "iec.xlsx")}
    assert "keep the wye as it is" in said and any("Gray & Ground Plating (invented)" in text for text in said)
    assert any(text.startswith("Branch protective device") for text in said) and "PE" in said


def test_a_drawing_of_an_iec_job_speaks_iec() -> None:
    one = result().projects[0]
    drawing = schematic.plan(one.types[0].design, one.types[0].type, False, one.symbols, one.wording)
    words = " ".join(said.text for said in drawing.words)
    assert not OF_ANOTHER_COUNTRY.search(words) and "-E+1" in words and "PE " in words and drawing.standard == "IEC 60617"


def test_the_other_code_keeps_its_words(tmp_path: Path) -> None:
    report.write(size_job(job(bank(), feeder(), [tank()], project())), tmp_path / "nec.xlsx")
    said = {text for _, text in texts(tmp_path / "nec.xlsx")}
    assert any("OCPD" in text for text in said) and "EGC" in said


def test_projects_of_two_countries_speak_each_its_own(tmp_path: Path) -> None:
    """Rows are in the words of their project; headings, which both share, in those of either."""
    made = job(
        [bank(project="A", connection="wye", volts_v=277.0), bank(project="B", connection="wye", volts_v=230.0)],
        [feeder(project="A", wires=4), feeder(project="B", volts_v=400.0, wires=4)],
        projects=[project(project="A"), project(project="B", code_basis="IEC 60364")],
    )
    report.write(size_job(made), tmp_path / "both.xlsx")
    banks = openpyxl.load_workbook(tmp_path / "both.xlsx")["Banks"]
    heads = {str(cell.value): cell.column for row in banks.iter_rows(max_row=8) for cell in row if cell.value}
    assert "Branch OCPD / Branch protective device (A)" in heads
    shown = {banks.cell(row, heads["Project"]).value: str(banks.cell(row, heads["Connection"]).value) for row in range(5, 9)}
    assert shown["A"].startswith("wye") and shown["B"].startswith("star")


def test_results_in_other_words_are_read_again_without_an_edit(tmp_path: Path) -> None:
    """What the program wrote is no edit; what a person types is, under the heading that it stands under there."""
    source, edited = tmp_path / "sized.xlsx", tmp_path / "edited.xlsx"
    book.write(tmp_path / "job.xlsx", small.TITLE, small.STORY, plant_iec.in_iec_country(small.tables()), us=False)
    batch.size(tmp_path / "job.xlsx", source)
    assert not [one for one in batch.check(source).findings if one.code.startswith("edit")]
    results = openpyxl.load_workbook(source)
    sheet, heading = results["Banks"], "Branch protective device (A)"
    head, at = next((cell.row, cell.column) for row in sheet.iter_rows(max_row=8) for cell in row if cell.value == heading)
    sheet.cell(head + 1, at).value = 63
    results.save(edited)
    again = batch.check(edited)
    assert "edit-taken" in {one.code for one in again.findings} and again.projects[0].banks[0].bank.fixed_rating_a == 63


@given(st.sampled_from([text for kind in CATALOGUE.values() for text in (kind.title, kind.advice, kind.template)]))
def test_what_is_said_twice_is_said_once(text: str) -> None:
    assert IEC.of(IEC.of(text)) == IEC.of(text)


def test_headings_stay_apart_and_lead_back() -> None:
    for sheet in RESULTS:
        spoken = in_words(sheet, IEC)
        assert [column.key for column in spoken.columns] == [column.key for column in sheet.columns]
        for ours, theirs in zip(sheet.columns, spoken.columns, strict=True):
            assert ours.heading == theirs.heading or ours.heading in theirs.also


@pytest.mark.parametrize(
    ("ours", "theirs"),
    [("OCPD used", "Protective device used"), ("Panel feeder OCPD (A)", "Panel feeder protective device (A)"),
     ("wye to neutral", "star to neutral"), ("Aluminum: terminals", "Aluminium: terminals"),
     ("90.6 °C (195 °F)", "90.6 °C"), ("195 °F (90.6 °C)", "90.6 °C"), ("15 to 20 W/in² (2.3 to 3.1 W/cm²)", "2.3 to 3.1 W/cm²"),
     ("background", "background"),
     ("ground-detectors", "ground-detectors"), ("duct in the ground", "duct in the ground"), ("Disconnect", "Switch-disconnector"),
     ("whether each circuit disconnects", "whether each circuit disconnects"), ("Interrupting rating", "Breaking capacity"),
     ("Ground fault current", "Earth fault current"), ("an earth fault at its end", "an earth fault at its end"),
     ("Available fault current (kA)", "Prospective short-circuit current (kA)"), ("SCCR ____ kA, builder to mark",
      "Rated short-circuit current (Icc or Icw) ____ kA, builder to mark"), ("perforated tray or ladder", "perforated tray or ladder"),
     ("at its source, 25.3 kA: disconnect; at its control panels, up to 15.2 kA: contactor, disconnect, fuse holder",
      "at its source, 25.3 kA: switch-disconnector; at its control panels, up to 15.2 kA: contactor, switch-disconnector, fuse holder"),
     ("Isolate, disconnect and lock", "Isolate, disconnect and lock")],
)  # fmt: skip
def test_words(ours: str, theirs: str) -> None:
    assert IEC.of(ours) == theirs


def test_a_column_of_lines_is_none_of_phases() -> None:
    """Where supply lines are named the heading says lines; how many phases there are stays a number of phases."""
    pairs = [(sheet.id, zip(sheet.columns, in_words(sheet, IEC).columns, strict=True)) for sheet in RESULTS]
    found = {(id, one.unit, said.heading) for id, columns in pairs for one, said in columns if one.heading == "Phases"}
    assert found == {("banks", "", "Lines"), ("circuits", "", "Lines"), ("feeder_totals", "ph", "Phases")}
    assert IEC.heading("Phases", "ph") == "Phases" and IEC.heading("Phases") == "Lines"


def test_a_job_may_be_headed_in_iec_words() -> None:
    """What results and findings call a column is read under that name too; "Lines" of a list are which, not how many."""
    for sheet in INPUTS:
        for column in sheet.columns:
            theirs = IEC.of(column.heading)
            found = Matcher(sheet).match(theirs)
            assert column.key == "phases" or (found is not None and found.key == column.key), (sheet.id, column.heading, theirs)


def test_what_may_be_typed_is_named_by_the_headings_that_stand_there(tmp_path: Path) -> None:
    report.write(result(), tmp_path / "iec.xlsx", paper="a4")
    [said] = [text for _, text in texts(tmp_path / "iec.xlsx") if text.startswith("What is typed there is taken")]
    assert "Power each, Lines, Connection" in said and "Phases, Wires" in said


def test_names_are_kept() -> None:
    kept = IEC.keeping(["Gray Street", None, "T-1"])
    assert kept.of("Gray Street: a gray wire") == "Gray Street: a grey wire" and not IEC.keeping([None]).kept
    assert not Wording({}, False) and Wording({}, False).of("wye (195 °F)") == "wye (195 °F)"


def test_class_letters() -> None:
    """IEC 81346-2: F protects, E heats, Q switches, X connects; numbered as in the control circuit."""
    assert [of_iec(one) for one in ("FU3A line side", "CB12", "HTR+2.1", "HTR1 to HTR6", "T-1/DISC2", "TB3:4", "WP2", "AFU3", "CBX")] == [
        "-F103.1 line side", "-F112", "-E+2.1", "-E1 to -E6", "T-1/-Q2", "-X3:4", "-X10", "AFU3", "CBX",
    ]  # fmt: skip


def test_papers_of_an_iec_job_speak_iec() -> None:
    gathered = gather_papers(result(), "all", False, "a4", "program")
    said = [text for paper in gathered.papers.papers for text in read_on(paper)]
    found = [text for text in said if OF_ANOTHER_COUNTRY.search(text) and text != "keep the wye as it is"]
    assert not found[:5] and any("-E+1" in text for text in said) and any("green-yellow" in text for text in said)


def read_on(paper: Paper) -> list[str]:
    facts = [text for one in paper.facts for text in one]
    cells = [text for one in paper.tables for row in one.rows for text in row]
    tables = [text for one in paper.tables for text in (one.title, one.note, *(head.words for head in one.headings))]
    labels = [text for one in paper.labels for text in (one.title, one.warning, *(t for fact in one.facts for t in fact))]
    return [paper.title, paper.band, *facts, *cells, *tables, *labels, *paper.notes]


def test_letters_that_people_used_are_left_alone() -> None:
    """A tank called CB1 stays CB1, and so does every designation beside it."""
    assert lettered("CB2 of tank CB1", IEC.keeping(["CB1"])) == "CB2 of tank CB1" and lettered("CB2", IEC) == "-F102"


@pytest.mark.parametrize(
    ("ours", "theirs"),
    [("A-B", "L1-L2"), ("C-A", "L3-L1"), ("A-B-C-N", "L1-L2-L3-N"), ("A-N, B-N", "L1-N, L2-N"), ("lines A, B and C", "lines L1, L2 and L3"),
     ("Amps of feeder F1, line B = amps", "Amps of feeder F1, line L2 = amps"), ("I C", "I L3"), ("I B (A)", "I L2 (A)"),
     ("C 25 A breaker", "C 25 A circuit-breaker"), ("types B, C and D", "types B, C and D"), ("A-BC", "A-BC"),
     ("L1 on B, L2 on C", "L1 on L2, L2 on L3"),
     ("L1-L2", "L1-L2"), ("an RCD of type A", "an RCD of type A")],
)  # fmt: skip
def test_lines_are_numbered_as_iec_60445_has_them(ours: str, theirs: str) -> None:
    assert IEC.of(ours) == theirs and IEC.of(theirs) == theirs
    assert load("NEC 2023").wording.of(ours) == ours


def test_lines_of_an_iec_workbook(tmp_path: Path) -> None:
    """L1, L2, L3 wherever lines are named, but in what people typed; read again with its choices and without an edit."""
    report.write(result(), tmp_path / "iec.xlsx", paper="a4")
    ours = re.compile(r"(?<![\w-])[ABC]-[ABCN](?![\w-])|\b[Ll]ines? [ABC]\b|^I [ABC]\b")
    assert not [(sheet, text) for sheet, text in texts(tmp_path / "iec.xlsx") if ours.search(text)][:5]
    banks = openpyxl.load_workbook(tmp_path / "iec.xlsx")["Circuits"]
    assert any("L1-L2" in str(cell.value) for row in banks.iter_rows() for cell in row)


def test_nameplates_state_nominal_volts() -> None:
    """IEC 60038, Table 1: 400/230 V, where the square root of three gives 231."""
    gathered = gather_papers(result(), "all", False, "a4", "program")
    said = " ".join(text for paper in gathered.papers.papers for text in read_on(paper))
    assert "400/230 V" in said and "231" not in said


def test_findings_and_earth_faults_state_nominal_volts() -> None:
    """230 V to the neutral, never 230.9; the loop is judged from 230 V too."""
    made = job(
        bank(volts_v=230.0, phases=1, connection=None, quantity=6, heater_run_m=10.0, panel_feeder_run_m=10.0),
        feeder(volts_v=400.0, wires=4, run_m=20.0), [tank()], project(code_basis="IEC 60364"),
    )  # fmt: skip
    sized = size_job(made)
    said = " ".join(finding.message for finding in sized.findings)
    assert "line-to-neutral 230 V" in said and "230.9" not in said
    assert {one.u0_v for one in sized.projects[0].feeders[0].earth_faults} == {230.0}


def test_records_list_torques_by_thread() -> None:
    """Of an IEC job, below the torques to fill in; from memory, and said so. The other code goes by wire size, and its papers stay."""
    notes = {
        code: {one.note for paper in gather_papers(size_job(made), "all", False, "a4", "program").papers.papers for one in paper.tables}
        for code, made in (("IEC", iec_job()), ("NEC", job(bank(), feeder(), [tank()], project())))
    }
    listed = [note for note in notes["IEC"] if "M4 1.2" in note]
    assert listed and all("from memory" in note for note in listed) and not any("M4 1.2" in note for note in notes["NEC"])


def test_nameplates_of_assemblies_go_by_their_standard() -> None:
    """IEC 61439: what its builder marks, the rated current at a diversity of 1, and how the supply is earthed; none of it elsewhere."""
    plates = {
        code: [fact for paper in gather_papers(size_job(made), "all", False, "a4", "program").papers.papers if paper.title == "Nameplates"
               for label in paper.labels for fact in label.facts]
        for code, made in (("IEC", iec_job()), ("NEC", job(bank(), feeder(), [tank()], project())))
    }  # fmt: skip
    iec = {fact.caption: fact.words for fact in plates["IEC"]}
    amps = result().projects[0].banks[0].panels[-1].design.lines.maximum
    assert iec["Assembly"].startswith("IEC 61439-1 and -2") and iec["Supply"].endswith("50 Hz, TN-S")
    assert re.fullmatch(rf"InA ____ A, at least {amps:.4g}\d* A; rated diversity factor 1", iec["Rated current"])
    assert not {"Assembly", "Rated current"} & {fact.caption for fact in plates["NEC"]}


def test_papers_and_labels_tell_how_a_supply_is_earthed() -> None:
    """As given, or as taken: TN-S; a code that does not ask says nothing of it."""
    papers = gather_papers(result(), "all", False, "a4", "program").papers.papers
    said = [text for paper in papers for text in read_on(paper)]
    assert any("star earthed, TN-S" in text for text in said if "test record" not in text)
    given = size_job(job(bank(volts_v=400.0), feeder(volts_v=400.0, earthing="TT"), [tank()], project(code_basis="IEC 60364")))
    assert {row.earthing for one in given.projects for row in one.feeders} == {"TT"}
    assert {row.earthing for one in size_job(job(bank(), feeder(), [tank()], project())).projects for row in one.feeders} == {""}


def test_articles_follow_the_word() -> None:
    """ "A grounded conductor" is an earthed one: where our word and theirs begin differently, theirs has its article beside it."""
    words = load("IEC 60364").wording
    vowels = re.compile(r"[aei]|o(?!ne)|un(?!i)|SCCR|FUC|LLC", re.IGNORECASE)
    plain = (one for one in load("IEC 60364").contents["words"] if one[:1] not in "=%-x0123456789" and not re.search(r"s$| are$| or ", one))
    for ours in plain:
        if ours.startswith(("a ", "an ", "in ", "its ", "the ", "one ")):
            continue
        before = f"There is {'an' if vowels.match(ours) else 'a'} {ours} here"
        theirs = words.of(before)
        said = re.search(r"There is (an?) (\S+)", theirs)
        if said is not None and said[2][:1].isalpha():
            assert (said[1] == "an") == bool(vowels.match(said[2])), theirs


def of_two_countries() -> JobResult:
    made = job(
        [bank(project="A"), bank(project="B", volts_v=400.0)],
        [feeder(project="A"), feeder(project="B", volts_v=400.0)],
        [tank(project="A"), tank(project="B")],
        [project(project="A"), project(project="B", code_basis="IEC 60364")],
    )
    return size_job(made)


def test_a_summary_speaks_as_its_own_project_does(tmp_path: Path) -> None:
    """Its words, its cautions alone, its paper (1 = letter, 9 = A4, ECMA-376 part 1, 18.3.1.63), whatever the other project has."""
    report.write(of_two_countries(), tmp_path / "both.xlsx")
    shown = openpyxl.load_workbook(tmp_path / "both.xlsx")
    said = {name: " ".join(str(cell.value) for row in shown[f"Summary {name}"].iter_rows() for cell in row if cell.value) for name in "AB"}
    assert "Feeder OCPD (A)" in said["A"] and "I A (A)" in said["A"] and "Feeder protective device (A)" not in said["A"]
    assert "Feeder protective device (A)" in said["B"] and "I L1 (A)" in said["B"] and "OCPD" not in said["B"]
    codes = {"A": load("NEC 2023"), "B": load("IEC 60364")}
    mine = {name: [rules.wording.of(caution.value) for caution in rules.cautions] for name, rules in codes.items()}
    for name, other in (("A", "B"), ("B", "A")):
        assert all(words in said[name] for words in mine[name])
        assert not [words for words in mine[other] if words in said[name] and words not in mine[name]]
    assert [shown[f"Summary {name}"].page_setup.paperSize for name in "AB"] == [1, 9]


def test_papers_of_two_countries_have_each_its_units_and_paper() -> None:
    """16.4048 ft are 5 m: the branch lengths of both projects, in feet on letter paper and in metres on A4."""
    gathered = gather_papers(of_two_countries(), "all", None, "us-letter", "program")
    assert [one.page for one in gathered.papers.projects] == ["us-letter", "a4"]
    units = [
        {head.unit for paper in gathered.papers.papers if paper.project == at for one in paper.tables for head in one.headings}
        for at in (0, 1)
    ]
    assert "ft" in units[0] and "m" not in units[0] and "m" in units[1] and "ft" not in units[1]


def test_a_piece_of_a_sentence_asks_in_units_of_the_country() -> None:
    """What a customer is asked in a quotation, and what stands in brackets beside a figure, as in the results."""
    assert IEC.within("Liquid depth … m or ft, Heat-up time … h") == "Liquid depth … m, Heat-up time … h"
    assert IEC.within("air of 104 °F (40 °C)") == "air of 40 °C"
    assert load("NEC 2023").wording.within("Liquid depth … m or ft") == "Liquid depth … m or ft"


def test_what_cables_lie_in_is_a_heading_here_and_a_thing_there() -> None:
    """A column is headed "Laid in"; a line of Materials is for something that can be bought."""
    assert (IEC.heading("Raceway"), IEC.of("raceway")) == ("Laid in", "cable containment")
    lines = [line for line in result().projects[0].materials if line.role == "raceway"]
    assert lines
    shown = {row["role"] for row in as_written(result(), "runs", rows(result(), "runs"))}
    assert "cable containment" in shown and "Laid in" not in shown


def test_an_earthing_that_nobody_gave_is_asked_about_as_it_is_taken() -> None:
    """Of a delta IT is taken: a customer who does not answer is not told TN-S."""
    made = job(bank(volts_v=400.0, phases=3, connection=None), feeder(volts_v=400.0, system="delta"), [tank()],
               project(code_basis="IEC 60364"))  # fmt: skip
    [asked] = [one for one in ask(size_job(made)) if "earthed: TN-S" in one.words]
    assert "IT where no point of the supply is earthed" in asked.until


def test_a_word_of_a_list_keeps_its_small_letter() -> None:
    """What stands for a heading that stands alone begins small where ours does: a part of a list, a meaning in a legend."""
    assert IEC.of("disconnect") == "switch-disconnector" and IEC.of("Disconnect") == "Switch-disconnector"
    assert IEC.of("I A") == "I L1" and IEC.of("Phases") == "Lines"


OF_ANOTHER_CODE = re.compile(
    r"\bOCPD|\bEGC\b|\bAWG\b|\bwye\b|\bgrounded\b|\braceway|\bampacity\b|°F|\bkcmil\b|pilot light|^disconnect:", re.IGNORECASE
)


def test_a_comparison_of_iec_jobs_speaks_iec(tmp_path: Path) -> None:
    """What changed, every sheet behind it, and each change's column; the names of findings' kinds are no words."""
    for name, kw in (("old", 6), ("new", 9)):
        made = openpyxl.Workbook()
        sheet = made.active
        sheet.title = "Heaters"
        for row in (("Project", "Tank", "Quantity", "Power (kW)", "Volts (V)", "Phases"), ("P", "T-1", 9, kw, 400, 3)):
            sheet.append(row)
        listed = made.create_sheet("Projects")
        for row in (("Project", "Code basis"), ("P", "IEC 60364")):
            listed.append(row)
        made.save(tmp_path / f"{name}.xlsx")
    batch.compare(tmp_path / "old.xlsx", tmp_path / "new.xlsx", target=tmp_path / "changes.xlsx")
    shown = openpyxl.load_workbook(tmp_path / "changes.xlsx")
    codes = {kind.code for kind in CATALOGUE.values()}
    cells = ((sheet.title, cell) for sheet in shown for row in sheet.iter_rows(values_only=True) for cell in row)
    said = [(title, cell) for title, cell in cells if isinstance(cell, str)]
    assert not [one for one in said if OF_ANOTHER_CODE.search(one[1]) and one[1] not in codes][:5]
    assert any("rotective device" in text for title, text in said if title == "Changes")
    assert any("rotective device before" in text for title, text in said if title == "Feeders")


def test_a_list_filled_by_iec_has_its_headings_and_is_known_again(tmp_path: Path) -> None:
    """Whatever rule set filled it: its columns are told from the customer's, and it is not filled twice."""
    for name in available():
        headings = [column.title() for column in in_words(FILLED, load(name).wording).columns]
        assert all(heading in FILLED_TITLES for heading in headings), name
    made = openpyxl.Workbook()
    for row in (("Tank", "Number of heaters", "kW each", "Volts", "Phases"), ("B01", 9, 6, 400, 3), ("B02", 3, 12, 400, 3)):
        made.active.append(row)
    made.save(tmp_path / "list.xlsx")
    with batch.code("IEC 60364"):
        batch.fill(tmp_path / "list.xlsx", tmp_path / "filled.xlsx")
    heads = [cell.value for cell in openpyxl.load_workbook(tmp_path / "filled.xlsx").active[1]]
    assert {"Sized branch protective device (A)", "Sized PE"} < set(heads) and not any("OCPD" in str(head) for head in heads)
    with pytest.raises(CannotFill, match="filled in already"):
        batch.fill(tmp_path / "filled.xlsx", tmp_path / "twice.xlsx")
    assert len(batch.check(tmp_path / "filled.xlsx").job.banks) == 2
