"""Everything that a column map can say of a heater list, each by a small list; the same job comes back from its results."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import pytest

import batch
from batch.intake import read
from batch.intake.column_map import MapError, parse_map
from batch.intake.map_lines import key_lines
from batch.records import Job
from tests.intake_book import book, fates, said

HEAD = ["Pos", "Pcs", "Load", "V", "Ph"]
ROWS = [HEAD, ["A", 4, 6, 480, 3], ["B", 2, 3, 240, 1]]
PLAIN = """
[[table]]
sheet = "List"
heading_row = 1
[table.columns]
Tank = "Pos"
Quantity = "Pcs"
Power = "Load"
Volts = "V"
Phases = "Ph"
"""
A, B = ("A", 4, 6.0, 480.0, 3), ("B", 2, 3.0, 240.0, 1)


def heaters(job: Job) -> list[tuple]:
    return [(bank.tank, bank.quantity, bank.power_kw, bank.volts_v, bank.phases) for bank in job.banks]


def read_by(folder: Path, text: str, *rows: Sequence[object], **sheets: list) -> Job:
    """The list read by the map; and its results, read again, are the same heaters."""
    source = folder / "list.xlsx"
    source.write_bytes(book({"List": list(rows), **sheets}))
    plan = parse_map(text, "map.toml", "map.toml")
    job = read(source, column_map=plan)
    if job.banks:
        again = batch.check(batch.size(source, folder / "results.xlsx", column_map=plan).written).job
        assert heaters(again) == heaters(job)
    return job


def edited(**lines: str) -> str:
    """The plain map with lines of [table.columns] changed, and others put before it."""
    text = PLAIN
    for name, line in lines.items():
        start = text.index(f"\n{name} = ")
        end = text.find("\n", start + 1)
        text = text[:start] + (f"\n{name} = {line}" if line else "") + text[end:]
    return text


def before(*lines: str) -> str:
    return PLAIN.replace("[table.columns]", "\n".join([*lines, "[table.columns]"]))


def test_the_plain_map(tmp_path: Path) -> None:
    assert heaters(read_by(tmp_path, PLAIN, *ROWS)) == [A, B]


def test_a_table_by_its_range_among_other_cells(tmp_path: Path) -> None:
    text = PLAIN.replace("heading_row = 1", 'range = "B3:F5"')
    rows = [["x"], [], [None, *HEAD], *[[None, *row] for row in ROWS[1:]], [None, "C", 9, 9, 480, 3]]
    job = read_by(tmp_path, text, *rows)
    assert heaters(job) == [A, B] and fates(job)[6] == "below the last row of the column map"


@pytest.mark.parametrize("named", [True, False])
def test_tables_stacked_on_one_sheet(named: bool, tmp_path: Path) -> None:
    """Under headings of their own each: by their rows, or found by their headings."""
    lower = PLAIN.replace('"Pos"', '"Tank no."').replace('"Load"', '"kW"').replace("heading_row = 1", "heading_row = 5")
    text = PLAIN + lower
    text = text if named else text.replace("heading_row = 1\n", "").replace("heading_row = 5\n", "")
    job = read_by(tmp_path, text, *ROWS, [], ["Tank no.", "Pcs", "kW", "V", "Ph"], ["C", 1, 9, 480, 3])
    assert heaters(job) == [A, B, ("C", 1, 9.0, 480.0, 3)]


def test_columns_by_letter_and_a_unit(tmp_path: Path) -> None:
    text = edited(Tank='{ column = "A" }', Power='{ column = "C", unit = "W" }')
    assert heaters(read_by(tmp_path, text, HEAD, ["A", 4, 6000, 480, 3])) == [A]


def test_one_of_ours_from_the_first_of_several_that_is_filled(tmp_path: Path) -> None:
    text = edited(Power='["now", { heading = "W now", unit = "W" }, "before"]')
    text = text.replace("[table.columns]", 'blank_words = ["NC"]\n[table.columns]')
    head = ["Pos", "Pcs", "before", "V", "Ph", "now", "W now"]
    rows = [["A", 4, 9, 480, 3, 6, None], ["B", 2, 3, 240, 1, "NC", None], ["C", 1, 3, 240, 1, None, 4500]]
    assert heaters(read_by(tmp_path, text, head, *rows)) == [A, B, ("C", 1, 4.5, 240.0, 1)]


def test_one_of_ours_put_together_and_added_up(tmp_path: Path) -> None:
    text = edited(Tank='{ join = ["Line", "No"], between = "-" }', Quantity='{ sum = ["Front", "Rear"] }')
    head = ["Line", "No", "Front", "Rear", "Load", "V", "Ph"]
    job = read_by(tmp_path, text, head, ["L1", 7, 3, 1, 6, 480, 3], ["L1", 8, 2, None, 6, 480, 3], ["L1", 9, 2, "some", 6, 480, 3])
    assert heaters(job) == [("L1-7", 4, 6.0, 480.0, 3), ("L1-8", 2, 6.0, 480.0, 3)]
    assert fates(job)[4].startswith("Quantity")


def test_several_of_ours_from_one_column(tmp_path: Path) -> None:
    text = edited(Volts='"Supply"', Phases='"Supply"')
    assert heaters(read_by(tmp_path, text, ["Pos", "Pcs", "Load", "Supply"], ["A", 4, 6, "480/3/60"], ["B", 2, 3, "240 V 1 ph"])) == [A, B]


def test_the_column_that_holds_the_unit(tmp_path: Path) -> None:
    text = edited(Power='{ heading = "Load", unit_in = "U/M" }') + '"Heated length" = { heading = "Hot", unit_in = "H" }\n'
    job = read_by(tmp_path, text, [*HEAD, "U/M", "Hot", "x"], ["A", 4, 6000, 480, 3, "W", 20, "in"], ["B", 2, 3, 240, 1, "kW", 400, "mm"])
    assert heaters(job) == [A, B] and [bank.heated_length_mm for bank in job.banks] == [508.0, 400.0]


def test_values_for_all_rows_unless_the_row_says_otherwise(tmp_path: Path) -> None:
    text = PLAIN + "[table.fixed]\nQuantity = 2\nVolts = 240\nPhases = 1\nSheath = \"titanium\"\n"
    job = read_by(tmp_path, text, [*HEAD, "Sheath"], ["A", 4, 6, 480, 3, "steel"], ["B", None, 3, None, None, None])
    assert heaters(job) == [A, B] and {bank.sheath for bank in job.banks} == {"titanium"}


def test_values_for_rows_that_say_something_else(tmp_path: Path) -> None:
    text = edited(Volts="") + "[table.fixed]\nVolts = [{ value = 480, Phases = 3 }, { value = 240, Phases = 1 }]\n"
    assert heaters(read_by(tmp_path, text, [*HEAD[:3], "Ph"], ["A", 4, 6, 3], ["B", 2, 3, 1])) == [A, B]


@pytest.mark.parametrize(("basis", "power"), [("each", 24.0), ("per tank", 6.0), ("total", 3.0)])
def test_what_the_power_is_of(basis: str, power: float, tmp_path: Path) -> None:
    """24 kW of 4 heaters each in 2 tanks: of each, of each tank's four, of all eight."""
    text = before(f'power = "{basis}"', 'quantity = "each tank"')
    job = read_by(tmp_path, text, HEAD, ["T1, T2", 4, 24, 480, 3])
    assert heaters(job) == [("T1", 4, power, 480.0, 3), ("T2", 4, power, 480.0, 3)]


def test_how_many_tanks_a_row_stands_for_and_what_they_are_called(tmp_path: Path) -> None:
    text = before('quantity = "each tank"') + 'Tanks = "Off"\n'
    assert [bank.tank for bank in read_by(tmp_path, text, [*HEAD, "Off"], ["A", 4, 6, 480, 3, 2]).banks] == ["A (1)", "A (2)"]
    text = before('quantity = "each tank"') + '[table.tags]\n"M2" = ["M2A", "M2B"]\n"B" = "B-left"\n'
    job = read_by(tmp_path, text, HEAD, ["M2", 4, 6, 480, 3], *ROWS[2:])
    assert [bank.tank for bank in job.banks] == ["M2A", "M2B", "B-left"]


ROWS_SAID = {
    "by number": (['leave_out = [3, "5-6"]'], ["A", "C"]),
    "by word": (['leave_out_words = ["ours no"]'], ["A", "B", "D", "E"]),
    "only with a word": (['only_words = ["ours"]'], ["C"]),
    "kept by word": (['keep_words = ["existing"]'], ["A", "B", "C", "D", "E", "F"]),
    "kept by number": (["keep = [7]"], ["A", "B", "C", "D", "E", "F"]),
}


@pytest.mark.parametrize("how", ROWS_SAID)
def test_rows_left_out_and_kept(how: str, tmp_path: Path) -> None:
    lines, tanks = ROWS_SAID[how]
    remarks = {"C": "ours no 3", "F": "existing"}
    rows = [[tank, 2, 3, 240, 1, remarks.get(tank)] for tank in "ABCDEF"]
    job = read_by(tmp_path, before(*lines), [*HEAD, "What"], *rows)
    assert [bank.tank for bank in job.banks] == tanks


@pytest.mark.parametrize("kept", [True, False])
def test_rows_that_are_struck_through(kept: bool, tmp_path: Path) -> None:
    import xlsxwriter

    with xlsxwriter.Workbook(tmp_path / "list.xlsx") as workbook:
        sheet, struck = workbook.add_worksheet("List"), workbook.add_format({"font_strikeout": True})
        for number, row in enumerate(ROWS):
            for at, value in enumerate(row):
                sheet.write(number, at, value, struck if number == 2 else None)
    text = before('struck = "kept"' if kept else 'struck = "left out"')
    assert heaters(read(tmp_path / "list.xlsx", column_map=parse_map(text, "m", "m"))) == ([A, B] if kept else [A])


def test_words_that_repeat_that_make_totals_and_that_stand_for_values(tmp_path: Path) -> None:
    text = before('repeat_words = ["wie zuvor"]', 'total_words = ["abzutragen"]') + "[table.means]\nPhases = { D = 3, E = 1 }\n"
    rows = [["A", 4, 6, 480, "D"], ["B", "wie zuvor", 6, 480, "D"], ["Abzutragen", 8, 48, 480, "D"], ["C", 2, 3, 240, "E"]]
    job = read_by(tmp_path, text, HEAD, *rows)
    assert heaters(job) == [A, ("B", 4, 6.0, 480.0, 3), ("C", 2, 3.0, 240.0, 1)] and fates(job)[4] == "a total"


SIZES = PLAIN.replace('Quantity = "Pcs"\nPower = "Load"\nVolts = "V"\nPhases = "Ph"', 'Quantity = "6 kW"') + """
[table.fixed]
Power = 6
Volts = 480
Phases = 3
[[table.also]]
columns = { Quantity = "3 kW" }
fixed = { Power = 3, Volts = 240, Phases = 1 }
"""


def test_several_banks_in_one_row(tmp_path: Path) -> None:
    """A list of tanks by sizes: a column of counts for each size."""
    rows = [["Pos", "6 kW", "3 kW", "Remarks"], ["A", 4, None, None], ["B", None, 2, None], ["C", 4, 2, None], ["D", None, None, "rinse"],
            ["E", 1, 1, "deleted"], ["F", 2, "?", None]]  # fmt: skip
    job = read_by(tmp_path, SIZES, *rows)
    assert heaters(job) == [A, B, ("C", 4, 6.0, 480.0, 3), ("C", 2, 3.0, 240.0, 1)]
    assert fates(job)[6] == "taken out by the customer" and fates(job)[7]
    result = batch.check(tmp_path / "list.xlsx", column_map=parse_map(SIZES, "m", "m"))
    assert [check for check in result.checks if not check.passes] == []


def test_a_turned_list(tmp_path: Path) -> None:
    text = PLAIN.replace("heading_row = 1", 'heading_column = "A"\nfirst_column = "B"\nlast_column = "C"')
    turned = [list(column) for column in zip(*ROWS, strict=True)]
    job = read_by(tmp_path, text, *[[*column, "noted"] for column in turned])
    assert heaters(job) == [A, B]


def test_which_issue_counts(tmp_path: Path) -> None:
    unused = '[[table]]\nsheet = "Other"\nuse = false\n'
    job = read_by(tmp_path, PLAIN + unused, *ROWS, Other=[HEAD, ["A", 9, 9, 480, 3]])
    assert heaters(job) == [A, B] and not said(job, "list-not-read")
    assert said(read_by(tmp_path, PLAIN, *ROWS, Other=[HEAD, ["Z", 9, 9, 480, 3]]), "list-not-read")
    none = read_by(tmp_path, 'others = "no lists"\n' + PLAIN, *ROWS, Other=[HEAD, ["Z", 9, 9, 480, 3]])
    assert heaters(none) == [A, B] and not said(none, "list-not-read")


WRONG = {
    "a word with no meaning": (before('powr = "each"'), 5, '"powr" has no meaning in a table: use also, blank_repeats_above, blank_words'),
    "a wrong choice": (before('power = "eech"'), 5, "power is 'eech': write one of \"each\", \"per tank\", \"total\""),
    "a row as text": (before('keep = ["twelve"]'), 5, "keep is ['twelve']: write row numbers"),
    "a range": (PLAIN.replace("heading_row = 1", 'range = "B3-F5"'), 4, "range is 'B3-F5': write the first and the last cell"),
    "a column's key": (edited(Volts='{ heading = "V", units = "V" }'), 9, '"units" has no meaning in columns.Volts'),
    "a strange column": (edited(Volts="").replace("Phases =", "Phase3s ="), 9, '"Phase3s" is no column of Heaters'),
    "a value": (PLAIN + "[table.fixed]\nSheath = \"x\"\nConnection = \"zigzag\"\n", 13, "fixed.Connection"),
    "the second table": (PLAIN + PLAIN.replace("heading_row = 1", 'heading_row = "x"'), 14, "table 2: heading_row is 'x'"),
    "a heading that is gone": (edited(Power='"kW"'), 8, 'no heading "kW" for Power in row 1; it has "Pos", "Pcs", "Load", "V", "Ph"'),
    "a heading that moved": (edited(Power='"Later"'), 8, 'no heading "Later" for Power in row 1; it stands in C4 now'),
    "a sheet that is gone": (PLAIN.replace('"List"', '"Liste"'), 3, 'has no such sheet; it has "List"'),
}  # fmt: skip


@pytest.mark.parametrize("case", WRONG)
def test_an_error_names_the_line_and_what_was_expected(case: str, tmp_path: Path) -> None:
    text, line, words = WRONG[case]
    with pytest.raises(MapError) as refusal:
        read_by(tmp_path, text, *ROWS, [None, None, "Later"])
    assert str(refusal.value).startswith(f"map.toml, line {line}: ") and words in str(refusal.value)


def test_lines_of_keys() -> None:
    text = """decimal = ","
[[table]]
sheet = "A = B"
[table.columns]
"Heated length" = "x"

[[table]]
sheet = "B"
[[table.also]]
fixed.Power = 3"""
    assert key_lines(text) == {
        ("decimal",): 1, ("table", 0): 2, ("table", 0, "sheet"): 3, ("table", 0, "columns"): 4, ("table", 0, "columns", "Heated length"): 5,
        ("table", 1): 7, ("table", 1, "sheet"): 8, ("table", 1, "also", 0): 9, ("table", 1, "also", 0, "fixed", "Power"): 10,
    }  # fmt: skip


NOTED = PLAIN + 'Notes = "Remarks"\n'
SPOKEN = [[*HEAD, "Remarks"], [*ROWS[1], ""], ["K", "", "", "", "", "9 kW, gas fired"], ["C", 1, "TBA", 415, 3, ""]]


def test_a_row_without_heaters_that_speaks_of_power_is_left_out_by_the_map(tmp_path: Path) -> None:
    """The answer that its own question offers."""
    asked = read_by(tmp_path, NOTED, *SPOKEN)
    assert [one.tank for one in asked.unread if one.tank == "K"] == ["K"]
    left = read_by(tmp_path, NOTED + '[table.rows]\n3 = "leave out"\n', *SPOKEN)
    assert [one.tank for one in left.unread] == ["C"] and heaters(left) == [A]


def test_a_row_that_is_still_open_in_the_map_says_what_is_open(tmp_path: Path) -> None:
    """As it did before there was a map: what the power is, not whether it is built."""
    job = read_by(tmp_path, NOTED + '[table.rows]\n3 = "leave out"\n4 = "?"\n', *SPOKEN)
    [one] = [one for one in job.findings if one.code in ("row-figures-open", "row-in-doubt")]
    assert "what the power is" in one.message and "TBA" in one.message
    plain = read_by(tmp_path, NOTED + '[table.rows]\n2 = "?"\n', *SPOKEN[:2])
    assert not plain.banks and "in the column map" in next(one for one in plain.findings if one.code == "row-in-doubt").message
