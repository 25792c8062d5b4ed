"""What the words of a list mean to its reader: headings as columns of a list, and words that say what a row is."""

from __future__ import annotations

import re
from functools import lru_cache
from typing import TYPE_CHECKING, NamedTuple

from batch.intake.bidders import of_a_bidder
from batch.intake.heading_sense import EACH, IN_INCHES, KILOWATTS, ROW, TANK, heaters_in_a_tank, of_heaters_alone, said_of_a_part, sense
from batch.intake.heading_sense import tag_of_a_tank as tag_of_a_tank
from batch.intake.heading_words import Role
from batch.intake.sentence_words import worded_so
from batch.intake.tanks_that_stay import speaks_of_staying
from batch.intake.vocabulary import Hit, Vocabulary, vocabulary
from batch.intake.wording import parted
from batch.intake.wording import words as words_of
from batch.sheets import FILLED_TITLES
from batch.units import EXACT, Unit

if TYPE_CHECKING:
    from batch.intake.facts import Fact

LUMP_SUM = re.compile(r"\blump[- ]?sums?\b", re.IGNORECASE)  # a price for all, and no sum of the rows above
BASES = {"": "", "each": EACH, "per tank": TANK, "total": ROW}
ROLES = {
    Role.AMPS: "amps_a", Role.SUPPLY: "volts_v", Role.STATUS: "status", Role.DESCRIPTION: "description", Role.UNIT: "power_unit",
    Role.NUMBER_OF_TANKS: "tanks", Role.TOTALS: "total_kw", Role.SERIAL: "item",
}  # fmt: skip
FILLED_IN = FILLED_TITLES
SHARED = frozenset({"project", "tank", "notes"})  # columns that the sheets have in common
SERVED = re.compile(
    r"\b(?:serv(?:es|ed|ing)|located in|in tank|for tank|tank served|(?:feeds?|fed|heats) (?:tank|bath|vessel))\b", re.IGNORECASE
)
CORE = frozenset({"tank", "quantity", "tanks", "power_kw", "total_kw", "volts_v", "phases", "amps_a"})
PERHAPS = 0.75  # of a meaning that the cells must bear out
IN_A_TANK = 0.05  # how much more "heaters in tank" says than "heaters": judgement, no source
LESS, NONE_OF_OURS = 0.7, 0.4  # what is left of another meaning, where the words together say otherwise: judgement, no source
DONE_BY = re.compile(
    r"\s(?:by|durch|von|bauseits|par|por|da|di|door|przez|af|av|od|firmou|a cura di|a carico di|a cargo de|[àa] la charge de)\s*:?\s*\Z",
    re.IGNORECASE,
)
OWN_TAG = re.compile(r"\b(?:mark|tag|equip\w*|item|unit|asset)\b", re.IGNORECASE)


INVERTED = re.compile(r"\W*(?P<noun>[^\W\d_]{3,}),\s*(?P<kind>[^\W\d_]{3,})\b")  # as registers of assets name things: "HEATER, UNIT"
FOREIGN = re.compile(r"(?<![\w/])(hp|btu\s?/?\s?hr?|ps|cv|mbh)(?!\w)", re.IGNORECASE)
UNIT_NAMES: dict[Unit, str] = {}
for _name, _one in EXACT.items():
    UNIT_NAMES.setdefault(_one, _name)
RINSE = re.compile(r"\b(?:rins|enjuag|rin[çc]ag|risciacq|enx[áa]g|spoel|p[łl]uk|sk[öo]lj|skyll|oplach)|sp[üu]l|durula", re.IGNORECASE)
MAKES_SOUND = re.compile(r"\b(?:gen[eé]r\w*|transd\w*|schwing\w*|trasdutt\w*|tank liner|power supply|przetw\w*|měnič\w*)\b", re.IGNORECASE)


class Meaning(NamedTuple):
    """A column of a list that a heading may mean, how well (0 to 1), and what it says of unit and basis. `key` "" = none of them."""

    key: str
    score: float
    unit: str = ""
    basis: str = ""


NOTHING = Meaning("", 0.0)


def words() -> Vocabulary:
    return vocabulary()


BETWEEN = frozenset({"entre", "between", "zwischen", "tra", "fra", "tussen", "mellem", "mellom", "mellan", "miedzy", "mezi", "et", "and"})
LONGEST_PHASES = 5  # words of a cell that says no more than its phases: judgement, no source
OR_ELSE = re.compile(r"\s*/\s*|\s+(?:or|oder|ou|o|of|lub|eller|nebo)\s+", re.IGNORECASE)  # between two names of a column
SURELY = 0.92  # of a heading put together from words that leave no doubt
WORDS_ALONE = frozenset({"sheath", "bank", "notes", "status", "connection", "feeder", "item"})  # columns without figures


def _in_two_languages(text: str, best: dict[str, Meaning]) -> None:
    """ "Qté / Qty", "Rép. / Tag": halves that mean the same, or of which one is no more than a number of the line; "Stück Qty", one below
    the other, where they are surely the same."""
    halves = [meanings(half) for half in text.split(" / ")] if text.count(" / ") == 1 else []
    if not best and text.count(" ") == 1:
        below = [meanings(half) for half in text.split()]
        halves = below if all(some and some[0].score >= SURELY for some in below) and len({some[0].key for some in below}) == 1 else []
    tops = [some[0].key for some in halves if some]
    if len(tops) == 2 and (tops[0] == tops[1] or {*tops} & {"item", ""}):
        for one in (*halves[0], *halves[1]):
            if one.key and one.score > best.get(one.key, NOTHING).score:
                best[one.key] = one


@lru_cache(maxsize=8192)
def meanings(text: str) -> tuple[Meaning, ...]:
    """The columns that a heading may mean, the likeliest first."""
    if not text.strip() or len(text) > 200 or text.endswith(FILLED_IN) or says_who(text):  # columns that this program filled in are its own
        return ()
    if of_a_bidder(text) or heads_what_is_beside(text):
        return (Meaning("", 1.0),)
    text = parted(text)
    best: dict[str, Meaning] = {}
    for one in words().heading_candidates(text):
        if one.sheet_id == "feeders":  # of a supply; what it shares with heaters is offered as theirs too
            continue
        key, basis = _key(one.sheet_id, one.key), BASES[one.basis]
        if key == "power_kw" and basis in (TANK, ROW):
            key = "total_kw"
        said = Meaning(key, one.score, _unit(text, key, one.unit), basis)
        if key not in best or said.score > best[key].score:
            best[key] = said
    if SERVED.search(text):
        best["tank"] = Meaning("tank", 1.0)
    elif "tank" in best and OWN_TAG.search(text) and not words()["tanks"].find(text):  # the heater's own tag, perhaps
        best["tank"] = Meaning("tank", 0.8 * best["tank"].score)
        best.setdefault("bank", Meaning("bank", 0.92 * best["tank"].score))
    _by_sense(text, best)
    _in_two_languages(text, best)
    if tag_of_a_tank(text) and best.get("tank", NOTHING).score < SURELY:
        best["tank"] = Meaning("tank", SURELY)
    if _tank_or_place(text):
        best.pop("", None)
        best["tank"] = Meaning("tank", SURELY)
    if IN_INCHES.search(text):  # 'W"', the width of a tank
        best.pop("power_kw", None)
    if KILOWATTS.search(text):  # a unit of power stands over no words
        for key in WORDS_ALONE & best.keys():
            del best[key]
    return tuple(sorted(best.values(), key=lambda one: -one.score))


def _tank_or_place(text: str) -> bool:
    """ "Tank / Location": the tanks, and the place of what stands in none."""
    parts = OR_ELSE.split(text)
    return len(parts) == 2 and any(words()["tanks"].whole(one) and names_a_place(other) for one, other in (parts, reversed(parts)))


def _by_sense(text: str, best: dict[str, Meaning]) -> None:
    """What the words of a heading say together goes before the names that stand among them."""
    said = sense(text)
    if said is None:
        if (of_heaters_alone(text) and best.get("quantity", NOTHING).score < PERHAPS) or (
            said_of_a_part(text) and best.get("quantity", NOTHING).score < PERHAPS
        ):
            best["quantity"] = Meaning("quantity", PERHAPS)
        elif heaters_in_a_tank(text) and best.get("quantity", NOTHING).score < PERHAPS:
            best["quantity"] = Meaning("quantity", PERHAPS + IN_A_TANK, "", TANK)
            best.pop("", None)
            if "tank" in best:
                best["tank"] = best["tank"]._replace(score=round(LESS * best["tank"].score, 3))
        return
    for key, one in list(best.items()):
        if (key in CORE or key == "description") and key != said.key:
            best[key] = one._replace(score=round(one.score * (LESS if said.key else NONE_OF_OURS), 3))
    mine = best.get(said.key)
    unit = said.unit or (mine.unit if mine is not None else "")
    score = max(said.score, mine.score if mine is not None else 0.0)
    best[said.key] = Meaning(said.key, score, unit, said.basis or (mine.basis if mine is not None else ""))


def _key(sheet: str, key: str) -> str:
    if not sheet:
        return ROLES.get(Role(key), "")
    if sheet == "heaters" or key in SHARED:
        return str(key)
    return ""


def _unit(text: str, key: str, unit: Unit | None) -> str:
    """The unit as it may be written: a heading's, or a unit in which heaters are rarely given."""
    if key in ("power_kw", "total_kw") and (found := FOREIGN.search(text)):
        return found[1].casefold().replace(" ", "")
    return UNIT_NAMES.get(unit, "") if unit is not None else ""


@lru_cache(maxsize=4096)
def heads_what_is_beside(heading: str) -> bool:
    """Is a heading "Other equipment", "Autres équipements": what stands at the tank of each row beside its heaters?"""
    return worded_so("heads_beside").fullmatch(heading.strip(" .:")) is not None


@lru_cache(maxsize=4096)
def says_who(text: str) -> bool:
    """Does a heading ask who does something beside the heaters: "Wiring by", "Panel by", "Verdrahtung durch"?"""
    return DONE_BY.search(text) is not None and bool(hits("other_parts", text)) and not heater_word(text)


@lru_cache(maxsize=4096)
def names_a_place(text: str) -> bool:
    """Is a heading, or the word of a tag, a word for where things stand: "Area", "Linie", "hala"?"""
    return _is_role(text, Role.AREA)


@lru_cache(maxsize=4096)
def of_changes(text: str) -> bool:
    """Is a heading or a tab's name a word for changes: "Revision", "Wijzigingen", "change log"?"""
    return _is_role(text, Role.REVISION)


def _is_role(text: str, role: Role) -> bool:
    return any(one.key == role and one.score >= SURELY for one in words().heading_candidates(text))


@lru_cache(maxsize=16384)
def words_of_all(text: str) -> list[Hit]:
    """Words by which a figure is that of all heaters of a tank: "total", "in the tank"; a bare "tank" is none."""
    return [*hits("total", text), *(hit for hit in hits("per_tank", text) if " " in hit.word)]


def basis_of(text: str) -> str:
    """What a heading says its figures are of, whatever they are."""
    for name, basis in (("per_tank", TANK), ("per_heater", EACH), ("total", ROW)):
        if words()[name].find(text):
            return basis
    return ""


@lru_cache(maxsize=16384)
def total_word(text: str) -> bool:
    return words().is_total(LUMP_SUM.sub(" ", text))


@lru_cache(maxsize=16384)
def hits(name: str, text: str) -> tuple[Hit, ...]:
    """The words of one list in a text."""
    return words()[name].find(text)


@lru_cache(maxsize=4096)
def counts_pieces(text: str) -> bool:
    """Is a text no more than a word for pieces: "No.", "Stk."?"""
    return bool(words()["pieces"].whole(text.strip()))


@lru_cache(maxsize=4096)
def says_no(text: str) -> bool:
    """Is a cell no more than a "no", in any of the languages?"""
    return bool(words()["no"].whole(text.strip()))


def says_yes_or_no(text: str) -> bool:
    """Is a cell no more than a yes, a no, or a mark that stands for either: "Y", "nein", "x", 1?"""
    return text in ("0", "1", "x", "X") or says_no(text) or bool(words()["yes"].whole(text))


def _first(name: str, text: str) -> str:
    found = hits(name, text)
    return found[0].word if found else ""


def takes_out(text: str) -> str:
    """The word that takes a row out; "" where there is none."""
    return _first("out", text)


@lru_cache(maxsize=16384)
def about_the_row(text: str, word: str) -> bool:
    """Does a word such as "verify" put the row in doubt? Only where it stands alone, or the text is about the heaters."""
    alone = not text.casefold().replace(word.casefold(), "", 1).strip(" .,:;()-!")
    return not CHECKING.match(word) or alone or bool(OF_HEATERS.search(text)) or bool(heater_word(text)) or speaks_of_staying(text)


def heater_word(text: str) -> str:
    return _first("heaters", text)


def _turned(text: str) -> str:
    """ "HEATER, UNIT" as it is said: "UNIT HEATER"; "" where no comma parts a word for a heater from the next."""
    match = INVERTED.match(text)
    return f"{match['kind']} {match['noun']}" if match is not None and hits("heaters", match["noun"]) else ""


@lru_cache(maxsize=16384)
def is_heater(text: str) -> bool:
    """Does the text name a heater, and not only one of another kind: a unit heater, a duct heater?"""
    others = hits("other_equipment", text)
    if (turned := _turned(text)) and hits("other_equipment", turned):  # "HEATER, UNIT, CEILING"
        return False
    return any(not any(one.start < hit.end <= one.end for one in others) for hit in hits("heaters", text))


@lru_cache(maxsize=16384)
def other_equipment(text: str) -> str:
    """The other equipment that a text names; "four" is an oven in one language and a number in another, and decides nothing."""
    found = (*hits("other_equipment", text), *hits("other_equipment", _turned(text)))
    return next((hit.word for hit in found if words().number(hit.word) is None), "")


@lru_cache(maxsize=16384)
def without_power(text: str) -> bool:
    """Is all the other equipment that a text names without a power of its own: a thermostat, a level cutoff, the start-up, cooling?"""
    fitted = (*hits("accessories", text), *hits("services", text))
    return all(any(one.start <= hit.start and hit.end <= one.end for one in fitted) for hit in hits("other_equipment", text))


def out_code(text: str) -> bool:
    """Is it, in a column of states, a short word by which a row is out: CAN, SUP, storn.?"""
    return bool(words()["out_codes"].whole(text.strip(" .")))


@lru_cache(maxsize=4096)
def phase_word(text: str) -> bool:
    """Is a cell no more than a word for one phase or for three: Tri, Mono, "mono entre phases", "mono Ph-N"?"""
    phases = [words()[name] for name in ("three_phase", "one_phase")]
    if any(one.whole(text.strip(" .")) for one in phases):
        return True
    parts = words_of(text)
    return 1 < len(parts) <= LONGEST_PHASES and any(one.whole(parts[0]) for one in phases) and all(map(_of_lines, parts[1:]))


def _of_lines(word: str) -> bool:
    """A word that says between what one phase lies: phases, lines, a neutral."""
    return word in BETWEEN or any(words()[name].whole(word) for name in ("phase", "neutral"))


def of_pieces(text: str) -> bool:
    """Is it a unit in which things are counted, and no number: EA, ST, pcs?"""
    return not any(sign.isdigit() for sign in text) and bool(words()["pieces"].whole(text))


def open_state(text: str) -> bool:
    """Is it the state of an order that is to be filled: open, offen, en cours?"""
    return bool(words()["open_state"].whole(text.strip(" .")))


def old_word(text: str) -> str:
    return _first("old_issue", text)


def recap_word(text: str) -> str:
    return _first("recap", text)


def current_word(text: str) -> str:
    return _first("current_issue", text)


@lru_cache(maxsize=16384)
def nothing_word(text: str) -> bool:
    """Does the cell say that there is none?"""
    low = text.strip()
    return low in ("0", "-", "--", "---", "–", "—", ".", "/") or any(words()[name].whole(low) for name in ("nothing", "no", "not_heated"))


@lru_cache(maxsize=4096)
def names_baths(heading: str) -> bool:
    """Does a heading say that its column names baths, or what is in the tanks: "Bath", "Contents"?"""
    of_tanks = (one for one in words().heading_candidates(heading) if one.sheet_id == "tanks" and one.score >= SURELY)
    return any(one.key in ("liquid", "tank") for one in of_tanks)


def bath_by_name(text: str, word: str) -> bool:
    """Is "ultrasonic" said of a bath, "ultrasonic wash", and not of what makes the sound? Or "dry-off" of a rinse, "dip dry-off rinse"?"""
    said = word.casefold()
    return (said.startswith("ultra") and MAKES_SOUND.search(text) is None) or (said.startswith("dry") and RINSE.search(text) is not None)


def heats_air(text: str) -> bool:
    """Is a row that of a heater in air, "heater air duct dryer", "étuve (air)": it would burn out in a bath, and a bath's in air."""
    return bool(other_equipment(text)) and bool(hits("of_air", text)) and RINSE.search(text) is None


def says_no_heat(text: str) -> bool:
    """Does a cell about how a tank is heated say that it is by no electric heater: "none", "unheated", "steam"?"""
    return bool(text) and (nothing_word(text) or bool(hits("not_heated", text)) or (bool(other_equipment(text)) and not is_heater(text)))


def says_none(fact: Fact) -> bool:
    """Does a cell say that there is none: 0, a dash, "none"?"""
    return fact.value is None and nothing_word(fact.seen)


@lru_cache(maxsize=16384)
def ditto(text: str) -> bool:
    """A mark or word that repeats the cell above."""
    low = text.strip()
    return bool(low) and (low in DITTOS or bool(words()["ditto"].whole(low)))


CHECKING = re.compile(  # a word that may be about another thing: "check conduit", "roughly 30 ft to the panel"
    r"(?:(?:have|has|needs?|must|will|il|faut|hay|tengo|tenho|temos|tem|devo|bisogna|muss|m[üu]ssen|moet|musz[eę]|trzeba|skal|m[åa]|m[åa]ste|f[åa]r"
    r"|mus[ií]m\w*|nutno)\s+(?:\w+\s+){0,2})?(?:verif|v[ée]rif|confirm|check|pr[uü]f|pruef|[ck]ontroll?|sprawd|klär|klaer"
    r"|tjek|sjekk|kolla|bekr[æäe]ft|ov[eě][rř]|potvr|(?:ev|bef|eks)\Z"
    r"|unders[øo]|zjistit|rough|looks|assum|estim|gesch[äa]tz|sch[äa]tz|annahme|suppos|hypoth|supuest|suposi|suposto|suposta|stimat|presunt|ipotes"
    r"|geschat|schatting|aanname|szac|oszac|za[łl]o[żz]|sk[øo]n|ansl[åa]|anslag|antag|antat|antak|uppskatt|odhad|p[řr]edpokl)",
    re.IGNORECASE,
)
OF_HEATERS = re.compile(
    r"\b(?:kw|watts?|volts?|voltage|v|phases?|ph|qty|quantity|number|count|size|rating|anzahl|leistung|spannung|puissance|tension|nombre"
    r"|potencia|tensi[oó]n|cantidad|potenza|tensione|numero|vermogen|spanning|aantal|moc|napięcie|liczba|potência|tensão|quantidade"
    r"|effekt|spænding|spänning|spenning|antall?|výkon|příkon|napětí|počet)\b",
    re.IGNORECASE,
)
DITTOS = frozenset(
    {'"', "''", "″", "”", "“", "„", "〃", '-"-', '—"—', ",,", '""', '- " -', "↓", "|", "´´", "``", '–"–', "-”-", "-“-", "- ” -"}
)
