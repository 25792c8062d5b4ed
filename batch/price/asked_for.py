"""What a question asks for: of the columns that its answer may fill those that say nothing yet, in a customer's words."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from batch.counted_words import few
from batch.price.question_places import Place

IN_WORDS: Mapping[str, str] = {
    "heaters.sheath": "the sheath material", "heaters.heated_length_mm": "the heated length",
    "heaters.heater_run_m": "the distance from the panels to the heaters",
    "heaters.panel_feeder_run_m": "the distance from the control panel to the heater panels",
    "sources.primary_v": "the volts at its primary", "sources.primary_device_a": "the rating of the device that protects it",
    "sources.secondary_run_m": "the distance from it to the first device behind it",
    "tanks.length_m": "the inside length", "tanks.width_m": "the inside width", "tanks.depth_m": "the depth of the liquid",
    "tanks.operating_c": "the working temperature", "tanks.start_c": "the temperature from which it is heated",
    "tanks.heatup_h": "the time in which it is to heat up",
}  # fmt: skip
GROUPS = 4  # of places that lack different things, before the rest is left to the cells beside the question


def asked_for(takes: str, places: Sequence[Place]) -> str:
    """ "the inside width and the depth of the liquid"; where places lack different things "of T-1 the inside width; of T-2 the depth …".

    Of places that say all of it already, of which something else is in doubt, the first column is asked about.
    """
    columns = [one for one in takes.split(";") if one in IN_WORDS]
    lacking: dict[tuple[str, ...], list[str]] = {}
    for place in places:
        own = tuple(one for one in columns if one.partition(".")[0] == place.table and one.partition(".")[2] in place.blank)
        lacking.setdefault(own or tuple(columns[:1]), []).append(place.shown)
    every = [one for one in columns if any(one in some for some in lacking)] or columns
    if len(lacking) < 2 or len(lacking) > GROUPS:
        return _listed([IN_WORDS[one] for one in every])
    of_each = ((few(list(dict.fromkeys(shown))), _listed([IN_WORDS[one] for one in some])) for some, shown in lacking.items())
    return "; ".join(f"of {names} {words}" for names, words in of_each)


def _listed(words: Sequence[str]) -> str:
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"
