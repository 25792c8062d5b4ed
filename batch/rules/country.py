"""The words of a code's country: what the program says, said as its trade says it. Data of the rule set; ours where it has none."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from typing import NamedTuple

ALONE = "="
LATEST = 50_000  # texts remembered before starting afresh
_OTHER_UNITS = r"(?:°F|gal|in|ft|W/in²|lbf·in)"
_METRIC_BESIDE = re.compile(rf"-?[\d.,]+(?: to -?[\d.,]+)? {_OTHER_UNITS} \((-?[\d.,]+(?: to -?[\d.,]+)? (?:°C|K|L|mm|m|W/cm²|N·m))\)")
_OTHERS_BESIDE = re.compile(rf" \(-?[\d.,]+ {_OTHER_UNITS}\)")  # what stands in brackets beside a metric figure
_EITHER_UNIT = re.compile(r"(?<=… )(\S+) or (?:°F|gal|in|ft|ft/min|lb|lb/h|gal/h|lbf·in)(?![\w/])")  # what a question may be answered in
_LETTER = re.compile(r"(?<![A-Za-z])[ABC](?![A-Za-z])")  # of a supply line
_ONE_OR_MORE = r"[ABC](?:(?:, | and | or |, and )[ABC])*"
_LINES = rf"(?-i:[ABC](?:-[ABCN])+|L[123] on [ABC]|(?:[Ll]ines?|[Pp]hases?|[Pp]oles?) {_ONE_OR_MORE})"  # where letters are lines


class Country(NamedTuple):
    """What a rule set's country has beside its words: units ("us" or "si"), paper ("letter" or "a4"), and the cautions that go with every
    job, each with where it stands.
    """

    region: str = "us"
    paper: str = "letter"
    cautions: tuple[tuple[str, str], ...] = ()


class Wording:
    """Our words -> a code's. A word counts whole, in any case; a capital that opens the phrase stays one. Said twice is said once.

    words   phrases of ours, lower case but for abbreviations, with theirs; one after "=" is replaced where it stands alone
    kept    names with a number in them that people gave
    metric  of a figure said in two units the metric one alone is left, whichever of them stands in brackets
    lines   what the supply lines A, B and C are called, by our letters: "A-B", "lines B and C"; none = as they are
    """

    def __init__(
        self, words: Mapping[str, str], metric: bool, kept: frozenset[str] = frozenset(), lines: Mapping[str, str] | None = None
    ) -> None:
        self.kept = kept
        self.lines = dict(lines or {})
        self.words = dict(words)
        self._theirs = {ours.casefold(): theirs for ours, theirs in words.items()}
        longest_first = sorted((ours for ours in words if not ours.startswith(ALONE)), key=len, reverse=True)
        found = "|".join([*(re.escape(ours) for ours in longest_first), *([_LINES] if self.lines else [])])
        self._ours = re.compile(rf"(?<![\w-])(?:{found})(?![\w-])", re.IGNORECASE) if words else None
        self.metric = metric
        self._known: dict[str, str] = {}

    def __bool__(self) -> bool:
        return self._ours is not None

    def keeping(self, texts: Iterable[str | None]) -> Wording:
        """The same, with these texts left as they are wherever they stand: names that hold one of our words."""
        named = {text for text in texts if text}
        names = {text: text for text in named if self.of(text) != text}
        kept = frozenset(text for text in named if any(sign.isdigit() for sign in text))
        return Wording({**self.words, **names}, self.metric, kept, self.lines) if (names or kept) and self else self

    def of(self, text: str) -> str:
        """A text in these words."""
        if self._ours is None or not text:
            return text
        if (said := self._known.get(text)) is None:
            if len(self._known) >= LATEST:
                self._known.clear()
            said = self._known[text] = self._said(text)
        return said

    def within(self, text: str) -> str:
        """A piece of a sentence in these words, where what is said of a heading that stands alone does not hold."""
        text = self._in_its_units(text)
        return text if self._ours is None else self._ours.sub(self._word, text)

    def _in_its_units(self, text: str) -> str:
        if not self.metric:
            return text
        return _EITHER_UNIT.sub(r"\1", _OTHERS_BESIDE.sub("", _METRIC_BESIDE.sub(r"\1", text)))

    def heading(self, text: str, unit: str = "") -> str:
        """A heading in these words; one that reads otherwise in some unit stands with the unit: "phases [ph]"."""
        return self._theirs.get(f"{ALONE}{text.casefold()} [{unit.casefold()}]") or self.of(text)

    def _said(self, text: str) -> str:
        text = self._in_its_units(text)
        alone = self._theirs.get(ALONE + text.casefold())
        if alone and text[0].islower() and alone[1:2].islower():  # a word of a list, no heading
            alone = alone[0].lower() + alone[1:]
        return text if self._ours is None else alone or self._ours.sub(self._word, text)

    def _word(self, found: re.Match[str]) -> str:
        ours = found[0]
        if (known := self._theirs.get(ours.casefold())) is None:
            return _LETTER.sub(lambda letter: self.lines.get(letter[0], letter[0]), ours)
        theirs = known
        if ours.casefold() == theirs.casefold():
            return ours
        before = found.string[: found.start()].rstrip()
        opens = not before or before.endswith((".", ":", ";"))
        capital = opens if ours[:2].isupper() else ours[:1].isupper()
        return theirs[:1].upper() + theirs[1:] if capital else theirs


def together(wordings: Iterable[Wording]) -> Wording:
    """The words of several projects for what is said of them all, with the names of each left as they are; ours where one has ours."""
    given = list(wordings)
    if not given or not all(given):
        return OURS
    words = {ours: theirs for one in given for ours, theirs in one.words.items()}
    return Wording(words, all(one.metric for one in given), frozenset().union(*(one.kept for one in given)), given[-1].lines)


OURS = Wording({}, False)
OUR_COUNTRY = Country()
