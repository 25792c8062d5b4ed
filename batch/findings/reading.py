"""Kinds of finding that reading a workbook can give: file, sheets, headings, units, cells, rows, names.

A cell fault is a blocker where a guess could size the row wrongly; where nothing sizes with the cell, the same fault is
told as `cell-set-aside` and the cell is left blank. None of these rules has an outside source: they are how this program
keeps from guessing, and their basis says so.
"""

from __future__ import annotations

from batch.findings.record import Effect, Kind, Severity

OURS = "a rule of this program: what cannot be read for certain is not sized"
ASSUMED = "a rule of this program: every assumption is said"
KEPT = "a rule of this program: no row that was read is lost"


def _blocker(code: str, title: str, template: str, advice: str, basis: str = OURS) -> Kind:
    return Kind(code, Severity.BLOCKER, title, template, basis, advice, Effect.NOT_SIZED)


def _caution(code: str, title: str, template: str, advice: str, basis: str = ASSUMED) -> Kind:
    return Kind(code, Severity.CAUTION, title, template, basis, advice)


def _note(code: str, title: str, template: str, advice: str, basis: str = ASSUMED) -> Kind:
    return Kind(code, Severity.NOTE, title, template, basis, advice)


SHEETS = (
    _blocker(
        "sheet-heaters-missing",
        "No heater list",
        "No sheet of this workbook could be read as the heater list: {why}.",
        "Name the sheet that lists the heaters Heaters, with the headings Tank, Quantity, Power, Volts and Phases.",
    ),
    _blocker(
        "sheet-no-heaters",
        "Heater list without heaters",
        "Sheet {sheet} has its headings but no heater below them.",
        "Fill in one row for each bank of identical heaters.",
    ),
    _blocker(
        "sheet-repeated",
        "Two sheets of one kind",
        "Sheets {first} and {sheet} both look like the {kind} sheet; {first} is read, {sheet} is not ({rows}).",
        "Put all rows on one sheet, or rename the sheet that is not meant.",
    ),
    _caution(
        "sheet-stray-cell",
        "Cells far outside the table",
        "Far from the rest of sheet {sheet} something stands in {cells}; it is not read.",
        "Delete those cells, or move them next to the table if they belong to it.",
        KEPT,
    ),
    _caution(
        "workbook-half-seen",
        "Kind of workbook that is only half seen",
        "In this kind of workbook an error cell cannot be told from a blank one, nor 25 % from 0.25.",
        "Look for error cells and percentages yourself, or save the workbook as .xlsx and read that.",
    ),
    _note(
        "sheet-taken",
        "Sheet taken by its headings",
        "Sheet {sheet} is read as {kind}: it alone has the headings that {kind} needs, and no sheet has that name.",
        "Rename the sheet if that is what it is.",
    ),
    _note(
        "sheet-not-recognised",
        "Sheet not recognised",
        "Sheet {sheet} is not one of the sheets that are read; it is kept as received ({rows}).",
        "Nothing, if the sheet is meant for people; else give it the name of the sheet it should be.",
        KEPT,
    ),
    _note("sheet-missing", "Sheet missing", "No {kind} sheet: {means}.", "Add the sheet if the defaults do not suit."),
    _note("sheet-hidden", "Hidden sheet or rows", "Sheet {sheet} is {state}; {used}.", "Look whether it should be there."),
    _note(
        "sheet-other-reader",
        "Slower reader used",
        "The workbook was read the slow way: {why}.",
        "Nothing; to be quicker next time, save it again from a spreadsheet program.",
        KEPT,
    ),
    _note(
        "workbook-macros",
        "Macros left alone",
        "The workbook carries macros; they were neither run nor copied.",
        "Nothing, unless a macro was meant to fill in cells: then run it in the spreadsheet program and save.",
        KEPT,
    ),
)

HEADINGS = (
    _blocker(
        "headings-not-found",
        "No heading row",
        "Sheet {sheet}: none of its first {looked} rows has the headings of the {kind} sheet, so nothing of it is read ({rows}).",
        "Give the columns their headings in one row above the first row of data.",
    ),
    _blocker(
        "heading-missing",
        "Needed heading missing",
        "Sheet {sheet} has no heading for {column}, without which no row can be read.{offer}",
        "Add the column, or give the one that holds it this heading.",
    ),
    _blocker(
        "headings-change",
        "Headings change below",
        "Row {row} of sheet {sheet} has headings in another order than row {first}; the rows below it are not read.",
        "Put both tables into the same columns, or on sheets of their own.",
    ),
    _caution(
        "heading-near",
        "Heading nearly right",
        'Heading "{heading}" of sheet {sheet} matches no column; is it {column}? It is not used.',
        "Correct the heading if that is what it is.",
    ),
    _caution(
        "heading-repeated",
        "Heading repeated",
        "Sheet {sheet} has {column} in the columns {letters}; where both are filled in they must agree, else the row is not sized.",
        "Keep one of them.",
    ),
    _note(
        "heading-passed-over",
        "Second heading for one column",
        'Heading "{heading}" of sheet {sheet} could also mean {column}, which stands in column {letters}; "{heading}" is not used.',
        "Look whether the right one is used.",
        KEPT,
    ),
    _note(
        "heading-rides-along",
        "Headings that ride along",
        "Sheet {sheet}: not read, but kept as received: {headings}.",
        "Nothing, if they are for people only.",
        KEPT,
    ),
)

UNITS = (
    _blocker(
        "unit-unknown-heading",
        "Unknown unit in a heading",
        'The unit of {column} is not known: "{unit}" is not a unit of {quantity} such as {such}.',
        "Correct the unit in the heading.",
    ),
    _blocker("unit-unknown", "Unknown unit", '{column}: "{unit}" is not a unit of {quantity} such as {such}.', "Write a known unit."),
    _note(
        "unit-assumed",
        "No unit given",
        "Sheet {sheet}: no unit is given, so these were read as: {columns}.",
        'Write the unit into the heading, as in "Length (ft)".',
    ),
)

CELLS = (
    _blocker("cell-missing", "Needed cell blank", "{column} is blank. It wants: {help}", "Fill it in."),
    _blocker(
        "cell-placeholder", "Placeholder in a needed cell", '{column} is not given yet: "{value}".', "Fill it in when it is known."
    ),
    _blocker("cell-error", "Error in a cell", "{column} holds the error {value}.", "Mend the formula in the cell, save, and read again."),
    _blocker(
        "cell-not-calculated",
        "Formula without a result",
        "{column} holds a formula whose result was never stored.",
        "Open the workbook in a spreadsheet program, let it calculate, save, and read again; or type the value.",
    ),
    _blocker(
        "cell-not-number",
        "Not a number",
        '{column} should be a number ({such}); "{value}" is not one that can be read for certain.',
        "Type the plain number, with its unit if that is not the column's own.",
    ),
    _blocker(
        "cell-ambiguous",
        "Number with two meanings",
        '{column}: "{value}" can mean {one} or {other}.',
        "Type it as a number, not as text, or without a thousands separator.",
    ),
    _blocker("cell-negative", "Negative number", "{column} is negative: {value}.", "Correct the cell."),
    _blocker("cell-zero", "Zero", "{column} is zero.", "Correct the cell."),
    _blocker("cell-out-of-range", "Out of range", "{column} is {value}; accepted is {limits}.", "Correct the value or its unit."),
    _blocker("cell-not-whole", "Not a whole number", "{column} must be a whole number, not {value}.", "Correct the cell."),
    _blocker("cell-not-allowed", "Not one of the values", "{column} is {value}; accepted is {choices}.", "Choose one of them."),
    _blocker(
        "cell-choice-unknown",
        "Word not known",
        '{column}: "{value}" is not one of its words: {choices}.',
        "Choose one of them, or leave the cell blank.",
    ),
    _blocker(
        "cell-volts-pair",
        "Two voltages for one heater",
        '{column}: "{value}" names two voltages; a heater is rated for one.',
        "Give the volts that one heater is connected and rated for.",
    ),
    _blocker(
        "cell-contradicts",
        "Cells that contradict each other",
        "{column} is given twice in this row and differs: {one} and {other}.",
        "Keep the right one.",
    ),
    _caution(
        "cell-set-aside",
        "Cell set aside",
        "{fault} Nothing is sized with it: the cell is taken as blank.",
        "Correct the cell if it matters to you.",
        KEPT,
    ),
    _caution(
        "tag-is-date",
        "Tag turned into a date",
        "{column} is a date in the file and was read as {value}.",
        "A spreadsheet program has probably turned a tag such as 3-4 into a date: format the cell as text and type it again.",
    ),
    _caution(
        "power-unlikely",
        "Power unusually small",
        "{column} is {value}: very small for an immersion heater.",
        "Look whether watts and kilowatts were mixed up.",
        "common practice, no source",
    ),
    _caution(
        "quantity-numbered",
        "Quantity that looks like item numbers",
        "The quantities below \"{heading}\" run 1, 2, 3 and so on to {last}: they may be item numbers.",
        "If they are, give the column that counts the heaters the heading Quantity.",
    ),
    _caution(
        "volts-pair-wires",
        "Volts and wires disagree",
        '{column}: "{value}" names a system of {named} wires, but Wires is {given}; {given} is used.',
        "Correct one of them.",
    ),
    _note(
        "cell-placeholder-blank", "Placeholder read as blank", '{column}: "{value}" was read as left blank.', "Fill it in when it is known."
    ),
    _note(
        "volts-pair-read",
        "System named by two voltages",
        '{column}: "{value}" was read as {read}.',
        "Correct it if that is not the supply.",
    ),
)

ROWS = (
    _caution(
        "row-note",
        "Row that looks like a note",
        'Row {row} holds only "{value}"; it was taken for a note and not sized.',
        "If it is a heater or a supply, fill in its starred columns.",
        KEPT,
    ),
    _note(
        "row-total",
        "Total row left out",
        'Row {row} looks like a total ("{value}") and was not read as data.',
        "Nothing; totals are worked out anew.",
        KEPT,
    ),
    _note("row-headings-again", "Headings repeated below", "Row {row} repeats the headings and was passed over.", "Nothing.", KEPT),
    _note(
        "rows-empty",
        "Rows with nothing to read",
        "Sheet {sheet}: nothing in any column that is read in {rows}.",
        "Nothing, if they are spare rows.",
        KEPT,
    ),
)

NAMES = (
    _blocker(
        "project-blank",
        "Project not said",
        "The workbook has {count} projects and this row does not say which is its own.",
        "Fill in Project.",
    ),
    _blocker(
        "project-unknown",
        "Unknown project",
        'Project "{project}" is not on the Projects sheet.{offer}',
        "Correct the name, or add the project there.",
    ),
    _blocker(
        "project-not-read",
        "Project settings not readable",
        "The row of project {project} on the Projects sheet could not be read. Not sized for that: {rows} of sheet {sheet}.",
        "Mend the project's row first.",
    ),
    _blocker(
        "feeder-not-read",
        "Feeder not readable",
        "Not sized, because on a feeder whose row could not be read, or perhaps on it: {rows} of sheet {sheet}.",
        "Mend the rows of the Feeders sheet first.",
    ),
    _blocker(
        "feeder-contradicts",
        "Feeder given twice",
        "Feeder {feeder} is given in rows {rows}, and they differ: {columns}.",
        "Keep the right one.",
    ),
    _caution(
        "feeder-repeated",
        "Feeder given twice",
        "Feeder {feeder} is given in rows {rows} alike; the first is used.",
        "Delete the others.",
    ),
    _caution(
        "project-repeated",
        "Project given twice",
        "Project {project} is given in rows {rows}; the first is used.",
        "Keep the right one.",
    ),
    _caution("tank-repeated", "Tank given twice", "Tank {tank} is given in rows {rows}; the first is used.", "Keep the right one."),
    _caution("part-repeated", "Part given twice", "Part {part} is given in rows {rows}; the first is used.", "Keep the right one."),
    _caution(
        "heater-without-tank",
        "Heater without its tank",
        "Tank {tank} is not on the Tanks sheet: its heat is not checked and its low-level cutoff is unknown.",
        "Add the tank there, or correct the tag.",
    ),
    _caution(
        "tank-not-read",
        "Tank not readable",
        "The row of tank {tank} could not be read: its heat is not checked and its low-level cutoff is unknown.",
        "Mend the tank's row.",
    ),
    _note(
        "tank-without-heaters",
        "Tank without heaters",
        "Tank {tank} has no heaters in the heater list.",
        "Add them if it is heated electrically.",
        KEPT,
    ),
    _note(
        "project-implicit",
        "Project taken from the rows",
        "No Projects row: {projects} with default settings.",
        "Fill in the Projects sheet if the defaults do not suit.",
    ),
    _note("name-respelt", "Name spelt two ways", '{column} "{given}" is taken as "{used}", spelt so in another row.', "Spell it one way."),
)

READING: tuple[Kind, ...] = (*SHEETS, *HEADINGS, *UNITS, *CELLS, *ROWS, *NAMES)
