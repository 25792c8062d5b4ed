"""Names of panel types: Type 01, Type 02 … in the order of the panels, Hold 01, Hold 02 … of those that are not released for
fabrication; a type that an earlier revision had keeps its name, whatever somebody called it there.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from itertools import chain
from typing import NamedTuple

from batch.counted_words import few
from batch.findings import Remarks
from batch.results import PanelDesign, TypeRow
from batch.sizing.labels import natural
from batch.sizing.placing import type_key
from batch.sizing.previous_decisions import PreviousDecisions, TypeKey

LEAD, HOLD_LEAD = "Type ", "Hold "
NAMED = 6  # names listed in a remark


class TaggedPanel(NamedTuple):
    """A panel of the project. `hold`: why it is not released for fabrication, "" = it is."""

    tag: str
    design: PanelDesign
    hold: str


class NamedTypes(NamedTuple):
    """Names by what makes a type, and one row a type."""

    names: dict[TypeKey, str]
    rows: tuple[TypeRow, ...]


def name_types(panels: Iterable[TaggedPanel], previous: PreviousDecisions, project: str, said: Remarks) -> NamedTypes:
    """Names of the types of these panels, given in the order that numbers go by.

    A name stands for one way to build a panel: a new type is numbered above every name ever used, and no old name goes to another type.
    """
    tags: dict[TypeKey, list[str]] = {}
    first: dict[TypeKey, TaggedPanel] = {}
    holds: dict[TypeKey, dict[str, None]] = {}
    for panel in panels:
        key = type_key(panel.design, bool(panel.hold))
        tags.setdefault(key, []).append(panel.tag)
        first.setdefault(key, panel)
        holds.setdefault(key, {})[panel.hold] = None
    leads = {key: HOLD_LEAD if panel.hold else LEAD for key, panel in first.items()}
    project = project.strip().casefold()
    known, by_tag = previous.types.get(project, {}), previous.tags.get(project, {})
    before = {*known.values(), *chain.from_iterable(by_tag.values())}
    names = _previous_names(tags, leads, known, by_tag)
    stay = set(names.values())
    ever = {*before, *previous.names.get(project, ())}
    last = {lead: max((_number(name, lead) for name in ever), default=0) for lead in (LEAD, HOLD_LEAD)}
    for key, lead in leads.items():
        if key not in names:
            last[lead] += 1
            names[key] = f"{lead}{last[lead]:02d}"
    types = [TypeRow(names[key], first[key].design, tuple(tags[key]), " ".join(holds[key])) for key in tags]
    types.sort(key=lambda row: (row.type.startswith(HOLD_LEAD), natural(row.type)))  # so that sizing again keeps the order of their lines
    if before and not previous.quiet:
        _say_names(stay, sorted(before - stay, key=natural), previous.source, said)
    return NamedTypes(names, tuple(types))


def _previous_names(
    tags: Mapping[TypeKey, list[str]], leads: Mapping[TypeKey, str], known: Mapping[TypeKey, str],
    by_tag: Mapping[str, tuple[str, ...]],
) -> dict[TypeKey, str]:
    """A type's own name, or that of the first of its panels which carried one; what came off its hold, or on it, gets another."""
    names: dict[TypeKey, str] = {}
    for key, own in tags.items():
        held = leads[key] == HOLD_LEAD
        mine = (name for tag in own for name in by_tag.get(tag, ()) if name.startswith(HOLD_LEAD) == held and name not in names.values())
        name = known.get(key) or next(mine, "")
        if name and name not in names.values():
            names[key] = name
    return names


def _number(name: str, lead: str) -> int:
    digits = name.removeprefix(lead)
    return int(digits) if name.startswith(lead) and digits.isdigit() else 0


def _say_names(stay: set[str], gone: list[str], source: str, said: Remarks) -> None:
    if stay:
        said.add("kept-types", "", count=len(stay), source=source)
    if gone:
        said.add("kept-types-gone", "", types=few(gone, NAMED), source=source)
