"""What the papers cannot settle, and who does: openings, boxes that are not found, cautions."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from batch.control_results import TankControl
from batch.findings import Finding, Harm, Severity
from batch.papers.job_at_hand import AtHand, first_of
from batch.papers.paper_data import ColumnHead, PaperTable, table
from batch.results import BankRow, PanelDesign

OPEN = (ColumnHead("Open", share=5.2), ColumnHead("Who decides", share=2.6))
TITLE = "Open on this paper"
BUILT_OTHERWISE = ("protective-reinforced",)  # notes by which a conductor may have to be another than the one that is drawn


def open_on_panel(at: AtHand, design: PanelDesign, rows: Sequence[BankRow]) -> Iterator[PaperTable]:
    listed = [*_box(design.enclosure is not None and not design.enclosure.size), *cautions_of(rows)]
    if listed:
        yield table(TITLE, OPEN, dict.fromkeys(listed))


def _box(unfound: bool) -> Iterator[tuple[str, str]]:
    if unfound:
        yield "Enclosure: none of the list is large or cool enough by the estimate.", "builder, by a layout and its heat"


def open_on_control(alike: Sequence[TankControl]) -> Iterator[PaperTable]:
    """Cautions of control panels that are built alike, once each."""
    listed = list(_cautions((one.tag, one.findings) for one in alike))
    if listed:
        yield table(TITLE, OPEN, listed)


def cautions_of(rows: Iterable[BankRow]) -> Iterator[tuple[str, str]]:
    """Cautions of banks, once each with the banks that have them."""
    return _cautions((f"{row.bank.tank}/{row.label}", row.findings) for row in rows)


def _cautions(said: Iterable[tuple[str, Iterable[Finding]]]) -> Iterator[tuple[str, str]]:
    found: dict[tuple[str, str], dict[str, None]] = {}
    for tag, findings in said:
        for one in findings:
            if (one.severity is Severity.CAUTION and one.kind.harm is not Harm.MONEY) or one.code in BUILT_OTHERWISE:
                found.setdefault((one.message, one.kind.advice), {})[tag] = None
    for (message, advice), tags in found.items():
        yield f"{first_of(tags)}: {message}", advice


# --- the whole set ------------------------------------------------------------------------------------------------------------------


def open_in_set(*, relays: bool) -> PaperTable:
    """What no program can know of a set of papers, on its first sheet, with who decides it. `relays`: it has ground-fault relays."""
    rows = (
        ("Layout: places of parts on the plate and of devices on the door, openings. Sizes of enclosures are budget estimates (about).",
         "builder, by the makers' dimensions and bending space"),
        ("Torque that reads: as marked ____.", "builder, by the marking of the part as delivered; written into the test record"),
        ("Short-circuit rating, serial number and maker of each box.", "whoever builds and marks it"),
        ("Several wires on one terminal, and wires on the terminals of parts that state no range.",
         "builder, by the part's marking; where it does not allow them, the engineer"),
        ("Colours of wires and of lamps, words of legend plates: common practice here.", "customer and builder, before building"),
        ("Temperature controller, level cutoff, interlock and alarm where the lists say field or others: make, contacts, who wires them.",
         "engineer of the process, with whoever supplies them"),
        ("Bonding of the tank and of metal parts about it, with the probe of a plastic tank: conductor, clamp and size. The test record "
         "measures it; no line of Materials and no wiring list has it.", "electrician, by the code in force"),
        ("Over-temperature contacts come with the heaters and level cutoffs with the tanks: Materials counts both, with who brings them.",
         "whoever orders them, by the scheme of the control circuit"),
        *[("Ground-fault relays: size and leads of the current transformer, the setting and the trip test.",
           "builder, by the maker's instructions")] * relays,
        ("Raceways of control wires, and the fill of raceways that they share; supports; seals.", "electrician"),
        ("Arc-flash study and its labels; area classification; ground-fault protection beyond what is drawn.", "engineer, authority"),
    )  # fmt: skip
    return table("Open in this set, and who decides", OPEN, rows)
