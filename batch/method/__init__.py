"""THE BOOK: the method of this program, to be read alone, in this order, beside the code in force.

Numbers go in, cited numbers come out. A clause of the code is one function, which gives its figure with the place where it stands and
whether anybody has seen it there (`Cited`); a law of physics is one function, which gives the number. Every function shows its equation,
its quantities with their units in brackets, its reference, and an example whose figure was printed elsewhere or can be worked by hand; the
examples run in the tests. Figures and clauses are data of the rule sets (batch/rules/), so the book holds for every code and edition: a
name in braces, such as {standard_ratings}, is that of a clause, table, factor or list of a rule set, and templates/method.md has every
law with what stands there in each. In the examples `rules` is the rule set that a blank Code basis means, `metric` the one whose sizes
are in mm2; what they say is printed is printed in those codes.

Amps of the code are compared after rounding to 1e-6 A, so that 48.000000001 A x 1.25 still takes 60 A, and 16 A x 1.25 takes 20 A.

    1  currents              what a heater draws at its rating and as applied; design current; power in the bath
    2  subdivided_heaters    48 A an element circuit, 60 A ahead of it
    3  terminals             wires that meet on a terminal, wye points, temperature of terminals, torque
    4  overcurrent           125 % of a continuous load, standard ratings, what a device protects
    5  ampacity              conductors by terminal and by insulation, corrected and adjusted, in parallel
    6  grounding             equipment grounding conductors, supply-side bonding jumpers
    7  raceway               fill and trade size
    8  neutral               neutral load, current-carrying conductors
    9  feeder_load           demand, transformer, ground-fault protection of feeders
    10 voltage_drop          resistance of runs, drop with unequal lines
    11 line_currents         phasor sums: lines and neutral of any mix of heaters
    12 common_point_wye      wyes without a neutral, and what one open branch does to them
    13 fault_current         what the conductors on the way add to a fault
    14 source_load           what the feeders of a source ask of its lines and windings
    15 source_fault          unit, primary, and each kind of fault at each point
    16 taps                  conductors smaller than the device ahead protects; secondary conductors
    17 block_jumpers         what joins a distribution block to the branch devices in its box
    18 transformer_protection   primary device alone, or with secondary devices
    19 distribution_unit     bus, ways, share of a device in use
    20 control_transformer   its rating and the fuses around it; what a contact carries
    21 enclosure_heat        what the parts of a box lose, and how warm it gets
    22 enclosure_space       parts in rows on the plate of a box, the height that they need
    23 heater_test           what a meter should read, all joined and with one branch out
    24 supply_duties         what a system and its volts to ground ask for
    25 contactors            the lower of the continuous and the resistance-heating rating
    26 balance               which phase each bank starts on
    27 panel_split           how many heater panels, and how many heaters in each
    28 earth_fault           the loop of an earth fault, its current, the time to disconnect
    29 residual_devices      residual-current devices: when they open, electrode, leakage
    30 withstand             energy that a conductor bears, energy that a device lets through
    31 selectivity           whether a fuse stays whole behind which another one opens
    32 bath_surface          what leaves a free liquid surface: evaporation, convection, radiation, draught
    33 tank_walls            what leaves through walls and bottom
    34 bath_heat             stored heat, work, make-up and air; power and time to heat up; watt density

Nothing here knows a tag, a stock part, a sentence or a file: `batch.sizing` builds with these functions and says what there is to say.
"""
