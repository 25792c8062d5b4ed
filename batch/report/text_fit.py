"""How much room words need: lines in a column of a width, height of a row. Spreadsheet programs do not all fit rows by themselves."""

from __future__ import annotations

from functools import lru_cache

# Advance widths in thousandths of the type size, regular weight, of the common sans-serif metrics that Arial and its free
# equals share (from memory; a test sees that no printed line of ours is cut).
_WIDTHS = dict.fromkeys("abdeghnopqu0123456789?_$#=+<>~", 556) | dict.fromkeys("ckszvxyJ", 500) | dict.fromkeys("ijl'|", 222)
_WIDTHS |= dict.fromkeys(" ft.,:;/\\!I[]", 278) | dict.fromkeys("r-()`{}*", 333) | dict.fromkeys('"', 355) | dict.fromkeys("mM", 833)
_WIDTHS |= dict.fromkeys("ABEKPSVXY&", 667) | dict.fromkeys("CDHNRUw", 722) | dict.fromkeys("FTZ", 611) | dict.fromkeys("GOQ", 778)
_WIDTHS |= {"L": 556, "W": 944, "%": 889, "@": 1015, "°": 400, "·": 333, "…": 1000}
_OTHER_NARROW, _OTHER_WIDE = 600, 1000  # below and above U+2E80, where full-width writing begins
BOLD = 1.08
DIGIT_PX = 7  # pixels of one digit of the default font, which column widths count in
EM_PX = 12  # pixels of the type size: 9 points at 96 dots an inch
SPARE = 0.96  # programs measure a little differently
INDENT = 1.3  # digits that an indented cell loses
LINE_PT, PADDING_PT = 12.0, 3.0  # whole pixels, since programs keep heights in those
TALLEST_PT = 408.75  # ECMA-376 part 1, 18.3.1.73: row heights, as common programs limit them


def length(text: str) -> int:
    """Width of a text in thousandths of the type size."""
    known = _WIDTHS.get
    return sum(known(mark) or (_OTHER_WIDE if mark > "\u2e80" else _OTHER_NARROW) for mark in text)


@lru_cache(maxsize=20_000)
def lines(text: str, width: float, bold: bool = False, size: float = 9.0) -> int:
    """Lines that `text` takes when wrapped into a column of `width` digits; size in points."""
    room = width * DIGIT_PX / EM_PX * 1000 * SPARE / (BOLD if bold else 1.0) / (size / 9.0)
    count = 0
    for part in text.split("\n"):
        count += 1
        used = 0.0
        for word in part.split(" "):
            need = length(word)
            if used and used + 278 + need > room:
                count, used = count + 1, 0.0
            if need > room:  # broken in the middle
                count += int(need // room)
                used = need % room
            else:
                used += need + (278 if used else 0)
    return max(1, count)


def word_room(text: str, bold: bool = False) -> float:
    """Digits that the longest word of `text` needs in an indented cell, so that none is broken."""
    longest = max((length(word) for word in text.split()), default=0)
    return longest * (BOLD if bold else 1.0) * EM_PX / 1000 / DIGIT_PX / SPARE + INDENT + 0.2


def row_height(count: int) -> float:
    """Points for a row of `count` lines."""
    return min(TALLEST_PT, LINE_PT * count + PADDING_PT)
