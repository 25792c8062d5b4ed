"""What the papers print for a box, and what hangs on a limit string, is on somebody's list: a line of Materials each."""

from __future__ import annotations

from collections import Counter
from pathlib import Path

import pytest
from msgspec.structs import replace

import batch
from batch.material_lines import Material
from batch.money_records import Allowance, ScopeItem
from batch.papers.gathering import gather_papers
from batch.price.scope import CUTOFF, LIMIT
from batch.records import Part
from batch.results import JobResult
from batch.schedules.material_list import material_lines
from batch.sizing.allowances import counted_by_shop
from batch.sizing.box_parts import LABEL
from batch.sizing.project import size_job
from batch.sizing.stock import Stock
from tests import make_samples
from tests.job_builder import bank, job, part, size, tank
from tests.sample_results import FINDINGS
from tests.samples import book, small


def without_rules(path: Path) -> Path:
    """The small sample without the rules of its shop, which count marks of heater panels as that shop does."""
    book.write(path, small.TITLE, small.STORY, small.tables() | {"allowances": []})
    return path


@pytest.mark.parametrize("name", ["small-clean.xlsx", FINDINGS, "whole-plant-iec.xlsx"])
def test_every_nameplate_and_label_of_the_papers_is_a_line(name: str, tmp_path: Path) -> None:
    """Of heater panels, control panels and distribution units; what is on hold is counted, marked, and printed by none."""
    result = batch.size(without_rules(tmp_path / name) if name == "small-clean.xlsx" else make_samples.HERE / name, tmp_path / "sized.xlsx")
    names = [one.project.project for one in result.projects]
    printed: Counter[tuple[str, str]] = Counter()
    for paper in gather_papers(result, "all", True, "us-letter", "").papers.papers:
        if paper.kind == "labels":
            printed[names[paper.project], "nameplate" if paper.title == "Nameplates" else LABEL] += len(paper.labels)
    counted: Counter[tuple[str, str]] = Counter()
    for at in material_lines(result):
        if at.line.role in ("nameplate", LABEL) and not at.hold:
            counted[at.project.project.project, at.line.role] += int(at.line.quantity)
    assert printed == counted
    assert any(name for name, _ in printed)


@pytest.mark.parametrize(
    ("words", "listed", "per", "counted"),
    [
        ("engraved nameplate", "N", "panel", ({"nameplate"}, set(), set())), ("warning labels", "S", "panel", ({LABEL}, set(), set())),
        ("signs", "S", "tank", (set(), {LABEL}, set())), ("nameplate and label", None, "feeder", (set(), set(), {"nameplate", LABEL})),
    ],
)  # fmt: skip
def test_what_a_rule_of_the_shop_counts_is_not_counted_twice(words: str, listed: str | None, per: str, counted: tuple) -> None:
    """A nameplate is of the stock's kind label, and no label."""
    parts = [part(part="N", kind="label", description="plate, engraved, nameplate"), part(part="S", kind="label", description="sticker")]
    rule = Allowance(project="P-1", allowance=words, part=listed, quantity=1.0, per=per)
    assert tuple(map(set, counted_by_shop([rule], Stock(parts)))) == counted


def test_nameplate_and_label_are_parts_of_their_own(tmp_path: Path) -> None:
    plate, sticker = (part(part=name, kind="label", description=words) for name, words in (("N", "nameplate"), ("S", "sticker")))

    def taken(*stock: Part) -> dict[str, set[str]]:
        lines = size(bank(quantity=6), stock=list(stock)).projects[0].materials
        return {role: {line.part for line in lines if line.role == role} for role in ("nameplate", LABEL)}

    assert taken(sticker, plate) == {"nameplate": {"N"}, LABEL: {"S"}}
    assert taken(plate) == {"nameplate": {"N"}, LABEL: {""}}


def contacts(result: JobResult) -> dict[str, list[Material]]:
    return {role: [line for line in result.projects[0].materials if line.role == role] for role in (LIMIT, CUTOFF)}


@pytest.mark.parametrize(
    ("limit", "cutoff", "limits", "cutoffs"),
    [("yes", "yes", 9, 1), ("no", "no", 0, 0), (None, None, 9, 1), ("yes", "no", 9, 0)],
)
def test_contacts_of_the_limit_string_are_counted_with_who_brings_them(limit: str, cutoff: str, limits: int, cutoffs: int) -> None:
    """As many as the string is laid out for, in no price; what the list does not say is said."""
    found = contacts(size([bank(over_temperature_limit=limit, quantity=9)], tanks=[tank(level_cutoff=cutoff)]))
    assert sum(line.quantity for line in found[LIMIT]) == limits and sum(line.quantity for line in found[CUTOFF]) == cutoffs
    every = [line for lines in found.values() for line in lines]
    assert {(line.role, line.status) for line in every} <= {(LIMIT, "with the heater"), (CUTOFF, "by others")}
    assert {line.price for line in every} <= {None} and not any(line.lacks_price for line in every)
    assert all(("does not say" in line.words) == (said is None) for said, lines in ((limit, found[LIMIT]), (cutoff, found[CUTOFF]))
               for line in lines)  # fmt: skip


@pytest.mark.parametrize(("by", "status"), [("us", "open"), ("customer", "customer supplies"), ("others", "by others")])
def test_scope_says_who_brings_a_cutoff(by: str, status: str) -> None:
    given = replace(job(bank()), scope=(ScopeItem(project="P-1", item="level switches", by=by),))
    assert [line.status for line in contacts(size_job(given))[CUTOFF]] == [status]
