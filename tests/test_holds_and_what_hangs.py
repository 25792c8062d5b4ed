"""What hangs on something that is on hold or not whole says so, on every list; the money of what is on hold stands apart."""

from __future__ import annotations

from pathlib import Path

import pytest
from msgspec.structs import replace

import batch
from batch.price.bid_totals import bid_totals
from batch.report.bid_words import bid_sentence, fullest_feeders, money_words
from batch.results import JobResult
from batch.schedules import RESULTS, rows
from batch.schedules.material_list import material_lines
from batch.schedules.money_checks import money_checks
from batch.sizing.allowances import SPARES
from tests.job_builder import bank, feeder, size
from tests.samples import book, small
from tests.test_rows_not_sized import of_sheets

HELD = "HOLD (not released for fabrication)"
LARGE = {"quantity": 8, "phases": 3, "connection": None}
NO_STATUS = {  # sheets whose rows are no part of the design, or check parts that stand on another sheet
    "pricing_used", "carried_forward", "findings", "how_read", "checks", "questions",
}  # fmt: skip


def test_every_sheet_of_the_design_has_a_status_or_says_what_is_on_hold() -> None:
    for sheet in RESULTS:
        keys = {column.key for column in sheet.columns}
        assert keys & {"status", "hold", "held", "on_hold"} or sheet.id in NO_STATUS, sheet.id


def incomplete() -> JobResult:
    """Two tanks of 8 x 2 kW in panels on F-1 with a third that nobody can size, one on F-2; F-1 has length and fault current."""
    sheets = {
        "Projects": [["Project"], ["P-1"]],
        "Feeders": [["Project", "Feeder", "Volts", "Phases", "Wires", "System", "Available fault current (kA)", "Length (m)"],
                    ["P-1", "F-1", 480, 3, 3, "wye grounded", 4, 20], ["P-1", "F-2", 480, 3, 3, "wye grounded", 4, 20]],
        "Heaters": [["Project", "Tank", "Feeder", "Quantity", "Power (kW)", "Volts", "Phases"],
                    ["P-1", "T-1", "F-1", 8, 2, 480, 1], ["P-1", "T-2", "F-1", 8, 2, 480, 1], ["P-1", "T-3", "F-1", 8, "TBD", 480, 1],
                    ["P-1", "T-4", "F-2", 8, 2, 480, 1]],
    }  # fmt: skip
    return of_sheets(sheets)


def test_what_hangs_on_a_feeder_without_all_its_banks_is_to_be_looked_at() -> None:
    """Its device and wires are on hold; its panels are whole, but more wire brings more fault current to them."""
    result = incomplete()
    status = {"T-1": "sized, review", "T-2": "sized, review", "T-4": "sized"}
    for row in rows(result, "banks"):
        if row["tank"] != "T-3":
            said = row["findings"].split("; ")
            assert (row["status"], "feeder: Feeder without all its banks" in said) == (status[row["tank"]], row["tank"] != "T-4")
    for sheet in ("panels", "wiring_tags", "panel_labels"):
        found = {str(row["panel"]).partition("/")[0]: row["status"] for row in rows(result, sheet)}
        assert found == status, sheet
    fates = {result.fates[row.bank.origin.sheet, row.bank.origin.row] for row in result.projects[0].banks if row.bank.tank == "T-1"}
    assert fates == {"sized, review"}
    needed = {str(row["panel"]).partition("/")[0]: row["sccr"] for row in rows(result, "panel_labels")}
    assert needed["T-1"].endswith(" kA needed, perhaps more once feeder F-1 has all its banks")
    assert needed["T-4"].endswith(" kA needed")


def test_a_row_that_names_no_feeder_may_hang_on_any() -> None:
    """F-1 and F-2 of a job that nothing speaks against, with a bank each; a third names no feeder."""
    feeders = [["P-1", name, 480, 3, 3, "wye grounded", 4, 20] for name in ("F-1", "F-2")]
    sheets = {
        "Projects": [["Project"], ["P-1"]],
        "Feeders": [["Project", "Feeder", "Volts", "Phases", "Wires", "System", "Available fault current (kA)", "Length (m)"], *feeders],
        "Heaters": [["Project", "Tank", "Feeder", "Quantity", "Power (kW)", "Volts", "Phases"],
                    ["P-1", "T-1", "F-1", 8, 2, 480, 1], ["P-1", "T-2", "F-2", 8, 2, 480, 1]],
    }  # fmt: skip
    whole = rows(of_sheets(sheets), "feeder_totals")
    assert [(row["status"], row["open"]) for row in whole] == [("sized", "")] * 2
    sheets["Heaters"].append(["P-1", "T-3", None, 4, 5, 480, 3])
    result = of_sheets(sheets)
    said = {row["feeder"]: (row["status"], row["open"]) for row in rows(result, "feeder_totals") if row["feeder"]}
    words = "1 bank not sized, 20 kW by its row, may hang on it"
    assert said == dict.fromkeys(("F-1", "F-2"), ("sized, review", f"{words}: no feeder could be read"))
    assert all(one.endswith(f" OCPD; {words}") for one in fullest_feeders(result.projects))


def test_what_a_feeder_without_all_its_banks_is_bought_of_is_on_hold() -> None:
    result = incomplete()
    lines = [*rows(result, "materials"), *rows(result, "runs")]
    own = [row for row in lines if row.get("used_for") == "feeders" or row.get("run") == "feeder"]
    assert {row["feeder"]: bool(row["hold"]) for row in own} == {"F-1": True, "F-2": False}
    first = {id: next(row["hold"] for row in rows(result, id) if row in own and row["hold"]) for id in ("materials", "runs")}
    assert all("without 1 bank not sized" in words for words in first.values())
    assert {row["hold"] for row in own} <= {"", "HOLD", *first.values()}


def test_distribution_and_source_are_as_bad_as_what_hangs_on_them() -> None:
    result = incomplete()
    ends = {(row["feeder"], row["tank"] if row["way"] else ""): (row["status"], row["open"]) for row in rows(result, "distribution")}
    missing = "without 1 bank not sized, of unknown power"
    assert ends["F-1", ""] == (HELD, missing) and ends["F-2", ""] == ("sized", "")
    assert ends["F-1", "T-1"] == ends["F-1", "T-2"] == ("sized, review", "")
    assert {row["source"]: (row["status"], row["open"]) for row in rows(result, "source_totals")} == {
        "F-1": (HELD, missing), "F-2": ("sized", ""),
    }  # fmt: skip


def test_a_bank_on_hold_shows_on_its_way_its_source_its_tank_and_its_wiring() -> None:
    """T-2's branch OCPDs are fixed too small; T-1 and T-3 beside it are as they should be."""
    banks = [bank(**LARGE), bank(tank="T-2", fixed_rating_a=6.0, **LARGE), bank(tank="T-3", feeder="F-2", **LARGE)]
    result = size(banks, [feeder(fault_ka=10.0), feeder(feeder="F-2", fault_ka=10.0)])
    ends = {(row["feeder"], row["tank"] if row["way"] else ""): (row["status"], row["open"]) for row in rows(result, "distribution")}
    assert ends["F-1", ""] == (HELD, "1 of 2 banks on hold, 48 of 96 kW")
    assert ends["F-1", "T-2"] == (HELD, "1 of 1 bank on hold, 48 of 48 kW")
    assert ends["F-1", "T-1"][0] != HELD != ends["F-2", ""][0]
    sources = {row["source"]: row["status"] for row in rows(result, "source_totals")}
    assert sources["F-1"] == HELD != sources["F-2"]
    assert {row["type"]: row["status"] == HELD for row in rows(result, "wiring")} == {"Type 01": False, "Hold 01": True}
    ladders = {row["ladder"]: row["status"] == HELD for row in rows(result, "control_circuit")}
    assert ladders == {"Ladder 01": False, "Hold ladder 01": True}
    bands = [row["hold"] for row in rows(result, "control_circuit") if row["hold"]]
    assert bands[0].startswith("HOLD - NOT RELEASED FOR FABRICATION: ") and set(bands[1:]) == {"HOLD"}


def test_heat_says_that_a_tank_is_on_hold() -> None:
    """Twice T-1 with all that its heat asks for; the second time heaters for 415 V on 480 V, which are on hold."""
    def status(volts_v: float) -> tuple[str, str]:
        sheets = {
            "Feeders": [["Feeder", "Volts", "Phases", "Wires"], ["F-1", 480, 3, 3]],
            "Tanks": [
                ["Tank", "Liquid", "Length (m)", "Width (m)", "Liquid depth (m)", "Operating temperature (°C)", "Start temperature (°C)"],
                ["T-1", "water", 1, 1, 1, 50, 10],
            ],
            "Heaters": [["Tank", "Feeder", "Quantity", "Power (kW)", "Volts", "Phases"], ["T-1", "F-1", 3, 6, volts_v, 3]],
        }  # fmt: skip
        [row] = rows(of_sheets(sheets), "heat")
        return row["status"], row["verdict"]

    assert status(415) == (HELD, "enough")
    assert status(480)[0] != HELD


def test_a_tank_with_a_bank_that_is_not_sized_is_on_hold_on_heat() -> None:
    """T-1 has a second bank whose power nobody can read, T-3 no other; T-2 beside them is whole, T-4 has no heaters at all."""
    cells = ["Tank", "Liquid", "Length (m)", "Width (m)", "Liquid depth (m)", "Operating temperature (°C)", "Start temperature (°C)"]
    sheets = {
        "Feeders": [["Feeder", "Volts", "Phases", "Wires"], ["F-1", 480, 3, 3]],
        "Tanks": [cells, *([f"T-{number}", "water", 1, 1, 1, 50, 10] for number in (1, 2, 3, 4))],
        "Heaters": [["Tank", "Bank", "Feeder", "Quantity", "Power (kW)", "Volts", "Phases"], ["T-1", "A", "F-1", 3, 6, 480, 3],
                    ["T-1", "B", "F-1", 3, "TBD", 480, 3], ["T-2", "A", "F-1", 3, 6, 480, 3], ["T-3", "A", "F-1", 3, "TBD", 480, 3]],
    }  # fmt: skip
    heat = {row["tank"]: row for row in rows(of_sheets(sheets), "heat")}
    assert {tag: row["verdict"] for tag, row in heat.items()} == {"T-1": "not judged", "T-2": "enough", "T-3": "not judged"}
    assert heat["T-1"]["status"] == heat["T-3"]["status"] == HELD != heat["T-2"]["status"]
    assert heat["T-3"]["why"] == "a bank is not sized"


@pytest.fixture(scope="module")
def one_held(tmp_path_factory: pytest.TempPathFactory) -> JobResult:
    """The small sample with the branch OCPDs of T-102 fixed too small, and nothing said of the distribution."""
    path: Path = tmp_path_factory.mktemp("held") / "job.xlsx"
    tables = small.tables()
    next(row for row in tables["heaters"] if row["tank"] == "T-102")["fixed_rating_a"] = 6.0
    tables["projects"][0].pop("distribution", None)
    book.write(path, small.TITLE, small.STORY, tables)
    return batch.check(path)


def test_the_money_of_what_is_on_hold_stands_apart(one_held: JobResult) -> None:
    """T-102: its bank, its control panel, and the feeder that is sized for it; each build of theirs says so too."""
    held = [row for row in rows(one_held, "prices") if row["on_hold"]]
    assert {(row["kind"], row["tank"] or row["feeder"]) for row in held} == {("bank", "T-102"), ("tank", "T-102"), ("feeder", "F-1")}
    assert {row["tank"]: row["hold"] for row in rows(one_held, "builds")} == {f"T-10{n}": "on hold" if n == 2 else "" for n in range(1, 9)}
    whole = bid_totals(one_held.money, {"PILOT"})
    own = [atom for atom in one_held.money.atoms if atom.tank == "T-102" or (atom.kind, atom.feeder) == ("feeder", "F-1")]
    assert whole.held == 3
    assert whole.held_price == pytest.approx(sum(atom.cost.price for atom in own)) and 0 < whole.held_price < whole.price / 2
    material = sum(atom.builds + atom.parts for atom in own)
    words = money_words(one_held.money, {"PILOT"})
    assert f"of it on hold: material {material:,.0f}, price {whole.held_price:,.2f} USD" in words
    assert ", 1 bank on hold. On hold: 1 of 8 banks, 18 of 132 kW. Not in it: " in bid_sentence(one_held.projects, (), one_held.money)


def test_spares_of_a_fuse_are_on_hold_with_all_that_it_stands_in(one_held: JobResult) -> None:
    """Fuses of 6 A stand on T-102 alone; those of the other panels, and of panel feeders, elsewhere too."""
    listed = [row for row in rows(one_held, "materials") if row["role"].endswith("fuse")]
    spares = {row["part"] or row["words"]: row["hold"] for row in listed if row["used_for"] == "spares"}
    released = {row["part"] or row["words"] for row in listed if row["used_for"] != "spares" and not row["hold"]}
    assert {piece for piece, hold in spares.items() if not hold} == released != set(spares)
    [six] = [hold for piece, hold in spares.items() if piece not in released]
    assert "6 A" in six
    [bought] = [row for row in rows(one_held, "buy_list") if (row["part"] or row["words"]) in set(spares) - released]
    assert bought["held"] == bought["used"] and all(check.passes for check in one_held.checks)


TO_BUY = "Buy list, of it on hold, + lines of per cent on hold = material on hold on Prices + spares on hold"


@pytest.mark.parametrize("words", ["Material on hold on Prices = on hold on Materials + Runs, without spares", TO_BUY])
def test_what_is_on_hold_is_the_same_money_on_prices_as_on_the_lines(one_held: JobResult, words: str) -> None:
    """What the first page says of it is the sum of the lines that say HOLD, and of what Buy list says not to buy; a bearer that is not
    marked shows on Checks."""
    [check] = [check for check in one_held.checks if check.what == words]
    spares = sum(at.line.price or 0.0 for at in material_lines(one_held) if at.hold and at.line.used_for == SPARES)
    sum_of_prices = check.left - (spares if words == TO_BUY else 0.0)
    assert check.passes and sum_of_prices == pytest.approx(bid_totals(one_held.money, {"PILOT"}).held_material) and spares
    atoms = tuple(atom._replace(held=atom.held and atom.kind != "feeder") for atom in one_held.money.atoms)
    [other] = [check for check in money_checks(replace(one_held, money=one_held.money._replace(atoms=atoms))) if check.what == words]
    assert not other.passes


def test_what_buy_list_holds_back_is_checked_part_by_part(one_held: JobResult) -> None:
    """The column that whoever orders reads: a part of which another quantity is on hold there is a sum that does not agree."""
    for at, part in enumerate(one_held.money.buy):
        held = next(row["held"] for row in rows(one_held, "buy_list") if row["number"] == part.number)
        dearer = part._replace(unit_price=2 * part.unit_price) if part.unit_price else part
        buy = tuple(dearer if at == number else one for number, one in enumerate(one_held.money.buy))
        [check] = [check for check in money_checks(replace(one_held, money=one_held.money._replace(buy=buy))) if check.what == TO_BUY]
        assert check.passes is not bool(held and part.unit_price and not part.supplied)
        if at > 40:
            break


def test_the_money_of_a_feeder_without_all_its_banks_is_on_hold(tmp_path: Path) -> None:
    tables = small.tables()
    next(row for row in tables["heaters"] if row["tank"] == "T-103")["power_kw"] = "TBD"
    book.write(tmp_path / "job.xlsx", small.TITLE, small.STORY, tables)
    held = {(row["kind"], row["tank"] or row["feeder"]) for row in rows(batch.check(tmp_path / "job.xlsx"), "prices") if row["on_hold"]}
    assert held == {("feeder", "F-1")}


def test_a_price_names_what_others_bring(one_held: JobResult) -> None:
    """Two feeders with several tanks each, whose distribution nobody gave us; one tank alone needs none, and no price says nothing."""
    assert bid_sentence(one_held.projects, (), one_held.money).endswith(" Not in it: the distribution units of 2 feeders, by others.")
    assert "others" not in bid_sentence(size([bank(), bank(tank="T-2")]).projects)
