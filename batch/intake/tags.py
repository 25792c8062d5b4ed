"""Tags of tanks that one cell names: "T-1 thru T-4", "T-1/2/3", "T-1, T-2 & T-3", "T-101A/B", "4 tanks"."""

from __future__ import annotations

import re
from functools import lru_cache
from itertools import pairwise

from msgspec import Struct

from batch.intake.vocabulary import vocabulary
from batch.intake.wording import words

MOST = 60  # tanks that one cell may stand for
LONGEST = 120
_HEAD = re.compile(r"\D*")
_TAG = re.compile(r"(?P<head>.*?)(?P<number>\d+)(?P<tail>[A-Za-z]?)\Z", re.DOTALL)
_SIGNS = re.compile(r"\s*(?:\.\.+|…|→|~|÷)\s*|\s+[–—-]+\s+|(?<=\d)[–—-](?=[A-Za-z]{1,4}[-. ]?\d)")
_WITH_COUNT = re.compile(r"(?P<tag>[\w./-]*\d[\w./-]*)\s*\((?P<count>\d{1,2})\)")
_ONE_WITH_COUNT = re.compile(r"(?P<tag>[A-Za-z]{1,5}[-.]?\d[\w./-]*)(?:\s+[^\W\d_][^()\d]*)?\s*\((?P<count>\d{1,2})\)")
_EACH_TANK = re.compile(  # ", 2 per tank"
    r"[,;(]\s*(?P<count>\d{1,2}|[^\W\d_]{3,6})\s+(?P<per>(?:per|par|pro|je|por|al|na|a|in each|each)\b[^,;)]*)\)?\s*\Z", re.IGNORECASE
)
# Words by which one tag stands for several tanks: "12 typ. 3", "Rinse (typical of four)", "B4, typique de 2", "11 (typ. of"
_TYPICAL = re.compile(
    r"(?<!\w)(?P<word>typ(?:ical|ique|isk|ow[yae]|isch|ick[áýé])?\.?|t[íi]pic[oa]|tip\.)\s*(?P<of>(?:of|for|de|di|da|dla|av|af|för|for|für|voor|pro"
    r"|para|per|von|van|x)\b\.?)?\s*\(?x?(?P<number>\d{1,2}\b|[^\W\d_]+\b|\Z)",
    re.IGNORECASE,
)
_TIMES = re.compile(r"[\w./-]*\d[\w./-]*\s*\(?\s*[x×]\s*\d{1,2}\s*\)?|\d{1,2}\s*[x×]\s*[^\W\d_]+[-. ]?\d[\w./-]*", re.IGNORECASE)
_IN_BRACKETS = re.compile(r"(?P<tag>.*\d\w*)\s*\((?P<said>[^()]+)\)")
_SPLIT = re.compile(r"\s*(?:[,;&+/]|\s\|\s)\s*|\n+")
OF_AN_AREA = re.compile(r"\d{1,4}-[A-Za-z]{1,4}-?\d{1,4}[A-Za-z]?")  # "410-T-01": area, kind and number of one tank


class Tags(Struct, frozen=True):
    """The tanks of a cell: their tags, or only how many. `doubt` says what is not sure, "" where all is."""

    tags: tuple[str, ...] = ()
    number: int = 0
    doubt: str = ""
    counts: tuple[int, ...] = ()  # of heaters in each tank, where the cell says it: "T-101 (3), T-102 (2)"


@lru_cache(maxsize=4096)
def read_tags(text: str) -> Tags:
    """The tags that a cell names; one tag as it stands where it is one."""
    plain = " ".join(text.replace("\u00a0", " ").replace(" t/m ", " tot ").split(" ")).strip()
    if not plain or len(plain) > LONGEST:
        return Tags((plain,) if plain else ())
    if number := how_many(plain):
        return Tags((), number)
    if (counted := _counted(plain)) is not None:
        return counted
    if (run := _counted_run(plain)) is not None:
        return run
    if _of_more(plain):
        return Tags((plain,), doubt=f'for how many tanks "{plain}" stands is not sure')
    body = _without_word(plain)
    pieces = _pieces(body)
    plural = body != plain
    if not pieces:
        return Tags((plain,))
    if len(pieces) == 1:
        return _run(pieces[0], plain, plural) or Tags((plain,))
    if not any(mark.isdigit() for mark in pieces[0]):
        return Tags((plain,))
    tags: list[str] = []
    for piece in pieces:
        run = _run(_headed(piece, tags), plain, plural)
        if run and run.doubt:
            return run
        more = run.tags if run else (_headed(piece, tags),)
        if not run and not _fits(piece):
            return Tags((plain,), doubt=f'whether "{plain}" is one tank or several is not sure')
        tags += more
    if len(set(tags)) < len(tags):
        return Tags((plain,), doubt=f'"{plain}" names a tank twice')
    if len(tags) > MOST:
        return Tags((plain,), doubt=f'"{plain}" would be more than {MOST} tanks')
    return Tags(tuple(tags), doubt=_uneven(plain, tags))


def _counted_run(text: str) -> Tags | None:
    """ "T-31 thru T-34 (4 tanks)": the run, where it has as many."""
    inner = _IN_BRACKETS.fullmatch(text)
    number = how_many(inner["said"]) if inner is not None else 0
    run = read_tags(inner["tag"]) if inner is not None and number else Tags()
    return run if len(run.tags) == number and number and not run.counts else None


def typical(text: str) -> re.Match[str] | None:
    """Where a text says that it stands for several, "typ. of 3"; a tank of type 3, "Typ 3", is none."""
    for match in _TYPICAL.finditer(text):
        said = match["number"]
        counted = said.isdigit() or (not said and bool(match["of"])) or (vocabulary().number(said) or 0) > 1
        if counted and (match["of"] or match["word"].casefold() != "typ" or any(map(str.isdigit, text[: match.start()]))):
            return match
    return None


def _of_more(text: str) -> bool:
    """Does a cell say of one tag that it stands for more tanks: "12 typ. 3", "13 x 2", "14 (2 tanks)", "18 ditto 17"?"""
    if not any(sign.isdigit() for sign in text):
        return False
    before = text[: match.start()] if (match := typical(text)) is not None else ""
    inner = _IN_BRACKETS.fullmatch(text)
    of_tanks = how_many(inner["said"]) if inner is not None else 0
    uneven = inner is not None and of_tanks > 0 and len(read_tags(inner["tag"]).tags) != of_tanks
    if any(map(str.isdigit, before)) or _TIMES.fullmatch(text) or uneven:
        return True
    parts = text.split()
    known = vocabulary()
    between = [part for part in parts[1:-1] if part.isalpha() and not known["to"].whole(part)]  # "do" is a ditto here, and a "to" there
    return any(map(str.isdigit, parts[0])) and any(known["ditto"].whole(part) for part in between)


def _counted(text: str) -> Tags | None:
    """"T-101 (3), T-102 (2)" and "T-130 thru T-132, 2 per tank": the tanks, and the heaters in each."""
    some = list(_WITH_COUNT.finditer(text))
    rest = _WITH_COUNT.sub("", text)
    if len(some) > 1 and not re.sub(r"[\s,;&+]|\b(?:and|und|et|y|e|en|i)\b", "", rest, flags=re.IGNORECASE):
        return Tags(tuple(match["tag"].strip() for match in some), counts=tuple(int(match["count"]) for match in some))
    alone = _ONE_WITH_COUNT.fullmatch(text)
    if alone is not None:
        return Tags((alone["tag"],), counts=(int(alone["count"]),))
    match = _EACH_TANK.search(text)
    hits = vocabulary()["per_tank"].find(match["per"]) if match is not None else ()
    if match is None or not hits:
        return None
    tanks = read_tags(text[: match.start()].strip(" ,;"))
    count = int(match["count"]) if match["count"].isdecimal() else vocabulary().number(match["count"]) or 0
    return Tags(tanks.tags, doubt=tanks.doubt, counts=(count,) * len(tanks.tags)) if tanks.tags and count else None


def how_many(text: str) -> int:
    """"4 tanks", "four baths": how many, without their names."""
    known = vocabulary()
    match = re.fullmatch(r"\(?(\d{1,3}|[^\W\d_]+)\)?\s+(?:x\s+)?(.+)", text, re.DOTALL)
    if match is None or not (len(match[2]) > 3 and known["tanks"].whole(match[2])):
        return 0
    number = int(match[1]) if match[1].isdigit() else known.number(match[1])
    return number if number is not None and 1 < number <= MOST else 0


def _without_word(text: str) -> str:
    """"Tanks 5-8" without its plural word, which says that several follow."""
    match = re.match(r"([^\W\d_]{3,})\s*(?:no|nos|nr|n[°º])?[.:]?\s+(?=[A-Z]{0,4}-?\d)", text, re.IGNORECASE)
    if match is None or match[1].casefold()[-1] not in "snrey" or not vocabulary()["tanks"].whole(match[1]):
        return text
    return text if match[1].casefold() in ("tank", "cuve", "behälter", "becken", "kar") else text[match.end() :]


def _pieces(text: str) -> list[str]:
    """The parts between commas, strokes and words for "and"."""
    pieces = [piece for piece in _SPLIT.split(text) if piece]
    found: list[str] = []
    for piece in pieces:
        parts = re.split(r"\s+", piece)
        start = 0
        for at, part in enumerate(parts):
            if 0 < at < len(parts) - 1 and vocabulary()["and"].whole(part) and part.isalpha() and _fits(" ".join(parts[start:at])):
                found.append(" ".join(parts[start:at]))
                start = at + 1
        rest = " ".join(parts[start:])
        if len(parts) > 1 and found and vocabulary()["and"].whole(parts[0]):
            rest = " ".join(parts[1:])
        found.append(rest)
    return [piece for piece in found if piece]


def _fits(piece: str) -> bool:
    """Does a piece look like a tag, or the end of one?"""
    return len(piece) <= 24 and bool(re.search(r"\d", piece) or re.fullmatch(r"[A-Za-z]", piece))


def _headed(piece: str, before: list[str]) -> str:
    """"2" after T-1 is T-2, "B" after T-101A is T-101B."""
    if not before:
        return piece
    first = _TAG.match(before[-1])
    if first is None:
        return piece
    if re.fullmatch(r"[A-Za-z]", piece) and first["tail"]:
        return f"{first['head']}{first['number']}{piece}"
    if re.match(r"\d", piece) and not re.search(r"[-.]\d", piece) and first["head"]:
        return first["head"] + piece
    return piece


def _run(text: str, whole: str, plural: bool) -> Tags | None:
    """From one tag to another; None where the text is no run."""
    ends = _ends(text, plural)
    if ends is None or OF_AN_AREA.fullmatch(text):
        return None
    placed = text.split()[0]
    if placed != text and not re.search(r"\d", text[len(placed) :]) and (inner := _ends(placed, plural)) is not None:
        hall, bath = (_TAG.match(end) for end in inner)
        if hall is not None and bath is not None and _in_a_place(hall, bath):
            return None  # "WA1-B1 Waschtank"
    first, last = (_TAG.match(end.strip()) for end in ends)
    if first is not None and last is not None and not re.search(r"\s", text) and not _SIGNS.search(ends[1]) and _in_a_place(first, last):
        return None
    if first is None or last is None or (last["head"].strip() and last["head"].strip().casefold() != first["head"].strip().casefold()):
        return Tags((whole,), doubt=f'which tanks "{whole}" stands for is not sure')
    low, high = int(first["number"]), int(last["number"])
    head, width = first["head"], len(first["number"]) if first["number"].startswith("0") else 0
    if low == high and first["tail"] and last["tail"]:
        one, other = first["tail"], last["tail"]
        if one < other and one.isupper() == other.isupper():
            return Tags(tuple(f"{head}{first['number']}{chr(code)}" for code in range(ord(one), ord(other) + 1)))
    if first["tail"] == last["tail"] == "" and low < high < low + MOST:
        return Tags(tuple(f"{head}{number:0{width}d}" for number in range(low, high + 1)))
    return Tags((whole,), doubt=f'which tanks "{whole}" stands for is not sure')


def _in_a_place(first: re.Match[str], last: re.Match[str]) -> bool:
    """ "PL2-T-101", "GL1-B04": a hall or a line and its tank. The ends of a run are called alike, and their numbers are about as long."""
    heads = [end["head"].strip().casefold() for end in (first, last)]
    apart = all(heads) and heads[0] != heads[1]
    return apart and ("-" in heads[1] or len(first["number"]) < len(last["number"]) or len(heads[0]) > len(heads[1]))


def _ends(text: str, plural: bool) -> tuple[str, str] | None:
    if match := _SIGNS.search(text):
        sides = text[: match.start()], text[match.end() :]
        return sides if all(re.search(r"\d", side) for side in sides) else None
    if plural and (match := re.fullmatch(r"([A-Za-z]{0,4}-?\d+)\s*[–—-]\s*(\d+)", text)):
        return match[1], match[2]
    parts = text.split()
    for at in range(1, len(parts) - 1):
        if words(parts[at]) and vocabulary()["to"].whole(parts[at]) and (not parts[at][0].isupper() or parts[at].isupper()):
            sides = " ".join(parts[:at]), " ".join(parts[at + 1 :])
            if all(_TAG.match(side) for side in sides):
                return sides
    return None


def _uneven(text: str, tags: list[str]) -> str:
    """"B-10/2" may be one tag: behind a stroke alone a lower number is not sure to be another tank."""
    if "/" not in text or re.search(r"[,;&+]", text):
        return ""
    numbers = [int(match["number"]) for tag in tags if (match := _TAG.match(tag))]
    rising = all(one <= other for one, other in pairwise(numbers))
    return "" if rising and numbers and numbers[-1] - numbers[0] < MOST else f'whether "{text}" is one tank or several is not sure'


def head_of(tag: str) -> str:
    """What stands before a tag's first figure: "T-" of "T-101", "" of "12"."""
    return _HEAD.match(tag.strip())[0]  # type: ignore[index]  # it matches nothing too
