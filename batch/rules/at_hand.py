"""Which rule sets are at hand: those that come with the program, and a firm's own beside them."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from functools import lru_cache
from pathlib import Path
from typing import Any, NamedTuple

from batch.errors import RuleSetError
from batch.rules.extension import extended, with_practice_of
from batch.rules.ruleset import CONTENTS, RuleSet
from batch.toml_text import parsed

HOME = Path(__file__).parent
DEFAULT_EDITION = "NEC 2023"  # for a project whose Code basis is blank: named here and nowhere else
OWN_FOLDER = "rules"  # of a firm's folder: the one that holds its rule sets, a folder each
TEMPLATES = {"papers": Path("templates", "papers"), "letter": Path("templates", "letters", "quotation.docx")}  # of it too, named as ours
LISTS = {"words": Path("languages"), "stock": Path("stock.xlsx")}  # of it too: files of words, a workbook with a Stock sheet

_firm: ContextVar[Path | None] = ContextVar("firm", default=None)
_asked: ContextVar[str | None] = ContextVar("asked", default=None)


class RuleFile(NamedTuple):
    """A rule set's own file, read and not yet judged."""

    folder: Path
    contents: dict[str, Any]

    @property
    def identity(self) -> dict[str, Any]:
        section = self.contents.get("ruleset")
        if not isinstance(section, dict) or not isinstance(section.get("name"), str):
            raise RuleSetError(f"{self.folder / CONTENTS}: [ruleset] lacks name; add it.")
        return section


@contextmanager
def firm_rules(folder: Path | None) -> Iterator[None]:
    """While it lasts, the rule sets of a firm's folder are at hand too: its own `rules`, or a rule set's folder itself. None: no others.

    Raises:
        RuleSetError: the folder holds neither rule set nor template, a rule set that is broken, or one that goes by the name of another.
    """
    if folder is not None:
        _own(folder)
    token = _firm.set(folder)
    try:
        yield
    finally:
        _firm.reset(token)


@contextmanager
def code_asked(name: str | None) -> Iterator[None]:
    """While it lasts, projects whose Code basis is blank are sized by this rule set, which is at hand. None: by what a blank one means.

    Raises:
        RuleSetError: no rule set of that name is at hand.
    """
    token = _asked.set(None if name is None else load(name).name)
    try:
        yield
    finally:
        _asked.reset(token)


def asked_in_use() -> str | None:
    """The rule set that was asked for where a project names none."""
    return _asked.get()


def firm_in_use() -> Path | None:
    """The firm's folder that is in use."""
    return _firm.get()


def available() -> tuple[str, ...]:
    """Names of the rule sets at hand: the default's code first, the newest edition of each first, a firm's own last."""

    def place(name: str) -> tuple[bool, str, list[int]]:
        code = name.rsplit(" ", 1)[0]
        return code != DEFAULT_EDITION.rsplit(" ", 1)[0], code, [-ord(letter) for letter in name]

    shipped = sorted(_shipped(), key=place)
    return (*shipped, *sorted(own_names()))


def own_template(kind: str) -> Path | None:
    """The firm's own template of a kind of TEMPLATES: a folder or a file; None where no folder of a firm's is in use, or it has none."""
    return own_place(_firm.get(), TEMPLATES[kind])


def own_place(folder: Path | None, place: Path) -> Path | None:
    """A place in a firm's folder, where there is such a folder and something stands there."""
    return folder / place if folder is not None and (folder / place).exists() else None


def own_templates() -> dict[str, Path]:
    """The firm's own templates in use, by what they are for."""
    return {kind: place for kind in TEMPLATES if (place := own_template(kind)) is not None}


def own_names() -> tuple[str, ...]:
    """Names of the firm's own rule sets, where a firm's folder is in use."""
    return () if (folder := _firm.get()) is None else tuple(_own(folder))


def load(name: str) -> RuleSet:
    """The rule set of that name, however it is spaced and capitalised, read once; RuleSetError naming what is available for any other."""
    known = {_folded(one): one for one in available()}
    if (found := known.get(_folded(name))) is None:
        raise RuleSetError(f"No rule set {name!r} here; available: {', '.join(available())}.")
    folder = _firm.get()
    own = {} if folder is None else _own(folder)
    return load_folder(own[found].folder if found in own else _shipped()[found])


@lru_cache(maxsize=32)
def load_folder(folder: Path) -> RuleSet:
    """The rule set in `folder` (which holds ruleset.toml); RuleSetError where it is missing or broken."""
    found = _read(Path(folder))
    name = (found.contents.get("ruleset") or {}).get("extends")
    if name is None:
        like = (found.contents.get("ruleset") or {}).get("practice_of")
        known = like is None or (isinstance(like, str) and like in _shipped())
        if not known:
            raise RuleSetError(f"{found.folder / CONTENTS}: practice_of {like!r}; name one of {', '.join(sorted(_shipped()))}.")
        return RuleSet(found.folder, found.contents if like is None else with_practice_of(found.contents, _read(_shipped()[like]).contents))
    if not isinstance(name, str) or name not in _shipped() or name == found.identity["name"]:
        raise RuleSetError(f"{found.folder / CONTENTS}: extends {name!r}; name one of {', '.join(sorted(_shipped()))}.")
    base = load_folder(_shipped()[name])
    return RuleSet(found.folder, extended(found.folder / CONTENTS, found.contents, base.contents, base.folder), base)


def _read(folder: Path) -> RuleFile:
    path = folder / CONTENTS
    try:
        return RuleFile(folder, parsed(path.read_text(encoding="utf-8")))
    except (OSError, UnicodeDecodeError, tomllib.TOMLDecodeError) as fault:
        raise RuleSetError(f"{path}: cannot be read as a rule set ({fault}); restore the file.") from fault


@lru_cache(maxsize=1)
def _shipped() -> dict[str, Path]:
    """Folders of the rule sets that come with the program, by name. Of those that no project uses no more is read than who they are."""
    return {_head(path.parent).identity["name"]: path.parent for path in sorted(HOME.glob(f"*/{CONTENTS}"))}


def _head(folder: Path) -> RuleFile:
    """A rule set's file as far as its first table goes, which says who it is; the whole of it where another table comes first."""
    try:
        lines = (folder / CONTENTS).read_text(encoding="utf-8").splitlines()
        tables = [at for at, line in enumerate(lines) if line.startswith("[")]
        if len(tables) > 1 and lines[tables[0]] == "[ruleset]":
            return RuleFile(folder, parsed("\n".join(lines[: tables[1]])))
    except (OSError, UnicodeDecodeError, tomllib.TOMLDecodeError):
        pass  # the whole file says what is wrong with it
    return _read(folder)


@lru_cache(maxsize=8)
def _own(folder: Path) -> dict[str, RuleFile]:
    """A firm's rule sets by name, each judged whole: whoever sizes with one learns of its faults first."""
    if (folder / CONTENTS).is_file():
        paths = [folder / CONTENTS]
    else:
        paths = sorted((folder / OWN_FOLDER).glob(f"*/{CONTENTS}"))
    if not folder.is_dir():
        what = "a file, and no folder" if folder.exists() else "there is no such folder"
        raise RuleSetError(f"{folder}: {what}: name the firm's own folder.")
    if not paths and not any(own_place(folder, place) for place in (*TEMPLATES.values(), *LISTS.values())):
        places = " or ".join(place.as_posix() for place in TEMPLATES.values())
        raise RuleSetError(
            f"{folder}: no rule set here; put {CONTENTS} into it, or into a folder under {OWN_FOLDER}; "
            f"no template, which stands in {places}; no stock list, which is {LISTS['stock']}; no words, which stand in {LISTS['words']}."
        )
    found: dict[str, RuleFile] = {}
    for path in paths:
        one = _read(path.parent)
        name = one.identity["name"]
        if "extends" not in one.identity:
            raise RuleSetError(f"{path}: [ruleset] lacks extends; name the rule set that it changes: {', '.join(sorted(_shipped()))}.")
        if any(_folded(name) == _folded(other) for other in (*_shipped(), *found)):
            raise RuleSetError(f"{path}: [ruleset] name {name!r} is another rule set's; give it a name of its own.")
        load_folder(path.parent).read_all()
        found[name] = one
    return found


def _folded(name: str) -> str:
    return "".join(letter for letter in name.casefold() if letter.isalnum())
