"""Tanks that a sentence names: "in cuba C-01", "Tanks 8 and 9 hot rinse", "Bad 31 – Ontvetten", "TK-21 IMM HTR (1) 9 kW".

A tag with a letter stands by itself; a bare number keeps the word before it, for "31" alone could be anything.
"""

from __future__ import annotations

import re
from functools import lru_cache

from msgspec import Struct

from batch.intake.heading_sense import concepts_of
from batch.intake.tags import read_tags
from batch.intake.wording import folded

LONGEST = 400
_CODED = r"[A-Z]{1,4}[-./]?\d[\w.-]*(?:/\d+|/[A-Z](?!\w))*"
_NUMBERED = r"\d{1,4}[A-Za-z]?(?:/[A-Z](?!\w))*(?:[-./]\d{1,3})*"
_TAG = rf"(?!\d{{2,4}}\s*(?:V|VAC|k?W)(?![^\W\d_]))(?:{_CODED}|{_NUMBERED})(?!\w*\s*(?:k?W|V|kg|mm|°|l|h)\b)(?<![.-])"
_LINK = r"\s*(?:,|&|\+|/|÷|–|-|\b(?:and|und|et|y|e|en|i|og|och|thru|through|to|til|till|bis|à|al|a|t/m|do|až|até)\b)\s*"
_NAMED = re.compile(
    rf"(?<![\w-])(?P<word>[^\W\d_]{{1,12}})\.?\s*(?:(?:no|nr|n[°ºo]|num|č(?:ís)?)\b\.?\s*|#\s*)?(?P<run>{_TAG}(?:{_LINK}{_TAG})*)(?![\w])",
    re.IGNORECASE,
)
SAME = re.compile(  # what another tank has (trade words, common practice, no source)
    r"\b(?:same|identical|likewise|gleiche?\w*|m[êe]mes?|mism[oa]s?|igual\w*|stess\w*|(?:de|het)?zelfde|tak\w+ sam\w+|mesm[oa]s?|samm[ea]"
    r"|stejn\w+|ayn[ıi])\b",
    re.IGNORECASE,
)
SAME_AS = re.compile(r"\b(?:same as|as in|like|idem|wie|comme|come|como|zoals|jak w|som|jako)\b", re.IGNORECASE)  # another tank follows
OF_ANOTHER = re.compile(rf"{SAME_AS.pattern}[^,;]*", re.IGNORECASE)
_OWN_CODE = r"(?:TK|TQ|TNK|CU|VA|BT|BAD|B|T|C|V|W)-?\d{1,4}[A-Z]?"
_WRITTEN = re.compile(r"TN?K\d{1,4}[A-Z]?")
_TANK_CODE = re.compile(r"(?<![\w-])(?:TK|TNK)[-. ]?\d{1,4}[A-Z]?(?![\w-])")  # TK-211, wherever it stands
_SERVED = re.compile(  # "heater for T-4, 480 V", "in V-12", "Immersion htr 1, T-4": a tag that says tank by where it stands
    rf"\b(?:for|in|serving|für|fuer|pour|dans|para|en)\s+(?P<run>{_OWN_CODE})(?![\w-])(?=\s*(?:[,;:.)]|\Z))|(?:,|\s[-–])\s*(?P<last>TK?-\d{{1,4}}[A-Z]?)\s*\Z"
)
_BEHIND_HEATER = re.compile(  # "Badheizer B01 Beize"
    rf"(?<![\w-])(?P<word>[^\W\d_]{{3,24}})\s+(?P<run>{_OWN_CODE})(?=\s+[^\W\d_]{{3}}|\s*\Z)"
)
_CODE = re.compile(rf"\A\s*(?P<run>{_OWN_CODE}(?:{_LINK}{_OWN_CODE})*)(?=\s|:|,|;|\Z)")


_LAST_BY_DASH = re.compile(r"(?P<before>.+?)\s+[–-]\s+\d{1,2}")
_TIMES = re.compile(r"\s*(?:[x×*@]\s*\d|(?:pcs?|off|nos?|ea|stk|st|szt|uds?|pz)\b)", re.IGNORECASE)
WORDS_TO_HEATER = 3  # behind a number that counts heaters: judgement, no source


class TankNamed(Struct, frozen=True):
    """The tags, "" where no tank is named; `doubt` where several are, and nothing links them."""

    tags: tuple[str, ...] = ()
    start: int = -1
    end: int = -1
    by_word: bool = False  # a word for a tank stands before the tag
    doubt: str = ""

    @property
    def text(self) -> str:
        """The tags as one cell has them."""
        return ", ".join(self.tags)


@lru_cache(maxsize=4096)
def tank_named(text: str) -> TankNamed:
    """The tank or tanks that a text names."""
    text = OF_ANOTHER.sub(lambda match: " " * len(match[0]), text[:LONGEST])
    found: list[TankNamed] = []
    for match in _NAMED.finditer(text):
        word = match["word"]
        if "tank" in concepts_of(folded(word)):
            own = _WRITTEN.fullmatch(match[0])  # "TK11" is called so, and not "TK 11"
            run = _before_count(match, text)
            at = match.start(), match.start("run") + len(run)
            found.append(TankNamed((match[0],), *match.span(), True) if own else _named(word, run, *at))
    if not found:
        found = [TankNamed((match[0],), match.start(), match.end(), True) for match in _TANK_CODE.finditer(text) if match.start()]
    if found:
        first = found[0]
        others = {one.tags for one in found if one.tags != first.tags}
        return TankNamed(first.tags, first.start, first.end, True, f'"{text[:60]}" names several tanks' if others else first.doubt)
    code, served = _CODE.match(text), list(_SERVED.finditer(text))
    if len(served) == 1 and code is None:
        name = "run" if served[0]["run"] else "last"
        return TankNamed((served[0][name],), served[0].start(name), served[0].end(name), True)
    behind = [match for match in _BEHIND_HEATER.finditer(text) if "heater" in concepts_of(folded(match["word"]))]
    if len(behind) == 1 and code is None and not served:
        return TankNamed((behind[0]["run"],), behind[0].start("run"), behind[0].end("run"), True)
    if code is not None:
        run = code["run"]
        said = read_tags(run) if re.search(r"[\s,&+/]", run) else None
        tags = (said.tags if said is not None else ()) or (run,)
        doubt = f'"{text[:60]}" names several tanks' if any(one["run"] not in (None, *tags) for one in served) else ""
        return TankNamed(tags, code.start("run"), code.end("run"), doubt=(said.doubt if said is not None else "") or doubt)
    return TankNamed()


def _before_count(match: re.Match[str], text: str) -> str:
    """The tags of a match without a number behind a dash that counts heaters: "Tank 1 - 2 heaters", "Tank 4 - 3 x 9 kW"; not of "Tanks"."""
    counted = _LAST_BY_DASH.fullmatch(match["run"])
    if counted is None or match["word"][-1:].casefold() == "s":
        return match["run"]
    rest = text[match.end() :]
    words = [folded(word) for word in re.findall(r"[^\W\d_]+", rest)[:WORDS_TO_HEATER]]
    heaters = re.match(r"\s+[^\W\d_]", rest) and any("heater" in concepts_of(word) for word in words)
    return counted["before"] if heaters or _TIMES.match(rest) else match["run"]


def sentence_of_a_tank(text: str) -> bool:
    """Is a sentence about a tank: one named by a word, "tank 4", or by a tag that it begins with, "T-4 acid: two 4.5 kW heaters"?"""
    named = tank_named(text)
    return named.by_word or (bool(named.tags) and named.start == 0)


def _named(word: str, run: str, start: int, end: int) -> TankNamed:
    said = read_tags(run.strip())
    tags = said.tags or (run.strip(),)
    if all(tag[:1].isdigit() for tag in tags):
        bare = word[:-1] if len(tags) > 1 and word[-1:] in "sS" and len(word) > 3 else word
        tags = tuple(f"{bare} {tag}" for tag in tags)
    return TankNamed(tags, start, end, True, said.doubt)
