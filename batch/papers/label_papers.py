"""Group 60: a label for each panel and distribution unit that may be built, in words of the label list."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from batch.counted_words import counted
from batch.papers.job_at_hand import AtHand
from batch.papers.paper_data import Label, Paper, PaperFact
from batch.papers.paper_sets import LABELS
from batch.papers.shown import shown
from batch.schedules.designations import numbers_in_box
from batch.schedules.label_list import PANEL_LABELS, label_facts
from batch.schedules.row_words import AS_MARKED

SIGNAL = "WARNING"
TOGETHER = "A panel in one box with its control panel has its label beside that one's."


def label_papers(at: AtHand) -> Iterator[Paper]:
    labels = tuple(_label(at, row) for row in at.rows(PANEL_LABELS))
    if not labels:
        return
    held = sum(len(row.panels) for row in at.project.banks if row.hold is not None)
    without = f" None for {counted(held, 'panel')} on hold." if held else ""
    yield at.paper(
        LABELS, "labels", "Panel labels",
        quantity=f"{len(labels):,}", tags=f"{labels[0].tag} to {labels[-1].tag}" if len(labels) > 1 else labels[0].tag,
        labels=labels,
        notes=(
            f"One label for each panel and each distribution unit of ours, fixed inside its door; "
            f"check each against it as built.{without}{' ' + TOGETHER if numbers_in_box(at.project) else ''}",
        ),
    )  # fmt: skip


def _label(at: AtHand, row: Mapping) -> Label:
    facts = label_facts(row, lambda row, key: _torque(at, row, key))
    title = f"{row['type']}: {row['volts']}; {row['branches']}"
    return Label(row["panel"], title, SIGNAL, row["warning"], tuple(PaperFact(caption, words) for caption, words in facts if words))


def _torque(at: AtHand, row: Mapping, key: str) -> str:
    column = PANEL_LABELS[key]
    return AS_MARKED if row[key] is None else f"{shown(column, row[key], at.us)} {column.shown_unit(at.us)}"
