"""What is missing around a bank that could hurt somebody, and which lengths nobody gave."""

from __future__ import annotations

from batch.findings import Remarks
from batch.records import Bank, Feeder, Job, Project, Tank
from batch.results import BankDesign

MOST_SHOWN = 60  # signs of a note


def say_safety(bank: Bank, tank: Tank | None, design: BankDesign, said: Remarks) -> None:
    """What the row says about over-temperature protection and the low-level cutoff, and which lengths are missing."""
    if bank.over_temperature_limit != "yes":
        said.add("limit-missing" if bank.over_temperature_limit == "no" else "limit-unknown", "over_temperature_limit")
    cutoff = tank.level_cutoff if tank is not None else None
    if cutoff != "yes":
        said.add("level-cutoff-missing" if cutoff == "no" else "level-cutoff-unknown", "tank")
    if bank.heater_run_m is None:
        said.add("no-length", "heater_run_m", what="panel-to-heater length")
    if design.panels and design.panel_feeder_run_m is None:
        said.add("no-length", "panel_feeder_run_m", what="contactor-to-panel length")


def say_notes(
    bank: Bank, tank: Tank | None, feeder: Feeder, project: Project, *, job: Job, said: Remarks
) -> None:
    """What a person has put on hold by a note: the bank, its tank, its feeder or the whole project."""
    judged = job.judged_notes.get((bank.origin.sheet, bank.origin.row))
    places = (
        ("notes", "this bank", bank.notes if bank.notes != judged else None), ("tank", "its tank", tank.notes if tank else None),
        ("feeder", "its feeder", feeder.notes), ("", "its project", project.notes),
    )  # fmt: skip
    for about, whose, notes in places:
        if notes and (word := job.hears(notes)):
            said.add("note-on-hold", about, word=word, whose=whose, notes=" ".join(notes.split())[:MOST_SHOWN])
