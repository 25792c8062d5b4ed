"""What Notes in our own form say of whether a row is to be built: a manager who writes HOLD there is heard."""

from __future__ import annotations

from functools import lru_cache


@lru_cache(maxsize=4096)
def hold_word(notes: str) -> str:
    """The word by which Notes leave open whether something is to be built, or say that it is not; "" where they speak of another thing,
    "subdivided by their maker".
    """
    from batch.intake.vocabulary import one_list  # which a job without notes has no need of

    if not (" by " in notes.casefold() or one_list("doubt").find(notes) or one_list("out").find(notes)):
        return ""  # as most notes: the words of all languages need not be known
    from batch.intake.list_words import about_the_row
    from batch.intake.remark_words import DOUBT, OUT, read_row_words

    said = read_row_words(notes)
    if said.fate == OUT:
        begins = " " in said.word and notes.strip().casefold().startswith(said.word.casefold())  # "do not quote yet"
        return said.word if said.alone or begins else ""
    return said.word if said.fate == DOUBT and about_the_row(notes, said.word) else ""
