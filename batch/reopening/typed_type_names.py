"""Names of panel types typed on Panel types: from then on the type goes by that name, in every later run and revision."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import chain

from msgspec.structs import replace

from batch.comparing.lines import fold
from batch.findings import Finding, find, remark
from batch.reopening.results_book import StoredRow
from batch.results import JobResult, TypeRow
from batch.sizing.previous_decisions import PreviousDecisions
from batch.sizing.type_names import HOLD_LEAD

LONGEST = 31  # characters of a name, that it fits labels, drawings and tabs


def with_type_names(
    previous: PreviousDecisions, typed: Iterable[tuple[StoredRow, str]], result: JobResult, said: list[Finding]
) -> PreviousDecisions:
    """The decisions with the names that were typed; `typed`: rows of Panel types, each with the name that was written there.

    What is said of each goes into `said`. A name stands for one way to build a panel, so none is taken that another type has.
    """
    tags = {project: dict(own) for project, own in previous.tags.items()}
    for row, name in typed:
        project, wanted = fold(row.text("project")), row.text("type").strip()
        types = {kind.type: kind for one in result.projects if fold(one.project.project) == project for kind in one.types}
        others = {fold(other) for other in (*types, *chain.from_iterable(tags.get(project, {}).values()))} - {fold(name)}
        why = _why_not(wanted, types.get(name), others)
        if why:
            said.append(_finding(row, "edit-not-taken", before=name, after=wanted or "blank", why=why))
            continue
        tags.setdefault(project, {}).update(dict.fromkeys(types[name].tags, (wanted,)))
        said.append(_finding(row, "edit-taken", before=name, after=wanted))
    names = {project: frozenset({*chain.from_iterable(own.values()), *previous.names.get(project, ())}) for project, own in tags.items()}
    return replace(previous, tags=tags, names=names)


def _why_not(wanted: str, kind: TypeRow | None, others: set[str]) -> str:
    """Why a name is not taken; "" = it is."""
    if not wanted or len(wanted) > LONGEST or not wanted.isprintable():
        return f"a type needs a name, of at most {LONGEST} characters"
    if kind is None or kind.hold:
        return "a type on hold has no name of its own before it is released"
    if fold(wanted).startswith(fold(HOLD_LEAD)):
        return f"names that begin with {HOLD_LEAD.strip()} are for types that are on hold"
    return "another type has that name" if fold(wanted) in others else ""


def _finding(row: StoredRow, code: str, **words: str) -> Finding:
    said = remark(code, "", column="Type", **words)
    return find(said, project=row.text("project"), sheet=row.sheet, cell=row.cell("type"), seen=row.text("type"))
