"""Two revisions compared, or a whole line of them: each against the one before, and the last against the first."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from itertools import pairwise

from msgspec import Struct
from msgspec.structs import replace

from batch.comparing.causes import with_causes
from batch.comparing.changeset import Comparison
from batch.comparing.compare import compare_revisions
from batch.comparing.pairing import AS_WRITTEN, fitting
from batch.comparing.revision import Revision
from batch.comparing.sentences import screen_text
from batch.errors import JobError
from batch.results import Check

CLOSE = 1e-6

Progress = Callable[[str, int, int], None]


class History(Struct, frozen=True):
    """`whole`: the last revision against the first; `steps`: each against the one before (of two revisions, the same one thing).

    `text` says what changed, a sentence a line. `written` is the file that holds it, "" = none; `aside` why it has another name.
    """

    whole: Comparison
    steps: tuple[Comparison, ...]
    text: tuple[str, ...] = ()
    written: str = ""
    aside: str = ""


def compare_all(revisions: Sequence[Revision], renamed: Sequence[str] = (), us: bool = False, progress: Progress | None = None) -> History:
    """Compares two revisions or more, oldest first, with the causes of what changed.

    renamed  renames that the user confirms, as "T-5=T-5A": each is used in every step in which both names stand
    us       causes are worded in US units

    Raises:
        JobError: a rename of which no step has both names.
    """
    steps = []
    chains = [tuple(part.strip() for part in said.partition("=")[::2]) for said in renamed]
    through = [f"{old}={last}" for old, new in chains for new_again, last in chains if new == new_again]
    used: set[str] = set()
    for old, new in pairwise(revisions):
        fits = {said: fitting(said, old.lines, new.lines) for said in renamed}
        used |= {said for said, found in fits.items() if found}
        compared = compare_revisions(old, new, [one for found in fits.values() for one in found])
        steps.append(with_causes(compared, old, new, us, progress))
    first, last = revisions[0], revisions[-1]
    if len(steps) == 1:
        whole = steps[0]
    else:
        fits = {said: fitting(said, first.lines, last.lines) for said in (*renamed, *through)}
        used |= {said for said, found in fits.items() if found}
        whole = compare_revisions(first, last, [one for found in fits.values() for one in found])
        whole = with_causes(whole, first, last, us, progress)
    if unused := [said for said in renamed if said not in used]:
        raise JobError(
            f"--renamed {unused[0]}: no revision has the old name and the next one the new name, of a project, tank, feeder, part or bank: "
            f"{AS_WRITTEN}"
        )
    if len(steps) > 1:
        whole = replace(whole, checks=(*whole.checks, *_adds_up(whole, steps)))
    return History(whole, tuple(steps), tuple(screen_text(whole, us)))


def _adds_up(whole: Comparison, steps: Sequence[Comparison]) -> Iterator[Check]:
    """The steps' differences against the whole difference."""
    for figure in whole.figures:
        if figure.difference is None or figure.key == "maximum_a":
            continue
        own = [one for step in steps for one in step.figures if (one.key, one.project) == (figure.key, figure.project)]
        of_steps = [one.difference for one in own if one.difference is not None]
        if len(of_steps) < len(own):
            continue
        tolerance = CLOSE * max(1.0, abs(figure.before or 0.0), abs(figure.after or 0.0))
        yield Check(figure.project, f"{figure.heading}: sum of the steps = last - first", sum(of_steps), figure.difference, tolerance)
    for table in dict.fromkeys(pair.either.table for pair in whole.pairs):
        net = sum(_net(step, table) for step in steps)
        yield Check("", f"{table.capitalize()} rows: added - removed of the steps = of the whole", net, _net(whole, table), 0.0)


def _net(compared: Comparison, table: str) -> int:
    pairs = [pair for pair in compared.pairs if pair.either.table == table]
    return sum(pair.left is None for pair in pairs) - sum(pair.right is None for pair in pairs)
