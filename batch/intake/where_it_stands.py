"""Remarks that name other equipment only to say where a tank or a heater stands, "last tank before dryer", or what it is fed from."""

from __future__ import annotations

import re

from batch.intake.heading_sense import concepts_of, machine_in
from batch.intake.list_words import hits, is_heater, other_equipment
from batch.intake.remark_words import DOUBT, read_row_words
from batch.intake.vocabulary import vocabulary
from batch.intake.wording import tokens, words

BEHIND_TAG = re.compile(r".*?\d\w*(?P<sign>\s*[(\[,;]\s*|\s*[–—:-]\s*|\s+)(?P<said>[^\W\d_].*?)[)\]]?")
POWERED = re.compile(r"\d\s*k\s?W\b|\d{3,5}\s*W(?:atts?)?\b", re.IGNORECASE)
PLACED = re.compile(  # words that say where a tank stands: "last tank before dryer", "Wanne vor Trockner"
    r"\b(?:before|after|beside|behind|next to|near|opposite|ahead of|downstream of|upstream of|clear of|away from"
    r"|(?:stay|keep|well) (?:off|away from|out of)|above|below|under|beneath|adjacent to|close to|in front of|across from"
    r"|gegen[üu]ber|au-dessus d[eu]|en face d[eu]|encima del?|debajo del?|cerca del?|sopra|sotto|vicino a[l]?|boven|tegenover|perto d[oae]"
    r"|vor|nach|neben|hinter|avant|apr[eè]s|devant"
    r"|derri[eè]re|pr[eè]s d[eu]|antes del?|despu[eé]s del?|delante del?|detr[aá]s del?|junto al?|prima d[ei]l?|dopo|davanti a|dietro"
    r"|v[oó][oó]r|achter|naast|przed|obok|za|antes d[oae]|depois d[oae]|ao lado d[oae]|før|efter|etter|ved siden av|f[öo]re|bredvid"
    r"|innan|p[rř]ed|vedle)\s+(?:the|d(?:er|em|en|as|ie)|l[aeo']|il|het|de|den|det)?\s*(?:[\w-]+\s+)?\Z",  # "near EOT crane"
    re.IGNORECASE,
)


def placed(text: str, word: str, *, of_heater: bool) -> bool:
    """Does a remark name other equipment only to say where its tank stands, or its heater? A tank stands before the word for it, or the
    row is that of a heater: "locate behind anode baskets"."""
    start = text.casefold().find(word.casefold())
    before = text[: max(start, 0)]
    whose = of_heater or any("tank" in concepts_of(one) for one in words(before))
    return PLACED.search(before) is not None and whose and POWERED.search(text) is None


NEAR = 3  # words between "from" and the panel: "off the small transformer"
AT_TIMES = re.compile(  # a bath that is cooled too, or at times
    r"\b(?:also|too|as well|sometimes|in (?:the )?(?:summer|winter)|during|when|auch|zus[äa]tzlich|zeitweise|im (?:sommer|winter)|aussi"
    r"|[ée]galement|en (?:[ée]t[ée]|hiver)|tambi[ée]n|en (?:verano|invierno)|anche|in estate|in inverno|d'(?:estate|inverno)|ook"
    r"|in de (?:zomer|winter)|te[żz]|tak[żz]e|latem|zim[ąa]|tamb[ée]m|no (?:ver[ãa]o|inverno)|ogs[åa]|om (?:sommeren|vinteren)|ocks[åa]"
    r"|p[åa] (?:sommaren|vintern)|tak[ée]|v (?:l[ée]t[ěe]|zim[ěe]))\b",
    re.IGNORECASE,
)
COOLED = re.compile(
    r"\b(?:chilled|cooled|gek[üu]hlt|refroidie?s?|refrigerad[oa]|enfriad[oa]|raffreddat[oa]|refrigerat[oa]|gekoeld|ch[łl]odzon[aey]|resfriad[oa]"
    r"|k[øo]le(?:t|s)|kj[øo]let?|kyls|kyld|chlazen[aoáéý])\b",
    re.IGNORECASE,
)


def said_of_the_tank(text: str) -> bool:
    """Does a remark name other equipment only as what the heaters are fed from, "off the small transformer", "own panel", or say that the
    bath is cooled at times as well as heated, or that the heaters are new, "steam coil to remain; heaters are new"? No power stands in it:
    "dryer is 20 kW, separate panel" is about a load."""
    if POWERED.search(text):
        return False
    if is_heater(text) and hits("kept", text) and not read_row_words(text).fate:
        return True
    rest = _without_sources(text)
    rest = COOLED.sub(" ", rest) if AT_TIMES.search(text) else rest
    return rest != text and not other_equipment(rest) and not machine_in(rest)


def open_behind_tag(text: str) -> bool:
    """Do words of doubt stand behind a tank's tag, "3 (future)", "T-5 - on hold", and not in what it is called: "B4 reserve rinse"?"""
    match = BEHIND_TAG.fullmatch(text)
    if match is None:
        return False
    said = match["said"]
    called_so = match["sign"].strip() not in ("(", "[", ",", ";") and bool(hits("spare", said))  # "T-3 - standby rinse"
    return bool(vocabulary()["doubt"].whole(said)) or (read_row_words(said).fate == DOUBT and not called_so)


def _without_sources(text: str) -> str:
    """A text without the panels and transformers that heaters are fed from, each with the words that lead to it."""
    seen = tokens(text)
    for at in reversed(range(len(seen))):
        if "source" not in concepts_of(seen[at].word):
            continue
        lead = next((back for back in range(at - 1, max(at - 2 - NEAR, -1), -1) if "fed" in concepts_of(seen[back].word)), -1)
        if lead >= 0:
            text = text[: seen[lead].start] + " " * (seen[at].end - seen[lead].start) + text[seen[at].end :]
    return text


def before_aside(text: str) -> str:
    """A sentence up to the clause that holds its power: what comes behind is beside the heaters."""
    found = list(POWERED.finditer(text))
    end = text.find(",", found[-1].end()) if found else -1
    return text[:end] if end >= 0 else text
