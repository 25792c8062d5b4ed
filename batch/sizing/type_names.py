"""Names of panel types: BP-01, BP-02 … in the order of the panels; a type that an earlier revision had keeps its name."""

from __future__ import annotations

from collections.abc import Iterable

from batch.findings import Remark, remark
from batch.results import PanelDesign, TypeRow
from batch.sizing.labels import natural
from batch.sizing.placing import type_key
from batch.sizing.previous_decisions import Kept

LEAD = "Type "
NAMED = 6  # names listed in a remark


def name_types(
    panels: Iterable[tuple[str, PanelDesign]], kept: Kept, project: str
) -> tuple[dict[tuple, str], tuple[TypeRow, ...], list[Remark]]:
    """Names by what makes a type, one row a type, and what is said of kept names; panels as (tag, design) in the order given.

    A name stands for one way to build a panel: a new type is numbered above every name ever used, and no old name goes to another type.
    """
    tags: dict[tuple, list[str]] = {}
    first: dict[tuple, PanelDesign] = {}
    for tag, panel in panels:
        key = type_key(panel)
        tags.setdefault(key, []).append(tag)
        first.setdefault(key, panel)
    project = project.strip().casefold()
    known, by_tag = kept.types.get(project, {}), kept.tags.get(project, {})
    before = {*known.values(), *by_tag.values()}
    names = _kept_names(tags, known, by_tag)
    stay = set(names.values())
    number = max((_number(name) for name in {*before, *kept.names.get(project, ())}), default=0)
    for key in tags:
        if key not in names:
            number += 1
            names[key] = f"{LEAD}{number:02d}"
    types = [TypeRow(names[key], first[key], tuple(tags[key])) for key in tags]
    if before:
        types.sort(key=lambda row: natural(row.type))
    return names, tuple(types), kept.said(*_said(stay, sorted(before - stay, key=natural), kept.source)) if before else []


def _kept_names(tags: dict[tuple, list[str]], known, by_tag) -> dict[tuple, str]:
    """A type's own name, or that of the first of its panels which carried one."""
    names: dict[tuple, str] = {}
    for key, own in tags.items():
        name = known.get(key) or next((by_tag[tag] for tag in own if tag in by_tag), "")
        if name and name not in names.values():
            names[key] = name
    return names


def _number(name: str) -> int:
    digits = name.removeprefix(LEAD)
    return int(digits) if name.startswith(LEAD) and digits.isdigit() else 0


def _said(stay: set[str], gone: list[str], source: str) -> list[Remark]:
    said = [remark("kept-types", "", count=len(stay), source=source)] if stay else []
    if gone:
        listed = ", ".join(gone[:NAMED]) + (f" and {len(gone) - NAMED} more" if len(gone) > NAMED else "")
        said.append(remark("kept-types-gone", "", types=listed, source=source))
    return said
