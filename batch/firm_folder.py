"""What a firm keeps in its own folder, at hand beside what comes with the program, by one setting.

A rule set is a folder with a ruleset.toml, under `rules`, or the firm's folder itself; templates stand as ours do in `templates/`; the
stock is the Stock sheet of `stock.xlsx`; words of the trade are files in `languages/`, of the form of ours.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from batch.rules import firm_rules, load, own_names
from batch.rules.at_hand import LISTS, firm_in_use, own_place, own_templates
from batch.whole_file import checksum_of


@contextmanager
def firm_folder(folder: Path | None) -> Iterator[None]:
    """While it lasts, the folder's contents are at hand. None: nothing but what comes with the program.

    Raises:
        RuleSetError: a rule set that is broken, or a folder with nothing of all this in it.
        InputFileError: a stock list or a file of words that is not as it should be: file, row and cell, or entry.
    """
    nothing_before = firm_in_use() is None
    with firm_rules(folder):
        if folder is None and nothing_before:
            yield
            return
        from batch.intake.firm_stock import firm_stock  # with the reader of workbooks, which not every call needs
        from batch.intake.firm_words import firm_words

        with firm_words(own_place(folder, LISTS["words"])), firm_stock(own_place(folder, LISTS["stock"])):
            yield


def firm_checksums() -> tuple[tuple[str, str], ...]:
    """What of a firm's folder is in use, each with a checksum by which a reader tells whether it is still the same."""
    from batch.intake.firm_stock import stock_in_use
    from batch.intake.vocabulary import own_words

    found = [(name, load(name).checksum) for name in own_names()]
    found += [(kind, checksum_of(place)) for kind, place in own_templates().items()]
    found += [("stock", stock.checksum)] if (stock := stock_in_use()) is not None else []
    found += [("words", checksum_of(words))] if (words := own_words()) is not None else []
    return tuple(found)
