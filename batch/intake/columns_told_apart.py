"""Columns told apart by more than their names: sides of a tank, two that are filled by turns, counts of what is there already."""

from __future__ import annotations

import re
from collections.abc import Sequence

from batch.intake.survey import HeadingColumn
from batch.intake.wording import parted

ON_DUTY = re.compile(r"(?:on )?duty|working|operating|en servicio|in funzione|in bedrijf|betrieb", re.IGNORECASE)
_NUMBER = r"(?:qty|quantity|no\.?|nos\.?|number|count|anz(?:ahl)?\.?|st[üu]ck|nb\.?|nombre|cant(?:idad)?\.?|aantal|ilo[sś][cć]|quantit[àa])"
_THERE = r"(?:installed|inst\.|instal\w*|verbaut|eingebaut|montiert|ge[iï]nstalleerd|zamont\w*|zainst\w*)"
INSTALLED = re.compile(rf"{_NUMBER}[ _]+{_THERE}|{_THERE} {_NUMBER}", re.IGNORECASE)  # "QtyInstalled", of a register of assets


def counts_those_there(heading: str) -> bool:
    """Does a heading count those on duty, beside "Stby", or those that are installed?"""
    text = parted(heading.strip())
    return ON_DUTY.fullmatch(text) is not None or INSTALLED.fullmatch(text) is not None


def sides(columns: Sequence[HeadingColumn]) -> list[int]:
    """Columns headed W or B that are a width: a length and a depth or a height stand beside them."""
    signs = {column.index: column.text.strip(" .").upper() for column in columns}
    near = {index: {signs.get(index + step, "") for step in (-2, -1, 1, 2)} for index in signs}
    return [index for index, sign in signs.items() if sign in ("W", "B") and near[index] & {"L", "LG"} and near[index] & {"D", "H", "T"}]


def never_both(rows: Sequence[Sequence[object]], one: int, other: int) -> bool:
    """Is a cell of one column filled only where that of the other is not, and each somewhere?"""
    pairs = [(row[one] not in ("", None), row[other] not in ("", None)) for row in rows if max(one, other) < len(row)]
    return all(not (a and b) for a, b in pairs) and any(a for a, _ in pairs) and any(b for _, b in pairs)
