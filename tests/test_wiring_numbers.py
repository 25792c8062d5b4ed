"""Level cutoff contacts are numbered by tank and bank: rows in another order wire every panel as before."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from batch.schedules import rows
from batch.sizing.project import size_job
from tests.revision_jobs import bank, job

LABELS = ("A", "B", "C", "10", "9")


def contacts(order: list[tuple[str, str]]) -> dict[str, set[str]]:
    made = job(tanks=[{"tank": "T-1"}, {"tank": "T-2"}], heaters=[bank(tank, label) for tank, label in order])
    found: dict[str, set[str]] = {}
    for row in rows(size_job(made), "wiring"):
        words = {str(row[key]).partition(",")[0] for key in ("start", "end") if "level cutoff contact" in str(row[key])}
        if words:
            found.setdefault(str(row["panel"]), set()).update(words)
    return found


WHOLE = [(tank, label) for tank in ("T-1", "T-2") for label in LABELS]


def test_contacts_count_up_in_the_order_of_labels() -> None:
    found = contacts(WHOLE)
    for tank in ("T-1", "T-2"):
        assert [found[f"{tank}/{label}-P1"] for label in ("9", "10", "A", "B", "C")] == [{f"level cutoff contact {n}"} for n in range(1, 6)]


@settings(max_examples=15, deadline=None)
@given(st.permutations(WHOLE))
def test_the_order_of_rows_changes_no_contact(order: list[tuple[str, str]]) -> None:
    assert contacts(order) == contacts(WHOLE)
