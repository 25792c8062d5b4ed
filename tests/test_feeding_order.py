"""What stands ahead of a panel or a single-circuit bank, in one order and one wording on every drawing and label."""

from __future__ import annotations

import pytest

from batch.drawings.control_power import power_plans
from batch.drawings.drawing_list import Drawing
from batch.drawings.one_line import plans
from batch.drawings.one_line_words import feds_of
from batch.papers.gathering import gather_papers
from batch.results import JobResult
from batch.schedules import rows
from tests.job_builder import bank, feeder, project, size

NEAR = 40  # above and below a line stand the words of what is on it
CODES = ("NEC 2023", "IEC 60364")


def job(code: str, **given: object) -> JobResult:
    """A tank with one panel feeder, whose fuses stand in the disconnect, one with two, and a single circuit of its own."""
    volts = {"NEC 2023": 480.0, "IEC 60364": 400.0}[code]
    banks = [bank(tank=tag, quantity=count, power_kw=kw, volts_v=volts, phases=phases, connection=None)
             for tag, count, kw, phases in (("T-1", 6, 6.0, 1), ("T-2", 16, 6.0, 1), ("T-3", 1, 9.0, 3))]  # fmt: skip
    return size(banks, feeder(volts_v=volts), projects=project(code_basis=code, **given))


def from_left(drawing: Drawing, marks: set[str]) -> list[str]:
    return [one.text for one in sorted(drawing.words, key=lambda one: one.x) if one.text in marks]


@pytest.mark.parametrize("code", CODES)
@pytest.mark.parametrize("backup", ["no", "yes"])
def test_one_line_and_power_circuit_have_one_order(code: str, backup: str) -> None:
    """Fuses that stand in the disconnect come behind its blades and ahead of the back-up contactor on both."""
    result = job(code, backup_contactor=backup)
    [one] = result.projects
    [fed] = feds_of(result, None)
    [sheet] = plans(fed)
    seen = 0
    for control in one.controls:
        [supply] = control.supplies
        if not supply.fusible:
            continue
        [feed] = control.feeds
        [circuit] = power_plans(control, one.symbols)
        poles = {element.of: feed.device for element in control.circuit.power if element.kind == "fusible disconnect"}
        order = from_left(circuit, {supply.mark, supply.backup, feed.contactor, next(iter(poles))} - {""})
        [tag] = [symbol.y for symbol in sheet.symbols if symbol.of.startswith(f"{control.tank}/") and symbol.kind == "fuse"]
        level = sheet._replace(words=tuple(words for words in sheet.words if abs(words.y - tag) < NEAR))
        drawn = from_left(level, {supply.mark, supply.backup, feed.contactor, feed.device} - {""})
        assert drawn == [poles.get(mark, mark) for mark in order] and len(drawn) == 3 + (backup == "yes")
        seen += 1
    assert seen == 2


@pytest.mark.parametrize("code", CODES)
def test_a_fuse_in_the_disconnect_is_nowhere_said_to_stand_in_a_holder(code: str) -> None:
    """On lists, labels and drawings: what is said of a panel or bank whose control panel has a fusible disconnect; the others keep their
    holders."""
    result = job(code)
    fused = {f"{control.tank}/{feed.tag}": control.supplies[0].fusible for control in result.projects[0].controls for feed in control.feeds}
    said = {row["panel"]: row["panel_feeder_device"] for row in rows(result, "panels")}
    said |= {f"{row['tank']}/{row['bank']}": row["device"] for row in rows(result, "banks") if row["tank"] == "T-3"}
    assert said.keys() == fused.keys() and set(fused.values()) == {True, False}
    assert {tag: ("in the fusible disconnect" in words, "holder" in words) for tag, words in said.items()} == {
        tag: (switched, not switched) for tag, switched in fused.items()
    }  # fmt: skip
    [circuit] = [row["device"] for row in rows(result, "circuits") if row["tank"] == "T-3"]
    assert circuit == said["T-3/1"]
    for row in rows(result, "panel_labels"):
        assert ("in the fusible disconnect" in row["feed"], "holder" in row["feed"]) == (fused[row["panel"]], not fused[row["panel"]])
    for row in rows(result, "control_labels"):
        assert ("holder" in row["replace"]) is (row["panel"] == "T-2/HCP")
    papers = gather_papers(result, "all", True, "us-letter", "")
    drawings = {name: " ".join(words.text for words in drawing.words) for drawing, name in papers.figures.files.items()}
    [of_bank] = [drawings[paper.figures[0].file] for paper in papers.papers.papers if paper.title.endswith("circuit: drawing")]
    assert "holder" not in of_bank and ("fusible disconnect" in of_bank or "switch-disconnector-fuse" in of_bank)


@pytest.mark.parametrize("code", CODES)
@pytest.mark.parametrize("relays", [False, True])
def test_the_current_transformer_of_a_ground_fault_relay_stands_round_every_line(code: str, relays: bool) -> None:
    """A frame with the relay's name, behind the contactor: all the lines of its panel feeder pass through it, and no other's."""
    for control in job(code, ground_fault_trip_ma=300.0 if relays else None).projects[0].controls:
        for sheet in power_plans(control, "IEC 60617"):
            marks = {feed.ground_fault_relay for feed in control.feeds} - {""}
            names = {words.text: words.at for words in sheet.words if words.text in marks}
            assert len(names) == relays * len(control.feeds)
            for feed in control.feeds if relays else ():
                at = names[feed.ground_fault_relay]
                assert at is not None
                x, top = at
                uprights = [line for line in sheet.lines if line.x1 == line.x2 == x - 4]
                [bottom] = {max(line.y1, line.y2) for line in uprights if min(line.y1, line.y2) == top}
                within = {line.y1 for line in sheet.lines if line.y1 == line.y2 and top < line.y1 < bottom
                          and min(line.x1, line.x2) < x - 4 and max(line.x1, line.x2) > x + 4 and line.style == "wire"}  # fmt: skip
                assert len(within) == len(feed.on)
