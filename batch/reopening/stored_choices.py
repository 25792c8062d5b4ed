"""What the tool had chosen, read back from the sheets of a results workbook: phases, panels, numbers of banks, names of types."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Mapping, Sequence

from batch.comparing.lines import Address, Line, fold, lines_of
from batch.records import Job
from batch.reopening.results_book import StoredResults, StoredRow
from batch.sizing.labels import natural
from batch.sizing.previous_decisions import LINES, BankKey, PreviousBank, PreviousDecisions, bank_key
from batch.sizing.type_names import LEAD

FORMER_LEAD = re.compile(r"\ABP-(?=\d)")  # before the number of a panel type, by version 0.1.0
LIKE = ("quantity", "power_kw", "volts_v", "phases")  # by which a row of Banks is known for a bank without a label


def stored_key(row: StoredRow) -> BankKey:
    """Project, tank and bank of a row of Banks, Panels or Circuits."""
    return bank_key(*(words(row.values.get(name)) for name in ("project", "tank", "bank")))


def words(value: object) -> str:
    """A tag as text: a bank called 1 may have become a number in somebody's hands."""
    if value is None:
        return ""
    return str(int(value)) if isinstance(value, float) and value.is_integer() else str(value)


def stored_choices(job: Job, stored: StoredResults) -> PreviousDecisions:
    """Decisions as the result sheets state them, for the job that was received with them."""
    circuits: dict[BankKey, StoredRow] = {}
    for row in stored.rows.get("circuits", ()):
        key = stored_key(row)
        if key not in circuits or circuit_order(row) < circuit_order(circuits[key]):
            circuits[key] = row
    panels: dict[BankKey, list[StoredRow]] = defaultdict(list)
    tags: dict[str, dict[str, str]] = defaultdict(dict)
    for row in stored.rows.get("panels", ()):
        panels[stored_key(row)].append(row)
        if row.values.get("type"):
            tags[fold(row.values.get("project"))][words(row.values.get("panel"))] = FORMER_LEAD.sub(LEAD, words(row.values["type"]))
    banks = {}
    for row in stored.rows.get("banks", ()):
        key = stored_key(row)
        split = sorted(panels.get(key, ()), key=lambda row: natural(words(row.values.get("panel"))))
        counts = tuple(int(row.values["heaters"]) for row in split if isinstance(row.values.get("heaters"), float))
        start = _start(circuits.get(key))
        if start is not None:
            banks[key] = PreviousBank(words(row.values.get("feeder")), start, "", counts)
    names = {project: frozenset(found.values()) for project, found in tags.items()}
    return PreviousDecisions(job.name, _labels(job, stored), banks, {}, dict(tags), names, quiet=True)


def circuit_order(row: StoredRow) -> tuple:
    """Panels by number, branches in each."""
    branch = row.values.get("branch")
    return natural(words(row.values.get("panel"))), branch if isinstance(branch, float) else 0.0


def _start(circuit: StoredRow | None) -> int | None:
    """The line that the first branch of the bank's first panel starts on."""
    phases = words(circuit.values.get("phases_on")) if circuit else ""
    return LINES.index(phases[0]) if phases[:1] and phases[0] in LINES else None


def _labels(job: Job, stored: StoredResults) -> dict[Address, str]:
    """Numbers of banks left blank, as the Banks sheet has them: the same as they would get now, or by what stands in the rows."""
    rows: dict[tuple[str, str], list[StoredRow]] = defaultdict(list)
    for row in stored.rows.get("banks", ()):
        rows[stored_key(row)[:2]].append(row)
    blank: dict[tuple[str, str], list[Line]] = defaultdict(list)
    given: dict[tuple[str, str], set[str]] = defaultdict(set)
    for line in lines_of(job)["heaters"]:
        if line.number >= 0 and not line.key[2]:
            blank[line.key[:2]].append(line)
        else:
            given[line.key[:2]].add(line.key[2])
    labels: dict[Address, str] = {}
    for tank, lines in blank.items():
        free = [row for row in rows[tank] if stored_key(row)[2] not in given[tank]]
        if {fold(line.label) for line in lines} >= {stored_key(row)[2] for row in free}:
            continue
        labels |= _by_content(lines, free)
    return labels


def _by_content(lines: Sequence[Line], rows: Sequence[StoredRow]) -> Mapping[Address, str]:
    left = list(rows)
    found = {}
    for line in lines:
        row = min(left, key=lambda row: sum(row.values.get(key) != line.values.get(key) for key in LIKE), default=None)
        if row is not None:
            left.remove(row)
            found[line.address] = words(row.values.get("bank"))
    return found
