"""Wire by colour: which conductors of a run are of which colour, worked by hand, and that no conductor is lost by telling them apart."""

from __future__ import annotations

from collections import Counter

import pytest
from msgspec.structs import replace

import batch
from batch.money_records import Pricing
from batch.results import JobResult
from batch.sizing.project import size_job
from tests.job_builder import bank, feeder, job, part, project, tank
from tests.samples import book, small

PLAIN = {"insulation": "THWN-2", "kind": "wire", "per_unit": "ft", "unit_price": 1.0}


def priced(**given: object) -> Pricing:
    return Pricing("P-1", end_m=0.0, device_run_m=0.0, wire_waste_pct=0.0, raceway_waste_pct=0.0, **given)


def size(*given: object, pricing: Pricing, **more: object) -> JobResult:
    return size_job(replace(job(*given, **more), pricing=(pricing,)))


def wires(result: JobResult, kind: str, role: str = "conductor") -> dict[str, int]:
    """How many conductors of each colour, from the words of the lines."""
    found: Counter[str] = Counter()
    for line in result.projects[0].materials:
        if line.stretch is not None and line.stretch.kind == kind and line.role == role:
            found[line.words.partition(", ")[2]] += line.stretch.abreast
    return dict(found)


def test_off_there_is_one_line_a_size_and_green_apart() -> None:
    result = size([bank(quantity=3)], pricing=priced())
    assert wires(result, "branch") == {"": 6} and wires(result, "branch", "grounding conductor") == {"green": 3}


def test_on_three_heaters_of_one_phase_are_two_conductors_of_each_colour() -> None:
    """Three 480 V heaters on A-B, B-C and C-A: each line is in two of them; over 250 V the trade's are brown, orange, yellow."""
    result = size([bank(quantity=3)], pricing=priced(wire_colours="yes"))
    assert wires(result, "branch") == {"brown": 2, "orange": 2, "yellow": 2}
    assert wires(result, "branch", "grounding conductor") == {"green": 3}


@pytest.mark.parametrize(
    ("pair", "asked", "of_tank", "colours"),
    [
        ("B-C", None, None, {"orange": 1, "yellow": 1}),
        ("C-A", None, None, {"brown": 1, "yellow": 1}),
        ("B-C", "black", None, {"black": 2}),
        ("B-C", "black", "brown orange yellow", {"orange": 1, "yellow": 1}),
    ],
)
def test_the_colours_are_those_of_the_lines_that_circuits_are_on(
    pair: str, asked: str | None, of_tank: str | None, colours: dict[str, int]
) -> None:
    result = size(
        [bank(quantity=1, phase_pair=pair)], tanks=[tank(line_colours=of_tank)], projects=project(line_colours=asked),
        pricing=priced(wire_colours="yes"),
    )  # fmt: skip
    assert wires(result, "branch") == colours


def test_low_voltage_has_its_own_colours_and_a_grounded_line_is_white() -> None:
    low = feeder(volts_v=240.0, system="corner-grounded delta")
    result = size([bank(quantity=3, volts_v=240.0, power_kw=3.0)], low, pricing=priced(wire_colours="yes"))
    assert wires(result, "branch") == {"black": 2, "blue": 2}
    assert wires(result, "branch", "grounded line") == {"white or gray, grounded line": 2}


def test_larger_sizes_are_black_and_marked() -> None:
    """Branch conductors of 12 AWG, the feeder's larger: of 12 AWG at most there is colour."""
    result = size([bank(quantity=9)], feeder(run_m=20.0), pricing=priced(wire_colours="yes", colour_to="12 AWG"))
    assert set(wires(result, "branch")) == {"brown", "orange", "yellow"}
    assert wires(result, "feeder") == {"black, its ends marked by phase": 3}


def test_a_colour_that_is_not_listed_is_open_and_says_so() -> None:
    listed = [part(part="W-BROWN", size="12 AWG", colour="brown", **PLAIN), part(part="W-BLACK", size="12 AWG", colour="black", **PLAIN)]
    result = size([bank(quantity=1)], stock=listed, pricing=priced(wire_colours="yes"))
    of = [line for line in result.projects[0].materials if line.role == "conductor" and line.used_for == "branch"]
    lines = {line.words.rpartition(", ")[2]: line for line in of}
    assert lines["brown"].part == "W-BROWN" and lines["brown"].status == "priced"
    assert (lines["orange"].part, lines["orange"].status) == ("", "open")
    assert lines["orange"].why == "the Stock sheet lists no such wire in orange"
    [said] = [finding for finding in result.findings if finding.code == "wire-colour-missing"]
    assert "orange" in said.message and "brown" not in said.message
    both = [*listed, part(part="W-ORANGE", size="12 AWG", colour="orange", **PLAIN)]
    more = size([bank(quantity=1)], stock=both, pricing=priced(wire_colours="yes"))
    missing = [finding.message for finding in more.findings if finding.code == "wire-colour-missing"]
    assert not any("orange" in message for message in missing)


def test_a_largest_size_that_is_none_leaves_lines_open() -> None:
    listed = [part(part="W-BLACK", size="12 AWG", colour="black", **PLAIN)]
    result = size([bank(quantity=1)], stock=listed, pricing=priced(wire_colours="yes", colour_to="thick"))
    [line] = [line for line in result.projects[0].materials if line.role == "conductor" and line.used_for == "branch"]
    assert line.status == "open" and line.why == "Largest size in colour on Pricing is no wire size: thick"
    assert ["thick" in finding.message for finding in result.findings if finding.code == "colour-size-unknown"] == [True]


def test_telling_them_apart_loses_no_conductor_and_keeps_the_checks(tmp_path) -> None:
    """The small sample with and without: as many conductors of each run, the same length of wire, every check passes."""

    def sized(asked: str) -> JobResult:
        tables = small.tables()
        tables["pricing"][0]["wire_colours"] = asked
        book.write(tmp_path / f"{asked}.xlsx", small.TITLE, small.STORY, tables, us=True)
        return batch.check(tmp_path / f"{asked}.xlsx")

    def drawn(result: JobResult) -> dict[tuple, tuple[int, float, int]]:
        found: dict[tuple, tuple[int, float, int]] = {}
        for line in result.projects[0].materials:
            if line.stretch is not None:
                key = line.owner, line.stretch.kind, line.stretch.end, line.role, line.words.partition(" copper")[0]
                many, metres, circuits = found.get(key, (0, 0.0, 0))
                found[key] = many + line.stretch.abreast, round(metres + line.quantity, 9), circuits + line.stretch.circuits
        return found

    on, off = sized("yes"), sized("no")
    assert drawn(on).keys() == drawn(off).keys()
    for key, (many, metres, circuits) in drawn(off).items():
        assert drawn(on)[key] == (many, pytest.approx(metres), circuits), key
    assert len(on.projects[0].materials) > len(off.projects[0].materials)
    assert on.checks and all(check.passes for check in on.checks)
