"""The dialogue over a strange list: what is refused goes to sized by answering, line by line, what the written map asks; nothing else."""

from __future__ import annotations

import re
import shutil
from collections.abc import Mapping
from pathlib import Path

import pytest

import batch
from batch.cli import app as cli
from batch.intake import read
from batch.intake.column_map import parse_map
from batch.intake.map_draft import draft
from tests.intake_book import book
from tests.lists.score import HERE, lists_in, score_list

# Answers as a person gives them who knows the plant: by what stands before the "?" (rows by number), or by a word of its question
LISTS: dict[str, Mapping[str, str]] = {
    "worked/21-nothing-decides.xlsx": {"power": '"per tank"', "11": '"leave out"'},  # row 11: its amps fit neither way
    "worked/02-contractor-scope.xlsx": {"quantity": '"each tank"', "18": "{ Quantity = 4 }", "others": '"leave out"'},
    "worked/17-canadian-schedule.xlsx": {"17": '"leave out"', "others": '"keep"'},  # row 17: a dryer by others
}


ASKING = ("34", "40", "42", "60", "63", "69", "72")  # lists of which something is asked


def plan_of(path: Path) -> Path:
    return path.parent / f"{path.name.partition('.')[0]}.map.toml"


def answered(text: str, answers: Mapping[str, str]) -> str:
    """The map with every "?" replaced by the answer to its question."""
    lines = []
    for line in text.splitlines():
        match = re.match(r'(\w+|"[^"]+") = "\?"  # QUESTION', line)
        if match:
            name = match[1].strip('"')
            answer = answers.get(name, answers.get("others") if name.isdecimal() else None)
            assert answer is not None, f"no answer to: {line}"
            line = f"{match[1]} = {answer}"
        lines.append(line)
    return "\n".join(lines) + "\n"


@pytest.mark.parametrize("name", LISTS)
def test_a_strange_list_goes_from_refused_to_sized_by_answering_its_map(
    name: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    source = tmp_path / Path(name).name
    shutil.copy(HERE / name, source)
    shutil.copy(HERE / f"{name.partition('.')[0]}.truth.json", tmp_path)
    before, sized = score_list(source), len(batch.check(source).job.banks)
    assert before.ask and not before.silent
    assert cli.main(["size", str(source)]) == 4
    told = " ".join(capsys.readouterr().out.split())
    assert "--map" in told and f"{source.stem} map.toml" in told
    plan = tmp_path / f"{source.stem} map.toml"
    plan.write_text(answered(plan.read_text(encoding="utf-8"), LISTS[name]), encoding="utf-8")
    assert cli.main(["size", str(source), "--map", str(plan)]) in (1, 4)
    after = score_list(source, plan)
    wrong = [line for line in after.lines if not line.startswith("asked") and "to be asked" not in line]  # those the answers have decided
    assert len(batch.check(source, column_map=plan).job.banks) > sized and after.right >= before.right and not wrong, after.lines


def test_an_unanswered_map_reads_every_list_as_the_program_does_by_itself() -> None:
    """With its questions open the map sizes what is sized without it, and not a heater more."""
    for path in (one for folder in ("second", "third") for one in lists_in(HERE / folder) if one.name.startswith(ASKING)):
        text = draft(path)
        assert "QUESTION" in text
        alone, mapped = (
            sorted((one.origin.cell("tank"), one.tank, one.quantity, one.power_kw, one.volts_v, one.phases) for one in job.banks)
            for job in (read(path), read(path, column_map=parse_map(text, "m", "m")))
        )
        assert alone == mapped, path.name


def test_a_sheet_whose_headings_say_nothing_has_a_table_to_fill_in(tmp_path: Path) -> None:
    rows = [["our heaters"], ["aa", "bb", "cc", "dd", "ee"], ["T-1", 4, 6, 480, 3], ["T-2", 2, 3, 240, 1]]
    source = tmp_path / "list.xlsx"
    source.write_bytes(book({"Sheet1": rows}))
    assert cli.main(["size", str(source)]) == 4
    plan = tmp_path / "list map.toml"
    text = plan.read_text(encoding="utf-8")
    assert "QUESTION" in text
    kept = r"^# (?!QUESTION|the # away|Column map|    heater|Behind|A \"|not used|as written)"  # sentences, and the mark at the end
    plan.write_text(re.sub(kept, "", text, flags=re.MULTILINE), encoding="utf-8")
    job = read(source, column_map=parse_map(plan.read_text(encoding="utf-8"), "m", "m"))
    assert [(bank.tank, bank.quantity, bank.power_kw) for bank in job.banks] == [("T-1", 4, 6.0), ("T-2", 2, 3.0)]



MAPPED = [path for folder in ("second", "third") for path in lists_in(HERE / folder) if plan_of(path).exists()]


@pytest.mark.parametrize("path", MAPPED, ids=lambda path: path.name)
def test_a_person_s_map_reads_the_whole_list(path: Path) -> None:
    """As a person who understands the list writes it: every row to take is right, every row to ask about is asked about."""
    score = score_list(path, plan_of(path))
    assert (score.right, score.ask_right, score.silent) == (score.take, score.ask, 0), score.lines


def test_enough_lists_have_a_map() -> None:
    assert len(MAPPED) >= 12


def test_a_heading_with_more_words_behind_reference_is_one() -> None:
    """A customer who adds "(leave as it is)" has not lost his answers."""
    from batch.reopening.answers_received import _places

    assert _places(["No.", "Question", "Answer", "Reference (leave as it is)"]) == (2, 3, 0)
    assert _places(["No.", "Question", "Answer"]) is None
