"""Files of facts and words: what is read of them is what Python's own reader reads, in the same order; what is broken is said by it."""

from __future__ import annotations

import json
import tomllib
from pathlib import Path

import pytest

from batch.toml_text import parsed

FILES = sorted((Path(__file__).resolve().parents[1] / "batch").rglob("*.toml"))


def test_the_files_are_there() -> None:
    assert len(FILES) >= 20


@pytest.mark.parametrize("path", FILES, ids=lambda path: f"{path.parent.name}/{path.name}")
def test_every_file_of_the_program_reads_as_by_the_standard_library(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    assert json.dumps(parsed(text), default=repr) == json.dumps(tomllib.loads(text), default=repr)


@pytest.mark.parametrize(
    ("text", "said"),
    [("a = 1\na = 2\n", "Cannot overwrite"), ("a = \n", "Invalid value (at line 1, column 5)"), ("a = " + "[" * 20_000, "too many deep")],
    ids=["twice", "none", "deep"],
)
def test_what_is_broken_is_said_with_its_place(text: str, said: str) -> None:
    with pytest.raises(tomllib.TOMLDecodeError) as fault:
        parsed(text)
    assert said in str(fault.value)
