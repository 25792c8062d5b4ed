"""Which panels, and which single-circuit banks, are wired as which type, and what differs: numbers of heaters, level cutoff contact."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

from batch.results import BankRow, JobResult, PanelDesign, ProjectResult
from batch.schedules.row_words import band_words, single_tag
from batch.schedules.schedule import Schedule, its_project, ordinal, text
from batch.sizing.labels import natural


class Tagged(NamedTuple):
    """A panel, or a single-circuit bank. `wired_as`: its type, or the first of the single-circuit banks that are alike."""

    project: str
    tag: str
    wired_as: str
    design: PanelDesign
    before: int  # heaters of its bank that come before its own: the k of its list
    contact: int | None  # of its tank's level cutoff that its limit string goes through
    hold: str


def tagged(project: ProjectResult) -> Iterator[Tagged]:
    """Every panel and single-circuit bank of a project, in the order of its banks. The level cutoff is in a bank's first string."""
    name, contacts = project.project.project, _level_contacts(project.banks)
    singles = [row for row in project.banks if row.design.single_circuit is not None]
    alike: dict[tuple[object, ...], str] = {}
    for row in sorted(singles, key=lambda row: natural(single_tag(row))):
        alike.setdefault(_build(row, contacts), single_tag(row))
    for row in project.banks:
        contact, hold = contacts.get(id(row)), _hold(row)
        if (single := row.design.single_circuit) is not None:
            yield Tagged(name, single_tag(row), alike[_build(row, contacts)], single, 0, contact, hold)
        for panel in row.panels:
            fitted = contact if panel is row.panels[0] else None
            yield Tagged(name, panel.tag, panel.type, panel.design, panel.first_heater - 1, fitted, hold)


def _build(row: BankRow, contacts: Mapping[int, int]) -> tuple[object, ...]:
    """What makes single-circuit banks alike."""
    return row.design.single_circuit, id(row) in contacts, _hold(row)


def _hold(row: BankRow) -> str:
    return row.hold.message if row.hold is not None else ""


def _level_contacts(banks: Sequence[BankRow]) -> dict[int, int]:
    """The contact of its tank's level cutoff that each bank has, by the identity of its row: numbered by label, never by row order."""
    used: Counter[str] = Counter()
    numbers = {}
    for row in sorted(banks, key=lambda row: natural(row.label)):
        if row.tank is not None and row.tank.level_cutoff == "yes":
            tank = row.bank.tank.casefold()
            used[tank] += 1
            numbers[id(row)] = used[tank]
    return numbers


def _items(result: JobResult) -> Iterator[Tagged]:
    for project in result.projects:
        yield from tagged(project)


def _heaters(at: Tagged) -> str:
    first, last = at.before + 1, at.before + at.design.heaters
    return f"HTR{first}" if first == last else f"HTR{first} to HTR{last}"


WIRING_TAGS = Schedule(
    "wiring_tags", "Wiring tags", "panel", "Each panel with the type that it is wired as on Wiring, and what is its own there.", key=("project", "panel"),
    items=_items,
    columns=(
        its_project("project"),
        text("panel", "Panel", 24, "tag",
             role="result", help="Tag of the panel, or of a single-circuit bank."),
        text("wired_as", "Wired as", 24, "wired_as",
             role="result", help="Its type on Wiring; of single-circuit banks that are alike the first."),
        ordinal("k", "k", "ea", "before",
                role="result", width=7, help="HTR+1 on Wiring and in the drawing is heater k + 1 of the bank, HTR+2 heater k + 2."),
        text("heaters", "Heaters", 18, _heaters,
             role="result", help="So numbered through their bank, as on labels and Circuits."),
        ordinal("contact", "Level cutoff contact", "no.", "contact",
                role="result", width=12, help="Contact of its tank's level cutoff that its limit string goes through; blank: none in this panel."),
        text("hold", "On hold", 40, lambda at: band_words(at.hold),
             role="result", help="Not released for fabrication, and why."),
    ),
)
