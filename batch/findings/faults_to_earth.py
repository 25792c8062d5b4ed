"""Kinds of finding of faults, to earth and short circuits: under the codes that set a time in which one is to be disconnected."""

from __future__ import annotations

from batch.findings.record import Effect, Harm, Kind, Severity

SHOCK, FIRE, OTHER = Harm.SHOCK, Harm.FIRE, Harm.OTHER
PRACTICE = "common practice, no source"


def _hold(code: str, title: str, template: str, basis: str, advice: str, *, harm: Harm = SHOCK, by_feeder: bool = False) -> Kind:
    return Kind(code, Severity.HOLD, title, template, basis, advice, Effect.NOT_RELEASED, harm, by_feeder=by_feeder)


def _caution(code: str, title: str, template: str, basis: str, advice: str, *, harm: Harm = SHOCK, by_feeder: bool = False) -> Kind:
    return Kind(code, Severity.CAUTION, title, template, basis, advice, harm=harm, by_feeder=by_feeder)


def _note(
    code: str, title: str, template: str, basis: str, advice: str, *, harm: Harm = SHOCK, by_feeder: bool = False, by_project: bool = False
) -> Kind:
    return Kind(code, Severity.NOTE, title, template, basis, advice, harm=harm, by_feeder=by_feeder, by_project=by_project)


EARTHING: tuple[Kind, ...] = (
    _note("earthing-assumed", "Earthing system assumed", "{feeder}: no earthing system is given; {earthing} is taken ({why}).", "{fault_protection}; " + PRACTICE,
          "Fill Earthing on the Sources or the Feeders sheet: TN-S, TN-C-S, TN-C, TT or IT."),
    _caution("earthing-conflict", "Earthing does not suit the system", "{feeder}: {earthing} is given, and the system is {system}; {used} is used.", "{fault_protection}",
          "Correct Earthing or System."),
    _hold("earth-fault-slow", "Earth fault not disconnected in time", "{what}: an earth fault at its end draws {fault} ({loop}); its {device} is sure to open within {time} from {needs}, a loop of at most {most}.",
          "{fault_loop}, {fault_protection}", "Use a larger protective conductor or line, a shorter run, a more sensitive device, or a residual-current device."),
    _caution("earth-fault-curve", "Disconnection by the fuse's own curve", "{what}: an earth fault at its end draws {fault}; by the gates of the standard its {device} has opened within 5 s, and {time} are asked: the standard shows it from {needs} only.",
          "{fault_loop}; {table_fuse_gates}", "Show it by the time-current curve of the fuse that is bought, or use a residual-current device.", by_feeder=True),
    _caution("short-circuit-energy", "Short circuit: energy let through", "{what}: its {device} may let through {lets}, and its conductors bear {bears} while it opens.",
          "{short_circuit_energy}; time to open: common practice, no source", "Show by its maker's curve that it lets through less (a current-limiting circuit-breaker), or use fuses or larger conductors.", harm=FIRE, by_feeder=True),
    _note("earth-fault-source", "Source impedance unknown", "{feeder}: without its source's impedance no earth fault current is known. Its circuits, as far as their lengths are given, leave at most {ohms} for the source.",
          "{fault_loop}", "Fill kVA and %Z or a fault current, or measure the loop at the feeder's origin."),
    _note("earth-fault-length", "Earth faults without lengths", "{feeder}: {count} of its circuits {count:~has|have} no length on {count:~its|their} way: whether an earth fault is disconnected in time is not known. Sheet Earth faults gives the longest runs.",
          "{fault_loop}; a length is not guessed", "Fill the lengths."),
    _hold("residual-device-missing", "Residual-current device needed", "The supply is TT: an earth fault draws too little to open {device}, and no residual-current device is given.", "{fault_protection_tt}, {residual_current}",
          "Fill Residual-current device: 300 mA guards against shock by fault and against fire; 30 mA trips on damp heaters.", by_feeder=True),
    _caution("residual-device-origin", "Residual-current device at the feeder's origin", "{feeder} is TT: its own run needs a residual-current device at its origin too, delayed (type S) so that those behind it open first.", "{fault_protection_tt}, {residual_current}",
          "Ask who supplies it."),
    _caution("electrode-unknown", "Earth electrode unknown", "{feeder} is {earthing}, and the resistance of its earth electrode is not given: at most {most} with {trip}.", "{fault_protection_tt}", "Have it measured; fill Earth electrode."),
    _hold("electrode-high", "Earth electrode too high", "{feeder}: an earth electrode of {ohms} is above the {most} that {trip} ask for.", "{fault_protection_tt}",
          "Improve the electrode, or choose a lower residual current."),
    _caution("residual-leakage", "Residual-current device trips by leakage", "{kw} behind one residual-current device of {trip}: {leakage} of leakage is to be planned for, warm and dry; {share} is what it bears. One cold, damp heater alone may leak {damp}.",
          "{residual_current}; planning figure as a guide", "Use a higher residual current, or one device for fewer heaters; dry damp heaters before they are joined to it.", harm=OTHER, by_feeder=True),
    _caution("residual-device-large", "Residual-current device of the industrial kind", "The residual-current device of {amps} at {volts} is above those for household and similar use.", "{residual_current}; {residual_current_industrial}",
          "Order a circuit-breaker with residual-current protection of its own, or a relay and breaker tested together; a relay that drops a contactor is neither.", by_feeder=True),
    _note("protective-reinforced", "Protective conductor to be reinforced", "Heaters of {kw} may leak over {limit} each, as planned: their protective conductor of {size} is then to be {least}, or doubled.", "{reinforced_pe}; planning figure as a guide",
          "Ask the maker for the leakage, warm.", by_feeder=True),
    _caution("insulation-monitor", "Insulation monitoring", "{feeder} is IT: a first fault to earth does not open anything; it must be told at once and found soon.", "{fault_protection_it}",
          "Provide an insulation monitor, and see that the electrode keeps touch voltage at 50 V; what is sized here is the second fault."),
    _caution("pen-small", "PEN conductor", "{feeder} is TN-C: {what} end apart from it, with a neutral and a protective conductor each: a PEN conductor is at least {least}, and no residual-current device works in it.", "{pen_conductor}",
          "Part the PEN conductor at the distribution unit (TN-C-S)."),
    _note("neutral-opened", "Neutral opened with the lines", "{feeder} is {earthing}: its neutral may stand at dangerous volts, and is opened with the lines wherever a circuit is isolated. For {count} the switch-disconnectors of the control panels and the devices of feeder and ways are counted and drawn with a pole for the neutral; inside a control panel, behind its switch-disconnector, devices and contactors have poles for the lines alone.", "{neutral_opened}",
          "Buy them so. To isolate a panel feeder by itself it needs a neutral pole too. In an IT supply take devices of one pole for the volts between lines."),
    _caution("neutral-not-opened", "Neutral of what is there already", "{feeder} is {earthing}, and its neutral is to be opened with the lines: whether {what}, there already, opens it is not known.", "{neutral_opened}",
             "See that it has a pole for the neutral, or have it changed; or show who answers for the site that the neutral is at earth potential for sure.", harm=SHOCK),
    _hold("neutral-not-guarded", "Neutral without overcurrent protection", "The supply is IT with its neutral: overcurrent in the neutral of every circuit is to be found, and opens every live conductor. {device} stands in the lines alone, and no residual-current device guards the neutral.", "{neutral_guarded}",
          "Fill Residual-current device: one of 300 mA opens the neutral too and stands in for it. Or order circuit-breakers that find overcurrent in the neutral, or join the heaters between lines.", by_feeder=True),
    _note("fuses-not-selective", "Fuses not selective", "A fault behind a {behind} may open the {ahead} ahead of it too.", "{selectivity}: 1.6 to 1",
          "Where the rest is to stay on, take a larger fuse ahead, with the conductors that it asks, or smaller ones behind.", harm=OTHER, by_project=True),
    _note("selectivity-not-judged", "Selectivity of circuit-breakers not judged", "Whether a fault behind a circuit-breaker leaves the device ahead of it closed is in its maker's tables alone.", "makers' tables of selectivity; no ratio holds for circuit-breakers",
          "Ask the maker for the tables of both, where the rest is to stay on.", harm=OTHER),
)
