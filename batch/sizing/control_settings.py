"""The settings of a tank's control circuit as used: the tank's own, else the project's, else the rule set's default."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from batch.control_results import ControlSettings
from batch.records import Bank, Project, Tank
from batch.rules import RuleSet
from batch.sizing.wire_colours import colours_asked
from batch.used_settings import BoxPlace, Setting

CONTROL_WORDS = {
    "control_v": ("Control volts", "V"),
    "control_transformer": ("Control transformer", ""),
    "controller_by": ("Temperature controller", ""),
    "limit_reset": ("Limit reset", ""),
    "ground_fault_trip_ma": ("Ground-fault trip", "mA"),
    "backup_contactor": ("Back-up contactor", ""),
    "box_location": ("Box location", ""),
    "box_material": ("Box material", ""),
    "block_jumpers": ("Block jumpers", ""),
    "boxes": ("Boxes", ""),
    "line_colours": ("Line colours", ""),
}
COLOUR_WORDS = {  # of the project alone: a plant has one standard
    "power_colour": ("Power wire colour", ""),
    "control_colour": ("Control wire colour", ""),
    "grounded_colour": ("Grounded wire colour", ""),
    "ground_colour": ("Grounding wire colour", ""),
    "foreign_colour": ("Colour of what stays live", ""),
}
CORROSIVE, PLASTIC, STEEL = "corrosive", "non-metallic", "steel"
UNSET = {  # what a default without a value means, in words
    "ground_fault_trip_ma": "no relay",
    "control_transformer": "none where line and neutral give the control volts, else in the panel",
    "box_material": "non-metallic where corrosive, else steel",
    "boxes": "one where no contactor is away from its panel, else two",
    "line_colours": "by the volts, as the trade has them",
}


def control_settings(project: Project, tank: Tank | None, banks: Iterable[Bank], rules: RuleSet) -> ControlSettings:
    """Settings of one tank. Boxes not stated: one where no contactor is away from its panel, a length left blank being unknown."""
    values: dict[str, Any] = {}
    given = []
    for name in CONTROL_WORDS:
        own = getattr(tank, name) if tank is not None else None
        stated = getattr(project, name) if own is None else own
        values[name] = rules.default(name).value if stated is None else stated
        if stated is not None:
            given.append(name)
    near = all(bank.panel_feeder_run_m == 0.0 for bank in banks)
    return ControlSettings(
        control_v=float(values["control_v"]),
        transformer=values["control_transformer"] or "",
        controller=values["controller_by"],
        reset=values["limit_reset"],
        ground_fault_trip_ma=values["ground_fault_trip_ma"] or None,
        backup=values["backup_contactor"] == "yes",
        location=values["box_location"],
        material=values["box_material"] or (PLASTIC if values["box_location"] == CORROSIVE else STEEL),
        jumpers=values["block_jumpers"],
        boxes=values["boxes"] or ("one" if near else "two"),
        wire_colours=colours_asked(project, rules.marking),
        line_colours=tuple(values["line_colours"].split()) if values["line_colours"] else (),
        given=tuple(given),
    )


def box_place(settings: ControlSettings) -> BoxPlace:
    """What the heater panels of a tank with these settings stand in."""
    return BoxPlace(settings.location, settings.material, settings.boxes == "one", settings.jumpers == "tap")


def box_places(project: Project, tanks: Mapping[str, Tank], banks: Iterable[Bank], rules: RuleSet) -> dict[str, BoxPlace]:
    """The same by tank (folded tag), from all its banks that were read."""
    by_tank: dict[str, list[Bank]] = {}
    for bank in banks:
        by_tank.setdefault(bank.tank.casefold(), []).append(bank)
    return {tag: box_place(control_settings(project, tanks.get(tag), some, rules)) for tag, some in by_tank.items()}


def control_listing(project: Project, rules: RuleSet) -> tuple[Setting, ...]:
    """The project's settings of control circuits and boxes, as used where a tank says nothing of its own."""
    return tuple(
        Setting(
            words,
            _shown(name, getattr(project, name), rules),
            getattr(project, name) is not None,
            rules.default(name).citation if getattr(project, name) is None else "given",
        )
        for name, (words, _) in (CONTROL_WORDS | COLOUR_WORDS).items()
    )


def _shown(name: str, stated: Any, rules: RuleSet) -> str:
    value = rules.default(name).value if stated is None else stated
    if value in (None, ""):
        return UNSET[name]
    return f"{value:g} {CONTROL_WORDS[name][1]}" if isinstance(value, (int, float)) else str(value)
