"""The results workbook: every column that sizing fills, declared once. Values come from `batch.schedules`."""

from __future__ import annotations

from dataclasses import replace

from batch.sheets.column import Column, Sheet


def _text(key: str, heading: str, width: float = 12, **more) -> Column:
    return Column(key, heading, width=width, role=more.pop("role", "text"), **more)


def _given(key: str, heading: str, unit: str = "", format: str = "number", width: float = 10, **more) -> Column:
    return Column(key, heading, unit, kind="number", format=format, width=width, role="input", **more)


def _calc(key: str, heading: str, unit: str = "", format: str = "number", width: float = 10, **more) -> Column:
    return Column(key, heading, unit, kind="number", format=format, width=width, role="calculation", **more)


def _result(key: str, heading: str, unit: str = "", format: str = "number", width: float = 10, **more) -> Column:
    return Column(key, heading, unit, kind="number", format=format, width=width, role="result", **more)


PROJECT = _text("project", "Project", 12, help="Project the row belongs to.")
TANK = _text("tank", "Tank", 12, help="Tank tag, as received.")
BANK = _text("bank", "Bank", 8, help="Bank of the tank.")
FEEDER = _text("feeder", "Feeder", 10, help="Feeder that supplies it.")
FINDINGS_OF_ROW = _text("findings", "Findings", 34, role="result", help="Codes of the holds and cautions of this row; see Findings.")
BASIS = _text("basis", "Basis", 160, help="Sections and tables that the row's values come from. Not printed.", on_paper=False)
STATUS = _text("status", "Status", 20, role="result",
               help="sized; sized, review (a caution); HOLD (not released for fabrication): a hold, yet counted; not sized (not counted).")

# Formulas by column key and by name on Code basis; the sizing core is what they must agree with (batch.writing.live sees to it).
SAME_VOLTS = "ROUND(ABS([applied_v]/[volts_v]-1),6)<={same_volts_band}"
APPLIED = (
    '[supply_v]/IF(([connection]="wye to neutral")+([connection]="wye, no neutral")+([connection]="separate 3-heater wyes")>0,SQRT(3),'
    'IF([connection]="to neutral",2,1))'
)
MAXIMUM = "MAX([i_a],[i_b],[i_c])"
_SUM, _MEAN = "([i_a]+[i_b]+[i_c])", '([i_a]+[i_b]+[i_c])/IF([i_c]="",2,3)'  # a line that is not there is blank
NEXT_RATING = 'INDEX({{ratings}},COUNTIF({{ratings}},"<"&ROUND([{key}],6))+1)'
UNBALANCE = (
    f'([i_b]<>"")*IFERROR(100*MAX([maximum_a]-{_MEAN},{_MEAN}-[i_a],{_MEAN}-[i_b],IF([i_c]="",0,{_SUM}/3-[i_c]))/({_MEAN}),0)'
)

BANKS = Sheet(
    "banks", "Banks", "bank", "What each bank draws, how it is protected, connected and fed.", key=("project", "tank", "bank"),
    as_sized=(
        "feeder", "quantity", "power_kw", "volts_v", "phases", "supply_v", "margin_pct", "circuits_per_heater", "rating_a", "connection",
        "phases_on", "bank_device_a",
    ),
    columns=(
        PROJECT, TANK, BANK, FEEDER, STATUS,
        _given("quantity", "Heaters", "ea", "count", total="sum", help="Identical heaters in the bank."),
        _given("power_kw", "Power each", "kW", "kw", help="Rated power of one heater."),
        _given("volts_v", "Heater volts", "V", "volts", help="Rated volts of one heater."),
        _given("phases", "Heater phases", "ph", "count", help="1 or 3."),
        _given("supply_v", "Feeder volts", "V", "volts", help="Line-to-line volts of the feeder; line-to-neutral of a 2-wire feeder with a neutral."),
        _given("margin_pct", "Continuous-load margin", "%", "percent", also=("Current margin",), help="Added to the current before a device or wire is chosen."),
        _calc("applied_v", "Applied volts", "V", "volts_1", help="Volts at the terminals of each heater, as connected.", formula=APPLIED),
        _calc("volts_off_pct", "Applied over rated", "%", "percent_signed", help="How far the applied volts are from the rated volts.",
              formula="100*([applied_v]/[volts_v]-1)"),
        _calc("heater_a", "Heater current", "A", "amps", help="Line current of one heater at its rated volts: P / V, or P / (sqrt(3) V).",
              formula="[power_kw]*1000/[volts_v]/IF([phases]=3,SQRT(3),1)"),
        _calc("design_a", "Design current", "A", "amps", help="What devices and wires are chosen for: the greater of rated and applied where they differ by over 2 %.",
              formula=f"IF({SAME_VOLTS},[heater_a],MAX([heater_a],[heater_a]*[applied_v]/[volts_v]))"),
        _calc("running_a", "Running current", "A", "amps", help="Line current of one heater at the applied volts.",
              formula="[heater_a]*[applied_v]/[volts_v]"),
        _calc("circuits_per_heater", "Element circuits per heater", "ea", "count", also=("Circuits per heater",), help="Element circuits of one heater, each with its own device."),
        _calc("required_a", "Branch minimum OCPD and circuit ampacity", "A", "amps", width=12, also=("Branch amps with margin",), help="Design current of one branch times 1 + margin.",
              formula="[design_a]/[circuits_per_heater]*(1+[margin_pct]/100)"),
        _result("rating_a", "Branch OCPD", "A", "rating", also=("Branch rating",), help="Smallest standard rating that serves one heater's own branch, the next one that Stock lists, or what the estimator fixed.",
                formula=NEXT_RATING.format(key="required_a")),
        _result("branches", "Branches", "ea", "count", total="sum", help="Branch circuits of the bank: one for each heater or element circuit.",
                formula="[quantity]*[circuits_per_heater]"),
        _text("device", "Branch OCPD type", 44, role="result", also=("Branch device",), help="Class or type, poles, volts and interrupting rating."),
        _text("connection", "Connection", 18, role="result", help="How the heaters are connected."),
        _text("connection_why", "Basis of connection", 40, also=("Why so joined",), help="What decided the connection."),
        _text("phases_on", "Phases", 16, role="result", help="Pair or leg on which the bank starts."),
        _calc("line_a", "Bank line current", "A", "amps", help="Maximum line current of the whole bank, at design current."),
        _text("arrangement", "Arrangement", 12, role="result", help="single circuit: one OCPD for the whole bank; panel: heater panels."),
        _result("panels", "Heater panels", "ea", "count", total="sum", also=("Branch panels",), help="Heater panels; 0 where the bank is a single circuit."),
        _text("split", "Panel split", 12, role="result", help="Branches of each panel."),
        _text("panel_why", "Basis of panel", 52, also=("Why a panel, or none",), help="Both reasons with their numbers: terminals and subdivision."),
        _calc("wires_on_terminal", "Wires on a contactor terminal", "ea", "count", width=12, help="Wires on the fullest terminal if every heater were wired straight to one contactor."),
        _result("bank_device_a", "Bank OCPD", "A", "rating", also=("Bank device",), help="Overcurrent device of a single-circuit bank."),
        _text("bank_wire", "Bank wires", 18, role="result", help="Of a single-circuit bank, from its device to its contactor: all its heaters together."),
        _text("contactor", "Contactor", 36, role="result", help="Resistive rating of each contactor and how many."),
        _text("wire", "Branch wire", 18, role="result", help="Wires to each heater."),
        _text("ground", "EGC", 12, role="result", also=("Ground",), help="Equipment grounding conductor of each branch."),
        _text("governed_by", "Sizing basis", 28, also=("Wire governed by",), help="Which test set the wire."),
        _calc("connected_kw", "Connected", "kW", "kw", total="sum", help="Heaters times rated power.", formula="[quantity]*[power_kw]"),
        _result("delivered_kw", "Delivered", "kW", "kw", total="sum", help="What heats the bath at the applied volts.",
                formula=f"[quantity]*[power_kw]*IF({SAME_VOLTS},1,([applied_v]/[volts_v])^2)"),
        _calc("open_branch_pct", "One branch open", "% of V", "percent_0", width=11, help="Maximum heater volts when one branch OCPD has opened, in per cent of its rating."),
        _calc("wire_drop_pct", "Branch drop", "%", "percent_2", help="Voltage drop of the branch wires; blank where no length is known."),
        _text("fixed", "Fixed by the estimator", 26, role="input", help="What the job workbook fixed, and was honoured and judged."),
        FINDINGS_OF_ROW,
        _text("notes", "Notes", 30, role="input", help="The estimator's notes."),
        BASIS,
    ),
)

PANELS = Sheet(
    "panels", "Panels", "heater panel", "Each heater panel: its panel feeder, its currents and what it is built from.", key=("project", "panel"),
    as_sized=("margin_pct", "panel_feeder_device_a"),
    columns=(
        PROJECT,
        _text("panel", "Panel", 19, role="result", help="Tag: tank, bank and number."),
        TANK, BANK, FEEDER,
        _text("type", "Type", 10, role="result", help="Panels of one type are built alike."),
        STATUS,
        _calc("heaters", "Heaters", "ea", "count", total="sum", help="Heaters on this panel."),
        _result("branches", "Branches", "ea", "count", total="sum", help="Branch circuits in this panel."),
        _result("rating_a", "Branch OCPD", "A", "rating", also=("Branch rating",), help="Rating of each branch OCPD."),
        _text("connection", "Connection", 18, role="result", help="How the heaters are connected."),
        _text("panel_feeder_phases", "Supply phases on L1-L2-L3", 12, role="result", also=("L1-L2-L3 on",), help="Which supply lines land on L1, L2, L3 and N of the panel."),
        _calc("i_a", "I A", "A", "amps", help="Design current in line A."),
        _calc("i_b", "I B", "A", "amps", help="Design current in line B."),
        _calc("i_c", "I C", "A", "amps", help="Design current in line C."),
        _calc("i_n", "I N", "A", "amps", help="Design current in the neutral."),
        _calc("maximum_a", "Maximum line current", "A", "amps", total="max", also=("Greatest line",), help="Maximum of the line currents.", formula=MAXIMUM),
        _calc("unbalance_pct", "Unbalance", "%", "percent", help="Maximum deviation from the mean line current, over the mean.",
              formula=UNBALANCE),
        _given("margin_pct", "Continuous-load margin", "%", "percent", also=("Current margin",), help="Added to the current before a device or wire is chosen."),
        _calc("required_a", "Panel feeder minimum OCPD and circuit ampacity", "A", "amps", width=11, also=("Feed amps with margin",), help="Maximum line current times 1 + margin.",
              formula="[maximum_a]*(1+[margin_pct]/100)"),
        _result("panel_feeder_device_a", "Panel feeder OCPD", "A", "rating", also=("Feed device",), help="Overcurrent device ahead of the contactor.",
                formula=NEXT_RATING.format(key="required_a")),
        _text("panel_feeder_device", "Panel feeder OCPD type", 44, role="result", also=("Feed device kind",), help="Class or type, poles, volts and interrupting rating."),
        _text("panel_feeder_wire", "Panel feeder conductors", 20, role="result", also=("Feed wire",), help="Sets x lines of size."),
        _text("panel_feeder_neutral", "Panel feeder neutral", 12, role="result", also=("Feed neutral",), help="Neutral of the panel feeder; blank where there is none."),
        _text("panel_feeder_ground", "Panel feeder EGC", 12, role="result", also=("Feed ground",), help="Equipment grounding conductor of the panel feeder."),
        _text("governed_by", "Panel feeder sizing basis", 28, also=("Feed governed by",), help="Which test set the panel feeder conductors."),
        _text("raceway", "Panel feeder raceway", 16, role="result", also=("Feed raceway",), help="Trade size and kind."),
        _result("block_a", "Power power distribution block rating", "A", "rating", width=12, also=("Distribution block rating",), help="The block, and what joins it to the branch OCPDs, is rated for the panel feeder OCPD."),
        _text("block", "Power power distribution block", 58, role="result", also=("Distribution block",), help="Poles, rating and the openings of one pole, in and out."),
        _text("contactor", "Contactor", 36, role="result", help="Resistive rating: covers the line current once."),
        _result("disconnect_a", "Disconnect rating", "A", "rating", help="Opens all ungrounded conductors, in sight or lockable."),
        _text("disconnect", "Disconnect", 31, role="result", help="The stock part, or the smallest switch that takes the panel feeder OCPD."),
        _result("torque_nm", "Panel feeder torque", "N·m", "torque", us_unit="lbf·in", also=("Feed torque",), help="Of the panel feeder's terminals on the block: the part's own marking, else the code's default for that wire."),
        _calc("drop_pct", "Panel feeder drop", "%", "percent_2", also=("Feed drop",), help="Voltage drop of the panel feeder; blank where no length is known."),
        _calc("fault_ka", "Fault current", "kA", "kiloamps", help="Available at the panel; blank where the source is not known."),
        _result("sccr_ka", "Panel SCCR", "kA", "kiloamps", also=("Panel rating",), help="Lowest short-circuit rating of its parts."),
        _text("sccr_part", "Lowest-rated part", 25, also=("Set by",), help="The part with the lowest short-circuit rating."),
        _result("limit_terminals", "Limit string terminals", "ea", "count", total="sum", width=11, also=("Protector terminals",), help="Terminals of the limit string in this panel."),
        _calc("connected_kw", "Connected", "kW", "kw", total="sum", help="Heaters times rated power."),
        FINDINGS_OF_ROW, BASIS,
    ),
)

PANEL_TYPES = Sheet(
    "panel_types", "Panel types", "panel type", "Panels that are built alike: price and draw each type once.", key=("project", "type"),
    columns=(
        PROJECT,
        _text("type", "Type", 10, role="result", help="Name of the type."),
        _result("quantity", "Quantity", "ea", "count", total="sum", help="Panels of this type."),
        _text("configuration", "Configuration", 72, role="result", help="What it is, in words."),
        _calc("heaters", "Heaters each", "ea", "count", help="Heaters on one panel."),
        _calc("branches", "Branches each", "ea", "count", help="Branch circuits in one panel."),
        _calc("maximum_a", "Maximum line current", "A", "amps", also=("Greatest line",), help="Maximum line current of one panel."),
        _result("panel_feeder_device_a", "Panel feeder OCPD", "A", "rating", also=("Feed device",), help="Overcurrent device of the panel feeder."),
        _text("used_on", "Used on", 60, help="Panels of this type."),
    ),
)

CIRCUITS = Sheet(
    "circuits", "Circuits", "branch circuit", "The electrician's schedule: one row for each branch circuit.", key=("project", "panel", "branch"),
    columns=(
        PROJECT,
        _text("panel", "Panel", 19, role="result", help="Panel tag, or the tank and bank of a single-circuit bank."),
        _result("branch", "Branch", "no.", "count", width=8, help="Number of the branch in its panel."),
        TANK, BANK,
        _text("heater", "Heater", 9, role="result", help="Number of the heater in its bank; 1 to n on a single-circuit bank."),
        _result("circuit", "Element circuit", "no.", "count", width=9, help="Which circuit of that heater."),
        _text("terminals", "Panel terminals", 12, role="result", help="Terminals of the panel: L1, L2, L3, N."),
        _text("phases_on", "Phases", 14, role="result", help="Supply lines of the branch."),
        _calc("amps_a", "Design current", "A", "amps", help="Current of this branch."),
        _calc("required_a", "Minimum OCPD and circuit ampacity", "A", "amps", also=("With margin",), help="Design current times 1 + margin."),
        _result("rating_a", "Branch OCPD", "A", "rating", also=("Device",), help="Rating of its overcurrent device."),
        _text("device", "OCPD type", 44, role="result", also=("Device kind",), help="Class or type, poles, volts and interrupting rating."),
        _calc("connected_kw", "Connected", "kW", "kw", total="sum", help="Rated power on this branch."),
        _text("wire", "Wire", 18, role="result", help="Conductors and size."),
        _text("ground", "EGC", 12, role="result", also=("Ground",), help="Equipment grounding conductor."),
        _text("raceway", "Raceway", 16, role="result", help="Trade size and kind."),
        _given("heater_run_m", "Length", "m", "length", us_unit="ft", help="One way from the panel, or from the contactor where the bank is a single circuit; blank where not given."),
        _calc("drop_pct", "Branch drop", "%", "percent_2", help="Voltage drop of this branch."),
        _calc("total_drop_pct", "Total drop", "%", "percent_2", help="Feeder, panel feeder and branch together."),
        _result("torque_nm", "Torque", "N·m", "torque", us_unit="lbf·in", help="Of the branch terminals: the part's own marking, else the code's default for that wire."),
        _text("governed_by", "Sizing basis", 28, also=("Wire governed by",), help="Which test set the wire."),
        BASIS,
    ),
)

FEEDERS = Sheet(
    "feeder_totals", "Feeders", "feeder", "What each feeder carries, by phasors, and what it needs.", key=("project", "feeder"),
    as_sized=("volts_v", "phases", "wires", "demand_factor", "other_load_a", "margin_pct", "device_a", "existing_device_a", "source_kva"),
    columns=(
        PROJECT, FEEDER, STATUS,
        _text("system", "System", 20, role="input", help="How the source is grounded, given or assumed."),
        _given("volts_v", "Volts", "V", "volts", help="As on the Feeders sheet of the job."),
        _given("phases", "Phases", "ph", "count", help="1 or 3."),
        _given("wires", "Wires", "ea", "count", help="Without the grounding conductor."),
        _calc("banks", "Banks", "ea", "count", total="sum", help="Banks on this feeder."),
        _calc("heaters", "Heaters", "ea", "count", total="sum", help="Heaters on this feeder."),
        _calc("panels", "Heater panels", "ea", "count", total="sum", also=("Branch panels",), help="Heater panels on this feeder."),
        _calc("connected_kw", "Connected", "kW", "kw", total="sum", help="Rated power of all its heaters."),
        _given("demand_factor", "Demand factor", "", "factor", help="1.0 unless given."),
        _calc("demand_kw", "Demand", "kW", "kw", total="sum", help="Connected times demand factor.",
              formula="[connected_kw]*[demand_factor]"),
        _given("other_load_a", "Other load", "A", "amps", help="Added in full to every line."),
        _result("i_a", "I A", "A", "amps", help="Design current in line A, without demand factor, with other load."),
        _result("i_b", "I B", "A", "amps", help="Design current in line B."),
        _result("i_c", "I C", "A", "amps", help="Design current in line C."),
        _result("i_n", "I N", "A", "amps", help="Design current in the neutral."),
        _calc("maximum_a", "Maximum line current", "A", "amps", also=("Greatest line",), help="Maximum of the line currents.", formula=MAXIMUM),
        _calc("unbalance_pct", "Unbalance", "%", "percent", help="Maximum deviation from the mean line current, over the mean.",
              formula=UNBALANCE),
        _calc("unbalance_before_pct", "Unbalance before balancing", "%", "percent", also=("Unbalance as dealt",), help="The same with every bank starting on A-B: what balancing gained."),
        _given("margin_pct", "Continuous-load margin", "%", "percent", also=("Current margin",), help="Added to the current before a device or wire is chosen."),
        _calc("required_a", "Minimum OCPD and circuit ampacity", "A", "amps", also=("With margin",), help="Maximum line current, with demand where allowed, times 1 + margin.",
              formula="[maximum_a]*(1+[margin_pct]/100)"),
        _result("device_a", "Feeder OCPD", "A", "rating", also=("Device",), help="Smallest standard rating that serves, or the existing one where it does.",
                formula=NEXT_RATING.format(key="required_a")),
        _text("device", "OCPD type", 44, role="result", also=("Device kind",), help="Class or type, poles, volts and interrupting rating."),
        _given("existing_device_a", "Existing OCPD rating", "A", "rating", also=("Existing device",), help="As given."),
        _text("wire", "Wire", 22, role="result", help="Sets x lines of size."),
        _text("neutral", "Neutral", 12, role="result", help="Neutral of each set; blank where there is none."),
        _text("ground", "EGC", 16, role="result", also=("Ground",), help="Equipment grounding conductor of each set."),
        _text("raceway", "Raceway", 16, role="result", help="Trade size and kind of each set."),
        _text("governed_by", "Sizing basis", 28, also=("Wire governed by",), help="Which test set the wire."),
        _calc("drop_pct", "Feeder drop", "%", "percent_2", help="Voltage drop of the feeder; blank where no length is known."),
        _calc("use_kva", "Transformer load", "kVA", "kva", also=("Source in use",), help="From the maximum line current."),
        _given("source_kva", "Source", "kVA", "kva", help="As given."),
        _result("next_kva", "Smallest standard transformer", "kVA", "kva", width=12, also=("Next standard transformer",), help="Smallest standard rating that carries the load."),
        _calc("fault_ka", "Fault at source", "kA", "kiloamps", help="Given, or from the transformer; blank where not known."),
        _calc("fault_end_ka", "Fault at the end", "kA", "kiloamps", help="Behind the feeder's own conductors."),
        FINDINGS_OF_ROW, BASIS,
    ),
)

WIRING = Sheet(
    "wiring", "Wiring", "conductor", "Terminal to terminal, panel by panel, with the limit string in series.",
    columns=(
        replace(PROJECT, width=10),
        _text("panel", "Panel", 19, role="result", help="Tag of the panel."),
        _text("type", "Type", 8, role="result", help="Panels of one type are wired alike; blank for a single-circuit bank."),
        Column("no", "No.", "", kind="integer", format="count", width=5, role="text", help="Order of wiring in the panel."),
        _text("start", "From", 22, role="result", help="L block pole, F OCPD pole, HTR heater lead, WP wye point, TB3 limit string terminal."),
        _text("end", "To", 26, role="result", help="The other end."),
        _text("conductor", "Conductor", 38, role="result", help="What connects them."),
        _text("purpose", "Purpose", 20, help="What it is for."),
    ),
)

PANEL_LABELS = Sheet(
    "panel_labels", "Label list", "panel type",
    "The labels of the sheet Panel labels as rows, to filter or to hand to whatever prints labels. These rows are not printed a second time.",
    key=("project", "type"),
    columns=(
        PROJECT,
        _text("type", "Type", 10, role="result", help="Panel type."),
        _text("volts", "Supply", 30, role="result", help="Volts, phases and system."),
        _text("branches", "Branches", 30, role="result", help="How many, and the rating of each."),
        _text("replace", "Replace branch OCPDs by", 40, role="result", also=("Replace branch devices by",), help="Same type and rating only."),
        _text("feed", "Panel feeder", 40, role="result", also=("Feed",), help="Panel feeder OCPD and wires."),
        _text("branch_wire", "Branch wires", 24, role="result", help="Size, material and insulation."),
        _result("torque_nm", "Branch torque", "N·m", "torque", us_unit="lbf·in", help="Branch terminals."),
        _result("panel_feeder_torque_nm", "Panel feeder torque", "N·m", "torque", us_unit="lbf·in", also=("Feed torque",), help="Feed terminals of the block."),
        _text("torque_from", "Torque from", 40, help="The part's own marking, or the code's default."),
        _text("sccr", "Short-circuit rating", 34, role="result", help="Of the panel, and the part that sets it."),
        _text("panels", "Panels with other sources at the same tank", 50, help="Tags of panels that stay live when this one is opened."),
    ),
)

MATERIALS = Sheet(
    "materials", "Materials", "part", "What to buy, per panel type, single-circuit banks, feeders and wiring. A line without a price is not in the total.",
    columns=(
        PROJECT,
        _text("used_for", "Used for", 13, role="result", help="Panel type, single-circuit banks, feeders, wiring or labour."),
        _text("role", "What", 20, role="result", help="What the part does."),
        _text("part", "Stock part", 14, role="input", help="The part of the Stock sheet; blank where none was chosen."),
        _text("words", "Description", 57, role="result", help="Rating and kind in words."),
        _result("quantity", "Quantity", "of unit", "number", help="How many; blank for what goes by length."),
        _text("unit", "Unit", 6, help="ea or h."),
        _result("length_m", "Length", "m", "length", us_unit="ft", help="Of wire and raceway, one way as drawn, without waste."),
        _given("unit_price", "Unit price", "per unit", "money", help="From the Stock sheet; blank: no price."),
        _calc("price", "Price", "currency", "money", total="sum", help="Quantity times unit price; blank where there is no price.",
              formula='IF([unit_price]="","",[quantity]*[unit_price])'),
        _given("hours_each", "Hours each", "h", "hours", help="From the Stock sheet."),
        _calc("hours", "Hours", "h", "hours", total="sum", help="Quantity times hours each.",
              formula='IF([hours_each]="","",[quantity]*[hours_each])'),
        _text("priced", "Priced", 10, role="result", help="priced, or no price.", formula='IF([unit_price]="","no price","priced")'),
    ),
)

FINDINGS = Sheet(
    "findings", "Findings", "finding", "Everything a person should know, worst first. Notes are said once with a count.", key=("no",),
    columns=(
        Column("no", "No.", "", kind="integer", format="count", width=7, role="text", help="Number of the finding in this workbook."),
        _text("severity", "Severity", 10, role="result", help="hold, caution or note."),
        _text("effect", "Effect", 16, role="result", help="not sized: left out of every total; not released for fabrication: sized and counted, but must not be built so."),
        _text("code", "Code", 26, help="Stable name of this kind of finding; README lists them all."),
        _text("message", "What", 60, role="result", help="What was found."),
        _text("advice", "What to do", 50, help="How to put it right."),
        _text("go_to", "Go to", 16, role="result", help="Sheet and row that it is about; a link."),
        PROJECT, TANK, BANK, FEEDER,
        Column("count", "Rows", "ea", kind="integer", format="count", width=7, role="calculation", help="How many rows it concerns."),
        _text("where", "Sheet and cell", 22, help="Where it stands in the workbook that was read."),
        _text("seen", "Value seen", 16, role="input", help="What stood there."),
        _text("basis", "Basis", 36, help="Rule or practice behind it."),
    ),
)

CODE_BASIS = Sheet(
    "code_basis", "Code basis", "value", "Every factor and table that the sizing used, with its source.",
    columns=(
        _text("rule_set", "Rule set", 14, help="Edition."),
        _text("name", "Name", 30, help="Name of the value."),
        _text("what", "What it is", 56, help="In words."),
        Column("value", "Value", "", kind="number", format="number_any", width=12, role="calculation", help="The value itself."),
        _text("unit", "Unit", 10, help="Unit of the value."),
        _text("source", "Source", 60, help="Document, section, table."),
        _text("status", "Status", 20, help="seen in print, trade practice, or from memory, unverified."),
    ),
)

CHECKS = Sheet(
    "checks", "Checks", "check", "The workbook checked against itself: a difference shows FAIL here and on Read first.",
    columns=(
        PROJECT,
        _text("check", "Check", 46, help="What is compared."),
        _calc("left", "This", "", "number_any", 13, help="First figure."),
        _calc("right", "Against", "", "number_any", 13, help="Second figure."),
        _calc("difference", "Difference", "", "number_any", 13, help="First minus second.", formula="[left]-[right]"),
        _calc("tolerance", "Tolerance", "", "number_any", 17, help="Greatest difference that passes."),
        _text("verdict", "Verdict", 10, role="result", help="PASS or FAIL.", formula='IF(ABS([difference])<=[tolerance],"PASS","FAIL")'),
    ),
)

CARRIED_FORWARD = Sheet(
    "carried_forward", "Carried forward", "value", "Values in force that the rows as received do not state: kept from an earlier revision, or typed into results.",
    also=("Decided",),
    columns=(
        _text("sheet", "Sheet", 10, help="Input sheet that the value belongs to."),
        PROJECT, TANK, BANK, FEEDER,
        _text("part", "Part", 16, help="Part of the stock list."),
        _text("column", "Column", 24, help="Column of that sheet."),
        _text("value", "Value", 24, role="result", help="The value in force."),
        _text("instead_of", "Instead of", 24, role="calculation", help="What the row as received says; blank: nothing. Where that is changed, the row counts."),
        _text("unit", "Unit", 10, help="Unit of the value."),
        _text("source", "From", 34, help="Workbook that it comes from."),
    ),
)

ELECTRICAL: tuple[Sheet, ...] = (
    BANKS, PANELS, PANEL_TYPES, CIRCUITS, FEEDERS, MATERIALS, PANEL_LABELS, WIRING, CARRIED_FORWARD, FINDINGS, CODE_BASIS, CHECKS,
)
