"""Codes and numbered notes that a list explains elsewhere on its sheet: "V=VOID", "4. HOLD - do not release".

Only what takes a row out, or leaves it open, is kept: a row that bears such a code is asked about, never left out by itself.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence

from batch.intake.columns_aside import heading_at
from batch.intake.facts import SUPERSCRIPTS, note_of
from batch.intake.grid import Grid, worded
from batch.intake.heading_sense import concepts_of
from batch.intake.list_words import heater_word, hits, takes_out
from batch.intake.note_numbers import named_for_notes, notes_referred, number_of_note, number_off
from batch.intake.remark_words import OUT, read_row_words
from batch.intake.sentence_words import worded_so
from batch.intake.supply_notation import supply_in_text
from batch.intake.survey import cells_of, flat
from batch.intake.wording import folded

_NUMBERED = re.compile(r"^\s*(?:notes?|nota|anm\.?|bem\.?|opm\.?|uwaga)?\s*[(\[]?(\d{1,2}|[A-Z])[)\].:]\)?\s+(\D.{3,})$", re.IGNORECASE)
_MARKED = re.compile(r"^\s*(\*{1,3}|†|‡|[¹²³⁰⁴-⁹]{1,2})[)⁾]?\s*([^\d*].{3,})$")  # "* by others", "¹ existing"
_EQUAL = re.compile(r"(?<![\w=])(\w{1,6})\s*=\s*([^=]+?)(?=[\s,;|/]+\w{1,6}\s*=|$)")
_ITEM = re.compile(r"^\s*(?:notes?\s*)?\d{1,2}[.):]\s+", re.IGNORECASE)  # the number of a note, "1. (E) = existing"
_STANDS_FOR = r"(?:\s*[):]|\s[-–—](?=\s[^\W\d_]))"  # "A: furnish", "A - furnish"; "1 - 3 heaters" explains no code
_COLONS = re.compile(
    rf"(?:\A(?:[^\W\d_]{{3,}}\s*:)?|[,;])\s*\(?([A-Z]|\d){_STANDS_FOR}\s*([^,;:]{{3,}}?)\s*(?=[,;]\s*\(?(?:[A-Z]|\d){_STANDS_FOR}|\Z)",
    re.IGNORECASE,
)
_ALONE_EQUAL = re.compile(  # by letters, where no sign of equality stands there: "12: deleted" names a tank
    r"^\s*[(\[]?(?:(\w{1,3})[)\]]?\s*=|([A-Z]{1,2})(?:[)\]]?\s*:|[)\]]?\s[-–—](?=\s)))\s*([^\W\d_][^=]{2,})$", re.IGNORECASE
)
WORD = re.compile(r"[^\W\d_]{3}")
_IN_BRACKETS = re.compile(r"^\s*\((\w{1,3})\)\s*=\s*([^.;]{4,})", re.IGNORECASE)  # "(E) = existing, to remain."
TO_SUPPLY = re.compile(
    r"\b(?:new|to be (?:bought|supplied|purchased|ordered)|this order|in scope|neu\w*|zu liefern|lieferumfang|nouveau\w*|[aà] fournir"
    r"|[aà] livrer|nuev[oa]s?"
    r"|(?:heaters?\s+)?(?:vendor|supplier|bidder|tenderer|lieferant|auftragnehmer|bieter|fournisseur|proveedor|fornitore|leverancier|dostawca|fornecedor)"
    r"|a suministrar|nuov[oiae]|da fornire|te leveren|nieuw\w*|now[eay]|do dostawy|dostawa|nov[oa]s?|a fornecer)\b",
    re.IGNORECASE,
)
LEGEND = re.compile(r"\b(?:legend\w*|key|codes?|l[ée]gende|leyenda|legenda|status)\b", re.IGNORECASE)
_QUOTED = re.compile(r"[\"“”„«]\s*([^\"“”«»]{2,24}?)\s*[\"“”»]")  # items "Customer" are not in our scope
OF_NOTES = re.compile(
    r"note|rem|ref|see\b|code|key|mark|comment|\bobs|anm|bem|hinweis|nota|opm|uwag|pozn|not(?:as|e)|stat|rev|act|scope|\*|#", re.IGNORECASE
)
OF_FIGURES = frozenset({"power", "volts", "phase", "count"})
_LINKS = frozenset({  # between the figures of a note and what is said of them
    "is", "are", "and", "&", "/", "ist", "sind", "und", "est", "sont", "et", "es", "son", "y", "è", "e", "ed", "sono", "é", "são", "zijn",
    "en", "jest", "są", "i", "er", "og", "är", "och", "je", "jsou", "a", "ve",
})  # fmt: skip
LONGEST_NOTE = 120  # of a note that names a word of the table: judgement, no source
_LONGEST_TAG = 12
_BRACKETED = re.compile(r"\(\w{1,3}\)")  # "(E)" behind a description
_NUMBERS_OF_NOTES = range(1, 30)  # judgement, no source
_LEAST_EQUAL = 2  # codes in a line, for it to be a legend
_CODE = re.compile(r"^\s*(?:#|notes?|nota|n\.|anm\.?|bem\.?|opm\.?|uwaga)?\s*[(\[]?([A-Za-z]{1,6}|\d{1,2})[)\].]?\s*$", re.IGNORECASE)


def legends(grid: Grid) -> dict[str, str]:
    """Code -> what it stands for, of the codes whose words take a row out or leave it open."""
    found: dict[str, str] = {}
    beside = [*_in_two_cells(grid), *_one_a_line(grid)]
    some = [*_scopes([one for group in beside for one in group])]
    for line in grid.lines:
        for _, value in cells_of(grid.rows[line]):
            if not isinstance(value, str):
                continue
            text = flat(value)
            said = _codes_told(text)
            said = [one for one in said if not (one[1][:1].isdigit() and supply_in_text(one[1]))]  # "O = 230 V (old net)" is about no row
            some += _scopes(said)
            if len(text) <= LONGEST_NOTE and read_row_words(_QUOTED.sub("", text)).fate:
                some += [(one[1], text) for one in _QUOTED.finditer(text) if len(one[0]) < len(text)]
            for code, words in said:
                if hits("accessories", words) and not heater_word(words):
                    continue  # "low level cutoff by controls contractor" is about no heater
                read = read_row_words(words)
                opens = _opens(words, read.word)
                bought = len(said) >= _LEAST_EQUAL and worded_so("buyer").fullmatch(words.strip(" .")) is not None  # "O = owner"
                if read.fate == OUT or bought or (read.fate and (opens or takes_out(words) or len(said) > _LEAST_EQUAL)):
                    found.setdefault(code.casefold(), words.strip())
    told = (one for group in beside for one in group if read_row_words(one[1]).fate or worded_so("buyer").fullmatch(one[1].strip(" .")))
    for code, words in (*some, *told):
        found.setdefault(code.casefold(), words.strip())
    return found


def _codes_told(text: str) -> list[tuple[str, str]]:
    """The codes and their words that a text explains, however it does."""
    if said := codes_in_line(text):
        return said
    if match := _IN_BRACKETS.match(_ITEM.sub("", text)):
        return [(f"({match[1]})", match[2]), (match[1], match[2])]  # as it stands behind a description, and alone
    if match := _NUMBERED.match(text) or _MARKED.match(text):
        return [(match[1].translate(SUPERSCRIPTS), match[2])]
    if number := number_of_note(text):  # "Note 3 - by others"
        return [(number, number_off(text))]
    said = [(one[1], one[2]) for one in _EQUAL.finditer(text)]
    return said if len(said) >= _LEAST_EQUAL else []


def codes_in_line(text: str) -> list[tuple[str, str]]:
    """Codes and their words in one line by colons or brackets: "A: furnish, B: by owner"; [] where there are no two."""
    pairs = [(one[1], one[2].strip()) for one in _COLONS.finditer(text)]
    return pairs if len(pairs) >= _LEAST_EQUAL else []


def codes_explained(grid: Grid) -> dict[str, str]:
    """The codes that the sheet says a meaning of, and the meaning, whatever it is."""
    found = {code.casefold(): meaning for group in (*_in_two_cells(grid), *_one_a_line(grid)) for code, meaning in group}
    for line in grid.lines:
        for _, value in cells_of(grid.rows[line]):
            text = flat(value) if isinstance(value, str) else ""
            said = [(one[1], one[2]) for one in _EQUAL.finditer(text)] or codes_in_line(text)
            found |= {code.casefold(): meaning for code, meaning in said} if len(said) >= _LEAST_EQUAL else {}
    return found


def _opens(text: str, word: str) -> bool:
    """ "HOLD - ...", "kW not final", "Volts and kW are preliminary": does a note begin with its word of doubt, or with figures of the
    heaters and that word? "Furnish one spare" doubts no row."""
    start = text.casefold().find(word.casefold())
    before = [one for one in text[: max(0, start)].split() if one.casefold() not in _LINKS]
    return start == 0 or (bool(before) and all(concepts_of(folded(one)) & OF_FIGURES for one in before))


def headed_for_notes(grid: Grid, heading_rows: Sequence[int], at: int) -> bool:
    """May bare figures in a column be numbers of notes? Not below a heading that speaks of something else: 4 ft of depth are no note 4."""
    heading = heading_at(grid, heading_rows, at)
    return not heading or OF_NOTES.search(heading) is not None


def columns_of_notes(grid: Grid, heading_rows: Sequence[int]) -> frozenset[int]:
    """The columns that a heading says are of notes."""
    width = max((len(grid.rows[number - 1]) for number in heading_rows), default=0)
    return frozenset(at for at in range(width) if named_for_notes(heading_at(grid, heading_rows, at)))


def says_what_struck_means(text: str) -> bool:
    """Does a short text explain what a row that is struck through is, and so nothing of the others?"""
    return len(text) <= LONGEST_NOTE and bool(hits("struck_through", text)) and (bool(re.search("[=:]", text)) or bool(hits("means", text)))


def explains(text: str) -> bool:
    """Is a text about the list and not about its rows: who wrote it, what codes stand for, what struck rows are?"""
    codes_of = [one for one in _EQUAL.finditer(text) if not one[1].isdecimal()]
    return says_what_struck_means(text) or len(codes_of) >= _LEAST_EQUAL or any(hit.start == 0 for hit in hits("written_by", text.strip()))


def _scopes(said: Sequence[tuple[str, str]]) -> list[tuple[str, str]]:
    """The codes that are not those of what is to be supplied, where one of a legend's codes says that it is."""
    wanted = [code for code, words in said if TO_SUPPLY.search(words)]
    return [(code, words) for code, words in said if code not in wanted] if len(wanted) == 1 and len(said) >= _LEAST_EQUAL else []


def _in_two_cells(grid: Grid) -> list[list[tuple[str, str]]]:
    """Legends with the code in one cell and its words in the next, in rows below each other."""
    groups: list[list[tuple[str, str]]] = []
    last = -2
    for line in grid.lines:
        cells = [(at, flat(value)) for at, value in cells_of(grid.rows[line]) if _told(value)]
        pair = cells[-2:]
        alone = len(cells) == len(cells_of(grid.rows[line])) and (len(cells) == 2 or (len(cells) == 3 and LEGEND.search(cells[0][1])))
        if alone and pair[1][0] == pair[0][0] + 1 and re.fullmatch(r"[A-Za-z]{1,3}|\d{1,2}", pair[0][1]) and WORD.search(pair[1][1]):
            if last != line - 1:
                groups.append([])
            groups[-1].append((pair[0][1], pair[1][1]))
            last = line
    return [group for group in groups if len(group) >= _LEAST_EQUAL and sum(" " in words for _, words in group) >= _LEAST_EQUAL]


def _one_a_line(grid: Grid) -> list[list[tuple[str, str]]]:
    """Legends with a code and its words in each cell, below each other: "C = contractor", "O = owner furnishes"."""
    groups: list[list[tuple[str, str]]] = []
    last = -2
    for line in grid.lines:
        cells = [flat(value) for _, value in cells_of(grid.rows[line])]
        match = _ALONE_EQUAL.match(cells[0]) if len(cells) == 1 else None
        if match is not None and len(_EQUAL.findall(cells[0])) == (1 if match[1] else 0):
            if last != line - 1:
                groups.append([])
            groups[-1].append((match[1] or match[2], match[3]))
            last = line
    return [group for group in groups if len(group) >= _LEAST_EQUAL]


def _told(value: object) -> bool:
    """A text, or a number that may be a note's."""
    return isinstance(value, str) or (isinstance(value, (int, float)) and value in _NUMBERS_OF_NOTES)


def codes(value: object) -> list[str]:
    """The codes of a cell that holds nothing else: "1, 4" or "note 3"; [] where it holds words."""
    parts = [part for part in re.split(r"[,;/&+]", worded(value)) if part.strip()]
    found = [match[1].casefold() for part in parts if (match := _CODE.match(part))]
    return found if len(found) == len(parts) else []


def code_of_cell(value: object, legends: Mapping[str, str], *, of_figure: bool, of_notes: bool) -> str:
    """The code of a legend that a cell bears; "" where it bears none.

    of_figure  the cell is a figure or a name that is read, which may bear the mark of a note behind it
    of_notes   a bare number in it may be that of a note: 4 ft of depth are no note 4
    """
    text = flat(value)
    worded_so = isinstance(value, str)
    referred = notes_referred(text) if worded_so else ()
    if of_figure:
        code = next((code for code in (note_of(text), *referred) if code in legends), "")
    else:
        whole = text.casefold() if worded_so else ""
        mark = note_of(whole) if len(whole) <= _LONGEST_TAG and whole.endswith(("*", "†", "‡")) else ""  # E09*
        code = next((code for code in (whole, mark, *codes(value), *referred) if code in legends), "")
        if code.isdigit() and not referred and not of_notes:
            code = ""
    marks = [mark.casefold() for mark in _BRACKETED.findall(text)] if worded_so and not code else []
    return code or next((mark for mark in marks if mark in legends), "")
