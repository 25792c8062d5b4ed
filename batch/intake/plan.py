"""How one list is laid out, in full: what the automatic reading arrives at, what a column map holds, and what its rows are read by."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

from msgspec import Struct, field


class ColumnPart(NamedTuple):
    """One of several columns that one of ours is made of."""

    at: int
    unit: str = ""


FIRST, JOIN, SUM = "first", "join", "sum"


class ColumnPlan(Struct, frozen=True):
    """A column of ours and where it stands: under `heading`, in column `index` (0 is A)."""

    key: str
    index: int
    heading: str = ""
    unit: str = ""  # of bare numbers; "" = the column's own
    sure: str = "certain"
    why: str = ""
    unit_at: int = -1  # column that holds the unit of each row
    parts: tuple[ColumnPart, ...] = ()  # where one of ours is made of several of theirs; `index` is then that of the first
    how: str = ""  # "first": the first that is filled, "join": texts put together, "sum": figures added up
    rival: str = ""  # heading of another column that could be it as well, where it is open
    between: str = ""  # what stands between texts that are put together

    def indexes(self) -> tuple[int, ...]:
        """Every column of theirs that it takes."""
        return (*(part.at for part in self.parts or (ColumnPart(self.index),)), *((self.unit_at,) if self.unit_at >= 0 else ()))


class Question(NamedTuple):
    """What a person must answer before rows are sized: both readings, what speaks for each, and the line of the map that answers."""

    what: str
    one: str
    other: str
    line: str
    cell: str = ""
    rows: tuple[int, ...] = ()  # numbers; () = all rows of the table
    about: str = ""  # key of the column


class When(NamedTuple):
    """A value of column `key` for the rows in which other columns say `others`: volts 230 where the phases are 1."""

    key: str
    value: object
    others: tuple[tuple[str, object], ...]
    why: str = ""


class Also(Struct, frozen=True):
    """A further bank of heaters in each row, under columns of its own; what it has not, it shares with the row's first."""

    columns: Mapping[str, ColumnPlan]
    fixed: Mapping[str, object] = field(default_factory=dict)
    when: tuple[When, ...] = ()
    power: str = ""
    means: Mapping[str, Mapping[str, object]] = field(default_factory=dict)
    row_values: Mapping[int, Mapping[str, object]] = field(default_factory=dict)


class LeftOpen(NamedTuple):
    """Why results left a row unsized, the column that was asked about (-1 = none of one), and what was read of the row, by column key."""

    why: str
    at: int
    read: Mapping[str, object]


class ListPlan(Struct):
    """One table. Rows count from 1 as people count them, columns from 0; `power` and `tanks` say what the figures are of."""

    sheet: str  # the tab
    heading_rows: tuple[int, ...]
    first: int
    last: int
    first_row: int  # of data
    last_row: int
    columns: dict[str, ColumnPlan] = field(default_factory=dict)
    fixed: dict[str, object] = field(default_factory=dict)  # where the row does not say it
    fixed_phases: int | None = None  # the phases of the supply whose volts are fixed: a row of other phases has other volts
    fixed_volts: float | None = None  # the volts that a sentence names together with its phases: of others it says nothing
    when: list[When] = field(default_factory=list)  # where the row does not say it, but says others
    repeats: tuple[str, ...] = ("tank",)  # columns in which a blank below a group's first row means the same
    power: str = ""  # "each", "tank", "row"; "" = to be found out
    quantity: str = ""  # "tank": in each of a row's tanks, "row": in all of them; "" = to be found out
    turned: str = ""
    decimal: str = ""
    dashes_count: bool = False  # is the 3 of "3 - 6 kW" a number of heaters, in all of its descriptions?
    leave_rows: tuple[int, ...] = ()
    keep_rows: tuple[int, ...] = ()
    leave_words: tuple[str, ...] = ()
    keep_words: tuple[str, ...] = ()
    only_words: tuple[str, ...] = ()  # rows without one of these words are left out
    blank_words: tuple[str, ...] = ()  # cells with one of these count as blank
    total_words: tuple[str, ...] = ()  # rows that begin with one of these are totals
    repeat_words: tuple[str, ...] = ()  # cells with one of these repeat the one above
    hidden_rows: str = "asked"  # or "left out", "kept"
    means: Mapping[str, Mapping[str, object]] = field(default_factory=dict)  # by column: what a cell's word stands for, words folded
    tags: Mapping[str, tuple[str, ...]] = field(default_factory=dict)  # the tanks that a tag of the list stands for, tags folded
    names: Mapping[str, tuple[str, str]] = field(default_factory=dict)  # tag and name of tanks, by the cell that holds both
    also: tuple[Also, ...] = ()
    row_values: Mapping[int, Mapping[str, object]] = field(default_factory=dict)  # by row number: in place of what the row says
    asked_rows: tuple[int, ...] = ()  # of which a map leaves open whether they are to be built
    left_open: Mapping[int, LeftOpen] = field(default_factory=dict)  # of which the results that are read here had left it open
    struck_out: bool = True  # rows whose cells are struck through are left out
    use: bool = True  # False: an older issue, or no heater list
    why: dict[str, str] = field(default_factory=dict)  # evidence for what is not a column: power, fixed.volts_v, use
    sure: dict[str, str] = field(default_factory=dict)
    questions: list[Question] = field(default_factory=list)
    again: tuple[int, ...] = ()  # rows in which the headings stand again
    title_out: str = ""  # a title that takes the whole list out: "LINE CANCELLED"
    free: bool = False  # sentences, one tank a line, and no columns
    former: frozenset[int] = frozenset()  # columns of what was, from 0: struck cells there say nothing of the row
    replaced: frozenset[int] = frozenset()  # columns of numbers and powers that the row's take the place of, from 0
    of_heaters: bool = False  # do its title or its headings say that it lists heaters?
    given: bool = False  # by a person's map
    row_supply: dict[int, dict[str, object]] = field(default_factory=dict)  # by row number: what sentences say, where the row does not
    row_supply_why: dict[int, str] = field(default_factory=dict)
    row_changes: dict[int, dict[str, object]] = field(default_factory=dict)  # by row number: what notes change, in place of what it says
    row_changes_why: dict[int, str] = field(default_factory=dict)
    notes_taken: set[tuple[int, int]] = field(default_factory=set)  # row and column from 0 of notes that said so
    given_values: Mapping[int, Mapping[str, object]] = field(default_factory=dict)  # by row number: of cells that were merged
    poles_at: int = -1  # the column of a panel's schedule whose poles say phases and volts

    @property
    def heading_row(self) -> int:
        return self.heading_rows[-1] if self.heading_rows else 0

    def used(self) -> set[int]:
        """The columns of theirs that those of ours are read from."""
        return {index for column in self.columns.values() for index in column.indexes()}

    def before(self) -> set[int]:
        """The columns of what was, or is there now: those known as such, and of several that one is looked up in those behind the first."""
        first = [column for key, column in self.columns.items() if key in ("quantity", "power_kw") and column.how == FIRST]
        return {part.at for column in first for part in column.parts[1:]} | self.former | self.replaced

    def taken(self) -> set[int]:
        """The columns of theirs that something was taken for: a row's first bank, a further one, or what was before."""
        further = {index for also in self.also for column in also.columns.values() for index in column.indexes()}
        return self.used() | further | self.former | ({self.poles_at} if self.poles_at >= 0 else set())


NONE: Mapping[str, object] = {}
