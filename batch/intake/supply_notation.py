"""How a supply is written: "480/3/60", "3/N/PE ~ 400/230 V 50 Hz", "3x400V+N+PE", "480Y/277", "1~230 V", "three phase".

The forms are those of the trade and of IEC 61293 (marking of electrical equipment with ratings of supply: number of
conductors, N and PE between strokes, ~ or AC, volts, hertz; from memory, the document was not at hand). Each fact is read
where it is written, never concluded. What is said twice and differs is a contradiction; what has two meanings is a doubt.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import NamedTuple

from msgspec import Struct

from batch.intake.list_columns import MOST_VOLTS as MOST_HEATER_VOLTS
from batch.intake.list_columns import USUAL_VOLTS
from batch.intake.supply_figures import EXACT_ENOUGH, LEAST_BARE_VOLTS, current_of, is_pair, meaning_of, number_in, volts_in
from batch.intake.supply_wording import EITHER_PHASES, OF_ALL, OR
from batch.intake.wording import composed

PHASES_OR_COUNT = "may be phases, or a count"  # of "3 x 400 V" in a sentence: settled where the count stands elsewhere
LONGEST = 400
SUPPLY_WORD = re.compile(  # right before "3 x 400 V", which is no count then
    r"\b(?:supply|mains|voltage|volts|netz\w*|spannung\w*|versorgung\w*|anschluss\w*|r[ée]seau|alimentation|tension|red|alimentaci[oó]n|tensi[oó]n"
    r"|rete|alimentazione|tensione|voeding|netspanning|zasilanie|sie[cć]|rede|alimenta[cç][aã]o|tens[aã]o|forsyning|n[äa]t|s[ií][tť])\s*[:=]?\s*\Z",
    re.IGNORECASE,
)


class SupplyFacts(Struct, frozen=True):
    """What a text says of a supply; None where it does not say.

    volts             the one voltage named; of a pair the higher, line to line
    volts_to_neutral  of a pair the lower
    phases            as written: 1, 2 or 3; never concluded from volts
    wires             live conductors with the neutral, without the protective earth
    current           "AC", "DC" or ""
    contradictions    facts that are said twice and differ, in words: their values are None
    doubts            what has two meanings, in words: values are given, but to be asked about
    spans             (fact, from, to) in the text (composed, NFC), by which each fact was read
    """

    volts: float | None = None
    volts_to_neutral: float | None = None
    phases: int | None = None
    wires: int | None = None
    neutral: bool | None = None
    earth: bool | None = None
    hertz: float | None = None
    current: str = ""
    contradictions: tuple[str, ...] = ()
    doubts: tuple[str, ...] = ()
    spans: tuple[tuple[str, int, int], ...] = ()

    @property
    def sure(self) -> bool:
        return not self.contradictions and not self.doubts


class _Said(NamedTuple):
    fact: str
    value: object
    start: int
    end: int


_N = r"\d{1,3}(?:[,.' ]\d{3})+(?![\d,.])|\d+(?:[.,]\d+)?"
_V = r"k\s?V|V\s?AC|V\s?DC|V\s?[~=⎓]|V\s?a\.c\.|V\s?d\.c\.|volts?|voltios?|V"
_PH = r"(?:phases?|phasig|phs|ph|fases?|fasen|fasi|fasig|faser|faset|fas|fazy|faz|f[aá]ze|f[aá]z[ií]|f[aá]z|f[aá]zov\w+|ø|φ|⌀|∅|Φ|~)"
_TOLERANCE = re.compile(r"(?:±|\+/-|\+-|[+-])\s*\d+(?:[.,]\d+)?\s*%")
_LINES = re.compile(r"(?<!\w)L1\s*[-,/+ ]\s*L2(?P<three>\s*[-,/+ ]\s*L3)?(?!\w)", re.IGNORECASE)
_HZ = re.compile(rf"(?<![\w.,])(?P<one>{_N})(?:\s*[/-]\s*(?P<other>{_N}))?\s*(?:Hz|hertz|cycles?|cyc|c/s|cps)(?!\w)\.?", re.IGNORECASE)
_PHASES = re.compile(rf"(?<![\w.,])(?P<n>[123])\s*-?\s*(?P<neutral>N\s*)?(?P<ph>{_PH})(?![a-zà-ÿ])\.?", re.IGNORECASE)
_TILDE = re.compile(r"(?<![\w~])~\s*(?P<n>[123])(?!\d)")
_IEC = re.compile(
    r"(?<![\w.,/-])(?P<n>[123])\s*(?P<marks>(?:[/+ ]?\s*(?:N|PEN|PE|M)\b\s*){1,3}|(?=\s*/?\s*(?:AC|DC|[~⎓=])))"
    r"/?\s*(?P<kind>AC|DC|[~⎓=])?",
    re.IGNORECASE,
)
_TIMES = re.compile(r"(?<![\w.,])(?P<n>[123])\s*[x×*]\s*(?=\d{3}\s*(?:/\s*\d{3}\s*)?(?:V|\+\s*N|\+\s*PE))", re.IGNORECASE)
_TIMES_ALONE = re.compile(r"\A\s*(?P<n>[13])\s*[x×*]\s*(?P<volts>\d{3})\s*\Z")  # "3x400" and no more, in a cell of a supply
_CONDUCTORS = re.compile(r"(?<![\w.,])(?P<n>[123])\s*L?\s*(?P<marks>\+?\s*N\s*\+?\s*PE|\+\s*N|\+\s*PE|NPE|PE)(?=\W|\Z)")
_FASES = re.compile(r"(?<![\w.,])(?P<n>[123])\s?[FP](?![\w°])", re.IGNORECASE)  # 3F and 3p, beside volts or in a cell of a supply only
# Of British schedules: triple pole and neutral, single pole and neutral (TP&N, SPN); without the neutral in a cell of a supply only
_POLES = re.compile(r"(?<!\w)(?P<n>[TS])P\s*(?:&|\+|/|and\s)?\s*N(?:\s*(?:&|\+|/)?\s*E)?(?![\w&])")
_POLES_ALONE = re.compile(r"(?<!\w)(?P<n>[TS])P(?!\w|\s*[&+])")
_NO_N = re.compile(r"(?:ohne|w/o|without|sans|sin|senza|zonder|bez|sem|uden|utan|uten|no)\s+N(?!\w)")
_NOT_VOLTS = re.compile(r"\s*(?:l|gal|gallons?|mm|cm|m|kg|lbs?|kW|W|A|in|ft|ppm|rpm)\b", re.IGNORECASE)
_WYE = re.compile(
    rf"(?<![\w.,])(?P<one>{_N})\s*(?:V|VAC|volts?)?\s*(?P<mark>GRDY|grd\s?Y|Y|WYE|star|[YΔ∆D]\s*/|/)\s*/?\s*(?P<other>{_N})\s*Y?\s*(?P<unit>{_V})?(?![\w/-]|\s*/\s*\d)",
    re.IGNORECASE,
)
_VOLTS = re.compile(rf"(?<![\w.,])(?P<one>{_N})\s*-?\s*(?P<unit>{_V})(?![\w²³])(?!\s?A\b)\.?", re.IGNORECASE)
_OF_A_TAG = re.compile(r"[^\W\d_]\s?[-–#№]\s?\Z")
_FIELDS = re.compile(r"(?<=[^\W\d_]),(?=\d)")
_RANGE = re.compile(rf"(?<![\w.,/-])(?P<one>\d{{3}})\s*(?:-|–|to|…|\.\.)\s*(?P<other>\d{{3}})\s*(?P<unit>{_V})(?!\w)", re.IGNORECASE)
_EITHER = re.compile(  # "220 or 440 V"
    rf"(?<![\w.,/-])(?P<one>\d{{3}})\s*(?:{_V})?\s*/?\s*{OR}\s+(?P<other>\d{{3}})\s*(?:{_V})?(?![\w/]|[.,]\d|/\s*\d{{2}})"
    rf"|(?<![\w.,/-])(?P<high>\d{{3}})\s*(?:{_V})?\s*{OR}\s+(?P<low>\d{{3}})\s*(?:{_V})?(?=\s*[/-]\s*[13](?!\d))",
    re.IGNORECASE,
)
_WIRES = re.compile(
    r"(?<![\w.,])(?P<n>[2345])\s*-?\s*(?:W|wires?|fils|hilos|fili|fios|aderig|Leiter|ledere?|ledare|vodič[eů]?|žil)(?!\w)\.?",
    re.IGNORECASE,
)
_PIECE = rf"(?:{_N})\s*-?\s*(?:{_V}|Hz|{_PH}\.?|W)?"
_CHAIN = re.compile(rf"(?<![\w.,/-]){_PIECE}(?:\s*[/–-]\s*{_PIECE}){{1,4}}(?!\w)", re.IGNORECASE)
_SPACED = re.compile(r"(?<![\w.,/-])(?P<volts>\d{3})\s+(?P<phases>[13])\s+(?P<hertz>50|60)(?![\w.,/-])")
_BARE = re.compile(r"(?<![\w.,/+-])(\d{3})(?![\w./+-]|,(?!\s))")  # "400 3~": with phases said, a figure of three places is volts
_OF_A_NUMBER = re.compile(r"(?:[#№]|\b[^\W\d_]{3,}\.?)\s*\Z")  # "tank 480", "room 208": a word that the figure may be the number of
_NUMBERED = re.compile(r"[1-3]\s*[/–-]\s*[^/–-]+\Z")
_PHASE_WORD = re.compile(  # before "3/480 V" or "3 - 480 V", whose figure is none of its own
    rf"(?:\b(?:{_PH}|phasen?|v|volts?|voltage|all|are|is|be|at|on|for|with|heaters?|htrs?|elements?|units?|power|service|alle|sind|mit|f[üu]r"
    r"|heiz\w*|tous|toutes|sont|en|pour|thermoplongeurs?|todos|todas|son|resistencias|tutt[ie]|resistenze|allemaal|wszystkie))\.?\s*\Z",
    re.IGNORECASE,
)
_MARKS = re.compile(r"(?<=[+/,])\s*(?P<what>N|PEN|PE|G|GND|E)(?=\W|\Z)|(?<![\w])(?P<bare>N|PEN|PE|GND)(?=\s*[+/]|\Z|\s*~)")
_KIND = re.compile(r"(?<![\w.])(?P<what>AC|DC|a\.c\.|d\.c\.)(?!\w)|(?P<sign>[~⎓∼])", re.IGNORECASE)
_SPLIT = re.compile(r"\s*[/–-]\s*")
_ONE = re.compile(rf"(?P<n>{_N})\s*-?\s*(?P<unit>.*)\Z", re.DOTALL)


def read_supply(text: str) -> SupplyFacts | None:
    """What a cell of a supply, volts or phases column says; None where it says nothing of a supply.

    A bare number is no notation, and None: what "480" or "3" means is for the column to say.
    """
    found = _Reading(text, free=False).facts()
    return found if found is not None and found.spans else None


def supply_in_text(text: str) -> SupplyFacts | None:
    """What a sentence says of a supply: a title, a banner, a description. Stricter than a cell of its own column."""
    found = _Reading(text, free=True).facts()
    return found if found is not None and found.spans else None


def fields_apart(text: str) -> str:
    """ "HTR,IMMERSION,9KW,480V,3PH": a comma behind a letter parts two fields, and is before no decimals. As long as the text."""
    return _FIELDS.sub(";", text)


class _Reading:
    """One text. What has been read is blanked out, so that nothing is read twice."""

    def __init__(self, text: str, free: bool) -> None:
        self.text = composed(text)[:LONGEST].replace("\u00a0", " ").replace("\u202f", " ").replace("\u2009", " ").replace("∼", "~")
        self.rest = fields_apart(self._plain(self.text))
        self.free = free
        self.said: list[_Said] = []
        self.doubts: list[str] = []

    @staticmethod
    def _plain(text: str) -> str:
        """Full-width figures and letters as ordinary ones, places kept."""
        return "".join(chr(ord(mark) - 0xFEE0) if "！" <= mark <= "～" else mark for mark in text)

    def facts(self) -> SupplyFacts | None:
        if not any(mark.isdigit() for mark in self.rest) and not any(mark.isalpha() for mark in self.rest):
            return None
        self._each(_TOLERANCE, lambda match: [])
        self._each(_EITHER, self._either)
        self._each(EITHER_PHASES, lambda match: [("phases", 1), ("phases", 3)])
        self._each(_RANGE, self._range)
        self._each(_LINES, lambda match: [("phases", 3 if match["three"] else 1)])
        self._each(_NO_N, lambda match: [("neutral", False)])
        self._each(_TIMES, self._times)
        if not self.free:
            self._each(_TIMES_ALONE, lambda match: [("phases", int(match["n"])), ("volts", float(match["volts"]))])
        self._each(_POLES, lambda match: [("phases", 3 if match["n"] == "T" else 1), ("neutral", True)])
        self._each(_CHAIN, self._chain)
        self._each(_SPACED, self._spaced)
        self._each(_HZ, self._hertz)
        self._each(_PHASES, lambda match: [("phases", int(match["n"])), *([("neutral", True)] if match["neutral"] else [])])
        self._each(_TILDE, lambda match: [("phases", int(match["n"])), ("current", "AC")])
        self._each(_WYE, self._pair)
        self._each(_VOLTS, self._volts)
        self._each(_IEC, self._iec)
        self._each(_CONDUCTORS, self._conductors)
        if not self.free or self.said:
            self._each(_WIRES, lambda match: [("wires", int(match["n"]))])
        if not self.free or self.said:
            self._each(_FASES, lambda match: [("phases", int(match["n"]))])
        if not self.free:
            self._each(_POLES_ALONE, lambda match: [("phases", 3 if match["n"] == "T" else 1)])
        if self.said and not self.free:
            self._each(_MARKS, self._mark)
            self._each(_KIND, self._kind)
        elif self.free and self.said:
            self._each(re.compile(r"(?<![\w.])(?P<what>AC|DC)(?!\w)(?P<sign>)"), self._kind)
        self._words()
        if self.said and not self.free and not any(one.fact in ("volts", "pair") for one in self.said):
            self._each(_BARE, lambda match: [("volts", float(match[1]))])
        elif self.said and self.free and not any(one.fact in ("volts", "pair") for one in self.said):
            self._each(_BARE, self._beside_phases)
        return self._settled()

    def _each(self, pattern: re.Pattern[str], read) -> None:
        def take(match: re.Match[str]) -> str:
            said = read(match)
            if said is None:
                return match[0]
            self.said += [_Said(fact, value, match.start(), match.end()) for fact, value in said]
            return "\0" * len(match[0])

        self.rest = pattern.sub(take, self.rest)

    def _spaced(self, match: re.Match[str]) -> list[tuple[str, object]]:
        return [("volts", float(match["volts"])), ("phases", int(match["phases"])), ("hertz", float(match["hertz"]))]

    def _times(self, match: re.Match[str]) -> list[tuple[str, object]]:
        """"3x400V+N" is a supply; in a sentence, "3 x 480 V heaters" may be three heaters."""
        announced = SUPPLY_WORD.search(self.rest[: match.start()]) is not None  # "Netz: 3 x 400 V"
        if self.free and not announced and not re.match(r"[^+;,]{0,14}\+\s*(?:N|PE)\b", self.rest[match.end() :]):
            self.doubts.append(f'"{match[0].strip()}" {PHASES_OR_COUNT}')
        return [("phases", int(match["n"]))]

    def _range(self, match: re.Match[str]) -> list[tuple[str, object]]:
        return [("volts", float(match["one"])), ("volts", float(match["other"]))]

    def _either(self, match: re.Match[str]) -> list[tuple[str, object]] | None:
        """ "220 or 440 V": one of the two, and nobody's guess which, though 230 and 400 would be a pair."""
        one, other = float(match["one"] or match["high"]), float(match["other"] or match["low"])
        if not {one, other} <= USUAL_VOLTS or one == other:
            return None
        self.doubts.append(f'"{match[0].strip()}" is either of two voltages')
        return [("volts", one), ("volts", other)]

    def _hertz(self, match: re.Match[str]) -> list[tuple[str, object]] | None:
        values = [number_in(match[name]) for name in ("one", "other") if match[name]]
        if any(value is None or not 10 <= value <= 1000 for value in values):
            return None
        return [("hertz", values[0])] if len(values) == 1 else []  # 50/60 Hz: for either, which says nothing of the supply

    def _conductors(self, match: re.Match[str]) -> list[tuple[str, object]]:
        marks = match["marks"]
        return [("phases", int(match["n"])), *[("neutral", True)] * ("N" in marks), *[("earth", True)] * ("PE" in marks)]

    def _volts(self, match: re.Match[str]) -> list[tuple[str, object]] | None:
        one = match["one"]
        before, _, last = one.rpartition(" ")
        if before and number_in(last) is not None and LEAST_BARE_VOLTS <= float(last) <= MOST_HEATER_VOLTS:
            if _OF_A_TAG.search(self.rest, 0, match.start()):  # "panel HP-3  600 V"
                one = last
            else:
                self.doubts.append(f'"{match[0].strip()}" may be {last} V beside another figure, or its thousands')
        value = volts_in(one, match["unit"])
        return None if value is None else [("volts", value), *current_of(match["unit"])]

    def _pair(self, match: re.Match[str]) -> list[tuple[str, object]] | None:
        figure = match["one"]
        if " " in figure and _OF_A_TAG.search(self.rest, 0, match.start()):  # "panel HP-3 480Y/277 V"
            figure = figure.rpartition(" ")[2]
        one, other = volts_in(figure, match["unit"] or "V"), volts_in(match["other"], match["unit"] or "V")
        if one is None or other is None or min(one, other) < LEAST_BARE_VOLTS:
            return None
        if not match["unit"] and match["mark"] == "/" and (
            _NOT_VOLTS.match(self.rest, match.end()) or (self.free and not is_pair(one, other))
        ):
            return None
        return [("pair", (max(one, other), min(one, other))), *current_of(match["unit"] or "")]

    def _iec(self, match: re.Match[str]) -> list[tuple[str, object]] | None:
        marks = re.findall(r"PEN|PE|N|M", match["marks"].upper())
        if (not marks and not match["kind"]) or (self.free and not self.said and not match["kind"]):
            return None
        said: list[tuple[str, object]] = [("phases", int(match["n"]))]
        said += [("neutral", True)] if {"N", "PEN", "M"} & set(marks) else []
        said += [("earth", True)] if {"PE", "PEN"} & set(marks) else []
        if match["kind"]:
            direct = match["kind"].upper() in ("DC", "⎓", "=")
            said = [("current", "DC"), *said[1:]] if direct else [*said, ("current", "AC")]  # 2/M DC counts conductors, not phases
        return said

    def _chain(self, match: re.Match[str]) -> list[tuple[str, object]] | None:
        """Figures between strokes or dashes: every one must have its meaning, and volts, phases or hertz be among them."""
        said: list[tuple[str, object]] = []
        volts: list[float] = []
        if self.free and _NUMBERED.match(match[0]) and self._of_a_word(match.start()):
            return None  # "BLDG 1 - 240 V" is on no one phase
        for piece in _SPLIT.split(match[0].strip()):
            one = _ONE.match(piece.strip())
            if one is None:
                return None
            what = meaning_of(one["n"], one["unit"].strip(" .-"), bool(volts), any(fact == "phases" for fact, _ in said))
            if what is None:
                return None
            if what[0] == "volts":
                volts.append(float(what[1]))  # type: ignore[arg-type]
            elif any(fact == what[0] for fact, _ in said):
                return None
            else:
                said.append(what)
            said += current_of(one["unit"])
        if len(volts) > 2 or (not volts and (self.free or {fact for fact, _ in said} != {"phases", "hertz"})):
            return None
        if not re.search(r"[a-z~ø]", match[0], re.IGNORECASE) and _NOT_VOLTS.match(self.rest, match.end()):
            return None
        if len(volts) == 2:
            if not said and self.free and "v" not in match[0].casefold() and not is_pair(*volts):
                return None
            said.append(("pair", (max(volts), min(volts))))
        elif volts:
            said.append(("volts", volts[0]))
        return said if len(said) > 1 or len(volts) == 2 else None

    def _of_a_word(self, start: int) -> bool:
        """May a figure be the number of the word before it, a building's or a line's?"""
        before = self.text[:start]
        if OF_ALL.search(before):
            return False
        return _OF_A_NUMBER.search(before) is not None and SUPPLY_WORD.search(before) is None and _PHASE_WORD.search(before) is None

    def _beside_phases(self, match: re.Match[str]) -> list[tuple[str, object]] | None:
        """ "480 3 phase", "3ph 480": a usual voltage right beside the phases, and no number of a tank or a room."""
        near = [one for one in self.said if one.fact == "phases"]
        between = [self.text[match.end() : one.start] if one.start >= match.end() else self.text[one.end : match.start()] for one in near]
        beside = any(not words.strip(" ,.") for words in between)
        if not beside or float(match[1]) not in USUAL_VOLTS or self._of_a_word(match.start()):
            return None
        return [("volts", float(match[1]))]

    def _mark(self, match: re.Match[str]) -> list[tuple[str, object]]:
        what = (match["what"] or match["bare"]).upper()
        said: list[tuple[str, object]] = [("neutral", True)] if what in ("N", "PEN") else []
        return [*said, ("earth", True)] if what in ("PE", "PEN", "G", "GND", "E") else said

    def _kind(self, match: re.Match[str]) -> list[tuple[str, object]]:
        direct = match["sign"] == "⎓" or (match["what"] or "").upper().startswith("D")
        return [("current", "DC" if direct else "AC")]

    def _words(self) -> None:
        """Words of all languages, looked up only where letters are left that may be such words."""
        if not re.search(r"[^\W\d_]{2,}", self.rest):
            return
        from batch.intake.vocabulary import vocabulary

        known = vocabulary()
        whole = {name: known[name].whole(self.text) for name in ("three_phase", "one_phase", "two_phase")}
        for name, phases in (("three_phase", 3), ("one_phase", 1), ("two_phase", 2)):
            for hit in known[name].find(self.rest):
                vague = known.number(hit.word) is not None or hit.word in ("single", "bi")
                if vague and (self.free or not whole[name]):
                    continue
                if self.free and not self.said and hit.word in ("tri", "mono"):
                    continue
                if hit.word.casefold() == "iii" and not (whole[name] or self.rest[: hit.start].rstrip(" ,/-").endswith("\0")):
                    continue  # chrome III; "400 V III" has its volts before it
                self._word("phases", phases, hit.start, hit.end)
        pairs = (("no_neutral", "neutral", False), ("neutral", "neutral", True), ("earth", "earth", True))
        for name, fact, value in (*pairs, ("alternating", "current", "AC"), ("direct", "current", "DC")):
            for hit in known[name].find(self.rest) if self.said else ():
                if len(hit.word) > 2:
                    self._word(fact, value, hit.start, hit.end)

    def _word(self, fact: str, value: object, start: int, end: int) -> None:
        self.said.append(_Said(fact, value, start, end))
        self.rest = self.rest[:start] + "\0" * (end - start) + self.rest[end:]

    def _settled(self) -> SupplyFacts:
        against: list[str] = []
        values: dict[str, object] = {}
        for fact in ("phases", "wires", "neutral", "earth", "hertz", "current"):
            some = list(dict.fromkeys(one.value for one in self.said if one.fact == fact))
            if len(some) > 1:
                against.append(_against(fact, some))
            elif some:
                values[fact] = some[0]
        high, low = self._voltages(against)
        phases = values.get("phases")
        if high and low:
            if abs(high / low / 2 - 1) < EXACT_ENOUGH:
                self.doubts.append(f"{high:g}/{low:g} V may be a supply of three wires, or a heater for either voltage")
            elif phases in (1, 2):
                self.doubts.append(f"{phases}-phase on {high:g}/{low:g} V may be on {high:g} V or on {low:g} V")
        spans = tuple((one.fact, one.start, one.end) for one in self.said)
        return SupplyFacts(high, low, **values, contradictions=tuple(against), doubts=tuple(self.doubts), spans=spans)  # type: ignore[arg-type]

    def _voltages(self, against: list[str]) -> tuple[float | None, float | None]:
        pairs = list(dict.fromkeys(one.value for one in self.said if one.fact == "pair"))
        single = list(dict.fromkeys(one.value for one in self.said if one.fact == "volts"))
        named = sorted({*single, *(value for pair in pairs for value in pair)}, reverse=True)  # type: ignore[attr-defined]
        if not named:
            return None, None
        if len(named) == 1:
            return float(named[0]), None
        twice = not pairs and sum(one.fact == "phases" for one in self.said) > 1  # "400 V 3 ph, 230 V 3 ph": two supplies
        if len(named) == 2 and is_pair(*named) and not twice:
            return float(named[0]), float(named[1])
        against.append(f"{' and '.join(f'{volts:g}' for volts in named)} V")
        return None, None


def _against(fact: str, values: Iterable[object]) -> str:
    words = {"neutral": "with and without neutral", "earth": "with and without earth", "current": "AC and DC"}
    units = {"phases": "phases", "wires": "wires", "hertz": "Hz"}
    return words.get(fact) or f"{' and '.join(f'{value:g}' for value in values)} {units[fact]}"
