"""Reads the cells of a row by the plan of its list: what each says, what it repeats from above, and what a description holds together."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Sequence

from batch.intake.changes_told import in_place_of
from batch.intake.columns import LEAST_POWER_KW
from batch.intake.counts import read_count
from batch.intake.counts_named import by_sign
from batch.intake.described import Described, described
from batch.intake.facts import Fact, one_likely, read_cell
from batch.intake.grid import Grid, worded
from batch.intake.groups_named import marks_behind, unmarked
from batch.intake.heading_sense import EACH, TANK, names_a_heater
from batch.intake.legends import legends
from batch.intake.line_kinds import Line
from batch.intake.list_columns import LIST
from batch.intake.list_words import ditto, heater_word, is_heater, of_pieces, open_state, out_code
from batch.intake.made_cells import made_cell, meant
from batch.intake.numbers import decimal_mark
from batch.intake.plan import ListPlan
from batch.intake.survey import flat
from batch.intake.tags_and_names import tags_before_names
from batch.intake.tank_words import tank_named

CLOSE = 0.006  # powers agree within half of a per cent and a rounding
TO_NEUTRAL = re.compile(r"\bL-N\b|\b(?:line|phase)[- ]to[- ]neutral\b|\bPh-N\b", re.IGNORECASE)
IN_UNITS = re.compile(r"\d\s*(k?W)(?![\w/])", re.IGNORECASE)
BARE = re.compile(r"\s*\d[\d.,]*\s*")
LEAST_USUAL = 3  # rows in one state, for it to be the usual one
MOST_OFTEN = 3  # times the other mark, for the mark before decimals to be known all the same
SET_OF = re.compile(
    r"\b(?:set|kit|bank|group|satz|gruppe|ensemble|lot|jeu|groupe|conjunto|juego|grupo|gruppo|serie|kit|stel|groep|zestaw|komplet|jogo)\s+"
    r"(?:of|von|mit|à|de|da|di|con|van|z)?\s*(?:(?P<of>\d{1,2})\s*,\s*)?(?=\w)",
    re.IGNORECASE,
)
SETS = re.compile(
    r"\s*(?:sets?|lots?|kits?|s[äa]tze?|gruppen?|jeux?|ensembles?|juegos?|conjuntos?|gruppi|gruppo|serie|stel|zestaw|kpl\.?|komplet|jogos?"
    r"|psch\.?|pausch\w*|l\.?s\.?|lump[- ]?sums?|forfait|ens\.?|lotes?|global)\s*", re.IGNORECASE
)
STANDBY = re.compile(r"\b(?:st(?:an)?d?-?by|stby)\b", re.IGNORECASE)
NEARLY_ALL = 0.75  # of the rows: judgement, no source
CHANGE = re.compile(r"\bchang|[äa]nder|modif|cambi|wijzig|zmian|alter|revis", re.IGNORECASE)
FIRST_CLAUSE = re.compile(r"[,;(]|\s[-–]\s")
STARS = re.compile(r"\s*(?:\*{1,3}|†|‡)\s*")
BY_NOTE = frozenset({"volts_v", "phases"})
MARKED = frozenset({"quantity", "power_kw", "total_kw", "volts_v"})


def _of_a_set(match: re.Match[str]) -> str:
    """ "SET OF 4, 3 KW EACH" is "4 x 3 KW EACH"."""
    return f"{match['of']} x " if match["of"] else ""


def _rated(cell: str, fact: Fact) -> Fact:
    """ "12 kW, 480 V, 3 ph" under a heading of power: the power, with the supply that stands beside it; as it was where it says another
    thing too, a number of heaters or a doubt."""
    said = described(cell)
    if said.doubt or not isinstance(said.facts.get("power_kw"), float) or "quantity" in said.facts:
        return fact
    also: dict[str, object] = {key: said.facts[key] for key in ("volts_v", "phases") if key in said.facts}
    return Fact(said.facts["power_kw"], fact.index, fact.seen, also=also, foreign=said.foreign, basis=said.power_of) if also else fact


class RowCells:
    """The cells of one table's rows, in order."""

    def __init__(self, grid: Grid, plan: ListPlan) -> None:
        self.grid, self.plan = grid, plan
        self.hidden = set(grid.hidden_rows)
        self.before: dict[str, Fact] = {}  # of the row above, for marks that repeat it
        self.group: dict[str, Fact] = {}  # of the group's first row
        self.carried: dict[str, Fact] = {}  # of columns in which a map lets a blank mean the same
        self.banner: dict[str, Fact] = {}
        self.banner_text = ""
        self.group_names: dict[int, str] = {}
        self.tanks_told = self._tanks_told()
        self.marks_behind = not plan.given and marks_behind(plan, self._rows())
        self.banner_unsure = ""  # one whose volts may not be those of the heaters below it
        # words above the rows that take them out, or put them in doubt
        self.title_fate: tuple[str, str] | None = ("out", plan.title_out) if plan.title_out else None
        self.banner_fate = self.title_fate
        self.by_gap = False  # is it a blank row alone that has come since?
        self.fresh = False  # has a banner or a gap come since the last row?
        self.merged = self._merged()
        self._usual: dict[int, str] = {}
        self.learned = "" if plan.decimal else self._learned()
        self.decimal = plan.decimal or self.learned
        self.legends = legends(grid)
        self.named: dict[str, Line | None] = {}  # rows by what a later one may refer to them by; None = several
        self.by_index: dict[int, list[str]] = {}
        for key, column in plan.columns.items():
            for index in column.indexes():
                self.by_index.setdefault(index, []).append(key)
        self.unheaded = frozenset() if plan.given else frozenset(self._unheaded())
        counted = plan.columns["quantity"].heading if "quantity" in plan.columns else ""
        self.counts_heaters = is_heater(counted) or names_a_heater(counted)
        self.standby = dict(self._standby_columns())
        self.states, self.tags = self._states(), self._tags()
        self.usual_state, self.common_state = self._usual_state(), self._common_state()
        self.mixed = frozenset(self._mixed_units())
        self._name_tanks()

    def _mixed_units(self) -> Iterator[str]:
        """Columns of a power without a unit of its own, whose cells bring units of two kinds: beside "9 kW" and "4500 W" a bare 9 is
        nobody's guess."""
        for key in ("power_kw", "total_kw"):
            column = self.plan.columns.get(key)
            if column is None or column.unit or column.unit_at >= 0:
                continue
            rows = [self.grid.rows[line] for line in self.grid.lines_from(self.plan.first_row - 1) if line < self.plan.last_row]
            cells = [worded(row[column.index]) for row in rows if column.index < len(row)]
            said = {match[1].casefold() for text in cells if (match := IN_UNITS.search(text))}
            if {"kw", "w"} <= said:
                yield key

    def _standby_columns(self) -> Iterator[tuple[int, str]]:
        """Columns headed by a word for units on standby, and their headings."""
        taken = self.by_index.keys()
        for number in self.plan.heading_rows:
            row = self.grid.rows[number - 1] if 0 < number <= len(self.grid.rows) else []
            headed = [(at, flat(text)) for at, text in enumerate(row) if at not in taken and isinstance(text, str)]
            yield from ((at, text) for at, text in headed if STANDBY.search(text))

    def _states(self) -> Counter[str]:
        """How many rows are in each state, of a list with a column of states."""
        column = self.plan.columns.get("status")
        rows = self._rows() if column is not None else []
        texts = [worded(row[column.index]).strip().casefold() for row in rows if column is not None and column.index < len(row)]
        states = Counter(FIRST_CLAUSE.split(text)[0].strip() for text in texts)  # "replace, plate unreadable" is "replace"
        del states[""]
        return states

    def _tanks_told(self) -> bool:
        """Have nearly all rows a tank of their own, so that one without is no further heater of the tank above?"""
        column = self.plan.columns.get("tank")
        rows = [row for row in self._rows() if len([cell for cell in row if cell not in ("", None)]) > 1] if column is not None else []
        filled = sum(column.index < len(row) and row[column.index] not in ("", None) for row in rows) if column is not None else 0
        return filled >= NEARLY_ALL * len(rows) > 0

    def _name_tanks(self) -> None:
        """What of the tanks' cells is the tag, where they hold tag and name together: "WA1-B1 Waschtank"."""
        column = self.plan.columns.get("tank")
        if column is None or column.parts or self.plan.given:
            return
        texts = [text for row in self._rows() if column.index < len(row) and (text := flat(row[column.index]))]
        self.plan.names = tags_before_names(texts, column.heading)
        self.plan.tags = {text.casefold(): (tag,) for text, (tag, _) in self.plan.names.items()} | dict(self.plan.tags)

    def _tags(self) -> frozenset[str]:
        """The tags of the tanks' column that stand by themselves, B12, folded."""
        column = self.plan.columns.get("tank")
        texts = {worded(row[column.index]).strip() for row in self._rows() if column.index < len(row)} if column is not None else set()
        return frozenset(text.casefold() for text in texts if " " not in text and any(sign.isdigit() for sign in text))

    def _rows(self) -> list[Sequence[object]]:
        return [self.grid.rows[line] for line in self.grid.lines_from(self.plan.first_row - 1) if line < self.plan.last_row]

    def _usual_state(self) -> str:
        """The state of orders in which most rows are, "open": it puts none of them in doubt; "" where there is none."""
        state = self._common_state()
        if not any(out_code(other) for other in self.states) and not self._in_pieces(self._rows()):
            return ""  # no states of orders, for all that is known: an open question
        return state if open_state(state) else ""

    def _common_state(self) -> str:
        """The state of most rows, "operating": one in another state is asked about, unless the words are known and harmless."""
        (state, count), *_ = self.states.most_common(1) or [("", 0)]
        changes = "status" in self.plan.columns and CHANGE.search(self.plan.columns["status"].heading) is not None  # "was 2 off"
        return state if count >= LEAST_USUAL and 2 * count > self.states.total() and not changes else ""

    @staticmethod
    def _in_pieces(rows: Sequence[Sequence[object]]) -> bool:
        """Has a list a column of a unit in which things are ordered: EA, ST, pcs?"""
        width = max(map(len, rows), default=0)
        cells = [[text for row in rows if at < len(row) and (text := worded(row[at]).strip(" ."))] for at in range(width)]
        return any(len(some) >= LEAST_USUAL and all(of_pieces(text) for text in some) for some in cells)

    def _unheaded(self) -> Iterator[int]:
        """Columns without a heading that stand right beside a number or a power: what they hold may be of the same."""
        taken = {index for also in self.plan.also for column in also.columns.values() for index in column.indexes()} | self.by_index.keys()
        heads = [self.grid.rows[row - 1] for row in self.plan.heading_rows if 0 < row <= len(self.grid.rows)]
        for key in ("quantity", "power_kw", "total_kw"):
            if (column := self.plan.columns.get(key)) is None or column.index + 1 in taken or not heads:
                continue
            beside = column.index + 1
            if not any(beside < len(head) and head[beside] not in (None, "") for head in heads):
                yield beside

    def _merged(self) -> dict[tuple[int, int], tuple[int, int]]:
        """Cells that are blank only because the cell above is merged over them -> that cell."""
        found = {}
        for top, left, bottom, _ in self.grid.merged:
            if bottom > top and top + 1 >= self.plan.first_row:
                for row in range(top + 1, min(bottom, len(self.grid.rows) - 1) + 1):
                    found[row, left] = (top, left)
        return found

    def _learned(self) -> str:
        """The mark before decimals that the numbers typed as text give away; "" where they tell nothing, or contradict each other."""
        indexes = {column.index for key, column in self.plan.columns.items() if LIST[key].kind in ("number", "integer", "volts")}
        marks: Counter[str] = Counter()
        for line in self.grid.lines_from(self.plan.first_row - 1):
            if line >= self.plan.last_row:
                break
            row = self.grid.rows[line]
            marks.update(decimal_mark(text) for at in indexes if at < len(row) and isinstance(text := row[at], str) and type(text) is str)
        del marks[""]
        if not marks:
            return ""
        (mark, count), *others = marks.most_common()
        return mark if count >= MOST_OFTEN * sum(number for _, number in others) else ""

    def _power(self, key: str, cell: object, index: int, unit: str) -> Fact | None:
        """A power with two meanings of which only one is a heater's: "1.250 W" is none of 1.25 W, "1,250 kW" none of 1250 kW."""
        found = one_likely(key, cell, index, unit)
        return found[1] if found is not None and self._usual_mark(key, index, unit) in ("", found[0]) else None

    def _usual_mark(self, key: str, index: int, unit: str) -> str:
        """The mark before decimals by which most such cells of a column are read: beside "6.000 W" and "9.000 W", "750.000 W" is 750 kW and
        a slip; "" = as many by either."""
        if index not in self._usual:
            rows = [self.grid.rows[line] for line in self.grid.lines_from(self.plan.first_row - 1) if line < self.plan.last_row]
            cells = [row[index] for row in rows if index < len(row)]
            marks = Counter(found[0] for cell in cells if (found := one_likely(key, cell, index, unit)) is not None)
            self._usual[index] = max(marks, key=lambda mark: marks[mark]) if len(set(marks.values())) == len(marks) and marks else ""
        return self._usual[index]

    def _cell(self, key: str, cell: object, index: int, unit: str) -> Fact | None:
        """One cell. A mark that was learned is trusted only as far as what it reads is likely: "1,250 W" is no heater of 1.25 W."""
        fact = read_cell(key, cell, index, unit, self.decimal)
        if self.learned and key in MARKED and type(cell) is str and decimal_mark(cell) not in ("", self.learned):
            other = {".": "point", ",": "comma"}[decimal_mark(cell)]  # which cannot be grouping: a slip, or another hand
            doubt = f'"{cell.strip()}" has a {other} before decimals, and the others have none'
            return Fact(None, index, cell.strip(), "mark-odd", doubt=doubt)
        if fact is not None and fact.value is None and fact.fault == "cell-ambiguous" and key in ("power_kw", "total_kw"):
            return self._power(key, cell, index, unit) or fact
        small = fact is not None and key in ("power_kw", "total_kw") and isinstance(fact.value, float) and fact.value < LEAST_POWER_KW
        return (self._power(key, cell, index, unit) or read_cell(key, cell, index, unit)) if small and self.learned else fact

    def _readable(self, key: str, line: Line) -> bool:
        column = self.plan.columns.get(key)
        value = next((value for at, value in line.cells if column and at == column.index), None)
        fact = self._cell(key, value, column.index, column.unit) if value is not None and column else None
        return fact is not None and fact.value is not None

    @staticmethod
    def _heated(line: Line) -> bool:
        return any(is_heater(flat(value)) for _, value in line.cells if isinstance(value, str))

    def _read_facts(self, line: Line, row: Sequence[object]) -> None:
        plan = self.plan
        of_power = plan.columns.get("power_unit")
        for key, column in plan.columns.items():
            if column.index >= len(row):
                continue
            cell, unit, index = made_cell(column, row, plan)
            source = ""
            if told := meant(key, cell, index, plan.means):
                line.facts[key] = told
                continue
            if (
                (cell in ("", None))
                and not column.parts
                and (line.index, column.index) in self.merged
                and key not in ("quantity", "power_kw", "total_kw", "amps_a")
            ):
                top, left = self.merged[line.index, column.index]
                cell, source = self.grid.rows[top][left], "merged"
            if isinstance(cell, str) and key in self.before and (ditto(cell) or flat(cell).casefold() in plan.repeat_words):
                line.facts[key] = self._from(self.before[key], "above")
                continue
            unit_at = column.unit_at if column.unit_at >= 0 else of_power.index if key == "power_kw" and of_power is not None else index
            if unit_at != index and unit_at < len(row) and cell not in ("", None):
                beside = worded(row[unit_at]).strip()
                if not beside and not unit and not re.search(r"[a-zA-Z]", worded(cell)):
                    line.facts[key] = Fact(None, index, worded(cell), "unit-blank", doubt="")
                    continue
                unit = beside or unit
            if not unit and key in self.mixed and BARE.fullmatch(worded(cell)):
                line.facts[key] = Fact(None, index, worded(cell), "unit-blank", doubt="")
                continue
            if key in BY_NOTE and isinstance(cell, str) and STARS.fullmatch(cell):
                continue  # what the note with that mark says, in the same row
            if key == "tank" and self.marks_behind and type(cell) is str:
                cell = unmarked(cell)
            fact = self._cell(key, cell, index, unit)
            if fact is not None and fact.fault == "cell-not-number" and key == "power_kw" and type(cell) is str:
                fact = _rated(cell, fact)
            if fact is not None:
                line.facts[key] = self._from(fact, source) if source else fact
        for key, value in self.plan.given_values.get(line.index + 1, {}).items():
            line.facts.setdefault(
                key, Fact(value, plan.columns[key].index if key in plan.columns else plan.first, worded(value), source="merged")
            )
        self._described(line)
        for key, value in plan.row_values.get(line.index + 1, {}).items():
            line.facts[key] = Fact(value, plan.columns[key].index if key in plan.columns else plan.first, worded(value), source="map")
        for key, fact in list(line.facts.items()):
            for other, value in fact.also.items():
                if other == "_neutral":
                    self._of_pair(line, key, fact, value)
                    continue
                given = line.facts.get(other)
                if given is None or given.value is None:
                    line.facts.setdefault(other, Fact(value, fact.index, fact.seen, source=f"in {key}"))
                elif given.value != value:
                    line.facts[other] = Fact(None, given.index, given.seen, "cell-contradicts", doubt=f"{given.value} and {value}")

    def _described(self, line: Line) -> None:
        """What the description holds, where no column of its own has it; where one has, both must agree."""
        fact = line.facts.get("description")
        if fact is None or not isinstance(fact.value, str):
            return
        count = line.facts.get("quantity")
        in_sets = any(isinstance(value, str) and SETS.fullmatch(value) for _, value in line.cells)
        one_set = count is not None and count.value == 1 and (in_sets or SET_OF.search(fact.value) is not None)
        counted = count is not None and count.value is not None
        text = in_place_of(by_sign(fact.value) if self.plan.dashes_count else fact.value)
        said = described(SET_OF.sub(_of_a_set, text, count=1) if one_set else text, counted)
        if said.doubt and (heater_word(fact.value) or "power_kw" not in self.plan.columns):
            line.doubt = f'"{fact.seen}" ({said.doubt})'
        bare = read_count(fact.value) if "quantity" not in line.facts and not said.facts else None
        if bare is not None and bare.value and not bare.rest and not bare.doubt and not bare.spare:  # "four", "2 ea."
            line.facts["quantity"] = Fact(bare.value, fact.index, fact.seen, source="description")
        if in_sets and count is not None:
            self._unsaid_of_a_set(line, said)
        for key, value in said.facts.items():
            given = line.facts.get(key)
            if key == "power_kw" and given is not None and isinstance(given.value, float) and isinstance(value, float):
                self._power_described(line, given, value, said)
                continue
            if key == "quantity" and given is not None and self._of_sets(line, given, value, said, in_sets=in_sets):
                continue
            if given is None:
                basis = {"quantity": said.quantity_of, "power_kw": said.power_of, "total_kw": said.total_of}.get(key, "")
                foreign = said.foreign if key.endswith("_kw") else ""
                line.facts[key] = Fact(value, fact.index, fact.seen, source="description", basis=basis, foreign=foreign)
            elif given.value is not None and given.value != value and key in ("volts_v", "phases", "quantity"):
                line.facts[key] = Fact(
                    None, given.index, given.seen, "cell-contradicts", doubt=f'{worded(given.value)} and {worded(value)} in "{fact.seen}"'
                )

    @staticmethod
    def _power_described(line: Line, given: Fact, power_kw: float, said: Described) -> None:
        """A power in the column and one in the words: the same, or that of all whose number the words give; else they contradict."""
        count = said.facts.get("quantity")
        if abs(given.value - power_kw) <= CLOSE * power_kw or said.doubt:  # type: ignore[operator]
            return
        described = line.facts["description"]
        if isinstance(count, int) and count > 1 and abs(given.value - count * power_kw) <= CLOSE * count * power_kw:  # type: ignore[operator]
            line.facts["power_kw"] = Fact(power_kw, described.index, described.seen, source="description", basis=EACH)
        elif isinstance(count, int) or said.power_of == EACH:
            doubt = f'{worded(given.value)} and {worded(power_kw)} in "{described.seen}"'
            line.facts["power_kw"] = Fact(None, given.index, given.seen, "cell-contradicts", doubt=doubt)

    @staticmethod
    def _of_sets(line: Line, given: Fact, count: object, said: Described, *, in_sets: bool) -> bool:
        """One set of four heaters is four; two in each of two tanks are four."""
        described = line.facts["description"]
        if not isinstance(given.value, int) or not isinstance(count, int) or given.value == count:
            return False
        text = str(described.value)
        if given.value == 1 and (in_sets or SET_OF.search(text)):  # of what is one set
            line.facts["quantity"] = Fact(count, described.index, described.seen, source="description")
            return True
        tags = tank_named(text).tags or (tank_named(f"tank {line.facts['tank'].seen}").tags if "tank" in line.facts else ())
        if in_sets and len(tags) == given.value:  # a set for each of the tanks
            line.facts["quantity"] = Fact(count, described.index, described.seen, source="description", basis=TANK)
            return True
        if said.quantity_of == TANK and len(tags) > 1 and given.value == count * len(tags):
            line.facts["quantity"] = Fact(count, described.index, described.seen, source="description", basis=TANK)
            return True
        return False

    @staticmethod
    def _unsaid_of_a_set(line: Line, said: Described) -> None:
        """A set of heaters, or of a heating, of which the words do not say how many there are."""
        fact = line.facts["description"]
        if "quantity" not in said.facts and heater_word(str(fact.value)):
            line.doubt = line.doubt or f'"{fact.seen[:60]}" (a set of how many heaters)'

    @staticmethod
    def _of_pair(line: Line, key: str, fact: Fact, neutral: object) -> None:
        """480Y/277 on three phases is 480 V; on one phase it could be either."""
        phases = line.facts.get("phases")
        to_neutral = any(isinstance(value, str) and TO_NEUTRAL.search(value) for _, value in line.cells)
        if phases is not None and phases.value == 1 and to_neutral:
            line.facts[key] = Fact(neutral, fact.index, fact.seen)
        elif phases is not None and phases.value == 1:
            line.facts[key] = Fact(
                None, fact.index, fact.seen, "supply-unsure", doubt=f'"{fact.seen}" is {fact.value:g} or {neutral:g} V on one phase'
            )

    @staticmethod
    def _from(fact: Fact, source: str) -> Fact:
        return Fact(fact.value, fact.index, fact.seen, fact.fault, fact.also, source, fact.foreign, fact.outcome, fact.basis, fact.doubt)
