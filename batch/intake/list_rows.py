"""Reads the rows of a customer's list by its plan: every row is a heater row, or is something else and says what."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import NamedTuple

from batch.intake.facts import Fact, read_cell
from batch.intake.grid import Broken, Grid, worded
from batch.intake.list_columns import LIST, NEEDED
from batch.intake.list_words import ditto, heater_word, in_doubt, meanings, other_equipment, takes_out, total_word
from batch.intake.plan import ListPlan
from batch.intake.survey import cells_of, flat

DATA, TOTAL, NOTE, BANNER, AGAIN, UNITS, OUT, DOUBT, OTHER, HIDDEN, SPARE, UNHEATED = (
    "data", "a total", "a note", "a banner", "headings again", "unit row", "taken out", "in doubt", "not a heater", "hidden",
    "an empty form row", "a tank without heaters",
)  # fmt: skip
LONGEST_WORDS = 6  # of a remark that takes a row out by one word; in a longer one the word may be about something else
ABOUT_OTHERS = re.compile(
    r"\b(new|replac\w*|wiring|wire[sd]?|conduit|controls?|controller|piping|disconnects?|starters?|tank|install\w*|reuse|feeder|panel)\b",
    re.IGNORECASE,
)
SURELY_OUT = re.compile(
    r"\b(delet\w*|void\w*|cancel\w*|n\.?i\.?c\.?|not in contract|omit\w*|remov\w*|not required|scrap\w*)", re.IGNORECASE
)
TAG = re.compile(r"\b(?:tank|bath|vessel|tk)\s*#?\s*([\w./-]*\d[\w./-]*)|\b([A-Z]{1,4}-?\d{1,4}[A-Z]?)\b", re.IGNORECASE)
SYSTEM = re.compile(
    r"\b(?P<volts>\d{3})\s*(?:v\s?ac|volts?|v)?\s*[,/ -]+\s*(?P<phases>[13]|three|single|one)\s*-?\s*(?:ph\w*|ø|φ|~|(?=/\s*[56]0))",
    re.IGNORECASE,
)
SYSTEM_OTHER = re.compile(r"\b(?P<phases>[13])\s*(?:~|ph\w*,?|ø|N\s*~|x)\s*/?\s*(?P<volts>\d{3})\s*(?:v|/)?", re.IGNORECASE)
VOLTS = re.compile(r"\b(\d{3})\s*(?:v\b|volts?\b|vac\b)", re.IGNORECASE)
PHASES = re.compile(r"\b(?:(3|three)|(1|one|single))\s*-?\s*(?:ph\b|phases?\b|ø|φ|~)", re.IGNORECASE)
NOTHING = frozenset(
    {
        "0",
        "0.0",
        "-",
        "--",
        "---",
        "–",
        "—",
        "none",
        "nil",
        "no",
        "n/a",
        "na",
        "n.a.",
        "no heat",
        "no heater",
        "no heaters",
        "keine",
        "aucun",
        "ninguno",
        "nessuno",
    }
)


@dataclass(slots=True)
class Line:
    """One row as it was read. `index` counts from 0."""

    index: int
    kind: str = DATA
    why: str = ""
    facts: dict[str, Fact] = field(default_factory=dict)
    text: str = ""  # what the kind was told by
    at: int = 0  # column of it
    cells: list[tuple[int, object]] = field(default_factory=list)
    banner: str = ""

    def value(self, key: str) -> object:
        fact = self.facts.get(key)
        return fact.value if fact is not None else None


class Supply(NamedTuple):
    volts: float | None
    phases: int | None


def supply_in(text: str) -> Supply | None:
    """Volts and phases that a sentence names; None where it names neither."""
    for pattern in (SYSTEM, SYSTEM_OTHER):
        if match := pattern.search(text):
            phases = {"three": 3, "single": 1, "one": 1}.get(match["phases"].casefold())
            return Supply(float(match["volts"]), phases or int(match["phases"]))
    volts, phases = VOLTS.search(text), PHASES.search(text)
    if volts or phases:
        return Supply(float(volts[1]) if volts else None, (3 if phases[1] else 1) if phases else None)
    return None


class LineReader:
    """Reads the rows of one table, in order, with what goes down from banners, groups and repetition marks."""

    def __init__(self, grid: Grid, plan: ListPlan) -> None:
        self.grid, self.plan = grid, plan
        self.struck = set(getattr(grid, "struck", ()) or ())
        self.hidden = set(grid.hidden_rows)
        self.before: dict[str, Fact] = {}  # of the row above, for marks that repeat it
        self.group: dict[str, Fact] = {}  # of the group's first row
        self.banner: dict[str, Fact] = {}
        self.banner_text = ""
        self.fresh = False  # has a banner or a gap come since the last row?
        self.merged = self._merged()
        self.by_index: dict[int, list[str]] = {}
        for key, column in plan.columns.items():
            self.by_index.setdefault(column.index, []).append(key)

    def _merged(self) -> dict[tuple[int, int], tuple[int, int]]:
        """Cells that are blank only because the cell above is merged over them -> that cell."""
        found = {}
        for top, left, bottom, _ in self.grid.merged:
            if bottom > top and top + 1 >= self.plan.first_row:
                for row in range(top + 1, min(bottom, len(self.grid.rows) - 1) + 1):
                    found[row, left] = (top, left)
        return found

    def read(self) -> list[Line]:
        lines: list[Line] = []
        previous = None
        for index in self.grid.lines_from(self.plan.first_row - 1):
            if index + 1 > self.plan.last_row:
                break
            if previous is not None and index > previous + 1:
                self.fresh = True
            previous = index
            lines.append(self._line(index))
        self._mixed(lines)
        return lines

    def _mixed(self, lines: list[Line]) -> None:
        """In a list of mixed equipment a row that does not say heater may be anything."""
        data = [line for line in lines if line.kind in (DATA, DOUBT)]
        said = [line for line in data if self._heated(line)]
        if "description" not in self.plan.columns or not said or not any(line.kind == OTHER for line in lines):
            return
        for line in data:
            if line not in said and "description" in line.facts and not line.facts["description"].source:
                line.kind, line.why = DOUBT, f'"{line.facts["description"].seen}", in a list of mixed equipment,'

    @staticmethod
    def _heated(line: Line) -> bool:
        return any(heater_word(flat(value)) for _, value in line.cells if isinstance(value, str))

    def _line(self, index: int) -> Line:
        row = self.grid.rows[index]
        cells = cells_of(row, self.plan.first, self.plan.last)
        line = Line(index, cells=cells)
        if not cells:
            line.kind, line.why = NOTE, "blank in the columns of this table"
            return line
        if index + 1 in self.plan.again:
            line.kind = AGAIN
            return line
        if self._strangers(line) or self._total(line) or self._lone(line):
            return line
        self._read_facts(line, row)
        self._classify(line)
        if line.kind in (DATA, DOUBT, HIDDEN, OUT, OTHER):
            for key, fact in line.facts.items():
                self.before[key] = fact
            if "tank" in line.facts and not line.facts["tank"].source:
                self.group = {"tank": line.facts["tank"]}
            self.fresh = False
        return line

    def _strangers(self, line: Line) -> bool:
        """Headings or units again, or those of another table."""
        texts = [(at, flat(value)) for at, value in line.cells if isinstance(value, str)]
        if len(texts) < 2 or len(texts) < len(line.cells):
            return False
        known = [at for at, text in texts if (found := meanings(text)) and found[0].score >= 0.8 and not re.search(r"\d", text)]
        if len(known) >= max(2, 0.6 * len(texts)) and not any(
            key in NEEDED and self._readable(key, line) for key in ("power_kw", "volts_v", "quantity")
        ):
            line.kind = AGAIN
            return True
        return False

    def _readable(self, key: str, line: Line) -> bool:
        column = self.plan.columns.get(key)
        value = next((value for at, value in line.cells if column and at == column.index), None)
        fact = read_cell(key, value, column.index, column.unit, self.plan.decimal) if value is not None and column else None
        return fact is not None and fact.value is not None

    def _total(self, line: Line) -> bool:
        words = next(((at, value) for at, value in line.cells if isinstance(value, str) and total_word(value)), None)
        if words is None:
            return False
        at, text = words
        tank = self.plan.columns.get("tank")
        tagged = tank is not None and at != tank.index and any(i == tank.index for i, _ in line.cells)
        described = {column.index for key, column in self.plan.columns.items() if key in ("notes", "status", "description")}
        if tagged and at in described:
            return False
        if tagged and all(self._readable(key, line) for key in ("quantity", "volts_v") if key in self.plan.columns):
            return False
        line.kind, line.text, line.at = TOTAL, flat(text), at
        self._read_facts(line, self.grid.rows[line.index])
        return True

    def _lone(self, line: Line) -> bool:
        """A row of words alone: a banner over the rows below it, or a note."""
        if len(line.cells) > 2 or any(not isinstance(value, str) or type(value) is Broken for _, value in line.cells):
            return False
        at = line.cells[0][0]
        text = " ".join(flat(value) for _, value in line.cells)
        power = self.plan.columns.get("power_kw") or self.plan.columns.get("total_kw")
        if power is not None and any(i == power.index and self._readable("power_kw", line) for i, _ in line.cells):
            return False
        tank = self.plan.columns.get("tank")
        if len(line.cells) == 2 and tank is not None and line.cells[0][0] == tank.index and not supply_in(text):
            return False
        line.text, line.at = text, at
        line.kind = NOTE if len(text) > 90 or text.lstrip().startswith(("*", "NOTE", "Note", "1)", "1.")) else BANNER
        if line.kind == BANNER:
            self._banner(line, text, at)
        return True

    def _banner(self, line: Line, text: str, at: int) -> None:
        self.fresh, self.banner_text = True, text
        self.banner = {}
        self.group = {}
        said = supply_in(text)
        if said is not None:
            if said.volts:
                self.banner["volts_v"] = Fact(said.volts, at, text, source="banner")
            if said.phases:
                self.banner["phases"] = Fact(said.phases, at, text, source="banner")
        if match := TAG.search(text):
            self.banner["tank"] = Fact((match[1] or match[2]), at, text, source="banner")

    def _read_facts(self, line: Line, row: Sequence[object]) -> None:
        plan = self.plan
        unit_at = plan.columns.get("power_unit")
        for key, column in plan.columns.items():
            if column.index >= len(row):
                continue
            cell = row[column.index]
            if (
                (cell in ("", None))
                and (line.index, column.index) in self.merged
                and key not in ("quantity", "power_kw", "total_kw", "amps_a")
            ):
                top, left = self.merged[line.index, column.index]
                cell = self.grid.rows[top][left]
            if isinstance(cell, str) and ditto(cell) and key in self.before:
                line.facts[key] = self._from(self.before[key], "above")
                continue
            unit = column.unit
            if key == "power_kw" and unit_at is not None and unit_at.index != column.index and cell not in ("", None):
                beside = worded(row[unit_at.index]).strip()
                if not beside and not unit and not re.search(r"[a-zA-Z]", worded(cell)):
                    line.facts[key] = Fact(None, column.index, worded(cell), "unit-blank", doubt="")
                    continue
                unit = beside or unit
            fact = read_cell(key, cell, column.index, unit, plan.decimal)
            if fact is not None:
                line.facts[key] = fact
        for key, fact in list(line.facts.items()):
            for other, value in fact.also.items():
                given = line.facts.get(other)
                if given is None or given.value is None:
                    line.facts.setdefault(other, Fact(value, fact.index, fact.seen, source=f"in {key}"))
                elif given.value != value:
                    line.facts[other] = Fact(None, given.index, given.seen, "cell-contradicts", doubt=f"{given.value} and {value}")

    @staticmethod
    def _from(fact: Fact, source: str) -> Fact:
        return Fact(fact.value, fact.index, fact.seen, fact.fault, fact.also, source, fact.foreign, fact.outcome, fact.basis, fact.doubt)

    def _classify(self, line: Line) -> None:
        """What a row with figures is, and what goes down to it from above."""
        number = line.index + 1
        facts = line.facts
        nothing = [key for key in ("quantity", "power_kw", "total_kw") if key in facts and self._nothing(facts[key])]
        if nothing and not any(key in facts and key not in nothing for key in ("quantity", "power_kw", "total_kw")):
            for key in (*NEEDED[1:], "total_kw", "amps_a"):
                facts.pop(key, None)
            line.kind, line.why = UNHEATED, f'"{facts[nothing[0]].seen if nothing[0] in facts else "0"}" heaters'
            out = next((word for _, value in line.cells if isinstance(value, str) and (word := takes_out(value))), "")
            if out:
                line.kind, line.why = OUT, out
            return
        texts = [(at, flat(value)) for at, value in line.cells if isinstance(value, str) and type(value) is not Broken]
        powered = any(key in facts for key in ("power_kw", "total_kw", "quantity")) or any(supply_in(text) for _, text in texts)
        if not powered and "volts_v" not in facts:
            self._unpowered(line, texts)
            return
        if number in self.plan.leave_rows:
            line.kind, line.why = OUT, "left out by the column map"
            return
        keep = number in self.plan.keep_rows
        if not keep and line.index in {row for row, _ in self.struck}:
            line.kind, line.why = OUT, "struck through"
        if not keep and line.kind == DATA:
            self._words(line, texts)
        if not keep and line.kind == DATA and number in self.hidden:
            line.kind, line.why = HIDDEN, "the row is hidden"
        self._down(line)
        if not any(facts.get(key) is not None and facts[key].value is not None for key in ("power_kw", "total_kw", "quantity")) and not any(
            key in facts and not facts[key].source for key in ("power_kw", "total_kw", "quantity")
        ):
            line.kind, line.why = (SPARE, "no number and no power") if line.kind == DATA else (line.kind, line.why)

    @staticmethod
    def _nothing(fact: Fact) -> bool:
        """Does the cell say that there is none: 0, a dash, "none"?"""
        low = fact.seen.strip().casefold()
        return fact.value is None and low in NOTHING

    def _unpowered(self, line: Line, texts: list[tuple[int, str]]) -> None:
        """A row with neither power nor number: a tank that is not heated, a spare row of a form, a note."""
        tagged = "tank" in line.facts
        out = next((word for _, text in texts if (word := takes_out(text))), "")
        if out:
            line.kind, line.why = OUT, out
        elif tagged and len(line.cells) > 1:
            line.kind, line.why = UNHEATED, "no heaters are given for it"
        elif tagged and len(line.cells) == 1:
            line.kind, line.why = SPARE, "a tag and nothing else"
        elif len(texts) == len(line.cells):
            line.kind, line.text = NOTE, " ".join(text for _, text in texts)
        else:
            line.kind, line.why = SPARE, "nothing in the columns that are read"
        if tagged and not line.facts["tank"].source:
            self.group = {"tank": line.facts["tank"]}

    def _words(self, line: Line, texts: list[tuple[int, str]]) -> None:
        """Words that take the row out, put it in doubt, or say that it is other equipment."""
        keep = [word.casefold() for word in self.plan.keep_words]
        leave = [word.casefold() for word in self.plan.leave_words]
        heated = any(heater_word(text) for _, text in texts)
        for at, text in texts:
            low = text.casefold()
            if any(word in low for word in leave):
                line.kind, line.why, line.at = OUT, f'"{text[:60]}" (left out by the column map)', at
                return
            if any(word in low for word in keep):
                continue
            word = takes_out(text)
            if word:
                short = len(text.split()) <= LONGEST_WORDS
                if SURELY_OUT.search(text) and not (ABOUT_OTHERS.search(text) and not short):
                    line.kind, line.why, line.at = OUT, f'"{text[:60]}"', at
                    return
                if short and not ABOUT_OTHERS.search(text):
                    line.kind, line.why, line.at = OUT, f'"{text[:60]}"', at
                    return
                line.kind, line.why, line.at = DOUBT, f'"{text[:60]}"', at
                continue
            if (word := in_doubt(text)) and line.kind == DATA and at not in self._tank_column() and not read_quantity(text):
                line.kind, line.why, line.at = DOUBT, f'"{text[:60]}"', at
        if line.kind in (DATA, DOUBT) and not heated:
            for at, text in texts:
                if word := other_equipment(text):
                    line.kind, line.why, line.at = OTHER, f'"{text[:60]}" ({word.lower()})', at
                    return

    def _tank_column(self) -> set[int]:
        return {column.index for key, column in self.plan.columns.items() if key in ("tank", "quantity")}

    def _down(self, line: Line) -> None:
        """What stands above and holds here too: a group's tag, a banner's supply, what the plan fixes."""
        facts = line.facts
        if "tank" not in facts:
            if "tank" in self.group and not self.fresh:
                facts["tank"] = self._from(self.group["tank"], "above")
            elif "tank" in self.banner:
                facts["tank"] = self.banner["tank"]
                self.group = {}
        for key in ("volts_v", "phases"):
            if key not in facts and key in self.banner:
                facts[key] = self.banner[key]
        for key, value in self.plan.fixed.items():
            if key not in facts:
                facts[key] = Fact(value, -1, worded(value), source="fixed")


def read_quantity(text: str) -> bool:
    """Is it a count with spare ones beside it, which is no doubt about the row?"""
    return bool(re.match(r"\s*\(?\d+\)?\s*(?:\+|plus)?\s*\d*\s*spares?\b", text, re.IGNORECASE))


def grouped(lines: Sequence[Line], *kinds: str) -> list[Line]:
    return [line for line in lines if line.kind in kinds]


NEEDED_COLUMNS = tuple(LIST[key] for key in NEEDED)
