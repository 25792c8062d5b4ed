"""The sample in three revisions, with what changed in it written down by hand. Figures are added up in the comments beside them."""

from __future__ import annotations

from collections import Counter
from functools import cache
from pathlib import Path

import pytest

import batch
from batch.comparing.changeset import Comparison
from batch.comparing.history import History
from batch.reopening.reopen import open_revision
from tests.make_samples import HERE

LINE = HERE / "revisions"


@pytest.fixture(scope="module")
def sized(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    return _sized(tmp_path_factory.mktemp("line-4"))


@cache
def _sized(folder: Path) -> dict[str, Path]:
    """A as the estimator made it; B keeps from A's job workbook; C keeps from B's results."""
    found = {name: folder / f"{name}.xlsx" for name in "ABC"}
    batch.size(LINE / "line-4-rev-A.xlsx", found["A"])
    batch.size(LINE / "line-4-rev-B.xlsx", found["B"], keep_from=LINE / "line-4-rev-A.xlsx")
    batch.size(LINE / "line-4-rev-C.xlsx", found["C"], keep_from=found["B"])
    return found


def compared(sized: dict[str, Path], *names: str, renamed: tuple[str, ...] = ()) -> History:
    target = sized["A"].with_name(f"{' '.join(names)} {len(renamed)}.xlsx")
    return batch.compare(*(sized[name] for name in names), target=target, renamed=renamed)


def inputs(whole: Comparison) -> dict[tuple[str, str], tuple[object, object]]:
    """(who, column) -> before, after, of every input that differs."""
    return {(change.names.words(False), change.column.heading): (change.before, change.after) for change in whole.of("basis", "input")}


def figures(whole: Comparison) -> dict[str, tuple[float | None, float | None]]:
    return {figure.key: (figure.before, figure.after) for figure in whole.figures}


def rows(whole: Comparison, fate: str, table: str) -> set[str]:
    return {pair.either.key[-2 if table == "heaters" else -1].upper() for at, pair in enumerate(whole.pairs)
            if pair.either.table == table and whole.fate(at) == fate}  # fmt: skip


def test_from_a_to_b(sized: dict[str, Path]) -> None:
    whole = compared(sized, "A", "B").whole
    assert all(check.passes for check in whole.checks)
    assert not whole.of("basis")  # the settings of A were kept, though B does not state them
    hot = {("T-202/1", "Heated length"), ("T-202/1", "Heated tubes")}
    changed = inputs(whole)
    assert {key: value for key, value in changed.items() if key not in hot} == {
        ("LINE-4", "Revision"): ("A", "B"),
        ("T-202/1", "Quantity"): (6, 4),
        ("T-202/1", "Power"): (4.0, 6.0),
        ("F-2", "Volts"): (208.0, 240.0),
        ("T-209/1", "Volts"): (208.0, 240.0),
        ("T-210/1", "Volts"): (208.0, 240.0),
    }
    # 4 kW and 6 kW at 22 watts per square inch of a heater of 0.475 in: the heated length goes with the power, and with it the tubes
    assert hot <= changed.keys()
    assert rows(whole, "added", "heaters") == rows(whole, "added", "tanks") == {"T-211", "T-212"}
    assert not rows(whole, "removed", "heaters") and not whole.offers
    assert rows(whole, "unchanged", "heaters") == {"T-201", "T-203", "T-204", "T-205", "T-206", "T-207", "T-208"}
    found = figures(whole)
    # A: 6 + 6 + 6 + 3 + 2 + 6 + 2 + 2 + 3 + 2 = 38 heaters; B: 6 - 4 = 2 fewer on T-202, 6 on T-211, 3 on T-212
    assert found["heaters"] == (38, 45)
    # A: 36 + 24 + 30 + 27 + 12 + 30 + 10 + 10 + 9 + 9 = 197 kW; T-202 keeps its 24 kW; 6 x 6 + 3 x 4.5 = 49.5 kW more
    assert found["connected_kw"] == (pytest.approx(197.0), pytest.approx(246.5))
    assert found["tanks"] == found["banks"] == (10, 12)
    # Panels where more than two wires would land on a contactor terminal: all but the pairs of two heaters (T-205, T-207, T-208, T-210)
    assert found["panels"] == (6, 8)
    assert found["single_circuits"] == (4, 4)
    # Terminals of the limit string: two a heater, and four to a bank with its level cutoff: 2 x 38 + 40 = 116, then 2 x 45 + 48 = 138,
    # at 1.10; an enclosure for each panel, at 180.00: 116 x 1.10 + 6 x 180 = 1207.60; 138 x 1.10 + 8 x 180 = 1591.80.
    # Each tank's control panel has 12 more (TB1): 10 tanks 120, 12 tanks 144: 1339.60 and 1750.20. Prices are A's.
    assert found["price"] == (pytest.approx(1339.60), pytest.approx(1750.20))
    terminal = next(order for order in whole.orders if order.name == "TB-1 (invented)")
    assert (terminal.before, terminal.after, terminal.verdict) == (164.0, 192.0, "more")
    assert terminal.money == pytest.approx(30.80)  # 28 x 1.10


def test_from_b_to_c(sized: dict[str, Path]) -> None:
    whole = compared(sized, "B", "C").whole
    assert all(check.passes for check in whole.checks)
    assert inputs(whole) == {
        ("LINE-4", "Revision"): ("B", "C"),
        ("T-204/1", "Feeder"): ("F-1", "F-3"),
        ("TB-1 (invented)", "Unit price"): (1.10, 1.25),
        ("EN-1 (invented)", "Unit price"): (180.0, 195.0),
    }
    assert rows(whole, "removed", "heaters") == {"T-203", "T-206"}
    assert rows(whole, "added", "heaters") == {"T-206A"}
    assert rows(whole, "added", "feeders") == {"F-3"}
    [offer] = whole.offers
    assert (offer.what, offer.old, offer.new) == ("tank", "T-206", "T-206A")
    found = figures(whole)
    assert found["heaters"] == (45, 39)  # T-203 had six
    assert found["connected_kw"] == (pytest.approx(246.5), pytest.approx(216.5))  # of 5 kW
    assert found["panels"] == (8, 7)
    # 2 x 39 + 4 x 11 = 122 terminals at 1.25 and 7 enclosures at 195.00: 152.50 + 1365 = 1517.50; TB1 of 11 tanks, 132: 1682.50
    assert found["price"] == (pytest.approx(1750.20), pytest.approx(1682.50))


def test_with_the_rename_confirmed_the_tank_neither_came_nor_went(sized: dict[str, Path]) -> None:
    whole = compared(sized, "B", "C", renamed=("T-206=T-206A",)).whole
    assert rows(whole, "removed", "heaters") == {"T-203"}
    assert not rows(whole, "added", "heaters")
    assert not whole.offers
    pair = next(pair for pair in whole.pairs if pair.left and pair.left.names[-2:-1] == ("T-206",))
    assert pair.right.names[1] == "T-206A"


def test_from_a_to_c_and_the_steps_add_up(sized: dict[str, Path]) -> None:
    history = compared(sized, "A", "B", "C")
    assert len(history.steps) == 2
    assert all(check.passes for check in history.whole.checks)
    assert sum("sum of the steps" in check.what for check in history.whole.checks) > 10
    found = figures(history.whole)
    assert found["heaters"] == (38, 39)
    assert found["connected_kw"] == (pytest.approx(197.0), pytest.approx(216.5))
    assert found["price"] == (pytest.approx(1339.60), pytest.approx(1682.50))


def test_what_is_said_aloud(sized: dict[str, Path]) -> None:
    text = compared(sized, "A", "B").text
    for sentence in (
        "Code, program and project settings are the same in both.",
        "2 banks of 9 heaters (2 tanks) came, 3 banks were changed and 1 feeder changed; 7 banks stayed as they were.",
        "The job goes from 38 to 45 heaters (+7) and from 197.0 to 246.5 kW (+49.5).",
        "The priced parts come to 1,750.20 USD instead of 1,339.60 (+410.60).",
    ):
        assert sentence in text
    text = compared(sized, "B", "C").text
    for sentence in (
        "1 bank moved to another feeder: T-204/1 from F-1 to F-3.",
        "Tank T-206 may be T-206A under another name. If it is so, compare again with --renamed T-206=T-206A.",
        "The priced parts come to 1,682.50 USD instead of 1,750.20 (-67.70).",
    ):
        assert sentence in text


def test_what_the_estimator_decided_in_a_is_in_force_in_b_and_c(sized: dict[str, Path]) -> None:
    for name in "BC":
        side = open_revision(sized[name], batch.PROGRAM)
        banks = {bank.tank: bank for bank in side.job.banks}
        assert banks["T-201"].notes == "Customer wants stainless drains."
        assert banks["T-205"].phase_pair == "B-C"
        assert side.job.projects[0].terminal_c == 75
        if name == "B":
            assert banks["T-203"].fixed_rating_a == 20.0
        assert not [finding for finding in side.result.findings if finding.code.startswith("edit")]


def test_phases_and_type_names_of_a_stand_in_b(sized: dict[str, Path]) -> None:
    before, after = (open_revision(sized[name], batch.PROGRAM).result.projects[0] for name in "AB")
    starts = [{row.bank.tank: row.start for row in side.banks} for side in (before, after)]
    assert {tank: starts[1][tank] for tank in starts[0]} == starts[0]
    types = [{tag: kind.type for kind in side.types for tag in kind.tags} for side in (before, after)]
    changed = {tag.partition("/")[0] for tag in types[0] if types[1].get(tag) != types[0][tag]}
    assert changed == {"T-202", "T-209"}  # other heaters there, so built otherwise
    assert Counter(name for name in types[1].values() if name in types[0].values()).total() >= 4


def test_every_cause_of_the_changed_voltage_is_the_voltage(sized: dict[str, Path]) -> None:
    whole = compared(sized, "A", "B").whole
    own = [change for change in whole.of("result") if change.names.tank in ("T-209", "T-210") and change.column.key == "heater_a"]
    # 3 kW, 3-phase: 8.33 A at 208 V, 7.22 A at 240 V; 4.5 kW: 12.49 A, 10.83 A
    assert {(change.names.tank, round(change.before, 2), round(change.after, 2)) for change in own} == {
        ("T-209", 8.33, 7.22), ("T-210", 12.49, 10.83),
    }  # fmt: skip
    for change in own:
        assert [cause.words for cause in change.causes] == [f"{change.names.tank}/1: Volts 208 → 240 V"]
