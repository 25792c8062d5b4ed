"""The whole plant again in 400 V country: the same tanks and heaters on IEC supplies, sized by IEC 60364."""

from __future__ import annotations

from tests.samples import plant

TITLE = "Whole plant in 400 V country: three halls"
STORY = (
    "The imaginary Nowhere Falls Plating Works has a sister in a country of 400/230 V: the same halls, tanks and kilowatts, bid under "
    "IEC 60364.",
    "Heaters of 480, 600 and 208 V are 400 V ones there, those of 277 and 240 V are 230 V ones; gG fuses, in HALL-2 circuit-breakers.",
)
VOLTS: dict[object, object] = {480: 400, "480Y/277": 400, 277: 230, 600: 400, 208: 400, 240: 230, 230: 440}


def tables() -> dict[str, list[dict[str, object]]]:
    """The whole plant's tables with volts, code basis and currency of the other country."""
    made = plant.tables()
    for name in ("sources", "feeders", "heaters"):
        made[name] = [row | {"volts_v": VOLTS[row["volts_v"]]} if "volts_v" in row else row for row in made.get(name, [])]
    made["projects"] = [
        {key: value for key, value in row.items() if key != "terminal_c"} | {"code_basis": "IEC 60364", "currency": "EUR"}
        for row in made["projects"]
    ]
    return made
