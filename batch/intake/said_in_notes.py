"""Notes that stand apart from a table and name one of its rows: what they take out, leave open or say otherwise is asked about."""

from __future__ import annotations

import re
from collections.abc import Sequence, Set
from typing import NamedTuple

from batch.intake.all_but import all_but
from batch.intake.changes_told import FORMER_FIGURE, now_said
from batch.intake.described import described
from batch.intake.fewer_wanted import fewer_wanted, names_a_number
from batch.intake.figures_unread import counts_alone, unread_figure
from batch.intake.grid import Grid
from batch.intake.heading_sense import names_a_tank
from batch.intake.heaters_added import adds_heaters
from batch.intake.line_kinds import DATA, DOUBT, OUT, Line, supply_in
from batch.intake.list_supply import EXCEPT, for_all
from batch.intake.list_words import heater_word, hits, of_changes, other_equipment, takes_out
from batch.intake.note_numbers import bare_numbers, named_for_notes, notes_referred, number_of_note, number_off
from batch.intake.offers_taken import take_offers
from batch.intake.own_notes import without_own
from batch.intake.places_of_heaters import one_in_the_middle, places_contradict, without_places
from batch.intake.remark_words import DOUBT as SAID_DOUBT
from batch.intake.remark_words import OUT as SAID_OUT
from batch.intake.remark_words import about_what_stands_beside, kept_all_the_same, open_alone, read_row_words
from batch.intake.rows_named import RowsNamed
from batch.intake.sentence_words import saying
from batch.intake.supply_notation import supply_in_text
from batch.intake.survey import cells_of, flat
from batch.intake.tank_words import SAME
from batch.intake.texts_beside import cell_of
from batch.intake.verdict import close, plain

SENTENCES = re.compile(r"(?<=[^\d\s.])\.\s+|;\s+|\n")
SHORTENED = re.compile(  # "Tk. 2" is no end of a sentence
    r"(?<=\btk|\bno|\bnr)\.\s+(?=\d)|(?<=\btnk|\bstn|\bpos|\bpoz)\.\s+(?=\d)|(?<=\bexcl|\bincl)\.\s+", re.IGNORECASE
)
PIECES = re.compile(r",\s+")
BRACKETS = re.compile(r"[()\[\]]")
# What a power in a note may be of, that is none of the heaters': their need, and what feeds them
OF_SOMETHING_ELSE = re.compile(
    r"\b(?:loss(?:es)?|need\w*|demand|requir\w*|feed\w*|fed|panel|breaker|verlust\w*|bedarf|pertes?|besoin\w*|p[eé]rdidas?|perdite|strat\w*|ztr[aá]t\w*|tab|varmetab|behov|tavle|jisti[cč]\w*)\b",
    re.IGNORECASE,
)
POWERS = re.compile(r"(?<![\w.,/])(\d+(?:[.,]\d+)?)\s*k\s?W\b", re.IGNORECASE)
SAYS = re.compile(r"\d|[^\W_]{2}")  # anything, when the tags are taken out
QUOTED = re.compile(  # words for what is asked for
    r"\b(?:quot\w*|bid|price|offer|order|supply|furnish|buy|anbieten|angebot|liefern|cotizar|ofertar|suministrar|chiffrer|fournir|proposer"
    r"|quotare|offrire|fornire|offreren|aanbieden|leveren|wyceni[ćc]|oferowa[ćc]|dostarczy[ćc]|cotar|or[çc]ar|fornecer|tilbyde?s?|levere"
    r"|offerera|leverera|nab[íi]dnout|dodat)\b",
    re.IGNORECASE,
)
ONLY = re.compile(
    r"\b(?:only|nothing but|nur|seulement|uniquement|s[oó]lo|solamente|soltanto|solo|alleen|tylko|apenas|somente|kun|bara|endast|bare|pouze"
    r"|jen)\b",
    re.IGNORECASE,
)
LEFT_OUT_OF_A_SUM = re.compile(
    r"\b(?:excl\w*|without|not incl\w*|ohne|hors|sans|sin|senza|escl\w*|zonder|bez|sem|uden|utan|uten)\b[^;]*\d\s*k\s?W\b"
    r"|w/o\b[^;]*\d\s*kW\b",
    re.IGNORECASE,
)
WORDS = re.compile(r"[^\W\d_]{4,}")
MOST_LEFT = 1  # word beside: "please quote tanks 1 and 3 only": judgement, no source
BESIDE = 2  # cells of a row: a note's number, and the note
FEW = 3  # words of a sentence that gives a figure and names nothing, "is 240": judgement, no source
SENTENCE = 3  # words that may say something of a row
LONGEST_LABEL = 24  # letters of a cell that names the row which the sentence beside it is about: judgement, no source
ARTICLE = 3  # letters at most: "uniquement les thermoplongeurs"
OF_A_POWER = re.compile(r"(?<=W)[\s,]+each\b", re.IGNORECASE)  # "three heaters of 18 kW each" is not about all rows


class _Told(NamedTuple):
    """A note and what of it is about a row. `referred`: the row refers to it itself; `others_only`: others alone are to be quoted by it."""

    column: int
    text: str
    place: str
    part: str
    referred: bool
    others_only: bool = False


def asked_by_notes(
    lines: Sequence[Line], notes: Sequence[tuple[int, int, str]], *, called: str = "", sheet: str = "", noted: Set[int] = frozenset()
) -> None:
    """Rows that a note names, or that refer to it by its number, are in doubt where it takes them out, leaves them open, or gives them
    other figures.

    notes   row and column from 0, and the words
    called  the heading of the tanks, which says what the list calls them
    sheet   the sheet that they stand on, where it is another than the table's
    noted   the columns that a heading says are of notes, in which a bare number is that of one
    """
    heated = [line for line in lines if line.kind in (DATA, DOUBT, OUT)]
    take_offers(heated, notes)
    rows = RowsNamed(heated, called)
    referring = _referring(heated, noted) if not sheet or named_for_notes(sheet) else {}
    told: dict[int, list[_Told]] = {}  # by the row's index
    for row, column, text in without_own(notes):
        if for_all(OF_A_POWER.sub(" ", text)) and supply_in_text(text) is not None:
            continue  # "Line 2: 3N 400 V unless noted" is about no one row
        place = cell_of(row, column) + (f" of sheet {sheet}" if sheet else "")
        referred = referring.get(number_of_note(text), set())
        named = referred
        for sentence in _sentences(SHORTENED.sub(" ", number_off(text)), rows):
            if but := all_but(sentence, rows):
                for index, part, unsure in _of_others(but, heated):
                    told.setdefault(index, []).append(_Told(column, text, place, part, False, unsure))
                continue
            here = rows.named_in(sentence) or (rows.bath_in(sentence) if read_row_words(sentence).fate else set())
            if len(here) > 1 and sums_up(sentence, [line for line in heated if line.index in here]):
                continue
            named = here or named  # a sentence that names none goes on about those of the one before it
            for index in named if sentence.strip() else ():
                if row != index or sheet:
                    about = _about_row(sentence, index, rows, own=index in referred)
                    told.setdefault(index, []).extend(_Told(column, text, place, part, index in referred) for part in about)
            for index in _of_other_volts(sentence, heated) if not here else ():
                told.setdefault(index, []).append(_Told(column, text, place, sentence, False, True))
            rest = rows.without_names(sentence)
            if here and _of_these_alone(rest) and not _of_heaters_alone(sentence, rows):  # "T-2: quote 2 only" is about how many of these
                for index in here if names_a_number(rest) else {line.index for line in heated} - here:
                    told.setdefault(index, []).append(_Told(column, text, place, sentence, False, True))
    for line in heated:
        if line.kind == DATA:
            _ask(line, told.get(line.index, []), rows, of_sheet=bool(sheet))


def _of_others(but: Sequence[tuple[str, set[int]]], lines: Sequence[Line]) -> list[tuple[int, str, bool]]:
    """What "All tanks 9 kW, except T-6" says of which rows, and whether it leaves them open: T-6 too, where its own is 9 kW as well."""
    found = [(index, part, False) for part, some in but for index in some if part.strip(" .,;")]
    said, silent = but[0][0], {index for part, some in but[1:] if not part.strip(" .,;") for index in some}
    for line in lines:
        agreed = figures_agree(said, line) if line.index in silent else {}
        found += [(line.index, said, True)] if agreed and all(agreed.values()) else []
    return found


def sums_up(sentence: str, named: Sequence[Line]) -> bool:
    """Is the one power of a sentence that of all the heaters of the rows that it names: "total load T-1 thru T-5: 75 kW"?"""
    powers = [value for text in POWERS.findall(sentence) if (value := plain(text)) is not None]
    totals = [line.figure("total_kw") or (line.figure("power_kw") or 0) * (line.figure("quantity") or 1) for line in named]
    agrees = len(powers) == 1 and all(totals) and close(powers[0], sum(totals))
    each = hits("per_heater", sentence) or hits("per_tank", sentence) or "?" in sentence
    return agrees and not each and not read_row_words(sentence).fate and supply_in(sentence) is None


def _of_other_volts(sentence: str, lines: Sequence[Line]) -> set[int]:
    """The rows that a sentence leaves out by their volts: "quote the 480 V ones only"."""
    supply = supply_in_text(sentence) if ONLY.search(sentence) and QUOTED.search(sentence) else None
    volts = supply.volts if supply is not None else None
    return {line.index for line in lines if volts and line.figure("volts_v") not in (None, volts)}


def _about_row(sentence: str, index: int, rows: RowsNamed, *, own: bool) -> list[str]:
    """What of a sentence is about a row. `own`: the row refers to the note itself, which is about it, whatever else it names."""
    if LEFT_OUT_OF_A_SUM.search(sentence) and not read_row_words(sentence).fate:  # "excl. motors, S9: 112.5 kW" is the power of the others
        return []
    about = [sentence] if _likewise(sentence, rows) else _about(sentence, index, rows)
    if own:
        beside = [hits("spare", part) or (hits("accessories", part) and not heater_word(part)) for part in about]
        about = [part for part, other in zip(about, beside, strict=True) if not other]  # "furnish one spare", "low level cutoff by others"
        return [part for part in about if read_row_words(part).fate or "?" in part or POWERS.search(part) or supply_in(part)]
    return [part for part in about if not other_equipment(part) or _of_the_row(part) or open_alone(rows.without_names(part).strip(" :,-"))]


def _sentences(text: str, rows: RowsNamed) -> list[str]:
    """A sentence such as "Likewise T-9", without a figure of its own, goes with the one before it."""
    found: list[str] = []
    for one in SENTENCES.split(text):
        if found and saying("likewise").search(one) and not any(map(str.isdigit, rows.without_names(one))):
            found[-1] = f"{found[-1]}, {one}"
        else:
            found.append(one)
    return found


def _likewise(sentence: str, rows: RowsNamed) -> bool:
    """ "T-8: 9 kW, likewise T-9": what it says of the first holds of the other."""
    pieces = PIECES.split(sentence)
    said = [any(map(str.isdigit, rest := rows.without_names(piece))) or read_row_words(rest).fate != "" for piece in pieces]
    return any(said) and any(saying("likewise").search(piece) and rows.named_in(piece) for piece in pieces[said.index(True) + 1 :])


def _ask(line: Line, parts: Sequence[_Told], rows: RowsNamed, *, of_sheet: bool) -> None:
    """Puts a row in doubt where a note takes it out, leaves it open, or gives it other figures."""
    count = line.figure("quantity")
    figures = [figures_agree(without_places(rows.without_names(one.part), count), line, referred=one.referred) for one in parts]
    agreed = {key for found in figures for key, same in found.items() if same}  # the last of a list of changes
    for one, found in zip(parts, figures, strict=True):
        differs = any(not same and key not in agreed for key, same in found.items())
        rest = rows.without_names(one.part).strip(" :,-")
        fewer = 0 < fewer_wanted(rest) < (line.figure("quantity") or 0)
        named_alone = one.part == one.text and not one.referred and not SAME.search(one.text)  # "T-2: 2 needed", and nothing else
        odd = named_alone and (counts_alone(rest) or len(rest.split()) <= FEW) and unread_figure(rest, line)
        elsewhere = places_contradict(rows.without_names(one.part), count)  # "T-2: one at each corner", of two
        spare = open_alone(rest) or (not one.referred and is_spare(one.part, rows))
        more = adds_heaters(one.part)
        if differs or fewer or odd or elsewhere or spare or more or one.others_only or _left_open(one.part, named=not one.referred):
            line.kind, line.why, line.at = DOUBT, f'"{one.text[:80]}" in {one.place}', line.at if of_sheet else one.column
            other = tuple(key for key, same in found.items() if not same and key in ("quantity", "power_kw", "volts_v", "phases"))
            other = ("quantity",) if elsewhere and not other else other
            other = ("quantity", *(key for key in other if key == "power_kw")) if more else other
            fate = read_row_words(one.part).fate
            some = fate and heater_word(rest) and names_a_number(rest) and (count or 0) > 1  # "Delete one heater from T-3", of three
            line.open = ("quantity",) if some else other if (differs or elsewhere or more) and not fate else ()
            return


def is_spare(part: str, rows: RowsNamed) -> bool:
    """Does a sentence say of the tanks it begins with that they are spare, and nothing else: "103 is spare", "T-3: standby tank"?"""
    rest = rows.without_names(part).strip()
    spare = hits("spare", rest)
    if not spare or not rest.startswith(",") or part.lstrip().startswith(","):
        return False
    for hit in reversed(spare):
        rest = f"{rest[: hit.start]} {rest[hit.end :]}"
    left = re.findall(r"[\w-]*\w[\w-]*", saying("is_a").sub(" ", rest))
    return all(names_a_tank(word) for word in left)


def _of_these_alone(rest: str) -> bool:
    """Does a sentence, without the tags in it, say that the rows it names are all that is to be quoted, and nothing else? Not "quote PTFE
    for T-2 only"."""
    left = [word for word in WORDS.findall(QUOTED.sub(" ", ONLY.sub(" ", rest))) if not (heater_word(word) or names_a_tank(word))]
    beside = hits("spare", rest) or hits("accessories", rest) or hits("materials", rest)
    return bool(ONLY.search(rest)) and _of_what_is_quoted(rest) and len(left) <= MOST_LEFT and not beside


def _of_heaters_alone(sentence: str, rows: RowsNamed) -> bool:
    """ "T-2 and T-4 - quote heaters only": of the tanks named before it nothing but the heaters, which says nothing of other tanks."""
    for only in ONLY.finditer(sentence):
        for hit in hits("heaters", sentence):
            between = sentence[min(hit.end, only.end()) : max(hit.start, only.start())].strip()
            beside = not between or (len(between) <= ARTICLE and between.isalpha())
            if beside and not rows.named_in(sentence[min(hit.start, only.start()) :]):
                return True
    return False


def _of_what_is_quoted(sentence: str) -> bool:
    """Does a sentence say what is to be quoted, and nothing of a supply?"""
    return QUOTED.search(sentence) is not None and supply_in_text(sentence) is None


def _referring(lines: Sequence[Line], noted: Set[int]) -> dict[str, set[int]]:
    """The rows that refer to notes, by the notes' numbers."""
    found: dict[str, set[int]] = {}
    for line in lines:
        for at, value in line.cells:
            text = f"{value:g}" if isinstance(value, float) else flat(value) if isinstance(value, str) else ""
            for number in (*notes_referred(text), *(bare_numbers(text) if at in noted else ())):
                found.setdefault(number, set()).add(line.index)
    return found


def told_by_sheet(grid: Grid) -> list[tuple[int, int, str]]:
    """What a sheet without a list says in sentences: row and column from 0, and the words. In a log of changes, or where it asks something,
    with what names the row beside it: "Bad 8 | 2 to 3? not yet confirmed"."""
    headings = next((dict(cells_of(grid.rows[line])) for line in grid.lines if len(cells_of(grid.rows[line])) > 1), {})
    log = any(of_changes(flat(text)) for text in (grid.name, *headings.values()) if isinstance(text, str))
    found: list[tuple[int, int, str]] = []
    for line in grid.lines:
        cells = cells_of(grid.rows[line])
        labels = [(at, label) for at, value in cells if (label := _label(value, headings.get(at)))]
        for at, value in cells:
            text = _numbered(cells, at) + flat(value) if isinstance(value, str) else ""
            says = len(text.split()) >= SENTENCE or of_changes(flat(headings.get(at, "")))
            beside = " ".join(label for column, label in labels if column != at) if says and (log or "?" in text) else ""
            if text:
                found.append((line, at, f"{beside}: {text}" if beside else text))
    return found


def _numbered(cells: Sequence[tuple[int, object]], at: int) -> str:
    """The number or letter of a note, "4. ", where it stands in a cell of its own before the note's, and nothing else in the row."""
    first = cells[0][1]
    number = f"{first:g}" if isinstance(first, float) else flat(first).strip("().: ") if isinstance(first, str) else ""
    return f"{number}. " if len(cells) == BESIDE and at == cells[1][0] and number_of_note(f"{number}. x") else ""


def _label(value: object, heading: object) -> str:
    """A short cell that may name a row: a text, or a number under a word for a tank."""
    if isinstance(value, str):
        return flat(value) if len(value) <= LONGEST_LABEL else ""
    text = flat(heading) if isinstance(heading, str) else ""
    return f"{text} {value:g}" if isinstance(value, float) and names_a_tank(text) else ""


def _about(sentence: str, index: int, rows: RowsNamed) -> list[str]:
    """What a sentence says of one row: "T-8 deleted, T-9, T-11 added" says "added" of T-9, and not "deleted"."""
    pieces = PIECES.split(sentence)
    named = [rows.named_in(piece) for piece in pieces]
    own = [at for at, some in enumerate(named) if index in some]
    if len(pieces) < 2 or not any(some - {index} for some in named):
        if one_in_the_middle(rows.without_names(sentence)):  # "T-3: one each end, one in the middle"
            return [sentence]
        return [sentence, *(pieces[at] for at in own if not kept_all_the_same(sentence))]  # "T-4 is an existing tank, new heater"
    at = own[0] if own else 0
    last = next((on for on in range(at, len(pieces)) if SAYS.search(rows.without_names(pieces[on]))), at) if own else at
    alone = own and not SAYS.search(rows.without_names(pieces[at])) and not BRACKETS.search(pieces[at])  # "400 V (T-1, T-2), 230 V"
    at = last if alone or read_row_words(pieces[last]).fate else at  # "T-2, T-3 and T-4 deleted", "T-2, T-3: 12 kW"
    behind = [piece for piece, some in zip(pieces[at + 1 :], named[at + 1 :], strict=True) if not some]
    return [", ".join([pieces[at], *behind])]


def _of_the_row(part: str) -> bool:
    """Words by which a row may be out, or open, though other equipment is named; "filter pump C-04/C-05, not included" begins with what it
    is about."""
    first = other_equipment(re.split(r"\d", part)[0])
    return bool(read_row_words(part).fate) and not (first and not heater_word(part))


def _left_open(part: str, *, named: bool = True) -> bool:
    """Does it take the row out, leave it open, or ask about it? `named`: it names the row, so that it is about it."""
    fate = read_row_words(part).fate
    unsure = fate == SAID_DOUBT and not hits("spare", part)
    excepted = EXCEPT.search(part) is not None and _of_what_is_quoted(part)  # "quote all except T-2"
    beside = about_what_stands_beside(part) and not any(names_a_tank(reason) for _, reason in read_row_words(part).aside)
    taken = named and takes_out(part) and not beside and not kept_all_the_same(part)  # "T-46 covers existing" is about no heater
    return bool(taken) or fate == SAID_OUT or unsure or excepted or "?" in part


def figures_agree(part: str, line: Line, *, referred: bool = False) -> dict[str, bool]:
    """The number, power and supply that it gives the row's heaters, and whether they are those of the row. `referred`: the row refers to
    it, so that its supply is the row's, though it names a panel."""
    if OF_SOMETHING_ELSE.search(part):
        supply = supply_in(part) if referred else None
        said = {"volts_v": supply.volts, "phases": supply.phases} if supply is not None else {}
        return {key: line.value(key) == value for key, value in said.items() if value is not None and line.value(key) is not None}
    found: dict[str, bool] = {}
    own_figures = [one for key in ("quantity", "power_kw", "total_kw", "volts_v") if (one := line.figure(key)) is not None]
    for change in FORMER_FIGURE.finditer(part):  # "2 to 3" of a row that still has the two, and no three
        former, new = (any(close(plain(change[name]) or 0.0, one) for one in own_figures) for name in ("former", "new"))
        if former and not new:
            found["change"] = False
    part = now_said(part)
    told = dict(described(part).facts)
    supply = supply_in(part)
    if supply is not None:
        told |= {key: value for key, value in (("volts_v", supply.volts), ("phases", supply.phases)) if value is not None}
    for key in ("quantity", "volts_v", "phases"):
        other, own = told.get(key), line.figure(key)
        if isinstance(other, (int, float)) and own is not None:
            found[key] = other == own
    other, power, count = told.get("power_kw", told.get("total_kw")), line.figure("power_kw"), line.figure("quantity") or 1.0
    if isinstance(other, (int, float)) and power is not None:
        of_all = [power] if hits("per_heater", part) else [power, power * count, power / count]
        found["power_kw"] = any(close(float(other), one) for one in of_all)
    powers = [value for text in POWERS.findall(part) if (value := plain(text)) is not None]
    if len(powers) > 1 and power is not None:  # "9 kW in place of 6 kW"
        found["power_kw"] = all(any(close(value, one) for one in (power, power * count)) for value in powers)
    return found
