"""What a section of a divided job knows of the whole: frozen records."""

from __future__ import annotations

from collections.abc import Mapping

from msgspec import Struct


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
