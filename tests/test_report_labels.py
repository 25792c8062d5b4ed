"""Panel labels: one for each panel that may be built, whole on its page, with the live sources of its own tank and no others."""

from __future__ import annotations

import re
from itertools import pairwise

import openpyxl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from batch import report
from batch.drawings.one_line_words import kiloamps
from batch.findings import Severity
from batch.report.labels_sheet import NAME, WARNING
from batch.results import JobResult
from batch.schedules import rows
from batch.schedules.country_words import as_written
from batch.schedules.designations import marks_of
from batch.schedules.label_list import ARC_FLASH, COVERED, needed_words
from batch.sizing.holds import INCOMPLETE
from batch.sizing.labels import natural
from batch.sizing.project import size_job
from batch.sizing.words import fault_current
from batch.writing.text_fit import lines
from tests.job_builder import bank, feeder, part, size
from tests.job_builder import project as made_project
from tests.report_job import job_result
from tests.sample_results import ALL, FINDINGS, LOOKED_AT, SMALL, opened, sized

UNIT_LABELS = (WARNING, "Disconnect", "Directory", "Replace OCPDs by", "Feeder", "Torque", "Short-circuit rating", "Arc flash")
LABELS = (
    WARNING, "Disconnect", "Directory", "Replace OCPDs by", "Panel feeder", "Branch wires", "Torque", "Short-circuit rating", "Arc flash",
    "Heaters",
)  # fmt: skip


def blocks(name: str) -> list[dict[str, object]]:
    """Each label as it stands: its tag, title, lines by caption, first and last row."""
    sheet = opened(name)[NAME]
    found: list[dict[str, object]] = []
    for row in sheet.iter_rows(min_row=3):
        label, words = row[0].value, row[1].value
        if label and row[0].font.sz == 12:
            found.append({"panel": label, "title": words, "first": row[0].row, "last": row[0].row})
        elif label:
            found[-1][label] = words
            found[-1]["last"] = row[0].row + 1
    return found


# --- what a label says ------------------------------------------------------------------------------------------------------------


def expected_sources(result: JobResult) -> dict[tuple[str, str], tuple[str, set[str]]]:
    """Project and panel -> the disconnect of its own supply and the others of its tank, counted here anew: one for each feeder, in the
    order of the labels of the tank's banks."""
    found: dict[tuple[str, str], tuple[str, set[str]]] = {}
    for project in result.projects:
        tanks: dict[str, list[str]] = {}
        for row in sorted(project.banks, key=lambda row: natural(row.label)):
            here = tanks.setdefault(row.bank.tank.casefold(), [])
            here += [row.feeder.feeder] if row.feeder.feeder not in here else []
        disc = "DISC" if project.symbols == "IEEE 315" else "-Q"
        for row in project.banks:
            tags = {name: f"{row.bank.tank}/{disc}{number}" for number, name in enumerate(tanks[row.bank.tank.casefold()], start=1)}
            for panel in row.panels:
                others = {tag for name, tag in tags.items() if name != row.feeder.feeder}
                found[project.project.project, panel.tag] = tags[row.feeder.feeder], others
    return found


def check_sources(result: JobResult) -> int:
    """Every label names its own disconnect and exactly the other ones of its tank; returns how many have any."""
    wanted = expected_sources(result)
    several = 0
    for row in rows(result, "panel_labels"):
        if row["panel"].endswith("/DIST"):
            continue
        own, others = wanted[row["project"], row["panel"]]
        assert row["disconnect"].casefold() == own.casefold()
        said = set(row["others"].split(", ")) if row["others"] else set()
        assert {tag.casefold() for tag in said} == {tag.casefold() for tag in others}
        assert all(f"{tag} (in " in row["warning"] for tag in said)
        assert len(re.findall(r"/(?:DISC|-Q)\d", row["warning"])) == len(said) + 1  # and its own, to be opened
        assert ("Also live" in row["warning"]) >= bool(said)
        assert ("no load switches: open the disconnect first" in row["warning"]) == ("fuse" in row["replace"])
        several += bool(said)
    return several


def test_other_live_sources_of_a_tank_on_two_feeders() -> None:
    """Bank 1 hangs on F-1, bank 2 on F-2; the control transformer is behind DISC1, so the limit string in the panels of bank 2 is live
    from it; those of bank 1 are dead but for their tank. On one feeder no panel warns of another; with control power by others all do."""
    banks = [bank(quantity=6), bank(bank="2", feeder="F-2", quantity=6)]
    two = {row["panel"]: row["warning"] for row in rows(size(banks, [feeder(), feeder(feeder="F-2")]), "panel_labels")}
    assert "Also live at this tank from T-1/DISC2 (in T-1/HCP, feeder F-2). Open and lock T-1/DISC1 and each" in two["T-1/1-P1"]
    assert "Also live in this box (limit string) and at this tank from T-1/DISC1 (in T-1/HCP, feeder F-1)." in two["T-1/2-P1"]
    one = {row["panel"]: row["warning"] for row in rows(size([bank(quantity=6), bank(bank="2", quantity=6)]), "panel_labels")}
    assert all("Also live" not in words and "Open and lock T-1/DISC1; test first" in words for words in one.values())
    foreign = rows(size(bank(quantity=6), projects=made_project(control_transformer="others")), "panel_labels")
    assert "Also live in this box, the control circuit, from ____" in foreign[0]["warning"]


MARKING = "Caution: ungrounded system operating, 480 volts between conductors."


@pytest.mark.parametrize(
    ("system", "marked"), [("delta", True), ("corner-grounded delta", False), ("wye grounded", False), ("unknown", False)]
)
def test_an_ungrounded_system_is_marked_wherever_it_comes(system: str, marked: bool) -> None:
    """NEC 250.21(C), 408.3(F)(2), both from memory: on panels, on the control panel and on the distribution unit, once each."""
    ours = made_project(distribution="ours")
    result = size([bank(quantity=6), bank(tank="T-2", quantity=6)], feeder(system=system), projects=ours)
    labels = [*rows(result, "panel_labels"), *rows(result, "control_labels")]
    assert {row["panel"] for row in labels} == {"F-1/DIST", "T-1/1-P1", "T-2/1-P1", "T-1/HCP", "T-2/HCP"}
    assert [row["warning"].count(MARKING) for row in labels] == [int(marked)] * 5


@pytest.mark.parametrize("name", ALL)
def test_every_label_names_exactly_the_other_sources_of_its_tank(name: str) -> None:
    result = sized(name).result
    check_sources(result)
    assert list(rows(result, "panel_labels")) or name not in LOOKED_AT


DRAWN = st.tuples(st.integers(0, 3), st.integers(1, 20), st.sampled_from((2.0, 6.0, 12.0)), st.integers(0, 1))


@settings(max_examples=30, deadline=None)
@given(st.lists(DRAWN, min_size=1, max_size=9))
def test_generated_tanks_too(drawn: list[tuple[int, int, float, int]]) -> None:
    """Banks of any size shared out over few tanks, on two feeders, the case of a tag as it comes."""
    job = job_result(len(drawn), 2).job
    banks = [
        replace(bank, tank=("T-1", "t-1", "T-2", "T-3")[tank], bank=None, quantity=count, power_kw=kw, feeder=job.feeders[feeder].feeder)
        for bank, (tank, count, kw, feeder) in zip(job.banks, drawn, strict=True)
    ]
    result = size_job(replace(job, banks=tuple(banks)))
    check_sources(result)
    listed = {row["panel"] for row in rows(result, "panel_labels")}
    for project in result.projects:
        of_feeder = {row.feeder.feeder: row.findings for row in project.feeders}
        of_tank = {control.tank.casefold(): control.findings for control in project.controls}
        for row in project.banks:
            said_of = (*row.findings, *of_feeder[row.feeder.feeder], *of_tank[row.bank.tank.casefold()])
            held = any(said.severity is Severity.HOLD for said in said_of if said.code != INCOMPLETE)
            assert all((panel.tag in listed) != held for panel in row.panels)


def test_a_row_of_the_tank_that_is_not_sized_is_a_source_too() -> None:
    """A bank that came to nothing will be fed all the same, from where nobody knows yet."""
    job = job_result(2, 1).job
    shared = replace(job.banks[1], tank=job.banks[0].tank, bank="2")
    bad = replace(shared, volts_v=600.0, phases=3, connection="delta")  # no connection to a 480 V supply
    whole, spoilt = (size_job(replace(job, banks=(job.banks[0], one))) for one in (shared, replace(bad, feeder="nowhere")))
    assert "DISC1" in rows(whole, "panel_labels")[0]["warning"]
    assert len(spoilt.projects[0].banks) == 1
    [label] = rows(spoilt, "panel_labels")
    assert "whatever feeds row 3 of Heaters, not sized" in label["warning"] and not label["others"]


@pytest.mark.parametrize("name", LOOKED_AT)
def test_the_directory_counts_heaters_through_the_bank(name: str) -> None:
    result = sized(name).result
    panels = {
        (project.project.project, panel.tag): (row, panel, marks_of(project))
        for project in result.projects
        for row in project.banks
        for panel in row.panels
    }
    of_tank: dict[tuple[str, str], set[str]] = {}
    for project in result.projects:
        for row in project.banks:
            of_tank.setdefault((project.project.project, row.bank.tank.casefold()), set()).add(row.label)
    for label in rows(result, "panel_labels"):
        if label["panel"].endswith("/DIST"):
            continue
        row, panel, marks = panels[label["project"], label["panel"]]
        several = len(of_tank[label["project"], row.bank.tank.casefold()]) > 1
        own = f"{row.label}-" if several else ""  # a tank has no heater's designation twice
        words = label["directory"].split(", ")
        each, kind = row.design.circuits_per_heater, panel.design.branch.device.kind
        assert len(words) == panel.design.branches
        assert words[0].startswith(f"{marks.device(kind, 1)} {own}{marks.heater(panel.first_heater)}")
        last = panel.first_heater + panel.design.heaters - 1
        circuit = f" circuit {each}" if each > 1 else ""
        assert words[-1] == f"{marks.device(kind, panel.design.branches)} {own}{marks.heater(last)}{circuit}"
        circuits = [line for line in _circuits(result) if (line["project"], line["panel"]) == (label["project"], label["panel"])]
        assert [own + marks.heater(int(line["heater"])) for line in circuits] == [one.split()[1] for one in words]


def _circuits(result: JobResult) -> list[dict]:
    if result.job.digest not in _KNOWN:
        _KNOWN[result.job.digest] = rows(result, "circuits")
    return _KNOWN[result.job.digest]


_KNOWN: dict[str, list[dict]] = {}


def test_a_label_has_its_short_circuit_rating_only_from_marked_parts() -> None:
    """With a marked block alone the panel has none; with block and holder marked it has the lower of the two."""
    block = part(part="PDB", kind="power distribution block", rating_a=175.0, volts_v=600.0, poles=3, sccr_ka=100.0, torque_nm=5.0)
    holder = part(part="FH", kind="fuse holder", rating_a=30.0, volts_v=600.0, poles=2, sccr_ka=200.0, torque_nm=2.5)
    job = job_result(1, 1).job
    known = replace(job, feeders=tuple(replace(one, fault_ka=8.04, run_m=None) for one in job.feeders))
    [label] = rows(size_job(known), "panel_labels")
    assert label["sccr"] == "SCCR ____ kA, builder to mark; at least 8.1 kA needed"  # rounded up, never down
    assert (label["torque_nm"], label["panel_feeder_torque_nm"]) == (None, None)
    [label] = rows(size_job(replace(known, stock=(block,))), "panel_labels")
    assert label["sccr"].startswith("SCCR ____ kA") and label["panel_feeder_torque_nm"] == 5.0 and label["torque_nm"] is None
    [label] = rows(size_job(replace(known, stock=(block, holder))), "panel_labels")
    assert label["sccr"] == "100 kA by marked parts; builder marks" and label["torque_nm"] == 2.5
    [label] = rows(size_job(job), "panel_labels")
    assert label["sccr"] == "SCCR ____ kA, builder to mark; fault current not given"


def test_a_control_panel_with_one_supply_unknown_says_what_the_other_asks_for() -> None:
    feeders = [feeder(fault_ka=8.04, run_m=None), feeder(feeder="F-2", fault_ka=None)]
    result = size([bank(quantity=6), bank(bank="2", feeder="F-2", quantity=6)], feeders)
    [control] = result.projects[0].controls
    assert [one.fault_ka is None for one in control.supplies] == [False, True]
    needed = "SCCR ____ kA, builder to mark; at least 8.1 kA needed; fault current of feeder F-2 not given"
    [box] = [row for row in rows(result, "boxes") if row["box"] == "T-1/HCP"]
    [label] = rows(result, "control_labels")
    assert (label["sccr"], box["sccr"]) == (needed, needed)


def test_what_is_no_marking_stands_in_the_basis_only() -> None:
    """Neither a default short-circuit rating nor a default torque is printed as the panel's own."""
    unmarked = size_job(replace(sized(SMALL).result.job, stock=()))
    for row in rows(unmarked, "panels"):
        assert row["sccr_ka"] is None and row["torque_nm"] is None and row["sccr_part"] == "builder to mark"
        default = "5 kA (unmarked breaker)" if "breaker" in row["panel_feeder_device"] else "10 kA (unmarked power distribution block)"
        assert f"fault current judged against {default}" in row["basis"] and "Table I.1" in row["basis"]


@pytest.mark.parametrize("name", LOOKED_AT)
def test_each_label_stands_on_the_sheet_as_on_the_list(name: str) -> None:
    result = sized(name).result
    shown, listed = blocks(name), as_written(result, "panel_labels", rows(result, "panel_labels"))
    controls = as_written(result, "control_labels", rows(result, "control_labels"))
    assert len(shown) == len(listed) + len(controls) == len({(row["project"], row["panel"]) for row in (*listed, *controls)})
    held = {control.tag for one in result.projects for control in one.controls if control.hold is not None}
    assert {row["panel"] for row in controls} == {control.tag for one in result.projects for control in one.controls} - held
    for block, row in zip(shown[len(listed) :], controls, strict=True):
        assert block["panel"] == row["panel"] and row["type"] in block["title"]
        assert (block["Heaters"], block["Arc flash"]) == (COVERED, ARC_FLASH)
        same = {WARNING: "warning", "Directory": "directory", "Replace OCPDs by": "replace", "Short-circuit rating": "sccr"}
        for caption, key in same.items():
            assert row[key] == block[caption]
        for disconnect in row["disconnects"].split("\n"):
            mark, _, words = disconnect.partition(": ")
            assert block[mark] == words
    for block, row in zip(shown[: len(listed)], listed, strict=True):
        unit = row["panel"].endswith("/DIST")
        assert block["panel"] == row["panel"] and tuple(block)[4:] == (UNIT_LABELS if unit else LABELS)
        assert unit or block["Heaters"] == COVERED
        assert block["Arc flash"] == ARC_FLASH  # its place is kept; what stands there is a study's, by others
        assert row["volts"] in block["title"] and row["type"] in block["title"]
        assert len(result.projects) == 1 or row["project"] in block["title"]
        for caption, key in (
            (WARNING, "warning"), ("Directory", "directory"), ("Replace OCPDs by", "replace"),
            ("Feeder" if unit else "Panel feeder", "feed"), ("Short-circuit rating", "sccr"),
            *(() if unit else (("Branch wires", "branch_wire"),)),
        ):  # fmt: skip
            assert row[key] == block[caption]
        assert "same type and rating only" in block["Replace OCPDs by"]
        bare = "every terminal as marked ____" if unit else "branch terminals as marked ____, panel feeder terminals as marked ____"
        assert block["Torque"] == bare or row["torque_nm"] is not None


def test_torques_stand_in_the_unit_of_the_region(tmp_path) -> None:
    holder = part(part="FH", kind="fuse holder", rating_a=30.0, volts_v=600.0, poles=2, torque_nm=2.0)
    result = size_job(replace(job_result(6, 2).job, stock=(holder,)))
    shown = {}
    for us in (True, False):
        report.write(result, tmp_path / "x.xlsx", us=us)
        sheet = openpyxl.load_workbook(tmp_path / "x.xlsx")[NAME]
        shown[us] = next(row[1].value for row in sheet.iter_rows() if row[0].value == "Torque")
    assert shown[False] == "branch terminals 2 N·m, panel feeder terminals as marked ____"
    pounds = round(2 / 0.1129848290276167, 1)  # NIST SP 811, 2008 edition, appendix B.8
    assert shown[True] == f"branch terminals {pounds:g} lbf·in, panel feeder terminals as marked ____"


# --- on paper ---------------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", LOOKED_AT)
def test_labels_are_whole_on_their_pages(name: str) -> None:
    sheet = opened(name)[NAME]
    scale = sheet.page_setup.scale / 100
    page = (11 - 0.5 - 0.6) * 72 / scale  # Letter less its margins, in points
    heights = {at: sheet.row_dimensions[at].height or 15.0 for at in range(1, sheet.max_row + 1)}
    breaks = [0, *(one.id for one in sheet.row_breaks.brk), sheet.max_row]
    known = blocks(name)
    for first, last in pairwise(breaks):
        assert sum(heights[at] for at in range(first + 1, last + 1)) <= page + 10  # the gap below the last label may fall off the page
        held = [block for block in known if first < block["first"] <= last]
        assert held and all(block["last"] <= last for block in held)
    wide = sum(dimension.width * 7 for dimension in sheet.column_dimensions.values()) * scale / 96
    assert 1.1 * wide <= 8.5 - 0.8  # on a machine whose font is a tenth wider, too


@pytest.mark.parametrize("name", LOOKED_AT)
def test_words_have_their_room_in_type_a_tenth_wider(name: str) -> None:
    """Each row is as tall as its words need where every letter is a tenth wider than here, in columns that are not."""
    sheet = opened(name)[NAME]
    for row in sheet.iter_rows(min_row=4, max_col=2):
        for cell in row:
            if not cell.value:
                continue
            width = sheet.column_dimensions[cell.column_letter].width - 0.72  # a column is stored 5 pixels wider
            count = lines(str(cell.value), width / 1.1, bool(cell.font.b), cell.font.sz)
            assert count == 1 or cell.alignment.wrap_text
            assert (sheet.row_dimensions[cell.row].height or 15.0) >= count * 12 * cell.font.sz / 9


def test_the_list_behind_them_is_not_printed_a_second_time() -> None:
    book = opened(FINDINGS)
    names = book.sheetnames
    assert names.index(NAME) + 1 == names.index("Label list")
    area = book["Label list"].print_area
    assert area.replace("$", "").rpartition("!")[2] == "A1:E2"
    assert book["Label list"].max_row - 5 == len(rows(sized(FINDINGS).result, "panel_labels"))


def test_a_very_long_list_is_laid_out_as_far_as_said(tmp_path, monkeypatch) -> None:
    monkeypatch.setattr("batch.report.labels_sheet.MOST", 3)
    result = job_result(6, 2)
    report.write(result, tmp_path / "x.xlsx")
    book = openpyxl.load_workbook(tmp_path / "x.xlsx")
    laid_out = [row[0].value for row in book[NAME].iter_rows() if row[0].value == WARNING]
    assert len(laid_out) == 3 and book["Label list"].max_row - 5 == len(rows(result, "panel_labels")) > 3
    contents = {row[0].value: row[2].value for row in book["Read first"].iter_rows()}
    assert contents[NAME].startswith("the first 3 labels; all are on Label list and Control labels.")


def test_a_distribution_unit_of_ours_has_a_label() -> None:
    """Two tanks on F-1, one of them on F-2 too: the bus is killed at the feeder, and the control panel of T-1 stays live from F-2. None
    of a unit by others, or one that is there."""
    banks = [bank(quantity=6), bank(tank="T-2", quantity=6), bank(bank="2", feeder="F-2", quantity=6)]
    ours = made_project(distribution="ours")

    def units(**first: object) -> list[dict]:
        listed = rows(size(banks, [feeder(**{"fault_ka": 8.04, **first}), feeder(feeder="F-2")], projects=ours), "panel_labels")
        return [row for row in listed if row["panel"].endswith("/DIST")]

    [label] = units()
    assert (label["panel"], label["feeder"], label["branches"]) == ("F-1/DIST", "F-1", "2 ways, bus 225 A, main lugs")
    assert label["directory"] == "F-1-W1 60 A: control panel of T-1; F-1-W2 60 A: control panel of T-2"
    assert "Open and lock the OCPD at its source (feeder F-1); test first." in label["warning"]
    assert "also live from T-1/DISC2 (in T-1/HCP, feeder F-2)" in label["warning"] and label["others"] == "T-1/DISC2"
    assert "kA needed" in label["sccr"] and label["status"] != "HOLD"
    assert "main of" not in label["warning"] and "line side of the main stays live" in units(unit_main_a=100.0)[0]["warning"]
    assert not units(bus_a=60.0) and not units(bus_a=225.0)
    assert not units(existing_device_a=15.0)  # below the load: on hold, and so is its unit
    by_others = rows(size(banks, [feeder(), feeder(feeder="F-2")]), "panel_labels")
    assert not [row for row in by_others if row["panel"].endswith("/DIST")]


FAULTS = ((10.0, "10.0 kA"), (10.04, "10.1 kA"), (9.951, "10.0 kA"), (3.00001, "3.1 kA"), (3.0 + 1e-13, "3.0 kA"))


@pytest.mark.parametrize(("fault_ka", "stated"), FAULTS)
def test_a_fault_current_is_never_stated_smaller_than_it_is(fault_ka: float, stated: str) -> None:
    """10.04 kA is above what a part of 10 kA withstands: whoever reads 10.0 takes the part."""
    assert fault_current(fault_ka) == stated
    assert needed_words(fault_ka) == f"at least {stated} needed" and kiloamps(fault_ka) == stated
