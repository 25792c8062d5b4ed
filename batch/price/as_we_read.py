"""What a question says of each place of the list that it is about: what stands there, and what was made of it, in the words of its finding.

A customer has the list alone, so that what a finding says of this program's own files, and of rows by their numbers in a results workbook,
is left out: the cell, as the list has it, stands before what is said of it.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable

from batch.findings import Finding

NAMED = 6  # places of one question that are told; the cells of more stand beside it
LONGEST = 320  # signs of one place
WHERE = re.compile(r"\A(?:Sheet [^:]*: |Row \d+(?: is not sized)?: |Row \d+ (?=is |holds |stands ))")
OURS = re.compile(
    r" (?:Its line in the map: |The other way, in the map: |To leave the row out, in the map, |The line of the map that answers|"
    r"Not sized until it is answered: |It wants: ).*\Z",
    re.DOTALL,
)
BEGINS = {"is ": "the row ", "holds ": "the row ", "stands ": "the row "}  # what was cut from before these words
SIZED = (" and not sized", " Not sized.", " None of it is sized.")  # what this program did not do, in a question of what is meant


def as_we_read(found: Iterable[Finding], address: Callable[[str, str], str]) -> str:
    """ "Heaters F2 (tank T-101): Volts is blank."; of several "(1) Heaters F2 … (2) …". `address`: a cell as the list has it."""
    told = list(dict.fromkeys(f"{_where(one, address)}{_told(one)}" for one in found))
    if len(told) < 2:
        return "".join(told)
    more = f" And {len(told) - NAMED:,} more; their cells are named beside." if len(told) > NAMED else ""
    return " ".join(f"({number}) {words}" for number, words in enumerate(told[:NAMED], 1)) + more


def _where(finding: Finding, address: Callable[[str, str], str]) -> str:
    cell = address(finding.sheet, finding.cell) if finding.sheet and finding.cell else finding.sheet
    tank = f"tank {finding.tank}" if finding.tank else ""
    place = f"{cell} ({tank})" if cell and tank else cell or tank
    return f"{place}: " if place else ""


def _told(finding: Finding) -> str:
    words = OURS.sub("", finding.message)
    cut = WHERE.match(words)
    words = words[cut.end() :] if cut else words
    words = next((f"{before}{words}" for begin, before in BEGINS.items() if cut and words.startswith(begin)), words)
    for ours in SIZED:
        words = words.removesuffix(ours) if ours.endswith(".") else words.removesuffix(f"{ours}.")
    if len(words) > LONGEST:
        words = f"{words[:LONGEST].rstrip(' ,;:.')}…"
    return words if words.endswith((".", "?", "!", "…")) else f"{words}."
