"""Kinds of finding that the sizing core raises. A basis names clauses in braces; the rule set in force says where they stand."""

from __future__ import annotations

from batch.findings.record import Effect, Harm, Kind, Severity

HOLD, CAUTION, NOTE = Severity.HOLD, Severity.CAUTION, Severity.NOTE
FIRE, SHOCK, OVERLOAD, MONEY, OTHER = Harm
PRACTICE = "common practice, no source"


def _refused(code: str, title: str, template: str, basis: str, advice: str, *, harm: Harm = OTHER) -> Kind:
    return Kind(code, HOLD, title, template, basis, advice, Effect.NOT_SIZED, harm)


def _unsafe(
    code: str, title: str, template: str, basis: str, advice: str, *, harm: Harm = OTHER, by_project: bool = False, holds_itself: bool = False
) -> Kind:
    return Kind(code, HOLD, title, template, basis, advice, Effect.NOT_RELEASED, harm, by_project=by_project, holds_itself=holds_itself)


def _caution(
    code: str, title: str, template: str, basis: str, advice: str, *, harm: Harm = OTHER, by_feeder: bool = False, by_project: bool = False,
    by_cause: bool = False
) -> Kind:  # fmt: skip
    return Kind(
        code, CAUTION, title, template, basis, advice, harm=harm, by_feeder=by_feeder, by_project=by_project, by_cause=by_cause
    )  # fmt: skip


def _note(code: str, title: str, template: str, basis: str, advice: str, *, harm: Harm = OTHER, by_project: bool = False) -> Kind:
    return Kind(code, NOTE, title, template, basis, advice, harm=harm, by_project=by_project)


PROJECT_KINDS = (
    _refused("code-basis-unavailable", "Code basis not at hand",
             "The project asks for {asked}; this program holds {available}. Nothing of the project was sized.",
             "no rule set, no sizing", "Choose a code basis that is at hand (see the command `editions`), or leave the cell blank."),
    _caution("code-basis-taken", "Code basis taken for want of one",
             "Code basis is blank, and {rule_set} is taken, though {count:bank is|banks are} for {volts}, as supplies are where another code is in force: devices, wires and words may be wrong there.",
             "volts of supplies, on Code basis", "Fill Code basis on the Projects sheet, or size a customer's list with --code and its name: with NEC 2023 too, where that is what is in force.", harm=OVERLOAD),
    _note("rule-set-own", "The firm's own rule set",
          "{rule_set} is a rule set of the firm's own (checksum {checksum}): {base} with {count:value|values} of its own: {examples}.",
          "the firm's rule set; the sources stand on Code basis", "Name it in the bid: whoever checks this needs it beside the code."),
    _caution("rule-set-looser", "Own rule set less strict than the code",
             "{count:value|values} of {rule_set} {count:~is|are} less strict than those of {base}: {values}.", "{overcurrent_protection}, {ampacity}",
             "Have the authority having jurisdiction agree in writing, or take the code's values.", harm=OVERLOAD),
    _note("default-used", "Defaults used", "Left blank, and so by default: {settings} ({count} in all). Code basis says why.", "defaults of the rule set",
          "Fill the cells on Projects if the job says otherwise; those of control circuits and boxes, which may stand on Tanks, settle with the customer before panels are built."),
    _caution("margin-below-code", "Margin below the code's", "A continuous-load margin of {asked} is below the code's {floor}: {floor} is used.",
             "{heating_load}, {branch_device}, {feeder_device}", "Leave the margin blank, or give one above the code's.", harm=OVERLOAD),
    _caution("setting-unreadable", "Setting not understood", "{setting}: {value} is not one that the rule set knows; {used} is used.",
             "{table_ampacity}, {terminal_temperature}", "Write a conductor size as 12, 1/0 or 250, a terminal rating as 60 or 75, under IEC 60364 as 70 or 90, and the largest conductor no smaller than the smallest."),
    _note("setting-unused", "Setting without use", "{setting} {value}: {rule_set} has no use for it.", "the rule set's settings", "Leave the cell blank, or choose another code basis."),
    _note("values-from-memory", "Values from memory in use",
          "{count:value|values} of {rule_set} that this project's sizing can draw on {count:~was|were} entered from memory, not read from a page: {examples}.",
          "sources column of Code basis", "Check them against the adopted edition before the bid relies on them."),
)

SUPPLY_KINDS = (
    _refused("feeder-missing", "No feeder for the bank", "No feeder is given and the project has {count}: {feeders}.",
             "a bank is sized on the feeder it hangs on", "Write the feeder's tag in the Feeder column."),
    _refused("feeder-unknown", "Feeder not listed", "Feeder {feeder} is not on the Feeders sheet. Listed: {feeders}.",
             "a bank is sized on the feeder it hangs on", "Correct the tag, or add the feeder to the Feeders sheet."),
    _note("feeder-taken", "Feeder taken", "No feeder is given: the project's only feeder, {feeder}, is taken.", PRACTICE,
          "Write the feeder's tag if it is another one."),
    _refused("feeder-not-usable", "Feeder cannot be used", "Feeder {feeder} cannot be used: see its own finding.", "a bank is sized on the feeder it hangs on",
             "Put the feeder's row right."),
    _caution("feeders-assumed", "Feeders assumed",
             "There are no feeders for this project: {feeders} assumed from the heaters' volts, under the names that rows give.", PRACTICE,
             "Fill the Feeders sheet: devices, poles, wires and fault current depend on the real supply.", harm=OVERLOAD),
    _caution("feeders-nearly-alike", "Feeders nearly alike", "{feeders} are taken for feeders of their own, and may be one: each is sized for what is written there.", PRACTICE,
             "Spell it one way in all rows if it is one supply, or fill the Feeders sheet.", harm=OVERLOAD),
    _note("feeder-without-heaters", "Feeder without heaters", "No heaters hang on feeder {feeder}.", PRACTICE, "Check the Feeder column of Heaters."),
    _note("system-assumed", "System assumed", "How {feeder} is grounded is not given: taken as {system} ({why}).", "{slash_rating}, {multiwire}, {table_systems}",
          "Fill the System column: poles, slash-rated breakers and the neutral depend on it.", harm=SHOCK),
    _refused("system-conflict", "Supply contradicts itself", "{feeder} contradicts itself: {what}.", "{table_systems} forms of supply",
             "Correct volts, phases, wires or system on the Feeders sheet."),
    _unsafe("high-leg", "High-leg delta", "{feeder} is a high-leg delta: one line stands at 1.73 times the volts to neutral of the others.",
            "{high_leg}, {slash_rating}", "Have it designed by the responsible engineer, or feed the heaters from another system.", harm=SHOCK),
    _refused("phases-impossible", "Phases are 1 or 3", "{phases} phases are given; there are 1 or 3.", "a heater or feeder has 1 or 3 phases", "Write 1 or 3."),
    _note("phase-pair-ignored", "Phase pair not used", "The phase pair {pair} has no use here: {why}.", PRACTICE, "Leave the cell blank."),
    _note("phase-pair-chosen", "Phases chosen", "No phase pair is given: banks are put on the pairs that balance their feeder.", PRACTICE,
          "Fill Phase pair where the plant says otherwise."),
)

HEATER_KINDS = (
    _refused("three-phase-on-single", "Three-phase heater on a one-phase feeder", "A 3-phase heater cannot run on the 1-phase feeder {feeder_volts}.",
             "a 3-phase heater needs three lines", "Correct the heater's phases, or hang it on a 3-phase feeder."),
    _refused("connection-needs-three-phase", "Connection needs three phases", "Connection {connection} is given on a 1-phase feeder.",
             "delta and wye need three lines", "Leave Connection blank, or choose a 3-phase feeder."),
    _refused("wye-count", "Wye without a neutral, count not a multiple of three",
             "{quantity} heaters of {heater_volts} on a 3-wire feeder of {feeder_volts}: a wye without a neutral takes three at a time.",
             "three equal legs keep the wye point in the middle", "Use a multiple of three, bring a neutral, or use heaters rated for the line-to-line volts."),
    _unsafe("wye-legs-uneven", "Uneven wye without a neutral",
            "{quantity} heaters in wye on 3 wires, as fixed: legs of {legs}; the leg with the fewest heaters would see {volts}, {percent} of their rating.",
            "phasor sum of the three legs", "Use a multiple of three, or a neutral.", harm=FIRE),
    _note("wye-legs-uneven-within", "Uneven wye within limits",
          "{quantity} heaters in wye on 3 wires, as fixed: legs of {legs}; maximum leg volts {volts}, {percent} of the rating.",
          "phasor sum of the three legs", "Prefer a multiple of three."),
    _note("connection-chosen", "Connection chosen", "Connection left blank: {connection}, {why}.", "matching of heater and feeder volts; " + PRACTICE,
          "Write the connection if the heaters are to be connected otherwise.", by_project=True),
    _note("connection-inside", "Connection read as the heater's inside",
          "Connection {connection} is given for 3-phase heaters: read as how each is connected inside; the heaters stand in parallel.", PRACTICE,
          "Leave Connection blank for 3-phase heaters."),
    _note("open-delta", "Open delta", "Delta is given for {quantity} heaters: an open delta, whose lines carry unequal currents.", "phasor sum of the pairs",
          "Use three, or leave Connection blank."),
    _note("delta-uneven", "Delta not a multiple of three", "{quantity} heaters in delta is not a multiple of three: the lines carry unequal currents.",
          "phasor sum of the pairs", "Prefer a multiple of three; the feeder's currents are counted as they are.", by_project=True),
    _note("wye-uneven", "Wye not a multiple of three", "{quantity} heaters to neutral is not a multiple of three: the neutral carries the difference.",
          "phasor sum of the legs", "Prefer a multiple of three; the neutral is full size.", by_project=True),
    _note("volts-near", "Volts a little off", "{applied} on heaters rated {rated}: {percent}, so {power} of the rated power.",
          "power of a fixed resistance goes with the square of the volts", "Count on the delivered kW, not the rated."),
    _caution("volts-low", "Volts low", "{applied} on heaters rated {rated}: {percent}; only {power} of the rated power heats the bath.",
             "power of a fixed resistance goes with the square of the volts", "Check the volts of heater and feeder; check that the heat suffices."),
    _caution("volts-high", "Volts high", "{applied} on heaters rated {rated}: {percent}, so {power} of the rated power.",
             "power of a fixed resistance goes with the square of the volts; common practice",
             "Ask the heater's maker whether the elements and the watt density allow it.", harm=FIRE),
    _unsafe("volts-over", "Volts too high", "{applied} on heaters rated {rated}: {percent}, {power} of the rated power.",
            "element life and watt density; power goes with the square of the volts", "Do not connect: change heater, connection or feeder.", harm=FIRE),
    _unsafe("heater-over-limit", "Heater must be subdivided",
            "One heater draws {amps}, above {limit}; it is sized as {circuits} circuits, but the heater must be built so.",
            "{subdivision}", "Ask for a heater with that many element circuits and fill Element circuits per heater.", harm=OVERLOAD),
    _unsafe("circuits-too-few", "Too few circuits in the heater",
            "Element circuits per heater: {given}. Each would carry {amps}, above {limit}; it is sized as {circuits}.", "{subdivision}",
            "Ask for a heater with that many element circuits.", harm=OVERLOAD),
    _caution("supplementary-devices", "Devices of one heater are its maker's assembly",
             "Each heater has {circuits} element circuits: their devices are supplementary devices that the heater's maker supplies, suitable for branch protection.",
             "{subdivision}, {supplementary_devices}", "Have them supplied with the heater or as its maker's separate assembly.", harm=OVERLOAD),
    _caution("limit-missing", "No over-temperature limit", "The heaters have no over-temperature limit.",
             PRACTICE, "Fit one: an uncovered element in a plastic tank starts a fire.", harm=FIRE),
    _note("limit-unknown", "Over-temperature limit unknown", "Whether the heaters have over-temperature limits is not said; the limit string is laid out for them.",
          PRACTICE, "Fill Over-temperature limit.", harm=FIRE),
    _caution("level-cutoff-missing", "No low-level cutoff", "The tank has no low-level cutoff.", PRACTICE,
             "Fit one that drops the heaters before an element is uncovered.", harm=FIRE),
    _note("level-cutoff-unknown", "Low-level cutoff unknown", "Whether the tank has a low-level cutoff is not said.", PRACTICE, "Fill Low-level cutoff on the Tanks sheet.", harm=FIRE),
    _unsafe("bank-repeated", "Bank given twice", "Bank {label} of tank {tank} is given in rows {rows}.", "project, tank and bank name one row",
            "Give each bank of a tank its own label, in the job or on As received: nothing typed on other sheets about such banks is taken.",
            harm=SHOCK),
    _unsafe("note-on-hold", "Note that puts a row on hold",
            'By "{word}" the note of {whose} leaves open whether it is to be built: "{notes}". It is sized and counted in every total.',
            "what a person puts on hold is on hold on every sheet: a rule of this program",
            "When it is settled, take the words out of Notes, or write \"released\" behind them; what is not to be built, delete.", by_project=True),
    _note("bank-numbered", "Banks numbered", "Tank has several banks without labels: numbered in sheet order.", PRACTICE,
          "Write a label for each bank, so that a later revision can be matched."),
)

PROTECTION_KINDS = (
    _unsafe("fixed-rating-small", "Fixed rating too small", "A branch OCPD of {given} is fixed; {required} is needed.", "{branch_device}, {heating_load}",
            "Fix a rating that serves, or leave the cell blank.", harm=OVERLOAD),
    _caution("fixed-rating-large", "Fixed rating large", "A branch OCPD of {given} is fixed; {smallest} serves.", "{table_ratings}; common practice",
             "Check that the heater's maker allows it, or leave the cell blank.", harm=OVERLOAD),
    _caution("fixed-rating-odd", "Fixed rating not standard", "{given} is not a standard rating; {smallest} serves.", "{table_ratings}",
             "Fix a standard rating or leave the cell blank."),
    _unsafe("device-over-limit", "Device above 60 A", "A device of {given} stands before one heater circuit; the most is {limit}.", "{subdivision}",
            "Use more circuits per heater, or a smaller device.", harm=OVERLOAD),
    _note("rating-fixed", "Rating fixed", "The branch OCPD is fixed by the estimator.", PRACTICE, "Leave the cell blank to have it sized."),
    _unsafe("beyond-table", "Beyond the table", "{what}: {value} is beyond {table}.", "the rule set's tables", "Split the load, or have it designed by the responsible engineer.", harm=OVERLOAD),
    _unsafe("device-volts", "Device volts below the system's", "{device} is rated {rated}; the feeder has {volts}.", "{device_volts}",
            "Choose a device rated for the system's volts.", harm=FIRE),
    _caution("slash-rated", "Straight-rated breakers needed", "On {system} a slash-rated breaker must not be used: straight-rated {volts} breakers are needed.",
             "{slash_rating}", "Order breakers marked with the single voltage, or use fuses.", harm=FIRE),
    _note("corner-grounded", "No fuse in the grounded line", "{feeder} is corner-grounded: line {line} has no fuse anywhere; its conductors are white or gray and as large as the others; poles of switches and contactors may stand in it only where all open together.",
             "{grounded_line}, {grounded_marking}", "See that it is so where devices are there already; straight-rated breakers that open all lines together are the other way.", harm=SHOCK),
    _note("stock-none-serves", "No stock part serves", "The Stock sheet lists no {kind} that serves {need}: a generic one is named instead.", "the estimator's own stock list",
          "Add a part with its rating, volts, poles and wire range, or order the generic one."),
    _note("stock-rating-larger", "Stock rating above what serves", "A {kind} of {smallest} serves; the Stock sheet lists {stock} next, and wires are sized for that.", "the estimator's own stock list; {table_ratings}",
          "Add the smaller rating to the Stock sheet if the shop can have it."),
    _caution("single-circuit-rating-odd", "OCPD of several heaters on one circuit", "{given} is fixed for several heaters on one circuit; such devices are {usual} A.", "{several_outlets}, from memory",
             "Fix one of those, or leave the cell blank."),
    _caution("wye-breakers", "One-pole breakers in a wye without neutral", "Each heater of a wye has a one-pole breaker: one that opens alone leaves the other two in series and the circuit live.", "{open_all_poles}",
             "Use a three-pole breaker for each wye, or fuses behind a disconnect that opens all lines.", harm=SHOCK),
    _caution("single-circuit-large", "Several heaters behind one large device", "{quantity} heaters stand behind one {device} device; one of them alone takes {alone}.",
             "{heating_load}, {subdivision}; maker's largest device", "Check that the heaters' leads and makers allow a device of that size, or use a panel.", harm=OVERLOAD, by_feeder=True),
    _note("single-circuit-allowed", "Single-circuit bank", "No heater panel is needed: at most {wires} on a contactor terminal and {bound}.", "{terminals}, {subdivision}",
          "See the column Basis of panel."),
)

PANEL_KINDS = (
    _note("contactor-no-heating-rating", "Contactor without a resistance-heating rating", "Contactor {size} has no resistance-heating rating in the table: its continuous {rating} counts.", "{table_contactors}",
          "Check the maker's resistive rating of the contactor that is bought."),
    _unsafe("branches-over-panel", "More circuits than a panel takes", "{what} has {circuits} circuits and a panel takes {most}.", PRACTICE,
            "Raise Branches per panel if the shop builds it, or use heaters with fewer circuits."),
    _note("panel-split", "Split over panels", "Banks above {most} branches are split over several panels, as few and as even as possible.", PRACTICE,
          "See the column Panel split; fix Branches per panel to change it."),
    _caution("branches-unusual", "Unusual number of branches a panel", "{given} branches a panel are asked for; one to eight are usual.", PRACTICE,
             "Check that the shop builds such a panel."),
    _note("no-length", "No length", "No {what} is given: no voltage drop and no raceway length for it.", "a length is not guessed", "Fill the length."),
    _note("runs-alone", "Circuits taken to run alone", "Nothing says how many circuits run together, so each runs alone here: {runs}. Laid as the project has it, of two that share a raceway or touch each keeps {two} of its ampacity, of three {three}.",
          "{adjustment}", "Where they run together fill Circuits sharing the raceway (Feeders, Heaters), Ways sharing the raceway (Feeders) and Panel feeders sharing the raceway (Heaters).", harm=OVERLOAD),
    _note("raceway-in-full", "Shared raceway counted for each", "Which others share the raceway of {runs} is not known: Materials counts one for each, large enough for all of them.",
          PRACTICE, "Take out the raceways that are counted twice.", harm=MONEY),
    _note("company-unused", "Sharing given without use", "{column} is given, and {why}: it is not used.", "a rule of this program: what is not used is said", "Leave the cell blank, or see where it belongs."),
    _caution("drop-over", "Voltage drop over its limit", "{what}: a voltage drop of {percent}; the limit is {limit}.", "{drop_notes}",
             "Shorten the run, use larger wire, or set On drop to upsize."),
    _note("drop-upsized", "Wire upsized for drop", "{what}: {size} instead of {required} to keep the drop at {percent} within {limit}.",
          "{drop_notes}; {grounding_upsized}", "The grounding conductor goes up in proportion."),
    _unsafe("pvc-too-hot", "PVC raceway too hot", "{raceway} is not used above {limit}; the ambient is {ambient}.", "{pvc_temperature}", "Choose another raceway.", harm=FIRE),
    _unsafe("wire-beyond-table", "No conductor in the table is large enough", "{what}: no conductor up to {largest} in {sets} carries {amps} at {ambient} behind a device of {device}.", "{ampacity}, {overcurrent_protection}",
            "Lower the ambient, share the raceway less, or allow larger conductors.", harm=OVERLOAD),
    _unsafe("wire-not-tabulated", "No ampacity for such conductors", "{what}: the rule set has no ampacity of {material} {insulation} laid by method {method}.", "{ampacity}",
            "Take copper, or another installation method; or size it by its maker's figures.", harm=OVERLOAD),
    _unsafe("raceway-beyond-table", "Raceway beyond the table", "{what}: no trade size of {raceway} takes {count:conductor|conductors} of {size}.", "{raceway_size}",
            "Share the raceway less, or use several.", harm=OVERLOAD),
    _caution("open-branch-overvoltage", "Overvoltage when a branch opens", "When one branch OCPD opens, a heater of the same wye sees {percent} of its rated volts ({power} of its power).",
             "phasor sum of the remaining legs", "Use separate 3-heater wyes, delta, a neutral, or a device that opens all poles.", harm=FIRE),
)

PRICE_KINDS = (
    _caution("heater-part-differs", "Heater part differs", "Heater part {part} is not what the row says: {what}.", "the estimator's own stock list",
             "Name the part that is meant, or correct the row or the Stock sheet.", harm=MONEY),
    _note("heater-part-none", "Heater not found in stock", "The Stock sheet lists no heater of {heater}. It stays without a price.", "a part is not guessed",
          "Ask who makes it, and list it on the Stock sheet.", harm=MONEY),
    _note("heater-part-several", "Which heater of the stock is open", "The heater of {heater} may be any of {parts}, or none of them. It stays without a price.", "a part is not guessed",
          "Name it in Heater part, or give sheath and heated length as the Stock sheet has them.", harm=MONEY),
    _note("prices-not-given", "No prices", "The Stock sheet gives no prices: Materials lists quantities only.", "a price is not guessed", "Fill Unit price on the Stock sheet.", harm=MONEY),
    _caution("length-price-unused", "Price by length not used", "The Stock sheet prices {parts}, but not per what length: these prices are not in the total.", "a unit is not guessed",
             "Fill Per unit on the Stock sheet, ft or m, and Per quantity where the price is for more than one.", harm=MONEY),
    _note("shop-hours-on-site", "Shop hours taken on site", "Heaters, wire and raceway are worked on site; of {parts} the Stock sheet gives Shop hours alone, and these are taken.", "hours of the shop's own",
          "Give Field hours on the Stock sheet.", harm=MONEY),
    _caution("price-missing", "Price missing", "{count:line of Materials and Runs has no price and is not in the total|lines of Materials and Runs have no price and are not in the total}: {parts}.", "a missing price is never counted as zero",
             "Add the parts with their prices to the Stock sheet, or price them by hand.", harm=MONEY),
)

FEEDER_KINDS = (
    _unsafe("feeder-incomplete", "Feeder without all its banks", "{feeder}: without {missing}. Its currents, device and conductors are those of the other banks.",
            "a load that is not known is in no total", "Put those rows right and size again; buy and build nothing of the feeder itself before: OCPD, wires, distribution unit. What hangs on it is whole, but the fault current there may rise.", harm=OVERLOAD, holds_itself=True),
    _caution("unbalance", "Unbalanced feeder", "{feeder}: lines of {lines}, {percent} off their mean.", "10 %: common practice, no source",
             "Leave Phase pair blank where it is filled, so that banks are assigned to balance, or use counts that divide by three."),
    _unsafe("existing-device-small", "Existing device too small", "{feeder}: the existing {given} device is below the {required} that its load needs.", "{feeder_device}",
            "Move load away, or change the device and its conductors.", harm=OVERLOAD),
    _caution("existing-device-large", "Existing device larger than needed", "{feeder}: the existing {given} device is above the {smallest} that serves; wires are sized for it.", "{overcurrent_protection}",
             "Check that the existing conductors suit it.", harm=OVERLOAD),
    _caution("other-load-added", "Other load added in full", "{feeder}: {amps} of other load is added to every line as it stands.", "sum of amps is never below the phasor sum",
             "Check that these amps are the maximum line current of the other loads."),
    _caution("demand-factor", "Demand factor below one", "{feeder}: a demand factor of {factor} is used{how}.", "{demand}",
             "Only where the controls keep the loads from running together, by the responsible engineer.", harm=OVERLOAD),
    _note("fault-unknown", "Fault current unknown", "{feeder}: neither fault current nor transformer kVA and %Z are given: short-circuit ratings are not judged.", "{fault_rating}",
          "Fill Available fault current, or Source kVA and Source %Z.", harm=FIRE, by_project=True),
    _unsafe("fault-over-rating", "Fault current above a stock part's rating", "{feeder}: {fault} is available at {place}; {part} is rated {rating}.", "{fault_rating}, {panel_marking}",
            "Choose a part with a higher short-circuit rating, or limit the fault current.", harm=FIRE),
    _caution("fault-over-default", "Fault current above the default rating", "{feeder}: parts without a marking count as less than the fault current where they stand: {places}.",
             "{table_sccr}; {fault_rating}", "Choose parts marked for at least that, as tested combinations with their fuses.", harm=FIRE),
    _caution("fault-rating-unknown", "Short-circuit rating not known", "{feeder}: of parts without a marking no short-circuit rating is known: {places}.",
             "{fault_rating}", "Choose parts marked for at least that, with the fuse or breaker that they are marked with.", harm=FIRE),
    _caution("interrupting-over", "Interrupting rating to be chosen", "{feeder}: its devices must interrupt {fault}.", "{interrupting_rating}", "Order devices with at least that interrupting rating at the system's volts.", harm=FIRE),
    _caution("ground-fault-protection", "Ground-fault protection needed", "{feeder}: a device of {device} on {system} of {volts} needs ground-fault protection of equipment.",
             "{ground_fault_protection}", "Provide it at the device, or show that it stands ahead of the feeder at the same volts, or that the exception for a process that must not stop applies.", harm=FIRE),
    _note("feeder-length-unknown", "Feeder length unknown", "{feeder}: no length is given: no feeder drop, and the fault current counts in full at its panels.", "a length is not guessed",
          "Fill Length on the Feeders sheet.", by_project=True),
    _note("soil-assumed", "Soil around buried cables", "{feeder} is buried ({method}): the soil is taken at {temperature}, with a thermal resistivity of {resistivity}; cables near it count only where they are given.", "{ampacity}",
          "Fill Ambient on the Feeders sheet with the soil's temperature; have ampacities reduced for drier soil and for other cables near.", harm=OVERLOAD, by_project=True),
)

ELECTRICAL: tuple[Kind, ...] = PROJECT_KINDS + SUPPLY_KINDS + HEATER_KINDS + PROTECTION_KINDS + PANEL_KINDS + PRICE_KINDS + FEEDER_KINDS
