"""What the words of a row, its marks and its looks say of whether it is built: removed, in doubt, other equipment, struck through."""

from __future__ import annotations

import re
from collections import Counter
from functools import cached_property

from batch.intake.cells import NONE, OPEN
from batch.intake.changes_told import not_changed, now_said, to_become
from batch.intake.columns_aside import heading_at, heads_beside
from batch.intake.described import described
from batch.intake.equipment_beside import accessory, named_beside
from batch.intake.facts import Fact, note_of
from batch.intake.fewer_wanted import ALONE, OF_SOME, fewer_wanted
from batch.intake.grid import worded
from batch.intake.heading_sense import EACH, OFFERED, beside_in, machine_in, names_a_machine, names_an_oven, of_heaters_alone
from batch.intake.heating_media import HEATED_BY
from batch.intake.legends import code_of_cell, codes, headed_for_notes
from batch.intake.line_kinds import DATA, DOUBT, OTHER, OUT, Line
from batch.intake.list_columns import NEEDED, USUAL_VOLTS
from batch.intake.list_titles import THERE_NOW
from batch.intake.list_words import about_the_row, bath_by_name, heats_air, hits, is_heater, nothing_word, other_equipment, out_code
from batch.intake.list_words import without_power as no_power_in
from batch.intake.places_of_heaters import without_places
from batch.intake.remark_words import DOUBT as SAID_DOUBT
from batch.intake.remark_words import OUT as SAID_OUT
from batch.intake.remark_words import about_old_ones, about_what_stands_beside, asks, plain_remark, read_remark, read_row_words, told_later
from batch.intake.remarks_on_power import speaks_against
from batch.intake.row_references import LIKE, RowReferences
from batch.intake.spares_told import only_shelved_spares
from batch.intake.supply_wording import OR
from batch.intake.survey import flat
from batch.intake.tags import head_of
from batch.intake.turned import its_cell
from batch.intake.verdict import close
from batch.intake.vocabulary import vocabulary
from batch.intake.where_it_stands import POWERED, before_aside, open_behind_tag, placed, said_of_the_tank
from batch.sheets import HEATERS

STORES = re.compile(
    r"\b(?:stores?|stock|shelf|warehouse|lager|ersatz|magasin|almac[eé]n|magazzino|magazijn|magazyn|estoque|scorta"
    r"|spares?|rechange|ricambi|repuestos?|recambios?|zapas\w*|sobressalentes?|reservedel\w*|reservdel\w*|förråd\w*|sklad\w*"
    r"|depo(?:da)?|yedek\w*|ambar(?:da)?)\b",
    re.IGNORECASE,
)
SHELVED = re.compile(
    r"\b(?:shelf|stores?|warehouse|not connected|lager|nicht angeschlossen|magasin|non raccord\w+|almac[eé]n|magazzino|magazijn|magazyn\w*"
    r"|armaz[eé]m|estoque|n[aã]o ligad\w+|ikke tilsluttet|ikke tilkoblet|inte ansluten|ej ansluten|förråd\w*|sklad\w*|nepřipojen\w*"
    r"|depoda|ambarda|rafta)\b",
    re.IGNORECASE,
)
EITHER_VOLTS = re.compile(rf"(?<![\w.,])(\d{{3}})\s*V?\s*{OR}\s*(\d{{3}})(?![.,]?\d)", re.IGNORECASE)
PLUS_SPARE = re.compile(r"(\d{1,3})\s*\+\s*(\d{1,2})(?:\s+\D*)?")
LONGEST_TAG = 12
LEAST_OF_A_TANK = 2  # rows of one tank, of which one names it
LEAST_ALIKE = 3  # tags that begin alike, for a row to be of the list's own kind: judgement, no source
SIZED_BY = 2  # figures of a row: a number and a power
MOST_WORDS = 3  # of what a cell is called: judgement, no source
REFERENCE = re.compile(r"\(\d{1,2}\)\s*\Z")  # "see note (1)"
GOVERNS = re.compile(
    r"\b(?:remarks?|notes?|comments?|bemerkung(?:en)?|observations?|remarques?|observacion(?:es)?|note|osservazion[ie]|opmerking(?:en)?|uwag[ai]"
    r"|observa[cç](?:[aã]o|[oõ]es)|bem[æa]rkning(?:er)?|anm[äa]rkning(?:ar)?|merknad(?:er)?|pozn[aá]mk[ay])\b[^.;]{0,30}?\b(?:governs?|prevails?"
    r"|takes? precedence|overrides?|counts?|gilt|gelten|ma[ßs]+gebend|ma[ßs]+geblich|fait foi|font foi|pr[ée]va(?:ut|lent)|prevalecen?"
    r"|prevale|prevalgono|geldt|gelden|gaat voor|gaan voor|decyduj[eą]|prevalecem?|g[æa]lder|gjelder|g[äa]ller|plat[ií])\b",
    re.IGNORECASE,
)
RUN_OF_NUMBERS = re.compile(r"\d+(?:\s*[-–/&+,]\s*\d+)*")  # of tanks 1 to 15, and "7-10" among them
WORDY = frozenset({"tank", "bank", "notes", "status", "description"})  # columns of words, in which equipment may be named


def _could_be_sized(line: Line) -> bool:
    """Has a row figures, or a power in its words, as only heaters that somebody wants have?"""
    read = "quantity" in line.facts and bool({"power_kw", "total_kw"} & line.facts.keys())
    figures = sum(isinstance(value, (int, float)) for _, value in line.cells)
    return read or figures >= SIZED_BY or any(isinstance(value, str) and POWERED.search(value) for _, value in line.cells)


class SaidOfRow(RowReferences):
    """The cells of a table's rows with what their words say of them."""

    def _coded(self, line: Line) -> None:
        """A row with a code that the sheet explains elsewhere is in doubt, where the words take rows out or leave them open."""
        for at, value in line.cells if self.legends else ():
            if at == line.spare_at:
                continue
            of_figure = bool(set(self.by_index.get(at, ())) - {"notes", "status"})  # which may bear the mark of a note
            of_notes = at in self.by_index or headed_for_notes(self.grid, self.plan.heading_rows, at)
            code = code_of_cell(value, self.legends, of_figure=of_figure, of_notes=of_notes)
            if code and not self._logged(at, self.legends[code]):
                line.kind, line.why, line.at = DOUBT, f'"{flat(value)}" ("{self.legends[code][:60]}" on this sheet)', at
                return

    def _struck(self, line: Line) -> None:
        """A row whose cells are struck through is taken out; one of which only a needed cell is struck is in doubt."""
        struck = [at for at, _ in line.cells if (line.index, at) in self.grid.struck and at not in self.plan.former]
        if not struck:
            return
        needed = [self.plan.columns[key].index for key in (*NEEDED, "total_kw", "description") if key in self.plan.columns]
        tank = self.plan.columns.get("tank")
        if len(struck) >= 0.6 * len(line.cells) or (tank is not None and tank.index in struck and len(struck) > 1):
            line.kind, line.why, line.at = OUT, "struck through", struck[0]
        elif any(at in needed for at in struck):
            cell = its_cell(self.plan.turned, line.index, struck[0])
            line.kind, line.why, line.at = DOUBT, f"{cell} is struck through, which", struck[0]

    def _spares_told(self, line: Line, texts: list[tuple[int, str]]) -> list[tuple[int, str]]:
        """ "4+1" in a row that says that the one is a spare on the shelf: four. The texts without the remark that says it."""
        count = line.facts.get("quantity")
        plus = PLUS_SPARE.fullmatch(count.seen) if count is not None and count.fault == "count-unsure" else None
        if count is not None and count.source == "description" and line.doubt.endswith("with spares)"):
            plus = PLUS_SPARE.search(count.seen)
        whole = [(at, f"{text} {' '.join(self.legends.get(code, '') for code in codes(text))}") for at, text in texts]
        spare = [at for at, text in whole if SHELVED.search(text) and hits("spare", f"{text} {count.seen}")] if plus and count else []
        about = spare[0] if spare else -1
        told = next((one for one in texts if one[0] == about), None)
        if count is None or plus is None or told is None:
            return texts
        line.facts["quantity"] = Fact(int(plus[1]), count.index, f"{count.seen}, {told[1]}"[:60], source="description")
        line.spare_at, line.doubt = about, ""
        return [one for one in texts if one != told and one[0] != count.index]

    def _words(self, line: Line, texts: list[tuple[int, str]]) -> None:
        """Words that take the row out, put it in doubt, or say that it is other equipment."""
        keep = [word.casefold() for word in self.plan.keep_words]
        leave = [word.casefold() for word in self.plan.leave_words]
        remarks = {column.index for key, column in self.plan.columns.items() if key in ("notes", "status")}
        if self._as_now(line):
            texts = [one for one in texts if one[0] not in self._before]
        heated = any(
            is_heater(text) and not heats_air(text) and (at not in remarks or not (other_equipment(text) or machine_in(text)))
            for at, text in texts
        )
        status = self.plan.columns["status"].index if "status" in self.plan.columns else -1
        for at, text in texts:
            low = text.casefold()
            if any(word in low for word in leave):
                line.kind, line.why, line.at = OUT, f'"{text[:60]}" (left out by the column map)', at
                return
            kind = self._aside.get(at, "")
            if any(word in low for word in keep) or self._about_column(line, at, text):
                continue
            if at == status and out_code(text):
                line.kind, line.why, line.at = OUT, f'"{text[:60]}"', at
                return
            if at in remarks and (either := EITHER_VOLTS.search(text)) and {float(either[1]), float(either[2])} <= USUAL_VOLTS:
                line.kind, line.why, line.at = DOUBT, f'"{text[:60]}" names two voltages, which', at
            if at == status and (low.strip() == self.usual_state or self._only_worn(text)):
                continue  # "open", of every order: the state that rows are in; a heater that has failed is wanted as those that work
            if at == status and not low.strip().startswith(self.common_state) and not (
                plain_remark(text) or hits("kept", text) or hits("to_renew", text)
            ):
                line.kind, line.why, line.at = DOUBT, f'"{text[:60]}", where most rows say "{self.common_state}",', at
            said = read_remark(text)
            if said.fate and self.plan.replaced and self._as_now(line) and about_old_ones(text):
                line.aside = (at, text, "it is said of the heaters that were there before")
                continue
            if said.aside and not said.fate:
                line.aside = (at, text, said.aside[0][1])
            if said.fate == SAID_OUT and (offered := next((other for _, other in texts if other != text and OFFERED.match(other)), "")):
                line.kind, line.why, line.at = DOUBT, f'"{offered[:60]}", and "{text[:60]}",', at
                return
            if said.fate == SAID_OUT and _could_be_sized(line) and (not said.alone or (kind and not is_heater(text))):
                line.kind, line.why, line.at = DOUBT, f'"{text[:60]}"', at  # "vestibule removed" may be no word about the heaters
                continue
            if said.fate == SAID_OUT:
                line.kind, line.why, line.at = OUT, f'"{text[:60]}"', at
                return
            unsure = (said.fate == SAID_DOUBT and about_the_row(text, said.word)) or asks(text)
            if at in self._optional() and (said.fate != SAID_DOUBT or low.strip() in OPEN or told_later(low.strip())):
                continue  # what is open there is that cell, not the row
            named = at in self._tank_column() and ("tank" not in self.by_index[at] or not open_behind_tag(text))
            named = named or self._named_so(at, text)
            if unsure and line.kind == DATA and not named and not (read_quantity(text) or only_shelved_spares(text)):
                line.kind, line.why, line.at = DOUBT, f'"{text[:60]}"', at
        if line.kind in (DATA, DOUBT) and not heated:
            self._equipment(line, texts, remarks)

    def _as_now(self, line: Line) -> bool:
        """Does a row give its number and its power under what is now, so that the words under what was say nothing of it?"""
        facts = [line.facts.get(key) for key in ("quantity", "power_kw")]
        return bool(self._before) and all(fact is not None and fact.value is not None and fact.index not in self._before for fact in facts)

    @cached_property
    def _before(self) -> set[int]:
        return self.plan.before()

    def _only_worn(self, text: str) -> bool:
        """Among heaters "in operation", is a row's state no more than that its heater is broken, or leaks?"""
        return bool(vocabulary()["in_service"].whole(self.common_state)) and bool(vocabulary()["worn"].whole(text.strip(" .!")))

    def _equipment(self, line: Line, texts: list[tuple[int, str]], remarks: set[int]) -> None:
        """Words by which a row that does not say heater is other equipment, or may be. `remarks`: the columns of remarks and states."""
        figures = {column.index for key, column in self.plan.columns.items() if key not in WORDY}
        powered = "description" not in self.plan.columns or any(key in line.facts for key in ("power_kw", "total_kw"))
        for at, text in texts:
            text = before_aside(text) if self.plan.free else text
            word = (other_equipment(text) or machine_in(text)) if at not in figures else ""
            of_heater = self.plan.of_heaters and self._whole(line)
            surely = of_heater or (self._whole(line) and self._tagged_as_others(line))
            if word and at in remarks and (placed(text, word, of_heater=surely) or (surely and named_beside(text))):
                continue  # "near the dryer", "hood fan interlock", "replaces steam coil"
            if word and at in remarks and of_heater and said_of_the_tank(text):
                continue
            if word and surely and POWERED.search(text) is None and heads_beside(self.grid, self.plan.heading_rows, at):
                continue  # "filter, 1 HP pump" under "Other equipment", beside the row's own heaters
            if not word and at not in figures and at not in remarks and at not in self._tank_column() and not powered:
                word = beside_in(text)  # "cable 4G2.5, 50 m" among heaters that are ordered
                word = word or (accessory(text) if "description" in self.by_index.get(at, ()) else "")
            apart = "description" not in self.by_index.get(at, ()) and all(line.value(key) is not None for key in ("tank", "quantity"))
            apart = apart or (at in remarks and "quantity" in self.plan.fixed and line.value("power_kw") is not None)  # one heater a line
            fitted = (self._whole(line) or apart) and not machine_in(text) and no_power_in(text)
            fitted = fitted and not (ALONE.search(text) and hits("accessories", text))  # "thermostat only"
            if word and fitted and self._is_accessory(line, at, text):
                line.kind, line.why, line.at = DOUBT, f'"{text[:60]}" where other rows name heaters', at
            if word and fitted:
                continue  # "low level cutoff required", "anodize (start-up heat)": nothing that the row's power could be of
            beside = POWERED.search(text) is None and any(other != text and POWERED.search(other) for _, other in texts)
            if word and at not in remarks and self.counts_heaters and self._names_its_bath(line):
                if names_a_machine(text) or heats_air(text) or names_an_oven(text):
                    line.kind, line.why, line.at = DOUBT, f'"{text[:60]}" ({word.lower()}), though the row counts heaters,', at
                else:
                    line.aside = (at, text, f'"{word.lower()}" is taken for what the bath is called: the row counts heaters')
            elif word and at not in remarks and (
                beside or bath_by_name(text, word) or self._may_heat(line, at, text) or self._says_by_what(at)
            ):
                line.kind, line.why, line.at = DOUBT, f'"{text[:60]}" ({word.lower()})', at
            elif word and at not in remarks:
                line.kind, line.why, line.at = OTHER, f'"{text[:60]}"' + f" ({word.lower()})" * (text.strip().lower() != word.lower()), at
                return
            elif (word and not (self.plan.of_heaters or self._whole(line))) or (word and not about_what_stands_beside(text)):
                # a remark that only names equipment may say what the row is
                line.kind, line.why, line.at = DOUBT, f'"{text[:60]}" ({word.lower()})', at

    def _is_accessory(self, line: Line, at: int, text: str) -> bool:
        """Is a row that of a thermostat or a sensor: its name, in a column in which the others are no accessories?"""
        if not accessory(text) or len(text.split()) > MOST_WORDS or {"notes", "status"} & set(self.by_index.get(at, ())):
            return False
        return at not in self._of_accessories and at not in self._aside

    @cached_property
    def _of_accessories(self) -> frozenset[int]:
        """The columns in which at least half of the words are names of accessories: they say what belongs to a row, not what it is."""
        cells: dict[int, list[bool]] = {}
        for row in self._rows():
            for at, cell in enumerate(row):
                if isinstance(cell, str) and cell:
                    cells.setdefault(at, []).append(bool(accessory(flat(cell))))
        return frozenset(at for at, named in cells.items() if 2 * sum(named) >= len(named))

    @cached_property
    def _of_the_power(self) -> str:
        return self.plan.columns["power_kw"].heading if "power_kw" in self.plan.columns else ""

    def _other_power(self, line: Line, texts: list[tuple[int, str]]) -> None:
        """A remark that gives each heater another power than the row does leaves open which of the two is meant."""
        own, total, count = (line.figure(key) for key in ("power_kw", "total_kw", "quantity"))
        power = own if own is not None else total / count if total and count else 0.0
        used = {column.index for key, column in self.plan.columns.items() if key not in ("notes", "status")} | self.plan.former
        for at, text in texts if power and line.kind == DATA else ():
            if at in used or (own is not None and self._of_several(line, text, power)):
                continue
            rather = to_become(text, power, count) and not self._remarks_govern
            if not_changed(text, power) or rather or speaks_against(text, count, self._of_the_power, power):
                line.kind, line.why, line.at = DOUBT, f'"{text[:60]}", where the row says {power:g} kW,', at
            said = described(now_said(text))
            other, several = said.facts.get("power_kw"), said.facts.get("quantity")
            many = several if isinstance(several, int) else 0
            each = said.power_of == EACH and not said.foreign and (many or hits("per_heater", text))  # "3 x 9 kW", "9 kW each"; no hp
            differs = isinstance(other, float) and each and not any(close(times * other, power) for times in (1, many))
            if differs and own is not None and said.power_of == EACH and not many and self._remarks_govern:
                line.facts["power_kw"] = Fact(other, at, text[:60], source="description", basis=EACH)
            elif differs:
                line.kind, line.why, line.at = DOUBT, f'"{text[:60]}", where the row says {power:g} kW,', at

    def _other_count(self, line: Line, texts: list[tuple[int, str]]) -> None:
        """A remark that counts other pieces than the row does, "since March there are 3 pcs": which of the two is asked."""
        fact = line.facts.get("quantity")
        if fact is None or fact.source or not isinstance(fact.value, int) or line.kind != DATA:
            return
        remarks = {column.index for key, column in self.plan.columns.items() if key in ("notes", "status")}
        for at, text in texts:
            if at not in remarks:
                continue
            beside = other_equipment(text) or beside_in(text) or hits("accessories", text) or hits("spare", text) or POWERED.search(text)
            text = without_places(text, fact.value)
            apart = beside or OF_SOME.search(text) or note_of(text)
            said = described(now_said(REFERENCE.sub("", text))).facts if not apart else {}
            if (said.keys() == {"quantity"} and said["quantity"] != fact.value) or 0 < fewer_wanted(text) < fact.value:
                line.kind, line.why, line.at = DOUBT, f'"{text[:60]}", where the row says {fact.value},', at

    @cached_property
    def _remarks_govern(self) -> bool:
        """Does the sheet say that of a column and a remark that differ the remark counts?"""
        texts = (value for line in self.grid.lines for value in self.grid.rows[line] if isinstance(value, str) and len(value) > LONGEST_TAG)
        return any(GOVERNS.search(text) for text in texts)

    @staticmethod
    def _of_several(line: Line, text: str, power: float) -> bool:
        """ "2 at 4.5 kW on one circuit", beside the 9 kW of a circuit: two heaters, where no column counts them."""
        said = described(text).facts
        count, each, own = said.get("quantity"), said.get("power_kw"), line.facts.get("quantity")
        counted = own is not None and own.source != "fixed" and own.value != 1
        if counted or not isinstance(count, int) or not isinstance(each, float) or count < 2 or not close(count * each, power):
            return False
        at = line.facts["power_kw"].index
        line.facts["quantity"] = Fact(count, at, text[:60], source="description")
        line.facts["power_kw"] = Fact(each, at, text[:60], source="description", basis=EACH)
        return True

    def _told_under_heaters(self, line: Line) -> str:
        """What a row says under "HEATERS" that is neither a "none" nor other equipment: "as T-1", "see drawing"."""
        column = self.plan.columns.get("description")
        if column is None or not of_heaters_alone(column.heading):
            return ""
        text = next((flat(value) for at, value in line.cells if at == column.index and isinstance(value, str)), "")
        none = nothing_word(text) or text.casefold() in NONE or bool(hits("not_heated", text))
        return "" if none or other_equipment(text) or machine_in(text) else text

    def _left_open_in_words(self, line: Line) -> str:
        """A remark of a row without figures by which heaters may be to come, "later" and not "spare", or as of another: "as T-7"."""
        remarks = {column.index for key, column in self.plan.columns.items() if key in ("notes", "status")}
        for at, value in line.cells:
            text = flat(value) if isinstance(value, str) and (at in remarks or at not in self.by_index) else ""
            unsure = read_row_words(text).fate == SAID_DOUBT and not hits("spare", text)
            if text and not nothing_word(text) and (unsure or (LIKE.match(text) and any(sign.isdigit() for sign in text))):
                return text
        return ""

    def _new_below(self, banner: str, line: Line) -> bool:
        """A row whose own state says that it is new, below "LINE 2 (existing line)": what is there already is the line."""
        word, column = read_row_words(banner).word, self.plan.columns.get("status")
        state = next((flat(value) for at, value in line.cells if column is not None and at == column.index), "")
        return bool(word and THERE_NOW.match(word) and len(state) > 1) and plain_remark(state)

    def _standby(self, line: Line) -> None:
        """One of a column of standby units beside those on duty: whether it is connected too is asked."""
        for at, value in line.cells:
            if line.kind == DATA and at in self.standby and isinstance(value, (int, float)) and value > 0:
                line.kind, line.why, line.at = DOUBT, f'{value:g} under "{self.standby[at]}", beside those on duty,', at

    def _beside(self, line: Line) -> None:
        """A figure under no heading right beside a number or a power leaves open which of the two is meant."""
        for at, value in line.cells:
            if line.kind == DATA and at in self.unheaded and isinstance(value, (int, float)):
                line.kind, line.why, line.at = DOUBT, f"{value:g} under no heading, beside a figure that is read,", at

    def _may_heat(self, line: Line, at: int, text: str) -> bool:
        """A row with all that a heater has, of a list of heaters, whose process or bath is called "light etch" or "anode wash"."""
        named = {column.index for key, column in self.plan.columns.items() if key in ("description", "tank", "bank")}
        columns = self.plan.columns.keys()
        unsettled = "quantity" not in columns or not {"power_kw", "total_kw"} & columns  # no row is whole before such a column is known
        spoken = "quantity" in line.facts and bool({"power_kw", "total_kw"} & line.facts.keys())  # though the power cannot be read
        told = self.plan.columns.get("description")
        spoken = spoken or ("quantity" in line.facts and told is not None and of_heaters_alone(told.heading))  # "(2) ___ kW"
        whole = self._whole(line) or spoken or (unsettled and _could_be_sized(line))
        return self.plan.of_heaters and whole and at not in named and not machine_in(text)

    def _says_by_what(self, at: int) -> bool:
        return HEATED_BY.fullmatch(heading_at(self.grid, self.plan.heading_rows, at)) is not None

    @staticmethod
    def _whole(line: Line) -> bool:
        """Has a row a tank, a number and a power?"""
        powered = any(line.value(key) is not None for key in ("power_kw", "total_kw"))
        return powered and all(line.value(key) is not None for key in ("tank", "quantity"))

    def _names_its_bath(self, line: Line) -> bool:
        """Can a word for equipment be what the bath of a row is called? Not where another row has named the tank already."""
        own = worded(line.value("tank")).strip()
        return self._whole(line) and self._tagged_as_others(line) and self._tank_cells.count(own) < LEAST_OF_A_TANK

    @cached_property
    def _tank_cells(self) -> list[str]:
        """The cells of the tanks' column, down the list."""
        column = self.plan.columns.get("tank")
        return [worded(row[column.index]).strip() for row in self._rows() if column is not None and column.index < len(row)]

    def _tagged_as_others(self, line: Line) -> bool:
        """Does the row's tag begin as those of other rows do: WT-7736 among WT-7710 and WT-7711, where P-1 is a pump's?"""
        own = head_of(worded(line.value("tank")))
        return (bool(own) or self._numbered) and self._heads[own] >= LEAST_ALIKE

    @cached_property
    def _heads(self) -> Counter[str]:
        return Counter(map(head_of, filter(None, self._tank_cells)))

    @cached_property
    def _numbered(self) -> bool:
        return all(RUN_OF_NUMBERS.fullmatch(text) for text in self._tank_cells if 0 < len(text) < LONGEST_TAG and text[-1] != ":")

    def _optional(self) -> set[int]:
        """Columns that a row is sized without: a question in them is about themselves."""
        asked = {"tank", "bank", "notes", *NEEDED}
        return {at for at, keys in self.by_index.items() if all(key in HEATERS.by_key and key not in asked for key in keys)} | self._made


def read_quantity(text: str) -> bool:
    """Is it a count with spare ones beside it, which is no doubt about the row?"""
    return bool(re.match(r"\s*\(?\d+\)?\s*(?:\+|plus)?\s*\d*\s*spares?\b", text, re.IGNORECASE))
