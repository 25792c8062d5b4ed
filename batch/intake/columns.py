"""What is known of single columns beyond their specification: which ones nothing is sized with, and what is unlikely in them."""

from __future__ import annotations

import re
from collections.abc import Mapping

from batch.findings import Remark, remark
from batch.intake.grid import worded
from batch.sheets import Column, Sheet
from batch.units import Unit, find_unit

# Columns with which nothing is sized: a cell that cannot be read there is left blank, with a caution.
SET_ASIDE: dict[str, frozenset[str]] = {
    "projects": frozenset({"title", "customer", "site", "revision", "prepared_by", "date", "currency", "energy_price", "validity",
                           "delivery", "terms", "warranty", "signature", "note_to_customer", "notes"}),
    "sources": frozenset({"notes"}),
    "feeders": frozenset({"notes"}),
    "tanks": frozenset({"duty", "work_material", "notes"}),
    "heaters": frozenset({"sheath", "heated_length_mm", "diameter_mm", "over_temperature_limit", "notes"}),
    "stock": frozenset({"description", "unit_price", "currency", "price_date", "lot_quantity", "labour_h", "field_h"}),
    # A rate that cannot be read is open, as a blank is, and never refuses the rates beside it.
    "pricing": frozenset({
        "rates", "rates_date", "good_for_days", "shop_rate", "field_rate", "end_m", "device_run_m", "wire_waste_pct", "raceway_waste_pct",
        "purchase_tax_pct", "freight_pct", "freight_amount", "contingency_pct", "overhead_pct", "markup_pct", "profit_pct", "sales_tax_pct",
    }),
    "scope": frozenset(),
    "allowances": frozenset({"shop_h", "field_h"}),
    "other_costs": frozenset({"unit", "amount", "shop_h", "field_h"}),
    "typed_prices": frozenset({"currency", "price_date", "hours", "supplied_by", "unit_price"}),
}
# Sheets on which any other cell that need not be filled is set aside too: the row is sized as if it were blank, and a caution says
# what that means. A setting of a project, a source or a feeder holds for many rows, so that there a broken cell refuses its row.
ROWS_SURVIVE = frozenset({"tanks", "heaters"})
# Settings of a project that are set aside all the same: their default is on the safe side of whatever the cell may have meant, or
# nothing that can hurt follows from it (what is judged or bought, never what protects). Not among them, so that a broken cell still
# holds its project: margin, ambient, terminals, wires on a terminal, conductor, insulation, raceway and way, type of device,
# residual current, ground-fault trip, back-up contactor, control volts and where those come from.
SAFE_DEFAULTS = frozenset({
    "heat_margin_pct", "branch_drop_pct", "total_drop_pct", "on_drop", "smallest_device_a", "branches_per_panel", "distribution",
    "controller_by", "limit_reset", "box_location", "box_material", "block_jumpers", "boxes",
    "line_colours", "power_colour", "control_colour", "grounded_colour", "ground_colour", "foreign_colour",
})  # fmt: skip
_BLANK = re.compile(r"\b[Bb]lank: ([^.;]+)")


def defaulted(sheet: Sheet) -> frozenset[str]:
    """The columns of a sheet in which a broken cell counts as blank, although something is sized with them."""
    if sheet.id == "projects":
        return SAFE_DEFAULTS
    if sheet.id not in ROWS_SURVIVE:
        return frozenset()
    return frozenset(column.key for column in sheet.columns if not column.required and column.key != "project") - SET_ASIDE[sheet.id]


def blank_means(column: Column) -> str:
    """What a blank cell of the column stands for, in words."""
    told = _BLANK.search(column.help)
    return column.default or (told[1] if told else "not known")


def taken_as_blank(sheet: Sheet, key: str, fault: str) -> Remark:
    """What is said of a broken cell that counts as blank: of a row, or of a setting of a project."""
    code = "setting-taken-as-blank" if sheet.id == "projects" else "cell-taken-as-blank"
    return remark(code, key, fault=fault, blank=blank_means(sheet[key]))


# A bath heated to less, given in °F, may be a figure in °C under the wrong heading: common practice, no source
FREEZING_C, COLD_BATH_C = 0.0, 27.0
LEAST_POWER_KW = 0.1  # below it an immersion heater for a process tank is a slip of the unit; common practice, no source


def cold_bath(sheet: Sheet, values: Mapping[str, object], cell: object, unit: Unit | None) -> Remark | None:
    """What to ask of a bath of 65 °F, which is hardly heated, where one of 65 °C is; None where the row says that it is that cold.

    unit  of bare numbers in the column
    """
    operating = values.get("operating_c")
    if sheet.id != "tanks" or not isinstance(operating, float) or not FREEZING_C < operating < COLD_BATH_C:
        return None
    typed = worded(cell).strip()
    said = find_unit(typed.lstrip("0123456789.,- "), "temperature") if isinstance(cell, str) else None
    unit = said or unit
    colder = any(isinstance(value := values.get(key), float) and value < operating for key in ("start_c", "room_c"))
    if unit is None or unit.factor == 1.0 or colder:
        return None
    figure = typed.rstrip("°ºFfdeg ")
    return remark("bath-unlikely", "operating_c", value=f"{figure} °F", celsius=f"{operating:.0f} °C", other=f"{figure} °C")
