"""Results workbooks written before data went with them: what was chosen and sized with, recovered from the cells made for eyes.

A figure may differ from what sizing gives because it was typed there, or because the sheet As received was edited and the figure is
stale. The copies of what a row was sized with tell the two apart; where there are none, the Circuits sheet does: nobody types a change
into each of its rows. The same is done where a workbook's data is damaged or gone.
"""

from __future__ import annotations

import re
from collections import Counter, defaultdict
from collections.abc import Mapping
from itertools import chain

from batch.comparing.input_changes import same
from batch.comparing.lines import SHEETS, fold
from batch.comparing.outcomes import SHEETS as RESULT_SHEETS
from batch.records import Job
from batch.reopening.results_book import AS_SIZED, StoredResults, StoredRow
from batch.reopening.sized_with import UNCHANGED, Changed, Listed, labels_again
from batch.results import JobResult
from batch.schedules import rows
from batch.sizing.labels import natural
from batch.sizing.previous_decisions import LINES, BankKey, PreviousBank, PreviousDecisions, bank_key
from batch.sizing.type_names import LEAD

FORMER_LEAD = re.compile(r"\ABP-(?=\d)")  # before the number of a panel type, by version 0.1.0
SINGLE = (" single circuit", " direct")  # how the circuit of a bank without a panel is called; the second by version 0.1.0
PRICED = {"unit_price": "unit_price", "labour_h": "hours_each", "field_h": "hours_each"}  # columns of Stock and of Materials


def chosen_in_cells(job: Job, stored: StoredResults) -> PreviousDecisions:
    """Decisions as the result sheets state them, for the job that was received with them."""
    circuits: dict[BankKey, StoredRow] = {}
    for row in stored.rows.get("circuits", ()):
        if row.bank not in circuits or _circuit_order(row) < _circuit_order(circuits[row.bank]):
            circuits[row.bank] = row
    panels: dict[BankKey, list[StoredRow]] = defaultdict(list)
    tags: dict[str, dict[str, tuple[str, ...]]] = defaultdict(dict)
    for row in stored.rows.get("panels", ()):
        panels[row.bank].append(row)
        if row.values.get("type"):
            tags[fold(row.values.get("project"))][row.text("panel")] = (FORMER_LEAD.sub(LEAD, row.text("type")),)
    banks = {}
    for row in stored.rows.get("banks", ()):
        split = sorted(panels.get(row.bank, ()), key=lambda row: natural(row.text("panel")))
        counts = tuple(int(heaters) for row in split if isinstance(heaters := row.values.get("heaters"), float))
        start = _start(circuits.get(row.bank))
        if start is not None:
            lines = [_line(panel.text("panel_feeder_phases")) for panel in split]
            starts = tuple(line for line in lines if line is not None)
            banks[row.bank] = PreviousBank(row.text("feeder"), starts if len(starts) == len(lines) > 0 else (start,), "", counts)
    names = {project: frozenset(chain.from_iterable(found.values())) for project, found in tags.items()}
    listed = (Listed(row.bank, row.text("bank"), row.values) for row in stored.rows.get("banks", ()))
    return PreviousDecisions(job.name, labels_again(job, listed), banks, {}, dict(tags), names, quiet=True)


def _circuit_order(row: StoredRow) -> tuple:
    """Panels by number, branches in each."""
    branch = row.values.get("branch")
    return natural(row.text("panel")), branch if isinstance(branch, float) else 0.0


def _start(circuit: StoredRow | None) -> int | None:
    """The line that the first branch of the bank's first panel starts on."""
    return _line(circuit.text("phases_on")) if circuit else None


def _line(lines: str) -> int | None:
    """The first of some supply lines: "B-C", in another country's words "L2-L3"; None of what names none."""
    first = lines.partition("-")[0]
    return next((at for at, letter in enumerate(LINES) if first in (letter, f"L{at + 1}")), None)


class FromCells:
    """What the cells say of how they were sized (see `SizedWith`).

    result        the workbook's own job, sized as it was received with the choices it states
    same_program  whether this program made the workbook: if not, a figure that differs may be the program's
    """

    def __init__(self, stored: StoredResults, result: JobResult, same_program: bool) -> None:
        self._same_program = same_program
        self._copies, self._listed = _copies(stored), _circuits(stored)
        self._now: dict[BankKey, list[tuple[object, object]]] = {}  # what the rows as received give, to see whether they are as they were
        for row in rows(result, "circuits"):
            key = bank_key(str(row["project"] or ""), str(row["tank"]), str(row["bank"]))
            self._now.setdefault(key, []).append((row["amps_a"], row["connected_kw"]))
        materials = stored.rows.get("materials", ())
        self._parts = Counter(fold(row.text("part")) for row in materials)
        columns = dict.fromkeys(PRICED.values())
        self._lines = Counter((fold(row.text("part")), name, row.values.get(name)) for row in materials for name in columns)

    def listed(self, bank: BankKey) -> bool:
        return self._same_program

    def given(self, sheet: str, row: StoredRow, name: str, now: object) -> Changed:
        if name not in row.values:
            return UNCHANGED
        column, value = RESULT_SHEETS[sheet][name], row.values[name]
        if AS_SIZED + name in row.values:
            copy = row.values[AS_SIZED + name]
            return Changed(not same(column, copy, value), not same(column, copy, now))
        if sheet == "feeder_totals" and column.kind == "text" and not self._same_program:
            return UNCHANGED  # other programs said a system in other words
        stands = sheet != "banks" or self._stands(row.bank)
        return Changed(stands and not same(column, now, value), not stands)

    def stated(self, row: StoredRow, name: str) -> bool:
        return AS_SIZED + name in row.values

    def typed_over(self, row: StoredRow, bank: BankKey, name: str) -> bool:
        copy = row.values.get(AS_SIZED + name, self._copies.get((bank, name)))
        if copy is not None:
            return not same(RESULT_SHEETS["banks"][name], copy, row.values[name])
        return self._same_program

    def noted(self, bank: BankKey, notes: str) -> bool:
        return False

    def price(self, table: str, key: tuple[str, ...], field: str, value: object, now: object) -> Changed:
        """Where all lines of a part agree, it is the stock list that was edited."""
        if same(SHEETS[table][field], now, value):
            return UNCHANGED
        if table != "stock" or field not in PRICED:
            return Changed(True, False)
        [part] = key
        edited = self._parts[part] > 1 and self._lines[part, PRICED[field], value] == self._parts[part]
        return Changed(not edited, edited)

    def _stands(self, key: BankKey) -> bool:
        """Whether the input row is as it was: the circuits that it gives now are those that the workbook lists."""
        listed, now = self._listed.get(key, []), self._now.get(key, [])
        columns = RESULT_SHEETS["circuits"]
        return len(listed) == len(now) and all(
            same(columns["amps_a"], *amps) and same(columns["connected_kw"], *kilowatts)
            for amps, kilowatts in (zip(one, other, strict=True) for one, other in zip(listed, now, strict=True))
        )


def _circuits(stored: StoredResults) -> dict[BankKey, list[tuple[object, object]]]:
    """Amps and kW of every listed circuit of a bank, in the order of panels and branches."""
    found: dict[BankKey, list[StoredRow]] = {}
    for row in stored.rows.get("circuits", ()):
        found.setdefault(row.bank, []).append(row)
    return {
        key: [(row.values.get("amps_a"), row.values.get("connected_kw")) for row in sorted(listed, key=_circuit_order)]
        for key, listed in found.items()
    }


def _copies(stored: StoredResults) -> Mapping[tuple[BankKey, str], object]:
    """Figures of Banks that Circuits and Panels state once more: nobody types a change into all of them."""
    found: dict[tuple[BankKey, str], object] = {}
    for row in stored.rows.get("circuits", ()):
        single = row.text("panel").endswith(SINGLE)
        found.setdefault((row.bank, "bank_device_a" if single else "rating_a"), row.values.get("rating_a"))
        if row.values.get("branch") == 1.0 and (single or row.text("panel").endswith("-P1")):
            found.setdefault((row.bank, "phases_on"), row.text("phases_on").partition(",")[0])
    for row in stored.rows.get("panels", ()):
        found.setdefault((row.bank, "connection"), row.values.get("connection"))
    return found
