"""The whole plant again in 400 V country: the same tanks and heaters on IEC supplies, in metric units, sized by IEC 60364."""

from __future__ import annotations

from msgspec.structs import replace

from batch.rules import load
from batch.sheets import INPUTS
from batch.units import spelled
from tests.samples import plant

TITLE = "Whole plant in 400 V country: three halls"
STORY = (
    "The imaginary Nowhere Falls Plating Works has a sister in a country of 400/230 V: the same halls, tanks and kilowatts, bid under "
    "IEC 60364, in metric units.",
    "Heaters of 480, 600 and 208 V are 400 V ones there, those of 277 and 240 V are 230 V ones; gG fuses, in HALL-2 circuit-breakers.",
    "Its transformers are that country's sizes, 4 % up to 630 kVA, 5 and 6 % above; small loads of 230 V hang between line and neutral.",
    "Feeders lie in one layer on perforated tray, in HALL-2 two beside each other, all else in conduit, there each in one of its own.",
    "Supplies are TN-S, those of delta units IT; every length is given.",
)
VOLTS: dict[object, object] = {480: 400, "480Y/277": 400, 277: 230, 600: 400, 208: 400, 240: 230, 230: 440}
STEPS = {"m": 0.05, "mm": 1.0, "L": 10.0, "°C": 1.0, "kg/h": 5.0, "L/h": 5.0, "m/s": 0.05}  # what a metric list is rounded to
RUNS = ("run_m", "heater_run_m", "panel_feeder_run_m", "tap_m", "secondary_run_m")  # in whole metres
KVA = (25, 50, 100, 160, 250, 315, 400, 500, 630, 800, 1000, 1250, 1600, 2000, 2500)  # R10 and usual ones between
IN_THE_COUNTRY = {"code_basis": "IEC 60364", "currency": "EUR", "grouping": "single layer"}
IN_WORDS = {"wye grounded": "star earthed"}
NAMED = {"TX-240": "TX-230", "TX-208A": "TX-400A", "TX-208B": "TX-400B"}
PRIMARY_V = {12470: 20000}
SAID = {  # notes of the other country's list in the words of this one
    "marked 230 V": f"marked {VOLTS[230]} V", "First phase B-C": "First lines L2-L3",
    "Three branches in one raceway": "Three circuits in one trunking",
    "240 V heaters from the store, to be used on 208 V": "230 V heaters from the store, to be used on 400 V",
    "each feeder has its OCPD beside it": "each feeder has its fuses beside it",
    "Utility has not answered": "Network operator has not answered",
    "No room for an OCPD at the transformer: the main of the panelboard": "No room at the transformer: main fuses in the board",
}  # fmt: skip
OF_THE_UNIT = {"primary_v", "primary_ka", "primary_device_a", "secondary_run_m", "secondary_wire", "of_this_job"}  # are by others there
US_UNITS = {sheet.id: {column.key: column for column in sheet.columns if column.us_unit} for sheet in INPUTS}

GROUPED, TOGETHER = "HALL-2", {"circuits_in_raceway": 2, "ways_in_raceway": 1}  # of one hall it is known what shares a tray or a conduit
ALONE = {"circuits_in_raceway": 1, "panel_feeders_in_raceway": 1}


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


def rated(kva: float) -> float:
    """The next rating of that country."""
    return next(one for one in KVA if one >= kva)


def impedance(kva: float) -> float:
    """Usual short-circuit impedance of distribution transformers, % (IEC 60076-5, Table 1, from memory)."""
    return 4 if kva <= 630 else 5 if kva <= 1250 else 6


def supply(row: dict[str, object], kva: str, z_pct: str) -> dict[str, object]:
    """A source, or a feeder that is its own, as that country builds it."""
    made = dict(row)
    if isinstance(unit := row.get(kva), (int, float)):
        made |= {kva: rated(unit), z_pct: impedance(rated(unit))}
    if made.get("system") == "1-phase line-to-line" and not made.get("source") and made.get("volts_v") == 230:
        made |= {"volts_v": 400, "phases": 3, "wires": 4, "system": "wye grounded"}  # spread over three lines and the neutral
    if made.get("primary_v") in PRIMARY_V:
        made["primary_v"] = PRIMARY_V[made["primary_v"]]
    if made.get("source") in NAMED:
        made["source"] = NAMED[made["source"]]
    return made


def spoken(row: dict[str, object]) -> dict[str, object]:
    """A row with its system in the words of that country."""
    return row | {"system": IN_WORDS.get(row["system"], row["system"])} if "system" in row else row


def said(row: dict[str, object]) -> dict[str, object]:
    """Its note in the words of that country, and the lines by their names there."""
    made = dict(row)
    for ours, theirs in SAID.items():
        if "notes" in made:
            made["notes"] = str(made["notes"]).replace(ours, theirs)
    if made.get("phase_pair") == "B-C":
        made["phase_pair"] = "L2-L3"
    return made


def earthing_of(row: dict[str, object]) -> str | None:
    """Of a source, or of a feeder that names none."""
    return None if row.get("feeder") and row.get("source") else "IT" if row.get("system") == "delta" else "TN-S"


def in_iec_country(made: dict[str, list[dict[str, object]]]) -> dict[str, list[dict[str, object]]]:
    """A job's tables with volts, units, code basis and currency of the other country."""
    made = {sheet: [metric(sheet, row) for row in rows] for sheet, rows in made.items()}
    for name in ("sources", "feeders", "heaters"):
        made[name] = [row | {"volts_v": VOLTS[row["volts_v"]]} if "volts_v" in row else row for row in made.get(name, [])]
    made["sources"] = [
        {key: value for key, value in row.items() if row.get("of_this_job") is None or key not in OF_THE_UNIT} for row in made["sources"]
    ]
    made["feeders"] = [{key: value for key, value in row.items() if key != "device_at"} for row in made["feeders"]]
    made["sources"] = [supply(row, "kva", "z_pct") for row in made["sources"]]
    made["feeders"] = [supply(row, "source_kva", "source_z_pct") for row in made["feeders"]]
    for name in ("sources", "feeders"):
        made[name] = [row | {"earthing": earthing_of(row)} for row in made.get(name, [])]
    made["feeders"] = [row | {"frequency_hz": 50, "installation": "E"} for row in made["feeders"]]  # multicore cables on perforated tray
    made = {sheet: [said(row) for row in rows] for sheet, rows in made.items()}
    made["projects"] = [
        {key: value for key, value in row.items() if key != "terminal_c"} | IN_THE_COUNTRY
        for row in made["projects"]
    ]
    return made


def headings(made: dict[str, list[dict[str, object]]]) -> dict[str, dict[str, str]]:
    """Headings of the columns that the tables have, in IEC words where those are others; "Phases" of a list is how many there are."""
    wording, found = load("IEC 60364").wording, {}
    for sheet in INPUTS:
        used = {key for row in made.get(sheet.id, ()) for key, value in row.items() if value not in (None, "")}
        found[sheet.id] = {
            one.key: replace(one, heading=theirs).title(False) + (" *" if one.required else "")
            for one in sheet.columns
            if one.key in used and one.heading != "Phases" and (theirs := wording.of(one.heading)) != one.heading
        }
    return found


def tables() -> dict[str, list[dict[str, object]]]:
    """The whole plant's tables in the other country, and the lengths that it leaves out."""
    made = in_iec_country(plant.tables())
    for name in ("sources", "feeders"):
        made[name] = [spoken(row) for row in made[name]]
    made["feeders"] = [row | (TOGETHER if row["project"] == GROUPED else {}) for row in made["feeders"]]
    made["heaters"] = [(ALONE if row["project"] == GROUPED else {}) | row for row in made["heaters"]]
    made["tanks"] = [row | {"distribution_run_m": 10 + 5 * (at % 4)} for at, row in enumerate(made["tanks"])]
    return made
