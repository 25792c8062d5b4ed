"""A type's wiring and the table of tags together say of each panel what Circuits and its label say: position FUi feeds HTR(i + k)."""

from __future__ import annotations

import re

import pytest

from batch.results import JobResult
from batch.schedules import rows
from batch.sizing.project import size_job
from tests.revision_jobs import bank, job
from tests.sample_results import LOOKED_AT, sized

LEAD = re.compile(r"(?:FU|CB|-F1)(\d+)[A-C] load side")  # -F101 is branch 1


def fed(result: JobResult) -> dict[tuple[str, str], dict[int, set[int]]]:
    """By project and panel: the heaters, numbered through the bank, that each branch device feeds, as the list and the tags say."""
    lists: dict[tuple[str, str], list[tuple[int, int]]] = {}
    for row in rows(result, "wiring"):
        if "single circuit" not in str(row["type"]) and (device := LEAD.fullmatch(str(row["start"]))):
            position = re.fullmatch(r"(?:HTR|-E)\+(\d+)\.\d+", str(row["end"]))
            lists.setdefault((str(row["project"]), str(row["type"])), []).append((int(device[1]), int(position[1])))
    found: dict[tuple[str, str], dict[int, set[int]]] = {}
    for tag in rows(result, "wiring_tags"):
        if "single circuit" in str(tag["panel"]):
            continue
        feeds = found.setdefault((str(tag["project"]), str(tag["panel"])), {})
        for device, position in lists[str(tag["project"]), str(tag["wired_as"])]:
            feeds.setdefault(device, set()).add(position + int(str(tag["k"])))
    return found


@pytest.mark.parametrize("name", LOOKED_AT)
def test_each_device_feeds_the_heater_that_circuits_and_label_say(name: str) -> None:
    result = sized(name).result
    by_list = fed(result)
    by_circuits: dict[tuple[str, str], dict[int, set[int]]] = {}
    for row in rows(result, "circuits"):
        if (key := (str(row["project"]), str(row["panel"]))) in by_list:
            by_circuits.setdefault(key, {}).setdefault(int(str(row["branch"])), set()).add(int(str(row["heater"])))
    assert by_list and by_list == by_circuits
    for row in rows(result, "panel_labels"):
        if str(row["panel"]).endswith("/DIST"):
            continue
        pairs = (re.findall(r"\d+", one) for one in str(row["directory"]).split(", "))
        said = {int(device) % 100: {int(heater)} for device, heater, *_ in pairs}
        assert said == by_list[str(row["project"]), str(row["panel"])]


def test_k_is_the_heaters_of_the_bank_that_come_before() -> None:
    """Fourteen heaters of one bank in panels of 6, 6 and 2: before the first none of the bank's heaters, before the second 6, then 12."""
    result = size_job(job(heaters=[bank("T-1", "1", quantity=14, power_kw=6.0, phases=3)]))
    tags = rows(result, "wiring_tags")
    counts = [panel.design.heaters for panel in result.projects[0].banks[0].panels]
    assert sum(counts) == 14 and len(counts) > 1
    assert [row["k"] for row in tags] == [sum(counts[:at]) for at in range(len(counts))]
    first, last = tags[0], tags[-1]
    assert first["heaters"] == f"HTR1 to HTR{counts[0]}"
    assert str(last["heaters"]).endswith("HTR14")


def test_single_circuits_that_are_alike_are_listed_once_under_the_first_of_them() -> None:
    small = {"quantity": 1, "power_kw": 3.0, "phases": 3}
    result = size_job(job(tanks=[{"tank": "T-1"}, {"tank": "T-2"}], heaters=[bank("T-2", "1", **small), bank("T-1", "1", **small)]))
    tags = {row["panel"]: row["wired_as"] for row in rows(result, "wiring_tags")}
    assert tags == {"T-1/1 single circuit": "T-1/1 single circuit", "T-2/1 single circuit": "T-1/1 single circuit"}
    assert {row["type"] for row in rows(result, "wiring")} == {"T-1/1 single circuit"}
    assert {row["end"] for row in rows(result, "wiring")} >= {"HTR1.1", "HTR1.2", "HTR1.3"}


def test_a_type_with_and_without_a_cutoff_contact_lists_both_ends_of_its_string() -> None:
    """Two panels of three heaters: the first bank's string goes through the level cutoff, so of n = 3 heaters the string is out at TB3:10
    there (2 a heater, 2 for the cutoff, 2 for in and out), and at TB3:8 in the second panel, which has no contact.
    """
    heaters = [bank("T-1", "1", quantity=24, power_kw=6.0, phases=3)]
    result = size_job(job(tanks=[{"tank": "T-1"}], heaters=heaters))
    first = rows(result, "wiring_tags")[0]["wired_as"]
    mine = [row for row in rows(result, "wiring") if row["type"] == first]
    n = result.projects[0].banks[0].panels[0].design.heaters
    outs = {str(row["purpose"]).partition(":")[0]: row["start"] for row in mine if row["end"] == "string out"}
    assert outs == {"limit string": f"TB3:{2 * n + 2}"}  # the cutoff lands in the control panel
