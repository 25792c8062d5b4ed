"""Panel labels: one for each panel type, whole on its page, with everything that who opens the door must know."""

from __future__ import annotations

from itertools import pairwise

import openpyxl
import pytest

from batch import report
from batch.report.labels_sheet import COVERED, NAME, WARNING
from batch.schedules import rows
from tests.report_job import job_result
from tests.sample_results import FINDINGS, LOOKED_AT, SMALL, opened, sized

LABELS = (
    "Panels", "Branches", "Replace branch OCPDs by", "Panel feeder", "Branch wires", "Torque", "Short-circuit rating",
    "Live when this is open", "Heaters",
)  # fmt: skip


def blocks(name: str) -> list[dict[str, object]]:
    """Each label as it stands: its type, title, warning, lines by label, first and last row."""
    sheet = opened(name)[NAME]
    found: list[dict[str, object]] = []
    for row in sheet.iter_rows(min_row=3):
        label, words = row[0].value, row[1].value
        if label and row[0].font.sz == 16:
            found.append({"type": label, "title": words, "first": row[0].row})
        elif label == WARNING:
            found[-1]["warning"] = label
        elif label:
            found[-1][label] = words
            found[-1]["last"] = row[0].row + 1
    return found


@pytest.mark.parametrize("name", LOOKED_AT)
def test_each_type_has_its_label_with_all_that_it_must_say(name: str) -> None:
    result = sized(name).result
    listed = rows(result, "panel_labels")
    kinds = [(one, kind) for one in result.projects for kind in one.types]
    shown = blocks(name)
    assert len(shown) == len(listed) == len(kinds)
    for block, row, (project, kind) in zip(shown, listed, kinds, strict=True):
        assert block["type"] == row["type"]
        assert block["warning"] == WARNING
        assert list(block)[4:] == [*LABELS[:1], "last", *LABELS[1:]] and block["Heaters"] == COVERED
        assert row["volts"] in block["title"]
        assert len(result.projects) == 1 or project.project.project in block["title"]
        assert set(str(block["Panels"]).split(", ")) == set(kind.tags) or len(kind.tags) > 60
        for label, key in (
            ("Replace branch OCPDs by", "replace"),
            ("Panel feeder", "feed"),
            ("Branch wires", "branch_wire"),
            ("Short-circuit rating", "sccr"),
        ):
            assert row[key] in block[label]
        assert "same type and rating only" in block["Replace branch OCPDs by"]
        assert row["torque_from"] in block["Torque"]
        assert block["Live when this is open"] == (
            f"all else at its tank: {row['panels']}" if row["panels"] else "nothing else at the same tank in this job"
        )


def test_torques_stand_in_the_unit_of_the_region(tmp_path) -> None:
    result = job_result(6, 2)
    shown = {}
    for us in (True, False):
        report.write(result, tmp_path / "x.xlsx", us=us)
        sheet = openpyxl.load_workbook(tmp_path / "x.xlsx")[NAME]
        shown[us] = next(row[1].value for row in sheet.iter_rows() if row[0].value == "Torque")
    metres = rows(result, "panel_labels")[0]["torque_nm"]
    assert f"branch terminals {round(metres, 1):g} N·m" in shown[False]
    assert f"branch terminals {round(metres / 0.1129848290276167, 1):g} lbf·in" in shown[True]  # NIST SP 811, 2008 edition, appendix B.8


@pytest.mark.parametrize("name", LOOKED_AT)
def test_labels_are_whole_on_their_pages(name: str) -> None:
    sheet = opened(name)[NAME]
    scale = sheet.page_setup.scale / 100
    page = (11 - 0.5 - 0.6) * 72 / scale  # Letter less its margins, in points
    heights = {at: sheet.row_dimensions[at].height or 15.0 for at in range(1, sheet.max_row + 1)}
    breaks = [0, *(one.id for one in sheet.row_breaks.brk), sheet.max_row]
    for first, last in pairwise(breaks):
        assert sum(heights[at] for at in range(first + 1, last + 1)) <= page + 15
        held = [block for block in blocks(name) if first < block["first"] <= last]
        assert held and all(block["last"] <= last for block in held)
        assert 1 <= len(held) <= 4
    assert sum(dimension.width * 7 for dimension in sheet.column_dimensions.values()) * scale / 96 <= 8.5 - 0.8


def test_the_list_behind_them_is_not_printed_a_second_time() -> None:
    book = opened(FINDINGS)
    names = book.sheetnames
    assert names.index(NAME) + 1 == names.index("Label list")
    area = book["Label list"].print_area
    assert area.replace("$", "").rpartition("!")[2] == "A1:E2"
    assert book["Label list"].max_row - 5 == len(rows(sized(FINDINGS).result, "panel_labels"))


def test_words_of_a_line_have_the_room_they_need() -> None:
    """Lines of several are joined cells, and no line is cut: each row is as tall as its words."""
    sheet = opened(SMALL)[NAME]
    torques = [row for row in sheet.iter_rows(min_row=3, max_col=2) if row[0].value == "Torque"]
    assert len(torques) == len(blocks(SMALL))
    for row in torques:
        assert sheet.row_dimensions[row[0].row].height >= 27
        assert any(row[1].coordinate in merged for merged in sheet.merged_cells.ranges)
