"""Groups 30 and 50: each panel type drawn with its parts and its panels, and the wiring of a type, terminal to terminal."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

from batch.drawings.schematic import alt_text, plan
from batch.papers.job_at_hand import AtHand, first_of
from batch.papers.paper_data import ColumnHead, Paper, PaperTable
from batch.papers.paper_sets import TYPE, WIRING
from batch.papers.shown import shown
from batch.results import BankRow, Needed, PanelRow, TypeRow
from batch.schedules.panel_schedule import PANELS
from batch.schedules.row_words import band_words, single_tag, size_or_words, wire_words
from batch.schedules.wiring_list import Join, direct_wiring, panel_wiring

NUMBERED = re.compile(r"\bHTR(?=\d)")  # a heater's number in a designation
WIRES = (
    ColumnHead("No.", "", "right", 0.5),
    ColumnHead("From", share=2.2),
    ColumnHead("To", share=2.6),
    ColumnHead("Conductor", share=3.0),
)


class Built(NamedTuple):
    """A panel of a type, with its bank."""

    row: BankRow
    panel: PanelRow


def built_of(at: AtHand) -> Mapping[str, list[Built]]:
    """The panels of each type, in the order of the banks."""
    found: dict[str, list[Built]] = {kind.type: [] for kind in at.project.types}
    for row in at.project.banks:
        for panel in row.panels:
            found[panel.type].append(Built(row, panel))
    return found


def type_papers(at: AtHand) -> Iterator[Paper]:
    panels, rows = built_of(at), at.by(PANELS, "panel")
    for kind in at.project.types:
        drawing = plan(kind.design, kind.type, at.us, at.project.symbols)
        yield at.paper(
            TYPE, "type", f"{kind.type}: heater panel",
            band=band_words(kind.hold), quantity=f"{len(kind.tags):,}", tags=first_of(kind.tags),
            figures=(at.figures.add(drawing, alt_text(kind.design, kind.type)),),
            tables=(_parts(kind.design.parts), _panels(at, panels[kind.type], rows)),
        )  # fmt: skip


def _parts(needs: Sequence[Needed]) -> PaperTable:
    headings = (ColumnHead("Part", share=2.0), ColumnHead("Description", share=4.2), ColumnHead("Quantity", "", "right", 1.0))
    rows = tuple((need.role, _described(need), f"{need.quantity or 1:g}{'' if need.unit == 'ea' else f' {need.unit}'}") for need in needs)
    return PaperTable("Parts of one panel", headings, rows)


def _described(need: Needed) -> str:
    return f"{need.part}: {need.words}" if need.part and need.part not in need.words else need.words


def _panels(at: AtHand, built: Sequence[Built], rows: Mapping[str, dict]) -> PaperTable:
    """The panels of a type, with what tells them apart."""
    headings = (
        ColumnHead("Panel", share=2.6), ColumnHead("k", "", "right", 0.5), ColumnHead("Heaters", share=1.9),
        ColumnHead("Feeder", share=1.2), ColumnHead("L1-L2-L3 on", share=1.3), ColumnHead("Disconnect", share=2.0),
        ColumnHead("Fault current", "kA", "right", 1.1),
    )  # fmt: skip
    return PaperTable("Panels of this type", headings, tuple(_panel(at, one.panel, rows[one.panel.tag]) for one in built))


def _panel(at: AtHand, panel: PanelRow, row: Mapping) -> tuple[str, ...]:
    first, last = panel.first_heater, panel.first_heater + panel.design.heaters - 1
    heaters = f"HTR{first}" if first == last else f"HTR{first} to {last}"
    fault = shown(PANELS["fault_ka"], panel.fault_ka, at.us) or "not known"
    return panel.tag, f"+{first - 1}", heaters, row["feeder"], row["panel_feeder_phases"], row["disconnect_tag"], fault


# --- wiring -----------------------------------------------------------------------------------------------------------------------


def wiring_papers(at: AtHand) -> Iterator[Paper]:
    panels = built_of(at)
    for kind in at.project.types:
        yield at.paper(
            WIRING, "wiring", f"{kind.type}: wiring",
            band=band_words(kind.hold), quantity=f"{len(kind.tags):,}", tags=first_of(kind.tags),
            tables=(_wires(_of_type(kind, panels[kind.type][0])), _offsets(panels[kind.type])),
            notes=("HTR+1 is the panel's first heater: the heater's number in its bank is k more; k of each panel stands in the table.",),
        )  # fmt: skip
    for alike in _single_circuits(at):
        row, design = alike[0], alike[0].design.single_circuit
        if design is None:
            continue
        joins = direct_wiring(design, "", wire_words(row.design.branch.wires))
        tags = [single_tag(one) for one in alike]
        yield at.paper(
            WIRING, "wiring", f"Wiring of {tags[0] if len(tags) == 1 else f'{len(tags)} single-circuit banks that are alike'}",
            band=band_words(row.hold.message if row.hold is not None else ""), quantity=f"{len(tags):,}", tags=first_of(tags, 2),
            tables=(_wires(joins), _banks(alike)),
        )  # fmt: skip


def _of_type(kind: TypeRow, one: Built) -> Iterator[Join]:
    """Every conductor of a panel of the type, its heaters counted from its first."""
    branch, feed = one.row.design.branch.wires, wire_words(kind.design.panel_feeder_wires)
    green = f"{size_or_words(branch.ground)} {branch.material}, green"
    panel = PanelRow("", kind.type, kind.design, 0, 1, one.panel.lines)
    for join in panel_wiring(panel, one.row.design.circuits_per_heater, "", wire_words(branch), feed, green):
        yield join._replace(start=NUMBERED.sub("HTR+", join.start), end=NUMBERED.sub("HTR+", join.end))


def _wires(joins: Iterator[Join]) -> PaperTable:
    return PaperTable("", WIRES, tuple((str(number), join.start, join.end, join.conductor) for number, join in enumerate(joins, start=1)))


def _offsets(built: Sequence[Built]) -> PaperTable:
    headings = (ColumnHead("Panel", share=3.0), ColumnHead("k", "", "right", 0.7), ColumnHead("Heaters", share=2.0))
    rows = []
    for _, panel in built:
        first, last = panel.first_heater, panel.first_heater + panel.design.heaters - 1
        rows.append((panel.tag, f"+{first - 1}", f"HTR{first}" if first == last else f"HTR{first} to {last}"))
    return PaperTable("Panels of this type", headings, tuple(rows))


def _single_circuits(at: AtHand) -> Iterator[list[BankRow]]:
    """Single-circuit banks that are wired alike; one on hold goes with none that is not."""
    alike: dict[object, list[BankRow]] = {}
    for row in at.project.banks:
        if row.design.single_circuit is not None:
            hold = row.hold.message if row.hold is not None else ""
            alike.setdefault((row.design.single_circuit, wire_words(row.design.branch.wires), hold), []).append(row)
    yield from alike.values()


def _banks(rows: Sequence[BankRow]) -> PaperTable:
    headings = (ColumnHead("Single-circuit bank", share=3.0), ColumnHead("Feeder", share=1.2), ColumnHead("Heaters", share=1.6))
    listed = [(single_tag(row), row.feeder.feeder, "HTR1" if row.bank.quantity == 1 else f"HTR1 to {row.bank.quantity}") for row in rows]
    return PaperTable("Banks that are wired so", headings, tuple(listed))
