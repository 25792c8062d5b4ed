"""The records a sheet is declared with. Everything that knows a column knows it from here."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property
from typing import Literal

from batch.errors import SpecificationError

Kind = Literal["text", "integer", "number", "volts", "choice", "date"]
Role = Literal["input", "calculation", "result", "text"]
Total = Literal["", "sum", "max"]


@dataclass(frozen=True)
class Column:
    """One column of one sheet, in or out.

    key             name of the record's field; carries the canonical unit (`power_kw`)
    heading, unit   what a person sees: "Power" and "kW". `us_unit` is shown instead in a workbook in US units
    kind            how a cell is read and written. "volts" also takes "480Y/277"
    format          name of a number format in `batch.report.styles.FORMATS`
    low, high       limits of what is accepted, in the canonical unit, inclusive; `above` is an exclusive lower limit
    choices         accepted word -> other spellings of it
    also            other headings the column goes by, beside `heading` and `key`
    tolerance       two revisions differ where |a - b| exceeds it, in the canonical unit
    formula         how a results workbook computes the cell from its own row: `[key]` is the cell of that column in the
                    same row, `{name}` the value `name` of Code basis. "" = the stored value is written
    role            style and legend: what the user gave, what is computed on the way, what is bought or built
    total           what stands above the heading, over the rows that a filter shows
    """

    key: str
    heading: str
    unit: str = ""
    us_unit: str = ""
    kind: Kind = "text"
    format: str = "text"
    help: str = ""
    required: bool = False
    default: str = ""
    low: float | None = None
    high: float | None = None
    above: float | None = None
    choices: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    also: tuple[str, ...] = ()
    example: str = ""
    width: float = 12
    tolerance: float = 0.0
    formula: str = ""
    role: Role = "input"
    total: Total = ""

    def __post_init__(self) -> None:
        if self.kind in ("integer", "number", "volts") and self.format == "text":
            raise SpecificationError(f"column {self.key}: a number needs a number format")
        if self.kind == "choice" and not self.choices:
            raise SpecificationError(f"column {self.key}: a choice needs its choices")

    def shown_unit(self, us: bool) -> str:
        return self.us_unit if us and self.us_unit else self.unit

    def title(self, us: bool = False) -> str:
        """The heading as written: "Power (kW)"."""
        unit = self.shown_unit(us)
        return f"{self.heading} ({unit})" if unit else self.heading


@dataclass(frozen=True)
class Sheet:
    """One sheet: `name` as its tab says, `rows` what one row is, `key` the columns that tell rows apart."""

    id: str
    name: str
    rows: str
    help: str
    columns: tuple[Column, ...]
    key: tuple[str, ...] = ()
    required: bool = False
    also: tuple[str, ...] = ()


    def __post_init__(self) -> None:
        keys = [column.key for column in self.columns]
        heads = [column.title().casefold() for column in self.columns]
        for what, names in (("key", keys), ("heading", heads)):
            twice = sorted({name for name in names if names.count(name) > 1})
            if twice:
                raise SpecificationError(f"sheet {self.name}: {what} {twice[0]!r} is declared twice")

    @cached_property
    def by_key(self) -> dict[str, Column]:
        return {column.key: column for column in self.columns}

    def __getitem__(self, key: str) -> Column:
        return self.by_key[key]
