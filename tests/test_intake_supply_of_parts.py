"""Volts of a thermostat, a coil or an outlet are none of the heaters': in a sentence, in a note that rows bear, on a cover."""

from __future__ import annotations

from pathlib import Path

import pytest

from batch.intake.beside_the_heaters import supplies_a_part
from batch.records import Job
from tests.test_lists import listed

HEAD = ["Tank", "Htrs", "kW ea", "Note"]
ROWS = [["A1", 4, 15, "1"], ["A3", 3, 15, "1"], ["A5", 1, 6, "2"]]


def supplies(job: Job) -> dict[str, tuple[object, object]]:
    return {str(bank.tank): (bank.volts_v, bank.phases) for bank in job.banks}


@pytest.mark.parametrize(
    "said",
    ["All thermostats 120 V, 1 phase", "Contactor coils 120 V, 1 phase", "120 V 1 ph receptacle beside each tank",
     "Alle Thermostate 230 V, 1-phasig", "Toutes les bobines 120 V, 1 phase", "Heater contactors 120 V, 1 phase"],
)  # fmt: skip
def test_the_only_volts_beside_a_list_may_be_a_parts(said: str, tmp_path: Path) -> None:
    assert not listed(tmp_path, HEAD[:3], *(row[:3] for row in ROWS), [None], [said]).banks


@pytest.mark.parametrize("said", ["Thermostat 120 V, 1 phase", "Contactor coil 120 V, 1 phase", "Magnetventil 230 V, 1-phasig"])
def test_a_note_on_a_part_is_no_supply_of_the_rows_that_bear_its_number(said: str, tmp_path: Path) -> None:
    job = listed(tmp_path, HEAD, *ROWS, [None], ["Notes"], ["1. 480 V, 3 phase"], [f"2. {said}"])
    assert supplies(job) == {"A1": (480, 3), "A3": (480, 3)}
    job = listed(tmp_path, HEAD[:3], *(row[:3] for row in ROWS), [None], ["A1 and A3: 480 V 3 phase"], [f"A5: {said}"])
    assert supplies(job) == {"A1": (480, 3), "A3": (480, 3)}


@pytest.mark.parametrize(
    "said", ["All heaters with thermostat, 480 V, 3 phase", "Main panel 480 V, 3 phase", "Heaters c/w low level cutoff - 480 V 3 phase"]
)
def test_heaters_with_a_part_and_the_plants_panel_have_the_volts_that_are_named(said: str, tmp_path: Path) -> None:
    assert not supplies_a_part(said)
    job = listed(tmp_path, HEAD[:3], *(row[:3] for row in ROWS), [None], [said])
    assert supplies(job) == dict.fromkeys(["A1", "A3", "A5"], (480, 3))
