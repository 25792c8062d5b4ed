"""The records a sheet is declared with. Everything that knows a column knows it from here."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import cached_property
from itertools import pairwise
from math import isinf
from typing import Any, Literal

from msgspec import Struct, field

from batch.errors import SpecificationError

Kind = Literal["text", "integer", "number", "volts", "choice", "date"]
Role = Literal["input", "calculation", "result", "text"]
Total = Literal["", "sum", "max"]

# A result has changed where its sheet shows another figure: half of the last digit of its number format.
HALF_DIGIT = {
    "volts_1": 0.05, "kw": 0.0005, "two_figures": 0.005, "watt_density": 0.05, "energy": 0.05,
    "amps": 0.005, "percent": 0.05, "percent_0": 0.5, "percent_2": 0.005, "percent_signed": 0.05,
    "temperature": 0.05, "kva": 0.05, "kiloamps": 0.005, "length": 0.05, "factor": 0.005, "ohms": 0.00005, "thickness": 0.0005, "volume": 0.5,
    "hours": 0.005, "speed": 0.005, "mass_rate": 0.05, "flow": 0.05, "torque": 0.05, "money": 0.005,
}  # fmt: skip
GIVEN_TWICE = 1e-6  # what changing a unit and back may do to an input, of the greater value


class Column(Struct, frozen=True):
    """One column of one sheet, in or out.

    key             name of the record's field; carries the canonical unit (`power_kw`)
    heading, unit   what a person sees: "Power" and "kW". `us_unit` is shown instead in a workbook in US units
    kind            how a cell is read and written. "volts" also takes "480Y/277"
    format          name of a number format in `batch.writing.styles.FORMATS`
    low, high       limits of what is accepted, in the canonical unit, inclusive; `above` is an exclusive lower limit
    choices         accepted word -> other spellings of it
    offered         of the choices those that the blank form offers; () = all. The others are understood, and refused with a reason
    open_words      words beside the choices are taken as typed: whoever sizes knows whether they mean something
    listed_on       id of the input sheet whose column of the same key lists what is usual here; "" = none does
    instead         key of a column of the same row that gives what is needed, where this one is blank; "" = none does
    no_limit        word of a cell that says that the figure has no limit: read as infinity; "" = none
    also            other headings the column goes by, beside `heading` and `key`
    tolerance       two revisions differ where |a - b| exceeds it, in the canonical unit; 0 = as `close` says
    formula         how a results workbook computes the cell from its own row: `[key]` is the cell of that column in the
                    same row, `{name}` the value `name` of Code basis. "" = the stored value is written
    role            style and legend: what the user gave, what is computed on the way, what is bought or built
    total           what stands above the heading, over the rows that a filter shows
    on_paper        whether it is printed; what is not stands behind all that is
    group           subject of the outline group that it stands in; "" = always in sight
    becomes         sheet and column of the inputs that a value typed into this column of results is taken for, when the results are sized
                    again ("heaters.fixed_rating_a"); "" = it follows from the inputs, and what is typed is named and left
    value           of a column of results: where it stands on the thing that its row stands for ("bank.quantity"), or a function of that
    unsized         the same of a thing that could not be sized; None = the column says nothing of it
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
    offered: tuple[str, ...] = ()
    open_words: bool = False
    listed_on: str = ""
    instead: str = ""
    no_limit: str = ""
    also: tuple[str, ...] = ()
    example: str = ""
    width: float = 12
    tolerance: float = 0.0
    formula: str = ""
    role: Role = "input"
    total: Total = ""
    on_paper: bool = True
    group: str = ""
    becomes: str = ""
    value: str | Callable[[Any], object] | None = None
    unsized: str | Callable[[Any], object] | None = None

    def __post_init__(self) -> None:
        if self.kind in ("integer", "number", "volts") and self.format == "text":
            raise SpecificationError(f"column {self.key}: a number needs a number format")
        if self.kind == "choice" and not self.choices:
            raise SpecificationError(f"column {self.key}: a choice needs its choices")

    def close(self, one: float, other: float) -> bool:
        """Whether two revisions agree on a number of this column: inputs but for noise of their units, results as they are shown."""
        if isinf(one) or isinf(other):
            return one == other
        given = GIVEN_TWICE * max(1.0, abs(one), abs(other))
        return abs(one - other) <= (self.tolerance or (given if self.role == "input" else HALF_DIGIT.get(self.format, given)))

    @property
    def leads(self) -> bool:
        """Whether its cells are ways to a row of another sheet."""
        return "HYPERLINK(" in self.formula

    @property
    def fill_words(self) -> str:
        """The small print above the heading in the blank form: what a blank means, or an example."""
        if self.required:
            return f"for example {self.example}" if self.example else "needed"
        if self.default:
            return f"blank: {self.default}"
        return f"for example {self.example}" if self.example else "optional"

    def shown_unit(self, us: bool) -> str:
        return self.us_unit if us and self.us_unit else self.unit

    def title(self, us: bool = False) -> str:
        """The heading as written: "Power (kW)"."""
        unit = self.shown_unit(us)
        return f"{self.heading} ({unit})" if unit else self.heading


class Sheet(Struct, frozen=True, dict=True):
    """One sheet: `name` as its tab says, `rows` what one row is, `key` the columns that tell rows apart.

    as_sized   inputs and choices that a row of results was sized with: the workbook says of a row where one is no longer so
    open_group the one outline group of its columns that stands open when the workbook is opened
    named_by   the last of the columns at the left that name a row on paper, where the key is not what a reader knows a row by
    """

    id: str
    name: str
    rows: str
    help: str
    columns: tuple[Column, ...]
    key: tuple[str, ...] = ()
    required: bool = False
    also: tuple[str, ...] = ()
    as_sized: tuple[str, ...] = ()
    open_group: str = ""
    named_by: str = ""

    def __post_init__(self) -> None:
        keys = [column.key for column in self.columns]
        heads = [column.title().casefold() for column in self.columns]
        for what, names in (("key", keys), ("heading", heads)):
            twice = sorted({name for name in names if names.count(name) > 1})
            if twice:
                raise SpecificationError(f"sheet {self.name}: {what} {twice[0]!r} is declared twice")
        unknown = set(self.as_sized) - set(keys)
        if unknown:
            raise SpecificationError(f"sheet {self.name}: {sorted(unknown)[0]!r} is to be kept as sized and is no column")
        runs = [column.group for column, before in zip(self.columns, (None, *self.columns), strict=False) if before is None or column.group != before.group]
        groups = [group for group in runs if group]
        if len(set(groups)) < len(groups) or any(one and other for one, other in pairwise(runs)) or (runs and runs[-1]):
            raise SpecificationError(f"sheet {self.name}: an outline group is one run of columns before a column that is always in sight")
        if self.open_group and self.open_group not in groups:
            raise SpecificationError(f"sheet {self.name}: {self.open_group!r} is to stand open and is no group")
        if self.named_by and self.named_by not in keys:
            raise SpecificationError(f"sheet {self.name}: {self.named_by!r} is to name its rows and is no column")

    @cached_property
    def by_key(self) -> dict[str, Column]:
        return {column.key: column for column in self.columns}

    @property
    def keys_at_left(self) -> int:
        """Columns that tell rows apart, as long as they stand together at the left."""
        return next((at for at, column in enumerate(self.columns) if column.key not in self.key), len(self.columns))

    @property
    def names_at_left(self) -> int:
        """Columns at the left by which a reader knows a row: they print again on each page across."""
        named = [column.key for column in self.columns].index(self.named_by) + 1 if self.named_by else 0
        return max(named, self.keys_at_left)

    def called(self, heading: str) -> Column | None:
        """The column of that heading; else the one that has it among its other names, as former versions wrote it."""
        name = heading.casefold()
        by_heading = next((column for column in self.columns if column.heading.casefold() == name), None)
        return by_heading or next((column for column in self.columns if name in (other.casefold() for other in column.also)), None)

    def __getitem__(self, key: str) -> Column:
        return self.by_key[key]


def number(key: str, heading: str, unit: str, us_unit: str = "", format: str = "number", **more) -> Column:
    return Column(key, heading, unit, us_unit, kind="number", format=format, **more)
