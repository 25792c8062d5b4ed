"""One-line diagrams: every panel of every feeder once, with its figures and fault currents, and nothing over anything else."""

from __future__ import annotations

import re
from collections import Counter
from itertools import combinations
from math import ceil

import pytest
from msgspec.structs import replace

import batch
from batch.drawings.drawing_list import DOTS_PER_INCH, Drawing, Words
from batch.drawings.lettering import width
from batch.drawings.one_line import TALL, alt_text, draw_feeder, plans
from batch.drawings.one_line_words import WIDE, Fed, feds_of, loads_of
from batch.report.one_line_sheet import NAME, looked_at
from batch.results import JobResult
from batch.schedules.row_words import BAND
from batch.sizing.project import size_job
from tests.job_builder import bank, feeder, job, part, project, tank
from tests.make_samples import HERE
from tests.sample_results import FINDINGS, SMALL, opened, sized
from tests.test_supply_side import hung, source

NINE = {"power_kw": 9.0, "phases": 3, "connection": None, "panel_feeder_run_m": 15.0}


def words_of(drawings: tuple[Drawing, ...]) -> str:
    return " | ".join(words.text for one in drawings for words in one.words)


def forty_panels() -> Fed:
    """Twenty tanks with two panels each on one feeder."""
    banks = [bank(tank=f"T-{at:02}", quantity=12, **NINE) for at in range(20)]
    tanks = [tank(tank=f"T-{at:02}", distribution_run_m=20.0) for at in range(20)]
    [fed] = feds_of(size_job(replace(job(banks, hung(), tanks), sources=(source(kva=2500.0),))), False)
    return fed


@pytest.fixture(scope="module")
def feds() -> list[tuple[Fed, tuple[Drawing, ...]]]:
    """Feeders of every size and kind."""
    results = [batch.check(HERE / name) for name in (SMALL, FINDINGS)]
    breakers = [bank(quantity=6, **NINE), bank(tank="T-2", quantity=1, power_kw=20.0, phases=3, connection=None)]
    results.append(size_job(job(breakers, projects=project(device_kind="breaker", distribution="ours"))))
    results.append(size_job(job([bank(quantity=6), bank(tank="T-2")], feeder(tap_m=2.5))))
    results.append(size_job(job(bank(quantity=100, branches_per_panel=2, **NINE))))  # one tank over many sheets
    found = [fed for one in results for fed in feds_of(one, True)] + [forty_panels()]
    return [(fed, plans(fed)) for fed in found]


def test_every_panel_stands_once_on_its_feeder(feds: list[tuple[Fed, tuple[Drawing, ...]]]) -> None:
    for fed, drawings in feds:
        text = words_of(drawings)
        for one in fed.banks:
            for panel in one.panels:
                assert len(re.findall(rf"(?<![\w/-]){re.escape(panel.tag)}, ", text)) == 1, panel.tag
                assert f"{panel.lines.maximum:.1f} A" in text and f"{panel.design.connected_kw:.4g} kW" in text
                assert panel.fault_ka is None or f"{ceil(round(panel.fault_ka * 10, 6)) / 10:.1f} kA" in text  # never down
        for way in fed.row.end.ways:
            assert f"Control panel of {way.tank}" in text
            if fed.row.end.unit:
                assert way.tag in text and f"{way.device.rating_a:g} A" in text
        held = [one for one in fed.banks if one.hold is not None]
        boxes = sum(len(one.panels) or 1 for one in held)
        assert text.count(BAND) >= boxes
        loads = [load for way in fed.row.end.ways for load in loads_of(fed, way)]
        assert sum(load.hold for load in loads) == boxes and len(loads) == sum(len(one.panels) or 1 for one in fed.banks)


def test_contactors_bear_the_designations_of_their_control_panels(feds: list[tuple[Fed, tuple[Drawing, ...]]]) -> None:
    for fed, drawings in feds:
        said = Counter(words.text for one in drawings for words in one.words)
        loads = [load for way in fed.row.end.ways for load in loads_of(fed, way)]
        marks = {feed.contactor for control in fed.project.controls for feed in control.feeds}
        assert {load.contactor for load in loads} <= marks
        for mark, count in Counter(mark for load in loads for mark in (load.device, load.contactor) if mark).items():
            assert said[mark] == count
        assert all(load.device or load.design.device_at_way for load in loads)
        backups = Counter(fed.supplies[way.tank.casefold()].backup for way in fed.row.end.ways)
        backups.pop("", None)
        assert all(said[mark] == count for mark, count in backups.items())
        drawn = sum(one.kind == "contactor" and one.of.endswith("/HCP") for sheet in drawings for one in sheet.symbols)
        assert drawn == backups.total()
        assert not {"CON", "-Q"} & said.keys()
    assert any(supply.backup for fed, _ in feds for supply in fed.supplies.values())


def test_levels_of_one_feeder_in_words() -> None:
    """750 kVA, 5.75 %: 17.43 kA at the source, 13.82 at the end, 10.38 behind the panel feeder, by hand elsewhere; never rounded down."""
    banks = [
        bank(quantity=6, **NINE),
        bank(tank="T-2", quantity=6, **NINE),
        bank(tank="T-3", quantity=1, power_kw=20.0, phases=3, connection=None),
    ]
    made = replace(job(banks, hung(run_m=25.0)), sources=(source(kva=750.0, z_pct=5.75, primary_ka=None),))
    [fed] = feds_of(size_job(made), False)
    text = words_of(plans(fed))
    for words in ("Source TX-1: transformer, 750 kVA, 5.75 %Z", "17.5 kA available at the source", "13.9 kA available",
                  "6 heaters, 54 kW, 65.0 A",
                  "10.4 kA", "200 A class J", "bus 225 A", "90 A class J, frame 100 A", "96.2 % used", "25 m"):  # fmt: skip
        assert words in text, words


def test_forty_panels_are_paged() -> None:
    fed = forty_panels()
    drawings = plans(fed)
    assert len(drawings) > 3 and all(one.width == WIDE and one.height <= TALL + 20 for one in drawings)
    for at, one in enumerate(drawings):
        text = words_of((one,))
        assert f"part {at + 1} of {len(drawings)}" in text
        assert (f"goes on in part {at + 2}" in text) is (at + 1 < len(drawings)) and (f"from part {at}" in text) is (at > 0)
    assert WIDE / DOTS_PER_INCH < 11 and TALL / DOTS_PER_INCH < 8.5  # Letter on its side (ANSI/ASME Y14.1, size A)


def box(words: Words) -> tuple[int, int, int, int]:
    long = width(words.text, words.size)
    left = words.x - {"l": 0, "m": long // 2, "r": long}[words.anchor]
    return left, words.y - words.size + 5, left + long, words.y + 3


def test_nothing_stands_over_anything_else(feds: list[tuple[Fed, tuple[Drawing, ...]]]) -> None:
    for fed, drawings in feds:
        for drawing in drawings:
            what = fed.row.feeder.feeder
            boxes = [(words, box(words)) for words in drawing.words]
            for words, (left, top, right, bottom) in boxes:
                assert left >= 0 and right <= WIDE and top >= 0 and bottom <= drawing.height, (what, words)
                for line in drawing.lines:
                    x1, x2, y1, y2 = min(line.x1, line.x2), max(line.x1, line.x2), min(line.y1, line.y2), max(line.y1, line.y2)
                    crossed = (
                        left < x2 and right > x1 and top <= y1 <= bottom if y1 == y2 else top < y2 and bottom > y1 and left < x1 < right
                    )
                    assert not crossed, (what, words, line)
            for (one, a), (other, b) in combinations(boxes, 2):
                assert a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] or b[3] <= a[1], (what, one, other)


def test_hostile_names_are_wrapped_or_cut_with_a_mark() -> None:
    long = "T-" + "9" * 120
    stock = [part(part="SCHÜTZ-" + "X" * 60, kind="contactor", rating_a=90.0, volts_v=600.0, poles=3, wires_per_terminal=2)]
    name = "F-" + "8" * 80
    made = job([bank(tank=long, quantity=6, feeder=name), bank(tank="T-2", feeder=name)], feeder(feeder=name), stock=stock)
    [fed] = feds_of(size_job(made), True)
    drawings = plans(fed)
    assert all(box(words)[2] <= WIDE for one in drawings for words in one.words)
    assert "..." in words_of(drawings)


def test_a_hold_is_drawn_with_a_thick_edge() -> None:
    [fed] = feds_of(size_job(job([bank(power_kw=60.0, phases=3, connection=None, quantity=1), bank(tank="T-2", quantity=6)])), True)
    [drawing] = plans(fed)
    boxes = [line for line in drawing.lines if line.style == "bar" and line.y1 == line.y2 and line.x2 - line.x1 > 300]
    assert len(boxes) == 1
    within = [words.text for words in drawing.words if boxes[0].x1 < words.x < boxes[0].x2]
    assert any(text.startswith(BAND) for text in within)


def test_same_lists_and_pictures() -> None:
    fed = forty_panels()
    assert plans(fed) == plans(forty_panels())
    pictures = draw_feeder(fed)
    assert [picture.png[:4] for picture in pictures] == [b"\x89PNG"] * len(pictures)
    assert pictures[0].alt == alt_text(fed, 1, len(pictures)) and "ways" in pictures[0].alt


def test_an_existing_device_that_is_too_small_is_not_drawn_at_the_size_that_is_needed() -> None:
    """10 kW on one phase of 480 V: 20.83 A, 26.04 with the margin, 30 A; there are 15 A."""
    [fed] = feds_of(size_job(job(bank(quantity=1, power_kw=10.0), feeder(existing_device_a=15.0))), True)
    words = words_of(plans(fed)).replace(" | ", " ")
    assert "Feeder OCPD needed: 3 fuses, 30 A" in words and "the existing one of 15 A is too small; 173.6 % used" in words
    [large] = feds_of(size_job(job(bank(quantity=1, power_kw=10.0), feeder(existing_device_a=40.0))), True)
    assert "Feeder OCPD (existing): 3 fuses, 40 A" in words_of(plans(large)).replace(" | ", " ")


def test_nothing_is_drawn_of_a_feeder_without_heaters() -> None:
    result: JobResult = size_job(job(bank(), [feeder(), feeder(feeder="F-2")]))
    assert [fed.row.feeder.feeder for fed in feds_of(result, True)] == ["F-1"]


@pytest.mark.parametrize("name", [SMALL, FINDINGS])
def test_the_way_leads_from_the_feeder_to_its_diagram_and_back(name: str) -> None:
    book = opened(name)
    table, sheet = book["Feeders"], book[NAME]
    seen = 0
    for row in table.iter_rows(min_row=6):
        cell = row[1]
        if cell.hyperlink is None:
            continue
        head = sheet[cell.hyperlink.location.rpartition("!")[2]]
        assert f"{cell.value}; back to its row" in head.value
        assert head.hyperlink.location == f"'Feeders'!{cell.coordinate}" or head.hyperlink.location == f"Feeders!{cell.coordinate}"
        seen += 1
    assert seen == len(list(feds_of(sized(name).result, True)))


class Read:
    """A record that notes which of its fields are read."""

    def __init__(self, record: object) -> None:
        self._record, self.fields = record, set()

    def __getattr__(self, field: str) -> object:
        self.fields.add(field)
        return getattr(self._record, field)


def test_what_a_kept_diagram_is_compared_by_is_all_that_it_is_drawn_from(feds) -> None:
    for fed, _ in feds:
        compared, drawn = Read(fed.project), Read(fed.project)
        looked_at(fed._replace(project=compared))
        again = fed._replace(project=drawn)
        alt_text(again, 1, len(plans(again)))
        assert drawn.fields and drawn.fields <= compared.fields
