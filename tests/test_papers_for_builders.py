"""What somebody who builds panels asks of the papers: everything that the program knows stands there, in the order of the work."""

from __future__ import annotations

from pathlib import Path

import pytest
from msgspec.structs import replace

import batch
from batch.drawings.control_grounds import BAR, GroundWire
from batch.drawings.control_power import power_plans
from batch.drawings.ladder import plans
from batch.drawings.ladder_rows import Alike
from batch.papers.gathering import gather_papers
from batch.papers.grounding_wires import BY_LIST, drawn_grounds, grounds_of_control
from batch.papers.job_at_hand import ON_HOLD, AtHand, Figures
from batch.papers.paper_data import Paper, PaperTable
from batch.papers.run_papers import _runs
from batch.results import JobResult
from batch.schedules import rows
from batch.sizing.project import size_job
from tests.job_builder import bank, feeder, project, size, tank

SMALL = Path(__file__).resolve().parents[1] / "sample_jobs" / "small-clean.xlsx"


@pytest.fixture(scope="module")
def small() -> JobResult:
    return batch.check(SMALL)


def papers_of(result: JobResult, audience: str = "all") -> dict[str, Paper]:
    return {paper.title: paper for paper in gather_papers(result, audience, True, "us-letter", "").papers.papers}


def table_named(paper: Paper, title: str) -> PaperTable:
    return next(one for one in paper.tables if one.title.startswith(title))


# Tests


def test_a_record_goes_by_the_order_of_the_work(small: JobResult) -> None:
    """No heater is energized before every terminal is tight, and each limit has dropped every contactor."""
    for title, paper in papers_of(small).items():
        if not title.endswith(": test record"):
            continue
        steps = [one.title for one in paper.tables]
        assert [step.split()[0] for step in steps] == [f"{number}" for number in range(1, len(steps) + 1)]
        [energized] = [number for number, step in enumerate(steps) if "Covered by liquid" in step]
        assert all(steps.index(step) < energized for step in steps if "Torque" in step or "Safety string" in step or "dead" in step)
        [safety] = [one for one in paper.tables if "Safety string" in one.title]
        assert f"with step {safety.title[0]})" in steps[0] and "reads ____ V, nominal 120 V" in safety.note


def test_a_blown_fuse_is_not_sought_where_only_the_heaters_are_read(small: JobResult) -> None:
    """A single-circuit bank is read at its contactor's load side, behind its fuse; a panel at its block, ahead of its OCPDs."""
    found = papers_of(small)
    assert "shows in amps alone" in table_named(found["T-106/1 single circuit: test record"], "6").note
    assert table_named(found["T-105/1-P1: test record"], "6").note == ""


@pytest.mark.parametrize("backup", [True, False])
def test_the_ladder_says_what_a_welded_contactor_does(backup: bool) -> None:
    [control] = size([bank(quantity=6)], feeder(), projects=project(backup_contactor="yes" if backup else "no")).projects[0].controls
    assert bool(control.supplies[0].backup) is backup
    told = " ".join(words.text for sheet in plans(Alike(control, 1, True), "IEEE 315") for words in sheet.words)
    assert ("a limit still opens CONB ahead of it" in told) is backup
    assert ("and a contactor that welds while it runs" in told) is not backup


def test_poles_of_a_stock_part_that_stay_empty_are_said(small: JobResult) -> None:
    """A contactor of three poles on two lines is no two-pole part."""
    said = {row["used_for"]: row["words"] for row in rows(small, "materials") if row["role"] == "contactor"}
    assert said["Type 08"] == "CONT-90-3, 90 A, 3-pole, 2 of them used, 120 V coil"
    assert said["Type 07"] == "CONT-45-2, 45 A, 2-pole, 120 V coil"
    assert said["Type 04"] == "CONT-45-3, 45 A, 3-pole, 120 V coil"


def test_a_contactor_is_ordered_with_the_volts_of_its_coil() -> None:
    """Of a type that stands behind two control panels, one of 24 V, both; on each control panel's own list its own."""
    heaters = [bank(tank=tag, quantity=quantity, connection=None) for tag in ("T-1", "T-2") for quantity in (6,)]
    heaters.append(bank(tank="T-3", quantity=1, phases=3))
    tanks = [tank(tank="T-1"), tank(tank="T-2", control_v=24.0), tank(tank="T-3")]
    result = size(heaters, feeder(), tanks)
    said = {row["used_for"]: row["words"] for row in rows(result, "materials") if row["role"] == "contactor"}
    assert said["Type 01"].endswith(", 24 or 120 V coil") and said["single circuit 1"].endswith(", 120 V coil")
    volts = []
    for title, paper in papers_of(result).items():
        if title.endswith("power circuit and parts"):
            volts += [row[2].rpartition(", ")[2] for row in table_named(paper, "Parts").rows if row[1] == "contactor"]
    assert sorted(volts) == ["120 V coil", "120 V coil", "24 V coil"]
    [single] = [paper for title, paper in papers_of(result).items() if title.startswith("T-3/1 single circuit: drawing")]
    assert [row[1].rpartition(", ")[2] for row in table_named(single, "Parts").rows if row[0] == "contactor"] == ["120 V coil"]


def test_control_wire_of_one_panel_and_of_all_is_the_same_length(small: JobResult) -> None:
    listed = table_named(papers_of(small)["Control panel 01: power circuit and parts"], "Parts")
    [each] = [row[-1] for row in listed.rows if row[1] == "control wire"]
    wires = [row for row in rows(small, "materials") if row["role"] == "control wire"]
    [whole] = [row["quantity"] for row in wires if row["used_for"] == "Control panel 01"]
    assert float(each.removesuffix(" ft")) * 3 == pytest.approx(whole)


def test_every_wire_of_a_type_has_a_colour_and_the_panel_feeder_the_one_of_the_control_panel_s_list(small: JobResult) -> None:
    """Power inside the box is black, to a heater it has its line's colour, which the table below the wires says for each panel."""
    found = papers_of(small)
    wires = {(one.tank, wire.end_box, wire.number[1:]): wire.colour for one in small.projects[0].controls for wire in one.circuit.wires
             if wire.purpose == "panel feeder"}  # fmt: skip
    for kind in small.projects[0].types:
        paper = found[f"{kind.type}: wiring"]
        [(colours, control, _)] = [row for row in paper.tables[-1].rows if kind.tags[0] in row[2] or "all" in row[2]]
        assert control == "14 AWG red"
        lines = dict(zip(("T1", "T2", "T3"), colours.split(", "), strict=False))
        tank, _, box = kind.tags[0].partition("/")
        assert {wires[tank, box, line]: line for line in lines} == {hue: line for line, hue in lines.items()}
        for one in table_named(paper, "Its own").rows:
            assert one[-1].endswith(("green", "black", "colour of L1", "colour of L2", "colour of L3", "white or gray")), one
            jumper = one[-1].startswith("jumper")
            assert not jumper or (one[2].startswith("PDB1:L") and one[-1].endswith(", black"))
            assert jumper or not one[2].startswith("CB") or "colour of L" in one[-1]


def test_phases_that_land_otherwise_have_other_colours() -> None:
    """A one-phase panel feeder on lines B and C: its own L1 is the supply's B, which is orange."""
    banks = [bank(tank=f"T-{at}", quantity=4, power_kw=6.0, connection="parallel", phase_pair="B-C" if at else "A-B") for at in range(2)]
    result = size(banks, feeder())
    said = {row["panel"].partition("/")[0]: row["colours"] for row in rows(result, "wiring_tags")}
    assert said == {"T-0": "brown, orange", "T-1": "orange, yellow"}


def test_grounding_conductors_are_listed_with_their_sizes(small: JobResult) -> None:
    """From the way to the control panel, on to each heater panel, to plate and door: as schedules of ways and panels have them."""
    found = papers_of(small)
    ways = {row["tank"]: row["ground"] for row in rows(small, "distribution") if row["way"]}
    panels = {row["panel"]: row["panel_feeder_ground"] for row in rows(small, "panels")}
    for control in small.projects[0].controls:
        listed = [row for row in found[f"{control.tag}: wiring of the control panel"].tables[0].rows if "green" in row]
        ends = {(row[2], row[3]): row[5] for row in listed}
        assert ends["field supply 1 EGC", "ground bar"] == ways[control.tank] == ends["ground bar", "plate"]
        assert ("ground bar", "door, its metal parts") in ends
        for feed in control.feeds:
            assert ends.get(("ground bar", f"{feed.tag} ground bar")) == panels.get(f"{control.tank}/{feed.tag}")
    for kind in small.projects[0].types:
        own = [row[3] for row in table_named(found[f"{kind.type}: wiring"], "Its own").rows if row[2] == "ground bar"]
        assert own[-2:] == ["plate", "door, its metal parts"] and len(own) == kind.design.heaters + 2


@pytest.mark.parametrize("heaters", [4, 5, 10])
def test_ground_bars_take_every_wire_that_lands_on_them(heaters: int) -> None:
    """Of a heater panel the supply's, one of each branch, plate and door; of a control panel all that its list has."""
    result = size(bank(quantity=heaters, power_kw=3.0), feeder(), projects=project(boxes="two"))
    bars = {line.used_for: int(line.words.split()[2]) for line in result.projects[0].materials if line.role == "ground bar"}
    for title, paper in papers_of(result).items():
        if "wiring" in title:
            wires = sum("ground bar" in row for table in paper.tables for row in table.rows)
            openings = bars.pop(title.partition(":")[0] if title.startswith("Type") else "Control panel 01")
            assert 4 * title.startswith("Type") < wires <= openings, title
    assert not bars


def test_parts_of_a_type_bear_the_designations_of_its_wiring(small: JobResult) -> None:
    found = papers_of(small)
    for kind in small.projects[0].types:
        marked = {row[1]: row[0] for row in table_named(found[f"{kind.type}: heater panel"], "Parts").rows}
        wires = table_named(found[f"{kind.type}: wiring"], "Its own").rows
        devices = {row[3].removesuffix(" line side")[:-1] for row in wires if row[3].endswith(" line side")}
        branches = sorted(devices, key=lambda one: int(one[2:]))
        assert marked["branch breaker"] == f"{branches[0]} to {branches[-1]}" and len(branches) == kind.design.branches
        assert marked["limit string terminal"] == f"TB3:1 to :{2 * kind.design.heaters + 2}" and marked["ground bar"] == "ground bar"
        [control] = [one for one in small.projects[0].controls if kind.tags[0].startswith(f"{one.tank}/")]
        lands = {wire.end.partition(":")[0] for wire in control.circuit.wires if wire.purpose == "panel feeder"}
        assert {marked["power distribution block"]} == lands


def test_what_no_line_counts_is_said(small: JobResult) -> None:
    found = papers_of(small)
    note = table_named(found["Control panel 01: power circuit and parts"], "Parts").note
    assert "Wire in the box: an estimate, common practice, cut to fit" in note and "Spare terminals: TB1:9, TB1:10, TB1:13, TB1:14." in note
    told = " ".join(found["T-101/HCP: wiring of the control panel"].notes)
    assert "copper THWN-2 as their runs" in told and "where the plant has none, a wire TB1:5 to :6" in told


def test_wires_to_the_first_control_fuses_are_told_to_be_taps(small: JobResult) -> None:
    """14 AWG stands between the disconnect's terminals and the primary fuses, behind the device of the whole box."""
    for control in small.projects[0].controls:
        told = " ".join(papers_of(small)[f"{control.tag}: wiring of the control panel"].notes)
        assert "DISC1:T1 to FUC1:1, DISC1:T2 to FUC2:2: taps. FUC1 and FUC2 keep them from overload" in told
        assert "only the device ahead of the box" in told and "at most 10 ft (3 m)" in told


@pytest.mark.parametrize(("by", "said"), [("panel", True), ("others", False)])
def test_a_controller_in_the_panel_has_a_sensor_that_must_fail_safe(by: str, said: bool) -> None:
    found = papers_of(size(bank(), projects=project(controller_by=by)))
    told = " ".join(found["T-1/HCP: wiring of the control panel"].notes)
    assert ("a broken sensor must open its contact" in told) is said


def test_power_wire_of_a_box_is_estimated_by_size_and_colour(small: JobResult) -> None:
    """By hand, T-101/HCP: plate of a 36 x 30 in box 838.4 x 686 mm, a wire 1.5 x half of both, 1.143 m. On three lines from the
    disconnect to the back-up contactor, to the breaker, to the contactor: 9 wires, 10.3 m, by steps of 5 m 15 m, 50 ft, which is what
    Materials has of it for each of three panels. Twelve jumpers of a panel
    in a box of 24 x 20 in: 0.724 m each, 9 m, 30 ft."""
    found = papers_of(small)
    rows_of = table_named(found["Control panel 01: power circuit and parts"], "Parts").rows
    [power] = [row for row in rows_of if row[1] == "power wire"]
    assert (power[2], power[4]) == ("WIRE-10: 10 AWG copper THWN-2, in the box, estimated: 9 black", "50 ft")
    [bought] = [row for row in rows(small, "materials") if row["role"] == "power wire" and row["used_for"] == "Control panel 01"]
    assert (bought["part"], bought["each"], bought["quantity"], bought["unit"]) == ("WIRE-10", 50, 150, "ft")
    wires = [row for row in found["T-101/HCP: wiring of the control panel"].tables[0].rows if row[4] == "black" and row[5] == "10 AWG"]
    assert len(wires) == 9
    assert table_named(found["Type 02: heater panel"], "Parts of one").note.startswith("12 block jumpers: about 30 ft of wire in all")


def test_every_part_has_its_row_on_the_plate(small: JobResult) -> None:
    """Type 02 by hand, plate 432 mm wide, room for 281.6: a block of 105 and four breakers of 36 are 249, and one more would be 285."""
    found = papers_of(small)
    rows_of = table_named(found["Type 02: heater panel"], "Parts on the plate").rows
    assert rows_of == (("1", "PDB1, CB1 to CB4", "249", "100"), ("2", "CB5 to CB6, TB3", "176", "90"))
    for kind in small.projects[0].types:
        box = kind.design.enclosure
        assert box is not None and sum(box.on) == sum(part.number for part in box.parts)
    note = table_named(found["Control panel 01: power circuit and parts"], "Parts").note
    assert "row by row from above: DISC1, CONB, PCB1, CON1, CPT1, FUC1, FUC2 / FUC3, CRL1, TB1 (plate about 838 x 686 mm" in note
    control = small.projects[0].controls[0]
    drawn = {one.mark.rstrip("ABC") if one.kind == "breaker" else one.mark for one in control.circuit.power}
    listed = {one for part in control.enclosure.parts for mark in part.marks for one in mark.split(", ")}
    assert drawn | {"CPT1", "FUC1", "FUC2", "FUC3", "CRL1", "TB1"} == listed


def test_every_run_is_on_a_paper_and_its_wire_among_the_materials(small: JobResult) -> None:
    """T-105: nine branches of 20 ft in nine raceways from both panels, to each a panel feeder of 12 AWG. What is bought is that of Runs."""
    found = papers_of(small)
    runs = [row for row in found["Runs of wire and raceway"].tables[0].rows if row[1] == "T-105"]
    both = "T-105/1-P1, T-105/1-P2"
    assert runs[0][3:] == ("branch", both, "heaters", "9", "2 x 12 AWG copper THWN-2", "12 AWG", "9 x 1/2 in PVC-80", "20")
    assert [run[3:6] for run in runs[1:]] == [("panel feeder", "control panel", tag) for tag in both.split(", ")]
    assert {run[8] for run in runs} == {"12 AWG"}
    ways = [row[5] for row in found["Runs of wire and raceway"].tables[0].rows if row[3] == "way"]
    assert ways == [f"control panel of T-{number}" for number in range(101, 109)]  # as the tanks stand, where none shares a raceway
    bought = rows(small, "runs")
    for row in table_named(found["Materials"], "Wire and raceway").rows:
        length = sum(one["quantity"] for one in bought if (one["role"], one["part"], one["words"]) == row[:3])
        assert float(row[3].replace(",", "")) == pytest.approx(length, abs=0.5) and row[6] == ""
    listed = {(one["role"], one["words"]) for one in bought}
    assert listed == {(row[0], row[2]) for row in table_named(found["Materials"], "Wire and raceway").rows}


def test_panel_feeders_of_two_sizes_are_two_runs_where_nothing_stands_between_them(small: JobResult) -> None:
    """T-105 has panels of six heaters and of three: with no wire from device to contactor to buy, they follow on each other."""
    priced = [replace(one, device_run_m=0.0) for one in small.job.pricing]
    found = papers_of(size_job(replace(small.job, pricing=tuple(priced))))
    runs = [row for row in found["Runs of wire and raceway"].tables[0].rows if row[1] == "T-105"]
    assert [run[3] for run in runs] == ["branch", "panel feeder", "panel feeder"] and all(run[6] == "1" for run in runs[1:])


def test_lines_that_begin_with_circuits_begin_a_run() -> None:
    """Two panel feeders from one place to another are two runs, each with its ground behind it."""
    ends = {"tank": "T-1", "bank": "1", "feeder": "F-1", "run": "panel feeder", "start": "CP-1", "end": "HP-1"}
    lines = [{**ends, "circuits": circuits} for circuits in (1, None, 1, None)]
    assert [len(run) for run in _runs(lines)] == [2, 2]


def test_runs_of_no_known_length_are_counted_apart() -> None:
    result = size([bank(quantity=6, heater_run_m=None), bank(tank="T-2", quantity=6, heater_run_m=6.0)], feeder())
    found = papers_of(result)
    wires = {row[2]: row for row in table_named(found["Materials"], "Wire and raceway").rows if row[0] == "conductor"}
    assert any(row[6].endswith("of no known length") for row in wires.values())
    lengths = [row[-1] for row in found["Runs of wire and raceway"].tables[0].rows if row[3] == "branch"]
    assert lengths[0] == "not given" and lengths[1] == "19.69"


def test_a_run_on_hold_has_the_word_and_its_paper_the_band() -> None:
    """T-1 has a device below what it needs, T-2 has not: on a black and white print its runs are told by a word, as on other schedules."""
    result = size([bank(quantity=6, fixed_rating_a=15.0, power_kw=9.0), bank(tank="T-2", quantity=6)], feeder())
    paper = papers_of(result)["Runs of wire and raceway"]
    listed = paper.tables[0]
    status = {(row[1], row[-1]) for row in listed.rows if row[1]}
    assert status == {("T-1", "HOLD"), ("T-2", "")} and listed.headings[-1].words == "Status"
    of = len(listed.held)
    assert paper.band == f"HOLD - NOT RELEASED FOR FABRICATION: {of} of {len(listed.rows)} runs; see Status" and paper.status == ON_HOLD


def test_one_box_has_no_panel_feeder_to_pull() -> None:
    """Nobody gave a length from contactor to panel; both stand in one box, so that there is none, nor a raceway, nor a doubt."""
    result = size(bank(quantity=6, panel_feeder_run_m=None), feeder(), projects=project(boxes="one"))
    kinds = {row["run"] for row in rows(result, "runs")}
    assert "branch" in kinds and "panel feeder" not in kinds
    assert not [one for one in result.findings if one.code == "no-length" and "contactor-to-panel" in one.message]
    two = size(bank(quantity=6, panel_feeder_run_m=None), feeder(), projects=project(boxes="two"))
    assert "panel feeder" in {row["run"] for row in rows(two, "runs")}
    assert [one for one in two.findings if one.code == "no-length" and "contactor-to-panel" in one.message]


def test_every_end_of_a_raceway_is_counted_for_its_fitting(small: JobResult) -> None:
    """The sample's shop has a rule of two adapters a raceway, which counts bank by bank and way by way: 96. The ends come to the same."""
    [materials] = [paper for title, paper in papers_of(small).items() if title == "Materials"]
    ends = [row[5] for row in table_named(materials, "Wire and raceway").rows if row[0] == "raceway"]
    adapters = [row[4] for row in materials.tables[0].rows if row[1] == "terminal adapters"]
    assert adapters == ["96"] == [f"{sum(map(int, ends))}"] and len(ends) == 5
    assert not any(row[5] for row in table_named(materials, "Wire and raceway").rows if row[0] != "raceway")


def test_materials_say_a_thing_once_and_only_things(small: JobResult) -> None:
    """Rules of the shop count bank by bank; days of testing are no material."""
    listed = papers_of(small)["Materials"].tables[0].rows
    assert len({(*row[:4], row[5]) for row in listed}) == len(listed)
    assert {row[1]: row[4] for row in listed if row[0] == "allowances"} == {
        "engraved nameplate": "8", "warning labels": "32", "ground bar": "8", "terminal adapters": "96",
    }  # fmt: skip
    assert not any(row[5] in ("day", "lot", "tank", "h") for row in listed)


def test_the_door_has_every_device_with_its_words_and_colour(small: JobResult) -> None:
    for control in small.projects[0].controls:
        door = {row[0]: row[1:] for row in table_named(papers_of(small)[f"{control.type}: power circuit and parts"], "On the door").rows}
        wanted = {one.mark for one in control.circuit.elements if one.kind in ("lamp", "selector", "button")}
        assert wanted | {supply.mark for supply in control.supplies} == door.keys() - {""}
        assert all(words and (colour or not mark) for mark, (_, words, colour) in door.items())
        assert (door["LT1"][2], door["LT3"][2], door["LT2-1"][2]) == ("white", "red", "green") and door["LT3"][1] == "LIMIT STRING OPEN"


def test_what_is_cut_into_a_panel_is_said(small: JobResult) -> None:
    """T-104: a panel feeder of 6 AWG in 1 in, three heaters each in a raceway of its own."""
    entries = table_named(papers_of(small)["Type 04: heater panel"], "What enters").rows
    assert [row[:3] for row in entries] == [
        ("control panel", "1", "1 in PVC-80"), ("heaters", "3", "1/2 in PVC-80"), ("control panel, limits", "____", "____"),
    ]  # fmt: skip


def test_what_is_cut_into_a_control_panel_is_what_runs_to_it_and_from_it(small: JobResult) -> None:
    """Against the runs: the way to the panel, its panel feeders, and the circuits of a single-circuit bank."""
    found = papers_of(small)
    runs = found["Runs of wire and raceway"].tables[0].rows
    raceways = {(row[1] or row[5].removeprefix("control panel of "), row[3]): row[9] for row in runs}
    for control in small.projects[0].controls:
        listed = table_named(found[f"{control.type}: power circuit and parts"], "What enters").rows
        enters = {row[0]: f"{row[1]} x {row[2]}" for row in listed}
        assert enters["supply 1, to DISC1"] == raceways[control.tank, "way"]
        for feed in control.feeds:
            if feed.single:
                assert enters[f"heaters of bank {feed.tag}"] == raceways[control.tank, "branch"]
            else:
                assert enters[feed.tag] == "1 x " + raceways[control.tank, "panel feeder"].rpartition("1 x ")[2]
                assert f"{feed.tag}, limits" in enters
        assert enters["the field"] == "____ x ____"
        [words] = [row[3] for row in listed if row[0] == "the field"]
        assert "LLC1" in words and "TC1" in words and words.endswith("alarm: by whoever lays them")


def test_in_one_box_the_branches_leave_the_control_panel() -> None:
    result = size(bank(quantity=6, heater_run_m=6.0, panel_feeder_run_m=0.0), feeder(), projects=project(boxes="one"))
    [paper] = [one for title, one in papers_of(result).items() if title.endswith("power circuit and parts")]
    rows_there = {row[0]: row for row in table_named(paper, "What enters").rows}
    assert rows_there["heaters of 1-P1"][1] == "6" and rows_there["heaters of 1-P1"][3] == "6 circuits"
    assert "1-P1" not in rows_there


@pytest.mark.parametrize(("kw", "said"), [(9.0, "Block jumpers of 6 AWG, as the panel feeder OCPD asks, on 15 A fuses"), (6.0, "")])
def test_jumpers_larger_than_a_branch_device_s_terminals_are_known_to_take_are_open(small: JobResult, kw: float, said: str) -> None:
    """Terminals of a 30 A frame are counted on up to 8 AWG: one size above the 10 AWG of 30 A at 60 °C. 3 x 9 kW hang on 45 A, 3 x 6 kW on
    30 A. Breakers of the small sample's stock say that they take up to 4 AWG."""

    def open_words(result: JobResult) -> list[str]:
        papers = [paper for title, paper in papers_of(result).items() if title.endswith(": heater panel")]
        tables = [one for paper in papers for one in paper.tables if one.title == "Open on this paper"]
        return [row[0] for one in tables for row in one.rows if "Block jumpers" in row[0]]

    found = open_words(size([bank(quantity=3, power_kw=kw, phases=3, connection=None)], feeder()))
    assert (len(found) == 1 and said in found[0] and "up to 8 AWG" in found[0]) if said else not found
    assert not open_words(small)


def test_jumpers_that_are_taps_are_smaller_and_say_so() -> None:
    """8 x 6 kW, 3-phase: 7.2 A on 15 A each, 57.7 A and 72.2 A with the margin: 80 A. In full 3 AWG (85 A at 60 °C); a third of 80 A is
    26.7 A: 10 AWG (30 A)."""
    eight = {"quantity": 8, "power_kw": 6.0, "phases": 3, "connection": None}
    full, tap = (
        size([bank(**eight)], feeder(), projects=project(block_jumpers=words)).projects[0].banks[0] for words in ("full size", "tap")
    )
    assert (full.design.panels[0].jumper, tap.design.panels[0].jumper) == ("3", "10")
    assert "8 load side, 10 AWG jumpers" in tap.design.panels[0].block
    codes = [{one.code for one in row.findings} & {"block-jumper-large", "block-jumper-tap"} for row in (full, tap)]
    assert codes == [{"block-jumper-large"}, {"block-jumper-tap"}]


def test_cautions_of_a_bank_stand_on_its_panel_s_drawing_and_what_nobody_settled_on_the_first_sheet(small: JobResult) -> None:
    result = size([bank(quantity=6, over_temperature_limit="no"), bank(tank="T-2", quantity=6)], feeder())
    found = papers_of(result)
    told = {}
    for kind in result.projects[0].types:
        tables = [one for one in found[f"{kind.type}: heater panel"].tables if one.title == "Open on this paper"]
        told[kind.tags] = " ".join(row[0] for one in tables for row in one.rows)
    [first], [second] = ([words for tags, words in told.items() if tags[0].startswith(tank)] for tank in ("T-1/", "T-2/"))
    assert "T-1/1: " in first and "limit" in first and "T-2" not in first and "T-1" not in second
    decided = table_named(papers_of(small)["Transmittal"], "Open in this set").rows
    assert len(decided) == 10 and all(what and who for what, who in decided)
    assert any(what.startswith("Bonding of the tank") for what, _ in decided) and not any("relays" in what for what, _ in decided)
    guarded = size(bank(quantity=6), feeder(), projects=project(ground_fault_trip_ma=100.0))
    assert any("relays" in what for what, _ in table_named(papers_of(guarded)["Transmittal"], "Open in this set").rows)


def test_every_grounding_conductor_of_a_control_panel_s_list_ends_at_two_drawn_terminals(small: JobResult) -> None:
    """The supply's, each heater panel's, the plate's and the door's: each is drawn from the bar to its end, of the listed size."""
    found = papers_of(small)
    for control in small.projects[0].controls:
        [paper] = [one for title, one in found.items() if title.startswith(control.type) and "power circuit" in title]
        listed = [row for row in table_named(found[f"{control.tag}: wiring of the control panel"], "").rows if not row[1]]
        [sheet] = power_plans(control, "IEEE 315", grounds=[GroundWire(*row[2:], of=of(row)) for row in listed])
        points = {symbol.of: (symbol.x, symbol.y) for symbol in sheet.symbols if symbol.kind == "terminal"}
        bar = next(line for line in sheet.lines if line.style == "bar" and line.x1 == line.x2 == BAR)
        words = [one.text for one in sheet.words]
        assert len(listed) == 3 + len([feed for feed in control.feeds if not feed.single])
        for _, _, start, end, colour, awg in listed:
            _, y = points[end if start == "ground bar" else start]
            assert bar.y1 <= y <= bar.y2 and any(line.y1 == line.y2 == y and BAR in (line.x1, line.x2) for line in sheet.lines)
            assert any(f"{colour}, {awg}" in one and (end in one or "EGC" in one) for one in words), end
        assert paper.figures and "ground bar" in words


def test_a_protective_conductor_that_may_have_to_be_larger_is_open_where_it_is_drawn() -> None:
    """13.5 kW leak 10.1 mA as planned, over the 10 mA from which a protective conductor is reinforced: a note, yet one that changes what is
    built."""
    of = {"volts_v": 400.0, "system": "wye grounded", "earthing": "TN-S", "wires": 4, "frequency_hz": 50.0}
    one = bank(quantity=3, power_kw=13.5, volts_v=400.0, phases=3, connection=None)
    found = papers_of(size(one, feeder(**of), projects=project(code_basis="IEC 60364"))).values()
    said = [row[0] for paper in found for one in paper.tables if one.title == "Open on this paper" for row in one.rows]
    assert any("may leak over" in words for words in said), said


@pytest.mark.parametrize("quantities", [(3, 9), (9, 3)])
def test_plate_and_door_are_bonded_for_the_largest_supply(quantities: tuple[int, int]) -> None:
    """Whichever supply comes first: a fault to the door may come from any of them."""
    banks = [bank(bank=str(at), feeder=f"F-{at}", quantity=heaters) for at, heaters in enumerate(quantities, start=1)]
    result = size(banks, [feeder(feeder="F-1"), feeder(feeder="F-2")])
    [control] = result.projects[0].controls
    listed = grounds_of_control(AtHand(result, True, Figures()), control)
    coming = {one.of: one.size for one in listed if one.of.startswith("supply")}
    assert len(set(coming.values())) == 2
    largest = coming[f"supply {1 + (quantities[1] > quantities[0])}"]
    assert {one.size for one in listed if not one.of} == {largest}


def of(row: tuple[str, ...]) -> str:
    """What a listed grounding conductor comes from or goes to, beside the bar."""
    if row[2].startswith("field "):
        return row[2].removeprefix("field ").removesuffix(" EGC")
    return row[3].removesuffix(" ground bar") if row[3].endswith(" ground bar") else ""


def test_papers_draw_the_grounding_conductors_they_list(small: JobResult) -> None:
    gathered = gather_papers(small, "all", True, "us-letter", "")
    by_file = {file: drawing for drawing, file in gathered.figures.files.items()}
    for paper in gathered.papers.papers:
        if paper.title.endswith("power circuit and parts"):
            words = " ".join(one.text for figure in paper.figures for one in by_file[figure.file].words)
            assert "supply 1 EGC, green, " in words and "door, its metal parts, green, " in words, paper.title


@pytest.mark.parametrize("boxes", ["one", "two"])
def test_heaters_grounded_in_the_control_panel_s_box_have_their_conductor_on_its_drawing(boxes: str) -> None:
    """Nine heaters of 4.17 A from a heater panel, 15 A and a ground of 12 AWG; one of 12 kW without one, 20 A and 12 AWG. From the bar of
    the control panel leaves what is grounded there: in two boxes the panel and the single heater, in one the heaters of both."""
    banks = [bank(quantity=9, power_kw=2.0), bank(bank="2", power_kw=12.0, phases=3, quantity=1)]
    result = size(banks, feeder(), projects=project(boxes=boxes))
    gathered = gather_papers(result, "all", True, "us-letter", "")
    by_file = {file: drawing for drawing, file in gathered.figures.files.items()}
    [paper] = [one for one in gathered.papers.papers if one.title == "Control panel 01: power circuit and parts"]
    drawn = [by_file[figure.file] for figure in paper.figures]
    words = [one.text for sheet in drawn for one in sheet.words]
    ends = {symbol.of for sheet in drawn for symbol in sheet.symbols if symbol.kind == "terminal"}
    single, panel = "heaters of bank 2, each", "heaters of 1-P1, each"
    assert f"{single}, green, 12 AWG" in words and single in ends
    assert (f"{panel}, green, 12 AWG" in words) is (panel in ends) is (boxes == "one") is ("1-P1 ground bar" not in ends)
    listed = [row for one in gathered.papers.papers if one.title.endswith("wiring of the control panel") for row in one.tables[0].rows]
    assert listed and not any("heaters of" in row[3] for row in listed)  # heater by heater they are on the other lists


def test_the_ground_of_a_panel_feeder_is_listed_once_and_said_to_be_on_both_lists(small: JobResult) -> None:
    for title, paper in papers_of(small).items():
        if title.startswith("Type ") and title.endswith(": wiring"):
            own, again = (table_named(paper, name).rows for name in ("Its own wires", "Also on the list"))
            assert [row[3] for row in again if row[2] == "supply EGC"] == ["ground bar"], title
            assert not any(row[2].startswith("supply") for row in own), title


def test_a_transformer_of_several_primary_volts_is_linked_for_its_own(small: JobResult) -> None:
    """CPT1 behind 480 V and behind 240 V: its H2 and H3 are on no list, and the builder is told so."""
    for tank_tag, volts_v in (("T-101", 480), ("T-107", 240)):
        notes = papers_of(small)[f"{tank_tag}/HCP: wiring of the control panel"].notes
        [said] = [one for one in notes if "links between taps" in one]
        assert said.startswith(f"CPT1: links between taps of its primary for {volts_v} V")


def test_a_size_that_differs_between_control_panels_alike_is_left_to_their_lists() -> None:
    """Two ways of different lengths: one EGC is upsized with its conductors, and the drawing of both panels names neither size."""
    heaters = [bank(tank="T-1", quantity=6), bank(tank="T-2", quantity=6)]
    one = GroundWire("field supply 1 EGC", "ground bar", "green", "10 AWG", "supply 1")
    result = size(heaters, feeder())
    controls = result.projects[0].controls
    assert len({control.type for control in controls}) == 1
    sizes = iter([(one,), (one._replace(size="8 AWG"),)])
    assert drawn_grounds(controls, lambda _: next(sizes)) == (one._replace(size=BY_LIST),)
    assert drawn_grounds(controls, lambda _: (one,)) == (one,)


def test_materials_say_what_of_a_type_stands_in_the_control_panel(small: JobResult) -> None:
    """A heater panel is built of its own parts; device and contactor of its panel feeder, and all of a single circuit, stand in
    the control panel."""
    listed = papers_of(small)["Materials"].tables[0].rows
    away = {row[1] for row in listed if row[0].endswith(": in the control panel")}
    here = {row[1] for row in listed if row[0].startswith(("Type", "single")) and not row[0].endswith(": in the control panel")}
    of_feeds = {need.role for control in small.projects[0].controls for need in control.feed_parts}
    assert away == of_feeds and not here & of_feeds and "branch breaker" in here


IEC_BASIS = {"code_basis": "IEC 60364", "device_kind": "breaker"}
THREE_KW = {"quantity": 3, "power_kw": 9.0, "phases": 3, "connection": None, "heater_run_m": 15.0, "panel_feeder_run_m": 10.0}


def test_insulation_above_500_volts_is_tested_at_1000() -> None:
    """Typed again from memory, IEC 60364-6: up to and with 500 V nominal at 500 V DC, above at 1000 V DC, at least 1 Mohm each. A shop's
    panels on two supplies say it panel by panel."""
    on = [feeder(feeder="F-400", volts_v=400.0), feeder(feeder="F-690", volts_v=690.0)]
    banks = [
        bank(tank="B-1", feeder="F-400", volts_v=400.0, **THREE_KW), bank(tank="B-2", feeder="F-690", volts_v=690.0, **THREE_KW)
    ]  # fmt: skip
    papers = papers_of(size(banks, on, projects=project(**IEC_BASIS)))
    for at, name, volts in (("B-1", "F-400", "500 V DC"), ("B-2", "F-690", "1000 V DC")):
        high = volts == "1000 V DC"
        record, circuits = papers[f"{at}/1-P1: test record"], papers[f"Feeder {name}: circuit tests"]
        for paper in (record, circuits):
            [unit] = [head.unit for head in paper.tables[0].headings if head.words in ("Insulation", "Insulation, cold")]
            assert unit == f"{volts}, at least 1 Mohm"
            assert any("1000 V DC above 500 V nominal: IEC 60364-6" in note for note in paper.notes) is high
    steps, panels = papers["Heater panels: shop test"].tables
    assert any("volts as below" in row[0] for row in steps.rows)
    [column] = [number for number, head in enumerate(panels.headings) if head.words == "Insulation at"]
    assert [(row[0], row[column]) for row in panels.rows] == [("B-1/1-P1", "500 V DC"), ("B-2/1-P1", "1000 V DC")]
    dead = {title: paper.tables[0].rows for title, paper in papers.items() if title.startswith("Control panel") and "shop test" in title}
    assert ["1000 V DC" in str(one) for one in dead.values()] == [False, True]


@pytest.mark.parametrize(("volts", "test"), [(480.0, "500 V DC"), (600.0, "1000 V DC")])
def test_insulation_of_600_volts_is_tested_at_1000(volts: float, test: str) -> None:
    """Common practice, no source: the American code has no table of them."""
    papers = papers_of(size([bank(quantity=6, volts_v=volts)], feeder(volts_v=volts)))
    [record] = [paper for title, paper in papers.items() if title.endswith(": test record")]
    [shop] = [paper for title, paper in papers.items() if title == "Heater panels: shop test"]
    assert any(head.unit == f"{test}, at least 1 Mohm" for head in record.tables[0].headings)
    assert any(f"to the ground bar: {test}" in row[0] for row in shop.tables[0].rows)


def test_heaters_on_one_contactor_are_read_with_their_wires_lifted() -> None:
    """Two of 3 kW, 380 V, 48.13 ohm each (380² / 3000), on the same terminals: 24.07, which is what a meter reads with both landed."""
    given = {"quantity": 2, "power_kw": 3.0, "volts_v": 380.0, "connection": None, "heater_run_m": None}
    papers = papers_of(size([bank(**given)], feeder(volts_v=380.0), projects=project(**IEC_BASIS)))
    record = papers["T-1/1 single circuit: test record"]
    first, second = record.tables[:2]
    assert "its wires lifted" in first.title and "devices open" not in first.title and {row[3] for row in first.rows[:2]} == {"48.13"}
    assert "lift each one's wires off -Q11, load side, and read it alone" in first.note and "(L1-L2 24.07 ohm)" in first.note
    assert "all heaters landed again" in second.title and [row[2] for row in second.rows] == ["24.07"]
    one = papers_of(size([bank(**given | {"quantity": 1})], feeder(volts_v=380.0), projects=project(**IEC_BASIS)))
    alone = one["T-1/1 single circuit: test record"].tables[0]
    assert "devices open" in alone.title and "lift" not in alone.note


def test_insulation_of_heaters_on_a_neutral_bar_is_read_without_the_supply_s() -> None:
    """The supply's neutral is earthed: with it landed the reading is nought; and the bar joins the heaters, OCPDs open or not."""
    star = bank(quantity=7, power_kw=4.0, volts_v=277.0, connection=None)
    [record] = [paper for title, paper in papers_of(size([star], feeder(wires=4))).items() if title.endswith(": test record")]
    assert "Lift the supply's neutral first" in record.tables[0].note and "read insulation together" in record.tables[0].note
    opened = next(one for one in record.tables if one.title.startswith("6"))
    assert any(row[0] == "the supply's neutral: volts of L1 85.7 %, L2 107.9 %, L3 107.9 %" for row in opened.rows)
    assert "open the disconnect" in opened.note
    delta = papers_of(size([bank(quantity=6)], feeder()))["T-1/1-P1: test record"]
    assert "neutral" not in delta.tables[0].note and "OCPDs open" in delta.tables[0].title
