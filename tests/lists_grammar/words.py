"""The words of one language's lists, as its file has them."""

from __future__ import annotations

import tomllib
from functools import cache
from pathlib import Path
from random import Random
from typing import Any

FOLDER = Path(__file__).resolve().parent / "words"
LANGUAGES = tuple(sorted(one.stem for one in FOLDER.glob("*.toml")))


@cache
def words_of(language: str) -> dict[str, Any]:
    return tomllib.loads((FOLDER / f"{language}.toml").read_text(encoding="utf-8"))


class Pen:
    """One hand that writes a list: its words, its chance, its decimal mark."""

    def __init__(self, language: str, seed: int | str) -> None:
        self.language = language
        self.chance = Random(f"{language} {seed}")
        self.words = words_of(language)

    def one(self, *path: str) -> Any:
        """One of the words of a list: `one("headings", "tank")`."""
        found: Any = self.words
        for name in path:
            found = found[name]
        return self.chance.choice(found)

    def often(self, share: float) -> bool:
        return self.chance.random() < share

    def number(self, value: float) -> str:
        """A number as text, with the language's decimal mark."""
        return f"{value:g}".replace(".", self.words["decimal"])
