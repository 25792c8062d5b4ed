"""What the Notes of a row in our own form say of whether it is to be built: a manager who writes HOLD there is heard."""

from __future__ import annotations

from batch.findings import find, remark
from batch.intake.list_words import about_the_row
from batch.intake.remark_words import DOUBT, OUT, read_row_words
from batch.intake.survey import flat
from batch.intake.table import Table, names_of

MOST_SHOWN = 60


def hold_by_notes(table: Table) -> None:
    """Each row of which Notes leave open whether it is to be built, or that it is not, is sized and held."""
    for row in table.rows:
        if isinstance(notes := row.values.get("notes"), str) and (word := _open_word(notes)):
            said = remark("note-on-hold", "notes", row=row.number, notes=flat(notes)[:MOST_SHOWN], word=word)
            cell = table.cell("notes", row.number)
            table.findings.append(find(said, sheet=table.grid.name, cell=cell, seen=notes, **names_of(row.values)))


def _open_word(notes: str) -> str:
    """The word by which; "" where the notes speak of another thing, "subdivided by their maker", "price to be confirmed"."""
    said = read_row_words(notes)
    if said.fate == OUT:
        begins = " " in said.word and notes.strip().casefold().startswith(said.word.casefold())  # "do not quote yet"
        return said.word if said.alone or begins else ""
    return said.word if said.fate == DOUBT and about_the_row(notes, said.word) else ""
