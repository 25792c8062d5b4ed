"""Titles over a list, and names of tabs, that take all of its rows out or leave them open: "LINE CANCELLED", "Spare parts"."""

from __future__ import annotations

import re
from collections.abc import Sequence

from batch.intake.heading_sense import names_a_heater, subjects_of
from batch.intake.legends import explains
from batch.intake.list_words import is_heater
from batch.intake.remark_words import OUT as OUT_BY_WORDS
from batch.intake.remark_words import read_row_words
from batch.intake.survey import Region, cells_of
from batch.intake.wording import words

LONGEST_TITLE = 90
NEAR_TITLE = 6  # rows above the headings in which a title stands
OF_A_TABLE = 4  # cells of a row
LONGEST_BANNER = 40  # of a title that only puts a list in doubt; a longer one explains something
SENTENCE = re.compile(r"[.=:;]\s|[.=]")
OF_AN_ISSUE = re.compile(
    r"\b(?:issue|edition|rev(?:ision)?|version|sheet|tab|ausgabe|blatt|stand|[ée]dition|indice|feuille|onglet|edici[oó]n|hoja|edizione|foglio"
    r"|uitgave|tabblad|blad|wydanie|arkusz|edi[cç][aã]o|folha|planilha|aba)\b",
    re.IGNORECASE,
)
OF_A_STAGE = re.compile(  # of a project, as the name of what is bought: common practice, no source
    r"(?<![\w-])(?:(?:phase|fase|faza|f[áa]ze|etap[ae]?|etappe?|[ée]tape|tranche|ausbaustufe|bauabschnitt|byggetrinn)"
    r"\s+(?:(?:no|nr)\.?\s*|n[°º]\s*)?(?:\d{1,2}|[IVX]{1,4})|\d\.\s+(?:ausbaustufe|bauabschnitt|etapa?|etappe|fase)|lot\s+[ée]lectri\w+)"
    r"(?![\w-])",
    re.IGNORECASE,
)
TAGGED = re.compile(r"\W*([A-Z]{1,4}-?\d{1,4}[A-Z]?)\b")
# "Tender - lot 7 electrical": the package that the list is of, and not another one that brings its heaters
PACKAGE = re.compile(r"(?:\A|[-–—:,|]\s*)(?:lot|los|lotto|lote|perceel)\s+(?:n[°ºr]?\.?\s*)?\w+\s*(?=\Z|[-–—:,|])", re.IGNORECASE)
PHASE = re.compile(  # of a project, which a list may be named by: "PLATING PLANT - PHASE II"
    r"\b(?:phase|stage|bauabschnitt|ausbaustufe|fase|etap)\s+(?:ii+|iv|[2-9]|two|zwei|deux|dos|due|twee)\b", re.IGNORECASE
)
ANY_PHASE = re.compile(r"\b(?:phase|stage|bauabschnitt|ausbaustufe|fase|etap)\s+(?:[iv]+|\d)\b(?!\s*[x×~])", re.IGNORECASE)
THERE_NOW = re.compile(r"\be(?:x|ks|s)ist|\bvorh|\bbestand|\bbestehend|\bbestaand|\bistniej|\bbefintlig|\bst[aá]vaj|\bmevcut", re.I)


def says_heaters(region: Region, around: Sequence[tuple[int, int, str]]) -> bool:
    """Does a title above the table, one of its headings or the tab say that it lists heaters?"""
    near = [text for row, _, text in around if region.top - NEAR_TITLE <= row < region.top]
    texts = (*near, *(column.text for column in region.columns), region.grid.name)
    return any(is_heater(text) or names_a_heater(text) for text in texts)


def title_out(region: Region, around: Sequence[tuple[int, int, str]]) -> str:
    """A title right above the headings that takes the whole list out; or, of a few words and no sentence, that puts it in doubt: "FUTURE -
    PHASE 2", as a banner among the rows would.
    """
    for row, _, text in around:
        if OF_AN_ISSUE.search(text) or explains(text):  # "Issue 3 is withdrawn, see its sheet" is about another list
            continue
        if not region.top - 3 <= row < region.top or len(text) > LONGEST_TITLE:
            continue
        if (tag := TAGGED.match(text)) is not None and _of_another_table(region, tag[1]):
            continue  # "B12 was taken out last summer", beside the table with B12
        fate = read_row_words(_without_its_stage(_unnamed(text, region), region, around)).fate
        if fate == OUT_BY_WORDS or (fate and len(text) <= LONGEST_BANNER and not SENTENCE.search(text)):
            return text
    return ""


def _without_its_stage(text: str, region: Region, around: Sequence[tuple[int, int, str]]) -> str:
    """A title less the stage or lot of the project that the whole list is of, "Phase II", "Lot électricité", below or above its name;
    with it, where it stands alone, or another stage stands beside the list, of which this may be the later one."""
    mine = {match[0].casefold() for match in OF_A_STAGE.finditer(text)}
    others = {match[0].casefold() for _, _, other in around for match in OF_A_STAGE.finditer(other)} - mine
    named = any(row < region.top and not OF_A_STAGE.search(other) for row, _, other in around)
    return text if len(mine) != 1 or others or not named else OF_A_STAGE.sub(" ", text)


def _unnamed(text: str, region: Region) -> str:
    """A title without the package or the phase that it names the whole list by: a plant's name beside it, no other phase on the sheet,
    and no other table above it."""
    text = PACKAGE.sub(" ", text)
    phase = PHASE.search(text)
    if phase is None or not any("whole" not in subjects_of(one) and len(one) > 1 for one in words(PHASE.sub(" ", text))):
        return text
    said = [value for line in region.grid.lines for value in region.grid.rows[line] if isinstance(value, str)]
    phases = {found[0].casefold() for value in said for found in ANY_PHASE.finditer(value)}
    below = any(len(cells_of(region.grid.rows[line])) >= OF_A_TABLE for line in region.grid.lines if line < region.top)
    return text if below or phases - {phase[0].casefold()} else PHASE.sub(" ", text)


def _of_another_table(region: Region, tag: str) -> bool:
    """Is a tag that of a row of another table of the sheet, and of none of this?"""
    own = set(region.lines())
    cells = [(line, at) for line in region.grid.lines for at, value in enumerate(region.grid.rows[line]) if value == tag]
    return bool(cells) and not any(line in own and region.first <= at <= region.last for line, at in cells)


def tab_out(name: str) -> str:
    """A tab's name that leaves open whether its heaters are to be built, or takes them out: "Spare parts", "Option 2"; the heaters that are
    there now may be those to be bought again."""
    return "" if OF_AN_ISSUE.search(name) or THERE_NOW.search(name) or not read_row_words(name).fate else name
