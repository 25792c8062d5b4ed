"""An answer in a person's words -> which places get which values. What is not certain is not taken, and the reason says what to write."""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping, Sequence
from typing import NamedTuple

from batch.comparing.lines import SHEETS
from batch.findings import CATALOGUE
from batch.intake.cells import NONE, OPEN, Outcome, reader
from batch.intake.remark_words import OUT, read_row_words
from batch.intake.sheath_words import GRADE
from batch.intake.vocabulary import vocabulary
from batch.price.question_places import Place
from batch.reopening.plain_words import as_asked, bare, loosely, parted, plainly, supply_named, yes_or_no
from batch.sheets import Column

YES = frozenset({"yes", "y", "ok", "okay", "confirmed", "correct", "right", "yes, confirmed", "yes, correct", "yes, ok"})
YES_WORDS = frozenset({"yes", "y", "ja", "oui", "sí", "si", "sì", "tak", "sim", "ano", "ok", "keep"})
NO_WORDS = frozenset({"no", "n", "nein", "non", "nej", "nee", "nie", "não", "nao", "ne"})
BUILD = frozenset({"keep", "keep it", "build", "build it", "supply", "supply it", "include", "include it", "to be built", "to be supplied"})
LEAVE = frozenset({"leave out", "leave it out", "not", "omit", "omit it", "skip", "skip it", "not in this order", "not wanted"})
NOT = re.compile(r"\b(?:not|but|except|nicht|aber|pas|mais)\b", re.IGNORECASE)
REST = frozenset({"others", "other", "rest", "remaining", "all others", "all other"})
ALL = frozenset({"all", "each", "every", "all tanks", "all of them"})
BEFORE_A_NAME = re.compile(
    r"(?:the\s+)?(?:(?:tanks?|tks?\.?|suppl(?:y|ies)|feeders?|sources?|cells?|heaters?\s+(?:in|of)|for|in|of)\s+)+", re.IGNORECASE
)
AFTER_A_NAME = re.compile(r"\s*(?::|=|\bis\b|\bare\b|(?<=\s)[-–—]\s)?\s*", re.IGNORECASE)
JOINED = re.compile(r"\s*(?:,|&|\+|\band\b)\s*", re.IGNORECASE)
OF_ALL = re.compile(
    r"(\w[\w -]*?),?\s+(?:all|all of them|all tanks|for all|they (?:all )?(?:do|have)|it (?:does|has)|there (?:is|are))", re.IGNORECASE
)
BETWEEN = re.compile(r",(?!\d)|(?<!\d),")  # a comma within a number, "4,5 kW", parts nothing
DOUBTFUL = frozenset({"x", "1", "0"})  # in a list a mark; as an answer of yes or no to a question of safety no word
UNIT = re.compile(r"[^\W\d_]|%")
MATERIALS = frozenset({"sheath", "tank_material", "work_material"})
OF_WHAT = MATERIALS | {"liquid"}  # texts that say of what something is
SAYS = re.compile(r"[:=]|\b(?:is|are)\b", re.IGNORECASE)
ASKED_FIRST = frozenset({"existing_device_a"})  # "What is the rating of the device, and what else does it feed?": "200 A" is the rating
NO_UNIT = "none beside the figure"


class Unclear(Exception):
    """What is not clear about an answer, and what to write."""


class ValueSaid(NamedTuple):
    """A value for one column of one place; `typed`: as it was answered."""

    place: Place
    key: str
    value: object
    typed: str


def answered(
    text: str, places: Sequence[Place], beside: Sequence[Place] = (), settled: Collection[Place] = (), of_all: bool = False
) -> list[ValueSaid]:
    """What an answer says of each place that it speaks of.

    beside   further ones that it may name: of those that are `settled` by now, which is said elsewhere, what it says is left out
    of_all   the question asks for all columns, so that a bare value may be for one that is not blank

    Raises:
        Unclear: it cannot be told what goes where, or it speaks of what was not asked about.
    """
    found: list[ValueSaid] = []
    for named, words in spoken_of(text, places, beside):
        some = [place for place in named if place in places]
        if not some and all(place in settled for place in named):
            continue
        if not some:
            raise Unclear(f"it speaks of {named[0].shown}, which the question is not about")
        said_no = words.strip(" .").casefold() == "none" and all(_is_yes_or_no(place) for place in some)
        if not said_no and words.strip(" .").casefold() in OPEN | NONE | {"not known", "don't know", "do not know", "unclear", "open"}:
            raise Unclear("it leaves the question open")
        asked = {key: SHEETS[place.table][key] for place in some for key in place.columns}
        if "system" in asked:
            words = _of_supply(words, some, asked)
        blank = {key for place in some for key in place.blank}
        for key, value, typed in values_of(words, list(asked.values()), blank, of_all):
            found += [ValueSaid(place, key, value, typed) for place in some if key in place.columns]
    first: dict[tuple[Place, str], object] = {}
    for one in found:
        if first.setdefault((one.place, one.key), one.value) != one.value:
            raise Unclear(f"it says two things of {one.place.shown}")
    return found


def _of_supply(words: str, some: Sequence[Place], asked: Mapping[str, Column]) -> str:
    """What an answer says of a system, where it names its volts too, which the list must have so."""
    rest, volts = supply_named(as_asked(words))
    other = next((place for place in some if volts and place.seen and place.seen != f"{volts:g} V"), None)
    if other is not None:
        raise Unclear(f"it names a supply of {volts:g} V, and the list has {other.shown} at {other.seen}")
    if not volts or "volts_v" not in asked:
        return rest
    try:
        system = _value(asked["system"], rest)[2]
    except Unclear:
        return words
    return f"{asked['volts_v'].heading} {volts:g} V, {asked['system'].heading} {system}"


def _apart(text: str, places: Sequence[Place], beside: Sequence[Place]) -> list[tuple[list[Place], str]]:
    """ "yes, all but TK-10": those that it names, and all others; none where it is no such answer, or what it names is not known."""
    said = parted(text)
    if said is None or not said.head:
        return []
    named, rest = _led_by(said.names, places, list(places), beside)
    if not named:
        return []
    of_them = rest.strip(" ,.") or said.of_them
    others = [place for place in places if place not in named]
    told_apart = not rest or (yes_or_no(of_them) == said.of_them if said.of_them else SAYS.search(said.names))
    if not others or not told_apart:
        return []
    return [(others, said.head), *([(named, of_them)] if of_them else [])]


def spoken_of(text: str, places: Sequence[Place], beside: Sequence[Place] = ()) -> list[tuple[list[Place], str]]:
    """An answer cut into what it says of which places: "T-1: yes; T-2, T-3: no"; without a name it speaks of all, but for those beside."""
    if apart := _apart(text, places, beside):
        return apart
    groups: list[tuple[list[Place], list[str]]] = []
    left = list(places)
    named = False
    for part in re.split(r"[;\n]+", text):
        waiting: list[Place] = []
        for number, chunk in enumerate(BETWEEN.split(part)):
            some, rest = _led_by(chunk.strip(), places, left, beside)
            if some:
                named = True
                waiting += some
                if rest:
                    groups.append((waiting, [rest]))
                    left = [place for place in left if place not in waiting]
                    waiting = []
            elif not chunk.strip():
                continue
            elif waiting:
                groups.append((waiting, [chunk.strip()]))
                left = [place for place in left if place not in waiting]
                waiting = []
            elif groups and (number or not named):
                groups[-1][1].append(chunk.strip())
            elif named:
                raise Unclear(f"it does not say of what “{chunk.strip()}” is: write the name and a colon before it")
            else:
                groups.append((list(places), [chunk.strip()]))
        if waiting:
            raise Unclear(f"it says nothing of {waiting[0].shown}")
    if not groups:
        raise Unclear("it says nothing")
    return [(some, ", ".join(words)) for some, words in groups]


def _is_yes_or_no(place: Place) -> bool:
    return bool(place.columns) and all(set(SHEETS[place.table][key].choices) == {"yes", "no"} for key in place.columns)


def _led_by(chunk: str, places: Sequence[Place], left: Sequence[Place], beside: Sequence[Place]) -> tuple[list[Place], str]:
    """The places that a piece of an answer begins with, and what it goes on with."""
    some: list[Place] = []
    rest = chunk
    while True:
        bare = rest
        name, found = _name_at(bare, places, left, beside)
        if not found and BEFORE_A_NAME.match(rest):
            bare = BEFORE_A_NAME.sub("", rest, count=1)
            name, found = _name_at(bare, places, left, beside)
        if not found:
            return some, rest
        some += found
        rest = bare[len(name) :]
        more = JOINED.match(rest)
        if more is None:
            after = AFTER_A_NAME.match(rest)
            return some, rest[after.end() :].strip() if after else rest.strip()
        rest = rest[more.end() :]


def _name_at(text: str, places: Sequence[Place], left: Sequence[Place], beside: Sequence[Place]) -> tuple[str, list[Place]]:
    folded = text.casefold()
    every = [*places, *beside]
    names = sorted({name for place in every for name in place.names if name}, key=len, reverse=True)
    for name in names:
        if folded.startswith(name) and not re.match(r"[\w/.-]*\w", folded[len(name) :]):
            return text[: len(name)], [place for place in every if name in place.names]
    for name in names:
        match = loosely(name).match(text)
        if match and not re.match(r"[\w/.-]*\w", text[match.end() :]):
            alike = [other for other in names if loosely(other).fullmatch(match[0])]
            return (match[0], [place for place in every if name in place.names]) if len(alike) == 1 else ("", [])
    for words, some in ((REST, left), (ALL, places)):
        for name in sorted(words, key=len, reverse=True):
            if folded.startswith(name) and re.match(r"\s*[:=]|\s+(?:is|are|(?=(?:yes|no)\b))", folded[len(name) :]):
                return text[: len(name)], list(some)
    return "", []


def values_of(
    words: str, columns: Sequence[Column], blank: Collection[str] = (), of_all: bool = False
) -> list[tuple[str, object, str]]:
    """Column keys with the value that the words give each. `blank`: those of the columns that say nothing yet; `of_all`: as in `answered`.

    Raises:
        Unclear: a value that its column cannot take, or several columns and no word which is meant.
    """
    words = words.strip().rstrip(".").strip()
    if len(columns) == 1:
        column, rest = _labelled(words, columns) or (columns[0], words)
        return [_value(column, rest)]
    by_key = {column.key: column for column in columns}
    if "volts_v" in by_key and not _labelled(words, columns):
        read = reader(by_key["volts_v"])(words)
        if isinstance(read, Outcome) and not read.fault and read.also:
            more = {"volts_v": read.value, **{key: value for key, value in read.also.items() if key in by_key}}
            return [(key, value, words) for key, value in more.items()]
        if isinstance(read, float):
            return [("volts_v", read, words)]
    found: list[tuple[str, object, str]] = []
    for piece in re.split(rf"{BETWEEN.pattern}|\band\b", words):
        if not piece.strip():
            continue
        left = [column for column in columns if column.key not in ASKED_FIRST.intersection(key for key, _, _ in found)]
        led = _labelled(piece.strip(), columns) or _only_one(piece.strip(), left, blank, of_all)
        if led is None:
            names = ", ".join(f"{column.heading} … {column.unit}".strip() for column in columns)
            raise Unclear(f"it does not say what “{piece.strip()}” is: write {names}, as far as they are known")
        found.append(_value(*led))
    return found


def _labelled(piece: str, columns: Sequence[Column]) -> tuple[Column, str] | None:
    """The column that a piece names, and what it says of it: "start temperature 60 °F"."""
    folded = piece.casefold()
    names = [(name.casefold(), column) for column in columns for name in (column.heading, *column.also)]
    first = [(column.heading.casefold().split()[0], column) for column in columns]
    names += [(name, column) for name, column in first if sum(name == other for other, _ in first) == 1]  # "operating", "start"
    for name, column in sorted(names, key=lambda one: -len(one[0])):
        if folded.startswith(name) and not re.match(r"\w", folded[len(name) :]):
            rest = re.sub(r"\A\s*(?::|=|is\b|of\b|at\b)?\s*", "", piece[len(name) :], flags=re.IGNORECASE)
            if rest:
                return column, rest
    return None


def _only_one(piece: str, columns: Sequence[Column], blank: Collection[str], of_all: bool) -> tuple[Column, str] | None:
    """The column that a piece without a name can only be for: what was asked first, the one that is blank, or the one that takes its unit.

    A blank column takes nothing that another, which was asked for as well, could take.
    """
    rivals = [column for column in columns if _takes(column, piece)]
    if first := [column for column in rivals if column.key in ASKED_FIRST]:
        return first[0], piece
    open_ones = [column for column in columns if column.key in blank]
    if len(open_ones) != 1 or (of_all and (rivals or open_ones[0].unit)):
        open_ones = []
    some = open_ones or [column for column in rivals if UNIT.search(piece)]
    if not some and (vocabulary()["materials"].whole(bare(piece)) or GRADE.fullmatch(bare(piece))):  # "all 316": a grade has no unit
        some = [column for column in columns if column.key in MATERIALS]
    return (some[0], piece) if len(some) == 1 else None


def _takes(column: Column, piece: str) -> bool:
    try:
        _value(column, piece)
    except Unclear:
        return False
    return column.kind != "text"


def _value(column: Column, words: str) -> tuple[str, object, str]:
    """One value as its cell of the list would be read; a figure of what is measured in several units needs its unit."""
    if "?" in words:
        raise Unclear(f"“{words}” asks itself: write it without the question mark where it is certain")
    if column.choices and words.strip().casefold() in DOUBTFUL:
        raise Unclear(f"“{words}” may mean either: write {' or '.join(column.choices)}")
    as_typed, words = words, plainly(column, words)
    if column.choices and (all_of_them := OF_ALL.fullmatch(words)):
        words = all_of_them[1]
    if column.key in OF_WHAT and (yes_or_no(words) or NOT.search(words)):
        raise Unclear(f"“{as_typed}” is no value of {column.heading}")
    read = reader(column, strange=NO_UNIT if column.us_unit else "")(words)
    if isinstance(read, Outcome):
        if read.fault or read.code != "cell-read-as":
            raise Unclear(_why(column, words, read))
        read = read.value
    if read is None or (isinstance(read, str) and not read.strip()):
        raise Unclear(f"“{words}” is no value of {column.heading}")
    return column.key, read, as_typed


def _why(column: Column, words: str, read: Outcome) -> str:
    if column.choices:
        return f"“{words}” is none of the words for {column.heading}: {', '.join(column.choices)}"
    if read.code == "unit-unknown-heading":
        return f"“{words}” has no unit: write {column.unit} or {column.us_unit} behind it"
    title = CATALOGUE[read.code].title
    return f"“{words}” is no {column.heading} that can be taken ({title[:1].lower()}{title[1:]})"


def is_yes(text: str) -> bool:
    """Whether an answer only confirms."""
    return " ".join(text.split()).strip(" .!").casefold() in YES


def to_be_built(text: str) -> bool | None:
    """What an answer says of whether heaters are to be supplied; None where it says neither, or both."""
    words = " ".join(text.split()).strip(" .!").casefold()
    first = re.split(r"[\s,;:.]+", words)[0]
    if words in BUILD or (first in YES_WORDS and not read_row_words(words).fate and not NOT.search(words)):
        return True
    if words in LEAVE or first in NO_WORDS or read_row_words(words).fate == OUT:
        return None if any(word in words.split() for word in ("build", "keep", "supply", "include")) and first in NO_WORDS else False
    return None
