"""What was decided before stays wherever the new inputs allow it, and what could not stay is said."""

from __future__ import annotations

from functools import cache

import pytest
from msgspec.structs import replace

from batch.comparing.compare import compare_revisions
from batch.comparing.revision import Revision
from batch.findings import CATALOGUE, Finding, Remarks, Severity, find, remark
from batch.findings.revising import KEPT
from batch.intake import read
from batch.method.panel_split import split_heaters
from batch.money_records import TypedPrice
from batch.origin import Origin
from batch.records import CarriedForward, Job, PowerSource
from batch.reopening.carry import size_keeping
from batch.reopening.sized_with import chosen_with
from batch.rules import load
from batch.schedules import rows
from batch.schedules.sized_data import data_of, data_text
from batch.sizing.previous_decisions import PreviousBank, PreviousDecisions, PreviousFeeder, bank_key, previous_counts
from batch.sizing.project import size_job
from tests import job_builder as built
from tests.job_builder import COLUMNS, WYE_480
from tests.make_samples import HERE
from tests.revision_jobs import bank, job, revision

NEW = "new.xlsx"


def keep(old: Revision, new: Job, renamed: tuple[str, ...] = ()) -> Revision:
    made, result, kept = size_keeping(old, replace(new, name=NEW), renamed)
    return Revision(made, result, "heaterbatch test", {**kept.labels}, kept)


def said(side: Revision, code: str) -> list[Finding]:
    return [finding for finding in side.result.findings if finding.code == code]


# --- the whole plant: one tank added moves nothing else


@cache
def plant() -> Revision:
    made = read(HERE / "whole-plant.xlsx")
    return Revision(made, size_job(made))


def with_a_tank(made: Job, quantity: int) -> Job:
    """One tank more in the middle of the list, on the feeder of the bank before it, with lopsided heaters and a tag that sorts first."""
    at = 200
    model = made.banks[at]
    tag = "A" + model.tank
    added = replace(model, tank=tag, quantity=quantity, notes=None, origin=Origin("Heaters", 9000, COLUMNS["heaters"]))
    tank = next(tank for tank in made.tanks if (tank.project, tank.tank) == (model.project, model.tank))
    tanks = (replace(tank, tank=tag, origin=Origin("Tanks", 9000, COLUMNS["tanks"])), *made.tanks)
    return replace(made, banks=(*made.banks[:at], added, *made.banks[at:]), tanks=tanks)


def choices(side: Revision) -> dict[str, tuple]:
    """Of every panel and single-circuit bank: tag, type name, the lines it lands on, its heaters."""
    found = {}
    for project in side.result.projects:
        for row in project.banks:
            key = f"{project.project.project} {row.bank.tank}/{row.label}"
            found[key] = (row.start, row.design.single_circuit is not None)
            for panel in row.panels:
                found[f"{project.project.project} {panel.tag}"] = (panel.type, panel.start, panel.design.heaters, panel.first_heater)
        for fed in project.feeders:
            if fed.end is not None and len(fed.end.ways) > 1:
                found |= {f"{project.project.project} {way.tank}/way": (way.tag, fed.source_pair) for way in fed.end.ways}
    return found


@pytest.mark.parametrize("quantity", [4, 7, 10])
def test_a_tank_added_to_the_whole_plant_moves_no_other_tag_phase_or_type_name(quantity: int) -> None:
    old = plant()
    new = keep(old, with_a_tank(old.job, quantity))
    before, after = choices(old), choices(new)
    assert {key: after.get(key) for key in before} == before
    assert {key.split(" ")[1].partition("/")[0] for key in after.keys() - before.keys()} == {"A" + old.job.banks[200].tank}


def test_without_keeping_the_same_tank_does_move_others() -> None:
    """So that the test above is one that can fail."""
    old = plant()
    made = with_a_tank(old.job, 4)
    free = Revision(made, size_job(made))
    before, after = choices(old), choices(free)
    assert {key: after.get(key) for key in before} != before


def test_a_tank_added_changes_only_its_own_feeder() -> None:
    old = plant()
    new = keep(old, with_a_tank(old.job, 7))
    feeder = old.job.banks[200].feeder
    compared = compare_revisions(old, new)
    assert {change.names.feeder for change in compared.of("result") if change.table != "banks"} == {feeder}
    assert not compared.of("basis", "input", "name")
    assert [compared.fate(at) for at, pair in enumerate(compared.pairs) if compared.fate(at) != "unchanged"] == ["added", "added"]
    built = {twin.names.item for twin in compared.twins if twin.table == "panels" and twin.before and twin.after and _build(twin)}
    assert built == set()


def _build(twin) -> bool:
    """Whether anything that is built or bought differs; what a feeder's other load does to fault and status is not built, nor is the number
    by which rows lead to each other."""
    free = {"fault_ka", "status", "findings", "owner_no"}
    return any(twin.before[key] != twin.after[key] for key in twin.before.keys() - free)


def test_the_same_revision_sized_again_keeping_itself_is_the_same() -> None:
    old = plant()
    assert choices(keep(old, old.job)) == choices(old)


# --- values of the estimator


TERMINALS = "Terminal rating 75 °C"
CARRIED_FORWARD = {
    "connection": "parallel", "fixed_rating_a": 25.0, "branches_per_panel": 4, "device_kind": "breaker", "phase_pair": "C-A",
    "notes": "as built",
}  # fmt: skip


def test_blank_cells_keep_what_the_estimator_had_decided() -> None:
    projects, tanks = [{"terminal_c": 75, "notes": "rush"}], [{"tank": "T-1", "notes": "old"}]
    old = revision(job(heaters=[bank("T-1", "A", **CARRIED_FORWARD)], projects=projects, tanks=tanks))
    new = keep(old, job(heaters=[bank("T-1", "A")], tanks=[{"tank": "T-1"}]))
    [row] = new.job.banks
    assert {key: getattr(row, key) for key in CARRIED_FORWARD} == CARRIED_FORWARD
    assert (new.job.projects[0].terminal_c, new.job.projects[0].notes, new.job.tanks[0].notes) == (75, "rush", "old")
    kept = {"Connection parallel", "Branch OCPD 25 A", "Branches per panel 4", "OCPD type breaker", "Phase pair C-A", TERMINALS}
    assert sorted(finding.message.partition(" is kept")[0] for finding in said(new, "kept-value")) == sorted(kept)
    assert len(said(new, "kept-notes")) == 3
    compared = compare_revisions(old, new)
    assert not compared.of("basis", "input", "result")


def test_what_is_given_in_the_new_revision_stands() -> None:
    old = revision(job(heaters=[bank("T-1", "A", fixed_rating_a=25.0)]))
    new = keep(old, job(heaters=[bank("T-1", "A", fixed_rating_a=30.0)]))
    assert new.job.banks[0].fixed_rating_a == 30.0
    [finding] = said(new, "kept-value-given")
    assert finding.message == "Branch OCPD was 25 A in job.xlsx and is given as 30 A here: what is given here stands."
    assert (finding.sheet, finding.cell) == ("Heaters", f"{COLUMNS['heaters']['fixed_rating_a']}2")


NO_CHOICE = "the bank is on all lines, or its feeder leaves no choice"


@pytest.mark.parametrize(
    ("decided", "now", "why"),
    [
        # 18 kW at 480 V, one phase, is 37.5 A; with 25 % it needs 46.9 A: 25 A is too small.
        ({"fixed_rating_a": 25.0}, {"power_kw": 18.0}, "a branch OCPD of 25 A is fixed; 46.875 A is needed"),
        # No element stands behind more than 60 A (425.22(B)): a 70 A device that somebody fixed before is not carried on.
        ({"fixed_rating_a": 70.0}, {}, "a device of 70 A stands before one heater circuit; the most is 60 A"),
        # Heaters with all three phases leave no pair to fix.
        ({"phase_pair": "B-C"}, {"phases": 3}, f"the phase pair B-C has no use here: {NO_CHOICE}"),
        # A heater of 30 kW, 480 V, one phase draws 62.5 A: two circuits, which a panel of one branch does not take.
        ({"branches_per_panel": 1}, {"power_kw": 30.0, "circuits_per_heater": 2}, "a heater has 2 circuits and a panel takes 1"),
        # 277 V heaters across the 480 V lines would stand at 173 % of their volts.
        ({"connection": "delta"}, {"volts_v": 277.0}, "480 V on heaters rated 277 V: +73.3 %, 300 % of the rated power"),
    ],
)
def test_what_the_new_inputs_forbid_is_not_kept_and_why_is_said(decided: dict, now: dict, why: str) -> None:
    old = revision(job(heaters=[bank("T-1", "A", **decided)]))
    new = keep(old, job(heaters=[bank("T-1", "A", **now)]))
    [key] = decided
    assert getattr(new.job.banks[0], key) is None
    [finding] = said(new, "kept-value-not")
    assert finding.severity is Severity.CAUTION
    assert finding.message.endswith(f"of job.xlsx is not kept: {why}.")
    assert not said(new, "kept-value")
    assert not new.job.carried_forward
    assert not [finding for finding in new.result.findings if finding.severity is Severity.HOLD]


def test_a_bank_that_went_with_its_decisions_is_said_with_the_name_it_may_have_now() -> None:
    old = revision(job(heaters=[bank("T-1", "A"), bank("T-2", "A", quantity=7, fixed_rating_a=25.0)]))
    made = job(heaters=[bank("T-1", "A"), bank("T-2A", "A", quantity=7, fixed_rating_a=25.0)])
    [finding] = said(keep(old, made), "kept-row-gone")
    assert finding.message == "bank T-2/A (it may be T-2A now) of job.xlsx has no row here; it carried Branch OCPD 25 A."
    made = job(heaters=[bank("T-1", "A"), bank("T-2A", "A", quantity=7)])
    new = keep(old, made, ("T-2=T-2A",))
    assert new.job.banks[1].fixed_rating_a == 25.0
    assert not said(new, "kept-row-gone")


def test_prices_and_the_whole_stock_list() -> None:
    parts = [{"part": "X-1", "unit_price": 7.0, "labour_h": 0.5}, {"part": "X-2", "unit_price": 3.0}]
    old = revision(job(heaters=[bank("T-1", "A")], stock=parts, projects=[{"currency": "USD"}]))
    without = keep(old, job(heaters=[bank("T-1", "A")]))
    assert [(part.part, part.unit_price, part.labour_h) for part in without.job.stock] == [("X-1", 7.0, 0.5), ("X-2", 3.0, None)]
    assert without.job.projects[0].currency == "USD"
    assert "the 2 parts of job.xlsx are kept" in said(without, "kept-stock")[0].message
    some = keep(old, job(heaters=[bank("T-1", "A")], stock=[{"part": "x-1", "labour_h": 0.75}, {"part": "X-3", "unit_price": 1.0}]))
    assert [(part.part, part.unit_price, part.labour_h) for part in some.job.stock] == [("x-1", 7.0, 0.75), ("X-3", 1.0, None)]
    assert said(some, "kept-price")[0].message.startswith("1 part has no price here and keeps that of job.xlsx: x-1")
    assert said(some, "kept-part-gone")[0].message.startswith("1 part of job.xlsx is not listed here and is not kept: X-2")


def test_a_price_typed_before_and_given_otherwise_here_is_said() -> None:
    """What is given here counts; a typed figure that is given here alike, and one that was never typed, are not spoken of."""
    parts = [{"part": name, "unit_price": 7.0, "labour_h": 0.5} for name in ("X-1", "X-2", "X-3")]
    typed = tuple(CarriedForward("stock", "", "", "", "", name, "unit_price", 7.0, 6.0, "typed.xlsx") for name in ("X-1", "X-2"))
    old = revision(replace(job(heaters=[bank("T-1", "A")], stock=parts), carried_forward=typed))
    here = [{"part": "X-1", "unit_price": 6.0}, {"part": "x-2", "unit_price": 7.0}, {"part": "X-3", "unit_price": 8.0}]
    new = keep(old, job(heaters=[bank("T-1", "A")], stock=here))
    assert [part.unit_price for part in new.job.stock] == [6.0, 7.0, 8.0]
    assert said(new, "kept-price-given")[0].message == (
        "1 figure typed into job.xlsx is another on the Stock sheet here, which counts: X-1 (price 7 there, 6 here)."
    )
    assert not said(new, "kept-typed-given")  # which would say it again


def test_what_was_typed_before_and_is_other_here_is_said() -> None:
    """Whatever carrying does not speak of itself: inputs, what other rows say of notes, rows that are gone; not what is alike."""
    rows = [bank("T-1", "A", power_kw=9.0, notes="ours"), bank("T-2", "A", quantity=4), bank("T-3", "A", over_temperature_limit="no")]
    typed: list[tuple[str, str, object, object]] = [
        ("T-1", "power_kw", 9.0, 6.0), ("T-1", "notes", "ours", None), ("T-2", "quantity", 4, 6),
        ("T-3", "over_temperature_limit", "no", None),
    ]  # fmt: skip
    carried = tuple(CarriedForward("heaters", "P", tank, "A", "", "", key, value, was, "typed.xlsx") for tank, key, value, was in typed)
    old = revision(replace(job(heaters=rows), carried_forward=carried))
    new = keep(old, job(heaters=[bank("T-1", "A", notes="theirs"), bank("T-3", "A", over_temperature_limit=None)]))
    assert said(new, "kept-typed-given")[0].message == (
        "4 values typed into job.xlsx are others here, where what is given counts: Power of T-1/A (9 kW there, 6 kW here), "
        "Notes of T-1/A (ours there, theirs here), Quantity of T-2/A (4 there, no such row here), "
        "Over-temperature limit of T-3/A (no there, blank or not read here)."
    )
    assert not said(keep(old, job(heaters=rows)), "kept-typed-given")


def test_a_value_of_which_carrying_speaks_itself_is_not_said_twice() -> None:
    """An OCPD typed before and given otherwise here has a finding at its cell."""
    rated = CarriedForward("heaters", "P", "T-1", "A", "", "", "fixed_rating_a", 25.0, None, "typed.xlsx")
    old = revision(replace(job(heaters=[bank("T-1", "A", fixed_rating_a=25.0)]), carried_forward=(rated,)))
    new = keep(old, job(heaters=[bank("T-1", "A", fixed_rating_a=30.0)]))
    assert said(new, "kept-value-given") and not said(new, "kept-typed-given")


@pytest.mark.parametrize(("price", "words"), [(99.0, "99 here"), (None, "blank or not read here"), (6.0, "")])
def test_a_price_typed_for_a_line_and_given_otherwise_here_is_said(price: float | None, words: str) -> None:
    """What Typed prices say here counts, and was taken without a word. Of a price that is kept nothing is said."""
    lines = [("6 kW, 480 V, 1-phase", 6.0), ("7 kW, 480 V, 1-phase", 7.0)]
    carried = tuple(
        CarriedForward("typed_prices", "", "", "", "", f"heater | {line} | ea", "unit_price", cost, None, "t.xlsx") for line, cost in lines
    )
    before = tuple(TypedPrice("heater", line, "ea", cost) for line, cost in lines)
    old = revision(replace(job(heaters=[bank("T-1", "A")]), typed_prices=before, carried_forward=carried))
    given = (TypedPrice("heater", "6 KW,  480 V, 1-phase", "ea", price, hours=1.0),)
    new = keep(old, replace(job(heaters=[bank("T-1", "A")]), typed_prices=given))
    told = [finding.message for finding in said(new, "kept-typed-given")]
    assert len(told) == (1 if words else 0) and all(
        message.endswith(f"what is given counts: Unit price of heater, 6 kW, 480 V, 1-phase, ea (6 there, {words}).") for message in told
    )


def test_cells_of_the_earlier_results_that_nothing_takes_are_named() -> None:
    words = dict.fromkeys(("column", "before", "after", "why", "cells", "sheet", "count"), 1)
    codes = {"edit-not-taken": "V6", "edit-stray": "BZ2", "edit-taken": "Q6"}
    left = [find(remark(code, "", **words), sheet="Feeders", cell=cell) for code, cell in codes.items()]
    old = revision(replace(job(heaters=[bank("T-1", "A")]), findings=tuple(left)))
    [named] = said(keep(old, job(heaters=[bank("T-1", "A")])), "kept-typed-not")
    assert named.message == "2 cells of job.xlsx say something that was typed there and that is not kept: Feeders V6, Feeders BZ2."
    assert not said(keep(revision(old.job), job(heaters=[bank("T-1", "A")])), "kept-typed-given")


# --- choices of the tool


def test_prices_of_what_no_part_is_go_by_their_words() -> None:
    """Kept for the line of just these words; one that is priced here already stands; one whose line is gone is said."""
    typed = tuple(TypedPrice("heater", f"{kw} kW, 480 V, 1-phase", "ea", float(kw)) for kw in (6, 7))
    heaters = [bank("T-1", "A")]
    old = revision(replace(job(heaters=heaters), typed_prices=typed))
    here = (TypedPrice("heater", "6 KW,  480 V, 1-phase", "ea", 99.0),)
    new = keep(old, replace(job(heaters=heaters), typed_prices=here))
    assert [(one.words, one.unit_price) for one in new.job.typed_prices] == [("6 KW,  480 V, 1-phase", 99.0), ("7 kW, 480 V, 1-phase", 7.0)]
    assert said(new, "price-typed-kept")[0].message.endswith("for the line of its words: heater, 7 kW, 480 V, 1-phase.")
    assert said(new, "price-typed-unused")[0].message.startswith("1 typed price belongs to no line of this job")
    assert [one.part for one in new.job.carried_forward if one.key == "unit_price"] == ["heater | 7 kW, 480 V, 1-phase | ea"]


def test_numbers_of_banks_without_labels_stay() -> None:
    old = revision(job(heaters=[bank("T-1", quantity=6), bank("T-1", quantity=3)]))
    new = keep(old, job(heaters=[bank("T-1", quantity=9), bank("T-1", quantity=3), bank("T-1", quantity=6)]))
    labels = {row.bank.quantity: row.label for row in new.result.projects[0].banks}
    assert labels == {6: "1", 3: "2", 9: "3"}
    assert len(said(new, "kept-label")) == 2


def test_phases_stay_and_new_banks_are_dealt_round_them() -> None:
    """Three pairs of heaters in parallel: A-B, B-C, C-A. The first goes; the others stay, and a fourth takes the free pair."""
    old = revision(job(heaters=[bank(f"T-{at}", "A", quantity=2, connection="parallel") for at in (1, 2, 3)]))
    starts = {row.bank.tank: row.start for row in old.result.projects[0].banks}
    assert starts == {"T-1": 0, "T-2": 1, "T-3": 2}
    new = keep(old, job(heaters=[bank(f"T-{at}", "A", quantity=2, connection="parallel") for at in (2, 3, 4)]))
    assert {row.bank.tank: row.start for row in new.result.projects[0].banks} == {"T-2": 1, "T-3": 2, "T-4": 0}
    assert len(said(new, "kept-phases")) == 2


def test_panels_that_a_bank_has_more_of_take_what_is_free() -> None:
    """Two panels of five, which start on A and B; five more bring a third panel, for which nothing is kept."""
    few = [bank("T-1", "A", quantity=10, connection="delta", branches_per_panel=5)]
    many = [bank("T-1", "A", quantity=15, connection="delta", branches_per_panel=5)]
    old = revision(job(heaters=few))
    [before] = old.result.projects[0].banks
    [after] = keep(old, job(heaters=many)).result.projects[0].banks
    assert len(before.starts) == 2 and len(after.starts) == 3
    assert after.starts[:2] == before.starts and set(after.starts) == {0, 1, 2}


def test_phases_are_not_kept_on_another_feeder_or_joined_otherwise() -> None:
    feeders = [{"feeder": "F-1"}, {"feeder": "F-2"}]
    old = revision(job(feeders=feeders, heaters=[bank(f"T-{at}", "A", quantity=1) for at in range(3)]))
    changed = [bank("T-0", "A", quantity=1), bank("T-1", "A", quantity=1, feeder="F-2"), bank("T-2", "A", quantity=4)]
    found = said(keep(old, job(feeders=feeders, heaters=changed)), "kept-phases-not")
    assert [(finding.tank, finding.message.partition("not kept: ")[2]) for finding in found] == [
        ("T-1", "it hung on F-1 and hangs on F-2 now."),
    ]
    changed[2] = bank("T-2", "A", quantity=4, connection="common-point wye", volts_v=277.0)
    found = said(keep(old, job(feeders=feeders, heaters=changed)), "kept-phases-not")
    assert found[-1].message == "It started on line C in job.xlsx; that is not kept: its heaters are joined otherwise now."


def test_kept_phases_that_cost_balance_are_said() -> None:
    """Six banks of one pair each, two on every pair: no line above 43.3 A. Both banks on B-C and both on C-A go: the two left on A-B put
    25 A each on lines A and B, 50 A together; dealt anew they would stand on two pairs, 43.3 A at most."""
    old = revision(job(heaters=[bank(f"T-{at}", "A", quantity=2, connection="parallel") for at in range(6)]))
    starts = {row.bank.tank: row.start for row in old.result.projects[0].banks}
    left = [tank for tank, start in starts.items() if start == 0]
    new = keep(old, job(heaters=[bank(tank, "A", quantity=2, connection="parallel") for tank in left]))
    [finding] = said(new, "kept-phases-cost")
    assert finding.message.endswith("of job.xlsx kept its fullest line carries 50 A; all banks assigned anew it would be 43.301 A.")
    assert finding.severity is Severity.CAUTION


@pytest.mark.parametrize(("amps", "costs"), [(1.1, False), (1.2, True)])
def test_kept_phases_may_cost_a_twentieth(amps: float, costs: bool) -> None:
    """10 A and e kept on one pair: 10 + e on its lines; on two pairs sqrt(100 + e^2 + 10 e). For 1.1 A 11.1 / 10.593 = 1.048, for 1.2 A
    11.2 / 10.651 = 1.0515."""
    kept = {bank_key("P", tank, "A"): PreviousBank("F-1", (0,), "line") for tank in ("T-1", "T-2")}
    heaters = [bank("T-1", "A", quantity=1, power_kw=4.8), bank("T-2", "A", quantity=1, power_kw=0.48 * amps)]
    side = revision(job(heaters=heaters), PreviousDecisions("old.xlsx", banks=kept))
    assert [row.start for row in side.result.projects[0].banks] == [0, 0]
    assert bool(said(side, "kept-phases-cost")) is costs


@pytest.mark.parametrize(
    ("before", "heaters", "most", "wanted", "why"),
    [
        ((8, 8), 16, 8, (8, 8), ""),  # nothing changed
        ((8, 8), 17, 8, (8, 8, 1), ""),  # two panels stay as they were drawn, the heater more gets the third that is needed anyhow
        ((5, 5), 9, 8, (5, 4), ""),  # the first stays
        ((6,), 7, 8, (7,), "there are 7 heaters now, not 6"),  # one panel serves: keeping never makes more panels
        ((8, 8), 16, 6, (6, 5, 5), "a panel takes 6 heaters now, and 3 panels serve"),
        ((4, 4, 4), 12, 8, (6, 6), "a panel takes 8 heaters now, and 2 panels serve"),
    ],
)
def test_panels_of_parallel_heaters_stay(before: tuple[int, ...], heaters: int, most: int, wanted: tuple[int, ...], why: str) -> None:
    from batch.sizing.connection import choose_connection
    from tests.job_builder import design, heard

    connection = choose_connection(design(quantity=heaters, connection="parallel"), Remarks(), load("NEC 2023")).connection
    free = split_heaters(connection, WYE_480.system, heaters, most)
    counts, heard_of = heard(previous_counts, before, free, heaters, most, connection, system=WYE_480.system)
    assert counts == wanted and [dict(one.fields)["why"] for one in heard_of if one.code == "kept-split-not"] == ([why] if why else [])
    assert [one.code for one in heard_of if one.code == "kept-split"] == ["kept-split"] * (counts != free)


def test_a_delta_never_loses_level_panels_to_keeping() -> None:
    from batch.sizing.connection import choose_connection
    from tests.job_builder import design, heard

    connection = choose_connection(design(quantity=17, connection="delta"), Remarks(), load("NEC 2023")).connection
    free = split_heaters(connection, WYE_480.system, 17, 8)
    counts, [one] = heard(previous_counts, (8, 8), free, 17, 8, connection, system=WYE_480.system)
    assert counts == free == (6, 6, 5)
    assert dict(one.fields)["why"] == "there are 17 heaters now, not 16"


def test_a_split_that_cannot_stay_is_said_with_its_row() -> None:
    old = revision(job(heaters=[bank("T-1", "A", quantity=16, connection="parallel")]))
    new = keep(old, job(heaters=[bank("T-1", "A", quantity=16, connection="parallel", branches_per_panel=6)]))
    [finding] = said(new, "kept-split-not")
    assert finding.message.startswith("The panels of 8 + 8 heaters that it had before are not kept: a panel takes 6 heaters now")
    assert finding.tank == "T-1"


@pytest.mark.parametrize(
    ("heaters", "message"),
    [
        (16, ""),  # anew it would be split as it was
        (17, "The panels keep the 8 + 8 heaters that they had before, with panels of 1 for the others; "
             "split anew they would be 6 + 6 + 5."),
    ],
)  # fmt: skip
def test_a_kept_split_is_said_where_it_would_be_another(heaters: int, message: str) -> None:
    """And in a workbook that is sized again by itself nothing is said of what it has decided."""
    old = revision(job(heaters=[bank("T-1", "A", quantity=16, connection="parallel")]))
    new = keep(old, job(heaters=[bank("T-1", "A", quantity=heaters, connection="parallel")]))
    assert [(finding.message, finding.severity) for finding in said(new, "kept-split")] == ([(message, Severity.NOTE)] if message else [])
    assert [panel.design.heaters for panel in new.result.projects[0].banks[0].panels][:2] == [8, 8]
    again = size_job(new.job, previous=replace(new.previous, quiet=True))
    assert "kept-split" not in {finding.code for finding in again.findings}


@pytest.mark.parametrize("given", [None, "A"])
def test_a_file_that_names_no_revision_is_kept_from_and_said(given: str | None) -> None:
    """Nobody can tell then whether the file is the earlier one, or the one sent to somebody else."""
    old = revision(job(projects=[{"revision": given}], heaters=[bank("T-1", "A")]))
    found = said(keep(old, job(projects=[{"revision": "B"}], heaters=[bank("T-1", "A")])), "kept-no-revision")
    assert [finding.severity for finding in found] == [Severity.NOTE] * (given is None)
    assert all(finding.message.startswith("job.xlsx names no revision of P:") for finding in found)


def test_names_of_types_stay_and_none_goes_to_another_type() -> None:
    old = revision(job(heaters=[bank("T-2", "A", quantity=6), bank("T-3", "A", quantity=8)]))
    assert {row.tags[0]: row.type for row in old.result.projects[0].types} == {"T-2/A-P1": "Type 01", "T-3/A-P1": "Type 02"}
    new = keep(old, job(heaters=[bank("T-1", "A", quantity=4), bank("T-3", "A", quantity=8)]))
    assert {row.tags[0]: row.type for row in new.result.projects[0].types} == {"T-1/A-P1": "Type 03", "T-3/A-P1": "Type 02"}
    assert said(new, "kept-types")[0].message == "1 panel type is built as in job.xlsx and keeps its name."
    assert said(new, "kept-types-gone")[0].message.startswith("No panel is built as Type 01 of job.xlsx any more")


def test_a_name_that_was_ever_used_is_not_used_again() -> None:
    """Type 07 went two revisions ago: what is new now is Type 08, so that an old drawing is never taken for a new panel."""
    side = revision(job(heaters=[bank("T-1", "A")]), PreviousDecisions("old.xlsx", names={"p": frozenset({"Type 07"})}))
    assert [kind.type for kind in side.result.projects[0].types] == ["Type 08"]


def one_phase_feeders(*tanks: str) -> Job:
    """1-phase feeders F-1, F-2, ... on a 3-phase source, each with heaters of 12.5 A in parallel, two tanks a feeder."""
    known = {"volts_v": 480.0, "phases": 3, "wires": 3, "system": "wye grounded"}
    unit = PowerSource("P-1", "TX-1", kva=500.0, z_pct=5.0, **known, origin=built.origin("sources"))
    made, banks = [], []
    for at, tank in enumerate(tanks):
        tag = f"F-{at + 1}"
        made.append(built.feeder(feeder=tag, source="TX-1", fault_ka=None, phases=1, wires=2, system=None))
        banks += [built.bank(feeder=tag, tank=name, quantity=2 + at, connection="parallel") for name in (tank, f"{tank}X")]
    return replace(built.job(banks, made), sources=(unit,), name=NEW)


def test_pairs_of_feeders_and_numbers_of_ways_stay() -> None:
    """A feeder more, the fullest, would move the others to other pairs, and a tank that comes first by its tag the numbers of ways."""
    before = one_phase_feeders("T-1", "T-2")
    old = Revision(before, size_job(before))
    more = one_phase_feeders("T-1", "T-2", "T-3")
    early = built.bank(feeder="F-1", tank="A-0", quantity=1, connection="parallel")
    new, free = replace(more, banks=(*more.banks, early)), size_job(replace(more, banks=(*more.banks, early)))
    kept = keep(old, new)
    [was, now, anew] = (
        {row.feeder.feeder: (row.source_pair, {way.tank: way.tag for way in row.end.ways}) for row in result.projects[0].feeders}
        for result in (old.result, kept.result, free)
    )
    for tag, (pair, ways) in was.items():
        assert now[tag][0] == pair and now[tag][1].items() >= ways.items()
    assert now["F-1"][1]["A-0"] == "F-1-W3" and anew["F-1"][1]["A-0"] == "F-1-W1"
    assert any(anew[tag][0] != pair for tag, (pair, _) in was.items()), "the pairs must move by themselves, or nothing is kept"
    assert said(kept, "kept-pair")


def test_each_row_of_a_bank_given_twice_keeps_its_own_phases() -> None:
    rows = [bank("T-1", "A", quantity=2), bank("T-1", "A", quantity=2), bank("T-2", "A", quantity=2)]
    old = revision(job(heaters=rows))
    [project] = old.result.projects
    starts = [(2,), (0,), (2,)]  # as nobody would choose anew
    banks = tuple(replace(row, starts=some) for row, some in zip(project.banks, starts, strict=True))
    old = Revision(old.job, replace(old.result, projects=(replace(project, banks=banks),)))
    new = keep(old, job(heaters=[bank("T-0", "A", quantity=2), *rows]))
    assert [row.starts for row in new.result.projects[0].banks[1:]] == starts


def test_they_stay_through_the_data_of_a_workbook() -> None:
    made = one_phase_feeders("T-1", "T-2")
    result = size_job(made)
    data = data_of(data_text(result, rows(result, "banks"), rows(result, "feeder_totals")))
    [first, _] = result.projects[0].feeders
    assert data.hung["p-1", "f-1"] == PreviousFeeder("TX-1", first.source_pair, {"t-1": 1, "t-1x": 2}, 2)
    again = size_job(made, previous=chosen_with(made, data))
    assert [row.source_pair for row in again.projects[0].feeders] == [row.source_pair for row in result.projects[0].feeders]
    assert [finding.message for finding in again.findings] == [finding.message for finding in result.findings]


def test_every_kind_of_keeping_is_provoked_here() -> None:
    """A kind without a test above is one that nobody has seen."""
    source = (HERE.parent / "tests" / "test_revisions_keep.py").read_text(encoding="utf-8")
    assert [kind.code for kind in KEPT if f'"{kind.code}"' not in source] == []
    assert all(kind.code in CATALOGUE for kind in KEPT)


@pytest.mark.parametrize(("kept", "starts"), [(1, (1, 2)), (2, (2, 0))])
def test_an_older_workbook_that_kept_the_first_panels_line_alone_keeps_the_chain(kept: int, starts: tuple[int, ...]) -> None:
    """13 heaters, panels of 7 and 6: 7 in rotation end where they began, so the second panel goes on one line further."""
    made = built.job(built.bank(quantity=13))
    across = size_job(made).projects[0].banks[0].design.connected.across
    before = PreviousDecisions(source="old.xlsx", banks={bank_key("P-1", "T-1", "1"): PreviousBank("F-1", (kept,), across)})
    assert size_job(made, previous=before).projects[0].banks[0].starts == starts
