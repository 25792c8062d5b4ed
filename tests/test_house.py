"""The rules of the house: what the book may use, how each of its pages reads, and that every example in it runs; that a result column is
declared once, with its value, and that an input column is used."""

from __future__ import annotations

import ast
import doctest
import importlib
import inspect
import re
import tomllib
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from types import FunctionType

import pytest
from msgspec.structs import replace

from batch.findings import CATALOGUE
from batch.intake import read
from batch.results import JobResult
from batch.rules import DEFAULT_EDITION, load
from batch.schedules import RESULTS, Schedule
from batch.schedules.reconciliation import reconcile
from batch.sheets import FILLED, INPUTS
from batch.sizing.project import size_job
from batch.systems import System
from tests.make_samples import HERE
from tests.test_layers import MODULES, ROOT, imports

PAGES = [module for module in MODULES if module.startswith("batch.method")]
CHAPTERS = [module for module in PAGES if module != "batch.method"]
PYTHON = {"math", "typing", "enum", "itertools", "collections.abc", "__future__"}
MAY = PYTHON | {"batch.rules", "batch.records", "batch.systems"}
PRINTED = re.compile(r"print|publish|by hand|by count|table|clause|textbook|tip sheet|the list|the standard|from memory", re.IGNORECASE)
PARTS = ("Equation", "Parameters", "Returns", "Reference", "Example")


def functions(module: str) -> list[FunctionType]:
    """The public functions of a chapter, in the order of its pages."""
    loaded = importlib.import_module(module)
    found = [one for name, one in vars(loaded).items() if inspect.isfunction(one) and one.__module__ == module and not name.startswith("_")]
    return sorted(found, key=lambda one: one.__code__.co_firstlineno)


LAWS = [(module, one) for module in CHAPTERS for one in functions(module)]
NAMES = [f"{module.rsplit('.', 1)[1]}.{one.__name__}" for module, one in LAWS]


@pytest.mark.parametrize("module", PAGES)
def test_the_book_uses_nothing_but_figures(module: str) -> None:
    """No remark, no sentence, no stock, no file: method/ knows mathematics, rule sets and plain records."""
    for name in imports(MODULES[module]):
        assert name in MAY or name in PAGES, f"{module} imports {name}"


def sections(one: FunctionType) -> dict[str, list[str]]:
    """The lines of each part of a docstring."""
    found: dict[str, list[str]] = {}
    part = "Summary"
    for line in inspect.cleandoc(one.__doc__ or "").splitlines():
        if line in PARTS:
            part = line
            found[part] = []
        else:
            found.setdefault(part, []).append(line.strip())
    return found


@pytest.mark.parametrize(("module", "one"), LAWS, ids=NAMES)
def test_every_page_has_its_six_parts(module: str, one: FunctionType) -> None:
    found = sections(one)
    assert tuple(found) == ("Summary", *PARTS), "summary, equation, parameters, returns, reference, example, in that order"
    assert all("".join(lines) for lines in found.values()), "no part is empty"
    assert any(line.startswith(">>>") for line in found["Example"]), "an example that runs"
    told = "".join(line for line in found["Example"] if not line.startswith(">>>"))
    assert not found["Example"][0].startswith(">>>") and PRINTED.search(told), "where the figure is printed, or that it is worked by hand"
    named = [line.split(":")[0] for line in found["Parameters"] if ":" in line]
    assert named == list(inspect.signature(one).parameters), "parameters by name, in the order of the signature"
    for line in found["Parameters"]:
        assert not line or re.search(r"\[[^\]]+\]$", line), f"a unit in brackets: {line}"
    assert re.search(r"\[[^\]]+\]", " ".join(found["Returns"])), "the unit of what is returned"


@pytest.mark.parametrize(("module", "one"), LAWS, ids=NAMES)
def test_a_reference_to_a_code_is_a_name_that_a_rule_set_has(module: str, one: FunctionType) -> None:
    """{standard_ratings} is 240.6(A) in one code and IEC 60269-1 in another: the book itself names neither."""
    reference = " ".join(sections(one)["Reference"])
    known = [{*rules.citations, *(name for part in ("factors", "lists", "defaults") for name in rules.section(part))}
             for rules in (load(DEFAULT_EDITION), load("IEC 60364"))]  # fmt: skip
    for name in re.findall(r"\{([^}]+)\}", reference):
        assert any(name in names for names in known), name


@pytest.mark.parametrize(("module", "one"), LAWS, ids=NAMES)
def test_every_page_has_types_and_few_arguments(module: str, one: FunctionType) -> None:
    signature = inspect.signature(one)
    assert signature.return_annotation is not inspect.Signature.empty
    assert all(given.annotation is not inspect.Parameter.empty for given in signature.parameters.values())


PLAIN = {0, 0.5, 1, 2, 3, 4, -1, 100, 1000, 1e6}  # of geometry, and of kilo, mega and per cent


@pytest.mark.parametrize("module", CHAPTERS)
def test_a_figure_stands_in_the_equation_or_has_a_name(module: str) -> None:
    """No constant without a source: what is no plain number is in the equation, or a name of the chapter, or the rule set's."""
    [(_, tree)] = trees([module])
    for law in (node for node in tree.body if isinstance(node, ast.FunctionDef)):
        equation = (ast.get_docstring(law) or "").partition("Equation")[2].partition("Parameters")[0]
        shown = {float(number) for number in re.findall(r"\d+(?:\.\d+)?", equation)}
        for node in ast.walk(law):
            if isinstance(node, ast.Constant) and type(node.value) in (int, float):
                assert node.value in PLAIN | shown, f"{module}:{node.lineno}: {node.value}"


@pytest.mark.parametrize("module", CHAPTERS)
def test_the_book_makes_no_sentence(module: str) -> None:
    """What there is to say is said by sizing: a law writes no words but the names of entries of the rule set."""
    [(_, tree)] = trees([module])
    texts = {id(one) for one in words_of(tree)}
    for law in (node for node in tree.body if isinstance(node, ast.FunctionDef)):
        for node in ast.walk(law):
            assert not (id(node) in texts and re.search(r"\w \w", node.value)), f"{module}:{node.lineno}: {node.value!r}"


@pytest.mark.parametrize(("module", "one"), LAWS, ids=NAMES)
def test_what_is_asked_of_the_code_comes_with_its_clause(module: str, one: FunctionType) -> None:
    """A law that looks into the rule set gives its answer with the citation, or a plain figure on the way to one that does."""
    if "rules" in inspect.signature(one).parameters:
        assert "Cited" in str(inspect.signature(one).return_annotation)


def test_every_page_is_used() -> None:
    """A law that nothing is sized by is no part of the method."""
    asked = [
        node.id if isinstance(node, ast.Name) else node.attr
        for _, tree in trees(list(MODULES))
        for node in ast.walk(tree)
        if isinstance(node, (ast.Name, ast.Attribute))
    ]
    assert [one.__name__ for _, one in LAWS if one.__name__ not in asked] == []


def test_the_factor_on_a_continuous_load_is_asked_for_in_one_place() -> None:
    asking = [module for module, tree in trees(list(MODULES)) for one in words_of(tree) if one.value == "continuous"]
    assert asking == ["batch.method.overcurrent"]


@pytest.mark.parametrize("module", CHAPTERS)
def test_every_example_gives_what_is_printed(module: str) -> None:
    loaded = importlib.import_module(module)
    sets = {"rules": load("NEC 2023"), "metric": load("IEC 60364")}
    found = doctest.testmod(loaded, extraglobs=sets, optionflags=doctest.NORMALIZE_WHITESPACE)
    assert found.attempted and not found.failed


def test_the_contents_name_every_chapter() -> None:
    """The docstring of batch/method/__init__.py is the table of contents, and the order is that of its numbers."""
    listed = re.findall(r"^ +(\d+) +(\w+)  ", importlib.import_module("batch.method").__doc__ or "", re.MULTILINE)
    assert [int(number) for number, _ in listed] == list(range(1, len(listed) + 1))
    assert {name for _, name in listed} == {module.rsplit(".", 1)[1] for module in CHAPTERS}


# --- citations, names, and how sizing speaks

LAY_DOWN = ("batch.rules", "batch.findings")  # where a clause may be written: as data, or as the name of one
CLAUSE = re.compile(
    r"\b\d{3}\.\d+\([A-Z0-9]+\)|^\d{3}\.\d{1,3}(?:, \d{3}\.\d{1,3})*$|\bTables? (?=\w*\d)[\w.]+|\bUL \d+|\bChapter 9\b"
    r"|\bNEMA ICS\b|\bAnnex [A-Z]\b|\bNFPA \d+|\bANSI [A-Z]\d|\bIEC (?:TR )?(?!60364\b(?!-))(?!60617)\d{5}"
)


def trees(modules: list[str]) -> Iterator[tuple[str, ast.Module]]:
    for module in modules:
        yield module, ast.parse(Path(MODULES[module]).read_text(encoding="utf-8"))


def words_of(tree: ast.Module) -> Iterator[ast.Constant]:
    """Strings that are not docstrings."""
    documented = (ast.Module, ast.ClassDef, ast.FunctionDef)
    docstrings = {
        id(node.body[0].value)
        for node in ast.walk(tree)
        if isinstance(node, documented) and node.body and isinstance(node.body[0], ast.Expr)
    }
    for node in ast.walk(tree):
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in docstrings:
            yield node


def test_no_clause_is_written_outside_rules_and_findings() -> None:
    written = ((module, one) for module, tree in trees(list(MODULES)) for one in words_of(tree) if not module.startswith(LAY_DOWN))
    found = [f"{module}:{one.lineno}: {one.value!r}" for module, one in written if CLAUSE.search(one.value)]
    assert not found, "ask the rule set: rules.clause(...), rules.citations[...]"


def test_findings_name_clauses_and_write_none() -> None:
    assert not [kind.code for kind in CATALOGUE.values() if CLAUSE.search(f"{kind.basis} {kind.template} {kind.advice} {kind.title}")]


def test_the_search_for_clauses_finds_them() -> None:
    shown = ("240.6(A)", "by 425.22(B) and", "215.2, 215.3", "220.60", "Table 310.16", "UL 508A Table SB4.1", "Chapter 9", "NFPA 70")
    assert all(CLAUSE.search(text) for text in shown)
    assert not any(CLAUSE.search(text) for text in ("124.8 A", "0.5", "Table of materials", "{table_ampacity}", "100.0 %"))


def test_no_class_or_module_has_a_namesake() -> None:
    named: dict[str, list[str]] = {}
    for module, tree in trees(list(MODULES)):
        if Path(MODULES[module]).name != "__init__.py":
            named.setdefault(module.rsplit(".", 1)[1], []).append(module)
        for node in tree.body:
            if isinstance(node, ast.ClassDef) and not node.name.startswith("_"):
                named.setdefault(node.name, []).append(module)
    assert {name: where for name, where in named.items() if len(where) > 1} == {}


def test_the_edition_of_a_blank_code_basis_is_named_in_one_place() -> None:
    """Not the first by alphabet, nor the first in a folder: it is written once, and the blank form says it."""
    written = [module for module, tree in trees(list(MODULES)) for one in words_of(tree) if one.value == DEFAULT_EDITION]
    assert written.count("batch.rules.at_hand") == 1
    assert set(written) == {"batch.rules.at_hand", "batch.sheets.inputs"}  # and where the form offers its choices
    [column] = [column for sheet in INPUTS for column in sheet.columns if column.key == "code_basis"]
    assert column.default == DEFAULT_EDITION


def test_a_job_that_names_no_edition_is_sized_by_that_one(monkeypatch: pytest.MonkeyPatch) -> None:
    job = read(HERE / "small-clean.xlsx")
    blank = replace(job, projects=tuple(replace(one, code_basis=None) for one in job.projects))
    for edition in (DEFAULT_EDITION, "NEC 2017"):
        monkeypatch.setattr("batch.sizing.project.DEFAULT_EDITION", edition)
        assert {one.rule_set for one in size_job(blank).projects} == {edition}


def test_systems_are_asked_by_what_they_are() -> None:
    """Words of a system stand where the columns declare them; all else asks `System`, which knows its lines and its neutral."""
    words = {one.value for one in System if " " in one.value}
    found = {module for module, tree in trees(list(MODULES)) for one in words_of(tree) if one.value in words}
    assert found == {"batch.systems", "batch.sheets.supply_sheets"}


def test_the_gate_holds_types_lint_and_tests() -> None:
    """Types hold over all of batch/, and only libraries without types of their own are passed over."""
    gate = (ROOT / ".ci" / "run").read_text(encoding="utf-8")
    assert {".venv/bin/ruff check .", ".venv/bin/mypy"} <= set(gate.splitlines()) and "tests.open_xml" in gate
    settings = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["tool"]["mypy"]
    assert settings["files"] == ["batch"] and settings["check_untyped_defs"] and "exclude" not in settings
    assert not [name for one in settings["overrides"] for name in one["module"] if name.startswith("batch")]


@pytest.mark.parametrize("module", [module for module in MODULES if module.startswith("batch.sizing.")])
def test_sizing_returns_the_value_alone(module: str) -> None:
    """What there is to say goes to a collector; nothing returns a value and remarks."""
    [(_, tree)] = trees([module])
    for node in ast.walk(tree):
        if isinstance(node, ast.FunctionDef) and node.returns is not None:
            given = ast.unparse(node.returns)
            assert not re.search(r"tuple\[.*Remark|list\[Remark", given), f"{module}.{node.name}: {given}"


@pytest.mark.parametrize("module", MODULES)
def test_more_than_five_arguments_are_given_by_name(module: str) -> None:
    [(_, tree)] = trees([module])
    for node in ast.walk(tree):
        if isinstance(node, ast.FunctionDef) and node.name not in ("__new__", "__init__"):
            count = sum(given.arg not in ("self", "cls") for given in (*node.args.posonlyargs, *node.args.args))
            assert count <= 5, f"{module}.{node.name} takes {count} arguments by place; put a * ahead"


def words_used(tree: ast.Module) -> Iterator[str]:
    """Names that a module asks for: by themselves, of something, or as a path in quotes such as "bank.quantity"."""
    offered = {id(one) for node in tree.body if isinstance(node, ast.Assign) and "__all__" in ast.dump(node) for one in ast.walk(node)}
    texts = {id(one) for one in words_of(tree)} - offered
    for node in ast.walk(tree):
        if isinstance(node, ast.ImportFrom):
            yield from (one.name for one in node.names if one.asname not in (None, one.name))
        if isinstance(node, (ast.Name, ast.Attribute)) and isinstance(node.ctx, ast.Load):
            yield node.id if isinstance(node, ast.Name) else node.attr
        elif id(node) in texts and re.fullmatch(r"[\w.:+ ]+", node.value):
            yield from re.findall(r"\w+", node.value)


def names_made(tree: ast.Module) -> Iterator[str]:
    """Functions, classes and constants of a module; fields and methods of its classes."""
    of_classes = [inner for node in tree.body if isinstance(node, ast.ClassDef) for inner in node.body if not isinstance(inner, ast.Assign)]
    for node in [*tree.body, *of_classes]:  # but for members of an enum, which are asked for by their values
        if isinstance(node, (ast.FunctionDef, ast.ClassDef)):
            yield node.name
        for target in node.targets if isinstance(node, ast.Assign) else [node.target] if isinstance(node, ast.AnnAssign) else ():
            yield from (one.id for one in ast.walk(target) if isinstance(one, ast.Name))


CALLED_FROM_OUTSIDE = {  # names that nothing in batch/ asks for, and who does
    "nm": "a torque is taken apart into its figure and its words", "has_heating_rating": "a contactor's rating is taken apart too",
    "schema": "the templates of the papers",
    "_get_packager": "the library that writes workbooks", "_write_shared_strings_file": "the same",
    **{f"_take_{table}": "vocabulary, by the name of the table" for table in ("words", "numbers", "units", "headings", "roles", "cased")},
}  # fmt: skip
STARTED = {"batch.__main__", "batch.cli.launch", "batch.watch.menu_call"}  # by the shell, a launcher, the menu of the spreadsheet program


def test_nothing_in_batch_is_there_for_the_tests_alone() -> None:
    used = {word for _, tree in trees(list(MODULES)) for word in words_used(tree)} | set(CALLED_FROM_OUTSIDE)
    made = {f"{module}.{name}" for module, tree in trees(list(MODULES)) for name in names_made(tree) if not name.startswith("__")}
    assert sorted(name for name in made if name.rsplit(".", 1)[1] not in used) == []
    asked = {name for path in MODULES.values() for name in imports(path)}
    rooms = {module for module, path in MODULES.items() if path.name == "__init__.py"}
    assert set(MODULES) - asked - rooms == STARTED


LONGEST = 60  # lines of a function, with its docstring


@pytest.mark.parametrize("module", MODULES)
def test_no_function_is_too_long_to_read(module: str) -> None:
    """A function reads top to bottom on one screen or two; what is longer is cut by subject."""
    [(_, tree)] = trees([module])
    long = {
        node.name: node.end_lineno - node.lineno + 1
        for node in ast.walk(tree)
        if isinstance(node, (ast.FunctionDef, ast.AsyncFunctionDef)) and node.end_lineno - node.lineno >= LONGEST
    }
    assert long == {}, module


# --- result sheets: each column declared once, with its value

TABLES = [module for module in MODULES if re.fullmatch(r"batch\.schedules\.\w+_(schedule|list)", module)]
TABLES.remove("batch.schedules.wiring_list")  # the conductors themselves
READERS = {"sheets", "records", "intake", "comparing", "reopening", "filling"}  # areas that handle any input column, whatever it is for


def test_every_result_sheet_is_a_file_of_its_own() -> None:
    declared = [one for module in TABLES for one in vars(importlib.import_module(module)).values() if isinstance(one, Schedule)]
    assert len(TABLES) == len(declared) == len(RESULTS) and {one.id for one in declared} == {one.id for one in RESULTS}


@pytest.mark.parametrize("sheet", RESULTS, ids=lambda sheet: sheet.id)
def test_every_result_column_is_declared_with_its_value(sheet: Schedule) -> None:
    assert [column.key for column in sheet.columns if not (isinstance(column.value, str) or callable(column.value))] == []
    assert all(column.help for column in sheet.columns)


def test_no_input_column_has_a_value() -> None:
    assert [column.key for sheet in (*INPUTS, FILLED) for column in sheet.columns if column.value is not None] == []


@pytest.mark.parametrize("module", TABLES)
def test_no_second_list_of_keys(module: str) -> None:
    """A dictionary written out key by key would be one."""
    for node in ast.walk(ast.parse(Path(MODULES[module]).read_text(encoding="utf-8"))):
        assert not (isinstance(node, ast.Dict) and node.keys), f"{module}:{node.lineno}: a value belongs beside its column"


@pytest.mark.parametrize("sheet", RESULTS, ids=lambda sheet: sheet.id)
def test_rows_hold_the_columns_and_nothing_else(sheet: Schedule) -> None:
    found = list(sheet.rows_of(every_finding()))
    assert found or sheet.id in ("carried_forward", "how_read", "earth_faults")  # of other jobs
    assert all(set(row) == set(sheet.by_key) for row in found)


@cache
def every_finding() -> JobResult:
    result = size_job(read(HERE / "every-finding.xlsx"))
    return replace(result, checks=reconcile(result))


def named_in(path: Path) -> set[str]:
    """Fields that a module reads: attributes, names in quotes, and each part of a path such as "bank.quantity"."""
    found = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Attribute):
            found.add(node.attr)
        elif isinstance(node, ast.Constant) and isinstance(node.value, str) and re.fullmatch(r"\w+(\.\w+)*", node.value):
            found |= set(node.value.split("."))
    return found


def test_every_input_column_is_used_by_something() -> None:
    used = set().union(*(named_in(path) for module, path in MODULES.items() if module.split(".")[1:2] not in [[area] for area in READERS]))
    unused = {sheet.id: {column.key for column in sheet.columns} - used for sheet in INPUTS}
    assert unused == {sheet.id: set() for sheet in INPUTS}
