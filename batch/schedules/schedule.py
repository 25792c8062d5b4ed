"""How a result sheet is declared: a table read top to bottom, each column with its heading, unit, value and help side by side.

A value says where it stands on the thing that a row stands for, be it a bank, a panel or a circuit ("bank.quantity"), or is a function of
that thing; canonical units, None where there is none. Nothing else says what a sheet holds: the writer, the comparison, the frames and
the tables of templates/reference.md are made from these records.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Collection, Iterable, Iterator, Mapping
from functools import cached_property
from operator import attrgetter
from typing import Any, NamedTuple

from msgspec.structs import replace

from batch.errors import SpecificationError
from batch.results import JobResult, Wires
from batch.schedules.row_words import Row
from batch.sheets import Column, Sheet

Value = str | Callable[[Any], object]
PATH = re.compile(r"[a-z]\w*(\.[a-z]\w*)*")


class Unsized(NamedTuple):
    """Something that stands on a sheet without having been sized."""

    thing: Any


def _nothing(result: JobResult) -> Iterable[Any]:
    return ()


class Schedule(Sheet, frozen=True):
    """A result sheet. `items` are the things that its rows stand for, in order; one that could not be sized comes as `Unsized`, and its row
    has those columns alone that say what they show of such a thing.
    """

    items: Callable[[JobResult], Iterable[Any]] = _nothing

    def rows_of(self, result: JobResult) -> Iterator[Row]:
        """Its rows one after the other, by column key: a plant's circuits are never in memory as a whole."""
        return self._rows(result, self._row, self._unsized_row)

    def count(self, result: JobResult) -> int:
        """How many rows it has."""
        return sum(1 for _ in self.items(result))

    def some_of(self, result: JobResult, keys: Collection[str]) -> Iterator[Row]:
        """The same rows with these columns alone: the others are not worked out."""
        some = [column for column in self.columns if column.key in keys and column.value is not None]
        row, unsized = ({column.key: values(column) for column in some} for values in (attrgetter("value"), attrgetter("unsized")))
        return self._rows(result, self._made(row), self._made(unsized))

    def _rows(self, result: JobResult, row: Callable[[Any], Row], unsized: Callable[[Any], Row]) -> Iterator[Row]:
        if all(column.unsized is None for column in self.columns):
            return map(row, self.items(result))
        return (unsized(at.thing) if type(at) is Unsized else row(at) for at in self.items(result))

    @cached_property
    def _row(self) -> Callable[[Any], Row]:
        """A row of one thing."""
        return self._made({column.key: column.value for column in self.columns if column.value is not None})

    @cached_property
    def _unsized_row(self) -> Callable[[Any], Row]:
        """A row of one thing that could not be sized."""
        return self._made({column.key: column.unsized for column in self.columns if column.value is not None})

    def _made(self, values: Mapping[str, Value | None]) -> Callable[[Any], Row]:
        """The dictionary that one would write out by hand, written out from the columns, since that is the fastest.

        Raises:
            SpecificationError: a value that is neither a path of names nor a function.
        """
        made, parts = {}, []
        for at, (key, value) in enumerate(values.items()):
            if value is None:
                parts.append(f"{key!r}: None")
            elif callable(value):
                made[f"value_{at}"] = value
                parts.append(f"{key!r}: value_{at}(thing)")
            elif PATH.fullmatch(value):
                parts.append(f"{key!r}: thing.{value}")
            else:
                raise SpecificationError(f"sheet {self.name}: {value!r} is no path of names")
        return eval(f"lambda thing: {{{', '.join(parts)}}}", made)


def text(key: str, heading: str, width: float, value: Value, **more: Any) -> Column:
    return Column(key, heading, width=width, value=value, role=more.pop("role", "text"), **more)


def ordinal(key: str, heading: str, unit: str, value: Value, **more: Any) -> Column:
    """A number that tells rows apart or counts them."""
    kind, format, role = more.pop("kind", "integer"), more.pop("format", "count"), more.pop("role", "text")
    return Column(key, heading, unit, kind=kind, format=format, role=role, value=value, **more)


def given(key: str, heading: str, unit: str, format: str, value: Value, **more: Any) -> Column:
    """A number that the job workbook gave."""
    return Column(key, heading, unit, kind="number", format=format, width=more.pop("width", 10), role="input", value=value, **more)


def calculated(key: str, heading: str, unit: str, format: str, value: Value, **more: Any) -> Column:
    """A number on the way to what is selected."""
    return Column(key, heading, unit, kind="number", format=format, width=more.pop("width", 10), role="calculation", value=value, **more)


def selected(key: str, heading: str, unit: str, format: str, value: Value, **more: Any) -> Column:
    """A number that is bought, built or wired to."""
    return Column(key, heading, unit, kind="number", format=format, width=more.pop("width", 10), role="result", value=value, **more)


def grouped(subject: str, *columns: Column) -> Iterator[Column]:
    """Columns of one subject that are folded away before the column at their right, where the mark to open them stands."""
    return (replace(column, group=subject) for column in columns)


# Columns that many sheets share.


SEE = "see"  # word of a link


def its_project(value: Value, **more: Any) -> Column:
    return text("project", "Project", 10, value, **more, help="Project the row belongs to.")


def its_tank(value: Value, **more: Any) -> Column:
    return text("tank", "Tank", 12, value, **more, help="Tank tag, as received.")


def its_bank(value: Value, **more: Any) -> Column:
    return text("bank", "Bank", 8, value, **more, help="Bank of the tank.")


def its_feeder(value: Value, **more: Any) -> Column:
    return text("feeder", "Feeder", 9, value, **more, help="Feeder that supplies it.")


def its_status(value: Value, **more: Any) -> Column:
    words = "sized; sized, review (a caution); HOLD (not released for fabrication): a hold, yet counted; not sized (not counted)."
    return text("status", "Status", 16, value, **more, role="result", help=words)


def its_findings(value: Value, **more: Any) -> Column:
    words = "Holds and cautions of this row, and of its feeder or tank where it says so; project: see Findings, where most rows have it."
    return text("findings", "Findings", 28, value, **more, role="result", help=words)


def with_look_up(findings: Column) -> tuple[Column, Column]:
    """The findings of a row, and beside them a short word that is the link to them: a linked cell wraps in one spreadsheet program and not
    in another, so words that need several lines bear none."""
    said: dict[str, Any] = {"value": _see(findings.value)}
    if findings.unsized is not None:
        said["unsized"] = _see(findings.unsized)
    return findings, text("look_up", "Look up", 7, **said, help="Leads to the first finding about this row.")


def _see(said: Any) -> Callable[[Any], str]:
    return lambda at: SEE if said(at) else ""


def its_company(wires: Callable[[Any], Wires | None], of: str, together: str) -> Iterator[Column]:
    """How many circuits run together, what that leaves of their ampacity, and that ampacity; blank where there are no wires.

    `of`: whose ampacity, as its heading names it. `together`: what runs together, in words.
    """

    def said(figure: Callable[[Wires], object]) -> Callable[[Any], object]:
        return lambda at: figure(run) if (run := wires(at)) is not None else None

    left = "What that leaves of the ampacity of its conductors, parallel sets counted as the code counts them."
    where = "that where it runs, corrected for the air and for what runs with it"
    most = f"Of all its sets: the lower of the ampacity at its terminals and of {where}."
    yield selected("together", "Circuits together", "ea", "count", said(lambda run: run.shares), help=together)
    yield selected("grouping", "Grouping factor", "", "factor", said(lambda run: run.grouping), help=left)
    yield calculated("ampacity_a", f"Ampacity of {of}", "A", "amps", said(lambda run: run.ampacity_a), help=most)


def its_basis(value: Value) -> Column:
    words = "Sections and tables that the row's values come from. Not printed."
    return text("basis", "Basis", 160, value, on_paper=False, help=words)
