"""The everyday ways in which lists say number, power and supply, each read whole, and what stays in doubt. All invented."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.test_intake_plain_lists import codes, heaters, read_list

BANKS = [("T-1", 2, 9.0), ("T-2", 3, 12.0), ("T-3", 1, 6.0), ("T-4", 4, 3.0), ("T-5", 2, 4.5)]
READ = [(tank, number, power, 480.0, 3) for tank, number, power in BANKS]
TITLE = ["Tank heater list"]
EACH = ["Tank", "Process", "Qty", "kW each"]
LINES = [["T-1", "Soak clean", 2, 9], ["T-2", "Nickel", 3, 12], ["T-3", "Rinse", 1, 6]]


def described(folder: Path, heading: str, words: str):
    """A list whose heaters are said in one column."""
    said = [words.format(n=number, p=f"{power:g}", w=int(1000 * power), t=f"{number * power:g}") for _, number, power in BANKS]
    rows = [[bank[0], text, 480, 3] for bank, text in zip(BANKS, said, strict=True)]
    return read_list(folder, TITLE, [], ["Tank", heading, "Volts", "Phase"], *rows)


@pytest.mark.parametrize("heading", ["Heaters", "Installed power", "Heaters (qty x kW)", "Electric heat"])
@pytest.mark.parametrize(
    "words",
    ["{n} x {p} kW", "{n}x{p}kW", "{n} at {p} kW each", "{n} units {p} kW", "{n}no x {p}kW", "{n} nr. {p} kW", "{n} - {p} kW",
     "{n}-{p}kW ea.", "{n} x {w} watt", "{t} kW ({n} x {p} kW)", "{n} ({p} kW ea)", "{n} x {p} kW = {t} kW", "{p} kW x {n}"],
)  # fmt: skip
def test_number_and_power_in_one_cell_are_read_under_any_heading(heading: str, words: str, tmp_path: Path) -> None:
    assert heaters(described(tmp_path, heading, words)) == READ


@pytest.mark.parametrize("words", ["{t} kW ({n} heaters)", "{n}/{p} kW", "{p} kW"])
def test_what_is_not_said_is_asked(words: str, tmp_path: Path) -> None:
    assert all(bank in READ and bank[1] == 1 for bank in heaters(described(tmp_path, "Heaters", words)))


def test_a_dash_may_be_a_span_of_powers(tmp_path: Path) -> None:
    """Nothing shows that "2 - 9 kW" counts, where no cell of the column is anything but a span."""
    rows = [["T-1", "2 - 9 kW", 480, 3], ["T-2", "3 - 12 kW", 480, 3], ["T-3", "2 - 6 kW", 480, 3]]
    assert heaters(read_list(tmp_path, TITLE, ["Tank", "Heaters", "Volts", "Phase"], *rows)) == []
    rows = [["T-1", "3 - 6 kW", 480, 3], ["T-2", "1 - 9 kW", 480, 3], ["T-3", "four 9 kW", 480, 3]]
    assert ("T-1", 3, 6.0, 480.0, 3) not in heaters(read_list(tmp_path, TITLE, ["Tank", "Heaters", "Volts", "Phase"], *rows))


def test_a_row_without_the_sign_of_the_others_is_asked(tmp_path: Path) -> None:
    rows = [["T-1", "3 x 6 kW", 480, 3], ["T-2", "2 x 9 kW", 480, 3], ["T-3", "2 heaters, 6 kW", 480, 3]]
    assert [bank[0] for bank in heaters(read_list(tmp_path, ["Tank", "Heaters", "Volts", "Phase"], *rows))] == ["T-1", "T-2"]


@pytest.mark.parametrize(
    "words",
    ["480V 3PH supply", "Power: 480/3/60", "Plant voltage 480V, 3-phase", "Supply 480 VAC, 3 ph, 60 Hz", "Electrical service: 480/3/60",
     "480/3/60", "Line voltage: 480 V 3 ph", "Heaters are 480V 3ph"],
)  # fmt: skip
@pytest.mark.parametrize("below", [False, True])
def test_the_one_supply_beside_a_list_is_that_of_its_heaters(words: str, below: bool, tmp_path: Path) -> None:
    rows = [TITLE, EACH, *LINES, [], [words]] if below else [TITLE, [words], EACH, *LINES]
    job = read_list(tmp_path, *rows)
    assert [bank[3:] for bank in heaters(job)] == [(480.0, 3)] * 3
    assert "supply-from-words" in codes(job)


@pytest.mark.parametrize(
    "words",
    [["Plant voltage 480V, 3-phase", "Building 2 is 208 V, 3 phase"], ["Supply was 480 V 3 ph before"], ["Is it 480 V, 3 phase?"],
     ["All 9 kW: 480 V 3 ph"], ["Control 120 V, 1 phase"], ["Pumps 480 V, 3 phase"], ["Service voltage 480 V"]],
)  # fmt: skip
def test_a_supply_that_may_be_another_is_asked(words: list[str], tmp_path: Path) -> None:
    assert heaters(read_list(tmp_path, TITLE, EACH, *LINES, [], *([one] for one in words))) == []


def test_the_supply_in_a_remark_of_one_row_is_not_that_of_all(tmp_path: Path) -> None:
    rows = [[*LINES[0], "240 V, 1 phase"], [*LINES[1], ""], [*LINES[2], ""], ["T-4", "Seal", 2, 9, ""]]
    assert all(bank[0] == "T-1" for bank in heaters(read_list(tmp_path, TITLE, [*EACH, "Remarks"], *rows)))


def test_a_column_of_supplies_is_no_column_of_feeders(tmp_path: Path) -> None:
    rows = [[*line, "480V-3Ø"] for line in LINES]
    job = read_list(tmp_path, TITLE, [*EACH, "Supply"], *rows)
    assert [(*bank[3:], one.feeder) for bank, one in zip(heaters(job), job.banks, strict=True)] == [(480.0, 3, None)] * 3


@pytest.mark.parametrize(("heading", "read"), [("Heater kW", 3), ("Element watts", 3), ("Heaters kW", 0), ("Total heater kW", 0)])
def test_a_heading_that_speaks_of_one_heater_means_each(heading: str, read: int, tmp_path: Path) -> None:
    """Of 18 kW and two heaters either reading is a heater that is made."""
    factor = 1000 if heading.endswith("watts") else 1
    banks = [("T-1", "Soak clean", 2, 18), ("T-2", "Nickel", 2, 12), ("T-3", "Seal", 3, 9)]
    rows = [[*bank[:3], bank[3] * factor, 480, 3] for bank in banks]
    got = heaters(read_list(tmp_path, TITLE, ["Tank", "Process", "Qty", heading, "Volts", "Ph"], *rows))
    assert len({("T-1", 18.0), ("T-2", 12.0), ("T-3", 9.0)} & {(bank[0], bank[2]) for bank in got}) == read


def test_a_total_of_the_powers_as_they_stand_is_that_of_the_tanks(tmp_path: Path) -> None:
    """Under headings that are our own: 12 heaters of 24, 27 and 18 kW would be 303 kW, and the list says 69."""
    rows = [["T-1", 4, 24, 480, 3], ["T-2", 6, 27, 480, 3], ["T-3", 2, 18, 480, 3], ["TOTAL", None, 69, None, None]]
    got = heaters(read_list(tmp_path, ["Heaters"], ["Tank No.", "Quantity", "Power (kW)", "Volts", "Ph"], *rows))
    assert got == [("T-1", 4, 6.0, 480.0, 3), ("T-2", 6, 4.5, 480.0, 3), ("T-3", 2, 9.0, 480.0, 3)]


@pytest.mark.parametrize("tags", [["Soak clean", "Nickel", "Hot rinse"], ["TK-4", "TK-5", "TK-6"]])
def test_tags_are_the_tanks_where_nothing_else_names_them(tags: list[str], tmp_path: Path) -> None:
    rows = [[at + 1, tag, 3, 6, 480, 3] for at, tag in enumerate(tags)]
    job = read_list(tmp_path, TITLE, ["No.", "Tag", "Qty", "kW each", "Volts", "Ph"], *rows)
    assert [bank[0] for bank in heaters(job)] == tags


def test_heaters_by_line_hang_in_the_baths_that_a_column_names(tmp_path: Path) -> None:
    lines = [("H-1A", "Zinc"), ("H-1B", "Zinc"), ("H-2A", "Seal"), ("H-2B", "Seal"), ("H-3A", "Rinse"), ("H-3B", "Rinse")]
    rows = [[tag, bath, 4.5, 480, 3] for tag, bath in lines]
    job = read_list(tmp_path, TITLE, ["Tag", "Bath", "Size kW", "V", "Phases"], *rows)
    assert [(bank.tank, bank.bank, bank.quantity) for bank in job.banks] == [(bath, tag, 1) for tag, bath in lines]


def test_numbers_of_items_with_several_lines_count_nothing(tmp_path: Path) -> None:
    lines = [(1, "T-1", "H-1A"), (1, "T-1", "H-1B"), (2, "T-2", "H-2A"), (2, "T-2", "H-2B"), (3, "T-3", "H-3A"), (3, "T-3", "H-3B")]
    rows = [[item, tank, tag, 9, "480 V 3 ph"] for item, tank, tag in lines]
    job = read_list(tmp_path, TITLE, ["Item", "Tank Name", "Heater No.", "Heater kW", "Electrical"], *rows)
    assert [(bank.tank, bank.quantity) for bank in job.banks] == [(tank, 1) for _, tank, _ in lines]


@pytest.mark.parametrize(("heading", "read"), [("Depth (ft)", 3), ("Depth", 3), ("Note", 1), ("See note", 1)])
def test_a_figure_is_the_number_of_a_note_only_in_a_column_of_notes(heading: str, read: int, tmp_path: Path) -> None:
    rows = [["T-1", 3, 6, 480, 3, 4], ["T-2", 2, 6, 480, 3, None], ["T-3", 1, 6, 480, 3, 3]]
    notes = [["3. EXISTING, NOT IN CONTRACT"], ["4. BY OTHERS"]]
    assert len(heaters(read_list(tmp_path, TITLE, ["Tank", "Qty", "kW each", "Volts", "Ph", heading], *rows, [], *notes))) == read
