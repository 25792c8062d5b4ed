"""How much room words need: lines in a column of a width, height of a row. Spreadsheet programs do not all fit rows by themselves."""

from __future__ import annotations

from functools import lru_cache

# Advance widths in thousandths of the type size, read from the hmtx tables of Liberation Sans, which has the metrics of Arial.
_REGULAR = {
    191: "'", 222: "ijl", 260: "|", 278: " !,./:;I[\\]ft·", 333: "()-`r²{}", 355: '"', 389: "*", 400: "°", 469: "^", 500: "Jcksvxyz",
    556: "#$0123456789?L_abdeghnopqu–", 584: "+<=>~×µ", 611: "FTZ", 667: "&ABEKPSVXY", 722: "CDHNRUw", 778: "GOQ", 833: "Mm", 889: "%",
    944: "W", 1000: "…", 1015: "@",
}  # fmt: skip
_BOLD = {
    238: "'", 278: " ,./I\\ijl·|", 333: "!()-:;[]`ft²", 389: "*r{}", 400: "°", 474: '"', 500: "z", 556: "#$0123456789J_aceksvxy–",
    584: "+<=>^~×µ", 611: "?FLTZbdghnopqu", 667: "EPSVXY", 722: "&ABCDHKNRU", 778: "GOQw", 833: "M", 889: "%m", 944: "W", 975: "@",
    1000: "…",
}  # fmt: skip
WIDEST_MARK = 1015  # of all of these, and of what is none of these
USUAL_MARK = 480  # of running text
_OTHER_NARROW, _OTHER_WIDE, _WIDE_FROM = 667, 1000, "\u2e80"  # other marks, and full-width writing from where it begins


class _Widths(dict[str, int]):
    """Widths by mark, of those too that the tables lack."""

    def __missing__(self, mark: str) -> int:
        return _OTHER_WIDE if mark >= _WIDE_FROM else _OTHER_NARROW


_WIDTHS = [_Widths({mark: width for width, marks in table.items() for mark in marks}) for table in (_REGULAR, _BOLD)]
DIGIT_PX = 7  # pixels of one digit of the default font, which column widths count in
EM_PX = 12  # pixels of the type size: 9 points at 96 dots an inch
SPARE = 0.94  # programs measure a little differently: words that took 0.96 of a column were seen to wrap
INDENT = 1.3  # digits that an indented cell loses
LINE_PT, PADDING_PT = 12.0, 3.0  # whole pixels, since programs keep heights in those
WIDEST = 254.28  # digits: a column is stored 5 pixels wider, and then just reaches 255 (as TALLEST_PT; the Open XML schema says 255 too)
TALLEST_PT = 408.75  # ECMA-376 part 1, 18.3.1.73: row heights, as common programs limit them


@lru_cache(maxsize=20_000)
def length(text: str, bold: bool = False) -> int:
    """Width of a text in thousandths of the type size. Remembered: lists are made of few words."""
    return sum(map(_WIDTHS[bold].__getitem__, text))


@lru_cache(maxsize=5_000)
def _words(text: str, bold: bool) -> tuple[tuple[int, ...], ...]:
    """Widths of the words of each line as it was written: the same text is asked for at several widths of a column."""
    return tuple(tuple(length(word, bold) for word in part.split(" ")) for part in text.split("\n"))


@lru_cache(maxsize=20_000)
def lines(text: str, width: float, bold: bool = False, size: float = 9.0) -> int:
    """Lines that `text` takes when wrapped into a column of `width` digits; size in points."""
    room = width * DIGIT_PX / EM_PX * 1000 * SPARE / (size / 9.0)
    if "\n" not in text and (len(text) * WIDEST_MARK <= room or (len(text) * USUAL_MARK <= room and length(text, bold) <= room)):
        return 1  # most are: not measured word by word
    space = length(" ", bold)
    count = 0
    for part in _words(text, bold):
        count += 1
        used = 0.0
        for need in part:
            if used and used + space + need > room:
                count, used = count + 1, 0.0
            if need > room:  # broken in the middle
                count += int(need // room)
                used = need % room
            else:
                used += need + (space if used else 0)
    return max(1, count)


def word_room(text: str, bold: bool = False) -> float:
    """Digits that the longest word of `text` needs in an indented cell, so that none is broken."""
    longest = max((length(word, bold) for word in text.split()), default=0)
    return longest * EM_PX / 1000 / DIGIT_PX / SPARE + INDENT + 0.2


def digits(units: float) -> float:
    """Width of an indented column in digits for a text of `units` thousandths of the type size, on one line."""
    return units * EM_PX / 1000 / DIGIT_PX / SPARE + INDENT + 0.5


def row_height(count: int) -> float:
    """Points for a row of `count` lines."""
    return min(TALLEST_PT, LINE_PT * count + PADDING_PT)
