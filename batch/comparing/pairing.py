"""Which row of the new revision is which row of the old one. Every row of both ends up in exactly one pair."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Hashable, Iterable, Iterator, Mapping, Sequence
from typing import NamedTuple

from batch.comparing.lines import SHEETS, Entry, Key, fold
from batch.errors import JobError
from batch.origin import Address
from batch.sizing.labels import natural

MOST_LOOKS = 250_000  # of pairs looked at within rows of one key; beyond it, rows pair in their order


class Pair(NamedTuple):
    """A row of the old revision and the same row of the new one; None = not there."""

    left: Entry | None
    right: Entry | None

    @property
    def either(self) -> Entry:
        one = self.right or self.left
        if one is None:
            raise ValueError("a pair of nothing")
        return one


def in_both(pairs: Iterable[Pair], *tables: str) -> Iterator[tuple[Entry, Entry]]:
    """Rows that stand in both revisions, as they were and as they are; of some tables only where those are named."""
    for left, right in pairs:
        if left is not None and right is not None and (not tables or right.table in tables):
            yield left, right


class Renamed(NamedTuple):
    """A rename that the user has confirmed: the part of the key, its old name and its new one, folded."""

    part: str  # "project", "tank", "feeder", "part", "bank"
    project: str  # folded, "" = any
    old: str
    new: str
    address: Address | None = None  # of a bank: its row in the old revision
    now: Address | None = None  # and in the new one


def pair_all(left: Mapping[str, Sequence[Entry]], right: Mapping[str, Sequence[Entry]], renamed: Iterable[Renamed] = ()) -> list[Pair]:
    """Pairs of all tables, table by table, in natural order of their tags."""
    same = [*renamed, *_nameless(left, right)]
    banks, rest = _confirmed_banks(left["heaters"], right["heaters"], same)
    found = []
    for table in SHEETS:
        lefts, rights = rest if table == "heaters" else (left[table], right[table])
        pairs = pair_lines(lefts, rights, same)
        found += sorted((*banks, *pairs), key=_order) if table == "heaters" and banks else pairs
    return found


def _confirmed_banks(
    left: Sequence[Entry], right: Sequence[Entry], renamed: Iterable[Renamed]
) -> tuple[list[Pair], tuple[Sequence[Entry], Sequence[Entry]]]:
    """Banks that were said to be one under two names, and the rows that are left."""
    wanted = {one.address: one.now for one in renamed if one.part == "bank"}
    if not wanted:
        return [], (left, right)
    old, new = ({line.address: line for line in side} for side in (left, right))
    pairs = [Pair(old[address], new[now]) for address, now in wanted.items() if address in old and now in new]
    used = {id(line) for pair in pairs for line in pair}
    return pairs, ([line for line in left if id(line) not in used], [line for line in right if id(line) not in used])


def _nameless(left: Mapping[str, Sequence[Entry]], right: Mapping[str, Sequence[Entry]]) -> list[Renamed]:
    """One project on each side, and one of the two has no name: they are the same."""
    one, other = ({line.key[0] for line in side["projects"]} for side in (left, right))
    if len(one) == len(other) == 1 and one != other and "" in one | other:
        return [Renamed("project", "", one.pop(), other.pop())]
    return []


def pair_lines(left: Sequence[Entry], right: Sequence[Entry], renamed: Sequence[Renamed] = ()) -> list[Pair]:
    """Rows of one table, paired by key as written, blank labels among themselves by what stands in the rows, then by label.

    Rows of one key pair first where all their cells agree, then where most agree; what is left over is added or removed.
    """
    pairs: list[Pair] = []
    groups: dict[Key, tuple[list[Entry], list[Entry]]] = defaultdict(lambda: ([], []))
    for line in left:
        groups[_translated(line, renamed)][0].append(line)
    for line in right:
        groups[line.key][1].append(line)
    gone: list[Entry] = []
    new: list[Entry] = []
    for lefts, rights in groups.values():
        matched, lefts, rights = _match(lefts, rights)
        pairs += matched
        gone += lefts
        new += rights
    matched, gone, new = _by_label(gone, new, renamed)
    pairs += matched
    pairs += [Pair(line, None) for line in gone] + [Pair(None, line) for line in new]
    return sorted(pairs, key=_order)


def _translated(line: Entry, renamed: Sequence[Renamed]) -> Key:
    """The key that a row of the old revision has in the new one, as far as renames were confirmed."""
    key = list(line.key)
    parts = SHEETS[line.table].key
    for one in renamed:
        for at, part in enumerate(parts):
            if part == one.part and line.key[at] == one.old and (part == "project" or one.project in ("", line.key[0])):
                key[at] = one.new
    return tuple(key)


def _match(lefts: list[Entry], rights: list[Entry]) -> tuple[list[Pair], list[Entry], list[Entry]]:
    """Rows of one key: one to one as they are, else the equal ones first, then the nearest."""
    if len(lefts) <= 1 and len(rights) <= 1:
        return ([Pair(lefts[0], rights[0])], [], []) if lefts and rights else ([], lefts, rights)
    pairs, lefts, rights = _equal(lefts, rights)
    if len(lefts) * len(rights) > MOST_LOOKS:
        count = min(len(lefts), len(rights))
        return [*pairs, *map(Pair, lefts[:count], rights[:count])], lefts[count:], rights[count:]
    # Whichever side is called left, the same rows pair: two candidates that this order does not tell apart share no row.
    near = sorted(
        ((-_agreement(one, other), i + j, abs(i - j), i, j) for i, one in enumerate(lefts) for j, other in enumerate(rights)),
    )
    taken_left: set[int] = set()
    taken_right: set[int] = set()
    for *_, i, j in near:
        if i not in taken_left and j not in taken_right:
            taken_left.add(i)
            taken_right.add(j)
            pairs.append(Pair(lefts[i], rights[j]))
    return (
        pairs,
        [line for i, line in enumerate(lefts) if i not in taken_left],
        [line for j, line in enumerate(rights) if j not in taken_right],
    )


def _equal(lefts: list[Entry], rights: list[Entry]) -> tuple[list[Pair], list[Entry], list[Entry]]:
    waiting: dict[Hashable, list[Entry]] = defaultdict(list)
    for line in rights:
        waiting[_print(line)].append(line)
    for lines in waiting.values():
        lines.reverse()
    pairs, over = [], []
    for line in lefts:
        same = waiting[_print(line)]
        if same:
            pairs.append(Pair(line, same.pop()))
        else:
            over.append(line)
    used = {id(pair.right) for pair in pairs}
    return pairs, over, [line for line in rights if id(line) not in used]


def _print(line: Entry) -> Hashable:
    return line.refused, tuple(sorted((name, repr(value)) for name, value in line.content.items()))


def _agreement(one: Entry, other: Entry) -> int:
    """Cells that agree, less cells that do not."""
    mine, theirs = one.content, other.content
    keys = mine.keys() | theirs.keys()
    return sum(1 if mine.get(key) == theirs.get(key) else -1 for key in keys)


def _by_label(gone: list[Entry], new: list[Entry], renamed: Sequence[Renamed]) -> tuple[list[Pair], list[Entry], list[Entry]]:
    """A bank left blank and numbered 1 in one revision, and given as 1 in the other, is one bank."""
    waiting: dict[Key, list[Entry]] = defaultdict(list)
    for line in new:
        if line.label:
            waiting[(*line.key[:2], fold(line.label))].append(line)
    pairs: list[Pair] = []
    for line in gone:
        same = waiting.get((*_translated(line, renamed)[:2], fold(line.label)), []) if line.label else []
        if same:
            pairs.append(Pair(line, same.pop(0)))
    used = {id(line) for pair in pairs for line in pair}
    return pairs, [line for line in gone if id(line) not in used], [line for line in new if id(line) not in used]


def _order(pair: Pair) -> tuple:
    line = pair.either
    return tuple(natural(part) for part in (*line.key[:-1], line.label or line.key[-1])), line.row


AS_WRITTEN = (
    "write both as they stand there, with the project before a stroke where there are several (P-1/T-5=P-1/T-5A), a bank behind its tank "
    "(T-5/1=T-5/A)"
)
PARTS = (("projects", "project"), ("tanks", "tank"), ("heaters", "tank"), ("feeders", "feeder"), ("stock", "part"))


def confirmed(words: Iterable[str], left: Mapping[str, Sequence[Entry]], right: Mapping[str, Sequence[Entry]]) -> list[Renamed]:
    """Renames in the words "T-5=T-5A" or "P-1/T-5=P-1/T-5A": of a tank, a feeder, a project or a part, whichever has that name; of a bank
    "T-5/1=T-5/A".

    Raises:
        JobError: not of that form, or no such name in the revision it should stand in.
    """
    found: list[Renamed] = []
    for said in words:
        fits = fitting(said, left, right)
        if not fits:
            old, _, new = (part.strip() for part in said.partition("="))
            raise JobError(
                f"--renamed {said}: no project, tank, feeder, part or bank of the old revision is called {old} and of the new one {new}: "
                f"{AS_WRITTEN}"
            )
        found += fits
    return found


def fitting(said: str, left: Mapping[str, Sequence[Entry]], right: Mapping[str, Sequence[Entry]]) -> list[Renamed]:
    """What a confirmed rename means between these two revisions; nothing where either name does not stand there.

    Raises:
        JobError: not of the form OLD=NEW.
    """
    old, equals, new = (part.strip() for part in said.partition("="))
    if not (old and equals and new):
        raise JobError(f'--renamed {said}: write the old name, "=", and the new one: T-5=T-5A')
    found = [one for table, part in PARTS if (one := _renamed(table, part, old, new, left=left, right=right))]
    return list(dict.fromkeys((*found, *_renamed_bank(old, new, left["heaters"], right["heaters"]))))


def _renamed_bank(old: str, new: str, left: Sequence[Entry], right: Sequence[Entry]) -> Iterator[Renamed]:
    """A bank of one tank by tank and label, or project, tank and label, where that says which row is meant on either side."""
    before, after = ([line for line in side if fold(name) in _bank_names(line)] for side, name in ((left, old), (right, new)))
    if len(before) == len(after) == 1 and before[0].first_two == after[0].first_two:
        yield Renamed("bank", before[0].key[0], fold(old), fold(new), before[0].address, after[0].address)


def _bank_names(line: Entry) -> tuple[str, str]:
    tank = f"{line.names[1]}/{line.label or line.names[2]}"
    return fold(tank), fold(f"{line.names[0]}/{tank}")


def _renamed(
    table: str, part: str, old: str, new: str, *, left: Mapping[str, Sequence[Entry]], right: Mapping[str, Sequence[Entry]]
) -> Renamed | None:
    at = SHEETS[table].key.index(part)
    before = {(line.key[0] if at else "", line.key[at]) for line in left[table]}
    after = {line.key[at] for line in right[table]}
    for project, name in before:
        wanted_project, stroke, tag = fold(old).partition("/")
        aim = fold(new).partition("/")[2] if stroke and "/" in new else fold(new)
        if (name == fold(old) and fold(new) in after) or (stroke and at and (wanted_project, tag) == (project, name) and aim in after):
            whole = name == fold(old)
            return Renamed(part, "" if whole else project, name, fold(new) if whole else aim)
    return None
