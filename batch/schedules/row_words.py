"""Wires, findings and splits in the words that the schedules share."""

from __future__ import annotations

from collections.abc import Container, Iterable, Sequence
from math import floor

from batch.counted_words import few
from batch.findings import CATALOGUE, Effect, Finding, Severity
from batch.records import Supply
from batch.results import BankRow, PanelDesign, ProjectResult, Wires
from batch.schedules.worked_once import once
from batch.sizing.words import size_words

Row = dict[str, object]
OF_PROJECT = "project: see Findings"  # of a row that has what nearly all of its project have
BETWEEN = "; "  # kinds of findings of a row; no title holds it
AS_MARKED = "as marked ____"  # of a torque that no part of the stock list states


SIZED, REVIEW, HOLD, NOT_SIZED = STATUSES = ("sized", "sized, review", Effect.NOT_RELEASED.status, Effect.NOT_SIZED.status)  # worst last
HELD = "HOLD"  # of a line below one that says why
BAND = "HOLD - NOT RELEASED FOR FABRICATION"
_IN_WORDS = {Severity.HOLD: HOLD, Severity.CAUTION: REVIEW, Severity.NOTE: SIZED}


def earthed(project: ProjectResult, feeder: str) -> str:
    """ ", TN-S": what follows a supply's volts where the code tells how its feeder is earthed."""
    return _earthings(project).get(feeder, "")


_earthings = once(
    lambda project: project.feeders, lambda feeders: {row.feeder.feeder: f", {row.earthing}" for row in feeders if row.earthing}
)  # the last project's: rows come project by project


def status_of(findings: Iterable[Finding], around: Iterable[Finding] = (), once: Container[str] = frozenset()) -> str:
    """A row's status in words, from the worst that was said of it and of what it hangs on (`around`); what is said `once` for the project
    says nothing of the row. A hold of what it hangs on alone asks for a look at the row.
    """
    worst = Severity.NOTE
    for finding in findings:
        kind = finding.kind
        if kind.severity < worst and kind.code not in once:
            worst = kind.severity
    for finding in around:
        kind = finding.kind
        severity = Severity.CAUTION if kind.holds_itself else kind.severity
        if severity < worst and kind.code not in once:
            worst = severity
    return _IN_WORDS[worst]


def worst_of(statuses: Iterable[str]) -> str:
    """The worst of statuses in words; of none "sized"."""
    return max(statuses, key=STATUSES.index, default=SIZED)


def kinds_said(findings: Iterable[Finding], around: Iterable[Finding] = (), once: Container[str] = frozenset()) -> str:
    """Titles of holds and cautions, each once; of those that are not the row's own it is said whose they are. Of what is said `once` for
    the project, with the list of whom it concerns, the row says no more than that there is something.
    """
    own = {kind.code: "" for finding in findings if (kind := finding.kind).severity is not Severity.NOTE}
    others = {finding.code: "feeder" if finding.feeder and not finding.tank else "tank" for finding in around if finding.code not in own}
    said = {code: at for code, at in (own | others).items() if code not in once}
    words = [f"{at}: {CATALOGUE[code].title}" if at else CATALOGUE[code].title for code, at in said.items()]
    return BETWEEN.join([*words, OF_PROJECT] if any(code in once for code in (*own, *others)) else words)


def band_words(hold: str) -> str:
    """The band that every paper of something on hold carries; "" where nothing holds it."""
    return f"{BAND}: {hold}" if hold else ""


def residual_words(design: PanelDesign, before: str = "; ") -> str:
    """The residual-current device of a panel feeder or single circuit, behind other words; "" where none is asked for."""
    return f"{before}residual-current device {design.residual_ma:g} mA" if design.residual_ma is not None else ""


def ground_size(wires: Wires) -> str:
    """ "16 mm²", of parallel sets "3 x 120 mm²": under a code that does not tell methods apart its size alone, one to each set."""
    size = size_or_words(wires.ground)
    return f"{wires.sets} x {size}" if wires.sets > 1 and wires.method else size


def laid_in(wires: Wires | None) -> str:
    """ "3/4 in PVC-80"; "conduit or trunking, B1"."""
    if wires is None:
        return ""
    return f"{wires.raceway}, {wires.method}" if wires.raceway and wires.method else wires.raceway


def run_words(wires: Wires) -> str:
    """ "2 x 12 AWG", with its neutral "2 x 12 AWG + N", parallel sets "2 sets of 3 x 500 kcmil"."""
    if not wires.required_size:
        return wires.size
    words = f"{wires.lines} x {size_words(wires.size)}" + (" + N" if wires.neutral else "")
    return words if wires.sets == 1 else f"{wires.sets} sets of {words}"


def wire_words(wires: Wires) -> str:
    words = f"{size_or_words(wires.size)} {wires.material} {wires.insulation}"
    return words if wires.sets == 1 else f"{wires.sets} x {words}"


def size_or_words(size: str) -> str:
    return size_words(size) if size and size[0].isdigit() else size


def at_most_words(value: float) -> str:
    """What something may carry at most, never rounded up: 15.6522 "15.65", 30.0 "30"."""
    return f"{floor(value * 100 + 1e-6) / 100:.10g}"


def basis_words(*groups_of_words: Iterable[str]) -> str:
    return "; ".join(dict.fromkeys(words for group in groups_of_words for words in group if words))


def split_words(counts: list[int]) -> str:
    """ "8 + 8 + 5"; a long row of equal panels "12 x 8 + 7"."""
    if len(counts) < 5:
        return " + ".join(map(str, counts))
    return " + ".join(f"{counts.count(count)} x {count}" for count in dict.fromkeys(counts))


def single_tag(row: BankRow) -> str:
    """What a bank without a panel is called where panels have tags."""
    return f"{row.bank.tank}/{row.label} single circuit"


def listed(names: Sequence[str], most: int = 12) -> str:
    """ "T-1/1-P1, T-1/1-P2 and 7 more"."""
    return few(names, most)


def total(*parts: float | None) -> float | None:
    """A total is known only where every part is."""
    known = [part for part in parts if part is not None]
    return sum(known) if len(known) == len(parts) else None


def has_b(supply: Supply) -> bool:
    """Whether a supply has a line B."""
    return supply.system.lines > 1
