"""Reads the rows of a customer's list by its plan: every row is a heater row, or is something else and says what."""

from __future__ import annotations

import re
from collections.abc import Sequence

from batch.intake.cell_comments import asked_by_comment
from batch.intake.described import described as described_facts
from batch.intake.facts import Fact, with_numbers
from batch.intake.grid import Broken, worded
from batch.intake.headings_between import SURE, of_another_table
from batch.intake.line_kinds import AGAIN, BANNER, DATA, DOUBT, HIDDEN, NOTE, OTHER, OUT, SPARE, TOTAL, UNHEATED, Line, supply_in
from batch.intake.list_columns import NEEDED
from batch.intake.list_words import ditto, hits, is_heater, meanings, nothing_word, says_none, takes_out, total_word
from batch.intake.panel_poles import one_on_a_circuit, pole_of_another
from batch.intake.remark_words import read_row_words
from batch.intake.row_references import OF_MACHINES
from batch.intake.rows_compared import ask_below, compare_rows
from batch.intake.said_in_rows import STORES, SaidOfRow
from batch.intake.survey import cells_of, flat
from batch.intake.tank_words import sentence_of_a_tank, tank_named
from batch.intake.tanks_in_doubt import ask_of_tanks

LONGEST_POWER = 24  # letters of a number and a power: judgement, no source
QUOTED = re.compile(r"\s*>+\s[^<]*\Z")  # "> Tank 1": of an older message, below an answer
MARK_ALONE = re.compile(r"(?=.*\d)[\w./#-]{1,12}")  # of heaters, or of a position
ITEM = re.compile(r"\d{1,4}(?:\.\d{1,3})*\.?")
RULE = re.compile(r"\s*[-=_*–—.·]{2,}\s*\Z")
LEAST_DASHES = 2  # cells of a drawn line
MOSTLY_SAME = 0.6  # of the cells of a row, for it to be a page's head again: judgement, no source
TOKEN = re.compile(r"[\w./-]*\w")
POWERED = re.compile(r"\d\s*k\s?w\b", re.IGNORECASE)
_SIDE = r"\d[\d.,]*\s*(?:['\"]|mm|cm|m|in|ft)?"
SIZES = re.compile(rf"{_SIDE}(?:\s*[x×*]\s*{_SIDE}){{2}}", re.IGNORECASE)  # length, width and depth: 96x36x48
COUNTED = re.compile(r"\w\s*[x×]\s*\d{1,2}\b|\b\d{1,2}\s*[x×]\s*\w", re.IGNORECASE)


class LineReader(SaidOfRow):
    """Reads the rows of one table, in order, with what goes down from banners, groups and repetition marks."""

    def read(self) -> list[Line]:
        lines: list[Line] = []
        previous, below = None, 0
        for index in self.grid.lines_from(self.plan.first_row - 1):
            if index + 1 > self.plan.last_row:
                break
            if previous is not None and index > previous + 1:
                self.by_gap = not self.fresh
                self.fresh = True
            previous = index
            lines.append(self._line(index))
            lines[-1].banner = self.banner_text
            if lines[-1].kind == AGAIN:
                begun = any(line.kind == DATA for line in lines)
                below = index + 1 if begun and of_another_table(lines[-1], self.grid, self.plan) else 0
            elif below and lines[-1].kind == DATA and index + 1 not in self.plan.keep_rows:
                lines[-1].kind, lines[-1].why = DOUBT, f"it stands below row {below}, which has headings of other columns,"
            lines += self._further_in_words(lines[-1])
            if lines[-1].kind == AGAIN and self.by_gap:  # a new page of the same group
                self.fresh = False
            elif lines[-1].kind != NOTE:
                self.by_gap = False
        ask_below(lines, self.plan.leave_rows)
        unanswered = [line for line in lines if line.index + 1 not in self.plan.left_open]
        compare_rows(unanswered, self.plan, self.legends)
        ask_of_tanks(unanswered, self.plan, self._headings())
        return lines

    def _line(self, index: int) -> Line:
        """One row; one that holds no heaters as it is read, but speaks of power, of a supply or of a count, is in doubt."""
        line = self._line_as_read(index)
        if line.kind in (UNHEATED, SPARE) and index + 1 not in self.plan.keep_rows and (said := self._speaks(line)):
            line.kind, line.why = DOUBT, f'"{said[:60]}", though no heaters could be read from it,'
        if line.kind in (UNHEATED, SPARE) and index + 1 in self.plan.keep_rows:  # then it has to say what it lacks
            line.kind = DATA
            self._down(line)
        if index + 1 in self.plan.leave_rows and line.kind in (UNHEATED, SPARE, DOUBT):
            line.kind, line.why = OUT, "left out by the column map"
        if index + 1 in self.plan.asked_rows and line.kind == DATA:  # else it says itself what is open
            line.kind, line.why = DOUBT, 'a "?" in the column map'
        if (left := self.plan.left_open.get(index + 1)) is not None:
            line.kind, line.why, line.at = DOUBT, left.why, left.at if left.at >= 0 else line.cells[0][0] if line.cells else 0
        return line

    def _speaks(self, line: Line) -> str:
        """What in a row without heaters sounds like heaters; "" where nothing does."""
        for at, value in line.cells:
            text = flat(value)
            if not isinstance(value, str) or nothing_word(text) or at in self._tank_column() or at in self.of_machines:
                continue
            if POWERED.search(text) or COUNTED.search(SIZES.sub(" ", text)) or supply_in(text) is not None:
                return text
            if not line.referred and ditto(text.split()[0].rstrip(".,:")) and len(text.split()) > 1:  # "as item 3, in tank 6"
                return text
        return self._told_under_heaters(line) or self._left_open_in_words(line)

    def _line_as_read(self, index: int) -> Line:
        row = self.grid.rows[index]
        if self.grid.left_unstruck:  # words that are struck out of a cell are not read
            row = [self.grid.left_unstruck.get((index, at), value) for at, value in enumerate(row)]
        cells = cells_of(row, self.plan.first, self.plan.last)
        line = Line(index, cells=with_numbers(cells) if self.grid.named_by_file else cells)
        if not cells:
            line.kind, line.why = NOTE, "blank in the columns of this table"
            return line
        if index + 1 in self.plan.again:
            line.kind = AGAIN
            return line
        if self._rule(line) or self._page_head(line, row):
            return line
        if all(isinstance(value, str) and QUOTED.match(value) for _, value in cells):
            line.kind, line.why, line.at = DOUBT, f'"{flat(cells[0][1])[:40]}", quoted from another message,', cells[0][0]
            return line
        if index + 1 not in self.plan.keep_rows and (self._strangers(line) or self._total(line) or self._lone(line)):
            return line
        self._read_facts(line, row)
        if pole_of_another(line, self.plan):
            return line
        one_on_a_circuit(line, self.plan)
        self._same_as(line)
        self._classify(line)
        if line.kind in (DATA, DOUBT):
            self._remember(line)
        if line.kind in (DATA, DOUBT, HIDDEN, OUT, OTHER):
            for key, fact in line.facts.items():
                self.before[key] = fact
            if "tank" in line.facts and not line.facts["tank"].source:
                self.group, self.group_names = {"tank": line.facts["tank"]}, self._names(line)
            self.fresh = False
        return line

    def _rule(self, line: Line) -> bool:
        """A line drawn with dashes."""
        if len(line.cells) >= LEAST_DASHES and all(isinstance(value, str) and RULE.match(value) for _, value in line.cells):
            line.kind, line.why = NOTE, "a line of dashes"
            return True
        return False

    def _page_head(self, line: Line, row: Sequence[object]) -> bool:
        """What stands above the headings again, at the top of a later page."""
        texts = [(at, flat(value)) for at, value in line.cells]
        top = self.plan.heading_rows[0] - 1 if self.plan.heading_rows else 0
        for other in self.grid.lines:
            if other >= min(top, line.index):
                break
            above = [(at, flat(value)) for at, value in cells_of(self.grid.rows[other], self.plan.first, self.plan.last)]
            same = sum(one in above for one in texts)
            if same >= max(2, MOSTLY_SAME * len(texts)) and len(above) <= len(texts) + 1:
                line.kind = AGAIN
                return True
        return False

    def _strangers(self, line: Line) -> bool:
        """Headings or units again, or those of another table."""
        texts = [(at, flat(value)) for at, value in line.cells if isinstance(value, str)]
        if len(texts) < 2 or len(texts) < len(line.cells):
            return False
        wordy = [text for _, text in texts if not (re.search(r"\d", text) or nothing_word(text))]  # first: meanings are dear
        if len(wordy) < max(2, 0.6 * len(texts)):
            return False
        known = [text for text in wordy if not ditto(text) and (found := meanings(text)) and found[0].score >= SURE]
        if len(known) >= max(2, 0.6 * len(texts)) and not any(
            key in NEEDED and self._readable(key, line) for key in ("power_kw", "volts_v", "quantity")
        ):
            line.kind = AGAIN
            return True
        return False

    def _total(self, line: Line) -> bool:
        if self.plan.free and sentence_of_a_tank(flat(line.cells[0][1])):
            return False
        words = next(((at, value) for at, value in line.cells if isinstance(value, str) and self._is_total(value)), None)
        if words is None:
            return False
        at, text = words
        tank = self.plan.columns.get("tank")
        tagged = tank is not None and at != tank.index and any(i == tank.index for i, _ in line.cells)
        described = {column.index for key, column in self.plan.columns.items() if key in ("notes", "status", "description")}
        told = self.plan.columns.get("description")
        of_heater = told is not None and at != told.index and any(i == told.index and is_heater(flat(value)) for i, value in line.cells)
        if (tagged or of_heater) and at in described:
            return False
        if tagged and all(self._readable(key, line) for key in ("quantity", "volts_v") if key in self.plan.columns):
            return False
        line.kind, line.text, line.at = TOTAL, flat(text), at
        self._read_facts(line, self.grid.rows[line.index])
        return True

    def _is_total(self, text: str) -> bool:
        return total_word(text) or text.strip().casefold().startswith(self.plan.total_words or ("\0",))

    def _lone(self, line: Line) -> bool:
        """A row of words alone: a banner over the rows below it, or a note."""
        if self.plan.free and sentence_of_a_tank(flat(line.cells[0][1])):
            return False
        if self._tank_announced(line):
            return True
        if len(line.cells) > 2 or any(not isinstance(value, str) or type(value) is Broken for _, value in line.cells):
            return False
        at, text = line.cells[0][0], " ".join(flat(value) for _, value in line.cells)
        if not re.search(r"[^\W\d_]", text):  # figures typed as text
            return False
        if len(line.cells) > 1 and MARK_ALONE.fullmatch(flat(line.cells[0][1])) and read_row_words(flat(line.cells[1][1])).fate:
            return False  # "EIH/03 | NOT USED" is about itself
        power = self.plan.columns.get("power_kw") or self.plan.columns.get("total_kw")
        own = [flat(value) for i, value in line.cells if power is not None and i == power.index]
        if own and (self._readable("power_kw", line) or (power is not None and power.index > self.plan.first and POWERED.search(own[0]))):
            return False  # "4 à 12 kW" under "kW", and nothing else, is asked about
        tank = self.plan.columns.get("tank")
        told = self.plan.columns.get("description")
        described = told is not None and any(i == told.index for i, _ in line.cells)
        if len(line.cells) == 2 and tank is not None and line.cells[0][0] == tank.index and (described or not supply_in(text)):
            return False
        facts = described_facts(text).facts.keys() if described else set()
        alone = len(line.cells) == 1 and at > self.plan.first and len(text) <= LONGEST_POWER
        if (alone and "power_kw" in facts) or (self.plan.given and {"power_kw", "quantity"} & facts):
            return False  # "9 kW" below "15 kW": a further heater of the tank above
        line.text, line.at = text, at
        noted = at not in self._tanks_above and text.lstrip().startswith(("*", "NOTE", "Note", "1)", "1."))
        line.kind = NOTE if noted or len(text) > 90 else BANNER
        if line.kind == BANNER:
            self._banner(line, text, at)
        return True

    def _tank_announced(self, line: Line) -> bool:
        """ "20 | TANK B20 - RINSE, 10 m3": an item number and a tank, and neither a number of heaters nor a power: a banner."""
        if len(line.cells) != 2 or not isinstance(line.cells[1][1], str):
            return False
        number, text = worded(line.cells[0][1]).strip(), flat(line.cells[1][1])
        named = tank_named(text)
        tank = self.plan.columns.get("tank")
        if not ITEM.fullmatch(number) or not named.by_word or named.start > 0 or (tank is not None and tank.index == line.cells[1][0]):
            return False
        if described_facts(text).facts.keys() & {"quantity", "power_kw", "total_kw"} or is_heater(text):
            return False
        line.text, line.at, line.kind = text, line.cells[1][0], BANNER
        self._banner(line, text, line.at)
        return True

    def _left_out(self, line: Line, texts: list[tuple[int, str]]) -> None:
        """A row that a map leaves out; it may say itself why, as it did when the results read here were sized."""
        self._words(line, self._spares_told(line, texts))
        line.kind, line.why = OUT, line.why if line.kind == OUT else "left out by the column map"

    def _classify(self, line: Line) -> None:
        """What a row with figures is, and what goes down to it from above."""
        if self._without_heaters(line):
            return
        number = line.index + 1
        facts = line.facts
        texts = self._texts(line)
        fed = any(supply_in(text) for at, text in texts if at not in self.of_machines)
        if not fed and not facts.keys() & {"power_kw", "total_kw", "quantity", "volts_v"}:
            self._unpowered(line, texts)
            return
        if number in self.plan.leave_rows:
            self._left_out(line, texts)
            return
        keep = number in self.plan.keep_rows
        only = [word.casefold() for word in self.plan.only_words]
        if only and not keep and not any(word in text.casefold() for _, text in texts for word in only):
            line.kind, line.why = OUT, f'without "{only[0]}" (left out by the column map)'
            return
        if not keep and self.plan.struck_out:
            self._struck(line)
        if not keep and line.kind == DATA:
            self._words(line, self._spares_told(line, texts))
            self._beside(line)
            self._standby(line)
            self._other_power(line, texts)
            self._other_count(line, texts)
        tank = line.facts.get("tank")
        if not keep and line.kind == DATA and tank is not None and STORES.search(tank.seen):
            line.kind, line.why = DOUBT, f'"{tank.seen}" in place of a tank'
        if not keep and line.kind == DATA:
            self._coded(line)
        if not keep and line.kind == DATA:
            asked_by_comment(line, self.plan, self.grid)
        fate = self.banner_fate
        others = fate is not None and (
            (fate[0] == OF_MACHINES and self._heated(line)) or self._of_another(fate[1], line) or self._new_below(fate[1], line)
        )
        if not keep and line.kind == DATA and fate is not None and not others:
            line.kind, line.why = DOUBT, f'"{fate[1][:60]}" above it'
        if not keep and line.kind == DATA and self.banner_unsure and not {"volts_v", "phases"} <= facts.keys():
            line.kind, line.why = DOUBT, f'"{self.banner_unsure[:60]}" above it, whose volts may be another thing\'s,'
        if not keep and line.kind == DATA and line.doubt:
            line.kind, line.why = DOUBT, line.doubt
        if not keep and line.kind == DATA and number in self.hidden and self.plan.hidden_rows != "kept":
            line.kind, line.why = HIDDEN, "the row is hidden"
            if self.plan.hidden_rows == "left out":
                line.kind, line.why = OUT, "hidden (left out by the column map)"
        self._down(line)
        tank = facts.get("tank")
        if not keep and line.kind == DATA and tank is not None and tank.seen and not any(char.isalnum() for char in tank.seen):
            line.kind, line.why, line.at = DOUBT, f'"{tank.seen[:20]}" in place of a tank', tank.index
        if not any(facts.get(key) is not None and facts[key].value is not None for key in ("power_kw", "total_kw", "quantity")) and not any(
            key in facts and not facts[key].source for key in ("power_kw", "total_kw", "quantity")
        ):
            spare = line.kind == DATA and not self._heated(line)
            line.kind, line.why = (SPARE, "no number and no power") if spare else (line.kind, line.why)

    def _of_another(self, text: str, line: Line) -> bool:
        """Does a sentence above a row name another tank of the list, and not the row's own: "B12 was taken out", above W1?"""
        named = {match[0].casefold() for match in TOKEN.finditer(text)} & self.tags
        own = {match[0].casefold() for match in TOKEN.finditer(worded(line.value("tank")))}
        return bool(named) and bool(own) and not named & own

    def _without_heaters(self, line: Line) -> bool:
        """A row that says of its heaters that there are none, in words or as nought."""
        facts = line.facts
        nothing = [key for key in ("quantity", "power_kw", "total_kw") if key in facts and says_none(facts[key])]
        if not nothing or any(key in facts and key not in nothing for key in ("quantity", "power_kw", "total_kw")):
            return False
        for key in (*NEEDED[1:], "total_kw", "amps_a"):
            facts.pop(key, None)
        self.before = {key: fact for key, fact in self.before.items() if key not in nothing}  # no mark repeats it over a dash
        line.kind, line.why = UNHEATED, f'"{facts[nothing[0]].seen if nothing[0] in facts else "0"}" heaters'
        out = next((word for _, value in line.cells if isinstance(value, str) and (word := takes_out(value))), "")
        if out:
            line.kind, line.why = OUT, out
        return True

    def _unpowered(self, line: Line, texts: list[tuple[int, str]]) -> None:
        """A row with neither power nor number: a tank that is not heated, a spare row of a form, a note."""
        tagged = "tank" in line.facts
        out = next((word for _, text in texts if (word := takes_out(text)) and read_row_words(text).fate != "doubt"), "")
        if out:
            line.kind, line.why = OUT, out
        elif (self._heated(line) or self._marked(line)) and not any(hits("not_heated", text) for _, text in texts):
            line.kind = DATA  # a heater of which nothing is said
            self._words(line, texts)
            self._down(line)
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

    def _down(self, line: Line) -> None:
        """What stands above and holds here too: a group's tag, a banner's supply, what the plan fixes."""
        facts = line.facts
        for key in self.plan.repeats if self.plan.given else ():
            if key not in facts and key in self.carried:
                facts[key] = self._from(self.carried[key], "above")
            if key in facts:
                self.carried[key] = facts[key]
        if "tank" not in facts:
            self._tank_in_words(line)
        if "tank" not in facts:
            if "tank" in self.group and not self.fresh:
                facts["tank"] = self._from(self.group["tank"], "above")
                renamed = next((text for at, text in self._names(line).items() if not text.startswith(self.group_names.get(at, text))), "")
                if renamed and line.kind == DATA and not self.plan.given and self.tanks_told:
                    line.kind, line.why = DOUBT, f'"{renamed[:60]}", without a tank of its own,'
            elif "tank" in self.banner and not self._tagged_otherwise(line):
                facts["tank"] = self.banner["tank"]
                self.group = {}
        self._said_in_remarks(line)
        other = facts.get("phases") is not None and "phases" in self.banner and facts["phases"].value != self.banner["phases"].value
        other = other or (
            facts.get("volts_v") is not None and "volts_v" in self.banner and facts["volts_v"].value != self.banner["volts_v"].value
        )
        for key in ("volts_v", "phases"):
            if key not in facts and key in self.banner and not other:
                facts[key] = self.banner[key]
        self._when(line)
        told = self.plan.row_supply.get(line.index + 1, {})
        if not other and all(facts[key].value == told.get(key) for key in ("volts_v", "phases") if key in facts):  # else it has its own
            facts |= {key: Fact(value, -1, worded(value), source="fixed") for key, value in told.items() if key not in facts}
        for key, value in self.plan.fixed.items():
            of_others = key == "phases" and self.plan.fixed_volts is not None and line.value("volts_v") not in (None, self.plan.fixed_volts)
            own = line.facts.get("phases")  # a row that says other phases has other volts too
            theirs = self.plan.fixed_phases or self.plan.fixed.get("phases")
            of_others = of_others or (key == "volts_v" and own is not None and theirs is not None and own.value != theirs)
            if key not in facts and not of_others:
                facts[key] = Fact(value, -1, worded(value), source="fixed")
        self._when(line)

    def _names(self, line: Line) -> dict[int, str]:
        """What stands in words in columns that are nothing of ours: the name of a bath, or of other equipment."""
        texts = {at: flat(value) for at, value in line.cells if isinstance(value, str) and at not in self.by_index}
        return {at: text for at, text in texts.items() if not ditto(text) and any(sign.isalpha() for sign in text)}

    def _when(self, line: Line) -> None:
        """Values that hold for rows in which other columns say something: volts by phases."""
        for one in self.plan.when:
            if one.key not in line.facts and all(_same(line.value(key), value) for key, value in one.others):
                line.facts[one.key] = Fact(one.value, -1, worded(one.value), source="fixed")


def _same(value: object, meant: object) -> bool:
    return value == meant or (isinstance(value, str) and isinstance(meant, str) and value.strip().casefold() == meant.strip().casefold())
