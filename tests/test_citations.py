"""Every citation comes from the rule set: with an X before each of a rule set's own, no result shows one without it.

A copy of the rule set in a folder gets the X before every clause, table and document; jobs are sized with it, and everything that a person
can read of the results is searched: every cell of every sheet of the workbook, every finding, every drawing, every row of every schedule,
every word of the papers and of the drawings on them, the labels, the quotation, the questions, what a customer's own list is filled with.
"""

from __future__ import annotations

import csv
import re
import shutil
import sys
from collections.abc import Iterator, Mapping
from functools import cache
from pathlib import Path

import openpyxl
import pytest
from msgspec import Struct
from msgspec.structs import astuple

import batch
from batch.drawings.schematic import alt_text, plan
from batch.intake.job import read
from batch.papers.gathering import PapersGathered, gather_papers
from batch.price.questions import ask
from batch.quoting.offer import quote_project
from batch.report.results_workbook import write
from batch.results import JobResult
from batch.rules import RuleSet, load, load_folder
from batch.schedules import RESULTS, rows
from batch.sizing.project import size_job
from tests.make_samples import HERE

MARK = "X"
UNITS = "A|V|kA|kW|kVA|kcmil|W|mm|m|ft|in|°[CF]|%|ohm|h|L|gal|kg|lb"
FORM = (
    rf"(?:\d{{3}}\.\d{{1,3}}(?:\([A-Za-z0-9]+\))*(?!\d|\s?(?:{UNITS})\b| to [\d.,]+ kW|\s?[%°])"  # 240.6(A)
    r"|(?:Table|Tables) (?=\w*\d)[\w.]+(?:\([A-Z0-9]+\))*"
    r"|Chapter 9|Annex I|NFPA \d+\w?|UL \d+\w?|NEMA ICS \d|ANSI \w\d+(?:\.\d+)?|IEEE \w?\d+)"
)
CITATION = re.compile(rf"(?<![\w.\-/])(?<!\d,){FORM}")  # not the end of 30,286.86: a list of sections has a space behind its comma
NUMBER = re.compile(r"-?[\d,]+\.\d+")
MARKED = re.compile(rf"(?<![\w.\-/]){MARK}{FORM}")
SAMPLES = ("small-clean.xlsx", "whole-plant.xlsx", "every-finding.xlsx")
PRINTED = ("small-clean.xlsx", "every-finding.xlsx")


def marked(text: str) -> str:
    return CITATION.sub(lambda found: MARK + found[0], text)


@cache
def marked_rules() -> RuleSet:
    """A copy of the rule set whose citations all carry the mark."""
    import tempfile

    folder = Path(tempfile.mkdtemp(prefix="marked-rules-")) / "nec"
    shutil.copytree(load("NEC 2023").folder, folder)
    lines = []
    for line in (folder / "ruleset.toml").read_text(encoding="utf-8").splitlines():
        kept = line.startswith(("#", "[", "name", "key", "edition"))
        lines.append(line if kept else re.sub(r'"[^"]*"', lambda found: found[0] if found[0].endswith('.csv"') else marked(found[0]), line))
    (folder / "ruleset.toml").write_text("\n".join(lines), encoding="utf-8")
    for path in folder.glob("*.csv"):
        with path.open(newline="", encoding="utf-8") as file:
            table = list(csv.DictReader(file))
        with path.open("w", newline="", encoding="utf-8") as file:
            writer = csv.DictWriter(file, table[0].keys())
            writer.writeheader()
            writer.writerows({key: marked(cell) if key in ("source", "component") else cell for key, cell in row.items()} for row in table)
    return load_folder(folder)


@cache
def sized(name: str) -> JobResult:
    return size_job(read(HERE / name), editions=lambda edition: marked_rules())


def bare(texts: Iterator[tuple[str, object]]) -> list[tuple[str, str, str]]:
    """Citations without the mark: where, which, in what."""
    return [(where, found[0], text) for where, text in texts if isinstance(text, str) for found in CITATION.finditer(MARKED.sub("", text))]


@pytest.mark.parametrize("name", SAMPLES)
def test_no_schedule_shows_a_citation_of_its_own(name: str) -> None:
    result = sized(name)
    cells = ((f"{sheet.id}.{key}", value) for sheet in RESULTS for row in rows(result, sheet.id) for key, value in row.items())
    assert not [one for one in bare(cells) if one[0] not in ("code_basis.source", "findings.seen")][:5]


@pytest.mark.parametrize("name", SAMPLES)
def test_no_finding_shows_a_citation_of_its_own(name: str) -> None:
    texts = (
        (finding.code, text)
        for finding in sized(name).findings
        for text in (finding.message, finding.basis, finding.kind.title, finding.kind.advice)
    )
    assert not bare(texts)[:5]


@pytest.mark.parametrize("name", SAMPLES)
def test_no_drawing_shows_a_citation_of_its_own(name: str) -> None:
    texts = []
    for project in sized(name).projects:
        for kind in project.types:
            texts.append((kind.type, alt_text(kind.design, kind.type)))
            texts += [(kind.type, one.text) for one in plan(kind.design, kind.type, True).words]
    assert texts and not bare(iter(texts))[:5]


def texts_in(thing: object) -> Iterator[str]:
    """Every text in records, rows and lists of them."""
    if isinstance(thing, str):
        yield thing
    elif isinstance(thing, Mapping):
        yield from texts_in(tuple(thing.items()))
    elif isinstance(thing, (tuple, list, set, frozenset)):
        for one in thing:
            yield from texts_in(one)
    elif isinstance(thing, Struct):
        yield from texts_in(astuple(thing))


@cache
def on_paper(name: str) -> PapersGathered:
    return gather_papers(sized(name), "all", True, "us-letter", "test")


@pytest.mark.parametrize("name", PRINTED)
def test_no_paper_shows_a_citation_of_its_own(name: str) -> None:
    """Transmittals, one-lines, schedules, types, ladders, wiring, labels, nameplates, materials, records."""
    texts = []
    for paper in on_paper(name).papers.papers:
        texts += [(paper.title, text) for text in texts_in(paper._replace(tables=()))]
        for table in paper.tables:  # figures stand to the right
            texts += [(paper.title, text) for text in texts_in((table.title, table.headings, table.note))]
            words = [at for at, heading in enumerate(table.headings) if heading.align == "left"]
            texts += [(paper.title, row[at]) for row in table.rows for at in words]
    given = {finding.seen for finding in sized(name).findings}
    assert sum(len(MARKED.findall(text)) for _, text in texts) > 5, "the marked citations are there to be seen"
    assert not bare((where, text) for where, text in texts if text not in given)[:5]


@pytest.mark.parametrize("name", PRINTED)
def test_no_drawing_on_paper_shows_a_citation_of_its_own(name: str) -> None:
    texts = [(file, word.text) for drawing, file in on_paper(name).figures.files.items() for word in drawing.words]
    assert texts and not bare(iter(texts))[:5]


@pytest.mark.parametrize("name", PRINTED)
def test_no_quotation_or_question_shows_a_citation_of_its_own(name: str) -> None:
    result = sized(name)
    quoted = [quote_project(result, project=one.project.project, at_least=True) for one in result.projects if one.banks]
    texts = [*(("quotation", text) for text in texts_in(quoted)), *(("question", text) for text in texts_in(ask(result)))]
    assert texts and not bare(iter(texts))[:5]


def cells_of(path: Path) -> list[tuple[str, str]]:
    found = []
    for sheet in openpyxl.load_workbook(path):
        if sheet.sheet_state != "veryHidden":
            found += [(f"{sheet.title}!{cell.coordinate}", str(cell.value)) for row in sheet.iter_rows() for cell in row if cell.value]
    return found


def test_no_cell_of_a_filled_list_shows_a_citation_of_its_own(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(size_job.__kwdefaults__, "editions", lambda edition: marked_rules())
    source, target = HERE / "customer-list-to-fill.xlsx", tmp_path / "filled.xlsx"
    batch.fill(source, target)
    own = {text for _, text in cells_of(source)}
    new = [(where, text) for where, text in cells_of(target) if text not in own]
    assert new and not bare(iter(new))[:5]


def test_no_cell_of_a_comparison_shows_a_citation_of_its_own(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(size_job.__kwdefaults__, "editions", lambda edition: marked_rules())
    target = tmp_path / "compared.xlsx"
    batch.compare(HERE / "revisions" / "line-4-rev-A.xlsx", HERE / "revisions" / "line-4-rev-B.xlsx", target=target)
    found = [(where, text) for where, text in cells_of(target) if not text.startswith("=") and not NUMBER.fullmatch(text)]
    assert found and not bare(iter(found))[:5]


@pytest.mark.parametrize("name", SAMPLES)
def test_no_cell_of_the_workbook_shows_a_citation_of_its_own(name: str, tmp_path: Path) -> None:
    """Left out: the heat check's own rows of Code basis, which cite no code, and numbers that the customer wrote."""
    path = tmp_path / "sized.xlsx"
    write(sized(name), path, program="test", us=True)
    texts, seen, given = [], 0, {finding.seen for finding in sized(name).findings}
    for sheet in openpyxl.load_workbook(path):
        if sheet.sheet_state == "veryHidden":
            continue  # data, which nobody reads
        for row in sheet.iter_rows():
            values = [cell.value for cell in row if isinstance(cell.value, str)]
            if sheet.title == "Code basis" and "NEC 2023" not in values:
                continue
            seen += sum(len(MARKED.findall(value)) for value in values)
            texts += [(f"{sheet.title}!{cell.coordinate}", cell.value) for cell in row if cell.value not in given]
        for cell in (cell for row in sheet.iter_rows() for cell in row if cell.comment is not None):
            texts.append((f"{sheet.title}!{cell.coordinate} comment", cell.comment.text))
    assert seen > 50, "the marked citations are there to be seen"
    assert not bare(iter(texts))[:8]


def test_the_search_finds_what_it_is_for() -> None:
    shown = ["240.6(A)", "by 425.22(B); 110.14", "Table 310.16", "UL 508A Table SB4.1", "Chapter 9 Tables 1, 4, 5", "NEMA ICS 2", "NFPA 70"]
    assert all(CITATION.search(text) for text in shown)
    assert not bare((text, marked(text)) for text in shown) and all(MARKED.search(marked(text)) for text in shown)
    assert not any(CITATION.search(text) for text in ("124.8 A", "104.5 °F", "0.125.3", "433.0 %", "size 2", "tank T-100.2"))


# --- the same of the IEC: its documents are named by number

IEC_FORM = r"IEC (?:TR )?(?!60364(?!-))(?!60617)\d{5}"  # IEC 60364 alone is the name of the rule set, IEC 60617 that of the symbols drawn
IEC_MARKED, IEC_BARE = re.compile(rf"{MARK}(?={IEC_FORM})"), re.compile(rf"(?<!{MARK}){IEC_FORM}")


@cache
def marked_iec() -> RuleSet:
    import tempfile

    ours = load("IEC 60364").folder
    folder = Path(shutil.copytree(ours.parent, Path(tempfile.mkdtemp(prefix="marked-rules-")) / "rules")) / ours.name
    for path in (folder / "ruleset.toml", *folder.glob("*.csv")):
        lines = path.read_text(encoding="utf-8").splitlines()
        kept = ("#", "[", "name", "key", "edition")
        new = [line if line.startswith(kept) else IEC_BARE.sub(rf"{MARK}\g<0>", line) for line in lines]
        path.write_text("\n".join(new), encoding="utf-8")
    return load_folder(folder)


def test_nothing_of_an_iec_job_shows_a_citation_of_its_own(monkeypatch: pytest.MonkeyPatch) -> None:
    """Schedules, findings, papers and their drawings of the sample with every finding of earth faults."""
    for name, module in list(sys.modules.items()):
        if name.startswith("batch.papers.") and getattr(module, "load", None) is load:  # papers look the rule set up by its name
            monkeypatch.setattr(module, "load", lambda edition: marked_iec())
    result = size_job(read(HERE / "every-earth-fault.xlsx"), editions=lambda edition: marked_iec())
    gathered = gather_papers(result, "all", False, "a4", "test")
    texts = [("papers", text) for text in texts_in(gathered.papers)]
    texts += [(file, word.text) for drawing, file in gathered.figures.files.items() for word in drawing.words]
    texts += [(one.code, text) for one in result.findings for text in (one.message, one.basis, one.kind.title, one.kind.advice)]
    for sheet in RESULTS:
        texts += [(f"{sheet.id}.{key}", text) for row in rows(result, sheet.id) for key, text in row.items() if isinstance(text, str)]
    assert sum(len(IEC_MARKED.findall(text)) for _, text in texts) > 50, "the marked citations are there to be seen"
    assert [(where, text) for where, text in texts if IEC_BARE.search(text)][:5] == []
