"""What an earlier revision had decided, and how far a new one can keep it: phases, panel splits, numbers of banks, names of types."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from batch.findings import Remark, remark
from batch.records import Bank, Supply
from batch.results import BankDesign
from batch.sizing.connection import Joint
from batch.sizing.panels import legs_in_turn

LINES = "ABC"
COSTS = 1.05  # a fullest line this much above one dealt anew is said; common practice, no source

BankKey = tuple[str, str, str]  # project, tank, label, folded
Address = tuple[str, int]


def bank_key(project: str, tank: str, label: str) -> BankKey:
    return project.casefold().strip(), tank.casefold().strip(), label.casefold().strip()


@dataclass(frozen=True, slots=True)
class KeptBank:
    """What was chosen for one bank. `join`: "" = not known. `split`: heaters of each panel, () = direct."""

    feeder: str
    start: int
    join: str
    split: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class Kept:
    """Decisions of an earlier revision, by key.

    source  name of its workbook
    labels  of banks left blank, by the address of their rows in the job being sized
    types   project, folded -> what makes a type (batch.sizing.placing.type_key) -> its name
    tags    project, folded -> panel tag -> name of its type, where the types are known by name only
    names   project, folded -> every name of a type ever used: none is used again for another
    quiet   what is kept was decided in this very workbook, so nothing is said of it
    """

    source: str = ""
    labels: Mapping[Address, str] = field(default_factory=dict)
    banks: Mapping[BankKey, KeptBank] = field(default_factory=dict)
    types: Mapping[str, Mapping[tuple, str]] = field(default_factory=dict)
    tags: Mapping[str, Mapping[str, str]] = field(default_factory=dict)
    names: Mapping[str, frozenset[str]] = field(default_factory=dict)
    quiet: bool = False

    def bank(self, project: str, tank: str, label: str) -> KeptBank | None:
        return self.banks.get(bank_key(project, tank, label))

    def said(self, *remarks: Remark) -> list[Remark]:
        """The remarks, unless what is kept needs no words."""
        return [] if self.quiet else list(remarks)


NOTHING = Kept()


def kept_start(
    kept: KeptBank | None, bank: Bank, feeder: str, design: BankDesign, turns: int, source: str
) -> tuple[int | None, Remark | None]:
    """The line on which a bank stays, and why not where it cannot; (None, None) where there is nothing to keep.

    `turns`: over how many lines the bank has a choice; `bank.phase_pair` goes before what was kept.
    """
    if kept is None or turns == 1:
        return None, None
    why = ""
    if kept.feeder.casefold() != feeder.casefold():
        why = f"it hung on {kept.feeder} and hangs on {feeder} now"
    elif kept.join and kept.join != design.join:
        why = "its heaters are joined otherwise now"
    elif kept.start >= turns:
        why = "its feeder has no such line now"
    elif bank.phase_pair is not None:
        return None, None  # a phase pair given here stands; what it was before is said where inputs are compared
    if why:
        return None, remark("kept-phases-not", "phase_pair", line=LINES[kept.start], source=source, why=why)
    return kept.start, None


def kept_counts(
    before: Sequence[int], free: tuple[int, ...], heaters: int, takes: int, joint: Joint, supply: Supply
) -> tuple[tuple[int, ...], str]:
    """Heaters of each panel with as many panels of the earlier split as can stay, the first ones first, and why not where none can.

    free   the split that would be chosen anew: as few panels as possible, which keeping never exceeds
    takes  heaters that one panel takes

    Joined stars are split anew, since the volts of their legs depend on it. A dealt bank never gets fewer panels that divide by its legs.
    """
    before = tuple(before)
    if not before or before == free or joint.join == "joined star" or not free:
        return free, ""
    whole = 3 if joint.join == "star" else 1
    turns = legs_in_turn(joint, supply)

    def level(counts: Sequence[int]) -> int:
        return sum(count % turns == 0 for count in counts)

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
            return counts, ""
    if sum(before) != heaters:
        return free, f"there are {heaters} heaters now, not {sum(before)}"
    return free, f"a panel takes {takes} heaters now, and {len(free)} panels serve"


def _shared(things: int, panels: int, each: int) -> tuple[int, ...]:
    if not panels:
        return ()
    least, over = divmod(things, panels)
    return tuple(each * (least + (at < over)) for at in range(panels))
