"""The rows of a list that a note names: by the tag of their tank or the mark of their heaters, by a number behind a word for a tank or an
item, by a run of either ("Tanks 2 to 4", "T-2, T-3"), by their place ("the last two tanks"), and by the name of their bath before a word
for tank or heater."""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import lru_cache

from batch.intake.line_kinds import Line
from batch.intake.list_columns import USUAL_VOLTS
from batch.intake.list_supply import EXCEPT
from batch.intake.list_words import hits, words
from batch.intake.remark_words import plain_remark, read_row_words
from batch.intake.sentence_words import forms
from batch.intake.survey import flat

TANK_WORDS = (
    "tank", "bath", "station", "beh[aä]lter", "wannen?", "becken", "cuve", "bain", "cuba", "vasca", "vasche", "bad", "b[aä]der", "baden",
    "wanna", "wanny", "tanque", "tina", "kar", "kare?ne", "beholder", "v[aá]na", "v[aá]ny", "l[aá]ze[nň]", "tk", "tnk", "stage", "stn",
    "vat", "vessel", "bac", "bak", "stufe", "stadio", "etapa",
)  # fmt: skip
ROW_WORDS = (
    "item", "line", "pos", "position", "row", "zeile", "ligne", "poste", "fila", "riga", "regel", "poz", "pozycja", "linha",
    "linje", "rad", "polo[zž]ka", "[rř][aá]dek",
)  # fmt: skip
OF_A_NUMBER = re.compile(r"nos?|nr|num\w*|n[uú]mero|tag|id|name|code|ref|and|of|the", re.IGNORECASE)  # words of a heading that name no tank
WORD = re.compile(r"[\w-]+")
MARK = re.compile(r"(?=.*\d)(?=.*[A-Z])[A-Z0-9-]{2,8}", re.IGNORECASE)
PARTS = re.compile(r"(?P<head>[A-Z]{1,5})[-._#]?(?P<number>\d{1,4})(?P<tail>[A-Z]?)", re.IGNORECASE)
_AND = r"\s*(?:,|;|&|/|\+|\b(?:and|und|et|y|e|en|i|og|och|a)\b)\s*"
_TO = r"\s*(?:[-–]|\.{2,3}|\b(?:to|thru|through|bis|à|a|al|t/m|tot|do|til|till|až|até)\b)\s*"
TO = re.compile(_TO, re.IGNORECASE)
_HEATER = r"(?:heaters?|htrs?|elements?|heiz\w*|thermoplongeurs?|resistencias?|resistenze?|verwarmers?|grza[łl]\w*)"
_COUNTED = r"[x×]|(?-i:k?W|V|A)|ph|ea|each|pcs?|stk|off"
_NO_FIGURE = rf"(?!\w|[.,]\d|\s*(?:{_COUNTED}|{_HEATER})\b)"  # "T-2 - 3 heaters" counts three
_PLURAL = r"(?:e?s|e?n|e|er|i)?"  # "rinses", "rinçages"
_PUT_TOGETHER = r"(?:[sn]?(?:b(?:ad|[äa]e?der)|becken|wanne|kar|heiz|kolbe|v[äa]rmare)\w{0,8})"  # "Nickelbad", "Nickelheizer"
_BATH = re.compile(r"bad\Z")  # of which several are "Spülbäder"
LEAST_BARE = 3  # digits of a tank's number that names it without a word before it: judgement, no source
_OF_A_FIGURE = rf"(?:{_COUNTED}|VAC|gal\w*|l|lt?rs?|mm|cm|m|in|ft|[°º]\s*[FC]?|%|kg|lbs?|h|hrs?|days?|ppm|bar|psi|deg\w*|[FC])(?!\w)"
BARE_RUN = re.compile(
    rf"(?<![\w.,/$€£-])\d{{3,4}}(?:(?:{_AND}|{_TO})\d{{3,4}}(?![\w/-]|[.,]\d))+(?!\s*{_OF_A_FIGURE}|\s*{_HEATER}\b|\s+\d\s*(?:ph|~))",
    re.IGNORECASE,
)
BARE_ONE = re.compile(rf"(?<![\w.,/$€£-])\d{{3}}(?![\w/-]|[.,]\d|\s*{_OF_A_FIGURE}|\s*{_HEATER}\b|\s+\d)", re.IGNORECASE)
OF_A_SUPPLY = re.compile(  # what a number that is a usual voltage may be of (trade words, common practice, no source)
    r"\b(?:volt\w*|(?:su|a)pply|system|service|feed\w*|panel|breaker|mcc|bus|transformer|phases?|netz\w*|spannung\w*|speisung|r[ée]seau|tension\w*"
    r"|red|tensi[óo]n|rete|tensione|net|spanning|sie[ćc]|napi[ęe]ci\w*|rede|tens[ãa]o|sp[æa]nding|spenning|sp[äa]nning|nap[ěe]t[íi])\b|\dV",
    re.IGNORECASE,
)
SAYS_OF_IT = re.compile(
    r"\s*(?:[:–-]\s|(?:is|are|has|have|now|ist|hat|est|a|es|tiene|[èe]|ha|jest|ma|[ée]|tem|er|har|[äa]r|je|m[áa])\s)", re.IGNORECASE
)
EXCEPTED = re.compile(rf"{EXCEPT.pattern}\s*:?\s+(?P<number>\d{{3}})(?![\w/-]|[.,]\d|\s*{_OF_A_FIGURE})", re.IGNORECASE)
LEAST_NAME = 4  # letters of a tank's name that a sentence may name it by: "Nickel strike"
SHORTEST_NAME = 3  # letters of the name of a bath that may be all that a sentence names it by: "Dye"
LONGEST_NAME = 30  # letters of the name of a bath


class RowsNamed:
    """The rows by what a sentence may name them by. `called`: the heading of the tanks, which says what the list calls them."""

    def __init__(self, lines: Sequence[Line], called: str = "") -> None:
        own = [re.escape(word) for word in re.findall(r"[^\W\d_]{2,}", called) if not OF_A_NUMBER.fullmatch(word)]
        self.tank_words = "|".join(dict.fromkeys((*TANK_WORDS, *own)))
        self.by_word: dict[str, dict[tuple[str, bool], set[int]]] = {}  # by the first word of a tag; whether it is the number of a row
        self.numbered: dict[tuple[str, int, str], set[int]] = {}  # by the letters, the number and the letter behind it
        self.baths: dict[str, set[int]] = {}
        beside: dict[str, set[int]] = {}  # by what stands in columns that are not of tanks, and may tell no row from another: "REPLACE"
        for line in lines:
            first = line.cells[0][1] if line.cells else None
            for value, of_row in ((line.value("tank"), False), (line.value("bank"), False), (first, True)):
                self._keep(f"{value:g}" if isinstance(value, float) else str(value) if value is not None else "", of_row, line.index)
            called_by = {fact.index for key, fact in line.facts.items() if key in ("description", "tank")}
            taken = {fact.index for key, fact in line.facts.items()} - called_by
            for at, value in line.cells:
                for name in re.split(r"\s*[/,(]\s*", flat(value)) if isinstance(value, str) and at not in taken else ():
                    name = without_heater(name.strip(" )"))
                    if SHORTEST_NAME <= len(name) <= LONGEST_NAME and not any(map(str.isdigit, name)):
                        names = self.baths if at in called_by else beside
                        names.setdefault(name.casefold(), set()).add(line.index)
        for name, some in beside.items():
            if len(some) * 2 <= len(lines) or len(some) == 1:
                self.baths.setdefault(name, set()).update(some)
        self.tanks: dict[str, set[int]] = {}  # in the order of the list
        for line in lines:
            self.tanks.setdefault(str(line.value("tank") or line.index), set()).add(line.index)
        numbers = {tag for names in self.by_word.values() for tag, of_row in names if not of_row and tag.isdecimal()}
        self.bare = {tag for tag in numbers if len(tag) >= LEAST_BARE}
        self.runs = ((False, _run(self.tank_words)), (True, _run("|".join(ROW_WORDS))))

    def _keep(self, tag: str, of_row: bool, index: int) -> None:
        word = WORD.search(tag)
        tagged = tag.isdecimal() or len(tag) >= LEAST_NAME or any(sign.isdigit() for sign in tag)
        if not tagged or word is None:
            return
        names = self.by_word.setdefault(word[0].casefold(), {})
        names.setdefault((tag, of_row), set()).add(index)
        if word[0] != tag and MARK.fullmatch(word[0]):  # "C2 rinse" is C2
            names.setdefault((word[0], of_row), set()).add(index)
        if tag.isdecimal():
            self.numbered.setdefault((ROW_WORDS[0] if of_row else "", int(tag), ""), set()).add(index)
        elif (parts := PARTS.fullmatch(word[0])) is not None:
            self.numbered.setdefault(_key(parts), set()).add(index)

    def named_in(self, text: str) -> set[int]:
        """The rows that a text names, by their index."""
        found: set[int] = set()
        for word in {match[0].casefold() for match in WORD.finditer(text)} & self.by_word.keys():
            for (tag, of_row), some in self.by_word[word].items():
                if not some <= found and re.search(self._pattern(tag, of_row), text, re.IGNORECASE):
                    found |= some
        for _, _, some in self._runs_in(text):
            found |= some
        return found

    def bath_in(self, text: str) -> set[int]:
        """The rows of the one bath that a text names before a word for a tank or a heater: "Topcoat heater by others"."""
        low, found = text.casefold(), set[int]()
        for name, some in self.baths.items():
            before = rf"\b{re.escape(name)}\W+(?:{self.tank_words}|{_HEATER})\b"
            one = len(some) == 1 and len(name) >= LEAST_NAME
            found |= some if one and name in low and re.search(before, text, re.IGNORECASE) else set()
        return found

    def baths_in(self, text: str) -> set[int]:
        """The rows of every bath whose name stands in a text, whatever is behind it: "the rinse is fed from", "the last two dye tanks"."""
        low, found = text.casefold(), set[int]()
        for name, some in self.baths.items():
            said = len(name) >= LEAST_NAME or not plain_remark(name)  # "new" names none
            ends = rf"(?:{_PUT_TOGETHER}|{_PLURAL})" if len(name) >= LEAST_NAME else ""
            whole = rf"(?<![\w-]){_BATH.sub('b(?:ad|äder|aeder)', re.escape(name))}{ends}(?![\w-])"
            found |= some if said and name[:-2] in low and re.search(whole, low) else set()
        return found

    def without_names(self, text: str) -> str:
        """A text without the tags of rows: "Stage 9 heater 240 V" counts no nine heaters."""
        runs = self._runs_in(text)
        for start, end, _ in reversed(runs):
            if not any(one < start and end <= other for one, other, _ in runs):  # "T-212" of "T-211 and T-212" goes with the run
                text = f"{text[:start]}, {text[end:]}"
        for word in {match[0].casefold() for match in WORD.finditer(text)} & self.by_word.keys():
            for tag, of_row in self.by_word[word]:
                text = re.sub(self._pattern(tag, of_row), ", ", text, flags=re.IGNORECASE)
        return text

    def _pattern(self, tag: str, of_row: bool) -> str:
        words = "|".join(ROW_WORDS) if of_row else self.tank_words
        before = rf"\b(?:{words})s?\.?\s*(?:nos?\.?|#|nr\.?)?\s*" if tag.isdecimal() else r"(?<![\w-])"
        whole = before + re.escape(tag) + r"(?![\w-])"
        if tag.isdecimal() and not of_row:  # "#2 heater", "No. 2 tank"
            alone = len(tag) >= LEAST_BARE and int(tag) not in USUAL_VOLTS
            bare = rf"|(?<![\w.,/$€£-]){tag}(?![\w/-]|[.,]\d|\s*{_OF_A_FIGURE})" if alone else ""
            whole = rf"(?:{whole}|(?:#|\bno\.?)\s*{tag}\s+(?:{_HEATER}|{words})\b{bare})"  # "Delete 103."
        return whole

    def _runs_in(self, text: str) -> list[tuple[int, int, set[int]]]:
        """Where runs of tags stand in a text, and the rows of each: "Tanks 2 and 3", "T-2 to T-4"; a tag written otherwise, T2 for T-2."""
        found: list[tuple[int, int, set[int]]] = []
        for of_row, pattern in self.runs:
            for match in pattern.finditer(text):
                some = self._of(ROW_WORDS[0] if of_row else "", match["run"])
                found += [(match.start(), match.end(), some)] if some else []
        for match in _by_place(self.tank_words).finditer(text):
            count = _how_many(match["several"] or "")
            places = list(self.tanks.values())
            some = set().union(*(places[-count:] if match["last"] else places[:count])) if len(places) > count else set()
            found += [(match.start(), match.end(), some)] if some else []
        for match in _and_up(self.tank_words).finditer(text):  # "Tanks 7 and up"
            some = self._from("", int(match["low"]))
            found += [(match.start(), match.end(), some)] if some else []
        taken = [(start, end) for start, end, _ in found]  # "Tanks 101 and 103" is one run and not two
        bare = [*self._bare_in(text), *self._one_in(text)]
        found += [one for one in bare if all(one[1] <= start or end <= one[0] for start, end in taken)]
        heads = {head for head, _, _ in self.numbered if head and head != ROW_WORDS[0]}
        for match in re.finditer(rf"(?<![\w-]){PARTS.pattern}(?![\w-])", text, re.IGNORECASE):
            head = match["head"].casefold()
            if head not in heads:
                continue
            end = match.end()
            step = re.compile(rf"(?:{_AND}|{_TO})(?:{re.escape(head)}[-._#]?)?(?P<next>\d{{1,4}}){_NO_FIGURE}", re.IGNORECASE)
            last = int(match["number"])
            while (more := step.match(text, end)) is not None and int(more["next"]) > last:  # "T-47 to 2 ea." is no run
                end, last = more.end(), int(more["next"])
            some = self.numbered.get(_key(match), set()) | self._of(head, text[match.start() : end])
            if (more := _and_up("").match(text, end)) is not None:
                some, end = some | self._from(head, last), more.end()
            found += [(match.start(), end, some)] if some else []
        return sorted(found, key=lambda one: one[0])

    def strange_tags(self, text: str) -> bool:
        """Does a text hold a tag that begins as those of the rows do, and is none of theirs: T-9 of T-1 to T-4?"""
        heads = {head for head, _, _ in self.numbered if head and head != ROW_WORDS[0]}
        tags = re.finditer(rf"(?<![\w-]){PARTS.pattern}(?![\w-])", text, re.IGNORECASE)
        numbers = re.findall(rf"(?<![\w.,/$€£-])\d{{3,4}}(?![\w/-]|[.,]\d|\s*{_OF_A_FIGURE})", text) if self.bare else []
        strange = any(match["head"].casefold() in heads and _key(match) not in self.numbered for match in tags)
        return strange or any(one not in self.bare and int(one) not in USUAL_VOLTS for one in numbers)

    def _bare_in(self, text: str) -> list[tuple[int, int, set[int]]]:
        """Where numbers of tanks stand without a word before them: "101 to 103 are deleted", "101, 480", and alone "480 deleted", of which
        nothing but its place tells that it is no voltage."""
        found: list[tuple[int, int, set[int]]] = []
        if not self.bare:
            return found
        for match in EXCEPTED.finditer(text):  # "all 480 V except 480, which is 240 V"
            if match["number"] in self.bare and int(match["number"]) in USUAL_VOLTS:
                found.append((match.start("number"), match.end("number"), self.numbered.get(("", int(match["number"]), ""), set())))
        for match in BARE_RUN.finditer(text):
            numbers = re.findall(r"\d+", match[0])
            if set(numbers) <= self.bare and not {int(one) for one in numbers} <= USUAL_VOLTS:
                found.append((match.start(), match.end(), self._of("", match[0])))
        for match in BARE_ONE.finditer(text) if not OF_A_SUPPLY.search(text) else ():
            rest = f"{text[: match.start()]} {text[match.end() :]}"
            told = not text[: match.start()].strip() and SAYS_OF_IT.match(text, match.end()) is not None
            if match[0] in self.bare and int(match[0]) in USUAL_VOLTS and (told or read_row_words(rest).fate):
                found.append((match.start(), match.end(), self.numbered.get(("", int(match[0]), ""), set())))
        return found

    def _one_in(self, text: str) -> list[tuple[int, int, set[int]]]:
        """Where a text begins with the short number of a tank of which something is said: "3 is spare"; "3 are spare" counts them."""
        match = _is_one().match(text)
        some = self.numbered.get(("", int(match["number"]), ""), set()) if match is not None else set()
        return [(match.start("number"), match.end("number"), some)] if match is not None and some else []

    def _from(self, head: str, low: int) -> set[int]:
        """The rows of all numbers of one head from one on."""
        return {at for (one, value, _), some in self.numbered.items() if one == head and value >= low for at in some}

    def _of(self, head: str, run: str) -> set[int]:
        """The rows of a run of numbers of one head; a range holds all that is between."""
        found: set[int] = set()
        numbers = [(int(match[0]), match.start(), match.end()) for match in re.finditer(r"\d+", run)]
        for at, (number, start, _) in enumerate(numbers):
            again = rf"(?:{re.escape(head)}[-._#]?|#)\Z" if head else r"#\Z"
            between = re.sub(again, "", run[numbers[at - 1][2] : start], flags=re.IGNORECASE) if at else ""
            low = min(numbers[at - 1][0], number) if at and TO.match(between) else number
            for (one, value, _), some in self.numbered.items():
                if one == head and low <= value <= number:
                    found |= some
        return found


@lru_cache(maxsize=1)
def _is_one() -> re.Pattern[str]:
    return re.compile(rf"\W*(?P<number>\d{{1,2}})\s+(?={forms('is_one')}\s)", re.IGNORECASE)


def without_heater(name: str) -> str:
    """What a bath is called, without words for heaters: "Nickel heater" is nickel, and "HEATER" none."""
    for hit in reversed(hits("heaters", name)):
        name = f"{name[: hit.start]} {name[hit.end :]}"
    return flat(name).strip(" -–:")


def _run(words: str) -> re.Pattern[str]:
    """Numbers behind a word: "Tanks 2, 3 and 5"."""
    before = rf"\b(?:{words})s?\.?\s*(?:nos?\.?|#|nr\.?)?\s*"
    again = rf"(?:{_AND}|{_TO})(?:(?:{words})s?\s*)?#?"
    return re.compile(rf"{before}(?P<run>\d{{1,3}}(?:{again}\d{{1,3}})+{_NO_FIGURE})", re.IGNORECASE)


@lru_cache(maxsize=64)
def _by_place(tank_words: str) -> re.Pattern[str]:
    """ "The last tank", "die letzten beiden Becken", "the first two tanks"."""
    several = rf"(?:(?P<several>{forms('several')})\s+)?"
    place = rf"(?:(?P<last>{forms('last')})|{forms('first')})"
    return re.compile(rf"(?<!\w){place}\s+{several}(?:{tank_words})(?:e?s|e?n)?(?!\w)", re.IGNORECASE)


def _how_many(word: str) -> int:
    """ "Two", "beiden", "3"; one where nothing is said."""
    number = int(word) if word.isdecimal() else words().number(word.casefold())
    return int(number) if number else 2 if word else 1


@lru_cache(maxsize=64)
def _and_up(words: str) -> re.Pattern[str]:
    """What says "and all above", behind a number of a tank where words for one are given."""
    before = rf"\b(?:{words})s?\.?\s*(?:nos?\.?|#|nr\.?)?\s*(?P<low>\d{{1,3}})" if words else ""
    return re.compile(rf"{before}\s*(?:{forms('and_up')})(?!\w)", re.IGNORECASE)


def _key(match: re.Match[str]) -> tuple[str, int, str]:
    return match["head"].casefold(), int(match["number"]), match["tail"].casefold()
