"""Columns of marks that say which rows count: "Order: yes / no", "Electric: x", "By others: x". A row that is not marked where others
are, or is marked as what is not built, is asked about."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence

from batch.intake.facts import figure
from batch.intake.heading_sense import concepts_of, subjects_of
from batch.intake.headings_of_choice import NOT_SO, answered, choice, named_so
from batch.intake.line_kinds import DATA, DOUBT, OUT, Line
from batch.intake.list_words import is_heater, says_no_heat
from batch.intake.remark_words import read_row_words
from batch.intake.sentence_words import worded_so
from batch.intake.survey import HeadingColumn, flat
from batch.intake.vocabulary import vocabulary
from batch.intake.wording import words

YES_OR_NO = re.compile(  # behind the question of a heading: "Quote? Y/N", "Substituir (S/N)"
    r" (?:y n|t f|true false|yes no|y or n|yes or no|j n|ja nein|o n|oui non|s n|s[ií] no|ja nee|t n|tak nie|sim n[aã]o|j n|ja nej|ja nei"
    r"|a n|ano ne|e h|evet hay[ıi]r|x)\Z",
    re.IGNORECASE,
)
WITHIN = re.compile(
    r"(?:in|go|bid|quote|incl(?:ude[ds]?|us\w*)?|within|enthalten|inbegriffen|compris\w*|zahrnuto|ing[åa]r)\.?", re.IGNORECASE
)
MARKED = frozenset("✓✔☑√●•■✅")
CROSSED = frozenset("✗✘✖☒❌")
CROSS = frozenset("xX×+*")  # says yes where nothing else does
TRUE, FALSE = frozenset({"t", "true"}), frozenset({"f", "false"})
EMPTY = re.compile(r"[\s\-–—_./☐□]*")
MOST_WORDS = 5  # of the heading of such a column: judgement, no source
# What a row has that is to be sized, as a heading: "Order?", "To be quoted", "Heated", "In scope", "Elektrisch"
WANTED = re.compile(
    r"incl(?:uded?)? (?:or )?excl(?:uded?)?|in (?:or )?out"
    r"|(?:to (?:be )?)?(?:quote|order|buy|price|bid|supply|install|build|use|furnish|purchase|release)d?"
    r"|go(?: no ?go)?|(?:bid|quote) no (?:bid|quote)|incl(?:ude[ds]?)?"
    r"|in(?:cluded)? (?:scope|bid|quote|order|contract)"
    r"|status|ok|(?:\w+ )?scope|replaced?|to be replaced"
    r"|(?:heat(?:ed|ing|ers?)?|electric(?:al)?(?: heat(?:ing|er)?s?)?|elec) ?(?:y n|yes no|reqd|required|needed)?"
    r"|req(?:uire)?d|needed|wanted|approved|active|in (?:use|service)|selected|y n|yes no|this (?:order|phase|project)|new"
    r"|(?:zu )?(?:bestellen|anbieten|liefern)|angebot|bestellung|lieferumfang|(?:wird )?ben[oö]tigt|erforderlich|aktiv|beheizt"
    r"|elektrisch|elektro(?:heizung)?|neu|ersetzen|austauschen|ja nein"
    r"|[aà] (?:commander|chiffrer|fournir)|commande|devis|fourniture|compris|inclus|requis|n[eé]cessaire|actif|chauff[eé]e?|[eé]lectrique"
    r"|neu[fv]e?|nouveau|remplacer|oui non"
    r"|pedir|cotizar|suministrar|pedido|incluido|requerido|necesario|activo|calefactad[oa]|el[eé]ctric[oa]|nuevo|reemplazar|s[ií] no"
    r"|da (?:ordinare|quotare|fornire)|ordinare|quotare|incluso|richiesto|necessario|attivo|riscaldat[oa]|elettric[oa]|nuovo|sostituire"
    r"|te (?:bestellen|leveren|offreren)|leveren|in opdracht"
    r"|bestellen|offerte|inbegrepen|nodig|benodigd|actief|verwarmd|nieuw|vervangen|ja nee"
    r"|do (?:zam[oó]wienia|wyceny|dostawy)|zam[oó]wi[cć]|wyceni[cć]|w zakresie|wymagan[aey]|aktywn[aey]|ogrzewan[aey]|elektryczn[aey]"
    r"|now[aey]|wymieni[cć]|tak nie"
    r"|a (?:encomendar|cotar|fornecer)|encomendar|cotar|inclu[ií]do|necess[aá]rio|ativo|aquecid[oa]|el[eé]tric[oa]|novo|substituir"
    r"|sim n[aã]o"
    r"|skal (?:bestilles|leveres|tilbydes)|bestilles?|tilbud|inkluderet|inkludert|n[oø]dvendigt?|aktivt?|opvarmet|oppvarmet|elektrisk"
    r"|nyt?"
    r"|ska (?:best[aä]llas|levereras|offereras)|best[aä]lls?|offert|ing[aå]r|beh[oö]vs|uppv[aä]rmd|nytt?"
    r"|objednat|nacenit|dodat|zahrnuto|pot[rř]eba|nutn[eé]|aktivn[ií]|vyt[aá]p[eě]n[aáoé]|elektrick[yýaáeé]|nov[yýaáeé]",
    re.IGNORECASE,
)
# What is there already, or bought, or how a tank is heated that has no electric heater; a row so marked may not be wanted
THERE = re.compile(
    r"(?:already )?(?:installed|ordered|bought|purchased|delivered|received|in place|on site|paid|done)"
    r"|bereits (?:bestellt|geliefert|eingebaut)"
    r"|bestellt|geliefert|eingebaut|vorhanden|d[eé]j[aà] (?:command[eé]|livr[eé]|en place)e?|command[eé]e?|livr[eé]e?|en place"
    r"|ya (?:pedido|comprado|instalado)|comprado|entregado|gi[aà] (?:ordinato|fornito|installato)|ordinato|consegnato|besteld"
    r"|geleverd|aanwezig"
    r"|zam[oó]wione|dostarczone|zamontowane|encomendado|entregue|instalado|bestilt|levert?|best[aä]llt|levererat|objedn[aá]no|dod[aá]no"
    r"|(?:natural )?gas|(?:hot|warm) ?water|heat pump|hei[sß]+wasser|warmwasser|erdgas|gaz|eau chaude|agua caliente|acqua calda"
    r"|[aá]gua quente"
    r"|warm water|ciep[lł]a woda|varmt? ?vand|varmtvatten|varmt ?vann|hork[aá] voda|plyn",
    re.IGNORECASE,
)
STAYS = re.compile(  # what is there, or in the list (trade words, common practice, no source)
    r"(?:to )?(?:be )?(?:keep|kept|stays?|remains?|retain(?:ed)?)|behalten|bleibt|garder|[aà] garder|conserver|mantener|conservar"
    r"|mantenere|resta|da tenere|behouden|blijft|zostaje|zachowa[cć]|manter|fica|beholdes|bliver|blir|beh[åa]lls?|ponechat|z[ůu]st[áa]v[áa]"
    r"|kal[ıi]yor",
    re.IGNORECASE,
)
LONGEST_CODE = 2


def asked_by_marks(columns: Sequence[HeadingColumn], lines: Sequence[Line]) -> None:
    """Puts in doubt the rows that such columns leave out. `columns`: those that nothing of a heater is read from."""
    for column in columns:
        if says_which(column.text):
            _marked(lines, column, wanted=_asks_what_is_wanted(column.text))


def _asks_what_is_wanted(text: str) -> bool:
    return choice(text) is not None or WANTED.fullmatch(_question(text)) is not None


def _question(text: str) -> str:
    """The words of a heading without the answers that it offers: "Quote? (Y/N)" -> "quote"."""
    heading = " ".join(words(text))
    return heading if WANTED.fullmatch(heading) else YES_OR_NO.sub("", heading)


def says_which(text: str) -> bool:
    """May marks below a heading say which rows count?"""
    heading = _question(text)
    return bool(heading) and len(words(heading)) <= MOST_WORDS and (_asks_what_is_wanted(text) or _not_built(text, heading))


def _not_built(text: str, heading: str) -> bool:
    """Does a heading say what its rows are that are not built, or not by an electric heater: "By others", "Delete", "Steam"?"""
    if any(form.fullmatch(heading) for form in (THERE, STAYS, NOT_SO)):
        return True
    counted = any(concepts_of(word) & {"number", "power", "volts", "amps", "size"} for word in words(text))
    other_heat = worded_so("other_heat").fullmatch(heading) is not None
    beside = all("beside" in subjects_of(word) for word in words(text)) and not other_heat  # what a bath may have: "Pump"
    return not counted and not is_heater(text) and (bool(read_row_words(text).fate) or (says_no_heat(text) and not beside))


def _true_or_false(cells: Mapping[int, object]) -> Mapping[int, object]:
    """Cells with T and F, where a column has both and nothing else, as yes and no; else as they are."""
    said = {flat(value).strip().casefold() for value in cells.values() if isinstance(value, str) and value.strip()}
    if not (said <= TRUE | FALSE and said & TRUE and said & FALSE):
        return cells
    words_of = {index: flat(value).strip() for index, value in cells.items() if isinstance(value, str)}
    return {index: words_of[index].casefold() in TRUE if words_of.get(index) else value for index, value in cells.items()}


def _marked(lines: Sequence[Line], column: HeadingColumn, *, wanted: bool) -> None:
    rows = [line for line in lines if line.kind in (DATA, DOUBT, OUT)]
    cells = {line.index: next((value for at, value in line.cells if at == column.index), None) for line in rows}
    ticked = any(isinstance(value, str) and set(value.strip()) & MARKED for value in cells.values())
    plain = answered(column.text, _true_or_false(cells), alone=True) if wanted else named_so(column.text, cells)
    read = {index: _yes(value, ticked) for index, value in plain.items()}
    counted = any(figure(value) is not None for value in cells.values() if not isinstance(value, bool))
    denied = {index for index, value in plain.items() if _denies(value)}
    unread = [index for index, said in read.items() if said is None]
    both = any(read.values()) and bool(denied) and _question(column.text) != "status"  # among which a "TBD" is neither
    told = bool(any(read.values()) or denied) and not (unread and not (both and 2 * len(unread) < len(read)))
    if not told and choice(column.text) is not None:  # codes of its answers that nobody knows
        denied = {index for index in unread if figure(cells[index]) is None and len(flat(cells[index]).strip()) <= LONGEST_CODE}
        read = {index: index not in denied for index in read}
    elif not told or (counted and not wanted):
        return
    stays = STAYS.fullmatch(_question(column.text)) is not None  # the heater that is there, or the row: of both N leaves it open
    for line in rows:
        said = read[line.index]
        left_out = wanted and said is False and (line.index in denied or any(read.values()))
        at_odds = line.kind == OUT and line.at != column.index and wanted and bool(said) and bool(denied)  # "Yes" beside "deleted"
        if at_odds or (line.kind == DATA and (left_out or said is None or (not wanted and said) or (stays and line.index in denied))):
            what = f'"{flat(cells[line.index])[:20]}"' if cells[line.index] is not None else "nothing"
            why = f'{what} under "{column.text.strip()[:40]}"' + f", and {line.why}," * at_odds
            line.kind, line.at, line.why = DOUBT, column.index, why


def _yes(value: object, ticked: bool) -> bool | None:
    """What a mark says; a blank cell says no. None where it is none: a date, a sentence, a number but for 1 and 0."""
    if value is None or isinstance(value, bool):
        return bool(value)
    if (number := figure(value)) is not None:
        return bool(number) if number in (0, 1) else None
    text = flat(value).strip() if isinstance(value, str) else "?"
    if EMPTY.fullmatch(text) or set(text) <= CROSSED or _denies(value):
        return False
    if WITHIN.fullmatch(text):
        return True
    if set(text) <= CROSS:
        return not ticked
    return True if set(text) <= MARKED or vocabulary()["yes"].whole(text) else None


def _denies(value: object) -> bool:
    """Does a cell say no in so many words, or by a mark?"""
    if isinstance(value, bool):
        return not value
    text = flat(value).strip() if isinstance(value, str) else ""
    return bool(text) and (set(text) <= CROSSED or bool(vocabulary()["no"].whole(text) or NOT_SO.fullmatch(text)))
