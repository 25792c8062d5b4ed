"""One cell of one column -> its value in the column's unit, or what is wrong with it. Nothing is guessed.

A reader is made once for each column of a table (`reader`) and remembers what it has read, because a bid repeats itself.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from datetime import date, datetime
from math import inf, isqrt
from typing import NamedTuple

from batch.intake.grid import Broken, Shown, shown, worded
from batch.intake.number_limits import Refused, TypedNumber, judge_of, limits
from batch.intake.numbers import letters_for_figures, speak
from batch.intake.vocabulary import vocabulary
from batch.sheets import HEATERS, Column
from batch.units import WORDS, Unit, between, find_unit, rounded, spelled, spelling

TAGS = frozenset({"project", "tank", "bank", "feeder", "part"})
WORDS_OF_ONE_THING = TAGS | {"sheath", "liquid", "tank_material", "work_material"}  # texts in which a dash or "TBD" stands for nothing
OPEN = frozenset({"tbd", "tba", "tbc", "tbdt", "?", "??", "???", "unknown", "by others", "to be determined", "to be confirmed", "pending"})
NONE = frozenset({"-", "--", "---", "–", "—", "n/a", "na", "n.a.", "n.a", "#n/a", "none", "nil", "n/r", "."})
PIECES = frozenset({"ea", "ea.", "each", "pc", "pcs", "pcs.", "off", "no", "no.", "nos", "nos.", "heaters", "heater", "units", "unit", "x"})
LONGEST_NUMBER = 60  # characters of a number with its unit; anything longer is prose
EACH = re.compile(r"\s*(?:\beach|\bea\.?|/\s*ea|per heater|/\s*heater)\s*\Z", re.IGNORECASE)
SQUEEZE = re.compile(r"[\W_]+")
PHASE_WORDS = re.compile(r"(?:(1|one|single)|(3|three))[\s-]*(?:phases?|ph\.?|p|ø|φ|Φ|~|∅)?\s*\Z", re.IGNORECASE)
FEET_INCHES = re.compile(
    r"""(\d{1,4})\s*(?:'|′|’|ft\.?|feet)\s*-?\s*(\d{1,2}(?:\.\d+)?(?:[\s-]\d+/\d+)?)\s*(?:"|″|”|''|in\.?|inch(?:es)?)\Z""", re.IGNORECASE
)
VOLTS_PAIR = re.compile(
    r"(\d{2,4})\s*(?:V|VAC)?\s*(?:Y|GRDY|WYE|STAR|D|DELTA)?\s*/\s*(\d{2,4})\s*Y?\s*(?:V|VAC|V\s?AC|volts?)?\.?\Z", re.IGNORECASE | re.ASCII
)


class Outcome(NamedTuple):
    """More to say than a value: a fault (no value), or a value with a remark."""

    value: object
    code: str
    fields: Mapping[str, str]
    fault: bool = True
    wires: int | None = None  # of a system named by two voltages
    also: Mapping[str, object] = {}  # what the cell says of other columns, by key: the phases of "480/3/60"


SEVERAL = re.compile(r"(.{1,24}?)\s*(\bto\b|\bthru\b|\bthrough\b|\.\.+|…|&|\+|,|;|\band\b)\s*(.{1,24})\Z", re.IGNORECASE | re.DOTALL)
RUNS = frozenset({"to", "thru", "through", "…"})
TIMES = re.compile(
    r"(?:\((\d{1,3})\)|(\d{1,3})\s*(?:[x×*@]|(?:ea|each|pcs?|off|nos?)\b\.?\s*(?:[x×*@]|of\b)?))\s*((?=[.,]?\d).+)\Z",
    re.IGNORECASE | re.DOTALL,
)
# volts, phases, and perhaps frequency: "480/3/60", "480V-3PH-60HZ", "480 V, 3 ph". Without marks between them or a "ph" nothing is sure.
SYSTEM = re.compile(
    r"(?P<volts>\d{2,4})\s*(?:V\s?AC|volts?|V)?\s*"
    r"(?:[/-]\s*(?P<bare>[13])|[\s,/;-]\s*(?P<named>[13])\s*-?\s*(?:phases?|ph|ø|φ|Φ|∅|~))\s*-?\s*(?:phases?|ph|ø|φ|Φ|∅|~)?\.?"
    r"(?:\s*[\s/,;-]\s*(?:50|60)\s*(?:hz|cycles?)?\.?)?\s*\Z",
    re.IGNORECASE | re.ASCII,
)
Judge = Callable[..., object]  # a number, and how it was typed -> itself, or an Outcome where it cannot be
Reader = Callable[[object], object]  # a cell -> its value, None where it is blank, or an Outcome


def squeezed(text: str) -> str:
    """Letters and digits only, case folded: what two spellings of one word have in common."""
    return SQUEEZE.sub("", text.casefold())


def reader(column: Column, unit: Unit | None = None, strange: str = "", pair: bool = False, decimal: str = "") -> Reader:
    """How cells of the column are read.

    unit     of bare numbers: from the heading or the unit row; None = the column's own
    strange  what stands there and is no unit: bare numbers cannot be read then
    pair     "480Y/277" names a supply (Feeders), and is not a fault
    decimal  the mark before decimals, "." or ",", where it is known; "" = "1,250" has two meanings
    """
    if column.kind == "choice":
        read = _choices(column)
    elif column.kind == "date":
        read = _dates(column)
    elif column.kind == "text":
        read = _texts(column)
    else:
        return _numbers(column, unit, strange, pair, decimal)
    return _remembering(read)


def _remembering(read: Reader) -> Reader:
    known: dict[object, object] = {}

    def recall(value: object) -> object:
        key = (type(value), value)
        try:
            return known[key]
        except KeyError:
            known[key] = outcome = read(value)
            return outcome

    return recall


def fault(column: Column, code: str, value: object = None, **fields: str) -> Outcome:
    """A fault with the fields that its template needs."""
    named = {"column": column.heading, "value": shown(value), "help": column.help, "such": column.unit or "plain figures", **fields}
    return Outcome(None, code, named)


def _broken(column: Column, value: Broken) -> Outcome:
    return fault(column, "cell-error" if value.calculated else "cell-not-calculated", value)


def _placeholder(column: Column, text: str) -> Outcome | None:
    """What a dash, "n/a" or "TBD" means; None where the text is none of them."""
    low = text.casefold()
    if low not in OPEN and low not in NONE:
        return None
    if column.required:
        return fault(column, "cell-placeholder", text)
    return Outcome(None, "cell-placeholder-blank", {"column": column.heading, "value": text}, fault=False)


def _texts(column: Column) -> Reader:
    tag, placeholders = column.key in TAGS, column.key in WORDS_OF_ONE_THING

    def read(value: object) -> object:
        if type(value) is str:
            text = value.strip()
            if not text:
                return None
            special = (_placeholder(column, text) if placeholders else None) or (_several(column, text) if column.key == "tank" else None)
            return special or text
        if type(value) is Broken:
            return _broken(column, value)
        text = worded(value).strip()
        if tag and isinstance(value, date):
            return Outcome(text, "tag-is-date", {"column": column.heading, "value": text}, fault=False)
        return text or None

    return read


def _several(column: Column, text: str) -> Outcome | None:
    """"1A to 3A" is several tanks, and how many heaters each has is not said; "1A & 2A" may be the name of one."""
    match = SEVERAL.match(text) if len(text) <= 60 else None
    if match is None or not all(any(mark.isdigit() for mark in side) for side in (match[1], match[3])):
        return None
    if match[2].casefold() in RUNS or match[2].startswith(".."):
        return fault(column, "tags-in-one-cell", text)
    return Outcome(text, "tag-of-several", {"column": column.heading, "value": text}, fault=False)


def _dates(column: Column) -> Reader:
    def read(value: object) -> object:
        if type(value) is Broken:
            return _broken(column, value)
        if isinstance(value, (datetime, date)):
            return worded(value)
        if isinstance(value, str):
            return value.strip() or None
        return fault(column, "cell-not-allowed", value, choices="a date") if value is not None else None

    return read


def connection_said(text: str) -> str:
    """The connection that a word of any of the languages stands for: "Stern", "a triangolo"; "" where it is none."""
    return next((name for name in ("wye", "delta", "parallel") if vocabulary()[name].whole(text)), "")


def _choices(column: Column) -> Reader:
    words = {squeezed(other): word for word, others in column.choices.items() for other in others}
    words |= {squeezed(word): word for word in column.choices}

    def read(value: object) -> object:
        if type(value) is Broken:
            return _broken(column, value)
        text = worded(value).strip()
        if not text:
            return None
        word = words.get(squeezed(text)) if squeezed(text) else None
        if word is not None:
            return word
        if column.key == "connection" and (said := connection_said(text)):
            return said
        if column.open_words:
            return _placeholder(column, text) or text
        return _placeholder(column, text) or fault(column, "cell-choice-unknown", text, choices=", ".join(column.choices))

    return read


def _numbers(column: Column, unit: Unit | None, strange: str, pair: bool, decimal: str) -> Reader:
    own = spelled(column.unit)
    bare = unit or own
    name = (spelling(bare) if bare is not None else "") or "of its heading's unit"
    judge = _judge(column)
    memory: dict[object, object] = {}
    unknown = _unit_fault(column, strange, own, "unit-unknown-heading") if strange and own else None

    def from_number(value: float) -> object:
        if own is None or bare is None or bare == own:
            return unknown or judge(value)
        return unknown or judge(between(value, bare, own), TypedNumber(value, bare, name))

    def from_text(text: str) -> object:
        outcome = plainly(text)
        if type(outcome) is Outcome and outcome.code in ("cell-not-number", "unit-unknown") and (meant := letters_for_figures(text)):
            again = plainly(meant.text)
            if type(again) is not Outcome or not again.fault:
                return fault(column, "cell-letter-in-number", text, letter=meant.letter, figure=meant.figure, meant=meant.text)
        return outcome

    def plainly(text: str) -> object:
        special = _placeholder(column, text) or _special(column, text, pair, judge)
        if special:
            return special
        if column.key in ("power_kw", "quantity") and (match := TIMES.match(text)):
            count = float(match[1] or match[2])
            if column.key == "power_kw":
                return _times(column, text, count, _number_text(column, match[3], unknown or bare, own=own, judge=judge, decimal=decimal))
            return _counted(column, text, judge(count), match[3], decimal)
        return _number_text(column, text, unknown or bare, own=own, judge=judge, decimal=decimal)

    def slow(value: object) -> object:
        if value is None:
            return None
        if type(value) is Broken:
            return _broken(column, value)
        if type(value) is Shown:
            return _shown_number(column, value, own, from_number, judge)
        if isinstance(value, str):
            text = value.strip()
            if len(text) > LONGEST_NUMBER:
                return fault(column, "cell-not-number", text)
            return from_text(text) if text else None
        if isinstance(value, bool) or not isinstance(value, int):
            return fault(column, "cell-not-number", worded(value))
        return from_number(float(value))

    def read(value: object) -> object:
        key = (type(value), value) if type(value) is not float else value
        try:
            return memory[key]
        except KeyError:
            memory[key] = outcome = from_number(value) if type(value) is float else slow(value)
            return outcome

    return read


def _shown_number(column: Column, value: Shown, own: Unit | None, from_number: Judge, judge: Judge) -> object:
    """A number whose format shows a unit: what a person sees is what is meant."""
    if own is None:
        return from_number(float(value))
    unit = find_unit(value.unit, own.quantity)
    if unit is not None:
        seen = float(value) * 100 if value.unit == "%" else float(value)
        return judge(between(rounded(seen), unit, own), TypedNumber(seen, unit, value.unit) if unit != own else None)
    if spelled(value.unit) is not None:
        return _unit_fault(column, value.unit, own)
    return from_number(float(value))


def _unit_fault(column: Column, unit: str, own: Unit, code: str = "unit-unknown") -> Outcome:
    return fault(column, code, unit=unit[:40], quantity=WORDS.get(own.quantity, own.quantity))


def _times(column: Column, text: str, count: float, power: object) -> object:
    """"3 x 6 kW" under Power: 6 kW, and three of them."""
    if type(power) is Outcome or not count:
        return power if count else fault(column, "cell-not-number", text)
    fields = {"column": column.heading, "value": text, "read": f"{count:g} of {power:.12g} {column.unit} each"}
    return Outcome(power, "cell-read-as", fields, fault=False, also={"quantity": int(count)})


def _counted(column: Column, text: str, count: object, rest: str, decimal: str) -> object:
    """"3 x 6 kW" under Quantity: three, and 6 kW each. Without a unit of power it is not sure what is multiplied."""
    power = HEATERS["power_kw"]
    said = speak(rest)
    if type(count) is Outcome or said is None or find_unit(EACH.sub("", said.rest), "power") is None:
        return count if type(count) is Outcome else fault(column, "cell-not-number", text)
    each = _number_text(power, rest, None, own=spelled(power.unit), judge=_judge(power), decimal=decimal)
    if type(each) is Outcome:
        return fault(column, "cell-not-number", text)
    fields = {"column": column.heading, "value": text, "read": f"{count} of {each:.12g} {power.unit} each"}
    return Outcome(count, "cell-read-as", fields, fault=False, also={"power_kw": each})


def _special(column: Column, text: str, pair: bool, judge: Judge) -> object:
    """Forms of their own: "unlimited", "3-phase", "480Y/277", "480/3/60". Falsy where the text is none of them."""
    if column.no_limit and squeezed(text) == column.no_limit:
        return inf
    if column.key == "phases":
        match = PHASE_WORDS.match(text)
        return (1 if match[1] else 3) if match else None
    if column.kind == "volts" and (match := VOLTS_PAIR.match(text)):
        return _system(column, text, match) if pair else fault(column, "cell-volts-pair", text)
    if column.kind == "volts" and (match := SYSTEM.match(text)):
        volts, phases = judge(float(match["volts"])), int(match["bare"] or match["named"])
        if type(volts) is Outcome:
            return volts
        fields = {"column": column.heading, "value": text, "read": f"{volts:g} V, {phases}-phase"}
        return Outcome(volts, "cell-read-as", fields, fault=False, also={"phases": phases})
    return None


def _system(column: Column, text: str, match: re.Match[str]) -> Outcome:
    """A supply named by two voltages: line to line and line to neutral.

    Their ratio tells which: the square root of three is a wye of 4 wires, two is a one-phase supply of 3 wires or a
    high-leg delta of 4 (ANSI C84.1 notation; read by us from the form of the name). Phases decide between the last two.
    """
    high, low = sorted((int(match[1]), int(match[2])), reverse=True)
    ratio = high / low if low else 0.0
    root3 = isqrt(3 * 10**8) / 10**4
    if abs(ratio / root3 - 1) < 0.01:
        wires = 4
    elif abs(ratio / 2 - 1) < 0.01:
        wires = 3
    else:
        return fault(column, "cell-not-number", text, such="V, or a pair such as 480Y/277")
    if (column.high is not None and high > column.high) or low == 0:
        return fault(column, "cell-out-of-range", text, limits=limits(column))
    return Outcome(float(high), "volts-pair-read", {"column": column.heading, "value": text}, fault=False, wires=wires)


def _number_text(
    column: Column, text: str, bare: Unit | Outcome | None, *, own: Unit | None, judge: Judge, decimal: str
) -> object:
    if own is not None and own.quantity == "length" and (match := FEET_INCHES.match(text)):
        inches = speak(match[2])
        foot, inch = spelled("ft"), spelled("in")
        if inches and foot and inch:
            metres = int(match[1]) * foot.factor + inches.value * inch.factor
            return judge(rounded(metres / own.factor), TypedNumber(metres / foot.factor, foot, "ft", text))
    said = speak(text, decimal)
    if said is None:
        return fault(column, "cell-not-number", text)
    rest = EACH.sub("", said.rest) if own is not None else said.rest
    if own is None:
        if rest and not _harmless(column, rest):
            return fault(column, "cell-not-number", text)
        unit = None
    elif not rest:
        if isinstance(bare, Outcome):
            return bare
        unit = bare
    else:
        unit = find_unit(rest, own.quantity)
        if unit is None:
            words = (rest[0].isalpha() or rest[0] in "°%\"'") and not any(mark.isdigit() for mark in rest)
            return _unit_fault(column, rest, own) if words else fault(column, "cell-not-number", text)
    if said.other is not None:
        shown_unit = f" {rest}" if rest else ""
        return fault(column, "cell-ambiguous", text, one=f"{said.value:g}{shown_unit}", other=f"{said.other:g}{shown_unit}")
    if unit is None or own is None or unit == own:
        return judge(said.value)
    return judge(between(said.value, unit, own), TypedNumber(said.value, unit, rest or spelling(unit) or "of its heading's unit"))


def _harmless(column: Column, rest: str) -> bool:
    """May the words behind a bare count be left unread? "12 ea" is 12; "3 x 6 kW" is not 3."""
    low = rest.casefold().strip()
    return low in PIECES or (column.key == "wires" and low in ("w", "wire", "wires")) or (column.unit == "%" and low == "%")


def _judge(column: Column) -> Judge:
    """What a number becomes: itself, or a fault."""
    inner = judge_of(column)

    def judge(value: float, typed: TypedNumber | None = None) -> object:
        found = inner(value, typed)
        return fault(column, found.code, **found.fields) if type(found) is Refused else found

    return judge
