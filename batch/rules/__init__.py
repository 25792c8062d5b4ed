"""Rule sets: each edition of a code is a folder of data, and every value says where it stands."""

from batch.rules.devices import Contactor, DeviceClass
from batch.rules.raceways import Raceway
from batch.rules.ruleset import RuleSet, available, load, load_folder
from batch.rules.tables import AMPS_DIGITS, MEMORY, PRACTICE, READ, Cited, cite
from batch.rules.terminals import Torque

__all__ = [
    "AMPS_DIGITS", "MEMORY", "PRACTICE", "READ", "Cited", "Contactor", "DeviceClass", "Raceway", "RuleSet", "Torque",
    "available", "cite", "load", "load_folder",
]
