"""Editions held as differences, and a firm's own rule set: what is changed is used, cited and named; faults name file and entry."""

from __future__ import annotations

import shutil
from pathlib import Path

import openpyxl
import pytest

import batch
from batch import rules
from batch.cli.app import main
from batch.errors import RuleSetError, TemplateError
from batch.findings import Severity
from batch.rules.tables import MEMORY
from batch.schedules import rows
from tests.make_samples import HERE

NEC_2023, NEC_2020, NEC_2017 = (rules.load(f"NEC {year}") for year in (2023, 2020, 2017))

IDENTITY = """
[ruleset]
extends = "NEC 2023"
key = "house"
name = "House rules"
title = "House rules of a firm (invented)"
edition = "1"
document = "NFPA 70-2023"
"""
STRICTER = IDENTITY + """
[tables]
small_conductors = ["small.csv", "house rule 2", "rows"]

[factors.continuous]
value = 1.5
basis = "house rule 1"
status = "trade practice"
"""
LOOSER = STRICTER.replace("1.5", "1.1").replace('name = "House rules"', 'name = "Loose rules"')
SMALL = "size,material,device_a,source,status,check,memory_cells\n12,copper,15,house rule 2,seen in print,invented,\n"


def folder_of(where: Path, text: str, small: str = SMALL) -> Path:
    folder = where / "firm" / "rules" / "house"
    folder.mkdir(parents=True)
    (folder / "ruleset.toml").write_text(text, encoding="utf-8")
    (folder / "small.csv").write_text(small, encoding="utf-8")
    return where / "firm"


@pytest.fixture
def job(tmp_path: Path):
    """The small sample with another word in its Code basis."""

    def make(basis: str | None) -> Path:
        book = openpyxl.load_workbook(HERE / "small-clean.xlsx")
        sheet = book["Projects"]
        at = next(cell.column for cell in sheet[1] if cell.value == "Code basis")
        sheet.cell(2, at).value = basis
        book.save(tmp_path / "job.xlsx")
        return tmp_path / "job.xlsx"

    return make


# Editions of the code as differences


def test_earlier_editions_differ_where_they_are_said_to():
    """10 A: a standard rating of breakers since 2023, of fuses before (NFPA 70, 240.6(A), read on two pages). Numbers of tables
    and clauses: 310.15(B)(16) read for 2011 to 2017, 425.3(B) as quoted for 2017. Aluminum of 250.122 as older editions show it
    (read on one page)."""
    assert NEC_2023.next_rating(8, "breaker").value == 10
    assert [edition.next_rating(8, "breaker").value for edition in (NEC_2020, NEC_2017)] == [15, 15]
    assert [edition.next_rating(8, "fuse").value for edition in (NEC_2020, NEC_2017)] == [10, 10]
    assert NEC_2020.ampacity("12", "copper", 75).citation == "Table 310.16"
    assert NEC_2017.ampacity("12", "copper", 75).citation == "Table 310.15(B)(16)"
    assert NEC_2017.clause("heating_load") == "425.3(B)" and NEC_2020.clause("heating_load") == "425.4(B)"
    assert NEC_2017.ground(4000, "aluminum").value == "800" and NEC_2023.ground(4000, "aluminum").value == "750"


@pytest.mark.parametrize("edition", [NEC_2020, NEC_2017], ids=lambda edition: edition.name)
def test_what_was_not_looked_up_in_an_edition_is_from_memory(edition):
    listed = set(edition.section("factors"))
    assert listed == set(NEC_2023.section("factors"))
    assert edition.factor("round_up_limit_a").known == MEMORY != NEC_2023.factor("round_up_limit_a").known
    assert edition.table("conductor_properties").rows[5].known("cu_ohm_per_kft") == MEMORY
    assert edition.ampacity("12", "copper", 75).known == NEC_2023.ampacity("12", "copper", 75).known  # seen for older editions too


@pytest.mark.parametrize("name", rules.available())
def test_no_edition_that_comes_with_the_program_is_less_strict_than_the_one_it_extends(name):
    changed = rules.differences(rules.load(name))
    assert bool(changed) == (rules.load(name).extends is not None)
    assert not [one.words for one in changed if one.looser]


@pytest.mark.parametrize("name", rules.available())
def test_a_job_sizes_on_every_edition_and_cites_it(name, job):
    result = batch.check(job(name))
    [project] = result.projects
    assert project.rule_set == name and len(project.banks) == 8
    plain = batch.check(job("NEC 2023")).projects[0]
    for row, same in zip(project.banks, plain.banks, strict=True):
        if name.startswith("NEC"):
            assert row.design.branch.device.rating_a >= same.design.branch.device.rating_a
        assert row.design.branch.device.rating_a >= row.design.branch.required_a - 1e-6
    cited = {value.source for value in result.code_values if value.name.startswith("ampacity_")}
    assert cited


@pytest.mark.parametrize("role", sorted(NEC_2023.section("tables")))
def test_the_leading_columns_of_a_table_tell_its_rows_apart(role):
    table = NEC_2023.table(role)
    assert table.shape is not None
    names = [tuple(row[column] for column in table.shape.columns[: table.shape.named_by]) for row in table]
    assert len(set(names)) == len(names)


# A firm's own


def test_a_firms_rule_set_sizes_with_no_change_of_code(tmp_path, job):
    path = job("house RULES")
    assert [finding.kind.code for finding in batch.check(path).findings if finding.severity is Severity.HOLD] == ["code-basis-unavailable"]
    with batch.firm(folder_of(tmp_path, STRICTER)):
        result = batch.check(path)
        assert rules.available()[-1] == "House rules"
    [project] = result.projects
    assert project.rule_set == "House rules"
    plain = batch.check(job("NEC 2023")).projects[0]
    chosen, before = ([row.design.branch.device.rating_a for row in one.banks] for one in (project, plain))
    assert all(now >= was for now, was in zip(chosen, before, strict=True)) and chosen != before
    assert "House rules" not in rules.available()
    [said] = [finding for finding in result.findings if finding.kind.code == "rule-set-own"]
    own = rules.load_folder(tmp_path / "firm" / "rules" / "house")
    assert own.checksum in said.message and "2 values of its own" in said.message
    assert "150" not in said.message.replace(own.checksum, "") and "1.5, for 1.25" in said.message
    assert "rule-set-looser" not in {finding.kind.code for finding in result.findings}
    shown = {row["name"]: row for row in rows(result, "code_basis")}
    assert (shown["continuous"]["value"], shown["continuous"]["source"]) == (1.5, "house rule 1")
    assert shown["small_conductor_copper_12"]["value"] == 15
    assert own.checksum in result.code_titles["House rules"]


def test_less_than_the_code_asks_is_a_caution_that_names_the_values(tmp_path, job):
    with batch.firm(folder_of(tmp_path, LOOSER)):
        result = batch.check(job("Loose rules"))
    [said] = [finding for finding in result.findings if finding.kind.code == "rule-set-looser"]
    assert said.message.startswith("1 value of Loose rules is less strict than those of NEC 2023: ") and "1.1, for 1.25" in said.message


def test_the_checksum_changes_with_any_file(tmp_path):
    folder = folder_of(tmp_path, STRICTER) / "rules" / "house"
    first = rules.load_folder(folder).checksum
    shutil.copytree(folder, tmp_path / "other" / "house")
    assert rules.load_folder(tmp_path / "other" / "house").checksum == first
    (tmp_path / "third").mkdir()
    shutil.copytree(folder, tmp_path / "third" / "house")
    (tmp_path / "third" / "house" / "small.csv").write_text(SMALL.replace("invented", "invented too"), encoding="utf-8")
    assert rules.load_folder(tmp_path / "third" / "house").checksum != first


def test_editions_prints_what_a_firms_folder_changes(tmp_path, capsys):
    firm = folder_of(tmp_path, STRICTER)
    assert main(["editions", str(firm)]) == 0
    shown = capsys.readouterr().out
    assert "House rules: NEC 2023 with 2 values of its own" in shown
    assert any(line.split()[:3] == ["continuous", "1.25", "1.5"] for line in shown.splitlines())
    loose = folder_of(tmp_path / "loose", LOOSER)
    assert main(["editions", str(loose / "rules" / "house")]) == 1  # the folder of one rule set does as well
    assert "LESS STRICT than NEC 2023" in capsys.readouterr().out


def test_the_environment_names_the_firms_folder(tmp_path, job, monkeypatch, capsys):
    monkeypatch.setenv("HEATERBATCH_FIRM", str(folder_of(tmp_path, STRICTER)))
    assert main(["check", str(job("House rules"))]) in (0, 1)
    assert "[rule-set-own]" in capsys.readouterr().out
    target = tmp_path / "form.xlsx"
    assert main(["blank", str(target)]) == 0
    lists = [rule.formula1 for rule in openpyxl.load_workbook(target)["Projects"].data_validations.dataValidation if rule.formula1]
    assert any("IEC 60364,House rules" in words for words in lists)


@pytest.mark.parametrize(
    ("text", "says"),
    [
        (STRICTER.replace('extends = "NEC 2023"', ""), r"ruleset\.toml: \[ruleset\] lacks extends"),
        (STRICTER.replace('"NEC 2023"', '"NEC 1897"', 1), r"extends 'NEC 1897'; name one of IEC 60364, NEC 2017"),
        (STRICTER.replace('name = "House rules"', 'name = "nec-2023"'), r"name 'nec-2023' is another rule set's"),
        (STRICTER.replace("[factors.continuous]", "[factors.contimuous]"), r"\[factors\.contimuous\]: the rule set that it extends has no"),
        (STRICTER.replace("[factors.continuous]", "[figures.continuous]"), r"\[figures\] is no section of a rule set"),
        (STRICTER.replace('basis = "house rule 1"\n', ""), r"\[factors\.continuous\] needs value, basis, status"),
        (STRICTER.replace("1.5", '"much"'), r"\[factors\.continuous\]: value 'much' is not of the kind of 1\.25"),
        (STRICTER.replace("trade practice", "SURE"), r"\[factors\.continuous\] has an unknown status 'SURE'"),
        (STRICTER.replace('"small.csv"', '"none.csv"'), r"the file of table small_conductors is missing"),
        (STRICTER.replace(', "rows"]', ', "some"]'), r'\[tables\] small_conductors needs \[file, citation\]'),
        (STRICTER + "\n[clauses]\ntaps = 3\n", r"\[clauses\] taps: 3 is no text"),
        (STRICTER.replace("1.5", "nan"), r"\[factors\.continuous\]: value nan is no finite number"),
        (STRICTER.replace("1.5", "inf"), r"\[factors\.continuous\]: value inf is no finite number"),
        (STRICTER.replace("1.5", "-1.5"), r"\[factors\.continuous\]: value -1\.5 is below nought"),
        (STRICTER.replace("1.5", "0"), r"\[factors\.continuous\]: value 0 is nought"),
        (STRICTER.replace("[ruleset]", "[ruleset"), r"ruleset\.toml: cannot be read as a rule set"),
    ],
)
def test_a_broken_own_rule_set_names_file_and_entry(tmp_path, text, says):
    with pytest.raises(RuleSetError, match=says), batch.firm(folder_of(tmp_path, text)):
        pass


@pytest.mark.parametrize(
    ("small", "says"),
    [
        (SMALL.replace("12,copper,15", "12,copper,few"), r"small\.csv line 2: device_a is not a number: 'few'"),
        (SMALL.replace("12,copper", "13,copper"), r"small\.csv line 2: no row size 13, material copper in section_240_4_d\.csv"),
        (SMALL.replace("device_a", "amps"), r"small\.csv line 1: no column device_a"),
    ],
)
def test_a_broken_table_names_file_and_line(tmp_path, small, says):
    with pytest.raises(RuleSetError, match=says), batch.firm(folder_of(tmp_path, STRICTER, small)):
        pass


def test_a_folder_without_rule_sets_is_refused_in_one_line(tmp_path, capsys):
    assert main(["editions", "--firm", str(tmp_path)]) == 3
    assert "no rule set here; put ruleset.toml into it" in capsys.readouterr().err
    assert main(["editions", "--firm", str(tmp_path / "nowhere")]) == 3
    assert f"{tmp_path / 'nowhere'}: there is no such folder: name the firm's own folder." in capsys.readouterr().err
    (tmp_path / "file").touch()
    assert main(["editions", "--firm", str(tmp_path / "file")]) == 3
    assert "a file, and no folder" in capsys.readouterr().err


def test_the_firms_templates_stand_in_place_of_ours_and_what_is_named_comes_first(tmp_path, capsys):
    import docx

    firm = tmp_path / "firm"
    (firm / "templates" / "papers").mkdir(parents=True)
    (firm / "templates" / "letters").mkdir()
    for name, words in (("firm/templates/letters/quotation.docx", "Of the firm"), ("named.docx", "Of this call")):
        letter = docx.Document()
        letter.add_paragraph(words)
        letter.save(str(tmp_path / name))
    (firm / "templates" / "papers" / "title_block.typ").write_text("#nowhere\n", encoding="utf-8")

    def first(quoted) -> str:
        return docx.Document(str(quoted.letter)).paragraphs[0].text

    job = HERE / "small-clean.xlsx"
    with batch.firm(firm):  # templates alone make a firm's folder
        assert first(batch.quote(job, tmp_path / "own.xlsx")) == "Of the firm"
        assert first(batch.quote(job, tmp_path / "said.xlsx", letter=tmp_path / "named.docx")) == "Of this call"
        with pytest.raises(TemplateError, match=r"firm/templates/papers/title_block\.typ, line 1"):
            batch.print_papers(job, tmp_path / "own.pdf", audience="customer")
    assert first(batch.quote(job, tmp_path / "ours.xlsx")) not in ("Of the firm", "Of this call")
    assert main(["editions", str(firm)]) == 0
    shown = capsys.readouterr().out
    assert "papers: " in shown and "quotation.docx stands in place of ours" in shown


# A rule set for projects that name none


def list_of_heaters(where: Path, code: str | None = None, projects: bool = True) -> Path:
    """Nine heaters for 400 V: with a sheet of projects, or a list alone."""
    book = openpyxl.Workbook()
    sheet = book.active
    sheet.title = "Heaters"
    rows_of = [("Project", "Tank", "Quantity", "Power (kW)", "Volts (V)", "Phases"), ("P", "T-1", 9, 6, 400, 3)]
    if projects:
        listed = book.create_sheet("Projects")
        for row in (("Project", "Code basis"), ("P", code)):
            listed.append(row)
    else:
        rows_of = [row[1:] for row in rows_of]
    for row in rows_of:
        sheet.append(row)
    where.mkdir(parents=True, exist_ok=True)
    book.save(where / "job.xlsx")
    return where / "job.xlsx"


@pytest.mark.parametrize("projects", [True, False])
def test_an_option_names_the_rule_set_of_projects_that_name_none(tmp_path, projects, capsys):
    """And results keep it: sized again without the option they are not sized by another code."""
    source = list_of_heaters(tmp_path, projects=projects)
    assert main(["size", str(source), "-o", str(tmp_path / "one.xlsx"), "--code", "iec60364"]) in (0, 1)
    assert main(["size", str(tmp_path / "one.xlsx"), "-o", str(tmp_path / "two.xlsx")]) in (0, 1)
    plain = batch.check(source)
    assert [one.rule_set for one in plain.projects] == ["NEC 2023"]
    for name in ("one.xlsx", "two.xlsx"):
        result = batch.check(tmp_path / name)
        assert [one.rule_set for one in result.projects] == ["IEC 60364"], name
        assert "code-basis-taken" not in {finding.code for finding in result.findings}
    with batch.code("IEC 60364"):
        said = [finding for finding in batch.check(source).findings if finding.code == "code-basis-asked"]
    assert len(said) == 1 and said[0].message == "Code basis is blank, and IEC 60364 is taken, as whoever sized asked for."
    assert [one.rule_set for one in batch.check(source).projects] == ["NEC 2023"]


def test_what_a_project_names_goes_before_the_option(tmp_path):
    source = list_of_heaters(tmp_path, "NEC 2020")
    with batch.code("IEC 60364"):
        result = batch.check(source)
    assert [one.rule_set for one in result.projects] == ["NEC 2020"]
    assert "code-basis-asked" not in {finding.code for finding in result.findings}


def test_a_firms_rule_set_is_asked_for_by_option_too_and_in_every_process(tmp_path, capsys, monkeypatch):
    firm = folder_of(tmp_path, STRICTER.replace('extends = "NEC 2023"', 'extends = "IEC 60364"').replace("[tables]", "").replace(
        'small_conductors = ["small.csv", "house rule 2", "rows"]\n', ""))  # fmt: skip
    for name in ("a", "b"):
        list_of_heaters(tmp_path / "jobs" / name)
    out = tmp_path / "out"
    out.mkdir()
    asked = ["--firm", str(firm), "--code", "House rules"]
    assert main(["size", str(tmp_path / "jobs"), "--recursive", "-o", str(out), "--workers", "2", *asked]) in (0, 1)
    with batch.firm(firm):
        found = [batch.check(path) for path in sorted(out.rglob("job sized.xlsx"))]
    assert [one.rule_set for result in found for one in result.projects] == ["House rules", "House rules"]
    monkeypatch.setenv("HEATERBATCH_CODE", "IEC 60364")
    assert main(["check", str(tmp_path / "jobs" / "a" / "job.xlsx")]) in (0, 1)
    assert "[code-basis-asked]" in capsys.readouterr().out
    monkeypatch.delenv("HEATERBATCH_CODE")
    assert main(["check", str(tmp_path / "jobs" / "a" / "job.xlsx"), "--code", "NEC 1897"]) == 3
    assert "No rule set 'NEC 1897' here; available: NEC 2023" in capsys.readouterr().err
