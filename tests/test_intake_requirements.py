"""Requirements in notes around a list: each is taken, or said with its cell; a sentence of which nothing is taken is named too."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from batch.intake.requirements import topics, topics_of
from batch.records import Job
from batch.sheets import INPUTS
from tests.intake_book import book, codes, read_bytes, said
from tests.test_lists import HEAD, ONE

NOTES = {
    "1. GFCI 30 mA on all heater branches": "ground-fault", "2. One branch per heater": "how many heaters",
    "4. Control voltage 120 V": "control power", "5. Panels NEMA 4X": "boxes", "6. Low-level cutoffs on all tanks": "low-level",
    "7. Copper conductors only": "conductors", "8. Breakers, no fuses": "fuses or breakers", "9. SCCR 42 kA": "short-circuit",
    "10. Ambient 45 °C at the panels": "temperature around", "11. 20% spare capacity": "spare capacity",
    "12. Zwei Tanks nie gleichzeitig": "at the same time", "13. Steuerspannung 24 V": "control power",
    "14. FI-Schutzschalter 30 mA je Gruppe": "ground-fault", "15. Différentiel 30 mA par départ": "ground-fault",
    "16. Sicherungen statt Leistungsschalter": "fuses or breakers", "17. Un circuito por resistencia": "how many heaters",
}  # fmt: skip


def listed(folder: Path, above: list[str], below: list[str]) -> Job:
    rows = [["Tank heaters of line 4 (invented)"], *([note] for note in above), [], HEAD, ONE, ["T-2", 3, 9, 480, 3], []]
    return read_bytes(folder, book({"Sheet1": [*rows, *([note] for note in below)]}))


@pytest.mark.parametrize("where", ["above", "below"])
def test_every_requirement_is_said_with_its_cell(where: str, tmp_path: Path) -> None:
    above, below = (list(NOTES), []) if where == "above" else ([], list(NOTES))
    job = listed(tmp_path, above, below)
    first = 2 if where == "above" else 7
    found = {one.cell: one.message for one in said(job, "note-asks")}
    for at, (note, about) in enumerate(NOTES.items(), first):
        assert note[:40] in found[f"A{at}"] and about in found[f"A{at}"]
    assert len(job.banks) == 2 and "row-banner" not in codes(job)


def test_the_cells_that_a_requirement_is_sent_to_are_there() -> None:
    """ "Sheath on the Heaters sheet": a column of that heading stands on the sheet of that name."""
    headings = {sheet.name: {column.heading for column in sheet.columns} for sheet in INPUTS}
    named = [
        (sheet, heading)
        for topic in topics()
        for words, sheet in re.findall(r"(?:^|, and |and |or )?([A-Z][^()]*?) on the (\w+) sheet", topic.where)
        for heading in re.split(r", | and | or ", words)
    ]
    assert len(named) > 20 and [(sheet, heading) for sheet, heading in named if heading not in headings[sheet]] == []


def test_a_sheath_that_a_note_says_of_all_is_taken_where_no_row_says_another(tmp_path: Path) -> None:
    rows = [["3. All sheaths 316 SS"], [], [*HEAD, "Sheath"], ONE, ["T-2", 3, 9, 480, 3, "titanium"]]
    job = read_bytes(tmp_path, book({"Sheet1": rows}))
    assert [bank.sheath for bank in job.banks] == ["316 SS", "titanium"]
    assert "Sheath = 316 SS" in said(job, "supply-from-words")[0].message and not said(job, "note-asks")


OF_SOME = ("2. Titanium sheath.", "All sheaths 316 SS but T-1", "All sheaths 316 SS except in nickel", "All sheaths 316 SS?")


@pytest.mark.parametrize("note", OF_SOME)
def test_a_sheath_of_some_is_not_taken_for_all_and_said(note: str, tmp_path: Path) -> None:
    job = listed(tmp_path, [note], [])
    assert [bank.sheath for bank in job.banks] == [None, None]
    assert "A2" in {one.cell for one in job.findings if note[:30] in one.message}


def test_what_a_cover_asks_for_is_said_on_its_sheet(tmp_path: Path) -> None:
    asked = "Ground-fault protection of each circuit is asked for."
    cover = [["Enquiry (invented)"], ["Please quote the heaters on the next sheet."], [asked]]
    job = read_bytes(tmp_path, book({"Cover": cover, "Heaters list": [HEAD, ONE]}))
    assert [(one.sheet, one.cell) for one in said(job, "note-asks")] == [("Cover", "A3")]


def test_a_sentence_of_which_nothing_is_known_is_named_and_what_was_taken_is_not(tmp_path: Path) -> None:
    job = listed(tmp_path, ["All heaters 480 V, 3 phase"], ["Paint all heaters blue before delivery"])
    [aside] = said(job, "notes-aside")
    assert "Paint all heaters blue" in aside.message and "480 V" not in aside.message


def test_each_topic_has_words_and_a_place() -> None:
    assert all(one.what and one.where for one in topics()) and len({one.what for one in topics()}) == len(topics())
    assert not topics_of("Rinse tank beside the door") and not topics_of("Acid copper plating")
