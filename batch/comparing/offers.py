"""Renames and moves that the rows left over suggest: offered where all but the tags agree and only one answer fits, never assumed."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Hashable, Iterable, Iterator, Sequence
from typing import NamedTuple

from batch.comparing.lines import Entry, fold
from batch.comparing.pairing import Pair, in_both
from batch.sizing.labels import natural

WORDS = {
    "project": "project {old} may be {new} under another name",
    "tank": "tank {old} may be {new} under another name",
    "feeder": "feeder {old} may be {new} under another name",
    "part": "part {old} may be {new} under another name",
    "bank": "bank {old} may be {new} under another label",
    "moved": "bank {old} may have moved: {new} has the same heaters",
}
CONFIRMABLE = frozenset({"project", "tank", "feeder", "part", "bank"})


class Offer(NamedTuple):
    """What may be one thing under two names. `left` and `right` are the rows removed and added that it rests on."""

    what: str  # a key of WORDS
    old: str
    new: str
    left: tuple[Entry, ...]
    right: tuple[Entry, ...]

    @property
    def words(self) -> str:
        return WORDS[self.what].format(old=self.old, new=self.new)

    @property
    def confirm(self) -> str:
        """What confirms it on the command line; "" where nothing does."""
        return f"--renamed {quoted(f'{self.old}={self.new}')}" if self.what in CONFIRMABLE else ""


def quoted(words: str) -> str:
    return f'"{words}"' if " " in words or "&" in words else words


def offers_of(pairs: Sequence[Pair]) -> tuple[Offer, ...]:
    """Everything that may have been renamed or moved, the larger things first; no row is used for two offers."""
    gone = [left for left, right in pairs if left is not None and right is None]
    new = [right for left, right in pairs if right is not None and left is None]
    kept = [left for left, _ in in_both(pairs)]
    found: list[Offer] = []
    several = len({line.key[0] for line in (*gone, *new, *kept) if line.table == "projects"}) > 1
    for look in (_projects, _tanks, _feeders, _parts, _banks, _moved):
        used = {id(line) for offer in found for line in (*offer.left, *offer.right)}
        found += look([line for line in gone if id(line) not in used], [line for line in new if id(line) not in used], several)
    return tuple(found)


def _unique(
    left: Iterable[Entry], right: Iterable[Entry], sign: Callable[[Entry], Hashable | None]
) -> Iterator[tuple[Entry, Entry]]:
    """Rows that have the same sign, which no other row of either side has."""
    by_sign: dict[Hashable, tuple[list[Entry], list[Entry]]] = defaultdict(lambda: ([], []))
    for side, lines in enumerate((left, right)):
        for line in lines:
            if (mark := sign(line)) is not None:
                by_sign[mark][side].append(line)
    for lefts, rights in by_sign.values():
        if len(lefts) == len(rights) == 1:
            yield lefts[0], rights[0]


def _content(line: Entry, without: Iterable[str] = ()) -> Hashable | None:
    """All but the key, as something to look up by; None where the row says nothing, or could not be read."""
    content = {name: value for name, value in line.content.items() if name not in without}
    return None if line.refused or not content else tuple(sorted((name, repr(value)) for name, value in content.items()))


def _projects(gone: list[Entry], new: list[Entry], several: bool) -> list[Offer]:
    """The one project that went and the one that came, where at least half of their tanks have the same tags."""
    lefts, rights = ([line for line in side if line.table == "projects"] for side in (gone, new))
    if len(lefts) != 1 or len(rights) != 1:
        return []
    old, now = lefts[0], rights[0]
    ours, theirs = (
        [line for line in side if line.table != "stock" and line.key[0] == of.key[0]] for side, of in ((gone, old), (new, now))
    )
    tags = [{line.key[1] for line in side if line.table == "heaters"} for side in (ours, theirs)]
    if not tags[0] or 2 * len(tags[0] & tags[1]) < max(len(tags[0]), len(tags[1])):
        return []
    return [Offer("project", old.names[0], now.names[0], tuple(ours), tuple(theirs))]


def _tanks(gone: list[Entry], new: list[Entry], several: bool) -> list[Offer]:
    """Tanks of which every row went or came: their own rows and their banks agree as a whole."""
    sides = [_whole_tanks(side) for side in (gone, new)]
    signs: dict[Hashable, tuple[list, list]] = defaultdict(lambda: ([], []))
    for at, side in enumerate(sides):
        for (project, _), lines in side.items():
            marks = [(line.table, fold(line.label), _content(line)) for line in lines]
            if all(mark[2] is not None for mark in marks if mark[0] == "heaters") and any(mark[0] == "heaters" for mark in marks):
                signs[project, tuple(sorted(marks, key=repr))][at].append(lines)
    found = []
    for lefts, rights in signs.values():
        if len(lefts) == len(rights) == 1:
            old, now = lefts[0], rights[0]
            found.append(Offer("tank", _tag(old[0], several), _tag(now[0], several), tuple(old), tuple(now)))
    return sorted(found, key=lambda offer: natural(offer.old))


def _whole_tanks(lines: list[Entry]) -> dict[tuple[str, str], list[Entry]]:
    tanks: dict[tuple[str, str], list[Entry]] = defaultdict(list)
    for line in lines:
        if line.table in ("tanks", "heaters"):
            tanks[line.first_two].append(line)
    return tanks


def _tag(line: Entry, several: bool) -> str:
    return f"{line.names[0]}/{line.names[1]}" if several else line.names[1]


def _feeders(gone: list[Entry], new: list[Entry], several: bool) -> list[Offer]:
    lefts, rights = ([line for line in side if line.table == "feeders"] for side in (gone, new))
    found = _unique(lefts, rights, lambda line: (line.key[0], mark) if (mark := _content(line)) else None)
    return [Offer("feeder", _tag(old, several), _tag(now, several), (old,), (now,)) for old, now in found]


def _parts(gone: list[Entry], new: list[Entry], several: bool) -> list[Offer]:
    lefts, rights = ([line for line in side if line.table == "stock"] for side in (gone, new))
    return [Offer("part", old.names[0], now.names[0], (old,), (now,)) for old, now in _unique(lefts, rights, _content)]


def _bank_name(line: Entry, several: bool) -> str:
    return f"{_tag(line, several)}/{line.label or line.names[2] or '?'}"


def _banks(gone: list[Entry], new: list[Entry], several: bool) -> list[Offer]:
    """The same heaters in the same tank under another label."""
    lefts, rights = ([line for line in side if line.table == "heaters"] for side in (gone, new))
    found = _unique(lefts, rights, lambda line: (line.key[:2], mark) if (mark := _content(line)) else None)
    return [Offer("bank", _bank_name(old, several), _bank_name(now, several), (old,), (now,)) for old, now in found]


def _moved(gone: list[Entry], new: list[Entry], several: bool) -> list[Offer]:
    """The same heaters in another tank of the project; feeder and lengths may go with the tank, so they are not looked at."""
    lefts, rights = ([line for line in side if line.table == "heaters"] for side in (gone, new))
    placed = ("feeder", "heater_run_m", "panel_feeder_run_m", "notes")
    found = _unique(lefts, rights, lambda line: (line.key[0], mark) if (mark := _content(line, placed)) else None)
    return [Offer("moved", _bank_name(old, several), _bank_name(now, several), (old,), (now,)) for old, now in found]
