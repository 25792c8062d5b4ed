"""Kinds of finding of the supply side: sources, feeders' ends, and what the system of a supply asks for."""

from __future__ import annotations

from batch.findings.record import Effect, Harm, Kind, Severity

FIRE, SHOCK, OVERLOAD, OTHER = Harm.FIRE, Harm.SHOCK, Harm.OVERLOAD, Harm.OTHER
PRACTICE = "common practice, no source"


def _refused(code: str, title: str, template: str, basis: str, advice: str, *, harm: Harm = OTHER) -> Kind:
    return Kind(code, Severity.HOLD, title, template, basis, advice, Effect.NOT_SIZED, harm)


def _hold(code: str, title: str, template: str, basis: str, advice: str, *, harm: Harm = OTHER) -> Kind:
    return Kind(code, Severity.HOLD, title, template, basis, advice, Effect.NOT_RELEASED, harm)


def _caution(code: str, title: str, template: str, basis: str, advice: str, *, harm: Harm = OTHER, by_feeder: bool = False, by_project: bool = False) -> Kind:
    return Kind(code, Severity.CAUTION, title, template, basis, advice, harm=harm, by_feeder=by_feeder, by_project=by_project)


def _note(code: str, title: str, template: str, basis: str, advice: str, *, harm: Harm = OTHER, by_feeder: bool = False, by_project: bool = False) -> Kind:
    return Kind(code, Severity.NOTE, title, template, basis, advice, harm=harm, by_feeder=by_feeder, by_project=by_project)


SUPPLY_SIDE: tuple[Kind, ...] = (
    # sources
    _refused("source-unknown", "Source not listed", "Source {source} is not on the Sources sheet. Listed: {sources}.",
          "a feeder is sized on the source it hangs on", "Correct the tag, or add the source to the Sources sheet."),
    _refused("source-not-usable", "Source cannot be used", "Source {source} cannot be used: see its own finding.",
          "a feeder is sized on the source it hangs on", "Put the source's row right."),
    _refused("source-mismatch", "Feeder does not suit its source", "{feeder} is {asks}; its source {source} has {has}.", "{table_systems} forms of supply",
          "Correct the feeder's volts, phases, wires or system, or name another source."),
    _note("source-system-told", "System taken from the feeders", "{source}: System is {was}; {system} is taken, as its feeders say: {feeders}.", "{table_systems} forms of supply",
          "Fill System on the Sources sheet; where the feeders are wrong, correct them."),
    _note("feeder-pair-chosen", "Feeder's pair chosen", "{feeder} is put on {pair} of {source}: the fullest line of the source then carries least.", PRACTICE,
          "Fill Phase pair on the Feeders sheet where the plant says otherwise."),
    _note("feeder-pair-ignored", "Feeder's pair not used", "{feeder}: the pair {pair} has no use here: {why}.", PRACTICE, "Leave the cell blank, or write a pair that suits."),
    _caution("source-overloaded", "Source overloaded", "{source}: {use} in use on a source of {given}, {percent} of it by its {what}; the next standard transformer is {next}.",
          "phasor sum of the feeders; {transformer_protection}; nameplate of the transformer", "Provide a larger transformer, or take load away.", harm=OVERLOAD),
    _note("source-nearly-full", "Source nearly full", "{source}: {use} in use on a source of {given}, {percent} of it by its {what}.", "phasor sum of the feeders; 80 %: " + PRACTICE,
          "Check what else hangs on it, and what is to come.", harm=OVERLOAD),
    _note("source-fault-unknown", "Fault current of the source unknown", "{source}: neither a fault current nor kVA and %Z are given: short-circuit ratings of what hangs on it are not judged.",
          "{fault_rating}", "Fill Available fault current, or kVA and %Z.", harm=FIRE),
    _note("primary-unlimited", "Primary taken as unlimited", "{source}: {why}: it is taken as unlimited, {side}.", "{fault_impedance}",
          "Fill Primary fault current with Primary volts, or Primary fault level.", by_project=True),
    _caution("fault-given-low", "Fault current given is low", "{source}: {given} is given; its rating and impedance make {marked}, at the low end of their tolerance {calculated}; {how}.",
          "{fault_impedance}", "Ask the utility or the engineer for the basis of the figure, and check rating and impedance.", harm=FIRE),
    _note("fault-given-less", "Calculated fault current used", "{source}: {given} is given; the calculated {calculated} is greater and is used.", "{fault_impedance}",
          "Name the basis of the figure (utility letter, study) if it is to be used."),
    # the feeder's device, and its end
    _note("feeder-device-raised", "Feeder OCPD raised", "{feeder}: {load} would serve the load; {device} is used, no smaller than the largest device that it feeds.",
          "coordination of devices: " + PRACTICE, "Nothing, if that is what is meant."),
    _caution("existing-below-largest", "Existing device below what it feeds", "{feeder}: the existing {given} device is smaller than the largest device that it feeds, {largest}.",
          "coordination of devices: " + PRACTICE, "Expect it to open first; change it, or split the load.", harm=OVERLOAD),
    _note("device-nearly-full", "OCPD nearly full", "{feeder}: its load with the margin takes {percent} of its {device} OCPD.", "95 %: " + PRACTICE, "Check what is to come.", by_project=True),
    _caution("device-overused", "OCPD over its load", "{feeder}: its load with the margin takes {percent} of its {device} OCPD.", "{feeder_device}", "Take load away, or change the device and its conductors.", harm=OVERLOAD),
    _hold("bus-small", "Bus below its device", "{feeder}: the distribution unit has a bus of {bus} with {how}, behind {device}.", "{panelboard}",
          "Use a unit with a larger bus, or with a main device of no more than its bus.", harm=OVERLOAD),
    _caution("main-small", "Main device below the load", "{feeder}: a main of {main} stands in the distribution unit; {required} is needed, {percent} of it.", "{feeder_device}",
          "Use a larger main, or take load away.", harm=OVERLOAD),
    _note("one-device-not", "Two OCPDs all the same", "One OCPD for way and panel feeder is asked for of tank {tank}, and both stand: {why}.", "coordination of devices: " + PRACTICE,
          "Leave One OCPD for way and panel feeder blank, or make the two equal."),
    _note("main-apart", "Main device in another building", "{feeder}: its distribution unit stands in another building, and so has a main device of {main}.", "{building_disconnect}",
          "See that it is rated as service or building disconnect where the code asks for it."),
    _note("way-length-unknown", "Lengths of ways unknown", "{feeder}: of {count} of its ways no length is given. No voltage drop, no wire and raceway by length, and the fault current counts in full behind them.",
          "a length is not guessed", "Fill Distribution-to-control-panel length on the Tanks sheet.", by_project=True),
    _note("distribution-by-others", "Distribution unit by others", "{feeder}: {ways} ways are sized for a distribution unit by others. Question: who supplies it?", "scope of supply",
          "Set Distribution on the Projects sheet to ours if it is in the scope.", by_project=True),
    _hold("tap-too-long", "Too long for a tap", "{tap}: {length} is longer than a tap may be; only a conductor that the {device} feeder OCPD itself protects serves, {wire}.", "{taps}",
          "Use a distribution unit, or run that conductor.", harm=OVERLOAD),
    _hold("tap-no-wire", "No conductor for the tap", "{tap}: no conductor of the table has the {needs} that the rule of its length asks for.", "{taps}", "Use a distribution unit.", harm=OVERLOAD),
    # a transformer of this job
    _caution("transformer-unknown", "Protection of the transformer not judged", "{source} is of this job, and its {what} is not given.", "{transformer_protection}", "Fill the cells on the Sources sheet.", harm=OVERLOAD),
    _note("transformer-practice", "Transformer judged by common practice", "{source} is of this job, and {code} as it is held here sets no shares for the OCPDs of a transformer: those of common practice are used, {alone} % of its rated current for a primary OCPD alone, {both} % with secondary OCPDs.",
          "{transformer_protection}", "Hold its OCPDs against the data of its maker, inrush and overload, and against the rules of the country.", harm=OVERLOAD),
    _caution("transformer-primary", "Primary OCPD too large", "{source}: a primary OCPD of {device} is above {most}, the most with secondary OCPDs; {alone}.", "{transformer_protection}",
          "Choose a smaller primary OCPD.", harm=OVERLOAD),
    _caution("transformer-secondary", "Secondary OCPDs too large together", "{source}: its secondary OCPDs come to {devices}, above {most}; {alone}.",
          "{transformer_protection}; several by their sum: from memory", "Choose smaller secondary OCPDs or a single one ahead of them, or, where it may protect the unit by itself, a smaller primary one.", harm=OVERLOAD),
    _caution("transformer-secondary-many", "Many secondary OCPDs", "{source}: its secondary protection is {count} OCPDs; at most {most}, in one place, count as such; {alone}.",
          "{transformer_protection}; Note 2: from memory", "Put one secondary OCPD ahead of them, or, where it may protect the unit by itself, choose a smaller primary one.", harm=OVERLOAD),
    _caution("secondary-length-unknown", "Secondary length unknown", "{source} is of this job, and the length of its secondary conductors is not given.", "{secondary_conductors}", "Fill Secondary length.", harm=OVERLOAD),
    _caution("secondary-too-long", "Secondary conductors too long", "{source}: {length} of secondary conductors to {feeder} is longer than they may run without an OCPD at their source.",
          "{secondary_conductors}", "Put the OCPD closer to the transformer.", harm=OVERLOAD),
    _caution("secondary-small", "Secondary conductors too small", "{source}: {wire} to {feeder} has {ampacity}; {needs} is needed, and nothing is rounded up.", "{secondary_conductors}",
          "Run larger secondary conductors than the feeder's.", harm=OVERLOAD),
    _note("secondary-wire-taken", "Secondary wire taken", "{source}: the size of its secondary conductors is not given: taken as each feeder's own.", "{secondary_conductors}",
          "Fill Secondary wire, and Secondary sets where they are several."),
    _caution("secondary-wire-unknown", "Secondary wire not understood", "{source}: the secondary wire {value} is no conductor size of the rule set; the feeder's own is judged.", "{table_ampacity}",
          "Write a size as 12, 1/0 or 250; several sets stand in Secondary sets.", harm=OVERLOAD),
    _caution("device-at-end", "No OCPD ahead of the feeder", "{feeder}: its OCPD of {device} stands at its end, as the main device there; its conductors are secondary conductors, and run with them is a supply-side bonding jumper.",
          "{panelboard_main}, {secondary_conductors}, {supply_side_jumper}", "Keep them short, in raceway, without taps; an OCPD at the transformer is the better place.", harm=OVERLOAD),
    _caution("secondary-not-judged", "Secondary conductors not judged", "{feeder}: no OCPD stands ahead of its conductors on the secondary; what protects them is not judged. Not given: {what}.",
          "{secondary_conductors}", "Fill the cells on the Sources sheet, and the feeder's length.", harm=OVERLOAD),
    _caution("service-conductors", "Service conductors", "{feeder}: its OCPD of {device} stands at its end, and {source} is a service: its conductors are service conductors with no OCPD ahead of them. {wire} carries {ampacity}: {needs} is asked, of the load with its margin and of that OCPD{rounded}.{brought} Not judged: how far they run inside the building{left}.",
          "{service_conductors}, {service_grounded_conductor}, {supply_side_jumper}", "End them nearest the point of entrance, on service equipment with its main bonding jumper; hold them against the utility's rules.", harm=OVERLOAD),
    _hold("tap-of-secondary", "Taps of secondary conductors", "{feeder}: taps are asked for, and no OCPD stands ahead of its conductors.", "{taps}, {secondary_conductors}",
          "Put the feeder's OCPD at its source, or use a distribution unit.", harm=OVERLOAD),
    _hold("two-pole-breaker", "Two-pole breaker not marked", "{feeder}: the breaker that is there has two poles and is not marked for three phases.", "{independent_pole}",
          "Use a breaker of three poles, or one of two poles that is marked 1ø-3ø.", harm=FIRE),
    _hold("line-without-device", "A line without an OCPD", "{feeder}: the breaker that is there has two poles, and no line of its three is grounded: one has no OCPD.", "{every_line}",
          "Use a breaker of three poles.", harm=FIRE),
    _note("tap-unused", "Tap length not used", "{feeder}: Tap length has no use here: a single control panel hangs on the feeder, which ends in it.", "inputs", "Leave the cell blank; taps are for a feeder with several control panels."),
    _note("existing-poles-unused", "Poles not used", "{feeder}: Existing breaker poles has no use here: {why}.", "inputs", "Leave the cell blank, or fill Existing OCPD rating."),
    # what the system asks for
    _caution("ground-detectors", "Ground detectors", "{feeder} {system}: if it is ungrounded, it needs ground detectors and its marking; ground-fault trips of heaters do not see the first fault.",
          "{ground_detectors}", "State the system; on an ungrounded one see that ground detectors are fitted and that grounds are found at once.", harm=SHOCK),
    _caution("arc-energy", "Arc energy to be reduced", "{feeder}: {what} of {device} {need} a documented way to reduce the energy of an arc.", "{arc_energy_fuses}, {arc_energy_breakers}",
          "Have the clearing time at the arcing current shown, or provide one of the means of the clause.", harm=FIRE),
    _caution("single-pole-interrupting", "One pole breaks the full volts", "{feeder} is corner-grounded: one pole of a breaker may have to break {volts} alone.", "{independent_pole}",
          "Use breakers marked for it, with the interrupting rating of one pole at those volts; two poles on three phases only where so marked.", harm=FIRE),
    _caution("grounded-line-assumed", "Grounded line assumed", "{feeder} is corner-grounded, and which line is grounded is not given: {line} is taken, so that {line} carries no fuse.",
          "{grounded_line}; " + PRACTICE, "Fill Grounded line: a line that is not grounded must have its fuses.", harm=SHOCK),
    _hold("fuse-in-grounded-line", "Fuse in the grounded line", "{feeder}: a fuse stands in line {line}, which is grounded: blown, it leaves the heaters live and without ground.", "{grounded_line}",
          "Take the fuse out and run the line through, or use breakers that open all lines together.", harm=SHOCK),
    _hold("grounded-pair", "Fuses in a pair with the grounded line", "{feeder}: the pair {pair} of {source} holds the grounded line {line}, and each of its lines is counted with a fuse; {free} has none.", "{grounded_line}",
          "Put the feeder on the pair without it, or use breakers that open both lines.", harm=SHOCK),
    _caution("fuse-disconnect", "One disconnect for several sets of fuses", "{count} {banks} of separate heaters with one disconnect ahead of several sets of branch fuses: {which}.", "{fuse_disconnect}",
          "Ask the authority having jurisdiction, or use breakers or a switch a circuit. Fuses stand in dead-front disconnecting holders, which are no load switches: open the disconnect first.", harm=SHOCK),
    _note("hundred-pct-wires", "Conductors by 100 %", "Power, temperature-controlled cycling and a marked minimum of {marked} are stated: the conductors to this heater go by 100 % of its load, its OCPDs by the margin; {how}.", "{hundred_pct}, {subdivided_feed}",
          "Check that all three hold on site."),
    _caution("marked-wire-unknown", "Marked wire not understood", "The marked minimum wire {value} is no conductor size of the rule set, and is not used.", "{table_ampacity}", "Write a size as 12, 1/0 or 250.", harm=OVERLOAD),
    _caution("disconnect-sight", "Disconnect not in sight of the supplementary devices", "The panel of a heater of several circuits stands {where} from its disconnect; in sight is visible and within {most}. Lockable alone does not serve here.",
          "{disconnect_sight}", "Fit a switch at the panel, ahead of its overcurrent devices.", harm=SHOCK),
    _caution("two-wires", "Several wires on a contactor terminal", "More than one wire is on a terminal of its contactor, and nobody has marked the contactor for it.",
          "{terminals}; two by default: " + PRACTICE, "Use contactors whose terminals are identified for so many wires of that size, or set Wires per contactor terminal to 1.", harm=OVERLOAD, by_feeder=True),
    _caution("aluminum-terminals", "Aluminum: terminals", "Aluminum conductors: every terminal that they land on must be marked for them (AL, AL-CU).", "{aluminum_terminals}",
          "Check each part; say so in Terminals for on the Stock sheet, or use copper, the default.", harm=FIRE),
    _caution("aluminum-corrosion", "Aluminum: corrosion", "Aluminum conductors: the air of a hall with tanks attacks them and their terminals.", "{corrosion}",
          "Use copper, or have conductor and terminals protected for that air.", harm=FIRE),
    _caution("aluminum-small", "Aluminum: small sizes", "Aluminum conductors: {count} {banks} with branches of {sizes}, sizes that are hardly to be had and that few terminals take: {which}.", "{aluminum_terminals}; " + PRACTICE,
          "Use copper for them, or set Smallest conductor to 8.", harm=FIRE),
    _hold("copper-terminals", "Terminals for copper only", "Aluminum conductors land on stock parts whose terminals are for copper only: {parts}.", "{aluminum_terminals}",
          "Use copper, or parts marked for aluminum.", harm=FIRE),
    _caution("terminal-range", "Wire large for its terminal", "{what}: {wire} on a {frame} frame, whose terminals are counted on to take up to {most}.", "{terminals}; one size above the ordinary: from memory",
         "Choose a part that states its range, a larger frame or a shorter run, or end the wire on a splice block.", harm=FIRE, by_feeder=True),
    _hold("terminal-range-stock", "Wire outside the terminal's range", "{what}: {wire} on {part}, whose terminals take {limits}.", "{terminals}",
          "Choose another part or wire, or end the wire on a splice block.", harm=FIRE),
    _caution("block-jumper-large", "Block jumpers large for their terminals", "Block jumpers of {jumper}, as the panel feeder OCPD asks, on {what}: {why}.",
             "{overcurrent_protection}; {terminals}; one size above the ordinary: from memory",
             "Take a bar rated for the panel feeder OCPD or parts marked for such wires; or say tap under Block jumpers, if who answers for the design agrees.",
             harm=FIRE, by_project=True),
    _caution("block-jumper-tap", "Block jumpers as taps",
             "Block jumpers of {jumper} are taps: for a branch OCPD of {branch} and a third of the panel feeder OCPD of {feeder}, which does not protect them.",
             "{tap_in_box}; a third of the panel feeder OCPD: as others tell it, of motor groups",
             "Keep them within the box, at most 10 ft (3 m), not joined to others, and have who answers for the design agree; or ask for full size.",
             harm=FIRE, by_project=True),
    _caution("feeder-terminal-range", "Wires large for their terminals", "{feeder}: {which}.", "{terminals}; one size above the ordinary: from memory",
          "Choose parts that state their range, larger frames or shorter runs, or end the wires on splice blocks.", harm=FIRE),
)
