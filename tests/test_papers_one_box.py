"""Papers of tanks whose control and heater panels stand in one box: two devices in a box never bear one designation."""

from __future__ import annotations

import pytest

from batch.papers.gathering import gather_papers
from batch.results import JobResult
from batch.schedules import rows
from batch.schedules.designations import marks_in_box
from tests.job_builder import bank, feeder, part, project, size
from tests.test_papers import Read, label_of, printed, read

EACH = {"one": "2CB1 HTR7", "two": "CB1 HTR7"}


def plant(boxes: str) -> JobResult:
    """A tank of nine heaters on two panels."""
    return size(bank(quantity=9, power_kw=2.0), feeder(), projects=project(boxes=boxes, device_kind="breaker", branches_per_panel=6))


@pytest.fixture(scope="module", params=("one", "two"))
def boxes(request: pytest.FixtureRequest) -> str:
    return str(request.param)


@pytest.fixture(scope="module")
def papers(boxes: str, tmp_path_factory: pytest.TempPathFactory) -> Read:
    return read(printed(plant(boxes), tmp_path_factory.mktemp("papers") / f"{boxes}.pdf"))


def test_the_second_panel_of_a_box_has_its_number_before_its_devices(boxes: str, papers: Read) -> None:
    result = plant(boxes)
    second = next(row for row in rows(result, "panel_labels") if row["panel"].endswith("-P2"))
    assert second["directory"].startswith(EACH[boxes])
    assert marks_in_box(result.projects[0], second["panel"].lower()).device("breaker", 1) == EACH[boxes].split()[0]
    assert EACH[boxes] in label_of(papers.group("60"), second["panel"])
    record = next(text for text in papers.pages if text.startswith(f"{second['panel']}: test record"))
    assert EACH[boxes].split()[0] in record.split()


def test_a_type_says_where_its_frame_is_no_enclosure(boxes: str, papers: Read) -> None:
    types = papers.group("30")
    assert ("There the frame drawn is no enclosure" in types) is (boxes == "one")
    assert ("2 goes before each device and strip: 2CB1, 2TB3" in " ".join(types.split())) is (boxes == "one")


def test_a_label_in_one_box_stands_beside_the_control_panel_s(boxes: str, papers: Read) -> None:
    assert ("has its label beside that one's" in papers.group("60")) is (boxes == "one")


def test_a_control_panel_s_nameplate_names_every_drawing_of_what_is_in_it(boxes: str, papers: Read) -> None:
    """Its power circuit and its ladder; in one box the heater panels' types too."""
    plates = papers.group("70")
    inside = "P-1-30-01, P-1-30-02, " if boxes == "one" else ""
    assert f"P-1-30-C01, {inside}P-1-40-01" in " ".join(plates.split())
    assert ("P-1-30-C01" in papers.group("30")) and ("P-1-40-01" in papers.group("40"))


def test_a_record_has_the_torque_of_terminals_that_stand_on_the_control_panel_s_list() -> None:
    """Stock states 0.8 N·m for its terminals; in one box the limits' strip is made of the control panel's."""
    for boxes in ("one", "two"):
        stock = [part(part="TERM-1", kind="terminal", torque_nm=0.8)]
        result = size(bank(quantity=9, power_kw=2.0), feeder(), projects=project(boxes=boxes, branches_per_panel=6), stock=stock)
        papers = gather_papers(result, "all", False, "a4", "").papers.papers
        [record] = [one for one in papers if one.title.endswith("1-P2: test record")]
        [listed] = [one for one in record.tables if one.title.endswith("Torque")]
        torques = {row[0]: row[1] for row in listed.rows}
        [strip] = [marked for terminals, marked in torques.items() if terminals.endswith("of the limits")]
        assert strip == "0.8 N·m", boxes


def test_no_two_blocks_of_a_box_are_called_alike(boxes: str, papers: Read) -> None:
    """Two panel feeders on one supply: its block PDB1, and beside it those of the panels."""
    [control] = plant(boxes).projects[0].controls
    ends = [wire.end for wire in control.circuit.wires if wire.purpose == "panel feeder"]
    own = {f"{'12'[at] if boxes == 'one' else ''}PDB1:L{line}" for at in (0, 1) for line in (1, 2, 3)}
    assert [one.block_mark for one in control.supplies] == ["PDB1"] and set(ends) == own
    hues = [wire.colour for wire in control.circuit.wires if wire.end == ("2PDB1:L1" if boxes == "one" else "PDB1:L1")]
    assert "2PDB1:L1" in papers.group("50").split() or boxes == "two"
    assert hues[-1] == ("black" if boxes == "one" else "brown")
    told = " ".join(papers.group("30").split())
    assert ("as drawn: FU1, TB3; but its block 1PDB1" in told.replace("CB1", "FU1")) is (boxes == "one")
    assert ("2PDB1, 2TB3; its branch wires" in told) is (boxes == "one")
    assert ("The block of T-1/1-P1 is 1PDB1 there." in " ".join(papers.group("30").split())) is (boxes == "one")


def test_a_panel_in_the_control_panel_s_box_is_grounded_and_fed_within_it(boxes: str) -> None:
    """No grounding conductor of a supply comes to it, plate and door are grounded once, and power in a box is black."""
    result = plant(boxes)
    wiring = [row for row in rows(result, "wiring") if row["type"] == "Type 01"]
    assert any(row["start"] == "supply EGC" for row in wiring) is (boxes == "two")
    feeder_wires = [row["conductor"] for row in wiring if row["purpose"] == "panel feeder"]
    assert len(feeder_wires) == 3 and all(words.endswith(", black") is (boxes == "one") for words in feeder_wires)
    papers = gather_papers(result, "all", False, "a4", "").papers.papers
    listed = [row for one in papers if one.kind == "wiring" for each in one.tables for row in each.rows]
    doors = sum("door, its metal parts" in row for row in listed)
    assert doors == (1 if boxes == "one" else 3)


def test_a_length_between_boxes_where_there_is_one_is_said(boxes: str) -> None:
    """The heaters of these jobs stand 5 m from their contactors; without that length nothing is said."""
    codes = {one.code for one in plant(boxes).findings}
    assert ("box-one-with-length" in codes) is (boxes == "one")
    near = size(bank(quantity=9, power_kw=2.0, panel_feeder_run_m=0.0), feeder(), projects=project(boxes=boxes))
    assert "box-one-with-length" not in {one.code for one in near.findings}
