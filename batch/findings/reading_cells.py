"""Kinds of finding that single cells, their units and their numbers can give while a workbook is read."""

from __future__ import annotations

from batch.findings.reading_basis import KEPT, OVERLOAD, SHOCK, caution, hold, note

UNITS = (
    hold(
        "unit-unknown-heading",
        "Unknown unit in a heading",
        'The unit of {column} is not known: "{unit}" is not a unit of {quantity} such as {such}.',
        "Correct the unit in the heading.",
    ),
    hold("unit-unknown", "Unknown unit", '{column}: "{unit}" is not a unit of {quantity} such as {such}.', "Write a known unit."),
    note(
        "unit-assumed",
        "No unit given",
        "Sheet {sheet}: no unit is given, so these were read as: {columns}.",
        'Write the unit into the heading, as in "Length (ft)".',
    ),
)

CELLS = (
    hold("cell-missing", "Needed cell blank", "{column} is blank. It wants: {help}", "Fill it in."),
    hold(
        "cell-placeholder", "Placeholder in a needed cell", '{column} is not given yet: "{value}".', "Fill it in when it is known."
    ),
    hold("cell-error", "Error in a cell", "{column} holds the error {value}.", "Mend the formula in the cell, save, and read again."),
    hold(
        "cell-not-calculated",
        "Formula without a result",
        "{column} holds a formula whose result was never stored.",
        "Open the workbook in a spreadsheet program, let it calculate, save, and read again; or type the value.",
    ),
    hold(
        "cell-not-number",
        "Not a number",
        '{column} should be a number ({such}); "{value}" is not one that can be read for certain.',
        "Type the plain number, with its unit if that is not the column's own.",
    ),
    hold(
        "cell-letter-in-number",
        "Letter in a number",
        '{column}: "{value}" holds the letter {letter} where the figure {figure} may be meant ({meant}).',
        "Type the number in figures alone.",
    ),
    hold(
        "cell-ambiguous",
        "Number with two meanings",
        '{column}: "{value}" can mean {one} or {other}.',
        "Type it as a number, not as text, or without a thousands separator.",
    ),
    hold(
        "tags-in-one-cell",
        "Several tanks in one row",
        '{column} "{value}" names a run of tanks; how many heaters each of them has is not sure.',
        "Give each tank a row of its own.",
    ),
    caution(
        "tag-of-several",
        "Tag that may name several tanks",
        '{column} "{value}" was taken as the name of one tank, with the heaters of this row in all.',
        "If they are several tanks, give each a row of its own.",
    ),
    note(
        "cell-read-as",
        "Several figures in one cell",
        '{column}: "{value}" was read as {read}.',
        "Correct the cell if it means something else.",
    ),
    note(
        "decimal-mark-learned",
        "Comma or point in numbers typed as text",
        'Sheet {sheet}: numbers typed as text have a {mark} before decimals, as "{example}" shows; the others were read the same way.',
        "Look whether that holds for the whole sheet.",
    ),
    note(
        "cells-merged",
        "Merged cells",
        "Sheet {sheet}: what stands in a merged cell was taken for each of its rows in the columns {columns}.",
        "Look whether it was meant so.",
    ),
    hold("cell-negative", "Negative number", "{column} is negative: {value}; accepted is {limits}.", "Correct the cell."),
    hold("cell-zero", "Zero", "{column} is zero.", "Correct the cell."),
    hold("cell-out-of-range", "Out of range", "{column} is {value}; accepted is {limits}.", "Correct the value or its unit."),
    hold("cell-not-whole", "Not a whole number", "{column} must be a whole number, not {value}.", "Correct the cell."),
    hold("cell-not-allowed", "Not one of the values", "{column} is {value}; accepted is {choices}.", "Choose one of them."),
    hold(
        "cell-choice-unknown",
        "Word not known",
        '{column}: "{value}" is not one of its words: {choices}.',
        "Choose one of them, or leave the cell blank.",
    ),
    hold(
        "cell-volts-pair",
        "Two voltages for one heater",
        '{column}: "{value}" names two voltages; a heater is rated for one.',
        "Give the volts that one heater is connected and rated for.",
    ),
    hold(
        "cell-contradicts",
        "Cells that contradict each other",
        "{column} is given twice in this row and differs: {one} and {other}.",
        "Keep the right one.",
    ),
    caution(
        "cell-set-aside",
        "Cell set aside",
        "{fault} Nothing is sized with it: the cell is taken as blank.",
        "Correct the cell if it matters to you.",
        KEPT,
    ),
    caution(
        "cell-taken-as-blank",
        "Cell that cannot be read taken as blank",
        "{fault} The row is sized as if the cell were blank: {blank}.",
        "Correct the cell: what is sized may be another with it.",
        KEPT,
        harm=OVERLOAD,
    ),
    caution(
        "setting-taken-as-blank",
        "Setting that cannot be used taken as blank",
        "{fault} The project is sized as if the cell were blank: {blank}.",
        "Correct the cell: what is judged, built or bought may be another with it.",
        KEPT,
    ),
    caution(
        "tag-is-date",
        "Tag turned into a date",
        "{column} is a date in the file and was read as {value}.",
        "A spreadsheet program has probably turned a tag such as 3-4 into a date: format the cell as text and type it again.",
    ),
    hold(
        "bath-unlikely",
        "Bath temperature that may be in another unit",
        "The operating temperature is {value}, which is {celsius}: hardly a bath that is heated, while {other} would be a usual one.",
        "Correct the unit; if the bath is kept that cold, give its start temperature too.",
        "common practice, no source",
    ),
    caution(
        "power-unlikely",
        "Power unusually small",
        "{column} is {value}: very small for an immersion heater.",
        "Look whether watts and kilowatts were mixed up.",
        "common practice, no source",
    ),
    caution(
        "quantity-numbered",
        "Quantity that looks like item numbers",
        "The quantities below \"{heading}\" run 1, 2, 3 and so on to {last}: they may be item numbers.",
        "If they are, give the column that counts the heaters the heading Quantity.",
    ),
    caution(
        "volts-pair-wires",
        "Volts and wires disagree",
        '{column}: "{value}" names a system of {named} wires, but Wires is {given}; {given} is used.',
        "Correct one of them.", harm=SHOCK,
    ),
    note(
        "cell-placeholder-blank", "Placeholder read as blank", '{column}: "{value}" was read as left blank.', "Fill it in when it is known."
    ),
    note(
        "volts-pair-read",
        "System named by two voltages",
        '{column}: "{value}" was read as {read}.',
        "Correct it if that is not the supply.",
    ),
)
