"""Labels of banks: given, or numbered within their tank."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from functools import lru_cache

from msgspec import Struct

from batch.findings import Remarks
from batch.origin import Address
from batch.records import Bank


@lru_cache(maxsize=1 << 14)
def natural(text: str) -> tuple[tuple[int, int, str], ...]:
    """Sort key in which T-9 comes before T-10."""
    return tuple((0, int(part), "") if part.isdigit() else (1, 0, part.casefold()) for part in re.split(r"(\d+)", text) if part)


class LabelledBank(Struct):
    """A bank with its label, what is said of its row on the way through sizing, and the feeder it was found to hang on ("" = none).

    `turn`: how many rows stand before it that give the same bank.
    """

    bank: Bank
    label: str
    said: Remarks
    feeder: str = ""
    turn: int = 0


def label_banks(banks: Sequence[Bank], previous: Mapping[Address, str] | None = None, source: str = "") -> list[LabelledBank]:
    """Each bank with its label, in sheet order.

    A blank is numbered 1, 2, 3 within its tank, skipping labels that are given; a label given twice is said of both rows.
    `previous` are the numbers that blank banks had in an earlier revision, by the address of their rows; `source` is its name, "" = not
    said.
    """
    previous = previous or {}
    by_tank: dict[str, list[Bank]] = {}
    for bank in banks:
        by_tank.setdefault(bank.tank.casefold(), []).append(bank)
    numbers = {id(bank): label for group in by_tank.values() for bank, label in _numbered(group, previous)}
    labelled = []
    turns: Counter[tuple[str, str]] = Counter()
    for bank in banks:
        group, said = by_tank[bank.tank.casefold()], Remarks()
        label = numbers[id(bank)] if bank.bank is None else bank.bank
        name = bank.tank.casefold(), label.casefold()
        labelled.append(LabelledBank(bank, label, said, turn=turns[name]))
        turns[name] += 1
        if bank.bank is None and len(group) > 1:
            said.add("bank-numbered", "bank")
            if source and bank.origin.address in previous:
                said.add("kept-label", "bank", label=label, source=source)
        elif bank.bank is not None:
            twins = [other for other in group if other.bank is not None and other.bank.casefold() == label.casefold()]
            if len(twins) > 1:
                rows = ", ".join(str(other.origin.row) for other in twins)
                said.add("bank-repeated", "bank", label=label, tank=bank.tank, rows=rows)
    return labelled


def _numbered(group: Sequence[Bank], previous: Mapping[Address, str]) -> Iterator[tuple[Bank, str]]:
    taken = {bank.bank.casefold() for bank in group if bank.bank is not None}
    stay: dict[int, str] = {}
    for bank in group:
        label = previous.get(bank.origin.address, "") if bank.bank is None else ""
        if label and label.casefold() not in taken:
            taken.add(label.casefold())
            stay[id(bank)] = label
    number = 0
    for bank in group:
        if id(bank) in stay:
            yield bank, stay[id(bank)]
        elif bank.bank is None:
            number += 1
            while str(number) in taken:
                number += 1
            yield bank, str(number)
