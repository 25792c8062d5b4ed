"""No row is lost, and no paper is better than what it stands on: rows not sized, holds, labels and the status of feeders."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from io import BytesIO
from pathlib import Path
from tempfile import TemporaryDirectory

import openpyxl
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

import batch
from batch.findings import CATALOGUE, Harm, Severity
from batch.intake.table import NO_DATA
from batch.papers.gathering import _gathered
from batch.quoting.gates import gates
from batch.report.bid_words import fullest_feeders, project_words
from batch.results import JobResult
from batch.schedules import rows
from batch.schedules.hanging import makes_up
from batch.schedules.reconciliation import reconcile
from batch.schedules.row_words import HOLD, STATUSES
from batch.sizing.project import size_job
from tests.intake_book import read_sheets
from tests.job_builder import bank, feeder, job, size
from tests.make_samples import HERE
from tests.test_samples import checked
from tests.test_supply_side import of, source

BOOKS = sorted(
    str(path.relative_to(HERE))
    for path in HERE.rglob("*.xlsx")
    if not any(word in path.name for word in (" sized", " filled", "AGAINST", "against"))
)
READABLE = [name for name in BOOKS if not name.startswith("broken/") or "heading" in name]
RANK = {"sized": 0, "sized, review": 1, "HOLD (not released for fabrication)": 2, "not sized": 2}  # the last two keep it from being built


def written(name: str) -> bytes:
    with TemporaryDirectory() as folder:
        batch.size(HERE / name, target := Path(folder) / "sized.xlsx")
        return target.read_bytes()


def received(result: JobResult) -> set[tuple[str, int]]:
    """Rows of the heater list that held data, as they came."""
    tables = [table for table in result.job.received if table.kind == "heaters"]
    return {(row.sheet, row.row) for table in tables for row in table.rows if row.refused not in NO_DATA}


def on_banks(result: JobResult) -> set[tuple[str, int]]:
    sized = {(row.bank.origin.sheet, row.bank.origin.row) for one in result.projects for row in one.banks}
    left_out = (*(row for one in result.projects for row in one.not_sized), *result.not_sized)
    return sized | {(row.origin.sheet, row.origin.row) for row in left_out}


def agrees(result: JobResult) -> None:
    """What every job's papers must keep to."""
    assert on_banks(result) == received(result)
    banks, feeders = rows(result, "banks"), rows(result, "feeder_totals")
    assert sum(row["status"] == "not sized" for row in banks) == sum(len(one.not_sized) for one in result.projects) + len(result.not_sized)
    labels = {row["panel"] for row in rows(result, "panel_labels")}
    for row in rows(result, "panels"):
        held = row["status"].startswith("HOLD")
        assert held == row["type"].startswith("Hold "), row
        assert held != (row["panel"] in labels), row
    status = {(row["project"] or "", row["feeder"]): row for row in feeders}
    for row in (*banks, *rows(result, "panels")):
        if row["feeder"]:
            over = status[row["project"] or "", row["feeder"]]
            assert RANK[over["status"]] >= RANK[row["status"]], (over, row)
            if row["status"] == "not sized":
                assert "not sized" in over["open"]
    for one in result.projects:
        worst = max((RANK[row["status"]] for row in (*banks, *feeders) if (row["project"] or "") == one.project.project), default=0)
        assert RANK[makes_up(one).status] >= worst
    assert all(check.passes for check in result.checks)


@pytest.mark.parametrize("name", READABLE)
def test_every_sample(name: str) -> None:
    result = checked(name)
    agrees(result)
    job = result.job
    known = sum(one.quantity * one.power_kw for one in (*job.banks, *job.unread) if one.quantity is not None and one.power_kw is not None)
    assert sum((row["connected_kw"] or 0) + (row["not_sized_kw"] or 0) for row in rows(result, "banks")) == pytest.approx(known)


HEADINGS = ["Project", "Tank", "Feeder", "Quantity", "Power (kW)", "Volts", "Phases"]
SPOILT = {  # column spoilt and what then stands there; the second figure is whether its kW can still be read
    "": ((), True),
    "power a word": ((4, "plenty"), False),
    "power negative": ((4, -6), False),
    "quantity blank": ((3, None), False),
    "volts to be said": ((5, "TBD"), True),
    "phases impossible": ((6, 2), True),
    "feeder unknown": ((2, "F-9"), True),
    "feeder blank": ((2, None), True),
    "project unknown": ((0, "P-9"), True),
    "too hot for it": ((5, 240), True),  # 480 V on heaters for 240 V: on hold
}
ROW = st.tuples(
    st.integers(1, 3), st.sampled_from(("F-1", "F-2")), st.integers(1, 20), st.sampled_from((2, 6, 12)), st.sampled_from(sorted(SPOILT)),
)  # fmt: skip


def of_sheets(sheets: Mapping[str, Sequence[Sequence[object]]]) -> JobResult:
    with TemporaryDirectory() as folder:
        result = size_job(read_sheets(Path(folder), sheets))
    return replace(result, checks=reconcile(result))


def made(drawn: Sequence[tuple[int, str, int, int, str]]) -> tuple[JobResult, float]:
    """The job of these rows, sized, and the kW that its rows tell."""
    listed, known = [], 0.0
    for number, (place, hung, count, power, spoilt) in enumerate(drawn, start=1):
        row = ["P-1", f"T-{place}{number}", hung, count, power, 480, 3]
        at, readable = SPOILT[spoilt]
        if at:
            row[at[0]] = at[1]
        known += count * power if readable else 0.0
        listed.append(row)
    feeders = [["P-1", "F-1", 480, 3, 3], ["P-1", "F-2", 480, 3, 3]]
    sheets = {
        "Projects": [["Project"], ["P-1"]],
        "Feeders": [["Project", "Feeder", "Volts", "Phases", "Wires"], *feeders],
        "Heaters": [HEADINGS, *listed],
    }
    return of_sheets(sheets), known


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(st.lists(ROW, min_size=1, max_size=10))
def test_jobs_with_spoilt_rows(drawn: list[tuple[int, str, int, int, str]]) -> None:
    result, known = made(drawn)
    agrees(result)
    banks = rows(result, "banks")
    assert len(banks) == len(drawn)
    assert sum((row["connected_kw"] or 0) + (row["not_sized_kw"] or 0) for row in banks) == pytest.approx(known)
    for row in rows(result, "feeder_totals"):
        lost = [one for one in result.projects[0].not_sized if (one.project, one.feeder) == (row["project"], row["feeder"])]
        assert (f"{len(lost)} bank" in (row["open"] or "")) or not lost


def test_five_spoilt_rows_are_told_on_the_feeder() -> None:
    """14 banks of 3 x 4 kW, five of them spoilt, one of these in its power: 4 x 12 kW at least are missing."""
    spoilt = ["phases impossible", "volts to be said", "phases impossible", "volts to be said", "power a word"]
    result, _ = made([(1, "F-1", 3, 2, word) for word in [*spoilt, *[""] * 9]])
    [first, second] = rows(result, "feeder_totals")
    assert first["open"] == "without 5 banks not sized, at least 24 kW by their rows"
    assert first["status"].startswith("HOLD") and "Feeder without all its banks" in first["findings"]
    assert first["connected_kw"] == pytest.approx(9 * 6)
    assert second["open"] == "" and second["status"] == "sized"
    assert makes_up(result.projects[0]).words == "without 5 banks not sized, at least 24 kW by their rows"
    assert not [row for row in rows(result, "panels") if row["status"].startswith("HOLD")]  # what is missing holds the feeder alone


def test_rows_whose_project_could_not_be_read_are_on_banks_too() -> None:
    sheets = {
        "Projects": [["Project", "Ambient (°C)"], ["P-1", 30], ["P-2", "warm"]],
        "Heaters": [HEADINGS, ["P-1", "T-1", None, 3, 6, 480, 3], ["P-2", "T-2", "F-1", 5, 4, 480, 3]],
    }
    result = of_sheets(sheets)
    [lost] = result.not_sized
    assert (lost.project, lost.tank, lost.connected_kw) == ("P-2", "T-2", 20.0)
    [_, row] = rows(result, "banks")
    assert (row["project"], row["status"], row["not_sized_kw"], row["connected_kw"]) == ("P-2", "not sized", 20.0, None)
    assert row["as_read"] == "Its project could not be read. Read: 5 heaters, 4 kW each, 480 V, 3-phase (Heaters row 3)"
    assert [(one["project"], one["feeder"], one["status"]) for one in rows(result, "feeder_totals")][-1] == ("P-2", "F-1", "not sized")


def test_each_project_says_that_rows_of_no_listed_project_may_be_its_own() -> None:
    """Two projects that nothing else speaks against; a row names none and its feeder, one names a third and no feeder."""
    feeders = [[name, f"F-{name}", 480, 3, 3, "wye grounded", 4, 20] for name in ("P-1", "P-2")]
    sheets = {
        "Projects": [["Project"], ["P-1"], ["P-2"]],
        "Feeders": [["Project", "Feeder", "Volts", "Phases", "Wires", "System", "Available fault current (kA)", "Length (m)"], *feeders],
        "Heaters": [HEADINGS, ["P-1", "T-1", "F-P-1", 8, 2, 480, 1], ["P-2", "T-1", "F-P-2", 8, 2, 480, 1]],
    }
    whole = of_sheets(sheets)
    assert [project_words(one)[0] for one in whole.projects] == ["sized"] * 2
    sheets["Heaters"] += [[None, "T-8", "f-p-1", 4, 5, 480, 3], ["P-9", "T-9", None, None, 5, 480, 3]]
    result = of_sheets(sheets)
    lost = "2 banks not sized, at least 20 kW by their rows, of no listed project"
    for one in result.projects:
        status, words = project_words(one)
        assert status == "sized, review" and f" Perhaps not in it: {lost}." in words
        assert makes_up(one) == ("sized, review", f"perhaps without {lost}")
    said = {row["feeder"]: row["open"] for row in rows(result, "feeder_totals") if row["status"] != "not sized"}
    assert said == {"F-P-1": "2 banks not sized, at least 20 kW by their rows, of no listed project, may hang on it",
                    "F-P-2": "1 bank not sized, of unknown power, of no listed project, may hang on it"}  # fmt: skip
    assert [words.partition("; ")[2] for words in sorted(fullest_feeders(result.projects))] == [
        "2 banks not sized, at least 20 kW by their rows, may hang on it", "1 bank not sized, of unknown power, may hang on it",
    ]  # fmt: skip
    assert "2 rows of no project that is listed may belong to it" in list(gates(result, result.projects[0]))
    assert next(fact.words for fact in _gathered(result, "all", None)[0][0].facts if fact.caption == "Perhaps not in it").startswith(lost)


def test_a_hold_holds_the_panels_of_its_bank_and_a_feeders_hold_all_on_it() -> None:
    """Heaters for 240 V line to line on 480 V are on hold; the same panel on hold and not is two types."""
    alike = {"quantity": 8, "power_kw": 3.0, "phases": 3, "connection": None}  # 36 A: jumpers of 8 AWG, which a 30 A frame takes
    banks = [bank(**alike), bank(tank="T-2", fixed_rating_a=3.0, **alike), bank(tank="T-3", feeder="F-2", **alike)]
    result = size(banks, [feeder(), feeder(feeder="F-2", existing_device_a=15.0)])
    types = {row["panel"]: (row["type"], row["status"]) for row in rows(result, "panels")}
    assert types["T-1/1-P1"] == ("Type 01", "sized")
    assert types["T-2/1-P1"][0] == "Hold 01" and types["T-3/1-P1"][0] == "Hold 02"
    assert {row["panel"] for row in rows(result, "panel_labels")} == {"T-1/1-P1"}
    [first, second] = rows(result, "feeder_totals")
    assert first["status"].startswith("HOLD") and first["open"] == "1 of 2 banks on hold, 24 of 48 kW"
    assert second["status"].startswith("HOLD") and second["open"] == "1 of 1 bank on hold, 24 of 24 kW"
    held = next(row for row in rows(result, "banks") if row["tank"] == "T-3")
    assert held["status"].startswith("HOLD") and held["findings"] == (
        "; ".join(f"feeder: {CATALOGUE[code].title}" for code in ("existing-device-small", "existing-below-largest", "device-overused"))
    )
    assert result.fates[banks[2].origin.sheet, banks[2].origin.row] == held["status"]


def many(count: int, without: int) -> JobResult:
    """Banks of one heater on a feeder each, all but some without an over-temperature limit."""
    limits = ["yes"] * without + ["no"] * (count - without)
    alone = {"quantity": 1, "connection": "parallel"}
    banks = [bank(tank=f"T-{n}", feeder=f"F-{n}", **alone, over_temperature_limit=fitted) for n, fitted in enumerate(limits, 1)]
    return size_job(job(banks, [feeder(feeder=f"F-{n}") for n in range(1, count + 1)]))


def test_what_nearly_all_carry_is_said_once() -> None:
    result = many(20, 2)  # 18 of 20 are 90 %
    said = [row for row in rows(result, "findings") if row["code"] == "limit-missing"]
    assert [(row["count"], row["message"].partition(".")[0]) for row in said] == [
        (18, "No over-temperature limit: 18 of 20 banks, all but T-1/1, T-2/1")
    ]
    assert {row["status"] for row in rows(result, "banks")} == {"sized"}
    assert {row["findings"] for row in rows(result, "banks")} == {"", "project: see Findings"}
    assert makes_up(result.projects[0]).status == "sized, review"


def test_of_four_rows_what_all_carry_is_said_once() -> None:
    [said] = [row for row in rows(many(4, 0), "findings") if row["code"] == "limit-missing"]
    assert said["count"] == 4


@pytest.mark.parametrize(("count", "without"), [(20, 3), (3, 0)])
def test_what_fewer_carry_is_said_of_each(count: int, without: int) -> None:
    """17 of 20 are 85 %; of three rows each is read by itself."""
    result = many(count, without)
    said = [row for row in rows(result, "findings") if row["code"] == "limit-missing"]
    assert [row["count"] for row in said] == [1] * (count - without)
    assert [row["status"] for row in rows(result, "banks")] == ["sized"] * without + ["sized, review"] * (count - without)


def test_one_device_large_for_its_heaters_is_said_once_a_feeder() -> None:
    """Two banks of F-1 and one of F-2, each three heaters of 12.5 A behind 30 A, where one takes 20 A; a fourth is not one of them."""
    banks = [bank(tank="T-1"), bank(tank="T-2"), bank(tank="T-3", power_kw=3.0), bank(tank="T-4", feeder="F-2")]
    result = size(banks, [feeder(), feeder(feeder="F-2")])
    said = [row for row in rows(result, "findings") if row["code"] == "single-circuit-large"]
    words = "3 heaters stand behind one 30 A device; one of them alone takes 20 A."
    assert [(row["feeder"], row["count"], row["message"]) for row in said] == [
        ("F-1", 2, f"Several heaters behind one large device: 2 banks of F-1, T-1/1, T-2/1. The first: {words}"), ("F-2", 1, words)
    ]  # fmt: skip
    assert [row["status"] for row in rows(result, "banks")] == ["sized, review", "sized, review", "sized", "sized, review"]


@pytest.mark.parametrize("name", READABLE)
def test_papers_that_name_a_panel_agree_on_its_status(name: str) -> None:
    """Label list and Panel types say what Panels says; a type is as bad as the worst of its panels; no label is a hold's."""
    result = checked(name)
    of_panel = {(row["project"], row["panel"]): row["status"] for row in rows(result, "panels")}
    for row in rows(result, "wiring_tags"):
        if (row["project"], row["panel"]) in of_panel:
            assert row["status"] == of_panel[row["project"], row["panel"]]
    for row in rows(result, "panel_labels"):
        if row["panel"].endswith("/DIST"):
            assert row["status"] != HOLD
            continue
        assert row["status"] == of_panel[row["project"], row["panel"]] != HOLD
    for project in result.projects:
        for kind in project.types:
            own = [of_panel[project.project.project, tag] for tag in kind.tags]
            [row] = [one for one in rows(result, "panel_types") if (one["project"], one["type"]) == (project.project.project, kind.type)]
            assert row["status"] == max(own, key=STATUSES.index)
            assert (row["status"] == HOLD) == (own == [HOLD] * len(own)) == bool(row["hold"])


@pytest.mark.parametrize("name", READABLE)
def test_the_buy_list_says_how_much_is_for_what_is_on_hold(name: str) -> None:
    """Against the lines of Materials and Runs, which each say it; all of a part, some of it, or none."""
    result = checked(name)
    lines = [*rows(result, "materials"), *rows(result, "runs")]
    for row in rows(result, "buy_list"):
        held = sum(line["quantity"] or 0.0 for line in lines if line["item"] == row["number"] and line["hold"])
        assert (row["held"] or 0.0) == pytest.approx(held)
        assert (row["held"] or 0.0) <= row["used"] * (1 + 1e-9)


@pytest.mark.parametrize("name", READABLE)
def test_findings_stand_by_severity_then_by_harm(name: str) -> None:
    listed = rows(checked(name), "findings")
    severities = [severity.word for severity in Severity]
    harms = [harm.word for harm in Harm]
    order = [(severities.index(row["severity"]), harms.index(row["harm"])) for row in listed]
    assert order == sorted(order)


def test_what_is_said_of_one_feeder_stands_together() -> None:
    """Feeders are judged before the rows of their banks are told: each has a device that is large, and a bank with one."""
    banks = [bank(fixed_rating_a=60.0, quantity=8), bank(tank="T-2", feeder="F-2", fixed_rating_a=60.0, quantity=8)]
    result = size(banks, [feeder(existing_device_a=200.0), feeder(feeder="F-2", existing_device_a=200.0)])
    own = [(row["feeder"], row["code"]) for row in rows(result, "findings") if row["severity"] == "caution" and row["harm"] == "overload"]
    assert own == [(name, code) for name in ("F-1", "F-2") for code in ("existing-device-large", "fixed-rating-large")]


def test_every_paper_of_a_hold_carries_the_band() -> None:
    """One bank in panels and one single circuit, both with a branch OCPD fixed too small; a third beside them is as it should be."""
    large = {"quantity": 8, "phases": 3, "connection": None}
    result = size([bank(fixed_rating_a=6.0, **large), bank(tank="T-2", fixed_rating_a=6.0, connection=None), bank(tank="T-3", **large)])
    held = {row["tank"]: row for row in rows(result, "banks")}
    assert [held[tag]["status"][:4] for tag in ("T-1", "T-2", "T-3")] == ["HOLD", "HOLD", "size"]
    bands = [row["hold"] for row in rows(result, "wiring") if row["hold"] not in ("", "HOLD")]
    assert len(bands) == 2 and all(band.startswith("HOLD - NOT RELEASED FOR FABRICATION: ") for band in bands)
    assert {row["type"]: bool(row["hold"]) for row in rows(result, "wiring")} == {
        "Hold 01": True, "Type 01": False, "T-2/1 single circuit": True,
    }  # fmt: skip
    assert all(bool(row["hold"]) == (not str(row["panel"]).startswith("T-3")) for row in rows(result, "wiring_tags"))
    for row in rows(result, "materials"):
        held_bank = row["tank"] in ("T-1", "T-2") and bool(row["bank"] or row["used_for"] == "limit strings")
        held_build = row["used_for"] in ("Hold 01", "single circuit 1", "Hold control panel 01", "Hold control panel 02")
        feeder_s = row["used_for"] in ("feeders", "distribution")  # sized for all its banks, those on hold among them
        spares = row["used_for"] == "spares" and row["words"].startswith(("6 A", "0.25 A", "175 A"))  # of what nothing released has
        assert bool(row["hold"]) == (held_build or held_bank or feeder_s or spares), row
    for row in rows(result, "runs"):
        assert bool(row["hold"]) == (row["tank"] in ("T-1", "T-2", "")), row
    assert {row["type"]: (row["status"][:4], bool(row["hold"])) for row in rows(result, "panel_types")} == {
        "Hold 01": ("HOLD", True), "Type 01": ("size", False),
    }  # fmt: skip
    assert {row["tank"]: row["status"][:4] for row in rows(result, "circuits")} == {"T-1": "HOLD", "T-2": "HOLD", "T-3": "size"}


def test_the_drawing_of_a_hold_stands_below_its_band() -> None:
    book = openpyxl.load_workbook(BytesIO(written("every-finding.xlsx")))
    types = {row["type"]: row["hold"] for row in rows(checked("every-finding.xlsx"), "panel_types") if row["hold"]}
    sheet = book["Panel drawings"]
    seen = 0
    for row in sheet.iter_rows():
        for cell in row:
            name = str(cell.value or "").partition(":")[0]
            if cell.hyperlink is not None and name.startswith("Hold "):
                assert str(sheet.cell(cell.row - 1, cell.column).value).startswith("HOLD - NOT RELEASED FOR FABRICATION: ")
                seen += 1
            elif cell.hyperlink is not None and name.startswith("Type "):
                assert not str(sheet.cell(cell.row - 1, cell.column).value or "").startswith("HOLD")
    assert seen >= len(types) > 2


def test_a_note_that_many_rows_carry_is_one_line_with_every_tag() -> None:
    """Three banks in delta of two sizes on F-1 and one of 3-phase heaters on F-2: four say how they were connected, two the same words."""
    banks = [bank(tank=f"T-{n}", connection=None, quantity=3 if n < 3 else 6, feeder="F-1") for n in (1, 2, 3)]
    banks.append(bank(tank="T-4", connection=None, phases=3, feeder="F-2"))
    listed = rows(size(banks, [feeder(), feeder(feeder="F-2")]), "findings")
    [row] = [one for one in listed if one["code"] == "connection-chosen"]
    assert (row["count"], row["feeder"], row["tank"]) == (4, "", "")
    assert row["message"] == (
        "Connection chosen. T-1/1, T-2/1: Connection left blank: delta, 3 heaters near the line-to-line 480 V. "
        "T-3/1: Connection left blank: delta, 6 heaters near the line-to-line 480 V. "
        "T-4/1: Connection left blank: parallel, 3-phase heaters on a 3-phase feeder."
    )
    [row] = [one for one in listed if one["code"] == "way-length-unknown"]  # of one feeder alone: its own words
    assert row["message"].startswith("F-1: of 3 of its ways no length is given. No voltage drop")


def test_what_all_say_alike_stands_once() -> None:
    banks = [bank(tank=f"T-{n}", feeder="F-1" if n < 4 else "F-2") for n in range(1, 6)]
    listed = rows(size(banks, [feeder(), feeder(feeder="F-2")]), "findings")
    [row] = [one for one in listed if one["code"] == "way-length-unknown"]
    assert row["message"] == (
        "Lengths of ways unknown. F-1: of 3 of its ways no length is given. F-2: of 2 of its ways no length is given. "
        "No voltage drop, no wire and raceway by length, and the fault current counts in full behind them."
    )
    assert (row["count"], row["feeder"]) == (2, "")


def test_sources_of_which_the_same_is_said_are_one_line() -> None:
    """Two feeders that are their own sources, and two sources of the Sources sheet, all with an unknown primary."""
    own = [feeder(feeder=tag, fault_ka=None, source_kva=150.0, source_z_pct=4.0) for tag in ("F-1", "F-2")]
    hung = [feeder(feeder="F-3", fault_ka=None, source="TX-1"), feeder(feeder="F-4", fault_ka=None, source="TX-2")]
    units = [source(source=tag, primary_ka=None) for tag in ("TX-1", "TX-2")]
    result = size_job(of(units, [bank(tank=f"T-{n}", feeder=f"F-{n}") for n in (1, 2, 3, 4)], [*own, *hung]))
    [line] = [row["message"] for row in rows(result, "findings") if row["code"] == "primary-unlimited"]
    assert line == "TX-1, TX-2, F-1, F-2: no fault level is given of the primary behind it: it is taken as unlimited, the safe side."


def test_a_line_of_notes_fits_its_page_and_loses_no_tag() -> None:
    """200 tanks: several lines, each at most about twenty lines tall, every tag in one of them."""
    banks = [bank(tank=f"TANK-{n:04d}", connection=None) for n in range(200)]
    lines = [one for one in rows(size(banks), "findings") if one["code"] == "connection-chosen"]
    assert len(lines) > 1 and max(len(one["message"]) for one in lines) <= 900
    assert sum(one["count"] for one in lines) == 200
    said = " ".join(one["message"] for one in lines)
    assert all(said.count(f"TANK-{n:04d}/1") == 1 for n in range(200))
