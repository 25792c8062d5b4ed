"""One folder of a firm: its stock list and its words of the trade, found by one setting, judged before anything is sized by them."""

from __future__ import annotations

from pathlib import Path

import openpyxl
import pytest

import batch
from batch.cli.app import main
from batch.errors import JobError
from batch.firm_folder import firm_checksums
from batch.intake.list_words import is_heater
from tests.intake_book import GOOD, HEADINGS, book

STOCK = ["Part", "Kind", "Rating (A)", "Poles", "Volts (V)", "Price"]
SWITCH = ["HOUSE-60", "disconnect", 60, 3, 600, 40]
OWN = ["OWN-60", "disconnect", 60, 3, 600, 70]


def firm(tmp_path: Path, rows: list[list], words: str = "") -> Path:
    place = tmp_path / "firm"
    place.mkdir(exist_ok=True)
    if rows:
        (place / "stock.xlsx").write_bytes(book({"Stock": [STOCK, *rows]}))
    if words:
        (place / "languages").mkdir(exist_ok=True)
        (place / "languages" / "house.toml").write_text(words, encoding="utf-8")
    return place


def job_of(tmp_path: Path, *stock: list) -> Path:
    path = tmp_path / "job.xlsx"
    path.write_bytes(book({"Heaters": [HEADINGS, GOOD], **({"Stock": [STOCK, *stock]} if stock else {})}))
    return path


def said(result) -> dict[str, str]:
    return {one.code: one.message for one in result.findings}


def test_the_firms_parts_are_in_every_job_and_go_with_its_results(tmp_path: Path) -> None:
    job = job_of(tmp_path)
    with batch.firm(firm(tmp_path, [SWITCH])):
        first = batch.size(job, tmp_path / "sized.xlsx")
    assert [part.part for part in first.job.stock] == ["HOUSE-60"]
    assert "1 of them; checksum" in said(first)["stock-of-firm"] and "sheet-missing" not in {
        one.code for one in first.findings if "Stock" in one.message
    }
    assert "As received Stock of the firm" in openpyxl.load_workbook(tmp_path / "sized.xlsx", read_only=True).sheetnames
    again = batch.check(tmp_path / "sized.xlsx")  # without the folder: the results keep the stock that they were sized with
    assert [part.part for part in again.job.stock] == ["HOUSE-60"]
    assert said(again)["stock-of-firm"] == said(first)["stock-of-firm"]
    assert not [one.code for one in again.findings if one.code.startswith("edit")]
    assert not batch.check(job).job.stock  # and no other job has it


def test_a_changed_list_has_another_checksum(tmp_path: Path) -> None:
    job, seen = job_of(tmp_path), set()
    for price in (40, 41):
        with batch.firm(firm(tmp_path, [[*SWITCH[:-1], price]])):
            seen.add(said(batch.check(job))["stock-of-firm"])
    assert len(seen) == 2


def test_the_jobs_own_line_wins_and_is_said(tmp_path: Path) -> None:
    job = job_of(tmp_path, ["house-60", "disconnect", 60, 3, 600, 55], OWN)
    with batch.firm(firm(tmp_path, [SWITCH, ["HOUSE-100", "disconnect", 100, 3, 600, 80]])):
        result = batch.check(job)
    assert {part.part: part.unit_price for part in result.job.stock} == {"house-60": 55.0, "OWN-60": 70.0, "HOUSE-100": 80.0}
    assert "stands for 1 part that the firm's list has too: HOUSE-60" in said(result)["stock-of-job-first"]
    assert "part-repeated" not in said(result)


@pytest.mark.parametrize(
    ("rows", "says"),
    [
        ([["HOUSE-60", "disconnect", "much", 3, 600, 40]], r"stock\.xlsx, sheet Stock, row 2, cell C2: "),
        ([SWITCH, SWITCH], r"stock\.xlsx, sheet Stock, row 2, cell A2: Part HOUSE-60 is given in rows 2 and 3"),
        ([["HOUSE-60", "wheel", 60, 3, 600, 40]], r"stock\.xlsx, sheet Stock, row 2, cell B2: "),
    ],
)
def test_a_fault_of_the_list_is_said_before_anything_is_sized(tmp_path: Path, rows: list, says: str) -> None:
    with pytest.raises(JobError, match=says), batch.firm(firm(tmp_path, rows)):
        pass


def test_a_workbook_without_a_stock_sheet_is_refused(tmp_path: Path, capsys) -> None:
    place = firm(tmp_path, [SWITCH])
    (place / "stock.xlsx").write_bytes(book({"Parts of ours": [["a", "b"], [1, 2]]}))
    assert main(["check", str(job_of(tmp_path)), "--firm", str(place)]) == 3
    assert "no sheet is called Stock" in capsys.readouterr().err


def test_the_firms_words_are_known_while_its_folder_is_in_use(tmp_path: Path) -> None:
    """A word that no language has; what was read before and after is not affected by it."""
    assert not is_heater("2 brewsticks")
    with batch.firm(firm(tmp_path, [], '[words]\nheaters = ["brewstick", "brewsticks"]\n')):
        assert is_heater("2 brewsticks")
        with batch.firm(None):
            assert not is_heater("2 brewsticks")
        assert is_heater("2 brewsticks")
    assert not is_heater("2 brewsticks")


@pytest.mark.parametrize(
    ("words", "says"),
    [("[words]\nheatters = ['x']\n", r"house\.toml: words\.heatters is no list of words"),
     ("[words\n", r"house\.toml: the word list cannot be read")],
)  # fmt: skip
def test_a_broken_list_of_words_names_file_and_entry(tmp_path: Path, words: str, says: str) -> None:
    with pytest.raises(JobError, match=says), batch.firm(firm(tmp_path, [], words)):
        pass


def test_editions_prints_what_the_folder_brings(tmp_path: Path, capsys) -> None:
    assert main(["editions", str(firm(tmp_path, [SWITCH], '[words]\nheaters = ["brewstick"]\n'))]) == 0
    shown = capsys.readouterr().out
    assert "stock.xlsx, 1 parts beside each job's own; checksum" in shown and "languages is known beside" in shown


def test_a_list_read_by_the_firms_words_says_so(tmp_path: Path) -> None:
    """A customer's own list whose heading no language has: read as a count only where the firm's words say so."""
    words = '[headings.heaters]\nquantity = ["wimbles"]\n'
    path = tmp_path / "list.xlsx"
    path.write_bytes(book({"Baths": [["Tank", "Wimbles", "kW each", "Volts", "Phase"], ["T-1", 4, 6, 480, 3], ["T-2", 2, 9, 480, 3]]}))
    with batch.firm(firm(tmp_path, [], words)):
        by_ours = batch.check(path)
    assert [bank.quantity for bank in by_ours.job.banks] == [4, 2] and "house.toml; checksum" in said(by_ours)["words-of-firm"]
    assert "words-of-firm" not in said(batch.check(path))


def test_another_price_makes_another_run_of_a_folder_of_bids(tmp_path: Path) -> None:
    """What is done is done again where the firm's folder is no longer the same."""
    seen = set()
    for price in (40, 41):
        with batch.firm(firm(tmp_path, [[*SWITCH[:-1], price]], '[words]\nheaters = ["brewstick"]\n')):
            seen.add(firm_checksums())
            assert [name for name, _ in firm_checksums()] == ["stock", "words"]
    assert len(seen) == 2
