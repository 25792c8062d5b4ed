"""README, the reference and DEVELOPERS say what is so: generated tables, commands, exit codes, links, maps, names of files."""

from __future__ import annotations

import re
import shlex
import tomllib
from pathlib import Path

import pytest

import batch
from batch.cli import closing_table as closing
from batch.cli.app import parser
from batch.findings import CATALOGUE
from batch.intake.map_schema import AlsoSaid, ColumnSaid, MapSaid, TableSaid, checked, fields_of
from batch.schedules import RESULTS
from batch.sheets import FILLED, INPUTS
from tests import make_docs
from tests.method_page import page
from tests.test_layers import MODULES, imports

ROOT = Path(__file__).resolve().parents[1]
README = (ROOT / "README.md").read_text(encoding="utf-8")
REFERENCE = (ROOT / "templates" / "reference.md").read_text(encoding="utf-8")
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")


def verbs() -> list[str]:
    return list(next(action for action in parser()._actions if action.dest == "command").choices)


def blocks(text: str, language: str) -> list[str]:
    return re.findall(rf"^```{language}\n(.*?)^```", text, re.M | re.S)


def test_generated_tables_are_up_to_date() -> None:
    if make_docs.filled(REFERENCE) != REFERENCE:  # no assert: nobody wants the whole file as a difference
        pytest.fail("the generated tables of templates/reference.md are out of date: run python -m tests.make_docs")


def test_the_method_stands_beside_both_codes() -> None:
    if page() != make_docs.METHOD.read_text(encoding="utf-8"):
        pytest.fail("templates/method.md is out of date: run python -m tests.make_docs")


def test_the_reference_lists_every_column_and_every_finding() -> None:
    for sheet in (*INPUTS, *RESULTS, FILLED):
        for column in sheet.columns:
            assert column.heading in REFERENCE
    for code in CATALOGUE:
        assert f"`{code}`" in REFERENCE


def test_readme_is_read_in_minutes() -> None:
    """What is long and looked up stands in the reference."""
    assert len(README.splitlines()) <= 250


def anchors(text: str) -> set[str]:
    """What a heading is called in a link to it: small letters, hyphens for blanks, no other signs."""
    return {re.sub(r"[^\w -]", "", heading).lower().replace(" ", "-") for heading in re.findall(r"^#+ (.+)$", text, re.M)}


@pytest.mark.parametrize(("name", "folder", "text"), [("README", ROOT, README), ("reference", ROOT / "templates", REFERENCE)])
def test_links_lead_somewhere(name: str, folder: Path, text: str) -> None:
    found = re.findall(r"\]\(([^)#]*)(?:#([^)]*))?\)", text)
    assert found, name
    for file, part in found:
        there = (folder / file).read_text(encoding="utf-8") if file else text
        assert not part or part in anchors(there), f"{name} links to {file}#{part}"


def test_all_that_a_column_map_can_say_is_in_the_reference() -> None:
    """Each key of its schema, and the example fits the schema."""
    told = REFERENCE.partition("## Column maps")[2].partition("\n## ")[0]
    (example,) = blocks(told, "toml")
    whole = checked(tomllib.loads(example), MapSaid)
    for table in whole.table:
        checked(table, TableSaid)
    for shape in (MapSaid, TableSaid, ColumnSaid, AlsoSaid):
        assert [key for key in fields_of(shape) if not re.search(rf"\b{key}\b", told)] == []


def test_two_commands_for_a_fresh_clone() -> None:
    """They need nothing but python3 and venv, and the first sizes a sample that is there. `.ci/run` runs both as printed."""
    run, test = blocks(README, "sh")
    for command in (run, test):
        assert command.startswith("python3 -m venv .venv && .venv/bin/pip install ")
        assert command.count("\n") == 1
        for word in shlex.split(command):
            assert not word.startswith("/")
    sample = shlex.split(run)[-1]
    assert (ROOT / sample).is_file()
    assert test.rstrip().endswith(".venv/bin/python -m pytest")


def test_every_command_is_in_the_readme_and_no_other() -> None:
    shown = set(re.findall(r"^    heaterbatch (\w+)", README, re.M))
    assert shown == set(verbs())


@pytest.mark.parametrize("code", [*closing.WORST_LAST, closing.WRONG_COMMAND, closing.STOPPED])
def test_every_exit_code_is_in_the_readme_and_in_the_help(code: int) -> None:
    assert re.search(rf"^\| {code} \|", README, re.M)
    assert re.search(rf"\b{code} [a-z]", parser().epilog)


def test_the_python_example_names_what_there_is() -> None:
    (example,) = blocks(README, "python")
    compile(example, "README.md", "exec")
    for name in re.findall(r"batch\.(\w+)\(", example):
        assert name in batch.__all__


def test_the_map_names_what_there_is() -> None:
    (shown,) = re.findall(r"## Map\n(.*?)\n## ", DEVELOPERS, re.S)
    lines = [line.split("  ")[2].strip() for line in shown.splitlines() if line.startswith("    ")]
    for line in lines:
        folder = ""
        for name in line.split(", "):
            folder = name.rpartition("/")[0] or folder
            path = ROOT / (name if "/" in name else f"{folder}/{name}")
            assert path.exists(), f"DEVELOPERS.md maps {path.relative_to(ROOT)}, which is not there"


def test_one_heater_is_followed_in_a_dozen_files() -> None:
    """From its cell to its fuse. Each file of the walk is there; from the project on each is asked by one before it."""
    (told,) = re.findall(r"One heater from its cell to its fuse:(.*?)\n- ", DEVELOPERS, re.S)
    walk = [f"batch.{name.replace('/', '.')}" for name in re.findall(r"`(\w+/\w+)\.py`", told)]
    assert len(walk) <= 12 and walk[0].startswith("batch.intake.") and walk[-1].startswith("batch.schedules.")
    asked = [set(imports(MODULES[name])) for name in walk]  # a file that is not there has no entry
    core = [name for name in walk if name.startswith(("batch.sizing.", "batch.method."))]
    assert [name for name in core[1:] if not any(name in asks for asks in asked[: walk.index(name)])] == []


@pytest.mark.parametrize("name", ["tests.make_samples", "tests.make_docs", "tests.benchmarks"])
def test_scripts_that_the_developers_are_sent_to_exist(name: str) -> None:
    assert f"-m {name}" in DEVELOPERS
    path = ROOT / name.replace(".", "/")
    assert path.with_suffix(".py").is_file() or (path / "__main__.py").is_file()


def test_the_rules_of_the_house_name_tests_that_there_are() -> None:
    (told,) = re.findall(r"## Rules of the house.*?\n(.*?)\n## ", DEVELOPERS, re.S)
    rows = [line.split("|")[2] for line in told.splitlines() if line.startswith("| ")][2:]
    assert len(rows) > 12
    for row in rows:
        files = [name for name in re.findall(r"\b(test_\w+)(?=`|::|: `)", row) if (ROOT / "tests" / f"{name}.py").is_file()]
        texts = [(ROOT / "tests" / f"{name}.py").read_text(encoding="utf-8") for name in files]
        for name in re.findall(r"`(?:\w+::)?(test_\w+)(?:…)?`", row):
            assert name in files or any(f"def {name}" in text for text in texts), f"DEVELOPERS.md: no test {name}"
