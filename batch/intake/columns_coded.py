"""Columns that decide whether a row counts and do not say how: bare codes under "Action" that no legend explains, the letter of an option,
who furnishes, a change of the number. What such a cell means is asked."""

from __future__ import annotations

import re
from collections.abc import Sequence

from batch.intake.facts import figure
from batch.intake.grid import Grid
from batch.intake.heading_sense import concepts_of
from batch.intake.legends import codes_explained
from batch.intake.line_kinds import DATA, DOUBT, Line
from batch.intake.scope_words import BUYER
from batch.intake.survey import HeadingColumn, flat
from batch.intake.verdict import close
from batch.intake.vocabulary import vocabulary
from batch.intake.wording import words

# What is to be done with a row, or how it stands (words of the trade, common practice, no source)
ACTION = re.compile(
    r"(?:(?:scope|work|heater|item) )?(?:actions?|status|state|disposition|scope|todo|to do)(?: code)?|aktion|ma(?:ß|ss)nahme|zustand"
    r"|[ée]tat|statut"
    r"|acci[óo]n|estado|azione|stato|intervento|actie|toestand|akcja|stan|dzia[łl]anie|a[çc][ãa]o|situa[çc][ãa]o|handling|tilstand"
    r"|[åa]tg[äa]rd"
    r"|tiltak|akce|stav|opat[řr]en[íi]|durum|i[şs]lem",
    re.IGNORECASE,
)
OPTION = re.compile(
    r"(?:(?:bid|price) )?(?:options?|alt(?:ernat(?:e|ive)s?)?|variants?|choice)(?: (?:no|nr|#))?|varianten?|alternativen?|variantes?"
    r"|opci[óo]n(?:es)?"
    r"|alternativas?|opzion[ei]|alternativ[ae]|varianti|opties?|alternatie(?:f|ven)|wariant\w*|opcj[ae]|op[çc](?:[ãa]o|[õo]es)"
    r"|alternativ(?:er)?"
    r"|varianta|se[çc]enek",
    re.IGNORECASE,
)
FURNISHED_BY = re.compile(
    r"(?:heaters? )?(?:furn(?:ished)?|suppl(?:y|ied)|provided|bought|purchased|procured)(?: ?(?:/|and|&) ?\w+)? by"
    r"|(?:geliefert|lieferung|beigestellt|beschaffung) (?:durch|von|vom)|fournie?s? par|fourniture par|suministrad[oa]s? por|suministra"
    r"|fornit[oaie] da"
    r"|fornitura (?:da|di)|geleverd door|levering door|dostarcza|dostawa przez|fornecid[oa]s? por|fornece|lever(?:es|et|eras|ans"
    r"|ance) a[vf]|dod[áa]v[áa]"
    r"|temin eden",
    re.IGNORECASE,
)
CHANGE = re.compile(
    r"\b(?:chan?ge|chg|delta|diff(?:erence)?|add(?:ed)?|[äa]nderung|differenz|modif\w*|[ée]cart|cambio|diferencia|variazione|differenza"
    r"|wijziging"
    r"|verschil|zmiana|r[óo][żz]nica|altera[çc][ãa]o|diferen[çc]a|[æe]ndring|[äa]ndring|zm[ěe]na|rozd[íi]l)\b|Δ|±|\+\s*/\s*[-–]",
    re.IGNORECASE,
)
CODE = re.compile(r"[A-Z]{1,2}|\d", re.IGNORECASE)
PLAIN = frozenset({"n", "ok", "ea"})  # "new", "no change": such a code takes nothing out
BASE = re.compile(r"(?:base|basis|std|standard|none|n/?a|[-–—]+)", re.IGNORECASE)  # no option


def asked_by_codes(columns: Sequence[HeadingColumn], lines: Sequence[Line], grid: Grid | None) -> None:
    """Puts the rows of such cells in doubt. `columns`: those that no figure is read from; `lines`: those that nobody has answered for."""
    explained = codes_explained(grid) if grid is not None else frozenset()
    for column in columns:
        heading = " ".join(words(column.text))
        cells = {line.index: text for line in lines for at, value in line.cells if at == column.index and (text := flat(value).strip())}
        if FURNISHED_BY.fullmatch(heading):
            _doubt(lines, column, {index: text for index, text in cells.items() if BUYER.fullmatch(text.strip(" ."))})
        if OPTION.fullmatch(heading) and not any(text.casefold() in explained for text in cells.values()):
            _doubt(lines, column, {index: text for index, text in cells.items() if _an_option(text)})
        elif ACTION.fullmatch(heading) or FURNISHED_BY.fullmatch(heading):
            _doubt(lines, column, _unexplained(cells, explained))
        _changed(lines, column, columns)


def _doubt(lines: Sequence[Line], column: HeadingColumn, cells: dict[int, str]) -> None:
    for line in lines:
        if line.index in cells and line.kind == DATA:
            line.kind, line.at, line.why = DOUBT, column.index, f'"{cells[line.index][:30]}" under "{column.text.strip()[:40]}"'


def _an_option(text: str) -> bool:
    return len(text.split()) <= 2 and not BASE.fullmatch(text) and not vocabulary()["no"].whole(text)  # "A", "Alt 1"


def _unexplained(cells: dict[int, str], explained: frozenset[str]) -> dict[int, str]:
    """The cells with a code that no legend explains, where others are explained, or where no code is and several stand in the column."""
    coded = {index: text for index, text in cells.items() if CODE.fullmatch(text)}
    known = [text for text in coded.values() if text.casefold() in explained]
    unknown = {index: text for index, text in coded.items() if text.casefold() not in explained and text.casefold() not in PLAIN}
    several = len({text.casefold() for text in coded.values()}) > 1
    return unknown if several and 2 * len(coded) > len(cells) and (known or not _marks(coded)) else {}


def _marks(coded: dict[int, str]) -> bool:
    """Are the codes yes and no, or a mark and none?"""
    known = vocabulary()
    return all(text in ("0", "1") or text in "xX" or known["yes"].whole(text) or known["no"].whole(text) for text in coded.values())


def _changed(lines: Sequence[Line], column: HeadingColumn, columns: Sequence[HeadingColumn]) -> None:
    """A change of the number that the row's own number is not the outcome of, as the former number tells; or any, where none does."""
    former = [one for one in columns if one is not column and any("former" in concepts_of(word) for word in words(one.text))]
    counts = any("number" in concepts_of(word) for word in words(column.text)) or (former and CHANGE.fullmatch(column.text.strip()))
    if not counts or not CHANGE.search(column.text):
        return
    for line in lines:
        change, was = (_number_in(line, one) for one in (column, former[0] if former else None))
        count = line.figure("quantity")
        outcome = was is not None and count is not None and change is not None and close(was + change, count)
        if change and not outcome:
            _doubt([line], column, {line.index: f"{change:+g}"})


def _number_in(line: Line, column: HeadingColumn | None) -> float | None:
    return next((figure(value) for at, value in line.cells if column is not None and at == column.index), None)
