"""Things counted and named in a sentence: "1 line", "12 lines", "T-1, T-2 and 30 more"; one place for what every sentence needs."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from string import Formatter

ALONE = "~"
NAMED = 6  # names in a sentence before the rest is counted


def counted(number: int, one: str, several: str = "") -> str:
    """ "1 tank", "1,200 tanks", "2 supplies". `several`: what is no plural by rule."""
    return f"{number:,} {one if number == 1 else several or plural(one)}"


def counted_or_no(number: int, one: str) -> str:
    """ "1 bank", "3 banks", "no bank"."""
    return counted(number, one) if number else f"no {one}"


def plural(one: str) -> str:
    """Of the last word, by rule."""
    if one.endswith("y") and one[-2:-1] not in "aeiou":
        return f"{one[:-1]}ies"
    return f"{one}es" if one.endswith(("s", "x", "ch", "sh")) else f"{one}s"


def few(names: Sequence[str], most: int = NAMED) -> str:
    """ "a, b and 3 more" of more than `most`."""
    return ", ".join(names[:most]) + (f" and {len(names) - most:,} more" if len(names) > most else "")


class CountedWords(Formatter):
    """Fills a template; in `{count:line has|lines have}` the count is followed by the words that go with it, `{count:~it|they}` is the
    words alone."""

    def format_field(self, value: object, format_spec: str) -> str:
        one, bar, several = format_spec.removeprefix(ALONE).partition("|")
        if not bar:
            return super().format_field(value, format_spec)
        words = one if str(value) == "1" else several
        return words if format_spec.startswith(ALONE) else f"{value} {words}"


FILL = CountedWords()
MARKS = re.compile(r"[,;:][.,;:]|\.\.|(?:\A|[\s(])\"\"")
QUOTED = re.compile(r'(?<!\w)"([^"]+)"')  # and not 30"


def in_quotes(words: str) -> str:
    """Somebody's own words in quotation marks; those that they hold are single ones."""
    inner = QUOTED.sub(r"'\1'", words)
    return f'"{inner}"'


def filled(template: str, fields: Mapping[str, str]) -> str:
    """A template with its fields; KeyError where one is missing. A mark that a field ends with does not stand twice where the template
    goes on with one: "because 3 rows say so." and "{why}." are one sentence with one end. Quotation marks within others are single ones.
    """
    said = FILL.vformat(template, (), fields) if "|" in template else template.format(**fields)
    if not MARKS.search(said):
        return said
    closed = dict(fields)
    parts = list(FILL.parse(template))
    for (before, name, _, _), (after, *_) in zip(parts, [*parts[1:], ("", "", "", "")], strict=True):
        if name and before.endswith('"') and closed[name].startswith('"'):
            closed[name] = QUOTED.sub(r"'\1'", closed[name])
        if name and MARKS.match(closed[name][-1:] + after[:1]) and not closed[name].endswith(".."):
            closed[name] = closed[name][:-1]
    return FILL.vformat(template, (), closed)
