"""Labels of banks: given, or numbered within their tank."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from batch.findings import Remark, remark
from batch.records import Bank


def natural(text: str) -> tuple:
    """Sort key in which T-9 comes before T-10."""
    return tuple((0, int(part), "") if part.isdigit() else (1, 0, part.casefold()) for part in re.split(r"(\d+)", text) if part)


def label_banks(banks: Sequence[Bank]) -> Iterator[tuple[Bank, str, tuple[Remark, ...]]]:
    """Each bank with its label and what is said of it, in sheet order.

    A blank is numbered 1, 2, 3 within its tank, skipping labels that are given; a label given twice is marked on both rows.
    """
    by_tank: dict[str, list[Bank]] = {}
    for bank in banks:
        by_tank.setdefault(bank.tank.casefold(), []).append(bank)
    numbers = {id(bank): label for group in by_tank.values() for bank, label in _numbered(group)}
    for bank in banks:
        group = by_tank[bank.tank.casefold()]
        if bank.bank is None:
            yield bank, numbers[id(bank)], (remark("bank-numbered", "bank"),) if len(group) > 1 else ()
            continue
        twins = [other for other in group if other.bank is not None and other.bank.casefold() == bank.bank.casefold()]
        rows = ", ".join(str(other.origin.row) for other in twins)
        yield bank, bank.bank, (remark("bank-repeated", "bank", label=bank.bank, tank=bank.tank, rows=rows),) if len(twins) > 1 else ()


def _numbered(group: Sequence[Bank]) -> Iterator[tuple[Bank, str]]:
    taken = {bank.bank.casefold() for bank in group if bank.bank is not None}
    number = 0
    for bank in group:
        if bank.bank is None:
            number += 1
            while str(number) in taken:
                number += 1
            yield bank, str(number)
