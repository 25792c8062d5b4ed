"""Groups 30 and 50: each panel type drawn with its parts and its panels, and the wiring of a type, terminal to terminal."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

from batch.drawings.schematic import alt_text, plan
from batch.papers.job_at_hand import AtHand, first_of
from batch.papers.paper_data import ColumnHead, Paper, PaperTable, table
from batch.papers.paper_sets import TYPE, type_serial
from batch.papers.paper_sets import WIRING as GROUP
from batch.papers.shown import shown, table_of
from batch.results import Needed
from batch.schedules.panel_schedule import PANELS
from batch.schedules.row_words import band_words
from batch.schedules.wiring_schedule import WIRING
from batch.schedules.wiring_tag_list import WIRING_TAGS

WIRES = (
    ColumnHead("No.", "", "right", 0.5),
    ColumnHead("From", share=2.2),
    ColumnHead("To", share=2.6),
    ColumnHead("Conductor", share=3.0),
)

OFFSETS = {  # shares of the table of tags
    "panel": 19.0, "k": 5.0, "heaters": 15.0, "contactor": 10.0, "strip": 7.0, "string_in": 19.0, "string_out": 19.0,
}  # fmt: skip


def type_papers(at: AtHand) -> Iterator[Paper]:
    rows, tags = at.by(PANELS, "panel"), grouped_by(at.rows(WIRING_TAGS), "wired_as")
    for kind in at.project.types:
        drawing = plan(kind.design, kind.type, at.us, at.project.symbols, at.project.wording)
        yield at.paper(
            TYPE, "type", f"{kind.type}: heater panel", number=type_serial(kind.type),
            band=band_words(kind.hold), quantity=f"{len(kind.tags):,}", tags=first_of(kind.tags),
            figures=(at.figures.add(drawing, alt_text(kind.design, kind.type)),),
            tables=(_parts(kind.design.parts), _panels(at, tags[kind.type], rows)),
        )  # fmt: skip


def _parts(needs: Sequence[Needed]) -> PaperTable:
    headings = (ColumnHead("Part", share=2.0), ColumnHead("Description", share=4.2), ColumnHead("Quantity", "", "right", 1.0))
    rows = tuple((need.role, _described(need), f"{need.quantity or 1:g}{'' if need.unit == 'ea' else f' {need.unit}'}") for need in needs)
    return table("Parts of one panel", headings, rows)


def _described(need: Needed) -> str:
    return f"{need.part}: {need.words}" if need.part and need.part not in need.words else need.words


def _panels(at: AtHand, tags: Sequence[Mapping], rows: Mapping[str, dict]) -> PaperTable:
    """The panels of a type, with what tells them apart."""
    headings = (
        ColumnHead("Panel", share=2.6), ColumnHead("k", "", "right", 0.5), ColumnHead("Heaters", share=2.1),
        ColumnHead("Feeder", share=1.2), ColumnHead("L1-L2-L3 on", share=1.3), ColumnHead("Disconnect", share=2.0),
        ColumnHead("Fault current", "kA", "right", 1.1),
    )  # fmt: skip
    return table("Panels of this type", headings, tuple(_panel(at, tag, rows[tag["panel"]]) for tag in tags))


def _panel(at: AtHand, tag: Mapping, row: Mapping) -> tuple[str, ...]:
    fault = shown(PANELS["fault_ka"], row["fault_ka"], at.us) or "not known"
    return tag["panel"], f"{tag['k']}", tag["heaters"], row["feeder"], row["panel_feeder_phases"], row["disconnect_tag"], fault


# --- wiring -----------------------------------------------------------------------------------------------------------------------


def wiring_papers(at: AtHand) -> Iterator[Paper]:
    """A list for each type and each sort of single-circuit bank, with the panels that are wired so."""
    wires, tags = (grouped_by(at.rows(sheet), key) for sheet, key in ((WIRING, "type"), (WIRING_TAGS, "wired_as")))
    types = {kind.type for kind in at.project.types}
    for wired_as, rows in wires.items():
        alike = tags[wired_as]
        yield at.paper(
            GROUP, "wiring", f"{wired_as}: wiring", number=type_serial(wired_as) if wired_as in types else "",
            band=str(rows[0]["hold"] or ""), quantity=f"{len(alike):,}", tags=first_of(row["panel"] for row in alike),
            tables=(_wires(rows), table_of(WIRING_TAGS, tuple(OFFSETS), alike, at.us, title="Wired so", wide=OFFSETS)),
            notes=("HTR+1 is heater k + 1 of its bank, HTR+2 heater k + 2: each panel's own k stands in the table.",)
            if any("HTR+" in row["end"] for row in rows) else (),
        )  # fmt: skip


def _wires(rows: Sequence[Mapping]) -> PaperTable:
    return table("", WIRES, tuple((f"{row['no']}", row["start"], row["end"], _conductor(row)) for row in rows))


def _conductor(row: Mapping) -> str:
    """The conductor, and of one that not every panel of the type has, which have it."""
    _, only, which = row["purpose"].partition(", in a panel ")
    return f"{row['conductor']}; in a panel {which.partition(':')[0]}" if only else row["conductor"]


def grouped_by(rows: Iterable[Mapping], key: str) -> dict[str, list[Mapping]]:
    found: dict[str, list[Mapping]] = {}
    for row in rows:
        found.setdefault(str(row[key]), []).append(row)
    return found
