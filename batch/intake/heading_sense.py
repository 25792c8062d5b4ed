"""What a heading means by the words it is put together from: "Nb thermopl. par cuve" is a number of heaters of each tank.

Names of columns are known in lists (`heading_words`); what nobody put on a list is still made of a few words of the trade: a number, a
power, a heater, a tank, each, total. Here they are found by their beginnings, and the heading means what they say together.
"""

from __future__ import annotations

import re
from functools import lru_cache
from importlib import resources
from typing import NamedTuple

from batch.intake.wording import folded, parted, words
from batch.toml_text import parsed

EACH, TANK, ROW = "each", "tank", "row"  # what a power is of: one heater, the heaters of one tank, all heaters of the row
SURE, FAIR, LOW = 0.93, 0.8, 0.7  # of a meaning put together from words: as good as a known name, and less
OFFERED = re.compile(  # a heater that is an option, so that it comes with another or in its place
    r"\s*(?:option\w*|altern\w+|variante?\w*|opci[oó]n\w*|opzion\w*|optie|opcja|op[cç][aã]o|tilvalg|tillval|opsjon|opce)\b",
    re.IGNORECASE,
)
KILOWATTS = re.compile(r"(?<![^\W_])k\s?[Ww](?![\w])|\bKW\b|\bMW\b")
WATTS = re.compile(r"(?<![^\W_])W(?![\w/²³'’])|\bwatts?\b|\bvatios?\b", re.IGNORECASE)
DENSITY = re.compile(
    r"\bk?w(?:atts?)?\s*(?:/|per|par|por|pro|pr\.?|je|na|al)\s*(?:sq|po|cm|in\b|in[²2]|inch|dm|m²|m2|pulg|poll|zoll|\")", re.IGNORECASE
)
VOLTS = re.compile(r"(?<![^\W_/])k?V(?![\w%])(?!\s*/?\s*A\b)|\bU\s*\[|\bVAC\b")
PERCENT = re.compile(r"%|\bp\.?f\.?\b|cos|φ", re.IGNORECASE)
MONEY = re.compile(r"[€£]|\$|R\$|\bzł\b|\bPLN\b")
KVA = re.compile(r"\bkVA\b", re.IGNORECASE)
STROKE = re.compile(  # a stroke for "per": right behind a word, or behind a unit or a word for a number
    r"(?<=\w|\.)/(?=\w)([^\W\d_]+)|\b(?:k?w|qty|q.?ty|pcs|szt|stk|ks|no|nos|nr|amps?|A|uds?|aantal|anz(?:ahl)?)\.?\s*/\s*([^\W\d_]+)",
    re.IGNORECASE,
)
VOLUME = re.compile(
    r"[\[(]\s*(?:l|L|lt|ltr|gal|gals|m3|m³|US gal)\.?\s*[\])]|\b(?:gal|litres?|liters?|litri|litros|litry|gallons?)\b", re.IGNORECASE
)
PER = re.compile(r"\b(?:per|par|pro|por|pr\.?|je|na)\s+\w", re.IGNORECASE)
MEASURED = re.compile(r"°\s?[CF]|(?<=\s)(?:l|pH|ltr|gal)\.?\s*[\])]?\s*\Z|\bdeg\.?\s?[CF]\b|\bpH\b")
LENGTH = re.compile(r"[\[(]\s*(?:mm|cm|m|in|inch|ft)\.?\s*[\])]|\bmm\b", re.IGNORECASE)
IN_INCHES = re.compile(r"(?<!\w)W\s*[\"″”]|(?<!\w)W\s*''")  # 'W"', the width of a tank
A_SIDE = re.compile(r"\W*[^\W\d_]\W*(?:mm|cm|m|in|inch|ft)\W*", re.IGNORECASE)  # "A (mm)", "V, mm"
WITH = re.compile(r"(?<!\w)(?:with|w/|incl\w*|mit|avec|con|met|z|ze|com|med|s|se)\s", re.IGNORECASE)
WEIGHTY = frozenset({"heater", "element", "tank", "number", "power", "volts", "phase", "supply", "amps", "size", "price", "other", "total"})
TAG_WORDS = frozenset(
    {"ref", "id", "tag", "mark", "code", "rep", "repere", "no", "nr", "kod", "cod", "codice", "codigo", "kennung", "kennz", "oznaczenie"}
    | {"oznaceni"}
)
HOW_MANY = frozenset(
    {"off", "pcs", "szt", "stk", "stuck", "stueck", "uds", "ud", "pz", "ea", "st", "pces", "nos"}
    | {"many", "ks", "kusu", "styk"}
)
_I_ALT = re.compile(r"\bi alt\b", re.IGNORECASE)  # Danish for in all: "alt" alone is a former one in German
LONGEST = 120
SHORT_WORD = 2  # letters of "di", "de" and the like
SHORTEST_CUT = 3  # letters of a word cut short


class Sense(NamedTuple):
    """A column of a list, how sure, its unit and basis; key "" = none of ours, for certain."""

    key: str
    score: float
    unit: str = ""
    basis: str = ""
    why: str = ""


@lru_cache(maxsize=2)
def _stems(name: str = "stems.toml") -> dict[str, tuple[frozenset[str], tuple[str, ...], tuple[str, ...]]]:
    file = resources.files("batch.intake") / "languages" / name
    found = {}
    for name, some in parsed(file.read_text(encoding="utf-8")).items():
        whole = frozenset(one[1:] for one in some if one.startswith("="))
        within = tuple(one[1:] for one in some if one.startswith("~"))
        begins = tuple(one for one in some if one[0] not in "=~")
        found[name] = (whole, begins, within)
    return found


@lru_cache(maxsize=8192)
def concepts_of(word: str, cut: bool = False) -> frozenset[str]:
    """What one folded word may mean; `cut`: a point stands behind it, so that it may be the beginning of a longer one."""
    found = {
        name
        for name, (whole, begins, within) in _stems().items()
        if word in whole or word.startswith(begins) or any(one in word for one in within)
    }
    if not found and cut and len(word) >= SHORTEST_CUT:
        found = {name for name, (_, begins, within) in _stems().items() if any(one.startswith(word) for one in (*begins, *within))}
    return frozenset(found)


@lru_cache(maxsize=8192)
def subjects_of(word: str) -> frozenset[str]:
    """What one folded word of a remark is about: "beside" what stands beside the heaters, "whole" the row or all of it."""
    return frozenset(
        name
        for name, (whole, begins, within) in _stems("subjects.toml").items()
        if word in whole or word.startswith(begins) or any(one in word for one in within)
    )


@lru_cache(maxsize=8192)
def sense(text: str, unit_below: str = "") -> Sense | None:
    """What the words of a heading say together; None where they say nothing that is sure. `unit_below`: of the row of units."""
    if not text.strip() or len(text) > LONGEST:
        return None
    text = parted(text)
    whole = f"{text} [{unit_below}]" if unit_below else text
    cuts = {folded(piece) for piece in re.findall(r"([^\W\d_]{2,})\.", text)}
    parts = words(_I_ALT.sub("ialt", text).replace("'", " ").replace("’", " "))
    has: dict[str, list[int]] = {}
    for at, part in enumerate(parts):
        for name in concepts_of(part, part in cuts):
            has.setdefault(name, []).append(at)
    return _Sense(whole, parts, has).settle()


def names_a_tank(text: str) -> bool:
    """Does a heading use a word for a tank, and not for its size or its number?"""
    said = sense(text)
    return any("tank" in concepts_of(word) for word in words(text)) and (said is None or said.key == "tank")


def machine_in(text: str) -> str:
    """The word of a text that names a pump, a rectifier or another machine; "" where none does."""
    return next((word for word in words(text) if "machine" in concepts_of(word)), "")


def names_an_oven(text: str) -> bool:
    """Is a text the name of an oven or a dryer and nothing else, "Forno di asciugatura"? "Dryer sump" is a tank."""
    said = [word for word in words(text) if len(word) > SHORT_WORD]
    return bool(said) and all("oven" in concepts_of(word) for word in said)


def names_a_machine(text: str) -> bool:
    """Is a text the name of a machine, "Circulatiepomp beits"? "With chiller" and "agitating wash tank" are said of a bath."""
    word = machine_in(text)
    if not word or word.endswith("ing") or WITH.search(text.casefold().partition(word)[0]):
        return False
    return not any("tank" in concepts_of(one) for one in words(text) if one != word)


def of_a_machine(text: str) -> bool:
    """Is a heading of a machine beside the heaters, "Rectifier", whose volts and kilowatts are its own?"""
    return bool(machine_in(text)) and not names_a_heater(text) and not names_a_tank(text)


def beside_in(text: str) -> str:
    """The word of a text for what stands beside heaters: a cable, a contactor, a lid; "" where none does."""
    return next((word for word in words(text) if "beside" in subjects_of(word)), "")


def names_a_heater(text: str) -> bool:
    """Does a text use a word for an immersion heater, in whatever form?"""
    return any("heater" in concepts_of(word) for word in words(text))


def of_heaters_alone(text: str) -> bool:
    """Does a heading say heaters, and nothing of number, power or supply? Its cells may be counts, or descriptions."""
    found = {name for word in words(text) for name in concepts_of(word)} & WEIGHTY
    return bool(found) and found <= {"heater", "element"}


def heaters_in_a_tank(text: str) -> bool:
    """ "Htrs in bath", "Heizer im Bad": heaters, then a tank, and nothing of number, power or supply. Its cells may be counts."""
    places: dict[str, int] = {}
    for at, word in enumerate(words(text)):
        for name in concepts_of(word) & WEIGHTY:
            places.setdefault("heater" if name == "element" else name, at)
    return places.keys() == {"heater", "tank"} and places["heater"] < places["tank"]


def tag_of_a_tank(text: str) -> bool:
    """ "Tina Ref.", "Bath ID": a word for a tank, one for a tag, and nothing else."""
    said = words(text)
    tags = [word for word in said if word in TAG_WORDS]
    return bool(tags) and len(said) == len(tags) + 1 and any("tank" in concepts_of(word) for word in said if word not in TAG_WORDS)


def says_rating(text: str) -> bool:
    """Does a heading speak of a rating or a size, which one heater has and a tank has not?"""
    return any("rating" in concepts_of(word) for word in words(text))


def said_of_a_part(text: str) -> bool:
    """ "Qty / machine": a count of each of something."""
    parts = words(text)
    return any("number" in concepts_of(word) for word in parts) and bool(STROKE.search(text) or PER.search(text))


WATTS_ALONE = re.compile(  # W as a unit, and not the Polish word
    r"watt|\bW\b\s*(?:\Z|[\]),/])|[\[(]\s*W\s*(?:[\])]|each|ea\b|je\b|c/u|cad|par\b|pro\b|per\b)"
    r"|(?-i:\bW)\s*[(\[]\s*(?:each|ea\b|je\b|c/u|cad|par\b|pro\b|per\b)|(?-i:\bW)\s+(?:each|ea)\b", re.IGNORECASE
)
HEATING = (
    "heating", "calefac", "chauffage", "heizung", "riscaldamento", "verwarming", "ogrzewani", "aquecimento", "heiz",
    "opvarm", "oppvarm", "uppvarm", "ohrev", "vytap",
)  # fmt: skip


SWITCHING = ("control", "ctrl", "ctl", "cntrl", "steuer", "stuur", "styr", "sterow", "thermostat", "pilot", "commande", "mando", "comand")


class _Sense:
    def __init__(self, text: str, parts: tuple[str, ...], has: dict[str, list[int]]) -> None:
        self.text, self.parts, self.has = text, parts, has
        self.kw = bool(KILOWATTS.search(text))
        self.w = not self.kw and bool(WATTS.search(text)) and not DENSITY.search(text)
        if self.w and "W" in text and not WATTS_ALONE.search(text):
            self.w = False  # the Polish word "w"

        if (self.kw or self.w) and re.search(r"/\s*un\b", text, re.IGNORECASE):  # "kW/un.": of each, and no nominal voltage
            self.has = {name: places for name, places in has.items() if name != "volts" or any(parts[at] != "un" for at in places)}

    def any(self, *names: str) -> bool:
        return any(name in self.has for name in names)

    def per(self, name: str) -> bool:
        """Does a word for "per" (or a stroke) stand right before a word of this meaning?"""
        places = self.has.get(name, ())
        before = set(self.has.get("per", ())) | set(self.has.get("one", ()))
        before |= set(self.has.get("of", ())) if name == "heater" and (self.any("one", "each") or self.kw or self.w) else set()
        if any(at - 1 in before or (at - 2 in before and at - 1 in before | set(self.has.get("each", ()))) for at in places):
            return True
        strokes = [match[1] or match[2] for match in STROKE.finditer(self.text)]
        return any(name in concepts_of(folded(one)) for one in strokes)

    def settle(self) -> Sense | None:
        if DENSITY.search(self.text):
            return Sense("", SURE, why="a density")
        if MEASURED.search(self.text) and not self.kw:
            return Sense("", SURE, why="what is measured in the tank")
        if LENGTH.search(self.text) and not self.kw:
            side = A_SIDE.fullmatch(self.text) or re.search(r"(?<!\w)W(?!\w)", self.text)
            return Sense("", SURE, why="a length") if side or self.any("tank", "size") else None
        if MONEY.search(self.text) or (self.any("price") and not self.kw):
            return Sense("", SURE, why="a price")
        if KVA.search(self.text) or (PERCENT.search(self.text) and not self.kw):
            return Sense("", FAIR, why="no power of heaters")
        power = self.kw or self.w or self.any("power")
        heater = self.any("heater") or (self.any("element") and not self.per("heater"))
        volts = self.any("volts") or bool(VOLTS.search(self.text))
        if self.any("other") and not self.any("heater"):
            return Sense("", SURE, why="of other equipment") if power or volts or self.any("amps", "number") else None
        if self.any("control") and volts and not power and (not self.any("heater", "element") or self._of_control()):
            return Sense("", SURE, why="volts of what switches the heaters, or of direct current")
        counted = self.any("number") and not power
        if self.any("element") and self.per("heater") and not power:
            return Sense("", SURE, why="elements of a heater")
        if counted and heater and self._identifies():
            return Sense("bank", FAIR, why="the number of a heater, not a number of heaters")
        if counted or (heater and self.per("tank") and not power):
            return self._count(heater)
        if VOLUME.search(self.text) and not self.kw and not self.w:
            return Sense("", SURE, why="a volume")
        if self.any("amps") and not power:
            return Sense("amps_a", SURE, "", self._basis())
        if power and not self.any("volts", "phase"):
            return self._power(heater)
        if self.any("tank") and self.any("size") and len(self.parts) > 1:
            return Sense("", FAIR, why="of the tank's size")
        if not self.any("size", "needed", "former", "tank") and not PERCENT.search(self.text):
            if self.any("volts") or VOLTS.search(self.text):
                return Sense("volts_v", FAIR)
            if self.any("phase"):
                return Sense("phases", FAIR)
            if self.any("supply"):
                return Sense("volts_v", LOW)
        return None

    def _of_control(self) -> bool:
        """ "Heater control volts": a word for control right before the volts. "Heating coil V" are a heater's."""
        said = [at for at in self.has["control"] if self.parts[at].startswith(SWITCHING) and at + 1 < len(self.parts)]
        return any(at + 1 in self.has.get("volts", ()) or self.parts[at + 1] in ("v", "vac") for at in said)

    def _identifies(self) -> bool:
        """ "Heater No.", "Heizkörper-Nr.": a word for a number behind the heater, and none for how many."""
        if self.any("count", "total", "of", "several") or any(part in HOW_MANY for part in self.parts):
            return False  # "Heaters (no.)"
        if all(self.parts[at] in ("nr", "nummer", "numer", "nro") for at in self.has["number"]):
            return True
        last = max(self.has.get("heater", [*self.has.get("element", []), -1]))
        return min(self.has["number"]) > last >= 0

    def _basis(self) -> str:
        of_tank = {at - 1 for at in self.has.get("tank", ()) if not STROKE.search(self.text)}  # "Leistung je Bad": of each bath
        of_heater = self.per("heater") and not self._of_tank()
        if of_heater or set(self.has.get("each", ())) - of_tank or (self.per("element") and not self.any("heater")):
            return EACH
        if re.search(r"/\s*(?:ea|st|stk|st[üu]ck|szt|ks|kus|pc|pce|u|ud|un|unid|unit|pza|pz|p[çc])\b\.?", self.text, re.IGNORECASE):
            return EACH
        if self.per("number") and not self.any("count"):
            return EACH
        if self.any("tank") and (self.per("tank") or not self.any("heater") or self._of_tank()):
            return TANK
        return ROW if self.any("total") else ""

    def _of_tank(self) -> bool:
        """ "Potencia de calefacción de la cuba": no heater but heating, and a word for "of" before the tank, with or without an article."""
        heating = [at for at in self.has.get("heater", ()) if self.parts[at].startswith(HEATING)]
        before = set(self.has.get("of", ()))
        tanks = self.has.get("tank", ())
        return len(heating) == len(self.has.get("heater", ())) and any(at - 1 in before or at - 2 in before for at in tanks)

    def _power(self, heater: bool) -> Sense | None:
        unit = "kW" if self.kw else "W" if self.w else ""
        said = len(self.has.keys() - {"per", "one", "several", "control"}) + self.kw + self.w
        if self.any("needed") and not heater:
            return Sense("", SURE, why="a power that is needed, not one of heaters")
        if self.any("former") and not self.any("buy"):
            return Sense("", SURE, why="a former power")
        basis = self._basis()
        if self.any("total") and basis != EACH:
            return Sense("total_kw", SURE, unit, TANK if basis == TANK else ROW)
        if basis == TANK:
            return Sense("total_kw", SURE, unit, TANK)
        if basis == EACH or said > 1:
            return Sense("power_kw", SURE if basis or heater else FAIR, unit, basis)
        return None

    def _count(self, heater: bool) -> Sense | None:
        tank = self.any("tank")
        if self.any("spare") and not self.any("buy"):
            return Sense("", FAIR, why="a count of others than those to be bought")
        per_tank = tank and (self.per("tank") or any(at - 1 in self.has.get("each", ()) for at in self.has["tank"]))
        if heater or per_tank:
            return Sense("quantity", SURE, "", TANK if per_tank else "")
        if tank:
            if self.any("count"):
                return Sense("tanks", SURE)
            return Sense("tank", SURE) if not self.any("size", "of") else None
        if self.any("buy") and self.any("count", "pieces"):  # "New qty", "Stück neu"
            return Sense("quantity", SURE)
        if self.any("count") and self.any("thing") and len(self.parts) == 2 and len(self.has["count"]) == 1:
            return Sense("quantity", FAIR)  # "ASSET_QTY": of what the rows are
        return None


__all__ = ["Sense", "concepts_of", "names_a_tank", "sense"]
