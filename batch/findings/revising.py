"""Kinds of finding that a revision can give: what was kept of an earlier one, what could not be, and what was typed into results."""

from __future__ import annotations

from batch.findings.record import Kind, Severity

ASKED = "a rule of this program: what was decided before is kept where it was asked for and the new inputs allow it"
DATA = "a rule of this program: what it decided goes with its results as data, and is seen to be whole before it is used"
ANSWER = "a rule of this program: an answer goes only where its question was asked, and where the list still says what it said then"
TYPED = "a rule of this program: results that a person has edited are a revision of the job"


def _caution(code: str, title: str, template: str, advice: str, basis: str = ASKED) -> Kind:
    return Kind(code, Severity.CAUTION, title, template, basis, advice)


def _note(code: str, title: str, template: str, advice: str, basis: str = ASKED) -> Kind:
    return Kind(code, Severity.NOTE, title, template, basis, advice)


KEPT = (
    _note("kept-value", "Kept from an earlier revision", "{column} {value} is kept from {source}: it is blank here.",
          "Fill the cell if it should be otherwise."),
    _note("kept-notes", "Notes kept", "Notes are kept from {source}: they are blank here.", "Write notes of its own where they no longer hold."),
    _note("kept-value-given", "Given anew", "{column} was {before} in {source} and is given as {given} here: what is given here stands.",
          "Nothing, if that is what is meant."),
    _caution("kept-value-not", "Not kept", "{column} {value} of {source} is not kept: {why}.",
             "Decide it anew for this revision, or leave it to the sizing as it now is."),
    _caution("kept-row-gone", "No row for what was decided", "{what} of {source} {lacks}; it carried {decided}.",
             "If it goes by another name now, say so with --renamed OLD=NEW and size again; else nothing."),
    _note("kept-stock", "Stock list kept", "There is no stock list here: the {count:part|parts} of {source} {count:~is kept with its price|are kept with their prices}.",
          "Add a Stock sheet where parts or prices are others now."),
    _note("kept-price", "Prices kept", "{count:part has|parts have} no price here and {count:~keeps|keep} that of {source}: {parts}.", "Fill Unit price and Labour hours where they are others now."),
    _caution("kept-price-given", "Typed prices given anew", "{count:figure|figures} typed into {source} {count:~is another|are others} on the Stock sheet here, which counts: {parts}.",
             "Bring the Stock sheet up to date, if what was typed is to stand."),
    _note("price-typed-kept", "Typed prices kept", "{count:price|prices} of {source} that no part of the Stock sheet has {count:~is|are} kept, each for the line of its words: {lines}.",
          "List them on the Stock sheet where they are to last."),
    _note("kept-part-gone", "Parts no longer listed", "{count:part|parts} of {source} {count:~is|are} not listed here and {count:~is|are} not kept: {parts}.",
          "Add them to the Stock sheet if the shop still has them."),
    _caution("kept-typed-not", "Typed into the earlier results, not kept", "{count:cell|cells} of {source} {count:~says|say} something that was typed there and that is not kept: {cells}.",
             "Give in this job what still counts; sizing those results by themselves says of each cell why it is not taken."),
    _caution("kept-typed-given", "Typed values given anew", "{count:value|values} typed into {source} {count:~is another|are others} here, where what is given counts: {values}.",
             "Give them in this job, if what was typed is to stand."),
    _note("kept-label", "Bank keeps its number", "A bank without a label keeps the number {label} that it had in {source}.",
          "Write a label for each bank, so that no revision can confuse them."),
    _note("kept-phases", "Phases kept", "Banks stay on the phases that they had in {source}; only new ones are assigned.",
          "Size without --keep-from to assign all of them anew."),
    _note("kept-phases-not", "Phases not kept", "It started on line {line} in {source}; that is not kept: {why}.",
          "See the column Phases for where it is now."),
    _caution("kept-phases-cost", "Kept phases cost balance",
             "{feeder}: with the phases of {source} kept its fullest line carries {kept}; all banks assigned anew it would be {anew}.",
             "Size without --keep-from where nothing is built or drawn yet, or move a bank by its Phase pair."),
    _note("kept-pair", "Feeder's pair kept", "{feeders}: kept on pairs of {source} as in {before}{how}.",
          "Fill Phase pair on the Feeders sheet, or size without --keep-from, to change it."),
    _note("kept-split", "Panel split kept", "The panels keep the {kept} heaters that they had before{what}; split anew they would be {anew}.",
          "Size without --keep-from, or fix Branches per panel, to split it anew."),
    _note("kept-split-not", "Panel split not kept", "The panels of {before} heaters that it had before are not kept: {why}.",
          "See the column Panel split; fix Branches per panel to change it."),
    _note("kept-no-revision", "Kept from a file that names no revision", "{source} names no revision of {projects}: what it decided is kept all the same, and that it is the earlier of the two is not checked.",
          "Fill Revision on the Projects sheet of both files, so that nobody keeps from the wrong one."),
    _note("kept-types", "Panel types keep their names", "{count:panel type is|panel types are} built as in {source} and {count:~keeps its name|keep their names}.",
          "Nothing: a name stands for one way to build a panel in every revision."),
    _note("kept-types-gone", "Panel types no longer used", "No panel is built as {types} of {source} any more; their names are not given to other types here.",
          "Take their drawings and labels out of use."),
)  # fmt: skip

ANSWERS = (
    _note("answer-taken", "Answer taken", "Question {question}: {column}, {what}: {after}, as answered; it was {before}.",
          "Nothing, if that is what is meant; Carried forward has the value.", ANSWER),
    _caution("answer-over", "Answer over what the list says", "Question {question}: {column}, {what}: {after}, as answered; the list says {before}.",
             "See which of the two is right; if it is the list, write it on Carried forward.", ANSWER),
    _note("answer-confirmed", "Answer confirms", "Question {question} is answered with yes: all stays as it is.", "Nothing.", ANSWER),
    _caution("answer-unclear", "Answer not understood", "The answer “{answer}” to “{question}” is not taken: {why}.",
             "Write it so that it can be taken, as How to answer says beside it, or put it into the list; then size again.", ANSWER),
    _caution("answer-changed", "Answer not for all that is asked",
             "The answer “{answer}” to question {question} was not asked of {what}, or the list says another thing there by now: not taken there.",
             "See what the list says there, and ask again where it is still open.", ANSWER),
    _caution("answer-by-hand", "Answer to be worked in by hand", "Question {question} is answered “{answer}”: no cell takes that by itself. It is about {cells}.",
             "Put into the list what follows from it, and size again; until then nothing has changed.", ANSWER),
    _caution("answer-no-question", "Answer without its question", "The answer “{answer}” has no open question of this job: it is answered, no longer asked, or its reference is gone.",
             "See Questions; put the answer into the list where it is still needed.", ANSWER),
)  # fmt: skip

EDITS = (
    _note("edit-taken", "Typed into the results", "{column} was {before} and now says {after}: taken as given by hand.",
          "Nothing, if that is what is meant; else restore the cell. A price that is to last belongs on the Stock sheet.", TYPED),
    _caution("edit-not-taken", "Typed into the results, not taken", "{column} now says {after} where sizing gave {before}: {why}.",
             "Make the change in the inputs (Heaters, or As received) and size again.", TYPED),
    _caution("price-basis-hours", "Hours moved with the price's basis",
             "The price of {part} is for {after} by now, and was for {before}; its hours, still {hours}, are for the same, so that they count "
             "{times} times as much.", "Give the hours for the new quantity on the Stock sheet, or give the price for the old one.", TYPED),
    _caution("edit-row-missing", "Row deleted from the results", "{what} is no longer on {sheet}, but As received still has it: it is sized all the same.",
             "To take it out of the job, delete its row from As received, or from the job workbook.", TYPED),
    _caution("edit-row-unknown", "Row of results without its input", "Row {row} of {sheet} names {what}, which As received does not have; it is not used.",
             "Add new banks to As received, or to the job workbook, and size again.", TYPED),
    _caution("edit-row-added", "Row added to the results", "Row {row} of {sheet} is none that was written ({what}); it is not used.",
             "Write what it says into the inputs, or into a column Notes of the heater list, and size again.", TYPED),
    _note("edit-rows-gone", "Rows deleted from the results", "{count:row|rows} of {sheet} {count:~is|are} no longer there ({what}): {count:~it is|they are} written again.",
          "To take something out of the job, take it out of the inputs.", TYPED),
    _caution("edit-stray", "Typed beside the results", "{cells} of {sheet} ({count} in all) {count:~stands where nothing is taken in: it does|stand where nothing is taken in: they do} not come back.",
             "Write it into Notes on Banks, or into a column of your own on As received: both come back.", TYPED),
    _caution("edit-sheet-added", "Sheet added to the results", "The sheet {sheet} was not written with these results: it does not come back.",
             "Keep this workbook for it, or write what has to come back into Notes on Banks, or beside the list on As received.", TYPED),
    _caution("edit-not-told", "Typed or written cannot be told", "{sheets} were written by {program}, and what was typed there cannot be told "
             "from what it wrote: only what Banks, Feeders and Materials take as inputs was looked for.",
             "Look those sheets through yourself before you let the workbook go.", TYPED),
    _note("edit-undone", "Taken off Carried forward", "{column} {value} of {what} no longer stands on Carried forward: it is no longer kept, and the row as received counts.",
          "Nothing, if that is what is meant; else write it into its row of the job workbook.", TYPED),
    _caution("edit-data-damaged", "What was decided is no longer kept as data",
             "The hidden sheet {sheet} {fault}: what was decided and typed is taken from the sheets that show it.",
             "Look at phases, panels and names of types before this is used, or go back to the workbook as it was written.", DATA),
)  # fmt: skip

REVISING: tuple[Kind, ...] = KEPT + ANSWERS + EDITS

# What is said of cells of results that are not taken, of whatever kind.
LEFT = frozenset({
    "edit-not-taken", "edit-stray", "edit-row-added", "edit-row-unknown", "edit-sheet-added", "edit-not-told", "edit-data-damaged",
    "answer-unclear", "answer-changed", "answer-by-hand", "answer-no-question",
})
