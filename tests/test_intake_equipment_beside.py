"""Remarks that name other equipment, spare parts or old heaters beside the heaters of their row, and those that say what the row is."""

from __future__ import annotations

from pathlib import Path

import pytest

from batch.intake.remark_words import read_row_words
from tests.test_intake_asked_elsewhere import tanks
from tests.test_lists import HEAD, listed

ROWS = [["T-1", 2, 12, 480, 3], ["T-2", 3, 9, 480, 3], ["T-4", 1, 6, 480, 3], ["T-5", 2, 6, 480, 3]]


def sized(folder: Path, remark: str, title: str = "") -> bool:
    """Is the row with the remark sized, and every other too?"""
    top = [[title]] if title else []
    job = listed(folder, *top, [*HEAD, "Remarks", "Action"], *([*row, remark if row[0] == "T-2" else "west wall", "new"] for row in ROWS))
    assert [one for one in tanks(job) if one != "T-2"] == ["T-1", "T-4", "T-5"]
    return "T-2" in tanks(job)


@pytest.mark.parametrize(
    "remark",
    [
        "hood fan interlock", "interlocked with agitation pump", "verriegelt mit Abluftventilator", "asservi au ventilateur",
        "coordinate with rectifier location", "abstimmen mit Gleichrichter", "replaces the old gas burner tubes", "was steam, now electric",
        "ersetzt alten Gasbrenner", "remplace le serpentin vapeur", "en lugar del serpentín de vapor", "sostituisce serpentina a vapore",
        "vervangt stoomspiraal", "substitui serpentina de vapor", "erstatter dampspiral", "ersätter ångslinga", "nahrazuje parní had",
        "location near EOT crane", "vor dem neuen Trockner", "under the bridge crane", "gegenüber Gleichrichter", "cerca del ventilador",
    ],
)  # fmt: skip
def test_equipment_beside_the_heaters_leaves_their_row_as_it_is(tmp_path: Path, remark: str) -> None:
    assert sized(tmp_path, remark)


@pytest.mark.parametrize(
    "remark",
    [
        "hood fan", "fan interlock, 1 kW", "pump interlocked with heaters", "gas burner replaces it", "replaced by steam coil",
        "will be replaced by steam", "ersetzt durch Dampfschlange", "remplacé par serpentin vapeur", "sustituido por vapor",
        "vervangen door stoom", "sustituye por vapor", "replaces gas burner, boiler", "replaces hood fan",
    ],
)  # fmt: skip
def test_equipment_in_place_of_the_heaters_is_asked_about(tmp_path: Path, remark: str) -> None:
    """A machine that is replaced may be replaced by a machine: only heat is."""
    assert not sized(tmp_path, remark)


def test_a_heater_for_a_dryer_is_none_before_it(tmp_path: Path) -> None:
    """ "For" says before in Danish and Norwegian only, where it has another sign."""
    assert not sized(tmp_path, "for dryer", "TANK HEATERS") and sized(tmp_path, "før tørreovn", "TANK HEATERS")


@pytest.mark.parametrize(
    ("remark", "fate"),
    [
        ("Spare 1 in. coupling in tank wall", ""), ("spare heater, 1 in. coupling", "doubt"),
        ("Future mezzanine above, keep 8 ft clear", ""), ("future mezzanine heater", "doubt"), ("future", "doubt"),
        ("spare parts list please", ""), ("send spare parts list", ""), ("liste de pièces de rechange svp", ""), ("spare parts", "doubt"),
        ("remove old heaters, install new", ""), ("demo existing, furnish new", ""), ("remove and replace", ""),
        ("Alte Heizkörper ausbauen, neue einbauen.", ""), ("demontera gamla värmare, montera nya", ""),
        ("demo existing, furnish new later", "doubt"), ("remove old heaters, new ones by others", "doubt"), ("remove heaters", "out"),
    ],
)  # fmt: skip
def test_what_is_spare_to_come_or_taken_out_beside_new_heaters(remark: str, fate: str) -> None:
    assert read_row_words(remark).fate == fate
