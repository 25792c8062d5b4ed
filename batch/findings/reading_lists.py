"""Kinds of finding that reading a customer's own list can give: what was taken for what, what is asked, what became of rows."""

from __future__ import annotations

from batch.findings.reading_basis import ASSUMED, KEPT, caution, hold, note
from batch.findings.record import Kind

IF_NOT = "If it is something else, correct that line in the map that is written beside the results, and size by the map."

LISTS: tuple[Kind, ...] = (
    caution(
        "column-taken",
        "Column taken by likelihood",
        'Sheet {sheet}: "{heading}" (column {letter}) was taken for {column}: {why}. Its line in the map: {line}.',
        IF_NOT,
    ),
    caution(
        "column-rivalled",
        "Column taken where two could be it",
        'Sheet {sheet}: "{heading}" (column {letter}) was taken for {column}: {why}. Its line in the map: {line}.',
        "Say which of the two it is: if it is the other, correct that line in the map that is written beside the results, and size by the map.",
    ),
    caution(
        "power-taken",
        "What the power is of",
        'Sheet {sheet}: the power under "{heading}" was taken for that of {whose}: {why}. The other way, in the map: power = "{other}".',
        IF_NOT,
    ),
    caution(
        "supply-from-words",
        "Volts or phases taken from words beside the list",
        "Sheet {sheet}: {column} = {value} where the row does not say it: {why}. Its line in the map: {line}.",
        "If that is not meant for all heaters, take that line out of the map that is written beside the results, and size by the map.",
    ),
    hold(
        "list-question",
        "Question about a list",
        "Sheet {sheet}: {what}? {one}; or {other}. Not sized until it is answered: {rows}. The line of the map that answers: {line}",
        "Write that line into the map that is written beside the results, and size by the map.",
    ),
    hold(
        "list-not-read",
        "Table not read that looks like heaters",
        "Sheet {sheet}, {rows}: {why}. None of it is sized.",
        "Fill in its table in the map that is written beside the results, or write use = false there, and size by the map.",
        KEPT,
    ),
    note("list-other", "Table that lists no heaters", "Sheet {sheet}, {rows}: not a heater list: {why}.", "Nothing, if that is so.", KEPT),
    note(
        "counts-not-read",
        "Counts that were not read",
        'Sheet {sheet}: {columns}: not read; sized are the heaters counted under "{taken}".',
        "If those are to be sized too, add them to that count, or give their column in the map that is written beside the results.",
        KEPT,
    ),
    note(
        "list-read",
        "List read by itself",
        "Sheet {sheet}, {rows}: read as a list of heaters, because {why}.",
        "Look at How it was read.",
        KEPT,
    ),
    note(
        "row-taken-out",
        "Row that the customer took out",
        'Row {row} is not sized: {why}. To size it all the same, in the map, under [table.rows]: {line} = "keep".',
        "Nothing, if it is not to be built.",
        KEPT,
    ),
    hold(
        "row-in-doubt",
        "Row in doubt",
        'Row {row} is not sized: {why} leaves open whether it is to be built. The line of the map that answers, under [table.rows]: {line} = "keep" or {line} = "leave out".',
        "Ask, write that line into the map that is written beside the results, and size by the map.",
    ),
    hold(
        "row-still-open",
        "Row that the results left open",
        "Row {row} was not sized, and nobody has answered since ({why}): it is still not sized.",
        "Answer in the column map of the list that these results were made from, and size that list by it; --keep-from carries over what was decided here.",
    ),
    caution(
        "remark-aside",
        "Remark that was not taken to be about the heaters",
        'Row {row}: "{value}": {why}, so it takes no heater out. To leave the row out, in the map, under [table.rows]: {line} = "leave out".',
        "Read the remark; if it is about the heaters, write that line into the map and size by the map.",
    ),
    caution(
        "remarks-not-understood",
        "Remarks that no rule understands",
        "Sheet {sheet}: rows are sized though what their remarks say is not known to this program: {remarks}.",
        'Read them; a row that is not to be sized is left out in the map that is written beside the results, under [table.rows]: its number = "leave out".',
    ),
    hold(
        "row-passed-over",
        "Row outside the lists that speaks of heaters",
        'Sheet {sheet}, {rows}: "{value}" sounds like heaters, and no list that was read holds it. Not sized.',
        "Give it a table of its own in the map that is written beside the results, or write others = \"no lists\" there if it is none.",
    ),
    hold(
        "row-hidden",
        "Hidden row",
        'Row {row} is hidden in the workbook and not sized. The line of the map that answers, under [table.rows]: {line} = "keep" or {line} = "leave out".',
        "Ask whether it counts, write that line into the map that is written beside the results, and size by the map.",
    ),
    note("row-not-heater", "Row of other equipment", "Row {row} is not a heater: {why}.", "Nothing, if that is so.", KEPT),
    note("row-unheated", "Tank without heaters", "Row {row} names a tank and no heaters.", "Nothing, if it is not heated.", KEPT),
    note("rows-spare", "Empty form rows", "Sheet {sheet}: no heater in {rows}.", "Nothing, if they are spare rows.", KEPT),
    note(
        "row-banner",
        "Row of words",
        'Row {row}, "{value}", was taken for a heading of the rows below it.',
        "Look whether it was meant so.",
        KEPT,
    ),
    note(
        "value-from-above",
        "Values taken from above",
        "Sheet {sheet}: {column} stands above in {rows}: in the group's first row, a banner or a mark that repeats it.",
        "Look whether it was meant so.",
        ASSUMED,
    ),
    note(
        "value-from-words",
        "Value taken from words",
        'Row {row}: {column} = {value} from "{text}".',
        "Look whether it was meant so.",
        ASSUMED,
    ),
    hold(
        "value-unlikely",
        "Value out of reason",
        "{column} is {value}: out of reason for an immersion heater in a process tank.",
        "Correct the value or its unit.",
        "common practice, no source",
    ),
    hold(
        "row-disagrees",
        "Row that disagrees with itself",
        "Row {row}: {why}.",
        "Correct the figure that is wrong.",
    ),
    hold(
        "unit-foreign",
        "Power in a unit that heaters are rarely given in",
        "Row {row}: the power is given in {unit} and the row does not say that it is a heater.",
        "Write the power in kW, or the word heater beside it.",
    ),
    hold(
        "unit-blank",
        "Unit blank in a list of mixed units",
        "The power is {value} without a unit, in a list that gives each row its own.",
        "Write the unit beside it.",
    ),
    note("unit-converted", "Power converted", "Row {row}: {value} is {read} kW.", "Look whether it is a heater.", ASSUMED),
    note(
        "tanks-in-row",
        "Several tanks in one row",
        "Row {row}: {tanks}, each with {count:heater|heaters}: {why}.",
        "Look whether it was meant so.",
        ASSUMED,
    ),
    hold("mark-odd", "Comma or point that is odd", "{column}: {why}.", "Type it as the other figures of the column are typed."),
    hold("tags-unsure", "Tags that are not sure", "Row {row}: {why}.", "Name each tank by itself."),
    hold("count-unsure", "Number that is not sure", "Quantity: {why}.", "Write how many heaters are connected."),
    hold("supply-unsure", "Supply that is not sure", "Volts: {why}.", "Write the volts and phases that one heater is connected to."),
    hold(
        "tanks-question",
        "Several tanks in one row",
        "Row {row} stands for {tanks} tanks: {count:~is|are} the {count:heater|heaters} in each of them, or in all together?",
        'Write quantity = "each tank" or quantity = "all tanks" for this table in the map that is written beside the results.',
    ),
    note("issue-older", "Older issue of a list", "Sheet {sheet}, {rows}: not sized: {why}.", "Nothing, if that is so.", KEPT),
    hold(
        "issue-question",
        "Two issues of one list",
        "Sheets {first} and {sheet} list the same tanks ({example}): nothing says which counts. Neither is sized.",
        "Write use = true for the one that counts and use = false for the other in the map that is written beside the results.",
    ),
    caution(
        "total-differs",
        "Total of the list differs",
        "Sheet {sheet}: the total in {cell} is {stated} kW; the rows above it that were read come to {read}.",
        "Look which rows were meant to be in it.",
    ),
    note(
        "total-agrees",
        "Total of the list agrees",
        "Sheet {sheet}: the total in {cell}, {stated} kW, is that of the rows read.",
        "Nothing.",
        KEPT,
    ),
)
