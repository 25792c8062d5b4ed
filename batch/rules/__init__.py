"""Rule sets: each edition of a code is a folder of data, and every value says where it stands."""

from batch.rules.at_hand import DEFAULT_EDITION, asked_in_use, available, code_asked, firm_rules, load, load_folder, own_names, own_template
from batch.rules.code_basis import CodeValue
from batch.rules.country import OUR_COUNTRY, OURS, Country, Wording, together
from batch.rules.devices import Contactor, DeviceClass
from batch.rules.differences import Difference, differences
from batch.rules.earthing import FAST_S, SLOW_S
from batch.rules.installations import BURIED, Installation
from batch.rules.raceways import Raceway
from batch.rules.ruleset import RuleSet
from batch.rules.tables import AMPS_DIGITS, MEMORY, PRACTICE, QUOTED, READ, Cited, cite
from batch.rules.torques import Torque

__all__ = [
    "AMPS_DIGITS", "BURIED", "DEFAULT_EDITION", "FAST_S", "MEMORY", "OURS", "OUR_COUNTRY", "PRACTICE", "QUOTED", "READ", "SLOW_S", "Cited",
    "CodeValue", "Contactor", "Country", "DeviceClass", "Difference", "Installation", "Raceway", "RuleSet", "Torque", "Wording",
    "asked_in_use", "available", "cite", "code_asked", "differences", "firm_rules", "load", "load_folder", "own_names", "own_template",
    "together",
]
