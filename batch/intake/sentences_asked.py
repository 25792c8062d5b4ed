"""Sentences beside a list of which nothing was taken, and by which rows would be other than they stand: the rows are asked about.

A sentence is about the rows that bear its number or mark, else about those that it names, by their tag or by the name of their bath. What
names none is about the whole list where it gives volts that no row has, says that the figures are of one line of several, explains what
colours mean, or says that the power is the tank's where it was read as that of each heater.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence, Set
from functools import lru_cache

from batch.intake.all_but import all_but
from batch.intake.beside_the_heaters import OF_CONTROLS
from batch.intake.changes_told import now_said
from batch.intake.equipment_beside import without_shared
from batch.intake.facts import SUPERSCRIPTS, note_of
from batch.intake.grid import Grid
from batch.intake.heading_sense import EACH, TANK, names_a_heater, names_a_tank
from batch.intake.heaters_added import adds_heaters
from batch.intake.legends import codes, codes_in_line, explains, headed_for_notes
from batch.intake.line_kinds import DATA, DOUBT, NOTE, OUT, Line
from batch.intake.list_columns import OF_A_SYSTEM
from batch.intake.list_rows import QUOTED
from batch.intake.list_words import heater_word, hits, is_heater, other_equipment, words, words_of_all
from batch.intake.logs_of_changes import rows_of_issue
from batch.intake.note_numbers import notes_referred, number_of_note, number_off
from batch.intake.places_of_heaters import without_places
from batch.intake.plan import ListPlan
from batch.intake.remark_words import OUT as SAID_OUT
from batch.intake.remark_words import plain_remark, read_row_words
from batch.intake.remarks_on_power import OF_A_POWER
from batch.intake.rows_named import RowsNamed
from batch.intake.said_in_notes import OF_SOMETHING_ELSE, POWERS, figures_agree, is_spare, sums_up
from batch.intake.said_in_notes import QUOTED as ASKED_FOR
from batch.intake.said_of_all import open_for_all
from batch.intake.sentence_words import forms, saying
from batch.intake.study import Studied
from batch.intake.survey import flat
from batch.intake.tank_words import OF_ANOTHER, tank_named
from batch.intake.texts_beside import cell_of
from batch.intake.verdict import count_of
from batch.intake.what_is_open import figures_spoken_of

ELEMENTS_COUNTED = re.compile(r"\belements?\s+(?:per|in each|each|of)\b", re.IGNORECASE)  # so that an element is none of the heaters
TOGETHER = 2  # rows whose sum a sentence may give: "T-1 and T-2 together 33 kW"
SHORT = 2  # words of what a mark stands for, which may mean that the row is another: judgement, no source
BEGINNING = 40  # letters by which a sentence is known again
LONGEST_MEANT = 12  # words of a sentence that says of all figures what they are: judgement, no source
LONGEST = 80  # letters of a sentence that a reason quotes
MARK = re.compile(r"\s*(\*{1,3}|†|‡|[¹²³⁰⁴-⁹]{1,2})[)⁾]?\s*[=:–-]?\s*(?=\S)")
ENDS = re.compile(r"(?<=[^\d\s.])\.\s+|;\s+|\n")
WHOLE = re.compile(r"(?<![\w.,])\d{1,2}(?![\w.,]*\d|\s*(?:k?W|V|ph))")
VOLTS = re.compile(r"(?<![\d.,])(\d{3})(?:\s*Y?\s*/\s*(\d{3}))?\s*(?:V\b|VAC\b|volts?\b)", re.IGNORECASE)
PERCENT = re.compile(r"(?<![±\w.,])\+?\s*\d{1,3}\s*%")
BEFORE = re.compile(  # the two words before a word for heaters
    r"(?:(?<![\w.,/-])(?P<far>\d{1,2}|[^\W\d_]+)\s+)?(?<![\w.,/-])(?P<near>\d{1,2}|[^\W\d_]+)\s+\Z"
)
NOT = re.compile(r"(?<!\w)(?:not|nicht|pas|non|no|niet|nie|n[ãa]o|ikke|inte|ej|ne|nikoliv?)\s+\Z", re.IGNORECASE)
NOW = re.compile(  # "T-3 is now 18"
    r"\b(?:now|jetzt|nun|k[üu]nftig|d[ée]sormais|maintenant|ahora|ora|adesso|nu|teraz|agora|n[åu]|nyn[íi])\s+\d+(?:[.,]\d+)?\W*\Z",
    re.IGNORECASE,
)
TOTAL = re.compile(r"\b(?:total\w*|totaa?l\w*|(?:ins)?gesamt\w*|summe|razem|[łl][aą]cznie|celkem|samlet)\b", re.IGNORECASE)
PUT_TOGETHER = re.compile(r"\w(?:b(?:ad|[äa]e?der)|becken|wannen?|heizer|heizung)(?:e?[sn])?\b", re.IGNORECASE)  # "Spülbäder"
EQUALS = re.compile(r"\s[=≙]\s")  # "T-5 = T-4"
IS = re.compile(r"\b(?:is|are|means?|ist|sind|est|sont|es|son|è|sono|jest|er|[äa]r|gives?|shows?)\b|=", re.IGNORECASE)


def ask_sentences(one: Studied, others: Sequence[Studied], sentences: Iterable[tuple[int, int, str]], used: str) -> set[tuple[int, int]]:
    """Puts the rows of one list in doubt, and gives where the sentences stand that were held against rows.

    others     the lists of the same sheet, whose rows a sentence may be about as well
    sentences  row and column from 0, and the words, of what stands beside the lists of a sheet
    used       all that was said of what was taken from words, which quotes them
    """
    heard: set[tuple[int, int]] = set()
    if one.heaters != "yes" or one.plan.given:
        return heard
    heated = [line for line in one.lines if line.kind in (DATA, DOUBT, OUT) and not is_sentence(line, one.plan)]
    rows = RowsNamed(heated, one.plan.columns["tank"].heading if "tank" in one.plan.columns else "")
    marked = _marks(one.grid, one.plan, heated)
    volts = {value for other in others for line in other.lines if (value := line.figure("volts_v")) is not None}
    for row, column, text in sentences:
        taken = f'"{text[:LONGEST]}"' in used or f'"{text[:60]}' in used
        whole = one.plan.power == EACH and saying("whole_tank").search(text)
        against = _other_volts(text, volts) or saying("changes").search(text) or whole or ELEMENTS_COUNTED.search(text)
        if (row, column) in one.plan.notes_taken:
            heard.add((row, column))
            continue
        if QUOTED.match(text) or codes_in_line(text) or (taken and not against):
            continue
        mark = _mark_of(text)
        bare = without_shared(_without_mark(text))
        why = f'"{text[:LONGEST]}" in {cell_of(row, column)}'
        if mark and mark in marked:
            told = [(part, marked[mark]) for part in ENDS.split(bare) if _touches_marked(rows.without_names(part))]
            named = told
        else:
            named = _named(bare, rows)
            lines_of = {part: [line for line in heated if line.index in some] for part, some in named}
            apart = [(part, some) for part, some in named if len(some) < TOGETHER or not sums_up(part, lines_of[part])]
            heard |= {(row, column)} if len(apart) < len(named) else set()
            told = [(part, some) for part, some in apart if _sends_on(part, rows) or touches(rows.without_names(part)) or _out(part, rows)]
        last = {index: part for part, some in told for index in some if POWERS.search(part)}  # of what was issued and what is
        settled = {line.index for line in heated if line.index in last and _as_it_stands(line, rows.without_names(last[line.index]))}
        issued = rows_of_issue(one.grid, one.plan.heading_rows, heated, (row, column))
        for part, some in told:
            as_issued = issued if not any(map(str.isdigit, rows.without_names(part))) else set()
            _ask([line for line in heated if line.index in some - settled - as_issued], part, rows, why)
        asked = any(some for _, some in told)
        if not any(some for _, some in named) and not any(RowsNamed(other.lines).named_in(bare) for other in others if other is not one):
            about = [line for line in heated if line.index in marked[mark]] if mark and mark in marked else heated
            asked = _ask_all(one, about, bare, volts, why)
        if asked:
            heard.add((row, column))
    return heard


def without_sentences_heard(one: Studied) -> None:
    """A sentence below a list that says something of rows of the list, and adds none, is no row of its own: those rows are asked where they
    are not as it says. By a map, which has been answered, as without one."""
    rows = RowsNamed([line for line in one.lines if line.kind in (DATA, DOUBT, OUT) and not is_sentence(line, one.plan)], _called(one.plan))
    for line in one.lines:
        text = flat(line.cells[0][1]) if is_sentence(line, one.plan) else ""
        added = saying("raise").search(text) and not adds_heaters(text)
        if not text or added or (hits("spare", text) and not is_spare(text, rows)) or not rows.named_in(text):
            continue
        if not (tank_named(rows.without_names(text)).by_word or rows.strange_tags(text)):
            line.kind, line.why = NOTE, ""


def heard_by_answers(one: Studied, sentences: Iterable[tuple[int, int, str]]) -> set[tuple[int, int]]:
    """Where sentences stand that name rows of a list which a person's map answers for, or which are as the sentence says."""
    answered = {*one.plan.keep_rows, *one.plan.leave_rows, *one.plan.row_values}
    heated = [line for line in one.lines if line.kind in (DATA, DOUBT, OUT) and not is_sentence(line, one.plan)]
    rows = RowsNamed(heated, _called(one.plan))
    heard: set[tuple[int, int]] = set()
    for row, column, text in sentences:
        rest, some = rows.without_names(text), rows.named_in(text)
        named = [line for line in one.lines if line.index in some]
        if named and all(line.index + 1 in answered or _as_it_stands(line, rest) for line in named):
            heard.add((row, column))
    return heard


def _called(plan: ListPlan) -> str:
    return plan.columns["tank"].heading if "tank" in plan.columns else ""


def is_sentence(line: Line, plan: ListPlan) -> bool:
    """Is a row in doubt no more than a sentence, which may be about other rows?"""
    return line.kind == DOUBT and not plan.free and len(line.cells) == 1 and isinstance(line.cells[0][1], str)


def speaks_of_heaters(text: str) -> bool:
    """Might rows be other than they stand by a sentence, if it is about them?"""
    of_a_total = TOTAL.search(text) is not None and OF_A_POWER.search(text) is not None
    return touches(text) or _by_others(text) or of_a_total or (names_a_tank(text) and bool(read_row_words(text).fate))


def touches(text: str) -> bool:
    """Does a sentence speak of the power, number, volts or phases of heaters, of a standby, or of what else heats a tank?"""
    if hits("accessories", text) and not heater_word(text):
        return False
    if hits("spare", text) and (saying("in_store").search(text) or ASKED_FOR.search(text)):
        return False
    sized = POWERS.search(text) or (VOLTS.search(text) and not OF_CONTROLS.search(text)) or saying("phases").search(text)
    by_word = any(saying(name).search(text) for name in ("counts", "changes", "otherwise_heated"))
    return bool(sized or by_word or NOW.search(text) or _count_of_heaters(text) or _of_the_tank(text))


def _touches_marked(text: str) -> bool:
    """The same of a sentence whose mark a row bears: a total of it, or spares among its heaters, "* includes one spare", as well."""
    spare = hits("spare", text) and not saying("in_store").search(text) and not ASKED_FOR.search(text)
    plain = plain_remark(text) or hits("materials", text) or hits("accessories", text) or ASKED_FOR.fullmatch(text.strip(" ."))
    bare = 0 < len(text.split()) <= SHORT and not plain  # "* steam", and no "A: furnish"
    return touches(text) or TOTAL.search(text) is not None or _by_others(text) or bool(spare) or bare


def _count_of_heaters(text: str) -> str:
    """The number before a word for heaters: "2 Heizer", "two more heaters"; "" where none stands there."""
    for hit in hits("heaters", text):
        match = BEFORE.search(text[: hit.start])
        for word in (match["near"], match["far"] or "") if match is not None and not hits("spare", text[: hit.start]) else ():
            if word.isdecimal() or (word and words().number(word.casefold()) is not None):
                return word
    return ""


def _by_others(part: str) -> bool:
    """Does a sentence say of heaters that somebody else buys them, or that they are out: "rinse tanks: heater by plant"?"""
    of_heaters = heater_word(part) or names_a_heater(part)
    return saying("bought").search(part) is not None or bool(of_heaters and read_row_words(part).fate and not hits("spare", part))


def _out(part: str, rows: RowsNamed) -> bool:
    """Does it say so, or take baths out that it names by what is in them: "die beiden Spülbäder entfallen"?"""
    if _by_others(part):
        return True
    beside = other_equipment(part) or hits("accessories", part)
    return read_row_words(part).fate == SAID_OUT and not beside and PUT_TOGETHER.search(part) is not None and bool(rows.baths_in(part))


def _sendings(part: str) -> list[re.Match[str]]:
    """Where a sentence may send to another row: "same as", "see", "="."""
    return [match for form in (saying("same"), saying("refers"), EQUALS) for match in form.finditer(part)]


def _sends_on(part: str, rows: RowsNamed) -> bool:
    """Does a sentence that names a row send to another: "T-2 like T-1", "T-2: see T-3"?"""
    for match in _sendings(part):
        first, behind = rows.named_in(part[: match.start()]) or rows.baths_in(part[: match.start()]), rows.named_in(part[match.end() :])
        if first and behind - first:
            return True
    return False


def _ask(lines: Sequence[Line], text: str, rows: RowsNamed, why: str) -> None:
    """The rows that a sentence is about, less those that already are as it says."""
    sends = _sends_on(text, rows)
    for line in lines:
        if line.kind == DATA and not _read_by(line, text) and (sends or not _as_it_stands(line, rows.without_names(text))):
            line.kind, line.why = DOUBT, why
            counted = ("quantity",) if _count_of_heaters(text) else ()
            line.open = () if sends or read_row_words(text).fate or otherwise_heated(text) else figures_spoken_of(text) or counted


def otherwise_heated(text: str) -> bool:
    """Does a sentence say that something else heats a tank?"""
    return saying("otherwise_heated").search(text) is not None


def _read_by(line: Line, text: str) -> bool:
    """Was the row's power shared out by this very sentence?"""
    power = line.facts.get("power_kw")
    return power is not None and power.basis == TANK and text[:BEGINNING] in power.seen


def _as_it_stands(line: Line, text: str) -> bool:
    """Do the figures of a sentence say no other than the row's own, or are they of something else?"""
    rest = without_places(text, line.figure("quantity"))
    if rest != text and not touches(rest):  # "one heater at each end" of two
        return True
    volts = _volts_in(text)
    own = line.figure("volts_v")
    otherwise = otherwise_heated(text) or saying("shares").search(text) is not None
    if OF_SOMETHING_ELSE.search(text) and not otherwise and not (volts and own is not None and own not in volts):
        return True
    if other_equipment(text) and not heater_word(text) and not otherwise and len(text.split()) > SHORT:
        return True
    if otherwise or saying("changes").search(text):
        return False
    agreed = figures_agree(text, line)
    counted = saying("counts").search(text) is not None or bool(_count_of_heaters(text))
    figures = WHOLE.findall(now_said(text)) if "quantity" not in agreed and counted else []
    if figures and (count := line.figure("quantity")) is not None:
        agreed["quantity"] = float(figures[-1]) == count
    return bool(agreed) and all(agreed.values())


def _named(text: str, rows: RowsNamed) -> list[tuple[str, set[int]]]:
    """Each sentence of a text and the rows that it names; "tank 6 is the same as tank 3", "T-2: see T-3" are about the first."""
    found: list[tuple[str, set[int]]] = []
    for part in ENDS.split(text):
        first = OF_ANOTHER.sub(" ", part)
        if (other := next((one for one in _sendings(part) if one.start()), None)) is not None:
            first = part[: other.start()]
        some = rows.named_in(first) or rows.named_in(part) or rows.baths_in(first)
        found += all_but(part, rows) or [(part, some)]
    return found


def _ask_all(one: Studied, heated: Sequence[Line], text: str, volts: Set[float], why: str) -> bool:
    """A sentence that names no row, and is about them all; whether it is."""
    some: list[Line] = []
    if _of_several_lines(text) and "lines" in one.plan.why:  # the number is that of all lines
        return False
    said = (_of_several_lines, _out_by_colour, _changes_all, _all_out, _otherwise_meant, open_for_all)
    if _other_volts(text, volts) or any(says(text) for says in said):
        some = list(heated)
    elif one.plan.power == EACH and _of_the_tank(text):
        some = [line for line in heated if (count_of(line) or 0) > 1]
    for line in some:
        if line.kind == DATA:
            line.kind, line.why = DOUBT, why
            line.open = () if read_row_words(text).fate or _out_by_colour(text) else figures_spoken_of(text)
    return bool(some)


@lru_cache(maxsize=1)
def _lines() -> re.Pattern[str]:
    """Ways to say that there are several lines with the same tanks, or that the figures are those of one or of both."""
    lines, several, alike = (forms(name) for name in ("lines", "several", "alike"))
    and_more = rf"-|–|&|/|\+|,|{forms('joined')}"
    is_so = r"(?:is|are|ist|sind|est|sont|es|son|[èe]|sono|jest|s[ąa]|s[ãa]o|er|[äa]r|je|jsou|=)"
    some = (
        rf"{several}\s+{alike}\s+(?:\w+\s+)?{lines}",
        rf"{several}\s+{lines}\s+{alike}",
        rf"{several}\s+of\s+(?:each|these|such|every)\s+{lines}",
        rf"{lines}\s+\w{{1,3}}\s+{is_so}\s+(?:an?\s+|the\s+)?{alike}",
        rf"{forms('figures')}\b.{{0,24}}?\b{forms('for_one')}\s+{lines}",
        rf"{lines}\s+\w{{1,3}}\s*(?:{and_more})\s*(?:{lines}\s+)?\w{{1,3}}\W{{1,3}}(?:\w+\s+)?{alike}",  # "Lines A and B (identical)"
        rf"{forms('typical')}\W+(?:\w+\s+){{0,2}}?(?:{several}\s+{lines}|{lines}\s+\w{{1,3}}\s*(?:{and_more})\s*\w{{1,3}})",
        rf"{forms('typical')}\W+(?:\w+\s+)?{forms('every')}\s+{lines}",
        rf"[x×*]\s*{several}\s*\(?\s*(?:{several}\s+)?{lines}",  # "x 2 lines", "all x2 (two lines)"
    )
    return re.compile(rf"(?<!\w)(?:{'|'.join(some)})(?!\w)", re.IGNORECASE)


def _of_several_lines(text: str) -> bool:
    return _lines().search(text) is not None


def _all_out(text: str) -> bool:
    """Does a sentence say of heaters that they are out, and nothing else: "Heaters by customer."?"""
    said = read_row_words(text)
    return said.fate == SAID_OUT and said.alone and is_heater(text) and not explains(text) and "=" not in text


def _otherwise_meant(text: str) -> bool:
    """Does a sentence say that the figures are those of an element or a phase, in another unit, or of each of several tanks?"""
    return saying("meant").search(text) is not None and len(text.split()) <= LONGEST_MEANT


def _changes_all(text: str) -> bool:
    """Does a sentence make the numbers or powers of all rows others: "add 20 % to all kW", "all quantities doubled"?"""
    if OF_SOMETHING_ELSE.search(text) or hits("spare", text) or (other_equipment(text) and not heater_word(text)):
        return False
    power = OF_A_POWER.search(text) is not None
    more = PERCENT.search(text) is not None and power and (saying("raise").search(text) or re.search(r"[+]\s*\d", text))
    return bool(more or (saying("times").search(text) and (power or saying("counts").search(text) or heater_word(text))))


def _other_volts(text: str, volts: Set[float]) -> bool:
    """Does a sentence give heaters volts that no row has, though rows have some? What was taken from a sentence rows do have."""
    given = _volts_in(text)
    apart = OF_CONTROLS.search(text) or OF_SOMETHING_ELSE.search(text) or (other_equipment(text) and not heater_word(text))
    return bool(given and volts) and not apart and not (given | {OF_A_SYSTEM.get(one, one) for one in given}) & volts


def _volts_in(text: str) -> set[float]:
    """All volts of a sentence, of "400/230 V" both."""
    return {float(volts) for match in VOLTS.finditer(text) for volts in match.groups() if volts}


@lru_cache(maxsize=1)
def _legend() -> re.Pattern[str]:
    """A colour and what it means, or what bears one."""
    colour, rows = forms("colours"), forms("coloured")
    shown = (
        r"(?:marked|shown|shaded|highlighted|markiert\w*|hinterlegt\w*|marqu[ée]\w*|surlign\w*|marcad[oa]s?|resaltad[oa]s?|evidenziat\w*"
        r"|gemarkeerd|zaznaczon\w+|assinalad\w+|markeret|markert|markera\w+|ozna[čc]en\w+)"
    )
    means = r"(?:=|:|[–—-]\s|\b(?:means?|is|are|bedeutet|signifi\w*)\b)"
    return re.compile(
        rf"\A\W*(?:(?:in|en|{shown}|{rows})\s+){{0,3}}{colour}(?:\s+{rows})?\s*{means}"
        rf"|(?<!\w)(?:{rows}|{shown})\s+(?:(?:{shown}|are|is|sind|sont|son)\s+)?(?:in\s+|en\s+)?{colour}(?!\w)",
        re.IGNORECASE,
    )


def _out_by_colour(text: str) -> bool:
    """Does a legend of colours, which are not read, take rows out or leave them open?"""
    return _legend().search(text) is not None and (bool(read_row_words(text).fate) or saying("ignored").search(text) is not None)


def _of_the_tank(text: str) -> bool:
    """Does a sentence say that the power shown is the total, or the tank's, and not that of each?"""
    whole = saying("whole_tank").search(text) is not None
    other = ("je", "à") if whole else ()  # each in one language, and "is" and "the" in another
    each = [hit for hit in hits("per_heater", text) if not NOT.search(text[: hit.start]) and hit.word not in other]
    said = OF_A_POWER.search(text) is not None and (whole or IS.search(text) is not None)
    return bool(words_of_all(text) or whole) and said and not each and not any(map(str.isdigit, text))


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
