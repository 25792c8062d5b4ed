"""What is written of a job takes the time and memory of its rows, and not of their square: ten thousand banks stay one run.

Nothing is timed. Each list of a project's rows counts how often it is gone through from end to end while results are written: a job of
twice the rows must not go through them more often. So a sheet that searches all banks for each of its rows fails here. Within one tank
what its control circuit is made of counts how often it is looked at, which must keep to the number of its banks.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from pathlib import Path

import pytest
from msgspec.structs import replace

import batch
from batch.control_results import Coil, ControlFeed, ControlSupply, ControlWire, Element
from batch.drawings.one_line_words import feds_of
from batch.findings import find, remark
from batch.intake import counts_beside, said_in_rows, witnesses
from batch.intake.line_kinds import Line
from batch.intake.tags import head_of
from batch.intake.verdict import tanks_named
from batch.report import write
from batch.results import JobResult
from batch.schedules import each_row
from batch.schedules.finding_list import spread_words
from batch.sizing.control_ladder import LimitStrip
from tests.benchmarks import jobs
from tests.intake_book import book, read_bytes
from tests.job_builder import bank, feeder, size

LISTS = ("feeders", "banks", "types", "heat", "sources", "controls", "not_sized")


class Counted(tuple):
    """Rows that count how often they are gone through."""

    times: Counter
    name: str

    def __iter__(self) -> Iterator:
        self.times[self.name] += 1
        return super().__iter__()


def counted(result: JobResult, times: Counter) -> JobResult:
    [project] = result.projects
    lists = {}
    for name in LISTS:
        lists[name] = rows = Counted(getattr(project, name))
        rows.times, rows.name = times, name
    return replace(result, projects=(replace(project, **lists),))


def gone_through(path: Path, banks: int) -> tuple[Counter, JobResult]:
    """How often each list is gone through while results are written."""
    jobs.write(path, banks, distribution="ours")
    times: Counter = Counter()
    result = counted(batch.check(path), times)
    write(result, path.with_name(f"{banks} sized.xlsx"))
    return times, result


def test_no_sheet_searches_all_rows_for_each_of_its_rows(tmp_path: Path) -> None:
    few, small = gone_through(tmp_path / "few.xlsx", 60)
    many, large = gone_through(tmp_path / "many.xlsx", 240)
    assert all(few[name] for name in ("feeders", "banks", "controls"))
    rows = {name: (len(getattr(small.projects[0], name)), len(getattr(large.projects[0], name))) for name in LISTS}
    grown = {name: (few[name], many[name]) for name in LISTS if many[name] > few[name]}
    assert not grown, f"gone through more often in a job of more rows {rows}"


def test_rows_of_money_are_made_when_they_are_written(tmp_path: Path) -> None:
    """They are ten a bank, and were all in memory while the sheets before them were written: 7 kB a bank."""
    jobs.write(tmp_path / "job.xlsx", 30)
    asked: list[str] = []

    def rows(result: JobResult, id: str) -> Iterable[dict]:
        asked.append(id)
        return each_row(result, id)

    write(batch.check(tmp_path / "job.xlsx"), tmp_path / "sized.xlsx", rows=rows)
    assert asked.index("banks") < asked.index("materials") < asked.index("runs")


def test_a_caution_of_thousands_of_feeders_fits_its_cell() -> None:
    """It named each of them, and was cut in silence where a cell ends."""
    one = find(remark("limit-missing"), project="P", tank="T-1", bank="1")
    words = spread_words([replace(one, feeder=f"LONG-NAMED-FEEDER-{at}") for at in range(3000)])
    assert len(words) < 4000
    assert ": 3,000 feeders. LONG-NAMED-FEEDER-0: 1 bank; " in words
    assert "; LONG-NAMED-FEEDER-59: 1 bank; and 2,940 more, as their rows say. The first, of LONG-NAMED-FEEDER-0: " in words
    few = spread_words([replace(one, feeder=f"F-{at}") for at in range(60)])
    assert "F-59: 1 bank. The first" in few


def test_feeders_on_diagrams_share_what_is_of_the_project(tmp_path: Path) -> None:
    """Each had a copy of all contactors: at 10,000 banks that was 1.5 GB."""
    jobs.write(tmp_path / "job.xlsx", 60)
    feds = list(feds_of(batch.check(tmp_path / "job.xlsx"), us=True))
    assert len(feds) > 3
    assert {id(fed.feeds) for fed in feds} == {id(feds[0].feeds)}
    assert sum(len(fed.supplies) for fed in feds) == sum(len(control.supplies) for fed in feds[:1] for control in fed.project.controls)


def looked_at(monkeypatch: pytest.MonkeyPatch, banks: int, feeders: int) -> Counter:
    """How often each field of what one tank's control circuit is made of is read while the tank is sized, by its class."""
    times: Counter = Counter()

    def counting(owner: type, at: int) -> property:
        def read(record: tuple) -> object:
            times[owner.__name__] += 1
            return tuple.__getitem__(record, at)

        return property(read)

    with monkeypatch.context() as patched:
        for owner in (Element, Coil, ControlFeed, ControlSupply, ControlWire, LimitStrip):
            for at, field in enumerate(owner._fields):
                patched.setattr(owner, field, counting(owner, at))
        rows = [bank(bank=f"{at}", feeder=f"F-{at % feeders}", quantity=9, temperature_contact=f"{at // 3}") for at in range(banks)]
        result = size(rows, [feeder(feeder=f"F-{at}", wires=4) for at in range(feeders)])
    [control] = result.projects[0].controls
    assert len(control.banks) == banks and len(control.supplies) == feeders and len(control.feeds) > banks
    return times


def test_a_tank_of_many_banks_takes_the_time_of_its_banks(monkeypatch: pytest.MonkeyPatch) -> None:
    few, many = looked_at(monkeypatch, 60, 3), looked_at(monkeypatch, 240, 12)
    assert few["Element"] > 1000
    grown = {name: (few[name], many[name]) for name in few if many[name] > 4.2 * few[name]}
    assert not grown


def test_a_list_of_many_subtotals_is_added_up_once(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """A subtotal behind every second row: what the rows add up to is kept as they come, and not worked out for each total over again."""

    def looks(rows: int) -> int:
        asked: Counter = Counter()
        monkeypatch.setattr(witnesses, "tanks_named", lambda line: asked.update(["line"]) or tanks_named(line))
        cells: list[list[object]] = [["Tank", "Qty", "kW each", "Volts", "Ph"]]
        for at in range(1, rows + 1):
            cells.append([f"T-{at}", 2, 6 + 3 * (at % 2), 480, 3])
            if at % 2 == 0:
                cells.append([f"Subtotal {at // 2}", None, 2 * 6 + 2 * 9, None, None])
        job = read_bytes(tmp_path, book({"Sheet1": cells}))
        assert len(job.banks) == rows
        return asked["line"]

    small, large = looks(40), looks(80)
    assert small and large <= 2.2 * small


def test_no_row_of_a_list_is_held_against_all_those_above_it(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """Twice the rows ask for twice the figures, and how tags begin is looked at once for each and once for its row."""

    def asked(rows: int) -> Counter:
        seen: Counter = Counter()
        figure = Line.figure
        with monkeypatch.context() as patched:
            patched.setattr(Line, "figure", lambda line, key: seen.update(["figure"]) or figure(line, key))
            for module in (counts_beside, said_in_rows):
                patched.setattr(module, "head_of", lambda tag: seen.update(["head"]) or head_of(tag))
            words = ("Tank,Qty,kW each,Volts,Phase,Notes", *(f"T-{at},2,{3 + at % 4},480,3,left side rack" for at in range(rows)))
            (tmp_path / "list.csv").write_text("\n".join(words), encoding="utf-8")
            assert len(batch.check(tmp_path / "list.csv").projects[0].banks) == rows
        return seen

    few, many = asked(40), asked(80)
    assert all(many[what] < 2.2 * few[what] for what in ("figure", "head")), (few, many)
