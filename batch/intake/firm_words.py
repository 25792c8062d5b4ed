"""A firm's own words of the trade: files of its folder, of the form of those in `languages/`, added to ours and going before them.

What was read of a text is remembered all over the reading of lists, by the text alone. Words that come or go therefore empty all that is
remembered: within one process a firm's words hold for every thread.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from batch.findings import Finding, find, remark
from batch.intake import vocabulary as words_at_hand
from batch.intake.vocabulary import vocabulary
from batch.whole_file import checksum_of


@contextmanager
def firm_words(folder: Path | None) -> Iterator[None]:
    """While it lasts, the words of this folder are known too. None: no others.

    Raises:
        InputFileError: a file that is no word list, or a list of it that is not as it should be; it is named.
    """
    if folder == (before := words_at_hand.own_words()):
        yield
        return
    if folder is not None:
        vocabulary(folder)  # judged whole, before anything is read by it
    _use(folder)
    try:
        yield
    finally:
        _use(before)


def said_of_words() -> list[Finding]:
    """That a list was read by the firm's words too, and by which."""
    if (folder := words_at_hand.own_words()) is None:
        return []
    files = ", ".join(path.name for path in sorted(folder.glob("*.toml")))
    return [find(remark("words-of-firm", files=files, checksum=checksum_of(folder)))]


def _use(folder: Path | None) -> None:
    words_at_hand.use_own_words(folder)
    for name, module in list(sys.modules.items()):
        if name.startswith("batch.intake."):
            _forget(module)


def _forget(place: object) -> None:
    """Empties what functions of a module, and of its classes, remember."""
    for one in list(vars(place).values()):
        if callable(forget := getattr(one, "cache_clear", None)):
            forget()
        elif isinstance(one, type) and one.__module__ == getattr(place, "__name__", ""):
            for method in vars(one).values():
                if callable(forget := getattr(method, "cache_clear", None)):
                    forget()
