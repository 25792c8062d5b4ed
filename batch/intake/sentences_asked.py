"""Sentences beside a list of which nothing was taken, and by which rows would be other than they stand: the rows are asked about.

A sentence is about the rows that bear its number or mark, else about those that it names, by their tag or by the name of their bath. What
names none is about the whole list where it gives volts that no row has, says that the figures are of one line of several, explains what
colours mean, or says that the power is the tank's where it was read as that of each heater.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence, Set

from batch.intake.changes_told import now_said
from batch.intake.facts import SUPERSCRIPTS, note_of
from batch.intake.grid import Grid
from batch.intake.heading_sense import EACH, TANK
from batch.intake.legends import codes, headed_for_notes
from batch.intake.line_kinds import DATA, DOUBT, OUT, Line
from batch.intake.list_rows import QUOTED
from batch.intake.list_words import heater_word, hits, other_equipment
from batch.intake.note_numbers import notes_referred, number_of_note, number_off
from batch.intake.plan import ListPlan
from batch.intake.remark_words import read_row_words
from batch.intake.rows_named import RowsNamed
from batch.intake.said_in_notes import OF_SOMETHING_ELSE, POWERS, figures_agree
from batch.intake.study import Studied
from batch.intake.survey import flat
from batch.intake.tank_words import OF_ANOTHER
from batch.intake.texts_beside import cell_of
from batch.intake.verdict import count_of

BEGINNING = 40  # letters by which a sentence is known again
LONGEST = 80  # letters of a sentence that a reason quotes
MARK = re.compile(r"\s*(\*{1,3}|†|‡|[¹²³⁰⁴-⁹]{1,2})[)⁾]?\s*[=:–-]?\s*(?=\S)")
ENDS = re.compile(r"(?<=[^\d\s.])\.\s+|;\s+|\n")
WHOLE = re.compile(r"(?<![\w.,])\d{1,2}(?![\w.,]*\d|\s*(?:k?W|V|ph))")
VOLTS = re.compile(r"(?<![\d.,])(\d{3})(?:\s*Y?\s*/\s*(\d{3}))?\s*(?:V\b|VAC\b|volts?\b)", re.IGNORECASE)
OF_CONTROLS = re.compile(
    r"\b(?:control|steuer|commande|mando|ausiliari|stuur|steruj|styre|ovl[aá]d)\w*|\bmotors?\b|\blight(?:s|ing)?\b", re.IGNORECASE
)
PHASES = re.compile(
    r"\b(?:single|one|three|1|3)[\s-]*(?:ph\b|phases?\b)|\b(?:ein|drei)phasig|\b(?:mono|tri)(?:phas|f[aá]s)", re.IGNORECASE
)
COUNTS = re.compile(
    r"\b(?:quantit\w*|qty|number of heaters|anzahl|cantidad|aantal|ilo[śs][ćc]|antall?|po[čc]et)\b"
    r"|\b(?:one|two|three|four|five|six|only)\s+(?:more\s+|extra\s+)?(?:heater|htr|element)s?\b",
    re.IGNORECASE,
)
CHANGES = re.compile(  # after which figures that are the row's own prove nothing
    r"\b(?:same as|identical (?:to|with)|instead|in place of|replaced? (?:by|with|the|one|two|both)|chang(?:e|ed|es) to|becomes?"
    r"|should (?:be|read)|to be read as|wie (?:tank|bad)|statt|ersetzt durch|ersetzen durch|[aà] la place|remplac[ée]\w* par|en lugar de"
    r"|reemplaz\w* por|sustitu\w* por|al posto di|sostitu\w* (?:da|con)|in plaats van"
    r"|zamiast|stand-?by|shar(?:e|es|ed|ing)|teilen sich|comparten|partagent"
    r"|(?:second|third|both|another|one more|an extra|a further)\s+(?:heater|htr|element)s?)\b",
    re.IGNORECASE,
)
OTHERWISE_HEATED = re.compile(
    r"\b(?:by|with|to|now|on|from)\s+(?:\w+\s+)?(?:steam|gas|hot water|hot oil)\b|\b(?:steam|gas)[\s-](?:heat\w*|coils?)\b"
    r"|\b(?:mit|durch) (?:dampf|gas|heizwasser)\b|\bdampfbeheizt|\b(?:[aà] la|par la|par) vapeur\b|\b(?:por|con|a) vapor\b|\ba vapore\b"
    r"|\b(?:met|op|door) stoom\b|\bpar[ąa] wodn[ąa]\b|\bmed (?:damp|[åa]nga)\b",
    re.IGNORECASE,
)
BOUGHT = re.compile(  # by whom heaters are bought or brought
    r"\b(?:customer|client|owner|end user|contractor|plant|vendor|others?|kunde|bauherr|cliente|klant|klient)\s+(?:will\s+|to\s+|shall\s+)?"
    r"(?:buys?|bought|suppl(?:y|ies)|furnish\w*|provid\w*|purchas\w*|brings?|has|have|kauft|liefert|stellt|fournit|ach[eè]te|compra"
    r"|suministra|fornisce|levert|koopt|kupuje|dostarcza)\b",
    re.IGNORECASE,
)
_OF_LINES = r"(?:lines?|plants?|trains?|shops?|systems?|linien|anlagen|lignes|l[ií]neas?|linee|lijnen|linie|linhas|linjer|linek)"
_SEVERAL = (
    r"(?:two|three|four|five|six|2|3|4|5|6|both|zwei|drei|vier|deux|trois|quatre|dos|tres|cuatro|due|tre|quattro|twee|drie|dwie|trzy|duas)"
)
LINES = re.compile(
    rf"\b{_SEVERAL}\s+(?:(?:identical|equal|similar|such|of these|of such|baugleiche|gleiche|identische)\s+){_OF_LINES}\b"
    rf"|\b{_SEVERAL}\s+(?:lignes|l[ií]neas|linee|linhas|linie)\s+(?:identi\w+|iguales|uguali|iguais|[ée]gales|jednakowe)\b"
    r"|\b(?:quantit\w*|numbers?|figures|mengen|st[üu]ckzahlen|cantidades|aantallen)\b.{0,24}\b(?:for|per|f[üu]r|pro|pour|par|para|por|voor)\s+"
    r"(?:one|each|a single|1|eine|jede|une|chaque|una|cada|ciascuna|[ée][ée]n|elke)\s+(?:of\s+\w+\s+)?"
    r"(?:line|plant|train|system|linie|anlage|ligne|l[ií]nea|linea|lijn)\b"
    r"|\b(?:multiply|double)\s+(?:all|the|these|every)\b.{0,20}\b(?:quantit\w*|numbers?|rows|heaters)\b",
    re.IGNORECASE,
)
_COLOUR = (
    r"(?:(?:light|dark|pale|hell|dunkel)[\s-]?)?(?:yellow|red|green|blue|orange|gr[ea]y|pink|purple|magenta|cyan|gelb\w*|rot\w{0,2}|gr[üu]n\w*"
    r"|blau\w*|grau\w*|lila|jaunes?|rouges?|verte?s?|bleue?s?|gris\w*|roses?|amarill[oa]s?|roj[oa]s?|verdes?|azul(?:es)?|giall[oaei]|ross[oaei]"
    r"|blu|grigi[oae]|geel|gele|rood|rode|groen\w*|grijs|[żz][óo][łl]t\w+|czerwon\w+|zielon\w+|niebiesk\w+|amarel[oa]s?|vermelh[oa]s?)"
)
_ROWS = r"(?:rows?|items?|cells?|lines?|tanks?|heaters?|fill|text|zeilen|schrift|lignes|cellules|filas|righe)"
COLOURS = re.compile(
    rf"\A\W*(?:(?:in|en|marked|shown|{_ROWS})\s+){{0,3}}{_COLOUR}(?:\s+{_ROWS})?\s*(?:=|:|[–—-]\s|\b(?:means?|is|are|bedeutet)\b)"
    rf"|\b(?:{_ROWS}|marked|shown|shaded|highlighted)\s+(?:(?:marked|shown|shaded|highlighted|are|is)\s+)?(?:in\s+)?{_COLOUR}\b",
    re.IGNORECASE,
)
TOTAL = re.compile(r"\b(?:total\w*|totaa?l\w*|(?:ins)?gesamt\w*|summe|razem|[łl][aą]cznie|celkem|samlet)\b", re.IGNORECASE)
_OF_A_POWER = re.compile(
    r"\bkW\b|\bpower\b|\bratings?\b|\b(?:watt|leistung|puissance|potencia|potenza|pot[êe]ncia|vermogen|effekt)\w*|\bmoc\b", re.IGNORECASE
)
_IS = re.compile(r"\b(?:is|are|means?|ist|sind|est|sont|es|son|è|sono|jest|er|[äa]r|gives?|shows?)\b|=", re.IGNORECASE)


def ask_sentences(one: Studied, others: Sequence[Studied], sentences: Iterable[tuple[int, int, str]], used: str) -> None:
    """Puts the rows of one list in doubt.

    others     the lists of the same sheet, whose rows a sentence may be about as well
    sentences  row and column from 0, and the words, of what stands beside the lists of a sheet
    used       all that was said of what was taken from words, which quotes them
    """
    if one.heaters != "yes" or one.plan.given:
        return
    heated = [line for line in one.lines if line.kind in (DATA, DOUBT, OUT)]
    rows = RowsNamed(heated, one.plan.columns["tank"].heading if "tank" in one.plan.columns else "")
    marked = _marks(one.grid, one.plan, heated)
    volts = {value for other in others for line in other.lines if (value := line.figure("volts_v")) is not None}
    for row, column, text in sentences:
        if QUOTED.match(text) or ((f'"{text[:LONGEST]}"' in used or f'"{text[:60]}' in used) and not _other_volts(text, volts)):
            continue
        mark = _mark_of(text)
        bare = _without_mark(text)
        why = f'"{text[:LONGEST]}" in {cell_of(row, column)}'
        if mark and mark in marked:
            for part in ENDS.split(bare):
                if touches(part) or TOTAL.search(part):
                    _ask([line for line in heated if line.index in marked[mark]], part, rows, why)
            continue
        named = _named(bare, rows)
        for part, some in named:
            if touches(part) or BOUGHT.search(part):
                _ask([line for line in heated if line.index in some], part, rows, why)
        if not any(some for _, some in named) and not any(RowsNamed(other.lines).named_in(bare) for other in others if other is not one):
            _ask_all(one, heated, bare, volts, why)


def touches(text: str) -> bool:
    """Does a sentence speak of the power, number, volts or phases of heaters, of a standby, or of what else heats a tank?"""
    if hits("accessories", text) and not heater_word(text):
        return False
    sized = POWERS.search(text) or (VOLTS.search(text) and not OF_CONTROLS.search(text)) or PHASES.search(text)
    return bool(sized or COUNTS.search(text) or CHANGES.search(text) or OTHERWISE_HEATED.search(text) or _of_the_tank(text))


def _ask(lines: Sequence[Line], text: str, rows: RowsNamed, why: str) -> None:
    """The rows that a sentence is about, less those that already are as it says."""
    for line in lines:
        if line.kind == DATA and not _read_by(line, text) and not _as_it_stands(line, rows.without_names(text)):
            line.kind, line.why = DOUBT, why


def _read_by(line: Line, text: str) -> bool:
    """Was the row's power shared out by this very sentence?"""
    power = line.facts.get("power_kw")
    return power is not None and power.basis == TANK and text[:BEGINNING] in power.seen


def _as_it_stands(line: Line, text: str) -> bool:
    """Do the figures of a sentence say no other than the row's own, or are they of something else?"""
    volts = _volts_in(text)
    own = line.figure("volts_v")
    if OF_SOMETHING_ELSE.search(text) and not (volts and own is not None and own not in volts):
        return True
    if other_equipment(text) and not heater_word(text) and not OTHERWISE_HEATED.search(text):
        return True
    if CHANGES.search(text) or OTHERWISE_HEATED.search(text):
        return False
    agreed = figures_agree(text, line)
    figures = WHOLE.findall(now_said(text)) if "quantity" not in agreed and COUNTS.search(text) else []
    if figures and (count := line.figure("quantity")) is not None:
        agreed["quantity"] = float(figures[-1]) == count
    return bool(agreed) and all(agreed.values())


def _named(text: str, rows: RowsNamed) -> list[tuple[str, set[int]]]:
    """Each sentence of a text and the rows that it names; "tank 6 is the same as tank 3" is about tank 6."""
    found: list[tuple[str, set[int]]] = []
    for part in ENDS.split(text):
        first = OF_ANOTHER.sub(" ", part)
        some = rows.named_in(first) or rows.named_in(part) or rows.baths_in(first)
        found.append((part, some))
    return found


def _ask_all(one: Studied, heated: Sequence[Line], text: str, volts: Set[float], why: str) -> None:
    """A sentence that names no row, and is about them all."""
    some: list[Line] = []
    if _other_volts(text, volts) or LINES.search(text) or _out_by_colour(text):
        some = list(heated)
    elif one.plan.power == EACH and _of_the_tank(text):
        some = [line for line in heated if (count_of(line) or 0) > 1]
    for line in some:
        if line.kind == DATA:
            line.kind, line.why = DOUBT, why


def _other_volts(text: str, volts: Set[float]) -> bool:
    """Does a sentence give heaters volts that no row has, though rows have some? What was taken from a sentence rows do have."""
    given = _volts_in(text)
    apart = OF_CONTROLS.search(text) or OF_SOMETHING_ELSE.search(text) or (other_equipment(text) and not heater_word(text))
    return bool(given and volts) and not apart and not given & volts


def _volts_in(text: str) -> set[float]:
    """All volts of a sentence, of "400/230 V" both."""
    return {float(volts) for match in VOLTS.finditer(text) for volts in match.groups() if volts}


def _out_by_colour(text: str) -> bool:
    """Does a legend of colours, which are not read, take rows out or leave them open?"""
    return COLOURS.search(text) is not None and bool(read_row_words(text).fate)


def _of_the_tank(text: str) -> bool:
    """Does a sentence say that the power shown is the total, or the tank's, and not that of each?"""
    every = [hit for name in ("total", "per_tank") for hit in hits(name, text) if name == "total" or " " in hit.word]
    said = _OF_A_POWER.search(text) is not None and _IS.search(text) is not None
    return bool(every) and said and not hits("per_heater", text) and not any(map(str.isdigit, text))


def _mark_of(text: str) -> str:
    match = MARK.match(text)
    return match[1].translate(SUPERSCRIPTS) if match is not None else number_of_note(text)


def _without_mark(text: str) -> str:
    match = MARK.match(text)
    return text[match.end() :] if match is not None else number_off(text)


def _marks(grid: Grid, plan: ListPlan, lines: Sequence[Line]) -> dict[str, set[int]]:
    """Mark or number of a note -> the rows that bear it: behind a figure or a name, alone in a column for notes, or by "see note 3"."""
    found: dict[str, set[int]] = {}
    figures = {column.index for key, column in plan.columns.items() if key not in ("notes", "status", "description")}
    for line in lines:
        for at, value in line.cells:
            text = flat(value) if isinstance(value, str) else ""
            own = {*notes_referred(text), note_of(text)} if text else set()
            if at not in figures and headed_for_notes(grid, plan.heading_rows, at):
                own |= set(codes(value))
            for mark in own - {""}:
                found.setdefault(mark, set()).add(line.index)
    return found
