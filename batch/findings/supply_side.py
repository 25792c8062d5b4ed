"""Kinds of finding of the supply side: sources, feeders' ends, and what the system of a supply asks for."""

from __future__ import annotations

from batch.findings.record import Effect, Harm, Kind, Severity

HOLD, CAUTION, NOTE = Severity.HOLD, Severity.CAUTION, Severity.NOTE
FIRE, SHOCK, OVERLOAD, OTHER = Harm.FIRE, Harm.SHOCK, Harm.OVERLOAD, Harm.OTHER
PRACTICE = "common practice, no source"


def _kind(
    severity: Severity, code: str, title: str, template: str, basis: str, advice: str, harm: Harm = OTHER, *, refused: bool = False
) -> Kind:
    effect = Effect.NONE if severity is not HOLD else Effect.NOT_SIZED if refused else Effect.NOT_RELEASED
    return Kind(code, severity, title, template, basis, advice, effect, harm)


SUPPLY_SIDE: tuple[Kind, ...] = (
    # sources
    _kind(HOLD, "source-unknown", "Source not listed", "Source {source} is not on the Sources sheet. Listed: {sources}.",
          "a feeder is sized on the source it hangs on", "Correct the tag, or add the source to the Sources sheet.", refused=True),
    _kind(HOLD, "source-not-usable", "Source cannot be used", "Source {source} cannot be used: see its own finding.",
          "a feeder is sized on the source it hangs on", "Put the source's row right.", refused=True),
    _kind(HOLD, "source-mismatch", "Feeder does not suit its source", "{feeder} is {asks}; its source {source} has {has}.", "{table_systems} forms of supply",
          "Correct the feeder's volts, phases, wires or system, or name another source.", refused=True),
    _kind(NOTE, "feeder-pair-chosen", "Feeder's pair chosen", "{feeder} is put on {pair} of {source}: the fullest line of the source then carries least.", PRACTICE,
          "Fill Phase pair on the Feeders sheet where the plant says otherwise."),
    _kind(NOTE, "feeder-pair-ignored", "Feeder's pair not used", "{feeder}: the pair {pair} has no use here: {why}.", PRACTICE, "Leave the cell blank, or write a pair that suits."),
    _kind(CAUTION, "source-overloaded", "Source overloaded", "{source}: {use} in use on a source of {given}, {percent} of it by its {what}; the next standard transformer is {next}.",
          "phasor sum of the feeders; {transformer_protection}; nameplate of the transformer", "Provide a larger transformer, or take load away.", OVERLOAD),
    _kind(NOTE, "source-nearly-full", "Source nearly full", "{source}: {use} in use on a source of {given}, {percent} of it by its {what}.", "phasor sum of the feeders; 80 %: " + PRACTICE,
          "Check what else hangs on it, and what is to come.", OVERLOAD),
    _kind(NOTE, "source-fault-unknown", "Fault current of the source unknown", "{source}: neither a fault current nor kVA and %Z are given: short-circuit ratings of what hangs on it are not judged.",
          "{fault_rating}", "Fill Available fault current, or kVA and %Z.", FIRE),
    _kind(NOTE, "primary-unlimited", "Primary taken as unlimited", "{source}: no fault level of its primary is given: it is taken as unlimited, the safe side.", "{fault_impedance}",
          "Fill Primary fault current with Primary volts, or Primary fault level."),
    _kind(CAUTION, "fault-given-low", "Fault current given is low", "{source}: {given} is given; its rating and impedance make {marked}, at the low end of their tolerance {calculated}; {how}.",
          "{fault_impedance}", "Ask the utility or the engineer for the basis of the figure, and check rating and impedance.", FIRE),
    _kind(NOTE, "fault-given-less", "Calculated fault current used", "{source}: {given} is given; the calculated {calculated} is greater and is used.", "{fault_impedance}",
          "Name the basis of the figure (utility letter, study) if it is to be used."),
    # the feeder's device, and its end
    _kind(NOTE, "feeder-device-raised", "Feeder OCPD raised", "{feeder}: {load} would serve the load; {device} is used, no smaller than the largest device that it feeds.",
          "coordination of devices: " + PRACTICE, "Nothing, if that is what is meant."),
    _kind(CAUTION, "existing-below-largest", "Existing device below what it feeds", "{feeder}: the existing {given} device is smaller than the largest device that it feeds, {largest}.",
          "coordination of devices: " + PRACTICE, "Expect it to open first; change it, or split the load.", OVERLOAD),
    _kind(NOTE, "device-nearly-full", "OCPD nearly full", "{feeder}: its load with the margin takes {percent} of its {device} OCPD.", "95 %: " + PRACTICE, "Check what is to come."),
    _kind(CAUTION, "device-overused", "OCPD over its load", "{feeder}: its load with the margin takes {percent} of its {device} OCPD.", "{feeder_device}", "Take load away, or change the device and its conductors.", OVERLOAD),
    _kind(HOLD, "bus-small", "Bus below its device", "{feeder}: the distribution unit has a bus of {bus} with {how}, behind {device}.", "{panelboard}",
          "Use a unit with a larger bus, or with a main device of no more than its bus.", OVERLOAD),
    _kind(CAUTION, "main-small", "Main device below the load", "{feeder}: a main of {main} stands in the distribution unit; {required} is needed, {percent} of it.", "{feeder_device}",
          "Use a larger main, or take load away.", OVERLOAD),
    _kind(NOTE, "one-device-not", "Two OCPDs all the same", "One OCPD for way and panel feeder is asked for of tank {tank}, and both stand: {why}.", "coordination of devices: " + PRACTICE,
          "Leave One OCPD for way and panel feeder blank, or make the two equal."),
    _kind(NOTE, "main-apart", "Main device in another building", "{feeder}: its distribution unit stands in another building, and so has a main device of {main}.", "{building_disconnect}",
          "See that it is rated as service or building disconnect where the code asks for it."),
    _kind(NOTE, "way-length-unknown", "Lengths of ways unknown", "{feeder}: of {count} of its ways no length is given: no voltage drop, no wire and raceway by length, and the fault current counts in full behind them.",
          "a length is not guessed", "Fill Distribution-to-control-panel length on the Tanks sheet."),
    _kind(NOTE, "distribution-by-others", "Distribution unit by others", "{feeder}: {ways} ways are sized for a distribution unit by others. Question: who supplies it?", "scope of supply",
          "Set Distribution on the Projects sheet to ours if it is in the scope."),
    _kind(HOLD, "tap-too-long", "Too long for a tap", "{tap}: {length} is longer than a tap may be; only a conductor that the {device} feeder OCPD itself protects serves, {wire}.", "{taps}",
          "Use a distribution unit, or run that conductor.", OVERLOAD),
    _kind(HOLD, "tap-no-wire", "No conductor for the tap", "{tap}: no conductor of the table has the {needs} that the rule of its length asks for.", "{taps}", "Use a distribution unit.", OVERLOAD),
    # a transformer of this job
    _kind(CAUTION, "transformer-unknown", "Protection of the transformer not judged", "{source} is of this job, and its {what} is not given.", "{transformer_protection}", "Fill the cells on the Sources sheet.", OVERLOAD),
    _kind(CAUTION, "transformer-primary", "Primary OCPD too large", "{source}: a primary OCPD of {device} is above {most}, the most with secondary OCPDs; {alone} protects the unit by itself.", "{transformer_protection}",
          "Choose a smaller primary OCPD.", OVERLOAD),
    _kind(CAUTION, "transformer-secondary", "Secondary OCPDs too large together", "{source}: its secondary OCPDs come to {devices}, above {most}; a primary OCPD up to {alone} needs none.",
          "{transformer_protection}; several by their sum: from memory", "Choose a smaller primary OCPD, or a single secondary one.", OVERLOAD),
    _kind(CAUTION, "transformer-secondary-many", "Many secondary OCPDs", "{source}: its secondary protection is {count} OCPDs; at most {most}, in one place, count as such; a primary OCPD up to {alone} needs none.",
          "{transformer_protection}; Note 2: from memory", "Put one secondary OCPD ahead of them, or choose a smaller primary one.", OVERLOAD),
    _kind(CAUTION, "secondary-length-unknown", "Secondary length unknown", "{source} is of this job, and the length of its secondary conductors is not given.", "{secondary_conductors}", "Fill Secondary length.", OVERLOAD),
    _kind(CAUTION, "secondary-too-long", "Secondary conductors too long", "{source}: {length} of secondary conductors to {feeder} is longer than they may run without an OCPD at their source.",
          "{secondary_conductors}", "Put the OCPD closer to the transformer.", OVERLOAD),
    _kind(CAUTION, "secondary-small", "Secondary conductors too small", "{source}: {wire} to {feeder} has {ampacity}; {needs} is needed, and nothing is rounded up.", "{secondary_conductors}",
          "Run larger secondary conductors than the feeder's.", OVERLOAD),
    # what the system asks for
    _kind(CAUTION, "ground-detectors", "Ground detectors", "{feeder} {system}: if it is ungrounded, it needs ground detectors and its marking; ground-fault trips of heaters do not see the first fault.",
          "{ground_detectors}", "State the system; on an ungrounded one see that ground detectors are fitted and that grounds are found at once.", SHOCK),
    _kind(CAUTION, "arc-energy", "Arc energy to be reduced", "{feeder}: {what} of {device} need a documented way to reduce the energy of an arc.", "{arc_energy_fuses}, {arc_energy_breakers}",
          "Have the clearing time at the arcing current shown, or provide one of the means of the clause.", FIRE),
    _kind(CAUTION, "single-pole-interrupting", "One pole breaks the full volts", "{feeder} is corner-grounded: one pole of a breaker may have to break {volts} alone.", "{independent_pole}",
          "Use breakers marked for it, with the interrupting rating of one pole at those volts; two poles on three phases only where so marked.", FIRE),
    _kind(CAUTION, "grounded-line-assumed", "Grounded line assumed", "{feeder} is corner-grounded, and which line is grounded is not given: {line} is taken, so that {line} carries no fuse.",
          "{grounded_line}; " + PRACTICE, "Fill Grounded line: a line that is not grounded must have its fuses.", SHOCK),
    _kind(HOLD, "fuse-in-grounded-line", "Fuse in the grounded line", "{feeder}: a fuse stands in line {line}, which is grounded: blown, it leaves the heaters live and without ground.", "{grounded_line}",
          "Take the fuse out and run the line through, or use breakers that open all lines together.", SHOCK),
    _kind(HOLD, "grounded-pair", "Fuses in a pair with the grounded line", "{feeder}: the pair {pair} of {source} holds the grounded line {line}, and each of its lines is counted with a fuse; {free} has none.", "{grounded_line}",
          "Put the feeder on the pair without it, or use breakers that open both lines.", SHOCK),
    _kind(CAUTION, "fuse-disconnect", "One disconnect for several sets of fuses", "{count} {banks} of separate heaters with one disconnect ahead of several sets of branch fuses.", "{fuse_disconnect}",
          "Ask the authority having jurisdiction, or use breakers or a switch a circuit. Fuses stand in dead-front disconnecting holders, which are no load switches: open the disconnect first.", SHOCK),
    _kind(NOTE, "hundred-pct-wires", "Conductors by 100 %", "Power, temperature-controlled cycling and a marked minimum of {marked} are stated: the conductors to this heater go by 100 % of its load, its OCPDs by the margin; {how}.", "{hundred_pct}, {subdivided_feed}",
          "Check that all three hold on site."),
    _kind(CAUTION, "marked-wire-unknown", "Marked wire not understood", "The marked minimum wire {value} is no conductor size of the rule set, and is not used.", "{table_ampacity}", "Write a size as 12, 1/0 or 250.", OVERLOAD),
    _kind(CAUTION, "disconnect-sight", "Disconnect not in sight of the supplementary devices", "The panel of a heater of several circuits stands {where} from its disconnect; in sight is visible and within {most}. Lockable alone does not serve here.",
          "{disconnect_sight}", "Fit a switch at the panel, ahead of its overcurrent devices.", SHOCK),
    _kind(CAUTION, "two-wires", "Several wires on a contactor terminal", "{count} {banks} put more than one wire on a terminal of a contactor that nobody has marked for it: {which}.",
          "{terminals}; two by default: " + PRACTICE, "Use contactors whose terminals are identified for so many wires of that size, or set Wires per contactor terminal to 1.", OVERLOAD),
    _kind(CAUTION, "aluminum-terminals", "Aluminum: terminals", "Aluminum conductors: every terminal that they land on must be marked for them (AL, AL-CU).", "{aluminum_terminals}",
          "Check each part; say so in Terminals for on the Stock sheet, or use copper, the default.", FIRE),
    _kind(CAUTION, "aluminum-corrosion", "Aluminum: corrosion", "Aluminum conductors: the air of a hall with tanks attacks them and their terminals.", "{corrosion}",
          "Use copper, or have conductor and terminals protected for that air.", FIRE),
    _kind(CAUTION, "aluminum-small", "Aluminum: small sizes", "Aluminum conductors: {count} {banks} with branches of {sizes}, sizes that are hardly to be had and that few terminals take: {which}.", "{aluminum_terminals}; " + PRACTICE,
          "Use copper for them, or set Smallest conductor to 8.", FIRE),
    _kind(HOLD, "copper-terminals", "Terminals for copper only", "Aluminum conductors land on stock parts whose terminals are for copper only: {parts}.", "{aluminum_terminals}",
          "Use copper, or parts marked for aluminum.", FIRE),
    Kind("terminal-range", CAUTION, "Wire large for its terminal", "{what}: {wire} on a {frame} frame, whose terminals are counted on to take up to {most}.", "{terminals}; one size above the ordinary: from memory",
         "Choose a part that states its range, a larger frame or a shorter run, or end the wire on a splice block.", harm=FIRE, by_feeder=True),
    _kind(HOLD, "terminal-range-stock", "Wire outside the terminal's range", "{what}: {wire} on {part}, whose terminals take {limits}.", "{terminals}",
          "Choose another part or wire, or end the wire on a splice block.", FIRE),
    _kind(CAUTION, "feeder-terminal-range", "Wires large for their terminals", "{feeder}: {which}.", "{terminals}; one size above the ordinary: from memory",
          "Choose parts that state their range, larger frames or shorter runs, or end the wires on splice blocks.", FIRE),
)
