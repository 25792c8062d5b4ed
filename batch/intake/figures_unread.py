"""Remarks with a figure that agrees with nothing in their row and that no rule reads, "OK with 2", "not 9 kW!", "15"; and those that begin
by denying something, "not this one", or say no more than no. What such a remark means is asked, not guessed."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Sequence, Set

from batch.intake.beside_the_heaters import of_another
from batch.intake.changes_told import now_said
from batch.intake.fewer_wanted import ALONE, OF_SOME
from batch.intake.grid import Grid, worded
from batch.intake.line_kinds import DATA, DOUBT, Line
from batch.intake.list_columns import OF_A_SYSTEM, USUAL_VOLTS
from batch.intake.list_words import heater_word, hits
from batch.intake.note_numbers import number_of_note, without_notes
from batch.intake.plan import ListPlan
from batch.intake.remark_words import plain_remark
from batch.intake.survey import cells_of, flat
from batch.intake.verdict import close
from batch.intake.vocabulary import vocabulary
from batch.intake.wording import words

MOST_DENYING = 3  # words of a remark that denies what the row says, "not this one": judgement, no source
LONGEST = 8  # words of a remark of which each figure should be known; longer ones are sentences: judgement, no source
NAMED = re.compile(r"(?:[^\W\d_]+[-./]?\d|\d+[-./]?[^\W\d_]+[-./]?\d)[\w./-]*")  # LP-2, T4, Rev2, 316L is below
GRADE = re.compile(r"\b(?:3(?:04|10|16|21|47)|904|6061|1\.4\d{3})\w{0,2}\b", re.IGNORECASE)  # of steel (EN 10088, AISI)
RECKONED = re.compile(  # what was worked out, or needed, and not what is there
    r"\b(?:calc\w*|estim\w*|need\w* by|loss\w*|ber\.|berechnet|gerechnet|bedarf|besoin|calcul\w*|obliczon\w*|berekend|ber[äa]knad"
    r"|beregnet|vypo[čc]\w*)",
    re.IGNORECASE,
)
BEFORE = re.compile(r".*(?:[-=]+>|→)")  # what a change changes
LEGEND = re.compile(r"\d[\d.,]*\s*(?:k?W|V)\s*=", re.IGNORECASE)  # "1.5 kW = idle heat"
DAY = re.compile(  # days, as a date or its number in a spreadsheet; ratios; numbers of notes
    r"\(\d{1,2}\)|\b24/7\b|(?<![\d.,])4[0-9]\d{3}(?![\d.,])|(?<![\d.,])(?:\d{1,4}[./-]\d{1,2}[./-]\d{1,4}|(?:0?\d|1[0-2])/\d{1,2}(?:\d{2})?"
    r"|\d+:\d+|(?:19|20)\d{2})(?![\d.,]*\d)"
)
OF_OTHER_UNIT = re.compile(  # lengths, heats, hours, currents, shares: nothing that a heater's number, power or supply could be
    r"\d[\d.,/]*(?:\s*[-–x×]\s*\d[\d.,/]*)?\s*(?:(?:°|º|deg\w*|mm|cm|dm|km|m|ft|feet|foot|inch\w*|in|[µu]m|mil|W\s*/\s*\w+|%|l|lt?rs?"
    r"|liters?|litres?|gal\w*|m[³3²2]"
    r"|[FC]|k?A|amps?|kVA|h|hrs?|hours?|min\w*|std|stunden|days?|tage|jours?|d[íi]as?|giorni|dagen|dni|weeks?|wochen|semaines?|semanas?"
    r"|wk|months?|years?|yrs?|jahre?|ans|a[ñn]os|anni|jaar|lat|kg|lbs?|bar|psi|pH|ga|awg|kcmil|Hz|rpm|ohms?|Ω|M?ohm|uur|uren|timer"
    r"|timmar|godz\w*|hodin\w*|ore|horas?|heures?|minut\w*)\b|[\"'”’″′°%])",
    re.IGNORECASE,
)
REFERRED = re.compile(  # "Pos. 2", "row 5", "#5", "Rev 2", "like 12": a number of something, and no count (common practice, no source)
    r"(?:(?:\b(?:htr|heater|element|heizer|heizk[öo]rper|resist[êe]ncia|resistencia|resistenza|thermopl(?:ongeur)?|grza[łl]ka|see|siehe|voir|vedi|zie|patrz|viz|rev(?:ision)?|r[ée]v|rew|issue|ind(?:ex|ice)?|addendum|uitgave|ausgabe|note|nota"
    r"|notes|priorit[yéà]?|prio|prioridad|priorytet|ref|p/n|pn|part|ext|tel|stage|step|stufe|station|stn"
    r"|line|linie|ligne|l[íi]nea"
    r"|linea|lijn|linia|linje|zone|bay|plant|plot|werk|usine|fabri[kc]\w*|planta|stabilimento|zak[łl]ad\w*|hall[ea]?|halla|bldg"
    r"|building|geb(?:[äa]ude)?|b[âa]timent|bygg\w*|row|zeile|fila|riga|rij|wiersz"
    r"|item|pos(?:ition|ici[óo]n)?|poz|no\.|nr"
    r"|n[°º]|num|panel|pnl|board|mcc|db|tank|tk|vat|bad|becken|cuve|bain|cuba|tanque|vasca|wanna|kar|grade|gr|type|typ[eo]?|like|as"
    r"|same as|wie|comme"
    r"|como|come|idem|igual (?:a|que)|twin of|zoals|jak|dwg|drawing|zeichnung|page|sheet|seite|phase|group|grp|gruppe|circuit|ckt|way|lot"
    r"|option|opt(?:ie|ion|i[óo]n|ione)?|alt(?:ernate)?|pf|cos|weeks?|wk|woche|kw|semaine|sem|semana|settimana|sett|tydzie[ńn]|vecka"
    r"|uge|uke|t[ýy]den|hafta|tekening|plan|dessin|plano|disegno|rysunek"
    r"|ritning|tegning|v[ýy]kres|room|raum|salle|door|gate|col(?:umn)?|grid|po|job|order|class|klasse|iso|en|din|ph|rinse|sp[üu]le"
    r"|rin[çc]age|enjuague|risciacquo|spoeling|p[łl]ukanie|chamber|shift|schicht)\b\.?|#)"
    r"\s*[:.#]?\s*)+[A-Z]?-?\d[\w./-]*(?![\w./-])(?!\s*(?:k?W|V)\b)(?:\s*(?:,|&|\+|and|und|et|y|e|en|i|og"
    r"|och)\s*\d[\w./-]*(?![\w./-])(?!\s*(?:k?W|V)\b))*",
    re.IGNORECASE,
)
# Behind a number of heaters, a power or a supply; before any other word it counts that (common practice, no source)
OF_IT = re.compile(
    r"\s*(?:\Z|[x×*]|now\b|jetzt\b|maintenant\b|ahora\b|ora\b|adesso\b|nu\b|teraz\b|agora\b|n[åu]\b|nyn[íi]\b|[.,;:!)]|/|k?W\b|watts?\b"
    r"|V\b|volts?\b|VAC\b|ph(?:ase)?s?\b|only\b|is\b|are\b|will\b|each\b(?!\s+\w)|total\b|needed\b"
    r"|required\b|req['’]?d\b|reqd\b|enough\b"
    r"|instead\b|and\b|or\b|pcs?\b|nur\b|reich\w*|n[öo]tig\b|gen[üu]g\w*|st(?:[üu]c)?k\b|suffi\w*|seulement\b|n[ée]cessaires?\b"
    r"|bastan?\b|solo\b|s[óo]lo\b"
    r"|bastano\b|basta\b|servono\b|nodig\b|genoeg\b|stuks?\b|potrzebne\b|wystarcz\w*|szt\w*|chegam?\b|r[äa]cker\b|beh[öo]vs\b|nok\b"
    r"|sta[čc][íi]\b|ks\b"
    r"|yeterli\b|adet\b)",
    re.IGNORECASE,
)
KILOWATTS = re.compile(r"\d\s*k\s?W\b", re.IGNORECASE)
TIMES = re.compile(r"[x×]\s*(\d{1,2})", re.IGNORECASE)
OF_A_PART = re.compile(  # a remark that says what the power is of, and nothing else
    r"(?:per|pro|je|par|por|na|pr\.?)\s+(?:[ée]l[ée]ment\w*|elemento|phase|fase|faz[ęe]|fas|pair|paar|paire|par|leg|pole|strang|lot)",
    re.IGNORECASE,
)
WORD = re.compile(r"[^\W\d_]+")
ENOUGH = re.compile(  # behind a number in words, by which it is one of heaters
    r"\s*(?:only|(?:is|are) (?:enough|plenty|all|needed)|will do|needed|required|wanted|nur|reich(?:t|en)|gen[üu]g(?:t|en)|n[öo]tig"
    r"|suffi(?:t|sent)|seulement"
    r"|n[ée]cessaires?|bastan?o?|(?:es|son) suficientes?|solo|s[óo]lo|serv(?:e|ono)|(?:is|zijn) genoeg|volsta(?:at|n)|nodig|wystarcz\w+"
    r"|tylko|potrzebn[aey]"
    r"|chegam?|apenas|r[äa]cker|er nok|holder|sta[čc][íi]|yeterli)\b",
    re.IGNORECASE,
)
PAIRED = {  # of one system, "480/277 V": ANSI C84.1, IEC 60038, from memory
    480.0: (277.0,), 208.0: (120.0,), 600.0: (347.0,), 400.0: (230.0,), 415.0: (240.0,), 380.0: (220.0,), 690.0: (400.0,), 277.0: (480.0,),
    120.0: (208.0, 240.0), 347.0: (600.0,), 230.0: (400.0,), 240.0: (120.0, 415.0),
}  # fmt: skip
BARE = re.compile(r"\d{1,2}(?:\s*[,;/&+]\s*\d{1,2})*")  # "1, 4": numbers of notes, where there are several such cells
FIGURE = re.compile(r"(?<![\w.,])(\d+(?:[.,]\d+)?)")
DENIES = re.compile(  # at the head of a remark; "no" alone is what there is none of, "no lid" (trade words, common practice, no source)
    r"(?:not|nicht|pas|niet|nie|n[ãa]o|ikke|inte|ej|de[ğg]il)\b", re.IGNORECASE
)


def asked_by_figures(plan: ListPlan, lines: Sequence[Line], grid: Grid | None) -> None:
    """Puts rows with such remarks in doubt. `lines`: those that nobody has answered for."""
    columns = {plan.columns[key].index for key in ("notes", "status") if key in plan.columns}
    tags = {said for line in lines for said in re.findall(r"\d{2,}", worded(line.value("tank") or ""))}
    cells = [(line, at, value) for line in lines for at, value in line.cells if at in columns and not isinstance(value, bool)]
    bare = [(at, worded(value).strip()) for _, at, value in cells if BARE.fullmatch(worded(value).strip())]
    times = Counter(at for at, _ in bare)
    notes = {text for at, text in bare if times[at] > 1}  # they stand on another sheet, or were not sent
    if len(notes) < len(bare) and grid is not None:
        notes |= _numbers_of_notes(grid)
    for line, at, value in cells:
        if line.kind == DATA and (why := _unread(value, line, at, notes, tags)):
            line.kind, line.at, line.why = DOUBT, at, f'"{flat(value)[:60]}", {why}'
            line.open = _what_of(flat(value), why)


def _unread(value: object, line: Line, at: int, notes: Set[str], tags: Set[str]) -> str:
    """Why a remark is asked about; "" where it is not."""
    text = flat(value)
    if isinstance(value, str) and len(text) > 1 and (text.strip(" .!").casefold() == "out" or vocabulary()["no"].whole(text.strip(" .!"))):
        return "which is no more than no,"
    if OF_A_PART.fullmatch(text.strip(" .()")):
        return "which is what the power is of,"
    if denies(text):
        return "which denies something,"
    one = unread_figure(text, line, at, tags) if text.strip() not in notes else ""
    return f"with a figure ({one}) that is none of the row's, which" if one else ""


def denies(text: str) -> bool:
    """Does a short remark begin by denying something, "not this one"? "Not failed" is no doubt."""
    denied = DENIES.match(text) is not None and len(text.split()) <= MOST_DENYING
    return denied and not (plain_remark(text) or hits("worn", text))


def _what_of(text: str, why: str) -> tuple[str, ...]:
    """What such a remark leaves open: the volts, the power, the number; () = whether the row is built."""
    match = FIGURE.search(why)
    if match is None:
        return ()
    if KILOWATTS.search(text) is not None:
        return ("power_kw",)
    return ("volts_v",) if float(match[1].replace(",", ".")) in USUAL_VOLTS else ("quantity", "power_kw")


def unread_figure(text: str, line: Line, at: int = -1, tags: Set[str] = frozenset()) -> str:
    """A figure of a short remark on a row that is none of the row's; "" where there is none. `at`: the column of the remark; `tags`:
    numbers in the names of tanks."""
    if len(text.split()) > LONGEST or OF_SOME.search(text) or of_another(text) or RECKONED.search(text):
        return ""
    own = _known(line, at)
    times = TIMES.fullmatch(text.strip())
    if times is not None:  # "x3"
        return "" if line.figure("quantity") == float(times[1]) else times[1]
    figures = FIGURE.findall(_without_others(WORD.sub(_in_figures, text)))
    return next((one for one in figures if one not in tags and not any(close(float(one.replace(",", ".")), known) for known in own)), "")


def counts_alone(text: str) -> bool:
    """Does what a sentence says of a tank begin with a number, or say that it is all that is wanted: "2 needed", "with two only"?"""
    first = FIGURE.match(text) or ((word := WORD.match(text)) is not None and vocabulary().number(word[0]) is not None)
    return bool(first) or ALONE.search(text) is not None


def _in_figures(match: re.Match[str]) -> str:
    """A number in words as figures, beside a word that says that so many are enough; "due" and "nove" may be no numbers."""
    before, behind = match.string[: match.start()], match.string[match.end() :]
    counted = ENOUGH.match(behind) or any(one.end() + 1 == match.start() for one in ALONE.finditer(before))
    number = vocabulary().number(match[0]) if counted else None
    return match[0] if number is None else f"{number}"


def _without_others(text: str) -> str:
    """A remark without the figures that are of something else: what was, days, names, lengths, grades, sides."""
    text = now_said(without_notes(text))
    for form in (BEFORE, LEGEND, DAY, OF_OTHER_UNIT, REFERRED, GRADE, NAMED):
        text = form.sub(" ", text)
    return FIGURE.sub(_of_other_things, text)


def _of_other_things(match: re.Match[str]) -> str:
    """Nothing for a number right before a word that is none of heaters, "2 crates", "4 cuves identiques", "2-wire"."""
    rest = match.string[match.end() :]
    return match[0] if OF_IT.match(rest) or heater_word(next(iter(words(rest)), "")) else " "


def _known(line: Line, but: int) -> list[float]:
    """The figures of a row in every cell but that of the remark, those that follow of them, and the volts of its system."""
    count, power, total, volts = (line.figure(key) for key in ("quantity", "power_kw", "total_kw", "volts_v"))
    tag = line.facts["tank"].index if "tank" in line.facts else -1
    said = (one for at, value in line.cells if at not in (but, tag) for one in FIGURE.findall(worded(value)))
    found = [float(one.replace(",", ".")) for one in said]
    found += [one for one in (count, power, total, volts, line.figure("phases")) if one is not None]
    found += [count * power, power / count] if count and power else []
    found += [total / count] if total and count else []
    return found + ([OF_A_SYSTEM.get(volts, volts), *PAIRED.get(volts, ())] if volts else [])


def _numbers_of_notes(grid: Grid) -> frozenset[str]:
    """The numbers of the notes that the sheet has."""
    texts = (flat(value) for number in grid.lines for _, value in cells_of(grid.rows[number]) if isinstance(value, str))
    return frozenset(number for text in texts if (number := number_of_note(text)))
