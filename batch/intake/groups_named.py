"""Which rows of a list some words name: by tags ("C-01 to C-06"), numbers of items, a mark they bear, the line or hall they stand in."""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import lru_cache

from msgspec import Struct, field

from batch.intake.grid import Grid, worded
from batch.intake.heading_sense import concepts_of, machine_in
from batch.intake.legends import columns_of_notes
from batch.intake.list_words import names_a_place
from batch.intake.note_numbers import bare_numbers, notes_referred
from batch.intake.plan import ListPlan
from batch.intake.survey import cells_of, flat
from batch.intake.wording import folded

BY_PLACE, BY_TAG, BY_MARK = 1, 2, 3  # what goes before what: a mark before a run of tags, and that before a line
_MARK = r"(?:\(\s*(?:\*{1,3}|[A-Za-z]{1,2}|\d{1,2})\s*\)|\*{1,3}|[†‡¹²³]|[\"“„']\w{1,3}[\"”“']|\b\d{1,2}\)|(?-i:\b[A-Z]{1,2}\b))"
_SIGN = r"(?:\(\s*(?:\*{1,3}|\w{1,2})\s*\)|\*{1,3}|[†‡¹²³]|\b\d{1,2}\))"
_MARKED = (
    r"(?:marked|flagged|gekennzeichnet\w*|markiert\w*|kennz(?:eichen|\.)?|marqu[ée]\w*|rep[ée]r[ée]\w*|marcad\w+|se[ñn]alad\w+"
    r"|contrassegnat\w+|segnat[aeio]|gemarkeerd\w*|aangeduid\w*|gemerkt\w*|oznacz\w+|ozna[čc]en\w*|assinalad\w+|m[æe]rket|m[æe]rkede|m[äa]rkta?|m[äa]rkt)"
)
MARKED = re.compile(rf"\b{_MARKED}\b\W*(?:\w{{1,5}}\W+)?(?P<behind>{_MARK})|(?P<before>{_MARK})\W*{_MARKED}\b", re.IGNORECASE)
SIGN_ALONE = re.compile(rf"(?:\A\W*?|\b(?:with|mit|avec|con|met|com|med|s|z)\s+)(?P<behind>{_SIGN})(?P<before>)", re.IGNORECASE)
LETTER = re.compile(r"(?P<behind>\(\s*[A-Za-z]{1,2}\s*\))(?P<before>)")  # "except (m)", where a cell of the sheet bears it
_RUN = r"\d{1,3}(?:\s*(?:,|;|&|/|[-–]|\b(?:and|und|et|y|e|en|i|og|och|a|to|thru|through|bis|à|al|t/m|do|til|till|až|até)\b)\s*\d{1,3})*"
ITEMS = re.compile(
    r"\b(?:sl\.?\s*no?s?|items?|pos(?:ition(?:s|en|er|i)?|ici[oó]n(?:es)?|izion[ei]|i[cç][õo]es)?|lfd\.?\s*nr|postes?|poz(?:ycj[ea])?"
    rf"|rows?|zeilen?|lignes?\s+n[°º]|filas?|righe|regels?)\b\.?\s*(?:no|nos|nr|n[°º])?\.?\s*(?P<run>{_RUN})(?![\w-])",
    re.IGNORECASE,
)
NUMBERED = re.compile(rf"\b(?P<word>[^\W\d_]{{2,12}})\.?\s*(?:no|nos|nr|n[°º])?\.?\s*(?P<run>{_RUN})(?![\w-]|[.,]\d|\d*\))", re.IGNORECASE)
_TAG = r"(?<![\w-])(?P<head>[A-Z]{1,4}[-. ]?|\d{1,2}[.-])(?P<number>\d{1,4})(?P<tail>[A-Z]?)(?![\w])"
TAGS = re.compile(_TAG, re.IGNORECASE)
TO = re.compile(
    r"\s*(?:[-–]|\.{2,3}|\b(?:to|thru|through|bis|à|a|al|alla|t/m|tot(?: en met)?|do|til|till|až(?: do)?|até|ate)\b)\s*(?:la|le|the)?\s*",
    re.IGNORECASE,
)
ONWARD = re.compile(
    r"\s*(?:onwards?|and (?:up|above|on|following)|ff\b\.?|en adelante|et suivant\w*|und folgende|aufw[äa]rts|in poi|en verder|i dalej"
    r"|em diante|e seguintes|og (?:fremefter|opover|fremover)|och (?:fram[åa]t|upp[åa]t)|a d[áa]l(?:e)?|a v[ýy][šs]e)",
    re.IGNORECASE,
)
FROM = re.compile(r"\b(?:from|ab|[àa] partir d[eo]|desde|dalla?|vanaf|od|fra|fr[åa]n)\s*\Z", re.IGNORECASE)
BARE_END = re.compile(r"(?P<number>\d{1,4})(?![\w])")
PLACE = re.compile(r"\b(?P<word>[^\W\d_]{3,12})\s+(?P<sign>\d{1,2}|[A-Z]\d?)\b")
LEFT_OVER = re.compile(r"\d|\b[A-Z]{1,3}-\w|\(\s*\w\s*\)|\*")
NUMBER_OF_NOTE = re.compile(r"\A\s*(?:notes?\s*)?\d{1,2}[.)]\s+(?=\D)", re.IGNORECASE)  # "1. All heaters ..."
NO_MARKS = frozenset({"v", "kv", "w", "kw", "a", "ac", "dc", "pe", "hz", "ph", "le", "la", "el", "de", "en", "y", "e", "i", "o", "u"})
LONGEST_CELL = 60
NO_NAMES = frozenset({"no", "nos", "nr", "num", "number", "numero", "nummer", "tag", "id", "name", "code", "ref", "and", "of", "the"})
SMALL = str.maketrans("0123456789", "⁰¹²³⁴⁵⁶⁷⁸⁹")
# "a" is to in Spanish, Portuguese and Italian, and in Czech it is and
CZECH = re.compile(r"[ěščřžůťň]|\b(?:van[ay]|van[áa]ch|l[áa]zn\w*|polo[zž]k\w*)\b", re.IGNORECASE)


class Named(Struct):
    """The rows that words name, each with how closely; `elsewhere`: they name a line or a hall that this list is not of."""

    rows: dict[int, int] = field(default_factory=dict)
    names: bool = False  # do they name anything?
    elsewhere: bool = False
    minus: set[int] = field(default_factory=set)  # rows of which it is not said
    of_others: bool = False  # do they say "all others"?


class Rows:
    """The rows of a table by what words may name them by. Rows count from 0."""

    def __init__(self, plan: ListPlan, grid: Grid, tank: int, places: Sequence[str]) -> None:
        heading = plan.columns["tank"].heading if "tank" in plan.columns else ""
        self.called = frozenset(folded(word) for word in re.findall(r"[^\W\d_]{2,}", heading)) - NO_NAMES
        lines = [line for line in grid.lines_from(plan.first_row - 1) if line < plan.last_row]
        self.all, self.grid = set(lines), grid
        self.noted = columns_of_notes(grid, plan.heading_rows)
        self.order = list(lines)
        self.cells = {line: [(at, flat(value)) for at, value in cells_of(grid.rows[line], plan.first, plan.last)] for line in lines}
        self.tags = {line: unmarked(worded(grid.rows[line][tank])).strip() for line in lines if tank < len(grid.rows[line])}
        self.places = [place.casefold() for place in places]

    def of_item(self, number: int) -> set[int]:
        return {line for line, cells in self.cells.items() if cells and cells[0][1].rstrip(".") in (str(number), f"{number}.0")}

    def of_number(self, number: int) -> set[int]:
        """Those of a tank with a bare number, or with a word for a tank before it."""
        found = set()
        for line, tag in self.tags.items():
            word, _, rest = tag.rpartition(" ")
            if rest.isdecimal() and int(rest) == number and (not word or self.are_called(word)):
                found.add(line)
        return found

    def are_called(self, word: str) -> bool:
        """Is it a word for a tank, or the one by which the list calls them: "Stage 9"?"""
        word = folded(word.rstrip("."))
        return "tank" in concepts_of(word) or word in self.called or word.removesuffix("s") in self.called

    def of_note(self, number: str) -> set[int]:
        """Those with a cell that refers to the note of that number, or bears it alone in a column of notes."""
        return {
            line for line, cells in self.cells.items()
            if any(number in notes_referred(text) or (at in self.noted and number in bare_numbers(text)) for at, text in cells)
        }  # fmt: skip

    def of_tag(self, head: str, number: int, tail: str) -> set[int]:
        return {line for line, tag in self.tags.items() if _parts(tag) == (_head(head), number, tail.casefold())}

    def of_run(self, head: str, low: int, high: int) -> set[int]:
        keys = {line: _parts(tag) for line, tag in self.tags.items()}
        return {line for line, key in keys.items() if key is not None and key[0] == _head(head) and low <= key[1] <= high}

    def bears(self, mark: str) -> bool:
        """Does any cell of the sheet end with the mark: of another table, perhaps?"""
        bare = mark.strip("()\"“”„' ").casefold()
        rows = (self.grid.rows[line] for line in self.grid.lines)
        return any(isinstance(value, str) and value.strip() and _bears(flat(value), bare) for row in rows for value in row)

    def marked(self, mark: str) -> set[int]:
        """Those with a cell that is the mark, or ends with it."""
        bare = mark.strip("()\"“”„' ").casefold()
        return {line for line, cells in self.cells.items() if any(_bears(text, bare) for _, text in cells)}


def letters_behind(text: str, tags: Sequence[str]) -> dict[str, tuple[str, ...]]:
    """ "T2 (m)" is tank T2 where a sentence says what (m) stands for: the tags by how they stand, folded."""
    found: dict[str, tuple[str, ...]] = {}
    for mark in {match["behind"] for match in LETTER.finditer(text)}:
        ends = [tag for tag in tags if tag.casefold().endswith(mark.casefold())]
        found |= {tag.casefold(): (bare,) for tag in ends if (bare := tag[: -len(mark)].strip()) and bare not in tags}
    return found


def unmarked(text: str) -> str:
    """A tag without the mark of a note behind it: "C-04 (*)", "A6 2)", "T-3*"."""
    numbered = r"|(?<=\w)\s+\d\)" if text.count("(") < text.count(")") else ""  # "11 (typ. of 4)" ends with no mark
    return re.sub(rf"(?<=\w)\s*(?:\(\s*\*{{1,3}}\s*\)|\*{{1,3}}|[†‡]|[¹²³⁴-⁹]\)?{numbered})\s*\Z", "", text)


def marks_behind(plan: ListPlan, rows: Sequence[Sequence[object]]) -> bool:
    """Do some tags bear the mark of a note, "C-04 (*)", without which they still tell the rows apart?"""
    column = plan.columns.get("tank")
    tags = [worded(row[column.index]).strip() for row in rows if column.index < len(row)] if column is not None and not column.parts else []
    bare = [unmarked(tag) for tag in tags]
    return bare != tags and len(set(bare)) == len(set(tags))


@lru_cache(maxsize=4096)
def _bears(text: str, mark: str) -> bool:
    small = mark.translate(SMALL)
    if mark.isdigit():
        return re.search(rf"(?:\(\s*{mark}\s*\)|(?:\A|(?<=\s)){mark}\)|{small}\)?)\s*\Z", text) is not None
    if text.strip("()\"' ").casefold() == mark:
        return True
    alone = rf"|(?<=\w)\s*{re.escape(mark)}" if not mark.isalnum() else ""
    return len(text) <= LONGEST_CELL and re.search(rf"(?:\(\s*{re.escape(mark)}\s*\){alone})\s*\Z", text, re.IGNORECASE) is not None


def _head(text: str) -> str:
    return text.strip(" -").casefold()


@lru_cache(maxsize=4096)
def _parts(tag: str) -> tuple[str, int, str] | None:
    match = TAGS.fullmatch(tag)
    return (_head(match["head"]), int(match["number"]), match["tail"].casefold()) if match is not None else None


class GroupsNamed:
    """Reads one piece of a sentence."""

    def __init__(self, rows: Rows, *, czech: bool = False) -> None:
        self.rows, self.czech, self.found = rows, czech, Named()

    def read(self, piece: str) -> Named | None:
        """The rows that it names; None where something in it is not understood."""
        self.found = Named()
        number = NUMBER_OF_NOTE.match(piece)
        rest = piece[number.end() :] if number is not None and not (")" in number[0] and self.rows.marked(number[0].strip())) else piece
        for part in (self._marks, self._items, self._tags, self._numbers, self._places):
            rest = part(rest)
        return None if LEFT_OVER.search(rest) or machine_in(rest) else self.found

    def _take(self, rows: set[int], rank: int) -> None:
        self.found.names = True
        self.found.rows |= {row: max(rank, self.found.rows.get(row, 0)) for row in rows}

    def _marks(self, piece: str) -> str:
        def take(match: re.Match[str]) -> str:
            mark = match["behind"] or match["before"]
            bare = mark.strip("()\"“”„' ").casefold()
            if bare in NO_MARKS and "(" not in mark:
                return match[0]
            rows = self.rows.marked(mark)
            if match.re is LETTER and (rows == self.rows.all or not (rows or self.rows.bears(mark))):
                return match[0]  # of no row, or a unit that every row has
            self._take(rows, BY_MARK)
            return " "

        return LETTER.sub(take, SIGN_ALONE.sub(take, MARKED.sub(take, piece)))

    def _items(self, piece: str) -> str:
        def take(match: re.Match[str]) -> str:
            self._take({row for number in self._run(match["run"]) for row in self.rows.of_item(number)}, BY_TAG)
            return " "

        return ITEMS.sub(take, piece)

    def _tags(self, piece: str) -> str:
        known = {key[0] for tag in self.rows.tags.values() if (key := _parts(tag)) is not None}
        matches = [match for match in TAGS.finditer(piece) if _head(match["head"]) in known]
        rest, low = piece, None
        for at, match in enumerate(matches):
            head, number = match["head"], int(match["number"])
            end = match.end()
            to = TO.match(piece, end)
            if to is not None and self.czech and to[0].strip() == "a":
                to = None
            linked = TO.fullmatch(piece, matches[at - 1].end(), match.start()) if at else None
            if low is not None and linked is not None and not (self.czech and linked[0].strip() == "a"):
                self._take(self.rows.of_run(head, low, number), BY_TAG)
                low = None
            elif to is not None and (bare := BARE_END.match(piece, to.end())) is not None:
                self._take(self.rows.of_run(head, number, int(bare["number"])), BY_TAG)
                low, end = None, bare.end()
            elif ONWARD.match(piece, end) or (FROM.search(piece, 0, match.start()) and to is None):
                self._take(self.rows.of_run(head, number, 10**6), BY_TAG)
            else:
                self._take(self.rows.of_tag(head, number, match["tail"]), BY_TAG)
                low = number
            rest = rest[: match.start()] + " " * (end - match.start()) + rest[end:]
        return rest

    def _numbers(self, piece: str) -> str:
        def take(match: re.Match[str]) -> str:
            if not self.rows.are_called(match["word"]):
                return match[0]
            self._take({row for number in self._run(match["run"]) for row in self.rows.of_number(number)}, BY_TAG)
            return " "

        return NUMBERED.sub(take, piece)

    def _places(self, piece: str) -> str:
        def take(match: re.Match[str]) -> str:
            if not names_a_place(match["word"]):
                return match[0]
            place = f"{match['word']} {match['sign']}".casefold()
            here = any(place in where for where in self.rows.places)
            self.found.elsewhere = self.found.elsewhere or not here
            self.found.names = True
            if here:
                self._take(self.rows.all, BY_PLACE)
            return " "

        return PLACE.sub(take, piece)

    def _run(self, run: str) -> list[int]:
        """ "1-4, 7 and 9": 1, 2, 3, 4, 7 and 9."""
        words = "and|und|et|y|e|en|i|og|och" + ("|a" if self.czech else "")
        found: list[int] = []
        for part in re.split(rf"\s*(?:,|;|&|/|\b(?:{words})\b)\s*", run):
            ends = [int(one) for one in re.findall(r"\d+", part)]
            found += range(ends[0], ends[-1] + 1) if ends and ends[0] < ends[-1] else ends[:1]
        return found
