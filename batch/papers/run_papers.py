"""Group 20: every run of wire and raceway between boxes and to heaters, for whoever pulls it and cuts the openings for it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from batch.material_lines import CABLE, METRES, RACEWAY
from batch.papers.job_at_hand import AtHand, first_of, some_held
from batch.papers.paper_data import ColumnHead, Paper, table
from batch.papers.paper_sets import SCHEDULE
from batch.schedules.designations import marks_of
from batch.schedules.row_words import HELD
from batch.schedules.run_schedule import RUNS
from batch.sizing.run_lines import CONDUCTORS, TO_CONTACTOR

NOTE = (
    "Length one way, as given. Not among them: control wires, which the wiring lists of the control panels have; in which raceway they "
    "run, and what that makes of its fill, is for whoever lays them to decide. An opening in a box is of the fitting's size; its place is "
    "the builder's."
)


def run_papers(at: AtHand) -> Iterator[Paper]:
    runs = [run for run in _runs(at.rows(RUNS)) if run[0]["run"] != TO_CONTACTOR]  # that one is inside a box
    if not runs:
        return
    ground, unit = marks_of(at.project).ground, "ft" if at.us else "m"
    headings: tuple[ColumnHead, ...] = (
        ColumnHead("Feeder", share=1.3), ColumnHead("Tank", share=1.6), ColumnHead("Bank", share=0.7), ColumnHead("Run", share=1.5),
        ColumnHead("From", share=1.8), ColumnHead("To", share=2.4), ColumnHead("Circuits", "", "right", 0.9),
        ColumnHead("Conductors of each", share=4.0), ColumnHead(ground, share=1.8), ColumnHead("Raceways", share=2.2),
        ColumnHead("Length", unit, "right", 0.9),
    )  # fmt: skip
    held = tuple(number for number, run in enumerate(runs) if run[0]["hold"])
    if held:  # red alone says nothing to whoever pulls wire by a black and white print
        headings = (*headings, ColumnHead("Status", share=0.9))
    yield at.paper(
        SCHEDULE, "schedule", "Runs of wire and raceway",
        band=some_held(len(held), len(runs), "run"),
        tags=first_of(dict.fromkeys(run[0]["feeder"] for run in runs), 4),
        tables=(table("", headings, ((*_row(run, unit), *_status(run, held)) for run in runs), held, NOTE),),
    )  # fmt: skip


def _status(run: Sequence[Mapping], held: Sequence[int]) -> tuple[str, ...]:
    """HOLD or blank, where any run is held at all."""
    return (HELD if run[0]["hold"] else "",) if held else ()


def _runs(rows: Sequence[Mapping]) -> Iterator[list[Mapping]]:
    """Lines of a run stand together; that of its ungrounded conductors says how many circuits run so."""
    run: list[Mapping] = []
    for row in rows:
        if run and (row["circuits"] or _where(row) != _where(run[0])):
            yield run
            run = []
        run.append(row)
    if run:
        yield run


def _where(row: Mapping) -> tuple[object, ...]:
    return tuple(row[key] for key in ("tank", "bank", "feeder", "run", "start", "end"))


def _row(run: Sequence[Mapping], unit: str) -> tuple[str, ...]:
    first = run[0]
    circuits = first["circuits"] or 1
    grounds = [f"{_each(row, circuits)}{_size(row)}" for row in run if row["role"] == CONDUCTORS[2]]
    grounds += ["in the cable" for row in run if row["role"] == CABLE]
    raceways = [f"{row['count']:g} x {row['words']}" for row in run if row["role"] == RACEWAY]
    lines = [f"{_each(row, circuits) or '1 x '}{row['words']}" for row in run if row["role"] not in (CONDUCTORS[2], RACEWAY)]
    length = "not given" if first["length"] is None else f"{first['length'] * METRES[first['unit']] / METRES[unit]:,.4g}"
    return (
        first["feeder"], first["tank"] or "", first["bank"] or "", first["run"], first["start"], first["end"], f"{circuits:,}",
        " + ".join(lines), ", ".join(grounds), ", ".join(raceways), length,
    )  # fmt: skip


def _each(row: Mapping, circuits: int) -> str:
    """ "3 x ", of every circuit; of a part of the circuits alone how many there are of all."""
    count, over = divmod(row["count"], circuits)
    return f"{row['count']:g} of all " if over else "" if count == 1 else f"{count:g} x "


def _size(row: Mapping) -> str:
    """ "12 AWG" of a grounding conductor, whose column says what it is."""
    return row["words"].partition(" copper")[0].partition(" aluminum")[0].partition(" aluminium")[0]
