"""Parts packed ahead are read back whole, and equal records of a job are one."""

from __future__ import annotations

import json
import zipfile
from collections.abc import Mapping
from io import BytesIO

import pytest
from hypothesis import given
from hypothesis import strategies as st

from batch.held_once import held_once
from batch.method.line_currents import Lines
from batch.ooxml import deflate
from batch.report.kept_rows import KeptRows
from batch.schedules import rows
from batch.schedules.sized_data import TOGETHER, data_text
from batch.writing.packed import PackedBytes, pack_part
from batch.writing.parts import PIECE, LongText
from tests.job_builder import bank, job, part, size_job

STRETCHES = st.lists(st.tuples(st.booleans(), st.lists(st.binary(max_size=200), max_size=4)), max_size=6)


def _packed(pieces: list[bytes]) -> PackedBytes:
    made = PackedBytes()
    for piece in pieces:
        made.write(piece)
    return made


def _read_back(stretches: list[tuple[bool, list[bytes]]]) -> bytes:
    file = BytesIO()
    with zipfile.ZipFile(file, "w", zipfile.ZIP_DEFLATED) as package:
        parts = [_packed(pieces) if ahead else b"".join(pieces) for ahead, pieces in stretches]
        pack_part(package, "part.xml", parts, long=False)
        pack_part(package, "next.xml", [b"what follows"], long=True)
    with zipfile.ZipFile(file) as package:
        assert package.testzip() is None
        assert package.read("next.xml") == b"what follows"
        return package.read("part.xml")


@given(STRETCHES)
def test_a_part_is_read_back_as_it_was_given(stretches: list[tuple[bool, list[bytes]]]) -> None:
    assert _read_back(stretches) == b"".join(piece for _, pieces in stretches for piece in pieces)


def test_so_it_is_where_no_library_adds_check_sums(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(deflate, "zlib_ng", None)
    rows = [b"<row/>" * 1000, b"<row r='2'/>"]
    assert _read_back([(False, [b"<sheetData>"]), (True, rows), (True, rows), (False, [b"</sheetData>"])]) == (
        b"<sheetData>" + 2 * b"".join(rows) + b"</sheetData>"
    )


def test_a_long_part_is_whole() -> None:
    """More than is worded at once, in signs of one, two and three bytes."""
    text, given = LongText(), ["a°€" * 1000] * (2 * PIECE // 3000)
    for piece in given:
        text.write(piece)
    first, last = text.stretches()
    assert isinstance(first, PackedBytes) and isinstance(last, bytes) and first.length
    assert b"".join(first.plain()) + last == "".join(given).encode()


def test_rows_that_are_looked_back_at_are_as_they_were_written() -> None:
    whole, some = KeptRows(), KeptRows(("tank",))
    for row in ({"tank": "T-1", "amps": 1.0}, {"amps": None, "tank": "T-2"}):
        whole.keep(row)
        some.keep(row)
    assert [dict(row) for row in whole] == [{"tank": "T-1", "amps": 1.0}, {"tank": "T-2", "amps": None}]
    assert [dict(row) for row in some] == [{"tank": "T-1"}, {"tank": "T-2"}]
    assert all(isinstance(row, Mapping) and "volts" not in row for row in whole)


def test_equal_wires_and_devices_of_a_job_are_one() -> None:
    """Of banks that are told apart by their powers alone."""
    [one, other] = size_job(job([bank(quantity=6, power_kw=8.8), bank(tank="T-2", quantity=6, power_kw=8.9)])).projects[0].banks
    assert one.design is not other.design and one.design.branch.device == other.design.branch.device
    assert one.design.branch.device is other.design.branch.device
    assert one.design.branch.wires is other.design.branch.wires


def test_equal_tuples_of_two_kinds_stay_two() -> None:
    """Four panels that all start on line A, and four currents of nothing."""
    currents, starts = held_once(Lines(0.0, 0.0, 0.0, 0.0)), held_once((0, 0, 0, 0))
    assert type(currents) is Lines and type(starts) is tuple and all(type(one) is int for one in starts)
    assert held_once((0, 0, 0, 0)) is starts


def test_the_text_of_the_data_sheet_is_the_same_in_however_many_parts() -> None:
    result = size_job(job(bank(), stock=[part(part=f"P-{number}", description='a "quoted" _x part') for number in range(TOGETHER + 1)]))
    text = data_text(result, rows(result, "banks"), rows(result, "feeder_totals"))
    again = json.dumps(json.loads(text), separators=(",", ":")).replace("_x", "\\u005fx")
    assert text == again
    assert len(json.loads(text)["inputs"]["stock"]["rows"]) == TOGETHER + 1
