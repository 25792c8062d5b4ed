"""What a heading of somebody's list may mean: every column of ours, and every role that is none, each with how well it fits.

Nothing is decided here: a heading's candidates are one witness, its values another. What is not ours is named too (pH, voltage
drop, kilowatts of rectifiers), so that a better rival claims the heading.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from enum import StrEnum
from typing import TYPE_CHECKING, NamedTuple

from batch.intake.wording import spellings, words
from batch.sheets.inputs import FEEDERS, HEATERS, TANKS
from batch.units import Unit, spelled

if TYPE_CHECKING:
    from batch.intake.vocabulary import Vocabulary

SHEETS = {sheet.id: sheet for sheet in (HEATERS, TANKS, FEEDERS)}
SHARED = "shared"
BASES = {"": "", "each": "each", "per": "per tank", "total": "total"}
OWN, KNOWN, TRIMMED, NEAR, COMPOUND, BY_UNIT = 1.0, 0.95, 0.9, 0.8, 0.7, 0.5  # judgement, no source: only their order matters
WITHIN = 0.85  # a name among other words, at most
OVERRULED, WRONG_UNIT, OF_OTHERS = 0.5, 0.3, 0.35
LEAST = 0.12
NEAR_ENOUGH = 86  # of 100: one letter wrong in seven
BRACKETS = re.compile(r"[(\[{]([^()\[\]{}]*)[)\]}]")
UNIT_AT = re.compile(r"[,;:|/–—-]\s*([^,;:|–—]{1,14})\Z|\s(?:in|en|em|w)\s+(\S{1,8})\Z")
OF_ISSUE = re.compile(  # "Qty rev A" is no number of amps
    r"\b(?:r[eé]v(?:ision|isi[óo]n|is[ãa]o|isione|ize)?|rew(?:izja)?|issue|index|indice|ausgabe|uitgave)\.?\s*[A-Z]\b", re.IGNORECASE
)
LONGEST = 200  # characters; what is longer is no heading


class Role(StrEnum):
    """What a column is that is none of ours. The first ones help to read the others; the rest are named to be left alone."""

    AMPS = "amps"
    SUPPLY = "supply"  # volts, phases and hertz in one cell
    HERTZ = "hertz"
    STATUS = "status"
    DESCRIPTION = "description"
    UNIT = "unit"
    NUMBER_OF_TANKS = "number_of_tanks"
    WATT_DENSITY = "watt_density"
    TOTALS = "totals"  # "Total", of what its values say
    KVA = "kva"
    SPARES = "spares"
    SERIAL = "serial"
    AREA = "area"
    PH_VALUE = "ph_value"
    POWER_REQUIRED = "power_required"
    VOLTAGE_DROP = "voltage_drop"
    TANK_DIAMETER = "tank_diameter"
    ANODES = "anodes"
    CATHODES = "cathodes"
    OTHER_POWER = "other_power"
    OTHER_TEMPERATURE = "other_temperature"
    REVISION = "revision"
    WEIGHT = "weight"
    PRICE = "price"
    DATE = "date"
    ORDER = "order"
    MAKER = "maker"
    STEPS = "steps"
    SENSOR = "sensor"
    CYCLE = "cycle"
    CHECK_SUM = "check_sum"


class Candidate(NamedTuple):
    """One meaning of a heading.

    sheet_id  "heaters", "tanks" or "feeders"; "" where `key` is a Role
    score     0 to 1: an exact name 0.95 and up, a name among other words by how much of the heading it covers
    unit      of bare numbers below, where the heading says it
    basis     of a power or a count: "each", "per tank", "total"; "" where the heading does not say
    why       evidence in words
    """

    sheet_id: str
    key: str
    score: float
    unit: Unit | None = None
    basis: str = ""
    why: str = ""
    language: str = ""


class _Name(NamedTuple):
    sheet_id: str
    key: str
    basis: str
    parts: tuple[str, ...]
    text: str
    language: str
    score: float


QUANTITIES = {Role.AMPS: "current", Role.KVA: "apparent power", Role.POWER_REQUIRED: "power", Role.OTHER_TEMPERATURE: "temperature"}
BY_QUANTITY: dict[str, tuple[tuple[str, str], ...]] = {  # what a heading may be that says a unit and nothing else that is known
    "power": (("heaters", "power_kw"),), "volts": (("heaters", "volts_v"), ("feeders", "volts_v")), "current": (("", Role.AMPS),),
    "temperature": (("tanks", "operating_c"),), "volume": (("tanks", "volume_l"),), "apparent power": (("", Role.KVA),),
}  # fmt: skip
COSTS_AND_NUMBERS = {Role.PRICE, Role.MAKER, Role.ORDER}  # which have no unit of power
SHORT_FORM = 3  # letters of a heading cut to them, as P.U. and P/N: judgement, no source
WITH_BASIS = {"power_kw", "quantity", Role.AMPS}
ELECTRICAL = {"power_kw", "volts_v", "phases", "quantity", Role.AMPS}


def split_basis(entry: str) -> tuple[str, str | None]:
    """("power_kw", "per tank") of "power_kw per tank"; the basis is None where it is none of the three."""
    key, _, basis = entry.partition(" ")
    return key, basis if basis in ("", "each", "per tank", "total") else None


def quantity_of(sheet_id: str, key: str) -> str:
    """The quantity that the column's numbers are of: "power", "volts"; "" for plain figures and texts."""
    if not sheet_id:
        return QUANTITIES.get(key, "")  # type: ignore[call-overload]
    column = SHEETS[sheet_id][key]
    unit = spelled(column.unit) if column.unit else None
    return unit.quantity if unit and column.kind in ("number", "integer", "volts") else ""


class HeadingWords:
    """All names of all columns and roles, ready to be looked up."""

    def __init__(self, vocabulary: Vocabulary) -> None:
        self.vocabulary = vocabulary
        self.names: dict[tuple[str, ...], list[_Name]] = {}
        self.squeezed: dict[str, list[_Name]] = {}
        self.by_word: dict[str, list[_Name]] = {}
        seen: set[tuple[str, str, tuple[str, ...]]] = set()
        for sheet_id, key, basis, text, language, score in self._all():
            for parts in spellings(text):
                if (sheet_id, key, parts) in seen:
                    continue
                seen.add((sheet_id, key, parts))
                basis = basis or (self._basis_in(parts) if key in WITH_BASIS else "")
                name = _Name(sheet_id, key, basis, parts, text, language, score)
                self.names.setdefault(parts, []).append(name)
                self.squeezed.setdefault("".join(parts), []).append(name)
                self.by_word.setdefault(max(parts, key=len), []).append(name)
        self._memory: dict[str, list[Candidate]] = {}
        behind = sorted(vocabulary["per_tank"].behind_stroke | vocabulary["per_heater"].behind_stroke, key=len, reverse=True)
        self._stroke = re.compile(rf"/\s*({'|'.join(map(re.escape, behind))})(?!\w)", re.IGNORECASE)
        self._endings = [one for one in self.squeezed if len(one) >= 6 and one.isalpha()]

    def _all(self) -> Iterable[tuple[str, str, str, str, str, float]]:
        for sheet in SHEETS.values():
            for column in sheet.columns:
                yield sheet.id, column.key, "", column.heading, "en", OWN
                yield sheet.id, column.key, "", column.key, "en", OWN
        for sheet_id, key, basis, name, language in self.vocabulary.headings:
            yield sheet_id, key, basis, name, language, KNOWN
        for sheet in SHEETS.values():
            for column in sheet.columns:
                for other in column.also:
                    yield sheet.id, column.key, "", other, "en", KNOWN

    def candidates(self, text: str) -> list[Candidate]:
        """What the heading may mean, the likeliest first."""
        if text not in self._memory:
            self._memory[text] = self._look(text) if len(text) <= LONGEST else []
        return self._memory[text]

    def is_name(self, text: str) -> bool:
        """Is the text, brackets left out, a name of a column or a role?"""
        return any(parts in self.names or "".join(parts) in self.squeezed for parts in (words(text), words(BRACKETS.sub(" ", text))))

    def _look(self, text: str) -> list[Candidate]:
        found: dict[tuple[str, str, str], tuple[Candidate, frozenset[str]]] = {}

        def offer(candidate: Candidate, parts: Iterable[str]) -> None:
            at = (candidate.sheet_id, str(candidate.key), candidate.basis)
            if candidate.score >= LEAST and (at not in found or candidate.score > found[at][0].score):
                found[at] = (candidate, frozenset(parts))

        for cased, role in self.vocabulary.cased.items():
            if re.search(rf"(?<!\w){re.escape(cased)}(?!\w)", text):
                offer(Candidate("", Role(role), OWN, None, "", f'"{cased}" so spelt', ""), [*words(cased), "\0"])
        text = self._stroke.sub(r" per \1", text)
        everything = words(text)
        if self.vocabulary["totals"].whole(text):
            offer(Candidate("", Role.TOTALS, TRIMMED, None, "", f'"{text.strip()}" is a word for a total'), everything)
        variants = list(self._variants(text))
        for parts, unit, less in variants:
            self._exact(parts, unit, less, offer)
        for parts, unit, _ in variants:
            self._within(parts, unit, everything, offer)
        if not found or max(one.score for one, _ in found.values()) < COMPOUND:
            self._nearly(text, variants, offer)
        if not OF_ISSUE.search(text):
            self._by_unit(variants, found, offer)
        return self._ranked(found, everything)

    def _variants(self, text: str) -> Iterable[tuple[tuple[str, ...], Unit | None, float]]:
        """The heading's words, the unit said, and what is taken off for words left out: all of them; without what stands
        in brackets; without a unit at its end or beginning."""
        said = self._unit_said(text)
        inside = [part for part in BRACKETS.findall(text) if part.strip()]
        bare = BRACKETS.sub(" ", text)
        units = [unit for part in inside if (unit := self._unit_in(part))]
        yield words(text), said, 0.0
        less = 0.0 if all(self._says_nothing(part) for part in inside) else 0.05
        if inside:
            yield words(bare), (units[0] if units else said), less
        parts = words(bare)
        if tail := UNIT_AT.search(bare.strip()):
            unit = self._unit_in(tail[1] or tail[2] or "")
            if unit:
                yield words(bare.strip()[: tail.start()]), unit, less
        for count in (2, 1):
            if len(parts) > count:
                if unit := self.vocabulary.unit(" ".join(parts[-count:])):
                    yield parts[:-count], unit, less
                if unit := self.vocabulary.unit(" ".join(parts[:count])):
                    yield parts[count:], unit, less
        if " | " in text:  # of headings one above the other, the lowest by itself
            yield words(text.rpartition(" | ")[2]), said, 0.0

    def _says_nothing(self, part: str) -> bool:
        """Is a piece in brackets a unit, or words that change nothing?"""
        some = words(part)
        return bool(self._unit_in(part)) or not self._trimmed(some) or self._basis_in(("x", *some)) != ""

    def _unit_said(self, text: str) -> Unit | None:
        """The one unit that stands anywhere in the heading; None where there is none or several."""
        units = {unit for part in re.split(r"[\s,;:()\[\]{}|_–—]+", text) if part and (unit := self.vocabulary.unit(part.strip(".*")))}
        return next(iter(units)) if len(units) == 1 else None

    def _unit_in(self, text: str) -> Unit | None:
        """The unit that a piece of a heading is, by itself or with words that change nothing: "kW each"."""
        whole = self.vocabulary.unit(text.strip().strip(".*:").strip())
        if whole:
            return whole
        for some, _ in self._based(words(text)):
            if len(some) and (unit := self.vocabulary.unit(" ".join(self._trimmed(some)))):
                return unit
        return None

    def _basis_in(self, parts: tuple[str, ...]) -> str:
        return [*self._based(parts)][-1][1]

    def _based(self, parts: tuple[str, ...]) -> Iterable[tuple[tuple[str, ...], str]]:
        """The words as they are, and without those that say of what a power or a count is."""
        yield parts, ""
        best: tuple[int, tuple[str, ...], str] | None = None
        for listed, basis in (("per_tank", "per tank"), ("per_heater", "each"), ("total", "total")):
            for start, end in self.vocabulary[listed].among(parts):
                rest = parts[:start] + parts[end:]
                if rest and (best is None or end - start > best[0]):
                    best = (end - start, rest, basis)
        if best:
            yield best[1], best[2]

    def _trimmed(self, parts: tuple[str, ...]) -> tuple[str, ...]:
        fillers = self.vocabulary["fillers"].among(parts)
        gone = {at for start, end in fillers for at in range(start, end)}
        return tuple(part for at, part in enumerate(parts) if at not in gone)

    def _exact(self, parts: tuple[str, ...], unit: Unit | None, less: float, offer) -> None:
        for some, basis in self._based(parts):
            lesser = less if some == parts else less + 0.02
            for tried, most in ((some, OWN), (self._trimmed(some), TRIMMED)):
                for name in self.names.get(tried) or self.squeezed.get("".join(tried)) or ():
                    offer(self._candidate(name, min(name.score, most) - lesser, unit, basis, "is a name of it"), name.parts)

    def _within(self, parts: tuple[str, ...], unit: Unit | None, everything: tuple[str, ...], offer) -> None:
        """Names among other words: the more of the heading a name covers, the better."""
        if len(parts) < 2:
            return
        fillers = {part for part in parts if self.vocabulary["fillers"].among((part,))}
        whole = sum(0.3 * len(part) if part in fillers else len(part) for part in parts)
        if not whole:
            return
        _, basis = [*self._based(parts)][-1]
        for word in set(parts):
            for name in self.by_word.get(word, ()):
                if len(name.parts) < len(parts) and set(name.parts) <= set(parts) and not self._of_pieces(name):
                    covered = sum(0.3 * len(part) if part in fillers else len(part) for part in set(name.parts))
                    score = WITHIN * (0.35 + 0.65 * min(covered / whole, 1.0))
                    offer(self._candidate(name, score, unit, basis, "stands in it"), name.parts)

    def _of_pieces(self, name: _Name) -> bool:
        """Is the name a word such as "ea", that says something of the words beside it?"""
        text = " ".join(name.parts)
        return name.key == "quantity" and any(text in self.vocabulary[listed] for listed in ("per_heater", "pieces"))

    def _candidate(self, name: _Name, score: float, unit: Unit | None, basis: str, how: str) -> Candidate:
        own = self.vocabulary.unit(name.text) or unit
        wanted = quantity_of(name.sheet_id, name.key)
        if unit is not None and unit.quantity == "power" and name.key in COSTS_AND_NUMBERS and len("".join(name.parts)) <= SHORT_FORM:
            score *= WRONG_UNIT  # "Pu (kW)" is no price, and "Pn (kW)" no part number
        if own and own.quantity != wanted:
            foreign = wanted and unit is not None and unit.quantity != wanted
            score, own = (score * WRONG_UNIT if foreign else score), None
        basis = (name.basis or basis) if name.key in WITH_BASIS else ""
        return Candidate(name.sheet_id, name.key, round(score, 3), own, basis, f'"{name.text}" {how}', name.language)

    def _nearly(self, text: str, variants: list[tuple[tuple[str, ...], Unit | None, float]], offer) -> None:
        """Words cut short with a point, words put together, and words misspelt."""
        from rapidfuzz import fuzz, process  # takes 20 ms to load, and most lists need it for nothing

        for parts, unit, _ in variants:
            for some, basis in self._based(parts):
                joined = "".join(some)
                if len(joined) < 4:
                    continue
                for name in self._cut_short(text, some):
                    offer(self._candidate(name, COMPOUND, unit, basis, "is it, cut short"), name.parts)
                for ending in self._endings:
                    if joined != ending and len(some) == 1 and joined.endswith(ending):
                        for name in self.squeezed[ending]:
                            share = len(ending) / len(joined)
                            offer(self._candidate(name, COMPOUND * (0.5 + share / 2), unit, basis, "ends it"), name.parts)
                if len(joined) >= 5:
                    close = process.extract(joined, self.squeezed.keys(), scorer=fuzz.ratio, score_cutoff=NEAR_ENOUGH, limit=6)
                    for spelt, ratio, _ in close:
                        for name in self.squeezed[spelt]:
                            offer(self._candidate(name, NEAR * ratio / 100, unit, basis, "is nearly it"), name.parts)

    def _cut_short(self, text: str, parts: tuple[str, ...]) -> Iterable[_Name]:
        """Names of which the heading's words are the beginnings, where a word ends in a point: "Pot. unit."."""
        cut = {folded for piece in re.findall(r"([^\W\d_]{3,})\.", text) for folded in words(piece)}
        if not cut & set(parts):
            return
        for spelt, names in self.names.items():
            if len(spelt) == len(parts) and all(
                one == other or (one in cut and other.startswith(one)) for one, other in zip(parts, spelt, strict=True)
            ):
                yield from names

    def _by_unit(self, variants, found, offer) -> None:
        unit = next((unit for _, unit, _ in variants if unit), None)
        best = max((one.score for one, _ in found.values() if one.unit == unit), default=0.0)
        if unit is None or best >= TRIMMED - 0.05:
            return
        for sheet_id, key in BY_QUANTITY.get(unit.quantity, ()):
            offer(Candidate(sheet_id, key, BY_UNIT, unit, "", "its unit"), ())

    def _ranked(self, found, everything: tuple[str, ...]) -> list[Candidate]:
        """A name that another one contains gives way to it; a heading about other equipment is not about heaters."""
        best: dict[frozenset[str], float] = {}
        for candidate, parts in found.values():
            best[parts] = max(best.get(parts, 0.0), candidate.score)
        places = self.vocabulary["other_equipment"].among(everything)
        others = {part for start, end in places for part in everything[start:end]}
        ranked = []
        for candidate, parts in found.values():
            score = candidate.score
            if any(parts < longer and parts and value >= 0.4 for longer, value in best.items()):
                score *= OVERRULED
            if others and not others & parts and candidate.key in ELECTRICAL:
                score *= OF_OTHERS
            ranked.append(candidate._replace(score=round(score, 3)))
        if others and any(candidate.key in ELECTRICAL for candidate in ranked):
            ranked.append(Candidate("", Role.OTHER_POWER, COMPOUND, None, "", f"it names other equipment ({' '.join(sorted(others))})"))
        based = {(one.sheet_id, one.key): one.score for one in sorted(ranked, key=lambda one: one.score) if one.basis}
        ranked = [one for one in ranked if one.basis or one.score > based.get((one.sheet_id, one.key), 0.0)]
        order = sorted(ranked, key=lambda one: (-one.score, one.sheet_id != "heaters", str(one.key)))
        once: dict[tuple[str, str, str], Candidate] = {}
        for one in order:
            once.setdefault((one.sheet_id, str(one.key), one.basis), one)
        return [one for one in once.values() if one.score >= LEAST]
