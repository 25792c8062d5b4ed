"""Words of the trade in thirteen languages, as data: headings, totals, what takes a row out, units, small numbers.

The files of `batch/intake/languages` hold them, one a language. A firm's own words are a file of the same form, or a folder
of such files, and are added to these. Loaded when first asked for: a list in the program's own form needs none of them.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from functools import cached_property, lru_cache
from importlib import resources
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from batch.errors import InputFileError, SpecificationError
from batch.intake.wording import Token, composed, spellings, tokens, words
from batch.toml_text import parsed
from batch.units import Unit, spelled

if TYPE_CHECKING:
    from batch.intake.heading_words import Candidate, HeadingWords

LANGUAGES = ("en", "de", "fr", "es", "it", "nl", "pl", "pt", "da", "no", "sv", "cs", "tr")
LISTS = (
    "fillers", "totals", "out", "doubt", "yes", "no", "ditto", "unknown", "nothing", "not_heated", "heaters", "other_equipment",
    "materials", "other_parts", "instead", "kept", "per_heater", "per_tank", "total", "pieces", "dozen", "tanks", "to", "and",
    "in_service", "plain_remark", "accessories", "services", "out_codes", "open_state", "spare", "three_phase", "one_phase", "two_phase",
    "phase", "wye", "delta", "parallel", "wire", "neutral", "no_neutral", "earth", "alternating", "direct", "current_issue", "old_issue",
    "recap", "example", "written_by", "struck_through", "means", "as_backup", "plated_metals", "sheathed", "tank_sizes", "stays", "worn",
    "of_air", "to_renew", "is_well",
)  # fmt: skip
OWN = "own"  # language of what a firm's own files say
LARGEST_FILE = 1 << 20  # bytes of a firm's own words


class Hit(NamedTuple):
    """A word of a list found in a text: the word as the list has it, and its place in the text (composed, NFC)."""

    word: str
    start: int
    end: int
    language: str


class WordList:
    """The words of one list in all languages, spelt out when first looked for: a remark has need of a few lists only."""

    def __init__(self, name: str) -> None:
        self.name = name
        self._waiting: list[tuple[str, str]] = []  # words added and not spelt out yet
        self._starts: dict[str, list[tuple[tuple[str, ...], str, str]]] = {}
        self._whole: dict[tuple[str, ...], tuple[str, str]] = {}
        self.behind_stroke: set[str] = set()

    def add(self, word: str, language: str) -> None:
        """Adds a word; one that begins with a stroke, "/tank", stands for "per tank" behind a stroke only."""
        if word.startswith("/"):
            self.behind_stroke.add(word[1:])
            word = f"per {word[1:]}"
        self._waiting.append((word, language))

    def _spell_out(self) -> None:
        """Makes the words that wait ready to be found, the longest of one beginning first."""
        for word, language in self._waiting:
            for spelt in spellings(word):
                if spelt not in self._whole:
                    self._whole[spelt] = (word, language)
                    self._starts.setdefault(spelt[0], []).append((spelt, word, language))
        for some in self._starts.values():
            some.sort(key=lambda one: -len(one[0]))
        self._waiting.clear()

    def whole(self, text: str) -> str:
        """The word of the list that the text is, and nothing else; "" where it is none."""
        if self._waiting:
            self._spell_out()
        return self._whole.get(words(text), ("", ""))[0]

    def find(self, text: str | list[Token]) -> tuple[Hit, ...]:
        """Every word of the list in the text, longest first where they overlap, from left to right."""
        if self._waiting:
            self._spell_out()
        seen = tokens(text) if isinstance(text, str) else text
        hits: list[Hit] = []
        at = 0
        while at < len(seen):
            for spelt, word, language in self._starts.get(seen[at].word, ()):
                if len(spelt) <= len(seen) - at and all(seen[at + n].word == part for n, part in enumerate(spelt)):
                    hits.append(Hit(word, seen[at].start, seen[at + len(spelt) - 1].end, language))
                    at += len(spelt) - 1
                    break
            at += 1
        return tuple(hits)

    def among(self, parts: tuple[str, ...]) -> list[tuple[int, int]]:
        """Places (from, to) of the list's words among folded words."""
        if self._waiting:
            self._spell_out()
        found, at = [], 0
        while at < len(parts):
            length = next((len(spelt) for spelt, _, _ in self._starts.get(parts[at], ()) if parts[at : at + len(spelt)] == spelt), 0)
            if length:
                found.append((at, at + length))
            at += length or 1
        return found

    def __contains__(self, text: object) -> bool:
        return isinstance(text, str) and bool(self.whole(text))

    def __iter__(self):
        if self._waiting:
            self._spell_out()
        return iter(dict.fromkeys(word for word, _ in self._whole.values()))


class Vocabulary:
    """Every word list and heading word, of all languages together."""

    def __init__(self) -> None:
        self.lists = {name: WordList(name) for name in LISTS}
        self.numbers: dict[tuple[str, ...], int] = {}
        self.headings: list[tuple[str, str, str, str, str]] = []  # sheet or "" for a role, key, basis, name, language
        self.cased: dict[str, str] = {}  # a word in exactly this case -> the role that it names
        self._units: dict[tuple[str, ...], Unit] = {}
        self._names: dict[str, WordList] = {}

    def __getitem__(self, name: str) -> WordList:
        return self.lists[name]

    @cached_property
    def heading_words(self) -> HeadingWords:
        from batch.intake.heading_words import HeadingWords

        return HeadingWords(self)

    def heading_candidates(self, text: str) -> list[Candidate]:
        """What a heading may mean, the likeliest first; each sheet, key and basis once."""
        return self.heading_words.candidates(text)

    def is_heading(self, text: str) -> bool:
        """Is the text a name of a column or a role, or a unit, and nothing else?"""
        return len(text) <= 80 and (self.unit(text.strip(" ()[].")) is not None or self.heading_words.is_name(text))

    def is_word(self, text: str) -> bool:
        """Does any list or heading have the word, with its accents as they are?"""
        return text.casefold() in self._every_word

    @cached_property
    def _every_word(self) -> frozenset[str]:
        names = [name for *_, name, _ in self.headings] + [word for some in self.lists.values() for word in some]
        return frozenset(piece.casefold() for name in names for piece in re.findall(r"[^\W\d_]+", name))

    def names_of(self, key: str) -> WordList:
        """The headings of one column as words to be found in a text: "hot zone", "heated length"."""
        if key not in self._names:
            self._names[key] = WordList(key)
            for _, named, _, name, language in self.headings:
                if named == key:
                    self._names[key].add(name, language)
        return self._names[key]

    def number(self, text: str) -> int | None:
        """A small number typed as a word: "two", "drei", "una"."""
        return self.numbers.get(words(text))

    def unit(self, text: str) -> Unit | None:
        """The unit that a text spells, in any of the languages."""
        return spelled(text) or self._units.get(words(text))

    def is_total(self, text: str) -> bool:
        """Does the text begin or end with a word for a total? "TOTAL LINE 2", "Summe:", "page total"."""
        text = composed(text)
        if self["ditto"].whole(text):  # "som over" is "as above", though "som" is a sum in Dutch
            return False
        hits = self["totals"].find(text)
        return bool(hits) and (not words(text[: hits[0].start]) or not words(text[hits[-1].end :]))

    def take(self, data: Mapping[str, object], language: str, where: str) -> None:
        """Adds the words of one file.

        Raises:
            InputFileError: a table or list that there is not, or words that are no texts.
        """
        for table, content in data.items():
            if table == "name":
                continue
            if table not in ("words", "numbers", "units", "headings", "roles", "cased") or not isinstance(content, Mapping):
                raise InputFileError(f"{where}: [{table}] is no table of words: use words, numbers, units, headings, roles or cased")
            getattr(self, f"_take_{table}")(content, language, where)

    def _take_words(self, content: Mapping[str, object], language: str, where: str) -> None:
        for name, some in content.items():
            if name not in self.lists:
                raise InputFileError(f"{where}: words.{name} is no list of words: use one of {', '.join(LISTS)}")
            add = self.lists[name].add
            for word in _texts(some, f"{where}: words.{name}", language):
                add(word, language)

    def _take_numbers(self, content: Mapping[str, object], language: str, where: str) -> None:
        for number, some in content.items():
            if not number.isdecimal() or len(number) > 4:
                raise InputFileError(f"{where}: numbers.{number} is no whole number")
            for word in _texts(some, f"{where}: numbers.{number}", language):
                self.numbers.update({spelt: int(number) for spelt in spellings(word)})

    def _take_units(self, content: Mapping[str, object], language: str, where: str) -> None:
        for name, some in content.items():
            unit = spelled(name)
            if unit is None:
                raise InputFileError(f"{where}: units.{name} is no unit that the program knows")
            for word in _texts(some, f"{where}: units.{name}", language):
                self._units.update(dict.fromkeys(spellings(word), unit))

    def _take_headings(self, content: Mapping[str, object], language: str, where: str) -> None:
        from batch.intake.heading_words import SHARED, SHEETS, split_basis

        for sheet, keys in content.items():
            if sheet not in (*SHEETS, SHARED) or not isinstance(keys, Mapping):
                raise InputFileError(f"{where}: headings.{sheet} is no sheet: use {', '.join((*SHEETS, SHARED))}")
            for entry, some in keys.items():
                key, basis = split_basis(entry)
                having = [one for one in (SHEETS if sheet == SHARED else (sheet,)) if key in SHEETS[one].by_key]
                if not having or basis is None:
                    raise InputFileError(f"{where}: headings.{sheet}.{entry} is no column of that sheet")
                for name in _texts(some, f"{where}: headings.{sheet}.{entry}", language):
                    self.headings += [(one, key, basis, name, language) for one in having]

    def _take_roles(self, content: Mapping[str, object], language: str, where: str) -> None:
        from batch.intake.heading_words import Role

        known = frozenset(Role)
        for role, some in content.items():
            if role not in known:
                raise InputFileError(f"{where}: roles.{role} is no role: use one of {', '.join(Role)}")
            self.headings += [("", role, "", name, language) for name in _texts(some, f"{where}: roles.{role}", language)]

    def _take_cased(self, content: Mapping[str, object], language: str, where: str) -> None:
        for role, some in content.items():
            self.cased.update(dict.fromkeys(_texts(some, f"{where}: cased.{role}", language), role))


def _texts(some: object, where: str, language: str) -> list[str]:
    """The texts of a list. That each of them has a word in it is seen to here for a firm's own files, for ours by a test."""
    if not isinstance(some, list) or not {*map(type, some)} <= {str} or (language == OWN and not all(map(words, some))):
        raise InputFileError(f"{where} must be a list of words in quotes")
    return some


_own: list[Path] = []  # the firm's own folder of words in use, if any


def own_words() -> Path | None:
    """The firm's own folder of words that is in use."""
    return _own[0] if _own else None


def use_own_words(folder: Path | None) -> None:
    """Takes a firm's words into use, or out of it; what was read by others must be forgotten (`firm_words`)."""
    _own[:] = [] if folder is None else [folder]


def vocabulary(extra: Path | None = None) -> Vocabulary:
    """The words of all languages, and those of a firm's own file or folder of files (.toml) added: of the one named, or of that in use.

    Raises:
        InputFileError: a file of the firm's that cannot be read or is not of the form; one line.
    """
    extra = own_words() if extra is None else extra
    if extra is None:
        return _known()
    stamps = tuple((str(path), path.stat().st_mtime_ns, path.stat().st_size) for path in _files(Path(extra)))
    return _with_own(stamps)


def _files(extra: Path) -> list[Path]:
    files = sorted(extra.glob("*.toml")) if extra.is_dir() else [extra]
    if not files or not all(path.is_file() for path in files):
        raise InputFileError(f"{extra}: there are no word lists (.toml) there: check the name")
    return files


@lru_cache(maxsize=1)
def _known() -> Vocabulary:
    found = Vocabulary()
    folder = resources.files("batch.intake") / "languages"
    for language in LANGUAGES:
        file = folder / f"{language}.toml"
        try:
            found.take(parsed(file.read_text(encoding="utf-8")), language, file.name)
        except (InputFileError, tomllib.TOMLDecodeError) as fault:
            raise SpecificationError(f"{file.name}: {fault}") from fault
    return found


@lru_cache(maxsize=4)
def one_list(name: str) -> WordList:
    """One word list in all languages, for who asks for no other: a tenth of the work."""
    found = WordList(name)
    folder = resources.files("batch.intake") / "languages"
    line = re.compile(rf"^{name} = \[.*?\]$", re.MULTILINE | re.DOTALL)
    for language in LANGUAGES:
        file = folder / f"{language}.toml"
        match = line.search(file.read_text(encoding="utf-8"))
        if match is None:
            raise SpecificationError(f"{file.name}: words.{name} is not there, on lines of its own")
        for word in parsed(match[0])[name]:
            found.add(word, language)
    for own in _files(folder_of_own) if (folder_of_own := own_words()) is not None else ():
        for word in parsed(own.read_text(encoding="utf-8")).get("words", {}).get(name, ()):
            found.add(word, OWN)
    return found


@lru_cache(maxsize=4)
def _with_own(stamps: tuple[tuple[str, int, int], ...]) -> Vocabulary:
    found = Vocabulary()
    for name, _, size in stamps:  # the firm's own words first: of one name, the first meaning stands
        if size > LARGEST_FILE:
            raise InputFileError(f"{name}: a word list of more than {LARGEST_FILE >> 20} MB is none: check the name")
        try:
            data = parsed(Path(name).read_text(encoding="utf-8"))
        except (OSError, UnicodeDecodeError, tomllib.TOMLDecodeError) as fault:
            raise InputFileError(f"{name}: the word list cannot be read ({' '.join(str(fault).split())[:120]})") from None
        found.take(data, OWN, name)
    folder = resources.files("batch.intake") / "languages"
    for language in LANGUAGES:
        found.take(parsed((folder / f"{language}.toml").read_text(encoding="utf-8")), language, f"{language}.toml")
    return found
