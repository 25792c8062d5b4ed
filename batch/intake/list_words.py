# ruff: noqa: E501
"""What the words of a list mean: headings, totals, words that take a row out, equipment, marks that repeat the cell above."""

from __future__ import annotations

import re
import unicodedata
from functools import lru_cache
from typing import NamedTuple

EACH, TANK, ROW = "each", "tank", "row"  # what a power is of: one heater, the heaters of one tank, all heaters of the row


class Meaning(NamedTuple):
    """A column that a heading may mean, how well (0 to 1), and what the heading says of unit and basis."""

    key: str  # of the list's columns; "" = something else that is known and not wanted
    score: float
    unit: str = ""
    basis: str = ""


def bare(text: str) -> str:
    """Lower case, without accents, marks turned into single spaces."""
    text = unicodedata.normalize("NFKD", text.replace("ß", "ss").replace("ø", "ø").replace("ł", "l"))
    text = "".join(mark for mark in text if not unicodedata.combining(mark)).casefold()
    return " ".join(re.sub(r"[\s_.:|*]+", " ", text).split())


_OTHER = re.compile(
    r"\b(ph value|ph range|ph$|gal|gallons?|liters?|litres?|volume|capacity|temp|temperature|°|deg|dimension|dims?|length|width|depth|height|lxwxh|l x w|"
    r"pump|blower|rectifier|chiller|motor|fan|anodes?|heat[- ]?up|drop|price|cost|weight|date|by|rev|delivery|lead time|hours?|hrs|watt density|density|"
    r"required|req'?d kw|demand|existing kw|fla of|rpm|flow|gpm|hp|horsepower|cas|conc|time)\b"
)
_MEANINGS: tuple[tuple[str, str, float], ...] = (
    (r"(tank|bath|vessel|station|vat|process tank)s?( (no|nr|number|num|tag|id|#|ref|name|designation|mark))?", "tank", 1.0),
    (r"(serves?|serves? tank|tank served|service tank|for tank|in tank|location)", "tank", 0.95),
    (r"(tag|tag no|tag number|equip(ment)? (tag|no|id|#)|mark|position|pos|pos nr|item tag|asset|asset (no|id)|unit no|id)", "tank", 0.75),
    (r"(tag|tag no|mark|equip(ment)? (tag|no|id|#)|heater (tag|no|mark|id)|heater|htr (tag|no|id))", "bank", 0.7),
    (r"(item|item no|no|#|line|line item|ln|nr|sr no|s no|lfd nr)", "item", 0.8),
    (
        r"(qty|quantity|count|number|qnty|quan)( of)?( heaters?| htrs?| units?| elements?)?( per tank| / ?tank| in tank| ea)?",
        "quantity",
        1.0,
    ),
    (r"(no|nr|number|#)( of)? (heaters?|htrs?|units?|elements?)( per tank)?", "quantity", 1.0),
    (r"(electric |immersion )?(heaters?|htrs?) (no off|no|nos|number|qty|quantity|count|ea)", "quantity", 1.0),
    (r"(no off|nos|no of)", "quantity", 0.8),
    (r"(heaters?|htrs?)( qty| quantity| count| no)?( per tank| ?/ ?tank)?", "quantity", 0.9),
    (r"(pcs|pieces|ea|stk|stuck|each|off)", "quantity", 0.8),
    (r"(no|nr|number|qty|quantity|#)( of)? (tanks?|baths?|vats?)|tanks? (qty|quantity|count)", "tanks", 1.0),
    (
        r"(kw|power|load|rating|wattage|watts|heat(er|ing)? (kw|power|load|rating|output|capacity)|output|w|rated (power|kw)|capacity)",
        "power_kw",
        0.9,
    ),
    (
        r"(volts?|voltage|v|vac|v ac|heater volt(s|age)|rated volt(s|age)|supply|system|supply volt(s|age)|power supply|elec(trical)? supply|electrical|service|volts? ?/ ?ph(ase)?( ?/ ?hz)?)",
        "volts_v",
        0.9,
    ),
    (r"(phases?|ph|phs|ø|φ|no of phases|number of phases|heater phases?)", "phases", 0.9),
    (
        r"(amps?|amperes?|fla|current|a|full load amps|total amps|heater amps|rated current|amperage|line amps|full load current|total current)",
        "amps_a",
        0.9,
    ),
    (r"(connection|conn|wiring|hook ?up|delta ?/ ?wye|wye ?/ ?delta)", "connection", 0.9),
    (r"(feeder|fed from|source|panel|panelboard|mcc|feed|circuit from)", "feeder", 0.8),
    (r"(sheath|sheath material|material|matl|sheath matl)", "sheath", 0.7),
    (
        r"(description|desc|heater description|equipment|equipment description|heater|heaters|service|item description|type|heater type|details?)",
        "description",
        0.7,
    ),
    (r"(status|action|disposition|scope|by)", "status", 0.8),
    (r"(remarks?|notes?|comments?)", "notes", 1.0),
    (r"(units?|uom|um|unit of measure)", "power_unit", 0.7),
    (r"(project|job|job no)", "project", 0.5),
    (r"(bank|group|bank no)", "bank", 0.7),
    (r"(hot|heated) (length|zone)", "hot_length_mm", 0.9),
    (r"(dia|diameter)", "diameter_mm", 0.8),
)
_COMPILED = tuple((re.compile(f"(?:{pattern})\\Z"), key, score) for pattern, key, score in _MEANINGS)
_UNIT = re.compile(r"[(\[]\s*([^()\[\]]{1,12})\s*[)\]]|(?:,| in | - )\s*(kW|W|V|kV|A|mm|in|HP|BTU/?h?r?)\s*\Z", re.IGNORECASE)
_POWER_UNITS = {
    "kw": "kW",
    "w": "W",
    "watt": "W",
    "watts": "W",
    "wattage": "W",
    "hp": "hp",
    "btu/h": "BTU/h",
    "btuh": "BTU/h",
    "mw": "MW",
    "btu/hr": "BTU/h",
}
_BASIS = (
    (re.compile(r"\b(each|ea|per heater|/ ?heater|/ ?htr|per htr|per unit|per element|unit|apiece|single|je|pro heizer)\b|\(ea\)"), EACH),
    (re.compile(r"\b(total|connected|tank kw|per tank|/ ?tank|tank load|tank power|installed|sum|gesamt|totale|overall|ges)\b"), TANK),
)
_STRIP = re.compile(
    r"\b(each|ea|per heater|/ ?heater|/ ?htr|per htr|per unit|unit|total|connected|per tank|/ ?tank|installed|rated|nominal|heater|htr|tank|electric|immersion|nameplate|operating|element)\b"
)


@lru_cache(maxsize=4096)
def meanings(text: str) -> tuple[Meaning, ...]:
    """The columns that a heading may mean, the likeliest first."""
    if not text.strip() or len(text) > 120:
        return ()
    units = [part for match in _UNIT.findall(text) for part in match if part]
    whole = bare(re.sub(r"[()\[\]]", " ", text))
    inner = bare(_UNIT.sub(" ", text))
    unit = next((_POWER_UNITS[bare(one)] for one in units if bare(one) in _POWER_UNITS), "")
    if not unit:
        unit = next((_POWER_UNITS[word] for word in whole.replace(",", " ").split() if word in _POWER_UNITS), "")
    basis = next((basis for pattern, basis in _BASIS if pattern.search(whole)), "")
    found: dict[str, float] = {}
    for form, factor in ((whole, 1.0), (inner, 1.0), (" ".join(_STRIP.sub(" ", inner).replace("/", " ").split()), 0.9)):
        for pattern, key, score in _COMPILED:
            if form and pattern.match(form):
                found[key] = max(found.get(key, 0.0), score * factor)
    if not found:
        words = set(re.split(r"[^\w#ø°]+", whole))
        if words & {"kw", "watts", "wattage", "power"} and not _OTHER.search(whole):
            found["power_kw"] = 0.75
        if words & {"volt", "volts", "voltage"} and not _OTHER.search(whole):
            found["volts_v"] = 0.75
        if words & {"phase", "phases"}:
            found["phases"] = 0.7
        if words & {"amps", "fla"}:
            found["amps_a"] = 0.7
        if words & {"qty", "quantity"}:
            found["quantity"] = 0.7
        if words & {"remarks", "notes", "comments", "remark", "note"}:
            found["notes"] = 0.8
    elif _OTHER.search(whole) and not found.keys() & {"notes", "status", "tank", "volts_v"}:
        found = {key: score * 0.5 for key, score in found.items()}
    said = [
        Meaning(key, round(score, 3), unit if key == "power_kw" else "kV" if key == "volts_v" and "kv" in whole.split() else "", basis)
        for key, score in found.items()
    ]
    out = []
    for one in said:
        out.append(one._replace(key="total_kw") if one.key == "power_kw" and one.basis == TANK else one)
    if _OTHER.search(whole):
        out.append(Meaning("", 0.8))
    return tuple(sorted(out, key=lambda one: -one.score))


def basis_of(text: str) -> Meaning:
    """What a heading says of the basis of its figures, whatever they are."""
    whole = bare(re.sub(r"[()\[\]]", " ", text))
    return Meaning("", 0.0, "", next((basis for pattern, basis in _BASIS if pattern.search(whole)), ""))


_TOTAL = re.compile(
    r"(?:grand\s+|sub[\s-]*|running\s+|page\s+)?totals?\b|sum\b|sums\b|Σ|∑|overall\b|summe\b|gesamt|zwischensumme|total(?:e|es|i)?\b|somme\b|suma\b|totaal\b|razem\b|soma\b|connected load\b|installed load\b",
    re.IGNORECASE,
)
_OUT = re.compile(
    r"\b(deleted?|void(?:ed)?|cancel+ed|by others?|existing|exist\.?|n\.?i\.?c\.?|not in contract|removed?|demo(?:lish)?|not required|omit(?:ted)?|by owner|not in scope|entf[aä]llt|bauseits)\b",
    re.IGNORECASE,
)
_DOUBT = re.compile(
    r"\b(future|on hold|hold|spare|alternate|alt\.?|optional?|option|tbd|tbc|proposed|provision(?:al)?|pending|verify|confirm)\b|\?",
    re.IGNORECASE,
)
_HEATER = re.compile(
    r"\b(heaters?|htrs?|immersion|heating elements?|heizer|heizung|heizstab|tauchheizer|calentador|r[ée]sistance|thermoplongeur|riscaldator[ei]|resistenz[ae]|grza[łl]k|dompelaar|verwarming|aquecedor|resist[êe]ncia)",
    re.IGNORECASE,
)
_NOT_HEATER = re.compile(
    r"\b(pumps?|blowers?|rectifiers?|chillers?|fans?|motors?|agitators?|mixers?|hoists?|cranes?|conveyors?|scrubbers?|compressors?|boilers?|filters?|dryers?|lights?|lighting|receptacles?|exhaust|ovens?|pumpe|l[üu]fter|gleichrichter|k[üu]hler|centrifuge|barrel|tumbler|controllers?|ups)\b",
    re.IGNORECASE,
)
_OLD = re.compile(r"\b(old|superseded|backup|bak|previous|obsolete|archive|void|copy|alt|veraltet|ancien|viejo|vecchio)\b", re.IGNORECASE)
DITTOS = frozenset(
    {
        '"',
        "''",
        "″",
        "”",
        "“",
        "〃",
        "do",
        "do.",
        "ditto",
        '-"-',
        '—"—',
        "same",
        "same as above",
        "idem",
        "dto",
        "dto.",
        "id.",
        "ibid",
        ",,",
        '""',
        '- " -',
        "as above",
        "↓",
        "|",
    }
)


def total_word(text: str) -> bool:
    return bool(_TOTAL.match(text.strip().lstrip("-–*= ")))


def takes_out(text: str) -> str:
    """The word that takes a row out; "" where there is none."""
    found = _OUT.search(text)
    return found[0] if found else ""


def in_doubt(text: str) -> str:
    found = _DOUBT.search(text)
    return found[0] if found else ""


def heater_word(text: str) -> str:
    found = _HEATER.search(text)
    return found[0] if found else ""


def other_equipment(text: str) -> str:
    found = _NOT_HEATER.search(text)
    return found[0] if found else ""


def old_word(text: str) -> str:
    found = _OLD.search(text)
    return found[0] if found else ""


def ditto(text: str) -> bool:
    return text.strip().casefold() in DITTOS
