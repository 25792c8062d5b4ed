"""What an earlier revision had decided, and how far a new one can keep it: phases, panel splits, numbers of banks, names of types."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence

from msgspec import Struct, field

from batch.counted_words import counted
from batch.findings import Remarks
from batch.origin import Address
from batch.records import Bank
from batch.results import BankDesign
from batch.systems import Connection, System

LINES = "ABC"
TURN = "\x02"  # which no label ends with
COSTS = 1.05  # a fullest line this much above one chosen anew is said; common practice, no source

BankKey = tuple[str, str, str]  # project, tank, label, folded; behind the label a TURN for each row of that name before it
TypeKey = tuple[object, ...]  # what makes two panels alike to build (batch.sizing.placing.type_key)


FeederKey = tuple[str, str]  # project, tag, folded


def feeder_key(project: object, feeder: object) -> FeederKey:
    return str(project or "").strip().casefold(), str(feeder or "").strip().casefold()


def bank_key(project: str, tank: str, label: str, turn: int = 0) -> BankKey:
    """`turn`: of a bank given several times how many rows of its name stand before this one."""
    return project.casefold().strip(), tank.casefold().strip(), f"{label.casefold().strip()}{TURN * turn}"


def by_turns(keys: Iterable[BankKey]) -> Iterator[BankKey]:
    """The keys, each told from those of the same bank before it."""
    seen: Counter[BankKey] = Counter()
    for key in keys:
        yield bank_key(*key, turn=seen[key])
        seen[key] += 1


def is_first(key: BankKey) -> bool:
    """Is it the first row of its name?"""
    return not key[2].endswith(TURN)


class PreviousBank(Struct, frozen=True):
    """What was chosen for one bank. `starts`: the line that each panel starts on; where it has more panels, they go on in rotation.
    `across`: what its heaters stood across (`Connection.across`), "" = not known. `split`: heaters of each panel, () = a single circuit."""

    feeder: str
    starts: tuple[int, ...]
    across: str
    split: tuple[int, ...] = ()


class PreviousFeeder(Struct, frozen=True):
    """What was chosen for one feeder: the source and the pair or leg of it that a 1-phase one is on, "" = none; the numbers of its ways
    by tank, folded, and the highest that was ever given."""

    source: str = ""
    pair: str = ""
    ways: Mapping[str, int] = field(default_factory=dict)
    last_way: int = 0


NEW_FEEDER = PreviousFeeder()


class PreviousDecisions(Struct, frozen=True):
    """Decisions of an earlier revision, by key.

    source  name of its workbook
    labels  of banks left blank, by the address of their rows in the job being sized
    types   project, folded -> what makes a type -> its name
    tags    project, folded -> panel tag -> name of its type, where the types are known by name only; of banks given twice several
    names   project, folded -> every name of a type ever used: none is used again for another
    quiet   what is kept was decided in this very workbook, so nothing is said of it
    feeders of each its pair of its source, and the numbers of its ways
    """

    source: str = ""
    labels: Mapping[Address, str] = field(default_factory=dict)
    banks: Mapping[BankKey, PreviousBank] = field(default_factory=dict)
    types: Mapping[str, Mapping[TypeKey, str]] = field(default_factory=dict)
    tags: Mapping[str, Mapping[str, tuple[str, ...]]] = field(default_factory=dict)
    names: Mapping[str, frozenset[str]] = field(default_factory=dict)
    quiet: bool = False
    feeders: Mapping[FeederKey, PreviousFeeder] = field(default_factory=dict)

    def feeder(self, project: str, feeder: str) -> PreviousFeeder:
        return self.feeders.get(feeder_key(project, feeder), NEW_FEEDER)

    def bank(self, bank: Bank, label: str, turn: int) -> PreviousBank | None:
        return self.banks.get(bank_key(bank.project, bank.tank, label, turn))


NOTHING = PreviousDecisions()


def previous_starts(
    was: PreviousBank | None, bank: Bank, feeder: str, design: BankDesign, starts: int, *, previous: PreviousDecisions, said: Remarks
) -> tuple[int, ...] | None:
    """The lines on which the panels of a bank stay; said where they cannot, None where there is nothing to keep.

    `starts`: over how many lines the bank has a choice; `bank.phase_pair` goes before what was decided.
    """
    if was is None or starts == 1:
        return None
    why = ""
    if was.feeder.casefold() != feeder.casefold():
        why = f"it hung on {was.feeder} and hangs on {feeder} now"
    elif was.across and was.across != design.connected.across:
        why = "its heaters are joined otherwise now"
    elif max(was.starts) >= starts:
        why = "its feeder has no such line now"
    elif bank.phase_pair is not None:
        return None  # a phase pair given here stands; what it was before is said where inputs are compared
    if not why:
        return was.starts
    if not previous.quiet:
        said.add("kept-phases-not", "phase_pair", line=LINES[was.starts[0]], source=previous.source, why=why)
    return None


def previous_counts(
    before: tuple[int, ...], free: tuple[int, ...], heaters: int, takes: int, connection: Connection, *, system: System, said: Remarks
) -> tuple[int, ...]:
    """Heaters of each panel with as many panels of the earlier split as can stay, the first ones first; said where none can, and where what
    stays is another than would be chosen anew.

    free   the split that would be chosen anew: as few panels as possible, which keeping never exceeds
    takes  heaters that one panel takes

    Common-point wyes are split anew, since the volts of their legs depend on it. A bank in rotation never gets fewer panels that divide by
    its legs.
    """
    if not before or before == free or connection is Connection.COMMON_POINT_WYE or not free:
        return free
    whole = connection.group
    legs = connection.legs(system)

    def level(counts: Sequence[int]) -> int:
        return sum(count % legs == 0 for count in counts)

    least = len(before) if sum(before) == heaters else 1  # the same heaters: all panels stay as they were, or none has a reason to
    for stay in range(min(len(before), len(free)), least - 1, -1):
        head = before[:stay]
        left, panels = heaters - sum(head), len(free) - stay
        if left < 0 or any(count > takes or count % whole for count in head) or (left == 0) != (panels == 0) or left > panels * takes:
            continue
        if left % whole or left < panels * whole:
            continue
        counts = (*head, *_shared(left // whole, panels, whole))
        if max(counts) <= takes and level(counts) >= level(free):
            if counts != free:
                new = f", with panels of {_split(counts[stay:])} for the others" if counts[stay:] else ""
                said.add("kept-split", "quantity", kept=_split(head), what=new, anew=_split(free))
            return counts
    why = f"a panel takes {counted(takes, 'heater')} now, and {counted(len(free), 'panel')} {'serves' if len(free) == 1 else 'serve'}"
    if sum(before) != heaters:
        why = f"there {'is' if heaters == 1 else 'are'} {counted(heaters, 'heater')} now, not {sum(before)}"
    said.add("kept-split-not", "quantity", before=_split(before), why=why)
    return free


def _split(counts: Iterable[int]) -> str:
    return " + ".join(map(str, counts))


def _shared(things: int, panels: int, each: int) -> tuple[int, ...]:
    if not panels:
        return ()
    least, over = divmod(things, panels)
    return tuple(each * (least + (at < over)) for at in range(panels))
