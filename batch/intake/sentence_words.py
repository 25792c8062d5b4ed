"""The words of `languages/sentences.toml`: what sentences and remarks beside heaters may say, in every language at once."""

from __future__ import annotations

import re
from functools import lru_cache
from importlib import resources

from batch.toml_text import parsed


@lru_cache(maxsize=1)
def _all() -> dict[str, dict[str, list[str]]]:
    file = resources.files("batch.intake") / "languages" / "sentences.toml"
    return parsed(file.read_text(encoding="utf-8"))


@lru_cache(maxsize=64)
def forms(name: str) -> str:
    """One group of all ways to say it, for a larger pattern."""
    return f"(?:{'|'.join(dict.fromkeys(one for some in _all()[name].values() for one in some))})"


@lru_cache(maxsize=64)
def worded_so(name: str) -> re.Pattern[str]:
    """The same as it stands, for a cell or a heading that says nothing else."""
    return re.compile(forms(name), re.IGNORECASE)


@lru_cache(maxsize=64)
def saying(name: str) -> re.Pattern[str]:
    """The same between words."""
    return re.compile(rf"(?<!\w){forms(name)}(?!\w)", re.IGNORECASE)
