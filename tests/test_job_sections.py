"""A job of more banks than one workbook holds well: nothing that hangs together is parted, and its sections come to the job."""

from __future__ import annotations

import pickle
from collections import Counter
from collections.abc import Callable
from itertools import product
from pathlib import Path

import openpyxl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

import batch
from batch.cli.app import main
from batch.errors import ToBeDivided
from batch.file_names import job_name, results_name
from batch.intake.job import read
from batch.money_records import OtherCost
from batch.origin import Origin
from batch.records import Bank, Feeder, Job, PowerSource, UnreadBank
from batch.results import JobResult
from batch.schedules import rows
from batch.schedules.reconciliation import reconcile
from batch.sizing import job_sections
from batch.sizing.job_sections import may_be_divided, sections_of
from batch.sizing.project import size_job
from batch.sizing.section_counts import counts_of, told
from batch.watch.sections import save_sections
from tests.make_samples import HERE

PLANT = HERE / "whole-plant.xlsx"
SAME = (
    "banks", "panels", "circuits", "source_totals", "feeder_totals", "distribution", "boxes", "heat", "control", "panel_labels",
    "control_labels", "wiring_tags",
)  # fmt: skip
NAMED_WITHIN = {"type", "ladder", "wired_as", "build_no", "owner_no"}  # in each section by itself


@pytest.fixture(scope="module")
def plant() -> Job:
    return read(PLANT)


@pytest.fixture
def small(monkeypatch: pytest.MonkeyPatch) -> None:
    """A workbook holds so little that the samples are divided."""
    monkeypatch.setattr(job_sections, "MOST", 100)
    monkeypatch.setattr(sections_of, "__defaults__", (150,))


def places(records) -> Counter:
    return Counter(one.origin.address for one in records)


def with_their_feeders(sections: list[Job]) -> bool:
    """Whether each heater that names a feeder has it in its section."""
    return all(
        bank.feeder is None or any((feeder.project, feeder.feeder) == (bank.project, bank.feeder) for feeder in one.feeders)
        for one in sections for bank in one.banks
    )  # fmt: skip


@pytest.mark.parametrize("most", [1, 40, 150])
def test_every_row_is_in_one_section_and_a_project_in_each_that_has_heaters_of_it(plant: Job, most: int) -> None:
    sections = sections_of(plant, most)
    for field in ("banks", "tanks", "feeders", "sources"):
        assert sum((places(getattr(one, field)) for one in sections), Counter()) == places(getattr(plant, field)), field
    for one in sections:
        assert {bank.project for bank in one.banks} <= {project.project for project in one.projects} != set()
    for table in plant.received:
        shown = Counter(row.row for one in sections for of in one.received if of.sheet == table.sheet for row in of.rows)
        assert set(shown) == {row.row for row in table.rows}, table.sheet
        assert table.kind == "projects" or set(shown.values()) == {1}, table.sheet
    said = [finding for one in sections for finding in one.findings]
    assert all(finding in said for finding in plant.findings)


@pytest.mark.parametrize("most", [1, 40, 150])
def test_no_feeder_tank_or_source_is_in_two_sections(plant: Job, most: int) -> None:
    sections = sections_of(plant, most)
    assert len(sections) > 2
    for of in (
        lambda job: {(bank.project, bank.tank.casefold()) for bank in job.banks},
        lambda job: {(bank.project, (bank.feeder or "").casefold()) for bank in job.banks},
        lambda job: {(feeder.project, feeder.source.casefold()) for feeder in job.feeders if feeder.source},
    ):
        assert max(Counter(tag for one in sections for tag in of(one)).values()) == 1


FEEDERS = tuple(
    Feeder(project, tag, 480.0, 3, source=None if tag == "F1" else "T1", origin=Origin("Feeders", row))
    for row, (project, tag) in enumerate(product("PQ", ("F1", "F2", "F3")), 2)
)
SOURCES = tuple(PowerSource(project, "T1", origin=Origin("Sources", row)) for row, project in enumerate("PQ", 2))
ROWS = st.tuples(st.sampled_from("PQ"), st.sampled_from(("a", "A", "b", "c", "d", "e")), st.sampled_from(("F1", "f2 ", "F3", "F4", None)))


@settings(deadline=None)
@given(st.lists(ROWS, max_size=14), st.lists(ROWS, max_size=2), st.integers(1, 6))
def test_whatever_the_rows_what_may_hang_together_is_together(rows: list, unread: list, most: int) -> None:
    """A row has beside it the feeder that it names, or all of its project where that is none of them; its tank's other rows too."""
    banks = tuple(Bank(*row[:2], feeder=row[2], quantity=1, origin=Origin("Heaters", at)) for at, row in enumerate(rows, 2))
    lost = tuple(UnreadBank(*row[:2], feeder=row[2] or "", origin=Origin("Heaters", at)) for at, row in enumerate(unread, 50))
    sections = sections_of(Job("x.xlsx", "", feeders=FEEDERS, sources=SOURCES, banks=banks, unread=lost), most)
    for field, whole in (("banks", banks), ("unread", lost), ("feeders", FEEDERS), ("sources", SOURCES)):
        assert Counter(one for job in sections for one in getattr(job, field)) == Counter(whole)
    for job in sections:
        here = {(one.project, one.feeder.casefold()) for one in job.feeders}
        assert {(one.project, one.source) for one in job.feeders if one.source} <= {(one.project, one.source) for one in job.sources}
        for row in (*job.banks, *job.unread):
            named = (row.project, (row.feeder or "").strip().casefold())
            every = {(one.project, one.feeder.casefold()) for one in FEEDERS if one.project == row.project}
            assert {named} <= here if named in every else every <= here
    tanks = Counter(tank for job in sections for tank in {(one.project, one.tank.casefold()) for one in (*job.banks, *job.unread)})
    assert set(tanks.values()) <= {1}


def test_sections_are_filled_evenly_and_no_further_than_asked(plant: Job) -> None:
    counts = [len(one.banks) for one in sections_of(plant, 150)]
    assert max(counts) <= 150 and sum(counts) == len(plant.banks) and min(counts) > 100


def sized(sections: list[Job]) -> list[JobResult]:
    """As a run sizes them: counted first, then each with what the whole comes to."""
    counts = [counts_of(size_job(one)) for one in sections]
    return [size_job(told(one, counts)) for one in sections]


Typed = dict[tuple[str, str, int], object]  # by kind of sheet, key of column and row


def typed_into(plant: Job, typed: Typed, path: Path) -> Path:
    """The plant's workbook with other values in some cells."""
    workbook = openpyxl.load_workbook(PLANT)
    tables = {table.kind: table for table in plant.received}
    for (kind, key, row), value in typed.items():
        table = tables[kind]
        workbook[table.sheet].cell(row, table.first + table.keys.index(key) + 1).value = value
    workbook.save(path)
    return path


def as_it_is(plant: Job) -> Typed:
    return {}


def heat_of_the_last_alone(plant: Job) -> Typed:
    """Its Tanks sheet says of the last tank alone how it works."""
    return {("tanks", "operating_c", one.origin.row): None for one in plant.tanks if one.tank != plant.banks[-1].tank}


def limits_of_nearly_all(plant: Job) -> Typed:
    """One of twelve banks has an over-temperature limit, and they stand together: of all nine in ten have none, of one section fewer."""
    some = {bank.origin.row for bank in plant.banks[: len(plant.banks) // 12]}
    return {("heaters", "over_temperature_limit", bank.origin.row): "yes" if bank.origin.row in some else "no" for bank in plant.banks}


def a_row_of_no_project(plant: Job) -> Typed:
    """The last row names a feeder of the last project, in a project that is not listed."""
    return {("heaters", "project", plant.banks[-1].origin.row): "Nobody's"}


@pytest.mark.parametrize("changed", [as_it_is, heat_of_the_last_alone, limits_of_nearly_all, a_row_of_no_project])
def test_the_rows_of_all_sections_are_those_of_the_job(plant: Job, changed: Callable[[Job], Typed], tmp_path: Path) -> None:
    """Each figure and word of each row, its status too, and every check of each section passes."""
    job = read(typed_into(plant, changed(plant), tmp_path / PLANT.name)) if changed(plant) else plant
    whole, sections = size_job(job), sections_of(job, 150)
    assert len(sections) > 2
    parts = sized(sections)
    for one in parts:
        assert [check for check in reconcile(one) if not check.passes] == []
    for sheet in SAME:
        of_whole, of_parts = (
            Counter(
                str([(key, value) for key, value in row.items() if key not in NAMED_WITHIN])
                for result in some for row in rows(result, sheet)
            )
            for some in ([whole], parts)
        )
        assert of_whole and of_parts == of_whole, sheet


def test_a_row_of_no_listed_project_that_names_no_feeder_is_told_of_every_feeder(plant: Job, tmp_path: Path) -> None:
    """It may hang on any, so none of them is released; and the job is still divided."""
    row = plant.banks[-1].origin.row
    job = read(typed_into(plant, {("heaters", "project", row): "Nobody's", ("heaters", "feeder", row): None}, tmp_path / PLANT.name))
    sections = sections_of(job, 150)
    assert len(sections) > 2 and [[lost.origin.row for lost in one.unread] for one in sections] == [[row]] * len(sections)
    words = {str(line["open"]) for one in sized(sections) for line in rows(one, "feeder_totals")}
    assert all("of no listed project, may hang on it" in one for one in words)


def test_a_heater_that_names_no_feeder_keeps_its_project_together(plant: Job) -> None:
    """What it may hang on is asked of all feeders of the project, so they must be beside each other."""
    last = plant.banks[-1]
    for field, loose in (("banks", replace(last, feeder=None)), ("unread", UnreadBank(last.project, why="?", origin=last.origin))):
        job = replace(plant, **{field: (*getattr(plant, field)[:-1], loose)})
        sections = sections_of(job, 40)
        assert sum(last.project in {bank.project for bank in one.banks} for one in sections) == 1
        assert with_their_feeders(sections)


def test_a_row_of_several_tanks_is_in_one_section(plant: Job) -> None:
    """Whatever feeders they hang on: its row stands once, and each of its heaters is sized once."""
    first, last = plant.banks[0], plant.banks[-1]
    row = (first, replace(last, project=first.project, feeder=next(f.feeder for f in reversed(plant.feeders) if f.project == first.project),
                          origin=replace(first.origin, turn=1)))  # fmt: skip
    sections = sections_of(replace(plant, banks=(*row, *plant.banks[1:-1])), 1)
    assert [len([bank for bank in one.banks if bank.origin.row == first.origin.row]) for one in sections if first in one.banks] == [2]
    assert sum(len(one.banks) for one in sections) == len(plant.banks) and with_their_feeders(sections)


def test_a_feeder_of_a_source_that_is_not_listed_keeps_its_project_together(plant: Job) -> None:
    """What it says names the sources that there are."""
    first = plant.banks[0]
    feeders = tuple(replace(one, source="?") if one.feeder == first.feeder else one for one in plant.feeders)
    parted = [{bank.project for bank in one.banks} for one in sections_of(replace(plant, feeders=feeders), 40)]
    assert sum(first.project in names for names in parted) == 1


def test_a_job_that_is_priced_or_a_customer_s_list_is_not_divided(plant: Job, small: None) -> None:
    """Lots, price breaks and what a project has once are of the whole; a list's rows say more where they stand."""
    assert may_be_divided(plant)
    assert not may_be_divided(replace(plant, other_costs=(OtherCost("P", what="crane"),)))
    assert not may_be_divided(read(HERE / "customer-list.xlsx"))
    assert not may_be_divided(replace(plant, banks=plant.banks[:100]))


def test_what_is_saved_of_a_section_is_what_was_read(plant: Job, tmp_path: Path) -> None:
    sections = sections_of(plant, 150)
    bids = save_sections(sections, tmp_path / "JOB sized.xlsx", tmp_path)
    assert [bid.target.name for bid in bids] == [f"JOB sized {number} of 3.xlsx" for number in (1, 2, 3)]
    for one, bid in zip(sections, bids, strict=True):
        again = pickle.loads(bid.job.read_bytes())
        assert {name: getattr(again, name) for name in Job.__struct_fields__ if name != "received"} == {
            name: getattr(one, name) for name in Job.__struct_fields__ if name != "received"
        }
        assert [table.rows for table in again.received] == [table.rows for table in one.received]
        assert again.hears("hold") == plant.hears("hold")


def test_a_large_job_is_sized_in_sections_that_a_workbook_lists(tmp_path: Path, small: None, capsys: pytest.CaptureFixture) -> None:
    """One command, as for any job: a workbook a section, one that lists them where the results were to go, and nothing else left."""
    before = PLANT.read_bytes()
    assert main(["size", str(PLANT), "-o", f"{tmp_path}/out/", "--stamp", ""]) == 1
    out = tmp_path / "out"
    names = [f"whole-plant sized {number} of 3.xlsx" for number in (1, 2, 3)]
    assert sorted(path.name for path in out.iterdir()) == sorted([*names, "whole-plant sized.xlsx"])
    assert PLANT.read_bytes() == before
    sheet = openpyxl.load_workbook(out / "whole-plant sized.xlsx").active
    table = [[cell.value for cell in row] for row in sheet.iter_rows()]
    at = next(number for number, row in enumerate(table) if row[0] == "Section")
    lines = [dict(zip(table[at], row, strict=True)) for row in table[at + 1 :]]
    assert [line["Results"] for line in lines] == names and not any("price" in str(heading).casefold() for heading in table[at])
    whole = batch.check(PLANT)
    banks = [row for project in whole.projects for row in project.banks]
    assert sum(line["Banks (ea)"] for line in lines) == len(banks)
    assert sum(line["Heaters (ea)"] for line in lines) == sum(row.bank.quantity for row in banks)
    assert sum(line["Connected (kW)"] for line in lines) == pytest.approx(sum(row.design.connected_kw for row in banks))
    for name in names:
        said = batch.check(out / name)
        assert len(said.job.banks) in (144, 147, 127) and all(check.passes for check in said.checks)
    assert "3 sections" in capsys.readouterr().out


def test_a_section_that_cannot_be_written_is_said_and_stops_none(tmp_path: Path, small: None, capsys: pytest.CaptureFixture) -> None:
    (tmp_path / "whole-plant sized 2 of 3.xlsx").mkdir()
    assert main(["size", str(PLANT), "-o", f"{tmp_path}/", "--stamp", ""]) == 3
    said = capsys.readouterr()
    assert "2 of 3" in said.err and (tmp_path / "whole-plant sized 3 of 3.xlsx").is_file()
    assert (tmp_path / "whole-plant sized.xlsx").is_file()


def test_a_section_says_that_it_is_one(plant: Job) -> None:
    """Whoever opens it must not take it for the job."""
    one = sections_of(plant, 150)[1]
    assert one.name == "whole-plant 2 of 3.xlsx"
    [said] = [finding for finding in one.findings if finding.code == "job-divided"]
    assert "section 2 of 3, 147 of 418 banks" in said.message


def test_only_who_asks_for_it_is_given_sections(tmp_path: Path, small: None) -> None:
    result = batch.size(PLANT, tmp_path / "a.xlsx")
    assert len(result.job.banks) == 418
    with pytest.raises(ToBeDivided) as divided:
        batch.size(PLANT, tmp_path / "b.xlsx", may_divide=True)
    assert [len(one.banks) for one in divided.value.sections] == [144, 147, 127] and not (tmp_path / "b.xlsx").exists()


@pytest.mark.parametrize(
    ("name", "job", "results"),
    [
        ("JOB sized 03 of 11.xlsx", "JOB 03 of 11", "JOB sized 03 of 11 (2).xlsx"),
        ("JOB sized 03 of 11 (2).xlsx", "JOB 03 of 11", "JOB sized 03 of 11 (3).xlsx"),
        ("Line 3 of 4.xlsx", "Line 3 of 4", "Line 3 of 4 sized.xlsx"),
    ],
)
def test_a_section_has_names_of_its_own(name: str, job: str, results: str) -> None:
    """Its papers and its quotation are not those of the next one; a job that is called so is still a job."""
    assert (job_name(name), results_name(name)) == (job, results)

