"""Kinds of finding on control circuits and boxes."""


from __future__ import annotations

from batch.findings.electrical import FIRE, OVERLOAD, PRACTICE, SHOCK, _caution, _note, _unsafe
from batch.findings.record import Kind

CONTROLS: tuple[Kind, ...] = (
    _caution("control-restarts", "Heaters restart by themselves",
             "{tank}: the limits are reset where they are and nothing seals in on the panel: when a limit closes again, or power comes back, the heaters start.",
             PRACTICE, "Have the reset on the panel, so that somebody looks first; else guard the tank against a start that nobody expects.", harm=FIRE),
    _caution("control-no-backup", "Plastic tank without a back-up contactor",
             "The tank is of {material}, and one contactor that welds while running leaves its heaters on: no limit drops them then.",
             PRACTICE, "Say yes under Back-up contactor: a contactor ahead of all others, dropped with the limit string.", harm=FIRE, by_project=True),
    _unsafe("control-primary-high", "Control transformer above 600 V",
            "{tank}: its control transformer would hang on {volts}; the transformers and fuses here end at 600 V.", "ratings of the trade, from memory",
            "Bring control power from elsewhere (Control transformer: by others), or have the maker choose transformer and fuses.", harm=SHOCK),
    _unsafe("control-coil-unknown", "Coil beyond the table", "{tank}: what the coils of {coils} take is not known, so its control power is not sized.",
            "coils of the trade, from memory: sizes 00 to 5", "Take the maker's sealed and inrush volt-amperes, or split the bank over smaller contactors.", harm=OVERLOAD),
    _unsafe("control-beyond", "Control circuit beyond the lists", "{tank}: {what}.", "{control_fuses}, {contact_ratings}",
            "Raise the control volts (120 V), or split the tank's banks over two control panels.", harm=OVERLOAD),
    _unsafe("control-incomplete", "Control panel incomplete",
            "{tank}: {count} heater {rows} not sized: its contactors and limits are not in the control panel.", PRACTICE,
            "Put the rows right and size again before the control panel is built.", harm=FIRE, holds_itself=True),
    _caution("box-not-fitting", "No box of the list takes it", "No box of the list takes {what} by a budget estimate: {cause}. {why}.",
             "common practice, no source", "Lay it out on a drawing: a larger or free-standing box, another material, cooling, or the bank split over more panels.",
             by_project=True, by_cause=True),
    _caution("box-material-corrodes", "Painted steel in a corrosive place",
             "{place}: a box of painted steel is asked for in a corrosive place: {type} is not had in it.", "{enclosure_types}",
             "Take a non-metallic box, or one of stainless steel that the fumes of the bath leave alone."),
    _caution("box-one-with-length", "One box, and a length between boxes",
             "{tank}: control and heater panels stand in one box, and yet a length from contactor to panel is given: wire and raceway of it are counted.",
             PRACTICE, "Give that length as 0, or have two boxes."),
    _note("control-transformer-chosen", "Control transformer for want of a neutral",
          "The system of {disconnect} has {volts} to the neutral, but {why}: control power is from a transformer.",
          PRACTICE, "Leave it so: the grounded side of control power lands on a grounded conductor or on a winding, never on a line.", harm=SHOCK, by_project=True),
    _caution("control-transformer-needed", "Control transformer all the same",
             "{tank}: no control transformer is asked for, but {why}: control power behind {disconnect} is from a transformer.", PRACTICE,
             "Bring a neutral with the control volts to the panel, ask for control power by others, or leave the transformer.", harm=SHOCK),
    _note("control-by-others", "Control power by others", "{tank}: control power of {volts} comes from elsewhere and stays live with the panel's disconnects open: {va}.",
          PRACTICE, "Say in the quotation who brings it and where it is opened; every box of the tank says so on its label.", harm=SHOCK),
    _note("control-amps-apart", "Control power not in the sums", "Control power takes up to {amps} a panel from the first supply; that is not in the currents of feeders and sources.",
          PRACTICE, "Of a feeder that is full to the last ampere look at it."),
)
