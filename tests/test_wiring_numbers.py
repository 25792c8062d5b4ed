"""Contacts, terminals, disconnects and tags are numbered by tank and bank: rows in another order wire and label every panel as before."""

from __future__ import annotations

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from batch.records import Job
from batch.reopening.carry import size_keeping
from batch.results import JobResult
from batch.schedules import rows
from batch.sizing.project import size_job
from tests.revision_jobs import bank, job, revision

LABELS = ("A", "B", "C", "10", "9")


def strings(order: list[tuple[str, str]]) -> dict[str, tuple[str, str]]:
    """Of each panel where its limit string comes from and goes to."""
    made = job(tanks=[{"tank": "T-1"}, {"tank": "T-2"}], heaters=[bank(tank, label) for tank, label in order])
    return {str(row["panel"]): (str(row["string_in"]), str(row["string_out"])) for row in rows(size_job(made), "wiring_tags")}


WHOLE = [(tank, label) for tank in ("T-1", "T-2") for label in LABELS]


def test_the_string_runs_through_the_panels_in_the_order_of_labels() -> None:
    """From the control panel through every panel of the tank, each with its heaters' 2n + 2 terminals, and back."""
    found = strings(WHOLE)
    for tank in ("T-1", "T-2"):
        ends = [found[f"{tank}/{label}-P1"] for label in ("9", "10", "A", "B", "C")]
        places = [f"{tank}/{label}-P1 TB3" for label in ("9", "10", "A", "B", "C")]
        assert ends[0][0] == f"{tank}/HCP TB1:1" and ends[-1][1] == f"{tank}/HCP TB1:2"
        assert [after for _, after in ends[:-1]] == [f"{place}:1" for place in places[1:]]
        last = {before.rpartition(":")[2] for before, _ in ends[1:]}
        assert [before for before, _ in ends[1:]] == [f"{place}:{next(iter(last))}" for place in places[:-1]] and len(last) == 1


@settings(max_examples=15, deadline=None)
@given(st.permutations(WHOLE))
def test_the_order_of_rows_changes_no_string(order: list[tuple[str, str]]) -> None:
    assert strings(order) == strings(WHOLE)


NUMBERED = {  # sheets, with the columns in which something is numbered or named
    "wiring": ("type", "no", "start", "end", "conductor", "purpose"),
    "wiring_tags": ("panel", "wired_as", "k", "heaters", "feed", "contactor", "strip", "string_in", "string_out"),
    "panel_labels": ("panel", "type", "disconnect", "others", "warning", "directory"),
    "panels": ("panel", "type", "disconnect_tag"),
    "banks": ("tank", "bank", "disconnects"),
}


def numbered(result: JobResult) -> dict[str, list[tuple[object, ...]]]:
    return {sheet: sorted(tuple(row[key] for key in keys) for row in rows(result, sheet)) for sheet, keys in NUMBERED.items()}


@st.composite
def labelled_jobs(draw: st.DrawFn) -> Job:
    """Two tanks with banks of every size, so that panels of several types and single circuits stand beside each other."""
    keys = draw(st.lists(st.sampled_from(WHOLE), unique=True, min_size=2, max_size=6))
    sizes = st.tuples(st.integers(1, 9), st.sampled_from((3.0, 6.0, 12.0)), st.sampled_from((1, 3)))
    heaters = [
        bank(tank, label, quantity=count, power_kw=power, phases=phases)
        for (tank, label), (count, power, phases) in ((key, draw(sizes)) for key in keys)
    ]
    return job(tanks=[{"tank": "T-1"}, {"tank": "T-2"}], heaters=heaters)


def shuffled(draw: st.DataObject, made: Job) -> Job:
    return replace(made, banks=tuple(draw.draw(st.permutations(made.banks))), tanks=tuple(draw.draw(st.permutations(made.tanks))))


quick = settings(max_examples=30, deadline=None, suppress_health_check=[HealthCheck.too_slow])


@quick
@given(labelled_jobs(), st.data())
def test_the_order_of_rows_changes_no_wiring_list_label_or_disconnect(made: Job, draw: st.DataObject) -> None:
    assert numbered(size_job(shuffled(draw, made))) == numbered(size_job(made))


@quick
@given(labelled_jobs(), st.data())
def test_nor_does_keeping_from_an_earlier_revision(made: Job, draw: st.DataObject) -> None:
    before = revision(made)
    _, kept, _ = size_keeping(before, shuffled(draw, made))
    assert numbered(kept) == numbered(before.result)
