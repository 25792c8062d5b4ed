"""Words that take a row out of a list, or leave open whether it is to be built: "deleted per Rev C", "by others", "HOLD", "entfällt".

A word counts where it is about the heater. "Wiring by others" and "existing tank" are about something else, and "replaces existing"
and "released from hold" say the contrary: such words decide nothing, and are named, so that nobody wonders.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import lru_cache

from msgspec import Struct

from batch.intake.heading_sense import OFFERED, concepts_of, subjects_of
from batch.intake.scope_words import out_of_scope, who_accepted
from batch.intake.sentence_words import saying, worded_so
from batch.intake.tanks_that_stay import speaks_of_staying
from batch.intake.vocabulary import Hit, Vocabulary, vocabulary
from batch.intake.wording import composed, tokens, words

OUT, DOUBT = "out", "doubt"
ADDS = re.compile(  # "existing 2, add 1": not all that is there stays as it is
    r"\b(?:add|adding|plus|need|want|zus[äa]tzlich|dazu|noch|ajouter|rajouter|a[ñn]adir|agregar|aggiungere|toevoegen|doda[ćc]|acrescentar|adicionar"
    r"|tilf[øo]j|legg til|l[äa]gg till|p[řr]idat)\s+(?:\d|one|two|three|eine?n?|un[ea]?|uno|[ée][ée]n|jed(?:en|n[ąau])|um|en|ett?)\b"
    r"|\+\s*\d\s+(?:new|neu|nou|nuev|nuov|nieuw|now)",
    re.IGNORECASE,
)
MOST_ASKING = 3  # words with a question mark that ask about the row: judgement, no source
ASIDE = re.compile(r"\s[-–—/]\s|[;,(]|\.\s")  # before what is said beside
ASKED_OF = re.compile(r"\d\s*(?:k?W|V|ph?|x)\b", re.IGNORECASE)
LONGEST = 400
SUBJECTLESS = frozenset({"beside_removal", "heater", "element", "tank", "removal"})
HARMLESS = ("materials", "fillers", "in_service", "plain_remark", "accessories", "kept", "yes", "three_phase", "one_phase")
ABOUT = "it is about"  # how such a reason begins
BEHIND = 2  # words between "existing" and what it is about: judgement, no source
LEADING = frozenset(  # before a noun that says where, why or by what, and so not what was removed
    {"per", "see", "on", "in", "to", "for", "at", "from", "if", "with"}
    | {"by", "until", "due", "because", "after", "before", "without", "when", "under"}
    | {"laut", "gemass", "siehe", "auf", "im", "durch", "zu", "fur", "mit", "bei", "bis"}
    | {"wegen", "nach", "vor", "ohne", "von", "durch", "am", "an", "wenn"}
    | {"selon", "voir", "sur", "dans", "pour", "avec", "par", "jusqu", "apres", "avant", "sans", "si", "au", "aux", "cause"}
    | {"segun", "ver", "en", "para", "con", "por", "hasta", "despues", "antes"}
    | {"sin", "conforme", "em", "com", "ate", "depois", "sem", "no", "na"}
    | {"secondo", "vedi", "su", "per", "fino", "dopo", "prima", "senza", "nel", "nella", "sul", "sulla", "da", "dal", "dalla"}
    | {"volgens", "zie", "op", "voor", "met", "tot", "na", "zonder", "bij", "door", "wg", "wedlug"}
    | {"patrz", "dla", "do", "po", "przed", "bez", "przez", "w", "z", "nad", "pod"}
    | {"med", "uden", "utan", "uten", "til", "till", "fra", "fran", "efter", "etter"}
    | {"pa", "ved", "vid", "af", "av", "iht", "enligt", "grund"}
    | {"viz", "pro", "pred", "podle", "pri", "od", "kvuli", "dle"}
)
MEASURE = re.compile(r"\d(?:[\d/., -]*\d)?\s*(?:in\.|ft\.|[\"″”])(?=\s+[^\W\d_])", re.IGNORECASE)  # "1 in. coupling": no end
ABBREVIATED = 3  # letters of a word that is hardly more than a mark: "ev.", "bef."
SHORT = 5  # words of a clause in which such a word is what the clause is about: judgement, no source
_CLAUSES = re.compile(
    r"[;,()\[\]\n]|(?<!\bno)(?<!\bnr)(?<!\bex)(?<!\bexist)(?<!\bcust)(?<!\bevtl)(?<!\beventl)(?<!\bev)\.\s(?!(?:ausbaustufe|bauabschn|etap|bygget|trinn))|\s[–—/|-]\s|:\s|\b(?:but|aber|mais|pero|ma|maar|ale|mas|men|avšak)\b",
    re.IGNORECASE,
)
_IF = re.compile(
    r"\b(?:if|unless|when|once|until|falls|wenn|sofern|bis|si|sauf|cuando|se|quando|als|indien|wanneer|jeśli|jeżeli|gdy"
    r"|hvis|såfremt|medmindre|dersom|når|om|när|ifall|pokud|jestli|když)\b",
    re.IGNORECASE,
)
_AND = re.compile(r"\s*(?:and|&|und|et|y|e|en|i|og|och|a|\+)\s*", re.IGNORECASE)
_NOT_BEFORE = re.compile(r"\b(?:not|not yet|un|nicht|noch nicht|pas|no|non|niet|nie|n[aã]o|ikke|inte|ej|ne|není)\s*\Z", re.IGNORECASE)
_TO_COME = re.compile(  # before a word of release: "until released", "will be released"
    r"\b(?:until|till|til|pending|awaiting|awaits|when|once|if|before|unless|(?:will|to|must|can|may) be|be|needs"
    r"|bis|wenn|sobald|wird|werden"
    r"|jusqu'à|si|quand|sera|hasta|cuando|será|ser|fino a|quando|sarà|essere|tot|als|wordt|worden|aż|gdy|até|indtil|når|tills|när|až)"
    r"(?:\s+(?:it|this|is|are|has|been|being|zur|zum|que|is|formally|fully))*\s*\Z",
    re.IGNORECASE,
)
_ASKED = re.compile(r"^[^.;\n]*\?|^\s+(?:by|on|after|from|for)\b")  # behind it: "lifted? ask", "released by Monday"
_HOLDING = re.compile(r"\s*(?:(?:at|to|@)\s*\d|\d+\s*(?:°|º|deg|[FC]\b))", re.IGNORECASE)  # "hold at 140", "hold 140 F"; HOLD 2 is a number
_NOT_BUILT = re.compile(r"\b(?:built|gebaut|construite|construye|costruita|gebouwd)\Z", re.IGNORECASE)
_TO_COME_LATER = re.compile(r"(?:k[üu]nftig|zuk[üu]nftig|futur|toekomst|przysz|framtid|fremtid|budouc)", re.IGNORECASE)  # "future tank"
_MOVED = re.compile(r"reloc|moved", re.IGNORECASE)
_DONE_TO_IT = re.compile(r"(?P<one>[^\W\d_]+)\s+(?P<and>\S+)\s+(?P<other>[^\W\d_]+)\b")
_TO_A_PANEL = re.compile(
    r"\s+(?:on|in)?to\s+(?:the\s+|new\s+|another\s+)?(?:panel(?:board)?s?|pnl|mcc|[lpd]p|mdp|switchboard|circuits?|ckts?|cct|breakers?|feeders?)\b",
    re.IGNORECASE,
)
_BY_WHOM = re.compile(r"\s+(?:by|durch|vom?|par|por|da|door|przez|af|av)(?:\s+[^\W\d_]+){1,3}\.?\s*\Z", re.IGNORECASE)  # who tells it
_POWERED = re.compile(r"\d\s*k?W\b", re.IGNORECASE)
_RELEASED = re.compile(
    r"\b(?:released?|lifted|off|no longer on|freigegeben|levé|levantad[oa]|vrijgegeven|zwolnion[oa]"
    r"|frigivet|frisläppt|frigitt|uvolněn[oay]?)\b",
    re.IGNORECASE,
)

ACCEPTED = re.compile(
    r"\b(?:accepted|exercised|ordered|bought|purchased|angenommen|beauftragt|bestellt|accept[ée]e?s?|retenue?s?|command[ée]e?s?|aceptad[oa]s?"
    r"|contratad[oa]s?|accettat[aeio]|ordinat[aeio]|besteld|geaccepteerd|przyj[ęe]t[aey]|zam[óo]wion[aey]|bestilt|best[äa]lld?t?"
    r"|objedn[áa]n[aoy]?)\b",
    re.IGNORECASE,
)
NOT_YET = re.compile(
    r"\b(?:if|when|unless|until|once|to be|may be|can be|will be|yet|falls|wenn|sobald|noch|wird|werden|si|se|quand|cuando|quando|als"
    r"|indien|wanneer|nog|wordt|je[śs]li|hvis|om|n[åa]r|pokud|nie|ne)\s+(?:\w+\s+){0,2}\Z",
    re.IGNORECASE,
)


class RowWords(Struct, frozen=True):
    """What the words of a cell do to their row.

    fate   OUT, DOUBT or "" (nothing)
    word   the word by which, as it stands in the text
    alone  the text says little beside it: nothing that the word could be about in place of the heaters
    aside  words of these lists that decide nothing here, each with the reason
    """

    fate: str = ""
    word: str = ""
    alone: bool = True
    aside: tuple[tuple[str, str], ...] = ()


@lru_cache(maxsize=8192)
def read_row_words(text: str) -> RowWords:
    """What a remark, a status or a description says of whether its row is to be built."""
    text = composed(text)[:LONGEST]
    for aside_of_rows in (MEASURE, saying("papers_wanted")):
        text = aside_of_rows.sub(lambda match: " " * len(match[0]), text)
    text = who_accepted().sub(lambda match: match["word"] + " " * len(match["whom"]), text)
    known = vocabulary()
    if renewed := saying("renewed").fullmatch(text.strip(" .!")):
        return RowWords(aside=((renewed[0], "its heaters come in place of others"),))
    if not known["out"].find(text) and not known["doubt"].find(text) and not out_of_scope(text):
        return RowWords()
    aside: list[tuple[str, str]] = []
    found: list[tuple[str, str]] = []
    start = 0
    for end in [*(match.start() for match in _CLAUSES.finditer(text)), len(text)]:
        clause = text[start:end].strip(" \t\n;,()[].:/|–—-")
        found += _of_clause(clause, known, aside)
        start = end
    if found and _kept_words(text, known):
        found = _kept(text, found, known, aside)
    if found and all(OFFERED.match(word) for _, word in found) and (taken := accepted(text)):
        aside += [(word, f'"{taken}" says that it is bought') for _, word in found]
        found = []
    fates = {fate for fate, _ in found}
    fate = DOUBT if DOUBT in fates or (fates and (ADDS.search(text) or _new_ones_too(text, found))) else OUT if fates else ""
    those = [word for one, word in found if one == fate] or [word for _, word in found]
    word = next((word for word in those if len(word) > ABBREVIATED), next(iter(those), ""))  # "ev. senare": the second says more
    return RowWords(fate, word, fate != OUT or _says_little_else(text, known), tuple(aside))


def read_remark(text: str) -> RowWords:
    """What a remark of a row says: beside that, which titles and headings may say as well, what leaves its heaters open where it is all."""
    said = read_row_words(text)
    return said if said.fate or not open_alone(text) else RowWords(DOUBT, text.strip())


def open_alone(text: str) -> bool:
    """Is a remark nothing but words by which its heaters may come with the tank, be bought already, be for later or not electric?"""
    return worded_so("open_alone").fullmatch(text.strip(" .!*()-")) is not None


def accepted(text: str) -> str:
    """The word by which an option is bought: "Alternate 2: ACCEPTED", "optie 1 - besteld"; "" where it is not, or not yet."""
    said = list(ACCEPTED.finditer(text))
    unsure = "?" in text or any(_not_said(text, *match.span()) or NOT_YET.search(text[: match.start()]) for match in said)
    return said[-1][0] if said and not unsure else ""


def about_old_ones(text: str) -> bool:
    """Is a remark about the heaters that were there, "old ones to be removed", "stare do demontażu", and names no tank and nothing new?"""
    told = [concepts_of(word) for word in words(text)]
    again = saying("used_again").search(text) is not None  # which may be the row's own
    return any("former" in one for one in told) and not any(one & {"tank", "buy"} for one in told) and not again


def _new_ones_too(text: str, found: Sequence[tuple[str, str]]) -> bool:
    """ "Existing 2 x 6 kW, new 3 x 9 kW": are only those taken out that are there, and others counted, which are new?"""
    told = [(token.word, concepts_of(token.word)) for token in tokens(text)]
    there = all(any(concepts_of(one) & {"former", "spare"} for one in words(word)) for _, word in found)
    new = [at for at, (_, some) in enumerate(told) if "buy" in some and not some & {"needed", "former", "spare"}]
    return there and any(near[:1].isdigit() for at in new for near, _ in told[max(0, at - 1) : at + 2])


def about_what_stands_beside(text: str) -> bool:
    """Does a remark say that what stands beside the heaters is there, is not bought or is by others, and nothing of the row?"""
    said = read_row_words(text)
    return not said.fate and (bool(vocabulary()["as_backup"].find(text)) or any(reason.startswith(ABOUT) for _, reason in said.aside))


@lru_cache(maxsize=8192)
def plain_remark(text: str) -> bool:
    """Does a remark say nothing that could take its row out: a material, "new", "in service", a number, or nothing but marks?"""
    known = vocabulary()
    said = [hit for name in HARMLESS for hit in known[name].find(text)]
    rest = "".join(" " if any(one.start <= at < one.end for one in said) else sign for at, sign in enumerate(text))
    return all(len(word) == 1 or not word.isalpha() for word in words(rest))


def kept_all_the_same(text: str) -> bool:
    """Does a text say that the heaters are in, whatever else it takes out: "existing tank, new heater"?"""
    return bool(_kept_words(text, vocabulary()))


def _kept_words(text: str, known: Vocabulary) -> list[Hit]:
    """Words by which a row is in all the same, "released", and not behind "not" or "until"."""
    said = [hit for hit in known["kept"].find(text) if not _not_said(text, hit.start, hit.end)]
    return [hit for hit in said if not known["other_parts"].find(_CLAUSES.split(text[: hit.start])[-1])]  # "on hold. Feeder F2 released"


def _not_said(text: str, start: int, end: int) -> bool:
    """Is a word of release denied, to come, or asked: "not released", "will be released", "released by Monday", "lifted?"?"""
    return any(form.search(text, 0, start) for form in (_NOT_BEFORE, _TO_COME)) or _ASKED.match(text[end:]) is not None


def _kept(text: str, found: list[tuple[str, str]], known: Vocabulary, aside: list[tuple[str, str]]) -> list[tuple[str, str]]:
    """ "Was future, now released", "tank deleted, this is the new one": what stands last counts; before it, nothing is sure."""
    last = _kept_words(text, known)[-1]
    behind = text[last.end :]
    if all(text.rfind(word) < last.start for _, word in found) and not known["out"].find(behind) and not known["doubt"].find(behind):
        aside += [(word, f'"{text[last.start : last.end]}" says the contrary') for _, word in found]
        return []
    return [(DOUBT, word) for _, word in found]


def _says_little_else(text: str, known: Vocabulary) -> bool:
    """Is every word of the text one that takes a row out, of the heater or its tank, a number, or one that gives no subject?"""
    said = [*known["out"].find(text), *known["heaters"].find(text), *known["instead"].find(text), *known["fillers"].find(text)]
    rest = "".join(" " if any(one.start <= at < one.end for one in said) else sign for at, sign in enumerate(text))
    return all(len(word) == 1 or not word.isalpha() or concepts_of(word) & SUBJECTLESS for word in words(rest))


def _of_clause(clause: str, known: Vocabulary, aside: list[tuple[str, str]]) -> list[tuple[str, str]]:
    """(fate, word) of one clause."""
    out, doubt = (*known["out"].find(clause), *out_of_scope(clause)), known["doubt"].find(clause)
    doubt = tuple(hit for hit in doubt if not any(one.start <= hit.start and hit.end <= one.end for one in out))
    found: list[tuple[str, str]] = []
    for hit, fate in (*((hit, OUT) for hit in out), *((hit, DOUBT) for hit in doubt)):
        word = clause[hit.start : hit.end]
        reason, sure = _about_something_else(clause, hit, known, fate)
        if fate == OUT and (_IF.search(clause) or _of_a_figure(clause, hit)):
            found.append((DOUBT, word))
        elif reason and sure:
            aside.append((word, reason))
        elif contrary := _contrary(clause, hit, known):
            aside.append((word, contrary))
        elif reason or (fate == OUT and (not _is_the_point(clause, hit) or _taken_back(clause, hit, known))):
            found.append((DOUBT, word))
        else:
            found.append((fate, word))
    return found


def _is_the_point(clause: str, hit: Hit) -> bool:
    """Does the clause begin or end with the word, or say little else?"""
    before, after = tokens(clause[: hit.start]), tokens(clause[hit.end :])
    return not before or not after or len(before) + len(after) <= SHORT


def _about_something_else(clause: str, hit: Hit, known: Vocabulary, fate: str) -> tuple[str, bool]:
    """"wiring by others", "existing tank", "spare fuse": what it is about, in words ("" = the heater), and whether that is sure."""
    heaters = known["heaters"].find(clause)
    if fate == OUT and _brought_too(clause, hit):
        return "", True
    if subject := (_subject(clause, hit) if not heaters else "") or _make_open(clause, hit, known):
        return f'{ABOUT} "{subject}"', True
    parts = [one for one in known["other_parts"].find(clause) if not _covered(one, heaters) and not _covered(one, (hit,))]
    ended = [one for one in parts if one.end <= hit.start and len(tokens(clause[one.end : hit.start])) <= 2]
    before = [one for one in ended if not _led(clause, one.start)]
    after = [one for one in parts if one.start >= hit.end and len(tokens(clause[hit.end : one.start])) <= 1 and not _led(clause, one.start)]
    near = after[0] if after else before[-1] if before else None
    with_tank = _said(hit, clause, "removal") or _TO_COME_LATER.match(hit.word) is not None
    with_tank = with_tank or _NOT_BUILT.search(hit.word) is not None  # "tanks not being built"
    with_tank = with_tank or speaks_of_staying(clause)  # "confirm tank is staying"
    with_tank = with_tank or (fate == DOUBT and _POWERED.search(clause) is not None)  # "tank 8 maybe 2 x 6 kW" doubts its heaters
    if near is None or (_said(near, clause, "tank") and with_tank):  # with its tank the heaters go too, or come later
        return "", True
    for one in heaters:
        nearer = hit.end <= one.start < near.start or near.end <= one.start < hit.start
        if nearer or _AND.fullmatch(clause[min(one.end, near.end) : max(one.start, near.start)]):
            return "", True
    between_them = clause[near.end : hit.start] if near.end <= hit.start else clause[hit.end : near.start]
    return f'{ABOUT} "{clause[near.start : near.end]}"', not heaters or not tokens(between_them)


def _brought_too(clause: str, hit: Hit) -> bool:
    """ "Supplied and wired by others": whoever wires the heaters brings them. Not "piping supplied and installed by others"."""
    match = _DONE_TO_IT.match(clause)
    if match is None or not _AND.fullmatch(match["and"]) or not any(saying("brought").fullmatch(match[name]) for name in ("one", "other")):
        return False
    return hit.start in (0, match.start("other")) or not clause[match.end() : max(hit.start, match.end())].strip()


def _of_a_figure(clause: str, hit: Hit) -> bool:
    """ "No. of heaters by manufacturer", "kW by vendor": who says how many there are, and no more."""
    before = words(clause[: hit.start])
    return bool(before) and not any(map(str.isdigit, clause)) and bool(concepts_of(before[0]) & {"count", "number", "power"}) and (
        before[0] != "no" or len(before) > 1
    )  # fmt: skip


def _subject(clause: str, hit: Hit) -> str:
    """What stands beside the heaters and is what a clause without a heater says: "old duct removed by others", "existing pit liner"."""
    seen = tokens(clause)
    if any("whole" in subjects_of(one.word) or concepts_of(one.word) & {"heater", "element"} for one in seen):
        return ""
    # a word that leads on is no subject: "para" is steam, and "for"
    others = [at for at, one in enumerate(seen) if one.word not in LEADING and not hit.start <= one.start < hit.end]
    places = [at for at in others if "beside" in subjects_of(seen[at].word)]
    if (last := words(clause[hit.start : hit.end])[-1:]) and last[0] in LEADING:  # "replaced by" steam: what comes in its stead
        places = [at for at in places if seen[at].end <= hit.start]
    for at in places:
        one = seen[at]
        if one.end <= hit.start and not _led(clause, one.start):
            return clause[one.start : one.end]
        between = [other.word for other in seen if hit.end <= other.start < one.start]
        if one.start >= hit.end and len(between) <= BEHIND and not set(between) & LEADING:
            return clause[one.start : one.end]
    return ""


def _make_open(clause: str, hit: Hit, known: Vocabulary) -> str:
    """What of a heater's make a clause leaves open, and nothing else: "sheath material TBD", "sheath of T-4 to be determined by owner"."""
    told = saying("to_be_told").search(clause)
    if told is None:
        return ""
    who = _BY_WHOM.match(clause, told.end())
    last = (who or told).end()
    if not told.start() <= hit.start < last:
        return ""
    heaters = known["heaters"].find(clause)
    if heaters and any(_AND.fullmatch(one.word) for one in tokens(clause)):  # "heaters and sheath TBD"
        return ""
    of_what = () if heaters else known["materials"].find(clause)  # "PTFE sheath TBC", "316SS or Ti TBC"; "Ti heater TBC" leaves it open
    settled = [*heaters, *of_what, Hit("", told.start(), last, "")]
    rest = [one for one in tokens(clause) if one.word not in LEADING and "tank" not in concepts_of(one.word)]
    rest = [one for one in rest if not any(other.start <= one.start < other.end for other in settled)]
    made = [one for one in rest if "make" in subjects_of(one.word)]
    beside = [one for one in rest if one not in made and one.word.isalpha()]
    others = [one for one in beside if len(one.word) > ABBREVIATED or one.word == "v" or concepts_of(one.word) - {"beside_removal", "of"}]
    made = made or [one for one in tokens(clause) if any(other.start <= one.start < other.end for other in of_what)]
    return clause[made[0].start : made[-1].end] if made and not others else ""


def _led(clause: str, start: int) -> bool:
    """Does a word such as "with" or "for" lead to what stands there, so that it is not what the clause is about?"""
    before = tokens(clause[:start])
    return bool({one.word for one in before[-2:]} & LEADING)


def _said(hit: Hit, clause: str, concept: str) -> bool:
    return any(concept in concepts_of(word) for word in words(clause[hit.start : hit.end]))


def _taken_back(clause: str, hit: Hit, known: Vocabulary) -> bool:
    """"removed and reinstalled": the contrary stands behind it."""
    return any(one.start >= hit.end for one in known["instead"].find(clause))


def _covered(one: Hit, others: Sequence[Hit]) -> bool:
    return any(other.start <= one.start and one.end <= other.end for other in others)


def _contrary(clause: str, hit: Hit, known: Vocabulary) -> str:
    """"replaces existing", "not deleted", "released from hold"."""
    for one in known["instead"].find(clause):
        if _covered(hit, (one,)):
            return f'"{clause[one.start : one.end]}" says the contrary'
        if one.end <= hit.start and len(tokens(clause[one.end : hit.start])) <= 2:
            return f'"{clause[one.start : hit.end]}" says the contrary'
    for one in known["worn"].find(clause):
        if _covered(hit, (one,)):
            return f'"{clause[one.start : one.end]}" is why it is renewed'
    for one in known["no"].find(clause):
        if "º" not in clause[one.start : one.end] and one.end <= hit.start and not tokens(clause[one.end : hit.start]):
            return f'"{clause[one.start : hit.end]}" says the contrary'
    if _MOVED.match(hit.word) and (to := _TO_A_PANEL.match(clause[hit.end :])):
        return f'"{clause[hit.start : hit.end]}{to[0]}" is said of its circuit'
    match = _RELEASED.search(clause)
    holds = hit.word.casefold() in ("hold", "on hold", "pending")
    if hit.word.casefold() == "hold" and (heat := _HOLDING.match(clause[hit.end :])):
        return f'"{clause[hit.start : hit.end]}{heat[0]}" is said of a temperature'
    if match and holds and hit.start < match.start() and not _not_said(clause, *match.span()):
        return f'"{clause.strip()}" says the contrary'
    return ""


def told_later(text: str) -> bool:
    """Does a cell say no more than that what belongs there is to be told: "TBD", "noch offen"?"""
    return worded_so("to_be_told").fullmatch(text) is not None


def asks(text: str) -> bool:
    """Does a short text ask about its row, or a longer one about a figure of it: "all heaters?", "12 kW for both of them?"."""
    short = any("?" in part and len(part.split()) <= MOST_ASKING for part in ASIDE.split(text))  # "Replace? - decide after the holidays"
    of_each = "?" in text and any(map(str.isdigit, text)) and bool(vocabulary()["per_heater"].find(text))  # "18 each or together?"
    return short or of_each or ("?" in text and ASKED_OF.search(text) is not None)
