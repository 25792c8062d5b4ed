"""The figures of a rule set as rows of the Code basis sheet, one a value."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, NamedTuple

from batch.rules.conductors import PREFIX
from batch.rules.tables import MEMORY, QUOTED, CodeRow, in_the_code

if TYPE_CHECKING:
    from batch.rules.ruleset import RuleSet


class CodeValue(NamedTuple):
    """One value of a rule set, for Code basis."""

    rule_set: str
    name: str
    what: str
    value: float | str
    unit: str
    source: str
    status: str
    strict: str = ""  # "up" or "down": where its strict side lies; "" = not known, or it has none

    @property
    def from_memory(self) -> bool:
        return self.status == MEMORY

    @property
    def quoted(self) -> bool:
        return self.status == QUOTED


# role -> (name, what, columns with their unit): one value for each column of each row; {…} are the row's own cells
_CELLS: dict[str, tuple[str, str, dict[str, str]]] = {
    "small_conductors": ("small_conductor_{material}_{size}", "Maximum device ahead of {size} AWG {material}", {"device_a": "A"}),
    "conductor_properties": ("cmil_{build}_{size}", "Area of {size}, {build}", {"area_cmil": "cmil"}),
    "conductor_areas": ("wire_area_{insulation}_{size}", "Area of one insulated conductor {size} {insulation}", {"area_in2": "in²"}),
    "raceways": ("raceway_area_{raceway}_{trade_size}", "Inside area of {trade_size} {raceway}", {"area_in2": "in²"}),
    "contactors": (
        "contactor_{size}", "Rating of contactor size {size}",
        {"continuous_a": "A", "heating_volts_v": "V", "heating_kw_1ph": "kW", "heating_kw_3ph": "kW"},
    ),
    "transformers": ("transformer_{phases}ph_{kva}", "Preferred transformer rating, {phases}-phase", {"kva": "kVA"}),
    "sccr": ("sccr_{part}", "Short-circuit rating of an unmarked part: {component}", {"sccr_ka": "kA"}),
    "torque": (
        "torque_{size_from}_to_{size_to}",
        "Torque for wires {size_from} to {size_to}",
        {"slot_wide_lbf_in": "lbf·in", "hex_other_lbf_in": "lbf·in"},
    ),
    "torque_threads": (
        "torque_{thread}", "Torque of a terminal of thread {thread} that bears no marking",
        {"headless_nm": "N·m", "screwdriver_nm": "N·m", "other_means_nm": "N·m"},
    ),
    "fuse_classes": (
        "fuse_class_{class}", "Class {class} fuse, as chosen here", {"chosen_to_a": "A", "volts_v": "V", "interrupting_ka": "kA"},
    ),
    "breaker_frames": ("breaker_frame_{frame_a}", "Common breaker frame", {"frame_a": "A"}),
    "ampacity_by_method": (
        "iz_{method}_{column_c}_{loaded}_{size}", "Ampacity of {size}, method {method}, {column_c} °C, {loaded} loaded",
        {"cu_a": "A", "al_a": "A"},
    ),
    "methods": ("method_{method}", "Installation method {method}", {"words": ""}),
    "adjustment_layer": (
        "layer_{methods}_{conductors_from}", "Grouping factor of a single layer, {methods}, from {conductors_from} circuits",
        {"percent": "%"},
    ),
    "adjustment_ground": (
        "ground_group_{methods}_{conductors_from}", "Grouping factor in the ground, {methods}, from {conductors_from} circuits",
        {"percent": "%"},
    ),
    "ambient_ground": (
        "ground_ambient_{ambient_to_c}", "Factor for ground up to {ambient_to_c} °C", {"factor_70c": "", "factor_90c": ""},
    ),
    "disconnection": (
        "disconnect_{earthing}_{u0_to_v}", "Disconnection time of final circuits, {earthing}, up to {u0_to_v} V to earth", {"final_s": "s"},
    ),
    "fuse_gates": ("gate_{rating_a}", "Fuse of {rating_a} A has opened at", {"trips_5s_a": "A", "trips_01s_a": "A"}),
    "breaker_bands": (
        "breaker_type_{type}", "Circuit-breaker of type {type} trips at once, multiple of its rating", {"lower": "", "upper": ""},
    ),
    "control_coils": ("coil_{part}", "Coil or load of a control circuit: {part}", {"sealed_va": "VA", "inrush_va": "VA"}),
    "part_space": (
        "space_{part}_{up_to}", "Space of a part in a box: {part} {up_to} {up_to_unit}",
        {"width_mm": "mm", "height_mm": "mm", "box_depth_mm": "mm", "watts": "W"},
    ),
    "enclosure_sizes": (
        "box_{height}x{width}x{depth}", "Box size, in {unit}", {"height": "", "width": "", "depth": ""},
    ),
}


def code_values(rules: RuleSet) -> tuple[CodeValue, ...]:
    """Every factor, default and table cell that sizing uses; rows seen in print whose cell is from memory are marked so."""
    return tuple(CodeValue(rules.name, *value) for value in _values(rules))


def _values(rules: RuleSet) -> Iterator[tuple]:
    yield from _settings(rules)
    yield from _ratings(rules)
    yield from _conductors(rules)
    for role, (name, what, columns) in _CELLS.items():
        if not rules.has(role):
            continue
        for row in rules.table(role):
            if role == "sccr" and not row["part"]:
                continue
            for column, unit in columns.items():
                if row.cells.get(column):
                    cells = {key: cell.replace(" ", "_") for key, cell in row.cells.items()}
                    ending = f"_{column}" if len(columns) > 1 else ""
                    said = " ".join(what.format_map(row.cells).split()) + (f" ({column.replace('_', ' ')})" if ending else "")
                    yield _cell(row, name.format_map(cells) + ending, said, column, unit)


# role of a table -> where the strict side of its figures lies
_STRICT = {
    "ampacity": "down", "ambient": "down", "adjustment": "down", "small_conductors": "down", "fill": "down", "ground": "up",
    "bonding_jumper": "up",
    "ampacity_by_method": "down", "ambient_ground": "down", "adjustment_layer": "down", "adjustment_ground": "down",
    "contactors": "down", "sccr": "down", "fuse_classes": "down", "impedance": "up",
}  # fmt: skip


def _cell(row: CodeRow, name: str, what: str, column: str, unit: str) -> tuple:
    try:
        value: float | str = float(row[column])
    except ValueError:
        value = row[column]  # a conductor size such as 1/0 stays text
    return name, what, value, unit, row["source"], row.known(column), _STRICT.get(row.role, "")


def _settings(rules: RuleSet) -> Iterator[tuple]:
    for name, entry in rules.section("factors").items():
        yield name, entry["what"], entry["value"], entry.get("unit", ""), _source(rules, entry), entry["status"], entry.get("strict", "")
    for name, entry in rules.section("lists").items():
        for place, value in enumerate(entry["value"], 1):
            yield f"{name}_{place:03d}", entry["what"], value, entry.get("unit", ""), _source(rules, entry), entry["status"]
    for name, entry in rules.contents.get("clause_notes", {}).items():
        clause = rules.clause(name)
        yield f"clause_{name}", entry["what"], clause, "", f"{rules.document}, {clause}", entry["status"]
    for name, entry in rules.section("defaults").items():
        value = entry["value"] if entry["value"] != "" else "by rule"
        yield f"default_{name}", f"Setting left blank. {entry['why']}", value, entry.get("unit", ""), _source(rules, entry), entry["status"]


def _source(rules: RuleSet, entry: dict) -> str:
    """A citation that starts with a clause number or a chapter stands in the code itself; any other names its own document."""
    basis = entry["basis"]
    return f"{rules.document}, {basis}" if in_the_code(basis) else basis


def _ratings(rules: RuleSet) -> Iterator[tuple]:
    chosen = [row for row in rules.table("ratings") if row["chosen"] == "yes"]
    for place, row in enumerate(chosen, 1):
        who = "fuses and breakers" if row["breaker"] == "yes" else "fuses only"
        yield _cell(row, f"rating_{place:03d}", f"Standard rating, {who}", "rating_a", "A")


def _conductors(rules: RuleSet) -> Iterator[tuple]:
    yield from _ampacities(rules)
    for row in rules.table("ground") if rules.has("ground") else ():
        for material, prefix in PREFIX.items():
            what = f"Grounding conductor up to a {row['device_a']} A device, {material}"
            yield _cell(row, f"ground_{material}_{row['device_a']}", what, f"{prefix}_size", "AWG or kcmil")
    for row in rules.table("bonding_jumper") if rules.has("bonding_jumper") else ():
        for material, prefix in PREFIX.items():
            what = f"Supply-side bonding jumper with lines up to {row[f'{prefix}_lines_cmil']} circular mils, {material}"
            yield _cell(row, f"bonding_jumper_{material}_{row[f'{prefix}_lines_cmil']}", what, f"{prefix}_size", "AWG or kcmil")
    for row in rules.table("protective") if rules.has("protective") else ():
        what = f"Protective conductor of lines of {row['size']}"
        yield _cell(row, f"protective_{row['size']}".replace(" ", "_"), what, "cu_size", "")
    for row in rules.table("fill") if rules.has("fill") else ():
        if row["nipple"] == "no":
            upto = row["conductors_to"] or "up"
            what = f"Maximum fill, {row['conductors_from']} to {upto} conductors"
            yield _cell(row, f"fill_{row['conductors_from']}_to_{upto}", what, "fill_pct", "%")
    length = rules.conventions.length
    for row in rules.table("impedance"):
        for column in rules.table("impedance").columns:
            head = column.removesuffix(f"_ohm_per_{length}")
            kind, _, conduit = head.partition("_")
            if row[column] and conduit in rules.conventions.raceways:
                said = "Reactance" if kind == "x" else "Resistance, copper," if kind == "cu" else "Resistance, aluminum,"
                what = f"{said} of one conductor {row['size']} in {conduit} conduit"
                yield _cell(row, f"{head}_{row['size']}", what, column, f"ohm/{length}")


def _ampacities(rules: RuleSet) -> Iterator[tuple]:
    for row in rules.table("ampacity"):
        for material, prefix in PREFIX.items():
            for column_c in rules.conventions.columns_c:
                if row[column := f"{prefix}_{column_c}c_a"]:
                    what = f"Ampacity of {row['size']} {material}, {column_c} °C column"
                    yield _cell(row, f"ampacity_{material}_{column_c}c_{row['size']}", what, column, "A")
    for row in rules.table("ambient"):
        for column_c in rules.conventions.columns_c:
            if row[column := f"factor_{column_c}c"]:
                what = f"Ambient correction up to {row['ambient_to_c']} °C, {column_c} °C column"
                yield _cell(row, f"ambient_{column_c}c_to_{row['ambient_to_c']}", what, column, "")
    for row in rules.table("adjustment"):
        upto = row["conductors_to"] or "up"
        what = f"Adjustment for {row['conductors_from']} to {upto} conductors"
        yield _cell(row, f"adjustment_{row['conductors_from']}_to_{upto}", what, "percent", "%")
