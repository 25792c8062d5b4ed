"""What quoting returns: the files, and why they are no offer yet."""

from __future__ import annotations

from pathlib import Path
from typing import NamedTuple


class Quotation(NamedTuple):
    """The files of a quotation, and why it is no offer yet; empty: it is one. `aside`: why they have not got the names asked for."""

    workbook: Path
    letter: Path
    why: tuple[str, ...]
    aside: str = ""
    template: str = ""  # whose the letter's is, where it is not ours
    all_sized: bool = True  # False: rows of the list are not in it
    priced: str = ""  # what has a price so far of a budget figure, with its currency
