"""The columns of a customer's list beyond those of a job: what is looked for there because it decides how the others are meant."""

from __future__ import annotations

import re

from msgspec.structs import replace

from batch.sheets import HEATERS, Column, Sheet
from batch.sheets import TANKS as BATHS
from batch.units import spelled

TANKS = Column("tanks", "Tanks", kind="integer", format="count", low=1, high=200, help="How many tanks the row stands for.")
TOTAL_POWER = Column(
    "total_kw", "Total power", "kW", kind="number", format="kw", above=0, high=20000, help="Power of all heaters of the row."
)
AMPS = Column(
    "amps_a", "Amps", "A", kind="number", format="amps", above=0, high=20000, help="Amps that the list gives: a witness, not sized with."
)
DESCRIPTION = Column("description", "Description", help="Words that may hold number, power, volts and phases together.")
STATUS = Column("status", "Status", help="Words that may take a row out: deleted, by others, existing.")
POWER_UNIT = Column("power_unit", "Power unit", help="The unit of each row's power.")
EXTRA = (TANKS, TOTAL_POWER, AMPS, DESCRIPTION, STATUS, POWER_UNIT)

TANK_SIZE = Column(
    "tank_size", "Tank size", "m", "ft", kind="number", format="length", above=0, high=100,
    help="Length x width x depth in one cell.",
)  # fmt: skip
# What a heater list may say of the bath in each tank: read after all that the heaters need
OF_BATH = ("liquid", "length_m", "width_m", "depth_m", "volume_l", "tank_material", "operating_c", "start_c", "heatup_h")
BATH = (*(BATHS[key] for key in OF_BATH), TANK_SIZE)

# A list as it is read: every column of the heater list, none of them needed by heading alone, and what helps to read them.
LIST: Sheet = replace(HEATERS, columns=(*HEATERS.columns, *EXTRA, *BATH))
NEEDED = ("tank", "quantity", "power_kw", "volts_v", "phases")
USUAL_VOLTS = frozenset({110, 115, 120, 127, 200, 208, 220, 230, 240, 277, 347, 380, 400, 415, 440, 460, 480, 500, 525, 575, 600, 690})
OF_A_SYSTEM = {120.0: 115.0, 208.0: 200.0, 240.0: 230.0, 480.0: 460.0, 600.0: 575.0}  # of equipment: ANSI C84.1, from memory
# Ratings in which immersion heaters are commonly made, kW: common practice, no source
CATALOGUE_KW = frozenset(
    {0.5, 0.75, 1, 1.25, 1.5, 2, 2.25, 2.5, 3, 3.5, 4, 4.5, 5, 6, 7.5, 8, 9, 10, 12, 12.5, 13.5, 15, 18, 20, 21, 22.5, 24, 25, 27, 30, 36}
)
# Tags of heaters in a schedule of equipment: common practice, no source
HEATER_MARK = re.compile(r"(?:EH|IH|EIH|IEH|ELH|HTR|HE|HR)[-. ]?\d{1,4}[A-Z]?", re.IGNORECASE)
# Tags that say tank themselves
TANK_TAG = re.compile(r"(?:TK|TNK|TANK|TQ|CUVE|CUBA|VASCA|BAD|BECKEN|WANNE|KAR|VANA)[-. _#]?\d{1,4}[A-Z]?", re.IGNORECASE)
LEAST_VOLTS, MOST_VOLTS = 24.0, 1000.0  # of a heater in such a tank; beyond them the figure is asked about
MOST_POWER_KW = 200.0  # of one heater; above it, it is the tank's, or in another unit

# Mechanical horsepower is 550 ft·lbf/s and the BTU the international table one (NIST SP 811, Appendix B: cited from memory)
FOREIGN_POWER = {
    "hp": 0.74569987158227,
    "btu/h": 0.00029307107017,
    "btuh": 0.00029307107017,
    "btu/hr": 0.00029307107017,
    "ps": 0.73549875,
    "cv": 0.73549875,
}

QUANTITY_OF = {"power_kw": "power", "total_kw": "power", "volts_v": "volts", "amps_a": "current"}


def of_shown_unit(key: str, unit: str) -> float:
    """Could a number whose format shows this unit stand in column `key`? 1 in the columns of the unit, 0 in all others."""
    known = spelled(unit)
    return float(known is not None and known.quantity == QUANTITY_OF.get(key))
