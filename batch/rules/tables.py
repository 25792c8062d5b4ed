"""Tables of a rule set: CSV files in the units of the document, every row with its source and how it was obtained.

Columns of every table besides its own: `source` (document, edition, table), `status` (seen in print, quoted, from memory or worked out),
`check` (how it was confirmed) and `memory_cells` (columns of a row seen in print whose cells are from memory). A blank cell means that
the document has no value there, never zero.
"""

from __future__ import annotations

import csv
from collections.abc import Iterator
from functools import cached_property
from pathlib import Path
from typing import Any, Generic, NamedTuple, TypeVar

from batch.errors import RuleSetError

T = TypeVar("T")

READ = "seen in print"
QUOTED = "quoted, the document was not seen"
MEMORY = "from memory, unverified"
PRACTICE = "trade practice"
COMPUTED = "worked out from a formulation"
KNOWN = (READ, COMPUTED, QUOTED, PRACTICE, MEMORY)  # best first
ROWS = "rows"  # a table's file holds rows to stand over those of the rule set that is extended
UNCHANGED = "unchanged"  # a table taken from another document, and not listed as changed or read in this one
SOURCE_COLUMNS = ("source", "status", "check", "memory_cells")
AMPS_DIGITS = 6  # amps are compared after rounding to 1e-6 A, so that 48.000000001 A x 1.25 is still 60 A


class Cited(NamedTuple, Generic[T]):
    """A value with the place it stands in, and how it is known: seen in print, quoted by others, trade practice, or from memory."""

    value: T
    citation: str  # short: "Table 310.16", "240.6(A)"
    known: str = READ
    unit: str = ""

    @property
    def from_memory(self) -> bool:
        return self.known == MEMORY


def in_the_code(citation: str) -> bool:
    """Whether a citation stands in the code itself: by a clause's number, a chapter or a table. Any other names its own document."""
    return citation[:1].isdigit() or citation.startswith(("Article ", "Chapter ", "Table ", "Informative Annex "))


def cite(value: T, *sources: Cited | str, unit: str = "") -> Cited[T]:
    """`value` as it follows from these sources: look-ups, or clauses by their words. It is known no better than the worst of them."""
    citation, known = "", READ
    for source in sources:
        if isinstance(source, str):
            place = source
        else:
            _, place, how, _ = source
            if how != known and KNOWN.index(how) > KNOWN.index(known):
                known = how
        if place != citation:
            citation = f"{citation}; {place}" if citation else place
    return Cited(value, citation, known, unit)


class Conventions(NamedTuple):
    """How a code tabulates conductors.

    columns_c   temperatures of the ampacity table's columns, °C
    raceways    groups of raceways that its impedance table tells apart
    length      unit of length of its resistances: "kft" or "km"
    area        unit of a conductor's area: "cmil" or "mm2"
    grouped_by  what shares a raceway is counted in: "conductors" that carry current, or "circuits"
    ground_by   what the protective conductor is sized by: the "device" ahead, or the "size" of the lines
    """

    columns_c: tuple[int, ...]
    raceways: tuple[str, ...]
    length: str
    area: str
    grouped_by: str
    ground_by: str


CHOICES = {"length": ("kft", "km"), "area": ("cmil", "mm2"), "grouped_by": ("conductors", "circuits"), "ground_by": ("device", "size")}


class TableShape(NamedTuple):
    """What a table must look like: its columns, those that are numbers, and those whose numbers rise down the table."""

    columns: tuple[str, ...]
    numeric: tuple[str, ...] = ()
    rising: tuple[str, ...] = ()
    within: str = ""  # rising inside each run of this column, not over the whole table
    named_by: int = 1  # that many leading columns tell one row from another

    def written_out(self, conventions: Conventions) -> TableShape:
        """The shape with the rule set's own temperatures of conductors ({c}), groups of raceways ({r}) and units ({u}, {a})."""

        def spelled(names: tuple[str, ...]) -> tuple[str, ...]:
            found: list[str] = []
            for name in names:
                name = name.replace("{u}", conventions.length).replace("{a}", conventions.area)
                if "{c}" in name:
                    found += [name.replace("{c}", str(column_c)) for column_c in conventions.columns_c]
                else:
                    found += [name.replace("{r}", raceway) for raceway in conventions.raceways] if "{r}" in name else [name]
            return tuple(found)

        return self._replace(columns=spelled(self.columns), numeric=spelled(self.numeric), rising=spelled(self.rising))


SHAPES: dict[str, TableShape] = {
    "ratings": TableShape(("rating_a", "fuse", "breaker", "chosen"), ("rating_a",), ("rating_a",)),
    "ampacity": TableShape(
        ("size", "size_unit", "cu_{c}c_a", "al_{c}c_a"), ("cu_{c}c_a", "al_{c}c_a"), ("cu_{c}c_a", "al_{c}c_a")
    ),
    "ampacity_by_method": TableShape(
        ("method", "column_c", "loaded", "size", "cu_a", "al_a"), ("column_c", "loaded", "cu_a", "al_a"), named_by=4
    ),
    "methods": TableShape(("method", "containment", "cable", "sets", "words")),
    "ambient_ground": TableShape(
        ("ambient_from_c", "ambient_to_c", "factor_{c}c"), ("ambient_from_c", "ambient_to_c", "factor_{c}c"), ("ambient_to_c",)
    ),
    "adjustment_layer": TableShape(
        ("methods", "conductors_from", "conductors_to", "percent"), ("conductors_from", "conductors_to", "percent"),
        ("conductors_from",), "methods", named_by=2,
    ),
    "adjustment_ground": TableShape(
        ("methods", "conductors_from", "conductors_to", "percent"), ("conductors_from", "conductors_to", "percent"),
        ("conductors_from",), "methods", named_by=2,
    ),
    "ambient": TableShape(
        ("ambient_from_c", "ambient_to_c", "factor_{c}c"), ("ambient_from_c", "ambient_to_c", "factor_{c}c"), ("ambient_to_c",)
    ),
    "adjustment": TableShape(
        ("conductors_from", "conductors_to", "percent"), ("conductors_from", "conductors_to", "percent"), ("conductors_from",)
    ),
    "small_conductors": TableShape(("size", "material", "device_a"), ("device_a",), named_by=2),
    "protective": TableShape(("size", "cu_size", "al_size")),
    "bonding_jumper": TableShape(
        ("cu_lines_cmil", "cu_size", "al_lines_cmil", "al_size"), ("cu_lines_cmil", "al_lines_cmil"), ("cu_lines_cmil", "al_lines_cmil")
    ),
    "ground": TableShape(("device_a", "cu_size", "al_size"), ("device_a",), ("device_a",)),
    "conductor_properties": TableShape(
        ("size", "build", "area_{a}", "cu_ohm_per_{u}", "al_ohm_per_{u}"), ("area_{a}", "cu_ohm_per_{u}", "al_ohm_per_{u}"),
        named_by=2,
    ),
    "impedance": TableShape(
        ("size", "x_{r}_ohm_per_{u}", "cu_{r}_ohm_per_{u}", "al_{r}_ohm_per_{u}"),
        ("x_{r}_ohm_per_{u}", "cu_{r}_ohm_per_{u}", "al_{r}_ohm_per_{u}"),
    ),
    "conductor_areas": TableShape(
        ("insulation", "size", "diameter_in", "area_in2"), ("diameter_in", "area_in2"), ("diameter_in", "area_in2"), "insulation",
        named_by=2,
    ),
    "raceways": TableShape(
        ("raceway", "trade_size", "diameter_in", "area_in2"), ("diameter_in", "area_in2"), ("diameter_in", "area_in2"), "raceway",
        named_by=2,
    ),
    "fill": TableShape(
        ("conductors_from", "conductors_to", "nipple", "fill_pct"), ("conductors_from", "conductors_to", "fill_pct"), named_by=3
    ),
    "torque": TableShape(
        ("size_from", "size_to", "slot_narrow_lbf_in", "slot_wide_lbf_in", "hex_other_lbf_in"),
        ("slot_narrow_lbf_in", "slot_wide_lbf_in", "hex_other_lbf_in"),
    ),
    "torque_threads": TableShape(
        ("thread", "thread_mm", "headless_nm", "screwdriver_nm", "other_means_nm"),
        ("thread_mm", "headless_nm", "screwdriver_nm", "other_means_nm"), ("thread_mm", "screwdriver_nm", "other_means_nm"),
    ),
    "torque_slotted": TableShape(("slot_length_in", "slot_narrow_lbf_in", "slot_wide_lbf_in"), ("slot_narrow_lbf_in", "slot_wide_lbf_in")),
    "torque_socket": TableShape(("socket_in", "torque_lbf_in"), ("torque_lbf_in",), ("torque_lbf_in",)),
    "fuse_classes": TableShape(
        ("class", "branch_protection", "chosen_over_a", "chosen_to_a", "volts_v", "interrupting_ka"),
        ("chosen_over_a", "chosen_to_a", "volts_v", "interrupting_ka"),
        ("chosen_to_a",),
    ),
    "breaker_frames": TableShape(("frame_a", "trip_from_a", "trip_to_a"), ("frame_a", "trip_from_a", "trip_to_a"), ("frame_a",)),
    "contactors": TableShape(
        ("size", "continuous_a", "service_limit_a", "heating_volts_v", "heating_kw_1ph", "heating_kw_3ph"),
        ("continuous_a", "service_limit_a", "heating_volts_v", "heating_kw_1ph", "heating_kw_3ph"),
        ("continuous_a",),
    ),
    "transformers": TableShape(("phases", "kva"), ("phases", "kva"), ("kva",), "phases", named_by=2),
    "systems": TableShape(("system", "line_line_v", "line_neutral_v"), ("line_line_v", "line_neutral_v")),
    "sccr": TableShape(("component", "part", "sccr_ka"), ("sccr_ka",), named_by=2),
    "disconnection": TableShape(("earthing", "u0_to_v", "final_s"), ("u0_to_v", "final_s"), ("u0_to_v",), "earthing", named_by=2),
    "fuse_gates": TableShape(*3 * (("rating_a", "trips_5s_a", "trips_01s_a"),)),
    "breaker_bands": TableShape(("type", "lower", "upper"), ("lower", "upper"), ("lower", "upper")),
    "control_coils": TableShape(("part", "sealed_va", "inrush_va"), ("sealed_va", "inrush_va")),
    "part_space": TableShape(
        ("part", "up_to", "up_to_unit", "width_mm", "height_mm", "box_depth_mm", "watts", "width_is"),
        ("width_mm", "height_mm", "box_depth_mm", "watts"),
        named_by=3,
    ),
    "enclosure_sizes": TableShape(("height", "width", "depth", "unit"), ("height", "width", "depth"), named_by=3),
}


class CodeRow:
    """One row of a table. Cells by column name; `number` is None where the document has no value."""

    __slots__ = ("_table", "cells", "line")

    def __init__(self, table: CodeTable, line: int, cells: dict[str, str]) -> None:
        self._table = table
        self.line = line
        self.cells = cells

    def __getitem__(self, column: str) -> str:
        return self.cells[column]

    def number(self, column: str) -> float | None:
        text = self.cells[column]
        if not text:
            return None
        try:
            return float(text)
        except ValueError:
            raise RuleSetError(f"{self._table.path} line {self.line}: {column} is not a number: {text!r}; correct the cell.") from None

    def from_memory(self, column: str) -> bool:
        return self._table.unchanged or self.cells["status"] == MEMORY or column in self.cells["memory_cells"].split()

    @property
    def role(self) -> str:
        """The role that its table plays."""
        return self._table.role

    def known(self, column: str) -> str:
        """How the cell of `column` is known."""
        return MEMORY if self.from_memory(column) else self.cells["status"]

    def figure(self, column: str) -> float:
        """The number of a cell that must have one."""
        if (value := self.number(column)) is None:
            raise RuleSetError(f"{self._table.path} line {self.line}: {column} is blank; fill the cell.")
        return value

    def cited(self, value: T, column: str, unit: str = "") -> Cited[T]:
        """`value`, taken or worked out from the cell of `column`, with its citation."""
        return Cited(value, self._table.citation, self.known(column), unit)


class CodeTable:
    """A table as read and judged: its rows in the document's order.

    over       the table of another edition over which these rows stand, each in the place of its namesake
    unchanged  taken over from another document as unchanged, which nobody here read: its cells are known from memory
    """

    def __init__(
        self, role: str, path: Path, citation: str, shape: TableShape | None = None, *,
        over: CodeTable | None = None, unchanged: bool = False,
    ) -> None:
        self.role = role
        self.path = path
        self.citation = citation
        self.unchanged = unchanged
        self.shape = shape
        self.rows: tuple[CodeRow, ...] = tuple(self._read())
        if over is not None and self.shape is not None:
            self.rows = tuple(self._laid_over(over, self.shape.columns[: self.shape.named_by]))
        if not self.rows:
            raise RuleSetError(f"{path}: the table is empty; restore the file.")
        if self.shape is not None:
            self._judge(self.shape)

    def __iter__(self) -> Iterator[CodeRow]:
        return iter(self.rows)

    def _read(self) -> Iterator[CodeRow]:
        try:
            with self.path.open(newline="", encoding="utf-8") as file:
                lines = csv.reader(file)
                self.columns = tuple(next(lines, ()))
                wanted = (*(self.shape.columns if self.shape else ()), *SOURCE_COLUMNS)
                if missing := [name for name in wanted if name not in self.columns]:
                    raise RuleSetError(f"{self.path} line 1: no column {', '.join(missing)}; restore the heading.")
                for cells in lines:
                    if len(cells) != len(self.columns):
                        raise RuleSetError(
                            f"{self.path} line {lines.line_num}: {len(cells)} cells under {len(self.columns)} headings; correct the row."
                        )
                    row = CodeRow(self, lines.line_num, dict(zip(self.columns, cells, strict=True)))
                    if row["status"] not in (READ, QUOTED, MEMORY, COMPUTED, PRACTICE) or not row["source"]:
                        raise RuleSetError(
                            f"{self.path} line {row.line}: status must be {READ} or {QUOTED}, {MEMORY}, {COMPUTED} or {PRACTICE}, "
                            f"and a source given; got {row['status']!r}."
                        )
                    yield row
        except (OSError, UnicodeDecodeError, csv.Error) as fault:
            raise RuleSetError(f"{self.path}: cannot be read ({fault}); restore the file.") from fault

    def _laid_over(self, base: CodeTable, names: tuple[str, ...]) -> Iterator[CodeRow]:
        """The base's rows with these in the places of their namesakes."""
        own = {tuple(row[name] for name in names): row for row in self.rows}
        for row in base.rows:
            key = tuple(row[name] for name in names)
            yield own.pop(key) if key in own else CodeRow(self, row.line, row.cells)
        for left in own.values():
            words = ", ".join(f"{name} {left[name]}" for name in names)
            raise RuleSetError(f"{self.path} line {left.line}: no row {words} in {base.path.name}, in whose place it stands; correct it.")

    def _judge(self, shape: TableShape) -> None:
        for column in shape.numeric:
            rises = column in shape.rising
            last: float | None = None
            run = ""
            for row in self.rows:
                value = row.number(column)
                if rises and shape.within and row[shape.within] != run:
                    run, last = row[shape.within], None
                if value is None:
                    continue
                if value != value or value in (float("inf"), float("-inf")):
                    raise RuleSetError(f"{self.path} line {row.line}: {column} is not a finite number; correct the cell.")
                if rises and last is not None and value <= last:
                    raise RuleSetError(f"{self.path} line {row.line}: {column} {value:g} does not rise above {last:g}; correct the row.")
                last = value


class RuleData:
    """The raw contents of one rule set's folder. Tables are read when first asked for."""

    def __init__(self, folder: Path, contents: dict[str, Any], base: RuleData | None = None) -> None:
        self.folder = folder
        self.base = base  # what it extends
        self.contents = contents
        self._tables: dict[str, CodeTable] = {}
        self._factors = self._named("factors")
        self._lists = self._named("lists")

    def section(self, name: str) -> dict[str, Any]:
        found = self.contents.get(name)
        if not isinstance(found, dict):
            raise RuleSetError(f"{self.folder / 'ruleset.toml'}: no section [{name}]; restore the file.")
        return found

    @cached_property
    def conventions(self) -> Conventions:
        """How the code tabulates conductors."""
        stated, where = self.section("conductors"), f"{self.folder / 'ruleset.toml'}: [conductors]"
        for name, choices in CHOICES.items():
            if stated.get(name) not in choices:
                raise RuleSetError(f"{where} {name} is {stated.get(name)!r}; use {' or '.join(choices)}.")
        columns = stated.get("columns_c")
        if not isinstance(columns, list) or not columns or not all(type(one) is int for one in columns):
            raise RuleSetError(f"{where} columns_c is {columns!r}; list whole degrees, as [60, 75, 90].")
        raceways = tuple(dict.fromkeys(self.section("impedance_columns").values()))
        return Conventions(tuple(columns), raceways, *(stated[name] for name in CHOICES))

    def has(self, role: str) -> bool:
        """Whether the code has a table that plays `role`: not every code tabulates torques or the inside of raceways."""
        return role in self.section("tables")

    def table(self, role: str) -> CodeTable:
        """The table that plays `role` ("ampacity"); RuleSetError where the rule set has none or it is broken."""
        if (table := self._tables.get(role)) is None:
            entry = self.section("tables").get(role)
            if not isinstance(entry, list) or len(entry) not in (2, 3):
                raise RuleSetError(f"{self.folder / 'ruleset.toml'}: [tables] has no entry {role} = [file, citation].")
            over = self.base.table(role) if self.base is not None and ROWS in entry[2:] else None
            shape = SHAPES[role].written_out(self.conventions) if role in SHAPES else None
            place = self.folder / entry[0]
            table = self._tables[role] = CodeTable(role, place, entry[1], shape, over=over, unchanged=UNCHANGED in entry[2:])
        return table

    def _named(self, section: str, basis: str = "basis") -> dict[str, Cited[Any]]:
        """Entries of a section of ruleset.toml; where `basis` names another field, its words lead the citation."""
        found = {}
        for name, entry in self.section(section).items():
            where = f"{self.folder / 'ruleset.toml'}: [{section}.{name}]"
            if not isinstance(entry, dict) or not {"value", "basis", "status", basis} <= entry.keys():
                raise RuleSetError(f"{where} needs value, {basis}, basis and status; complete it.")
            if entry["status"] not in (READ, QUOTED, MEMORY, PRACTICE):
                raise RuleSetError(f"{where} has an unknown status {entry['status']!r}; use {READ}, {QUOTED}, {MEMORY} or {PRACTICE}.")
            value = tuple(entry["value"]) if isinstance(entry["value"], list) else entry["value"]
            words = entry["basis"] if basis == "basis" else f"{entry[basis]} ({entry['basis']})"
            found[name] = Cited(value, words, entry["status"], entry.get("unit", ""))
        return found

    def entry(self, found: dict[str, Cited[Any]], section: str, name: str) -> Cited[Any]:
        try:
            return found[name]
        except KeyError:
            raise RuleSetError(f"{self.folder / 'ruleset.toml'}: no [{section}.{name}]; the rule set is incomplete.") from None

    def factor(self, name: str) -> Cited[float]:
        """A named figure of the code: factor("continuous") is 1.25 by 210.20(A)."""
        return self._factors.get(name) or self.entry(self._factors, "factors", name)

    def named_size(self, name: str) -> Cited[str]:
        """A named size of the code, of a conductor or raceway: named_size("parallel_from") is 1/0 by 310.10(G)."""
        return self.entry(self._factors, "factors", name)

    def named_list(self, name: str) -> Cited[tuple[float, ...]]:
        """A named list of figures, as a tuple."""
        return self.entry(self._lists, "lists", name)
