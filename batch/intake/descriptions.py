"""Descriptions that hold several facts: "(3) 4.5 kW 240 V 1 ph immersion htrs, 316SS, 36 in hot zone".

Every fact is found with its place, and a place gives one fact only. A fact that is found twice with two values is in doubt;
powers of each and of all are both kept where the count makes them agree.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import lru_cache
from typing import NamedTuple

from msgspec import Struct

from batch.intake.counts_named import BEHIND, BRACKET, DASHED, EITHER, GROUPS, IN_FRONT, LABEL, MORE, PAIRS, PIECES, PLUS, PRODUCT
from batch.intake.heading_sense import concepts_of
from batch.intake.numbers import speak
from batch.intake.powers_named import COUNT_BEHIND, PIECES_BETWEEN, kilowatts
from batch.intake.powers_named import FIGURE as _F
from batch.intake.powers_named import LEADING as _LEADING
from batch.intake.powers_named import POWER_UNIT as _POWER_UNIT
from batch.intake.sheath_words import sheaths_in
from batch.intake.supply_notation import SupplyFacts, fields_apart, supply_in_text
from batch.intake.vocabulary import vocabulary
from batch.intake.wording import composed, tokens
from batch.units import between, spelled

LONGEST = 400
CLOSE = 0.005  # powers agree within half of a per cent: "13.5 kW total (3 x 4.5 kW)" may be rounded
_DENSITY = re.compile(rf"(?:{_F})\s*(?:W|watts?)\s*(?:/|per)\s*(?:in|sq|cm|cm2|cm²|in²|in2|dm)[\w².]*(?:\s*in\.?)?", re.IGNORECASE)
_PIECE = r"\s?(?:ea|each|pcs?|pce|piece|htr|heater|stk|stck|st[üu]ck|st|pza|pz|pi[èe]ce|ud|un|szt|ks)\b"  # "6 kW/pc"
_STROKE = rf"/(?!\x00{{3}}|{_PIECE})"  # behind a power: "9 kW/m", and not that of "3kW/208V", of which the supply has been read
_POWER = re.compile(rf"(?<![\w.,/])(?P<number>{_F})\s*-?\s*(?P<unit>{_POWER_UNIT})(?![\w²³]|{_STROKE})\.?", re.IGNORECASE)
_NEXT_POWER = re.compile(rf"\s?(?:{_F})\s*-?\s*(?:{_POWER_UNIT})(?![\w²³]|{_STROKE})", re.IGNORECASE)
_EQUATION = re.compile(
    rf"(?<![\w.,/])(?P<count>\d{{1,3}})\s*[x×*@]\s*(?P<each>{_F})\s*(?:{_POWER_UNIT})?"
    rf"\s*=\s*(?P<all>{_F})\s*(?P<unit>{_POWER_UNIT})(?!\w)",
    re.IGNORECASE,
)
_ORDINAL = frozenset(  # a figure behind one of these is a name, not a count
    {"no", "nr", "number", "item", "line", "tank", "bath", "station", "heater", "unit", "bank", "rev", "note"}
    | {"stage", "cell", "step", "pos"}
    | {"cuve", "becken", "vasca", "wanna", "bad", "cuba", "tanque", "kar", "vana", "lazen"}
)
_LENGTH = re.compile(
    rf"(?<![\w.,/])(?P<number>{_F}|\d+\s+\d+/\d+)\s*-?\s*(?P<unit>mm|cm|m|inches|inch|in|ft|feet|\"|″|'|′)(?![\w²³])\.?", re.IGNORECASE
)
_MEASURE = re.compile(
    rf"(?<![\w.,/])(?:{_F})\s*-?\s*"
    r"(?:°\s?[CF]|deg\.?\s?[CF]|gal(?:lons?)?|gpm|cfm|l|liters?|litres?|m³|m3|psi|bar|A|amps?|hours?|hrs?|h|min|rpm|kg|lbs?|%|tons?|kVA)(?![\w²³])\.?",
    re.IGNORECASE,
)
NEAR = 22  # characters between a power and the word that says of what it is
AHEAD = 4  # words between a number and the heaters it counts


class Found(NamedTuple):
    """One fact and where it stands in the text (composed, NFC)."""

    value: object
    start: int
    end: int
    seen: str


class DescriptionFacts(Struct, frozen=True):
    """What a description says; None where it does not say.

    quantity          heaters; `quantity_of` "per tank" or "total" where it says so
    spare             heaters said to be spare, beside them
    power_kw          of one heater, or of what is not said: `power_said` is True where the text says that it is of each
    total_kw          of all, or of a tank (`total_of` "per tank")
    foreign           the unit of a power that heaters are rarely given in: "hp", "BTU/h"
    supply            volts, phases, hertz
    kind              "heater", "other" equipment, or "" where no word says which
    doubts            (key, words): what is found twice and differs, or has two meanings
    """

    quantity: Found | None = None
    quantity_of: str = ""
    spare: Found | None = None
    power_kw: Found | None = None
    power_said: bool = False
    total_kw: Found | None = None
    total_of: str = ""
    foreign: str = ""
    supply: SupplyFacts | None = None
    sheath: Found | None = None
    heated_length_mm: Found | None = None
    kind: str = ""
    doubts: tuple[tuple[str, str], ...] = ()

    def doubt(self, key: str) -> str:
        """What is in doubt about one fact, in words; "" where nothing is."""
        return "; ".join(words for about, words in self.doubts if about == key)


class _Power(NamedTuple):
    found: Found
    basis: str  # "", "each", "total", "per tank"
    unit: str
    product: bool  # stands behind a count: "3 x 6 kW"


@lru_cache(maxsize=4096)
def read_description(text: str) -> DescriptionFacts:
    """The facts of a description, a scope line, or an item's text."""
    return _Reading(text).facts()


class _Reading:
    def __init__(self, text: str) -> None:
        self.text = composed(text)[:LONGEST]
        self.rest = fields_apart(self.text.replace("\u00a0", " ").replace("\u202f", " ").replace("\u2009", " "))
        self.doubts: list[tuple[str, str]] = []

    def facts(self) -> DescriptionFacts:
        supply = supply_in_text(self.text)
        for _, start, end in supply.spans if supply else ():
            self._blank(start, end)
        sheath = self._sheath()
        for pattern in (_DENSITY, _MEASURE):
            for match in pattern.finditer(self.rest):
                self._blank(match.start(), match.end())
        length = self._length()
        spare, counts = self._spare()
        powers, summed = self._equation()
        counts += summed + self._pairs() + self._dashed() + self._products()
        powers += self._powers()
        counts += self._counts(powers)
        quantity = self._one("quantity", counts)
        if groups := GROUPS.search(self.text):
            self.doubts.append(("quantity", f'"{groups[0].strip()}": whether the count is of one or of all is not said'))
            quantity = None
        if either := EITHER.search(self.text):
            self.doubts.append(("quantity", f'"{either[0].strip()}": which of the two is not said'))
            quantity = None
        each, total, said, total_of = self._sort(powers, quantity)
        kind = self._kind()
        if kind != "heater" and not powers and not length:  # of a bath, a tank, or of what is treated there: "titanium etch"
            sheath, self.doubts = None, [(about, said) for about, said in self.doubts if about != "sheath"]
        foreign = next((one.unit for one in powers if spelled(one.unit) is None), "")
        for contradiction in (*supply.contradictions, *supply.doubts) if supply else ():
            self.doubts.append(("supply", contradiction))
        return DescriptionFacts(
            quantity, self._quantity_of(), spare, each, said, total, total_of, foreign, supply, sheath, length, kind,
            tuple(dict.fromkeys(self.doubts)),
        )  # fmt: skip

    def _blank(self, start: int, end: int) -> None:
        self.rest = self.rest[:start] + "\0" * (end - start) + self.rest[end:]

    def _found(self, value: object, start: int, end: int) -> Found:
        return Found(value, start, end, self.text[start:end].strip())

    def _length(self) -> Found | None:
        """A length beside a word for the heated length; other lengths are taken out, so that they count nothing."""
        places = [(hit.start, hit.end) for hit in vocabulary().names_of("heated_length_mm").find(self.rest)]
        hot = [(match.start(), match.end()) for match in re.finditer(r"\b(?:hot|heated|immersed)\b", self.rest, re.IGNORECASE)]
        found = []
        for match in _LENGTH.finditer(self.rest):
            said, unit = speak(match["number"]), spelled(match["unit"])
            near = [place for place in places + hot if 0 <= place[0] - match.end() <= 4 or 0 <= match.start() - place[1] <= 6]
            if said and said.other is None and unit and unit.quantity == "length" and near:
                millimetre = spelled("mm")
                if millimetre is not None:
                    found.append(self._found(between(said.value, unit, millimetre), match.start(), match.end()))
            if unit is not None:
                self._blank(match.start(), match.end())
        return self._one("heated_length_mm", found)

    def _spare(self) -> tuple[Found | None, list[Found]]:
        """ "4+1 spare": four, and one spare beside them."""
        match = PLUS.search(self.rest)
        if match is None:
            more = MORE.search(self.rest)
            hits = vocabulary()["spare"].find(self.rest[more.end() : more.end() + 12]) if more else ()
            if more is None or not hits:
                return None, []
            self._blank(more.start(), more.end() + hits[0].end)
            return self._found(int(more["more"]), more.start("more"), more.end("more")), []
        spare = vocabulary()["spare"].find(self.rest[match.end() : match.end() + 30])
        if not spare:
            self.doubts.append(("quantity", f'"{match[0].strip()}" does not say what the {match["more"]} are for'))
            return None, []
        self._blank(match.start(), match.end() + spare[0].end)
        return (
            self._found(int(match["more"]), match.start("more"), match.end("more")),
            [self._found(int(match["run"]), match.start("run"), match.end("run"))],
        )

    def _equation(self) -> tuple[list[_Power], list[Found]]:
        """ "3 x 6 = 18 kW": the count, the power of each, and that of all."""
        match = _EQUATION.search(self.rest)
        if match is None:
            return [], []
        each, total = (kilowatts(match[name], match["unit"]) for name in ("each", "all"))
        found = [
            _Power(self._found(value, match.start(name), match.end(name)), basis, match["unit"], True)
            for value, name, basis in ((each, "each", "each"), (total, "all", "total"))
            if value is not None
        ]
        count = self._found(int(match["count"]), match.start("count"), match.end("count"))
        self._blank(match.start(), match.end())
        return found, [count]

    def _pairs(self) -> list[Found]:
        """ "a pair of 9 kW": two; "two pairs": four."""
        found = []
        for match in PAIRS.finditer(self.rest):
            word = match["count"] or "1"
            number = int(word) if word.isdecimal() else vocabulary().number(word) or 1
            start = match.start() if number > 1 or word in ("1", "one", "a") else match.start() + len(word)
            found.append(self._found(2 * number, start, match.end()))
            self._blank(start, match.end() - 1)
            self.rest = self.rest[: match.end() - 1] + "×" + self.rest[match.end() :]
        return found

    def _dashed(self) -> list[Found]:
        """ "6-4.5 kW" is six of 4.5 kW; "3-9 kW" may be three of 9 kW, or from 3 to 9 kW, and is asked about."""
        match = DASHED.search(self.rest)
        each = speak(match["each"]) if match is not None else None
        if match is None or each is None or each.value is None:
            return []
        if 1 < int(match["count"]) < each.value and not match["pieces"]:
            self.doubts.append(("quantity", f'"{match[0].strip()}" is a number and a power, or two powers'))
            return []
        end = match.start("each")
        found = self._found(int(match["count"]), match.start(), end)
        self._blank(match.start(), end - 1)
        self.rest = self.rest[: end - 1] + "×" + self.rest[end:]
        return [found]

    def _products(self) -> list[Found]:
        """ "3 x 6 kW", "(3) 6 kW", "3 ea. 6 kW": the count, with a mark left behind that the power is of each."""
        found = []
        for match in [*PRODUCT.finditer(self.rest), *BRACKET.finditer(self.rest), *IN_FRONT.finditer(self.rest)]:
            if _NEXT_POWER.match(self.rest, match.end()):
                found.append(self._found(int(match["count"]), match.start(), match.end()))
                self._blank(match.start(), match.end() - 1)
                self.rest = self.rest[: match.end() - 1] + "×" + self.rest[match.end() :]
        return found

    def _powers(self) -> list[_Power]:
        found = []
        for match in _POWER.finditer(self.rest):
            value = kilowatts(match["number"], match["unit"])
            unit = " ".join(match["unit"].split())
            if value is None:
                self.doubts.append(("power_kw", f'"{match[0].strip()}" can be read two ways'))
                continue
            product = self.rest[: match.start()].rstrip().endswith("×")
            found.append(_Power(self._found(value, match.start(), match.end()), self._basis(match, product), unit, product))
        for one in found:
            self._blank(one.found.start, one.found.end)
        return found

    def _behind(self, powers: list[_Power]) -> list[Found]:
        """ "6 kW x 3": the count behind the power."""
        found = []
        for one in powers:
            if match := BEHIND.match(self.rest, one.found.end):
                found.append(self._found(int(match["count"]), match.start("count"), match.end("count")))
                self._blank(match.start(), match.end())
        return found

    def _basis(self, match: re.Match[str], product: bool) -> str:
        """What the words beside a power say it is of; behind it first, then before it."""
        behind = re.split(r"[\d;\0]", self.rest[match.end() : match.end() + NEAR])[0]
        before = re.split(r"[\d;,\0)×]", self.rest[max(match.start() - NEAR, 0) : match.start()])[-1]
        if re.match(rf"/{_PIECE}", behind, re.IGNORECASE):
            return "each"
        known = vocabulary()
        for words_beside in (behind.split(",")[0], before):
            for name, basis in (("per_tank", "per tank"), ("per_heater", "each"), ("total", "total")):
                hits = known[name].find(words_beside)
                if any(name != "per_tank" or " " in hit.word or hit.word.startswith("/") for hit in hits):
                    return "each" if product and basis == "per tank" else basis
        return "each" if product else ""

    def _counts(self, powers: list[_Power]) -> list[Found]:
        found = self._behind(powers)
        for pattern in (LABEL, BRACKET, PIECES):
            for match in pattern.finditer(self.rest):
                found.append(self._found(int(match["count"]), match.start(), match.end()))
                self._blank(match.start(), match.end())
        if powers and (leading := _LEADING.match(self.text)) and "\0" not in self.rest[leading.start("count") : leading.end("count")]:
            found.append(self._found(int(leading["count"]), leading.start("count"), leading.end("count")))
            self._blank(leading.start("count"), leading.end("count"))
        return found + self._counted_heaters(powers)

    def _counted_heaters(self, powers: list[_Power]) -> list[Found]:
        """ "two 9 kW heaters", "3 immersion heaters": a number, in words or figures, before the word heaters or before a power."""
        known = vocabulary()
        seen = tokens(self.rest)
        starts = {power.found.start for power in powers}
        found = []
        for at, token in enumerate(seen):
            figure = token.word.isdecimal() and len(token.word) <= 2
            value = int(token.word) if figure else known.number(token.word)
            if not value or (figure and self.rest[token.start - 1 : token.start] in ("-", ".", ",", "/", "#")):
                continue
            if at and (seen[at - 1].word in _ORDINAL or "tank" in concepts_of(seen[at - 1].word)):
                continue  # "Vat 5 chrome immersion heater" is one of vat 5
            after = seen[at + 1 : at + 1 + AHEAD]
            before_power = any(0 < start - token.end <= 3 or PIECES_BETWEEN.fullmatch(self.rest[token.end : start]) for start in starts)
            named = next((n for n, one in enumerate(after) if known["heaters"].among((one.word,))), -1)
            between_them = self.rest[token.end : after[named].start] if named >= 0 else ""
            of_tank = any(hit.start <= 1 and " " in hit.word for hit in known["per_tank"].find(self.rest[token.end : token.end + NEAR])[:1])
            counts_heaters = named >= 0 and not re.search(r"\d|[;]", between_them) and not known["spare"].find(between_them)
            if counts_heaters or (before_power and not figure) or (of_tank and powers):  # "2 per tank, 9 kW ea"
                found.append(self._found(value, token.start, token.end))
        return found

    def _quantity_of(self) -> str:
        known = vocabulary()
        return "per tank" if any(" " in hit.word or hit.word[:1] == "/" for hit in known["per_tank"].find(self.text)) else ""

    def _one(self, key: str, found: Iterable[Found]) -> Found | None:
        """The one value that was found; in doubt where there are several."""
        some = sorted(found, key=lambda one: one.start)
        values = list(dict.fromkeys(one.value for one in some))
        if len(values) > 1:
            self.doubts.append((key, " and ".join(dict.fromkeys(one.seen for one in some))))
            return None
        return some[0] if some else None

    def _sort(self, powers: list[_Power], quantity: Found | None) -> tuple[Found | None, Found | None, bool, str]:
        """Powers of each and of all apart: by the words beside them, else by the count that makes them agree."""
        each = [one for one in powers if one.basis == "each"]
        total = [one for one in powers if one.basis in ("total", "per tank")]
        bare = [one for one in powers if not one.basis]
        count = quantity.value if quantity is not None and isinstance(quantity.value, int) else 0
        if len({one.found.value for one in bare}) == 2 and not each and not total and count > 1:
            low, high = sorted(bare, key=lambda one: float(one.found.value))  # type: ignore[arg-type]
            if _agree(low, high, count):
                each, total, bare = [low], [high], []
        elif bare and each and not total and count > 1 and _agree(each[0], bare[0], count):
            total, bare = bare, []
        elif bare and total and not each:
            each, bare = bare, []
        said = bool(each) and all(one.basis == "each" for one in each)
        one_each = self._one("power_kw", [one.found for one in (*each, *bare)])
        one_total = self._one("total_kw", [one.found for one in total])
        if one_each and one_total and count and not _agree(each[0] if each else bare[0], total[0], count):
            self.doubts.append(("power_kw", f"{one_total.seen} is not {count} times {one_each.seen}"))
        behind = self.text[bare[0].found.end : quantity.end] if quantity and len(bare) == 1 and not each and not total else ""
        if count > 1 and COUNT_BEHIND.match(behind):
            self.doubts.append(("power_kw", f"whether {bare[0].found.seen} is that of each or of all {count} is not said"))
        total_of = total[0].basis if one_total else ""
        return one_each, one_total, said, total_of

    def _sheath(self) -> Found | None:
        longest, every = sheaths_in(self.text, self.rest)
        for hit in every:
            self._blank(hit.start, hit.end)
        return self._one("sheath", [self._found(self.text[hit.start : hit.end], hit.start, hit.end) for hit in longest])

    def _kind(self) -> str:
        """Heater or other equipment, by the first word for either; a "unit heater" and a "heater thermostat" are other equipment."""
        known = vocabulary()
        others = known["other_equipment"].find(self.text)
        heaters = [hit for hit in known["heaters"].find(self.text) if not any(o.start < hit.end <= o.end for o in others)]
        heaters = [hit for hit in heaters if not any(o.start >= hit.end and not self.text[hit.end : o.start].strip() for o in others)]
        inside = [hit for hit in others if not any(h.start <= hit.start and hit.end < h.end for h in heaters)]
        first = sorted([*((hit.start, "heater") for hit in heaters), *((hit.start, "other") for hit in inside)])
        return first[0][1] if first else ""


def _agree(each: _Power, total: _Power, count: int) -> bool:
    one, other = float(each.found.value), float(total.found.value)  # type: ignore[arg-type]
    return abs(one * count - other) <= CLOSE * other
