"""A results workbook after somebody typed into it: figures follow as the sizing core would have them, and a row that is no longer as it
was sized says so, is counted, and turns Checks to FAIL. LibreOffice works every formula out anew.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from msgspec.structs import replace
from openpyxl.utils import get_column_letter
from python_calamine import CalamineWorkbook

from batch.records import Bank, Job
from batch.results import BankRow, JobResult
from batch.rules import load
from batch.schedules import RESULTS, rows
from batch.sizing.project import size_job
from batch.writing.as_sized import COPY, FLAG, WORD, extended
from batch.writing.styles import EDITED
from tests.recalculation import needs_office, recalculated
from tests.sample_results import FINDINGS, LOOKED_AT, PLANT, SMALL, opened, sized
from tests.workbook_edits import typed

DATA = 6  # first row of data, as a person counts
SHEETS = {sheet.id: extended(sheet) for sheet in RESULTS}
SAYING = ("banks", "panels", "feeder_totals")
BANK_FORMULAS = (
    "applied_v", "volts_off_pct", "heater_a", "design_a", "running_a", "required_a", "rating_a", "branches", "connected_kw", "delivered_kw",
)  # fmt: skip

pytestmark = needs_office


class Values:
    """A workbook's values, by sheet and column key."""

    def __init__(self, path: Path) -> None:
        self._book = CalamineWorkbook.from_path(str(path))
        self._grids: dict[str, list[list[object]]] = {}

    def grid(self, name: str) -> list[list[object]]:
        if name not in self._grids:
            self._grids[name] = self._book.get_sheet_by_name(name).to_python(skip_empty_area=False)
        return self._grids[name]

    def cell(self, id: str, key: str, at: int) -> object:
        """Value of a column in the schedule's row `at`, counted from nought."""
        return self.grid(SHEETS[id].name)[DATA - 1 + at][_place(id, key)]

    def total(self, id: str, key: str) -> object:
        return self.grid(SHEETS[id].name)[2][_place(id, key)]

    def beside(self, name: str, label: str, step: int = 1) -> object:
        """What stands `step` cells after the first cell that says `label`."""
        for row in self.grid(name):
            if label in row:
                return row[row.index(label) + step]
        raise LookupError(label)

    def below(self, name: str, label: str) -> object:
        grid = self.grid(name)
        for at, row in enumerate(grid):
            if label in row:
                return grid[at + 1][row.index(label)]
        raise LookupError(label)


def _place(id: str, key: str) -> int:
    return [column.key for column in SHEETS[id].columns].index(key)


def address(id: str, key: str, at: int) -> str:
    return f"{get_column_letter(_place(id, key) + 1)}{DATA + at}"


def is_live(name: str, id: str, key: str, at: int) -> bool:
    return opened(name)[SHEETS[id].name][address(id, key, at)].data_type == "f"


def banks_of(result: JobResult) -> Iterator[tuple[str, BankRow]]:
    """Rows of Banks as the sheet has them."""
    return ((one.project.project, row) for one in result.projects for row in one.banks)


def places_of(result: JobResult) -> list[int]:
    """Where on Banks each of them stands, from nought: rows not sized stand there too."""
    return [at for at, row in enumerate(rows(result, "banks")) if row["status"] != "not sized"]


def edited_records(job: Job, changes: dict[Bank, Bank]) -> Job:
    return replace(job, banks=tuple(changes.get(bank, bank) for bank in job.banks))


# Figures follow an edit as the core has them


def formulas_of(name: str) -> tuple[str, ...]:
    """Columns of Banks that follow an edit; ratings do where all projects of the job have one list of them."""
    codes = {load(one.rule_set) for one in sized(name).result.projects}
    one_list = len({tuple(code.standard_ratings("fuse")) for code in codes}) == 1
    return BANK_FORMULAS if one_list else tuple(key for key in BANK_FORMULAS if key != "rating_a")


def _plan(name: str) -> dict[int, dict[str, float]]:
    """Row of Banks -> what is typed into it: other watts, volts and counts that leave the connection and the circuits as they were."""
    plan: dict[int, dict[str, float]] = {}
    for at, (_, row) in zip(places_of(sized(name).result), banks_of(sized(name).result), strict=True):
        design, bank = row.design, row.bank
        if (
            design.circuits_per_heater != 1
            or bank.fixed_rating_a is not None
            or not row.feeder.origin.row  # a supply that is assumed from the heaters' volts is another with other volts
            or not all(is_live(name, "banks", k, at) for k in formulas_of(name))
        ):
            continue
        choice = at % 4
        if choice == 0:
            plan[at] = {"power_kw": round(bank.power_kw * 0.83, 3)}
        elif choice == 1:
            plan[at] = {"volts_v": round(bank.volts_v * 1.03, 1)}
        elif choice == 2 and bank.quantity % 3 == 0:
            plan[at] = {"quantity": bank.quantity * 2}
        elif design.design_a < 30:
            plan[at] = {"power_kw": bank.power_kw * 1.5, "volts_v": bank.volts_v * 1.01}
    return plan


@pytest.mark.parametrize("name", LOOKED_AT)
def test_currents_ratings_and_totals_follow_an_edit_as_the_core_would_size_it(name: str, tmp_path: Path) -> None:
    result, plan = sized(name).result, _plan(name)
    banks = dict(zip(places_of(result), (row for _, row in banks_of(result)), strict=True))
    assert len(plan) >= min(6, len(banks) // 3)
    cells = {address("banks", key, at): value for at, change in plan.items() for key, value in change.items()}
    book = typed(sized(name).path, tmp_path / "edited.xlsx", {"Banks": cells})
    got = Values(recalculated(book, tmp_path))

    fresh = size_job(edited_records(result.job, {banks[at].bank: replace(banks[at].bank, **change) for at, change in plan.items()}))
    expected = rows(fresh, "banks")
    before = rows(result, "banks")
    moved = 0
    for at, row in enumerate(expected):
        if row["status"] == "not sized":
            assert before[at]["status"] == "not sized"
            continue
        assert row["connection"].partition(",")[0] == before[at]["connection"].partition(",")[0]
        lone = at in plan and "single circuit" in (row["arrangement"], before[at]["arrangement"])
        for key in formulas_of(name):
            if lone and key in ("required_a", "rating_a", "branches"):
                row[key] = got.cell("banks", key, at)  # one OCPD for the whole bank, or none any more: not live; the row says "edited"
                continue
            assert got.cell("banks", key, at) == pytest.approx(row[key], rel=1e-9), (row["tank"], row["bank"], key)
            moved += row[key] != before[at][key]
    assert moved > 2 * len(plan)
    for key in ("quantity", "branches", "connected_kw", "delivered_kw"):
        assert got.total("banks", key) == pytest.approx(sum(row[key] or 0 for row in expected), rel=1e-9)
    for one in fresh.projects:
        own = [row for row in expected if row["project"] == one.project.project]
        for label, key in (
            ("Heaters", "quantity"),
            ("Branches", "branches"),
            ("Connected (kW)", "connected_kw"),
            ("Delivered (kW)", "delivered_kw"),
        ):
            figure = got.below(f"Summary {one.project.project}".strip(), label)
            assert figure == pytest.approx(sum(row[key] or 0 for row in own), rel=1e-9)
    said = [at for at in range(len(before)) if got.cell("banks", WORD, at) == EDITED]
    assert said == sorted(plan)


@pytest.mark.parametrize("name", [SMALL, PLANT])
def test_another_margin_gives_the_core_s_devices_on_every_sheet(name: str, tmp_path: Path) -> None:
    """40 % instead of the projects' own, typed into every row that states it."""
    result = sized(name).result
    edits = {SHEETS[id].name: {address(id, "margin_pct", at): 40 for at in range(len(rows(result, id)))} for id in SAYING}
    got = Values(recalculated(typed(sized(name).path, tmp_path / "edited.xlsx", edits), tmp_path))
    job = result.job
    fresh = size_job(replace(job, projects=tuple(replace(one, margin_pct=40.0) for one in job.projects)))
    compared = dict.fromkeys(SAYING, 0)
    before = {id: rows(result, id) for id in SAYING}
    for id, keys in (
        ("banks", ("required_a", "rating_a")),
        ("panels", ("required_a", "panel_feeder_device_a")),
        ("feeder_totals", ("required_a", "device_a")),
    ):
        again = {tuple(row[key] for key in SHEETS[id].key): row for row in rows(fresh, id)}
        for at, row in enumerate(before[id]):
            new = again.get(tuple(row[key] for key in SHEETS[id].key))
            alike = new is not None and all(new.get(key) == row.get(key) for key in ("circuits_per_heater", "branches", "maximum_a"))
            if not alike:
                continue  # another margin may ask for more circuits, which is not live; the row says "edited" as all do
            assert got.cell(id, WORD, at) == EDITED
            for key in keys:
                if is_live(name, id, key, at):
                    assert got.cell(id, key, at) == pytest.approx(new[key], rel=1e-9), (id, at, key)
                    compared[id] += 1
    assert compared["banks"] > len(before["banks"])
    assert compared["panels"] > len(before["panels"]) // 2
    assert compared["feeder_totals"] > 0


# A row that is no longer as it was sized says so


def _one_edit_each() -> list[tuple[str, str, int, object]]:
    """Every column that is kept as sized, each on a row of its own: (sheet id, key, row, what is typed)."""
    edits = []
    for id in SAYING:
        listed = rows(sized(FINDINGS).result, id)
        for at, key in enumerate(next(sheet for sheet in RESULTS if sheet.id == id).as_sized):
            held = listed[at][key]
            value = "other" if isinstance(held, str) else (held or 0) + 1
            edits.append((id, key, at, value))
    return edits


def test_each_edit_is_said_by_its_row_counted_and_turns_checks_to_fail(tmp_path: Path) -> None:
    edits = _one_edit_each()
    count = len(edits)
    assert count > 15
    listed = {id: rows(sized(FINDINGS).result, id) for id in SAYING}
    edits += [
        ("banks", "power_kw", 40, None),  # emptied
        ("banks", "volts_v", 41, "480 V"),  # words where a figure stood
        ("banks", "quantity", 42, listed["banks"][42]["quantity"]),  # typed over with itself: no edit
        ("banks", "notes", 43, "a note"),  # nothing was sized with it
    ]
    changed = {(id, at) for id, _, at, _ in edits[:count]} | {("banks", 40), ("banks", 41)}
    cells: dict[str, dict[str, object]] = {}
    for id, key, at, value in edits:
        cells.setdefault(SHEETS[id].name, {})[address(id, key, at)] = value
    got = Values(recalculated(typed(sized(FINDINGS).path, tmp_path / "edited.xlsx", cells), tmp_path))
    said = {(id, at) for id in SAYING for at in range(len(listed[id])) if got.cell(id, WORD, at) == EDITED}
    assert said == changed
    assert {got.cell(id, WORD, at) for id in SAYING for at in range(len(listed[id]))} == {"", EDITED}
    assert got.beside("Read first", "Rows edited since sizing") == len(changed)
    assert got.beside("Read first", "All checks together") == "FAIL"
    assert got.beside("Checks", "Rows edited since sizing = none") == len(changed)
    assert got.beside("Checks", "Rows edited since sizing = none", 5) == "FAIL"
    by_project: dict[str, int] = {}
    for id, at in changed:
        project = listed[id][at]["project"]
        by_project[project] = by_project.get(project, 0) + 1
    for one in sized(FINDINGS).result.projects:
        name = f"Summary {one.project.project}"
        assert got.beside(name, "Rows edited", 2) == by_project.get(one.project.project, 0)
        assert got.beside(name, "Checks") == "FAIL: see Checks"


@pytest.mark.parametrize("name", LOOKED_AT)
def test_a_new_workbook_keeps_what_it_was_sized_with_out_of_sight_and_says_nothing(name: str) -> None:
    for id in SAYING:
        sheet, spec = opened(name)[SHEETS[id].name], SHEETS[id]
        first = _place(id, FLAG)
        assert [column.key for column in spec.columns[first + 1 :]] == [
            COPY + key for key in next(s for s in RESULTS if s.id == id).as_sized
        ]
        dimension = sheet.column_dimensions[get_column_letter(first + 1)]
        assert (dimension.min, dimension.hidden, dimension.outlineLevel) == (first + 1, True, 1)
        behind = [d for d in sheet.column_dimensions.values() if d.min > first]  # the groups before it may be folded too
        assert sum(d.max - d.min + 1 for d in behind if d.hidden) == len(spec.columns) - first
        for row in sheet.iter_rows(min_row=DATA):
            for key in next(s for s in RESULTS if s.id == id).as_sized:
                given, kept = row[_place(id, key)], row[_place(id, COPY + key)]
                assert kept.data_type != "f"
                assert given.data_type == "f" or given.value == kept.value
