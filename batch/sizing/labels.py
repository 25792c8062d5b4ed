"""Labels of banks: given, or numbered within their tank."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence

from batch.findings import Remark, remark
from batch.records import Bank


def natural(text: str) -> tuple:
    """Sort key in which T-9 comes before T-10."""
    return tuple((0, int(part), "") if part.isdigit() else (1, 0, part.casefold()) for part in re.split(r"(\d+)", text) if part)


def label_banks(
    banks: Sequence[Bank], kept: Mapping[tuple[str, int], str] | None = None, source: str = ""
) -> Iterator[tuple[Bank, str, tuple[Remark, ...]]]:
    """Each bank with its label and what is said of it, in sheet order.

    A blank is numbered 1, 2, 3 within its tank, skipping labels that are given; a label given twice is marked on both rows.
    `kept` are the numbers that blank banks had in an earlier revision, by the address of their rows; `source` is its name, "" = not said.
    """
    by_tank: dict[str, list[Bank]] = {}
    for bank in banks:
        by_tank.setdefault(bank.tank.casefold(), []).append(bank)
    numbers = {id(bank): label for group in by_tank.values() for bank, label in _numbered(group, kept or {})}
    for bank in banks:
        group = by_tank[bank.tank.casefold()]
        if bank.bank is None:
            said = (remark("bank-numbered", "bank"),) if len(group) > 1 else ()
            if source and len(group) > 1 and _address(bank) in (kept or {}):
                said = (*said, remark("kept-label", "bank", label=numbers[id(bank)], source=source))
            yield bank, numbers[id(bank)], said
            continue
        twins = [other for other in group if other.bank is not None and other.bank.casefold() == bank.bank.casefold()]
        rows = ", ".join(str(other.origin.row) for other in twins)
        yield bank, bank.bank, (remark("bank-repeated", "bank", label=bank.bank, tank=bank.tank, rows=rows),) if len(twins) > 1 else ()


def _address(bank: Bank) -> tuple[str, int]:
    return bank.origin.sheet, bank.origin.row


def _numbered(group: Sequence[Bank], kept: Mapping[tuple[str, int], str]) -> Iterator[tuple[Bank, str]]:
    taken = {bank.bank.casefold() for bank in group if bank.bank is not None}
    stay: dict[int, str] = {}
    for bank in group:
        label = kept.get(_address(bank), "") if bank.bank is None else ""
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
