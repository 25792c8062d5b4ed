"""Names of panel types: BP-01, BP-02 … in the order of the panels; a type that an earlier revision had keeps its name."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import NamedTuple

from batch.findings import Remarks
from batch.results import PanelDesign, TypeRow
from batch.sizing.labels import natural
from batch.sizing.placing import type_key
from batch.sizing.previous_decisions import PreviousDecisions, TypeKey

LEAD = "Type "
NAMED = 6  # names listed in a remark


class NamedTypes(NamedTuple):
    """Names by what makes a type, and one row a type."""

    names: dict[TypeKey, str]
    rows: tuple[TypeRow, ...]


def name_types(panels: Iterable[tuple[str, PanelDesign]], previous: PreviousDecisions, project: str, said: Remarks) -> NamedTypes:
    """Names of the types of these panels, given as (tag, design) in the order that numbers go by.

    A name stands for one way to build a panel: a new type is numbered above every name ever used, and no old name goes to another type.
    """
    tags: dict[TypeKey, list[str]] = {}
    first: dict[TypeKey, PanelDesign] = {}
    for tag, panel in panels:
        key = type_key(panel)
        tags.setdefault(key, []).append(tag)
        first.setdefault(key, panel)
    project = project.strip().casefold()
    known, by_tag = previous.types.get(project, {}), previous.tags.get(project, {})
    before = {*known.values(), *by_tag.values()}
    names = _previous_names(tags, known, by_tag)
    stay = set(names.values())
    number = max((_number(name) for name in {*before, *previous.names.get(project, ())}), default=0)
    for key in tags:
        if key not in names:
            number += 1
            names[key] = f"{LEAD}{number:02d}"
    types = [TypeRow(names[key], first[key], tuple(tags[key])) for key in tags]
    if before:
        types.sort(key=lambda row: natural(row.type))
        if not previous.quiet:
            _say_names(stay, sorted(before - stay, key=natural), previous.source, said)
    return NamedTypes(names, tuple(types))


def _previous_names(
    tags: Mapping[TypeKey, list[str]], known: Mapping[TypeKey, str], by_tag: Mapping[str, str]
) -> dict[TypeKey, str]:
    """A type's own name, or that of the first of its panels which carried one."""
    names: dict[TypeKey, str] = {}
    for key, own in tags.items():
        name = known.get(key) or next((by_tag[tag] for tag in own if tag in by_tag), "")
        if name and name not in names.values():
            names[key] = name
    return names


def _number(name: str) -> int:
    digits = name.removeprefix(LEAD)
    return int(digits) if name.startswith(LEAD) and digits.isdigit() else 0


def _say_names(stay: set[str], gone: list[str], source: str, said: Remarks) -> None:
    if stay:
        said.add("kept-types", "", count=len(stay), source=source)
    if gone:
        listed = ", ".join(gone[:NAMED]) + (f" and {len(gone) - NAMED} more" if len(gone) > NAMED else "")
        said.add("kept-types-gone", "", types=listed, source=source)
