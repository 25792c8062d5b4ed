"""Notations in the cells of customers' lists: each is read as the trade means it, or asked about; never taken for something else."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import pytest

from batch.intake.facts import FOOTNOTE, note_of
from batch.intake.line_kinds import supplies_in
from batch.records import Job
from tests.intake_book import DOUBTS, N, book, codes, read_bytes, said

HEAD = ["Tank", "Qty", "kW each", "Volts", "Ph"]
ONE = ["T-1", 4, 6, 480, 3]
BY_SUPPLY = ["Tank", "Qty", "kW each", "Supply"]


def listed(folder: Path, *rows: Sequence[object]) -> Job:
    return read_bytes(folder, book({"Sheet1": list(rows)}))


def second(job: Job) -> tuple[int, float, float, int] | None:
    """Quantity, power, volts, phases of T-2; None where it is not sized."""
    return next(((bank.quantity, bank.power_kw, bank.volts_v, bank.phases) for bank in job.banks if bank.tank == "T-2"), None)


PHASES = {
    "TP&N": 3, "TP & N": 3, "TPN": 3, "TP+N+E": 3, "TP": 3, "SP&N": 1, "SPN": 1, "SP": 1, "3f": 3, "1f": 1, "3F": 3, "TRIF": 3,
    "TRIF.": 3, "MONO": 1, "MONOF": 1, "3N~": 3, "1N~": 1, "3/N/PE": 3, "３": 3, "three": 3, "einphasig": 1,
}  # fmt: skip


@pytest.mark.parametrize("text", PHASES)
def test_phases(text: str, tmp_path: Path) -> None:
    assert second(listed(tmp_path, HEAD, ONE, ["T-2", 2, 3, 230, text])) == (2, 3.0, 230.0, PHASES[text])


SUPPLIES = {
    "400 V TP&N": (400, 3), "230V SP&N": (230, 1), "TP&N 400V": (400, 3), "400V 3f": (400, 3), "1f 230 V": (230, 1), "400 TRIF": (400, 3),
    "230 MONO": (230, 1), "3/N/PE ~ 400/230 V 50 Hz": (400, 3), "1/N/PE ~ 230 V 50 Hz": (230, 1), "3 PEN ~ 400 V": (400, 3),
    "3/PE AC 400 V": (400, 3), "3N AC 50 Hz 400 V": (400, 3), "３～４００Ｖ": (400, 3),
}  # fmt: skip


@pytest.mark.parametrize("text", SUPPLIES)
def test_supplies(text: str, tmp_path: Path) -> None:
    job = listed(tmp_path, BY_SUPPLY, ["T-1", 4, 6, "480/3/60"], ["T-2", 2, 3, text])
    assert second(job) == (2, 3.0, *SUPPLIES[text])


ASKED_SUPPLIES = ["230/400 V 3~", "220/380 V 3 ph", "2/PE ~ 400 V 50 Hz", "2/M = 220 V", "480Y/277 1 ph"]


@pytest.mark.parametrize("text", ASKED_SUPPLIES)
def test_supplies_with_two_meanings_are_asked_about(text: str, tmp_path: Path) -> None:
    job = listed(tmp_path, BY_SUPPLY, ["T-1", 4, 6, "480/3/60"], ["T-2", 2, 3, text])
    assert [bank.tank for bank in job.banks] == ["T-1"] and said(job, "supply-unsure")


COUNTS = {
    "2 Stk.": 2, "(3)": 3, "6 ea.": 6, "2 nos": 2, "2 nos.": 2, "3 No": 3, "2 off": 2, "2 szt.": 2, "2 stuks": 2, "2 un.": 2, "2 pz": 2,
    "2 uds": 2, "2 pcs": 2, "2x": 2, "２": 2, "4*": 4, "2¹⁾": 2, "2 (note 1)": 2, "2 Rev B": 2, "2 △B": 2, "two (2)": 2, "a pair": 2,
}  # fmt: skip
WORDS = {"three": 3, "drei": 3, "trois": 3, "tres": 3, "tre": 3, "drie": 3, "trzy": 3, "três": 3}  # of eight languages


@pytest.mark.parametrize("text", COUNTS | WORDS)
def test_counts(text: str, tmp_path: Path) -> None:
    assert second(listed(tmp_path, HEAD, ONE, ["T-2", text, 3, 230, 1])) == ((COUNTS | WORDS)[text], 3.0, 230.0, 1)


@pytest.mark.parametrize("text", ["4+1 spare", "4 + 1", "4 (1 spare)", "2 or 3", "½", "△2"])
def test_counts_that_are_not_sure_are_asked_about(text: str, tmp_path: Path) -> None:
    job = listed(tmp_path, HEAD, ONE, ["T-2", text, 3, 230, 1], ["T-3", 2, 3, 230, 1])
    assert [bank.tank for bank in job.banks] == ["T-1", "T-3"] and codes(job) & {"count-unsure", "cell-not-number"}


def test_a_spare_that_the_row_says_is_on_the_shelf_is_no_heater(tmp_path: Path) -> None:
    head = [*HEAD, "Remarks"]
    rows = [["T-2", "4+1", 3, 230, 1, "the +1 is a spare on the shelf"], ["T-3", "4+1", 3, 230, 1, "glass"]]
    job = listed(tmp_path, head, [*ONE, None], *rows)
    assert second(job) == (4, 3.0, 230.0, 1) and len(job.banks) == 2


POWERS = {
    "4.5 kW*": 4.5, "4.5¹": 4.5, "4.5 (1)": 4.5, "4.5kW (note 2)": 4.5, "4.5 rev.B": 4.5, "4.5 △1": 4.5, "４.５": 4.5, "4½": 4.5,
    "4500 W": 4.5, "4 500 W": 4.5, "4.5 kW ea": 4.5, "4.5 kW/ea": 4.5, "4,5 kW": 4.5, "4.5 †": 4.5,
}  # fmt: skip


@pytest.mark.parametrize("text", POWERS)
def test_powers(text: str, tmp_path: Path) -> None:
    assert second(listed(tmp_path, HEAD, ONE, ["T-2", 2, text, 230, 1])) == (2, POWERS[text], 230.0, 1)


UNLIKELY: dict[str, Sequence[object]] = {
    "volts below 24": ["T-2", 2, 3, 12, 1], "volts above 1,000": ["T-2", 2, 3, 4160, 3], "above 200 kW": ["T-2", 2, 201, 480, 3],
    "above 200 kW, typed": ["T-2", 2, "250 kW", 480, 3],
}  # fmt: skip


@pytest.mark.parametrize("kind", UNLIKELY)
def test_figures_out_of_reason_are_asked_about(kind: str, tmp_path: Path) -> None:
    job = listed(tmp_path, HEAD, ONE, UNLIKELY[kind], ["T-3", 2, 3, 230, 1])
    assert [bank.tank for bank in job.banks] == ["T-1", "T-3"] and codes(job) & {"value-unlikely", "cell-out-of-range"}


def test_marks_of_notes_and_revisions() -> None:
    marks = {"6*": "*", "6¹⁾": "1", "6 (1)": "1", "6 kW (note 2)": "2", "6 [a]": "a", "6 △B": "", "6 Rev C": ""}
    assert {text: note_of(text) for text in marks} == marks and all(FOOTNOTE.sub("", text)[0] == "6" for text in marks)
    for whole in ("(3)", "400 Δ", "4½", "T-1", "2 No", "6 kW each", "480Y/277"):
        assert FOOTNOTE.sub("", whole) == whole and not note_of(whole)


NOTES = {
    "1": ["6 kW¹⁾", "¹⁾ existing, re-used"], "*": ["6*", "* by others"], "2": ["6 (note 2)", "2. Deleted."],
}  # fmt: skip


@pytest.mark.parametrize("mark", NOTES)
def test_a_mark_whose_note_takes_the_row_out_is_asked_about(mark: str, tmp_path: Path) -> None:
    cell, note = NOTES[mark]
    job = listed(tmp_path, HEAD, ONE, ["T-2", 2, cell, 480, 3], [note])
    assert [bank.tank for bank in job.banks] == ["T-1"] and [one for one in job.findings if one.code in DOUBTS]
    assert len(listed(tmp_path, HEAD, ONE, ["T-2", 2, cell, 480, 3], ["¹⁾ * 2. Titanium sheath."]).banks) == 2


TITLES = {
    "Three-phase heaters are 400 V; single-phase heaters are wired line to neutral, 230 V.": (400, 230),
    "rete 3~400 V 50 Hz, monofase 1~230 V, resistenze vasche": (400, 230),
    "Heaters: 1-phase 240 V and 3-phase 480 V": (480, 240),
}  # fmt: skip


@pytest.mark.parametrize("title", TITLES)
def test_volts_of_each_kind_of_heaters_in_a_title(title: str, tmp_path: Path) -> None:
    three, one = TITLES[title]
    job = listed(tmp_path, [title], ["Tank", "Qty", "kW each", "Ph"], ["T-1", 4, 6, 3], ["T-2", 2, 3, 1], ["T-3", 2, 3, None])
    assert [(bank.tank, bank.volts_v) for bank in job.banks] == [("T-1", three), ("T-2", one)]
    assert len(said(job, "supply-from-words")) == 2
    job = listed(tmp_path, [title], ["Tank", "Qty", "kW each", "Volts"], ["T-1", 4, 6, three], ["T-2", 2, 3, one])
    assert [(bank.tank, bank.phases) for bank in job.banks] == [("T-1", 3), ("T-2", 1)]


def test_a_sentence_that_names_one_supply_names_one() -> None:
    assert [tuple(one) for one in supplies_in("480 V, 3 phase")] == [(480.0, 3)]
    assert supplies_in("Bring the list by Friday; thank you.") == ()


def test_units_that_stand_only_in_number_formats(tmp_path: Path) -> None:
    kw, w, v = '0.0" kW"', '0" W"', '0" V"'
    head = ["Tank", "Heaters", "Rating each", "Supply", "Ph"]
    rows = [["T-1", 7, N(6, kw), N(480, v), 3], ["T-2", 2, N(4500, w), N(0.24, '0.00" kV"'), 1], ["T-3", 7, N(9, kw), N(480, v), 3]]
    assert second(listed(tmp_path, head, *rows)) == (2, 4.5, 240.0, 1)


@pytest.mark.parametrize("heading", ["Msr", "", "ME", "U/M", "Einh."])
def test_a_column_of_units_whatever_it_is_headed(heading: str, tmp_path: Path) -> None:
    rows = [["Tank", "Qty", "Rating each", heading, "Volts", "Ph"], ["T-1", 4, 6, "kW", 480, 3], ["T-2", 2, 4500, "W", 480, 3]]
    assert second(listed(tmp_path, *rows)) == (2, 4.5, 480.0, 3)


def test_a_tag_of_a_line_and_a_number_is_one_tank(tmp_path: Path) -> None:
    rows = [["3/01", 4, 6, 480, 3], ["3/03", 2, 6, 480, 3], ["3/10", 2, 3, 480, 3]]
    assert [bank.tank for bank in listed(tmp_path, HEAD, *rows).banks] == ["3/01", "3/03", "3/10"]
    assert not listed(tmp_path, HEAD, ["1/2", 4, 6, 480, 3], ["3/4", 2, 6, 480, 3], ["5/6", 2, 3, 480, 3]).banks


def test_amps_that_fit_no_reading_of_one_row_ask_about_it(tmp_path: Path) -> None:
    """18 kW at 400 V, 3-phase draw 26.0 A, 9 kW 13.0 A, 36 kW 52.0 A (I = P / (root 3 x V)); 12 kW would be 17.3 A, and are given 26."""
    head = ["Tank", "Qty", "kW of tank", "Volts", "Ph", "Amps"]
    rows = [["T-1", 3, 18, 400, 3, 26.0], ["T-2", 2, 9, 400, 3, 13.0], ["T-3", 4, 36, 400, 3, 52.0], ["T-4", 2, 12, 400, 3, 26.0]]
    job = listed(tmp_path, head, *rows)
    assert [bank.tank for bank in job.banks] == ["T-1", "T-2", "T-3"] and len(said(job, "row-disagrees")) == 1


def test_an_unreadable_cell_in_an_optional_column_is_set_aside_and_never_the_row(tmp_path: Path) -> None:
    head = [*HEAD, "Sheath", "Connection", "Heated length (mm)", "Branch OCPD (A)"]
    odd = ["T-2", 2, 3, 230, 1, "316?", "zigzag", "long", "big one"]
    job = listed(tmp_path, ["our heaters"], head, ONE, odd, *[[f"T-{n}", 2, 3, 230, 1, "316", "wye", 300, 20] for n in (3, 4)])
    assert second(job) == (2, 3.0, 230.0, 1)
    assert [finding.cell for finding in said(job, "cell-set-aside")] == ["H4"]
    assert [finding.cell for finding in said(job, "cell-taken-as-blank")] == ["G4", "I4"]
    assert "as if the cell were blank: chosen from volts and phases" in said(job, "cell-taken-as-blank")[0].message
