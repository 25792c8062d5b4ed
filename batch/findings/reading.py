"""Kinds of finding that reading a workbook can give: file, sheets, headings, units, cells, rows, names.

A cell fault is a hold where a guess could size the row wrongly; where nothing sizes with the cell, the same fault is
told as `cell-set-aside` and the cell is left blank. None of these rules has an outside source: they are how this program
keeps from guessing, and their basis says so.
"""

from __future__ import annotations

from batch.findings.reading_basis import FIRE, KEPT, OVERLOAD, caution, hold, note
from batch.findings.reading_cells import CELLS, UNITS
from batch.findings.reading_lists import LISTS
from batch.findings.record import Kind

SHEETS = (
    hold(
        "sheet-heaters-missing",
        "No heater list",
        "No sheet of this workbook could be read as the heater list: {why}.",
        "Name the sheet that lists the heaters Heaters, with the headings Tank, Quantity, Power, Volts and Phases.",
    ),
    hold(
        "sheet-no-heaters",
        "Heater list without heaters",
        "Sheet {sheet} has its headings but no heater below them.",
        "Fill in one row for each bank of identical heaters.",
    ),
    hold(
        "sheet-repeated",
        "Two sheets of one kind",
        "Sheets {first} and {sheet} both look like the {kind} sheet; {first} is read, {sheet} is not ({rows}).",
        "Put all rows on one sheet, or rename the sheet that is not meant.",
    ),
    caution(
        "sheet-stray-cell",
        "Cells far outside the table",
        "Far from the rest of sheet {sheet} something stands in {cells}; it is not read.",
        "Delete those cells, or move them next to the table if they belong to it.",
        KEPT,
    ),
    caution(
        "workbook-half-seen",
        "Kind of workbook that is only half seen",
        "In this kind of workbook an error cell cannot be told from a blank one, nor 25 % from 0.25.",
        "Look for error cells and percentages yourself, or save the workbook as .xlsx and read that.",
    ),
    caution(
        "workbook-looks-unseen",
        "Marks on cells are not seen",
        "In this kind of workbook it is not seen what is struck through, hidden or commented: such a row is sized like the others.",
        "Look for struck and hidden rows and for comments yourself, or save the workbook as .xlsx and read that.",
    ),
    caution(
        "job-divided",
        "Job divided over several workbooks",
        "This is section {number} of {of}, {banks} of {all} banks: the job is more than one workbook holds well. Feeders, sources and tanks are "
        "whole in it; types of panels are named, and materials and spares counted, in each section by itself.",
        "For the whole job see all sections, in the workbook that lists them; compare and issue them together.",
    ),
    caution(
        "job-not-divided",
        "Job too large for one workbook, and not to be divided",
        "Its {banks} banks are in one workbook, more than one holds well: {held}.",
        "Name a listed feeder in each row and a listed source on each feeder, and the job comes out in sections; or part the job yourself.",
    ),
    note(
        "text-table",
        "Table read from text",
        "The file is text: letters {letters}, cells parted by {mark}, {rows:row that holds|rows that hold} something.",
        "Nothing, if As received shows the cells as the list has them.",
    ),
    caution(
        "text-letters-unsure",
        "Letters of a text file not certain",
        "Which letters the file uses is not said in it: {taken} are taken, by which it says \"{one}\"; by {letters} the same is \"{other}\".",
        "Compare the two with the list; if the other is right, save the list as CSV UTF-8, or as .xlsx.",
    ),
    caution(
        "text-quotes-unsure",
        "Quotation marks of a text file not certain",
        "Quotation marks in the file do not stand in pairs, about \"{seen}\": they are taken for inches and ditto marks, and hold no cells together.",
        "Compare As received with the list; if cells are torn apart, save the list as .xlsx.",
    ),
    caution(
        "text-by-position",
        "Table parted by spaces",
        "Nothing but spaces parts the cells of this text: the {columns} columns are taken by where the words stand.",
        "Compare As received with the list; if cells are torn apart or joined, paste the table into a spreadsheet program and save it.",
    ),
    caution(
        "sheet-parted",
        "Rows parted into cells",
        "Sheet {sheet} has each row as one text in column {column}: it is read in {columns} columns, parted by {mark}; cells that findings name are counted so.",
        "Compare As received with the list; if cells are torn apart or joined, part them in a spreadsheet program (text to columns) and save.",
    ),
    note(
        "sheet-taken",
        "Sheet taken by its headings",
        "Sheet {sheet} is read as {kind}: it alone has the headings that {kind} needs, and no sheet has that name.",
        "Rename the sheet if that is what it is.",
    ),
    note(
        "sheet-not-recognised",
        "Sheet not recognised",
        "Sheet {sheet} is not one of the sheets that are read; it is kept as received ({rows}).",
        "Nothing, if the sheet is meant for people; else give it the name of the sheet it should be.",
        KEPT,
    ),
    note(
        "map-used",
        "Read by a column map",
        "Sheet {sheet} is read as {kind} by the column map {map}{more}.",
        "Look whether the map is the one for this list.",
    ),
    note("code-basis-asked", "Code basis as asked for", "Code basis is blank, and {rule_set} is taken, as whoever sized asked for.",
         "Fill Code basis on the Projects sheet where another code is in force: it goes before the option.", "the option --code"),
    note("sheet-missing", "Sheet missing", "No {kind} sheet: {means}.", "Add the sheet if the defaults do not suit."),
    note("sheet-hidden", "Hidden sheet or rows", "Sheet {sheet} is {state}; {used}.", "Look whether it should be there."),
    note(
        "sheet-other-reader",
        "Slower reader used",
        "The workbook was read the slow way: {why}.",
        "Nothing; to be quicker next time, save it again from a spreadsheet program.",
        KEPT,
    ),
    note(
        "workbook-macros",
        "Macros left alone",
        "The workbook carries macros; they were neither run nor copied.",
        "Nothing, unless a macro was meant to fill in cells: then run it in the spreadsheet program and save.",
        KEPT,
    ),
)

HEADINGS = (
    hold(
        "headings-not-found",
        "No heading row",
        "Sheet {sheet}: none of its first {looked} rows has the headings of the {kind} sheet, so nothing of it is read ({rows}).",
        "Give the columns their headings in one row above the first row of data.",
    ),
    hold(
        "heading-missing",
        "Needed heading missing",
        "Sheet {sheet} has no heading for {column}, without which no row can be read.{offer}",
        "Add the column, or give the one that holds it this heading.",
    ),
    hold(
        "headings-change",
        "Headings change below",
        "Row {row} of sheet {sheet} has headings in another order than row {first}; the rows below it are not read.",
        "Put both tables into the same columns, or on sheets of their own.",
    ),
    note(
        "headings-anew",
        "New headings below",
        "Row {row} of sheet {sheet} has headings in another order than row {first}; the rows below it are read by its own.",
        "Look whether the rows below it came out right.",
        KEPT,
    ),
    note(
        "rows-above",
        "Rows above the headings",
        'Sheet {sheet}: not read, because above the headings in row {first}: {rows}, "{words}".',
        "Look whether something there holds for the rows below, such as volts; if so, fill it in in their columns.",
        KEPT,
    ),
    note(
        "tables-side-by-side",
        "Tables beside each other",
        "Sheet {sheet} has {count} tables beside each other; each is read by itself: columns {columns}.",
        "Look whether each of them came out whole.",
        KEPT,
    ),
    caution(
        "heading-near",
        "Heading nearly right",
        'Heading "{heading}" of sheet {sheet} matches no column; is it {column}? It is not used.',
        "Correct the heading if that is what it is.",
    ),
    caution(
        "heading-repeated",
        "Heading repeated",
        "Sheet {sheet} has {column} in the columns {letters}; where both are filled in they must agree, else the row is not sized.",
        "Keep one of them.",
    ),
    note(
        "heading-passed-over",
        "Second heading for one column",
        'Heading "{heading}" of sheet {sheet} could also mean {column}, which stands in column {letters}; "{heading}" is not used.',
        "Look whether the right one is used.",
        KEPT,
    ),
    note(
        "extra-heading-kept",
        "Headings that ride along",
        "Sheet {sheet}: not read, but kept as received: {headings}.",
        "Nothing, if they are for people only.",
        KEPT,
    ),
)

ROWS: tuple[Kind, ...] = (
    caution(
        "row-note",
        "Row that looks like a note",
        'Row {row} holds only "{value}"; it was taken for a note and not sized.',
        "If it is a heater or a supply, fill in its starred columns.",
        KEPT,
    ),
    note(
        "row-total",
        "Total row left out",
        'Row {row} looks like a total ("{value}") and was not read as data.',
        "Nothing; totals are worked out anew.",
        KEPT,
    ),
    note("row-headings-again", "Headings repeated below", "Row {row} repeats the headings and was passed over.", "Nothing.", KEPT),
    note(
        "rows-empty",
        "Rows with nothing to read",
        "Sheet {sheet}: nothing in any column that is read in {rows}.",
        "Nothing, if they are spare rows.",
        KEPT,
    ),
)

ROWS += (
    caution(
        "more-of-a-kind",
        "More findings of one kind",
        'Sheet {sheet}: {count:more finding|more findings} of the kind "{title}" {count:~is|are} not listed one by one; {count:~its row|each of their rows} says it in As received.',
        "Put the first ones right; the others probably have the same cause.",
        KEPT,
    ),
    caution(
        "rows-counted",
        "Rows with a running number only",
        "Sheet {sheet}: {rows} hold a running number in the tank's column and nothing else; taken for spare rows and not sized.",
        "If they are tanks with heaters, fill in their starred columns.",
        KEPT,
    ),
)

NAMES = (
    hold(
        "project-blank",
        "Project not said",
        "The workbook has {count} projects and this row does not say which is its own.",
        "Fill in Project.",
    ),
    hold(
        "project-unknown",
        "Unknown project",
        'Project "{project}" is not on the Projects sheet.{offer}',
        "Correct the name, or add the project there.",
    ),
    hold(
        "project-not-read",
        "Project settings not readable",
        "The row of project {project} on the Projects sheet could not be read. Not sized for that: {rows} of sheet {sheet}.",
        "Mend the project's row first.",
    ),
    hold(
        "feeder-not-read",
        "Feeder not readable",
        "Not sized, because on a feeder whose row could not be read, or perhaps on it: {rows} of sheet {sheet}.",
        "Mend the rows of the Feeders sheet first.",
    ),
    hold(
        "feeder-contradicts",
        "Feeder given twice",
        "Feeder {feeder} is given in rows {rows}, and they differ: {columns}.",
        "Keep the right one.",
    ),
    caution(
        "feeder-repeated",
        "Feeder given twice",
        "Feeder {feeder} is given in rows {rows} alike; the first is used.",
        "Delete the others.",
    ),
    caution(
        "project-repeated",
        "Project given twice",
        "Project {project} is given in rows {rows}; the first is used.",
        "Keep the right one.",
    ),
    caution("source-repeated", "Source given twice", "Source {source} is given in rows {rows}; the first is used.", "Keep the right one."),
    caution("tank-repeated", "Tank given twice", "Tank {tank} is given in rows {rows}; the first is used.", "Keep the right one."),
    note(
        "stock-of-firm",
        "The firm's own stock list",
        "Parts come from the firm's own stock list too, {count} of them; checksum {checksum}.",
        "Nothing, if the list is the one in force: these results keep it.",
    ),
    note(
        "words-of-firm",
        "The firm's own words of the trade",
        "The list was read by the firm's own words too: {files}; checksum {checksum}.",
        "Nothing, if they are the ones in force; without them the list may be read otherwise.",
    ),
    note(
        "stock-of-job-first",
        "Part in the job's stock and in the firm's",
        "The job's own Stock sheet stands for {count:part|parts} that the firm's list has too: {examples}. Not used of the firm's: {rows}.",
        "Nothing, if the job's own figures are meant; else take them out of its Stock sheet.",
    ),
    caution("part-repeated", "Part given twice", "Part {part} is given in rows {rows}; the first is used.", "Keep the right one."),
    caution(
        "heater-without-tank",
        "Heater without its tank",
        "Tank {tank} is not on the Tanks sheet: its heat is not checked and its low-level cutoff is unknown.",
        "Add the tank there, or correct the tag.", harm=FIRE,
    ),
    caution(
        "tank-not-read",
        "Tank not readable",
        "The row of tank {tank} could not be read: its heat is not checked and its low-level cutoff is unknown.",
        "Mend the tank's row.", harm=FIRE,
    ),
    note(
        "tank-without-heaters",
        "Tank without heaters",
        "Tank {tank} has no heaters in the heater list.",
        "Add them if it is heated electrically.",
        KEPT,
    ),
    note(
        "project-implicit",
        "Project taken from the rows",
        "No Projects row: {projects} with default settings.",
        "Fill in the Projects sheet if the defaults do not suit.",
    ),
    caution(
        "name-near",
        "Name read in spite of its spaces",
        '{column} "{given}" is listed nowhere and was read as "{used}": they differ in spaces alone.',
        "Spell it one way; if it is another one, list it on its own sheet.",
        harm=OVERLOAD,
    ),
    note("name-respelt", "Name spelt two ways", '{column} "{given}" is taken as "{used}", spelt so in another row.', "Spell it one way."),
)

READING: tuple[Kind, ...] = (*SHEETS, *HEADINGS, *UNITS, *CELLS, *ROWS, *NAMES, *LISTS)
