"""The whole plant again in 400 V country: the same tanks and heaters on IEC supplies, in metric units, sized by IEC 60364."""

from __future__ import annotations

from batch.sheets import INPUTS
from batch.units import spelled
from tests.samples import plant

TITLE = "Whole plant in 400 V country: three halls"
STORY = (
    "The imaginary Nowhere Falls Plating Works has a sister in a country of 400/230 V: the same halls, tanks and kilowatts, bid under "
    "IEC 60364, in metric units.",
    "Heaters of 480, 600 and 208 V are 400 V ones there, those of 277 and 240 V are 230 V ones; gG fuses, in HALL-2 circuit-breakers.",
    "Supplies are TN-S, those of delta units IT; every length is given, so that earth faults are judged.",
)
VOLTS: dict[object, object] = {480: 400, "480Y/277": 400, 277: 230, 600: 400, 208: 400, 240: 230, 230: 440}
STEPS = {"m": 0.05, "mm": 1.0, "L": 10.0, "°C": 1.0, "kg/h": 5.0, "L/h": 5.0, "m/s": 0.05}  # what a metric list is rounded to
RUNS = ("run_m", "heater_run_m", "panel_feeder_run_m", "tap_m", "secondary_run_m")  # in whole metres
OF_THE_UNIT = {"primary_v", "primary_ka", "primary_device_a", "secondary_run_m", "secondary_wire", "of_this_job"}  # are by others there
US_UNITS = {sheet.id: {column.key: column for column in sheet.columns if column.us_unit} for sheet in INPUTS}


def metric(sheet: str, row: dict[str, object]) -> dict[str, object]:
    """A row in US units as the same list would stand in metric ones."""
    made = dict(row)
    for key, column in US_UNITS.get(sheet, {}).items():
        value = row.get(key)
        if isinstance(value, (int, float)):
            us, si = spelled(column.us_unit), spelled(column.unit)
            exact = (value - us.zero) * us.factor / si.factor + si.zero
            step = 1.0 if key in RUNS else STEPS.get(column.unit, 0.1)
            made[key] = round(max(step, round(exact / step) * step) if exact > 0 else round(exact), 3)
    return made


def earthing_of(row: dict[str, object]) -> str | None:
    """Of a source, or of a feeder that names none."""
    return None if row.get("feeder") and row.get("source") else "IT" if row.get("system") == "delta" else "TN-S"


def in_iec_country(made: dict[str, list[dict[str, object]]]) -> dict[str, list[dict[str, object]]]:
    """A job's tables with volts, units, code basis and currency of the other country."""
    made = {sheet: [metric(sheet, row) for row in rows] for sheet, rows in made.items()}
    for name in ("sources", "feeders", "heaters"):
        made[name] = [row | {"volts_v": VOLTS[row["volts_v"]]} if "volts_v" in row else row for row in made.get(name, [])]
    for row in made["heaters"]:  # what is marked on the odd ones out is another voltage too
        if "notes" in row:
            row["notes"] = str(row["notes"]).replace("marked 230 V", f"marked {VOLTS[230]} V")
    made["sources"] = [
        {key: value for key, value in row.items() if row.get("of_this_job") is None or key not in OF_THE_UNIT} for row in made["sources"]
    ]
    made["feeders"] = [{key: value for key, value in row.items() if key != "device_at"} for row in made["feeders"]]
    for name in ("sources", "feeders"):
        made[name] = [row | {"earthing": earthing_of(row)} for row in made.get(name, [])]
    made["feeders"] = [row | {"frequency_hz": 50} for row in made["feeders"]]
    made["projects"] = [
        {key: value for key, value in row.items() if key != "terminal_c"} | {"code_basis": "IEC 60364", "currency": "EUR"}
        for row in made["projects"]
    ]
    return made


def tables() -> dict[str, list[dict[str, object]]]:
    """The whole plant's tables in the other country, and the lengths that it leaves out."""
    made = in_iec_country(plant.tables())
    made["tanks"] = [row | {"distribution_run_m": 10 + 5 * (at % 4)} for at, row in enumerate(made["tanks"])]
    return made
