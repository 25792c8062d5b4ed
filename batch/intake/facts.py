"""What one cell of a customer's list says: a number of heaters, a power, a supply. Each says too where it is in doubt."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from functools import lru_cache

from msgspec import Struct, field
from msgspec.structs import replace

from batch.intake.cells import Outcome, reader
from batch.intake.columns import LEAST_POWER_KW
from batch.intake.counts import read_count
from batch.intake.grid import Broken, shown
from batch.intake.list_columns import FOREIGN_POWER, LEAST_VOLTS, LIST, MOST_POWER_KW, MOST_VOLTS
from batch.intake.numbers import speak
from batch.intake.plain_figures import plainly
from batch.intake.supply_notation import SupplyFacts, read_supply
from batch.units import Unit, find_unit, spelled

FOREIGN = re.compile(r"(?P<number>[\d.,\s]+?)\s*(?P<unit>hp|btu\s?/?\s?hr?|ps|cv)\.?\s*\Z", re.IGNORECASE)
_NOTE_WORDS = r"(?:see\s+)?(?:notes?|fußnote|anm|nota|uwaga|opm|remark|rem)"
# Marks behind a figure that point to a note or a revision, and are no part of it: 6*, 6¹⁾, 6 (1), 6 (note 2), 6 [a], 6 △B, 6 Rev C
FOOTNOTE = re.compile(
    r"(?<=[\d\w)])\s*(?:(?P<stars>\*{1,3}|†|‡)|(?P<small>[¹²³⁰⁴-⁹]+)[⁾)]?|(?P<round>\(\d\))(?<=\d\s\(\d\))"
    rf"|\[(?P<square>\w{{1,2}})\]|[(\[]?{_NOTE_WORDS}\.?\s*(?P<note>\w{{1,2}})[)\]]?"
    r"|[△▲▽▼Δ∆]\s?\w{1,2}|(?<=\s)[(\[]?(?:rev(?:ision)?|index|indice|ind)\b\.?\s*\w{1,2}[)\]]?)\s*\Z",
    re.IGNORECASE,
)
FORMER = re.compile(  # behind the figure that counts: "6 (was 5)", "9 kW (bisher 6 kW)"
    r"\s*[(\[]\s*(?:was|were|formerly|prev(?:iously|\.)?|before|war(?:en)?|bisher|vorher|[ée]tait|avant|pr[ée]c[ée]demment|anc(?:ien)?\.?|era|eran|antes"
    r"|anterior(?:mente)?|prima|voorheen|by[łl][oay]?|poprzednio|wcze[śs]niej|var|tidligere|tidigare|p[řr]ed(?:t[ií]m)?|d[rř][ií]ve|p[ůu]vodn[ěe])\b"
    r"\s*:?\s*\d{1,5}(?:[.,]\d{1,2})?\s*(?:k?W|V|x|pcs|st|stk|szt|ph)?\.?\s*[)\]]\s*\Z",
    re.IGNORECASE,
)
SUPERSCRIPTS = str.maketrans("⁰¹²³⁴⁵⁶⁷⁸⁹", "0123456789")
PHASES = (1, 3)
CONDUCTORS = re.compile(r"[13]\s*[x×~]\s*\d{3}", re.IGNORECASE)
LINE_AND_NEUTRAL = re.compile(r"L[123]?\s*[,/+–-]\s*N", re.IGNORECASE)  # of one phase
BOTH = re.compile(r"(.+?)\s*[(/=]\s*([\d.,]+\s*k?W)\s*\)?", re.IGNORECASE)
FRACTIONS = {"½": "1/2", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8"}
# The lower volts first, as nameplates of what goes in delta or in wye; 120/208 and 277/480 name supplies: common practice, no source
DUAL = re.compile(r"(?<!\d)(127|220|230|240|254)\s*(?:V\s*)?/\s*(220|380|400|415|440)(?!\d)", re.IGNORECASE)
VULGAR = re.compile(r"(\d+)?\s*([½¼¾⅛⅜⅝⅞])")
WITH_WORDS = re.compile(r"(?P<number>[\d.,\s]+?)\s*(?P<unit>k?W)\s+\(?(?P<rest>[^\W\d_]+(?:\s+[^\W\d_]+)+)\.?\)?", re.IGNORECASE)
OF_A_BASIS = ("per_heater", "per_tank", "total", "fillers", "tanks", "heaters")
MOST_HEATERS = 200  # of one tank: of a number with two meanings the other is meant


def note_of(text: str) -> str:
    """The note that a mark behind a cell's text points to: "1" of "6 kW¹⁾", "*" of "6*"; "" where there is none."""
    match = FOOTNOTE.search(text)
    found = next((part for part in match.groups() if part), "") if match else ""
    return found.strip("()").translate(SUPERSCRIPTS).casefold()


_WHOLE = re.compile(r"0|-?[1-9]\d{0,5}")


def figure(value: object) -> float | None:
    """A value as a number; None where it is none."""
    return float(value) if isinstance(value, (int, float)) else None


def with_numbers(cells: Sequence[tuple[int, object]]) -> list[tuple[int, object]]:
    """The cells of a text's row with whole numbers as a spreadsheet would hold them; "007" stays a text, and so does "4.5", whose mark may
    be no decimal's."""
    return [(at, float(value) if isinstance(value, str) and _WHOLE.fullmatch(value.strip()) else value) for at, value in cells]


class Fact(Struct, frozen=True):
    """A value and where it stands; `fault` where there is none, `doubt` what is not sure; `also`: what the cell says of others."""

    value: object = None
    index: int = -1
    seen: str = ""
    fault: str = ""
    also: Mapping[str, object] = field(default_factory=dict)
    source: str = ""  # "" = the cell itself; else where it comes from: "above", "banner", "title"
    foreign: str = ""  # a unit in which heaters are rarely given
    outcome: Outcome | None = None
    basis: str = ""
    doubt: str = ""


@lru_cache(maxsize=512)
def _reader(key: str, unit: Unit | None, decimal: str):
    return reader(LIST[key], unit, decimal=decimal)


def read_cell(key: str, cell: object, index: int, unit: str = "", decimal: str = "") -> Fact | None:
    """What a cell says of column `key`; None where it says nothing. `unit`: of a bare number, as the heading or another cell has it."""
    if cell is None or cell == "" or (isinstance(cell, str) and type(cell) is not Broken and not cell.strip()):
        return None
    seen = shown(cell)
    text = cell.strip() if isinstance(cell, str) and type(cell) is not Broken else ""
    if text and key not in ("tank", "notes", "description", "status"):
        text = VULGAR.sub(lambda match: f"{match[1] or ''} {FRACTIONS[match[2]]}".strip(), FORMER.sub("", FOOTNOTE.sub("", text)))
        cell = text = plainly(key, text)
    if key in ("power_kw", "total_kw"):
        return _power(key, cell, index, unit=unit, decimal=decimal, seen=seen)
    if key == "volts_v":
        return _volts(cell, text, index, unit=unit, decimal=decimal, seen=seen)
    if key == "phases":
        return _phases(cell, text, index, decimal, seen)
    if key in ("quantity", "tanks") and text:
        return _count(key, text, index, decimal, seen)
    return _plain(key, cell, index, unit=spelled(unit) if unit else None, decimal=decimal, seen=seen)


def _plain(key: str, cell: object, index: int, *, unit: Unit | None, decimal: str, seen: str) -> Fact:
    value = _reader(key, unit, decimal)(cell)
    if type(value) is Outcome:
        if value.fault:
            return Fact(None, index, seen, value.code, outcome=value)
        return Fact(value.value, index, seen, also=dict(value.also), outcome=value)
    return Fact(value, index, seen)


def _count(key: str, text: str, index: int, decimal: str, seen: str) -> Fact:
    plain = _plain(key, text, index, unit=None, decimal=decimal, seen=seen)
    if plain.value is not None or plain.also:
        return plain
    if plain.fault == "cell-ambiguous" and (both := speak(text)) is not None and both.other is not None:
        likely = [value for value in (both.value, both.other) if 0 < value <= MOST_HEATERS and value == int(value)]
        if len(likely) == 1:
            return Fact(int(likely[0]), index, seen)
    said = read_count(text)
    if said is None or (said.rest and said.value is not None):
        return plain
    if said.doubt or said.value is None:
        return Fact(None, index, seen, "count-unsure", doubt=said.doubt)
    if said.spare:
        return Fact(None, index, seen, "count-unsure", doubt=f'"{text}" may be {said.value} or {said.value + said.spare} heaters')
    if said.value == 0:
        return _plain(key, 0, index, unit=None, decimal=decimal, seen=seen)
    basis = {"per tank": "tank", "total": "row", "each": "tank"}.get(said.basis, "")
    return Fact(said.value, index, seen, basis=basis)


def _power(key: str, cell: object, index: int, *, unit: str, decimal: str, seen: str) -> Fact:
    low = unit.strip().casefold().replace(" ", "")
    both = BOTH.fullmatch(cell.strip()) if isinstance(cell, str) and type(cell) is not Broken else None
    if both is not None:  # "8.046 hp (6 kW)": the same power twice
        second = _power(key, both[2], index, unit=unit, decimal=decimal, seen=seen)
        firsts = [_power(key, both[1], index, unit=unit, decimal=mark, seen=seen).value for mark in ([decimal] if decimal else ".,")]
        if isinstance(second.value, float) and any(isinstance(one, float) and abs(one - second.value) <= 0.01 * one for one in firsts):
            return second
    if isinstance(cell, str) and type(cell) is not Broken and (match := FOREIGN.match(cell.strip())):
        said = speak(match["number"], decimal)
        if said is not None and said.other is None:
            name = match["unit"].casefold().replace(" ", "")
            return Fact(float(f"{said.value * FOREIGN_POWER[name]:.6g}"), index, seen, foreign=match["unit"])
    if low in FOREIGN_POWER:
        number = cell if isinstance(cell, (int, float)) and not isinstance(cell, bool) else None
        if number is None:
            said = speak(cell, decimal) if isinstance(cell, str) else None
            number = said.value if said is not None and said.other is None and not said.rest else None
        if number is not None:
            return Fact(float(f"{number * FOREIGN_POWER[low]:.6g}"), index, seen, foreign=unit)
    own = find_unit(unit, "power") if unit else None
    if unit and own is None:
        fields = {"column": "Power", "unit": unit[:40], "quantity": "power", "such": "kW"}
        return Fact(None, index, seen, "unit-unknown", outcome=Outcome(None, "unit-unknown", fields))
    text = cell
    basis = ""
    if isinstance(cell, str) and type(cell) is not Broken:
        text, basis = _basis(cell.strip())
    fact = _plain(key, text, index, unit=own, decimal=decimal, seen=seen)
    return replace(fact, basis=basis) if basis else fact


def _basis(text: str) -> tuple[str, str]:
    """ "6 kW ea", "18 kW total" and "18 kW total for the tank": the power, and what it is of."""
    from batch.intake.heading_sense import EACH, ROW, TANK, sense
    from batch.intake.list_words import hits

    if (match := WITH_WORDS.fullmatch(text)) is not None and (said := sense(f"{match['unit']} {match['rest']}")) is not None and said.basis:
        told = [hit for name in OF_A_BASIS for hit in hits(name, match["rest"])]
        left = "".join(" " if any(hit.start <= at < hit.end for hit in told) else sign for at, sign in enumerate(match["rest"]))
        if not any(sign.isalnum() for sign in left):
            return f"{match['number']} {match['unit']}", said.basis
    for name, basis in (("per_heater", EACH), ("per_tank", TANK), ("total", ROW)):
        for hit in hits(name, text):
            if text[hit.start : hit.end] == "A":
                continue  # amps, and not the "à" before a price
            rest = (text[: hit.start] + text[hit.end :]).strip(" ()/,;:.-")
            if re.search(r"\d", rest):
                return rest, basis
    return text, ""


def _supply(said: SupplyFacts, index: int, seen: str) -> Fact:
    """The volts of a supply, with its phases beside."""
    if said.contradictions or said.doubts:
        return Fact(None, index, seen, "supply-unsure", doubt="; ".join((*said.contradictions, *said.doubts)))
    if said.current == "DC":
        return Fact(None, index, seen, "supply-unsure", doubt=f'"{seen}" is direct current')
    also: dict[str, object] = {"phases": said.phases} if said.phases in PHASES else {}
    if said.phases == 2:
        return Fact(None, index, seen, "supply-unsure", doubt=f'"{seen}" says two phases')
    if said.volts_to_neutral is not None:
        if said.phases == 1:
            return Fact(None, index, seen, "supply-unsure", doubt=f'"{seen}" is one phase of {said.volts:g} or {said.volts_to_neutral:g} V')
        if (dual := DUAL.search(seen)) and not (said.neutral or said.wires == 4):
            return Fact(None, index, seen, "supply-unsure", doubt=f'"{seen}" is a supply, or a heater for {dual[1]} V or {dual[2]} V')
        also["_neutral"] = said.volts_to_neutral
    return Fact(said.volts, index, seen, also=also)


def _volts(cell: object, text: str, index: int, *, unit: str, decimal: str, seen: str) -> Fact:
    fact = None
    if text and re.search(r"[^\d.,\s]", text):
        said = read_supply(with_volts(text))
        if said is not None and (said.volts is not None or not said.sure):
            fact = _supply(said, index, seen)
    if fact is None:
        own = spelled(unit) if unit else None
        fact = _plain("volts_v", cell, index, unit=own if own and own.quantity == "volts" else None, decimal=decimal, seen=seen)
    if isinstance(fact.value, float) and not usual(fact.value):
        return Fact(None, index, seen, "value-unlikely", doubt=f"{fact.value:g} V")
    return fact


def with_volts(text: str) -> str:
    """ "3x400" in a column of volts, whose unit stands in the heading."""
    return f"{text.strip()} V" if CONDUCTORS.fullmatch(text.strip()) else text


def usual(volts: float) -> bool:
    """Are these volts that a heater may have: in reason, and near a usual figure where they are low?"""
    return LEAST_VOLTS <= volts <= MOST_VOLTS and (volts >= 100 or volts in (24, 32, 36, 42, 48, 60))


def _phases(cell: object, text: str, index: int, decimal: str, seen: str) -> Fact:
    plain = _plain("phases", cell, index, unit=None, decimal=decimal, seen=seen)
    if plain.value is not None or not text:
        return plain
    if LINE_AND_NEUTRAL.fullmatch(text):
        return Fact(1, index, seen)
    said = read_supply(text)
    if said is None or said.phases not in PHASES or not said.sure:
        return plain
    return Fact(said.phases, index, seen, also={"volts_v": said.volts} if said.volts is not None else {})


def one_likely(key: str, cell: object, index: int, unit: str) -> tuple[str, Fact] | None:
    """Of a power with two meanings the mark and the reading that is a heater's, where only one is."""
    if not isinstance(cell, str) or type(cell) is Broken:
        return None
    read = [(mark, fact) for mark in ".," if (fact := read_cell(key, cell, index, unit, mark)) is not None]
    both = [(mark, fact) for mark, fact in read if type(fact.value) is float or fact.fault == "cell-out-of-range"]
    likely = [one for one in both if isinstance(one[1].value, float) and LEAST_POWER_KW <= one[1].value <= MOST_POWER_KW]
    return likely[0] if len(both) == 2 and both[0][1].value != both[1][1].value and len(likely) == 1 else None
