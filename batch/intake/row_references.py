"""What a row takes from others: from the banner above it, from a row that it names, from its own words."""

from __future__ import annotations

import re
from abc import abstractmethod
from collections.abc import Iterator
from functools import cached_property

from batch.intake.columns_aside import columns_aside, heading_at, said_of_what_is_beside
from batch.intake.facts import Fact
from batch.intake.fewer_wanted import asks_for_heaters
from batch.intake.grid import Broken, worded
from batch.intake.heading_sense import EACH, machine_in, of_a_machine, subjects_of
from batch.intake.kinds_in_words import kinds_in
from batch.intake.legends import explains
from batch.intake.line_kinds import DATA, DOUBT, OF_A_PANEL, Line, StatedSupply, supply_in
from batch.intake.list_columns import HEATER_MARK, NEEDED
from batch.intake.list_words import ditto, is_heater, names_baths, of_changes, other_equipment, says_who
from batch.intake.remark_words import read_row_words
from batch.intake.row_cells import RowCells
from batch.intake.sentence_words import saying
from batch.intake.stages import MACHINE
from batch.intake.supply_notation import read_supply, supply_in_text
from batch.intake.survey import flat
from batch.intake.tank_words import SAME, SAME_AS, sentence_of_a_tank, tank_named
from batch.intake.volts_settled import settle_volts
from batch.intake.wording import words

OF_MACHINES = "machines"  # fate of the rows below a banner that names pumps: asked about, but for those that say heater themselves
# Words by which the volts of a banner may be another thing's, or no longer right
OF_SOMETHING_ELSE = re.compile(
    r"\b(?:insulat\w*|max(?:imum)?|min(?:imum)?|class|rated|motors?|withstand|was|formerly|above|below|up to)\b", re.IGNORECASE
)
FED_FROM = re.compile(
    r"\b(?:fed|supplied|from|via|through|gespeist|versorgt|[uü]ber|aliment\w*|depuis|desde|da(?:l|lla)?|gevoed|uit|zasilan\w*|forsynet|matad"
    r"|nap[aá]jen\w*)\b",
    re.IGNORECASE,
)
OF_A_LINE = re.compile(r"\b(?:hoist|crane|conveyor|monorail)\s+lines?\b", re.IGNORECASE)  # of tanks, and no machine
LEAST_FIGURES = 2  # cells with numbers, of a row that is heaters
OF_A_BANK = frozenset({"quantity", "power_kw", "total_kw", "volts_v", "phases"})
OPENS_WITH_TAG = re.compile(r"\s*((?=[^\W\d_])[\w./-]*\d[\w./-]*)\s*(?:[,:;]\s|[-–]\s)")
# Words that lead to the tank a row is for: "for tank T-205", "in cuve 4"
FOR_TANK = re.compile(
    r"(?:\A|(?<=\W))(?:for|serves|goes in|f[uü]r|pour|dans|para|en la|en el|per(?: la)?|voor|dla"
    r"|do|til|till|för|pro(?= v[aá]n| l[aá]z| n[aá]dr))\s+(?:the\s+)?(?=\w)",
    re.IGNORECASE,
)
OTHERWISE = re.compile(
    r"\d|\b(?:but|except|only|less|without|not|aber|jedoch|nur|ohne|mais|sauf|seulement|pero|salvo|solo|s[oó]lo|ma|eccetto|maar|behalve"
    r"|alleen|ale|tylko|mas|exceto|s[oó]|men|kun|bara|bare|jen|kromě)\b",
    re.IGNORECASE,
)
BUT = re.compile(  # behind a word that repeats the row above: "dito, jedoch 3,0 kW"
    r"[\s,;:–-]*(?:but|however|only|jedoch|aber|allerdings|nur|mais|toutefois|pero|mas|por[ée]m|ma|per[òo]|maar|echter|ale|jednak|lecz|men|dog"
    r"|imidlertid|dock|av[šs]ak|v[šs]ak|ancak|fakat)\b",
    re.IGNORECASE,
)
LIKE = re.compile(r"(?:as|like|wie|comme|como|come|als|jak|jako|som)\s+(?:(?:in|for|w|we|v|ve|i)\s+)?", re.IGNORECASE)
SAME_HEATERS = re.compile(  # "same heaters as Tank 1"
    rf"(?:the\s+)?{SAME.pattern}(?=.*\b(?:as|to|wie|que|di|de|como|als|jak|jako|som)\b)", re.IGNORECASE
)
OF_A_ROW = re.compile(
    r"\A(?:item|line|row|pos|position|posici[oó]n|posizione|pozycja|poz|pol|zeile|ligne|poste|partida|renglón|riga|voce|regel|post|rad|linje|art|nr|no)"
    r"\b\.?\s*",
    re.IGNORECASE,
)
AS_OF = r"\W*(?:[^\W\d_]+\.?\s){0,3}"  # "same | as item 1"
CLAUSES = re.compile(r"\s[–—-]\s|,\s|\s\|\s|\s{3,}")
MARK = re.compile(r"([A-Za-z]{1,4})[-. ]?\d{1,4}[A-Za-z]?(?!\w)")
TAG = re.compile(r"\b(?:tank|bath|vessel|tk)\s*#?\s*([\w./-]*\d[\w./-]*)|\b([A-Z]{1,4}-?\d{1,4}[A-Z]?)\b", re.IGNORECASE)


class RowReferences(RowCells):
    """The cells of a table's rows with what banners above them and rows that they name say."""

    def _about_column(self, line: Line, at: int, text: str) -> bool:
        """Is a cell no more than by whom something beside the heaters comes, or that it is not settled: "by others" under Controls?"""
        if not said_of_what_is_beside(text, self._aside.get(at, "")):
            return False
        if read_row_words(text).fate:
            line.aside = (at, text, f'it stands under "{heading_at(self.grid, self.plan.heading_rows, at)[:40]}"')
        return True

    @cached_property
    def _aside(self) -> dict[int, str]:
        feeder = self.plan.columns.get("feeder")
        return columns_aside(self.grid, self.plan.heading_rows, feeder.index if feeder is not None else -1)

    def _logged(self, at: int, words: str) -> bool:
        """Does a code under "REV" stand for what that revision did, with the tanks that it did it to: "C: T-202 kW, T-208 deleted"? What it
        says of a row the note says itself (`said_in_notes`), and nothing of the others that bear the code."""
        column = self.plan.columns.get("tank")
        if column is None or not of_changes(heading_at(self.grid, self.plan.heading_rows, at)):
            return False
        rows = (row for row in self._rows() if column.index < len(row))
        tags = {worded(row[column.index]).strip() for row in rows}
        return any(MARK.fullmatch(tag) and re.search(rf"(?<![\w-]){re.escape(tag)}(?![\w-])", words, re.IGNORECASE) for tag in tags)

    latest: Line | None = None  # the last row of heaters that was read

    def _tank_column(self) -> set[int]:
        return {column.index for key, column in self.plan.columns.items() if key in ("tank", "quantity")}

    def _remember(self, line: Line) -> None:
        """What a later row may refer to this one by: its first cell, its tag."""
        self.latest = line
        names = {flat(worded(line.cells[0][1])).casefold(), worded(line.value("tank") or "").casefold()}  # mostly the same
        for name in names:
            if name:
                self.named[name] = line if name not in self.named else None

    def _further_in_words(self, line: Line) -> list[Line]:
        """ "(2) 12.5 kW plus (1) 4.5 kW 240 V 1 ph": two banks in one description, each with its number and its power."""
        fact = line.facts.get("description")
        if line.kind != DOUBT or not line.doubt or line.why != line.doubt or fact is None or not isinstance(fact.value, str):
            return []
        parts = kinds_in(fact.value)
        own = {column.index for key, column in self.plan.columns.items() if key in ("quantity", "power_kw", "total_kw")}
        if not parts or any(at in own for at, _ in line.cells):
            return []
        supplied = {"volts_v", "phases"} if self.plan.columns.keys() & {"volts_v", "phases"} else set()  # in a column, for all of the row
        own_cells = {key for key in supplied if key in line.facts and line.facts[key].index != fact.index}
        shared = {key: one for key, one in line.facts.items() if key not in OF_A_BANK or key in own_cells}
        line.kind, line.why, line.doubt = DATA, "", ""
        lines = [line, *(Line(line.index, cells=line.cells) for _ in parts[1:])]
        for one, part in zip(lines, parts, strict=True):
            one.facts = {key: said for key, said in shared.items() if key != "phases" or "volts_v" not in part.facts}
            for key, value in part.facts.items():
                one.facts[key] = Fact(value, fact.index, fact.seen, source="description", basis=EACH if key == "power_kw" else "")
            self._down(one)
        return lines[1:]

    def _marked(self, line: Line) -> bool:
        """Has a row the mark of a heater of its own, of which it gives no power: "HE-212A", nameplate illegible? Or does a sentence ask for
        some, and not say which?"""
        bank = line.facts.get("bank")
        text = flat(line.cells[0][1])
        asked = self.plan.free and sentence_of_a_tank(text) and asks_for_heaters(text)
        return asked or (bank is not None and not bank.source and HEATER_MARK.fullmatch(bank.seen.strip()) is not None)

    @abstractmethod
    def _down(self, line: Line) -> None:
        """What stands above and holds for a row too; `list_rows` knows it."""

    def _same_as(self, line: Line) -> None:
        """ "Same as 5", "idem 07.01.02": what that row says, where this one does not, and its own tag."""
        for at, value in line.cells:
            text = flat(value) if isinstance(value, str) else ""
            if self.plan.free and (same := SAME_AS.search(text)):
                text = text[same.start() :]
            match = next((one for count in (3, 2, 1) if (one := _opening(text, count)) and ditto(one)), "")
            if not match and (like := LIKE.match(text)) is not None and self._knows(text[like.end() :].casefold()):
                match = like[0]  # "as T-1", "wie Pos. 01.050", and nothing else
            if not match and (same := SAME_HEATERS.match(text)) is not None:
                match = same[0]
            if not match or "tank" in self.by_index.get(at, ()) or (at in self._tank_column() and read_row_words(text).fate):
                continue  # "same as T-1 (spare)" is no number
            rest = text[len(match) :].lstrip(" :.")
            if BUT.match(rest) and self._but(line, at, text):
                return
            named = rf"{AS_OF}%s(?![\w-]|\.\d)"
            names = sorted((name for name in self.named if re.match(named % re.escape(name), rest, re.IGNORECASE)), key=len)
            other = self.named[names[-1]] if names else None
            if other is None or other.kind != DATA or _otherwise(rest, names[-1]):
                continue
            for key in (*NEEDED[1:], "total_kw", "sheath", "bank"):
                fact = other.facts.get(key)
                own = line.facts.get(key)
                unread = own is None or (own.value is None and flat(own.seen) == text)
                if fact is not None and fact.value is not None and unread:
                    line.facts[key] = Fact(fact.value, at, text, source="same as", basis=fact.basis, foreign=fact.foreign)
            line.referred = True
            return

    def _knows(self, name: str) -> bool:
        """Is it what one row is referred to by, with or without a word such as "item" before it?"""
        return any(self.named.get(one) is not None for one in (name, OF_A_ROW.sub("", name)))

    def _but(self, line: Line, at: int, text: str) -> bool:
        """ "dito, jedoch 3,0 kW, für Bad 9": the heater right above, but for what the row says itself."""
        above = self.latest
        if above is None or above.kind != DATA or above.index != line.index - 1 or "power_kw" not in line.facts:
            return False
        for key in ("volts_v", "phases", "sheath"):
            fact = above.facts.get(key)
            if fact is not None and fact.value is not None and (key not in line.facts or line.facts[key].value is None):
                line.facts[key] = Fact(fact.value, at, text, source="same as", basis=fact.basis, foreign=fact.foreign)
        line.referred = True
        return True

    def _banner(self, line: Line, text: str, at: int) -> None:
        self.fresh = True
        self.banner, self.banner_text = {}, text
        self.group = {}
        said = supply_in(text) or next((one for clause in CLAUSES.split(text) if (one := _supply_alone(clause)) is not None), None)
        if said is not None:
            if said.volts:
                self.banner["volts_v"] = Fact(said.volts, at, text, source="banner")
            if said.phases:
                self.banner["phases"] = Fact(said.phases, at, text, source="banner")
        self.banner_unsure = text if said is not None and (_several_volts(text) or OF_SOMETHING_ELSE.search(text)) else ""
        # "EH-4 NOT USED" is about no row below it, and "struck through = deleted" about no other
        said_words = read_row_words("" if HEATER_MARK.match(text) or explains(text) else text)
        own = FED_FROM.split(text)[0] if OF_A_PANEL.match(text) else text  # "PANEL LP-7, 208 V, fed from DP-2 through a transformer"
        own = OF_A_LINE.sub(" ", own)
        machine = (machine_in(own) or other_equipment(own)) and not is_heater(text)
        self.banner_fate = (said_words.fate, text) if said_words.fate else (OF_MACHINES, text) if machine else self.title_fate
        named = tank_named(text)
        of_column = len(named.tags) == 1 and named.start == 0 and "tank" in self.by_index.get(at, ())  # "T1 - rinse", under "Tank"
        if (named.by_word and not named.doubt) or of_column:
            self.banner["tank"] = Fact(named.text, at, text, source="banner")
        elif at in self._tanks_above and said is None and not (machine or said_words.fate or MACHINE.search(text)):
            self.banner["tank"] = Fact(text, at, text, source="banner")
        elif not named.tags and (match := TAG.search(text)):
            self.banner["tank"] = Fact((match[1] or match[2]), at, text, source="banner")

    @cached_property
    def _tanks_above(self) -> frozenset[int]:
        """The column of the tanks, where no row with figures fills it: what stands in it alone names the tank of the rows below."""
        tank = self.plan.columns.get("tank")
        if tank is None or self.plan.given:
            return frozenset()
        rows = [row for row in self._rows() if sum(isinstance(cell, (int, float)) for cell in row) >= LEAST_FIGURES]
        blank = bool(rows) and all(row[tank.index] in ("", None) for row in rows if tank.index < len(row))
        return frozenset({tank.index}) if blank else frozenset()

    def _tagged_otherwise(self, line: Line) -> bool:
        """Does a row have another mark where the banner named its tank: "TK5" below "TK4 | Rinse", which then was a row and no banner?"""
        tank = self.banner["tank"]
        own, named = (MARK.match(text) for text in (next((flat(value) for at, value in line.cells if at == tank.index), ""), tank.seen))
        return own is not None and named is not None and own[1].casefold() == named[1].casefold() and own[0] != named[0]

    @cached_property
    def of_machines(self) -> frozenset[int]:
        """The columns that no column of ours is and whose heading is a machine's, "Rectifier": its volts are none of the heaters'."""
        return frozenset(at for at, text in self._headings() if of_a_machine(text))

    @cached_property
    def of_parts(self) -> frozenset[int]:
        """The columns that ask who does what stands beside the heaters, "Wiring by": "others" there takes no heater out."""
        return frozenset(at for at, text in self._headings() if says_who(text))

    @cached_property
    def of_baths(self) -> frozenset[int]:
        """The columns that no column of ours is and whose heading says that they name baths, "Bath", "Contents"."""
        return frozenset(at for at, text in self._headings() if names_baths(text))

    def _named_so(self, at: int, text: str) -> bool:
        """Is "descale" what a bath is called, and no work on its heaters?"""
        of_bath = at in self.of_baths or "liquid" in self.by_index.get(at, ())
        return of_bath and saying("descales").match(text) is not None

    def _texts(self, line: Line) -> list[tuple[int, str]]:
        """The cells of a row that are words about it, by their columns."""
        words = ((at, value) for at, value in line.cells if isinstance(value, str) and type(value) is not Broken)
        return [(at, flat(value)) for at, value in words if at not in self.of_parts]

    def _headings(self) -> Iterator[tuple[int, str]]:
        """The headings of the columns that no column of ours is."""
        heads = [self.grid.rows[row - 1] for row in self.plan.heading_rows if 0 < row <= len(self.grid.rows)]
        return ((at, flat(text)) for head in heads for at, text in enumerate(head) if isinstance(text, str) and at not in self.by_index)

    @cached_property
    def _made(self) -> set[int]:
        """Of those the columns whose headings say no more than what heaters are made of: "Material"."""
        said = ((at, words(text)) for at, text in self._headings())
        return {at for at, some in said if some and all("make" in subjects_of(word) for word in some)}

    def _said_in_remarks(self, line: Line) -> None:
        """A supply in a row's own words goes before what a title or a banner says of all, and settles a cell of two voltages."""
        remarks = {column.index for key, column in self.plan.columns.items() if key in ("notes", "status")}
        settle_volts(line, [(at, flat(value)) for at, value in line.cells if at in remarks and isinstance(value, str)])
        if "volts_v" in line.facts and "phases" in line.facts:
            return
        used = {column.index for key, column in self.plan.columns.items() if key not in ("notes", "status")} | self.of_machines
        for at, value in line.cells:
            said = supply_in(flat(value)) if isinstance(value, str) and at not in used and type(value) is not Broken else None
            if said is None or other_equipment(flat(value)):
                continue
            for key, one in (("volts_v", said.volts), ("phases", said.phases)):
                if one is not None and key not in line.facts:
                    line.facts[key] = Fact(one, at, flat(value), source="description")

    def _tank_in_words(self, line: Line) -> None:
        """The tank that a row's description names, where no column has it."""
        said = line.facts.get("description")
        if said is not None and not said.source and isinstance(said.value, str):
            named = tank_named(said.value)
            if named.tags and not named.doubt:
                line.facts["tank"] = Fact(named.text, said.index, said.seen, source="description")
                return
            line.doubt = line.doubt or named.doubt
        used = {column.index for key, column in self.plan.columns.items() if key not in ("notes", "status")}
        for at, value in line.cells:
            text = flat(value) if isinstance(value, str) and type(value) is not Broken and at not in used else ""
            opening = OPENS_WITH_TAG.match(text)
            if opening is not None and opening[1].casefold() in self.tags:  # "T5, night heater", below the row of T5
                line.facts["tank"] = Fact(opening[1], at, text, source="description")
                return
            match = FOR_TANK.search(text)
            named = tank_named(text[match.end() :]) if match else tank_named("")
            if named.tags and not named.doubt and named.start == 0:  # "for tank T-205", where its own column is blank
                line.facts["tank"] = Fact(named.text, at, text, source="description")
                return


def _several_volts(text: str) -> bool:
    """Whether a banner names volts that are not those of one supply: "fed from 600 V 3 ph, heaters 480 V"."""
    said = supply_in_text(text)
    return said is not None and any(each.endswith(" V") for each in said.contradictions)


def _supply_alone(clause: str) -> StatedSupply | None:
    """The supply that a clause of a banner is: "3x400V" between dashes, where in a sentence it could be three of 400 V."""
    said = supply_in(clause)
    if said is None and (alone := read_supply(clause.strip())) is not None and alone.sure and alone.current != "DC":
        return (
            StatedSupply(alone.volts, alone.phases)
            if alone.volts is not None and alone.phases in (1, 3) and alone.volts_to_neutral is None
            else None
        )
    return said


def _opening(text: str, count: int) -> str:
    """The first words of a text."""
    parts = text.split()
    return " ".join(parts[:count]).rstrip(".,:") if len(parts) > count else ""


def _otherwise(rest: str, name: str) -> bool:
    """Does "same as T-1" go on with a figure of its own or a "but", other than the tank it is for: "(1 only)", "in 6 kW"?"""
    found = re.search(re.escape(name), rest, re.IGNORECASE)
    return found is None or OTHERWISE.search(TAG.sub(" ", rest[found.end() :])) is not None
