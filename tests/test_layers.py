"""Data flows one way: an import that runs back, a cycle, or a reader in the sizing core fails here. Sources are read, nothing runs."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[1]
PACKAGE = ROOT / "batch"

# Lowest first. A module may import from its own layer and the ones before it.
LAYERS: tuple[frozenset[str], ...] = (
    frozenset({"counted_words", "errors", "file_names", "held_once", "program", "toml_text"}),
    frozenset({"whole_file"}),
    frozenset({"map_beside"}),
    frozenset({"findings", "sheets", "systems", "units"}),
    frozenset({"origin"}),
    frozenset({"money_records", "received_rows", "section_records", "used_settings"}),
    frozenset({"records"}),
    frozenset({"rules"}),
    frozenset({"method"}),
    frozenset({"box_results"}),
    frozenset({"control_results", "earth_fault_results", "heat_results", "material_lines", "money_results", "results", "supply_results",
               "unsized_results"}),
    frozenset({"price"}),
    frozenset({"sizing"}),
    frozenset({"schedules"}),
    frozenset({"ooxml"}),
    frozenset({"intake"}),
    frozenset({"comparing"}),
    frozenset({"reopening"}),
    frozenset({"writing"}),
    frozenset({"drawings"}),
    frozenset({"quoting"}),  # what goes to the customer
    frozenset({"report"}),
    frozenset({"papers"}),
    frozenset({"filling"}),  # the customer's own sheet
    frozenset({"closing_counts", "firm_folder", "plain_tables"}),
    frozenset({"written_results"}),
    frozenset({"batch"}),  # batch/__init__.py, the public verbs
    frozenset({"watch"}),  # folders of bids
    frozenset({"cli"}),
    frozenset({"__main__"}),
)
NEVER: dict[str, frozenset[str]] = {
    "intake": frozenset({"rules", "sizing", "schedules", "report", "results", "heat_results", "unsized_results"}),  # knows files, no rule
    "sizing": frozenset({"intake", "sheets"}),  # never sees a workbook or a heading
    "report": frozenset({"intake", "rules", "sizing"}),  # computes no engineering value
    "rules": frozenset({"sheets", "records"}),
}
FOREIGN_IN_SIZING = ("openpyxl", "xlsxwriter", "python_calamine", "pathlib", "pandas", "numpy", "rich", "os", "sys")
ALLOWED_BACK = {
    ("results", "schedules"): "JobResult.frames() loads it for whoever asks",
}


def area(module: str) -> str:
    """"batch.rules.tables" belongs to the area "rules"; "batch" itself to "batch"."""
    parts = module.split(".")
    return parts[1] if len(parts) > 1 else "batch"


def modules() -> dict[str, Path]:
    found = {}
    for path in sorted(PACKAGE.rglob("*.py")):
        parts = path.relative_to(ROOT).with_suffix("").parts
        found[".".join(parts[:-1] if parts[-1] == "__init__" else parts)] = path
    return found


MODULES = modules()


def imports(path: Path, top_only: bool = False) -> list[str]:
    """Modules that a file imports; `from batch.rules import tables` counts as batch.rules.tables where that is a module."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    found = []
    for node in tree.body if top_only else ast.walk(tree):
        if isinstance(node, ast.Import):
            found += [name.name for name in node.names]
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{path}: relative import; name the module in full"
            found += [f"{node.module}.{name.name}" if f"{node.module}.{name.name}" in MODULES else node.module for name in node.names]
    return found


def own(names: list[str]) -> list[str]:
    return [name for name in names if name == "batch" or name.startswith("batch.")]


def test_every_area_has_a_layer() -> None:
    areas = {area(module) for module in MODULES}
    assert areas <= frozenset().union(*LAYERS), "put the new area into LAYERS, where its imports allow"


@pytest.mark.parametrize("module", MODULES)
def test_no_import_runs_back(module: str) -> None:
    rank = {name: at for at, layer in enumerate(LAYERS) for name in layer}
    here = area(module)
    for name in own(imports(MODULES[module])):
        there = area(name)
        if there == "batch" and here not in ("watch", "cli", "__main__") and name == "batch":
            pytest.fail(f"{module} imports the public verbs; import the module that has what it needs")
        if (here, there) in ALLOWED_BACK:
            continue
        assert rank[there] <= rank[here], f"{module} imports {name}: that arrow runs back"
        assert there not in NEVER.get(here, ()), f"{module} imports {name}: {here} must not know {there}"


def test_nothing_imports_the_command_line() -> None:
    for module, path in MODULES.items():
        if area(module) not in ("cli", "__main__"):
            assert not any(name.startswith("batch.cli") for name in imports(path)), module


def test_no_cycle_when_loading() -> None:
    arrows = {module: set(own(imports(path, top_only=True))) - {module} for module, path in MODULES.items()}
    done: set[str] = set()
    while left := {module: targets - done for module, targets in arrows.items() if module not in done}:
        free = {module for module, targets in left.items() if not targets}
        assert free, f"these import each other: {sorted(left)}"
        done |= free


@pytest.mark.parametrize("module", [module for module in MODULES if area(module) == "sizing"])
def test_sizing_is_pure(module: str) -> None:
    for name in imports(MODULES[module]):
        assert name.split(".")[0] not in FOREIGN_IN_SIZING, f"{module} imports {name}"


@pytest.mark.parametrize("module", MODULES)
def test_only_the_command_line_prints(module: str) -> None:
    if area(module) == "cli":
        return
    for node in ast.walk(ast.parse(MODULES[module].read_text(encoding="utf-8"))):
        assert not (isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "print"), f"{module} prints"


@pytest.mark.parametrize("module", MODULES)
def test_no_assert_and_no_bare_except(module: str) -> None:
    for node in ast.walk(ast.parse(MODULES[module].read_text(encoding="utf-8"))):
        assert not isinstance(node, ast.Assert), f"{module}:{node.lineno}: assert vanishes under -O; raise instead"
        assert not (isinstance(node, ast.ExceptHandler) and node.type is None), f"{module}:{node.lineno}: bare except"


@pytest.mark.parametrize("module", MODULES)
def test_modules_stay_readable(module: str) -> None:
    assert len(MODULES[module].read_text(encoding="utf-8").splitlines()) <= 400, f"{module} is over 400 lines: a new room is wanted"


def test_every_package_is_in_the_wheel() -> None:
    import tomllib

    listed = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["tool"]["setuptools"]["packages"]
    folders = {".".join(path.parent.relative_to(ROOT).parts) for path in PACKAGE.rglob("*.py")}
    beside = {"batch.papers.templates"}  # text templates, which stand at the top of a checkout
    assert sorted(listed) == sorted(folders | beside | {name for name in listed if name.startswith("batch.rules.")})
