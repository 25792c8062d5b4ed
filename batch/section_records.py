"""What a section of a divided job knows of the whole: frozen records."""

from __future__ import annotations

import re
from collections.abc import Mapping

from msgspec import Struct

TOLD = re.compile(r"Section (\d+) of (\d+) alone, of a job of ([\d,]+) banks: ")


class Section(Struct, frozen=True):
    """Which section of which job.

    banks  of the whole job, in words
    heat   whether the heat of any tank of the whole job is judged: then each section shows what is said of its own
    once   cautions that nearly all rows of a project carry, by project, over the whole job (`batch.sizing.said_once`); None = not known,
           as of a section that is sized again by itself
    """

    number: int
    of: int
    banks: str
    heat: bool = False
    once: Mapping[str, frozenset[str]] | None = None

    @property
    def words(self) -> str:
        """What its results say before anything else, and are known by when they are read again."""
        return f"Section {self.number} of {self.of} alone, of a job of {self.banks} banks: "


def section_told(text: str) -> Section | None:
    """The section whose results begin so; None where they are of none."""
    found = TOLD.match(text)
    return None if found is None else Section(int(found[1]), int(found[2]), found[3])
